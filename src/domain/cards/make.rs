//! What can be made beside the card, asked for by name: envelopes, boxes, bags, bands and liners. Each answer is a
//! [`Construction`], drawn to scale. Knows the finished card, not who asks.

use super::construction::bag::{self, Bag};
use super::construction::envelope::{self as square, Straight};
use super::construction::{Construction, Figure, Line, LineKind, boxes};
use super::error::{CardError, Reason};
use super::fold::Side;
use super::frame;
use super::job::{CardSpec, Worked};
use super::tools::Tools;
use crate::domain::length::Length;
use crate::domain::size::Size;

/// Something to make.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Make {
    /// An open box and its lid.
    BoxAndLid {
        /// Inside length by width.
        floor: Size,
        /// Depth of the box.
        depth: Length,
        /// Depth of the lid.
        lid_depth: Length,
        /// How much larger the lid is.
        room: Length,
        /// The sheet both are to come from, where one was named.
        sheet: Option<Size>,
    },
    /// An envelope from a turned square: of this inside, or for the card.
    SquareEnvelope(Option<Size>),
    /// A straight envelope: of this inside with a tab and flap, or the usual ones.
    StraightEnvelope {
        /// Width by height; `None` for the card's.
        inside: Option<Size>,
        /// Breadth of a side tab.
        tab: Option<Length>,
        /// Depth of the flap.
        flap: Option<Length>,
    },
    /// A gusset bag.
    Bag(Bag),
    /// A pocket from a panel.
    Pocket {
        /// Breadth of the panel.
        panel: Length,
        /// Height when folded.
        height: Length,
        /// Tabs at both sides and the bottom.
        tab: Length,
    },
    /// A sleeve.
    Sleeve {
        /// Width of a panel.
        width: Length,
        /// Depth of a side.
        depth: Length,
        /// How long the sleeve is along the box.
        breadth: Length,
        /// Glue tab.
        tab: Length,
    },
    /// A band round the closed card.
    BellyBand {
        /// How broad the strip is.
        breadth: Length,
        /// The side it goes round.
        round: Side,
        /// Overlap at the back.
        overlap: Length,
    },
    /// A folded sheet inside the card.
    InsertSheet,
    /// A liner for the inside of one half.
    InsideLiner,
    /// A liner for the card's envelope.
    EnvelopeLiner {
        /// Depth of the envelope's flap.
        flap: Length,
        /// What is left free for the gum.
        gum: Length,
    },
}

impl Make {
    /// Makes it for a worked-out card.
    ///
    /// # Errors
    /// A measure that cannot be folded, with the nearest that can.
    pub fn build(
        &self,
        job: &CardSpec,
        worked: &Worked,
        tools: &Tools,
    ) -> Result<Vec<Construction>, CardError> {
        let face = job.card.face;
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
                    made.notes.push("reckoned without the card's thickness, which is not known".to_owned());
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
    let lines = band.folds.map(|x| Line::down(LineKind::Score, x, Length::ZERO, breadth)).to_vec();
    let names = ["first fold", "second fold", "third fold", "fourth fold"];
    let figures =
        names.into_iter().zip(band.folds).map(|(name, value)| Figure { name, value, is_set: true }).collect();
    let notes = vec!["wrap it round the closed card itself before gluing".to_owned()];
    Construction { name: "belly band", blank: band.strip, figures, lines, notes }
}

fn insert_sheet(
    base: Size,
    scores: &[super::fold::Score],
    tools: &Tools,
) -> Result<Vec<Construction>, CardError> {
    let blank = frame::insert_sheet(base, tools)?;
    // The insert lies in the middle of the base, so each of its folds is half of the 1/4 in nearer.
    let nearer = (base.width - blank.width).half();
    let lines = scores
        .iter()
        .filter(|s| s.at > nearer && s.at - nearer < s.side.of(blank))
        .map(|s| match s.side {
            Side::Width => Line::down(LineKind::Score, s.at - nearer, Length::ZERO, blank.height),
            Side::Height => Line::across(LineKind::Score, s.at - nearer, Length::ZERO, blank.width),
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
        return Err(CardError::new(Reason::TooLarge, text));
    };
    // The flap of an announcement envelope lies on its long side.
    let inside = enclosed.envelope.inside();
    let lying = Size::new(inside.long(), inside.short());
    let blank = frame::envelope_liner(lying, flap, gum, tools)?;
    let fold = lying.height;
    let lines = if fold < blank.height {
        vec![Line::across(LineKind::Score, fold, Length::ZERO, blank.width)]
    } else {
        Vec::new()
    };
    let notes = vec!["trace the flap's own shape on the part beyond the fold".to_owned()];
    Ok(vec![Construction { lines, notes, ..plain("envelope liner", blank) }])
}
