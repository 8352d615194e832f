//! A card, or a project of cards, as the text that [`crate::exchange::read::card`] reads back. Opens no file.

use crate::domain::cards::card::{Card, EnvelopeChoice, Extra};
use crate::domain::cards::envelope::{self, EASE, Envelope};
use crate::domain::cards::file::{Handed, ProjectFile};
use crate::domain::cards::fold::{Fold, FoldEdge};
use crate::domain::cards::job::CardSpec;
use crate::domain::cards::make::Make;
use crate::domain::cards::post::{Address, OwnPrice};
use crate::domain::length::{Length, Unit};
use crate::exchange::cardtext::measures::{
    Papers, Writer, grain_text, made_by_text, paper_text, thickness_text,
};
use crate::exchange::cardtext::{
    BaseText, BatchText, EnvelopeText, FileText, FoldText, MakeText, PieceText, PriceText, ProjectText,
    ScoreText, SupplyText,
};
use ron::extensions::Extensions;
use ron::ser::PrettyConfig;
use serde::Serialize;

/// The text of a card or a project; measures are written in `unit`, each with its sign.
///
/// # Errors
/// A sentence, where the text cannot be put together.
pub fn handed(what: &Handed, unit: Unit) -> Result<String, String> {
    match what {
        Handed::Card(file) => card(file, unit),
        Handed::Project(file) => project(file, unit),
    }
}

/// The text of a card file.
///
/// # Errors
/// As [`handed`].
pub fn card(file: &CardSpec, unit: Unit) -> Result<String, String> {
    text(&Writer { unit }.file(file))
}

fn project(file: &ProjectFile, unit: Unit) -> Result<String, String> {
    let writer = Writer { unit };
    let piece = |p: &crate::domain::cards::file::LoosePiece| PieceText {
        name: p.name.clone(),
        size: p.size.exact_with_unit(unit),
        count: p.count,
        paper: p.paper.clone(),
        turn: (!p.turn).then_some(false),
        made_by: made_by_text(p.made_by),
        allowance: p.allowance.is_positive().then(|| p.allowance.exact_with_unit(unit)),
        grain: grain_text(p.grain),
    };
    text(&ProjectText {
        project: file.name.clone(),
        date: file.date.map(|d| d.to_string()),
        seats: file.seats,
        samples: file.samples,
        sets_a_seat: file.sets_a_seat,
        spare_sets: file.spare_sets,
        percent: file.spoilage_percent,
        fixed: file.spoilage_fixed,
        note: file.note.clone(),
        cards: file.cards.iter().map(|c| writer.file(c)).collect(),
        pieces: file.pieces.iter().map(piece).collect(),
        supplies: file
            .supplies
            .iter()
            .map(|(name, count)| SupplyText { name: name.clone(), count: *count })
            .collect(),
    })
}

fn text(value: &impl Serialize) -> Result<String, String> {
    let options = ron::Options::default().with_default_extension(Extensions::IMPLICIT_SOME);
    let layout = PrettyConfig::new().depth_limit(4);
    options
        .to_string_pretty(value, layout)
        .map(|text| text + "\n")
        .map_err(|e| format!("the card cannot be written as text ({e})"))
}

impl Writer {
    fn file(&self, file: &CardSpec) -> FileText {
        let card = &file.card;
        let mut papers = Papers::default();
        let base_paper = card.base_paper.as_ref().map(|p| papers.name(p));
        let layers = card.layers.iter().map(|l| self.layer(l, &mut papers)).collect();
        let make = card.extras.iter().map(|e| self.extra(e, &mut papers)).collect();
        let scores = card.scores.iter();
        let scores =
            scores.map(|s| ScoreText { side: s.side.word().to_owned(), at: self.length(s.at) }).collect();
        FileText {
            card: self.size(card.face),
            name: card.name.clone(),
            unit: None,
            fold: self.fold(&card.fold),
            base: BaseText {
                paper: base_paper,
                size: card.base.map(|s| self.size(s)),
                grain: card.base_grain.map(|s| s.word().to_owned()),
                made_by: made_by_text(card.base_made_by),
                allowance: card.base_allowance.is_positive().then(|| self.length(card.base_allowance)),
                scores,
            },
            papers: papers.0.iter().map(paper_text).collect(),
            layers,
            envelope: Some(self.envelope(card)),
            batch: file.batch.map(|(cards, spares)| BatchText {
                cards,
                percent: spares.percent,
                fixed: spares.fixed,
            }),
            prices: card.prices.iter().map(price).collect(),
            make,
        }
    }

    fn fold(&self, fold: &Fold) -> FoldText {
        FoldText {
            kind: Some(fold.kind.word().to_owned()),
            edge: (fold.edge == FoldEdge::Top).then(|| "top".to_owned()),
            panels: fold.panels,
            thickness: fold.thickness.map(thickness_text),
            allowance: fold.allowance.map(|a| self.length(a)),
        }
    }

    fn envelope(&self, card: &Card) -> EnvelopeText {
        let mut text = EnvelopeText {
            shelf: card.envelope.clone(),
            paper: card.envelope_paper.as_ref().map(paper_text),
            ease: (card.ease != EASE).then(|| self.length(card.ease)),
            spares: Some(card.envelope_spares).filter(|n| *n > 0),
            weight: card.weighed.envelope.map(|w| format!("{} mg", w.mg())),
            glue: card.weighed.glue.map(|w| format!("{} mg", w.mg())),
            address: (card.address == Address::Short).then(|| "short".to_owned()),
            ..EnvelopeText::default()
        };
        match &card.enclosing {
            // A size that has a usual envelope would be given it again, so the smallest is asked for by name.
            EnvelopeChoice::Smallest => text.name = Some("smallest".to_owned()),
            EnvelopeChoice::NoEnvelope => text.name = Some("none".to_owned()),
            EnvelopeChoice::This(e) | EnvelopeChoice::Usual(e) => {
                text.name = Some(self.envelope_name(e));
                text.inside = e.measured_inside.map(|s| self.size(s));
                text.usual = matches!(card.enclosing, EnvelopeChoice::Usual(_)).then_some(true);
            }
        }
        text
    }

    /// The name where it is found again by it, else the outside size.
    fn envelope_name(&self, e: &Envelope) -> String {
        let found = envelope::find(&e.name, self.unit).ok();
        match found.filter(|f| f.outside == e.outside && !f.name.is_empty()) {
            Some(found) => found.name,
            None => self.size(e.outside),
        }
    }

    fn extra(&self, extra: &Extra, papers: &mut Papers) -> MakeText {
        let what = self.make(&extra.make);
        if extra.paper.is_none() && extra.count == 1 {
            return what;
        }
        MakeText::Of {
            paper: extra.paper.as_ref().map(|p| papers.name(p)),
            count: Some(extra.count).filter(|n| *n != 1),
            what: Box::new(what),
        }
    }

    fn make(&self, make: &Make) -> MakeText {
        let length = |l: Length| self.length(l);
        let maybe = |l: Option<Length>| l.map(|l| self.length(l));
        match *make {
            Make::BoxAndLid { floor, depth, lid_depth, room, sheet } => MakeText::Box {
                length: length(floor.width),
                width: length(floor.height),
                depth: length(depth),
                lid_depth: Some(length(lid_depth)),
                room: Some(length(room)),
                sheet: sheet.map(|s| self.size(s)),
            },
            Make::SquareEnvelope(inside) => {
                MakeText::SquareEnvelope { card: None, inside: inside.map(|s| self.size(s)) }
            }
            Make::StraightEnvelope { inside, tab, flap } => MakeText::StraightEnvelope {
                inside: inside.map(|s| self.size(s)),
                tab: maybe(tab),
                flap: maybe(flap),
            },
            Make::Bag(b) => MakeText::Bag {
                width: length(b.width),
                depth: length(b.depth),
                height: length(b.height),
                tab: Some(length(b.tab)),
                bottom: maybe(b.bottom),
            },
            Make::Pocket { panel, height, tab } => {
                MakeText::Pocket { panel: length(panel), height: length(height), tab: Some(length(tab)) }
            }
            Make::Sleeve { width, depth, breadth, tab } => MakeText::Sleeve {
                width: length(width),
                depth: length(depth),
                breadth: length(breadth),
                tab: Some(length(tab)),
            },
            Make::BellyBand { breadth, round, overlap } => MakeText::BellyBand {
                breadth: length(breadth),
                round: Some(round.word().to_owned()),
                overlap: Some(length(overlap)),
            },
            Make::InsertSheet => MakeText::InsertSheet,
            Make::InsideLiner => MakeText::InsideLiner,
            Make::EnvelopeLiner { flap, gum } => {
                MakeText::EnvelopeLiner { flap: length(flap), gum: Some(length(gum)) }
            }
        }
    }
}

fn price(p: &OwnPrice) -> PriceText {
    PriceText {
        rules: p.rules.clone(),
        verdict: p.verdict.word().to_owned(),
        price: p.price.show(""),
        currency: p.currency.clone(),
        date: p.date.clone(),
    }
}
