//! Domain values to bytes.

pub mod card;
mod coded_box;
pub mod font;
pub mod letters;
pub mod pdf;
pub mod qr;
pub mod stock;
pub mod svg;
pub mod text;

use crate::domain::pages::page::{Area, Modules, Point, Um};

/// The dark squares of a two-dimensional code as one rectangle for each run in a row: no seams inside a run.
fn runs(at: Point, module: Um, modules: &Modules) -> Vec<Area> {
    let mut areas = Vec::new();
    for row in 0..modules.side {
        let mut column = 0;
        while column < modules.side {
            let dark = (column..modules.side).take_while(|c| modules.is_dark(*c, row)).count() as u32;
            if dark > 0 {
                let (x, y) = (at.x + module * i64::from(column), at.y + module * i64::from(row));
                areas.push(Area::new(x, y, module * i64::from(dark), module));
            }
            column += dark.max(1);
        }
    }
    areas
}
