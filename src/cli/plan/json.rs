//! The answer of `trimside plan` for programs.

use crate::domain::cutting::geometry::Cut;
use crate::domain::cutting::handwork::Handwork;
use crate::domain::cutting::job::Job;
use crate::domain::cutting::plan::{Plan, PlannedSheet, SheetShortage, Unplaced};
use crate::domain::cutting::plan_words::{self, PaperSum};
use crate::domain::cutting::question::Preference;
use crate::domain::cutting::sheet_order::{SheetOrder, SheetOrders};
use crate::domain::length::{Length, Unit};
use serde_json::{Value, json};

/// The whole answer; lengths as full decimals of the unit.
pub fn answer(job: &Job, plan: &Plan, unit: Unit, seconds: f64) -> Value {
    let t = &plan.totals;
    let mut value = json!({
        "unit": unit.sign(),
        "sheets": sheets(job, plan, unit),
        "unplaced": unplaced(job, plan, unit),
        "shortages": shortages(job, plan),
        "papers": papers(job, plan),
        "totals": {
            "sheets": t.sheets, "cost": t.cost.number(), "lower_bound": t.lower_bound.number(),
            "proved": t.proved, "bound": t.bound.word(), "cuts": t.cuts,
            "preference": preference(job.preference),
            "layouts": t.layouts, "used_share": t.used_share, "seconds": seconds, "work": t.work,
        },
    });
    let totals = &mut value["totals"];
    work(totals, "", t.hands);
    if let Some(stop) = &plan.stop {
        let t = &stop.totals;
        value["sheets_stop"] = sheets(job, stop, unit);
        value["unplaced_stop"] = unplaced(job, stop, unit);
        value["papers_stop"] = papers(job, stop);
        let totals = &mut value["totals"];
        totals["sheets_stop"] = json!(t.sheets);
        totals["cost_stop"] = json!(t.cost.number());
        totals["lower_bound_stop"] = json!(t.lower_bound.number());
        totals["proved_stop"] = json!(t.proved);
        totals["bound_stop"] = json!(t.bound.word());
        totals["cuts_stop"] = json!(t.cuts);
        work(totals, "_stop", t.hands);
        totals["layouts_stop"] = json!(t.layouts);
        totals["used_share_stop"] = json!(t.used_share);
    }
    value
}

/// The order of the layouts, and what both orders ask for.
pub fn add_orders(answer: &mut Value, order: SheetOrder, orders: &SheetOrders) {
    let work = |order| {
        let work = orders.of(order).1;
        json!({ "moves": work.moves, "paper_changes": work.paper_changes })
    };
    let totals = &mut answer["totals"];
    totals["order"] = json!(order.word());
    totals["by_paper"] = work(SheetOrder::ByPaper);
    totals["by_setting"] = work(SheetOrder::BySetting);
}

/// What decided among plans of one cost.
const fn preference(preference: Preference) -> &'static str {
    match preference {
        Preference::FewestSettings => "fewest-moves",
        Preference::LargestOffcut => "largest-leftover",
    }
}

/// The work at the trimmer in the order in which it decides; `moves_proved` where no plan moves the fence less often.
fn work(totals: &mut Value, of: &str, hands: Handwork) {
    for (name, count) in [
        ("moves", hands.moves),
        ("settings", hands.settings),
        ("strokes", hands.strokes),
        ("exact_fits", hands.exact_fits),
    ] {
        totals[format!("{name}{of}")] = json!(count);
    }
    totals[format!("moves_proved{of}")] = json!(hands.is_least);
}

fn sheets(job: &Job, plan: &Plan, unit: Unit) -> Value {
    plan.sheets.iter().map(|s| sheet(job, s, unit)).collect()
}

/// One layout with its pieces, cuts and offcuts.
pub fn sheet(job: &Job, s: &PlannedSheet, unit: Unit) -> Value {
    let n = |l: Length| json!(l.in_unit(unit));
    let row = &job.sheets[s.sheet];
    let pieces = s.layout.pieces.iter().map(|p| {
        json!({
            "name": job.pieces[p.piece].name, "made_by": job.pieces[p.piece].made_by.word(),
            "x": n(p.panel.x), "y": n(p.panel.y),
            "width": n(p.panel.size.width), "height": n(p.panel.size.height),
            "turned": p.turned,
        })
    });
    let offcuts =
        s.layout.offcuts.iter().map(
            |o| json!({ "x": n(o.x), "y": n(o.y), "width": n(o.size.width), "height": n(o.size.height) }),
        );
    json!({
        "sheet": row.name, "width": n(row.size.width), "height": n(row.size.height),
        "copies": s.copies, "used_percent": plan_words::used_percent(job, s),
        "pieces": pieces.collect::<Vec<_>>(),
        "cuts": s.layout.cuts.iter().map(|c| cut(c, unit)).collect::<Vec<_>>(),
        "offcuts": offcuts.collect::<Vec<_>>(),
    })
}

/// Start and end; a cut that ends inside its panel says so.
fn cut(c: &Cut, unit: Unit) -> Value {
    let n = |l: Length| json!(l.in_unit(unit));
    let mut value = json!({ "x0": n(c.x0), "y0": n(c.y0), "x1": n(c.x1), "y1": n(c.y1) });
    if c.stop {
        value["stop"] = json!(true);
    }
    value
}

fn unplaced(job: &Job, plan: &Plan, unit: Unit) -> Value {
    let one = |u: &Unplaced| json!({ "name": job.pieces[u.piece].name, "count": u.count, "reason": u.sentence(job, unit) });
    plan.unplaced.iter().map(one).collect()
}

/// Paper that ran out, and how many more sheets would do.
fn shortages(job: &Job, plan: &Plan) -> Value {
    let one = |s: &SheetShortage| {
        let more = s.more.map(|(row, n)| json!({ "sheet": job.sheets[row].name, "count": n }));
        json!({ "paper": s.paper, "pieces": s.pieces, "more": more })
    };
    plan.shortages.iter().map(one).collect()
}

/// What is taken of each paper, and the bound for it where it is planned by itself.
fn papers(job: &Job, plan: &Plan) -> Value {
    let one = |p: &PaperSum| {
        let rows = p.rows.iter().map(|&(row, used)| json!({ "sheet": job.sheets[row].name, "used": used }));
        let mut value = json!({
            "paper": p.name, "sheets": rows.collect::<Vec<_>>(),
            "used_share": p.used_share, "offcuts_kept": p.kept,
        });
        if let Some(least) = &p.least {
            value["cost"] = json!(least.cost.number());
            value["lower_bound"] = json!(least.lower_bound.number());
            value["proved"] = json!(least.proved);
            value["bound"] = json!(least.bound.word());
        }
        value
    };
    plan_words::papers(job, plan).iter().map(one).collect()
}
