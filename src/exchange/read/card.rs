//! A whole card from RON text: its layers with papers, foam, fold, envelope, and what else is made with it.
//!
//! Opens no file. Every measure is a text as one types it (`"1/8"`, `"3 mm"`); a bare number is in the unit in force or in
//! the one the file names. All but `card` may be left out; a name that is not known is refused with the line and column.
//!
//! ```ron
//! (
//!     name: "window card",
//!     card: "us-a2",                      // WxH or a format name
//!     unit: "in",                         // of bare numbers: "in" or "mm"
//!     fold: (kind: "side", thickness: "0.016 in"),  // also edge: "left"|"top", panels: 4, allowance: "1/16"
//!     base: (paper: "oat", grain: "height", scores: [(side: "width", at: "1")]),
//!     papers: [
//!         (name: "oat", weight: "80 lb cover", thickness: "0.012 in"),  // a measured thickness wins over a guess
//!         (name: "fern", weight: "176 gsm"),
//!     ],
//!     layers: [                           // from the card front inward
//!         (name: "mat", reveal: "1/8", paper: "fern"),
//!         (name: "window", reveal: "1/8", paper: "oat", raise: "foam 1/16",
//!          frame: (width: "1/2", overlap: "1/8", insert: "oat")),
//!         (name: "strip", size: "3x1/2", x: "1/4", y: "3", on: 1, paper: "fern", count: 2, turn: false),
//!     ],
//!     envelope: (name: "A2", paper: (weight: "24 lb bond", thickness: "0.0045 in"), ease: "1/16", address: "long",
//!                weight: "6.1 g", glue: "0.6 g"),  // on a scale: the empty envelope; glue and foam of a card
//!     batch: (cards: 24, percent: 5, fixed: 1),
//!     prices: [(rules: "uk", verdict: "letter", price: "1.00", currency: "EUR", date: "the day it was read")],
//!     make: [
//!         box(length: "4", width: "4", depth: "1 1/2", lid_depth: "1", sheet: "12x12"),
//!         belly_band(breadth: "2"),
//!         square_envelope(card: "us-a2"),
//!         of(paper: "fern", count: 1, what: inside_liner),   // with the paper it is cut from
//!     ],
//! )
//! ```
//!
//! A reveal of four sides is `"left:top:right:bottom"`. A layer lies on the one before it unless `on` names another by its
//! number, counted from 1; a strip from side to side is `strip: "3/4", along: "width", at: "1"`. A base cut by hand has a
//! `size`. An envelope may be `"none"`, `"smallest"`, `usual: true` (this one where it fits) or of the shelf (`shelf: "name"`).
//! A project file starts with `project: "name"` and holds `cards: [...]` of this kind. Further things to make: `straight_envelope(inside, tab, flap)`, `bag(width, depth, height, tab,
//! bottom)`, `pocket(panel, height, tab)`, `sleeve(width, depth, breadth, tab)`, `insert_sheet`, `inside_liner`,
//! `envelope_liner(flap, gum)`.

mod make;

use crate::domain::cardread;
use crate::domain::cards::card::{Card, EnvelopeChoice};
use crate::domain::cards::envelope::{self, EASE};
use crate::domain::cards::file::{Handed, LoosePiece, ProjectFile};
use crate::domain::cards::fold::{Edge, Fold, FoldKind, Score, Side};
use crate::domain::cards::format;
use crate::domain::cards::frame::Frame;
use crate::domain::cards::job::CardSpec;
use crate::domain::cards::layer::{Layer, LayerPlace, Shape};
use crate::domain::cards::made_by::MadeBy;
use crate::domain::cards::paper::{self, Paper};
use crate::domain::cards::post::{self, Address, OwnPrice, Verdict};
use crate::domain::cards::reveal::Reveal;
use crate::domain::cards::weighed::Weighed;
use crate::domain::cards::{CardError, advice::Spares};
use crate::domain::length::{Length, Unit};
use crate::domain::money::Money;
use crate::domain::size::{Grain, Size};
use crate::domain::thickness::Thickness;
use crate::domain::wrong_text::words;
use crate::exchange::cardtext::{
    EnvelopeText, FileText, FoldText, FrameText, LayerText, PaperText, PriceText, ProjectText,
};
use ron::extensions::Extensions;
use serde::de::DeserializeOwned;

/// More of one layer than any card takes.
const MOST_OF_A_LAYER: u32 = 1000;

/// Reads a card file; a bare number is in `unit` unless the file names another. A project file with one card is read as
/// that card.
///
/// # Errors
/// One sentence: the line and column for text that is no card, or what is wrong with which part.
pub fn card(text: &str, unit: Unit) -> Result<CardSpec, String> {
    if !tells_of_a_project(text) {
        return one_card(parsed(text)?, unit);
    }
    let mut file = project(parsed(text)?, unit)?;
    match (file.cards.pop(), file.cards.is_empty()) {
        (Some(card), true) => Ok(card),
        (Some(last), false) => {
            let names: Vec<String> = file.cards.iter().chain([&last]).map(|c| c.card.name.clone()).collect();
            Err(format!("a project of several cards: keep one of them ({}) in a file", names.join(", ")))
        }
        (None, _) => Err("a project without a card: add one to its cards".to_owned()),
    }
}

/// Reads a card file or a project file.
///
/// # Errors
/// As [`card`].
pub fn handed(text: &str, unit: Unit) -> Result<Handed, String> {
    Ok(if tells_of_a_project(text) {
        Handed::Project(Box::new(project(parsed(text)?, unit)?))
    } else {
        Handed::Card(Box::new(one_card(parsed(text)?, unit)?))
    })
}

/// A project file names its project in its first line of text; a card file has no such field.
fn tells_of_a_project(text: &str) -> bool {
    let lines = text.lines().map(|l| l.trim_start_matches(['(', ' ', '\t', '\u{feff}']));
    lines
        .into_iter()
        .find(|l| !l.is_empty() && !l.starts_with("//"))
        .is_some_and(|l| l.starts_with("project:"))
}

fn parsed<T: DeserializeOwned>(text: &str) -> Result<T, String> {
    let options = ron::Options::default().with_default_extension(Extensions::IMPLICIT_SOME);
    options
        .from_str(text)
        .map_err(|e| format!("line {}, column {}: {}", e.span.start.line, e.span.start.col, words(&e.code)))
}

/// How a part is made; a straight cut where nothing is said.
fn made_by(place: &str, words: Option<&str>) -> Result<MadeBy, String> {
    words.map_or(Ok(MadeBy::Straight), |words| {
        MadeBy::from_word(words).map_err(|why| format!("{place}: made_by: {why}"))
    })
}

fn one_card(file: FileText, unit: Unit) -> Result<CardSpec, String> {
    let unit = match file.unit.as_deref() {
        None => unit,
        Some("in") => Unit::Inch,
        Some("mm") => Unit::Mm,
        Some(other) => return Err(format!("unit: \"{other}\" is not read here, write \"in\" or \"mm\"")),
    };
    Reader { unit }.file(file)
}

fn project(text: ProjectText, unit: Unit) -> Result<ProjectFile, String> {
    let reader = Reader { unit };
    let date = text.date.as_ref().map(|d| {
        d.parse().map_err(|_| format!("date: \"{d}\" is not a date: write year-month-day such as 2026-12-01"))
    });
    let mut pieces = Vec::new();
    for p in text.pieces {
        let size = reader.size(&format!("piece {}", p.name), &p.size)?;
        let turn = p.turn.unwrap_or(true);
        let place = format!("piece {}", p.name);
        let (allowance, grain) = reader.around(&place, p.allowance.as_deref(), p.grain.as_deref())?;
        let made_by = made_by(&place, p.made_by.as_deref())?;
        pieces.push(LoosePiece {
            name: p.name,
            size,
            count: p.count,
            paper: p.paper,
            turn,
            made_by,
            allowance,
            grain,
        });
    }
    let mut cards = Vec::new();
    for (n, card) in text.cards.into_iter().enumerate() {
        cards.push(at(&format!("card {}", n + 1), one_card(card, unit))?);
    }
    Ok(ProjectFile {
        name: text.project,
        date: date.transpose()?,
        seats: text.seats,
        samples: text.samples,
        sets_a_seat: text.sets_a_seat,
        spare_sets: text.spare_sets,
        spoilage_percent: text.percent,
        spoilage_fixed: text.fixed,
        note: text.note,
        cards,
        pieces,
        supplies: text.supplies.into_iter().map(|s| (s.name, s.count)).collect(),
    })
}

/// Where in the file a sentence belongs.
fn at<T, E: std::fmt::Display>(place: &str, result: Result<T, E>) -> Result<T, String> {
    result.map_err(|e| format!("{place}: {e}"))
}

struct Reader {
    unit: Unit,
}

impl Reader {
    fn length(&self, place: &str, text: &str) -> Result<Length, String> {
        at(place, Length::parse(text, self.unit))
    }

    /// A length that may be nothing.
    fn length_or_zero(&self, place: &str, text: &str) -> Result<Length, String> {
        if text.trim() == "0" { Ok(Length::ZERO) } else { self.length(place, text) }
    }

    /// The paper needed around a piece, and the side that its grain has to follow.
    fn around(
        &self,
        place: &str,
        allowance: Option<&str>,
        grain: Option<&str>,
    ) -> Result<(Length, Grain), String> {
        let allowance =
            allowance.map(|a| self.length_or_zero(&format!("{place}: allowance"), a)).transpose()?;
        let word = grain.unwrap_or_default();
        let grain = Grain::from_word(word)
            .ok_or_else(|| format!("{place}: grain \"{word}\" is not known: write long or short"))?;
        Ok((allowance.unwrap_or(Length::ZERO), grain))
    }

    fn optional(&self, place: &str, text: Option<&String>) -> Result<Option<Length>, String> {
        text.map(|t| self.length(place, t)).transpose()
    }

    fn or(&self, place: &str, text: Option<&String>, usual: Length) -> Result<Length, String> {
        Ok(self.optional(place, text)?.unwrap_or(usual))
    }

    fn size(&self, place: &str, text: &str) -> Result<Size, String> {
        at(place, Size::parse(text, self.unit))
    }

    fn file(&self, file: FileText) -> Result<CardSpec, String> {
        let found = at("card", format::find(&file.card, self.unit))?;
        let papers = file.papers.iter().map(|p| self.paper(p)).collect::<Result<Vec<_>, _>>()?;
        let mut layers = Vec::new();
        for (i, text) in file.layers.iter().enumerate() {
            layers.push(self.layer(i, text, &papers)?);
        }
        let name = [file.name, found.name, file.card].into_iter().find(|n| !n.is_empty()).unwrap_or_default();
        let mut card = Card { fold: self.fold(&file.fold)?, layers, ..Card::new(name, found.face) };
        card.base = file.base.size.as_ref().map(|s| self.size("base: size", s)).transpose()?;
        card.base_paper = named_paper("base", file.base.paper.as_deref(), &papers)?;
        card.base_grain = match file.base.grain.as_deref() {
            None | Some("unknown") => None,
            Some(word) => Some(side("base: grain", word)?),
        };
        card.base_made_by = made_by("base", file.base.made_by.as_deref())?;
        card.base_allowance = self.around("base", file.base.allowance.as_deref(), None)?.0;
        card.scores = file
            .base
            .scores
            .iter()
            .map(|s| {
                Ok(Score { side: side("base: score", &s.side)?, at: self.length("base: score", &s.at)? })
            })
            .collect::<Result<_, String>>()?;
        if let Some(usual) = found.envelope.and_then(|name| envelope::find(&name, self.unit).ok()) {
            card.enclosing = EnvelopeChoice::Usual(usual);
        }
        if let Some(text) = &file.envelope {
            self.envelope(text, &mut card)?;
        }
        let batch = file.batch.map(|b| (b.cards, Spares { percent: b.percent, fixed: b.fixed }));
        card.prices = file.prices.iter().map(price).collect::<Result<_, _>>()?;
        card.extras = file.make.iter().map(|m| self.extra(m, &papers)).collect::<Result<_, _>>()?;
        card.envelope = file.envelope.and_then(|e| e.shelf);
        Ok(CardSpec { batch, ..CardSpec::of(card) })
    }

    fn paper(&self, text: &PaperText) -> Result<Paper, String> {
        let place = if text.name.is_empty() { "paper".to_owned() } else { format!("paper {}", text.name) };
        let grammage = text.weight.as_ref().map(|w| at(&place, paper::grammage(w))).transpose()?;
        let caliper =
            text.thickness.as_ref().map(|t| at(&place, Thickness::parse(t, self.unit))).transpose()?;
        Ok(Paper { name: text.name.clone(), grammage, caliper })
    }

    fn fold(&self, text: &FoldText) -> Result<Fold, String> {
        let kind = text.kind.as_deref().map_or(Ok(FoldKind::Side), |k| at("fold", FoldKind::from_word(k)))?;
        let edge = match text.edge.as_deref() {
            None | Some("left") => Edge::Left,
            Some("top") => Edge::Top,
            Some(other) => {
                return Err(format!("fold: {}", CardError::unknown_word(other, "edge", &["left", "top"])));
            }
        };
        let thickness =
            text.thickness.as_ref().map(|t| at("fold", Thickness::parse(t, self.unit))).transpose()?;
        let allowance =
            text.allowance.as_ref().map(|a| self.length_or_zero("fold: allowance", a)).transpose()?;
        Ok(Fold { kind, edge, panels: text.panels, thickness, allowance })
    }

    fn layer(&self, index: usize, text: &LayerText, papers: &[Paper]) -> Result<Layer, String> {
        let place = format!("layer {}", index + 1);
        let shape = self.shape(&place, text)?;
        let on = match text.on {
            Some(0) => {
                return Err(format!("{place}: on counts layers from 1; leave it out for the one before"));
            }
            on => on.map(|n| n - 1),
        };
        let count = text.count.unwrap_or(1);
        if count > MOST_OF_A_LAYER {
            return Err(format!(
                "{place}: {count} of it on one card is too many: use at most {MOST_OF_A_LAYER}"
            ));
        }
        let raise = text.raise.as_ref().map(|r| at(&place, paper::raise(r, self.unit))).transpose()?;
        let frame = text.frame.as_ref().map(|f| self.frame(&place, f)).transpose()?;
        let (allowance, grain) = self.around(&place, text.allowance.as_deref(), text.grain.as_deref())?;
        Ok(Layer {
            name: text.name.clone(),
            shape,
            on,
            paper: named_paper(&place, text.paper.as_deref(), papers)?,
            colour: text.colour.clone(),
            count,
            may_turn: text.turn.unwrap_or(true),
            made_by: made_by(&place, text.made_by.as_deref())?,
            allowance,
            grain,
            raise: raise.unwrap_or_default(),
            frame,
            insert: named_paper(&place, text.frame.as_ref().and_then(|f| f.insert.as_deref()), papers)?,
        })
    }

    /// A reveal, a size or a strip, and only what belongs to it.
    fn shape(&self, place: &str, text: &LayerText) -> Result<Shape, String> {
        let has_place = text.x.is_some() || text.y.is_some();
        let has_strip = text.along.is_some() || text.at.is_some();
        let shape = match (&text.reveal, &text.size, &text.strip) {
            (Some(reveal), None, None) => Shape::Inset(at(place, Reveal::parse(reveal, self.unit))?),
            (None, Some(size), None) => {
                Shape::Panel { size: self.size(place, size)?, place: self.place(place, text)? }
            }
            (None, None, Some(breadth)) => Shape::Strip {
                along: text.along.as_deref().map_or(Ok(Side::Width), |s| side(place, s))?,
                breadth: self.length(place, breadth)?,
                at: text.at.as_ref().map(|a| self.length_or_zero(place, a)).transpose()?,
            },
            _ => return Err(format!("{place}: give it either a reveal or a size, or a strip's width")),
        };
        if text.size.is_none() && has_place {
            return Err(format!("{place}: x and y are for a layer with a size; a reveal places it already"));
        }
        if text.strip.is_none() && has_strip {
            return Err(format!("{place}: along and at are for a strip; give it a strip's width"));
        }
        Ok(shape)
    }

    fn place(&self, place: &str, text: &LayerText) -> Result<LayerPlace, String> {
        match (&text.x, &text.y) {
            (None, None) => Ok(LayerPlace::Middle),
            (Some(x), Some(y)) => {
                Ok(LayerPlace::At { x: self.length_or_zero(place, x)?, y: self.length_or_zero(place, y)? })
            }
            _ => Err(format!("{place}: give both x and y, or neither for the middle")),
        }
    }

    fn frame(&self, place: &str, text: &FrameText) -> Result<Frame, String> {
        let border = at(place, Reveal::parse(&text.width, self.unit))?;
        Ok(Frame { border, overlap: self.or(place, text.overlap.as_ref(), Frame::OVERLAP)? })
    }

    fn envelope(&self, text: &EnvelopeText, card: &mut Card) -> Result<(), String> {
        if let Some(name) = &text.name {
            card.enclosing = if name == "none" {
                EnvelopeChoice::NoEnvelope
            } else if name == "smallest" {
                EnvelopeChoice::Smallest
            } else if text.usual == Some(true) {
                EnvelopeChoice::Usual(at("envelope", envelope::find(name, self.unit))?)
            } else {
                EnvelopeChoice::This(at("envelope", envelope::find(name, self.unit))?)
            };
        }
        if let Some(inside) = &text.inside {
            let inside = self.size("envelope: inside", inside)?;
            match &mut card.enclosing {
                EnvelopeChoice::This(e) | EnvelopeChoice::Usual(e) => e.measured_inside = Some(inside),
                _ => return Err("envelope: an inside needs the envelope's name or size beside it".to_owned()),
            }
        }
        card.envelope_paper = text.paper.as_ref().map(|p| self.paper(p)).transpose()?;
        card.ease = match text.ease.as_deref() {
            None => EASE,
            Some(ease) => self.length_or_zero("envelope: ease", ease)?,
        };
        card.envelope_spares = text.spares.unwrap_or(0);
        card.weighed = Weighed {
            envelope: text
                .weight
                .as_ref()
                .map(|w| at("envelope: weight", cardread::weight(w)))
                .transpose()?,
            glue: text.glue.as_ref().map(|w| at("envelope: glue", cardread::weight(w))).transpose()?,
        };
        card.address = match text.address.as_deref() {
            None | Some("long") => Address::Long,
            Some("short") => Address::Short,
            Some(other) => {
                let e = CardError::unknown_word(other, "side for the address", &["long", "short"]);
                return Err(format!("envelope: {e}"));
            }
        };
        Ok(())
    }
}

/// The paper of a name among the file's.
pub(super) fn named_paper(
    place: &str,
    name: Option<&str>,
    papers: &[Paper],
) -> Result<Option<Paper>, String> {
    let Some(name) = name else { return Ok(None) };
    if let Some(found) = papers.iter().find(|p| p.name == name) {
        return Ok(Some(found.clone()));
    }
    if papers.is_empty() {
        // A name alone is enough to plan with; weight and thickness are then unknown.
        return Ok(Some(Paper { name: name.to_owned(), ..Paper::default() }));
    }
    let names: Vec<&str> = papers.iter().map(|p| p.name.as_str()).collect();
    Err(format!("{place}: {}", CardError::unknown_word(name, "paper of this file", &names)))
}

fn side(place: &str, word: &str) -> Result<Side, String> {
    match word {
        "width" => Ok(Side::Width),
        "height" => Ok(Side::Height),
        other => Err(format!("{place}: {}", CardError::unknown_word(other, "side", &["width", "height"]))),
    }
}

fn price(text: &PriceText) -> Result<OwnPrice, String> {
    let ids: Vec<&str> = post::all().iter().map(|r| r.id.as_str()).collect();
    if !ids.contains(&text.rules.as_str()) {
        return Err(format!("prices: {}", CardError::unknown_word(&text.rules, "set of rules", &ids)));
    }
    let verdict = Verdict::from_word(&text.verdict).ok_or_else(|| {
        let words = Verdict::ALL.map(Verdict::word);
        format!("prices: {}", CardError::unknown_word(&text.verdict, "verdict", &words))
    })?;
    let price = at("prices", Money::parse(&text.price, &text.currency))?;
    Ok(OwnPrice {
        rules: text.rules.clone(),
        verdict,
        price,
        currency: text.currency.clone(),
        date: text.date.clone(),
    })
}
