//! How an edit is applied: parts in order, each checked against the book as it stands by then, all taken back when
//! one is refused. The work grows with the edit, not with the book.

use super::{Applied, Edit, EditError, Row, check};
use crate::domain::book::Book;
use crate::domain::book::ledger::LineRefusal;
use crate::domain::book::table::{Record, Records};
use crate::domain::stock::ids::RecordKey;
use crate::domain::stock::{LogLine, NewLine};
use jiff::civil::Date;

/// Which rules an edit is held to. A rule that came later must not make lines unreadable that were written before it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Rules {
    /// All that there are.
    Now,
    /// Those that have always been.
    AsWritten,
}

/// How a part is taken back as if it had never been. (The inverse is another thing: it leaves its trace in the log.)
enum Rollback {
    PopLine,
    /// The inverse, and for an addition the name that its number bore before.
    PutBack(Edit, Option<String>),
}

/// Runs `$do` on the table that an edit is about, or gives `None` for an edit that is about no table.
macro_rules! on_table {
    ($tables:expr, $edit:expr, |$table:ident, $row:ident, $wrap:ident| $do:expr) => {
        on_table!(@arms $tables, $edit, $table, $row, $wrap, $do,
            Item items, Swatch swatches, Project projects, Offcut offcuts, Booking bookings, Order orders,
            Assortment assortments, Format formats, Trio trios)
    };
    (@arms $tables:expr, $edit:expr, $table:ident, $row:ident, $wrap:ident, $do:expr, $($kind:ident $field:ident),+) => {
        match $edit {
            $(Edit::$kind($row) => {
                let $table = &mut $tables.$field;
                #[allow(unused_variables)] // not every body wraps its answer
                let $wrap = Edit::$kind;
                Some($do)
            })+
            _ => None,
        }
    };
}

impl Book {
    /// Applies a new edit on a day. The edit counts as one step, whatever its parts.
    ///
    /// # Errors
    /// A sentence; nothing has changed then.
    pub fn apply(&mut self, edit: &Edit, date: Date) -> Result<Applied, EditError> {
        self.apply_by(edit, date, Rules::Now)
    }

    /// Applies an edit that was accepted before, by this build or an older one with fewer rules: a line of a journal.
    ///
    /// # Errors
    /// As [`Book::apply`].
    pub fn apply_again(&mut self, edit: &Edit, date: Date) -> Result<Applied, EditError> {
        self.apply_by(edit, date, Rules::AsWritten)
    }

    fn apply_by(&mut self, edit: &Edit, date: Date, rules: Rules) -> Result<Applied, EditError> {
        let label = edit.describe(self);
        let mut done = Vec::new();
        match self.step(edit, date, rules, &mut done) {
            Ok(inverse) => {
                self.seq += 1;
                Ok(Applied { seq: self.seq, label, inverse })
            }
            Err(error) => {
                while let Some(part) = done.pop() {
                    self.take_back(part);
                }
                Err(error)
            }
        }
    }

    fn step(
        &mut self,
        edit: &Edit,
        date: Date,
        rules: Rules,
        done: &mut Vec<Rollback>,
    ) -> Result<Edit, EditError> {
        match edit {
            Edit::Batch { label, edits } => {
                let mut inverses = Vec::with_capacity(edits.len());
                for part in edits {
                    inverses.push(self.step(part, date, rules, done)?);
                }
                inverses.reverse();
                Ok(Edit::Batch { label: label.clone(), edits: inverses })
            }
            Edit::Log(line) => self.log_line(line, date, done),
            Edit::Void { line } => self.void(*line, date, done),
            _ => {
                check::edit(self, edit)?;
                if rules == Rules::Now {
                    check::closing(self, edit)?;
                }
                let former =
                    on_table!(self.tables, edit, |table, row, wrap| table.former_name(row.id())).flatten();
                let inverse = self.change(edit)?;
                done.push(Rollback::PutBack(inverse.clone(), former));
                Ok(inverse)
            }
        }
    }

    /// Changes the row, or the settings, that an edit is about, and gives the inverse.
    fn change(&mut self, edit: &Edit) -> Result<Edit, EditError> {
        let inverse = match edit {
            Edit::Settings { was, now } => {
                let before = self.tables.settings.clone();
                merge(&mut self.tables.settings, was, now)?;
                let after = self.tables.settings.clone();
                Edit::Settings { was: Box::new(after), now: Box::new(before) }
            }
            Edit::LooseCard { was, now } => {
                if self.tables.loose_card != *was {
                    let there = self.tables.loose_card.as_ref().or(was.as_ref());
                    let name = there.map_or_else(String::new, |c| c.name.clone());
                    return Err(EditError::Changed { name, field: "design" });
                }
                self.tables.loose_card.clone_from(now);
                Edit::LooseCard { was: now.clone(), now: was.clone() }
            }
            Edit::Activate { was, now } => {
                if self.tables.active != *was {
                    let name = now.map_or_else(String::new, |id| self.projects().name_of(id));
                    return Err(EditError::Changed { name, field: "active project" });
                }
                self.tables.active = *now;
                Edit::Activate { was: *now, now: *was }
            }
            _ => on_table!(self.tables, edit, |table, row, wrap| change_row(table, row).map(wrap))
                .unwrap_or_else(|| Err(EditError::Bad("an empty change".to_owned())))?,
        };
        self.carry_along(&inverse);
        Ok(inverse)
    }

    fn take_back(&mut self, part: Rollback) {
        match part {
            Rollback::PopLine => self.ledger.pop(),
            Rollback::PutBack(inverse, former) => {
                // The inverse of what was just done to this very row: it cannot be refused.
                let _ = self.change(&inverse);
                if let Some(name) = former {
                    on_table!(self.tables, &inverse, |table, row, wrap| table.put_former(row.id(), name));
                } else {
                    on_table!(self.tables, &inverse, |table, row, wrap| table.drop_former(row.id()));
                }
            }
        }
    }

    fn log_line(&mut self, new: &NewLine, date: Date, done: &mut Vec<Rollback>) -> Result<Edit, EditError> {
        check::line(self, new)?;
        let seq = self.ledger.next_seq();
        let line = LogLine {
            seq,
            date: new.on.unwrap_or(date),
            item: new.item,
            offcut: new.offcut,
            change: new.change,
            reason: new.reason,
            job: new.job.clone(),
            voids: None,
            price: new.price,
            lot: new.lot.clone(),
            work: new.work.clone(),
        };
        self.push_line(line)?;
        done.push(Rollback::PopLine);
        Ok(Edit::Void { line: seq })
    }

    /// The inverse of voiding is to void the counter line: the first line stands again.
    fn void(&mut self, seq: u64, date: Date, done: &mut Vec<Rollback>) -> Result<Edit, EditError> {
        self.check_subject(seq)?;
        let counter = match self.ledger.counter_to(seq) {
            Ok(counter) => LogLine { date, ..counter },
            Err(refusal) => return Err(self.refused(refusal, None)),
        };
        let line = counter.seq;
        self.push_line(counter)?;
        done.push(Rollback::PopLine);
        Ok(Edit::Void { line })
    }

    /// A line about something that is no longer in the book cannot come to count again.
    fn check_subject(&self, seq: u64) -> Result<(), EditError> {
        let Some(line) = self.ledger.line(seq) else {
            return Err(EditError::Missing { what: "log line", number: seq });
        };
        if self.items().get(line.item).is_none() {
            return Err(EditError::Missing { what: "item", number: u64::from(line.item.0) });
        }
        match line.offcut {
            Some(id) if self.offcuts().get(id).is_none() => {
                Err(EditError::Missing { what: "offcut", number: u64::from(id.0) })
            }
            _ => Ok(()),
        }
    }

    fn push_line(&mut self, line: LogLine) -> Result<(), EditError> {
        let about = line.clone();
        self.ledger.push(line).map_err(|refusal| self.refused(refusal, Some(&about)))
    }

    fn refused(&self, refusal: LineRefusal, line: Option<&LogLine>) -> EditError {
        let name = line.map_or_else(String::new, |l| match l.offcut {
            Some(offcut) => self.offcut_title(offcut),
            None => self.items().name_of(l.item),
        });
        match refusal {
            LineRefusal::Short { held, wanted } => match line.and_then(|l| l.voids) {
                Some(line) => EditError::UsedSince { line, name, wanted, held },
                None => EditError::NotEnough { name, wanted, held },
            },
            LineRefusal::NoLine(number) => EditError::Missing { what: "log line", number },
            LineRefusal::VoidedBefore { line, by } => EditError::VoidedBefore { line, by },
            LineRefusal::TooMany => {
                EditError::Bad(format!("the count of {name} would be more than can be counted"))
            }
        }
    }
}

fn change_row<K: RecordKey, T: Record>(
    table: &mut Records<K, T>,
    row: &Row<K, T>,
) -> Result<Row<K, T>, EditError> {
    let missing = |id: K| EditError::Missing { what: T::WHAT, number: u64::from(id.number()) };
    match row {
        Row::Add(id, new) => {
            if table.is_taken(*id, new) {
                return Err(EditError::Taken { what: T::WHAT, name: new.title() });
            }
            table.insert(*id, (**new).clone());
            Ok(Row::Remove(*id))
        }
        Row::Remove(id) => table.remove(*id).map(|row| Row::add(*id, row)).ok_or_else(|| missing(*id)),
        Row::Alter { id, was, now } => {
            let row = table.get_mut(*id).ok_or_else(|| missing(*id))?;
            let before = row.clone();
            merge(row, was, now)?;
            Ok(Row::alter(*id, row.clone(), before))
        }
    }
}

fn merge<T: Record>(row: &mut T, was: &T, now: &T) -> Result<(), EditError> {
    let name = row.title();
    row.merge(was, now).map_err(|field| EditError::Changed { name, field })
}
