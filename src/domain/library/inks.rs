//! Which inks can be read on a paper: those that are held first, best first. Contrast stands in for legibility (WCAG 2.2 ratio).

use crate::domain::book::Book;
use crate::domain::colour::legibility::{Ink, InkReading, read};
use crate::domain::colour::space::Rgb8;
use crate::domain::stock::{ItemId, Kind};

/// An ink on a paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnPaper {
    /// The ink pad.
    pub ink: ItemId,
    /// One of it is on the shelf.
    pub is_held: bool,
    /// What the print looks like, and how well it reads.
    pub reading: InkReading,
}

/// Every ink pad with a colour, on a paper of this screen value.
pub fn readings(book: &Book, paper: Rgb8) -> Vec<OnPaper> {
    let mut all: Vec<OnPaper> = book
        .items()
        .iter()
        .filter(|(_, i)| i.kind == Kind::InkPad)
        .filter_map(|(id, i)| {
            let [r, g, b] = book.swatches().get(i.swatch?)?.hex;
            let ink = Ink { colour: Rgb8::new(r, g, b), opaque: i.opaque };
            Some(OnPaper { ink: id, is_held: book.on_hand(id) > 0, reading: read(ink, paper) })
        })
        .collect();
    let better = |one: &OnPaper, two: &OnPaper| two.reading.ratio.total_cmp(&one.reading.ratio);
    all.sort_by(|one, two| two.is_held.cmp(&one.is_held).then_with(|| better(one, two)));
    all
}
