//! A line of the log in full: what was there after it, what it cost, what its job has taken and cost by then. Works on the book;
//! knows no screen.

use crate::domain::book::Book;
use crate::domain::money::Money;
use crate::domain::plural::count_of;
use crate::domain::stock::lot::{Draw, draws_of};
use crate::domain::stock::{ItemId, LogLine, OffcutId};
use std::collections::BTreeMap;

/// Most lines of a job that are added up.
const MOST: usize = 200;

/// What a line counts: sheets of an item, or pieces of an offcut.
type Counted = (ItemId, Option<OffcutId>);

fn there_now(book: &Book, (item, offcut): Counted) -> u64 {
    offcut.map_or_else(|| book.on_hand(item), |id| book.offcut_count(id))
}

/// How many of its thing were there after each of these lines, by line: on hand now less all that came later.
pub fn left_after<'a>(book: &Book, lines: impl Iterator<Item = &'a LogLine>) -> BTreeMap<u64, i64> {
    let asked: BTreeMap<u64, Counted> = lines.map(|line| (line.seq, (line.item, line.offcut))).collect();
    let Some(first) = asked.keys().next().copied() else { return BTreeMap::new() };
    let now = |of: Counted| i64::try_from(there_now(book, of)).unwrap_or(i64::MAX);
    let mut there: BTreeMap<Counted, i64> = asked.values().map(|of| (*of, now(*of))).collect();
    let mut all = BTreeMap::new();
    for line in book.log().iter().rev().take_while(|line| line.seq >= first) {
        let of = (line.item, line.offcut);
        let Some(left) = there.get_mut(&of) else { continue };
        if asked.contains_key(&line.seq) {
            all.insert(line.seq, *left);
        }
        *left -= line.change;
    }
    all
}

/// The lines of the log that one job has, the latest first; none where a line names no job, or the job has very many.
pub fn of_job<'a>(book: &'a Book, line: &LogLine) -> Vec<&'a LogLine> {
    if line.job.is_empty() {
        return Vec::new();
    }
    let all: Vec<&LogLine> = book.log().iter().rev().filter(|l| l.job == line.job).take(MOST + 1).collect();
    if all.len() > MOST { Vec::new() } else { all }
}

/// A line in words, each with what it is about; `job` are the lines of its job, as [`of_job`] gives them.
pub fn told(book: &Book, line: &LogLine, job: &[&LogLine]) -> Vec<(&'static str, String)> {
    let currency = &book.settings().currency;
    let left = left_after(book, std::iter::once(line)).get(&line.seq).copied().unwrap_or(0);
    let mut all = vec![
        ("changed", format!("{:+} {} on {}", line.change, line.reason.word(), line.date)),
        ("before", (left - line.change).to_string()),
        ("left after it", left.to_string()),
    ];
    if let Some(of) = line.voids {
        all.push(("voids", format!("line {of}")));
    } else if book.is_voided(line.seq) {
        all.push(("void", "a later line takes it back".to_owned()));
    }
    let there = there_now(book, (line.item, line.offcut));
    all.push(("now", format!("{there} on hand")));
    all.extend(line.price.map(|price| ("lot", format!("{} for {}", price.show(currency), line.change))));
    if !line.lot.is_empty() {
        all.push(("mark", line.lot.clone()));
    }
    let draws = draws_of(book, job.iter().copied().chain(std::iter::once(line)));
    all.extend(draws.get(&line.seq).map(|draw| ("cost", cost(draw, currency))));
    if !line.job.is_empty() {
        all.push(("job", line.job.clone()));
    }
    let by_then: Vec<&Draw> =
        job.iter().filter(|l| l.seq <= line.seq).filter_map(|l| draws.get(&l.seq)).collect();
    if by_then.len() > 1 {
        all.push(("its job so far", so_far(&by_then, currency)));
    }
    if let Some(work) = &line.work {
        let pieces = work.pieces.iter().map(|p| format!("{} {}", p.count, p.name)).collect::<Vec<_>>();
        all.push(("pieces", pieces.join(", ")));
    }
    all.retain(|(_, words)| !words.is_empty());
    all
}

fn cost(draw: &Draw, currency: &str) -> String {
    let words = draw.cost_words(currency);
    if words.is_empty() { "not known: its lots have no price".to_owned() } else { words }
}

/// What a job has used so far: `used in 3 lines, $4.20`, `over $4.20` where some have no price.
fn so_far(draws: &[&Draw], currency: &str) -> String {
    let uses = format!("used in {}", count_of(draws.len() as u64, "line"));
    let known = draws.iter().any(|draw| draw.known_cost().is_some());
    let over = if draws.iter().any(|draw| draw.unpriced > 0) { "over " } else { "" };
    let sum: Money = draws.iter().map(|draw| draw.cost).sum();
    if known { format!("{uses}, {over}{}", sum.show(currency)) } else { format!("{uses}, cost not known") }
}
