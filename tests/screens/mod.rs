//! The workbench without a terminal: keys in, screen out.
//!
//! Each case is a name, the keys pressed on the demo book, and a screen size. The pictures are kept as text beside this
//! file; a picture that no case makes is an error.

mod apart;
mod calendar;
mod cards_drawn;
mod class_more;
mod class_page;
mod drawn;
mod feel;
mod figures;
mod figures_of_lists;
mod finder;
mod forms;
mod further;
mod habits;
pub mod harness;
mod lists;
mod lists_of_stock;
mod marks;
mod mats;
mod mouse;
mod moves;
mod offcuts;
mod orders;
mod own_keys;
mod palette;
mod papers;
mod part_names;
mod plan;
mod printing;
mod reach;
mod readme;
mod remembered;
mod sizes;
mod sorting;
mod steps;
mod stock;
mod stock_line;
mod svg;
mod today;
mod today_law;
mod trio_on_card;
mod trio_words;
mod undo;
mod whole;
mod wide;
mod words;

use harness::Bench;
use std::collections::BTreeSet;
use std::path::PathBuf;
use trimside::domain::screen::{Signs, ThemeChoice};
use trimside::ui::look::ColourDepth;

/// Name, keys, columns, rows.
const CASES: &[(&str, &str, u16, u16)] = &[
    ("yield_first_80x24", "", 80, 24),
    ("yield_first_60x18", "", 60, 18),
    ("yield_first_160x50", "", 160, 50),
    ("yield_all_one_way", "p '4-1/4x5-1/2' Enter", 80, 24),
    ("yield_many_small", "p '1/2x1/2' Enter", 80, 24),
    ("yield_nothing_fits", "p '9x12' Enter", 80, 24),
    ("yield_counted", "c '40' Enter", 80, 24),
    ("yield_upright_only", "t", 80, 24),
    ("yield_step_in_hand", "j j", 80, 24),
    ("yield_metric", "m s 'a4' Enter p '60x80' Enter", 80, 24),
    ("yield_prompt_reads_both_units", "p '5-1/4 x 7'", 80, 24),
    ("yield_prompt_refuses", "p '3,5x2'", 80, 24),
    ("yield_sheet_picker", "s", 80, 24),
    ("chart_80x24", "v", 80, 24),
    ("chart_160x50", "v j j l", 160, 50),
    ("further_near_120x36", "p '4-1/8x5-3/8' Enter s '12x12' Enter z n", 120, 36),
    ("further_papers_80x24", "p '4x5-1/4' Enter c '30' Enter z p j", 80, 24),
    ("further_most_80x24", "V z c", 80, 24),
    ("further_scrap_80x24", "z g Ctrl-u '4x6' Enter j", 80, 24),
    ("further_strips_80x24", "z m", 80, 24),
    ("further_used_up_120x36", "e Ctrl-u '4.5x6' Enter z u e Ctrl-u '3x4, 1/4, 0' Enter j", 120, 36),
    ("further_layers_80x24", "2 z d", 80, 24),
    ("bench_first", "b", 80, 24),
    ("bench_last", "b Enter Enter Enter Enter Enter Enter Enter Enter", 80, 24),
    ("bench_stop_80x24", "s '12x12' Enter p '5x7' Enter c '8' Enter z s b Enter", 80, 24),
    ("bench_stop_160x50", "s '12x12' Enter p '5x7' Enter c '8' Enter z s b Enter Enter Enter", 160, 50),
    ("bench_on_a_stop", "z t Down Down Down Down Down Ctrl-u 'stop' Ctrl-s b Enter", 100, 30),
    ("bench_on_a_ruler_left", "z t Down Down Down Down Down Ctrl-u 'ruler-left' Ctrl-s b Enter", 100, 30),
    (
        "bench_on_a_ruler_right",
        "z t Down Down Down Down Down Ctrl-u 'ruler-right' Down Ctrl-u 'slides' Down '4' Down '4 1/32' Ctrl-s b Enter",
        100,
        30,
    ),
    (
        "bench_corrected_80x24",
        "z t Down Down Down Down Down Down Down '4' Down '4 1/32' Down Ctrl-u 'yes' Ctrl-s b Enter",
        80,
        24,
    ),
    (
        "bench_stop_cut_on_a_ruler_right",
        "z t Down Down Down Down Down Ctrl-u 'ruler-right' Ctrl-s s '12x12' Enter p '5x7' Enter c '8' Enter z s b Enter",
        100,
        30,
    ),
    ("trimmer_form", "z t", 100, 30),
    ("step_120x36", "V b Enter", 120, 36),
    ("step_200x56", "V b Enter Enter", 200, 56),
    ("step_metric_160x50", "m V b Enter", 160, 50),
    ("after_cuts_80x24", ", a", 80, 24),
    ("after_cuts_120x36", ", a Space Space Enter", 120, 36),
    ("after_cuts_160x50", ", a Space Enter Enter", 160, 50),
    ("step_one_card_first_80x24", "V b o", 80, 24),
    ("plan_80x24", "V", 80, 24),
    ("plan_160x50", "V v v", 160, 50),
    ("plan_bench_80x24", "V S Ctrl-u '2' Enter b Enter", 80, 24),
    ("plan_bench_160x50", "V b Enter", 160, 50),
    ("yield_trimmer", "z t", 80, 24),
    ("form_line_80x24", "4 n 'moss edge' Enter '20' Enter 'peat #3b2f2a'", 80, 24),
    ("form_pattern_80x24", "4 n Up Up 'patt' Enter", 80, 24),
    ("form_line_160x50", "4 n 'fern floor, letter' Enter", 160, 50),
    ("form_card_120x36", "2 z c 'note' Enter Enter 'chalk' Enter '1/8 moss'", 120, 36),
    ("form_class_80x24", "4 [ [ n 'Winter' Enter '14' Enter Enter '12 dec'", 80, 24),
    ("mats_80x24", "2", 80, 24),
    ("mats_160x50", "2 j", 160, 50),
    ("mats_120x40", "2", 120, 40),
    ("mats_drawing", "2 v", 80, 24),
    ("mats_metric", "P 'winter' Enter 2 m R l", 120, 40),
    ("mats_window", "P 'window' Enter 2 j", 120, 40),
    ("mats_gate", "P 'window' Enter 2 ] g", 120, 40),
    ("mats_band", "P 'window' Enter 2 ] G z m", 160, 50),
    ("mats_post", "P 'window' Enter 2 v v v Enter", 120, 40),
    ("mats_ruler", "2 R l", 80, 24),
    ("mats_practice", "2 R z p", 80, 24),
    ("mats_add", "2 A", 80, 24),
    ("mats_refused", "2 r Ctrl-u '3' Enter", 80, 24),
    ("palette_80x24", "3", 80, 24),
    ("palette_160x50", "3 j j l", 160, 50),
    ("palette_identify", "3 w '#4f7942' Enter", 120, 40),
    ("palette_kept_trio_80x24", "3 / 'fern' Enter ]", 80, 24),
    ("palette_pinned_80x24", "3 Space l l v v", 80, 24),
    ("palette_leaving_160x50", "3 o o o o o o z l z o ]", 160, 50),
    ("palette_paper_80x24", "3 s 'bramble' Enter", 80, 24),
    ("palette_paper_160x50", "3 s 'bramble' Enter j z 1", 160, 50),
    ("palette_change", "3 G e", 80, 24),
    ("palette_photo_80x24", "3 i 'PHOTO' Enter", 80, 24),
    ("palette_photo_160x50", "3 i 'PHOTO' Enter j Space", 160, 50),
    ("palette_picture_80x24", "3 z i 'PHOTO' Enter", 80, 24),
    ("palette_picture_160x50", "3 z i 'PHOTO' Enter ]", 160, 50),
    ("palette_import", "3 I 'COLOURS' Enter", 100, 30),
    ("stock_80x24", "4", 80, 24),
    ("stock_160x50", "4 j j j", 160, 50),
    ("stock_60x18", "4", 60, 18),
    ("stock_line", "4 e j j", 80, 24),
    ("stock_line_160x50", "4 e j j Enter", 160, 50),
    ("stock_bin", "4 ]", 80, 24),
    ("stock_log", "4 ] ]", 80, 24),
    ("stock_reorder", "4 ] ] ]", 80, 24),
    ("stock_reorder_160x50", "4 [ [ B ] b [ [", 160, 50),
    ("stock_ways_80x24", "4 [ [ n 'Large class, 60' Enter Enter '2026-12-20' Enter B z w", 80, 24),
    ("stock_ways_160x50", "4 [ [ n 'Large class, 60' Enter Enter '2026-12-20' Enter B z w", 160, 50),
    ("stock_orders_120x36", "4 ] ] ] c Ctrl-u '3' Enter + Ctrl-u '1, 1.30' Enter", 120, 36),
    ("stock_history", "4 j j j ;", 80, 24),
    ("stock_history_160x50", "4 j j j ;", 160, 50),
    ("stock_classes", "4 [ [ j", 80, 24),
    ("stock_classes_160x50", "4 [ [ j B", 160, 50),
    ("stock_class", "4 [ [ j B Enter j", 80, 24),
    ("stock_class_160x50", "4 [ [ j B Enter j", 160, 50),
    ("stock_class_120x36", "4 [ [ j B Enter j", 120, 36),
    ("stock_class_200x60", "4 [ [ j B Enter j", 200, 60),
    ("stock_bookings_160x50", "4 [ [ j B ]", 160, 50),
    ("stock_bookings_none_80x24", "4 [", 80, 24),
    ("stock_class_short", "4 [ [ n 'Large class, 60' Enter Enter '2026-12-20' Enter B", 80, 24),
    ("stock_class_short_160x50", "4 [ [ n 'Large class, 60' Enter Enter '2026-12-20' Enter B", 160, 50),
    ("stock_bookings_160x50", "4 [ [ j B ]", 160, 50),
    ("stock_bin_160x50", "4 ]", 160, 50),
    ("stock_bookings", "4 [ [ j B ]", 80, 24),
    ("stock_count_day", "4 / 'letter' Enter C '18' Enter '60' Enter", 80, 24),
    ("stock_count_day_160x50", "4 C '30' Enter '9' Enter Esc", 160, 50),
    ("stock_use_too_many", "4 - '99'", 80, 24),
    ("stock_marked", "4 Space j Space / 'letter' Enter", 80, 24),
    ("stock_marked_160x50", "4 Space j Space Space +", 160, 50),
    ("stock_new_pack", "4 Space Space z n 'two of them'", 80, 24),
    ("stock_filter", "4 / 'card'", 80, 24),
    ("help_80x24", "?", 80, 24),
    ("help_search", "? / 'turn'", 80, 24),
    ("finder_80x24", ":", 80, 24),
    ("finder_120x36", ": 'fern' Down Down", 120, 36),
    ("finder_160x50", "4 : 'class'", 160, 50),
    ("finder_200x60", "3 :", 200, 60),
    ("finder_narrowed", ": 'undo'", 80, 24),
    ("too_small", "", 50, 12),
    ("print_80x24", "3 Ctrl-p", 80, 24),
    ("print_160x50", "1 Ctrl-p", 160, 50),
    ("print_refused_80x24", "P 'no project' Enter Ctrl-p G k", 80, 24),
    ("print_asks_80x24", "4 Ctrl-p f Ctrl-u 'my list.pdf'", 80, 24),
    ("print_labels_80x24", "3 Ctrl-p j s Ctrl-u '13'", 80, 24),
    ("print_chart_back_160x50", "1 Ctrl-p b '12x12' Enter w 'Fern and ink, winter class' Enter", 160, 50),
    ("history_80x24", "4 - '2' Enter - '3' Enter F4", 80, 24),
    ("history_160x50", "4 - '2' Enter - '3' Enter F4 j", 160, 50),
    ("history_asks_80x24", "4 - '2' Enter - '3' Enter F4 j Enter", 80, 24),
    ("craft_80x24", "F3", 80, 24),
    ("craft_160x50", "F3", 160, 50),
    ("theme_picker_80x24", "T", 80, 24),
    ("theme_picker_160x50", "T", 160, 50),
    ("prefix_80x24", ",", 80, 24),
    ("prefix_160x50", ",", 160, 50),
    ("tour_80x24", "F2 Enter Enter", 80, 24),
    ("tour_160x50", "F2", 160, 50),
];

const WELCOME: &[(&str, &str, u16, u16)] = &[
    ("welcome_unit_80x24", "", 80, 24),
    ("welcome_unit_160x50", "", 160, 50),
    ("welcome_paper_80x24", "Enter Down", 80, 24),
    ("welcome_cut_80x24", "Enter Enter", 80, 24),
    ("welcome_trimmer_80x24", "Enter Enter Enter", 80, 24),
    ("welcome_example_80x24", "Enter Enter Enter Enter", 80, 24),
    ("welcome_example_160x50", "Enter Enter Enter Enter", 160, 50),
];

fn compare(name: &str, picture: &str) {
    insta::with_settings!({snapshot_path => "pictures", prepend_module_to_snapshot => false, omit_expression => true}, {
        insta::assert_snapshot!(name, picture);
    });
}

#[test]
fn pictures() {
    for (name, keys, width, height) in CASES {
        let keys = palette::with_files(keys);
        compare(name, &palette::without_paths(&Bench::demo().keys(&keys).text(*width, *height)));
    }
}

/// The first minutes, on a bench where nothing was done yet.
#[test]
fn pictures_of_the_first_minutes() {
    for (name, keys, width, height) in WELCOME {
        let mut bench = Bench::empty();
        trimside::app::welcome::open(&mut bench.model);
        compare(name, &bench.keys(keys).text(*width, *height));
    }
}

/// The same screen in every theme: styles as letters, so that a selection can be seen without colour.
#[test]
fn pictures_of_themes() {
    for theme in ThemeChoice::ALL {
        let bench = Bench::demo().theme(theme, ColourDepth::True).keys("4 j");
        compare(&format!("theme_{}", theme.name()), &bench.styled(80, 24));
    }
    let mut bench = Bench::demo().theme(ThemeChoice::Terminal, ColourDepth::None);
    bench.model.screen.signs = Signs::Ascii;
    compare("theme_ascii_without_colour", &bench.keys("4 j").styled(80, 24));
    for (theme, name) in [(ThemeChoice::Light, "light"), (ThemeChoice::Dark, "dark")] {
        let bench = Bench::demo().theme(theme, ColourDepth::True).keys("V b");
        compare(&format!("step_{name}"), &bench.styled(120, 36));
    }
    let mut bench = Bench::demo().theme(ThemeChoice::Terminal, ColourDepth::None);
    bench.model.screen.signs = Signs::Ascii;
    compare("step_ascii_without_colour", &bench.keys("V b Enter").styled(120, 36));
    let bench = Bench::demo().theme(ThemeChoice::Terminal, ColourDepth::None).keys("3 j");
    compare("palette_without_colour", &bench.text(100, 30));
    let bench = Bench::demo().theme(ThemeChoice::Terminal, ColourDepth::TwoFiftySix).keys("3 j");
    compare("palette_256_colours", &bench.styled(80, 24));
    let mut bench = Bench::demo();
    bench.model.screen.signs = Signs::Ascii;
    let ascii = bench.text(80, 24);
    assert!(ascii.is_ascii(), "the ASCII signs are all that is drawn");
    compare("ascii_yield", &ascii);
}

#[test]
fn every_picture_is_made_by_a_case() {
    let mut made: BTreeSet<String> = CASES.iter().chain(WELCOME).map(|c| c.0.to_owned()).collect();
    made.extend(ThemeChoice::ALL.iter().map(|t| format!("theme_{}", t.name())));
    made.extend(stock::LISTS.iter().flat_map(|l| [l.0.to_owned(), format!("{}_160x50", l.0)]));
    made.extend(
        ["theme_ascii_without_colour", "ascii_yield", "palette_without_colour", "palette_256_colours"]
            .map(str::to_owned),
    );
    made.extend(wide::names());
    made.extend(["step_light", "step_dark", "step_ascii_without_colour"].map(str::to_owned));
    let dir = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/screens/pictures");
    let kept: BTreeSet<String> = std::fs::read_dir(dir)
        .unwrap()
        .map(|f| f.unwrap().path())
        .filter(|p| p.extension().is_some_and(|e| e == "snap"))
        .map(|p| p.file_stem().unwrap().to_string_lossy().into_owned())
        .collect();
    assert_eq!(kept, made);
}
