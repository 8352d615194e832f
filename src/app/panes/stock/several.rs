//! Marking rows, and what is done to all that are marked: one step a command, which one undo takes back. Where it cannot be done
//! to one of them, it is said to which, and nothing is done. Commands that are not named here are about the row in hand.

use super::classes::check_open;
use super::typed::{self, count, job_in_hand, kept, low_mark, paper_of};
use crate::app::commands::CommandId;
use crate::app::ctx::Ctx;
use crate::app::input::list::Move;
use crate::app::reply::{Replies, Reply};
use crate::app::state::forms::FormFor;
use crate::app::state::stock::StockPane;
use crate::app::state::stock::marks::{RowMark, in_words, names, rows_of};
use crate::app::state::stock::texts::{EachText, StockText};
use crate::app::state::views::Tab;
use crate::app::status::Status;
use crate::domain::book::Book;
use crate::domain::edit::{Edit, Row};
use crate::domain::plural::count_of;
use crate::domain::stock::class::{self, OpenPapers};
use crate::domain::stock::lot::mixed_lots;
use crate::domain::stock::shortage::taken_from_others;
use crate::domain::stock::{BookingId, Item, ItemId, NewLine, OffcutId, ProjectId, shelf};

/// Runs a command that marks, or one on all rows that are marked; nothing where it is about the row in hand.
pub fn run_on_marked(pane: &mut StockPane, ctx: &Ctx, id: CommandId) -> Option<Vec<Reply>> {
    use CommandId as Id;
    match id {
        Id::MarkRow => return Some(turn(pane, ctx)),
        Id::MarkAll => return Some(turn_all(pane, ctx)),
        _ => {}
    }
    let marked = pane.marked(ctx.book);
    let marked = match (id, pane.picked_item()) {
        // Ordering needs no mark: the row in hand is one.
        (Id::ItemOrdered, Some(item)) if marked.is_empty() => vec![RowMark::Item(item)],
        _ => marked,
    };
    if marked.is_empty() {
        return None;
    }
    let replies = match id {
        Id::Receive => Ok(vec![Reply::Form(FormFor::ReceiveMarked(items(&marked)))]),
        Id::NewPack => Ok(vec![Reply::Form(FormFor::NewPack(items(&marked)))]),
        Id::StartCount => return Some(super::count::start_with(pane, ctx, &items(&marked))),
        Id::SoldAlone => sold_alone(ctx, &items(&marked)),
        Id::LogVoid => Ok(void(&marked)),
        Id::BookingRelease => Ok(release(ctx.book, &marked)),
        Id::ClassBook => book(ctx, &classes(&marked)),
        Id::ClassTaught => close(ctx, &classes(&marked), |id| taught(ctx, id), "logged"),
        Id::ClassCancel => close(ctx, &classes(&marked), |id| class::cancel(ctx.book, id), "cancelled"),
        _ => return each_of(id).map(|each| vec![ask(ctx, each, marked)]),
    };
    Some(replies.unwrap_or_else(|why| vec![Reply::refuse(why)]))
}

/// What a command asks of each row.
const fn each_of(id: CommandId) -> Option<EachText> {
    use CommandId as Id;
    Some(match id {
        Id::Use | Id::OffcutUse => EachText::Used,
        Id::Adjust | Id::OffcutAdjust => EachText::Counted,
        Id::LowMark => EachText::LowMark,
        Id::ItemState => EachText::State,
        Id::ItemOrdered => EachText::Ordered,
        Id::OffcutEdit => EachText::Kept,
        _ => return None,
    })
}

/// Marks the row in hand, or takes its mark off, and goes to the next row.
fn turn(pane: &mut StockPane, ctx: &Ctx) -> Vec<Reply> {
    let rows = pane.rows(ctx.book);
    let Some(mark) = pane.cursor.row(rows).and_then(|row| pane.mark_of(ctx.book, row)) else {
        return Vec::new();
    };
    pane.marks.turn(mark);
    pane.cursor.go(Move::By(1), rows);
    vec![told(pane, ctx)]
}

/// Marks a row that was clicked, or takes its mark off.
pub fn turn_row(pane: &mut StockPane, ctx: &Ctx, row: usize) -> Vec<Reply> {
    let Some(mark) = pane.mark_of(ctx.book, row) else { return Vec::new() };
    pane.marks.turn(mark);
    vec![told(pane, ctx)]
}

/// Marks every row that is shown; where all of them are marked, takes all marks off.
fn turn_all(pane: &mut StockPane, ctx: &Ctx) -> Vec<Reply> {
    let all = pane.markable(ctx.book);
    if all.iter().all(|mark| pane.marks.has(*mark)) {
        pane.marks.clear(pane.tab());
    } else {
        for mark in all {
            pane.marks.add(mark);
        }
    }
    vec![told(pane, ctx)]
}

/// What is marked now, and what that does.
fn told(pane: &StockPane, ctx: &Ctx) -> Reply {
    let words = match pane.marked_words(ctx.book) {
        None => "Nothing is marked.".to_owned(),
        Some(words) => ctx.keys.say(&format!(
            "{words}: what you do now is done to all of them. <show-all> takes the marks off."
        )),
    };
    Reply::Tell(Status::note(words))
}

/// The lines of the shelf among these.
pub(super) fn items(marked: &[RowMark]) -> Vec<ItemId> {
    marked.iter().filter_map(|mark| if let RowMark::Item(id) = mark { Some(*id) } else { None }).collect()
}

fn classes(marked: &[RowMark]) -> Vec<ProjectId> {
    marked.iter().filter_map(|mark| if let RowMark::Class(id) = mark { Some(*id) } else { None }).collect()
}

fn tab_of(marked: &[RowMark]) -> Tab {
    marked.first().map_or(Tab::Shelf, |mark| mark.tab())
}

/// One edit as a step, after which the marks of its list go.
fn step(tab: Tab, label: impl Into<String>, edits: Vec<Edit>) -> Vec<Reply> {
    vec![Reply::Edit(Edit::batch(label, edits)), Reply::Unmark(tab)]
}

/// The prompt of a text that is done to each of several rows.
fn ask(ctx: &Ctx, each: EachText, marked: Vec<RowMark>) -> Reply {
    let of = match marked.as_slice() {
        [one] => one.name(ctx.book),
        all => format!("{} marked", rows_of(tab_of(all), all.len() as u64)),
    };
    let whole = marked.len() == 1;
    let of_each = if whole { "" } else { " of each" };
    let label = match each {
        EachText::Used => format!("{of}. Used{of_each}:"),
        EachText::Counted => format!("{of}. You counted{of_each}:"),
        EachText::LowMark => format!("{of}. Reorder each below (12, or 12 and days to arrive: 12, 10):"),
        EachText::State => format!("{of}. Each is (current, leaving 31 aug, gone, arriving 1 sep):"),
        EachText::Ordered => format!("{of}. Ordered{of_each}, in sheets or things:"),
        EachText::Kept => format!("{of}. Grain and place of each (long, bin 2):"),
    };
    let text = match each {
        EachText::Ordered => usual_order(ctx.book, &items(&marked)),
        EachText::Used if tab_of(&marked) == Tab::Bin => "1".to_owned(),
        _ => String::new(),
    };
    typed::prompt(StockText::OfEach(each, marked), label, text)
}

/// A pack, where all come in packs of the same size.
fn usual_order(book: &Book, items: &[ItemId]) -> String {
    let mut sizes = items.iter().filter_map(|id| book.items().get(*id)).map(Item::pack_size);
    let first = sizes.next().filter(|n| *n > 1);
    first.filter(|n| sizes.all(|m| m == *n)).map_or_else(String::new, |n| n.to_string())
}

/// How a text for each of several rows is read.
///
/// # Errors
/// The sentence that refuses it.
pub fn words(ctx: &Ctx, each: EachText, rows: &[RowMark], text: &str) -> Result<String, String> {
    let all = edits(ctx, each, rows, text)?;
    let book = ctx.book;
    let n = || count(text, 0).map_or(0, u64::from);
    Ok(match each {
        EachText::Used => {
            let left = rows
                .iter()
                .map(|row| format!("{} of {}", held(book, *row).saturating_sub(n()), row.name(book)));
            format!("{} left", in_words(left.collect()))
        }
        EachText::Counted => {
            let off = |row: &RowMark| n() as i64 - held(book, *row) as i64;
            let told = rows.iter().filter(|row| off(row) != 0);
            let told: Vec<String> = told.map(|row| format!("{:+} of {}", off(row), row.name(book))).collect();
            if told.is_empty() {
                "as the book says".to_owned()
            } else {
                format!("{} against the book", in_words(told))
            }
        }
        EachText::LowMark => {
            let (low, days) = low_mark(text)?;
            let days = days.map_or_else(String::new, |d| {
                format!(", {} from order to arrival", count_of(u64::from(d), "day"))
            });
            format!("reorder when fewer than {low} are free{days}")
        }
        EachText::State => typed::state(text)?.to_string(),
        EachText::Ordered => format!("{} of {}", n(), names(book, rows)),
        EachText::Kept => format!("changes {}", rows_of(Tab::Bin, all.len() as u64)),
    })
}

/// How many there are.
fn held(book: &Book, row: RowMark) -> u64 {
    match row {
        RowMark::Offcut(id) => book.offcut_count(id),
        RowMark::Item(id) => book.on_hand(id),
        _ => 0,
    }
}

/// Takes a text for each of several rows.
///
/// # Errors
/// The sentence that refuses it; nothing is done then.
pub fn accept(ctx: &Ctx, each: EachText, rows: &[RowMark], text: &str) -> Replies {
    let book = ctx.book;
    let edits = edits(ctx, each, rows, text)?;
    if edits.is_empty() {
        return Ok(vec![Reply::Tell(Status::note("They are that way already: nothing is changed."))]);
    }
    let (names, text) = (names(book, rows), text.trim());
    let label = match each {
        EachText::Used => format!("used {text} each of {names}"),
        EachText::Counted => format!("counted {text} each of {names}"),
        EachText::LowMark => format!("low mark {text} for {names}"),
        EachText::Ordered if rows.len() == 1 => format!("ordered {text} of {names}"),
        EachText::Ordered => format!("ordered {text} each of {names}"),
        EachText::State | EachText::Kept => format!("{names}: {text}"),
    };
    let tab = tab_of(rows);
    if each == EachText::Ordered {
        return Ok(vec![Reply::Edit(shelf::together(book, label, edits)), Reply::Unmark(tab)]);
    }
    let mut replies = step(tab, label, edits);
    if each == EachText::Used && tab == Tab::Shelf {
        let minded = minded(book, &items(rows), count(text, 1)?);
        replies.extend((!minded.is_empty()).then(|| Reply::refuse(format!("Logged. {}", minded.join(" ")))));
    }
    Ok(replies)
}

/// What is to be minded of a use of each: whose sheets it takes, lots that mix.
fn minded(book: &Book, items: &[ItemId], n: u32) -> Vec<String> {
    let of = |id: &ItemId| {
        let from = taken_from_others(book, book.active(), *id, u64::from(n));
        from.map(|w| format!("Of {} it {w}.", book.items().name_of(*id))).into_iter().chain(mixed_lots(
            book,
            *id,
            u64::from(n),
        ))
    };
    items.iter().flat_map(of).collect()
}

/// The edits of a text, one for each row that it changes.
fn edits(ctx: &Ctx, each: EachText, rows: &[RowMark], text: &str) -> Result<Vec<Edit>, String> {
    let book = ctx.book;
    match each {
        EachText::Used => {
            let n = count(text, 1)?;
            check_enough(book, rows, n)?;
            rows.iter().map(|row| used(book, *row, n)).collect()
        }
        EachText::Counted => {
            let n = count(text, 0)?;
            let changed = rows.iter().map(|row| counted(book, *row, n));
            Ok(changed.collect::<Result<Vec<_>, _>>()?.into_iter().flatten().collect())
        }
        EachText::LowMark => {
            let (low, days) = low_mark(text)?;
            change(book, rows, |i| Item { low, lead_days: days.unwrap_or(i.lead_days), ..i.clone() })
        }
        EachText::State => {
            let state = typed::state(text)?;
            change(book, rows, |i| Item { state, ..i.clone() })
        }
        EachText::Ordered => {
            let n = count(text, 1)?;
            Ok(items(rows).into_iter().map(|id| shelf::ordered(book, id, n, ctx.today)).collect())
        }
        EachText::Kept => keep(book, rows, text),
    }
}

/// Names all rows of which there are too few.
fn check_enough(book: &Book, rows: &[RowMark], n: u32) -> Result<(), String> {
    let few = rows.iter().filter(|row| held(book, **row) < u64::from(n));
    let few: Vec<String> = few.map(|row| format!("{} of {}", held(book, *row), row.name(book))).collect();
    if few.is_empty() {
        return Ok(());
    }
    Err(format!(
        "only {} there, not {n}: nothing is logged. Unmark them, or write a smaller number",
        in_words(few)
    ))
}

fn used(book: &Book, row: RowMark, n: u32) -> Result<Edit, String> {
    let job = job_in_hand(book);
    Ok(Edit::Log(match row {
        RowMark::Offcut(id) => NewLine::offcut_used(paper_of(book, id)?, id, n, job),
        RowMark::Item(id) => NewLine::used(id, n, job),
        other => return Err(format!("{} cannot be used", other.name(book))),
    }))
}

/// The line that adjusts a count; nothing where it was right.
fn counted(book: &Book, row: RowMark, n: u32) -> Result<Option<Edit>, String> {
    let by = i64::from(n) - held(book, row) as i64;
    let line = match row {
        RowMark::Offcut(id) => {
            NewLine { offcut: Some(id), ..NewLine::adjusted(paper_of(book, id)?, by, "counted") }
        }
        RowMark::Item(id) => NewLine::adjusted(id, by, "counted"),
        other => return Err(format!("{} cannot be counted", other.name(book))),
    };
    Ok((by != 0).then_some(Edit::Log(line)))
}

fn change(book: &Book, rows: &[RowMark], now: impl Fn(&Item) -> Item) -> Result<Vec<Edit>, String> {
    let mut edits = Vec::new();
    for id in items(rows) {
        let was = book.items().get(id).cloned().ok_or("one of these lines is gone: mark them again")?;
        let now = now(&was);
        if now != was {
            edits.push(Edit::Item(Row::alter(id, was, now)));
        }
    }
    Ok(edits)
}

fn keep(book: &Book, rows: &[RowMark], text: &str) -> Result<Vec<Edit>, String> {
    if text.trim().is_empty() {
        return Err("write a grain, a place or both: long, bin 2".to_owned());
    }
    let ids: Vec<OffcutId> =
        rows.iter().filter_map(|row| if let RowMark::Offcut(id) = row { Some(*id) } else { None }).collect();
    let mut edits = Vec::new();
    for id in ids {
        let was = book.offcuts().get(id).cloned().ok_or("one of these offcuts is gone: mark them again")?;
        let mut now = kept(&was, text);
        if now.place.is_empty() {
            // A grain alone leaves each where it lies.
            now.place.clone_from(&was.place);
        }
        if now != was {
            edits.push(Edit::Offcut(Row::alter(id, was, now)));
        }
    }
    Ok(edits)
}

/// All of them come only in packs, or, where they do already, can be ordered alone.
fn sold_alone(ctx: &Ctx, items: &[ItemId]) -> Replies {
    let book = ctx.book;
    let rows: Vec<RowMark> = items.iter().copied().map(RowMark::Item).collect();
    let is_alone = items.iter().filter_map(|id| book.items().get(*id)).any(|item| item.sold_alone);
    let edits = change(book, &rows, |i| Item { sold_alone: !is_alone, ..i.clone() })?;
    let words = if is_alone { "come only in packs of several" } else { "can be ordered alone" };
    Ok(step(Tab::Shelf, format!("{}: {words}", names(book, &rows)), edits))
}

/// Voids lines, the latest first: what a line brought may be used in a later one.
fn void(marked: &[RowMark]) -> Vec<Reply> {
    let mut lines: Vec<u64> = marked
        .iter()
        .filter_map(|mark| if let RowMark::Line(seq) = mark { Some(*seq) } else { None })
        .collect();
    lines.sort_unstable();
    let named = in_words(lines.iter().map(u64::to_string).collect());
    let word = if lines.len() == 1 { "line" } else { "lines" };
    let edits = lines.into_iter().rev().map(|line| Edit::Void { line }).collect();
    step(Tab::Log, format!("voided {word} {named}"), edits)
}

fn release(book: &Book, marked: &[RowMark]) -> Vec<Reply> {
    let ids: Vec<BookingId> = marked
        .iter()
        .filter_map(|mark| if let RowMark::Booking(id) = mark { Some(*id) } else { None })
        .collect();
    let label = format!("released what was booked of {}", names(book, marked));
    step(Tab::Bookings, label, ids.into_iter().map(|id| Edit::Booking(Row::Remove(id))).collect())
}

/// Books the papers of several classes, once all of them can be booked.
fn book(ctx: &Ctx, ids: &[ProjectId]) -> Replies {
    for id in ids {
        check_open(ctx.book, *id)?;
    }
    let has_day = |id: &&ProjectId| ctx.book.projects().get(**id).is_some_and(|p| p.date.is_some());
    let without: Vec<String> =
        ids.iter().filter(|id| !has_day(id)).map(|id| ctx.book.projects().name_of(*id)).collect();
    if !without.is_empty() {
        let words = format!("{}: no day yet. Give it one first, or book it alone", in_words(without));
        return Err(words);
    }
    Ok(vec![Reply::Book(ids.to_vec())])
}

/// A class of which nothing is booked that is not logged as cut: only the person knows what became of such papers.
fn taught(ctx: &Ctx, id: ProjectId) -> Result<Edit, String> {
    check_open(ctx.book, id)?;
    if !class::open_papers(ctx.book, id).is_empty() {
        let name = ctx.book.projects().name_of(id);
        return Err(format!(
            "{name} has papers booked that are not logged as cut: close it alone and say what became of them"
        ));
    }
    class::taught(ctx.book, id, OpenPapers::Back)
}

/// Closes several classes as one step.
fn close(
    ctx: &Ctx,
    ids: &[ProjectId],
    edit: impl Fn(ProjectId) -> Result<Edit, String>,
    done: &str,
) -> Replies {
    let edits = ids.iter().map(|id| edit(*id)).collect::<Result<Vec<_>, _>>()?;
    let names = in_words(ids.iter().map(|id| ctx.book.projects().name_of(*id)).collect());
    Ok(step(Tab::Classes, format!("{done} {names}"), edits))
}
