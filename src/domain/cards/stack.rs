//! What a finished card weighs and how thick it is at its thickest point. Knows papers, not postal limits.
//!
//! Weight is by area: the base, every layer as many times as the card takes it, less its opening. Adhesive, ink and
//! foam count as the person weighed them, else not at all; so does an envelope, which is otherwise reckoned from its
//! paper. Thickness is by the pile: the leaves of the folded base, then the highest chain of layers that
//! lie on one another, each with the foam or tape under it.

use super::card::Card;
use super::fold::{Fold, FoldKind};
use super::layer::LayerSize;
use super::paper::Paper;
use crate::domain::size::Size;
use crate::domain::thickness::Thickness;
use crate::domain::weight::{Grammage, Weight};

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

/// Weight of each part, base first, then the layers in order; `None` where the paper's weight is unknown.
pub fn weight_by_part(base: Size, card: &Card, sizes: &[LayerSize]) -> Vec<Option<Weight>> {
    let mut parts = vec![card.base_paper.as_ref().and_then(|p| p.grammage).map(|g| g.weight_of(base))];
    for (layer, size) in card.layers.iter().zip(sizes) {
        let grammage = layer.paper.as_ref().and_then(|p| p.grammage);
        let count = layer.count;
        let hole = size.opening.map_or(0, |o| o.size.area());
        let area = size.cut.size.area() - hole;
        parts.push(grammage.map(|g: Grammage| g.weight_of_area(area) * i64::from(count)));
    }
    parts
}

/// Weight of the finished card.
pub fn weight(base: Size, card: &Card, sizes: &[LayerSize]) -> Sum<Weight> {
    let parts = weight_by_part(base, card, sizes);
    let unknown: Vec<String> =
        parts.iter().enumerate().filter(|(_, w)| w.is_none()).map(|(i, _)| part_name(card, i)).collect();
    let value = unknown.is_empty().then(|| parts.iter().flatten().copied().sum());
    Sum { value, unknown, guessed: Vec::new() }
}

/// Adds what lies behind openings: each insert as large as it is cut, as many as there are frames.
pub fn add_inserts(card: &Card, sizes: &[LayerSize], weight: &mut Sum<Weight>, parts: &mut [Option<Weight>]) {
    for (i, (layer, size)) in card.layers.iter().zip(sizes).enumerate() {
        let (Some(opening), Some(paper)) = (size.opening, &layer.insert) else { continue };
        let count = i64::from(layer.count);
        let own = paper.grammage.map(|g| g.weight_of(opening.insert_cut) * count);
        if own.is_none() {
            weight.unknown.push(layer.insert_name(i));
        }
        weight.value = weight.value.zip(own).map(|(all, own)| all + own);
        if let Some(part) = parts.get_mut(i + 1) {
            *part = part.zip(own).map(|(all, own)| all + own);
        }
    }
}

fn part_name(card: &Card, part: usize) -> String {
    part.checked_sub(1).map_or_else(|| "base".to_owned(), |i| card.layer_name(i))
}

/// Thickness of the closed card at its thickest point.
pub fn thickness(card: &Card, sizes: &[LayerSize]) -> Sum<Thickness> {
    let mut sum = Sum { value: None, unknown: Vec::new(), guessed: Vec::new() };
    let base = caliper(card.base_paper.as_ref(), "base", &mut sum);
    let mut tops: Vec<Thickness> = Vec::with_capacity(sizes.len());
    for (i, size) in sizes.iter().enumerate() {
        let name = card.layer_name(i);
        let own = caliper(card.layers.get(i).and_then(|l| l.paper.as_ref()), &name, &mut sum);
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
    use crate::domain::cards::layer::{Layer, LayerPlace};
    use crate::domain::cards::reveal::Reveal;
    use crate::domain::cards::tools::Tools;
    use crate::domain::length::{Length, Unit};

    fn known(tenths_of_a_mil: i64) -> Paper {
        Paper {
            name: String::new(),
            grammage: Some(Grammage::from_gsm(200)),
            caliper: Some(Thickness::from_tenths_of_a_mil(tenths_of_a_mil)),
        }
    }

    /// Worked by hand: base 0.012 twice, mat 0.0095, foam 1/16, panel 0.006, foam 1/8, topper 0.0095; wall 0.0045.
    fn foam_card(second_foam: i64) -> Card {
        let r = Reveal::all(Length::sixteenths(2));
        let of = |t: i64| Layer { paper: Some(known(t)), ..Layer::mat("", r) };
        let raised = |t: i64, n: i64| Layer { raise: Thickness::from_length(Length::sixteenths(n)), ..of(t) };
        let layers = vec![of(95), raised(60, 1), raised(95, second_foam)];
        let face = Size::parse("4-1/4x5-1/2", Unit::Inch).unwrap();
        Card { layers, base_paper: Some(known(120)), ..Card::new("", face) }
    }

    fn thick(card: &Card) -> Sum<Thickness> {
        thickness(card, &card.layer_sizes(&Tools::INCH).unwrap())
    }

    #[test]
    fn a_stack_exactly_at_the_limit() {
        let t = thick(&foam_card(2)).value.unwrap();
        assert_eq!(t, Thickness::from_tenths_of_a_mil(2365));
        let sealed = in_envelope(t, Thickness::from_tenths_of_a_mil(45));
        assert_eq!(sealed.thickness, Thickness::from_tenths_of_a_mil(2455));
        assert_eq!(sealed.at_flap, Thickness::from_tenths_of_a_mil(2500));
        let t = thick(&foam_card(1)).value.unwrap();
        assert_eq!(
            in_envelope(t, Thickness::from_tenths_of_a_mil(45)).at_flap,
            Thickness::from_tenths_of_a_mil(1875)
        );
    }

    #[test]
    fn layers_beside_one_another_do_not_add_up() {
        let mut card = foam_card(2);
        let strip = Size::parse("1x1", Unit::Inch).unwrap();
        let strip = Layer::panel("strip", strip, LayerPlace::Middle);
        card.layers.push(Layer { on: Some(0), paper: Some(known(95)), ..strip });
        assert_eq!(thick(&card).value, Some(Thickness::from_tenths_of_a_mil(2365)));
    }

    #[test]
    fn an_unknown_paper_is_named_and_a_guess_is_said() {
        let mut card = foam_card(2);
        card.layers[1].paper = None;
        let t = thick(&card);
        assert_eq!((t.value, t.unknown.as_slice()), (None, ["mat 2".to_owned()].as_slice()));
        card.layers[1].paper = Some(Paper { grammage: Some(Grammage::from_gsm(105)), ..Paper::default() });
        assert_eq!(thick(&card).guessed, ["mat 2"]);
    }

    #[test]
    fn weight_is_area_times_grammage() {
        let card = foam_card(2);
        let all = card.layer_sizes(&Tools::INCH).unwrap();
        let parts = weight_by_part(Size::parse("8-1/2x5-1/2", Unit::Inch).unwrap(), &card, &all);
        // 8 1/2 x 5 1/2 in = 46.75 square inches = 0.030161 m² at 200 gsm.
        assert_eq!(parts[0].unwrap().mg(), 6032);
        assert_eq!(parts.len(), 4);
        let whole = weight(Size::parse("8-1/2x5-1/2", Unit::Inch).unwrap(), &card, &all);
        assert_eq!(whole.value.unwrap(), parts.iter().flatten().copied().sum());
    }

    #[test]
    fn an_opening_weighs_nothing() {
        use crate::domain::cards::frame::Frame;
        let mut card = foam_card(2);
        card.base_paper = None;
        card.layers[2].frame = Some(Frame::all(Length::sixteenths(8)));
        let all = card.layer_sizes(&Tools::INCH).unwrap();
        let parts = weight_by_part(card.face, &card, &all);
        let o = all[2].opening.unwrap();
        let area = all[2].cut.size.area() - o.size.area();
        assert_eq!(parts[3], Some(Grammage::from_gsm(200).weight_of_area(area)));
        assert_eq!(parts[0], None);
    }
}
