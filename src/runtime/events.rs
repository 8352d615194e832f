//! One channel of everything that can happen: keys, pastes, sizes, signals, the terminal's end, workers' answers.
//!
//! Three threads feed it and the main thread only receives, so no source can starve another: the input thread reads
//! the terminal, the signal thread hears signals, the watcher waits for the terminal to go away. The watcher is
//! needed because the reader of the terminal crate spins without returning when its terminal has gone. It must not
//! know what an event means.

use super::canvas::sane;
use super::signals::{self, Signal};
use super::terminal::Line;
use crossterm::event::{Event, KeyEvent, KeyEventKind, MouseEvent};
use rustix::event::{PollFd, PollFlags};
use std::io;
use std::panic::AssertUnwindSafe;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};

/// Something that happened. `T` is what workers answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Input<T> {
    /// A key was pressed (never a release, never a repeat report).
    Key(KeyEvent),
    /// Text was pasted: one event however long, line ends and all.
    Paste(String),
    /// The screen has this many columns and rows now.
    Resize(u16, u16),
    /// A click, a drag or the wheel; may lie outside the screen.
    Mouse(MouseEvent),
    /// The window gained (true) or lost the person's attention.
    Focus(bool),
    /// A signal from outside.
    Signal(Signal),
    /// The terminal is gone. Write nothing more to it.
    HangUp,
    /// A worker's answer.
    Answer(T),
}

/// Faults of the input reader in a row after which the terminal counts as gone. Each costs one damaged sequence.
const MOST_FAULTS: u32 = 64;
/// Most events handed over at once, so that a flood cannot keep the screen from being drawn.
const MOST_AT_ONCE: usize = 1_024;

/// The two ends of the channel.
pub struct Ears<T> {
    /// For workers: `post.send(Input::Answer(..))`.
    pub post: Sender<Input<T>>,
    /// For the main thread.
    pub inbox: Receiver<Input<T>>,
}

/// Starts the three threads. Call it once, after the screen was entered.
///
/// # Errors
/// When the system refuses threads, handlers or a copy of standard output.
pub fn listen<T: Send + 'static>(line: Option<Arc<Line>>) -> io::Result<Ears<T>> {
    let (post, inbox) = channel();
    let to_main = post.clone();
    signals::listen(line, move |signal| to_main.send(Input::Signal(signal)).is_ok())?;
    watch_line(post.clone())?;
    read_keys(post.clone())?;
    Ok(Ears { post, inbox })
}

/// The input thread.
fn read_keys<T: Send + 'static>(post: Sender<Input<T>>) -> io::Result<()> {
    let body = move || {
        let mut faults = 0;
        while faults < MOST_FAULTS {
            // A damaged report of a terminal may make the reader panic (a position of 0); one such report must not
            // make the bench deaf.
            match std::panic::catch_unwind(AssertUnwindSafe(crossterm::event::read)) {
                Ok(Ok(event)) => {
                    faults = 0;
                    if translate(event).is_some_and(|input| post.send(input).is_err()) {
                        return;
                    }
                }
                Ok(Err(_)) => break,
                Err(_) => faults += 1,
            }
        }
        let _ = post.send(Input::HangUp);
    };
    std::thread::Builder::new().name("input".to_owned()).spawn(body)?;
    Ok(())
}

/// The watcher: asks for nothing but the end of the line, so it sleeps until then.
fn watch_line<T: Send + 'static>(post: Sender<Input<T>>) -> io::Result<()> {
    let line = rustix::stdio::stdout().try_clone_to_owned()?;
    let body = move || {
        loop {
            let mut watched = [PollFd::new(&line, PollFlags::empty())];
            match rustix::event::poll(&mut watched, None) {
                Err(rustix::io::Errno::INTR) => {}
                Err(_) => return,
                Ok(_) => break,
            }
        }
        let _ = post.send(Input::HangUp);
    };
    std::thread::Builder::new().name("watcher".to_owned()).spawn(body)?;
    Ok(())
}

fn translate<T>(event: Event) -> Option<Input<T>> {
    match event {
        Event::Key(key) if key.kind == KeyEventKind::Press => Some(Input::Key(key)),
        Event::Key(_) => None,
        Event::Paste(text) => Some(Input::Paste(text)),
        Event::Resize(width, height) => {
            let (width, height) = sane(width, height);
            Some(Input::Resize(width, height))
        }
        Event::Mouse(mouse) => Some(Input::Mouse(mouse)),
        Event::FocusGained => Some(Input::Focus(true)),
        Event::FocusLost => Some(Input::Focus(false)),
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
    use crossterm::event::{KeyCode, KeyEventState, KeyModifiers};

    fn key(kind: KeyEventKind) -> Event {
        Event::Key(KeyEvent {
            code: KeyCode::Char('a'),
            modifiers: KeyModifiers::NONE,
            kind,
            state: KeyEventState::NONE,
        })
    }

    #[test]
    fn only_presses_count_as_keys() {
        assert!(matches!(translate::<()>(key(KeyEventKind::Press)), Some(Input::Key(_))));
        assert_eq!(translate::<()>(key(KeyEventKind::Release)), None);
        assert_eq!(translate::<()>(key(KeyEventKind::Repeat)), None);
    }

    #[test]
    fn a_paste_stays_one_event_with_its_line_ends() {
        let paste = translate::<()>(Event::Paste("2x3\n4x6\n".to_owned()));
        assert_eq!(paste, Some(Input::Paste("2x3\n4x6\n".to_owned())));
    }

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
        assert_eq!(gather::<u8>(&channel().1), []);
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
