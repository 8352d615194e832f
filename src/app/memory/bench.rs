//! The cut list in hand, as a text remembers it: layouts by their trees, papers by number. What no longer holds together is
//! not read.

use super::{pair, size};
use crate::app::panes::trimmer::MOST_A_STROKE;
use crate::app::state::bench::{BenchRun, BenchSheet, Gone, PaperSource};
use crate::domain::cards::made_by::MadeBy;
use crate::domain::cutting::geometry::Panel;
use crate::domain::cutting::job::JobPiece;
use crate::domain::cutting::question::Trimmer;
use crate::domain::cutting::spoiled::{self, Lost};
use crate::domain::cutting::tree::Tree;
use crate::domain::length::Length;
use crate::domain::size::Grain;
use crate::domain::stock::cut::{CutFor, CutSheets, Left};
use crate::domain::stock::{ItemId, OffcutId, ProjectId};
use serde::{Deserialize, Serialize};

#[derive(Serialize, Deserialize)]
pub(super) struct Bench {
    title: String,
    /// The project and the number of its booked plan.
    #[serde(default)]
    project: Option<u32>,
    #[serde(default)]
    plan: Option<u32>,
    #[serde(default)]
    papers: Vec<u32>,
    pieces: Vec<Piece>,
    sheets: Vec<Layout>,
    keep: (i64, i64),
    done: usize,
    logged: u32,
    #[serde(default)]
    to_spare: Vec<u32>,
    #[serde(default)]
    ruined: Vec<u32>,
    #[serde(default)]
    ruined_logged: Vec<u32>,
    #[serde(default)]
    gone: Vec<GoneLeft>,
    #[serde(default)]
    per_stroke: u32,
    /// Strokes counted in the step in hand.
    #[serde(default)]
    strokes: u32,
    spoiled: u32,
    /// Layouts in front that make up one whole card.
    #[serde(default)]
    proof: usize,
    sheets_before: Vec<(u32, u32)>,
    offcuts_before: Vec<(u32, u32)>,
    /// Paper, size, grain, count.
    #[serde(default)]
    left_before: Vec<(u32, (i64, i64), String, u32)>,
}

/// Paper's name, paper in stock, size, grain.
type GoneLeft = (String, Option<u32>, (i64, i64), String);

#[derive(Serialize, Deserialize)]
struct Piece {
    name: String,
    size: (i64, i64),
    count: u32,
    turn: bool,
    #[serde(default)]
    made_by: String,
    #[serde(default)]
    allowance: i64,
    #[serde(default)]
    grain: String,
    paper: Option<String>,
}

#[derive(Serialize, Deserialize)]
struct Layout {
    name: String,
    #[serde(default)]
    paper_name: String,
    #[serde(default)]
    grain: String,
    paper: Option<u32>,
    offcut: Option<u32>,
    on_bench: bool,
    size: (i64, i64),
    copies: u32,
    tree: String,
    /// Panels that were spoiled.
    #[serde(default)]
    lost: Vec<Spoilt>,
    /// Its place in the booked plan.
    #[serde(default)]
    booked_as: Option<u32>,
}

/// A panel that was spoiled: where it lay, what was off it by then, after how many cuts.
#[derive(Serialize, Deserialize)]
struct Spoilt {
    panel: [i64; 4],
    off: Vec<[i64; 4]>,
    after: usize,
}

/// The run as it is remembered.
pub(super) fn remember(run: &BenchRun) -> Bench {
    let sheets = run.sheets.iter().map(|s| Layout {
        name: s.name.clone(),
        paper_name: s.paper_name.clone(),
        grain: s.grain.word().to_owned(),
        paper: s.paper.map(|id| id.0),
        offcut: if let PaperSource::Bin(id) = s.source { Some(id.0) } else { None },
        on_bench: s.source == PaperSource::OnBench,
        size: pair(s.size),
        copies: s.copies,
        tree: s.tree.encode(),
        lost: s.lost.iter().map(remember_lost).collect(),
        booked_as: s.booked_as,
    });
    let pieces = run.pieces.iter().map(|p| Piece {
        name: p.name.clone(),
        size: pair(p.finished),
        count: p.count,
        turn: p.may_turn,
        made_by: p.made_by.word().to_owned(),
        allowance: p.allowance.units(),
        grain: p.grain.word().to_owned(),
        paper: p.paper.clone(),
    });
    Bench {
        title: run.title.clone(),
        project: run.of.map(|of| of.project.0),
        plan: run.of.and_then(|of| of.plan),
        papers: run.papers.iter().map(|id| id.0).collect(),
        pieces: pieces.collect(),
        sheets: sheets.collect(),
        keep: pair(run.keep),
        done: run.done,
        strokes: run.strokes(),
        logged: run.logged,
        to_spare: run.spares.clone(),
        ruined: run.ruined.clone(),
        ruined_logged: run.ruined_logged.clone(),
        gone: run.gone.iter().map(remember_gone).collect(),
        per_stroke: run.per_stroke,
        spoiled: run.spoiled,
        proof: run.proof,
        sheets_before: run.before.sheets.iter().map(|(id, n)| (id.0, *n)).collect(),
        left_before: run.before.left.iter().map(remember_left).collect(),
        offcuts_before: run.before.offcuts.iter().map(|(id, n)| (id.0, *n)).collect(),
    }
}

/// The run that was remembered; `None` where it cannot be followed any more.
pub(super) fn recall(b: Bench, trimmer: &Trimmer) -> Option<BenchRun> {
    let per_stroke = b.per_stroke.clamp(1, MOST_A_STROKE);
    let trimmer = &Trimmer { sheets_per_stroke: per_stroke, ..*trimmer };
    let sheets = b.sheets.into_iter().map(|s| layout(s, trimmer)).collect::<Option<Vec<_>>>()?;
    let pieces = b.pieces.into_iter().map(piece).collect::<Option<Vec<_>>>()?;
    let fits = sheets.iter().flat_map(|s| &s.layout.pieces).all(|p| p.piece < pieces.len());
    let before = b.sheets_before.iter().chain(&b.offcuts_before).all(|(_, n)| *n <= MOST);
    let counts = countable(&b.to_spare) && countable(&b.ruined) && countable(&b.ruined_logged);
    if !before || !counts || !countable(&[b.logged, b.spoiled]) || pieces.iter().any(|p| p.count > MOST) {
        return None;
    }
    let left = b.left_before.into_iter().filter_map(left).collect();
    let before = CutSheets {
        sheets: b.sheets_before.into_iter().map(|(id, n)| (ItemId(id), n)).collect(),
        offcuts: b.offcuts_before.into_iter().map(|(id, n)| (OffcutId(id), n)).collect(),
        left,
        ..CutSheets::default()
    };
    let run = BenchRun {
        title: b.title,
        of: b.project.map(|id| CutFor { project: ProjectId(id), plan: b.plan }),
        papers: b.papers.into_iter().map(ItemId).collect(),
        pieces,
        sheets,
        keep: size(b.keep)?,
        done: b.done,
        counted: if b.strokes > 0 { (b.done, b.strokes) } else { (0, 0) },
        logged: b.logged,
        before,
        spares: b.to_spare,
        ruined: b.ruined,
        ruined_logged: b.ruined_logged,
        gone: b.gone.into_iter().filter_map(gone).collect(),
        per_stroke,
        spoiled: b.spoiled,
        proof: b.proof,
    };
    (fits && run.done <= run.len()).then_some(run)
}

fn remember_gone(gone: &Gone) -> GoneLeft {
    (gone.paper_name.clone(), gone.paper.map(|id| id.0), pair(gone.size), gone.grain.word().to_owned())
}

fn gone((paper_name, id, both, grain): GoneLeft) -> Option<Gone> {
    let grain = Grain::from_word(&grain).unwrap_or_default();
    Some(Gone { paper_name, paper: id.map(ItemId), size: size(both)?, grain })
}

fn remember_lost(lost: &Lost) -> Spoilt {
    let four = |p: &Panel| [p.x, p.y, p.size.width, p.size.height].map(Length::units);
    Spoilt { panel: four(&lost.panel), off: lost.off.iter().map(four).collect(), after: lost.after }
}

fn lost(s: Spoilt) -> Option<Lost> {
    let place = |units: i64| (0..=Length::MAX.units()).contains(&units).then(|| Length::from_units(units));
    let panel = |[x, y, w, h]: [i64; 4]| Some(Panel { x: place(x)?, y: place(y)?, size: size((w, h))? });
    let off = s.off.into_iter().map(panel).collect::<Option<Vec<_>>>()?;
    Some(Lost { panel: panel(s.panel)?, off, after: s.after })
}

fn remember_left(left: &Left) -> (u32, (i64, i64), String, u32) {
    (left.item.0, pair(left.size), left.grain.word().to_owned(), left.count)
}

fn left((id, both, grain, count): (u32, (i64, i64), String, u32)) -> Option<Left> {
    let grain = Grain::from_word(&grain).unwrap_or_default();
    (count <= MOST).then_some(Left { item: ItemId(id), size: size(both)?, grain, count })
}

/// No bench that was remembered counted further; sums of such counts stay countable.
const MOST: u32 = 100_000;

fn countable(counts: &[u32]) -> bool {
    counts.iter().all(|n| *n <= MOST)
}

fn layout(s: Layout, trimmer: &Trimmer) -> Option<BenchSheet> {
    if s.copies == 0 || !countable(&[s.copies]) {
        return None;
    }
    let (size, tree) = (size(s.size)?, Tree::decode(&s.tree)?);
    if !tree.fits(size) {
        return None;
    }
    let lost = s.lost.into_iter().map(lost).collect::<Option<Vec<_>>>()?;
    let source = match (s.on_bench, s.offcut, s.paper) {
        (true, ..) => PaperSource::OnBench,
        (false, Some(id), _) => PaperSource::Bin(OffcutId(id)),
        (false, None, Some(id)) => PaperSource::Shelf(ItemId(id)),
        (false, None, None) => PaperSource::Loose,
    };
    let list = source.cut_list(size, &tree, trimmer, s.copies);
    let steps = spoiled::steps_without(&list.steps, &list.layout.cuts, &lost);
    Some(BenchSheet {
        paper_name: if s.paper_name.is_empty() { s.name.clone() } else { s.paper_name },
        name: s.name,
        grain: Grain::from_word(&s.grain).unwrap_or_default(),
        source,
        paper: s.paper.map(ItemId),
        size,
        layout: list.layout,
        steps,
        tree,
        copies: s.copies,
        lost,
        booked_as: s.booked_as,
    })
}

fn piece(p: Piece) -> Option<JobPiece> {
    Some(JobPiece {
        name: p.name,
        finished: size(p.size)?,
        made_by: MadeBy::from_word(&p.made_by).unwrap_or_default(),
        allowance: Length::from_units(p.allowance.clamp(0, Length::MAX.units())),
        count: p.count,
        may_turn: p.turn,
        grain: Grain::from_word(&p.grain).unwrap_or_default(),
        paper: p.paper,
        sheet: None,
    })
}
