//! A count day from a file: what each counted line differs by, and the one step that logs it.

use super::ask::Form;
use super::change;
use super::import::{bytes_of, refused};
use crate::cli::{BadInput, Desk};
use crate::domain::book::Book;
use crate::domain::edit::Edit;
use crate::domain::harmless::harmless;
use crate::domain::stock::ItemId;
use crate::domain::stock::import::BadLine;
use crate::domain::stock::shelf::count_day;
use crate::exchange::read::counts::counts;
use crate::exchange::write::stock as csv;
use crate::persist::Store;
use serde::Serialize;
use std::collections::BTreeMap;
use std::path::Path;

#[derive(Serialize)]
struct Answer {
    dry_run: bool,
    counted: usize,
    differences: Vec<CountedRow>,
}

#[derive(Serialize)]
struct CountedRow {
    name: String,
    book: u64,
    counted: u32,
    difference: i64,
}

pub(super) fn run(
    desk: &mut Desk<'_>,
    store: &mut Store,
    file: &Path,
    dry_run: bool,
    form: Form,
) -> anyhow::Result<()> {
    let bytes = bytes_of(file)?;
    let counted = read(store.book(), &bytes).map_err(BadInput)?;
    let differences = differences(store.book(), &counted);
    if !differences.is_empty() {
        change::carry_out(desk, store, dry_run, |book| {
            let counted = read(book, &bytes)?;
            // Between the look and the lock another window may have logged the same.
            Ok(count_day(book, &counted)
                .unwrap_or(Edit::Batch { label: "counted".into(), edits: Vec::new() }))
        })?;
    }
    answer(desk, Answer { dry_run, counted: counted.len(), differences }, form)
}

/// The counts, each with its line of the shelf.
fn read(book: &Book, bytes: &[u8]) -> Result<Vec<(ItemId, u32)>, String> {
    let rows = counts(bytes).map_err(|bad| refused(&bad))?;
    let mut seen: BTreeMap<ItemId, u64> = BTreeMap::new();
    let (mut out, mut bad) = (Vec::new(), Vec::new());
    for row in rows {
        match book.find_item(&row.name) {
            Err(why) => bad.push(BadLine { line: row.line, why: why.to_string() }),
            Ok(id) => match seen.insert(id, row.line) {
                Some(first) => bad.push(BadLine {
                    line: row.line,
                    why: format!("it is the same item as line {first}: give each item one count"),
                }),
                None => out.push((id, row.count)),
            },
        }
    }
    if bad.is_empty() { Ok(out) } else { Err(refused(&bad)) }
}

fn differences(book: &Book, counted: &[(ItemId, u32)]) -> Vec<CountedRow> {
    let rows = counted.iter().map(|(id, n)| {
        let held = book.on_hand(*id);
        let difference = i64::from(*n) - i64::try_from(held).unwrap_or(i64::MAX);
        CountedRow { name: book.items().name_of(*id), book: held, counted: *n, difference }
    });
    rows.filter(|d| d.difference != 0).collect()
}

fn answer(desk: &mut Desk<'_>, answer: Answer, form: Form) -> anyhow::Result<()> {
    match form {
        Form::Json => desk.json(&answer),
        Form::Csv => {
            let header = ["name", "book", "counted", "difference"];
            let cells = answer
                .differences
                .into_iter()
                .map(|d| [d.name, d.book.to_string(), d.counted.to_string(), d.difference.to_string()]);
            desk.out.write_all(&csv::table_with_numbers(&header, cells, &[3]))?;
            Ok(())
        }
        Form::Text => {
            for d in &answer.differences {
                let name = harmless(&d.name);
                writeln!(
                    desk.out,
                    "{name}: {} in the book, {} counted, {:+}",
                    d.book, d.counted, d.difference
                )?;
            }
            let done = if answer.dry_run { "would be logged" } else { "logged" };
            writeln!(desk.out, "{} counted, {} differ: {done}", answer.counted, answer.differences.len())?;
            Ok(())
        }
    }
}
