//! Printing, first minutes, the tour, history, sequences of keys, going back, themes and the manual of the craft.

use super::harness::Bench;
use trimside::app::action::{Action, Fresh, Spot};
use trimside::app::commands::COMMANDS;
use trimside::app::keymap::{Keymap, strokes};
use trimside::app::overlay::Overlay;
use trimside::app::pane::Pane;
use trimside::app::printing::{PageKind, PagePreview};
use trimside::app::state::views::YieldView;
use trimside::app::tour::STEPS;
use trimside::app::welcome;
use trimside::domain::craft::topics;
use trimside::domain::cutting::trimmer_profile::SetBy;
use trimside::domain::history::Moved;
use trimside::domain::length::Length;
use trimside::domain::pages::frame::PrintPaper;
use trimside::domain::screen::ThemeChoice;
use trimside::ui::panes;

fn with_folder(keys: &str) -> Bench {
    let mut bench = Bench::demo();
    bench.folder = Some(tempfile::tempdir().unwrap());
    bench.keys(keys)
}

fn printed(bench: &Bench, name: &str) -> Option<Vec<u8>> {
    std::fs::read(bench.folder.as_ref().unwrap().path().join(name)).ok()
}

#[test]
fn printing_opens_from_every_pane_on_what_the_pane_shows() {
    for (keys, kind) in [
        ("1", PageKind::Chart),
        ("V", PageKind::Plan),
        ("2", PageKind::Layers),
        ("3", PageKind::Swatches),
        ("4", PageKind::Reorder),
    ] {
        let bench = Bench::demo().keys(keys).keys("Ctrl-p");
        let Some(Overlay::Print(desk)) = bench.model.top() else { panic!("{keys}: nothing opened") };
        assert_eq!(desk.kind(), kind, "{keys}");
        let PagePreview::Pages(text) = &desk.preview else { panic!("{keys}: {:?}", desk.preview) };
        assert!(text.count.contains("page") && text.lines.len() > 2, "{keys}: {text:?}");
    }
}

#[test]
fn every_kind_of_page_of_the_demo_is_previewed_and_written() {
    let mut bench = with_folder("1");
    for (row, kind) in crate::effort::thinned(PageKind::ALL.into_iter().enumerate(), 2) {
        bench.press(&format!("Ctrl-p g {}", "j ".repeat(row)));
        let Some(Overlay::Print(desk)) = bench.model.top() else { panic!("closed before {kind:?}") };
        assert_eq!(desk.kind(), kind);
        assert!(matches!(&desk.preview, PagePreview::Pages(_)), "{kind:?}: {:?}", desk.preview);
        bench.press("Enter");
        let name = format!("{}.pdf", kind.word());
        assert!(printed(&bench, &name).is_some_and(|b| b.starts_with(b"%PDF")), "{kind:?}");
        assert!(bench.model.overlays.is_empty() && bench.model.work.is_none());
    }
}

#[test]
fn a_file_that_is_there_is_not_replaced_unasked() {
    let mut bench = with_folder("3 Ctrl-p f Ctrl-u 'mine.pdf' Enter");
    let first = printed(&bench, "mine.pdf").unwrap();
    bench.press("Ctrl-p g f Ctrl-u 'mine.pdf' Enter");
    let Some(Overlay::Confirm(c)) = bench.model.top() else { panic!("nothing was asked") };
    assert!(c.question.contains("mine.pdf is there already"), "{}", c.question);
    bench.press("Enter");
    assert_eq!(printed(&bench, "mine.pdf").unwrap(), first, "the safe answer is the default");
    assert!(matches!(bench.model.top(), Some(Overlay::Print(_))), "nothing chosen is lost");
    bench.press("Enter y");
    assert_ne!(printed(&bench, "mine.pdf").unwrap(), first);
}

#[test]
fn what_cannot_be_printed_says_why_and_writes_nothing() {
    let mut bench = Bench::empty();
    bench.folder = Some(tempfile::tempdir().unwrap());
    bench.press("3 Ctrl-p Enter");
    assert!(bench.text(80, 24).contains("the library has no swatch yet"));
    let mut odd = with_folder("1 Ctrl-p f Ctrl-u 'chart.txt' Enter");
    assert!(odd.text(120, 30).contains("name the file so"), "{}", odd.text(120, 30));
    odd.press("Ctrl-u 'no/such/chart.pdf' Enter");
    assert!(odd.text(160, 30).contains("make it first"), "{}", odd.text(160, 30));
    assert_eq!(std::fs::read_dir(odd.folder.as_ref().unwrap().path()).unwrap().count(), 0);
}

#[test]
fn paper_colour_and_a_click_change_the_pages() {
    let mut bench = with_folder("3 Ctrl-p");
    let count = |bench: &Bench| match bench.model.top() {
        Some(Overlay::Print(d)) => match &d.preview {
            PagePreview::Pages(t) => t.count.clone(),
            other => panic!("{other:?}"),
        },
        other => panic!("{other:?}"),
    };
    assert!(count(&bench).contains("8 1/2 x 11 in"), "{}", count(&bench));
    bench.press("p");
    assert!(count(&bench).contains("210 x 297 mm"), "{}", count(&bench));
    bench.act(Action::Click(Spot::Over(0)));
    assert!(matches!(bench.model.top(), Some(Overlay::Print(d)) if d.kind() == PageKind::Ruler));
}

fn new_bench() -> Bench {
    let mut bench = Bench::empty();
    welcome::open(&mut bench.model);
    bench
}

#[test]
fn a_new_bench_asks_four_things_and_shows_a_worked_example() {
    let mut bench = new_bench();
    assert!(bench.text(80, 24).contains("1 of 4"));
    bench.press("Down Enter");
    assert!(bench.text(80, 24).contains("2 of 4"));
    bench.press("Enter");
    let screen = bench.text(80, 24);
    assert!(screen.contains("3 of 4") && screen.contains("310"), "{screen}");
    bench.press("Ctrl-u 'wide' Enter");
    assert!(bench.text(80, 24).contains("3 of 4"), "a refused answer keeps the question");
    bench.press("Ctrl-u '300' Enter");
    assert!(bench.text(80, 24).contains("4 of 4"));
    bench.press("Down Down Enter");
    assert_eq!(bench.model.yields.trimmer.profile.set_by, SetBy::RulerLeft);
    let screen = bench.text(80, 24);
    assert!(screen.contains("A worked example") && screen.contains("50 x 75 mm"), "{screen}");
    let model = &bench.model;
    assert_eq!(
        (model.screen.paper, model.yields.trimmer.longest_cut),
        (PrintPaper::A4, Some(Length::mm(300)))
    );
    let best = model.yields.current_answer().unwrap().best;
    assert!(screen.contains(&format!("the best layout {best}")), "{screen}");
    bench.press("Enter");
    assert!(bench.model.overlays.is_empty() && bench.model.pane == Pane::Yield);
}

#[test]
fn the_first_questions_can_be_left_at_any_time() {
    for keys in ["Esc", "Enter Esc", "Enter Enter Esc", "Enter Enter Enter Esc"] {
        let bench = new_bench().keys(keys);
        assert!(bench.model.overlays.is_empty() && !bench.has_left, "{keys}");
    }
}

#[test]
fn the_tour_walks_the_real_panes_and_brings_the_bench_back() {
    let mut bench = Bench::empty().keys("p '3x5' Enter 2");
    let piece = bench.model.yields.piece;
    bench.press("F2");
    assert!(bench.model.book.items().iter().count() > 0, "the demo is there");
    for (n, step) in STEPS.iter().enumerate() {
        assert_eq!(bench.model.pane, step.pane, "step {n}");
        assert!(bench.text(80, 24).contains(&format!("step {} of 6", n + 1)));
        if n + 1 < STEPS.len() {
            bench.press("Enter");
        }
    }
    bench.press("Backspace");
    assert!(bench.text(80, 24).contains("step 5 of 6"));
    // The panes are real: an edit works, and is gone with the tour.
    bench.press("- '2' Enter");
    assert!(bench.model.history.next_undo().is_some());
    bench.press("Esc");
    assert!(bench.model.tour.is_none() && bench.model.overlays.is_empty());
    assert!(bench.model.book.items().is_empty() && bench.model.history.next_undo().is_none());
    assert_eq!((bench.model.pane, bench.model.yields.piece), (Pane::Mats, piece));
}

#[test]
fn the_tour_can_be_left_from_every_step_and_ctrl_c_leaves_the_program() {
    for steps in 0..STEPS.len() {
        let mut bench = Bench::empty().keys("F2");
        bench.press(&"Enter ".repeat(steps));
        bench.press("Esc");
        assert!(bench.model.tour.is_none() && !bench.has_left, "{steps}");
    }
    let bench = Bench::empty().keys("F2 Enter Ctrl-c");
    assert!(bench.has_left && bench.model.tour.is_none());
}

#[test]
fn what_the_disk_tells_during_the_tour_is_for_the_bench_behind_it() {
    let mut bench = Bench::empty().keys("F2");
    let (book, history) = trimside::persist::demo::book().unwrap();
    bench.act(Action::Followed(
        Box::new(Fresh { epoch: 7, book, history, moved: Moved::default() }),
        Vec::new(),
    ));
    assert_eq!(bench.model.epoch, 0);
    let remembered = trimside::app::memory::to_text(&bench.model);
    assert!(!remembered.is_empty());
    bench.press("Esc");
    assert_eq!(bench.model.epoch, 7, "the other window's book is there after the tour");
}

#[test]
fn history_lists_days_and_sentences_and_goes_back_to_a_step() {
    let mut bench = Bench::demo().keys("4 - '1' Enter - '2' Enter - '3' Enter");
    let item = bench.model.stock.picked_item().unwrap();
    let held = bench.model.book.on_hand(item);
    bench.press("F4");
    let screen = bench.text(100, 30);
    assert!(screen.contains("2026-11-25"), "{screen}");
    bench.press("j Enter");
    assert!(bench.text(100, 30).contains("the last 2 steps"), "{}", bench.text(100, 30));
    bench.press("Enter");
    assert_eq!(bench.model.book.on_hand(item), held, "the safe answer is the default");
    bench.press("Enter y");
    assert_eq!(bench.model.book.on_hand(item), held + 5);
    assert!(bench.text(100, 30).contains("2 steps are taken back"), "{}", bench.text(100, 30));
    bench.press("Esc U U");
    assert_eq!(bench.model.book.on_hand(item), held);
    bench.model.book.check().unwrap();
}

#[test]
fn a_prefix_shows_what_can_follow_and_esc_forgets_it() {
    let mut bench = Bench::demo().keys("3 ,");
    let screen = bench.text(80, 24);
    assert!(screen.contains(", and then") && screen.contains("p print"), "{screen}");
    bench.press("Esc");
    assert!(bench.model.pending.is_empty() && !bench.text(80, 24).contains("and then"));
    bench.press(", p");
    assert!(matches!(bench.model.top(), Some(Overlay::Print(_))));
    let bench = Bench::demo().keys(", 9");
    assert!(bench.model.pending.is_empty() && bench.text(80, 24).contains(", 9 means nothing here"));
}

#[test]
fn a_persons_own_sequence_works() {
    let own = [("units".to_owned(), vec!["z z".to_owned()])];
    let (keymap, problems) = Keymap::with_own_keys(&own);
    assert!(problems.is_empty(), "{problems:?}");
    let mut bench = Bench::demo();
    bench.model.keymap = keymap;
    let unit = bench.model.screen.unit;
    bench.press("z");
    assert_eq!(bench.model.screen.unit, unit);
    assert!(bench.text(80, 24).contains("z in / mm"));
    bench.press("z");
    assert_ne!(bench.model.screen.unit, unit);
}

#[test]
fn back_returns_to_where_one_was_across_panes() {
    let mut bench = Bench::demo().keys("v 2 4 3");
    bench.press("Backspace");
    assert_eq!(bench.model.pane, Pane::Stock);
    bench.press("Backspace");
    assert_eq!(bench.model.pane, Pane::Mats);
    bench.press("Backspace");
    assert!(bench.model.pane == Pane::Yield && bench.model.yields.view == YieldView::Chart);
    bench.press("Backspace");
    assert!(bench.model.yields.view != YieldView::Chart);
    bench.press("Backspace");
    assert!(bench.text(80, 24).contains("you have been nowhere else yet"));
    // A jump by a size, and back.
    let bench = Bench::demo().keys("2 p Backspace");
    assert_eq!(bench.model.pane, Pane::Mats);
}

/// The bench as it is opened after this one was left.
fn opened_again(bench: &Bench) -> Bench {
    let text = trimside::app::memory::to_text(&bench.model);
    let mut again = Bench::on(bench.model.book.clone(), bench.model.history.clone());
    trimside::app::memory::restore(&mut again.model, &text);
    again.resume();
    again
}

#[test]
fn the_state_of_every_pane_survives_a_restart() {
    let bench = Bench::demo().keys("p '3x4' Enter 2 j 3 o j l 4 v / 'card' Enter j j");
    let again = opened_again(&bench);
    let (was, now) = (&bench.model, &again.model);
    assert_eq!(now.pane, was.pane);
    assert_eq!(now.yields.piece, was.yields.piece);
    assert_eq!(now.mats.picked_layer(&now.book), was.mats.picked_layer(&was.book));
    assert_eq!((now.palette.order, now.palette.picked()), (was.palette.order, was.palette.picked()));
    assert_eq!((now.stock.view, &now.stock.filter), (was.stock.view, &was.stock.filter));
    assert_eq!(now.stock.picked_item(), was.stock.picked_item());
}

#[test]
fn open_views_and_what_narrows_a_pane_survive_a_restart_as_they_were_drawn() {
    for keys in [
        "1 v e Ctrl-u '1, 4, 1/4' Enter j j l l",
        "1 v j",
        "1 V j",
        "2 v v",
        "2 v R z d .",
        "2 v v v Esc",
        "3 / 'green' Enter",
        "3 v z v Ctrl-u '60' Enter z h z s z s z o z l Space l",
        "3 O o j j",
        "4 ] ] j Enter",
        "4 ] ] ] j j",
        "4 ] ] ] ] Enter j j",
        "4 ] ] ] ] ]",
    ] {
        let bench = Bench::demo().keys(keys);
        assert!(bench.model.overlays.is_empty(), "{keys}: something lies over the pane");
        let again = opened_again(&bench);
        // What was said last is not said again; all else is drawn as it was.
        let mut was = bench.model.clone();
        was.status = None;
        let mut now = again.model.clone();
        now.status = None;
        now.saving.clone_from(&was.saving);
        let (mut left, mut right) = (Bench::demo(), Bench::demo());
        (left.model, right.model) = (was, now);
        assert_eq!(left.text(120, 40), right.text(120, 40), "{keys}");
    }
}

#[test]
fn what_no_longer_fits_the_book_is_left_as_at_a_first_start() {
    let text = trimside::app::memory::to_text(&Bench::demo().keys("1 V 3 Space 4 ] ] Enter").model);
    let mut bench = Bench::empty();
    trimside::app::memory::restore(&mut bench.model, &text);
    bench.resume();
    assert!(bench.model.yields.view != YieldView::Plan && bench.model.palette.pinned.is_none());
    assert!(bench.model.stock.history().is_none());
    for keys in ["1", "2", "3", "4"] {
        bench.press(keys);
        assert!(!bench.text(80, 24).is_empty());
    }
}

#[test]
fn the_longest_cut_is_kept_in_the_book_and_undo_brings_the_old_one_back() {
    let mut bench = Bench::demo().keys("1 V");
    let free = bench.model.yields.plan.plan.clone().unwrap();
    bench.press("Esc z t '6' Ctrl-s");
    assert_eq!(bench.model.book.settings().longest_cut, Some(Length::inches(6)));
    assert_eq!(bench.model.yields.trimmer.longest_cut, Some(Length::inches(6)));
    assert!(bench.model.yields.current_answer().is_some(), "the answer follows");
    bench.press("V");
    let job = &bench.model.yields.plan.job.as_ref().unwrap().1.job;
    assert_eq!(job.trimmer.longest_cut, Some(Length::inches(6)));
    assert_ne!(bench.model.yields.plan.plan, Some(free), "the plan is made anew");
    bench.press("Esc u");
    assert!(bench.text(120, 40).contains("longest cut to 6"), "{}", bench.text(120, 40));
    assert_eq!(bench.model.yields.trimmer.longest_cut, None);
    assert!(bench.model.yields.current_answer().is_some());
}

#[test]
fn a_theme_is_shown_while_it_is_chosen_and_esc_brings_the_old_one_back() {
    let mut bench = Bench::demo().keys("T Down Down");
    assert_eq!(bench.model.screen.theme, ThemeChoice::Light);
    bench.press("Esc");
    assert_eq!(bench.model.screen.theme, ThemeChoice::Terminal);
    bench.press("T 'contrast' Enter");
    assert_eq!(bench.model.screen.theme, ThemeChoice::Contrast);
    bench.press(": 'print on A4' Enter");
    assert_eq!(bench.model.screen.paper, PrintPaper::A4);
}

#[test]
fn the_auto_theme_goes_by_the_ground_and_is_the_terminals_own_where_nothing_is_told() {
    let mut bench = Bench::demo().theme(ThemeChoice::Auto, trimside::ui::look::ColourDepth::True);
    let plain = bench.styled(80, 24);
    bench.act(Action::Ground(true));
    let light = bench.styled(80, 24);
    bench.act(Action::Ground(false));
    let dark = bench.styled(80, 24);
    assert!(!plain.contains("on #") && light.contains("#FBF9F4") && dark.contains("#1B1F24"), "{light}");
}

#[test]
fn the_finder_finds_papers_swatches_projects_formats_and_settings() {
    let bench = Bench::demo().keys(":");
    let Some(Overlay::Picker(p)) = bench.model.top() else { panic!("no finder") };
    let book = &bench.model.book;
    let names = book.items().iter().map(|(_, i)| i.name.clone());
    let names = names.chain(book.swatches().iter().map(|(_, s)| s.name.clone()));
    let names = names.chain(book.projects().iter().map(|(_, p)| p.name.clone()));
    let names = names.chain(["letter", "theme dark", "print on A4", "plain ASCII signs"].map(str::to_owned));
    for name in names {
        assert!(p.rows.iter().any(|r| r.label == name), "{name} is not found");
    }
}

#[test]
fn help_is_a_manual_of_the_craft_too() {
    let mut bench = Bench::demo().keys("F3");
    let mut seen = String::new();
    for _ in 0..30 {
        seen.push_str(&bench.text(120, 40));
        bench.press("PgDn");
    }
    for t in topics() {
        assert!(seen.contains(&t.title), "{} is not shown", t.title);
    }
    let bench = Bench::demo().keys("? / 'crack'");
    let screen = bench.text(120, 40);
    assert!(screen.contains("Why a fold cracks") && screen.contains("Source:"), "{screen}");
}

#[test]
fn every_hint_can_be_clicked_where_it_is_drawn() {
    use ratatui::layout::Rect;
    for keys in ["1", "2", "3", "4"] {
        let bench = Bench::demo().keys(keys);
        let area = trimside::ui::view::parts(Rect::new(0, 0, 100, 30)).hints;
        let screen = bench.text(100, 30);
        let line: Vec<char> = screen.lines().nth(29).unwrap().chars().collect();
        let spots = trimside::ui::view::hint_spots(&bench.model, area);
        assert!(spots.len() > 4);
        for (id, x, width) in spots {
            let words: String = line.iter().skip(usize::from(x)).take(usize::from(width)).collect();
            let title = trimside::app::commands::command(id).title;
            assert!(words.contains(title), "{keys}: {title} is not at {x}: {words}");
        }
    }
}

#[test]
fn sequences_are_in_the_key_list_and_begin_with_no_key_of_a_pane() {
    for c in COMMANDS.iter().flat_map(|c| c.keys.iter().map(move |k| (c, *k))) {
        let all = strokes(c.1).unwrap();
        if all.len() == 1 {
            continue;
        }
        let taken = COMMANDS.iter().any(|o| o.keys.iter().any(|k| strokes(k).unwrap() == all[..1]));
        assert!(!taken, "{} hides {}", c.1, c.0.name);
    }
}

#[test]
fn long_work_shows_a_bar_with_words_and_a_quiet_line_afterwards() {
    use trimside::app::effect::Effect;
    use trimside::app::state::cutting::PlanNews;
    use trimside::app::update::update;
    use trimside::engine::planning::{self, Budget, Cancel};
    let mut bench = Bench::demo();
    let line = |bench: &Bench| bench.text(100, 24).lines().nth(22).unwrap().to_owned();
    assert_eq!(line(&bench), "");
    // The planner's own news, a round after the other.
    let effects = update(&mut bench.model, Action::Key(trimside::app::keys::Key::char('V')));
    let Some(Effect::Plan { number, job, .. }) =
        effects.into_iter().find(|e| matches!(e, Effect::Plan { .. }))
    else {
        panic!("nothing is planned")
    };
    assert!(line(&bench).contains("planning"), "{}", line(&bench));
    let (mut seen, mut last) = (Vec::new(), None);
    let plan = planning::plan(*job, Budget::Work(3), &Cancel::default(), &mut |p, _| {
        let share = u16::try_from(p.work * 1_000 / 3).unwrap();
        update(&mut bench.model, Action::Planned(number, PlanNews::Progress(*p, share)));
        seen.push(line(&bench).matches('█').count());
        last = Some((*p, line(&bench)));
    });
    let (p, words) = last.unwrap();
    assert!(seen.is_sorted() && seen.first() == Some(&0), "the bar only grows: {seen:?}");
    let told = [
        format!("round {}", p.work),
        format!("best takes {} sheets", p.cost),
        format!("none under {}", p.lower_bound),
    ];
    assert!(told.iter().all(|t| words.contains(t)), "{words}");
    bench.act(Action::Planned(number, PlanNews::Done(Box::new(plan))));
    assert_eq!(line(&bench), "", "nothing is said once it is done");
}

#[test]
fn a_picture_being_read_tells_each_part_once_and_in_order() {
    use std::cell::RefCell;
    use trimside::app::effect::{Ask, Effect};
    use trimside::app::keys::{Key, KeyCode};
    use trimside::app::update::update;
    use trimside::runtime::solve;
    let dir = tempfile::tempdir().unwrap();
    let file = dir.path().join("paper.png");
    let mut picture = image::RgbImage::from_pixel(64, 64, image::Rgb([245, 244, 242]));
    for (x, y, pixel) in picture.enumerate_pixels_mut() {
        if (12..52).contains(&x) && (12..52).contains(&y) {
            *pixel = if x < 32 { image::Rgb([79, 121, 66]) } else { image::Rgb([180, 60, 50]) };
        }
    }
    picture.save(&file).unwrap();
    let mut bench = Bench::demo().keys("3 i Ctrl-u");
    bench.act(Action::Paste(file.display().to_string()));
    let effects = update(&mut bench.model, Action::Key(Key::plain(KeyCode::Enter)));
    let photo = effects.into_iter().find_map(|e| match e {
        Effect::Solve(number, ask @ Ask::Photo(_)) => Some((number, ask)),
        _ => None,
    });
    let (number, ask) = photo.expect("a picture is asked for");
    let model = RefCell::new(bench.model.clone());
    let lines = RefCell::new(Vec::new());
    let solved = solve::solve_telling(number, ask, &Default::default(), &|action| {
        update(&mut model.borrow_mut(), action);
        let mut shown = Bench::empty();
        shown.model = model.borrow().clone();
        lines.borrow_mut().push(shown.text(100, 24).lines().nth(22).unwrap().trim().to_owned());
    });
    let lines = lines.into_inner();
    for (n, words) in
        ["reading the file", "opening", "white", "paper's colors", "blur", "library"].iter().enumerate()
    {
        assert!(lines[n].contains(words) && lines[n].contains(&format!("({n} of 6)")), "{}", lines[n]);
    }
    assert_eq!(lines.len(), 6);
    bench.act(Action::Solved(number, solved));
    let screen = bench.text(100, 24);
    assert!(screen.contains("Photo") && screen.lines().nth(22).unwrap().is_empty(), "{screen}");
}

#[test]
fn the_figures_that_answer_from_afar_are_large_where_the_window_is_high() {
    let views = ["1", "4 C '3' Enter '3' Enter"];
    for keys in views {
        let bench = Bench::demo().keys(keys);
        let figures = trimside::app::figures::figures(&bench.model);
        assert!(!figures.is_empty(), "{keys}: no figure");
        let screen = bench.text(160, 50);
        for figure in figures {
            assert!(screen.contains(&figure.words), "{keys}: {figure:?}\n{screen}");
        }
        assert!(screen.matches('█').count() > 14, "{keys}\n{screen}");
    }
    // Elsewhere the room is for drawings and lists.
    for keys in ["0", "1 v", "1 V", "2", "3", "4", "4 ]", "4 ] ]", "4 ] ] ]"] {
        assert_eq!(trimside::app::figures::figures(&Bench::demo().keys(keys).model), [], "{keys}");
    }
    // Yield: the count and the fence of the step in hand.
    let figures = trimside::app::figures::figures(&Bench::demo().model);
    let words: Vec<&str> = figures.iter().map(|f| f.words.as_str()).collect();
    assert_eq!(words, ["a sheet", "fence"]);
}

#[test]
fn a_key_figure_takes_no_row_from_a_list_in_a_usual_window() {
    let without = |keys: &str, (width, height): (u16, u16)| {
        let bench = Bench::demo().keys(keys);
        let mut buf = ratatui::buffer::Buffer::empty(ratatui::layout::Rect::new(0, 0, width, height));
        let look = trimside::ui::look::Look::new(&bench.model.screen, trimside::ui::look::ColourDepth::True);
        let body = trimside::ui::view::parts(buf.area).body;
        let room = ratatui::layout::Rect { x: 1, width: width - 2, ..body };
        let mut on = trimside::ui::surface::Surface::new(&mut buf, &look);
        match bench.model.pane {
            Pane::Stock => panes::stock::draw_stock(&bench.model, room, &mut on),
            Pane::Palette => panes::palette::draw_palette(&bench.model, room, &mut on),
            Pane::Mats => panes::mats::draw_mats(&bench.model, room, &mut on),
            Pane::Yield => panes::yields::draw_yields(&bench.model, room, &mut on),
        };
        on.hits.all().iter().filter(|(_, s)| matches!(s, Spot::Row(..))).count()
    };
    for keys in ["1", "2", "3", "4", "4 ]", "4 ] ]", "4 ] ] ]"] {
        for size in [(80, 24), (120, 40)] {
            let hits = Bench::demo().keys(keys).hits(size.0, size.1);
            let with = hits.all().iter().filter(|(_, s)| matches!(s, Spot::Row(..))).count();
            assert!(with > 0);
            assert_eq!(with, without(keys, size), "{keys} {size:?}");
        }
    }
}
