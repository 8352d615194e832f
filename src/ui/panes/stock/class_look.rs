//! The look at a class, part by part: how it stands, its one table of what it needs, its kit, what it costs and brought, what
//! is due, what others take, its last lines of the log. Each part takes what rows it needs and says where the next begins.

use super::shared::{below, dash, flush, rule};
use crate::app::model::Model;
use crate::app::panes::stock::facts;
use crate::domain::cutlist;
use crate::domain::money::Money;
use crate::domain::plural::count_of;
use crate::domain::project::{Progress, Project, Stage};
use crate::domain::stock::Item;
use crate::domain::stock::cost_told;
use crate::domain::stock::outlook::Outlook;
use crate::ui::chips::{self, Of};
use crate::ui::panes::gives::BOTH;
use crate::ui::panes::mats::drawing::{Worn, front};
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::bar::bar;
use crate::ui::widgets::lines::run;
use crate::ui::widgets::stack::{self, ListRoom, share, tell_left_out};
use crate::ui::widgets::table::{Column, Row, Table};
use ratatui::layout::Rect;
use ratatui::style::Style;

/// What is looked at.
#[derive(Clone, Copy)]
pub(super) struct Look<'a> {
    pub model: &'a Model,
    pub project: &'a Project,
    pub outlook: &'a Outlook,
}

/// Most columns of names where there is little room: the short ones of offcuts have it.
const SHORT_NAME: u16 = 30;
const NEEDS: [Column; 13] = [
    Column::text("item", 14, 0).grows_to(43),
    Column::number("need", 4, 0),
    Column::number("cut", 3, 2),
    Column::number("still", 5, 3),
    Column::number("booked", 6, 1),
    Column::number("free", 4, 4),
    Column::number("short", 5, 0),
    Column::number("coming", 6, 5),
    Column::number("others", 6, 6),
    Column::number("cost", 8, 2),
    Column::text("size", 16, 7).or_short(BOTH),
    Column::text("place", 12, 8),
    Column::number("on hand", 7, 9),
];

/// Tables at least this wide have whole names.
const ROOMY: u16 = 84;

/// The column of the costs.
const COST: usize = 9;

const KIT: [Column; 8] = [
    Column::text("kit of a seat", 19, 0).grows_to(34),
    // A blank behind the number: "8 3/4 x 3 1/2" would read as one measure.
    Column::number("each", 4, 0),
    Column::text("size", 17, 1).or_short(BOTH),
    Column::text("of", 18, 2).grows_to(26),
    Column::number("in all", 6, 3),
    Column::number("spare", 5, 5),
    Column::number("still", 5, 4),
    Column::text("cut", 12, 6),
];

/// The least room in which a card is drawn.
const LEAST_WIDE: u16 = 20;
/// The least rows of it, the name among them.
const LEAST_HIGH: u16 = 8;

impl Look<'_> {
    /// How it stands, in one sentence, and how far each stage has come.
    pub fn standing(self, area: Rect, on: &mut Surface) -> u16 {
        let (theme, book) = (&on.look.theme, &self.model.book);
        let mut y = 0;
        if self.project.progress == Progress::Open {
            let style = match self.outlook.shortage_line(book) {
                Some(_) => theme.bad,
                None if self.outlook.needs.is_empty() => theme.dim,
                None if self.outlook.is_booked() => theme.good,
                None => theme.text,
            };
            let top = Rect { height: 2.min(area.height), ..area };
            y = on.told(top, 0, &self.model.keymap.told(&facts::standing(book, self.outlook)), style);
        }
        let stages = facts::stage_words(self.project, self.outlook);
        let rest = below(area, y);
        y + on.paragraph(Rect { height: 2.min(rest.height), ..rest }, 0, &stages, theme.dim)
    }

    /// The stages with a bar each.
    pub fn stages(self, area: Rect, on: &mut Surface) -> u16 {
        let theme = &on.look.theme;
        let mut rows = vec![("cutting", self.outlook.cut, self.outlook.pieces.0, "piece")];
        for stage in Stage::ALL {
            if let Some(of) = self.project.stage_total(stage) {
                rows.push((stage.work(), self.project.stages.done(stage).into(), of.into(), stage.unit()));
            }
        }
        let cells = usize::from(area.width.saturating_sub(35)).min(40);
        let mut y = 0;
        for (word, done, of, unit) in rows.into_iter().filter(|(_, _, of, _)| *of > 0) {
            let bar = bar(done as i64, of as i64, None, cells, &on.look.glyphs);
            let style = if done >= of { theme.good } else { theme.text };
            let runs = [
                run(text::left(word, 13, ""), theme.dim),
                run(format!("{done:>4} of {:<11} ", count_of(of, unit)), style),
                run(bar, style),
            ];
            on.put(area, 0, y, &runs);
            y += 1;
        }
        y
    }

    /// What it needs of each thing, what is cut, booked, short, and what that costs.
    pub fn needs(self, area: Rect, on: &mut Surface) -> u16 {
        let area = flush(area);
        let (theme, book) = (&on.look.theme, &self.model.book);
        let currency = &book.settings().currency;
        let cost = |item| {
            let line = self.outlook.costs.lines.iter().find(|l| l.item == item);
            line.map_or_else(String::new, |l| {
                l.opened.map_or_else(|| "no price".to_owned(), |m: Money| m.show(currency))
            })
        };
        let others =
            |item| self.outlook.others.iter().filter(|o| o.item == item).map(|o| o.count).sum::<u64>();
        let mut rows: Vec<Row> = self
            .outlook
            .needs
            .iter()
            .map(|n| {
                let mut cells = vec![chips::named(book, &book.items().name_of(n.item))];
                cells.extend([n.needed, n.used, n.still(), n.booked].map(|n| n.to_string()));
                cells.extend([n.free.to_string(), dash(n.missing), dash(book.on_order(n.item))]);
                cells.extend([dash(others(n.item)), cost(n.item)]);
                let item = book.items().get(n.item);
                let size = item.and_then(Item::cutting_size);
                cells.push(size.map_or_else(String::new, |s| s.as_made_and_own(self.model.screen.unit)));
                cells.push(item.map_or_else(String::new, |i| i.place.clone()));
                cells.push(book.on_hand(n.item).to_string());
                Row { cells, style: if n.missing > 0 { theme.bad } else { theme.text } }
            })
            .collect();
        // Where names have not all their room, offcuts have short ones under a heading of their own.
        let is_short = area.width < ROOMY;
        if is_short && !self.outlook.offcuts.is_empty() {
            rows.push(Row { cells: vec!["offcuts from the bin".to_owned()], style: theme.dim });
        }
        let heads = rows.len() - self.outlook.needs.len();
        rows.extend(self.offcut_rows(is_short, theme.text));
        if rows.is_empty() {
            return 0;
        }
        let mut columns = NEEDS;
        // Whole names before sizes and places.
        let most = if is_short { SHORT_NAME } else { columns[0].most };
        let shown = usize::from(area.height.saturating_sub(1));
        let names = rows.iter().take(shown).filter(|row| row.cells.len() > 1).filter_map(|r| r.cells.first());
        let longest = names.map(|name| text::width(name));
        columns[0].width = (longest.max().unwrap_or(0) as u16).clamp(columns[0].width, most);
        let words = self.outlook.costs.material().map_or_else(|| "no price".to_owned(), |m| m.show(currency));
        let room = usize::from(area.height.saturating_sub(1));
        // The sum stands in the column of the costs, where there is one.
        let has_costs = Table::plain(&columns, &rows).column_at(area, COST).is_some();
        if rows.len() < room && has_costs {
            let mut cells = vec!["material".to_owned()];
            cells.resize(NEEDS.len(), String::new());
            cells[COST] = words;
            rows.push(Row { cells, style: theme.dim });
        }
        let table = Table::plain(&columns, &rows);
        table.draw(area, on);
        let offcut = |n: usize| book.offcuts().get(self.outlook.offcuts.get(n)?.offcut).map(|o| o.item);
        let needs = self.outlook.needs.iter().map(|n| Some(n.item));
        let papers: Vec<_> = needs
            .chain((0..heads).map(|_| None))
            .chain((0..self.outlook.offcuts.len()).map(offcut))
            .collect();
        let paper = |n: usize| papers.get(n).copied().flatten().map(Of::Item);
        chips::draw_chips(self.model, &table, area, paper, on);
        (rows.len() as u16 + 1).min(area.height)
    }

    /// Offcuts that are set aside for it.
    fn offcut_rows(self, is_short: bool, style: Style) -> impl Iterator<Item = Row> {
        let book = &self.model.book;
        self.outlook.offcuts.iter().map(move |o| {
            let counts = [o.needed, o.used, o.needed.saturating_sub(o.used), o.booked];
            let name = if is_short { book.offcut_short_title(o.offcut) } else { book.offcut_title(o.offcut) };
            let mut cells = vec![chips::named(book, &name)];
            cells.extend(counts.map(|n| n.to_string()));
            cells.push(book.free_offcuts(o.offcut).to_string());
            cells.extend(["-", "-", "-", "-", "", "bin", ""].map(str::to_owned));
            Row { cells, style }
        })
    }

    /// What goes to each seat, how many in all, and how many of them are still to be cut.
    pub fn kit(self, area: Rect, on: &mut Surface) -> u16 {
        let theme = &on.look.theme;
        let (outlook, project) = (self.outlook, self.project);
        if outlook.kit.is_empty() {
            let words = format!("Nothing goes to a {} yet: give the cards papers in Mats.", project.kit_of());
            return on.paragraph(area, 0, &words, theme.dim);
        }
        let area = flush(area);
        let glyphs = &on.look.glyphs;
        let cells_of_bar = 12;
        let rows: Vec<Row> = outlook
            .kit
            .iter()
            .zip(&outlook.kit_still)
            .map(|(line, still)| {
                let size = line.size.map(|s| s.as_made_and_own(self.model.screen.unit)).unwrap_or_default();
                let made = u64::from(line.made);
                let done = made.saturating_sub(*still);
                let mut cells = vec![line.title(&self.model.book), format!("{} ", line.a_seat), size];
                let spare = dash(line.spare(project));
                cells.extend([line.paper(&self.model.book), made.to_string(), spare, still.to_string()]);
                cells.push(bar(done as i64, made as i64, None, cells_of_bar, glyphs));
                Row { cells, style: theme.text }
            })
            .collect();
        let mut columns = KIT;
        columns[0].title = match project.kit_of() {
            _ if rows.len() + 1 > usize::from(area.height) => "kit",
            "seat" => "kit of a seat",
            _ => "kit of a set",
        };
        // Names, sizes and papers whole before anything else has more room than it needs.
        for n in [0, 2, 3] {
            let longest = rows.iter().filter_map(|row| row.cells.get(n)).map(|cell| text::width(cell)).max();
            // A blank more behind a size: its unit and the paper would read as one.
            let wide = longest.unwrap_or(0) as u16 + u16::from(n == 2);
            let column = &mut columns[n];
            column.width = wide.clamp(column.width.min(12), column.most.max(column.width));
        }
        let table = Table::plain(&columns, &rows);
        let place = table.draw_whole(area, on);
        let below = Rect { x: area.x + 1, width: area.width.saturating_sub(1), ..area };
        let room = usize::from(area.height.saturating_sub(place.height));
        let fits = |words: &String| text::wrap(words, usize::from(below.width)).len() <= room;
        match cutlist::spare_words(project).filter(fits) {
            Some(words) => on.paragraph(below, place.height, &words, theme.dim),
            None => place.height,
        }
    }

    /// What it costs and has to bring, then what came of it.
    pub fn money(self, area: Rect, on: &mut Surface) -> u16 {
        let book = &self.model.book;
        let mut pairs = facts::cost_words(book, self.outlook);
        let came = cost_told::takings(book, self.project, &self.outlook.costs);
        if !came.is_empty() {
            pairs.push((String::new(), String::new()));
            pairs.extend(came);
        }
        if !self.project.attendees.is_empty() {
            pairs.push(("names".to_owned(), self.project.attendees.join(", ")));
        }
        told(&pairs, area, on)
    }

    /// Its cards side by side, each drawn to scale with its name and how many are made; false where there is no room.
    pub fn designs(self, area: Rect, on: &mut Surface) -> bool {
        let cards = &self.project.cards;
        let most = (area.width / LEAST_WIDE).max(1);
        let shown = (cards.len() as u16).min(most);
        if shown == 0 || area.height < LEAST_HIGH || area.width < LEAST_WIDE {
            return false;
        }
        let wide = (area.width + 2) / shown - 2;
        let sizes = &self.model.stock.classes.layers;
        for (n, (card, sizes)) in (0..shown).zip(cards.iter().zip(sizes)) {
            let place = Rect { x: area.x + n * (wide + 2), width: wide, ..area };
            let rest = cards.len() - usize::from(shown);
            let more = if n + 1 == shown && rest > 0 { format!(", {rest} more") } else { String::new() };
            let words = format!("{}, {} a set{more}", card.name, card.count);
            on.put(place, 0, 0, &[run(words, on.look.theme.title)]);
            let worn = Worn::by(self.model, card, on.look);
            front(card.face, sizes, &worn, (below(place, 1), None), on);
        }
        true
    }

    /// What is to be minded: dye lots, what could not be worked out.
    pub fn notes(self, area: Rect, on: &mut Surface) -> u16 {
        let style = on.look.theme.warn;
        self.outlook.notes.iter().fold(0, |y, note| on.paragraph(area, y, note, style))
    }

    /// What one part of its days says: its title, and lines of a day or a count with words.
    fn part(self, part: DayPart) -> (&'static str, Vec<(String, String)>) {
        let (classes, book) = (&self.model.stock.classes, &self.model.book);
        match part {
            DayPart::Due => {
                let due = classes.due.iter().map(|r| (r.on.to_string(), r.said(book)));
                ("what is due", due.collect())
            }
            DayPart::Cuts => {
                let cuts = classes.cuts.iter().map(|(copies, words)| (format!("{copies} x"), words.clone()));
                ("how it is cut", cuts.collect())
            }
            DayPart::Others => {
                let others = self.outlook.others.iter().map(|o| {
                    let day = o.on.map_or_else(|| "no day".to_owned(), |d| d.to_string());
                    let turn = if o.is_first { "first" } else { "after it" };
                    let (whose, what) = (book.projects().name_of(o.project), book.items().name_of(o.item));
                    (day, format!("{whose} takes {} of {what} {turn}", o.count))
                });
                ("others on the same shelf", others.collect())
            }
            DayPart::Note => {
                let note = Some(self.project.note.clone()).filter(|note| !note.is_empty());
                ("note", note.into_iter().map(|note| (String::new(), note)).collect())
            }
            DayPart::Used => {
                let lines = classes.lines.iter().filter_map(|seq| book.log().get(*seq as usize - 1));
                let lines = lines.map(|l| {
                    let name =
                        l.offcut.map_or_else(|| book.items().name_of(l.item), |o| book.offcut_title(o));
                    (l.date.to_string(), format!("{:+} {name}, {}", l.change, l.reason.word()))
                });
                ("used so far", lines.collect())
            }
        }
    }

    /// Draws those parts that fit whole, each under a rule; returns the row after them, and which parts are left.
    pub fn whole_parts(self, parts: &[DayPart], area: Rect, on: &mut Surface) -> (u16, Vec<DayPart>) {
        let (mut y, mut left) = (0, Vec::new());
        for part in parts {
            let (title, lines) = self.part(*part);
            let rows = rows_of(&lines, area.width) + 1;
            if lines.is_empty() {
                continue;
            }
            if y + rows > area.height {
                left.push(*part);
                continue;
            }
            let top = heading(title, area, y, on);
            y = lines_from(&lines, area, top, on) + 1;
        }
        (y, left)
    }

    /// Parts with the lines that each holds.
    fn held(self, parts: &[DayPart]) -> Vec<(String, usize)> {
        let held = |part: &DayPart| {
            let (title, lines) = self.part(*part);
            (title.to_owned(), lines.len())
        };
        parts.iter().map(held).collect()
    }

    /// Names the parts of its days, at the right of a rule, where none of them has room; what it needs before them, where rows of
    /// that have none.
    pub fn left_out(self, needs: usize, rule: Rect, on: &mut Surface) {
        let mut lists = vec![("what it takes".to_owned(), needs)];
        lists.extend(self.held(&DayPart::ALL));
        let words = stack::left_out(&lists, usize::from(rule.width.saturating_sub(4)));
        let x = rule.width.saturating_sub(text::width(&words) as u16 + 3);
        if !words.is_empty() && x > 0 {
            on.put(rule, x, 0, &[run(format!(" {words} "), on.look.theme.dim)]);
        }
    }

    /// Parts one below the other as far as there is room; what has none is named in the last row.
    pub fn dates(self, parts: &[DayPart], area: Rect, on: &mut Surface) {
        self.kit_and_dates(false, parts, area, on);
    }

    /// The same below what goes to each seat, where that is wanted too.
    pub fn kit_and_dates(self, with_kit: bool, parts: &[DayPart], area: Rect, on: &mut Surface) {
        let kit_rows = if with_kit { self.outlook.kit.len() } else { 0 };
        let lines: Vec<_> = parts.iter().map(|part| self.part(*part)).collect();
        let asked_of = |lines: &[(String, String)]| {
            let least = lines.first().map_or(0, |first| rows_of(std::slice::from_ref(first), area.width));
            let counted = u16::from(lines.len() > 1);
            ListRoom::rows(usize::from(rows_of(lines, area.width))).at_least(1 + least + counted)
        };
        let asked: Vec<ListRoom> = std::iter::once(ListRoom::rows(kit_rows))
            .chain(lines.iter().map(|(_, lines)| asked_of(lines)))
            .collect();
        let rows = share(&asked, area.height, 1);
        let mut y = rows[0];
        if y > 0 {
            self.kit(Rect { height: y, ..area }, on);
        }
        for ((title, lines), rows) in lines.iter().zip(&rows[1..]).filter(|(_, rows)| **rows > 0) {
            let place = below(area, if y > 0 { y + 1 } else { 0 });
            on.put(place, 0, 0, &[run(*title, on.look.theme.title)]);
            lines_from(lines, Rect { height: *rows, ..place }, 1, on);
            y = place.y - area.y + rows;
        }
        let held = std::iter::once(("kit".to_owned(), kit_rows)).chain(self.held(parts));
        let out: Vec<_> = held.zip(&rows).filter(|(_, rows)| **rows == 0).map(|(held, _)| held).collect();
        let last = below(area, area.height.saturating_sub(1));
        tell_left_out(&out, last, on);
    }
}

/// Parts of what a class's days hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum DayPart {
    Due,
    Cuts,
    Others,
    Note,
    Used,
}

impl DayPart {
    /// All of them in their order.
    pub const ALL: [Self; 5] = [Self::Due, Self::Cuts, Self::Others, Self::Note, Self::Used];
}

/// Columns of the days or counts before the words: days need more room than counts do.
fn before_words(lines: &[(String, String)]) -> u16 {
    let longest = lines.iter().map(|(word, _)| text::width(word)).max().unwrap_or(0) as u16;
    longest + u16::from(longest > 0) * 2
}

/// Rows that lines take in so many columns.
fn rows_of(lines: &[(String, String)], width: u16) -> u16 {
    let room = usize::from(width.saturating_sub(before_words(lines)));
    lines.iter().map(|(_, words)| text::rows(words, room) as u16).sum()
}

/// Lines from a row on, whole or not at all; the last row counts those that are left out. Returns the row after them.
fn lines_from(lines: &[(String, String)], area: Rect, mut y: u16, on: &mut Surface) -> u16 {
    let column = before_words(lines);
    let beside = Rect { x: area.x + column, width: area.width.saturating_sub(column), ..area };
    for (n, (word, words)) in lines.iter().enumerate() {
        let rows = text::rows(words, usize::from(beside.width));
        let counted = usize::from(n + 1 < lines.len());
        if usize::from(y) + rows + counted > usize::from(area.height) {
            on.put(area, 0, y, &[run(format!("{} more", lines.len() - n), on.look.theme.dim)]);
            return (y + 1).min(area.height);
        }
        on.put(area, 0, y, &[run(word.as_str(), on.look.theme.dim)]);
        y = on.paragraph(beside, y, words, on.look.theme.text);
    }
    y
}

/// Labels with their words, one below the other; the last row counts those that have no room.
fn told(pairs: &[(String, String)], area: Rect, on: &mut Surface) -> u16 {
    let theme = &on.look.theme;
    let beside = Rect { x: area.x + 17, width: area.width.saturating_sub(17), ..area };
    let mut y = 0;
    for (n, (word, value)) in pairs.iter().enumerate() {
        let rows = text::rows(value, usize::from(beside.width)).max(1) as u16;
        let rest = || pairs.iter().skip(n).filter(|(word, _)| !word.is_empty()).count();
        if y + rows + u16::from(n + 1 < pairs.len()) > area.height {
            on.put(area, 0, y, &[run(format!("{} more", rest()), theme.dim)]);
            return (y + 1).min(area.height);
        }
        on.put(area, 0, y, &[run(word.as_str(), theme.dim)]);
        let style = if value.starts_with('-') { theme.bad } else { theme.text };
        y = if value.is_empty() { y + 1 } else { on.paragraph(beside, y, value, style) };
    }
    y
}

/// A heading over a rule.
pub(super) fn heading(words: &str, area: Rect, y: u16, on: &mut Surface) -> u16 {
    if y >= area.height {
        return y;
    }
    rule(below(Rect { height: area.height.min(y + 1), ..area }, y), on);
    on.put(area, 1, y, &[run(format!(" {words} "), on.look.theme.title)]);
    y + 1
}
