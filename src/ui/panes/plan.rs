//! The plan view: what the project takes and whether less is possible, the layouts with their copies, the one picked to
//! scale; below them its steps, or papers, leftovers, pieces.
//!
//! ```text
//! Plan  spring class                    +-----------+
//! 9 sheets, 91 % of the paper used      |  A  |  A  |
//! > fern, letter   4 x   6 pieces       |-----+-----|
//!   oat, 12x12     2 x  12 pieces       +-----------+
//! ---- [steps 2] papers 6  leftovers 11  pieces 7 ----
//! > 1  Fence 4 1/4 in: left edge (11 in) of ...
//! ```

pub(in crate::ui::panes) mod small;

use crate::app::action::List;
use crate::app::model::Model;
use crate::app::state::plan::Detail;
use crate::domain::book::Book;
use crate::domain::cutting::plan::{Plan, PlannedSheet};
use crate::domain::cutting::plan_words;
use crate::domain::cutting::step::{CutStep, StepList};
use crate::domain::cutting::words::STACK_CAUTION;
use crate::domain::planning::ProjectJob;
use crate::domain::plural::count_of;
use crate::domain::project::Source;
use crate::domain::size::Size;
use crate::domain::stock::ItemId;
use crate::ui::chips::{self, Of};
use crate::ui::look::Look;
use crate::ui::painting::Painted;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::diagram::Diagram;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::table::{Column, Row, Table};
use ratatui::layout::{Position, Rect};

const COLUMNS: [Column; 4] = [
    Column::text("sheet", 23, 0),
    Column::number("cut", 4, 0),
    Column::number("pieces", 6, 0),
    Column::number("steps", 5, 1),
];

/// Rows of the lines at the bottom, on a small and on a tall screen.
const BELOW: (u16, u16) = (7, 14);
/// From this width on all layouts stand small beside the list; the list takes so many columns at most.
const WIDE: u16 = 116;
const MOST_LEFT: u16 = 84;
/// Columns from which leftovers stand in the row that says what they are.
const LEFT_OVER: u16 = 34;
/// Columns that a legend beside a drawing needs.
const LEGEND: u16 = 24;
/// Columns of the list from which offcuts have their whole names.
const WHOLE_NAMES: u16 = 56;
/// Rows that the sums and a few layouts take.
const LAYOUTS: u16 = 10;
/// From this height on there is room for more lines.
const TALL: u16 = 34;

/// Draws the view.
pub fn draw_plan(model: &Model, area: Rect, on: &mut Surface) -> Option<Position> {
    let (pane, theme) = (&model.yields.plan, &on.look.theme);
    let Some((_, job)) = &pane.job else { return None };
    on.put(area, 0, 0, &[run("Plan  ", theme.dim), run(&job.name, theme.title)]);
    let Some(plan) = pane.to_cut() else {
        on.put(area, 0, 2, &[run("working out a first plan", theme.dim)]);
        return None;
    };
    let area = on.above_figures(area);
    let mut rooms = rooms(area);
    let y = totals(model, job, plan, rooms.left, on) + 1;
    let notes = note_words(model);
    if rooms.small.is_some() {
        let wanted = y + plan.sheets.len() as u16 + 1 + note_rows(&notes, rooms.left.width);
        rooms.list_takes(wanted.min(area.height * 2 / 3));
    }
    let list = Rect { y: rooms.left.y + y, height: rooms.left.height.saturating_sub(y), ..rooms.left };
    let list = notes_below(&notes, list, on);
    let lists: Vec<StepList> = plan.sheets.iter().filter_map(|s| pane.steps(s)).collect();
    let rows = plan
        .sheets
        .iter()
        .zip(&lists)
        .enumerate()
        .map(|(n, (s, steps))| row(model, (n, job, s, steps), list.width, on.look))
        .collect::<Vec<_>>();
    let picked = pane.cursor.row(rows.len());
    let table = Table { columns: &COLUMNS, rows: &rows, total: rows.len(), picked, marked: &[] };
    let at = table.draw(list, on);
    let paper = |n: usize| paper_of(&model.book, job, plan.sheets.get(n)?).map(Of::Item);
    chips::draw_chips(model, &table, list, paper, on);
    on.hits.list(list, List::Layouts, table.shown(list));
    let mut told = vec![pane.detail];
    if let (Some(sheet), Some(list)) = (pane.picked(), picked.and_then(|n| lists.get(n))) {
        told.extend(layout(model, (job, sheet, list), rooms.drawing, on));
    }
    let y = lines(model, rooms.lines, on);
    if let Some(room) = rooms.small {
        small::draw(model, job, plan, room, on);
        others(model, &told, rooms.lines, y + 1, on);
    }
    at.map(|y| Position::new(area.x, y))
}

/// Where the parts of the view stand.
struct Rooms {
    left: Rect,
    drawing: Rect,
    small: Option<Rect>,
    lines: Rect,
}

impl Rooms {
    /// Gives the sums and the list so many rows of their column, the lines below the others.
    fn list_takes(&mut self, rows: u16) {
        let whole = self.left.height + self.lines.height;
        self.left.height = rows;
        self.lines = Rect { y: self.left.bottom(), height: whole - rows, ..self.lines };
    }
}

/// The steps run across the whole width below; in a wide window they stand under the list, and all layouts small under the
/// drawing.
fn rooms(area: Rect) -> Rooms {
    if area.width >= WIDE && area.height >= TALL {
        let width = (area.width * 9 / 20).min(MOST_LEFT);
        let column = Rect { width, ..area };
        let beside = Rect { x: area.x + width + 2, width: area.width - width - 2, ..area };
        let drawing = area.height * 3 / 5;
        return Rooms {
            left: column,
            lines: Rect { y: column.bottom(), height: 0, ..column },
            drawing: Rect { height: drawing - 1, ..beside },
            small: Some(Rect { y: area.y + drawing, height: area.height - drawing, ..beside }),
        };
    }
    // On the lowest screens the layouts come first.
    let room = area.height.saturating_sub(LAYOUTS).min(area.height / 2);
    let rows = if area.height >= TALL { BELOW.1 } else { BELOW.0 }.min(room);
    let above = Rect { height: area.height - rows, ..area };
    let width = if area.width >= 100 { area.width * 11 / 20 } else { area.width / 2 };
    let width = width.clamp(40, 64).min(area.width);
    Rooms {
        left: Rect { width, ..above },
        lines: Rect { y: above.bottom(), height: rows, ..area },
        drawing: Rect {
            x: area.x + width + 2,
            y: area.y + 1,
            width: area.width.saturating_sub(width + 2),
            height: above.height.saturating_sub(1),
        },
        small: None,
    }
}

/// What could not be planned.
fn note_words(model: &Model) -> Vec<String> {
    let pane = &model.yields.plan;
    let (Some((_, job)), Some(plan)) = (&pane.job, pane.to_cut()) else { return Vec::new() };
    let unit = model.screen.unit;
    let short = plan.shortages.iter().map(|s| s.sentence(&job.job, unit));
    let undone = short.chain(plan.unplaced.iter().map(|u| u.sentence(&job.job, unit)));
    undone.chain(job.notes.iter().cloned()).collect()
}

fn note_rows(notes: &[String], width: u16) -> u16 {
    notes.iter().map(|n| text::rows(n, usize::from(width)) as u16).sum()
}

/// The same at the foot of the list; returns the room that is left.
fn notes_below(notes: &[String], list: Rect, on: &mut Surface) -> Rect {
    let rows = note_rows(notes, list.width).min(list.height / 2);
    let below = Rect { y: list.bottom() - rows, height: rows, ..list };
    let mut row = 0;
    for note in notes {
        row = on.paragraph(below, row, note, on.look.theme.warn);
    }
    Rect { height: list.height - rows, ..list }
}

/// Steps, papers, leftovers or pieces: all of them where they fit, else from the picked line on. Returns the row after them.
fn lines(model: &Model, area: Rect, on: &mut Surface) -> u16 {
    let (pane, theme) = (&model.yields.plan, &on.look.theme);
    let rule = on.look.glyphs.rule.repeat(usize::from(area.width));
    on.put(area, 0, 0, &[run(rule, theme.line)]);
    let mut x = 0;
    for detail in Detail::ALL {
        let is_here = detail == pane.detail;
        let count = pane.lines_of(detail, model.screen.unit).len();
        let named = format!("{} {count}", detail.word());
        let word = if is_here { format!("[{named}] ") } else { format!(" {named}  ") };
        let wide = text::width(&word) as u16;
        on.put(area, x, 0, &[run(word, if is_here { theme.title } else { theme.dim })]);
        x += wide;
    }
    let lines: Vec<_> = pane.lines(model.screen.unit).iter().map(|l| model.keymap.told(l)).collect();
    let room = area.height.saturating_sub(1);
    let width = usize::from(area.width.saturating_sub(2));
    let rows: usize = lines.iter().map(|l| text::wrap(&l.words, width).len()).sum();
    let picked = pane.line.row(lines.len()).unwrap_or(0);
    let first = if rows <= usize::from(room) { 0 } else { picked };
    let inner = Rect { x: area.x + 2, width: area.width.saturating_sub(2), ..area };
    let minded = minded(model);
    let mut y = 1;
    for (n, line) in lines.iter().enumerate().skip(first) {
        let is_picked = n == picked && lines.len() > 1;
        let style = if minded.get(n).copied().unwrap_or(false) { theme.warn } else { theme.text };
        // Whole, or not at all but counted: a warning stands at the end of its line. The line in hand is told in any case.
        let counted = u16::from(n + 1 < lines.len());
        if n > first && y + text::rows(&line.words, width) as u16 + counted > area.height {
            if let Some(y) = in_few_words(model, n, inner, y, on) {
                return y;
            }
            let more = format!("{} more below", lines.len() - n);
            on.put(inner, 0, y, &[run(more, theme.dim)]);
            return y + 1;
        }
        if is_picked && y < area.height {
            on.put(area, 0, y, &[run(on.look.glyphs.pick, theme.mark)]);
        }
        y = on.told(inner, y, line, if is_picked { theme.title } else { style });
    }
    y
}

/// Which of the steps in view have something to be minded, such as a strip too narrow for the hand.
fn minded(model: &Model) -> Vec<bool> {
    let pane = &model.yields.plan;
    let list = pane.picked().filter(|_| pane.detail == Detail::Steps).and_then(|sheet| pane.steps(sheet));
    let has_any = |step: &CutStep| !step.mind_words(model.screen.unit).is_empty();
    list.map_or_else(Vec::new, |list| list.steps.iter().map(has_any).collect())
}

/// The steps from one on in few words, each with what is to be minded, where all of them have room so; the row after them.
fn in_few_words(model: &Model, from: usize, area: Rect, y: u16, on: &mut Surface) -> Option<u16> {
    let (pane, unit, theme) = (&model.yields.plan, model.screen.unit, &on.look.theme);
    let list = pane.picked().filter(|_| pane.detail == Detail::Steps).and_then(|sheet| pane.steps(sheet))?;
    let steps = list.steps.iter().enumerate().skip(from);
    let told = steps.map(|(n, step)| {
        let mind = step.mind_words(unit);
        let (noun, set) = (step.profile.set_by.noun(), step.profile.setting(step.fence).about(unit));
        let words = format!("{}  {noun} {set}: {}. {}", n + 1, step.short_words(unit), mind.join(" "));
        (words, mind.is_empty())
    });
    let told: Vec<(String, bool)> = told.collect();
    let rows: usize = told.iter().map(|(words, _)| text::rows(words, usize::from(area.width))).sum();
    if usize::from(y) + rows > usize::from(area.height) {
        return None;
    }
    let style = |is_calm: bool| if is_calm { theme.dim } else { theme.warn };
    let told = told.iter().map(|(words, is_calm)| (words.trim_end(), style(*is_calm)));
    Some(told.fold(y, |y, (words, style)| on.paragraph(area, y, words, style)))
}

/// What the plan takes, and how surely it is the least; returns the row after it.
fn totals(model: &Model, job: &ProjectJob, plan: &Plan, area: Rect, on: &mut Surface) -> u16 {
    let pane = &model.yields.plan;
    let (t, theme) = (&plan.totals, &on.look.theme);
    let sheets = plan_words::sheets_and_offcuts(&job.job, plan);
    let is_tall = area.height >= TALL - BELOW.1;
    let proof = if is_tall {
        plan_words::bound_words(&job.job, plan)
    } else {
        plan_words::bound_short(&job.job, plan)
    };
    on.put(
        area,
        0,
        1,
        &[run(sheets, theme.good), run(format!(", {:.0} % used", t.used_share * 100.0), theme.text)],
    );
    let mut y = 2;
    for words in &pane.short {
        y = on.paragraph(area, y, &format!("SHORT: {words}"), theme.bad);
    }
    let y = on.paragraph(area, y, &proof, if t.proved { theme.text } else { theme.dim });
    let words = match (pane.waiting, &pane.progress) {
        (Some(_), Some((p, _))) => {
            format!("Still looking for a better one, round {}. <plan-close> keeps this.", p.work)
        }
        (Some(_), None) => "Still looking for a better one. <plan-close> keeps this.".to_owned(),
        _ => {
            let layouts = text::count(u64::from(t.layouts), "layout", "layouts");
            let (cuts, settings) = (u64::from(t.cuts), u64::from(t.hands.settings));
            let work = || [text::count(cuts, "cut", "cuts"), text::count(settings, "setting", "settings")];
            // A window with room has them in the sentence on the work.
            let work = if is_tall { Vec::new() } else { work().to_vec() };
            work.into_iter().chain([layouts]).collect::<Vec<_>>().join(", ")
        }
    };
    let mut y = on.told(area, y, &model.keymap.told(&words), theme.dim);
    let is_stacked = job.job.trimmer.sheets_per_stroke > 1;
    let caution = (is_stacked && is_tall).then(|| STACK_CAUTION.to_owned());
    for choice in pane.choices(!is_tall).into_iter().chain(caution) {
        y = on.told(area, y, &model.keymap.told(&choice), theme.dim);
    }
    y
}

/// An offcut by its paper in short and its size, which tells it from others where its whole name has no room.
fn short_name(model: &Model, job: &ProjectJob, planned: &PlannedSheet) -> Option<String> {
    let Source::Bin(id) = job.from.get(planned.sheet)? else { return None };
    let offcut = model.book.offcuts().get(*id)?;
    let (name, unit) = (model.book.items().name_of(offcut.item), model.screen.unit);
    let paper = name.split(", ").next().unwrap_or_default();
    Some(format!("{paper} {} x {}", offcut.size.width.about(unit), offcut.size.height.about(unit)))
}

/// A row of the list: its number tells layouts of one paper apart, here and over the small drawings.
fn row(
    model: &Model,
    (n, job, planned, list): (usize, &ProjectJob, &PlannedSheet, &StepList),
    width: u16,
    look: &Look,
) -> Row {
    let book = &model.book;
    let name = job.job.sheets.get(planned.sheet).map(|s| s.name.clone()).unwrap_or_default();
    let name = if width < WHOLE_NAMES { short_name(model, job, planned).unwrap_or(name) } else { name };
    let name = format!("{}. {name}", n + 1);
    let pieces = planned.layout.pieces.len() as u64 * u64::from(planned.copies);
    let gap = if planned.copies < 100 { " " } else { "" };
    let copies = format!("{}{gap}{}", planned.copies, look.glyphs.times);
    let cells = vec![chips::named(book, &name), copies, pieces.to_string(), list.steps.len().to_string()];
    Row { cells, style: look.theme.text }
}

/// The paper that a layout is cut from, where it comes from the shelf or the bin.
fn paper_of(book: &Book, job: &ProjectJob, planned: &PlannedSheet) -> Option<ItemId> {
    job.paper_of(book, planned.sheet)
}

/// The paper of a layout as it is painted.
fn painted(model: &Model, job: &ProjectJob, id: ItemId, look: &Look) -> Painted {
    Painted::among(model, id, &job.papers, look)
}

fn layout(
    model: &Model,
    (job, planned, list): (&ProjectJob, &PlannedSheet, &StepList),
    area: Rect,
    on: &mut Surface,
) -> Vec<Detail> {
    let pane = &model.yields.plan;
    let Some(sheet) = job.job.sheets.get(planned.sheet) else { return Vec::new() };
    // Which pieces the numbers on the drawing are.
    let kinds = plan_words::kinds(&list.layout);
    let groups: Vec<_> = list.steps.iter().map(|s| s.cuts.clone()).collect();
    let letter = |piece: usize| plan_words::kind_letter(kinds.iter().position(|k| k.0 == piece).unwrap_or(0));
    let names: Vec<String> = list.layout.pieces.iter().map(|p| letter(p.piece)).collect();
    let diagram = Diagram {
        sheet: sheet.size,
        layout: &list.layout,
        steps: &groups,
        in_hand: if pane.detail == Detail::Steps { pane.line.row(groups.len()) } else { None },
        names: Some(&names),
        paper: paper_of(&model.book, job, planned).map(|id| painted(model, job, id, on.look)),
    };
    let beside = legend_room(&diagram, area);
    let legend_rows = if beside.is_some() { 0 } else { (kinds.len() as u16).min(area.height / 3) };
    let room = Rect { height: area.height.saturating_sub(legend_rows), ..area };
    diagram.draw(room, on);
    let legend = beside.unwrap_or(Rect { y: area.y + room.height, height: legend_rows, ..area });
    let y = pieces(job, &kinds, legend, on);
    if beside.is_none() {
        return Vec::new();
    }
    let what = sheet.taken().word();
    let copies = count_of(u64::from(planned.copies), what);
    let y = leftovers(model, (&copies, list), legend, y + 1, on);
    others(model, &[pane.detail], legend, y + 1, on)
}

/// The room beside a drawing, where its legend has some.
fn legend_room(diagram: &Diagram<'_>, area: Rect) -> Option<Rect> {
    let used = diagram.cells(area)?.0 + 2;
    let width = area.width.checked_sub(used).filter(|width| *width >= LEGEND)?;
    Some(Rect { x: area.x + used, width, ..area })
}

/// Which pieces the letters of a drawing are; returns the row after them.
fn pieces(job: &ProjectJob, kinds: &[(usize, usize)], area: Rect, on: &mut Surface) -> u16 {
    let mut y = 0;
    for (n, (piece, count)) in kinds.iter().take(usize::from(area.height)).enumerate() {
        let Some(p) = job.job.pieces.get(*piece) else { continue };
        let letter = plan_words::kind_letter(n);
        let words = format!(
            "{letter}: {count} {} {}, {}",
            on.look.glyphs.times,
            text::harmless(&p.called()),
            p.cut_size()
        );
        y = on.paragraph(area, y, &words, on.look.theme.dim);
    }
    y
}

/// How much of the sheet is used and what is left over of it; returns the row after it.
fn leftovers(model: &Model, (copies, list): (&str, &StepList), area: Rect, y: u16, on: &mut Surface) -> u16 {
    let (unit, theme) = (model.screen.unit, &on.look.theme);
    let steps = text::count(list.steps.len() as u64, "step", "steps");
    let y = on.paragraph(area, y, &format!("{copies} cut like this, {steps}"), theme.text);
    let mut sizes: Vec<(Size, usize)> = Vec::new();
    for panel in &list.layout.offcuts {
        match sizes.iter_mut().find(|(size, _)| *size == panel.size) {
            Some((_, count)) => *count += 1,
            None => sizes.push((panel.size, 1)),
        }
    }
    // A narrow legend has the words in a row of their own.
    let is_narrow = area.width < LEFT_OVER;
    let (label, blank) = if is_narrow { ("", "  ") } else { ("left over  ", "           ") };
    let top = if is_narrow { on.put(area, 0, y, &[run("left over", theme.dim)]).min(1) + y } else { y };
    for (row, (size, count)) in (top..area.height).zip(&sizes) {
        let label = if row == y { label } else { blank };
        let each = if *count > 1 { format!("{count} of ") } else { String::new() };
        on.put(
            area,
            0,
            row,
            &[run(label, theme.dim), run(format!("{each}{}", size.about(unit)), theme.text)],
        );
    }
    (top + sizes.len() as u16).min(area.height)
}

/// What else is told of the plan, where there is room: each kind of line whole or not at all. Returns the kinds told here.
fn others(model: &Model, told: &[Detail], area: Rect, y: u16, on: &mut Surface) -> Vec<Detail> {
    let (pane, theme) = (&model.yields.plan, &on.look.theme);
    let (mut y, mut told_here) = (y, Vec::new());
    for detail in [Detail::Papers, Detail::Leftovers, Detail::Pieces] {
        let lines = pane.lines_of(detail, model.screen.unit);
        let rows: usize = lines.iter().map(|l| text::rows(l, usize::from(area.width))).sum();
        if told.contains(&detail) || lines.is_empty() || usize::from(y) + rows + 1 > usize::from(area.height)
        {
            continue;
        }
        on.put(area, 0, y, &[run(detail.word(), theme.title)]);
        y += 1;
        for line in &lines {
            y = on.told(area, y, &model.keymap.told(line), theme.text);
        }
        y += 1;
        told_here.push(detail);
    }
    told_here
}
