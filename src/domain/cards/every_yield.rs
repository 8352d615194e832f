//! What a sheet gives of every part of a card, strips and base too, and of each mat at the reveals round its own: side by
//! side, so that a reveal that wastes a sheet is seen before the cutting. Knows no solver: it asks how many pieces a sheet
//! gives.

use super::advice::{self, RevealChoice};
use super::tools::Tools;
use crate::domain::length::Length;
use crate::domain::sheet::Sheet;
use crate::domain::size::Size;

/// One part of the card.
#[derive(Clone, Debug, PartialEq)]
pub struct PartAsk {
    /// What it is called on the card.
    pub name: String,
    /// The size to cut.
    pub size: Size,
    /// What a mat lies on and its reveal, where that is the same all round.
    pub mat: Option<(Size, Length)>,
    /// The sheet it is cut from.
    pub sheet: Sheet,
    /// It may lie turned.
    pub may_turn: bool,
    /// How many are made.
    pub pieces: u32,
}

/// What is asked of a card.
#[derive(Clone, Debug, PartialEq)]
pub struct EveryYield {
    /// Its parts, in the order of the card's rows.
    pub parts: Vec<PartAsk>,
    /// Marks looked at on each side of a reveal.
    pub reach: u32,
    /// What the bench measures with.
    pub tools: Tools,
}

/// What a sheet gives of a part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PartYield {
    /// Pieces of one sheet.
    pub yields: u32,
    /// Sheets for all that are made; `None` where a sheet gives none.
    pub sheets: Option<u32>,
    /// The reveals round its own; empty for what has none.
    pub reveals: Vec<RevealChoice>,
}

impl EveryYield {
    /// The answer, part by part; `yield_of` says how many pieces of a size a sheet gives, turned or not.
    pub fn answer(&self, mut yield_of: impl FnMut(Size, &Sheet, bool) -> u32) -> Vec<PartYield> {
        let one = |part: &PartAsk| {
            let mut of = |size: Size| yield_of(size, &part.sheet, part.may_turn);
            let yields = of(part.size);
            let reveals = part.mat.map_or_else(Vec::new, |(below, reveal)| {
                advice::around(below, reveal, self.reach, &self.tools, &mut of)
            });
            PartYield { yields, sheets: advice::sheets_for(part.pieces, yields), reveals }
        };
        self.parts.iter().map(one).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Whole rows and columns of an upright piece, by hand: enough for sizes that fill a sheet so.
    fn rows_and_columns(size: Size, sheet: &Sheet, _: bool) -> u32 {
        let fit = |a: Length, b: Length| u32::try_from(b.units() / a.units()).unwrap();
        fit(size.width, sheet.actual().width) * fit(size.height, sheet.actual().height)
    }

    #[test]
    fn every_part_has_its_yield_and_a_mat_those_of_the_reveals_round_it() {
        let sheet = Sheet::new("12x12", Size::new(Length::inches(12), Length::inches(12)));
        let face = Size::new(Length::sixteenths(68), Length::sixteenths(88));
        let eighth = Length::sixteenths(2);
        let part = |name: &str, size: Size, mat, pieces| PartAsk {
            name: name.to_owned(),
            size,
            mat,
            sheet: sheet.clone(),
            may_turn: true,
            pieces,
        };
        let mat = Size::new(Length::sixteenths(64), Length::sixteenths(84));
        let strip = Size::new(Length::sixteenths(12), Length::sixteenths(64));
        let ask = EveryYield {
            parts: vec![
                part("base", Size::new(Length::sixteenths(136), Length::sixteenths(88)), None, 5),
                part("mat 1", mat, Some((face, eighth)), 17),
                part("strip", strip, None, 40),
            ],
            reach: 1,
            tools: Tools::INCH,
        };
        let found = ask.answer(rows_and_columns);
        // 12/8 1/2 = 1, 12/5 1/2 = 2; 12/4 = 3, 12/5 1/4 = 2; 12/(3/4) = 16, 12/4 = 3.
        let yields: Vec<(u32, Option<u32>)> = found.iter().map(|f| (f.yields, f.sheets)).collect();
        assert_eq!(yields, [(2, Some(3)), (6, Some(3)), (48, Some(1))]);
        // 1/16: 4 1/8 x 5 3/8 is 2 x 2; 1/8: 6; 3/16: 3 7/8 x 5 1/8 is 3 x 2.
        let reveals: Vec<(u32, bool)> = found[1].reveals.iter().map(|c| (c.yields, c.chosen)).collect();
        assert_eq!(reveals, [(4, false), (6, true), (6, false)]);
        assert!(found[0].reveals.is_empty() && found[2].reveals.is_empty());
    }
}
