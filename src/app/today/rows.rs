//! The page of the day in rows: the figures that were read off the book, in words. The drawn page, plain mode and the
//! clipboard read the same.

use crate::app::commands::CommandId;
use crate::app::ctx::Ctx;
use crate::app::state::bench::BenchRun;
use crate::app::state::today::{DayRow, Goes, Section, Urgency};
use crate::app::state::yields::YieldPane;
use crate::domain::cutting::pace::time_words;
use crate::domain::cutting::question::Trimmer;
use crate::domain::days::{between, when};
use crate::domain::plural::count_of;
use crate::domain::project::{Project, Stage};
use crate::domain::stock::{ProjectId, booked};
use crate::domain::today::{self, Next, Paces, Today};
use std::collections::BTreeMap;

/// Most rows of a section; the rest is counted in its last row.
const MOST: usize = 6;
/// From so few days on a deadline is one to be seen to.
const SOON: i32 = 7;

/// All rows: of a day with work, or the first evening's.
pub fn rows(yields: &YieldPane, ctx: &Ctx, today: &Today) -> Vec<DayRow> {
    if is_first_evening(ctx) {
        return first_evening(yields, ctx);
    }
    let mut all = next_rows(ctx, today);
    all.extend(short_rows(ctx, today));
    all.extend(cut_rows(yields, ctx, today));
    all.extend(time_row(yields, ctx, today));
    all.extend(open_rows(ctx, today));
    all.extend(coming_rows(ctx, today));
    all.extend(offcut_rows(ctx, today));
    all.extend(leaving_rows(ctx, today));
    all
}

/// The page's heading.
pub fn heading(ctx: &Ctx) -> String {
    if is_first_evening(ctx) {
        return "The first evening: four things to do, each done here".to_owned();
    }
    let day = when(ctx.today, ctx.today);
    format!("Today, {}", day.trim_end_matches(", today"))
}

/// True where no work was ever planned: there is nothing to come back to yet.
pub fn is_first_evening(ctx: &Ctx) -> bool {
    ctx.book.projects().is_empty() && ctx.book.orders().is_empty()
}

fn row(section: Section, what: String, words: String, goes: Goes) -> DayRow {
    DayRow { section, what, words, urgency: Urgency::Calm, goes }
}

fn next_rows(ctx: &Ctx, today: &Today) -> Vec<DayRow> {
    let one = |n: &Next| {
        let kind = match n.seats {
            0 => "batch".to_owned(),
            seats => format!("class of {seats}"),
        };
        let day = n.on.map_or_else(|| "no day set".to_owned(), |on| when(on, ctx.today));
        let booked = match (n.is_booked, n.short) {
            (_, short @ 1..) => format!("{} short", count_of(short as u64, "paper")),
            (true, _) => "booked".to_owned(),
            (false, _) if n.pieces.1 == 0 => "cut".to_owned(),
            (false, _) => "not booked".to_owned(),
        };
        let days = n.on.map(|on| between(ctx.today, on));
        let urgency = match (days, n.short) {
            (Some(days), _) if days < 0 => Urgency::Now,
            (_, 1..) => Urgency::Now,
            (Some(days), _) if days <= SOON => Urgency::Soon,
            _ => Urgency::Calm,
        };
        let name = ctx.book.projects().name_of(n.project);
        let words = format!("{day}; {kind}, {booked}");
        DayRow { urgency, ..row(Section::Next, name, words, Goes::Class(n.project)) }
    };
    today.next.iter().take(MOST).map(one).collect()
}

fn short_rows(ctx: &Ctx, today: &Today) -> Vec<DayRow> {
    let mut all: Vec<DayRow> = today
        .short
        .iter()
        .take(MOST)
        .map(|s| {
            let order = match s.order_by {
                Some(day) if day < ctx.today => format!("order by {}: too late, ask", when(day, ctx.today)),
                Some(day) => format!("order by {}", when(day, ctx.today)),
                None => "no day set".to_owned(),
            };
            let whose = ctx.book.projects().name_of(s.project);
            let what = format!("{} of {}", s.missing, ctx.book.items().name_of(s.item));
            let words = format!("{order}; for {whose}");
            DayRow { urgency: Urgency::Now, ..row(Section::Short, what, words, Goes::Reorder(s.item)) }
        })
        .collect();
    if let Some(first) = today.low.first() {
        let names: Vec<String> = today.low.iter().map(|id| ctx.book.items().name_of(*id)).collect();
        let what = format!("{} low", count_of(names.len() as u64, "line"));
        let low = row(Section::Short, what, names.join("; "), Goes::Reorder(*first));
        all.push(DayRow { urgency: Urgency::Soon, ..low });
    }
    all
}

/// The run in hand first, then what else is planned.
fn cut_rows(yields: &YieldPane, ctx: &Ctx, today: &Today) -> Vec<DayRow> {
    let mut all: Vec<DayRow> = in_hand(yields).map(run_row).into_iter().collect();
    let of_run = in_hand(yields).and_then(|run| run.of).map(|of| of.project);
    let open = today.next.iter().filter(|n| n.pieces.1 > 0 && Some(n.project) != of_run);
    all.extend(open.take(MOST).map(|n| {
        let (pieces, still) = n.pieces;
        let bound = if n.is_bound { "at least " } else { "" };
        let sheets = sheets_words(n.sheets);
        let words = format!("{bound}{sheets}; {} of {pieces} pieces cut", pieces.saturating_sub(still));
        let goes = if ctx.book.active() == Some(n.project) { Goes::Plan } else { Goes::Class(n.project) };
        row(Section::Cut, ctx.book.projects().name_of(n.project), words, goes)
    }));
    all
}

fn sheets_words((sheets, offcuts): (u64, u64)) -> String {
    match (sheets, offcuts) {
        (n, 0) => count_of(n, "sheet"),
        (0, n) => count_of(n, "offcut"),
        (a, b) => format!("{} and {}", count_of(a, "sheet"), count_of(b, "offcut")),
    }
}

/// A run that was begun and is not in the log.
pub fn in_hand(yields: &YieldPane) -> Option<&BenchRun> {
    yields.run.as_ref().filter(|run| run.is_begun() && !run.is_logged())
}

fn run_row(run: &BenchRun) -> DayRow {
    let left = count_of(run.strokes_left(), "stroke");
    let words = match run.spot() {
        Some(spot) => format!(
            "at the bench: step {} of {}, {left} left; {} x {} next",
            run.done + 1,
            run.len(),
            spot.sheet.copies,
            spot.sheet.name
        ),
        None => "at the bench: all cut, not logged".to_owned(),
    };
    DayRow { urgency: Urgency::Soon, ..row(Section::Cut, run.title.clone(), words, Goes::Bench) }
}

/// Cutting and what follows it before the next day that is set.
fn time_row(yields: &YieldPane, ctx: &Ctx, today: &Today) -> Option<DayRow> {
    let next = today.deadline()?;
    let project = ctx.book.projects().get(next.project)?;
    let words = time_words_of(yields, ctx, (next.project, project));
    let what = format!("before {}", project.name);
    Some(row(Section::Time, what, words, Goes::Class(next.project)))
}

/// Strokes that a project still asks for: those of its run in hand, and those of the sheets beyond it.
pub fn strokes(yields: &YieldPane, ctx: &Ctx, id: ProjectId) -> Option<u64> {
    let run = in_hand(yields).filter(|run| run.of.is_some_and(|of| of.project == id));
    let taken = run.map(taken).unwrap_or_default();
    let beyond = today::strokes_left(ctx.book, id, &yields.trimmer, &taken);
    match (run.map(BenchRun::strokes_left), beyond) {
        (None, beyond) => beyond,
        (Some(run), beyond) => Some(run + beyond.unwrap_or(0)),
    }
}

/// Sheets of each layout of the booked plan that the run has taken and not logged.
fn taken(run: &BenchRun) -> BTreeMap<u32, u32> {
    let mut all = BTreeMap::new();
    let mut first = 0;
    for sheet in &run.sheets {
        let last = first + sheet.copies;
        let open = last.saturating_sub(first.max(run.logged));
        first = last;
        if let Some(place) = sheet.booked_as {
            *all.entry(place).or_default() += open;
        }
    }
    all
}

/// The person's paces.
pub fn paces(yields: &YieldPane) -> Paces {
    Paces { cutting: yields.pace, after: yields.stage_paces }
}

fn time_words_of(yields: &YieldPane, ctx: &Ctx, (id, project): (ProjectId, &Project)) -> String {
    let left = today::left(project, strokes(yields, ctx, id), &paces(yields));
    let mut all = Vec::new();
    match (left.strokes, left.cutting) {
        (Some(0), _) => all.push("nothing left to cut".to_owned()),
        (Some(_), Some(seconds)) => all.push(format!("about {} of cutting", time_words(seconds))),
        (Some(n), None) => all.push(format!("{} of cutting", count_of(n, "stroke"))),
        (None, _) => all.push("cutting not planned yet".to_owned()),
    }
    if !left.stages.is_empty() {
        let what: Vec<String> = left.stages.iter().map(|(stage, n)| stage_words(*stage, *n)).collect();
        let what = what.join(", ");
        all.push(match left.after {
            Some(seconds) => format!("about {} after it ({what})", time_words(seconds)),
            None => format!("then {what}"),
        });
    }
    let is_unknown = left.strokes.is_some_and(|n| n > 0) && left.cutting.is_none()
        || left.after.is_none() && !left.stages.is_empty();
    if is_unknown {
        all.push("your pace shows once you tick as you go".to_owned());
    }
    all.join("; ")
}

fn stage_words(stage: Stage, n: u32) -> String {
    let to_do = match stage {
        Stage::Prepared => "to prepare",
        Stage::Packed => "to pack",
        Stage::Assembled => "to make up",
        Stage::HandedOut => "to hand out",
    };
    format!("{} {to_do}", count_of(u64::from(n), stage.unit()))
}

fn open_rows(ctx: &Ctx, today: &Today) -> Vec<DayRow> {
    let open = today.next.iter().filter_map(|n| Some((n, n.stage?)));
    open.take(MOST)
        .map(|(n, (stage, done, of))| {
            let cards = count_of(n.cards, "card");
            let units = count_of(u64::from(of), stage.unit());
            let words = format!("{cards}; {done} of {units} {}", stage.word());
            row(Section::Open, ctx.book.projects().name_of(n.project), words, Goes::After(n.project))
        })
        .collect()
}

fn coming_rows(ctx: &Ctx, today: &Today) -> Vec<DayRow> {
    let orders = today.coming.iter().take(MOST).filter_map(|id| Some((*id, ctx.book.orders().get(*id)?)));
    orders
        .map(|(id, order)| {
            let what = format!("{} of {}", order.count, ctx.book.items().name_of(order.item));
            let is_late = order.expected.is_some_and(|day| day < ctx.today);
            let words = match order.expected {
                Some(day) if is_late => format!("was expected {}", when(day, ctx.today)),
                Some(day) => format!("expected {}", when(day, ctx.today)),
                None => "no day named".to_owned(),
            };
            let words = format!("{words}; ordered {}", order.placed);
            let urgency = if is_late { Urgency::Now } else { Urgency::Calm };
            DayRow { urgency, ..row(Section::Coming, what, words, Goes::Awaited(id)) }
        })
        .collect()
}

fn offcut_rows(ctx: &Ctx, today: &Today) -> Vec<DayRow> {
    let all = today.offcuts.iter().take(MOST).filter_map(|id| Some((*id, ctx.book.bookings().get(*id)?)));
    all.map(|(id, b)| {
        let what = format!("{} of {}", b.count, booked::title(ctx.book, b));
        let words = format!("set aside for {}", ctx.book.projects().name_of(b.project));
        row(Section::Offcuts, what, words, Goes::Booking(id))
    })
    .collect()
}

fn leaving_rows(ctx: &Ctx, today: &Today) -> Vec<DayRow> {
    let all = today.leaving.iter().take(MOST);
    all.map(|l| {
        let what = format!("{} of {}", l.on_hand, ctx.book.items().name_of(l.item));
        let booked = if l.booked > 0 { format!("; {} booked", l.booked) } else { String::new() };
        let words = format!("to be had until {}{booked}", when(l.until, ctx.today));
        row(Section::Leaving, what, words, Goes::Item(l.item))
    })
    .collect()
}

/// Four things to do on an empty book, each done here.
fn first_evening(yields: &YieldPane, ctx: &Ctx) -> Vec<DayRow> {
    let has_card = ctx.book.loose_card().is_some();
    let four = [
        (is_trimmer_said(yields), "your trimmer", "how it is set and its longest cut", CommandId::Trimmer),
        (
            !ctx.book.items().is_empty(),
            "a paper",
            "the first line of your shelf, with its count",
            CommandId::NewItem,
        ),
        (has_card, "a card", "its front, and the layers on it by their reveals", CommandId::NewCard),
        (
            false,
            "a class or a batch",
            "its day and its seats: from then on this page tells what is next",
            CommandId::ClassNew,
        ),
    ];
    four.into_iter()
        .map(|(is_done, what, words, id)| {
            let urgency = if is_done { Urgency::Done } else { Urgency::Calm };
            let words = if is_done { format!("done; {words}") } else { words.to_owned() };
            DayRow { urgency, ..row(Section::First, what.to_owned(), words, Goes::Here(id)) }
        })
        .collect()
}

/// True where the trimmer is not as it comes.
pub fn is_trimmer_said(yields: &YieldPane) -> bool {
    yields.trimmer != Trimmer { stop_cuts: yields.trimmer.stop_cuts, ..Trimmer::default() }
}
