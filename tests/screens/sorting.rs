//! Lists of Stock sorted another way.

use super::harness::Bench;
use trimside::app::state::views::Tab;

#[test]
fn every_list_is_sorted_every_way_by_one_key_and_stays_so() {
    use trimside::app::state::stock::sort::SortBy;
    for (n, tab) in Tab::ALL.into_iter().enumerate() {
        let mut bench = Bench::demo().keys(&format!("4 {}", "] ".repeat(n)));
        let rows = |bench: &Bench| -> Vec<String> {
            let text = trimside::app::facts::as_text(&bench.model);
            text.lines().map(str::to_owned).collect()
        };
        let usual = rows(&bench);
        for by in SortBy::of(tab).iter().skip(1) {
            bench.press("o");
            assert_eq!(bench.model.stock.sorts.of(tab), *by);
            assert!(bench.text(160, 50).contains(by.words()), "{}: {}", tab.title(), by.words());
            let mut again = Bench::demo();
            trimside::app::memory::restore(&mut again.model, &trimside::app::memory::to_text(&bench.model));
            assert_eq!(again.model.stock.sorts, bench.model.stock.sorts, "kept over a restart");
        }
        bench.press("o");
        bench.model.status = None;
        assert_eq!(rows(&bench), usual, "{}: after the last way the usual one", tab.title());
    }
}

#[test]
fn the_shelf_is_sorted_by_what_it_says() {
    use trimside::domain::stock::summary::standing;
    let shown = |bench: &Bench| bench.model.stock.shown.clone();
    let bench = Bench::demo().keys("4 o");
    let book = &bench.model.book;
    let names: Vec<String> =
        shown(&bench).iter().map(|id| book.items().name_of(*id).to_lowercase()).collect();
    assert!(names.is_sorted(), "{names:?}");
    let bench = Bench::demo().keys("4 o o");
    assert!(shown(&bench).iter().map(|id| bench.model.book.on_hand(*id)).is_sorted());
    let bench = Bench::demo().keys("4 o o o");
    let over = |id: &trimside::domain::stock::ItemId| {
        let s = standing(&bench.model.book, *id);
        s.free - i64::from(s.mark)
    };
    assert!(shown(&bench).iter().map(over).is_sorted());
    // The log from its other end, the bin by size.
    let log = |keys: &str| {
        let bench = Bench::demo().keys(keys);
        let (pane, book) = (&bench.model.stock, &bench.model.book);
        trimside::app::state::stock::log_line(pane, book, 0).unwrap().seq
    };
    assert!(log("4 ] ] o") < log("4 ] ]"));
    let bench = Bench::demo().keys("4 ] o o");
    let area = |id: &trimside::domain::stock::OffcutId| {
        let size = bench.model.book.offcuts().get(*id).unwrap().size;
        std::cmp::Reverse(size.width.units() * size.height.units())
    };
    assert!(
        trimside::app::state::stock::bin(&bench.model.stock, &bench.model.book).iter().map(area).is_sorted()
    );
}

#[test]
fn where_the_order_says_something_the_key_that_sorts_says_what() {
    for (keys, words) in [
        ("1", "the order you make them"),
        ("V", "the order you cut them"),
        ("1 v", "Sizes run small to large, as on a ruler; e chooses which"),
        ("2", "the base first; < and > move a layer"),
        ("3 ;", "best first, by their weakest pair"),
        ("4 e", "Fields keep their places"),
        ("4 ] ] ] ] j Enter", "Fields keep their places"),
        ("4 C Esc", "Lines are listed by place"),
    ] {
        let bench = Bench::demo().keys(&format!("{keys} o"));
        let said = bench.model.status.as_ref().map(|s| s.text.clone()).unwrap_or_default();
        assert!(said.contains(words), "{keys}: {said}");
    }
}
