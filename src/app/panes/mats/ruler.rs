//! The ruler under the drawing: which measure lies on it, which tick is pointed at, and practice. Questions follow from
//! the book, so the same book asks the same.

use super::ask;
use crate::app::commands::CommandId;
use crate::app::ctx::Ctx;
use crate::app::reading::read_length;
use crate::app::reply::Replies;
use crate::app::reply::Reply;
use crate::app::state::mats::MatsPane;
use crate::app::state::mats::MatsText;
use crate::app::state::ruler::Practice;
use crate::app::state::ruler::RulerPane;
use crate::app::status::Status;
use crate::domain::length::{Length, Rounding, Unit};
use crate::domain::ruler::{self, AskFor, RulerQuestion};

/// How far the ruler reaches: 12 in or 300 mm, as desk rulers do.
pub fn reach(unit: Unit) -> Length {
    match unit {
        Unit::Inch => Length::inches(12),
        Unit::Mm => Length::mm(300),
    }
}

/// Whole units from which practice draws its marks.
fn practised(unit: Unit) -> u32 {
    match unit {
        Unit::Inch => 6,
        Unit::Mm => 150,
    }
}

/// Runs a command of the ruler.
pub fn run_ruler(pane: &mut MatsPane, ctx: &Ctx, id: CommandId) -> Vec<Reply> {
    use CommandId as Id;
    let unit = ctx.unit;
    let ruler = pane.ruler.ruler(unit);
    let coarse = if unit == Unit::Inch { Length::inches(1) } else { Length::mm(10) };
    let reply = match id {
        Id::TickLeft => step(pane, ctx, -ruler.tick()),
        Id::TickRight => step(pane, ctx, ruler.tick()),
        Id::TickBack => step(pane, ctx, -coarse),
        Id::TickOn => step(pane, ctx, coarse),
        Id::TickFirst => point(pane, Length::ZERO),
        Id::TickLast => point(pane, reach(unit)),
        Id::RulerDivide => Some(divide(pane, ctx)),
        Id::RulerMeasure => next_measure(pane, ctx),
        Id::RulerFind => Some(ask::prompt(pane, ctx, MatsText::Find)),
        Id::Practice => practise(pane, ctx),
        Id::RulerEnter => enter(pane, ctx),
        Id::RulerClose => {
            pane.ruler = RulerPane { finer: pane.ruler.finer, ..RulerPane::default() };
            None
        }
        _ => None,
    };
    reply.into_iter().collect()
}

fn point(pane: &mut MatsPane, tick: Length) -> Option<Reply> {
    pane.ruler.tick = Some(tick);
    None
}

/// Moves to the next tick that way; from between two ticks to the nearer end.
fn step(pane: &mut MatsPane, ctx: &Ctx, by: Length) -> Option<Reply> {
    let unit = ctx.unit;
    if pane.ruler.practice.as_ref().is_some_and(|p| p.question.ask == AskFor::WhichSize) {
        return Some(Reply::Tell(Status::note("The tick stays: <ruler-enter> asks what it reads.")));
    }
    let tick = pane.ruler.ruler(unit).tick();
    let now = pane.pointed(ctx.book, unit);
    let is_between = !now.is_on(tick);
    let how = if by.is_positive() { Rounding::Up } else { Rounding::Down };
    let next = if is_between && by.abs() == tick { now.round_to(tick, how).value } else { now + by };
    let next = next.round_to(tick, Rounding::Nearest).value;
    point(pane, next.max(Length::ZERO).min(reach(unit)))
}

fn divide(pane: &mut MatsPane, ctx: &Ctx) -> Reply {
    pane.ruler.finer += 1;
    let ruler = pane.ruler.ruler(ctx.unit);
    if pane.ruler.practice.is_some() {
        begin_practice(pane, ctx);
    } else if let Some(tick) = pane.ruler.tick {
        pane.ruler.tick = Some(tick.round_to(ruler.tick(), Rounding::Nearest).value);
    }
    Reply::Tell(Status::note(format!("The ruler has {}.", ruler.name())))
}

/// The next measure of the row in hand.
fn next_measure(pane: &mut MatsPane, ctx: &Ctx) -> Option<Reply> {
    let len = pane.measures(ctx.book, ctx.unit).len().max(1);
    pane.ruler.measure = (pane.ruler.measure + 1) % len;
    pane.ruler.tick = None;
    None
}

/// Begins a round of questions, or ends it.
fn practise(pane: &mut MatsPane, ctx: &Ctx) -> Option<Reply> {
    if let Some(p) = pane.ruler.practice.take() {
        pane.ruler.tick = None;
        let words = format!("Practice ends: {} of {} right.", p.right, p.answered);
        return Some(Reply::Tell(Status::note(words)));
    }
    begin_practice(pane, ctx);
    None
}

fn begin_practice(pane: &mut MatsPane, ctx: &Ctx) {
    let seed = ctx.book.seq();
    let question = RulerQuestion::from_seed(seed, 0, pane.ruler.ruler(ctx.unit), practised(ctx.unit));
    pane.ruler.tick = Some(Length::ZERO);
    pane.ruler.practice = Some(Practice { seed, index: 0, question, right: 0, answered: 0, said: None });
}

/// Answers the question, or goes to the next; without practice it says what the tick reads.
fn enter(pane: &mut MatsPane, ctx: &Ctx) -> Option<Reply> {
    let pointed = pane.pointed(ctx.book, ctx.unit);
    let ruler = pane.ruler.ruler(ctx.unit);
    let Some(practice) = &pane.ruler.practice else {
        let words = format!("{}: {}", pointed.show_both(ctx.unit), ruler::ticks_in_words(pointed, ruler));
        return Some(Reply::Tell(Status::note(words)));
    };
    match (&practice.said, practice.question.ask) {
        (Some(_), _) => next_question(pane, ctx.unit),
        (None, AskFor::WhichTick) => check(pane, pointed),
        (None, AskFor::WhichSize) => return Some(ask::prompt(pane, ctx, MatsText::Answer)),
    }
    None
}

fn next_question(pane: &mut MatsPane, unit: Unit) {
    let ruler = pane.ruler.ruler(unit);
    let Some(p) = &mut pane.ruler.practice else { return };
    p.index += 1;
    p.question = RulerQuestion::from_seed(p.seed, p.index, ruler, practised(unit));
    p.said = None;
    pane.ruler.tick = Some(Length::ZERO);
}

fn check(pane: &mut MatsPane, answer: Length) {
    let Some(p) = &mut pane.ruler.practice else { return };
    let said = p.question.check(answer);
    p.answered += 1;
    p.right += u32::from(said.right);
    p.said = Some(said);
}

/// Takes a typed answer.
///
/// # Errors
/// The sentence for a text that is no length.
pub fn answer(pane: &mut MatsPane, ctx: &Ctx, text: &str) -> Result<(), String> {
    let length = read_length(text, ctx.unit)?;
    check(pane, length);
    Ok(())
}

/// Points at a typed size.
///
/// # Errors
/// The sentence for a text that is no length on this ruler.
pub fn find(pane: &mut MatsPane, ctx: &Ctx, text: &str) -> Replies {
    let unit = ctx.unit;
    let length = read_length(text, unit)?;
    if length > reach(unit) {
        return Err(format!(
            "{} is beyond the ruler: it ends at {}",
            length.show_with_unit(unit),
            reach(unit).show_with_unit(unit)
        ));
    }
    if pane.ruler.practice.is_some() {
        return Ok(vec![Reply::refuse("that would give the answer away: <practice> ends the practice")]);
    }
    pane.ruler.tick = Some(length);
    Ok(Vec::new())
}
