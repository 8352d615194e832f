//! The paper to pick up, second in size after the setting: its name in large letters with a patch of its colour where there is
//! room, in one line where there is not; then where it lies.

use crate::app::model::Model;
use crate::app::state::bench::{BenchRun, RunSpot};
use crate::domain::pages::measure::{INCH, Um};
use crate::ui::painting::Painted;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::letters;
use crate::ui::widgets::lines::run;
use ratatui::layout::Rect;

/// Large letters only where the window is so high.
const HIGH: u16 = 28;
/// Columns of the patch beside large letters, and beside a line.
const WIDE: u16 = 8;
const NARROW: u16 = 2;
/// What one column of a patch stands for.
const COLUMN: Um = INCH / 8;

/// Draws it at the top of an area; returns the rows it takes.
pub fn draw_paper_here(
    model: &Model,
    bench: &BenchRun,
    spot: RunSpot<'_>,
    area: Rect,
    on: &mut Surface,
) -> u16 {
    let take = bench.take_words(spot, &model.book);
    let of = format!("step {} of {}", spot.at + 1, spot.sheet.steps.len());
    let name = spot.sheet.paper_name.as_str();
    let large = letters::width(name, &on.look.glyphs).filter(|w| w + WIDE + 2 <= area.width);
    if area.height < HIGH || large.is_none() {
        let x = patch(model, (bench, spot), Rect { width: NARROW, height: 1, ..area }, on);
        let theme = &on.look.theme;
        let all = [run(&spot.sheet.name, theme.title), run(format!(": {take}, {of}."), theme.dim)];
        on.put(area, x, 0, &all);
        return 1;
    }
    let rows = letters::ROWS;
    let x = patch(model, (bench, spot), Rect { width: WIDE, height: rows, ..area }, on);
    let letters_room = Rect { x: area.x + x, width: area.width.saturating_sub(x), height: rows, ..area };
    let theme = &on.look.theme;
    letters::draw_letters(name, letters_room, on.buf, &on.look.glyphs, theme.title);
    let words = format!("{}: {take}, {of}.", spot.sheet.name);
    on.put(
        area,
        0,
        rows,
        &[run(text::left(&words, usize::from(area.width), on.look.glyphs.ellipsis), theme.text)],
    );
    rows + 2
}

/// Fills the patch with the paper, without colours with its hatch and letter as the plan has them; returns the columns it takes
/// with the gap behind it.
fn patch(model: &Model, (bench, spot): (&BenchRun, RunSpot<'_>), area: Rect, on: &mut Surface) -> u16 {
    let paper = spot.sheet.paper.map(|id| Painted::among(model, id, &bench.papers, on.look));
    let Some(paper) = paper.filter(|paper| !paper.is_unknown()) else { return 0 };
    if area.height == 1 {
        let chip = paper.chip(on.look);
        on.put(area, 0, 0, &chip);
        paper.is_lettered_on(on);
    } else {
        paper.patch(area, COLUMN, on);
    }
    let sign = Rect { x: area.x + area.width, width: 1, height: 1, ..area };
    on.put(sign, 0, 0, &[(paper.sign().to_owned(), on.look.theme.dim)]);
    area.width + 1
}
