//! Random wishes, random within sense: what a person might do next with a book as it stands. The same seed gives the
//! same day's work.

use jiff::civil::{Date, date};
use trimside::domain::book::Book;
use trimside::domain::book::format::SheetFormat;
use trimside::domain::cutting::planner::Solver;
use trimside::domain::edit::{Edit, Row};
use trimside::domain::history::{History, Intent};
use trimside::domain::length::Length;
use trimside::domain::library::papers::{self, PaperSide};
use trimside::domain::library::{merge, taste};
use trimside::domain::money::Money;
use trimside::domain::planning;
use trimside::domain::project::{
    Afterwards, PaperRef, PieceWanted, Project, ProjectCard, Sale, SaleKind, Supply, Teaching,
};
use trimside::domain::settings::BookSettings;
use trimside::domain::size::{Grain, Size};
use trimside::domain::stock::class::OpenPapers;
use trimside::domain::stock::ids::RecordKey;
use trimside::domain::stock::import::StockRow;
use trimside::domain::stock::needs::Settled;
use trimside::domain::stock::orders::OrderChange;
use trimside::domain::stock::shelf::Come;
use trimside::domain::stock::{
    Assortment, Booking, Caliper, Item, ItemId, KeptTrio, Kind, NamedColour, NewLine, Offcut, Order, Reason,
    State, SwatchId, class, orders, refresh, shelf,
};

pub const DAY: Date = date(2026, 3, 2);

/// A small generator (Marsaglia's xorshift, 2003).
#[derive(Clone)]
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }

    pub fn roll(&mut self, sides: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as usize % sides.max(1)
    }

    fn pick<T>(&mut self, from: Vec<T>) -> Option<T> {
        let n = self.roll(from.len());
        from.into_iter().nth(n)
    }

    fn size(&mut self) -> Size {
        let side = |d: &mut Self| Length::sixteenths(1 + d.roll(16 * 12) as i64);
        Size::new(side(self), side(self))
    }

    fn day(&mut self) -> Date {
        DAY.checked_add(jiff::Span::new().days(self.roll(300) as i64)).unwrap()
    }

    /// Names with everything in them that a careless writer would trip over.
    fn name(&mut self) -> String {
        let words = [
            "fern",
            "slate rain",
            "a \"quoted\" name",
            "tab\tand\nline",
            "=1+1",
            "-moss",
            "'apostrophe",
            "żółw",
            "紙",
            "\u{202e}turned",
            "back\\slash",
            "nul\0inside",
            "\u{1b}[31mred",
            "a,comma;and|bar",
            "(paren)",
            "e\u{301}",
        ];
        format!("{} {}", words[self.roll(words.len())], self.roll(1000))
    }
}

/// Something new.
pub fn edit(book: &Book, dice: &mut Dice) -> Edit {
    let items: Vec<ItemId> = book.items().iter().map(|(id, _)| id).collect();
    let Some(item) = dice.pick(items) else { return add_item(book, dice) };
    let held = book.on_hand(item) as u32;
    match dice.roll(27) {
        20..26 => day_at_the_shelf(book, dice, item).unwrap_or_else(|| add_project(book, dice)),
        0 | 1 => add_item(book, dice),
        2..=4 => {
            Edit::Log(NewLine::received(item, 1 + dice.roll(30) as u32, "parcel").for_price(price(dice)))
        }
        // Now and then more than there is.
        5..=8 => Edit::Log(NewLine::used(item, 1 + dice.roll(held as usize + 3) as u32, dice.name())),
        9 => Edit::Log(NewLine::adjusted(item, dice.roll(9) as i64 - 4, "count day").on(dice.day())),
        10 => keep_offcut(book, dice, item),
        11 => use_offcut(book, dice).unwrap_or_else(|| add_item(book, dice)),
        12 => alter_item(book, dice, item),
        13 => add_swatch(book, dice),
        14 => add_project(book, dice),
        15 => book_sheets(book, dice, item).unwrap_or_else(|| add_project(book, dice)),
        16 => order(book, dice, item),
        17 => odd_rows(book, dice, item),
        18 => {
            let parts = (0..1 + dice.roll(3)).map(|_| edit(book, dice)).collect();
            Edit::batch(dice.name(), parts)
        }
        26 => loose_card(book, dice),
        _ => Edit::Void { line: 1 + dice.roll(book.log().len() + 1) as u64 },
    }
}

/// Something new, or something taken back or done again.
pub fn wish(book: &Book, history: &History, dice: &mut Dice) -> Intent {
    match dice.roll(10) {
        0 | 1 => Intent::Undo(None),
        2 => {
            let n = dice.roll(history.done().len());
            Intent::Undo(history.done().nth(n).map(|s| s.seq))
        }
        3 => Intent::Redo(None),
        _ => Intent::Do(edit(book, dice)),
    }
}

fn price(dice: &mut Dice) -> Money {
    Money::from_minor(dice.roll(5000) as i64)
}

fn add_item(book: &Book, dice: &mut Dice) -> Edit {
    let id = book.items().next();
    let item = Item {
        size: (dice.roll(4) > 0).then(|| dice.size()),
        measured: (dice.roll(4) == 0).then(|| dice.size()),
        grain: [Grain::Unknown, Grain::Long, Grain::Short][dice.roll(3)],
        one_way: dice.roll(2) == 0,
        order_number: if dice.roll(2) == 0 { String::new() } else { format!("T-{}", dice.roll(999)) },
        former_numbers: (0..dice.roll(3)).map(|n| format!("OLD-{n}")).collect(),
        pack: dice.roll(25) as u32,
        sold_alone: dice.roll(2) == 0,
        low: dice.roll(10) as u32,
        price: (dice.roll(2) == 0).then(|| price(dice)),
        state: match dice.roll(5) {
            0 => State::Leaving(dice.day()),
            1 => State::Gone,
            2 => State::Arriving(dice.day()),
            _ => State::Current,
        },
        gsm: (dice.roll(2) == 0).then(|| 80 + dice.roll(300) as u32),
        caliper: (dice.roll(3) == 0).then(|| Caliper { micrometres: 300, measured: dice.roll(2) == 0 }),
        lead_days: dice.roll(30) as u16,
        place: dice.name(),
        swatch: book.swatches().iter().next().map(|(s, _)| s),
        ..Item::new(dice.name(), Kind::ALL[dice.roll(7)])
    };
    let first = Edit::Log(NewLine::received(id, 1 + dice.roll(48) as u32, "opening count"));
    Edit::batch(format!("added {}", item.name), vec![Edit::Item(Row::add(id, item)), first])
}

fn alter_item(book: &Book, dice: &mut Dice, id: ItemId) -> Edit {
    let was = book.items().get(id).unwrap().clone();
    let now = Item { low: dice.roll(10) as u32, note: dice.name(), ..was.clone() };
    Edit::Item(Row::alter(id, was, now))
}

fn keep_offcut(book: &Book, dice: &mut Dice, item: ItemId) -> Edit {
    let id = book.offcuts().next();
    let offcut = Offcut {
        item,
        size: dice.size(),
        grain: Grain::Short,
        job: dice.name(),
        since: Some(DAY),
        place: String::new(),
        note: String::new(),
    };
    let line = Edit::Log(NewLine::offcut_made(item, id, 1 + dice.roll(5) as u32, "cards"));
    Edit::batch("kept offcuts", vec![Edit::Offcut(Row::add(id, offcut)), line])
}

fn use_offcut(book: &Book, dice: &mut Dice) -> Option<Edit> {
    let (id, offcut) = dice.pick(book.offcuts().iter().collect())?;
    Some(Edit::Log(NewLine::offcut_used(offcut.item, id, 1 + dice.roll(3) as u32, "tags")))
}

fn add_swatch(book: &Book, dice: &mut Dice) -> Edit {
    let lab = [
        dice.roll(1000) as f64 / 10.0,
        dice.roll(999) as f64 / 7.0 - 70.0,
        dice.roll(999) as f64 / 7.0 - 70.0,
    ];
    let swatch = NamedColour {
        name: dice.name(),
        family: "green".into(),
        lab,
        measured: true,
        hex: [dice.roll(256) as u8, 2, 3],
        former_names: Vec::new(),
        note: String::new(),
    };
    Edit::Swatch(Row::add(book.swatches().next(), swatch))
}

fn card(book: &Book, dice: &mut Dice) -> ProjectCard {
    let papers: Vec<Option<ItemId>> = book.items().iter().take(2).map(|(id, _)| Some(id)).collect();
    let reveals = [Length::sixteenths(2), Length::sixteenths(1)];
    ProjectCard {
        base_paper: papers.first().copied().flatten().map(PaperRef::Shelf),
        base: Some(dice.size()),
        spares: dice.roll(4) as u32,
        ..ProjectCard::new(dice.name(), dice.size()).with_mats(&reveals, &papers)
    }
}

/// Now and then one that is seen as it is no more.
fn loose_card(book: &Book, dice: &mut Dice) -> Edit {
    let was = book.loose_card().cloned().filter(|_| dice.roll(8) > 0).map(Box::new);
    Edit::LooseCard { was, now: Some(Box::new(card(book, dice))) }
}

fn add_project(book: &Book, dice: &mut Dice) -> Edit {
    let card = card(book, dice);
    let paper = card.base_item();
    let piece = PieceWanted {
        paper,
        allowance: Length::sixteenths(dice.roll(3) as i64),
        grain: Grain::Long,
        ..PieceWanted::new("strip", dice.size(), 2)
    };
    let project = Project {
        date: Some(dice.day()),
        seats: dice.roll(20) as u32,
        samples: 1,
        spoilage_percent: 5,
        seat_price: Some(price(dice)),
        teaching: Teaching {
            sets_a_seat: 1 + dice.roll(3) as u32,
            spare_sets: dice.roll(3) as u32,
            prepare_minutes: dice.roll(200) as u32,
            teach_minutes: dice.roll(200) as u32,
            room: Some(price(dice)),
            adhesive: Some(price(dice)),
            ink: Some(price(dice)),
            margin: Some(dice.roll(100) as u32),
        },
        afterwards: Afterwards {
            came: Some(dice.roll(20) as u32),
            paid: Some(dice.roll(20) as u32),
            sales: vec![Sale {
                on: dice.day(),
                kind: [SaleKind::Item, SaleKind::Kit, SaleKind::KitUsed][dice.roll(3)],
                what: dice.name(),
                count: 1 + dice.roll(4) as u32,
                takings: price(dice),
                cost: price(dice),
                from_shelf: dice.roll(2) == 0,
            }],
        },
        attendees: vec![dice.name()],
        cards: vec![card],
        pieces: vec![piece],
        supplies: paper.map(|item| Supply { item, count: 3 }).into_iter().collect(),
        ..Project::new(dice.name())
    };
    let id = book.projects().next();
    let active = Edit::Activate { was: book.active(), now: Some(id) };
    Edit::batch("a new project", vec![Edit::Project(Row::add(id, project)), active])
}

fn book_sheets(book: &Book, dice: &mut Dice, item: ItemId) -> Option<Edit> {
    if dice.roll(3) == 0 {
        let (id, _) = dice.pick(book.bookings().iter().collect())?;
        return Some(Edit::Booking(Row::Remove(id)));
    }
    let (project, _) = dice.pick(book.projects().iter().collect())?;
    let booking = Booking {
        project,
        item,
        offcut: None,
        count: 1 + dice.roll(9) as u32,
        pieces: 4,
        on: Some(dice.day()),
    };
    Some(Edit::Booking(Row::add(book.bookings().next(), booking)))
}

fn order(book: &Book, dice: &mut Dice, item: ItemId) -> Edit {
    let order = Order { note: dice.name(), ..Order::of(item, 1 + dice.roll(9) as u32, DAY) };
    Edit::Order(Row::add(book.orders().next(), order))
}

/// What the Stock pane and its commands make in one step: counting, ordering, classes, the yearly list.
fn day_at_the_shelf(book: &Book, dice: &mut Dice, item: ItemId) -> Option<Edit> {
    let come = Come {
        price: (dice.roll(2) == 0).then(|| price(dice)),
        on: (dice.roll(2) == 0).then(|| dice.day()),
        lot: dice.name(),
    };
    match dice.roll(13) {
        0 => {
            let counted: Vec<(ItemId, u32)> =
                book.items().iter().take(4).map(|(id, _)| (id, dice.roll(40) as u32)).collect();
            shelf::count_day(book, &counted)
        }
        1 => {
            let used = 1 + dice.roll(50) as u32;
            Some(shelf::adjust_then_use(book, item, used + dice.roll(3) as u32, used, "cards"))
        }
        2 => Some(shelf::ordered(book, item, 1 + dice.roll(30) as u32, DAY)),
        12 => {
            let (id, _) = dice.pick(book.orders().iter().collect())?;
            let change = OrderChange {
                count: (dice.roll(2) == 0).then(|| dice.roll(20) as u32),
                due: (dice.roll(2) == 0).then(|| (dice.roll(2) == 0).then(|| dice.day())),
                price: (dice.roll(3) == 0).then(|| (dice.roll(2) == 0).then(|| price(dice))),
                seller: (dice.roll(3) == 0).then(|| dice.name()),
            };
            orders::change(book, id, &change).ok()?
        }
        3 => {
            let (id, order) = dice.pick(book.orders().iter().collect())?;
            match shelf::parcel(book, id) {
                Some((_, orders)) => shelf::parcel_arrived(book, &orders, (1, 1), &come),
                None => shelf::arrived(book, id, 1 + dice.roll(order.count as usize + 2) as u32, &come),
            }
        }
        4 => {
            let (pack, _) = dice.pick(book.assortments().iter().collect())?;
            shelf::ordered_pack(book, pack, 1 + dice.roll(3) as u32, DAY)
        }
        5 => {
            let (pack, _) = dice.pick(book.assortments().iter().collect())?;
            shelf::receive_assortment(book, pack, 1 + dice.roll(3) as u32, &come)
        }
        6 => {
            let (project, _) = dice.pick(book.projects().iter().collect())?;
            // The first plan that comes is as good as any here.
            let job = planning::job_of(book, project, &planning::trimmer(book))?;
            let plan = Solver::new(job.job.clone(), 1).plan();
            class::book_plan(book, Settled { job: &job, plan: &plan }).ok()?
        }
        7 => {
            let (project, _) = dice.pick(book.projects().iter().collect())?;
            class::taught(book, project, OpenPapers::Used).ok()
        }
        8 => {
            let (project, _) = dice.pick(book.projects().iter().collect())?;
            class::taught(book, project, OpenPapers::Back).ok()
        }
        9 => {
            let (project, _) = dice.pick(book.projects().iter().collect())?;
            if dice.roll(2) == 0 {
                class::cancel(book, project).ok()
            } else {
                Some(class::new_class(book, &dice.name(), dice.roll(20) as u32, Some(project)))
            }
        }
        10 => {
            let new = dice.name();
            let rows: Vec<StockRow> = book
                .items()
                .iter()
                .filter(|_| dice.roll(3) > 0)
                .map(|(_, i)| StockRow {
                    name: i.name.clone(),
                    kind: i.kind,
                    size: i.size,
                    ..StockRow::default()
                })
                .chain([StockRow { name: new, ..StockRow::default() }])
                .zip(2..)
                .map(|(row, line)| StockRow { line, ..row })
                .collect();
            refresh::refresh(book, "", &rows, dice.day(), dice.day()).edit
        }
        _ => refresh::turn_of(book, dice.day()),
    }
}

fn three_swatches(book: &Book, dice: &mut Dice) -> Option<[SwatchId; 3]> {
    let all: Vec<SwatchId> = book.swatches().iter().map(|(id, _)| id).collect();
    let from = dice.roll(all.len());
    let at = |n: usize| all.get((from + n) % all.len().max(1)).copied();
    (all.len() >= 3).then_some([at(0)?, at(1)?, at(2)?])
}

fn keep_trio(book: &Book, dice: &mut Dice) -> Option<Edit> {
    let swatches = three_swatches(book, dice)?;
    let dismissed = dice.roll(3) == 0;
    let trio = KeptTrio {
        name: dice.name(),
        swatches,
        favourite: !dismissed,
        own: false,
        dismissed,
        note: String::new(),
    };
    Some(taste::keep(book, trio))
}

fn merge_swatches(book: &Book, dice: &mut Dice) -> Option<Edit> {
    let [one, two, _] = three_swatches(book, dice)?;
    merge::merge(book, one, two).ok()
}

fn note_colours(book: &Book, dice: &mut Dice) -> Option<Edit> {
    let swatches = three_swatches(book, dice)?;
    let (paper, _) =
        dice.pick(book.items().iter().filter(|(_, i)| i.kind == Kind::PatternedPaper).collect())?;
    let side = if dice.roll(2) == 0 { PaperSide::Front } else { PaperSide::Back };
    papers::adding(book, paper, side, &swatches)
}

fn odd_rows(book: &Book, dice: &mut Dice, item: ItemId) -> Edit {
    match dice.roll(9) {
        4 => keep_trio(book, dice).unwrap_or(Edit::Item(Row::Remove(item))),
        5 => merge_swatches(book, dice).unwrap_or(Edit::Item(Row::Remove(item))),
        6 => note_colours(book, dice).unwrap_or(Edit::Item(Row::Remove(item))),
        7 => taste::forget(book).unwrap_or(Edit::Item(Row::Remove(item))),
        8 => three_swatches(book, dice)
            .map_or(Edit::Item(Row::Remove(item)), |[one, ..]| taste::remove_swatch(book, one)),
        0 => Edit::Item(Row::Remove(item)),
        1 => {
            let was = book.settings().clone();
            let now = BookSettings { spoilage_percent: dice.roll(20) as u32, ..was.clone() };
            Edit::Settings { was: Box::new(was), now: Box::new(now) }
        }
        2 => {
            let format = SheetFormat { name: dice.name(), size: dice.size(), note: String::new() };
            Edit::Format(Row::add(book.formats().next(), format))
        }
        _ => {
            let assortment = Assortment {
                name: dice.name(),
                order_number: "A-1".into(),
                seller: String::new(),
                price: None,
                contents: vec![(item, 4)],
                state: State::Current,
                note: String::new(),
            };
            Edit::Assortment(Row::add(book.assortments().next(), assortment))
        }
    }
}

/// The fold of the log, worked out anew: sheets by item, pieces by offcut.
pub fn folded(book: &Book) -> std::collections::BTreeMap<(ItemId, Option<u32>), i64> {
    let mut sums = std::collections::BTreeMap::new();
    for line in book.log() {
        let own = match line.voids {
            Some(target) => {
                let voided = &book.log()[target as usize - 1];
                assert_eq!(
                    (line.reason, line.change, line.item),
                    (Reason::Voided, -voided.change, voided.item)
                );
                line.change
            }
            None => line.change,
        };
        *sums.entry((line.item, line.offcut.map(RecordKey::number))).or_insert(0) += own;
    }
    sums
}
