//! The ruler under the drawing: which measure lies on it, which tick is pointed at, and practice. Questions follow from
//! the book, so the same book asks the same.

use super::ask;
use super::refuse;
use crate::app::commands::CommandId;
use crate::app::effect::Effect;
use crate::app::model::Model;
use crate::app::overlay::Purpose;
use crate::app::prompt;
use crate::app::state::mats::MatsText;
use crate::app::state::ruler::Practice;
use crate::app::state::ruler::RulerPane;
use crate::app::status::Status;
use crate::domain::length::{Length, Rounding, Unit};
use crate::domain::ruler::{self, Ask, Question};

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

/// Gives the keys to the ruler.
pub fn open(model: &mut Model) {
    model.mats.ruler.open = true;
    model.mats.ruler.tick = None;
}

/// Runs a command of the ruler; `None` for any other.
pub fn run(model: &mut Model, id: CommandId) -> Option<Vec<Effect>> {
    use CommandId as Id;
    let unit = model.screen.unit;
    let ruler = model.mats.ruler.ruler(unit);
    let coarse = if unit == Unit::Inch { Length::inches(1) } else { Length::mm(10) };
    match id {
        Id::TickLeft => step(model, -ruler.tick()),
        Id::TickRight => step(model, ruler.tick()),
        Id::TickBack => step(model, -coarse),
        Id::TickOn => step(model, coarse),
        Id::TickFirst => model.mats.ruler.tick = Some(Length::ZERO),
        Id::TickLast => model.mats.ruler.tick = Some(reach(unit)),
        Id::RulerDivide => divide(model),
        Id::RulerMeasure => next_measure(model),
        Id::RulerFind => {
            let (label, now) = ask::opening(model, MatsText::Find);
            prompt::open(model, Purpose::Mats(MatsText::Find), &label, &now);
        }
        Id::Practice => practise(model),
        Id::RulerEnter => return Some(enter(model)),
        Id::RulerClose => {
            model.mats.ruler = RulerPane { finer: model.mats.ruler.finer, ..RulerPane::default() }
        }
        _ => return None,
    }
    Some(Vec::new())
}

/// Moves to the next tick that way; from between two ticks to the nearer end.
fn step(model: &mut Model, by: Length) {
    let unit = model.screen.unit;
    if model.mats.ruler.practice.as_ref().is_some_and(|p| p.question.ask == Ask::WhichSize) {
        model.tell(Status::note("The tick stays: Enter asks what it reads."));
        return;
    }
    let tick = model.mats.ruler.ruler(unit).tick();
    let now = model.mats.pointed(&model.book, unit);
    let is_between = !now.is_on(tick);
    let how = if by.is_positive() { Rounding::Up } else { Rounding::Down };
    let next = if is_between && by.abs() == tick { now.round_to(tick, how).value } else { now + by };
    let next = next.round_to(tick, Rounding::Nearest).value;
    model.mats.ruler.tick = Some(next.max(Length::ZERO).min(reach(unit)));
}

fn divide(model: &mut Model) {
    let unit = model.screen.unit;
    model.mats.ruler.finer += 1;
    let ruler = model.mats.ruler.ruler(unit);
    if model.mats.ruler.practice.is_some() {
        model.mats.ruler.practice = None;
        practise(model);
    } else if let Some(tick) = model.mats.ruler.tick {
        model.mats.ruler.tick = Some(tick.round_to(ruler.tick(), Rounding::Nearest).value);
    }
    model.tell(Status::note(format!("The ruler has {}.", ruler.name())));
}

/// The next measure of the row in hand.
pub fn next_measure(model: &mut Model) {
    let len = model.mats.measures(&model.book, model.screen.unit).len().max(1);
    model.mats.ruler.measure = (model.mats.ruler.measure + 1) % len;
    model.mats.ruler.tick = None;
}

/// Begins a round of questions, or ends it.
fn practise(model: &mut Model) {
    if let Some(p) = model.mats.ruler.practice.take() {
        model.mats.ruler.tick = None;
        model.tell(Status::note(format!("Practice ends: {} of {} right.", p.right, p.answered)));
        return;
    }
    let unit = model.screen.unit;
    let seed = model.book.seq();
    let question = Question::from_seed(seed, 0, model.mats.ruler.ruler(unit), practised(unit));
    model.mats.ruler.tick = Some(Length::ZERO);
    model.mats.ruler.practice =
        Some(Practice { seed, index: 0, question, right: 0, answered: 0, said: None });
}

/// Answers the question, or goes to the next; without practice it says what the tick reads.
fn enter(model: &mut Model) -> Vec<Effect> {
    let unit = model.screen.unit;
    let pointed = model.mats.pointed(&model.book, unit);
    let ruler = model.mats.ruler.ruler(unit);
    let Some(practice) = &model.mats.ruler.practice else {
        let words = format!("{}: {}", pointed.show_both(unit), ruler::ticks_in_words(pointed, ruler));
        model.tell(Status::note(words));
        return Vec::new();
    };
    if practice.said.is_some() {
        next_question(model);
        return Vec::new();
    }
    match practice.question.ask {
        Ask::WhichTick => check(model, pointed),
        Ask::WhichSize => {
            let (label, now) = ask::opening(model, MatsText::Answer);
            prompt::open(model, Purpose::Mats(MatsText::Answer), &label, &now);
        }
    }
    Vec::new()
}

fn next_question(model: &mut Model) {
    let unit = model.screen.unit;
    let ruler = model.mats.ruler.ruler(unit);
    let Some(p) = &mut model.mats.ruler.practice else { return };
    p.index += 1;
    p.question = Question::from_seed(p.seed, p.index, ruler, practised(unit));
    p.said = None;
    model.mats.ruler.tick = Some(Length::ZERO);
}

fn check(model: &mut Model, answer: Length) {
    let Some(p) = &mut model.mats.ruler.practice else { return };
    let said = p.question.check(answer);
    p.answered += 1;
    p.right += u32::from(said.right);
    p.said = Some(said);
}

/// Takes a typed answer.
///
/// # Errors
/// The sentence for a text that is no length.
pub fn answer(model: &mut Model, text: &str) -> Result<Vec<Effect>, String> {
    let length = prompt::read_length(text, model.screen.unit)?;
    check(model, length);
    Ok(Vec::new())
}

/// Points at a typed size.
///
/// # Errors
/// The sentence for a text that is no length on this ruler.
pub fn find(model: &mut Model, text: &str) -> Result<Vec<Effect>, String> {
    let unit = model.screen.unit;
    let length = prompt::read_length(text, unit)?;
    if length > reach(unit) {
        return Err(format!(
            "{} is beyond the ruler: it ends at {}",
            length.show_with_unit(unit),
            reach(unit).show_with_unit(unit)
        ));
    }
    if model.mats.ruler.practice.is_some() {
        return Ok(refuse(model, "that would give the answer away: p ends the practice".to_owned()));
    }
    model.mats.ruler.tick = Some(length);
    Ok(Vec::new())
}
