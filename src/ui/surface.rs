//! What a view draws with: the cells of the screen, how they look, and what takes a click. Lines of styled text are put on
//! it here, cut to the room there is.

use crate::app::keymap::Told;
use crate::domain::pattern::PatternKind;
use crate::ui::ground::{on_ground, prevailing};
use crate::ui::hits::Hits;
use crate::ui::look::Look;
use crate::ui::text;
use crate::ui::widgets::digits::DigitPen;
use crate::ui::widgets::lines::{Run, run};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use ratatui::widgets::{Clear, Widget};

/// The screen while it is drawn.
#[derive(Debug)]
pub struct Surface<'a> {
    /// Its cells.
    pub buf: &'a mut Buffer,
    /// Theme and signs.
    pub look: &'a Look,
    /// What takes a click, and where.
    pub hits: Hits,
    /// Where a high window shows its key figures: lists that would fill it stay above. Empty where there are none.
    pub figures: Rect,
    /// Patterns that are told by their letter here, where no color tells them.
    pub letters: Vec<PatternKind>,
}

impl<'a> Surface<'a> {
    /// A screen on which nothing is drawn yet.
    pub fn new(buf: &'a mut Buffer, look: &'a Look) -> Self {
        Self { buf, look, hits: Hits::default(), figures: Rect::default(), letters: Vec::new() }
    }

    /// Remembers that a pattern is told by its letter.
    pub fn lettered(&mut self, kind: PatternKind) {
        if !self.letters.contains(&kind) {
            self.letters.push(kind);
        }
    }

    /// What of an area lies above the key figures.
    pub fn above_figures(&self, area: Rect) -> Rect {
        let common = area.intersection(self.figures);
        let lost = if common.is_empty() { 0 } else { area.bottom() - common.y };
        Rect { height: area.height - lost, ..area }
    }

    /// Draws runs one after another in row `y` of the area, from column `x`; returns the column after the last.
    pub fn put(&mut self, area: Rect, x: u16, y: u16, runs: &[Run]) -> u16 {
        if y >= area.height {
            return x;
        }
        let mut at = x;
        for (words, style) in runs {
            let room = area.width.saturating_sub(at);
            if room == 0 {
                break;
            }
            let shown = text::fit(&text::harmless(words), usize::from(room), self.look.glyphs.ellipsis);
            self.undim((area.x + at, area.y + y), text::width(&shown) as u16);
            self.buf.set_string(area.x + at, area.y + y, &shown, *style);
            if style.add_modifier.contains(Modifier::UNDERLINED) {
                self.unline_padding(&shown, area.x + at, area.y + y);
            }
            at += text::width(&shown) as u16;
        }
        at
    }

    /// Words over a faint line or heading are as strong as they would be elsewhere.
    fn undim(&mut self, (x, y): (u16, u16), width: u16) {
        for column in 0..width {
            if let Some(cell) = self.buf.cell_mut((x + column, y)) {
                cell.modifier.remove(Modifier::DIM);
            }
        }
    }

    /// Takes the line from below the blanks that words, drawn from a cell on, are padded with.
    fn unline_padding(&mut self, words: &str, x: u16, y: u16) {
        let inked = text::width(words.trim_end_matches(' ')) as u16;
        let before = (words.len() - words.trim_start_matches(' ').len()) as u16;
        for column in (0..before).chain(inked..text::width(words) as u16) {
            if let Some(cell) = self.buf.cell_mut((x + column, y)) {
                cell.modifier.remove(Modifier::UNDERLINED);
            }
        }
    }

    /// A wrapped paragraph from row `y`, with an ellipsis where it is cut off; returns the row after it. A warning has its sign
    /// before it where it needs one.
    pub fn paragraph(&mut self, area: Rect, y: u16, words: &str, style: Style) -> u16 {
        let mut row = y;
        let look = self.look;
        let lines = text::wrap(&text::harmless(&look.marked(words, style)), usize::from(area.width));
        let room = usize::from(area.height.saturating_sub(y));
        let is_cut = lines.len() > room;
        for (n, mut line) in lines.into_iter().take(room).enumerate() {
            if is_cut && n + 1 == room {
                let mark = format!(" {}", self.look.glyphs.ellipsis);
                let kept = usize::from(area.width).saturating_sub(text::width(&mark));
                line = text::fit(&line, kept, "") + &mark;
            }
            self.put(area, 0, row, &[run(line, style)]);
            row += 1;
        }
        row
    }

    /// The same of a sentence with keys in it, each in the look of a key.
    pub fn told(&mut self, area: Rect, y: u16, told: &Told, style: Style) -> u16 {
        let last = self.paragraph(area, y, &told.words, style);
        let words = told.words.chars().enumerate().filter(|(_, sign)| !sign.is_whitespace());
        // Not faint or aslant with the words round it.
        let look = self.look.theme.key.remove_modifier(Modifier::DIM | Modifier::ITALIC);
        let is_key = |n: usize| told.keys.iter().any(|key| key.contains(&n));
        let mut signs = words.map(|(n, sign)| (is_key(n), sign)).peekable();
        let mut in_key = false;
        for row in y..last {
            for x in area.left()..area.right() {
                let Some(cell) = self.buf.cell_mut((x, area.y + row)) else { continue };
                if cell.symbol().trim().is_empty() {
                    // Keys pressed one after another are one key with a blank in it.
                    if in_key && signs.peek().is_some_and(|(is_key, _)| *is_key) {
                        cell.set_style(look);
                    }
                    continue;
                }
                if signs.peek().is_some_and(|(_, sign)| cell.symbol().starts_with(*sign)) {
                    in_key = signs.next().is_some_and(|(is_key, _)| is_key);
                    if in_key {
                        cell.set_style(look);
                    }
                }
            }
            in_key = false;
        }
        last
    }

    /// Writes words over a drawing: all of them have the ground that prevails there and stand out from it.
    pub fn put_over(&mut self, area: Rect, (x, y): (u16, u16), words: &str, style: Style) {
        if x >= area.width || y >= area.height {
            return;
        }
        let width = (text::width(words) as u16).min(area.width - x);
        let place = Rect { x: area.x + x, y: area.y + y, width, height: 1 };
        let ground = prevailing(self.buf, place, area);
        let style = on_ground(style.remove_modifier(Modifier::DIM), ground);
        self.put(area, x, y, &[run(words, style)]);
    }

    /// What large figures are drawn with in an area.
    pub fn ink(&mut self, area: Rect, style: Style) -> DigitPen<'_> {
        DigitPen { area, buf: self.buf, glyphs: &self.look.glyphs, style }
    }

    /// Blanks an area for what lies over the rest.
    pub fn clear(&mut self, area: Rect) {
        Clear.render(area, self.buf);
        self.buf.set_style(area, self.look.theme.text);
    }
}
