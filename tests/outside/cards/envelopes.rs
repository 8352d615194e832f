//! Envelopes and formats against trade size charts and ISO 269, as tabled; ISO 216 by its halving rule.

use super::{decimal, len, rows};
use trimside::domain::cards::Tools;
use trimside::domain::cards::envelope::{EASE, all, find, fit};
use trimside::domain::cards::fold::{Fold, base};
use trimside::domain::cards::format::{self, iso_a, iso_b, iso_c};
use trimside::domain::length::{Length, Unit};
use trimside::domain::size::Size;
use trimside::domain::thickness::Thickness;

/// The card and envelope of a row: inches as tabled, or millimetres for the ISO rows.
pub fn of_row(row: &super::Row) -> (Size, Size) {
    if row.text("clearance_h").ends_with("mm") {
        let mm = |column: &str| Length::mm(row.text(column).parse().unwrap());
        (Size::new(mm("card_w_mm"), mm("card_h_mm")), Size::new(mm("env_h_mm"), mm("env_l_mm")))
    } else {
        let inch = |column: &str| len(row.number(column));
        (Size::new(inch("card_w_in"), inch("card_h_in")), Size::new(inch("env_h_in"), inch("env_l_in")))
    }
}

#[test]
fn clearances_of_the_card_table() {
    let Some(rows) = rows("cards_envelopes.csv") else { return };
    for row in rows {
        let (face, outside) = of_row(&row);
        let envelope = all().iter().find(|e| e.outside == outside).unwrap_or_else(|| panic!("{outside}"));
        let f = fit(face, Thickness::ZERO, EASE, envelope);
        let text = |l: Length, column: &str| {
            let wanted = row.text(column);
            match wanted.strip_suffix(" mm") {
                Some(mm) => assert_eq!(l, Length::mm(mm.parse().unwrap()), "{}", row.text("name")),
                None => assert_eq!(decimal(l), row.number(column), "{}", row.text("name")),
            }
        };
        text(f.clearance_width, "clearance_h");
        text(f.clearance_height, "clearance_l");
        assert!(f.fits, "{}", row.text("name"));
        let turned = fit(face.turned(), Thickness::ZERO, EASE, envelope);
        assert_eq!(
            (turned.clearance_height, turned.clearance_width),
            (f.clearance_width, f.clearance_height)
        );
    }
}

#[test]
fn iso_envelopes_of_the_table() {
    let Some(rows) = rows("iso_envelopes.csv") else { return };
    for row in rows {
        let e = find(row.text("name"), Unit::Mm).unwrap();
        let mm = |column: &str| Length::mm(row.text(column).parse().unwrap());
        assert_eq!(e.outside, Size::new(mm("height_mm"), mm("length_mm")), "{}", row.text("name"));
    }
}

/// ISO 216:2007 and ISO 269 by halving, against the sizes they print.
#[test]
fn the_halving_rule() {
    let Some(rows) = rows("sheets.csv") else { return };
    let mut seen = 0;
    for row in rows {
        let name = row.text("name");
        let (letter, number) = name.split_at(1);
        let Ok(n) = number.parse::<u32>() else { continue };
        let by_rule = match letter {
            "A" => iso_a(n),
            "B" => iso_b(n),
            "C" => iso_c(n),
            _ => continue,
        };
        let mm = |column: &str| Length::mm(row.text(column).parse().unwrap());
        assert_eq!(by_rule, Some(Size::new(mm("width_mm"), mm("height_mm"))), "{name}");
        seen += 1;
    }
    assert_eq!(seen, 16);
}

/// Rules that each format must keep: base twice the face, card smaller than its envelope both ways, with ease.
#[test]
fn formats_keep_the_rules() {
    for format in format::all() {
        let b = base(format.face, &Fold::default(), &Tools::INCH).unwrap();
        assert_eq!(b.size.area(), 2 * format.face.area(), "{}", format.name);
        assert_eq!(b.scores[0].at + b.scores[0].at, b.size.width);
        let Some(name) = &format.envelope else { continue };
        let envelope = find(name, Unit::Inch).unwrap();
        assert!(fit(format.face, Thickness::ZERO, EASE, &envelope).fits, "{}", format.name);
        assert!(!fit(envelope.outside, Thickness::ZERO, EASE, &envelope).fits);
    }
    // The figures that charts print and that cannot be: A8 folded at 5, a 4 3/4 card in the A6 envelope.
    let a8 = format::find("us-a8", Unit::Inch).unwrap().face;
    assert_eq!(base(a8, &Fold::default(), &Tools::INCH).unwrap().scores[0].at, len(5.25));
    let a6 = find("A6", Unit::Inch).unwrap();
    assert!(!fit(Size::new(len(4.75), len(6.25)), Thickness::ZERO, EASE, &a6).fits);
}
