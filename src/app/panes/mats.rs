//! Mats: a card and its layers. Works on the active project's cards, or on a loose card that is not kept.

use crate::app::commands::CommandId;
use crate::app::effect::Effect;
use crate::app::input::list::{Cursor, Move};
use crate::app::model::Model;
use crate::app::overlay::{Echo, Purpose};
use crate::app::pane::Pane;
use crate::app::panes::yields;
use crate::app::prompt;
use crate::app::update;
use crate::domain::book::Book;
use crate::domain::cards::fold::{Fold, FoldKind};
use crate::domain::cards::job::{Job, Worked, work_out};
use crate::domain::cards::layer::{self, Card, Layer, LayerSize, Reveal};
use crate::domain::cards::tools::Tools;
use crate::domain::edit::{Edit, Row};
use crate::domain::length::{Length, Unit};
use crate::domain::project::{Project, ProjectCard};
use crate::domain::reckon;
use crate::domain::ruler::{self, Ruler};
use crate::domain::size::Size;

/// State of the pane.
#[derive(Clone, Debug)]
pub struct MatsPane {
    /// Which card of the active project.
    pub card: usize,
    /// The layer picked.
    pub layer: Cursor,
    /// The card in hand while no project is active.
    pub loose: ProjectCard,
}

impl Default for MatsPane {
    fn default() -> Self {
        let face = Size::new(Length::sixteenths(68), Length::sixteenths(88));
        let reveals = vec![Length::sixteenths(2), Length::sixteenths(1)];
        let papers = vec![None; reveals.len()];
        Self {
            card: 0,
            layer: Cursor::default(),
            loose: ProjectCard { reveals, papers, ..ProjectCard::new("loose card", face) },
        }
    }
}

impl MatsPane {
    /// The card in hand.
    pub fn card<'a>(&'a self, book: &'a Book) -> &'a ProjectCard {
        let cards = book.active_project().map_or(&[][..], |p| &p.cards);
        cards.get(self.card.min(cards.len().saturating_sub(1))).unwrap_or(&self.loose)
    }

    /// The layer under the cursor, counted from the outermost mat.
    pub fn picked_layer(&self, book: &Book) -> Option<usize> {
        self.layer.row(self.card(book).reveals.len())
    }

    /// Every layer's size on this person's tools.
    ///
    /// # Errors
    /// The sentence that says which layer cannot be, and what would do.
    pub fn sizes(&self, book: &Book, unit: Unit) -> Result<Vec<LayerSize>, String> {
        let card = self.card(book);
        layer::sizes(&as_card(book, card), &Tools::usual(unit)).map_err(|e| e.to_string())
    }
}

impl MatsPane {
    /// Everything that follows from the card: base, scores, envelope, post.
    ///
    /// # Errors
    /// The sentence that refuses it.
    pub fn worked(&self, book: &Book, unit: Unit) -> Result<Worked, String> {
        let card = as_card(book, self.card(book));
        work_out(&Job::of(card), &Tools::usual(unit)).map_err(|e| e.to_string())
    }
}

/// What follows from a card, one fact each: label and words.
pub fn card_facts(worked: &Worked, picked: Option<&LayerSize>, unit: Unit) -> Vec<(&'static str, String)> {
    let mut all = Vec::new();
    if let Some(size) = picked.map(|l| l.cut.size) {
        let ruler = if unit == Unit::Mm { Ruler::MILLIMETRES } else { Ruler::SIXTEENTHS };
        all.push((
            "say",
            format!("{} by {}", ruler::name(size.width, ruler), ruler::name(size.height, ruler)),
        ));
    }
    let scores: Vec<String> = worked
        .base
        .scores
        .iter()
        .map(|s| format!("{} along the {}", s.at.about(unit), s.side.word()))
        .collect();
    let scores =
        if scores.is_empty() { "no score".to_owned() } else { format!("score at {}", scores.join(" and ")) };
    all.push(("base", format!("{}, {scores}", worked.base.size.show_with_unit(unit))));
    if let Some(e) = &worked.enclosed {
        let name =
            if e.envelope.name.is_empty() { e.envelope.outside.about(unit) } else { e.envelope.name.clone() };
        let fits = if e.fit.fits { "fits" } else { "does NOT fit" };
        let room = format!("{} x {}", e.fit.clearance_width.about(unit), e.fit.clearance_height.about(unit));
        all.push(("envelope", format!("{name} {fits}, {room} to spare")));
    }
    let post: Vec<String> = worked.post.iter().map(|j| format!("{} {}", j.rules, j.verdict.word())).collect();
    if !post.is_empty() {
        all.push((
            "post",
            format!("{}, from dimensions only; check with your postal service", post.join(", ")),
        ));
    }
    all.extend(worked.notes.iter().map(|n| ("note", n.clone())));
    all
}

/// The card as the craft reckons with it.
pub fn as_card(book: &Book, card: &ProjectCard) -> Card {
    let layers = card.reveals.iter().enumerate().map(|(n, reveal)| {
        let paper = card.papers.get(n).copied().flatten();
        let mut layer = Layer::mat(&format!("mat {}", n + 1), Reveal::all(*reveal));
        layer.paper = paper.map(|id| book.items().name_of(id));
        layer
    });
    let fold = FoldKind::from_word(&card.fold).map_or_else(|_| Fold::default(), Fold::new);
    Card { name: card.name.clone(), face: card.face, fold, layers: layers.collect() }
}

/// Runs a command of this pane.
pub fn run(model: &mut Model, id: CommandId) -> Vec<Effect> {
    use CommandId as Id;
    let unit = model.screen.unit;
    let layers = model.mats.card(&model.book).reveals.len();
    let picked = model.mats.picked_layer(&model.book);
    match id {
        Id::Face => {
            let now = model.mats.card(&model.book).face.show(unit);
            prompt::open(model, Purpose::Face, "Card front, width x height:", &now);
        }
        Id::Fold => return next_fold(model),
        Id::AddLayer => prompt::open(model, Purpose::AddLayer, "Reveal of the new layer:", ""),
        Id::Reveal => {
            let Some(n) = picked else { return Vec::new() };
            let now = model.mats.card(&model.book).reveals.get(n).map(|r| r.show(unit)).unwrap_or_default();
            prompt::open(model, Purpose::Reveal(n), &format!("Reveal of layer {}:", n + 1), &now);
        }
        Id::RemoveLayer => {
            let Some(n) = picked else { return Vec::new() };
            return change(model, |card| {
                card.reveals.remove(n);
                if n < card.papers.len() {
                    card.papers.remove(n);
                }
            })
            .unwrap_or_else(|why| refuse(model, why));
        }
        Id::MoveLayerDown | Id::MoveLayerUp => return move_layer(model, id == Id::MoveLayerDown),
        Id::NextCard => {
            let cards = model.book.active_project().map_or(1, |p| p.cards.len().max(1));
            model.mats.card = (model.mats.card + 1) % cards;
            model.mats.layer = Cursor::default();
        }
        Id::LayerDown => model.mats.layer.go(Move::By(1), layers),
        Id::LayerUp => model.mats.layer.go(Move::By(-1), layers),
        Id::LayerFirst => model.mats.layer.go(Move::First, layers),
        Id::LayerLast => model.mats.layer.go(Move::Last, layers),
        Id::LayerToYield => return to_yield(model),
        _ => {}
    }
    Vec::new()
}

/// The next kind of fold that the card can have.
fn next_fold(model: &mut Model) -> Vec<Effect> {
    let now = FoldKind::from_word(&model.mats.card(&model.book).fold).unwrap_or_default();
    let at = FoldKind::ALL.iter().position(|k| *k == now).unwrap_or(0);
    let next = FoldKind::ALL[(at + 1) % FoldKind::ALL.len()];
    change(model, |card| next.word().clone_into(&mut card.fold)).unwrap_or_else(|why| refuse(model, why))
}

fn refuse(model: &mut Model, why: String) -> Vec<Effect> {
    model.tell(crate::app::status::Status::refused(why));
    Vec::new()
}

fn move_layer(model: &mut Model, inwards: bool) -> Vec<Effect> {
    let len = model.mats.card(&model.book).reveals.len();
    let Some(n) = model.mats.picked_layer(&model.book) else { return Vec::new() };
    let to = if inwards { n + 1 } else { n.wrapping_sub(1) };
    if to >= len {
        return Vec::new();
    }
    model.mats.layer = Cursor::at(to);
    change(model, |card| {
        card.papers.resize(len, None);
        card.reveals.swap(n, to);
        card.papers.swap(n, to);
    })
    .unwrap_or_else(|why| refuse(model, why))
}

/// The picked layer's size as it is cut goes to Yield, with its paper as the sheet where it has one.
fn to_yield(model: &mut Model) -> Vec<Effect> {
    let sizes = match model.mats.sizes(&model.book, model.screen.unit) {
        Ok(sizes) => sizes,
        Err(why) => return refuse(model, why),
    };
    let Some(n) = model.mats.picked_layer(&model.book) else { return Vec::new() };
    let Some(size) = sizes.get(n) else { return Vec::new() };
    let card = model.mats.card(&model.book);
    let paper = card.papers.get(n).copied().flatten();
    let count =
        u64::from(card.count) * model.book.active_project().map_or(1, Project::sets) + u64::from(card.spares);
    model.yields.piece = size.cut.size;
    model.yields.count = u32::try_from(count).ok().filter(|n| *n > 1);
    model.pane = Pane::Yield;
    model.yields.chart_open = false;
    match paper.and_then(|id| yields::sheet_of_item(model, id)) {
        Some(choice) => yields::take_sheet(model, choice),
        None => yields::ask(model),
    }
}

/// How a prompt's text is read, while it is typed.
pub fn echo(model: &Model, purpose: &Purpose, text: &str) -> Echo {
    let unit = model.screen.unit;
    let read = match purpose {
        Purpose::Face => prompt::size_words(text, unit),
        // A border on each side makes the layer smaller by twice as much; both are said in practice.
        _ => prompt::read_length(text, unit).map(|r| {
            format!("{} each side, so {} smaller both ways", r.show_both(unit), (r * 2).show_with_unit(unit))
        }),
    };
    read.map_or_else(Echo::Refused, Echo::Read)
}

/// Takes a prompt's text.
///
/// # Errors
/// The sentence that refuses it: a card whose layers could not be cut is not taken.
pub fn accept(model: &mut Model, purpose: &Purpose, text: &str) -> Result<Vec<Effect>, String> {
    let unit = model.screen.unit;
    match purpose {
        Purpose::Face => {
            let face = reckon::size(text, unit)?;
            change(model, |card| card.face = face)
        }
        Purpose::AddLayer => {
            let reveal = prompt::read_length(text, unit)?;
            let effects = change(model, |card| {
                card.reveals.push(reveal);
                card.papers.resize(card.reveals.len(), None);
            })?;
            model.mats.layer = Cursor::at(usize::MAX);
            Ok(effects)
        }
        Purpose::Reveal(n) => {
            let reveal = prompt::read_length(text, unit)?;
            change(model, |card| {
                if let Some(r) = card.reveals.get_mut(*n) {
                    *r = reveal;
                }
            })
        }
        _ => Ok(Vec::new()),
    }
}

/// Changes the card in hand: an edit of the active project, or of the loose card, which needs none.
pub fn change(model: &mut Model, alter: impl FnOnce(&mut ProjectCard)) -> Result<Vec<Effect>, String> {
    let mut card = model.mats.card(&model.book).clone();
    alter(&mut card);
    layer::sizes(&as_card(&model.book, &card), &Tools::usual(model.screen.unit))
        .map_err(|e| e.to_string())?;
    let Some((id, project)) =
        model.book.active().zip(model.book.active_project()).filter(|(_, p)| !p.cards.is_empty())
    else {
        model.mats.loose = card;
        return Ok(Vec::new());
    };
    let was = project.clone();
    let mut now = was.clone();
    let at = model.mats.card.min(now.cards.len() - 1);
    now.cards[at] = card;
    if now == was {
        return Ok(Vec::new());
    }
    update::make(model, Edit::Project(Row::alter(id, was, now)))
}
