//! Layers over a pane: help, prompt, picker, question. Each says at the bottom which keys it takes.

mod help;
mod picker;
mod prompt;

use super::look::Look;
use super::text;
use super::view::Parts;
use super::widgets::canvas::Canvas;
use super::widgets::lines::{paragraph, put, run};
use crate::app::model::Model;
use crate::app::overlay::Overlay;
use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::widgets::{Clear, Widget};

/// Draws one layer; returns where the cursor belongs.
pub fn draw(model: &Model, layer: &Overlay, parts: Parts, buf: &mut Buffer, look: &Look) -> Option<Position> {
    match layer {
        Overlay::Help(h) => help::draw(model, h, parts.body, buf, look),
        Overlay::Prompt(p) => Some(prompt::draw(p, parts, buf, look)),
        Overlay::Picker(p) => Some(picker::draw(p, parts.body, buf, look)),
        Overlay::Confirm(c) => {
            let area = boxed(parts.body, 60, 6, "Sure?", buf, look);
            let y = paragraph(buf, area, 0, &c.question, look.theme.text, look);
            put(
                buf,
                area,
                0,
                y + 1,
                &[
                    run("y", look.theme.key),
                    run(" yes    ", look.theme.text),
                    run("n", look.theme.key),
                    run(" no (Enter and Esc too)", look.theme.text),
                ],
                look,
            );
            Some(Position::new(area.x, area.y + y + 1))
        }
    }
}

/// The keys of a layer, for the bottom line.
pub fn keys(layer: &Overlay) -> &'static str {
    match layer {
        Overlay::Help(h) if h.is_typing => "type to narrow   Enter done   Esc all keys",
        Overlay::Help(_) => "j k or arrows scroll   / search   ? or Esc close",
        Overlay::Prompt(_) => "Enter take it   Esc leave as it was   Ctrl-U clear",
        Overlay::Picker(_) => "type to narrow   arrows choose   Enter take it   Esc close",
        Overlay::Confirm(_) => "y yes   n no",
    }
}

/// A framed box in the middle of `body`; returns the room inside.
pub fn boxed(body: Rect, width: u16, height: u16, title: &str, buf: &mut Buffer, look: &Look) -> Rect {
    let (w, h) = (width.min(body.width.saturating_sub(2)), height.min(body.height));
    let area = Rect::new(body.x + (body.width - w) / 2, body.y + (body.height - h) / 2, w, h);
    Clear.render(area, buf);
    buf.set_style(area, look.theme.text);
    let mut frame = Canvas::new(w, h);
    frame.frame(0, 0, w.saturating_sub(1), h.saturating_sub(1));
    frame.draw(area, buf, &look.glyphs, look.theme.line, look.theme.line);
    let title = format!(" {} ", text::fit(title, usize::from(w.saturating_sub(6)), look.glyphs.ellipsis));
    buf.set_string(area.x + 2, area.y, title, look.theme.title);
    Rect::new(area.x + 2, area.y + 1, w.saturating_sub(4), h.saturating_sub(2))
}
