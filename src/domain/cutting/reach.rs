//! Reachable positions: the sums of finished sizes, which are the only places where a cut can matter.
//!
//! Pushing every piece of a layout to the left and to the top leaves it at sums of the sizes before it (normal
//! patterns: Herz 1972; Christofides & Whitlock 1977), and a panel holds what the largest reachable size below its
//! own holds. Works on plain units, in one direction; knows no pieces and no values.

/// The sums of some parts, up to a limit, in units.
#[derive(Clone, Debug)]
pub struct Reach {
    step: i64,
    sums: Vec<i64>,
    floor: Vec<u32>,
    thinned: bool,
}

/// Most sums kept. Real sizes on real sheets have under two hundred; a piece of odd units on a long sheet may have tens
/// of thousands, and is then answered from sums that use the larger parts only a few times.
const MOST_SUMS: usize = 2_500;

impl Reach {
    /// All sums of `parts` (each any number of times) from 0 to `limit`.
    ///
    /// The common divisor of the parts is taken out first, so that quarter inches cost no more than their number.
    pub fn new(limit: i64, parts: &[i64]) -> Self {
        let limit = limit.max(0);
        let parts: Vec<i64> = parts.iter().copied().filter(|&p| p > 0 && p <= limit).collect();
        let step = parts.iter().copied().fold(0, gcd).max(1);
        let slots = Self::slots(limit, &parts) as usize;
        let scaled: Vec<usize> = parts.iter().map(|p| (p / step) as usize).collect();
        let (kept, thinned) = thin(terms(slots, &scaled));
        let mut sums = Vec::new();
        let mut floor = Vec::with_capacity(slots);
        for (at, &hit) in kept.iter().enumerate() {
            if hit {
                sums.push(at as i64 * step);
            }
            floor.push(sums.len() as u32 - 1);
        }
        Self { step, sums, floor, thinned }
    }

    /// How many places are looked at for the sums of some parts: what [`Reach::new`] costs.
    pub fn slots(limit: i64, parts: &[i64]) -> u64 {
        let limit = limit.max(0);
        let step = parts.iter().copied().filter(|&p| p > 0 && p <= limit).fold(0, gcd);
        if step == 0 { 1 } else { (limit / step) as u64 + 1 }
    }

    /// True where some sums were left out because there are too many.
    pub fn is_thinned(&self) -> bool {
        self.thinned
    }

    /// The sums in ascending order; the first is 0.
    pub fn sums(&self) -> &[i64] {
        &self.sums
    }

    /// How many sums there are, 0 included.
    pub fn len(&self) -> usize {
        self.sums.len()
    }

    /// Never true: 0 is always a sum.
    pub fn is_empty(&self) -> bool {
        self.sums.is_empty()
    }

    /// Row of the largest sum not above `size`.
    pub fn row(&self, size: i64) -> usize {
        let slot = (size.max(0) / self.step) as usize;
        self.floor[slot.min(self.floor.len() - 1)] as usize
    }

    /// True where `size` is a sum.
    pub fn has(&self, size: i64) -> bool {
        self.down(size) == size
    }

    /// The largest sum not above `size`.
    pub fn down(&self, size: i64) -> i64 {
        self.sums[self.row(size)]
    }
}

/// For every slot, how few parts other than the smallest one a sum there needs; `None` where there is no sum.
fn terms(slots: usize, parts: &[usize]) -> Vec<Option<u32>> {
    let mut terms: Vec<Option<u32>> = vec![None; slots];
    terms[0] = Some(0);
    let smallest = parts.iter().copied().min().unwrap_or(0);
    for at in 1..slots {
        terms[at] = parts
            .iter()
            .filter(|&&p| p <= at)
            .filter_map(|&p| terms[at - p].map(|n| n + u32::from(p != smallest)))
            .min();
    }
    terms
}

/// Which slots are kept, and whether any sum is left out.
fn thin(terms: Vec<Option<u32>>) -> (Vec<bool>, bool) {
    let all = terms.iter().flatten().count();
    if all <= MOST_SUMS {
        return (terms.into_iter().map(|t| t.is_some()).collect(), false);
    }
    let within = |most: u32| terms.iter().flatten().filter(|&&n| n <= most).count();
    let most = (0..MOST_SUMS as u32).take_while(|&n| within(n) <= MOST_SUMS).last().unwrap_or(0);
    (terms.into_iter().map(|t| t.is_some_and(|n| n <= most)).collect(), true)
}

/// Greatest common divisor; `gcd(0, n)` is `n`.
pub fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sums_of_two_sizes() {
        let r = Reach::new(12, &[5, 3]);
        assert_eq!(r.sums(), [0, 3, 5, 6, 8, 9, 10, 11, 12]);
        assert_eq!(r.down(7), 6);
        assert_eq!(r.down(12), 12);
        assert_eq!(r.row(2), 0);
        let wide = Reach::new(1203, &[500, 300]);
        assert_eq!(wide.sums(), [0, 300, 500, 600, 800, 900, 1000, 1100, 1200]);
        assert_eq!(wide.down(1203), 1200);
    }

    #[test]
    fn too_many_sums_are_thinned() {
        // 1/16 in and 1.7 mm on 12 in: over ten thousand sums.
        let r = Reach::new(97_536, &[508, 544]);
        assert!(r.is_thinned() && r.len() <= MOST_SUMS);
        assert!(r.sums().contains(&(192 * 508)) && r.sums().contains(&1_016));
        assert!(!Reach::new(97_536, &[508, 1_016]).is_thinned());
    }

    #[test]
    fn nothing_fits() {
        let r = Reach::new(2, &[5]);
        assert_eq!((r.len(), r.down(2)), (1, 0));
        assert_eq!(Reach::new(0, &[5]).down(0), 0);
    }
}
