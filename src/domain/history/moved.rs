//! How the steps that a window has made on former copies of the book are numbered in the present one. Other writers may have
//! come in between, so that a step got another number, or was refused.

use std::collections::BTreeMap;

/// Numbers of steps by the copy, or epoch, that they were made on.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Moved {
    epochs: BTreeMap<u64, Epoch>,
}

#[derive(Clone, Debug, Default, PartialEq, Eq)]
struct Epoch {
    /// Steps up to here bear the same number.
    same: u64,
    /// Later ones; `None` for one that was refused.
    moved: BTreeMap<u64, Option<u64>>,
}

/// What became of a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fate {
    /// It stands under this number.
    Stands(u64),
    /// It was refused on the book as others have left it.
    Refused,
    /// It has not been carried out yet.
    OnItsWay,
}

impl Moved {
    /// Notes an epoch: up to which step the numbers are the same, and those that follow.
    pub fn note(&mut self, epoch: u64, same: u64, moved: BTreeMap<u64, Option<u64>>) {
        self.epochs.insert(epoch, Epoch { same, moved });
    }

    /// What became of a step of an epoch.
    pub fn fate(&self, epoch: u64, seq: u64) -> Fate {
        match self.epochs.get(&epoch) {
            Some(e) if seq <= e.same => Fate::Stands(seq),
            Some(e) => match e.moved.get(&seq) {
                Some(Some(seq)) => Fate::Stands(*seq),
                Some(None) => Fate::Refused,
                None => Fate::OnItsWay,
            },
            None => Fate::OnItsWay,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_step_keeps_its_number_moves_is_refused_or_is_on_its_way() {
        let mut moved = Moved::default();
        moved.note(3, 10, BTreeMap::from([(11, Some(14)), (12, None)]));
        let fates = [10, 11, 12, 13].map(|seq| moved.fate(3, seq));
        assert_eq!(fates, [Fate::Stands(10), Fate::Stands(14), Fate::Refused, Fate::OnItsWay]);
        assert_eq!(moved.fate(4, 1), Fate::OnItsWay);
    }
}
