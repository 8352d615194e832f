//! The person's own trimmer: how paper is set to a length on it, how its blade runs, and how far off a test strip came out.
//! All words and drawings of a step ask here, so that what is said is what the hand finds. Knows no plan and no screen.
//!
//! ```text
//! fence        |--set--|blade        the set edge lies against the fence at the left, the hand is on that side
//! stop         stop above, the blade below it, the person at the bottom: what is set comes off behind the blade
//! ruler-left   rail above, |--set--|blade: the mark left of the blade is where the set edge lies
//! ruler-right  rail above, blade|--set--|: the same to the right of the blade, the hand is on the left
//! ```

use super::geometry::Edge;
use super::lying::Lying;
use crate::domain::length::{Length, Unit};
use crate::domain::plural::count_of;
use crate::domain::size::Size;

/// How a sheet is set to a length.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum SetBy {
    /// Against a fence beside the blade, on the side of the hand.
    #[default]
    Fence,
    /// Against a stop behind the blade: the person is on the other side.
    Stop,
    /// By the ruler on the bed, read to the left of the blade, an edge squared against the top rail.
    RulerLeft,
    /// The same, read to the right of the blade.
    RulerRight,
}

impl SetBy {
    /// All of them, the usual one first.
    pub const ALL: [Self; 4] = [Self::Fence, Self::Stop, Self::RulerLeft, Self::RulerRight];

    /// Its name on the command line and in forms.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Fence => "fence",
            Self::Stop => "stop",
            Self::RulerLeft => "ruler-left",
            Self::RulerRight => "ruler-right",
        }
    }

    /// The one of a name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|s| s.name() == name)
    }

    /// What it is, for somebody who chooses.
    pub const fn told(self) -> &'static str {
        match self {
            Self::Fence => "against a fence beside the blade",
            Self::Stop => "against a stop behind the blade",
            Self::RulerLeft => "by the ruler on the bed, read left of the blade",
            Self::RulerRight => "by the ruler on the bed, read right of the blade",
        }
    }

    /// The word for what is set: `fence`, `stop`, `ruler`.
    pub const fn noun(self) -> &'static str {
        match self {
            Self::Fence => "fence",
            Self::Stop => "stop",
            Self::RulerLeft | Self::RulerRight => "ruler",
        }
    }

    /// The same at the beginning of a sentence.
    const fn capital(self) -> &'static str {
        match self {
            Self::Fence => "Fence",
            Self::Stop => "Stop",
            Self::RulerLeft | Self::RulerRight => "Ruler",
        }
    }

    /// The side, as the sheet lies on the trimmer, where the edge that is set lies.
    pub const fn side(self) -> Edge {
        match self {
            Self::Fence | Self::RulerLeft => Edge::Left,
            Self::Stop => Edge::Top,
            Self::RulerRight => Edge::Right,
        }
    }

    /// True where another edge is squared against a rail above.
    pub const fn has_rail(self) -> bool {
        matches!(self, Self::RulerLeft | Self::RulerRight)
    }

    /// True where the hand holds the part that is set; else it holds what remains.
    pub const fn holds_set_part(self) -> bool {
        matches!(self, Self::Fence | Self::RulerLeft)
    }

    /// Where the part that is set lies after the cut, and where what remains lies.
    pub const fn places(self) -> (&'static str, &'static str) {
        match self {
            Self::Fence => ("Fence side", "Beyond the blade"),
            Self::Stop => ("Behind the blade", "On your side"),
            Self::RulerLeft => ("Left of the blade", "Right of the blade"),
            Self::RulerRight => ("Right of the blade", "Left of the blade"),
        }
    }

    /// Settings made anew, counted: `14 fence moves`; on a ruler nothing is moved but the paper: `14 setting changes`.
    pub fn moves(self, n: u32) -> String {
        count_of(
            n.into(),
            match self {
                Self::Fence => "fence move",
                Self::Stop => "stop move",
                Self::RulerLeft | Self::RulerRight => "setting change",
            },
        )
    }

    /// The same without a number: `fence moves`.
    pub const fn moves_noun(self) -> &'static str {
        match self {
            Self::Fence => "fence moves",
            Self::Stop => "stop moves",
            Self::RulerLeft | Self::RulerRight => "setting changes",
        }
    }

    /// To set anew, of a plan: `moves the fence`.
    pub const fn moves_verb(self) -> &'static str {
        match self {
            Self::Fence => "moves the fence",
            Self::Stop => "moves the stop",
            Self::RulerLeft | Self::RulerRight => "changes the setting",
        }
    }
}

/// How the blade runs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Blade {
    /// On an arm that comes down.
    #[default]
    Arm,
    /// In a carriage that slides along a rail.
    Slides,
}

impl Blade {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Arm, Self::Slides];

    /// Its name on the command line and in forms.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Arm => "arm",
            Self::Slides => "slides",
        }
    }

    /// What it is, for somebody who chooses.
    pub const fn told(self) -> &'static str {
        match self {
            Self::Arm => "on an arm that comes down",
            Self::Slides => "in a carriage that slides along a rail",
        }
    }

    /// What to do with it whenever the person stops. Common practice; the maker's instructions come first.
    pub const fn rest_words(self) -> &'static str {
        match self {
            Self::Arm => "latch the arm and guard the blade",
            Self::Slides => "slide the blade to the end of its rail and lock or cover it",
        }
    }

    /// The caution at the trimmer. Common practice; the maker's instructions come first.
    pub fn caution(self) -> String {
        let fingers = match self {
            Self::Arm => "Fingers behind the guard",
            Self::Slides => "Fingers off the track of the blade",
        };
        format!("{fingers}; {} when you stop. Your trimmer's own instructions come first.", self.rest_words())
    }
}

/// A strip cut to see how far off the trimmer is: what it was set to and what it measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct TestStrip {
    /// What the trimmer was set to.
    pub set: Length,
    /// What the strip measures.
    pub measured: Length,
}

/// A strip that is further off than this was misread, not cut badly: a quarter of an inch (our own choice).
const MOST_ERROR: Length = Length::sixteenths(4);

impl TestStrip {
    /// A test strip that can be.
    ///
    /// # Errors
    /// The sentence that refuses it.
    pub fn new(set: Length, measured: Length, unit: Unit) -> Result<Self, String> {
        if !set.is_positive() || !measured.is_positive() {
            return Err("a test strip has a length above zero: such as set 4, measured 4 1/32".to_owned());
        }
        if (measured - set).abs() > MOST_ERROR {
            return Err(format!(
                "set {}, measured {}: that is more than {} apart; measure the strip again from the edge that was set",
                set.show_with_unit(unit),
                measured.show_with_unit(unit),
                MOST_ERROR.show_with_unit(unit)
            ));
        }
        Ok(Self { set, measured })
    }

    /// How much larger than set its strips come out; negative where they come out smaller.
    pub fn error(self) -> Length {
        self.measured - self.set
    }
}

/// The person's trimmer, as far as words and drawings speak of it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct TrimmerProfile {
    /// How a sheet is set to a length.
    pub set_by: SetBy,
    /// How the blade runs.
    pub blade: Blade,
    /// The last test strip, if one was cut.
    pub test: Option<TestStrip>,
    /// True where its error is taken off every setting.
    pub corrects: bool,
}

impl TrimmerProfile {
    /// How much larger than set its parts come out.
    pub fn error(&self) -> Length {
        self.test.map_or(Length::ZERO, TestStrip::error)
    }

    /// What to set for a part of a length: the length, or the length less the error where that is taken off. A setting
    /// is never nothing: where no more than the error would be left, it stays.
    pub fn setting(&self, length: Length) -> Length {
        let less = length - self.error();
        if self.corrects && less.is_positive() { less } else { length }
    }

    /// What is set, as a step begins with it: `Fence 3 1/4 in`; with the error of the test strip `Ruler 3 1/4 in (comes
    /// out 1/32 in over)`, or `Ruler 3 7/32 in (for 3 1/4 in)` where it is taken off.
    pub fn setting_words(&self, length: Length, unit: Unit) -> String {
        let set = self.setting(length);
        let what = format!("{} {}", self.set_by.capital(), set.show_with_unit(unit));
        match self.error_words(length, unit) {
            Some(note) => format!("{what} ({note})"),
            None => what,
        }
    }

    /// What the error means for a setting, in a few words; `None` where there is none.
    pub fn error_words(&self, length: Length, unit: Unit) -> Option<String> {
        let error = self.error();
        if error == Length::ZERO {
            return None;
        }
        if self.setting(length) != length {
            return Some(format!("for {}", length.show_with_unit(unit)));
        }
        let way = if error.is_positive() { "over" } else { "under" };
        Some(format!("comes out {} {way}", error.abs().show_with_unit(unit)))
    }

    /// How a panel with an edge that is set lies on this trimmer.
    pub fn lying(&self, panel: Size, edge: Edge) -> Lying {
        Lying::with(panel, edge, self.set_by.side())
    }

    /// Which edge goes where, in the words of a step: `top edge (2 in)`, on a ruler `top edge (2 in) at the mark, right
    /// edge along the top rail,`.
    pub fn edge_words(&self, panel: Size, edge: Edge, along: &str) -> String {
        let first = format!("{} edge ({along})", edge.word());
        if !self.set_by.has_rail() {
            return first;
        }
        let rail = self.lying(panel, edge).on_top();
        format!("{first} at the mark, {} edge along the top rail,", rail.word())
    }

    /// The profile in words: `ruler read left of the blade, blade on an arm, test strip: set 4 in, measured 4 1/32 in,
    /// taken off`.
    pub fn words(&self, unit: Unit) -> String {
        let mut all = format!("set {}, blade {}", self.set_by.told(), self.blade.told());
        if let Some(test) = self.test {
            let off = if self.corrects { "taken off each setting" } else { "not taken off" };
            let (set, measured) = (test.set.show_with_unit(unit), test.measured.show_with_unit(unit));
            all = format!("{all}, test strip set {set} measured {measured}, {off}");
        }
        all
    }

    /// Reads a profile as the command line has it: `ruler-left`, `stop,slides`, `ruler-right,slides,4=4 1/32,corrected`.
    ///
    /// # Errors
    /// The sentence that refuses it.
    pub fn parse(text: &str, unit: Unit) -> Result<Self, String> {
        let mut parts = text.split(',').map(str::trim);
        let name = parts.next().unwrap_or_default();
        let set_by = SetBy::from_name(name).ok_or_else(|| {
            let names = SetBy::ALL.map(SetBy::name).join(", ");
            format!("\"{name}\": how paper is set comes first, one of {names}")
        })?;
        let mut profile = Self { set_by, ..Self::default() };
        for part in parts {
            match part {
                "arm" => profile.blade = Blade::Arm,
                "slides" => profile.blade = Blade::Slides,
                "corrected" => profile.corrects = true,
                _ => profile.test = Some(test_strip(part, unit)?),
            }
        }
        if profile.corrects && profile.test.is_none() {
            return Err("corrected: there is no test strip to correct by; write it as 4=4 1/32".to_owned());
        }
        Ok(profile)
    }
}

/// Reads `4=4 1/32`: set 4, measured 4 1/32.
fn test_strip(text: &str, unit: Unit) -> Result<TestStrip, String> {
    let (set, measured) = text.split_once('=').ok_or_else(|| {
        format!(
            "\"{text}\": after how paper is set come arm or slides, a test strip such as 4=4 1/32, corrected"
        )
    })?;
    let read = |t: &str| Length::parse(t.trim(), unit).map_err(|e| e.to_string());
    TestStrip::new(read(set)?, read(measured)?, unit)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn length(text: &str) -> Length {
        Length::parse(text, Unit::Inch).unwrap()
    }

    /// Set 4, measured 4 1/32: strips come out 1/32 over, so 3 7/32 is set for 3 1/4 (3 8/32 less 1/32).
    #[test]
    fn a_test_strip_tells_the_error_and_it_can_be_taken_off() {
        let mut own = TrimmerProfile::parse("ruler-left,4=4 1/32", Unit::Inch).unwrap();
        assert_eq!((own.error(), own.setting(length("3 1/4"))), (length("1/32"), length("3 1/4")));
        assert_eq!(own.setting_words(length("3 1/4"), Unit::Inch), "Ruler 3 1/4 in (comes out 1/32 in over)");
        own.corrects = true;
        assert_eq!(own.setting(length("3 1/4")), length("3 7/32"));
        assert_eq!(own.setting_words(length("3 1/4"), Unit::Inch), "Ruler 3 7/32 in (for 3 1/4 in)");
        // Set 4, measured 3 15/16: 1/16 under, so 3 5/16 is set for 3 1/4.
        let under = TrimmerProfile::parse("stop, slides, 4 = 3 15/16, corrected", Unit::Inch).unwrap();
        assert_eq!(under.setting(length("3 1/4")), length("3 5/16"));
        assert_eq!(under.blade, Blade::Slides);
        // Nothing is never set.
        assert_eq!(own.setting(length("1/32")), length("1/32"));
        let fair = TrimmerProfile::parse("fence,4=4,corrected", Unit::Inch).unwrap();
        assert_eq!(fair.setting_words(length("3 1/4"), Unit::Inch), "Fence 3 1/4 in");
    }

    #[test]
    fn refusals_say_what_would_do() {
        for (text, words) in [
            ("", "one of fence, stop, ruler-left, ruler-right"),
            ("table", "one of fence, stop, ruler-left, ruler-right"),
            ("stop,rolls", "arm or slides"),
            ("stop,corrected", "4=4 1/32"),
            ("stop,4=5", "measure the strip again"),
            ("stop,4=0", "above zero"),
            ("stop,4=x", "x"),
        ] {
            let why = TrimmerProfile::parse(text, Unit::Inch).unwrap_err();
            assert!(why.contains(words), "{text}: {why}");
        }
        let metric = TrimmerProfile::parse("stop,100=100.5", Unit::Mm).unwrap();
        assert_eq!(metric.error(), Length::tenths_mm(5));
    }

    /// One example a profile, followed by hand with a letter sheet (8 1/2 x 11, drawn upright) whose top edge is set to
    /// 3 in. Left of the blade: the sheet is turned left by a quarter until its top is at the left; its right edge is
    /// then above. Right of the blade: turned right, top at the right, its left edge above. A stop behind the blade:
    /// as it is, top away from the person.
    #[test]
    fn a_sheet_lies_as_the_hand_lays_it() {
        let sheet = Size::new(length("8 1/2"), length("11"));
        let lies = |set_by| {
            let own = TrimmerProfile { set_by, ..TrimmerProfile::default() };
            let lying = own.lying(sheet, Edge::Top);
            (lying.size(), lying.on_top(), lying.place(Edge::Top))
        };
        let (wide, high) = (sheet.turned(), sheet);
        assert_eq!(lies(SetBy::Fence), (wide, Edge::Right, Edge::Left));
        assert_eq!(lies(SetBy::RulerLeft), (wide, Edge::Right, Edge::Left));
        assert_eq!(lies(SetBy::RulerRight), (wide, Edge::Left, Edge::Right));
        assert_eq!(lies(SetBy::Stop), (high, Edge::Top, Edge::Top));
        let own = |set_by| TrimmerProfile { set_by, ..TrimmerProfile::default() };
        assert_eq!(own(SetBy::Fence).edge_words(sheet, Edge::Top, "8 1/2 in"), "top edge (8 1/2 in)");
        assert_eq!(
            own(SetBy::RulerRight).edge_words(sheet, Edge::Top, "8 1/2 in"),
            "top edge (8 1/2 in) at the mark, left edge along the top rail,"
        );
    }
}
