//! What a paper weighs and how thick it is: pounds with their grade to grams, thickness measured or guessed.
//!
//! Pounds are of 500 sheets of the grade's *basic size* (TAPPI T 410), so the same number means different papers:
//! 110 lb index is about 199 gsm, 110 lb cover about 297. Grammage is grams a square metre (ISO 536):
//! gsm = lb x 1406.139 / basic area in square inches, from 453.59237 g a pound and 0.00064516 m² a square inch.

use super::error::{CardError, CardReason};
use super::table;
use crate::domain::length::{Length, Unit};
use crate::domain::size::Size;
use crate::domain::thickness::Thickness;
use crate::domain::weight::Grammage;
use std::sync::LazyLock;

/// A grade and the size its pounds are weighed at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Grade {
    /// The trade's word: bond, text, cover, index, bristol, tag.
    pub name: String,
    /// Other words for it.
    pub also: Vec<String>,
    /// The basic size.
    pub basic: Size,
}

#[derive(serde::Deserialize, Default)]
struct Table {
    grades: Vec<GradeRow>,
    guide: Vec<GuideRow>,
    raises: Vec<RaiseRow>,
}

#[derive(serde::Deserialize)]
struct GradeRow {
    name: String,
    also: Vec<String>,
    width: String,
    height: String,
    #[serde(rename = "source")]
    _source: String,
}

#[derive(serde::Deserialize)]
struct GuideRow {
    gsm: i64,
    points: String,
}

#[derive(serde::Deserialize)]
struct RaiseRow {
    name: String,
    thickness: String,
    #[serde(rename = "source")]
    _source: String,
}

static TABLE: LazyLock<Table> =
    LazyLock::new(|| ron::from_str(include_str!("../../../assets/papers.ron")).unwrap_or_default());

static GRADES: LazyLock<Vec<Grade>> = LazyLock::new(|| {
    let grade = |r: &GradeRow| Grade {
        name: r.name.clone(),
        also: r.also.clone(),
        basic: Size::new(table::length(&r.width), table::length(&r.height)),
    };
    TABLE.grades.iter().map(grade).collect()
});

/// The grades.
pub fn grades() -> &'static [Grade] {
    &GRADES
}

/// Foams and tapes of usual thickness, by name, with nothing (glue) first.
pub fn raises() -> Vec<(&'static str, Thickness)> {
    let row = |r: &'static RaiseRow| {
        (r.name.as_str(), Thickness::parse(&r.thickness, Unit::Inch).unwrap_or(Thickness::ZERO))
    };
    TABLE.raises.iter().map(row).collect()
}

/// Reads what lifts a layer: a name such as `foam 1/16`, or a thickness.
///
/// # Errors
/// A sentence with the names.
pub fn raise(text: &str, unit: Unit) -> Result<Thickness, CardError> {
    let key = table::key(text);
    if let Some((_, t)) = raises().into_iter().find(|(name, _)| table::key(name) == key) {
        return Ok(t);
    }
    Thickness::parse(text, unit).map_err(|_| {
        let names: Vec<&str> = raises().iter().map(|r| r.0).collect();
        CardError::unknown_word(text, "foam or tape (or a thickness such as 1/16 or 2 mm)", &names)
    })
}

impl Grade {
    /// Grammage of a number of hundredths of a pound in this grade.
    pub fn grammage(&self, hundredths_of_a_pound: i64) -> Grammage {
        // mg = lb x 1,406,139 / square inches; the basic area in square inches is units / 8128^2.
        let per_inch2 = i128::from(Length::PER_INCH) * i128::from(Length::PER_INCH);
        let num = i128::from(hundredths_of_a_pound) * 1_406_139 * per_inch2;
        let den = 100 * self.basic.area().max(1);
        Grammage::from_mg_per_m2(i64::try_from((2 * num + den) / (2 * den)).unwrap_or(i64::MAX))
    }

    fn is_called(&self, word: &str) -> bool {
        let key = table::key(word);
        table::key(&self.name) == key || self.also.iter().any(|a| table::key(a) == key)
    }
}

/// Reads a paper weight: `216 gsm`, `216 g/m2`, `80 lb cover`, `110# index`.
///
/// # Errors
/// Pounds without a grade are refused with what they would be in two grades; anything unread, with what would do.
pub fn grammage(text: &str) -> Result<Grammage, CardError> {
    let tidy = text.trim().to_lowercase();
    let given: String = text.trim().chars().take(40).collect();
    let number: String = tidy.chars().take_while(|c| c.is_ascii_digit() || *c == '.').collect();
    let rest = tidy.strip_prefix(number.as_str()).unwrap_or("").trim();
    if ["gsm", "g/m2", "g/m²", "g"].contains(&rest) {
        let milligrams = decimal(&number, 3).filter(|n| (1..=2_000_000).contains(n));
        return milligrams.map(Grammage::from_mg_per_m2).ok_or_else(|| not_a_weight(&given));
    }
    let hundredths = decimal(&number, 2).filter(|n| (1..=200_000).contains(n));
    let (Some(n), false) = (hundredths, rest.is_empty()) else { return Err(not_a_weight(&given)) };
    let pounds = ["lbs", "lb", "#", "pounds", "pound"].iter().find_map(|p| rest.strip_prefix(p));
    match pounds.map(str::trim) {
        Some("") => Err(pounds_without_grade(&given, n)),
        Some(word) => grades().iter().find(|g| g.is_called(word)).map(|g| g.grammage(n)).ok_or_else(|| {
            let names: Vec<&str> = grades().iter().map(|g| g.name.as_str()).collect();
            CardError::unknown_word(word, "grade of paper", &names)
        }),
        None => Err(not_a_weight(&given)),
    }
}

/// A plain decimal of at most `places` places, as a whole number of its last place.
fn decimal(number: &str, places: usize) -> Option<i64> {
    let (whole, tail) = number.split_once('.').unwrap_or((number, ""));
    if whole.is_empty() || whole.len() > 6 || tail.len() > places || !tail.chars().all(|c| c.is_ascii_digit())
    {
        return None;
    }
    format!("{whole}{tail:0<places$}").parse().ok()
}

fn not_a_weight(given: &str) -> CardError {
    CardError::new(
        CardReason::UnknownWord,
        format!(
            "\"{given}\" is not a paper weight: write 216 gsm, or pounds with their grade such as 80 lb cover"
        ),
    )
}

fn pounds_without_grade(given: &str, n: i64) -> CardError {
    let in_grade = |name: &str| {
        let g = grades().iter().find(|g| g.name == name).map(|g| g.grammage(n).gsm()).unwrap_or_default();
        format!("{g:.0} gsm")
    };
    let text = format!(
        "\"{given}\" has no grade: {} as text and {} as cover; write the grade, such as {given} cover",
        in_grade("text"),
        in_grade("cover")
    );
    CardError::new(CardReason::UnknownWord, text)
}

/// A paper as the bench knows it: any of it may be unknown.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Paper {
    /// Its name.
    pub name: String,
    /// Grams a square metre.
    pub grammage: Option<Grammage>,
    /// Thickness, measured.
    pub caliper: Option<Thickness>,
}

/// A thickness and how it is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct KnownCaliper {
    /// The value to reckon with.
    pub value: Thickness,
    /// The thinnest that it may be: the value, where it is measured.
    pub least: Thickness,
    /// The thickest.
    pub most: Thickness,
    /// False for a guess from the weight.
    pub measured: bool,
}

impl Paper {
    /// The thickness: measured, else guessed from the weight, else unknown.
    pub fn caliper(&self) -> Option<KnownCaliper> {
        match (self.caliper, self.grammage) {
            (Some(value), _) => Some(KnownCaliper { value, least: value, most: value, measured: true }),
            (None, Some(g)) => Some(KnownCaliper::guessed(g)),
            (None, None) => None,
        }
    }
}

impl KnownCaliper {
    /// Guessed from the weight, from the thinnest paper of this weight to the thickest: 7/10 to 14/10 of the chart.
    ///
    /// Coated 80 lb cover was met at 6.5 to 8 points where the chart has 9.5 (one supplier's list), uncoated craft card at 9 to 10
    /// points for 8, 11 to 12 for 9.5 and 14 to 15 for 11 (from memory).
    fn guessed(grammage: Grammage) -> Self {
        let value = guess(grammage);
        let tenths = |n: i64| Thickness::from_units(value.units() * n / 10);
        Self { value, least: tenths(7), most: tenths(14), measured: false }
    }
}

/// The thickness that merchants' charts give for a weight, straight between their rows. Charts differ by a quarter
/// and uncoated craft card runs thicker: measure where it matters.
pub fn guess(grammage: Grammage) -> Thickness {
    let points: Vec<(i128, i128)> = TABLE
        .guide
        .iter()
        .filter_map(|r| {
            let t = Thickness::parse(&format!("{} pt", r.points), Unit::Inch).ok()?;
            Some((i128::from(r.gsm) * 1000, i128::from(t.units())))
        })
        .collect();
    let g = i128::from(grammage.mg_per_m2());
    let after = points.iter().position(|p| p.0 >= g).unwrap_or(points.len().saturating_sub(1));
    let (low, high) = match (after.checked_sub(1).and_then(|i| points.get(i)), points.get(after)) {
        (Some(low), Some(high)) => (*low, *high),
        (None, Some(first)) => ((0, 0), *first),
        _ => return Thickness::ZERO,
    };
    let units = low.1 + (high.1 - low.1) * (g - low.0) / (high.0 - low.0).max(1);
    Thickness::from_units(i64::try_from(units).unwrap_or(0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_read() {
        assert_eq!((grades().len(), TABLE.guide.len(), raises().len()), (6, 14, 7));
        assert_eq!(raise("foam 1/16", Unit::Inch).unwrap(), Thickness::from_units(158_750));
        assert_eq!(raise("2 mm", Unit::Inch).unwrap(), Thickness::from_micrometres(2000));
        assert!(raise("magic", Unit::Inch).unwrap_err().to_string().contains("foam 1/8"));
    }

    /// Known of the trade: 110 lb index is about 199 gsm, 110 lb cover about 297 gsm.
    #[test]
    fn pounds_need_their_grade() {
        assert_eq!(grammage("110 lb index").unwrap().gsm().round(), 199.0);
        assert_eq!(grammage("110# cover").unwrap().gsm().round(), 297.0);
        assert_eq!(grammage("216 gsm").unwrap(), Grammage::from_gsm(216));
        assert_eq!(grammage("65 lb card stock").unwrap(), grammage("65 lb cover").unwrap());
        let e = grammage("110 lb").unwrap_err().to_string();
        assert!(e.contains("163 gsm as text and 297 gsm as cover"), "{e}");
        for bad in ["", "heavy", "80", "80 lb vellum", "0 gsm", "-5 gsm", "99999999 gsm"] {
            assert!(grammage(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn a_measured_thickness_wins_over_a_guess() {
        let mut paper = Paper { name: "fern".into(), grammage: Some(Grammage::from_gsm(216)), caliper: None };
        let points = Thickness::from_tenths_of_a_mil;
        assert_eq!(
            paper.caliper(),
            // 0.7 and 1.4 of 0.0095 in.
            Some(KnownCaliper {
                value: points(95),
                least: Thickness::from_units(16_891),
                most: points(133),
                measured: false
            })
        );
        paper.caliper = Some(points(120));
        let twelve =
            KnownCaliper { value: points(120), least: points(120), most: points(120), measured: true };
        assert_eq!(paper.caliper(), Some(twelve));
        assert_eq!(Paper::default().caliper(), None);
    }

    #[test]
    fn guesses_grow_with_the_weight() {
        let mut last = Thickness::ZERO;
        for gsm in (10..=600).step_by(7) {
            let t = guess(Grammage::from_gsm(gsm));
            assert!(t > last, "{gsm}");
            last = t;
        }
    }
}
