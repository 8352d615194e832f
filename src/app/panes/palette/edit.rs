//! Adding and changing colours and what exists in them, merging two.

use super::words::distance;
use crate::app::ctx::Ctx;
use crate::app::overlay::{PickRow, Purpose, Target};
use crate::app::reply::Replies;
use crate::app::reply::Reply;
use crate::app::state::palette::{ItemField, LabFor, PaletteChoice, PalettePane, PaletteText};
use crate::app::status::Status;
use crate::domain::colour::adapt::LabWhite;
use crate::domain::colour::difference::reading;
use crate::domain::colour::naming;
use crate::domain::colour::parse;
use crate::domain::colour::space::{Lab, Rgb8};
use crate::domain::edit::{Edit, Row};
use crate::domain::library::change::{self, SwatchField, SwatchValue};
use crate::domain::library::on_the_spot::value_of;
use crate::domain::library::{merge, taste};
use crate::domain::stock::{Item, ItemId, Kind, NamedColour, State, SwatchId};

fn row(label: impl Into<String>, detail: impl Into<String>, choice: PaletteChoice) -> PickRow {
    PickRow::new(label, detail, Target::Palette(choice))
}

/// Offers the fields of the picked colour, and of every item in it; those of the paper in view come first.
pub fn open_fields(pane: &PalettePane, ctx: &Ctx) -> Vec<Reply> {
    let Some((id, swatch)) = pane.picked().and_then(|id| Some((id, ctx.book.swatches().get(id)?))) else {
        return Vec::new();
    };
    let item_rows = |id: ItemId, item: &Item, fields: &[ItemField]| -> Vec<PickRow> {
        let name = |f: ItemField| f.word().split(" (").next().unwrap_or_default();
        let label = |f: ItemField| format!("{}: {}", item.name, name(f));
        fields.iter().map(|f| row(label(*f), f.text(item), PaletteChoice::ItemField(id, *f))).collect()
    };
    let paper = pane.paper().and_then(|p| Some((p, ctx.book.items().get(p)?)));
    let mut rows = paper.map(|(p, item)| item_rows(p, item, &ItemField::PATTERNED)).unwrap_or_default();
    rows.extend(
        SwatchField::ALL.into_iter().map(|f| row(f.word(), f.text(swatch), PaletteChoice::Field(id, f))),
    );
    let items =
        ctx.book.items().iter().filter(|(_, i)| i.swatch == Some(id) && i.kind != Kind::PatternedPaper);
    for (item_id, item) in items {
        rows.extend(item_rows(item_id, item, &ItemField::PLAIN));
        if matches!(item.kind, Kind::InkPad | Kind::Refill) {
            let now = if item.opaque { "opaque: hides the paper" } else { "transparent" };
            rows.push(row(format!("{}: opacity", item.name), now, PaletteChoice::Opacity(item_id)));
        }
    }
    let another = PaletteChoice::NewItem(id);
    rows.push(row("another thing in this color", "pad, refill, marker, sheet ...", another));
    vec![Reply::pick("Change what", rows)]
}

/// Asks for a field of a colour.
pub fn ask_field(ctx: &Ctx, id: SwatchId, field: SwatchField) -> Option<Reply> {
    let text = field.text(ctx.book.swatches().get(id)?);
    let label = format!("{} of {}:", field.word(), ctx.book.swatches().name_of(id));
    Some(Reply::prompt(Purpose::Palette(PaletteText::Field(id, field)), label, text))
}

/// Asks for a field of an item.
pub fn ask_item_field(ctx: &Ctx, id: ItemId, field: ItemField) -> Option<Reply> {
    let text = field.text(ctx.book.items().get(id)?);
    let label = format!("{}, {}:", ctx.book.items().name_of(id), field.word());
    Some(Reply::prompt(Purpose::Palette(PaletteText::ItemField(id, field)), label, text))
}

/// A colour value as the library keeps it: a Lab value counts as measured.
///
/// # Errors
/// The sentence that refuses it.
pub fn value(text: &str) -> Result<SwatchValue, String> {
    value_of(text)
}

/// How a value is read back: what one would call it, and its figures where they are wanted.
pub fn value_words(figures: bool, value: SwatchValue) -> String {
    let about = |lab: Lab| {
        let lab_figures = format!(", Lab {:.1} {:.1} {:.1}", lab.l, lab.a, lab.b);
        naming::about(lab) + if figures { &lab_figures } else { "" }
    };
    match value {
        SwatchValue::Screen(hex) => format!("{hex}, {}", about(hex.lab())),
        SwatchValue::Measured(lab) => format!("{}, measured", about(lab)),
    }
}

/// Adds a colour and shows it.
pub fn add(ctx: &Ctx, name: &str, value: SwatchValue) -> Vec<Reply> {
    let swatch = change::new_swatch(name, "", value);
    let id = ctx.book.swatches().next();
    vec![Reply::Edit(change::add(ctx.book, swatch)), Reply::Swatch(id)]
}

/// Takes the text of a field of a colour.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept_field(ctx: &Ctx, id: SwatchId, field: SwatchField, text: &str) -> Replies {
    let was = ctx.book.swatches().get(id).cloned().ok_or("the color is no longer in the library")?;
    let text = text.trim();
    let now = match field {
        SwatchField::Name => change::renamed(&was, text),
        SwatchField::Family => NamedColour { family: text.to_owned(), ..was.clone() },
        SwatchField::Note => NamedColour { note: text.to_owned(), ..was.clone() },
        SwatchField::Colour if parse::lacks_white(text) => {
            value(text)?;
            return Ok(vec![ask_white(text, &LabFor::Field(id))]);
        }
        SwatchField::Colour => change::with_value(&was, value(text)?),
    };
    let kept_measured = was.measured && now.lab == was.lab && now.hex != was.hex;
    let Some(edit) = change::alter(id, &was, now) else { return Ok(Vec::new()) };
    let mut replies = vec![Reply::Edit(edit)];
    if kept_measured {
        let words = "The screen value is changed; the measured color stays as it was.";
        replies.push(Reply::Tell(Status::done(words)));
    }
    Ok(replies)
}

/// Asks under which white a Lab value was measured.
fn ask_white(text: &str, then: &LabFor) -> Reply {
    let rows = LabWhite::ALL.into_iter().map(|white| {
        let detail = match white {
            LabWhite::D65 => "daylight of screens; kept as it is",
            LabWhite::D50 => "most measuring instruments; brought to D65 (Bradford)",
        };
        row(white.name(), detail, PaletteChoice::White(text.to_owned(), then.clone(), white))
    });
    Reply::pick("The white of this Lab value", rows.collect())
}

/// Goes on once the white is said.
///
/// # Errors
/// The sentence that refuses it.
pub fn with_white(ctx: &Ctx, text: &str, then: &LabFor, white: LabWhite) -> Replies {
    let text = parse::with_white(text, white);
    match then {
        LabFor::Field(id) => accept_field(ctx, *id, SwatchField::Colour, &text),
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
                    "\"{text}\" is not a state: write current, gone, leaving 2027-03-31 or arriving 2027-04-01"
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
pub fn accept_item_field(ctx: &Ctx, id: ItemId, field: ItemField, text: &str) -> Replies {
    let was = ctx.book.items().get(id).cloned().ok_or("the line is no longer on the shelf")?;
    let now = item_with(&was, field, text)?;
    Ok(now.map(|now| Reply::Edit(Edit::Item(Row::alter(id, was, now)))).into_iter().collect())
}

/// Turns an ink from transparent to opaque, or back.
///
/// # Errors
/// The sentence that refuses it.
pub fn toggle_opacity(ctx: &Ctx, id: ItemId) -> Replies {
    let was = ctx.book.items().get(id).cloned().ok_or("the line is no longer on the shelf")?;
    let now = Item { opaque: !was.opaque, ..was.clone() };
    let word = if now.opaque { "opaque" } else { "transparent" };
    let label = format!("noted {} as {word}", was.name);
    Ok(vec![Reply::Edit(Edit::batch(label, vec![Edit::Item(Row::alter(id, was, now))]))])
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
    let words = || Kind::ALL.map(Kind::said).join(", ");
    let kind = Kind::from_word(kind)
        .ok_or_else(|| format!("\"{kind}\" is not a kind: {} (a marker is other)", words()))?;
    if name.is_empty() {
        return Err("the thing needs a name after the kind".to_owned());
    }
    Ok(Item { swatch: Some(swatch), order_number: number.to_owned(), ..Item::new(name, kind) })
}

/// Offers the colours that the picked one can be merged with, nearest first.
pub fn open_merge(pane: &PalettePane) -> Vec<Reply> {
    let Some((kept, lab)) = pane.picked().and_then(|id| Some((id, pane.colour(id)?.lab))) else {
        return Vec::new();
    };
    let near = pane.nearest(lab, usize::MAX).into_iter().filter(|(id, _)| *id != kept);
    let rows = near.map(|(id, d)| {
        let near = format!("{}{}", reading(d), distance(pane, d));
        let detail = format!("{near}; its name stays as an alias of {}", pane.name(kept));
        row(pane.name(id), detail, PaletteChoice::Merge(kept, id))
    });
    vec![Reply::pick("Which color is the same, and goes", rows.collect())]
}

/// Merges two colours.
///
/// # Errors
/// The sentence that refuses it.
pub fn merge_in(ctx: &Ctx, kept: SwatchId, gone: SwatchId) -> Replies {
    Ok(vec![Reply::Edit(merge::merge(ctx.book, kept, gone)?)])
}

/// Removes the picked colour; refused while anything has it.
pub fn remove(pane: &PalettePane, ctx: &Ctx) -> Vec<Reply> {
    pane.picked().map(|id| Reply::Edit(taste::remove_swatch(ctx.book, id))).into_iter().collect()
}

/// A colour from its screen value, for a name typed afterwards.
pub fn screen_value([r, g, b]: [u8; 3]) -> SwatchValue {
    SwatchValue::Screen(Rgb8::new(r, g, b))
}
