//! A photo or scan of a paper: its colours with the swatches nearest to each, and what becomes of them.

use super::prompts::{Choice, Typed};
use crate::app::commands::CommandId;
use crate::app::effect::{Ask, Effect};
use crate::app::finder;
use crate::app::input::list::{Cursor, Move, PAGE};
use crate::app::model::Model;
use crate::app::overlay::Overlay;
use crate::app::overlay::{PickRow, Purpose, Target};
use crate::app::prompt;
use crate::app::update;
use crate::domain::colour::photo::white::Hint;
use crate::domain::colour::photo::{Answer, CUT};
use crate::domain::colour::space::{Lab, Rgb8};
use crate::domain::colour::swatch::Swatch;
use crate::domain::edit::{Edit, Row};
use crate::domain::library::papers::{self, Side};
use crate::domain::stock::{Item, ItemId, Kind, SwatchId};

/// A picture to read, and the library to match it to.
#[derive(Clone, Debug)]
pub struct PhotoAsk {
    /// Number of the question, for news of it.
    pub number: u64,
    /// Where the file lies, as typed.
    pub path: String,
    /// Where white is.
    pub white: Hint,
    /// The library.
    pub swatches: Vec<Swatch>,
    /// Its numbers, place by place.
    pub ids: Vec<SwatchId>,
}

/// What was found in a picture.
#[derive(Clone, Debug, PartialEq)]
pub struct PhotoFound {
    /// White and colours.
    pub answer: Answer,
    /// The library's numbers, place by place.
    pub ids: Vec<SwatchId>,
    /// The picture's profile could not be used; it was taken as sRGB.
    pub profile_passed_over: bool,
}

/// A colour of the picture.
#[derive(Clone, Debug, PartialEq)]
pub struct PhotoRow {
    /// Its value after correction.
    pub lab: Lab,
    /// Its screen value.
    pub hex: Rgb8,
    /// Share of the paper, 0 to 1.
    pub share: f64,
    /// The three nearest swatches with their distance.
    pub matches: Vec<(SwatchId, f64)>,
    /// Which of them it is; `None` for none of them.
    pub choice: Option<usize>,
}

impl PhotoRow {
    /// The swatch that it is taken for.
    pub fn swatch(&self) -> Option<SwatchId> {
        Some(self.matches.get(self.choice?)?.0)
    }
}

/// The photo on screen.
#[derive(Clone, Debug)]
pub struct PhotoView {
    /// The file, as typed.
    pub path: String,
    /// Where white is.
    pub white: Hint,
    /// The question that is being answered.
    pub waiting: Option<u64>,
    /// What is done meanwhile: words, parts done, parts in all.
    pub stage: Stage,
    /// White as found, in words.
    pub source: String,
    /// What else is to be said.
    pub notes: Vec<String>,
    /// The colours, largest share first.
    pub rows: Vec<PhotoRow>,
    /// The one picked.
    pub cursor: Cursor,
}

impl PhotoView {
    /// The colour picked.
    pub fn picked(&self) -> Option<&PhotoRow> {
        self.rows.get(self.cursor.row(self.rows.len())?)
    }

    fn picked_mut(&mut self) -> Option<&mut PhotoRow> {
        let at = self.cursor.row(self.rows.len())?;
        self.rows.get_mut(at)
    }
}

/// How far a picture is read: words, parts done, parts in all.
pub type Stage = (&'static str, u32, u32);

/// Parts of reading a picture: the file, the picture in it, and those of [`crate::domain::colour::photo::STAGES`].
pub const PARTS: u32 = 2 + crate::domain::colour::photo::STAGES.len() as u32;
const FIRST_STAGE: Stage = ("reading the file", 0, PARTS);

/// Takes news of a picture being read.
pub fn staged(model: &mut Model, number: u64, stage: Stage) {
    if let Some(view) = model.palette.photo.as_mut().filter(|v| v.waiting == Some(number)) {
        view.stage = stage;
    }
}

/// Asks for a picture to be read.
pub fn ask(model: &mut Model, path: &str, white: Hint) -> Vec<Effect> {
    let number = model.next_ask();
    let pane = &mut model.palette;
    pane.photo = Some(PhotoView {
        path: path.to_owned(),
        white,
        waiting: Some(number),
        stage: FIRST_STAGE,
        source: String::new(),
        notes: Vec::new(),
        rows: Vec::new(),
        cursor: Cursor::default(),
    });
    let (ids, swatches) = pane.all.iter().map(|(id, s)| (*id, s.clone())).unzip();
    vec![Effect::Solve(
        number,
        Ask::Photo(Box::new(PhotoAsk { number, path: path.to_owned(), white, swatches, ids })),
    )]
}

/// Takes the worker's answer. A picture that cannot be read opens the prompt again, with the path as it was typed.
pub fn solved(model: &mut Model, number: u64, found: Result<PhotoFound, String>) {
    let Some(view) = model.palette.photo.as_mut().filter(|v| v.waiting == Some(number)) else { return };
    view.waiting = None;
    match found {
        Ok(found) => show(view, &found),
        Err(why) => {
            let path = view.path.clone();
            model.palette.photo = None;
            open(model, &path);
            if let Some(Overlay::Prompt(p)) = model.overlays.last_mut() {
                p.echo = crate::app::overlay::Echo::Refused(why);
            }
        }
    }
}

/// Opens the prompt for a picture.
pub fn open(model: &mut Model, path: &str) {
    prompt::open(
        model,
        Purpose::Palette(Typed::Photo),
        "Photo or scan on white card (path of a PNG or JPEG):",
        path,
    );
}

fn show(view: &mut PhotoView, found: &PhotoFound) {
    let white = found.answer.white;
    view.source = format!("White: {white} ({})", found.answer.source.words());
    if found.profile_passed_over {
        view.notes.push("The picture's profile is of a kind not read here; taken as sRGB.".to_owned());
    }
    let row = |c: &crate::domain::colour::photo::Found| PhotoRow {
        lab: c.lab,
        hex: c.hex,
        share: c.share,
        matches: c.matches.iter().filter_map(|m| Some((*found.ids.get(m.index)?, m.delta_e))).collect(),
        choice: c.known.then_some(0),
    };
    view.rows = found.answer.colours.iter().map(row).collect();
    view.cursor = Cursor::default();
}

/// Runs a command of the photo view.
pub fn run(model: &mut Model, id: CommandId) -> Vec<Effect> {
    use CommandId as Id;
    let Some(view) = model.palette.photo.as_mut() else { return Vec::new() };
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
        Id::PhotoClose => model.palette.photo = None,
        Id::PhotoWhite => {
            prompt::open(
                model,
                Purpose::Palette(Typed::White),
                "Where white is: x, y in shares of width and height from the top left, or none, or find:",
                "",
            );
        }
        Id::PhotoToPaper => to_paper(model),
        Id::PhotoNewSwatch => {
            if let Some(hex) = view.picked().map(|r| r.hex) {
                let typed = Typed::NewNamed([hex.r, hex.g, hex.b]);
                prompt::open(model, Purpose::Palette(typed), &format!("Name of the colour {hex}:"), "");
            }
        }
        _ => {}
    }
    Vec::new()
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
fn to_paper(model: &mut Model) {
    let rows: Vec<PickRow> = papers::patterned(&model.book)
        .into_iter()
        .flat_map(|id| Side::ALL.map(|side| (id, side)))
        .map(|(id, side)| {
            let collection = model.book.items().get(id).map(|i| i.collection.clone()).unwrap_or_default();
            PickRow {
                label: model.book.items().name_of(id),
                detail: format!("{}, {collection}", side.word()),
                target: Target::Palette(Choice::PhotoTo(id, side)),
                is_live: true,
            }
        })
        .collect();
    let new = PickRow {
        label: "a new patterned paper".to_owned(),
        detail: "its name and collection are asked for".to_owned(),
        target: Target::Palette(Choice::PhotoToNew),
        is_live: true,
    };
    let rows = rows.into_iter().chain([new]).collect();
    model.overlays.push(Overlay::Picker(finder::picker("These colours on which paper", rows)));
}

/// Adds a patterned paper with the picture's colours on its front: `name, collection`.
///
/// # Errors
/// The sentence that refuses it.
pub fn new_paper(model: &mut Model, text: &str) -> Result<Vec<Effect>, String> {
    let (name, collection) = text.split_once(',').unwrap_or((text, ""));
    let mut colours = Vec::new();
    for swatch in model.palette.photo.iter().flat_map(|v| &v.rows).filter_map(PhotoRow::swatch) {
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
    update::make(model, Edit::Item(Row::add(model.book.items().next(), item)))
}

/// Notes the known colours of the picture on a side of a paper.
///
/// # Errors
/// The sentence that refuses it.
pub fn note_on(model: &mut Model, paper: ItemId, side: Side) -> Result<Vec<Effect>, String> {
    let rows = model.palette.photo.as_ref().map_or(&[][..], |v| &v.rows);
    let swatches: Vec<SwatchId> = rows.iter().filter_map(PhotoRow::swatch).collect();
    if swatches.is_empty() {
        return Err("no colour of this picture is in the library: n adds the picked one".to_owned());
    }
    match papers::adding(&model.book, paper, side, &swatches) {
        Some(edit) => update::make(model, edit),
        None => Err(format!("{} lists these colours already", model.book.items().name_of(paper))),
    }
}

/// After the library has grown: a colour that had no swatch near enough may have one now.
pub fn match_again(model: &mut Model) {
    let Some(mut view) = model.palette.photo.take() else { return };
    for row in &mut view.rows {
        let chosen = row.swatch();
        row.matches = model.palette.nearest(row.lab, 3);
        row.choice = match chosen {
            Some(id) => row.matches.iter().position(|(s, _)| *s == id),
            None => row.matches.first().filter(|(_, d)| *d <= CUT).map(|_| 0),
        };
    }
    model.palette.photo = Some(view);
}
