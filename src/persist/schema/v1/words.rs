//! Small shapes shared by all records: sizes, kinds, states, grain, reasons.

use super::field::{Misfit, day};
use crate::domain::cards::fold::Side;
use crate::domain::length::{Length, Unit};
use crate::domain::pattern::{Pattern, PatternKind};
use crate::domain::project::Progress;
use crate::domain::size::{Grain, Size};
use crate::domain::stock::{Kind, Reason, State};
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// Width and height in units of 1/8128 in.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct SizeV1(pub i64, pub i64);

impl From<Size> for SizeV1 {
    fn from(s: Size) -> Self {
        Self(s.width.units(), s.height.units())
    }
}

impl TryFrom<SizeV1> for Size {
    type Error = Misfit;
    fn try_from(s: SizeV1) -> Result<Self, Misfit> {
        Ok(Self::new(length(s.0)?, length(s.1)?))
    }
}

/// A length read back: nothing that was ever accepted is longer than a few hundred inches.
pub(super) fn length(units: i64) -> Result<Length, Misfit> {
    let most = Length::MAX.units() * 4;
    if units.unsigned_abs() > most.unsigned_abs() {
        return Err(Misfit(format!("a length of {units} units is out of range")));
    }
    Ok(Length::from_units(units))
}

/// A pattern: its kind, and from one mark to the next in units of 1/8128 in.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct PatternV1(pub PatternKindV1, pub i64);

impl From<Pattern> for PatternV1 {
    fn from(p: Pattern) -> Self {
        Self(p.kind.into(), p.repeat.units())
    }
}

impl TryFrom<PatternV1> for Pattern {
    type Error = Misfit;
    fn try_from(p: PatternV1) -> Result<Self, Misfit> {
        Ok(Self { kind: p.0.into(), repeat: length(p.1)? })
    }
}

macro_rules! words {
    ($(#[$doc:meta])* $name:ident for $domain:ty { $($word:ident),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
        pub enum $name { $(
            #[allow(missing_docs)]
            $word
        ),+ }

        impl From<$domain> for $name {
            fn from(d: $domain) -> Self {
                match d { $(<$domain>::$word => Self::$word),+ }
            }
        }

        impl From<$name> for $domain {
            fn from(s: $name) -> Self {
                match s { $($name::$word => Self::$word),+ }
            }
        }

        impl Default for $name {
            fn default() -> Self {
                <$domain>::default().into()
            }
        }
    };
}

words!(
    /// What kind of thing an item is.
    KindV1 for Kind { PlainSheet, PatternedPaper, InkPad, Refill, Envelope, Adhesive, Other }
);
words!(
    /// What is drawn on the ground of a paper.
    PatternKindV1 for PatternKind { Plain, Stripes, Dots, Grid, Check, Floral }
);
words!(
    /// Which way the fibres run.
    GrainV1 for Grain { Unknown, Long, Short }
);
words!(
    /// How far a project has come.
    ProgressV1 for Progress { Open, Done, Cancelled }
);
words!(
    /// Units of measurement.
    UnitV1 for Unit { Inch, Mm }
);

/// Why a count changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum ReasonV1 {
    /// Came in.
    Received,
    /// Went into work.
    Used,
    /// The shelf was counted.
    Adjusted,
    /// Left over and kept.
    OffcutMade,
    /// Taken from the bin.
    OffcutUsed,
    /// Counters an earlier line.
    Voided,
}

impl From<Reason> for ReasonV1 {
    fn from(r: Reason) -> Self {
        match r {
            Reason::Received => Self::Received,
            Reason::Used => Self::Used,
            Reason::Adjusted => Self::Adjusted,
            Reason::OffcutMade => Self::OffcutMade,
            Reason::OffcutUsed => Self::OffcutUsed,
            Reason::Voided => Self::Voided,
        }
    }
}

impl From<ReasonV1> for Reason {
    fn from(r: ReasonV1) -> Self {
        match r {
            ReasonV1::Received => Self::Received,
            ReasonV1::Used => Self::Used,
            ReasonV1::Adjusted => Self::Adjusted,
            ReasonV1::OffcutMade => Self::OffcutMade,
            ReasonV1::OffcutUsed => Self::OffcutUsed,
            ReasonV1::Voided => Self::Voided,
        }
    }
}

/// Where an item stands in its maker's range.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub enum StateV1 {
    /// Can be ordered.
    #[default]
    Current,
    /// Until this date.
    Leaving(#[serde(with = "day")] Date),
    /// No longer.
    Gone,
    /// From this date.
    Arriving(#[serde(with = "day")] Date),
}

impl From<State> for StateV1 {
    fn from(s: State) -> Self {
        match s {
            State::Current => Self::Current,
            State::Leaving(d) => Self::Leaving(d),
            State::Gone => Self::Gone,
            State::Arriving(d) => Self::Arriving(d),
        }
    }
}

impl From<StateV1> for State {
    fn from(s: StateV1) -> Self {
        match s {
            StateV1::Current => Self::Current,
            StateV1::Leaving(d) => Self::Leaving(d),
            StateV1::Gone => Self::Gone,
            StateV1::Arriving(d) => Self::Arriving(d),
        }
    }
}

/// A side of a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub enum SideV1 {
    Width,
    Height,
}

impl From<Side> for SideV1 {
    fn from(s: Side) -> Self {
        match s {
            Side::Width => Self::Width,
            Side::Height => Self::Height,
        }
    }
}

impl From<SideV1> for Side {
    fn from(s: SideV1) -> Self {
        match s {
            SideV1::Width => Self::Width,
            SideV1::Height => Self::Height,
        }
    }
}
