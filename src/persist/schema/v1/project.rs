//! Projects and settings as they are stored.

use super::booked::BookedPlanV1;
use super::card::{CardV1, made_by, made_by_word};
use super::field::{Misfit, is_default, maybe_day};
use super::teaching::{AfterwardsV1, TeachingV1};
use super::words::{GrainV1, ProgressV1, SizeV1, UnitV1, length};
use crate::domain::length::Length;
use crate::domain::money::Money;
use crate::domain::project::{PieceWanted, Project, Stage, Stages, Supply};
use crate::domain::settings::{BookSettings, Forgotten};
use crate::domain::stock::{ItemId, SwatchId, TrioId};
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// A project or class.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct ProjectV1 {
    pub name: String,
    #[serde(default, skip_serializing_if = "Option::is_none", with = "maybe_day")]
    pub date: Option<Date>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub seats: u32,
    #[serde(default, skip_serializing_if = "is_default")]
    pub samples: u32,
    #[serde(default, skip_serializing_if = "is_default")]
    pub spoilage_percent: u32,
    #[serde(default, skip_serializing_if = "is_default")]
    pub spoilage_fixed: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seat_price: Option<i64>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub minutes_a_card: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hour_rate: Option<i64>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub cards: Vec<CardV1>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub pieces: Vec<PieceV1>,
    /// Item and count.
    #[serde(default, skip_serializing_if = "is_default")]
    pub supplies: Vec<(u32, u32)>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub progress: ProgressV1,
    /// How many are done, in the order of the stages: prepared, packed, assembled, handed out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub stages: (u32, u32, u32, u32),
    /// How many sets are through each task before those: shaped, stamped, scored.
    #[serde(default, skip_serializing_if = "is_default")]
    pub tasks: (u32, u32, u32),
    #[serde(default, skip_serializing_if = "is_default")]
    pub teaching: TeachingV1,
    #[serde(default, skip_serializing_if = "is_default")]
    pub afterwards: AfterwardsV1,
    #[serde(default, skip_serializing_if = "is_default")]
    pub attendees: Vec<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plan: Option<BookedPlanV1>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub note: String,
}

/// A loose piece.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct PieceV1 {
    pub name: String,
    pub size: SizeV1,
    pub count: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub paper: Option<u32>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub turn: bool,
    #[serde(default, skip_serializing_if = "is_default")]
    pub made_by: String,
    #[serde(default, skip_serializing_if = "is_default")]
    pub allowance: i64,
    #[serde(default, skip_serializing_if = "is_default")]
    pub grain: GrainV1,
}

impl From<&Project> for ProjectV1 {
    fn from(p: &Project) -> Self {
        Self {
            name: p.name.clone(),
            date: p.date,
            seats: p.seats,
            samples: p.samples,
            spoilage_percent: p.spoilage_percent,
            spoilage_fixed: p.spoilage_fixed,
            seat_price: p.seat_price.map(Money::minor),
            minutes_a_card: p.minutes_a_card,
            hour_rate: p.hour_rate.map(Money::minor),
            cards: p.cards.iter().map(Into::into).collect(),
            pieces: p.pieces.iter().map(Into::into).collect(),
            supplies: p.supplies.iter().map(|s| (s.item.0, s.count)).collect(),
            progress: p.progress.into(),
            stages: STAGES.map(|s| p.stages.kept(s)).into(),
            tasks: Stage::TASKS.map(|s| p.stages.kept(s)).into(),
            teaching: (&p.teaching).into(),
            afterwards: (&p.afterwards).into(),
            attendees: p.attendees.clone(),
            plan: p.plan.as_deref().map(Into::into),
            note: p.note.clone(),
        }
    }
}

impl TryFrom<ProjectV1> for Project {
    type Error = Misfit;
    fn try_from(p: ProjectV1) -> Result<Self, Misfit> {
        Ok(Self {
            name: p.name,
            date: p.date,
            seats: p.seats,
            samples: p.samples,
            spoilage_percent: p.spoilage_percent,
            spoilage_fixed: p.spoilage_fixed,
            seat_price: p.seat_price.map(Money::from_minor),
            minutes_a_card: p.minutes_a_card,
            hour_rate: p.hour_rate.map(Money::from_minor),
            cards: p.cards.into_iter().map(TryInto::try_into).collect::<Result<_, _>>()?,
            pieces: p.pieces.into_iter().map(TryInto::try_into).collect::<Result<_, _>>()?,
            supplies: p
                .supplies
                .into_iter()
                .map(|(item, count)| Supply { item: ItemId(item), count })
                .collect(),
            progress: p.progress.into(),
            stages: stages(p.stages, p.tasks),
            teaching: p.teaching.into(),
            afterwards: p.afterwards.into(),
            attendees: p.attendees,
            plan: p.plan.map(|plan| plan.try_into().map(Box::new)).transpose()?,
            note: p.note,
        })
    }
}

/// The stages of a batch or class behind its tasks, in their order.
const STAGES: [Stage; 4] = [Stage::Prepared, Stage::Packed, Stage::Assembled, Stage::HandedOut];

fn stages(done: (u32, u32, u32, u32), tasks: (u32, u32, u32)) -> Stages {
    let done = STAGES.into_iter().zip(<[u32; 4]>::from(done));
    let all = done.chain(Stage::TASKS.into_iter().zip(<[u32; 3]>::from(tasks)));
    all.fold(Stages::default(), |all, (stage, n)| all.keeping(stage, n))
}

impl From<&PieceWanted> for PieceV1 {
    fn from(p: &PieceWanted) -> Self {
        Self {
            name: p.name.clone(),
            size: p.size.into(),
            count: p.count,
            paper: p.paper.map(|i| i.0),
            turn: p.turn,
            made_by: made_by_word(p.made_by),
            allowance: p.allowance.units(),
            grain: p.grain.into(),
        }
    }
}

impl TryFrom<PieceV1> for PieceWanted {
    type Error = Misfit;
    fn try_from(p: PieceV1) -> Result<Self, Misfit> {
        let size = p.size.try_into()?;
        Ok(Self {
            name: p.name,
            size,
            count: p.count,
            paper: p.paper.map(ItemId),
            turn: p.turn,
            made_by: made_by(&p.made_by)?,
            allowance: length(p.allowance)?,
            grain: p.grain.into(),
        })
    }
}

/// Settings that belong to the data.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct SettingsV1 {
    pub currency: String,
    pub unit: UnitV1,
    pub offcut_floor: SizeV1,
    pub spoilage_percent: u32,
    pub spoilage_fixed: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub longest_cut: Option<i64>,
    pub finest_mark: i64,
    pub smallest_shave: i64,
    pub smallest_strip: i64,
    #[serde(default, skip_serializing_if = "is_default")]
    pub forgotten: ForgottenV1,
}

/// Choices of colours that no longer count.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct ForgottenV1 {
    #[serde(default, skip_serializing_if = "is_default")]
    pub trios_before: u32,
    #[serde(default, skip_serializing_if = "is_default")]
    pub cards: Vec<Vec<u32>>,
}

impl From<&Forgotten> for ForgottenV1 {
    fn from(f: &Forgotten) -> Self {
        let numbers = |colours: &Vec<SwatchId>| colours.iter().map(|id| id.0).collect();
        Self { trios_before: f.trios_before.0, cards: f.cards.iter().map(numbers).collect() }
    }
}

impl From<ForgottenV1> for Forgotten {
    fn from(f: ForgottenV1) -> Self {
        let colours = |numbers: Vec<u32>| numbers.into_iter().map(SwatchId).collect();
        Self { trios_before: TrioId(f.trios_before), cards: f.cards.into_iter().map(colours).collect() }
    }
}

impl From<&BookSettings> for SettingsV1 {
    fn from(s: &BookSettings) -> Self {
        Self {
            currency: s.currency.clone(),
            unit: s.unit.into(),
            offcut_floor: s.offcut_floor.into(),
            spoilage_percent: s.spoilage_percent,
            spoilage_fixed: s.spoilage_fixed,
            longest_cut: s.longest_cut.map(Length::units),
            finest_mark: s.finest_mark.units(),
            smallest_shave: s.smallest_shave.units(),
            smallest_strip: s.smallest_strip.units(),
            forgotten: (&s.forgotten).into(),
        }
    }
}

impl TryFrom<SettingsV1> for BookSettings {
    type Error = Misfit;
    fn try_from(s: SettingsV1) -> Result<Self, Misfit> {
        Ok(Self {
            currency: s.currency,
            unit: s.unit.into(),
            offcut_floor: s.offcut_floor.try_into()?,
            spoilage_percent: s.spoilage_percent,
            spoilage_fixed: s.spoilage_fixed,
            longest_cut: s.longest_cut.map(length).transpose()?,
            finest_mark: length(s.finest_mark)?,
            smallest_shave: length(s.smallest_shave)?,
            smallest_strip: length(s.smallest_strip)?,
            forgotten: s.forgotten.into(),
        })
    }
}
