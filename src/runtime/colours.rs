//! Whether there is a screen to draw on, and how many colours it has. Decided from a snapshot of the environment, so
//! that every case can be tested; must not know themes.
//!
//! | said by | meaning | source |
//! |---|---|---|
//! | `NO_COLOR`, not empty | no colour | no-color.org |
//! | `CLICOLOR_FORCE`, neither empty nor 0 | colour even where `TERM` promises none | bixense.com/clicolors |
//! | `CLICOLOR=0` | no colour | bixense.com/clicolors |
//! | `COLORTERM=truecolor` or `24bit` | 24-bit colour | common practice |
//! | `TERM` ends in `-direct` | 24-bit colour | terminfo naming |
//! | `TERM` contains `256color` | 256 colours | terminfo naming |
//! | no `TERM`, on a system whose terminals go without | 24-bit colour where the terminal takes control sequences | the system's own description of them |
//! | `TERM=dumb` | no screen at all | terminfo |

use crate::system::{keys, screen};
use std::io::IsTerminal;

/// How many colours may be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ColourUse {
    /// None: bold, reverse and glyphs only.
    None,
    /// The terminal's own sixteen, whatever they are.
    Sixteen,
    /// The sixteen, a 6 x 6 x 6 cube and 24 greys.
    TwoFiftySix,
    /// Any of 16.7 million.
    TrueColour,
}

/// What the decision is made from.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Surroundings {
    /// `NO_COLOR`.
    pub no_color: Option<String>,
    /// `CLICOLOR`.
    pub clicolor: Option<String>,
    /// `CLICOLOR_FORCE`.
    pub clicolor_force: Option<String>,
    /// `TERM`.
    pub term: Option<String>,
    /// `COLORTERM`.
    pub colorterm: Option<String>,
    /// `TMUX` is set.
    pub tmux: bool,
    /// `STY` is set.
    pub sty: bool,
    /// Standard output is a terminal.
    pub out_is_terminal: bool,
    /// Keys can be read: standard input is a terminal, or the process has one to open.
    pub keys_can_be_read: bool,
    /// The system's own terminals show any colour, and their environment says nothing.
    pub any_colour: bool,
    /// Columns of the terminal on standard output.
    pub columns: Option<usize>,
}

impl Surroundings {
    /// Reads the process's environment and its standard streams. Text that is not UTF-8 is read as far as it goes.
    pub fn read() -> Self {
        let text = |name: &str| std::env::var_os(name).map(|value| value.to_string_lossy().into_owned());
        let has = |name: &str| std::env::var_os(name).is_some_and(|value| !value.is_empty());
        let out_is_terminal = std::io::stdout().is_terminal();
        let size = out_is_terminal.then(crossterm::terminal::size).and_then(Result::ok);
        Self {
            columns: size.map(|(columns, _)| columns.into()).filter(|n| *n > 0),
            no_color: text("NO_COLOR"),
            clicolor: text("CLICOLOR"),
            clicolor_force: text("CLICOLOR_FORCE"),
            term: text("TERM"),
            colorterm: text("COLORTERM"),
            tmux: has("TMUX"),
            sty: has("STY"),
            out_is_terminal,
            keys_can_be_read: keys::can_be_read(),
            any_colour: out_is_terminal && screen::shows_any_colour(),
        }
    }
}

/// Why no screen can be drawn. Each sentence says what would do.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoScreen {
    /// Output goes to a file or a pipe.
    #[error(
        "standard output is not a terminal, so the workbench cannot open; run it in a terminal, or ask for one answer, \
         such as: trimside yield 2x3 --sheet letter"
    )]
    OutputIsNoTerminal,
    /// No way to read keys.
    #[error(
        "there is no terminal to read keys from, so the workbench cannot open; run it in a terminal, or ask for one \
         answer, such as: trimside yield 2x3 --sheet letter"
    )]
    NoKeys,
    /// `TERM=dumb`.
    #[error(
        "TERM=dumb says that this terminal cannot place text, so the workbench cannot open; set TERM to the terminal's \
         own name, or ask for one answer, such as: trimside yield 2x3 --sheet letter"
    )]
    Dumb,
}

/// The colours of the screen, or why there is none.
///
/// # Errors
/// [`NoScreen`], whose sentence is for the person.
pub fn depth(around: &Surroundings) -> Result<ColourUse, NoScreen> {
    if !around.out_is_terminal {
        return Err(NoScreen::OutputIsNoTerminal);
    }
    if !around.keys_can_be_read {
        return Err(NoScreen::NoKeys);
    }
    if around.term.as_deref() == Some("dumb") {
        return Err(NoScreen::Dumb);
    }
    Ok(asked_for(around))
}

/// The colours of a text answer. What the command line asks for goes before what the environment says; without one, text
/// for a pipe, a file or a terminal that cannot place it is plain unless `CLICOLOR_FORCE` asks otherwise.
pub fn for_text(around: &Surroundings, asked: Option<bool>) -> ColourUse {
    let is_plain = !around.out_is_terminal || around.term.as_deref() == Some("dumb");
    match asked {
        Some(false) => ColourUse::None,
        Some(true) => announced(around).max(ColourUse::Sixteen),
        None if is_plain && !is_forced(around) => ColourUse::None,
        None => asked_for(around),
    }
}

fn is_forced(around: &Surroundings) -> bool {
    around.clicolor_force.as_deref().is_some_and(|text| !text.is_empty() && text != "0")
}

/// What the person's environment asks for of what the terminal has.
fn asked_for(around: &Surroundings) -> ColourUse {
    if around.no_color.as_deref().is_some_and(|text| !text.is_empty()) {
        return ColourUse::None;
    }
    let announced = announced(around);
    if is_forced(around) {
        return announced.max(ColourUse::Sixteen);
    }
    if around.clicolor.as_deref() == Some("0") {
        return ColourUse::None;
    }
    announced
}

/// What the terminal says of itself, no matter what the person asks for.
fn announced(around: &Surroundings) -> ColourUse {
    let by_name = match around.term.as_deref() {
        None if around.any_colour => ColourUse::TrueColour,
        term => by_name(term.unwrap_or_default()),
    };
    let true_colour = matches!(around.colorterm.as_deref(), Some("truecolor" | "24bit"));
    // COLORTERM is inherited through a multiplexer that may not hand 24-bit colour on; the one that sets TMUX converts
    // what its own terminal lacks, the one that sets STY garbles it unless its TERM promises it.
    let believed = true_colour && (around.tmux || !around.sty);
    if believed { ColourUse::TrueColour } else { by_name }
}

/// What a terminal's name promises. Unknown names and none at all get sixteen: nearly every terminal has them.
fn by_name(term: &str) -> ColourUse {
    if term.ends_with("-direct") {
        ColourUse::TrueColour
    } else if term.contains("256color") {
        ColourUse::TwoFiftySix
    } else if is_monochrome(term) {
        ColourUse::None
    } else {
        ColourUse::Sixteen
    }
}

/// Names of terminals that terminfo describes without colours, and its suffixes for monochrome ones.
fn is_monochrome(term: &str) -> bool {
    let family = ["vt52", "vt100", "vt102", "vt220", "vt320", "vt420"];
    family
        .iter()
        .any(|name| term == *name || term.strip_prefix(name).is_some_and(|rest| rest.starts_with('-')))
        || term.ends_with("-mono")
        || term.ends_with("-m")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn on(term: &str) -> Surroundings {
        Surroundings {
            term: Some(term.to_owned()),
            out_is_terminal: true,
            keys_can_be_read: true,
            ..Surroundings::default()
        }
    }

    #[test]
    fn names_promise_colours() {
        // Names and their `colors` capability: the terminfo database of ncurses 6.
        for (term, depth_of_it) in [
            ("xterm-256color", ColourUse::TwoFiftySix),
            ("screen-256color", ColourUse::TwoFiftySix),
            ("tmux-256color", ColourUse::TwoFiftySix),
            ("screen.xterm-256color", ColourUse::TwoFiftySix),
            ("xterm-direct", ColourUse::TrueColour),
            ("xterm-16color", ColourUse::Sixteen),
            ("xterm", ColourUse::Sixteen),
            ("screen", ColourUse::Sixteen),
            ("linux", ColourUse::Sixteen),
            ("vt100", ColourUse::None),
            ("vt220-8bit", ColourUse::None),
            ("xterm-mono", ColourUse::None),
            ("linux-m", ColourUse::None),
        ] {
            assert_eq!(depth(&on(term)), Ok(depth_of_it), "{term}");
        }
        assert_eq!(depth(&Surroundings { term: None, ..on("") }), Ok(ColourUse::Sixteen));
        let without_names = Surroundings { term: None, any_colour: true, ..on("") };
        assert_eq!(depth(&without_names), Ok(ColourUse::TrueColour));
        assert_eq!(depth(&Surroundings { any_colour: true, ..on("vt100") }), Ok(ColourUse::None));
    }

    #[test]
    fn no_color_counts_when_present_and_not_empty() {
        // no-color.org: "when present and not an empty string (regardless of its value)".
        let ask =
            |value: &str| depth(&Surroundings { no_color: Some(value.to_owned()), ..on("xterm-256color") });
        assert_eq!(ask("1"), Ok(ColourUse::None));
        assert_eq!(ask("0"), Ok(ColourUse::None));
        assert_eq!(ask(""), Ok(ColourUse::TwoFiftySix));
        let forced = Surroundings {
            no_color: Some("1".to_owned()),
            clicolor_force: Some("1".to_owned()),
            ..on("xterm-direct")
        };
        assert_eq!(depth(&forced), Ok(ColourUse::None));
    }

    #[test]
    fn clicolor_switches_off_and_force_switches_on() {
        // bixense.com/clicolors.
        let off = Surroundings { clicolor: Some("0".to_owned()), ..on("xterm-256color") };
        assert_eq!(depth(&off), Ok(ColourUse::None));
        let on_anyway = Surroundings { clicolor_force: Some("1".to_owned()), ..off.clone() };
        assert_eq!(depth(&on_anyway), Ok(ColourUse::TwoFiftySix));
        let not_forced = Surroundings { clicolor_force: Some("0".to_owned()), ..off };
        assert_eq!(depth(&not_forced), Ok(ColourUse::None));
        let mono = Surroundings { clicolor_force: Some("1".to_owned()), ..on("vt100") };
        assert_eq!(depth(&mono), Ok(ColourUse::Sixteen));
    }

    #[test]
    fn true_colour_is_used_only_if_announced_and_handed_on() {
        let plain = Surroundings { colorterm: Some("truecolor".to_owned()), ..on("xterm-256color") };
        assert_eq!(depth(&plain), Ok(ColourUse::TrueColour));
        assert_eq!(
            depth(&Surroundings { colorterm: Some("24bit".to_owned()), ..on("xterm") }),
            Ok(ColourUse::TrueColour)
        );
        assert_eq!(
            depth(&Surroundings { colorterm: Some("yes".to_owned()), ..on("xterm") }),
            Ok(ColourUse::Sixteen)
        );
        let sliced = Surroundings { sty: true, term: Some("screen-256color".to_owned()), ..plain.clone() };
        assert_eq!(depth(&sliced), Ok(ColourUse::TwoFiftySix));
        let converted = Surroundings { tmux: true, ..sliced };
        assert_eq!(depth(&converted), Ok(ColourUse::TrueColour));
    }

    #[test]
    fn no_screen_is_said_in_a_sentence_with_a_way_out() {
        let piped = Surroundings { out_is_terminal: false, ..on("xterm") };
        assert_eq!(depth(&piped), Err(NoScreen::OutputIsNoTerminal));
        let deaf = Surroundings { keys_can_be_read: false, ..on("xterm") };
        assert_eq!(depth(&deaf), Err(NoScreen::NoKeys));
        assert_eq!(depth(&on("dumb")), Err(NoScreen::Dumb));
        for why in [NoScreen::OutputIsNoTerminal, NoScreen::NoKeys, NoScreen::Dumb] {
            let sentence = why.to_string();
            assert!(
                sentence.contains("cannot open; ") && sentence.contains("trimside yield 2x3"),
                "{sentence}"
            );
            assert!(!sentence.contains("  ") && !sentence.contains('\n'), "{sentence}");
        }
    }
}
