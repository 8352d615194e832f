//! A list to choose from: the keys that it takes, and what each kind of row does when it is taken.

use super::anywhere;
use super::carry::{carry_or_tell, show_pane};
use super::commands::When;
use super::effect::Effect;
use super::input::field::TextField;
use super::input::list::{Move, list_move};
use super::keys::{Key, KeyCode};
use super::model::Model;
use super::narrow::narrow;
use super::overlay::{Help, Overlay, Picker, Target};
use super::pane::Pane;
use super::panes::{mats, palette, stock, yields};
use super::places;
use super::reply::Reply;
use super::state::yields::YieldChoice;
use super::status::Status;
use super::undo;
use crate::domain::book::Book;
use crate::domain::edit::Edit;
use crate::domain::screen::Start;
use crate::domain::stock::{ItemId, ProjectId};

/// Gives a key to the list.
pub fn key(model: &mut Model, mut picker: Picker, key: Key) -> Vec<Effect> {
    let shown = picker.shown.len();
    match key.code {
        KeyCode::Esc => {
            model.screen.theme = picker.before.unwrap_or(model.screen.theme);
            undo::forget_named(model);
            return Vec::new();
        }
        KeyCode::Enter => {
            return match picker.picked().cloned() {
                // A row that only informs is read, not taken.
                Some(row) if !row.is_live && matches!(row.target, Target::Palette(_)) => {
                    model.overlays.push(Overlay::Picker(picker));
                    Vec::new()
                }
                Some(row) => choose(model, row.target),
                None => Vec::new(),
            };
        }
        KeyCode::Tab => picker.cursor.go(Move::By(1), shown),
        KeyCode::BackTab => picker.cursor.go(Move::By(-1), shown),
        // Letters belong to the filter, and Home and End to its text: only arrows and pages move the pick.
        KeyCode::Up | KeyCode::Down | KeyCode::PageUp | KeyCode::PageDown => {
            if let Some(step) = list_move(key) {
                picker.cursor.go(step, shown);
            }
        }
        _ => {
            if picker.filter.key(key) {
                narrow(&mut picker);
            }
        }
    }
    model.overlays.push(Overlay::Picker(picker));
    preview_theme(model);
    Vec::new()
}

/// While a theme is chosen, the one under the cursor is the one on screen.
pub fn preview_theme(model: &mut Model) {
    let Some(Overlay::Picker(p)) = model.overlays.last() else { return };
    if p.before.is_none() {
        return;
    }
    if let Some(Target::Theme(theme)) = p.picked().map(|r| &r.target) {
        model.screen.theme = *theme;
    }
}

fn choose(model: &mut Model, target: Target) -> Vec<Effect> {
    if let Target::Yield(choice) = &target {
        if matches!(choice, YieldChoice::Spoiled(_) | YieldChoice::SpoiledAfter(_)) {
            undo::keep_run(model, false);
        }
        show_pane(model, Pane::Yield);
    }
    let (panes, ctx) = model.panes();
    let replies = match target {
        Target::Yield(choice) => Ok(yields::take_choice(panes.yields, &ctx, choice)),
        Target::Mats(pick) => mats::pick::take_pick(panes.mats, &ctx, pick),
        Target::Palette(choice) => palette::prompts::choose(panes.palette, &ctx, choice),
        Target::Stock(choice) => stock::choose(panes.stock, &ctx, &choice),
        Target::Project(id) => Ok(activate(&mut model.mats.card, &model.book, id)),
        Target::Command(id) => return anywhere::run_anywhere(model, id),
        Target::Swatch(id) => {
            model.palette.show(id, &model.book);
            return places::go(model, Pane::Palette);
        }
        Target::Item(id) => return show_item(model, id),
        Target::Topic(title) => {
            let help = Help { filter: TextField::with(&title), craft: true, ..Help::default() };
            model.overlays.push(Overlay::Help(help));
            return Vec::new();
        }
        Target::List(tab) => {
            let effects = places::go(model, Pane::Stock);
            let (panes, ctx) = model.panes();
            let replies = stock::open_tab(panes.stock, &ctx, tab);
            return [effects, carry_or_tell(model, Ok(replies))].concat();
        }
        Target::Theme(_)
        | Target::PrintPaper(_)
        | Target::Signs(_)
        | Target::Start(_)
        | Target::Country(_) => {
            return set_screen(model, &target);
        }
    };
    carry_or_tell(model, replies)
}

fn activate(card: &mut usize, book: &Book, id: Option<ProjectId>) -> Vec<Reply> {
    let was = book.active();
    if was == id {
        return Vec::new();
    }
    *card = 0;
    vec![Reply::Edit(Edit::Activate { was, now: id })]
}

fn show_item(model: &mut Model, id: ItemId) -> Vec<Effect> {
    // A list from outside is not left unseen.
    match model.stock.preview {
        Some(_) => model.tell(Status::refused(When::NoPreview.why_not())),
        None => model.stock.show(id, &model.book, model.today),
    }
    places::go(model, Pane::Stock)
}

/// What a row says of the screen or of the pages, remembered from now on.
fn set_screen(model: &mut Model, target: &Target) -> Vec<Effect> {
    let words = match target {
        Target::Theme(theme) => {
            model.screen.theme = *theme;
            format!("Theme: {}", theme.name())
        }
        Target::PrintPaper(paper) => {
            model.screen.paper = *paper;
            format!("Pages are printed on {}.", paper.name())
        }
        Target::Country(country) => {
            model.screen.country = Some(*country);
            format!(
                "Cards are mailed in {}; <post-countries> in Mats shows the other countries too.",
                country.name()
            )
        }
        Target::Signs(signs) => {
            model.screen.signs = *signs;
            "The signs are changed.".to_owned()
        }
        Target::Start(start) => {
            model.screen.start = *start;
            match start {
                Start::Today => "It opens with <today> once there is work.".to_owned(),
                Start::Pane => {
                    "It opens with the pane that was in view last; <today> shows the day.".to_owned()
                }
            }
        }
        _ => return Vec::new(),
    };
    model.tell(Status::note(words));
    vec![Effect::Remember]
}
