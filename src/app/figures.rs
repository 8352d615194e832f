//! The figures of each pane that are wanted from across the table: a count, a setting of the trimmer, a size. Shown large where
//! there is room.

use super::model::Model;
use super::pane::Pane;
use super::state::views::YieldView;
use crate::app::state::mats::Picked;
use crate::app::state::stock::bin;
use crate::app::state::stock::log_line;
use crate::app::state::stock::orders::OrderRow;
use crate::app::state::views::Tab;
use crate::domain::cards::parts;
use crate::domain::cutting::plan_words;
use crate::domain::cutting::step::CutStep;
use crate::domain::length::Length;
use crate::domain::stock::{Item, Kind};

/// A figure with its words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeyFigure {
    /// What it is.
    pub words: String,
    /// The figure.
    pub value: Value,
}

/// What is written large.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Value {
    /// Pieces, sheets.
    Count(u64),
    /// A length, in the unit shown.
    Length(Length),
}

fn count(words: impl Into<String>, n: u64) -> KeyFigure {
    KeyFigure { words: words.into(), value: Value::Count(n) }
}

fn length(words: impl Into<String>, length: Length) -> KeyFigure {
    KeyFigure { words: words.into(), value: Value::Length(length) }
}

/// The figures of the pane in view, the first the most wanted; none where it has nothing to say yet. The bench view has
/// large figures of its own.
pub fn figures(model: &Model) -> Vec<KeyFigure> {
    if model.day.is_open {
        return Vec::new();
    }
    match model.pane {
        Pane::Yield => match model.yields.view {
            YieldView::Answer => yields(model),
            YieldView::Chart => chart(model),
            YieldView::Plan => plan(model),
            YieldView::Bench | YieldView::Further => Vec::new(),
        },
        Pane::Mats => mats(model),
        Pane::Palette => palette(model),
        Pane::Stock => shelf(model),
    }
}

/// Pieces from a sheet, and the setting of the step in hand.
fn yields(model: &Model) -> Vec<KeyFigure> {
    let Some(answer) = model.yields.current_answer() else { return Vec::new() };
    let best = answer.better_stop().map_or(answer.best, |s| s.best);
    let mut all = vec![count("a sheet", u64::from(best))];
    all.extend(fence(model).map(|l| length(model.yields.trimmer.profile.set_by.noun(), l)));
    all
}

/// The setting of the step in hand.
fn fence(model: &Model) -> Option<Length> {
    let answer = model.yields.current_answer()?;
    let stop = answer.better_stop();
    let own = model.yields.trimmer.profile;
    let parting = stop.map_or(&[][..], |s| &s.parting).iter().map(|s| own.setting(s.fence));
    let steps: &[CutStep] = stop.map_or(&answer.steps, |s| &s.steps);
    let all: Vec<Length> = parting.chain(steps.iter().map(|s| own.setting(s.fence))).collect();
    all.get(model.yields.step.row(all.len())?).copied()
}

fn chart(model: &Model) -> Vec<KeyFigure> {
    let pane = &model.yields;
    let cell = pane.chart.as_deref().and_then(|c| c.cell(pane.cell.0, pane.cell.1));
    cell.map(|c| count(format!("of {} a sheet", c.size.about(model.screen.unit)), u64::from(c.best)))
        .into_iter()
        .collect()
}

fn plan(model: &Model) -> Vec<KeyFigure> {
    let Some(plan) = model.yields.plan.to_cut() else { return Vec::new() };
    let Some((_, job)) = &model.yields.plan.job else { return Vec::new() };
    let (sheets, offcuts) = plan_words::sheet_counts(&job.job, plan);
    let mut all = vec![count("sheets", sheets)];
    if offcuts > 0 {
        all.push(count("offcuts", offcuts));
    }
    all.push(count(
        [job.job.trimmer.profile.set_by.noun(), "settings"].join(" "),
        u64::from(plan.totals.hands.settings),
    ));
    all
}

/// The size to cut of the row in hand.
fn mats(model: &Model) -> Vec<KeyFigure> {
    let (pane, book) = (&model.mats, &model.book);
    let Some(size) = pane.size_in_hand(book, model.screen.unit) else { return Vec::new() };
    let card = pane.card(book);
    let name = match pane.picked(book) {
        Picked::Base => "base".to_owned(),
        Picked::Layer(n) => card.layer_name(n),
        Picked::Extra(n) => {
            card.extras.get(n).map_or("", |extra| parts::PartKind::of_make(&extra.make).word()).to_owned()
        }
    };
    vec![length(format!("{name}, width"), size.width), length("height", size.height)]
}

/// Plain sheets on the shelf in the picked colour, as its details count what is held: a pattern that leads with it is none.
fn palette(model: &Model) -> Vec<KeyFigure> {
    let pane = &model.palette;
    let Some(id) = pane.picked() else { return Vec::new() };
    let is_plain = |i: &Item| i.kind.is_paper() && i.kind != Kind::PatternedPaper;
    let papers = model.book.items().iter().filter(|(_, i)| is_plain(i) && i.swatch == Some(id));
    let held: u64 = papers.map(|(item, _)| model.book.on_hand(item)).sum();
    vec![count(format!("sheets of {} on hand", pane.name(id)), held)]
}

/// The count that the line in hand is about.
fn shelf(model: &Model) -> Vec<KeyFigure> {
    let (pane, book) = (&model.stock, &model.book);
    if let Some(preview) = pane.preview_in_view() {
        return vec![count("lines", preview.lines.len() as u64)];
    }
    if let Some(day) = pane.count_in_view() {
        return vec![count(format!("of {} counted", day.items.len()), day.done().len() as u64)];
    }
    let row = pane.cursor.row(pane.rows(&model.book));
    let figure = match pane.tab() {
        Tab::Shelf => pane
            .picked_item()
            .map(|id| count(format!("on hand of {}", book.items().name_of(id)), book.on_hand(id))),
        Tab::Bin => row
            .and_then(|n| bin(pane, book).get(n).copied())
            .map(|id| count(format!("of {}", book.offcut_title(id)), book.offcut_count(id))),
        Tab::Log => row
            .and_then(|n| log_line(pane, book, n))
            .map(|l| count(format!("on hand of {}", book.items().name_of(l.item)), book.on_hand(l.item))),
        Tab::Reorder => Some(count("lines to order", orders(model))).filter(|f| f.value != Value::Count(0)),
        Tab::Classes => row
            .and_then(|n| book.projects().get(*pane.classes.ids.get(n)?))
            .filter(|p| p.seats > 0)
            .map(|p| count(format!("seats of {}", p.name), u64::from(p.seats))),
        Tab::Bookings => row
            .and_then(|n| book.bookings().get(*pane.bookings.get(n)?))
            .map(|b| count(format!("booked of {}", book.items().name_of(b.item)), u64::from(b.count))),
    };
    figure.into_iter().collect()
}

fn orders(model: &Model) -> u64 {
    model.stock.orders.rows.iter().filter(|r| matches!(r, OrderRow::Item(..))).count() as u64
}
