//! The print overlay: what can be printed, what is chosen, what came of it.

use crate::app::effect::PrintJob;
use crate::app::input::completing::Completing;
use crate::app::input::field::TextField;
use crate::app::input::list::Cursor;
use crate::domain::pages::chart::Pocket;
use crate::domain::pages::frame::PrintPaper;
use crate::domain::pages::labels::LabelRun;
use crate::domain::pages::page::Page;
use crate::domain::pages::trios::StripForm;
use std::sync::Arc;

/// A kind of page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)] // the titles say it
#[rustfmt::skip]
pub enum PageKind {
    Ruler, Chart, Layers, Card, Plan, Swatches, Strips, Labels, Trios, Patterns, Reorder, ShelfLabels, Kit, KitLabels, Shopping,
    Room, Handout, Takings, Keys,
}

impl PageKind {
    /// All, in the order of the list.
    #[rustfmt::skip]
    pub const ALL: [Self; 19] = [
        Self::Ruler, Self::Chart, Self::Plan, Self::Layers, Self::Card, Self::Swatches, Self::Strips, Self::Labels,
        Self::Trios, Self::Patterns, Self::Reorder, Self::ShelfLabels, Self::Kit, Self::KitLabels, Self::Shopping,
        Self::Room, Self::Handout, Self::Takings, Self::Keys,
    ];

    /// The word that the command line prints it by; the usual file carries it too.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Ruler => "ruler",
            Self::Chart => "chart",
            Self::Layers => "layers",
            Self::Card => "card",
            Self::Plan => "plan",
            Self::Swatches => "swatches",
            Self::Strips => "strips",
            Self::Labels => "labels",
            Self::Trios => "trios",
            Self::Patterns => "patterns",
            Self::Reorder => "reorder",
            Self::ShelfLabels => "shelf-labels",
            Self::Kit => "kit",
            Self::KitLabels => "kit-labels",
            Self::Shopping => "shopping",
            Self::Room => "room",
            Self::Handout => "handout",
            Self::Takings => "takings",
            Self::Keys => "keys",
        }
    }

    /// Its name in the list.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Ruler => "ruler",
            Self::Chart => "yield chart",
            Self::Layers => "layer guide",
            Self::Card => "card sheets",
            Self::Plan => "cut plan",
            Self::Swatches => "swatch chart",
            Self::Strips => "swatch strips",
            Self::Labels => "swatch labels",
            Self::Trios => "trio strips",
            Self::Patterns => "patterned papers",
            Self::Reorder => "reorder list",
            Self::ShelfLabels => "shelf labels",
            Self::Kit => "class kit list",
            Self::KitLabels => "class kit labels",
            Self::Shopping => "class shopping",
            Self::Room => "room checklist",
            Self::Handout => "class handout",
            Self::Takings => "classes of a year",
            Self::Keys => "key card",
        }
    }

    /// True where the pages are made from the book.
    pub const fn needs_book(self) -> bool {
        !matches!(self, Self::Ruler | Self::Chart | Self::Layers | Self::Plan | Self::Keys)
    }
}

/// What would be on the pages.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum PagePreview {
    /// Not known yet.
    #[default]
    Nothing,
    /// The pages in text.
    Pages(PagesText),
    /// Why there are none.
    Refused(String),
}

/// Pages in text.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PagesText {
    /// How many on which paper.
    pub count: String,
    /// Title and lines, page after page.
    pub lines: Vec<String>,
    /// What is to be known before they are written: characters without letters.
    pub warning: Option<String>,
    /// The line that each page begins with.
    pub starts: Vec<usize>,
    /// The pages themselves, to be drawn.
    pub pages: Arc<Vec<Page>>,
}

/// The print queues of the system.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Queues {
    /// Their names; may be empty where the system does not tell.
    pub names: Vec<String>,
    /// The one that is used where none is named.
    pub usual: Option<String>,
}

/// The overlay.
#[derive(Clone, Debug, Default)]
pub struct PrintDesk {
    /// The kind picked, a place in [`PageKind::ALL`].
    pub cursor: Cursor,
    /// The paper in the printer.
    pub paper: PrintPaper,
    /// Swatches without colour, told apart by hatches.
    pub colourless: bool,
    /// The file's name.
    pub file: TextField,
    /// The person named the file: it does not follow the kind any more.
    pub is_named: bool,
    /// What was typed of the file's name before Tab completed it.
    pub completing: Option<Completing>,
    /// Names of files that it may be, while they are gone through.
    pub names: Vec<String>,
    /// The line that takes the keys, if any.
    pub typing: Option<PrintLine>,
    /// What is typed into any line but the file's name.
    pub entry: TextField,
    /// Number of the preview asked for.
    pub waiting: Option<u64>,
    /// What would be on the pages.
    pub preview: PagePreview,
    /// First line of the preview shown.
    pub top: usize,
    /// The page that is drawn.
    pub page: usize,
    /// The pages are told in text instead of being drawn.
    pub as_text: bool,
    /// The print queues; none while they are not known, or where the system has no print command.
    pub queues: Option<Queues>,
    /// Copies for the printer; 0 means 1.
    pub copies: u32,
    /// Pages for the printer such as `1-3,5`; all where empty.
    pub range: String,
}

impl PrintDesk {
    /// The kind under the cursor.
    pub fn kind(&self) -> PageKind {
        let row = self.cursor.row(PageKind::ALL.len()).unwrap_or(0);
        PageKind::ALL[row]
    }
}

/// What came of writing.
#[derive(Clone, Debug)]
pub enum PrintNews {
    /// So many of so many stages are done; the words name the one in hand.
    Stage(&'static str, u32, u32),
    /// The file is there already.
    Exists(Box<PrintJob>),
    /// Written: what is said about it, and the file's whole path.
    Written(String, String),
    /// Printed: what is said about it.
    Done(String),
    /// Why it was not.
    Failed(String),
}

/// A line of the overlay that takes keys.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PrintLine {
    /// The file's name.
    File,
    /// The line at the foot.
    Foot,
    /// The code's text.
    Code,
    /// The first free label.
    Start,
    /// The nudge of labels.
    Nudge,
    /// How many copies the printer makes.
    Copies,
    /// Which pages the printer prints.
    Range,
    /// The sheet of a chart.
    Sheet,
    /// The sheet on the back of a chart.
    Back,
}

impl PrintLine {
    /// What is typed into it, for the hint line.
    pub const fn hint(self) -> &'static str {
        match self {
            Self::File => "Enter write it  Tab completes  Esc back: the file's name",
            Self::Foot => "Enter take it  Esc leave: a line for each foot, or none",
            Self::Code => "Enter take it  Esc leave: what the QR code says, or none",
            Self::Start => "Enter take it  Esc leave: the first free label",
            Self::Nudge => "Enter take it  Esc leave: right,down in mm by 0.5",
            Self::Copies => "Enter take it  Esc leave: copies, 1 to 99",
            Self::Range => "Enter take it  Esc leave: pages such as 1-3,5, or none for all",
            Self::Sheet => "Enter take it  Esc leave: a format, a size, paper of yours, or none for Yield's",
            Self::Back => "Enter take it  Esc leave: a sheet such as a4, or none",
        }
    }
}

/// What is chosen, for every page from now on.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PrintChoices {
    /// A line of the person's own at the foot of every page; may be empty.
    pub footer: String,
    /// What the code at the foot of every page says; no code where it is empty.
    pub code: String,
    /// The label sheet by name; empty for the usual one of the paper.
    pub label_sheet: String,
    /// The print queue by name; empty for the system's usual one.
    pub printer: String,
    /// The label sheet of kit labels by name; empty for the one with the most labels that hold a kit's lines.
    pub kit_sheet: String,
    /// The postal rules of the person's country, by their id; empty for the usual ones of the paper.
    pub home: String,
    /// The first free label, the nudge in half millimetres, and whether only outlines are printed.
    pub run: LabelRun,
    /// Labels for arriving colours only.
    pub only_arriving: bool,
    /// A patch of colour on each label.
    pub patches: bool,
    /// The sheet of the chart, as typed; empty for the one in Yield.
    pub sheet: String,
    /// The sheet whose yields are on the back of the chart, as typed; empty for none.
    pub back: String,
    /// The chart to be carried along instead of the one for the wall.
    pub pocket: Option<Pocket>,
    /// Every size of the chart, however many pages that takes.
    pub all_sizes: bool,
    /// How trio strips are held together.
    pub form: StripForm,
    /// Trio strips with empty windows.
    pub blank: bool,
}
