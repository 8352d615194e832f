//! `trimside stock class`: which verb is answered where.

use super::ask::{ClassDo, ClassWhat, Form};
use super::class::{self, act};
use super::{class_after, class_edit, class_lists, ways};
use crate::cli::{BadInput, Desk};
use crate::domain::harmless::harmless;
use crate::domain::near::question;
use crate::domain::project::Stage;
use crate::domain::stock::class as stages;
use crate::domain::stock::class::OpenPapers;
use crate::persist::Store;

pub(super) fn run(
    desk: &mut Desk<'_>,
    store: &mut Store,
    what: &ClassWhat,
    form: Form,
) -> anyhow::Result<()> {
    match what {
        ClassWhat::List => class::list(desk, store.book(), form),
        ClassWhat::Show { name, margin } => class::shown(desk, store.book(), (name, margin.as_deref()), form),
        ClassWhat::New(ask) => class_edit::new(desk, store, ask, form),
        ClassWhat::Edit(ask) => class_edit::edit(desk, store, ask, form),
        ClassWhat::Book(ask) => class::book(desk, store, ask, form),
        ClassWhat::Taught { class, came, paid, back, again: _ } => {
            let papers = if *back { OpenPapers::Back } else { OpenPapers::Used };
            let people = (came.as_deref(), paid.as_deref());
            class_after::taught(desk, store, class, (papers, people), form)
        }
        ClassWhat::Sold(ask) => class_after::sold(desk, store, ask, form),
        ClassWhat::Kits { name: Some(name), used: Some(used), what_for, dry_run } => {
            let ask = ClassDo { name: name.clone(), dry_run: *dry_run };
            class_after::use_kits(desk, store, &ask, (used, what_for), form)
        }
        ClassWhat::Kits { .. } => class_lists::kits(desk, store.book(), form),
        ClassWhat::Names { name, add, remove, dry_run } => {
            let ask = ClassDo { name: name.clone(), dry_run: *dry_run };
            class_after::names(desk, store, &ask, (add, remove), form)
        }
        ClassWhat::Calendar { days, from } => {
            class_lists::calendar(desk, store.book(), (*days, from.as_deref()), form)
        }
        ClassWhat::Year { year } => class_lists::year(desk, store.book(), *year, form),
        ClassWhat::Done { name, stage, count, dry_run } => {
            let stage = Stage::from_word(stage).ok_or_else(|| {
                let all = Stage::ALL.map(Stage::word).join(", ");
                BadInput(format!(
                    "\"{}\" is not a stage: {}write one of {all}",
                    harmless(stage),
                    question(stage, Stage::ALL.map(Stage::word))
                ))
            })?;
            let ask = ClassDo { name: name.clone(), dry_run: *dry_run };
            act(desk, store, &ask, form, |book, id| stages::stage_done(book, id, stage, *count))
        }
        ClassWhat::Ways(ask) => ways::run(desk, store, ask, form),
        ClassWhat::Cancel(ask) => act(desk, store, ask, form, stages::cancel),
    }
}
