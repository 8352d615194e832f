//! What a text typed for this pane means, and what a picked row does.

use super::edit::{self, ItemField};
use super::{list, paper, photo, trios};
use crate::app::effect::Effect;
use crate::app::model::Model;
use crate::app::overlay::{Echo, Purpose};
use crate::app::prompt;
use crate::app::status::Status;
use crate::app::update;
use crate::domain::colour::adapt::White;
use crate::domain::colour::parse;
use crate::domain::colour::photo::white::Hint;
use crate::domain::edit::{Edit, Row};
use crate::domain::library::base::Base;
use crate::domain::library::change::Field;
use crate::domain::library::papers::Side;
use crate::domain::stock::{Item, ItemId, SwatchId, TrioId};

/// What a text is typed for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Typed {
    /// A colour to name.
    Colour,
    /// Words that narrow the grid.
    Filter,
    /// A new swatch: name and colour.
    New,
    /// The name of a new swatch of this screen value.
    NewNamed([u8; 3]),
    /// A field of a swatch.
    Field(SwatchId, Field),
    /// A field of an item.
    ItemField(ItemId, ItemField),
    /// Another thing in a colour.
    Item(SwatchId),
    /// Per cent of a colour-vision deficiency.
    Severity,
    /// Two more colours of a trio of one's own.
    OwnTrio,
    /// The note of a kept trio.
    TrioNote(TrioId),
    /// The path of a picture.
    Photo,
    /// Where white is in the picture.
    White,
    /// Name and collection of a new paper with the picture's colours.
    PhotoPaper,
    /// The path of a list of colours.
    List,
}

/// What a Lab value without its white is wanted for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LabFor {
    /// A new swatch of this name.
    New(String),
    /// The value of a swatch.
    Field(SwatchId),
}

/// A row of a list that this pane offers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Choice {
    /// Change this field of a swatch.
    Field(SwatchId, Field),
    /// Change this field of an item.
    ItemField(ItemId, ItemField),
    /// Turn an ink opaque or transparent.
    Opacity(ItemId),
    /// Note another thing in a colour.
    NewItem(SwatchId),
    /// The white of a Lab value.
    White(String, LabFor, White),
    /// Merge the second swatch into the first.
    Merge(SwatchId, SwatchId),
    /// Show the card of a patterned paper.
    Paper(ItemId),
    /// Note the picture's colours on a side of a paper.
    PhotoTo(ItemId, Side),
    /// Note them on a paper that is new.
    PhotoToNew,
    /// Trios go with this.
    Base(Base),
    /// Bring in the list that was previewed.
    Import,
}

/// How a text is read, while it is typed.
pub fn echo(model: &Model, typed: &Typed, text: &str) -> Echo {
    let read = match typed {
        Typed::Colour => parse::colour(text).map_err(|e| e.to_string()).map(|t| describe(model, &t)),
        Typed::New => edit::name_and_value(text).map(|(name, v)| format!("{name}: {}", edit::value_words(v))),
        Typed::Field(_, Field::Colour) => edit::value(text).map(edit::value_words),
        Typed::Severity => severity(text).map(|n| format!("{n} % of a cone missing")),
        Typed::OwnTrio => {
            trios::read_own(model, text).map(|t| t.map(|s| model.palette.name(s).to_owned()).join(", "))
        }
        Typed::White => white(text).map(|w| white_words(w).to_owned()),
        Typed::Item(id) => edit::new_item(*id, text).map(|i| format!("{}, {}", i.name, i.kind.word())),
        Typed::ItemField(id, field) => match model.book.items().get(*id) {
            Some(item) => edit::item_with(item, *field, text).map(|_| String::new()),
            None => return Echo::Nothing,
        },
        _ => return Echo::Nothing,
    };
    match read {
        Ok(words) if words.is_empty() => Echo::Nothing,
        Ok(words) => Echo::Read(words),
        Err(why) => Echo::Refused(why),
    }
}

fn describe(model: &Model, typed: &parse::Typed) -> String {
    let lab = typed.lab;
    let near = model.palette.nearest(lab, 1);
    let near = near.first().map(|(id, d)| format!(", nearest {} at dE00 {d:.1}", model.palette.name(*id)));
    format!("{} L {:.1} a {:.1} b {:.1}{}", lab.rgb8(), lab.l, lab.a, lab.b, near.unwrap_or_default())
}

/// Takes a text.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept(model: &mut Model, typed: &Typed, text: &str) -> Result<Vec<Effect>, String> {
    match typed {
        Typed::Colour => identify(model, text)?,
        Typed::Filter => filter(model, text),
        Typed::New => return edit::accept_new(model, text),
        Typed::NewNamed(hex) => return edit::add(model, text, edit::screen_value(*hex)),
        Typed::Field(id, field) => return edit::accept_field(model, *id, *field, text),
        Typed::ItemField(id, field) => return edit::accept_item_field(model, *id, *field, text),
        Typed::Item(id) => {
            let item = edit::new_item(*id, text)?;
            return update::make(model, Edit::Item(Row::add(model.book.items().next(), item)));
        }
        Typed::Severity => model.palette.severity = severity(text)?,
        Typed::OwnTrio => return trios::keep_own(model, text),
        Typed::TrioNote(id) => return trios::set_note(model, *id, text),
        Typed::Photo if text.trim().is_empty() => {
            return Err("no path given: write where the picture lies".to_owned());
        }
        Typed::Photo => return Ok(photo::ask(model, text.trim(), Hint::Find)),
        Typed::PhotoPaper => return photo::new_paper(model, text),
        Typed::White => {
            let hint = white(text)?;
            if let Some(path) = model.palette.photo.as_ref().map(|v| v.path.clone()) {
                return Ok(photo::ask(model, &path, hint));
            }
        }
        Typed::List if text.trim().is_empty() => {
            return Err("no path given: write where the list lies".to_owned());
        }
        Typed::List => return Ok(list::ask_list(model, text.trim())),
    }
    Ok(Vec::new())
}

/// Narrows the grid while the words are typed.
pub fn filter(model: &mut Model, text: &str) {
    text.clone_into(&mut model.palette.filter);
    model.palette.arrange(&model.book);
}

/// The nearest swatch is picked, and the nearest five are listed.
fn identify(model: &mut Model, text: &str) -> Result<(), String> {
    let typed = parse::colour(text).map_err(|e| e.to_string())?;
    model.palette.paper = None;
    model.palette.ask(text.trim(), typed.lab);
    let best = model.palette.asked.as_ref().and_then(|a| a.matches.first()).map(|m| m.0);
    if let Some(id) = best {
        model.palette.show(id, &model.book);
    }
    Ok(())
}

fn severity(text: &str) -> Result<u8, String> {
    let number = text.trim().trim_end_matches('%').trim();
    number
        .parse()
        .ok()
        .filter(|n| *n <= 100)
        .ok_or_else(|| format!("\"{}\" is no severity: write per cent from 0 to 100", text.trim()))
}

fn white(text: &str) -> Result<Hint, String> {
    match text.trim().to_lowercase().as_str() {
        "none" => return Ok(Hint::AsIs),
        "find" | "" => return Ok(Hint::Find),
        _ => {}
    }
    let share = |part: &str| part.trim().parse::<f64>().ok().filter(|v| (0.0..=1.0).contains(v));
    let place = text.split_once(',').and_then(|(x, y)| Some(Hint::At(share(x)?, share(y)?)));
    place.ok_or_else(|| "write two shares from 0 to 1, like 0.05, 0.5, or none, or find".to_owned())
}

const fn white_words(hint: Hint) -> &'static str {
    match hint {
        Hint::Find => "white is looked for",
        Hint::At(..) => "white is taken from there",
        Hint::AsIs => "the picture is taken as it is",
    }
}

/// Does what a picked row says.
pub fn choose(model: &mut Model, choice: Choice) -> Vec<Effect> {
    let done = match choice {
        Choice::Field(id, field) => {
            edit::ask_field(model, id, field);
            Ok(Vec::new())
        }
        Choice::ItemField(id, field) => {
            edit::ask_item_field(model, id, field);
            Ok(Vec::new())
        }
        Choice::Opacity(id) => edit::toggle_opacity(model, id),
        Choice::NewItem(id) => {
            let label = format!("In {}: kind, name, order number:", model.palette.name(id));
            prompt::open(model, Purpose::Palette(Typed::Item(id)), &label, "");
            Ok(Vec::new())
        }
        Choice::White(text, then, white) => edit::with_white(model, &text, &then, white),
        Choice::Merge(kept, gone) => edit::merge_in(model, kept, gone),
        Choice::Paper(id) => {
            model.palette.paper = Some(id);
            model.palette.asked = None;
            Ok(Vec::new())
        }
        Choice::PhotoTo(id, side) => photo::note_on(model, id, side),
        Choice::PhotoToNew => {
            let label = "New patterned paper: name, collection:";
            prompt::open(model, Purpose::Palette(Typed::PhotoPaper), label, "");
            Ok(Vec::new())
        }
        Choice::Base(base) => {
            model.palette.base = base;
            model.palette.wants_trios = true;
            Ok(Vec::new())
        }
        Choice::Import => list::bring_in(model),
    };
    done.unwrap_or_else(|why| {
        model.tell(Status::refused(why));
        Vec::new()
    })
}

/// Offers what trios can go with.
pub fn base_rows(model: &Model) -> Vec<(String, String, Base)> {
    let picked = model.palette.picked().map_or("", |id| model.palette.name(id)).to_owned();
    let card = model.mats.card(&model.book);
    let mut rows = vec![
        ("the picked colour".to_owned(), picked, Base::Picked),
        ("the card in hand".to_owned(), card.name.clone(), Base::Card),
    ];
    for id in crate::domain::library::papers::patterned(&model.book) {
        let names = paper_colours(model, id);
        rows.push((model.book.items().name_of(id), names, Base::Paper(id)));
    }
    rows
}

fn paper_colours(model: &Model, id: ItemId) -> String {
    let front = model.book.items().get(id).map(Item::front).unwrap_or_default();
    front.iter().map(|s| model.palette.name(*s)).collect::<Vec<_>>().join(", ")
}

/// The plain papers that match the paper in view, for those who read.
pub fn matching(model: &Model, id: ItemId) -> String {
    let all = paper::matching_words(&model.book, id);
    if all.is_empty() { "no plain paper in its colours on the shelf".to_owned() } else { all.join(", ") }
}
