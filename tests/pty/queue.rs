//! A real print system, started by the test in a folder of its own, with a queue that leads to a port of this machine: what
//! comes out at the other end is the file, byte for byte. Said and passed over where none is installed; the pages of a test
//! with a stand-in are in `feel`.

use super::feel::{home, program, to_the_swatch_chart};
use super::harness::Session;
use crate::skipped::{Needs, skip};
use pty_process::blocking::Command;
use std::path::Path;

/// A print system of the test's own; ended when it is dropped.
struct PrintSystem {
    child: std::process::Child,
    folder: tempfile::TempDir,
}

impl Drop for PrintSystem {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl PrintSystem {
    /// Starts it; nothing, and a message, where none is installed or none may be started.
    fn start() -> Option<Self> {
        let skipped = |why: &str| {
            skip(Needs::Tool("cups"), why);
            None
        };
        if ["/usr/sbin/cupsd", "/usr/sbin/lpadmin", "/usr/bin/lp"].iter().any(|p| !Path::new(p).is_file()) {
            return skipped("no print system is installed");
        }
        let folder = tempfile::tempdir().expect("a folder");
        let at = |name: &str| folder.path().join(name).display().to_string();
        for name in ["root", "spool", "cache", "state", "tmp"] {
            std::fs::create_dir(at(name)).expect("a folder");
        }
        let files = format!(
            "ServerRoot {}\nRequestRoot {}\nCacheDir {}\nStateDir {}\nTempDir {}\nAccessLog {}\nErrorLog {}\nPageLog {}\nSystemGroup root\n",
            at("root"),
            at("spool"),
            at("cache"),
            at("state"),
            at("tmp"),
            at("access"),
            at("errors"),
            at("pages")
        );
        let rules = format!(
            "Listen {}\nBrowsing Off\nWebInterface No\nDefaultAuthType None\n<Location />\nAllow all\n</Location>\n<Location /admin>\nAllow all\n</Location>\n<Policy default>\n<Limit All>\nOrder deny,allow\nAllow all\n</Limit>\n</Policy>\n",
            at("socket")
        );
        std::fs::write(at("files.conf"), files).expect("a file");
        std::fs::write(at("rules.conf"), rules).expect("a file");
        let mut command = std::process::Command::new("/usr/sbin/cupsd");
        command.args(["-f", "-c", &at("rules.conf"), "-s", &at("files.conf")]);
        command.stdout(std::process::Stdio::null()).stderr(std::process::Stdio::null());
        let Ok(child) = command.spawn() else { return skipped("the print system does not start") };
        let mut system = Self { child, folder };
        for _ in 0..100 {
            if system.socket().exists() {
                return Some(system);
            }
            if system.child.try_wait().is_ok_and(|status| status.is_some()) {
                break;
            }
            std::thread::sleep(std::time::Duration::from_millis(50));
        }
        skipped("the print system may not be started here")
    }

    fn socket(&self) -> std::path::PathBuf {
        self.folder.path().join("socket")
    }
}

#[test]
fn a_real_print_queue_hands_on_the_pages_as_they_are() {
    use std::io::Read;
    let Some(system) = PrintSystem::start() else { return };
    let listener = std::net::TcpListener::bind("127.0.0.1:0").expect("a port");
    let port = listener.local_addr().expect("its number").port();
    let (sender, printed) = std::sync::mpsc::channel();
    std::thread::spawn(move || {
        let mut bytes = Vec::new();
        if let Ok((mut stream, _)) = listener.accept() {
            let _ = stream.read_to_end(&mut bytes);
        }
        let _ = sender.send(bytes);
    });
    let made = std::process::Command::new("/usr/sbin/lpadmin")
        .args(["-p", "loft", "-E", "-v", &format!("socket://127.0.0.1:{port}")])
        .env("CUPS_SERVER", system.socket())
        .output()
        .expect("lpadmin runs");
    if !made.status.success() {
        skip(
            Needs::Tool("cups"),
            &format!("no queue could be made: {}", String::from_utf8_lossy(&made.stderr)),
        );
        return;
    }
    let home = home();
    let mut command = program(home.path(), &["--data", "book", "--demo"]);
    command.env("PATH", "/usr/bin:/bin").env("CUPS_SERVER", system.socket());
    let mut session = to_the_swatch_chart(Session::open(Command::from(command), 30, 110));
    session.wait_for("loft");
    session.send("P");
    session.wait_for("request id is loft-1");
    session.send("\x03");
    assert!(session.wait_end().success());
    let printed = printed.recv_timeout(std::time::Duration::from_secs(30)).expect("the queue hands on");
    let output =
        program(home.path(), &["print", "swatches", "--data", "book", "--out", "other.pdf"]).output();
    assert!(output.expect("the program runs").status.success());
    let file = std::fs::read(home.path().join("other.pdf")).expect("the file");
    assert!(printed == file, "{} bytes came out, {} went in", printed.len(), file.len());
}
