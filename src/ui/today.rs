//! The page of the day: one line a thing, by what it is about; on a wide screen the weeks ahead and the sheet at the bench
//! beside it, on a high one the papers of the project in hand below.
//!
//! ```text
//! Today, Wed 2026-11-25                              Su   Mo   Tu   We   Th   Fr   Sa
//! Next     > Thank-you batch    Tue 2026-12-01 ...             25   26   27   28   29
//!            Hedgerow notes     Sat 2026-12-12 ...
//! Short      1 of moss pool     order by ...         30    1    2 ...
//! ```

use super::chips::{self, Of};
use super::painting::Painted;
use super::surface::Surface;
use super::text;
use super::widgets::diagram::Diagram;
use super::widgets::lines::run;
use super::widgets::stack::{ListPlace, ListRoom, flow, left_out, tell_left_out};
use super::widgets::table::{Column, Row, Table};
use crate::app::action::{List, Spot};
use crate::app::model::Model;
use crate::app::state::today::{DayRow, Goes};
use crate::app::today::rows;
use crate::domain::days;
use crate::domain::plural::count_of;
use crate::domain::stock::ProjectId;
use crate::domain::stock::outlook::{Need, outlook};
use crate::domain::today::words::{Section, Urgency};
use jiff::civil::Date;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;
use std::borrow::Cow;
use std::collections::BTreeMap;

/// Columns of the headings, with the sign of the row in hand.
const HEAD: u16 = 10;
/// Columns from which the weeks stand beside the list, and from which each day has more room.
const WIDE: u16 = 146;
const VERY_WIDE: u16 = 190;
/// Columns for the names of months before the weeks.
const MONTH: u16 = 4;
/// Rows of a week.
const WEEK_ROWS: u16 = 3;
/// Weeks that are shown though nothing falls on them.
const FEW_WEEKS: u16 = 6;
/// Most rows of all weeks, so that the bench keeps some; most weeks, of which empty ones take one.
const MOST_ROWS: u16 = 22;
const MOST_WEEKS: u16 = 16;
/// Fewest rows for a drawing or the weeks; fewest of the sheet at the bench beside papers of projects.
const FEW: u16 = 9;
const BENCH: u16 = 15;

/// Draws the page.
pub fn draw_today(model: &Model, area: Rect, on: &mut Surface) -> Option<Position> {
    let weeks_width = MONTH + 7 * day_width(area.width);
    if area.width < WIDE {
        let (at, end) = list(model, area, on);
        let below = Rect { y: area.y + end, height: area.height.saturating_sub(end), ..area };
        let has_weeks = below.width >= weeks_width && below.height >= FEW;
        let used = if has_weeks { weeks(model, below, on) } else { 0 };
        // Where the rows end at the bottom, what is left out is named without a blank row before it.
        let used = if below.height == 0 && end <= area.height + 1 { 0 } else { used };
        let y = (below.y + used).min(area.bottom().saturating_sub(1)).max(area.y + end - 1);
        let rest = Rect { y, height: area.bottom().saturating_sub(y), ..below };
        all_papers(model, &takes(model), &columns(rest), on);
        return at;
    }
    let left = Rect { width: area.width - weeks_width - 2, ..area };
    let (at, end) = list(model, left, on);
    let below = Rect { y: area.y + end, height: area.height.saturating_sub(end), ..left };
    let x = left.right() + 2;
    let right = Rect { x, width: area.right() - x, ..area };
    let end = weeks(model, right, on);
    let under = |rows: u16| Rect { y: right.y + rows, height: right.height.saturating_sub(rows), ..right };
    // The sheet at the bench leaves rows for the papers of projects that have none at the left.
    let takes = takes(model);
    let asked: Vec<ListRoom> = takes.iter().map(asked_of).collect();
    let places = flow(&asked, &[below.height, u16::MAX], false);
    let wanted = places.iter().flatten().filter(|place| place.column == 1).map(|place| place.rows).sum();
    let most = under(end).height.saturating_sub(wanted).max(BENCH);
    let end = end + bench(model, Rect { height: most.min(under(end).height), ..under(end) }, on);
    all_papers(model, &takes, &[below, under(end)], on);
    at
}

/// Columns of a day in the weeks.
const fn day_width(screen: u16) -> u16 {
    if screen >= VERY_WIDE { 14 } else { 10 }
}

fn style_of(row: &DayRow, on: &Surface) -> Style {
    let theme = &on.look.theme;
    match row.urgency {
        Urgency::Calm => theme.text,
        Urgency::Soon if row.goes == Goes::Bench => theme.cut,
        Urgency::Soon if row.section == Section::Short => theme.low,
        Urgency::Soon => theme.warn,
        Urgency::Now => theme.bad,
        Urgency::Done => theme.dim,
    }
}

/// A row's name and words in lines: side by side, or the words below the name on a narrow screen.
struct Lines {
    what: Vec<String>,
    words: Vec<String>,
    is_stacked: bool,
}

impl Lines {
    fn of(row: &DayRow, (name, words, room): (u16, u16, u16), on: &Surface) -> Self {
        let is_stacked = name == 0;
        let (left, right) = if is_stacked { (room, room - 2) } else { (name - 1, words) };
        let wrapped = |text: &str, width: u16| text::wrap(text, usize::from(width));
        let said = on.look.pressing(&row.words, style_of(row, on));
        Self { what: wrapped(&row.what, left), words: wrapped(&said, right), is_stacked }
    }

    fn height(&self) -> u16 {
        let (what, words) = (self.what.len(), self.words.len());
        (if self.is_stacked { what + words } else { what.max(words) }).max(1) as u16
    }
}

/// Columns from which names and words stand side by side.
const SIDE_BY_SIDE: u16 = 60;

/// Columns of the names; none where they stand above their words.
fn names(rows: &[DayRow], room: u16) -> u16 {
    if room < SIDE_BY_SIDE {
        return 0;
    }
    let longest = rows.iter().map(|r| text::width(&r.what) as u16 + 2).max().unwrap_or(0);
    longest.min(room * 2 / 5)
}

/// The rows; where the cursor belongs, and the screen row after them.
fn list(model: &Model, area: Rect, on: &mut Surface) -> (Option<Position>, u16) {
    let page = &model.day;
    let heading = on.put(area, 0, 0, &[run(rows::heading(&model.ctx()), on.look.theme.title)]);
    let Some(picked) = page.cursor.row(page.rows.len()) else {
        on.put(area, 0, 2, &[run("Nothing is planned, short or on order.", on.look.theme.text)]);
        return (None, 3);
    };
    let room = area.width.saturating_sub(HEAD);
    let name = names(&page.rows, room);
    let words = room.saturating_sub(name);
    let lines: Vec<Lines> = page.rows.iter().map(|r| Lines::of(r, (name, words, room), on)).collect();
    let top = Rect { y: area.y + 2, height: area.height.saturating_sub(2), ..area };
    on.hits.add(top, Spot::In(List::Day));
    let first = first_row(&lines, picked, usize::from(top.height));
    let (mut y, mut at, mut shown) = (0, None, 0);
    for (n, row) in page.rows.iter().enumerate().skip(first) {
        let height = lines[n].height();
        if y + height > top.height {
            break;
        }
        let is_new = n == first || page.rows[n - 1].section != row.section;
        let head = if is_new { row.section.title() } else { "" };
        let place = Rect { y: top.y + y, height, ..top };
        one_row(row, (head, name, &lines[n]), n == picked, place, on);
        on.hits.add(place, Spot::Row(List::Day, n));
        if n == picked {
            at = Some(Position::new(area.x + HEAD - 1, place.y));
        }
        y += height;
        shown += 1;
    }
    let words = match (first, page.rows.len() - first - shown) {
        (0, 0) => String::new(),
        (0, below) => format!("  {below} more below"),
        (above, 0) => format!("  {above} more above"),
        (above, below) => format!("  {above} more above, {below} below"),
    };
    on.put(area, heading, 0, &[run(words, on.look.theme.dim)]);
    (at, 2 + y + 1)
}

/// A row: its section where that begins, its name, its words beside or below it.
fn one_row(
    row: &DayRow,
    (head, name, lines): (&str, u16, &Lines),
    is_picked: bool,
    at: Rect,
    on: &mut Surface,
) {
    let theme = &on.look.theme;
    let (style, urgent) = (if is_picked { theme.picked } else { theme.text }, style_of(row, on));
    let sign = if is_picked { on.look.glyphs.pick } else { " " };
    let head = text::left(head, usize::from(HEAD) - 1, "");
    on.put(at, 0, 0, &[run(head, theme.title), run(sign, theme.mark)]);
    for (m, line) in lines.what.iter().enumerate() {
        on.put(at, HEAD, m as u16, &[run(line, style)]);
    }
    let (x, down) = if name > 0 { (HEAD + name, 0) } else { (HEAD + 2, lines.what.len() as u16) };
    for (m, line) in lines.words.iter().enumerate() {
        on.put(at, x, down + m as u16, &[run(line, urgent)]);
    }
}

/// The first row shown, so that the picked one is in view, whatever the rows before it take.
fn first_row(lines: &[Lines], picked: usize, room: usize) -> usize {
    let height = |n: usize| lines.get(n).map_or(1, |l| usize::from(l.height()));
    let all: usize = (0..lines.len()).map(height).sum();
    if all <= room {
        return 0;
    }
    let mut first = picked;
    let mut taken = height(picked);
    // Two rows stay free for what follows.
    while first > 0 && taken + height(first - 1) + 2 <= room {
        first -= 1;
        taken += height(first);
    }
    first
}

/// The project that the row in hand is about.
fn project(model: &Model) -> Option<ProjectId> {
    let row = model.day.picked()?;
    match row.goes {
        Goes::Class(id) | Goes::After(id) => Some(id),
        Goes::Plan => model.book.active(),
        Goes::Bench => rows::in_hand(&model.yields)?.of.map(|of| of.project),
        Goes::Booking(id) => model.book.bookings().get(id).map(|b| b.project),
        Goes::Reorder(item) => model.day.figures.short.iter().find(|s| s.item == item).map(|s| s.project),
        Goes::Awaited(_) | Goes::Item(_) | Goes::List(_) | Goes::Here(_) => None,
    }
}

const PAPERS: [Column; 6] = [
    Column::text("paper", 23, 0),
    Column::number("needed", 6, 0),
    Column::number("used", 5, 0),
    Column::number("booked", 6, 0),
    Column::number("free", 5, 1),
    Column::number("short", 5, 0),
];
/// Columns that the papers of a project need; twice as many have two projects side by side.
const PAPERS_WIDE: u16 = 57;
const GAP: u16 = 3;

/// A project with the papers that it takes.
type Takes<'a> = (ProjectId, Cow<'a, [Need]>);

/// The papers of the project in hand, then of those that are next, as they stand in the figures of the day.
fn takes(model: &Model) -> Vec<Takes<'_>> {
    let first = project(model);
    let (own, others): (Vec<_>, Vec<_>) = model
        .day
        .figures
        .next
        .iter()
        .map(|n| (n.project, Cow::from(&n.needs)))
        .partition(|(id, _)| Some(*id) == first);
    // One that is no longer open is not among them.
    let ended = || {
        let id = first?;
        Some((id, Cow::from(outlook(&model.book, id, model.settling.of(id))?.needs)))
    };
    let ended = if own.is_empty() { ended() } else { None };
    own.into_iter().chain(ended).chain(others).collect()
}

/// Columns of an area in which the papers of projects stand side by side.
fn columns(area: Rect) -> Vec<Rect> {
    let across = ((area.width + GAP) / (PAPERS_WIDE + GAP)).clamp(1, 2);
    let width = (area.width + GAP) / across - GAP;
    (0..across).map(|n| Rect { x: area.x + n * (width + GAP), width, ..area }).collect()
}

/// Rows above the papers of a project: a rule, whose they are, the heading.
const OVER: u16 = 3;

fn asked_of((_, needs): &Takes<'_>) -> ListRoom {
    ListRoom::rows(needs.len()).under(OVER)
}

/// The papers of each project, where there is room for them; those of the others are named and counted.
fn all_papers(model: &Model, all: &[Takes<'_>], columns: &[Rect], on: &mut Surface) {
    let asked: Vec<ListRoom> = all.iter().map(asked_of).collect();
    let rooms: Vec<u16> = columns.iter().map(|column| column.height).collect();
    let is_across =
        columns.iter().all(|column| (column.y, column.height) == (columns[0].y, columns[0].height));
    let places = flow(&asked, &rooms, is_across);
    let mut used = vec![0; columns.len()];
    for (takes, place) in all.iter().zip(&places) {
        let Some(ListPlace { column, y, rows }) = *place else { continue };
        papers(model, takes, Rect { y: columns[column].y + y, height: rows, ..columns[column] }, on);
        used[column] = y + rows;
    }
    let left = all.iter().zip(&places).filter(|(_, place)| place.is_none());
    let name = |id| format!("papers of {}", model.book.projects().name_of(id));
    let mut named: Vec<_> = left.map(|((id, needs), _)| (name(*id), needs.len())).collect();
    // Across all of them where they stand side by side, else below the last.
    let Some((first, last)) = columns.first().zip(columns.last()) else { return };
    let line = if is_across {
        Rect {
            width: last.right() - first.x,
            y: first.y + used.iter().max().copied().unwrap_or(0),
            height: 1,
            ..*first
        }
    } else {
        Rect { y: last.y + used.last().copied().unwrap_or(0), height: 1, ..*last }
    };
    if line.y < last.bottom() {
        if !left_out(&named, usize::from(line.width)).contains(':') {
            let rows = named.iter().map(|(_, rows)| rows).sum();
            named = vec![(format!("papers of {}", count_of(named.len() as u64, "project")), rows)];
        }
        tell_left_out(&named, line, on);
    }
}

/// The papers of a project, as its own view has them.
fn papers(model: &Model, (id, needs): &Takes<'_>, area: Rect, on: &mut Surface) {
    let rule = on.look.glyphs.rule.repeat(usize::from(area.width));
    on.put(area, 0, 0, &[run(rule, on.look.theme.line)]);
    on.put(area, 0, 1, &[run(format!("{} takes", model.book.projects().name_of(*id)), on.look.theme.title)]);
    let row = |n: &Need| {
        let short = if n.missing > 0 { n.missing.to_string() } else { String::new() };
        let figures = [n.needed, n.used, n.booked].map(|n| n.to_string());
        let name = chips::named(&model.book, &model.book.items().name_of(n.item));
        let cells = [name].into_iter().chain(figures);
        let style = if n.missing > 0 { on.look.theme.bad } else { on.look.theme.text };
        Row { cells: cells.chain([n.free.to_string(), short]).collect(), style }
    };
    let rows: Vec<Row> = needs.iter().map(row).collect();
    let room = Rect { y: area.y + 2, height: area.height - 2, ..area };
    let table = Table::plain(&PAPERS, &rows);
    table.draw(room, on);
    chips::draw_chips(model, &table, room, |n| needs.get(n).map(|n| Of::Item(n.item)), on);
}

/// What falls on each day: a word, and whose.
struct Days(BTreeMap<Date, Vec<(&'static str, String)>>);

impl Days {
    fn of(model: &Model) -> Self {
        let (book, figures) = (&model.book, &model.day.figures);
        let mut all = Self(BTreeMap::new());
        for n in &figures.next {
            all.add(n.on, if n.seats > 0 { "class" } else { "batch" }, book.projects().name_of(n.project));
        }
        for s in &figures.short {
            all.add(s.order_by, "order", book.items().name_of(s.item));
        }
        for order in figures.coming.iter().filter_map(|id| book.orders().get(*id)) {
            all.add(order.expected, "comes", book.items().name_of(order.item));
        }
        for l in &figures.leaving {
            all.add(Some(l.until), "last", book.items().name_of(l.item));
        }
        all
    }

    fn add(&mut self, on: Option<Date>, word: &'static str, whose: String) {
        if let Some(day) = on {
            self.0.entry(day).or_default().push((word, whose));
        }
    }

    fn on(&self, day: Date) -> &[(&'static str, String)] {
        self.0.get(&day).map_or(&[], Vec::as_slice)
    }
}

/// The weeks from this one on, as many as there is room for; returns the row after them.
fn weeks(model: &Model, area: Rect, on: &mut Surface) -> u16 {
    let width = (area.width.saturating_sub(MONTH) / 7).min(day_width(VERY_WIDE));
    let unit = model.screen.unit;
    let first = model.today.saturating_sub(jiff::Span::new().days(days::into_week(model.today, unit)));
    let most = area.height.saturating_sub(2).clamp(WEEK_ROWS, MOST_ROWS);
    for (n, name) in days::of_week(unit).into_iter().enumerate() {
        on.put(area, MONTH + n as u16 * width, 0, &[run(name, on.look.theme.dim)]);
    }
    let day_of = |week: u16, n: u16| first.saturating_add(jiff::Span::new().days(i64::from(week * 7 + n)));
    let events = Days::of(model);
    let is_empty = |week: u16| (0..7).all(|n| events.on(day_of(week, n)).is_empty());
    let mut used = 1;
    for week in 0..MOST_WEEKS {
        // A week without anything takes a row, so that a day farther off is seen as well; not more of them than lead to one.
        let rows =
            if is_empty(week) { 1 } else { WEEK_ROWS.max(last_rows(events.on(day_of(week, 6)), width)) };
        if used + rows > most + 1 || week >= FEW_WEEKS && (week..MOST_WEEKS).all(is_empty) {
            break;
        }
        for n in 0..7_u16 {
            let day = day_of(week, n);
            let (x, y) = (area.x + MONTH + n * width, area.y + used);
            let cell = Rect { x, y, width: width - 1, height: rows };
            // Each row is named by its first day, where that is the first of its month here; this week by today.
            let named = if week == 0 { model.today } else { day };
            let is_new = week == 0 || day.day() <= 7 && day.month() != model.today.month();
            if n == 0 && is_new {
                let month = Rect { x: area.x, y, width: MONTH, height: 1 };
                on.put(month, 0, 0, &[run(named.strftime("%b").to_string(), on.look.theme.title)]);
            }
            one_day(model, (&events, day), cell, on);
        }
        used += rows;
    }
    used
}

/// Rows of a week whose last day has a name: it has no room beyond its own columns.
fn last_rows(events: &[(&str, String)], width: u16) -> u16 {
    let longest = events.first().map_or(0, |(_, name)| text::rows(name, usize::from(width - 1)));
    (longest as u16 + 1).min(WEEK_ROWS + 1)
}

/// Whose day it is, below its word. Where nothing falls on the next day, the name has its room too; at the end of the week that
/// of the days before, where nothing falls on those.
fn whose((events, day): (&Days, Date), (name, style): (&str, Style), cell: Rect, on: &mut Surface) {
    let is_free = |day: Option<Date>| day.is_some_and(|day| events.on(day).is_empty());
    let (before, after) = (day.yesterday().ok(), day.tomorrow().ok());
    let room = on.buf.area.right().saturating_sub(cell.x);
    let width = if is_free(after) { (cell.width * 2).min(room) } else { cell.width };
    let has_room = text::rows(name, usize::from(width)) < usize::from(cell.height);
    let is_last = room < cell.width * 2;
    if has_room || !is_last || !is_free(before) || !is_free(before.and_then(|day| day.yesterday().ok())) {
        on.paragraph(Rect { width, ..cell }, 1, name, style);
        return;
    }
    let width = cell.width * 2 + 1;
    let place = Rect { x: cell.x - cell.width - 1, width, ..cell };
    for (y, line) in (1..cell.height).zip(text::wrap(&text::harmless(name), usize::from(width))) {
        on.put(place, width - text::width(&line) as u16, y, &[run(line, style)]);
    }
}

fn one_day(model: &Model, (all, day): (&Days, Date), cell: Rect, on: &mut Surface) {
    let theme = &on.look.theme;
    let events = all.on(day);
    let style = if day == model.today {
        theme.picked
    } else if !events.is_empty() {
        theme.title
    } else {
        theme.dim
    };
    let mut number = format!("{:>2}", day.day());
    // The month begins within the row: it is named there, where the words of the day leave room.
    if day.day() == 1 && day.weekday() != days::first_of_week(model.screen.unit) {
        let longest = events.first().map_or(0, |(word, _)| text::width(word) + 1);
        let month = day.strftime(" %b").to_string();
        if text::width(&number) + text::width(&month) + longest <= usize::from(cell.width) {
            number.push_str(&month);
        }
    }
    let style_of = |word: &str| if word == "order" { theme.warn } else { theme.text };
    let Some(((word, name), more)) = events.split_first() else {
        on.put(cell, 0, 0, &[run(number, style)]);
        return;
    };
    on.put(cell, 0, 0, &[run(number, style), run(format!(" {word}"), style_of(word))]);
    match more {
        [] => whose((all, day), (name, theme.dim), cell, on),
        // Of two things the second has the rows below, and the columns of a day on which nothing falls.
        [(word, name)] => whose((all, day), (&format!("{word} {name}"), style_of(word)), cell, on),
        _ => {
            for (n, (word, name)) in more.iter().take(2).enumerate() {
                on.put(cell, 0, 1 + n as u16, &[run(format!("{word} {name}"), style_of(word))]);
            }
        }
    }
}

/// The sheet at the bench, with the cut that comes next; returns the rows that it takes.
fn bench(model: &Model, area: Rect, on: &mut Surface) -> u16 {
    let Some(bench) = rows::in_hand(&model.yields) else { return 0 };
    let Some(spot) = bench.spot().filter(|_| area.height >= FEW) else { return 0 };
    let rule = on.look.glyphs.rule.repeat(usize::from(area.width));
    on.put(area, 0, 0, &[run(rule, on.look.theme.line)]);
    let words = format!(
        "At the bench: {} x {}, step {} of {}",
        spot.sheet.copies,
        spot.sheet.name,
        bench.done + 1,
        bench.len()
    );
    on.put(area, 0, 1, &[run(words, on.look.theme.title)]);
    let room = Rect { y: area.y + 2, height: area.height - 2, ..area };
    let half = Rect { width: room.width / 2, ..room };
    let steps: Vec<_> = spot.sheet.steps.iter().map(|s| s.cuts.clone()).collect();
    let (layout, look) = (&spot.sheet.layout, on.look);
    let paper = spot.sheet.paper.map(|id| Painted::among(model, id, &bench.papers, look));
    let diagram =
        Diagram { sheet: spot.sheet.size, layout, steps: &steps, in_hand: Some(spot.at), names: None, paper };
    diagram.draw(half, on);
    let beside = Rect { x: half.right() + 2, width: room.width.saturating_sub(half.width + 2), ..room };
    let mut y = on.paragraph(beside, 1, &spot.step.words(model.screen.unit), on.look.theme.text) + 1;
    // What follows on this sheet, then on those after it.
    let here = spot.sheet.steps.iter().skip(spot.at + 1);
    let later = bench.sheets.iter().skip(spot.index + 1).map(|s| format!("{} x {}", s.copies, s.name));
    let then = here.map(|s| s.short_words(model.screen.unit)).chain(later);
    for (n, words) in then.enumerate() {
        let words = if n == 0 { format!("then {words}") } else { words };
        y = on.paragraph(beside, y, &words, on.look.theme.dim);
    }
    let drawn = diagram.cells(half).map_or(0, |(_, rows)| rows);
    2 + drawn.max(y).min(room.height)
}
