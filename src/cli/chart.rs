//! `trimside chart`: the arguments and the answer.

use super::yields::sheet;
use super::{BadInput, Desk};
use crate::domain::cutting::chart::{Cell, ChartRange, cells};
use crate::domain::cutting::question::{Limits, SMALLEST_SIDE};
use crate::domain::length::{Length, Unit};
use crate::domain::sheet::Sheet;
use serde_json::{Value, json};

/// The counts of every size from one sheet.
#[derive(clap::Args, Debug)]
pub struct ChartArgs {
    /// The sheet: a format (letter, a4, 12x12) or width x height
    #[arg(long, value_name = "SHEET", allow_hyphen_values = true)]
    pub sheet: String,
    /// The first size [default: 1/2 in]
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub from: Option<String>,
    /// The last size [default: half the longer side of the sheet]
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub to: Option<String>,
    /// From one size to the next [default: 1/4 in]
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub step: Option<String>,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
    /// Answer as CSV
    #[arg(long, conflicts_with = "json")]
    pub csv: bool,
}

/// Answers the command.
///
/// # Errors
/// [`super::BadInput`] for what the person can mend, anything else for a failure.
pub fn answer_chart(args: &ChartArgs, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let sheet = sheet(&args.sheet, desk)?;
    let range = range(args, &sheet, desk.unit)?;
    let cells = cells(&sheet, &range, true, Limits::NONE);
    let open = cells.iter().filter(|c| !c.proved).count();
    if open > 0 {
        writeln!(
            desk.note,
            "{open} of {} sizes were not searched to the end: they may give more (? in the table, proved false in the data); ask for one alone with trimside yield",
            cells.len()
        )?;
    }
    if args.json {
        let value = as_json(&sheet, &cells, desk.unit);
        return desk.json(&value);
    }
    if args.csv {
        return as_csv(&cells, desk);
    }
    show(&sheet, &range, &cells, desk)
}

fn range(args: &ChartArgs, sheet: &Sheet, unit: Unit) -> anyhow::Result<ChartRange> {
    let usual = ChartRange::for_sheet(sheet);
    let length = |name: &str, text: &Option<String>, usual: Length| match text {
        None => Ok(usual),
        Some(text) => Length::parse(text, unit).map_err(|e| BadInput::from_error(format!("--{name}: {e}"))),
    };
    let from = length("from", &args.from, usual.from)?;
    let step = length("step", &args.step, usual.step)?;
    // A first size of one's own past the usual last one asks for that size alone.
    let to = length("to", &args.to, usual.to.max(from))?;
    if from < SMALLEST_SIDE {
        return Err(BadInput::from_error(format!(
            "--from: {} is under 1/16 in (1.6 mm), which nobody can cut: start larger",
            from.show_with_unit(unit)
        )));
    }
    ChartRange::checked(from, to, step)
        .map_err(|e| BadInput::from_error(format!("--from, --to, --step: {e}")))
}

fn as_json(sheet: &Sheet, cells: &[Cell], unit: Unit) -> Value {
    let cell = |c: &Cell| {
        json!({
            "width": c.size.width.in_unit(unit),
            "height": c.size.height.in_unit(unit),
            "upright": c.upright,
            "turned": c.turned,
            "best": c.best,
            "proved": c.proved,
        })
    };
    json!({
        "unit": unit.sign(),
        "sheet": super::yields::size_json(sheet.actual(), unit),
        "cells": cells.iter().map(cell).collect::<Vec<_>>(),
    })
}

fn as_csv(cells: &[Cell], desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let unit = desk.unit;
    let mut table = csv::Writer::from_writer(&mut *desk.out);
    table.write_record(["width", "height", "upright", "turned", "best", "proved"])?;
    for cell in cells {
        table.write_record([
            cell.size.width.in_unit(unit).to_string(),
            cell.size.height.in_unit(unit).to_string(),
            cell.upright.to_string(),
            cell.turned.to_string(),
            cell.best.to_string(),
            cell.proved.to_string(),
        ])?;
    }
    Ok(table.flush()?)
}

/// A table of the best counts; a star where mixing both ways gains, a question mark where more may be had.
fn show(sheet: &Sheet, range: &ChartRange, cells: &[Cell], desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let unit = desk.unit;
    let values = range.values();
    let head: Vec<String> = values.iter().map(|v| v.about(unit)).collect();
    let texts: Vec<String> = cells.iter().map(text).collect();
    let wide = head.iter().chain(&texts).map(|t| t.chars().count()).max().unwrap_or(0).max(5) + 1;
    writeln!(
        desk.out,
        "Pieces from {} ({}), {}; rows by width, columns by height; * = more than all one way.",
        sheet.name,
        sheet.actual().show_with_unit(unit),
        unit.sign()
    )?;
    write!(desk.out, "{:>wide$}", "")?;
    for name in &head {
        write!(desk.out, "{name:>wide$}")?;
    }
    writeln!(desk.out)?;
    for (name, row) in head.iter().zip(texts.chunks(values.len().max(1))) {
        write!(desk.out, "{name:>wide$}")?;
        for text in row {
            write!(desk.out, "{text:>wide$}")?;
        }
        writeln!(desk.out)?;
    }
    Ok(())
}

/// A count with its signs.
fn text(cell: &Cell) -> String {
    let star = if cell.best > cell.upright.max(cell.turned) { "*" } else { "" };
    let open = if cell.proved { "" } else { "?" };
    format!("{}{star}{open}", cell.best)
}
