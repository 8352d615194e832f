//! A lower bound from the fullest sheet: where no sheet can be filled with more of these pieces than so much area, the
//! job takes as many sheets as its area needs at that filling.

use super::model::{Instance, TURNED, UPRIGHT};
use crate::domain::cutting::covers::Cover;
use crate::domain::cutting::one_sheet::{Effort, SheetPiece, most_valuable};
use crate::domain::cutting::plan::BoundName;

/// Pieces above which a sheet is nearly always full enough for the area to say the same.
const MOST_PIECES: u64 = 80;
/// What is looked at for one row of sheets (20 to 60 ms).
const EFFORT: Effort = Effort { sums: 20_000_000, builds: 3_000 };

/// The inequality; `None` where the job is too large for it.
pub(crate) fn cover(model: &Instance) -> Option<Cover> {
    if model.pieces() > MOST_PIECES {
        return None;
    }
    let area = model.kinds.iter().map(|k| i128::from(k.area()) * i128::from(k.count)).sum();
    let holds: Option<Vec<i128>> = (0..model.formats.len()).map(|f| fullest(model, f)).collect();
    Cover::new(area, &holds?, BoundName::Fullest)
}

/// The largest area of pieces that one sheet of a row can hold.
fn fullest(model: &Instance, format: usize) -> Option<i128> {
    let kinds = model.kinds.iter().map(|kind| SheetPiece {
        w: kind.w,
        h: kind.h,
        count: kind.count,
        value: kind.area(),
        upright: kind.ways[format] & UPRIGHT != 0,
        turned: kind.ways[format] & TURNED != 0,
    });
    let kinds: Vec<SheetPiece> = kinds.filter(|kind| kind.upright || kind.turned).collect();
    let row = &model.formats[format];
    most_valuable(row.w, row.h, &kinds, EFFORT).map(|worth| i128::from(worth.bound))
}
