//! Which paper for a piece: the same size over every paper held.
//!
//! Cheapest is by what the pieces cost: the sheets that are opened, by their price; without a number of pieces, a full
//! sheet shared by its pieces. Waste is the share of those sheets that is no piece. Both are compared as fractions, so that
//! a tie is a tie. Among papers that leave, the one that is gone or goes first is to be used up first.

use super::held::HeldPaper;
use crate::domain::cutting::chart;
use crate::domain::cutting::question::Limits;
use crate::domain::cutting::stop::Stop;
use crate::domain::length::Unit;
use crate::domain::money::Money;
use crate::domain::plural::count_of;
use crate::domain::size::Size;
use crate::domain::stock::State;
use crate::domain::stock::cost::Each;
use jiff::civil::Date;
use std::cmp::Ordering;

/// What is asked of every paper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PaperAsk {
    /// The piece.
    pub piece: Size,
    /// It may lie turned.
    pub may_turn: bool,
    /// How many are wanted; none for as many as a sheet gives.
    pub count: Option<u32>,
    /// What the trimmer cannot do.
    pub limits: Limits,
    /// The papers.
    pub papers: Vec<HeldPaper>,
    /// What prices are in.
    pub currency: String,
}

/// What one paper gives.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PaperRow {
    /// The paper.
    pub paper: HeldPaper,
    /// Pieces a sheet.
    pub a_sheet: u32,
    /// True where no more can be had.
    pub proved: bool,
    /// Sheets for the pieces wanted.
    pub sheets: u64,
    /// The pieces that these sheets are for: as many as are wanted, or a sheet's.
    pub pieces: u64,
    /// True where so many sheets are free.
    pub is_enough: bool,
}

impl PaperRow {
    /// What a piece costs; none without a price.
    pub fn each(&self) -> Option<Each> {
        let (price, pack) = self.paper.price?;
        // The pack may hold many: the price of all sheets, times the pack, is shared by pieces times the pack.
        let total = price.checked_mul(self.sheets)?;
        Some(Each { total, of: self.pieces * u64::from(pack) })
    }

    /// What all of them cost, to the nearest minor unit.
    pub fn total(&self) -> Option<Money> {
        let (price, pack) = self.paper.price?;
        Some(price.part(self.sheets, u64::from(pack)))
    }

    /// The share of the sheets that is no piece, in percent, rounded to the nearest.
    pub fn waste_percent(&self, piece: Size) -> u32 {
        let (used, whole) = self.areas(piece);
        if whole == 0 {
            0
        } else {
            u32::try_from((200 * (whole - used) + whole) / (2 * whole)).unwrap_or(100)
        }
    }

    fn areas(&self, piece: Size) -> (i128, i128) {
        (piece.area() * i128::from(self.pieces), self.paper.size.area() * i128::from(self.sheets))
    }
}

/// The papers side by side.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct PaperChoice {
    /// Papers that give at least one piece: those of which enough is there first, then by waste.
    pub rows: Vec<PaperRow>,
    /// Rows of the least cost; more than one is a tie.
    pub cheapest: Vec<usize>,
    /// Rows of the least waste.
    pub least_waste: Vec<usize>,
    /// Rows of the leaving paper that goes first.
    pub leaving: Vec<usize>,
    /// Papers without a price, which were not compared by it.
    pub unpriced: usize,
    /// Papers that give none.
    pub too_small: usize,
}

/// Compares the papers.
pub fn choose(ask: &PaperAsk, stop: &Stop) -> PaperChoice {
    let mut out = PaperChoice::default();
    for paper in &ask.papers {
        if stop.is_asked() {
            break;
        }
        let cell = chart::cell(paper.size, ask.piece, ask.may_turn && !paper.one_way, ask.limits);
        if cell.best == 0 {
            out.too_small += 1;
            continue;
        }
        let pieces = u64::from(ask.count.unwrap_or(cell.best));
        let sheets = pieces.div_ceil(u64::from(cell.best));
        let is_enough = paper.free >= sheets;
        let paper = paper.clone();
        out.rows.push(PaperRow { paper, a_sheet: cell.best, proved: cell.proved, sheets, pieces, is_enough });
    }
    let piece = ask.piece;
    out.rows.sort_by(|a, b| {
        b.is_enough
            .cmp(&a.is_enough)
            .then_with(|| by_waste(piece, a, b))
            .then_with(|| a.paper.name.cmp(&b.paper.name))
    });
    out.unpriced = out.rows.iter().filter(|r| r.each().is_none()).count();
    out.cheapest = firsts(&out.rows, |r| r.each().is_some(), by_cost);
    out.least_waste = firsts(&out.rows, |_| true, |a, b| by_waste(piece, a, b));
    out.leaving = firsts(&out.rows, |r| r.paper.is_leaving(), |a, b| goes(a).cmp(&goes(b)));
    out
}

fn by_waste(piece: Size, a: &PaperRow, b: &PaperRow) -> Ordering {
    let ((used_a, whole_a), (used_b, whole_b)) = (a.areas(piece), b.areas(piece));
    // Most used first.
    (used_b * whole_a).cmp(&(used_a * whole_b))
}

fn by_cost(a: &PaperRow, b: &PaperRow) -> Ordering {
    let key =
        |r: &PaperRow| r.each().map_or((i128::MAX, 1), |e| (i128::from(e.total.minor()), i128::from(e.of)));
    let ((total_a, of_a), (total_b, of_b)) = (key(a), key(b));
    (total_a * of_b).cmp(&(total_b * of_a))
}

/// The day until which it can be had: gone is first.
fn goes(row: &PaperRow) -> Option<Date> {
    match row.paper.state {
        State::Leaving(day) => Some(day),
        _ => None,
    }
}

/// The rows that no other comes before: among those of which enough is there, and only where none is among all.
fn firsts(
    rows: &[PaperRow],
    counts: impl Fn(&PaperRow) -> bool,
    order: impl Fn(&PaperRow, &PaperRow) -> Ordering,
) -> Vec<usize> {
    let all: Vec<usize> = (0..rows.len()).filter(|n| rows.get(*n).is_some_and(&counts)).collect();
    let enough: Vec<usize> =
        all.iter().copied().filter(|n| rows.get(*n).is_some_and(|r| r.is_enough)).collect();
    let among = if enough.is_empty() { all } else { enough };
    let row = |n: usize| rows.get(n);
    let Some(first) = among.iter().filter_map(|n| row(*n)).min_by(|a, b| order(a, b)) else {
        return Vec::new();
    };
    among.into_iter().filter(|n| row(*n).is_some_and(|r| order(r, first) == Ordering::Equal)).collect()
}

/// The answer in lines: what comes first in each respect, then every paper.
pub fn lines(ask: &PaperAsk, choice: &PaperChoice, unit: Unit) -> Vec<String> {
    let mut all = vec![heading(ask, unit)];
    all.extend(wishes(choice));
    all.extend(choice.rows.iter().map(|row| format!("  {}", row_words(row, ask, unit))));
    if choice.too_small > 0 {
        all.push(format!("{} too small for it.", are(choice.too_small, "paper")));
    }
    all
}

/// What was asked: `6 of 4 x 5 1/4 in from papers with free sheets`.
pub fn heading(ask: &PaperAsk, unit: Unit) -> String {
    let many = ask.count.map_or_else(String::new, |n| format!("{n} of "));
    format!("{many}{} from papers with free sheets", ask.piece.show_with_unit(unit))
}

fn are(n: usize, word: &str) -> String {
    format!("{} {}", count_of(n as u64, word), if n == 1 { "is" } else { "are" })
}

/// Most papers of a tie that are named.
const MOST_NAMES: usize = 4;

/// What comes first in each respect; ties are said.
pub fn wishes(choice: &PaperChoice) -> Vec<String> {
    if choice.rows.is_empty() {
        return vec!["No paper with a free sheet is large enough.".to_owned()];
    }
    let names = |of: &[usize]| -> String {
        if of.len() > MOST_NAMES {
            return format!("{} alike", count_of(of.len() as u64, "paper"));
        }
        let names = of.iter().filter_map(|n| choice.rows.get(*n)).map(|r| r.paper.name.as_str());
        names.collect::<Vec<_>>().join("; ")
    };
    let row = |words: &str, of: &[usize]| {
        let tie = if (2..=MOST_NAMES).contains(&of.len()) { " (a tie)" } else { "" };
        let short = match of.first().and_then(|n| choice.rows.get(*n)) {
            Some(row) if !row.is_enough => ", too few of it free",
            _ => "",
        };
        (!of.is_empty()).then(|| format!("{words}: {}{tie}{short}.", names(of)))
    };
    // Papers with too few sheets are not compared with those that have enough.
    let is_enough = |n: &usize| choice.rows.get(*n).is_some_and(|row| row.is_enough);
    let is_part = choice.rows.iter().any(|row| !row.is_enough) && choice.least_waste.iter().all(is_enough);
    let mut all: Vec<String> = [
        row("Cheapest", &choice.cheapest),
        row(if is_part { "Least waste where enough are free" } else { "Least waste" }, &choice.least_waste),
        row("Uses up leaving paper", &choice.leaving),
    ]
    .into_iter()
    .flatten()
    .collect();
    if choice.unpriced > 0 && !choice.cheapest.is_empty() {
        all.push(format!("{} without a price and not compared by it.", are(choice.unpriced, "paper")));
    } else if choice.cheapest.is_empty() {
        all.push("No price is known: give the papers their prices in Stock.".to_owned());
    }
    all
}

/// One paper in words.
pub fn row_words(row: &PaperRow, ask: &PaperAsk, unit: Unit) -> String {
    let paper = &row.paper;
    let mut parts = vec![format!("{} a sheet", row.a_sheet)];
    parts.push(format!("{} for {}", count_of(row.sheets, "sheet"), row.pieces));
    parts.push(format!("{} % waste", row.waste_percent(ask.piece)));
    parts.extend(row.each().map(|each| format!("{} each", each.show_finely(&ask.currency))));
    let free =
        if row.is_enough { format!("{} free", paper.free) } else { format!("only {} free", paper.free) };
    parts.push(free);
    parts.extend(paper.is_leaving().then(|| paper.state.word().to_owned()));
    if !row.proved {
        parts.push("best found".to_owned());
    }
    format!("{}, {}: {}", paper.name, paper.size.as_made(unit), parts.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::length::Unit;
    use crate::domain::stock::ItemId;

    fn paper(name: &str, size: &str, free: u64, price: i64, state: State) -> HeldPaper {
        HeldPaper {
            item: ItemId(1),
            name: name.to_owned(),
            size: Size::parse(size, Unit::Inch).unwrap(),
            free,
            one_way: false,
            state,
            price: (price > 0).then(|| (Money::from_minor(price), 1)),
        }
    }

    fn ask(piece: &str, count: Option<u32>, papers: Vec<HeldPaper>) -> PaperAsk {
        PaperAsk {
            piece: Size::parse(piece, Unit::Inch).unwrap(),
            may_turn: true,
            count,
            limits: Limits::NONE,
            papers,
            currency: "$".to_owned(),
        }
    }

    fn names(choice: &PaperChoice, of: &[usize]) -> Vec<String> {
        of.iter().map(|n| choice.rows[*n].paper.name.clone()).collect()
    }

    /// By hand: of 4 x 5 1/4 a letter sheet gives 4 (2 x 2), 12 x 12 gives 6 (3 x 2). At 0.20 and 0.30 a sheet each piece
    /// costs 0.05 either way: a tie. Waste of 4 on letter: 93.5 - 84 = 9.5 of 93.5, 10 %; of 6 on 12 x 12: 18 of 144, 12.5 %.
    /// For 6 pieces letter needs two sheets (0.40), 12 x 12 one (0.30).
    #[test]
    fn cheapest_least_waste_and_ties() {
        let papers = || {
            vec![
                paper("letter", "8.5x11", 9, 20, State::Current),
                paper("square", "12x12", 9, 30, State::Current),
                paper("tiny", "3x3", 9, 1, State::Current),
            ]
        };
        let by_sheet = choose(&ask("4x5.25", None, papers()), &Stop::default());
        assert_eq!(names(&by_sheet, &by_sheet.cheapest), ["letter", "square"]);
        assert_eq!(names(&by_sheet, &by_sheet.least_waste), ["letter"]);
        let waste = |name: &str| {
            let row = by_sheet.rows.iter().find(|r| r.paper.name == name).unwrap();
            row.waste_percent(Size::parse("4x5.25", Unit::Inch).unwrap())
        };
        assert_eq!((waste("letter"), waste("square"), by_sheet.too_small), (10, 13, 1));
        let six = choose(&ask("4x5.25", Some(6), papers()), &Stop::default());
        assert_eq!(names(&six, &six.cheapest), ["square"]);
        assert_eq!(six.rows.iter().map(|r| r.sheets).sum::<u64>(), 3);
    }

    #[test]
    fn papers_that_fall_short_come_after_those_that_do() {
        let day = |d| State::Leaving(jiff::civil::date(2026, 12, d));
        let papers = vec![
            paper("few", "12x12", 1, 1, State::Gone),
            paper("later", "12x12", 5, 0, day(9)),
            paper("sooner", "12x12", 5, 0, day(2)),
        ];
        let choice = choose(&ask("4x5.25", Some(12), papers), &Stop::default());
        // One sheet of "few" is no answer for twelve: two are needed.
        assert_eq!(names(&choice, &choice.leaving), ["sooner"]);
        assert_eq!(choice.unpriced, 2);
        assert_eq!(choice.rows.last().map(|r| r.paper.name.as_str()), Some("few"));
        // Nothing else has a price and enough: the cheapest is said of what there is.
        assert_eq!(names(&choice, &choice.cheapest), ["few"]);
    }
}
