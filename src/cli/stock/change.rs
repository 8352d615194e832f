//! Use, receive, adjust: one line in the log, made from the book as it is under the lock, safe before the answer.

use super::ask::{Count, Form};
use super::rows;
use crate::cli::{BadInput, Desk, today};
use crate::domain::book::{Book, folded};
use crate::domain::edit::Edit;
use crate::domain::harmless::harmless;
use crate::domain::money::Money;
use crate::domain::plural::count_of;
use crate::domain::stock::lot::{self, mixed_lots};
use crate::domain::stock::shelf::{Come, receive_assortment};
use crate::domain::stock::shortage::taken_from_others;
use crate::domain::stock::{Assortment, AssortmentId, ItemId, NewLine};
use crate::persist::{ChangeError, Store};

pub(super) fn used(desk: &mut Desk<'_>, store: &mut Store, ask: &Count, form: Form) -> anyhow::Result<()> {
    let n = positive(&ask.count)?;
    let book = store.book();
    let item = book.find_item(&ask.name).ok();
    let mixed = item.and_then(|item| mixed_lots(book, item, u64::from(n)));
    let of = book.find_project(ask.job.as_str());
    let from = item.and_then(|item| taken_from_others(book, of, item, u64::from(n)));
    log(desk, store, &ask.name, form, |_, item| Ok(NewLine::used(item, n, ask.job.as_str())))?;
    for warning in from.map(|w| format!("it {w}")).into_iter().chain(mixed) {
        writeln!(desk.note, "{}", harmless(&warning))?;
    }
    Ok(())
}

/// What came with the sheets of a parcel.
#[derive(Clone, Copy)]
pub(super) struct Parcel<'a> {
    /// What was paid for all of it.
    pub price: Option<&'a str>,
    /// The mark of its lot; empty where it has none.
    pub lot: &'a str,
}

pub(super) fn received(
    desk: &mut Desk<'_>,
    store: &mut Store,
    ask: &Count,
    parcel: &Parcel<'_>,
    form: Form,
) -> anyhow::Result<()> {
    let n = positive(&ask.count)?;
    let Parcel { price, lot } = *parcel;
    if let Some(pack) = pack_named(store.book(), &ask.name) {
        return received_pack(desk, store, (pack, n), parcel, form);
    }
    log(desk, store, &ask.name, form, |book, item| {
        let price = price.map(|p| Money::parse(p, &book.settings().currency)).transpose();
        let price = price.map_err(|e| format!("--price: {e}"))?;
        Ok(NewLine { price, lot: lot.to_owned(), ..NewLine::received(item, n, ask.job.as_str()) })
    })
}

/// A pack of several items by its name or order number, where no item is called so.
fn pack_named(book: &Book, name: &str) -> Option<AssortmentId> {
    if book.find_item(name).is_ok() {
        return None;
    }
    let wanted = folded(name);
    let same = |a: &Assortment| [&a.name, &a.order_number].into_iter().any(|t| folded(t) == wanted);
    book.assortments().iter().find(|(_, a)| same(a)).map(|(id, _)| id)
}

/// One receipt that adds to every item of a pack; the price of all is shared out.
fn received_pack(
    desk: &mut Desk<'_>,
    store: &mut Store,
    (id, packs): (AssortmentId, u32),
    parcel: &Parcel<'_>,
    form: Form,
) -> anyhow::Result<()> {
    let label = carry_out(desk, store, false, |book| {
        let price = parcel.price.map(|p| Money::parse(p, &book.settings().currency)).transpose();
        let price = price.map_err(|e| format!("--price: {e}"))?;
        let come = Come { price, on: None, lot: parcel.lot.to_owned() };
        receive_assortment(book, id, packs, &come).ok_or_else(|| "this pack is gone".to_owned())
    })?;
    let book = store.book();
    let items = book.assortments().get(id).map(|a| a.contents.clone()).unwrap_or_default();
    if form == Form::Json {
        let held: Vec<_> = items
            .iter()
            .map(
                |(i, _)| serde_json::json!({ "name": book.items().name_of(*i), "on_hand": book.on_hand(*i) }),
            )
            .collect();
        return desk.json(&serde_json::json!({ "pack": label, "items": held }));
    }
    writeln!(desk.out, "{}: more of {}", harmless(&label), count_of(items.len() as u64, "item"))?;
    Ok(())
}

pub(super) fn adjusted(
    desk: &mut Desk<'_>,
    store: &mut Store,
    name: &str,
    (count, job): (&str, &str),
    form: Form,
) -> anyhow::Result<()> {
    let bad = || {
        BadInput(format!(
            "\"{}\" is not a count: give the count on the shelf (12) or a difference with its sign (+2, -3)",
            harmless(count)
        ))
    };
    let n: i64 = count.trim().parse().map_err(|_| bad())?;
    let is_difference = count.trim().starts_with(['+', '-']);
    log(desk, store, name, form, |book, item| {
        let held = i64::try_from(book.on_hand(item)).unwrap_or(i64::MAX);
        let difference = if is_difference { n } else { n.saturating_sub(held) };
        if difference == 0 {
            return Err(format!(
                "{} has {held} on hand already: nothing to adjust",
                harmless(&book.items().name_of(item))
            ));
        }
        Ok(NewLine::adjusted(item, difference, job))
    })
}

fn positive(count: &str) -> anyhow::Result<u32> {
    let n = count.trim().parse().ok().filter(|n| *n > 0);
    let sentence = || format!("\"{}\" is not a count: give a whole number of 1 or more", harmless(count));
    n.ok_or_else(|| BadInput(sentence()).into())
}

/// Logs a line and says what came of it.
fn log(
    desk: &mut Desk<'_>,
    store: &mut Store,
    name: &str,
    form: Form,
    line: impl FnOnce(&Book, ItemId) -> Result<NewLine, String>,
) -> anyhow::Result<()> {
    let mut about = None;
    let saved = store.change(today()?, |book| {
        let item = book.find_item(name).map_err(|e| e.to_string())?;
        about = Some(item);
        line(book, item).map(Edit::Log)
    });
    let notes = store.take_notes();
    let saved = saved.map_err(refusal)?;
    for note in notes {
        writeln!(desk.note, "{note}")?;
    }
    let book = store.book();
    let held = about.map_or(0, |item| book.on_hand(item));
    let draws = lot::draws_of(book, book.log().last().into_iter());
    let draw = book.log().last().and_then(|line| draws.get(&line.seq));
    if form == Form::Json
        && let Some(line) = book.log().last()
    {
        let mut answer = serde_json::to_value(rows::line(book, line, draw))?;
        if let Some(fields) = answer.as_object_mut() {
            fields.insert("on_hand".to_owned(), held.into());
        }
        return desk.json(&answer);
    }
    let cost = draw.map_or(String::new(), |d| d.cost_words(&book.settings().currency));
    let cost = if cost.is_empty() { cost } else { format!(", cost {cost}") };
    writeln!(desk.out, "{}{cost}: {held} on hand", harmless(&saved.label))?;
    Ok(())
}

/// Carries an edit out under the lock, or on a copy where only to show it; what `make` refuses is the person's to mend.
pub(in crate::cli) fn carry_out(
    desk: &mut Desk<'_>,
    store: &mut Store,
    dry_run: bool,
    make: impl FnOnce(&Book) -> Result<Edit, String>,
) -> anyhow::Result<String> {
    if dry_run {
        let mut then = store.book().clone();
        let edit = make(&then).map_err(BadInput)?;
        return then
            .apply(&edit, today()?)
            .map(|a| a.label)
            .map_err(|e| BadInput::from_error(harmless(&e.to_string())));
    }
    let saved = store.change(today()?, make);
    let notes = store.take_notes();
    let saved = saved.map_err(refusal)?;
    for note in notes {
        writeln!(desk.note, "{note}")?;
    }
    Ok(saved.label)
}

/// What the person can mend ends with 2; what the disk refused is a failure.
pub(super) fn refusal(error: ChangeError<String>) -> anyhow::Error {
    match error {
        ChangeError::Make(sentence) => BadInput(sentence).into(),
        ChangeError::Refused(error) => BadInput::from_error(harmless(&error.to_string())),
        ChangeError::Store(error) => error.into(),
    }
}
