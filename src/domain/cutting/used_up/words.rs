//! A sheet used up, in words.

use super::{Suggestion, UsedUp, UsedUpAsk};
use crate::domain::length::{Length, Unit};
use crate::domain::plural::{count_of, counted};
use crate::domain::size::Size;

/// What was asked: `12 x 12 in used up for fronts of 4 1/4 x 5 1/2 in, 1/8 in showing`.
pub fn heading(ask: &UsedUpAsk, unit: Unit) -> String {
    let mut text = format!(
        "{} used up for fronts of {}, at least {} showing",
        ask.sheet.show_with_unit(unit),
        ask.front.show_with_unit(unit),
        ask.reveal.show_with_unit(unit)
    );
    if ask.margin.is_positive() {
        text = format!("{text}, strips up to {} left over", ask.margin.show_with_unit(unit));
    }
    if ask.one_way {
        text = format!("{text}, pattern upright");
    }
    text
}

/// How surely: every set of settings was looked at, or not.
pub fn looked_words(used: &UsedUp) -> String {
    match (used.suggestions.is_empty(), used.complete) {
        (true, true) => "No settings use it up: another front, reveal or margin may.".to_owned(),
        (true, false) => {
            "Nothing was found before the search ended: take larger fronts or a smaller sheet.".to_owned()
        }
        (false, true) => {
            let all = "Of all layouts with up to three settings on eighths or four on quarters of an inch: for each number \
                       of cards the fewest settings";
            let variety = if used.variety_complete { "the most variety" } else { "the most variety found" };
            format!("{all}, and {variety}.")
        }
        (false, false) => "Best found: not every set of settings was looked at.".to_owned(),
    }
}

/// Its figures and what it is first by: `25 cards, 3 sizes of panel, 1 setting (most cards)`.
pub fn title(one: &Suggestion) -> String {
    let first: Vec<&str> = one.first_by.iter().map(|f| f.words()).collect();
    let first = if first.is_empty() { String::new() } else { format!(" ({})", first.join(", ")) };
    format!(
        "{}, {}, {}{first}",
        count_of(u64::from(one.cards()), "card"),
        counted(one.panels.len() as u64, "size of panel", "sizes of panel"),
        count_of(one.settings.len() as u64, "setting")
    )
}

/// The settings, then every size of panel with what shows of its front.
pub fn panel_lines(ask: &UsedUpAsk, one: &Suggestion, unit: Unit) -> Vec<String> {
    let settings: Vec<String> = one.settings.iter().map(|l| l.show(unit)).collect();
    let mut all = Vec::new();
    if !settings.is_empty() {
        all.push(format!("fence at {} {}", settings.join(", "), unit.sign()));
    }
    all.extend(one.panels.iter().map(|(size, count)| panel_words(ask, *size, *count, unit)));
    all
}

fn panel_words(ask: &UsedUpAsk, panel: Size, count: u32, unit: Unit) -> String {
    let shows =
        |front: Length, panel: Length| format!("{} {}", (front - panel).half().about(unit), unit.sign());
    format!(
        "{count} of {}: {} showing at left and right, {} above and below",
        panel.about(unit),
        shows(ask.front.width, panel.width),
        shows(ask.front.height, panel.height)
    )
}
