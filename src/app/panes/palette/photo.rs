//! A photo or scan of a paper: its colours with the swatches nearest to each, and what becomes of them.

use super::trios;
use crate::app::commands::CommandId;
use crate::app::ctx::Ctx;
use crate::app::effect::Ask;
use crate::app::input::list::{Cursor, Move, PAGE};
use crate::app::overlay::{PickRow, Purpose, Target};
use crate::app::reply::Replies;
use crate::app::reply::Reply;
use crate::app::state::palette::{PaletteChoice, PalettePane, PaletteText};
use crate::app::state::photo::{
    FIRST_STAGE, PhotoAsk, PhotoFound, PhotoRow, PhotoShown, PhotoStage, PhotoView,
};
use crate::app::state::trio::Listed;
use crate::domain::colour::nearest::Match;
use crate::domain::colour::photo::FoundColour;
use crate::domain::colour::photo::white::WhiteHint;
use crate::domain::colour::trios::Trio;
use crate::domain::edit::{Edit, Row};
use crate::domain::library::base::on_hand;
use crate::domain::library::from_picture::Papered;
use crate::domain::library::papers::{self, PaperSide};
use crate::domain::library::taste;
use crate::domain::stock::{Item, ItemId, Kind, SwatchId};

/// The words before the path of a picture.
pub const ASKED: &str = "Photo or scan on white card (path of a PNG or JPEG):";

/// Takes news of a picture being read.
pub fn staged(pane: &mut PalettePane, number: u64, stage: PhotoStage) {
    if let Some(view) = pane.photo.as_mut().filter(|v| v.waiting == Some(number)) {
        view.stage = stage;
    }
}

/// The words before the path of a picture of anything.
pub const SCENE_ASKED: &str = "Picture of anything, for five colors (path of a PNG or JPEG):";

/// What a picture is read for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PhotoFor {
    /// The colours of a paper, with white there.
    Paper(WhiteHint),
    /// The five colours of anything.
    Scene,
}

/// Asks for a picture to be read, and opens its view.
pub fn ask(pane: &mut PalettePane, ctx: &Ctx, path: &str, what: PhotoFor) -> Vec<Reply> {
    let path = path.to_owned();
    let (white, is_scene) = match what {
        PhotoFor::Paper(white) => (white, false),
        PhotoFor::Scene => (WhiteHint::AsIs, true),
    };
    pane.photo = Some(PhotoView {
        path: path.clone(),
        white,
        waiting: None,
        stage: FIRST_STAGE,
        source: String::new(),
        notes: Vec::new(),
        is_scene,
        trios: Vec::new(),
        trio: Cursor::default(),
        rows: Vec::new(),
        cursor: Cursor::default(),
        small: None,
    });
    pane.look_at_photo(true);
    let (ids, swatches): (Vec<SwatchId>, _) = pane.all.iter().map(|(id, s)| (*id, s.clone())).unzip();
    let held = if is_scene { ids.iter().map(|id| on_hand(ctx.book, *id)).collect() } else { Vec::new() };
    let counts = is_scene && pane.own_choices;
    let habits = counts.then(|| taste::habits(ctx.book));
    let dismissed = if counts { taste::dismissed_places(ctx.book, &ids) } else { Vec::new() };
    let ask = PhotoAsk { number: 0, path, white, is_scene, held, habits, dismissed, swatches, ids };
    vec![Reply::Ask(Ask::Photo(Box::new(ask)))]
}

/// Takes the worker's answer. A picture that cannot be read opens the prompt again, with the path as it was typed.
pub fn solved(pane: &mut PalettePane, number: u64, found: Result<PhotoFound, String>) -> Vec<Reply> {
    let Some(view) = pane.photo.as_mut().filter(|v| v.waiting == Some(number)) else { return Vec::new() };
    view.waiting = None;
    match found {
        Ok(found) => {
            let names: Vec<String> = found
                .ids
                .iter()
                .map(|id| pane.all.get(id).map(|s| s.name.clone()).unwrap_or_default())
                .collect();
            show(view, &found, &names);
            Vec::new()
        }
        Err(why) => {
            let (text, asked) =
                if view.is_scene { (PaletteText::Scene, SCENE_ASKED) } else { (PaletteText::Photo, ASKED) };
            let again = Reply::prompt_again(Purpose::Palette(text), asked, &view.path, why);
            close(pane);
            vec![again]
        }
    }
}

fn close(pane: &mut PalettePane) {
    pane.photo = None;
    pane.view = pane.beside();
}

/// Shows what was found; names of the library place by place.
fn show(view: &mut PhotoView, found: &PhotoFound, names: &[String]) {
    if found.profile_passed_over {
        view.notes.push("This picture's color profile cannot be read here; it is taken as sRGB.".to_owned());
    }
    let ids = |matches: &[Match]| {
        matches.iter().filter_map(|m| Some((*found.ids.get(m.index)?, m.delta_e))).collect()
    };
    match &found.shown {
        PhotoShown::Paper(answer) => {
            view.source = format!("White: {} ({})", answer.white, answer.source.words());
            let row = |c: &FoundColour| PhotoRow {
                lab: c.lab,
                hex: c.hex,
                share: c.share,
                matches: ids(&c.matches),
                choice: c.known.then_some(0),
            };
            view.rows = answer.colours.iter().map(row).collect();
            view.small = Some(answer.small.clone());
        }
        PhotoShown::Scene(scene) => {
            view.source = String::from(match (names.is_empty(), scene.from_all) {
                (true, _) => FROM_NOTHING,
                (false, true) => FROM_ALL,
                (false, false) => FROM_SHELF,
            });
            let row = |p: &Papered| PhotoRow {
                lab: p.colour.lab,
                hex: p.colour.hex,
                share: p.colour.share,
                matches: ids(&p.matches),
                choice: Some(0),
            };
            view.rows = scene.colours.iter().map(row).collect();
            view.small.clone_from(&found.small);
            let name = |n: usize| names.get(n).cloned().unwrap_or_default();
            let listed = |t: &Trio| {
                let [a, b, c] = t.swatches.map(|n| found.ids.get(n).copied());
                let verdict = trios::verdict(t, &found.ids, name);
                Some(Listed { swatches: [a?, b?, c?], kept: None, verdict: Some(verdict) })
            };
            view.trios = scene.trios.iter().filter_map(listed).collect();
        }
    }
    (view.cursor, view.trio) = (Cursor::default(), Cursor::default());
}

const FROM_SHELF: &str = "Nearest colors of your shelf to each; trios of the first ones below.";
const FROM_NOTHING: &str = "Your library holds no color yet: <photo-new-swatch> adds the picked one.";
const FROM_ALL: &str = "Nothing here is on your shelf: nearest of the whole library; trios below.";

/// Runs a command of the photo view.
pub fn run_photo(pane: &mut PalettePane, ctx: &Ctx, id: CommandId) -> Vec<Reply> {
    use CommandId as Id;
    let Some(view) = pane.photo.as_mut() else { return Vec::new() };
    let len = view.rows.len();
    match id {
        Id::PhotoDown => view.cursor.go(Move::By(1), len),
        Id::PhotoUp => view.cursor.go(Move::By(-1), len),
        Id::PhotoPageDown => view.cursor.go(Move::By(PAGE), len),
        Id::PhotoPageUp => view.cursor.go(Move::By(-PAGE), len),
        Id::PhotoFirst => view.cursor.go(Move::First, len),
        Id::PhotoLast => view.cursor.go(Move::Last, len),
        Id::PhotoNext => choose(view, 1),
        Id::PhotoBefore => choose(view, -1),
        Id::PhotoClose => close(pane),
        Id::PhotoWhite => {
            let label =
                "Where white is: x, y in shares of width and height from the top left, or none, or find:";
            return vec![Reply::prompt(Purpose::Palette(PaletteText::White), label, "")];
        }
        Id::PhotoKeepTrio => return vec![keep_trio(pane, ctx)],
        Id::PhotoTrioNext => view.trio.go(Move::By(1), view.trios.len()),
        Id::PhotoTrioBefore => view.trio.go(Move::By(-1), view.trios.len()),
        Id::PhotoApplyTrio => {
            return vec![view.picked_trio().map_or_else(no_trio, |three| trios::offer_orders(ctx, three))];
        }
        Id::PhotoToPaper => return vec![to_paper(ctx)],
        Id::PhotoNewSwatch => {
            let Some(hex) = view.picked().map(|r| r.hex) else { return Vec::new() };
            let what = PaletteText::NewNamed([hex.r, hex.g, hex.b]);
            return vec![Reply::prompt(Purpose::Palette(what), format!("Name of the color {hex}:"), "")];
        }
        _ => {}
    }
    Vec::new()
}

fn no_trio() -> Reply {
    Reply::refuse(
        "this picture makes no trio: it takes three different papers, and n adds the picked color to your library",
    )
}

/// Keeps the picked trio of a picture of anything.
fn keep_trio(pane: &PalettePane, ctx: &Ctx) -> Reply {
    let Some(three) = pane.photo.as_ref().and_then(PhotoView::picked_trio) else { return no_trio() };
    if ctx.book.trios().iter().any(|(_, kept)| !kept.dismissed && kept.same_colours(three)) {
        return Reply::refuse(
            "this trio is kept already: <photo-trio-before> and <photo-trio-next> go to the others",
        );
    }
    Reply::Edit(taste::keep(ctx.book, trios::new_trio(pane, three, false)))
}

/// Goes through the three matches and "none of mine".
fn choose(view: &mut PhotoView, by: isize) {
    let Some(row) = view.picked_mut() else { return };
    let ways = row.matches.len() as isize + 1;
    let now = row.choice.map_or(ways - 1, |n| n as isize);
    let next = (now + by).rem_euclid(ways);
    row.choice = (next < ways - 1).then_some(next as usize);
}

/// Offers the patterned papers, front and back, to take the colours.
fn to_paper(ctx: &Ctx) -> Reply {
    let sides = papers::patterned(ctx.book).into_iter().flat_map(|id| PaperSide::ALL.map(|side| (id, side)));
    let mut rows: Vec<PickRow> = sides
        .map(|(id, side)| {
            let collection = ctx.book.items().get(id).map(|i| i.collection.clone()).unwrap_or_default();
            let detail = format!("{}, {collection}", side.word());
            let target = Target::Palette(PaletteChoice::PhotoTo(id, side));
            PickRow::new(ctx.book.items().name_of(id), detail, target)
        })
        .collect();
    let detail = "its name and collection are asked for";
    rows.push(PickRow::new("a new patterned paper", detail, Target::Palette(PaletteChoice::PhotoToNew)));
    Reply::pick("These colors on which paper", rows)
}

/// Adds a patterned paper with the picture's colours on its front: `name, collection`.
pub fn new_paper(pane: &PalettePane, ctx: &Ctx, text: &str) -> Vec<Reply> {
    let (name, collection) = text.split_once(',').unwrap_or((text, ""));
    let mut colours = Vec::new();
    for swatch in pane.photo.iter().flat_map(|v| &v.rows).filter_map(PhotoRow::swatch) {
        if !colours.contains(&swatch) {
            colours.push(swatch);
        }
    }
    let leading = (!colours.is_empty()).then(|| colours.remove(0));
    let item = Item {
        collection: collection.trim().to_owned(),
        swatch: leading,
        colours,
        ..Item::new(name.trim(), Kind::PatternedPaper)
    };
    vec![Reply::Edit(Edit::Item(Row::add(ctx.book.items().next(), item)))]
}

/// Notes the known colours of the picture on a side of a paper.
///
/// # Errors
/// The sentence that refuses it.
pub fn note_on(pane: &PalettePane, ctx: &Ctx, paper: ItemId, side: PaperSide) -> Replies {
    let rows = pane.photo.as_ref().map_or(&[][..], |v| &v.rows);
    let swatches: Vec<SwatchId> = rows.iter().filter_map(PhotoRow::swatch).collect();
    if swatches.is_empty() {
        return Err(
            "no color of this picture is in the library: <photo-new-swatch> adds the picked one".to_owned()
        );
    }
    match papers::adding(ctx.book, paper, side, &swatches) {
        Some(edit) => Ok(vec![Reply::Edit(edit)]),
        None => Err(format!("{} lists these colors already", ctx.book.items().name_of(paper))),
    }
}
