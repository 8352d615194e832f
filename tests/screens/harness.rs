//! A bench without a terminal: keys in, screen out. Solving and saving happen at once, so that a screen is the same on
//! every run.

use super::remembered;
use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::{Color, Modifier, Style};
use std::collections::{BTreeMap, VecDeque};
use trimside::app::action::{Action, Fresh};
use trimside::app::commands::CommandId;
use trimside::app::effect::{BookOrder, Effect, PrintJob};
use trimside::app::keys::{Key, KeyCode};
use trimside::app::model::Model;
use trimside::app::printing::PrintNews;
use trimside::app::state::cutting::PlanNews;
use trimside::app::update::update;
use trimside::domain::book::Book;
use trimside::domain::history::{Entry, History, Moved};
use trimside::domain::screen::{Screen, ThemeChoice};
use trimside::persist::Store;
use trimside::runtime::files::{FileOrder, carry_out};
use trimside::runtime::keeper::Waiting;
use trimside::runtime::printer;
use trimside::ui::hits::Hits;
use trimside::ui::look::{ColourDepth, Look};
use trimside::ui::view;

/// The day of every screen test.
pub const TODAY: jiff::civil::Date = jiff::civil::date(2026, 11, 25);

pub struct Bench {
    pub model: Model,
    pub copied: Vec<String>,
    /// The print queues of the test's system; none where it has no print command.
    pub queues: Option<trimside::app::printing::Queues>,
    pub has_left: bool,
    /// Every step that was to be saved.
    pub steps: Vec<Entry>,
    /// Where they are saved; nowhere, for pictures.
    waiting: Option<Waiting>,
    /// Where files are printed; none are where it is not set.
    pub folder: Option<tempfile::TempDir>,
    depth: ColourDepth,
}

impl Bench {
    /// What came of a file, at once.
    fn with_file(&mut self, order: FileOrder) -> Vec<Effect> {
        update(&mut self.model, carry_out(order))
    }
}

impl Bench {
    /// On the demo book.
    pub fn demo() -> Self {
        let (book, history) = remembered::demo();
        Self::on(book, history)
    }

    /// On the demo as it is opened: the page of the day over a batch half cut.
    pub fn opened() -> Self {
        let (book, history) = remembered::opened();
        let mut bench = Self::on(book, history);
        trimside::app::demo::as_left(&mut bench.model);
        trimside::app::today::begin(&mut bench.model);
        bench
    }

    /// On an empty book.
    pub fn empty() -> Self {
        Self::on(Book::default(), History::default())
    }

    pub fn on(book: Book, history: History) -> Self {
        let model = Model::new(book, history, TODAY, Screen::default());
        let mut bench = Self {
            model,
            copied: Vec::new(),
            queues: None,
            has_left: false,
            steps: Vec::new(),
            waiting: None,
            folder: None,
            depth: ColourDepth::True,
        };
        let first = update(&mut bench.model, Action::Run(CommandId::PaneYield));
        bench.carry_out(first);
        bench
    }

    pub fn theme(mut self, theme: ThemeChoice, depth: ColourDepth) -> Self {
        self.model.screen.theme = theme;
        self.depth = depth;
        self
    }

    /// Asks for what the views in sight need, as the program does when it is opened.
    pub fn resume(&mut self) {
        let effects = trimside::app::update::resume(&mut self.model);
        self.carry_out(effects);
    }

    /// Saves to a store that holds the same book.
    pub fn kept_in(mut self, store: Store) -> Self {
        self.model.epoch = store.epoch();
        self.waiting = Some(Waiting::new(store));
        self
    }

    /// Ends the saving; what could not be saved, as a sentence.
    pub fn lost(&mut self) -> Option<String> {
        self.waiting.take().and_then(|waiting| waiting.finish(&mut |_| ()))
    }

    /// Presses keys: tokens apart by spaces, each a key as in the key file; `'some text'` is typed letter by letter.
    pub fn keys(mut self, keys: &str) -> Self {
        self.press(keys);
        self
    }

    pub fn press(&mut self, keys: &str) {
        let mut rest = keys.trim_start();
        while !rest.is_empty() {
            if let Some(text) = rest.strip_prefix('\'') {
                let (typed, after) = text.split_once('\'').expect("a closing quote");
                typed.chars().for_each(|c| self.act(Action::Key(Key::char(c))));
                rest = after.trim_start();
            } else {
                let (token, after) = rest.split_once(' ').unwrap_or((rest, ""));
                self.act(Action::Key(Key::parse(token).expect(token)));
                rest = after.trim_start();
            }
        }
    }

    pub fn act(&mut self, action: Action) {
        let effects = update(&mut self.model, action);
        self.carry_out(effects);
    }

    fn carry_out(&mut self, effects: Vec<Effect>) {
        let mut todo: VecDeque<Effect> = effects.into();
        while let Some(effect) = todo.pop_front() {
            match effect {
                Effect::Solve(n, ask) => {
                    todo.extend(update(&mut self.model, Action::Solved(n, remembered::solved(ask))));
                }
                Effect::Settle(job) => todo.extend(update(&mut self.model, remembered::settled(*job))),
                Effect::Plan { number, job, .. } => {
                    let done = PlanNews::Done(Box::new(remembered::plan(*job)));
                    todo.extend(update(&mut self.model, Action::Planned(number, done)));
                }
                Effect::Save { epoch, entry } => {
                    self.steps.push((*entry).clone());
                    let mut told = vec![Action::Saved(1)];
                    if let Some(waiting) = &mut self.waiting {
                        told.clear();
                        waiting.add(epoch, *entry);
                        waiting.save(&mut |action| told.push(action));
                    }
                    for action in told {
                        todo.extend(update(&mut self.model, action));
                    }
                }
                Effect::HandOn(file) => todo.extend(self.with_file(FileOrder::WriteCard(file))),
                Effect::Names(typed) => todo.extend(self.with_file(FileOrder::Names(typed))),
                Effect::TakeIn(name, unit) => todo.extend(self.with_file(FileOrder::ReadCard(name, unit))),
                Effect::ReadList { path, unit, currency, what } => {
                    todo.extend(self.with_file(FileOrder::ReadList { path, unit, currency, what }));
                }
                // A walk at random may name a file too: only those of a test's own folder are written.
                Effect::WriteFile { path, .. } if !std::path::Path::new(&path).is_absolute() => {}
                Effect::WriteFile { path, content } => {
                    let order = FileOrder::write(path, &content, &self.model.book);
                    todo.extend(self.with_file(order));
                }
                // A walk at random may name a file here too.
                Effect::Book(BookOrder::Keep { path, .. }) if !std::path::Path::new(&path).is_absolute() => {}
                Effect::Book(order) => {
                    let mut told = Vec::new();
                    if let Some(waiting) = &mut self.waiting {
                        waiting.book_order(order, self.model.today, &mut |action| told.push(action));
                    }
                    for action in told {
                        todo.extend(update(&mut self.model, action));
                    }
                }
                Effect::Copy(text) => self.copied.push(text),
                Effect::Preview(n, ask) => {
                    todo.extend(update(&mut self.model, Action::Previewed(n, printer::text(&ask))));
                }
                Effect::Queues => {
                    let queues = self.queues.clone();
                    todo.extend(update(&mut self.model, Action::Queues(queues)));
                }
                Effect::Print(job) => {
                    // Into a folder of the test's own, whatever name was typed.
                    let Some(folder) = &self.folder else { continue };
                    let file = format!("{}/{}", folder.path().display(), job.file);
                    let shown = job.file.clone();
                    let news = match printer::write(PrintJob { file, ..*job }, &mut |_| {}) {
                        PrintNews::Exists(job) => {
                            PrintNews::Exists(Box::new(PrintJob { file: shown, ..*job }))
                        }
                        news => news,
                    };
                    todo.extend(update(&mut self.model, Action::Printed(news)));
                }
                Effect::Tour => {
                    let (book, history) = remembered::demo();
                    let fresh = Fresh { epoch: 0, book, history, moved: Moved::default() };
                    todo.extend(update(&mut self.model, Action::Tour(Box::new(fresh))));
                }
                Effect::Quit => self.has_left = true,
                _ => {}
            }
        }
    }

    pub fn draw(&self, width: u16, height: u16) -> (Buffer, Option<Position>) {
        let area = Rect::new(0, 0, width, height);
        let mut buf = Buffer::empty(area);
        let look = Look::new(&self.model.screen, self.depth);
        let cursor = view::draw_screen(&self.model, area, &mut buf, &look).cursor;
        (buf, cursor)
    }

    /// What takes a click, and where, on a screen of that size.
    pub fn hits(&self, width: u16, height: u16) -> Hits {
        let area = Rect::new(0, 0, width, height);
        let look = Look::new(&self.model.screen, self.depth);
        view::draw_screen(&self.model, area, &mut Buffer::empty(area), &look).hits
    }

    /// The screen as text, with the hardware cursor's place in the last line.
    pub fn text(&self, width: u16, height: u16) -> String {
        let (buf, cursor) = self.draw(width, height);
        let mut out = String::new();
        for y in 0..height {
            let row: String = (0..width).map(|x| buf[(x, y)].symbol()).collect();
            out.push_str(row.trim_end());
            out.push('\n');
        }
        match cursor {
            Some(at) => out.push_str(&format!("cursor {},{}\n", at.x, at.y)),
            None => out.push_str("no cursor\n"),
        }
        out
    }

    /// The screen as text with a second grid of letters for styles, and what each letter means.
    pub fn styled(&self, width: u16, height: u16) -> String {
        let (buf, _) = self.draw(width, height);
        let mut names: BTreeMap<String, char> = BTreeMap::new();
        let mut grid = String::new();
        for y in 0..height {
            let mut row = String::new();
            for x in 0..width {
                let style = buf[(x, y)].style();
                let words = words(style);
                if words.is_empty() {
                    row.push('.');
                    continue;
                }
                let next = char::from(b'a' + u8::try_from(names.len()).unwrap() % 26);
                row.push(*names.entry(words).or_insert(next));
            }
            grid.push_str(row.trim_end_matches('.'));
            grid.push('\n');
        }
        let mut legend: Vec<(char, String)> = names.into_iter().map(|(w, c)| (c, w)).collect();
        legend.sort();
        let legend: String = legend.into_iter().map(|(c, w)| format!("{c} {w}\n")).collect();
        format!("{}\n{grid}\n{legend}", self.text(width, height))
    }
}

fn words(style: Style) -> String {
    let mut parts = Vec::new();
    let colour = |c: Option<Color>| c.filter(|c| *c != Color::Reset).map(|c| c.to_string());
    if let Some(fg) = colour(style.fg) {
        parts.push(fg);
    }
    if let Some(bg) = colour(style.bg) {
        parts.push(format!("on {bg}"));
    }
    for (flag, word) in [
        (Modifier::BOLD, "bold"),
        (Modifier::DIM, "dim"),
        (Modifier::REVERSED, "reverse"),
        (Modifier::UNDERLINED, "underline"),
    ] {
        if style.add_modifier.contains(flag) {
            parts.push(word.to_owned());
        }
    }
    parts.join(" ")
}

/// Every key that does something, for walks at random.
pub const WALK: &[KeyCode] = &[
    KeyCode::Up,
    KeyCode::Down,
    KeyCode::Left,
    KeyCode::Right,
    KeyCode::Enter,
    KeyCode::Esc,
    KeyCode::Tab,
    KeyCode::BackTab,
    KeyCode::Home,
    KeyCode::End,
    KeyCode::PageUp,
    KeyCode::PageDown,
    KeyCode::Backspace,
    KeyCode::Delete,
];
