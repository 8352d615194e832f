//! `trimside project`: classes and batches made, dated and changed, as in the panes and by the same edits.

mod card_figures;
mod cards;
mod layers;
mod loose;
mod named;
mod place;
mod show;
mod told;

pub use cards::{CardArgs, CardWhat, run as run_card};

use super::stock::ask::{ClassDo, Form};
use super::stock::{change, class};
use super::{Desk, open_store};
use crate::domain::book::Book;
use crate::domain::edit::Edit;
use crate::domain::figures::{ProjectField, changed, count};
use crate::domain::harmless::{harmless, is_blank};
use crate::domain::stock::class as classes;
use told::{Done, tell};

/// Classes and batches: made, dated, changed, booked and given back.
#[derive(clap::Args, Debug)]
pub struct ProjectArgs {
    /// What is asked or done.
    #[command(subcommand)]
    pub what: ProjectWhat,
    /// Answer as JSON
    #[arg(long, global = true)]
    pub json: bool,
}

/// What can be asked or done about projects.
#[derive(clap::Subcommand, Debug)]
pub enum ProjectWhat {
    /// All of them by day: seats, booked, short
    List,
    /// One of them with its figures, cards and layers
    Show {
        /// Its name
        #[arg(value_name = "PROJECT")]
        name: String,
    },
    /// Make one: empty, or with the cards of another
    Add {
        /// Its name
        #[arg(value_name = "NAME")]
        name: String,
        /// Whose cards, pieces and supplies it has
        #[arg(long, value_name = "PROJECT")]
        like: Option<String>,
        /// Its figures.
        #[command(flatten)]
        figures: Figures,
    },
    /// Give it another name, day, seats or other figures, all as one step
    Change {
        /// Its name
        #[arg(value_name = "PROJECT")]
        project: String,
        /// Its new name
        #[arg(long, value_name = "NEW")]
        name: Option<String>,
        /// Its figures.
        #[command(flatten)]
        figures: Figures,
        /// Only show what it would do
        #[arg(long)]
        dry_run: bool,
    },
    /// Make it the one that all panes work for
    Choose {
        /// Its name
        #[arg(value_name = "PROJECT")]
        name: String,
    },
    /// Set the papers, offcuts and envelopes of its plan aside
    Book(ClassDo),
    /// Give back what is set aside for it; it stays open
    GiveBack {
        /// Which, and whether only to show it.
        #[command(flatten)]
        class: ClassDo,
        /// Only this paper, offcut or counted thing of what is set aside
        #[arg(long, value_name = "ITEM")]
        only: Option<String>,
    },
    /// Put a loose piece into it (a tag, a strip of no card), or change the one of that name
    Piece(loose::PieceAsk),
    /// Say how many of a counted thing a set takes: envelopes, adhesive, ribbon
    Supply(loose::SupplyAsk),
    /// Take it out of the book: what is set aside for it is given back, what it used stays in the log
    Remove(ClassDo),
}

/// The figures of a project.
#[derive(clap::Args, Debug, Default)]
pub struct Figures {
    /// The day it is needed or taught, as 2027-03-14; none takes it away
    #[arg(long, value_name = "DATE")]
    pub date: Option<String>,
    /// Paying seats; 0 for a batch that is no class
    #[arg(long, value_name = "N")]
    pub seats: Option<String>,
    /// Sample sets made beside the seats
    #[arg(long, value_name = "N")]
    pub samples: Option<String>,
    /// Spoilage in percent of the pieces
    #[arg(long, value_name = "PERCENT")]
    pub spoilage: Option<String>,
    /// Spoilage in pieces of each kind, beside the percentage
    #[arg(long, value_name = "N")]
    pub spoilage_pieces: Option<String>,
    /// What a seat is charged; none takes it away
    #[arg(long, value_name = "PRICE")]
    pub seat_price: Option<String>,
    /// Minutes of work a card
    #[arg(long, value_name = "N")]
    pub minutes: Option<String>,
    /// What an hour of work counts for; none takes it away
    #[arg(long, value_name = "PRICE")]
    pub hour: Option<String>,
    /// Your own words about it; none takes them away
    #[arg(long, value_name = "TEXT", allow_hyphen_values = true)]
    pub note: Option<String>,
}

impl Figures {
    /// Those that were given, each with the option that names it.
    fn given(&self) -> Vec<(&'static str, ProjectField, String)> {
        use ProjectField as Field;
        let all: [(&str, Field, &Option<String>); 9] = [
            ("--date", Field::Day, &self.date),
            ("--seats", Field::Seats, &self.seats),
            ("--samples", Field::Samples, &self.samples),
            ("--spoilage", Field::SpoilagePercent, &self.spoilage),
            ("--spoilage-pieces", Field::SpoilagePieces, &self.spoilage_pieces),
            ("--seat-price", Field::SeatPrice, &self.seat_price),
            ("--minutes", Field::Minutes, &self.minutes),
            ("--hour", Field::HourRate, &self.hour),
            ("--note", Field::Note, &self.note),
        ];
        let text = |text: &String| if text == "none" { String::new() } else { text.clone() };
        all.into_iter()
            .filter_map(|(option, field, given)| Some((option, field, text(given.as_ref()?))))
            .collect()
    }
}

/// Answers the command.
///
/// # Errors
/// [`super::BadInput`] for what the person can mend, anything else for a failure.
pub fn run(args: &ProjectArgs, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let form = if args.json { Form::Json } else { Form::Text };
    let mut store = open_store(desk)?;
    match &args.what {
        ProjectWhat::List => class::list(desk, store.book(), form),
        ProjectWhat::Show { name } => show::project(desk, store.book(), name, args.json),
        ProjectWhat::Add { name, like, figures } => {
            let done = change::carry_out(desk, &mut store, false, |book| {
                added(book, name, like.as_deref(), figures)
            })?;
            tell(desk, args.json, &Done { words: &done, project: name.trim(), card: None, is_dry: false })
        }
        ProjectWhat::Change { project, name, figures, dry_run } => {
            let done = change::carry_out(desk, &mut store, *dry_run, |book| {
                let id = class::find(book, project)?;
                let mut all = checked(figures, book)?;
                if let Some(name) = name {
                    is_free(book, name, Some(id))?;
                    all.insert(0, (ProjectField::Name, name.clone()));
                }
                let none = "nothing was changed: name what is to change, or another figure than it has";
                changed(book, id, &all)?.ok_or_else(|| none.to_owned())
            })?;
            let now = name.as_deref().unwrap_or(project).trim();
            tell(desk, args.json, &Done { words: &done, project: now, card: None, is_dry: *dry_run })
        }
        ProjectWhat::Choose { name } => {
            let done = change::carry_out(desk, &mut store, false, |book| {
                let id = class::find(book, name)?;
                if book.active() == Some(id) {
                    return Err(format!("{} is the one already", book.projects().name_of(id)));
                }
                Ok(Edit::Activate { was: book.active(), now: Some(id) })
            })?;
            tell(desk, args.json, &Done { words: &done, project: name.trim(), card: None, is_dry: false })
        }
        ProjectWhat::Book(ask) => class::book(desk, &mut store, ask, form),
        ProjectWhat::GiveBack { class, only } => {
            class::give_back(desk, &mut store, class, only.as_deref(), form)
        }
        ProjectWhat::Piece(ask) => loose::piece(ask, desk, &mut store, args.json),
        ProjectWhat::Supply(ask) => loose::supply(ask, desk, &mut store, args.json),
        ProjectWhat::Remove(ask) => {
            let done = change::carry_out(desk, &mut store, ask.dry_run, |book| {
                classes::remove(book, class::find(book, &ask.name)?)
            })?;
            let done = Done { words: &done, project: ask.name.trim(), card: None, is_dry: ask.dry_run };
            tell(desk, args.json, &done)
        }
    }
}

/// The figures, each once more with the option that is wrong where one is.
fn checked(figures: &Figures, book: &Book) -> Result<Vec<(ProjectField, String)>, String> {
    let mut all = Vec::new();
    for (option, field, text) in figures.given() {
        let mut nobody = crate::domain::project::Project::default();
        let currency = &book.settings().currency;
        field.read(&mut nobody, &text, currency).map_err(|why| format!("{option}: {}", harmless(&why)))?;
        all.push((field, text));
    }
    Ok(all)
}

/// The edit that makes a project.
fn added(book: &Book, name: &str, like: Option<&str>, figures: &Figures) -> Result<Edit, String> {
    is_free(book, name, None)?;
    let like =
        like.map(|name| class::find(book, name).map_err(|why| format!("--like: {why}"))).transpose()?;
    let seats = figures
        .seats
        .as_deref()
        .map_or(Ok(0), |text| count(text, 0))
        .map_err(|why| format!("--seats: {why}"))?;
    let all = checked(figures, book)?;
    // Made first, then given its figures: the same edits as in the pane, as one step.
    let first = classes::new_class(book, name, seats, like);
    let mut then = book.clone();
    let today = jiff::civil::Date::default();
    then.apply(&first, today).map_err(|e| e.to_string())?;
    let id = then.find_project(name).ok_or("the project is gone")?;
    let edits = [Some(first), changed(&then, id, &all)?].into_iter().flatten().collect();
    Ok(Edit::batch(format!("added the project {}", name.trim()), edits))
}

/// Projects are found by their names on the command line: two of one name would be one too many.
fn is_free(book: &Book, name: &str, own: Option<crate::domain::stock::ProjectId>) -> Result<(), String> {
    if is_blank(name) {
        return Err("a project needs a name that can be seen".to_owned());
    }
    match book.find_project(name) {
        Some(id) if Some(id) != own => {
            Err(format!("there is a project \"{}\" already: take another name", harmless(name.trim())))
        }
        _ => Ok(()),
    }
}
