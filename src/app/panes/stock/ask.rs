//! What is typed in the Stock pane: opening each prompt, reading it back while it is typed, taking it.
//!
//! Where one line holds several figures they are parted by commas and told apart by what they are: a day has the form
//! 2026-11-25, a price is a number, anything else is the mark of the lot.

use super::{class_more, classes, count as walk, list, packs, placing, reorder, several};
use crate::app::commands::CommandId;
use crate::app::ctx::Ctx;
use crate::app::effect::{Content, Effect};
use crate::app::input::field::TextField;
use crate::app::overlay::{Echo, Prompt, Purpose};
use crate::app::panes::stock::typed;
use crate::app::panes::stock::typed::count;
use crate::app::panes::stock::typed::day;
use crate::app::panes::stock::typed::prompt;
use crate::app::panes::stock::typed::state;
use crate::app::panes::stock::typed::{job_in_hand, kept, low_mark, paper_of};
use crate::app::reading::size_words;
use crate::app::reply::Replies;
use crate::app::reply::Reply;
use crate::app::state::forms::FormFor;
use crate::app::state::stock::StockPane;
use crate::app::state::stock::bin;
use crate::app::state::stock::texts::StockText;
use crate::app::status::Status;
use crate::domain::book::Book;
use crate::domain::edit::{Edit, Row};
use crate::domain::plural::count_of;
use crate::domain::reckon;
use crate::domain::settings::BookSettings;
use crate::domain::stock::lot::mixed_lots;
use crate::domain::stock::pace::pace;
use crate::domain::stock::shelf;
use crate::domain::stock::shortage::taken_from_others;
use crate::domain::stock::{Item, ItemId, NewLine, OffcutId};

/// The prompt of a command; nothing where no line is picked.
pub fn open(pane: &StockPane, ctx: &Ctx, id: CommandId) -> Option<Reply> {
    use CommandId as Id;
    Some(match id {
        Id::UseTyped => prompt(StockText::UseTyped, "Used (4 sheets of fern):", ""),
        Id::NewItem => Reply::Form(FormFor::NewLine(pane.picked_item())),
        Id::NewPack => Reply::Form(FormFor::NewPack(pane.shown.clone())),
        Id::ExportList => {
            let marked = pane.marked(ctx.book).len() as u64;
            let what = if marked == 0 {
                "the shelf".to_owned()
            } else {
                format!("{} marked", count_of(marked, "line"))
            };
            prompt(StockText::ShelfFile, format!("Write {what} to the file:"), "stock.csv")
        }
        Id::OffcutFloor => {
            let floor = ctx.book.settings().offcut_floor.about(ctx.unit);
            let label = "Leftovers that do not hold a piece of this size are not kept:";
            prompt(StockText::OffcutFloor, label, floor)
        }
        Id::OffcutUse | Id::OffcutAdjust | Id::OffcutEdit => return open_offcut(pane, ctx, id),
        _ => return open_count(pane, ctx, id),
    })
}

fn open_count(pane: &StockPane, ctx: &Ctx, id: CommandId) -> Option<Reply> {
    let item = pane.picked_item()?;
    let name = ctx.book.items().name_of(item);
    let held = ctx.book.on_hand(item);
    Some(match id {
        CommandId::Use => prompt(StockText::Use(item), format!("{name}, {held} on hand. Used:"), ""),
        CommandId::Receive => Reply::Form(FormFor::Receive(item)),
        CommandId::Adjust => {
            let label = format!("{name}: the book says {held}. You counted:");
            prompt(StockText::Adjust(item), label, "")
        }
        CommandId::ItemState => {
            let now = ctx.book.items().get(item).map(|i| i.state.to_string()).unwrap_or_default();
            let label = format!("{name} is (current, leaving 31 aug, gone, arriving 1 sep):");
            prompt(StockText::State(item), label, now)
        }
        _ => {
            let now = ctx.book.items().get(item).map_or((0, 0), |i| (i.low, i.lead_days));
            let text = if now.1 == 0 { now.0.to_string() } else { format!("{}, {}", now.0, now.1) };
            let by_pace = pace(ctx.book, item, ctx.today).and_then(|p| p.low_mark);
            let by_pace = by_pace.map_or_else(String::new, |n| format!(", by its pace {n}"));
            let label = format!("{name}. Reorder below (12, or 12 and days to arrive: 12, 10{by_pace}):");
            prompt(StockText::LowMark(item), label, text)
        }
    })
}

fn open_offcut(pane: &StockPane, ctx: &Ctx, id: CommandId) -> Option<Reply> {
    let all = bin(pane, ctx.book);
    let offcut = *all.get(pane.cursor.row(all.len())?)?;
    let (name, held) = (ctx.book.offcut_title(offcut), ctx.book.offcut_count(offcut));
    Some(match id {
        CommandId::OffcutEdit => {
            let seen = ctx.book.offcuts().get(offcut)?.clone();
            let text = format!("{}, {}", seen.grain.word(), seen.place);
            let text = text.trim_end_matches([',', ' ']);
            prompt(StockText::OffcutKept(offcut, Box::new(seen)), "Grain and place (long, bin 2):", text)
        }
        CommandId::OffcutUse => {
            prompt(StockText::OffcutUse(offcut), format!("{name}, {held} there. Used:"), "1")
        }
        _ => {
            let label = format!("{name}: the book says {held}. You counted:");
            prompt(StockText::OffcutAdjust(offcut), label, "")
        }
    })
}

fn too_many(book: &Book, id: ItemId, wanted: u32) -> String {
    let (name, held) = (book.items().name_of(id), book.on_hand(id));
    format!("only {held} of {name} on hand, not {wanted}. If the count is wrong, Tab adjusts it first")
}

/// The prompt that Tab leads to: the count was wrong, so it is adjusted and then used.
pub fn other_way(ctx: &Ctx, asked: &StockText, text: &str) -> Option<Prompt> {
    let (item, wanted) = match asked {
        StockText::Use(item) | StockText::UseSheets(item) => (*item, count(text, 1).ok()?),
        StockText::UseTyped => typed_use(ctx.book, text).ok()?,
        _ => return None,
    };
    let (name, held) = (ctx.book.items().name_of(item), ctx.book.on_hand(item));
    if u64::from(wanted) <= held {
        return None;
    }
    Some(Prompt {
        purpose: Purpose::Stock(StockText::AdjustThenUse(item, wanted)),
        label: format!("{name}: the book says {held}, {wanted} were used. How many were there:"),
        field: TextField::with(&wanted.to_string()),
        echo: Echo::Read("none left then".to_owned()),
        asked: None,
        completing: None,
        names: Vec::new(),
    })
}

/// What a use leaves, and what to mind: sheets that are set aside, lots that would mix.
fn use_words(book: &Book, id: ItemId, n: u32) -> Result<String, String> {
    let left = book.on_hand(id).checked_sub(u64::from(n)).ok_or_else(|| too_many(book, id, n))?;
    let from = taken_from_others(book, book.active(), id, u64::from(n));
    let booked = from.map(|w| format!(", {w}")).unwrap_or_default();
    let mixed = mixed_lots(book, id, u64::from(n)).map(|w| format!(". {w}")).unwrap_or_default();
    Ok(format!("{left} left{booked}{mixed}"))
}

/// Logs a use for the active project; what is to be minded is said after it.
fn used(book: &Book, id: ItemId, n: u32) -> Replies {
    if u64::from(n) > book.on_hand(id) {
        return Err(too_many(book, id, n));
    }
    let from = taken_from_others(book, book.active(), id, u64::from(n));
    let from = from.map(|w| format!("Logged: it {w}."));
    let warnings: Vec<String> = from.into_iter().chain(mixed_lots(book, id, u64::from(n))).collect();
    let mut replies = vec![Reply::Edit(Edit::Log(NewLine::used(id, n, job_in_hand(book))))];
    if !warnings.is_empty() {
        replies.push(Reply::refuse(warnings.join(" ")));
    }
    Ok(replies)
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

fn change_item(book: &Book, id: ItemId, change: impl FnOnce(&mut Item)) -> Replies {
    let was = book.items().get(id).cloned().ok_or("this line is gone")?;
    let mut now = was.clone();
    change(&mut now);
    Ok(if now == was { Vec::new() } else { vec![Reply::Edit(Edit::Item(Row::alter(id, was, now)))] })
}

/// An adjustment by what was counted beyond what the book says.
fn adjust(difference: i64, line: impl FnOnce(i64) -> NewLine) -> Reply {
    match difference {
        0 => Reply::Tell(Status::note("The count was right: nothing to adjust.")),
        by => Reply::Edit(Edit::Log(line(by))),
    }
}

/// How a text is read, while it is typed.
pub fn echo(pane: &StockPane, ctx: &Ctx, ask: &StockText, text: &str) -> Echo {
    use StockText as Text;
    let (book, unit) = (ctx.book, ctx.unit);
    let against =
        |held: u64| count(text, 0).map(|n| format!("{:+} against the book", i64::from(n) - held as i64));
    let read = match ask {
        Text::Use(id) | Text::UseSheets(id) => count(text, 1).and_then(|n| use_words(book, *id, n)),
        Text::Adjust(id) => against(book.on_hand(*id)),
        Text::LowMark(_) => low_mark(text).map(|(low, days)| {
            let days = days.map_or_else(String::new, |d| {
                format!(", {} from order to arrival", count_of(u64::from(d), "day"))
            });
            format!("reorder when fewer than {low} are free{days}")
        }),
        Text::AdjustThenUse(_, used) => count(text, *used).map(|n| format!("{} left then", n - used)),
        Text::UseTyped => typed_use(book, text).and_then(|(id, n)| {
            use_words(book, id, n).map(|words| format!("{}: {words}", book.items().name_of(id)))
        }),
        Text::ItemField(field, seen) => field.words(seen, text, &ctx.terms(), ctx.today),
        Text::State(_) => state(text).map(|s| s.to_string()),
        Text::PackField(id, field, seen) => packs::words(ctx, *id, *field, seen, text),
        Text::OfEach(each, rows) => several::words(ctx, *each, rows, text),
        Text::OffcutUse(id) => offcut_left(book, *id, text).map(|left| format!("{left} left")),
        Text::OffcutAdjust(id) => against(book.offcut_count(*id)),
        Text::OffcutKept(_, seen) => {
            let now = kept(seen, text);
            Ok(format!("grain {}, place {}", now.grain.word(), now.place))
        }
        Text::OffcutFloor => size_words(text, unit),
        Text::Counted(row) => return walk::echo(pane, ctx, *row, text),
        Text::ClassField(id, row) => return classes::echo(ctx, *id, *row, text),
        Text::Class(id, what) => return class_more::echo(ctx, *id, *what, text),
        Text::BookingDay(id) => return classes::echo(ctx, *id, classes::DAY, text),
        Text::ListLast | Text::ListFirst => day(text).map(|d| d.to_string()),
        Text::OrderPacks(_) | Text::StillToCome(_) | Text::OrderDue(_) => placing::words(ctx, ask, text),
        Text::Filter
        | Text::ListFile(_)
        | Text::ShelfFile
        | Text::YearFile(_)
        | Text::OrderFile
        | Text::ListSeller => {
            return Echo::Nothing;
        }
    };
    read.map_or_else(Echo::Refused, Echo::Read)
}

/// Takes a text.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept(pane: &mut StockPane, ctx: &Ctx, ask: &StockText, text: &str) -> Replies {
    use StockText as Text;
    if let Some(replies) = accept_count(ctx, ask, text)? {
        return Ok(replies);
    }
    let book = ctx.book;
    let edit = match ask {
        Text::Filter => {
            pane.filter_by(text, ctx.book, ctx.unit);
            return Ok(Vec::new());
        }
        Text::ItemField(field, seen) => {
            let edit = field.edit(seen, text, &ctx.terms(), ctx.today)?;
            return Ok(edit.map(Reply::Edit).into_iter().collect());
        }
        Text::State(id) => {
            let state = state(text)?;
            return change_item(book, *id, |i| i.state = state);
        }
        Text::PackField(id, field, seen) => return packs::accept(ctx, *id, *field, seen, text),
        Text::OfEach(each, rows) => return several::accept(ctx, *each, rows, text),
        Text::OffcutKept(id, seen) => {
            let now = kept(seen, text);
            if now == **seen {
                return Ok(Vec::new());
            }
            Edit::Offcut(Row::alter(*id, (**seen).clone(), now))
        }
        Text::OffcutFloor => {
            let was = book.settings().clone();
            let now = BookSettings { offcut_floor: reckon::size(text, ctx.unit)?, ..was.clone() };
            Edit::Settings { was: Box::new(was), now: Box::new(now) }
        }
        Text::Counted(row) => return walk::accept(pane, ctx, *row, text),
        Text::ClassField(id, row) => return classes::accept(ctx, *id, *row, text),
        Text::Class(id, what) => return class_more::accept(ctx, *id, *what, text),
        Text::BookingDay(id) => return classes::accept_day(ctx, *id, text),
        Text::ListFile(what) => return list::ask(ctx, *what, text),
        Text::ListSeller | Text::ListLast | Text::ListFirst => {
            list::accept(pane, ctx, ask, text)?;
            return Ok(Vec::new());
        }
        Text::OrderFile => return reorder::export(pane, ctx, text),
        Text::YearFile(year) => return classes::year_file(ctx, *year, text),
        Text::OrderPacks(_) | Text::StillToCome(_) | Text::OrderDue(_) => {
            return placing::accept(ctx, ask, text);
        }
        Text::ShelfFile => {
            let marked = several::items(&pane.marked(book));
            let content =
                if marked.is_empty() { Content::Shelf(ctx.unit) } else { Content::Lines(ctx.unit, marked) };
            return Ok(vec![Reply::Do(Effect::WriteFile { path: typed::file(text)?, content })]);
        }
        _ => return Ok(Vec::new()),
    };
    Ok(vec![Reply::Edit(edit)])
}

/// Takes how many there are, came or went; nothing for any other text.
fn accept_count(ctx: &Ctx, ask: &StockText, text: &str) -> Result<Option<Vec<Reply>>, String> {
    use StockText as Text;
    let book = ctx.book;
    let edit = match ask {
        Text::Use(id) | Text::UseSheets(id) => return used(book, *id, count(text, 1)?).map(Some),
        Text::Adjust(id) => {
            let difference = i64::from(count(text, 0)?) - book.on_hand(*id) as i64;
            return Ok(Some(vec![adjust(difference, |by| NewLine::adjusted(*id, by, "counted"))]));
        }
        Text::LowMark(id) => {
            let (low, days) = low_mark(text)?;
            return change_item(book, *id, |i| {
                i.low = low;
                i.lead_days = days.unwrap_or(i.lead_days);
            })
            .map(Some);
        }
        Text::AdjustThenUse(id, used) => {
            shelf::adjust_then_use(book, *id, count(text, *used)?, *used, &job_in_hand(book))
        }
        Text::UseTyped => {
            let (id, n) = typed_use(book, text)?;
            return used(book, id, n).map(Some);
        }
        Text::OffcutUse(id) => {
            offcut_left(book, *id, text)?;
            Edit::Log(NewLine::offcut_used(paper_of(book, *id)?, *id, count(text, 1)?, job_in_hand(book)))
        }
        Text::OffcutAdjust(id) => {
            let item = paper_of(book, *id)?;
            let difference = i64::from(count(text, 0)?) - book.offcut_count(*id) as i64;
            let line = |by| NewLine { offcut: Some(*id), ..NewLine::adjusted(item, by, "counted") };
            return Ok(Some(vec![adjust(difference, line)]));
        }
        _ => return Ok(None),
    };
    Ok(Some(vec![Reply::Edit(edit)]))
}

fn offcut_left(book: &Book, id: OffcutId, text: &str) -> Result<u64, String> {
    let (n, held) = (count(text, 1)?, book.offcut_count(id));
    held.checked_sub(u64::from(n)).ok_or_else(|| {
        let name = book.offcut_title(id);
        format!("only {held} of {name} there, not {n}: if the count is wrong, Esc, then <offcut-adjust> corrects it")
    })
}
