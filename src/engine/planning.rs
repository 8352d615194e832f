//! Runs the planner against a clock: two threads, a limit, progress, and a way to stop early.
//!
//! The clock only decides after which round to stop; what a round does is the planner's and always the same, so the
//! number of rounds that a plan reports makes that plan again (with a last touch of its own, where time was up before it).
//! A round that would not end in time is given up and counts for nothing.

use crate::domain::cutting::job::Job;
use crate::domain::cutting::plan::Plan;
use crate::domain::cutting::planner::{Lanes, PlanProgress, Solver};
use crate::domain::cutting::stop::Stop;
use crate::domain::planning::{self, ProjectJob, SEED};
use std::panic::{AssertUnwindSafe, catch_unwind, resume_unwind};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::thread;
use std::time::{Duration, Instant};

/// Seconds where nobody says otherwise.
pub const SECONDS: f64 = 2.0;
/// Up to so many pieces a first plan is there at once; of more so many take a second, telling it included (10,000 of as many
/// sizes, measured).
const AT_ONCE: u64 = 2_000;
const A_SECOND: u64 = 12_500;
/// What comes after the last round, in times that it takes to write the plan down once: that, the order in which its layouts are cut, and
/// its words or its answer for programs.
const WRITINGS: u32 = 2;
/// The same where the plan with stop cuts is written and told beside it.
const WRITINGS_WITH_STOP_CUTS: u32 = 4;
/// News of a better plan come no closer together than this.
const NEWS: Duration = Duration::from_millis(100);

/// When to stop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Budget {
    /// Wall time from the call.
    Time(Duration),
    /// Rounds of work.
    Work(u32),
}

impl Budget {
    /// Which share is gone, in thousandths.
    fn gone(self, time: Duration, rounds: u32) -> u16 {
        let share = match self {
            Self::Time(limit) => time.as_secs_f64() / limit.as_secs_f64().max(f64::MIN_POSITIVE),
            Self::Work(all) => f64::from(rounds) / f64::from(all.max(1)),
        };
        (share.clamp(0.0, 1.0) * 1_000.0).round() as u16
    }
}

/// The least time that keeps what a person asks for, for so many pieces: in steps of a twentieth of a second.
pub fn least_time(pieces: u64) -> Duration {
    if pieces <= AT_ONCE {
        return Duration::ZERO;
    }
    Duration::from_millis(50) * (pieces * 20).div_ceil(A_SECOND) as u32
}

/// Stops a plan from another thread; the best so far is kept.
#[derive(Clone, Debug, Default)]
pub struct Cancel(Stop);

impl Cancel {
    /// Asks to stop at once; a round in hand is given up.
    pub fn stop(&self) {
        self.0.ask();
    }
}

/// Stops a plan when its time is up, from a thread of its own.
struct Alarm(Sender<Instant>);

impl Alarm {
    /// An alarm for an instant; it goes home when this is dropped. Without a thread to spare there is none, and rounds are
    /// worked to their end.
    fn at(instant: Instant, stop: Stop) -> Self {
        let (later, news) = channel();
        let _ = thread::Builder::new().name("alarm".to_owned()).spawn(move || wake(instant, &stop, &news));
        Self(later)
    }

    /// Another instant in place of the one before.
    fn set(&self, instant: Instant) {
        let _ = self.0.send(instant);
    }
}

fn wake(mut instant: Instant, stop: &Stop, news: &Receiver<Instant>) {
    loop {
        match news.recv_timeout(instant.saturating_duration_since(Instant::now())) {
            Ok(other) => instant = other,
            Err(RecvTimeoutError::Timeout) => return stop.ask(),
            Err(RecvTimeoutError::Disconnected) => return,
        }
    }
}

/// Both lanes at once, the second on a thread of its own.
#[derive(Clone, Copy, Debug, Default)]
pub struct Abreast;

impl Lanes for Abreast {
    fn both(&mut self, first: &mut (dyn FnMut() + Send), second: &mut (dyn FnMut() + Send)) {
        let fault = thread::scope(|scope| {
            let other = scope.spawn(second);
            first();
            other.join().err()
        });
        if let Some(fault) = fault {
            resume_unwind(fault);
        }
    }
}

/// Plans a job. `tell` hears of every round; a fault of the planner comes back as a sentence.
///
/// # Errors
/// The sentence of a panic.
pub fn plan(
    job: Job,
    budget: Budget,
    cancel: &Cancel,
    tell: &mut dyn FnMut(&PlanProgress, &Solver),
) -> Result<Plan, String> {
    let start = Instant::now();
    guarded(|| run(job, budget, cancel, tell, start))
}

/// The plan behind a project's figures, on two threads.
///
/// # Errors
/// The sentence of a panic.
pub fn settle(of: &ProjectJob) -> Result<Plan, String> {
    guarded(|| planning::settle_project(of, &mut Abreast))
}

fn guarded(work: impl FnOnce() -> Plan) -> Result<Plan, String> {
    catch_unwind(AssertUnwindSafe(work)).map_err(|fault| {
        let text = fault.downcast_ref::<&str>().map(|s| (*s).to_owned());
        let text = text.or_else(|| fault.downcast_ref::<String>().cloned()).unwrap_or_default();
        format!("the planner stopped on a fault of its own ({text}); change the job a little and try again")
    })
}

fn run(
    job: Job,
    budget: Budget,
    cancel: &Cancel,
    tell: &mut dyn FnMut(&PlanProgress, &Solver),
    start: Instant,
) -> Plan {
    let limit = if let Budget::Time(limit) = budget { Some(limit) } else { None };
    // A limit past all clocks is none.
    let end = limit.and_then(|limit| start.checked_add(limit));
    let alarm = end.map(|end| Alarm::at(end, cancel.0.clone()));
    let mut solver = Solver::heeding(job, SEED, &cancel.0);
    // What comes after the last round takes time too: the last touch, writing the plan down, and telling it.
    let begun = Instant::now();
    let first = limit.map(|_| solver.plan());
    let writing = begun.elapsed() * if solver.has_stop_cuts() { WRITINGS_WITH_STOP_CUTS } else { WRITINGS };
    if let (Some(alarm), Some(end)) = (&alarm, end.and_then(|end| end.checked_sub(writing))) {
        alarm.set(end);
    }
    tell(&solver.progress(), &solver);
    if let (Some(first), Some(limit)) = (first, limit)
        && start.elapsed() + writing > limit
    {
        return first;
    }
    let mut longest = Duration::ZERO;
    loop {
        let begun = Instant::now();
        let go_on = match budget {
            Budget::Work(rounds) => solver.progress().work < rounds,
            Budget::Time(limit) => start.elapsed() + longest * (1 + solver.last_rounds()) + writing <= limit,
        };
        if !go_on || cancel.0.is_asked() || !solver.round(&mut Abreast) {
            break;
        }
        longest = longest.max(begun.elapsed());
        tell(&solver.progress(), &solver);
    }
    solver.finish(&mut Abreast);
    solver.plan()
}

/// What a plan in the background reports.
#[derive(Clone, Debug)]
pub enum News {
    /// A round is done; so many thousandths of the budget are gone.
    Progress(PlanProgress, u16),
    /// A better plan than the last one reported.
    Better(Box<Plan>),
    /// The end: the best plan, or the sentence of a fault.
    Done(Box<Result<Plan, String>>),
}

/// Plans in the background and sends news under the number of the request, until the end or until nobody listens.
///
/// # Errors
/// When the system refuses a thread.
pub fn start(number: u64, job: Job, budget: Budget, news: Sender<(u64, News)>) -> std::io::Result<Cancel> {
    let cancel = Cancel::default();
    let stop = cancel.clone();
    thread::Builder::new().name("planner".to_owned()).spawn(move || {
        let begun = Instant::now();
        let mut last: Option<(PlanProgress, Instant)> = None;
        let done = plan(job, budget, &stop, &mut |progress, solver| {
            let now = Instant::now();
            let better = last.is_none_or(|(old, told)| {
                let gain = (progress.outside, progress.cost) < (old.outside, old.cost)
                    || progress.with_stop_cuts < old.with_stop_cuts;
                gain && now.duration_since(told) >= NEWS
            });
            let mut heard = news
                .send((number, News::Progress(*progress, budget.gone(begun.elapsed(), progress.work))))
                .is_ok();
            if better {
                last = Some((*progress, now));
                heard &= news.send((number, News::Better(Box::new(solver.plan())))).is_ok();
            }
            if !heard {
                stop.stop();
            }
        });
        // Nobody may be listening any more.
        let _ = news.send((number, News::Done(Box::new(done))));
    })?;
    Ok(cancel)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cards::made_by::MadeBy;
    use crate::domain::cutting::job::{Cost, JobPiece, JobSheet};
    use crate::domain::cutting::planner::InTurn;
    use crate::domain::cutting::question::{Preference, Trimmer};
    use crate::domain::length::Length;
    use crate::domain::size::{Grain, Size};
    use std::sync::mpsc;

    /// Sizes that leave a gap between area and plan, so that the planner does not settle at once.
    fn job() -> Job {
        let piece = |at: i64| JobPiece {
            name: format!("p{at}"),
            finished: Size::new(Length::sixteenths(31 + 7 * at), Length::sixteenths(97 - 5 * at)),
            made_by: MadeBy::Straight,
            allowance: Length::ZERO,
            count: 3,
            may_turn: true,
            grain: Grain::Unknown,
            paper: None,
            sheet: None,
        };
        Job {
            pieces: (0..9).map(piece).collect(),
            sheets: vec![JobSheet {
                name: "square".to_owned(),
                paper: None,
                size: Size::new(Length::inches(12), Length::inches(12)),
                grain: Grain::Unknown,
                available: None,
                cost: Cost::ONE,
            }],
            trimmer: Trimmer::default(),
            preference: Preference::default(),
            keep: Job::KEEP,
        }
    }

    #[test]
    fn threads_do_not_change_the_plan() {
        let abreast = plan(job(), Budget::Work(6), &Cancel::default(), &mut |_, _| {}).unwrap();
        let mut solver = Solver::new(job(), SEED);
        while solver.progress().work < 6 && solver.round(&mut InTurn) {}
        solver.finish(&mut InTurn);
        assert_eq!(abreast, solver.plan());
    }

    #[test]
    fn the_clock_is_kept() {
        let begun = Instant::now();
        let limit = Duration::from_millis(400);
        plan(job(), Budget::Time(limit), &Cancel::default(), &mut |_, _| {}).unwrap();
        // Generous: the machine may be busy.
        assert!(begun.elapsed() < limit * 5);
    }

    #[test]
    fn news_carry_the_number_and_end_with_the_plan() {
        let (news, heard) = mpsc::channel();
        let cancel = start(7, job(), Budget::Time(Duration::from_secs(60)), news).unwrap();
        cancel.stop();
        let all: Vec<(u64, News)> = heard.iter().collect();
        assert!(all.iter().all(|n| n.0 == 7));
        assert!(matches!(all.last(), Some((_, News::Done(done))) if done.is_ok()));
        assert!(all.iter().any(|n| matches!(n.1, News::Better(_))));
    }

    #[test]
    fn a_fault_becomes_a_sentence() {
        let text =
            plan(job(), Budget::Work(1), &Cancel::default(), &mut |_, _| panic!("made up")).unwrap_err();
        assert!(text.contains("made up") && text.contains("fault of its own"), "{text}");
    }

    #[test]
    fn the_share_of_the_budget_that_is_gone_grows_to_the_whole() {
        let (news, heard) = mpsc::channel();
        start(7, job(), Budget::Work(3), news).unwrap();
        let shares: Vec<u16> = heard
            .iter()
            .filter_map(|(_, news)| match news {
                News::Progress(_, share) => Some(share),
                _ => None,
            })
            .collect();
        assert_eq!(shares, [0, 333, 667, 1_000]);
        assert_eq!(Budget::Time(Duration::from_secs(2)).gone(Duration::from_millis(500), 0), 250);
        assert_eq!(Budget::Time(Duration::ZERO).gone(Duration::from_millis(500), 0), 1_000);
    }
}
