//! Where cuts may run on a sheet of one row: sums of the sides of its pieces.

use crate::domain::cutting::planner::model::{Instance, TURNED, UPRIGHT};

/// How a kind lies: turned or not, width, height.
type Lying = (bool, i32, i32);

/// Sums of sides across and along a sheet, and for every length the last of them not above it.
#[derive(Clone, Debug)]
pub(super) struct Raster {
    pub w: i32,
    pub h: i32,
    pub xs: Vec<i32>,
    pub ys: Vec<i32>,
    floor_x: Vec<u16>,
    floor_y: Vec<u16>,
    /// The longest cut.
    pub max_cut: i32,
}

impl Raster {
    /// The sums for so many pieces of some kinds on a sheet of a row; `None` where there are too many to number.
    pub(super) fn new(
        model: &Instance,
        format: usize,
        kinds: impl Iterator<Item = (u16, u32)>,
    ) -> Option<Self> {
        let f = &model.formats[format];
        let (mut across, mut along) = (Vec::new(), Vec::new());
        for (kind, n) in kinds {
            for (_, w, h) in lyings(model, kind, format) {
                across.push((w, n));
                along.push((h, n));
            }
        }
        let (xs, floor_x) = sums(f.w, &across)?;
        let (ys, floor_y) = sums(f.h, &along)?;
        Some(Self { w: f.w, h: f.h, xs, ys, floor_x, floor_y, max_cut: model.max_cut })
    }

    /// How many sums there are across and along.
    pub(super) fn extent(&self) -> (usize, usize) {
        (self.xs.len(), self.ys.len())
    }

    /// The row of the last sum not above a width.
    pub(super) fn row_of(&self, x: i32) -> usize {
        usize::from(self.floor_x[x as usize])
    }

    /// The column of the last sum not above a height.
    pub(super) fn column_of(&self, y: i32) -> usize {
        usize::from(self.floor_y[y as usize])
    }
}

/// The ways in which a kind lies on a row of sheets.
pub(super) fn lyings(model: &Instance, kind: u16, format: usize) -> impl Iterator<Item = Lying> + use<> {
    let piece = &model.kinds[usize::from(kind)];
    let (ways, upright, turned) = (piece.ways[format], piece.lying(false), piece.lying(true));
    let all = [(UPRIGHT, false, upright), (TURNED, true, turned)];
    all.into_iter().filter(move |(way, ..)| ways & way != 0).map(|(_, turned, (w, h))| (turned, w, h))
}

/// All sums of extents (each no more often than it is wanted), and for every length the largest sum not above it.
///
/// `None` where there are too many to number.
fn sums(limit: i32, extents: &[(i32, u32)]) -> Option<(Vec<i32>, Vec<u16>)> {
    let mut merged: Vec<(i32, u64)> = Vec::new();
    let mut sorted = extents.to_vec();
    sorted.sort_unstable();
    for (extent, count) in sorted {
        match merged.last_mut() {
            Some(m) if m.0 == extent => m.1 += u64::from(count),
            _ => merged.push((extent, u64::from(count))),
        }
    }
    let slots = limit as usize + 1;
    let mut reached = vec![false; slots];
    reached[0] = true;
    let mut used = vec![0_u64; slots];
    for (extent, count) in merged {
        let extent = extent as usize;
        used.fill(0);
        for at in extent..slots {
            if !reached[at] && reached[at - extent] && used[at - extent] < count {
                reached[at] = true;
                used[at] = used[at - extent] + 1;
            }
        }
    }
    let mut kept = Vec::new();
    let mut floor = Vec::with_capacity(slots);
    for (at, &hit) in reached.iter().enumerate() {
        if hit {
            kept.push(at as i32);
        }
        floor.push(u16::try_from(kept.len() - 1).ok()?);
    }
    Some((kept, floor))
}
