//! The job as the engines see it: whole numbers, equal pieces merged, every way a piece may lie worked out once. Carries
//! the word that nobody waits any more, since whoever works has the job in hand.

use crate::domain::cutting::stop::Stop;

/// The largest side allowed inside: keeps products in 64 bits.
pub(crate) const NO_LIMIT: u32 = u32::MAX;

/// Bit of a piece lying as given.
pub(crate) const UPRIGHT: u8 = 1;
/// Bit of a piece lying turned by a quarter.
pub(crate) const TURNED: u8 = 2;

/// Pieces of one size under one set of rules.
#[derive(Clone, Debug)]
pub(crate) struct PieceKind {
    /// Width in steps of the model.
    pub w: i32,
    /// Height in steps of the model.
    pub h: i32,
    /// How many are wanted.
    pub count: u32,
    /// For each format, the ways it may lie there ([`UPRIGHT`], [`TURNED`]).
    pub ways: Vec<u8>,
}

impl PieceKind {
    /// Area in square steps.
    pub(crate) fn area(&self) -> i64 {
        i64::from(self.w) * i64::from(self.h)
    }

    /// Width and height as it lies.
    pub(crate) const fn lying(&self, turned: bool) -> (i32, i32) {
        if turned { (self.h, self.w) } else { (self.w, self.h) }
    }
}

/// One row of sheets.
#[derive(Clone, Debug)]
pub(crate) struct Format {
    /// Width in steps of the model.
    pub w: i32,
    /// Height in steps of the model.
    pub h: i32,
    /// How many there are; [`NO_LIMIT`] where they never run out.
    pub available: u32,
    /// Cost of one sheet.
    pub cost: u64,
}

impl Format {
    /// Area in square steps.
    pub(crate) fn area(&self) -> i64 {
        i64::from(self.w) * i64::from(self.h)
    }
}

/// A job in whole numbers.
#[derive(Clone, Debug)]
pub(crate) struct Instance {
    /// Distinct kinds of pieces.
    pub kinds: Vec<PieceKind>,
    /// Sheet rows.
    pub formats: Vec<Format>,
    /// Longest single cut.
    pub max_cut: i32,
    /// `power[i]` = worth of a side of about `i << power_shift` steps.
    pub power: Vec<f64>,
    /// See `power`.
    pub power_shift: u32,
    /// All costs are multiples of this.
    pub cost_step: u64,
    /// Asked once time is up: searches end at once, and what they have by then is dropped.
    pub stop: Stop,
}

impl Instance {
    /// Builds the tables.
    pub(crate) fn new(kinds: Vec<PieceKind>, formats: Vec<Format>, max_cut: i32) -> Self {
        let longest = formats.iter().map(|f| f.w.max(f.h)).max().unwrap_or(1).max(1);
        let mut power_shift = 0;
        while longest >> power_shift > 8192 {
            power_shift += 1;
        }
        let power = (0..=(longest >> power_shift)).map(|i| f64::from(i).powf(1.2)).collect();
        let cost_step = formats.iter().fold(0, |g, f| gcd(g, f.cost)).max(1);
        Self { kinds, formats, max_cut, power, power_shift, cost_step, stop: Stop::default() }
    }

    /// How many pieces are wanted, of all kinds.
    pub(crate) fn pieces(&self) -> u64 {
        self.kinds.iter().map(|kind| u64::from(kind.count)).sum()
    }

    /// Cost of the dearest sheet, at least 1.
    pub(crate) fn dearest(&self) -> f64 {
        self.formats.iter().map(|f| f.cost).max().unwrap_or(1).max(1) as f64
    }

    /// Worth of a side, for the insertion cost.
    pub(crate) fn worth(&self, side: i32) -> f64 {
        self.power.get((side >> self.power_shift) as usize).copied().unwrap_or(0.0)
    }
}

/// Greatest common divisor; of 0 and n it is n.
pub(crate) fn gcd(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { gcd(b, a % b) }
}
