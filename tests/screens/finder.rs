//! The finder: what a crafter types finds what was meant, from every view; each row says key and place; a wide screen tells
//! the row at length and cuts nothing; every command runs from it as by its key.

use super::harness::Bench;
use crate::effort::is_long;
use trimside::app::about::{Said, about};
use trimside::app::commands::{COMMANDS, Command, CommandId, Context, command};
use trimside::app::facts;
use trimside::app::input::list::Cursor;
use trimside::app::overlay::{Overlay, Picker, Target};
use trimside::app::pane::Pane;
use trimside::app::reach;
use trimside::app::resolve;
use trimside::app::state::views::Tab;
use trimside::domain::screen::ThemeChoice;
use trimside::ui::look::ColourDepth;

/// What is meant: a command by its name, a list of Stock, a topic of the craft.
#[derive(Debug)]
enum Meant {
    Run(&'static str),
    List(Tab),
    Read(&'static str),
}
use Meant::{List, Read, Run};

/// Words that a crafter types, and what is to stand among the first three for each. The words are common practice.
#[rustfmt::skip]
const WORDS: &[(&str, Meant)] = &[
    ("die-cut", Run("layer-made-by")), ("die cuts", Run("layer-made-by")), ("tear", Run("layer-made-by")), ("belly band", Run("add-part")), ("sentiment", Run("add-part")),
    ("tag", Run("add-part")), ("box", Run("add-part")), ("liner", Run("add-part")), ("strip", Run("add-part")),
    ("classes", List(Tab::Classes)), ("class", List(Tab::Classes)), ("workshop", Run("class-new")), ("new class", Run("class-new")),
    ("seats", List(Tab::Classes)), ("students", List(Tab::Classes)), ("kits", List(Tab::Classes)), ("cancel class", Run("class-cancel")),
    ("scrap", List(Tab::Bin)), ("scraps", List(Tab::Bin)), ("leftovers", List(Tab::Bin)), ("remnant", Run("offcut-add")),
    ("waste", List(Tab::Bin)), ("waste", Run("offcut-first")), ("keep scrap", Run("offcut-add")),
    ("how many", Run("piece")), ("how many", Run("count")), ("quantity", Run("count")), ("all sizes", Run("open-chart")),
    ("fence", Run("trimmer")), ("guillotine", Run("trimmer")), ("paper cutter", Run("trimmer")), ("longest cut", Run("trimmer")),
    ("gsm", Run("edit-item")), ("gsm", Read("Weight of paper")), ("lb", Read("Weight of paper")), ("price", Run("edit-item")),
    ("caliper", Read("Thickness")), ("glue", Read("Adhesives")), ("hot glue", Read("Adhesives")), ("heat gun", Read("Heat")),
    ("grain", Run("base-grain")), ("cracking", Read("Why a fold cracks")), ("kids", Read("Small parts and children")),
    ("score", Run("own-scores")), ("scoring", Read("Scoring")), ("crease", Run("own-scores")), ("bone folder", Read("Scoring")),
    ("border", Run("reveal")), ("mat", Run("add-layer")), ("window", Run("layer-frame")), ("shaker", Run("add-part")),
    ("embossing folder", Run("layer-made-by")), ("foam tape", Run("layer-raise")), ("pop dots", Run("layer-raise")), ("envelope", Run("card-envelope")),
    ("postage", Run("address-side")), ("postage", Run("mats-view")), ("stamp", Run("address-side")), ("mail", Run("mats-view")),
    ("gatefold", Run("fold")), ("trifold", Run("fold")), ("portrait", Run("hold-turned")), ("slimline", Run("face")),
    ("card stock", Run("sheet")), ("cardstock", List(Tab::Shelf)), ("12x12", Run("sheet")), ("margin", Run("unusable-edge")),
    ("rotate", Run("turn")), ("one-way pattern", Run("turn")), ("directional print", Run("turn")), ("stack", Run("per-stroke")),
    ("cut list", Run("open-plan")), ("nest", Run("open-plan")), ("step by step", Run("open-bench")), ("start cutting", Run("open-bench")),
    ("shopping list", Run("order-copy")), ("shopping list", List(Tab::Reorder)), ("to buy", List(Tab::Reorder)),
    ("running low", List(Tab::Reorder)), ("restock", Run("receive")), ("delivery", Run("receive")), ("bought", Run("receive")),
    ("used", Run("use")), ("subtract", Run("use")), ("take inventory", Run("count-day")), ("stocktake", Run("count-day")),
    ("inventory", List(Tab::Shelf)), ("add paper", Run("new-item")), ("new ink", Run("new-item")), ("csv", Run("import-list")),
    ("csv", Run("export-list")), ("spreadsheet", Run("import-list")), ("variety pack", Run("receive-pack")),
    ("discontinued", Run("item-state")), ("retiring", Run("item-state")), ("set aside", List(Tab::Bookings)), ("reserve", Run("class-book")),
    ("inches", Run("units")), ("metric", Run("units")), ("mm", Run("units")), ("dark mode", Run("theme")), ("pdf", Run("print")),
    ("labels", Run("print")), ("sticker", Run("print")), ("handout", Run("print")), ("backup", Run("keep-book")),
    ("oops", Run("undo")), ("mistake", Run("undo")), ("shortcuts", Run("help")), ("tutorial", Run("tour")), ("exit", Run("quit")),
    ("clipboard", Run("copy")), ("color blind", Run("vision")), ("colour wheel", Run("wheel")), ("color wheel", Run("scheme")),
    ("hex", Run("identify")), ("match a colour", Run("identify")), ("matching colors", Run("trio-base")), ("add color", Run("new-swatch")),
    ("inspiration", Run("picture-of-anything")), ("scan", Run("photo")), ("designer paper", Run("patterned-papers")),
    ("fractions", Run("open-ruler")), ("quiz", Run("practice")), ("safety", Run("craft")), ("event", Run("project")),
];

fn finder(bench: &Bench) -> &Picker {
    match bench.model.overlays.last() {
        Some(Overlay::Picker(p)) => p,
        other => panic!("no finder: {other:?}"),
    }
}

fn first_targets(bench: &Bench, n: usize) -> Vec<&Target> {
    let p = finder(bench);
    p.shown.iter().take(n).map(|at| &p.rows[*at].target).collect()
}

fn is_meant(target: &Target, meant: &Meant) -> bool {
    match (target, meant) {
        (Target::Command(id), Run(name)) => command(*id).name == *name,
        (Target::List(tab), List(meant)) => tab == meant,
        (Target::Topic(title), Read(meant)) => title == meant,
        _ => false,
    }
}

fn open(bench: &mut Bench) {
    bench.act(trimside::app::action::Action::Run(CommandId::Finder));
}

#[test]
fn what_a_crafter_types_finds_what_is_meant() {
    let distinct: std::collections::BTreeSet<&str> = WORDS.iter().map(|(w, _)| *w).collect();
    assert!(distinct.len() >= 60, "{}", distinct.len());
    let mut missed = Vec::new();
    for (typed, meant) in crate::effort::thinned(WORDS, 2) {
        let mut bench = Bench::demo();
        open(&mut bench);
        bench.press(&format!("'{typed}'"));
        if !first_targets(&bench, 3).into_iter().any(|t| is_meant(t, meant)) {
            let p = finder(&bench);
            let first: Vec<&str> = p.shown.iter().take(4).map(|n| p.rows[*n].label.as_str()).collect();
            missed.push(format!("{typed} for {meant:?}: {first:?}"));
        }
    }
    assert!(missed.is_empty(), "{missed:#?}");
}

/// How a view is opened.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Way {
    By(CommandId),
    To(Tab),
}
use Way::{By, To};

/// Every view, with the way there.
const VIEWS: &[&[Way]] = &[
    &[By(CommandId::Today)],
    &[By(CommandId::PaneYield)],
    &[By(CommandId::OpenChart)],
    &[By(CommandId::OpenPlan)],
    &[By(CommandId::Strips)],
    BENCH,
    &[By(CommandId::PaneMats), By(CommandId::LayerDown)],
    &[By(CommandId::OpenRuler)],
    &[By(CommandId::PanePalette)],
    &[To(Tab::Shelf)],
    &[By(CommandId::ItemEdit)],
    &[By(CommandId::StartCount)],
    &[To(Tab::Bin)],
    &[To(Tab::Log)],
    &[To(Tab::Reorder)],
    &[To(Tab::Reorder), By(CommandId::ItemLast)],
    &[By(CommandId::ClassOpen)],
    &[By(CommandId::ClassBook), To(Tab::Bookings)],
];
const BENCH: &[Way] = &[By(CommandId::OpenBench)];

/// The demo with the view of these ways open and nothing over it.
fn at(view: &[Way]) -> Bench {
    let mut bench = Bench::demo();
    for way in view {
        match way {
            By(id) => find(&mut bench, *id),
            To(tab) => choose(&mut bench, &Target::List(*tab)),
        }
        while !bench.model.overlays.is_empty() {
            bench.press("Esc");
        }
    }
    bench.model.status = None;
    bench
}

/// Picks a command in the finder, wherever it stands there.
fn find(bench: &mut Bench, id: CommandId) {
    choose(bench, &Target::Command(id));
}

fn choose(bench: &mut Bench, target: &Target) {
    open_or_over(bench);
    let Some(Overlay::Picker(p)) = bench.model.overlays.last_mut() else { panic!("no finder") };
    let at = p.shown.iter().position(|n| p.rows[*n].target == *target);
    p.cursor = Cursor::at(at.unwrap_or_else(|| panic!("{target:?} is not listed")));
    bench.press("Enter");
}

/// Opens the finder; at the bench, where it has no key, over it.
fn open_or_over(bench: &mut Bench) {
    if bench.model.is_at_bench() {
        let all = trimside::app::finder::everything(&bench.model);
        bench.model.overlays.push(Overlay::Picker(all));
    } else {
        open(bench);
    }
}

/// What a command left behind, in words that can be compared.
fn left_behind(bench: &Bench) -> Vec<String> {
    let m = &bench.model;
    let mut all: Vec<String> = facts::facts(m).iter().map(|f| format!("{}: {}", f.label, f.text)).collect();
    all.push(format!("{:?}", resolve::contexts(m)));
    all.push(bench.copied.join("\n"));
    all.push(format!("{} steps, left {}", bench.steps.len(), bench.has_left));
    all
}

#[test]
fn every_command_does_from_the_finder_what_it_does_by_itself() {
    let mut met: std::collections::BTreeSet<CommandId> = std::collections::BTreeSet::new();
    for view in VIEWS {
        let start = at(view).model;
        let here = resolve::contexts(&start);
        // What was compared where it can run is compared in further views by a long run only.
        let again = |id: &CommandId| !is_long() && met.contains(id);
        let rows: Vec<&Command> =
            COMMANDS.iter().filter(|c| here.contains(&c.context) && !again(&c.id)).collect();
        for row in rows {
            // Where one was before is told by the way there: it differs by the finder itself.
            let (mut direct, mut found) = (Bench::demo(), Bench::demo());
            direct.model = start.clone();
            found.model = start.clone();
            direct.act(trimside::app::action::Action::Run(row.id));
            find(&mut found, row.id);
            assert_eq!(left_behind(&found), left_behind(&direct), "{} in {here:?}", row.name);
            if resolve::holds(&start, row.when) {
                met.insert(row.id);
            }
        }
    }
    let unmet: Vec<&str> =
        COMMANDS.iter().filter(|c| !met.contains(&c.id) && !needs_more(c)).map(|c| c.name).collect();
    assert!(unmet.is_empty(), "never tried where they can run: {unmet:?}");
}

/// What needs a picture, a list from outside, an order under way or counts: tried by tests of their own.
fn needs_more(c: &Command) -> bool {
    use trimside::app::commands::When as W;
    matches!(c.context, Context::Photo | Context::Preview)
        || matches!(
            c.when,
            W::HasPattern
                | W::IsOnOrder
                | W::CanRedo
                | W::HasCounts
                | W::HasBegun
                | W::CanProve
                | W::CanUndo
                | W::CanGoBack
        )
        || matches!(c.when, W::SheetInStock)
}

#[test]
fn every_command_from_any_view_goes_where_it_means_something_or_says_why_not() {
    // The bench view has no way to the finder: nothing else is live there.
    for (turn, view) in VIEWS.iter().filter(|v| **v != BENCH).step_by(3).enumerate() {
        let start = at(view);
        let before = left_behind(&start);
        // What closes a view is over when it is done. A quick run takes turns: each command from one or two of the views.
        let is_due = |n: usize| is_long() || n % 6 == turn % 6;
        let rows = COMMANDS.iter().enumerate().filter(|(n, _)| is_due(*n)).map(|(_, c)| c);
        for row in rows.filter(|c| {
            !matches!(c.id, CommandId::Finder | CommandId::TodayOpen) && !c.name.ends_with("-close")
        }) {
            let mut bench = Bench::demo();
            bench.model = start.model.clone();
            let why = reach::why_not(&bench.model, row);
            find(&mut bench, row.id);
            let said = bench.model.status.as_ref().map(|s| s.text.clone()).unwrap_or_default();
            let is_there = resolve::contexts(&bench.model).contains(&row.context);
            match why {
                Some(why) => {
                    let why = bench.model.keymap.say(why);
                    assert!(said.contains(&why), "{} from {view:?}: \"{said}\", not \"{why}\"", row.name);
                }
                // It is where it means something, or has left it again; what opened this view opens it as it is.
                None => assert!(
                    is_there || **view == [By(row.id)] || left_behind(&bench) != before,
                    "{} from {view:?} did nothing",
                    row.name
                ),
            }
        }
    }
}

#[test]
fn commands_of_the_view_in_hand_come_first_with_key_and_place() {
    for view in VIEWS.iter().filter(|v| **v != BENCH) {
        let mut bench = at(view);
        let here = resolve::contexts(&bench.model);
        open(&mut bench);
        let first = first_targets(&bench, 3).into_iter().cloned().collect::<Vec<_>>();
        for target in first {
            let Target::Command(id) = target else { panic!("{target:?}") };
            assert!(here.contains(&command(id).context) && command(id).context != Context::Everywhere);
        }
        for row in &finder(&bench).rows {
            let beside = row.beside.as_ref().expect("every row of the finder has a place");
            assert!(!beside.place.is_empty(), "{}", row.label);
            if let Target::Command(id) = row.target {
                assert_eq!(beside.key, bench.model.keymap.texts(id)[0], "{}", row.label);
            }
        }
    }
}

#[test]
fn a_list_of_stock_is_opened_from_every_pane() {
    for pane in Pane::ALL {
        for tab in Tab::ALL {
            let mut bench = at(&[By(pane.command())]);
            choose(&mut bench, &Target::List(tab));
            assert_eq!((bench.model.pane, bench.model.stock.view), (Pane::Stock, tab.view()));
        }
    }
}

#[test]
fn nothing_is_cut_on_a_wide_screen_and_the_row_is_told_at_length() {
    let mut bench = Bench::demo();
    open(&mut bench);
    for n in 0..finder(&bench).shown.len() {
        let Some(Overlay::Picker(p)) = bench.model.overlays.last_mut() else { panic!("no finder") };
        p.cursor = Cursor::at(n);
        // The list is drawn row by row elsewhere; each row once is enough.
        if n % 40 == 0 {
            for size in [(160, 50), (200, 60)] {
                let screen = bench.text(size.0, size.1);
                assert!(!screen.contains('\u{2026}'), "{screen}");
            }
        }
        let row = finder(&bench).picked().unwrap().clone();
        assert!(!about(&bench.model, &row).is_empty(), "{} says nothing", row.label);
    }
    let lines = COMMANDS.iter().map(|c| c.line.chars().count()).max().unwrap();
    assert!(lines <= 81, "a sentence of {lines} columns needs another division of the finder at 200 columns");
}

/// Rows of a middling window say what they do, most of them whole.
#[test]
fn rows_of_a_middling_window_have_their_sentences() {
    let mut bench = Bench::demo();
    open(&mut bench);
    let screen = bench.text(120, 36);
    let told = |id: &CommandId| screen.contains(command(*id).line);
    let shown: Vec<CommandId> = first_targets(&bench, 18)
        .into_iter()
        .filter_map(|t| if let Target::Command(id) = t { Some(*id) } else { None })
        .collect();
    let whole = shown.iter().filter(|id| told(id)).count();
    assert!(shown.len() >= 15 && whole * 10 >= shown.len() * 7, "{whole} of {}\n{screen}", shown.len());
}

#[test]
fn why_a_command_cannot_run_is_told_before_it_is_chosen() {
    let mut bench = Bench::empty();
    open(&mut bench);
    bench.press("'taught'");
    let row = finder(&bench).picked().unwrap().clone();
    assert!(!row.is_live, "{row:?}");
    let told = about(&bench.model, &row);
    assert!(told.iter().any(|s| matches!(s, Said::NotNow(_))), "{told:?}");
    for (width, height) in [(80, 24), (120, 36), (200, 60)] {
        let screen = bench.text(width, height);
        assert!(screen.contains("Not now"), "{width}x{height}\n{screen}");
    }
}

#[test]
fn a_swatch_shows_its_colour_and_none_where_there_are_no_colours() {
    let painted = |depth| {
        let mut bench = Bench::demo().theme(ThemeChoice::Dark, depth);
        open(&mut bench);
        bench.press("'fern'");
        let Some(Overlay::Picker(p)) = bench.model.overlays.last_mut() else { panic!("no finder") };
        let at = p.shown.iter().position(|n| matches!(p.rows[*n].target, Target::Swatch(_)));
        p.cursor = Cursor::at(at.expect("a swatch named fern"));
        bench.styled(160, 50)
    };
    assert!(painted(ColourDepth::True).contains("on #4F7942"), "{}", painted(ColourDepth::True));
    assert!(!painted(ColourDepth::None).contains("on #4F7942"));
}
