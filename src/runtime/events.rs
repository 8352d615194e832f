//! One channel of everything that can happen: keys, pastes, sizes, signals, the terminal's end, workers' answers.
//!
//! Two threads feed it and the main thread only receives, so no source can starve another: the input thread reads the
//! terminal and notices its end, the signal thread hears signals; workers post their answers. It must not know what an
//! event means.

use super::canvas::sane;
use super::decode::{Decoder, Report};
use super::gate::Gate;
use super::line::Line;
use super::signals::{self, Heard, Signal};
use crossterm::event::{KeyEvent, MouseEvent};
use rustix::event::{PollFd, PollFlags, Timespec};
use std::fs::File;
use std::io::{self, Read};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};

/// Something that happened. `T` is what workers answer.
#[derive(Clone, Debug, PartialEq)]
pub enum Input<T> {
    /// A key was pressed (never a release, never a repeat report).
    Key(KeyEvent),
    /// Text was pasted: one event however long, line ends (`\n`) and all.
    Paste(String),
    /// The screen has this many columns and rows now.
    Resize(u16, u16),
    /// A click, a drag or the wheel; may lie outside the screen.
    Mouse(MouseEvent),
    /// The window gained (true) or lost the person's attention.
    Focus(bool),
    /// The terminal's ground, red, green and blue from 0 to 1.
    Ground([f64; 3]),
    /// A signal from outside.
    Signal(Signal),
    /// The terminal is gone. Write nothing more to it.
    HangUp,
    /// A worker's answer.
    Answer(T),
}

/// Most events handed over at once, so that a flood cannot keep the screen from being drawn.
const MOST_AT_ONCE: usize = 1_024;
/// Silence after which an ESC is the Escape key. The bytes of one key come together, over a network too.
const SILENCE: Timespec = Timespec { tv_sec: 0, tv_nsec: 10_000_000 };

/// Silence after which the rest of an answer is given up; over a slow network its parts come far apart.
const LONG_SILENCE: Timespec = Timespec { tv_sec: 2, tv_nsec: 0 };

/// The two ends of the channel.
pub struct Ears<T> {
    /// For workers: `post.send(Input::Answer(..))`.
    pub post: Sender<Input<T>>,
    /// For the main thread.
    pub inbox: Receiver<Input<T>>,
}

/// Starts the two threads. Call it once, after the screen was entered.
///
/// # Errors
/// When the system refuses threads, handlers or the terminal.
pub fn listen<T: Send + 'static>(line: Option<Arc<Line>>) -> io::Result<Ears<T>> {
    let (post, inbox) = channel();
    let gate = match &line {
        Some(line) => line.gate(),
        None => Arc::new(Gate::new()?),
    };
    let to_main = post.clone();
    signals::listen(line, move |heard| {
        let input = match heard {
            Heard::Signal(signal) => Some(Input::Signal(signal)),
            Heard::Resized => size(),
        };
        // A main thread that has stopped receiving is leaving anyway.
        let _ = input.map(|input| to_main.send(input));
    })?;
    let reader = Reader {
        keys: keyboard()?,
        out: File::from(rustix::stdio::stdout().try_clone_to_owned()?),
        gate,
        post: post.clone(),
        decoder: Decoder::default(),
    };
    std::thread::Builder::new().name("input".to_owned()).spawn(move || reader.run())?;
    Ok(Ears { post, inbox })
}

/// Where keys come from: standard input, or the process's terminal where that is something else.
fn keyboard() -> io::Result<File> {
    let stdin = rustix::stdio::stdin();
    if rustix::termios::isatty(stdin) {
        Ok(File::from(stdin.try_clone_to_owned()?))
    } else {
        File::open("/dev/tty")
    }
}

fn size<T>() -> Option<Input<T>> {
    let claimed = rustix::termios::tcgetwinsize(rustix::stdio::stdout()).ok()?;
    let (width, height) = sane(claimed.ws_col, claimed.ws_row);
    Some(Input::Resize(width, height))
}

/// The input thread.
struct Reader<T> {
    keys: File,
    /// Watched for its end only.
    out: File,
    gate: Arc<Gate>,
    post: Sender<Input<T>>,
    decoder: Decoder,
}

/// What woke the input thread.
enum Woken {
    Bytes,
    Gate,
    Silence,
    Nothing,
    End,
}

impl<T> Reader<T> {
    fn run(mut self) {
        self.gate.set_reader(true);
        let mut bytes = vec![0; 16_384];
        loop {
            let reports = match self.wait() {
                Woken::Bytes => match self.keys.read(&mut bytes) {
                    Ok(0) => return,
                    Ok(count) => self.decoder.feed(bytes.get(..count).unwrap_or_default()),
                    Err(error) if is_passing(&error) => continue,
                    Err(_) => return,
                },
                Woken::Silence => self.decoder.settle().into_iter().collect(),
                Woken::Gate => {
                    self.gate.pass();
                    continue;
                }
                Woken::Nothing => continue,
                Woken::End => return,
            };
            for report in reports {
                if self.post.send(translate(report)).is_err() {
                    return;
                }
            }
        }
    }

    fn wait(&self) -> Woken {
        let mut watched = [
            PollFd::new(&self.keys, PollFlags::IN),
            PollFd::from_borrowed_fd(self.gate.ear(), PollFlags::IN),
            // Asked for nothing, it still tells that the terminal has gone.
            PollFd::new(&self.out, PollFlags::empty()),
        ];
        let silence = if self.decoder.is_in_answer() { &LONG_SILENCE } else { &SILENCE };
        let limit = self.decoder.is_waiting().then_some(silence);
        match rustix::event::poll(&mut watched, limit) {
            Ok(0) => return Woken::Silence,
            Ok(_) => {}
            Err(rustix::io::Errno::INTR) => return Woken::Nothing,
            Err(_) => return Woken::End,
        }
        let [keys, gate, out] = watched.map(|one| one.revents());
        if !gate.is_empty() {
            Woken::Gate
        } else if keys.contains(PollFlags::IN) {
            Woken::Bytes
        } else if !keys.is_empty() || !out.is_empty() {
            Woken::End
        } else {
            Woken::Nothing
        }
    }
}

impl<T> Drop for Reader<T> {
    /// However the thread ends, the main thread learns that no key will come any more.
    fn drop(&mut self) {
        self.gate.set_reader(false);
        let _ = self.post.send(Input::HangUp);
    }
}

fn is_passing(error: &io::Error) -> bool {
    matches!(error.kind(), io::ErrorKind::Interrupted | io::ErrorKind::WouldBlock)
}

fn translate<T>(report: Report) -> Input<T> {
    match report {
        Report::Key(key) => Input::Key(key),
        Report::Paste(text) => Input::Paste(text),
        Report::Mouse(mouse) => Input::Mouse(mouse),
        Report::Focus(gained) => Input::Focus(gained),
        Report::Ground(colour) => Input::Ground(colour),
    }
}

/// Waits for the next event and returns it with all that came meanwhile, in order. Of sizes in a row only the last is
/// kept. Empty when nobody can send any more, which is as good as a hang-up.
pub fn gather<T>(inbox: &Receiver<Input<T>>) -> Vec<Input<T>> {
    let Ok(first) = inbox.recv() else { return Vec::new() };
    let mut all = vec![first];
    while all.len() < MOST_AT_ONCE {
        let Ok(next) = inbox.try_recv() else { break };
        match (all.last_mut(), next) {
            (Some(Input::Resize(w, h)), Input::Resize(width, height)) => (*w, *h) = (width, height),
            (_, next) => all.push(next),
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    #[test]
    fn gathering_keeps_order_and_the_last_of_sizes_in_a_row() {
        let (post, inbox) = channel();
        for input in [
            Input::Resize(80, 24),
            Input::Resize(81, 24),
            Input::Focus(true),
            Input::Resize(82, 24),
            Input::Resize(83, 25),
            Input::Answer(7),
        ] {
            post.send(input).unwrap();
        }
        let all = gather(&inbox);
        assert_eq!(all, [Input::Resize(81, 24), Input::Focus(true), Input::Resize(83, 25), Input::Answer(7)]);
        drop(post);
        let (nobody, empty) = channel::<Input<u8>>();
        drop(nobody);
        assert_eq!(gather(&empty), []);
    }

    #[test]
    fn a_flood_is_handed_over_in_parts() {
        let (post, inbox) = channel();
        for _ in 0..3_000 {
            post.send(Input::Answer(())).unwrap();
        }
        assert_eq!([gather(&inbox).len(), gather(&inbox).len(), gather(&inbox).len()], [1_024, 1_024, 952]);
    }
}
