//! What the pane asks for in a prompt: how each text is read back while it is typed, and what taking it does.

use crate::app::ctx::Ctx;
use crate::app::reply::Replies;
use crate::app::reply::Reply;
use crate::app::state::mats::MatsText;
use crate::domain::book::Book;
use crate::domain::project::CardLayer;
use crate::domain::weight::Weight;

use super::read;
use crate::app::commands::CommandId;
use crate::app::overlay::Purpose;
use crate::app::state::mats::{MatsPane, Picked};
use crate::domain::cards::layer::Shape;
use crate::domain::cards::parts;
use crate::domain::cards::parts::PartKind;

/// The prompt of a command.
///
/// # Errors
/// The sentence that says why what is picked has no such text.
pub fn open(pane: &MatsPane, ctx: &Ctx, id: CommandId) -> Replies {
    let Some(what) = text_of(id) else { return Ok(Vec::new()) };
    if let Some(why) = cannot(pane, ctx.book, what) {
        return Err(why);
    }
    if opening(pane, ctx, what).0.is_empty() {
        let name = pane.name_in_hand(ctx.book);
        return Err(format!("the {name} follows from the card: it has no measures of its own"));
    }
    Ok(vec![prompt(pane, ctx, what)])
}

/// The prompt for a text.
pub fn prompt(pane: &MatsPane, ctx: &Ctx, what: MatsText) -> Reply {
    let (label, now) = opening(pane, ctx, what);
    Reply::prompt(Purpose::Mats(what), label, now)
}

/// Why a text makes no sense for what is picked.
fn cannot(pane: &MatsPane, book: &Book, what: MatsText) -> Option<String> {
    let picked = pane.picked(book);
    let is_mat = || {
        let layer = pane.picked_layer(book);
        let layer = layer.and_then(|n| pane.card(book).layers.get(n));
        layer.is_some_and(|l| matches!(l.shape, Shape::Inset(_)))
    };
    match what {
        MatsText::Frame if !is_mat() => Some("a frame is cut into a mat: pick a mat first".to_owned()),
        MatsText::Name if matches!(picked, Picked::Extra(_)) => {
            Some("only the card and its layers can have names of their own".to_owned())
        }
        _ => None,
    }
}

/// The words before the text, and the text as it is now.
pub fn opening(pane: &MatsPane, ctx: &Ctx, what: MatsText) -> (String, String) {
    if let Some(row) = opening_of_row(pane, ctx, what) {
        return row;
    }
    let (book, unit) = (ctx.book, ctx.unit);
    let card = pane.card(book);
    let (label, now) = match what {
        MatsText::Face => ("Card front, width x height, or a format:", card.face.exact(unit)),
        MatsText::NewMat => ("Reveal of the new layer, and its paper (1/8 fern):", String::new()),
        MatsText::Part(kind) => (kind.measures(), kind.usual(unit)),
        MatsText::Fold => {
            ("Panels, allowance, paper's thickness (- for the usual):", read::fold_text(card, unit))
        }
        MatsText::Batch => {
            ("Cards in a set, spares for the whole project:", format!("{}, {}", card.count, card.spares))
        }
        MatsText::Paper | MatsText::InsertPaper => {
            ("Paper's name, weight, thickness (such as oat, 80 lb cover, 0.012 in):", String::new())
        }
        MatsText::Envelope => ("Envelope, by name or outside size:", String::new()),
        MatsText::Picture => ("The picture in the middle, width x height:", String::new()),
        MatsText::Scores => {
            ("Scores of your own, such as width 1, height 2 (empty: none):", read::scores_text(card, unit))
        }
        MatsText::Ease => ("Room beside the card in its envelope:", card.ease.exact(unit)),
        MatsText::Inside => ("The envelope's inside as you measured it (empty: as outside):", String::new()),
        MatsText::EnvelopePaper => {
            ("Envelope's paper, weight, thickness (such as bond, 24 lb bond, 0.0045 in):", String::new())
        }
        MatsText::EnvelopeSpares => {
            ("Envelopes to spare, over the whole project:", card.envelope_spares.to_string())
        }
        MatsText::EnvelopeWeight => (
            "What the empty envelope weighs (empty: worked out from its paper):",
            on_scale(card.weighed.envelope),
        ),
        MatsText::GlueWeight => (
            "What glue, foam and the like weigh on one card (empty: not counted):",
            on_scale(card.weighed.glue),
        ),
        MatsText::Price => {
            ("Country, kind of letter, price, date (such as UK, letter, 1.00, 2026-11-01):", String::new())
        }
        MatsText::WriteCard => ("Write this card to the file:", read::file_name(&card.name)),
        MatsText::WriteProject => {
            let name = book.active_project().map_or("", |p| &p.name);
            ("Write the whole project to the file:", read::file_name(name))
        }
        MatsText::Read => ("Read a card or project from the file:", String::new()),
        MatsText::Find => ("Show on the ruler:", String::new()),
        MatsText::Answer => ("It reads:", String::new()),
        MatsText::Reveal(_)
        | MatsText::Measures
        | MatsText::Frame
        | MatsText::Count
        | MatsText::Raise
        | MatsText::Name => ("", String::new()),
    };
    (label.to_owned(), now)
}

/// A weight as it would be typed, to the milligram.
fn on_scale(weight: Option<Weight>) -> String {
    weight.map_or(String::new(), |w| format!("{} g", w.grams()))
}

/// The same for a text about one row.
fn opening_of_row(pane: &MatsPane, ctx: &Ctx, what: MatsText) -> Option<(String, String)> {
    let (book, unit) = (ctx.book, ctx.unit);
    let card = pane.card(book);
    let name = pane.name_in_hand(book);
    let layer = pane.picked_layer(book).and_then(|n| card.layers.get(n));
    let plain = |label: &str, now: String| (label.to_owned(), now);
    Some(match what {
        MatsText::Reveal(n) => {
            let now = card.layers.get(n).map(|l| CardLayer { frame: None, ..l.clone() });
            let now = now.map_or_else(String::new, |l| parts::layer_text(&l, unit));
            (format!("Reveal of {}, or left:top:right:bottom:", card.layer_name(n)), now)
        }
        MatsText::Measures => match pane.picked(book) {
            Picked::Base => plain(
                "Base as you cut it (empty: the fold's own size):",
                card.base.map_or(String::new(), |b| b.exact(unit)),
            ),
            Picked::Layer(_) => layer.map_or_else(Default::default, |l| {
                plain(PartKind::of_layer(l).measures(), parts::layer_text(l, unit))
            }),
            Picked::Extra(n) => card.extras.get(n).map_or_else(Default::default, |e| {
                plain(PartKind::of_make(&e.make).measures(), parts::make_text(&e.make, unit))
            }),
        },
        MatsText::Frame => {
            let now = layer.and_then(|l| l.frame).map_or_else(
                || PartKind::Frame.usual(unit).split_once(", ").map_or(String::new(), |t| t.1.to_owned()),
                |_| {
                    let all = layer.map_or(String::new(), |l| parts::layer_text(l, unit));
                    all.split_once(", ").map_or(String::new(), |t| t.1.to_owned())
                },
            );
            plain("Frame's width, overlap of its insert (empty: no frame):", now)
        }
        MatsText::Count => {
            let now = match pane.picked(book) {
                Picked::Extra(n) => card.extras.get(n).map_or(1, |e| e.count),
                _ => layer.map_or(1, |l| l.count),
            };
            (format!("How many of {name} a card takes:"), now.to_string())
        }
        MatsText::Raise => {
            (format!("What lifts {name}, such as 1/16 or 2 mm (0: glued flat):"), String::new())
        }
        MatsText::Name => (
            format!("Name of {name} (empty: by its place):"),
            layer.map_or(String::new(), |l| l.name.clone()),
        ),
        _ => return None,
    })
}

/// Which text a prompt of the pane is for, by its command.
pub const fn text_of(id: CommandId) -> Option<MatsText> {
    use CommandId as Id;
    Some(match id {
        Id::LayerSize => MatsText::Measures,
        Id::FoldMeasures => MatsText::Fold,
        Id::LayerFrame => MatsText::Frame,
        Id::LayerCount => MatsText::Count,
        Id::CardBatch => MatsText::Batch,
        Id::LayerName => MatsText::Name,
        Id::FromPicture => MatsText::Picture,
        Id::OwnScores => MatsText::Scores,
        _ => return None,
    })
}
