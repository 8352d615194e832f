//! The first questions: which one is asked, what is picked and typed.

use crate::app::input::field::Field;
use crate::app::input::list::Cursor;

/// The question in hand.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Question {
    /// Inches or millimetres.
    #[default]
    Unit,
    /// Letter or A4.
    Paper,
    /// The longest cut of the trimmer.
    LongestCut,
    /// No question: the worked example.
    Example,
}

/// The overlay.
#[derive(Clone, Debug, Default)]
pub struct Welcome {
    /// The question in hand.
    pub question: Question,
    /// The answer picked, of two.
    pub cursor: Cursor,
    /// The longest cut as it is typed.
    pub field: Field,
    /// Why it is not taken.
    pub refused: Option<String>,
    /// The worked example, a line each.
    pub example: Vec<String>,
}

impl Welcome {
    /// Number, question and its two answers, where it has any.
    pub fn words(&self) -> (&'static str, [&'static str; 2]) {
        match self.question {
            Question::Unit => ("1 of 3. What do you measure in?", ["inches", "millimetres"]),
            Question::Paper => {
                ("2 of 3. Which paper is in the drawer?", ["letter, 8 1/2 x 11 in", "A4, 210 x 297 mm"])
            }
            Question::LongestCut => ("3 of 3. The longest cut that your trimmer makes?", ["", ""]),
            Question::Example => ("A worked example", ["", ""]),
        }
    }
}
