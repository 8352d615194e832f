//! The demo's last week: a trio's papers on a card, sheets used, an order placed, a class and a batch booked, the batch half
//! cut. Each plan is known by its cuts.

use super::{Demo, find, paper_or_none, read_date};
use crate::domain::book::Book;
use crate::domain::cutting::job::Cost;
use crate::domain::cutting::leftover;
use crate::domain::cutting::plan::{BoundName, Plan, PlannedSheet};
use crate::domain::cutting::relaid::{self, Relaid};
use crate::domain::cutting::tree::Tree;
use crate::domain::edit::{Edit, Row};
use crate::domain::history::{History, Intent};
use crate::domain::planning::{self, BookedNow, ProjectJob};
use crate::domain::project::{Project, ProjectCard, Source};
use crate::domain::stock::cut::{CutFor, CutSheets, Left, log_edit};
use crate::domain::stock::needs::Settled;
use crate::domain::stock::{MadePiece, NewLine, Order, OrderId, ProjectId, class};
use serde::{Deserialize, Serialize};

/// The plans that were booked, written by a test.
const BOOKED: &str = include_str!("../../../demo-data/booked.ron");

/// What was done, as it is written down.
#[derive(Deserialize)]
pub(super) struct Week {
    papers: (String, String, usize, String, Vec<String>),
    used: Vec<(String, String, u32, String)>,
    ordered: Vec<(String, String, u32, String)>,
    booked: Vec<(String, String)>,
    cut: (String, String, usize),
}

/// A plan as it is written down.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq, Eq)]
pub struct Written {
    /// The project's name.
    pub project: String,
    /// Fewest whole sheets that any plan takes.
    pub least: u64,
    /// Word of the argument that shows it.
    pub bound: String,
    /// Row of the job's sheets, how often, the cuts.
    pub layouts: Vec<(usize, u32, String)>,
}

/// The plans that are known.
pub(super) struct Known(Vec<Written>);

impl Known {
    /// Those that are compiled in.
    pub(super) fn read() -> Result<Self, String> {
        ron::from_str(BOOKED).map(Self).map_err(|e| format!("the demo's plans: {e}"))
    }

    /// The plan of a project.
    pub(super) fn plan(&mut self, job: &ProjectJob) -> Result<Plan, String> {
        let none = || format!("the demo has no plan of {}", job.name);
        let known = self.0.iter().find(|w| w.project == job.name).ok_or_else(none)?;
        let laid = |(sheet, copies, tree): &(usize, u32, String)| {
            Some(Relaid { sheet: *sheet, copies: *copies, tree: Tree::decode(tree)? })
        };
        let layouts: Option<Vec<Relaid>> = known.layouts.iter().map(laid).collect();
        let least = Cost::from_parts(Cost::ONE.parts() * known.least);
        let bound = BoundName::of_word(&known.bound).ok_or_else(none)?;
        Ok(relaid::plan(&job.job, layouts.ok_or_else(none)?, least, bound))
    }
}

/// Does what was done in the week.
pub(super) fn worked(
    demo: &Demo,
    book: &mut Book,
    history: &mut History,
    plan_of: &mut dyn FnMut(&ProjectJob) -> Result<Plan, String>,
) -> Result<(), String> {
    let week = &demo.week;
    let mut make = |book: &mut Book, date: &str, edit: Edit| -> Result<(), String> {
        history.perform(book, &Intent::Do(edit), read_date(date)?).map(drop).map_err(|e| e.to_string())
    };
    let edit = on_card(demo, book)?;
    make(book, &week.papers.0, edit)?;
    for (date, name, count, job) in &week.used {
        let edit = Edit::Log(NewLine::used(find(demo, name)?, *count, job));
        make(book, date, edit)?;
    }
    for (n, (date, name, count, expected)) in (1..).zip(&week.ordered) {
        let id = find(demo, name)?;
        // Ordered from whom it always comes, at what the line says.
        let item = book.items().get(id);
        let order = Order {
            expected: Some(read_date(expected)?),
            seller: item.map(|i| i.seller.clone()).unwrap_or_default(),
            price: item.and_then(|i| Some(i.price?.part(u64::from(*count), u64::from(i.pack_size())))),
            ..Order::of(id, *count, read_date(date)?)
        };
        make(book, date, Edit::Order(Row::add(OrderId(n), order)))?;
    }
    for (date, name) in &week.booked {
        let job = job_of(book, name)?;
        let plan = plan_of(&job)?;
        let edit = class::book_plan(book, Settled { job: &job, plan: &plan })?;
        make(book, date, edit.ok_or_else(|| format!("{name} is booked already"))?)?;
    }
    let (date, name, layouts) = &week.cut;
    let edit = cut(book, name, *layouts)?;
    make(book, date, edit)
}

fn project<'a>(book: &'a Book, name: &str) -> Result<(ProjectId, &'a Project), String> {
    let found = book.projects().iter().find(|(_, p)| p.name == name);
    found.ok_or_else(|| format!("the demo has no project {name}"))
}

fn job_of(book: &Book, name: &str) -> Result<ProjectJob, String> {
    let (id, _) = project(book, name)?;
    planning::job_of(book, id, &planning::trimmer(book)).ok_or_else(|| format!("{name} is gone"))
}

/// The papers of a kept trio on a card.
fn on_card(demo: &Demo, book: &Book) -> Result<Edit, String> {
    let (_, name, at, base, mats) = &demo.week.papers;
    let (id, was) = project(book, name)?;
    let mut now = was.clone();
    let card = now.cards.get_mut(*at).ok_or_else(|| format!("{name} has no card {at}"))?;
    let mut layers = card.layers.clone();
    for (layer, paper) in layers.iter_mut().zip(mats) {
        layer.paper = paper_or_none(demo, paper)?;
    }
    *card = ProjectCard { base_paper: paper_or_none(demo, base)?, layers, ..card.clone() };
    Ok(Edit::Project(Row::alter(id, was.clone(), now)))
}

/// Logs the first layouts of a booked plan as cut, as the bench does.
fn cut(book: &Book, name: &str, layouts: usize) -> Result<Edit, String> {
    let job = job_of(book, name)?;
    let booked = planning::booked_plan(book, &job).ok_or_else(|| format!("{name} has no booked plan"))?;
    let number = book.projects().get(job.project).and_then(|p| p.plan.as_ref()).map(|p| p.number);
    let of = CutFor { project: job.project, plan: number };
    Ok(log_edit(book, name, Some(of), &taken(&job, &booked, layouts)))
}

fn taken(job: &ProjectJob, booked: &BookedNow, layouts: usize) -> CutSheets {
    let mut cut = CutSheets::default();
    for (sheet, place) in booked.plan.sheets.iter().zip(&booked.layouts).take(layouts) {
        let Some(from) = job.from.get(sheet.sheet) else { continue };
        match from {
            Source::Shelf(item) => bump(&mut cut.sheets, *item, sheet.copies),
            Source::Bin(offcut) => bump(&mut cut.offcuts, *offcut, sheet.copies),
        }
        cut.layouts.push((*from, *place, sheet.copies));
        made(job, sheet, &mut cut);
    }
    cut
}

/// Counts more of a thing: each stands once.
fn bump<T: PartialEq>(all: &mut Vec<(T, u32)>, one: T, n: u32) {
    match all.iter_mut().find(|(same, _)| *same == one) {
        Some((_, count)) => *count += n,
        None => all.push((one, n)),
    }
}

/// The pieces and leftovers of a layout.
fn made(job: &ProjectJob, sheet: &PlannedSheet, cut: &mut CutSheets) {
    let mut paper = None;
    for placed in &sheet.layout.pieces {
        let (Some(piece), Some(of)) = (job.job.pieces.get(placed.piece), job.papers.get(placed.piece)) else {
            continue;
        };
        paper = Some(*of);
        let (name, size) = (piece.name.clone(), piece.cut_size());
        cut.add_pieces(*of, MadePiece { name, size, count: sheet.copies });
    }
    let (Some(item), Some(row)) = (paper, job.job.sheets.get(sheet.sheet)) else { return };
    for left in sheet.layout.offcuts.iter().filter(|o| leftover::is_kept(o.size, job.job.keep)) {
        let grain = row.grain.of_part(row.size, left.size);
        let size = left.size.upright();
        match cut.left.iter_mut().find(|l| (l.item, l.size, l.grain) == (item, size, grain)) {
            Some(same) => same.count += sheet.copies,
            None => cut.left.push(Left { item, size, grain, count: sheet.copies }),
        }
    }
}
