//! Packs of several designs under one order number: made of the lines shown, received as one, changed field by field.

use super::typed::{self, row};
use crate::app::commands::CommandId;
use crate::app::ctx::Ctx;
use crate::app::overlay::PickRow;
use crate::app::reply::Replies;
use crate::app::reply::Reply;
use crate::app::state::stock::StockPane;
use crate::app::state::stock::texts::PackField;
use crate::app::state::stock::texts::StockChoice;
use crate::app::state::stock::texts::StockText;
use crate::domain::book::Book;
use crate::domain::edit::{Edit, Row};
use crate::domain::money::Money;
use crate::domain::plural::count_of;
use crate::domain::stock::{Assortment, AssortmentId, ItemId};

impl PackField {
    /// All, in the order they are offered.
    const ALL: [Self; 8] = [
        Self::Name,
        Self::Number,
        Self::Seller,
        Self::Price,
        Self::State,
        Self::Contents,
        Self::Note,
        Self::Remove,
    ];

    const fn word(self) -> &'static str {
        match self {
            Self::Name => "name",
            Self::Number => "order number",
            Self::Seller => "seller",
            Self::Price => "price of a pack",
            Self::State => "state (current, leaving DATE, gone, arriving DATE)",
            Self::Contents => "brings (2 fern; 2 moss)",
            Self::Note => "note",
            Self::Remove => "take this pack off the list",
        }
    }

    fn text(self, pack: &Assortment, book: &Book) -> String {
        match self {
            Self::Name => pack.name.clone(),
            Self::Number => pack.order_number.clone(),
            Self::Seller => pack.seller.clone(),
            Self::Price => pack.price.map_or_else(String::new, |p| p.show(&book.settings().currency)),
            Self::State => pack.state.to_string(),
            Self::Contents => {
                let each = pack.contents.iter().map(|(id, n)| format!("{n} {}", called(book, *id)));
                each.collect::<Vec<_>>().join("; ")
            }
            Self::Note => pack.note.clone(),
            Self::Remove => "its designs stay on the shelf".to_owned(),
        }
    }

    /// The pack with this field as typed.
    fn read(self, pack: &Assortment, text: &str, book: &Book) -> Result<Assortment, String> {
        let mut now = pack.clone();
        let text = text.trim();
        match self {
            Self::Name => text.clone_into(&mut now.name),
            Self::Number => text.clone_into(&mut now.order_number),
            Self::Seller => text.clone_into(&mut now.seller),
            Self::Price if text.is_empty() => now.price = None,
            Self::Price => {
                let price = Money::parse(text, &book.settings().currency);
                now.price = Some(price.map_err(|e| e.to_string())?);
            }
            Self::State => now.state = typed::state(text)?,
            Self::Contents => now.contents = contents(text, book)?,
            Self::Note => text.clone_into(&mut now.note),
            Self::Remove => {}
        }
        Ok(now)
    }
}

/// What an item is found by: its order number, which is its own, else its name.
fn called(book: &Book, id: ItemId) -> String {
    let number = book.items().get(id).map(|i| i.order_number.clone()).filter(|n| book.find_item(n) == Ok(id));
    number.unwrap_or_else(|| book.items().name_of(id))
}

/// `2 fern; 2 moss`: how many of what, parted by semicolons.
fn contents(text: &str, book: &Book) -> Result<Vec<(ItemId, u32)>, String> {
    let mut all: Vec<(ItemId, u32)> = Vec::new();
    for part in text.split(';').map(str::trim).filter(|p| !p.is_empty()) {
        let (n, name) = part
            .split_once(char::is_whitespace)
            .ok_or_else(|| format!("\"{part}\": write how many of what, as in 2 fern; 2 moss"))?;
        let n = typed::count(n, 1)?;
        let id = book.find_item(name).map_err(|e| e.to_string())?;
        if all.iter().any(|(other, _)| *other == id) {
            return Err(format!("{} is there twice: write it once", book.items().name_of(id)));
        }
        all.push((id, n));
    }
    Ok(all)
}

/// Offers the packs: to receive one, or to change one.
pub fn open(ctx: &Ctx, id: CommandId) -> Reply {
    let is_edit = id == CommandId::EditPack;
    let packs = ctx.book.assortments().iter().map(|(id, a)| {
        let each: u32 = a.contents.iter().map(|(_, n)| n).sum();
        let choice = if is_edit { StockChoice::PackFields(id) } else { StockChoice::Pack(id) };
        row(
            &a.name,
            format!(
                "{} of {}",
                count_of(u64::from(each), "sheet"),
                count_of(a.contents.len() as u64, "design")
            ),
            choice,
        )
    });
    let rows: Vec<PickRow> = packs.collect();
    if rows.is_empty() {
        return Reply::refuse(
            "no pack of several designs is known: / narrows the shelf to its designs, z n makes it a pack",
        );
    }
    Reply::pick(if is_edit { "Change which pack?" } else { "Which pack came in?" }, rows)
}

/// Asks how many of a pack came.
pub fn ask_received(ctx: &Ctx, id: AssortmentId) -> Reply {
    let label = format!("{}. Packs, total price:", ctx.book.assortments().name_of(id));
    typed::prompt(StockText::ReceivePack(id), label, "1")
}

/// Asks for a field of a pack, or takes the pack off the list.
pub fn change(ctx: &Ctx, id: AssortmentId, field: PackField) -> Option<Reply> {
    if field == PackField::Remove {
        return Some(Reply::Edit(Edit::Assortment(Row::Remove(id))));
    }
    let pack = ctx.book.assortments().get(id)?.clone();
    let text = field.text(&pack, ctx.book);
    let label = format!("{}:", field.word());
    Some(typed::prompt(StockText::PackField(id, field, Box::new(pack)), label, text))
}

/// Offers the fields of a pack.
pub fn fields(ctx: &Ctx, id: AssortmentId) -> Option<Reply> {
    let pack = ctx.book.assortments().get(id)?;
    let rows = PackField::ALL.into_iter().map(|field| {
        let word = field.word().split(" (").next().unwrap_or_default();
        row(word, field.text(pack, ctx.book), StockChoice::PackField(id, field))
    });
    Some(Reply::pick("Change what of this pack?", rows.collect()))
}

/// How a text is read, while it is typed.
///
/// # Errors
/// The sentence that refuses it.
pub fn words(
    ctx: &Ctx,
    id: AssortmentId,
    field: PackField,
    seen: &Assortment,
    text: &str,
) -> Result<String, String> {
    let now = field.read(seen, text, ctx.book)?;
    let name = ctx.book.assortments().name_of(id);
    Ok(match field {
        PackField::Contents => {
            let sheets: u64 = now.contents.iter().map(|(_, n)| u64::from(*n)).sum();
            format!(
                "a pack of {name} brings {} of {}",
                count_of(sheets, "sheet"),
                count_of(now.contents.len() as u64, "design")
            )
        }
        _ => field.text(&now, ctx.book),
    })
}

/// Takes a text: one edit, which rests on the pack as it was when the field was chosen.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept(ctx: &Ctx, id: AssortmentId, field: PackField, seen: &Assortment, text: &str) -> Replies {
    let now = field.read(seen, text, ctx.book)?;
    if now == *seen {
        return Ok(Vec::new());
    }
    Ok(vec![Reply::Edit(Edit::Assortment(Row::alter(id, seen.clone(), now)))])
}

/// `Hedgerow walk, HW-2, 2, 18.50`: a pack of the lines that the shelf shows.
pub(super) fn new_pack(pane: &StockPane, ctx: &Ctx, text: &str) -> Result<Assortment, String> {
    let words = "write name, order number, of each, price: Meadow pack, M-48, 2, 18.50";
    let parts: Vec<&str> = text.split(',').map(str::trim).collect();
    let (name, number, each, price) = match parts.as_slice() {
        [name, number, each] => (name, number, each, None),
        [name, number, each, price] => (name, number, each, Some(price)),
        _ => return Err(words.to_owned()),
    };
    let each = typed::count(each, 1)?;
    let currency = &ctx.book.settings().currency;
    let price = price.map(|p| Money::parse(p, currency).map_err(|e| e.to_string())).transpose()?;
    if name.is_empty() || pane.shown.is_empty() {
        return Err(words.to_owned());
    }
    let first = pane.shown.first().and_then(|id| ctx.book.items().get(*id));
    Ok(Assortment {
        name: (*name).to_owned(),
        order_number: (*number).to_owned(),
        seller: first.map(|i| i.seller.clone()).unwrap_or_default(),
        price,
        contents: pane.shown.iter().map(|id| (*id, each)).collect(),
        state: first.map(|i| i.state).unwrap_or_default(),
        note: String::new(),
    })
}
