//! Ways that change what is cut, tried on a copy of the book: other papers in the place of the one that runs short, and
//! fewer spares.

use super::{Ask, How, Way};
use crate::domain::book::Book;
use crate::domain::cutlist;
use crate::domain::cutting::one_size;
use crate::domain::cutting::planner::{InTurn, Solver};
use crate::domain::cutting::question::Question;
use crate::domain::edit::{Edit, Row};
use crate::domain::money::Money;
use crate::domain::planning;
use crate::domain::plural::count_of;
use crate::domain::project::{Project, ProjectCard};
use crate::domain::sheet::Sheet;
use crate::domain::stock::class;
use crate::domain::stock::class_change::put_in_place;
use crate::domain::stock::instead::{self, Close, Instead};
use crate::domain::stock::needs::{Settled, needs};
use crate::domain::stock::shortage::missing_for;
use crate::domain::stock::{Item, ItemId, booked};
use std::collections::BTreeMap;

/// Rounds of work behind a trial: as many as leave a key unanswered for no longer than an eye notices.
const WORK: u32 = 2;
/// Colours that are named at the most, and other papers.
const MOST_COLOURS: usize = 3;
const MOST_PAPERS: usize = 2;

/// A project as it would be, with what it needs and lacks then.
#[derive(Clone)]
pub(super) struct Trial {
    needed: BTreeMap<ItemId, u64>,
    missing: BTreeMap<ItemId, u64>,
    edits: Vec<Edit>,
}

/// What a trial is for.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Planned {
    /// To tell what is short: sheets are counted.
    Roughly,
    /// To be taken: cut with as little work as a plan allows, and set aside. That takes ten times as long.
    Wholly,
}

impl Trial {
    /// `None` where the book refuses it, or where a piece has no sheet that it fits on.
    fn of(ask: &Ask, now: Project, planned: Planned) -> Option<Self> {
        let was = ask.book.projects().get(ask.id)?.clone();
        let change = Edit::Project(Row::alter(ask.id, was, now));
        let mut then: Book = ask.book.clone();
        then.apply(&change, ask.today).ok()?;
        let job = planning::job_of(&then, ask.id, &planning::trimmer(&then))?;
        let mut solver = Solver::new(job.job.clone(), planning::SEED);
        solver.rounds(WORK);
        if planned == Planned::Wholly {
            solver.finish(&mut InTurn);
        }
        let plan = solver.plan();
        if !plan.unplaced.is_empty() {
            return None;
        }
        let settled = Settled { job: &job, plan: &plan };
        let mut edits = vec![change];
        if planned == Planned::Wholly && booked::bookings_of(ask.book, ask.id).next().is_some() {
            // What is set aside follows what is cut, in the same step.
            let again = class::book_plan(&then, settled).ok()?;
            edits.extend(again.into_iter().flat_map(|edit| match edit {
                Edit::Batch { edits, .. } => edits,
                one => vec![one],
            }));
        }
        let needed = needs(&then, ask.id, Some(settled))?.still();
        let lacks = |(item, n): (&ItemId, &u64)| (*item, missing_for(&then, ask.id, *item, *n, ask.day()));
        let missing = needed.iter().map(lacks).filter(|(_, n)| *n > 0).collect();
        Some(Self { needed, missing, edits })
    }

    fn missing(&self, item: ItemId) -> u64 {
        self.missing.get(&item).copied().unwrap_or(0)
    }
}

/// What so many of an item are worth by the price of a pack.
fn worth(item: &Item, count: u64) -> Option<Money> {
    item.price.map(|p| p.part(count, u64::from(item.pack_size())))
}

/// Other papers of which enough is there for all that is cut from the one that runs short: the same colour in another size,
/// colours that stand in or are near, then the others that take the fewest sheets.
pub(super) fn other_papers(ask: &Ask) -> Vec<Way> {
    let Some(item) = ask.book.items().get(ask.item) else { return Vec::new() };
    let is_paper = item.kind.is_paper();
    if is_paper && item.cutting_size().is_none() {
        return Vec::new();
    }
    // What is not cut has to be as large as it is: an envelope of another size is another envelope.
    let held = |id: ItemId, i: &Item| {
        let fits = if is_paper { i.cutting_size().is_some() } else { i.size == item.size };
        fits && ask.book.on_hand(id) > 0
    };
    let close = instead::all_for(ask.book, ask.item, held);
    let mut all = Vec::new();
    for how in [How::OtherSize, How::Colour] {
        let is_of = |i: &&Instead| (i.close == Close::Same) == (how == How::OtherSize);
        let found = close.iter().filter(is_of).filter_map(|i| {
            let close = if i.close == Close::Same {
                String::new()
            } else {
                format!("{}, {:.1} apart", i.close.words(), i.delta_e)
            };
            swap(ask, item, i.item, (how, close))
        });
        all.extend(found.take(MOST_COLOURS));
    }
    if !is_paper {
        return all;
    }
    let known = |id: &ItemId| *id == ask.item || close.iter().any(|i| i.item == *id);
    let others = by_yield(ask).into_iter().filter(|id| !known(id));
    let note = || "another color".to_owned();
    all.extend(others.filter_map(|id| swap(ask, item, id, (How::OtherPaper, note()))).take(MOST_PAPERS));
    all
}

/// Papers of the same kind that are free, those of which the pieces take the fewest sheets first: each size alone on its
/// sheets.
fn by_yield(ask: &Ask) -> Vec<ItemId> {
    let Some(item) = ask.book.items().get(ask.item) else { return Vec::new() };
    let list = cutlist::cut_list(ask.book, ask.id).unwrap_or_default();
    let pieces: Vec<_> = list.pieces.iter().filter(|p| p.paper == Some(ask.item)).collect();
    let sheets = |i: &Item| -> Option<u64> {
        let sheet = Sheet::new(String::new(), i.cutting_size()?);
        pieces
            .iter()
            .map(|p| {
                let question = Question {
                    may_turn: p.may_turn && !i.one_way,
                    ..Question::new(p.cut_size(), sheet.clone())
                };
                let best = u64::from(one_size::answer(&question).best);
                (best > 0).then(|| u64::from(p.made).div_ceil(best))
            })
            .sum()
    };
    let others = ask
        .book
        .items()
        .iter()
        .filter(|(id, i)| i.kind == item.kind && *id != ask.item && ask.book.free(*id) > 0);
    let mut all: Vec<(u64, ItemId)> = others.filter_map(|(id, i)| Some((sheets(i)?, id))).collect();
    all.retain(|(n, id)| i64::try_from(*n).unwrap_or(i64::MAX) <= ask.book.free(*id));
    all.sort_unstable();
    all.into_iter().map(|(_, id)| id).collect()
}

/// All that is cut from a paper cut from another, where enough of that is there and nothing else runs short by it.
fn swap(ask: &Ask, item: &Item, other: ItemId, (how, close): (How, String)) -> Option<Way> {
    let mut now = ask.book.projects().get(ask.id)?.clone();
    put_in_place(&mut now, ask.item, other);
    let is_worse = |(id, n): (&ItemId, &u64)| *id == other || *n > ask.lacks.get(id).copied().unwrap_or(0);
    let is_way_out = |t: &Trial| !t.missing.iter().any(is_worse) && !t.needed.contains_key(&ask.item);
    Trial::of(ask, now.clone(), Planned::Roughly).filter(is_way_out)?;
    let trial = Trial::of(ask, now, Planned::Wholly).filter(is_way_out)?;
    // What it takes of that paper anyhow is not taken for this.
    let needed = trial.needed.get(&other).copied().unwrap_or(0).saturating_sub(ask.still(other));
    let (name, paper) = (ask.book.items().name_of(other), ask.book.items().get(other)?);
    let was = worth(item, ask.still(ask.item))
        .map(|m| format!("instead of {}", m.show(&ask.book.settings().currency)));
    let notes = [was.unwrap_or_default(), close, format!("{} there", ask.book.on_hand(other))];
    let label = format!("cut {} from {name} instead of {}", ask.book.projects().name_of(ask.id), item.name);
    Some(Way {
        how,
        words: format!(
            "use {} of {name}",
            if item.kind.is_paper() { count_of(needed, "sheet") } else { needed.to_string() }
        ),
        still_missing: 0,
        cost: worth(paper, needed),
        by: None,
        late: false,
        note: notes.into_iter().filter(|n| !n.is_empty()).collect::<Vec<_>>().join(", "),
        edit: Edit::batch(label, trial.edits),
    })
}

/// A project with fewer to spare, in so many steps: the percentage point by point, then the pieces of each kind, then the
/// spare cards and envelopes one by one.
fn with_fewer(project: &Project, steps: u32) -> Project {
    let mut now = project.clone();
    let mut left = steps;
    let mut less = |n: &mut u32| {
        let taken = left.min(*n);
        (*n, left) = (*n - taken, left - taken);
    };
    less(&mut now.spoilage_percent);
    less(&mut now.spoilage_fixed);
    for card in &mut now.cards {
        less(&mut card.spares);
        less(&mut card.envelope_spares);
    }
    now
}

fn most_steps(project: &Project) -> u32 {
    let cards = project.cards.iter().map(|c| c.spares.saturating_add(c.envelope_spares));
    cards.fold(project.spoilage_percent.saturating_add(project.spoilage_fixed), u32::saturating_add)
}

/// The project without any spares; `None` where it has none.
pub(super) fn without_spares(ask: &Ask) -> Option<Trial> {
    let project = ask.book.projects().get(ask.id)?;
    let steps = most_steps(project);
    if steps == 0 { None } else { Trial::of(ask, with_fewer(project, steps), Planned::Roughly) }
}

/// The most spares that leave nothing short; none at all, where even that leaves something.
pub(super) fn fewer_spares(ask: &Ask, bare: &Trial) -> Option<Way> {
    if bare.missing(ask.item) >= ask.missing {
        return None;
    }
    let project = ask.book.projects().get(ask.id)?;
    let (mut few, mut many) = (0, most_steps(project));
    while bare.missing(ask.item) == 0 && few + 1 < many {
        let middle = u32::midpoint(few, many);
        let trial = Trial::of(ask, with_fewer(project, middle), Planned::Roughly)?;
        if trial.missing(ask.item) == 0 {
            many = middle;
        } else {
            few = middle;
        }
    }
    let now = with_fewer(project, many);
    let best = Trial::of(ask, now.clone(), Planned::Wholly)?;
    let made = |p: &Project| {
        let list = cutlist::of_project(ask.book, p);
        let pieces = list.pieces.iter().map(|p| u64::from(p.made));
        pieces.chain(list.counted.iter().map(|c| u64::from(c.made))).sum::<u64>()
    };
    let fewer = made(project).saturating_sub(made(&now));
    Some(Way {
        how: How::FewerSpares,
        words: format!("{} fewer to spare", count_of(fewer, "piece")),
        still_missing: best.missing(ask.item),
        cost: None,
        by: None,
        late: false,
        note: spares_words(project, &now),
        edit: Edit::batch(format!("fewer spares for {}", project.name), best.edits),
    })
}

/// `spoilage 2 % instead of 10 %, 0 pieces of each kind instead of 2`.
fn spares_words(was: &Project, now: &Project) -> String {
    let sum = |p: &Project, of: fn(&ProjectCard) -> u32| p.cards.iter().map(of).sum::<u32>();
    let rows = [
        ("spoilage in percent", was.spoilage_percent, now.spoilage_percent),
        ("pieces of each kind", was.spoilage_fixed, now.spoilage_fixed),
        ("spare cards", sum(was, |c| c.spares), sum(now, |c| c.spares)),
        ("spare envelopes", sum(was, |c| c.envelope_spares), sum(now, |c| c.envelope_spares)),
    ];
    let changed = rows.into_iter().filter(|(_, was, now)| was != now);
    changed.map(|(what, was, now)| format!("{what} {now} instead of {was}")).collect::<Vec<_>>().join(", ")
}
