//! A sheet used up: one sheet cut from edge to edge into panels that all go on card fronts, with nothing left over but
//! strips no wider than a margin.
//!
//! A panel goes on a front where it leaves at least the reveal all round and its short side covers at least half of the
//! front's short side. The sheet is parted by settings of the fence that are tried out: every set of up to three on eighths
//! of an inch, and of four on quarters. What lies beyond the blade needs no setting: it may be any size that goes on a
//! front. For each set the recursion over panels finds every number of cards that it makes ([`panels`]): the suggestions
//! are, for each number of cards, a layout of the fewest settings. Beside them stands the one with the most different
//! sizes of panel ([`variety`]): sets of settings that cannot have more than are known are left out by a bound ([`bound`]),
//! and the others are looked through, first roughly, then wholly. Where the steps run out what was found is said to be the
//! best found. It knows no papers.

use super::stop::Stop;
use super::tree::Tree;
use crate::domain::length::Length;
use crate::domain::size::Size;

mod ask;
mod board;
mod bound;
mod panels;
mod variety;
mod words;

use ask::{Cuts, parts};
pub use ask::{USUAL_REVEAL, UsedUpAsk, UsedUpError};
use board::Board;
use panels::{Counts, Places};
use variety::{Better, Reach};
pub use words::{heading, looked_words, panel_lines, title};

/// By what a suggestion is first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum First {
    /// Most cards.
    Cards,
    /// Most different panels.
    Variety,
    /// Fewest settings of the fence.
    Settings,
}

impl First {
    /// All, in the order in which they are shown.
    pub const ALL: [Self; 3] = [Self::Cards, Self::Variety, Self::Settings];

    /// The words for it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Cards => "most cards",
            Self::Variety => "most variety",
            Self::Settings => "fewest settings",
        }
    }

    /// The word stored in answers for programs.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Cards => "cards",
            Self::Variety => "variety",
            Self::Settings => "settings",
        }
    }
}

/// One way to use the sheet up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Suggestion {
    /// What it is the first by.
    pub first_by: Vec<First>,
    /// The settings of the fence.
    pub settings: Vec<Length>,
    /// Panels by their size on the front, and how many of each, the largest first; the rows of the tree.
    pub panels: Vec<(Size, u32)>,
    /// The cuts.
    pub tree: Tree,
    /// True where a strip within the margin is left over.
    pub has_rest: bool,
}

impl Suggestion {
    /// Cards that it makes.
    pub fn cards(&self) -> u32 {
        self.panels.iter().map(|p| p.1).sum()
    }
}

/// The suggestions.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct UsedUp {
    /// The most cards first, for each number of cards one of the fewest settings; where it stands apart, the most variety.
    pub suggestions: Vec<Suggestion>,
    /// True where every set of up to three settings on eighths and of four on quarters was looked through: no layout of
    /// these has more cards, or as many with fewer settings.
    pub complete: bool,
    /// True where none of them has more different panels either.
    pub variety_complete: bool,
    /// Sets of settings that were looked through.
    pub looked: u32,
}

/// How far the search goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct UsedUpEffort {
    /// Most settings on eighths.
    pub on_eighths: usize,
    /// Most settings on quarters.
    pub on_quarters: usize,
    /// Cuts of panels that are looked at before what was found is taken.
    pub steps: u64,
    /// Steps that the search for variety takes at most: pairs of sets of sizes, and cuts that are added up.
    pub variety: u64,
}

impl UsedUpEffort {
    /// Three settings on eighths, four on quarters. With fronts of 4 1/4 x 5 1/2 letter takes about 1 second and 12 x 12
    /// about 4, small fronts up to about 50 (one core of a small machine, optimised); what takes more steps than these ends
    /// with the best found.
    pub const WHOLE: Self =
        Self { on_eighths: 3, on_quarters: 4, steps: 200_000_000, variety: 6_000_000_000 };
}

/// Looks for the suggestions. A question that [`UsedUpAsk::check`] refuses has none.
pub fn suggest(ask: &UsedUpAsk, effort: UsedUpEffort, stop: &Stop) -> UsedUp {
    suggest_telling(ask, effort, stop, &mut |_| {})
}

/// The same; `so_far` hears what is known before the search for variety, and whenever one of its rounds is over.
pub fn suggest_telling(
    ask: &UsedUpAsk,
    effort: UsedUpEffort,
    stop: &Stop,
    so_far: &mut dyn FnMut(UsedUp),
) -> UsedUp {
    let mut search = Search {
        ask,
        effort,
        out: UsedUp { complete: true, ..UsedUp::default() },
        by_cards: Vec::new(),
        most_kinds: None,
        may_vary: Vec::new(),
    };
    if ask.check().is_err() {
        return search.out;
    }
    let (eighth, quarter) = (Length::sixteenths(2), Length::sixteenths(4));
    let rounds = [(eighth, 0, effort.on_eighths), (quarter, effort.on_eighths + 1, effort.on_quarters)];
    for (grid, from, to) in rounds {
        let values = settings(ask, grid);
        for count in from..=to {
            let done = each_set(&values, count, &mut |set| {
                search.look(set);
                search.effort.steps > 0 && !stop.is_asked()
            });
            search.out.complete &= done;
        }
    }
    search.look_for_variety(stop, so_far);
    search.suggestions()
}

/// A layout that was found.
#[derive(Clone, Debug)]
struct Found {
    cards: u32,
    cuts: Cuts,
}

struct Search<'a> {
    ask: &'a UsedUpAsk,
    effort: UsedUpEffort,
    out: UsedUp,
    /// For each number of cards the first that was found: sets come by their size, so that none has fewer settings.
    by_cards: Vec<Found>,
    /// The most sizes, the most cards with them.
    most_kinds: Option<(u32, Found)>,
    /// The sizes that a set of settings can have at most, roughly, and the set.
    may_vary: Vec<(u32, Vec<i64>)>,
}

/// The longest list of sets of sizes that is kept of a panel, and the steps that its bound is looked for, round by round:
/// what is found in one makes the next shorter, and for what is hard to rule out a better bound is worth its time.
const ROUNDS: [(usize, usize); 4] = [(60, 120), (400, 120), (20_000, 600), (150_000, 600)];

/// One in so many of all steps may go into more cards with as many sizes.
const PART_FOR_CARDS: u64 = 48;

impl Search<'_> {
    fn look(&mut self, set: &[i64]) {
        self.out.looked += 1;
        let places = Places::new(self.ask, set);
        self.effort.steps = self.effort.steps.saturating_sub(1 + places.len() as u64 / 8);
        let (least, most) = places.bounds();
        let may_vary = bound::by_sides(&places);
        self.may_vary.push((may_vary, set.to_vec()));
        let is_open = |n: usize| !self.by_cards.iter().any(|f| f.cards as usize == n);
        if !(least..=most).any(is_open) {
            return;
        }
        let mut counts = Counts::new(places, self.effort.steps);
        for n in counts.all().iter().filter(|n| *n > 0) {
            if !self.by_cards.iter().any(|f| f.cards as usize == n) {
                let cuts = counts.cuts(counts.places.whole(), n);
                self.by_cards.push(Found { cards: n as u32, cuts });
            }
        }
        self.effort.steps = counts.steps;
    }

    /// Sets of settings that may have the most sizes come first, so that most of the others need not be looked at. Where the
    /// steps run out nothing is said to be proved.
    fn look_for_variety(&mut self, stop: &Stop, so_far: &mut dyn FnMut(UsedUp)) {
        let mut all = std::mem::take(&mut self.may_vary);
        all.sort_by_key(|(most, set)| (std::cmp::Reverse(*most), set.len()));
        let mut steps = self.effort.variety;
        let mut open: Vec<&(u32, Vec<i64>)> = all.iter().collect();
        let mut likely = Vec::new();
        for (longest, bound) in ROUNDS {
            so_far(self.suggestions());
            let mut reach = Reach { longest, bound, steps: &mut steps, stop };
            let mut left = Vec::new();
            for one in open {
                if one.0 <= self.kinds() {
                    break;
                }
                if reach.is_over() {
                    return;
                }
                if !self.vary(&one.1, Better::Sizes, &mut reach) {
                    left.push(one);
                }
            }
            open = left;
            if likely.is_empty() {
                likely.clone_from(&open);
            }
        }
        self.out.variety_complete = self.out.complete && open.iter().all(|(most, _)| *most <= self.kinds());
        // Of layouts with as many sizes the one with the most cards; where one was hard to rule out it is likely.
        steps = steps.min(self.effort.variety / PART_FOR_CARDS);
        let (longest, bound) = ROUNDS[1];
        let mut reach = Reach { longest, bound, steps: &mut steps, stop };
        let kinds = self.kinds();
        for (_, set) in likely.into_iter().chain(all.iter().take_while(|(most, _)| *most >= kinds)) {
            if reach.is_over() {
                break;
            }
            self.vary(set, Better::Cards, &mut reach);
        }
    }

    /// The most sizes that are known.
    fn kinds(&self) -> u32 {
        self.most_kinds.as_ref().map_or(0, |(kinds, _)| *kinds)
    }

    /// Looks through one set of settings for what is better than what is known; false where it was not looked through wholly.
    fn vary(&mut self, set: &[i64], better: Better, reach: &mut Reach<'_>) -> bool {
        let Some(board) = Board::new(&Places::new(self.ask, set)) else { return true };
        let known = self.most_kinds.as_ref().map_or((0, 0), |(kinds, f)| (*kinds, f.cards));
        let best = variety::best(&board, (known, better), reach);
        if let Some((kinds, cards, cuts)) = best.layout {
            self.most_kinds = Some((kinds, Found { cards, cuts }));
        }
        best.whole
    }

    /// The most cards first, each layout once, marked with what it is first by.
    fn suggestions(&self) -> UsedUp {
        let ask = self.ask;
        let mut all: Vec<Suggestion> = self.by_cards.iter().map(|f| suggestion(ask, f)).collect();
        all.sort_by_key(|s| std::cmp::Reverse(s.cards()));
        if let Some(first) = all.first_mut() {
            first.first_by.push(First::Cards);
        }
        let fewest = all.iter().map(|s| (s.settings.len(), std::cmp::Reverse(s.cards()))).min();
        if let Some(s) =
            all.iter_mut().find(|s| Some((s.settings.len(), std::cmp::Reverse(s.cards()))) == fewest)
        {
            s.first_by.push(First::Settings);
        }
        if let Some((kinds, found)) = &self.most_kinds {
            let figures = (*kinds as usize, found.cards);
            if let Some(same) = all.iter_mut().find(|s| (s.panels.len(), s.cards()) == figures) {
                same.first_by.push(First::Variety);
            } else {
                let one = suggestion(ask, found);
                let at = all.iter().position(|s| s.cards() < one.cards()).unwrap_or(all.len());
                all.insert(at, Suggestion { first_by: vec![First::Variety], ..one });
            }
        }
        UsedUp { suggestions: all, ..self.out.clone() }
    }
}

/// Every setting that may be of use: a panel at least on either side of the blade.
fn settings(ask: &UsedUpAsk, grid: Length) -> Vec<i64> {
    let (least, long) = (ask.narrowest(), ask.sheet.long());
    let first = (least.units() + grid.units() - 1) / grid.units();
    let last = (long.units() - 1) / grid.units();
    (first..=last).map(|n| n * grid.units()).collect()
}

/// Every set of so many values; false where it was ended early.
fn each_set(values: &[i64], count: usize, look: &mut dyn FnMut(&[i64]) -> bool) -> bool {
    fn go(values: &[i64], count: usize, set: &mut Vec<i64>, look: &mut dyn FnMut(&[i64]) -> bool) -> bool {
        if count == 0 {
            return look(set);
        }
        for (at, value) in values.iter().enumerate() {
            set.push(*value);
            let on = go(&values[at + 1..], count - 1, set, look);
            set.pop();
            if !on {
                return false;
            }
        }
        true
    }
    go(values, count, &mut Vec::new(), look)
}

/// The panels of a layout as rows, and the settings that it really takes.
fn suggestion(ask: &UsedUpAsk, found: &Found) -> Suggestion {
    let mut sizes: Vec<Size> = Vec::new();
    walk(&found.cuts, ask.sheet, &mut |panel| sizes.push(ask.on_front(panel)));
    sizes.sort_by_key(|s| std::cmp::Reverse((s.area(), *s)));
    sizes.dedup();
    let mut panels: Vec<(Size, u32)> = sizes.iter().map(|s| (*s, 0)).collect();
    let mut settings: Vec<Length> = Vec::new();
    let mut has_rest = false;
    let mut told = Told { panels: &mut panels, settings: &mut settings, has_rest: &mut has_rest };
    let tree = tree_of(&found.cuts, ask, ask.sheet, &mut told);
    settings.sort_unstable();
    settings.dedup();
    Suggestion { first_by: Vec::new(), settings, panels, tree, has_rest }
}

/// What is noted while a tree is built.
struct Told<'a> {
    panels: &'a mut Vec<(Size, u32)>,
    settings: &'a mut Vec<Length>,
    has_rest: &'a mut bool,
}

fn walk(cuts: &Cuts, panel: Size, tell: &mut dyn FnMut(Size)) {
    match cuts {
        Cuts::Panel => tell(panel),
        Cuts::Rest => {}
        Cuts::At(line, at, both) => {
            let (first, second) = parts(panel, *line, *at);
            walk(&both.0, first, tell);
            walk(&both.1, second, tell);
        }
    }
}

/// The cuts as a tree; what is made of the sheet is noted on the way.
fn tree_of(cuts: &Cuts, ask: &UsedUpAsk, panel: Size, told: &mut Told<'_>) -> Tree {
    match cuts {
        Cuts::Panel => {
            let lies = ask.on_front(panel);
            let row = told.panels.iter().position(|p| p.0 == lies).unwrap_or(0);
            if let Some(n) = told.panels.get_mut(row) {
                n.1 += 1;
            }
            Tree::Piece { piece: row, turned: lies != panel }
        }
        Cuts::Rest => {
            *told.has_rest = true;
            Tree::Offcut
        }
        Cuts::At(line, at, both) => {
            told.settings.push(Length::from_units(*at));
            let (first, second) = parts(panel, *line, *at);
            let (first, second) = (tree_of(&both.0, ask, first, told), tree_of(&both.1, ask, second, told));
            Tree::split(*line, Length::from_units(*at), first, second)
        }
    }
}

#[cfg(test)]
mod tests;
