//! A desk with one worker behind it: questions go in with a number, answers come out with the same number.
//!
//! A question that was overtaken by a newer one of its kind is skipped before it is begun, and asked to stop where it was
//! begun; whatever it gives then goes to nobody. A panic in the solver is
//! caught and becomes a sentence; the worker goes on with the next question. The desk knows neither what is asked nor
//! who is answered.

use crate::domain::cutting::stop::Stop;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread;

/// A numbered question.
#[derive(Debug)]
struct Slip<Q> {
    number: u64,
    kind: u8,
    question: Q,
}

/// The front of the desk. Dropping it sends the worker home after the question in hand.
#[derive(Debug)]
pub struct WorkerDesk<Q> {
    slips: Sender<Slip<Q>>,
    in_hand: Arc<Mutex<Option<(u8, Stop)>>>,
}

impl<Q: Send + 'static> WorkerDesk<Q> {
    /// Opens a desk: `solve` answers a question, `tell` takes the number with the answer or the sentence of a failure.
    ///
    /// # Errors
    /// When the system refuses a thread.
    pub fn open<A: 'static>(
        solve: impl Fn(Q, &Stop) -> A + Send + 'static,
        tell: impl Fn(u64, Result<A, String>) + Send + 'static,
    ) -> std::io::Result<Self> {
        let (slips, inbox) = channel();
        let in_hand = Arc::new(Mutex::new(None));
        let at_work = Arc::clone(&in_hand);
        thread::Builder::new()
            .name("solver".to_owned())
            .spawn(move || work(&inbox, &at_work, &solve, &tell))?;
        Ok(Self { slips, in_hand })
    }

    /// Puts a question; one of the same `kind` that has not been begun is dropped for it. False where the worker is gone.
    pub fn ask(&self, number: u64, kind: u8, question: Q) -> bool {
        // Held until the slip is in: the worker looks at the slips once more after it took one in hand.
        let in_hand = hand(&self.in_hand);
        if let Some((_, stop)) = in_hand.as_ref().filter(|(k, _)| *k == kind) {
            stop.ask();
        }
        self.slips.send(Slip { number, kind, question }).is_ok()
    }
}

type InHand = Mutex<Option<(u8, Stop)>>;

fn hand(in_hand: &InHand) -> MutexGuard<'_, Option<(u8, Stop)>> {
    in_hand.lock().unwrap_or_else(PoisonError::into_inner)
}

fn work<Q, A>(
    inbox: &Receiver<Slip<Q>>,
    in_hand: &InHand,
    solve: &impl Fn(Q, &Stop) -> A,
    tell: &impl Fn(u64, Result<A, String>),
) {
    let mut waiting: Vec<Slip<Q>> = Vec::new();
    loop {
        if waiting.is_empty() {
            let Ok(slip) = inbox.recv() else { return };
            waiting.push(slip);
        }
        while let Ok(slip) = inbox.try_recv() {
            waiting.retain(|w| w.kind != slip.kind);
            waiting.push(slip);
        }
        let Slip { number, kind, question } = waiting.remove(0);
        let stop = Stop::default();
        let mut now = hand(in_hand);
        *now = Some((kind, stop.clone()));
        // A newer one may have come before this one was known to be in hand.
        while let Ok(slip) = inbox.try_recv() {
            if slip.kind == kind {
                stop.ask();
            }
            waiting.retain(|w| w.kind != slip.kind);
            waiting.push(slip);
        }
        drop(now);
        let answer =
            catch_unwind(AssertUnwindSafe(|| solve(question, &stop))).map_err(|fault| sentence(&*fault));
        *hand(in_hand) = None;
        if !stop.is_asked() {
            tell(number, answer);
        }
    }
}

fn sentence(fault: &(dyn std::any::Any + Send)) -> String {
    let text = fault.downcast_ref::<&str>().map(|s| (*s).to_owned());
    let text = text.or_else(|| fault.downcast_ref::<String>().cloned()).unwrap_or_default();
    format!(
        "the solver stopped on a fault of its own ({text}); nothing else is affected, ask again or change the size"
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::mpsc;
    use std::time::Duration;

    const SOON: Duration = Duration::from_secs(20);

    #[test]
    fn a_panic_becomes_a_sentence_and_the_worker_goes_on() {
        let (told, answers) = mpsc::channel();
        let desk = WorkerDesk::open(
            |n: u32, _| if n == 0 { panic!("zero") } else { n * 2 },
            move |number, answer| {
                let _ = told.send((number, answer));
            },
        )
        .unwrap();
        assert!(desk.ask(1, 0, 0));
        let (number, answer) = answers.recv_timeout(SOON).unwrap();
        assert!(number == 1 && answer.unwrap_err().contains("zero"));
        assert!(desk.ask(2, 0, 21));
        assert_eq!(answers.recv_timeout(SOON).unwrap(), (2, Ok(42)));
    }

    #[test]
    fn an_overtaken_question_is_never_begun() {
        let (hold, held) = mpsc::channel::<()>();
        let (told, answers) = mpsc::channel();
        let desk = WorkerDesk::open(
            move |n: u32, _: &Stop| {
                if n == 0 {
                    let _ = held.recv_timeout(SOON);
                }
                n
            },
            move |number, answer| {
                let _ = told.send((number, answer));
            },
        )
        .unwrap();
        for n in 0..5 {
            desk.ask(u64::from(n), u8::from(n > 0), n);
        }
        hold.send(()).unwrap();
        let first = answers.recv_timeout(SOON).unwrap().0;
        let second = answers.recv_timeout(SOON).unwrap().0;
        assert_eq!((first, second), (0, 4));
    }

    #[test]
    fn a_newer_question_ends_the_one_in_hand_and_that_is_told_to_nobody() {
        let (begun, begins) = mpsc::channel();
        let (told, answers) = mpsc::channel();
        let desk = WorkerDesk::open(
            move |n: u32, stop: &Stop| {
                begun.send(n).unwrap();
                // One that would never end by itself.
                while n == 0 && !stop.is_asked() {
                    thread::yield_now();
                }
                n
            },
            move |number, answer| {
                let _ = told.send((number, answer));
            },
        )
        .unwrap();
        desk.ask(1, 0, 0);
        assert_eq!(begins.recv_timeout(SOON).unwrap(), 0);
        desk.ask(2, 0, 7);
        assert_eq!(answers.recv_timeout(SOON).unwrap(), (2, Ok(7)));
        assert!(answers.try_recv().is_err());
    }
}
