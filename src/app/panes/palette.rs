//! Palette: the swatch library in order, what is nearest to a colour, what goes together.

use crate::app::commands::CommandId;
use crate::app::effect::Effect;
use crate::app::input::list::{Cursor, Move, PAGE};
use crate::app::model::Model;
use crate::app::overlay::{Echo, Purpose};
use crate::app::prompt;
use crate::domain::book::Book;
use crate::domain::colour::order::Order;
use crate::domain::colour::parse::{self, Typed};
use crate::domain::colour::scheme::Scheme;
use crate::domain::colour::space::Lab;
use crate::domain::colour::swatch::Swatch;
use crate::domain::colour::trios::{Ask, Trio, trios};
use crate::domain::colour::vision::{Deficiency, Eyes};
use crate::domain::colour::{Match, nearest};
use crate::domain::stock::SwatchId;

/// Swatches in a row of the grid: row moves jump as many. The drawing side uses the same figure.
pub const GRID_COLUMNS: usize = 3;

/// State of the pane.
#[derive(Clone, Debug, Default)]
pub struct PalettePane {
    /// How the swatches are laid out.
    pub order: Order,
    /// The library in that order.
    pub swatches: Vec<(SwatchId, Swatch)>,
    /// The swatch picked.
    pub cursor: Cursor,
    /// A swatch pinned to hold others against.
    pub pinned: Option<SwatchId>,
    /// Whose eyes the pane is seen through; `None` for eyes without a deficiency.
    pub vision: Option<Deficiency>,
    /// Which scheme of trios is shown; `None` for all.
    pub scheme: Option<Scheme>,
    /// Trios for the picked swatch, best first.
    pub trios: Vec<Trio>,
    /// The colour that was asked for, and the swatches nearest to it.
    pub asked: Option<Asked>,
}

/// A colour that the person typed.
#[derive(Clone, Debug)]
pub struct Asked {
    /// As typed.
    pub text: String,
    /// What it is.
    pub lab: Lab,
    /// Nearest swatches: places in [`PalettePane::swatches`].
    pub matches: Vec<Match>,
}

/// How many trios are listed.
const TRIOS: usize = 12;
/// How many near swatches are listed.
const NEAREST: usize = 5;

impl PalettePane {
    /// Brings the library up to date with the book, keeping the picked swatch.
    pub fn arrange(&mut self, book: &Book) {
        let picked = self.picked();
        let ids: Vec<SwatchId> = book.swatches().iter().map(|(id, _)| id).collect();
        let all: Vec<Swatch> = book.swatches().iter().map(|(_, s)| s.colour()).collect();
        self.swatches = self.order.arrange(&all).into_iter().map(|n| (ids[n], all[n].clone())).collect();
        if let Some(at) = picked.and_then(|id| self.place_of(id)) {
            self.cursor = Cursor::at(at);
        }
        self.find_trios();
        if let Some(asked) = self.asked.take() {
            self.ask(&asked.text, asked.lab);
        }
    }

    /// Where a swatch stands in the order.
    pub fn place_of(&self, id: SwatchId) -> Option<usize> {
        self.swatches.iter().position(|(s, _)| *s == id)
    }

    /// The swatch picked.
    pub fn picked(&self) -> Option<SwatchId> {
        Some(self.swatches.get(self.cursor.row(self.swatches.len())?)?.0)
    }

    /// The library without its numbers, as the colour side wants it.
    pub fn library(&self) -> Vec<Swatch> {
        self.swatches.iter().map(|(_, s)| s.clone()).collect()
    }

    fn ask(&mut self, text: &str, lab: Lab) {
        let matches = nearest(lab, &self.library(), NEAREST);
        self.asked = Some(Asked { text: text.to_owned(), lab, matches });
    }

    /// Shows a swatch.
    pub fn show(&mut self, id: SwatchId) {
        if let Some(at) = self.place_of(id) {
            self.pick(at);
        }
    }

    /// Picks the swatch of a place in the order.
    pub fn pick(&mut self, place: usize) {
        self.cursor = Cursor::at(place);
        self.find_trios();
    }

    /// The eyes that the chips are shown through.
    pub fn eyes(&self) -> Option<Eyes> {
        self.vision.map(|kind| Eyes::new(kind, 1.0))
    }

    /// Says whose eyes, where it is not one's own.
    pub fn vision_words(&self) -> Option<String> {
        let kind = self.vision?;
        Some(format!("Seen as {} eyes see it, a cone missing (simulated).", kind.name()))
    }

    fn find_trios(&mut self) {
        let library = self.library();
        self.trios = match self.cursor.row(library.len()) {
            Some(base) => {
                let bases = [base];
                let ask = Ask { most: TRIOS, ..Ask::about(&library, &bases) };
                let all = trios(&ask);
                all.into_iter().filter(|t| self.scheme.is_none_or(|s| s == t.scheme)).collect()
            }
            None => Vec::new(),
        };
    }
}

/// Runs a command of this pane.
pub fn run(model: &mut Model, id: CommandId) -> Vec<Effect> {
    use CommandId as Id;
    let pane = &mut model.palette;
    let len = pane.swatches.len();
    let row = GRID_COLUMNS as isize;
    match id {
        Id::Identify => {
            prompt::open(model, Purpose::Colour, "Colour (#a1b2c3, rgb(), lab(), oklch(), CSS name):", "");
        }
        Id::SwatchOrder => {
            pane.order = next_order(pane.order);
            pane.arrange(&model.book);
        }
        Id::Scheme => {
            pane.scheme = next_scheme(pane.scheme);
            pane.find_trios();
        }
        Id::Vision => pane.vision = next_vision(pane.vision),
        Id::PinSwatch => pane.pinned = if pane.pinned == pane.picked() { None } else { pane.picked() },
        Id::SwatchLeft => go(pane, Move::By(-1), len),
        Id::SwatchRight => go(pane, Move::By(1), len),
        Id::SwatchUp => go(pane, Move::By(-row), len),
        Id::SwatchDown => go(pane, Move::By(row), len),
        Id::SwatchPageUp => go(pane, Move::By(-PAGE), len),
        Id::SwatchPageDown => go(pane, Move::By(PAGE), len),
        Id::SwatchFirst => go(pane, Move::First, len),
        Id::SwatchLast => go(pane, Move::Last, len),
        _ => {}
    }
    Vec::new()
}

fn go(pane: &mut PalettePane, step: Move, len: usize) {
    pane.cursor.go(step, len);
    pane.find_trios();
}

fn next_order(order: Order) -> Order {
    match order {
        Order::Families => Order::Smooth,
        Order::Smooth => Order::Name,
        Order::Name => Order::Group,
        Order::Group => Order::Families,
    }
}

fn next_vision(now: Option<Deficiency>) -> Option<Deficiency> {
    match now {
        None => Deficiency::ALL.first().copied(),
        Some(kind) => {
            let at = Deficiency::ALL.iter().position(|k| *k == kind).unwrap_or(0);
            Deficiency::ALL.get(at + 1).copied()
        }
    }
}

fn next_scheme(scheme: Option<Scheme>) -> Option<Scheme> {
    match scheme {
        None => Scheme::ALL.first().copied(),
        Some(now) => {
            let at = Scheme::ALL.iter().position(|s| *s == now).unwrap_or(0);
            Scheme::ALL.get(at + 1).copied()
        }
    }
}

/// How a colour is read, while it is typed.
pub fn echo(model: &Model, text: &str) -> Echo {
    match parse::colour(text) {
        Err(why) => Echo::Refused(why.to_string()),
        Ok(typed) => Echo::Read(describe(model, &typed)),
    }
}

fn describe(model: &Model, typed: &Typed) -> String {
    let lab = typed.lab;
    let near = nearest(lab, &model.palette.library(), 1);
    let best = near.first().and_then(|m| Some((&model.palette.swatches.get(m.index)?.1.name, m.delta_e)));
    let near = best.map(|(name, d)| format!(", nearest {name} at dE00 {d:.1}")).unwrap_or_default();
    format!("{} L {:.1} a {:.1} b {:.1}{near}", lab.rgb8(), lab.l, lab.a, lab.b)
}

/// Takes the colour: the nearest swatch is picked, and the nearest five are listed.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept(model: &mut Model, text: &str) -> Result<Vec<Effect>, String> {
    let typed = parse::colour(text).map_err(|e| e.to_string())?;
    let pane = &mut model.palette;
    pane.ask(text.trim(), typed.lab);
    let best = pane.asked.as_ref().and_then(|a| a.matches.first()).map(|m| m.index);
    if let Some(at) = best {
        pane.cursor = Cursor::at(at);
        pane.find_trios();
    }
    Ok(Vec::new())
}
