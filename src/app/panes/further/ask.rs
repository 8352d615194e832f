//! The questions of the further answers, from the pane and the book.

use crate::app::ctx::Ctx;
use crate::app::state::further::FurtherAsk;
use crate::app::state::yields::YieldPane;
use crate::domain::cutting::question::Trimmer;
use crate::domain::cutting::strips::StripsAsk;
use crate::domain::cutting::used_up::UsedUpAsk;
use crate::domain::length::Length;
use crate::domain::shelf_answers::near_held::{self, NearHeldAsk, NearPiece, NearSheet};
use crate::domain::shelf_answers::scrap::{self, ScrapAsk};
use crate::domain::shelf_answers::which_paper::PaperAsk;
use crate::domain::shelf_answers::{held, most};
use crate::domain::size::{Grain, Size};
use crate::domain::stock::OffcutId;
use crate::domain::stock::designs::Design;

fn trimmer(pane: &YieldPane) -> Trimmer {
    Trimmer { stop_cuts: false, ..pane.trimmer }
}

/// How many complete cards of the active project; nothing where it has no piece with a paper of the shelf.
pub fn most_cards(pane: &YieldPane, ctx: &Ctx) -> Option<FurtherAsk> {
    let design = Design::Whole(ctx.book.active()?);
    let ask = most::ask(ctx.book, design, most::From::Shelf, &trimmer(pane))?;
    Some(FurtherAsk::Most(Box::new(ask)))
}

/// Every card of the book from the bin alone.
pub fn from_bin(pane: &YieldPane, ctx: &Ctx) -> FurtherAsk {
    FurtherAsk::Bin(most::bin_asks(ctx.book, &trimmer(pane)))
}

/// The sheet in use first, then the papers held.
fn sheets(pane: &YieldPane, ctx: &Ctx) -> Vec<NearSheet> {
    let own = &pane.sheet;
    let one_way = own.paper.and_then(|id| ctx.book.items().get(id)).is_some_and(|item| item.one_way);
    let first = NearSheet {
        name: own.sheet.name.clone(),
        room: own.sheet.usable().size,
        item: own.paper,
        one_way,
        is_own: true,
    };
    let held = held::papers(ctx.book);
    let others = held.iter().filter(|p| Some(p.item) != own.paper).map(NearSheet::of);
    std::iter::once(first).chain(others).collect()
}

/// Smaller sizes of the piece, on the sheet in use and on all papers held.
pub fn near(pane: &YieldPane, ctx: &Ctx) -> FurtherAsk {
    let piece = NearPiece {
        name: String::new(),
        layer: None,
        size: pane.piece,
        may_turn: pane.may_turn,
        reveal: None,
        paper: None,
    };
    let (range, mark) = (pane.further.range, pane.trimmer.finest_mark);
    FurtherAsk::Near(NearHeldAsk { pieces: vec![piece], sheets: sheets(pane, ctx), range, mark }, None)
}

/// Smaller sizes of every layer of the card in hand, with their reveals.
pub fn near_layers(pane: &YieldPane, ctx: &Ctx) -> Result<FurtherAsk, String> {
    let pieces = near_held::layers(ctx.book, ctx.card);
    if pieces.is_empty() {
        return Err("this card has no layers yet: add one first".to_owned());
    }
    let (range, mark) = (pane.further.range, pane.trimmer.finest_mark);
    let ask = NearHeldAsk { pieces, sheets: sheets(pane, ctx), range, mark };
    Ok(FurtherAsk::Near(ask, Some(Box::new(ctx.card.clone()))))
}

/// Which paper for the piece.
pub fn papers(pane: &YieldPane, ctx: &Ctx) -> FurtherAsk {
    FurtherAsk::Papers(PaperAsk {
        piece: pane.piece,
        may_turn: pane.may_turn,
        count: pane.count,
        limits: pane.trimmer.limits(),
        papers: held::papers(ctx.book),
        currency: ctx.book.settings().currency.clone(),
    })
}

/// The sheet in use, used up as was asked last.
pub fn use_up(pane: &YieldPane, ctx: &Ctx) -> Result<FurtherAsk, String> {
    let (sheet, wish) = (&pane.sheet, pane.further.wish);
    let item = sheet.paper.and_then(|id| ctx.book.items().get(id));
    let ask = UsedUpAsk {
        sheet: sheet.sheet.usable().size,
        front: wish.front,
        reveal: wish.reveal,
        margin: wish.margin,
        one_way: !pane.may_turn || item.is_some_and(|i| i.one_way),
    };
    ask.check().map_err(|e| e.to_string())?;
    Ok(FurtherAsk::UsedUp(ask, sheet.sheet.name.clone(), sheet.paper))
}

/// Strips as broad as the piece, side by side along the sheet's width.
pub fn strips(pane: &YieldPane) -> FurtherAsk {
    let (count, off) = pane.further.strips;
    let across = pane.sheet.sheet.usable().size.width;
    FurtherAsk::Strips(StripsAsk { across, width: pane.piece.width, count, off })
}

/// What a scrap of a typed size gives.
pub fn scrap_of(pane: &YieldPane, ctx: &Ctx, size: Size) -> FurtherAsk {
    FurtherAsk::Scrap(ScrapAsk {
        name: "scrap".to_owned(),
        size,
        grain: Grain::Unknown,
        offcut: None,
        trimmer: trimmer(pane),
        pieces: scrap::pieces(ctx.book, None),
    })
}

/// What a piece of the bin gives.
pub fn offcut(pane: &YieldPane, ctx: &Ctx, id: OffcutId) -> Option<FurtherAsk> {
    ScrapAsk::of_offcut(ctx.book, id, &pane.trimmer).map(FurtherAsk::Scrap)
}

/// Whether the trimmer in use can make every cut of the sheets that are looked at.
pub fn is_limited(pane: &YieldPane, ask: &NearHeldAsk) -> bool {
    let limits = pane.trimmer.limits();
    let fits = |l: Length| l.units();
    ask.sheets.iter().any(|s| !limits.allow_all(fits(s.room.width), fits(s.room.height)))
}
