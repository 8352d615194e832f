//! Yield: one piece size on one sheet, its cuts as steps, and the chart of all sizes.

pub mod said;

pub use crate::app::state::yields::{SheetChoice, StepRow, YieldPane, shown_layout, step_rows};

use crate::app::action::{Chart, Solved};
use crate::app::commands::CommandId;
use crate::app::effect::{Ask, Effect};
use crate::app::finder;
use crate::app::input::list::{Cursor, Move, PAGE};
use crate::app::model::Model;
use crate::app::overlay::{Echo, Overlay, PickRow, Purpose, Target};
use crate::app::panes::{bench, plan, trimmer};
use crate::app::prompt;
use crate::app::state::views::YieldView;
use crate::app::status::Status;
use crate::app::update;
use crate::domain::cutting::chart::ChartRange;
use crate::domain::cutting::question::Preference;
use crate::domain::edit::Edit;
use crate::domain::length::{Length, Unit};
use crate::domain::reckon;
use crate::domain::settings::BookSettings;
use crate::domain::sheet::{Edges, Sheet};
use crate::domain::size::Size;
use crate::domain::stock::ItemId;

/// Puts the question on screen to a worker, unless its answer is there.
pub fn ask(model: &mut Model) -> Vec<Effect> {
    if model.yields.current_answer().is_some() {
        model.yields.waiting = None;
        return Vec::new();
    }
    let number = model.next_ask();
    model.yields.waiting = Some(number);
    vec![Effect::Solve(number, Ask::Yield(Box::new(model.yields.question())))]
}

/// Asks for the chart of the sheet on screen, unless it is there.
pub(in crate::app) fn ask_chart(model: &mut Model) -> Vec<Effect> {
    let ask = model.yields.chart_ask();
    if model.yields.chart.as_ref().is_some_and(|c| c.ask == ask) {
        return Vec::new();
    }
    let number = model.next_ask();
    model.yields.chart_waiting = Some(number);
    vec![Effect::Solve(number, Ask::Chart(Box::new(ask)))]
}

/// Takes a worker's answer, unless it is to an older question.
pub fn solved(model: &mut Model, number: u64, solved: Solved) -> Vec<Effect> {
    let pane = &mut model.yields;
    match solved {
        Solved::Yield(answer) if pane.waiting == Some(number) => {
            pane.waiting = None;
            pane.answer = Some(answer);
            pane.step = Cursor::default();
        }
        Solved::Chart(chart) if pane.chart_waiting == Some(number) => {
            pane.chart_waiting = None;
            // As it was left, on the first chart after a start; else on the piece in hand.
            let left = pane.chart.is_none() && pane.cell != (0, 0);
            if !left || chart.cell(pane.cell.0, pane.cell.1).is_none() {
                pane.cell = cell_of(&chart, pane.piece).unwrap_or((0, 0));
            }
            pane.chart = Some(chart);
        }
        Solved::Failed(why) if pane.waiting == Some(number) || pane.chart_waiting == Some(number) => {
            pane.waiting = None;
            pane.chart_waiting = None;
            model.tell(Status::refused(why));
        }
        _ => {}
    }
    Vec::new()
}

fn cell_of(chart: &Chart, piece: Size) -> Option<(usize, usize)> {
    let at = chart.cells.iter().position(|c| c.size == piece)?;
    Some((at / chart.side(), at % chart.side()))
}

/// Runs a command of this pane.
pub fn run(model: &mut Model, id: CommandId) -> Vec<Effect> {
    use CommandId as Id;
    let unit = model.screen.unit;
    match id {
        Id::Piece => prompt::open(model, Purpose::Piece, "Piece, width x height:", ""),
        Id::Sheet | Id::ChartSheet => open_sheets(model),
        Id::SheetSize => {
            let now = model.yields.sheet.sheet.actual().show(unit);
            prompt::open(
                model,
                Purpose::SheetSize,
                "This sheet measures (then, after a comma, out of square by):",
                &now,
            );
        }
        Id::UnusableEdge => {
            prompt::open(
                model,
                Purpose::Edges,
                "Not usable at left, top, right, bottom (empty for none):",
                "",
            );
        }
        Id::Count => prompt::open(model, Purpose::Count, "How many pieces (empty for one sheet):", ""),
        Id::CutLog => return bench::open_log(model),
        Id::Trimmer => trimmer::open(model),
        Id::PerStroke => trimmer::open_strokes(model),
        Id::Turn => model.yields.may_turn = !model.yields.may_turn,
        Id::OffcutFirst => {
            model.yields.preference = match model.yields.preference {
                Preference::FewestSettings => Preference::LargestOffcut,
                Preference::LargestOffcut => Preference::FewestSettings,
            };
        }
        Id::StopCuts => model.yields.stop_cuts = !model.yields.stop_cuts,
        Id::StepDown => go(model, Move::By(1)),
        Id::StepUp => go(model, Move::By(-1)),
        Id::StepPageDown => go(model, Move::By(PAGE)),
        Id::StepPageUp => go(model, Move::By(-PAGE)),
        Id::StepFirst => go(model, Move::First),
        Id::StepLast => go(model, Move::Last),
        Id::OpenChart => {
            model.yields.view = YieldView::Chart;
            return ask_chart(model);
        }
        Id::ChartClose => model.yields.view = YieldView::Answer,
        Id::ChartRange => {
            let now = show_range(model.yields.chart_range(), unit);
            prompt::open(model, Purpose::ChartRange, "From, to, step:", &now);
        }
        Id::ChartTake => return take_cell(model),
        Id::ChartLeft => model.yields.move_cell(0, -1),
        Id::ChartRight => model.yields.move_cell(0, 1),
        Id::ChartUp => model.yields.move_cell(-1, 0),
        Id::ChartDown => model.yields.move_cell(1, 0),
        Id::ChartPageUp => model.yields.move_cell(-PAGE, 0),
        Id::ChartPageDown => model.yields.move_cell(PAGE, 0),
        Id::ChartFirst => model.yields.cell = (0, 0),
        Id::ChartLast => model.yields.move_cell(isize::MAX, isize::MAX),
        Id::OpenBench => return bench::open_from_yield(model),
        Id::OpenPlan => return plan::open(model),
        Id::UseSheets => open_use(model),
        _ => {}
    }
    ask(model)
}

fn go(model: &mut Model, step: Move) {
    let unit = model.screen.unit;
    let len = model.yields.current_answer().map_or(0, |a| step_rows(a, unit).len());
    model.yields.step.go(step, len);
}

fn take_cell(model: &mut Model) -> Vec<Effect> {
    if let Some(size) = model.yields.picked_size() {
        model.yields.piece = size;
        model.yields.view = YieldView::Answer;
    }
    ask(model)
}

fn open_use(model: &mut Model) {
    let Some(paper) = model.yields.sheet.paper else { return };
    let sheets = model.yields.sheets_needed().map_or(1, |(n, _)| n);
    let name = model.book.items().name_of(paper);
    prompt::open(model, Purpose::UseSheets(paper), &format!("Sheets of {name} used:"), &sheets.to_string());
}

/// The papers of the shelf that have a size come first, then the formats.
fn open_sheets(model: &mut Model) {
    let unit = model.screen.unit;
    let papers = model.book.items().iter().filter(|(_, i)| i.kind.is_paper()).filter_map(|(id, i)| {
        let size = i.cutting_size()?;
        let held = model.book.on_hand(id);
        let detail = format!("{} {held} on hand", size.about(unit));
        Some(PickRow { label: i.name.clone(), detail, target: Target::Paper(id), is_live: true })
    });
    let formats = model.formats.all().iter().map(|f| PickRow {
        label: f.name.clone(),
        detail: f.size.about(unit),
        target: Target::Format(f.name.clone()),
        is_live: true,
    });
    let rows = papers.chain(formats).collect();
    model.overlays.push(Overlay::Picker(finder::picker("Sheet: paper in stock, or a format", rows)));
}

/// Makes a sheet the one in use.
pub fn take_sheet(model: &mut Model, choice: SheetChoice) -> Vec<Effect> {
    model.yields.sheet = choice;
    model.yields.range = None;
    // The plan takes its sheets from the shelf: what is chosen here is seen in the answer.
    if model.yields.view == YieldView::Plan {
        model.yields.view = YieldView::Answer;
    }
    let mut effects = ask(model);
    if model.yields.view == YieldView::Chart {
        effects.extend(ask_chart(model));
    }
    effects
}

/// The sheet that a line of stock is cut from, if it has a size.
pub fn sheet_of_item(model: &Model, id: ItemId) -> Option<SheetChoice> {
    let item = model.book.items().get(id)?;
    let mut sheet = Sheet::new(item.name.clone(), item.size.or(item.measured)?);
    sheet.measured = item.measured;
    sheet.grain = item.grain;
    Some(SheetChoice { sheet, paper: Some(id) })
}

/// How a prompt's text is read, while it is typed.
pub fn echo(model: &Model, purpose: &Purpose, text: &str) -> Echo {
    let unit = model.screen.unit;
    let text = text.trim();
    let read = match purpose {
        Purpose::Piece => prompt::size_words(text, unit),
        Purpose::SheetSize => measured(text, unit).map(|(size, out)| {
            let out = if out.is_positive() {
                format!(", out of square by {}", out.show_with_unit(unit))
            } else {
                String::new()
            };
            format!("{}{out}", prompt::sides_words(size, unit))
        }),
        Purpose::Edges => edges(text, unit).map(|e| prompt::sides(&[e.left, e.top, e.right, e.bottom], unit)),
        Purpose::Count => count(text).map(|n| n.map_or("one sheet".to_owned(), |n| format!("{n} pieces"))),
        Purpose::ChartRange => read_range(text, unit).map(|r| show_range(r, unit)),
        _ => return Echo::Nothing,
    };
    read.map_or_else(Echo::Refused, Echo::Read)
}

/// Takes a prompt's text.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept(model: &mut Model, purpose: &Purpose, text: &str) -> Result<Vec<Effect>, String> {
    let unit = model.screen.unit;
    let text = text.trim();
    match purpose {
        Purpose::Piece => model.yields.piece = reckon::size(text, unit)?,
        Purpose::SheetSize => {
            let (size, out) = measured(text, unit)?;
            let sheet = &mut model.yields.sheet.sheet;
            sheet.measured = (size != sheet.size).then_some(size);
            sheet.out_of_square = Size::new(out, out);
        }
        Purpose::Edges => model.yields.sheet.sheet.unusable = edges(text, unit)?,
        Purpose::Count => model.yields.count = count(text)?,
        Purpose::ChartRange => {
            model.yields.range = Some(read_range(text, unit)?);
            return Ok(ask_chart(model));
        }
        _ => {}
    }
    Ok(ask(model))
}

/// Keeps the trimmer's longest cut in the book, where the panes and the command line find it.
///
/// # Errors
/// The sentence that refuses it.
pub fn set_longest_cut(model: &mut Model, cut: Option<Length>) -> Result<Vec<Effect>, String> {
    let was = model.book.settings().clone();
    if was.longest_cut == cut {
        return Ok(Vec::new());
    }
    let words = cut.map_or("no limit".to_owned(), |l| l.show_with_unit(model.screen.unit));
    let now = BookSettings { longest_cut: cut, ..was.clone() };
    let edit = Edit::Settings { was: Box::new(was), now: Box::new(now) };
    update::make(model, Edit::batch(format!("set the longest cut to {words}"), vec![edit]))
}

/// What the pane asks for when the bench is opened as it was left: the answer, the chart, the plan.
pub fn resume(model: &mut Model) -> Vec<Effect> {
    let mut effects = ask(model);
    match model.yields.view {
        YieldView::Chart => effects.extend(ask_chart(model)),
        YieldView::Plan => {
            let layout = model.yields.plan.cursor;
            effects.extend(plan::open(model));
            model.yields.plan.cursor = layout;
            if model.yields.plan.job.is_none() {
                model.yields.view = YieldView::Answer;
            }
        }
        YieldView::Answer | YieldView::Bench => {}
    }
    effects
}

fn edges(text: &str, unit: Unit) -> Result<Edges, String> {
    if text.is_empty() {
        return Ok(Edges::NONE);
    }
    let one = |t: &str| match t.trim() {
        "0" => Ok(Length::ZERO),
        t => prompt::read_length(t, unit),
    };
    let parts = text.split(',').map(one).collect::<Result<Vec<_>, _>>()?;
    match parts.as_slice() {
        [all] => Ok(Edges { left: *all, top: *all, right: *all, bottom: *all }),
        [left, top, right, bottom] => Ok(Edges { left: *left, top: *top, right: *right, bottom: *bottom }),
        _ => Err(format!("\"{text}\": write one width for all sides, or four: left, top, right, bottom")),
    }
}

fn count(text: &str) -> Result<Option<u32>, String> {
    match text.parse::<u32>() {
        _ if text.is_empty() => Ok(None),
        Ok(n @ 1..=1_000_000) => Ok(Some(n)),
        _ => Err(format!("\"{text}\" is not a count: write a whole number from 1 to 1000000, or nothing")),
    }
}

fn show_range(range: ChartRange, unit: Unit) -> String {
    format!("{}, {}, {}", range.from.show(unit), range.to.show(unit), range.step.show(unit))
}

fn read_range(text: &str, unit: Unit) -> Result<ChartRange, String> {
    let parts: Vec<&str> = text.split(',').collect();
    let [from, to, step] = parts.as_slice() else {
        return Err(format!("\"{text}\": write three lengths with commas between them: from, to, step"));
    };
    let read = |t: &str| prompt::read_length(t, unit);
    ChartRange::checked(read(from)?, read(to)?, read(step)?).map_err(|e| e.to_string())
}

/// A measured size, and how far the ends are out of square.
fn measured(text: &str, unit: Unit) -> Result<(Size, Length), String> {
    let (size, out) = text.split_once(',').unwrap_or((text, ""));
    let out = if out.trim().is_empty() { Length::ZERO } else { prompt::read_length(out, unit)? };
    Ok((reckon::size(size, unit)?, out))
}
