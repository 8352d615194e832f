//! The cut plan: each different layout with its drawing and its steps, and the sums over all of them.
//!
//! Knows no planner and no clock: a plan comes in made. Steps are those of the trimmer the plan was made for.

use super::drawing::{self, Drawn, Scale};
use super::frame::{ASIDE, BODY, HEADING, SMALL, Setup, Sheaf};
use super::page::{Group, MM, Page, Stroke, Um};
use crate::domain::cards::cautions::{self, Activity, DEFER};
use crate::domain::cutting::job::Job;
use crate::domain::cutting::layout::Layout;
use crate::domain::cutting::one_size::{self, Answer};
use crate::domain::cutting::plan::Plan;
use crate::domain::cutting::question::{Question, Trimmer};
use crate::domain::cutting::steps;
use crate::domain::cutting::told;
use crate::domain::cutting::tree::Tree;
use crate::domain::length::Unit;
use crate::domain::size::Size;

/// One layout, to be cut from so many sheets.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanSheet {
    /// What the sheet is called.
    pub name: String,
    /// Its size.
    pub size: Size,
    /// How many sheets are cut like this.
    pub copies: u32,
    /// Where everything lies.
    pub layout: Layout,
    /// What is done at the trimmer, one line a step.
    pub steps: Vec<String>,
}

/// What a cut plan shows.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanPages {
    /// What the plan is for.
    pub title: String,
    /// Each different layout.
    pub sheets: Vec<PlanSheet>,
    /// What the pieces are called, by their index in the layouts.
    pub names: Vec<String>,
    /// Sums, what stays undone, warnings: one line each.
    pub sums: Vec<String>,
    /// The unit of sizes.
    pub unit: Unit,
}

const DRAWING: (Um, Um) = (112 * MM, 112 * MM);
/// The box to tick before a step, with the space behind it.
const BOX: Um = SMALL.size + 2 * MM;
/// No step is longer: what it says of knife and blade has to be there whole.
const MOST_LINES: usize = 40;

impl PlanPages {
    /// A plan of a whole job, its steps worked out for the job's trimmer.
    pub fn of_job(title: impl Into<String>, job: &Job, plan: &Plan, unit: Unit) -> Self {
        let plan = plan.to_cut();
        let totals = &plan.totals;
        let sheets = plan.sheets.iter().filter_map(|planned| {
            let row = job.sheets.get(planned.sheet)?;
            Some(PlanSheet::of(row.name.clone(), row.size, &planned.tree, &job.trimmer, planned.copies, unit))
        });
        let mut sums = vec![format!(
            "{}, {}, {}; {:.0} % of the paper is used.",
            told::sheets_and_offcuts(job, plan),
            plural(u64::from(totals.layouts), "layout"),
            plural(u64::from(totals.cuts), "cut"),
            totals.used_share * 100.0
        )];
        sums.push(told::work_words(plan));
        sums.extend(plan.shortages.iter().map(|s| format!("Short of paper: {}.", s.sentence(job, unit))));
        sums.extend(plan.unplaced.iter().map(|u| format!("Not in the plan: {}.", u.sentence(job, unit))));
        let names = job.pieces.iter().map(|p| p.name.clone()).collect();
        Self { title: title.into(), sheets: sheets.collect(), names, sums, unit }
    }

    /// The layout of one size from one sheet; with a number wanted, from as many sheets as it takes.
    pub fn of_answer(question: &Question, answer: &Answer, wanted: Option<u32>, unit: Unit) -> Self {
        let (tree, best) = answer.to_cut();
        let (copies, spare) = wanted.and_then(|n| one_size::sheets_for(n, best)).unwrap_or((1, 0));
        let name = question.sheet.name.clone();
        let sheet = PlanSheet::of(name, answer.sheet, tree, &question.trimmer, copies, unit);
        let how = if best > answer.best {
            format!("with stop cuts; {} from edge to edge", answer.best)
        } else {
            format!("{} upright, {} turned", answer.upright, answer.turned)
        };
        let mut sums = vec![format!(
            "{} of {} from a sheet ({how}); {} make {}.",
            plural(u64::from(best), "piece"),
            answer.piece.show_with_unit(unit),
            plural(u64::from(copies), "sheet"),
            plural(u64::from(copies) * u64::from(best), "piece"),
        )];
        if let Some(n) = wanted.filter(|_| best > 0) {
            sums.push(format!("Wanted {n}, spare {spare}."));
        }
        let fits = best > 0;
        let title = format!("{} from {}", answer.piece.show_with_unit(unit), question.sheet.name);
        Self {
            title,
            sheets: if fits { vec![sheet] } else { Vec::new() },
            names: vec![String::new()],
            sums,
            unit,
        }
    }
}

impl PlanSheet {
    /// A tree of cuts with its steps, the cuts in the order of the steps.
    pub fn of(name: String, size: Size, tree: &Tree, trimmer: &Trimmer, copies: u32, unit: Unit) -> Self {
        let list = steps::cut_list(size, tree, trimmer, copies);
        let steps = list.steps.iter().map(|step| step.words(unit)).collect();
        Self { name, size, copies, layout: list.layout, steps }
    }
}

/// The pages: sums first, then one layout after the other, each begun on a page that holds its drawing.
pub fn pages(setup: &Setup, plan: &PlanPages) -> Vec<Page> {
    let count: u32 = plan.sheets.iter().map(|s| s.copies).sum();
    let subtitle =
        format!("{} from {}", plural(plan.sheets.len() as u64, "layout"), plural(u64::from(count), "sheet"));
    let mut sheaf = Sheaf::new(setup, format!("Cut plan: {}", plan.title), subtitle);
    for line in &plan.sums {
        sheaf.write_wrapped(BODY, line);
    }
    if plan.sheets.is_empty() {
        sheaf.write(BODY, "Nothing is cut.");
    }
    for caution in [Activity::Cutting, Activity::Measuring].into_iter().filter_map(cautions::when) {
        sheaf.write_wrapped(ASIDE, &caution.text);
    }
    sheaf.write_wrapped(ASIDE, &format!("In every case {DEFER}."));
    for (n, sheet) in plan.sheets.iter().enumerate() {
        sheaf.gap(4 * MM);
        write(&mut sheaf, plan, n, sheet);
    }
    sheaf.finish()
}

/// `1 sheet`, `3 sheets`.
pub fn plural(n: u64, what: &str) -> String {
    if n == 1 { format!("1 {what}") } else { format!("{n} {what}s") }
}

fn write(sheaf: &mut Sheaf<'_>, plan: &PlanPages, n: usize, sheet: &PlanSheet) {
    let scale = Scale::to_fit(sheet.size, DRAWING.0, DRAWING.1);
    let area = scale.area(0, 0, sheet.size);
    let head = HEADING.leading() + SMALL.leading() + MM;
    if sheaf.left() < area.height + head + 2 * MM {
        sheaf.fresh();
    }
    let title = format!("Layout {}: {} x {}", n + 1, sheet.copies, sheet.name);
    sheaf.write(HEADING, &title);
    let pieces = plural(sheet.layout.pieces.len() as u64, "piece");
    let line = format!("{}, {pieces} a sheet, {}", sheet.size.show_with_unit(plan.unit), scale.words());
    sheaf.write(SMALL, &line);
    let body = sheaf.body();
    let top = sheaf.take(area.height + 2 * MM) + MM;
    let drawn = Drawn { sheet: sheet.size, layout: &sheet.layout, names: &plan.names, unit: plan.unit };
    drawing::layout(sheaf.page(), body.x + MM, top, scale, &drawn);
    let x = body.x + area.width + 5 * MM;
    let beside = Beside { x, top, width: body.right() - x, bottom: top + area.height };
    for step in beside.write(sheaf.page(), &steps_of(sheet)) {
        let lines = BODY.wrapped(&step, body.width - BOX, MOST_LINES);
        let height = lines.len() as Um * BODY.leading() + MM;
        if sheaf.left() < height {
            sheaf.fresh();
        }
        let y = sheaf.take(height);
        ticked(sheaf.page(), body.x, y, &lines);
    }
}

/// Writes a step with a box to tick before it.
fn ticked(page: &mut Page, x: Um, y: Um, lines: &[String]) {
    page.frame(Group::Outline, super::page::Area::new(x, y + 400, SMALL.size, SMALL.size), Stroke::THIN);
    for (n, line) in (0..).zip(lines) {
        page.words(BODY.at(x + BOX, y + n * BODY.leading() + BODY.size, line));
    }
}

fn steps_of(sheet: &PlanSheet) -> Vec<String> {
    sheet.steps.iter().enumerate().map(|(n, step)| format!("{}. {step}", n + 1)).collect()
}

/// The strip beside a drawing.
struct Beside {
    x: Um,
    top: Um,
    width: Um,
    bottom: Um,
}

impl Beside {
    /// Writes whole steps while they fit and gives back the others.
    fn write(&self, page: &mut Page, steps: &[String]) -> Vec<String> {
        let room = self.width - BOX;
        let mut y = self.top;
        for (n, step) in steps.iter().enumerate() {
            let lines = BODY.wrapped(step, room, MOST_LINES);
            let height = lines.len() as Um * BODY.leading();
            if room < 25 * MM || y + height > self.bottom {
                return steps[n..].to_vec();
            }
            ticked(page, self.x, y, &lines);
            y += height + MM;
        }
        Vec::new()
    }
}

#[cfg(test)]
mod tests {
    use super::super::frame::{CLEAR, Paper};
    use super::*;
    use crate::domain::cutting::one_size::answer;
    use crate::domain::cutting::question::Question;
    use crate::domain::length::Length;
    use crate::domain::sheet::Sheet;

    fn plan(sheets: usize, steps: usize) -> PlanPages {
        let letter = Size::new(Length::sixteenths(136), Length::inches(11));
        let piece = Size::new(Length::sixteenths(56), Length::inches(5));
        let answer = answer(&Question::new(piece, Sheet::new("letter", letter)));
        let sheet = PlanSheet {
            name: "fern card stock with a very long name ".repeat(3),
            size: letter,
            copies: 8,
            layout: answer.layout,
            steps: (0..steps)
                .map(|n| format!("fence to 5, cut number {n} along the 11 side, turn"))
                .collect(),
        };
        PlanPages {
            title: "photo mats".into(),
            sheets: vec![sheet; sheets],
            names: vec!["photo mat".into()],
            sums: vec!["8 sheets, 40 pieces".into()],
            unit: Unit::Inch,
        }
    }

    #[test]
    fn every_step_is_on_a_page_however_many_there_are() {
        for paper in [Paper::Letter, Paper::A4] {
            for steps in [0, 3, 80] {
                let pages = pages(&Setup { paper, ..Setup::default() }, &plan(3, steps));
                for page in &pages {
                    assert!(page.area().inset(CLEAR).holds(&page.bounds().unwrap()));
                }
                let words: Vec<&str> = pages.iter().flat_map(Page::texts).map(|w| w.text.as_str()).collect();
                let text = words.join(" ") + " ";
                for n in 0..steps {
                    assert_eq!(text.matches(&format!("number {n} ")).count(), 3, "step {n} of {steps}");
                }
            }
        }
    }

    #[test]
    fn a_plan_of_nothing_says_so() {
        let pages = pages(&Setup::default(), &plan(0, 0));
        assert!(pages[0].texts().any(|w| w.text == "Nothing is cut."));
        assert!(pages[0].texts().any(|w| w.text == "0 layouts from 0 sheets"));
    }
}
