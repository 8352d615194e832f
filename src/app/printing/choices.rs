//! What a person chooses about pages beside their kind and paper: a line and a code of their own, how labels lie on
//! their sheet, what is on the back of a chart. Decides which choices a kind has and what may be typed into them.

pub use crate::app::state::print::PrintLine;

use super::{PageKind, PrintDesk};
use crate::app::model::Model;
use crate::domain::cards::post;
use crate::domain::cutting::chart::ChartRange;
use crate::domain::pages::chart::{Asked, Pocket};
use crate::domain::pages::frame::PrintPaper;
use crate::domain::pages::label_sheet::{self, LabelSheet};
use crate::domain::pages::labels::{self, LabelRun};
use crate::domain::pages::shelf;
use crate::domain::pages::trios::StripForm;
use crate::domain::sheet::{Sheet, parse_sheet};

/// Longest line at the foot, in characters: more would be cut off on any page.
pub const LONGEST_FOOT: usize = 120;

/// A choice as it is shown: its key, what it is, what is chosen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ChoiceRow {
    /// The key that changes it.
    pub key: char,
    /// What it is.
    pub label: &'static str,
    /// What is chosen, in words.
    pub value: String,
    /// The line it is typed into, where it is typed.
    pub line: Option<PrintLine>,
}

/// The choices that the kind in view has, in the order shown.
pub fn rows(model: &Model, desk: &PrintDesk) -> Vec<ChoiceRow> {
    let c = &model.print;
    let row = |key, label, value: String, line| ChoiceRow { key, label, value, line };
    let yes = |is: bool| if is { "yes" } else { "no" }.to_owned();
    let or_none = |text: &str| if text.is_empty() { "none" } else { text }.to_owned();
    let mut rows = Vec::new();
    if desk.queues.is_some() {
        let printer = match printer_of(model, desk) {
            name if name.is_empty() => "the usual one".to_owned(),
            name => name,
        };
        rows.push(row(PRINTER, "printer", printer, None));
        rows.push(row('y', "copies", desk.copies.max(1).to_string(), Some(PrintLine::Copies)));
        let range = if desk.range.is_empty() { "all" } else { desk.range.as_str() };
        rows.push(row('u', "pages", range.to_owned(), Some(PrintLine::Range)));
    }
    match desk.kind() {
        PageKind::Labels | PageKind::KitLabels | PageKind::ShelfLabels => {
            let sheet = sheet_of(model, desk);
            rows.push(row('l', "sheet", sheet.name.clone(), None));
            rows.push(row(
                's',
                "start",
                format!("label {} of {}", c.run.start, sheet.count()),
                Some(PrintLine::Start),
            ));
            rows.push(row('n', "nudge", nudge_words(&c.run), Some(PrintLine::Nudge)));
            rows.push(row('o', "outlines", if c.run.outlines { "test page" } else { "no" }.to_owned(), None));
            if desk.kind() == PageKind::Labels {
                rows.push(row(
                    'a',
                    "arriving",
                    if c.only_arriving { "only" } else { "and all" }.to_owned(),
                    None,
                ));
                rows.push(row('t', "patches", yes(c.patches), None));
            }
            // Labels are the sheet's own: nothing stands at their foot.
            return rows;
        }
        PageKind::Chart => {
            rows.push(row('s', "sheet", chart_sheet_of(model).name, Some(PrintLine::Sheet)));
            let form = match c.pocket {
                None => "wall",
                Some(Pocket::Steps) => "pocket, four a page",
                Some(Pocket::Used) => "pocket, your sizes",
            };
            rows.push(row('o', "form", form.to_owned(), None));
            if c.pocket.is_none() {
                rows.push(row('a', "sizes", if c.all_sizes { "all" } else { "one page" }.to_owned(), None));
                rows.push(row('b', "back", or_none(&c.back), Some(PrintLine::Back)));
            }
        }
        PageKind::Trios => {
            rows.push(row('r', "form", c.form.word().to_owned(), None));
            rows.push(row('e', "empty", yes(c.blank), None));
        }
        _ => {}
    }
    if matches!(desk.kind(), PageKind::Card | PageKind::Handout) {
        let home = home_of(model, desk.paper);
        let short = post::find(&home).map_or(home.clone(), |rules| rules.short.clone());
        rows.push(row('h', "post", short, None));
    }
    rows.push(row('w', "foot", or_none(&c.footer), Some(PrintLine::Foot)));
    rows.push(row('x', "code", or_none(&c.code), Some(PrintLine::Code)));
    rows
}

/// The print queue: the one chosen where it is still there, else the system's usual one; empty where neither is known.
pub fn printer_of(model: &Model, desk: &PrintDesk) -> String {
    let Some(queues) = &desk.queues else { return String::new() };
    let chosen = queues.names.iter().find(|name| **name == model.print.printer);
    chosen.or(queues.usual.as_ref()).or_else(|| queues.names.first()).cloned().unwrap_or_default()
}

/// Takes what was typed for the printer.
///
/// # Errors
/// The sentence that refuses it; nothing is changed then.
pub fn take_ticket(desk: &mut PrintDesk, line: PrintLine, text: &str) -> Result<(), String> {
    let text: String = text.split_whitespace().collect();
    if line == PrintLine::Copies {
        return match text.parse::<u32>() {
            Ok(copies) if (1..=99).contains(&copies) => {
                desk.copies = copies;
                Ok(())
            }
            _ => Err(format!("\"{text}\" is not a number of copies: 1 to 99 work.")),
        };
    }
    let count = match &desk.preview {
        super::PagePreview::Pages(pages) => pages.pages.len(),
        _ => usize::MAX,
    };
    let is_page = |t: &str| t.parse::<usize>().is_ok_and(|n| (1..=count).contains(&n));
    let is_part = |part: &str| match part.split_once('-') {
        Some((from, to)) => is_page(from) && is_page(to) && from.parse::<usize>().ok() <= to.parse().ok(),
        None => is_page(part),
    };
    if !text.is_empty() && !text.split(',').all(is_part) {
        return Err(format!(
            "\"{text}\" names no pages here: there are {count}, write such as 1-2,4, or nothing for all."
        ));
    }
    desk.range = text;
    Ok(())
}

fn nudge_words(run: &LabelRun) -> String {
    match (run.right, run.down) {
        (0, 0) => "none".to_owned(),
        (right, down) => format!("{} mm", labels::show_nudge(right, down)),
    }
}

/// The label sheet that is chosen: the usual one of the paper where none is, or where it is known no more.
pub fn label_sheet_of(model: &Model, paper: PrintPaper) -> &LabelSheet {
    let all = || model.label_sheets.iter().chain(label_sheet::built_in());
    let named = |name: &str| all().find(move |s| label_sheet::is_named(s, name));
    let usual = if paper == PrintPaper::A4 { "a4 21" } else { "letter 30" };
    named(&model.print.label_sheet).or_else(|| named(usual)).unwrap_or(&label_sheet::built_in()[0])
}

/// The label sheet of kit labels: the one chosen, else the one with the most labels that hold all lines of a kit.
pub fn kit_sheet_of(model: &Model, paper: PrintPaper) -> &LabelSheet {
    let all = || model.label_sheets.iter().chain(label_sheet::built_in());
    let chosen = all().find(|s| label_sheet::is_named(s, &model.print.kit_sheet));
    let usual = || {
        let project = model.book.active_project()?;
        let labels = shelf::kit_labels(&model.book, project, model.screen.unit);
        labels::usual_sheet(all(), paper.size(), &labels)
    };
    chosen.or_else(usual).unwrap_or_else(|| label_sheet_of(model, paper))
}

/// The label sheet of the kind in view.
fn sheet_of<'a>(model: &'a Model, desk: &PrintDesk) -> &'a LabelSheet {
    match desk.kind() {
        PageKind::KitLabels => kit_sheet_of(model, desk.paper),
        _ => label_sheet_of(model, desk.paper),
    }
}

/// The postal rules of the person's country: those chosen, else the usual ones of the paper.
pub fn home_of(model: &Model, paper: PrintPaper) -> String {
    let chosen = post::all().iter().find(|rules| rules.id == model.print.home);
    chosen.map_or_else(|| post::usual(paper == PrintPaper::A4).to_owned(), |rules| rules.id.clone())
}

/// The sheet on the back of the chart, if any. One that cannot be read any more is none.
pub fn back_of(model: &Model) -> Option<Sheet> {
    let text = model.print.back.as_str();
    (!text.is_empty()).then(|| sheet_named(model, text).ok()).flatten()
}

/// A sheet by the name of a format or of paper on the shelf, or by its size.
///
/// # Errors
/// The sentence that refuses it.
fn sheet_named(model: &Model, text: &str) -> Result<Sheet, String> {
    let known = parse_sheet(text, model.screen.unit, &model.formats);
    known.or_else(|why| shelf::sheet_named(&model.book, text).ok_or_else(|| why.to_string()))
}

/// The sheet of the chart: the one chosen, else the one in Yield.
pub fn chart_sheet_of(model: &Model) -> Sheet {
    let text = model.print.sheet.as_str();
    let chosen = (!text.is_empty()).then(|| sheet_named(model, text).ok()).flatten();
    chosen.unwrap_or_else(|| model.yields.sheet.sheet.clone())
}

/// The chart that is asked for.
pub fn chart_of(model: &Model) -> Asked {
    let sheet = chart_sheet_of(model);
    // Every sheet has its own usual sizes, unless the person chose sizes for charts.
    let usual = |sheet: &Sheet| model.yields.range.unwrap_or_else(|| ChartRange::for_sheet(sheet));
    Asked {
        range: usual(&sheet),
        back: back_of(model).map(|back| (usual(&back), back)),
        may_turn: model.yields.may_turn,
        used: shelf::sizes_in_use(&model.book),
        all: model.print.all_sizes,
        pocket: model.print.pocket.map(|form| (form, Pocket::others(&sheet))),
        sheet,
    }
}

/// The key that goes to the next printer.
pub const PRINTER: char = 'd';

/// Changes the choice of a key that is not typed. True where it is one of the kind's.
pub fn flip(model: &mut Model, desk: &PrintDesk, key: char) -> bool {
    let has = rows(model, desk).iter().any(|row| row.key == key && row.line.is_none());
    if !has {
        return false;
    }
    if key == 'l' {
        next_label_sheet(model, desk);
        return true;
    }
    let (home, printer) = (home_of(model, desk.paper), printer_of(model, desk));
    let c = &mut model.print;
    match key {
        PRINTER => {
            let names = desk.queues.as_ref().map_or(&[][..], |queues| queues.names.as_slice());
            let next = names.iter().position(|name| *name == printer).map_or(0, |n| (n + 1) % names.len());
            c.printer = names.get(next).cloned().unwrap_or_default();
        }
        'o' if desk.kind() == PageKind::Chart => {
            c.pocket = match c.pocket {
                None => Some(Pocket::Steps),
                Some(Pocket::Steps) => Some(Pocket::Used),
                Some(Pocket::Used) => None,
            };
        }
        'h' => {
            let all = post::all();
            let now = all.iter().position(|rules| rules.id == home);
            let next = now.map_or(0, |n| (n + 1) % all.len());
            c.home.clone_from(&all[next].id);
        }
        'a' if desk.kind() == PageKind::Chart => c.all_sizes = !c.all_sizes,
        'o' => c.run.outlines = !c.run.outlines,
        'a' => c.only_arriving = !c.only_arriving,
        't' => c.patches = !c.patches,
        'e' => c.blank = !c.blank,
        _ => c.form = if c.form == StripForm::Ring { StripForm::Fan } else { StripForm::Ring },
    }
    true
}

/// The next label sheet, own ones first; a start that it does not have begins at its first label again.
fn next_label_sheet(model: &mut Model, desk: &PrintDesk) {
    let now = sheet_of(model, desk).name.clone();
    let built_in = label_sheet::built_in().iter();
    let others =
        built_in.filter(|b| !model.label_sheets.iter().any(|own| label_sheet::is_named(own, &b.name)));
    let all: Vec<&LabelSheet> = model.label_sheets.iter().chain(others).collect();
    let place = all.iter().position(|s| s.name == now).map_or(0, |n| (n + 1) % all.len());
    let (name, count) = (all[place].name.clone(), all[place].count());
    if desk.kind() == PageKind::KitLabels {
        model.print.kit_sheet = name;
    } else {
        model.print.label_sheet = name;
    }
    if model.print.run.start > count {
        model.print.run.start = 1;
    }
}

/// The line that a key opens for the kind in view, with what stands in it.
pub fn line_of(model: &Model, desk: &PrintDesk, key: char) -> Option<(PrintLine, String)> {
    let row = rows(model, desk).into_iter().find(|row| row.key == key)?;
    let c = &model.print;
    let line = row.line?;
    let text = match line {
        PrintLine::File => return None,
        PrintLine::Copies => desk.copies.max(1).to_string(),
        PrintLine::Range => desk.range.clone(),
        PrintLine::Foot => c.footer.clone(),
        PrintLine::Code => c.code.clone(),
        PrintLine::Start => c.run.start.to_string(),
        PrintLine::Nudge => labels::show_nudge(c.run.right, c.run.down),
        PrintLine::Sheet => c.sheet.clone(),
        PrintLine::Back => c.back.clone(),
    };
    Some((line, text))
}

/// Takes what was typed into a line.
///
/// # Errors
/// The sentence that refuses it; nothing is changed then.
pub fn take_line(model: &mut Model, desk: &PrintDesk, line: PrintLine, text: &str) -> Result<(), String> {
    let text = text.trim();
    match line {
        // The printer's own are taken by the desk.
        PrintLine::File | PrintLine::Copies | PrintLine::Range => {}
        PrintLine::Foot => {
            let many = text.chars().count();
            if many > LONGEST_FOOT {
                return Err(format!(
                    "The line at the foot has {many} letters and {LONGEST_FOOT} fit: shorten it."
                ));
            }
            text.clone_into(&mut model.print.footer);
        }
        // How long a code may be is known where it is drawn: the preview refuses a longer one.
        PrintLine::Code => text.clone_into(&mut model.print.code),
        PrintLine::Start => {
            let start = labels::read_start(text, sheet_of(model, desk));
            model.print.run.start = start.map_err(|e| format!("Not taken: {e}."))?;
        }
        PrintLine::Nudge => {
            let (right, down) = labels::read_nudge(text).map_err(|e| format!("Not taken: {e}."))?;
            (model.print.run.right, model.print.run.down) = (right, down);
        }
        PrintLine::Sheet => {
            if !text.is_empty() {
                sheet_named(model, text).map_err(|e| format!("The sheet is not taken: {e}."))?;
            }
            text.clone_into(&mut model.print.sheet);
        }
        PrintLine::Back => {
            if !text.is_empty() {
                sheet_named(model, text).map_err(|e| format!("The back is not taken: {e}."))?;
            }
            text.clone_into(&mut model.print.back);
        }
    }
    Ok(())
}
