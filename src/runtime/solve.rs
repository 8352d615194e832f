//! The workers behind the workbench, and what they do with a question.

use super::{further, pictures};
use crate::app::action::{Action, ShownChart, Solved, YieldAnswer};
use crate::app::effect::{Ask, PlanUntil};
use crate::app::state::cutting::PlanNews;
use crate::domain::cards::advice;
use crate::domain::cutting::question::Question;
use crate::domain::cutting::stop::Stop;
use crate::domain::cutting::{chart, one_size};
use crate::domain::planning::ProjectJob;
use crate::domain::shelf_answers::scrap;
use crate::domain::stock::ways::ways_out;
use crate::engine::desk::WorkerDesk;
use crate::engine::planning::{self, Budget, News};
use std::time::Duration;

/// Answers one question.
pub fn solve(ask: Ask) -> Solved {
    solve_telling(0, ask, &Stop::default(), &|_| {})
}

/// The same for the question of a number; `tell` hears of the way there.
pub fn solve_telling(number: u64, ask: Ask, stop: &Stop, tell: &dyn Fn(Action)) -> Solved {
    match ask {
        Ask::Yield(question) => {
            let answer = one_size::answer_until(&question, stop);
            Solved::Yield(Box::new(YieldAnswer { question: *question, answer }))
        }
        Ask::Chart(ask) => {
            let cells = chart::cells_until(&ask.sheet, &ask.range, ask.may_turn, ask.limits, stop);
            Solved::Chart(Box::new(ShownChart { ask: *ask, cells }))
        }
        Ask::Further(ask) => {
            let so_far = |found| tell(Action::SoFar(number, Box::new(found)));
            Solved::Further(Box::new(further::answer(&ask, stop, &so_far)))
        }
        Ask::Laid(question) => Solved::Laid(Box::new(one_size::answer_until(&question, stop))),
        Ask::Beside(ask) => Solved::Beside(Box::new(further::beside(&ask, stop))),
        Ask::Advice(ask) => {
            let question =
                |piece| Question { may_turn: ask.may_turn, ..Question::new(piece, ask.sheet.clone()) };
            let yields = |piece| one_size::answer_until(&question(piece), stop).best;
            Solved::Advice(advice::around(ask.below, ask.chosen, ask.reach, &ask.tools, yields))
        }
        Ask::EveryYield(ask) => Solved::EveryYield(ask.answer(|piece, sheet, may_turn| {
            let question = Question { may_turn, ..Question::new(piece, sheet.clone()) };
            one_size::answer_until(&question, stop).best
        })),
        Ask::Ways(ask) => Solved::Ways(ways_out(&ask.book, ask.project, &ask.look, ask.today)),
        Ask::Gives(all) => Solved::Gives(all.iter().map(|ask| scrap::gives(ask, stop)).collect()),
        Ask::Trios(ask) => {
            let trios = ask.answer();
            Solved::Trios(ask, trios)
        }
        Ask::Photo(ask) => {
            let number = ask.number;
            let told = |(words, done, of)| tell(Action::Staged(number, words, done, of));
            Solved::Photo(Box::new(pictures::photo(*ask, &told)))
        }
        Ask::Colours(path) => {
            let list = pictures::colours(&path);
            Solved::Colours(path, list)
        }
    }
}

/// The workers: quick answers have one of their own, so that neither a picture nor a chart delays them.
#[derive(Debug)]
pub struct Desks {
    quick: WorkerDesk<(u64, Ask)>,
    charts: WorkerDesk<(u64, Ask)>,
    pictures: WorkerDesk<(u64, Ask)>,
    further: WorkerDesk<(u64, Ask)>,
}

impl Desks {
    /// Starts the workers; `tell` takes answers and the news on the way there.
    ///
    /// # Errors
    /// When the system refuses a thread.
    pub fn open(tell: impl Fn(Action) + Send + Clone + 'static) -> std::io::Result<Self> {
        let desk = || {
            let (news, answers) = (tell.clone(), tell.clone());
            WorkerDesk::open(
                move |(number, ask), stop: &Stop| solve_telling(number, ask, stop, &news),
                move |number, answer| {
                    answers(Action::Solved(number, answer.unwrap_or_else(Solved::Failed)));
                },
            )
        };
        Ok(Self { quick: desk()?, charts: desk()?, pictures: desk()?, further: desk()? })
    }

    /// Puts a question. False where the worker is gone.
    pub fn ask(&self, number: u64, ask: Ask) -> bool {
        let desk = match ask {
            Ask::Photo(_) | Ask::Colours(_) => &self.pictures,
            Ask::Chart(_) | Ask::Trios(_) | Ask::Beside(_) => &self.charts,
            Ask::Further(_) | Ask::EveryYield(_) | Ask::Ways(_) | Ask::Gives(_) => &self.further,
            Ask::Yield(_) | Ask::Advice(_) | Ask::Laid(_) => &self.quick,
        };
        desk.ask(number, kind(&ask), (number, ask))
    }
}

/// Questions of one kind overtake each other.
const fn kind(ask: &Ask) -> u8 {
    match ask {
        Ask::Yield(_) => 0,
        Ask::Chart(_) => 1,
        Ask::Advice(_) => 2,
        Ask::Trios(_) => 3,
        Ask::Photo(_) => 4,
        Ask::Colours(_) => 5,
        Ask::Further(_) => 6,
        Ask::Beside(_) => 7,
        Ask::EveryYield(_) => 8,
        Ask::Ways(_) => 9,
        Ask::Gives(_) => 10,
        Ask::Laid(_) => 11,
    }
}

/// The planner's news as the bench takes them.
pub fn news(news: News) -> PlanNews {
    match news {
        News::Progress(progress, share) => PlanNews::Progress(progress, share),
        News::Better(plan) => PlanNews::Better(plan),
        News::Done(done) => PlanNews::Done(done),
    }
}

/// When the planner stops, as it counts.
pub fn budget(until: PlanUntil) -> Budget {
    match until {
        PlanUntil::Rounds(n) => Budget::Work(n),
        PlanUntil::Seconds(s) => Budget::Time(Duration::from_secs_f64(s)),
    }
}

/// The plan behind a project's figures.
pub fn settle(job: ProjectJob) -> Action {
    let plan = planning::settle(&job);
    Action::Settled(Box::new((job, plan)))
}
