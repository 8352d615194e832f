//! What can be typed for the further answers, and how it is read.

use super::ask;
use crate::app::ctx::Ctx;
use crate::app::overlay::Purpose;
use crate::app::reading::{read_length, size_words};
use crate::app::reply::Reply;
use crate::app::state::further::{FurtherAsk, UseUpWish};
use crate::app::state::yields::{YieldPane, YieldText};
use crate::domain::cards::format;
use crate::domain::cutting::neighbours::checked_range;
use crate::domain::length::{Length, Unit};
use crate::domain::reckon;

/// The words before the size of a scrap.
pub const SCRAP: &str = "Size of the scrap, width x height:";
const USE_UP: &str = "Card front, least reveal, margin left over (empty for none):";
const STRIPS: &str = "Strips, and how far a setting may be off:";

/// The prompt for what the answer on screen rests on.
pub fn change(pane: &YieldPane, ctx: &Ctx) -> Vec<Reply> {
    let unit = ctx.unit;
    let prompt = |what, label: &str, now: String| vec![Reply::prompt(Purpose::Yield(what), label, now)];
    match &pane.further.asked {
        Some(FurtherAsk::Near(..)) => {
            prompt(YieldText::Near, "Take off each side at most:", pane.further.range.exact(unit))
        }
        Some(FurtherAsk::Scrap(ask)) => prompt(YieldText::Scrap, SCRAP, ask.size.exact(unit)),
        Some(FurtherAsk::UsedUp(..)) => prompt(YieldText::UseUp, USE_UP, wish_text(&pane.further.wish, unit)),
        Some(FurtherAsk::Strips(_)) => {
            let (count, off) = pane.further.strips;
            prompt(YieldText::Strips, STRIPS, format!("{count}, {}", off.exact(unit)))
        }
        _ => vec![Reply::refuse("this answer rests on the piece, the sheet and the book: change them there")],
    }
}

/// The prompt of what a sheet is used up for, with the sentence that refuses what it is now.
pub fn again(pane: &YieldPane, ctx: &Ctx, why: &str) -> Reply {
    let text = wish_text(&pane.further.wish, ctx.unit);
    Reply::prompt_again(Purpose::Yield(YieldText::UseUp), USE_UP, &text, why.to_owned())
}

fn wish_text(wish: &UseUpWish, unit: Unit) -> String {
    let margin = if wish.margin.is_positive() { wish.margin.exact(unit) } else { "0".to_owned() };
    format!("{}, {}, {margin}", wish.front.exact(unit), wish.reveal.exact(unit))
}

/// How a text is read, while it is typed.
///
/// # Errors
/// The sentence that refuses it.
pub fn echo(ctx: &Ctx, what: YieldText, text: &str) -> Result<String, String> {
    let unit = ctx.unit;
    match what {
        YieldText::Near => range(text, unit).map(|l| format!("up to {} smaller", l.show_with_unit(unit))),
        YieldText::Scrap => size_words(text, unit),
        YieldText::UseUp => wish(text, unit).map(|w| {
            let margin = if w.margin.is_positive() {
                format!("strips up to {} left over", w.margin.show_with_unit(unit))
            } else {
                "nothing left over".to_owned()
            };
            format!(
                "fronts of {}, at least {} showing, {margin}",
                w.front.show_with_unit(unit),
                w.reveal.show_with_unit(unit)
            )
        }),
        _ => strips(text, unit)
            .map(|(n, off)| format!("{n} strips, off by up to {}", off.show_with_unit(unit))),
    }
}

/// The question anew with a text.
///
/// # Errors
/// The sentence that refuses it.
pub fn question(pane: &mut YieldPane, ctx: &Ctx, what: YieldText, text: &str) -> Result<FurtherAsk, String> {
    let unit = ctx.unit;
    Ok(match what {
        YieldText::Near => {
            pane.further.range = range(text, unit)?;
            match &pane.further.asked {
                Some(FurtherAsk::Near(_, Some(_))) => ask::near_layers(pane, ctx)?,
                _ => ask::near(pane, ctx),
            }
        }
        YieldText::Scrap => ask::scrap_of(pane, ctx, reckon::size(text, unit)?),
        YieldText::UseUp => {
            let was = pane.further.wish;
            pane.further.wish = wish(text, unit)?;
            let found = ask::use_up(pane, ctx);
            if found.is_err() {
                pane.further.wish = was;
            }
            found?
        }
        _ => {
            pane.further.strips = strips(text, unit)?;
            ask::strips(pane)
        }
    })
}

fn range(text: &str, unit: Unit) -> Result<Length, String> {
    checked_range(read_length(text, unit)?).map_err(|e| e.to_string())
}

/// A front with what has to show of it and what may be left over.
fn wish(text: &str, unit: Unit) -> Result<UseUpWish, String> {
    let parts: Vec<&str> = text.split(',').map(str::trim).collect();
    let (front, reveal, margin) = match parts.as_slice() {
        [front, reveal] => (front, reveal, "0"),
        [front, reveal, margin] => (front, reveal, *margin),
        _ => {
            return Err(format!(
                "\"{text}\": write front, reveal and margin with commas: 4-1/4x5-1/2, 1/8, 0"
            ));
        }
    };
    let length = |text: &str| match text {
        "" | "0" => Ok(Length::ZERO),
        text => read_length(text, unit),
    };
    Ok(UseUpWish {
        front: format::find(front, unit).map_err(|e| e.to_string())?.face,
        reveal: length(reveal)?,
        margin: length(margin)?,
    })
}

fn strips(text: &str, unit: Unit) -> Result<(u32, Length), String> {
    let (count, off) = text.split_once(',').unwrap_or((text, "1/64 in"));
    let count = count.trim();
    let n = count.parse::<u32>().ok().filter(|n| (1..=400).contains(n));
    let n = n.ok_or_else(|| format!("\"{count}\" is not a number of strips: write 4, or 4, 1/64"))?;
    Ok((n, read_length(off, unit)?))
}
