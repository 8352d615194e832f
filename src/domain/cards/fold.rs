//! How a base folds to its face: base size, score lines, grain. Knows thickness, not which paper it is.
//!
//! The *edge* that the fold lies on is kept apart from how the card is *held*: the face is given as it is held, and a
//! landscape card that folds at its top and a portrait one that folds at its side share one base. Panels lie side by
//! side along the base's width for an edge at the left and along its height for one at the top; `at` counts from the
//! left or top end of the base.
//!
//! | fold | panels | the length L that folds, for a face side a | scores |
//! |---|---|---|---|
//! | side, top | 2 | 2a + t | a; two of them, a and a + t, from 1/64 in of thickness on |
//! | gate | 3 | a + 2 gates, each a/2 less the relief | gate, gate + a |
//! | letter | 3 | 3a less d | from the inner panel: a - d, 2a - d |
//! | roll | n | each inner panel d shorter than the one outside it | from the innermost panel |
//! | Z, accordion | 3, n | na | every a; the folds alternate |
//! | French | 4 | twice the face both ways | both middles |
//! | back | 3 | 2a: the front folded back to its own half | a/2, a |
//!
//! Sources: one fold, letter, Z, accordion, gate: desktop-publishing and card tutorials; relief, roll, front folded
//! back, French fold, thick stock: common practice.

use super::error::{CardError, CardReason};
use super::tools::{Tool, Tools};
use crate::domain::length::{Length, Rounding};
use crate::domain::plural::count_of;
use crate::domain::size::Size;
use crate::domain::thickness::Thickness;

/// The kinds of fold.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum FoldKind {
    /// One leaf, no fold.
    Flat,
    /// One fold on the left edge of the face.
    #[default]
    Side,
    /// One fold on the top edge of the face.
    Top,
    /// Two doors that meet in the middle.
    Gate,
    /// Three panels, folded in one after the other.
    Letter,
    /// Any number of panels, rolled in from one end.
    Roll,
    /// Three equal panels, folds alternate.
    Z,
    /// Any number of equal panels, folds alternate.
    Accordion,
    /// Folded in half both ways.
    French,
    /// The front panel folded back to its own half.
    Back,
}

impl FoldKind {
    /// All of them, in the order shown.
    pub const ALL: [Self; 10] = [
        Self::Side,
        Self::Top,
        Self::Gate,
        Self::Letter,
        Self::Roll,
        Self::Z,
        Self::Accordion,
        Self::French,
        Self::Back,
        Self::Flat,
    ];

    /// The word that is typed and shown.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Flat => "flat",
            Self::Side => "side",
            Self::Top => "top",
            Self::Gate => "gate",
            Self::Letter => "letter",
            Self::Roll => "roll",
            Self::Z => "z",
            Self::Accordion => "accordion",
            Self::French => "french",
            Self::Back => "back",
        }
    }

    /// Reads the word.
    ///
    /// # Errors
    /// The words that are read.
    pub fn from_word(word: &str) -> Result<Self, CardError> {
        let tidy = word.trim().to_lowercase();
        Self::ALL
            .into_iter()
            .find(|k| k.word() == tidy)
            .ok_or_else(|| CardError::unknown_word(word, "fold", &Self::ALL.map(Self::word)))
    }

    /// Panels where the person names no number.
    pub const fn usual_panels(self) -> u32 {
        match self {
            Self::Flat => 1,
            Self::Side | Self::Top => 2,
            Self::Gate | Self::Letter | Self::Z | Self::Back => 3,
            Self::Roll | Self::Accordion | Self::French => 4,
        }
    }
}

/// Which edge of the face the (first) fold lies on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum FoldEdge {
    /// The left edge: panels lie along the width.
    #[default]
    Left,
    /// The top edge: panels lie along the height.
    Top,
}

/// How a base folds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Fold {
    /// The kind.
    pub kind: FoldKind,
    /// The edge it lies on; side and top folds carry theirs in the kind.
    pub edge: FoldEdge,
    /// Panels of a roll or accordion; `None` for the usual number.
    pub panels: Option<u32>,
    /// Thickness of the base's paper, which sets the allowance; `None` for an ordinary card stock (no spine).
    pub thickness: Option<Thickness>,
    /// An allowance of the person's own: the spine of one fold, the relief of a gate, the step of a letter or roll.
    pub allowance: Option<Length>,
}

impl Fold {
    /// A fold with the usual panels and allowance.
    pub fn new(kind: FoldKind) -> Self {
        Self { kind, ..Self::default() }
    }

    /// The edge that the fold lies on.
    pub const fn edge(&self) -> FoldEdge {
        match self.kind {
            FoldKind::Top => FoldEdge::Top,
            FoldKind::Side => FoldEdge::Left,
            _ => self.edge,
        }
    }
}

/// A side of a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Side {
    /// Along x.
    Width,
    /// Along y.
    Height,
}

impl Side {
    /// The word in answers.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Width => "width",
            Self::Height => "height",
        }
    }

    /// The other side.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Width => Self::Height,
            Self::Height => Self::Width,
        }
    }

    /// That side of a size.
    pub const fn of(self, size: Size) -> Length {
        match self {
            Self::Width => size.width,
            Self::Height => size.height,
        }
    }
}

/// A score line: the side that it is measured along, and the distance. The line itself runs along the other side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Score {
    /// The side measured along.
    pub side: Side,
    /// From the left or top end of the base.
    pub at: Length,
}

/// The sheet that folds to the face.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Base {
    /// Its size, lying so that the face keeps its sides.
    pub size: Size,
    /// Score lines, by side and then from the left or top.
    pub scores: Vec<Score>,
    /// The panels along the side that folds, from the left or top.
    pub panels: Vec<Length>,
    /// The allowance that was used: spine, relief or step.
    pub allowance: Length,
}

/// The base, scores and panels of a face under a fold.
///
/// # Errors
/// Too few or too many panels, or an allowance that leaves no panel.
pub fn base(face: Size, fold: &Fold, tools: &Tools) -> Result<Base, CardError> {
    let side = match fold.edge() {
        FoldEdge::Left => Side::Width,
        FoldEdge::Top => Side::Height,
    };
    let a = side.of(face);
    let (n, allowance) = (panel_count(fold)?, allowance(fold));
    check_allowance(fold, a, allowance, n, tools)?;
    let panels = panels(fold.kind, a, allowance, n);
    let mut scores = scores_between(&panels, side);
    let mut across = side.other().of(face);
    if fold.kind == FoldKind::French {
        scores.push(Score { side: side.other(), at: across });
        scores.sort_unstable();
        across = across * 2;
    }
    let along: Length = panels.iter().copied().sum();
    let size = match side {
        Side::Width => Size::new(along, across),
        Side::Height => Size::new(across, along),
    };
    Ok(Base { size, scores, panels, allowance })
}

/// The face that a base of a given size folds to, and that base: `11 x 4` in a letter fold is three panels of about 3 11/16.
///
/// A face side that no whole number of units meets goes to the nearest, and the last panel takes the rest (under 12 µm).
///
/// # Errors
/// As [`base`].
pub fn from_base(flat: Size, fold: &Fold, tools: &Tools) -> Result<(Size, Base), CardError> {
    let side = match fold.edge() {
        FoldEdge::Left => Side::Width,
        FoldEdge::Top => Side::Height,
    };
    let (long, across) = (side.of(flat), side.other().of(flat));
    let (n, d) = (i64::from(panel_count(fold)?), allowance(fold));
    let (units, parts) = match fold.kind {
        FoldKind::Flat => (long, 1),
        FoldKind::Side | FoldKind::Top => (long - d, 2),
        FoldKind::Gate => (long + d * 2, 2),
        // n panels less the steps 1 to n - 2.
        FoldKind::Letter | FoldKind::Roll => (long + d * ((n - 2) * (n - 1) / 2), n),
        FoldKind::Z | FoldKind::Accordion => (long, n),
        FoldKind::French | FoldKind::Back => (long, 2),
    };
    let a = Length::from_units((units.units() * 2 + parts).div_euclid(parts * 2));
    let across = if fold.kind == FoldKind::French { across.half() } else { across };
    let face = match side {
        Side::Width => Size::new(a, across),
        Side::Height => Size::new(across, a),
    };
    if face.short() < tools.trimmer {
        let text = format!(
            "a base of {} is too small for this fold: its panels would be {}",
            flat.show_with_unit(tools.unit),
            face.show_with_unit(tools.unit)
        );
        return Err(CardError::new(CardReason::TooSmall, text));
    }
    let mut made = base(face, fold, tools)?;
    if let Some(last) = made.panels.last_mut() {
        *last += long - side.of(made.size);
    }
    made.size = flat;
    Ok((face, made))
}

/// The panels along the side that folds, from the left or top.
fn panels(kind: FoldKind, a: Length, allowance: Length, n: u32) -> Vec<Length> {
    match kind {
        FoldKind::Flat => vec![a],
        // From a 64th on the two faces are scored apart; thinner, one score down the middle serves both.
        FoldKind::Side | FoldKind::Top if allowance >= THICK => vec![a, allowance, a],
        FoldKind::Side | FoldKind::Top => vec![a + allowance.half(), a + allowance - allowance.half()],
        FoldKind::Gate => {
            let gate = a.half() - allowance;
            vec![gate, a, gate]
        }
        FoldKind::Letter | FoldKind::Roll => rolled(a, allowance, n),
        FoldKind::Z | FoldKind::Accordion => vec![a; n as usize],
        FoldKind::French => vec![a, a],
        FoldKind::Back => vec![a.half(), a - a.half(), a],
    }
}

/// A roll of n panels from the innermost: a - (n-2)d, ..., a - d, a, a. Three panels are the letter fold.
fn rolled(a: Length, d: Length, n: u32) -> Vec<Length> {
    (1..=i64::from(n)).rev().map(|k| a - d * (k - 2).max(0)).collect()
}

/// A score wherever two panels meet.
fn scores_between(panels: &[Length], side: Side) -> Vec<Score> {
    let mut at = Length::ZERO;
    let mut scores: Vec<Score> = panels
        .iter()
        .map(|p| {
            at += *p;
            Score { side, at }
        })
        .collect();
    scores.pop();
    scores
}

/// Spine, relief or step: the person's own, else by the thickness, else the usual of the fold.
fn allowance(fold: &Fold) -> Length {
    if let Some(own) = fold.allowance {
        return own;
    }
    let thickness = fold.thickness;
    match fold.kind {
        FoldKind::Side | FoldKind::Top => thickness.map_or(Length::ZERO, Thickness::length),
        FoldKind::Gate if thickness.is_some_and(|t| t < THIN_PAPER) => Length::sixty_fourths(2),
        FoldKind::Letter | FoldKind::Roll => match thickness {
            Some(t) if t < THIN_PAPER => Length::sixty_fourths(2),
            Some(t) if t >= THICK_PAPER => Length::sixteenths(2),
            _ => Length::sixteenths(1),
        },
        FoldKind::Gate => Length::sixteenths(1),
        _ => Length::ZERO,
    }
}

/// From here on the two faces of one fold are scored apart (common practice: rarely needed below 0.016 in).
const THICK: Length = Length::sixty_fourths(1);
/// Below it, 1/32 in for a letter fold or a gate's relief (where thin ends is our reading of "thin paper").
const THIN_PAPER: Thickness = Thickness::from_points(8);
/// From it on, 1/8 in for a letter fold.
const THICK_PAPER: Thickness = Thickness::from_points(16);

fn panel_count(fold: &Fold) -> Result<u32, CardError> {
    let usual = fold.kind.usual_panels();
    let given = fold.panels.unwrap_or(usual);
    let (least, most) = match fold.kind {
        FoldKind::Roll => (3, 12),
        FoldKind::Accordion => (2, 40),
        _ => (usual, usual),
    };
    if (least..=most).contains(&given) {
        return Ok(given);
    }
    let range = if least == most { least.to_string() } else { format!("{least} to {most}") };
    let kind = fold.kind.word();
    Err(CardError::new(
        CardReason::Panels,
        format!("a {kind} fold cannot have {}: use {range}", count_of(u64::from(given), "panel")),
    ))
}

fn check_allowance(fold: &Fold, a: Length, given: Length, n: u32, tools: &Tools) -> Result<(), CardError> {
    let mark = tools.trimmer;
    let most = match fold.kind {
        FoldKind::Side | FoldKind::Top => a,
        FoldKind::Gate => a.half() - mark,
        FoldKind::Letter | FoldKind::Roll => Length::from_units((a - mark).units() / i64::from(n - 2)),
        _ => return Ok(()),
    };
    if given <= most {
        return Ok(());
    }
    let most = most.round_to(mark, Rounding::Down).value.max(Length::ZERO);
    let text = format!(
        "{} fold: an allowance of {} leaves nothing of a front of {}: at most {} works",
        fold.kind.word(),
        given.show_with_unit(tools.unit),
        a.show_with_unit(tools.unit),
        most.show_with_unit(tools.unit),
    );
    Err(CardError::new(CardReason::AllowanceTooLarge, text))
}

impl Base {
    /// The side of the base that the panels lie along.
    fn side(&self) -> Option<Side> {
        let along: Length = self.panels.iter().copied().sum();
        let first = self.scores.first()?.side;
        Some(if first.of(self.size) == along { first } else { first.other() })
    }

    /// The gap that the doors of a gate leave; nothing for other folds.
    pub fn door_gap(&self, kind: FoldKind) -> Option<Length> {
        match (kind, self.panels.as_slice()) {
            (FoldKind::Gate, [left, middle, right]) => Some(*middle - *left - *right),
            _ => None,
        }
    }

    /// The panels when every score goes to the nearest mark of a tool.
    pub fn panels_on_marks(&self, mark: Length) -> Vec<Length> {
        let Some(side) = self.side() else { return self.panels.clone() };
        let mut ends: Vec<Length> = self.scores.iter().filter(|s| s.side == side).map(|s| s.at).collect();
        for at in &mut ends {
            *at = at.round_to(mark, Rounding::Nearest).value;
        }
        ends.push(side.of(self.size));
        let starts = std::iter::once(Length::ZERO).chain(ends.iter().copied());
        starts.zip(&ends).map(|(start, end)| *end - start).collect()
    }

    /// What the board's grooves do to this fold, where a score falls between two of them.
    pub fn between_grooves(&self, kind: FoldKind, tools: &Tools) -> Option<String> {
        let unit = tools.unit;
        let off: Vec<Length> = self.scores.iter().map(|s| s.at).filter(|at| !at.is_on(tools.board)).collect();
        let first = tools.reading(Tool::Board, *off.first()?).sentence(unit);
        let panels = self.panels_on_marks(tools.board);
        let listed: Vec<String> = panels.iter().map(|p| p.show(unit)).collect();
        let effect = match (kind, panels.as_slice()) {
            (FoldKind::Gate, [left, middle, right]) => {
                let gap = *middle - *left - *right;
                if gap < Length::ZERO {
                    format!("the doors would overlap by {}", gap.abs().show_with_unit(unit))
                } else {
                    format!("the doors would leave a gap of {}", gap.show_with_unit(unit))
                }
            }
            _ => format!("the panels would be {} {}", listed.join(", "), unit.sign()),
        };
        let rule = if off.iter().all(|at| at.is_on(tools.rule)) { "; a rule has the exact mark" } else { "" };
        Some(format!("{first}; on the nearest grooves {effect}{rule}"))
    }
}

/// Refuses score lines that do not lie inside a base.
///
/// # Errors
/// The first one outside, with the distances that work.
pub fn check_scores(base: Size, scores: &[Score], tools: &Tools) -> Result<(), CardError> {
    for score in scores {
        let side = score.side.of(base);
        let most = side - tools.rule;
        if score.at < tools.rule || score.at > most {
            let text = format!(
                "a score at {} lies outside the base, whose {} is {}: use a distance from {} to {}",
                score.at.show_with_unit(tools.unit),
                score.side.word(),
                side.show_with_unit(tools.unit),
                tools.rule.show_with_unit(tools.unit),
                most.show_with_unit(tools.unit),
            );
            return Err(CardError::new(CardReason::ScoreOutside, text));
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::length::Unit;

    fn len(text: &str) -> Length {
        Length::parse(text, Unit::Inch).unwrap()
    }

    fn made(face: &str, fold: Fold) -> Base {
        base(Size::parse(face, Unit::Inch).unwrap(), &fold, &Tools::INCH).unwrap()
    }

    fn at(base: &Base) -> Vec<String> {
        base.scores.iter().map(|s| s.at.show(Unit::Inch)).collect()
    }

    #[test]
    fn side_and_top_double_the_face() {
        let side = made("4-1/4x5-1/2", Fold::new(FoldKind::Side));
        assert_eq!(side.size.show(Unit::Inch), "8 1/2 x 5 1/2");
        assert_eq!(side.scores, [Score { side: Side::Width, at: len("4 1/4") }]);
        let top = made("5-1/2x4-1/4", Fold::new(FoldKind::Top));
        assert_eq!(top.size, side.size.turned(), "one base, two ways to hold it");
        assert_eq!(top.scores, [Score { side: Side::Height, at: len("4 1/4") }]);
    }

    #[test]
    fn thickness_moves_the_scores_apart() {
        let thick = Fold { thickness: Some(Thickness::from_length(len("1/64"))), ..Fold::default() };
        let b = made("4-1/4x5-1/2", thick);
        assert_eq!(b.size.width, len("8 33/64"));
        assert_eq!(at(&b), ["4 1/4", "4 17/64"]);
        let thin = Fold { thickness: Some(Thickness::from_points(12)), ..Fold::default() };
        assert_eq!(made("4-1/4x5-1/2", thin).scores.len(), 1);
    }

    #[test]
    fn letter_gate_and_the_rest() {
        // Worked: 11 long, inner panel 1/16 short; gate of face 5 1/2 with 1/16 relief.
        let letter = made("3-11/16x8-1/2", Fold::new(FoldKind::Letter));
        assert_eq!((letter.size.width, at(&letter)), (len("11"), vec!["3 5/8".into(), "7 5/16".into()]));
        let gate = made("5-1/2x4-1/4", Fold::new(FoldKind::Gate));
        assert_eq!((gate.size.width, at(&gate)), (len("10 7/8"), vec!["2 11/16".into(), "8 3/16".into()]));
        assert_eq!(gate.door_gap(FoldKind::Gate), Some(len("1/8")));
        let plain = Fold { allowance: Some(Length::ZERO), ..Fold::new(FoldKind::Gate) };
        assert_eq!(at(&made("5-1/2x4-1/4", plain)), ["2 3/4", "8 1/4"]);
        assert_eq!(at(&made("4x4", Fold::new(FoldKind::Z))), ["4", "8"]);
        let six = Fold { panels: Some(6), ..Fold::new(FoldKind::Accordion) };
        assert_eq!(at(&made("2x4", six)), ["2", "4", "6", "8", "10"]);
        assert_eq!(at(&made("5-1/2x4-1/4", Fold::new(FoldKind::Back))), ["2 3/4", "5 1/2"]);
        let french = made("4-1/4x5-1/2", Fold::new(FoldKind::French));
        assert_eq!(french.size.show(Unit::Inch), "8 1/2 x 11");
        assert_eq!(at(&french), ["4 1/4", "5 1/2"]);
        let roll = made("3x4", Fold::new(FoldKind::Roll));
        assert_eq!(roll.panels, ["2 7/8", "2 15/16", "3", "3"].map(len));
        assert_eq!(roll.size.width, len("11 13/16"));
        assert!(made("4x4", Fold::new(FoldKind::Flat)).scores.is_empty());
        let top = made("4x4", Fold { edge: FoldEdge::Top, ..Fold::new(FoldKind::Z) });
        assert_eq!((top.size.height, top.scores[0].side), (len("12"), Side::Height));
    }

    /// Worked: a strip 11 long with the inner panel 1/16 short has scores at 3 5/8 and 7 5/16.
    #[test]
    fn from_a_strip_to_its_face() {
        let of = |flat: &str, fold: Fold| {
            from_base(Size::parse(flat, Unit::Inch).unwrap(), &fold, &Tools::INCH).unwrap()
        };
        let (face, b) = of("11x4", Fold::new(FoldKind::Letter));
        assert_eq!((face.width, at(&b)), (len("3 11/16"), vec!["3 5/8".into(), "7 5/16".into()]));
        let (_, b) = of("8-1/2x11", Fold::new(FoldKind::Letter));
        assert_eq!((b.size.width, b.panels.iter().copied().sum::<Length>()), (len("8 1/2"), len("8 1/2")));
        for kind in FoldKind::ALL {
            let fold = Fold::new(kind);
            let face = Size::parse("4-1/4x5-1/2", Unit::Inch).unwrap();
            let there = base(face, &fold, &Tools::INCH).unwrap();
            assert_eq!(from_base(there.size, &fold, &Tools::INCH).unwrap(), (face, there), "{kind:?}");
        }
        let tiny = Size::parse("1/8x2", Unit::Inch).unwrap();
        assert!(from_base(tiny, &Fold::new(FoldKind::Z), &Tools::INCH).is_err());
    }

    #[test]
    fn refuses_with_what_works() {
        let bad = |fold: Fold| {
            base(Size::parse("4x5", Unit::Inch).unwrap(), &fold, &Tools::INCH).unwrap_err().to_string()
        };
        let wide = Fold { allowance: Some(len("3")), ..Fold::new(FoldKind::Gate) };
        assert!(bad(wide).contains("at most 1 15/16 in works"));
        assert!(bad(Fold { panels: Some(1), ..Fold::new(FoldKind::Accordion) }).contains("use 2 to 40"));
        let scores = [Score { side: Side::Width, at: len("9") }];
        let e =
            check_scores(Size::parse("8-1/2x5-1/2", Unit::Inch).unwrap(), &scores, &Tools::INCH).unwrap_err();
        assert!(e.to_string().contains("from 1/32 in to 8 15/32 in"), "{e}");
        assert!(FoldKind::from_word("tent").unwrap_err().to_string().contains("side, top, gate"));
    }

    #[test]
    fn says_what_the_grooves_do_to_a_gate() {
        let gate = made("5-1/2x4-1/4", Fold::new(FoldKind::Gate));
        let said = gate.between_grooves(FoldKind::Gate, &Tools::INCH).unwrap();
        // 2 11/16 -> 2 5/8, 8 3/16 -> 8 1/8: doors 2 5/8 and 2 3/4 before a middle of 5 1/2.
        assert!(said.contains("a gap of 1/8 in") && said.contains("a rule has the exact mark"), "{said}");
        assert_eq!(gate.panels_on_marks(Tools::INCH.board), ["2 5/8", "5 1/2", "2 3/4"].map(len));
        assert_eq!(made("4-1/4x5-1/2", Fold::default()).between_grooves(FoldKind::Side, &Tools::INCH), None);
    }
}
