//! One thing happened: the model changes, and what the outside has to do comes back as effects. No I/O in here.

use super::action::{Action, Solved};
use super::carry::carry_or_tell;
use super::completion;
use super::ctx::Ctx;
use super::effect::Effect;
use super::keying::{self, Then};
use super::model::{Model, Panes};
use super::mouse;
use super::pane::Pane;
use super::panes;
use super::panes::{asked, bench, further, mats, palette, plan, stock, yields};
use super::places;
use super::printing;
use super::reply::Reply;
use super::run;
use super::settling;
use super::state::beside;
use super::status::{Saving, Status};
use super::today;
use super::tour;
use super::undo;
use super::whole_book;

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
    model.book.show_in(model.screen.unit);
    if book != (model.epoch, model.book.seq()) {
        effects.extend(in_panes(model, |panes, ctx| plan::renew(panes.yields, ctx).into_iter().collect()));
    }
    effects.extend(follow(model));
    // Undo, another window or another pane may have changed what the trimmer can do.
    if model.yields.trimmer != trimmer {
        effects.extend(in_panes(model, |panes, _| asked::answer(panes.yields).into_iter().collect()));
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
    model.book.show_in(model.screen.unit);
    let mut effects = in_panes(model, |panes, ctx| yields::resume(panes.yields, ctx));
    effects.extend(follow(model));
    effects
}

/// What the pane in view derives by a worker, and the look at a class, brought up to date.
fn follow(model: &mut Model) -> Vec<Effect> {
    let pane = model.pane;
    let is_wide = model.room >= beside::FROM && !model.day.is_open;
    let mut effects = in_panes(model, |panes, ctx| {
        stock::look(panes.stock, ctx);
        match pane {
            Pane::Mats => mats::weigh::follow(panes.mats, ctx, &panes.yields.sheet.sheet),
            Pane::Palette => palette::trios::follow_up(panes.palette, ctx),
            Pane::Yield if is_wide => {
                let laid = panes::laid::follow(panes.yields, ctx);
                laid.into_iter().chain(panes::beside::follow(panes.yields, ctx)).collect()
            }
            Pane::Stock => {
                let trimmer = panes.yields.trimmer;
                let gives = is_wide.then(|| stock::gives::follow(panes.stock, ctx, &trimmer)).flatten();
                stock::ways::follow(panes.stock, ctx).into_iter().chain(gives).collect()
            }
            Pane::Yield => Vec::new(),
        }
    });
    effects.extend(settling::follow(model));
    model.day.stays &= !model.overlays.is_empty();
    if model.day.is_open {
        today::look(model, false);
    }
    effects
}

/// Has panes do something with what they may read, and carries out what they reply.
fn in_panes(model: &mut Model, act: impl FnOnce(Panes, &Ctx) -> Vec<Reply>) -> Vec<Effect> {
    let (panes, ctx) = model.panes();
    let replies = act(panes, &ctx);
    carry_or_tell(model, Ok(replies))
}

fn take(model: &mut Model, action: Action) -> Vec<Effect> {
    match action {
        Action::Key(k) => {
            let then = keying::key(model, k);
            go_on(model, then)
        }
        Action::Unseen(k) => keying::unseen(model, k),
        Action::Paste(text) => keying::paste(model, &text),
        Action::Run(id) => run::run_command(model, id),
        Action::Click(spot) => {
            let then = mouse::click(model, spot);
            let mut effects = go_on(model, then);
            // What came of the click is said first; a later one has room for this.
            if model.status.is_none() {
                effects.extend(mouse::tell_of_shift(model));
            }
            effects
        }
        Action::Wheel(rows, list) => mouse::wheel(model, rows, list),
        Action::Dragged => mouse::tell_of_shift(model),
        Action::Solved(number, solved) => answered(model, number, solved),
        Action::SoFar(number, found) => {
            further::so_far(&mut model.yields, number, *found);
            Vec::new()
        }
        Action::Planned(number, news) => {
            in_panes(model, |p, ctx| plan::news(p.yields, ctx, number, news).into_iter().collect())
        }
        Action::Settled(done) => settling::settled(model, done.0, done.1),
        Action::Staged(number, words, done, of) => {
            palette::photo::staged(&mut model.palette, number, (words, done, of));
            Vec::new()
        }
        Action::Saved(n) => saved(model, n),
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
                None => Status::note(match model.history.done().next_back() {
                    Some(last) => format!("Changed by another window or a command: {}.", last.label),
                    None => "Another window or a command changed the book.".to_owned(),
                }),
            });
            Vec::new()
        }
        Action::Handed(handed) => in_panes(model, |_, ctx| mats::hand::read(ctx.book, &handed)),
        Action::AskBook(question, order) => {
            model.overlays.push(whole_book::question(question, order));
            Vec::new()
        }
        Action::Book(order) => vec![Effect::Book(order)],
        Action::FileThere(file) => in_panes(model, |_, _| vec![mats::hand::is_there(*file)]),
        Action::WriteOver(file) => vec![Effect::HandOn(file)],
        Action::LogBench(to) => {
            undo::keep_run(model, false);
            in_panes(model, |p, ctx| bench::log(p.yields, ctx, to))
        }
        Action::CutInstead(run) => {
            undo::keep_run(model, true);
            in_panes(model, |p, _| vec![bench::cut_instead(p.yields, *run)])
        }
        Action::ListRead(list) => in_panes(model, |p, ctx| {
            stock::list::read(p.stock, ctx, *list);
            Vec::new()
        }),
        Action::Previewed(number, pages) => {
            printing::previewed(model, number, pages);
            Vec::new()
        }
        Action::Queues(queues) => {
            printing::queues(model, queues.as_ref());
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
        Action::Room(columns) => {
            model.room = columns;
            Vec::new()
        }
        Action::Names(text, names) => {
            completion::files(model, &text, names);
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

fn go_on(model: &mut Model, then: Then) -> Vec<Effect> {
    match then {
        Then::Done(effects) => effects,
        Then::Act(action) => take(model, *action),
    }
}

/// So many edits are on the disk.
fn saved(model: &mut Model, n: usize) -> Vec<Effect> {
    model.saving = match model.saving {
        Saving::Pending(m) if m > n => Saving::Pending(m - n),
        _ => Saving::Saved,
    };
    // There is room again for what could not be remembered.
    let remember = model.is_forgetful.then_some(Effect::Remember);
    let leave = (model.is_leaving && model.saving == Saving::Saved).then_some(Effect::Quit);
    remember.into_iter().chain(leave).collect()
}

/// An answer goes to the pane that asked.
fn answered(model: &mut Model, number: u64, solved: Solved) -> Vec<Effect> {
    let has_room = model.overlays.is_empty() && model.pane == Pane::Stock && !model.day.is_open;
    in_panes(model, |panes, ctx| {
        if mats::weigh::solved(panes.mats, number, &solved) {
            return Vec::new();
        }
        let palette = panes.palette;
        match solved {
            Solved::Trios(ask, trios) => {
                palette::trios::solved(palette, ctx, number, &ask, &trios);
                Vec::new()
            }
            Solved::Photo(found) => palette::photo::solved(palette, number, *found),
            Solved::Colours(path, list) => palette::list::preview(palette, ctx, &path, list),
            Solved::Ways(lines) => {
                stock::ways::solved(panes.stock, ctx, (number, has_room), lines).into_iter().collect()
            }
            Solved::Gives(found) => {
                stock::gives::solved(panes.stock, number, found);
                Vec::new()
            }
            Solved::Failed(why) if panes.stock.ways.waiting == Some(number) => {
                (panes.stock.ways.waiting, panes.stock.ways.open) = (None, None);
                vec![Reply::refuse(why)]
            }
            Solved::Failed(why) if palette.trios_asked == Some(number) => {
                palette.trios_asked = None;
                vec![Reply::refuse(why)]
            }
            Solved::Failed(why) if palette.photo.as_ref().is_some_and(|v| v.waiting == Some(number)) => {
                palette::photo::solved(palette, number, Err(why))
            }
            other => yields::solved(panes.yields, number, other).into_iter().collect(),
        }
    })
}
