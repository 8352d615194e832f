//! Classes and batches: made after a project, changed figure by figure, booked, taught, cancelled. The look at the one
//! under the cursor (needs, shortage, kit, cost) is worked out once and kept until something changes.

use super::class_more;
use super::typed::{self, row};
use crate::app::commands::CommandId;
use crate::app::ctx::Ctx;
use crate::app::effect::{Content, Effect};
use crate::app::input::list::Cursor;
use crate::app::overlay::Echo;
use crate::app::reply::Replies;
use crate::app::reply::Reply;
use crate::app::state::forms::FormFor;
use crate::app::state::stock::StockPane;
use crate::app::state::stock::texts::StockChoice;
use crate::app::state::stock::texts::StockText;
use crate::app::state::views::StockView;
use crate::app::status::Status;
use crate::domain::book::Book;
use crate::domain::edit::Edit;
use crate::domain::figures::{ProjectField, changed};
use crate::domain::project::{Progress, Project};
use crate::domain::stock::class::OpenPapers;
use crate::domain::stock::outlook::outlook;
use crate::domain::stock::{ProjectId, class, shortage, takings};
use jiff::civil::Date;

/// The row of the day among them.
pub const DAY: usize = 1;

/// Runs a command of the list or of the form.
pub fn run_classes(pane: &mut StockPane, ctx: &Ctx, id: CommandId) -> Vec<Reply> {
    use CommandId as Id;
    if id == Id::ClassNew {
        return vec![Reply::Form(FormFor::Class)];
    }
    if id == Id::ClassYear {
        return vec![ask_year(pane, ctx).unwrap_or_else(Reply::refuse)];
    }
    let Some(class) = pane.picked_class() else { return Vec::new() };
    match id {
        Id::ClassOpen => (pane.view, pane.field) = (StockView::Class(class), Cursor::default()),
        Id::ClassClose => {
            pane.view = StockView::Classes;
            let at = pane.classes.ids.iter().position(|i| *i == class).unwrap_or(0);
            pane.cursor = Cursor::at(at);
        }
        Id::ClassPaper
        | Id::ClassDrop
        | Id::ClassAdd
        | Id::ClassSeats
        | Id::ClassCame
        | Id::ClassSold
        | Id::ClassKits
        | Id::ClassNames => {
            return class_more::run_class_more(ctx, id, class).unwrap_or_else(|why| vec![Reply::refuse(why)]);
        }
        Id::ClassField => return ask_field(pane, ctx, class).into_iter().collect(),
        Id::ClassBook => return vec![book(ctx, class).unwrap_or_else(Reply::refuse)],
        Id::ClassTaught => return taught(ctx, class).unwrap_or_else(|why| vec![Reply::refuse(why)]),
        Id::ClassCancel => {
            return vec![class::cancel(ctx.book, class).map_or_else(Reply::refuse, Reply::Edit)];
        }
        _ => {}
    }
    Vec::new()
}

/// Asks for the file of a year's takings: the year of the class in hand where it was taught, else the last one.
fn ask_year(pane: &StockPane, ctx: &Ctx) -> Result<Reply, String> {
    let years = takings::years(ctx.book);
    let in_hand = pane.picked_class().and_then(|id| ctx.book.projects().get(id)?.date).map(Date::year);
    let year = in_hand.filter(|y| years.contains(y)).or(years.first().copied());
    let year = year.ok_or("no class was taught yet: <class-taught> logs one")?;
    let label = format!("Write what the classes of {year} took to the file:");
    Ok(typed::prompt(StockText::YearFile(year), label, format!("classes-{year}.csv")))
}

/// Writes a year's takings, class by class.
///
/// # Errors
/// A sentence where no file is named.
pub fn year_file(ctx: &Ctx, year: i16, text: &str) -> Replies {
    let told = takings::year(ctx.book, year);
    let content = Content::Table {
        header: takings::YEAR_COLUMNS.to_vec(),
        rows: told.rows.iter().map(|row| row.cells().to_vec()).collect(),
        below_zero: takings::YEAR_BELOW_ZERO.to_vec(),
    };
    Ok(vec![Reply::Do(Effect::WriteFile { path: typed::file(text)?, content })])
}

fn ask_field(pane: &StockPane, ctx: &Ctx, class: ProjectId) -> Option<Reply> {
    let project = ctx.book.projects().get(class)?;
    let fields = ProjectField::of(project);
    let row = pane.field.row(fields.len())?;
    let field = fields.get(row)?;
    let text = field.typed(project);
    Some(typed::prompt(StockText::ClassField(class, row), field.question(), text))
}

/// The class with one figure as typed.
fn with_field(ctx: &Ctx, id: ProjectId, row: usize, text: &str) -> Result<Project, String> {
    let mut now = ctx.book.projects().get(id).cloned().ok_or("this class is gone")?;
    field(row).read(&mut now, text, &ctx.book.settings().currency)?;
    Ok(now)
}

/// The figure of a row; a row of a form with fewer stands where it stands in the longest.
fn field(row: usize) -> ProjectField {
    ProjectField::OF_CLASS.get(row).copied().unwrap_or(ProjectField::HourRate)
}

/// How a figure is read.
pub fn echo(ctx: &Ctx, id: ProjectId, row: usize, text: &str) -> Echo {
    let currency = &ctx.book.settings().currency;
    match with_field(ctx, id, row, text) {
        Ok(now) => Echo::Read(field(row).shown(&now, currency)),
        Err(why) => Echo::Refused(why),
    }
}

/// Takes a figure. What is booked stays until it is booked anew: the page shows both figures.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept(ctx: &Ctx, id: ProjectId, row: usize, text: &str) -> Replies {
    let edit = changed(ctx.book, id, &[(field(row), text.to_owned())])?;
    Ok(edit.map(Reply::Edit).into_iter().collect())
}

/// Refuses what can be done to an open class only.
pub(super) fn check_open(book: &Book, id: ProjectId) -> Result<(), String> {
    match book.projects().get(id) {
        Some(p) if p.progress == Progress::Open => Ok(()),
        Some(p) => Err(format!("{} is {} already: <undo> takes that back", p.name, p.progress.word())),
        None => Err("this class is gone".to_owned()),
    }
}

/// Books what the project's plan takes. A class without a day is asked for it first.
fn book(ctx: &Ctx, id: ProjectId) -> Result<Reply, String> {
    check_open(ctx.book, id)?;
    if ctx.book.projects().get(id).is_some_and(|p| p.date.is_some()) {
        return Ok(Reply::Book(vec![id]));
    }
    let label = "Day it is needed (12 dec, sat, +10; empty: no day, it comes last):";
    Ok(typed::prompt(StockText::BookingDay(id), label, ""))
}

/// Takes the day of a project without one, and books it; without a day where none is typed.
///
/// # Errors
/// The sentence that refuses the day.
pub fn accept_day(ctx: &Ctx, id: ProjectId, text: &str) -> Replies {
    let mut replies = if text.trim().is_empty() { Vec::new() } else { accept(ctx, id, DAY, text)? };
    replies.push(Reply::Book(vec![id]));
    Ok(replies)
}

/// Books the plan that is there, and says what is short, or whose sheets it takes.
pub fn book_settled(ctx: &Ctx, id: ProjectId) -> Vec<Reply> {
    let Some(settled) = ctx.settling.of(id) else { return Vec::new() };
    let edit = match class::book_papers(ctx.book, settled) {
        Ok(Some(edit)) => edit,
        Ok(None) => {
            let words = format!("{} is booked already, just so.", ctx.book.projects().name_of(id));
            return vec![Reply::Tell(Status::note(words))];
        }
        Err(why) => return vec![Reply::refuse(why)],
    };
    let words = minded(ctx.book, ctx.today, id, &edit);
    let mut replies = vec![Reply::Edit(edit)];
    if !words.is_empty() {
        replies.push(Reply::refuse(words.join(" ")));
    }
    replies
}

/// What is to be minded of what books a class: that something is short, whose sheets it takes.
pub fn minded(book: &Book, today: Date, id: ProjectId, edit: &Edit) -> Vec<String> {
    let mut words = Vec::new();
    if is_short_after(book, today, id, edit) {
        words.push("Booked, but something is short: the reorder list has it now.".to_owned());
    }
    words.extend(shortage::taken_by(book, id, edit).into_iter().map(|w| format!("It {w}.")));
    words
}

/// Whether the class lacks something once this edit is made.
fn is_short_after(book: &Book, today: Date, id: ProjectId, edit: &Edit) -> bool {
    let mut then = book.clone();
    let is_made = then.apply(edit, today).is_ok();
    is_made && outlook(&then, id, None).is_some_and(|o| o.shortage_line(&then).is_some())
}

/// Closes a class. Papers that are booked and not logged as cut are asked about first; nothing else is open.
fn taught(ctx: &Ctx, id: ProjectId) -> Replies {
    check_open(ctx.book, id)?;
    let open = class::open_papers(ctx.book, id);
    if open.is_empty() {
        return closed(ctx, id, OpenPapers::Back);
    }
    // The safe answer comes first: nothing is used twice.
    let words = open.words();
    let rows = vec![
        row(
            format!("give {words} back to the shelf"),
            "they were not needed, or they are in the log",
            StockChoice::CloseClass(id, OpenPapers::Back),
        ),
        row(
            format!("log {words} as used"),
            "they were cut, but not at the bench view",
            StockChoice::CloseClass(id, OpenPapers::Used),
        ),
    ];
    Ok(vec![Reply::pick("Booked, but not logged as cut. Esc changes nothing", rows)])
}

/// Closes a class, and says where to note who came.
///
/// # Errors
/// A sentence where it cannot be closed.
pub fn closed(ctx: &Ctx, id: ProjectId, papers: OpenPapers) -> Replies {
    let mut replies = vec![Reply::Edit(class::taught(ctx.book, id, papers)?)];
    if ctx.book.projects().get(id).is_some_and(|p| p.seats > 0 && p.afterwards.came.is_none()) {
        replies.push(Reply::Tell(Status::note(
            "Logged as taught. How many came? <class-came> notes it and counts the kits left over.",
        )));
    }
    Ok(replies)
}
