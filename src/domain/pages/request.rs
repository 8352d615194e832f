//! What is asked to be printed, and the pages that answer it. The command line and the workbench both ask here.

use super::card::{self, CardSheet};
use super::chart::Asked;
use super::class::{self, Shopping};
use super::flat::Flat;
use super::frame::Setup;
use super::keys::{self, KeyRow};
use super::label_sheet::LabelSheet;
use super::labels::{self, LabelRun, RunError};
use super::layers::{self, Guide};
use super::page::Page;
use super::plan::{self, PlanPages};
use super::shelf::Labelled;
use super::takings;
use super::trios::{self, StripForm};
use super::{handout, lists, preview, ruler, shelf, strips, swatches};
use crate::domain::book::Book;
use crate::domain::cards::CardError;
use crate::domain::stock::takings::year;
use crate::domain::stock::{ProjectId, SwatchId};
use jiff::civil::Date;
use std::collections::BTreeSet;

/// What is to be printed. What it is reckoned from, the book aside, comes along.
#[derive(Clone, Debug, PartialEq)]
pub enum Request {
    /// The ruler page.
    Ruler,
    /// Yields of one sheet, of two on both sides of a leaf, or the pocket form.
    Chart(Box<Asked>),
    /// The layer guide of a card.
    Layers(Box<Guide>),
    /// One card that was worked out already.
    Card(Box<CardSheet>),
    /// Every card of a project.
    ProjectCards(ProjectId),
    /// The book's swatches.
    Swatches,
    /// A strip for each of the book's swatches.
    Strips,
    /// Labels for the book's swatches.
    Labels {
        /// The label sheet.
        sheet: Box<LabelSheet>,
        /// How labels are laid on it.
        run: LabelRun,
        /// Only swatches in which something is arriving.
        only_arriving: bool,
        /// A patch of colour on each.
        patches: bool,
    },
    /// Trio strips that hold a swatch, or blank ones for none.
    Trios {
        /// The swatch.
        base: Option<SwatchId>,
        /// How they are held together.
        form: StripForm,
        /// Empty windows.
        blank: bool,
    },
    /// The book's patterned papers.
    Patterns,
    /// What to order again, as of a day.
    Reorder(Date),
    /// The kit list of a class.
    Kit(ProjectId),
    /// A label for every kit of a class.
    KitLabels {
        /// The class.
        project: ProjectId,
        /// The label sheet.
        sheet: Box<LabelSheet>,
        /// How labels are laid on it.
        run: LabelRun,
    },
    /// A label for each of these lines of the shelf or kinds of offcut.
    ShelfLabels {
        /// What they are for.
        of: Vec<Labelled>,
        /// The label sheet.
        sheet: Box<LabelSheet>,
        /// How labels are laid on it.
        run: LabelRun,
    },
    /// What to buy for a class, as its outlook has it.
    Shopping(Box<Shopping>),
    /// The checklist for the room of a class.
    Room(ProjectId),
    /// The classes of a year: who came, what came in, what was left.
    Takings(i16),
    /// The handout of a class.
    Handout(ProjectId),
    /// A cut plan that was made already.
    Plan(Box<PlanPages>),
    /// The keys; `None` for those that come with the program.
    Keys(Option<Vec<KeyRow>>),
    /// Pieces themselves at true size, one a page.
    Flats(Vec<Flat>),
}

/// Most kits that labels are printed for at once.
pub const MOST_KITS: u64 = 2_000;

/// Why there are no pages. The text is the whole sentence for the person.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PagesError {
    /// A card that cannot be made.
    #[error("{0}")]
    Card(#[from] CardError),
    /// Labels that cannot be laid.
    #[error("{0}")]
    Labels(#[from] RunError),
    /// A project that is gone.
    #[error("there is no such project any more: choose another")]
    NoProject,
    /// More kits than labels are printed for at once.
    #[error("{0} kits are more than {MOST_KITS} labels at once: lower the seats or the sample sets")]
    Kits(u64),
    /// A project without cards, where cards are to be printed.
    #[error("the project \"{0}\" has no card: give it one, or print its kit list")]
    NoCards(String),
}

/// The pages of a request. For characters that the print font lacks `lend` is asked once, and says which of them a font
/// of the machine has: those are told as such on the pages.
///
/// # Errors
/// As [`pages_for`].
pub fn pages_lent(
    request: &Request,
    book: &Book,
    setup: &mut Setup,
    lend: impl FnOnce(&BTreeSet<char>) -> BTreeSet<char>,
) -> Result<Vec<Page>, PagesError> {
    let pages = pages_for(request, book, setup)?;
    let lacking = preview::lacking(&pages);
    if lacking.is_empty() {
        return Ok(pages);
    }
    setup.borrowed = lend(&lacking);
    if setup.borrowed.is_empty() { Ok(pages) } else { pages_for(request, book, setup) }
}

/// The pages of a request.
///
/// # Errors
/// A sentence where a card cannot be made, labels cannot be laid, or a project is not there.
pub fn pages_for(request: &Request, book: &Book, setup: &Setup) -> Result<Vec<Page>, PagesError> {
    let project = |id: &ProjectId| book.projects().get(*id).ok_or(PagesError::NoProject);
    Ok(match request {
        Request::Ruler => ruler::pages(setup),
        Request::Chart(asked) => asked.pages(setup),
        Request::Layers(guide) => layers::pages(setup, guide),
        Request::Card(sheet) => card::pages(setup, sheet),
        Request::ProjectCards(id) => {
            let project = project(id)?;
            if project.cards.is_empty() {
                return Err(PagesError::NoCards(project.name.clone()));
            }
            let sheets = shelf::card_sheets(book, project, setup.unit)?;
            sheets.iter().flat_map(|sheet| card::pages(setup, sheet)).collect()
        }
        Request::Swatches => swatches::pages(setup, &shelf::chips(book)),
        Request::Strips => strips::pages(setup, &shelf::colour_strips(book)),
        Request::Labels { sheet, run, only_arriving, patches } => {
            let list = shelf::labels(book, *only_arriving, *patches && !setup.colourless);
            labels::pages(sheet, &list, run, setup.unit)?
        }
        Request::Trios { base, form, blank } => {
            let strips = base.map_or_else(Vec::new, |id| shelf::strips(book, id));
            trios::pages(setup, &strips, *form, *blank)
        }
        Request::Patterns => lists::patterns(setup, &shelf::patterns(book)),
        Request::Reorder(day) => lists::reorder(setup, &shelf::reorder_list(book, *day)),
        Request::Kit(id) => lists::kit(setup, &shelf::kit(book, project(id)?, setup.unit)),
        Request::KitLabels { project: id, sheet, run } => {
            let project = project(id)?;
            if project.sets() > MOST_KITS {
                return Err(PagesError::Kits(project.sets()));
            }
            let list = shelf::kit_labels(book, project, setup.unit);
            labels::pages_of("Kit labels", sheet, &list, run, setup.unit)?
        }
        Request::ShelfLabels { of, sheet, run } => {
            let list = shelf::shelf_labels(book, of, setup.unit);
            labels::pages_of("Shelf labels", sheet, &list, run, setup.unit)?
        }
        Request::Shopping(list) => class::shopping(setup, list),
        Request::Room(id) => class::room(setup, &shelf::room(project(id)?)),
        Request::Takings(of) => takings::pages(setup, &year(book, *of), &book.settings().currency),
        Request::Handout(id) => handout::pages(setup, &shelf::handout(book, project(id)?, setup.unit)?),
        Request::Plan(pages) => plan::pages(setup, pages),
        Request::Keys(rows) => keys::pages(setup, rows.as_deref().unwrap_or(keys::as_they_come())),
        Request::Flats(flats) => flats.iter().map(Flat::page).collect(),
    })
}
