//! Themes: what each role on the screen looks like. State never rests on colour alone, so every theme also works
//! where none can be shown; the words and marks are the views' business.

use crate::domain::screen::{OwnTheme, ThemeChoice};
use ratatui::style::{Color, Modifier, Style};

/// Every role a view may ask for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Theme {
    /// Its name in the settings.
    pub name: &'static str,
    /// Body text on the screen's ground.
    pub text: Style,
    /// Less important text.
    pub dim: Style,
    /// Headings and the pane in view.
    pub title: Style,
    /// Keys in hints, links.
    pub key: Style,
    /// The sign before the picked row, marks and pins.
    pub mark: Style,
    /// The winner, what is fine.
    pub good: Style,
    /// What wants a look.
    pub warn: Style,
    /// What falls below its mark on the shelf.
    pub low: Style,
    /// What is wrong or short.
    pub bad: Style,
    /// The row or cell under the cursor.
    pub picked: Style,
    /// Lines and frames.
    pub line: Style,
    /// A piece lying upright.
    pub piece: Style,
    /// A piece lying turned.
    pub turned: Style,
    /// What is left over.
    pub offcut: Style,
    /// The cut in hand.
    pub cut: Style,
}

const PLAIN: Style = Style::new();
const BOLD: Style = PLAIN.add_modifier(Modifier::BOLD);
const DIM: Style = PLAIN.add_modifier(Modifier::DIM);
const ITALIC: Style = PLAIN.add_modifier(Modifier::ITALIC);
const TURNED: Style = ITALIC.add_modifier(Modifier::UNDERLINED);
const KEY: Style = BOLD.add_modifier(Modifier::UNDERLINED);
const LOW: Style = BOLD.add_modifier(Modifier::ITALIC);
const REVERSE: Style = PLAIN.add_modifier(Modifier::REVERSED);

/// The terminal's own colours on its own ground. Words take only those of its sixteen that stand out from white and
/// from black: yellow, green and cyan vanish on the one, blue and the dark red on the other. Light red is strong on black, and
/// strong enough on white in bold letters; it says that something is wrong or short; what wants a look and what is in hand is magenta, which stands out from both alike.
/// Keys are light blue, as links are; a turned piece needs no colour, its letters lie aslant over a line.
pub const TERMINAL: Theme = Theme {
    name: "terminal",
    text: PLAIN,
    dim: DIM,
    title: BOLD,
    key: KEY.fg(Color::LightBlue),
    mark: BOLD.fg(Color::Magenta),
    good: BOLD,
    warn: ITALIC.fg(Color::Magenta),
    low: LOW.fg(Color::Magenta),
    bad: BOLD.fg(Color::LightRed),
    picked: REVERSE,
    line: DIM,
    piece: PLAIN,
    turned: TURNED,
    offcut: PLAIN,
    cut: BOLD.fg(Color::Magenta),
};

/// Dark text on a warm light ground.
pub const LIGHT: Theme = from_ground("light", &LIGHT_GROUND);

const LIGHT_GROUND: Ground = Ground {
    back: rgb(0xfb, 0xf9, 0xf4),
    text: rgb(0x26, 0x2a, 0x30),
    dim: rgb(0x5f, 0x64, 0x6c),
    key: rgb(0x0b, 0x5c, 0x7a),
    good: rgb(0x1d, 0x6b, 0x36),
    warn: rgb(0x8a, 0x55, 0x00),
    bad: rgb(0xa6, 0x1e, 0x2c),
    line: rgb(0x8d, 0x90, 0x96),
    turned: rgb(0x0b, 0x5c, 0x7a),
    cut: rgb(0x8b, 0x1f, 0x78),
    pick_back: rgb(0x26, 0x2a, 0x30),
    pick_text: rgb(0xfb, 0xf9, 0xf4),
};

/// Light text on a dark slate ground.
pub const DARK: Theme = from_ground("dark", &DARK_GROUND);

const DARK_GROUND: Ground = Ground {
    back: rgb(0x1b, 0x1f, 0x24),
    text: rgb(0xe4, 0xe2, 0xdb),
    dim: rgb(0x9b, 0xa0, 0xa6),
    key: rgb(0x7f, 0xc8, 0xdf),
    good: rgb(0x8f, 0xd0, 0x8a),
    warn: rgb(0xe6, 0xbf, 0x6a),
    bad: rgb(0xf2, 0x8b, 0x82),
    line: rgb(0x6a, 0x70, 0x78),
    turned: rgb(0x7f, 0xc8, 0xdf),
    cut: rgb(0xe0, 0x9a, 0xd2),
    pick_back: rgb(0xe4, 0xe2, 0xdb),
    pick_text: rgb(0x1b, 0x1f, 0x24),
};

/// The sharpest contrast: white on black, few colours.
pub const CONTRAST: Theme = from_ground("contrast", &CONTRAST_GROUND);

const CONTRAST_GROUND: Ground = Ground {
    back: rgb(0, 0, 0),
    text: rgb(255, 255, 255),
    dim: rgb(215, 215, 215),
    key: rgb(0, 255, 255),
    good: rgb(0, 255, 0),
    warn: rgb(255, 255, 0),
    bad: rgb(255, 120, 120),
    line: rgb(200, 200, 200),
    turned: rgb(0, 255, 255),
    cut: rgb(255, 160, 255),
    pick_back: rgb(255, 255, 0),
    pick_text: rgb(0, 0, 0),
};

/// No colour at all, and no colour command: modifiers and marks only.
pub const MONO: Theme = Theme {
    name: "mono",
    text: PLAIN,
    dim: PLAIN,
    title: BOLD,
    key: KEY,
    mark: BOLD,
    good: BOLD,
    warn: ITALIC,
    low: LOW,
    bad: BOLD,
    picked: REVERSE,
    line: PLAIN,
    piece: PLAIN,
    turned: TURNED,
    offcut: PLAIN,
    cut: BOLD,
};

/// All themes that come with the program.
pub const THEMES: [Theme; 5] = [TERMINAL, LIGHT, DARK, CONTRAST, MONO];

/// The theme of a name, or the terminal's own.
pub fn by_name(name: &str) -> Theme {
    THEMES.into_iter().find(|t| t.name == name).unwrap_or(TERMINAL)
}

/// The person's own colours over the theme that they begin with.
pub fn own(own: &OwnTheme) -> Theme {
    let mut ground = match own.base {
        ThemeChoice::Light => LIGHT_GROUND,
        ThemeChoice::Contrast => CONTRAST_GROUND,
        _ => DARK_GROUND,
    };
    let places = [
        &mut ground.back,
        &mut ground.text,
        &mut ground.dim,
        &mut ground.key,
        &mut ground.good,
        &mut ground.warn,
        &mut ground.bad,
        &mut ground.line,
        &mut ground.turned,
        &mut ground.cut,
        &mut ground.pick_back,
        &mut ground.pick_text,
    ];
    for (place, colour) in places.into_iter().zip(own.colours) {
        if let Some([r, g, b]) = colour {
            *place = rgb(r, g, b);
        }
    }
    from_ground("own", &ground)
}

struct Ground {
    back: Color,
    text: Color,
    dim: Color,
    key: Color,
    good: Color,
    warn: Color,
    bad: Color,
    line: Color,
    turned: Color,
    cut: Color,
    pick_back: Color,
    pick_text: Color,
}

const fn rgb(r: u8, g: u8, b: u8) -> Color {
    Color::Rgb(r, g, b)
}

const fn from_ground(name: &'static str, g: &Ground) -> Theme {
    let on = Style::new().bg(g.back);
    let bold = on.add_modifier(Modifier::BOLD);
    Theme {
        name,
        text: on.fg(g.text),
        dim: on.fg(g.dim),
        title: bold.fg(g.text),
        key: bold.fg(g.key).add_modifier(Modifier::UNDERLINED),
        mark: bold.fg(g.key),
        good: bold.fg(g.good),
        warn: on.fg(g.warn).add_modifier(Modifier::ITALIC),
        low: bold.fg(g.warn).add_modifier(Modifier::ITALIC),
        bad: bold.fg(g.bad),
        picked: Style::new().bg(g.pick_back).fg(g.pick_text),
        line: on.fg(g.line),
        piece: on.fg(g.text),
        turned: on.fg(g.turned).add_modifier(Modifier::UNDERLINED).add_modifier(Modifier::ITALIC),
        offcut: on.fg(g.text),
        cut: bold.fg(g.cut),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_example_of_an_own_theme_is_the_dark_one() {
        let theme = example();
        assert_eq!(Theme { name: "dark", ..own(&theme) }, DARK);
        let light = OwnTheme { base: ThemeChoice::Light, ..OwnTheme::default() };
        assert_eq!(Theme { name: "light", ..own(&light) }, LIGHT);
    }

    /// The example file, read by hand: `name: "#rrggbb"` a line.
    fn example() -> OwnTheme {
        let text = include_str!("../../assets/example-theme.ron");
        let mut theme = OwnTheme { base: ThemeChoice::Dark, ..OwnTheme::default() };
        for (place, role) in crate::domain::screen::ROLES.iter().enumerate() {
            let (_, rest) = text.split_once(&format!("\n    {role}: \"#")).unwrap();
            let part = |at: usize| u8::from_str_radix(rest.get(at..at + 2).unwrap(), 16).unwrap();
            theme.colours[place] = Some([part(0), part(2), part(4)]);
        }
        theme
    }

    fn styles(t: &Theme) -> [Style; 15] {
        [
            t.text, t.dim, t.title, t.key, t.good, t.warn, t.bad, t.picked, t.line, t.piece, t.turned,
            t.offcut, t.cut, t.mark, t.low,
        ]
    }

    #[test]
    fn the_default_keeps_to_the_terminals_own_colours() {
        for s in styles(&TERMINAL) {
            assert!(s.bg.is_none(), "the ground is the terminal's");
            assert!(!matches!(s.fg, Some(Color::Rgb(..) | Color::Indexed(_))));
        }
    }

    /// 3 to 1, as WCAG 2.2 asks of bold and of large text (1.4.3) and of signs (1.4.11), on black as on white. The values
    /// are the usual ones of xterm (its resource file XTerm-col.ad: red3, green3, yellow3, blue2, magenta3, cyan3; color9 is red, color12 #5c5cff).
    #[test]
    fn colours_of_the_default_stand_out_from_black_and_from_white() {
        let xterm = |c: Color| match c {
            Color::Red => rgb(0xcd, 0, 0),
            Color::Green => rgb(0, 0xcd, 0),
            Color::Yellow => rgb(0xcd, 0xcd, 0),
            Color::Blue => rgb(0, 0, 0xee),
            Color::Magenta => rgb(0xcd, 0, 0xcd),
            Color::Cyan => rgb(0, 0xcd, 0xcd),
            Color::LightRed => rgb(0xff, 0, 0),
            Color::LightBlue => rgb(0x5c, 0x5c, 0xff),
            other => panic!("{other:?}"),
        };
        let (black, white) = (rgb(0, 0, 0), rgb(255, 255, 255));
        let stands_out = |c| contrast(xterm(c), black) >= 3.0 && contrast(xterm(c), white) >= 3.0;
        for colour in styles(&TERMINAL).into_iter().filter_map(|s| s.fg) {
            assert!(stands_out(colour), "{colour:?}");
        }
        assert!(!stands_out(Color::Yellow) && !stands_out(Color::Blue), "the rule tells them apart");
        // Thin letters want 4.5 to 1; no colour has more than the root of 21, 4.58, on black and white alike.
        let thin = |c| [black, white].iter().all(|ground| contrast(xterm(c), *ground) >= 4.4);
        for style in styles(&TERMINAL).into_iter().filter(|s| !s.add_modifier.contains(Modifier::BOLD)) {
            assert!(style.fg.is_none_or(thin), "{style:?}");
        }
        assert!(!thin(Color::Red), "the rule tells them apart");
    }

    /// What is wrong or short, and what wants a look, on every ground that words stand on: the painted themes' own, papers of any
    /// color, and the terminal's black or white. 4.5 to 1 but for red on white, which is always bold: no red reaches it on both.
    #[test]
    fn warnings_stand_out_on_every_ground() {
        let levels = || (0..=255).step_by(15);
        let papers = levels().flat_map(|r| levels().flat_map(move |g| levels().map(move |b| rgb(r, g, b))));
        let papers: Vec<Color> = papers.collect();
        for theme in THEMES {
            for style in [theme.bad, theme.warn, theme.low] {
                for paper in papers.iter().filter(|paper| Some(**paper) != style.bg) {
                    let on = crate::ui::ground::on_ground(style, *paper);
                    let ratio = contrast(on.fg.unwrap(), *paper);
                    assert!(ratio >= 4.5, "{} on {paper:?}: {ratio:.2}", theme.name);
                }
                if let (Some(fg), Some(bg)) = (style.fg, style.bg) {
                    assert!(contrast(fg, bg) >= 4.5, "{} {style:?}", theme.name);
                }
            }
        }
        // Bright red as xterm has it, on black and on the dark gray that many terminals are set to.
        assert_eq!(TERMINAL.bad, BOLD.fg(Color::LightRed));
        for ground in [rgb(0, 0, 0), rgb(18, 18, 18)] {
            let [red, dark_red] = [rgb(0xff, 0, 0), rgb(0xcd, 0, 0)].map(|c| contrast(c, ground));
            assert!(red >= 4.5 && dark_red < 4.0, "{red:.2}, {dark_red:.2}");
        }
    }

    /// Key hints, warnings, low stock, turned pieces and the cut in hand are told apart in every theme, and by more than
    /// colour: with all colours taken away each still differs from every other, and none of them looks like plain words.
    #[test]
    fn five_states_are_five_looks_with_and_without_colour() {
        for theme in THEMES {
            let five = [theme.key, theme.warn, theme.low, theme.turned, theme.cut];
            let colourless = |s: &Style| Style { fg: None, bg: None, ..*s };
            for (n, one) in five.iter().enumerate() {
                assert_ne!(colourless(one), colourless(&theme.text), "{}: {one:?}", theme.name);
                for other in &five[n + 1..] {
                    // A bold line of a terminal may look like a thin one: low stock has its word beside it.
                    let is_more = |s: &Style| s.add_modifier.difference(Modifier::BOLD);
                    let are_low = [one, other].iter().any(|s| **s == theme.low);
                    assert!(are_low || is_more(one) != is_more(other), "{} by weight alone", theme.name);
                    assert_ne!(one, other, "{}", theme.name);
                    assert_ne!(colourless(one), colourless(other), "{} without color", theme.name);
                }
            }
        }
    }

    #[test]
    fn mono_sets_no_colour_and_marks_the_cursor_by_reverse() {
        for s in styles(&MONO) {
            assert!(s.fg.is_none() && s.bg.is_none());
        }
        assert!(MONO.picked.add_modifier.contains(Modifier::REVERSED));
    }

    /// Contrast ratio of WCAG 2.2.
    fn contrast(a: Color, b: Color) -> f64 {
        let luminance = |c: Color| {
            let Color::Rgb(r, g, b) = c else { panic!("{c:?}") };
            let lin = |v: u8| {
                let v = f64::from(v) / 255.0;
                if v <= 0.04045 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
            };
            0.2126 * lin(r) + 0.7152 * lin(g) + 0.0722 * lin(b)
        };
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    /// WCAG 2.2, success criterion 1.4.3: 4.5 to 1 for text.
    #[test]
    fn text_of_the_painted_themes_is_legible() {
        for theme in [LIGHT, DARK, CONTRAST] {
            for s in styles(&theme).into_iter().filter(|s| *s != theme.line) {
                let ratio = contrast(s.fg.unwrap(), s.bg.unwrap());
                assert!(ratio >= 4.5, "{} {s:?}: {ratio:.2}", theme.name);
            }
        }
    }
}
