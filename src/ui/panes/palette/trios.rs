//! The trios that go with what is picked, and the list of trios itself, which also stands below a picture: names whole, a head
//! over those that are only the nearest that can be done, the reason of the picked one in whole parts.

use super::card;
use super::chip::chip;
use crate::app::action::{List, Spot};
use crate::app::model::Model;
use crate::app::panes::palette::words;
use crate::app::state::palette::Focus;
use crate::app::state::trio::Listed;
use crate::domain::colour::trios::said::NEAREST;
use crate::domain::library::base::TrioBase;
use crate::domain::stock::SwatchId;
use crate::ui::look::{ColourDepth, Look};
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::table::first_shown;
use ratatui::layout::{Position, Rect};

/// From this height on everything known of a colour is shown, and what is usual is said too.
pub(super) const TALL: u16 = 27;
/// Rows of a reason that makes room for the card.
const SHORT_REASON: usize = 2;
/// Rows of the list that the card may leave.
const FEW_TRIOS: u16 = 7;
/// Most rows of a reason, and with figures.
const REASON: [u16; 2] = [4, 7];
/// From this width on a row has wide chips.
const WIDE: u16 = 60;

/// Draws the trios from row `y`, the picked one on the card below them or in the room beside; returns where the cursor of the
/// list stands.
pub(super) fn draw(
    model: &Model,
    (area, beside): (Rect, Option<Rect>),
    y: u16,
    on: &mut Surface,
) -> Option<Position> {
    let (pane, theme) = (&model.palette, &on.look.theme);
    let sign = if pane.focus == Focus::Trios { on.look.glyphs.pick } else { " " };
    let head = format!("Goes with {}", pane.base_words(&model.book));
    let (head_y, head_end) = (y, on.put(area, 0, y, &[run(sign, theme.mark), run(head, theme.title)]));
    // What is usual needs no row.
    let is_usual = pane.asks_for_usual_trios();
    let y = if is_usual { y + 1 } else { on.paragraph(area, y + 1, &pane.trio_words(), theme.dim) };
    if pane.trios.is_empty() {
        on.told(area, y, &model.keymap.told(&words::no_trios(pane, &model.book)), theme.dim);
        return None;
    }
    let picked = pane.trio.row(pane.trios.len());
    let list =
        TrioList { trios: &pane.trios, picked, is_focused: pane.focus == Focus::Trios, base: base(model) };
    let reason = picked.and_then(|n| pane.trios.get(n)).map(|t| words::trio_reason(&model.book, pane, t));
    let reason = reason.unwrap_or_default();
    // The list comes before the reason: it has three fifths of what is left, half where figures are wanted.
    let left = area.height.saturating_sub(y);
    let most = if pane.figures { REASON[1].min(left / 2) } else { REASON[0].min(left * 2 / 5) };
    let lines = picked.and_then(|n| pane.trios.get(n)).map_or(0, |trio| {
        let rows = |parts: &[String]| {
            text::wrap(&whole_parts(parts, area.width, usize::from(most)), usize::from(area.width)).len()
        };
        rows(&reason).max(rows(&of_row(&reason, &list.names(model, trio))))
    });
    let room = left.saturating_sub((lines as u16).min(most));
    // Where some trios and the card have room together, the rest of the list waits below its end.
    // The higher the window the larger the card; the rest of the list waits.
    let card_rows = if beside.is_some() { 0 } else { card::least_rows(model).max(left * 2 / 5) };
    let with_card = left.saturating_sub(card_rows + 1 + lines.min(SHORT_REASON) as u16);
    let room = if with_card >= FEW_TRIOS { room.min(with_card) } else { room };
    let place = Rect { y: area.y + y, height: left, ..area };
    on.hits.add(place, Spot::In(List::Trios));
    let (used, at, hidden) = list.draw(model, Rect { height: room, ..place }, on, true);
    on.put(area, head_end, head_y, &[run(text::hidden(hidden), on.look.theme.dim)]);
    let row = y + used;
    if let Some(trio) = picked.and_then(|n| pane.trios.get(n)) {
        let named = of_row(&reason, &list.names(model, trio));
        let least = if beside.is_some() { 0 } else { card::least_rows(model) };
        let rows = reason_rows(&named, row, area, least).max(reason_rows(&reason, row, area, least));
        // No part of it is left out for the name.
        let bare = whole_parts(&reason, area.width, rows);
        let words = whole_parts(&named, area.width, rows);
        let words = if words.ends_with(&bare) { words } else { bare };
        let row = on.paragraph(area, row, &words, theme.dim);
        match beside {
            Some(room) => card::draw_large(model, trio.swatches, room, on),
            None => card::draw(model, trio.swatches, area, row + 1, on),
        }
    }
    at
}

/// The reason with the row that it is of: it stands below the whole list.
fn of_row(reason: &[String], names: &[String]) -> Vec<String> {
    let mut all = reason.to_vec();
    if let Some(first) = all.first_mut() {
        *first = format!("{}: {first}", names.join(", "));
    }
    all
}

/// The swatch that is named above the list already.
fn base(model: &Model) -> Option<SwatchId> {
    model.palette.picked().filter(|_| model.palette.base == TrioBase::Picked)
}

/// Rows of the reason: all that it needs, but no more than its beginning where that makes room for the card below it.
fn reason_rows(parts: &[String], row: u16, area: Rect, card: u16) -> usize {
    let left = usize::from(area.height.saturating_sub(row));
    let needed = text::wrap(&parts.join("; "), usize::from(area.width)).len().min(left);
    let has_card = |rows: usize| left > rows + usize::from(card);
    if needed > SHORT_REASON && !has_card(needed) && has_card(SHORT_REASON) { SHORT_REASON } else { needed }
}

/// As many of the parts, from the first, as stand whole in so many rows; the first one in any case.
pub(super) fn whole_parts(parts: &[String], width: u16, rows: usize) -> String {
    let fits = |words: &str| text::wrap(words, usize::from(width)).len() <= rows;
    let most = (1..=parts.len()).rev().find(|n| parts.get(..*n).is_some_and(|some| fits(&some.join("; "))));
    parts.iter().take(most.unwrap_or(1)).map(String::as_str).collect::<Vec<_>>().join("; ")
}

/// A list of trios.
pub(super) struct TrioList<'a> {
    pub trios: &'a [Listed],
    pub picked: Option<usize>,
    /// The moves go through it: the pick carries the bar, else only its mark.
    pub is_focused: bool,
    /// A swatch that is not named in the rows, since it stands above the list.
    pub base: Option<SwatchId>,
}

/// A row of the screen.
enum Row {
    /// What those below have in common.
    Head(String),
    /// A trio with the first of its names.
    First(usize, String),
    /// Names that had no room in the row above.
    More(usize, String),
}

impl TrioList<'_> {
    /// Rows that the whole list takes.
    pub(super) fn rows(&self, model: &Model, width: u16, look: &Look) -> u16 {
        self.lines(model, width, look).len() as u16
    }

    /// Draws what has room; returns the rows used, where the picked one stands, and how many trios have no room.
    pub(super) fn draw(
        &self,
        model: &Model,
        area: Rect,
        on: &mut Surface,
        takes_clicks: bool,
    ) -> (u16, Option<Position>, usize) {
        let lines = self.lines(model, area.width, on.look);
        let is_pick = |row: &Row| matches!(row, Row::First(n, _) if Some(*n) == self.picked);
        let pick = lines.iter().position(is_pick).unwrap_or(0);
        let room = usize::from(area.height);
        let (mut used, mut at, mut hidden) = (0, None, self.trios.len());
        for line in lines.iter().skip(first_shown(pick, lines.len(), room)).take(room) {
            let place = Rect { y: area.y + used, height: 1, ..area };
            used += 1;
            let (n, names, is_first) = match line {
                Row::Head(words) => {
                    on.put(place, 0, 0, &[run(words, on.look.theme.dim)]);
                    continue;
                }
                Row::First(n, names) => (*n, names, true),
                Row::More(n, names) => (*n, names, false),
            };
            if n >= self.trios.len() {
                continue;
            }
            hidden -= usize::from(is_first);
            self.row(model, (n, names, is_first), place, on);
            if takes_clicks {
                on.hits.add(place, Spot::Row(List::Trios, n));
            }
            if is_first && self.picked == Some(n) {
                at = Some(Position::new(place.x, place.y));
            }
        }
        (used, at, hidden)
    }

    /// The names of a trio's colours, but for that which stands above the list.
    fn names(&self, model: &Model, trio: &Listed) -> Vec<String> {
        let names = trio.swatches.iter().filter(|id| Some(**id) != self.base);
        names.map(|id| text::harmless(model.palette.name(*id))).collect()
    }

    fn lines(&self, model: &Model, width: u16, look: &Look) -> Vec<Row> {
        let mut lines = Vec::new();
        let room = usize::from(width).saturating_sub(self.indent(model, width, look)).max(1);
        let mut head = None;
        for (n, trio) in self.trios.iter().enumerate() {
            let now = Self::head(trio, head.is_none());
            if now != head {
                lines.extend(now.clone().map(Row::Head));
                head = now;
            }
            let mut rows = text::wrap(&self.names(model, trio).join(", "), room).into_iter();
            lines.push(Row::First(n, rows.next().unwrap_or_default()));
            lines.extend(rows.map(|names| Row::More(n, names)));
        }
        lines
    }

    /// What a trio stands under: what is kept is the person's own choice; the others go together or are only the nearest
    /// that can be done, of what is on hand or with one to buy. Those that go together need no head where none stands above.
    fn head(trio: &Listed, is_first: bool) -> Option<String> {
        let buys = trio.verdict.as_ref().is_some_and(|v| v.to_buy.is_some());
        match (trio.kept.is_some(), trio.is_nearest(), buys) {
            (true, ..) => Some("Your own:".to_owned()),
            (_, true, false) => Some(format!("{NEAREST}:")),
            (_, true, true) => Some(format!("{NEAREST}, one to buy:")),
            (_, false, true) => Some("With one to buy:".to_owned()),
            (_, false, false) => (!is_first).then(|| "Go together:".to_owned()),
        }
    }

    /// Cells of each chip.
    fn cells(&self, width: u16) -> usize {
        match (width >= WIDE, self.base.is_some()) {
            (true, _) => 4,
            (false, true) => 2,
            // Three names need the columns more.
            (false, false) => 1,
        }
    }

    /// Columns before the names: the mark of the pick, the chips, the mark of favourites.
    fn indent(&self, model: &Model, width: u16, look: &Look) -> usize {
        let chips = if look.depth > ColourDepth::Sixteen { 3 * (self.cells(width) + 1) } else { 0 };
        1 + chips + self.star(model)
    }

    /// Columns that favourites are marked in, where there are any.
    fn star(&self, model: &Model) -> usize {
        if self.trios.iter().any(|trio| is_favourite(model, trio)) { 2 } else { 0 }
    }

    /// The names of the n-th trio in one row, or what of them goes into a further one.
    fn row(&self, model: &Model, (n, names, is_first): (usize, &str, bool), area: Rect, on: &mut Surface) {
        let trio = &self.trios[n];
        let theme = &on.look.theme;
        let is_picked = self.picked == Some(n);
        let mut runs = Vec::new();
        if is_first {
            runs.push(run(if is_picked { on.look.glyphs.pick } else { " " }, theme.mark));
            for swatch in trio.swatches.iter().filter_map(|id| model.palette.colour(*id)) {
                chip(&model.palette, swatch, self.cells(area.width), &mut runs, on.look);
            }
            // Names begin in one column, with the mark before them or without.
            let mark = if is_favourite(model, trio) { "* " } else { "  " };
            runs.push(run(mark.get(..self.star(model)).unwrap_or_default(), theme.mark));
        } else {
            runs.push(run(" ".repeat(self.indent(model, area.width, on.look)), theme.text));
        }
        // The list in focus carries the bar; the other one only its mark.
        runs.push(run(names, if is_picked && self.is_focused { theme.picked } else { theme.text }));
        if is_first {
            let used: usize = runs.iter().map(|(words, _)| text::width(words)).sum();
            let remark =
                remark(&words::trio_remarks(&model.book, trio), usize::from(area.width).saturating_sub(used));
            runs.push(run(remark, theme.dim));
        }
        on.put(area, 0, 0, &runs);
    }
}

/// As many remarks as stand whole in the room, after two blanks.
fn remark(parts: &[&str], room: usize) -> String {
    let all = |n: usize| format!("  {}", parts.iter().take(n).copied().collect::<Vec<_>>().join(", "));
    (1..=parts.len()).rev().map(all).find(|words| text::width(words) <= room).unwrap_or_default()
}

fn is_favourite(model: &Model, trio: &Listed) -> bool {
    trio.kept.and_then(|id| model.book.trios().get(id)).is_some_and(|kept| kept.favourite)
}
