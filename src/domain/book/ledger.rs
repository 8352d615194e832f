//! The log with its running totals: on hand and the bin's counts are sums of lines, and no total goes below zero.
//! It knows numbers only; what they are called is the book's business.

use crate::domain::stock::{ItemId, LogLine, OffcutId, Reason};
use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

/// Why a line cannot be added.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineRefusal {
    /// Fewer are held than would go.
    Short {
        /// How many are held.
        held: u64,
        /// How many would go.
        wanted: u64,
    },
    /// There is no line of this number.
    NoLine(u64),
    /// A line was voided before.
    VoidedBefore {
        /// Which line.
        line: u64,
        /// By this one.
        by: u64,
    },
    /// The total would be more than can be counted.
    TooMany,
}

/// All lines and what they add up to.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Ledger {
    lines: Vec<LogLine>,
    accounts: BTreeMap<ItemId, Account>,
    offcuts: BTreeMap<OffcutId, u64>,
    voided: BTreeMap<u64, u64>,
}

/// What the log says of one item. There is none for an item without lines, so that equal logs compare equal.
#[derive(Clone, Debug, Default, PartialEq)]
struct Account {
    held: u64,
    lines: Vec<u64>,
}

impl Ledger {
    /// Folds lines that were saved.
    ///
    /// # Errors
    /// A sentence that names the first line that cannot stand.
    pub fn from_lines(lines: Vec<LogLine>) -> Result<Self, String> {
        let mut ledger = Self { lines: Vec::with_capacity(lines.len()), ..Self::default() };
        for line in lines {
            let (seq, want) = (line.seq, ledger.next_seq());
            if seq != want {
                return Err(format!("the log has line {seq} where line {want} belongs"));
            }
            // Every line is checked more narrowly when it is made; its counter line must be countable too.
            if line.change.unsigned_abs() > u64::from(u32::MAX) {
                return Err(format!(
                    "line {seq} of the log counts {}, more than any shelf holds",
                    line.change
                ));
            }
            ledger
                .push(line)
                .map_err(|_| format!("line {seq} of the log does not follow from the lines before"))?;
        }
        Ok(ledger)
    }

    /// All lines, oldest first.
    pub fn lines(&self) -> &[LogLine] {
        &self.lines
    }

    /// The number that the next line gets.
    pub fn next_seq(&self) -> u64 {
        self.lines.len() as u64 + 1
    }

    /// The line of this number.
    pub fn line(&self, seq: u64) -> Option<&LogLine> {
        self.lines.get(usize::try_from(seq.checked_sub(1)?).ok()?)
    }

    /// The lines about an item, oldest first.
    pub fn lines_of(&self, item: ItemId) -> impl DoubleEndedIterator<Item = &LogLine> {
        self.accounts.get(&item).into_iter().flat_map(|a| &a.lines).filter_map(|seq| self.line(*seq))
    }

    /// Sum of the item's lines.
    pub fn on_hand(&self, item: ItemId) -> u64 {
        self.accounts.get(&item).map_or(0, |a| a.held)
    }

    /// Sum of the offcut's lines.
    pub fn offcut_count(&self, offcut: OffcutId) -> u64 {
        self.offcuts.get(&offcut).copied().unwrap_or(0)
    }

    /// The line that voids this one and stands itself.
    pub fn voided_by(&self, seq: u64) -> Option<u64> {
        self.voided.get(&seq).copied()
    }

    /// True where an item has lines that still count.
    pub fn has_standing_lines(&self, item: ItemId) -> bool {
        self.lines_of(item).any(|l| self.stands(l))
    }

    /// True where an offcut has lines that still count.
    pub fn offcut_has_standing_lines(&self, item: ItemId, offcut: OffcutId) -> bool {
        self.lines_of(item).any(|l| l.offcut == Some(offcut) && self.stands(l))
    }

    /// True for a line that neither voids nor is voided.
    pub fn stands(&self, line: &LogLine) -> bool {
        line.voids.is_none() && !self.voided.contains_key(&line.seq)
    }

    /// The counter line to `seq`, as yet without day. A counter line can be countered in turn: what it voided stands
    /// again then.
    ///
    /// # Errors
    /// Why the line cannot be voided.
    pub(crate) fn counter_to(&self, seq: u64) -> Result<LogLine, LineRefusal> {
        let line = self.line(seq).ok_or(LineRefusal::NoLine(seq))?;
        for (n, at) in self.chain(seq).into_iter().enumerate() {
            // One after the other goes, comes back, goes: those that go must stand.
            if let (0, Some(by)) = (n % 2, self.voided_by(at)) {
                return Err(LineRefusal::VoidedBefore { line: at, by });
            }
        }
        Ok(LogLine {
            seq: self.next_seq(),
            change: -line.change,
            reason: Reason::Voided,
            voids: Some(seq),
            price: None,
            lot: String::new(),
            ..line.clone()
        })
    }

    /// A line, the line that it voids, the one that that voids, and so on.
    fn chain(&self, seq: u64) -> Vec<u64> {
        std::iter::successors(Some(seq), |at| self.line(*at)?.voids).collect()
    }

    /// Line `by` comes in and voids `target`: what `target` voided stands again, what that voided falls again, ...
    fn fell(&mut self, target: u64, by: u64) {
        let mut by = by;
        for (n, at) in self.chain(target).into_iter().enumerate() {
            if n % 2 == 0 {
                self.voided.insert(at, by);
            } else {
                self.voided.remove(&at);
            }
            by = at;
        }
    }

    /// The line that voided `target` is taken off again.
    fn rose(&mut self, target: u64) {
        let mut by = target;
        for (n, at) in self.chain(target).into_iter().enumerate() {
            if n % 2 == 0 {
                self.voided.remove(&at);
            } else {
                self.voided.insert(at, by);
            }
            by = at;
        }
    }

    /// Every item that lines are about, and the first of them.
    pub(crate) fn items(&self) -> impl Iterator<Item = (ItemId, u64)> + '_ {
        self.accounts.iter().filter_map(|(id, a)| Some((*id, *a.lines.first()?)))
    }

    /// Every offcut that is held.
    pub(crate) fn offcuts(&self) -> impl Iterator<Item = OffcutId> + '_ {
        self.offcuts.keys().copied()
    }

    /// Adds a line at the end.
    ///
    /// # Errors
    /// Why it cannot stand; nothing is changed then.
    pub(crate) fn push(&mut self, line: LogLine) -> Result<(), LineRefusal> {
        if let Some(target) = line.voids {
            self.counter_to(target)?;
        }
        match line.offcut {
            Some(offcut) => {
                let after = changed(self.offcut_count(offcut), line.change)?;
                self.set_offcuts(offcut, after);
                self.accounts.entry(line.item).or_default().lines.push(line.seq);
            }
            None => match self.accounts.entry(line.item) {
                Entry::Occupied(mut there) => {
                    let account = there.get_mut();
                    account.held = changed(account.held, line.change)?;
                    account.lines.push(line.seq);
                }
                Entry::Vacant(free) => {
                    let held = changed(0, line.change)?;
                    free.insert(Account { held, lines: vec![line.seq] });
                }
            },
        }
        if let Some(target) = line.voids {
            self.fell(target, line.seq);
        }
        self.lines.push(line);
        Ok(())
    }

    /// Takes the last line off again: only for an edit that is refused half way.
    pub(crate) fn pop(&mut self) {
        let Some(line) = self.lines.pop() else { return };
        if let Some(offcut) = line.offcut {
            self.set_offcuts(offcut, self.offcut_count(offcut).saturating_add_signed(-line.change));
        }
        if let Some(account) = self.accounts.get_mut(&line.item) {
            if line.offcut.is_none() {
                account.held = account.held.saturating_add_signed(-line.change);
            }
            account.lines.pop();
            if account.lines.is_empty() {
                self.accounts.remove(&line.item);
            }
        }
        if let Some(target) = line.voids {
            self.rose(target);
        }
    }

    /// A count of nothing has no entry, so that equal logs compare equal.
    fn set_offcuts(&mut self, offcut: OffcutId, count: u64) {
        if count == 0 {
            self.offcuts.remove(&offcut);
        } else {
            self.offcuts.insert(offcut, count);
        }
    }
}

fn changed(held: u64, change: i64) -> Result<u64, LineRefusal> {
    held.checked_add_signed(change).ok_or(if change < 0 {
        LineRefusal::Short { held, wanted: change.unsigned_abs() }
    } else {
        LineRefusal::TooMany
    })
}
