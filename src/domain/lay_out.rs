//! What is laid out before the work after the cuts: dies, folders, stamps and ink, each with the part that it is for, and the
//! adhesive. The stages, the class page and the kit list say the same. Knows no screen.

use crate::domain::book::Book;
use crate::domain::cutlist::{CutList, ListPiece};
use crate::domain::project::{Project, Stage};
use crate::domain::stock::Kind;

/// True for a piece that goes through a stage.
pub fn goes_through(piece: &ListPiece, stage: Stage) -> bool {
    Stage::of_piece(piece.made_by, piece.allowance, &piece.name).contains(&stage)
}

/// What is laid out for one stage: `die for note, mat 1`.
pub fn for_stage(list: &CutList, stage: Stage) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for piece in list.pieces.iter().filter(|p| goes_through(p, stage)) {
        let printed = (stage == Stage::Stamped).then_some("stamp and ink, or printer");
        let tool = printed.or_else(|| piece.made_by.tool());
        let lines = tool.into_iter().map(|tool| format!("{tool} for {}", piece.name));
        all.extend(lines.filter(|line| !all.contains(line)).collect::<Vec<_>>());
    }
    all
}

/// The adhesives that a project names.
pub fn adhesives(book: &Book, project: &Project) -> Vec<String> {
    let items = project.supplies.iter().filter_map(|s| book.items().get(s.item));
    items.filter(|item| item.kind == Kind::Adhesive).map(|item| item.name.clone()).collect()
}

/// All that is laid out for a project, as a sentence; `None` where nothing is.
pub fn sentence(book: &Book, project: &Project, list: &CutList) -> Option<String> {
    let mut all: Vec<String> = Stage::TASKS.into_iter().flat_map(|stage| for_stage(list, stage)).collect();
    all.extend(adhesives(book, project));
    (!all.is_empty()).then(|| format!("To lay out: {}.", all.join(", ")))
}
