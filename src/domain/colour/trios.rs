//! Three swatches that go together, from what is at hand.
//!
//! A trio's place is its weakest pair, by the model of pairs that people liked ([`liking`](super::liking)); the published
//! model of harmony gives a second opinion and ranks nothing. One whose weakest pair people seldom choose goes together only
//! as the nearest that can be done ([`TrioShort`]), and stands behind the others. Schemes are a filter where one is asked for. A
//! list keeps to three colours of which no two are one to the eye where such trios are to be had, and says who tells them
//! apart. Asked to be varied, it passes over what is like a trio shown. Knows swatches and their colours; what is on hand,
//! leaving or chosen before comes in as a question, and what a person reads of a trio is written in [`said`].

use super::difference::ciede2000;
use super::habits::{Habits, Kin};
use super::harmony::{HarmonyModel, HarmonyTone, Term};
use super::liking::{Liking, Shade, is_seldom};
use super::order::perceptual;
use super::scheme::{Scheme, SchemePlace};
use super::space::{Lab, Oklch};
use super::swatch::Swatch;
use super::trio_words::{sector, why};
use super::vision::{Deficiency, Eyes};
use super::wheel::Wheel;
use std::cell::{Cell, RefCell};
use walk::{Candidate, Guest, MOST_LOOKS, Walk, best_of};

pub mod said;
mod walk;

/// Nearer than this (CIEDE2000) two swatches are one colour to most eyes, and make no trio where others do (our own choice:
/// what people put together is often tone on tone, so colours need not be far apart to be listed).
pub const ONE_COLOUR: f64 = 3.0;
/// Colours this far apart (CIEDE2000) are told apart without trouble (our own choice); a trio says where they are not.
pub const APART: f64 = 10.0;
/// The same for simulated eyes, which the model makes a little too poor (our own choice).
pub const APART_FOR_OTHERS: f64 = 6.0;
/// How many trios of a list may ask for one paper to be bought, after those of what is on hand.
pub const TO_BUY: usize = 3;

/// What trios are asked for.
#[derive(Clone, Copy, Debug)]
pub struct TrioQuestion<'a> {
    /// The library.
    pub swatches: &'a [Swatch],
    /// The swatch to match, or the colours of a paper or a card, by place in the library.
    pub bases: &'a [usize],
    /// How many of the bases each trio must hold: 1 for a swatch or a paper, 2 for a card that lacks one colour.
    pub held: usize,
    /// Which swatches are on hand: trios of these come first, then those for which one more is bought. All may join where
    /// nothing is said. The bases always may.
    pub usable: Option<&'a [bool]>,
    /// Which swatches are leaving and should be used up first.
    pub leaving: Option<&'a [bool]>,
    /// The wheel schemes are read on.
    pub wheel: Wheel,
    /// Only trios of this scheme.
    pub scheme: Option<Scheme>,
    /// Passes over a trio that shares two swatches or the same three hue families with one in the list.
    pub varied: bool,
    /// What the person chose before.
    pub habits: Option<&'a Habits>,
    /// Trios that the person does not want to see, by place.
    pub dismissed: &'a [[usize; 3]],
    /// At most so many trios, those with one to buy aside.
    pub most: usize,
    /// The model of liked pairs; the shipped one but for tests of it.
    pub liking: &'a Liking,
    /// How much may be looked at before what was found stands; the usual but for tests of it.
    pub looks: u64,
    /// The harmony model of the second opinion; the published one but for tests of it.
    pub model: HarmonyModel,
}

impl<'a> TrioQuestion<'a> {
    /// Trios for one swatch of a library, with the usual settings.
    pub fn about(swatches: &'a [Swatch], bases: &'a [usize]) -> Self {
        Self {
            swatches,
            bases,
            held: 1,
            usable: None,
            leaving: None,
            wheel: Wheel::default(),
            scheme: None,
            varied: false,
            habits: None,
            dismissed: &[],
            most: 9,
            liking: Liking::shipped(),
            looks: MOST_LOOKS,
            model: HarmonyModel::OU_LUO,
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

/// How well the pairs of a trio are liked: what its place follows from.
#[derive(Clone, Debug, PartialEq)]
pub struct Liked {
    /// First and second, first and third, second and third: the logarithm of how many times as often as chance each
    /// stands together where people chose, moved by what the person chose before.
    pub pairs: [f64; 3],
    /// The least of the three.
    pub weakest: f64,
    /// The two swatches of that pair.
    pub pair: [usize; 2],
    /// What the person's own choices did to that pair, in words.
    pub habit: Option<String>,
}

/// Three swatches with the reason for their place in the list.
#[derive(Clone, Debug, PartialEq)]
pub struct Trio {
    /// Places in the library; the base comes first.
    pub swatches: [usize; 3],
    /// The scheme they make.
    pub scheme: Scheme,
    /// Why they make something together, in words.
    pub why: String,
    /// How well its pairs are liked.
    pub liked: Liked,
    /// By the published model: scores of first and second, first and third, second and third.
    pub pairs: [f64; 3],
    /// By the published model: the least of the three scores.
    pub weakest: f64,
    /// By the published model: what holds that pair back.
    pub term: Term,
    /// Who can tell the colours apart.
    pub distinct: Distinct,
    /// True where it uses up a leaving swatch.
    pub leaving: bool,
    /// The swatch of it that is not on hand, where only what is on hand was asked for.
    pub to_buy: Option<usize>,
    /// In what it is only the nearest that can be done.
    pub short: TrioShort,
    /// False where there are so many swatches that not every trio was looked at: another may stand higher.
    pub all_seen: bool,
}

/// In what a trio falls short of three colours that go together as asked.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct TrioShort {
    /// The scheme that was asked for and could not be had.
    pub scheme: Option<Scheme>,
    /// Its weakest pair is one that people seldom choose.
    pub seldom: bool,
    /// Two of its colours are one to the eye.
    pub close: bool,
}

impl TrioShort {
    /// True for the nearest that can be done.
    pub const fn is_nearest(self) -> bool {
        self.scheme.is_some() || self.seldom || self.close
    }
}

impl Trio {
    /// The same trio in a library where each swatch has another place.
    #[must_use]
    pub fn moved(mut self, place: impl Fn(usize) -> usize) -> Self {
        self.swatches = self.swatches.map(&place);
        self.liked.pair = self.liked.pair.map(&place);
        self.to_buy = self.to_buy.map(&place);
        self
    }
}

/// Trios of an [`TrioQuestion`], best first: those that are on hand before those with one to buy, leaving ones first where that is
/// asked for, of each those that go together before the nearest that can be done, each part by its weakest pair. Where a
/// scheme cannot be had, or two of any three are one colour to the eye, the nearest that can be done is given and says so;
/// three different swatches always make a list.
pub fn trios(ask: &TrioQuestion<'_>) -> Vec<Trio> {
    let shelf = Shelf::new(ask);
    let mut list = Vec::new();
    for (scheme, three) in [(ask.scheme, true), (None, true), (None, false)] {
        list = shelf.list(scheme, three);
        if !list.is_empty() {
            break;
        }
    }
    for trio in &mut list {
        trio.all_seen = shelf.all_seen.get();
    }
    list
}

/// A part of the list: what its trios have in common.
#[derive(Clone, Copy, Debug)]
struct Part {
    /// Whether its weakest pairs are those that people seldom choose.
    seldom: bool,
    /// How many of its swatches have to be bought.
    bought: usize,
    /// Whether it uses up something that leaves, where that matters.
    leaving: Option<bool>,
    most: usize,
}

/// The library readied for one question.
struct Shelf<'a> {
    ask: &'a TrioQuestion<'a>,
    shades: Vec<Shade>,
    kins: Vec<Kin>,
    colours: Vec<Oklch>,
    /// Hue families.
    sectors: Vec<u8>,
    /// Places on the wheel.
    places: Vec<SchemePlace>,
    /// Swatches that may join a base, in an order that does not depend on how the library was listed.
    guests: Vec<usize>,
    /// How much more may be looked at for the part in hand.
    looks: Cell<u64>,
    /// False once that did not suffice.
    all_seen: Cell<bool>,
}

impl<'a> Shelf<'a> {
    fn new(ask: &'a TrioQuestion<'a>) -> Self {
        let colours: Vec<Oklch> = ask.swatches.iter().map(|swatch| swatch.lab.oklch()).collect();
        Self {
            ask,
            shades: ask.swatches.iter().map(|swatch| Shade::of(swatch.lab)).collect(),
            kins: colours.iter().map(|colour| Kin::of(*colour)).collect(),
            sectors: colours.iter().map(|colour| sector(*colour)).collect(),
            places: colours.iter().map(|colour| SchemePlace::on(ask.wheel, *colour)).collect(),
            guests: perceptual(ask.swatches),
            colours,
            looks: Cell::new(0),
            all_seen: Cell::new(true),
        }
    }

    /// The figure that a pair is ranked by.
    fn pair(&self, i: usize, j: usize) -> f64 {
        let shift = self.ask.habits.map_or(0.0, |habits| habits.shift(self.kins[i], self.kins[j]));
        self.ask.liking.pair(&self.shades[i], &self.shades[j]) + shift
    }

    fn to_buy(&self, swatches: [usize; 3]) -> impl Iterator<Item = usize> {
        let (usable, bases) = (self.ask.usable, self.ask.bases);
        swatches.into_iter().filter(move |i| !bases.contains(i) && usable.is_some_and(|usable| !usable[*i]))
    }

    fn is_leaving(&self, swatches: [usize; 3]) -> bool {
        self.ask.leaving.is_some_and(|leaving| swatches.iter().any(|i| leaving[*i]))
    }

    fn scheme(&self, swatches: [usize; 3]) -> Scheme {
        Scheme::of(swatches.map(|i| self.places[i]))
    }

    fn is_dismissed(&self, swatches: [usize; 3]) -> bool {
        self.ask.dismissed.iter().any(|three| swatches.iter().all(|i| three.contains(i)))
    }

    /// The parts of the list in their order.
    fn parts(&self) -> Vec<Part> {
        let bought: &[usize] = if self.ask.usable.is_some() { &[0, 1] } else { &[0] };
        let leaving: &[Option<bool>] =
            if self.ask.leaving.is_some() { &[Some(true), Some(false)] } else { &[None] };
        let mut parts = Vec::new();
        for bought in bought.iter().copied() {
            let most = if bought == 0 { self.ask.most } else { TO_BUY };
            for leaving in leaving.iter().copied() {
                parts.extend([false, true].map(|seldom| Part { seldom, bought, leaving, most }));
            }
        }
        parts
    }

    /// The list, by scheme or without, of three colours to the eye or of any three swatches.
    fn list(&self, scheme: Option<Scheme>, three: bool) -> Vec<Trio> {
        let mut list: Vec<Trio> = Vec::new();
        let parts = self.parts();
        let share = self.ask.looks / parts.len().max(1) as u64;
        for part in parts {
            self.looks.set(share);
            let done = list.iter().filter(|t| usize::from(t.to_buy.is_some()) == part.bought).count();
            self.fill(part, part.most.saturating_sub(done), (scheme, three), &mut list);
            self.all_seen.set(self.all_seen.get() && self.looks.get() > 0);
        }
        for trio in &mut list {
            trio.short.scheme = self.ask.scheme.filter(|asked| scheme != Some(*asked));
        }
        list
    }

    /// Adds the best of a part until its room is full; by scheme or without, of three colours to the eye or of any three.
    fn fill(&self, part: Part, room: usize, (scheme, three): (Option<Scheme>, bool), list: &mut Vec<Trio>) {
        if room == 0 {
            return;
        }
        let end = list.len() + room;
        let shown = RefCell::new(list.iter().map(|trio| self.shown(trio.swatches)).collect::<Vec<_>>());
        // What is like one shown already is not even met: in a library of one hue that is nearly all.
        let passes_over = |three| self.ask.varied && self.is_like_one(three, &shown.borrow());
        let pair = |i: usize, j: usize| self.pair(i, j);
        let fits = |three| !passes_over(three) && self.fits(three, part, scheme);
        for candidate in best_of(self.walks(three, &pair, &fits)) {
            let seldom = is_seldom(candidate.weakest());
            // The order falls: behind the first pair that is seldom chosen there are no others.
            if list.len() == end || (seldom && !part.seldom) {
                break;
            }
            // The cheaper questions first: a varied list may pass over thousands.
            if seldom != part.seldom
                || passes_over(candidate.swatches)
                || (three && !self.are_three(candidate.swatches))
            {
                continue;
            }
            list.push(self.finish(&candidate));
            shown.borrow_mut().push(self.shown(candidate.swatches));
        }
    }

    /// One walk for each base. A pair that holds an earlier base was met in that base's turn; where three colours are wanted,
    /// a guest that is one colour with the base makes none.
    fn walks<'w>(
        &'w self,
        three: bool,
        pair: &'w dyn Fn(usize, usize) -> f64,
        fits: &'w dyn Fn([usize; 3]) -> bool,
    ) -> Vec<Walk<'w>> {
        let (bases, looks) = (self.ask.bases, &self.looks);
        let walk = |(turn, base): (usize, &usize)| {
            let lab = |i: usize| self.ask.swatches[i].lab;
            let is_apart = |i: usize| !three || ciede2000(lab(i), lab(*base)) >= ONE_COLOUR;
            let may = |i: &usize| i != base && !bases[..turn].contains(i) && is_apart(*i);
            let guest = |(turn, place): (usize, usize)| Guest { place, to_base: pair(*base, place), turn };
            let guests = self.guests.iter().copied().enumerate().filter(|(_, i)| may(i)).map(guest);
            Walk::new(*base, guests.collect(), pair, fits, looks)
        };
        bases.iter().enumerate().map(walk).collect()
    }

    fn fits(&self, three: [usize; 3], part: Part, scheme: Option<Scheme>) -> bool {
        let held = three.iter().filter(|i| self.ask.bases.contains(i)).count();
        held >= self.ask.held
            && self.to_buy(three).count() == part.bought
            && part.leaving.is_none_or(|leaving| leaving == self.is_leaving(three))
            && scheme.is_none_or(|scheme| scheme == self.scheme(three))
            && !self.is_dismissed(three)
    }

    /// A trio as a varied list remembers it: its swatches and their hue families.
    fn shown(&self, swatches: [usize; 3]) -> ([usize; 3], [u8; 3]) {
        let mut families = swatches.map(|i| self.sectors[i]);
        families.sort_unstable();
        (swatches, families)
    }

    /// True where it shares two swatches or the same three hue families with one shown.
    fn is_like_one(&self, swatches: [usize; 3], all: &[([usize; 3], [u8; 3])]) -> bool {
        let (_, families) = self.shown(swatches);
        all.iter().any(|(other, theirs)| {
            let shared = swatches.iter().filter(|i| other.contains(i)).count();
            *theirs == families || shared >= 2
        })
    }

    fn are_three(&self, three: [usize; 3]) -> bool {
        are_apart(three.map(|i| self.ask.swatches[i].lab), ONE_COLOUR)
    }

    fn finish(&self, candidate: &Candidate) -> Trio {
        let three = candidate.swatches;
        let [a, b, c] = three;
        let labs = three.map(|i| self.ask.swatches[i].lab);
        let others = Deficiency::ALL.map(|kind| {
            let eyes = Eyes::new(kind, 1.0);
            are_apart(labs.map(|lab| eyes.lab(lab)), APART_FOR_OTHERS)
        });
        let tones: [HarmonyTone; 3] = labs.map(|lab| self.ask.model.tone(lab));
        let harmonies = [(0, 1), (0, 2), (1, 2)].map(|(i, j)| self.ask.model.pair(&tones[i], &tones[j]));
        let pairs = harmonies.map(|harmony| harmony.score);
        let least = (1..3).fold(0, |least, n| if pairs[n] < pairs[least] { n } else { least });
        let weakest = candidate.weakest();
        let at = candidate.liked.iter().position(|liked| *liked <= weakest).unwrap_or(0);
        let pair = [[a, b], [a, c], [b, c]][at];
        let habit = self.ask.habits.and_then(|habits| habits.words(self.kins[pair[0]], self.kins[pair[1]]));
        Trio {
            swatches: three,
            scheme: self.scheme(three),
            why: why(three.map(|i| self.colours[i])),
            liked: Liked { pairs: candidate.liked, weakest, pair, habit },
            pairs,
            weakest: pairs[least],
            term: harmonies[least].weakest_term(),
            distinct: Distinct { normal: are_apart(labs, APART), others },
            leaving: self.is_leaving(three),
            to_buy: self.to_buy(three).next(),
            short: TrioShort {
                scheme: None,
                seldom: is_seldom(weakest),
                close: !are_apart(labs, ONE_COLOUR),
            },
            all_seen: true,
        }
    }
}

fn are_apart([a, b, c]: [Lab; 3], least: f64) -> bool {
    [(a, b), (a, c), (b, c)].iter().all(|(x, y)| ciede2000(*x, *y) >= least)
}

#[cfg(test)]
mod tests;
