//! Three swatches that go together, from what is at hand.
//!
//! A trio counts where it makes one of the trade's schemes and its colours can be told apart, by ordinary eyes and
//! by three kinds of other eyes. Trios are ranked by their weakest pair alone; the list is kept varied by letting no
//! swatch into more than two of them, and no scheme into more than three. Knows swatches and their colours; what is
//! on hand or leaving comes in as a question.

use super::difference::ciede2000;
use super::harmony::{Harmony, Model, Term, Tone};
use super::order::perceptual;
use super::scheme::{Place, Scheme};
use super::space::Lab;
use super::swatch::Swatch;
use super::vision::{Deficiency, Eyes};
use super::wheel::Wheel;
use std::cmp::Ordering;

/// Colours this far apart (CIEDE2000) are told apart without trouble (our own choice).
pub const APART: f64 = 10.0;
/// The same for simulated eyes, which the model makes a little too poor (our own choice).
pub const APART_FOR_OTHERS: f64 = 6.0;
/// In how many trios of a list one swatch may be, the base aside.
pub const USES: usize = 2;
/// How many trios of one scheme a list may hold.
pub const PER_SCHEME: usize = 3;

/// What trios are asked for.
#[derive(Clone, Copy, Debug)]
pub struct Ask<'a> {
    /// The library.
    pub swatches: &'a [Swatch],
    /// The swatch to match, or the colours of a paper or a card, by place in the library.
    pub bases: &'a [usize],
    /// How many of the bases each trio must hold: 1 for a swatch or a paper, 2 for a card that lacks one colour.
    pub held: usize,
    /// Which swatches may join; all where nothing is said. The bases always may.
    pub usable: Option<&'a [bool]>,
    /// Which swatches are leaving and should be used up first.
    pub leaving: Option<&'a [bool]>,
    /// The wheel schemes are read on.
    pub wheel: Wheel,
    /// At most so many trios.
    pub most: usize,
    /// The harmony model; the published one but for tests of it.
    pub model: Model,
}

impl<'a> Ask<'a> {
    /// Trios for one swatch of a library, with the usual settings.
    pub fn about(swatches: &'a [Swatch], bases: &'a [usize]) -> Self {
        Self {
            swatches,
            bases,
            held: 1,
            usable: None,
            leaving: None,
            wheel: Wheel::default(),
            most: 9,
            model: Model::OU_LUO,
        }
    }
}

/// Which eyes tell all three colours apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Distinct {
    /// Ordinary eyes.
    pub normal: bool,
    /// Protan, deutan and tritan eyes at full severity.
    pub others: [bool; 3],
}

impl Distinct {
    fn for_all(self) -> bool {
        self.normal && self.others == [true; 3]
    }
}

/// Three swatches with the reason for their place in the list.
#[derive(Clone, Debug, PartialEq)]
pub struct Trio {
    /// Places in the library; the base comes first.
    pub swatches: [usize; 3],
    /// The scheme they make.
    pub scheme: Scheme,
    /// Scores of first and second, first and third, second and third.
    pub pairs: [f64; 3],
    /// The least of the three scores.
    pub weakest: f64,
    /// The two swatches of the weakest pair.
    pub weakest_pair: [usize; 2],
    /// What holds that pair back.
    pub term: Term,
    /// Who can tell the colours apart.
    pub distinct: Distinct,
    /// True where it uses up a leaving swatch.
    pub leaving: bool,
}

impl Trio {
    /// Why it stands where it stands: the weakest pair and what holds it back.
    pub fn reason(&self, swatches: &[Swatch]) -> String {
        let [one, two] = self.weakest_pair.map(|i| swatches[i].label());
        format!("weakest pair {one} and {two} ({:.2}), held back by {}", self.weakest, self.term.name())
    }
}

/// Why any three colours stand where they stand: their weakest pair and what holds it back. For trios that a person
/// puts together, which need not make a scheme.
pub fn reason_of(three: [&Swatch; 3]) -> String {
    let model = Model::OU_LUO;
    let tones = three.map(|s| model.tone(s.lab));
    let mut weakest = (0, 1, model.pair(&tones[0], &tones[1]));
    for (i, j) in [(0, 2), (1, 2)] {
        let pair = model.pair(&tones[i], &tones[j]);
        if pair.score < weakest.2.score {
            weakest = (i, j, pair);
        }
    }
    let (i, j, pair) = weakest;
    let (one, two) = (three[i].label(), three[j].label());
    format!("weakest pair {one} and {two} ({:.2}), held back by {}", pair.score, pair.weakest_term().name())
}

/// Trios of an [`Ask`], best first. Where none can be told apart by every kind of eyes, those that ordinary eyes tell
/// apart are given instead, and say so.
pub fn trios(ask: &Ask<'_>) -> Vec<Trio> {
    let shelf = Shelf::new(ask);
    let mut ranked = shelf.candidates();
    ranked.sort_unstable_by(Candidate::better_first);
    let for_all = shelf.pick(&ranked, Distinct::for_all);
    if for_all.is_empty() { shelf.pick(&ranked, |distinct| distinct.normal) } else { for_all }
}

/// A trio before it is known whether its colours can be told apart.
struct Candidate {
    swatches: [usize; 3],
    scheme: Scheme,
    pairs: [f64; 3],
    weakest: f64,
    leaving: bool,
    /// Places of both guests on the shelf; settles what is equal otherwise.
    turn: [usize; 2],
}

impl Candidate {
    /// The three scores from the least up: of two trios with the same weakest pair the better second pair leads.
    fn rising(&self) -> [f64; 3] {
        let mut pairs = self.pairs;
        pairs.sort_unstable_by(f64::total_cmp);
        pairs
    }

    fn better_first(one: &Self, two: &Self) -> Ordering {
        two.leaving
            .cmp(&one.leaving)
            .then_with(|| by_scores(two.rising(), one.rising()))
            .then(one.turn.cmp(&two.turn))
    }
}

/// Compares score by score.
fn by_scores(one: [f64; 3], two: [f64; 3]) -> Ordering {
    one[0].total_cmp(&two[0]).then(one[1].total_cmp(&two[1])).then(one[2].total_cmp(&two[2]))
}

/// The library readied for one question.
struct Shelf<'a> {
    ask: &'a Ask<'a>,
    tones: Vec<Tone>,
    places: Vec<Place>,
    /// Each swatch as the four kinds of eyes see it.
    seen: Vec<[Lab; 4]>,
    /// Swatches that may join a base, in an order that does not depend on how the library was listed.
    guests: Vec<usize>,
}

impl<'a> Shelf<'a> {
    fn new(ask: &'a Ask<'a>) -> Self {
        let eyes = Deficiency::ALL.map(|kind| Eyes::new(kind, 1.0));
        let seen = |lab: Lab| [lab, eyes[0].lab(lab), eyes[1].lab(lab), eyes[2].lab(lab)];
        let usable = |i: &usize| ask.bases.contains(i) || ask.usable.is_none_or(|usable| usable[*i]);
        Self {
            ask,
            tones: ask.swatches.iter().map(|swatch| ask.model.tone(swatch.lab)).collect(),
            places: ask.swatches.iter().map(|swatch| Place::on(ask.wheel, swatch.lab.oklch())).collect(),
            seen: ask.swatches.iter().map(|swatch| seen(swatch.lab)).collect(),
            guests: perceptual(ask.swatches).into_iter().filter(usable).collect(),
        }
    }

    fn score(&self, i: usize, j: usize) -> Harmony {
        self.ask.model.pair(&self.tones[i], &self.tones[j])
    }

    fn candidates(&self) -> Vec<Candidate> {
        let mut all = Vec::new();
        for (turn, base) in self.ask.bases.iter().enumerate() {
            // A pair that holds an earlier base was met in that base's turn.
            let earlier = &self.ask.bases[..turn];
            let guests: Vec<usize> =
                self.guests.iter().copied().filter(|i| i != base && !earlier.contains(i)).collect();
            let to_base: Vec<f64> = guests.iter().map(|i| self.score(*base, *i).score).collect();
            for (a, i) in guests.iter().enumerate() {
                for (b, j) in guests.iter().enumerate().skip(a + 1) {
                    all.extend(self.candidate([*base, *i, *j], [to_base[a], to_base[b]], [a, b]));
                }
            }
        }
        all
    }

    fn candidate(&self, swatches: [usize; 3], to_base: [f64; 2], turn: [usize; 2]) -> Option<Candidate> {
        let held = swatches.iter().filter(|i| self.ask.bases.contains(i)).count();
        if held < self.ask.held {
            return None;
        }
        let scheme = Scheme::of(swatches.map(|i| self.places[i]))?;
        let pairs = [to_base[0], to_base[1], self.score(swatches[1], swatches[2]).score];
        let weakest = pairs.iter().copied().fold(f64::INFINITY, f64::min);
        let leaving = self.ask.leaving.is_some_and(|leaving| swatches.iter().any(|i| leaving[*i]));
        Some(Candidate { swatches, scheme, pairs, weakest, leaving, turn })
    }

    fn distinct(&self, [a, b, c]: [usize; 3]) -> Distinct {
        let apart = |eyes: usize, least: f64| {
            [(a, b), (a, c), (b, c)]
                .iter()
                .all(|(i, j)| ciede2000(self.seen[*i][eyes], self.seen[*j][eyes]) >= least)
        };
        Distinct { normal: apart(0, APART), others: [1, 2, 3].map(|eyes| apart(eyes, APART_FOR_OTHERS)) }
    }

    fn pick(&self, ranked: &[Candidate], enough: impl Fn(Distinct) -> bool) -> Vec<Trio> {
        let mut used = vec![0_usize; self.ask.swatches.len()];
        let mut of_scheme = [0_usize; Scheme::ALL.len()];
        let mut list = Vec::new();
        for candidate in ranked {
            if list.len() == self.ask.most {
                break;
            }
            let guests = || candidate.swatches.iter().filter(|i| !self.ask.bases.contains(i));
            if of_scheme[candidate.scheme as usize] >= PER_SCHEME || guests().any(|i| used[*i] >= USES) {
                continue;
            }
            let distinct = self.distinct(candidate.swatches);
            if !enough(distinct) {
                continue;
            }
            of_scheme[candidate.scheme as usize] += 1;
            guests().for_each(|i| used[*i] += 1);
            list.push(self.finish(candidate, distinct));
        }
        list
    }

    fn finish(&self, candidate: &Candidate, distinct: Distinct) -> Trio {
        let [a, b, c] = candidate.swatches;
        let mut weakest_pair = [b, c];
        for (pair, score) in [([a, b], candidate.pairs[0]), ([a, c], candidate.pairs[1])] {
            if score <= candidate.weakest {
                weakest_pair = pair;
                break;
            }
        }
        Trio {
            swatches: candidate.swatches,
            scheme: candidate.scheme,
            pairs: candidate.pairs,
            weakest: candidate.weakest,
            weakest_pair,
            term: self.score(weakest_pair[0], weakest_pair[1]).weakest_term(),
            distinct,
            leaving: candidate.leaving,
        }
    }
}

#[cfg(test)]
mod tests;
