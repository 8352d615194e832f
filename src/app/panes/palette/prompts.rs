//! What a text typed for this pane means, and what a picked row does.

use super::photo::PhotoFor;
use super::words::distance;
use super::{edit, list, photo, trios};
use crate::app::ctx::Ctx;
use crate::app::overlay::{Echo, PickRow, Purpose, Target};
use crate::app::reply::Replies;
use crate::app::reply::Reply;
use crate::app::state::palette::{PaletteChoice, PalettePane, PaletteText};
use crate::app::state::views::PaletteView;
use crate::domain::colour::difference::reading;
use crate::domain::colour::naming;
use crate::domain::colour::parse;
use crate::domain::colour::photo::white::WhiteHint;
use crate::domain::edit::{Edit, Row};
use crate::domain::library::base::TrioBase;
use crate::domain::library::change::SwatchField;
use crate::domain::library::papers;
use crate::domain::stock::Item;

/// How a text is read, while it is typed.
pub fn echo(pane: &PalettePane, ctx: &Ctx, what: &PaletteText, text: &str) -> Echo {
    use PaletteText as Text;
    let read = match what {
        Text::Colour => parse::colour(text).map_err(|e| e.to_string()).map(|t| describe(pane, &t)),
        Text::Field(_, SwatchField::Colour) => edit::value(text).map(|v| edit::value_words(pane.figures, v)),
        Text::Severity => severity(text).map(|n| format!("{n} % of a cone missing")),
        Text::OwnTrio => {
            trios::read_own(pane, ctx, text).map(|t| t.map(|s| pane.name(s).to_owned()).join(", "))
        }
        Text::White => white(text).map(|w| white_words(w).to_owned()),
        Text::Item(id) => edit::new_item(*id, text).map(|i| format!("{}, {}", i.name, i.kind.said())),
        Text::ItemField(id, field) => match ctx.book.items().get(*id) {
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

fn describe(pane: &PalettePane, typed: &parse::Typed) -> String {
    let lab = typed.lab;
    let near_to = pane.nearest(lab, 1);
    let near =
        |(id, d): &(_, f64)| format!("; nearest {}: {}{}", pane.name(*id), reading(*d), distance(pane, *d));
    let near = near_to.first().map(near).unwrap_or_default();
    let figures = format!(", L {:.1} a {:.1} b {:.1}", lab.l, lab.a, lab.b);
    let figures = if pane.figures { figures } else { String::new() };
    format!("{}, {}{figures}{near}", lab.rgb8(), naming::about(lab))
}

/// Takes a text.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept(pane: &mut PalettePane, ctx: &Ctx, what: &PaletteText, text: &str) -> Replies {
    use PaletteText as Text;
    match what {
        Text::Colour => identify(pane, ctx, text)?,
        Text::Filter => filter(pane, ctx, text),
        Text::NewNamed(hex) => return Ok(edit::add(ctx, text, edit::screen_value(*hex))),
        Text::Field(id, field) => return edit::accept_field(ctx, *id, *field, text),
        Text::ItemField(id, field) => return edit::accept_item_field(ctx, *id, *field, text),
        Text::Item(id) => {
            let item = edit::new_item(*id, text)?;
            return Ok(vec![Reply::Edit(Edit::Item(Row::add(ctx.book.items().next(), item)))]);
        }
        Text::Severity => pane.severity = severity(text)?,
        Text::OwnTrio => return trios::keep_own(pane, ctx, text),
        Text::TrioNote(id) => return trios::set_note(ctx, *id, text),
        Text::Photo | Text::Scene if text.trim().is_empty() => {
            return Err("no path given: write the path of the picture".to_owned());
        }
        Text::Photo => return Ok(photo::ask(pane, ctx, text.trim(), PhotoFor::Paper(WhiteHint::Find))),
        Text::Scene => return Ok(photo::ask(pane, ctx, text.trim(), PhotoFor::Scene)),
        Text::PhotoPaper => return Ok(photo::new_paper(pane, ctx, text)),
        Text::White => {
            let hint = white(text)?;
            if let Some(path) = pane.photo.as_ref().map(|v| v.path.clone()) {
                return Ok(photo::ask(pane, ctx, &path, PhotoFor::Paper(hint)));
            }
        }
        Text::List if text.trim().is_empty() => {
            return Err("no path given: write the path of the list".to_owned());
        }
        Text::List => return Ok(list::ask_list(text.trim())),
    }
    Ok(Vec::new())
}

/// Narrows the grid while the words are typed.
pub fn filter(pane: &mut PalettePane, ctx: &Ctx, text: &str) {
    text.clone_into(&mut pane.filter);
    pane.arrange(ctx.book);
}

/// The nearest swatch is picked, and the nearest five are listed.
fn identify(pane: &mut PalettePane, ctx: &Ctx, text: &str) -> Result<(), String> {
    let typed = parse::colour(text).map_err(|e| e.to_string())?;
    pane.list_nearest(text.trim(), typed.lab);
    if let Some(id) = pane.asked.as_ref().and_then(|a| a.matches.first()).map(|m| m.0) {
        pane.show(id, ctx.book);
    }
    Ok(())
}

fn severity(text: &str) -> Result<u8, String> {
    let number = text.trim().trim_end_matches('%').trim();
    number
        .parse()
        .ok()
        .filter(|n| *n <= 100)
        .ok_or_else(|| format!("\"{}\" is not a severity: write a percentage from 0 to 100", text.trim()))
}

fn white(text: &str) -> Result<WhiteHint, String> {
    match text.trim().to_lowercase().as_str() {
        "none" => return Ok(WhiteHint::AsIs),
        "find" | "" => return Ok(WhiteHint::Find),
        _ => {}
    }
    let share = |part: &str| part.trim().parse::<f64>().ok().filter(|v| (0.0..=1.0).contains(v));
    let place = text.split_once(',').and_then(|(x, y)| Some(WhiteHint::At(share(x)?, share(y)?)));
    place.ok_or_else(|| "write two shares from 0 to 1, like 0.05, 0.5, or none, or find".to_owned())
}

const fn white_words(hint: WhiteHint) -> &'static str {
    match hint {
        WhiteHint::Find => "white is looked for",
        WhiteHint::At(..) => "white is taken from there",
        WhiteHint::AsIs => "the picture is taken as it is",
    }
}

/// Does what a picked row says.
///
/// # Errors
/// The sentence that refuses it.
pub fn choose(pane: &mut PalettePane, ctx: &Ctx, choice: PaletteChoice) -> Replies {
    use PaletteChoice as Choice;
    let prompt = |what, label: String| Ok(vec![Reply::prompt(Purpose::Palette(what), label, "")]);
    match choice {
        Choice::Field(id, field) => return Ok(edit::ask_field(ctx, id, field).into_iter().collect()),
        Choice::ItemField(id, field) => {
            return Ok(edit::ask_item_field(ctx, id, field).into_iter().collect());
        }
        Choice::Opacity(id) => return edit::toggle_opacity(ctx, id),
        Choice::NewItem(id) => {
            let label = format!("In {}: kind, name, order number:", pane.name(id));
            return prompt(PaletteText::Item(id), label);
        }
        Choice::White(text, then, white) => return edit::with_white(ctx, &text, &then, white),
        Choice::Merge(kept, gone) => return edit::merge_in(ctx, kept, gone),
        Choice::Paper(id) => pane.open(PaletteView::Paper(id)),
        Choice::PhotoTo(id, side) => return photo::note_on(pane, ctx, id, side),
        Choice::PhotoToNew => {
            return prompt(PaletteText::PhotoPaper, "New patterned paper: name, collection:".to_owned());
        }
        Choice::Base(base) => {
            pane.base = base;
            pane.wants_trios = true;
        }
        Choice::Dress(order) => return super::trios::put_on_card(ctx, order),
        Choice::BringBack(id) => return Ok(vec![trios::bring_back(ctx, id)?]),
        Choice::Forget => return trios::forget(ctx),
        Choice::Import => return list::bring_in(pane),
    }
    Ok(Vec::new())
}

/// What trios can go with, a row each.
pub fn base_rows(pane: &PalettePane, ctx: &Ctx) -> Vec<PickRow> {
    let row = |label: &str, detail: &str, base| {
        PickRow::new(label, detail, Target::Palette(PaletteChoice::Base(base)))
    };
    let picked = pane.picked().map_or("", |id| pane.name(id));
    let mut rows = vec![
        row("the picked color", picked, TrioBase::Picked),
        row("the card in hand", &ctx.card.name, TrioBase::Card),
    ];
    for id in papers::patterned(ctx.book) {
        let front = ctx.book.items().get(id).map(Item::front).unwrap_or_default();
        let names: Vec<&str> = front.iter().map(|s| pane.name(*s)).collect();
        rows.push(row(&ctx.book.items().name_of(id), &names.join(", "), TrioBase::Paper(id)));
    }
    rows
}
