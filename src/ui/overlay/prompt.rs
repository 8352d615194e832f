//! A line to type into, at the bottom of the pane, with how the text is read below it.

use crate::app::overlay::{Echo, Prompt};
use crate::ui::layout::Parts;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use ratatui::layout::{Position, Rect};

/// Columns that a short text has at least.
const FEWEST: usize = 12;

/// Draws the prompt; returns where the cursor belongs.
pub fn draw_prompt(prompt: &Prompt, parts: Parts, on: &mut Surface) -> Position {
    let theme = &on.look.theme;
    let body = parts.body;
    let area = Rect::new(body.x, body.bottom().saturating_sub(3), body.width, 4);
    on.clear(area);
    let rule = on.look.glyphs.rule.repeat(usize::from(area.width));
    on.put(area, 0, 0, &[run(rule, theme.line)]);
    // However long a name in it is, half of the line is for what is typed; the label has what that does not need.
    let typed = text::width(&text::harmless(prompt.field.text())).max(FEWEST) as u16 + 4;
    let most = usize::from((area.width / 2).max(area.width.saturating_sub(typed)));
    let label = text::fit(&text::harmless(&prompt.label), most, on.look.glyphs.ellipsis);
    let label = format!("{label} ");
    let start = text::width(&label) as u16 + 1;
    // The text scrolls under its cursor where it is longer than the line.
    let room = usize::from(area.width.saturating_sub(start + 2));
    let at = prompt.field.cursor_column();
    let hidden = at.saturating_sub(room);
    let shown = skip_columns(&text::harmless(prompt.field.text()), hidden);
    on.put(area, 1, 1, &[run(label, theme.title), run(text::fit(&shown, room + 1, ""), theme.text)]);
    let (words, style) = match &prompt.echo {
        Echo::Nothing => (String::new(), theme.dim),
        Echo::Read(words) => (format!("= {words}"), theme.good),
        Echo::Refused(why) => (why.clone(), theme.warn),
    };
    let below = Rect { x: area.x + 1, y: area.y + 2, width: area.width.saturating_sub(2), height: 2 };
    on.paragraph(below, 0, &words, style);
    Position::new(area.x + start + (at - hidden) as u16, area.y + 1)
}

/// A text without its first columns.
pub(super) fn skip_columns(words: &str, columns: usize) -> String {
    let mut skipped = 0;
    words
        .chars()
        .skip_while(|c| {
            let hide = skipped < columns;
            if hide {
                skipped += text::width(&c.to_string());
            }
            hide
        })
        .collect()
}
