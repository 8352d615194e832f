//! One thing happened: the model changes, and what the outside has to do comes back as effects. No I/O in here.

use super::action::{Action, Solved};
use super::carry::carry_or_tell;
use super::commands::{CommandId, Context, command};
use super::effect::Effect;
use super::finder;
use super::help;
use super::input::list::Cursor;
use super::keys::{Key, KeyCode};
use super::model::Model;
use super::mouse;
use super::overlay::{Confirm, Help, Overlay};
use super::pane::Pane;
use super::panes::{bench, mats, palette, plan, stock, yields};
use super::picking;
use super::places;
use super::printing;
use super::prompt;
use super::resolve;
use super::settling;
use super::state::photo::PhotoFound;
use super::status::{Saving, Status};
use super::tour;
use super::undo;
use super::welcome;
use crate::app::state::cutting::PlanNews;
use crate::domain::edit::Edit;
use crate::domain::history::Wish;

/// Takes one action. Afterwards what a pane derives by a worker is asked for anew, where it is out of date.
pub fn update(model: &mut Model, action: Action) -> Vec<Effect> {
    if tour::is_for_kept(model, &action)
        && let Some(tour) = &mut model.tour
    {
        return take(&mut tour.kept, action);
    }
    let (was, trimmer, book) = (places::here(model), model.yields.trimmer, (model.epoch, model.book.seq()));
    let goes_back = model.trail.len();
    let before = undo::before(model, &action);
    let mut effects = take(model, action);
    if book != (model.epoch, model.book.seq()) {
        effects.extend(plan::renew(model));
    }
    effects.extend(mats::weigh::follow(model));
    effects.extend(follow_trios(model));
    stock::look(model);
    effects.extend(settling::follow(model));
    // Undo, another window or another pane may have changed what the trimmer can do.
    if model.yields.trimmer != trimmer {
        effects.extend(yields::ask(model));
    }
    if places::here(model) != was && model.trail.len() >= goes_back {
        places::left(model, was);
    }
    if undo::settle(model, &before) && !effects.iter().any(|e| matches!(e, Effect::Remember)) {
        effects.push(Effect::Remember);
    }
    tour::let_out(model, effects)
}

/// Asks for what the views in sight need, when the bench is opened as it was left.
pub fn resume(model: &mut Model) -> Vec<Effect> {
    let mut effects = yields::resume(model);
    effects.extend(mats::weigh::follow(model));
    effects.extend(follow_trios(model));
    stock::look(model);
    effects.extend(settling::follow(model));
    effects
}

fn take(model: &mut Model, action: Action) -> Vec<Effect> {
    match action {
        Action::Key(k) => key(model, k),
        Action::Unseen(k) => unseen_key(model, k),
        Action::Paste(text) => paste(model, &text),
        Action::Run(id) => run(model, id),
        Action::Click(spot) => mouse::click(model, spot),
        Action::Wheel(rows, list) => mouse::wheel(model, rows, list),
        Action::Solved(number, solved) if mats::weigh::solved(model, number, &solved) => Vec::new(),
        Action::Solved(number, solved) => answered(model, number, solved),
        Action::Planned(number, news) => planned(model, number, news),
        Action::Settled(done) => settling::settled(model, done.0, done.1),
        Action::Staged(number, words, done, of) => {
            palette::photo::staged(&mut model.palette, number, (words, done, of));
            Vec::new()
        }
        Action::Saved(n) => {
            model.saving = match model.saving {
                Saving::Pending(m) if m > n => Saving::Pending(m - n),
                _ => Saving::Saved,
            };
            let mut effects = leave_if_asked(model);
            if model.is_forgetful {
                // There is room again.
                effects.insert(0, Effect::Remember);
            }
            effects
        }
        Action::SaveFailed(why) => {
            // Who waits for the last save must ask once more; who was told already may leave between two tries.
            model.is_leaving &= matches!(model.saving, Saving::Failed(_));
            model.saving = Saving::Failed(why);
            Vec::new()
        }
        Action::Followed(fresh, refused) => {
            undo::follow(model, *fresh);
            model.follow_book();
            model.tell(match refused.last() {
                Some(why) => Status::refused(format!("Not done, another window was faster: {why}")),
                None => Status::note("Another window changed the book: this is how it stands now."),
            });
            Vec::new()
        }
        Action::Handed(handed) => mats::hand::read(model, &handed),
        Action::FileThere(file) => {
            mats::hand::is_there(model, *file);
            Vec::new()
        }
        Action::WriteOver(file) => vec![Effect::HandOn(file)],
        Action::LogBench(to) => {
            undo::keep_run(model, false);
            bench::log(model, to)
        }
        Action::ListRead(list) => stock::list::read(model, *list),
        Action::CloseClass(id, how) => stock::classes::close(model, id, how),
        Action::Previewed(number, pages) => {
            printing::previewed(model, number, pages);
            Vec::new()
        }
        Action::Printed(news) => printing::told(model, news),
        Action::Print(job) => printing::start(model, *job),
        Action::UndoTo(id) => undo::list::undo_to(model, id),
        Action::Tour(fresh) => tour::begin(model, *fresh),
        Action::Ground(is_light) => {
            model.screen.ground = Some(is_light);
            Vec::new()
        }
        Action::Columns(columns) => {
            model.palette.columns = columns;
            Vec::new()
        }
        Action::Tell(text) => {
            model.tell(Status::note(text));
            Vec::new()
        }
        Action::Refuse(why) => {
            model.tell(Status::refused(why));
            Vec::new()
        }
    }
}

/// An answer goes to the pane that asked.
fn answered(model: &mut Model, number: u64, solved: Solved) -> Vec<Effect> {
    match solved {
        Solved::Trios(ask, trios) => {
            let (pane, ctx) = model.palette_with();
            palette::trios::solved(pane, &ctx, number, &ask, &trios);
        }
        Solved::Photo(found) => return read_photo(model, number, *found),
        Solved::Colours(path, list) => {
            let (pane, ctx) = model.palette_with();
            let replies = palette::list::preview(pane, &ctx, &path, list);
            return carry_or_tell(model, Ok(replies));
        }
        Solved::Failed(why) if model.palette.trios_asked == Some(number) => {
            model.palette.trios_asked = None;
            model.tell(Status::refused(why));
        }
        Solved::Failed(why) if model.palette.photo.as_ref().is_some_and(|v| v.waiting == Some(number)) => {
            return read_photo(model, number, Err(why));
        }
        other => return yields::solved(model, number, other),
    }
    Vec::new()
}

fn read_photo(model: &mut Model, number: u64, found: Result<PhotoFound, String>) -> Vec<Effect> {
    let replies = palette::photo::solved(&mut model.palette, number, found);
    carry_or_tell(model, Ok(replies))
}

/// Asks for trios anew where Palette is in view and its list is out of date.
fn follow_trios(model: &mut Model) -> Vec<Effect> {
    if model.pane != Pane::Palette {
        return Vec::new();
    }
    let (pane, ctx) = model.palette_with();
    let replies = palette::trios::follow_up(pane, &ctx);
    carry_or_tell(model, Ok(replies))
}

/// News of a plan.
fn planned(model: &mut Model, number: u64, news: PlanNews) -> Vec<Effect> {
    plan::news(model, number, news)
}

/// A key, for the layer on top or for the pane.
pub fn key(model: &mut Model, key: Key) -> Vec<Effect> {
    // These two always work, whatever lies over the pane.
    if key == Key::ctrl('c') {
        return run(model, CommandId::Quit);
    }
    if key == Key::ctrl('z') {
        return vec![Effect::Suspend];
    }
    model.status = None;
    let Some(top) = model.overlays.pop() else { return pane_key(model, key) };
    match top {
        Overlay::Prompt(p) => prompt::key(model, p, key),
        Overlay::Picker(p) => picking::key(model, p, key),
        Overlay::Help(h) => help::key(model, h, key),
        Overlay::Print(desk) => printing::key(model, desk, key),
        Overlay::History(cursor) => undo::list::key(model, cursor, key),
        Overlay::Welcome(welcome) => welcome::key(model, welcome, key),
        Overlay::Tour => tour_key(model, key),
        Overlay::Confirm(c) => confirm_key(model, c, key),
    }
}

/// A key in a window too small to show what it does: it leaves or stops for the shell, or does nothing.
fn unseen_key(model: &mut Model, key: Key) -> Vec<Effect> {
    let leaves = key == Key::ctrl('c') || key == Key::plain(KeyCode::Char('q'));
    match key {
        _ if leaves => run(model, CommandId::Quit),
        _ if key == Key::ctrl('z') => vec![Effect::Suspend],
        _ => Vec::new(),
    }
}

/// A key for the pane: a command of its own, or one more key of a sequence.
fn pane_key(model: &mut Model, key: Key) -> Vec<Effect> {
    if !model.pending.is_empty() && key.code == KeyCode::Esc {
        model.pending.clear();
        return Vec::new();
    }
    let contexts = resolve::contexts(model);
    model.pending.push(key);
    if let Some(id) = model.keymap.command_of(&contexts, &model.pending) {
        model.pending.clear();
        return run(model, id);
    }
    if model.keymap.following(&contexts, &model.pending).is_empty() {
        if model.pending.len() > 1 {
            let keys = super::keymap::written(&model.pending);
            model.tell(Status::note(format!("{keys} means nothing here; ? shows every key.")));
        }
        model.pending.clear();
        undo::forget_named(model);
    }
    Vec::new()
}

/// The tour takes a few keys; all others are the pane's.
fn tour_key(model: &mut Model, key: Key) -> Vec<Effect> {
    if let Some(effects) = tour::key(model, key) {
        return effects;
    }
    let effects = pane_key(model, key);
    // What the pane opened lies over the tour's sentence.
    if model.tour.is_some() {
        model.overlays.insert(0, Overlay::Tour);
    }
    effects
}

fn paste(model: &mut Model, text: &str) -> Vec<Effect> {
    match model.overlays.pop() {
        Some(Overlay::Prompt(p)) => return prompt::paste(model, p, text),
        Some(Overlay::Picker(mut p)) => {
            p.filter.paste(text);
            finder::narrow(&mut p);
            model.overlays.push(Overlay::Picker(p));
        }
        Some(Overlay::Help(mut h)) => {
            if h.is_typing {
                h.filter.paste(text);
            }
            model.overlays.push(Overlay::Help(h));
        }
        Some(Overlay::Print(mut desk)) => {
            printing::paste(&mut desk, text);
            model.overlays.push(Overlay::Print(desk));
        }
        Some(Overlay::Welcome(mut w)) => {
            w.field.paste(text);
            model.overlays.push(Overlay::Welcome(w));
        }
        Some(other) => model.overlays.push(other),
        None => model.tell(Status::note("Nothing here takes a paste: open a field first.")),
    }
    Vec::new()
}

/// Runs a command, or says why it cannot run now.
pub fn run(model: &mut Model, id: CommandId) -> Vec<Effect> {
    let row = command(id);
    model.is_leaving &= id == CommandId::Quit;
    if !matches!(
        id,
        CommandId::Undo | CommandId::Redo | CommandId::BenchUndo | CommandId::BenchRedo | CommandId::Finder
    ) {
        undo::forget_named(model);
    }
    if may_change_run(model, id) {
        undo::keep_run(model, matches!(id, CommandId::OpenBench | CommandId::PlanBench));
    }
    if !resolve::holds(model, row.when) {
        model.tell(Status::refused(resolve::why_not(row.when)));
        return Vec::new();
    }
    match row.context {
        Context::Everywhere => everywhere(model, id),
        Context::Yield | Context::Chart => yields::run(model, id),
        Context::Mats | Context::Ruler => mats::run(model, id),
        Context::Palette | Context::Photo => {
            let is_photo = row.context == Context::Photo;
            let (pane, ctx) = model.palette_with();
            let run = if is_photo { palette::photo::run } else { palette::run::run };
            let replies = run(pane, &ctx, id);
            carry_or_tell(model, Ok(replies))
        }
        Context::Stock
        | Context::Shelf
        | Context::ItemForm
        | Context::Bin
        | Context::StockLog
        | Context::Reorder
        | Context::Classes
        | Context::ClassForm
        | Context::Bookings
        | Context::CountDay
        | Context::Preview => stock::run(model, id),
        Context::Plan => plan::run(model, id),
        Context::Bench => at_the_bench(model, id),
    }
}

/// Commands that may change more of the cut list in hand than the step that is ticked.
fn may_change_run(model: &Model, id: CommandId) -> bool {
    use CommandId as Id;
    match id {
        Id::OpenBench | Id::PlanBench | Id::CutLog | Id::PlanLog => true,
        Id::BenchNext => model.yields.run.as_ref().is_some_and(|b| b.done >= b.len()),
        _ => false,
    }
}

fn everywhere(model: &mut Model, id: CommandId) -> Vec<Effect> {
    use CommandId as Id;
    match id {
        Id::PaneYield => return go(model, Pane::Yield),
        Id::PaneMats => return go(model, Pane::Mats),
        Id::PanePalette => return go(model, Pane::Palette),
        Id::PaneStock => return go(model, Pane::Stock),
        Id::NextPane => return go(model, model.pane.step(1)),
        Id::PreviousPane => return go(model, model.pane.step(-1)),
        Id::Undo => return undo::undo(model),
        Id::Redo => return undo::redo(model),
        Id::Back => return places::back(model),
        Id::History => model.overlays.push(Overlay::History(Cursor::default())),
        Id::Print => return printing::open(model),
        Id::Craft => model.overlays.push(Overlay::Help(Help { craft: true, ..Help::default() })),
        Id::Tour => return vec![Effect::Tour],
        Id::Project => picking::open_projects(model),
        Id::Units => {
            model.screen.unit = model.screen.unit.other();
            let name =
                if model.screen.unit == crate::domain::length::Unit::Mm { "millimetres" } else { "inches" };
            model.tell(Status::note(format!("Sizes are read and shown in {name}.")));
            return vec![Effect::Remember];
        }
        Id::Theme => model.overlays.push(Overlay::Picker(finder::themes(&model.screen))),
        Id::Mouse => {
            model.screen.mouse = !model.screen.mouse;
            let word =
                if model.screen.mouse { "on" } else { "off: the terminal's own selection works again" };
            model.tell(Status::note(format!("The mouse is {word}.")));
            return vec![Effect::Remember];
        }
        Id::Copy => {
            let text = super::facts::as_text(model);
            model.tell(Status::note("Copied what this pane shows, as text."));
            return vec![Effect::Copy(text)];
        }
        Id::Finder => model.overlays.push(Overlay::Picker(finder::everything(model))),
        Id::Help => model.overlays.push(Overlay::Help(Help::default())),
        Id::Suspend => return vec![Effect::Suspend],
        Id::Quit => {
            let mut effects = tour::end(model);
            effects.extend(quit(model));
            return effects;
        }
        _ => {}
    }
    Vec::new()
}

fn at_the_bench(model: &mut Model, id: CommandId) -> Vec<Effect> {
    match id {
        CommandId::BenchUndo => undo::undo(model),
        CommandId::BenchRedo => undo::redo(model),
        CommandId::BenchHelp => everywhere(model, CommandId::Help),
        _ => bench::run(model, id),
    }
}

/// Goes to a pane.
pub(super) fn go(model: &mut Model, pane: Pane) -> Vec<Effect> {
    model.pane = pane;
    if pane == Pane::Stock {
        // Days have gone by, or the book was changed from another pane.
        model.stock.arrange(&model.book, model.today);
    }
    if pane == Pane::Yield { yields::ask(model) } else { Vec::new() }
}

/// Leaves at once when everything is on the disk, else as soon as it is; a second time leaves regardless.
fn quit(model: &mut Model) -> Vec<Effect> {
    match &model.saving {
        Saving::Saved => vec![Effect::Quit],
        _ if model.is_leaving => vec![Effect::Quit],
        Saving::Pending(_) => {
            model.is_leaving = true;
            model.tell(Status::note(
                "Saving the last change, then leaving. Press again to leave without waiting.",
            ));
            Vec::new()
        }
        Saving::Failed(_) => {
            model.is_leaving = true;
            model.tell(Status::refused(
                "The last change is not on the disk. Press again to leave without it.",
            ));
            Vec::new()
        }
    }
}

fn leave_if_asked(model: &Model) -> Vec<Effect> {
    if model.is_leaving && model.saving == Saving::Saved { vec![Effect::Quit] } else { Vec::new() }
}

/// Makes an edit now, in the book on screen, and sends it to the disk.
///
/// # Errors
/// The sentence that refuses it; nothing has changed then.
pub fn make(model: &mut Model, edit: Edit) -> Result<Vec<Effect>, String> {
    let wish = Wish::Do(edit);
    let (label, effect) = perform(model, &wish)?;
    let key = model.keymap.keys(CommandId::Undo).first().map(Key::to_string).unwrap_or_default();
    model.tell(Status::done(format!("{}. {key} takes it back.", sentence(&label))));
    Ok(vec![effect])
}

fn sentence(words: &str) -> String {
    let mut chars = words.chars();
    chars.next().map(|c| c.to_uppercase().chain(chars).collect()).unwrap_or_default()
}

/// Changes the book on screen; returns what was done in words, and the effect that saves it.
pub(super) fn perform(model: &mut Model, wish: &Wish) -> Result<(String, Effect), String> {
    if let Some(why) = &model.read_only {
        return Err(why.clone());
    }
    let (entry, applied) =
        model.history.perform(&mut model.book, wish, model.today).map_err(|e| e.to_string())?;
    if matches!(wish, Wish::Do(_)) {
        undo::note_edit(model, entry.seq, &applied.label);
    }
    model.saving = match model.saving {
        Saving::Pending(n) => Saving::Pending(n + 1),
        _ => Saving::Pending(1),
    };
    model.follow_book();
    Ok((applied.label, Effect::Save { epoch: model.epoch, entry: Box::new(entry) }))
}

fn confirm_key(model: &mut Model, confirm: Confirm, key: Key) -> Vec<Effect> {
    match key.code {
        KeyCode::Char('y') => take(model, *confirm.yes),
        KeyCode::Char('n') | KeyCode::Esc | KeyCode::Enter => Vec::new(),
        _ => {
            model.overlays.push(Overlay::Confirm(confirm));
            Vec::new()
        }
    }
}
