//! One job, told once: whatever is designed, planned, booked, cut in parts, spoiled, counted, taken back or taught, and
//! whenever the machine goes down, every figure that stands in two places is the same figure, and equals a tally kept apart
//! from the book.

use super::wishes::{DAY, Dice};
use crate::persist::fake::{Crash, Fake};
use jiff::civil::date;
use proptest::prelude::*;
use std::collections::BTreeMap;
use std::path::Path;
use trimside::app::panes::bench::spoil;
use trimside::app::panes::plan::bench_run;
use trimside::app::state::bench::BenchRun;
use trimside::app::state::cutting::Spoiled;
use trimside::domain::book::Book;
use trimside::domain::cutlist;
use trimside::domain::cutting::plan::Plan;
use trimside::domain::cutting::planner::InTurn;
use trimside::domain::edit::{Edit, Row};
use trimside::domain::history::Intent;
use trimside::domain::length::{Length, Unit};
use trimside::domain::pages::shelf as pages;
use trimside::domain::planning::{self, ProjectJob};
use trimside::domain::project::{
    PaperRef, PieceWanted, Progress, Project, ProjectCard, Stage, Supply, Teaching,
};
use trimside::domain::size::{Grain, Size};
use trimside::domain::stock::class::{self, OpenPapers};
use trimside::domain::stock::needs::{Basis, Settled, needs};
use trimside::domain::stock::outlook::outlook;
use trimside::domain::stock::summary::standing;
use trimside::domain::stock::work::WorkDone;
use trimside::domain::stock::{Item, ItemId, Kind, NewLine, Offcut, OffcutId, ProjectId, booked, cut};
use trimside::persist::Store;

/// What the book should hold, counted apart from it.
#[derive(Clone, Debug, Default, PartialEq)]
struct Tally {
    on_hand: BTreeMap<ItemId, i64>,
    bin: BTreeMap<(ItemId, String), i64>,
    booked: BTreeMap<(ProjectId, ItemId), i64>,
    /// Pieces cut for each project.
    cut: BTreeMap<ProjectId, u64>,
}

struct Year {
    /// What the book is kept on, and the program that keeps it.
    disk: Fake,
    store: Store,
    book: Book,
    tally: Tally,
    /// The tally before each step that can be taken back, and after each that can be made again.
    steps: Vec<Tally>,
    undone: Vec<Tally>,
    dice: Dice,
}

fn opened(disk: &Fake) -> Store {
    Store::open_on(disk.shared(), Path::new("/data")).unwrap()
}

fn sixteenths(n: usize) -> Length {
    Length::sixteenths(n as i64)
}

fn grain(dice: &mut Dice) -> Grain {
    [Grain::Unknown, Grain::Long, Grain::Short][dice.roll(3)]
}

impl Year {
    fn empty(seed: u64) -> Self {
        let disk = Fake::default();
        Self {
            store: opened(&disk),
            disk,
            book: Book::default(),
            tally: Tally::default(),
            steps: Vec::new(),
            undone: Vec::new(),
            dice: Dice::new(seed),
        }
    }

    fn new(seed: u64) -> Self {
        let mut year = Self::empty(seed);
        year.shelf();
        for n in 0..=year.dice.roll(2) {
            year.project(n);
        }
        year.steps.clear();
        year
    }

    fn apply(&mut self, edit: &Edit) -> bool {
        let is_done = self.wish(Intent::Do(edit.clone()));
        if is_done {
            self.steps.push(self.tally.clone());
            self.undone.clear();
        }
        is_done
    }

    /// On the disk, and then in the window.
    fn wish(&mut self, wish: Intent) -> bool {
        let is_done = self.store.append(&[wish], DAY).unwrap().iter().all(Result::is_ok);
        self.book = self.store.book().clone();
        is_done
    }

    /// The machine goes down: what was acknowledged is there when it comes up again.
    fn goes_down(&mut self) -> Result<(), TestCaseError> {
        let crash = Crash::ALL[self.dice.roll(Crash::ALL.len())];
        self.disk = self.disk.after(crash);
        self.store = opened(&self.disk);
        prop_assert!(self.store.book() == &self.book, "{crash:?}: what was saved is there");
        Ok(())
    }

    fn shelf(&mut self) {
        for n in 0..=self.dice.roll(2) {
            let id = self.book.items().next();
            let size = [(136, 176), (192, 192), (96, 192)][self.dice.roll(3)];
            let item = Item {
                size: Some(Size::new(sixteenths(size.0), sixteenths(size.1))),
                grain: grain(&mut self.dice),
                one_way: self.dice.roll(5) == 0,
                ..Item::new(format!("paper {n}"), Kind::PlainSheet)
            };
            self.apply(&Edit::Item(Row::add(id, item)));
            let n = 1 + self.dice.roll(20) as u32;
            self.receive(id, n);
            if self.dice.roll(2) == 0 {
                self.put_by(id);
            }
        }
        let id = self.book.items().next();
        self.apply(&Edit::Item(Row::add(id, Item::new("envelope", Kind::Envelope))));
        self.receive(id, 60);
    }

    fn receive(&mut self, item: ItemId, n: u32) {
        if self.apply(&Edit::Log(NewLine::received(item, n, ""))) {
            *self.tally.on_hand.entry(item).or_default() += i64::from(n);
        }
    }

    fn put_by(&mut self, item: ItemId) {
        let id = self.book.offcuts().next();
        let side = |d: &mut Dice| sixteenths(16 * (1 + d.roll(7)));
        let size = Size::new(side(&mut self.dice), side(&mut self.dice)).upright();
        let offcut = Offcut {
            item,
            size,
            grain: Grain::Unknown,
            job: String::new(),
            since: None,
            place: String::new(),
            note: String::new(),
        };
        let n = 1 + self.dice.roll(3) as u32;
        let both = vec![Edit::Offcut(Row::add(id, offcut)), Edit::Log(NewLine::offcut_made(item, id, n, ""))];
        if self.apply(&Edit::batch("put by", both)) {
            *self.tally.bin.entry((item, format!("{size} {:?}", Grain::Unknown))).or_default() +=
                i64::from(n);
        }
    }

    fn project(&mut self, n: usize) {
        let papers: Vec<ItemId> =
            self.book.items().iter().filter(|(_, i)| i.kind.is_paper()).map(|(id, _)| id).collect();
        let envelope = self.book.items().iter().find(|(_, i)| i.kind == Kind::Envelope).map(|(id, _)| id);
        let dice = &mut self.dice;
        let piece = |dice: &mut Dice, at: usize| PieceWanted {
            paper: Some(papers[dice.roll(papers.len())]),
            turn: dice.roll(4) > 0,
            allowance: [Length::ZERO, sixteenths(2)][dice.roll(2)],
            grain: grain(dice),
            ..PieceWanted::new(
                format!("piece {at}"),
                Size::new(sixteenths(4 * (4 + dice.roll(21))), sixteenths(4 * (4 + dice.roll(21)))),
                1 + dice.roll(3) as u32,
            )
        };
        let pieces = (0..=dice.roll(3)).map(|at| piece(dice, at)).collect();
        let cards = (0..dice.roll(2)).map(|_| design(dice, &papers)).collect();
        let project = Project {
            date: (dice.roll(3) > 0).then(|| date(2026, 4, 1 + dice.roll(28) as i8)),
            seats: [0, 3, 5, 8][dice.roll(4)],
            samples: dice.roll(2) as u32,
            spoilage_percent: [0, 10][dice.roll(2)],
            teaching: Teaching {
                sets_a_seat: 1 + dice.roll(2) as u32,
                spare_sets: dice.roll(3) as u32,
                ..Teaching::default()
            },
            cards,
            pieces,
            supplies: envelope.map(|item| Supply { item, count: 1 }).into_iter().collect(),
            ..Project::new(format!("project {n}"))
        };
        let id = self.book.projects().next();
        self.apply(&Edit::Project(Row::add(id, project)));
    }

    fn job(&self, id: ProjectId) -> (ProjectJob, Plan, Option<Vec<u32>>) {
        let job = planning::job_of(&self.book, id, &planning::trimmer(&self.book)).unwrap();
        match planning::booked_plan(&self.book, &job) {
            Some(now) => (job, now.plan, Some(now.layouts)),
            None => {
                let plan = planning::settle_project(&job, &mut InTurn);
                (job, plan, None)
            }
        }
    }

    fn book_it(&mut self, id: ProjectId) -> Result<(), TestCaseError> {
        let (job, plan, _) = self.job(id);
        let Ok(Some(edit)) = class::book_plan(&self.book, Settled { job: &job, plan: &plan }) else {
            return Ok(());
        };
        prop_assert!(self.apply(&edit), "a booking is never refused");
        let book = &self.book;
        // What the plan takes is what is booked, and what the page says is needed.
        let takes = planning::takes(&job, &plan);
        let now = needs(book, id, None).unwrap();
        prop_assert!(takes.is_empty() || now.basis == Basis::Booked, "{:?}", now.basis);
        prop_assert_eq!(&now.takes, &takes);
        let held: BTreeMap<OffcutId, u64> = takes.offcuts.iter().map(|(o, n)| (*o, u64::from(*n))).collect();
        prop_assert_eq!((booked::items(book, id), booked::offcuts(book, id)), (now.still(), held));
        // A second booking changes nothing.
        let (job, plan, _) = self.job(id);
        prop_assert_eq!(class::book_plan(&self.book, Settled { job: &job, plan: &plan }), Ok(None));
        self.tally.booked.retain(|(p, _), _| *p != id);
        for (item, n) in now.still() {
            self.tally.booked.insert((id, item), n as i64);
        }
        Ok(())
    }

    /// Cuts some of the sheets that are there.
    fn cut_some(&mut self, id: ProjectId) -> Result<(), TestCaseError> {
        if self.book.projects().get(id).is_none_or(|p| p.progress != Progress::Open) {
            return Ok(());
        }
        let (job, plan, layouts) = self.job(id);
        let run = bench_run(&self.book, &job, &plan, layouts.as_deref());
        let all = run.sheet_total();
        if all == 0 {
            return Ok(());
        }
        let to = 1 + self.dice.roll(all as usize) as u32;
        let cut = run.cut(0, to);
        let before = needs(&self.book, id, None).unwrap();
        let edit = cut::log_edit(&self.book, &run.title, run.of, &cut);
        if !self.apply(&edit) {
            return Ok(());
        }
        let after = needs(&self.book, id, None).unwrap();
        if before.basis == Basis::Booked {
            // Cutting a booked plan changes no total: what was to be used is used now.
            prop_assert_eq!(after.in_all(), before.in_all());
            prop_assert_eq!(booked::items(&self.book, id), after.still());
            let offcuts: BTreeMap<_, _> =
                after.takes.offcuts.iter().map(|(o, n)| (*o, u64::from(*n))).collect();
            prop_assert_eq!(booked::offcuts(&self.book, id), offcuts);
        }
        let pieces = pieces_of(&run, to);
        prop_assert_eq!(before.pieces().1 - after.pieces().1, pieces);
        self.tally_cut(id, &cut, pieces);
        Ok(())
    }

    /// Cuts all that is there, and spoils something on the way.
    fn spoil_some(&mut self, id: ProjectId) -> Result<(), TestCaseError> {
        if self.book.projects().get(id).is_none_or(|p| p.progress != Progress::Open) {
            return Ok(());
        }
        let (job, plan, layouts) = self.job(id);
        let mut run = bench_run(&self.book, &job, &plan, layouts.as_deref());
        if run.is_empty() {
            return Ok(());
        }
        run.done = self.dice.roll(run.len());
        let finished = spoil::finished(&run);
        let row = self.dice.roll(finished.len());
        let what = match run.spot() {
            Some(spot) if finished[row] == 0 => Spoiled::Panel(spot.step.from),
            _ => Spoiled::Piece(row),
        };
        let (mut run, told) = spoil::after(&self.book, &run, what, planning::trimmer(&self.book));
        run.done = run.len();
        let good: u64 = spoil::finished(&run).iter().map(|n| u64::from(*n)).sum();
        let taken: u64 = run.before.sheets.iter().map(|(_, n)| u64::from(*n)).sum();
        let taken = taken
            + run
                .sheets
                .iter()
                .filter(|s| matches!(s.source, trimside::app::state::bench::PaperSource::Shelf(_)))
                .map(|s| u64::from(s.copies))
                .sum::<u64>();
        let held = |book: &Book| book.items().iter().map(|(item, _)| book.on_hand(item)).sum::<u64>();
        let (before, was) = (needs(&self.book, id, None).unwrap(), held(&self.book));
        let cut = run.cut(0, run.sheet_total());
        if !self.apply(&cut::log_edit(&self.book, &run.title, run.of, &cut)) {
            return Ok(());
        }
        let after = needs(&self.book, id, None).unwrap();
        prop_assert_eq!(was - held(&self.book), taken, "{:?}", told);
        prop_assert_eq!(work_pieces(&after.done) - work_pieces(&before.done), good, "{:?}", told);
        self.tally_cut(id, &cut, good);
        Ok(())
    }

    /// A count day: what lies there is what counts.
    fn count(&mut self, item: ItemId) {
        let found = self.dice.roll(2 * self.book.on_hand(item) as usize + 2) as i64;
        let differs = found - self.book.on_hand(item) as i64;
        if differs != 0 && self.apply(&Edit::Log(NewLine::adjusted(item, differs, "count day"))) {
            self.tally.on_hand.insert(item, found);
        }
    }

    fn redesign(&mut self, id: ProjectId) {
        let was = self.book.projects().get(id).unwrap().clone();
        let now = Project {
            seats: self.dice.roll(9) as u32,
            date: (self.dice.roll(3) > 0).then(|| date(2026, 4, 1 + self.dice.roll(28) as i8)),
            ..was.clone()
        };
        self.apply(&Edit::Project(Row::alter(id, was, now)));
    }

    fn back(&mut self) -> Result<(), TestCaseError> {
        if let Some(tally) = self.steps.pop() {
            prop_assert!(self.wish(Intent::Undo(None)), "the last step can be taken back");
            self.undone.push(std::mem::replace(&mut self.tally, tally));
        }
        Ok(())
    }

    fn again(&mut self) -> Result<(), TestCaseError> {
        if let Some(tally) = self.undone.pop() {
            prop_assert!(self.wish(Intent::Redo(None)), "what was taken back can be made again");
            self.steps.push(std::mem::replace(&mut self.tally, tally));
        }
        Ok(())
    }

    fn tally_cut(&mut self, id: ProjectId, cut: &cut::CutSheets, pieces: u64) {
        *self.tally.cut.entry(id).or_default() += pieces;
        for (item, n) in &cut.sheets {
            *self.tally.on_hand.entry(*item).or_default() -= i64::from(*n);
            if let Some(booked) = self.tally.booked.get_mut(&(id, *item)) {
                *booked = (*booked - i64::from(*n)).max(0);
            }
        }
        for (offcut, n) in &cut.offcuts {
            let o = self.book.offcuts().get(*offcut).unwrap();
            *self.tally.bin.entry((o.item, format!("{} {:?}", o.size.upright(), o.grain))).or_default() -=
                i64::from(*n);
        }
        for left in &cut.left {
            let key = (left.item, format!("{} {:?}", left.size.upright(), left.grain));
            *self.tally.bin.entry(key).or_default() += i64::from(left.count);
        }
    }

    fn close(&mut self, id: ProjectId) -> Result<(), TestCaseError> {
        let papers = [OpenPapers::Used, OpenPapers::Back][self.dice.roll(2)];
        let (before, open) = (needs(&self.book, id, None).unwrap(), class::open_papers(&self.book, id));
        let is_booked = booked::bookings_of(&self.book, id).next().is_some();
        let Ok(edit) = class::taught(&self.book, id, papers) else { return Ok(()) };
        if !self.apply(&edit) {
            return Ok(());
        }
        if papers == OpenPapers::Used {
            for (item, n) in &open.sheets {
                *self.tally.on_hand.entry(*item).or_default() -= i64::from(*n);
            }
            for (offcut, n) in &open.offcuts {
                let o = self.book.offcuts().get(*offcut).unwrap();
                *self
                    .tally
                    .bin
                    .entry((o.item, format!("{} {:?}", o.size.upright(), o.grain)))
                    .or_default() -= i64::from(*n);
            }
        }
        let is_touched = is_booked || before.done != WorkDone::default();
        for (item, n) in before.counted.iter().filter(|_| is_touched) {
            *self.tally.on_hand.entry(*item).or_default() -= *n as i64;
        }
        self.tally.booked.retain(|(p, _), _| *p != id);
        prop_assert_eq!(booked::bookings_of(&self.book, id).count(), 0, "no phantom booking");
        prop_assert!(class::cancel(&self.book, id).is_err(), "what is taught stays taught");
        prop_assert!(class::taught(&self.book, id, papers).is_err());
        Ok(())
    }

    fn event(&mut self) -> Result<(), TestCaseError> {
        let projects: Vec<ProjectId> = self.book.projects().iter().map(|(id, _)| id).collect();
        let id = projects[self.dice.roll(projects.len())];
        let items: Vec<ItemId> = self.book.items().iter().map(|(id, _)| id).collect();
        let item = items[self.dice.roll(items.len())];
        match self.dice.roll(21) {
            0..=3 => self.book_it(id)?,
            4..=7 => self.cut_some(id)?,
            8 => {
                let n = 1 + self.dice.roll(9) as u32;
                self.receive(item, n);
            }
            9 => {
                // Used for something else, by hand.
                let n = 1 + self.dice.roll(3) as u32;
                if self.apply(&Edit::Log(NewLine::used(item, n, "elsewhere"))) {
                    *self.tally.on_hand.entry(item).or_default() -= i64::from(n);
                }
            }
            10 => self.redesign(id),
            11 => self.close(id)?,
            12 => {
                let n = self.dice.roll(3) as u32;
                if let Ok(edit) = class::stage_done(&self.book, id, Stage::Prepared, n) {
                    self.apply(&edit);
                }
            }
            13 | 14 => self.spoil_some(id)?,
            15 => self.count(item),
            16 | 17 => self.goes_down()?,
            18 => self.again()?,
            _ => self.back()?,
        }
        Ok(())
    }

    /// Every pair of figures, after whatever happened.
    fn agrees(&self) -> Result<(), TestCaseError> {
        let book = &self.book;
        prop_assert_eq!(book.check(), Ok(()));
        for (item, _) in book.items().iter() {
            let on_hand = self.tally.on_hand.get(&item).copied().unwrap_or(0);
            prop_assert_eq!(book.on_hand(item) as i64, on_hand);
            let all: i64 = self.tally.booked.iter().filter(|((_, i), _)| *i == item).map(|(_, n)| n).sum();
            prop_assert_eq!(book.booked(item) as i64, all);
            prop_assert_eq!(book.free(item), on_hand - all, "free is on hand less booked");
            prop_assert_eq!(standing(book, item).free, book.free(item));
        }
        let mut bin: BTreeMap<(ItemId, String), i64> = BTreeMap::new();
        for (id, o) in book.offcuts().iter() {
            *bin.entry((o.item, format!("{} {:?}", o.size.upright(), o.grain))).or_default() +=
                book.offcut_count(id) as i64;
            prop_assert!(book.booked_offcuts(id) <= book.offcut_count(id), "no offcut is booked twice");
        }
        bin.retain(|_, n| *n != 0);
        let mut tally = self.tally.bin.clone();
        tally.retain(|_, n| *n != 0);
        prop_assert_eq!(bin, tally);
        for (id, project) in book.projects().iter() {
            self.project_agrees(id, project)?;
        }
        Ok(())
    }

    fn project_agrees(&self, id: ProjectId, project: &Project) -> Result<(), TestCaseError> {
        let book = &self.book;
        let list = cutlist::cut_list(book, id).unwrap();
        // Kit list times kits is what is asked for; the printed list, the handout and the labels read the same rows.
        let kit = class::kit(&list);
        let printed = pages::kit(book, project, Unit::Inch);
        prop_assert_eq!(kit.len(), printed.rows.len());
        for (line, row) in kit.iter().zip(&printed.rows) {
            prop_assert_eq!((u64::from(line.a_seat), u64::from(line.made)), (row.a_kit, row.total));
        }
        for piece in &list.pieces {
            prop_assert_eq!(u64::from(piece.asked), project.sets() * u64::from(piece.a_set));
        }
        let look = outlook(book, id, None).unwrap();
        // The page of the class shows those lines too; what is still to be cut of them is what the plan is for.
        prop_assert_eq!(&look.kit, &kit);
        let job = planning::job_of(book, id, &planning::trimmer(book)).unwrap();
        if project.progress == Progress::Open {
            let planned = |(line, still): (&class::KitLine, &u64)| {
                let is_piece = line.size.is_some() && line.item.is_some();
                if is_piece { *still } else { 0 }
            };
            let on_page: u64 = look.kit.iter().zip(&look.kit_still).map(planned).sum();
            prop_assert_eq!(on_page, job.job.piece_total());
        }
        let now = needs(book, id, None).unwrap();
        for need in &look.needs {
            prop_assert_eq!(need.free, book.free(need.item));
            prop_assert_eq!(need.needed, now.in_all().get(&need.item).copied().unwrap_or(0));
            prop_assert_eq!(need.booked, booked::items(book, id).get(&need.item).copied().unwrap_or(0));
        }
        if project.progress != Progress::Open {
            prop_assert!(look.needs.iter().all(|n| n.missing == 0), "a taught class is not short");
            prop_assert_eq!(look.shortage_line(book), None);
        }
        prop_assert_eq!(work_pieces(&now.done), self.tally.cut.get(&id).copied().unwrap_or(0));
        Ok(())
    }
}

/// Good pieces that the log has.
fn work_pieces(done: &WorkDone) -> u64 {
    done.pieces.iter().map(|p| u64::from(p.count)).sum()
}

/// A card of base and two mats.
fn design(dice: &mut Dice, papers: &[ItemId]) -> ProjectCard {
    let face = Size::new(sixteenths(4 * (12 + dice.roll(8))), sixteenths(4 * (14 + dice.roll(9))));
    let mats = [Some(papers[dice.roll(papers.len())]), Some(papers[dice.roll(papers.len())])];
    ProjectCard {
        base_paper: Some(PaperRef::Shelf(papers[dice.roll(papers.len())])),
        spares: dice.roll(2) as u32,
        ..ProjectCard::new("design", face).with_mats(&[sixteenths(2), sixteenths(1)], &mats)
    }
}

/// Pieces that come out of the first sheets of a run.
fn pieces_of(run: &BenchRun, to: u32) -> u64 {
    let (mut first, mut all) = (0, 0);
    for sheet in &run.sheets {
        let n = (first + sheet.copies).min(to).saturating_sub(first);
        all += u64::from(n) * sheet.layout.pieces.len() as u64;
        first += sheet.copies;
    }
    all
}

proptest! {
    #![proptest_config(super::law_of(4, 5_000))]

    /// Planned, booked, cut in parts, used elsewhere, changed, taken back, taught: in any order.
    #[test]
    fn every_figure_of_a_year_agrees(seed: u64) {
        let mut year = Year::new(seed);
        year.agrees()?;
        for _ in 0..12 {
            year.event()?;
            year.agrees()?;
        }
    }
}

/// Four letter sheets, grain long; twelve pieces 3 x 8 whose long side follows the grain: two across, one down, two a
/// sheet, six sheets (arithmetic). Class, plan and booking say six, and two are missing.
#[test]
fn grain_counts_in_the_need_as_it_does_in_the_plan() {
    let mut year = Year::empty(1);
    let inches = |w: i64, h: i64| Size::new(Length::inches(w), Length::inches(h));
    let fern = year.book.items().next();
    let size = Some(Size::new(sixteenths(136), Length::inches(11)));
    let item = Item { size, grain: Grain::Long, ..Item::new("fern", Kind::PlainSheet) };
    year.apply(&Edit::Item(Row::add(fern, item)));
    year.receive(fern, 4);
    let piece =
        PieceWanted { paper: Some(fern), grain: Grain::Long, ..PieceWanted::new("strip", inches(3, 8), 12) };
    let id = year.book.projects().next();
    let project = Project { date: Some(date(2026, 4, 1)), pieces: vec![piece], ..Project::new("strips") };
    year.apply(&Edit::Project(Row::add(id, project)));
    let (job, plan, _) = year.job(id);
    assert_eq!(planning::takes(&job, &plan).sheets, BTreeMap::from([(fern, 6)]));
    assert!(plan.unplaced.is_empty());
    assert_eq!(planning::short(&year.book, &job, &plan), [(fern, 2)]);
    let settled = Settled { job: &job, plan: &plan };
    let look = outlook(&year.book, id, Some(settled)).unwrap();
    assert_eq!((look.needs[0].needed, look.needs[0].missing, look.basis), (6, 2, Basis::Planned));
    // Until the plan is there the figure is a bound, and says so: 12 x 24 over 93 1/2 square inches.
    let bound = outlook(&year.book, id, None).unwrap();
    assert_eq!((bound.needs[0].needed, bound.basis), (4, Basis::Bound));
    let edit = class::book_plan(&year.book, settled).unwrap().unwrap();
    assert!(year.apply(&edit));
    assert_eq!(year.book.booked(fern), 6);
    // At the bench what is there is cut, the rest stays booked.
    let (job, plan, layouts) = year.job(id);
    let run = bench_run(&year.book, &job, &plan, layouts.as_deref());
    assert_eq!(run.sheet_total(), 4);
    let edit = cut::log_edit(&year.book, &run.title, run.of, &run.cut(0, 4));
    assert!(year.apply(&edit));
    let rest = outlook(&year.book, id, None).unwrap();
    assert_eq!((rest.needs[0].used, rest.needs[0].still(), rest.needs[0].booked), (4, 2, 2));
    assert_eq!((rest.needs[0].missing, rest.pieces, rest.basis), (2, (12, 4), Basis::Booked));
}

/// Work without a day comes after all that has one, whoever booked first, and says whose sheets it takes.
#[test]
fn work_without_a_day_never_makes_a_dated_class_short_in_silence() {
    let mut year = Year::empty(1);
    let plum = year.book.items().next();
    let size = Some(Size::new(Length::inches(12), Length::inches(12)));
    year.apply(&Edit::Item(Row::add(plum, Item { size, ..Item::new("plum", Kind::PlainSheet) })));
    year.receive(plum, 10);
    let mut make = |name: &str, count: u32, day| {
        let piece = PieceWanted {
            paper: Some(plum),
            ..PieceWanted::new("panel", Size::new(Length::inches(12), Length::inches(12)), count)
        };
        let id = year.book.projects().next();
        let project = Project { date: day, pieces: vec![piece], ..Project::new(name) };
        year.apply(&Edit::Project(Row::add(id, project)));
        let (job, plan, _) = year.job(id);
        let edit = class::book_plan(&year.book, Settled { job: &job, plan: &plan }).unwrap().unwrap();
        let taken = trimside::domain::stock::shortage::taken_by(&year.book, id, &edit);
        year.apply(&edit);
        (id, taken)
    };
    let (undated, none) = make("some time", 6, None);
    assert!(none.is_empty());
    let (class, taken) = make("class", 6, Some(date(2026, 12, 12)));
    assert_eq!(taken, ["takes 2 of plum that some time has booked"]);
    let (third, taken) = make("later", 2, None);
    assert_eq!(taken, ["takes 2 of plum that some time has booked"]);
    let missing = |id| outlook(&year.book, id, None).unwrap().needs[0].missing;
    assert_eq!((missing(class), missing(undated), missing(third)), (0, 2, 2));
    assert_eq!(year.book.free(plum), -4);
}
