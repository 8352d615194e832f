//! Texts about a card that are more than one measure: a fold, a frame, scores, a paper, a price; and changes of its layers
//! that keep the rest in order. Each text is read the way it is shown. Knows neither pane nor command line.

use crate::domain::cards::card::EnvelopeChoice;
use crate::domain::cards::fold::{FoldEdge, FoldKind, Score, Side};
use crate::domain::cards::frame::Frame;
use crate::domain::cards::layer::{self, LayerPlace, Shape};
use crate::domain::cards::paper::{self as papers, Paper};
use crate::domain::cards::parts::{self, PartKind};
use crate::domain::cards::post::{self, OwnPrice};
use crate::domain::cards::reveal::Reveal;
use crate::domain::cards::weighed::Weighed;
use crate::domain::length::{Length, Unit};
use crate::domain::money::Money;
use crate::domain::project::{CardLayer, ProjectCard};
use crate::domain::reckon;
use crate::domain::size::Size;
use crate::domain::thickness::Thickness;
use crate::domain::weight::Weight;

/// A length, or a sum of lengths.
///
/// # Errors
/// The sentence that refuses it.
pub fn length(text: &str, unit: Unit) -> Result<Length, String> {
    reckon::length(text, unit).map(|r| r.value).map_err(|e| e.to_string())
}

/// The same, or nothing at all.
///
/// # Errors
/// The sentence that refuses it.
pub fn length_or_zero(text: &str, unit: Unit) -> Result<Length, String> {
    if text.trim() == "0" { Ok(Length::ZERO) } else { length(text, unit) }
}

/// What lifts a layer: a height, the name of foam or tape, or 0 for a layer glued flat.
///
/// # Errors
/// The sentence that refuses it.
pub fn raise(text: &str, unit: Unit) -> Result<Thickness, String> {
    if text.trim() == "0" {
        Ok(Thickness::ZERO)
    } else {
        papers::raise(text, unit).map_err(|e| e.to_string())
    }
}

/// What a scale says of an envelope, or of the glue and foam of one card: 5.2 g, 0.2 oz.
///
/// # Errors
/// The sentence that refuses it.
pub fn weight(text: &str) -> Result<Weight, String> {
    let weight = Weight::parse(text).map_err(|e| e.to_string())?;
    if weight > Weighed::MOST {
        return Err(format!("{} is more than any letter weighs: check the unit", weight.show()));
    }
    Ok(weight)
}

/// The same, or nothing where the scale's word is taken back.
///
/// # Errors
/// The sentence that refuses it.
pub fn weight_or_none(text: &str) -> Result<Option<Weight>, String> {
    if matches!(text.trim(), "" | "none") { Ok(None) } else { weight(text).map(Some) }
}

/// The measures of a fold as they would be typed.
pub fn fold_text(card: &ProjectCard, unit: Unit) -> String {
    let dash = || "-".to_owned();
    let fold = &card.fold;
    let allowance =
        fold.allowance.map_or_else(dash, |a| if a == Length::ZERO { "0".into() } else { a.exact(unit) });
    let thickness = fold.thickness.map_or_else(dash, |t| format!("{:.4} in", t.inches()));
    format!("{}, {allowance}, {thickness}", fold.panels.map_or_else(dash, |n| n.to_string()))
}

/// The front that is reached outward from a picture: the reveals the other way round.
///
/// # Errors
/// The sentence that refuses it.
pub fn front_round(card: &ProjectCard, picture: Size) -> Result<Size, String> {
    let mut reveals = Vec::new();
    for (n, layer) in card.layers.iter().enumerate() {
        let Shape::Inset(reveal) = layer.shape else {
            let name = card.layer_name(n);
            return Err(format!(
                "{name} has a size of its own: working outward from a picture needs mats all the way"
            ));
        };
        reveals.push(reveal);
    }
    reveals.reverse();
    Ok(layer::outward(picture, &reveals))
}

/// Score lines as they would be typed.
pub fn scores_text(card: &ProjectCard, unit: Unit) -> String {
    let one = |s: &Score| format!("{} {}", s.side.word(), s.at.exact(unit));
    card.scores.iter().map(one).collect::<Vec<_>>().join(", ")
}

/// `width 1, height 2 1/2`: the side that a score is measured along, and the distance.
///
/// # Errors
/// The sentence that refuses it.
pub fn scores(text: &str, unit: Unit) -> Result<Vec<Score>, String> {
    let mut all = Vec::new();
    for part in text.split(',').map(str::trim).filter(|p| !p.is_empty()) {
        let (side, at) = part.split_once(' ').unwrap_or((part, ""));
        let side = match side {
            "width" => Side::Width,
            "height" => Side::Height,
            _ => {
                return Err(format!("\"{part}\": write the side and the distance along it, such as width 1"));
            }
        };
        all.push(Score { side, at: length(at, unit)? });
    }
    Ok(all)
}

/// Takes the inside of the envelope as measured; an empty text leaves it to the outside.
///
/// # Errors
/// The sentence that refuses it.
pub fn inside(card: &mut ProjectCard, text: &str, unit: Unit) -> Result<(), String> {
    let inside = match text.trim() {
        "" => None,
        text => Some(reckon::size(text, unit)?),
    };
    match &mut card.enclosing {
        EnvelopeChoice::This(e) | EnvelopeChoice::Usual(e) if card.envelope.is_none() => {
            e.measured_inside = inside;
        }
        _ => return Err("an inside belongs to one envelope: choose it first, by its name or size".to_owned()),
    }
    Ok(())
}

/// `uk, large letter, 1.00, 2026-11-01`: what the person wrote down, and when.
///
/// # Errors
/// The sentence that refuses it.
pub fn price(text: &str, currency: &str) -> Result<OwnPrice, String> {
    let parts: Vec<&str> = text.split(',').map(str::trim).collect();
    let [rules, verdict, price, date] = parts.as_slice() else {
        return Err("four things with commas between: country, kind of letter, price, date".to_owned());
    };
    let rules = post::find(rules)?;
    let verdict = rules.verdict(verdict)?;
    if date.is_empty() {
        return Err("a price needs the date you read it".to_owned());
    }
    let price = Money::parse(price, currency).map_err(|e| e.to_string())?;
    let (rules, currency, date) = (rules.id.clone(), currency.to_owned(), (*date).to_owned());
    Ok(OwnPrice { rules, verdict, price, currency, date })
}

/// A whole number; `example` ends the sentence that refuses it.
///
/// # Errors
/// The sentence that refuses it.
pub fn whole(text: &str, least: u32, most: u32, example: &str) -> Result<u32, String> {
    let text = text.trim();
    text.parse().ok().filter(|n| (least..=most).contains(n)).ok_or_else(|| {
        format!("\"{text}\" is not a count: write a whole number from {least} to {most} {example}")
    })
}

/// `4, 1/16, 0.012 in`, each of which may be left out or a dash.
///
/// # Errors
/// The sentence that refuses it.
pub fn fold(card: &mut ProjectCard, text: &str, unit: Unit) -> Result<(), String> {
    let parts: Vec<&str> = text.split(',').map(str::trim).collect();
    let part = |n: usize| parts.get(n).copied().filter(|t| !t.is_empty() && *t != "-");
    if parts.len() > 3 {
        return Err(
            "three measures at most: panels, allowance, thickness, such as 4, 1/16, 0.012 in".to_owned()
        );
    }
    card.fold.panels = part(0).map(|t| whole(t, 1, 40, "of panels")).transpose()?;
    card.fold.allowance = match part(1) {
        Some("0") => Some(Length::ZERO),
        other => other.map(|t| length(t, unit)).transpose()?,
    };
    card.fold.thickness =
        part(2).map(|t| Thickness::parse(t, unit).map_err(|e| e.to_string())).transpose()?;
    Ok(())
}

/// `1/2, 1/8`: the frame's width and the overlap of its insert; an empty text takes the frame off a mat.
///
/// # Errors
/// The sentence that refuses it.
pub fn frame(layer: &mut CardLayer, text: &str, unit: Unit) -> Result<(), String> {
    if text.trim().is_empty() {
        (layer.frame, layer.insert) = (None, None);
        return Ok(());
    }
    if !matches!(layer.shape, Shape::Inset(_)) {
        return Err("a frame is cut into a mat: this layer is not one".to_owned());
    }
    let usual = layer.frame.map_or(Frame::OVERLAP, |f| f.overlap);
    // Read as a frame whose reveal is already known.
    let Ok(parts::Part::Layer(read)) = PartKind::Frame.read(&format!("1, {text}"), unit) else {
        return Err(format!("\"{}\": write the frame's width, then the overlap: 1/2, 1/8", text.trim()));
    };
    let has_overlap = text.contains(',');
    layer.frame = read.frame.map(|f| Frame { overlap: if has_overlap { f.overlap } else { usual }, ..f });
    Ok(())
}

/// `oat, 80 lb cover, 0.012 in`: a name, and weight and thickness where they are known.
///
/// # Errors
/// The sentence that refuses it.
pub fn paper(text: &str, unit: Unit) -> Result<Paper, String> {
    let mut parts = text.split(',').map(str::trim);
    let name = parts.next().unwrap_or_default();
    if name.is_empty() {
        return Err("a paper needs a name: such as oat, 80 lb cover, 0.012 in".to_owned());
    }
    let given = |t: Option<&str>| t.map(str::to_owned).filter(|t| !t.is_empty() && t != "-");
    let weight = given(parts.next()).map(|t| papers::grammage(&t).map_err(|e| e.to_string())).transpose()?;
    let thick =
        given(parts.next()).map(|t| Thickness::parse(&t, unit).map_err(|e| e.to_string())).transpose()?;
    Ok(Paper { name: name.to_owned(), grammage: weight, caliper: thick })
}

/// Takes a layer off; what lies on it lies on what is below it from then on.
pub fn remove_layer(card: &mut ProjectCard, n: usize) {
    let gone = card.layers.remove(n);
    for layer in card.layers.iter_mut().skip(n) {
        layer.on = match layer.on {
            Some(on) if on == n => gone.on,
            Some(on) if on > n => Some(on - 1),
            other => other,
        };
    }
}

/// Two layers change places; what lies on one of them stays on it.
pub fn swap_layers(card: &mut ProjectCard, a: usize, b: usize) {
    card.layers.swap(a, b);
    for layer in &mut card.layers {
        layer.on = match layer.on {
            Some(on) if on == a => Some(b),
            Some(on) if on == b => Some(a),
            other => other,
        };
    }
}

/// Makes a layer one of another kind, keeping its paper, count and what lifts it.
pub fn turn_into(card: &mut ProjectCard, n: usize, kind: PartKind, size: Size, unit: Unit) {
    let Some(layer) = card.layers.get_mut(n) else { return };
    let was = layer.clone();
    let reveal = match was.shape {
        Shape::Inset(reveal) => reveal,
        _ => Reveal::all(Length::sixteenths(2)),
    };
    let shape = match kind {
        PartKind::Panel => Shape::Panel { size, place: LayerPlace::Middle },
        PartKind::Strip => Shape::Strip { along: Side::Width, breadth: size.height, at: None },
        _ => Shape::Inset(reveal),
    };
    let frame = match (kind, was.frame) {
        (PartKind::Frame, Some(frame)) => Some(frame),
        (PartKind::Frame, None) => match PartKind::Frame.read(&PartKind::Frame.usual(unit), unit) {
            Ok(parts::Part::Layer(usual)) => usual.frame,
            _ => None,
        },
        _ => None,
    };
    *layer = CardLayer { shape, frame, ..was };
    if layer.frame.is_none() {
        layer.insert = None;
    }
}

/// Gives the card another kind of fold; what the kind does not know is dropped with the old one.
pub fn fold_kind(card: &mut ProjectCard, kind: FoldKind) {
    if card.fold.kind != kind {
        (card.fold.kind, card.fold.panels, card.fold.allowance) = (kind, None, None);
    }
}

/// Says which edge the fold lies on.
///
/// # Errors
/// A sentence where the kind of fold has its edge in its name.
pub fn fold_edge(card: &mut ProjectCard, edge: FoldEdge) -> Result<(), String> {
    let kind = card.fold.kind;
    if matches!(kind, FoldKind::Side | FoldKind::Top | FoldKind::Flat) {
        return Err(format!("a {} fold has its edge in its name: take another fold", kind.word()));
    }
    card.fold.edge = edge;
    Ok(())
}

/// Notes a price in the place of an older one for the same rules and verdict.
pub fn note_price(card: &mut ProjectCard, price: OwnPrice) {
    card.prices.retain(|p| (&p.rules, p.verdict) != (&price.rules, price.verdict));
    card.prices.push(price);
}
