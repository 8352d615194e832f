//! A terminal without a window: the program under test on one side, the test on the other.

use pty_process::blocking::{Command, Pts, Pty};
use rustix::event::{PollFd, PollFlags, Timespec, poll};
use rustix::process::{Pid, PidfdFlags, Signal, kill_process, pidfd_open};
use rustix::termios::Termios;
use std::io::{Read, Write};
use std::os::fd::OwnedFd;
use std::process::{Child, ExitStatus};
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

/// How long anything may take on a loaded machine before it counts as never happening.
pub const DEADLINE: Duration = Duration::from_secs(30);

/// Between opening a terminal and marking it "close on exec" another test's child could inherit it, and closing it
/// would then hang up nothing; so terminals are opened one at a time.
static ONE_AT_A_TIME: Mutex<()> = Mutex::new(());

/// A program in a terminal of its own.
pub struct Session {
    /// The test's side; `None` after the terminal was closed.
    master: Option<Pty>,
    /// Kept open so that output and modes can be read after the program ended.
    slave: Pts,
    child: Child,
    /// Readable when the program ended.
    ended: OwnedFd,
    emulator: vt100::Parser,
    raw: Vec<u8>,
    before: String,
    /// A book with work opens on the page of the day: it is left for the pane as it was, unless the test is about it.
    pub leaves_today: bool,
}

impl Session {
    /// Runs `command` in a new terminal of that size, as the leader of a new session.
    pub fn open(command: Command, rows: u16, columns: u16) -> Self {
        let _turn = ONE_AT_A_TIME.lock().unwrap_or_else(PoisonError::into_inner);
        let (master, slave) = pty_process::blocking::open().expect("a pseudo terminal");
        master.resize(pty_process::Size::new(rows, columns)).expect("a size");
        let before = describe(&rustix::termios::tcgetattr(&slave).expect("modes"));
        let mut command = command;
        let child = command.spawn_borrowed(&slave).expect("the program starts");
        let ended = pidfd_open(pid_of(&child), PidfdFlags::empty()).expect("a process handle");
        let emulator = vt100::Parser::new(rows, columns, 0);
        Self {
            master: Some(master),
            slave,
            child,
            ended,
            emulator,
            raw: Vec::new(),
            before,
            leaves_today: true,
        }
    }

    /// The program's process id.
    pub fn pid(&self) -> Pid {
        pid_of(&self.child)
    }

    /// What the terminal shows.
    pub fn screen(&self) -> &vt100::Screen {
        self.emulator.screen()
    }

    /// The shown text, rows joined by line ends.
    pub fn text(&self) -> String {
        self.screen().contents()
    }

    /// How often the program has written these bytes.
    pub fn count(&self, bytes: &str) -> usize {
        self.raw.windows(bytes.len()).filter(|window| *window == bytes.as_bytes()).count()
    }

    /// Sends keys, reading output meanwhile so that neither side blocks the other.
    pub fn send(&mut self, keys: impl AsRef<[u8]>) {
        let mut rest = keys.as_ref();
        let end = Instant::now() + DEADLINE;
        while !rest.is_empty() {
            assert!(Instant::now() < end, "the program takes no more keys\n{}", self.picture());
            let master = self.master.as_ref().expect("the terminal is open");
            let mut watched = [PollFd::new(master, PollFlags::IN | PollFlags::OUT)];
            poll(&mut watched, Some(&span(Duration::from_millis(100)))).expect("poll");
            let ready = watched[0].revents();
            if ready.contains(PollFlags::IN) {
                self.read_once();
            } else if ready.contains(PollFlags::OUT) {
                // A small part: a write of any size may block once the line's buffer is full.
                let part = &rest[..rest.len().min(256)];
                let mut master = self.master.as_ref().expect("the terminal is open");
                let count = master.write(part).expect("keys are taken");
                rest = &rest[count..];
            }
        }
    }

    /// Sends keys without reading what they bring.
    pub fn send_unread(&mut self, keys: &str) {
        let mut master = self.master.as_ref().expect("the terminal is open");
        // The line takes 4095 bytes before it blocks; what a test sends this way is far less.
        master.write_all(keys.as_bytes()).expect("keys are taken");
    }

    /// Lets time go by without reading.
    pub fn look_away(&self, time: Duration) {
        let mut nothing = [PollFd::new(&self.ended, PollFlags::IN)];
        poll(&mut nothing, Some(&span(time))).expect("poll");
    }

    /// True until the program has ended.
    pub fn is_running(&mut self) -> bool {
        matches!(self.child.try_wait(), Ok(None))
    }

    /// Waits until the screen shows the text.
    #[track_caller]
    pub fn wait_for(&mut self, text: &str) {
        self.wait_until(text, |screen| screen.contents().contains(text));
    }

    /// Leaves the page of the day, once, as soon as it is there whole: leaving it in the middle of a frame would take a
    /// message away that the rest of the frame brings.
    fn leave_today(&mut self) {
        if self.leaves_today
            && self.has_whole_frame()
            && self.text().lines().any(|line| line.starts_with(" Today, "))
        {
            self.leaves_today = false;
            self.send("\x1b");
        }
    }

    /// True where the last frame that began has ended.
    fn has_whole_frame(&self) -> bool {
        let last = |bytes: &str| self.raw.windows(bytes.len()).rposition(|window| window == bytes.as_bytes());
        last("\x1b[?2026h") < last("\x1b[?2026l")
    }

    /// Waits until the screen is as wished; `what` names the wish in the failure.
    #[track_caller]
    pub fn wait_until(&mut self, what: &str, wish: impl Fn(&vt100::Screen) -> bool) {
        let end = Instant::now() + DEADLINE;
        while !wish(self.screen()) {
            self.leave_today();
            let more = self.read_before(end);
            assert!(more || wish(self.screen()), "waited in vain for: {what}\n{}", self.picture());
        }
    }

    /// Reads what comes until nothing came for this long; returns the number of bytes.
    pub fn drain(&mut self, quiet: Duration) -> usize {
        let before = self.raw.len();
        while self.read_before(Instant::now() + quiet) {}
        self.raw.len() - before
    }

    /// Waits for the end of the program, reading all it wrote.
    #[track_caller]
    pub fn wait_end(&mut self) -> ExitStatus {
        let end = Instant::now() + DEADLINE;
        loop {
            let mut watched = vec![PollFd::new(&self.ended, PollFlags::IN)];
            if let Some(master) = &self.master {
                watched.push(PollFd::new(master, PollFlags::IN));
            }
            poll(&mut watched, Some(&span(end.saturating_duration_since(Instant::now())))).expect("poll");
            let over = !watched[0].revents().is_empty();
            let output = watched.get(1).is_some_and(|line| line.revents().contains(PollFlags::IN));
            if output {
                self.read_once();
            } else if over {
                return self.child.wait().expect("a status");
            }
            assert!(Instant::now() < end, "the program does not end\n{}", self.picture());
        }
    }

    /// Waits until the program is stopped.
    #[track_caller]
    pub fn wait_stopped(&mut self) {
        let end = Instant::now() + DEADLINE;
        while state_of(self.pid()) != Some('T') {
            // The kernel offers nothing to poll for this; the terminal is looked at in short turns instead.
            self.read_before(Instant::now() + Duration::from_millis(10));
            assert!(Instant::now() < end, "the program does not stop\n{}", self.picture());
        }
        self.drain(Duration::from_millis(20));
    }

    /// Changes the size of the terminal, as dragging its window does.
    pub fn resize(&mut self, rows: u16, columns: u16) {
        let master = self.master.as_ref().expect("the terminal is open");
        master.resize(pty_process::Size::new(rows, columns)).expect("a size");
        // The emulator of the tests falls over where a wide letter meets a single column, and where a line wraps in a single
        // row; the program has the true size.
        self.emulator.screen_mut().set_size(rows.max(2), columns.max(2));
    }

    /// Sends a signal to the program.
    pub fn signal(&self, signal: Signal) {
        kill_process(self.pid(), signal).expect("the program is there");
    }

    /// Closes the terminal, as closing its window does.
    pub fn close_terminal(&mut self) {
        self.master = None;
    }

    /// Fails unless the terminal is as it was before the program started.
    #[track_caller]
    pub fn assert_handed_back(&self) {
        let now = describe(&rustix::termios::tcgetattr(&self.slave).expect("modes"));
        assert_eq!(now, self.before, "terminal modes differ\n{}", self.picture());
        let screen = self.screen();
        assert!(!screen.alternate_screen(), "still on the second screen\n{}", self.picture());
        assert!(!screen.hide_cursor(), "cursor still hidden\n{}", self.picture());
        assert!(!screen.bracketed_paste(), "paste marks still on\n{}", self.picture());
        assert_eq!(screen.mouse_protocol_mode(), vt100::MouseProtocolMode::None, "mouse still reported");
        // The emulator knows nothing of this mode, so the last word on it is looked up.
        let last = |bytes: &str| self.raw.windows(bytes.len()).rposition(|window| window == bytes.as_bytes());
        assert!(last("\x1b[?1004h") <= last("\x1b[?1004l"), "focus still reported");
    }

    /// True while the terminal hands over single keys.
    pub fn is_raw(&self) -> bool {
        let modes = rustix::termios::tcgetattr(&self.slave).expect("modes");
        !modes.local_modes.contains(rustix::termios::LocalModes::ICANON)
    }

    /// Processor time the program has used, in clock ticks (proc(5): fields 14 and 15 of `stat`).
    pub fn ticks(&self) -> u64 {
        let stat = std::fs::read_to_string(format!("/proc/{}/stat", self.pid().as_raw_nonzero()))
            .expect("the program is there");
        let after = stat.rsplit(')').next().unwrap_or_default();
        after.split_whitespace().skip(11).take(2).filter_map(|field| field.parse::<u64>().ok()).sum()
    }

    fn read_before(&mut self, end: Instant) -> bool {
        let Some(master) = &self.master else { return false };
        let mut watched = [PollFd::new(master, PollFlags::IN)];
        let left = end.saturating_duration_since(Instant::now());
        poll(&mut watched, Some(&span(left))).expect("poll");
        watched[0].revents().contains(PollFlags::IN) && self.read_once()
    }

    fn read_once(&mut self) -> bool {
        let mut bytes = [0; 16_384];
        let Some(mut master) = self.master.as_ref() else { return false };
        let Ok(count) = master.read(&mut bytes) else { return false };
        self.emulator.process(&bytes[..count]);
        self.raw.extend_from_slice(&bytes[..count]);
        count > 0
    }

    /// The screen and the end of the bytes, for messages.
    fn picture(&self) -> String {
        let from = self.raw.len().saturating_sub(600);
        format!(
            "--- screen\n{}\n--- last bytes\n{}\n---",
            self.text(),
            String::from_utf8_lossy(&self.raw[from..]).escape_debug()
        )
    }
}

impl Drop for Session {
    fn drop(&mut self) {
        // A stopped or stuck program must not outlive its test.
        if matches!(self.child.try_wait(), Ok(None)) {
            let _ = self.child.kill();
            let _ = self.child.wait();
        }
    }
}

fn pid_of(child: &Child) -> Pid {
    Pid::from_child(child)
}

/// The state letter of a process (proc(5): field 3 of `stat`).
pub fn state_of(pid: Pid) -> Option<char> {
    let stat = std::fs::read_to_string(format!("/proc/{}/stat", pid.as_raw_nonzero())).ok()?;
    stat.rsplit(')').next()?.trim_start().chars().next()
}

fn describe(modes: &Termios) -> String {
    format!(
        "{:?} {:?} {:?} {:?} {:?}",
        modes.input_modes, modes.output_modes, modes.control_modes, modes.local_modes, modes.special_codes
    )
}

fn span(time: Duration) -> Timespec {
    Timespec { tv_sec: time.as_secs().try_into().unwrap_or(i64::MAX), tv_nsec: time.subsec_nanos().into() }
}
