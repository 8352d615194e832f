//! Whether a card goes into an envelope, and which one it goes into. Knows sizes, not postal rules.
//!
//! A card fits when face + finished thickness + ease is within the envelope's inside both ways (common practice: a
//! thick card needs its thickness over again each way to slide in). *Clearance* is the inside less the face alone, as
//! size charts print it. Envelopes are laid as the card lies: short side to short side.

use super::error::{CardError, CardReason};
use super::table::{self, System};
use crate::domain::length::{Length, Unit};
use crate::domain::near::question;
use crate::domain::size::Size;
use crate::domain::thickness::Thickness;
use std::sync::LazyLock;

/// An envelope.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Envelope {
    /// `A2`, `C6`, or empty for one given by its size.
    pub name: String,
    /// Whose size it is; `None` for one given by its size.
    pub system: Option<System>,
    /// Outside, short side as width.
    pub outside: Size,
    /// Measured inside, where known; else the outside is reckoned with.
    pub measured_inside: Option<Size>,
    /// Where the size comes from.
    pub source: String,
}

/// Room left beside the card in each direction unless another is given: 1/16 in.
pub const EASE: Length = Length::sixteenths(1);

#[derive(serde::Deserialize)]
struct Row {
    name: String,
    system: System,
    short: String,
    long: String,
    source: String,
}

static TABLE: LazyLock<Vec<Envelope>> = LazyLock::new(|| {
    let rows: Vec<Row> = table::rows(include_str!("../../../assets/envelopes.ron"));
    rows.into_iter()
        .map(|r| Envelope {
            name: r.name,
            system: Some(r.system),
            outside: Size::new(table::length(&r.short), table::length(&r.long)),
            measured_inside: None,
            source: r.source,
        })
        .collect()
});

/// All envelopes of the table.
pub fn all() -> &'static [Envelope] {
    &TABLE
}

impl Envelope {
    /// An envelope of the person's own.
    pub fn own(size: Size) -> Self {
        Self {
            name: String::new(),
            system: None,
            outside: size.upright(),
            measured_inside: None,
            source: "given".to_owned(),
        }
    }

    /// What a card has room in.
    pub fn inside(&self) -> Size {
        self.measured_inside.map_or(self.outside, Size::upright)
    }

    /// The outside as it lies round a card of this face: short side to short side.
    pub fn outside_round(&self, face: Size) -> Size {
        lying_as(self.outside, face)
    }

    /// `A2 (4 3/8 x 5 3/4 in)`, or the size alone.
    pub fn show(&self, unit: Unit) -> String {
        let unit = match self.system {
            Some(System::Us) => Unit::Inch,
            Some(System::Iso) => Unit::Mm,
            None => unit,
        };
        let size = self.outside.about(unit);
        if self.name.is_empty() { size } else { format!("{} ({size})", self.name) }
    }
}

/// Turns a size so that its short side lies as the face's does.
fn lying_as(size: Size, face: Size) -> Size {
    if face.width > face.height { size.upright().turned() } else { size.upright() }
}

/// How a card lies in an envelope.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fit {
    /// The envelope's outside, lying as the card does.
    pub outside: Size,
    /// The room inside, lying as the card does.
    pub inside: Size,
    /// Inside width less face width; negative where the card is wider.
    pub clearance_width: Length,
    /// Inside height less face height.
    pub clearance_height: Length,
    /// What each direction needs beyond the face: finished thickness + ease.
    pub needed: Length,
    /// True where the needed room is there both ways.
    pub fits: bool,
}

impl Fit {
    /// The largest face that this envelope takes at the same thickness and ease, lying as the card does.
    pub fn largest_face(&self) -> Size {
        Size::new(self.inside.width - self.needed, self.inside.height - self.needed)
    }
}

/// Lays a card in an envelope.
pub fn fit(face: Size, thickness: Thickness, ease: Length, envelope: &Envelope) -> Fit {
    let inside = lying_as(envelope.inside(), face);
    let needed = thickness.length() + ease;
    let (w, h) = (inside.width - face.width, inside.height - face.height);
    Fit {
        outside: envelope.outside_round(face),
        inside,
        clearance_width: w,
        clearance_height: h,
        needed,
        fits: w >= needed && h >= needed,
    }
}

/// The smallest envelope of the table that takes a card, of `first`'s system where one does.
pub fn smallest(face: Size, thickness: Thickness, ease: Length, first: System) -> Option<&'static Envelope> {
    let takes = |e: &&Envelope| fit(face, thickness, ease, e).fits;
    let of = |system: Option<System>| {
        all()
            .iter()
            .filter(|e| system.is_none() || e.system == system)
            .filter(takes)
            .min_by_key(|e| e.outside.area())
    };
    of(Some(first)).or_else(|| of(None))
}

/// Reads an envelope: a name of the table (`A2`, `us-a2`, `C6`, `#10`, `square 6`) or `WxH`.
///
/// No envelope of ISO 269 is called A: a bare `A2` is the American one.
///
/// # Errors
/// A sentence with what would do.
pub fn find(text: &str, unit: Unit) -> Result<Envelope, CardError> {
    let (system, key) = table::split_system(text);
    let named = all()
        .iter()
        .find(|e| spellings(&e.name).contains(&key) && system.is_none_or(|s| e.system == Some(s)));
    if let Some(envelope) = named {
        return Ok(envelope.clone());
    }
    if let Ok(size) = Size::parse(text, unit) {
        return Ok(Envelope::own(size));
    }
    let given: String = text.trim().chars().take(40).collect();
    let names: Vec<&str> = all().iter().map(|e| e.name.as_str()).collect();
    Err(CardError::new(
        CardReason::UnknownWord,
        format!(
            "\"{given}\" is not an envelope listed here: {}write width x height such as 4-3/8x5-3/4, or one of {}",
            question(&given, names.iter().copied()),
            names.join(", ")
        ),
    ))
}

/// `square 5 1/2` is also found as `square 5.5`, `square5-1/2`.
fn spellings(name: &str) -> Vec<String> {
    let mut all = vec![table::key(name)];
    if let Some(side) = name.strip_prefix("square ") {
        let side = table::length(side).in_unit(Unit::Inch);
        all.push(format!("square{side}"));
    }
    all
}

/// Why a card does not go in, with what would: the largest face for this envelope, or the smallest one that takes it.
pub fn misfit(
    face: Size,
    thickness: Thickness,
    ease: Length,
    envelope: &Envelope,
    unit: Unit,
) -> Option<String> {
    let fit = fit(face, thickness, ease, envelope);
    if fit.fits {
        return None;
    }
    let largest = fit.largest_face();
    let mut parts = vec![format!(
        "a card of {} does not fit envelope {}: each way it needs {} {} more than the card front",
        face.show_with_unit(unit),
        envelope.show(unit),
        fit.needed.about(unit),
        unit.sign()
    )];
    if largest.short().is_positive() {
        parts.push(format!("the largest front for it is {}", largest.about(unit)));
    }
    let first = envelope.system.unwrap_or(System::Us);
    parts.push(match smallest(face, thickness, ease, first) {
        Some(other) => {
            format!("the smallest envelope that takes this card is {}", other.show(unit))
        }
        None => larger_than_all(face, thickness, ease, unit),
    });
    Some(parts.join("; "))
}

/// The sentence for a card that no known envelope takes, with the largest face that one does.
pub fn larger_than_all(face: Size, thickness: Thickness, ease: Length, unit: Unit) -> String {
    let largest = all().iter().max_by_key(|e| e.outside.area());
    let face_text = face.show_with_unit(unit);
    match largest {
        Some(e) => {
            let most = fit(face, thickness, ease, e).largest_face();
            format!(
                "a card of {face_text} is too large for every envelope listed here: the largest, {}, takes a front up to {}; for another, type its size",
                e.show(unit),
                most.about(unit)
            )
        }
        None => format!("no envelope listed here takes a card of {face_text}: type the size of one"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn size(text: &str) -> Size {
        Size::parse(text, Unit::Inch).unwrap()
    }

    #[test]
    fn the_table_is_read() {
        assert_eq!(all().len(), 26);
        assert!(all().iter().all(|e| e.outside.width.is_positive() && e.outside.width <= e.outside.height));
    }

    #[test]
    fn an_a2_card_in_an_a2_envelope() {
        let e = find("A2", Unit::Inch).unwrap();
        let f = fit(size("4-1/4x5-1/2"), Thickness::ZERO, EASE, &e);
        assert_eq!((f.clearance_width, f.clearance_height), (Length::sixteenths(2), Length::sixteenths(4)));
        assert!(f.fits);
        let turned = fit(size("5-1/2x4-1/4"), Thickness::ZERO, EASE, &e);
        assert_eq!(turned.clearance_width, Length::sixteenths(4));
        // 1/8 of clearance less 1/16 of ease leaves 1/16 for the thickness: exactly that fits, a hair more does not.
        let sixteenth = Thickness::from_length(Length::sixteenths(1));
        assert!(fit(size("4-1/4x5-1/2"), sixteenth, EASE, &e).fits);
        assert!(!fit(size("4-1/4x5-1/2"), sixteenth + Thickness::from_points(1), EASE, &e).fits);
    }

    #[test]
    fn names_and_sizes() {
        for (text, name) in [
            ("us-a7", "A7"),
            ("c6", "C6"),
            ("#10", "#10"),
            ("square 5.5", "square 5 1/2"),
            ("C6/C5", "C6/C5"),
            ("dl", "DL"),
        ] {
            assert_eq!(find(text, Unit::Inch).unwrap().name, name);
        }
        assert_eq!(find("4-3/8x5-3/4", Unit::Inch).unwrap().outside, find("A2", Unit::Inch).unwrap().outside);
        assert!(find("bag", Unit::Inch).unwrap_err().to_string().contains("C7/C6"));
        assert!(find("iso-a2", Unit::Inch).is_err());
    }

    #[test]
    fn the_smallest_that_takes_a_card() {
        let name = |t: &str, s| smallest(size(t), Thickness::ZERO, EASE, s).map(|e| e.name.clone());
        assert_eq!(name("4-1/4x5-1/2", System::Us).unwrap(), "A2");
        assert_eq!(name("105x148mm", System::Iso).unwrap(), "C6");
        assert_eq!(name("5-3/4x5-3/4", System::Us).unwrap(), "square 6");
        assert_eq!(name("20x20", System::Us), None);
        let said =
            misfit(size("5x7"), Thickness::ZERO, EASE, &find("A2", Unit::Inch).unwrap(), Unit::Inch).unwrap();
        assert!(
            said.contains("takes this card is A7")
                && said.contains("largest front for it is 4 5/16 x 5 11/16"),
            "{said}"
        );
        assert!(larger_than_all(size("20x20"), Thickness::ZERO, EASE, Unit::Inch).contains("C3"));
    }

    #[test]
    fn a_measured_inside_counts() {
        let mut e = find("A2", Unit::Inch).unwrap();
        e.measured_inside = Some(size("4-9/32x5-5/8"));
        assert!(!fit(size("4-1/4x5-1/2"), Thickness::ZERO, EASE, &e).fits);
    }
}
