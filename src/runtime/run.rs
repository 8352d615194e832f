//! The workbench in a terminal: events in, actions through `update`, effects out, a frame only when something changed.

use super::clipboard::{self, Between};
use super::colours::{self, Surroundings};
use super::decode::ASK_GROUND;
use super::events::{self, Ears, Input};
use super::files::{Clerks, FileOrder};
use super::keeper::Keeper;
use super::keys;
use super::line::Wishes;
use super::printer::{PrintOrder, Printer};
use super::solve::{self, Desks};
use super::terminal::Guard;
use crate::app::action::{Action, Solved};
use crate::app::effect::{Effect, PlanUntil};
use crate::app::model::Model;
use crate::app::printing::PrintNews;
use crate::app::state::cutting::PlanNews;
use crate::app::update::{resume, update};
use crate::domain::colour::legibility::luminance;
use crate::domain::colour::space::Rgb8;
use crate::domain::cutting::job::Job;
use crate::domain::harmless::harmless;
use crate::domain::planning::ProjectJob;
use crate::domain::screen::ThemeChoice;
use crate::engine::planning::{self, Cancel};
use crate::persist::Store;
use crate::system::screen;
use crate::system::told::{Signal, SignalReach, Stopped};
use crate::ui::hits::Hits;
use crate::ui::look::{ColourDepth, Look};
use crate::ui::view;
use anyhow::Context;
use crossterm::event::{KeyEvent, MouseButton, MouseEvent, MouseEventKind};
use jiff::civil::Date;
use ratatui::layout::{Position, Rect};
use std::io::Write;
use std::sync::mpsc::Sender;
use std::time::{Duration, Instant};

/// How long the terminal may take to tell its ground.
const GROUND_LIMIT: Duration = Duration::from_millis(500);
const NO_PRINTER: &str = "the thread that makes pages is gone; leave and open the bench again";

/// How a session at the bench ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ended {
    /// The person left.
    Left,
    /// A signal ended it: the process should die of the same one.
    By(Signal),
    /// The terminal went away.
    HangUp,
}

/// Takes the model as it is left; false where that could not be written.
pub type Remember = Box<dyn Fn(&Model) -> bool + Send>;

/// What the bench is opened with.
pub struct BenchStart {
    /// The model at its first screen.
    pub model: Model,
    /// Where the book is kept.
    pub store: Store,
    /// Remembers how the bench is left.
    pub remember: Remember,
    /// The day, asked anew for every edit; `None` where the clock shows none, and the last one stands.
    pub today: fn() -> Option<Date>,
    /// Sees every key before the bench does.
    pub on_key: Option<KeyWatch>,
}

/// Sees a key before the bench does.
pub type KeyWatch = fn(&KeyEvent);

struct Bench {
    model: Model,
    guard: Guard,
    desks: Desks,
    clerks: Clerks,
    keeper: Keeper,
    remember: Remember,
    today: fn() -> Option<Date>,
    depth: ColourDepth,
    between: Between,
    post: Sender<Input<Action>>,
    planning: Option<Cancel>,
    printer: Printer,
    ground_asked: Option<Instant>,
    /// When the sitting began.
    begun: Instant,
    hits: Hits,
    /// The window is large enough to show what a key does.
    is_seen: bool,
}

/// Opens the bench and runs it until it ends.
///
/// # Errors
/// When there is no screen to draw on (the sentence says what would do), or the terminal refuses.
pub fn bench(start: BenchStart) -> anyhow::Result<Ended> {
    let on_key = start.on_key;
    let (mut bench, ears) = open(start)?;
    let ended = until_left(&mut bench, &ears, on_key)?;
    close(bench, &ears, ended)
}

/// Takes the terminal and starts every thread.
fn open(start: BenchStart) -> anyhow::Result<(Bench, Ears<Action>)> {
    let around = Surroundings::read();
    let depth = match colours::depth(&around)? {
        colours::ColourUse::None => ColourDepth::None,
        colours::ColourUse::Sixteen => ColourDepth::Sixteen,
        colours::ColourUse::TwoFiftySix => ColourDepth::TwoFiftySix,
        colours::ColourUse::TrueColour => ColourDepth::True,
    };
    let wishes = Wishes { mouse: start.model.screen.mouse, focus: false };
    let guard = Guard::enter(wishes).context("the terminal cannot be used")?;
    let ears = events::listen::<Action>(Some(guard.line()))?;
    let post = ears.post.clone();
    // Where the main thread has stopped listening it is on its way out.
    let tell = move |action| {
        let _ = post.send(Input::Answer(action));
    };
    let desks = Desks::open(tell.clone())?;
    let keeper = Keeper::start(start.store, tell.clone())?;
    let printer = Printer::start(tell.clone())?;
    let clerks = Clerks::start(tell)?;
    let bench = Bench {
        model: start.model,
        guard,
        desks,
        clerks,
        keeper,
        remember: start.remember,
        today: start.today,
        depth,
        between: Between::of(around.tmux, around.sty),
        post: ears.post.clone(),
        planning: None,
        printer,
        ground_asked: None,
        begun: Instant::now(),
        hits: Hits::default(),
        is_seen: true,
    };
    Ok((bench, ears))
}

/// Draws, listens and does what is asked, until it ends.
fn until_left(bench: &mut Bench, ears: &Ears<Action>, on_key: Option<KeyWatch>) -> anyhow::Result<Ended> {
    let first = resume(&mut bench.model);
    let mut ended = bench.carry_out(first)?;
    bench.draw()?;
    bench.ask_ground()?;
    while ended.is_none() {
        let inputs = events::gather(&ears.inbox);
        if inputs.is_empty() {
            ended = Some(Ended::HangUp);
        }
        for input in inputs {
            if let (Input::Key(key), Some(watch)) = (&input, on_key) {
                watch(key);
            }
            ended = ended.or(bench.take(input)?);
        }
        if ended.is_none() && (bench.draw().is_err() || bench.ask_ground().is_err()) {
            ended = Some(Ended::HangUp);
        }
    }
    Ok(ended.unwrap_or(Ended::Left))
}

/// Leaves the terminal and finishes what is not yet on the disk.
fn close(bench: Bench, ears: &Ears<Action>, ended: Ended) -> anyhow::Result<Ended> {
    (bench.remember)(&bench.model);
    // The screen first, since saving may take a moment; on a dead terminal this does nothing.
    let _ = bench.guard.leave();
    bench.clerks.finish();
    let mut say = |words: &str| {
        let _ = writeln!(std::io::stderr(), "trimside: {words}");
    };
    let mut left = Vec::new();
    let mut is_given_up = |time| {
        let input = ears.inbox.recv_timeout(time);
        let ends = matches!(input, Ok(Input::Signal(signal)) if signal.ends());
        left.extend(input.ok());
        ends
    };
    let lost = bench.keeper.finish(&mut say, &mut is_given_up);
    left.extend(ears.inbox.try_iter());
    let lost: Vec<String> = lost.into_iter().chain(left.into_iter().filter_map(unseen)).collect();
    match (!lost.is_empty()).then(|| lost.join("; ")) {
        None => Ok(ended),
        Some(lost) if ended == Ended::Left => Err(anyhow::Error::msg(lost)),
        Some(lost) => {
            // The process is about to die of a signal; whoever reads this may be gone.
            let _ = writeln!(std::io::stderr(), "trimside: {}", harmless(&lost));
            Ok(ended)
        }
    }
}

/// What a file's thread had to say after the last frame: the person would learn it nowhere else.
fn unseen(input: Input<Action>) -> Option<String> {
    match input {
        Input::Answer(Action::Refuse(why)) => Some(why),
        Input::Answer(Action::FileThere(file)) => {
            Some(format!("{} is there already and was left alone", file.path))
        }
        _ => None,
    }
}

impl Bench {
    fn draw(&mut self) -> std::io::Result<()> {
        let look = Look::new(&self.model.screen, self.depth);
        let mut width = 0;
        let (model, hits, is_seen) = (&self.model, &mut self.hits, &mut self.is_seen);
        self.guard.draw(|frame| {
            *is_seen = view::is_large_enough(frame.area());
            width = frame.area().width;
            let drawn = view::draw_screen(model, frame.area(), frame.buffer_mut(), &look);
            *hits = drawn.hits;
            if let Some(at) = drawn.cursor {
                frame.set_cursor_position(at);
            }
        })?;
        if let Some(columns) = self.hits.columns().filter(|n| *n != self.model.palette.columns) {
            // Nothing on the screen rests on it, only what the next key does: it asks for no other effect or frame.
            let _ = update(&mut self.model, Action::Columns(columns));
        }
        if width != self.model.room {
            // What there is room for is asked of a worker, and comes with a later frame.
            let asked = update(&mut self.model, Action::Room(width));
            self.carry_out(asked).map_err(std::io::Error::other)?;
        }
        Ok(())
    }

    /// Asks for the terminal's ground once, after a frame was drawn, where the theme goes by it or hatches stand for colours.
    fn ask_ground(&mut self) -> std::io::Result<()> {
        let goes_by_it = self.model.screen.theme == ThemeChoice::Auto || self.depth <= ColourDepth::Sixteen;
        if !screen::ANSWERS || self.ground_asked.is_some() || !goes_by_it {
            return Ok(());
        }
        self.ground_asked = Some(Instant::now());
        self.guard.send(ASK_GROUND.as_bytes())
    }

    /// The ground in an answer that came in time; a late one changes nothing under the person's eyes.
    fn ground(&self, [r, g, b]: [f64; 3]) -> Option<Action> {
        let in_time = self.ground_asked.is_some_and(|asked| asked.elapsed() <= GROUND_LIMIT);
        let byte = |part: f64| (part * 255.0).round() as u8;
        let light = Rgb8 { r: byte(r), g: byte(g), b: byte(b) }.linear();
        // Where black letters and white letters stand out equally well: contrast is (L + 0.05) over (l + 0.05).
        in_time.then(|| Action::Ground(luminance(light) > 0.179))
    }

    fn take(&mut self, input: Input<Action>) -> anyhow::Result<Option<Ended>> {
        self.model.today = (self.today)().unwrap_or(self.model.today);
        self.model.moment = self.begun.elapsed().as_secs();
        let action = match input {
            Input::Resize(width, height) => {
                self.is_seen = view::is_large_enough(Rect::new(0, 0, width, height));
                None
            }
            Input::Key(event) if !self.is_seen => keys::key(event).map(Action::Unseen),
            Input::Paste(_) | Input::Mouse(_) if !self.is_seen => None,
            Input::Key(event) => keys::key(event).map(Action::Key),
            Input::Paste(text) => Some(Action::Paste(text)),
            Input::Mouse(event) => self.mouse(event),
            Input::Ground(colour) => self.ground(colour),
            Input::Answer(action) => Some(action),
            Input::Focus(_) => None,
            Input::HangUp => return Ok(Some(Ended::HangUp)),
            Input::Signal(signal) if signal.ends() => return Ok(Some(Ended::By(signal))),
            Input::Signal(Signal::Suspend) => return Ok(self.suspend(SignalReach::Process)),
            Input::Signal(_) => {
                if self.guard.reassert().is_err() {
                    return Ok(Some(Ended::HangUp));
                }
                None
            }
        };
        let Some(action) = action else { return Ok(None) };
        let effects = update(&mut self.model, action);
        self.carry_out(effects)
    }

    fn carry_out(&mut self, effects: Vec<Effect>) -> anyhow::Result<Option<Ended>> {
        for effect in effects {
            match effect {
                Effect::Solve(number, ask) => {
                    if !self.desks.ask(number, ask) {
                        let gone =
                            Solved::Failed("the solver is gone; leave and open the bench again".to_owned());
                        let _ = update(&mut self.model, Action::Solved(number, gone));
                    }
                }
                Effect::Plan { number, job, until } => self.start_plan(number, *job, until),
                Effect::Settle(job) => self.settle(*job),
                Effect::StopPlan => {
                    if let Some(cancel) = self.planning.take() {
                        cancel.stop();
                    }
                }
                Effect::Save { epoch, entry } => {
                    if !self.keeper.keep(epoch, *entry) {
                        let gone = "the thread that saves is gone; leave and open the bench again".to_owned();
                        let _ = update(&mut self.model, Action::SaveFailed(gone));
                    }
                }
                Effect::Book(order) => {
                    if !self.keeper.book(order, self.model.today) {
                        let gone = "the thread that saves is gone; leave and open the bench again".to_owned();
                        let _ = update(&mut self.model, Action::Refuse(gone));
                    }
                }
                Effect::Preview(number, ask) => {
                    if !self.printer.ask(PrintOrder::Preview(number, ask)) {
                        let _ =
                            update(&mut self.model, Action::Previewed(number, Err(NO_PRINTER.to_owned())));
                    }
                }
                Effect::Queues => {
                    // Without the thread there is no preview either, which says so.
                    let _ = self.printer.ask(PrintOrder::Queues);
                }
                Effect::Print(job) => {
                    if !self.printer.ask(PrintOrder::File(job)) {
                        let gone = PrintNews::Failed(NO_PRINTER.to_owned());
                        let _ = update(&mut self.model, Action::Printed(gone));
                    }
                }
                Effect::Tour => {
                    let action = super::tour::begin();
                    let more = update(&mut self.model, action);
                    if let Some(ended) = self.carry_out(more)? {
                        return Ok(Some(ended));
                    }
                }
                Effect::Copy(text) => match clipboard::copy(&text, self.between) {
                    Ok(bytes) => self.guard.send(&bytes)?,
                    Err(why) => {
                        let _ = update(&mut self.model, Action::Tell(why.to_string()));
                    }
                },
                Effect::HandOn(file) => self.clerk(FileOrder::WriteCard(file)),
                Effect::Names(typed) => self.clerk(FileOrder::Names(typed)),
                Effect::TakeIn(name, unit) => self.clerk(FileOrder::ReadCard(name, unit)),
                Effect::ReadList { path, unit, currency, what } => {
                    self.clerk(FileOrder::ReadList { path, unit, currency, what });
                }
                Effect::WriteFile { path, content } => {
                    self.clerk(FileOrder::write(path, &content, &self.model.book));
                }
                Effect::Remember => {
                    if self.guard.set_mouse(self.model.screen.mouse).is_err() {
                        return Ok(Some(Ended::HangUp));
                    }
                    self.model.is_forgetful = !(self.remember)(&self.model);
                }
                Effect::Suspend => {
                    if let Some(ended) = self.suspend(SignalReach::Job) {
                        return Ok(Some(ended));
                    }
                }
                Effect::Quit => return Ok(Some(Ended::Left)),
            }
        }
        Ok(None)
    }

    /// Has a file read or written by others: no disk holds up a key.
    fn clerk(&mut self, order: FileOrder) {
        if !self.clerks.ask(order) {
            let gone = "the thread for files is gone; leave and open the bench again".to_owned();
            let _ = update(&mut self.model, Action::Refuse(gone));
        }
    }

    /// Plans on threads of their own; what they tell is passed on by one more, which ends with them.
    fn start_plan(&mut self, number: u64, job: Job, until: PlanUntil) {
        let (news, heard) = std::sync::mpsc::channel();
        let started = planning::start(number, job, solve::budget(until), news);
        let post = self.post.clone();
        let passing = std::thread::Builder::new().name("news".to_owned()).spawn(move || {
            for (number, news) in heard {
                if post.send(Input::Answer(Action::Planned(number, solve::news(news)))).is_err() {
                    return;
                }
            }
        });
        match (started, passing) {
            (Ok(cancel), Ok(_)) => self.planning = Some(cancel),
            (Err(why), _) | (_, Err(why)) => {
                let done =
                    PlanNews::Done(Box::new(Err(format!("no thread for the planner ({why}); try again"))));
                let _ = update(&mut self.model, Action::Planned(number, done));
            }
        }
    }

    /// Makes the plan behind a project's figures on a thread of its own.
    fn settle(&mut self, job: ProjectJob) {
        let post = self.post.clone();
        let asked = job.clone();
        let work = move || {
            let _ = post.send(Input::Answer(solve::settle(asked)));
        };
        if let Err(why) = std::thread::Builder::new().name("figures".to_owned()).spawn(work) {
            let none = Err(format!("no thread for the planner ({why}); try again"));
            let _ = update(&mut self.model, Action::Settled(Box::new((job, none))));
        }
    }

    fn suspend(&mut self, reach: SignalReach) -> Option<Ended> {
        let rest = self.keeper.rest();
        let unsaved = rest.unsaved.as_deref().map(harmless);
        match self.guard.suspend(reach, unsaved.as_deref()) {
            Ok(Stopped::AndContinued) => None,
            Ok(Stopped::NobodyToContinue) => {
                let words = "There is no shell behind this window that could bring the bench back.";
                let _ = update(&mut self.model, Action::Tell(words.to_owned()));
                None
            }
            Err(_) => Some(Ended::HangUp),
        }
    }

    /// A click on what was drawn there; the wheel over the list that was drawn there.
    fn mouse(&self, event: MouseEvent) -> Option<Action> {
        let at = Position::new(event.column, event.row);
        match event.kind {
            MouseEventKind::ScrollUp => Some(Action::Wheel(-1, self.hits.list_at(at))),
            MouseEventKind::ScrollDown => Some(Action::Wheel(1, self.hits.list_at(at))),
            MouseEventKind::Down(MouseButton::Left) => self.hits.at(at).map(Action::Click),
            MouseEventKind::Drag(_) if !self.model.screen.shift_told => Some(Action::Dragged),
            _ => None,
        }
    }
}
