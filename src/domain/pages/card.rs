//! The card sheet: one card on one page, to be made from. Its front in its papers, at true scale where front and table fit,
//! every part with size, ruler mark and reveal, base and scores, envelope, and the order of assembly.
//!
//! Blocks of words go beside the drawing and under the table, wherever there is room; only a card with more parts than a
//! page has lines for goes on.

mod lay;

pub use lay::{pages, subtitle, write};

use super::table::CellEntry;
use crate::domain::cards::CardError;
use crate::domain::cards::card::Card;
use crate::domain::cards::fold::{self, Base};
use crate::domain::cards::job::{CardSpec, Worked, work_out};
use crate::domain::cards::layer::{self, Layer, LayerSize, Shape};
use crate::domain::cards::post::{self, Judgement};
use crate::domain::cards::reveal::Reveal;
use crate::domain::cards::tools::{Tool, Tools};
use crate::domain::length::{Length, Unit};
use crate::domain::paper_look::PaperLook;
use crate::domain::size::Size;
use crate::domain::thickness::Thickness;

/// What a card sheet shows.
#[derive(Clone, Debug, PartialEq)]
pub struct CardSheet {
    /// The card.
    pub card: Card,
    /// Its base.
    pub base: Base,
    /// Each layer's size, in the order of the card's layers.
    pub sizes: Vec<LayerSize>,
    /// What the bench measures with.
    pub tools: Tools,
    /// The paper of the base.
    pub base_look: PaperLook,
    /// The papers of the layers; may be shorter.
    pub looks: Vec<PaperLook>,
    /// What is made beside the card: name, blank, paper.
    pub beside: Vec<(String, Size, PaperLook)>,
    /// The envelope and how the card lies in it.
    pub envelope: Option<String>,
    /// What it counts as in the post, by rule set.
    pub post: Vec<Judgement>,
    /// Lines about grain, weight, thickness, what was noticed, and the person's own notes.
    pub notes: Vec<String>,
}

impl CardSheet {
    /// Works a card out.
    ///
    /// # Errors
    /// The sentence of the first thing that cannot be made.
    pub fn of(job: &CardSpec, tools: Tools) -> Result<Self, CardError> {
        let worked = work_out(job, &tools)?;
        let plain = |name: String| PaperLook { name, ..PaperLook::default() };
        let base_look = plain(job.card.base_paper.as_ref().map_or(String::new(), |p| p.name.clone()));
        let looks = job.card.layers.iter().map(|layer| plain(paper_words(layer))).collect();
        let mut beside = Vec::new();
        for extra in &job.card.extras {
            let look = plain(extra.paper.as_ref().map_or(String::new(), |p| p.name.clone()));
            let made = extra.make.build(job, &worked, &tools)?;
            beside.extend(made.iter().map(|m| (m.name.to_owned(), m.blank, look.clone())));
        }
        let (envelope, notes) = (envelope(&worked, &tools), notes(&worked, &tools));
        let Worked { base, layers: sizes, post, .. } = worked;
        Ok(Self {
            card: job.card.clone(),
            base,
            sizes,
            tools,
            base_look,
            looks,
            beside,
            envelope,
            post,
            notes,
        })
    }

    /// Its name and size.
    pub fn title(&self) -> String {
        let size = self.card.face.about(self.tools.unit);
        if self.card.name.is_empty() { format!("Card {size}") } else { format!("{}, {size}", self.card.name) }
    }

    /// What it counts as under one rule set: the verdict in one line, and the edition with where to check.
    pub fn post_lines(&self, rules: &str) -> Option<(String, String)> {
        let judged = self.post.iter().find(|j| j.rules == rules)?;
        let operator = post::all().iter().find(|r| r.id == rules).map_or(rules, |r| r.name.as_str());
        let verdict = format!("In the mail: {} ({operator}).", judged.verdict.word());
        Some((verdict, format!("Mailing rules: {}.\n{}.", judged.edition, post::CHECK)))
    }
}

/// Paper and colour of a layer in words.
fn paper_words(layer: &Layer) -> String {
    let of_it = [layer.paper.as_ref().map(|p| p.name.as_str()), layer.colour.as_deref()];
    of_it.into_iter().flatten().filter(|t| !t.is_empty()).collect::<Vec<_>>().join(", ")
}

fn envelope(worked: &Worked, tools: &Tools) -> Option<String> {
    let enclosed = worked.enclosed.as_ref()?;
    let (fit, unit) = (&enclosed.fit, tools.unit);
    let verdict = if fit.fits { "fits" } else { "does not fit" };
    Some(format!(
        "{}: {verdict}, {} wider and {} higher than the card ({}).",
        enclosed.envelope.show(unit),
        fit.clearance_width.about(unit),
        fit.clearance_height.about(unit),
        unit.sign()
    ))
}

/// Grain, weight, thickness, and what was noticed: one line each.
fn notes(worked: &Worked, tools: &Tools) -> Vec<String> {
    let unit = tools.unit;
    let mut notes = Vec::new();
    notes.extend(worked.grain.sentence().map(|s| format!("Grain: {s}.")));
    notes.extend(worked.weight.value.map(|_| format!("Weight of the card: {}.", worked.weight_words())));
    let thickness = || format!("Thickness at its thickest: {}.", worked.thickness_words(unit));
    notes.extend(worked.thickness.value.map(|_| thickness()));
    notes.extend(worked.notes.iter().map(|n| format!("{n}.")));
    notes
}

/// Where a size lies on the ruler.
fn mark_words(cut: &layer::CutSize, sheet: &CardSheet) -> String {
    let unit = sheet.tools.unit;
    if cut.is_exact() {
        return format!("on {} marks", cut.mark.about(unit));
    }
    let less = |l: Length| (-l).about(unit);
    format!("less {} and {}", less(cut.error_width), less(cut.error_height))
}

/// One row for the base, one a layer and one for what is made beside the card: number, part, size, ruler mark, reveal, paper.
fn rows(sheet: &CardSheet) -> Vec<Vec<CellEntry>> {
    let unit = sheet.tools.unit;
    let cut = layer::CutSize::must_fit(sheet.base.size, sheet.tools.trimmer);
    let paper = |look: &PaperLook| match look.inks.first() {
        Some(ink) => CellEntry::Patch(*ink, look.name.clone()),
        None => look.name.as_str().into(),
    };
    let row =
        |number: String, name: String, size: String, mark: String, reveal: CellEntry, paper: CellEntry| {
            vec![number.into(), name.into(), CellEntry::Figure(size), mark.into(), reveal, paper]
        };
    // An even border is a figure; one that differs by side is told in words.
    let reveal = |of: &Reveal| match of.uniform() {
        Some(even) => CellEntry::Figure(even.about(unit)),
        None => of.show(unit).into(),
    };
    let mut rows = vec![row(
        String::new(),
        sheet.card.base_made_by.named("base"),
        cut.size.show(unit),
        mark_words(&cut, sheet),
        "".into(),
        paper(&sheet.base_look),
    )];
    for (n, (layer, size)) in sheet.card.layers.iter().zip(&sheet.sizes).enumerate() {
        let count = if layer.count == 1 { String::new() } else { format!(" ({} of it)", layer.count) };
        let look = sheet.looks.get(n).cloned().unwrap_or_default();
        rows.push(row(
            (n + 1).to_string(),
            format!("{}{count}", layer.made_by.named(&layer.shown_name(n))),
            size.cut.size.show(unit),
            mark_words(&size.cut, sheet),
            reveal(&size.reveal),
            paper(&look),
        ));
        if let Some(opening) = size.opening {
            let from = format!("{}, {} from left, top", opening.x.about(unit), opening.y.about(unit));
            let part = |name: &str, size: String, how: String| {
                row(String::new(), name.to_owned(), size, how, "".into(), "".into())
            };
            rows.push(part("its opening", opening.size.show(unit), from));
            rows.push(part(&layer.insert_name(n), opening.insert.show(unit), String::new()));
        }
    }
    for (name, blank, look) in &sheet.beside {
        let cut = layer::CutSize::must_fit(*blank, sheet.tools.trimmer);
        rows.push(row(
            String::new(),
            name.clone(),
            cut.size.show(unit),
            mark_words(&cut, sheet),
            "".into(),
            paper(look),
        ));
    }
    rows
}

/// Where each score lies, in figures, and which tool has a mark there.
fn score_lines(sheet: &CardSheet) -> Vec<(String, String)> {
    let unit = sheet.tools.unit;
    let one = |score: &fold::Score| {
        let reading = match sheet.tools.tool_with_mark_at(score.at) {
            Some(tool) => format!("a mark of the {}", tool.word()),
            None => sheet.tools.reading(Tool::Rule, score.at).sentence(unit),
        };
        let both = score.at.show_both(unit);
        let (here, there) = both.split_once(" = ").unwrap_or((&both, ""));
        let there = if there.is_empty() { String::new() } else { format!("= {there} ") };
        (here.to_owned(), format!("{there}along the {}: {reading}", score.side.word()))
    };
    sheet.base.scores.iter().map(one).collect()
}

/// What is done with the pieces of a card, in order: fold the base, then lay on layer after layer from below.
pub fn steps(sheet: &CardSheet) -> Vec<String> {
    let unit = sheet.tools.unit;
    let base = sheet.base.size.show_with_unit(unit);
    let scores: Vec<String> = sheet
        .base
        .scores
        .iter()
        .map(|s| format!("{} along the {}", s.at.show_with_unit(unit), s.side.word()))
        .collect();
    let first = match scores.as_slice() {
        [] => format!("Lay the base of {base} flat: it has no fold."),
        all => format!("Score the base of {base} at {}, fold it and press the fold.", all.join(", then at ")),
    };
    let layer = |(n, (layer, size)): (usize, (&Layer, &LayerSize))| {
        let name = |index: usize| {
            sheet.card.layers.get(index).map_or_else(|| "the front".to_owned(), |l| l.shown_name(index))
        };
        let under = size.on.map_or_else(|| "the card front".to_owned(), name);
        let many = if layer.count > 1 { format!("{} pieces of ", layer.count) } else { String::new() };
        let cut = size.cut.size.show_with_unit(unit);
        let seen = match size.reveal.uniform() {
            Some(even) => format!("{} shows on every side", even.show_with_unit(unit)),
            None => format!("what shows is {}", size.reveal.show(unit)),
        };
        let what = format!("{many}{} ({cut}{})", layer.shown_name(n), lies(layer, size.cut.size));
        match stood_off(layer, unit) {
            Some(foam) => format!("Put {foam} under {what} and set it onto {under}; {seen}."),
            None => format!("Glue {what} onto {under}; {seen}."),
        }
    };
    let layers = sheet.card.layers.iter().zip(&sheet.sizes).enumerate().map(layer);
    let last = "Let the glue set under a weight before the card goes into an envelope.".to_owned();
    std::iter::once(first).chain(layers).chain([last]).collect()
}

/// How a layer lies that could be laid on another way round: its pattern upright, or its long side.
fn lies(layer: &Layer, cut: Size) -> &'static str {
    let is_even = matches!(layer.shape, Shape::Inset(_)) || cut.width == cut.height;
    match (layer.may_turn, is_even) {
        (false, _) => ", pattern upright",
        (true, true) => "",
        (true, false) if cut.width > cut.height => ", long side across",
        (true, false) => ", long side upright",
    }
}

/// What lifts a layer off the one below: `foam or tape, 1/16 in thick,`; `None` where it is glued flat.
fn stood_off(layer: &Layer, unit: Unit) -> Option<String> {
    let is_raised = layer.raise > Thickness::ZERO;
    is_raised.then(|| format!("foam or tape, {} thick,", layer.raise.show(unit)))
}

#[cfg(test)]
mod tests;
