//! From the book to the pages: which swatches, papers, labels, kits and cards it holds, in the words that pages show.
//!
//! Knows the book and the pages' own small structs; decides no layout.

use super::card::CardSheet;
use super::class::{Room, Shopping, ShoppingRow};
use super::handout::Handout;
use super::labels::Label;
use super::lists::{Kit, KitRow, PatternRow, ReorderList, ReorderRow};
use super::plan::PlanPages;
use super::strips::ColourStrip;
use super::swatches::Chip;
use super::trios::Strip;
use crate::domain::book::Book;
use crate::domain::cards::CardError;
use crate::domain::cardwork;
use crate::domain::colour::order::SwatchOrder;
use crate::domain::colour::space::Rgb8;
use crate::domain::colour::swatch;
use crate::domain::colour::trios::said::NEAREST;
use crate::domain::colour::trios::{Trio, TrioQuestion, trios};
use crate::domain::cutlist;
use crate::domain::cutting::plan::Plan;
use crate::domain::cutting::plan_words;
use crate::domain::cutting::plan_words::KeptLeftover;
use crate::domain::lay_out;
use crate::domain::length::Unit;
use crate::domain::library::taste;
use crate::domain::money::Money;
use crate::domain::paper_look::PaperLook;
use crate::domain::planning::ProjectJob;
use crate::domain::plural::count_of;
use crate::domain::project::{Progress, Project, ProjectCard, Source};
use crate::domain::sheet::Sheet;
use crate::domain::size::{Grain, Size};
use crate::domain::stock::needs::Basis;
use crate::domain::stock::outlook::{Need, Outlook};
use crate::domain::stock::reorder::{PackLine, ReorderLine, reorder};
use crate::domain::stock::summary::standing;
use crate::domain::stock::{Item, ItemId, KeptTrio, Kind, OffcutId, State, SwatchId};
use jiff::civil::Date;

/// The word for a kind beside a swatch.
const fn short_word(kind: Kind) -> &'static str {
    match kind {
        Kind::PlainSheet => "sheet",
        Kind::InkPad => "ink",
        other => other.word(),
    }
}

/// Swatches in the order of the chart: families by hue, in each from light to dark and back.
fn in_order(book: &Book) -> Vec<SwatchId> {
    let (ids, colours): (Vec<SwatchId>, Vec<swatch::Swatch>) =
        book.swatches().iter().map(|(id, s)| (id, s.colour())).unzip();
    SwatchOrder::Families.arrange(&colours).into_iter().map(|place| ids[place]).collect()
}

/// What exists in a swatch.
fn items_of(book: &Book, swatch: SwatchId) -> impl Iterator<Item = &Item> {
    book.items().iter().map(|(_, item)| item).filter(move |item| item.swatch == Some(swatch))
}

/// Every swatch with what exists in it.
pub fn chips(book: &Book) -> Vec<Chip> {
    in_order(book).into_iter().filter_map(|id| chip(book, id)).collect()
}

fn chip(book: &Book, id: SwatchId) -> Option<Chip> {
    let swatch = book.swatches().get(id)?;
    let mut numbers: Vec<(String, String)> = items_of(book, id)
        .filter(|item| item.kind != Kind::PatternedPaper && !item.order_number.is_empty())
        .map(|item| (short_word(item.kind).to_owned(), item.order_number.clone()))
        .collect();
    numbers.sort_by_key(|(what, _)| (what != "sheet", what.clone()));
    let state = items_of(book, id).map(|item| item.state).find(|s| s.date().is_some());
    let plain = Chip::plain(&swatch.name, &swatch.family, ink(swatch.hex));
    Some(Chip { numbers, state: state.map_or(String::new(), |s| s.to_string()), ..plain })
}

const fn ink([r, g, b]: [u8; 3]) -> Rgb8 {
    Rgb8::new(r, g, b)
}

/// A strip for each swatch with the trios that it makes.
pub fn colour_strips(book: &Book) -> Vec<ColourStrip> {
    let one = |id| Some(ColourStrip { chip: chip(book, id)?, trios: strips(book, id) });
    in_order(book).into_iter().filter_map(one).collect()
}

/// One label for each swatch, or only for those that something arriving has.
pub fn labels(book: &Book, only_arriving: bool, patches: bool) -> Vec<Label> {
    let arrives = |id: &SwatchId| items_of(book, *id).any(|item| matches!(item.state, State::Arriving(_)));
    let wanted = in_order(book).into_iter().filter(|id| !only_arriving || arrives(id));
    wanted
        .filter_map(|id| chip(book, id))
        .map(|chip| Label {
            lines: vec![chip.number_line(), chip.family.clone(), chip.state.clone()],
            ink: patches.then_some(chip.ink),
            name: chip.name,
        })
        .collect()
}

/// What a label for the shelf or the bin is for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Labelled {
    /// A line of the shelf.
    Item(ItemId),
    /// Offcuts of one kind.
    Offcut(OffcutId),
    /// A stack of leftovers of a plan, before it is cut.
    Leftover(KeptLeftover),
}

/// A label for each of these, to be stuck where it lies: name, kind and size, order number, grain, place. What is gone has none.
pub fn shelf_labels(book: &Book, of: &[Labelled], unit: Unit) -> Vec<Label> {
    let one = |what: &Labelled| match what {
        Labelled::Item(id) => Some(item_label(book.items().get(*id)?, unit)),
        Labelled::Offcut(id) => {
            let offcut = book.offcuts().get(*id)?;
            let made = format!("offcut, {}", offcut.size.as_made(unit));
            let lines = [made, grain_line(offcut.grain), offcut.place.clone()];
            Some(Label { name: book.items().name_of(offcut.item), lines: said(lines), ink: None })
        }
        Labelled::Leftover(kept) => {
            let made = format!("{}, {}", count_of(kept.count.into(), "offcut"), kept.size.as_made(unit));
            Some(Label { name: kept.paper.clone(), lines: said([made, grain_line(kept.grain)]), ink: None })
        }
    };
    of.iter().filter_map(one).collect()
}

fn item_label(item: &Item, unit: Unit) -> Label {
    let size = item.cutting_size().map_or_else(String::new, |s| format!(", {}", s.as_made(unit)));
    let kind = format!("{}{size}", item.kind.said());
    let lines = [kind, number_line(item), grain_line(item.grain), item.place.clone()];
    Label { name: item.name.clone(), lines: said(lines), ink: None }
}

fn grain_line(grain: Grain) -> String {
    if grain == Grain::Unknown { String::new() } else { format!("grain {}", grain.word()) }
}

/// The lines that say something.
fn said<const N: usize>(lines: [String; N]) -> Vec<String> {
    lines.into_iter().filter(|line| !line.is_empty()).collect()
}

/// Patterned papers by collection and name, each with the swatches noted for it: the front's, then the back's.
pub fn patterns(book: &Book) -> Vec<PatternRow> {
    let unit = book.settings().unit;
    let mut all: Vec<PatternRow> = book
        .items()
        .iter()
        .map(|(_, item)| item)
        .filter(|item| item.kind == Kind::PatternedPaper)
        .map(|item| PatternRow {
            name: item.name.clone(),
            collection: item.collection.clone(),
            size: item.cutting_size().map_or(String::new(), |s| s.about(unit)),
            back: item.back.clone(),
            number: number_line(item),
            swatches: pattern_colours(book, item),
        })
        .collect();
    all.sort_by_key(|p| (p.collection.to_lowercase(), p.name.to_lowercase()));
    all
}

/// Every colour of a patterned paper once, with its name and screen value.
fn pattern_colours(book: &Book, item: &Item) -> Vec<(String, Rgb8)> {
    let front = item.front();
    let behind = item.back_colours.iter().copied().filter(|s| !front.contains(s));
    let sides = front.iter().map(|id| (*id, "")).chain(behind.map(|id| (id, " (back)")));
    sides
        .filter_map(|(id, side)| Some((book.swatches().get(id)?, side)))
        .map(|(s, side)| (format!("{}{side}", s.name), ink(s.hex)))
        .collect()
}

/// `HW-01, autumn p. 12`: how a paper is found in its catalogue.
fn number_line(item: &Item) -> String {
    let page = if item.page.is_empty() { String::new() } else { format!("p. {}", item.page) };
    let place =
        [item.edition.as_str(), &page].into_iter().filter(|t| !t.is_empty()).collect::<Vec<_>>().join(" ");
    [item.order_number.clone(), place].into_iter().filter(|t| !t.is_empty()).collect::<Vec<_>>().join(", ")
}

/// The reorder list as of a day: what to order by seller, then what leaves soon and what cannot be had.
pub fn reorder_list(book: &Book, day: Date) -> ReorderList {
    let list = reorder(book, day);
    let mut rows = Vec::new();
    for seller in &list.sellers {
        rows.extend(seller.lines.iter().filter_map(|line| reorder_row(book, &seller.seller, line)));
        rows.extend(seller.packs.iter().filter_map(|pack| pack_row(book, &seller.seller, pack)));
    }
    let name = |id| book.items().name_of(id);
    let leaving = list.last_orders.iter().map(|l| {
        format!("Last orders by {}: {} (on hand {}, booked {}).", l.until, name(l.item), l.on_hand, l.booked)
    });
    let gone =
        list.unobtainable.iter().map(|u| format!("Missing {} x {}: {}.", u.wanted, name(u.item), u.why));
    let notes = leaving.chain(gone).collect();
    ReorderList { subtitle: format!("as of {day}, {}", count_of(rows.len() as u64, "line")), rows, notes }
}

fn cost(book: &Book, price: Option<Money>) -> String {
    price.map_or(String::new(), |p| p.show(&book.settings().currency))
}

fn reorder_row(book: &Book, seller: &str, line: &ReorderLine) -> Option<ReorderRow> {
    let item = book.items().get(line.item)?;
    let standing = standing(book, line.item);
    let order = match item.pack_size() {
        1 => line.packs.to_string(),
        n => format!("{} of {n}", count_of(line.packs, "pack")),
    };
    let late = if line.late { ", late" } else { "" };
    let by = line.order_by.map_or(String::new(), |day| format!("order by {day}{late}"));
    let state = if item.state == State::Current { String::new() } else { item.state.to_string() };
    let remark = [by, state].into_iter().filter(|t| !t.is_empty()).collect::<Vec<_>>().join(", ");
    Some(ReorderRow {
        seller: seller.to_owned(),
        name: item.name.clone(),
        number: item.order_number.clone(),
        free: standing.free.to_string(),
        on_order: standing.on_order.to_string(),
        mark: standing.mark.to_string(),
        order,
        cost: cost(book, line.price),
        remark,
    })
}

fn pack_row(book: &Book, seller: &str, pack: &PackLine) -> Option<ReorderRow> {
    let assortment = book.assortments().get(pack.assortment)?;
    let covers: Vec<String> =
        pack.covers.iter().map(|(id, n)| format!("{n} x {}", book.items().name_of(*id))).collect();
    Some(ReorderRow {
        seller: seller.to_owned(),
        name: assortment.name.clone(),
        number: assortment.order_number.clone(),
        free: String::new(),
        on_order: String::new(),
        mark: String::new(),
        order: count_of(pack.packs, "pack"),
        cost: cost(book, pack.price),
        remark: format!("covers {}", covers.join(", ")),
    })
}

/// Strips of the trios that hold a swatch: those that are kept, favourites first, then those of the list.
pub fn strips(book: &Book, base: SwatchId) -> Vec<Strip> {
    let colours: Vec<swatch::Swatch> = book.swatches().iter().map(|(_, s)| s.colour()).collect();
    let Some(place) = book.swatches().iter().position(|(id, _)| id == base) else { return Vec::new() };
    let ids: Vec<SwatchId> = book.swatches().iter().map(|(id, _)| id).collect();
    let (habits, dismissed) = (taste::habits(book), taste::dismissed_places(book, &ids));
    let found = trios(&TrioQuestion {
        habits: Some(&habits),
        dismissed: &dismissed,
        ..TrioQuestion::about(&colours, &[place])
    });
    let kept = book.trios().iter().map(|(_, t)| t).filter(|t| !t.dismissed);
    let mut kept: Vec<&KeptTrio> = kept.filter(|t| t.swatches.contains(&base)).collect();
    kept.sort_by_key(|t| !t.favourite);
    let mut strips: Vec<Strip> = kept.iter().filter_map(|t| kept_strip(book, t)).collect();
    let new = found.into_iter().filter(|trio| {
        let three = trio.swatches.map(|i| ids[i]);
        !kept.iter().any(|t| t.same_colours(three))
    });
    // The nearest that can be done are printed where there is nothing better, and say what they are.
    let new: Vec<Trio> = new.collect();
    let all_nearest = new.iter().all(|trio| trio.short.is_nearest());
    let new = new.into_iter().filter(|trio| all_nearest || !trio.short.is_nearest());
    strips.extend(new.map(|trio| Strip {
        scheme: if all_nearest { NEAREST } else { trio.scheme.name() }.to_owned(),
        colours: trio.swatches.map(|i| (colours[i].name.clone(), colours[i].hex)),
        note: String::new(),
    }));
    strips
}

fn kept_strip(book: &Book, trio: &KeptTrio) -> Option<Strip> {
    let [a, b, c] = trio.swatches.map(|id| book.swatches().get(id).map(|s| (s.name.clone(), ink(s.hex))));
    Some(Strip { scheme: trio.name.clone(), colours: [a?, b?, c?], note: trio.note.clone() })
}

/// The cut plan of a project: its papers with where they lie and what they look like, and what was left out.
pub fn plan_pages(book: &Book, of: &ProjectJob, plan: &Plan, unit: Unit) -> PlanPages {
    let place = |row: usize| match of.from.get(row) {
        Some(Source::Shelf(id)) => book.items().get(*id).map(|item| item.place.clone()),
        Some(Source::Bin(id)) => book.offcuts().get(*id).map(|offcut| offcut.place.clone()),
        None => None,
    };
    let rows = plan_words::papers(&of.job, plan.to_cut()).into_iter().flat_map(|sum| sum.rows);
    let places: Vec<String> = rows.map(|(row, _)| place(row).unwrap_or_default()).collect();
    let look = |row: usize| of.paper_of(book, row).map(|id| PaperLook::of_item(book, id));
    let pages = PlanPages::of_job(of.name.clone(), &of.job, plan, unit);
    let mut pages = pages.with_places(&places).with_papers(look);
    pages.sums.extend(of.notes.iter().cloned());
    pages
}

/// Most sizes that are said to be in use.
const MOST_SIZES: usize = 60;

/// The sizes that open projects are cut in, the most often cut first, each once and upright.
pub fn sizes_in_use(book: &Book) -> Vec<Size> {
    let mut all: Vec<(Size, u64)> = Vec::new();
    let open = book.projects().iter().filter(|(_, p)| p.progress == Progress::Open);
    for piece in open.flat_map(|(_, project)| cutlist::of_project(book, project).pieces) {
        let (size, made) = (piece.cut_size().upright(), u64::from(piece.made));
        match all.iter_mut().find(|(s, _)| *s == size) {
            Some((_, n)) => *n += made,
            None => all.push((size, made)),
        }
    }
    all.sort_by_key(|(_, n)| std::cmp::Reverse(*n));
    all.into_iter().map(|(size, _)| size).take(MOST_SIZES).collect()
}

/// Paper of the shelf by its name, as a sheet.
pub fn sheet_named(book: &Book, name: &str) -> Option<Sheet> {
    let wanted = name.trim().to_lowercase();
    let item = book.items().iter().map(|(_, item)| item).find(|item| item.name.to_lowercase() == wanted)?;
    Some(Sheet::new(item.name.clone(), item.cutting_size()?))
}

/// The name, size and colour of an item, where there is one.
fn paper_of(book: &Book, id: Option<ItemId>) -> (String, Option<Rgb8>) {
    let Some(item) = id.and_then(|id| book.items().get(id)) else { return (String::new(), None) };
    let swatch = item.swatch.and_then(|id| book.swatches().get(id));
    (item.name.clone(), swatch.map(|s| ink(s.hex)))
}

/// The cards of a project, each worked out.
///
/// # Errors
/// The sentence of the first card that cannot be made.
pub fn card_sheets(book: &Book, project: &Project, unit: Unit) -> Result<Vec<CardSheet>, CardError> {
    project.cards.iter().map(|card| card_sheet(book, card, unit)).collect()
}

/// What goes into a kit: a set of the project's pieces and counted things, and how many over all, spares and spoilage among
/// them: the figures of the cut list.
pub fn kit(book: &Book, project: &Project, unit: Unit) -> Kit {
    let list = cutlist::of_project(book, project);
    let row = |what: String, size: Option<Size>, item: Option<ItemId>, a_set: u32, made: u32| {
        let (paper, ink) = paper_of(book, item);
        let size = size.map_or(String::new(), |s| s.about(unit));
        KitRow { what, size, paper, ink, a_kit: u64::from(a_set), total: u64::from(made) }
    };
    let pieces = list.pieces.iter().map(|p| row(p.called(), Some(p.finished), p.paper, p.a_set, p.made));
    let counted = list.counted.iter().map(|c| {
        let kind = book.items().get(c.item).map_or("supply", |i| i.kind.said());
        row(kind.to_owned(), None, Some(c.item), c.a_set, c.made)
    });
    let rows = pieces.chain(counted).collect();
    let counts = "\"In all\" counts every kit, the spares and the spoilage.".to_owned();
    let notes = std::iter::once(counts).chain(lay_out::sentence(book, project, &list)).collect();
    Kit { title: project.name.clone(), subtitle: when_and_whom(project), kits: project.sets(), rows, notes }
}

/// What a class needs and what of it is wanting, as its page on screen shows it.
pub fn shopping(book: &Book, project: &Project, look: &Outlook) -> Shopping {
    let row = |need: &Need| {
        let item = book.items().get(need.item)?;
        let packs = need.missing.div_ceil(u64::from(item.pack_size()));
        let buy = match item.pack_size() {
            _ if need.missing == 0 => String::new(),
            1 => packs.to_string(),
            n => format!("{} of {n}", count_of(packs, "pack")),
        };
        let price = item.price.filter(|_| need.missing > 0);
        Some(ShoppingRow {
            seller: item.seller.clone(),
            name: item.name.clone(),
            number: item.order_number.clone(),
            needed: need.still(),
            missing: need.missing,
            buy,
            cost: cost(book, price.and_then(|p| p.checked_mul(packs))),
        })
    };
    let mut notes = look.notes.clone();
    if look.basis == Basis::Bound {
        notes.push("No plan is made yet: of each paper it is at least so much.".to_owned());
    }
    Shopping {
        title: project.name.clone(),
        subtitle: when_and_whom(project),
        rows: look.needs.iter().filter_map(row).collect(),
        notes,
    }
}

/// The room of a class.
pub fn room(project: &Project) -> Room {
    Room { title: project.name.clone(), subtitle: when_and_whom(project), seats: u64::from(project.seats) }
}

/// A label for every kit: whose it is, which of how many, and what is in it, as far as the label holds; no prices.
pub fn kit_labels(book: &Book, project: &Project, unit: Unit) -> Vec<Label> {
    let kit = kit(book, project, unit);
    let contents: Vec<String> = kit
        .rows
        .iter()
        .map(|row| {
            let parts = [row.what.as_str(), row.size.as_str(), row.paper.as_str()];
            let parts: Vec<&str> = parts.into_iter().filter(|t| !t.is_empty()).collect();
            format!("{} x {}", row.a_kit, parts.join(", "))
        })
        .collect();
    let pieces = kit.rows.iter().fold(0_u64, |sum, row| sum.saturating_add(row.a_kit));
    let day = project.date.map_or(String::new(), |d| d.to_string());
    let sets = project.sets();
    let kits = sets.saturating_sub(project.samples.into());
    let label = |n: u64| {
        let which = if n <= kits {
            format!("kit {n} of {kits}")
        } else {
            format!("sample set {} of {}", n - kits, sets - kits)
        };
        // The sum stands before the list, which a small label cannot hold whole.
        let head = [which, count_of(pieces, "piece"), day.clone()]
            .into_iter()
            .filter(|t| !t.is_empty())
            .collect::<Vec<_>>()
            .join(" · ");
        let lines = std::iter::once(head).chain(contents.iter().cloned()).collect();
        Label { name: project.name.clone(), lines, ink: None }
    };
    (1..=sets).map(label).collect()
}

/// One card that is in hand, worked out, in its papers.
///
/// # Errors
/// The sentence that refuses it.
pub fn card_sheet(book: &Book, card: &ProjectCard, unit: Unit) -> Result<CardSheet, CardError> {
    let mut sheet = CardSheet::of(&cardwork::job(book, card), cardwork::tools(book, unit))?;
    for (look, layer) in sheet.looks.iter_mut().zip(&card.layers) {
        wear(look, PaperLook::of_layer(book, layer));
    }
    wear(&mut sheet.base_look, PaperLook::of_base(book, card));
    if let Some(base) = card.base {
        let by_hand = base.show_with_unit(unit);
        sheet.notes.insert(0, format!("The base is set by hand to {by_hand}."));
    }
    Ok(sheet)
}

/// The inks and the pattern of a paper; what it is called stays as it was.
fn wear(look: &mut PaperLook, paper: PaperLook) {
    (look.inks, look.pattern) = (paper.inks, paper.pattern);
}

/// `2026-12-12, 12 seats, 2 sample sets`.
fn when_and_whom(project: &Project) -> String {
    let mut parts: Vec<String> = project.date.map(|d| d.to_string()).into_iter().collect();
    let teaching = &project.teaching;
    match (project.seats, teaching.sets_a_seat) {
        (0, _) => {}
        (n, 1) => parts.push(count_of(u64::from(n), "seat")),
        (n, sets) => parts.push(format!("{} of {sets} sets", count_of(u64::from(n), "seat"))),
    }
    for (n, word) in [(project.samples, "sample set"), (teaching.spare_sets, "spare set")] {
        if n > 0 {
            parts.push(count_of(u64::from(n), word));
        }
    }
    parts.join(", ")
}

/// The handout of a class: its note, one kit, its cards.
///
/// # Errors
/// The sentence of the first card that cannot be made.
pub fn handout(book: &Book, project: &Project, unit: Unit) -> Result<Handout, CardError> {
    Ok(Handout {
        title: project.name.clone(),
        subtitle: project.date.map_or(String::new(), |d| d.to_string()),
        words: vec![project.note.clone()],
        pieces: kit(book, project, unit).rows,
        cards: card_sheets(book, project, unit)?,
    })
}
