//! The card sheet: one card with its base, scores, every layer and what goes with it, to be made from.

use super::drawing::{self, Scale};
use super::frame::{Setup, Sheaf};

use super::page::{Group, MM, Page, Stroke, Um};
use super::scale::{ASIDE, BODY, HEADING, SMALL};
use super::table::{self, Column, Entry};
use crate::domain::cards::CardError;
use crate::domain::cards::fold::{self, Base};
use crate::domain::cards::job::{CardSpec, Worked, work_out};
use crate::domain::cards::layer::{self, Card, LayerSize};
use crate::domain::cards::post;
use crate::domain::cards::tools::{Tool, Tools};
use crate::domain::colour::space::Rgb8;

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
    /// The colour of each layer, where it is known; may be shorter.
    pub inks: Vec<Option<Rgb8>>,
    /// The paper of the base; may be empty.
    pub base_paper: String,
    /// Lines about envelope, post, weight, thickness, and the person's own notes.
    pub notes: Vec<String>,
}

impl CardSheet {
    /// Works a card out: base, layers, and notes on envelope, post, weight and thickness.
    ///
    /// # Errors
    /// The sentence of the first thing that cannot be made.
    pub fn of(job: &CardSpec, tools: Tools) -> Result<Self, CardError> {
        let worked = work_out(job, &tools)?;
        let base_paper = job.base_paper.as_ref().map_or(String::new(), |p| p.name.clone());
        let notes = notes(&worked, &tools);
        let Worked { base, layers: sizes, .. } = worked;
        Ok(Self { card: job.card.clone(), base, sizes, tools, inks: Vec::new(), base_paper, notes })
    }

    fn title(&self) -> String {
        let size = self.card.face.about(self.tools.unit);
        if self.card.name.is_empty() { format!("Card {size}") } else { format!("{}, {size}", self.card.name) }
    }
}

/// Envelope, grain, weight, thickness, post, and what was noticed: one line each.
fn notes(worked: &Worked, tools: &Tools) -> Vec<String> {
    let unit = tools.unit;
    let mut notes = Vec::new();
    if let Some(enclosed) = &worked.enclosed {
        let fit = &enclosed.fit;
        let verdict = if fit.fits { "fits" } else { "does not fit" };
        let shown = enclosed.envelope.show(unit);
        // One of the shelf's may be called an envelope by its own name.
        let what = if shown.to_lowercase().starts_with("envelope") { "" } else { "Envelope " };
        notes.push(format!(
            "{what}{shown}: {verdict}, {} wider and {} higher than the card ({}).",
            fit.clearance_width.about(unit),
            fit.clearance_height.about(unit),
            unit.sign()
        ));
    }
    notes.extend(worked.grain.sentence().map(|s| format!("Grain: {s}.")));
    notes.extend(worked.weight.value.map(|w| format!("Weight of the card: {}.", w.show())));
    notes.extend(worked.thickness.value.map(|t| format!("Thickness at its thickest: {}.", t.show(unit))));
    let mut classes: Vec<String> =
        worked.post.iter().map(|j| format!("{} {} ({})", j.rules, j.verdict.word(), j.edition)).collect();
    classes.sort_unstable();
    if !classes.is_empty() {
        notes.push(format!(
            "Post by size, weight and thickness as known: {}; {}.",
            classes.join("; "),
            post::CHECK
        ));
    }
    notes.extend(worked.notes.iter().map(|n| format!("{n}.")));
    notes
}

/// Height that both drawings may take.
const HIGH: Um = 88 * MM;

/// The pages of one card.
pub fn pages(setup: &Setup, sheet: &CardSheet) -> Vec<Page> {
    let subtitle = format!("{} fold; sizes in {}", sheet.card.fold.kind.word(), sheet.tools.unit.sign());
    let mut sheaf = Sheaf::new(setup, sheet.title(), subtitle);
    write(&mut sheaf, sheet);
    sheaf.finish()
}

/// Writes a card onto pages that are being filled.
pub fn write(sheaf: &mut Sheaf<'_>, sheet: &CardSheet) {
    draw(sheaf, sheet);
    sheaf.gap(2 * MM);
    table::write(sheaf, &PARTS, &rows(sheet));
    sheaf.gap(4 * MM);
    if !sheet.base.scores.is_empty() {
        sheaf.write(HEADING, "Score");
        for line in score_lines(sheet) {
            sheaf.write_wrapped(BODY, &line);
        }
        sheaf.gap(3 * MM);
    }
    if !sheet.notes.is_empty() {
        sheaf.write(HEADING, "Notes");
        for note in &sheet.notes {
            sheaf.write_wrapped(BODY, note);
        }
    }
}

fn draw(sheaf: &mut Sheaf<'_>, sheet: &CardSheet) {
    let body = sheaf.body();
    let (half, face) = (body.width / 2, sheet.card.face);
    let front = Scale::to_fit(face, half - 20 * MM, HIGH);
    let flat = Scale::to_fit(sheet.base.size, half - 20 * MM, HIGH);
    let (front_area, base_area) = (front.area(0, 0, face), flat.area(0, 0, sheet.base.size));
    let top = sheaf.take(front_area.height.max(base_area.height) + 18 * MM) + 5 * MM;
    let inks: Vec<Option<Rgb8>> = if sheaf.setup.colourless { Vec::new() } else { sheet.inks.clone() };
    let page = sheaf.page();
    page.words(SMALL.at(body.x, top, &format!("front, {}", front.words())));
    drawing::front(page, body.x + MM, top + 6 * MM, front, face, &sheet.sizes, &inks);
    let x = body.x + half + 12 * MM;
    page.words(SMALL.at(x, top, &format!("base, {}", flat.words())));
    drawing::base(page, x, top + 6 * MM, flat, sheet.base.size, &sheet.base.scores, sheet.tools.unit);
    let legend = top + 9 * MM + base_area.height;
    page.line(Group::Outline, (x, legend), (x + 8 * MM, legend), Stroke::SCORE);
    page.words(ASIDE.at(x + 10 * MM, legend + 900, "score"));
}

const PARTS: [Column; 6] = [
    Column::left("part", 4),
    Column::left("cut to", 4),
    Column::left("exact", 4),
    Column::left("from left, top", 3),
    Column::left("reveal", 3),
    Column::left("paper or colour", 5),
];

/// One row for the base and one a layer.
fn rows(sheet: &CardSheet) -> Vec<Vec<Entry>> {
    let unit = sheet.tools.unit;
    let base = sheet.base.size;
    let cut = layer::CutSize::must_fit(base, sheet.tools.trimmer).size;
    let mut rows = vec![vec![
        Entry::from("base"),
        cut.show(unit).into(),
        base.about(unit).into(),
        "".into(),
        "".into(),
        sheet.base_paper.as_str().into(),
    ]];
    for (n, (layer, size)) in sheet.card.layers.iter().zip(&sheet.sizes).enumerate() {
        let of_it = [&layer.paper, &layer.colour].map(|t| t.clone().unwrap_or_default());
        let paper = of_it.iter().filter(|t| !t.is_empty()).cloned().collect::<Vec<_>>().join(", ");
        let count = if layer.count == 1 { String::new() } else { format!(" ({} of it)", layer.count) };
        rows.push(vec![
            Entry::from(format!("{}{count}", layer.shown_name(n))),
            size.cut.size.show(unit).into(),
            size.exact.about(unit).into(),
            format!("{}, {}", size.x.about(unit), size.y.about(unit)).into(),
            size.reveal.show(unit).into(),
            match sheet.inks.get(n).copied().flatten() {
                Some(ink) => Entry::Patch(ink, paper),
                None => paper.into(),
            },
        ]);
        if let Some(opening) = size.opening {
            rows.push(vec![
                Entry::from("   opening; piece behind it"),
                opening.size.show(unit).into(),
                opening.insert.show(unit).into(),
                format!("{}, {}", opening.x.show(unit), opening.y.show(unit)).into(),
                "".into(),
                "".into(),
            ]);
        }
    }
    rows
}

/// Where each score lies and which tool has a mark there.
fn score_lines(sheet: &CardSheet) -> Vec<String> {
    let unit = sheet.tools.unit;
    let one = |score: &fold::Score| {
        let reading = match sheet.tools.tool_with_mark_at(score.at) {
            Some(tool) => format!("a mark of the {}", tool.word()),
            None => sheet.tools.reading(Tool::Rule, score.at).sentence(unit),
        };
        format!("{} along the {}: {reading}", score.at.show_both(unit), score.side.word())
    };
    sheet.base.scores.iter().map(one).collect()
}

#[cfg(test)]
mod tests {
    use super::super::frame::Paper;
    use super::super::scale::CLEAR;
    use super::*;
    use crate::domain::cards::fold::{Fold, FoldKind};
    use crate::domain::cards::layer::Layer;
    use crate::domain::cards::reveal::Reveal;
    use crate::domain::length::Length;
    use crate::domain::size::Size;

    fn sheet(kind: FoldKind, layers: usize) -> CardSheet {
        let face = Size::new(Length::sixteenths(68), Length::sixteenths(88));
        let layer = Layer::mat("a layer with a name that goes on and on", Reveal::all(Length::sixteenths(1)));
        let card = Card { name: "Wren".into(), face, fold: Fold::new(kind), layers: vec![layer; layers] };
        CardSheet::of(&CardSpec::of(card), Tools::INCH).unwrap()
    }

    #[test]
    fn every_fold_and_many_layers_stay_on_the_page() {
        for paper in [Paper::Letter, Paper::A4] {
            for kind in FoldKind::ALL {
                let mut sheet = sheet(kind, 12);
                sheet.notes = vec!["note ".repeat(100); 12];
                sheet.inks = vec![Some(Rgb8::new(1, 2, 3)); 12];
                for page in pages(&Setup { paper, ..Setup::default() }, &sheet) {
                    let bounds = page.bounds().unwrap();
                    assert!(page.area().inset(CLEAR).holds(&bounds), "{kind:?}: {bounds:?}");
                }
            }
        }
    }

    #[test]
    fn the_score_of_a_side_fold_is_half_the_base_and_on_a_groove() {
        let pages = pages(&Setup::default(), &sheet(FoldKind::Side, 1));
        let words: Vec<&str> = pages[0].texts().map(|w| w.text.as_str()).collect();
        // A base of 8 1/2 x 5 1/2 scored at 4 1/4: worked task "Bases and the grain".
        assert!(words.contains(&"8 1/2 x 5 1/2"));
        assert!(
            words
                .iter()
                .any(|w| w.starts_with("4 1/4 in = 107.95 mm along the width: a mark of the scoring board"))
        );
    }
}
