//! Lengths at their borders: what is read and refused, and how a ruler is read in words.

use trimside::domain::length::{Length, Rounding, Unit, shown_mm};
use trimside::domain::ruler::{AskFor, Ruler, RulerQuestion, find, name, read_name, ticks_in_words};
use trimside::domain::size::{Grain, Size};

fn inch(text: &str) -> Length {
    Length::parse(text, Unit::Inch).unwrap()
}

fn refused(text: &str, unit: Unit) -> String {
    Length::parse(text, unit).unwrap_err().to_string()
}

/// 100 in is 812,800 units, the longest; a unit more is too long. 1/16256 in is half a unit and goes up to one; less is zero.
#[test]
fn the_longest_and_the_least_length() {
    assert_eq!(inch("100").units(), 812_800);
    assert_eq!(Length::parse("2540", Unit::Mm).unwrap(), Length::MAX);
    assert!(refused("100.0001", Unit::Inch).contains("longer than 100 in"));
    assert!(refused("2540.01", Unit::Mm).contains("longer than 100 in"));
    assert_eq!(inch("1/16256").units(), 1);
    for text in ["1/16257", "0", "0.0", "0/7", "-0", "0 0/3"] {
        assert!(refused(text, Unit::Inch).contains("is zero"), "{text}");
    }
    assert!(refused("-1/8", Unit::Inch).contains("is negative"));
}

/// Fifteen digits are read, sixteen are more than a length can hold.
#[test]
fn digits_at_their_border() {
    assert!(refused("999999999999999", Unit::Inch).contains("longer than 100 in"));
    assert!(refused("1000000000000000", Unit::Inch).contains("more digits"));
    assert_eq!(inch("5.250000000000000"), inch("5 1/4"));
    assert!(refused("5.2500000000000000", Unit::Inch).contains("more digits"));
}

/// What was typed goes to the nearest unit, less than one off either way, and the error says so: none in whole units.
#[test]
fn a_length_goes_to_the_nearest_unit() {
    // 8128 / 3 = 2709.33, 8128 x 2 / 3 = 5418.67, 8128 / 7 = 1161.14, 8128 x 3 / 7 = 3483.43, 8128 x 4 / 7 = 4644.57.
    for (text, units) in [("1/3", 2709), ("2/3", 5419), ("1/7", 1161), ("3/7", 3483), ("4/7", 4645)] {
        let read = Length::parse_noting_error(text, Unit::Inch).unwrap();
        assert_eq!((read.value.units(), read.error), (units, Length::ZERO), "{text}");
    }
    assert_eq!(Length::parse_number("5 1/4").unwrap(), (21, 4));
    assert_eq!(Length::parse_number("0").unwrap(), (0, 1));
}

/// A second unit mixes, letters alone are no length, a comma is answered where it could be a decimal sign.
#[test]
fn refusals_say_what_is_wrong() {
    for text in ["5 in 3", "5 mm 3", "5 cm 3", "5\" 3"] {
        assert!(refused(text, Unit::Inch).contains("mixes units"), "{text}");
    }
    for text in ["in 3", "5 q 3", "q", "5 %", "5,", ",5", "3,5,6", "5 6 7/8", "5 6"] {
        assert!(refused(text, Unit::Inch).contains("is not a length"), "{text}");
    }
    assert!(refused("5 ft", Unit::Inch).contains("has the unit \"ft\""));
    assert!(refused("3,5", Unit::Inch).contains("write 3.5"));
    assert!(refused("4/0", Unit::Inch).contains("divides by zero"));
    assert_eq!(inch("5 in."), inch("5"));
    // 5/16 in is 7.9375 mm; read as millimetres it is 0.3125, shown to a thousandth.
    let both = refused("5/16", Unit::Mm);
    assert!(both.contains("write 5/16 in (7.94 mm), or 0.313 mm"), "{both}");
    assert_eq!(Length::parse("5/16 mm", Unit::Inch).unwrap().units(), 100);
    let long = "9x".repeat(40);
    assert!(
        refused(&long, Unit::Inch).contains(&format!("\"{}\"", "9x".repeat(30))),
        "60 characters are told"
    );
}

/// 127 units are 1/64 in, 32 are a tenth of a millimetre; 3.125 micrometres each.
#[test]
fn units_and_their_parts() {
    assert_eq!((Length::sixty_fourths(3).units(), Length::tenths_mm(3).units()), (381, 96));
    assert_eq!(
        (Length::sixteenths(1).units(), Length::mm(1).units(), Length::inches(2).units()),
        (508, 320, 16_256)
    );
    assert_eq!((inch("1").micrometres(), Length::from_units(1).micrometres()), (25_400, 3));
    // 5 / 3.125 = 1.6 and 4 / 3.125 = 1.28.
    assert_eq!([5, 4, 0].map(|um| Length::from_micrometres(um).units()), [2, 1, 0]);
    assert_eq!(
        (inch("1").times(inch("1/3")), inch("1").times(inch("0.34")), inch("1").times(Length::ZERO)),
        (3, 2, 0)
    );
    assert_eq!((-inch("1")).times(inch("1/4")), 0);
    assert_eq!((Length::from_units(7).half().units(), Length::from_units(-7).half().units()), (3, -4));
    assert_eq!(
        ((-inch("2")).abs(), Length::ZERO.is_positive(), Length::from_units(1).is_positive()),
        (inch("2"), false, true)
    );
    assert_eq!(inch("3").checked_mul(4), Some(inch("12")));
    assert_eq!(
        (inch("3").checked_add(inch("1")), inch("3").checked_sub(inch("1"))),
        (Some(inch("4")), Some(inch("2")))
    );
    let most = Length::from_units(i64::MAX);
    assert_eq!(
        (most.checked_add(inch("1")), (-most).checked_sub(inch("1")), most.checked_mul(2)),
        (None, None, None)
    );
    let mut sum = inch("1");
    sum += inch("2");
    sum -= inch("1/2");
    assert_eq!((sum, [inch("1"), inch("1 1/2")].into_iter().sum::<Length>()), (inch("2 1/2"), sum));
    assert!(
        (inch("1").in_unit(Unit::Mm) - 25.4).abs() < 1e-12
            && (inch("5 1/4").in_unit(Unit::Inch) - 5.25).abs() < 1e-12
    );
}

/// A length between two marks goes to the nearer one, half way to the lower.
#[test]
fn marks_and_what_lies_between_them() {
    let round = |units, how| Length::from_units(units).round_to(Length::from_units(10), how).value.units();
    assert_eq!([14, 15, 16, 20].map(|n| round(n, Rounding::Nearest)), [10, 10, 20, 20]);
    assert_eq!([11, 20].map(|n| (round(n, Rounding::Down), round(n, Rounding::Up))), [(10, 20), (20, 20)]);
    assert_eq!([-14, -15, -16].map(|n| round(n, Rounding::Nearest)), [-10, -20, -20]);
    assert!(
        inch("5 1/8").is_on(inch("1/8"))
            && !inch("5 1/16").is_on(inch("1/8"))
            && !inch("5").is_on(Length::ZERO)
    );
    let off = Length::from_units(14).round_to(Length::ZERO, Rounding::Down);
    assert_eq!((off.value.units(), off.error), (14, Length::ZERO), "without a mark nothing is rounded");
}

#[test]
fn lengths_are_shown_in_one_way() {
    assert_eq!(inch("0.01").about(Unit::Inch), "~1/64");
    assert_eq!(
        (inch("3/64").about(Unit::Inch), inch("3/64").show(Unit::Mm)),
        ("3/64".to_owned(), "1.19".to_owned())
    );
    assert_eq!((-inch("1 1/2")).show(Unit::Inch), "-1 1/2");
    assert_eq!(
        ((-inch("1/16")).exact(Unit::Mm), (-inch("1/16")).show(Unit::Mm)),
        ("-1.5875".to_owned(), "-1.59".to_owned())
    );
    assert_eq!(
        [shown_mm(1, 320), shown_mm(-1, 320), shown_mm(2, 320), shown_mm(-2, 320)],
        ["0", "0", "0.01", "-0.01"]
    );
    assert_eq!(inch("5 1/4").show_with_unit(Unit::Mm), "133.35 mm");
    assert_eq!(Length::from_units(1).exact(Unit::Inch), "0.00012");
    assert_eq!(format!("{:>8}", inch("2 1/2")), "2 1/2 in");
}

/// Width by height; the longer side, the area and which way it fits.
#[test]
fn sizes_and_their_sides() {
    let size = |text: &str| Size::parse(text, Unit::Inch).unwrap();
    let wide = size("5x3");
    assert_eq!(
        (wide.long(), wide.short(), wide.turned(), wide.upright()),
        (inch("5"), inch("3"), size("3x5"), size("3x5"))
    );
    assert_eq!((wide.area(), size("3x3").is_square(), wide.is_square()), (15 * 8128 * 8128, true, false));
    assert!((wide.square_inches() - 15.0).abs() < 1e-12);
    assert!(
        wide.fits_in(wide)
            && !wide.fits_in(size("3x5"))
            && !wide.fits_in(size("5x2.9"))
            && !wide.fits_in(size("4.9x3"))
    );
    assert!(wide.fits_in_either_way(size("3x5"), true) && !wide.fits_in_either_way(size("3x5"), false));
    assert!(!size("6x1").fits_in_either_way(size("5x5"), true));
    // A unit behind both sides counts for both; behind the first alone for that one.
    assert_eq!(
        (size("10x20mm"), size("10mm x 2")),
        (Size::parse("10x20", Unit::Mm).unwrap(), Size::new(Length::mm(10), inch("2")))
    );
    assert_eq!(size("4¼ x 5½ cm"), Size::parse("42.5 x 55", Unit::Mm).unwrap());
    for text in ["x3", "2x", "2x ", " x2", "2", "1x2x3"] {
        assert!(Size::parse(text, Unit::Inch).unwrap_err().to_string().contains("is not a size"), "{text}");
    }
}

/// Long of a square runs down its height; a part lies on its sheet as it is drawn.
#[test]
fn the_grain_of_a_part() {
    let size = |w: i64, h: i64| Size::new(Length::inches(w), Length::inches(h));
    let part = |grain: Grain, whole, part| Grain::of_part(grain, whole, part);
    assert_eq!(part(Grain::Long, size(6, 6), size(2, 3)), Grain::Long);
    assert_eq!(part(Grain::Long, size(6, 6), size(3, 2)), Grain::Short);
    assert_eq!(part(Grain::Short, size(6, 6), size(2, 3)), Grain::Short);
    assert_eq!(part(Grain::Short, size(8, 6), size(2, 3)), Grain::Long);
    assert_eq!(part(Grain::Long, size(8, 6), size(3, 3)), Grain::Short);
    assert_eq!(
        ["", " LONG ", "short", "along"].map(Grain::from_word),
        [Some(Grain::Unknown), Some(Grain::Long), Some(Grain::Short), None]
    );
}

#[test]
fn marks_in_words() {
    for (length, ruler, said) in [
        (Length::ZERO, Ruler::EIGHTHS, "zero"),
        (inch("12"), Ruler::EIGHTHS, "twelve"),
        (inch("20 1/4"), Ruler::EIGHTHS, "twenty and one quarter"),
        (inch("21 7/8"), Ruler::EIGHTHS, "twenty-one and seven eighths"),
        (inch("99 1/8"), Ruler::EIGHTHS, "ninety-nine and one eighth"),
        (inch("1/16"), Ruler::SIXTEENTHS, "one sixteenth"),
        (inch("1/32"), Ruler::THIRTY_SECONDS, "one thirty-second"),
        (inch("31/32"), Ruler::THIRTY_SECONDS, "thirty-one thirty-seconds"),
        (inch("1/64"), Ruler::SIXTY_FOURTHS, "one sixty-fourth"),
        (inch("3/64"), Ruler::SIXTY_FOURTHS, "three sixty-fourths"),
        (Length::mm(100), Ruler::MILLIMETRES, "one hundred"),
        (Length::mm(999), Ruler::MILLIMETRES, "nine hundred ninety-nine"),
        (Length::mm(1000), Ruler::MILLIMETRES, "one thousand"),
        (Length::mm(2540), Ruler::MILLIMETRES, "two thousand five hundred forty"),
        (Length::mm(9999), Ruler::MILLIMETRES, "nine thousand nine hundred ninety-nine"),
        (Length::mm(10_000), Ruler::MILLIMETRES, "10000"),
        (Length::tenths_mm(5), Ruler::HALF_MILLIMETRES, "one half"),
        (inch("1/16"), Ruler::EIGHTHS, "between zero and one eighth"),
    ] {
        assert_eq!(name(length, ruler), said);
    }
    assert_eq!(
        Ruler::ALL.map(Ruler::name),
        [
            "eighths of an inch",
            "sixteenths of an inch",
            "thirty-seconds of an inch",
            "sixty-fourths of an inch",
            "millimeters",
            "half millimeters",
        ]
    );
}

#[test]
fn ticks_are_counted_as_people_count() {
    for (ticks, said) in [
        (1, "1st"),
        (2, "2nd"),
        (3, "3rd"),
        (4, "4th"),
        (11, "11th"),
        (12, "12th"),
        (13, "13th"),
        (21, "21st"),
        (22, "22nd"),
        (43, "43rd"),
        (60, "60th"),
    ] {
        let at = inch("5") + Length::sixty_fourths(ticks);
        assert_eq!(
            ticks_in_words(at, Ruler::SIXTY_FOURTHS),
            format!("the {said} tick past 5 on sixty-fourths of an inch")
        );
    }
    assert_eq!(
        ticks_in_words(Length::tenths_mm(55), Ruler::HALF_MILLIMETRES),
        "halfway past 5 on half millimeters"
    );
    // 5 13/32 lies 1/32 in beyond the 6th sixteenth: 0.79375 mm.
    assert_eq!(
        ticks_in_words(inch("5 13/32"), Ruler::SIXTEENTHS),
        "after the 6th tick past 5 on sixteenths of an inch, 1/32 in = ~0.79 mm beyond it"
    );
    let mark = find(inch("5 13/32"), Ruler::SIXTEENTHS);
    assert_eq!((mark.whole, mark.ticks, mark.below, mark.above), (5, 6, inch("5 3/8"), inch("5 7/16")));
    assert_eq!((mark.nearest, mark.off, mark.is_exact()), (inch("5 3/8"), inch("1/32"), false));
    assert_eq!(find(-inch("1"), Ruler::EIGHTHS), find(Length::ZERO, Ruler::EIGHTHS));
    assert_eq!(
        (find(inch("1/8"), Ruler::EIGHTHS).before, find(inch("1/8"), Ruler::EIGHTHS).after),
        (Some(Length::ZERO), inch("1/4"))
    );
}

#[test]
fn names_are_read_in_the_unit_of_the_ruler() {
    assert_eq!(read_name("One Hundred", Ruler::EIGHTHS), Ok(inch("100")));
    assert!(read_name("one hundred one", Ruler::EIGHTHS).is_err(), "longer than any length");
    assert_eq!(read_name("five and a half", Ruler::HALF_MILLIMETRES), Ok(Length::tenths_mm(55)));
    assert_eq!(read_name("one quarter", Ruler::EIGHTHS), Ok(inch("1/4")));
    for text in ["eight eighths", "nine eighths", "zero eighths", "five and three", "a", "half"] {
        assert!(read_name(text, Ruler::EIGHTHS).is_err(), "{text}");
    }
}

/// A wrong answer says by how much: in ticks where it lies on one, else as a length.
#[test]
fn practice_says_by_how_much_an_answer_is_off() {
    let ask = |ask, text: &str| RulerQuestion { ask, ruler: Ruler::SIXTEENTHS, mark: inch(text) };
    assert_eq!(
        ask(AskFor::WhichSize, "5 3/8").text(),
        "what size is the 6th tick past 5? (on sixteenths of an inch)"
    );
    assert_eq!(ask(AskFor::WhichSize, "5").text(), "what size is the line of 5? (on sixteenths of an inch)");
    let question = ask(AskFor::WhichTick, "7/16");
    let said = |text: &str| question.check(inch(text)).sentence;
    assert_eq!(
        said("7/16"),
        "right: 7/16 in is the 7th tick past 0 on sixteenths of an inch, seven sixteenths"
    );
    assert!(said("5/16").starts_with("not that one, it is 2 ticks short: 7/16 in is the 7th tick"));
    assert!(said("1/2").starts_with("not that one, it is 1 tick too far:"));
    assert!(said("15/32").starts_with("not that one, it is 1/32 in too far:"));
    // Every tick of the first inch is asked for sooner or later, and none beyond; nought inches are one.
    for units in [0, 1] {
        let marks: std::collections::BTreeSet<Length> =
            (0..400).map(|n| RulerQuestion::from_seed(3, n, Ruler::SIXTEENTHS, units).mark).collect();
        assert_eq!(
            marks.into_iter().collect::<Vec<_>>(),
            (1..=16).map(Length::sixteenths).collect::<Vec<_>>()
        );
    }
}

/// The first five numbers of SplitMix64 for 1234567, as its authors' program prints them: 6457827717110365317,
/// 3203168211198807973, 9817491932198370423, 4593380528125082431, 16408922859458223821. All are odd, so each asks for a size;
/// halved and taken modulo 96 they are 34, 18, 91, 63 and 38, and ticks are counted from 1.
#[test]
fn questions_are_drawn_by_a_published_generator() {
    let asked = (0..5).map(|n| RulerQuestion::from_seed(1_234_567, n, Ruler::SIXTEENTHS, 6));
    let asked: Vec<(AskFor, Length)> = asked.map(|q| (q.ask, q.mark)).collect();
    assert_eq!(asked, [35, 19, 92, 64, 39].map(|tick| (AskFor::WhichSize, Length::sixteenths(tick))));
}
