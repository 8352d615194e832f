//! Which leftovers are worth keeping: those at least as large as the person's floor, whichever way round they lie.
//! Plan, bench, bin and steps all ask here.

use crate::domain::size::Size;

/// True where a leftover is kept: it holds the floor, turned or not.
pub fn is_kept(left: Size, floor: Size) -> bool {
    floor.upright().fits_in(left.upright())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::length::Length;

    #[test]
    fn a_leftover_is_kept_whichever_way_round_it_lies() {
        let size = |w, h| Size::new(Length::inches(w), Length::inches(h));
        for (left, kept) in [((1, 3), true), ((3, 1), true), ((8, 1), true), ((2, 2), false), ((1, 2), false)]
        {
            assert_eq!(is_kept(size(left.0, left.1), size(3, 1)), kept, "{left:?}");
        }
    }
}
