//! Whatever the panes can set on a project or a card is set by a command. Two lists hold it: every field of what is kept,
//! taken apart by the compiler, so that a new field does not compile here until somebody says how it is set; and every
//! command of the panes that work on projects and cards.

use super::help::{folder, run_in, words};
use crate::effort::thinned;
use std::collections::BTreeMap;
use std::path::Path;
use trimside::app::commands::{COMMANDS, Context};
use trimside::domain::project::{
    Afterwards, CardExtra, CardLayer, PieceWanted, Project, ProjectCard, Supply, Teaching,
};
use trimside::domain::stock::Order;
use trimside::persist::Store;

type Fields = BTreeMap<String, String>;

/// Names the fields of a record, all of them: one that is left out does not compile.
macro_rules! told {
    ($into:ident, $head:expr, $record:expr, $kind:ident { $($field:ident),* $(,)? }) => {
        let $kind { $($field),* } = $record;
        $( $into.insert(format!("{} {}", $head, stringify!($field)), format!("{:?}", $field)); )*
    };
}

/// Every field of a project, with what it holds.
fn fields(project: &Project) -> Fields {
    let mut all = Fields::new();
    told!(
        all,
        "project",
        project,
        Project {
            name,
            date,
            seats,
            samples,
            spoilage_percent,
            spoilage_fixed,
            seat_price,
            minutes_a_card,
            hour_rate,
            cards,
            pieces,
            supplies,
            progress,
            stages,
            teaching,
            afterwards,
            attendees,
            plan,
            note,
        }
    );
    told!(
        all,
        "class",
        teaching,
        Teaching { sets_a_seat, spare_sets, prepare_minutes, teach_minutes, room, adhesive, ink, margin }
    );
    told!(all, "after", afterwards, Afterwards { came, paid, sales });
    for card in &project.cards {
        told!(
            all,
            "card",
            card,
            ProjectCard {
                name,
                face,
                fold,
                base,
                base_paper,
                base_made_by,
                base_allowance,
                base_grain,
                scores,
                layers,
                extras,
                envelope,
                enclosing,
                envelope_paper,
                weighed,
                envelope_spares,
                ease,
                address,
                prices,
                count,
                spares,
            }
        );
        for layer in &card.layers {
            told!(
                all,
                "layer",
                layer,
                CardLayer {
                    name,
                    shape,
                    on,
                    paper,
                    colour,
                    count,
                    may_turn,
                    made_by,
                    allowance,
                    grain,
                    raise,
                    frame,
                    insert,
                }
            );
        }
        for extra in &card.extras {
            told!(all, "beside", extra, CardExtra { make, paper, count });
        }
    }
    for piece in &project.pieces {
        told!(all, "piece", piece, PieceWanted { name, size, count, paper, turn, made_by, allowance, grain });
    }
    for supply in &project.supplies {
        told!(all, "supply", supply, Supply { item, count });
    }
    all
}

/// What every line of [`SETS`] begins from: a project with one card, one mat, one thing beside it, a piece, a supply.
const MADE: [&str; 6] = [
    "project add P --seats 2",
    "card add P leaf --size us-a2 --reveal 1/8",
    "card layer P leaf mat --size 1/8 --paper 'chalk, letter'",
    "card layer P leaf 'belly band'",
    "project piece P tag --size 2x3",
    "project supply P 'tape runner' 1",
];

/// The last layer of the card is what the fields of a layer tell of; a field, and a line that sets it.
const SETS: &[(&str, &str)] = &[
    ("project name", "project change P --name Q"),
    ("project date", "project change P --date 2027-05-01"),
    ("project seats", "project change P --seats 9"),
    ("project samples", "project change P --samples 3"),
    ("project spoilage_percent", "project change P --spoilage 7%"),
    ("project spoilage_fixed", "project change P --spoilage-pieces 4"),
    ("project seat_price", "project change P --seat-price $12.50"),
    ("project minutes_a_card", "project change P --minutes 6"),
    ("project hour_rate", "project change P --hour $20"),
    ("project note", "project change P --note 'bring tape, and a ruler'"),
    ("project cards", "card add P other --size us-a7"),
    ("project cards", "card drop P leaf"),
    ("project pieces", "project piece P strip --size 1x4 --count 3 --paper 'chalk, letter'"),
    ("project pieces", "project piece P tag --count 0"),
    ("project supplies", "project supply P 'foam squares' 2"),
    ("project supplies", "project supply P 'tape runner' 0"),
    ("project progress", "stock class cancel P"),
    ("project stages", "stock class done P packed 1"),
    ("project plan", "project book P"),
    ("project teaching", "stock class edit P --teach 2"),
    ("project afterwards", "stock class sold P 'stamp set' 1 20 --ordered"),
    ("project attendees", "stock class names P --add 'A. Guest'"),
    ("class sets_a_seat", "project change P --sets-a-seat 2"),
    ("class spare_sets", "project change P --spare-sets 3"),
    ("class prepare_minutes", "project change P --prepare 1.5"),
    ("class teach_minutes", "project change P --teach '2 1/2'"),
    ("class room", "project change P --room $40"),
    ("class adhesive", "project change P --adhesive 0.35"),
    ("class ink", "project change P --ink 0.10"),
    ("class margin", "project change P --margin 30%"),
    ("after came", "stock class taught P --back --came 2"),
    ("after paid", "stock class taught P --back --came 1 --paid 2"),
    ("after sales", "stock class sold P 'soot ink pad' 1 9.50"),
    ("card name", "card change P leaf --name twig"),
    ("card face", "card change P leaf --size us-a7"),
    ("card face", "card change P leaf --turned"),
    ("card face", "card change P leaf --picture 3x4"),
    ("card fold", "card change P leaf --fold gate"),
    ("card fold", "card change P leaf --fold gate --edge top"),
    ("card fold", "card change P leaf --fold-measures '-, 1/32, 0.012 in'"),
    ("card base", "card change P leaf --base 8.5x5.5"),
    ("card base_paper", "card change P leaf --paper 'chalk, letter'"),
    ("card base_paper", "card change P leaf --other-paper 'oat, 80 lb cover, 0.012 in'"),
    ("card base_made_by", "card change P leaf --made-by torn"),
    ("card base_allowance", "card change P leaf --allowance 1/8"),
    ("card base_grain", "card change P leaf --grain height"),
    ("card scores", "card change P leaf --scores 'width 1, height 2 1/2'"),
    ("card layers", "card drop P leaf --layer 1"),
    ("card layers", "card layer P leaf --at 1 --to 2"),
    ("card extras", "card layer P leaf pocket --paper 'chalk, letter'"),
    ("card extras", "card drop P leaf --beside 1"),
    ("card envelope", "card change P leaf --envelope 'envelope A2, chalk'"),
    ("card enclosing", "card change P leaf --into 5x7"),
    ("card enclosing", "card change P leaf --into A2 --inside '4 1/4 x 5 5/8'"),
    ("card enclosing", "card change P leaf --into none"),
    ("card envelope_paper", "card change P leaf --envelope-paper 'bond, 24 lb bond, 0.0045 in'"),
    ("card envelope_spares", "card change P leaf --envelope-spares 2"),
    ("card weighed", "card change P leaf --envelope-weight 6.1g"),
    ("card weighed", "card change P leaf --glue-weight '0.02 oz'"),
    ("card ease", "card change P leaf --ease 1/4"),
    ("card address", "card change P leaf --address short"),
    (
        "card prices",
        "card change P leaf --price 'uk, letter, 1.00, 2026-11-01' --price 'de, flat, 2, 2026-11-02'",
    ),
    ("card count", "card change P leaf --count 4"),
    ("card spares", "card change P leaf --spares 2"),
    ("layer name", "card layer P leaf --at 2 --name heart"),
    ("layer shape", "card layer P leaf --at 2 --size 1/4:1/8:1/8:1/8"),
    ("layer shape", "card layer P leaf --at 2 --kind strip"),
    ("layer on", "card layer P leaf --at 2 --on 1"),
    ("layer paper", "card layer P leaf --at 2 --paper 'moss pool, letter'"),
    ("layer paper", "card layer P leaf --at 2 --other-paper 'oat, 80 lb cover'"),
    ("layer colour", "card layer P leaf --at 2 --swatch 'plum stone'"),
    ("layer count", "card layer P leaf --at 2 --count 2"),
    ("layer may_turn", "card layer P leaf --at 2 --turn no"),
    ("layer made_by", "card layer P leaf --at 2 --made-by die-cut"),
    ("layer allowance", "card layer P leaf --at 2 --allowance 1/8"),
    ("layer grain", "card layer P leaf --at 2 --grain long"),
    ("layer raise", "card layer P leaf --at 2 --raise 1/16"),
    ("layer frame", "card layer P leaf --at 2 --frame '1/2, 1/8'"),
    ("layer frame", "card layer P leaf --at 2 --kind frame"),
    ("layer insert", "card layer P leaf --at 2 --frame '1/2, 1/8' --behind 'moss pool, letter'"),
    ("layer insert", "card layer P leaf --at 2 --frame '1/2, 1/8' --other-behind vellum"),
    ("beside make", "card layer P leaf --beside 1 --size 3"),
    ("beside paper", "card layer P leaf --beside 1 --paper 'chalk, letter'"),
    ("beside paper", "card layer P leaf --beside 1 --other-paper vellum"),
    ("beside count", "card layer P leaf --beside 1 --count 2"),
    ("piece name", "project piece P tag --name label"),
    ("piece size", "project piece P tag --size 2x4"),
    ("piece count", "project piece P tag --count 5"),
    ("piece paper", "project piece P tag --paper 'chalk, letter'"),
    ("piece turn", "project piece P tag --turn no"),
    ("piece made_by", "project piece P tag --made-by embossed"),
    ("piece allowance", "project piece P tag --allowance 1/8"),
    ("piece grain", "project piece P tag --grain short"),
    ("supply item", "project supply P 'foam squares' 2"),
    ("supply count", "project supply P 'tape runner' 3"),
];

fn kept(data: &Path) -> Fields {
    let store = Store::open(data).unwrap();
    let book = store.book();
    let id = book.find_project("P").or_else(|| book.find_project("Q")).unwrap();
    fields(book.projects().get(id).unwrap())
}

/// A copy of a folder of files.
fn copied(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).unwrap();
    for entry in std::fs::read_dir(from).unwrap().map(Result::unwrap) {
        if entry.path().is_dir() {
            copied(&entry.path(), &to.join(entry.file_name()));
        } else {
            std::fs::copy(entry.path(), to.join(entry.file_name())).unwrap();
        }
    }
}

#[test]
fn every_field_of_a_project_is_set_by_a_command() {
    let home = folder();
    let done = |line: &str| {
        let said = run_in(home.path(), &format!("trimside {line} --json"));
        assert_eq!(said.code, 0, "{line}: {}", said.note);
    };
    done("--demo --data first stock list");
    for line in MADE {
        done(&format!("--data first {line}"));
    }
    let first = home.path().join("first");
    let before = kept(&first);
    let missing: Vec<&String> = before.keys().filter(|f| SETS.iter().all(|(field, _)| f != field)).collect();
    assert!(missing.is_empty(), "say in SETS which command sets these: {missing:?}");
    for (n, (field, line)) in thinned(SETS.iter().enumerate(), 5) {
        assert!(before.contains_key(*field), "{field} is no field");
        let data = home.path().join(format!("book{n}"));
        copied(&first, &data);
        done(&format!("--data book{n} {line}"));
        let after = kept(&data);
        assert_ne!(before.get(*field), after.get(*field), "{line} does not set {field}");
    }
}

/// How each field of an order is set by command line. What it is of, the day it was placed and the pack that it is part of are
/// said when it is placed.
const ORDER_SETS: &[(&str, &str)] = &[
    ("order count", "stock awaited 'wren steps' --count 2"),
    ("order ordered", "stock awaited 'wren steps' --count 2"),
    ("order expected", "stock awaited 'wren steps' --due +20"),
    ("order price", "stock awaited 'wren steps' --price 9.99"),
    ("order seller", "stock awaited 'wren steps' --seller 'the other mill'"),
];

/// Every field of every order.
fn order_fields(data: &Path) -> Fields {
    let store = Store::open(data).unwrap();
    let mut all = Fields::new();
    for (_, order) in store.book().orders().iter() {
        told!(all, "order", order, Order { item, count, placed, expected, note, ordered, seller, price });
    }
    all
}

#[test]
fn every_field_of_an_order_is_set_by_a_command() {
    let home = folder();
    let done = |line: &str| {
        let said = run_in(home.path(), &format!("trimside {line}"));
        assert_eq!(said.code, 0, "{line}: {}", said.note);
    };
    done("stock orders --data ordered");
    let first = home.path().join("ordered");
    let before = order_fields(&first);
    let placed = ["order item", "order placed", "order note"];
    for field in before.keys().filter(|f| !placed.contains(&f.as_str())) {
        assert!(ORDER_SETS.iter().any(|(name, _)| name == field), "say in ORDER_SETS how {field} is set");
    }
    for (n, (field, line)) in ORDER_SETS.iter().enumerate() {
        copied(&first, &home.path().join(format!("orders{n}")));
        done(&format!("--data orders{n} {line} --dry-run"));
        assert_eq!(order_fields(&home.path().join(format!("orders{n}"))), before, "{line}");
        done(&format!("--data orders{n} {line}"));
        let after = order_fields(&home.path().join(format!("orders{n}")));
        assert_ne!(before.get(*field), after.get(*field), "{line} does not set {field}");
    }
}

#[test]
fn a_dry_run_of_any_of_them_changes_nothing() {
    let home = folder();
    run_in(home.path(), "trimside --demo --data book stock list");
    for line in MADE {
        assert_eq!(run_in(home.path(), &format!("trimside --data book {line}")).code, 0, "{line}");
    }
    let before = kept(&home.path().join("book"));
    for (_, line) in thinned(SETS, 5) {
        let said = run_in(home.path(), &format!("trimside --data book {line} --dry-run"));
        assert_eq!(said.code, 0, "{line}: {}", said.note);
        assert_eq!(kept(&home.path().join("book")), before, "{line}");
    }
}

/// What a command of a pane is by command line: words of a line in [`SETS`] or of the others named here, or why it is none.
const PANES: &[(&str, &str)] = &[
    ("face", "card change --size"),
    ("fold", "card change --fold"),
    ("fold-edge", "card change --edge"),
    ("fold-measures", "card change --fold-measures"),
    ("base-grain", "card change --grain"),
    ("own-scores", "card change --scores"),
    ("from-picture", "card change --picture"),
    ("hold-turned", "card change --turned"),
    ("address-side", "card change --address"),
    ("card-envelope", "card change --envelope"),
    ("card-batch", "card change --spares"),
    ("new-card", "card add"),
    ("remove-card", "card drop"),
    ("add-layer", "card layer"),
    ("add-part", "card layer"),
    ("reveal", "card layer --at --size"),
    ("layer-open", "card layer --at --size"),
    ("layer-size", "card layer --at --size"),
    ("layer-frame", "card layer --frame"),
    ("layer-kind", "card layer --kind"),
    ("layer-paper", "card layer --paper"),
    ("insert-paper", "card layer --behind"),
    ("layer-colour", "card layer --swatch"),
    ("layer-count", "card layer --count"),
    ("layer-turn", "card layer --turn"),
    ("layer-raise", "card layer --raise"),
    ("layer-made-by", "card layer --made-by"),
    ("layer-name", "card layer --name"),
    ("layer-on", "card layer --on"),
    ("layer-down", "card layer --to"),
    ("layer-up", "card layer --to"),
    ("nudge-left", "card layer --at --size"),
    ("nudge-right", "card layer --at --size"),
    ("nudge-up", "card layer --at --size"),
    ("nudge-down", "card layer --at --size"),
    ("remove-layer", "card drop --layer"),
    ("write-card", "mats --export"),
    ("read-card", "mats --import"),
    ("class-new", "project add"),
    ("class-field", "project change --date"),
    ("class-book", "project book"),
    ("class-taught", "stock class taught"),
    ("class-cancel", "stock class cancel"),
    ("class-ways", "stock class ways --take"),
    ("order-tick", "stock order"),
    ("mark-ordered", "stock order --all"),
    ("order-count", "stock order --packs"),
    ("mark-arrived", "stock arrived --price --on --lot --pack-price"),
    ("order-due", "stock awaited --due --price --seller"),
    ("order-remove", "stock awaited --count"),
    ("order-ways", "stock class ways --item --take"),
    ("class-paper", "stock class edit --instead"),
    ("class-drop", "stock class edit --drop"),
    ("class-add", "stock class edit --add"),
    ("class-seats", "stock class edit --more-seats"),
    ("class-came", "stock class taught --came"),
    ("class-sold", "stock class sold"),
    ("class-kits", "stock class kits --used"),
    ("class-names", "stock class names --add"),
    ("class-year", "stock class year --csv"),
    ("booking-release", "project give-back --only"),
    ("plan-pieces", "project piece --allowance"),
    ("plan-book", "project book"),
];

/// Commands of these panes that only look, or ask what another command of the line answers.
const ONLY_LOOK: &[&str] = &[
    "order-copy",
    "order-export",
    "post-countries",
    "class-open",
    "class-close",
    "layer-next",
    "card-before",
    "layer-page-down",
    "layer-page-up",
    "layer-previous",
    "layer-to-yield",
    "layers-near",
    "mats-view",
    "mats-made",
    "mats-side",
    "next-card",
    "layer-first",
    "layer-last",
    "open-ruler",
];

#[test]
fn every_edit_of_a_project_in_the_panes_has_a_command() {
    let contexts = [Context::Mats, Context::Reorder, Context::Classes, Context::ClassForm, Context::Bookings];
    for command in COMMANDS.iter().filter(|c| contexts.contains(&c.context)) {
        let is_told = PANES.iter().any(|(name, _)| *name == command.name);
        let only_looks = ONLY_LOOK.contains(&command.name);
        assert!(
            is_told != only_looks,
            "say in PANES how {} is done by command line: {}",
            command.name,
            command.line
        );
    }
    for (name, line) in PANES {
        assert!(COMMANDS.iter().any(|c| c.name == *name), "{name} is not a command of a pane");
        let (options, path): (Vec<String>, Vec<String>) =
            words(line).into_iter().partition(|w| w.starts_with("--"));
        let help = super::run(&format!("{}|--help", path.join("|")));
        assert_eq!(help.code, 0, "{line}");
        for option in options {
            assert!(help.out.contains(&option), "{line}: {option}");
        }
    }
}

#[test]
fn what_cannot_be_set_is_refused_by_its_option() {
    let home = folder();
    run_in(home.path(), "trimside --demo --data book stock list");
    for line in MADE {
        assert_eq!(run_in(home.path(), &format!("trimside --data book {line}")).code, 0, "{line}");
    }
    for (line, part) in [
        ("card change P leaf --scores 'widht 1'", "--scores: \"widht 1\": write the side"),
        ("card change P leaf --scores 'width 99'", "99"),
        ("card change P leaf --edge left", "--edge: a side fold has its edge in its name"),
        ("card change P leaf --edge up", "--edge: \"up\": write left or top"),
        ("card change P leaf --grain long", "--grain: \"long\": write width, height or none"),
        ("card change P leaf --price 'uk, letter, 1.00'", "--price: four things"),
        (
            "card change P leaf --price 'mars, letter, 1.00, 2026-11-01'",
            "--price: no mailing rules for \"mars\" here",
        ),
        ("card change P leaf --into A2x", "--into:"),
        ("card change P leaf --inside 4x5", "--inside: an inside belongs to one envelope"),
        ("card change P leaf --ease x", "--ease:"),
        (
            "card change P leaf --envelope-weight 6.1",
            "--envelope-weight: \"6.1\" is not a weight: write 20 g or 3.5 oz",
        ),
        (
            "card change P leaf --glue-weight 3kg",
            "--glue-weight: 3000.0 g (105.82 oz) is more than any letter weighs",
        ),
        ("card change P leaf --address wide", "--address: \"wide\": write long or short"),
        ("card change P leaf --other-paper ''", "--other-paper: a paper needs a name"),
        ("card change P leaf --paper 'chalk, letter' --other-paper oat", "cannot be used together"),
        ("card change P leaf --base 1x", "--base:"),
        ("card layer P leaf --at 2 --on 2", "--on: no layer 2 before it: it is 1 to 1, or none"),
        ("card layer P leaf --at 1 --on 1", "--on: no layer 1 before it: the first layer lies on the base"),
        ("card layer P leaf --at 2 --behind 'chalk, letter'", "--behind: only a frame"),
        ("card layer P leaf --at 2 --turn maybe", "--turn: \"maybe\": write yes or no"),
        ("card layer P leaf --at 2 --grain up", "--grain: \"up\": write long, short or any"),
        ("card layer P leaf --at 2 --raise fluff", "--raise:"),
        ("card layer P leaf --at 2 --kind box", "--kind: \"box\" is not a kind of layer"),
        ("card layer P leaf --at 1 --to 5", "--to: no layer 5"),
        ("card layer P leaf --beside 2 --size 3", "--beside: no thing 2 beside leaf: it is 1 to 1"),
        ("card layer P leaf --beside 1 --turn no", "--turn goes with a layer"),
        ("card layer P leaf mat --at 1", "cannot be used together"),
        ("project piece P tga --count 2", "did you mean tag? (--size WxH makes a new one)"),
        ("project piece P tag --size x", "--size:"),
        ("project piece P tag --paper 'soot ink pad'", "--paper: soot ink pad is of another kind"),
        ("project piece P tga --count 0", "did you mean tag?"),
        ("project supply P 'chalk, letter' 2", "is cut from sheets and not counted"),
        ("project supply P 'tap runner' 2", "did you mean tape runner?"),
        ("project supply P 'tape runner' x", "\"x\" is not a count"),
        ("project supply P 'foam squares' 0", "takes no foam squares"),
        ("project give-back 'Hedgerow notes, class' --only chalk", "is not booked for"),
        ("project remove Pp", "no class or batch is called \"Pp\""),
    ] {
        let said = run_in(home.path(), &format!("trimside --data book {line}"));
        assert_eq!(
            (said.code, said.out.as_str(), said.note.lines().count()),
            (2, "", 1),
            "{line}: {}",
            said.note
        );
        assert!(said.note.contains(part), "{line}: {}", said.note);
    }
}

#[test]
fn a_booked_project_gives_one_paper_back_and_is_removed_and_its_log_stays() {
    let home = folder();
    let say = |line: &str| {
        let said = run_in(home.path(), &format!("trimside --data book {line}"));
        assert_eq!(said.code, 0, "{line}: {}", said.note);
        said.out
    };
    run_in(home.path(), "trimside --demo --data book stock list");
    say("project add P --seats 2");
    say("card add P leaf --size us-a2 --paper 'night ferry, letter'");
    say("project supply P 'tape runner' 1");
    say("project book P");
    say("project choose P");
    let booked = |name: &str| {
        let list: serde_json::Value = serde_json::from_str(&say("stock list --json")).unwrap();
        let of =
            list["items"].as_array().unwrap().iter().find(|i| i["name"] == name).unwrap()["booked"].clone();
        of.as_u64().unwrap()
    };
    assert!(booked("night ferry, letter") > 0 && booked("tape runner") > 0);
    assert_eq!(say("project give-back P --only 'TAPE runner'"), "gave back TAPE runner of P\n");
    assert!(booked("night ferry, letter") > 0 && booked("tape runner") == 0);
    say("stock use 'night ferry, letter' 1 --job P");
    say("project remove P --dry-run");
    assert_eq!(say("project remove P"), "removed the project P\n");
    assert_eq!(booked("night ferry, letter"), 0);
    assert!(say("stock log 'night ferry, letter'").contains(" P"), "what it used stays in the log");
    assert!(!say("project list").contains("P  "), "it is gone");
}

#[test]
fn a_command_without_a_verb_shows_its_verbs_a_line_each() {
    let home = tempfile::tempdir().unwrap();
    for (line, verbs) in [
        ("stock", &["list", "use", "receive", "adjust", "log", "reorder", "class", "refresh"][..]),
        (
            "stock class",
            &["list", "show", "new", "edit", "book", "taught", "done", "cancel", "calendar", "year"],
        ),
        ("--demo stock", &["list"]),
        ("project", &["show", "add", "piece", "supply", "remove"]),
        ("card", &["add", "change", "layer", "drop"]),
        ("palette", &["nearest", "trios", "photo", "about"]),
    ] {
        let said = run_in(home.path(), &format!("trimside {line}"));
        assert_eq!((said.code, said.out.as_str()), (2, ""), "{line}");
        let path = line.trim_start_matches("--demo ");
        assert!(said.note.contains(&format!("a command is missing after trimside {path}")), "{}", said.note);
        for verb in verbs {
            let row = said.note.lines().find(|l| l.split_whitespace().next() == Some(*verb));
            assert!(
                row.is_some_and(|r| r.starts_with("  ") && r.split_whitespace().count() > 2),
                "{line} {verb}"
            );
        }
        assert!(said.note.trim_end().ends_with(&format!("see trimside {path} --help")), "{}", said.note);
    }
}
