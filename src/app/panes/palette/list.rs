//! Bringing a list of colours in: read by a worker, looked at row by row, taken in as one step.

use super::prompts::{Choice, Typed};
use crate::app::effect::{Ask, Effect};
use crate::app::finder;
use crate::app::model::Model;
use crate::app::overlay::{Echo, Overlay, PickRow, Purpose, Target};
use crate::app::prompt;
use crate::app::status::Status;
use crate::app::update;
use crate::domain::colour::swatch::Swatch as Colour;
use crate::domain::library::import::{Fate, Import};

/// Asks for a list of colours to be read.
pub fn ask_list(model: &mut Model, path: &str) -> Vec<Effect> {
    let number = model.next_ask();
    model.tell(Status::note(format!("Reading {path} ...")));
    vec![Effect::Solve(number, Ask::Colours(path.to_owned()))]
}

/// Shows what a list would do, before it does it; a list that cannot be read opens the prompt again.
pub fn preview(model: &mut Model, path: &str, list: Result<Vec<Colour>, String>) {
    let list = match list {
        Ok(list) => list,
        Err(why) => {
            open_list(model, path);
            if let Some(Overlay::Prompt(p)) = model.overlays.last_mut() {
                p.echo = Echo::Refused(why);
            }
            return;
        }
    };
    let import = Import::of(&model.book, &list);
    let [new, changed, same] = import.counts();
    let mut rows = vec![PickRow {
        label: "bring them in".to_owned(),
        detail: format!("{new} new, {changed} changed, {same} as they are; u takes it back"),
        target: Target::Palette(Choice::Import),
        is_live: new + changed > 0,
    }];
    rows.extend(import.rows.iter().map(|r| PickRow {
        label: r.name.clone(),
        detail: match &r.fate {
            Fate::New => format!("{}, new", r.hex),
            Fate::Changes(words) => format!("{}, changes: {}", r.hex, words.join(", ")),
            Fate::Same => format!("{}, stays as it is", r.hex),
        },
        target: Target::Palette(Choice::Import),
        is_live: false,
    }));
    model.palette.import = Some(import);
    model.status = None;
    model.overlays.push(Overlay::Picker(finder::picker("What this list would do", rows)));
}

/// Opens the prompt for a list.
pub fn open_list(model: &mut Model, path: &str) {
    let label = "Colours from CSV (columns name, family, hex or L,a,b), path:";
    prompt::open(model, Purpose::Palette(Typed::List), label, path);
}

/// Brings the list in whose preview was taken.
///
/// # Errors
/// The sentence that refuses it.
pub fn bring_in(model: &mut Model) -> Result<Vec<Effect>, String> {
    let edit = model.palette.import.take().and_then(|i| i.edit());
    update::make(model, edit.ok_or("the list says nothing that the library does not say already")?)
}
