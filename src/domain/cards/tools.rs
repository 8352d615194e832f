//! The finest marks of the tools on the bench, and what a mark does to a size. Knows no card.
//!
//! A trimmer's fence reads to 1/16 in or 1 mm, a scoring board has grooves every 1/8 in or 5 mm, a steel rule reads to
//! 1/32 in or 1/2 mm (common practice; every one can be set).

use crate::domain::length::{Length, Rounded, Rounding, Unit};

/// What the bench measures with: the unit in force and the finest mark of each tool.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tools {
    /// The unit that sentences and readings are in.
    pub unit: Unit,
    /// Finest fence setting of the trimmer.
    pub trimmer: Length,
    /// Distance between the grooves of the scoring board.
    pub board: Length,
    /// Finest mark of the rule.
    pub rule: Length,
}

impl Tools {
    /// The usual marks in inches: fence 1/16, board 1/8, rule 1/32.
    pub const INCH: Self = Self {
        unit: Unit::Inch,
        trimmer: Length::sixteenths(1),
        board: Length::sixteenths(2),
        rule: Length::sixty_fourths(2),
    };
    /// The usual marks in millimetres: fence 1, board 5, rule 1/2.
    pub const METRIC: Self =
        Self { unit: Unit::Mm, trimmer: Length::mm(1), board: Length::mm(5), rule: Length::tenths_mm(5) };

    /// The usual marks of a unit.
    pub const fn usual(unit: Unit) -> Self {
        match unit {
            Unit::Inch => Self::INCH,
            Unit::Mm => Self::METRIC,
        }
    }

    /// The finest mark of one tool.
    pub const fn mark(&self, tool: Tool) -> Length {
        match tool {
            Tool::Trimmer => self.trimmer,
            Tool::Board => self.board,
            Tool::Rule => self.rule,
        }
    }

    /// Where a measure lies on a tool: exactly on a mark, or between two.
    pub fn reading(&self, tool: Tool, at: Length) -> Reading {
        let mark = self.mark(tool);
        Reading {
            tool,
            exact: at,
            mark,
            nearest: at.round_to(mark, Rounding::Nearest),
            below: at.round_to(mark, Rounding::Down).value,
            above: at.round_to(mark, Rounding::Up).value,
        }
    }

    /// The coarsest tool that has a mark exactly at a measure, board first, then fence, then rule.
    pub fn tool_with_mark_at(&self, at: Length) -> Option<Tool> {
        [Tool::Board, Tool::Trimmer, Tool::Rule].into_iter().find(|t| at.is_on(self.mark(*t)))
    }
}

impl Default for Tools {
    fn default() -> Self {
        Self::INCH
    }
}

/// A tool that a measure is set or read on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Tool {
    /// The fence of the trimmer.
    Trimmer,
    /// The grooves of the scoring board.
    Board,
    /// The marks of the rule.
    Rule,
}

impl Tool {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Trimmer, Self::Board, Self::Rule];

    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Trimmer => "trimmer",
            Self::Board => "scoring board",
            Self::Rule => "rule",
        }
    }
}

/// A measure as one tool shows it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reading {
    /// The tool.
    pub tool: Tool,
    /// The measure wanted.
    pub exact: Length,
    /// The tool's finest mark.
    pub mark: Length,
    /// The nearest mark and how far it is off.
    pub nearest: Rounded,
    /// The mark at or below.
    pub below: Length,
    /// The mark at or above.
    pub above: Length,
}

impl Reading {
    /// True where the tool has a mark exactly there.
    pub fn is_exact(&self) -> bool {
        self.nearest.error == Length::ZERO
    }

    /// One sentence: on a mark, or the marks around it and what the nearest does.
    pub fn sentence(&self, unit: Unit) -> String {
        let at = self.exact.show_with_unit(unit);
        if self.is_exact() {
            return format!("{at} is a mark of the {}", self.tool.word());
        }
        let way = if self.nearest.error.is_positive() { "more" } else { "less" };
        format!(
            "{at} lies between the marks {} and {} of the {}: the nearest, {}, is {} {way}",
            self.below.show(unit),
            self.above.show(unit),
            self.tool.word(),
            self.nearest.value.show(unit),
            self.nearest.error.abs().show_both(unit),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_gate_score_falls_between_grooves_but_on_the_fence() {
        let at = Length::sixteenths(2 * 16 + 11); // 2 11/16
        let board = Tools::INCH.reading(Tool::Board, at);
        assert!(!board.is_exact());
        assert_eq!((board.below, board.above), (Length::sixteenths(42), Length::sixteenths(44)));
        assert_eq!(board.nearest.value, Length::sixteenths(42)); // a tie goes down
        assert!(board.sentence(Unit::Inch).contains("between the marks 2 5/8 and 2 3/4"));
        assert!(Tools::INCH.reading(Tool::Trimmer, at).is_exact());
        assert_eq!(Tools::INCH.tool_with_mark_at(at), Some(Tool::Trimmer));
        assert_eq!(Tools::INCH.tool_with_mark_at(Length::sixty_fourths(1)), None);
    }
}
