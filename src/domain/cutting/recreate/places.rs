//! Where a piece may go on a sheet, and what each place would spoil.
//!
//! A place costs the worth of the leftover it uses up less the worth of what stays of it, where a leftover is worth
//! (width x height)^1.2: one large leftover is better than two small ones (Gardeyn & Wauters 2022).

use super::bin::{Bin, Left};
use crate::domain::cutting::planner::model::{Instance, PieceKind, TURNED, UPRIGHT};

/// A piece in a leftover: what each first cut would spoil.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Place {
    /// Worth lost where the first cut runs down; infinite where it cannot.
    pub down: f64,
    /// Worth lost where the first cut runs across; infinite where it cannot.
    pub across: f64,
    /// The piece lies turned.
    pub turned: bool,
}

impl Place {
    /// The better of the two first cuts: worth lost, and whether it runs down.
    pub(crate) fn better(&self) -> (f64, bool) {
        if self.down <= self.across { (self.down, true) } else { (self.across, false) }
    }

    /// The other one.
    pub(crate) fn other(&self) -> (f64, bool) {
        if self.down <= self.across { (self.across, false) } else { (self.down, true) }
    }
}

/// Nodes after which a sheet takes no more: their numbers have to fit 16 bits.
const MOST_NODES: usize = 60_000;

/// The place of a piece of `w` by `h` in a leftover, if it fits and can be cut.
#[inline]
pub(crate) fn of(model: &Instance, l: &Left, w: i32, h: i32, turned: bool) -> Option<Place> {
    if w > l.w || h > l.h {
        return None;
    }
    let whole = l.worth_w * l.worth_h;
    let (rest_w, rest_h) = (model.worth(l.w - w), model.worth(l.h - h));
    let down = whole - rest_w * l.worth_h - model.worth(w) * rest_h;
    let across = whole - rest_h * l.worth_w - model.worth(h) * rest_w;
    let cut = model.max_cut;
    if l.w <= cut && l.h <= cut {
        return Some(Place { down, across, turned });
    }
    let down_ok = (w == l.w || l.h <= cut) && (h == l.h || w <= cut);
    let across_ok = (h == l.h || l.w <= cut) && (w == l.w || h <= cut);
    let cost = |ok: bool, cost: f64| if ok { cost } else { f64::INFINITY };
    (down_ok || across_ok).then(|| Place {
        down: cost(down_ok, down),
        across: cost(across_ok, across),
        turned,
    })
}

/// Which ways a kind could lie on a sheet, by its largest leftovers.
#[inline]
fn ways_on(bin: &Bin, kind: &PieceKind) -> (bool, bool) {
    let ways = if bin.nodes.len() > MOST_NODES { 0 } else { kind.ways[usize::from(bin.format)] };
    let upright = ways & UPRIGHT != 0 && kind.w <= bin.max_w && kind.h <= bin.max_h;
    let turned = ways & TURNED != 0 && kind.h <= bin.max_w && kind.w <= bin.max_h;
    (upright, turned)
}

/// False where no leftover of a sheet is large enough for a kind.
pub(crate) fn may_fit(model: &Instance, bin: &Bin, kind: u16) -> bool {
    ways_on(bin, &model.kinds[usize::from(kind)]) != (false, false)
}

/// The first place of a kind on a sheet: the leftover's number and the place.
pub(crate) fn first(model: &Instance, bin: &Bin, kind: u16) -> Option<(usize, Place)> {
    let kind = &model.kinds[usize::from(kind)];
    let (upright, turned) = ways_on(bin, kind);
    if !(upright || turned) {
        return None;
    }
    let place = |l: &Left| {
        let lies = upright.then(|| of(model, l, kind.w, kind.h, false)).flatten();
        lies.or_else(|| turned.then(|| of(model, l, kind.h, kind.w, true)).flatten())
    };
    bin.lefts.iter().enumerate().find_map(|(at, l)| place(l).map(|place| (at, place)))
}

/// Calls back for every place of a kind on a sheet: the leftover's number and the place.
#[inline]
pub(crate) fn each(model: &Instance, bin: &Bin, kind: u16, tell: &mut impl FnMut(usize, Place)) {
    let kind = &model.kinds[usize::from(kind)];
    let (upright, turned) = ways_on(bin, kind);
    if !(upright || turned) {
        return;
    }
    for (at, l) in bin.lefts.iter().enumerate() {
        if upright && let Some(place) = of(model, l, kind.w, kind.h, false) {
            tell(at, place);
        }
        if turned && let Some(place) = of(model, l, kind.h, kind.w, true) {
            tell(at, place);
        }
    }
}

/// How many ways a kind has in one leftover.
#[inline]
pub(crate) fn count(model: &Instance, l: &Left, ways: u8, w: i32, h: i32) -> i32 {
    let upright = ways & UPRIGHT != 0 && of(model, l, w, h, false).is_some();
    let turned = ways & TURNED != 0 && of(model, l, h, w, true).is_some();
    i32::from(upright) + i32::from(turned)
}
