//! Checks a cutting plan without any of the planner's code: it cuts paper panels with the plan's cuts, one by one, and
//! looks at what lies on the table at the end. [`word_faults`] does the same from the words of the steps alone.

use super::replay;
use std::collections::BTreeMap;
use trimside::domain::cutting::geometry::{Cut, Panel};
use trimside::domain::cutting::job::{Cost, Job, JobPiece};
use trimside::domain::cutting::plan::{PartSum, Plan, PlannedSheet, UndoneReason};
use trimside::domain::cutting::steps;
use trimside::domain::length::{Length, Unit};
use trimside::domain::size::{Grain, Size};

/// A panel on the table: left, top, right, bottom in units of length.
type Rect = [i64; 4];

fn rect(p: &Panel) -> Rect {
    let (x, y) = (p.x.units(), p.y.units());
    [x, y, x + p.size.width.units(), y + p.size.height.units()]
}

/// Everything that is wrong with a plan; nothing where it is right.
pub fn faults(job: &Job, plan: &Plan) -> Vec<String> {
    let mut faults = Vec::new();
    let mut made = vec![0_u64; job.pieces.len()];
    let mut used = vec![0_u64; job.sheets.len()];
    let (mut cuts, mut sheets, mut cost) = (0_u64, 0_u64, 0_u64);
    let (mut piece_area, mut sheet_area) = (0_i128, 0_i128);
    for (at, sheet) in plan.sheets.iter().enumerate() {
        let copies = u64::from(sheet.copies);
        let mut tell = |what: String| faults.push(format!("layout {at}: {what}"));
        if copies == 0 || sheet.layout.pieces.is_empty() {
            tell("makes nothing".to_owned());
        }
        sheet_faults(job, sheet, &mut tell);
        used[sheet.sheet] += copies;
        sheets += copies;
        cost += copies * job.sheets[sheet.sheet].cost.parts();
        cuts += copies * sheet.layout.cuts.len() as u64;
        sheet_area += i128::from(copies) * job.sheets[sheet.sheet].size.area();
        for p in &sheet.layout.pieces {
            made[p.piece] += copies;
            piece_area += i128::from(copies) * p.panel.size.area();
        }
    }
    for (a, first) in plan.sheets.iter().enumerate() {
        for second in &plan.sheets[a + 1..] {
            if first.sheet == second.sheet && first.tree == second.tree {
                faults.push(format!("layout {a} is there twice"));
            }
        }
    }
    let ran_out =
        plan.unplaced.iter().filter(|u| u.reason == UndoneReason::NotEnough).map(|u| u.count).sum::<u32>();
    if plan.shortages.iter().map(|s| s.pieces).sum::<u32>() != ran_out {
        faults.push(format!("{:?} are not the {ran_out} pieces that found no sheet", plan.shortages));
    }
    let mut missing = vec![0_u64; job.pieces.len()];
    for u in &plan.unplaced {
        missing[u.piece] += u64::from(u.count);
        if u.count == 0 || u.sentence(job, trimside::domain::length::Unit::Inch).is_empty() {
            faults.push("an unplaced piece without number or sentence".to_owned());
        }
    }
    for (at, piece) in job.pieces.iter().enumerate() {
        if made[at] + missing[at] != u64::from(piece.count) {
            let name = &piece.name;
            faults.push(format!("{name}: {} made, {} named, {} wanted", made[at], missing[at], piece.count));
        }
    }
    for (at, row) in job.sheets.iter().enumerate() {
        if row.available.is_some_and(|n| used[at] > u64::from(n)) {
            faults.push(format!("{}: {} used", row.name, used[at]));
        }
    }
    let t = &plan.totals;
    let share = if sheet_area == 0 { 0.0 } else { piece_area as f64 / sheet_area as f64 };
    if (u64::from(t.sheets), u64::from(t.cuts), t.cost.parts()) != (sheets, cuts, cost) {
        faults.push(format!("sums {t:?} are not {sheets} sheets, {cuts} cuts, {cost} parts of cost"));
    }
    if (t.used_share - share).abs() > 1e-12 || t.layouts as usize != plan.sheets.len() {
        faults.push(format!("share {} or layouts {}", t.used_share, t.layouts));
    }
    if t.lower_bound > t.cost || (t.proved && t.lower_bound != t.cost) {
        faults.push(format!("bound {} above cost {}, or proved without being met", t.lower_bound, t.cost));
    }
    let sum = |of: fn(&PartSum) -> Cost| plan.parts.iter().map(|p| of(p).parts()).sum::<u64>();
    if (sum(|p| p.cost), sum(|p| p.lower_bound)) != (t.cost.parts(), t.lower_bound.parts()) {
        faults.push(format!("parts {:?} do not add up to {t:?}", plan.parts));
    }
    faults
}

fn sheet_faults(job: &Job, sheet: &PlannedSheet, tell: &mut impl FnMut(String)) {
    let row = &job.sheets[sheet.sheet];
    let whole: Rect = [0, 0, row.size.width.units(), row.size.height.units()];
    let mut table: BTreeMap<Rect, u32> = BTreeMap::from([(whole, 1)]);
    for cut in &sheet.layout.cuts {
        if let Err(why) = make(cut, &mut table, job.trimmer.longest_cut) {
            tell(why);
        }
    }
    let mut named: BTreeMap<Rect, u32> = BTreeMap::new();
    for p in &sheet.layout.pieces {
        *named.entry(rect(&p.panel)).or_default() += 1;
        let piece = &job.pieces[p.piece];
        if !lies_right(job, piece, sheet.sheet, p.panel.size, p.turned) {
            tell(format!("{} lies as {:?}, turned {}", piece.name, p.panel.size, p.turned));
        }
    }
    for o in &sheet.layout.offcuts {
        *named.entry(rect(o)).or_default() += 1;
    }
    if named != table {
        tell(format!("pieces and offcuts {named:?} are not what lies on the table {table:?}"));
    }
    if table.keys().any(|r| r[0] >= r[2] || r[1] >= r[3]) {
        tell("an empty panel".to_owned());
    }
}

/// Makes one cut: it has to run from edge to edge of a panel that is on the table.
fn make(cut: &Cut, table: &mut BTreeMap<Rect, u32>, longest: Option<Length>) -> Result<(), String> {
    let [x0, y0, x1, y1] = [cut.x0, cut.y0, cut.x1, cut.y1].map(Length::units);
    if cut.stop {
        return Err(format!("{cut:?} stops inside"));
    }
    if longest.is_some_and(|l| (x1 - x0) + (y1 - y0) > l.units()) {
        return Err(format!("{cut:?} is too long"));
    }
    let down = x0 == x1;
    let across = |r: &Rect| {
        if down {
            r[0] < x0 && x0 < r[2] && r[1] == y0 && r[3] == y1
        } else {
            y0 == y1 && r[1] < y0 && y0 < r[3] && r[0] == x0 && r[2] == x1
        }
    };
    let Some(panel) = table.keys().copied().find(across) else {
        return Err(format!("{cut:?} crosses no panel of {table:?}"));
    };
    let (mut a, mut b) = (panel, panel);
    if down {
        (a[2], b[0]) = (x0, x0);
    } else {
        (a[3], b[1]) = (y0, y0);
    }
    if let Some(n) = table.get_mut(&panel) {
        *n -= 1;
    }
    table.retain(|_, n| *n > 0);
    *table.entry(a).or_default() += 1;
    *table.entry(b).or_default() += 1;
    Ok(())
}

/// True where a piece has its size, may lie like that, on that paper, along its grain.
pub fn lies_right(job: &Job, piece: &JobPiece, sheet: usize, lying: Size, turned: bool) -> bool {
    let row = &job.sheets[sheet];
    let more = piece.allowance.units() * 2;
    let (w, h) = (piece.finished.width.units() + more, piece.finished.height.units() + more);
    let size = if turned { (h, w) } else { (w, h) };
    let vertical = |w: i64, h: i64, grain: Grain| match grain {
        Grain::Unknown => None,
        Grain::Long => Some(h >= w),
        Grain::Short => Some(h < w),
    };
    let on_piece = vertical(w, h, piece.grain).map(|v| v != turned);
    let on_sheet = vertical(row.size.width.units(), row.size.height.units(), row.grain);
    let along = on_piece.is_none() || on_sheet.is_none() || on_piece == on_sheet;
    (lying.width.units(), lying.height.units()) == size
        && (piece.may_turn || !turned)
        && along
        && piece.sheet.is_none_or(|s| s == sheet)
        && (piece.paper.is_none() || piece.paper == row.paper)
}

/// Everything that is wrong with the words of a plan's steps: they are followed with all copies of each layout on the
/// table, and the strokes they speak of are counted with the stack that the person allowed.
pub fn word_faults(job: &Job, plan: &Plan, unit: Unit) -> Vec<String> {
    let mut faults = Vec::new();
    let mut made: BTreeMap<(Length, Length), u32> = BTreeMap::new();
    for (at, sheet) in plan.sheets.iter().enumerate() {
        let size = job.sheets[sheet.sheet].size;
        let list = steps::cut_list(size, &sheet.tree, &job.trimmer, sheet.copies);
        let words: Vec<String> = list.steps.iter().map(|s| s.words(unit)).collect();
        let one = replay::table_of(&sheet.layout, Unit::Inch);
        for ((w, h), n) in &one.pieces {
            *made.entry((*w.min(h), *w.max(h))).or_default() += n * sheet.copies;
        }
        if words.is_empty() {
            continue;
        }
        let one = replay::table_of(&sheet.layout, unit);
        match replay::words_at_the_table(size, sheet.copies, unit, &words) {
            Err(why) => faults.push(format!("layout {at}: {why}")),
            Ok(table) => {
                let times = |all: &BTreeMap<(Length, Length), u32>| {
                    all.iter().map(|(k, n)| (*k, n * sheet.copies)).collect::<BTreeMap<_, _>>()
                };
                if table.pieces != times(&one.pieces) || table.offcuts != times(&one.offcuts) {
                    faults.push(format!("layout {at}: the words leave {table:?}, the layout says {one:?}"));
                }
                if table.cuts.len() != sheet.layout.cuts.len() * sheet.copies as usize {
                    faults.push(format!("layout {at}: {} cuts in words", table.cuts.len()));
                }
            }
        }
        if let Err(why) = strokes_right(&words, job.trimmer.sheets_per_stroke) {
            faults.push(format!("layout {at}: {why}"));
        }
    }
    faults.extend(fence_faults(job, plan));
    // What comes off has the finished size and the allowance on both sides of it.
    let mut wanted: BTreeMap<(Length, Length), u32> = BTreeMap::new();
    for (at, piece) in job.pieces.iter().enumerate() {
        let left: u32 = plan.unplaced.iter().filter(|u| u.piece == at).map(|u| u.count).sum();
        let more = piece.allowance + piece.allowance;
        let (w, h) = (piece.finished.width + more, piece.finished.height + more);
        *wanted.entry((w.min(h), w.max(h))).or_default() += piece.count - left;
    }
    wanted.retain(|_, n| *n > 0);
    if made != wanted {
        faults.push(format!("pieces {made:?} come off, {wanted:?} are wanted"));
    }
    faults
}

/// Layouts of one row of sheets follow one another so that the fence stays where it stands, if any of them begins there.
fn fence_faults(job: &Job, plan: &Plan) -> Vec<String> {
    let ends: Vec<(usize, Length, Length)> = plan
        .sheets
        .iter()
        .filter_map(|s| {
            let list = steps::cut_list(job.sheets[s.sheet].size, &s.tree, &job.trimmer, s.copies);
            Some((s.sheet, list.steps.first()?.fence, list.steps.last()?.fence))
        })
        .collect();
    let mut faults = Vec::new();
    for (at, pair) in ends.windows(2).enumerate() {
        let (fence, next) = (pair[0].2, pair[1]);
        let others = ends[at + 2..].iter().filter(|o| o.0 == next.0);
        if next.1 != fence && others.map(|o| o.1).any(|first| first == fence) {
            faults.push(format!("after layout {at} the fence is moved from {fence} though it could stay"));
        }
    }
    faults
}

/// The strokes in the words: counted on from step to step, with no more sheets at once than was allowed.
fn strokes_right(words: &[String], allowed: u32) -> Result<(), String> {
    let mut before = 0;
    for step in words {
        let number = |text: &str| text.trim().parse::<u32>().map_err(|e| format!("\"{text}\" {e}: {step}"));
        let panels = step.split_once(") of ").and_then(|(_, t)| t.split_once(' ')).map_or("", |(n, _)| n);
        let panels = number(panels)?;
        let doing = step.split(". ").find(|s| s.contains(" cut")).unwrap_or_default();
        let each = number(doing.split_once(" cut").map_or("", |(n, _)| n))?;
        let at_once = match doing.split_once(" sheets a stroke") {
            Some((head, _)) => number(head.rsplit(", ").next().unwrap_or_default())?,
            None => 1,
        };
        let (_, strokes) = doing.split_once(", stroke").ok_or(format!("no strokes: {step}"))?;
        let (range, of) = strokes.trim_start_matches('s').split_once(" of ").ok_or("no sum of strokes")?;
        let (first, last) = range.split_once(" to ").unwrap_or((range, range));
        let (first, last, of) = (number(first)?, number(last)?, number(of)?);
        let needed = panels.div_ceil(at_once) * each;
        if at_once > allowed || first != before + 1 || last != before + needed || last > of {
            return Err(format!("strokes after {before} with {allowed} at once: {step}"));
        }
        before = last;
        if step == words.last().unwrap_or(step) && last != of {
            return Err(format!("the last stroke is not the sum: {step}"));
        }
    }
    Ok(())
}
