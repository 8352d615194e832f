//! What a row of the finder is, at length: beside the list on a wide screen, as facts in the plain mode. Says what is
//! there and what choosing it does; draws nothing.

use super::commands::command;
use super::finder::{holds, place, size_of};
use super::model::Model;
use super::overlay::{PickRow, Target};
use super::panes::palette::words::details;
use super::reach;
use super::state::stock::bin;
use super::state::stock::pressing::state_word;
use super::state::views::Tab;
use super::state::yields::YieldChoice;
use crate::domain::capital::capitalized;
use crate::domain::craft::topics;
use crate::domain::plural::count_of;
use crate::domain::project::ProjectCard;
use crate::domain::stock::{Item, ItemId, ProjectId, SwatchId, booked};

/// Things of a list that are named one by one.
const MOST: usize = 8;

/// One part of what is said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Said {
    /// A sentence.
    Words(String),
    /// A label and its words.
    Fact(String, String),
    /// Why it cannot be done now.
    NotNow(String),
    /// A colour of the library, to be shown as such.
    Colour(SwatchId),
}

fn words(text: impl Into<String>) -> Said {
    Said::Words(text.into())
}

/// A fact, where there is anything to say.
fn fact(label: impl Into<String>, text: impl Into<String>) -> Option<Said> {
    Some(text.into()).filter(|t| !t.is_empty()).map(|t| Said::Fact(label.into(), t))
}

/// What is said of a row, besides its name.
pub fn about(model: &Model, row: &PickRow) -> Vec<Said> {
    match &row.target {
        Target::Command(id) => of_command(model, *id),
        Target::List(tab) => of_list(model, *tab),
        Target::Project(Some(id)) => of_project(model, *id),
        Target::Item(id) => of_item(model, *id),
        Target::Swatch(id) => of_swatch(model, *id),
        Target::Topic(title) => of_topic(title),
        Target::Yield(YieldChoice::Format(name)) => of_format(model, name),
        Target::Theme(_) | Target::PrintPaper(_) | Target::Signs(_) | Target::Start(_) => {
            vec![words(format!("{}.", row.detail)), words("Enter sets it and remembers it.")]
        }
        _ => vec![words(row.detail.clone())],
    }
}

fn of_command(model: &Model, id: super::commands::CommandId) -> Vec<Said> {
    let row = command(id);
    let mut all = vec![words(model.keymap.say(&format!("{}.", row.line)))];
    all.extend(
        reach::why_not(model, row).map(|why| Said::NotNow(model.keymap.say(&format!("Not now: {why}.")))),
    );
    all.extend(fact("keys", model.keymap.texts(id).join(" or ")));
    all.extend(fact("where", place(row.context)));
    all.extend(fact("key file", row.name));
    all
}

fn of_list(model: &Model, tab: Tab) -> Vec<Said> {
    let book = &model.book;
    let names: Vec<String> = match tab {
        Tab::Bin => bin(&model.stock, book).into_iter().take(MOST).map(|id| book.offcut_title(id)).collect(),
        Tab::Classes => book.projects().iter().take(MOST).map(|(_, p)| p.name.clone()).collect(),
        Tab::Bookings => book.bookings().iter().take(MOST).map(|(_, b)| booked::title(book, b)).collect(),
        Tab::Shelf | Tab::Log | Tab::Reorder => Vec::new(),
    };
    let mut all = vec![words(format!("A list of Stock: {}.", holds(tab)))];
    all.extend(fact("now", size_of(model, tab)));
    all.extend(names.into_iter().map(words));
    all
}

fn of_project(model: &Model, id: ProjectId) -> Vec<Said> {
    let Some(project) = model.book.projects().get(id) else { return Vec::new() };
    let is_active = model.book.active() == Some(id);
    let mut all = vec![words(if is_active {
        "The project that all panes work for."
    } else {
        "Enter makes it the project that all panes work for."
    })];
    all.extend(fact("day", project.date.map(|d| d.to_string()).unwrap_or_default()));
    all.extend(fact("for", project.made_for()));
    all.extend(fact("state", project.progress.word()));
    let card = |card: &ProjectCard| {
        let size = card.face.show_with_unit(model.screen.unit);
        let layers = count_of(card.layers.len() as u64, "layer");
        Said::Fact("card".to_owned(), format!("{}, {size}, {layers}", card.name))
    };
    all.extend(project.cards.iter().take(MOST).map(card));
    let more = project.cards.len().saturating_sub(MOST);
    all.extend((more > 0).then(|| words(format!("and {} more", count_of(more as u64, "card")))));
    all.extend(fact("note", project.note.clone()));
    all
}

fn of_item(model: &Model, id: ItemId) -> Vec<Said> {
    let book = &model.book;
    let Some(item) = book.items().get(id) else { return Vec::new() };
    let mut all =
        vec![words(format!("{} on the shelf; Enter shows it there.", capitalized(item.kind.said())))];
    all.extend(item.swatch.map(Said::Colour));
    let size = item.cutting_size().map(|s| s.as_made_and_own(model.screen.unit));
    all.extend(fact("size", size.unwrap_or_default()));
    let count = format!("{} on hand, {} free, {}", book.on_hand(id), book.free(id), state_word(book, id));
    all.extend(fact("count", count));
    let mark = if item.mark() > 0 { item.mark().to_string() } else { String::new() };
    all.extend(fact("low mark", mark));
    all.extend(bought(model, item));
    all.extend(fact("weight", weight(item)));
    all.extend(fact("place", item.place.clone()));
    all.extend(fact("note", item.note.clone()));
    all
}

fn bought(model: &Model, item: &Item) -> Vec<Said> {
    let price = item.price.map(|p| p.show(&model.book.settings().currency));
    let pack =
        if item.pack_size() > 1 { format!(" for a pack of {}", item.pack_size()) } else { String::new() };
    let price = price.map(|p| format!("{p}{pack}")).unwrap_or_default();
    let from = [item.seller.clone(), item.order_number.clone()];
    let from = from.into_iter().filter(|t| !t.is_empty()).collect::<Vec<_>>().join(", ");
    fact("price", price).into_iter().chain(fact("sold by", from)).collect()
}

fn weight(item: &Item) -> String {
    let gsm = item.gsm.map(|n| format!("{n} gsm")).unwrap_or_default();
    let parts = [item.bought_as.clone(), gsm];
    parts.into_iter().filter(|t| !t.is_empty()).collect::<Vec<_>>().join(", ")
}

fn of_swatch(model: &Model, id: SwatchId) -> Vec<Said> {
    let mut all = vec![words("A color of the library; Enter shows it in Palette."), Said::Colour(id)];
    let Some(swatch) = model.palette.colour(id) else { return all };
    all.extend(fact("family", swatch.family.clone()));
    let details = details(&model.book, id, swatch);
    all.extend(details.into_iter().filter_map(|(label, text)| fact(label, text)));
    all
}

fn of_topic(title: &str) -> Vec<Said> {
    let topic = topics().iter().find(|t| t.title == title);
    topic.map(|t| vec![words(&*t.text), words(format!("Source: {}.", t.source))]).unwrap_or_default()
}

fn of_format(model: &Model, name: &str) -> Vec<Said> {
    let Some(format) = model.formats.all().iter().find(|f| f.name == name) else { return Vec::new() };
    let unit = model.screen.unit;
    let mut all = vec![words("Enter takes it as the sheet in Yield.")];
    all.extend(fact("size", format.size.show_with_unit(unit)));
    all.extend(fact("that is", format.size.about(unit.other())));
    all.extend(fact("also", format.also.join(", ")));
    all.extend(fact("source", format.source.clone()));
    all
}
