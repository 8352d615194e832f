//! How time is counted: by the wall, or by the processor as if nobody else were there.

use rustix::time::{ClockId, clock_gettime};
use std::time::{Duration, Instant};
use trimside::domain::cutting::job::Job;
use trimside::domain::cutting::plan::Plan;
use trimside::domain::cutting::planner::{Engine, Lanes, Solver};
use trimside::domain::planning::SEED;
use trimside::engine::planning::Abreast;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Clock {
    Processor,
    Wall,
}

/// What one job took.
pub struct Taken {
    pub plan: Plan,
    /// The engine that each part's cost came from; polishing after it changes no cost.
    pub engines: Vec<Engine>,
    pub first: Duration,
    pub whole: Duration,
    /// When the cost last fell.
    pub last_gain: Duration,
    /// The numbers of sheets of the plans so far, each with when it was found.
    pub course: Vec<(Duration, u32)>,
}

/// Processor time of this thread.
pub fn of_thread() -> Duration {
    let now = clock_gettime(ClockId::ThreadCPUTime);
    Duration::new(now.tv_sec.unsigned_abs(), u32::try_from(now.tv_nsec).unwrap_or(0))
}

/// Both lanes in turn; the longer one counts.
#[derive(Default)]
struct InTurnTimed {
    saved: Duration,
}

impl Lanes for InTurnTimed {
    fn both(&mut self, first: &mut (dyn FnMut() + Send), second: &mut (dyn FnMut() + Send)) {
        let start = of_thread();
        first();
        let middle = of_thread();
        second();
        self.saved += middle.saturating_sub(start).min(of_thread().saturating_sub(middle));
    }
}

/// Plans as the engine does: rounds until the limit would be passed, then the last touch.
pub fn plan(job: Job, limit: Duration, clock: Clock) -> Taken {
    let (wall, processor) = (Instant::now(), of_thread());
    let mut lanes = InTurnTimed::default();
    let now = |lanes: &InTurnTimed| match clock {
        Clock::Wall => wall.elapsed(),
        Clock::Processor => of_thread().saturating_sub(processor).saturating_sub(lanes.saved),
    };
    let mut solver = Solver::new(job, SEED);
    let first = now(&lanes);
    let mut last_gain = first;
    let mut course = vec![(first, solver.progress().sheets)];
    let mut engines = solver.engines();
    let mut longest = Duration::ZERO;
    loop {
        let begun = now(&lanes);
        let before = (solver.progress().outside, solver.progress().cost);
        let more = match clock {
            _ if begun + longest > limit => false,
            Clock::Wall => solver.round(&mut Abreast),
            Clock::Processor => solver.round(&mut lanes),
        };
        if !more {
            break;
        }
        let after = now(&lanes);
        longest = longest.max(after.saturating_sub(begun));
        if (solver.progress().outside, solver.progress().cost) < before {
            last_gain = after;
            course.push((after, solver.progress().sheets));
            engines = solver.engines();
        }
    }
    match clock {
        Clock::Wall => solver.finish(&mut Abreast),
        Clock::Processor => solver.finish(&mut lanes),
    }
    let whole = now(&lanes);
    Taken { plan: solver.plan(), engines, first, whole, last_gain, course }
}
