//! A list of items taken in: what it would do first, all of it or nothing.

use super::ask::Form;
use super::change::refusal;
use crate::cli::{BadInput, Desk, today};
use crate::domain::book::Book;
use crate::domain::edit::Edit;
use crate::domain::harmless::harmless;
use crate::domain::stock::import::{self, BadLine, Import};
use crate::exchange::read::stock;
use crate::persist::Store;
use crate::persist::given::{self, LIST};
use serde::Serialize;
use std::path::Path;

/// More lines than this are not listed one by one in a refusal.
const LISTED: usize = 5;

#[derive(Serialize)]
struct Answer {
    dry_run: bool,
    added: Vec<String>,
    changed: Vec<Changed>,
    same: usize,
}

#[derive(Serialize)]
struct Changed {
    name: String,
    what: Vec<String>,
}

pub(super) fn import(
    desk: &mut Desk<'_>,
    store: &mut Store,
    file: &Path,
    dry_run: bool,
    form: Form,
) -> anyhow::Result<()> {
    let bytes = bytes_of(file)?;
    let unit = desk.unit;
    let plan_for = |book: &Book| -> Result<Import, String> {
        let rows = stock::stock(&bytes, unit, &book.settings().currency).map_err(|bad| refused(&bad))?;
        let plan = import::import(book, &rows);
        if plan.refused.is_empty() { Ok(plan) } else { Err(refused(&plan.refused)) }
    };
    let mut plan = plan_for(store.book()).map_err(BadInput)?;
    if !dry_run && plan.edit().is_some() {
        let done = store.change(today()?, |book| {
            plan = plan_for(book)?;
            // Between the look and the lock another window may have made the list superfluous.
            Ok(plan.edit().unwrap_or(Edit::Batch { label: plan.label(), edits: Vec::new() }))
        });
        done.map_err(refusal)?;
        for note in store.take_notes() {
            writeln!(desk.note, "{note}")?;
        }
    }
    answer(desk, store.book(), &plan, dry_run, form)
}

/// The bytes of a list.
pub(super) fn bytes_of(file: &Path) -> Result<Vec<u8>, BadInput> {
    given::read_or_input(file, LIST)
        .map_err(|e| BadInput(format!("{}: {e}", harmless(&file.display().to_string()))))
}

fn answer(desk: &mut Desk<'_>, book: &Book, plan: &Import, dry_run: bool, form: Form) -> anyhow::Result<()> {
    let changed =
        plan.changed.iter().map(|(id, what)| Changed { name: book.items().name_of(*id), what: what.clone() });
    let answer = Answer { dry_run, added: plan.added.clone(), changed: changed.collect(), same: plan.same };
    if form == Form::Json {
        return desk.json(&answer);
    }
    for name in &answer.added {
        writeln!(desk.out, "new      {}", harmless(name))?;
    }
    for row in &answer.changed {
        writeln!(desk.out, "changed  {}: {}", harmless(&row.name), harmless(&row.what.join(", ")))?;
    }
    let done = if dry_run { "would be imported" } else { "imported" };
    writeln!(
        desk.out,
        "{} new, {} changed, {} unchanged: {done}",
        answer.added.len(),
        answer.changed.len(),
        answer.same
    )?;
    Ok(())
}

/// One sentence for all lines that are refused.
pub(super) fn refused(bad: &[BadLine]) -> String {
    let listed: Vec<String> =
        bad.iter().take(LISTED).map(|b| format!("line {}: {}", b.line, harmless(&b.why))).collect();
    let more = bad.len().saturating_sub(LISTED);
    let more = if more == 0 { String::new() } else { format!("; and {more} more") };
    format!("{}{more}; nothing was imported: fix the file and try again", listed.join("; "))
}
