//! The papers of the shelf as they are chosen in a form: by name, those that are taken most often first.

use crate::app::ctx::Ctx;
use crate::app::input::completing::matches;
use crate::app::panes::form::Offer;
use crate::domain::stock::{Item, ItemId};

/// Every paper. Where two are called the same, the size is said as well.
pub fn all(ctx: &Ctx) -> Vec<(Offer, ItemId)> {
    let taken = |id: ItemId| ctx.book.lines_of(id).filter(|l| l.change < 0).count();
    let papers = ctx.book.items().iter().filter(|(_, i)| i.kind.is_paper());
    let mut all: Vec<(usize, ItemId, &Item)> = papers.map(|(id, i)| (taken(id), id, i)).collect();
    all.sort_by_key(|(n, id, i)| (std::cmp::Reverse(*n), i.name.to_lowercase(), *id));
    let same = |name: &str| all.iter().filter(|(_, _, i)| i.name == name).count() > 1;
    let offer = |(_, id, i): &(usize, ItemId, &Item)| {
        let size = i.cutting_size().map_or_else(String::new, |size| size.as_made(ctx.unit));
        let name = if same(&i.name) { format!("{} {size}", i.name) } else { i.name.clone() };
        (Offer::new(name, size), *id)
    };
    all.iter().map(offer).collect()
}

/// The paper that some letters mean: one of that name, else the first whose name begins with them, then one that holds them.
pub fn find(ctx: &Ctx, text: &str) -> Option<ItemId> {
    let all = all(ctx);
    let names: Vec<String> = all.iter().map(|(offer, _)| offer.name.clone()).collect();
    let name =
        Some(text.trim()).filter(|t| !t.is_empty()).and_then(|t| matches(t, &names).first().copied())?;
    all.iter().find(|(offer, _)| offer.name == name).map(|(_, id)| *id)
}

/// What a paper is called in these lists.
pub fn name(ctx: &Ctx, id: ItemId) -> String {
    all(ctx).into_iter().find(|(_, of)| *of == id).map_or_else(String::new, |(offer, _)| offer.name)
}
