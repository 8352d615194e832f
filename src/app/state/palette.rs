//! What the Palette pane remembers: the library as it is laid out, what is picked, which view is open, and what its
//! texts and lists are for.

use super::photo::PhotoView;
use super::trio::Listed;
use super::views::PaletteView;
use crate::app::input::list::Cursor;
use crate::domain::book::Book;
use crate::domain::colour::adapt::LabWhite;
use crate::domain::colour::nearest;
use crate::domain::colour::photo::CUT;
use crate::domain::colour::scheme::Scheme;
use crate::domain::colour::space::Lab;
use crate::domain::colour::swatch::Swatch;
use crate::domain::colour::trios::said::NoTrio;
use crate::domain::colour::vision::{Deficiency, Eyes};
use crate::domain::colour::wheel::Wheel;
use crate::domain::library::base::TrioBase;
use crate::domain::library::change::SwatchField;
use crate::domain::library::import::SwatchImport;
use crate::domain::library::papers::PaperSide;
use crate::domain::library::shown::{ShelfOrder, shown};
use crate::domain::stock::{Item, ItemId, SwatchId, TrioId};
use std::collections::BTreeMap;

/// The list that the moves go through.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Focus {
    /// The swatches of the grid.
    #[default]
    Swatches,
    /// The trios beside it.
    Trios,
}

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
    pub base: TrioBase,
    /// Only what is on the shelf may join a trio.
    pub trios_on_hand: bool,
    /// Trios that use up what is leaving come first.
    pub leaving_first: bool,
    /// Trios that are like one shown are passed over.
    pub varied: bool,
    /// What the person chose before moves pairs a little; off leaves the order to the model alone.
    pub own_choices: bool,
    /// Figures are shown beside the words: coordinates, distances, how often pairs are chosen.
    pub figures: bool,
    /// Which of both lists the moves go through.
    pub focus: Focus,
    /// The wheel that schemes are read on.
    pub wheel: Wheel,
    /// Trios, kept ones first.
    pub trios: Vec<Listed>,
    /// The colours that these trios go with.
    pub trios_of: Vec<SwatchId>,
    /// Why there are none, once that was answered.
    pub no_trio: Option<NoTrio>,
    /// The trio picked.
    pub trio: Cursor,
    /// The trios no longer answer to what is on screen.
    pub wants_trios: bool,
    /// The question about trios that is being answered.
    pub trios_asked: Option<u64>,
    /// Which view is open.
    pub view: PaletteView,
    /// The view that a photo lies over.
    pub under: PaletteView,
    /// The colour that was asked for last, and the swatches nearest to it.
    pub asked: Option<TypedColour>,
    /// The photo that was read last, until its view is closed.
    pub photo: Option<PhotoView>,
    /// A list of colours that waits to be brought in.
    pub import: Option<SwatchImport>,
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
            base: TrioBase::default(),
            trios_on_hand: false,
            leaving_first: false,
            varied: false,
            own_choices: true,
            figures: false,
            focus: Focus::default(),
            wheel: Wheel::default(),
            trios: Vec::new(),
            trios_of: Vec::new(),
            no_trio: None,
            trio: Cursor::default(),
            wants_trios: false,
            trios_asked: None,
            view: PaletteView::default(),
            under: PaletteView::default(),
            asked: None,
            photo: None,
            import: None,
        }
    }
}

/// A colour that the person typed.
#[derive(Clone, Debug)]
pub struct TypedColour {
    /// As typed.
    pub text: String,
    /// What it is.
    pub lab: Lab,
    /// Nearest swatches of the whole library, with the distance (CIEDE2000).
    pub matches: Vec<(SwatchId, f64)>,
}

/// How many near swatches are listed.
pub const NEAREST: usize = 5;

impl PalettePane {
    /// Brings the library up to date with the book, keeping the picked swatch.
    pub fn arrange(&mut self, book: &Book) {
        let picked = self.picked();
        let all = book.swatches().iter().map(|(id, s)| (id, s.colour())).collect();
        let is_changed = self.all != all;
        self.all = all;
        self.swatches = shown(book, self.order, &self.filter, self.only_on_hand);
        if let Some(at) = picked.and_then(|id| self.place_of(id)) {
            self.cursor = Cursor::at(at);
        }
        let is_gone = |view| matches!(view, PaletteView::Paper(id) if book.items().get(id).is_none());
        for view in [&mut self.view, &mut self.under] {
            *view = if is_gone(*view) { PaletteView::Library } else { *view };
        }
        self.wants_trios = true;
        if is_changed {
            self.pinned = self.pinned.filter(|id| self.all.contains_key(id));
            if let Some(asked) = &mut self.asked {
                asked.matches = nearest_in(&self.all, asked.lab, NEAREST);
            }
            self.match_photo_again();
        }
    }

    /// A colour of a photo that had no swatch near enough may have one now.
    fn match_photo_again(&mut self) {
        for row in self.photo.iter_mut().flat_map(|view| &mut view.rows) {
            let chosen = row.swatch();
            row.matches = nearest_in(&self.all, row.lab, 3);
            row.choice = match chosen {
                Some(id) => row.matches.iter().position(|(s, _)| *s == id),
                None => row.matches.first().filter(|(_, d)| *d <= CUT).map(|_| 0),
            };
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
        nearest_in(&self.all, lab, most)
    }

    /// Lists the swatches nearest to a colour that was typed.
    pub fn list_nearest(&mut self, text: &str, lab: Lab) {
        let matches = self.nearest(lab, NEAREST);
        self.asked = Some(TypedColour { text: text.to_owned(), lab, matches });
        self.open(PaletteView::Nearest);
    }

    /// Opens a view; under a photo, it is what comes into sight when the photo is closed.
    pub fn open(&mut self, view: PaletteView) {
        match self.view {
            PaletteView::Photo => self.under = view,
            _ => self.view = view,
        }
    }

    /// The view beside the grid, or what it would be without the photo over it.
    pub fn beside(&self) -> PaletteView {
        if self.view == PaletteView::Photo { self.under } else { self.view }
    }

    /// Shows the photo that is open, or what lies under it.
    pub fn look_at_photo(&mut self, is_photo: bool) {
        self.under = self.beside();
        self.view = if is_photo { PaletteView::Photo } else { self.under };
    }

    /// The patterned paper whose card is open.
    pub fn paper(&self) -> Option<ItemId> {
        if let PaletteView::Paper(id) = self.beside() { Some(id) } else { None }
    }

    /// The colour asked for, while what is nearest to it is listed.
    pub fn asked(&self) -> Option<&TypedColour> {
        self.asked.as_ref().filter(|_| self.beside() == PaletteView::Nearest)
    }

    /// The photo, while it is in view.
    pub fn photo_in_view(&self) -> Option<&PhotoView> {
        self.photo.as_ref().filter(|_| self.view == PaletteView::Photo)
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
        self.wants_trios |= self.base == TrioBase::Picked;
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

impl PalettePane {
    /// The trio under its cursor.
    pub fn picked_trio(&self) -> Option<&Listed> {
        self.trios.get(self.trio.row(self.trios.len())?)
    }

    /// What the trios go with, in words.
    pub fn base_words(&self, book: &Book) -> String {
        match self.base {
            TrioBase::Picked => self.picked().map_or_else(String::new, |id| self.name(id).to_owned()),
            TrioBase::Paper(id) => book.items().name_of(id),
            TrioBase::Card => "the card in hand".to_owned(),
        }
    }

    /// True where nothing narrows the trios or changes their order.
    pub fn asks_for_usual_trios(&self) -> bool {
        let is_plain = !(self.trios_on_hand || self.varied || self.leaving_first) && self.own_choices;
        is_plain && self.scheme.is_none() && self.wheel == Wheel::default()
    }

    /// From what, and what comes first, in words.
    pub fn trio_words(&self) -> String {
        let from = if self.trios_on_hand { "on hand, then one to buy" } else { "all colors" };
        let varied = if self.varied { ", varied" } else { "" };
        let alone = if self.own_choices { "" } else { ", without your choices" };
        let first = if self.leaving_first { ", leaving first" } else { "" };
        let scheme = self.scheme.map_or("all schemes", Scheme::name);
        let wheel =
            if self.wheel == Wheel::default() { String::new() } else { format!(", {}", self.wheel.name()) };
        format!("{scheme}, {from}{first}{varied}{alone}{wheel}")
    }
}

fn nearest_in(all: &BTreeMap<SwatchId, Swatch>, lab: Lab, most: usize) -> Vec<(SwatchId, f64)> {
    let (ids, library): (Vec<SwatchId>, Vec<Swatch>) = all.iter().map(|(id, s)| (*id, s.clone())).unzip();
    nearest(lab, &library, most).into_iter().map(|m| (ids[m.index], m.delta_e)).collect()
}

/// What a text is typed for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PaletteText {
    /// A colour to name.
    Colour,
    /// Words that narrow the grid.
    Filter,
    /// The name of a new swatch of this screen value.
    NewNamed([u8; 3]),
    /// A field of a swatch.
    Field(SwatchId, SwatchField),
    /// A field of an item.
    ItemField(ItemId, ItemField),
    /// Another thing in a colour.
    Item(SwatchId),
    /// Per cent of a colour-vision deficiency.
    Severity,
    /// Two more colours of a trio of one's own.
    OwnTrio,
    /// The note of a kept trio.
    TrioNote(TrioId),
    /// The path of a picture of a paper.
    Photo,
    /// The path of a picture of anything.
    Scene,
    /// Where white is in the picture.
    White,
    /// Name and collection of a new paper with the picture's colours.
    PhotoPaper,
    /// The path of a list of colours.
    List,
}

/// What a Lab value without its white is wanted for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LabFor {
    /// The value of a swatch.
    Field(SwatchId),
}

/// A row of a list that this pane offers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PaletteChoice {
    /// Change this field of a swatch.
    Field(SwatchId, SwatchField),
    /// Change this field of an item.
    ItemField(ItemId, ItemField),
    /// Turn an ink opaque or transparent.
    Opacity(ItemId),
    /// Note another thing in a colour.
    NewItem(SwatchId),
    /// The white of a Lab value.
    White(String, LabFor, LabWhite),
    /// Merge the second swatch into the first.
    Merge(SwatchId, SwatchId),
    /// Show the card of a patterned paper.
    Paper(ItemId),
    /// Note the picture's colours on a side of a paper.
    PhotoTo(ItemId, PaperSide),
    /// Note them on a paper that is new.
    PhotoToNew,
    /// Trios go with this.
    Base(TrioBase),
    /// Put the picked trio on the card in this order.
    Dress([SwatchId; 3]),
    /// Show a dismissed trio again.
    BringBack(TrioId),
    /// Let no choice made so far move a pair.
    Forget,
    /// Bring in the list that was previewed.
    Import,
}

/// A field of an item that a person changes here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ItemField {
    /// Its order number; the old one still finds it.
    Number,
    /// Where it stands in the range, with the date.
    State,
    /// Where it is kept.
    Place,
    /// Anything else.
    Note,
    /// Edition of the catalogue.
    Edition,
    /// Page in it.
    Page,
    /// The collection.
    Collection,
    /// The other side, in words.
    Back,
}

impl ItemField {
    /// Of a sheet, a pad, a pen.
    pub const PLAIN: [Self; 4] = [Self::Number, Self::State, Self::Place, Self::Note];
    /// Of a patterned paper.
    pub const PATTERNED: [Self; 8] = [
        Self::Number,
        Self::Edition,
        Self::Page,
        Self::Collection,
        Self::Back,
        Self::State,
        Self::Place,
        Self::Note,
    ];

    /// Its word, with the form it is written in.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Number => "order number",
            Self::State => "state (current, leaving DATE, gone, arriving DATE)",
            Self::Place => "where kept",
            Self::Note => "note",
            Self::Edition => "edition of the catalog",
            Self::Page => "page in the catalog",
            Self::Collection => "collection",
            Self::Back => "other side, in words",
        }
    }

    /// What stands in it.
    pub fn text(self, item: &Item) -> String {
        match self {
            Self::Number => item.order_number.clone(),
            Self::State => item.state.to_string(),
            Self::Place => item.place.clone(),
            Self::Note => item.note.clone(),
            Self::Edition => item.edition.clone(),
            Self::Page => item.page.clone(),
            Self::Collection => item.collection.clone(),
            Self::Back => item.back.clone(),
        }
    }
}
