//! An offcut for the bin as a form: its paper, size, how many, grain, where it lies.

use super::typed::count;
use crate::app::panes::form::{FieldTakes, FormRow, FormTable, Offer, OneLine, Sight};
use crate::app::panes::papers;
use crate::app::reading::size_words;
use crate::app::reply::{Replies, Reply};
use crate::app::state::forms::FormFor;
use crate::domain::edit::{Edit, Row as BookRow};
use crate::domain::plural::count_of;
use crate::domain::reckon;
use crate::domain::size::{Grain, Size};
use crate::domain::stock::{Item, ItemId, NewLine, Offcut};

const PAPER: usize = 0;
const SIZE: usize = 1;
const COUNT: usize = 2;
const GRAIN: usize = 3;
const PLACE: usize = 4;

/// The form.
pub static TABLE: FormTable = FormTable {
    title: |_| "Keep an offcut".to_owned(),
    rows: &ROWS,
    start: |s| if matches!(s.what, FormFor::Offcut(Some(_))) { SIZE } else { PAPER },
    one_line,
    take,
    again: |s| Some(FormFor::Offcut(paper(s))),
};

static ROWS: [FormRow; 5] = [
    FormRow::new("paper", "what it was cut from: some letters of its name find it", read_paper)
        .fits(usual_paper)
        .offers(FieldTakes::Choice, |s| papers::all(s.ctx).into_iter().map(|(offer, _)| offer).collect()),
    FormRow::new("size", "width x height", |s, t| {
        if t.is_empty() {
            return Err("write its size, such as 4 x 11".to_owned());
        }
        fits_paper(s, reckon::size(t, s.ctx.unit)?)?;
        size_words(t, s.ctx.unit)
    }),
    FormRow::new("how many", "of this size", |_, t| {
        count(if t.is_empty() { "1" } else { t }, 1).map(|n| count_of(u64::from(n), "offcut"))
    })
    .fits(|_| "1".to_owned()),
    FormRow::new("grain", "along its long side, along its short side, or not known", |_, t| {
        Ok(match Grain::from_word(t) {
            Some(Grain::Unknown) | None => "not known".to_owned(),
            Some(grain) => format!("along the {} side", grain.word()),
        })
    })
    .fits(|_| Grain::Unknown.word().to_owned())
    .offers(FieldTakes::Choice, |_| {
        [Grain::Unknown, Grain::Long, Grain::Short].map(|g| Offer::new(g.word(), "")).into()
    }),
    FormRow::new("place", "where it lies: bin 2", |_, t| {
        Ok(if t.is_empty() { "not said" } else { "" }.to_owned())
    })
    .fits(|s| s.ctx.book.offcuts().iter().last().map_or_else(String::new, |(_, o)| o.place.clone())),
];

fn usual_paper(s: &Sight) -> String {
    let FormFor::Offcut(Some(of)) = s.what else { return String::new() };
    papers::all(s.ctx).into_iter().find(|(_, id)| id == of).map_or_else(String::new, |(offer, _)| offer.name)
}

fn paper(s: &Sight) -> Option<ItemId> {
    papers::all(s.ctx).into_iter().find(|(offer, _)| offer.name.trim() == s.text(PAPER)).map(|(_, id)| id)
}

fn read_paper(s: &Sight, text: &str) -> Result<String, String> {
    if text.is_empty() {
        return Err("choose the paper that it was cut from: type some letters of its name".to_owned());
    }
    let item = paper(s).and_then(|id| s.ctx.book.items().get(id)).ok_or("this paper is gone")?;
    Ok(item
        .cutting_size()
        .map_or_else(String::new, |size| format!("{}, {}", item.name, size.as_made(s.ctx.unit))))
}

fn fits_paper(s: &Sight, size: Size) -> Result<(), String> {
    let item = paper(s).and_then(|id| s.ctx.book.items().get(id));
    match item.and_then(Item::cutting_size) {
        Some(sheet) if !size.fits_in_either_way(sheet, true) => Err(format!(
            "an offcut of {} is no larger than its sheet, {}",
            item.map_or("", |i| &i.name),
            sheet.as_made(s.ctx.unit)
        )),
        _ => Ok(()),
    }
}

/// `4x11, 3, long`: a size, and where it is to be said a count and which way the grain runs.
fn one_line(s: &Sight, at: usize, text: &str) -> OneLine {
    if at != SIZE || !text.contains(',') {
        return None;
    }
    let mut parts = text.split(',').map(str::trim);
    let mut texts = ["", "", "1", Grain::Unknown.word(), ""].map(str::to_owned);
    s.text(PAPER).clone_into(&mut texts[PAPER]);
    parts.next().unwrap_or_default().clone_into(&mut texts[SIZE]);
    for part in parts.filter(|p| !p.is_empty()) {
        let grain = Grain::from_word(part.trim_start_matches("grain "));
        let is_count = part.starts_with(|c: char| c.is_ascii_digit() || c == '-');
        let (row, text) = match grain {
            Some(grain) => (GRAIN, grain.word()),
            None if is_count => (COUNT, part),
            None => (PLACE, part),
        };
        text.clone_into(&mut texts[row]);
    }
    Some(Ok(texts.into()))
}

fn take(s: &Sight) -> Replies {
    let book = s.ctx.book;
    let item = paper(s).ok_or("choose the paper that it was cut from")?;
    let size = reckon::size(s.text(SIZE), s.ctx.unit)?;
    let n = count(if s.text(COUNT).is_empty() { "1" } else { s.text(COUNT) }, 1)?;
    let (grain, place) = (Grain::from_word(s.text(GRAIN)).unwrap_or(Grain::Unknown), s.text(PLACE));
    let same = |o: &Offcut| {
        o.item == item && o.size == size && o.grain == grain && (place.is_empty() || o.place == place)
    };
    let known = book.offcuts().iter().find(|(_, o)| same(o)).map(|(id, _)| id);
    let id = known.unwrap_or_else(|| book.offcuts().next());
    let mut edits = Vec::new();
    if known.is_none() {
        let offcut = Offcut {
            item,
            size,
            grain,
            job: String::new(),
            since: Some(s.ctx.today),
            place: place.to_owned(),
            note: String::new(),
        };
        edits.push(Edit::Offcut(BookRow::add(id, offcut)));
    }
    edits.push(Edit::Log(NewLine::offcut_made(item, id, n, "")));
    let label = format!("kept {} of {}", count_of(u64::from(n), "offcut"), book.items().name_of(item));
    Ok(vec![Reply::Edit(Edit::batch(label, edits))])
}
