//! The guided tour: six steps over the real panes, on the demo's book. While it goes on nothing reaches the disk; the
//! bench as it was is kept aside and comes back, whenever the tour is left.

use super::action::{Action, Fresh};
use super::carry::carry_or_tell;
use super::commands::CommandId;
use super::effect::Effect;
use super::keys::{Key, KeyCode};
use super::model::Model;
use super::model::Tour;
use super::overlay::Overlay;
use super::pane::Pane;
use super::panes::asked;
use super::panes::palette::photo;
use super::reply::Reply;
use super::state::views::YieldView;
use super::status::{Saving, Status};
use crate::app::state::mats::Advice;

/// One step.
#[derive(Clone, Copy, Debug)]
pub struct TourStep {
    /// Where it is.
    pub pane: Pane,
    /// What is to be seen, and which key to try.
    pub words: &'static str,
}

/// The steps.
pub const STEPS: [TourStep; 6] = [
    TourStep {
        pane: Pane::Yield,
        words: "Yield: how many pieces a sheet gives. Upright, turned and mixed stand side by side, the best is marked. \
                Press <piece> and type a size such as 2x3, or <sheet> for another sheet.",
    },
    TourStep {
        pane: Pane::Yield,
        words: "The same pane at the trimmer: <open-bench> leads through the cuts one at a time in figures large enough to read from your worktable; <bench-next> ticks a cut, <bench-leave> comes back here. Keep your fingers out of the blade's path.",
    },
    TourStep {
        pane: Pane::Mats,
        words: "Mats: the card and its layers. A reveal is the border that a layer shows of the one below; press <reveal> to \
                change one and see every size follow. <layer-to-yield> sends a layer's size to Yield.",
    },
    TourStep {
        pane: Pane::Palette,
        words: "Palette: the swatches you own, and trios that go together. Move with the arrows; <identify> names a color \
                and shows the nearest swatches.",
    },
    TourStep {
        pane: Pane::Stock,
        words: "Stock: what you have, what is low, what was used. <use> logs a use, <undo> takes it back; <stock-tab> goes on to the bin, the log and \
                the reorder list.",
    },
    TourStep {
        pane: Pane::Stock,
        words: "Everywhere: <help> shows keys and the craft, <finder> finds anything by name, <print> prints at true size, \
                <back> goes back to where you were. Enter ends the tour; your own book is as you left it.",
    },
];

/// Begins on the demo's book.
pub fn begin(model: &mut Model, fresh: Fresh) -> Vec<Effect> {
    if model.tour.is_some() {
        return Vec::new();
    }
    let mut demo = Model::new(fresh.book, fresh.history, model.today, model.screen);
    demo.is_demo = true;
    demo.keymap = model.keymap.clone();
    demo.asked = model.asked;
    let kept = Box::new(std::mem::replace(model, demo));
    model.tour = Some(Tour { step: 0, kept });
    model.overlays.push(Overlay::Tour);
    show(model)
}

/// Shows the pane of the step.
fn show(model: &mut Model) -> Vec<Effect> {
    let Some(tour) = &model.tour else { return Vec::new() };
    let Some(step) = STEPS.get(tour.step) else { return Vec::new() };
    (model.pane, model.yields.view) = (step.pane, YieldView::Answer);
    let ask = asked::answer(&mut model.yields);
    carry_or_tell(model, Ok(ask.into_iter().collect()))
}

/// Brings the bench back as it was; choices for the screen made meanwhile stay.
pub fn end(model: &mut Model) -> Vec<Effect> {
    let Some(tour) = model.tour.take() else { return Vec::new() };
    let (screen, asked, today) = (model.screen, model.asked, model.today);
    *model = *tour.kept;
    (model.screen, model.asked, model.today) = (screen, asked.max(model.asked), today);
    model.tell(Status::note("The tour is over: this is your own bench again."));
    let mut effects = ask_again(model);
    effects.push(Effect::Remember);
    effects
}

/// Asks anew what still waits for an answer: a question of the tour may have taken its place with the worker.
fn ask_again(model: &mut Model) -> Vec<Effect> {
    let (panes, ctx) = model.panes();
    let mut replies: Vec<Reply> = asked::answer(panes.yields).into_iter().collect();
    if panes.yields.chart_waiting.is_some() {
        replies.extend(asked::chart(panes.yields));
    }
    let palette = panes.palette;
    if let Some(view) = palette.photo.as_ref().filter(|v| v.waiting.is_some()) {
        let what = if view.is_scene { photo::PhotoFor::Scene } else { photo::PhotoFor::Paper(view.white) };
        let path = view.path.clone();
        let (view, under) = (palette.view, palette.under);
        replies.extend(photo::ask(palette, &ctx, &path, what));
        (palette.view, palette.under) = (view, under);
    }
    // These two ask by themselves as soon as their pane is in view.
    palette.wants_trios |= palette.trios_asked.take().is_some();
    if panes.mats.advice.waiting.is_some() {
        panes.mats.advice = Advice::default();
    }
    carry_or_tell(model, Ok(replies))
}

/// A key while the tour's sentence is on top; `None` where it is for the pane.
pub fn key(model: &mut Model, key: Key) -> Option<Vec<Effect>> {
    let at_bench = model.is_at_bench();
    let tour = model.tour.as_mut()?;
    let last = tour.step + 1 == STEPS.len();
    match key.code {
        // The bench view has its own Enter and Esc.
        _ if at_bench => return None,
        KeyCode::Esc => return Some(end(model)),
        KeyCode::Enter if last => return Some(end(model)),
        KeyCode::Enter => tour.step += 1,
        KeyCode::Backspace => tour.step = tour.step.saturating_sub(1),
        _ => return None,
    }
    model.overlays.push(Overlay::Tour);
    Some(show(model))
}

/// News that belong to the bench that is kept aside: from the disk, and answers to what was asked before the tour.
pub fn is_for_kept(model: &Model, action: &Action) -> bool {
    let Some(tour) = &model.tour else { return false };
    match action {
        Action::Saved(_) | Action::SaveFailed(_) | Action::Followed(..) => true,
        Action::Solved(n, _)
        | Action::SoFar(n, _)
        | Action::Planned(n, _)
        | Action::Previewed(n, _)
        | Action::Staged(n, ..) => *n <= tour.kept.asked,
        // Begun before the tour: its bar stands there.
        Action::Printed(_) => tour.kept.work.is_some(),
        _ => false,
    }
}

/// What may go out of a tour: nothing that is saved.
pub fn let_out(model: &mut Model, effects: Vec<Effect>) -> Vec<Effect> {
    if model.tour.is_none() {
        return effects;
    }
    model.saving = Saving::Saved;
    effects.into_iter().filter(|e| !matches!(e, Effect::Save { .. } | Effect::Book(_))).collect()
}

/// True for the commands that leave the program: the tour ends first.
pub const fn ends_with(id: CommandId) -> bool {
    matches!(id, CommandId::Quit)
}
