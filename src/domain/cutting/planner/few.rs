//! A few pieces on a few sheets, exactly: the cheapest way to share them out among sheets. Each choice of pieces costs the
//! cheapest sheet that has room for a part of it, and what the rest costs.

use super::model::Instance;
use super::rooms::{Choices, Table};
use crate::domain::cutting::recreate::bin::Bin;

/// Choices of pieces, and ways to part them in two, up to which it is done (about a tenth of a second).
const MOST_CHOICES: usize = 5_000;
const MOST_PARTINGS: usize = 700_000;
/// Numbers of sheets that are kept apart where sheets run out.
const MOST_STOCKS: usize = 64;

/// The cheapest plan of all pieces; `None` where there are too many, where the trimmer is too short for some cut, or where
/// the sheets do not suffice.
pub(crate) fn cheapest(model: &Instance) -> Option<Vec<Bin>> {
    let choices = Choices::new(model, MOST_CHOICES).filter(|choices| choices.partings() <= MOST_PARTINGS)?;
    let stocks = Stocks::new(model)?;
    let mut table = Table::new(model, choices)?;
    if !table.work(model, &mut { u64::MAX }) {
        return None;
    }
    let choices = &table.choices;
    let fits = |row| (0..choices.all).map(|choice| table.fits(model, row, choice)).collect();
    let fits: Vec<Vec<bool>> = (0..model.formats.len()).map(fits).collect();
    let mut cover = Cover { model, choices, stocks: &stocks, fits, least: Vec::new() };
    cover.fill()?;
    let sheets = cover.sheets()?;
    sheets.into_iter().map(|(row, choice)| table.bin(model, row, choice)).collect()
}

/// How many sheets are taken of the rows that run out, as one number.
struct Stocks {
    /// For each row its place and how many there are; rows that never run out have none.
    place: Vec<Option<(usize, usize)>>,
    all: usize,
}

impl Stocks {
    fn new(model: &Instance) -> Option<Self> {
        let pieces = model.pieces();
        let (mut place, mut all) = (Vec::new(), 1);
        for format in &model.formats {
            if u64::from(format.available) >= pieces {
                place.push(None);
                continue;
            }
            place.push(Some((all, format.available as usize)));
            all *= format.available as usize + 1;
            if all > MOST_STOCKS {
                return None;
            }
        }
        Some(Self { place, all })
    }

    /// The number before one more sheet of a row was taken.
    fn without(&self, taken: usize, row: usize) -> Option<usize> {
        let Some((place, most)) = self.place[row] else { return Some(taken) };
        (!(taken / place).is_multiple_of(most + 1)).then(|| taken - place)
    }
}

/// The cheapest sheets for every choice of pieces.
struct Cover<'a> {
    model: &'a Instance,
    choices: &'a Choices,
    stocks: &'a Stocks,
    /// By row and choice: a sheet has room for it.
    fits: Vec<Vec<bool>>,
    /// By choice and number of sheets taken at most: what it costs, and the row and part of the last sheet.
    least: Vec<Option<(u64, usize, usize)>>,
}

impl Cover<'_> {
    fn fill(&mut self) -> Option<()> {
        let stocks = self.stocks.all;
        self.least = vec![None; self.choices.all * stocks];
        self.least[..stocks].fill(Some((0, 0, 0)));
        for choice in 1..self.choices.all {
            if self.model.stop.is_asked() {
                return None;
            }
            let first = (0..self.choices.counts.len()).find(|&kind| self.choices.of(choice, kind) > 0)?;
            let mut parts = Vec::new();
            self.choices.each_part(choice, &mut |part| {
                // One piece of the first kind lies on the sheet that is taken next.
                if part > 0 && self.choices.of(part, first) > 0 {
                    parts.push(part);
                }
            });
            for row in 0..self.model.formats.len() {
                for &part in &parts {
                    if self.fits[row][part] {
                        self.take(choice, row, part);
                    }
                }
            }
        }
        Some(())
    }

    fn take(&mut self, choice: usize, row: usize, part: usize) {
        let stocks = self.stocks.all;
        for taken in 0..stocks {
            let Some(before) = self.stocks.without(taken, row) else { continue };
            let Some((cost, ..)) = self.least[(choice - part) * stocks + before] else { continue };
            let cost = cost + self.model.formats[row].cost;
            let slot = &mut self.least[choice * stocks + taken];
            if slot.is_none_or(|least| cost < least.0) {
                *slot = Some((cost, row, part));
            }
        }
    }

    /// Row and pieces of each sheet of the cheapest plan.
    fn sheets(&self) -> Option<Vec<(usize, usize)>> {
        let stocks = self.stocks.all;
        let (mut choice, mut sheets) = (self.choices.all - 1, Vec::new());
        let mut taken =
            (0..stocks).min_by_key(|&n| self.least[choice * stocks + n].map_or(u64::MAX, |l| l.0))?;
        while choice > 0 {
            let (_, row, part) = self.least[choice * stocks + taken]?;
            sheets.push((row, part));
            choice -= part;
            taken = self.stocks.without(taken, row)?;
        }
        Some(sheets)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cutting::planner::dice::Dice;
    use crate::domain::cutting::planner::model::{Format, NO_LIMIT, PieceKind, TURNED, UPRIGHT};

    fn kind(w: i32, h: i32, count: u32, rows: usize) -> PieceKind {
        PieceKind { w, h, count, ways: vec![UPRIGHT | if w == h { 0 } else { TURNED }; rows] }
    }

    fn format(w: i32, h: i32, available: u32, cost: u64) -> Format {
        Format { w, h, available, cost }
    }

    fn cost(model: &Instance) -> Option<u64> {
        let bins = cheapest(model)?;
        let mut made = vec![0; model.kinds.len()];
        for k in bins.iter().flat_map(Bin::kinds) {
            made[usize::from(k)] += 1;
        }
        assert!(model.kinds.iter().zip(&made).all(|(kind, &n)| kind.count == n), "{made:?}");
        Some(bins.iter().map(|bin| model.formats[usize::from(bin.format)].cost).sum())
    }

    #[test]
    fn sheets_are_shared_out_as_cheaply_as_can_be() {
        // By hand: a 10 x 10 holds the 6 x 10 and the 4 x 10; the two 5 x 5 and the 5 x 10 fill another; a small sheet at 3
        // takes the 5 x 10 or both squares.
        let kinds = || vec![kind(6, 10, 1, 2), kind(4, 10, 1, 2), kind(5, 5, 2, 2), kind(5, 10, 1, 2)];
        let two = |large: u32, small: u32| {
            Instance::new(kinds(), vec![format(10, 10, large, 10), format(5, 10, small, 3)], 10)
        };
        assert_eq!(cost(&two(NO_LIMIT, NO_LIMIT)), Some(16), "one large sheet and two small ones");
        assert_eq!(cost(&two(NO_LIMIT, 1)), Some(20), "one small sheet is not enough");
        assert_eq!(cost(&two(1, 1)), None);
    }

    #[test]
    fn a_pinwheel_is_no_layout_from_edge_to_edge() {
        // Four 3 x 2 around the middle of a 5 x 5 (a textbook example): from edge to edge only three of them fit.
        let model = |n| Instance::new(vec![kind(3, 2, n, 1)], vec![format(5, 5, NO_LIMIT, 1)], 5);
        assert_eq!((cost(&model(3)), cost(&model(4))), (Some(1), Some(2)));
    }

    /// All guillotine layouts of some pieces on one sheet, by trying every cut at every step: slow and plain.
    fn fits(pieces: &[(i32, i32)], w: i32, h: i32) -> bool {
        match pieces {
            [] => return true,
            [(a, b)] => return (*a <= w && *b <= h) || (*b <= w && *a <= h),
            _ => {}
        }
        if pieces.iter().map(|p| p.0 * p.1).sum::<i32>() > w * h {
            return false;
        }
        (1..1 << (pieces.len() - 1)).any(|half: u32| {
            let side = |on: bool| -> Vec<(i32, i32)> {
                let is_on = |at: &usize| (half >> at & 1 == 1) == on;
                (0..pieces.len()).filter(is_on).map(|at| pieces[at]).collect()
            };
            let (first, second) = (side(true), side(false));
            (1..w).any(|x| fits(&first, x, h) && fits(&second, w - x, h))
                || (1..h).any(|y| fits(&first, w, y) && fits(&second, w, h - y))
        })
    }

    #[test]
    fn nothing_is_cheaper_than_what_a_plain_search_finds() {
        let mut dice = Dice::new(11);
        for _ in 0..30 {
            let mut pieces: Vec<(i32, i32)> =
                (0..4).map(|_| (1 + dice.below(5) as i32, 1 + dice.below(5) as i32)).collect();
            pieces.sort_unstable();
            let kinds =
                pieces.chunk_by(|a, b| a == b).map(|same| kind(same[0].0, same[0].1, same.len() as u32, 1));
            let model = Instance::new(kinds.collect(), vec![format(6, 5, NO_LIMIT, 1)], 6);
            // The fewest sheets, by trying every way to share four pieces out.
            let shares = |sheets: u32| {
                (0..sheets.pow(4)).any(|code| {
                    (0..sheets).all(|sheet| {
                        let on = |at: &usize| code / sheets.pow(*at as u32) % sheets == sheet;
                        let mine: Vec<_> = (0..4).filter(on).map(|at| pieces[at]).collect();
                        fits(&mine, 6, 5)
                    })
                })
            };
            let fewest = (1..=4).find(|&sheets| shares(sheets));
            assert_eq!(cost(&model), fewest.map(u64::from), "{pieces:?}");
        }
    }
}
