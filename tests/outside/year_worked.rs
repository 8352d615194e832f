//! A year's change worked by hand: what a list speaks of, what takes the place of what leaves, what is touched.

use super::stock::{Bench, DAY, length, size};
use jiff::civil::date;
use trimside::domain::edit::{Edit, Row};
use trimside::domain::project::{PaperRef, Progress, Project, ProjectCard};
use trimside::domain::stock::exchange::Outcome;
use trimside::domain::stock::import::StockRow;
use trimside::domain::stock::instead::{self, Close};
use trimside::domain::stock::refresh::{Refresh, TouchedWhat, refresh, replacement, touched};
use trimside::domain::stock::{Item, ItemId, KeptTrio, Kind, ProjectId, State, SwatchId, TrioId};

fn of_mill(bench: &mut Bench, name: &str, kind: Kind, sheet: &str, colour: Option<SwatchId>) -> ItemId {
    let size = (!sheet.is_empty()).then(|| size(sheet));
    bench.item(Item { size, swatch: colour, seller: "the mill".into(), ..Item::new(name, kind) })
}

fn row(line: u64, name: &str, sheet: &str) -> StockRow {
    let size = (!sheet.is_empty()).then(|| size(sheet));
    StockRow { line, name: name.into(), size, ..StockRow::default() }
}

fn year(bench: &Bench, rows: &[StockRow]) -> Refresh {
    refresh(&bench.0, "the mill", rows, date(2026, 8, 31), date(2026, 9, 1))
}

/// Three greys whose distances are their differences in lightness: at a mean L of 50 the weight of lightness in CIEDE2000 is
/// 1, and the chroma of greys is 0 (Sharma, Wu and Dalal 2005, equation 15).
#[test]
fn up_to_three_stands_in_up_to_six_is_near_and_beyond_is_nothing() {
    for (apart, close) in [
        (0.5, Some(Close::StandsIn)),
        (2.98, Some(Close::StandsIn)),
        (3.02, Some(Close::Near)),
        (5.98, Some(Close::Near)),
        (6.02, None),
        (30.0, None),
    ] {
        let mut bench = Bench::default();
        let one = bench.swatch("slate", [50.0 - apart / 2.0, 0.0, 0.0]);
        let two = bench.swatch("rain", [50.0 + apart / 2.0, 0.0, 0.0]);
        let a = of_mill(&mut bench, "slate", Kind::PlainSheet, "8.5x11", Some(one));
        let b = of_mill(&mut bench, "rain", Kind::PlainSheet, "8.5x11", Some(two));
        let found = replacement(&bench.0, a, DAY);
        assert_eq!(found.map(|i| i.close), close, "{apart}: {found:?}");
        assert!(found.is_none_or(|i| i.item == b && (i.delta_e - apart).abs() < 1e-9), "{found:?}");
        assert_eq!(Close::of(apart), close);
    }
}

#[test]
fn a_list_of_papers_says_nothing_of_ink_pads_and_tape() {
    let mut bench = Bench::default();
    let fern = bench.swatch("fern", [50.0, -30.0, 20.0]);
    let paper = of_mill(&mut bench, "fern, letter", Kind::PlainSheet, "8.5x11", Some(fern));
    let pad = of_mill(&mut bench, "fern ink", Kind::InkPad, "", Some(fern));
    let tape = of_mill(&mut bench, "tape", Kind::Adhesive, "", None);
    let envelope = of_mill(&mut bench, "white A2", Kind::Envelope, "4.375x5.75", None);
    let plan = year(&bench, &[row(2, "moss, letter", "8.5x11")]);
    assert_eq!(
        plan.leaving,
        [paper],
        "one line of its kind is not on the list, of the other kinds none is said anything"
    );
    bench.do_it(&plan.edit.unwrap());
    let state = |id| bench.0.items().get(id).unwrap().state;
    assert_eq!(state(paper), State::Leaving(date(2026, 8, 31)));
    for id in [pad, tape, envelope] {
        assert_eq!(state(id), State::Current);
    }
    // A list with an ink pad on it speaks of ink pads too.
    let ink = StockRow { kind: Kind::InkPad, ..row(3, "moss ink", "") };
    assert_eq!(year(&bench, &[row(2, "moss, letter", "8.5x11"), ink]).leaving, [pad]);
}

#[test]
fn one_size_of_a_name_leaves_and_the_other_stays() {
    let mut bench = Bench::default();
    let letter = of_mill(&mut bench, "oat", Kind::PlainSheet, "8.5x11", None);
    let square = of_mill(&mut bench, "oat", Kind::PlainSheet, "12x12", None);
    assert_eq!(year(&bench, &[row(2, "oat", "12x12")]).leaving, [letter]);
    assert_eq!(
        year(&bench, &[row(2, "oat", "")]).leaving,
        [] as [ItemId; 0],
        "a row without a size speaks of each size"
    );
    let plan = year(&bench, &[row(2, "oat", "12x12"), row(3, "oat", "6x6")]);
    assert_eq!((plan.leaving.as_slice(), plan.arriving.as_slice()), (&[letter][..], &["oat".to_owned()][..]));
    assert_eq!(plan.staying, 1, "{square:?}");
}

/// By hand. Colours that can be had and stay: fern, moss, brick = 3. The list drops fern in letter and brick, keeps fern in
/// 12 x 12 and moss, and brings sorrel, of which no colour is known: fern and moss = 2 stay.
#[test]
fn a_year_touches_charts_cards_trios_and_classes() {
    let mut bench = Bench::default();
    let colours = [
        bench.swatch("fern", [50.0, -30.0, 20.0]),
        bench.swatch("moss", [48.0, -28.0, 22.0]),
        bench.swatch("brick", [45.0, 40.0, 30.0]),
    ];
    let letter = of_mill(&mut bench, "fern, letter", Kind::PlainSheet, "8.5x11", Some(colours[0]));
    let square = of_mill(&mut bench, "fern, 12x12", Kind::PlainSheet, "12x12", Some(colours[0]));
    let moss = of_mill(&mut bench, "moss, letter", Kind::PlainSheet, "8.5x11", Some(colours[1]));
    let brick = of_mill(&mut bench, "brick, letter", Kind::PlainSheet, "8.5x11", Some(colours[2]));
    bench.receive(letter, 9);
    let card = ProjectCard {
        base_paper: Some(PaperRef::Shelf(letter)),
        count: 2,
        ..ProjectCard::new("note", size("4.25x5.5"))
    };
    let class = bench.project(Project { seats: 6, cards: vec![card], ..Project::new("autumn") });
    bench.book_for(class, letter, 6, Some(date(2026, 10, 10)));
    let kept = KeptTrio {
        name: "hedge".into(),
        swatches: colours,
        favourite: false,
        own: true,
        dismissed: false,
        note: String::new(),
    };
    bench.do_it(&Edit::Trio(Row::add(TrioId(1), kept)));

    let rows = [row(2, "fern, 12x12", "12x12"), row(3, "moss, letter", "8.5x11"), row(4, "sorrel", "8.5x11")];
    let plan = year(&bench, &rows);
    assert_eq!(plan.leaving, [letter, brick]);
    let mut then = bench.0.clone();
    then.apply(plan.edit.as_ref().unwrap(), DAY).unwrap();
    // The same colour in another format comes before moss, 2.564 away; brick is far from all.
    let instead = replacement(&then, letter, DAY).unwrap();
    assert_eq!((instead.item, instead.close, instead.delta_e), (square, Close::Same, 0.0));
    assert_eq!(replacement(&then, brick, DAY), None);
    let every: Vec<ItemId> = instead::all_for(&then, letter, |_, _| true).iter().map(|i| i.item).collect();
    assert_eq!(every, [square, moss], "brick is beyond 6");

    let all = touched(&bench.0, &then, &plan, DAY);
    let said = |what, name: &str| {
        let one = all
            .iter()
            .find(|t| t.what == what && t.name.contains(name))
            .unwrap_or_else(|| panic!("{name}: {all:#?}"));
        (one.before.as_str(), one.after.as_str())
    };
    assert_eq!(
        said(TouchedWhat::Chart, "card stock"),
        ("3 colors", "2 colors, without brick, 1 new line without a color yet")
    );
    assert_eq!(
        said(TouchedWhat::Card, "note of autumn"),
        ("fern, letter for base", "fern, 12x12 (same color)")
    );
    let trios: Vec<(&str, &str)> = all
        .iter()
        .filter(|t| t.what == TouchedWhat::Trio)
        .map(|t| (t.before.as_str(), t.after.as_str()))
        .collect();
    assert_eq!(
        trios,
        [
            ("fern + moss + brick", "stays: fern, 12x12 (same color)"),
            ("fern + moss + brick", "brick leaves: no stand-in and nothing near"),
        ]
    );
    assert_eq!(
        said(TouchedWhat::Class, "autumn, 2026-10-10"),
        (
            "fern, letter: 6 booked, 9 on hand",
            "can be ordered until 2026-08-31; then fern, 12x12 (same color)"
        )
    );
    // Without the square one moss stands in.
    let plan = year(&bench, &rows[1..]);
    let mut then = bench.0.clone();
    then.apply(plan.edit.as_ref().unwrap(), DAY).unwrap();
    let instead = replacement(&then, letter, DAY).unwrap();
    assert_eq!((instead.item, instead.close), (moss, Close::StandsIn));
}

/// By hand. Fern leaves in letter; fern in 6 x 6 and moss in letter, 2.564 away, stay. A base of 4 1/4 x 5 1/2 is 4 1/4 x 11 or
/// 8 1/2 x 5 1/2 before it is folded, which no 6 x 6 holds: it takes moss. A mat with 1/8 of reveal is 4 x 5 1/4 and fits on
/// the 6 x 6 of the same colour. A class with 2 sheets set aside is cut from them. What is done stays as it was.
#[test]
fn what_leaves_is_exchanged_where_the_pieces_fit_and_nothing_is_set_aside() {
    let mut bench = Bench::default();
    let fern = bench.swatch("fern", [50.0, -30.0, 20.0]);
    let near = bench.swatch("moss", [48.0, -28.0, 22.0]);
    let letter = of_mill(&mut bench, "fern, letter", Kind::PlainSheet, "8.5x11", Some(fern));
    let small = of_mill(&mut bench, "fern, 6x6", Kind::PlainSheet, "6x6", Some(fern));
    let moss = of_mill(&mut bench, "moss, letter", Kind::PlainSheet, "8.5x11", Some(near));
    let ink = of_mill(&mut bench, "fern ink", Kind::InkPad, "", Some(fern));
    bench.receive(letter, 9);
    let card = |base: Option<ItemId>| ProjectCard {
        base_paper: base.map(PaperRef::Shelf),
        count: 2,
        ..ProjectCard::new("note", size("4.25x5.5"))
    };
    let matted = card(Some(moss)).with_mats(&[length("1/8")], &[Some(letter)]);
    let of = |name: &str, card: ProjectCard| Project { cards: vec![card], ..Project::new(name) };
    let bases = bench.project(of("bases", card(Some(letter))));
    let mats = bench.project(of("mats", matted));
    let class = bench.project(of("class", card(Some(letter))));
    let done = bench.project(Project { progress: Progress::Done, ..of("done", card(Some(letter))) });
    bench.book_for(class, letter, 2, Some(date(2026, 10, 10)));

    let plan = year(&bench, &[row(2, "fern, 6x6", "6x6"), row(3, "moss, letter", "8.5x11")]);
    assert_eq!(plan.leaving, [letter]);
    let (edit, found) = plan.with_exchanges(&bench.0, DAY);
    let outcomes: Vec<_> = found
        .rows
        .iter()
        .map(|e| match e.outcome {
            Outcome::Takes(by) => (e.project, Some((by.item, by.close)), 0),
            Outcome::SetAside(n) => (e.project, None, n),
            Outcome::Nothing => (e.project, None, 0),
        })
        .collect();
    assert_eq!(
        outcomes,
        [(bases, Some((moss, Close::StandsIn)), 0), (mats, Some((small, Close::Same)), 0), (class, None, 2)]
    );
    assert_eq!(found.made(), 2);
    // What the list says of a card is what the exchange does with it.
    let mut then = bench.0.clone();
    then.apply(plan.edit.as_ref().unwrap(), DAY).unwrap();
    let of_cards: Vec<String> = touched(&bench.0, &then, &plan, DAY)
        .into_iter()
        .filter(|t| t.what == TouchedWhat::Card)
        .map(|t| format!("{}: {}", t.name, t.after))
        .collect();
    assert_eq!(
        of_cards[..2],
        ["note of bases: moss, letter (stands in)", "note of mats: fern, 6x6 (same color)"]
    );

    let before = bench.0.clone();
    bench.do_it(&edit.unwrap());
    let papers = |id: ProjectId| bench.0.projects().get(id).unwrap().items().collect::<Vec<_>>();
    assert_eq!(papers(bases), [moss]);
    assert_eq!(papers(mats), [moss, small]);
    for kept in [class, done] {
        assert_eq!(bench.0.projects().get(kept), before.projects().get(kept));
    }
    assert_eq!(bench.0.items().get(letter).unwrap().state, State::Leaving(date(2026, 8, 31)));
    assert_eq!(bench.0.items().get(ink).unwrap().state, State::Current);
}

/// Where neither the same colour nor a near one stays, a card keeps its paper and the list says so.
#[test]
fn what_nothing_takes_the_place_of_stays_in_the_cards() {
    let mut bench = Bench::default();
    let brick = bench.swatch("brick", [45.0, 40.0, 30.0]);
    let fern = bench.swatch("fern", [50.0, -30.0, 20.0]);
    let letter = of_mill(&mut bench, "brick, letter", Kind::PlainSheet, "8.5x11", Some(brick));
    of_mill(&mut bench, "fern, letter", Kind::PlainSheet, "8.5x11", Some(fern));
    let card = ProjectCard {
        base_paper: Some(PaperRef::Shelf(letter)),
        ..ProjectCard::new("note", size("4.25x5.5"))
    };
    let project = bench.project(Project { cards: vec![card], ..Project::new("batch") });
    let plan = year(&bench, &[row(2, "fern, letter", "8.5x11")]);
    let (edit, found) = plan.with_exchanges(&bench.0, DAY);
    let words: Vec<String> = found.rows.iter().map(|e| e.words(&bench.0)).collect();
    assert_eq!(words, ["brick, letter stays: nothing stands in or is near"]);
    assert_eq!(found.made(), 0);
    bench.do_it(&edit.unwrap());
    assert_eq!(bench.0.projects().get(project).unwrap().items().collect::<Vec<_>>(), [letter]);
}
