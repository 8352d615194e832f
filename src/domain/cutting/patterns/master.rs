//! A small linear program with prices: the cheapest mix of known layouts that makes enough of every kind.
//!
//! Revised simplex with a dense inverse. Rows are kinds ("at least") and limited sheet rows ("at most"), under a
//! hundred of them; columns come in one by one. The prices (dual values) are what the search for new layouts needs.

use std::sync::Arc;

/// Values below this are rounding noise.
const NOISE: f64 = 1e-9;
/// Pivots after which the inverse is built afresh.
const REFRESH: u32 = 60;
/// Pivots after which only columns are taken that cannot lead round in circles.
const CAREFUL: u32 = 2_000;
/// Pivots for each row after which the way to other numbers is given up.
const AROUND: u32 = 4;
/// Many columns are looked through in so many blocks, of at least so many columns.
const BLOCKS: usize = 8;
const LEAST_BLOCK: usize = 500;

#[derive(Clone, Debug)]
struct Column {
    cost: f64,
    entries: Vec<(u16, f64)>,
}

/// The program and its present basis.
#[derive(Clone, Debug)]
pub(crate) struct Master {
    rows: usize,
    right: Vec<f64>,
    /// Shared with the programs that this one was copied from, until one of them takes up another.
    columns: Arc<Vec<Column>>,
    basis: Vec<usize>,
    in_basis: Vec<bool>,
    inverse: Vec<f64>,
    values: Vec<f64>,
    since: u32,
    logical: usize,
    /// Where looking through the columns goes on.
    next: usize,
    /// Pivots so far, the looks that found nothing among them.
    pub pivots: u32,
}

impl Master {
    /// `demands` are "at least" rows, `stocks` "at most" rows. A piece that stays out costs `missing`.
    pub(crate) fn new(demands: &[f64], stocks: &[f64], missing: f64) -> Self {
        let rows = demands.len() + stocks.len();
        let right: Vec<f64> = demands.iter().chain(stocks).copied().collect();
        let mut columns = Vec::new();
        for row in 0..rows {
            // Left out of a demand, or left of a stock.
            let cost = if row < demands.len() { missing } else { 0.0 };
            columns.push(Column { cost, entries: vec![(row as u16, 1.0)] });
        }
        for row in 0..demands.len() {
            columns.push(Column { cost: 0.0, entries: vec![(row as u16, -1.0)] });
        }
        let logical = columns.len();
        let mut master = Self {
            rows,
            values: right.clone(),
            right,
            in_basis: vec![false; columns.len()],
            columns: Arc::new(columns),
            basis: (0..rows).collect(),
            inverse: vec![0.0; rows * rows],
            since: 0,
            logical,
            next: 0,
            pivots: 0,
        };
        for row in 0..rows {
            master.inverse[row * rows + row] = 1.0;
            master.in_basis[row] = true;
        }
        master
    }

    /// Adds a layout; its number counts from 0.
    pub(crate) fn add(&mut self, cost: f64, entries: Vec<(u16, f64)>) -> usize {
        Arc::make_mut(&mut self.columns).push(Column { cost, entries });
        self.in_basis.push(false);
        self.columns.len() - 1 - self.logical
    }

    /// The price of one more of each row.
    pub(crate) fn prices(&self) -> Vec<f64> {
        let mut prices = vec![0.0; self.rows];
        for (row, &column) in self.basis.iter().enumerate() {
            let cost = self.columns[column].cost;
            if cost != 0.0 {
                for (price, inverse) in prices.iter_mut().zip(&self.inverse[row * self.rows..]) {
                    *price += cost * inverse;
                }
            }
        }
        prices
    }

    /// What the present mix costs.
    pub(crate) fn cost(&self) -> f64 {
        self.basis.iter().zip(&self.values).map(|(&column, x)| self.columns[column].cost * x).sum()
    }

    /// How often each layout is used.
    pub(crate) fn solution(&self) -> Vec<(usize, f64)> {
        let mut used: Vec<(usize, f64)> = self
            .basis
            .iter()
            .zip(&self.values)
            .filter(|&(&column, &x)| column >= self.logical && x > NOISE)
            .map(|(&column, &x)| (column - self.logical, x))
            .collect();
        used.sort_by_key(|u| u.0);
        used
    }

    /// Additions and multiplications that one pivot takes, about: three passes over the inverse, its share of building
    /// it afresh, and the prices of a block of columns.
    pub(crate) fn work_of_a_pivot(&self) -> u64 {
        let n = self.rows as u64;
        3 * n * n + 2 * n * n * n / u64::from(REFRESH) + 8 * (self.columns.len() / BLOCKS) as u64
    }

    /// Pivots until no column helps, at most `most` times. True where the best mix was reached.
    pub(crate) fn solve(&mut self, most: u32) -> bool {
        for turn in 0..most {
            self.pivots += 1;
            let prices = self.prices();
            // Late in a long run take the first column that helps: that cannot go round in circles.
            let Some(entering) = self.entering(&prices, turn > CAREFUL) else { return true };
            let direction = self.times_inverse(&self.columns[entering].entries);
            let Some(leaving) = self.leaving(&direction) else { return true };
            self.pivot(entering, leaving, &direction);
        }
        false
    }

    /// Asks for another number of a row. What the present mix makes is known anew after [`Master::recover`].
    pub(crate) fn ask_for(&mut self, row: usize, amount: f64) {
        self.right[row] = amount;
    }

    /// Goes from the mix for other numbers to that for those asked for now, within so many pivots. False where it does not get
    /// there.
    pub(crate) fn recover(&mut self, most: u32) -> bool {
        self.take_stock();
        // More pivots than that go round in circles.
        for _ in 0..most.min(AROUND * self.rows as u32) {
            let lowest = (0..self.rows).min_by(|&a, &b| self.values[a].total_cmp(&self.values[b]));
            let Some(leaving) = lowest.filter(|&row| self.values[row] < -1e-7) else { return true };
            self.pivots += 1;
            let Some(entering) = self.replacing(leaving) else { return false };
            let direction = self.times_inverse(&self.columns[entering].entries);
            self.pivot(entering, leaving, &direction);
        }
        false
    }

    /// The column that may take the place of one that is used less than never, at the least cost.
    fn replacing(&self, leaving: usize) -> Option<usize> {
        let line = &self.inverse[leaving * self.rows..(leaving + 1) * self.rows];
        let prices = self.prices();
        let mut best: Option<(usize, f64, f64)> = None;
        for (at, column) in self.columns.iter().enumerate().filter(|(at, _)| !self.in_basis[*at]) {
            let of = |line: &[f64]| -> f64 {
                column.entries.iter().map(|&(row, n)| n * line[usize::from(row)]).sum()
            };
            let by = -of(line);
            if by <= 1e-7 {
                continue;
            }
            let ratio = (column.cost - of(&prices)).max(0.0) / by;
            let is_better = best
                .is_none_or(|(_, least, old)| ratio < least - NOISE || (ratio < least + NOISE && by > old));
            if is_better {
                best = Some((at, ratio, by));
            }
        }
        best.map(|b| b.0)
    }

    /// The column that helps most, among a block of them; blocks take turns. With `first`, the first that helps.
    fn entering(&mut self, prices: &[f64], first: bool) -> Option<usize> {
        let n = self.columns.len();
        let is_small = n <= 2 * LEAST_BLOCK;
        let block = if first { 1 } else { (n / BLOCKS).max(if is_small { n } else { LEAST_BLOCK }) };
        let start = if first || is_small { 0 } else { self.next };
        let mut best = None;
        let mut least = -1e-7;
        for step in 0..n {
            if step % block == 0 && best.is_some() {
                break;
            }
            let at = if start + step < n { start + step } else { start + step - n };
            self.next = at + 1;
            if self.in_basis[at] {
                continue;
            }
            let column = &self.columns[at];
            let worth: f64 = column.entries.iter().map(|&(row, n)| n * prices[usize::from(row)]).sum();
            let gain = (column.cost - worth) / column.cost.abs().max(1.0);
            if gain < least {
                best = Some(at);
                least = gain;
            }
        }
        best
    }

    fn times_inverse(&self, entries: &[(u16, f64)]) -> Vec<f64> {
        let mut out = vec![0.0; self.rows];
        for (row, slot) in out.iter_mut().enumerate() {
            let line = &self.inverse[row * self.rows..(row + 1) * self.rows];
            *slot = entries.iter().map(|&(at, n)| n * line[usize::from(at)]).sum();
        }
        out
    }

    fn leaving(&self, direction: &[f64]) -> Option<usize> {
        let mut best: Option<(usize, f64)> = None;
        for (row, &step) in direction.iter().enumerate() {
            if step <= 1e-7 {
                continue;
            }
            let ratio = self.values[row].max(0.0) / step;
            let better = best.is_none_or(|(old, least)| {
                ratio < least - NOISE || (ratio < least + NOISE && step > direction[old])
            });
            if better {
                best = Some((row, ratio));
            }
        }
        best.map(|b| b.0)
    }

    fn pivot(&mut self, entering: usize, leaving: usize, direction: &[f64]) {
        let n = self.rows;
        let by = direction[leaving];
        let line: Vec<f64> = self.inverse[leaving * n..(leaving + 1) * n].iter().map(|x| x / by).collect();
        let value = self.values[leaving] / by;
        for (row, &factor) in direction.iter().enumerate() {
            if row == leaving {
                self.inverse[row * n..(row + 1) * n].copy_from_slice(&line);
                self.values[row] = value;
            } else if factor != 0.0 {
                for (x, l) in self.inverse[row * n..(row + 1) * n].iter_mut().zip(&line) {
                    *x -= factor * l;
                }
                self.values[row] -= factor * value;
            }
        }
        self.in_basis[self.basis[leaving]] = false;
        self.in_basis[entering] = true;
        self.basis[leaving] = entering;
        self.since += 1;
        if self.since >= REFRESH {
            self.refresh();
        }
    }

    /// Builds the inverse afresh (Gauss-Jordan with row exchange); the old one stays where that fails.
    fn refresh(&mut self) {
        self.since = 0;
        let n = self.rows;
        let mut work = vec![0.0; n * n];
        for (at, &column) in self.basis.iter().enumerate() {
            for &(row, x) in &self.columns[column].entries {
                work[usize::from(row) * n + at] = x;
            }
        }
        let mut inverse = vec![0.0; n * n];
        for i in 0..n {
            inverse[i * n + i] = 1.0;
        }
        for at in 0..n {
            let pivot = (at..n).max_by(|&a, &b| work[a * n + at].abs().total_cmp(&work[b * n + at].abs()));
            let Some(pivot) = pivot.filter(|&p| work[p * n + at].abs() > 1e-11) else { return };
            for column in 0..n {
                work.swap(at * n + column, pivot * n + column);
                inverse.swap(at * n + column, pivot * n + column);
            }
            let by = work[at * n + at];
            for column in 0..n {
                work[at * n + column] /= by;
                inverse[at * n + column] /= by;
            }
            for row in 0..n {
                let factor = work[row * n + at];
                if row == at || factor == 0.0 {
                    continue;
                }
                for column in 0..n {
                    work[row * n + column] -= factor * work[at * n + column];
                    inverse[row * n + column] -= factor * inverse[at * n + column];
                }
            }
        }
        self.inverse = inverse;
        self.take_stock();
    }

    /// What each column of the basis comes to.
    fn take_stock(&mut self) {
        for (line, value) in self.inverse.chunks(self.rows.max(1)).zip(&mut self.values) {
            *value = line.iter().zip(&self.right).map(|(a, b)| a * b).sum();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn prices_and_mix_of_a_textbook_roll() {
        // Rolls of 10 cut into 3 (20 wanted), 4 (10 wanted): layouts 3+3+3, 4+4, 3+3+4.
        // Best mix: all 4s in 3+3+4 (10 rolls) makes all 20 3s as well: 10 rolls. Prices: 2 p3 + p4 = 1.
        let mut m = Master::new(&[20.0, 10.0], &[], 100.0);
        m.add(1.0, vec![(0, 3.0)]);
        m.add(1.0, vec![(1, 2.0)]);
        let both = m.add(1.0, vec![(0, 2.0), (1, 1.0)]);
        assert!(m.solve(100));
        let cost: f64 = m.solution().iter().map(|u| u.1).sum();
        assert!((cost - 10.0).abs() < 1e-9);
        assert!(m.solution().iter().any(|u| u.0 == both));
        let p = m.prices();
        assert!((20.0 * p[0] + 10.0 * p[1] - 10.0).abs() < 1e-9);
    }

    #[test]
    fn short_stock_is_priced() {
        // One layout of two pieces, five wanted, stock of two: one piece stays out; a sheet more would save it.
        let mut m = Master::new(&[5.0], &[2.0], 50.0);
        m.add(1.0, vec![(0, 2.0), (1, 1.0)]);
        assert!(m.solve(100));
        let p = m.prices();
        assert!((p[0] - 50.0).abs() < 1e-9);
        assert!((p[1] + 99.0).abs() < 1e-9);
    }

    #[test]
    fn many_pivots_stay_exact() {
        // A staircase of 40 rows; the best mix is known: each row by its own column.
        let n = 40;
        let mut m = Master::new(&vec![7.0; n], &[], 1000.0);
        for i in 0..n {
            let mut entries = vec![(i as u16, 2.0)];
            if i + 1 < n {
                entries.push((i as u16 + 1, 1.0));
            }
            m.add(1.0, entries);
        }
        assert!(m.solve(2000));
        // x0 = 3.5, then x_i = (7 - x_{i-1}) / 2.
        let mut last: f64 = 0.0;
        let mut want = 0.0;
        for _ in 0..n {
            last = (7.0 - last) / 2.0;
            want += last;
        }
        let got: f64 = m.solution().iter().map(|u| u.1).sum();
        assert!((got - want).abs() < 1e-6, "{got} {want}");
    }

    #[test]
    fn other_numbers_lead_to_the_mix_that_they_would_have_had_from_the_start() {
        use crate::domain::cutting::planner::dice::Dice;
        let mut dice = Dice::new(11);
        for _ in 0..40 {
            let rows = 4 + dice.below(20);
            let mut column = |_: usize| -> Vec<(u16, f64)> {
                let at = dice.below(rows) as u16;
                let beside = (usize::from(at) + 1 + dice.below(rows - 1)) % rows;
                vec![(at, 1.0 + dice.below(2) as f64), (beside as u16, 1.0)]
            };
            let columns: Vec<_> = (0..6 * rows).map(&mut column).collect();
            let solved = |demands: &[f64]| {
                let mut master = Master::new(demands, &[9.0], 1.5);
                for (at, column) in columns.iter().enumerate() {
                    let stock = (at % 3 == 0).then_some((rows as u16, 1.0));
                    master.add(1.0, column.iter().copied().chain(stock).collect());
                }
                assert!(master.solve(10_000));
                master
            };
            let mut demands: Vec<f64> = (0..rows).map(|at| 1.0 + (at % 3) as f64).collect();
            let mut master = solved(&demands);
            for round in 0..3 {
                for (row, demand) in demands.iter_mut().enumerate().filter(|(row, _)| row % 4 == round) {
                    *demand = 0.0;
                    master.ask_for(row, 0.0);
                }
                assert!(master.recover(10_000) && master.solve(10_000));
                let afresh = solved(&demands).cost();
                assert!((master.cost() - afresh).abs() < 1e-6, "{} {afresh}", master.cost());
            }
        }
    }
}
