use super::super::frame::{PrintPaper, Setup};
use super::super::page::{Page, points};
use super::super::scale::{CLEAR, FLOOR, SETTING};
use super::*;
use crate::domain::cutting::one_size::answer;
use crate::domain::sheet::Sheet;

fn plan(sheets: usize, steps: usize) -> PlanPages {
    let letter = Size::new(Length::sixteenths(136), Length::inches(11));
    let piece = Size::new(Length::sixteenths(56), Length::inches(5));
    let answer = answer(&Question::new(piece, Sheet::new("letter", letter)));
    let step = |n: usize| PlanStep {
        fence: Length::sixteenths(80 + n as i64),
        cut: format!("Left edge (11 in) of 8 sheets 8 1/2 x 11 in, cut number {n} of many, turn"),
        off: "Fence side: 8 panels.".into(),
        mind: "Narrow: keep the fingers behind the guard.".into(),
        cuts: 0..1,
    };
    let sheet = PlanSheet {
        name: "fern card stock with a very long name ".repeat(3),
        row: 0,
        paper: None,
        size: letter,
        copies: 8,
        layout: answer.layout,
        steps: (0..steps).map(step).collect(),
    };
    PlanPages {
        title: "photo mats".into(),
        sheets: vec![sheet; sheets],
        pieces: vec![PlanPiece { name: "photo mat with a name that goes on".into(), size: piece }],
        sums: vec!["8 sheets, 40 pieces".into()],
        fetch: vec!["8 x letter".into()],
        keep: vec!["keep 3, write on each \"fern, 2 x 8 1/2 in\"".into(); sheets],
        unit: Unit::Inch,
        blade: crate::domain::cutting::trimmer_profile::Blade::Arm,
    }
}

#[test]
fn every_step_is_on_a_page_however_many_there_are() {
    for paper in [PrintPaper::Letter, PrintPaper::A4] {
        for steps in [0, 3, 80] {
            let pages = pages(&Setup { paper, ..Setup::default() }, &plan(3, steps));
            for page in &pages {
                assert!(page.area().inset(CLEAR).holds(&page.bounds().unwrap()));
                assert!(page.texts().all(|w| w.size >= FLOOR));
            }
            let words: Vec<&str> = pages.iter().flat_map(Page::texts).map(|w| w.text.as_str()).collect();
            let text = words.join(" ") + " ";
            for n in 0..steps {
                assert_eq!(text.matches(&format!("number {n} ")).count(), 3, "step {n} of {steps}");
            }
            let settings = pages.iter().flat_map(Page::texts).filter(|w| w.size == SETTING.size).count();
            assert_eq!(settings, 3 * steps);
            assert!(SETTING.size >= points(300));
        }
    }
}

#[test]
fn forty_layouts_are_four_to_a_page_and_none_is_parted() {
    let pages = pages(&Setup::default(), &plan(40, 2));
    assert!(pages.len() <= 13, "{} pages", pages.len());
    for n in 1..=40 {
        let heading = format!("layout {n}, 8 1/2 x 11 in");
        let on: Vec<&Page> =
            pages.iter().filter(|p| p.texts().any(|w| w.text.starts_with(&heading))).collect();
        assert_eq!(on.len(), 1, "{heading}");
        let headings = on[0].texts().filter(|w| w.text.starts_with("layout ") && w.text.contains("drawn"));
        assert_eq!(on[0].texts().filter(|w| w.size == SETTING.size).count(), 2 * headings.count());
    }
}

#[test]
fn a_plan_of_nothing_says_so() {
    let pages = pages(&Setup::default(), &plan(0, 0));
    assert!(pages[0].texts().any(|w| w.text == "Nothing is cut."));
}

#[test]
fn settings_are_listed_once_each_time_the_fence_moves() {
    let mut plan = plan(2, 2);
    let fence =
        |plan: &PlanPages| plan.settings().iter().map(|(l, n)| (l.show(Unit::Inch), *n)).collect::<Vec<_>>();
    let wanted = [("5", 1), ("5 1/16", 1), ("5", 2), ("5 1/16", 2)].map(|(l, n)| (l.to_owned(), n));
    assert_eq!(fence(&plan), wanted);
    plan.sheets[1].steps.reverse();
    // The second layout begins where the first ended: the fence stays.
    assert_eq!(fence(&plan).len(), 3);
}

#[test]
fn every_paper_of_a_plan_has_two_letters_and_a_hatch_of_its_own() {
    let names = ["fern floor, letter", "chalk, letter", "chalk, 12x12", "chalk, A4", "fern frost", "", "  "];
    let mut plan = plan(names.len() + 1, 1);
    for (n, sheet) in plan.sheets.iter_mut().enumerate() {
        sheet.row = n % names.len();
    }
    let look = |row: usize| {
        Some(PaperLook { name: names[row].to_owned(), ..PaperLook::default() }).filter(|_| row != 4)
    };
    let papers: Vec<Option<PlanPaper>> =
        plan.with_papers(look).sheets.into_iter().map(|sheet| sheet.paper).collect();
    let marks: Vec<String> =
        papers.iter().map(|p| p.as_ref().map(|p| p.mark.clone()).unwrap_or_default()).collect();
    assert_eq!(marks, ["Ff", "Cl", "C1", "Ca", "", "?2", "?3", "Ff"]);
    let hatches: Vec<Hatch> = papers.iter().flatten().map(|p| p.hatch).collect();
    assert_eq!(hatches[0], hatches[6], "a paper keeps its own");
    for (n, hatch) in hatches[..6].iter().enumerate() {
        assert!(*hatch != Hatch::OF_OFFCUTS && !hatches[n + 1..6].contains(hatch), "{hatches:?}");
    }
}
