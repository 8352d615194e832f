//! The page of the day in rows: the lines of the day, or the first evening's, with the place that Enter goes to.

use crate::app::ctx::Ctx;
use crate::app::state::bench::BenchRun;
use crate::app::state::today::{DayRow, FirstThing, Goes};
use crate::app::state::views::Tab;
use crate::app::state::yields::YieldPane;
use crate::domain::cutting::question::Trimmer;
use crate::domain::today::words::{About, DayDesk, DayLine, Section, Urgency, heading as of_day, lines};
use crate::domain::today::{AtBench, Paces, Today};
use std::collections::BTreeMap;

/// All rows: of a day with work, or the first evening's.
pub fn rows(yields: &YieldPane, ctx: &Ctx, today: &Today) -> Vec<DayRow> {
    if is_first_evening(ctx) {
        return first_evening(yields, ctx);
    }
    let (bench, paces) = (in_hand(yields).map(at_bench), paces(yields));
    let desk = DayDesk {
        book: ctx.book,
        day: ctx.today,
        bench: bench.as_ref(),
        trimmer: &yields.trimmer,
        paces: &paces,
    };
    let row = |line: DayLine| DayRow {
        section: line.section,
        goes: goes(ctx, line.about),
        what: line.what,
        words: line.words,
        urgency: line.urgency,
    };
    lines(&desk, today).into_iter().map(row).collect()
}

/// Where the thing of a line is seen at length.
fn goes(ctx: &Ctx, about: About) -> Goes {
    match about {
        About::Run => Goes::Bench,
        About::ToCut(id) if ctx.book.active() == Some(id) => Goes::Plan,
        About::Project(id) | About::ToCut(id) => Goes::Class(id),
        About::Stage(id) => Goes::After(id),
        About::Short(item) => Goes::Reorder(item),
        About::Order(id) => Goes::Awaited(id),
        About::Booking(id) => Goes::Booking(id),
        About::Item(id) => Goes::Item(id),
        About::More(section) => Goes::List(list_of(section)),
    }
}

/// The list of Stock that has all of a section.
const fn list_of(section: Section) -> Tab {
    match section {
        Section::Short | Section::Coming | Section::Leaving => Tab::Reorder,
        Section::Offcuts => Tab::Bookings,
        Section::Next | Section::Cut | Section::Time | Section::Open | Section::First => Tab::Classes,
    }
}

/// True where no work was ever planned: there is nothing to come back to yet.
pub fn is_first_evening(ctx: &Ctx) -> bool {
    ctx.book.projects().is_empty() && ctx.book.orders().is_empty()
}

/// The page's heading.
pub fn heading(ctx: &Ctx) -> String {
    if is_first_evening(ctx) {
        return "The first evening: four things to do, each done here".to_owned();
    }
    of_day(ctx.today)
}

/// A run that was begun and is not in the log.
pub fn in_hand(yields: &YieldPane) -> Option<&BenchRun> {
    yields.run.as_ref().filter(|run| run.is_begun() && !run.is_logged())
}

/// What the day tells of it.
fn at_bench(run: &BenchRun) -> AtBench {
    AtBench {
        title: run.title.clone(),
        project: run.of.map(|of| of.project),
        done: run.done,
        steps: run.len(),
        strokes: run.strokes_left(),
        next: run.spot().map(|spot| (spot.sheet.copies, spot.sheet.name.clone())),
        taken: taken(run),
    }
}

/// Sheets of each layout of the booked plan that the run has taken and not logged.
fn taken(run: &BenchRun) -> BTreeMap<u32, u32> {
    let mut all = BTreeMap::new();
    let mut first = 0;
    for sheet in &run.sheets {
        let last = first + sheet.copies;
        let open = last.saturating_sub(run.logged.max(first));
        first = last;
        if let Some(place) = sheet.booked_as {
            *all.entry(place).or_default() += open;
        }
    }
    all
}

/// The person's paces.
fn paces(yields: &YieldPane) -> Paces {
    Paces { cutting: yields.pace, after: yields.stage_paces }
}

/// Four things to do on an empty book, each done here.
fn first_evening(yields: &YieldPane, ctx: &Ctx) -> Vec<DayRow> {
    let (has_paper, has_card) = (!ctx.book.items().is_empty(), ctx.book.loose_card().is_some());
    let four = [
        (is_trimmer_said(yields), "your trimmer", "how it is set, and its longest cut", FirstThing::Trimmer),
        (has_paper, "a paper", "the first line of your shelf, with its count", FirstThing::Paper),
        (has_card, "a card", "its front, and its layers by their reveals", FirstThing::Card),
        (
            false,
            "a class or batch",
            "its day and seats: then this page tells what is next",
            FirstThing::Class,
        ),
    ];
    let row = |(is_done, what, words, id): (bool, &str, &str, FirstThing)| DayRow {
        section: Section::First,
        what: what.to_owned(),
        words: if is_done { format!("done; {words}") } else { words.to_owned() },
        urgency: if is_done { Urgency::Done } else { Urgency::Calm },
        goes: Goes::Here(id),
    };
    four.into_iter().map(row).collect()
}

/// True where the trimmer is not as it comes.
pub fn is_trimmer_said(yields: &YieldPane) -> bool {
    yields.trimmer != Trimmer { stop_cuts: yields.trimmer.stop_cuts, ..Trimmer::default() }
}
