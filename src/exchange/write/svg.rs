//! A page to SVG 1.1 with real units. Draws what the page value says and decides nothing.
//!
//! Coordinates are millimetres, exact to the micrometre. Each purpose is one group named after it (`cut`, `score`,
//! `fold`, `outline`, `tick`, `text`, ...), so that a drawing machine can take the lines it should follow.

use crate::domain::colour::space::Rgb8;
use crate::domain::pages::page::{
    Anchor, Area, BLACK, Fill, Group, LetterWeight, Mark, Page, Point, Stroke, Um, Words,
};
use crate::domain::pages::text;
use std::fmt::Write;

/// Writes a page.
pub fn svg(page: &Page) -> String {
    let (width, height) = (mm(page.width), mm(page.height));
    let mut out = String::from("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    let _ = writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\">"
    );
    let _ = writeln!(out, "<title>{}</title>", escaped(&page.title));
    for group in Group::ALL {
        let marks: Vec<&Mark> = page.of(group).collect();
        if marks.is_empty() {
            continue;
        }
        let _ = writeln!(out, "<g id=\"{}\" fill=\"none\">", group.name());
        for mark in marks {
            draw(&mut out, mark);
        }
        out.push_str("</g>\n");
    }
    out.push_str("</svg>\n");
    out
}

/// Micrometres as millimetres, exactly.
fn mm(um: Um) -> String {
    let sign = if um < 0 { "-" } else { "" };
    let (whole, rest) = (um.abs() / 1000, um.abs() % 1000);
    if rest == 0 {
        return format!("{sign}{whole}");
    }
    format!("{sign}{whole}.{}", format!("{rest:03}").trim_end_matches('0'))
}

fn hex(ink: Rgb8) -> String {
    format!("#{:02x}{:02x}{:02x}", ink.r, ink.g, ink.b)
}

/// Text that XML 1.0 allows.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\u{fffe}' | '\u{ffff}' => out.push('\u{fffd}'),
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

fn stroke_of(stroke: Option<Stroke>) -> String {
    let Some(stroke) = stroke else { return String::new() };
    let mut text = format!(" stroke=\"{}\" stroke-width=\"{}\"", hex(stroke.ink), mm(stroke.width));
    let dashes: Vec<String> = stroke.dash.pattern().iter().map(|um| mm(*um)).collect();
    if !dashes.is_empty() {
        let _ = write!(text, " stroke-dasharray=\"{}\"", dashes.join(" "));
    }
    text
}

fn draw(out: &mut String, mark: &Mark) {
    match mark {
        Mark::Rect { area, fill, stroke } => {
            if let Some(Fill::Hatch(hatch)) = fill {
                let lines = hatch.lines(*area).into_iter().map(|(a, b)| step('M', a) + &step('L', b));
                let _ = writeln!(
                    out,
                    "<path d=\"{}\"{}/>",
                    lines.collect::<String>(),
                    stroke_of(Some(Stroke::HATCH))
                );
            }
            let colour = match fill {
                Some(Fill::Colour(ink)) => format!(" fill=\"{}\"", hex(*ink)),
                _ => String::new(),
            };
            if !colour.is_empty() || stroke.is_some() {
                rect(out, *area, &(colour + &stroke_of(*stroke)));
            }
        }
        Mark::Path { points, closed, fill, stroke } => {
            let steps = points.iter().enumerate().map(|(n, p)| step(if n == 0 { 'M' } else { 'L' }, *p));
            let end = if *closed { "Z" } else { "" };
            let colour = fill.map_or(String::new(), |ink| format!(" fill=\"{}\"", hex(ink)));
            let _ = writeln!(
                out,
                "<path d=\"{}{end}\"{colour}{}/>",
                steps.collect::<String>(),
                stroke_of(*stroke)
            );
        }
        Mark::Circle { middle, radius, stroke } => {
            let _ = writeln!(
                out,
                "<circle cx=\"{}\" cy=\"{}\" r=\"{}\"{}/>",
                mm(middle.x),
                mm(middle.y),
                mm(*radius),
                stroke_of(Some(*stroke))
            );
        }
        Mark::Words(words) => self::words(out, words),
        Mark::Code { at, module, modules } => {
            let ink = format!(" fill=\"{}\"", hex(BLACK));
            for area in super::runs(*at, *module, modules) {
                rect(out, area, &ink);
            }
        }
    }
}

fn step(letter: char, p: Point) -> String {
    format!("{letter}{} {}", mm(p.x), mm(p.y))
}

fn rect(out: &mut String, area: Area, looks: &str) {
    let Area { x, y, width, height } = area;
    let _ = writeln!(
        out,
        "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"{looks}/>",
        mm(x),
        mm(y),
        mm(width),
        mm(height)
    );
}

/// Words with the width that the print font gives them, whatever font the reader has.
fn words(out: &mut String, words: &Words) {
    let anchor = match words.anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    let weight = if words.weight == LetterWeight::Bold { " font-weight=\"bold\"" } else { "" };
    let (x, y) = (mm(words.at.x), mm(words.at.y));
    let turn = if words.upward { format!(" transform=\"rotate(-90 {x} {y})\"") } else { String::new() };
    let _ = writeln!(
        out,
        "<text x=\"{x}\" y=\"{y}\" font-family=\"sans-serif\" font-stretch=\"condensed\" font-size=\"{}\"{weight} text-anchor=\"{anchor}\" textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\" fill=\"{}\"{turn}>{}</text>",
        mm(words.size),
        mm(text::width_of(words)),
        hex(words.ink),
        escaped(&words.text)
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn millimetres_are_exact() {
        assert_eq!(mm(25_400), "25.4");
        assert_eq!(mm(-1_005), "-1.005");
        assert_eq!(mm(90), "0.09");
        assert_eq!(mm(0), "0");
    }

    #[test]
    fn names_with_markup_in_them_stay_text() {
        assert_eq!(escaped("<b> & \"x\"\u{0}\u{ffff}"), "&lt;b&gt; &amp; &quot;x&quot; \u{fffd}");
    }
}
