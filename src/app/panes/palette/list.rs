//! Bringing a list of colours in: read by a worker, looked at row by row, taken in as one step.

use crate::app::ctx::Ctx;
use crate::app::effect::Ask;
use crate::app::overlay::{PickRow, Purpose, Target};
use crate::app::reply::Replies;
use crate::app::reply::Reply;
use crate::app::state::palette::{PaletteChoice, PalettePane, PaletteText};
use crate::app::status::Status;
use crate::domain::colour::swatch::Swatch as Colour;
use crate::domain::library::import::{RowFate, SwatchImport};

/// The words before the path of a list.
pub const ASKED: &str = "Colors from CSV (columns name, family, hex or L,a,b), path:";

/// Asks for a list of colours to be read.
pub fn ask_list(path: &str) -> Vec<Reply> {
    let note = Status::note(format!("Reading {path} ..."));
    vec![Reply::Tell(note), Reply::Ask(Ask::Colours(path.to_owned()))]
}

/// Shows what a list would do, before it does it; a list that cannot be read opens the prompt again.
pub fn preview(
    pane: &mut PalettePane,
    ctx: &Ctx,
    path: &str,
    list: Result<Vec<Colour>, String>,
) -> Vec<Reply> {
    let list = match list {
        Ok(list) => list,
        Err(why) => {
            return vec![Reply::prompt_again(Purpose::Palette(PaletteText::List), ASKED, path, why)];
        }
    };
    let import = SwatchImport::of(ctx.book, &list);
    let [new, changed, same] = import.counts();
    let target = || Target::Palette(PaletteChoice::Import);
    let detail = format!("{new} new, {changed} changed, {same} as they are; u takes it back");
    let mut rows =
        vec![PickRow { is_live: new + changed > 0, ..PickRow::new("bring them in", detail, target()) }];
    rows.extend(import.rows.iter().map(|r| {
        let detail = match &r.fate {
            RowFate::New => format!("{}, new", r.hex),
            RowFate::Changes(words) => format!("{}, changes: {}", r.hex, words.join(", ")),
            RowFate::Same => format!("{}, stays as it is", r.hex),
        };
        PickRow { is_live: false, ..PickRow::new(&r.name, detail, target()) }
    }));
    pane.import = Some(import);
    vec![Reply::Hush, Reply::pick("What this list would do", rows)]
}

/// Brings the list in whose preview was taken.
///
/// # Errors
/// The sentence that refuses it.
pub fn bring_in(pane: &mut PalettePane) -> Replies {
    let edit = pane.import.take().and_then(|i| i.edit());
    Ok(vec![Reply::Edit(edit.ok_or("the library has all of this list already")?)])
}
