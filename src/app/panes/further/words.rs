//! The further answers in words: a heading, sentences, rows, and what is said of the row in hand. The drawn view and plain
//! mode read the same.

use super::ask;
use crate::app::ctx::Ctx;
use crate::app::state::further::{FurtherAsk, FurtherFound};
use crate::app::state::yields::YieldPane;
use crate::domain::cutting::neighbours::{self, NOT_PROVED};
use crate::domain::cutting::question::Trimmer;
use crate::domain::cutting::{steps, strips, used_up};
use crate::domain::length::Unit;
use crate::domain::shelf_answers::near_held::{NearHeld, NearHeldAsk};
use crate::domain::shelf_answers::{most, scrap, which_paper};

/// All that the view says.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FurtherPage {
    /// What was asked.
    pub heading: String,
    /// What holds for the whole answer.
    pub lines: Vec<String>,
    /// Rows of the list.
    pub rows: Vec<String>,
    /// More of the row in hand.
    pub detail: Vec<String>,
}

/// What the view says now.
pub fn page(pane: &YieldPane, ctx: &Ctx) -> FurtherPage {
    let Some(asked) = &pane.further.asked else { return FurtherPage::default() };
    let unit = ctx.unit;
    let mut page = FurtherPage { heading: heading(asked, unit), ..FurtherPage::default() };
    let Some(found) = pane.further.found.as_deref() else {
        page.lines.push("Being worked out.".to_owned());
        return page;
    };
    match (asked, found) {
        (FurtherAsk::Near(asked, card), FurtherFound::Near(all)) => {
            near(&mut page, asked, all, unit);
            if ask::is_limited(pane, asked) {
                page.lines.push(
                    "Counted with every cut there is: your trimmer's longest cut may give fewer.".to_owned(),
                );
            }
            if !page.rows.is_empty() {
                page.lines.push(near_take(card.is_some()).to_owned());
            }
        }
        (FurtherAsk::Papers(asked), FurtherFound::Papers(choice)) => {
            page.lines = which_paper::wishes(choice);
            page.rows = choice.rows.iter().map(|r| which_paper::row_words(r, asked, unit)).collect();
            page.lines.push("Enter takes the marked paper as the sheet.".to_owned());
        }
        (FurtherAsk::Most(asked), FurtherFound::Most(found)) => {
            let mut lines = most::lines(asked, found).into_iter();
            page.heading = lines.next().unwrap_or_default();
            page.rows = found.limits.iter().map(most::limit_words).collect();
            page.lines = lines.take(1).filter(|l| !l.starts_with(' ')).collect();
            page.lines.extend(asked.notes.iter().cloned());
        }
        (FurtherAsk::Bin(asks), FurtherFound::Bin(all)) => {
            let rows = all.iter().filter_map(|(at, m)| Some((asks.get(*at)?, m)));
            page.rows = rows.map(|(asked, m)| most::bin_words(asked, m)).collect();
            if page.rows.is_empty() {
                page.lines.push(most::NONE_FROM_BIN.to_owned());
            }
        }
        (FurtherAsk::Scrap(asked), FurtherFound::Scrap(rows)) => {
            page.heading = scrap::heading(asked, rows, unit);
            page.rows = rows.iter().map(|r| scrap::row_words(asked, r, unit)).collect();
            page.lines
                .push("Enter opens the answer for the marked size, with this scrap as its sheet.".to_owned());
        }
        (FurtherAsk::UsedUp(asked, ..), FurtherFound::UsedUp(used)) => {
            page.lines.push(used_up::looked_words(used));
            if pane.further.waiting.is_some() {
                page.lines.push(STILL_LOOKING.to_owned());
            }
            page.rows = used.suggestions.iter().map(used_up::title).collect();
            if !page.rows.is_empty() {
                page.lines.push("Enter takes the row in hand over as the cards of a new project.".to_owned());
            }
            if let Some(one) = pane.further.picked_suggestion() {
                page.detail = used_up::panel_lines(asked, one, unit);
                let list = steps::cut_list(asked.sheet, &one.tree, &Trimmer::default(), 1);
                page.detail.extend(list.steps.iter().map(|s| s.words(unit)));
            }
        }
        (FurtherAsk::Strips(_), FurtherFound::Strips(found)) => match found {
            Ok(found) => {
                let mut lines = strips::lines(found, unit);
                page.lines.extend(lines.pop());
                page.rows = lines.split_off(1);
                page.heading = lines.pop().unwrap_or_default();
            }
            Err(why) => page.lines.push(format!("{}.", why.trim_end_matches('.'))),
        },
        _ => {}
    }
    page
}

/// While the search for more sizes of panel goes on.
const STILL_LOOKING: &str = "Still looking for more variety; take any row in the meantime.";

fn near_take(is_card: bool) -> &'static str {
    if is_card {
        "Enter gives the mat in hand this reveal."
    } else {
        "Enter takes the size in hand as the piece, on its paper."
    }
}

fn heading(asked: &FurtherAsk, unit: Unit) -> String {
    match asked {
        FurtherAsk::Near(asked, card) => {
            let range = asked.range.show_with_unit(unit);
            let what = match (card, asked.pieces.first()) {
                (Some(card), _) => format!("the layers of {}", card.name),
                (None, Some(piece)) => piece.size.show_with_unit(unit),
                (None, None) => String::new(),
            };
            format!("A little smaller, a lot more: {what}, up to {range} off each side")
        }
        FurtherAsk::Papers(asked) => which_paper::heading(asked, unit),
        FurtherAsk::Most(asked) => format!("How many of {} can be made", asked.name),
        FurtherAsk::Bin(_) => "Cards of the book from the bin alone".to_owned(),
        FurtherAsk::Scrap(asked) => format!("What {} gives, {}", asked.name, asked.size.show_with_unit(unit)),
        FurtherAsk::UsedUp(asked, name, _) => format!("{name}: {}", used_up::heading(asked, unit)),
        FurtherAsk::Strips(asked) => {
            format!("{} strips of {}", asked.count, asked.width.show_with_unit(unit))
        }
    }
}

/// A row for each smaller size, and what holds for those that have none.
fn near(page: &mut FurtherPage, asked: &NearHeldAsk, all: &[NearHeld], unit: Unit) {
    for one in all {
        page.rows.extend(one.near.rows.iter().filter_map(|row| {
            let piece = asked.pieces.get(one.piece)?;
            let name = if piece.name.is_empty() { String::new() } else { format!("{}: ", piece.name) };
            let reveal =
                piece.reveal_of(row).map_or_else(String::new, |r| format!(", reveal {}", r.show(unit)));
            let words = neighbours::words(row, piece.size, one.near.now, unit);
            Some(format!("{name}{words}{reveal}, on {}", one.on(asked)))
        }));
    }
    if page.rows.is_empty() {
        page.lines.push("No size within the range gives more, on any paper you have.".to_owned());
    }
    if all.iter().any(|one| !one.near.proved) {
        page.lines.push(format!("Best found: {NOT_PROVED}."));
    }
}
