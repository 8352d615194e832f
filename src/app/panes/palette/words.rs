//! What the pane says, one fact a line. The drawing side takes its sentences from here.

use super::paper;
use crate::app::ctx::Ctx;
use crate::app::state::palette::PalettePane;
use crate::app::state::photo::{PhotoRow, PhotoView};
use crate::app::state::trio::Listed;
use crate::domain::book::Book;
use crate::domain::colour::difference::{ciede2000, reading};
use crate::domain::colour::legibility::Legibility;
use crate::domain::colour::naming;
use crate::domain::colour::swatch::{LabOrigin, Swatch};
use crate::domain::colour::trios::TrioShort;
use crate::domain::colour::trios::said::{self, NEAREST, NoTrio, TrioWords};
use crate::domain::library::apply::{ColourSource, Dress, Dressed, dress};
use crate::domain::library::base::TrioBase;
use crate::domain::library::inks::readings;
use crate::domain::library::papers::{self, PaperSide};
use crate::domain::plural::count_of;
use crate::domain::stock::{Item, ItemId, Kind, State, SwatchId};

/// Said beside every verdict.
pub const DAYLIGHT: &str = "Compare real chips in daylight.";

/// How far to trust a photo. In one real photograph of a chart 19 of 23 colours came out first and all of them among the
/// first three (our own measurement); light colours came out too light and deep ones too dark.
pub const TRUST: &str = "Trust the first three, not the first alone: phones lighten and deepen colors.";

/// Said of a picture of anything whose papers make no trio.
pub const NO_SCENE_TRIO: &str =
    "A trio takes three different papers, and fewer are here: <photo-new-swatch> adds the picked color.";

/// How many inks are listed.
const INKS: usize = 3;

/// A label and what it says.
pub type FactLine = (String, String);

fn line(label: impl Into<String>, text: impl Into<String>) -> FactLine {
    (label.into(), text.into())
}

/// Everything that the pane says now.
pub fn facts(pane: &PalettePane, ctx: &Ctx) -> Vec<FactLine> {
    let book = ctx.book;
    let narrowed = pane.narrowed();
    let only =
        if narrowed.is_empty() { String::new() } else { format!(" of {}, only {narrowed}", pane.all.len()) };
    let mut all = vec![line("swatches", format!("{}{only}, {}", pane.swatches.len(), pane.order.words()))];
    if let Some(view) = pane.photo_in_view() {
        all.extend(photo_facts(pane, book, view));
        all.extend(view.picked_trio().into_iter().flat_map(|three| card_facts(pane, ctx, three)));
        all.push(line("verdict", DAYLIGHT));
        return all;
    }
    if let Some((id, s)) = pane.picked().and_then(|id| Some((id, pane.colour(id)?))) {
        let value = if pane.figures { format!(", {}", lab_words(s)) } else { String::new() };
        all.push(line("picked", format!("{}, {}{value}", s.name, s.family)));
        all.extend(details(book, id, s));
        all.extend(pinned_words(pane, s).map(|words| line("pinned", words)));
    }
    all.extend(pane.vision_words().map(|w| line("eyes", w)));
    if let Some(id) = pane.paper() {
        all.extend(paper_facts(pane, ctx, id));
    }
    if let Some(asked) = pane.asked() {
        for (id, d) in &asked.matches {
            all.push(line(format!("near {}", asked.text), near_words(pane, *id, *d)));
        }
    }
    all.push(line("trios with", format!("{}: {}", pane.base_words(book), pane.trio_words())));
    let picked = pane.trio.row(pane.trios.len());
    for (n, trio) in pane.trios.iter().enumerate() {
        let sign = if picked == Some(n) { " (picked)" } else { "" };
        all.push(line(format!("{}{sign}", trio_label(trio)), trio_line(book, pane, trio)));
    }
    if pane.trios.is_empty() {
        all.push(line("trios", no_trios(pane, ctx.book)));
    }
    all.extend(pane.picked_trio().into_iter().flat_map(|trio| card_facts(pane, ctx, trio.swatches)));
    all.push(line("verdict", DAYLIGHT));
    all
}

/// `#4f7942, Lab 47.1 -24.5 26.8, measured`.
pub fn lab_words(s: &Swatch) -> String {
    format!("{}, Lab {:.1} {:.1} {:.1}, {}", s.hex, s.lab.l, s.lab.a, s.lab.b, s.origin.word())
}

/// Lines of stock in a colour that are named one by one.
const MOST_HELD: usize = 24;

/// The name of its kind.
pub fn about(swatch: &Swatch) -> String {
    let measured = if swatch.origin == LabOrigin::Measured { ", measured" } else { "" };
    naming::about(swatch.lab) + measured
}

/// What is held in a colour in few words, as many lines of the shelf as `fits` lets stand, and how many more there are.
pub fn held_briefly(book: &Book, id: SwatchId, fits: impl Fn(&str) -> bool) -> String {
    let all: Vec<String> =
        in_colour(book, id).map(|(item, i)| format!("{} {}", book.on_hand(item), i.name)).collect();
    if all.is_empty() {
        return NOTHING_HELD.to_owned();
    }
    let first = |n: usize| {
        let more = if n < all.len() { format!(" and {} more", all.len() - n) } else { String::new() };
        format!("Held: {}{more}", all.iter().take(n).map(String::as_str).collect::<Vec<_>>().join("; "))
    };
    (1..=all.len()).rev().map(first).find(|words| fits(words)).unwrap_or_else(|| first(1))
}

/// How much card stock is held in a colour, or what of it is free where some is set aside, and whether some leaves: `146 sheets`,
/// `6 free`, `1 short`, `6, leaving`, `no sheets`.
pub fn held_sheets(book: &Book, id: SwatchId) -> String {
    let (mut sheets, mut free, mut leaves) = (0, 0, false);
    for (item, i) in in_colour(book, id).filter(|(_, i)| i.kind == Kind::PlainSheet) {
        sheets += book.on_hand(item);
        free += book.free(item);
        leaves |= matches!(i.state, State::Leaving(_) | State::Gone);
    }
    match (sheets, leaves) {
        (0, _) => "no sheets".to_owned(),
        (n, true) => format!("{n}, leaving"),
        (_, false) if free < 0 => format!("{} short", -free),
        (n, false) if free < n as i64 => format!("{free} free"),
        (n, false) => count_of(n, "sheet"),
    }
}

/// Said where nothing is held in a colour.
const NOTHING_HELD: &str = "Nothing in this color on the shelf";

/// The lines of the shelf that have a colour; patterned papers stand apart.
fn in_colour(book: &Book, id: SwatchId) -> impl Iterator<Item = (ItemId, &Item)> {
    book.items().iter().filter(move |(_, i)| i.swatch == Some(id) && i.kind != Kind::PatternedPaper)
}

/// What is to be said of a colour besides its values: label and words.
pub fn details(book: &Book, id: SwatchId, swatch: &Swatch) -> Vec<FactLine> {
    let mut all = vec![line("about", about(swatch))];
    if let Some(kept) = book.swatches().get(id) {
        if !kept.former_names.is_empty() {
            all.push(line("also", kept.former_names.join(", ")));
        }
        if !kept.note.is_empty() {
            all.push(line("note", kept.note.clone()));
        }
    }
    let mut in_colour = in_colour(book, id);
    let mut held: Vec<String> =
        in_colour.by_ref().take(MOST_HELD).map(|(item, i)| item_words(i, book.on_hand(item))).collect();
    let more = in_colour.count();
    if more > 0 {
        held.push(format!("and {more} more"));
    }
    let held = if held.is_empty() { NOTHING_HELD.to_lowercase() } else { held.join("; ") };
    all.push(line("held", held));
    let inks = ink_words(book, swatch);
    if !inks.is_empty() {
        all.push(line("inks on it", inks));
    }
    let papers: Vec<String> = papers::holding(book, id).iter().map(|p| book.items().name_of(*p)).collect();
    if !papers.is_empty() {
        all.push(line("patterns", papers.join(", ")));
    }
    all
}

/// `40 fern floor, letter, WS-2015, shelf 2`.
fn item_words(item: &Item, count: u64) -> String {
    let state = if item.state == State::Current { String::new() } else { item.state.to_string() };
    let parts = [paper::numbers(item), item.place.clone(), state, item.note.clone()];
    let rest: Vec<String> = parts.into_iter().filter(|p| !p.is_empty()).collect();
    let rest = if rest.is_empty() { String::new() } else { format!(" ({})", rest.join(", ")) };
    format!("{count} {}{rest}", item.name)
}

/// The inks that read best on a paper of this colour.
fn ink_words(book: &Book, swatch: &Swatch) -> String {
    let all = readings(book, swatch.hex);
    let each = all.iter().take(INKS).map(|r| {
        let item = book.items().get(r.ink);
        let kind = if item.is_some_and(|i| i.opaque) { ", opaque" } else { "" };
        let left = if r.is_held { "" } else { ", none left" };
        let name = book.items().name_of(r.ink);
        format!("{name} {:.1}:1{kind}, {}{left}", r.reading.ratio, r.reading.grade.words())
    });
    each.collect::<Vec<_>>().join("; ")
}

/// What the pinned colour is to the picked one.
pub fn pinned_words(pane: &PalettePane, picked: &Swatch) -> Option<String> {
    let other = pane.pinned.and_then(|id| pane.colour(id))?;
    let d = ciede2000(other.lab, picked.lab);
    Some(format!("{}: {}{}", other.name, reading(d), distance(pane, d)))
}

/// A swatch near to a colour: its name, how near it is to the eye, and the distance where figures are wanted.
fn near_words(pane: &PalettePane, id: SwatchId, d: f64) -> String {
    format!("{}, {}{}", pane.name(id), reading(d), distance(pane, d))
}

/// A distance (CIEDE2000), where figures are wanted.
pub fn distance(pane: &PalettePane, d: f64) -> String {
    if pane.figures { format!(" (dE00 {d:.1})") } else { String::new() }
}

/// The scheme of a trio and what else is to be said in few words, the more telling first.
pub fn trio_remarks(book: &Book, trio: &Listed) -> Vec<&'static str> {
    let kept = trio.kept.and_then(|id| book.trios().get(id));
    let mut parts = Vec::new();
    match kept {
        Some(k) if k.favourite => parts.push("favorite"),
        Some(k) if k.own => parts.push("own"),
        Some(_) => parts.push("kept"),
        None => {}
    }
    if let Some(v) = &trio.verdict {
        if v.to_buy.is_some() {
            parts.push("one to buy");
        }
        if v.leaving {
            parts.push("uses up leaving");
        }
        parts.push(v.scheme.name());
    }
    parts
}

/// Why a trio stands where it stands, with what is to be watched, and its note; the figures where they are wanted.
pub fn trio_reason(book: &Book, pane: &PalettePane, trio: &Listed) -> Vec<String> {
    let Some(said) = said_of(pane, trio) else { return Vec::new() };
    let kept = trio.kept.and_then(|id| book.trios().get(id));
    let mut all = Vec::new();
    all.extend(kept.map(|k| &k.note).filter(|n| !n.is_empty()).map(|n| format!("your note: {n}")));
    // Warnings stand before reasons, of which those at the end have no room in a small window. That its weakest pair is seldom
    // chosen is said by the reason itself, which is a warning then.
    all.extend(TrioShort { seldom: false, ..said.short }.words());
    all.extend(trio.verdict.as_ref().and_then(|v| v.distinct.words(pane.figures)));
    let reason = (!pane.figures).then_some(said.reason);
    let (warning, reason) = if said.short.seldom { (reason, None) } else { (None, reason) };
    all.extend(warning);
    all.extend(pane.figures.then_some(said.figures));
    all.push(said.why);
    if trio.verdict.as_ref().is_some_and(|v| !v.all_seen) {
        all.push("too many swatches to look at every trio: another may stand higher".to_owned());
    }
    if let Some(id) = trio.verdict.as_ref().and_then(|v| v.to_buy) {
        all.push(format!("to buy: {}", pane.name(id)));
    }
    all.extend(reason);
    if pane.figures && trio.verdict.is_none() {
        all.push("outside the list as it is narrowed now".to_owned());
    }
    all
}

/// What is said of a trio: by the list, or of a kept one that is not in it, of its colours alone.
fn said_of(pane: &PalettePane, trio: &Listed) -> Option<TrioWords> {
    if let Some(verdict) = &trio.verdict {
        return Some(verdict.said.clone());
    }
    let [a, b, c] = trio.swatches.map(|id| pane.colour(id));
    Some(said::words_of([a?, b?, c?]))
}

/// What a trio's line begins with in plain text.
fn trio_label(trio: &Listed) -> &'static str {
    if trio.is_nearest() { "nearest trio" } else { "trio" }
}

fn trio_line(book: &Book, pane: &PalettePane, trio: &Listed) -> String {
    let names = trio.swatches.map(|s| pane.name(s).to_owned()).join(", ");
    let remarks = trio_remarks(book, trio).join(", ");
    let remarks = if remarks.is_empty() { remarks } else { format!(" ({remarks})") };
    let nearest = if trio.is_nearest() { format!("{}; ", NEAREST.to_lowercase()) } else { String::new() };
    format!("{names}{remarks}; {nearest}{}", trio_reason(book, pane, trio).join("; "))
}

/// Why there is no trio to show, and what would do.
pub fn no_trios(pane: &PalettePane, book: &Book) -> String {
    let of = || pane.base_words(book);
    match (pane.trios_asked, pane.no_trio) {
        (Some(_), _) => "Being worked out.".to_owned(),
        (None, Some(NoTrio::Dismissed)) => {
            format!(
                "You dismissed every trio with {}: <taught> brings them back, <own-choices> shows them too.",
                of()
            )
        }
        (None, Some(NoTrio::NotOnHand)) => {
            format!("Nothing on your shelf goes with {}: <trios-on-hand> lets every color join.", of())
        }
        (None, Some(NoTrio::NoBase)) => no_base(pane, book),
        (None, _) => too_few(pane.all.len()),
    }
}

/// What is missing where trios go with nothing.
fn no_base(pane: &PalettePane, book: &Book) -> String {
    match pane.base {
        TrioBase::Picked => "No swatch is picked: <palette-back> shows all of them again.".to_owned(),
        TrioBase::Paper(_) => {
            format!("No color is noted on {}: <patterned-papers> opens it and <paper-front> notes the picked one.", pane.base_words(book))
        }
        TrioBase::Card => "The card in hand has no color yet: <trio-base> lets trios go with the picked swatch, then <apply-trio> puts one on the card."
            .to_owned(),
    }
}

fn too_few(swatches: usize) -> String {
    let more = 3_usize.saturating_sub(swatches);
    let is = if swatches == 1 { "is 1" } else { &format!("are {swatches}") };
    let more = if more == 1 { "one more" } else { "two more" };
    format!(
        "A trio takes three colors and there {is}: <new-swatch> adds {more}, <import-swatches> brings in a list."
    )
}

/// A part of a card that wears a trio: its name, its colour and where the paper comes from.
pub fn part_words(book: &Book, dressed: &Dressed, part: &Dress) -> String {
    let from = match part.source {
        ColourSource::Sheet(_) => String::new(),
        ColourSource::Pattern(_) => format!(", brings {}", book.swatches().name_of(part.colour)),
        ColourSource::ToBuy => ", to buy".to_owned(),
    };
    format!("{} {}{from}", dressed.place(part.layer), part.look(book).name)
}

/// The ink of the shelf that reads best on a colour, with its contrast; nothing where no ink is held.
pub fn best_ink(book: &Book, swatch: &Swatch) -> Option<String> {
    let best = readings(book, swatch.hex).into_iter().find(|ink| ink.is_held)?;
    let weak = if best.reading.grade == Legibility::Weak { ", hard to read" } else { "" };
    Some(format!("{} {:.1}:1{weak}", book.items().name_of(best.ink), best.reading.ratio))
}

/// The picked trio on the card in hand, a part a line, with the ink that reads best on it.
fn card_facts(pane: &PalettePane, ctx: &Ctx, three: [SwatchId; 3]) -> Vec<FactLine> {
    let dressed = dress(ctx.book, ctx.card, three);
    let part = |part: &Dress| {
        let ink = pane.colour(part.ground(ctx.book)).and_then(|s| best_ink(ctx.book, s));
        let ink = ink.map(|words| format!("; reads best: {words}")).unwrap_or_default();
        line(format!("on {}", ctx.card.name), part_words(ctx.book, &dressed, part) + &ink)
    };
    dressed.parts.iter().map(part).collect()
}

fn paper_facts(pane: &PalettePane, ctx: &Ctx, id: ItemId) -> Vec<FactLine> {
    let book = ctx.book;
    let Some(item) = book.items().get(id) else { return Vec::new() };
    let mut all = vec![line("paper", item.name.clone())];
    for side in PaperSide::ALL {
        let names: Vec<&str> = side.colours(item).iter().map(|s| pane.name(*s)).collect();
        let names = if names.is_empty() { "no color noted".to_owned() } else { names.join(", ") };
        all.push(line(format!("its {}", side.word()), names));
    }
    all.extend(paper::lines(book, (id, item), ctx.unit).into_iter().map(|(label, words)| line(label, words)));
    all.push(line("matches", paper::matching(book, id)));
    all
}

/// What a colour of a picture is taken for.
pub fn photo_words(pane: &PalettePane, row: &PhotoRow) -> String {
    let near: Vec<String> = row.matches.iter().map(|(id, d)| near_words(pane, *id, *d)).collect();
    let near = if near.is_empty() { String::new() } else { format!(" (nearest: {})", near.join("; ")) };
    let name = row.swatch().map_or("not in your library", |id| pane.name(id));
    format!("{name}{near}")
}

fn photo_facts(pane: &PalettePane, book: &Book, view: &PhotoView) -> Vec<FactLine> {
    let mut all = vec![line("photo", view.path.clone())];
    if view.waiting.is_some() {
        all.push(line("colors", "being read"));
        return all;
    }
    if view.is_scene {
        all.push(line("papers", view.source.clone()));
    } else {
        all.push(line("white", view.source.clone()));
        all.push(line("trust", TRUST));
    }
    all.extend(view.notes.iter().map(|n| line("note", n.clone())));
    let picked = view.cursor.row(view.rows.len());
    for (n, row) in view.rows.iter().enumerate() {
        let sign = if picked == Some(n) { " (picked)" } else { "" };
        let value = if pane.figures { format!(", {}", row.hex) } else { String::new() };
        let words = format!("{:.0} %{value}, {}", row.share * 100.0, photo_words(pane, row));
        all.push(line(format!("color {}{sign}", n + 1), words));
    }
    let picked = view.trio.row(view.trios.len());
    for (n, trio) in view.trios.iter().enumerate() {
        let sign = if picked == Some(n) { " (picked)" } else { "" };
        all.push(line(format!("{}{sign}", trio_label(trio)), trio_line(book, pane, trio)));
    }
    if view.is_scene && view.trios.is_empty() {
        all.push(line("trios", NO_SCENE_TRIO));
    }
    all
}
