//! The answer of `trimside yield` for programs.

use crate::domain::cutting::geometry::{Cut, Panel};
use crate::domain::cutting::layout::Layout;
use crate::domain::cutting::one_size::{SheetYield, sheets_for};
use crate::domain::cutting::pinwheel::StopStep;
use crate::domain::cutting::question::Question;
use crate::domain::cutting::step::CutStep;
use crate::domain::length::{Length, Unit};
use crate::domain::size::Size;
use serde_json::{Value, json};

/// The whole answer; lengths as full decimals of the unit.
pub fn answer(question: &Question, answer: &SheetYield, wanted: Option<u32>, unit: Unit) -> Value {
    let mut value = json!({
        "unit": unit.sign(),
        "sheet": size(answer.sheet, unit),
        "piece": size(answer.piece, unit),
        "turn": question.may_turn,
        "upright": answer.upright,
        "turned": answer.turned,
        "best": answer.best,
        "bound": answer.bound,
        "proved": answer.proved,
        "chosen": answer.chosen,
        "sheets": wanted.and_then(|n| answer.sheets_for(n)).map(|(sheets, _)| sheets),
        "used_percent": answer.used_percent(answer.best),
        "slack": size(answer.slack, unit),
        "layout": layout(&answer.layout, unit),
        "steps": answer.steps.iter().map(|s| step(s, unit)).collect::<Vec<_>>(),
    });
    if let Some(short) = answer.short {
        value["best_full_size"] = json!(short.full);
        value["narrower"] = json!(short.narrower.map(|s| size(s, unit)));
    }
    if let Some(stop) = &answer.stop {
        let parting = stop.parting.iter().map(|s| stop_step(s, unit));
        let steps = parting.chain(stop.steps.iter().map(|s| step(s, unit)));
        value["best_stop"] = json!(stop.best);
        value["sheets_stop"] = json!(wanted.and_then(|n| sheets_for(n, stop.best)).map(|(sheets, _)| sheets));
        value["used_percent_stop"] = json!(answer.used_percent(stop.best));
        value["bound_stop"] = json!(stop.bound);
        value["proved_stop"] = json!(stop.proved);
        value["layout_stop"] = layout(&stop.layout, unit);
        value["steps_stop"] = steps.collect();
    }
    value
}

/// `{width, height}`.
pub fn size(size: Size, unit: Unit) -> Value {
    json!({ "width": number(size.width, unit), "height": number(size.height, unit) })
}

fn number(length: Length, unit: Unit) -> f64 {
    length.in_unit(unit)
}

fn layout(layout: &Layout, unit: Unit) -> Value {
    let pieces = layout.pieces.iter().map(|p| {
        let mut value = panel(&p.panel, unit);
        value["turned"] = json!(p.turned);
        value
    });
    json!({
        "pieces": pieces.collect::<Vec<_>>(),
        "cuts": layout.cuts.iter().map(|c| cut(c, unit)).collect::<Vec<_>>(),
        "offcuts": layout.offcuts.iter().map(|p| panel(p, unit)).collect::<Vec<_>>(),
    })
}

fn panel(panel: &Panel, unit: Unit) -> Value {
    json!({
        "x": number(panel.x, unit),
        "y": number(panel.y, unit),
        "width": number(panel.size.width, unit),
        "height": number(panel.size.height, unit),
    })
}

fn cut(cut: &Cut, unit: Unit) -> Value {
    let mut value = json!({
        "x0": number(cut.x0, unit),
        "y0": number(cut.y0, unit),
        "x1": number(cut.x1, unit),
        "y1": number(cut.y1, unit),
    });
    if cut.stop {
        value["stop"] = json!(true);
    }
    value
}

fn stop_step(step: &StopStep, unit: Unit) -> Value {
    json!({
        "fence": number(step.fence, unit),
        "along": number(step.along, unit),
        "strokes": 1,
        "text": step.words(unit),
    })
}

fn step(step: &CutStep, unit: Unit) -> Value {
    json!({
        "fence": number(step.fence, unit),
        "along": number(step.along, unit),
        "strokes": step.strokes,
        "text": step.words(unit),
    })
}
