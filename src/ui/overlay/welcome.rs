//! The first minutes: four questions and a worked example in a box; the tour's sentence at the bottom of the pane.

use super::frame::{boxed, inside, middle};
use crate::app::keymap::Keymap;
use crate::app::model::Model;
use crate::app::tour::STEPS;
use crate::app::welcome::{Welcome, WelcomeQuestion};
use crate::ui::surface::Surface;
use crate::ui::widgets::lines::run;
use ratatui::layout::{Position, Rect};

/// Columns and rows of the box.
const WIDTH: u16 = 64;
const HEIGHT: u16 = 14;

/// Where the answers to choose from stand.
pub fn rows(welcome: &Welcome, body: Rect) -> Vec<(usize, Rect)> {
    let area = inside(middle(body, WIDTH, HEIGHT));
    match welcome.question {
        WelcomeQuestion::Unit | WelcomeQuestion::Paper | WelcomeQuestion::SetBy => {
            (0..welcome.words().1.len())
                .map(|n| (n, Rect { y: area.y + 3 + n as u16, height: 1, ..area }))
                .collect()
        }
        WelcomeQuestion::LongestCut | WelcomeQuestion::Example => Vec::new(),
    }
}

/// Where the tour's sentence stands.
pub fn tour_area(body: Rect) -> Rect {
    let height = if body.width < 90 { 6 } else { 4 };
    Rect::new(body.x, body.bottom().saturating_sub(height), body.width, height.min(body.height))
}

/// Draws the question in hand; returns where the cursor belongs.
pub fn draw_welcome(welcome: &Welcome, keys: &Keymap, body: Rect, on: &mut Surface) -> Position {
    let theme = &on.look.theme;
    let area = boxed(body, WIDTH, HEIGHT, "A new bench", on);
    let (question, answers) = welcome.words();
    on.put(area, 0, 1, &[run(question, theme.title)]);
    match welcome.question {
        WelcomeQuestion::Unit | WelcomeQuestion::Paper => choices(welcome, answers, area, on),
        WelcomeQuestion::SetBy => {
            let at = 4 + answers.len() as u16;
            let note = "The cuts are then told and drawn as your hand makes them; <trimmer> in Yield says more of your \
                        trimmer.";
            on.told(area, at, &keys.told(note), theme.dim);
            choices(welcome, answers, area, on)
        }
        WelcomeQuestion::LongestCut => {
            on.put(area, 2, 3, &[run(welcome.field.text(), theme.text)]);
            let note = "Craft trimmers cut 12 in (305 mm), some 15. Longer cuts are then left out of every \
                        answer; an empty line is no limit.";
            let (words, style) = match &welcome.refused {
                Some(why) => (why.as_str(), theme.warn),
                None => (note, theme.dim),
            };
            on.paragraph(area, 5, words, style);
            Position::new(area.x + 2 + welcome.field.cursor_column() as u16, area.y + 3)
        }
        WelcomeQuestion::Example => {
            let mut y = 3;
            for line in &welcome.example {
                y = on.paragraph(area, y, line, theme.text);
            }
            on.put(area, 0, y + 1, &[run("Enter", theme.key), run(" shows it", theme.dim)]);
            Position::new(area.x, area.y + y + 1)
        }
    }
}

fn choices(welcome: &Welcome, answers: Vec<&str>, area: Rect, on: &mut Surface) -> Position {
    let theme = &on.look.theme;
    let picked = welcome.picked();
    for (n, answer) in answers.into_iter().enumerate() {
        let (sign, style) = if n == picked { (on.look.glyphs.pick, theme.picked) } else { (" ", theme.text) };
        on.put(area, 1, 3 + n as u16, &[run(sign, theme.mark), run(format!(" {answer} "), style)]);
    }
    Position::new(area.x + 1, area.y + 3 + picked as u16)
}

/// Draws the tour's sentence over the last rows of the pane.
pub fn tour(model: &Model, body: Rect, on: &mut Surface) {
    let Some(tour) = &model.tour else { return };
    let Some(step) = STEPS.get(tour.step) else { return };
    let theme = &on.look.theme;
    let area = tour_area(body);
    on.clear(area);
    let rule = on.look.glyphs.rule.repeat(usize::from(area.width));
    on.put(area, 0, 0, &[run(rule, theme.line)]);
    let title = format!(" Tour, step {} of {} ", tour.step + 1, STEPS.len());
    on.put(area, 2, 0, &[run(title, theme.title)]);
    let words = Rect { x: area.x + 1, width: area.width.saturating_sub(2), ..area };
    on.told(words, 1, &model.keymap.told(step.words), theme.text);
}
