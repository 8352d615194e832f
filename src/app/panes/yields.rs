//! Yield: one piece size on one sheet, its cuts as steps, and the chart of all sizes.

pub mod words;

use crate::app::ctx::Ctx;
use crate::app::panes::bench::paper_here::PaperHere;
use crate::app::reading::read_length;
use crate::app::reading::sides;
use crate::app::reading::sides_words;
use crate::app::reply::Replies;
use crate::app::reply::Reply;
use crate::app::state::forms::FormFor;
use crate::app::state::stock::texts::StockText;
use crate::app::state::yields::Handover;
use crate::app::state::yields::YieldChoice;
use crate::app::state::yields::YieldText;
use crate::app::state::yields::{SheetChoice, YieldPane, step_rows};

use crate::app::action::{ShownChart, Solved};
use crate::app::commands::CommandId;
use crate::app::input::list::{Cursor, Move, PAGE};
use crate::app::overlay::{Echo, PickRow, Purpose, Target};
use crate::app::panes::{asked, bench, further, plan, trimmer};
use crate::app::state::views::YieldView;
use crate::domain::cutting::chart::ChartRange;
use crate::domain::length::{Length, Unit};
use crate::domain::plural::count_of;
use crate::domain::reckon;
use crate::domain::sheet::{Edges, Sheet};
use crate::domain::size::Size;

/// Takes a worker's answer, unless it is to an older question.
pub fn solved(pane: &mut YieldPane, number: u64, solved: Solved) -> Option<Reply> {
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
        Solved::Beside(found) => pane.beside.take(number, found),
        Solved::Laid(found) => pane.laid.take(number, found),
        Solved::Failed(_) if pane.laid.waiting == Some(number) => pane.laid.waiting = None,
        Solved::Failed(_) if pane.beside.waiting == Some(number) => pane.beside.waiting = None,
        Solved::Further(found) => {
            further::solved(pane, number, &found);
        }
        Solved::Failed(why) if pane.further.waiting == Some(number) => {
            pane.further.waiting = None;
            return Some(Reply::refuse(why));
        }
        Solved::Failed(why) if pane.waiting == Some(number) || pane.chart_waiting == Some(number) => {
            pane.waiting = None;
            pane.chart_waiting = None;
            return Some(Reply::refuse(why));
        }
        _ => {}
    }
    None
}

fn cell_of(chart: &ShownChart, piece: Size) -> Option<(usize, usize)> {
    let at = chart.cells.iter().position(|c| c.size == piece)?;
    Some((at / chart.side(), at % chart.side()))
}

/// Runs a command of this pane.
pub fn run_yields(pane: &mut YieldPane, ctx: &Ctx, id: CommandId) -> Vec<Reply> {
    use CommandId as Id;
    let mut replies = match id {
        Id::CutLog => bench::open_log(pane, ctx),
        Id::OpenBench => bench::open_from_yield(pane, ctx),
        Id::OpenPlan => plan::open(pane, ctx),
        Id::UseSheets => ask_used(pane, ctx).into_iter().collect(),
        Id::NearSizes
        | Id::WhichPaper
        | Id::UseUp
        | Id::Strips
        | Id::ScrapGives
        | Id::MostCards
        | Id::FromBin => return further::run_further(pane, ctx, id),
        Id::Sheet | Id::ChartSheet => vec![sheets(ctx)],
        Id::Piece
        | Id::SheetSize
        | Id::UnusableEdge
        | Id::Count
        | Id::ChartRange
        | Id::Trimmer
        | Id::PerStroke => {
            vec![prompt(pane, ctx.unit, id)]
        }
        Id::OpenChart => {
            pane.view = YieldView::Chart;
            return asked::chart(pane).into_iter().collect();
        }
        _ => {
            choose(pane, ctx.unit, id);
            Vec::new()
        }
    };
    if !matches!(id, Id::CutLog | Id::OpenBench | Id::OpenPlan) {
        replies.extend(asked::answer(pane));
    }
    replies
}

/// Commands that only turn or move something of the pane.
fn choose(pane: &mut YieldPane, unit: Unit, id: CommandId) {
    use CommandId as Id;
    match id {
        Id::Turn => pane.may_turn = !pane.may_turn,
        Id::OffcutFirst => pane.preference = pane.preference.other(),
        Id::StopCuts => pane.stop_cuts = !pane.stop_cuts,
        Id::StepDown => go(pane, unit, Move::By(1)),
        Id::StepUp => go(pane, unit, Move::By(-1)),
        Id::StepPageDown => go(pane, unit, Move::By(PAGE)),
        Id::StepPageUp => go(pane, unit, Move::By(-PAGE)),
        Id::StepFirst => go(pane, unit, Move::First),
        Id::StepLast => go(pane, unit, Move::Last),
        Id::ChartClose => pane.view = YieldView::Answer,
        Id::ChartTake => take_cell(pane),
        Id::ChartLeft => pane.move_cell(0, -1),
        Id::ChartRight => pane.move_cell(0, 1),
        Id::ChartUp => pane.move_cell(-1, 0),
        Id::ChartDown => pane.move_cell(1, 0),
        Id::ChartPageUp => pane.move_cell(-PAGE, 0),
        Id::ChartPageDown => pane.move_cell(PAGE, 0),
        Id::ChartFirst => pane.cell = (0, 0),
        Id::ChartLast => pane.move_cell(isize::MAX, isize::MAX),
        _ => {}
    }
}

/// The prompt of a command.
fn prompt(pane: &YieldPane, unit: Unit, id: CommandId) -> Reply {
    use CommandId as Id;
    let (what, label, now) = match id {
        Id::Piece => (YieldText::Piece, "Piece, width x height:", String::new()),
        Id::SheetSize => {
            let label = "This sheet measures (then, after a comma, out of square by):";
            (YieldText::SheetSize, label, pane.sheet.sheet.actual().exact(unit))
        }
        Id::UnusableEdge => {
            let label = "Not usable at left, top, right, bottom (empty for none):";
            (YieldText::Edges, label, String::new())
        }
        Id::Count => (YieldText::Count, "How many pieces (empty for one sheet):", String::new()),
        Id::Trimmer => return Reply::Form(FormFor::Trimmer(Box::new(pane.trimmer))),
        Id::PerStroke => return trimmer::ask_strokes(&pane.trimmer),
        _ => (YieldText::ChartRange, "From, to, step:", show_range(pane.chart_range(), unit)),
    };
    Reply::prompt(Purpose::Yield(what), label, now)
}

fn go(pane: &mut YieldPane, unit: Unit, step: Move) {
    let len = pane.current_answer().map_or(0, |a| step_rows(a, unit).len());
    pane.step.go(step, len);
}

fn take_cell(pane: &mut YieldPane) {
    if let Some(size) = pane.picked_size() {
        pane.piece = size;
        pane.view = YieldView::Answer;
    }
}

fn ask_used(pane: &YieldPane, ctx: &Ctx) -> Option<Reply> {
    let paper = pane.sheet.paper?;
    let sheets = pane.sheets_needed().map_or(1, |(n, _)| n);
    let label = format!("Sheets of {} used:", ctx.book.items().name_of(paper));
    Some(Reply::prompt(Purpose::Stock(StockText::UseSheets(paper)), label, sheets.to_string()))
}

/// The papers of the shelf that have a size come first, then the formats.
fn sheets(ctx: &Ctx) -> Reply {
    let row = |name: &str, detail: String, choice| PickRow::new(name, detail, Target::Yield(choice));
    let papers = ctx.book.items().iter().filter(|(_, i)| i.kind.is_paper()).filter_map(|(id, i)| {
        let size = i.cutting_size()?;
        let detail = format!("{} {} on hand", size.about(ctx.unit), ctx.book.on_hand(id));
        Some(row(&i.name, detail, YieldChoice::Paper(id)))
    });
    let formats = ctx.formats.all().iter();
    let formats = formats.map(|f| row(&f.name, f.size.about(ctx.unit), YieldChoice::Format(f.name.clone())));
    Reply::pick("Sheet: paper in stock, or a format", papers.chain(formats).collect())
}

/// Makes a sheet the one in use.
pub fn take_sheet(pane: &mut YieldPane, choice: SheetChoice) -> Vec<Reply> {
    pane.sheet = choice;
    pane.range = None;
    // The plan takes its sheets from the shelf: what is chosen here is seen in the answer.
    if pane.view == YieldView::Plan {
        pane.view = YieldView::Answer;
    }
    let chart = if pane.view == YieldView::Chart { asked::chart(pane) } else { None };
    asked::answer(pane).into_iter().chain(chart).collect()
}

/// Takes what another pane hands over.
pub fn take_over(pane: &mut YieldPane, given: Handover) -> Vec<Reply> {
    if let Some((size, may_turn, count)) = given.piece {
        (pane.piece, pane.may_turn, pane.count) = (size, may_turn, count);
    }
    pane.view = YieldView::Answer;
    match given.sheet {
        Some(choice) => take_sheet(pane, choice),
        None => asked::answer(pane).into_iter().collect(),
    }
}

/// Takes a chosen row.
pub fn take_choice(pane: &mut YieldPane, ctx: &Ctx, choice: YieldChoice) -> Vec<Reply> {
    match choice {
        YieldChoice::Paper(id) => {
            SheetChoice::of_item(ctx.book, id).map_or_else(Vec::new, |choice| take_sheet(pane, choice))
        }
        YieldChoice::Format(name) => match ctx.formats.find(&name) {
            Some(f) => {
                let sheet = Sheet::new(f.name.clone(), f.size);
                take_sheet(pane, SheetChoice { sheet, paper: None })
            }
            None => Vec::new(),
        },
        YieldChoice::Spoiled(what) => bench::spoil::spoiled(pane, ctx, what),
        YieldChoice::SpoiledAfter(row) => bench::after::spoiled(pane, ctx, row),
        YieldChoice::Part(part) => plan::pieces::ask(ctx, part).into_iter().collect(),
    }
}

/// How a text is read, while it is typed.
pub fn echo(pane: &YieldPane, ctx: &Ctx, what: YieldText, text: &str) -> Echo {
    let unit = ctx.unit;
    let text = text.trim();
    let read = match what {
        YieldText::Piece => {
            reckon::size_to_cut(text, unit, pane.trimmer.finest_mark).map(|size| sides_words(size, unit))
        }
        YieldText::SheetSize => measured(text, unit).map(|(size, out)| {
            let out = if out.is_positive() {
                format!(", out of square by {}", out.show_with_unit(unit))
            } else {
                String::new()
            };
            format!("{}{out}", sides_words(size, unit))
        }),
        YieldText::Edges => edges(text, unit).map(|e| sides(&[e.left, e.top, e.right, e.bottom], unit)),
        YieldText::Count => {
            count(text).map(|n| n.map_or("one sheet".to_owned(), |n| count_of(u64::from(n), "piece")))
        }
        YieldText::ChartRange => read_range(text, unit).map(|r| show_range(r, unit)),
        YieldText::PerStroke => trimmer::strokes(text).map(trimmer::stroke_words),
        YieldText::Part(part) => return plan::pieces::echo(ctx, part, text),
        YieldText::SheetsCut => return Echo::Nothing,
        YieldText::PaperHere => PaperHere::read(text, unit).map(|here| here.words(unit)),
        YieldText::Near | YieldText::Scrap | YieldText::UseUp | YieldText::Strips => {
            further::typed::echo(ctx, what, text)
        }
    };
    read.map_or_else(Echo::Refused, Echo::Read)
}

/// Takes a text.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept(pane: &mut YieldPane, ctx: &Ctx, what: YieldText, text: &str) -> Replies {
    let unit = ctx.unit;
    let text = text.trim();
    match what {
        YieldText::Piece => pane.piece = reckon::size_to_cut(text, unit, pane.trimmer.finest_mark)?,
        YieldText::SheetSize => {
            let (size, out) = measured(text, unit)?;
            let sheet = &mut pane.sheet.sheet;
            sheet.measured = (size != sheet.size).then_some(size);
            sheet.out_of_square = Size::new(out, out);
        }
        YieldText::Edges => pane.sheet.sheet.unusable = edges(text, unit)?,
        YieldText::Count => pane.count = count(text)?,
        YieldText::ChartRange => {
            pane.range = Some(read_range(text, unit)?);
            return Ok(asked::chart(pane).into_iter().collect());
        }
        YieldText::PerStroke => return trimmer::accept_strokes(pane, text),
        YieldText::Part(part) => return plan::pieces::accept(ctx, part, text),
        YieldText::SheetsCut => return bench::accept(pane, ctx, text),
        YieldText::PaperHere => return bench::paper_here::accept(pane, ctx, text),
        YieldText::Near | YieldText::Scrap | YieldText::UseUp | YieldText::Strips => {
            return further::accept(pane, ctx, what, text);
        }
    }
    Ok(asked::answer(pane).into_iter().collect())
}

/// What the pane asks for when the bench is opened as it was left: the answer, the chart, the plan.
pub fn resume(pane: &mut YieldPane, ctx: &Ctx) -> Vec<Reply> {
    let mut replies: Vec<Reply> = asked::answer(pane).into_iter().collect();
    match pane.view {
        YieldView::Chart => replies.extend(asked::chart(pane)),
        YieldView::Plan => {
            let layout = pane.plan.cursor;
            replies.extend(plan::open(pane, ctx));
            pane.plan.cursor = layout;
            if pane.plan.job.is_none() {
                pane.view = YieldView::Answer;
            }
        }
        YieldView::Answer | YieldView::Bench | YieldView::Further => {}
    }
    replies
}

fn edges(text: &str, unit: Unit) -> Result<Edges, String> {
    if text.is_empty() {
        return Ok(Edges::NONE);
    }
    let one = |t: &str| match t.trim() {
        "0" => Ok(Length::ZERO),
        t => read_length(t, unit),
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
        _ => Err(format!(
            "\"{text}\" is not a count: write a whole number from 1 to 1000000, or leave it empty"
        )),
    }
}

fn show_range(range: ChartRange, unit: Unit) -> String {
    format!("{}, {}, {}", range.from.exact(unit), range.to.exact(unit), range.step.exact(unit))
}

fn read_range(text: &str, unit: Unit) -> Result<ChartRange, String> {
    let parts: Vec<&str> = text.split(',').collect();
    let [from, to, step] = parts.as_slice() else {
        return Err(format!("\"{text}\": write three lengths with commas between them: from, to, step"));
    };
    let read = |t: &str| read_length(t, unit);
    ChartRange::checked(read(from)?, read(to)?, read(step)?).map_err(|e| e.to_string())
}

/// A measured size, and how far the ends are out of square.
fn measured(text: &str, unit: Unit) -> Result<(Size, Length), String> {
    let (size, out) = text.split_once(',').unwrap_or((text, ""));
    let out = if out.trim().is_empty() { Length::ZERO } else { read_length(out, unit)? };
    Ok((reckon::size(size, unit)?, out))
}
