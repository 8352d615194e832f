//! `trimside project`: classes and batches made, dated and changed, as in the panes and by the same edits.

mod card_figures;
mod cards;
mod layers;
mod loose;
mod named;
mod place;
mod show;
mod told;

pub use cards::{CardArgs, CardWhat, answer_cards as run_card};

use super::stock::ask::{ClassDo, Form};
use super::stock::class_edit::{added, is_free};
use super::stock::figures::Figures;
use super::stock::{change, class};
use super::{Desk, open_store};
use crate::domain::edit::Edit;
use crate::domain::figures::{ProjectField, changed};
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

/// Answers the command.
///
/// # Errors
/// [`super::BadInput`] for what the person can mend, anything else for a failure.
pub fn answer_project(args: &ProjectArgs, desk: &mut Desk<'_>) -> anyhow::Result<()> {
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
                let mut all = figures.checked(book)?;
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
