//! How a process ended.

use std::process::ExitStatus;

/// True for one that was killed, or killed itself.
#[cfg(unix)]
pub fn was_killed(status: ExitStatus) -> bool {
    std::os::unix::process::ExitStatusExt::signal(&status) == Some(9)
}

/// True for one that was killed (its killer gives the code, and the standard library gives 1), or killed itself (codes of
/// faults are negative).
#[cfg(windows)]
pub fn was_killed(status: ExitStatus) -> bool {
    status.code().is_some_and(|code| code == 1 || code < 0)
}

/// Ends this process as from outside: no clean-up, no flush, no word.
#[cfg(unix)]
pub fn kill_self() {
    // A process may always kill itself.
    let _ = rustix::process::kill_process(rustix::process::getpid(), rustix::process::Signal::KILL);
}

/// Ends this process as a fault does: no clean-up, no flush, no word.
#[cfg(windows)]
pub fn kill_self() {
    std::process::abort();
}
