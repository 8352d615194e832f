//! A list from outside that is being looked at: what it would do to the book, line by line.

use crate::app::effect::ListUse;
use crate::app::input::list::Cursor;
use crate::domain::book::Book;
use crate::domain::colour::difference::reading;
use crate::domain::edit::Edit;
use crate::domain::plural::count_of;
use crate::domain::stock::import::{self, BadLine, StockRow};
use crate::domain::stock::refresh::{self, Affected};
use jiff::civil::Date;

/// What a line of the preview is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sign {
    /// A line that cannot be taken in.
    Refused,
    /// An item that leaves.
    Leaving,
    /// An item that arrives or is new.
    New,
    /// An item that changes.
    Changed,
    /// What the change means for a project.
    Means,
}

impl Sign {
    /// The word that stands before the line.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Refused => "refused",
            Self::Leaving => "leaving",
            Self::New => "new",
            Self::Changed => "changed",
            Self::Means => "used by",
        }
    }
}

/// A line of the preview.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PreviewLine {
    /// What it is about.
    pub sign: Sign,
    /// The line of the file, where there is one.
    pub line: Option<u64>,
    /// What would happen.
    pub text: String,
}

/// A list that is being looked at.
#[derive(Clone, Debug)]
pub struct Preview {
    /// The file.
    pub path: String,
    /// What it is for.
    pub what: ListUse,
    /// Whose list it is, for the yearly one.
    pub seller: String,
    /// Last day of what leaves.
    pub last: Date,
    /// First day of what arrives.
    pub first: Date,
    /// What it would do, line by line.
    pub lines: Vec<PreviewLine>,
    /// The row in hand.
    pub cursor: Cursor,
    /// One sentence over all of it.
    pub summary: String,
    /// What was read.
    pub rows: Result<Vec<StockRow>, Vec<BadLine>>,
    /// The step that takes it in.
    pub edit: Option<Edit>,
}

impl Preview {
    /// Works out what the list would do to the book as it stands.
    pub fn work_out(&mut self, book: &Book, today: Date) {
        self.lines.clear();
        self.edit = None;
        match (self.rows.clone(), self.what) {
            (Err(bad), _) => {
                self.refuse(&bad);
            }
            (Ok(rows), ListUse::Import) => self.import(book, &rows),
            (Ok(rows), ListUse::Refresh) => self.refresh(book, &rows, today),
        }
    }

    fn add(&mut self, sign: Sign, line: Option<u64>, text: impl Into<String>) {
        self.lines.push(PreviewLine { sign, line, text: text.into() });
    }

    fn refuse(&mut self, bad: &[BadLine]) -> bool {
        for line in bad {
            self.add(Sign::Refused, Some(line.line), &*line.why);
        }
        if !bad.is_empty() {
            let lines = count_of(bad.len() as u64, "line");
            self.summary = format!("{lines} refused: nothing was brought in; fix the file and read it again");
        }
        !bad.is_empty()
    }

    fn import(&mut self, book: &Book, rows: &[StockRow]) {
        let plan = import::import(book, rows);
        if self.refuse(&plan.refused) {
            return;
        }
        let line_of = |name: &str| rows.iter().find(|r| r.name == name).map(|r| r.line);
        for name in &plan.added {
            self.add(Sign::New, line_of(name), name);
        }
        for (id, words) in &plan.changed {
            let name = book.items().name_of(*id);
            self.add(Sign::Changed, line_of(&name), format!("{name}: {}", words.join(", ")));
        }
        self.summary =
            format!("{} new, {} changed, {} unchanged", plan.added.len(), plan.changed.len(), plan.same);
        self.edit = plan.edit();
    }

    fn refresh(&mut self, book: &Book, rows: &[StockRow], today: Date) {
        let plan = refresh::refresh(book, &self.seller, rows, self.last, self.first);
        if self.refuse(&plan.refused) {
            return;
        }
        let means = meaning(book, plan.edit.as_ref(), today);
        for id in &plan.leaving {
            let (name, held, booked) = (book.items().name_of(*id), book.on_hand(*id), book.booked(*id));
            self.add(Sign::Leaving, None, format!("{name}: {held} on hand, {booked} booked against it"));
            for a in means.iter().filter(|(a, _)| a.item == *id) {
                self.add(Sign::Means, None, &*a.1);
            }
        }
        for name in &plan.arriving {
            let line = rows.iter().find(|r| r.name == *name).map(|r| r.line);
            self.add(Sign::New, line, format!("{name}, from {}", self.first));
        }
        self.summary = format!(
            "{} leaving on {}, {} arriving on {}, {} staying",
            plan.leaving.len(),
            self.last,
            plan.arriving.len(),
            self.first,
            plan.staying
        );
        self.edit = plan.edit;
    }
}

/// What leaving colours mean, as the book would be then: who uses them, and the nearest colour that stays.
fn meaning(book: &Book, edit: Option<&Edit>, today: Date) -> Vec<(Affected, String)> {
    let mut then = book.clone();
    let Some(edit) = edit else { return Vec::new() };
    if then.apply(edit, today).is_err() {
        return Vec::new();
    }
    let affected = refresh::affected(&then, today);
    affected.into_iter().map(|a| (a.clone(), affected_words(&then, &a))).collect()
}

/// What could take the place of a leaving item, and who uses it.
pub fn affected_words(book: &Book, affected: &Affected) -> String {
    let projects = affected.projects.iter().map(|p| book.projects().name_of(*p));
    let trios = affected.trios.iter().map(|t| format!("trio {}", book.trios().name_of(*t)));
    let names: Vec<String> = projects.chain(trios).collect();
    let instead = match affected.instead {
        Some((swatch, delta)) => {
            format!("nearest that stays: {}, {}", book.swatches().name_of(swatch), reading(delta))
        }
        None => "no colour of its kind stays".to_owned(),
    };
    // The replacement first: the names may be many, and each may hold a comma.
    format!("{instead}; for {}", names.join("; "))
}
