//! What the screens ask for comes out the same each time: a plan within so many rounds, the colours of a picture, the demo.
//! Hundreds of screens ask the same, so each answer is found once a run and handed out again.

use std::collections::HashMap;
use std::fmt::Debug;
use std::hash::Hash;
use std::sync::{LazyLock, Mutex};
use trimside::app::action::{Action, Solved};
use trimside::app::effect::Ask;
use trimside::app::state::further::{FurtherAsk, FurtherFound};
use trimside::domain::book::Book;
use trimside::domain::cutting::job::Job;
use trimside::domain::cutting::plan::Plan;
use trimside::domain::cutting::stop::Stop;
use trimside::domain::cutting::used_up::{self, UsedUpEffort};
use trimside::domain::history::History;
use trimside::domain::length::Length;
use trimside::domain::planning::ProjectJob;
use trimside::engine::planning::{self, Budget, Cancel};
use trimside::runtime::solve;

/// Answers by their question.
type Known<A> = LazyLock<Mutex<HashMap<String, A>>>;

/// The demo's shelf and its history, before its last week: nothing is booked yet.
pub fn demo() -> (Book, History) {
    static DEMO: LazyLock<(Book, History)> =
        LazyLock::new(|| trimside::persist::demo::shelf().expect("the demo reads"));
    DEMO.clone()
}

/// The demo's book and its history, as it is opened.
pub fn opened() -> (Book, History) {
    static DEMO: LazyLock<(Book, History)> =
        LazyLock::new(|| trimside::persist::demo::book().expect("the demo reads"));
    DEMO.clone()
}

/// The answer to a question of a view. Files may change under their name: what they held is part of the question.
pub fn solved(ask: Ask) -> Solved {
    static KNOWN: Known<Solved> = LazyLock::new(Mutex::default);
    let file = match &ask {
        // An answer to a trio's question takes the question with it, and is quick.
        Ask::Trios(_) => return solve::solve(ask),
        Ask::Photo(photo) => std::fs::read(&photo.path).ok(),
        Ask::Colours(path) => std::fs::read(path).ok(),
        Ask::Yield(_)
        | Ask::Chart(_)
        | Ask::Advice(_)
        | Ask::EveryYield(_)
        | Ask::Further(_)
        | Ask::Gives(_)
        | Ask::Laid(_)
        | Ask::Ways(_)
        | Ask::Beside(_) => None,
    };
    let question = match &ask {
        // A whole book is long for a key.
        Ask::Ways(_) => format!("ways {:x}", sum(&format!("{ask:?}"))),
        _ => format!("{ask:?} {:x}", sum(&file)),
    };
    found(&KNOWN, question, || match &ask {
        // A whole sheet used up takes an unoptimised build a minute: a part of the search tells the same of keys and views.
        Ask::Further(further) => match further.as_ref() {
            FurtherAsk::UsedUp(asked, ..) if asked.sheet.long() > Length::inches(7) => {
                let part = UsedUpEffort { steps: 400_000, variety: 100_000, ..UsedUpEffort::WHOLE };
                let found = used_up::suggest(asked, part, &Stop::default());
                Solved::Further(Box::new(FurtherFound::UsedUp(found)))
            }
            _ => solve::solve(ask),
        },
        _ => solve::solve(ask),
    })
}

/// The plan of a job within four rounds.
pub fn plan(job: Job) -> Result<Plan, String> {
    static KNOWN: Known<Result<Plan, String>> = LazyLock::new(Mutex::default);
    found(&KNOWN, format!("{job:?}"), || {
        planning::plan(job, Budget::Work(4), &Cancel::default(), &mut |_, _| {})
    })
}

/// The plan behind a project's figures, of few rounds: an unoptimised build is slow, and a screen only asks for keys and
/// sentences. What is kept of a booked plan is kept, so that its rest is settled as it is.
pub fn settled(job: ProjectJob) -> Action {
    static KNOWN: Known<Action> = LazyLock::new(Mutex::default);
    let pieces: u64 = job.job.pieces.iter().map(|p| u64::from(p.count)).sum();
    let rounds = if pieces < 1_000 { 4 } else { 1 };
    found(&KNOWN, format!("{job:?}"), || {
        if pieces < 1_000 && !job.kept.is_empty() {
            return solve::settle(job);
        }
        let plan = planning::plan(job.job.clone(), Budget::Work(rounds), &Cancel::default(), &mut |_, _| {});
        Action::Settled(Box::new((job, plan)))
    })
}

fn found<A: Clone>(known: &Known<A>, question: String, answer: impl FnOnce() -> A) -> A {
    let old = known.lock().unwrap().get(&question).cloned();
    old.unwrap_or_else(|| {
        let new = answer();
        known.lock().unwrap().insert(question, new.clone());
        new
    })
}

fn sum(of: &(impl Hash + Debug)) -> u64 {
    use std::hash::{BuildHasher, BuildHasherDefault, DefaultHasher};
    BuildHasherDefault::<DefaultHasher>::default().hash_one(of)
}
