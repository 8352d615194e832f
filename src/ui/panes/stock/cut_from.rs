//! A line of the shelf in drawings, below what is told of it: how its sheets and offcuts are cut by the plans that are booked, and
//! its offcuts to one scale.

use super::{offcuts, shared::below};
use crate::app::model::Model;
use crate::domain::cutting::geometry::Panel;
use crate::domain::cutting::layout::Layout;
use crate::domain::planning;
use crate::domain::project::{Progress, Source};
use crate::domain::size::Size;
use crate::domain::stock::{ItemId, OffcutId};
use crate::ui::painting::Painted;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::diagram::{Diagram, alike, largest, to_scale};
use crate::ui::widgets::lines::run;
use ratatui::layout::Rect;

/// Fewest rows that say something, and most rows of a layout.
const FEW: u16 = 8;
const MOST: u16 = 26;
/// Fewest columns for the offcuts beside the layouts.
const NARROW: u16 = 28;

/// Sheets or offcuts that are cut alike.
struct Cut {
    copies: u32,
    whose: String,
    size: Size,
    layout: Layout,
}

/// Draws what there is room for.
pub(super) fn draw(model: &Model, item: ItemId, area: Rect, on: &mut Surface) {
    if area.height < FEW {
        return;
    }
    let book = &model.book;
    let there = book.offcuts().iter().filter(|(id, o)| o.item == item && book.offcut_count(*id) > 0);
    let offcuts: Vec<OffcutId> = there.map(|(id, _)| id).collect();
    let cuts = cuts(model, item);
    let used = layouts(model, (item, &cuts), Rect { height: area.height.min(MOST + 2), ..area }, on);
    let rest = Rect { x: area.x + used, width: area.width.saturating_sub(used), ..area };
    if !offcuts.is_empty() && rest.width >= NARROW {
        on.put(rest, 1, 0, &[run("its offcuts, to one scale", on.look.theme.title)]);
        let high = area.height.min(MOST + 2).saturating_sub(2);
        let room = Rect { x: rest.x + 1, y: area.y + 2, width: rest.width.saturating_sub(1), height: high };
        offcuts::draw(model, &offcuts, None, room, on);
    }
}

/// The layouts of open work that are still to be cut from it.
fn cuts(model: &Model, item: ItemId) -> Vec<Cut> {
    let book = &model.book;
    let is_of_it = |from: &Source| match from {
        Source::Shelf(id) => *id == item,
        Source::Bin(id) => book.offcuts().get(*id).is_some_and(|o| o.item == item),
    };
    let mut all = Vec::new();
    for (id, project) in book.projects().iter().filter(|(_, p)| p.progress == Progress::Open) {
        let Some(plan) = project.plan.as_deref() else { continue };
        if !plan.layouts.iter().any(|l| is_of_it(&l.from)) {
            continue;
        }
        let left = planning::still_booked(book, id, plan);
        let of_it = plan.layouts.iter().zip(left).filter(|(l, n)| *n > 0 && is_of_it(&l.from));
        all.extend(of_it.map(|(l, copies)| Cut {
            copies,
            whose: project.name.clone(),
            size: l.size,
            layout: Layout::from_tree(Panel::whole(l.size), &l.tree),
        }));
    }
    all
}

/// The layouts side by side; returns the columns that they take.
fn layouts(model: &Model, (item, cuts): (ItemId, &[Cut]), area: Rect, on: &mut Surface) -> u16 {
    if cuts.is_empty() || area.height < FEW {
        return 0;
    }
    let theme = &on.look.theme;
    on.put(area, 1, 0, &[run("how it is cut", theme.title)]);
    let mut x = 1;
    let largest = largest(cuts.iter().map(|cut| cut.size));
    for (n, cut) in cuts.iter().enumerate() {
        let words = format!("{} {} for {}", cut.copies, on.look.glyphs.times, text::harmless(&cut.whose));
        let room = Rect { x: area.x + x, width: area.width.saturating_sub(x), ..below(area, 2) };
        // To one scale, the largest as high as there is room: a sheet that is cut off at the side would look narrow.
        let wide = Rect { width: u16::MAX / 4, ..room };
        let of_size: Vec<&Layout> = cuts.iter().filter(|c| c.size == cut.size).map(|c| &c.layout).collect();
        let scaled = to_scale(cut.size, largest, wide);
        let alike = alike(cut.size, &of_size, (scaled, wide), cut.size != largest);
        let drawn = alike.unwrap_or(scaled);
        let wide = drawn.width.max(text::width(&words) as u16);
        if wide > room.width {
            let more = text::count((cuts.len() - n) as u64, "more layout", "more layouts");
            on.put(area, 16, 0, &[run(more, theme.dim)]);
            break;
        }
        on.put(Rect { y: room.y - 1, ..room }, 0, 0, &[run(words, theme.dim)]);
        let nameless = vec![String::new(); cut.layout.pieces.len()];
        let (names, paper) = (Some(nameless.as_slice()), Some(Painted::item(model, item, on.look)));
        let (sheet, layout) = (cut.size, &cut.layout);
        let diagram = Diagram { sheet, layout, steps: &[], in_hand: None, names, paper };
        if alike.is_some() {
            diagram.draw_in(drawn, on);
        } else {
            diagram.draw(drawn, on);
        }
        x += wide + 3;
    }
    x
}
