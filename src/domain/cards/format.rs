//! Card formats by name, with the system they belong to. Knows sizes and names, not folds.
//!
//! The American announcement sizes are a table; the international sizes follow from the rule of ISO 216: A0 is
//! 841 x 1189 mm, and each next size is the last one's long side halved, dropping the half millimetre. Since A1 to A10
//! exist in both systems as quite different papers, a bare one of those names is refused with both readings.

use super::error::{CardError, CardReason};
use super::table::{self, System};
use crate::domain::length::{Length, Unit};
use crate::domain::sheet::Formats;
use crate::domain::size::Size;
use std::sync::LazyLock;

/// A card format: the closed card, held upright.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CardFormat {
    /// `US A2`, `ISO A6`, `slim`, `DL card`; empty for a size of the person's own.
    pub name: String,
    /// Whose size it is; `None` for the person's own.
    pub system: Option<System>,
    /// The closed card.
    pub face: Size,
    /// The envelope that goes with it.
    pub envelope: Option<String>,
    /// Where the size comes from.
    pub source: String,
}

#[derive(serde::Deserialize)]
struct Row {
    name: String,
    also: Vec<String>,
    width: String,
    height: String,
    envelope: String,
    source: String,
}

static TABLE: LazyLock<Vec<Row>> = LazyLock::new(|| table::rows(include_str!("../../../assets/cards.ron")));

/// The sides of ISO A or B number `n`, short by long, by halving.
fn halved(zero: (i64, i64), n: u32) -> Size {
    let (short, long) = (0..n).fold(zero, |(short, long), _| (long / 2, short));
    Size::new(Length::mm(short), Length::mm(long))
}

/// ISO 216 series A: number 0 to 10.
pub fn iso_a(n: u32) -> Option<Size> {
    (n <= 10).then(|| halved((841, 1189), n))
}

/// ISO 216 series B: number 0 to 10.
pub fn iso_b(n: u32) -> Option<Size> {
    (n <= 10).then(|| halved((1000, 1414), n))
}

/// ISO 269 series C: number 0 to 10.
pub fn iso_c(n: u32) -> Option<Size> {
    (n <= 10).then(|| halved((917, 1297), n))
}

fn of_row(row: &Row) -> CardFormat {
    CardFormat {
        name: if row.name.starts_with('A') { format!("US {}", row.name) } else { row.name.clone() },
        system: Some(System::Us),
        face: Size::new(table::length(&row.width), table::length(&row.height)),
        envelope: Some(row.envelope.clone()),
        source: row.source.clone(),
    }
}

fn iso(key: &str) -> Option<CardFormat> {
    if key == "dl" || key == "dlcard" {
        return Some(CardFormat {
            name: "DL card".to_owned(),
            system: Some(System::Iso),
            face: Size::new(Length::mm(99), Length::mm(210)),
            envelope: Some("DL".to_owned()),
            source: "a third of A4 (297 / 3), ISO 216:2007".to_owned(),
        });
    }
    let n: u32 = key.strip_prefix('a')?.parse().ok().filter(|_| !key.starts_with("a0") || key == "a0")?;
    Some(CardFormat {
        name: format!("ISO A{n}"),
        system: Some(System::Iso),
        face: iso_a(n)?,
        envelope: iso_c(n).filter(|_| (3..=7).contains(&n)).map(|_| format!("C{n}")),
        source: "ISO 216:2007".to_owned(),
    })
}

fn american(key: &str) -> Option<CardFormat> {
    let is = |row: &&Row| table::key(&row.name) == key || row.also.iter().any(|a| table::key(a) == key);
    TABLE.iter().find(is).map(of_row)
}

/// The formats to choose from: the American table, then ISO A4 to A7 and the third of A4.
pub fn all() -> Vec<CardFormat> {
    let iso_names = ["a4", "a5", "a6", "a7", "dl"];
    TABLE.iter().map(of_row).chain(iso_names.iter().filter_map(|n| iso(n))).collect()
}

/// Reads a card: `WxH`, a format name with or without its system, `square 5 1/4`, or a sheet format held upright.
///
/// # Errors
/// A bare name that both systems have, with both readings; anything unread, with what would do.
pub fn find(text: &str, unit: Unit) -> Result<CardFormat, CardError> {
    let given: String = text.trim().chars().take(60).collect();
    let (system, key) = table::split_system(text);
    let found = match system {
        Some(System::Us) => american(&key),
        Some(System::Iso) => iso(&key),
        None => match (american(&key), iso(&key)) {
            (Some(us), Some(iso)) => return Err(two_systems(&given, &us, &iso)),
            (us, iso) => us.or(iso),
        },
    };
    if let Some(format) = found {
        return Ok(format);
    }
    if let Some(side) = text.trim().to_lowercase().strip_prefix("square") {
        let side = side.trim_start_matches(['-', '_', ' ']);
        let side =
            Length::parse(side, unit).map_err(|e| CardError::new(CardReason::UnknownWord, e.to_string()))?;
        return Ok(own(format!("square {}", side.show(unit)), Size::new(side, side)));
    }
    match Size::parse(text, unit) {
        Ok(face) => Ok(own(String::new(), face)),
        Err(why) if text.contains(|c: char| c.is_ascii_digit()) && text.to_lowercase().contains('x') => {
            Err(CardError::new(CardReason::UnknownWord, why.to_string()))
        }
        // A size wins over a sheet's name, so that 6x6 is in the unit in force.
        Err(_) => Formats::built_in()
            .find(text)
            .map(|sheet| own(sheet.name.clone(), sheet.size.upright()))
            .ok_or_else(|| unknown(&given)),
    }
}

fn own(name: String, face: Size) -> CardFormat {
    CardFormat { name, system: None, face, envelope: None, source: "given".to_owned() }
}

fn two_systems(given: &str, us: &CardFormat, iso: &CardFormat) -> CardError {
    let spelt = |f: &CardFormat| f.name.to_lowercase().replace(' ', "-");
    let text = format!(
        "\"{given}\" is a size in two systems: write {} ({}) or {} ({})",
        spelt(us),
        us.face.show_with_unit(Unit::Inch),
        spelt(iso),
        iso.face.show_with_unit(Unit::Mm),
    );
    CardError::new(CardReason::TwoSystems, text)
}

fn unknown(given: &str) -> CardError {
    let text = format!(
        "\"{given}\" is not a card size listed here: write width x height such as 4-1/4x5-1/2 or 105x148mm, or a name such as us-a2, iso-a6, slim, dl or \"square 5 1/4\""
    );
    CardError::new(CardReason::UnknownWord, text)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(text: &str) -> CardFormat {
        find(text, Unit::Inch).unwrap_or_else(|e| panic!("{text}: {e}"))
    }

    #[test]
    fn the_table_is_read_and_upright() {
        assert_eq!(TABLE.len(), 9);
        let shown = |name| found(name).face.show(Unit::Inch);
        // The card of the business envelope and the crafter's slimline are two.
        assert_eq!(
            (shown("slim"), shown("slimline")),
            ("3 7/8 x 9 1/4".to_owned(), "3 1/2 x 8 1/2".to_owned())
        );
        assert!(all().iter().all(|f| f.face.width.is_positive() && f.face.width < f.face.height));
    }

    #[test]
    fn names_of_both_systems_are_refused_with_both() {
        for n in [1, 2, 6, 7, 8, 9, 10] {
            let e = find(&format!("A{n}"), Unit::Inch).unwrap_err();
            assert_eq!(e.reason, CardReason::TwoSystems);
            let text = e.to_string();
            assert!(text.contains(&format!("us-a{n}")) && text.contains(&format!("iso-a{n}")), "{text}");
        }
        assert_eq!(found("us-a2").face.show(Unit::Inch), "4 1/4 x 5 1/2");
        assert_eq!(found("A6 (ISO)").face.show(Unit::Mm), "105 x 148");
        assert_eq!(found("a5").name, "ISO A5", "only one system has it");
        assert_eq!(found("4-bar").name, "US A1");
    }

    #[test]
    fn own_sizes_and_squares() {
        assert_eq!(found("4-1/4x5-1/2").face, found("us a2").face);
        assert_eq!(found("square 5 1/4").face.show(Unit::Inch), "5 1/4 x 5 1/4");
        assert_eq!(find("6x6", Unit::Mm).unwrap().face, Size::new(Length::mm(6), Length::mm(6)));
        assert_eq!(found("letter").face.show(Unit::Inch), "8 1/2 x 11", "a whole sheet can be a card");
        assert_eq!(found("DL").face.show(Unit::Mm), "99 x 210");
        assert!(find("0x5", Unit::Inch).unwrap_err().to_string().contains("above zero"));
        assert!(find("postage", Unit::Inch).unwrap_err().to_string().contains("us-a2"));
        assert!(find("a11", Unit::Inch).is_err());
        assert!(find("a02", Unit::Inch).is_err());
    }
}
