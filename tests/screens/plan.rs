//! The plan of a project and the bench: what is chosen by key, what is told, what is kept.

use super::harness::Bench;
use trimside::app::action::{Action, Spot};
use trimside::app::commands::{COMMANDS, CommandId, Context};
use trimside::app::facts;
use trimside::app::keys::{Key, KeyCode};
use trimside::app::memory;
use trimside::app::panes::bench::spoil::finished;
use trimside::app::state::bench::{BenchRun, PaperSource};
use trimside::app::state::plan::Detail;
use trimside::domain::cutting::question::{Preference, Trimmer};
use trimside::domain::cutting::sheet_order::SheetOrder;
use trimside::domain::cutting::step::Warning;
use trimside::domain::cutting::words::STACK_CAUTION;
use trimside::domain::edit::{Edit, Row};
use trimside::domain::length::{Length, Unit};
use trimside::domain::project::{PieceWanted, Project};
use trimside::domain::size::{Grain, Size};

fn told(bench: &Bench) -> String {
    facts::facts(&bench.model).into_iter().map(|f| format!("{}: {}\n", f.label, f.text)).collect()
}

/// The screen's words with single spaces between them.
fn flat(bench: &Bench, width: u16, height: u16) -> String {
    bench.text(width, height).split_whitespace().collect::<Vec<_>>().join(" ")
}

fn run(bench: &Bench) -> &BenchRun {
    bench.model.yields.run.as_ref().unwrap()
}

/// Strokes over all sheets of a run.
fn strokes(run: &BenchRun) -> u32 {
    run.sheets.iter().flat_map(|s| &s.steps).map(|s| s.strokes).sum()
}

#[test]
fn the_trimmer_is_typed_whole_and_remembered() {
    let mut bench = Bench::demo().keys("z t Ctrl-u '12, 8, 1/32, 1/4, 2' Enter");
    let expected = Trimmer {
        longest_cut: Some(Length::inches(12)),
        largest_setting: Some(Length::inches(8)),
        finest_mark: Length::sixty_fourths(2),
        smallest_shave: Length::sixteenths(4),
        smallest_strip: Length::inches(2),
        ..Trimmer::default()
    };
    assert_eq!(bench.model.yields.trimmer, expected);
    assert!(bench.text(100, 30).contains("marks 1/32"));
    bench.press("z t");
    let asked = bench.text(100, 30);
    for (field, text) in [("longest cut", "12"), ("largest setting", "8"), ("finest mark", "1/32")] {
        let stands = asked.lines().any(|l| l.contains(field) && l.contains(text));
        assert!(stands, "what was typed stands in its field again: {field} {text}: {asked}");
    }
    bench.press("Esc");
    let text = memory::to_text(&bench.model);
    // The longest cut is the book's, the rest the bench's.
    let mut again = Bench::demo();
    again.model.book = bench.model.book.clone();
    memory::restore(&mut again.model, &text);
    assert_eq!(again.model.yields.trimmer, expected);
    // Plan and bench cut on that trimmer.
    again.press("V b");
    assert_eq!(again.model.yields.plan.job.as_ref().unwrap().1.job.trimmer, expected);
    let narrow = run(&again).sheets.iter().flat_map(|s| &s.steps).filter(|s| s.fence <= Length::inches(2));
    assert!(narrow.clone().count() > 0, "the demo has strips");
    for step in narrow {
        let is_said = |w: &Warning| matches!(w, Warning::NarrowHold { width, .. } if *width == step.fence);
        assert!(step.warnings.iter().any(is_said), "{step:?}");
    }
}

#[test]
fn the_preference_that_made_the_plan_is_said() {
    let mut bench = Bench::demo().keys("V");
    assert!(told(&bench).contains("Fewest found, in this order: fence moves ("));
    bench.press("z o");
    let job = &bench.model.yields.plan.job.as_ref().unwrap().1.job;
    assert_eq!(job.preference, Preference::LargestOffcut);
    let screen = bench.text(80, 24);
    assert!(screen.contains("Largest leftover found first."), "{screen}");
    let text = memory::to_text(&bench.model);
    let mut again = Bench::demo();
    memory::restore(&mut again.model, &text);
    assert_eq!(again.model.yields.preference, Preference::LargestOffcut);
    bench.press("z o");
    assert!(told(&bench).contains("Fewest found, in this order: fence moves ("));
    assert!(bench.model.yields.current().is_some(), "the Yield pane has its answer again");
}

#[test]
fn sheets_a_stroke_are_one_until_the_person_says_otherwise() {
    let one = Bench::demo().keys("V b");
    assert_eq!(run(&one).per_stroke, 1);
    assert!(!told(&one).contains("a stroke"));
    let mut two = Bench::demo().keys("V S Ctrl-u '2' Enter");
    assert!(two.text(80, 24).contains("2 sheets a stroke"));
    two.press("b");
    assert!(strokes(run(&two)) < strokes(run(&one)));
    let by_hand: u32 =
        run(&two).sheets.iter().flat_map(|s| &s.steps).map(|s| s.panels.div_ceil(2) * s.each).sum();
    assert_eq!(strokes(run(&two)), by_hand, "every stroke but a last one takes two");
    let screen = flat(&two, 80, 24);
    assert!(screen.contains("2 sheets a stroke") && screen.contains("trimmer's maker"), "{screen}");
    assert!(told(&two).contains(STACK_CAUTION));
    // The run in hand keeps it over a restart; the next run starts with one sheet again.
    two.press("Enter");
    let text = memory::to_text(&two.model);
    let mut again = Bench::demo();
    memory::restore(&mut again.model, &text);
    assert_eq!(again.model.yields.run, two.model.yields.run);
    assert_eq!(again.model.yields.trimmer.sheets_per_stroke, 1);
    for bad in ["0", "99", "two"] {
        let refused = Bench::demo().keys(&format!("V S Ctrl-u '{bad}' Enter"));
        assert_eq!(refused.model.yields.trimmer.sheets_per_stroke, 1, "{bad}");
        assert!(refused.text(100, 30).contains("from 1 to 50"), "{bad}");
    }
}

#[test]
fn what_is_said_of_a_piece_changes_the_plan_and_undo_takes_it_back() {
    let mut bench = Bench::demo().keys("V");
    let before = bench.model.yields.plan.job.clone().unwrap().1.job;
    bench.press("e 'mat 1' Enter");
    assert!(bench.text(100, 30).contains("0, yes, any"), "{}", bench.text(100, 30));
    bench.press("Ctrl-u '1/8, no, long' Enter");
    let after = bench.model.yields.plan.job.clone().unwrap().1.job;
    let changed: Vec<_> = after.pieces.iter().zip(&before.pieces).filter(|(a, b)| a != b).collect();
    let [(now, was)] = changed.as_slice() else { panic!("{changed:?}") };
    assert_eq!((now.allowance, now.may_turn, now.grain), (Length::sixteenths(2), false, Grain::Long));
    assert_eq!(now.cut_size().width, was.finished.width + Length::sixteenths(4));
    assert!(bench.model.yields.plan.plan.is_some(), "planned anew at once");
    bench.press("v v v");
    assert_eq!(bench.model.yields.plan.detail, Detail::Pieces);
    let screen = flat(&bench, 110, 50);
    assert!(screen.contains("for 1/8 all round, must stay upright, grain along its long side"), "{screen}");
    bench.press("u");
    assert_eq!(bench.model.yields.plan.job.clone().unwrap().1.job, before, "the plan follows the book");
    for bad in ["wide", "1/8, perhaps", "0, yes, across", "1,yes,long,4", "30"] {
        bench.press(&format!("e Enter Ctrl-u '{bad}' Enter"));
        assert!(!bench.model.overlays.is_empty(), "{bad} is refused and nothing typed is lost");
        bench.press("Esc");
    }
    bench.model.book.check().unwrap();
}

#[test]
fn the_plan_tells_papers_leftovers_and_steps() {
    let mut bench = Bench::demo().keys("V");
    let all = told(&bench);
    for words in ["least: No plan can use fewer whole sheets", "% of the paper", "% used", "write on"] {
        assert!(all.contains(words), "{words}: {all}");
    }
    for (detail, words) in
        [("steps", "Fence "), ("papers", "% used"), ("leftovers", "write on"), ("pieces", " x ")]
    {
        for (width, height) in [(80, 24), (160, 50)] {
            let screen = bench.text(width, height);
            let (_, below) = screen.split_once(&format!("[{detail} ")).unwrap_or_else(|| panic!("{screen}"));
            assert!(below.contains(words), "{detail}: {screen}");
        }
        bench.press("v");
    }
    // Every step of the picked layout can be read on the small screen, by going down the lines.
    bench.press("j");
    let lines = bench.model.yields.plan.lines(Unit::Inch);
    for line in &lines {
        let screen = flat(&bench, 80, 24);
        let words: Vec<&str> = line.split_whitespace().take(8).collect();
        assert!(screen.contains(&words.join(" ")), "{line}: {screen}");
        bench.press("l");
    }
}

#[test]
fn only_the_keys_of_the_bench_are_live_there() {
    let own: Vec<Key> = COMMANDS
        .iter()
        .filter(|c| c.context == Context::Bench)
        .flat_map(|c| c.keys.iter().map(|k| Key::parse(k).unwrap()))
        .collect();
    let mut bench = Bench::demo().keys("V b Enter");
    let at = bench.model.yields.run.clone();
    let signs = (' '..='~').map(Key::char);
    let others =
        [KeyCode::Tab, KeyCode::BackTab, KeyCode::Home, KeyCode::End, KeyCode::PageUp, KeyCode::PageDown];
    let controls = ['p', 'r', 'z', 'd', 'u'].map(Key::ctrl);
    for key in signs.chain(others.map(Key::plain)).chain(controls).filter(|k| !own.contains(k)) {
        bench.act(Action::Key(key));
        assert!(bench.model.is_at_bench() && bench.model.yields.run == at, "{key} moved something");
        assert!(bench.model.overlays.is_empty() && !bench.has_left, "{key} opened something");
    }
}

#[test]
fn next_and_back_walk_through_all_steps_and_nothing_moves_by_itself() {
    let mut bench = Bench::demo().keys("V b");
    let all = run(&bench).len();
    assert!(all > 10);
    for done in 0..all {
        assert_eq!(run(&bench).done, done);
        let screen = bench.text(80, 24);
        assert!(screen.contains(&format!("{done} of {all} steps done")), "{screen}");
        bench.press("Enter");
    }
    let end = bench.text(80, 24);
    assert!(end.contains("All cut.") && end.contains("latch the arm and guard the blade"), "{end}");
    assert!(end.contains("write on"), "offcuts come with the text to write on them: {end}");
    bench.press("Backspace Backspace");
    assert_eq!(run(&bench).done, all - 2);
    bench.press("Esc");
    let pause = bench.text(100, 30);
    assert!(pause.contains("Latch the arm and guard the blade"), "{pause}");
    bench.press("b");
    assert_eq!(run(&bench).done, all - 2, "where one stopped");
    assert!(bench.text(100, 30).contains("Where you stopped"));
}

#[test]
fn a_plan_not_begun_gives_way_to_a_new_one() {
    let mut bench = Bench::demo().keys("V b Esc S Ctrl-u '3' Enter b");
    assert_eq!(run(&bench).per_stroke, 3);
    bench.press("Enter Esc S Ctrl-u '1' Enter b");
    assert_eq!(run(&bench).per_stroke, 3, "what was begun is finished as it was begun");
}

/// Pieces of each row that a run still makes.
fn to_make(run: &BenchRun) -> Vec<u32> {
    let mut all = vec![0; run.pieces.len()];
    for sheet in &run.sheets {
        for piece in &sheet.layout.pieces {
            let lost = sheet.lost.iter().filter(|lost| lost.holds(&piece.panel)).count() as u32;
            all[piece.piece] += sheet.copies - lost;
        }
    }
    all
}

#[test]
fn a_spoiled_sheet_of_a_project_is_made_again_from_the_next_one_of_its_paper() {
    let mut bench = Bench::demo().keys("V b");
    let before = run(&bench).clone();
    let sheet = before.sheets[0].clone();
    let mut lost = vec![0_u32; before.pieces.len()];
    sheet.layout.pieces.iter().for_each(|p| lost[p.piece] += 1);
    bench.press("s Enter");
    let after = run(&bench).clone();
    assert_eq!(after.spoiled, lost.iter().sum::<u32>());
    let made = to_make(&after);
    for (row, (was, now)) in to_make(&before).iter().zip(&made).enumerate() {
        let covered = before.spares[row] - after.spares[row];
        assert_eq!(
            now + covered,
            *was,
            "{}: what is lost is made again, or covered",
            before.pieces[row].name
        );
        assert_eq!(after.spares[row], before.spares[row] - covered);
    }
    for sheet in &after.sheets {
        for p in &sheet.layout.pieces {
            assert_eq!(after.pieces[p.piece].paper.as_deref(), Some(sheet.paper_name.as_str()));
        }
    }
    let screen = bench.text(160, 50);
    assert!(screen.contains("Lost ") && screen.contains("spares"), "{screen}");
    // The waste is in the log, with the sheet that was taken.
    let all = after.len();
    bench.press(&"Enter ".repeat(all + 1));
    let spoiled = format!("({} spoiled)", after.spoiled);
    assert!(
        bench.model.book.log().iter().any(|l| l.job.ends_with(&spoiled)),
        "the log names the waste: {}",
        bench.text(160, 50)
    );
    bench.model.book.check().unwrap();
}

/// The rows of a run that make pieces, without what was cut again.
fn kept_sheets(run: &BenchRun) -> Vec<(String, u32, usize)> {
    let planned = run.sheets.iter().filter(|s| !s.name.ends_with(", on the bench"));
    planned.map(|s| (s.tree.encode(), s.copies, s.steps.len())).collect()
}

#[test]
fn a_spoiled_sentiment_leaves_the_rest_of_the_run_as_it_is() {
    let mut bench = Bench::demo().keys("V b Enter Enter Enter");
    let before = run(&bench).clone();
    assert_eq!(before.done, 3);
    bench.press("s Down Enter");
    let after = run(&bench).clone();
    assert_eq!((after.spoiled, after.done), (1, 3), "the count of steps goes on: {}", flat(&bench, 160, 50));
    assert_eq!(kept_sheets(&after), kept_sheets(&before), "what was planned is cut as it was planned");
    assert!(after.len() <= before.len() + 2, "a piece needs two steps at most");
    let bin = |run: &BenchRun| run.sheets.iter().filter(|s| matches!(s.source, PaperSource::Bin(_))).count();
    assert_eq!(bin(&after), bin(&before), "offcuts that cost nothing are still used");
    let again: u32 = to_make(&after).iter().zip(to_make(&before)).map(|(now, was)| now - was).sum();
    let covered: u32 = before.spares.iter().zip(&after.spares).map(|(was, now)| was - now).sum();
    assert_eq!(again + covered, 1, "it is made again, or covered");
    let text = memory::to_text(&bench.model);
    let mut next = Bench::demo();
    memory::restore(&mut next.model, &text);
    assert_eq!(next.model.yields.run, bench.model.yields.run, "and it outlives a restart");
}

#[test]
fn a_leftover_that_is_cut_again_is_kept_no_more() {
    // Four mats of 5 x 7, three to a sheet of 12 x 12: the second sheet leaves room for more.
    let mut bench = pinwheels(4, 0).keys("V b");
    let steps = run(&bench).len();
    bench.press(&"Enter ".repeat(steps));
    let before = run(&bench).clone();
    assert!(before.spot().is_none(), "all cut");
    let kept: u32 = before.kept().iter().map(|k| k.count).sum();
    let area = |run: &BenchRun| run.kept().iter().map(|k| k.size.area() * i128::from(k.count)).sum::<i128>();
    bench.press("s Enter");
    let after = run(&bench).clone();
    assert!(kept > 0 && area(&after) < area(&before), "{:?} {:?}", before.kept(), after.kept());
    bench.press("Enter Enter Enter Enter");
    assert!(run(&bench).is_logged() && run(&bench).gone.is_empty(), "{}", flat(&bench, 120, 40));
    bench.model.book.check().unwrap();
}

/// The demo with another active project: so many mats of 5 x 7, and tags of 2 x 2, from a paper of 12 x 12.
fn pinwheels(mats: u32, tags: u32) -> Bench {
    let mut bench = Bench::demo();
    let id = bench.model.book.active().unwrap();
    let craft = Size::new(Length::inches(12), Length::inches(12));
    let items = bench.model.book.items();
    let (paper, _) = items
        .iter()
        .find(|(id, i)| i.cutting_size() == Some(craft) && !i.one_way && bench.model.book.free(*id) > 12)
        .expect("the demo has plain craft squares");
    let was = bench.model.book.projects().get(id).unwrap().clone();
    let wanted = |name: &str, w: i64, h: i64, count: u32| PieceWanted {
        paper: Some(paper),
        ..PieceWanted::new(name.to_owned(), Size::new(Length::inches(w), Length::inches(h)), count)
    };
    let pieces = [wanted("mat", 5, 7, mats), wanted("tag", 2, 2, tags)];
    let now = Project {
        cards: Vec::new(),
        pieces: pieces.into_iter().filter(|p| p.count > 0).collect(),
        supplies: Vec::new(),
        seats: 1,
        samples: 0,
        spoilage_percent: 0,
        spoilage_fixed: 0,
        ..was.clone()
    };
    let edit = Edit::Project(Row::alter(id, was, now));
    bench.model.book.apply(&edit, jiff::civil::date(2026, 3, 2)).unwrap();
    bench
}

#[test]
fn a_plan_uses_stop_cuts_only_where_the_trimmer_makes_them() {
    let mut bench = pinwheels(16, 0).keys("V");
    let plain = bench.model.yields.plan.to_cut().unwrap().clone();
    assert!(!told(&bench).to_lowercase().contains("stop cut"), "{}", told(&bench));
    bench.press("z s");
    let plan = bench.model.yields.plan.to_cut().unwrap().clone();
    assert!(plan.has_stop_cuts() && plan.totals.cost < plain.totals.cost, "{plan:?}");
    assert_eq!(
        bench.model.yields.plan.plan.as_ref().unwrap().totals.cost,
        plain.totals.cost,
        "beside it, as it was"
    );
    let all = told(&bench);
    for words in ["Stop cuts on 4 sheets: ", "from edge to edge: ", "stop at the mark after 7 in", "Knife: "]
    {
        assert!(all.contains(words), "{words}: {all}");
    }
    let screen = flat(&bench, 100, 40);
    assert!(screen.contains("Stop cuts on 4 sheets: 4 whole sheets"), "{screen}");
    bench.press("z s");
    assert_eq!(bench.model.yields.plan.to_cut().unwrap(), &plain, "one key, and they are gone");
    bench.press("z s Esc");
    assert!(bench.model.yields.stop_cuts, "one choice for one size and for a plan");
    let none = pinwheels(3, 0).keys("V z s");
    assert!(told(&none).contains("Stop cuts save no paper here."));
}

#[test]
fn the_bench_leads_through_a_stop_cut_with_its_marks() {
    let mut bench = pinwheels(16, 4).keys("V z s b");
    let steps = run(&bench).sheets[0].steps.clone();
    assert!(steps.iter().take(4).all(|s| s.stop.is_some()), "{steps:?}");
    for (n, words) in [
        (0, "Nothing comes off yet."),
        (1, "pieces 7 x 5 in: mat, finished."),
        (2, "that have 2 stop cuts."),
        (3, "offcuts 2 x 2 in: "),
    ] {
        for (width, height) in [(80, 24), (160, 50)] {
            let screen = flat(&bench, width, height);
            for words in [words, "stop at the mark after 7 in", "knife and steel", "start", "mark", "Knife: "]
            {
                assert!(screen.contains(words), "{n} {words}: {screen}");
            }
        }
        bench.press("Enter");
    }
    // Where one stopped is remembered over a restart, stop cuts and all.
    bench.press("Backspace Backspace");
    let text = memory::to_text(&bench.model);
    let mut again = pinwheels(16, 4);
    memory::restore(&mut again.model, &text);
    assert_eq!(again.model.yields.run, bench.model.yields.run);
}

#[test]
fn a_sheet_that_is_spoiled_between_two_stop_cuts_is_made_again_beside_the_others() {
    let mut bench = pinwheels(16, 0).keys("V z s b Enter Enter");
    let before = run(&bench).clone();
    assert_eq!(before.sheets[0].copies, 4);
    bench.press("s Enter");
    let after = run(&bench).clone();
    // Four sheets had two stop cuts each: a mat of each is finished, one sheet is lost with the three to come.
    assert_eq!((after.spoiled, after.done), (3, before.done));
    let strokes =
        |run: &BenchRun| run.sheets[0].steps.iter().map(|s| (s.panels, s.strokes)).collect::<Vec<_>>();
    assert_eq!(&strokes(&after)[..2], [(4, 4), (4, 4)], "what was done was done to four sheets");
    assert!(strokes(&after)[2..].iter().all(|s| *s == (3, 3)), "{:?}", strokes(&after));
    let beside: u32 = after.sheets[1..].iter().map(|s| s.layout.pieces.len() as u32 * s.copies).sum();
    assert_eq!(beside, 3, "three mats again");
    bench.press(&"Enter ".repeat(after.len() - after.done));
    assert_eq!(finished(run(&bench))[0], 16);
    bench.model.book.check().unwrap();
}

#[test]
fn a_single_size_goes_to_the_bench_with_its_stop_cuts() {
    let bench = Bench::demo().keys("s '12x12' Enter p '5x7' Enter c '8' Enter z s b");
    let sheet = &run(&bench).sheets[0];
    assert_eq!((sheet.copies, sheet.layout.pieces.len()), (2, 4));
    assert!(sheet.steps[0].stop.is_some());
    let plain = Bench::demo().keys("s '12x12' Enter p '5x7' Enter c '8' Enter b");
    assert_eq!((run(&plain).sheets[0].copies, run(&plain).sheets[0].layout.pieces.len()), (3, 3));
}

#[test]
fn what_was_cut_so_far_is_logged_after_leaving_the_bench() {
    let mut bench = Bench::demo().keys("V");
    let log = bench.model.book.log().len();
    bench.press("W");
    assert!(
        bench.model.overlays.is_empty() && flat(&bench, 100, 30).contains("nothing was cut on the bench yet")
    );
    bench.press("b");
    let first = run(&bench).sheets[0].clone();
    bench.press(&"Enter ".repeat(first.steps.len()));
    bench.press("L");
    assert!(bench.model.overlays.is_empty(), "at the bench nothing but its own keys is live");
    bench.press("Esc W");
    let asked = flat(&bench, 160, 30);
    let (cut, all) = (first.copies, run(&bench).sheet_total());
    assert!(asked.contains(&format!("cut so far, of {all} (0 logged):")), "{asked}");
    assert!(asked.contains(&cut.to_string()), "{asked}");
    bench.press("Enter");
    assert_eq!(run(&bench).logged, cut);
    assert!(bench.model.book.log().len() > log);
    bench.press("u");
    let voided = bench.model.book.log().iter().filter(|l| l.voids.is_some()).count();
    assert!(voided > 0, "one undo takes all of it back");
    // From the pane of one size too.
    let mut one = Bench::demo().keys("s 'fern floor, letter' Enter p '5x5' Enter c '4' Enter b Enter Esc W");
    assert!(flat(&one, 160, 30).contains("cut so far, of"), "{}", flat(&one, 160, 30));
    one.press("Ctrl-u '1' Enter");
    assert_eq!(run(&one).logged, 1);
    bench.model.book.check().unwrap();
}

#[test]
fn each_paper_has_its_own_bound() {
    let bench = Bench::demo().keys("V v");
    assert_eq!(bench.model.yields.plan.detail, Detail::Papers);
    let lines = bench.model.yields.plan.lines(Unit::Inch);
    assert!(lines.len() > 1 && lines.iter().all(|l| l.contains("no plan can use fewer")), "{lines:?}");
    let plan = bench.model.yields.plan.plan.as_ref().unwrap();
    let sum: u64 = plan.parts.iter().map(|p| p.cost.parts()).sum();
    assert_eq!(sum, plan.totals.cost.parts());
    assert_eq!(plan.parts.iter().all(|p| p.proved), plan.totals.proved);
}

#[test]
fn what_is_there_for_the_plan_follows_the_book_while_the_plan_is_open() {
    let mut bench = Bench::demo().keys("1 V");
    let at = |bench: &Bench| -> Option<u32> {
        let (_, job) = bench.model.yields.plan.job.as_ref()?;
        let plum = job.job.sheets.iter().position(|s| s.name.starts_with("plum stone"))?;
        bench.model.yields.plan.held[plum]
    };
    assert_eq!((at(&bench), bench.model.yields.plan.short.len()), (Some(7), 0));
    // Four of the seven go elsewhere; the plan takes five.
    bench.press("4 / Ctrl-u 'plum stone' Enter - Ctrl-u '4' Enter 1");
    assert_eq!(at(&bench), Some(3));
    assert!(bench.model.yields.plan.short[0].contains("plum stone"), "{:?}", bench.model.yields.plan.short);
}

#[test]
fn strokes_of_a_step_are_counted_taken_back_and_end_nothing_by_themselves() {
    let mut bench = Bench::demo().keys("V b");
    let of = run(&bench).spot().unwrap().step.strokes;
    assert!(of > 2, "a step of several strokes");
    let counter = |n: u32| format!("{n} of {of} strokes done");
    assert!(flat(&bench, 80, 24).contains(&counter(0)));
    bench.press("Space PgDn");
    assert!(flat(&bench, 80, 24).contains(&counter(2)));
    let facts = trimside::app::facts::as_text(&bench.model);
    assert!(facts.contains(&format!("strokes: 2 of {of} counted")), "{facts}");
    let mut again = Bench::demo();
    memory::restore(&mut again.model, &memory::to_text(&bench.model));
    assert_eq!(run(&again).strokes(), 2, "kept over a restart");
    // A click on the counter counts too, wherever it stands.
    let spots = bench.hits(80, 24);
    let at = spots.all().iter().find(|(_, s)| *s == Spot::Hint(CommandId::BenchStroke)).unwrap();
    let spot = at.1;
    bench.act(Action::Click(spot));
    assert!(flat(&bench, 80, 24).contains(&counter(3)));
    bench.press("u Backspace");
    assert_eq!((run(&bench).strokes(), run(&bench).done), (1, 0), "both take one stroke back");
    bench.press(&"Space ".repeat(of as usize));
    assert_eq!((run(&bench).strokes(), run(&bench).done), (of, 0), "nothing moves by itself");
    assert!(flat(&bench, 80, 24).contains("Enter ends the step"), "{}", flat(&bench, 80, 24));
    bench.press("Enter");
    assert_eq!((run(&bench).strokes(), run(&bench).done), (0, 1));
    bench.press("Backspace");
    assert_eq!((run(&bench).strokes(), run(&bench).done), (0, 0), "with none counted, a step back");
}

/// What both orders ask for stands on screen; the bench goes the way of the plan; the choice is remembered.
#[test]
fn layouts_are_cut_by_paper_or_by_setting_and_both_are_counted() {
    let mut bench = Bench::demo().keys("1 P 'Hedgerow' Enter V");
    let rows = |bench: &Bench| -> Vec<usize> {
        bench.model.yields.plan.to_cut().unwrap().sheets.iter().map(|s| s.sheet).collect()
    };
    let by_paper = rows(&bench);
    let asked = bench.model.yields.plan.orders.by_paper.1;
    let counts = format!("{} changes of paper", asked.paper_changes);
    assert!(told(&bench).contains("Cut by paper") && told(&bench).contains(&counts), "{}", told(&bench));
    bench.press("z p");
    assert_eq!(bench.model.yields.order, SheetOrder::BySetting);
    assert!(memory::to_text(&bench.model).contains("by_setting"));
    let by_setting = rows(&bench);
    bench.press("b");
    let names: Vec<String> = run(&bench).sheets.iter().map(|s| s.name.clone()).collect();
    let (_, job) = bench.model.yields.plan.job.clone().unwrap();
    assert_eq!(names, by_setting.iter().map(|row| job.job.sheets[*row].name.clone()).collect::<Vec<_>>());
    bench.press("Esc u");
    assert_eq!((bench.model.yields.order, rows(&bench)), (SheetOrder::ByPaper, by_paper));
}

/// Steps on a piece of the bin speak of offcuts, those on whole paper of sheets; more sheets than are here are seen in every look.
#[test]
fn a_plan_calls_offcuts_offcuts_and_says_what_is_short_in_every_look() {
    let mut bench = Bench::opened().keys("1 V");
    assert!(!bench.model.yields.plan.short.is_empty(), "the demo's class is short of one paper");
    for (width, height) in super::wide::SIZES {
        assert!(flat(&bench, width, height).contains("SHORT: 1 more sheet of moss pool"), "{width}");
    }
    bench.press("v");
    let papers = bench.model.yields.plan.lines(Unit::Inch).join("; ");
    assert!(papers.contains("moss pool, letter: 5 sheets 8 1/2 x 11 in, of which 4 here"), "{papers}");
    bench.press("v v v");
    let (_, job) = bench.model.yields.plan.job.clone().unwrap();
    let sheets = bench.model.yields.plan.to_cut().unwrap().sheets.clone();
    let mut kinds = [0, 0];
    for planned in &sheets {
        let row = &job.job.sheets[planned.sheet];
        let steps = bench.model.yields.plan.steps(planned).unwrap().steps;
        let first = steps[0].words(Unit::Inch);
        let (word, other) =
            if row.name.contains("offcut") { ("offcut", "sheet") } else { ("sheet", "offcut") };
        let (taken, _) = first.split_once('.').unwrap();
        assert!(taken.contains(word) && !taken.contains(other), "{}: {first}", row.name);
        kinds[usize::from(word == "sheet")] += 1;
    }
    assert!(kinds[0] > 0 && kinds[1] > 0, "{kinds:?}");
}

/// From 120 columns on the whole sheet stands beside the panel, and panels bear the letters of the piles they are laid on.
#[test]
fn the_bench_shows_the_whole_sheet_and_the_piles_where_there_is_room() {
    let bench = Bench::opened().keys("1 p '2x3' Enter s 'letter' Enter b y");
    let narrow = bench.text(80, 24);
    assert!(!narrow.contains("the whole sheet"), "{narrow}");
    for (width, height) in [(120, 36), (160, 50), (200, 60)] {
        let text = bench.text(width, height);
        assert!(text.contains("the whole sheet, this step's cuts heavy"), "{text}");
        assert!(text.contains("cuts up") && !text.contains(" set  "), "{text}");
        let drawn: Vec<&str> =
            text.lines().filter(|line| line.contains("pile B") && line.contains('│')).collect();
        assert!(!drawn.is_empty() && text.contains("lay aside as pile B"), "{text}");
    }
}

/// A step that stands in full among the others is not said a second time below them.
#[test]
fn a_step_is_said_in_full_once() {
    let bench = Bench::opened().keys("1 p '4-1/8x5-3/8' Enter c '40' Enter s 'fern' Enter");
    for (width, height) in [(80, 24), (120, 36), (160, 50), (200, 60)] {
        let text = flat(&bench, width, height);
        assert_eq!(text.matches("Fence 4 1/8 in: left edge").count(), 1, "{}", bench.text(width, height));
    }
}
