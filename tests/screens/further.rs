//! What Enter takes over from a further answer: the row's own promise holds in the pane that it lands in.

use super::harness::Bench;
use trimside::app::action::Action;
use trimside::app::facts;
use trimside::app::panes::beside;
use trimside::domain::cards::layer::Shape;
use trimside::domain::cards::reveal::Reveal;
use trimside::domain::length::{Length, Unit};
use trimside::domain::size::Size;

fn flat(bench: &Bench) -> String {
    let all = facts::facts(&bench.model);
    all.iter().map(|f| format!("{} {}", f.label, f.text)).collect::<Vec<_>>().join("\n")
}

fn piece(bench: &Bench) -> Size {
    bench.model.yields.piece
}

fn size(text: &str) -> Size {
    Size::parse(text, Unit::Inch).unwrap()
}

/// By hand: 4 1/8 x 5 3/8 on 12 x 12 gives 2 x 2; 4 wide it is 3 x 2, since 3 x 4 is 12 and 2 x 5 3/8 is 10 3/4.
#[test]
fn a_smaller_size_becomes_the_piece_and_gives_what_its_row_said() {
    let mut bench = Bench::demo().keys("p '4-1/8x5-3/8' Enter s '12x12' Enter z n");
    assert!(flat(&bench).contains("4 x 5 3/8 in): 6 a sheet instead of 4"), "{}", flat(&bench));
    bench.press("Enter");
    assert_eq!(piece(&bench), size("4x5-3/8"));
    let text = flat(&bench);
    assert!(text.contains("6 pieces") || text.contains("6 of"), "{text}");
}

/// Papers of one size share a row: one for those that may turn, one for those whose pattern runs one way.
#[test]
fn papers_of_one_size_share_their_rows() {
    let bench = Bench::demo().keys("p '4-1/8x5-3/8' Enter z n");
    let text = flat(&bench);
    let rows = text.matches("4 x 5 3/8 in): 6 a sheet instead of 4").count();
    assert_eq!(rows, 2, "{text}");
    assert!(text.contains("chalk, 12x12 and 5 more"), "{text}");
}

/// The wide answer counts every paper too: the six that may turn and the four whose pattern runs one way.
#[test]
fn beside_the_answer_as_many_papers_are_counted() {
    let mut bench = Bench::demo();
    bench.act(Action::Room(160));
    bench.press("p '4-1/8x5-3/8' Enter");
    let (asked, found) = bench.model.yields.beside.both().expect("it is asked from 120 columns on");
    let near = beside::near_sizes(asked, found, Unit::Inch);
    assert_eq!(
        near[0].words,
        "1/8 in narrower (4 x 5 3/8 in): 6 a sheet instead of 4, on chalk, 12x12 and 9 more"
    );
}

/// By hand: fronts of 4 1/4 x 5 1/2 with 1/16 showing have mats of 4 1/8 x 5 3/8, four on a 12 x 12; with 1/8 showing they
/// are 4 x 5 1/4, and six go on it.
#[test]
fn a_mat_takes_the_reveal_that_gives_more_and_undo_gives_the_old_one_back() {
    let mut bench = Bench::demo().keys("2 r Ctrl-u '1/16' Enter z d");
    let text = flat(&bench);
    assert!(text.contains("4 x 5 1/4 in): 6 a sheet instead of 4, reveal 1/8"), "{text}");
    for _ in 0..bench.model.yields.further.rows() {
        let (one, at) = bench.model.yields.further.picked_near().unwrap();
        if (one.piece, one.near.rows[at].cut) == (0, size("4x5-1/4")) {
            break;
        }
        bench.press("j");
    }
    bench.press("Enter");
    let shape = |bench: &Bench| bench.model.mats.card(&bench.model.book).layers[0].shape;
    assert_eq!(shape(&bench), Shape::Inset(Reveal::all(Length::sixteenths(2))));
    bench.press("u");
    assert_eq!(shape(&bench), Shape::Inset(Reveal::all(Length::sixteenths(1))));
}

/// A paper taken is the sheet of the answer.
#[test]
fn a_paper_becomes_the_sheet() {
    let mut bench = Bench::demo().keys("p '4x5-1/4' Enter c '30' Enter z p j j");
    bench.press("Enter");
    assert!(bench.model.yields.sheet.paper.is_some(), "{}", flat(&bench));
    assert_eq!(piece(&bench), size("4x5-1/4"));
}

/// A scrap's row takes its size as the piece and the scrap as the sheet.
#[test]
fn a_size_from_a_scrap_is_answered_on_the_scrap() {
    let mut bench = Bench::demo().keys("z g Ctrl-u '4x6' Enter Enter");
    assert_eq!(bench.model.yields.sheet.sheet.actual(), size("4x6"));
    assert!(piece(&bench).fits_in_either_way(size("4x6"), true), "{}", flat(&bench));
    bench.press("u u");
}

/// On a wide screen the chart and each list show the layout of the size in hand, and it gives what its cell or row says; a narrow
/// one asks for nothing.
#[test]
fn the_layout_beside_the_chart_and_the_lists_is_that_of_what_is_in_hand() {
    use trimside::app::panes::laid::shown;
    use trimside::app::state::further::FurtherFound;
    use trimside::app::state::views::YieldView;
    let views = [
        ("1 v", "Right"),
        ("1 v", "Down"),
        ("1 z p", "j"),
        ("1 z n", "j"),
        ("1 z g Ctrl-u '4x6' Enter", "j"),
    ];
    for (open, next) in views {
        let narrow = Bench::demo().keys(open);
        assert!(shown(&narrow.model.yields, &narrow.model.ctx()).is_none(), "{open}");
        let mut bench = Bench::demo();
        bench.act(Action::Room(160));
        bench.press(open);
        let mut sizes = Vec::new();
        for _ in 0..6 {
            let (pane, ctx) = (&bench.model.yields, bench.model.ctx());
            let (asked, found) =
                shown(pane, &ctx).unwrap_or_else(|| panic!("{open}: no layout\n{}", bench.text(160, 50)));
            let found = found.expect("worked out");
            let row = pane.further.picked().unwrap_or(0);
            let told = match (pane.view, pane.further.both().map(|b| b.1)) {
                (YieldView::Chart, _) => {
                    let cell = pane.chart.as_ref().unwrap().cell(pane.cell.0, pane.cell.1).unwrap();
                    assert_eq!((found.upright, found.turned), (cell.upright, cell.turned));
                    cell.best
                }
                (_, Some(FurtherFound::Papers(all))) => all.rows[row].a_sheet,
                (_, Some(FurtherFound::Near(_))) => {
                    let (one, at) = pane.further.picked_near().unwrap();
                    one.near.rows[at].gives
                }
                (_, Some(FurtherFound::Scrap(rows))) => rows[row].gives,
                other => panic!("{other:?}"),
            };
            assert_eq!(found.best, told, "{open}: {asked:?}");
            assert_eq!(found.layout.pieces.len() as u32, told);
            let piece = asked.question.piece.show_with_unit(Unit::Inch);
            let text = bench.text(160, 50);
            assert!(text.contains(&format!("{piece} on {}", asked.question.sheet.name)), "{text}");
            let of = if asked.question.sheet.is_offcut { "from it" } else { "a sheet" };
            assert!(text.contains(&format!("{told} {of}")), "{text}");
            sizes.push((asked.question.piece, asked.question.sheet.name.clone()));
            bench.press(next);
        }
        sizes.dedup();
        assert!(sizes.len() > 3, "{open}: the layout follows the row, {sizes:?}");
    }
}

/// What an offcut gives is drawn in its own paper, and the size in hand stands on all else that is held; its size is told once.
#[test]
fn an_offcut_is_its_own_paper_and_its_sizes_stand_on_what_else_is_held() {
    let mut bench = Bench::opened();
    bench.act(Action::Room(200));
    bench.press("4 ] p");
    let first = bench.model.yields.laid.asked.clone().unwrap();
    let fern = bench.model.book.items().iter().find(|(_, item)| item.name == "fern floor, letter").unwrap().0;
    assert_eq!(first.paper, Some(fern));
    let text = bench.text(200, 60);
    assert!(text.contains("letter offcut 4 x 11 in: ") && !text.contains("4 x 11 in, 4 x 11 in"), "{text}");
    for keys in ["j", "j", "1 v", "l"] {
        bench.press(keys);
        let laid = bench.model.yields.laid.asked.clone().unwrap();
        let (asked, found) = bench.model.yields.beside.both().expect("it is asked with the layout");
        assert_eq!(asked.papers.piece, laid.question.piece, "{keys}");
        assert!(!found.papers.rows.is_empty(), "{keys}");
    }
}

/// A sheet used up takes its time: what is known by then is shown and can be taken, and the row in hand stays in hand.
#[test]
fn what_is_known_of_a_sheet_used_up_is_there_before_the_search_is_over() {
    use std::cell::RefCell;
    use trimside::app::effect::{Ask, Effect};
    use trimside::app::keys::{Key, KeyCode};
    use trimside::app::update::update;
    use trimside::runtime::solve;
    let mut bench = Bench::empty().keys("e Ctrl-u '4.5x6' Enter z u e Ctrl-u '3x4, 1/4, 0'");
    let effects = update(&mut bench.model, Action::Key(Key::plain(KeyCode::Enter)));
    let asked = effects.into_iter().find_map(|e| match e {
        Effect::Solve(number, ask @ Ask::Further(_)) => Some((number, ask)),
        _ => None,
    });
    let (number, ask) = asked.expect("a sheet is to be used up");
    assert!(bench.text(120, 36).contains("Being worked out."));
    let bench = RefCell::new(bench);
    let told = RefCell::new(0);
    let solved = solve::solve_telling(number, ask, &Default::default(), &|action| {
        let mut bench = bench.borrow_mut();
        update(&mut bench.model, action);
        let screen = bench.text(120, 36);
        assert!(screen.contains("Still looking for more variety") && screen.contains("cards,"), "{screen}");
        // The last row that there is by now is taken in hand.
        if *told.borrow() == 0 {
            bench.press("G");
        }
        *told.borrow_mut() += 1;
    });
    let mut bench = bench.into_inner();
    assert!(told.into_inner() > 0);
    let of = |bench: &Bench| bench.model.yields.further.picked_suggestion().unwrap().tree.clone();
    let in_hand = of(&bench);
    bench.act(Action::Solved(number, solved));
    assert_eq!(of(&bench), in_hand);
    assert!(!bench.text(120, 36).contains("Still looking"));
    // What comes after the answer is of no question.
    let before = bench.text(120, 36);
    let found = Box::new(trimside::app::state::further::FurtherFound::Scrap(Vec::new()));
    bench.act(Action::SoFar(number, found));
    assert_eq!(bench.text(120, 36), before);
}

/// A size that gives no more than a larger one near it is not offered beside the answer.
#[test]
fn a_near_size_that_a_larger_one_beats_is_left_out_beside_the_answer() {
    use trimside::app::panes::beside::near_sizes;
    use trimside::domain::length::Unit;
    let mut bench = Bench::opened();
    bench.act(Action::Room(160));
    let bench = bench.keys("1 p '4-1/8x5-3/8' Enter s 'fern' Enter");
    let (asked, found) = bench.model.yields.beside.both().unwrap();
    let lines: Vec<String> = near_sizes(asked, found, Unit::Inch).into_iter().map(|one| one.words).collect();
    assert!(
        lines.iter().any(|line| line.starts_with("1/8 in narrower (4 x 5 3/8 in): 6 a sheet")),
        "{lines:?}"
    );
    assert!(!lines.iter().any(|line| line.contains("smaller both ways")), "{lines:?}");
}
