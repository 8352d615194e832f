//! A length that is printed and read again is the same length.

use proptest::prelude::*;
use trimside::domain::length::{Length, Rounding, Unit};
use trimside::domain::size::Size;

proptest! {
    #![proptest_config(crate::laws::law(256))]

    #[test]
    fn printed_lengths_read_back(units in 1..=Length::MAX.units()) {
        let length = Length::from_units(units);
        for unit in [Unit::Inch, Unit::Mm] {
            prop_assert_eq!(Length::parse(&length.exact(unit), unit), Ok(length));
            prop_assert_eq!(Length::parse(&length.exact_with_unit(unit), unit.other()), Ok(length));
        }
    }

    #[test]
    fn printed_sizes_read_back(w in 1..=Length::MAX.units(), h in 1..=Length::MAX.units()) {
        let size = Size::new(Length::from_units(w), Length::from_units(h));
        for unit in [Unit::Inch, Unit::Mm] {
            prop_assert_eq!(Size::parse(&size.exact_with_unit(unit), unit.other()), Ok(size));
        }
    }

    #[test]
    fn rounding_lands_on_the_mark_within_one(units in 1..=Length::MAX.units(), mark in 1..8128_i64) {
        let (length, mark) = (Length::from_units(units), Length::from_units(mark));
        for how in [Rounding::Down, Rounding::Up, Rounding::Nearest] {
            let r = length.round_to(mark, how);
            prop_assert!(r.value.is_on(mark) && r.error.abs() < mark && r.value - r.error == length);
            prop_assert!(how != Rounding::Down || r.error <= Length::ZERO);
            prop_assert!(how != Rounding::Up || r.error >= Length::ZERO);
            prop_assert!(how != Rounding::Nearest || r.error.abs() * 2 <= mark);
        }
    }
}
