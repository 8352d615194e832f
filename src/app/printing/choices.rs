//! What a person chooses about pages beside their kind and paper: a line and a code of their own, how labels lie on
//! their sheet, what is on the back of a chart. Decides which choices a kind has and what may be typed into them.

pub use crate::app::state::print::Line;

use super::{PageKind, PrintDesk};
use crate::app::model::Model;
use crate::domain::cutting::chart::ChartRange;
use crate::domain::pages::chart::{Asked, Pocket};
use crate::domain::pages::frame::Paper;
use crate::domain::pages::label_sheet::{self, LabelSheet};
use crate::domain::pages::labels::{self, Run};
use crate::domain::pages::shelf;
use crate::domain::pages::trios::Form;
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
    pub line: Option<Line>,
}

/// The choices that the kind in view has, in the order shown.
pub fn rows(model: &Model, desk: &PrintDesk) -> Vec<ChoiceRow> {
    let c = &model.print;
    let row = |key, label, value: String, line| ChoiceRow { key, label, value, line };
    let yes = |is: bool| if is { "yes" } else { "no" }.to_owned();
    let or_none = |text: &str| if text.is_empty() { "none" } else { text }.to_owned();
    let mut rows = Vec::new();
    match desk.kind() {
        PageKind::Labels | PageKind::KitLabels => {
            let sheet = label_sheet_of(model, desk.paper);
            rows.push(row('l', "sheet", sheet.name.clone(), None));
            rows.push(row(
                's',
                "start",
                format!("label {} of {}", c.run.start, sheet.count()),
                Some(Line::Start),
            ));
            rows.push(row('n', "nudge", nudge_words(&c.run), Some(Line::Nudge)));
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
            rows.push(row('s', "sheet", chart_sheet_of(model).name, Some(Line::Sheet)));
            let form = match c.pocket {
                None => "wall",
                Some(Pocket::Steps) => "pocket, four a page",
                Some(Pocket::Used) => "pocket, your sizes",
            };
            rows.push(row('o', "form", form.to_owned(), None));
            if c.pocket.is_none() {
                rows.push(row('a', "sizes", if c.all_sizes { "all" } else { "one page" }.to_owned(), None));
                rows.push(row('b', "back", or_none(&c.back), Some(Line::Back)));
            }
        }
        PageKind::Trios => {
            rows.push(row('r', "form", c.form.word().to_owned(), None));
            rows.push(row('e', "empty", yes(c.blank), None));
        }
        _ => {}
    }
    rows.push(row('w', "foot", or_none(&c.footer), Some(Line::Foot)));
    rows.push(row('x', "code", or_none(&c.code), Some(Line::Code)));
    rows
}

fn nudge_words(run: &Run) -> String {
    match (run.right, run.down) {
        (0, 0) => "none".to_owned(),
        (right, down) => format!("{} mm", labels::show_nudge(right, down)),
    }
}

/// The label sheet that is chosen: the usual one of the paper where none is, or where it is known no more.
pub fn label_sheet_of(model: &Model, paper: Paper) -> &LabelSheet {
    let all = || model.label_sheets.iter().chain(label_sheet::built_in());
    let named = |name: &str| all().find(move |s| label_sheet::is_named(s, name));
    let usual = if paper == Paper::A4 { "a4 21" } else { "letter 30" };
    named(&model.print.label_sheet).or_else(|| named(usual)).unwrap_or(&label_sheet::built_in()[0])
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

/// Changes the choice of a key that is not typed. True where it is one of the kind's.
pub fn flip(model: &mut Model, desk: &PrintDesk, key: char) -> bool {
    let has = rows(model, desk).iter().any(|row| row.key == key && row.line.is_none());
    if !has {
        return false;
    }
    if key == 'l' {
        next_label_sheet(model, desk.paper);
        return true;
    }
    let c = &mut model.print;
    match key {
        'o' if desk.kind() == PageKind::Chart => {
            c.pocket = match c.pocket {
                None => Some(Pocket::Steps),
                Some(Pocket::Steps) => Some(Pocket::Used),
                Some(Pocket::Used) => None,
            };
        }
        'a' if desk.kind() == PageKind::Chart => c.all_sizes = !c.all_sizes,
        'o' => c.run.outlines = !c.run.outlines,
        'a' => c.only_arriving = !c.only_arriving,
        't' => c.patches = !c.patches,
        'e' => c.blank = !c.blank,
        _ => c.form = if c.form == Form::Ring { Form::Fan } else { Form::Ring },
    }
    true
}

/// The next label sheet, own ones first; a start that it does not have begins at its first label again.
fn next_label_sheet(model: &mut Model, paper: Paper) {
    let now = label_sheet_of(model, paper).name.clone();
    let built_in = label_sheet::built_in().iter();
    let others =
        built_in.filter(|b| !model.label_sheets.iter().any(|own| label_sheet::is_named(own, &b.name)));
    let all: Vec<&LabelSheet> = model.label_sheets.iter().chain(others).collect();
    let place = all.iter().position(|s| s.name == now).map_or(0, |n| (n + 1) % all.len());
    let (name, count) = (all[place].name.clone(), all[place].count());
    model.print.label_sheet = name;
    if model.print.run.start > count {
        model.print.run.start = 1;
    }
}

/// The line that a key opens for the kind in view, with what stands in it.
pub fn line_of(model: &Model, desk: &PrintDesk, key: char) -> Option<(Line, String)> {
    let row = rows(model, desk).into_iter().find(|row| row.key == key)?;
    let c = &model.print;
    let line = row.line?;
    let text = match line {
        Line::File => return None,
        Line::Foot => c.footer.clone(),
        Line::Code => c.code.clone(),
        Line::Start => c.run.start.to_string(),
        Line::Nudge => labels::show_nudge(c.run.right, c.run.down),
        Line::Sheet => c.sheet.clone(),
        Line::Back => c.back.clone(),
    };
    Some((line, text))
}

/// Takes what was typed into a line.
///
/// # Errors
/// The sentence that refuses it; nothing is changed then.
pub fn take(model: &mut Model, paper: Paper, line: Line, text: &str) -> Result<(), String> {
    let text = text.trim();
    match line {
        Line::File => {}
        Line::Foot => {
            let many = text.chars().count();
            if many > LONGEST_FOOT {
                return Err(format!(
                    "The line at the foot has {many} letters and {LONGEST_FOOT} fit: shorten it."
                ));
            }
            text.clone_into(&mut model.print.footer);
        }
        // How long a code may be is known where it is drawn: the preview refuses a longer one.
        Line::Code => text.clone_into(&mut model.print.code),
        Line::Start => {
            let start = labels::read_start(text, label_sheet_of(model, paper));
            model.print.run.start = start.map_err(|e| format!("Not taken: {e}."))?;
        }
        Line::Nudge => {
            let (right, down) = labels::read_nudge(text).map_err(|e| format!("Not taken: {e}."))?;
            (model.print.run.right, model.print.run.down) = (right, down);
        }
        Line::Sheet => {
            if !text.is_empty() {
                sheet_named(model, text).map_err(|e| format!("The sheet is not taken: {e}."))?;
            }
            text.clone_into(&mut model.print.sheet);
        }
        Line::Back => {
            if !text.is_empty() {
                sheet_named(model, text).map_err(|e| format!("The back is not taken: {e}."))?;
            }
            text.clone_into(&mut model.print.back);
        }
    }
    Ok(())
}
