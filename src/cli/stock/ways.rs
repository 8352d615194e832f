//! What can be done where a class runs short, each way with a number by which it is taken.

use super::ask::{ClassWaysAsk, Form};
use super::{change, class};
use crate::cli::{BadInput, Desk, today};
use crate::domain::book::Book;
use crate::domain::harmless::harmless;
use crate::domain::money::Money;
use crate::domain::stock::ways::{ShortLine, Way, ways_out};
use crate::exchange::write::stock as csv;
use crate::exchange::write::text::{number, words};
use crate::persist::Store;
use serde::Serialize;

#[derive(Serialize)]
struct Answer {
    class: String,
    date: Option<String>,
    currency: String,
    dry_run: bool,
    done: Option<String>,
    lines: Vec<Line>,
}

#[derive(Serialize)]
struct Line {
    name: String,
    missing: u64,
    ways: Vec<WayRow>,
}

#[derive(Serialize)]
struct WayRow {
    number: usize,
    how: &'static str,
    words: String,
    cost: Option<f64>,
    still_missing: u64,
    by: Option<String>,
    late: bool,
    note: String,
}

impl WayRow {
    fn of(number: usize, way: &Way) -> Self {
        Self {
            number,
            how: way.how.word(),
            words: way.words.clone(),
            cost: way.cost.map(|m: Money| m.minor() as f64 / 100.0),
            still_missing: way.still_missing,
            by: way.by.map(|d| d.to_string()),
            late: way.late,
            note: way.note.clone(),
        }
    }
}

/// Answers, and takes a way where one is named.
pub(super) fn run(
    desk: &mut Desk<'_>,
    store: &mut Store,
    ask: &ClassWaysAsk,
    form: Form,
) -> anyhow::Result<()> {
    let id = class::find(store.book(), &ask.name).map_err(BadInput)?;
    let day = today()?;
    let mut lines = ways_out(store.book(), id, &class::look(store.book(), id)?, day);
    if let Some(item) = &ask.item {
        let item = store.book().find_item(item).map_err(BadInput::from_error)?;
        lines.retain(|l| l.item == item);
    }
    let done = match ask.take {
        Some(number) => Some(taken(desk, store, ask, number, &lines)?),
        None => None,
    };
    told(desk, store.book(), (ask, id), (done, &lines), form)
}

/// Takes the way of this number. Its edit holds what it rests on: where another window was faster it is refused.
fn taken(
    desk: &mut Desk<'_>,
    store: &mut Store,
    ask: &ClassWaysAsk,
    number: usize,
    lines: &[ShortLine],
) -> anyhow::Result<String> {
    let all: Vec<&Way> = lines.iter().flat_map(|l| &l.ways).collect();
    let way = number.checked_sub(1).and_then(|at| all.get(at)).ok_or_else(|| match all.len() {
        0 => BadInput("--take: nothing is short that could be fixed".to_owned()),
        n => BadInput(format!("--take {number}: there are ways 1 to {n}")),
    })?;
    change::carry_out(desk, store, ask.dry_run, |_| Ok(way.edit.clone()))
}

fn told(
    desk: &mut Desk<'_>,
    book: &Book,
    (ask, id): (&ClassWaysAsk, crate::domain::stock::ProjectId),
    (done, lines): (Option<String>, &[ShortLine]),
    form: Form,
) -> anyhow::Result<()> {
    let mut number = 0;
    let mut rows = Vec::new();
    for line in lines {
        let mut next = |way| {
            number += 1;
            WayRow::of(number, way)
        };
        let ways = line.ways.iter().map(&mut next).collect();
        rows.push(Line { name: book.items().name_of(line.item), missing: line.missing, ways });
    }
    let answer = Answer {
        class: book.projects().name_of(id),
        date: book.projects().get(id).and_then(|p| p.date).map(|d| d.to_string()),
        currency: book.settings().currency.clone(),
        dry_run: ask.dry_run,
        done,
        lines: rows,
    };
    match form {
        Form::Json => desk.json(&answer),
        Form::Csv => {
            let header = ["number", "short", "missing", "how", "way", "cost", "still_missing", "by", "note"];
            let cells = answer.lines.iter().flat_map(|l| l.ways.iter().map(|w| csv_cells(l, w)));
            desk.out.write_all(&csv::table(&header, cells))?;
            Ok(())
        }
        Form::Text => text(desk, &answer, lines),
    }
}

fn csv_cells(line: &Line, way: &WayRow) -> [String; 9] {
    [
        way.number.to_string(),
        line.name.clone(),
        line.missing.to_string(),
        way.how.to_owned(),
        way.words.clone(),
        way.cost.map_or_else(String::new, |c| format!("{c:.2}")),
        way.still_missing.to_string(),
        way.by.clone().unwrap_or_default(),
        way.note.clone(),
    ]
}

fn text(desk: &mut Desk<'_>, answer: &Answer, lines: &[ShortLine]) -> anyhow::Result<()> {
    if let Some(label) = &answer.done {
        let would = if answer.dry_run { "would be done: " } else { "" };
        writeln!(desk.out, "{would}{}", harmless(label))?;
        return Ok(());
    }
    if lines.is_empty() {
        writeln!(desk.note, "nothing is short for {}", harmless(&answer.class))?;
    }
    let columns = [number(""), words("what can be done"), words("what it costs and means")];
    for (line, short) in answer.lines.iter().zip(lines) {
        writeln!(desk.out, "{} of {} short", line.missing, harmless(&line.name))?;
        if short.ways.is_empty() {
            writeln!(desk.out, "  nothing on the shelf or at its seller fixes it")?;
            continue;
        }
        let one = |(row, way): (&WayRow, &Way)| {
            vec![row.number.to_string(), row.words.clone(), way.detail(&answer.currency)]
        };
        let cells: Vec<Vec<String>> = line.ways.iter().zip(&short.ways).map(one).collect();
        desk.table(&columns, &cells, |n| short.ways.get(n).is_some_and(|w| w.late))?;
    }
    Ok(())
}
