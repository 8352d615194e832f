//! Choices in words: what was chosen, and what stands again when it is taken back.

use crate::app::model::Model;
use crate::app::panes::trimmer;
use crate::app::state::choices::{AskedFor, ChangedChoice, Chosen};
use crate::domain::cutting::question::Preference;
use crate::domain::length::Unit;
use crate::domain::library::base::TrioBase;
use crate::domain::plural::count_of;

/// Most choices of one step that are named.
const NAMED: usize = 3;

/// What a step has chosen: `piece 5 x 7 in, count 40`.
pub fn chosen(model: &Model, changes: &[ChangedChoice]) -> String {
    let mut named: Vec<String> = shown(changes).take(NAMED).map(|c| told(model, &c.now)).collect();
    let more = shown(changes).count().saturating_sub(NAMED);
    if more > 0 {
        named.push(format!("and {more} more"));
    }
    named.join(", ")
}

/// What stands again once the step is taken back, or is made again: of the first choice only.
pub fn again(model: &Model, changes: &[ChangedChoice], is_back: bool) -> String {
    let mut all = shown(changes);
    match (all.next(), all.next()) {
        (Some(c), None) if is_back => format!(" Now {}.", told(model, &c.was)),
        _ => String::new(),
    }
}

/// Changes with words of their own: the chart's range follows the sheet by itself.
fn shown(changes: &[ChangedChoice]) -> impl Iterator<Item = &ChangedChoice> {
    let has_sheet = changes.iter().any(|c| matches!(c.now, Chosen::Sheet(_)));
    changes.iter().filter(move |c| !(has_sheet && matches!(c.now, Chosen::Range(_))))
}

fn yes(what: &str, is_so: bool) -> String {
    format!("{what} {}", if is_so { "on" } else { "off" })
}

fn quoted(what: &str, text: &str) -> String {
    if text.is_empty() { format!("no {what}") } else { format!("{what} \"{text}\"") }
}

/// A choice in words.
fn told(model: &Model, choice: &Chosen) -> String {
    let unit = model.screen.unit;
    match choice {
        Chosen::Sheet(c) => {
            let (sheet, out) = (&c.sheet, c.sheet.out_of_square.width);
            let edges = sheet.unusable;
            let mut words = format!("sheet {}, {}", sheet.name, sheet.actual().show_with_unit(unit));
            if out.is_positive() {
                words = format!("{words}, out of square by {}", out.show_with_unit(unit));
            }
            if [edges.left, edges.top, edges.right, edges.bottom].iter().any(|e| e.is_positive()) {
                words.push_str(", edges left out");
            }
            words
        }
        Chosen::Piece(piece) => format!("piece {}", piece.show_with_unit(unit)),
        Chosen::Count(None) => "pieces for one sheet".to_owned(),
        Chosen::Count(Some(n)) => format!("{} needed", count_of(u64::from(*n), "piece")),
        Chosen::MayTurn(may) => (if *may { "may be turned" } else { "must stay upright" }).to_owned(),
        Chosen::Preference(Preference::FewestSettings) => "fewest settings first".to_owned(),
        Chosen::Preference(Preference::LargestOffcut) => "largest offcut first".to_owned(),
        Chosen::SheetOrder(order) => format!("layouts {}", order.word()),
        Chosen::StopCuts(on) => yes("stop cuts", *on),
        Chosen::Trimmer(t) => {
            let t = crate::domain::cutting::question::Trimmer {
                longest_cut: model.yields.trimmer.longest_cut,
                ..*t
            };
            format!("trimmer: {}", trimmer::words(&t, unit))
        }
        Chosen::PerStroke(n) => format!("{} a stroke", count_of(u64::from(*n), "sheet")),
        Chosen::Range(None) => "the chart's own range".to_owned(),
        Chosen::Range(Some(r)) => {
            format!(
                "chart from {} to {} by {}",
                r.from.show(unit),
                r.to.show(unit),
                r.step.show_with_unit(unit)
            )
        }
        _ => told_of_colours(model, choice),
    }
}

fn told_of_colours(model: &Model, choice: &Chosen) -> String {
    let pane = &model.palette;
    match choice {
        Chosen::SwatchOrder(order) => format!("swatches {}", order.words()),
        Chosen::SwatchFilter(text) => quoted("filter", text),
        Chosen::SwatchesOnHand(on) => yes("only swatches on hand", *on),
        Chosen::Pinned(id) => {
            id.map_or("no swatch pinned".to_owned(), |id| format!("{} pinned", pane.name(id)))
        }
        Chosen::Vision(kind) => {
            kind.map_or("seen with your own eyes".to_owned(), |k| format!("seen as {} eyes see it", k.name()))
        }
        Chosen::Severity(n) => format!("{n} % of a cone missing"),
        Chosen::Scheme(scheme) => {
            scheme.map_or("trios of every scheme".to_owned(), |s| format!("{} trios", s.name()))
        }
        Chosen::TrioBase(TrioBase::Picked) => "trios that go with the picked swatch".to_owned(),
        Chosen::TrioBase(TrioBase::Paper(id)) => {
            format!("trios that go with {}", model.book.items().name_of(*id))
        }
        Chosen::TrioBase(TrioBase::Card) => "trios that go with the card".to_owned(),
        Chosen::TriosOnHand(on) => yes("only trios on hand", *on),
        Chosen::LeavingFirst(on) => yes("leaving colors first", *on),
        Chosen::Wheel(wheel) => format!("{} wheel", wheel.name()),
        Chosen::Asked(AskedFor::Colour(text, _)) => format!("color {text}"),
        Chosen::Asked(_) => "no color asked for".to_owned(),
        Chosen::Matches(_) => "the matches of the photo".to_owned(),
        _ => told_of_the_rest(model, choice),
    }
}

fn told_of_the_rest(model: &Model, choice: &Chosen) -> String {
    match choice {
        Chosen::StockSorts(sorts) => {
            let lists = sorts.named().into_iter().map(|(list, way)| format!("{list} {way}").to_lowercase());
            let lists = lists.collect::<Vec<_>>().join(", ");
            if lists.is_empty() { "lists sorted the usual way".to_owned() } else { lists }
        }
        Chosen::StockFilter(text) => quoted("filter", text),
        Chosen::StockMarks(marks) if marks.is_empty() => "nothing marked".to_owned(),
        Chosen::StockMarks(marks) => format!("marked: {}", marks.names(&model.book)),
        Chosen::Counts(None) => "nothing counted".to_owned(),
        Chosen::Counts(Some(c)) => format!("{} counted", count_of(c.done().len() as u64, "line")),
        Chosen::Terms(Some((_, seller, last, first, exchange))) => {
            let seller = if seller.is_empty() { "every seller" } else { seller };
            let day =
                |d: &Option<jiff::civil::Date>| d.map_or_else(|| "not said".to_owned(), |d| d.to_string());
            let exchanged = if *exchange { ", exchanged in cards" } else { "" };
            format!("list of {seller}, last day {}, first day {}{exchanged}", day(last), day(first))
        }
        Chosen::Unit(Unit::Inch) => "sizes in inches".to_owned(),
        Chosen::Unit(Unit::Mm) => "sizes in millimeters".to_owned(),
        Chosen::Theme(theme) => format!("theme {}", theme.name()),
        Chosen::Signs(crate::domain::screen::Signs::Ascii) => "plain ASCII signs".to_owned(),
        Chosen::Signs(crate::domain::screen::Signs::Unicode) => "box drawing signs".to_owned(),
        Chosen::Paper(paper) => format!("pages on {}", paper.name()),
        Chosen::Mouse(on) => yes("mouse", *on),
        _ => "a choice".to_owned(),
    }
}
