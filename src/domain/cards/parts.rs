//! The kinds of layers and of things made beside a card, with their measures as one line of text: what is shown in a
//! prompt can be typed again.

use crate::domain::cards::construction::bag::Bag;
use crate::domain::cards::construction::boxes::LID_ROOM;
use crate::domain::cards::fold::Side;
use crate::domain::cards::frame::{BAND_OVERLAP, Frame};
use crate::domain::cards::layer::{LayerPlace, Shape};
use crate::domain::cards::make::Make;
use crate::domain::cards::reveal::Reveal;
use crate::domain::length::{Length, Unit};
use crate::domain::project::{CardExtra, CardLayer};
use crate::domain::reckon;
use crate::domain::size::Size;

/// A kind of part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)] // the words say it
pub enum PartKind {
    Mat,
    Frame,
    Panel,
    Strip,
    BellyBand,
    InsideLiner,
    InsertSheet,
    EnvelopeLiner,
    SquareEnvelope,
    StraightEnvelope,
    BoxAndLid,
    Bag,
    Pocket,
    Sleeve,
}

/// What is made of a part's text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Part {
    /// A layer on the card.
    Layer(Box<CardLayer>),
    /// Something beside it.
    Extra(CardExtra),
}

impl PartKind {
    /// The kinds of layers.
    pub const LAYERS: [Self; 4] = [Self::Mat, Self::Frame, Self::Panel, Self::Strip];
    /// What is made beside a card: first what follows from the card itself.
    pub const BESIDE: [Self; 10] = [
        Self::BellyBand,
        Self::InsideLiner,
        Self::InsertSheet,
        Self::EnvelopeLiner,
        Self::SquareEnvelope,
        Self::StraightEnvelope,
        Self::BoxAndLid,
        Self::Bag,
        Self::Pocket,
        Self::Sleeve,
    ];

    /// Of these, what follows from the card itself; the others have measures of their own.
    pub const FOR_CARD: [Self; 6] = {
        let [band, liner, insert, envelope_liner, square, straight, ..] = Self::BESIDE;
        [band, liner, insert, envelope_liner, square, straight]
    };

    /// The trade's word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Mat => "mat",
            Self::Frame => "frame",
            Self::Panel => "panel",
            Self::Strip => "strip",
            Self::BellyBand => "belly band",
            Self::InsideLiner => "inside liner",
            Self::InsertSheet => "insert sheet",
            Self::EnvelopeLiner => "envelope liner",
            Self::SquareEnvelope => "envelope from a square",
            Self::StraightEnvelope => "straight envelope",
            Self::BoxAndLid => "box and lid",
            Self::Bag => "gusset bag",
            Self::Pocket => "pocket",
            Self::Sleeve => "sleeve",
        }
    }

    /// What it is, in a few words.
    pub const fn line(self) -> &'static str {
        match self {
            Self::Mat => "smaller than what it lies on by its reveal",
            Self::Frame => "a mat with an opening and an insert behind it",
            Self::Panel => "a piece of its own size, laid where you say",
            Self::Strip => "runs from edge to edge of what it lies on",
            Self::BellyBand => "wraps around the closed card",
            Self::InsideLiner => "lines one half of the inside",
            Self::InsertSheet => "a folded sheet inside the card",
            Self::EnvelopeLiner => "lines the envelope up into its flap",
            Self::SquareEnvelope => "folded from a square turned on its corner",
            Self::StraightEnvelope => "cut straight, with side tabs and a flap",
            Self::BoxAndLid => "an open box with a lid over it",
            Self::Bag => "a bag with folded sides",
            Self::Pocket => "a panel folded up with tabs",
            Self::Sleeve => "goes around a box or a stack",
        }
    }

    /// What its measures are, for the prompt; empty where it has none to type.
    pub const fn measures(self) -> &'static str {
        match self {
            Self::Mat => "Reveal, or left:top:right:bottom:",
            Self::Frame => "Reveal, frame's width, overlap of the insert:",
            Self::Panel => "Size, then from the left, from the top (size alone: centered):",
            Self::Strip => "Strip width, from the top, or \"down\" and from the left:",
            Self::BellyBand => "Band width, overlap, around width or height:",
            Self::InsideLiner | Self::InsertSheet => "",
            Self::EnvelopeLiner => "Depth of the flap, left free for the gum:",
            Self::SquareEnvelope => "Inside width x height (empty: for the card):",
            Self::StraightEnvelope => "Inside width x height, tab, flap (empty: for the card):",
            Self::BoxAndLid => "Inside length x width, depth, lid's depth:",
            Self::Bag => "Width, depth, height:",
            Self::Pocket => "Panel width, height:",
            Self::Sleeve => "Width, depth of the stack, sleeve width:",
        }
    }

    /// Measures to start from.
    pub fn usual(self, unit: Unit) -> String {
        let inch = unit == Unit::Inch;
        let text = match self {
            Self::Mat => ("1/8", "3"),
            Self::Frame => ("1/8, 1/2, 1/8", "3, 12, 3"),
            Self::Panel => ("2x3", "50x75"),
            Self::Strip => ("3/4", "20"),
            Self::BellyBand => ("2, 1", "50, 25"),
            Self::InsideLiner | Self::InsertSheet | Self::SquareEnvelope | Self::StraightEnvelope => ("", ""),
            Self::EnvelopeLiner => ("2, 1/2", "50, 12"),
            Self::BoxAndLid => ("4x4, 1 1/2, 1", "100x100, 40, 25"),
            Self::Bag => ("4, 2, 6", "100, 50, 150"),
            Self::Pocket => ("4, 3", "100, 75"),
            Self::Sleeve => ("4, 1, 2", "100, 25, 50"),
        };
        if inch { text.0 } else { text.1 }.to_owned()
    }

    /// The kind of a layer.
    pub const fn of_layer(layer: &CardLayer) -> Self {
        match (&layer.shape, &layer.frame) {
            (Shape::Inset(_), None) => Self::Mat,
            (Shape::Inset(_), Some(_)) => Self::Frame,
            (Shape::Panel { .. }, _) => Self::Panel,
            (Shape::Strip { .. }, _) => Self::Strip,
        }
    }

    /// The kind of something made beside a card.
    pub const fn of_make(make: &Make) -> Self {
        match make {
            Make::BoxAndLid { .. } => Self::BoxAndLid,
            Make::SquareEnvelope(_) => Self::SquareEnvelope,
            Make::StraightEnvelope { .. } => Self::StraightEnvelope,
            Make::Bag(_) => Self::Bag,
            Make::Pocket { .. } => Self::Pocket,
            Make::Sleeve { .. } => Self::Sleeve,
            Make::BellyBand { .. } => Self::BellyBand,
            Make::InsertSheet => Self::InsertSheet,
            Make::InsideLiner => Self::InsideLiner,
            Make::EnvelopeLiner { .. } => Self::EnvelopeLiner,
        }
    }

    /// Reads a part of this kind from its measures.
    ///
    /// # Errors
    /// The sentence that says which measure is wrong or missing.
    pub fn read(self, text: &str, unit: Unit) -> Result<Part, String> {
        let m = Measures::of(text, unit, self);
        let half = Length::sixteenths(8);
        let layer = |shape| Ok(Part::Layer(Box::new(CardLayer::new(shape))));
        let extra = |make| Ok(Part::Extra(CardExtra::of(make)));
        match self {
            Self::Mat => layer(Shape::Inset(m.reveal(0)?)),
            Self::Frame => {
                let frame = Frame { border: m.reveal(1)?, overlap: m.or(2, Frame::OVERLAP)? };
                let mat = CardLayer::new(Shape::Inset(m.reveal(0)?));
                Ok(Part::Layer(Box::new(CardLayer { frame: Some(frame), ..mat })))
            }
            Self::Panel => {
                let place = match m.all.len() {
                    1 => LayerPlace::Middle,
                    _ => LayerPlace::At { x: m.length_or_zero(1)?, y: m.length_or_zero(2)? },
                };
                layer(Shape::Panel { size: m.size(0)?, place })
            }
            Self::Strip => layer(m.strip()?),
            Self::BellyBand => extra(Make::BellyBand {
                breadth: m.length(0)?,
                overlap: m.or(1, BAND_OVERLAP)?,
                round: m.side(2)?,
            }),
            Self::InsideLiner => extra(Make::InsideLiner),
            Self::InsertSheet => extra(Make::InsertSheet),
            Self::EnvelopeLiner => extra(Make::EnvelopeLiner { flap: m.length(0)?, gum: m.or(1, half)? }),
            Self::SquareEnvelope => extra(Make::SquareEnvelope(m.maybe_size()?)),
            Self::StraightEnvelope => {
                extra(Make::StraightEnvelope { inside: m.maybe_size()?, tab: m.maybe(1)?, flap: m.maybe(2)? })
            }
            Self::BoxAndLid => {
                let depth = m.length(1)?;
                let lid_depth = m.or(2, depth)?;
                extra(Make::BoxAndLid { floor: m.size(0)?, depth, lid_depth, room: LID_ROOM, sheet: None })
            }
            Self::Bag => extra(Make::Bag(Bag {
                width: m.length(0)?,
                depth: m.length(1)?,
                height: m.length(2)?,
                tab: half,
                bottom: None,
            })),
            Self::Pocket => extra(Make::Pocket { panel: m.length(0)?, height: m.length(1)?, tab: half }),
            Self::Sleeve => extra(Make::Sleeve {
                width: m.length(0)?,
                depth: m.length(1)?,
                breadth: m.length(2)?,
                tab: half,
            }),
        }
    }
}

/// A layer's measures as they would be typed.
pub fn layer_text(layer: &CardLayer, unit: Unit) -> String {
    let reveal = |r: &Reveal| match r.uniform() {
        Some(all) => shown(all, unit),
        None => [r.left, r.top, r.right, r.bottom].map(|s| shown(s, unit)).join(":"),
    };
    match (&layer.shape, &layer.frame) {
        (Shape::Inset(r), None) => reveal(r),
        (Shape::Inset(r), Some(f)) => {
            format!("{}, {}, {}", reveal(r), reveal(&f.border), shown(f.overlap, unit))
        }
        (Shape::Panel { size, place: LayerPlace::Middle }, _) => size.exact(unit),
        (Shape::Panel { size, place: LayerPlace::At { x, y } }, _) => {
            format!("{}, {}, {}", size.exact(unit), shown(*x, unit), shown(*y, unit))
        }
        (Shape::Strip { along, breadth, at }, _) => {
            let down = if *along == Side::Height { ", down" } else { "" };
            let at = at.map_or(String::new(), |a| format!(", {}", shown(a, unit)));
            format!("{}{down}{at}", shown(*breadth, unit))
        }
    }
}

/// The measures of something made beside a card, as they would be typed.
pub fn make_text(make: &Make, unit: Unit) -> String {
    let list = |all: &[Length]| all.iter().map(|l| shown(*l, unit)).collect::<Vec<_>>().join(", ");
    match *make {
        Make::BoxAndLid { floor, depth, lid_depth, .. } => {
            format!("{}, {}", floor.exact(unit), list(&[depth, lid_depth]))
        }
        Make::SquareEnvelope(inside) => inside.map_or(String::new(), |s| s.exact(unit)),
        Make::StraightEnvelope { inside, tab, flap } => {
            let size = inside.map_or(String::new(), |s| s.exact(unit));
            let rest: Vec<Length> = tab.into_iter().chain(flap).collect();
            if rest.is_empty() { size } else { format!("{size}, {}", list(&rest)) }
        }
        Make::Bag(b) => list(&[b.width, b.depth, b.height]),
        Make::Pocket { panel, height, .. } => list(&[panel, height]),
        Make::Sleeve { width, depth, breadth, .. } => list(&[width, depth, breadth]),
        Make::BellyBand { breadth, round, overlap } => {
            format!("{}, {}", list(&[breadth, overlap]), round.word())
        }
        Make::InsertSheet | Make::InsideLiner => String::new(),
        Make::EnvelopeLiner { flap, gum } => list(&[flap, gum]),
    }
}

/// The measures of `make` typed anew, with what the text does not tell kept as it was.
pub fn keep_rest(make: &Make, new: Make) -> Make {
    match (*make, new) {
        (Make::BoxAndLid { room, sheet, .. }, Make::BoxAndLid { floor, depth, lid_depth, .. }) => {
            Make::BoxAndLid { floor, depth, lid_depth, room, sheet }
        }
        (Make::Bag(was), Make::Bag(now)) => Make::Bag(Bag { tab: was.tab, bottom: was.bottom, ..now }),
        (Make::Pocket { tab, .. }, Make::Pocket { panel, height, .. }) => Make::Pocket { panel, height, tab },
        (Make::Sleeve { tab, .. }, Make::Sleeve { width, depth, breadth, .. }) => {
            Make::Sleeve { width, depth, breadth, tab }
        }
        (_, new) => new,
    }
}

fn shown(length: Length, unit: Unit) -> String {
    if length == Length::ZERO { "0".to_owned() } else { length.exact(unit) }
}

/// A length, or a sum of lengths.
fn read_length(text: &str, unit: Unit) -> Result<Length, String> {
    reckon::length(text, unit).map(|r| r.value).map_err(|e| e.to_string())
}

/// Measures typed in one line with commas between.
struct Measures<'a> {
    all: Vec<&'a str>,
    unit: Unit,
    kind: PartKind,
}

impl<'a> Measures<'a> {
    fn of(text: &'a str, unit: Unit, kind: PartKind) -> Self {
        Self { all: text.split(',').map(str::trim).collect(), unit, kind }
    }

    fn text(&self, n: usize) -> Option<&'a str> {
        self.all.get(n).copied().filter(|t| !t.is_empty())
    }

    fn needed(&self, n: usize) -> Result<&'a str, String> {
        self.text(n).ok_or_else(|| {
            let usual = self.kind.usual(self.unit);
            let wants = self.kind.measures().trim_end_matches(':').to_lowercase();
            format!("the {} takes {wants}: such as {usual}", self.kind.word())
        })
    }

    fn length(&self, n: usize) -> Result<Length, String> {
        read_length(self.needed(n)?, self.unit)
    }

    fn length_or_zero(&self, n: usize) -> Result<Length, String> {
        match self.needed(n)? {
            "0" => Ok(Length::ZERO),
            text => read_length(text, self.unit),
        }
    }

    fn maybe(&self, n: usize) -> Result<Option<Length>, String> {
        self.text(n).map(|t| read_length(t, self.unit)).transpose()
    }

    fn or(&self, n: usize, usual: Length) -> Result<Length, String> {
        match self.text(n) {
            None => Ok(usual),
            Some("0") => Ok(Length::ZERO),
            Some(text) => read_length(text, self.unit),
        }
    }

    fn size(&self, n: usize) -> Result<Size, String> {
        reckon::size(self.needed(n)?, self.unit)
    }

    fn maybe_size(&self) -> Result<Option<Size>, String> {
        self.text(0).map(|t| reckon::size(t, self.unit)).transpose()
    }

    /// One reveal for all sides or four; a sum such as `1/8 + 1/16` is one.
    fn reveal(&self, n: usize) -> Result<Reveal, String> {
        let text = self.needed(n)?;
        if text.contains(':') {
            Reveal::parse(text, self.unit).map_err(|e| e.to_string())
        } else {
            read_length(text, self.unit).map(Reveal::all)
        }
    }

    fn side(&self, n: usize) -> Result<Side, String> {
        match self.text(n) {
            None | Some("width") => Ok(Side::Width),
            Some("height") => Ok(Side::Height),
            Some(other) => Err(format!("\"{other}\" is not a side: write width or height")),
        }
    }

    fn strip(&self) -> Result<Shape, String> {
        let is_down = self.text(1) == Some("down");
        let along = if is_down { Side::Height } else { Side::Width };
        let n = if is_down { 2 } else { 1 };
        let at = match self.text(n) {
            None => None,
            Some(_) => Some(self.length_or_zero(n)?),
        };
        Ok(Shape::Strip { along, breadth: self.length(0)?, at })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_shown_can_be_typed_again() {
        for unit in [Unit::Inch, Unit::Mm] {
            for kind in PartKind::LAYERS.into_iter().chain(PartKind::BESIDE) {
                let part = kind.read(&kind.usual(unit), unit).unwrap();
                let (shown, again) = match &part {
                    Part::Layer(layer) => (layer_text(layer, unit), PartKind::of_layer(layer)),
                    Part::Extra(extra) => (make_text(&extra.make, unit), PartKind::of_make(&extra.make)),
                };
                assert_eq!((again, kind.read(&shown, unit)), (kind, Ok(part)), "{shown}");
            }
        }
        let text = "3/4, down, 0";
        let Ok(Part::Layer(strip)) = PartKind::Strip.read(text, Unit::Inch) else { panic!("a strip") };
        assert_eq!(layer_text(&strip, Unit::Inch), text);
    }

    #[test]
    fn a_missing_measure_is_asked_for_with_an_example() {
        let e = PartKind::Bag.read("4, 2", Unit::Inch).unwrap_err();
        assert!(e.contains("width, depth, height") && e.contains("4, 2, 6"), "{e}");
        assert!(PartKind::Mat.read("1/8:1/8", Unit::Inch).unwrap_err().contains("left:top:right:bottom"));
        assert!(PartKind::BellyBand.read("2, 1, round", Unit::Inch).unwrap_err().contains("width or height"));
    }
}
