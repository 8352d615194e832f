//! How fast this person cuts: strokes and the seconds between them, as far as they were made one after the other. A pause is
//! no part of it. Tells the time that is left; it urges nobody.

use crate::domain::plural::count_of;

/// Longer than this between two ticks and the person did something else: two minutes a stroke (our own choice).
const LONGEST: u64 = 120;
/// With fewer strokes than this nothing can be said yet (our own choice).
const FEWEST: u32 = 8;
/// Beyond so many strokes the older half counts half: the pace is that of now (our own choice).
const MOST: u32 = 400;
/// The same at a stage after the cuts: twenty minutes a set or kit, and at least three of them (our own choice).
const LONGEST_SET: u64 = 1_200;
const FEWEST_SETS: u32 = 3;

/// Strokes and the time that they took.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct CuttingPace {
    /// Seconds.
    pub seconds: u32,
    /// Strokes made in them.
    pub strokes: u32,
}

impl CuttingPace {
    /// A pace that was kept; none where it cannot be one.
    pub fn kept(seconds: u32, strokes: u32) -> Self {
        Self::kept_within(seconds, strokes, LONGEST)
    }

    /// The same of sets or kits at a stage after the cuts.
    pub fn kept_of_stage(seconds: u32, sets: u32) -> Self {
        Self::kept_within(seconds, sets, LONGEST_SET)
    }

    fn kept_within(seconds: u32, n: u32, longest: u64) -> Self {
        let is_one = n > 0 && n <= MOST && u64::from(seconds) <= u64::from(n) * longest;
        if is_one { Self { seconds, strokes: n } } else { Self::default() }
    }

    /// Notes strokes that took so many seconds since the tick before; a pause is left out.
    pub fn note(&mut self, strokes: u32, seconds: u64) {
        self.note_within(strokes, seconds, LONGEST);
    }

    /// Notes sets or kits ticked at a stage after the cuts.
    pub fn note_at_a_stage(&mut self, sets: u32, seconds: u64) {
        self.note_within(sets, seconds, LONGEST_SET);
    }

    fn note_within(&mut self, strokes: u32, seconds: u64, longest: u64) {
        let strokes = strokes.min(MOST);
        if strokes == 0 || seconds > u64::from(strokes) * longest {
            return;
        }
        if self.strokes + strokes > MOST {
            (self.seconds, self.strokes) = (self.seconds / 2, self.strokes / 2);
        }
        self.seconds += u32::try_from(seconds).unwrap_or(u32::MAX);
        self.strokes += strokes;
        if self.strokes > MOST {
            let seconds = u64::from(self.seconds) * u64::from(MOST) / u64::from(self.strokes);
            (self.seconds, self.strokes) = (u32::try_from(seconds).unwrap_or(u32::MAX), MOST);
        }
    }

    /// How long so many strokes take, in seconds; `None` while too little is known.
    pub fn left(self, strokes: u64) -> Option<u64> {
        self.time_for(strokes, FEWEST)
    }

    /// How long so many sets or kits take at a stage; `None` while too little is known.
    pub fn left_at_a_stage(self, sets: u64) -> Option<u64> {
        self.time_for(sets, FEWEST_SETS)
    }

    fn time_for(self, n: u64, fewest: u32) -> Option<u64> {
        let known = self.strokes >= fewest && self.seconds > 0;
        known.then(|| n.saturating_mul(u64::from(self.seconds)) / u64::from(self.strokes))
    }

    /// The same in words: `about 25 minutes left at your pace`.
    pub fn words(self, strokes: u64) -> Option<String> {
        if strokes == 0 {
            return None;
        }
        Some(format!("about {} left at your pace", time_words(self.left(strokes)?)))
    }
}

/// Seconds as hours and minutes, a part of a minute as one: `1 hour 5 minutes`.
pub fn time_words(seconds: u64) -> String {
    let minutes = seconds.div_ceil(60);
    match (minutes / 60, minutes % 60) {
        (0, n) => count_of(n.max(1), "minute"),
        (h, 0) => count_of(h, "hour"),
        (h, n) => format!("{} {}", count_of(h, "hour"), count_of(n, "minute")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 10 strokes in 100 s are 10 s each: 90 strokes take 900 s, which is 15 minutes; 366 take 3,660 s, an hour and one.
    #[test]
    fn the_time_left_follows_from_strokes_and_seconds() {
        let mut pace = CuttingPace::default();
        for _ in 0..7 {
            pace.note(1, 10);
        }
        assert_eq!(pace.words(90), None, "too little is known");
        pace.note(3, 30);
        // A pause and a tick without strokes are left out.
        pace.note(1, 121);
        pace.note(0, 5);
        assert_eq!(pace, CuttingPace { seconds: 100, strokes: 10 });
        assert_eq!(pace.words(90).as_deref(), Some("about 15 minutes left at your pace"));
        assert_eq!(pace.words(366).as_deref(), Some("about 1 hour 1 minute left at your pace"));
        assert_eq!(pace.words(1).as_deref(), Some("about 1 minute left at your pace"));
        assert_eq!(pace.words(0), None);
    }

    #[test]
    fn the_pace_is_that_of_now_and_stays_small() {
        let mut pace = CuttingPace::default();
        for _ in 0..5_000 {
            pace.note(1, 100);
        }
        for _ in 0..2_000 {
            pace.note(1, 5);
        }
        assert!(pace.strokes <= MOST && pace.left(10) < Some(70), "{pace:?}");
        pace.note(u32::MAX, 1);
        assert!(pace.strokes <= MOST);
        assert_eq!(CuttingPace::kept(0, 0), CuttingPace::default());
        assert_eq!(CuttingPace::kept(u32::MAX, 3), CuttingPace::default());
        assert_eq!(CuttingPace::kept(90, 9), CuttingPace { seconds: 90, strokes: 9 });
    }
}
