//! Opening the workbench: which folder, whose settings, a throw-away copy for the demo; then the screen or the plain mode.

use super::files::{self, FileOrder};
use super::keeper::Waiting;
use super::run::{self, BenchStart, Ended, KeyWatch};
use super::{plain, printer, solve, whole_book};
use crate::app::action::Action;
use crate::app::demo as app_demo;
use crate::app::effect::Effect;
use crate::app::keymap::Keymap;
use crate::app::memory;
use crate::app::model::Model;
use crate::app::state::cutting::PlanNews;
use crate::app::status::Status;
use crate::app::today as app_today;
use crate::app::update::update;
use crate::app::welcome;
use crate::domain::length::Unit;
use crate::domain::pages::label_sheet;
use crate::domain::screen::Signs;
use crate::domain::sheet::Formats;
use crate::engine::planning::{self, Cancel};
use crate::persist::choices;
use crate::persist::clock;
use crate::persist::given::{self, SETTINGS};
use crate::persist::own_theme;
use crate::persist::paths::{FORMATS, LABELS, Paths};
use crate::persist::scratch::Scratch;
use crate::persist::{Store, demo};
use crate::system::signals::CAN_STOP;
use jiff::civil::Date;
use std::io::Write;
use std::path::{Path, PathBuf};

/// How the workbench is opened.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Options {
    /// A data folder of the caller's own.
    pub data: Option<PathBuf>,
    /// A settings file of the caller's own.
    pub config: Option<PathBuf>,
    /// The demo: a throw-away copy, or kept in `data` where that is given.
    pub demo: bool,
    /// No screen: lines in, facts out.
    pub plain: bool,
    /// The unit shown first, before what was remembered or set.
    pub unit: Option<Unit>,
}

/// The day by the system's clock and zone, where it shows one.
fn today() -> Option<Date> {
    clock::today().ok()
}

/// Opens the workbench and runs it until it ends; `on_key` sees every key before the bench does.
///
/// # Errors
/// One sentence: no screen, no folder, a book that cannot be read.
pub fn open(options: &Options, on_key: Option<KeyWatch>) -> anyhow::Result<Ended> {
    if !options.plain {
        super::colours::depth(&super::colours::Surroundings::read())?;
    }
    let is_throw_away = options.demo && options.data.is_none();
    let scratch = is_throw_away.then(Scratch::make).transpose().map_err(anyhow::Error::msg)?;
    let paths = Paths::find(scratch.as_ref().map(Scratch::path).or(options.data.as_deref()))?
        .with_settings(options.config.as_deref());
    paths.make_way()?;
    let mut store = Store::open(&paths.data)?;
    if options.demo {
        demo::fill_today(&mut store).map_err(anyhow::Error::msg)?;
        // Opened anew: what was filled in is where this window begins, not something that another one did.
        store = Store::open(&paths.data)?;
    }
    let model = model(options, &paths, &mut store, clock::today()?, is_throw_away);
    if options.plain {
        in_lines(model, store, &paths.data)
    } else {
        on_screen(model, store, paths.data.clone(), on_key)
    }
}

/// Looks whether a settings file that was named can be read.
///
/// # Errors
/// A sentence that goes on after the file's name.
pub fn check_settings(file: &Path) -> Result<(), String> {
    given::read_text(file, SETTINGS).map(drop).map_err(|why| why.to_string())
}

/// The model as it was left, under the person's settings.
fn model(options: &Options, paths: &Paths, store: &mut Store, today: Date, is_throw_away: bool) -> Model {
    let remembered = crate::persist::memory::read(&paths.data).unwrap_or_default();
    let file = paths.settings.display();
    let (text, trouble) = read_text(&paths.settings);
    let (choices, mut problems) = choices::read(&text);
    problems.extend(trouble);
    let mut problems: Vec<String> = problems.into_iter().map(|p| format!("{file}: {p}")).collect();
    let mut screen = choices.over(memory::screen(&remembered));
    let (theme_text, trouble) = read_text(&paths.theme);
    let (own, theme_problems) = own_theme::read(&theme_text);
    screen.own = own;
    let theme_file = paths.theme.display();
    problems.extend(theme_problems.into_iter().chain(trouble).map(|p| format!("{theme_file}: {p}")));
    if choices.signs.is_none() {
        screen.signs = signs_of_locale();
    }
    screen.unit = options.unit.unwrap_or(screen.unit);
    let mut model = Model::new(store.book().clone(), store.history().clone(), today, screen);
    model.epoch = store.epoch();
    model.read_only = store.read_only().map(str::to_owned);
    model.is_demo = is_throw_away;
    model.can_stop = CAN_STOP;
    let (keymap, key_problems) = Keymap::with_own_keys(&choices.keys);
    model.keymap = keymap;
    problems.extend(
        key_problems.into_iter().map(|(name, p)| format!("{file}: {}{p}", choices::place(&text, &name))),
    );
    match own_formats(&paths.data) {
        Ok(formats) => model.formats = formats,
        Err(why) => problems.push(why),
    }
    let labels_file = paths.data.join(LABELS);
    let (labels, trouble) = read_text(&labels_file);
    let (sheets, label_problems) = label_sheet::read_all(&labels);
    model.label_sheets = sheets;
    let label_problems = label_problems.into_iter().map(|p| p.to_string()).chain(trouble);
    problems.extend(label_problems.map(|p| format!("{}: {p}", labels_file.display())));
    memory::restore(&mut model, &remembered);
    let mut notes = store.take_notes();
    notes.extend(problems);
    if let Some(offer) = store.later().as_ref().and_then(whole_book::offer) {
        // Nothing waits for a disk yet: asking changes the model alone.
        let _ = update(&mut model, offer);
    }
    let book = store.book();
    let is_new = remembered.is_empty() && book.seq() == 0 && book.items().is_empty() && text.is_empty();
    if is_new && !options.demo {
        welcome::open(&mut model);
    }
    if is_throw_away {
        app_demo::as_left(&mut model);
    }
    app_today::begin(&mut model);
    if !notes.is_empty() {
        model.tell(Status::refused(notes.join("; ")));
    }
    model
}

/// The signs that the person's locale can show, by the variables of POSIX: the first that is set counts.
fn signs_of_locale() -> Signs {
    let set = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().find_map(|name| {
        let value = std::env::var_os(name)?.to_string_lossy().to_lowercase();
        (!value.is_empty()).then_some(value)
    });
    // Where none is set nothing is known, and most terminals show all of them.
    let shows_all = set.is_none_or(|name| name.contains("utf-8") || name.contains("utf8"));
    if shows_all { Signs::Unicode } else { Signs::Ascii }
}

/// The built-in formats and the person's own, from the data folder.
fn own_formats(data: &Path) -> Result<Formats, String> {
    let path = data.join(FORMATS);
    match given::read_if_there(&path, SETTINGS) {
        Ok(Some(text)) => Formats::with_user(&text).map_err(|e| format!("{}: {e}", path.display())),
        Ok(None) => Ok(Formats::built_in()),
        Err(why) => Err(format!("{} {why}", path.display())),
    }
}

/// The text of one of the person's own files, empty where there is none; and what is wrong with it.
fn read_text(path: &Path) -> (String, Option<String>) {
    match given::read_if_there(path, SETTINGS) {
        Ok(text) => (text.unwrap_or_default(), None),
        Err(why) => (String::new(), Some(why.to_string())),
    }
}

fn on_screen(model: Model, store: Store, data: PathBuf, on_key: Option<KeyWatch>) -> anyhow::Result<Ended> {
    let remember = move |model: &Model| crate::persist::memory::write(&data, &memory::to_text(model));
    run::bench(BenchStart { model, store, remember: Box::new(remember), today, on_key })
}

fn in_lines(mut model: Model, store: Store, data: &Path) -> anyhow::Result<Ended> {
    let (mut input, mut out) = (std::io::stdin().lock(), std::io::stdout().lock());
    let mut waiting = Waiting::new(store);
    let mut carry_out = |effect: Effect, out: &mut dyn Write| carry_out_in_lines(effect, &mut waiting, out);
    let run = plain::run_plain(&mut model, &mut input, &mut out, &mut carry_out);
    crate::persist::memory::write(data, &memory::to_text(&model));
    let mut say = |words: &str| {
        let _ = writeln!(std::io::stderr(), "trimside: {words}");
    };
    match (waiting.finish(&mut say), run) {
        (Some(lost), _) => Err(anyhow::Error::msg(lost)),
        // Whoever read the facts has gone away, as `head` does.
        (None, Err(error)) if error.kind() != std::io::ErrorKind::BrokenPipe => Err(error.into()),
        (None, _) => Ok(Ended::Left),
    }
}

/// In the plain mode everything is done at once, since there is no screen to keep alive.
fn carry_out_in_lines(effect: Effect, waiting: &mut Waiting, out: &mut dyn Write) -> Vec<Action> {
    match effect {
        Effect::Solve(number, ask) => vec![Action::Solved(number, solve::solve(ask))],
        Effect::Settle(job) => vec![solve::settle(*job)],
        Effect::Plan { number, job, until } => {
            let plan = planning::plan(*job, solve::budget(until), &Cancel::default(), &mut |_, _| {});
            vec![Action::Planned(number, PlanNews::Done(Box::new(plan)))]
        }
        Effect::Save { epoch, entry } => {
            let mut told = Vec::new();
            waiting.add(epoch, *entry);
            waiting.save(&mut |action| told.push(action));
            told
        }
        Effect::Book(order) => {
            let mut told = Vec::new();
            match clock::today() {
                Ok(today) => waiting.book_order(order, today, &mut |action| told.push(action)),
                Err(why) => told.push(Action::Refuse(why.to_string())),
            }
            told
        }
        Effect::Preview(number, ask) => vec![Action::Previewed(number, printer::text(&ask))],
        Effect::Queues => vec![printer::queues()],
        Effect::Print(job) => vec![Action::Printed(printer::write(*job, &mut |_| {}))],
        Effect::Tour => vec![super::tour::begin()],
        Effect::Copy(text) => {
            let end = if text.ends_with('\n') { "" } else { "\n" };
            let _ = write!(out, "{text}{end}");
            Vec::new()
        }
        Effect::HandOn(file) => vec![files::carry_out(FileOrder::WriteCard(file))],
        Effect::Names(typed) => vec![files::carry_out(FileOrder::Names(typed))],
        Effect::TakeIn(name, unit) => vec![files::carry_out(FileOrder::ReadCard(name, unit))],
        Effect::ReadList { path, unit, currency, what } => {
            vec![files::carry_out(FileOrder::ReadList { path, unit, currency, what })]
        }
        Effect::WriteFile { path, content } => {
            vec![files::carry_out(FileOrder::write(path, &content, waiting.book()))]
        }
        Effect::StopPlan | Effect::Remember | Effect::Suspend | Effect::Quit => Vec::new(),
    }
}
