//! A checker of its own for layouts with stop cuts: what the cut lines enclose, whatever their order, and then the order.

use super::yields::Dice;
use trimside::domain::cutting::geometry::{Cut, Panel};
use trimside::domain::cutting::layout::Layout;
use trimside::domain::cutting::one_size::answer;
use trimside::domain::cutting::pinwheel::StopAnswer;
use trimside::domain::cutting::question::Question;
use trimside::domain::length::Length;
use trimside::domain::sheet::{Edges, Sheet};
use trimside::domain::size::Size;

/// A line on the sheet: true for one that runs down, where it stands, from where to where.
type Line = (bool, i64, i64, i64);

fn line(cut: &Cut) -> Line {
    let [x0, y0, x1, y1] = [cut.x0, cut.y0, cut.x1, cut.y1].map(Length::units);
    if x0 == x1 { (true, x0, y0.min(y1), y0.max(y1)) } else { (false, y0, x0.min(x1), x0.max(x1)) }
}

fn sides(p: &Panel) -> [Line; 4] {
    let (x0, y0, x1, y1) = (p.x.units(), p.y.units(), p.right().units(), p.bottom().units());
    [(true, x0, y0, y1), (true, x1, y0, y1), (false, y0, x0, x1), (false, y1, x0, x1)]
}

/// True where `lines` together cover a line.
fn is_covered(wanted: Line, lines: &[Line]) -> bool {
    let mut at = wanted.2;
    while at < wanted.3 {
        let on = lines.iter().filter(|l| (l.0, l.1) == (wanted.0, wanted.1) && l.2 <= at && l.3 > at);
        match on.map(|l| l.3).max() {
            Some(end) => at = end,
            None => return false,
        }
    }
    true
}

fn runs_into(l: Line, p: &Panel) -> bool {
    let (x0, y0, x1, y1) = (p.x.units(), p.y.units(), p.right().units(), p.bottom().units());
    let (across, along) = if l.0 { ((x0, x1), (y0, y1)) } else { ((y0, y1), (x0, x1)) };
    l.1 > across.0 && l.1 < across.1 && l.2 < along.1 && l.3 > along.0
}

/// True where a line ends on one of `lines`, at the start or the end.
fn touches(l: Line, at: i64, lines: &[Line]) -> bool {
    lines.iter().any(|m| m.0 != l.0 && m.1 == at && m.2 <= l.1 && l.1 <= m.3)
}

/// Pieces and offcuts tile the sheet, have the right size, are bounded by cuts, and no cut runs into one. In their
/// order, a cut starts on an edge or an earlier cut; one that is no stop cut also ends on one.
pub fn stop_layout_is_sound(q: &Question, stop: &StopAnswer) -> Result<(), String> {
    let layout = &stop.layout;
    let room = q.sheet.usable();
    if layout.pieces.len() != stop.best as usize {
        return Err("number of pieces".into());
    }
    for p in &layout.pieces {
        let size = if p.turned { q.piece.turned() } else { q.piece };
        let inside = p.panel.x >= room.x && p.panel.right() <= room.right();
        let inside = inside && p.panel.y >= room.y && p.panel.bottom() <= room.bottom();
        if p.panel.size != size || !inside || (p.turned && !q.may_turn) {
            return Err(format!("piece {p:?}"));
        }
    }
    parts_are_cut_out(q.sheet.actual(), layout)
}

/// What is said above of pieces, offcuts and cuts, whatever the pieces are.
pub fn parts_are_cut_out(sheet: Size, layout: &Layout) -> Result<(), String> {
    let sheet = Panel::whole(sheet);
    let panels: Vec<Panel> =
        layout.pieces.iter().map(|p| p.panel).chain(layout.offcuts.iter().copied()).collect();
    let area: i128 = panels.iter().map(|p| p.size.area()).sum();
    if area != sheet.size.area() {
        return Err("areas do not add up to the sheet".into());
    }
    for (n, a) in panels.iter().enumerate() {
        let apart =
            |b: &Panel| a.right() <= b.x || b.right() <= a.x || a.bottom() <= b.y || b.bottom() <= a.y;
        if !panels[n + 1..].iter().all(apart) {
            return Err(format!("overlap at {a:?}"));
        }
    }
    let mut lines: Vec<Line> = sides(&sheet).to_vec();
    for cut in &layout.cuts {
        let l = line(cut);
        let ends = u32::from(touches(l, l.2, &lines)) + u32::from(touches(l, l.3, &lines));
        if ends < if cut.stop { 1 } else { 2 } {
            return Err(format!("cut starts or ends nowhere: {cut:?}"));
        }
        if panels.iter().any(|p| runs_into(l, p)) {
            return Err(format!("cut runs into a part: {cut:?}"));
        }
        lines.push(l);
    }
    match panels.iter().find(|p| !sides(p).iter().all(|&s| is_covered(s, &lines))) {
        Some(p) => Err(format!("not cut out: {p:?}")),
        None => Ok(()),
    }
}

/// Any sheet, any edges: the layout is sound, never below the edge-to-edge best, never above the bound.
#[test]
fn stop_cuts_never_cost_a_piece() {
    let mut dice = Dice::new(11);
    let mut more = 0;
    for _ in 0..250 {
        let eighths = |w, h| Size::new(Length::sixteenths(2 * w), Length::sixteenths(2 * h));
        let sheet = eighths(dice.roll(30, 100), dice.roll(30, 100));
        let mut q = Question::new(eighths(dice.roll(8, 40), dice.roll(8, 40)), Sheet::new("sheet", sheet));
        let mut edge = || Length::sixteenths(if dice.roll(0, 3) == 0 { dice.roll(1, 8) } else { 0 });
        q.sheet.unusable = Edges { left: edge(), top: edge(), right: edge(), bottom: edge() };
        q.trimmer.stop_cuts = true;
        let a = answer(&q);
        let stop = a.stop.clone().unwrap();
        assert!(stop.best >= a.best && stop.bound >= stop.best);
        stop_layout_is_sound(&q, &stop).unwrap_or_else(|why| panic!("{why}\n{q:?}\n{stop:?}"));
        more += u32::from(stop.best > a.best);
        // A stop cut is never longer than its panel, and its fence stands inside it.
        for step in &stop.parting {
            assert!(step.fence.is_positive() && step.along <= step.from.long());
            assert!(step.fence < step.from.long());
        }
    }
    assert!(more > 5, "{more}");
}
