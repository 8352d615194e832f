//! `trimside card`: cards of a project made and changed, layers put on and taken off, by the same edits as in Mats.

use super::card_figures::CardFigures;
use super::layers::{self, LayerAsk};
use super::place::{self, found, put};
use super::told::{Done, bad, tell};
use crate::cli::stock::{change, class};
use crate::cli::{Desk, open_store};
use crate::domain::book::{Book, folded};
use crate::domain::cardedit::{card_into, fault};
use crate::domain::cardread;
use crate::domain::cards::format;
use crate::domain::cards::parts::PartKind;
use crate::domain::cards::reveal::Reveal;
use crate::domain::edit::{Edit, Row};
use crate::domain::harmless::{harmless, is_blank};
use crate::domain::length::Unit;
use crate::domain::project::{CardLayer, ProjectCard};
use crate::domain::reckon;
use crate::domain::stock::ProjectId;

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
        /// Work the closed card out from the picture in the middle, out through its mats
        #[arg(long, value_name = "WxH", conflicts_with = "size")]
        picture: Option<String>,
        /// Hold the card the other way: width and height change places
        #[arg(long)]
        turned: bool,
        /// More of it.
        #[command(flatten)]
        more: CardFigures,
    },
    /// Put a layer on, or something beside the card; with --at or --beside change the one that is there
    Layer(Box<LayerAsk>),
    /// Take a layer off a card, or the card out of its project
    Drop {
        /// The project
        #[arg(value_name = "PROJECT")]
        project: String,
        /// The card
        #[arg(value_name = "CARD")]
        card: String,
        /// Only the layer of this number, counted from 1; what lies on it then lies on what is below it
        #[arg(long, value_name = "N")]
        layer: Option<String>,
        /// Only the thing made beside it of this number, counted from 1
        #[arg(long, value_name = "N", conflicts_with = "layer")]
        beside: Option<String>,
    },
}

impl CardWhat {
    /// The project and the card that it is about.
    fn about(&self) -> (&str, &str) {
        match self {
            Self::Add { project, name: card, .. }
            | Self::Change { project, card, .. }
            | Self::Drop { project, card, .. } => (project, card),
            Self::Layer(ask) => (&ask.project, &ask.card),
        }
    }
}

/// Does it, or shows what it would do.
///
/// # Errors
/// [`crate::cli::BadInput`] for what the person can mend, anything else for a failure.
pub fn answer_cards(args: &CardArgs, desk: &mut Desk<'_>) -> anyhow::Result<()> {
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
        CardWhat::Change { card, name, size, picture, turned, more, .. } => {
            let (at, mut now) = found(book, id, card)?;
            if let Some(name) = name {
                is_free(book, id, name, Some(at))?;
                name.trim().clone_into(&mut now.name);
            }
            if let Some(size) = size {
                now.face = format::find(size, unit).map_err(|e| format!("--size: {e}"))?.face;
            }
            if let Some(text) = picture {
                let size = reckon::size(text, unit).map_err(|e| format!("--picture: {e}"))?;
                now.face = cardread::front_round(&now, size).map_err(|e| format!("--picture: {e}"))?;
            }
            if *turned {
                now.face = now.face.turned();
            }
            more.put(book, &mut now, unit)?;
            put(book, (id, at), now, "changed the card", unit)
        }
        CardWhat::Layer(ask) => layers::edit(ask, book, id, unit),
        CardWhat::Drop { card, layer: Some(n), .. } => {
            let (at, mut now) = found(book, id, card)?;
            let n = place::layer_at("--layer", n, &now)?;
            let name = now.layer_name(n);
            cardread::remove_layer(&mut now, n);
            put(book, (id, at), now, &format!("took off {name}"), unit)
        }
        CardWhat::Drop { card, beside: Some(n), .. } => {
            let (at, mut now) = found(book, id, card)?;
            let n = place::beside_at("--beside", n, &now)?;
            let gone = now.extras.remove(n);
            let label = format!("took off the {}", PartKind::of_make(&gone.make).word());
            put(book, (id, at), now, &label, unit)
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
    more.put(book, &mut card, unit)?;
    match fault(book, &card, unit) {
        Some(why) => Err(why),
        None => Ok(card),
    }
}
