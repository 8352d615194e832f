//! The cut plan as values: each different layout with its steps, what to fetch, what is left to label, the sums.
//!
//! Knows no planner and no clock: a plan comes in made. Steps are those of the trimmer the plan was made for. How it is
//! laid out is in [`lay`].

pub mod lay;

pub use lay::pages;

use crate::domain::cutting::job::{Job, JobPiece};
use crate::domain::cutting::layout::Layout;
use crate::domain::cutting::one_size::{self, SheetYield};
use crate::domain::cutting::piles::{self, Piles};
use crate::domain::cutting::plan::Plan;
use crate::domain::cutting::plan_words;
use crate::domain::cutting::question::{Question, Trimmer};
use crate::domain::cutting::step::{CutStep, Taken};
use crate::domain::cutting::steps;
use crate::domain::cutting::tree::Tree;
use crate::domain::cutting::trimmer_profile::Blade;
use crate::domain::length::{Length, Unit};
use crate::domain::pages::hatch::Hatch;
use crate::domain::paper_look::PaperLook;
use crate::domain::plural::count_of;
use crate::domain::size::Size;
use std::ops::Range;

/// One thing to do at the trimmer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlanStep {
    /// What the trimmer is set to.
    pub fence: Length,
    /// What is cut, without the setting.
    pub cut: String,
    /// What comes off.
    pub off: String,
    /// What to look out for; may be empty.
    pub mind: String,
    /// The cuts of the layout that it makes.
    pub cuts: Range<usize>,
}

impl PlanStep {
    /// A step in words, its piles by the letters that the screen gives them, and what is still to be done to its pieces.
    pub fn of(step: &CutStep, piles: &Piles, pieces: &[JobPiece], unit: Unit) -> Self {
        let [mut cut, mut off, mind] = step.bench_words(unit);
        if let Some(letter) = piles.letter(step.from).filter(|_| !step.takes.is_uncut()) {
            cut = format!("Pile {letter}. {cut}");
        }
        for size in piles::laid_aside(step) {
            if let Some(letter) = piles.letter(size) {
                off = format!("{off} Lay {} aside as pile {letter}.", size.show_with_unit(unit));
            }
        }
        if let Some(after) = plan_words::after_the_cuts(step, pieces, unit) {
            off = format!("{off} {after}");
        }
        Self { fence: step.profile.setting(step.fence), cut, off, mind, cuts: step.cuts.clone() }
    }
}

/// One layout, to be cut from so many sheets.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanSheet {
    /// What the sheet is called.
    pub name: String,
    /// The row of the job that it is cut from.
    pub row: usize,
    /// Its paper, where that is known.
    pub paper: Option<PlanPaper>,
    /// Its size.
    pub size: Size,
    /// How many sheets are cut like this.
    pub copies: u32,
    /// Where everything lies.
    pub layout: Layout,
    /// What is done at the trimmer, one after the other.
    pub steps: Vec<PlanStep>,
}

/// A paper of a plan, with what sets it apart from the others.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlanPaper {
    /// What it looks like.
    pub look: PaperLook,
    /// Two letters of its name, no other paper's of the plan.
    pub mark: String,
    /// Its hatch where no colours are printed; offcuts have another.
    pub hatch: Hatch,
}

/// A piece as the legend tells it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlanPiece {
    /// What it is called; empty where all pieces are of one size.
    pub name: String,
    /// The size it is cut to.
    pub size: Size,
}

/// What a cut plan shows.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanPages {
    /// What the plan is for.
    pub title: String,
    /// Each different layout, in the order of the run.
    pub sheets: Vec<PlanSheet>,
    /// The pieces, by their index in the layouts.
    pub pieces: Vec<PlanPiece>,
    /// Sums, what stays undone, warnings: one line each.
    pub sums: Vec<String>,
    /// Papers to fetch, one line each.
    pub fetch: Vec<String>,
    /// Leftovers to keep: how many, and what to write on each.
    pub keep: Vec<String>,
    /// The unit of sizes.
    pub unit: Unit,
    /// How the blade of the trimmer runs, for its caution.
    pub blade: Blade,
}

impl PlanPages {
    /// A plan of a whole job, its steps worked out for the job's trimmer.
    pub fn of_job(title: impl Into<String>, job: &Job, plan: &Plan, unit: Unit) -> Self {
        let plan = plan.to_cut();
        let totals = &plan.totals;
        let sheets = plan.sheets.iter().filter_map(|planned| {
            let row = job.sheets.get(planned.sheet)?;
            let cuts = (&job.trimmer, job.pieces.as_slice());
            let sheet = PlanSheet::of((row.taken(), row.size), &planned.tree, cuts, planned.copies, unit);
            Some(PlanSheet { name: row.name.clone(), row: planned.sheet, ..sheet })
        });
        let mut sums = vec![format!(
            "{}, {}, {}; {:.0} % of the paper is used.",
            plan_words::sheets_and_offcuts(job, plan),
            count_of(u64::from(totals.layouts), "layout"),
            count_of(u64::from(totals.cuts), "cut"),
            totals.used_share * 100.0
        )];
        sums.push(plan_words::work_words(plan, job.trimmer.profile.set_by));
        sums.extend(plan.shortages.iter().map(|s| format!("Short of paper: {}.", s.sentence(job, unit))));
        sums.extend(plan.unplaced.iter().map(|u| format!("Not in the plan: {}.", u.sentence(job, unit))));
        let pieces = job.pieces.iter().map(|p| PlanPiece { name: p.called(), size: p.cut_size() });
        let fetch =
            plan_words::papers(job, plan).into_iter().flat_map(|sum| sum.rows).filter_map(|(at, used)| {
                let row = job.sheets.get(at)?;
                Some(format!("{used} x {}", with_size(&row.name, row.size, unit)))
            });
        let keep = plan_words::kept(job, plan)
            .into_iter()
            .map(|kept| format!("{} x {}", kept.count, kept.label(unit)));
        Self {
            title: title.into(),
            sheets: sheets.collect(),
            pieces: pieces.collect(),
            sums,
            fetch: fetch.collect(),
            keep: keep.collect(),
            unit,
            blade: job.trimmer.profile.blade,
        }
    }

    /// Says of the papers to fetch where each lies, in their order; an empty place says nothing.
    #[must_use]
    pub fn with_places(mut self, places: &[String]) -> Self {
        for (line, place) in self.fetch.iter_mut().zip(places).filter(|(_, place)| !place.is_empty()) {
            *line = format!("{line}: {place}");
        }
        self
    }

    /// Says of the rows that layouts are cut from what their papers look like; papers that look alike are one.
    #[must_use]
    pub fn with_papers(mut self, look_of: impl Fn(usize) -> Option<PaperLook>) -> Self {
        let mut papers: Vec<PlanPaper> = Vec::new();
        for sheet in &mut self.sheets {
            let Some(look) = look_of(sheet.row) else { continue };
            let known = papers.iter().find(|paper| paper.look == look).cloned();
            sheet.paper = Some(known.unwrap_or_else(|| {
                let paper = PlanPaper { mark: mark(&look.name, &papers), hatch: hatch(papers.len()), look };
                papers.push(paper.clone());
                paper
            }));
        }
        self
    }

    /// How often the trimmer is set over the whole run, with the first layout that needs each: in the order of the run.
    pub fn settings(&self) -> Vec<(Length, usize)> {
        let mut all: Vec<(Length, usize)> = Vec::new();
        for (n, sheet) in self.sheets.iter().enumerate() {
            for step in &sheet.steps {
                if all.last().is_none_or(|(fence, _)| *fence != step.fence) {
                    all.push((step.fence, n + 1));
                }
            }
        }
        all
    }

    /// The layout of one size from one sheet; with a number wanted, from as many sheets as it takes.
    pub fn of_answer(question: &Question, answer: &SheetYield, wanted: Option<u32>, unit: Unit) -> Self {
        let (tree, best) = answer.to_cut();
        let (copies, spare) = wanted.and_then(|n| one_size::sheets_for(n, best)).unwrap_or((1, 0));
        let sheet = PlanSheet::of(
            (question.sheet.taken(), answer.sheet),
            tree,
            (&question.trimmer, &[]),
            copies,
            unit,
        );
        let sheet = PlanSheet { name: question.sheet.name.clone(), ..sheet };
        let how = if best > answer.best {
            format!("with stop cuts; {} from edge to edge", answer.best)
        } else {
            format!("{} upright, {} turned", answer.upright, answer.turned)
        };
        let mut sums = vec![format!(
            "{} of {} from a sheet ({how}); {} make {}.",
            count_of(u64::from(best), "piece"),
            answer.piece.show_with_unit(unit),
            count_of(u64::from(copies), "sheet"),
            count_of(u64::from(copies) * u64::from(best), "piece"),
        )];
        if let Some(n) = wanted.filter(|_| best > 0) {
            sums.push(format!("Wanted {n}, spare {spare}."));
        }
        let fits = best > 0;
        let fetch = if fits {
            vec![format!("{copies} x {}", with_size(&sheet.name, sheet.size, unit))]
        } else {
            Vec::new()
        };
        let title = format!("{} from {}", answer.piece.show_with_unit(unit), question.sheet.name);
        Self {
            title,
            sheets: if fits { vec![sheet] } else { Vec::new() },
            pieces: vec![PlanPiece { name: String::new(), size: answer.piece }],
            sums,
            fetch,
            keep: Vec::new(),
            unit,
            blade: question.trimmer.profile.blade,
        }
    }
}

impl PlanSheet {
    /// A tree of cuts with its steps, the cuts in the order of the steps; without a name.
    pub fn of(
        (taken, size): (Taken, Size),
        tree: &Tree,
        (trimmer, pieces): (&Trimmer, &[JobPiece]),
        copies: u32,
        unit: Unit,
    ) -> Self {
        let list = steps::cut_list_taking(taken, size, tree, trimmer, copies);
        let piles = Piles::of(&list.steps);
        let steps = list.steps.iter().map(|step| PlanStep::of(step, &piles, pieces, unit)).collect();
        Self { name: String::new(), row: 0, paper: None, size, copies, layout: list.layout, steps }
    }
}

/// Two letters of a paper's name that no paper before it has: the first of its first two words, else its first with another
/// of its letters, else with a number.
fn mark(name: &str, before: &[PlanPaper]) -> String {
    let words = name.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
    let firsts: String = words.clone().take(2).filter_map(|word| word.chars().next()).collect();
    let letters: String = words.collect();
    let mut chars = letters.chars();
    let first = chars.next().unwrap_or('?');
    let with = |second: char| first.to_uppercase().chain(second.to_lowercase()).collect::<String>();
    let numbers = (2..).map(|n: u32| format!("{}{n}", first.to_uppercase()));
    let all = firsts.chars().skip(1).chain(chars).map(with).chain(numbers);
    all.into_iter().find(|mark| before.iter().all(|paper| paper.mark != *mark)).unwrap_or_default()
}

/// The hatch of the n-th paper of a plan: any but that of offcuts.
fn hatch(n: usize) -> Hatch {
    let mut all = Hatch::ALL.into_iter().filter(|hatch| *hatch != Hatch::OF_OFFCUTS).cycle();
    all.nth(n).unwrap_or(Hatch::Rising)
}

/// A sheet's name with its size; an offcut's name has it already.
fn with_size(name: &str, size: Size, unit: Unit) -> String {
    let shown = size.as_made(unit);
    if name.contains(&shown) { name.to_owned() } else { format!("{name}, {shown}") }
}

#[cfg(test)]
mod tests;
