//! What a finished card weighs and how thick it is at its thickest point. Knows papers, not postal limits.
//!
//! Weight is by area: the base, every layer as many times as the card takes it, less its opening. Adhesive, ink and
//! foam count as the person weighed them, else not at all; so does an envelope, which is otherwise reckoned from its
//! paper. Thickness is by the pile: the leaves of the folded base, then the highest chain of layers that
//! lie on one another, each with the foam or tape under it.

use super::fold::{Fold, FoldKind};
use super::layer::{Card, LayerSize};
use super::paper::Paper;
use crate::domain::length::Unit;
use crate::domain::size::Size;
use crate::domain::thickness::Thickness;
use crate::domain::weight::{Grammage, Weight};

/// The papers of a card: its base and each of its layers, in order.
#[derive(Clone, Copy, Debug)]
pub struct Papers<'a> {
    /// The base's paper, where chosen.
    pub base: Option<&'a Paper>,
    /// The layers' papers, in the card's order.
    pub layers: &'a [Option<Paper>],
}

/// What a person laid on a scale.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Weighed {
    /// The empty envelope; `None` reckons it from its size and paper.
    pub envelope: Option<Weight>,
    /// Glue, tape, foam and all else on one card that is not paper; `None` leaves it out.
    pub glue: Option<Weight>,
}

impl Weighed {
    /// The heaviest that either may be: no letter weighs as much as 2 kg.
    pub const MOST: Weight = Weight::from_grams(2000);
}

/// From the thinnest that a card may be to the thickest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Span {
    /// The thinnest.
    pub least: Thickness,
    /// The thickest.
    pub most: Thickness,
}

impl Span {
    /// `0.032 to 0.066 in`: no finer than a guess is.
    pub fn show(self, unit: Unit) -> String {
        match unit {
            Unit::Inch => format!("{:.3} to {:.3} in", self.least.inches(), self.most.inches()),
            Unit::Mm => format!("{:.2} to {:.2} mm", self.least.mm(), self.most.mm()),
        }
    }
}

/// Weight or thickness with what could not be reckoned.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sum<T> {
    /// The sum; `None` where a part is unknown.
    pub value: Option<T>,
    /// Parts that are unknown, by name.
    pub unknown: Vec<String>,
    /// Parts that are guessed, by name.
    pub guessed: Vec<String>,
}

/// Leaves of the base that lie on one another when the card is closed.
pub const fn leaves(fold: &Fold) -> u32 {
    match fold.kind {
        FoldKind::Flat => 1,
        FoldKind::Side | FoldKind::Top | FoldKind::Gate => 2,
        FoldKind::Letter | FoldKind::Z | FoldKind::Back => 3,
        FoldKind::French => 4,
        FoldKind::Roll | FoldKind::Accordion => match fold.panels {
            Some(n) => n,
            None => fold.kind.usual_panels(),
        },
    }
}

fn layer_name(card: &Card, index: usize) -> String {
    match card.layers.get(index) {
        Some(layer) if !layer.name.is_empty() => layer.name.clone(),
        _ => format!("layer {}", index + 1),
    }
}

/// Weight of each part, base first, then the layers in order; `None` where the paper's weight is unknown.
pub fn weight_by_part(
    base: Size,
    card: &Card,
    sizes: &[LayerSize],
    papers: Papers<'_>,
) -> Vec<Option<Weight>> {
    let mut parts = vec![papers.base.and_then(|p| p.grammage).map(|g| g.weight_of(base))];
    for (i, size) in sizes.iter().enumerate() {
        let grammage = papers.layers.get(i).and_then(Option::as_ref).and_then(|p| p.grammage);
        let count = card.layers.get(i).map_or(1, |l| l.count);
        let hole = size.opening.map_or(0, |o| o.size.area());
        let area = size.cut.size.area() - hole;
        parts.push(grammage.map(|g: Grammage| g.weight_of_area(area) * i64::from(count)));
    }
    parts
}

/// Weight of the finished card.
pub fn weight(base: Size, card: &Card, sizes: &[LayerSize], papers: Papers<'_>) -> Sum<Weight> {
    let parts = weight_by_part(base, card, sizes, papers);
    let unknown: Vec<String> =
        parts.iter().enumerate().filter(|(_, w)| w.is_none()).map(|(i, _)| part_name(card, i)).collect();
    let value = unknown.is_empty().then(|| parts.iter().flatten().copied().sum());
    Sum { value, unknown, guessed: Vec::new() }
}

/// Adds what lies behind openings: each insert as large as it is cut, as many as there are frames.
pub fn add_inserts(
    card: &Card,
    sizes: &[LayerSize],
    inserts: &[Option<Paper>],
    weight: &mut Sum<Weight>,
    parts: &mut [Option<Weight>],
) {
    for (i, size) in sizes.iter().enumerate() {
        let (Some(opening), Some(paper)) = (size.opening, inserts.get(i).and_then(Option::as_ref)) else {
            continue;
        };
        let count = i64::from(card.layers.get(i).map_or(1, |l| l.count));
        let own = paper.grammage.map(|g| g.weight_of(opening.insert_cut) * count);
        if own.is_none() {
            weight.unknown.push(format!("the insert of {}", layer_name(card, i)));
        }
        weight.value = weight.value.zip(own).map(|(all, own)| all + own);
        if let Some(part) = parts.get_mut(i + 1) {
            *part = part.zip(own).map(|(all, own)| all + own);
        }
    }
}

fn part_name(card: &Card, part: usize) -> String {
    part.checked_sub(1).map_or_else(|| "base".to_owned(), |i| layer_name(card, i))
}

/// Thickness of the closed card at its thickest point.
pub fn thickness(card: &Card, sizes: &[LayerSize], papers: Papers<'_>) -> Sum<Thickness> {
    let mut sum = Sum { value: None, unknown: Vec::new(), guessed: Vec::new() };
    let base = caliper(papers.base, "base", &mut sum);
    let mut tops: Vec<Thickness> = Vec::with_capacity(sizes.len());
    for (i, size) in sizes.iter().enumerate() {
        let name = layer_name(card, i);
        let own = caliper(papers.layers.get(i).and_then(Option::as_ref), &name, &mut sum);
        let raise = card.layers.get(i).map_or(Thickness::ZERO, |l| l.raise);
        let below = size.on.and_then(|on| tops.get(on).copied()).unwrap_or_default();
        tops.push(below + raise + own);
    }
    if sum.unknown.is_empty() {
        let pile = tops.into_iter().max().unwrap_or_default();
        sum.value = Some(base * i64::from(leaves(&card.fold)) + pile);
    }
    sum
}

fn caliper(paper: Option<&Paper>, name: &str, sum: &mut Sum<Thickness>) -> Thickness {
    let Some(known) = paper.and_then(Paper::caliper) else {
        sum.unknown.push(name.to_owned());
        return Thickness::ZERO;
    };
    if !known.measured {
        sum.guessed.push(name.to_owned());
    }
    known.value
}

/// A card in its envelope.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct InEnvelope {
    /// Between two walls.
    pub thickness: Thickness,
    /// Where the flap or a seam lies: three walls.
    pub at_flap: Thickness,
}

/// The wall of an envelope of 24 lb bond as a merchants' chart gives it: 0.0048 in.
pub const WALL: Thickness = Thickness::from_tenths_of_a_mil(48);

/// What such a wall weighs: 24 lb bond, 24 x 1406.139 / 374 grams a square metre.
pub const WALL_GRAMMAGE: Grammage = Grammage::from_mg_per_m2(90_234);

/// Thickness of a card in an envelope with walls of this thickness.
pub fn in_envelope(card: Thickness, wall: Thickness) -> InEnvelope {
    InEnvelope { thickness: card + wall * 2, at_flap: card + wall * 3 }
}

/// What an envelope weighs, about: two faces, a flap of two fifths and seams of a tenth of a face.
pub fn envelope_weight(outside: Size, grammage: Grammage) -> Weight {
    grammage.weight_of_area(outside.area() * 5 / 2)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cards::layer::{Layer, LayerPlace, sizes};
    use crate::domain::cards::reveal::Reveal;
    use crate::domain::cards::tools::Tools;
    use crate::domain::length::Length;

    fn known(tenths_of_a_mil: i64) -> Paper {
        Paper {
            name: String::new(),
            grammage: Some(Grammage::from_gsm(200)),
            caliper: Some(Thickness::from_tenths_of_a_mil(tenths_of_a_mil)),
        }
    }

    /// Worked by hand: base 0.012 twice, mat 0.0095, foam 1/16, panel 0.006, foam 1/8, topper 0.0095; wall 0.0045.
    fn foam_card(second_foam: i64) -> (Card, Vec<Option<Paper>>) {
        let r = Reveal::all(Length::sixteenths(2));
        let raised =
            |n: i64| Layer { raise: Thickness::from_length(Length::sixteenths(n)), ..Layer::mat("", r) };
        let layers = vec![Layer::mat("", r), raised(1), raised(second_foam)];
        let face = Size::parse("4-1/4x5-1/2", Unit::Inch).unwrap();
        let card = Card { name: String::new(), face, fold: Fold::default(), layers };
        (card, [95, 60, 95].map(|t| Some(known(t))).to_vec())
    }

    fn thick(card: &Card, papers: &[Option<Paper>]) -> Sum<Thickness> {
        let all = sizes(card, &Tools::INCH).unwrap();
        let base = known(120);
        thickness(card, &all, Papers { base: Some(&base), layers: papers })
    }

    #[test]
    fn a_stack_exactly_at_the_limit() {
        let (card, papers) = foam_card(2);
        let t = thick(&card, &papers).value.unwrap();
        assert_eq!(t, Thickness::from_tenths_of_a_mil(2365));
        let sealed = in_envelope(t, Thickness::from_tenths_of_a_mil(45));
        assert_eq!(sealed.thickness, Thickness::from_tenths_of_a_mil(2455));
        assert_eq!(sealed.at_flap, Thickness::from_tenths_of_a_mil(2500));
        let (card, papers) = foam_card(1);
        let t = thick(&card, &papers).value.unwrap();
        assert_eq!(
            in_envelope(t, Thickness::from_tenths_of_a_mil(45)).at_flap,
            Thickness::from_tenths_of_a_mil(1875)
        );
    }

    #[test]
    fn layers_beside_one_another_do_not_add_up() {
        let (mut card, mut papers) = foam_card(2);
        let strip = Size::parse("1x1", Unit::Inch).unwrap();
        card.layers.push(Layer { on: Some(0), ..Layer::panel("strip", strip, LayerPlace::Middle) });
        papers.push(Some(known(95)));
        assert_eq!(thick(&card, &papers).value, Some(Thickness::from_tenths_of_a_mil(2365)));
    }

    #[test]
    fn an_unknown_paper_is_named_and_a_guess_is_said() {
        let (card, mut papers) = foam_card(2);
        papers[1] = None;
        let t = thick(&card, &papers);
        assert_eq!((t.value, t.unknown.as_slice()), (None, ["layer 2".to_owned()].as_slice()));
        papers[1] = Some(Paper { grammage: Some(Grammage::from_gsm(105)), ..Paper::default() });
        assert_eq!(thick(&card, &papers).guessed, ["layer 2"]);
    }

    #[test]
    fn weight_is_area_times_grammage() {
        let (card, papers) = foam_card(2);
        let all = sizes(&card, &Tools::INCH).unwrap();
        let base = known(120);
        let papers = Papers { base: Some(&base), layers: &papers };
        let parts = weight_by_part(Size::parse("8-1/2x5-1/2", Unit::Inch).unwrap(), &card, &all, papers);
        // 8 1/2 x 5 1/2 in = 46.75 square inches = 0.030161 m² at 200 gsm.
        assert_eq!(parts[0].unwrap().mg(), 6032);
        assert_eq!(parts.len(), 4);
        let whole = weight(Size::parse("8-1/2x5-1/2", Unit::Inch).unwrap(), &card, &all, papers);
        assert_eq!(whole.value.unwrap(), parts.iter().flatten().copied().sum());
    }

    #[test]
    fn an_opening_weighs_nothing() {
        use crate::domain::cards::frame::Frame;
        let (mut card, papers) = foam_card(2);
        card.layers[2].frame = Some(Frame::all(Length::sixteenths(8)));
        let all = sizes(&card, &Tools::INCH).unwrap();
        let parts = weight_by_part(card.face, &card, &all, Papers { base: None, layers: &papers });
        let o = all[2].opening.unwrap();
        let area = all[2].cut.size.area() - o.size.area();
        assert_eq!(parts[3], Some(Grammage::from_gsm(200).weight_of_area(area)));
        assert_eq!(parts[0], None);
    }
}
