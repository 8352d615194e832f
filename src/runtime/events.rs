//! One channel of everything that can happen: keys, pastes, sizes, signals, the terminal's end, workers' answers.
//!
//! Two threads feed it and the main thread only receives, so no source can starve another: the input thread reads the
//! terminal and notices its end, the signal thread hears signals; workers post their answers. It must not know what an
//! event means.

use super::canvas::sane;
use super::decode::{Decoder, Report};
use super::gate::Gate;
use super::line::TerminalLine;
use crate::system::keys::Keyboard;
use crate::system::told::{Heard, KeyNews, Signal};
use crate::system::{screen, signals};
use crossterm::event::{Event, KeyEvent, MouseEvent};
use std::io;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::time::Duration;

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
const SILENCE: Duration = Duration::from_millis(10);

/// Silence after which the rest of an answer is given up; over a slow network its parts come far apart.
const LONG_SILENCE: Duration = Duration::from_secs(2);

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
pub fn listen<T: Send + 'static>(line: Option<Arc<TerminalLine>>) -> io::Result<Ears<T>> {
    let (post, inbox) = channel();
    let gate = match &line {
        Some(line) => line.gate(),
        None => Arc::new(Gate::new()?),
    };
    let to_main = post.clone();
    let let_go = move || {
        if let Some(line) = &line {
            line.drop_now();
        }
    };
    signals::listen(let_go, move |heard| {
        let input = match heard {
            Heard::Signal(signal) => Some(Input::Signal(signal)),
            Heard::Resized => size(),
        };
        // A main thread that has stopped receiving is leaving anyway.
        let _ = input.map(|input| to_main.send(input));
    })?;
    let reader = Reader { keys: Keyboard::open()?, gate, post: post.clone(), decoder: Decoder::default() };
    std::thread::Builder::new().name("input".to_owned()).spawn(move || reader.run())?;
    Ok(Ears { post, inbox })
}

fn size<T>() -> Option<Input<T>> {
    let claimed = screen::size().ok()?;
    let (width, height) = sane(claimed.columns, claimed.rows);
    Some(Input::Resize(width, height))
}

/// The input thread.
struct Reader<T> {
    keys: Keyboard,
    gate: Arc<Gate>,
    post: Sender<Input<T>>,
    decoder: Decoder,
}

impl<T> Reader<T> {
    fn run(mut self) {
        self.gate.set_reader(true);
        loop {
            let silence = if self.decoder.is_in_answer() { LONG_SILENCE } else { SILENCE };
            let limit = self.decoder.is_waiting().then_some(silence);
            let inputs: Vec<Input<T>> = match self.keys.next(self.gate.bell(), limit) {
                KeyNews::Bytes(bytes) => self.decoder.feed(bytes).into_iter().map(translate).collect(),
                KeyNews::Events(events) => events.into_iter().filter_map(take_event).collect(),
                KeyNews::Silence => self.decoder.settle().into_iter().map(translate).collect(),
                KeyNews::Rung => {
                    self.gate.pass();
                    continue;
                }
                KeyNews::Nothing => continue,
                KeyNews::End => return,
            };
            for input in inputs {
                if self.post.send(input).is_err() {
                    return;
                }
            }
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

fn translate<T>(report: Report) -> Input<T> {
    match report {
        Report::Key(key) => Input::Key(key),
        Report::Paste(text) => Input::Paste(text),
        Report::Mouse(mouse) => Input::Mouse(mouse),
        Report::Focus(gained) => Input::Focus(gained),
        Report::Ground(colour) => Input::Ground(colour),
    }
}

/// What a system that reads keys itself has made of them. Its sizes may be of more than what is seen: the terminal is
/// asked.
fn take_event<T>(event: Event) -> Option<Input<T>> {
    Some(match event {
        Event::Key(key) => Input::Key(key),
        Event::Paste(text) => Input::Paste(text),
        Event::Mouse(mouse) => Input::Mouse(mouse),
        Event::Resize(..) => return size(),
        Event::FocusGained => Input::Focus(true),
        Event::FocusLost => Input::Focus(false),
    })
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
