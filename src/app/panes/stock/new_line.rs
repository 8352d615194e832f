//! A new line of the shelf as a form: what it is, how many are there, its colour, how it is bought. What the line in hand has, or the
//! newest of the kind, is what fits; a colour that the library does not have is made along with the line.

use super::typed::count;
use crate::app::panes::form::{FieldTakes, FormRow, FormTable, Offer, OneLine, Sight};
use crate::app::reply::{Replies, Reply};
use crate::app::state::forms::FormFor;
use crate::domain::colour::parse;
use crate::domain::edit::{Edit, Row as BookRow};
use crate::domain::length::Unit;
use crate::domain::library::on_the_spot::{self, Named};
use crate::domain::money::Money;
use crate::domain::plural::count_of;
use crate::domain::stock::field::Field;
use crate::domain::stock::import::MOST_ITEMS;
use crate::domain::stock::{Item, Kind, NewLine};
use std::collections::BTreeMap;

const KIND: usize = 0;
const SIZE: usize = 1;
const NAME: usize = 2;
const HELD: usize = 3;
const COLOUR: usize = 4;
const VALUE: usize = 5;
const PRICE: usize = 6;
const PACK: usize = 7;
const LOW: usize = 8;
const ONE_WAY: usize = 9;

/// The form.
pub static TABLE: FormTable = FormTable {
    title: |_| "New line of the shelf".to_owned(),
    rows: &ROWS,
    start: |_| NAME,
    one_line,
    take,
    again: |s| Some(FormFor::NewLine(Some(s.ctx.book.items().next()))),
};

static ROWS: [FormRow; 10] = [
    FormRow::new("kind", "what it is", |s, _| Ok(kind_words(s)))
        .fits(usual_kind)
        .offers(FieldTakes::Choice, kinds),
    FormRow::new("size", "a format or width x height, such as 8-1/2 x 11; empty for none", |s, t| {
        by_field(s, Field::Size, t)
    })
    .fits(usual_size)
    .offers(FieldTakes::Text, formats)
    .where_(|s| Field::Size.belongs_to(kind(s))),
    FormRow::new("name", "what you call it", read_name),
    FormRow::new("on hand", "how many are there", read_held).fits(|_| "0".to_owned()),
    FormRow::new("color", "one of the library, or a new one with its value: moss #8a9a5b", |s, _| {
        read_colours(s)
    })
    .fits(own_colour)
    .offers(FieldTakes::Several, colours),
    FormRow::new(
        "its value",
        "#8a9a5b, rgb(), lab() or a color word; of several new colors with commas",
        |s, _| read_value(s),
    )
    .offers(FieldTakes::Several, colour_words)
    .where_(|s| !lacking(s).is_empty()),
    FormRow::new("price", "of a pack, or of one where it is sold singly; empty for none", read_price)
        .fits(|s| field_alike(s, Field::Price))
        .doubts(far_price),
    FormRow::new("pack of", "how many come in a pack; 1 if sold singly", |_, t| {
        Ok(match count(or(t, "1"), 1)? {
            1 => "bought singly".to_owned(),
            n => format!("{n} come together"),
        })
    })
    .fits(|s| or(&field_alike(s, Field::Pack), "1").to_owned())
    .doubts(large_pack),
    FormRow::new("low mark", "reorder when fewer are free; 0 for never", read_low)
        .fits(|s| or(&field_alike(s, Field::Low), "0").to_owned()),
    FormRow::new("one-way pattern", "yes where pieces may not be turned", |_, t| {
        Ok(if t == "yes" { "it stays upright" } else { "it may be turned" }.to_owned())
    })
    .fits(|_| "no".to_owned())
    .offers(FieldTakes::Choice, |_| vec![Offer::new("no", ""), Offer::new("yes", "")])
    .where_(|s| kind(s) == Kind::PatternedPaper),
];

fn or<'a>(text: &'a str, usual: &'a str) -> &'a str {
    if text.trim().is_empty() { usual } else { text }
}

fn kind(s: &Sight) -> Kind {
    Kind::from_word(s.text(KIND)).unwrap_or_default()
}

fn kind_words(s: &Sight) -> String {
    let n = s.ctx.book.items().iter().filter(|(_, i)| i.kind == kind(s)).count();
    if n == 0 { "the first of its kind".to_owned() } else { format!("{n} on the shelf") }
}

/// The line that the form was opened on.
fn like<'a>(s: &Sight<'a>) -> Option<&'a Item> {
    let FormFor::NewLine(Some(id)) = s.what else { return None };
    s.ctx.book.items().get(*id)
}

/// What fits is read off a line of the kind: the one that the form was opened on, else the newest.
fn alike(s: &Sight, kind: Kind) -> Option<Item> {
    if let Some(like) = like(s).filter(|i| i.kind == kind) {
        return Some(like.clone());
    }
    s.ctx.book.items().iter().rfind(|(_, i)| i.kind == kind).map(|(_, i)| i.clone())
}

/// What stands in a field of that line.
fn field_alike(s: &Sight, field: Field) -> String {
    alike(s, kind(s)).map_or_else(String::new, |i| field.text(&i, &s.ctx.terms()))
}

fn usual_kind(s: &Sight) -> String {
    like(s).map_or(Kind::PlainSheet, |i| i.kind).said().to_owned()
}

/// Kinds, those of most lines first.
fn kinds(s: &Sight) -> Vec<Offer> {
    let lines = |kind: Kind| s.ctx.book.items().iter().filter(|(_, i)| i.kind == kind).count();
    let mut all = Kind::ALL.map(|k| (lines(k), k));
    all.sort_by_key(|(n, k)| (std::cmp::Reverse(*n), *k));
    all.map(|(n, k)| Offer::new(k.said(), format!("{n} on the shelf"))).into()
}

/// The size of such a line; for the first one of its kind what the trade mostly sells (common practice).
fn usual_size(s: &Sight) -> String {
    let kind = kind(s);
    if let Some(item) = alike(s, kind) {
        return item.size.map_or_else(String::new, |size| format_name(s, size));
    }
    match (kind, s.ctx.unit) {
        (Kind::PlainSheet, Unit::Inch) => "letter",
        (Kind::PlainSheet, Unit::Mm) => "A4",
        (Kind::PatternedPaper, _) => "12x12",
        _ => "",
    }
    .to_owned()
}

fn format_name(s: &Sight, size: crate::domain::size::Size) -> String {
    let named = s.ctx.formats.all().iter().find(|f| f.size.upright() == size.upright());
    named.map_or_else(|| size.exact_with_unit(s.ctx.unit), |f| f.name.clone())
}

/// Formats, those of most lines first.
pub fn formats(s: &Sight) -> Vec<Offer> {
    let mut used: BTreeMap<String, usize> = BTreeMap::new();
    for (_, item) in s.ctx.book.items().iter() {
        if let Some(size) = item.size {
            *used.entry(format_name(s, size)).or_default() += 1;
        }
    }
    let own = s.ctx.book.formats().iter().map(|(_, f)| (f.name.clone(), f.size));
    let known = s.ctx.formats.all().iter().map(|f| (f.name.clone(), f.size));
    let mut all: Vec<(String, _)> = own.chain(known).collect();
    all.sort_by_key(|(name, _)| std::cmp::Reverse(used.get(name).copied().unwrap_or(0)));
    all.into_iter().map(|(name, size)| Offer::new(name, size.as_made(s.ctx.unit))).collect()
}

/// Reads a text as a field of the line does, and says what stands there then.
fn by_field(s: &Sight, field: Field, text: &str) -> Result<String, String> {
    let item = field.read(&Item::new("a line", kind(s)), text, &s.ctx.terms())?;
    let seen = crate::domain::stock::field::Seen { id: s.ctx.book.items().next(), item, on_order: 0 };
    let shown = field.shown(&seen, &s.ctx.terms());
    Ok(if shown == "-" { String::new() } else { shown })
}

fn read_name(s: &Sight, text: &str) -> Result<String, String> {
    if text.is_empty() {
        return Err("the line needs a name: write what you call it".to_owned());
    }
    Field::Name.read(&Item::new("a line", kind(s)), text, &s.ctx.terms())?;
    let size = Field::Size.read(&Item::new("a line", kind(s)), s.text(SIZE), &s.ctx.terms()).ok();
    let size = size.and_then(|i| i.size);
    let same = s.ctx.book.items_named(text).find(|(_, i)| i.kind == kind(s) && i.size == size);
    match same {
        Some(_) => Err(s.ctx.keys.say(&format!(
            "{text} is on the shelf already as {} of that size: <filter> finds it, <receive> logs what came in",
            kind(s).said()
        ))),
        None => Ok(format!("{text}, a new line")),
    }
}

fn read_held(s: &Sight, text: &str) -> Result<String, String> {
    let n = count(or(text, "0"), 0)?;
    let word = if kind(s).is_paper() { "sheet" } else { "piece" };
    Ok(if n == 0 { "none yet".to_owned() } else { count_of(u64::from(n), word) })
}

fn read_low(_: &Sight, text: &str) -> Result<String, String> {
    Ok(match count(or(text, "0"), 0)? {
        0 => "never on the reorder list".to_owned(),
        1 => "reorder when none is free".to_owned(),
        n => format!("reorder when fewer than {n} are free"),
    })
}

fn read_price(s: &Sight, text: &str) -> Result<String, String> {
    if text.is_empty() {
        return Ok("no price".to_owned());
    }
    let price = Money::parse(text, s.currency()).map_err(|e| e.to_string())?;
    let pack = count(or(s.text(PACK), "1"), 1).unwrap_or(1);
    let each = price.part(1, u64::from(pack));
    let shown = price.show(s.currency());
    Ok(if pack > 1 {
        format!("{shown} a pack of {pack}, {} each", each.show(s.currency()))
    } else {
        format!("{shown} each")
    })
}

/// A price a hundred times that of such a line, or a hundredth of it, is more often a slip.
fn far_price(s: &Sight, text: &str) -> Option<String> {
    let now = Money::parse(text, s.currency()).ok()?;
    let was = alike(s, kind(s))?.price?;
    super::typed::is_far(now, was)
        .then(|| format!("{} where the last one cost {}", now.show(s.currency()), was.show(s.currency())))
}

/// Sheets do not come by the thousand.
fn large_pack(_: &Sight, text: &str) -> Option<String> {
    let n = count(text, 1).ok()?;
    (n >= 1000).then(|| format!("a pack of {n}"))
}

/// The colour that has the line's own name, or the first part of it.
fn own_colour(s: &Sight) -> String {
    let name = s.text(NAME);
    let first = name.split(',').next().unwrap_or_default().trim();
    let known = [name, first].into_iter().find_map(|n| s.ctx.book.find_swatch(n));
    known.map_or_else(String::new, |id| s.ctx.book.swatches().name_of(id))
}

/// Colours, those that most lines have first.
pub fn colours(s: &Sight) -> Vec<Offer> {
    let mut used = BTreeMap::new();
    for (_, item) in s.ctx.book.items().iter() {
        item.front().into_iter().for_each(|id| *used.entry(id).or_insert(0_usize) += 1);
    }
    let mut all: Vec<_> = s.ctx.book.swatches().iter().collect();
    all.sort_by_key(|(id, _)| std::cmp::Reverse(used.get(id).copied().unwrap_or(0)));
    all.into_iter().map(|(_, c)| Offer::new(c.name.clone(), c.hex_text())).collect()
}

/// Colour words of the open web standard.
pub fn colour_words(_: &Sight) -> Vec<Offer> {
    parse::web_names().iter().map(|(name, hex)| Offer::new(name.clone(), hex.to_string())).collect()
}

/// The colour's own name where only its value is given.
fn thing(s: &Sight) -> String {
    s.text(NAME).split(',').next().unwrap_or_default().trim().to_owned()
}

fn named(s: &Sight) -> Result<Vec<Named>, String> {
    let all = on_the_spot::read(s.text(COLOUR), s.text(VALUE), &thing(s), s.ctx.book)?;
    if kind(s) != Kind::PatternedPaper && all.len() > 1 {
        return Err(
            "only a patterned paper has several colors: write one, or change the kind above".to_owned()
        );
    }
    Ok(all)
}

/// New colours that have no value beside their name.
fn lacking(s: &Sight) -> Vec<String> {
    let all = on_the_spot::read(s.text(COLOUR), "", &thing(s), s.ctx.book).unwrap_or_default();
    on_the_spot::unvalued(&all).into_iter().map(str::to_owned).collect()
}

fn read_colours(s: &Sight) -> Result<String, String> {
    // What is wrong with a value is said where it is typed.
    let all = named(s).or_else(|why| {
        let bare = on_the_spot::read(s.text(COLOUR), "", &thing(s), s.ctx.book)?;
        if lacking(s).is_empty() || bare.len() > 1 && kind(s) != Kind::PatternedPaper {
            Err(why)
        } else {
            Ok(bare)
        }
    })?;
    Ok(on_the_spot::words(&all, s.ctx.book))
}

fn read_value(s: &Sight) -> Result<String, String> {
    let all = named(s)?;
    match on_the_spot::unvalued(&all).first() {
        Some(name) => Err(on_the_spot::no_value(name)),
        None => Ok(on_the_spot::words(&all, s.ctx.book)),
    }
}

/// `fern, card stock, 8-1/2x11, 24`: the kind tells where the name, which may hold commas, ends.
fn one_line(_: &Sight, at: usize, text: &str) -> OneLine {
    let parts: Vec<&str> = text.split(',').map(str::trim).collect();
    let kind = parts.iter().enumerate().skip(1).find_map(|(n, p)| Some((n, Kind::from_word(p)?)));
    let (end, kind) = kind.filter(|_| at == NAME)?;
    let mut texts = vec![String::new(); ROWS.len()];
    if let Some(t) = texts.get_mut(NAME) {
        *t = parts.get(..end).unwrap_or_default().join(", ");
    }
    if let Some(t) = texts.get_mut(KIND) {
        kind.said().clone_into(t);
    }
    for part in parts.get(end + 1..).unwrap_or_default().iter().filter(|p| !p.is_empty()) {
        let row = if count(part, 0).is_ok() { HELD } else { SIZE };
        if let Some(t) = texts.get_mut(row) {
            (*part).clone_into(t);
        }
    }
    Some(Ok(texts))
}

/// The line as it stands in the form.
fn item(s: &Sight) -> Result<Item, String> {
    let terms = s.ctx.terms();
    let mut item = Field::Name.read(&Item::new("a line", kind(s)), s.text(NAME), &terms)?;
    let fields = [
        (Field::Size, SIZE, ""),
        (Field::Price, PRICE, ""),
        (Field::Pack, PACK, "1"),
        (Field::Low, LOW, "0"),
    ];
    for (field, row, usual) in fields {
        item = field.read(&item, or(s.text(row), usual), &terms)?;
    }
    item.one_way = s.text(ONE_WAY) == "yes";
    Ok(item)
}

/// One step: the new colours, the line, what is on hand.
fn take(s: &Sight) -> Replies {
    let book = s.ctx.book;
    read_name(s, s.text(NAME))?;
    if book.items().len() >= MOST_ITEMS {
        return Err(format!("the shelf holds {MOST_ITEMS} lines already, as many as there can be"));
    }
    let (mut edits, colours) = on_the_spot::made_in(&named(s)?, book)?;
    let mut item = item(s)?;
    item.swatch = colours.first().copied();
    item.colours = colours.into_iter().skip(1).collect();
    let (id, name) = (book.items().next(), item.name.clone());
    edits.push(Edit::Item(BookRow::add(id, item)));
    let n = count(or(s.text(HELD), "0"), 0)?;
    if n > 0 {
        edits.push(Edit::Log(NewLine::received(id, n, "")));
    }
    Ok(vec![Reply::Edit(Edit::batch(format!("put {name} on the shelf"), edits)), Reply::Item(id)])
}
