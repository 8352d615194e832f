use super::*;
use crate::domain::colour::space::Rgb8;
use crate::domain::edit::Row;
use crate::domain::library::change::{SwatchValue, new_swatch};
use crate::domain::stock::{Caliper, NewLine};
use jiff::civil::date;

const DAY: Date = date(2026, 3, 2);

/// A shelf of one paper of this kind, and a library of two colours.
fn shelf(kind: Kind) -> (Book, ItemId) {
    let mut book = Book::default();
    for name in ["fern", "brick, dark"] {
        let swatch = new_swatch(name, "", SwatchValue::Screen(Rgb8::new(80, 120, 60)));
        book.apply(&Edit::Swatch(Row::add(book.swatches().next(), swatch)), DAY).unwrap();
    }
    let id = book.items().next();
    book.apply(&Edit::Item(Row::add(id, Item::new("paper", kind))), DAY).unwrap();
    (book, id)
}

fn terms<'a>(book: &'a Book, formats: &'a Formats) -> Terms<'a> {
    Terms { book, formats, unit: Unit::Inch }
}

/// Types a text into a field: the book then, or the sentence.
fn typed(book: &Book, id: ItemId, field: Field, text: &str) -> Result<Book, String> {
    let formats = Formats::built_in();
    let seen = Seen::of(book, id).unwrap();
    let edit = field.edit(&seen, text, &terms(book, &formats), DAY)?;
    let mut then = book.clone();
    if let Some(edit) = edit {
        then.apply(&edit, DAY).map_err(|e| e.to_string())?;
    }
    Ok(then)
}

/// Every field with a text that it takes, and one that it refuses (empty for a field that takes any).
const TYPED: [(Field, &str, &str); 25] = [
    (Field::Name, "moss", " "),
    (Field::Kind, "Ink Pad", "vellum"),
    (Field::Size, "letter", "8.5x"),
    (Field::Measured, "8 7/16 x 11", "0x0"),
    (Field::Grain, "short", "up"),
    (Field::Back, "pale stripes", ""),
    (Field::Colours, "fern", "violet"),
    (Field::BackColours, "fern, brick, dark", "violet"),
    (Field::Pattern, "stripes 1/2", "paisley"),
    (Field::Gsm, "216", "9"),
    (Field::BoughtAs, "80 lb cover", "80 lb"),
    (Field::Caliper, "12 pt", "3 in"),
    (Field::OrderNumber, "F-12", ""),
    (Field::Seller, "the shop", ""),
    (Field::Pack, "24", "0"),
    (Field::Price, "9.50", "cheap"),
    (Field::Edition, "spring", ""),
    (Field::Page, "12", ""),
    (Field::Collection, "hedge", ""),
    (Field::State, "leaving 2027-08-31", "leaving"),
    (Field::Low, "6", "-1"),
    (Field::LeadDays, "10", "400"),
    (Field::OnOrder, "48", "some"),
    (Field::Place, "drawer 2", ""),
    (Field::Note, "for the class", ""),
];

#[test]
fn every_field_is_typed_refused_and_taken_back() {
    let all: Vec<Field> = TYPED.iter().map(|t| t.0).collect();
    for field in Field::ALL {
        assert_eq!(all.contains(&field), !field.is_switch(), "{field:?}");
    }
    for (field, good, bad) in TYPED {
        let (book, id) = shelf(Kind::PatternedPaper);
        let formats = Formats::built_in();
        let seen = Seen::of(&book, id).unwrap();
        let edit = field.edit(&seen, good, &terms(&book, &formats), DAY);
        let mut then = book.clone();
        let applied = then.apply(&edit.unwrap().unwrap(), DAY).unwrap();
        assert_ne!((then.items(), then.orders()), (book.items(), book.orders()), "{field:?}");
        let now = Seen::of(&then, id).unwrap();
        assert_ne!(field.shown(&now, &terms(&then, &formats)), field.shown(&seen, &terms(&book, &formats)));
        // What stands there, typed anew, changes nothing.
        if field != Field::OnOrder {
            let again = field.text(&now.item, &terms(&then, &formats));
            assert_eq!(field.edit(&now, &again, &terms(&then, &formats), DAY).unwrap(), None, "{field:?}");
            assert_eq!(
                field.read(&seen.item, &again, &terms(&then, &formats)).unwrap(),
                now.item,
                "{field:?}"
            );
        }
        then.apply(&applied.inverse, DAY).unwrap();
        let items = |b: &Book| b.items().iter().map(|(_, i)| i.clone()).collect::<Vec<_>>();
        assert_eq!((items(&then), then.orders().len()), (items(&book), 0), "{field:?}");
        if !bad.is_empty() {
            let why = typed(&book, id, field, bad).unwrap_err();
            assert!(!why.contains('\n') && why.len() > 15, "{field:?}: {why}");
        }
    }
}

#[test]
fn a_field_that_was_changed_meanwhile_is_not_overwritten() {
    let (mut book, id) = shelf(Kind::PlainSheet);
    let formats = Formats::built_in();
    let seen = Seen::of(&book, id).unwrap();
    let mine = Field::Place.edit(&seen, "drawer 2", &terms(&book, &formats), DAY).unwrap().unwrap();
    let theirs = Field::Place.edit(&seen, "drawer 9", &terms(&book, &formats), DAY).unwrap().unwrap();
    let other = Field::Low.edit(&seen, "6", &terms(&book, &formats), DAY).unwrap().unwrap();
    book.apply(&theirs, DAY).unwrap();
    let why = book.apply(&mine, DAY).unwrap_err().to_string();
    assert!(why.contains("place of \"paper\" was changed meanwhile"), "{why}");
    book.apply(&other, DAY).unwrap();
    let now = book.items().get(id).unwrap();
    assert_eq!((now.place.as_str(), now.low), ("drawer 9", 6));
    // The same for what is on order.
    book = typed(&book, id, Field::OnOrder, "24").unwrap();
    let why = Field::OnOrder.edit(&seen, "48", &terms(&book, &formats), DAY).unwrap_err();
    assert!(why.contains("meanwhile"), "{why}");
}

#[test]
fn weights_and_thickness_follow_the_trade() {
    let (book, id) = shelf(Kind::PlainSheet);
    let item = |b: &Book| b.items().get(id).unwrap().clone();
    // Known of the trade: 110 lb index is about 199 gsm, 110 lb cover about 297 gsm.
    for (text, gsm) in [("110 lb index", 199), ("110 lb cover", 297)] {
        for field in [Field::BoughtAs, Field::Gsm] {
            let now = item(&typed(&book, id, field, text).unwrap());
            assert_eq!((now.gsm, now.bought_as.as_str()), (Some(gsm), text), "{field:?}");
        }
    }
    let grams = item(&typed(&book, id, Field::Gsm, "216 g/m2").unwrap());
    assert_eq!((grams.gsm, grams.bought_as.as_str()), (Some(216), ""));
    // A point is a thousandth of an inch, 25.4 micrometres: 12 points are 304.8.
    let thick = typed(&book, id, Field::Caliper, "12 pt").unwrap();
    assert_eq!(item(&thick).caliper, Some(Caliper { micrometres: 305, measured: true }));
    let formats = Formats::built_in();
    let shown = |b: &Book| Field::Caliper.shown(&Seen::of(b, id).unwrap(), &terms(b, &formats));
    assert_eq!((shown(&book).as_str(), shown(&thick).contains("measured")), ("-", true));
    let weighed = typed(&thick, id, Field::Gsm, "216").unwrap();
    assert!(shown(&typed(&weighed, id, Field::Caliper, "").unwrap()).contains("guessed from the weight"));
}

#[test]
fn formats_numbers_and_colours_are_known_by_their_names() {
    let (book, id) = shelf(Kind::PlainSheet);
    let item = |b: &Book| b.items().get(id).unwrap().clone();
    let formats = Formats::built_in();
    let letter = typed(&book, id, Field::Size, "Letter").unwrap();
    // ANSI/ASME Y14.1: letter is 8 1/2 in by 11 in.
    assert_eq!(item(&letter).size, Size::parse("8.5x11", Unit::Inch).ok());
    let shown = Field::Size.shown(&Seen::of(&letter, id).unwrap(), &terms(&letter, &formats));
    assert!(shown.starts_with("8 1/2 x 11 in, ") && shown.to_lowercase().contains("letter"), "{shown}");
    let mut numbered = typed(&book, id, Field::OrderNumber, "A-1").unwrap();
    numbered = typed(&numbered, id, Field::OrderNumber, "B-7").unwrap();
    assert_eq!(numbered.find_item("a-1"), Ok(id));
    let why = typed(&book, id, Field::Colours, "brick").unwrap_err();
    assert!(why.contains("did you mean \"brick, dark\""), "{why}");
    let once = typed(&book, id, Field::Colours, "fern, fern").unwrap();
    assert_eq!(item(&once).front().len(), 1);
    let why = typed(&book, id, Field::Colours, "fern, brick, dark").unwrap_err();
    assert!(why.contains("only a patterned paper"), "{why}");
    let (patterned, id) = shelf(Kind::PatternedPaper);
    let two = typed(&patterned, id, Field::Colours, "fern, brick, dark").unwrap();
    assert_eq!(two.items().get(id).unwrap().front().len(), 2, "the comma in a name does not part it");
}

#[test]
fn on_order_goes_up_by_an_order_and_down_from_the_latest() {
    let (book, id) = shelf(Kind::PlainSheet);
    let first = typed(&book, id, Field::OnOrder, "24").unwrap();
    let second = typed(&first, id, Field::OnOrder, "36").unwrap();
    let counts = |b: &Book| b.orders().iter().map(|(_, o)| o.count).collect::<Vec<_>>();
    assert_eq!((counts(&second), second.on_order(id)), (vec![24, 12], 36));
    let less = typed(&second, id, Field::OnOrder, "20").unwrap();
    assert_eq!((counts(&less), less.on_order(id)), (vec![20], 20));
    assert_eq!(typed(&less, id, Field::OnOrder, "0").unwrap().on_order(id), 0);
    let mut received = less.clone();
    received.apply(&Edit::Log(NewLine::received(id, 4, "")), DAY).unwrap();
    assert_eq!(received.on_order(id), 20, "what comes is ticked, not guessed");
}

#[test]
fn a_kind_has_its_own_fields() {
    let formats = Formats::built_in();
    let fields = |kind| {
        let (book, id) = shelf(kind);
        Field::of(book.items().get(id).unwrap(), &terms(&book, &formats))
    };
    let (pad, sheet, patterned) =
        (fields(Kind::InkPad), fields(Kind::PlainSheet), fields(Kind::PatternedPaper));
    assert!(pad.contains(&Field::Opaque) && !pad.contains(&Field::Gsm) && !pad.contains(&Field::Size));
    assert!(sheet.contains(&Field::Caliper) && !sheet.contains(&Field::OneWay));
    assert!(patterned.contains(&Field::OneWay) && patterned.contains(&Field::BackColours));
}
