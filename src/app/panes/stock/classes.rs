//! Classes and batches: made after a project, changed figure by figure, booked, taught, cancelled. The look at the one
//! under the cursor (needs, shortage, kit, cost) is worked out once and kept until something changes.

use super::{WAYS, ask, done, picked_class, row};
use crate::app::action::Taught;
use crate::app::commands::CommandId;
use crate::app::effect::Effect;
use crate::app::finder;
use crate::app::input::list::Cursor;
use crate::app::model::Model;
use crate::app::overlay::{Echo, Overlay, PickRow, Purpose, StockAsk, Target};
use crate::app::prompt;
use crate::app::state::views::StockView;
use crate::app::status::Status;
use crate::app::update;
use crate::domain::book::Book;
use crate::domain::edit::{Edit, Row};
use crate::domain::money::Money;
use crate::domain::project::{Progress, Project};
use crate::domain::stock::outlook::{Outlook, outlook};
use crate::domain::stock::{ProjectId, class};
use std::collections::BTreeMap;

/// The figures of a class, from top to bottom.
pub const FIELDS: [&str; 9] = [
    "name",
    "day",
    "seats",
    "sample sets",
    "spoilage, percent",
    "spoilage, pieces a kind",
    "price of a seat",
    "minutes a card",
    "an hour of work",
];

/// Classes and batches, and the look at one of them.
#[derive(Clone, Debug, Default)]
pub struct Classes {
    /// Open ones first, by day, then those that are done.
    pub ids: Vec<ProjectId>,
    /// Sheets and things set aside for each.
    pub booked: BTreeMap<ProjectId, u64>,
    /// The look at the one under the cursor.
    pub outlook: Option<(ProjectId, Outlook)>,
}

impl Classes {
    /// Brings the list up to date with the book; the cursor stays on its class when that moves.
    pub fn arrange(&mut self, book: &Book, open: Option<ProjectId>, cursor: Cursor) -> Cursor {
        let picked = self.picked(open, cursor);
        let mut rows: Vec<(ProjectId, &Project)> = book.projects().iter().collect();
        rows.sort_by_cached_key(|(id, p)| {
            (p.progress != Progress::Open, p.date.is_none(), p.date, p.name.to_lowercase(), *id)
        });
        self.ids = rows.into_iter().map(|(id, _)| id).collect();
        self.booked.clear();
        for (_, b) in book.bookings().iter() {
            *self.booked.entry(b.project).or_default() += u64::from(b.count);
        }
        self.outlook = None;
        let at = self.ids.iter().position(|id| Some(*id) == picked);
        let cursor = at.map_or(cursor, Cursor::at);
        self.look(book, self.picked(open, cursor));
        cursor
    }

    /// Looks at a class, unless that was done.
    pub fn look(&mut self, book: &Book, picked: Option<ProjectId>) {
        if self.outlook.as_ref().map(|(id, _)| *id) != picked {
            self.outlook = picked.and_then(|id| Some((id, outlook(book, id)?)));
        }
    }

    /// The class that is open, else the one under the cursor.
    pub fn picked(&self, open: Option<ProjectId>, cursor: Cursor) -> Option<ProjectId> {
        open.or_else(|| self.ids.get(cursor.row(self.ids.len())?).copied())
    }
}

/// What a class shows in each row of its form.
pub fn field_text(project: &Project, row: usize, currency: &str) -> String {
    let money = |m: Option<Money>| m.map_or_else(|| "-".to_owned(), |m| m.show(currency));
    match row {
        0 => project.name.clone(),
        1 => project.date.map_or_else(|| "-".to_owned(), |d| d.to_string()),
        2 => project.seats.to_string(),
        3 => project.samples.to_string(),
        4 => format!("{} %", project.spoilage_percent),
        5 => project.spoilage_fixed.to_string(),
        6 => money(project.seat_price),
        7 => {
            if project.minutes_a_card == 0 {
                "-".to_owned()
            } else {
                project.minutes_a_card.to_string()
            }
        }
        _ => money(project.hour_rate),
    }
}

/// Runs a command of the list or of the form.
pub fn run(model: &mut Model, id: CommandId) -> Vec<Effect> {
    use CommandId as Id;
    if id == Id::ClassNew {
        open_new(model);
        return Vec::new();
    }
    let Some(class) = picked_class(model) else { return Vec::new() };
    match id {
        Id::ClassOpen => {
            (model.stock.view, model.stock.field) = (StockView::Class(class), Cursor::default());
        }
        Id::ClassClose => {
            model.stock.view = StockView::Classes;
            let at = model.stock.classes.ids.iter().position(|i| *i == class).unwrap_or(0);
            model.stock.cursor = Cursor::at(at);
        }
        Id::ClassField => open_field(model, class),
        Id::ClassBook => return book(model, class),
        Id::ClassTaught => return taught(model, class),
        Id::ClassCancel => return cancel(model, class),
        _ => {}
    }
    Vec::new()
}

fn open_new(model: &mut Model) {
    let mut rows: Vec<PickRow> = model
        .book
        .projects()
        .iter()
        .map(|(id, p)| {
            let cards = p.cards.len();
            row(&p.name, format!("its {cards} cards, {} pieces", p.pieces.len()), Target::ClassLike(Some(id)))
        })
        .collect();
    rows.push(row("an empty class", "cards are added in Mats", Target::ClassLike(None)));
    model.overlays.push(Overlay::Picker(finder::picker("Whose cards are taught?", rows)));
}

/// Asks for the name of a new class.
pub fn open_name(model: &mut Model, like: Option<ProjectId>) {
    let label = "New class: name, seats (0 for a batch that is no class):";
    prompt::open(model, Purpose::Stock(StockAsk::ClassName(like)), label, "");
}

/// Makes a class of this name, opens it.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept_name(model: &mut Model, like: Option<ProjectId>, text: &str) -> Result<Vec<Effect>, String> {
    let (name, seats) = match text.rsplit_once(',') {
        Some((name, seats)) if seats.trim().parse::<u32>().is_ok() => (name, ask::count(seats, 0)?),
        _ => (text, 12),
    };
    let id = model.book.projects().next();
    let effects = update::make(model, class::new_class(&model.book, name, seats, like))?;
    (model.stock.view, model.stock.field) = (StockView::Class(id), Cursor::at(1));
    model.stock.arrange(&model.book, model.today);
    Ok(effects)
}

fn open_field(model: &mut Model, class: ProjectId) {
    let Some(row) = model.stock.field.row(FIELDS.len()) else { return };
    let Some(project) = model.book.projects().get(class) else { return };
    let words = [
        "Name:",
        "Day (2026-12-12, empty for none):",
        "Seats (0 for a batch that is no class):",
        "Sample sets made beside the seats:",
        "Spoilage in percent of the pieces:",
        "Spoilage in pieces of each kind, beside the percentage:",
        "What a seat is charged (empty for none):",
        "Minutes of work a card (0 leaves work out):",
        "What an hour of work counts for (empty for none):",
    ];
    let text = match row {
        4 => project.spoilage_percent.to_string(),
        _ => field_text(project, row, ""),
    };
    let text = if text == "-" { String::new() } else { text };
    let label = words.get(row).copied().unwrap_or_default();
    prompt::open(model, Purpose::Stock(StockAsk::ClassField(class, row)), label, &text);
}

/// The class with one figure as typed.
fn with_field(model: &Model, id: ProjectId, row: usize, text: &str) -> Result<(Project, Project), String> {
    let was = model.book.projects().get(id).cloned().ok_or("this class is gone")?;
    let currency = &model.book.settings().currency;
    let text = text.trim();
    let money = || -> Result<Option<Money>, String> {
        if text.is_empty() {
            Ok(None)
        } else {
            Money::parse(text, currency).map(Some).map_err(|e| e.to_string())
        }
    };
    let mut now = was.clone();
    match row {
        0 => text.clone_into(&mut now.name),
        1 => now.date = if text.is_empty() { None } else { Some(ask::day(text)?) },
        2 => now.seats = ask::count(text, 0)?,
        3 => now.samples = ask::count(text, 0)?,
        4 => now.spoilage_percent = percent(text)?,
        5 => now.spoilage_fixed = ask::count(text, 0)?,
        6 => now.seat_price = money()?,
        7 => now.minutes_a_card = ask::count(text, 0)?,
        _ => now.hour_rate = money()?,
    }
    Ok((was, now))
}

fn percent(text: &str) -> Result<u32, String> {
    let n = ask::count(text.trim_end_matches('%').trim(), 0)?;
    if n > 100 { Err("spoilage is a percentage from 0 to 100".to_owned()) } else { Ok(n) }
}

/// How a figure is read.
pub fn echo(model: &Model, id: ProjectId, row: usize, text: &str) -> Echo {
    let currency = &model.book.settings().currency;
    match with_field(model, id, row, text) {
        Ok((_, now)) => Echo::Read(field_text(&now, row, currency)),
        Err(why) => Echo::Refused(why),
    }
}

/// Takes a figure. What is booked follows at once where it was booked before, so that one step holds both.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept(model: &mut Model, id: ProjectId, row: usize, text: &str) -> Result<Vec<Effect>, String> {
    let (was, now) = with_field(model, id, row, text)?;
    if now == was {
        return Ok(Vec::new());
    }
    let label = format!("changed {}, {}", now.name, FIELDS.get(row).copied().unwrap_or_default());
    let is_booked =
        now.progress == Progress::Open && model.book.bookings().iter().any(|(_, b)| b.project == id);
    let change = Edit::Project(Row::alter(id, was, now));
    let mut edits = vec![change.clone()];
    if is_booked && row > 0 {
        // The bookings as they are with the new figure: worked out on a copy of the book.
        let mut then = model.book.clone();
        then.apply(&change, model.today).map_err(|e| e.to_string())?;
        edits.extend(class::book_project(&then, id));
    }
    update::make(model, Edit::batch(label, edits))
}

fn is_open(model: &mut Model, id: ProjectId) -> bool {
    let Some(project) = model.book.projects().get(id) else { return false };
    if project.progress == Progress::Open {
        return true;
    }
    let words = format!("{} is {} already: u takes that back", project.name, project.progress.word());
    model.tell(Status::refused(words));
    false
}

fn book(model: &mut Model, id: ProjectId) -> Vec<Effect> {
    if !is_open(model, id) {
        return Vec::new();
    }
    let name = model.book.projects().name_of(id);
    let Some(edit) = class::book_project(&model.book, id) else {
        let words = format!("{name} needs no paper yet: give its cards papers in Mats");
        model.tell(Status::refused(words));
        return Vec::new();
    };
    let effects = done(model, edit);
    let short = model.stock.classes.outlook.as_ref().and_then(|(_, o)| o.shortage_line(&model.book));
    if short.is_some() {
        model.tell(Status::refused("Booked, but something is short: the reorder list has it now."));
    }
    effects
}

/// Logs a class at once; where lines of its name are in the log already, asks first.
fn taught(model: &mut Model, id: ProjectId) -> Vec<Effect> {
    if !is_open(model, id) {
        return Vec::new();
    }
    let name = model.book.projects().name_of(id);
    if !model.book.has_logged(&name) {
        return close(model, id, Taught::UseBooked);
    }
    // The safe answer comes first: nothing is used twice.
    let rows =
        WAYS.iter().rev().map(|(how, label, detail)| row(*label, *detail, Target::CloseClass(id, *how)));
    let rows = rows.collect();
    let title = "Its name is in the log already. Esc: nothing";
    model.overlays.push(Overlay::Picker(finder::picker(title, rows)));
    Vec::new()
}

/// Closes a class.
pub fn close(model: &mut Model, id: ProjectId, how: Taught) -> Vec<Effect> {
    let edit = match how {
        Taught::UseBooked => class::log_class(&model.book, id),
        Taught::LoggedBefore => class::close(&model.book, id),
    };
    match edit {
        Ok(edit) => done(model, edit),
        Err(why) => {
            model.tell(Status::refused(why));
            Vec::new()
        }
    }
}

fn cancel(model: &mut Model, id: ProjectId) -> Vec<Effect> {
    if !is_open(model, id) {
        return Vec::new();
    }
    match class::cancel(&model.book, id) {
        Some(edit) => done(model, edit),
        None => Vec::new(),
    }
}
