//! The yearly refresh: what leaves, who uses it and what could take its place, what arrives; one step.

use super::ask::Form;
use super::change;
use super::import::{bytes_of, refused};
use crate::cli::{BadInput, Desk, today};
use crate::domain::book::Book;
use crate::domain::edit::Edit;
use crate::domain::harmless::harmless;
use crate::domain::stock::exchange::{Exchange, Exchanges, Outcome};
use crate::domain::stock::import::StockRow;
use crate::domain::stock::refresh::{self, Affected, Refresh, Touched, touched};
use crate::exchange::read::stock;
use crate::exchange::write::stock as csv;
use crate::persist::Store;
use jiff::civil::Date;
use serde::Serialize;
use std::path::Path;

/// What was asked.
pub(super) struct Ask<'a> {
    pub file: &'a Path,
    pub seller: Option<&'a str>,
    pub last: &'a str,
    pub first: &'a str,
    pub dry_run: bool,
    /// Cards take what takes a leaving line's place.
    pub exchange: bool,
}

#[derive(Serialize)]
struct Answer {
    dry_run: bool,
    seller: String,
    leaving: Vec<Leaving>,
    arriving: Vec<String>,
    staying: usize,
    touched: Vec<TouchedRow>,
    exchanged: Vec<ExchangedRow>,
}

#[derive(Serialize)]
struct TouchedRow {
    what: &'static str,
    name: String,
    before: String,
    after: String,
}

impl TouchedRow {
    fn of(t: Touched) -> Self {
        Self { what: t.what.word(), name: t.name, before: t.before, after: t.after }
    }
}

#[derive(Serialize)]
struct ExchangedRow {
    project: String,
    from: String,
    to: Option<String>,
    how: Option<&'static str>,
    delta_e: Option<f64>,
    set_aside: u64,
    #[serde(skip)]
    words: String,
}

impl ExchangedRow {
    fn of(book: &Book, one: &Exchange) -> Self {
        let (by, set_aside) = match one.outcome {
            Outcome::Takes(by) => (Some(by), 0),
            Outcome::SetAside(n) => (None, n),
            Outcome::Nothing => (None, 0),
        };
        Self {
            project: book.projects().name_of(one.project),
            from: book.items().name_of(one.from),
            to: by.map(|by| book.items().name_of(by.item)),
            how: by.map(|by| by.close.words()),
            delta_e: by.map(|by| by.delta_e),
            set_aside,
            words: one.words(book),
        }
    }
}

#[derive(Serialize)]
struct Leaving {
    name: String,
    on_hand: u64,
    booked: u64,
    projects: Vec<String>,
    trios: Vec<String>,
    instead: Option<String>,
    delta_e: Option<f64>,
    instead_item: Option<String>,
    instead_how: Option<&'static str>,
}

pub(super) fn run(desk: &mut Desk<'_>, store: &mut Store, ask: &Ask<'_>, form: Form) -> anyhow::Result<()> {
    let bytes = bytes_of(ask.file)?;
    let (last, first) = (day(ask.last, "--last")?, day(ask.first, "--first")?);
    let unit = desk.unit;
    let read =
        |book: &Book| stock::stock(&bytes, unit, &book.settings().currency).map_err(|bad| refused(&bad));
    let rows = read(store.book()).map_err(BadInput)?;
    let seller = ask.seller.map_or_else(|| refresh::seller_of(store.book(), &rows), str::to_owned);
    let plan_for = |book: &Book, rows: &[StockRow]| -> Result<Refresh, String> {
        let plan = refresh::refresh(book, &seller, rows, last, first);
        if plan.refused.is_empty() { Ok(plan) } else { Err(refused(&plan.refused)) }
    };
    let plan = plan_for(store.book(), &rows).map_err(BadInput)?;
    let day = today()?;
    let step = |book: &Book, plan: &Refresh| {
        if ask.exchange { plan.with_exchanges(book, day) } else { (plan.edit.clone(), Exchanges::default()) }
    };
    let before = store.book().clone();
    let mut then = before.clone();
    let (_, exchanged) = step(&before, &plan);
    if let Some(edit) = &plan.edit {
        then.apply(edit, day).map_err(|e| BadInput::from_error(harmless(&e.to_string())))?;
        change::carry_out(desk, store, ask.dry_run, |book| {
            let (edit, _) = step(book, &plan_for(book, &read(book)?)?);
            Ok(edit.unwrap_or(Edit::Batch { label: "refreshed".into(), edits: Vec::new() }))
        })?;
    }
    let touched_by = touched(&before, &then, &plan, day).into_iter().map(TouchedRow::of).collect();
    let answer = Answer {
        dry_run: ask.dry_run,
        leaving: leaving(&then, &plan, day),
        exchanged: exchanged.rows.iter().map(|one| ExchangedRow::of(&then, one)).collect(),
        touched: touched_by,
        seller: seller.clone(),
        arriving: plan.arriving,
        staying: plan.staying,
    };
    show_answer(desk, answer, form)
}

fn day(text: &str, what: &str) -> Result<Date, BadInput> {
    let bad = || format!("{what}: \"{}\" is not a day: write it as 2027-08-31", harmless(text));
    text.trim().parse().map_err(|_| BadInput(bad()))
}

fn leaving(book: &Book, plan: &Refresh, today: Date) -> Vec<Leaving> {
    let affected = refresh::affected(book, today);
    let rows = plan.leaving.iter().map(|id| {
        let means: Option<&Affected> = affected.iter().find(|a| a.item == *id);
        let instead = refresh::replacement(book, *id, today);
        let projects = means.map(|a| a.projects.iter().map(|p| book.projects().name_of(*p)).collect());
        let trios = means.map(|a| a.trios.iter().map(|t| book.trios().name_of(*t)).collect());
        Leaving {
            name: book.items().name_of(*id),
            on_hand: book.on_hand(*id),
            booked: book.booked(*id),
            projects: projects.unwrap_or_default(),
            trios: trios.unwrap_or_default(),
            instead: instead.map(|i| book.swatches().name_of(i.swatch)),
            delta_e: instead.map(|i| i.delta_e),
            instead_item: instead.map(|i| book.items().name_of(i.item)),
            instead_how: instead.map(|i| i.close.words()),
        }
    });
    rows.collect()
}

fn show_answer(desk: &mut Desk<'_>, answer: Answer, form: Form) -> anyhow::Result<()> {
    match form {
        Form::Json => desk.json(&answer),
        Form::Csv => {
            let header = ["name", "change", "on_hand", "booked", "projects", "instead", "trios"];
            let leaving = answer.leaving.into_iter().map(|l| {
                let counts = [l.on_hand.to_string(), l.booked.to_string()];
                let [held, booked] = counts;
                let projects = l.projects.join("; ");
                let (instead, trios) = (l.instead.unwrap_or_default(), l.trios.join("; "));
                [l.name, "leaving".to_owned(), held, booked, projects, instead, trios]
            });
            let none = String::new;
            let arriving = answer
                .arriving
                .into_iter()
                .map(|n| [n, "arriving".to_owned(), none(), none(), none(), none(), none()]);
            desk.out.write_all(&csv::table(&header, leaving.chain(arriving)))?;
            Ok(())
        }
        Form::Text => {
            for l in &answer.leaving {
                let name = harmless(&l.name);
                writeln!(desk.out, "leaving   {name}: {} on hand, {} booked", l.on_hand, l.booked)?;
                let instead = match (&l.instead_item, l.instead_how) {
                    (Some(item), Some(how)) => format!("in its place {} ({how})", harmless(item)),
                    _ => "nothing that stays is a stand-in or near".to_owned(),
                };
                writeln!(desk.out, "          {instead}")?;
            }
            for name in &answer.arriving {
                writeln!(desk.out, "arriving  {}", harmless(name))?;
            }
            for t in &answer.touched {
                let [name, before, after] = [&t.name, &t.before, &t.after].map(|text| harmless(text));
                writeln!(desk.out, "{:<9} {name}", t.what)?;
                writeln!(desk.out, "          before {before}")?;
                writeln!(desk.out, "          after  {after}")?;
            }
            for e in &answer.exchanged {
                writeln!(desk.out, "{:<9} {}: {}", "exchange", harmless(&e.project), harmless(&e.words))?;
            }
            let done = if answer.dry_run { "would be marked" } else { "marked" };
            writeln!(
                desk.out,
                "{} leaving, {} arriving, {} staying: {done}",
                answer.leaving.len(),
                answer.arriving.len(),
                answer.staying
            )?;
            Ok(())
        }
    }
}
