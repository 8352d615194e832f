//! The blanks of what is made beside a card: how each is cut and scored, as a [`Construction`] drawn to scale. Knows the
//! finished card, not who asks.

use super::construction::bag;
use super::construction::envelope::{self as square, Straight};
use super::construction::{BlankLine, Construction, Figure, LineKind, boxes};
use super::error::{CardError, CardReason};
use super::fold::{Score, Side};
use super::frame;
use super::job::{CardSpec, Worked};
use super::make::Make;
use super::tools::Tools;
use crate::domain::length::Length;
use crate::domain::size::Size;

impl Make {
    /// Makes it for a worked-out card.
    ///
    /// # Errors
    /// A measure that cannot be folded, with the nearest that can.
    pub fn build(
        &self,
        spec: &CardSpec,
        worked: &Worked,
        tools: &Tools,
    ) -> Result<Vec<Construction>, CardError> {
        let face = spec.card.face;
        match *self {
            Self::BoxAndLid { floor, depth, lid_depth, room, sheet } => {
                box_and_lid(floor, (depth, lid_depth), room, sheet, tools)
            }
            Self::SquareEnvelope(inside) => {
                let inside = inside.unwrap_or_else(|| square::for_card(face));
                Ok(vec![square::from_square(inside, tools)?])
            }
            Self::StraightEnvelope { inside, tab, flap } => {
                let usual = Straight::usual(inside.unwrap_or_else(|| square::for_card(face)), tools);
                let asked =
                    Straight { tab: tab.unwrap_or(usual.tab), flap: flap.unwrap_or(usual.flap), ..usual };
                Ok(vec![asked.make(tools)?])
            }
            Self::Bag(bag) => Ok(vec![bag.make(tools)?]),
            Self::Pocket { panel, height, tab } => Ok(vec![bag::pocket(panel, height, tab, tools)?]),
            Self::Sleeve { width, depth, breadth, tab } => {
                Ok(vec![boxes::sleeve(width, depth, breadth, tab, tools)?])
            }
            Self::BellyBand { breadth, round, overlap } => {
                let thickness = worked.thickness.value;
                let band = frame::belly_band(round.of(face), thickness.unwrap_or_default(), breadth, overlap);
                let mut made = belly_band(band);
                if thickness.is_none() {
                    made.notes.push("worked out without the card's thickness, which is not known".to_owned());
                }
                Ok(vec![made])
            }
            Self::InsertSheet => insert_sheet(worked.base.size, &worked.base.scores, tools),
            Self::InsideLiner => Ok(vec![plain("inside liner", frame::inside_liner(face, tools)?)]),
            Self::EnvelopeLiner { flap, gum } => envelope_liner(worked, flap, gum, tools),
        }
    }
}

fn plain(name: &'static str, blank: Size) -> Construction {
    Construction { name, blank, figures: Vec::new(), lines: Vec::new(), notes: Vec::new() }
}

fn box_and_lid(
    floor: Size,
    depths: (Length, Length),
    room: Length,
    sheet: Option<Size>,
    tools: &Tools,
) -> Result<Vec<Construction>, CardError> {
    let open = boxes::open_box(floor, depths.0, tools)?;
    let mut lid = boxes::lid(floor, room, depths.1, tools)?;
    if let Some(sheet) = sheet {
        let sheets = boxes::sheets_for(sheet, open.blank, lid.blank);
        let one_fits =
            open.blank.fits_in_either_way(sheet, true) && lid.blank.fits_in_either_way(sheet, true);
        let of = sheet.show_with_unit(tools.unit);
        lid.notes.push(match (one_fits, sheets) {
            (false, _) => format!("a sheet of {of} does not hold the blanks"),
            (true, 1) => format!("box and lid lie side by side on one sheet of {of}"),
            (true, n) => format!("box and lid need {n} sheets of {of}"),
        });
        if let Ok(most) = boxes::largest_side_by_side(sheet, depths.0, depths.1, room, tools) {
            let most = most.show_with_unit(tools.unit);
            lid.notes.push(format!(
                "the largest square box of these depths beside its lid on it is {most} each side"
            ));
        }
    }
    Ok(vec![open, lid])
}

fn belly_band(band: frame::Band) -> Construction {
    let breadth = band.strip.height;
    let lines =
        band.folds.iter().map(|x| BlankLine::down(LineKind::Score, *x, Length::ZERO, breadth)).collect();
    let names = ["first fold", "second fold", "third fold", "fourth fold"];
    let figures =
        names.into_iter().zip(band.folds).map(|(name, value)| Figure { name, value, is_set: true }).collect();
    let notes = vec!["wrap it around the closed card itself before gluing".to_owned()];
    Construction { name: "belly band", blank: band.strip, figures, lines, notes }
}

fn insert_sheet(base: Size, scores: &[Score], tools: &Tools) -> Result<Vec<Construction>, CardError> {
    let blank = frame::insert_sheet(base, tools)?;
    // The insert lies in the middle of the base, so each of its folds is half of the 1/4 in nearer.
    let nearer = (base.width - blank.width).half();
    let lines = scores
        .iter()
        .filter(|s| s.at > nearer && s.at - nearer < s.side.of(blank))
        .map(|s| match s.side {
            Side::Width => BlankLine::down(LineKind::Score, s.at - nearer, Length::ZERO, blank.height),
            Side::Height => BlankLine::across(LineKind::Score, s.at - nearer, Length::ZERO, blank.width),
        })
        .collect();
    Ok(vec![Construction { lines, ..plain("insert sheet", blank) }])
}

fn envelope_liner(
    worked: &Worked,
    flap: Length,
    gum: Length,
    tools: &Tools,
) -> Result<Vec<Construction>, CardError> {
    let Some(enclosed) = &worked.enclosed else {
        let text = "an envelope liner needs an envelope: name one by its name or size".to_owned();
        return Err(CardError::new(CardReason::TooLarge, text));
    };
    // The flap of an announcement envelope lies on its long side.
    let inside = enclosed.envelope.inside();
    let lying = Size::new(inside.long(), inside.short());
    let blank = frame::envelope_liner(lying, flap, gum, tools)?;
    let fold = lying.height;
    let lines = if fold < blank.height {
        vec![BlankLine::across(LineKind::Score, fold, Length::ZERO, blank.width)]
    } else {
        Vec::new()
    };
    let notes = vec!["trace the flap's own shape on the part beyond the fold".to_owned()];
    Ok(vec![Construction { lines, notes, ..plain("envelope liner", blank) }])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::length::Unit;
    use crate::domain::thickness::Thickness;

    /// 4 1/4 around with 1 in of overlap, by hand: the back is (4 1/4 + 1) / 2 = 2 5/8, the far fold 2 5/8 + 4 1/4 = 6 7/8.
    /// Without a thickness two folds lie at each; with one they lie its thickness apart.
    #[test]
    fn a_fold_at_one_place_is_scored_once() {
        let len = |text: &str| Length::parse(text, Unit::Inch).unwrap();
        let made = |t| belly_band(frame::belly_band(len("4 1/4"), t, len("2"), len("1")));
        let flat = made(Thickness::ZERO);
        let at: Vec<Length> = flat.figures.iter().map(|f| f.value).collect();
        assert_eq!((at, flat.lines.len()), (vec![len("2 5/8"), len("6 7/8")], 2));
        let thick = made(Thickness::from_length(len("1/8")));
        assert_eq!((thick.figures.len(), thick.lines.len()), (4, 4));
    }
}
