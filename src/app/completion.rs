//! Names that the text of a prompt may go on with, for Tab: of papers, colours, formats, kinds. Names of files are asked of the
//! outside.

use super::ctx::Ctx;
use super::effect::Effect;
use super::input::completing::{Completing, NamePart};
use super::input::field::TextField;
use super::model::Model;
use super::overlay::{Echo, Overlay, Prompt, Purpose};
use super::panes::papers;
use super::read_back::read_back;
use super::state::mats::MatsText;
use super::state::palette::PaletteText;
use super::state::print::{PrintDesk, PrintLine};
use super::state::stock::texts::StockText;
use super::status::Status;
use crate::domain::cards::{envelope, format};
use crate::domain::colour::parse;
use crate::domain::stock::Kind;
use crate::domain::stock::field::Field as ItemField;

/// Names that are shown where several match.
const SHOWN: usize = 6;

/// Tab in a prompt: the prompt with the name completed, and what has to be asked of the outside first.
pub fn tab(model: &Model, mut prompt: Prompt) -> (Prompt, Vec<Effect>) {
    let text = prompt.field.text().to_owned();
    if is_path(&prompt.purpose) {
        let names = std::mem::take(&mut prompt.names);
        if prompt.completing.is_some() && !names.is_empty() {
            let prompt = completed(model, prompt, Completing::of(&text, NamePart::Whole), &names);
            return (Prompt { names, ..prompt }, Vec::new());
        }
        return (prompt, vec![Effect::Names(text)]);
    }
    let Some((begun, names)) = names(&model.ctx(), &prompt.purpose, &text) else {
        return (prompt, Vec::new());
    };
    (completed(model, prompt, begun, &names), Vec::new())
}

/// Tab in the file's name of the print overlay: the next of the names that are known, or a question to the outside.
pub fn file_of(desk: &mut PrintDesk) -> Vec<Effect> {
    let text = desk.file.text().to_owned();
    let names = std::mem::take(&mut desk.names);
    if desk.completing.is_some() && !names.is_empty() {
        put_name(desk, Completing::after("", &text), &names);
        desk.names = names;
        return Vec::new();
    }
    vec![Effect::Names(text)]
}

fn put_name(desk: &mut PrintDesk, begun: Completing, names: &[String]) {
    let now = desk.completing.clone().unwrap_or(begun);
    if let Some((now, text)) = now.next(desk.file.text(), names) {
        (desk.file, desk.is_named, desk.completing) = (TextField::with(&text), true, Some(now));
    }
}

/// The names of files for the print overlay, where it asked for them.
fn files_of_print(model: &mut Model, text: &str, names: Vec<String>) {
    let Some(Overlay::Print(desk)) = model.overlays.last_mut() else { return };
    if desk.typing != Some(PrintLine::File) || desk.file.text() != text {
        return;
    }
    let shared = shared(&names);
    let said = match told(&names) {
        _ if names.is_empty() => Some(format!("No file here is called \"{text}...\".")),
        Echo::Read(words) => Some(words),
        _ => None,
    };
    if shared.chars().count() > text.chars().count() {
        (desk.file, desk.is_named, desk.completing) = (TextField::with(&shared), true, None);
    } else {
        put_name(desk, Completing::after("", text), &names);
        desk.names = names;
    }
    if let Some(words) = said {
        model.tell(Status::note(words));
    }
}

/// The names of files that begin as a prompt's text does: as much as they share is put, else the first of them.
pub fn files(model: &mut Model, text: &str, names: Vec<String>) {
    if matches!(model.overlays.last(), Some(Overlay::Print(_))) {
        return files_of_print(model, text, names);
    }
    let is_asked = |p: &Prompt| is_path(&p.purpose) && p.field.text() == text;
    let Some(Overlay::Prompt(prompt)) =
        model.overlays.last().filter(|o| matches!(o, Overlay::Prompt(p) if is_asked(p)))
    else {
        return;
    };
    let prompt = prompt.clone();
    model.overlays.pop();
    let shared = shared(&names);
    let prompt = match names.as_slice() {
        [] => Prompt { echo: Echo::Refused(format!("no file here is called \"{text}...\"")), ..prompt },
        _ if shared.chars().count() > text.chars().count() => {
            let echo = told(&names);
            Prompt { field: TextField::with(&shared), echo, completing: None, ..prompt }
        }
        _ => {
            let prompt = completed(model, prompt, Completing::after("", text), &names);
            Prompt { echo: told(&names), names, ..prompt }
        }
    };
    model.overlays.push(Overlay::Prompt(prompt));
}

/// Some of the names, where there are several.
fn told(names: &[String]) -> Echo {
    if names.len() < 2 {
        return Echo::Nothing;
    }
    let last = |name: &String| name.trim_end_matches('/').rsplit('/').next().unwrap_or_default().to_owned();
    let some: Vec<String> = names.iter().take(SHOWN).map(last).collect();
    let more = if names.len() > SHOWN { format!(" and {} more", names.len() - SHOWN) } else { String::new() };
    Echo::Read(format!("{}{more}", some.join("  ")))
}

/// What all names begin with.
fn shared(names: &[String]) -> String {
    let mut all = names.iter();
    let first = all.next().cloned().unwrap_or_default();
    all.fold(first, |shared, name| {
        shared.chars().zip(name.chars()).take_while(|(a, b)| a == b).map(|(a, _)| a).collect()
    })
}

fn completed(model: &Model, prompt: Prompt, begun: Completing, names: &[String]) -> Prompt {
    let now = prompt.completing.clone().unwrap_or(begun);
    let Some((now, text)) = now.next(prompt.field.text(), names) else { return prompt };
    let echo = read_back(model, &prompt.purpose, &text);
    Prompt { field: TextField::with(&text), echo, completing: Some(now), ..prompt }
}

/// True where a file is named.
pub const fn is_path(purpose: &Purpose) -> bool {
    match purpose {
        Purpose::Book(_) => true,
        Purpose::Stock(what) => {
            matches!(
                what,
                StockText::ListFile(_) | StockText::ShelfFile | StockText::YearFile(_) | StockText::OrderFile
            )
        }
        Purpose::Palette(what) => matches!(what, PaletteText::Photo | PaletteText::Scene | PaletteText::List),
        Purpose::Mats(what) => {
            matches!(what, MatsText::WriteCard | MatsText::WriteProject | MatsText::Read)
        }
        Purpose::Yield(_) => false,
    }
}

/// What a text is a beginning of, and the names that it may be.
fn names(ctx: &Ctx, purpose: &Purpose, text: &str) -> Option<(Completing, Vec<String>)> {
    let swatches = || ctx.book.swatches().iter().map(|(_, s)| s.name.clone()).collect();
    let whole = |names: Vec<String>| Some((Completing::of(text, NamePart::Whole), names));
    match purpose {
        Purpose::Stock(StockText::UseTyped) => {
            let (before, stem) = used(text)?;
            let names = ctx.book.items().iter().map(|(_, i)| i.name.clone()).collect();
            Some((Completing::after(&before, &stem), names))
        }
        Purpose::Stock(StockText::ItemField(field, _)) => match field {
            ItemField::Colours | ItemField::BackColours => {
                Some((Completing::of(text, NamePart::Last), swatches()))
            }
            ItemField::Kind => whole(Kind::ALL.map(|k| k.said().to_owned()).into()),
            ItemField::Size => whole(ctx.formats.all().iter().map(|f| f.name.clone()).collect()),
            ItemField::Grain => whole(["long", "short", "unknown"].map(str::to_owned).into()),
            ItemField::State => whole(["current", "leaving ", "gone", "arriving "].map(str::to_owned).into()),
            ItemField::Seller => whole(distinct(ctx.book.items().iter().map(|(_, i)| i.seller.clone()))),
            ItemField::Place => whole(distinct(ctx.book.items().iter().map(|(_, i)| i.place.clone()))),
            ItemField::Collection => {
                whole(distinct(ctx.book.items().iter().map(|(_, i)| i.collection.clone())))
            }
            _ => None,
        },
        Purpose::Palette(PaletteText::OwnTrio) => Some((Completing::of(text, NamePart::Last), swatches())),
        Purpose::Palette(PaletteText::Colour) => {
            whole(parse::web_names().iter().map(|(name, _)| name.clone()).collect())
        }
        Purpose::Mats(MatsText::NewMat | MatsText::Part(_)) => {
            let names = papers::all(ctx).into_iter().map(|(offer, _)| offer.name).collect();
            Some((Completing::of(text, NamePart::AfterFigures), names))
        }
        Purpose::Mats(MatsText::Face) => whole(format::all().into_iter().map(|f| f.name).collect()),
        Purpose::Mats(MatsText::Envelope) => whole(envelope::all().iter().map(|e| e.name.clone()).collect()),
        _ => None,
    }
}

/// Each name once, without empty ones.
fn distinct(names: impl Iterator<Item = String>) -> Vec<String> {
    names.filter(|n| !n.is_empty()).collect::<std::collections::BTreeSet<_>>().into_iter().collect()
}

/// `4 sheets of fe`: what stays, and the beginning of the name.
fn used(text: &str) -> Option<(String, String)> {
    let (count, rest) = text.trim_start().split_once(char::is_whitespace)?;
    let words = ["sheets of ", "sheet of ", "of "];
    let word = words.iter().find(|word| rest.starts_with(**word)).copied().unwrap_or_default();
    Some((format!("{count} {word}"), rest.strip_prefix(word).unwrap_or(rest).to_owned()))
}
