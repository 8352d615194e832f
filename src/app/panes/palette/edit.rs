//! Adding and changing colours and what exists in them, merging two.

use super::prompts::{Choice, LabFor, Typed};
use crate::app::effect::Effect;
use crate::app::finder;
use crate::app::model::Model;
use crate::app::overlay::{Overlay, PickRow, Purpose, Target};
use crate::app::prompt;
use crate::app::status::Status;
use crate::app::update;
use crate::domain::colour::adapt::White;
use crate::domain::colour::parse;
use crate::domain::colour::space::{Lab, Rgb8};
use crate::domain::edit::{Edit, Row};
use crate::domain::library::change::{self, Field, Value};
use crate::domain::library::merge;
use crate::domain::stock::{Item, ItemId, Kind, State, SwatchId};

/// A field of an item that a person changes here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ItemField {
    /// Its order number; the old one still finds it.
    Number,
    /// Where it stands in the range, with the date.
    State,
    /// Where it is kept.
    Place,
    /// Anything else.
    Note,
    /// Edition of the catalogue.
    Edition,
    /// Page in it.
    Page,
    /// The collection.
    Collection,
    /// The other side, in words.
    Back,
}

impl ItemField {
    /// Of a sheet, a pad, a pen.
    const PLAIN: [Self; 4] = [Self::Number, Self::State, Self::Place, Self::Note];
    /// Of a patterned paper.
    const PATTERNED: [Self; 8] = [
        Self::Number,
        Self::Edition,
        Self::Page,
        Self::Collection,
        Self::Back,
        Self::State,
        Self::Place,
        Self::Note,
    ];

    const fn word(self) -> &'static str {
        match self {
            Self::Number => "order number",
            Self::State => "state (current, leaving DATE, gone, arriving DATE)",
            Self::Place => "where kept",
            Self::Note => "note",
            Self::Edition => "edition of the catalogue",
            Self::Page => "page in the catalogue",
            Self::Collection => "collection",
            Self::Back => "other side, in words",
        }
    }

    fn text(self, item: &Item) -> String {
        match self {
            Self::Number => item.order_number.clone(),
            Self::State => item.state.to_string(),
            Self::Place => item.place.clone(),
            Self::Note => item.note.clone(),
            Self::Edition => item.edition.clone(),
            Self::Page => item.page.clone(),
            Self::Collection => item.collection.clone(),
            Self::Back => item.back.clone(),
        }
    }
}

/// Offers the fields of the picked colour, and of every item in it; those of the paper in view come first.
pub fn open_fields(model: &mut Model) {
    let Some(id) = model.palette.picked() else { return };
    let Some(swatch) = model.book.swatches().get(id) else { return };
    let row = |label: String, detail: String, choice| PickRow {
        label,
        detail,
        target: Target::Palette(choice),
        is_live: true,
    };
    let item_rows = |id: ItemId, item: &Item, fields: &[ItemField]| -> Vec<PickRow> {
        let name = |f: ItemField| f.word().split(" (").next().unwrap_or_default();
        let each = fields
            .iter()
            .map(|f| row(format!("{}: {}", item.name, name(*f)), f.text(item), Choice::ItemField(id, *f)));
        each.collect()
    };
    let paper = model.palette.paper.and_then(|p| Some((p, model.book.items().get(p)?)));
    let mut rows = paper.map(|(p, item)| item_rows(p, item, &ItemField::PATTERNED)).unwrap_or_default();
    let own = Field::ALL.into_iter().map(|f| row(f.word().to_owned(), f.text(swatch), Choice::Field(id, f)));
    rows.extend(own);
    let items =
        model.book.items().iter().filter(|(_, i)| i.swatch == Some(id) && i.kind != Kind::PatternedPaper);
    for (item_id, item) in items {
        rows.extend(item_rows(item_id, item, &ItemField::PLAIN));
        if matches!(item.kind, Kind::InkPad | Kind::Refill) {
            let now = if item.opaque { "opaque: hides the paper" } else { "transparent" };
            rows.push(row(format!("{}: opacity", item.name), now.to_owned(), Choice::Opacity(item_id)));
        }
    }
    rows.push(row(
        "another thing in this colour".to_owned(),
        "pad, refill, marker, sheet ...".to_owned(),
        Choice::NewItem(id),
    ));
    model.overlays.push(Overlay::Picker(finder::picker("Change what", rows)));
}

/// Opens the prompt for a field of a colour.
pub fn ask_field(model: &mut Model, id: SwatchId, field: Field) {
    let Some(text) = model.book.swatches().get(id).map(|s| field.text(s)) else { return };
    let label = format!("{} of {}:", field.word(), model.book.swatches().name_of(id));
    prompt::open(model, Purpose::Palette(Typed::Field(id, field)), &label, &text);
}

/// Opens the prompt for a field of an item.
pub fn ask_item_field(model: &mut Model, id: ItemId, field: ItemField) {
    let Some(text) = model.book.items().get(id).map(|i| field.text(i)) else { return };
    let label = format!("{}, {}:", model.book.items().name_of(id), field.word());
    prompt::open(model, Purpose::Palette(Typed::ItemField(id, field)), &label, &text);
}

/// A colour value as the library keeps it: a Lab value counts as measured.
///
/// # Errors
/// The sentence that refuses it.
pub fn value(text: &str) -> Result<Value, String> {
    let typed = parse::colour(text).map_err(|e| e.to_string())?;
    Ok(if parse::is_lab(text) { Value::Measured(typed.lab) } else { Value::Screen(typed.hex) })
}

/// `name, colour`: at the first comma.
///
/// # Errors
/// The sentence that refuses it.
pub fn name_and_value(text: &str) -> Result<(String, Value), String> {
    let (name, colour) = text.split_once(',').ok_or(
        "write the name, a comma and the colour, like: wet sand, #d8c3a0 or wet sand, lab(79 3 20 d50)",
    )?;
    if name.trim().is_empty() {
        return Err("a swatch needs a name before the comma".to_owned());
    }
    Ok((name.trim().to_owned(), value(colour.trim())?))
}

/// How a value is read back.
pub fn value_words(value: Value) -> String {
    let lab = |l: Lab| format!("Lab {:.1} {:.1} {:.1}", l.l, l.a, l.b);
    match value {
        Value::Screen(hex) => format!("{hex}, {}, from screen", lab(hex.lab())),
        Value::Measured(l) => format!("{}, measured, D65", lab(l)),
    }
}

/// Adds a colour.
///
/// # Errors
/// The sentence that refuses it.
pub fn add(model: &mut Model, name: &str, value: Value) -> Result<Vec<Effect>, String> {
    let swatch = change::new_swatch(name, "", value);
    let id = model.book.swatches().next();
    let effects = update::make(model, change::add(&model.book, swatch))?;
    model.palette.show(id, &model.book);
    super::photo::match_again(model);
    Ok(effects)
}

/// Takes the text of a new colour, or asks for the white of its Lab first.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept_new(model: &mut Model, text: &str) -> Result<Vec<Effect>, String> {
    let (name, value) = name_and_value(text)?;
    let colour = text.split_once(',').map_or("", |(_, c)| c.trim());
    if parse::lacks_white(colour) {
        ask_white(model, colour, &LabFor::New(name));
        return Ok(Vec::new());
    }
    add(model, &name, value)
}

/// Takes the text of a field of a colour.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept_field(
    model: &mut Model,
    id: SwatchId,
    field: Field,
    text: &str,
) -> Result<Vec<Effect>, String> {
    let was = model.book.swatches().get(id).cloned().ok_or("the colour is no longer in the library")?;
    let text = text.trim();
    let now = match field {
        Field::Name => change::renamed(&was, text),
        Field::Family => crate::domain::stock::Swatch { family: text.to_owned(), ..was.clone() },
        Field::Note => crate::domain::stock::Swatch { note: text.to_owned(), ..was.clone() },
        Field::Colour if parse::lacks_white(text) => {
            value(text)?;
            ask_white(model, text, &LabFor::Field(id));
            return Ok(Vec::new());
        }
        Field::Colour => {
            let value = value(text)?;
            if was.measured && matches!(value, Value::Screen(_)) {
                model.palette.wants_trios = true;
            }
            change::with_value(&was, value)
        }
    };
    let kept_measured = was.measured && now.lab == was.lab && now.hex != was.hex;
    let Some(edit) = change::alter(id, &was, now) else { return Ok(Vec::new()) };
    let effects = update::make(model, edit)?;
    if kept_measured {
        model.tell(Status::done("The screen value is changed; the measured Lab stays as measured."));
    }
    Ok(effects)
}

/// Asks under which white a Lab value was measured.
fn ask_white(model: &mut Model, text: &str, then: &LabFor) {
    let rows = White::ALL
        .into_iter()
        .map(|white| PickRow {
            label: white.name().to_owned(),
            detail: match white {
                White::D65 => "daylight of screens; kept as it is",
                White::D50 => "most measuring instruments; brought to D65 (Bradford)",
            }
            .to_owned(),
            target: Target::Palette(Choice::White(text.to_owned(), then.clone(), white)),
            is_live: true,
        })
        .collect();
    model.overlays.push(Overlay::Picker(finder::picker("The white of this Lab value", rows)));
}

/// Goes on once the white is said.
///
/// # Errors
/// The sentence that refuses it.
pub fn with_white(model: &mut Model, text: &str, then: &LabFor, white: White) -> Result<Vec<Effect>, String> {
    let text = parse::with_white(text, white);
    match then {
        LabFor::New(name) => add(model, name, value(&text)?),
        LabFor::Field(id) => accept_field(model, *id, Field::Colour, &text),
    }
}

/// Reads an item with one field changed; `Ok(None)` where it stays as it is.
///
/// # Errors
/// The sentence that refuses it.
pub fn item_with(item: &Item, field: ItemField, text: &str) -> Result<Option<Item>, String> {
    let text = text.trim().to_owned();
    let mut now = item.clone();
    match field {
        ItemField::Number => {
            if !item.order_number.is_empty() && text != item.order_number {
                now.former_numbers.push(item.order_number.clone());
            }
            now.former_numbers.retain(|n| *n != text);
            now.order_number = text;
        }
        ItemField::State => {
            now.state = State::from_words(&text).ok_or_else(|| {
                format!(
                    "\"{text}\" is no state: write current, gone, leaving 2027-03-31 or arriving 2027-04-01"
                )
            })?;
        }
        ItemField::Place => now.place = text,
        ItemField::Note => now.note = text,
        ItemField::Edition => now.edition = text,
        ItemField::Page => now.page = text,
        ItemField::Collection => now.collection = text,
        ItemField::Back => now.back = text,
    }
    Ok((now != *item).then_some(now))
}

/// Takes the text of a field of an item.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept_item_field(
    model: &mut Model,
    id: ItemId,
    field: ItemField,
    text: &str,
) -> Result<Vec<Effect>, String> {
    let was = model.book.items().get(id).cloned().ok_or("the line is no longer on the shelf")?;
    match item_with(&was, field, text)? {
        Some(now) => update::make(model, Edit::Item(Row::alter(id, was, now))),
        None => Ok(Vec::new()),
    }
}

/// Turns an ink from transparent to opaque, or back.
///
/// # Errors
/// The sentence that refuses it.
pub fn toggle_opacity(model: &mut Model, id: ItemId) -> Result<Vec<Effect>, String> {
    let was = model.book.items().get(id).cloned().ok_or("the line is no longer on the shelf")?;
    let now = Item { opaque: !was.opaque, ..was.clone() };
    let word = if now.opaque { "opaque" } else { "transparent" };
    let label = format!("noted {} as {word}", was.name);
    update::make(model, Edit::batch(label, vec![Edit::Item(Row::alter(id, was, now))]))
}

/// `kind, name, order number`: another thing in a colour.
///
/// # Errors
/// The sentence that refuses it.
pub fn new_item(swatch: SwatchId, text: &str) -> Result<Item, String> {
    let parts: Vec<&str> = text.split(',').map(str::trim).collect();
    let (kind, name, number) = match parts[..] {
        [kind, name] => (kind, name, ""),
        [kind, name, number] => (kind, name, number),
        _ => return Err("write kind, name and order number, like: ink pad, fern pad, W-12".to_owned()),
    };
    let words = || Kind::ALL.map(Kind::word).join(", ");
    let kind = Kind::from_word(kind)
        .ok_or_else(|| format!("\"{kind}\" is no kind: {} (a marker is other)", words()))?;
    if name.is_empty() {
        return Err("the thing needs a name after the kind".to_owned());
    }
    Ok(Item { swatch: Some(swatch), order_number: number.to_owned(), ..Item::new(name, kind) })
}

/// Offers the colours that the picked one can be merged with, nearest first.
pub fn open_merge(model: &mut Model) {
    let Some(kept) = model.palette.picked() else { return };
    let Some(lab) = model.palette.colour(kept).map(|s| s.lab) else { return };
    let near = model.palette.nearest(lab, usize::MAX);
    let rows: Vec<PickRow> = near
        .into_iter()
        .filter(|(id, _)| *id != kept)
        .map(|(id, d)| PickRow {
            label: model.palette.name(id).to_owned(),
            detail: format!("dE00 {d:.1}; its name stays as an alias of {}", model.palette.name(kept)),
            target: Target::Palette(Choice::Merge(kept, id)),
            is_live: true,
        })
        .collect();
    model.overlays.push(Overlay::Picker(finder::picker("Which colour is the same and goes", rows)));
}

/// Merges two colours.
///
/// # Errors
/// The sentence that refuses it.
pub fn merge_in(model: &mut Model, kept: SwatchId, gone: SwatchId) -> Result<Vec<Effect>, String> {
    let edit = merge::merge(&model.book, kept, gone)?;
    if model.palette.pinned == Some(gone) {
        model.palette.pinned = None;
    }
    update::make(model, edit)
}

/// Removes the picked colour; refused while anything has it.
pub fn remove(model: &mut Model) -> Vec<Effect> {
    let Some(id) = model.palette.picked() else { return Vec::new() };
    update::make(model, Edit::Swatch(Row::Remove(id))).unwrap_or_else(|why| {
        model.tell(Status::refused(why));
        Vec::new()
    })
}

/// A colour from its screen value, for a name typed afterwards.
pub fn screen_value([r, g, b]: [u8; 3]) -> Value {
    Value::Screen(Rgb8::new(r, g, b))
}
