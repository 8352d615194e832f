//! Trios: which are asked for, how the list is put together, keeping them, and putting one on the card in hand.

use crate::app::ctx::Ctx;
use crate::app::effect::Ask;
use crate::app::input::list::Cursor;
use crate::app::overlay::{PickRow, Target};
use crate::app::reply::Replies;
use crate::app::reply::Reply;
use crate::app::state::palette::{PaletteChoice, PalettePane};
use crate::app::state::trio::{Listed, TrioVerdict};
use crate::app::status::Status;
use crate::domain::book::Book;
use crate::domain::colour::swatch::Swatch;
use crate::domain::colour::trios::Trio;
use crate::domain::colour::trios::said::NoTrio;
use crate::domain::edit::{Edit, Row};
use crate::domain::library::apply;
use crate::domain::library::base::{self, TrioAsk, TrioBase};
use crate::domain::library::taste;
use crate::domain::stock::{Item, KeptTrio, SwatchId, TrioId};

/// How many trios are asked for.
const TRIOS: usize = 24;
const NONE_PICKED: &str = "no trio is picked: <trio-previous> and <trio-next> go through them";

/// The colours that the trios must go with, and how many of them each must hold.
fn bases(pane: &PalettePane, ctx: &Ctx) -> (Vec<SwatchId>, usize) {
    match pane.base {
        TrioBase::Picked => (pane.picked().into_iter().collect(), 1),
        TrioBase::Paper(id) => (ctx.book.items().get(id).map(Item::front).unwrap_or_default(), 1),
        TrioBase::Card => {
            let colours = base::card_colours(ctx.book, ctx.card);
            let held = colours.len().clamp(1, 2);
            (colours, held)
        }
    }
}

/// The question about trios as the pane stands; nothing where there is nothing to go with.
fn question(pane: &PalettePane, ctx: &Ctx) -> Option<TrioAsk> {
    let (ids, swatches): (Vec<SwatchId>, Vec<Swatch>) =
        pane.all.iter().map(|(id, s)| (*id, s.clone())).unzip();
    let (wanted, held) = bases(pane, ctx);
    let bases: Vec<usize> = wanted.iter().filter_map(|id| ids.iter().position(|i| i == id)).collect();
    if bases.is_empty() {
        return None;
    }
    let each = |holds: fn(&Book, SwatchId) -> bool| ids.iter().map(|id| holds(ctx.book, *id)).collect();
    Some(TrioAsk {
        usable: pane.trios_on_hand.then(|| each(base::on_hand)),
        leaving: pane.leaving_first.then(|| each(base::leaving)),
        bases,
        held,
        wheel: pane.wheel,
        scheme: pane.scheme,
        varied: pane.varied,
        habits: pane.own_choices.then(|| taste::habits(ctx.book)),
        dismissed: if pane.own_choices { taste::dismissed_places(ctx.book, &ids) } else { Vec::new() },
        most: TRIOS,
        swatches,
        ids,
    })
}

/// Asks for trios anew where the list is out of date. Called while the pane is in view.
pub fn follow_up(pane: &mut PalettePane, ctx: &Ctx) -> Vec<Reply> {
    if !std::mem::take(&mut pane.wants_trios) {
        return Vec::new();
    }
    pane.trios_asked = None;
    let Some(ask) = question(pane, ctx) else {
        list(pane, ctx, &[], &[]);
        pane.no_trio = Some(NoTrio::NoBase);
        return Vec::new();
    };
    vec![Reply::Ask(Ask::Trios(Box::new(ask)))]
}

/// Takes the worker's answer to the question of this number.
pub fn solved(pane: &mut PalettePane, ctx: &Ctx, number: u64, ask: &TrioAsk, trios: &[Trio]) {
    if pane.trios_asked == Some(number) {
        pane.trios_asked = None;
        list(pane, ctx, &ask.ids, trios);
        pane.no_trio = trios.is_empty().then(|| ask.why_none());
        give_verdicts(pane, trios, ask);
    }
}

/// Kept trios that hold a base, favourites first, then those of the answer.
fn list(pane: &mut PalettePane, ctx: &Ctx, ids: &[SwatchId], trios: &[Trio]) {
    let (wanted, _) = bases(pane, ctx);
    let kept_trios = ctx.book.trios();
    let mut kept: Vec<(TrioId, &KeptTrio)> = kept_trios
        .iter()
        .filter(|(_, k)| !k.dismissed && k.swatches.iter().any(|s| wanted.contains(s)))
        .collect();
    kept.sort_by_key(|(_, k)| !k.favourite);
    let is_kept = |three: &[SwatchId; 3]| kept.iter().any(|(_, k)| k.same_colours(*three));
    let new = trios.iter().map(|t| t.swatches.map(|n| ids[n])).filter(|three| !is_kept(three));
    let listed = |swatches, kept| Listed { swatches, kept, verdict: None };
    let rows = kept
        .iter()
        .map(|(id, k)| listed(k.swatches, Some(*id)))
        .chain(new.map(|t| listed(t, None)))
        .collect();
    // The pick stays on its three colours while the same colours are looked at; for others the best comes first. Where the
    // picked one was dismissed, the next one has moved up into its place.
    let row = pane.trio.row(pane.trios.len());
    let picked = pane.picked_trio().filter(|_| pane.trios_of == wanted).map(|t| sorted(t.swatches));
    pane.trios = rows;
    pane.trios_of = wanted;
    let again = pane.trios.iter().position(|t| Some(sorted(t.swatches)) == picked);
    let dismissed = picked.and_then(|three| taste::dismissal(ctx.book, three)).and(row);
    pane.trio = Cursor::at(again.or(dismissed).unwrap_or(0));
}

fn sorted(mut three: [SwatchId; 3]) -> [SwatchId; 3] {
    three.sort_unstable();
    three
}

fn give_verdicts(pane: &mut PalettePane, trios: &[Trio], ask: &TrioAsk) {
    let name = |n: usize| ask.swatches.get(n).map(|s| s.name.clone()).unwrap_or_default();
    for row in &mut pane.trios {
        let wanted = sorted(row.swatches);
        let found = trios.iter().find(|t| sorted(t.swatches.map(|n| ask.ids[n])) == wanted);
        row.verdict = found.map(|t| verdict(t, &ask.ids, name));
    }
}

/// What a list says of one of its trios.
pub fn verdict(trio: &Trio, ids: &[SwatchId], name: impl Fn(usize) -> String) -> TrioVerdict {
    TrioVerdict {
        scheme: trio.scheme,
        said: trio.said(name),
        distinct: trio.distinct,
        leaving: trio.leaving,
        to_buy: trio.to_buy.and_then(|n| ids.get(n).copied()),
        all_seen: trio.all_seen,
    }
}

/// Marks the picked trio as a favourite, or takes the mark off; a trio of the list is kept with it.
pub fn toggle_favourite(pane: &PalettePane, ctx: &Ctx) -> Reply {
    let Some(row) = pane.picked_trio() else { return Reply::refuse(NONE_PICKED) };
    let kept = ctx.book.trios();
    Reply::Edit(match row.kept.and_then(|id| Some((id, kept.get(id)?.clone()))) {
        // A trio of the list that is no favourite any more and carries no note is not kept either.
        Some((id, was)) if was.favourite && !was.own && was.note.is_empty() => Edit::Trio(Row::Remove(id)),
        Some((id, was)) => {
            let now = KeptTrio { favourite: !was.favourite, ..was.clone() };
            Edit::Trio(Row::alter(id, was, now))
        }
        None => taste::keep(ctx.book, new_trio(pane, row.swatches, false)),
    })
}

/// A trio of these colours, named after them.
pub fn new_trio(pane: &PalettePane, swatches: [SwatchId; 3], own: bool) -> KeptTrio {
    let name = swatches.map(|s| pane.name(s).to_owned()).join(", ");
    KeptTrio { name, swatches, favourite: !own, own, dismissed: false, note: String::new() }
}

/// Keeps a trio that the person puts together: the picked colour and two more, by name.
///
/// # Errors
/// The sentence that refuses it.
pub fn keep_own(pane: &PalettePane, ctx: &Ctx, text: &str) -> Replies {
    let trio = new_trio(pane, read_own(pane, ctx, text)?, true);
    Ok(vec![Reply::Edit(taste::keep(ctx.book, trio))])
}

/// The three colours of a trio of one's own.
///
/// # Errors
/// The sentence that refuses it.
pub fn read_own(pane: &PalettePane, ctx: &Ctx, text: &str) -> Result<[SwatchId; 3], String> {
    let first = pane.picked().ok_or("pick a color first")?;
    let names: Vec<&str> = text.split(',').map(str::trim).filter(|n| !n.is_empty()).collect();
    let [one, two] = names[..] else {
        return Err("two more colors with a comma between them, such as moss pool, oat husk".to_owned());
    };
    let three = [first, find(pane, ctx, one)?, find(pane, ctx, two)?];
    if three[0] == three[1] || three[1] == three[2] || three[0] == three[2] {
        return Err("a trio is three different colors: choose another for the one named twice".to_owned());
    }
    Ok(three)
}

/// The colour that a person means: its name or a former one, or the beginning of one name alone.
fn find(pane: &PalettePane, ctx: &Ctx, name: &str) -> Result<SwatchId, String> {
    if let Some(id) = ctx.book.find_swatch(name) {
        return Ok(id);
    }
    let wanted = name.to_lowercase();
    let starts: Vec<SwatchId> = pane
        .all
        .iter()
        .filter(|(_, s)| s.name.to_lowercase().starts_with(&wanted))
        .map(|(id, _)| *id)
        .collect();
    match starts[..] {
        [one] => Ok(one),
        [] => Err(format!("no color \"{name}\" in the library: write its name or the beginning of it")),
        [a, b, ..] => {
            let (a, b) = (pane.name(a), pane.name(b));
            Err(format!("\"{name}\" may be {a} or {b}: write more of it"))
        }
    }
}

/// Changes the note of a kept trio.
///
/// # Errors
/// The sentence that refuses it.
pub fn set_note(ctx: &Ctx, id: TrioId, text: &str) -> Replies {
    let was = ctx.book.trios().get(id).cloned().ok_or("the trio is no longer kept")?;
    let now = KeptTrio { note: text.trim().to_owned(), ..was.clone() };
    let is_new = now != was;
    Ok(is_new.then(|| Reply::Edit(Edit::Trio(Row::alter(id, was, now)))).into_iter().collect())
}

/// Takes the picked trio off the kept ones; one of the list is dismissed, and a dismissed one, which is shown where choices
/// do not count, is brought back.
pub fn dismiss(pane: &PalettePane, ctx: &Ctx) -> Reply {
    let Some(row) = pane.picked_trio() else { return Reply::refuse(NONE_PICKED) };
    if let Some(id) = row.kept {
        return Reply::Edit(Edit::Trio(Row::Remove(id)));
    }
    if let Some(id) = taste::dismissal(ctx.book, row.swatches) {
        return bring_back(ctx, id).unwrap_or_else(Reply::refuse);
    }
    let trio = KeptTrio { favourite: false, dismissed: true, ..new_trio(pane, row.swatches, false) };
    let label = format!("dismissed the trio {}", trio.name);
    Reply::Edit(Edit::batch(label, vec![Edit::Trio(Row::add(ctx.book.trios().next(), trio))]))
}

/// Lets a dismissed trio be shown again.
///
/// # Errors
/// The sentence that refuses it.
pub fn bring_back(ctx: &Ctx, id: TrioId) -> Result<Reply, String> {
    let trio = ctx.book.trios().get(id).filter(|t| t.dismissed).ok_or("the trio was brought back before")?;
    let label = format!("brought back the trio {}", trio.name);
    Ok(Reply::Edit(Edit::batch(label, vec![Edit::Trio(Row::Remove(id))])))
}

/// Offers what choices have taught: pairs that they move, trios that were dismissed, and to forget all of it.
pub fn offer_taught(ctx: &Ctx) -> Reply {
    let habits = taste::habits(ctx.book);
    let pairs = habits.moved().into_iter().filter_map(|(one, two)| {
        let detail = format!("such pairs count {:.1} times as high", habits.shift(one, two).exp());
        // Only read: nothing is done with it.
        let target = Target::Palette(PaletteChoice::Forget);
        Some(PickRow { is_live: false, ..PickRow::new(habits.words(one, two)?, detail, target) })
    });
    let gone = taste::dismissed(ctx.book).map(|(id, trio)| {
        let target = Target::Palette(PaletteChoice::BringBack(id));
        PickRow::new(trio.name.clone(), "dismissed; Enter brings it back".to_owned(), target)
    });
    let mut rows: Vec<PickRow> = gone.chain(pairs).collect();
    if rows.is_empty() {
        return Reply::refuse(
            "nothing learned yet: keep a trio with <favourite-trio>, put one on a card with <apply-trio>, or dismiss one with <drop-trio>",
        );
    }
    let detail = "kept trios and cards stay; the order is the model's again";
    rows.push(PickRow::new("forget all of this", detail, Target::Palette(PaletteChoice::Forget)));
    Reply::pick("What your choices taught", rows)
}

/// Begins afresh.
///
/// # Errors
/// The sentence that refuses it.
pub fn forget(ctx: &Ctx) -> Replies {
    Ok(vec![Reply::Edit(taste::forget(ctx.book).ok_or("nothing is learned: there is nothing to forget")?)])
}

/// Offers to put the picked trio of the list on the card in hand.
pub fn offer_picked(pane: &PalettePane, ctx: &Ctx) -> Reply {
    pane.picked_trio().map_or_else(|| Reply::refuse(NONE_PICKED), |trio| offer_orders(ctx, trio.swatches))
}

/// Offers the orders in which three colours go on the card in hand: which colour on the base, which on each layer.
pub fn offer_orders(ctx: &Ctx, three: [SwatchId; 3]) -> Reply {
    let rows = apply::orders(ctx.book, ctx.card, three).into_iter().map(|(order, dressed)| {
        let is_live = dressed.refused.is_none();
        let detail = dressed.refused.clone().unwrap_or_else(|| dressed.notes(ctx.book).join("; "));
        let target = Target::Palette(PaletteChoice::Dress(order));
        PickRow { is_live, ..PickRow::new(dressed.words(ctx.book), detail, target) }
    });
    Reply::pick("Which color goes where", rows.collect())
}

/// Puts three colours on the card in hand in this order.
///
/// # Errors
/// The sentence that refuses it, with what would do.
pub fn put_on_card(ctx: &Ctx, order: [SwatchId; 3]) -> Replies {
    let dressed = apply::dress(ctx.book, ctx.card, order);
    if let Some(why) = dressed.refused {
        return Err(why);
    }
    let notes = dressed.notes(ctx.book).join("; ");
    let notes = if notes.is_empty() { notes } else { format!(" ({notes})") };
    let words = format!("{} now has {}{notes}.", ctx.card.name, dressed.words(ctx.book));
    let label = "gave a trio to the card".to_owned();
    Ok(vec![Reply::Card(label, Box::new(dressed.card)), Reply::Tell(Status::done(words))])
}
