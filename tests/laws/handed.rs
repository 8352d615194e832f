//! A card that is written to a file comes back as it was, whatever lies on it.

use jiff::civil::{Date, date};
use proptest::prelude::*;
use trimside::domain::book::Book;
use trimside::domain::cards::card::EnvelopeChoice;
use trimside::domain::cards::construction::bag::Bag;
use trimside::domain::cards::envelope::{Envelope, find};
use trimside::domain::cards::file::Handed;
use trimside::domain::cards::fold::{FoldEdge, FoldKind, Score, Side};
use trimside::domain::cards::frame::Frame;
use trimside::domain::cards::layer::{LayerPlace, Shape};
use trimside::domain::cards::make::Make;
use trimside::domain::cards::paper::Paper;
use trimside::domain::cards::post::Address;
use trimside::domain::cards::reveal::Reveal;
use trimside::domain::cardwork::{self, CardPart};
use trimside::domain::edit::{Edit, Row};
use trimside::domain::history::{Entry, Origin};
use trimside::domain::length::{Length, Unit};
use trimside::domain::project::{CardColour, CardExtra, CardLayer, PaperRef, Project, ProjectCard};
use trimside::domain::size::{Grain, Size};
use trimside::domain::stock::{Item, ItemId, Kind};
use trimside::domain::thickness::Thickness;
use trimside::domain::weight::Grammage;
use trimside::exchange::read::card::handed as read;
use trimside::exchange::write::card::handed as write;
use trimside::persist::schema::v1::EntryV1;

const DAY: Date = date(2026, 3, 2);

fn shelf() -> Book {
    let mut book = Book::default();
    let items =
        [("fern", Kind::PlainSheet), ("oat rows", Kind::PatternedPaper), ("note, A2", Kind::Envelope)];
    for (name, kind) in items {
        let item = Item { gsm: Some(216), ..Item::new(name, kind) };
        let add = Edit::Item(Row::add(book.items().next(), item));
        book.apply(&add, date(2026, 3, 2)).unwrap();
    }
    book
}

fn any_length() -> impl Strategy<Value = Length> {
    (1..40_000_i64).prop_map(Length::from_units)
}

fn any_size() -> impl Strategy<Value = Size> {
    (any_length(), any_length()).prop_map(|(w, h)| Size::new(w, h))
}

fn any_paper() -> impl Strategy<Value = Option<PaperRef>> {
    let other = (0..4_usize, proptest::option::of(1_000..900_000_i64), proptest::option::of(1..200_000_i64));
    prop_oneof![
        Just(None),
        Just(Some(PaperRef::Shelf(ItemId(1)))),
        Just(Some(PaperRef::Shelf(ItemId(2)))),
        // A paper's name stands for one weight and one thickness, as it does on a bench.
        other.prop_map(|(n, _, _)| {
            let paper = Paper {
                name: ["chalk", "kraft, heavy", "vellum \"thin\"", "紙"][n].to_owned(),
                grammage: (n != 1).then(|| Grammage::from_mg_per_m2(90_234 + n as i64 * 13)),
                caliper: (n != 2).then(|| Thickness::from_units(30_481 + n as i64)),
            };
            Some(PaperRef::Other(paper))
        }),
    ]
}

fn any_shape() -> impl Strategy<Value = Shape> {
    let side = prop_oneof![Just(Side::Width), Just(Side::Height)];
    prop_oneof![
        any_length().prop_map(|l| Shape::Inset(Reveal::all(l))),
        (any_length(), any_length(), any_length())
            .prop_map(|(a, b, c)| { Shape::Inset(Reveal::sides(a, b, c, Length::ZERO)) }),
        (any_size(), proptest::option::of(any_size())).prop_map(|(size, at)| Shape::Panel {
            size,
            place: at.map_or(LayerPlace::Middle, |p| LayerPlace::At { x: p.width, y: p.height }),
        }),
        (side, any_length(), proptest::option::of(any_length()))
            .prop_map(|(along, breadth, at)| Shape::Strip { along, breadth, at }),
    ]
}

fn any_layer() -> impl Strategy<Value = CardLayer> {
    let frame = proptest::option::of((any_length(), any_length()));
    (any_shape(), any_paper(), any_paper(), frame, 0..5_u32, any::<bool>(), 0..400_000_i64).prop_map(
        |(shape, paper, behind, frame, count, may_turn, raise)| CardLayer {
            name: if count == 2 { "lid".to_owned() } else { String::new() },
            paper,
            colour: (count == 3).then(|| CardColour::Named("moss".to_owned())),
            count,
            may_turn,
            allowance: Length::from_units(raise % 800),
            grain: if may_turn { Grain::Long } else { Grain::Unknown },
            raise: Thickness::from_units(raise),
            insert: frame.and(behind),
            frame: frame.map(|(w, overlap)| Frame { border: Reveal::all(w), overlap }),
            ..CardLayer::new(shape)
        },
    )
}

fn any_make() -> impl Strategy<Value = Make> {
    let l = any_length;
    prop_oneof![
        Just(Make::InsertSheet),
        Just(Make::InsideLiner),
        proptest::option::of(any_size()).prop_map(Make::SquareEnvelope),
        (l(), l()).prop_map(|(breadth, overlap)| Make::BellyBand { breadth, round: Side::Height, overlap }),
        (l(), l()).prop_map(|(flap, gum)| Make::EnvelopeLiner { flap, gum }),
        (l(), l(), proptest::option::of(l())).prop_map(|(width, depth, bottom)| {
            Make::Bag(Bag { width, depth, height: width, tab: depth, bottom })
        }),
        (any_size(), l(), proptest::option::of(any_size())).prop_map(|(floor, depth, sheet)| {
            Make::BoxAndLid { floor, depth, lid_depth: depth, room: depth, sheet }
        }),
        (proptest::option::of(any_size()), proptest::option::of(l()))
            .prop_map(|(inside, tab)| Make::StraightEnvelope { inside, tab, flap: tab }),
        (l(), l(), l()).prop_map(|(width, depth, tab)| Make::Sleeve { width, depth, breadth: depth, tab }),
        (l(), l(), l()).prop_map(|(panel, height, tab)| Make::Pocket { panel, height, tab }),
    ]
}

fn any_wish() -> impl Strategy<Value = EnvelopeChoice> {
    prop_oneof![
        Just(EnvelopeChoice::Smallest),
        Just(EnvelopeChoice::NoEnvelope),
        Just(EnvelopeChoice::Usual(find("A2", Unit::Inch).unwrap())),
        Just(EnvelopeChoice::This(find("C6", Unit::Inch).unwrap())),
        (any_size(), any_size()).prop_map(|(out, inside)| {
            EnvelopeChoice::This(Envelope { measured_inside: Some(inside), ..Envelope::own(out) })
        }),
    ]
}

fn any_card() -> impl Strategy<Value = ProjectCard> {
    let layers = proptest::collection::vec(any_layer(), 0..4);
    let extras = proptest::collection::vec((any_make(), any_paper(), 1..4_u32), 0..3);
    let fold = (0..FoldKind::ALL.len(), proptest::option::of(any_length()), any::<bool>());
    let rest = (any_wish(), any_paper(), any_size(), 1..900_u32, 0..9_u32);
    (any_size(), fold, layers, extras, rest).prop_map(|(face, fold, layers, extras, rest)| {
        let (enclosing, base, cut, count, spares) = rest;
        let mut card = ProjectCard::new("a card", face);
        card.fold.kind = FoldKind::ALL[fold.0];
        card.fold.allowance = fold.1;
        card.fold.thickness = fold.1.map(Thickness::from_length);
        card.fold.panels = fold.2.then_some(5);
        card.fold.edge = if fold.2 { FoldEdge::Top } else { FoldEdge::Left };
        card.base = fold.2.then_some(cut);
        card.base_allowance = if fold.2 { Length::sixteenths(2) } else { Length::ZERO };
        card.base_grain = fold.2.then_some(Side::Height);
        card.scores = if fold.2 { vec![Score { side: Side::Width, at: cut.width }] } else { Vec::new() };
        card.base_paper = base;
        card.layers = layers;
        card.extras =
            extras.into_iter().map(|(make, paper, count)| CardExtra { make, paper, count }).collect();
        card.envelope = fold.2.then_some(ItemId(3));
        card.enclosing = enclosing;
        card.ease = cut.height;
        card.address = if fold.2 { Address::Short } else { Address::Long };
        (card.count, card.spares) = (count, spares);
        card
    })
}

proptest! {
    #![proptest_config(crate::laws::law(96))]

    /// What is written is read back as the same card, in either unit, by whoever has the same shelf.
    #[test]
    fn a_card_comes_back_from_its_file(card in any_card(), metric in any::<bool>()) {
        let book = shelf();
        let unit = if metric { Unit::Mm } else { Unit::Inch };
        let text = write(&Handed::Card(Box::new(cardwork::to_file(&book, &card))), unit).unwrap();
        let Handed::Card(file) = read(&text, Unit::Inch).unwrap_or_else(|e| panic!("{e}\n{text}")) else {
            panic!("a card: {text}")
        };
        let (again, _) = cardwork::from_file(&book, &file);
        prop_assert_eq!(again, card, "{}", text);
    }

    /// A changed card survives the disk, its change can be taken back, and the book is then as it was.
    #[test]
    fn a_changed_card_is_kept_and_taken_back(was in any_card(), now in any_card()) {
        let mut book = shelf();
        let id = book.projects().next();
        let project = |card: &ProjectCard| Project { cards: vec![card.clone()], ..Project::new("batch") };
        let add = Edit::Project(Row::add(id, project(&was)));
        book.apply(&add, DAY).unwrap();
        let before = book.projects().get(id).cloned();
        let edit = Edit::Project(Row::alter(id, project(&was), project(&now)));
        let entry = Entry { seq: 9, date: DAY, origin: Origin::New, edit };
        let text = ron::to_string(&EntryV1::new(&entry, 1)).unwrap();
        let again = ron::from_str::<EntryV1>(&text).unwrap().into_entry(9).unwrap();
        prop_assert_eq!(&again, &entry, "{}", text);
        let done = book.apply(&again.edit, DAY).unwrap();
        prop_assert_eq!(&book.projects().get(id).unwrap().cards[0], &now);
        book.apply(&done.inverse, DAY).unwrap();
        prop_assert_eq!(book.projects().get(id).cloned(), before);
        book.check().unwrap();
    }

    /// Pieces of a card: as many of each as its layers and what is made beside it, never more than sheets can hold names.
    #[test]
    fn what_can_be_made_is_cut_from_named_pieces(card in any_card()) {
        let book = shelf();
        let (pieces, notes) = cardwork::pieces(&book, &card);
        prop_assert!(pieces.iter().all(|p| p.count > 0 && p.name.starts_with("a card, ")));
        if notes.is_empty() {
            let laid = card.layers.iter().filter(|l| l.count > 0).count();
            prop_assert!(pieces.iter().filter(|p| p.part != CardPart::Base).count() >= laid, "{:?}", pieces);
        }
    }
}
