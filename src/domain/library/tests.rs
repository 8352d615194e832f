use super::base::{self, TrioAsk, TrioBase};
use super::change::{self, SwatchValue};
use super::import::{RowFate, SwatchImport};
use super::papers::{self, PaperSide};
use super::shown::{ShelfOrder, shown};
use super::{apply, inks, merge, taste};
use crate::domain::book::Book;
use crate::domain::colour::space::{Lab, Rgb8};
use crate::domain::colour::swatch::Swatch as Colour;
use crate::domain::colour::wheel::Wheel;
use crate::domain::edit::{Edit, Row};
use crate::domain::length::Length;
use crate::domain::project::{PaperRef, Project, ProjectCard};
use crate::domain::size::Size;
use crate::domain::stock::ids::RecordKey;
use crate::domain::stock::{Item, ItemId, KeptTrio, Kind, NewLine, State, SwatchId, TrioId};
use jiff::civil::date;

const DAY: jiff::civil::Date = date(2026, 3, 2);
const COLOURS: [(&str, [u8; 3]); 5] = [
    ("oat", [220, 207, 180]),
    ("fern", [79, 121, 66]),
    ("fern too", [80, 121, 66]),
    ("plum", [85, 42, 90]),
    ("slate", [92, 98, 104]),
];

fn id(name: &str) -> SwatchId {
    SwatchId(COLOURS.iter().position(|(n, _)| *n == name).unwrap() as u32 + 1)
}

fn put(book: &mut Book, edit: &Edit) {
    book.apply(edit, DAY).unwrap();
}

fn add_item(book: &mut Book, item: Item, count: u32) -> ItemId {
    let id = book.items().next();
    put(book, &Edit::Item(Row::add(id, item)));
    if count > 0 {
        put(book, &Edit::Log(NewLine::received(id, count, "")));
    }
    id
}

fn sheet(name: &str, swatch: &str) -> Item {
    Item { swatch: Some(id(swatch)), ..Item::new(name, Kind::PlainSheet) }
}

/// Five colours, a sheet of each but slate, a patterned paper in three of them.
fn library() -> (Book, ItemId) {
    let mut book = Book::default();
    for (name, [r, g, b]) in COLOURS {
        let swatch = change::new_swatch(name, "own", SwatchValue::Screen(Rgb8::new(r, g, b)));
        let edit = change::add(&book, swatch);
        put(&mut book, &edit);
    }
    for (name, count) in [("oat", 4), ("fern", 2), ("fern too", 9), ("plum", 0)] {
        add_item(&mut book, sheet(name, name), count);
    }
    let pattern = Item {
        swatch: Some(id("plum")),
        colours: vec![id("fern"), id("fern too")],
        back_colours: vec![id("oat")],
        ..Item::new("leaf rows", Kind::PatternedPaper)
    };
    let pattern = add_item(&mut book, pattern, 3);
    (book, pattern)
}

#[test]
fn a_screen_value_never_overwrites_a_measured_one() {
    let lab = Lab::new(60.0, -80.0, 40.0);
    let swatch = change::new_swatch("deep fern", "green", SwatchValue::Measured(lab));
    let now = change::with_value(&swatch, SwatchValue::Screen(Rgb8::new(1, 2, 3)));
    assert!(now.measured);
    assert_eq!((now.lab, now.hex), ([60.0, -80.0, 40.0], [1, 2, 3]));
    let again = change::with_value(&now, SwatchValue::Measured(Lab::new(50.0, 0.0, 0.0)));
    assert_eq!(again.lab, [50.0, 0.0, 0.0]);
}

#[test]
fn a_new_name_keeps_the_old_one_as_an_alias() {
    let (mut book, _) = library();
    let was = book.swatches().get(id("plum")).unwrap().clone();
    put(&mut book, &change::alter(id("plum"), &was, change::renamed(&was, "damson")).unwrap());
    assert_eq!(book.find_swatch("Plum"), Some(id("plum")));
    assert_eq!(book.find_swatch("damson"), Some(id("plum")));
    let was = book.swatches().get(id("plum")).unwrap().clone();
    assert_eq!(change::renamed(&was, "plum").former_names, ["damson"]);
}

#[test]
fn merging_moves_everything_over_and_can_be_taken_back() {
    let (mut book, pattern) = library();
    let trio = |swatches: [&str; 3]| KeptTrio {
        name: swatches.join(" "),
        swatches: swatches.map(id),
        favourite: true,
        own: true,
        dismissed: false,
        note: String::new(),
    };
    put(&mut book, &Edit::Trio(Row::add(TrioId(1), trio(["fern", "fern too", "oat"]))));
    put(&mut book, &Edit::Trio(Row::add(TrioId(2), trio(["fern too", "plum", "oat"]))));
    let before = book.clone();
    let edit = merge::merge(&book, id("fern"), id("fern too")).unwrap();
    let done = book.apply(&edit, DAY).unwrap();
    assert_eq!(book.find_swatch("fern too"), Some(id("fern")));
    assert_eq!(book.items().iter().filter(|(_, i)| i.swatch == Some(id("fern"))).count(), 2);
    assert_eq!(book.items().get(pattern).unwrap().front(), [id("plum"), id("fern")]);
    assert!(book.trios().get(TrioId(1)).is_none(), "one color twice is no trio");
    assert_eq!(book.trios().get(TrioId(2)).unwrap().swatches, ["fern", "plum", "oat"].map(id));
    book.check().unwrap();
    book.apply(&done.inverse, DAY).unwrap();
    assert_eq!(book.tables(), before.tables());
    assert!(merge::merge(&book, id("fern"), id("fern")).is_err());
}

#[test]
fn a_merge_keeps_the_measured_value_whichever_side_has_it() {
    let (mut book, _) = library();
    let was = book.swatches().get(id("fern too")).unwrap().clone();
    let now = change::with_value(&was, SwatchValue::Measured(Lab::new(47.5, -24.0, 26.0)));
    put(&mut book, &change::alter(id("fern too"), &was, now).unwrap());
    let edit = merge::merge(&book, id("fern"), id("fern too")).unwrap();
    put(&mut book, &edit);
    let fern = book.swatches().get(id("fern")).unwrap();
    assert!(fern.measured && fern.lab == [47.5, -24.0, 26.0]);
}

#[test]
fn papers_and_colours_are_found_both_ways() {
    let (book, pattern) = library();
    assert_eq!(papers::holding(&book, id("fern")), [pattern]);
    assert_eq!(papers::holding(&book, id("oat")), [pattern]);
    assert!(papers::holding(&book, id("slate")).is_empty());
    let plain: Vec<SwatchId> = papers::matching(&book, pattern).into_iter().map(|(s, _)| s).collect();
    assert_eq!(plain, ["plum", "fern", "fern too", "oat"].map(id));
}

#[test]
fn a_colour_is_put_on_a_side_and_taken_off_again() {
    let (mut book, pattern) = library();
    let item = book.items().get(pattern).unwrap().clone();
    for side in PaperSide::ALL {
        let with = papers::toggled(&item, side, id("slate"));
        assert!(side.colours(&with).contains(&id("slate")));
        assert_eq!(papers::toggled(&with, side, id("slate")), item);
    }
    let without = papers::toggled(&item, PaperSide::Front, id("plum"));
    assert_eq!(without.swatch, Some(id("fern")), "the next color leads");
    let edit = papers::adding(&book, pattern, PaperSide::Front, &[id("slate"), id("fern")]).unwrap();
    put(&mut book, &edit);
    assert_eq!(book.items().get(pattern).unwrap().front().len(), 4);
    assert!(papers::adding(&book, pattern, PaperSide::Front, &[id("slate")]).is_none());
}

#[test]
fn only_a_patterned_paper_lists_several_colours_and_each_must_be_there() {
    let (mut book, _) = library();
    let next = book.items().next();
    let plain = Item { colours: vec![id("oat")], ..sheet("odd", "fern") };
    let refused = book.apply(&Edit::Item(Row::add(next, plain)), DAY).unwrap_err().to_string();
    assert!(refused.contains("only a patterned paper"), "{refused}");
    let lost = Item { back_colours: vec![SwatchId(99)], ..Item::new("odd", Kind::PatternedPaper) };
    assert!(book.apply(&Edit::Item(Row::add(next, lost)), DAY).is_err());
    let refused = book.apply(&Edit::Swatch(Row::Remove(id("oat"))), DAY).unwrap_err().to_string();
    assert!(refused.contains("merge it"), "{refused}");
}

#[test]
fn a_list_says_what_it_would_do_before_it_does_it() {
    let (mut book, _) = library();
    let measured = Colour::measured("slate", "grey", Lab::new(41.0, -1.0, -4.0));
    let list = [
        Colour::from_screen("oat", "own", Rgb8::new(220, 207, 180)),
        measured,
        Colour::from_screen("sky", "blue", Rgb8::new(120, 170, 220)),
    ];
    let import = SwatchImport::of(&book, &list);
    assert_eq!(import.counts(), [1, 1, 1]);
    assert!(matches!(&import.rows[1].fate, RowFate::Changes(words) if words.contains(&"measured now")));
    put(&mut book, &import.edit().unwrap());
    assert!(book.find_swatch("sky").is_some());
    assert!(SwatchImport::of(&book, &list).edit().is_none(), "a second time says nothing new");
    let hex = [Colour::from_screen("slate", "", Rgb8::new(9, 9, 9))];
    let edit = SwatchImport::of(&book, &hex).edit().unwrap();
    put(&mut book, &edit);
    assert_eq!(book.swatches().get(id("slate")).unwrap().lab, [41.0, -1.0, -4.0]);
}

#[test]
fn the_shelf_decides_what_is_shown_first() {
    let (mut book, _) = library();
    let was = book.items().get(ItemId(2)).unwrap().clone();
    let leaves = Item { state: State::Leaving(date(2026, 9, 1)), ..was.clone() };
    put(&mut book, &Edit::Item(Row::alter(ItemId(2), was, leaves)));
    let names = |order, filter: &str, on_hand| -> Vec<String> {
        shown(&book, order, filter, on_hand).into_iter().map(|(_, s)| s.name).collect()
    };
    assert_eq!(names(ShelfOrder::LeavingFirst, "", false)[0], "fern");
    assert_eq!(names(ShelfOrder::OnHand, "", false)[..2], ["fern too", "oat"]);
    assert_eq!(names(ShelfOrder::State, "", false).last().unwrap(), "slate");
    assert!(!names(ShelfOrder::default(), "", true).contains(&"slate".to_owned()));
    assert_eq!(names(ShelfOrder::default(), "leaving fern", false), ["fern"]);
    assert_eq!(names(ShelfOrder::default(), "on hand oat", false), ["oat"]);
    let order = ShelfOrder::ALL.iter().fold(ShelfOrder::default(), |o, _| o.next());
    assert_eq!(order, ShelfOrder::default());
}

#[test]
fn what_is_leaving_comes_first_where_it_is_asked_for() {
    let (mut book, _) = library();
    assert!(base::on_hand(&book, id("oat")) && !base::on_hand(&book, id("slate")));
    let was = book.items().get(ItemId(1)).unwrap().clone();
    let leaves = Item { state: State::Gone, ..was.clone() };
    put(&mut book, &Edit::Item(Row::alter(ItemId(1), was, leaves)));
    let all = shown(&book, ShelfOrder::default(), "", false);
    let places: Vec<SwatchId> = all.iter().map(|(s, _)| *s).collect();
    let ask = TrioAsk {
        bases: vec![places.iter().position(|s| *s == id("fern")).unwrap()],
        leaving: Some(places.iter().map(|s| base::leaving(&book, *s)).collect()),
        swatches: all.into_iter().map(|(_, s)| s).collect(),
        ids: places.clone(),
        held: 1,
        usable: None,
        wheel: Wheel::default(),
        scheme: None,
        varied: false,
        habits: None,
        dismissed: Vec::new(),
        most: 9,
    };
    let trios = ask.answer();
    assert!(!trios.is_empty());
    let first_without = trios.iter().position(|t| !t.leaving).unwrap_or(trios.len());
    assert!(trios[..first_without].iter().all(|t| t.swatches.iter().any(|n| places[*n] == id("oat"))));
    assert!(trios[first_without..].iter().all(|t| !t.leaving));
    assert_eq!(TrioBase::default(), TrioBase::Picked);
}

#[test]
fn a_trio_goes_on_base_layers_and_patterns_in_the_order_chosen() {
    let (book, pattern) = library();
    let face = Size::new(Length::inches(4), Length::inches(5));
    let mut card = ProjectCard::new("note", face);
    card = card.with_mats(&[Length::sixteenths(2); 3], &[None, Some(pattern)]);
    // The pattern shows plum, which is none of the three: it makes way, and that is said.
    let dressed = apply::dress(&book, &card, ["oat", "slate", "fern"].map(id));
    let sources: Vec<apply::ColourSource> = dressed.parts.iter().map(|p| p.source).collect();
    assert_eq!(sources[0], apply::ColourSource::Sheet(ItemId(1)), "the base is dressed too");
    assert_eq!(dressed.card.base_item(), Some(ItemId(1)));
    assert!(dressed.refused.is_none());
    let colours: Vec<SwatchId> = dressed.parts.iter().map(|p| p.colour).collect();
    assert!(colours.windows(2).all(|w| w[0] != w[1]), "no part lies on its own color");
    // A pattern with one of the three supplies it and stays.
    let front = book.items().get(pattern).unwrap().front();
    let dressed = apply::dress(&book, &card, [front[0], id("oat"), id("slate")]);
    let part = dressed.parts.iter().find(|p| p.layer == Some(1)).unwrap();
    assert_eq!((part.source, part.colour), (apply::ColourSource::Pattern(pattern), front[0]));
    // That is said once, where the pattern is named.
    let (words, notes) = (dressed.words(&book), dressed.notes(&book).join("; "));
    let (name, brings) = (book.items().name_of(pattern), book.swatches().name_of(front[0]));
    assert!(words.contains(&format!("{name} (stays, brings {brings})")), "{words}");
    assert!(!notes.contains(&name), "{notes}");
    // Where the base has no sheet, the order is refused with what would do; another order is offered first.
    let refused = apply::dress(&book, &card, ["slate", "oat", "fern"].map(id)).refused.unwrap();
    assert!(
        refused.contains("no card stock in slate for the base: choose an order with oat or fern there"),
        "{refused}"
    );
    assert!(refused.contains("Stock (4, then n)"), "{refused}");
    let orders = apply::orders(&book, &card, ["slate", "oat", "fern"].map(id));
    assert!(orders[0].1.refused.is_none() && orders.len() <= 6);
}

#[test]
fn a_trio_without_any_sheet_for_the_base_is_refused_with_what_would_do() {
    let (mut book, _) = library();
    for name in ["sky", "rose"] {
        let swatch = change::new_swatch(name, "", SwatchValue::Screen(Rgb8::new(120, 170, 220)));
        let edit = change::add(&book, swatch);
        put(&mut book, &edit);
    }
    let three = ["sky", "rose", "slate"].map(|name| book.find_swatch(name).unwrap());
    let card = ProjectCard::new("note", Size::new(Length::inches(4), Length::inches(5)));
    let orders = apply::orders(&book, &card, three);
    for (_, dressed) in &orders {
        let why = dressed.refused.as_ref().unwrap();
        assert!(why.contains("in ") && why.contains("pick another trio (F lists"), "{why}");
        assert!(!why.contains("choose an order"), "no order would do: {why}");
    }
    // What it says would do, does: a sheet in one of them.
    let sheet = Item { swatch: Some(three[1]), ..Item::new("rose sheet", Kind::PlainSheet) };
    add_item(&mut book, sheet, 1);
    let orders = apply::orders(&book, &card, three);
    assert!(
        orders[0].1.refused.is_none() && orders[0].1.part(None).map(|base| base.colour) == Some(three[1])
    );
    let refused = orders.last().unwrap().1.refused.as_ref().unwrap();
    assert!(refused.contains("choose an order with rose there"), "{refused}");
}

#[test]
fn what_was_forgotten_stays_so_when_colours_are_merged() {
    let (mut book, _) = library();
    let face = Size::new(Length::inches(4), Length::inches(5));
    let mut card = ProjectCard::new("note", face);
    card.base_paper = book.find_item("oat").ok().map(PaperRef::Shelf);
    let card = card.with_mats(&[Length::sixteenths(2)], &[book.find_item("fern").ok()]);
    let project = Project { cards: vec![card], ..Project::new("set") };
    let added = Edit::Project(Row::add(book.projects().next(), project));
    put(&mut book, &added);
    let forget = taste::forget(&book).unwrap();
    put(&mut book, &forget);
    assert!(taste::habits(&book).is_empty());
    let merged = book.apply(&merge::merge(&book, id("fern too"), id("fern")).unwrap(), DAY).unwrap();
    assert!(taste::habits(&book).is_empty(), "the card counts no more under its new color either");
    book.apply(&merged.inverse, DAY).unwrap();
    assert!(taste::habits(&book).is_empty());
    let forgotten = &book.settings().forgotten.cards;
    assert_eq!(forgotten.as_slice(), [vec![id("oat"), id("fern")]]);
}

#[test]
fn habits_count_what_is_kept_and_what_lies_on_cards() {
    use crate::domain::colour::habits::Kin;
    let (mut book, _) = library();
    assert!(super::taste::habits(&book).is_empty());
    let trio = KeptTrio {
        name: "hedge".into(),
        swatches: ["fern", "oat", "plum"].map(id),
        favourite: true,
        own: false,
        dismissed: false,
        note: String::new(),
    };
    put(&mut book, &Edit::Trio(Row::add(TrioId(1), trio)));
    let kin = |name: &str| Kin::of(book.swatches().get(id(name)).unwrap().colour().lab.oklch());
    assert!(super::taste::habits(&book).shift(kin("fern"), kin("oat")) > 0.0);
}

/// A trio of the library's colours as it is dismissed.
fn dismissed(names: [&str; 3]) -> KeptTrio {
    KeptTrio {
        name: names.join(", "),
        swatches: names.map(id),
        favourite: false,
        own: false,
        dismissed: true,
        note: String::new(),
    }
}

#[test]
fn what_was_learned_is_forgotten_in_one_step_and_comes_back_with_one() {
    let (mut book, _) = library();
    assert!(taste::forget(&book).is_none(), "nothing was learned");
    let kept = KeptTrio { dismissed: false, favourite: true, ..dismissed(["fern", "oat", "plum"]) };
    put(&mut book, &Edit::Trio(Row::add(TrioId(1), kept)));
    put(&mut book, &Edit::Trio(Row::add(TrioId(2), dismissed(["fern", "slate", "oat"]))));
    let paper = |book: &Book, name: &str| book.find_item(name).unwrap();
    let face = Size::new(Length::inches(4), Length::inches(5));
    let mut card = ProjectCard::new("note", face);
    card.base_paper = Some(PaperRef::Shelf(paper(&book, "oat")));
    let card = |mat| card.clone().with_mats(&[Length::sixteenths(2)], &[Some(paper(&book, mat))]);
    let project = |name: &str, mat| Project { cards: vec![card(mat)], ..Project::new(name) };
    let [first, later] = [project("set", "fern"), project("next", "plum")];
    let added = Edit::Project(Row::add(book.projects().next(), first));
    put(&mut book, &added);
    let before = taste::habits(&book);
    assert!(!before.is_empty() && taste::dismissed(&book).count() == 1);

    let forgot = book.apply(&taste::forget(&book).unwrap(), DAY).unwrap();
    assert!(taste::habits(&book).is_empty() && taste::dismissed(&book).next().is_none());
    assert_eq!(book.trios().len(), 1, "what is kept stays kept");
    assert!(taste::forget(&book).is_none());
    // What is chosen from then on counts.
    let later = book.apply(&Edit::Project(Row::add(book.projects().next(), later)), DAY).unwrap();
    assert!(!taste::habits(&book).is_empty());
    book.apply(&later.inverse, DAY).unwrap();
    book.apply(&forgot.inverse, DAY).unwrap();
    assert_eq!(taste::habits(&book), before);
    assert_eq!(taste::dismissed(&book).count(), 1);
}

#[test]
fn a_dismissed_trio_is_in_no_list_holds_no_swatch_back_and_may_be_kept_after_all() {
    let (mut book, _) = library();
    let ids: Vec<SwatchId> = book.swatches().iter().map(|(id, _)| id).collect();
    put(&mut book, &Edit::Trio(Row::add(TrioId(1), dismissed(["fern", "slate", "oat"]))));
    let places = taste::dismissed_places(&book, &ids);
    assert_eq!(places.len(), 1);
    assert!(places[0].iter().map(|n| ids[*n]).eq(["fern", "slate", "oat"].map(id)));
    let strips = crate::domain::pages::shelf::strips(&book, id("fern"));
    assert!(strips.iter().all(|s| s.scheme != "fern, slate, oat"), "a dismissed trio is no kept one");
    // Nothing else has slate: it goes with the dismissed trio, and comes back with it.
    let gone = book.apply(&taste::remove_swatch(&book, id("slate")), DAY).unwrap();
    assert_eq!(gone.label, "removed swatch slate");
    assert!(book.swatches().get(id("slate")).is_none() && book.trios().is_empty());
    book.apply(&gone.inverse, DAY).unwrap();
    let keep = KeptTrio { dismissed: false, own: true, ..dismissed(["oat", "fern", "slate"]) };
    let kept = taste::keep(&book, keep);
    put(&mut book, &kept);
    assert!(taste::dismissed(&book).next().is_none() && book.trios().len() == 1);
}

#[test]
fn inks_are_ranked_by_contrast_and_a_pale_one_needs_to_be_opaque() {
    let (mut book, _) = library();
    for (name, swatch, opaque) in
        [("dark pad", "plum", false), ("pale dye", "oat", false), ("pale pigment", "oat", true)]
    {
        let pad = Item { swatch: Some(id(swatch)), opaque, ..Item::new(name, Kind::InkPad) };
        add_item(&mut book, pad, 1);
    }
    let on_plum = inks::readings(&book, Rgb8::new(85, 42, 90));
    let names: Vec<String> = on_plum.iter().map(|r| book.items().name_of(r.ink)).collect();
    assert_eq!(names[0], "pale pigment");
    let dye = on_plum.iter().find(|r| book.items().name_of(r.ink) == "pale dye").unwrap();
    assert!(on_plum[0].reading.ratio > 5.0 && dye.reading.ratio < 1.5);
    assert_eq!(SwatchId::from_number(3).number(), 3);
}
