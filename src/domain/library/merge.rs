//! Two swatches that are the same colour become one: everything that named the one names the other, its name and its
//! former names stay as aliases, and one step back takes all of it apart again.

use super::change;
use crate::domain::book::Book;
use crate::domain::edit::{Edit, Row};
use crate::domain::project::ProjectCard;
use crate::domain::stock::{Item, KeptTrio, NamedColour, SwatchId};

/// The edit that merges `gone` into `kept`.
///
/// A measured value wins over one from a screen, whichever of both had it; the words of `kept` stay.
///
/// # Errors
/// A sentence: the two are one, or one of them is not there.
pub fn merge(book: &Book, kept: SwatchId, gone: SwatchId) -> Result<Edit, String> {
    if kept == gone {
        return Err("a color cannot be merged with itself: choose another one".to_owned());
    }
    let (Some(stays), Some(goes)) = (book.swatches().get(kept), book.swatches().get(gone)) else {
        return Err("one of the two colors is no longer in the library".to_owned());
    };
    let mut edits = Vec::new();
    edits.extend(change::alter(kept, stays, joined(stays, goes)));
    for (id, item) in book.items().iter().filter(|(_, i)| i.shows(gone)) {
        edits.push(Edit::Item(Row::alter(id, item.clone(), exchanged(item, gone, kept))));
    }
    for (id, trio) in book.trios().iter().filter(|(_, t)| t.swatches.contains(&gone)) {
        edits.push(Edit::Trio(match exchanged_trio(trio, gone, kept) {
            Some(now) => Row::alter(id, trio.clone(), now),
            // Both colours were in it: with one of them twice it would be no trio.
            None => Row::Remove(id),
        }));
    }
    for (id, project) in book.projects().iter().filter(|(_, p)| p.swatches().any(|s| s == gone)) {
        let mut now = project.clone();
        now.cards.iter_mut().for_each(|c| recolour(c, gone, kept));
        edits.push(Edit::Project(Row::alter(id, project.clone(), now)));
    }
    if let Some(loose) = book.loose_card().filter(|c| c.swatches().any(|s| s == gone)) {
        let mut now = loose.clone();
        recolour(&mut now, gone, kept);
        edits.push(Edit::LooseCard { was: Some(Box::new(loose.clone())), now: Some(Box::new(now)) });
    }
    edits.extend(forgotten(book, gone, kept));
    edits.push(Edit::Swatch(Row::Remove(gone)));
    Ok(Edit::batch(format!("merged {} into {}", goes.name, stays.name), edits))
}

/// Cards that were forgotten stay so under the colour that they have now.
fn forgotten(book: &Book, gone: SwatchId, kept: SwatchId) -> Option<Edit> {
    let was = book.settings();
    let mut now = was.clone();
    for card in now.forgotten.cards.iter_mut().filter(|card| card.contains(&gone)) {
        card.iter_mut().filter(|s| **s == gone).for_each(|s| *s = kept);
        card.sort_unstable();
        card.dedup();
    }
    now.forgotten.cards.sort_unstable();
    now.forgotten.cards.dedup();
    (now != *was).then(|| Edit::Settings { was: Box::new(was.clone()), now: Box::new(now) })
}

fn recolour(card: &mut ProjectCard, gone: SwatchId, kept: SwatchId) {
    card.swatches_mut().filter(|s| **s == gone).for_each(|s| *s = kept);
}

fn joined(stays: &NamedColour, goes: &NamedColour) -> NamedColour {
    let mut now = stays.clone();
    if goes.measured && !stays.measured {
        (now.lab, now.hex, now.measured) = (goes.lab, goes.hex, true);
    }
    for name in std::iter::once(&goes.name).chain(&goes.former_names) {
        if *name != now.name && !now.former_names.contains(name) {
            now.former_names.push(name.clone());
        }
    }
    let notes: Vec<&str> =
        [stays.note.as_str(), goes.note.as_str()].into_iter().filter(|n| !n.is_empty()).collect();
    now.note = notes.join("; ");
    now
}

fn exchanged(item: &Item, gone: SwatchId, kept: SwatchId) -> Item {
    let mut now = item.clone();
    now.swatches_mut().filter(|s| **s == gone).for_each(|s| *s = kept);
    let lead = now.swatch;
    now.colours = once_each(&now.colours);
    now.colours.retain(|s| Some(*s) != lead);
    now.back_colours = once_each(&now.back_colours);
    now
}

fn once_each(all: &[SwatchId]) -> Vec<SwatchId> {
    let mut out = Vec::new();
    for id in all {
        if !out.contains(id) {
            out.push(*id);
        }
    }
    out
}

fn exchanged_trio(trio: &KeptTrio, gone: SwatchId, kept: SwatchId) -> Option<KeptTrio> {
    let swatches = trio.swatches.map(|s| if s == gone { kept } else { s });
    let twice = swatches.iter().filter(|s| **s == kept).count() > 1;
    (!twice).then(|| KeptTrio { swatches, ..trio.clone() })
}
