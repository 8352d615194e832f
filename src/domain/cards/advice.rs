//! What a reveal costs in paper, and how many pieces a batch needs. Knows no solver: it asks how many pieces a sheet gives.
//!
//! A mat a sixteenth wider can lose a third of a sheet: 1/8 against 1/16 on an A2 face is 6 against 4 pieces of a
//! 12 x 12, and nobody sees it before the cutting. So the sizes round the chosen reveal are asked first.

use super::card::Card;
use super::layer::{CutSize, LayerSize};
use super::made_by::MadeBy;
use super::paper::Paper;
use super::tools::Tools;
use crate::domain::length::{Length, Unit};
use crate::domain::size::Size;

/// One reveal and what the sheet gives of its mat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RevealChoice {
    /// The reveal, the same all round.
    pub reveal: Length,
    /// The mat to cut.
    pub mat: Size,
    /// Pieces of one sheet.
    pub yields: u32,
    /// True for the reveal that was chosen.
    pub chosen: bool,
}

/// The yields of the mats on a layer of size `below`, for the chosen reveal and up to `each_side` marks either way.
///
/// `yield_of` says how many pieces of a size the paper at hand gives; it is asked once for every size.
pub fn around(
    below: Size,
    chosen: Length,
    each_side: u32,
    tools: &Tools,
    mut yield_of: impl FnMut(Size) -> u32,
) -> Vec<RevealChoice> {
    let reach = i64::from(each_side);
    let mut reveals: Vec<Length> = (-reach..=reach).map(|n| chosen + tools.trimmer * n).collect();
    reveals.retain(|r| {
        r.is_positive() && Size::new(below.width - *r * 2, below.height - *r * 2).short() >= tools.trimmer
    });
    reveals
        .into_iter()
        .map(|reveal| {
            let exact = Size::new(below.width - reveal * 2, below.height - reveal * 2);
            let mat = CutSize::must_fit(exact, tools.trimmer).size;
            RevealChoice { reveal, mat, yields: yield_of(mat), chosen: reveal == chosen }
        })
        .collect()
}

/// Sheets for a number of pieces; `None` where a sheet gives none.
pub fn sheets_for(pieces: u32, yields: u32) -> Option<u32> {
    (yields > 0).then(|| pieces.div_ceil(yields))
}

/// One sentence where another reveal gives more: `1/8 in gives 6 a sheet, 1/16 in 4: ...`; nothing where none does.
pub fn sentence(choices: &[RevealChoice], pieces: u32, unit: Unit) -> Option<String> {
    let chosen = choices.iter().find(|c| c.chosen)?;
    let better = choices
        .iter()
        .filter(|c| c.yields > chosen.yields)
        .max_by_key(|c| (c.yields, std::cmp::Reverse((c.reveal - chosen.reveal).abs())))?;
    let part = |c: &RevealChoice| {
        let sheets = sheets_for(pieces, c.yields).map_or_else(|| "none".to_owned(), |n| n.to_string());
        format!(
            "reveal {} ({}): {} a sheet, {sheets} for {pieces}",
            c.reveal.show_with_unit(unit),
            c.mat.about(unit),
            c.yields
        )
    };
    Some(format!("{}; {}", part(chosen), part(better)))
}

/// Spares on top of what a batch needs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Spares {
    /// Of a hundred, rounded up to a whole piece.
    pub percent: u32,
    /// More, however many are made.
    pub fixed: u32,
}

/// Pieces with their spares: rounded up before any sheet is counted. `None` past the integer range.
pub fn with_spares(pieces: u32, spares: Spares) -> Option<u32> {
    let share = (u64::from(pieces) * u64::from(spares.percent)).div_ceil(100);
    let all = u64::from(pieces) + share + u64::from(spares.fixed);
    u32::try_from(all).ok()
}

/// Pieces of one kind that a batch needs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Needed {
    /// `None` for the base, else the layer's index.
    pub layer: Option<usize>,
    /// What it is called.
    pub name: String,
    /// How it is made.
    pub made_by: MadeBy,
    /// The size to cut.
    pub size: Size,
    /// How many, spares included.
    pub count: u32,
    /// Name of its paper, where chosen.
    pub paper: Option<String>,
    /// False where it must stay upright.
    pub may_turn: bool,
}

/// The name of a paper that has one.
fn named(paper: Option<&Paper>) -> Option<String> {
    paper.map(|p| p.name.clone()).filter(|n| !n.is_empty())
}

/// The pieces of a batch of cards: the base and every layer, with spares. A layer of no pieces is left out.
///
/// `None` past the integer range.
pub fn pieces(
    card: &Card,
    base: Size,
    sizes: &[LayerSize],
    batch: u32,
    spares: Spares,
) -> Option<Vec<Needed>> {
    let mut all = vec![Needed {
        layer: None,
        name: "base".to_owned(),
        made_by: card.base_made_by,
        size: base,
        count: with_spares(batch, spares)?,
        paper: named(card.base_paper.as_ref()),
        may_turn: true,
    }];
    for (layer, size) in card.layers.iter().zip(sizes) {
        if layer.count == 0 {
            continue;
        }
        all.push(Needed {
            layer: Some(size.index),
            name: layer.shown_name(size.index),
            made_by: layer.made_by,
            size: size.cut.size,
            count: with_spares(batch.checked_mul(layer.count)?, spares)?,
            paper: named(layer.paper.as_ref()),
            may_turn: layer.may_turn,
        });
    }
    Some(all)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cards::layer::Layer;
    use crate::domain::cards::reveal::Reveal;

    /// All one way on 12 x 12, pattern upright.
    fn upright_on_12(piece: Size) -> u32 {
        let twelve = Length::inches(12);
        (twelve.times(piece.width) * twelve.times(piece.height)) as u32
    }

    fn a2() -> Size {
        Size::parse("4-1/4x5-1/2", Unit::Inch).unwrap()
    }

    /// Worked by hand: 36 mats, reveal 1/8 gives 6 a sheet and 6 sheets, reveal 1/16 gives 4 and 9.
    #[test]
    fn a_narrower_reveal_can_cost_a_third_of_the_paper() {
        let choices = around(a2(), Length::sixteenths(1), 2, &Tools::INCH, upright_on_12);
        assert_eq!(choices.iter().map(|c| c.yields).collect::<Vec<_>>(), [4, 6, 6]);
        assert_eq!(sheets_for(36, 4), Some(9));
        assert_eq!(sheets_for(36, 6), Some(6));
        let said = sentence(&choices, 36, Unit::Inch).unwrap();
        assert!(
            said.contains("4 a sheet, 9 for 36")
                && said.contains("reveal 1/8 in (4 x 5 1/4 in): 6 a sheet, 6 for 36"),
            "{said}"
        );
        let best = around(a2(), Length::sixteenths(2), 1, &Tools::INCH, upright_on_12);
        assert_eq!(sentence(&best, 36, Unit::Inch), None);
        assert_eq!(sheets_for(36, 0), None);
    }

    #[test]
    fn reveals_that_leave_nothing_are_not_asked() {
        let small = Size::new(Length::sixteenths(4), Length::sixteenths(4));
        let choices = around(small, Length::sixteenths(1), 3, &Tools::INCH, |_| 1);
        assert_eq!(choices.len(), 1);
    }

    #[test]
    fn pieces_of_a_batch() {
        let mat = Layer {
            paper: Some(Paper { name: "fern".into(), ..Paper::default() }),
            count: 2,
            ..Layer::mat("mat", Reveal::all(Length::sixteenths(2)))
        };
        let none = Layer { count: 0, ..Layer::mat("left out", Reveal::all(Length::sixteenths(2))) };
        let card = Card { layers: vec![mat, none], ..Card::new("", a2()) };
        let all = card.layer_sizes(&Tools::INCH).unwrap();
        let spares = Spares { percent: 5, fixed: 1 };
        let needed =
            pieces(&card, Size::parse("8-1/2x5-1/2", Unit::Inch).unwrap(), &all, 56, spares).unwrap();
        let counts: Vec<u32> = needed.iter().map(|n| n.count).collect();
        assert_eq!(counts, [56 + 3 + 1, 112 + 6 + 1]);
        assert_eq!(needed[1].paper.as_deref(), Some("fern"));
        assert_eq!(pieces(&card, a2(), &all, u32::MAX, spares), None);
    }
}
