//! What is said of a trio: in a person's words why it stands where it stands, and on request the figures behind that.
//!
//! Words are those of people who put papers together; times chance and the published model's score are for those who ask.
//! Knows trios and names, ranks nothing.

use super::super::difference::ciede2000;
use super::super::harmony::{HarmonyModel, Term};
use super::super::liking::{Liking, Shade, how_chosen, is_seldom, times};
use super::super::swatch::Swatch;
use super::super::trio_words::why;
use super::super::vision::Deficiency;
use super::{Distinct, ONE_COLOUR, Trio, TrioQuestion, TrioShort, trios};

/// The head over trios that are only the nearest that can be done.
pub const NEAREST: &str = "Nearest that can be done";

/// What is said of three colours.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TrioWords {
    /// Why they make something together.
    pub why: String,
    /// Their weakest pair, and how often people choose it.
    pub reason: String,
    /// The same in figures, with the published model's second opinion.
    pub figures: String,
    /// In what they are only the nearest that can be done.
    pub short: TrioShort,
}

impl Trio {
    /// What is said of it, by what its swatches are called.
    pub fn said(&self, name: impl Fn(usize) -> String) -> TrioWords {
        let pair = self.liked.pair.map(name);
        let habit = self.liked.habit.as_ref().map(|words| format!(" ({words})")).unwrap_or_default();
        TrioWords {
            why: self.why.clone(),
            reason: reason(&pair, self.liked.weakest, &habit),
            figures: figures(&pair, self.liked.weakest, (self.weakest, self.term)),
            short: self.short,
        }
    }
}

/// What is said of any three colours. For trios that a person puts together, which need not be in a list.
pub fn words_of(three: [&Swatch; 3]) -> TrioWords {
    let shades = three.map(|s| Shade::of(s.lab));
    let pair = |i: usize, j: usize| (Liking::shipped().pair(&shades[i], &shades[j]), [i, j]);
    let pairs = [pair(0, 1), pair(0, 2), pair(1, 2)];
    let (liked, places) = pairs.into_iter().reduce(|x, y| if y.0 < x.0 { y } else { x }).unwrap_or_default();
    let names = places.map(|n| three[n].label().to_owned());
    let is_close = |[i, j]: [usize; 2]| ciede2000(three[i].lab, three[j].lab) < ONE_COLOUR;
    let short = TrioShort {
        scheme: None,
        seldom: is_seldom(liked),
        close: [[0, 1], [0, 2], [1, 2]].into_iter().any(is_close),
    };
    TrioWords {
        why: why(three.map(|s| s.lab.oklch())),
        reason: reason(&names, liked, ""),
        figures: figures(&names, liked, second_opinion(three)),
        short,
    }
}

fn reason([one, two]: &[String; 2], liked: f64, habit: &str) -> String {
    format!("its weakest pair, {one} and {two}, is {}{habit}", how_chosen(liked))
}

fn figures([one, two]: &[String; 2], liked: f64, (score, term): (f64, Term)) -> String {
    format!(
        "{one} and {two} are chosen together {}; published harmony model, weakest pair {score:.2}, held back by {}",
        times(liked),
        term.name()
    )
}

/// The published model's weakest pair of three: its score and what holds it back.
fn second_opinion(three: [&Swatch; 3]) -> (f64, Term) {
    let model = HarmonyModel::OU_LUO;
    let tones = three.map(|s| model.tone(s.lab));
    let mut weakest = model.pair(&tones[0], &tones[1]);
    for (i, j) in [(0, 2), (1, 2)] {
        let pair = model.pair(&tones[i], &tones[j]);
        if pair.score < weakest.score {
            weakest = pair;
        }
    }
    (weakest.score, weakest.weakest_term())
}

impl Distinct {
    /// Whose eyes may not tell the colours apart, by the names of the deficiencies where figures are wanted; nothing where
    /// all do.
    pub fn words(self, figures: bool) -> Option<String> {
        let lost: Vec<&str> = Deficiency::ALL
            .iter()
            .zip(self.others)
            .filter(|(_, apart)| !apart)
            .map(|(kind, _)| kind.name())
            .collect();
        let names = if figures { format!(" ({})", lost.join(", ")) } else { String::new() };
        match (self.normal, lost.is_empty()) {
            (false, _) => Some("two of its colors are close".to_owned()),
            (true, false) => Some(format!("color-blind eyes{names} may not tell them apart")),
            (true, true) => None,
        }
    }
}

/// Why a list of trios is empty.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoTrio {
    /// There are only so many colours, and a trio takes three.
    TooFew(usize),
    /// Every trio that there is was dismissed.
    Dismissed,
    /// Two of the three or more would have to be bought.
    NotOnHand,
    /// There is nothing that a trio could go with.
    NoBase,
}

/// Why there is no trio for a question.
pub fn why_none(ask: &TrioQuestion<'_>) -> NoTrio {
    let is_made = |ask: TrioQuestion<'_>| {
        !trios(&TrioQuestion { varied: false, scheme: None, most: 1, ..ask }).is_empty()
    };
    if ask.bases.is_empty() {
        NoTrio::NoBase
    } else if ask.swatches.len() < 3 {
        NoTrio::TooFew(ask.swatches.len())
    } else if is_made(TrioQuestion { dismissed: &[], ..*ask }) {
        NoTrio::Dismissed
    } else if is_made(TrioQuestion { dismissed: &[], usable: None, ..*ask }) {
        NoTrio::NotOnHand
    } else {
        NoTrio::TooFew(ask.bases.len())
    }
}

impl TrioShort {
    /// In what the trio is only the nearest that can be done; nothing for one that goes together as asked.
    pub fn words(self) -> Option<String> {
        let mut parts = Vec::new();
        parts.extend(self.scheme.map(|scheme| format!("no {} trio can be made here", scheme.name())));
        if self.close {
            parts.push("two of its colors are nearly one".to_owned());
        }
        if self.seldom {
            parts.push("people seldom choose such a pair".to_owned());
        }
        (!parts.is_empty()).then(|| parts.join(", "))
    }
}
