//! `yield --near` and `yield --held`: a little smaller, and over all papers held.

use super::json::{number, size as size_json};
use super::{YieldArgs, count, finest_mark, max_cut};
use crate::cli::{BadInput, Desk, open_store};
use crate::domain::cutting::neighbours::{self, NearAsk, Neighbour, Neighbours};
use crate::domain::cutting::question::{Question, Trimmer};
use crate::domain::cutting::stop::Stop;
use crate::domain::length::{Length, Unit};
use crate::domain::sheet::Sheet;
use crate::domain::shelf_answers::held;
use crate::domain::shelf_answers::near_held::{NearHeld, NearHeldAsk, NearPiece, NearSheet, near_held};
use crate::domain::shelf_answers::which_paper::{self, PaperAsk, PaperChoice, PaperRow};
use crate::domain::size::Size;
use serde_json::{Value, json};

/// Reads `--near`.
///
/// # Errors
/// [`BadInput`] with the sentence that refuses it.
pub fn range(args: &YieldArgs, unit: Unit) -> anyhow::Result<Option<Length>> {
    let Some(text) = &args.near else { return Ok(None) };
    if args.max_cut.is_some() {
        let why = "--near counts with every cut that there is: leave --max-cut out";
        return Err(BadInput(why.to_owned()).into());
    }
    let range = Length::parse(text, unit).map_err(|e| BadInput::from_error(format!("--near: {e}")))?;
    neighbours::checked_range(range).map(Some).map_err(|e| BadInput::from_error(format!("--near: {e}")))
}

/// The smaller sizes of one question.
pub fn of_sheet(question: &Question, range: Length) -> Neighbours {
    let ask = NearAsk {
        piece: question.piece,
        room: question.sheet.usable().size,
        may_turn: question.may_turn,
        range,
        mark: question.trimmer.finest_mark,
    };
    neighbours::smaller(&ask, &Stop::default())
}

/// Adds the smaller sizes to an answer for programs.
pub fn add_to(answer: &mut Value, piece: Size, near: &Neighbours, unit: Unit) {
    answer["near"] = rows_json(piece, near, unit);
    answer["near_proved"] = json!(near.proved);
}

fn rows_json(piece: Size, near: &Neighbours, unit: Unit) -> Value {
    let row = |r: &Neighbour| {
        json!({
            "way": r.way.word(),
            "size": size_json(r.size, unit),
            "cut": size_json(r.cut, unit),
            "less": size_json(r.less(piece), unit),
            "best": r.gives,
        })
    };
    near.rows.iter().map(row).collect()
}

/// The smaller sizes as text.
///
/// # Errors
/// When it cannot be written.
pub fn show(piece: Size, near: &Neighbours, range: Length, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let unit = desk.unit;
    if near.rows.is_empty() {
        let range = range.show_with_unit(unit);
        writeln!(desk.out, "\nNo size up to {range} smaller gives more than {}.", near.now)?;
    } else {
        writeln!(desk.out, "\nA little smaller:")?;
        for row in &near.rows {
            writeln!(desk.out, "  {}", neighbours::words(row, piece, near.now, unit))?;
        }
    }
    if !near.proved {
        writeln!(desk.note, "{}", neighbours::NOT_PROVED)?;
    }
    Ok(())
}

/// `yield PIECE --held`: the piece on every paper of the shelf.
///
/// # Errors
/// [`BadInput`] for what the person can mend, a failure where the book cannot be read.
pub fn over_papers(args: &YieldArgs, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let unit = desk.unit;
    let piece = super::piece(args, unit)?;
    Question::new(piece, Sheet::new("sheet", piece)).check().map_err(BadInput::from_error)?;
    let range = range(args, unit)?;
    let longest_cut = args.max_cut.as_deref().map(|text| max_cut(text, unit)).transpose()?;
    let limits = Trimmer { longest_cut, ..Trimmer::default() }.limits();
    let count = args.count.as_deref().map(count).transpose()?;
    let store = open_store(desk)?;
    let (papers, currency) = (held::papers(store.book()), store.book().settings().currency.clone());
    let ask = PaperAsk { piece, may_turn: !args.no_turn, count, limits, papers, currency };
    let choice = which_paper::choose(&ask, &Stop::default());
    let asked = range.map(|range| near_ask(&ask, range, unit));
    let near = asked.as_ref().map(|asked| near_held(asked, &Stop::default()));
    if args.json {
        let answer = held_json(&ask, &choice, near.as_deref(), unit);
        return desk.json(&answer);
    }
    for line in which_paper::lines(&ask, &choice, unit) {
        writeln!(desk.out, "{line}")?;
    }
    if let (Some(asked), Some(all)) = (asked, near) {
        for one in all.iter().filter(|one| !one.near.rows.is_empty()) {
            writeln!(desk.out, "\nA little smaller on {}:", one.on(&asked))?;
            for row in &one.near.rows {
                writeln!(desk.out, "  {}", neighbours::words(row, piece, one.near.now, unit))?;
            }
        }
    }
    Ok(())
}

/// The question for smaller sizes on every paper, which keep their places.
fn near_ask(ask: &PaperAsk, range: Length, unit: Unit) -> NearHeldAsk {
    let piece = NearPiece {
        name: String::new(),
        layer: None,
        size: ask.piece,
        may_turn: ask.may_turn,
        reveal: None,
        paper: None,
    };
    let sheets = ask.papers.iter().map(NearSheet::of).collect();
    NearHeldAsk { pieces: vec![piece], sheets, range, mark: finest_mark(unit) }
}

fn held_json(ask: &PaperAsk, choice: &PaperChoice, near: Option<&[NearHeld]>, unit: Unit) -> Value {
    let names = |of: &[usize]| -> Value {
        of.iter().filter_map(|n| choice.rows.get(*n)).map(|r| r.paper.name.clone()).collect()
    };
    let mut answer = json!({
        "unit": unit.sign(),
        "piece": size_json(ask.piece, unit),
        "turn": ask.may_turn,
        "count": ask.count,
        "papers": choice.rows.iter().map(|r| row_json(r, ask.piece, unit)).collect::<Vec<_>>(),
        "cheapest": names(&choice.cheapest),
        "least_waste": names(&choice.least_waste),
        "leaving_first": names(&choice.leaving),
        "unpriced": choice.unpriced,
        "too_small": choice.too_small,
    });
    if let Some(near) = near {
        // Each paper has a row of its own, in the order of the shelf.
        let mut rows: Vec<(usize, &NearHeld)> = Vec::new();
        for one in near {
            rows.extend(one.sheets().into_iter().map(|at| (at, one)));
        }
        rows.sort_by_key(|(at, _)| *at);
        let row = |(at, one): (usize, &NearHeld)| {
            Some(json!({
                "paper": ask.papers.get(at)?.name, "best": one.near.now, "proved": one.near.proved,
                "near": rows_json(ask.piece, &one.near, unit),
            }))
        };
        answer["near"] = rows.into_iter().filter_map(row).collect();
    }
    answer
}

fn row_json(row: &PaperRow, piece: Size, unit: Unit) -> Value {
    json!({
        "paper": row.paper.name,
        "width": number(row.paper.size.width, unit),
        "height": number(row.paper.size.height, unit),
        "free": row.paper.free,
        "state": row.paper.state.word(),
        "best": row.a_sheet,
        "proved": row.proved,
        "sheets": row.sheets,
        "enough": row.is_enough,
        "waste_percent": row.waste_percent(piece),
        "price_each": row.each().map(crate::domain::stock::cost::Each::exact),
    })
}
