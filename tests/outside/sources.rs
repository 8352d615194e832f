//! The list of outside sources in DEVELOPERS.md: what each check rests on, where it stands and how many cases it tries. The table is
//! written from this one (`TRIMSIDE_WRITE_SOURCES=1`) and compared with it in every run; cases are counted, never typed.

use super::reference;
use std::path::Path;

/// Whose figures the cases are compared with.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Figures {
    /// Printed by somebody else.
    Published,
    /// Worked out by a program of others, or a second one of our own, from printed equations.
    SecondOpinion,
    /// Worked out here from a stated rule: by hand in the test, by brute force, by an exact search.
    Own,
}

/// How the cases are counted.
enum Cases {
    /// Rows of a table in the reference folder.
    Rows(&'static str),
    /// Places in the test's own text.
    Typed(&'static str),
}

use Cases::{Rows, Typed};
use Figures::{Own, Published, SecondOpinion};

const TESTS: Cases = Typed("#[test]");

/// Source, whose figures, file of the test, how its cases are counted.
const SOURCES: &[(&str, Figures, &str, Cases)] = &[
    (
        "ISO 216, PWG 5101.1 and trade sheets",
        Published,
        "outside/cards/envelopes.rs",
        Rows("trade/sheets.csv"),
    ),
    (
        "ISO 269 and DIN 678, by pages that list them",
        Published,
        "outside/cards/envelopes.rs",
        Rows("trade/iso_envelopes.csv"),
    ),
    (
        "charts of cards and envelopes, four printers and merchants",
        Published,
        "outside/cards/envelopes.rs",
        Rows("trade/cards_envelopes.csv"),
    ),
    (
        "shapes in the post of those envelopes, from each operator's limits",
        Own,
        "outside/cards/post.rs",
        Rows("trade/cards_envelopes.csv"),
    ),
    (
        "squares that envelopes are folded of, by geometry",
        Own,
        "outside/cards/constructions.rs",
        Rows("trade/envelope_from_square.csv"),
    ),
    (
        "TAPPI T 410, ISO 536 and trade factors of basis weight",
        Published,
        "outside/cards/papers.rs",
        Rows("trade/basis_weight.csv"),
    ),
    ("merchants' charts of thickness", Published, "outside/cards/papers.rs", Rows("trade/caliper.csv")),
    (
        "a tape maker's foam, and what else lifts",
        Published,
        "outside/cards/papers.rs",
        Rows("trade/stack_heights.csv"),
    ),
    (
        "articles on folds, tutorials of gates, a mill's guidance",
        Published,
        "outside/cards/folds.rs",
        Rows("trade/folds.csv"),
    ),
    (
        "two card-making charts of mats (A2 and A7; the other rows by their rule)",
        Published,
        "outside/cards/layers.rs",
        Rows("trade/mats.csv"),
    ),
    (
        "formulas of boxes, bands, bags and liners on craft pages",
        Published,
        "outside/cards/constructions.rs",
        Rows("trade/constructions.csv"),
    ),
    ("yard of 1959: 64ths in millimetres", Own, "outside/cards/ruler.rs", Rows("trade/fractions_64.csv")),
    ("yard of 1959: millimetres in 64ths", Own, "outside/cards/ruler.rs", Rows("trade/mm_to_inch.csv")),
    (
        "Domestic Mail Manual 101 of 2023-07-09",
        Published,
        "outside/cards/limits.rs",
        Typed("(\"us-dmm101\", \""),
    ),
    ("Postal Bulletin 22230a of 2008", Published, "outside/cards/limits.rs", Typed("(\"us-imm\", \"")),
    (
        "Canada Post, size requirements and Lettermail manual of 2021-01-11",
        Published,
        "outside/cards/limits.rs",
        Typed("(\"ca\", \""),
    ),
    (
        "regulator's page and size guides, United Kingdom",
        Published,
        "outside/cards/limits.rs",
        Typed("(\"uk\", \""),
    ),
    (
        "German press guide of 2025-02-12, ratio by an older guide",
        Published,
        "outside/cards/limits.rs",
        Typed("(\"de\", \""),
    ),
    (
        "UPU Letter-post Regulations, article 203, quoted by an operator",
        Published,
        "outside/cards/limits.rs",
        Typed("(\"upu\", \""),
    ),
    ("classes of six operators, as tabled", Published, "outside/cards/post.rs", Rows("trade/postal.csv")),
    (
        "school safety notes, guillotine directives, LHAMA, 16 CFR 1501.4",
        Published,
        "outside/cards/cautions.rs",
        TESTS,
    ),
    (
        "craft retailers' cutting tips: an inch, an eighth",
        Published,
        "outside/yields.rs",
        Typed("trimmer_practice.csv"),
    ),
    ("worked tasks of cards, folds and envelopes", Own, "outside/cards/tasks.rs", TESTS),
    (
        "worked tasks of cost, seats and spoilage; practice of packs, marks and reorder points",
        Own,
        "outside/stock.rs",
        TESTS,
    ),
    ("a shelf worked by hand", Own, "outside/stock_worked.rs", TESTS),
    ("a shortage with each way out, by hand", Own, "outside/ways_worked.rs", TESTS),
    ("an order in two arrivals, by hand", Own, "outside/orders_worked.rs", TESTS),
    ("a year's change of the range, by hand", Own, "outside/year_worked.rs", TESTS),
    ("use a month and the reorder point, by King's formula", Own, "outside/pace_worked.rs", TESTS),
    ("the cards of the demo, each sum by hand", Own, "outside/cards/demo.rs", TESTS),
    ("a whole card from its file, by sums of the test's own", Own, "outside/cards/whole_card.rs", TESTS),
    ("half letter, envelope weight, a weighed card, guesses", Own, "outside/cards/envelopes.rs", TESTS),
    ("yields of the trade's sheets, by exact arithmetic", Own, "outside/yields.rs", Rows("trade/yields.csv")),
    (
        "yields with stop cuts, by a bound and a page on trading cards",
        Own,
        "outside/stops.rs",
        Rows("trade/yields.csv"),
    ),
    (
        "Beasley 1985, guillotine cutting without limits",
        Published,
        "outside/gcut.rs",
        Rows("cutting/unconstrained_guillotine_optima_computed.csv"),
    ),
    (
        "Christofides and Whitlock 1977, Wang 1983, Oliveira and Ferreira 1990, Hadjiconstantinou and Christofides 1995, Fekete and Schepers 1997",
        Published,
        "outside/one_sheet.rs",
        Rows("cutting/constrained_guillotine_optima_computed.csv"),
    ),
    ("geometry of label sheets, public label files", Published, "print/labels.rs", Rows("trade/labels.csv")),
    (
        "Sharma, Wu and Dalal 2005: colour differences",
        Published,
        "outside/colour/difference.rs",
        Rows("colour/ciede2000_sharma34.csv"),
    ),
    (
        "nearest swatches by colour-science 0.4.7",
        SecondOpinion,
        "outside/colour/difference.rs",
        Rows("colour/nearest_60.csv"),
    ),
    (
        "IEC 61966-2-1, CIE 15 and OKLab by colour-science and coloraide",
        SecondOpinion,
        "outside/colour/spaces.rs",
        Rows("colour/conversions_220.csv"),
    ),
    (
        "Bradford adaptation by a separate program",
        SecondOpinion,
        "outside/colour/spaces.rs",
        Rows("colour/adaptation_cases.csv"),
    ),
    (
        "CSS Color Module Level 4: names",
        Published,
        "outside/colour/naming.rs",
        Rows("colour/css_named_148.csv"),
    ),
    (
        "Kelly 1958: centroids of the ISCC-NBS blocks",
        Published,
        "outside/colour/naming.rs",
        Rows("colour/iscc_nbs_centroids.csv"),
    ),
    (
        "NBS Special Publication 440: blocks of Munsell colours",
        Published,
        "outside/colour/naming.rs",
        Rows("colour/munsell_in_srgb.csv"),
    ),
    (
        "Machado, Oliveira and Fernandes 2009 by colour-science",
        SecondOpinion,
        "outside/colour/seeing.rs",
        Rows("colour/cvd_20_colours.csv"),
    ),
    (
        "the 256 colours of terminals",
        Published,
        "outside/colour/seeing.rs",
        Rows("colour/xterm256_palette.csv"),
    ),
    (
        "their nearest colours by a separate program",
        SecondOpinion,
        "outside/colour/seeing.rs",
        Rows("colour/xterm256_nearest.csv"),
    ),
    (
        "Ou and Luo 2006: pairs, by a separate program of the printed equations",
        SecondOpinion,
        "outside/colour/choosing.rs",
        Rows("colour/ou_luo_50_pairs.csv"),
    ),
    (
        "Ou and Luo 2006: trios, likewise",
        SecondOpinion,
        "outside/colour/choosing.rs",
        Rows("colour/ou_luo_20_trios.csv"),
    ),
    (
        "painter's wheel of Gossett and Chen 2004 by coloraide",
        SecondOpinion,
        "outside/colour/choosing.rs",
        Rows("colour/ryb_wheel.csv"),
    ),
    (
        "hue templates, Cohen-Or and others 2006",
        Published,
        "outside/colour/choosing.rs",
        Typed("hue_templates.json"),
    ),
    (
        "palettes that people rated highest, a public sharing site",
        Published,
        "outside/colour/liked.rs",
        Rows("colour/palettes_liked.csv"),
    ),
];

const BEGIN: &str = "<!-- sources: written by tests/outside/sources.rs -->\n";
const END: &str = "<!-- end of sources -->\n";

fn here(path: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(path)).unwrap()
}

/// How many cases there are; nothing where the folder is not at hand.
fn count(test: &str, cases: &Cases) -> Option<usize> {
    match cases {
        Typed(place) => Some(here(&format!("tests/{test}")).matches(place).count()),
        Rows(table) => {
            let text = reference(table)?;
            Some(
                csv::ReaderBuilder::new()
                    .flexible(true)
                    .from_reader(text.as_bytes())
                    .records()
                    .map(Result::unwrap)
                    .count(),
            )
        }
    }
}

fn table() -> Option<String> {
    let mut out =
        String::from("| source | figures | checked in `tests/` | data | cases |\n|---|---|---|---|---|\n");
    for (source, figures, test, cases) in SOURCES {
        let whose = match figures {
            Published => "published",
            SecondOpinion => "second program",
            Own => "own arithmetic",
        };
        let data = match cases {
            Rows(table) => format!("`{table}`"),
            Typed(_) => "in the test".to_owned(),
        };
        let n = count(test, cases)?;
        assert!(n > 0, "{source}: no case");
        out.push_str(&format!("| {source} | {whose} | `{test}` | {data} | {n} |\n"));
    }
    Some(out)
}

#[test]
fn the_list_of_sources_is_what_the_tests_rest_on() {
    // Each table that a row names is read by its test.
    for (source, _, test, cases) in SOURCES {
        let Rows(table) = cases else { continue };
        let name = table.rsplit('/').next().unwrap();
        let kind = name.split('.').next().unwrap();
        assert!(here(&format!("tests/{test}")).contains(kind), "{source}: {test} does not name {name}");
    }
    let Some(table) = table() else { return };
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("DEVELOPERS.md");
    let text = here("DEVELOPERS.md");
    let (before, rest) = text.split_once(BEGIN).expect("where the list begins");
    let (now, after) = rest.split_once(END).expect("where it ends");
    if std::env::var_os("TRIMSIDE_WRITE_SOURCES").is_some() {
        std::fs::write(file, format!("{before}{BEGIN}{table}{END}{after}")).unwrap();
    } else {
        assert_eq!(now, table, "TRIMSIDE_WRITE_SOURCES=1 cargo test list_of_sources writes it");
    }
}
