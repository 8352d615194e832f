//! What the Stock pane says, one fact a line: a label and its words.

use super::{form, in_hand, reorder};
use crate::app::ctx::Ctx;
use crate::app::state::stock::StockPane;
use crate::app::state::stock::count::CountDay;
use crate::app::state::stock::marks::{RowMark, names};
use crate::app::state::stock::pressing::state_word;
use crate::app::state::stock::preview::Preview;
use crate::app::state::stock::{bin, in_bin, log_line};
use crate::app::state::views::Tab;
use crate::domain::book::Book;
use crate::domain::cutlist;
use crate::domain::cutting::plan_words;
use crate::domain::figures::ProjectField;
use crate::domain::lay_out;
use crate::domain::plural::count_of;
use crate::domain::project::{Project, Stage};
use crate::domain::stock::cost_told;
use crate::domain::stock::needs::Basis;
use crate::domain::stock::outlook::{Need, Outlook};
use crate::domain::stock::shortage::day_of;
use crate::domain::stock::{Item, ItemId, LogLine, ProjectId, booked, logged, lot, pace, shelf};

/// Most lines of a list that are read out; the rest is counted.
const MOST: usize = 40;

/// A label and its words.
type Said = (String, String);

fn said(label: impl Into<String>, words: impl Into<String>) -> Said {
    (label.into(), words.into())
}

/// Everything that the pane says.
pub fn facts(pane: &StockPane, ctx: &Ctx) -> Vec<Said> {
    if let Some(preview) = pane.preview_in_view() {
        return of_preview(preview);
    }
    if let Some(count) = pane.count_in_view() {
        return of_count(ctx, count);
    }
    let mut all = vec![said("list", pane.tab().title())];
    let (rows, len): (Vec<Said>, usize) = match pane.tab() {
        Tab::Shelf if pane.open_item().is_some() => (of_item(pane, ctx), 1),
        Tab::Shelf => (of_shelf(pane, ctx), pane.shown.len()),
        Tab::Bin => (of_bin(pane, ctx), in_bin(ctx.book).count()),
        Tab::Log => (of_log(pane, ctx), pane.rows(ctx.book)),
        Tab::Reorder => (of_orders(pane, ctx), pane.orders.rows.len()),
        Tab::Classes => (of_classes(pane, ctx), pane.classes.ids.len().min(MOST)),
        Tab::Bookings => (of_bookings(pane, ctx), pane.bookings.len()),
    };
    let marked = pane.marked(ctx.book);
    if let Some(words) = pane.marked_words(ctx.book) {
        all.push(said("marked", format!("{words}: {}", names(ctx.book, &marked))));
    }
    all.extend(rows);
    if len == 0 {
        all.push(said("empty", empty(pane, ctx.book)));
    }
    if len > MOST {
        all.push(said(
            "more",
            format!("{}; <filter> narrows the shelf", count_of((len - MOST) as u64, "line")),
        ));
    }
    all
}

/// What to press where a list is empty.
pub fn empty(pane: &StockPane, book: &Book) -> &'static str {
    match pane.tab() {
        Tab::Shelf if book.items().is_empty() => {
            "Nothing on the shelf yet: press <new-item> to put a line on it, or <import-list> to read a list from a file."
        }
        Tab::Shelf => "No line matches. <show-all> shows all of them again.",
        Tab::Bin => {
            "The bin is empty: press <offcut-add> to put an offcut in. Logging a cut list fills it too."
        }
        Tab::Log => "The log has no lines yet: <receive> on the shelf logs what came in.",
        Tab::Reorder => {
            "Nothing to order. On the shelf, <low-mark> on a line sets the count to reorder below."
        }
        Tab::Classes => "No class yet: press <class-new> and fill in its name, seats, day and designs.",
        Tab::Bookings => {
            "Nothing is set aside: press <stock-tab-back> for the classes, <class-book> there books a class."
        }
    }
}

fn mark(is_picked: bool) -> &'static str {
    if is_picked { " (picked)" } else { "" }
}

/// What is said of a row beside its words: that it is picked, that it is marked.
fn signs(pane: &StockPane, is_picked: bool, row: Option<RowMark>) -> String {
    let is_marked = row.is_some_and(|row| pane.marks.has(row));
    format!("{}{}", mark(is_picked), if is_marked { " (marked)" } else { "" })
}

fn of_shelf(pane: &StockPane, ctx: &Ctx) -> Vec<Said> {
    let book = ctx.book;
    let picked = pane.picked_item();
    let mut all = Vec::new();
    for id in pane.shown.iter().take(MOST) {
        let Some(item) = book.items().get(*id) else { continue };
        let mut words = format!(
            "{} on hand, {} free, low mark {}, {}",
            book.on_hand(*id),
            book.free(*id),
            item.mark(),
            state_word(book, *id)
        );
        words.push_str(&beside(ctx, *id, item));
        let signs = signs(pane, picked == Some(*id), Some(RowMark::Item(*id)));
        all.push(said(format!("{}{signs}", item.name), words));
        let pace = pace::pace(book, *id, ctx.today).filter(|_| picked == Some(*id));
        all.extend(pace.map(|p| said("used", p.words())));
    }
    all
}

/// What a wide list says besides: size, on order, place, price, use and how long it lasts.
fn beside(ctx: &Ctx, id: ItemId, item: &Item) -> String {
    let book = ctx.book;
    let size = item.cutting_size().map(|s| s.as_made_and_own(ctx.unit));
    let on_order = book.on_order(id);
    let used: u64 = shelf::used_by_month(book, id, ctx.today, in_hand::MONTHS).iter().sum();
    let known = [
        size,
        (on_order > 0).then(|| format!("{on_order} on order")),
        Some(item.place.clone()).filter(|p| !p.is_empty()),
        item.price.map(|p| format!("{} a pack", p.show(&book.settings().currency))),
        (used > 0).then(|| format!("{used} used in a year")),
        pace::pace(book, id, ctx.today)
            .and_then(|p| p.days_left)
            .map(|n| format!("{} left", count_of(n, "day"))),
    ];
    let known: Vec<String> = known.into_iter().flatten().collect();
    if known.is_empty() { String::new() } else { format!(", {}", known.join(", ")) }
}

/// The line that is open, a field a fact.
fn of_item(pane: &StockPane, ctx: &Ctx) -> Vec<Said> {
    let picked = form::picked(pane, ctx);
    let rows = form::rows(pane, ctx).into_iter();
    let mut all: Vec<Said> = rows
        .map(|(field, words)| said(format!("{}{}", field.word(), mark(picked == Some(field))), words))
        .collect();
    all.extend(picked.map(|field| said("written as", field.hint())));
    all
}

fn of_bin(pane: &StockPane, ctx: &Ctx) -> Vec<Said> {
    let book = ctx.book;
    let ids = bin(pane, book);
    let picked = pane.cursor.row(ids.len());
    let rows = ids.iter().enumerate().take(MOST).map(|(n, id)| {
        let signs = signs(pane, picked == Some(n), Some(RowMark::Offcut(*id)));
        let title = format!("{}{signs}", book.offcut_title(*id));
        let (all, free) = (book.offcut_count(*id), book.free_offcuts(*id));
        said(title, if all == free { format!("{all} there") } else { format!("{all} there, {free} free") })
    });
    let picked = picked.and_then(|n| ids.get(n));
    let more =
        picked.into_iter().flat_map(|id| in_hand::of_offcut(ctx, *id)).map(|(word, words)| said(word, words));
    rows.chain(more).collect()
}

fn of_log(pane: &StockPane, ctx: &Ctx) -> Vec<Said> {
    let book = ctx.book;
    let len = pane.rows(ctx.book);
    let picked = pane.cursor.row(len);
    let mut all = Vec::new();
    if let Some(item) = pane.history() {
        all.push(said("history of", book.items().name_of(item)));
        all.push(said("used", in_hand::trend_words(ctx, item)));
        all.push(said("low mark by this pace", in_hand::mark_words(ctx, item)));
        all.extend(lot::lot_words(book, item).into_iter().rev().take(MOST).map(|words| said("lot", words)));
    }
    let lines: Vec<&LogLine> = (0..len.min(MOST)).map_while(|n| log_line(pane, book, n)).collect();
    let draws = lot::draws_of(book, lines.iter().copied());
    let left = logged::left_after(book, lines.iter().copied());
    if let Some(line) = picked.and_then(|n| log_line(pane, book, n)) {
        let job = logged::of_job(book, line);
        all.extend(logged::told(book, line, &job).into_iter().map(|(word, words)| said(word, words)));
    }
    for (n, line) in lines.into_iter().enumerate() {
        let name = line.offcut.map_or_else(|| book.items().name_of(line.item), |o| book.offcut_title(o));
        let void = if book.is_voided(line.seq) { ", void" } else { "" };
        let words =
            format!("{}, {name}, {:+}, {}{void} {}", line.date, line.change, line.reason.word(), line.job);
        let cost = draws.get(&line.seq).map_or(String::new(), |d| d.cost_words(&book.settings().currency));
        let words = if cost.is_empty() { words } else { format!("{}, cost {cost}", words.trim_end()) };
        let left = left.get(&line.seq).copied().unwrap_or(0);
        let words = format!("{}, {left} left", words.trim_end());
        let signs = signs(pane, picked == Some(n), Some(RowMark::Line(line.seq)));
        all.push(said(format!("line {}{signs}", line.seq), words.trim_end()));
    }
    all
}

fn of_orders(pane: &StockPane, ctx: &Ctx) -> Vec<Said> {
    let orders = &pane.orders;
    let picked = pane.cursor.row(orders.rows.len());
    let mut last = String::new();
    let mut all = Vec::new();
    for (n, row) in orders.rows.iter().enumerate().take(MOST) {
        let heading = reorder::heading(pane, ctx.book, row);
        if heading != last {
            all.push(said("for", heading.clone()));
            last = heading;
        }
        let [name, number, packs, brings, price, why] = reorder::cells(ctx.book, ctx.today, row);
        let parts = [("number", number), ("packs", packs), ("brings", brings), ("price", price)];
        let known = parts.into_iter().filter(|(_, t)| !t.is_empty()).map(|(w, t)| format!("{w} {t}, "));
        let words: String = known.collect();
        let signs = signs(pane, picked == Some(n), RowMark::of_order(row));
        all.push(said(format!("{name}{signs}"), format!("{words}{why}")));
    }
    if let Some(row) = picked.and_then(|n| orders.rows.get(n)) {
        all.extend(in_hand::of_order(ctx, row).into_iter().map(|(word, words)| said(word, words)));
        let days = in_hand::item_of(ctx.book, row);
        all.extend(days.into_iter().flat_map(|item| in_hand::day_by_day(ctx, pane, item, None)));
    }
    for row in orders.next.iter().take(MOST) {
        let words = in_hand::next_words(row, ctx.today);
        all.push(said(format!("next to run low, {}", ctx.book.items().name_of(row.item)), words));
    }
    all
}

fn of_classes(pane: &StockPane, ctx: &Ctx) -> Vec<Said> {
    let book = ctx.book;
    let picked = pane.picked_class();
    let mut all = Vec::new();
    for id in pane.classes.ids.iter().take(MOST) {
        let Some(project) = book.projects().get(*id) else { continue };
        let (sheets, offcuts) = pane.classes.booked.get(id).copied().unwrap_or_default();
        let booked = plan_words::count_words(sheets, offcuts);
        let day = project.date.map_or_else(|| "no day".to_owned(), |d| d.to_string());
        let state = pane.classes.state_of(*id).unwrap_or_else(|| project.progress.word());
        let words = format!("{day}, {}, {booked} booked, {state}", project.made_for());
        let signs = signs(pane, picked == Some(*id), Some(RowMark::Class(*id)));
        all.push(said(format!("{}{signs}", project.name), words));
    }
    all.extend(pane.classes.years.iter().flatten().cloned());
    let project = picked.and_then(|id| book.projects().get(id));
    if let (Some(project), Some((id, outlook))) = (project, &pane.classes.outlook) {
        if pane.open_class().is_some() {
            all.extend(of_form(pane, ctx, project));
        }
        all.push(said("come so far", stage_words(project, outlook)));
        let list = cutlist::of_project(book, project);
        all.extend(lay_out::sentence(book, project, &list).map(|words| said("lay out", words)));
        all.extend(of_outlook(ctx, project, outlook, ways(pane, ctx, *id)));
        let due = pane.classes.due.iter();
        all.extend(due.map(|d| said(format!("due {}", d.on), d.said(ctx.book))));
        let cuts = pane.classes.cuts.iter();
        all.extend(cuts.map(|(copies, words)| {
            said("cut", format!("{} of {words}", count_of((*copies).into(), "sheet")))
        }));
        if !project.note.is_empty() {
            all.push(said("note", project.note.clone()));
        }
        if !project.attendees.is_empty() {
            all.push(said("names", project.attendees.join(", ")));
        }
        for line in pane.classes.lines.iter().filter_map(|seq| book.log().get(*seq as usize - 1)) {
            let name = line.offcut.map_or_else(|| book.items().name_of(line.item), |o| book.offcut_title(o));
            all.push(said(
                "used so far",
                format!("{}, {:+} {name}, {}", line.date, line.change, line.reason.word()),
            ));
        }
    }
    all
}

fn of_form(pane: &StockPane, ctx: &Ctx, project: &Project) -> Vec<Said> {
    let fields = ProjectField::of(project);
    let picked = pane.field.row(fields.len());
    let currency = &ctx.book.settings().currency;
    let rows = fields.iter().enumerate().map(|(n, field)| {
        said(format!("{}{}", field.word(), mark(picked == Some(n))), field.shown(project, currency))
    });
    rows.collect()
}

/// How a class stands, in one sentence.
pub fn standing(book: &Book, outlook: &Outlook) -> String {
    let (sheets, offcuts) = outlook.still_to_cut(book);
    let still = plan_words::count_words(sheets, offcuts);
    let words = match (outlook.shortage_line(book), outlook.basis) {
        (Some(short), _) => short,
        (None, _) if outlook.needs.is_empty() => "It needs no paper yet.".to_owned(),
        (None, Basis::Bound) => format!("At least {still}: the plan is on its way."),
        (None, _) if outlook.is_booked() && outlook.pieces.1 == 0 => "All is cut.".to_owned(),
        (None, _) if outlook.is_booked() => format!("Booked: {still} to cut. Nothing is short."),
        (None, _) => format!("Its plan takes {still}. Nothing is short. <class-book> books it."),
    };
    match outlook.better_by {
        0 => words,
        n => format!("{words} A plan with {} fewer is there: <class-book> books it.", count_of(n, "sheet")),
    }
}

/// How far a class has come: `cutting 12 of 40 pieces, preparing 0 of 15 sets, packing 0 of 14 kits`.
pub fn stage_words(project: &Project, outlook: &Outlook) -> String {
    let all = outlook.pieces.0;
    let cut = (all > 0).then(|| format!("cutting {} of {}", outlook.cut, count_of(all, "piece")));
    let stage = |stage: Stage| {
        let of = project.stage_total(stage)?;
        let all = count_of(of.into(), stage.unit());
        Some(format!("{} {} of {all}", stage.work(), project.stages.done(stage)))
    };
    cut.into_iter().chain(Stage::ALL.into_iter().filter_map(stage)).collect::<Vec<_>>().join(", ")
}

/// What can be done about what is short, a way a fact.
fn ways(pane: &StockPane, ctx: &Ctx, id: ProjectId) -> Vec<Said> {
    let currency = &ctx.book.settings().currency;
    let ways = pane.ways.of(ctx.book, id).unwrap_or_default().iter().flat_map(|l| &l.ways);
    ways.map(|w| said("it can be fixed", format!("{}: {}", w.words, w.detail(currency)))).collect()
}

/// What the table of a class says of a need beside its counts: what is on order, what it costs, its size and place.
fn beside_need(ctx: &Ctx, outlook: &Outlook, need: &Need) -> String {
    let (book, line) = (ctx.book, outlook.costs.lines.iter().find(|l| l.item == need.item));
    let currency = &book.settings().currency;
    let cost = line.and_then(|l| l.opened).map_or_else(|| "no price".to_owned(), |m| m.show(currency));
    let item = book.items().get(need.item);
    let size = item.and_then(Item::cutting_size).map(|s| s.as_made_and_own(ctx.unit));
    let place = item.map(|i| i.place.clone()).filter(|p| !p.is_empty());
    let mut parts = vec![format!("{} on hand", book.on_hand(need.item))];
    parts.extend([format!("{} on order", book.on_order(need.item)), cost]);
    parts.extend(size);
    parts.extend(place);
    parts.join(", ")
}

/// The look at a class in words: needs, shortage, kit, cost.
fn of_outlook(ctx: &Ctx, project: &Project, outlook: &Outlook, ways: Vec<Said>) -> Vec<Said> {
    let book = ctx.book;
    let mut all = Vec::new();
    for need in &outlook.needs {
        let short = if need.missing > 0 { format!(", SHORT {}", need.missing) } else { String::new() };
        let words = format!(
            "{} needed, {} used, {} still to use, {} booked, {} free{short}",
            need.needed,
            need.used,
            need.still(),
            need.booked,
            need.free
        );
        all.push(said(book.items().name_of(need.item), words));
        all.push(said(format!("{}, more", book.items().name_of(need.item)), beside_need(ctx, outlook, need)));
    }
    for o in &outlook.offcuts {
        let words = format!("{} needed, {} used, {} booked", o.needed, o.used, o.booked);
        all.push(said(book.offcut_title(o.offcut), words));
    }
    all.push(said("standing", standing(book, outlook)));
    all.extend(outlook.shortages(book).into_iter().map(|s| said("short", s)));
    all.extend(ways);
    for line in &outlook.kit {
        let size = line.size.map_or_else(String::new, |s| format!(" {}", s.show_with_unit(ctx.unit)));
        let (made, what) = (line.made, line.words(book));
        let words = format!("{} of {what}{size}, {made} in all", line.a_seat);
        all.push(said(format!("kit of a {}", project.kit_of()), words));
    }
    all.extend(cost_words(ctx.book, outlook));
    all.extend(cost_told::takings(book, project, &outlook.costs));
    all.extend(outlook.others.iter().map(|o| said("others", o.words(book))));
    all.extend(outlook.notes.iter().map(|n| said("note", n.as_str())));
    all
}

/// What a class costs, a label and its words a figure.
pub fn cost_words(book: &Book, outlook: &Outlook) -> Vec<Said> {
    let costs = &outlook.costs;
    let mut all = cost_told::costs(costs, &book.settings().currency);
    all.extend(cost_told::unpriced(book, costs));
    all
}

fn of_bookings(pane: &StockPane, ctx: &Ctx) -> Vec<Said> {
    let book = ctx.book;
    let picked = pane.cursor.row(pane.bookings.len());
    let mut all = Vec::new();
    for due in pane.calendar.iter().flatten().take(MOST) {
        let whose = due.project.map_or_else(String::new, |id| format!(", {}", book.projects().name_of(id)));
        all.push(said(format!("due {}", due.on), format!("{}{whose}", due.said(book))));
    }
    for want in pane.wanted.iter().take(MOST) {
        let on = want.on.map_or_else(|| "no day".to_owned(), |d| d.to_string());
        let short = if want.missing > 0 { format!(", SHORT {}", want.missing) } else { String::new() };
        let words = format!("{} for {}, {on}{short}", want.count, book.projects().name_of(want.project));
        all.push(said(format!("not booked, {}", book.items().name_of(want.item)), words));
    }
    for (n, id) in pane.bookings.iter().enumerate().take(MOST) {
        let Some(b) = book.bookings().get(*id) else { continue };
        let on = day_of(book, b).map_or_else(|| "no day".to_owned(), |d| d.to_string());
        let pieces = pane
            .aside
            .pieces_of(b)
            .map_or_else(String::new, |n| format!(", {} to cut", count_of(n, "piece")));
        let words = format!("{} for {}, {on}{pieces}", b.count, book.projects().name_of(b.project));
        let signs = signs(pane, picked == Some(n), Some(RowMark::Booking(*id)));
        all.push(said(format!("{}{signs}", booked::title(book, b)), words));
    }
    if let Some(b) = picked.and_then(|n| pane.bookings.get(n)).and_then(|id| book.bookings().get(*id)) {
        all.extend(in_hand::of_booking(ctx, pane, b).into_iter().map(|(word, words)| said(word, words)));
        all.extend(in_hand::day_by_day(ctx, pane, b.item, b.offcut));
    }
    for (id, look) in pane.aside.works.iter().take(MOST) {
        let (pieces, still) = look.pieces;
        let (sheets, offcuts) = look.still_to_cut(book);
        let words = format!(
            "{} of {} cut, {} to cut",
            pieces.saturating_sub(still),
            count_of(pieces, "piece"),
            plan_words::count_words(sheets, offcuts)
        );
        all.push(said(format!("open, {}", book.projects().name_of(*id)), words));
    }
    all
}

fn of_count(ctx: &Ctx, count: &CountDay) -> Vec<Said> {
    let book = ctx.book;
    let len = count.items.len();
    let words = format!("{} of {len} counted, {} differ", count.done().len(), count.differing(book));
    let mut all = vec![said("count day", words)];
    let at = count.cursor.row(len).unwrap_or(0);
    let first = at.saturating_sub(MOST / 2);
    for n in (first..len).take(MOST) {
        let Some(id) = count.items.get(n) else { break };
        let counted = count.counted.get(n).copied().flatten();
        let counted = counted.map_or_else(|| "not counted".to_owned(), |n| format!("counted {n}"));
        let name = format!("{}{}", book.items().name_of(*id), mark(at == n));
        all.push(said(name, format!("the book says {}, {counted}", book.on_hand(*id))));
    }
    all
}

fn of_preview(preview: &Preview) -> Vec<Said> {
    let mut all = vec![said("list", preview.path.as_str()), said("it would do", preview.summary.as_str())];
    for line in preview.lines.iter().take(MOST) {
        let at = line.line.map_or_else(String::new, |n| format!(" (line {n})"));
        all.push(said(format!("{}{at}", line.sign.word()), line.text.as_str()));
    }
    if preview.lines.len() > MOST {
        all.push(said("more", count_of((preview.lines.len() - MOST) as u64, "line")));
    }
    all
}
