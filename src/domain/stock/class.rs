//! A project or class against the shelf: setting aside what its plan takes, giving it free, and closing it on the day.
//!
//! A project lives: planned, booked, cut (in parts, each ending the bookings that it fulfils), its stages, taught or handed
//! out. What is still to be used follows from the log, so nothing is booked or logged twice.

use crate::domain::book::{Book, folded};
use crate::domain::cards::made_by::MadeBy;
use crate::domain::cutlist::CutList;
use crate::domain::edit::{Edit, Row};
use crate::domain::near::instead;
use crate::domain::planning::{self, Takes};
use crate::domain::project::{Afterwards, Progress, Project, Source, Stage, Stages};
use crate::domain::size::Size;
use crate::domain::stock::needs::{Needs, Settled, needs};
use crate::domain::stock::work::WorkDone;
use crate::domain::stock::{Booking, BookingId, ItemId, NewLine, OffcutId, ProjectId, ProjectWork, booked};
use std::collections::{BTreeMap, BTreeSet};

/// Books what a project still takes: by the plan that is booked already, where that still answers and costs no more than
/// the settled one, else by the settled one. `None` where just that is booked already.
///
/// # Errors
/// As [`book_plan`].
pub fn book_papers(book: &Book, of: Settled<'_>) -> Result<Option<Edit>, String> {
    let cost = of.plan.totals.cost;
    let booked = planning::booked_plan(book, of.job).filter(|b| b.plan.totals.cost <= cost);
    let plan = booked.as_ref().map_or(of.plan, |b| &b.plan);
    book_plan(book, Settled { plan, ..of })
}

/// Books what a project's plan still takes, sheets and offcuts, and its counted things, in place of what was booked for it
/// before; the plan is kept with it. `None` where just that is booked already.
///
/// # Errors
/// A sentence where the project is not open, needs nothing, or no longer asks for what the plan answers.
pub fn book_plan(book: &Book, of: Settled<'_>) -> Result<Option<Edit>, String> {
    let id = of.job.project;
    let project = open_project(book, id)?;
    if !of.job.is_asked_by(book) {
        return Err("another window changed the book meanwhile: book it again".to_owned());
    }
    let needs = needs(book, id, None).ok_or_else(gone)?;
    let takes = planning::takes(of.job, of.plan);
    let pieces = pieces_by_source(of);
    let pieces_of = |from: Source| pieces.get(&from).copied().unwrap_or(0);
    let mut wanted: BTreeMap<(ItemId, Option<OffcutId>), (u64, u32)> = BTreeMap::new();
    for (item, n) in &takes.sheets {
        wanted.insert((*item, None), (u64::from(*n), pieces_of(Source::Shelf(*item))));
    }
    for (offcut, n) in &takes.offcuts {
        let item = book.offcuts().get(*offcut).ok_or("an offcut of the plan is gone: plan it again")?.item;
        wanted.insert((item, Some(*offcut)), (u64::from(*n), pieces_of(Source::Bin(*offcut))));
    }
    for (item, n) in needs.counted.iter().filter(|(_, n)| **n > 0) {
        wanted.entry((*item, None)).or_default().0 += n;
    }
    if wanted.is_empty() && needs.done.items.is_empty() && needs.done.offcuts.is_empty() {
        return Err(format!("{} needs no paper yet: give its cards papers in Mats", project.name));
    }
    let is_kept = takes.is_empty()
        || planning::booked_plan(book, of.job).is_some_and(|b| b.plan.sheets == of.plan.sheets);
    let held: BTreeMap<(ItemId, Option<OffcutId>), u64> = booked_now(book, id);
    if is_kept && held == wanted.iter().map(|(k, (n, _))| (*k, *n)).collect() {
        return Ok(None);
    }
    let mut edits = rebooked(book, id, project, &wanted);
    if !is_kept {
        let number = project.plan.as_ref().map_or(0, |p| p.number) + 1;
        let plan = Some(Box::new(planning::to_book(number, of.job, of.plan)));
        edits.push(altered(id, project, Project { plan, ..project.clone() }));
    }
    let label = match (held.is_empty(), difference_words(book, &held, &wanted)) {
        (false, Some(words)) => format!("{words} for {}", project.name),
        _ => format!("booked the papers of {}", project.name),
    };
    Ok(Some(Edit::batch(label, edits)))
}

/// What a project sets aside: of which item or offcut.
type Aside = (ItemId, Option<OffcutId>);

/// Only the difference to what is set aside already: bookings that still hold stay as they are.
fn rebooked(
    book: &Book,
    id: ProjectId,
    project: &Project,
    wanted: &BTreeMap<Aside, (u64, u32)>,
) -> Vec<Edit> {
    let mut edits = Vec::new();
    let mut done: BTreeSet<Aside> = BTreeSet::new();
    for (number, b) in booked::bookings_of(book, id) {
        let key = (b.item, b.offcut);
        let is_first = done.insert(key);
        match wanted.get(&key).filter(|_| is_first) {
            None => edits.push(Edit::Booking(Row::Remove(number))),
            Some((count, pieces)) => {
                let count = u32::try_from(*count).unwrap_or(u32::MAX);
                let now = Booking { count, pieces: *pieces, on: project.date, ..b.clone() };
                if now != *b {
                    edits.push(Edit::Booking(Row::alter(number, b.clone(), now)));
                }
            }
        }
    }
    let first = book.bookings().next().0;
    let fresh = wanted.iter().filter(|(key, _)| !done.contains(key));
    for (n, ((item, offcut), (count, pieces))) in (0..).zip(fresh) {
        let count = u32::try_from(*count).unwrap_or(u32::MAX);
        let booking =
            Booking { project: id, item: *item, offcut: *offcut, count, pieces: *pieces, on: project.date };
        edits.push(Edit::Booking(Row::add(BookingId(first + n), booking)));
    }
    edits
}

/// `booked 1 more of fern floor, letter and gave back 2 of plum stone, letter`; `None` where all counts stay.
fn difference_words(
    book: &Book,
    held: &BTreeMap<Aside, u64>,
    wanted: &BTreeMap<Aside, (u64, u32)>,
) -> Option<String> {
    let name = |(item, offcut): &Aside| {
        offcut.map_or_else(|| book.items().name_of(*item), |offcut| book.offcut_title(offcut))
    };
    let now = |key: &Aside| wanted.get(key).map_or(0, |(n, _)| *n);
    let was = |key: &Aside| held.get(key).copied().unwrap_or(0);
    let more = wanted.keys().filter(|k| now(k) > was(k));
    let more: Vec<String> = more.map(|k| format!("{} more of {}", now(k) - was(k), name(k))).collect();
    let less = held.keys().filter(|k| now(k) < was(k));
    let less: Vec<String> = less.map(|k| format!("{} of {}", was(k) - now(k), name(k))).collect();
    let parts = [("booked", more), ("gave back", less)].into_iter().filter(|(_, all)| !all.is_empty());
    let parts: Vec<String> = parts.map(|(verb, all)| format!("{verb} {}", all.join(", "))).collect();
    (!parts.is_empty()).then(|| parts.join(" and "))
}

fn gone() -> String {
    "the project is not in the book any more".to_owned()
}

/// The project, where it is open.
fn open_project(book: &Book, id: ProjectId) -> Result<&Project, String> {
    let project = book.projects().get(id).ok_or_else(gone)?;
    if project.progress == Progress::Open {
        return Ok(project);
    }
    Err(format!("{} is {} already: nothing was changed", project.name, project.progress.word()))
}

/// Pieces that a plan cuts from each source.
fn pieces_by_source(of: Settled<'_>) -> BTreeMap<Source, u32> {
    let mut all: BTreeMap<Source, u32> = BTreeMap::new();
    for sheet in &of.plan.sheets {
        if let Some(from) = of.job.from.get(sheet.sheet) {
            let n = all.entry(*from).or_default();
            *n = n.saturating_add(sheet.copies.saturating_mul(sheet.tree.rows().len() as u32));
        }
    }
    all
}

fn booked_now(book: &Book, id: ProjectId) -> BTreeMap<(ItemId, Option<OffcutId>), u64> {
    let mut all = BTreeMap::new();
    for (_, b) in booked::bookings_of(book, id) {
        *all.entry((b.item, b.offcut)).or_default() += u64::from(b.count);
    }
    all
}

fn altered(id: ProjectId, was: &Project, now: Project) -> Edit {
    Edit::Project(Row::alter(id, was.clone(), now))
}

/// Closes a project: its bookings are given free, its plan is not kept any longer.
fn closed(id: ProjectId, project: &Project, progress: Progress) -> Edit {
    altered(id, project, Project { progress, plan: None, ..project.clone() })
}

/// Gives a project's sheets free and marks it cancelled.
///
/// # Errors
/// A sentence where it is not open: what is taught stays taught.
pub fn cancel(book: &Book, id: ProjectId) -> Result<Edit, String> {
    let project = open_project(book, id)?;
    let mut edits = booked::release(book, id);
    edits.push(closed(id, project, Progress::Cancelled));
    Ok(Edit::batch(format!("cancelled {}", project.name), edits))
}

/// Gives back all that a project has booked; it stays open, and its plan is kept.
///
/// # Errors
/// A sentence where it is gone or has nothing booked.
pub fn give_back(book: &Book, id: ProjectId) -> Result<Edit, String> {
    let name = book.projects().get(id).ok_or_else(gone)?.name.clone();
    let edits = booked::release(book, id);
    if edits.is_empty() {
        return Err(format!("nothing is booked for {name}"));
    }
    Ok(Edit::batch(format!("gave back what was booked for {name}"), edits))
}

/// Gives back what a project has booked of one thing of the shelf or one kind of offcut, by its name.
///
/// # Errors
/// A sentence where it has none of that booked.
pub fn give_back_only(book: &Book, id: ProjectId, name: &str) -> Result<Edit, String> {
    let project = book.projects().get(id).ok_or_else(gone)?;
    let all: Vec<(BookingId, String)> =
        booked::bookings_of(book, id).map(|(n, b)| (n, booked::title(book, b))).collect();
    let edits: Vec<Edit> = all
        .iter()
        .filter(|(_, title)| folded(title) == folded(name))
        .map(|(n, _)| Edit::Booking(Row::Remove(*n)))
        .collect();
    if edits.is_empty() {
        let titles: Vec<&str> = all.iter().map(|(_, title)| title.as_str()).collect();
        return Err(format!(
            "\"{}\" is not booked for {}: {}",
            name.trim(),
            project.name,
            instead(name, &titles)
        ));
    }
    Ok(Edit::batch(format!("gave back {} of {}", name.trim(), project.name), edits))
}

/// Takes a project out of the book: what it has booked is given back, and where it was the active one, none is. What it
/// used stays in the log.
///
/// # Errors
/// A sentence where it is gone.
pub fn remove(book: &Book, id: ProjectId) -> Result<Edit, String> {
    let name = book.projects().get(id).ok_or_else(gone)?.name.clone();
    let mut edits = booked::release(book, id);
    if book.active() == Some(id) {
        edits.push(Edit::Activate { was: Some(id), now: None });
    }
    edits.push(Edit::Project(Row::Remove(id)));
    Ok(Edit::batch(format!("removed the project {name}"), edits))
}

/// What becomes of papers that are booked and not logged as cut when a project is closed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OpenPapers {
    /// They were cut all the same: they are logged as used.
    Used,
    /// They were not needed, or were logged by hand: they go back to the shelf.
    Back,
}

/// Papers that are booked for a project and not logged as cut: what has to be asked about before it is closed.
pub fn open_papers(book: &Book, id: ProjectId) -> Takes {
    needs(book, id, None).map(|needs| beyond_counted(book, id, &needs)).unwrap_or_default()
}

/// What is booked for a project beyond the counted things that it still needs.
fn beyond_counted(book: &Book, id: ProjectId, needs: &Needs) -> Takes {
    let counted = &needs.counted;
    let mut takes = Takes::default();
    for ((item, offcut), n) in booked_now(book, id) {
        let of_counted = if offcut.is_none() { counted.get(&item).copied().unwrap_or(0) } else { 0 };
        let n = u32::try_from(n.saturating_sub(of_counted)).unwrap_or(u32::MAX);
        match offcut {
            _ if n == 0 => {}
            Some(offcut) => *takes.offcuts.entry(offcut).or_default() += n,
            None => *takes.sheets.entry(item).or_default() += n,
        }
    }
    takes
}

/// Closes a project on its day: counted things that are not logged yet are logged as used, open papers as the person says,
/// all bookings end.
///
/// # Errors
/// A sentence where it is not open, or where nothing was ever booked, cut or logged for it.
pub fn taught(book: &Book, id: ProjectId, papers: OpenPapers) -> Result<Edit, String> {
    let project = open_project(book, id)?;
    let needs = needs(book, id, None).ok_or_else(gone)?;
    let open = beyond_counted(book, id, &needs);
    let is_untouched = booked::bookings_of(book, id).next().is_none() && needs.done == WorkDone::default();
    if is_untouched && papers == OpenPapers::Used && (needs.pieces().0 > 0 || !needs.counted.is_empty()) {
        return Err(format!(
            "nothing is booked for {}: book its papers first, or log them one by one",
            project.name
        ));
    }
    // Given free before they are used, so that both count once.
    let mut edits = booked::release(book, id);
    let name = project.name.as_str();
    let mut log = |line: NewLine| edits.push(Edit::Log(line.for_work(ProjectWork::of(id))));
    if papers == OpenPapers::Used {
        for (item, n) in &open.sheets {
            log(NewLine::used(*item, *n, name));
        }
        for (offcut, n) in &open.offcuts {
            let item = book.offcuts().get(*offcut).ok_or("an offcut that is booked is gone")?.item;
            log(NewLine::offcut_used(item, *offcut, *n, name));
        }
    }
    if !is_untouched {
        for (item, n) in needs.counted.iter().filter(|(_, n)| **n > 0) {
            log(NewLine::used(*item, u32::try_from(*n).unwrap_or(u32::MAX), name));
        }
    }
    edits.push(closed(id, project, Progress::Done));
    Ok(Edit::batch(format!("logged {name}"), edits))
}

/// Says how many are done at a stage after the cutting.
///
/// # Errors
/// A sentence where the project is not open, does not go through the stage, or has fewer to do.
pub fn stage_done(book: &Book, id: ProjectId, stage: Stage, done: u32) -> Result<Edit, String> {
    let project = open_project(book, id)?;
    let prepared = (stage == Stage::Prepared).then(|| project.prepared().1);
    let total = prepared
        .or_else(|| project.stage_total(stage))
        .ok_or_else(|| format!("{} has nothing to be {}", project.name, stage.word()))?;
    if done > total {
        return Err(format!(
            "{done} {}: {} has {total}; write a number up to that",
            stage.word(),
            project.name
        ));
    }
    let now = Project { stages: project.with_done(stage, done), ..project.clone() };
    let label = format!("{done} of {total} {} for {}", stage.word(), project.name);
    Ok(Edit::batch(label, vec![altered(id, project, now)]))
}

/// A class or batch under a new name: with the cards, pieces and supplies of another project, or empty. Spoilage starts
/// as the settings have it. What a batch makes in all becomes what a seat makes where it is copied as a class; what came
/// of another class is not copied.
pub fn new_class(book: &Book, name: &str, seats: u32, like: Option<ProjectId>) -> Edit {
    let mut like = like.and_then(|id| book.projects().get(id)).cloned().unwrap_or_default();
    if seats > 0 && like.seats == 0 {
        like.make_for_seats();
    }
    let settings = book.settings();
    let class = Project {
        name: name.trim().to_owned(),
        seats,
        samples: u32::from(seats > 0),
        date: None,
        progress: Progress::Open,
        stages: Stages::default(),
        afterwards: Afterwards::default(),
        attendees: Vec::new(),
        plan: None,
        spoilage_percent: settings.spoilage_percent,
        spoilage_fixed: settings.spoilage_fixed,
        note: String::new(),
        ..like
    };
    Edit::Project(Row::add(book.projects().next(), class))
}

/// What goes into a kit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KitLine {
    /// Card and part, or the loose piece's name; empty for counted things, which go by their item's.
    pub name: String,
    /// How it is made.
    pub made_by: MadeBy,
    /// Of which item; `None` for a base that is bought ready made.
    pub item: Option<ItemId>,
    /// Its finished size; `None` for counted things.
    pub size: Option<Size>,
    /// How many a seat; of a seat that makes several sets, how many a set.
    pub a_seat: u32,
    /// How many over all kits, samples, spares and spoilage: what the plan cuts, what the printed list counts.
    pub made: u32,
}

impl KitLine {
    /// Card and part, with the way it is made where that is no straight cut; empty for a counted thing.
    fn part(&self) -> String {
        self.made_by.named(&self.name)
    }

    /// How many of them nobody asks for: to spare, and for spoilage.
    pub fn spare(&self, project: &Project) -> u64 {
        u64::from(self.made).saturating_sub(project.sets() * u64::from(self.a_seat))
    }

    /// Name and paper: `bramble note, mat 1, fern floor`; only the item's name for a counted thing.
    pub fn words(&self, book: &Book) -> String {
        let item = self.item.map(|i| book.items().name_of(i));
        let parts = [Some(self.part()).filter(|n| !n.is_empty()), item];
        parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
    }

    /// The name of its paper; empty for a counted thing, which goes by it, and for a base that is bought ready made.
    pub fn paper(&self, book: &Book) -> String {
        let paper = self.item.filter(|_| !self.name.is_empty());
        paper.map_or_else(String::new, |i| book.items().name_of(i))
    }

    /// The part alone, as the person named it; the item's name for a counted thing.
    pub fn name_alone(&self, book: &Book) -> String {
        match self.item {
            Some(item) if self.name.is_empty() => book.items().name_of(item),
            _ => self.name.clone(),
        }
    }

    /// What it is called: card and part, else the item's name.
    pub fn title(&self, book: &Book) -> String {
        match self.item {
            Some(item) if self.name.is_empty() => book.items().name_of(item),
            _ => self.part(),
        }
    }
}

/// The kit of one seat: what the cut list and the counted things hold a set.
pub fn kit(list: &CutList) -> Vec<KitLine> {
    let pieces = list.pieces.iter().map(|p| KitLine {
        name: p.name.clone(),
        made_by: p.made_by,
        item: p.paper,
        size: Some(p.finished),
        a_seat: p.a_set,
        made: p.made,
    });
    let counted = list.counted.iter().map(|c| KitLine {
        name: String::new(),
        made_by: MadeBy::Straight,
        item: Some(c.item),
        size: None,
        a_seat: c.a_set,
        made: c.made,
    });
    pieces.chain(counted).filter(|l| l.a_seat > 0).collect()
}
