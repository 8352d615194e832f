//! What a person's own choices say of two colours: trios kept, used on cards and dismissed move a pair's place a little.
//!
//! Choices are counted by families of colours, so that a liking for greens with cream reaches other greens too. A shift is
//! added to each pair before the weakest is taken and never grows past [`MOST`]; without a history every shift is 0 and the
//! order is the model's. Knows families, not swatches, and not where the choices were made.

use super::order::{Family, NEUTRAL_CHROMA};
use super::space::Oklch;

/// The furthest that choices move a pair, on the scale of [`Liking::pair`](super::liking::Liking::pair): to 1.5 times or
/// two thirds of its figure (our own choice).
pub const MOST: f64 = 0.405;
/// What one choice moves a pair by; four and more reach the limit.
const STEP: f64 = MOST / 4.0;
/// Families for which choices are counted: those of the table, with neutrals told apart by lightness.
const KINS: usize = Family::ALL.len() + 2;
/// A light neutral may carry a little more colour than a grey: creams and kraft papers (our own choice).
const CREAM_CHROMA: f64 = 0.045;
/// From this lightness on a neutral is a cream or a white, below the other one a black.
const PALE: f64 = 0.82;
const DARK: f64 = 0.40;

/// A family of colours as choices are counted by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Kin(usize);

impl Kin {
    const GREY: Self = Self(0);
    const CREAM: Self = Self(KINS - 2);
    const BLACK: Self = Self(KINS - 1);

    /// The family of a colour.
    pub fn of(colour: Oklch) -> Self {
        if colour.l >= PALE && colour.c < CREAM_CHROMA {
            Self::CREAM
        } else if colour.c >= NEUTRAL_CHROMA {
            Self(Family::of(colour) as usize)
        } else if colour.l < DARK {
            Self::BLACK
        } else {
            Self::GREY
        }
    }

    /// What colours of it are called.
    pub fn words(self) -> &'static str {
        match self {
            Self::GREY => "grays",
            Self::CREAM => "creams and whites",
            Self::BLACK => "blacks",
            Self(n) => match Family::ALL.get(n) {
                Some(Family::Pink) => "pinks",
                Some(Family::Red) => "reds",
                Some(Family::Orange) => "oranges",
                Some(Family::Yellow) => "yellows",
                Some(Family::YellowGreen) => "yellow greens",
                Some(Family::Green) => "greens",
                Some(Family::Teal) => "teals",
                Some(Family::Sky) => "sky blues",
                Some(Family::Blue) => "blues",
                Some(Family::Violet) => "violets",
                Some(Family::Magenta) => "magentas",
                _ => "grays",
            },
        }
    }
}

/// What was done with a trio.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Choice {
    /// It was kept.
    Kept,
    /// It is on a card.
    Used,
    /// It was dismissed.
    Dismissed,
}

/// Choices, counted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Habits {
    /// Of each pair of families: kept, used, dismissed.
    counts: [[[u32; 3]; KINS]; KINS],
}

impl Default for Habits {
    fn default() -> Self {
        Self { counts: [[[0; 3]; KINS]; KINS] }
    }
}

impl Habits {
    /// Counts a choice of colours that stand together, each pair of families once.
    pub fn note(&mut self, colours: &[Oklch], choice: Choice) {
        let kins: Vec<Kin> = colours.iter().copied().map(Kin::of).collect();
        let mut pairs: Vec<(Kin, Kin)> = Vec::new();
        for (n, one) in kins.iter().enumerate() {
            pairs.extend(kins[n + 1..].iter().map(|two| (*one.min(two), *one.max(two))));
        }
        pairs.sort_unstable();
        pairs.dedup();
        for (one, two) in pairs {
            self.counts[one.0][two.0][choice as usize] += 1;
        }
    }

    fn counted(&self, one: Kin, two: Kin) -> [u32; 3] {
        let (x, y) = if one <= two { (one, two) } else { (two, one) };
        self.counts[x.0][y.0]
    }

    /// How far choices move a pair of these families, within [`MOST`] either way.
    pub fn shift(&self, one: Kin, two: Kin) -> f64 {
        let [kept, used, dismissed] = self.counted(one, two).map(f64::from);
        ((kept + used - dismissed) * STEP).clamp(-MOST, MOST)
    }

    /// A pair's shift in words: `you keep greens with creams and whites`; nothing where it has none.
    pub fn words(&self, one: Kin, two: Kin) -> Option<String> {
        let [kept, used, dismissed] = self.counted(one, two);
        let verb = match (kept + used).cmp(&dismissed) {
            std::cmp::Ordering::Less => "pass over",
            std::cmp::Ordering::Equal => return None,
            std::cmp::Ordering::Greater if kept >= used => "keep",
            std::cmp::Ordering::Greater => "use",
        };
        Some(if one == two {
            format!("you {verb} {} together", one.words())
        } else {
            format!("you {verb} {} with {}", one.words(), two.words())
        })
    }

    /// Every pair of families that choices move, those moved furthest first.
    pub fn moved(&self) -> Vec<(Kin, Kin)> {
        let all = (0..KINS).flat_map(|one| (one..KINS).map(move |two| (Kin(one), Kin(two))));
        let mut moved: Vec<(Kin, Kin)> = all.filter(|(one, two)| self.shift(*one, *two) != 0.0).collect();
        let far = |(one, two): &(Kin, Kin)| self.shift(*one, *two).abs();
        moved.sort_by(|x, y| far(y).total_cmp(&far(x)));
        moved
    }

    /// True where nothing was chosen yet.
    pub fn is_empty(&self) -> bool {
        self.counts.iter().flatten().flatten().all(|n| *n == 0)
    }
}

#[cfg(test)]
mod tests {
    use super::super::space::Rgb8;
    use super::*;

    fn three() -> [Oklch; 3] {
        [Rgb8::new(79, 121, 66), Rgb8::new(245, 236, 215), Rgb8::new(90, 150, 90)].map(Rgb8::oklch)
    }

    #[test]
    fn without_a_history_nothing_moves() {
        let [a, b, _] = three().map(Kin::of);
        let habits = Habits::default();
        assert!(habits.is_empty() && habits.shift(a, b) == 0.0 && habits.words(a, b).is_none());
    }

    #[test]
    fn choices_move_a_pair_a_little_either_way_and_are_said() {
        let [green, cream, other] = three().map(Kin::of);
        assert_eq!(green, other);
        let mut habits = Habits::default();
        habits.note(&three(), Choice::Kept);
        assert_eq!(
            habits.shift(green, cream),
            STEP,
            "greens with cream stand in the trio twice and count once"
        );
        assert_eq!(habits.shift(cream, green), STEP);
        assert_eq!(habits.words(green, cream).unwrap(), "you keep greens with creams and whites");
        assert_eq!(habits.words(green, other).unwrap(), "you keep greens together");
        assert_eq!(habits.moved(), [(green, green), (green.min(cream), green.max(cream))]);
        for _ in 0..9 {
            habits.note(&three(), Choice::Used);
        }
        assert_eq!(habits.shift(green, cream), MOST);
        for _ in 0..30 {
            habits.note(&three(), Choice::Dismissed);
        }
        assert_eq!(habits.shift(green, cream), -MOST);
        assert_eq!(habits.words(green, cream).unwrap(), "you pass over greens with creams and whites");
    }

    #[test]
    fn every_family_has_words_of_its_own() {
        let mut words: Vec<&str> = (0..KINS).map(|n| Kin(n).words()).collect();
        words.sort_unstable();
        words.dedup();
        assert_eq!(words.len(), KINS);
    }
}
