//! `trimside today`: what the day asks, as the page of the workbench has it. The run at the bench and the person's pace belong
//! to the workbench: here the strokes of the booked plans are told, and the time where a pace is given.

use super::{BadInput, Desk, open_store};
use crate::domain::cutting::pace::CuttingPace;
use crate::domain::harmless::harmless;
use crate::domain::planning;
use crate::domain::project::Stage;
use crate::domain::today::words::{self, DayLine, heading, lines};
use crate::domain::today::{Next, Paces, Today, left, today};
use jiff::civil::Date;
use serde_json::{Value, json};

/// Longest pace that is taken, in seconds a stroke: as long as a pause counts as cutting at the bench.
const LONGEST: u32 = 120;

/// What today asks of you: deadlines, what is short, to cut, on order, set aside, leaving, not finished.
#[derive(clap::Args, Debug)]
pub struct TodayArgs {
    /// As of another day [default: today]
    #[arg(long, value_name = "DAY")]
    pub day: Option<String>,
    /// Seconds that you take for a stroke: the time for the cuts is told
    #[arg(long, value_name = "SECONDS")]
    pub pace: Option<String>,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

/// Answers the command.
///
/// # Errors
/// [`BadInput`] for what the person can mend, a failure where the book cannot be read.
pub fn answer_today(args: &TodayArgs, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let day = args.day.as_deref().map_or_else(super::today, |text| Ok(day_of(text)?))?;
    let pace = args.pace.as_deref().map(pace_of).transpose()?.unwrap_or_default();
    let paces = Paces { cutting: pace, ..Paces::default() };
    let store = open_store(desk)?;
    let book = store.book();
    let trimmer = planning::trimmer(book);
    let found = today(book, day, &|_| None);
    let of = words::DayDesk { book, day, bench: None, trimmer: &trimmer, paces: &paces };
    let all = lines(&of, &found);
    if args.json {
        return desk.json(&answer(&of, &found, &all));
    }
    writeln!(desk.out, "{}", heading(day))?;
    if all.is_empty() {
        writeln!(desk.out, "Nothing is planned, short or on order.")?;
    }
    let mut last = None;
    for line in &all {
        if last != Some(line.section) {
            writeln!(desk.out, "\n{}", line.section.title())?;
            last = Some(line.section);
        }
        writeln!(desk.out, "  {}: {}", harmless(&line.what), harmless(&line.words))?;
    }
    Ok(())
}

fn day_of(text: &str) -> Result<Date, BadInput> {
    let bad = || BadInput(format!("--day: \"{}\" is not a day: write it as 2027-08-31", harmless(text)));
    text.trim().parse().map_err(|_| bad())
}

fn pace_of(text: &str) -> Result<CuttingPace, BadInput> {
    let seconds = text.trim().parse::<u32>().ok().filter(|n| (1..=LONGEST).contains(n));
    let bad = || {
        BadInput(format!(
            "--pace: \"{}\" is not a pace: write whole seconds a stroke, from 1 to {LONGEST}",
            harmless(text)
        ))
    };
    // As many strokes as it takes for a pace to be known.
    seconds.map(|n| CuttingPace::kept(n * 100, 100)).ok_or_else(bad)
}

fn answer(of: &words::DayDesk<'_>, found: &Today, all: &[DayLine]) -> Value {
    let book = of.book;
    let item = |id| book.items().name_of(id);
    let project = |id| book.projects().name_of(id);
    let short = |s: &crate::domain::today::Short| {
        json!({
            "name": item(s.item), "missing": s.missing, "project": project(s.project),
            "on": s.on.map(|d| d.to_string()), "order_by": s.order_by.map(|d| d.to_string()),
            "late": s.order_by.is_some_and(|d| d < of.day),
            "booked": s.is_booked, "also": s.also.iter().map(|id| project(*id)).collect::<Vec<_>>(),
        })
    };
    let order = |o: &crate::domain::stock::Order| {
        json!({
            "name": item(o.item), "count": o.count, "placed": o.placed.to_string(),
            "expected": o.expected.map(|d| d.to_string()),
        })
    };
    let offcut = |b: &crate::domain::stock::Booking| {
        json!({
            "name": crate::domain::stock::booked::title(book, b), "count": b.count, "project": project(b.project),
        })
    };
    let leaving = |l: &crate::domain::stock::reorder::LastOrder| {
        json!({
            "name": item(l.item), "on_hand": l.on_hand, "booked": l.booked, "until": l.until.to_string(),
        })
    };
    json!({
        "day": of.day.to_string(),
        "next": found.next.iter().map(|n| next(of, n)).collect::<Vec<_>>(),
        "short": found.short.iter().map(short).collect::<Vec<_>>(),
        "low": found.low.iter().map(|id| item(*id)).collect::<Vec<_>>(),
        "orders": found.coming.iter().filter_map(|id| book.orders().get(*id)).map(order).collect::<Vec<_>>(),
        "offcuts": found.offcuts.iter().filter_map(|id| book.bookings().get(*id)).map(offcut).collect::<Vec<_>>(),
        "leaving": found.leaving.iter().map(leaving).collect::<Vec<_>>(),
        "lines": all.iter().map(line).collect::<Vec<_>>(),
    })
}

fn next(of: &words::DayDesk<'_>, n: &Next) -> Value {
    let project = of.book.projects().get(n.project).cloned().unwrap_or_default();
    let left = left(&project, words::strokes(of, n.project), of.paces);
    let told = |s: Stage| match (s, project.stage_total(s)) {
        (Stage::Prepared, _) => Some((s, project.prepared())),
        (_, of) => of.map(|of| (s, (project.stages.done(s), of))),
    };
    let stages: Vec<Value> = Stage::ALL
        .into_iter()
        .filter_map(told)
        .map(|(s, (done, of))| json!({ "stage": s.word(), "done": done, "of": of }))
        .collect();
    json!({
        "name": project.name,
        "date": n.on.map(|d| d.to_string()),
        "days": n.on.map(|d| crate::domain::days::between(of.day, d)),
        "seats": n.seats,
        "booked": n.is_booked,
        "short": n.short,
        "pieces": n.pieces.0,
        "pieces_still": n.pieces.1,
        "sheets": n.sheets.0,
        "offcuts": n.sheets.1,
        "bound": n.is_bound,
        "strokes": left.strokes,
        "cutting_seconds": left.cutting,
        "stages": stages,
        "cards": n.cards,
    })
}

fn line(l: &DayLine) -> Value {
    json!({
        "section": l.section.title(), "what": l.what, "words": l.words, "urgency": l.urgency.word(),
    })
}
