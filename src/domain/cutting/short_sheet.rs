//! A sheet that measures less than its format says, and loses pieces by it: what its own size would have given, and the
//! piece a little smaller that brings as many back. The other way out, another cut of the size as it is, is the answer
//! itself. Knows no words.

use super::limited::Counter;
use super::question::{Question, SMALLEST_SIDE, part};
use super::stop::Stop;
use crate::domain::length::Length;
use crate::domain::sheet::Sheet;
use crate::domain::size::Size;

/// How much smaller a piece may be that is offered instead: 1/4 in, which a mat or panel bears without looking odd (common
/// practice).
const REACH: Length = Length::sixteenths(4);

/// What a short sheet lost, and how it is had back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ShortSheet {
    /// Pieces that the format's own size gives.
    pub full: u32,
    /// The largest piece, one side smaller by marks of the fence, of which the sheet as measured gives as many; `None`
    /// where none within 1/4 in does.
    pub narrower: Option<Size>,
}

/// What a measured sheet that gives `best` pieces lost; `None` where it lost none, or was not measured.
pub fn lost(question: &Question, best: u32, stop: &Stop) -> Option<ShortSheet> {
    question.sheet.measured?;
    let whole = Sheet { measured: None, ..question.sheet.clone() };
    let full = count(question, &whole, question.piece, stop)?;
    if full <= i64::from(best) {
        return None;
    }
    let narrower =
        smaller(question).find(|p| count(question, &question.sheet, *p, stop).is_some_and(|n| n >= full));
    Some(ShortSheet { full: u32::try_from(full).unwrap_or(u32::MAX), narrower })
}

/// Pieces a mark, two marks and so on smaller one way, the one that loses less paper first.
fn smaller(question: &Question) -> impl Iterator<Item = Size> {
    let (piece, mark) = (question.piece, question.trimmer.finest_mark);
    let marks = if mark.is_positive() { REACH.units() / mark.units() } else { 0 };
    (1..=marks).flat_map(move |n| {
        let less = mark * n;
        let mut both =
            [Size::new(piece.width - less, piece.height), Size::new(piece.width, piece.height - less)];
        both.sort_by_key(|p| std::cmp::Reverse(p.area()));
        both.into_iter().filter(|p| p.short() >= SMALLEST_SIDE)
    })
}

/// Most pieces by cuts from edge to edge; `None` where not every way could be looked at.
fn count(question: &Question, sheet: &Sheet, piece: Size, stop: &Stop) -> Option<i64> {
    let of = Question { piece, sheet: sheet.clone(), ..question.clone() };
    if of.check().is_err() {
        return None;
    }
    let usable = sheet.usable().size;
    let (width, height) = (usable.width.units(), usable.height.units());
    let ways: Vec<_> = if of.may_turn { of.ways() } else { vec![part(piece)] };
    let mut counter = Counter::new(width, height, &ways, of.trimmer.limits()).heeding(stop);
    let count = counter.count(width, height);
    (!counter.is_thinned() && counter.is_exact()).then_some(count)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cutting::one_size;
    use crate::domain::length::Unit;

    fn size(text: &str) -> Size {
        Size::parse(text, Unit::Inch).unwrap()
    }

    fn asked(piece: &str, sheet: &str, measured: &str) -> Question {
        let mut sheet = Sheet::new("sheet".to_owned(), size(sheet));
        sheet.measured = Some(size(measured));
        Question::new(size(piece), sheet)
    }

    /// Six of 2 in take 12 in to the edge. At 11 15/16 each is to lose a sixth of 1/16: the next mark down, 1 15/16.
    #[test]
    fn a_sixteenth_short_of_six_across_takes_a_mark_off_each_piece() {
        let turned = asked("2x12", "12x12", "11-15/16x12");
        // Where they may lie turned, 12 in holds all six and a sixteenth off their length is less paper lost.
        let lower = Some(ShortSheet { full: 6, narrower: Some(size("2x11-15/16")) });
        assert_eq!(one_size::answer(&turned).short, lower);
        let question = Question { may_turn: false, ..turned };
        let answer = one_size::answer(&question);
        assert_eq!(answer.best, 5);
        assert_eq!(answer.short, Some(ShortSheet { full: 6, narrower: Some(size("1-15/16x12")) }));
        // Six of 1 15/16 are 11 5/8: they fit, and the answer to them says so.
        let narrow = Question { piece: size("1-15/16x12"), ..question };
        assert_eq!(one_size::answer(&narrow).best, 6);
    }

    #[test]
    fn nothing_is_offered_where_nothing_is_lost_or_measured() {
        let slack = asked("2x11", "12x12", "12x11-15/16");
        assert_eq!((one_size::answer(&slack).best, one_size::answer(&slack).short), (6, None));
        let mut unmeasured = asked("2x12", "12x12", "12x12");
        unmeasured.sheet.measured = None;
        assert_eq!(one_size::answer(&unmeasured).short, None);
    }

    /// Half an inch is more than a quarter an inch off each of two.
    #[test]
    fn too_short_a_sheet_is_told_without_a_piece() {
        let question = asked("6x12", "12x12", "11-7/16x12");
        assert_eq!(one_size::answer(&question).short, Some(ShortSheet { full: 2, narrower: None }));
        let at_reach = asked("6x12", "12x12", "11-1/2x12");
        assert_eq!(
            one_size::answer(&at_reach).short,
            Some(ShortSheet { full: 2, narrower: Some(size("5-3/4x12")) })
        );
    }
}
