//! What users of terminal programs expect, as tests.

use super::harness::Bench;
use trimside::app::action::Action;
use trimside::app::commands::{COMMANDS, CommandId};
use trimside::app::overlay::Overlay;
use trimside::app::pane::Pane;
use trimside::app::panes::bench::spoil::finished;

#[test]
fn digits_and_tab_change_panes() {
    let mut bench = Bench::demo();
    for (key, pane) in [("2", Pane::Mats), ("3", Pane::Palette), ("4", Pane::Stock), ("1", Pane::Yield)] {
        bench.press(key);
        assert_eq!(bench.model.pane, pane);
    }
    bench.press("BackTab");
    assert_eq!(bench.model.pane, Pane::Stock);
    bench.press("Tab");
    assert_eq!(bench.model.pane, Pane::Yield);
}

#[test]
fn no_key_of_a_command_takes_a_letter_from_a_text_field() {
    let letters: String = (b' '..=b'~').map(char::from).filter(|c| *c != '\'').collect();
    for open in [
        "p",
        "2 f Ctrl-u",
        "3 w",
        "3 /",
        "4 /",
        "4 n",
        "4 - Ctrl-u",
        ":",
        "? /",
        "F3 /",
        "s",
        "P",
        "Ctrl-p f Ctrl-u",
    ] {
        let bench = Bench::demo().keys(open).keys(&format!("'{letters}'"));
        let text = match bench.model.top() {
            Some(Overlay::Prompt(p)) => p.field.text().to_owned(),
            Some(Overlay::Picker(p)) => p.filter.text().to_owned(),
            Some(Overlay::Form(f)) => f.form.text().to_owned(),
            Some(Overlay::Help(h)) => h.filter.text().to_owned(),
            Some(Overlay::Print(desk)) => desk.file.text().to_owned(),
            other => panic!("{open}: {other:?}"),
        };
        assert_eq!(text, letters, "{open}");
        assert!(!bench.has_left);
    }
}

#[test]
fn a_pasted_newline_does_not_submit() {
    let mut bench = Bench::demo().keys("p");
    bench.act(Action::Paste("2x5\nq\n".to_owned()));
    assert!(matches!(bench.model.top(), Some(Overlay::Prompt(p)) if p.field.text() == "2x5 q"));
}

#[test]
fn ctrl_c_leaves_from_everywhere() {
    for keys in ["", "p '2'", "s", "?", ":", "4 /", "v", "b", "4 -"] {
        let bench = Bench::demo().keys(keys).keys("Ctrl-c");
        assert!(bench.has_left, "after {keys}");
    }
}

#[test]
fn a_refusal_keeps_what_was_typed_and_says_what_would_do() {
    let bench = Bench::demo().keys("p '3,5 x 2' Enter");
    let screen = bench.text(80, 24);
    let flat = screen.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains("write 3.5"), "{screen}");
    assert!(flat.contains("3,5 x 2"), "{screen}");
}

#[test]
fn undo_and_redo_say_what_they_did() {
    let mut bench = Bench::demo().keys("4 - '2' Enter");
    let item = bench.model.stock.picked_item().unwrap();
    let after = bench.model.book.on_hand(item);
    bench.press("u");
    assert_eq!(bench.model.book.on_hand(item), after + 2);
    assert!(bench.text(80, 24).contains("Taken back: "));
    bench.press("U");
    assert_eq!(bench.model.book.on_hand(item), after);
    assert!(bench.text(80, 24).contains("Made again: "));
}

#[test]
fn more_than_is_held_is_refused_with_the_counts() {
    let bench = Bench::demo().keys("4 - '99999' Enter");
    let screen = bench.text(120, 30);
    assert!(screen.contains("not 99999") && screen.contains("on hand"), "{screen}");
}

#[test]
fn every_command_can_be_found_by_name_and_is_in_help() {
    let bench = Bench::demo().keys(":");
    let Some(Overlay::Picker(picker)) = bench.model.top() else { panic!("no finder") };
    for c in COMMANDS {
        assert!(picker.rows.iter().any(|r| r.detail == c.line), "{}", c.name);
    }
    let mut help = Bench::demo().keys("?");
    let mut seen = String::new();
    for _ in 0..40 {
        seen.push_str(&help.text(120, 30));
        help.press("PgDn");
    }
    for c in COMMANDS {
        assert!(seen.contains(c.line), "{} is not in help", c.name);
    }
    let narrow = Bench::demo().keys("?").text(60, 18);
    assert!(!narrow.contains('…'), "sentences wrap: {narrow}");
}

#[test]
fn the_hint_line_offers_only_keys_that_do_what_it_says() {
    for keys in ["1", "1 v", "2", "3", "4", "b"] {
        let bench = Bench::demo().keys(keys);
        for hint in trimside::app::resolve::hints(&bench.model) {
            let contexts = trimside::app::resolve::contexts(&bench.model);
            let strokes = trimside::app::keymap::strokes(&hint.key).unwrap();
            let found = bench.model.keymap.command_of(&contexts, &strokes);
            assert_eq!(found, Some(hint.id), "{keys} {hint:?}");
        }
    }
}

#[test]
fn a_command_that_cannot_run_says_why() {
    let bench = Bench::empty().keys("u");
    assert!(bench.text(80, 24).contains("nothing to undo"));
    let bench = Bench::demo().keys("p '99x99' Enter b");
    assert!(bench.text(80, 24).contains("no piece fits"));
}

#[test]
fn an_empty_book_says_what_to_press_in_every_pane() {
    for (keys, words) in [
        ("1", "p piece"),
        ("2", "press a"),
        ("2 v v", "A adds"),
        ("3", "Press n to add"),
        ("4", "press n to put a line on it"),
        ("4 ]", "press n to put an offcut in"),
        ("4 ] ]", "+ on the shelf logs what came in"),
        ("4 ] ] ]", "z l on a line sets"),
        ("4 ] ] ] ]", "press n and fill in its name"),
        ("4 ] ] ] ] ]", "b there books a class"),
    ] {
        let mut bench = Bench::empty().keys(keys);
        if keys == "2" {
            bench.press("d d");
        }
        let screen = bench.text(80, 24).to_lowercase();
        let flat = screen.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat.contains(&words.to_lowercase()), "{keys}: {screen}");
    }
}

#[test]
fn a_layer_goes_to_yield_with_its_size() {
    let bench = Bench::empty().keys("2 p");
    assert_eq!(bench.model.pane, Pane::Yield);
    assert_eq!(bench.model.yields.piece.show(trimside::domain::length::Unit::Inch), "4 x 5 1/4");
}

#[test]
fn a_chart_cell_is_taken_over_and_agrees_with_the_answer() {
    let mut bench = Bench::empty().keys("v g 5*".trim_end_matches(" 5*"));
    bench.press("j j j l l l l");
    let cell = *bench.model.yields.chart.as_ref().unwrap().cell(3, 4).unwrap();
    bench.press("Enter");
    assert_eq!(bench.model.yields.piece, cell.size);
    let answer = bench.model.yields.current_answer().unwrap();
    assert_eq!((answer.upright, answer.turned, answer.best), (cell.upright, cell.turned, cell.best));
}

#[test]
fn an_answer_to_an_older_question_is_dropped() {
    let mut bench = Bench::empty();
    let old = bench.model.yields.answer.clone().unwrap();
    bench.press("p '3x5' Enter");
    let now = bench.model.yields.answer.clone();
    let solved = trimside::app::action::Solved::Yield(old);
    bench.act(Action::Solved(1, solved));
    assert_eq!(bench.model.yields.answer, now);
}

#[test]
fn copying_gives_the_panes_facts_as_text() {
    let mut bench = Bench::empty();
    bench.act(Action::Run(CommandId::Copy));
    assert!(bench.copied[0].contains("best: 14 a sheet"), "{}", bench.copied[0]);
}

#[test]
fn a_spoiled_panel_is_made_again_and_nothing_else_changes() {
    let mut bench = Bench::empty().keys("c '28' Enter b Enter Enter");
    let before = bench.model.yields.run.clone().unwrap();
    assert_eq!(before.sheets[0].copies, 2);
    bench.press("s Enter");
    let screen = bench.text(100, 30);
    assert!(screen.contains("Lost 3 x piece. No spares: 3 to make again from "), "{screen}");
    let after = bench.model.yields.run.clone().unwrap();
    assert_eq!(after.spoiled, 3, "a panel of 2 x 9 in holds three pieces");
    assert_eq!((after.done, &after.sheets[0].tree), (before.done, &before.sheets[0].tree));
    let made: u32 = after.sheets.iter().map(|s| s.layout.pieces.len() as u32 * s.copies).sum();
    assert_eq!(made, 31, "28 as planned, and three again");
    bench.press(&"Enter ".repeat(after.len() - after.done));
    assert_eq!(finished(bench.model.yields.run.as_ref().unwrap()), [28], "three were lost");
}

#[test]
fn spares_cover_a_spoiled_piece() {
    let mut bench = Bench::empty().keys("c '10' Enter b Enter Enter Enter");
    bench.press("s Down Enter");
    let run = bench.model.yields.run.clone().unwrap();
    assert_eq!((run.spoiled, run.spares.as_slice()), (1, [3].as_slice()));
    assert!(bench.text(100, 30).contains("The spares cover it"));
}

#[test]
fn the_step_in_hand_is_remembered_over_a_restart() {
    let mut bench = Bench::demo().keys("s 'fern floor, letter' Enter c '40' Enter b Enter Enter");
    let text = trimside::app::memory::to_text(&bench.model);
    let left = bench.model.yields.run.clone();
    let mut again = Bench::demo();
    trimside::app::memory::restore(&mut again.model, &text);
    assert_eq!(again.model.yields.run, left);
    assert_eq!(again.model.yields.sheet, bench.model.yields.sheet);
    bench.press("Esc");
    for broken in ["", "(", "(bench: 3)", "(piece: (-1, 0))"] {
        trimside::app::memory::restore(&mut again.model, broken);
    }
}

#[test]
fn a_plan_is_logged_whole_or_in_part_and_one_undo_takes_it_back() {
    let mut bench = Bench::demo().keys("V");
    let log = bench.model.book.log().len();
    let (sheets, plan) = (bench.model.yields.plan.plan.as_ref().unwrap().totals.sheets, "b");
    bench.press(plan);
    bench.press("Enter Esc W Ctrl-u '3' Enter");
    assert_eq!(bench.model.yields.run.as_ref().unwrap().logged, 3);
    let some = bench.model.book.log().len();
    assert!(some > log);
    bench.press(&format!("W Ctrl-u '{sheets}' Enter"));
    let all = bench.model.book.log().len();
    assert!(all > some && bench.model.yields.run.as_ref().unwrap().is_logged());
    bench.press("u u");
    let voided = bench.model.book.log().iter().filter(|l| l.voids.is_some()).count();
    assert_eq!(voided, all - log, "every line of the plan is voided again");
    bench.model.book.check().unwrap();
}

#[test]
fn the_trimmer_and_the_sheet_are_as_they_are_measured() {
    use trimside::domain::length::Length;
    let bench = Bench::empty().keys("z t Ctrl-u '9, 6' Enter e Ctrl-u '8-1/2x10-15/16, 1/32' Enter");
    let pane = &bench.model.yields;
    assert_eq!(pane.trimmer.longest_cut, Some(Length::inches(9)));
    assert_eq!(pane.trimmer.largest_setting, Some(Length::inches(6)));
    assert_eq!(pane.sheet.sheet.measured.unwrap().height, Length::sixteenths(175));
    assert_eq!(pane.sheet.sheet.out_of_square.height, Length::sixty_fourths(2));
    assert!(pane.current_answer().unwrap().best < 14, "a shorter sheet loses a piece");
}

#[test]
fn what_yield_draws_the_plain_mode_says_too() {
    let keys = "1 s 'bramble' Enter e Ctrl-u '11 7/8 x 12' Enter z e '1/4' Enter c '40' Enter z o t";
    let mut bench = Bench::demo().keys(keys);
    for (measured, phrases) in [
        (true, vec!["on hand", "as measured", "usable", "40 wanted", "biggest offcut", "must stay upright"]),
        (false, vec!["wanted", "may turn", "proved best", "fence setting", " over"]),
    ] {
        if !measured {
            bench.press("t z o s 'letter' Enter p Ctrl-u '2x3' Enter");
        }
        let drawn = bench.text(120, 40);
        let said = trimside::app::facts::as_text(&bench.model);
        for phrase in phrases {
            assert!(drawn.contains(phrase), "not drawn: {phrase}\n{drawn}");
            assert!(said.contains(phrase), "drawn but not said: {phrase}\n{said}");
        }
    }
}

/// By hand: 12 of 4 1/4 x 5 1/2 take 3 letter sheets, 4 each. Of sheets 8 7/16 wide two stand no longer side by side, upright or
/// turned: 2 each, so 6 sheets. Of 4 such sheets come 8 pieces, and 4 are named.
#[test]
fn sheets_that_measure_short_or_are_fewer_are_planned_anew_at_the_bench() {
    let mut bench = Bench::demo().keys("1 s 'letter' Enter p Ctrl-u '4.25x5.5' Enter c '12' Enter b");
    let sheets = |bench: &Bench| bench.model.yields.run.as_ref().unwrap().sheet_total();
    assert_eq!(sheets(&bench), 3, "{}", bench.text(80, 24));
    bench.press("e Ctrl-u '8 7/16 x 11' Enter");
    assert_eq!(sheets(&bench), 6, "{}", bench.text(80, 24));
    let shown = bench.text(160, 50);
    assert!(shown.contains("8 7/16 x 11 in: cut from 6 sheets instead of 3"), "{shown}");
    bench.press("e Ctrl-u '4, 8 7/16 x 11' Enter");
    assert_eq!(sheets(&bench), 4);
    assert!(bench.text(160, 50).contains("No paper for 4 x piece"), "{}", bench.text(160, 50));
    bench.press("u u");
    assert_eq!(sheets(&bench), 3, "one key takes each of them back: {}", bench.text(80, 24));
    bench.press("e Ctrl-u '3 x 2' Enter");
    assert!(bench.text(160, 50).contains("fits on what lies here"), "{}", bench.text(160, 50));
    bench.press("Esc Enter Enter Enter e Ctrl-u '5' Enter");
    assert!(bench.text(160, 50).contains("all is cut") || sheets(&bench) == 3, "{}", bench.text(160, 50));
}
