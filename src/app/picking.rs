//! A list to choose from: the keys that it takes, and what each kind of row does when it is taken.

use super::carry::carry_or_tell;
use super::commands::When;
use super::effect::Effect;
use super::finder;
use super::input::field::Field;
use super::input::list::{Move, list_move};
use super::keys::{Key, KeyCode};
use super::model::Model;
use super::overlay::{Help, Overlay, PickRow, Picker, Target};
use super::pane::Pane;
use super::panes::{bench, mats, palette, plan, stock, yields};
use super::reach;
use super::resolve;
use super::status::Status;
use super::undo;
use super::update;
use crate::domain::edit::Edit;
use crate::domain::sheet::Sheet;

/// Offers the projects.
pub fn open_projects(model: &mut Model) {
    let row = |label: &str, detail: String, id| PickRow::new(label, detail, Target::Project(id));
    let mut rows: Vec<PickRow> = model
        .book
        .projects()
        .iter()
        .map(|(id, p)| {
            let when = p.date.map(|d| format!("{d}, ")).unwrap_or_default();
            row(&p.name, format!("{when}{} cards, {}", p.cards.len(), p.progress.word()), Some(id))
        })
        .collect();
    rows.push(row("no project", "work on loose sizes".to_owned(), None));
    model.overlays.push(Overlay::Picker(Picker::of("Project", rows)));
}

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
            let row = picker.cursor.row(shown).and_then(|n| picker.rows.get(*picker.shown.get(n)?)).cloned();
            return match row {
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
                finder::narrow(&mut picker);
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
    let row = p.cursor.row(p.shown.len()).and_then(|n| p.rows.get(*p.shown.get(n)?));
    if let Some(Target::Theme(theme)) = row.map(|r| &r.target) {
        model.screen.theme = *theme;
    }
}

fn choose(model: &mut Model, target: Target) -> Vec<Effect> {
    match target {
        Target::Command(id) => reach::run(model, id),
        Target::Format(name) => match model.formats.find(&name) {
            Some(f) => {
                let sheet = Sheet::new(f.name.clone(), f.size);
                model.pane = Pane::Yield;
                yields::take_sheet(model, yields::SheetChoice { sheet, paper: None })
            }
            None => Vec::new(),
        },
        Target::Paper(id) => match yields::sheet_of_item(model, id) {
            Some(choice) => yields::take_sheet(model, choice),
            None => Vec::new(),
        },
        Target::Project(id) => {
            let was = model.book.active();
            if was == id {
                return Vec::new();
            }
            model.mats.card = 0;
            update::make(model, Edit::Activate { was, now: id }).unwrap_or_else(|why| {
                model.tell(Status::refused(why));
                Vec::new()
            })
        }
        Target::Mats(pick) => mats::pick::take(model, pick),
        Target::Theme(theme) => {
            model.screen.theme = theme;
            model.tell(Status::note(format!("Theme: {}", theme.name())));
            vec![Effect::Remember]
        }
        Target::PrintPaper(paper) => {
            model.screen.paper = paper;
            model.tell(Status::note(format!("Pages are printed on {}.", paper.name())));
            vec![Effect::Remember]
        }
        Target::Signs(signs) => {
            model.screen.signs = signs;
            model.tell(Status::note("The signs are changed."));
            vec![Effect::Remember]
        }
        Target::Topic(title) => {
            let help = Help { filter: Field::with(&title), craft: true, ..Help::default() };
            model.overlays.push(Overlay::Help(help));
            Vec::new()
        }
        Target::Spoil(what) => {
            undo::keep_run(model, false);
            bench::spoil::spoiled(model, what)
        }
        Target::PlanPart(part) => plan::pieces::ask(model, part),
        Target::OffcutOf(_)
        | Target::Pack(_)
        | Target::PackFields(_)
        | Target::PackField(..)
        | Target::ClassLike(_)
        | Target::CloseClass(..) => stock::choose(model, &target),
        Target::Palette(choice) => {
            let (pane, ctx) = model.palette_with();
            let replies = palette::prompts::choose(pane, &ctx, choice);
            carry_or_tell(model, replies)
        }
        Target::Swatch(id) => {
            model.palette.show(id, &model.book);
            update::go(model, Pane::Palette)
        }
        Target::Item(id) => {
            // A list from outside is not left unseen.
            match model.stock.preview {
                Some(_) => model.tell(Status::refused(resolve::why_not(When::NoPreview))),
                None => model.stock.show(id, &model.book, model.today),
            }
            update::go(model, Pane::Stock)
        }
    }
}
