//! What is typed in the Stock pane: opening each prompt, reading it back while it is typed, taking it.
//!
//! Where one line holds several figures they are parted by commas and told apart by what they are: a day has the form
//! 2026-11-25, a price is a number, anything else is the mark of the lot.

use super::{classes, count as walk, form, list, packs, reorder};
use crate::app::commands::CommandId;
use crate::app::effect::{Content, Effect};
use crate::app::model::Model;
use crate::app::overlay::{Echo, Prompt, Purpose, StockAsk};
use crate::app::prompt;
use crate::app::state::stock::bin;
use crate::app::status::Status;
use crate::app::update;
use crate::domain::book::Book;
use crate::domain::edit::{Edit, Row, count_of};
use crate::domain::length::Unit;
use crate::domain::money::Money;
use crate::domain::reckon;
use crate::domain::settings::BookSettings;
use crate::domain::size::{Grain, Size};
use crate::domain::stock::import::{self, StockRow};
use crate::domain::stock::lot::mixed_lots;
use crate::domain::stock::shelf::{self, Come};
use crate::domain::stock::shortage::taken_from_others;
use crate::domain::stock::{Item, ItemId, Kind, NewLine, Offcut, OffcutId, State};
use jiff::civil::Date;

/// More of anything than a shelf holds.
const MOST: u32 = 1_000_000;

/// A whole number from `least`.
///
/// # Errors
/// A sentence.
pub fn count(text: &str, least: u32) -> Result<u32, String> {
    match text.trim().parse::<u32>() {
        Ok(n) if n >= least && n <= MOST => Ok(n),
        _ => Err(format!("\"{}\" is not a count: write a whole number from {least} to {MOST}", text.trim())),
    }
}

/// A day.
///
/// # Errors
/// A sentence.
pub fn day(text: &str) -> Result<Date, String> {
    text.trim().parse().map_err(|_| format!("\"{}\" is not a day: write it as 2026-11-25", text.trim()))
}

/// A count and what is known of the parcel: `24, 9.00, 2026-11-25, lot B`.
///
/// # Errors
/// A sentence.
pub fn come(text: &str, currency: &str) -> Result<(u32, Come), String> {
    let mut parts = text.split(',').map(str::trim);
    let n = count(parts.next().unwrap_or_default(), 1)?;
    let mut come = Come::default();
    for part in parts.filter(|p| !p.is_empty()) {
        if let Ok(on) = part.parse::<Date>() {
            come.on = Some(on);
        } else if let Some(mark) = part.strip_prefix("lot ") {
            mark.trim().clone_into(&mut come.lot);
        } else if part.starts_with(|c: char| c.is_ascii_digit()) || part.starts_with(currency) {
            come.price = Some(Money::parse(part, currency).map_err(|e| e.to_string())?);
        } else {
            part.clone_into(&mut come.lot);
        }
    }
    Ok((n, come))
}

fn come_words(come: &Come, book: &Book) -> String {
    let price = come.price.map_or_else(
        || ", without a price".to_owned(),
        |p| format!(" for {} in all", p.show(&book.settings().currency)),
    );
    let on = come.on.map_or_else(String::new, |day| format!(", on {day}"));
    let lot = if come.lot.is_empty() { String::new() } else { format!(", lot {}", come.lot) };
    format!("{price}{on}{lot}")
}

/// Opens the prompt of a command.
pub fn open(model: &mut Model, id: CommandId) {
    use CommandId as Id;
    match id {
        Id::UseTyped => {
            prompt::open(model, Purpose::Stock(StockAsk::UseTyped), "Used (4 sheets of fern):", "");
        }
        Id::NewItem => prompt::open(
            model,
            Purpose::Stock(StockAsk::NewItem),
            "New line: name, kind, size, on hand (fern, plain sheet, 8-1/2x11, 24):",
            "",
        ),
        Id::NewPack => {
            let label = format!(
                "A pack of these {}: name, order number, of each, price:",
                count_of(model.stock.shown.len() as u64, "line")
            );
            prompt::open(model, Purpose::Stock(StockAsk::NewPack), &label, "");
        }
        Id::ExportList => prompt::open(
            model,
            Purpose::Stock(StockAsk::ShelfFile),
            "Write the shelf to the file:",
            "stock.csv",
        ),
        Id::OffcutFloor => {
            let floor = model.book.settings().offcut_floor.about(model.screen.unit);
            let label = "Leftovers that do not hold a piece of this size are not kept:";
            prompt::open(model, Purpose::Stock(StockAsk::OffcutFloor), label, &floor);
        }
        Id::OffcutUse | Id::OffcutAdjust | Id::OffcutEdit => open_offcut(model, id),
        _ => open_count(model, id),
    }
}

fn open_count(model: &mut Model, id: CommandId) {
    let Some(item) = model.stock.picked_item() else { return };
    let name = model.book.items().name_of(item);
    let held = model.book.on_hand(item);
    match id {
        CommandId::Use => {
            prompt::open(model, Purpose::Use(item), &format!("{name}, {held} on hand. Used:"), "");
        }
        CommandId::Receive => {
            let label = format!("{name}. Came in (24, price of all, day, lot):");
            prompt::open(model, Purpose::Receive(item), &label, "");
        }
        CommandId::Adjust => {
            let label = format!("{name}: the book says {held}. Really there:");
            prompt::open(model, Purpose::Adjust(item), &label, "");
        }
        CommandId::ItemState => {
            let now = model.book.items().get(item).map(|i| i.state.to_string()).unwrap_or_default();
            let label = format!("{name} is (current, leaving 2027-08-31, gone, arriving 2027-09-01):");
            prompt::open(model, Purpose::Stock(StockAsk::State(item)), &label, &now);
        }
        _ => {
            let now = model.book.items().get(item).map_or((0, 0), |i| (i.low, i.lead_days));
            let text = if now.1 == 0 { now.0.to_string() } else { format!("{}, {}", now.0, now.1) };
            let label = format!("{name}. Reorder below (12, or 12 and days to arrive: 12, 10):");
            prompt::open(model, Purpose::LowMark(item), &label, &text);
        }
    }
}

fn open_offcut(model: &mut Model, id: CommandId) {
    let all = bin(&model.book);
    let row = model.stock.cursor.row(all.len()).and_then(|n| all.get(n));
    let Some(offcut) = row.copied() else { return };
    let (name, held) = (model.book.offcut_title(offcut), model.book.offcut_count(offcut));
    if id == CommandId::OffcutEdit {
        let Some(seen) = model.book.offcuts().get(offcut).cloned() else { return };
        let text = format!("{}, {}", seen.grain.word(), seen.place);
        let ask = StockAsk::OffcutKept(offcut, Box::new(seen));
        let label = "Grain and place (long, bin 2):";
        prompt::open(model, Purpose::Stock(ask), label, text.trim_end_matches([',', ' ']));
    } else if id == CommandId::OffcutUse {
        let label = format!("{name}, {held} there. Used:");
        prompt::open(model, Purpose::Stock(StockAsk::OffcutUse(offcut)), &label, "1");
    } else {
        let label = format!("{name}: the book says {held}. Really there:");
        prompt::open(model, Purpose::Stock(StockAsk::OffcutAdjust(offcut)), &label, "");
    }
}

fn too_many(model: &Model, id: ItemId, wanted: u32) -> String {
    let name = model.book.items().name_of(id);
    let held = model.book.on_hand(id);
    format!("{wanted} of {name} cannot go, {held} on hand. Tab: the count was wrong, adjust it, then use")
}

/// The prompt that Tab leads to: the count was wrong, so it is adjusted and then used.
pub fn other_way(model: &Model, purpose: &Purpose, text: &str) -> Option<Prompt> {
    let (item, wanted) = match purpose {
        Purpose::Use(item) | Purpose::UseSheets(item) => (*item, count(text, 1).ok()?),
        Purpose::Stock(StockAsk::UseTyped) => typed_use(&model.book, text).ok()?,
        _ => return None,
    };
    let (name, held) = (model.book.items().name_of(item), model.book.on_hand(item));
    if u64::from(wanted) <= held {
        return None;
    }
    Some(Prompt {
        purpose: Purpose::Stock(StockAsk::AdjustThenUse(item, wanted)),
        label: format!("{name}: the book says {held}, {wanted} are used. Were really there:"),
        field: crate::app::input::field::Field::with(&wanted.to_string()),
        echo: Echo::Read("none left then".to_owned()),
    })
}

/// How a count is read, while it is typed.
pub fn echo_count(model: &Model, purpose: &Purpose, text: &str) -> Echo {
    let held = |id: &ItemId| model.book.on_hand(*id);
    let read = match purpose {
        Purpose::Use(id) | Purpose::UseSheets(id) => count(text, 1).and_then(|n| use_words(model, *id, n)),
        Purpose::Receive(id) => come(text, &model.book.settings().currency)
            .map(|(n, come)| format!("{} then{}", held(id) + u64::from(n), come_words(&come, &model.book))),
        Purpose::Adjust(id) => {
            count(text, 0).map(|n| format!("{:+} against the book", i64::from(n) - held(id) as i64))
        }
        Purpose::LowMark(_) => mark(text).map(|(low, days)| {
            let days = days.map_or_else(String::new, |d| format!(", {d} days from order to arrival"));
            format!("reorder when fewer than {low} are free{days}")
        }),
        _ => return Echo::Nothing,
    };
    read.map_or_else(Echo::Refused, Echo::Read)
}

/// Takes a count.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept_count(model: &mut Model, purpose: &Purpose, text: &str) -> Result<Vec<Effect>, String> {
    let edit = match purpose {
        Purpose::Use(id) | Purpose::UseSheets(id) => return used(model, *id, count(text, 1)?),
        Purpose::Receive(id) => {
            let (n, come) = come(text, &model.book.settings().currency)?;
            Edit::Log(come.received(*id, n))
        }
        Purpose::Adjust(id) => {
            let difference = i64::from(count(text, 0)?) - model.book.on_hand(*id) as i64;
            if difference == 0 {
                model.tell(Status::note("The count was right: nothing to adjust."));
                return Ok(Vec::new());
            }
            Edit::Log(NewLine::adjusted(*id, difference, "counted"))
        }
        Purpose::LowMark(id) => {
            let (low, days) = mark(text)?;
            return change_item(model, *id, |i| {
                i.low = low;
                i.lead_days = days.unwrap_or(i.lead_days);
            });
        }
        _ => return Ok(Vec::new()),
    };
    update::make(model, edit)
}

/// A low mark, and the days from order to arrival where they are said.
fn mark(text: &str) -> Result<(u32, Option<u16>), String> {
    let Some((low, days)) = text.split_once(',') else { return Ok((count(text, 0)?, None)) };
    let words = || format!("\"{}\" is no number of days: write 0 to 365", days.trim());
    let days = days.trim().parse::<u16>().ok().filter(|d| *d <= 365).ok_or_else(words)?;
    Ok((count(low, 0)?, Some(days)))
}

/// What a use leaves, and what to mind: sheets that are set aside, lots that would mix.
fn use_words(model: &Model, id: ItemId, n: u32) -> Result<String, String> {
    let book = &model.book;
    let left = book.on_hand(id).checked_sub(u64::from(n)).ok_or_else(|| too_many(model, id, n))?;
    let from = taken_from_others(book, book.active(), id, u64::from(n));
    let booked = from.map(|w| format!(", {w}")).unwrap_or_default();
    let mixed = mixed_lots(book, id, u64::from(n)).map(|w| format!(". {w}")).unwrap_or_default();
    Ok(format!("{left} left{booked}{mixed}"))
}

/// Logs a use for the active project.
fn used(model: &mut Model, id: ItemId, n: u32) -> Result<Vec<Effect>, String> {
    if u64::from(n) > model.book.on_hand(id) {
        return Err(too_many(model, id, n));
    }
    let job = model.book.active_project().map(|p| p.name.clone()).unwrap_or_default();
    let from = taken_from_others(&model.book, model.book.active(), id, u64::from(n));
    let from = from.map(|w| format!("Logged: it {w}."));
    let warnings: Vec<String> = from.into_iter().chain(mixed_lots(&model.book, id, u64::from(n))).collect();
    let effects = update::make(model, Edit::Log(NewLine::used(id, n, job)))?;
    if !warnings.is_empty() {
        model.tell(Status::refused(warnings.join(" ")));
    }
    Ok(effects)
}

/// `4 sheets of fern`, `4 of fern`, `4 fern`: how many of what.
fn typed_use(book: &Book, text: &str) -> Result<(ItemId, u32), String> {
    let words = || "write how many of what: 4 sheets of fern".to_owned();
    let (n, rest) = text.trim().split_once(char::is_whitespace).ok_or_else(words)?;
    let n = count(n, 1)?;
    let rest = rest.trim();
    // A name may begin with such a word itself, so the whole rest is tried first.
    let find = |name: &str| book.find_item(name).map_err(|e| e.to_string());
    let short = ["sheets of ", "sheet of ", "of ", "sheets ", "sheet "];
    let name = short.iter().find_map(|word| rest.strip_prefix(word)).unwrap_or(rest);
    find(rest).or_else(|_| find(name)).map(|id| (id, n))
}

fn change_item(model: &mut Model, id: ItemId, change: impl FnOnce(&mut Item)) -> Result<Vec<Effect>, String> {
    let was = model.book.items().get(id).cloned().ok_or("this line is gone")?;
    let mut now = was.clone();
    change(&mut now);
    if now == was {
        return Ok(Vec::new());
    }
    update::make(model, Edit::Item(Row::alter(id, was, now)))
}

/// How a text is read, while it is typed.
pub fn echo(model: &Model, ask: &StockAsk, text: &str) -> Echo {
    let book = &model.book;
    let read = match ask {
        StockAsk::AdjustThenUse(_, used) => count(text, *used).map(|n| format!("{} left then", n - used)),
        StockAsk::UseTyped => typed_use(book, text).and_then(|(id, n)| {
            use_words(model, id, n).map(|words| format!("{}: {words}", book.items().name_of(id)))
        }),
        StockAsk::NewItem => new_item(text, model.screen.unit).map(|r| new_item_words(&r, model.screen.unit)),
        StockAsk::ItemField(field, seen) => form::words(model, *field, seen, text),
        StockAsk::State(_) => state(text).map(|s| s.to_string()),
        StockAsk::ReceivePack(_) => {
            come(text, &book.settings().currency).map(|(n, c)| format!("{n} packs{}", come_words(&c, book)))
        }
        StockAsk::PackField(id, field, seen) => packs::words(model, *id, *field, seen, text),
        StockAsk::NewPack => packs::new_pack(model, text)
            .map(|a| format!("{} of each, {} lines", a.contents[0].1, a.contents.len())),
        StockAsk::OffcutUse(id) => offcut_left(book, *id, text).map(|left| format!("{left} left")),
        StockAsk::OffcutAdjust(id) => count(text, 0)
            .map(|n| format!("{:+} against the book", i64::from(n) - book.offcut_count(*id) as i64)),
        StockAsk::OffcutAdd(_) => offcut(text, model.screen.unit).map(|(size, n, grain)| {
            let grain =
                if grain == Grain::Unknown { String::new() } else { format!(", grain {}", grain.word()) };
            format!("{n} of {}{grain}", size.show_with_unit(model.screen.unit))
        }),
        StockAsk::OffcutKept(_, seen) => {
            let now = kept(seen, text);
            Ok(format!("grain {}, place {}", now.grain.word(), now.place))
        }
        StockAsk::OffcutFloor => prompt::size_words(text, model.screen.unit),
        StockAsk::Arrived(id) => reorder::arrived_words(model, *id, text),
        StockAsk::Counted(row) => return walk::echo(model, *row, text),
        StockAsk::ClassField(id, row) => return classes::echo(model, *id, *row, text),
        StockAsk::BookingDay(id) => return classes::echo(model, *id, classes::DAY, text),
        StockAsk::ListLast | StockAsk::ListFirst => day(text).map(|d| d.to_string()),
        StockAsk::ListFile(_)
        | StockAsk::ShelfFile
        | StockAsk::OrderFile
        | StockAsk::ListSeller
        | StockAsk::ClassName(_) => return Echo::Nothing,
    };
    read.map_or_else(Echo::Refused, Echo::Read)
}

/// Takes a text.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept(model: &mut Model, ask: &StockAsk, text: &str) -> Result<Vec<Effect>, String> {
    let job = model.book.active_project().map(|p| p.name.clone()).unwrap_or_default();
    let edit = match ask {
        StockAsk::AdjustThenUse(id, used) => {
            shelf::adjust_then_use(&model.book, *id, count(text, *used)?, *used, &job)
        }
        StockAsk::UseTyped => {
            let (id, n) = typed_use(&model.book, text)?;
            return used(model, id, n);
        }
        StockAsk::NewItem => {
            let row = new_item(text, model.screen.unit)?;
            let plan = import::import(&model.book, &[row]);
            if let Some(bad) = plan.refused.first() {
                return Err(bad.why.clone());
            }
            let [name] = plan.added.as_slice() else {
                return Err("this line is on the shelf already: / finds it".to_owned());
            };
            let label = format!("put {name} on the shelf");
            let edit = match plan.edit() {
                Some(Edit::Batch { edits, .. }) => Edit::batch(label, edits),
                other => other.ok_or("there is nothing to add")?,
            };
            let id = model.book.items().next();
            let effects = update::make(model, edit)?;
            model.stock.show(id, &model.book, model.today);
            return Ok(effects);
        }
        StockAsk::ItemField(field, seen) => return form::accept(model, *field, seen, text),
        StockAsk::State(id) => {
            let state = state(text)?;
            return change_item(model, *id, |i| i.state = state);
        }
        StockAsk::ReceivePack(id) => {
            let (packs, come) = come(text, &model.book.settings().currency)?;
            shelf::receive_assortment(&model.book, *id, packs, &come).ok_or("this pack is gone")?
        }
        StockAsk::PackField(id, field, seen) => return packs::accept(model, *id, *field, seen, text),
        StockAsk::NewPack => {
            let pack = packs::new_pack(model, text)?;
            Edit::Assortment(Row::add(model.book.assortments().next(), pack))
        }
        StockAsk::OffcutUse(id) => {
            offcut_left(&model.book, *id, text)?;
            let item = model.book.offcuts().get(*id).map(|o| o.item).ok_or("this offcut is gone")?;
            Edit::Log(NewLine::offcut_used(item, *id, count(text, 1)?, job))
        }
        StockAsk::OffcutAdjust(id) => {
            let item = model.book.offcuts().get(*id).map(|o| o.item).ok_or("this offcut is gone")?;
            let difference = i64::from(count(text, 0)?) - model.book.offcut_count(*id) as i64;
            if difference == 0 {
                model.tell(Status::note("The count was right: nothing to adjust."));
                return Ok(Vec::new());
            }
            Edit::Log(NewLine { offcut: Some(*id), ..NewLine::adjusted(item, difference, "counted") })
        }
        StockAsk::OffcutAdd(item) => add_offcut(&model.book, *item, text, model.screen.unit, model.today)?,
        StockAsk::OffcutKept(id, seen) => {
            let now = kept(seen, text);
            if now == **seen {
                return Ok(Vec::new());
            }
            Edit::Offcut(Row::alter(*id, (**seen).clone(), now))
        }
        StockAsk::OffcutFloor => {
            let was = model.book.settings().clone();
            let now = BookSettings { offcut_floor: reckon::size(text, model.screen.unit)?, ..was.clone() };
            Edit::Settings { was: Box::new(was), now: Box::new(now) }
        }
        StockAsk::Arrived(id) => reorder::arrived(model, *id, text)?,
        StockAsk::Counted(row) => return walk::accept(model, *row, text),
        StockAsk::ClassName(like) => return classes::accept_name(model, *like, text),
        StockAsk::ClassField(id, row) => return classes::accept(model, *id, *row, text),
        StockAsk::BookingDay(id) => return classes::accept_day(model, *id, text),
        StockAsk::ListFile(what) => return list::ask(model, *what, text),
        StockAsk::ListSeller | StockAsk::ListLast | StockAsk::ListFirst => {
            return list::accept(model, ask, text);
        }
        StockAsk::OrderFile => return reorder::export(model, text),
        StockAsk::ShelfFile => {
            let content = Content::Shelf(model.screen.unit);
            return Ok(vec![Effect::WriteFile { path: file(text)?, content }]);
        }
    };
    update::make(model, edit)
}

/// The name of a file.
///
/// # Errors
/// A sentence where nothing is typed.
pub fn file(text: &str) -> Result<String, String> {
    match text.trim() {
        "" => Err("write the name of a file, such as stock.csv".to_owned()),
        path => Ok(path.to_owned()),
    }
}

pub(super) fn state(text: &str) -> Result<State, String> {
    State::from_words(text).ok_or_else(|| {
        format!("\"{}\": write current, leaving 2027-08-31, gone or arriving 2027-09-01", text.trim())
    })
}

/// `fern, plain sheet, 8-1/2x11, 24`: the kind tells where the name, which may hold commas, ends.
fn new_item(text: &str, unit: Unit) -> Result<StockRow, String> {
    let parts: Vec<&str> = text.split(',').map(str::trim).collect();
    let kinds: Vec<&str> = Kind::ALL.iter().map(|k| k.word()).collect();
    let kind = parts.iter().enumerate().skip(1).find_map(|(n, p)| Some((n, Kind::from_word(p)?)));
    let Some((at, kind)) = kind else {
        return Err(format!("after the name goes its kind: {}", kinds.join(", ")));
    };
    let mut row = StockRow { line: 1, name: parts[..at].join(", "), kind, ..StockRow::default() };
    for part in parts[at + 1..].iter().filter(|p| !p.is_empty()) {
        match count(part, 0) {
            Ok(n) => row.on_hand = Some(n),
            Err(_) => row.size = Some(Size::parse(part, unit).map_err(|e| e.to_string())?),
        }
    }
    Ok(row)
}

fn new_item_words(row: &StockRow, unit: Unit) -> String {
    let size = row.size.map_or_else(|| "without a size".to_owned(), |s| s.show_with_unit(unit));
    format!("{}, {}, {size}, {} on hand", row.name, row.kind.word(), row.on_hand.unwrap_or(0))
}

fn offcut_left(book: &Book, id: OffcutId, text: &str) -> Result<u64, String> {
    let (n, held) = (count(text, 1)?, book.offcut_count(id));
    held.checked_sub(u64::from(n)).ok_or_else(|| {
        let name = book.offcut_title(id);
        format!("{n} of {name} cannot go, {held} there: if the count was wrong, Esc, then a to adjust it")
    })
}

/// `4x11, 3, long`: a size, and where it is to be said a count and which way the grain runs.
fn offcut(text: &str, unit: Unit) -> Result<(Size, u32, Grain), String> {
    let mut parts = text.split(',').map(str::trim);
    let size = reckon::size(parts.next().unwrap_or_default(), unit)?;
    let (mut n, mut grain) = (1, Grain::Unknown);
    for part in parts.filter(|p| !p.is_empty()) {
        match Grain::from_word(part.trim_start_matches("grain ")) {
            Some(word) => grain = word,
            None => n = count(part, 1)?,
        }
    }
    Ok((size, n, grain))
}

/// `long, bin 2`: which way the grain runs, where that is the first word, and where the offcut lies.
fn kept(seen: &Offcut, text: &str) -> Offcut {
    let (first, rest) = text.split_once(',').unwrap_or((text, ""));
    let (grain, place) = match Grain::from_word(first.trim().trim_start_matches("grain ")) {
        Some(grain) => (grain, rest),
        None => (seen.grain, text),
    };
    Offcut { grain, place: place.trim().to_owned(), ..seen.clone() }
}

fn add_offcut(book: &Book, item: ItemId, text: &str, unit: Unit, today: Date) -> Result<Edit, String> {
    let (size, n, grain) = offcut(text, unit)?;
    let same = |o: &Offcut| o.item == item && o.size == size && o.grain == grain;
    let known = book.offcuts().iter().find(|(_, o)| same(o)).map(|(id, _)| id);
    let id = known.unwrap_or_else(|| book.offcuts().next());
    let mut edits = Vec::new();
    if known.is_none() {
        let offcut = Offcut {
            item,
            size,
            grain,
            job: String::new(),
            since: Some(today),
            place: String::new(),
            note: String::new(),
        };
        edits.push(Edit::Offcut(Row::add(id, offcut)));
    }
    edits.push(Edit::Log(NewLine::offcut_made(item, id, n, "")));
    let name = book.items().name_of(item);
    Ok(Edit::batch(format!("kept {} of {name}", count_of(u64::from(n), "offcut")), edits))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_of_a_parcel_are_told_apart_by_what_they_are() {
        let read = |t: &str| come(t, "$");
        assert_eq!(read("24").unwrap(), (24, Come::default()));
        let (n, all) = read("24, $9.50, 2026-11-20, lot 77").unwrap();
        assert_eq!((n, all.price, all.on), (24, Some(Money::from_minor(950)), "2026-11-20".parse().ok()));
        assert_eq!(all.lot, "77");
        assert_eq!(read("3,,blue mark").unwrap().1.lot, "blue mark");
        for bad in ["", "0", "x", "3, 9.999", "-4"] {
            assert!(read(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn a_new_line_may_have_commas_in_its_name() {
        let row = new_item("chalk, letter, plain sheet, 8-1/2x11, 24", Unit::Inch).unwrap();
        assert_eq!((row.name.as_str(), row.on_hand), ("chalk, letter", Some(24)));
        assert!(row.size.is_some());
        assert!(new_item("chalk", Unit::Inch).unwrap_err().contains("ink pad"));
        assert!(new_item("chalk, other, 3.5x", Unit::Inch).is_err());
    }
}
