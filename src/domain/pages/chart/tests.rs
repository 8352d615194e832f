use super::super::frame::PrintPaper;
use super::super::page::Mark;
use super::super::scale::CLEAR;
use super::*;
use crate::domain::cutting::chart::Cell;
use crate::domain::sheet::Formats;

fn sheet(name: &str) -> Sheet {
    Formats::built_in().find(name).map(Sheet::from).unwrap()
}

fn chart(name: &str) -> Chart {
    let sheet = sheet(name);
    Chart::of(&sheet, &ChartRange::for_sheet(&sheet), true)
}

#[test]
fn the_sign_names_the_better_direction() {
    let cell = |upright, turned, best| Cell { size: Size::default(), upright, turned, best, proved: true };
    assert_eq!(sign(&cell(4, 3, 5)), "+1");
    assert_eq!(sign(&cell(4, 3, 4)), "▲");
    assert_eq!(sign(&cell(3, 4, 4)), "▶");
    assert_eq!(sign(&cell(4, 4, 4)), "=");
    assert_eq!(sign(&cell(0, 0, 0)), "");
}

#[test]
fn the_usual_chart_is_one_page_with_figures_of_14_points_and_half_of_the_cells() {
    for paper in [PrintPaper::Letter, PrintPaper::A4] {
        for name in ["letter", "a4", "12x12"] {
            let setup = Setup { paper, ..Setup::default() };
            let chart = chart(name);
            let pages = pages(&setup, &chart, None, false);
            assert_eq!(pages.len(), 1, "{name} on {paper:?}");
            assert!(pages[0].area().inset(CLEAR).holds(&pages[0].bounds().unwrap()));
            let cells = pages[0].of(Group::Outline).filter(|m| matches!(m, Mark::Rect { .. })).count();
            let side = (0..200_usize).find(|n| n * (n + 1) / 2 >= cells).unwrap();
            assert_eq!(side * (side + 1) / 2, cells, "not a triangle");
            assert!(
                side * 4 >= chart.values.len() * 3,
                "{name}: only {side} of {} sizes",
                chart.values.len()
            );
        }
    }
}

#[test]
fn what_is_left_out_is_named_and_all_of_it_is_there_when_asked_for() {
    let chart = chart("12x12");
    let one = pages(&Setup::default(), &chart, None, false);
    let words = |pages: &[Page]| {
        pages.iter().flat_map(Page::texts).map(|w| w.text.clone()).collect::<Vec<_>>().join(" ")
    };
    assert!(words(&one).contains("Left out for one page: 3/4"), "{}", words(&one));
    let all = pages(&Setup::default(), &chart, None, true);
    assert!(all.len() > 1 && !words(&all).contains("Left out"));
    let cells =
        all.iter().flat_map(|p| p.of(Group::Outline)).filter(|m| matches!(m, Mark::Rect { .. })).count();
    let side = chart.values.len();
    assert!(cells >= side * (side + 1) / 2, "{cells} cells for {side} sizes");
}

#[test]
fn sizes_in_use_are_framed_listed_and_never_left_out_while_others_can_be() {
    let sheet = sheet("letter");
    let size = |w: i64, h: i64| Size::new(Length::sixteenths(w), Length::sixteenths(h));
    // 4 x 5 1/4 is on the chart; 3 7/8 x 5 1/8 is not; 9 x 9 does not fit.
    let chart = chart("letter").with_used(&sheet, &[size(84, 64), size(62, 82), size(144, 144)]);
    assert_eq!(chart.used.len(), 2);
    let pages = pages(&Setup::default(), &chart, None, false);
    let thick = pages[0]
        .of(Group::Outline)
        .filter(|m| matches!(m, Mark::Rect { stroke: Some(s), .. } if s.width > Stroke::BOLD.width));
    assert_eq!(thick.count(), 1);
    let words: Vec<&str> = pages[0].texts().map(|w| w.text.as_str()).collect();
    assert!(
        words.contains(&"3 7/8 x 5 1/8") && words.contains(&"4 x 5 1/4") && words.contains(&"Your sizes")
    );
}

#[test]
fn pieces_that_stay_upright_have_a_full_square_with_its_words_under_it() {
    let sheet = sheet("letter");
    let chart = Chart::of(&sheet, &ChartRange::for_sheet(&sheet), false);
    for paper in [PrintPaper::Letter, PrintPaper::A4] {
        let pages = pages(&Setup { paper, ..Setup::default() }, &chart, None, false);
        assert_eq!(pages.len(), 1);
        assert!(pages[0].area().inset(CLEAR).holds(&pages[0].bounds().unwrap()));
        assert!(pages[0].texts().any(|w| w.text == "Pieces stay upright."));
    }
}

#[test]
fn four_pocket_charts_lie_in_their_quarters() {
    let sheets = ["letter", "a4", "12x12", "letter"];
    let one = |name: &str| {
        let sheet = sheet(name);
        let half = Length::sixteenths(8);
        let range = ChartRange { from: half, to: sheet.actual().long().half(), step: half };
        Chart::of(&sheet, &range, true).with_used(&sheet, &[Size::new(half * 7, half * 10)])
    };
    let charts: Vec<Chart> = sheets.into_iter().map(one).collect();
    for paper in [PrintPaper::Letter, PrintPaper::A4] {
        for used in [false, true] {
            let setup = Setup { paper, ..Setup::default() };
            let pages = pocket(&setup, &charts, used);
            assert_eq!(pages.len(), 1);
            let (w, h) = (pages[0].width / 2, pages[0].height / 2);
            for words in pages[0].texts() {
                let b = super::super::text::bounds(words);
                assert!(pages[0].area().inset(CLEAR).holds(&b), "{words:?}");
                assert!(b.right() < w || b.x > w, "{words:?} crosses the cut");
                assert!(b.bottom() < h || b.y > h, "{words:?} crosses the cut");
                assert!(words.size >= super::super::scale::FLOOR);
            }
            assert_eq!(pages[0].texts().filter(|w| w.text.starts_with("letter, 8 1/2")).count(), 2);
        }
    }
}

#[test]
fn what_is_on_a_back_lies_inside_the_cut_lines_of_its_front() {
    let pages = pages(&Setup::default(), &chart("letter"), Some(&chart("12x12")), false);
    assert_eq!(pages.len(), 2);
    let cuts = pages[0].of(Group::Cut).map(Mark::bounds).reduce(|a, b| a.with(&b)).unwrap();
    let width = pages[0].width;
    for page in &pages {
        let ground = page.of(Group::Outline).filter(|m| matches!(m, Mark::Rect { .. }));
        for area in ground.map(Mark::bounds) {
            let seen_through = Area::new(width - area.right(), area.y, area.width, area.height);
            for area in [area, seen_through] {
                assert!(cuts.inset(MISREGISTRATION).holds(&area), "{area:?} outside {cuts:?}");
            }
        }
    }
}
