//! Booked plans, and what lines of the log did for projects, as they are stored.

use super::field::{Misfit, is_default};
use super::words::{GrainV1, SizeV1, length};
use crate::domain::cutting::job::Cost;
use crate::domain::cutting::plan::BoundName;
use crate::domain::cutting::tree::Tree;
use crate::domain::project::{BookedLayout, BookedPiece, BookedPlan, Source};
use crate::domain::stock::{ItemId, MadePiece, OffcutId, ProjectId, ProjectWork};
use serde::{Deserialize, Serialize};

/// A booked plan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct BookedPlanV1 {
    pub number: u32,
    pub pieces: Vec<BookedPieceV1>,
    pub layouts: Vec<BookedLayoutV1>,
    /// Ten-thousandths of a sheet.
    pub least: u64,
    pub bound: BoundV1,
}

/// A kind of piece in it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct BookedPieceV1 {
    pub name: String,
    pub size: SizeV1,
    #[serde(default, skip_serializing_if = "is_default")]
    pub allowance: i64,
    pub count: u32,
    #[serde(default, skip_serializing_if = "is_default")]
    pub spare: u32,
    #[serde(default, skip_serializing_if = "is_default")]
    pub turn: bool,
    #[serde(default, skip_serializing_if = "is_default")]
    pub grain: GrainV1,
    pub paper: u32,
}

/// Sheets of it that are cut alike: of an item, or of an offcut.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct BookedLayoutV1 {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub item: Option<u32>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub offcut: Option<u32>,
    pub size: SizeV1,
    #[serde(default, skip_serializing_if = "is_default")]
    pub grain: GrainV1,
    pub copies: u32,
    /// As the tree of cuts writes itself.
    pub cuts: String,
}

/// Where a lower bound is known from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub enum BoundV1 {
    Nothing,
    Area,
    Scales,
    Squares,
    Fullest,
    Prices,
}

/// What a line of the log did for a project.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct WorkV1 {
    pub project: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plan: Option<u32>,
    /// Layout and sheets.
    #[serde(default, skip_serializing_if = "is_default")]
    pub layouts: Vec<(u32, u32)>,
    /// Name, size as cut, count.
    #[serde(default, skip_serializing_if = "is_default")]
    pub pieces: Vec<(String, SizeV1, u32)>,
}

impl From<&BookedPlan> for BookedPlanV1 {
    fn from(p: &BookedPlan) -> Self {
        let piece = |p: &BookedPiece| BookedPieceV1 {
            name: p.name.clone(),
            size: p.finished.into(),
            allowance: p.allowance.units(),
            count: p.count,
            spare: p.spare,
            turn: p.may_turn,
            grain: p.grain.into(),
            paper: p.paper.0,
        };
        let layout = |l: &BookedLayout| {
            let (item, offcut) = match l.from {
                Source::Shelf(item) => (Some(item.0), None),
                Source::Bin(offcut) => (None, Some(offcut.0)),
            };
            let (size, grain, cuts) = (l.size.into(), l.grain.into(), l.tree.encode());
            BookedLayoutV1 { item, offcut, size, grain, copies: l.copies, cuts }
        };
        Self {
            number: p.number,
            pieces: p.pieces.iter().map(piece).collect(),
            layouts: p.layouts.iter().map(layout).collect(),
            least: p.lower_bound.parts(),
            bound: p.bound.into(),
        }
    }
}

impl TryFrom<BookedPlanV1> for BookedPlan {
    type Error = Misfit;
    fn try_from(p: BookedPlanV1) -> Result<Self, Misfit> {
        Ok(Self {
            number: p.number,
            pieces: p.pieces.into_iter().map(TryInto::try_into).collect::<Result<_, _>>()?,
            layouts: p.layouts.into_iter().map(TryInto::try_into).collect::<Result<_, _>>()?,
            lower_bound: Cost::from_parts(p.least),
            bound: p.bound.into(),
        })
    }
}

impl TryFrom<BookedPieceV1> for BookedPiece {
    type Error = Misfit;
    fn try_from(p: BookedPieceV1) -> Result<Self, Misfit> {
        Ok(Self {
            name: p.name,
            finished: p.size.try_into()?,
            allowance: length(p.allowance)?,
            count: p.count,
            spare: p.spare,
            may_turn: p.turn,
            grain: p.grain.into(),
            paper: ItemId(p.paper),
        })
    }
}

impl TryFrom<BookedLayoutV1> for BookedLayout {
    type Error = Misfit;
    fn try_from(l: BookedLayoutV1) -> Result<Self, Misfit> {
        let from = match (l.item, l.offcut) {
            (Some(item), None) => Source::Shelf(ItemId(item)),
            (None, Some(offcut)) => Source::Bin(OffcutId(offcut)),
            _ => return Err(Misfit("a booked layout is of an item or of an offcut".to_owned())),
        };
        let tree = Tree::decode(&l.cuts)
            .ok_or_else(|| Misfit("the cuts of a booked layout cannot be read".to_owned()))?;
        Ok(Self { from, size: l.size.try_into()?, grain: l.grain.into(), copies: l.copies, tree })
    }
}

impl From<BoundName> for BoundV1 {
    fn from(b: BoundName) -> Self {
        match b {
            BoundName::Nothing => Self::Nothing,
            BoundName::Area => Self::Area,
            BoundName::Scales => Self::Scales,
            BoundName::Squares => Self::Squares,
            BoundName::Fullest => Self::Fullest,
            BoundName::Prices => Self::Prices,
        }
    }
}

impl From<BoundV1> for BoundName {
    fn from(b: BoundV1) -> Self {
        match b {
            BoundV1::Nothing => Self::Nothing,
            BoundV1::Area => Self::Area,
            BoundV1::Scales => Self::Scales,
            BoundV1::Squares => Self::Squares,
            BoundV1::Fullest => Self::Fullest,
            BoundV1::Prices => Self::Prices,
        }
    }
}

impl From<&ProjectWork> for WorkV1 {
    fn from(w: &ProjectWork) -> Self {
        let pieces = w.pieces.iter().map(|p| (p.name.clone(), p.size.into(), p.count));
        Self { project: w.project.0, plan: w.plan, layouts: w.layouts.clone(), pieces: pieces.collect() }
    }
}

impl TryFrom<WorkV1> for ProjectWork {
    type Error = Misfit;
    fn try_from(w: WorkV1) -> Result<Self, Misfit> {
        let piece = |(name, size, count): (String, SizeV1, u32)| -> Result<MadePiece, Misfit> {
            Ok(MadePiece { name, size: size.try_into()?, count })
        };
        let pieces = w.pieces.into_iter().map(piece).collect::<Result<_, _>>()?;
        Ok(Self { project: ProjectId(w.project), plan: w.plan, layouts: w.layouts, pieces })
    }
}
