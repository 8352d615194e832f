//! The README's pictures: real screens as SVG, light and dark, kept in step like the other pictures. Written anew by
//! `TRIMSIDE_WRITE_PICTURES=1 cargo test pictures_of_the_readme`.

use super::harness::Bench;
use ratatui::style::{Color, Modifier};
use std::fmt::Write;
use std::path::PathBuf;
use trimside::domain::screen::ThemeChoice;
use trimside::ui::look::ColourDepth;

/// Name, keys.
const SCREENS: [(&str, &str); 5] =
    [("yield", "1"), ("chart", "v"), ("mats", "2"), ("palette", "3 j j l"), ("stock", "4 j j")];
const COLUMNS: u16 = 100;
const ROWS: u16 = 30;
/// A cell in pixels: monospaced letters of 14 px are 8.4 px wide.
const CELL: (f64, f64) = (8.4, 18.0);

fn hex(colour: Option<Color>, usual: &str) -> String {
    match colour {
        Some(Color::Rgb(r, g, b)) => format!("#{r:02x}{g:02x}{b:02x}"),
        _ => usual.to_owned(),
    }
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}

/// A screen as SVG: a rectangle for each run of one ground, a text for each run of one style.
fn svg(bench: &Bench, ground: &str, letters: &str) -> String {
    let (buf, _) = bench.draw(COLUMNS, ROWS);
    let (width, height) = (f64::from(COLUMNS) * CELL.0, f64::from(ROWS) * CELL.1);
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width:.0}\" height=\"{height:.0}\" \
         font-family=\"monospace\" font-size=\"14\">\n<rect width=\"100%\" height=\"100%\" fill=\"{ground}\"/>\n"
    );
    for y in 0..ROWS {
        let mut x = 0;
        while x < COLUMNS {
            let style = buf[(x, y)].style();
            let begin = x;
            let mut words = String::new();
            while x < COLUMNS && buf[(x, y)].style() == style {
                words.push_str(buf[(x, y)].symbol());
                x += 1;
            }
            let (mut fore, mut back) = (hex(style.fg, letters), hex(style.bg, ground));
            if style.add_modifier.contains(Modifier::REVERSED) {
                std::mem::swap(&mut fore, &mut back);
            }
            let (left, top) = (f64::from(begin) * CELL.0, f64::from(y) * CELL.1);
            let length = f64::from(x - begin) * CELL.0;
            if back != ground {
                let _ = writeln!(
                    out,
                    "<rect x=\"{left:.1}\" y=\"{top:.1}\" width=\"{length:.1}\" height=\"{:.1}\" fill=\"{back}\"/>",
                    CELL.1
                );
            }
            if !words.trim().is_empty() {
                let weight =
                    if style.add_modifier.contains(Modifier::BOLD) { " font-weight=\"bold\"" } else { "" };
                let _ = writeln!(
                    out,
                    "<text x=\"{left:.1}\" y=\"{:.1}\" textLength=\"{length:.1}\" lengthAdjust=\"spacingAndGlyphs\" \
                     xml:space=\"preserve\" fill=\"{fore}\"{weight}>{}</text>",
                    top + 13.5,
                    escaped(&words)
                );
            }
        }
    }
    out + "</svg>\n"
}

#[test]
fn pictures_of_the_readme() {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("assets/screens");
    let writes = std::env::var_os("TRIMSIDE_WRITE_PICTURES").is_some();
    let mut made = Vec::new();
    for (name, keys) in SCREENS {
        for (theme, word, ground, letters) in [
            (ThemeChoice::Light, "light", "#fbf9f4", "#262a30"),
            (ThemeChoice::Dark, "dark", "#1b1f24", "#e4e2db"),
        ] {
            let bench = Bench::demo().theme(theme, ColourDepth::True).keys(keys);
            let text = svg(&bench, ground, letters);
            roxmltree::Document::parse(&text).expect("an SVG that another program reads");
            let file = format!("{name}-{word}.svg");
            if writes {
                std::fs::create_dir_all(&folder).unwrap();
                std::fs::write(folder.join(&file), &text).unwrap();
            }
            let kept = std::fs::read_to_string(folder.join(&file)).unwrap_or_default();
            assert!(
                kept == text,
                "{file} is not the screen any more: TRIMSIDE_WRITE_PICTURES=1 cargo test pictures_of_the_readme"
            );
            made.push(file);
        }
    }
    let kept = std::fs::read_dir(&folder).unwrap().map(|f| f.unwrap().file_name().into_string().unwrap());
    for file in kept {
        assert!(made.contains(&file), "{file} is made by no screen");
    }
}
