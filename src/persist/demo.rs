//! The demo: an invented maker's book, compiled in, put together by the same edits that a person would make: the shelf as it
//! was begun, then a week of work on it. What was booked in that week is compiled in as its cuts, so that filling a folder
//! searches for nothing; a test compares them with what the planner finds.

use super::clock;
use super::store::Store;
use crate::domain::book::Book;
use crate::domain::cards::fold::{Fold, FoldKind, Side};
use crate::domain::cards::frame::Frame;
use crate::domain::cards::layer::{LayerPlace, Shape};
use crate::domain::cards::make::Make;
use crate::domain::cards::paper;
use crate::domain::cards::reveal::Reveal;
use crate::domain::colour::parse;
use crate::domain::cutting::plan::Plan;
use crate::domain::edit::{Edit, Row};
use crate::domain::history::{History, Intent};
use crate::domain::length::{Length, Unit};
use crate::domain::money::Money;
use crate::domain::pattern::Pattern;
use crate::domain::planning::ProjectJob;
use crate::domain::project::{CardExtra, CardLayer, PaperRef, PieceWanted, Project, ProjectCard};
use crate::domain::size::{Grain, Size};
use crate::domain::stock::{
    Item, ItemId, KeptTrio, Kind, NamedColour, NewLine, Offcut, OffcutId, ProjectId, State, SwatchId, TrioId,
};
use crate::domain::thickness::Thickness;
use jiff::Span;
use jiff::civil::Date;
use serde::Deserialize;

mod week;

pub use week::Written;

/// The compiled-in text.
const TEXT: &str = include_str!("../../demo-data/book.ron");
/// The day on which the invented maker began the book, as it is written.
const BEGUN: Date = jiff::civil::date(2026, 9, 1);
/// The day that the text is written for: a batch is due in six days, a class in seventeen, and an order is under way.
const WRITTEN: Date = jiff::civil::date(2026, 11, 25);

#[derive(Deserialize)]
struct Demo {
    /// The day on which the book was begun.
    #[serde(skip)]
    begun: Date,
    swatches: Vec<(String, String, String)>,
    items: Vec<DemoItem>,
    trios: Vec<(String, String, String, String, bool, bool, String)>,
    offcuts: Vec<(String, String, u32, String)>,
    projects: Vec<DemoProject>,
    active: String,
    log: Vec<(String, String, i64, String)>,
    week: week::Week,
}

#[derive(Deserialize, Default)]
#[serde(default)]
struct DemoItem {
    name: String,
    kind: String,
    size: String,
    swatch: String,
    colours: Vec<String>,
    back_colours: Vec<String>,
    pattern: String,
    opaque: bool,
    start: u32,
    low: u32,
    pack: u32,
    price: u32,
    grain: String,
    gsm: u32,
    order: String,
    place: String,
    state: String,
    one_way: bool,
    back: String,
    collection: String,
    edition: String,
    page: String,
}

#[derive(Deserialize)]
struct DemoProject {
    name: String,
    date: String,
    seats: u32,
    samples: u32,
    spoilage: u32,
    cards: Vec<DemoCard>,
    pieces: Vec<(String, String, u32, String, bool)>,
    note: String,
}

#[derive(Deserialize)]
struct DemoCard {
    name: String,
    face: String,
    fold: String,
    base: String,
    reveals: Vec<String>,
    papers: Vec<String>,
    envelope: String,
    count: u32,
    spares: u32,
    /// Layers that are more than a plain mat, on top of the reveals.
    #[serde(default)]
    layers: Vec<DemoLayer>,
    /// Belly bands round the width: breadth, overlap, paper.
    #[serde(default)]
    bands: Vec<(String, String, String)>,
    /// Liners of the inside, by their paper.
    #[serde(default)]
    liners: Vec<String>,
}

#[derive(Deserialize, Default)]
#[serde(default)]
struct DemoLayer {
    name: String,
    reveal: String,
    size: String,
    strip: String,
    at: Option<(String, String)>,
    on: Option<usize>,
    paper: String,
    frame: String,
    insert: String,
    raise: String,
    upright: bool,
}

/// The demo's book as it is written, with what can be undone in it: a class booked, one paper short, an order under way, a
/// batch half cut.
///
/// # Errors
/// A sentence that names the row; a test keeps this from happening.
pub fn book() -> Result<(Book, History), String> {
    book_on(WRITTEN)
}

/// The same as it is opened on a day: all of its days are moved by whole weeks, so that its class is always to come, on the
/// same day of the week.
///
/// # Errors
/// As [`book`].
pub fn book_on(day: Date) -> Result<(Book, History), String> {
    let mut known = week::Known::read()?;
    made(&read(day)?, &mut |job| known.plan(job))
}

/// The book as it is written, booked by plans that somebody else finds.
///
/// # Errors
/// As [`book`], and those of the plans.
pub fn book_by(
    plan_of: &mut dyn FnMut(&ProjectJob) -> Result<Plan, String>,
) -> Result<(Book, History), String> {
    made(&read(WRITTEN)?, plan_of)
}

fn made(
    demo: &Demo,
    plan_of: &mut dyn FnMut(&ProjectJob) -> Result<Plan, String>,
) -> Result<(Book, History), String> {
    let (mut book, mut history) = begun(demo)?;
    week::worked(demo, &mut book, &mut history, plan_of)?;
    Ok((book, history))
}

/// The shelf before that week: nothing is booked yet. The tour is taken on it, so that all of it can be tried.
///
/// # Errors
/// As [`book`].
pub fn shelf() -> Result<(Book, History), String> {
    begun(&read(WRITTEN)?)
}

/// The same as it is opened on the day of the system's clock.
///
/// # Errors
/// As [`book`].
pub fn shelf_today() -> Result<(Book, History), String> {
    begun(&read(clock::today().unwrap_or(WRITTEN))?)
}

fn read(day: Date) -> Result<Demo, String> {
    let later = WRITTEN.until(day).map_or(0, |span| i64::from(span.get_days()).div_euclid(7) * 7);
    let moved = |was: Date| was.saturating_add(Span::new().days(later));
    let demo: Demo = ron::from_str(&with_days(TEXT, moved)).map_err(|e| format!("the demo: {e}"))?;
    Ok(Demo { begun: moved(BEGUN), ..demo })
}

/// A text with each of its days moved.
fn with_days(text: &str, moved: impl Fn(Date) -> Date) -> String {
    let (mut out, mut rest) = (String::with_capacity(text.len()), text);
    while let Some(next) = rest.chars().next() {
        let is_day = |words: &&str| words.match_indices('-').map(|(at, _)| at).eq([4, 7]);
        let day = rest.get(..DAY).filter(is_day).and_then(|words| words.parse::<Date>().ok());
        let taken = if let Some(day) = day {
            out.push_str(&moved(day).to_string());
            DAY
        } else {
            out.push(next);
            next.len_utf8()
        };
        rest = rest.get(taken..).unwrap_or_default();
    }
    out
}

/// Letters of a day, as `2026-11-25`.
const DAY: usize = 10;

fn begun(demo: &Demo) -> Result<(Book, History), String> {
    let (mut book, mut history) = (Book::default(), History::default());
    for (date, edit) in edits(demo)? {
        history.perform(&mut book, &Intent::Do(edit), date).map_err(|e| e.to_string())?;
    }
    Ok((book, history))
}

/// Fills an empty store with the demo, whole or not at all; a store that holds anything is left as it is.
///
/// # Errors
/// A sentence: the store could not be written.
pub fn fill(store: &mut Store) -> Result<(), String> {
    fill_on(store, WRITTEN)
}

/// The same with the demo as it is opened on the day of the system's clock; as it is written where that shows none.
///
/// # Errors
/// As [`fill`].
pub fn fill_today(store: &mut Store) -> Result<(), String> {
    fill_on(store, clock::today().unwrap_or(WRITTEN))
}

fn fill_on(store: &mut Store, day: Date) -> Result<(), String> {
    if store.book().seq() > 0 {
        return Ok(());
    }
    let (book, history) = book_on(day)?;
    store.found(book, history, read(day)?.begun).map(drop).map_err(|e| e.to_string())
}

/// What the invented maker did, day by day.
fn edits(demo: &Demo) -> Result<Vec<(Date, Edit)>, String> {
    let mut first = Vec::new();
    for (n, (name, family, hex)) in demo.swatches.iter().enumerate() {
        first.push(Edit::Swatch(Row::add(SwatchId(number(n)), swatch(name, family, hex)?)));
    }
    for (n, row) in demo.items.iter().enumerate() {
        first.push(Edit::Item(Row::add(ItemId(number(n)), item(demo, row)?)));
    }
    for (n, (name, a, b, c, favourite, own, note)) in demo.trios.iter().enumerate() {
        let trio = KeptTrio {
            name: name.clone(),
            swatches: [colour(demo, a)?, colour(demo, b)?, colour(demo, c)?],
            favourite: *favourite,
            own: *own,
            dismissed: false,
            note: note.clone(),
        };
        first.push(Edit::Trio(Row::add(TrioId(number(n)), trio)));
    }
    for (n, row) in demo.projects.iter().enumerate() {
        first.push(Edit::Project(Row::add(ProjectId(number(n)), project(demo, row)?)));
    }
    let active = demo.projects.iter().position(|p| p.name == demo.active).map(|n| ProjectId(number(n)));
    first.push(Edit::Activate { was: None, now: active });
    let counted = demo.items.iter().enumerate().filter(|(_, i)| i.start > 0);
    first
        .extend(counted.map(|(n, i)| {
            Edit::Log(NewLine::adjusted(ItemId(number(n)), i64::from(i.start), "first count"))
        }));
    let mut all = vec![(demo.begun, Edit::batch("began the book", first))];
    let mut binned = Vec::new();
    for (n, (paper, size, count, job)) in demo.offcuts.iter().enumerate() {
        let (item, id) = (find(demo, paper)?, OffcutId(number(n)));
        let offcut = Offcut {
            item,
            size: read_size(size)?,
            grain: Grain::Unknown,
            job: job.clone(),
            since: Some(demo.begun),
            place: "bin".to_owned(),
            note: String::new(),
        };
        binned.push(Edit::Offcut(Row::add(id, offcut)));
        binned.push(Edit::Log(NewLine::offcut_made(item, id, *count, job)));
    }
    all.push((demo.begun, Edit::batch("counted the offcut bin", binned)));
    for (date, name, change, job) in &demo.log {
        let count = u32::try_from(change.unsigned_abs()).unwrap_or(u32::MAX);
        let item = find(demo, name)?;
        let line =
            if *change < 0 { NewLine::used(item, count, job) } else { NewLine::received(item, count, job) };
        all.push((read_date(date)?, Edit::Log(line)));
    }
    Ok(all)
}

/// Numbers of records start with 1.
fn number(n: usize) -> u32 {
    n as u32 + 1
}

fn colour(demo: &Demo, name: &str) -> Result<SwatchId, String> {
    let at = demo.swatches.iter().position(|s| s.0 == name);
    at.map(|n| SwatchId(number(n))).ok_or_else(|| format!("the demo has no swatch {name}"))
}

fn find(demo: &Demo, name: &str) -> Result<ItemId, String> {
    let at = demo
        .items
        .iter()
        .position(|i| i.name == name)
        .ok_or_else(|| format!("the demo has no item {name}"))?;
    Ok(ItemId(number(at)))
}

fn find_or_none(demo: &Demo, name: &str) -> Result<Option<ItemId>, String> {
    if name.is_empty() { Ok(None) } else { find(demo, name).map(Some) }
}

fn read_size(text: &str) -> Result<Size, String> {
    Size::parse(text, Unit::Inch).map_err(|e| e.to_string())
}

fn read_pattern(text: &str) -> Result<Option<Pattern>, String> {
    if text.is_empty() { Ok(None) } else { Pattern::read(text, Unit::Inch).map(Some) }
}

fn read_date(text: &str) -> Result<Date, String> {
    text.parse().map_err(|_| format!("the demo's date {text}"))
}

fn swatch(name: &str, family: &str, hex: &str) -> Result<NamedColour, String> {
    let rgb = parse::hex(hex).map_err(|e| e.to_string())?;
    let lab = rgb.lab();
    Ok(NamedColour {
        name: name.to_owned(),
        family: family.to_owned(),
        lab: [lab.l, lab.a, lab.b],
        measured: false,
        hex: [rgb.r, rgb.g, rgb.b],
        former_names: Vec::new(),
        note: String::new(),
    })
}

fn item(demo: &Demo, row: &DemoItem) -> Result<Item, String> {
    let kind = Kind::from_word(&row.kind).ok_or_else(|| format!("the demo's kind {}", row.kind))?;
    let swatch = demo.swatches.iter().position(|s| s.0 == row.swatch).map(|n| SwatchId(number(n)));
    let all = |names: &[String]| names.iter().map(|n| colour(demo, n)).collect::<Result<Vec<_>, _>>();
    Ok(Item {
        size: if row.size.is_empty() { None } else { Some(read_size(&row.size)?) },
        swatch,
        colours: all(&row.colours)?,
        back_colours: all(&row.back_colours)?,
        pattern: read_pattern(&row.pattern)?,
        opaque: row.opaque,
        low: row.low,
        pack: row.pack,
        price: Some(Money::from_minor(i64::from(row.price))),
        grain: Grain::from_word(&row.grain).ok_or_else(|| format!("the demo's grain {}", row.grain))?,
        gsm: (row.gsm > 0).then_some(row.gsm),
        order_number: row.order.clone(),
        place: row.place.clone(),
        state: State::from_words(&row.state).ok_or_else(|| format!("the demo's state {}", row.state))?,
        one_way: row.one_way,
        back: row.back.clone(),
        collection: row.collection.clone(),
        edition: row.edition.clone(),
        page: row.page.clone(),
        seller: "the mill by the weir".to_owned(),
        lead_days: 10,
        ..Item::new(row.name.clone(), kind)
    })
}

fn project(demo: &Demo, row: &DemoProject) -> Result<Project, String> {
    let cards = row.cards.iter().map(|c| card(demo, c)).collect::<Result<Vec<_>, _>>()?;
    let mut pieces = Vec::new();
    for (name, size, count, paper, turn) in &row.pieces {
        let paper = find_or_none(demo, paper)?;
        pieces.push(PieceWanted {
            paper,
            turn: *turn,
            ..PieceWanted::new(name.clone(), read_size(size)?, *count)
        });
    }
    Ok(Project {
        date: Some(read_date(&row.date)?),
        seats: row.seats,
        samples: row.samples,
        spoilage_percent: row.spoilage,
        cards,
        pieces,
        note: row.note.clone(),
        ..Project::new(row.name.clone())
    })
}

fn card(demo: &Demo, row: &DemoCard) -> Result<ProjectCard, String> {
    let reveal = |t: &String| Length::parse(t, Unit::Inch).map_err(|e| e.to_string());
    let reveals = row.reveals.iter().map(reveal).collect::<Result<Vec<_>, _>>()?;
    let papers = row.papers.iter().map(|p| find_or_none(demo, p)).collect::<Result<Vec<_>, _>>()?;
    let mats = ProjectCard::new(row.name.clone(), read_size(&row.face)?).with_mats(&reveals, &papers);
    let mut layers = mats.layers.clone();
    for more in &row.layers {
        layers.push(layer(demo, more)?);
    }
    Ok(ProjectCard {
        layers,
        extras: extras(demo, row)?,
        fold: Fold::new(FoldKind::from_word(&row.fold).map_err(|e| e.to_string())?),
        base_paper: paper_or_none(demo, &row.base)?,
        envelope: find_or_none(demo, &row.envelope)?,
        count: row.count,
        spares: row.spares,
        ..mats
    })
}

fn paper_or_none(demo: &Demo, name: &str) -> Result<Option<PaperRef>, String> {
    Ok(find_or_none(demo, name)?.map(PaperRef::Shelf))
}

fn layer(demo: &Demo, row: &DemoLayer) -> Result<CardLayer, String> {
    let length = |t: &str| match t {
        "0" => Ok(Length::ZERO),
        t => Length::parse(t, Unit::Inch).map_err(|e| e.to_string()),
    };
    let paper = |name: &str| paper_or_none(demo, name);
    let at = row.at.as_ref().map(|(x, y)| Ok::<_, String>((length(x)?, length(y)?))).transpose()?;
    let shape = match (row.reveal.as_str(), row.size.as_str()) {
        ("", "") => Shape::Strip { along: Side::Width, breadth: length(&row.strip)?, at: at.map(|a| a.1) },
        ("", size) => Shape::Panel {
            size: read_size(size)?,
            place: at.map_or(LayerPlace::Middle, |(x, y)| LayerPlace::At { x, y }),
        },
        (reveal, _) => Shape::Inset(Reveal::parse(reveal, Unit::Inch).map_err(|e| e.to_string())?),
    };
    let raise = if row.raise.is_empty() { Ok(Thickness::ZERO) } else { paper::raise(&row.raise, Unit::Inch) };
    Ok(CardLayer {
        name: row.name.clone(),
        on: row.on,
        paper: paper(&row.paper)?,
        frame: if row.frame.is_empty() { None } else { Some(Frame::all(length(&row.frame)?)) },
        insert: paper(&row.insert)?,
        raise: raise.map_err(|e| e.to_string())?,
        may_turn: !row.upright,
        ..CardLayer::new(shape)
    })
}

fn extras(demo: &Demo, row: &DemoCard) -> Result<Vec<CardExtra>, String> {
    let length = |t: &String| Length::parse(t, Unit::Inch).map_err(|e| e.to_string());
    let mut all = Vec::new();
    for (breadth, overlap, paper) in &row.bands {
        let (breadth, overlap) = (length(breadth)?, length(overlap)?);
        let make = Make::BellyBand { breadth, round: Side::Width, overlap };
        all.push(CardExtra { paper: paper_or_none(demo, paper)?, ..CardExtra::of(make) });
    }
    for paper in &row.liners {
        all.push(CardExtra { paper: paper_or_none(demo, paper)?, ..CardExtra::of(Make::InsideLiner) });
    }
    Ok(all)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::stock::booked;
    use crate::domain::stock::needs::{Basis, needs};
    use crate::domain::stock::shortage::shortage;

    #[test]
    fn the_demo_is_rich_enough_to_try_every_pane() {
        let (book, _) = book().unwrap();
        book.check().unwrap();
        assert!(book.swatches().len() >= 24);
        let patterned = book.items().iter().filter(|(_, i)| i.kind == Kind::PatternedPaper).count();
        assert!(patterned >= 8 && book.items().len() - patterned >= 12);
        assert!(book.projects().len() >= 3 && book.offcuts().len() >= 4 && book.log().len() >= 40);
        assert!(book.active_project().is_some());
        let several = book.items().iter().filter(|(_, i)| i.front().len() > 1 && !i.back_colours.is_empty());
        assert!(several.count() >= 8 && book.trios().len() >= 3);
    }

    #[test]
    fn the_week_leaves_something_of_everything() {
        let (book, _) = book().unwrap();
        let of = |name: &str| book.projects().iter().find(|(_, p)| p.name == name).map(|(id, _)| id).unwrap();
        let (class, batch) = (of("Hedgerow notes, class"), of("Thank-you batch"));
        // Moss pool is the mat of seventeen cards, four to a sheet: five sheets, of which four are held.
        let short = shortage(&book, find_item(&book, "moss pool, letter")).unwrap();
        assert_eq!((short.project, short.missing), (class, 1));
        let all_short = book.items().iter().filter(|(id, _)| shortage(&book, *id).is_some()).count();
        assert_eq!((all_short, book.orders().len()), (1, 1));
        let cut = |id| needs(&book, id, None).unwrap().pieces();
        let (all, open) = cut(batch);
        assert!(open > 0 && open < all, "{open} of {all}");
        assert_eq!(cut(class).0, cut(class).1);
        assert!(
            booked::bookings_of(&book, class).count() > 4 && booked::bookings_of(&book, batch).count() > 0
        );
        assert_eq!(needs(&book, batch, None).unwrap().basis, Basis::Booked);
    }

    fn find_item(book: &Book, name: &str) -> ItemId {
        book.items().iter().find(|(_, i)| i.name == name).map(|(id, _)| id).unwrap()
    }

    /// However late it is opened: a class is some days ahead on its weekday, what was done lies behind, and the sums are those of
    /// the book as it is written.
    #[test]
    fn its_days_follow_the_day_on_which_it_is_opened() {
        let (written, _) = book().unwrap();
        for later in [-400, -1, 0, 3, 6, 7, 8, 27, 365, 4_000] {
            let day = WRITTEN.saturating_add(Span::new().days(later));
            let (book, _) = book_on(day).unwrap();
            let class = |book: &Book| {
                let found = book.projects().iter().find(|(_, p)| p.seats > 0 && p.plan.is_some());
                found.and_then(|(_, p)| p.date).unwrap()
            };
            let ahead = crate::domain::days::between(day, class(&book));
            assert!((11..=17).contains(&ahead), "{later}: {ahead}");
            assert_eq!(class(&book).weekday(), class(&written).weekday());
            assert!(book.log().iter().all(|line| line.date <= day), "{later}");
            assert!(
                book.orders().iter().all(|(_, o)| o.placed <= day && o.expected.is_some_and(|on| on > day))
            );
            let counts = |book: &Book| -> Vec<(u64, u64)> {
                book.items().iter().map(|(id, _)| (book.on_hand(id), book.booked(id))).collect()
            };
            assert_eq!(counts(&book), counts(&written));
        }
    }
}
