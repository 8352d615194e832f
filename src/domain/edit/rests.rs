//! Which steps rest on which: a record that one step has added and a later one has changed or removed.

use super::{Edit, Row};
use crate::domain::stock::ids::RecordKey;
use std::mem::{Discriminant, discriminant};

/// A record that an edit is about: which table, which number, and whether the edit removes it.
type Touched = (Discriminant<Edit>, u64, bool);

impl Edit {
    /// True where taking a step back by this edit would take a record away that a later step has changed; `later` is the
    /// edit that takes the later step back.
    pub fn would_drop_the_work_of(&self, later: &Self) -> bool {
        let (mut own, mut others) = (Vec::new(), Vec::new());
        self.touched(&mut own);
        later.touched(&mut others);
        let is_same = |a: &Touched, b: &Touched| (a.0, a.1) == (b.0, b.1);
        own.iter().filter(|t| t.2).any(|own| others.iter().any(|other| is_same(own, other)))
    }

    fn touched(&self, all: &mut Vec<Touched>) {
        let kind = discriminant(self);
        let mut add = |(number, goes): (u64, bool)| all.push((kind, number, goes));
        match self {
            Self::Batch { edits, .. } => edits.iter().for_each(|e| e.touched(all)),
            Self::Item(row) => add(record(row)),
            Self::Swatch(row) => add(record(row)),
            Self::Project(row) => add(record(row)),
            Self::Offcut(row) => add(record(row)),
            Self::Booking(row) => add(record(row)),
            Self::Order(row) => add(record(row)),
            Self::Assortment(row) => add(record(row)),
            Self::Format(row) => add(record(row)),
            Self::Trio(row) => add(record(row)),
            _ => {}
        }
    }
}

fn record<K: RecordKey, T>(row: &Row<K, T>) -> (u64, bool) {
    (u64::from(row.id().number()), matches!(row, Row::Remove(_)))
}
