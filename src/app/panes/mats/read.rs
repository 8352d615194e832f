//! Texts of the pane that are more than one measure: a fold, a frame, scores, a paper, a price. Each is read the way it is
//! shown, so that a prompt can begin with what stands.

use crate::app::reading::read_length;
use crate::app::state::mats::Picked;
use crate::domain::cards::fold::{Score, Side};
use crate::domain::cards::frame::Frame;
use crate::domain::cards::job::EnvelopeChoice;
use crate::domain::cards::layer::{self, Shape};
use crate::domain::cards::paper::{self, Paper};
use crate::domain::cards::parts;
use crate::domain::cards::parts::PartKind;
use crate::domain::cards::post::{self, OwnPrice, Verdict};
use crate::domain::length::{Length, Unit};
use crate::domain::money::Money;
use crate::domain::project::{CardLayer, ProjectCard};
use crate::domain::reckon;
use crate::domain::size::Size;
use crate::domain::thickness::Thickness;

/// `Hedgerow notes, class` as `hedgerow-notes-class.ron`.
pub(super) fn file_name(name: &str) -> String {
    let words: Vec<String> =
        name.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).map(str::to_lowercase).collect();
    format!("{}.ron", if words.is_empty() { "card".to_owned() } else { words.join("-") })
}

pub(super) fn fold_text(card: &ProjectCard, unit: Unit) -> String {
    let dash = || "-".to_owned();
    let fold = &card.fold;
    let allowance =
        fold.allowance.map_or_else(dash, |a| if a == Length::ZERO { "0".into() } else { a.show(unit) });
    let thickness = fold.thickness.map_or_else(dash, |t| format!("{:.4} in", t.inches()));
    format!("{}, {allowance}, {thickness}", fold.panels.map_or_else(dash, |n| n.to_string()))
}

pub(super) fn at(card: &mut ProjectCard, n: usize, set: impl FnOnce(&mut CardLayer)) {
    if let Some(layer) = card.layers.get_mut(n) {
        set(layer);
    }
}

/// Gives a paper to the row under the cursor, or to what lies behind its opening.
pub fn set_paper(
    card: &mut ProjectCard,
    picked: Picked,
    behind: bool,
    shelf: Option<crate::domain::stock::ItemId>,
    loose: Option<Paper>,
) {
    match picked {
        Picked::Base => (card.base_paper, card.base_loose) = (shelf, loose),
        Picked::Layer(n) if behind => at(card, n, |l| (l.insert, l.insert_loose) = (shelf, loose)),
        Picked::Layer(n) => at(card, n, |l| (l.paper, l.loose) = (shelf, loose)),
        Picked::Extra(n) => {
            if let Some(e) = card.extras.get_mut(n) {
                (e.paper, e.loose) = (shelf, loose);
            }
        }
    }
}

/// The front that is reached outward from a picture: the reveals the other way round.
pub(super) fn front_round(card: &ProjectCard, picture: Size) -> Result<Size, String> {
    let mut reveals = Vec::new();
    for (n, layer) in card.layers.iter().enumerate() {
        let Shape::Inset(reveal) = layer.shape else {
            let name = card.layer_name(n);
            return Err(format!(
                "{name} has a size of its own: outward from a picture goes through mats only"
            ));
        };
        reveals.push(reveal);
    }
    reveals.reverse();
    Ok(layer::outward(picture, &reveals))
}

pub(super) fn scores_text(card: &ProjectCard, unit: Unit) -> String {
    let one = |s: &Score| format!("{} {}", s.side.word(), s.at.show(unit));
    card.scores.iter().map(one).collect::<Vec<_>>().join(", ")
}

/// `width 1, height 2 1/2`: the side that a score is measured along, and the distance.
pub(super) fn read_scores(text: &str, unit: Unit) -> Result<Vec<Score>, String> {
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
        all.push(Score { side, at: read_length(at, unit)? });
    }
    Ok(all)
}

pub(super) fn set_inside(card: &mut ProjectCard, text: &str, unit: Unit) -> Result<(), String> {
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

/// `uk, letter, 1.00, 2026-11-01`: what the person wrote down, and when.
pub(super) fn read_price(text: &str, currency: &str) -> Result<OwnPrice, String> {
    let parts: Vec<&str> = text.split(',').map(str::trim).collect();
    let [rules, verdict, price, date] = parts.as_slice() else {
        return Err("four things with commas between: rules, verdict, price, date".to_owned());
    };
    let ids: Vec<&str> = post::all().iter().map(|r| r.id.as_str()).collect();
    if !ids.contains(rules) {
        return Err(format!("\"{rules}\" is no set of rules: use one of {}", ids.join(", ")));
    }
    let words = Verdict::ALL.map(Verdict::word).join(", ");
    let verdict = Verdict::from_word(verdict)
        .ok_or_else(|| format!("\"{verdict}\" is no verdict: use one of {words}"))?;
    if date.is_empty() {
        return Err("a price needs the date you read it".to_owned());
    }
    let price = Money::parse(price, currency).map_err(|e| e.to_string())?;
    let (rules, currency, date) = ((*rules).to_owned(), currency.to_owned(), (*date).to_owned());
    Ok(OwnPrice { rules, verdict, price, currency, date })
}

pub(super) fn whole(text: &str, least: u32, most: u32, example: &str) -> Result<u32, String> {
    let text = text.trim();
    text.parse().ok().filter(|n| (least..=most).contains(n)).ok_or_else(|| {
        format!("\"{text}\" is no count: write a whole number from {least} to {most} {example}")
    })
}

/// `4, 1/16, 0.012 in`, each of which may be left out or a dash.
pub(super) fn read_fold(card: &mut ProjectCard, text: &str, unit: Unit) -> Result<(), String> {
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
        other => other.map(|t| read_length(t, unit)).transpose()?,
    };
    card.fold.thickness =
        part(2).map(|t| Thickness::parse(t, unit).map_err(|e| e.to_string())).transpose()?;
    Ok(())
}

pub(super) fn read_frame(
    card: &mut ProjectCard,
    picked: Picked,
    text: &str,
    unit: Unit,
) -> Result<(), String> {
    let Picked::Layer(n) = picked else { return Ok(()) };
    let Some(layer) = card.layers.get_mut(n) else { return Ok(()) };
    if text.trim().is_empty() {
        (layer.frame, layer.insert, layer.insert_loose) = (None, None, None);
        return Ok(());
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
pub(super) fn read_paper(text: &str, unit: Unit) -> Result<Paper, String> {
    let mut parts = text.split(',').map(str::trim);
    let name = parts.next().unwrap_or_default();
    if name.is_empty() {
        return Err("a paper needs a name: such as oat, 80 lb cover, 0.012 in".to_owned());
    }
    let given = |t: Option<&str>| t.map(str::to_owned).filter(|t| !t.is_empty() && t != "-");
    let weight = given(parts.next()).map(|t| paper::grammage(&t).map_err(|e| e.to_string())).transpose()?;
    let thick =
        given(parts.next()).map(|t| Thickness::parse(&t, unit).map_err(|e| e.to_string())).transpose()?;
    Ok(Paper { name: name.to_owned(), grammage: weight, caliper: thick })
}
