//! Everything the workbench knows while it is open. Plain data: changed by [`super::update`], drawn by the views.

use super::ctx::Ctx;
use super::keymap::{Keymap, Told};
use super::keys::Key;
use super::overlay::Overlay;
use super::pane::Pane;
use super::state::palette::PalettePane;
use super::state::views::{PaletteView, StockView, YieldView};
use super::status::{Saving, Status, Work};
use crate::app::state::forms::Filling;
use crate::app::state::mats::MatsPane;
use crate::app::state::print::PrintChoices;
use crate::app::state::settling::Settling;
use crate::app::state::stock::StockPane;
use crate::app::state::today::TodayPage;
use crate::app::state::views::ViewPlace;
use crate::app::state::yields::YieldPane;

use crate::app::state::timeline::{Timeline, Whose};
use crate::domain::book::Book;
use crate::domain::history::History;
use crate::domain::pages::label_sheet::LabelSheet;
use crate::domain::plural::count_of;
use crate::domain::screen::Screen;
use crate::domain::sheet::Formats;
use jiff::civil::Date;

/// The four panes of a model.
#[derive(Debug)]
pub struct Panes<'a> {
    /// Yield, with its plan and the bench.
    pub yields: &'a mut YieldPane,
    /// Mats.
    pub mats: &'a mut MatsPane,
    /// Palette.
    pub palette: &'a mut PalettePane,
    /// Stock.
    pub stock: &'a mut StockPane,
}

/// The model.
#[derive(Clone, Debug)]
pub struct Model {
    /// What is saved.
    pub book: Book,
    /// What can be undone and redone in the book.
    pub history: History,
    /// What was done in all panes, in true time order.
    pub timeline: Timeline,
    /// Which of the books that took each other's place this is; the saving side counts them.
    pub epoch: u64,
    /// The day that new log lines carry.
    pub today: Date,
    /// Seconds since the sitting began.
    pub moment: u64,
    /// The person's choices for the screen.
    pub screen: Screen,
    /// Sheet formats by name: the built-in ones and the person's own.
    pub formats: Formats,
    /// The person's own label sheets.
    pub label_sheets: Vec<LabelSheet>,
    /// What is chosen about printed pages.
    pub print: PrintChoices,
    /// Which key runs what.
    pub keymap: Keymap,
    /// The pane in view.
    pub pane: Pane,
    /// The page of the day, which may lie over it.
    pub day: TodayPage,
    /// What lies over it, the top one last.
    pub overlays: Vec<Overlay>,
    /// A form that was left with something in it.
    pub draft: Option<Box<Filling>>,
    /// What happened last.
    pub status: Option<Status>,
    /// Long work that is going on.
    pub work: Option<Work>,
    /// Columns of the screen; 0 until it is known, and where there is none.
    pub room: u16,
    /// Keys of a longer sequence that were pressed so far.
    pub pending: Vec<Key>,
    /// Where one was before, the last place at the end.
    pub trail: Vec<ViewPlace>,
    /// The guided tour, while it goes on.
    pub tour: Option<Tour>,
    /// Whether the disk has it.
    pub saving: Saving,
    /// The choices and ticks on screen could not be written down.
    pub is_forgetful: bool,
    /// Why the book may be read but not changed, where that is so.
    pub read_only: Option<String>,
    /// True where the system can stop a program and bring it back.
    pub can_stop: bool,
    /// True for a throw-away copy of the demo.
    pub is_demo: bool,
    /// Set when the person asked to leave.
    pub is_leaving: bool,
    /// Number of the last question to a worker.
    pub asked: u64,
    /// Plans behind the figures of projects.
    pub settling: Settling,
    /// Yield.
    pub yields: YieldPane,
    /// Mats.
    pub mats: MatsPane,
    /// Palette.
    pub palette: PalettePane,
    /// Stock.
    pub stock: StockPane,
}

/// A tour going on.
#[derive(Clone, Debug)]
pub struct Tour {
    /// The step, from 0.
    pub step: usize,
    /// The bench as it was.
    pub kept: Box<Model>,
}

impl Model {
    /// A workbench on a book, at its first screen.
    pub fn new(book: Book, history: History, today: Date, screen: Screen) -> Self {
        let mut timeline = Timeline::default();
        timeline.follow(0, &history.done().collect::<Vec<_>>(), history.undone(), Whose::Before);
        let mut model = Self {
            book,
            history,
            timeline,
            epoch: 0,
            today,
            moment: 0,
            screen,
            formats: Formats::built_in(),
            label_sheets: Vec::new(),
            print: PrintChoices::default(),
            keymap: Keymap::default(),
            pane: Pane::default(),
            day: TodayPage::default(),
            overlays: Vec::new(),
            draft: None,
            status: None,
            work: None,
            room: 0,
            pending: Vec::new(),
            trail: Vec::new(),
            tour: None,
            saving: Saving::default(),
            is_forgetful: false,
            read_only: None,
            can_stop: true,
            is_demo: false,
            is_leaving: false,
            asked: 0,
            settling: Settling::default(),
            yields: YieldPane::default(),
            mats: MatsPane::default(),
            palette: PalettePane::default(),
            stock: StockPane::default(),
        };
        model.follow_book();
        model
    }

    /// Brings what the panes derive from the book up to date with it.
    pub fn follow_book(&mut self) {
        self.yields.trimmer.longest_cut = self.book.settings().longest_cut;
        self.palette.arrange(&self.book);
        self.stock.arrange(&self.book, self.today);
    }

    /// What the panes may read.
    pub fn ctx(&self) -> Ctx<'_> {
        Ctx {
            book: &self.book,
            today: self.today,
            moment: self.moment,
            unit: self.screen.unit,
            country: self.screen.country,
            formats: &self.formats,
            card: self.mats.card(&self.book),
            settling: &self.settling,
            keys: &self.keymap,
        }
    }

    /// The panes, each to be changed by itself, with what they may read.
    pub fn panes(&mut self) -> (Panes<'_>, Ctx<'_>) {
        let Self {
            yields, mats, palette, stock, book, today, moment, screen, formats, settling, keymap, ..
        } = self;
        let card = mats.card(book);
        let (unit, country) = (screen.unit, screen.country);
        let (today, moment) = (*today, *moment);
        let ctx = Ctx { book, today, moment, unit, country, formats, card, settling, keys: keymap };
        (Panes { yields, mats, palette, stock }, ctx)
    }

    /// What is on screen and stands nowhere but here, in at most three words: text that is not entered, counts that are not
    /// logged, a list, a photo or a plan that is not taken. The header calls none of it saved. What a pane works out anew by
    /// itself is no such work.
    pub fn unwritten(&self) -> Option<String> {
        if matches!(self.overlays.last(), Some(Overlay::Prompt(p)) if p.field.is_changed()) {
            return Some("not entered".to_owned());
        }
        if matches!(self.overlays.last(), Some(Overlay::Form(f)) if f.form.is_changed()) {
            return Some("not entered".to_owned());
        }
        let counted = self.stock.count.as_ref().map_or(0, |c| c.done().len());
        if counted > 0 {
            return Some(format!("{} not logged", count_of(counted as u64, "count")));
        }
        let has_found = self.yields.plan.plan.is_some() && self.yields.plan.booked.is_none();
        let words = match self.pane {
            _ if self.day.is_open && !self.is_forgetful => return None,
            Pane::Stock if self.stock.view == StockView::Preview => "list not kept",
            Pane::Palette if self.palette.view == PaletteView::Photo => "photo not kept",
            Pane::Yield if self.yields.view == YieldView::Plan && has_found => "plan not booked",
            _ if self.is_forgetful => "choices not kept",
            _ => return None,
        };
        Some(words.to_owned())
    }

    /// The next number for a question to a worker.
    pub fn next_ask(&mut self) -> u64 {
        self.asked += 1;
        self.asked
    }

    /// True while the bench view is on screen.
    pub fn is_at_bench(&self) -> bool {
        self.pane == Pane::Yield && !self.day.is_open && {
            let y = &self.yields;
            y.view == YieldView::Bench && (y.run.is_some() || y.after.is_some())
        }
    }

    /// Tells the person something.
    pub fn tell(&mut self, status: Status) {
        let Status { text, tone, .. } = status;
        let Told { words, keys } = self.keymap.told(&text);
        self.status = Some(Status { text: words, tone, keys });
    }

    /// The overlay on top.
    pub fn top(&self) -> Option<&Overlay> {
        self.overlays.last()
    }
}
