//! What a wide window adds to Mats: what a sheet gives of every part at the reveals round its own, the papers that the
//! project takes with their cost, the other cards small. Each part is drawn whole or not at all.
//!
//! ```text
//! A sheet gives        size pieces sheets   at 1/16  [1/8]  3/16
//! mat 1           4 x 5 1/4      4      5      4    [4]     4   plum stone
//! The project takes          needed  to cut  left after   cost
//! ```

use crate::app::model::Model;
use crate::app::panes::mats::round::{self, CardRow, RoundPaper, YieldRow};
use crate::domain::length::Length;
use crate::domain::project::ProjectCard;
use crate::ui::chips::{self, Of};
use crate::ui::look::Look;
use crate::ui::panes::mats::drawing::{Scale, Worn, front};
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::{Run, run};
use ratatui::layout::Rect;

/// Columns of the part's name, its size at least, a figure, and a reveal's yield: two blanks at least before each heading.
const PART: usize = 14;
const SIZE: usize = 13;
const FIGURE: usize = 8;
/// Columns of the yield at a reveal, and what the first of them has more: its heading says what it is.
const REVEAL: usize = 6;
const AT: &str = "at";
/// Columns of the words of a cost.
const COST: usize = 18;
/// Columns and rows of a small card with its name, at most and at least.
const SMALL: (u16, u16) = (20, 10);
const NARROW: u16 = 18;

/// Draws the tables one below the other as far as each fits whole; returns the rows they take.
pub(super) fn tables(model: &Model, area: Rect, on: &mut Surface) -> u16 {
    let ctx = model.ctx();
    let yields = yields(&round::yields(&model.mats, &ctx), area, on.look, model);
    let papers = papers(&round::papers(&model.mats, &ctx), area, on.look, model);
    let costs = costs(&round::costs(&model.mats, &ctx), area, on.look);
    let mut y = 0;
    for (n, lines) in [yields, papers, costs].into_iter().enumerate() {
        if lines.is_empty() || y + lines.len() as u16 > area.height {
            continue;
        }
        if n == PAPERS {
            let items = round::papers(&model.mats, &ctx).into_iter().map(|row| Of::Item(row.item));
            items.for_each(|of| chips::told_below(model, of, on));
        }
        for line in &lines {
            on.put(area, 0, y, line);
            y += 1;
        }
        y += 1;
    }
    y
}

/// The place of the papers among the tables.
const PAPERS: usize = 1;

type Lines = Vec<Vec<Run>>;

fn yields(rows: &[YieldRow], area: Rect, look: &Look, model: &Model) -> Lines {
    if rows.is_empty() {
        return Vec::new();
    }
    let (theme, unit) = (&look.theme, model.screen.unit);
    let size = rows.iter().map(|row| text::width(&row.size)).fold(SIZE, usize::max);
    let before = PART + size + 2 * FIGURE + AT.len();
    let reveals = shown(round::reveals(rows), usize::from(area.width).saturating_sub(before));
    let mut head = text::left("A sheet gives", PART, "") + &text::right("size", size, "");
    head += &(text::right("pieces", FIGURE, "") + &text::right("sheets", FIGURE, ""));
    let mut first = vec![run(head, theme.title)];
    first.extend(reveals.iter().enumerate().map(|(n, reveal)| {
        let words = if n == 0 { format!("{AT} {}", reveal.about(unit)) } else { reveal.about(unit) };
        run(text::right(&words, reveal_width(n), ""), theme.dim)
    }));
    let mut lines = vec![first];
    let sheets: Vec<String> = rows.iter().map(|row| format!("  of {}", text::harmless(&row.sheet))).collect();
    let used = before + reveals.len() * REVEAL;
    let longest = sheets.iter().map(|words| text::width(words)).max().unwrap_or(0);
    // Papers stand in the list of the card's parts too: here only where every name has room.
    let has_room = used + longest <= usize::from(area.width);
    lines.extend(rows.iter().zip(sheets).map(|(row, sheet)| {
        let mut line = yield_line(row, size, &reveals, look);
        line.extend(has_room.then(|| run(sheet, theme.dim)));
        line
    }));
    lines
}

const fn reveal_width(n: usize) -> usize {
    if n == 0 { REVEAL + AT.len() } else { REVEAL }
}

/// As many reveals as have room, the narrowest first.
fn shown(mut reveals: Vec<Length>, columns: usize) -> Vec<Length> {
    reveals.truncate(columns / REVEAL);
    reveals
}

fn yield_line(row: &YieldRow, size: usize, reveals: &[Length], look: &Look) -> Vec<Run> {
    let theme = &look.theme;
    let figure = |n: &str| text::right(n, FIGURE, look.glyphs.ellipsis);
    let mut line = vec![
        run(text::left(&text::harmless(&row.part), PART, look.glyphs.ellipsis), theme.text),
        run(text::right(&row.size, size, look.glyphs.ellipsis), theme.text),
        run(figure(&row.yields.to_string()), theme.good),
        run(figure(&row.sheets.map_or_else(|| "-".to_owned(), |n| n.to_string())), theme.text),
    ];
    for (n, reveal) in reveals.iter().enumerate() {
        let found = row.reveals.iter().find(|(r, ..)| r == reveal);
        let (words, style) = match found {
            None => (String::new(), theme.dim),
            Some((_, n, true, _)) => (format!("[{n}]"), theme.good),
            Some((_, n, _, true)) => (format!("{} {n}", look.glyphs.best), theme.warn),
            Some((_, n, ..)) => (n.to_string(), theme.text),
        };
        line.push(run(text::right(&words, reveal_width(n), look.glyphs.ellipsis), style));
    }
    line
}

/// Sheets and other counted things, then offcuts under a heading of their own: they are no sheets, and have short names there.
fn papers(rows: &[RoundPaper], area: Rect, look: &Look, model: &Model) -> Lines {
    if model.book.active_project().is_none() || rows.is_empty() {
        return Vec::new();
    }
    let theme = &look.theme;
    let named: Vec<String> = rows.iter().map(|row| short_name(row, model)).collect();
    let longest = named.iter().map(|name| text::width(name)).max().unwrap_or(0);
    let beside =
        |figure: usize| usize::from(area.width).saturating_sub(5 * figure + 3 + usize::from(chips::ROOM));
    // Whole names before wide figures.
    let figure = if beside(FIGURE) > longest { FIGURE } else { FIGURE - 1 };
    let room = beside(figure);
    // What is left once the project has what it set aside: beside what it needs "free" would read as what there is for it.
    let (left, wider) = if room >= longest + 4 { ("left after", 4) } else { ("left", 0) };
    let name = (room - wider.min(room)).min(32);
    let title = text::left("The project takes", name + 3, look.glyphs.ellipsis);
    let mut head = vec![run(title, theme.title)];
    let columns = [("needed", 0), ("to cut", 0), (left, wider), ("short", 0), ("cost", 3)];
    head.extend(columns.iter().map(|(word, more)| run(text::right(word, figure + more, ""), theme.dim)));
    let mut lines = vec![head];
    for (n, (row, words)) in rows.iter().zip(named).enumerate() {
        if row.offcut.is_some() && (n == 0 || rows[n - 1].offcut.is_none()) {
            lines.push(vec![run("offcuts from the bin", theme.dim)]);
        }
        let mut line = chips::runs(model, Of::Item(row.item), look);
        let is_short = row.missing > 0;
        let style = if is_short { theme.bad } else { theme.text };
        line.push(run(text::left(&words, name, look.glyphs.ellipsis), style));
        let figures =
            [(row.needed.to_string(), 0), (row.still.to_string(), 0), (row.free.to_string(), wider)];
        line.extend(figures.iter().map(|(n, more)| run(text::right(n, figure + more, ""), style)));
        let short = if is_short { row.missing.to_string() } else { "-".to_owned() };
        line.push(run(text::right(&short, figure, ""), style));
        line.push(run(text::right(&row.cost, figure + 3, ""), style));
        lines.push(line);
    }
    lines
}

fn short_name(row: &RoundPaper, model: &Model) -> String {
    let name = row.offcut.map_or_else(|| row.name.clone(), |id| model.book.offcut_short_title(id));
    text::harmless(&name)
}

/// The costs, two side by side where every one stands whole so.
fn costs(all: &[(String, String)], area: Rect, look: &Look) -> Lines {
    let theme = &look.theme;
    let half = usize::from(area.width / 2).saturating_sub(COST + 2);
    let is_wide = all.iter().all(|(_, value)| text::width(value) <= half);
    let one = |(word, value): &(String, String)| {
        let words = text::left(word, COST, look.glyphs.ellipsis);
        let value = if is_wide { text::left(value, half + 1, "") } else { value.clone() };
        [run(words, theme.dim), run(" ", theme.dim), run(value, theme.text)]
    };
    let across = if is_wide { 2 } else { 1 };
    all.chunks(across).map(|some| some.iter().flat_map(one).collect()).collect()
}

/// The project's cards small, side by side with what they are; returns the rows they take, none where they have no room.
pub(super) fn cards(model: &Model, area: Rect, on: &mut Surface) -> u16 {
    let ctx = model.ctx();
    let rows = round::cards(&model.mats, &ctx);
    let Some(project) = model.book.active_project() else { return 0 };
    if rows.len() < 2 || area.height < SMALL.1 || area.width < NARROW {
        return 0;
    }
    // The last of a row needs no columns after it.
    let (across, down) = (((area.width + 2) / NARROW).max(1), usize::from(area.height / SMALL.1));
    let width = ((area.width + 2) / across).min(SMALL.0);
    let across = usize::from(across);
    let shown = (across * down).min(rows.len());
    let first = rows.iter().position(|r| r.in_hand).unwrap_or(0).saturating_sub(shown.saturating_sub(1));
    for (n, (row, card)) in rows.iter().zip(&project.cards).enumerate().skip(first).take(shown) {
        let at = n - first;
        let (x, y) = ((at % across) as u16 * width, (at / across) as u16 * SMALL.1);
        let place = Rect { x: area.x + x, y: area.y + y, width: width - 2, height: SMALL.1 - 1 };
        small(model, (row, card), place, on);
    }
    shown.div_ceil(across) as u16 * SMALL.1
}

fn small(model: &Model, (row, card): (&CardRow, &ProjectCard), area: Rect, on: &mut Surface) {
    let theme = &on.look.theme;
    let (sign, style) = if row.in_hand { (on.look.glyphs.pick, theme.title) } else { (" ", theme.text) };
    on.put(area, 0, 0, &[run(sign, theme.mark), run(&row.name, style)]);
    on.put(area, 1, 1, &[run(format!("{} to make", row.made), theme.dim)]);
    let room = Rect { x: area.x + 1, y: area.y + 2, width: area.width - 1, height: area.height - 2 };
    let tools = crate::app::state::mats::MatsPane::tools(&model.book, model.screen.unit);
    let sizes = crate::domain::cardwork::card(&model.book, card).layer_sizes(&tools);
    if let (Ok(sizes), Some(_)) = (sizes, Scale::of(card.face, room)) {
        front(card.face, &sizes, &Worn::by(model, card, on.look), (room, None), on);
    }
}
