//! `trimside stock class taught`, `sold`, `kits --used`, `names`: a class on its day and afterwards.

use super::ask::{ClassDo, ClassSold, Form};
use super::class::{act, find};
use crate::cli::{BadInput, Desk, today};
use crate::domain::figures::count;
use crate::domain::harmless::harmless;
use crate::domain::money::Money;
use crate::domain::project::Progress;
use crate::domain::stock::class::OpenPapers;
use crate::domain::stock::held_class::{self, Closing, Ware};
use crate::persist::Store;

/// A count that an option gives.
fn people(option: &str, text: Option<&str>) -> Result<Option<u32>, String> {
    text.map(|text| count(text, 0).map_err(|why| format!("{option}: {why}"))).transpose()
}

/// Closes it; for one that was taught already, says who came.
pub(super) fn taught(
    desk: &mut Desk<'_>,
    store: &mut Store,
    ask: &ClassDo,
    (papers, (came, paid)): (OpenPapers, (Option<&str>, Option<&str>)),
    form: Form,
) -> anyhow::Result<()> {
    let (came, paid) = (people("--came", came).map_err(BadInput)?, people("--paid", paid).map_err(BadInput)?);
    let on = today()?;
    act(desk, store, ask, form, |book, id| {
        let is_done = book.projects().get(id).is_some_and(|p| p.progress == Progress::Done);
        if is_done && (came.is_some() || paid.is_some()) {
            return held_class::came(book, id, came, paid);
        }
        held_class::taught(book, id, &Closing { papers, came, paid, on })
    })
}

pub(super) fn sold(
    desk: &mut Desk<'_>,
    store: &mut Store,
    ask: &ClassSold,
    form: Form,
) -> anyhow::Result<()> {
    let on = today()?;
    let class = ClassDo { name: ask.class.clone(), dry_run: ask.dry_run };
    act(desk, store, &class, form, |book, id| {
        if let Some(line) = ask.drop {
            return held_class::unsold(book, id, line).map_err(|why| format!("--drop: {why}"));
        }
        let of = |text: &Option<String>| text.clone().unwrap_or_default();
        let n = count(&of(&ask.count), 1)?;
        let takings =
            Money::parse(&of(&ask.takings), &book.settings().currency).map_err(|e| e.to_string())?;
        let what = of(&ask.what);
        held_class::sold(book, id, (Ware::read(book, &what, ask.ordered), n), takings, on)
    })
}

pub(super) fn use_kits(
    desk: &mut Desk<'_>,
    store: &mut Store,
    ask: &ClassDo,
    (used, what_for): (&str, &str),
    form: Form,
) -> anyhow::Result<()> {
    let on = today()?;
    act(desk, store, ask, form, |book, id| {
        let n = count(used, 1).map_err(|why| format!("--used: {why}"))?;
        held_class::use_kits(book, id, n, what_for, on)
    })
}

/// Lists the names, or keeps some and lets some go.
pub(super) fn names(
    desk: &mut Desk<'_>,
    store: &mut Store,
    ask: &ClassDo,
    (add, remove): (&[String], &[String]),
    form: Form,
) -> anyhow::Result<()> {
    if !(add.is_empty() && remove.is_empty()) {
        return act(desk, store, ask, form, |book, id| held_class::names(book, id, add, remove));
    }
    let id = find(store.book(), &ask.name).map_err(BadInput)?;
    let kept = store.book().projects().get(id).map(|p| p.attendees.clone()).unwrap_or_default();
    if form == Form::Json {
        return desk
            .json(&serde_json::json!({ "class": store.book().projects().name_of(id), "names": kept }));
    }
    if kept.is_empty() {
        writeln!(desk.note, "no name is kept for it: --add NAME keeps one")?;
    }
    for name in kept {
        writeln!(desk.out, "{}", harmless(&name))?;
    }
    Ok(())
}
