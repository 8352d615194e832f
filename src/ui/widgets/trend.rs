//! How a figure went over the months, a cell each. The figures always stand beside it.

use crate::ui::glyphs::Glyphs;

/// One cell a value, from the lowest step for none to the highest for the largest.
pub fn trend(values: &[u64], glyphs: &Glyphs) -> String {
    let most = values.iter().copied().max().unwrap_or(0).max(1);
    let top = glyphs.steps.len() - 1;
    let step = |n: u64| {
        let share = (n as f64 / most as f64 * top as f64).ceil() as usize;
        glyphs.steps[share.min(top)]
    };
    values.iter().map(|n| step(*n)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ui::glyphs::ASCII;

    #[test]
    fn little_is_low_and_the_most_is_high() {
        assert_eq!(trend(&[0, 1, 7, 3], &ASCII), "_.#-");
        assert_eq!(trend(&[0, 0], &ASCII), "__");
        assert_eq!(trend(&[], &ASCII), "");
    }
}
