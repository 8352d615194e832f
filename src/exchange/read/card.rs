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
use crate::domain::cards::fold::{Fold, FoldEdge, FoldKind, Score};
use crate::domain::cards::format;
use crate::domain::cards::job::CardSpec;
use crate::domain::cards::post::{self, Address, OwnPrice, Verdict};
use crate::domain::cards::weighed::Weighed;
use crate::domain::cards::{CardError, advice::Spares};
use crate::domain::length::Unit;
use crate::domain::money::Money;
use crate::domain::thickness::Thickness;
use crate::domain::wrong_text::words;
use crate::exchange::cardtext::measures::{Reader, at, made_by, named_paper, side};
use crate::exchange::cardtext::{EnvelopeText, FileText, FoldText, PriceText, ProjectText};
use ron::extensions::Extensions;
use serde::de::DeserializeOwned;

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

impl Reader {
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

    fn fold(&self, text: &FoldText) -> Result<Fold, String> {
        let kind = text.kind.as_deref().map_or(Ok(FoldKind::Side), |k| at("fold", FoldKind::from_word(k)))?;
        let edge = match text.edge.as_deref() {
            None | Some("left") => FoldEdge::Left,
            Some("top") => FoldEdge::Top,
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
