//! A layout of one sheet with its count of pieces, and what whole numbers of layouts leave to be made.

use crate::domain::cutting::planner::model::Instance;
use crate::domain::cutting::recreate::bin::Bin;

/// A layout of one sheet.
#[derive(Clone, Debug)]
pub(crate) struct Pattern {
    /// Sheet row.
    pub format: u16,
    /// Kinds on it and their numbers.
    pub counts: Vec<(u16, u32)>,
    /// The sheet itself.
    pub bin: Bin,
}

impl Pattern {
    /// Counts what lies on a sheet.
    pub(crate) fn of(bin: Bin) -> Self {
        let mut kinds: Vec<u16> = bin.kinds().collect();
        kinds.sort_unstable();
        let counts = kinds.chunk_by(|a, b| a == b).map(|same| (same[0], same.len() as u32)).collect();
        Self { format: bin.format, counts, bin }
    }

    /// What the pieces on it are worth together.
    pub(crate) fn worth(&self, prices: &[f64]) -> f64 {
        self.counts.iter().map(|&(kind, n)| prices[usize::from(kind)] * f64::from(n)).sum()
    }

    /// True where three quarters of the last of so many copies (by area) are still needed.
    pub(super) fn is_mostly_needed(&self, model: &Instance, need: &[i64], copies: u32) -> bool {
        let (mut useful, mut all) = (0, 0);
        for &(kind, n) in &self.counts {
            let area = model.kinds[usize::from(kind)].area();
            let before = need[usize::from(kind)] - i64::from(n * (copies - 1));
            useful += area * before.clamp(0, i64::from(n));
            all += area * i64::from(n);
        }
        useful * 4 >= all * 3
    }
}

/// Whole sheets and what they leave to be made.
pub(crate) struct Rounded {
    /// Sheets taken, surplus pieces already taken off.
    pub bins: Vec<Bin>,
    /// Sheets among them from which pieces were taken off; they come first.
    pub loose: usize,
    /// Pieces still to be made.
    pub missing: Vec<(u16, u32)>,
    /// Cost of the sheets taken.
    pub cost: u64,
}

impl Rounded {
    /// Cuts each layout so many times. `need` is what they leave to be made, below zero where there is a surplus: that
    /// is taken off again, from the layouts taken last first.
    pub(super) fn new(
        model: &Instance,
        patterns: &[Pattern],
        taken: &[(usize, u32)],
        mut need: Vec<i64>,
    ) -> Self {
        let mut loose = Vec::new();
        let mut whole = Vec::new();
        let mut cost = 0;
        for &(at, copies) in taken.iter().rev() {
            let pattern = &patterns[at];
            cost += model.formats[usize::from(pattern.format)].cost * u64::from(copies);
            for _ in 0..copies {
                let mut bin = pattern.bin.clone();
                let mut touched = false;
                for &(k, _) in &pattern.counts {
                    while need[usize::from(k)] < 0 && bin.remove_one(model, k) {
                        need[usize::from(k)] += 1;
                        touched = true;
                    }
                }
                if touched { loose.push(bin) } else { whole.push(bin) }
            }
        }
        let missing =
            need.iter().enumerate().filter(|&(_, &n)| n > 0).map(|(k, &n)| (k as u16, n as u32)).collect();
        let count = loose.len();
        loose.append(&mut whole);
        Self { bins: loose, loose: count, missing, cost }
    }
}
