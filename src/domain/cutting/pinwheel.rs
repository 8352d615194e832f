//! Layouts for trimmers that can start and stop inside the sheet: pinwheels of five blocks.
//!
//! Four cuts that each run from a side of a panel to the next cut leave five blocks, one in the middle, which no
//! edge-to-edge cut does ([`super::wheel`]). [`super::five_blocks`] seeks the most pieces with two pinwheels inside one another at most, and
//! [`super::fill`] one more where next to nothing would be left. The count is a lower bound; where it meets the upper
//! bound for any cutting ([`super::bounds`]), or the fill says that there is no more, it is proved.

use super::fill::{self, FillFound};
use super::five_blocks::{self, Blocks};
use super::layout::Layout;
use super::question::Question;
use super::reach::Reach;
use super::steps;
use super::stop::Stop;
use super::tree::Tree;
use super::trimmer_profile::TrimmerProfile;
use super::{bounds, edges, knife, wheel};
use crate::domain::cutting::geometry::CutLine;
use crate::domain::cutting::geometry::Edge;
use crate::domain::cutting::geometry::{Cut, Panel, Placed};
use crate::domain::cutting::step::{CutStep, StepList};
use crate::domain::length::{Length, Unit};
use crate::domain::size::Size;

/// What stop cuts add to an answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StopAnswer {
    /// Most pieces found, never below the edge-to-edge best.
    pub best: u32,
    /// Upper bound for any cutting.
    pub bound: u32,
    /// True where they are equal.
    pub proved: bool,
    /// Pieces, offcuts and cuts; a cut that ends inside a panel has `stop`.
    pub layout: Layout,
    /// The cuts that part the sheet into blocks, in order; none where edge-to-edge cuts give as many.
    pub parting: Vec<StopStep>,
    /// The steps after them.
    pub steps: Vec<CutStep>,
    /// The layout as cuts on the whole sheet, where stop cuts give more and pinwheels say it all.
    pub tree: Option<Tree>,
}

impl StopAnswer {
    /// The answer to a question that was refused: nothing, proved.
    pub const fn nothing() -> Self {
        let layout = Layout { pieces: Vec::new(), cuts: Vec::new(), offcuts: Vec::new() };
        Self { best: 0, bound: 0, proved: true, layout, parting: Vec::new(), steps: Vec::new(), tree: None }
    }
}

/// One cut that parts the sheet into blocks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StopStep {
    /// Distance from the fence to the blade.
    pub fence: Length,
    /// The edge of the panel against the fence, as drawn.
    pub edge: Edge,
    /// The edge where the blade starts; none where it starts at a cut made before.
    pub start: Option<Edge>,
    /// Length of the cut: where the stop mark is.
    pub along: Length,
    /// The panel, as drawn.
    pub from: Size,
    /// The cut on the sheet.
    pub cut: Cut,
    /// The trimmer that it is cut on.
    pub profile: TrimmerProfile,
}

impl StopStep {
    /// The step as one line.
    pub fn words(&self, unit: Unit) -> String {
        let show = |l: Length| l.show_with_unit(unit);
        let (set, from) = (self.profile.setting_words(self.fence, unit), self.from.show_with_unit(unit));
        let side =
            if matches!(self.edge, Edge::Left | Edge::Right) { self.from.height } else { self.from.width };
        let edge = self.profile.edge_words(self.from, self.edge, &show(side));
        if !self.cut.stop {
            return format!("{set}: {edge} of the panel {from}. 1 cut from edge to edge.");
        }
        format!(
            "{set}: {edge} of the panel {from}. Stop cut: start at {}, stop at the mark after {}, and \
             finish the corner with knife and steel rule.",
            self.start
                .map_or_else(|| "the cut that it meets".to_owned(), |e| format!("the {} edge", e.word())),
            show(self.along)
        )
    }
}

/// The answer with stop cuts, beside an edge-to-edge one of `best` pieces laid out as `edge_to_edge`.
pub fn answer(question: &Question, best: u32, edge_to_edge: &StepList, stop: &Stop) -> StopAnswer {
    let usable = question.sheet.usable();
    let small = |n: i64| u32::try_from(n).unwrap_or(u32::MAX);
    let mut bound = if question.may_turn {
        small(bounds::any_cutting(usable.size, question.piece)).max(best)
    } else {
        best
    };
    let sheet = question.sheet.actual();
    let free = question.trimmer.limits().allow_all(sheet.width.units(), sheet.height.units());
    let mut found = None;
    if free && bound > best {
        found = five_blocks::search(question, usable.size, best, stop);
        let so_far = found.as_ref().map_or(best, |f| f.0);
        let more =
            if bound > so_far { filled(question, usable.size, so_far + 1) } else { FillFound::Unknown };
        match more {
            FillFound::Found(placed) => found = Some((so_far + 1, Blocks::Placed(placed))),
            FillFound::Impossible => bound = so_far,
            FillFound::Unknown => {}
        }
    }
    let Some((best, blocks)) = found else {
        let StepList { layout, steps } = edge_to_edge.clone();
        let proved = best == bound;
        return StopAnswer { best, bound, proved, layout, parting: Vec::new(), steps, tree: None };
    };
    let tree = blocks.tree().and_then(|tree| edges::trimmed(question, usable, tree));
    let mut table = Table { piece: question.piece, ..Table::default() };
    let inner = table.trim(question, usable);
    table.part(inner, &blocks);
    table.parting.iter_mut().for_each(|s| s.profile = question.trimmer.profile);
    let trees: Vec<(Panel, &Tree)> = table.blocks.iter().map(|(p, t)| (*p, t)).collect();
    let list = steps::cut_list_of(&trees, &question.trimmer, 1);
    let mut layout = list.layout;
    let own = std::mem::take(&mut layout.cuts);
    layout.cuts = table.parting.iter().map(|s| s.cut).chain(own).collect();
    layout.pieces.extend(table.pieces);
    layout.offcuts.extend(table.offcuts);
    let steps = shifted(list.steps, table.parting.len());
    StopAnswer { best, bound, proved: best == bound, layout, parting: table.parting, steps, tree }
}

/// Looks for `wanted` pieces where they would leave next to nothing.
fn filled(question: &Question, room: Size, wanted: u32) -> FillFound {
    let sides = (question.piece.long().units(), question.piece.short().units());
    let down = |side: Length| Reach::new(side.units(), &[sides.0, sides.1]).down(side.units());
    fill::fill(down(room.width), down(room.height), sides, i64::from(wanted))
}

/// The steps with the cuts before them counted in.
fn shifted(mut steps: Vec<CutStep>, by: usize) -> Vec<CutStep> {
    for step in &mut steps {
        step.cuts = step.cuts.start + by..step.cuts.end + by;
        step.first_stroke += by as u32;
        step.of_strokes += by as u32;
    }
    steps
}

/// What has been parted so far.
#[derive(Default)]
struct Table {
    piece: Size,
    pieces: Vec<Placed>,
    parting: Vec<StopStep>,
    blocks: Vec<(Panel, Tree)>,
    offcuts: Vec<Panel>,
}

impl Table {
    /// Cuts unusable edges away; gives the usable panel.
    fn trim(&mut self, question: &Question, usable: Panel) -> Panel {
        let lost = question.sheet.lost();
        let mut panel = Panel::whole(question.sheet.actual());
        let kept = [
            (CutLine::Down, lost.left, false),
            (CutLine::Down, usable.size.width, true),
            (CutLine::Across, lost.top, false),
            (CutLine::Across, usable.size.height, true),
        ];
        for (line, at, keeps_first) in kept {
            let side = if line == CutLine::Down { panel.size.width } else { panel.size.height };
            if !at.is_positive() || at >= side {
                continue;
            }
            self.parting.push(edge_to_edge(panel, line, at, keeps_first));
            let (first, second) = panel.parts(line, at);
            let (keep, lose) = if keeps_first { (first, second) } else { (second, first) };
            self.offcuts.push(lose);
            panel = keep;
        }
        panel
    }

    fn part(&mut self, panel: Panel, blocks: &Blocks) {
        match blocks {
            Blocks::Tree(tree) => self.blocks.push((panel, tree.clone())),
            Blocks::Cut(line, at, parts) => {
                self.parting.push(edge_to_edge(panel, *line, *at, true));
                let (first, second) = panel.parts(*line, *at);
                let [a, b] = parts.as_ref();
                self.part(first, a);
                self.part(second, b);
            }
            Blocks::Pinwheel(at, parts) => {
                self.parting.extend(wheel::cuts(panel, *at).map(|c| StopStep {
                    fence: c.fence,
                    edge: c.edge,
                    start: Some(c.start),
                    along: c.along,
                    from: panel.size,
                    cut: c.cut,
                    profile: TrimmerProfile::default(),
                }));
                for (place, block) in wheel::panels(panel, *at).into_iter().zip(parts.iter()) {
                    self.part(place, block);
                }
            }
            Blocks::Placed(placed) => self.place(panel, placed),
        }
    }

    fn place(&mut self, panel: Panel, placed: &[knife::Rect]) {
        let (x, y) = (panel.x.units(), panel.y.units());
        let moved: Vec<knife::Rect> = placed.iter().map(|p| [p[0] + x, p[1] + y, p[2], p[3]]).collect();
        let whole = [x, y, panel.size.width.units(), panel.size.height.units()];
        let rest = knife::leftovers(whole, &moved);
        for rect in &moved {
            let panel = panel_of(*rect);
            self.pieces.push(Placed { piece: 0, panel, turned: panel.size != self.piece });
        }
        self.offcuts.extend(rest.iter().map(|r| panel_of(*r)));
        let cuts = knife::cuts(whole, &[moved, rest].concat());
        self.parting.extend(cuts.into_iter().map(|cut| step_of(panel, cut)));
    }
}

fn panel_of([x, y, w, h]: knife::Rect) -> Panel {
    let [x, y, w, h] = [x, y, w, h].map(Length::from_units);
    Panel { x, y, size: Size::new(w, h) }
}

/// The step of a cut anywhere on a panel, measured from its left or top.
fn step_of(panel: Panel, cut: Cut) -> StopStep {
    let down = cut.x0 == cut.x1;
    let (edge, fence, along) = if down {
        (Edge::Left, cut.x0 - panel.x, cut.y1 - cut.y0)
    } else {
        (Edge::Top, cut.y0 - panel.y, cut.x1 - cut.x0)
    };
    let start = match down {
        true if cut.y0 == panel.y => Some(Edge::Top),
        true if cut.y1 == panel.bottom() => Some(Edge::Bottom),
        false if cut.x0 == panel.x => Some(Edge::Left),
        false if cut.x1 == panel.right() => Some(Edge::Right),
        _ => None,
    };
    StopStep { fence, edge, start, along, from: panel.size, cut, profile: TrimmerProfile::default() }
}

fn edge_to_edge(panel: Panel, line: CutLine, at: Length, holds_first: bool) -> StopStep {
    let (first, second) = panel.parts(line, at);
    let (edge, start, along, cut) = match line {
        CutLine::Down => {
            let edge = if holds_first { Edge::Left } else { Edge::Right };
            (
                edge,
                Some(Edge::Top),
                panel.size.height,
                cut_at(second.x, panel.y, second.x, panel.bottom(), false),
            )
        }
        CutLine::Across => {
            let edge = if holds_first { Edge::Top } else { Edge::Bottom };
            (
                edge,
                Some(Edge::Left),
                panel.size.width,
                cut_at(panel.x, second.y, panel.right(), second.y, false),
            )
        }
    };
    let held = if holds_first { first } else { second };
    let fence = if line == CutLine::Down { held.size.width } else { held.size.height };
    StopStep { fence, edge, start, along, from: panel.size, cut, profile: TrimmerProfile::default() }
}

const fn cut_at(x0: Length, y0: Length, x1: Length, y1: Length, stop: bool) -> Cut {
    Cut { x0, y0, x1, y1, stop }
}
