//! A new card as a form: its name, front, the base's paper, and the layers that most cards have, each with its measure and
//! its paper in one text: `1/8 fern`. Without a project the card in hand is what the form starts from and what is kept.

use super::edit;
use super::read;
use super::take;
use crate::app::panes::form::{FieldReader, FieldTakes, FormRow, FormTable, Offer, OneLine, Sight};
use crate::app::panes::papers;
use crate::app::reading::sides_words;
use crate::app::reply::Replies;
use crate::app::state::mats::MatsPane;
use crate::domain::cards::format;
use crate::domain::cards::layer::Shape;
use crate::domain::cards::parts::{Part, PartKind, layer_text};
use crate::domain::cards::reveal::Reveal;
use crate::domain::cardwork;
use crate::domain::length::{Length, Rounding, Unit};
use crate::domain::project::{CardLayer, PaperRef, ProjectCard};
use crate::domain::size::Size;
use crate::domain::stock::ItemId;

const NAME: usize = 0;
const FRONT: usize = 1;
const BASE: usize = 2;
const FIRST: usize = 3;

/// The layers that most cards have, in the order in which they are put on (common practice).
const ROLES: [Role; 4] = [Role::Mat(0), Role::Mat(1), Role::Strip, Role::Sentiment];

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Role {
    /// A mat, counted from the outermost.
    Mat(usize),
    Strip,
    Sentiment,
}

/// What a panel with words on it is called.
const SENTIMENT: &str = "sentiment";

/// The form.
pub static TABLE: FormTable = FormTable {
    title: |s| {
        let project = s.ctx.book.active_project();
        project
            .map_or_else(|| "New card, kept as a project".to_owned(), |p| format!("New card of {}", p.name))
    },
    rows: &ROWS,
    start: |_| NAME,
    one_line: |_, _, _| OneLine::None,
    take,
    again: |_| None,
};

static ROWS: [FormRow; 7] = [
    FormRow::new("name", "what you call it", |_, t| {
        if t.is_empty() {
            Err("the card needs a name: write what you call it".to_owned())
        } else {
            Ok(String::new())
        }
    }),
    FormRow::new("front", "a format such as A2, or width x height", |s, t| {
        let (size, name) = face(t, s.ctx.unit)?;
        let words = sides_words(size, s.ctx.unit);
        Ok(name.map_or(words.clone(), |name| format!("{name}, {words}")))
    })
    .fits(|s| s.ctx.card.face.exact(s.ctx.unit))
    .offers(FieldTakes::Text, |s| {
        format::all().into_iter().map(|f| Offer::new(f.name, f.face.about(s.ctx.unit))).collect()
    }),
    FormRow::new(
        "base",
        "the paper that is folded: some letters of its name; empty until you choose it",
        |s, t| Ok(if t.is_empty() { "no paper chosen".to_owned() } else { held(s, papers::find(s.ctx, t)) }),
    )
    .fits(|s| blank(s).base_item().map_or_else(String::new, |id| papers::name(s.ctx, id)))
    .offers(FieldTakes::Choice, offered),
    layer(0, "mat", "its reveal and its paper: 1/8 fern; empty for none"),
    layer(1, "second mat", "its reveal and its paper: 1/8 fern; empty for none"),
    layer(2, "strip", "its width and its paper: 3/4 posy, or 3/4, down, 1 posy; empty for none"),
    layer(3, "sentiment", "its size and its paper: 1 x 3 oat, or 1 x 3, 1/2, 4 oat; empty for none"),
];

const fn layer(n: usize, word: &'static str, hint: &'static str) -> FormRow {
    const READS: [FieldReader; 4] =
        [|s, t| words(s, 0, t), |s, t| words(s, 1, t), |s, t| words(s, 2, t), |s, t| words(s, 3, t)];
    const FITS: [fn(&Sight) -> String; 4] = [|s| now(s, 0), |s| now(s, 1), |s| now(s, 2), |s| now(s, 3)];
    FormRow::new(word, hint, READS[n]).fits(FITS[n]).offers(FieldTakes::Figures, offered)
}

fn offered(s: &Sight) -> Vec<Offer> {
    papers::all(s.ctx).into_iter().map(|(offer, _)| offer).collect()
}

fn held(s: &Sight, paper: Option<ItemId>) -> String {
    paper.map_or_else(String::new, |id| {
        format!("{}, {} on hand", s.ctx.book.items().name_of(id), s.ctx.book.on_hand(id))
    })
}

/// A front. A format that both systems have is that of the system whose unit is used; what it comes to is read back.
fn face(text: &str, unit: Unit) -> Result<(Size, Option<String>), String> {
    let system = if unit == Unit::Inch { "us" } else { "iso" };
    take::face(text, unit)
        .or_else(|why| take::face(&format!("{system}-{}", text.trim()), unit).map_err(|_| why))
}

/// What the form starts from: without a project the card in hand, in one a card of the same front and fold.
fn blank(s: &Sight) -> ProjectCard {
    let now = s.ctx.card;
    if s.ctx.book.active().is_none() {
        return now.clone();
    }
    ProjectCard { fold: now.fold, ..ProjectCard::new("", now.face) }
}

/// The layer of a card that has this role.
fn of_role(card: &ProjectCard, role: Role) -> Option<usize> {
    let is = |l: &CardLayer| match role {
        Role::Mat(_) => matches!(l.shape, Shape::Inset(_)) && l.frame.is_none(),
        Role::Strip => matches!(l.shape, Shape::Strip { .. }),
        Role::Sentiment => {
            matches!(l.shape, Shape::Panel { .. }) && (l.name.is_empty() || l.name == SENTIMENT)
        }
    };
    let nth = if let Role::Mat(n) = role { n } else { 0 };
    card.layers.iter().enumerate().filter(|(_, l)| is(l)).nth(nth).map(|(n, _)| n)
}

/// A layer of the card that the form starts from, as it would be typed.
fn now(s: &Sight, n: usize) -> String {
    let card = blank(s);
    let layer = ROLES.get(n).and_then(|role| card.layers.get(of_role(&card, *role)?));
    layer.map_or_else(String::new, |l| {
        let paper = l.item().map_or_else(String::new, |id| papers::name(s.ctx, id));
        format!("{} {paper}", layer_text(&on_the_rule(l, s.ctx.unit), s.ctx.unit)).trim().to_owned()
    })
}

/// A mat whose reveal falls between the ticks of a metric rule, with the nearest one that does not: 1/16 in is 2 mm then.
fn on_the_rule(layer: &CardLayer, unit: Unit) -> CardLayer {
    let half = Length::tenths_mm(5);
    let round = |side: Length| {
        if side.is_on(half) {
            side
        } else {
            side.round_to(Length::mm(1), Rounding::Nearest).value.max(Length::mm(1))
        }
    };
    let shape = match (unit, layer.shape) {
        (Unit::Mm, Shape::Inset(r)) => {
            Shape::Inset(Reveal::sides(round(r.left), round(r.top), round(r.right), round(r.bottom)))
        }
        (_, shape) => shape,
    };
    CardLayer { shape, ..layer.clone() }
}

/// A layer as it is typed: measures, and behind them the paper.
///
/// # Errors
/// The sentence that says which of the two cannot be read.
fn typed(s: &Sight, role: Role, text: &str) -> Result<Option<CardLayer>, String> {
    if text.is_empty() {
        return Ok(None);
    }
    let kind = match role {
        Role::Mat(_) => PartKind::Mat,
        Role::Strip => PartKind::Strip,
        Role::Sentiment => PartKind::Panel,
    };
    let name = if role == Role::Sentiment { SENTIMENT } else { "" };
    match read::part(s.ctx, kind, text)? {
        Part::Layer(layer) => Ok(Some(CardLayer { name: name.to_owned(), ..*layer })),
        Part::Extra(_) => Ok(None),
    }
}

/// The card as the form has it, with the layers of the first so many rows.
fn card(s: &Sight, rows: usize) -> Result<ProjectCard, String> {
    let mut card = blank(s);
    s.text(NAME).clone_into(&mut card.name);
    card.face = face(s.text(FRONT), s.ctx.unit)?.0;
    // A paper that is none of the shelf stays until one of the shelf is named.
    match (papers::find(s.ctx, s.text(BASE)), &card.base_paper) {
        (None, Some(PaperRef::Other(_))) => {}
        (found, _) => card.base_paper = found.map(PaperRef::Shelf),
    }
    let start = card.clone();
    let mut gone = Vec::new();
    for (n, role) in ROLES.iter().enumerate().take(rows) {
        let text = s.text(FIRST + n);
        if text == now(s, n) {
            continue;
        }
        match (of_role(&start, *role), typed(s, *role, text)?) {
            (Some(at), Some(new)) => {
                if let Some(layer) = card.layers.get_mut(at) {
                    (layer.shape, layer.paper) = (new.shape, new.paper);
                }
            }
            (Some(at), None) => gone.push(at),
            (None, Some(new)) => {
                let on = below(&card, *role);
                card.layers.push(CardLayer { on, ..new });
            }
            (None, None) => {}
        }
    }
    gone.sort_unstable();
    for at in gone.into_iter().rev() {
        card.layers.remove(at);
        card.layers.iter_mut().for_each(|l| l.on = None);
    }
    Ok(card)
}

/// What a new layer lies on: words go beside a strip, on the innermost mat. `None` for the layer before it.
fn below(card: &ProjectCard, role: Role) -> Option<usize> {
    let mat = card.layers.iter().rposition(|l| matches!(l.shape, Shape::Inset(_)))?;
    (role == Role::Sentiment && mat + 1 < card.layers.len()).then_some(mat)
}

/// What comes of a layer: its size as cut, and its paper.
fn words(s: &Sight, n: usize, text: &str) -> Result<String, String> {
    let Some(role) = ROLES.get(n) else { return Ok(String::new()) };
    let paper = if text == now(s, n) { None } else { typed(s, *role, text)?.and_then(|l| l.item()) };
    if text.is_empty() {
        return Ok("none".to_owned());
    }
    let card = card(s, n + 1)?;
    if let Some(why) = edit::fault(s.ctx.book, &card, s.ctx.unit) {
        return Err(why);
    }
    let worked = cardwork::work(s.ctx.book, &card, &MatsPane::tools(s.ctx.book, s.ctx.unit));
    let at = of_role(&card, *role).unwrap_or(card.layers.len().saturating_sub(1));
    let size = worked.ok().and_then(|w| w.layers.get(at).map(|l| l.cut.size.show_with_unit(s.ctx.unit)));
    let paper = paper.or_else(|| card.layers.get(at).and_then(CardLayer::item));
    let said = [size.map_or_else(String::new, |size| format!("cut to {size}")), held(s, paper)];
    Ok(said.into_iter().filter(|w| !w.is_empty()).collect::<Vec<_>>().join(", from "))
}

fn take(s: &Sight) -> Replies {
    let card = card(s, ROLES.len())?;
    if let Some(why) = edit::fault(s.ctx.book, &card, s.ctx.unit) {
        return Err(why);
    }
    let name = card.name.clone();
    Ok(edit::add_card(s.ctx.book, card, &name))
}
