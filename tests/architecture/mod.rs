//! The shape of the program, kept by tests: who may use whom, what stays pure, how long a file may be.
//!
//! Sources are parsed, not searched: every `use`, every path, every macro's arguments. Each check is also run on a bad
//! source written for it, so that a check which cannot fail would be noticed.

mod arrows;
mod circles;
mod habits;
mod licences;
mod names;
mod panes;
mod plurals;
mod purity;
pub mod source;
mod systems;

use source::on_sources;

/// Fails with every finding, not only the first.
#[track_caller]
fn none(what: &str, findings: &[String]) {
    assert!(findings.is_empty(), "{what}:\n  {}", findings.join("\n  "));
}

#[test]
fn arrows_point_as_designed() {
    none("a room reaches where it must not", &on_sources(arrows::findings));
}

#[test]
fn no_circle_is_larger_than_a_parent_with_its_child() {
    let (slack, findings) = on_sources(|project| {
        (circles::slack(project, &circles::STILL), circles::findings(project, &circles::STILL))
    });
    none("a circle", &findings);
    none("a circle has become smaller than its allowance: lower it", &slack);
}

#[test]
fn panes_know_their_own_state_and_what_they_may_read() {
    none("a pane knows too much", &on_sources(panes::findings));
}

#[test]
fn the_map_in_the_crate_docs_shows_the_same_arrows() {
    let text = std::fs::read_to_string(source::root().join("src/lib.rs")).expect("the crate's map");
    none("docs and test differ", &arrows::differences_from_docs(&text));
}

#[test]
fn pure_rooms_stay_pure() {
    none("a pure room touches the world", &on_sources(purity::findings));
}

#[test]
fn one_room_knows_the_system() {
    none("a room asks which system it is on", &on_sources(systems::findings));
    none("the sides differ", &on_sources(systems::differences));
}

#[test]
fn hash_maps_are_looked_up_and_never_listed() {
    none("an answer may depend on a hash map's order", &on_sources(purity::hash_maps));
}

#[test]
fn what_a_person_names_is_opened_at_one_door() {
    none("a file is opened past the door", &on_sources(purity::past_the_door));
}

#[test]
fn views_change_nothing() {
    none("a view may change the model", &on_sources(purity::changed_models));
}

#[test]
fn a_public_name_stands_for_one_type() {
    none("a name of several types", &on_sources(names::findings));
}

#[test]
fn every_module_opens_with_what_it_decides() {
    none("no `//!` at the top", &on_sources(habits::without_heading));
}

#[test]
fn files_stay_short() {
    let (too_long, long) = on_sources(habits::long_files);
    for file in long {
        eprintln!("worth splitting: {file}");
    }
    none("over 600 lines of code", &too_long);
}

#[test]
fn nothing_is_promised_instead_of_done() {
    none("a promise in place of the thing", &habits::promises(&source::texts()));
}

#[test]
fn the_top_level_holds_what_it_should() {
    none("not part of the layout", &habits::strangers(&source::top_level()));
}
