//! Classes and batches: made after a project, changed figure by figure, booked, taught, cancelled. The look at the one
//! under the cursor (needs, shortage, kit, cost) is worked out once and kept until something changes.

use super::{ask, done, picked_class, row};
use crate::app::commands::CommandId;
use crate::app::effect::Effect;
use crate::app::finder;
use crate::app::input::list::Cursor;
use crate::app::model::Model;
use crate::app::overlay::{Echo, Overlay, PickRow, Purpose, StockAsk, Target};
use crate::app::prompt;
use crate::app::settling;
use crate::app::state::views::StockView;
use crate::app::status::Status;
use crate::app::update;
use crate::domain::book::Book;
use crate::domain::edit::{Edit, Row};
use crate::domain::money::Money;
use crate::domain::project::{Progress, Project};
use crate::domain::stock::class::OpenPapers;
use crate::domain::stock::outlook::outlook;
use crate::domain::stock::{ProjectId, class, shortage};

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

/// The row of the day among them.
pub const DAY: usize = 1;

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

/// Takes a figure. What is booked stays until it is booked anew: the page shows both figures.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept(model: &mut Model, id: ProjectId, row: usize, text: &str) -> Result<Vec<Effect>, String> {
    let (was, now) = with_field(model, id, row, text)?;
    if now == was {
        return Ok(Vec::new());
    }
    let label = format!("changed {}, {}", now.name, FIELDS.get(row).copied().unwrap_or_default());
    update::make(model, Edit::batch(label, vec![Edit::Project(Row::alter(id, was, now))]))
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

/// Books what the project's plan takes. A class without a day is asked for it first.
fn book(model: &mut Model, id: ProjectId) -> Vec<Effect> {
    if !is_open(model, id) {
        return Vec::new();
    }
    if model.book.projects().get(id).is_some_and(|p| p.date.is_none()) {
        let label = "Day it is needed (2026-12-12; empty: no day, it comes after all that has one):";
        prompt::open(model, Purpose::Stock(StockAsk::BookingDay(id)), label, "");
        return Vec::new();
    }
    settling::book(model, id)
}

/// Takes the day of a project without one, and books it; without a day where none is typed.
///
/// # Errors
/// The sentence that refuses the day.
pub fn accept_day(model: &mut Model, id: ProjectId, text: &str) -> Result<Vec<Effect>, String> {
    let mut effects = if text.trim().is_empty() { Vec::new() } else { accept(model, id, DAY, text)? };
    effects.extend(settling::book(model, id));
    Ok(effects)
}

/// Books the plan that is there, and says what is short, or whose sheets it takes.
pub fn book_settled(model: &mut Model, id: ProjectId) -> Vec<Effect> {
    let Some(settled) = model.settling.of(id) else { return Vec::new() };
    let edit = match class::book_papers(&model.book, settled) {
        Ok(Some(edit)) => edit,
        Ok(None) => {
            let words = format!("{} is booked already, just so.", model.book.projects().name_of(id));
            model.tell(Status::note(words));
            return Vec::new();
        }
        Err(why) => {
            model.tell(Status::refused(why));
            return Vec::new();
        }
    };
    let from = shortage::taken_by(&model.book, id, &edit);
    let effects = done(model, edit);
    let mut words = Vec::new();
    if outlook(&model.book, id, None).is_some_and(|o| o.shortage_line(&model.book).is_some()) {
        words.push("Booked, but something is short: the reorder list has it now.".to_owned());
    }
    words.extend(from.into_iter().map(|w| format!("It {w}.")));
    if !words.is_empty() {
        model.tell(Status::refused(words.join(" ")));
    }
    effects
}

/// Closes a class. Papers that are booked and not logged as cut are asked about first; nothing else is open.
fn taught(model: &mut Model, id: ProjectId) -> Vec<Effect> {
    if !is_open(model, id) {
        return Vec::new();
    }
    let open = class::open_papers(&model.book, id);
    if open.is_empty() {
        return close(model, id, OpenPapers::Back);
    }
    // The safe answer comes first: nothing is used twice.
    let words = open.words();
    let rows = vec![
        row(
            format!("give {words} back to the shelf"),
            "they were not needed, or they are in the log",
            Target::CloseClass(id, OpenPapers::Back),
        ),
        row(
            format!("log {words} as used"),
            "they were cut without the bench",
            Target::CloseClass(id, OpenPapers::Used),
        ),
    ];
    model.overlays.push(Overlay::Picker(finder::picker("Booked, and not logged as cut. Esc: nothing", rows)));
    Vec::new()
}

/// Closes a class.
pub fn close(model: &mut Model, id: ProjectId, papers: OpenPapers) -> Vec<Effect> {
    finish(model, |book| class::taught(book, id, papers))
}

fn cancel(model: &mut Model, id: ProjectId) -> Vec<Effect> {
    finish(model, |book| class::cancel(book, id))
}

fn finish(model: &mut Model, edit: impl FnOnce(&Book) -> Result<Edit, String>) -> Vec<Effect> {
    match edit(&model.book) {
        Ok(edit) => done(model, edit),
        Err(why) => {
            model.tell(Status::refused(why));
            Vec::new()
        }
    }
}
