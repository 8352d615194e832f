//! The first questions: which one is asked, what is picked and typed.

use crate::app::input::field::TextField;
use crate::app::input::list::Cursor;
use crate::domain::cutting::trimmer_profile::SetBy;

/// The question in hand.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum WelcomeQuestion {
    /// Inches or millimetres.
    #[default]
    Unit,
    /// Letter or A4.
    Paper,
    /// The longest cut of the trimmer.
    LongestCut,
    /// How paper is set on the trimmer.
    SetBy,
    /// No question: the worked example.
    Example,
}

/// The overlay.
#[derive(Clone, Debug, Default)]
pub struct Welcome {
    /// The question in hand.
    pub question: WelcomeQuestion,
    /// The answer picked.
    pub cursor: Cursor,
    /// The longest cut as it is typed.
    pub field: TextField,
    /// Why it is not taken.
    pub refused: Option<String>,
    /// The worked example, a line each.
    pub example: Vec<String>,
}

impl Welcome {
    /// Number, question and its answers to choose from, where it has any.
    pub fn words(&self) -> (&'static str, Vec<&'static str>) {
        match self.question {
            WelcomeQuestion::Unit => ("1 of 4. What do you measure in?", vec!["inches", "millimeters"]),
            WelcomeQuestion::Paper => {
                ("2 of 4. Which paper is in the drawer?", vec!["letter, 8 1/2 x 11 in", "A4, 210 x 297 mm"])
            }
            WelcomeQuestion::LongestCut => ("3 of 4. The longest cut that your trimmer makes?", Vec::new()),
            WelcomeQuestion::SetBy => {
                ("4 of 4. How do you set paper to a length on it?", SetBy::ALL.map(SetBy::told).to_vec())
            }
            WelcomeQuestion::Example => ("A worked example", Vec::new()),
        }
    }

    /// The number of the answer picked.
    pub fn picked(&self) -> usize {
        self.cursor.row(self.words().1.len()).unwrap_or(0)
    }
}
