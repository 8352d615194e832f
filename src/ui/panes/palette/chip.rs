//! A chip of colour, seen through the eyes in force.

use crate::app::state::palette::PalettePane;
use crate::domain::colour::space::{Lab, Rgb8};
use crate::domain::colour::swatch::Swatch;
use crate::ui::colours::paint;
use crate::ui::look::Look;
use crate::ui::widgets::lines::{Run, run};

/// Cells of colour before a name.
pub(super) const BLOCK: usize = 2;
/// A chip of colour as the eyes in force see it, with `~` where it is only near; returns its columns.
pub(in crate::ui) fn chip(
    pane: &PalettePane,
    swatch: &Swatch,
    cells: usize,
    runs: &mut Vec<Run>,
    look: &Look,
) -> usize {
    chip_of(pane, (swatch.hex, swatch.lab), cells, runs, look)
}

/// The same of a screen value with its Lab.
pub(super) fn chip_of(
    pane: &PalettePane,
    (hex, lab): (Rgb8, Lab),
    cells: usize,
    runs: &mut Vec<Run>,
    look: &Look,
) -> usize {
    let seen = pane.eyes().map_or(hex, |e| e.hex(hex));
    let lab = pane.eyes().map_or(lab, |e| e.lab(lab));
    let paint = paint(seen, lab, look.depth);
    let (block, style) = paint.block(cells, look);
    if block.is_empty() {
        return 0;
    }
    runs.push((block, style));
    runs.push(run(paint.sign(), look.theme.dim));
    cells + 1
}

/// Two colours with a seam and no gap between them, each so many cells wide.
pub(super) fn seam(
    pane: &PalettePane,
    both: [(Rgb8, Lab); 2],
    cells: usize,
    runs: &mut Vec<Run>,
    look: &Look,
) {
    let eyes = pane.eyes();
    let seen = both.map(|(hex, lab)| {
        (eyes.as_ref().map_or(hex, |e| e.hex(hex)), eyes.as_ref().map_or(lab, |e| e.lab(lab)))
    });
    let paints = seen.map(|(hex, lab)| paint(hex, lab, look.depth));
    let blocks = paints.iter().map(|paint| paint.block(cells, look)).filter(|(block, _)| !block.is_empty());
    runs.extend(blocks);
    let signs: String = paints.iter().map(|paint| paint.sign()).collect();
    runs.push(run(if signs.contains('~') { "~" } else { " " }, look.theme.dim));
}
