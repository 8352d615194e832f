//! Marks of the ruler against 1 in = 25.4 mm exactly (international yard and pound agreement, 1959), as tabled.

use super::{decimal, inches, rows};
use trimside::domain::length::{Length, Rounding, Unit};
use trimside::domain::ruler::{Ruler, find, name, read_name};

#[test]
fn every_sixty_fourth() {
    let Some(rows) = rows("fractions_64.csv") else { return };
    assert_eq!(rows.len(), 64);
    for row in rows {
        let n: i64 = row.text("sixtyfourths").parse().unwrap();
        let length = Length::sixty_fourths(n);
        let fraction = row.text("fraction");
        assert_eq!(length.show(Unit::Inch), fraction);
        assert_eq!(decimal(length), inches(fraction));
        let mm: f64 = row.text("mm").parse().unwrap();
        assert!((length.in_unit(Unit::Mm) - mm).abs() < 5e-7, "{fraction}");
        let words = name(length, Ruler::SIXTY_FOURTHS);
        assert_eq!(read_name(&words, Ruler::SIXTY_FOURTHS), Ok(length), "{words}");
        // In lowest terms, so the denominator of the words is the table's.
        let denominator: i64 = row.text("denominator").parse().unwrap();
        let ends = [
            (1, "one"),
            (2, "hal"),
            (4, "quarter"),
            (8, "eighth"),
            (16, "sixteenth"),
            (32, "thirty-second"),
            (64, "sixty-fourth"),
        ];
        let word = ends.iter().find(|e| e.0 == denominator).unwrap().1;
        assert!(words.contains(word), "{fraction}: {words}");
        // On sixteenths it is a tick exactly where the denominator allows it.
        assert_eq!(find(length, Ruler::SIXTEENTHS).is_exact(), denominator <= 16, "{fraction}");
    }
}

#[test]
fn millimetres_on_an_inch_ruler() {
    let Some(rows) = rows("mm_to_inch.csv") else { return };
    for row in rows {
        let tenths: f64 = row.text("mm").parse::<f64>().unwrap() * 10.0;
        let length = Length::tenths_mm(tenths.round() as i64);
        let mark = find(length, Ruler::SIXTEENTHS);
        let at = |column: &str| inches(row.text(column));
        let mm = row.text("mm");
        assert_eq!(decimal(mark.nearest), at("nearest_16th"), "{mm}");
        assert_eq!(decimal(mark.below), at("down_16th(must_fit)"), "{mm}");
        assert_eq!(decimal(mark.above), at("up_16th(must_cover)"), "{mm}");
        assert_eq!(decimal(find(length, Ruler::THIRTY_SECONDS).nearest), at("nearest_32nd"), "{mm}");
        let rounded = length.round_to(Length::sixteenths(1), Rounding::Nearest);
        let error: f64 = row.text("error_mm").parse().unwrap();
        assert!((rounded.error.in_unit(Unit::Mm) - error).abs() <= 0.005_01, "{mm}");
    }
}

/// Worked by hand: on eighths 5 3/8 is the third tick past 5, on sixteenths the sixth, on thirty-seconds the twelfth.
#[test]
fn ticks_by_another_count() {
    for n in 0..(12 * 64) {
        let length = Length::sixty_fourths(n);
        for (ruler, parts) in [(Ruler::EIGHTHS, 8), (Ruler::SIXTEENTHS, 16), (Ruler::THIRTY_SECONDS, 32)] {
            let mark = find(length, ruler);
            assert_eq!(mark.whole, n / 64);
            assert_eq!(mark.ticks, (n % 64) * parts / 64, "{n}/64 on {parts}");
            assert_eq!(mark.is_exact(), (n * parts) % 64 == 0);
        }
    }
}
