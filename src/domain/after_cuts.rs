//! What a project still asks for after its cuts, stage by stage in words: shape, stamp, score and fold, pack the kits, make up,
//! hand out. How far each stage has come is the project's own count; here is only what is done in it, from the cards
//! as they stand. Knows no screen.

use crate::domain::book::Book;
use crate::domain::cards::cautions::{self, Activity};
use crate::domain::cards::fold::FoldKind;
use crate::domain::cards::grain::FoldGrain;
use crate::domain::cards::made_by::MadeBy;
use crate::domain::cardwork;
use crate::domain::cutlist::{self, CutList, ListPiece};
use crate::domain::lay_out;
use crate::domain::length::Unit;
use crate::domain::pages::card::{self, CardSheet};
use crate::domain::pages::shelf::card_sheet;
use crate::domain::project::{Project, ProjectCard, Stage};
use crate::domain::stock::ProjectId;
use crate::domain::stock::class::kit;

/// One stage as the step view shows it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StageSheet {
    /// Which.
    pub stage: Stage,
    /// How many are done.
    pub done: u32,
    /// Of how many.
    pub of: u32,
    /// What is done with each one, in order.
    pub lines: Vec<String>,
    /// Cautions where the work is done.
    pub cautions: Vec<String>,
}

/// The stages that a project goes through, in order.
pub fn stages(project: &Project) -> Vec<Stage> {
    Stage::ALL.into_iter().filter(|stage| project.stage_total(*stage).is_some_and(|n| n > 0)).collect()
}

/// The first stage that is not done; the last one where all are.
pub fn open_stage(project: &Project) -> Option<Stage> {
    let all = stages(project);
    let is_open = |s: &Stage| project.stage_total(*s).is_some_and(|of| project.stages.done(*s) < of);
    all.iter().copied().find(is_open).or(all.last().copied())
}

/// A stage of a project of the book; `None` where the project is gone or does not go through it.
pub fn sheet(book: &Book, id: ProjectId, stage: Stage, unit: Unit) -> Option<StageSheet> {
    let project = book.projects().get(id)?;
    let of = project.stage_total(stage)?;
    let list = cutlist::of_project(book, project);
    let lines = match stage {
        Stage::Shaped => shaped(&list, unit),
        Stage::Stamped => stamped(&list, unit),
        Stage::Scored => project.cards.iter().flat_map(|of| scored(book, of, unit)).collect(),
        Stage::Prepared => {
            vec!["Nothing is die-cut, stamped or scored: count the pieces of each set.".to_owned()]
        }
        Stage::Packed => packed(book, &list, unit),
        Stage::Assembled => assembled(book, project, unit),
        Stage::HandedOut => vec![format!("Hand out or mail each {}.", stage.unit())],
    };
    let said = |activities: &[Activity]| -> Vec<String> {
        activities.iter().filter_map(|a| cautions::when(*a)).map(|c| c.text.clone()).collect()
    };
    let cautions = match stage {
        Stage::Shaped => said(&[Activity::Cutting, Activity::Heat]),
        Stage::Stamped => said(&[Activity::Heat, Activity::Powders]),
        Stage::Scored | Stage::Prepared => said(&[Activity::Cutting]),
        Stage::Assembled => said(&[Activity::Adhesives]),
        Stage::Packed => said(&[Activity::Children]),
        Stage::HandedOut => Vec::new(),
    };
    Some(StageSheet { stage, done: project.stages.done(stage), of, lines, cautions })
}

/// What is laid out for a stage, in one line; nothing where nothing is.
fn lay_out_line(list: &CutList, stage: Stage) -> Option<String> {
    let all = lay_out::for_stage(list, stage);
    (!all.is_empty()).then(|| format!("Lay out: {}.", all.join(", ")))
}

/// What is done with a piece as it was cut: `Die-cut note, mat 1: from 4 1/2 x 5 3/4 in to 4 x 5 1/4 in, 1/4 in around it.`
fn from_cut(task: &str, piece: &ListPiece, unit: Unit) -> String {
    if !piece.allowance.is_positive() {
        return format!("{task} {}.", piece.name);
    }
    format!(
        "{task} {}: from {} to {}, {} around it.",
        piece.name,
        piece.cut_size().show_with_unit(unit),
        piece.finished.show_with_unit(unit),
        piece.allowance.show_with_unit(unit)
    )
}

/// What is die-cut, torn, embossed or trimmed of one set.
fn shaped(list: &CutList, unit: Unit) -> Vec<String> {
    let pieces = list.pieces.iter().filter(|p| lay_out::goes_through(p, Stage::Shaped));
    let line = |p: &ListPiece| from_cut(p.made_by.task().unwrap_or("Die-cut, emboss or trim"), p, unit);
    lay_out_line(list, Stage::Shaped).into_iter().chain(pieces.map(line)).collect()
}

/// What is stamped or printed of one set.
fn stamped(list: &CutList, unit: Unit) -> Vec<String> {
    let pieces = list.pieces.iter().filter(|p| lay_out::goes_through(p, Stage::Stamped));
    let line = |p: &ListPiece| match p.made_by {
        MadeBy::PrintedToEdge => from_cut(p.made_by.task().unwrap_or("Print"), p, unit),
        _ => format!("Stamp or print {} and let it dry before it is stacked.", p.name),
    };
    lay_out_line(list, Stage::Stamped).into_iter().chain(pieces.map(line)).collect()
}

/// How a card's base is scored and folded: each line from the left or top, with the inside up.
fn scored(book: &Book, of: &ProjectCard, unit: Unit) -> Vec<String> {
    let Ok(sheet) = card_sheet(book, of, unit) else { return Vec::new() };
    let kind = of.fold.kind;
    let line = |(n, score): (usize, &crate::domain::cards::fold::Score)| {
        let way = if is_valley(kind, n) { "valley" } else { "mountain" };
        format!("{} along the {} ({way})", score.at.show_with_unit(unit), score.side.word())
    };
    let lines: Vec<String> = sheet.base.scores.iter().enumerate().map(line).collect();
    if lines.is_empty() {
        return Vec::new();
    }
    let size = sheet.base.size.show_with_unit(unit);
    let mut all = vec![
        format!("Score the base of {}, {size}, inside up: at {}.", of.name, lines.join(", then at ")),
        format!("Fold the base of {} and press each fold flat.", of.name),
    ];
    let worked = cardwork::work(book, of, &cardwork::tools(book, unit));
    let grain = worked.map_or(FoldGrain::NoFold, |worked| worked.grain);
    all.extend(grain.sentence().map(|words| format!("{}: {words}.", of.name)));
    all
}

/// True where a fold closes toward the side that lies up. Folds of a Z and an accordion alternate; a front that is folded
/// back on itself goes the other way (geometry of the folds).
fn is_valley(kind: FoldKind, n: usize) -> bool {
    match kind {
        FoldKind::Z | FoldKind::Accordion => n.is_multiple_of(2),
        FoldKind::Back => n == 1,
        _ => true,
    }
}

/// The kit of one seat, line by line; nothing in it is made up.
fn packed(book: &Book, list: &CutList, unit: Unit) -> Vec<String> {
    let line = |line: &crate::domain::stock::class::KitLine| {
        let size = line.size.map_or_else(String::new, |size| format!(", {}", size.show_with_unit(unit)));
        format!("{} x {}{size}", line.a_seat, line.words(book))
    };
    let kit = kit(list);
    std::iter::once("Pack each kit, not made up, against this list:".to_owned())
        .chain(kit.iter().map(line))
        .collect()
}

/// How each card is laid together, from the inside out: what lies on top goes onto what is below it first.
fn assembled(book: &Book, project: &Project, unit: Unit) -> Vec<String> {
    let mut all = Vec::new();
    let glue = lay_out::adhesives(book, project);
    for of in &project.cards {
        let Ok(sheet) = card_sheet(book, of, unit) else { continue };
        all.extend(inside_out(&sheet).into_iter().map(|words| format!("{}: {words}", of.name)));
    }
    if !glue.is_empty() {
        all.push(format!("Adhesive: {}.", glue.join(", ")));
    }
    all
}

/// The gluing of a card without its scoring, the innermost layer first.
fn inside_out(sheet: &CardSheet) -> Vec<String> {
    let steps = card::steps(sheet);
    let [_, layers @ .., last] = steps.as_slice() else { return steps };
    layers.iter().rev().chain([last]).cloned().collect()
}
