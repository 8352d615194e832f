//! The layer guide of a card format: a scale drawing, every layer's size and place, and the sizes at other reveals.

use super::drawing::{self, CALLOUT, Front, Scale};
use super::frame::{Setup, Sheaf};
use super::page::{MM, Page, Um};
use super::scale::{ASIDE, BODY, COUNT, FIGURE, HEADING, TITLE};
use super::table::{self, CellEntry, PageColumn};
use crate::domain::cards::CardError;
use crate::domain::cards::card::Card;
use crate::domain::cards::layer::{Layer, LayerSize};
use crate::domain::cards::reveal::Reveal;
use crate::domain::cards::tools::Tools;
use crate::domain::length::{Length, Unit};
use crate::domain::paper_look::PaperLook;

/// Room for the drawing.
const DRAWING: (Um, Um) = (125 * MM, 140 * MM);
/// How many layers the table of other reveals shows.
const DEEP: usize = 4;

/// What a guide shows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Guide {
    /// The card with its layers.
    pub card: Card,
    /// Each layer's size, in the order of the card's layers.
    pub sizes: Vec<LayerSize>,
    /// What the bench measures with.
    pub tools: Tools,
}

impl Guide {
    /// Reckons the layers of a card.
    ///
    /// # Errors
    /// The sentence of the first layer that cannot be made.
    pub fn of(card: Card, tools: Tools) -> Result<Self, CardError> {
        let sizes = card.layer_sizes(&tools)?;
        Ok(Self { card, sizes, tools })
    }

    fn title(&self) -> String {
        let size = self.card.face.show_with_unit(self.tools.unit);
        if self.card.name.is_empty() { size } else { format!("{} ({size})", self.card.name) }
    }
}

/// The pages: the drawing and the tables.
pub fn pages(setup: &Setup, guide: &Guide) -> Vec<Page> {
    let unit = guide.tools.unit;
    let title = format!("Layers of {}", guide.title());
    let mut sheaf = Sheaf::new(
        setup,
        title,
        "Reveals are exact; cut sizes are rounded down to the trimmer's marks, once",
    );
    draw(&mut sheaf, guide);
    table::write_in(&mut sheaf, COUNT, &LAYERS, &layer_rows(guide));
    sheaf.gap(2 * MM);
    sheaf.keep(40 * MM);
    sheaf.write(HEADING, "The same card with one reveal throughout: cut sizes");
    table::write_in(&mut sheaf, COUNT, &reveal_columns(), &reveal_rows(guide, unit));
    sheaf.finish()
}

fn draw(sheaf: &mut Sheaf<'_>, guide: &Guide) {
    let face = guide.card.face;
    let body = sheaf.body();
    let scale = Scale::to_fit(face, DRAWING.0, DRAWING.1);
    let area = scale.area(body.x, 0, face);
    let top = sheaf.take(area.height + 4 * MM) + MM;
    let page = sheaf.page();
    let plain = PaperLook::default();
    let front = Front { face, base: &plain, layers: &guide.sizes, looks: &[], colourless: false };
    drawing::front(page, body.x + MM, top, scale, &front);
    let unit = guide.tools.unit;
    let x = body.x + area.width + CALLOUT + 3 * MM;
    let room = body.right() - x;
    page.words(TITLE.at(x, top + 5 * MM, &TITLE.fitted(&face.show_with_unit(unit), room)));
    page.words(ASIDE.at(x, top + 10 * MM, &ASIDE.fitted(&face.show_with_unit(unit.other()), room)));
    page.words(BODY.at(x, top + 16 * MM, &BODY.fitted(&format!("card front, {}", scale.words()), room)));
    let mut y = top + 26 * MM;
    for (layer, size) in guide.card.layers.iter().zip(&guide.sizes) {
        if y + COUNT.leading() > top + area.height {
            break;
        }
        let name = layer.shown_name(size.index);
        page.words(BODY.at(x, y, &BODY.fitted(&name, room)));
        page.words(FIGURE.at(x, y + FIGURE.leading(), &FIGURE.fitted(&size.cut.size.show(unit), room)));
        y += FIGURE.leading() + BODY.leading() + 2 * MM;
    }
}

const LAYERS: [PageColumn; 5] = [
    PageColumn::left("part", 4),
    PageColumn::left("set the trimmer to", 4),
    PageColumn::left("reveal", 2),
    PageColumn::left("from left, top", 4),
    PageColumn::left("rounded off", 4),
];

/// One row a layer: name, cut size, reveal, place, rounding.
fn layer_rows(guide: &Guide) -> Vec<Vec<CellEntry>> {
    let unit = guide.tools.unit;
    let rows = guide.card.layers.iter().zip(&guide.sizes).map(|(layer, size)| {
        let rounding = if size.cut.is_exact() {
            "nothing".to_owned()
        } else {
            format!("{}, {}", (-size.cut.error_width).about(unit), (-size.cut.error_height).about(unit))
        };
        vec![
            CellEntry::from(layer.made_by.named(&layer.shown_name(size.index))),
            CellEntry::Strong(size.cut.size.show(unit)),
            size.reveal.show(unit).into(),
            format!("{}, {}", size.x.about(unit), size.y.about(unit)).into(),
            rounding.into(),
        ]
    });
    rows.collect()
}

/// The usual reveals of a unit.
fn usual_reveals(unit: Unit) -> Vec<Length> {
    match unit {
        Unit::Inch => [1, 2, 3, 4].map(Length::sixteenths).to_vec(),
        Unit::Mm => [2, 3, 5, 6].map(Length::mm).to_vec(),
    }
}

fn reveal_columns() -> [PageColumn; DEEP + 1] {
    [
        PageColumn::left("reveal each side", 3),
        PageColumn::left("mat 1", 3),
        PageColumn::left("mat 2", 3),
        PageColumn::left("mat 3", 3),
        PageColumn::left("mat 4", 3),
    ]
}

/// Cut sizes of one to four mats with the same reveal; a dash where nothing is left.
fn reveal_rows(guide: &Guide, unit: Unit) -> Vec<Vec<CellEntry>> {
    let one = |reveal: Length| {
        let card = |deep: usize| Card {
            layers: vec![Layer::mat("", Reveal::all(reveal)); deep],
            ..guide.card.clone()
        };
        let mut row: Vec<CellEntry> = vec![reveal.show_with_unit(unit).into()];
        row.extend((1..=DEEP).map(|deep| {
            let sizes = card(deep).layer_sizes(&guide.tools).unwrap_or_default();
            CellEntry::from(sizes.last().map_or("–".to_owned(), |s| s.cut.size.show(unit)))
        }));
        row
    };
    usual_reveals(unit).into_iter().map(one).collect()
}

#[cfg(test)]
mod tests {
    use super::super::frame::PrintPaper;
    use super::super::scale::CLEAR;
    use super::*;
    use crate::domain::size::Size;

    fn guide() -> Guide {
        let face = Size::new(Length::sixteenths(68), Length::sixteenths(88));
        let reveals = [2, 1, 2].map(|n| Layer::mat("mat", Reveal::all(Length::sixteenths(n))));
        let card = Card { layers: reveals.to_vec(), ..Card::new("A2", face) };
        Guide::of(card, Tools::INCH).unwrap()
    }

    #[test]
    fn sizes_are_those_worked_by_hand() {
        // Worked task "Three layers with different reveals": 4 x 5 1/4; 3 7/8 x 5 1/8; 3 5/8 x 4 7/8; offsets 1/8, 3/16, 5/16.
        let pages = pages(&Setup::default(), &guide());
        let words: Vec<&str> = pages[0].texts().map(|w| w.text.as_str()).collect();
        for text in ["4 x 5 1/4", "3 7/8 x 5 1/8", "3 5/8 x 4 7/8", "1/8, 1/8", "3/16, 3/16", "5/16, 5/16"] {
            assert!(words.contains(&text), "{text} is missing among {words:?}");
        }
    }

    #[test]
    fn the_guide_fits_a_page_of_either_paper() {
        for paper in [PrintPaper::Letter, PrintPaper::A4] {
            let pages = pages(&Setup { paper, ..Setup::default() }, &guide());
            assert_eq!(pages.len(), 1);
            assert!(pages[0].area().inset(CLEAR).holds(&pages[0].bounds().unwrap()));
        }
    }
}
