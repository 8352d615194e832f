//! `trimside card layer`: a layer put on, something made beside the card, or what is there changed, by the readers of the pane.

use super::named::{AnyPaper, given, yes_or_none};
use super::place::{beside_at, found, layer_at, put};
use crate::domain::book::{Book, folded};
use crate::domain::cardedit::{add, measure_extra, measure_layer};
use crate::domain::cardread;
use crate::domain::cards::made_by::MadeBy;
use crate::domain::cards::parts::{Part, PartKind};
use crate::domain::cardwork;
use crate::domain::edit::Edit;
use crate::domain::figures::count;
use crate::domain::harmless::harmless;
use crate::domain::length::Unit;
use crate::domain::project::{CardColour, CardExtra, CardLayer, ProjectCard};
use crate::domain::size::Grain;
use crate::domain::stock::ProjectId;

/// What is said of a layer, or of something made beside the card.
#[derive(clap::Args, Debug)]
pub struct LayerAsk {
    /// The project
    #[arg(value_name = "PROJECT")]
    pub project: String,
    /// The card
    #[arg(value_name = "CARD")]
    pub card: String,
    /// What it is: mat, frame, panel, strip, or beside the card: "belly band", pocket, "box and lid" and others
    #[arg(value_name = "PART", required_unless_present_any = ["at", "beside"])]
    pub what: Option<String>,
    /// Change the layer of this number instead, counted from 1
    #[arg(long, value_name = "N", conflicts_with_all = ["what", "beside"])]
    pub at: Option<String>,
    /// Change the thing made beside the card of this number instead, counted from 1
    #[arg(long, value_name = "N", conflicts_with = "what")]
    pub beside: Option<String>,
    /// Its measures, as Mats asks for them: a mat's reveal 1/8; "1/8, 1/2, 1/8" of a frame; "2x3, 1, 1" of a panel
    #[arg(long, value_name = "MEASURES")]
    pub size: Option<String>,
    /// Paper of the shelf that it is cut from; none takes it away
    #[arg(long, value_name = "PAPER")]
    pub paper: Option<String>,
    /// Its paper where that is not on the shelf: name, weight, thickness, as "oat, 80 lb cover, 0.012 in"
    #[arg(long, value_name = "WORDS", conflicts_with = "paper")]
    pub other_paper: Option<String>,
    /// How many a card takes
    #[arg(long, value_name = "N")]
    pub count: Option<String>,
    /// Move it to this place among its like, counted from 1
    #[arg(long, value_name = "N")]
    pub to: Option<String>,
    /// What only layers have.
    #[command(flatten)]
    pub layer: LayerFigures,
}

/// What a layer has, and what is made beside a card has not.
#[derive(clap::Args, Debug, Default)]
pub struct LayerFigures {
    /// Make it another kind of layer: mat, frame, panel or strip
    #[arg(long, value_name = "LAYER", requires = "at")]
    pub kind: Option<String>,
    /// Frame's width and overlap of its insert, "1/2, 1/8"; none makes it a plain mat
    #[arg(long, value_name = "MEASURES")]
    pub frame: Option<String>,
    /// Paper of the shelf behind a frame's opening; none takes it away
    #[arg(long, value_name = "PAPER")]
    pub behind: Option<String>,
    /// The same where that paper is not on the shelf
    #[arg(long, value_name = "WORDS", conflicts_with = "behind")]
    pub other_behind: Option<String>,
    /// Its color: a swatch, or a name of your own; none takes it away
    #[arg(long, value_name = "SWATCH")]
    pub swatch: Option<String>,
    /// What it is called; none for its place alone
    #[arg(long, value_name = "NEW")]
    pub name: Option<String>,
    /// May it be turned on the sheet: yes or no
    #[arg(long, value_name = "YES|NO")]
    pub turn: Option<String>,
    /// How it is made: straight cut, die-cut, torn, embossed or printed to the edge; brings the usual paper around it
    #[arg(long, value_name = "WAY")]
    pub made_by: Option<String>,
    /// Paper needed around it on every side for that
    #[arg(long, value_name = "LENGTH")]
    pub allowance: Option<String>,
    /// Side of it that the grain runs along: long, short or any
    #[arg(long, value_name = "SIDE")]
    pub grain: Option<String>,
    /// Foam or tape under it, by name or thickness; 0 for glued flat
    #[arg(long, value_name = "FOAM")]
    pub raise: Option<String>,
    /// Layer that it lies on, by its number; none for the previous layer
    #[arg(long, value_name = "N")]
    pub on: Option<String>,
}

/// The edit that was asked for.
pub(super) fn edit(ask: &LayerAsk, book: &Book, id: ProjectId, unit: Unit) -> Result<Edit, String> {
    let (at, mut now) = found(book, id, &ask.card)?;
    let label = match (&ask.at, &ask.beside) {
        (Some(n), _) => {
            let n = layer_at("--at", n, &now)?;
            let named = now.layer_name(n);
            change_layer(ask, book, &mut now, n, unit)?;
            format!("changed {named}")
        }
        (None, Some(n)) => {
            let n = beside_at("--beside", n, &now)?;
            given("--size", ask.size.as_ref(), |text| measure_extra(&mut now, n, text, unit))?;
            dress_extra(ask, book, &mut now, n, unit)?;
            let word = now.extras.get(n).map_or("", |e| PartKind::of_make(&e.make).word());
            move_extra(ask, &mut now, n)?;
            format!("changed the {word}")
        }
        (None, None) => {
            let kind = add_part(ask, book, &mut now, unit)?;
            format!("added one {}", kind.word())
        }
    };
    put(book, (id, at), now, &label, unit)
}

fn add_part(ask: &LayerAsk, book: &Book, now: &mut ProjectCard, unit: Unit) -> Result<PartKind, String> {
    let word = ask.what.as_deref().unwrap_or_default();
    let all = || PartKind::LAYERS.into_iter().chain(PartKind::BESIDE);
    let kind = all().find(|k| folded(k.word()) == folded(word)).ok_or_else(|| {
        let words: Vec<&str> = all().map(PartKind::word).collect();
        format!("\"{}\" is not a part of a card: write one of {}", harmless(word), words.join(", "))
    })?;
    let usual = kind.usual(unit);
    let part = kind.read(ask.size.as_deref().unwrap_or(&usual), unit).map_err(|e| format!("--size: {e}"))?;
    let is_layer = matches!(part, Part::Layer(_));
    add(now, part);
    if is_layer {
        let n = now.layers.len() - 1;
        dress(ask, book, now, n, unit)?;
        move_layer(ask, now, n)?;
    } else if let Some(n) = now.extras.len().checked_sub(1) {
        dress_extra(ask, book, now, n, unit)?;
        move_extra(ask, now, n)?;
    }
    Ok(kind)
}

fn change_layer(
    ask: &LayerAsk,
    book: &Book,
    now: &mut ProjectCard,
    n: usize,
    unit: Unit,
) -> Result<(), String> {
    given("--kind", ask.layer.kind.as_ref(), |word| {
        let all = PartKind::LAYERS;
        let kind = all.into_iter().find(|k| folded(k.word()) == folded(word)).ok_or_else(|| {
            format!("\"{word}\" is not a kind of layer: write one of {}", all.map(PartKind::word).join(", "))
        })?;
        let worked = cardwork::work(book, now, &cardwork::tools(book, unit)).map_err(|e| e.to_string())?;
        let size = worked.layers.iter().find(|l| l.index == n).map(|l| l.cut.size);
        cardread::turn_into(now, n, kind, size.unwrap_or(now.face), unit);
        Ok(())
    })?;
    given("--size", ask.size.as_ref(), |text| measure_layer(now, n, text, unit))?;
    dress(ask, book, now, n, unit)?;
    move_layer(ask, now, n)
}

/// Gives a layer what was named besides its measures.
fn dress(ask: &LayerAsk, book: &Book, card: &mut ProjectCard, n: usize, unit: Unit) -> Result<(), String> {
    let more = &ask.layer;
    let Some(layer) = card.layers.get_mut(n) else { return Ok(()) };
    let paper = AnyPaper { shelf: ask.paper.as_deref(), other: ask.other_paper.as_deref() };
    paper.put(book, ["--paper", "--other-paper"], unit, &mut layer.paper)?;
    given("--frame", more.frame.as_ref(), |text| cardread::frame(layer, &yes_or_none(text), unit))?;
    let behind = AnyPaper { shelf: more.behind.as_deref(), other: more.other_behind.as_deref() };
    if (behind.shelf.is_some() || behind.other.is_some()) && layer.frame.is_none() {
        return Err(
            "--behind: only a frame has something behind it: --frame makes the mat a frame".to_owned()
        );
    }
    behind.put(book, ["--behind", "--other-behind"], unit, &mut layer.insert)?;
    given("--swatch", more.swatch.as_ref(), |name| {
        layer.colour = match (name, book.find_swatch(name)) {
            ("none", _) => None,
            (_, Some(id)) => Some(CardColour::Swatch(id)),
            (name, None) => Some(CardColour::Named(name.to_owned())),
        };
        Ok(())
    })?;
    if let Some(name) = &more.name {
        layer.name = yes_or_none(name.trim());
    }
    given("--count", ask.count.as_ref(), |text| count(text, 1).map(|n| layer.count = n))?;
    lying(more, layer, unit)?;
    put_on(more, layer, n)
}

/// How it lies on its sheet, and what lifts it.
fn lying(more: &LayerFigures, layer: &mut CardLayer, unit: Unit) -> Result<(), String> {
    given("--turn", more.turn.as_ref(), |text| {
        layer.may_turn = yes(text)?;
        Ok(())
    })?;
    given("--made-by", more.made_by.as_ref(), |text| {
        MadeBy::from_word(text).map(|way| way.put(&mut layer.made_by, &mut layer.allowance))
    })?;
    given("--allowance", more.allowance.as_ref(), |text| {
        cardread::length_or_zero(text, unit).map(|l| layer.allowance = l)
    })?;
    given("--grain", more.grain.as_ref(), |text| grain(text).map(|g| layer.grain = g))?;
    given("--raise", more.raise.as_ref(), |text| cardread::raise(text, unit).map(|t| layer.raise = t))
}

/// Yes or no.
pub(super) fn yes(text: &str) -> Result<bool, String> {
    match text {
        "yes" => Ok(true),
        "no" => Ok(false),
        _ => Err(format!("\"{text}\": write yes or no")),
    }
}

/// The side that the grain runs along.
pub(super) fn grain(text: &str) -> Result<Grain, String> {
    match text {
        "any" => Ok(Grain::Unknown),
        text => {
            let known = Grain::from_word(text).filter(|_| !text.is_empty());
            known.ok_or_else(|| format!("\"{text}\": write long, short or any"))
        }
    }
}

/// Puts the layer on one of those before it, or back on the one just before.
fn put_on(more: &LayerFigures, layer: &mut CardLayer, n: usize) -> Result<(), String> {
    given("--on", more.on.as_ref(), |text| {
        let below = text.parse::<usize>().ok().filter(|on| (1..=n).contains(on));
        layer.on = match (text, below) {
            ("none", _) => None,
            (_, Some(on)) => Some(on - 1),
            _ if n == 0 => {
                return Err(format!("no layer {text} before it: the first layer lies on the base"));
            }
            _ => return Err(format!("no layer {text} before it: it is 1 to {n}, or none")),
        };
        Ok(())
    })
}

/// Gives what is made beside the card its paper and count.
fn dress_extra(
    ask: &LayerAsk,
    book: &Book,
    card: &mut ProjectCard,
    n: usize,
    unit: Unit,
) -> Result<(), String> {
    let more = &ask.layer;
    let only_layers = [
        ("--frame", &more.frame),
        ("--behind", &more.behind),
        ("--other-behind", &more.other_behind),
        ("--swatch", &more.swatch),
        ("--name", &more.name),
        ("--turn", &more.turn),
        ("--made-by", &more.made_by),
        ("--allowance", &more.allowance),
        ("--grain", &more.grain),
        ("--raise", &more.raise),
        ("--on", &more.on),
    ];
    if let Some((option, _)) = only_layers.iter().find(|(_, given)| given.is_some()) {
        return Err(format!(
            "{option} goes with a layer: what is made beside a card has size, paper and count"
        ));
    }
    let Some(CardExtra { paper, count: many, .. }) = card.extras.get_mut(n) else { return Ok(()) };
    let named = AnyPaper { shelf: ask.paper.as_deref(), other: ask.other_paper.as_deref() };
    named.put(book, ["--paper", "--other-paper"], unit, paper)?;
    given("--count", ask.count.as_ref(), |text| count(text, 1).map(|n| *many = n))
}

/// Moves a layer place by place, as the keys of Mats do.
fn move_layer(ask: &LayerAsk, card: &mut ProjectCard, n: usize) -> Result<(), String> {
    let Some(text) = &ask.to else { return Ok(()) };
    let to = layer_at("--to", text, card)?;
    let mut at = n;
    while at != to {
        let next = if to > at { at + 1 } else { at - 1 };
        cardread::swap_layers(card, at, next);
        at = next;
    }
    Ok(())
}

fn move_extra(ask: &LayerAsk, card: &mut ProjectCard, n: usize) -> Result<(), String> {
    let Some(text) = &ask.to else { return Ok(()) };
    let to = beside_at("--to", text, card)?;
    let moved = card.extras.remove(n);
    card.extras.insert(to, moved);
    Ok(())
}
