//! What the plan view of Yield remembers: what was planned, the plan on screen and whether it is booked, where the cursors
//! stand; and the lines that can be read off it.

use crate::app::input::list::Cursor;
use crate::domain::cutting::job::{Cost, Job};
use crate::domain::cutting::plan::{Plan, PlannedSheet};
use crate::domain::cutting::plan_words;
use crate::domain::cutting::planner::PlanProgress;
use crate::domain::cutting::sheet_order::{self, SheetOrder, SheetOrders};
use crate::domain::cutting::step::StepList;
use crate::domain::length::Unit;
use crate::domain::planning::ProjectJob;
use crate::domain::plural::count_of;
use crate::domain::stock::ProjectId;

/// State of the view.
#[derive(Clone, Debug, Default)]
pub struct PlanPane {
    /// What was planned, and for which project.
    pub job: Option<(ProjectId, ProjectJob)>,
    /// Number of the request that is out.
    pub waiting: Option<u64>,
    /// How far the planner has come, and which share of its time is gone, in thousandths.
    pub progress: Option<(PlanProgress, u16)>,
    /// The plan on screen: the booked one where it fits, else the best so far.
    pub plan: Option<Box<Plan>>,
    /// Set where the plan on screen is booked: the place of each layout in it.
    pub booked: Option<Vec<u32>>,
    /// The same plan in the order in which it was found or booked.
    pub found: Option<Box<Plan>>,
    /// The places of that one's layouts in the booked plan, where it is booked.
    pub booked_as: Option<Vec<u32>>,
    /// The order in which its layouts stand.
    pub order: SheetOrder,
    /// What both orders ask for.
    pub orders: SheetOrders,
    /// A better plan than the booked one, until the person takes it.
    pub offer: Option<Box<Plan>>,
    /// The person was told that the project has no day.
    pub undated: bool,
    /// How many sheets of each row are there for the project.
    pub held: Vec<Option<u32>>,
    /// What the plan takes beyond that, a sentence a paper.
    pub short: Vec<String>,
    /// The layout picked.
    pub cursor: Cursor,
    /// What stands below the layouts.
    pub detail: Detail,
    /// The line of it that is picked.
    pub line: Cursor,
}

/// What stands below the layouts, a line each.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Detail {
    /// The steps of the layout picked.
    #[default]
    Steps,
    /// What is taken of each paper.
    Papers,
    /// What is left to keep, and what to write on it.
    Leftovers,
    /// The pieces, and how each is cut.
    Pieces,
}

impl Detail {
    /// All, in the order of the key.
    pub const ALL: [Self; 4] = [Self::Steps, Self::Papers, Self::Leftovers, Self::Pieces];

    /// Its heading.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Steps => "steps",
            Self::Papers => "papers",
            Self::Leftovers => "leftovers",
            Self::Pieces => "pieces",
        }
    }

    /// The one after it.
    #[must_use]
    pub fn next(self) -> Self {
        let at = Self::ALL.iter().position(|d| *d == self).unwrap_or(0);
        Self::ALL.get(at + 1).copied().unwrap_or_default()
    }
}

impl PlanPane {
    /// The plan to cut: with stop cuts where the trimmer can make them and they save paper.
    pub fn to_cut(&self) -> Option<&Plan> {
        self.plan.as_ref().map(|plan| plan.to_cut())
    }

    /// The layout under the cursor.
    pub fn picked(&self) -> Option<&PlannedSheet> {
        let plan = self.to_cut()?;
        plan.sheets.get(self.cursor.row(plan.sheets.len())?)
    }

    /// The cut list of a layout.
    pub fn steps(&self, planned: &PlannedSheet) -> Option<StepList> {
        let (_, job) = self.job.as_ref()?;
        let sheet = job.job.sheets.get(planned.sheet)?;
        Some(sheet.cut_list(&planned.tree, &job.job.trimmer, planned.copies))
    }

    /// The lines below the layouts.
    pub fn lines(&self, unit: Unit) -> Vec<String> {
        self.lines_of(self.detail, unit)
    }

    /// The lines of one kind.
    pub fn lines_of(&self, detail: Detail, unit: Unit) -> Vec<String> {
        let (Some((_, job)), Some(plan)) = (&self.job, self.to_cut()) else { return Vec::new() };
        match detail {
            Detail::Steps => {
                let list = self.picked().and_then(|p| self.steps(p)).unwrap_or_default();
                let steps = list.steps.iter().enumerate();
                let told = |s| plan_words::step_line(s, &job.job.pieces, unit);
                steps.map(|(n, s)| format!("{}  {}", n + 1, told(s))).collect()
            }
            Detail::Papers => plan_words::paper_lines(&job.job, plan, &self.held, unit),
            Detail::Leftovers => {
                let kept = plan_words::kept(&job.job, plan);
                let floor = job.job.keep.upright().show_with_unit(unit);
                let none = kept.is_empty().then(|| format!("Nothing of {floor} or more is left over."));
                none.into_iter().chain(kept.iter().map(|k| k.words(unit))).collect()
            }
            Detail::Pieces => job.job.pieces.iter().map(|p| plan_words::piece_line(p, unit)).collect(),
        }
    }

    /// Puts a plan on screen, in the order that was chosen; `booked` has the place of each layout where it is the booked one.
    pub fn show(&mut self, plan: Box<Plan>, booked: Option<Vec<u32>>, order: SheetOrder) {
        let orders = self.job.as_ref().map(|(_, job)| sheet_order::of_plan(&job.job, plan.to_cut()));
        (self.found, self.booked_as) = (Some(plan), booked);
        self.orders = orders.unwrap_or_default();
        self.arrange(order);
    }

    /// Puts the layouts of the plan on screen in order.
    pub fn arrange(&mut self, order: SheetOrder) {
        let Some(found) = &self.found else { return };
        let mut plan = found.clone();
        sheet_order::put(&mut plan, self.orders.of(order));
        let places = &self.orders.of(order).0;
        let of = |booked: &Vec<u32>| places.iter().filter_map(|at| booked.get(*at)).copied().collect();
        self.booked = self.booked_as.as_ref().map(of);
        (self.plan, self.order) = (Some(plan), order);
    }

    /// Whether the plan on screen is the booked one, and whether a better one is there.
    fn standing(&self) -> String {
        let sheets = |plan: &Plan| count_of(plan.totals.cost.parts() / Cost::ONE.parts(), "sheet");
        match (&self.booked, &self.offer, &self.plan) {
            (Some(_), Some(offer), Some(plan)) => {
                let words = sheets(offer.to_cut());
                format!(
                    "This plan is booked: {}. One with {words} was found: <plan-book> books it.",
                    sheets(plan)
                )
            }
            (Some(_), ..) => "This plan is booked.".to_owned(),
            _ => "Not booked. <plan-book> books it.".to_owned(),
        }
    }

    /// What was chosen for the plan, in sentences: what decided, what stop cuts save, how many sheets a stroke takes. In few
    /// words where there is little room.
    pub fn choices(&self, is_short: bool) -> Vec<String> {
        let Some((_, job)) = &self.job else { return Vec::new() };
        let mut all = vec![self.standing()];
        all.extend(self.decided(&job.job, is_short));
        let set_by = job.job.trimmer.profile.set_by;
        all.extend(self.orders.words(self.order, set_by).filter(|_| !is_short));
        all.extend(self.plan.as_ref().and_then(|both| plan_words::stop_told(&job.job, both)));
        let n = job.job.trimmer.sheets_per_stroke;
        if n > 1 {
            all.push(format!("{n} sheets a stroke."));
        }
        all
    }

    /// True where there is a plan to book: one that is not, or a better one beside the booked one.
    pub const fn can_be_booked(&self) -> bool {
        self.plan.is_some() && (self.booked.is_none() || self.offer.is_some())
    }

    /// What decided among plans of one cost. What is left of a booked plan was not chosen among others: its work alone is said.
    fn decided(&self, job: &Job, is_short: bool) -> Option<String> {
        let (plan, set_by) = (self.plan.as_ref()?.to_cut(), job.trimmer.profile.set_by);
        match (&self.booked, is_short) {
            (Some(_), true) => None,
            (Some(_), false) => Some(plan_words::work_words(plan, set_by)),
            (None, true) => Some(plan_words::preference_short(job.preference, plan, set_by)),
            (None, false) => Some(plan_words::preference_words(job.preference, plan, set_by)),
        }
    }
}
