//! What stands round the card in hand: what a sheet gives of each of its parts at the reveals round its own, the other cards
//! of the project, the papers that the project takes and what it costs. The wide view draws it, the plain mode tells it.

use super::words::{LabelWords, short};
use crate::app::ctx::Ctx;
use crate::app::panes::stock::facts;
use crate::app::state::mats::MatsPane;
use crate::domain::book::Book;
use crate::domain::cards::every_yield::{PartAsk, PartYield};
use crate::domain::length::Length;
use crate::domain::plural::count_of;
use crate::domain::stock::outlook::OffcutNeed;
use crate::domain::stock::{ItemId, OffcutId};

/// A part of the card with what a sheet gives of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct YieldRow {
    /// What it is called.
    pub part: String,
    /// Its size.
    pub size: String,
    /// Pieces of a sheet.
    pub yields: u32,
    /// Sheets for all of them; `None` where a sheet gives none.
    pub sheets: Option<u32>,
    /// How many are made.
    pub pieces: u32,
    /// The sheet.
    pub sheet: String,
    /// Yields at other reveals: reveal, pieces of a sheet, its own, more than its own.
    pub reveals: Vec<(Length, u32, bool, bool)>,
}

/// What a sheet gives of every part; nothing until a worker has answered.
pub fn yields(pane: &MatsPane, ctx: &Ctx) -> Vec<YieldRow> {
    let (Some(asked), Some(parts)) = (&pane.every.asked, &pane.every.parts) else { return Vec::new() };
    asked.parts.iter().zip(parts).map(|(ask, found)| yield_row(ask, found, ctx)).collect()
}

fn yield_row(ask: &PartAsk, found: &PartYield, ctx: &Ctx) -> YieldRow {
    let reveal = |c: &crate::domain::cards::advice::RevealChoice| {
        (c.reveal, c.yields, c.chosen, c.yields > found.yields)
    };
    YieldRow {
        part: ask.name.clone(),
        size: short(ask.size, ctx.unit),
        yields: found.yields,
        sheets: found.sheets,
        pieces: ask.pieces,
        sheet: ask.sheet.name.clone(),
        reveals: found.reveals.iter().map(reveal).collect(),
    }
}

/// The reveals that any part has a yield for, the narrowest first.
pub fn reveals(rows: &[YieldRow]) -> Vec<Length> {
    let mut all: Vec<Length> = rows.iter().flat_map(|r| &r.reveals).map(|r| r.0).collect();
    all.sort_unstable();
    all.dedup();
    all
}

/// A card of the project.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CardRow {
    /// Its name.
    pub name: String,
    /// Its front.
    pub front: String,
    /// How many are made.
    pub made: u32,
    /// Its layers.
    pub layers: usize,
    /// It is the one in hand.
    pub in_hand: bool,
}

/// The cards of the active project.
pub fn cards(pane: &MatsPane, ctx: &Ctx) -> Vec<CardRow> {
    let Some(project) = ctx.book.active_project() else { return Vec::new() };
    let last = project.cards.len().saturating_sub(1);
    let row = |(n, card): (usize, &crate::domain::project::ProjectCard)| CardRow {
        name: card.name.clone(),
        front: short(card.face, ctx.unit),
        made: crate::domain::cutlist::made(project, card.count, card.spares),
        layers: card.layers.len(),
        in_hand: n == pane.card.min(last),
    };
    project.cards.iter().enumerate().map(row).collect()
}

/// A paper that the project takes, in whole sheets or in offcuts of one size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RoundPaper {
    /// Which.
    pub item: ItemId,
    /// Offcuts of one size; `None` for whole sheets and other counted things.
    pub offcut: Option<OffcutId>,
    /// Its name, with the size of an offcut.
    pub name: String,
    /// Sheets or offcuts needed in all.
    pub needed: u64,
    /// Still to be cut.
    pub still: u64,
    /// Free on the shelf.
    pub free: i64,
    /// Wanting on the day.
    pub missing: u64,
    /// What its sheets cost.
    pub cost: String,
}

/// The sheets that the project takes, paper by paper, other counted things, and the offcuts that its plan cuts.
pub fn papers(pane: &MatsPane, ctx: &Ctx) -> Vec<RoundPaper> {
    let Some((_, outlook)) = &pane.every.outlook else { return Vec::new() };
    let currency = &ctx.book.settings().currency;
    let cost = |item: ItemId| {
        let line = outlook.costs.lines.iter().find(|l| l.item == item);
        line.and_then(|l| l.opened).map_or_else(|| "-".to_owned(), |m| m.show(currency))
    };
    let row = |n: &crate::domain::stock::outlook::Need| RoundPaper {
        item: n.item,
        offcut: None,
        name: ctx.book.items().name_of(n.item),
        needed: n.needed,
        still: n.still(),
        free: n.free,
        missing: n.missing,
        cost: cost(n.item),
    };
    outlook
        .needs
        .iter()
        .map(row)
        .chain(outlook.offcuts.iter().filter_map(|o| offcut_row(ctx.book, o)))
        .collect()
}

/// Offcuts of one size: no sheets, and paid for already.
fn offcut_row(book: &Book, need: &OffcutNeed) -> Option<RoundPaper> {
    let still = need.needed.saturating_sub(need.used);
    let free = book.free_offcuts(need.offcut);
    Some(RoundPaper {
        item: book.offcuts().get(need.offcut)?.item,
        offcut: Some(need.offcut),
        name: book.offcut_title(need.offcut),
        needed: need.needed,
        still,
        free: i64::try_from(free).unwrap_or(i64::MAX),
        missing: still.saturating_sub(need.booked.saturating_add(free)),
        cost: "-".to_owned(),
    })
}

/// What the project costs, a label and its words a figure.
pub fn costs(pane: &MatsPane, ctx: &Ctx) -> Vec<(String, String)> {
    let Some((_, outlook)) = &pane.every.outlook else { return Vec::new() };
    facts::cost_words(ctx.book, outlook)
}

/// All of it in words.
pub fn told(pane: &MatsPane, ctx: &Ctx) -> Vec<LabelWords> {
    let unit = ctx.unit;
    let mut all: Vec<LabelWords> = Vec::new();
    for row in yields(pane, ctx) {
        let others: Vec<String> =
            row.reveals.iter().map(|(reveal, n, ..)| format!("{} gives {n}", reveal.about(unit))).collect();
        let others =
            if others.is_empty() { String::new() } else { format!("; reveal {}", others.join(", ")) };
        all.push((
            "a sheet",
            format!(
                "{} {}: {} of {}, {} for {}{others}",
                row.part,
                row.size,
                row.yields,
                row.sheet,
                row.sheets.map_or_else(|| "no sheets".to_owned(), |n| count_of(u64::from(n), "sheet")),
                row.pieces
            ),
        ));
    }
    let cards = cards(pane, ctx).into_iter().filter(|c| !c.in_hand);
    all.extend(cards.map(|c| {
        ("card", format!("{}, {}, {}, {} made", c.name, c.front, count_of(c.layers as u64, "layer"), c.made))
    }));
    all.extend(papers(pane, ctx).into_iter().map(|p| {
        let short = if p.missing > 0 { format!(", SHORT {}", p.missing) } else { String::new() };
        (
            "takes",
            format!(
                "{} of {}, {} still to cut, {} free{short}, {}",
                p.needed, p.name, p.still, p.free, p.cost
            ),
        )
    }));
    all.extend(costs(pane, ctx).into_iter().map(|(word, value)| ("cost", format!("{word} {value}"))));
    all
}
