//! A list from outside that is being looked at: what it would do to the book, line by line.

use crate::app::effect::ListUse;
use crate::app::input::list::Cursor;
use crate::domain::book::Book;
use crate::domain::edit::Edit;
use crate::domain::plural::count_of;
use crate::domain::stock::exchange::Exchanges;
use crate::domain::stock::import::{self, BadLine, StockRow};
use crate::domain::stock::refresh::{self, TouchedWhat, touched};
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
    /// A line exchanged in the cards of a project.
    Exchange,
    /// What the change means: for a chart, a card, a kept trio, a class.
    Means(TouchedWhat),
}

impl Sign {
    /// The word that stands before the line.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Refused => "refused",
            Self::Leaving => "leaving",
            Self::New => "new",
            Self::Changed => "changed",
            Self::Exchange => "exchange",
            Self::Means(what) => what.word(),
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
    /// Last day of what leaves, once it is said.
    pub last: Option<Date>,
    /// First day of what arrives, once it is said.
    pub first: Option<Date>,
    /// Cards of open projects take what takes the place of what leaves.
    pub exchange: bool,
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
        let (last, first) = (self.last.unwrap_or(today), self.first.unwrap_or(today));
        let plan = refresh::refresh(book, &self.seller, rows, last, first);
        if self.refuse(&plan.refused) {
            return;
        }
        for id in &plan.leaving {
            let (name, held, booked) = (book.items().name_of(*id), book.on_hand(*id), book.booked(*id));
            self.add(Sign::Leaving, None, format!("{name}: {held} on hand, {booked} booked against it"));
        }
        for name in &plan.arriving {
            let line = rows.iter().find(|r| r.name == *name).map(|r| r.line);
            let from = self.first.map_or_else(String::new, |d| format!(", from {d}"));
            self.add(Sign::New, line, format!("{name}{from}"));
        }
        let (edit, exchanges) = if self.exchange {
            plan.with_exchanges(book, today)
        } else {
            (plan.edit.clone(), Exchanges::default())
        };
        for one in &exchanges.rows {
            let project = book.projects().name_of(one.project);
            self.add(Sign::Exchange, None, format!("{project}: {}", one.words(book)));
        }
        for (what, words) in meaning(book, &plan, today) {
            self.add(Sign::Means(what), None, words);
        }
        self.summary = format!(
            "{} leaving{}, {} arriving{}, {} staying{}{}",
            plan.leaving.len(),
            on(self.last),
            plan.arriving.len(),
            on(self.first),
            plan.staying,
            if self.exchange { format!(", {} exchanged", exchanges.made()) } else { String::new() },
            self.wants().map_or_else(String::new, |words| format!(". {words}")),
        );
        self.edit = edit.filter(|_| self.wants().is_none());
    }

    /// What has to be said of the yearly list before it can be taken in; `None` where nothing is left to say.
    pub fn wants(&self) -> Option<&'static str> {
        match (self.what, self.last, self.first) {
            (ListUse::Import, ..) | (_, Some(_), Some(_)) => None,
            (_, None, _) => Some("Say the last day of what leaves first: <preview-last>"),
            (_, _, None) => Some("Say the first day of what arrives first: <preview-first>"),
        }
    }
}

fn on(day: Option<Date>) -> String {
    day.map_or_else(|| " on a day not said yet".to_owned(), |d| format!(" on {d}"))
}

/// What the list touches, as it is and as it would be.
fn meaning(book: &Book, plan: &refresh::Refresh, today: Date) -> Vec<(TouchedWhat, String)> {
    let mut then = book.clone();
    let Some(edit) = &plan.edit else { return Vec::new() };
    if then.apply(edit, today).is_err() {
        return Vec::new();
    }
    let all = touched(book, &then, plan, today);
    all.into_iter().map(|t| (t.what, format!("{}: {}; after: {}", t.name, t.before, t.after))).collect()
}
