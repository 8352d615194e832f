//! The cut plan: each different layout with its drawing and its steps, and the sums over all of them.
//!
//! Knows no planner: layouts, names and step texts come in as they are to be shown.

use super::drawing::{self, Drawn, Scale};
use super::frame::{ASIDE, BODY, HEADING, SMALL, Setup, Sheaf};
use super::page::{Group, MM, Page, Stroke, Um};
use crate::domain::cutting::layout::Layout;
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

/// Said once on every plan: the usual care at a blade.
pub const CARE: &str = "Latch the lever or close the guard between cuts, keep fingers behind the guard, follow your trimmer's own instructions. Measure one sheet first: sheets vary.";

/// The pages: sums first, then one layout after the other, each begun on a page that holds its drawing.
pub fn pages(setup: &Setup, plan: &PlanPages) -> Vec<Page> {
    let count: u32 = plan.sheets.iter().map(|s| s.copies).sum();
    let subtitle = format!(
        "{} from {}",
        plural(plan.sheets.len() as u64, "layout"),
        plural(u64::from(count), "sheet")
    );
    let mut sheaf = Sheaf::new(setup, format!("Cut plan: {}", plan.title), subtitle);
    for line in &plan.sums {
        sheaf.write_wrapped(BODY, line);
    }
    if plan.sheets.is_empty() {
        sheaf.write(BODY, "Nothing is cut.");
    }
    sheaf.write_wrapped(ASIDE, CARE);
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
    let drawn =
        Drawn { sheet: sheet.size, layout: &sheet.layout, names: &plan.names, unit: plan.unit };
    drawing::layout(sheaf.page(), body.x + MM, top, scale, &drawn);
    let x = body.x + area.width + 5 * MM;
    let beside = Beside { x, top, width: body.right() - x, bottom: top + area.height };
    let left = beside.write(sheaf.page(), &steps_of(sheet));
    for line in left {
        sheaf.write_wrapped(BODY, &line);
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
    /// Writes whole steps while they fit and gives back the others. Each has a box to tick.
    fn write(&self, page: &mut Page, steps: &[String]) -> Vec<String> {
        let side = SMALL.size;
        let room = self.width - side - 2 * MM;
        let mut y = self.top;
        for (n, step) in steps.iter().enumerate() {
            let lines = BODY.wrapped(step, room, 6);
            let height = lines.len() as Um * BODY.leading();
            if room < 25 * MM || y + height > self.bottom {
                return steps[n..].to_vec();
            }
            let tick = super::page::Area::new(self.x, y + 400, side, side);
            page.frame(Group::Outline, tick, Stroke::THIN);
            for line in lines {
                page.words(BODY.at(self.x + side + 2 * MM, y + BODY.size, &line));
                y += BODY.leading();
            }
            y += MM;
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
            steps: (0..steps).map(|n| format!("fence to 5, cut number {n} along the 11 side, turn")).collect(),
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
                let text: String =
                    pages.iter().flat_map(Page::texts).map(|w| format!("{} ", w.text)).collect();
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
