//! Texts of the pane that are more than one measure, read by [`crate::domain::cardread`]; and who gets what they say: the
//! row under the cursor.

use crate::app::ctx::Ctx;
use crate::app::panes::papers;
use crate::app::state::mats::Picked;
use crate::domain::cardread;
pub(super) use crate::domain::cardread::{
    fold as read_fold, fold_text, front_round, inside as set_inside, paper as read_paper,
    price as read_price, scores as read_scores, scores_text, whole,
};
use crate::domain::cards::parts::{Part, PartKind};
use crate::domain::length::Unit;
use crate::domain::project::{CardExtra, CardLayer, PaperRef, ProjectCard};
use crate::domain::stock::ItemId;

/// A part's measures, and behind them its paper, where one is said: `1/8 fern`.
///
/// # Errors
/// The sentence that says which of the two cannot be read.
pub(super) fn part(ctx: &Ctx, kind: PartKind, text: &str) -> Result<Part, String> {
    let text = text.trim();
    let whole = kind.read(text, ctx.unit);
    if whole.is_ok() {
        return whole;
    }
    let mut no_paper = None;
    for (at, _) in text.match_indices(|c: char| c.is_whitespace() || c == ',') {
        let (measures, rest) = text.split_at(at);
        let rest = rest.trim_start_matches(|c: char| c.is_whitespace() || c == ',');
        let Ok(part) = kind.read(measures.trim(), ctx.unit) else { continue };
        if let Some(paper) = papers::find(ctx, rest) {
            return Ok(on_paper(part, paper));
        }
        // Figures that are wrong are no paper.
        no_paper = rest.starts_with(char::is_alphabetic).then(|| rest.to_owned()).or(no_paper);
    }
    match no_paper {
        Some(rest) => Err(format!(
            "\"{rest}\" is not a paper of the shelf: write its name or some letters of it, or leave it out for now"
        )),
        None => whole,
    }
}

fn on_paper(part: Part, paper: ItemId) -> Part {
    let paper = Some(PaperRef::Shelf(paper));
    match part {
        Part::Layer(layer) => Part::Layer(Box::new(CardLayer { paper, ..*layer })),
        Part::Extra(extra) => Part::Extra(CardExtra { paper, ..extra }),
    }
}

/// `Hedgerow notes, class` as `hedgerow-notes-class.ron`.
pub(super) fn file_name(name: &str) -> String {
    let words: Vec<String> =
        name.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).map(str::to_lowercase).collect();
    format!("{}.ron", if words.is_empty() { "card".to_owned() } else { words.join("-") })
}

pub(super) fn at(card: &mut ProjectCard, n: usize, set: impl FnOnce(&mut CardLayer)) {
    if let Some(layer) = card.layers.get_mut(n) {
        set(layer);
    }
}

/// Gives a paper to the row under the cursor, or to what lies behind its opening.
pub fn set_paper(card: &mut ProjectCard, picked: Picked, behind: bool, paper: Option<PaperRef>) {
    match picked {
        Picked::Base => card.base_paper = paper,
        Picked::Layer(n) if behind => at(card, n, |l| l.insert = paper),
        Picked::Layer(n) => at(card, n, |l| l.paper = paper),
        Picked::Extra(n) => {
            if let Some(e) = card.extras.get_mut(n) {
                e.paper = paper;
            }
        }
    }
}

/// Takes the frame of the layer under the cursor.
pub(super) fn read_frame(
    card: &mut ProjectCard,
    picked: Picked,
    text: &str,
    unit: Unit,
) -> Result<(), String> {
    let Picked::Layer(n) = picked else { return Ok(()) };
    card.layers.get_mut(n).map_or(Ok(()), |layer| cardread::frame(layer, text, unit))
}
