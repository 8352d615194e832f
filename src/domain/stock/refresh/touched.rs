//! What a new year's list touches, before and after: the charts of colours that can be had, cards, kept trios and classes.
//! It tells, it exchanges nothing (`exchange` does, where the person asks for it).

use super::{Refresh, replacement};
use crate::domain::book::Book;
use crate::domain::cutlist::{self, ListPart};
use crate::domain::plural::count_of;
use crate::domain::project::{Progress, Project};
use crate::domain::stock::exchange::in_place_of;
use crate::domain::stock::instead::{Close, Instead};
use crate::domain::stock::summary::standing;
use crate::domain::stock::{ItemId, Kind, ProjectId, State, SwatchId};
use jiff::civil::Date;
use std::collections::BTreeSet;

/// What is touched.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum TouchedWhat {
    /// The colours of a kind that can be had.
    Chart,
    /// A card of an open project.
    Card,
    /// A kept trio.
    Trio,
    /// A class or a batch with what it needs.
    Class,
}

impl TouchedWhat {
    /// As it is said and answered.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Chart => "chart",
            Self::Card => "card",
            Self::Trio => "trio",
            Self::Class => "class",
        }
    }
}

/// Something that the list touches, as it was and as it would be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Touched {
    /// What.
    pub what: TouchedWhat,
    /// Its name.
    pub name: String,
    /// As it is.
    pub before: String,
    /// As it would be.
    pub after: String,
}

/// All that a list touches: charts, then cards, trios and classes. `then` is the book as it would be.
pub fn touched(book: &Book, then: &Book, plan: &Refresh, today: Date) -> Vec<Touched> {
    let mut all: Vec<Touched> = plan.kinds.iter().filter_map(|kind| chart(book, then, *kind)).collect();
    let open = |p: &Project| p.progress == Progress::Open;
    let projects: Vec<(ProjectId, &Project)> = book.projects().iter().filter(|(_, p)| open(p)).collect();
    let leaving: Vec<(ItemId, Option<Instead>)> =
        plan.leaving.iter().map(|id| (*id, replacement(then, *id, today))).collect();
    for (_, project) in &projects {
        all.extend(leaving.iter().flat_map(|(gone, _)| cards(then, project, *gone, today)));
    }
    all.extend(leaving.iter().flat_map(|gone| trios(then, *gone)));
    for (id, project) in &projects {
        all.extend(leaving.iter().filter_map(|(gone, _)| class(then, (*id, project), *gone, today)));
    }
    all
}

/// The colours of a kind that can be had and stay.
fn colours(book: &Book, kind: Kind) -> BTreeSet<SwatchId> {
    let stays = |s: State| matches!(s, State::Current | State::Arriving(_));
    book.items()
        .iter()
        .filter(|(_, i)| i.kind == kind && stays(i.state))
        .filter_map(|(_, i)| i.swatch)
        .collect()
}

fn chart(book: &Book, then: &Book, kind: Kind) -> Option<Touched> {
    let (before, after) = (colours(book, kind), colours(then, kind));
    let known = |id: ItemId| book.items().get(id).is_some();
    let fresh =
        then.items().iter().filter(|(id, i)| i.kind == kind && i.swatch.is_none() && !known(*id)).count();
    if before == after && fresh == 0 {
        return None;
    }
    let names = |all: &mut dyn Iterator<Item = &SwatchId>| -> String {
        all.map(|s| then.swatches().name_of(*s)).collect::<Vec<_>>().join(", ")
    };
    let gone = names(&mut before.difference(&after));
    let without = if gone.is_empty() { String::new() } else { format!(", without {gone}") };
    let new = match fresh {
        0 => String::new(),
        n => format!(", {} without a color yet", count_of(n as u64, "new line")),
    };
    Some(Touched {
        what: TouchedWhat::Chart,
        name: kind.said().to_owned(),
        before: count_of(before.len() as u64, "color"),
        after: format!("{}{without}{new}", count_of(after.len() as u64, "color")),
    })
}

/// What stands for an item afterwards.
fn after(book: &Book, instead: Option<Instead>) -> String {
    instead.map_or_else(|| "no stand-in and nothing near".to_owned(), |i| i.named(book))
}

fn cards(book: &Book, project: &Project, item: ItemId, today: Date) -> Vec<Touched> {
    if !project.items().any(|i| i == item) {
        return Vec::new();
    }
    let list = cutlist::of_project(book, project);
    let instead = in_place_of(book, project, item, today);
    let mut all = Vec::new();
    for (at, card) in project.cards.iter().enumerate() {
        let of_card = list
            .pieces
            .iter()
            .filter(|p| p.paper == Some(item) && matches!(p.part, ListPart::Card(n, _) if n == at));
        let mut parts: Vec<String> = of_card
            .map(|p| p.name.strip_prefix(&format!("{}, ", card.name)).unwrap_or(&p.name).to_owned())
            .collect();
        if card.envelope == Some(item) {
            parts.push("envelope".to_owned());
        }
        if parts.is_empty() {
            continue;
        }
        all.push(Touched {
            what: TouchedWhat::Card,
            name: format!("{} of {}", card.name, project.name),
            before: format!("{} for {}", book.items().name_of(item), parts.join(", ")),
            after: after(book, instead),
        });
    }
    all
}

fn trios(book: &Book, (item, instead): (ItemId, Option<Instead>)) -> Vec<Touched> {
    let Some(swatch) = book.items().get(item).and_then(|i| i.swatch) else { return Vec::new() };
    let kept = book.trios().iter().filter(|(_, t)| !t.dismissed && t.swatches.contains(&swatch));
    let name = |s: SwatchId| book.swatches().name_of(s);
    // A colour stays as long as anything of it does: an ink pad leaves, and the paper is still there.
    let stays = |s: State| matches!(s, State::Current | State::Arriving(_));
    let kept_as =
        book.items().iter().find(|(_, i)| i.swatch == Some(swatch) && stays(i.state)).map(|(id, _)| id);
    let one = |(id, trio): (_, &crate::domain::stock::KeptTrio)| {
        let with = |s: SwatchId| {
            if s == swatch { instead.map_or_else(|| name(s), |i| name(i.swatch)) } else { name(s) }
        };
        let then = match (instead, kept_as) {
            (Some(i), _) if i.close == Close::Same => format!("stays: {}", i.named(book)),
            (_, Some(other)) => format!("stays: {}", book.items().name_of(other)),
            (Some(i), None) => format!("{}; {}", trio.swatches.map(with).join(" + "), i.named(book)),
            (None, None) => format!("{} leaves: no stand-in and nothing near", name(swatch)),
        };
        Touched {
            what: TouchedWhat::Trio,
            name: book.trios().name_of(id),
            before: trio.swatches.map(name).join(" + "),
            after: then,
        }
    };
    kept.map(one).collect()
}

fn class(book: &Book, (id, project): (ProjectId, &Project), item: ItemId, today: Date) -> Option<Touched> {
    project.items().find(|i| *i == item)?;
    let instead = in_place_of(book, project, item, today);
    let own: u64 = crate::domain::stock::booked::items(book, id).get(&item).copied().unwrap_or(0);
    let held = standing(book, item);
    let until = match book.items().get(item)?.state {
        State::Leaving(day) => format!("can be ordered until {day}"),
        _ => "can no longer be ordered".to_owned(),
    };
    let on = project.date.map_or_else(String::new, |d| format!(", {d}"));
    Some(Touched {
        what: TouchedWhat::Class,
        name: format!("{}{on}", project.name),
        before: format!("{}: {own} booked, {} on hand", book.items().name_of(item), held.on_hand),
        after: format!("{until}; then {}", after(book, instead)),
    })
}
