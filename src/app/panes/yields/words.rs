//! What Yield says of its question and the answer. The drawing and the plain mode take their words from here, so that
//! neither says more than the other.

use crate::app::state::yields::{YieldPane, shown_layout};
use crate::domain::book::Book;
use crate::domain::cutting::chart::Cell;
use crate::domain::cutting::one_size::SheetYield;
use crate::domain::cutting::pinwheel::StopAnswer;
use crate::domain::cutting::question::Preference;
use crate::domain::cutting::trimmer_profile::SetBy;
use crate::domain::length::{Length, Unit};
use crate::domain::plural::count_of;

/// What is to be known of the sheet beside its size: how many there are, whether it was measured, what of it is usable.
pub fn sheet_notes(pane: &YieldPane, book: &Book, unit: Unit) -> Vec<String> {
    let sheet = &pane.sheet.sheet;
    let held = |id| match (book.on_hand(id), book.free(id)) {
        (there, free) if free < there as i64 => format!("{there} on hand, {free} free"),
        (there, _) => format!("{there} on hand"),
    };
    let mut all: Vec<String> = pane.sheet.paper.map(held).into_iter().collect();
    all.extend(sheet.measured.map(|_| "as measured".to_owned()));
    if sheet.usable().size != sheet.actual() {
        all.push(format!("{} usable", sheet.usable().size.show(unit)));
    }
    all
}

/// What is asked of the pieces: how many, whether they may turn, what decides among layouts.
pub fn asked_for(pane: &YieldPane) -> Vec<String> {
    let mut all: Vec<String> = pane.count.map(|n| format!("{n} wanted")).into_iter().collect();
    all.push(if pane.may_turn { "may turn" } else { "must stay upright" }.to_owned());
    if pane.preference == Preference::LargestOffcut {
        all.push("biggest offcut".to_owned());
    }
    all
}

/// The gain over all one way, and whether no other layout gives more.
pub fn best_words(pane: &YieldPane, answer: &SheetYield) -> String {
    let proof = match (answer.proved, answer.chosen) {
        (true, true) => "proved best",
        (true, false) => "proved best, not every layout of it looked at",
        (false, _) => "best found",
    };
    format!("{}, {proof}", gain_words(pane))
}

/// Sheets that the count takes, and pieces beyond it.
pub fn sheets_words(pane: &YieldPane) -> Option<String> {
    let (count, (sheets, spare)) = (pane.count?, pane.sheets_needed()?);
    Some(sheets_for_words(sheets, count, spare))
}

/// `turned 10`, or why it is not asked whether a turned piece fits.
pub fn turned_words(turned: u32, may_turn: bool) -> String {
    if may_turn { format!("turned {turned}") } else { "must stay upright".to_owned() }
}

/// `10 sheets for 40 pieces, none over`.
pub fn sheets_for_words(sheets: u32, count: u32, spare: u32) -> String {
    let over = if spare == 0 { "none over".to_owned() } else { format!("{spare} over") };
    let (sheets, pieces) = (count_of(u64::from(sheets), "sheet"), count_of(u64::from(count), "piece"));
    format!("{sheets} for {pieces}, {over}")
}

/// How many cuts the layout takes, at how many settings.
pub fn cuts_words(answer: &SheetYield, set_by: SetBy) -> String {
    let cuts = count_of(shown_layout(answer).cuts.len() as u64, "cut");
    if answer.better_stop().is_some() {
        return format!("{cuts}, with stop cuts");
    }
    format!("{cuts} at {}", count_of(answer.settings as u64, &format!("{} setting", set_by.noun())))
}

/// What the best layout gains over all one way, in words.
pub fn gain_words(pane: &YieldPane) -> String {
    let Some(a) = pane.current_answer() else { return String::new() };
    match (a.best, a.gain()) {
        (0, _) => "this piece does not fit the sheet".to_owned(),
        (_, 0) if a.one_way => "cutting all one way already gives the most".to_owned(),
        (_, 0) => "no more than all one way".to_owned(),
        (_, n) => format!("{n} more than all one way"),
    }
}

/// How much smaller the sheet may be, in words.
pub fn slack_words(pane: &YieldPane, unit: Unit) -> String {
    pane.current_answer().map_or_else(String::new, |a| slack_of(a, unit))
}

/// The same of any answer.
pub fn slack_of(a: &SheetYield, unit: Unit) -> String {
    if a.best == 0 {
        return "none: nothing is cut".to_owned();
    }
    let (width, height) = (a.slack.width, a.slack.height);
    let side = |l: Length, word: &str| {
        if l.is_positive() {
            format!("{word} {} {}", l.about(unit), unit.sign())
        } else {
            format!("{word} none")
        }
    };
    let words = if width.is_positive() || height.is_positive() {
        format!("{}, {}", side(width, "width"), side(height, "height"))
    } else {
        "none".to_owned()
    };
    if width.is_positive() && height.is_positive() {
        words
    } else {
        format!("{words}; exact fit, measure the sheet")
    }
}

/// What cuts that stop inside the sheet give, in words.
pub fn stop_words(stop: &StopAnswer) -> String {
    let proof =
        if stop.proved { "and no cutting gives more".to_owned() } else { format!("at most {}", stop.bound) };
    format!("{} a sheet, {proof}", stop.best)
}

/// A cell of the chart in words.
pub fn cell_words(c: &Cell, unit: Unit) -> String {
    let one_way = c.upright.max(c.turned);
    let which = if c.upright >= c.turned { "upright" } else { "turned" };
    let size = c.size.show_with_unit(unit);
    if !c.proved {
        return format!("{size}: {} or more, not searched to the end (Enter does)", c.best);
    }
    match c.best {
        0 => format!("{size}: does not fit"),
        best if best > one_way => {
            format!("{size}: {best} mixed, {} more than {one_way} all {which}", best - one_way)
        }
        best => format!("{size}: {best} all {which} (upright {}, turned {})", c.upright, c.turned),
    }
}
