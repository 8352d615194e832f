//! Pages that are lists: patterned papers with their swatches, what to reorder, what goes into a kit.
//!
//! Rows come in as they are to be shown; what they are reckoned from is not known here.

use super::frame::{Setup, Sheaf};
use super::page::{MM, Page};
use super::scale::{ASIDE, BODY, HEADING};
use super::table::{self, CellEntry, PageColumn};
use crate::domain::colour::space::Rgb8;
use crate::domain::plural::count_of;

/// A patterned paper and the colours in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PatternRow {
    /// What it is called.
    pub name: String,
    /// The collection it belongs to; may be empty.
    pub collection: String,
    /// Its size in words.
    pub size: String,
    /// The other side, in words; may be empty.
    pub back: String,
    /// Its order number.
    pub number: String,
    /// Names and screen values of the swatches in it.
    pub swatches: Vec<(String, Rgb8)>,
}

const PATTERN_COLUMNS: [PageColumn; 5] = [
    PageColumn::left("paper", 6),
    PageColumn::left("size", 3),
    PageColumn::left("other side", 4),
    PageColumn::left("order number", 3),
    PageColumn::left("swatches in it", 6),
];

/// The patterned paper chart: by collection, a line for each swatch of a paper.
pub fn patterns(setup: &Setup, papers: &[PatternRow]) -> Vec<Page> {
    let mut sheaf = Sheaf::new(setup, "Patterned papers", count_of(papers.len() as u64, "paper"));
    if papers.is_empty() {
        sheaf.write(
            BODY,
            "There is no patterned paper on the shelf: add some, and this page shows their swatches.",
        );
    }
    for (collection, papers) in grouped(papers, |p| &p.collection) {
        sheaf.gap(3 * MM);
        sheaf.keep(25 * MM);
        sheaf.write(HEADING, if collection.is_empty() { "no collection" } else { collection });
        sheaf.gap(MM);
        let rows: Vec<Vec<CellEntry>> = papers.into_iter().map(pattern_row).collect();
        table::write(&mut sheaf, &PATTERN_COLUMNS, &rows);
    }
    sheaf.finish()
}

fn pattern_row(paper: &PatternRow) -> Vec<CellEntry> {
    let swatches = if paper.swatches.is_empty() {
        "none noted".into()
    } else {
        CellEntry::Patches(paper.swatches.clone())
    };
    vec![
        CellEntry::Strong(paper.name.clone()),
        paper.size.as_str().into(),
        paper.back.as_str().into(),
        paper.number.as_str().into(),
        swatches,
    ]
}

/// Things in groups, each group where its first thing stands.
fn grouped<'a, T>(all: &'a [T], key: impl Fn(&'a T) -> &'a String) -> Vec<(&'a str, Vec<&'a T>)> {
    let mut groups: Vec<(&str, Vec<&T>)> = Vec::new();
    for one in all {
        match groups.iter_mut().find(|(k, _)| k == key(one)) {
            Some((_, list)) => list.push(one),
            None => groups.push((key(one), vec![one])),
        }
    }
    groups
}

/// One thing to order again.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReorderRow {
    /// Who sells it; may be empty.
    pub seller: String,
    /// What it is, with its size.
    pub name: String,
    /// Its order number.
    pub number: String,
    /// On hand less booked.
    pub free: String,
    /// Ordered and not yet here.
    pub on_order: String,
    /// The low mark.
    pub mark: String,
    /// What to order, in words: `2 packs of 24`.
    pub order: String,
    /// What that costs, in words; may be empty.
    pub cost: String,
    /// What should be known before: `leaving 2027-05-01`; may be empty.
    pub remark: String,
}

/// What to order again.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ReorderList {
    /// The day it is reckoned for, and how long it is.
    pub subtitle: String,
    /// What to order, by seller.
    pub rows: Vec<ReorderRow>,
    /// What leaves soon, what cannot be had: one line each.
    pub notes: Vec<String>,
}

const REORDER_COLUMNS: [PageColumn; 8] = [
    PageColumn::left("", 1),
    PageColumn::left("item", 7),
    PageColumn::left("order number", 4),
    PageColumn::right("free", 2),
    PageColumn::right("awaited", 3),
    PageColumn::right("mark", 2),
    PageColumn::left("order", 5),
    PageColumn::left("cost, remark", 6),
];

/// The reorder list: by seller, a box to tick before each line.
pub fn reorder(setup: &Setup, list: &ReorderList) -> Vec<Page> {
    let rows = &list.rows;
    let mut sheaf = Sheaf::new(setup, "Reorder list", list.subtitle.clone());
    if rows.is_empty() {
        sheaf.write(BODY, "Nothing is below its mark.");
    }
    for (seller, rows) in grouped(rows, |r| &r.seller) {
        sheaf.gap(3 * MM);
        sheaf.keep(25 * MM);
        sheaf.write(HEADING, if seller.is_empty() { "no seller noted" } else { seller });
        sheaf.gap(MM);
        let line = |r: &&ReorderRow| {
            let remark = [r.cost.as_str(), r.remark.as_str()];
            let remark = remark.into_iter().filter(|t| !t.is_empty()).collect::<Vec<_>>().join(", ");
            vec![
                CellEntry::Box,
                r.name.as_str().into(),
                r.number.as_str().into(),
                r.free.as_str().into(),
                r.on_order.as_str().into(),
                r.mark.as_str().into(),
                r.order.as_str().into(),
                remark.into(),
            ]
        };
        table::write(&mut sheaf, &REORDER_COLUMNS, &rows.iter().map(line).collect::<Vec<_>>());
    }
    sheaf.gap(4 * MM);
    for note in &list.notes {
        sheaf.write_wrapped(BODY, note);
    }
    sheaf.finish()
}

/// One thing in a kit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KitRow {
    /// What it is: `base`, `first mat`, `envelope`.
    pub what: String,
    /// Its size in words; may be empty.
    pub size: String,
    /// The paper or item it comes from; may be empty.
    pub paper: String,
    /// Its colour, where it is known.
    pub ink: Option<Rgb8>,
    /// How many a kit.
    pub a_kit: u64,
    /// How many over all, spares among them.
    pub total: u64,
}

/// A class kit list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kit {
    /// The class or project.
    pub title: String,
    /// Day, seats and samples in words.
    pub subtitle: String,
    /// Kits to pack.
    pub kits: u64,
    /// What goes into each.
    pub rows: Vec<KitRow>,
    /// Lines under the table.
    pub notes: Vec<String>,
}

const KIT_COLUMNS: [PageColumn; 6] = [
    PageColumn::left("", 1),
    PageColumn::left("piece", 6),
    PageColumn::left("size", 4),
    PageColumn::left("paper or item", 7),
    PageColumn::right("a kit", 2),
    PageColumn::right("in all", 2),
];
/// More kits than this get no box of their own.
const MOST_BOXES: u64 = 60;

/// The kit list: what goes into a kit, and a box for every kit packed.
pub fn kit(setup: &Setup, kit: &Kit) -> Vec<Page> {
    let mut sheaf = Sheaf::new(setup, format!("Kit list: {}", kit.title), kit.subtitle.clone());
    if kit.rows.is_empty() {
        sheaf.write(BODY, "The kit is empty: give the project cards, pieces or supplies.");
    }
    table::write(&mut sheaf, &KIT_COLUMNS, &kit_rows(&kit.rows));
    sheaf.gap(4 * MM);
    for note in &kit.notes {
        sheaf.write_wrapped(BODY, note);
    }
    if kit.kits > 1 {
        boxes(&mut sheaf, kit.kits.min(MOST_BOXES));
    }
    sheaf.finish()
}

/// Rows of a kit as a table's.
pub fn kit_rows(rows: &[KitRow]) -> Vec<Vec<CellEntry>> {
    let row = |r: &KitRow| {
        vec![
            CellEntry::Box,
            r.what.as_str().into(),
            r.size.as_str().into(),
            match r.ink {
                Some(ink) => CellEntry::Patch(ink, r.paper.clone()),
                None => r.paper.as_str().into(),
            },
            r.a_kit.to_string().into(),
            r.total.to_string().into(),
        ]
    };
    rows.iter().map(row).collect()
}

/// A numbered box for each kit.
fn boxes(sheaf: &mut Sheaf<'_>, count: u64) {
    use super::page::{Area, Group, Stroke, Um};
    sheaf.gap(4 * MM);
    sheaf.write(HEADING, "Packed");
    let (width, height) = (13 * MM, 8 * MM);
    let across = (sheaf.body().width / width).max(1);
    for row in 0..count.div_ceil(across as u64) {
        let top = sheaf.take(height);
        let x = sheaf.body().x;
        for n in row * across as u64..count.min((row + 1) * across as u64) {
            let left = x + (n as Um % across) * width;
            let page = sheaf.page();
            page.frame(Group::Outline, Area::new(left, top + MM, 5 * MM, 5 * MM), Stroke::THIN);
            page.words(ASIDE.at(left + 6 * MM, top + 5 * MM, &(n + 1).to_string()));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::frame::PrintPaper;
    use super::super::scale::CLEAR;
    use super::super::text::Style;
    use super::*;

    fn texts(pages: &[Page]) -> Vec<String> {
        pages.iter().flat_map(Page::texts).map(|w| w.text.clone()).collect()
    }

    fn assert_clear(pages: &[Page]) {
        for page in pages {
            assert!(page.area().inset(CLEAR).holds(&page.bounds().unwrap()), "{}", page.title);
        }
    }

    #[test]
    fn a_paper_shows_each_swatch_in_it() {
        let paper = |n: usize| PatternRow {
            name: format!("meadow {n}"),
            collection: ["spring", "", "winter"][n % 3].into(),
            size: "12 x 12 in".into(),
            back: "stripes".into(),
            number: format!("P{n}"),
            swatches: (0..n % 5).map(|s| (format!("s{n}-{s}"), Rgb8::new(1, 2, 3))).collect(),
        };
        for count in [0, 1, 90] {
            let papers: Vec<PatternRow> = (0..count).map(paper).collect();
            let pages = patterns(&Setup { paper: PrintPaper::A4, ..Setup::default() }, &papers);
            assert_clear(&pages);
            let words = texts(&pages);
            assert!(papers.iter().flat_map(|p| &p.swatches).all(|(name, _)| words.contains(name)));
            assert_eq!(words.iter().any(|w| w.starts_with("There is no patterned paper")), count == 0);
        }
    }

    #[test]
    fn the_reorder_list_is_by_seller_and_says_when_it_is_empty() {
        let row = |n: usize| ReorderRow {
            seller: ["Fern & Ink", ""][n % 2].into(),
            name: format!("fern card stock {n}, letter"),
            number: format!("{}", 1041 + n),
            free: "-3".into(),
            on_order: "2".into(),
            mark: "10".into(),
            order: "2 packs of 24".into(),
            cost: "$12.50".into(),
            remark: "leaving 2027-05-01".into(),
        };
        let notes = vec!["Last orders by 2027-05-01: fern.".to_owned()];
        let list = ReorderList { subtitle: "as of a day".into(), rows: (0..120).map(row).collect(), notes };
        let pages = reorder(&Setup::default(), &list);
        assert_clear(&pages);
        let words = texts(&pages);
        assert!((0..120).all(|n| words.contains(&format!("{}", 1041 + n))));
        assert_eq!(words.iter().filter(|w| *w == "Fern & Ink").count(), 1);
        assert!(words.contains(&"no seller noted".to_owned()));
        assert!(words.contains(&"Last orders by 2027-05-01: fern.".to_owned()));
        let none = ReorderList::default();
        assert!(texts(&reorder(&Setup::default(), &none)).contains(&"Nothing is below its mark.".to_owned()));
    }

    #[test]
    fn a_kit_has_a_box_for_each_kit_to_pack() {
        let rows = vec![KitRow {
            what: "base".into(),
            size: "8 1/2 x 5 1/2 in".into(),
            paper: "fern".into(),
            ink: Some(Rgb8::new(9, 9, 99)),
            a_kit: 2,
            total: 27,
        }];
        let kit =
            Kit { title: "Winter".into(), subtitle: String::new(), kits: 13, rows, notes: vec!["n".into()] };
        let pages = super::kit(&Setup::default(), &kit);
        assert_clear(&pages);
        let words = texts(&pages);
        assert!((1..=13).all(|n| words.contains(&n.to_string())) && !words.contains(&"14".to_owned()));
        assert!(Style::plain(1000).width("x") > 0);
    }
}
