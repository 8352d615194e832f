//! The step view: how large its figure is, which paper it names and from where, one whole card first, the person's own pace,
//! and a trimmer that is told of in the middle of a run.

use super::harness::Bench;
use crate::cli::{program, said};
use std::collections::BTreeSet;
use trimside::app::facts;
use trimside::app::memory;
use trimside::app::state::bench::BenchRun;
use trimside::domain::cutting::pace::CuttingPace;
use trimside::domain::cutting::trimmer_profile::SetBy;
use trimside::domain::pages::plan::PlanPages;
use trimside::domain::project::Stage;
use trimside::persist::Store;

fn run(bench: &Bench) -> &BenchRun {
    bench.model.yields.run.as_ref().expect("a run is in hand")
}

fn told(bench: &Bench) -> String {
    facts::facts(&bench.model).into_iter().map(|f| format!("{}: {}\n", f.label, f.text)).collect()
}

/// Rows one under another that hold ink, the most that there are, in the left part of the screen.
fn ink_rows(screen: &str) -> usize {
    let is_ink = |line: &str| line.chars().take(100).any(|c| "█▀▄".contains(c));
    let lines: Vec<bool> = screen.lines().map(is_ink).collect();
    lines.split(|ink| !ink).map(<[bool]>::len).max().unwrap_or(0)
}

/// The words of a screen in one line: its whole rows, then what of them stands left of the steps of the run.
fn words_of(bench: &Bench, width: u16, height: u16) -> String {
    let text = bench.text(width, height);
    let left = usize::from(width) - 48;
    let left_of = |line: &str| line.chars().take(left).collect::<String>();
    let beside: Vec<String> = text.lines().map(left_of).collect();
    let all = [text.as_str(), &beside.join(" ")].join(" ");
    all.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Whatever is set, wide or narrow, in inches or millimetres: at 160x50 the figure has sixteen rows and more, at 80x24 the
/// seven that it always had.
#[test]
fn the_figure_grows_with_the_window() {
    for keys in [
        "p '2x3' Enter b",
        "s '12x12' Enter p '11-15/16x5' Enter b",
        "s '12x12' Enter p '10-13/16x11-7/8' Enter b Enter",
        "m s 'a4' Enter p '60x80' Enter b",
        "m s '12x12' Enter p '133.4x266.7' Enter b",
        "V b",
    ] {
        let bench = Bench::demo().keys(keys);
        let rows = |width, height| ink_rows(&bench.text(width, height));
        assert!(rows(160, 50) >= 16, "{keys}: {}\n{}", rows(160, 50), bench.text(160, 50));
        assert!(rows(200, 56) >= rows(160, 50), "{keys}");
        assert!((5..=7).contains(&rows(80, 24)), "{keys}: {}\n{}", rows(80, 24), bench.text(80, 24));
        // The words of the step are whole beside it, as are the cautions.
        for (width, height) in [(160, 50), (200, 56), (120, 36)] {
            let flat = words_of(&bench, width, height);
            let step = run(&bench).spot().unwrap().step.cut_words(bench.model.screen.unit);
            assert!(flat.contains(&step) && flat.contains("own instructions come first."), "{keys}: {flat}");
        }
    }
}

/// A panel that is laid aside is called by its letter when it is taken up again, on the screen and on the page.
#[test]
fn a_pile_is_called_by_its_letter() {
    let mut bench = Bench::demo().keys("p '2x3' Enter b");
    let mut laid = BTreeSet::new();
    let mut taken = BTreeSet::new();
    while let Some(spot) = run(&bench).spot() {
        let facts = told(&bench);
        if !spot.step.takes.is_uncut() {
            let letter = spot.sheet.piles().letter(spot.step.from).expect("a panel that was laid aside");
            assert!(laid.contains(&letter), "{letter} is taken up before it is laid aside: {facts}");
            assert!(facts.contains(&format!(": pile {letter}, ")), "{facts}");
            taken.insert(letter);
        }
        for line in facts.lines().filter(|l| l.contains("lay aside as pile ")) {
            let (_, rest) = line.split_once("lay aside as pile ").unwrap();
            laid.insert(rest.chars().next().unwrap().to_string());
        }
        bench.press("Enter");
    }
    assert!(!laid.is_empty() && laid == taken, "{laid:?} {taken:?}");
    let answer = bench.model.yields.current().unwrap();
    let pages = PlanPages::of_answer(&answer.question, &answer.answer, None, bench.model.screen.unit);
    let words: Vec<String> = pages.sheets[0].steps.iter().map(|s| format!("{} {}", s.cut, s.off)).collect();
    let page = words.join("\n");
    for letter in laid {
        assert!(
            page.contains(&format!("aside as pile {letter}.")) && page.contains(&format!("Pile {letter}. ")),
            "{page}"
        );
    }
}

/// The sheets of one whole card come first, and nothing else changes: as many sheets of each layout, the same pieces, the
/// same paper and leftovers in the log.
#[test]
fn one_whole_card_is_cut_before_the_rest() {
    let mut bench = Bench::demo().keys("V b");
    let before = run(&bench).clone();
    bench.press("o");
    let now = run(&bench).clone();
    assert!(now.proof > 0 && now.sheet_total() == before.sheet_total(), "{}", bench.text(120, 36));
    let kinds = |run: &BenchRun, sheets: usize| -> BTreeSet<usize> {
        run.sheets.iter().take(sheets).flat_map(|s| &s.layout.pieces).map(|p| p.piece).collect()
    };
    assert_eq!(
        kinds(&now, now.proof),
        kinds(&before, usize::MAX),
        "a piece of each kind is in the first sheets"
    );
    assert!(now.sheets.iter().take(now.proof).all(|s| s.copies == 1));
    let sorted = |run: &BenchRun| {
        let mut cut = run.cut(0, run.sheet_total());
        cut.sheets.sort_by_key(|s| s.0);
        cut.offcuts.sort_by_key(|s| s.0);
        let mut left: Vec<String> = cut.left.iter().map(|l| format!("{l:?}")).collect();
        left.sort();
        let mut pieces: Vec<String> = cut.pieces.iter().map(|p| format!("{p:?}")).collect();
        pieces.sort();
        (cut.sheets, cut.offcuts, left, pieces)
    };
    assert_eq!(sorted(&now), sorted(&before));
    // After its last step it is said to be laid together; before and later it is not.
    let steps: usize = now.sheets.iter().take(now.proof).map(|s| s.steps.len()).sum();
    for n in 0..=steps {
        assert_eq!(told(&bench).contains("One whole card is cut"), n == steps, "step {n} of {steps}");
        if n < steps {
            bench.press("Enter");
        }
    }
    assert!(bench.text(80, 24).contains("One whole card is cut"), "{}", bench.text(80, 24));
    // A restart keeps the order and the place.
    let text = memory::to_text(&bench.model);
    let mut again = Bench::demo();
    memory::restore(&mut again.model, &text);
    assert_eq!(run(&again).sheets, now.sheets);
    assert_eq!((run(&again).done, run(&again).proof), (steps, now.proof));
    bench.press("o");
    assert!(bench.text(120, 36).contains("only before cutting begins"), "{}", bench.text(120, 36));
    // Taken back before anything is cut, the run is as it was.
    let mut fresh = Bench::demo().keys("V b o");
    assert_ne!(run(&fresh).sheets, before.sheets);
    fresh.press("u");
    assert_eq!(run(&fresh).sheets, before.sheets, "{}", fresh.text(120, 36));
}

/// Eight strokes, ten seconds apart: what is left is told at ten seconds a stroke, over a restart too. A pause is no pace.
#[test]
fn the_time_left_is_reckoned_from_the_persons_own_pace() {
    let mut bench = Bench::demo().keys("c '200' Enter b");
    assert!(!told(&bench).contains("at your pace"));
    bench.press("Space");
    for n in 1..=8 {
        bench.model.moment = n * 10;
        bench.press("Space");
    }
    bench.model.moment += 100_000;
    bench.press("Space");
    assert_eq!(bench.model.yields.pace, CuttingPace { seconds: 80, strokes: 8 });
    let left = run(&bench).strokes_left();
    let minutes = (left * 10).div_ceil(60);
    assert!(
        told(&bench).contains(&format!("{minutes} minutes left at your pace")) || minutes >= 60,
        "{}",
        told(&bench)
    );
    assert!(bench.text(120, 36).contains("left at your pace"), "{}", bench.text(120, 36));
    let text = memory::to_text(&bench.model);
    let mut again = Bench::demo();
    memory::restore(&mut again.model, &text);
    assert_eq!(again.model.yields.pace, CuttingPace { seconds: 80, strokes: 8 });
}

/// A trimmer told of in the middle of a run changes the words of all steps, never their order or how far the run is.
#[test]
fn another_trimmer_in_the_middle_of_a_run_only_changes_the_words() {
    let mut bench = Bench::demo().keys("V b Enter Space");
    let before = run(&bench).clone();
    bench.press("Esc Esc z t Down Down Down Down Down Ctrl-u 'ruler-right' Ctrl-s");
    assert_eq!(bench.model.yields.trimmer.profile.set_by, SetBy::RulerRight, "{}", bench.text(120, 36));
    bench.press("V b");
    let now = run(&bench);
    assert_eq!((now.done, now.strokes(), now.len()), (before.done, before.strokes(), before.len()));
    let same = now.sheets.iter().flat_map(|s| &s.steps).zip(before.sheets.iter().flat_map(|s| &s.steps));
    for (now, was) in same {
        assert_eq!((now.fence, now.edge, now.part, now.rest), (was.fence, was.edge, was.part, was.rest));
        assert_eq!(now.profile.set_by, SetBy::RulerRight);
    }
    let screen = words_of(&bench, 120, 36).to_lowercase();
    assert!(screen.contains("along the top rail") && !screen.contains("fence"), "{screen}");
    // The page of the same run, in the words of the same trimmer.
    bench.press("Esc V");
    assert!(!bench.text(160, 50).to_lowercase().contains("fence"), "{}", bench.text(160, 50));
}

/// Exactly at the thinnest strip a step warns too, and where the panel allows it the strip falls off instead: a sheet of 12
/// with one strip of 1 in, fence: 11 in the other way round.
#[test]
fn a_strip_at_the_limit_is_offered_the_other_way_round() {
    let bench = Bench::demo().keys("s '12x12' Enter p '1x12' Enter t b");
    let told = told(&bench);
    assert!(told.contains("Narrow: only 1 in lies under the hand"), "{told}");
    let bench = Bench::demo().keys("s '12x12' Enter p '6x12' Enter t b");
    assert!(!self::told(&bench).contains("Narrow"), "{}", self::told(&bench));
}

/// Each stage after the cuts is ticked one set after the other, an undo takes one tick back, and no more are done than there
/// are. Another window reads the same counts in the book.
#[test]
fn the_stages_after_the_cuts_are_ticked_one_by_one() {
    let mut bench = Bench::demo().keys("2 z w 'die-cut' Enter 1 , a");
    assert_eq!(bench.model.book.active_project().unwrap().tasks(), Stage::TASKS);
    for (stage, word, does) in [
        (Stage::Shaped, "shaped", "Die-cut bramble note, mat 1: from 4 1/2 x 5 3/4 in"),
        (Stage::Stamped, "stamped", "Stamp or print sentiment strip"),
        (Stage::Scored, "scored", "Score the base of bramble note, 8 1/2 x 5 1/2 in, inside up"),
    ] {
        assert!(told(&bench).contains(&format!("{word}: 0 of 14 sets")), "{}", told(&bench));
        assert!(told(&bench).contains(does) && told(&bench).contains("caution: "), "{}", told(&bench));
        assert!(bench.text(80, 24).contains(&format!("0 of 14 sets {word}")), "{}", bench.text(80, 24));
        // The cautions of a stage are whole in the smallest window, too.
        let small = bench.text(80, 24).split_whitespace().collect::<Vec<_>>().join(" ");
        let cautions = facts::facts(&bench.model).into_iter().filter(|f| f.label == "caution");
        assert!(cautions.into_iter().all(|f| small.contains(&f.text)), "{small}");
        bench.press("Space Space Space");
        assert_eq!(done(&bench, stage), 3);
        bench.press("u");
        assert_eq!(done(&bench, stage), 2, "{}", bench.text(80, 24));
        bench.press("Backspace Backspace Backspace");
        assert_eq!(done(&bench, stage), 0);
        for _ in 0..15 {
            bench.press("PgDn");
        }
        assert_eq!(done(&bench, stage), 14);
        assert!(bench.text(100, 30).contains("All of this stage is done"), "{}", bench.text(100, 30));
        bench.press("Enter");
    }
    assert_eq!(bench.model.book.active_project().unwrap().prepared(), (14, 14));
    let kit = told(&bench);
    assert!(kit.contains("packed: 0 of 12 kits") && kit.contains("Pack each kit, not made up"), "{kit}");
    bench.press("Space");
    // Left and taken up again: the first stage that is open.
    bench.press("Esc 4 , a");
    assert!(told(&bench).contains("packed: 1 of 12 kits"), "{}", told(&bench));
    // Only the sample of a class is made up, the innermost layer first.
    bench.press("Enter");
    let made_up = told(&bench);
    assert!(made_up.contains("assembled: 0 of 2 sets"), "{made_up}");
    let order: Vec<&str> = made_up.lines().filter(|l| l.contains("Glue ")).collect();
    assert!(order.last().is_some_and(|l| l.contains("onto the card front")), "{order:?}");
    let text = memory::to_text(&bench.model);
    let mut again = Bench::demo();
    memory::restore(&mut again.model, &text);
    assert_eq!(again.model.yields.after.map(|at| at.stage), Some(Stage::Assembled));
}

/// How many sets of the class in hand are through a stage.
fn done(bench: &Bench, stage: Stage) -> u32 {
    bench.model.book.active_project().unwrap().stages.done(stage)
}

/// Each count of its own is left, kept, and gone on with: by the same window later, by another window at the same time, and
/// after a restart from what is on the disk.
#[test]
fn stages_are_left_and_taken_up_again_by_any_window() {
    let dir = tempfile::tempdir().unwrap();
    let mut store = Store::open(dir.path()).unwrap();
    trimside::persist::demo::fill(&mut store).unwrap();
    let window = |store: Store| Bench::on(store.book().clone(), store.history().clone()).kept_in(store);
    let opened = || window(Store::open(dir.path()).unwrap());
    let mut first = window(store);
    let class = "Hedgerow notes, class";
    let id = first.model.book.find_project(class).unwrap();
    let counts = |bench: &Bench| {
        let stages = bench.model.book.projects().get(id).unwrap().stages;
        [Stage::Stamped, Stage::Scored, Stage::Packed].map(|stage| stages.done(stage))
    };
    assert_eq!(first.model.book.active(), Some(id));
    // Two sets stamped, three scored though the others are not stamped yet.
    first.press(", a Space Space Enter Space Space Space Esc");
    assert_eq!(counts(&first), [2, 3, 0], "{}", first.text(100, 30));
    // Another window goes on where the first one left it, at the first stage that is open.
    let mut other = opened();
    assert_eq!(counts(&other), [2, 3, 0]);
    other.press(", a Space");
    assert_eq!(counts(&other), [3, 3, 0], "{}", other.text(100, 30));
    // The first one, which has not heard of it yet, overwrites nothing: it is told, and its next tick counts.
    first.press(", a Enter Space");
    assert_eq!(counts(&first), [3, 3, 0], "{}", first.text(100, 30));
    assert!(first.text(100, 30).contains("stages"), "{}", first.text(100, 30));
    first.press("Space");
    assert_eq!(counts(&first), [3, 4, 0], "{}", first.text(100, 30));
    assert_eq!((first.lost(), other.lost()), (None, None));
    assert_eq!(counts(&opened()), [3, 4, 0]);
    // The same by command line, which sets how many are done.
    let say = |line: &[&str]| {
        let said = said(&program(dir.path()).args(line).args(["--data", "."]).output().unwrap());
        assert_eq!(said.code, 0, "{line:?}: {}", said.note);
        said.out
    };
    say(&["stock", "class", "done", class, "stamped", "9"]);
    assert_eq!(counts(&opened()), [9, 4, 0]);
    let shown = say(&["stock", "class", "show", class]);
    for line in ["stamped: 9 of 14", "scored: 4 of 14", "prepared: 4 of 14", "packed: 0 of 12"] {
        assert!(shown.contains(line), "{shown}");
    }
    // Prepared is what is through all of them.
    say(&["stock", "class", "done", class, "prepared", "6"]);
    assert_eq!(counts(&opened()), [6, 6, 0]);
}

/// What a run or a stage says on the screen and what the plain mode says of it are the same words, step for step: what to do, what
/// to take, what falls where, what to mind, what comes next.
#[test]
fn the_plain_mode_says_what_the_step_on_the_screen_says() {
    let mut bench = Bench::demo().keys("2 z w 'die-cut' Enter 1 V b");
    let unit = bench.model.screen.unit;
    let flat = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let facts_of = |bench: &Bench, label: &str| -> Vec<String> {
        let all = facts::facts(&bench.model).into_iter();
        all.filter(|f| f.label.starts_with(label)).map(|f| bench.model.keymap.say(&f.text)).collect()
    };
    let is_line = |bench: &Bench| facts::facts(&bench.model).iter().all(|f| !f.text.contains('\n'));
    let steps = run(&bench).len();
    for n in 0..steps {
        let screen = flat(&bench.text(200, 60));
        let spot = run(&bench).spot().unwrap();
        let told = facts_of(&bench, "step ");
        assert_eq!(told.len(), 1, "one line a step: {told:?}");
        let (cut, mind) = (spot.step.cut_words(unit), spot.step.mind_words(unit));
        for words in std::iter::once(&cut).chain(&mind) {
            assert!(told[0].contains(words.as_str()), "step {n}: {words} in {told:?}");
            assert!(screen.contains(&flat(words)), "step {n}: {words} in {screen}");
        }
        let others = ["goes", "take", "then", "one card", "caution"].map(|label| facts_of(&bench, label));
        assert_eq!(others[0], run(&bench).goes(spot, unit));
        for words in others.iter().flatten() {
            assert!(screen.contains(&flat(words)), "step {n}: {words} in {screen}");
        }
        assert!(screen.contains(&spot.sheet.paper_name) && !facts_of(&bench, "paper").is_empty());
        assert!(is_line(&bench));
        bench.press("Enter");
    }
    let mut bench = Bench::demo().keys("2 z w 'die-cut' Enter 1 , a");
    for stage in [Stage::Shaped, Stage::Stamped, Stage::Scored, Stage::Packed, Stage::Assembled] {
        let screen = flat(&bench.text(200, 60));
        let count = facts_of(&bench, stage.word());
        assert_eq!(count.len(), 1, "{stage:?}: {count:?}");
        assert!(screen.contains(&format!("{} {}", count[0], stage.word())), "{count:?} in {screen}");
        let lines = [facts_of(&bench, "do "), facts_of(&bench, "caution")].concat();
        assert!(lines.len() > 1 && is_line(&bench), "{lines:?}");
        for words in &lines {
            assert!(screen.contains(&flat(words)), "{stage:?}: {words} in {screen}");
        }
        bench.press("Enter");
    }
}

/// A run for a project offers one whole card first, before its first stroke and never after.
#[test]
fn one_whole_card_first_is_offered_before_the_first_stroke() {
    let offer = "o cuts one whole card first, to be laid together and measured before the rest.";
    let seen = |bench: &Bench| {
        let flat = words_of(bench, 120, 36);
        let told = facts::facts(&bench.model).iter().any(|f| bench.model.keymap.say(&f.text) == offer);
        assert_eq!(told, flat.contains(offer), "{flat}");
        told
    };
    let mut bench = Bench::demo().keys("V b");
    assert!(seen(&bench));
    bench.press("Space");
    assert!(!seen(&bench));
    bench.press("Backspace o");
    assert!(!seen(&bench) && run(&bench).proof > 0);
    // Of one size there is no card.
    assert!(!seen(&Bench::demo().keys("p '2x3' Enter c '200' Enter b")));
}

/// By hand: set 4, measured 4 1/32. Every setting says that it comes out 1/32 over, after a restart too; taken off, 3 in is set as
/// 2 31/32. Measured again, the new strip counts; emptied, nothing is said any more.
#[test]
fn a_test_strip_stays_until_it_is_measured_again_or_cleared() {
    let to_strip = "z t Down Down Down Down Down Down Down";
    let restarted = |bench: &Bench| {
        let text = memory::to_text(&bench.model);
        let mut again = Bench::demo();
        memory::restore(&mut again.model, &text);
        again.keys("1 p '8.5x3' Enter")
    };
    let settings = |bench: &mut Bench| -> Vec<String> {
        bench.press("b");
        let mut all = Vec::new();
        while let Some(spot) = run(bench).spot() {
            let words = spot.step.profile.setting_words(spot.step.fence, bench.model.screen.unit);
            let screen = bench.text(160, 50);
            let figure = screen.lines().any(|l| {
                l.contains("fence, ")
                    && (l.contains("1/32 in over)") || l.contains("(for ") || l.contains('='))
            });
            assert!(told(bench).contains(&words) && figure, "{words}: {}\n{screen}", told(bench));
            all.push(words);
            bench.press("Enter");
        }
        all.iter().for_each(|_| bench.press("Backspace"));
        bench.press("Esc");
        assert!(!all.is_empty());
        all
    };
    let mut bench = Bench::demo().keys("p '8.5x3' Enter");
    assert!(settings(&mut bench).iter().all(|s| !s.contains('(')));
    bench.press(&format!("{to_strip} '4' Down '4-1/32' Ctrl-s"));
    let mut bench = restarted(&bench);
    let over = settings(&mut bench);
    assert!(over.iter().all(|s| s.ends_with("(comes out 1/32 in over)")), "{over:?}");
    assert!(over.contains(&"Fence 3 in (comes out 1/32 in over)".to_owned()), "{over:?}");
    // Another way to set paper leaves the strip; taking its error off changes each setting.
    bench.press(&format!("{to_strip} Down Down Ctrl-u 'yes' Ctrl-s"));
    let mut bench = restarted(&bench);
    let less = settings(&mut bench);
    assert!(less.contains(&"Fence 2 31/32 in (for 3 in)".to_owned()), "{less:?}");
    assert_eq!(less.len(), over.len());
    // Measured again: 1/64 under, so that 3 in is set as 3 1/64.
    bench.press(&format!("{to_strip} Down Ctrl-u '3-63/64' Ctrl-s"));
    let mut bench = restarted(&bench);
    let again = settings(&mut bench);
    assert!(again.contains(&"Fence 3 1/64 in (for 3 in)".to_owned()), "{again:?}");
    bench.press(&format!("{to_strip} Ctrl-u Ctrl-s"));
    let mut bench = restarted(&bench);
    assert!(settings(&mut bench).iter().all(|s| !s.contains('(')));
    assert_eq!(bench.model.yields.trimmer.profile.test, None);
}

/// A run that is begun and not logged is put away for other cuts only on the person's word, and undo brings it back where it was.
#[test]
fn a_run_that_is_begun_is_not_lost_to_other_cuts() {
    let mut bench = Bench::demo().keys("V b Enter Space");
    let class = run(&bench).clone();
    bench.press("Esc Esc p '2x5' Enter b");
    let asked = bench.text(100, 30).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(asked.contains("Hedgerow notes, class is at the bench, 1 of "), "{asked}");
    bench.press("n");
    assert_eq!(run(&bench), &class);
    bench.press("b y");
    assert_eq!(run(&bench).title, "2 x 5 in from letter", "{}", bench.text(100, 30));
    // Nothing of that one is begun: the class takes its place again unasked.
    bench.press("u");
    assert_eq!((run(&bench).done, run(&bench).strokes()), (1, 1), "{}", bench.text(100, 30));
}

/// Another run that is begun and not logged does not stand in the way of a stage: ticks go to the stage that is on the screen.
#[test]
fn a_stage_is_ticked_though_another_run_is_begun() {
    let mut bench = Bench::opened();
    let before = run(&bench).clone();
    assert!(before.is_begun() && before.title == "Thank-you batch");
    bench.press(", a Space Space");
    assert_eq!((done(&bench, Stage::Stamped), run(&bench)), (2, &before), "{}", bench.text(100, 30));
    assert!(bench.text(100, 30).contains("2 of 14 sets stamped"), "{}", bench.text(100, 30));
    // A piece that is spoiled there waits until that run is logged.
    bench.press("s Enter");
    assert!(bench.text(100, 30).contains("another run is in hand"), "{}", bench.text(100, 30));
    assert_eq!(run(&bench), &before);
    // Cuts that are opened are seen, whatever stage was open before.
    let mut other = Bench::demo().keys("V b Space Esc Esc , a");
    other.press("Esc V b");
    assert!(other.text(100, 30).contains("1 of 10 strokes done"), "{}", other.text(100, 30));
}
