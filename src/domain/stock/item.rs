//! A line of the shelf: what it is, where it lies, how it is bought, and where it stands in the year's refresh.
//! Counts are not here: they live in the log alone.

use crate::domain::money::Money;
use crate::domain::pattern::Pattern;
use crate::domain::size::{Grain, Size};
use crate::domain::stock::ids::SwatchId;
use jiff::civil::Date;
use std::fmt;

/// What kind of thing an item is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Kind {
    /// Card stock or paper of one colour.
    #[default]
    PlainSheet,
    /// Paper with a pattern, on one side or both.
    PatternedPaper,
    /// An ink pad.
    InkPad,
    /// A refill for an ink pad.
    Refill,
    /// Envelopes.
    Envelope,
    /// Glue, tape, foam squares.
    Adhesive,
    /// Anything else.
    Other,
}

impl Kind {
    /// All kinds, in the order in which lists show them.
    pub const ALL: [Self; 7] = [
        Self::PlainSheet,
        Self::PatternedPaper,
        Self::InkPad,
        Self::Refill,
        Self::Envelope,
        Self::Adhesive,
        Self::Other,
    ];

    /// The words that people say: those on the screen and on paper.
    pub const fn said(self) -> &'static str {
        match self {
            Self::PlainSheet => "card stock",
            _ => self.word(),
        }
    }

    /// The words stored, in lists and answers for programs too.
    pub const fn word(self) -> &'static str {
        match self {
            Self::PlainSheet => "plain sheet",
            Self::PatternedPaper => "patterned paper",
            Self::InkPad => "ink pad",
            Self::Refill => "refill",
            Self::Envelope => "envelope",
            Self::Adhesive => "adhesive",
            Self::Other => "other",
        }
    }

    /// Reads the words, stored or said, whatever their case and spacing.
    pub fn from_word(text: &str) -> Option<Self> {
        let words: Vec<String> = text.split_whitespace().map(str::to_lowercase).collect();
        let text = words.join(" ");
        let text = if text == "cardstock" { "card stock" } else { text.as_str() };
        Self::ALL.into_iter().find(|k| k.word() == text || k.said() == text)
    }

    /// True for what is cut: sheets of paper.
    pub const fn is_paper(self) -> bool {
        matches!(self, Self::PlainSheet | Self::PatternedPaper)
    }
}

/// Where an item stands in its maker's range.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum State {
    /// Can be ordered.
    #[default]
    Current,
    /// Can be ordered until this date.
    Leaving(Date),
    /// Can no longer be ordered.
    Gone,
    /// Can be ordered from this date.
    Arriving(Date),
}

impl State {
    /// The word alone: `current`, `leaving`, `gone`, `arriving`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Current => "current",
            Self::Leaving(_) => "leaving",
            Self::Gone => "gone",
            Self::Arriving(_) => "arriving",
        }
    }

    /// The date that belongs to it.
    pub const fn date(self) -> Option<Date> {
        match self {
            Self::Leaving(d) | Self::Arriving(d) => Some(d),
            Self::Current | Self::Gone => None,
        }
    }

    /// Reads `current`, `gone`, `leaving 2026-08-31`, `arriving 2026-09-01`; an empty text is current.
    pub fn from_words(text: &str) -> Option<Self> {
        let lower = text.to_lowercase();
        let mut words = lower.split_whitespace();
        let (word, date) = (words.next(), words.next());
        if words.next().is_some() {
            return None;
        }
        match (word, date) {
            (None | Some("current"), None) => Some(Self::Current),
            (Some("gone"), None) => Some(Self::Gone),
            (Some("leaving"), Some(d)) => d.parse().ok().map(Self::Leaving),
            (Some("arriving"), Some(d)) => d.parse().ok().map(Self::Arriving),
            _ => None,
        }
    }

    /// True where the item can be ordered on `day`.
    pub fn can_be_ordered(self, day: Date) -> bool {
        match self {
            Self::Current => true,
            Self::Gone => false,
            Self::Leaving(last) => day <= last,
            Self::Arriving(first) => first <= day,
        }
    }
}

impl fmt::Display for State {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.date() {
            Some(date) => f.pad(&format!("{} {date}", self.word())),
            None => f.pad(self.word()),
        }
    }
}

/// The thickness of one sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Caliper {
    /// In micrometres.
    pub micrometres: u32,
    /// Measured by the person, not taken from a table.
    pub measured: bool,
}

/// A line of the shelf.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Item {
    /// What the person calls it.
    pub name: String,
    /// What kind of thing it is.
    pub kind: Kind,
    /// Nominal size; `None` for what has no size.
    pub size: Option<Size>,
    /// Size as measured, which overrides the nominal one for cutting.
    pub measured: Option<Size>,
    /// Which way the fibres run.
    pub grain: Grain,
    /// The pattern must stay upright: pieces may not be turned.
    pub one_way: bool,
    /// The other side of a two-sided paper, in words.
    pub back: String,
    /// Its colour in the library; of a patterned paper the leading one.
    pub swatch: Option<SwatchId>,
    /// Further colours on the front of a patterned paper.
    pub colours: Vec<SwatchId>,
    /// Colours on the back of a patterned paper.
    pub back_colours: Vec<SwatchId>,
    /// What is drawn on the front of a patterned paper; `None` for what its colours suggest.
    pub pattern: Option<Pattern>,
    /// An ink that hides the paper under it (pigment white, powder); false for one that lets it through.
    pub opaque: bool,
    /// The seller's number for it.
    pub order_number: String,
    /// Numbers it had in earlier years; they still find it.
    pub former_numbers: Vec<String>,
    /// How many come in a pack; 0 and 1 both mean singly.
    pub pack: u32,
    /// False for a design that comes only as part of an assortment.
    pub sold_alone: bool,
    /// Reorder when free stock falls below this.
    pub low: u32,
    /// Price of a pack (of one, where it is sold singly).
    pub price: Option<Money>,
    /// Who sells it, as the person wrote it.
    pub seller: String,
    /// Days from order to arrival.
    pub lead_days: u16,
    /// Edition of the seller's catalogue.
    pub edition: String,
    /// Page in that catalogue.
    pub page: String,
    /// Where it stands in the range.
    pub state: State,
    /// Weight in grams per square metre.
    pub gsm: Option<u32>,
    /// Weight as bought, such as `80 lb cover`.
    pub bought_as: String,
    /// Thickness of a sheet.
    pub caliper: Option<Caliper>,
    /// The collection it belongs to.
    pub collection: String,
    /// Where it lies.
    pub place: String,
    /// Anything else.
    pub note: String,
}

impl Item {
    /// An item of this name and kind, sold singly and alone, everything else empty.
    pub fn new(name: impl Into<String>, kind: Kind) -> Self {
        Self { name: name.into(), kind, pack: 1, sold_alone: true, ..Self::default() }
    }

    /// Gives it another order number; the old one still finds it.
    pub fn renumber(&mut self, number: &str) {
        if number == self.order_number {
            return;
        }
        if !self.order_number.is_empty() && !self.former_numbers.contains(&self.order_number) {
            self.former_numbers.push(self.order_number.clone());
        }
        self.former_numbers.retain(|n| n != number);
        number.clone_into(&mut self.order_number);
    }

    /// The size to cut from: as measured, else nominal.
    pub fn cutting_size(&self) -> Option<Size> {
        self.measured.or(self.size)
    }

    /// Sheets in a pack, at least 1.
    pub fn pack_size(&self) -> u32 {
        self.pack.max(1)
    }

    /// The colours of the front, the leading one first, each once.
    pub fn front(&self) -> Vec<SwatchId> {
        let mut all: Vec<SwatchId> = self.swatch.into_iter().collect();
        for colour in &self.colours {
            if !all.contains(colour) {
                all.push(*colour);
            }
        }
        all
    }

    /// What is drawn on its front: as the person said, else as its colours suggest; nothing on what is no patterned paper.
    pub fn drawn_pattern(&self) -> Pattern {
        match (self.kind, self.pattern) {
            (Kind::PatternedPaper, Some(said)) => said,
            (Kind::PatternedPaper, None) => Pattern::of_colours(self.front().len()),
            _ => Pattern::PLAIN,
        }
    }

    /// True where the colour is on either side.
    pub fn shows(&self, swatch: SwatchId) -> bool {
        self.swatch == Some(swatch) || self.colours.contains(&swatch) || self.back_colours.contains(&swatch)
    }

    /// Every colour that it names, so that it can be exchanged or counted.
    pub fn swatches_mut(&mut self) -> impl Iterator<Item = &mut SwatchId> {
        self.swatch.iter_mut().chain(self.colours.iter_mut()).chain(self.back_colours.iter_mut())
    }

    /// What the reorder mark comes to: none for what is leaving or gone.
    pub fn mark(&self) -> u32 {
        match self.state {
            State::Leaving(_) | State::Gone => 0,
            State::Current | State::Arriving(_) => self.low,
        }
    }
}
