//! The log: all lines, or those of one item with what goes of it a month. A wide screen tells the line in hand in full: what was
//! left after it, what it cost, what its job took, and how much goes of the item a month.

use super::shared::{as_bought, as_paper, below, empty, flush, marked, things_of, told};
use super::{ahead, level, of_it, used};
use crate::app::model::Model;
use crate::app::panes::stock::in_hand;
use crate::app::state::stock::log_line;
use crate::app::state::stock::marks::RowMark;
use crate::domain::shelf_answers::next_low;
use crate::domain::stock::lot::{draws_of, lot_words};
use crate::domain::stock::summary::standing;
use crate::domain::stock::{ItemId, LogLine, Reason, logged};
use crate::ui::chips::{self, Of};
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::table::{Column, Row, Table};
use crate::ui::widgets::trend::trend;
use ratatui::layout::Rect;

const LOG: [Column; 8] = [
    Column::text("item", 20, 0),
    Column::number("line", 5, 3),
    Column::text("date", 10, 0),
    Column::number("change", 6, 0),
    Column::number("left", 5, 2),
    Column::text("reason", 12, 0),
    Column::number("cost", 8, 2),
    Column::text("job", 20, 1),
];
/// The column of what was paid.
const COST: usize = 6;
/// The same where there is little room: offcuts by paper and size.
const NARROW_LOG: [Column; 5] = [
    Column::text("item", 30, 0),
    Column::text("date", 10, 0),
    Column::number("+/-", 4, 0),
    Column::text("reason", 11, 0),
    Column::text("job", 15, 1).takes_the_rest(),
];
/// Lists narrower than this have little room.
const NARROW: u16 = 100;
/// Columns of a wide screen that the list has: offcuts have long names.
const LIST: u16 = 116;
/// The same of the list of one item, whose own story needs more room beside it.
const LIST_OF_ONE: u16 = 104;
/// Rows that a year of months takes.
const USED: u16 = 13;
/// Rows from which the months have each a bar of their own.
const HIGH: u16 = 24;
/// Fewest rows of the list of one item above what is told of it.
const FEW: u16 = 5;

const OF_JOB: [Column; 5] = [
    Column::text("the same job", 28, 0).grows_to(44),
    Column::number("+/-", 4, 0),
    Column::text("", 11, 1),
    Column::text("", 10, 2),
    Column::number("line", 5, 0),
];

/// What the columns behind the first take.
const OF_JOB_REST: u16 = 5 + 12 + 11 + 6;

/// Where the list and what is told beside or below it stand.
fn rooms(model: &Model, area: Rect, details: Rect) -> (Rect, Rect) {
    let is_of_one = model.stock.history().is_some();
    if details.y == area.y && details.x > area.x {
        let whole = details.right() - area.x;
        let list = if is_of_one { LIST_OF_ONE } else { LIST };
        let x = area.x + list + 3;
        return (Rect { width: list, ..area }, Rect { x, width: whole.saturating_sub(list + 3), ..details });
    }
    let both = Rect { height: area.height + details.height, ..area };
    if !is_of_one {
        return (both, Rect { height: 0, ..details });
    }
    // The story of one item has the rows that its lines leave.
    let list = (model.stock.rows(&model.book) as u16 + 1).max(FEW).min(area.height);
    (Rect { height: list, ..both }, below(both, list))
}

/// Draws the log.
pub fn log(model: &Model, area: Rect, details: Rect, on: &mut Surface) -> Option<u16> {
    let book = &model.book;
    let pane = &model.stock;
    let len = model.stock.rows(&model.book);
    if len == 0 {
        return empty(model, area, on);
    }
    let (area, details) = rooms(model, area, details);
    let picked = pane.cursor.row(len);
    match (pane.history(), picked.and_then(|n| log_line(pane, book, n))) {
        (Some(item), _) => {
            let title = format!("{}: {} on hand", book.items().name_of(item), book.on_hand(item));
            let used = history(model, item, &title, details, on) + 1;
            if details.x == area.x {
                of_it::draw(model, item, false, below(details, used), on);
            }
        }
        (None, Some(line)) if details.height > 0 => in_full(model, line, details, on),
        _ => {}
    }
    let is_narrow = area.width < NARROW && pane.history().is_none();
    // Only what can be seen is put together: a log grows for years.
    let room = usize::from(area.height);
    let first = picked.unwrap_or(0).saturating_sub(room);
    let lines: Vec<&LogLine> =
        (first..len).take(room * 2 + 1).filter_map(|n| log_line(pane, book, n)).collect();
    let draws = draws_of(book, lines.iter().copied());
    let left = logged::left_after(book, lines.iter().copied());
    let rows: Vec<Row> = lines
        .into_iter()
        .map(|l| {
            let voided = l.reason == Reason::Voided || book.is_voided(l.seq);
            let reason = match (l.voids, book.is_voided(l.seq)) {
                (Some(of), _) => format!("voids {of}"),
                (None, true) => format!("{} (void)", l.reason.word()),
                (None, false) => l.reason.word().to_owned(),
            };
            let of = book.items().name_of(l.item);
            let name = l.offcut.map_or_else(|| of.clone(), |o| book.offcut_title(o));
            // In the list of one item its offcuts need not say whose they are.
            let own = name.strip_prefix(&of).filter(|own| pane.history().is_some() && !own.is_empty());
            let name = own.map_or(name.clone(), |own| own.trim_start().to_owned());
            let (date, change) = (l.date.to_string(), format!("{:+}", l.change));
            let style = if voided { on.look.theme.dim } else { on.look.theme.text };
            if is_narrow {
                let name = l.offcut.map_or(name, |offcut| book.offcut_short_title(offcut));
                return Row {
                    cells: vec![chips::named(book, &name), date, change, reason, l.job.clone()],
                    style,
                };
            }
            let cells = vec![
                chips::named(book, &name),
                l.seq.to_string(),
                date,
                change,
                left.get(&l.seq).map_or_else(String::new, i64::to_string),
                reason,
                draws.get(&l.seq).map_or(String::new(), |d| d.cost_words(&book.settings().currency)),
                l.job.clone(),
            ];
            Row { cells, style }
        })
        .collect();
    let lines = (first..len).take(room * 2 + 1).filter_map(|n| log_line(pane, book, n));
    let marked = marked(model, lines.map(|l| RowMark::Line(l.seq)));
    // Without any price there is no cost to tell.
    let mut rows = rows;
    let mut columns = if is_narrow { NARROW_LOG.to_vec() } else { LOG.to_vec() };
    let costs = |row: &Row| row.cells.get(COST).is_some_and(|cell| !cell.is_empty());
    if !is_narrow && first == 0 && len == rows.len() && !rows.iter().any(costs) {
        columns.remove(COST);
        for row in &mut rows {
            row.cells.remove(COST);
        }
    }
    let table = Table {
        columns: &columns,
        rows: &rows,
        total: len,
        picked: picked.map(|p| p - first),
        marked: &marked,
    };
    things_of(&table, first, area, &mut on.hits);
    let at = table.draw(area, on);
    let paper = |n: usize| log_line(pane, book, first + n).map(|l| Of::Item(l.item));
    chips::draw_chips(model, &table, area, paper, on);
    // The list of one item leaves room where its story stands beside it.
    if let Some(item) = pane.history().filter(|_| details.x > area.x) {
        of_it::draw(model, item, false, below(area, len as u16 + 2), on);
    }
    at
}

/// The line in hand: what it changed, how its item goes, what else its job took.
fn in_full(model: &Model, line: &LogLine, area: Rect, on: &mut Surface) {
    let book = &model.book;
    let name = line.offcut.map_or_else(|| book.items().name_of(line.item), |id| book.offcut_title(id));
    let title = format!("{name}, line {}", line.seq);
    let job = logged::of_job(book, line);
    let mut y = told(&title, &logged::told(book, line, &job), on.look.theme.text, area, on) + 1;
    y += ahead::draw(model, (line.item, line.offcut), below(area, y), on) + 1;
    let rest = below(area, y);
    let months = Rect { height: USED.min(rest.height), ..rest };
    // An offcut is no part of what goes of its paper a month, nor of how that stood from day to day.
    let is_sheets = line.offcut.is_none();
    let used = if is_sheets { used::draw(model, line.item, months, on) } else { 0 };
    y += used + u16::from(used > 0);
    let of_job = of_job(model, (line, &job), below(area, y), on);
    y += of_job + u16::from(of_job > 0);
    if is_sheets {
        level::draw(model, line.item, below(area, y), on);
    }
}

/// The other lines of its job, the latest first; returns the rows that they take.
fn of_job(model: &Model, (line, job): (&LogLine, &[&LogLine]), area: Rect, on: &mut Surface) -> u16 {
    let book = &model.book;
    let others: Vec<&LogLine> = job.iter().copied().filter(|other| other.seq != line.seq).collect();
    if others.is_empty() || area.height < 3 {
        return 0;
    }
    let room = usize::from(area.width.saturating_sub(OF_JOB_REST));
    let rows: Vec<Row> = others
        .iter()
        .map(|l| {
            // The size of an offcut is what tells it from another: where it has no room beside the word, it has it alone.
            let whole = l.offcut.map_or_else(|| book.items().name_of(l.item), |id| book.offcut_title(id));
            let fits = text::width(&whole) <= room;
            let name = l.offcut.filter(|_| !fits).map_or(whole, |id| book.offcut_short_title(id));
            let why = [l.reason.word().to_owned(), l.date.to_string(), l.seq.to_string()];
            let cells = [name, format!("{:+}", l.change)].into_iter().chain(why).collect();
            Row { cells, style: on.look.theme.text }
        })
        .collect();
    Table::plain(&OF_JOB, &rows).draw_whole(flush(area), on).height
}

/// One item's own story: how much goes a month, the lots it lies in, how it stood from day to day. Returns its rows.
pub(super) fn history(model: &Model, item: ItemId, title: &str, area: Rect, on: &mut Surface) -> u16 {
    let book = &model.book;
    let months = next_low::months(book, item, model.today, in_hand::MONTHS);
    let month = |d: jiff::civil::Date| d.strftime("%b %Y").to_string();
    let from = months.first().filter(|_| months.len() > 1).map(|(first, _)| month(*first) + " ");
    let used: Vec<u64> = months.iter().map(|(_, used)| *used).collect();
    let bars =
        format!("{}{} {}", from.unwrap_or_default(), trend(&used, &on.look.glyphs), month(model.today));
    let mut pairs = vec![
        ("used by month", if area.height < HIGH { bars } else { String::new() }),
        ("used", in_hand::trend_words(&model.ctx(), item)),
        ("low mark", in_hand::mark_words(&model.ctx(), item)),
    ];
    let all = lot_words(book, item).into_iter().rev();
    pairs.extend(all.enumerate().map(|(n, words)| (if n == 0 { "lots" } else { "" }, words)));
    let y = told(title, &pairs, on.look.theme.text, area, on) + 1;
    if area.height <= y + 3 {
        return y - 1;
    }
    let rest = below(area, y);
    let rest = below(rest, ahead::draw(model, (item, None), rest, on) + 1);
    // A year of months first: how it stood from day to day has what rows they leave.
    let over = Rect { height: rest.height.saturating_sub(USED + 1), ..rest };
    let rest = below(rest, level::draw(model, item, over, on));
    let gap = u16::from(rest.y > over.y);
    let months = used::draw(model, item, below(rest, gap), on);
    let rest = below(rest, gap + months + u16::from(months > 0));
    let known = known(model, item, rest, on);
    rest.y - area.y + known - u16::from(known == 0)
}

/// What is known of the thing itself, where its story leaves room; returns its rows.
fn known(model: &Model, id: ItemId, area: Rect, on: &mut Surface) -> u16 {
    let Some(item) = model.book.items().get(id).filter(|_| area.height > FEW) else { return 0 };
    let mark = if item.mark() == 0 { "none".to_owned() } else { item.mark().to_string() };
    let mut pairs = vec![("counts", standing(&model.book, id).words()), ("low mark", mark)];
    pairs.extend(as_bought(model, item));
    pairs.extend(as_paper(model, item));
    pairs.push(("note", item.note.clone()));
    told(&format!("{}, {}", item.kind.said(), item.state), &pairs, on.look.theme.text, area, on)
}
