//! All one way: how many pieces a panel holds when every piece lies the same way round.

use crate::domain::size::Size;

/// Columns and rows of `piece`, as it lies, in `room`.
pub fn columns_and_rows(room: Size, piece: Size) -> (i64, i64) {
    (room.width.times(piece.width), room.height.times(piece.height))
}

/// How many of `piece`, as it lies, `room` holds in columns and rows.
pub fn count(room: Size, piece: Size) -> i64 {
    let (columns, rows) = columns_and_rows(room, piece);
    columns * rows
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::length::Unit;

    /// Counts of common practice, no source: 2x3 from letter, trading cards from the craft square.
    #[test]
    fn common_counts() {
        let s = |t| Size::parse(t, Unit::Inch).unwrap();
        assert_eq!(count(s("8.5x11"), s("2x3")), 12);
        assert_eq!(count(s("8.5x11"), s("3x2")), 10);
        assert_eq!(count(s("12x12"), s("2.5x3.5")), 12);
        assert_eq!(count(s("2x2"), s("3x1")), 0);
    }
}
