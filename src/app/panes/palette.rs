//! Palette: the swatch library in order, what is nearest to a colour, what goes together.
//!
//! | file | does |
//! |---|---|
//! | `run` | what each command does |
//! | `trios` | which trios are asked for, listed, kept and put on a card |
//! | `photo` | a photo's colours, and what becomes of them |
//! | `paper` | the card of a patterned paper |
//! | `edit`, `list` | adding, changing, merging; bringing in |
//! | `prompts` | what is typed, and what a picked row does |
//! | `words` | what the pane says, one fact a line |

pub mod edit;
pub mod list;
pub mod paper;
pub mod photo;
pub mod prompts;
pub mod run;
pub mod trios;
pub mod words;

use crate::app::input::list::Cursor;
use crate::domain::book::Book;
use crate::domain::colour::nearest;
use crate::domain::colour::scheme::Scheme;
use crate::domain::colour::space::Lab;
use crate::domain::colour::swatch::Swatch;
use crate::domain::colour::vision::{Deficiency, Eyes};
use crate::domain::colour::wheel::Wheel;
use crate::domain::library::base::Base;
use crate::domain::library::import::Import;
use crate::domain::library::shown::{ShelfOrder, shown};
use crate::domain::stock::{ItemId, SwatchId};
use photo::PhotoView;
use std::collections::BTreeMap;
use trios::Listed;

/// Said beside every verdict.
pub const DAYLIGHT: &str = "Compare real chips in daylight.";

/// State of the pane.
#[derive(Clone, Debug)]
pub struct PalettePane {
    /// How the swatches are laid out.
    pub order: ShelfOrder,
    /// Words that narrow the grid.
    pub filter: String,
    /// Only what is on the shelf is shown.
    pub only_on_hand: bool,
    /// The grid: the library in that order, narrowed.
    pub swatches: Vec<(SwatchId, Swatch)>,
    /// The whole library by number.
    pub all: BTreeMap<SwatchId, Swatch>,
    /// The swatch picked.
    pub cursor: Cursor,
    /// Swatches in a row of the grid as it was drawn last: a move up or down jumps as many.
    pub columns: usize,
    /// A swatch pinned to hold others against.
    pub pinned: Option<SwatchId>,
    /// Whose eyes the pane is seen through; `None` for eyes without a deficiency.
    pub vision: Option<Deficiency>,
    /// How severe, 0 to 100; 100 for a cone missing.
    pub severity: u8,
    /// Which scheme of trios is shown; `None` for all.
    pub scheme: Option<Scheme>,
    /// What the trios go with.
    pub base: Base,
    /// Only what is on the shelf may join a trio.
    pub trios_on_hand: bool,
    /// Trios that use up what is leaving come first.
    pub leaving_first: bool,
    /// The wheel that schemes are read on.
    pub wheel: Wheel,
    /// Trios, kept ones first.
    pub trios: Vec<Listed>,
    /// The colours that these trios go with.
    pub trios_of: Vec<SwatchId>,
    /// The trio picked.
    pub trio: Cursor,
    /// The trios no longer answer to what is on screen.
    pub wants_trios: bool,
    /// The question about trios that is being answered.
    pub trios_asked: Option<u64>,
    /// The colour that was asked for, and the swatches nearest to it.
    pub asked: Option<Asked>,
    /// A photo's colours.
    pub photo: Option<PhotoView>,
    /// The patterned paper whose card is shown.
    pub paper: Option<ItemId>,
    /// A list of colours that waits to be brought in.
    pub import: Option<Import>,
}

impl Default for PalettePane {
    fn default() -> Self {
        Self {
            order: ShelfOrder::default(),
            filter: String::new(),
            only_on_hand: false,
            swatches: Vec::new(),
            all: BTreeMap::new(),
            cursor: Cursor::default(),
            columns: 1,
            pinned: None,
            vision: None,
            severity: 100,
            scheme: None,
            base: Base::default(),
            trios_on_hand: false,
            leaving_first: false,
            wheel: Wheel::default(),
            trios: Vec::new(),
            trios_of: Vec::new(),
            trio: Cursor::default(),
            wants_trios: false,
            trios_asked: None,
            asked: None,
            photo: None,
            paper: None,
            import: None,
        }
    }
}

/// A colour that the person typed.
#[derive(Clone, Debug)]
pub struct Asked {
    /// As typed.
    pub text: String,
    /// What it is.
    pub lab: Lab,
    /// Nearest swatches of the whole library, with the distance (CIEDE2000).
    pub matches: Vec<(SwatchId, f64)>,
}

/// How many near swatches are listed.
const NEAREST: usize = 5;

impl PalettePane {
    /// Brings the library up to date with the book, keeping the picked swatch.
    pub fn arrange(&mut self, book: &Book) {
        let picked = self.picked();
        self.all = book.swatches().iter().map(|(id, s)| (id, s.colour())).collect();
        self.swatches = shown(book, self.order, &self.filter, self.only_on_hand);
        if let Some(at) = picked.and_then(|id| self.place_of(id)) {
            self.cursor = Cursor::at(at);
        }
        self.paper = self.paper.filter(|id| book.items().get(*id).is_some());
        self.wants_trios = true;
        if let Some(asked) = self.asked.take() {
            self.ask(&asked.text, asked.lab);
        }
    }

    /// Where a swatch stands in the grid.
    pub fn place_of(&self, id: SwatchId) -> Option<usize> {
        self.swatches.iter().position(|(s, _)| *s == id)
    }

    /// The swatch picked.
    pub fn picked(&self) -> Option<SwatchId> {
        Some(self.swatches.get(self.cursor.row(self.swatches.len())?)?.0)
    }

    /// A colour of the library.
    pub fn colour(&self, id: SwatchId) -> Option<&Swatch> {
        self.all.get(&id)
    }

    /// What a colour is called.
    pub fn name(&self, id: SwatchId) -> &str {
        self.colour(id).map_or("", |s| s.name.as_str())
    }

    /// The swatches of the library nearest to a colour.
    pub fn nearest(&self, lab: Lab, most: usize) -> Vec<(SwatchId, f64)> {
        let (ids, library): (Vec<SwatchId>, Vec<Swatch>) =
            self.all.iter().map(|(id, s)| (*id, s.clone())).unzip();
        nearest(lab, &library, most).into_iter().map(|m| (ids[m.index], m.delta_e)).collect()
    }

    fn ask(&mut self, text: &str, lab: Lab) {
        let matches = self.nearest(lab, NEAREST);
        self.asked = Some(Asked { text: text.to_owned(), lab, matches });
    }

    /// Shows a swatch, lifting the filter where it hides it.
    pub fn show(&mut self, id: SwatchId, book: &Book) {
        if self.place_of(id).is_none() {
            self.filter.clear();
            self.only_on_hand = false;
            self.arrange(book);
        }
        if let Some(at) = self.place_of(id) {
            self.pick(at);
        }
    }

    /// Picks the swatch of a place in the grid.
    pub fn pick(&mut self, place: usize) {
        self.cursor = Cursor::at(place);
        self.wants_trios |= self.base == Base::Picked;
    }

    /// The eyes that the chips are shown through.
    pub fn eyes(&self) -> Option<Eyes> {
        self.vision.map(|kind| Eyes::new(kind, f64::from(self.severity) / 100.0))
    }

    /// Says whose eyes, where it is not one's own.
    pub fn vision_words(&self) -> Option<String> {
        let kind = self.vision?;
        let how =
            if self.severity >= 100 { "a cone missing".to_owned() } else { format!("{} %", self.severity) };
        Some(format!("Seen as {} eyes see it, {how} (simulated).", kind.name()))
    }

    /// What narrows the grid, in words; empty where nothing does.
    pub fn narrowed(&self) -> String {
        let mut parts = Vec::new();
        if self.only_on_hand {
            parts.push("on hand".to_owned());
        }
        if !self.filter.trim().is_empty() {
            parts.push(format!("\"{}\"", self.filter.trim()));
        }
        parts.join(", ")
    }
}
