//! Trios: which are asked for, how the list is put together, keeping them, and putting one on the card in hand.

use super::PalettePane;
use crate::app::effect::{Ask, Effect};
use crate::app::input::list::Cursor;
use crate::app::model::Model;
use crate::app::pane::Pane;
use crate::app::panes::mats;
use crate::app::status::Status;
use crate::app::update;
use crate::domain::book::Book;
use crate::domain::colour::scheme::Scheme;
use crate::domain::colour::swatch::Swatch;
use crate::domain::colour::trios::{Distinct, Trio};
use crate::domain::colour::wheel::Wheel;
use crate::domain::edit::{Edit, Row};
use crate::domain::library::apply;
use crate::domain::library::base::{self, Base, TrioAsk};
use crate::domain::stock::{Item, KeptTrio, SwatchId, TrioId};

/// How many trios are asked for.
const TRIOS: usize = 12;

/// A row of the trio list.
#[derive(Clone, Debug, PartialEq)]
pub struct Listed {
    /// Its colours, the base first.
    pub swatches: [SwatchId; 3],
    /// The kept trio that it is.
    pub kept: Option<TrioId>,
    /// What the model says of it; nothing of a kept trio that is not in the list.
    pub verdict: Option<Verdict>,
}

/// What is said of a trio from the list.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// The scheme.
    pub scheme: Scheme,
    /// The weakest pair and what holds it back.
    pub reason: String,
    /// Who can tell the colours apart.
    pub distinct: Distinct,
    /// It uses up what is leaving.
    pub leaving: bool,
}

/// The places in the question's library that the trios must go with, and how many of them each must hold.
fn bases(model: &Model) -> (Vec<SwatchId>, usize) {
    let pane = &model.palette;
    match pane.base {
        Base::Picked => (pane.picked().into_iter().collect(), 1),
        Base::Paper(id) => (model.book.items().get(id).map(Item::front).unwrap_or_default(), 1),
        Base::Card => {
            let colours = base::card_colours(&model.book, model.mats.card(&model.book));
            let held = colours.len().clamp(1, 2);
            (colours, held)
        }
    }
}

/// The question about trios as the pane stands; nothing where there is nothing to go with.
fn question(model: &Model) -> Option<TrioAsk> {
    let (pane, book) = (&model.palette, &model.book);
    let (ids, swatches): (Vec<SwatchId>, Vec<Swatch>) =
        pane.all.iter().map(|(id, s)| (*id, s.clone())).unzip();
    let (wanted, held) = bases(model);
    let bases: Vec<usize> = wanted.iter().filter_map(|id| ids.iter().position(|i| i == id)).collect();
    if bases.is_empty() {
        return None;
    }
    let each = |holds: fn(&Book, SwatchId) -> bool| ids.iter().map(|id| holds(book, *id)).collect();
    Some(TrioAsk {
        usable: pane.trios_on_hand.then(|| each(base::on_hand)),
        leaving: pane.leaving_first.then(|| each(base::leaving)),
        bases,
        held,
        wheel: pane.wheel,
        // More than are shown, so that one scheme alone still fills the list.
        most: TRIOS * 3,
        swatches,
        ids,
    })
}

/// Asks for trios anew where the pane is in view and its list is out of date.
pub fn follow_up(model: &mut Model) -> Vec<Effect> {
    if !model.palette.wants_trios || model.pane != Pane::Palette || model.bench_open {
        return Vec::new();
    }
    model.palette.wants_trios = false;
    let Some(ask) = question(model) else {
        model.palette.trios_asked = None;
        list(model, &[], &[]);
        return Vec::new();
    };
    let number = model.next_ask();
    model.palette.trios_asked = Some(number);
    vec![Effect::Solve(number, Ask::Trios(Box::new(ask)))]
}

/// Takes the worker's answer to the question of this number.
pub fn solved(model: &mut Model, number: u64, ask: &TrioAsk, trios: &[Trio]) {
    if model.palette.trios_asked == Some(number) {
        model.palette.trios_asked = None;
        list(model, &ask.ids, trios);
        let places: Vec<&Swatch> = ask.swatches.iter().collect();
        give_reasons(&mut model.palette, trios, &ask.ids, &places);
    }
}

/// Kept trios that hold a base, favourites first, then those of the answer.
fn list(model: &mut Model, ids: &[SwatchId], trios: &[Trio]) {
    let (wanted, _) = bases(model);
    let scheme = model.palette.scheme;
    let mut rows: Vec<(bool, Listed)> = Vec::new();
    for (id, kept) in model.book.trios().iter() {
        if kept.swatches.iter().any(|s| wanted.contains(s)) {
            rows.push((kept.favourite, Listed { swatches: kept.swatches, kept: Some(id), verdict: None }));
        }
    }
    rows.sort_by_key(|(favourite, _)| !favourite);
    let mut rows: Vec<Listed> = rows.into_iter().map(|(_, row)| row).collect();
    let kept: Vec<TrioId> = rows.iter().filter_map(|r| r.kept).collect();
    let suggested =
        trios.iter().filter(|t| scheme.is_none_or(|s| s == t.scheme)).map(|t| t.swatches.map(|n| ids[n]));
    let is_kept = |three: &[SwatchId; 3]| {
        kept.iter().any(|id| model.book.trios().get(*id).is_some_and(|k| k.same_colours(*three)))
    };
    let new: Vec<[SwatchId; 3]> = suggested.filter(|three| !is_kept(three)).take(TRIOS).collect();
    rows.extend(new.into_iter().map(|swatches| Listed { swatches, kept: None, verdict: None }));
    let pane = &mut model.palette;
    // The pick stays on its three colours while the same colours are looked at; for others the best comes first.
    let picked = pane.picked_trio().filter(|_| pane.trios_of == wanted).map(|t| sorted(t.swatches));
    pane.trios = rows;
    pane.trios_of = wanted;
    let again = pane.trios.iter().position(|t| Some(sorted(t.swatches)) == picked);
    pane.trio = Cursor::at(again.unwrap_or(0));
}

fn sorted(mut three: [SwatchId; 3]) -> [SwatchId; 3] {
    three.sort_unstable();
    three
}

fn give_reasons(pane: &mut PalettePane, trios: &[Trio], ids: &[SwatchId], swatches: &[&Swatch]) {
    let library: Vec<Swatch> = swatches.iter().map(|s| (*s).clone()).collect();
    for row in &mut pane.trios {
        let wanted = sorted(row.swatches);
        let found = trios.iter().find(|t| sorted(t.swatches.map(|n| ids[n])) == wanted);
        row.verdict = found.map(|t| Verdict {
            scheme: t.scheme,
            reason: t.reason(&library),
            distinct: t.distinct,
            leaving: t.leaving,
        });
    }
}

impl PalettePane {
    /// The trio under its cursor.
    pub fn picked_trio(&self) -> Option<&Listed> {
        self.trios.get(self.trio.row(self.trios.len())?)
    }

    /// What the trios go with, in words.
    pub fn base_words(&self, book: &Book) -> String {
        match self.base {
            Base::Picked => self.picked().map_or_else(String::new, |id| self.name(id).to_owned()),
            Base::Paper(id) => book.items().name_of(id),
            Base::Card => "the card in hand".to_owned(),
        }
    }

    /// From what, and what comes first, in words.
    pub fn trio_words(&self) -> String {
        let from = if self.trios_on_hand { "on hand" } else { "all colours" };
        let first = if self.leaving_first { ", leaving first" } else { "" };
        let scheme = self.scheme.map_or("all schemes", Scheme::name);
        let wheel =
            if self.wheel == Wheel::default() { String::new() } else { format!(", {}", self.wheel.name()) };
        format!("{scheme}, {from}{first}{wheel}")
    }
}

/// Marks the picked trio as a favourite, or takes the mark off; a trio of the list is kept with it.
pub fn toggle_favourite(model: &mut Model) -> Vec<Effect> {
    let Some(row) = model.palette.picked_trio().cloned() else {
        model.tell(Status::refused("no trio is picked: J and K go through them"));
        return Vec::new();
    };
    let edit = match row.kept.and_then(|id| Some((id, model.book.trios().get(id)?.clone()))) {
        // A trio of the list that is no favourite any more and carries no note is not kept either.
        Some((id, was)) if was.favourite && !was.own && was.note.is_empty() => Edit::Trio(Row::Remove(id)),
        Some((id, was)) => {
            let now = KeptTrio { favourite: !was.favourite, ..was.clone() };
            Edit::Trio(Row::alter(id, was, now))
        }
        None => {
            Edit::Trio(Row::add(model.book.trios().next(), new_trio(&model.palette, row.swatches, false)))
        }
    };
    make(model, edit)
}

fn make(model: &mut Model, edit: Edit) -> Vec<Effect> {
    update::make(model, edit).unwrap_or_else(|why| {
        model.tell(Status::refused(why));
        Vec::new()
    })
}

fn new_trio(pane: &PalettePane, swatches: [SwatchId; 3], own: bool) -> KeptTrio {
    let name = swatches.map(|s| pane.name(s).to_owned()).join(", ");
    KeptTrio { name, swatches, favourite: !own, own, note: String::new() }
}

/// Keeps a trio that the person puts together: the picked colour and two more, by name.
///
/// # Errors
/// The sentence that refuses it.
pub fn keep_own(model: &mut Model, text: &str) -> Result<Vec<Effect>, String> {
    let swatches = read_own(model, text)?;
    let trio = new_trio(&model.palette, swatches, true);
    update::make(model, Edit::Trio(Row::add(model.book.trios().next(), trio)))
}

/// The three colours of a trio of one's own.
///
/// # Errors
/// The sentence that refuses it.
pub fn read_own(model: &Model, text: &str) -> Result<[SwatchId; 3], String> {
    let first = model.palette.picked().ok_or("pick a colour first")?;
    let names: Vec<&str> = text.split(',').map(str::trim).filter(|n| !n.is_empty()).collect();
    let [one, two] = names[..] else {
        return Err("two more colours, apart by a comma, like: moss pool, oat husk".to_owned());
    };
    let three = [first, find(model, one)?, find(model, two)?];
    if three[0] == three[1] || three[1] == three[2] || three[0] == three[2] {
        return Err(
            "a trio is three different colours: choose another one for the one named twice".to_owned()
        );
    }
    Ok(three)
}

/// The colour that a person means: its name or a former one, or the beginning of one name alone.
fn find(model: &Model, name: &str) -> Result<SwatchId, String> {
    if let Some(id) = model.book.find_swatch(name) {
        return Ok(id);
    }
    let wanted = name.to_lowercase();
    let starts: Vec<SwatchId> = model
        .palette
        .all
        .iter()
        .filter(|(_, s)| s.name.to_lowercase().starts_with(&wanted))
        .map(|(id, _)| *id)
        .collect();
    match starts[..] {
        [one] => Ok(one),
        [] => Err(format!("no colour \"{name}\" in the library: write its name or the beginning of it")),
        [a, b, ..] => {
            let (a, b) = (model.palette.name(a), model.palette.name(b));
            Err(format!("\"{name}\" may be {a} or {b}: write more of it"))
        }
    }
}

/// Changes the note of a kept trio.
///
/// # Errors
/// The sentence that refuses it.
pub fn set_note(model: &mut Model, id: TrioId, text: &str) -> Result<Vec<Effect>, String> {
    let was = model.book.trios().get(id).cloned().ok_or("the trio is no longer kept")?;
    let now = KeptTrio { note: text.trim().to_owned(), ..was.clone() };
    if now == was {
        return Ok(Vec::new());
    }
    update::make(model, Edit::Trio(Row::alter(id, was, now)))
}

/// Takes the picked trio off the kept ones.
pub fn drop_kept(model: &mut Model) -> Vec<Effect> {
    let Some(id) = model.palette.picked_trio().and_then(|t| t.kept) else {
        model.tell(Status::refused("this trio is not kept: only a kept one can be dropped"));
        return Vec::new();
    };
    make(model, Edit::Trio(Row::Remove(id)))
}

/// Puts the picked trio on the layers of the card in hand.
pub fn apply_to_card(model: &mut Model) -> Vec<Effect> {
    let Some(three) = model.palette.picked_trio().map(|t| t.swatches) else {
        model.tell(Status::refused("no trio is picked: J and K go through them"));
        return Vec::new();
    };
    let card = model.mats.card(&model.book);
    let dressed = apply::dress(&model.book, card, three);
    let mut notes = dressed.notes.join("; ");
    if dressed.layers == 0 {
        let why = if notes.is_empty() { "the card in hand has no layer".to_owned() } else { notes };
        model.tell(Status::refused(format!("Nothing to put on the card: {why}.")));
        return Vec::new();
    }
    let name = card.name.clone();
    let dressed_card = dressed.card;
    match mats::edit::put(model, "gave a trio to the layers", dressed_card) {
        Ok(effects) => {
            if !notes.is_empty() {
                notes = format!(" ({notes})");
            }
            model.tell(Status::done(format!(
                "{} layers of {name} have these colours{notes}.",
                dressed.layers
            )));
            effects
        }
        Err(why) => {
            model.tell(Status::refused(why));
            Vec::new()
        }
    }
}
