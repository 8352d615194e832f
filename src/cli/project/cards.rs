//! `trimside card`: cards of a project made and changed, layers put on and taken off, by the same edits as in Mats.

use super::told::{Done, bad, tell};
use crate::cli::stock::{change, class};
use crate::cli::{Desk, open_store};
use crate::domain::book::{Book, folded};
use crate::domain::cardedit::{add, card_into, card_put, fault, measure_layer};
use crate::domain::cards::fold::FoldKind;
use crate::domain::cards::format;
use crate::domain::cards::parts::{Part, PartKind};
use crate::domain::cards::reveal::Reveal;
use crate::domain::edit::{Edit, Row};
use crate::domain::figures::count;
use crate::domain::harmless::{harmless, is_blank};
use crate::domain::length::Unit;
use crate::domain::near::instead;
use crate::domain::project::{CardColour, CardLayer, ProjectCard};
use crate::domain::stock::{ItemId, Kind, ProjectId};

/// Cards of a project: made, changed, layers put on and taken off.
#[derive(clap::Args, Debug)]
pub struct CardArgs {
    /// What is done.
    #[command(subcommand)]
    pub what: CardWhat,
    /// Only show what it would do
    #[arg(long, global = true)]
    pub dry_run: bool,
    /// Answer as JSON
    #[arg(long, global = true)]
    pub json: bool,
}

/// What can be done with cards. `trimside project show` lists them.
#[derive(clap::Subcommand, Debug)]
pub enum CardWhat {
    /// Put a new card into a project
    Add {
        /// The project
        #[arg(value_name = "PROJECT")]
        project: String,
        /// Name of the new card
        #[arg(value_name = "NAME")]
        name: String,
        /// The closed card: a size (4-1/4x5-1/2) or a format (us-a2, iso-a6)
        #[arg(long, value_name = "FORMAT")]
        size: String,
        /// Mats with these reveals from the first one inward, commas between
        #[arg(long, value_name = "R[,R...]")]
        reveal: Option<String>,
        /// More of it.
        #[command(flatten)]
        more: CardFigures,
    },
    /// Change a card
    Change {
        /// The project
        #[arg(value_name = "PROJECT")]
        project: String,
        /// The card
        #[arg(value_name = "CARD")]
        card: String,
        /// Its new name
        #[arg(long, value_name = "NEW")]
        name: Option<String>,
        /// The closed card: a size or a format
        #[arg(long, value_name = "FORMAT")]
        size: Option<String>,
        /// More of it.
        #[command(flatten)]
        more: CardFigures,
    },
    /// Put a layer on, or something beside the card; with --at change the layer that is there
    Layer {
        /// The project
        #[arg(value_name = "PROJECT")]
        project: String,
        /// The card
        #[arg(value_name = "CARD")]
        card: String,
        /// What it is: mat, frame, panel, strip, or beside the card: "belly band", pocket, "box and lid" and others
        #[arg(value_name = "PART", required_unless_present = "at")]
        what: Option<String>,
        /// Its measures, as Mats asks for them: a mat's reveal 1/8; "1/8, 1/2, 1/8" of a frame; "2x3, 1, 1" of a panel
        #[arg(long, value_name = "MEASURES")]
        size: Option<String>,
        /// Change the layer of this number instead, counted from 1
        #[arg(long, value_name = "N", conflicts_with = "what")]
        at: Option<String>,
        /// Paper of the shelf that it is cut from; none takes it away
        #[arg(long, value_name = "PAPER")]
        paper: Option<String>,
        /// Its colour: a swatch, or a name of your own; none takes it away
        #[arg(long, value_name = "SWATCH")]
        swatch: Option<String>,
        /// What it is called
        #[arg(long, value_name = "NEW")]
        name: Option<String>,
        /// How many a card takes
        #[arg(long, value_name = "N")]
        count: Option<String>,
    },
    /// Take a layer off a card, or the card out of its project
    Drop {
        /// The project
        #[arg(value_name = "PROJECT")]
        project: String,
        /// The card
        #[arg(value_name = "CARD")]
        card: String,
        /// Only the layer of this number, counted from 1
        #[arg(long, value_name = "N")]
        layer: Option<String>,
    },
}

/// What a card has besides its size and layers.
#[derive(clap::Args, Debug, Default)]
pub struct CardFigures {
    /// The fold: side, top, gate, letter, roll, z, accordion, french, back or flat
    #[arg(long, value_name = "FOLD")]
    pub fold: Option<String>,
    /// Cards of this kind in a set
    #[arg(long, value_name = "N")]
    pub count: Option<String>,
    /// More of them, to spare over the whole project
    #[arg(long, value_name = "N")]
    pub spares: Option<String>,
    /// Paper of the shelf for the base; none takes it away
    #[arg(long, value_name = "PAPER")]
    pub paper: Option<String>,
    /// Envelope of the shelf that it goes into; none takes it away
    #[arg(long, value_name = "ENVELOPE")]
    pub envelope: Option<String>,
}

impl CardWhat {
    /// The project and the card that it is about.
    fn about(&self) -> (&str, &str) {
        match self {
            Self::Add { project, name: card, .. }
            | Self::Change { project, card, .. }
            | Self::Layer { project, card, .. }
            | Self::Drop { project, card, .. } => (project, card),
        }
    }
}

/// Does it, or shows what it would do.
///
/// # Errors
/// [`crate::cli::BadInput`] for what the person can mend, anything else for a failure.
pub fn run(args: &CardArgs, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let mut store = open_store(desk)?;
    let unit = desk.unit;
    let (project, card) = args.what.about();
    class::find(store.book(), project).map_err(bad)?;
    let done = change::carry_out(desk, &mut store, args.dry_run, |book| {
        let id = class::find(book, project)?;
        edit(&args.what, book, id, unit)
    })?;
    let now = match &args.what {
        CardWhat::Change { name: Some(name), .. } => name,
        _ => card,
    };
    tell(
        desk,
        args.json,
        &Done { words: &done, project: project.trim(), card: Some(now.trim()), is_dry: args.dry_run },
    )
}

fn edit(what: &CardWhat, book: &Book, id: ProjectId, unit: Unit) -> Result<Edit, String> {
    match what {
        CardWhat::Add { name, size, reveal, more, .. } => {
            let card = new_card(book, id, (name, size, reveal.as_deref()), more, unit)?;
            card_into(book, id, &card)
        }
        CardWhat::Change { card, name, size, more, .. } => {
            let (at, mut now) = found(book, id, card)?;
            if let Some(name) = name {
                is_free(book, id, name, Some(at))?;
                name.trim().clone_into(&mut now.name);
            }
            if let Some(size) = size {
                now.face = format::find(size, unit).map_err(|e| format!("--size: {e}"))?.face;
            }
            more.put(book, &mut now)?;
            put(book, (id, at), now, "changed the card", unit)
        }
        CardWhat::Layer { card, at: Some(_), .. } => changed_layer(what, book, (id, card), unit),
        CardWhat::Layer { card, .. } => new_layer(what, book, (id, card), unit),
        CardWhat::Drop { card, layer: Some(n), .. } => {
            let (at, mut now) = found(book, id, card)?;
            let n = layer_at("--layer", n, &now)?;
            let name = now.layer_name(n);
            if now.layers.iter().any(|l| l.on == Some(n)) {
                return Err(format!("--layer: another layer lies on {name}: take that off first"));
            }
            now.layers.remove(n);
            // Layers above it are counted one lower from now on.
            let above = now.layers.iter_mut().filter_map(|l| l.on.as_mut());
            above.filter(|on| **on > n).for_each(|on| *on -= 1);
            put(book, (id, at), now, &format!("took off {name}"), unit)
        }
        CardWhat::Drop { card, .. } => {
            let (at, gone) = found(book, id, card)?;
            let was = book.projects().get(id).ok_or("this project is gone")?;
            let mut now = was.clone();
            now.cards.remove(at);
            let label = format!("took the card {} out of {}", gone.name, was.name);
            Ok(Edit::batch(label, vec![Edit::Project(Row::alter(id, was.clone(), now))]))
        }
    }
}

fn put(
    book: &Book,
    (id, at): (ProjectId, usize),
    card: ProjectCard,
    label: &str,
    unit: Unit,
) -> Result<Edit, String> {
    let none = "nothing was changed: name what is to change, or another figure than it has";
    card_put(book, id, at, card, label, unit)?.ok_or_else(|| none.to_owned())
}

/// A card by its name, and its place.
fn found(book: &Book, id: ProjectId, name: &str) -> Result<(usize, ProjectCard), String> {
    let project = book.projects().get(id).ok_or("this project is gone")?;
    let wanted = folded(name);
    let at = project.cards.iter().position(|c| folded(&c.name) == wanted).ok_or_else(|| {
        let names: Vec<&str> = project.cards.iter().map(|c| c.name.as_str()).collect();
        format!(
            "no card of {} is called \"{}\": {}",
            project.name,
            harmless(name),
            harmless(&instead(name, &names))
        )
    })?;
    Ok((at, project.cards[at].clone()))
}

fn is_free(book: &Book, id: ProjectId, name: &str, own: Option<usize>) -> Result<(), String> {
    if is_blank(name) {
        return Err("a card needs a name that can be seen".to_owned());
    }
    let project = book.projects().get(id).ok_or("this project is gone")?;
    let wanted = folded(name);
    let other = project.cards.iter().enumerate().any(|(n, c)| Some(n) != own && folded(&c.name) == wanted);
    if other {
        return Err(format!(
            "{} has a card \"{}\" already: take another name",
            project.name,
            harmless(name.trim())
        ));
    }
    Ok(())
}

fn new_card(
    book: &Book,
    id: ProjectId,
    (name, size, reveal): (&str, &str, Option<&str>),
    more: &CardFigures,
    unit: Unit,
) -> Result<ProjectCard, String> {
    is_free(book, id, name, None)?;
    let face = format::find(size, unit).map_err(|e| format!("--size: {e}"))?.face;
    let mut card = ProjectCard::new(name.trim(), face);
    for text in reveal.into_iter().flat_map(|list| list.split(',')) {
        let reveal = Reveal::parse(text, unit).map_err(|e| format!("--reveal: {e}"))?;
        card.layers.push(CardLayer::new(crate::domain::cards::layer::Shape::Inset(reveal)));
    }
    more.put(book, &mut card)?;
    match fault(book, &card, unit) {
        Some(why) => Err(why),
        None => Ok(card),
    }
}

impl CardFigures {
    fn put(&self, book: &Book, card: &mut ProjectCard) -> Result<(), String> {
        if let Some(fold) = &self.fold {
            card.fold.kind = FoldKind::from_word(fold).map_err(|e| format!("--fold: {e}"))?;
        }
        if let Some(text) = &self.count {
            card.count = count(text, 1).map_err(|e| format!("--count: {e}"))?;
        }
        if let Some(text) = &self.spares {
            card.spares = count(text, 0).map_err(|e| format!("--spares: {e}"))?;
        }
        if let Some(name) = &self.paper {
            (card.base_paper, card.base_loose) = (of_shelf(book, "--paper", name, Kind::is_paper)?, None);
        }
        if let Some(name) = &self.envelope {
            card.envelope = of_shelf(book, "--envelope", name, |kind| kind == Kind::Envelope)?;
        }
        Ok(())
    }
}

/// A thing of the shelf by its name; none where that word is given.
fn of_shelf(
    book: &Book,
    option: &str,
    name: &str,
    will_do: fn(Kind) -> bool,
) -> Result<Option<ItemId>, String> {
    if name.trim() == "none" {
        return Ok(None);
    }
    let id = book.find_item(name).map_err(|e| format!("{option}: {e}"))?;
    match book.items().get(id) {
        Some(item) if !will_do(item.kind) => {
            Err(format!("{option}: {} is of another kind: {}", harmless(&item.name), item.kind.word()))
        }
        _ => Ok(Some(id)),
    }
}

fn layer_at(option: &str, text: &str, card: &ProjectCard) -> Result<usize, String> {
    let n = text.trim().parse::<usize>().ok().filter(|n| (1..=card.layers.len()).contains(n));
    n.map(|n| n - 1).ok_or_else(|| {
        let all = card.layers.len();
        if all == 0 {
            format!("{option}: {} has no layers", card.name)
        } else {
            format!("{option}: no layer {} on {}: it is 1 to {all}", harmless(text), card.name)
        }
    })
}

fn new_layer(
    what: &CardWhat,
    book: &Book,
    (id, card): (ProjectId, &str),
    unit: Unit,
) -> Result<Edit, String> {
    let CardWhat::Layer { what: word, size, .. } = what else {
        return Err("no layer is asked for".to_owned());
    };
    let word = word.as_deref().unwrap_or_default();
    let all = || PartKind::LAYERS.into_iter().chain(PartKind::BESIDE);
    let kind = all().find(|k| folded(k.word()) == folded(word)).ok_or_else(|| {
        let words: Vec<&str> = all().map(PartKind::word).collect();
        format!("\"{}\" is no part of a card: write one of {}", harmless(word), words.join(", "))
    })?;
    let (at, mut now) = found(book, id, card)?;
    let usual = kind.usual(unit);
    let part = kind.read(size.as_deref().unwrap_or(&usual), unit).map_err(|e| format!("--size: {e}"))?;
    let is_layer = matches!(part, Part::Layer(_));
    add(&mut now, part);
    if is_layer {
        let n = now.layers.len() - 1;
        dress(what, book, &mut now, n)?;
    } else if let Some(extra) = now.extras.len().checked_sub(1) {
        dress_extra(what, book, &mut now, extra)?;
    }
    put(book, (id, at), now, &format!("added one {}", kind.word()), unit)
}

fn changed_layer(
    what: &CardWhat,
    book: &Book,
    (id, card): (ProjectId, &str),
    unit: Unit,
) -> Result<Edit, String> {
    let CardWhat::Layer { at: Some(n), size, .. } = what else {
        return Err("no layer is asked for".to_owned());
    };
    let (at, mut now) = found(book, id, card)?;
    let n = layer_at("--at", n, &now)?;
    if let Some(size) = size {
        measure_layer(&mut now, n, size, unit).map_err(|e| format!("--size: {e}"))?;
    }
    dress(what, book, &mut now, n)?;
    let label = format!("changed {}", now.layer_name(n));
    put(book, (id, at), now, &label, unit)
}

/// Gives a layer the paper, colour, name and count that were named.
fn dress(what: &CardWhat, book: &Book, card: &mut ProjectCard, n: usize) -> Result<(), String> {
    let CardWhat::Layer { paper, swatch, name, count: many, .. } = what else { return Ok(()) };
    let Some(layer) = card.layers.get_mut(n) else { return Ok(()) };
    if let Some(name) = paper {
        (layer.paper, layer.loose) = (of_shelf(book, "--paper", name, Kind::is_paper)?, None);
    }
    if let Some(name) = swatch {
        layer.colour = match (name.trim(), book.find_swatch(name)) {
            ("none", _) => None,
            (_, Some(id)) => Some(CardColour::Swatch(id)),
            (name, None) => Some(CardColour::Named(name.to_owned())),
        };
    }
    if let Some(name) = name {
        name.trim().clone_into(&mut layer.name);
    }
    if let Some(text) = many {
        layer.count = count(text, 1).map_err(|e| format!("--count: {e}"))?;
    }
    Ok(())
}

/// Gives what is made beside the card its paper and count.
fn dress_extra(what: &CardWhat, book: &Book, card: &mut ProjectCard, n: usize) -> Result<(), String> {
    let CardWhat::Layer { paper, swatch, name, count: many, .. } = what else { return Ok(()) };
    if swatch.is_some() || name.is_some() {
        return Err(
            "--swatch and --name go with a layer: what is made beside a card has its paper alone".to_owned()
        );
    }
    let Some(extra) = card.extras.get_mut(n) else { return Ok(()) };
    if let Some(name) = paper {
        (extra.paper, extra.loose) = (of_shelf(book, "--paper", name, Kind::is_paper)?, None);
    }
    if let Some(text) = many {
        extra.count = count(text, 1).map_err(|e| format!("--count: {e}"))?;
    }
    Ok(())
}
