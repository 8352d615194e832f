//! What was done and can be taken back, in the order in which it happened: steps of the book and steps that are not written
//! to it side by side, and what was taken back and can be made again. Kept in step with the book's own history, which knows
//! the last hundred edits whoever made them.

use super::choices::{ChangedChoice, Chosen};
use crate::app::state::bench::BenchRun;
use crate::app::state::views::StockView;
use crate::domain::history::{Fate, Moved, Step};
use crate::domain::stock::ItemId;
use crate::domain::stock::ProjectId;
use jiff::civil::Date;
use std::mem::discriminant;

/// Most steps that are not in the book are kept.
const KEPT: usize = 100;

/// A step of the book: its number in the copy of the book that the window had by then.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BookStep {
    /// Which copy.
    pub epoch: u64,
    /// Its number there.
    pub seq: u64,
}

/// A tick at the bench.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tick {
    /// Of which cutting plan.
    pub plan: u64,
    /// Steps done by it.
    pub done: usize,
}

/// The cut list in hand as it was before a step changed it.
#[derive(Clone, Debug, PartialEq)]
pub struct RunWas {
    /// The list; nothing where none was in hand.
    pub run: Option<Box<BenchRun>>,
    /// Its marks.
    pub marks: PlanCounts,
    /// The sheets and their steps were changed, not only what is logged of them.
    pub is_other_plan: bool,
}

/// Which cut list is in hand and which plan of it, counted through the sitting.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct PlanCounts {
    /// Counts cut lists.
    pub round: u64,
    /// Counts plans of them.
    pub plan: u64,
}

/// Something that was done.
#[derive(Clone, Debug, PartialEq)]
pub struct Did {
    /// Its own number in this sitting.
    pub id: u64,
    /// Whose it is.
    pub whose: Whose,
    /// What was done, in words.
    pub label: String,
    /// The day, for steps of the book.
    pub date: Option<Date>,
    /// The step of the book, where it is one.
    pub book: Option<BookStep>,
    /// What was chosen.
    pub choices: Vec<ChangedChoice>,
    /// The tick at the bench.
    pub tick: Option<Tick>,
    /// How the cut list was before.
    pub run: Option<RunWas>,
}

impl Did {
    /// True where it has changed the same thing as an earlier step, beside the book, so that it has to go first.
    pub fn rests_on(&self, earlier: &Self) -> bool {
        let same =
            |c: &ChangedChoice| earlier.choices.iter().any(|e| discriminant(&e.now) == discriminant(&c.now));
        let cuts = |d: &Self| d.tick.is_some() || d.run.as_ref().is_some_and(|r| r.is_other_plan);
        self.choices.iter().any(same)
            || (self.run.is_some() && earlier.run.is_some())
            || (cuts(self) && cuts(earlier))
    }
}

/// Something that was taken back.
#[derive(Clone, Debug, PartialEq)]
pub struct Undid {
    /// What was done; its step of the book is the one that took it back.
    pub did: Did,
    /// The view in which it was taken back, in this sitting.
    pub at: Option<View>,
}

/// What a second press is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NamedStep {
    /// To take this step back.
    Back(u64),
    /// To make this one again.
    Again(u64),
    /// To go back a step of the bench that an earlier sitting has ticked.
    OldTick,
}

/// What happens during one action, before it becomes a step.
#[derive(Clone, Debug, Default)]
pub struct Pending {
    /// Edits made: number, words, day.
    pub edits: Vec<(u64, String, Date)>,
    /// The cut list before it may be changed, nothing where none was in hand; true where another may come in its place.
    pub run: Option<(Option<Box<BenchRun>>, bool)>,
    /// The action took something back or made it again: that is no step of its own.
    pub is_undo: bool,
}

/// All of it.
#[derive(Clone, Debug, Default)]
pub struct Timeline {
    /// What was done, oldest first.
    pub done: Vec<Did>,
    /// What was taken back, the last one at the end.
    pub undone: Vec<Undid>,
    /// What was named and waits for its second press.
    pub named: Option<NamedStep>,
    /// Steps of the action that goes on.
    pub pending: Pending,
    /// Choices as they were before something that lies over the pane began to change them.
    pub open: Option<Vec<Chosen>>,
    /// The cut list in hand.
    pub marks: PlanCounts,
    next: u64,
    counted: u64,
}

impl Timeline {
    /// The cut list in hand.
    pub fn round(&self) -> u64 {
        self.marks.round
    }

    /// The plan of the cut list in hand.
    pub fn plan(&self) -> u64 {
        self.marks.plan
    }

    /// Another cut list is in hand, or another plan of the same.
    pub fn count_run(&mut self, is_new_round: bool) {
        self.counted += 1;
        self.marks.plan = self.counted;
        if is_new_round {
            self.marks.round = self.counted;
        }
    }

    /// The next number of a step.
    pub fn next_id(&mut self) -> u64 {
        self.next += 1;
        self.next
    }

    /// Adds a step. What was taken back in its view and is not in the book cannot be made again any more.
    pub fn add(&mut self, did: Did) {
        if let Whose::Here(view) = did.whose {
            self.undone.retain(|u| {
                let is_here = u.at == Some(view) || u.did.whose == did.whose;
                u.did.book.is_some() || !(is_here || did.rests_on(&u.did) || u.did.rests_on(&did))
            });
        }
        self.done.push(did);
    }

    /// Adds what the book's history holds and this list does not: steps of another sitting or window.
    pub fn follow(&mut self, model_epoch: u64, done: &[&Step], undone: &[Step], whose: Whose) {
        let is_there = |book: Option<BookStep>, seq: u64| book == Some(BookStep { epoch: model_epoch, seq });
        for step in done {
            if !self.done.iter().any(|d| is_there(d.book, step.seq)) {
                let did = self.foreign(model_epoch, step, whose);
                self.done.push(did);
            }
        }
        for step in undone {
            if !self.undone.iter().any(|u| is_there(u.did.book, step.seq)) {
                let did = self.foreign(model_epoch, step, whose);
                self.undone.push(Undid { did, at: None });
            }
        }
    }

    fn foreign(&mut self, epoch: u64, step: &Step, whose: Whose) -> Did {
        Did {
            id: self.next_id(),
            whose,
            label: step.label.clone(),
            date: step.date,
            book: Some(BookStep { epoch, seq: step.seq }),
            choices: Vec::new(),
            tick: None,
            run: None,
        }
    }

    /// The window has another copy of the book: its own steps bear other numbers there, and some were refused.
    pub fn renumber(&mut self, epoch: u64, moved: &Moved) {
        let is_kept = |book: &mut Option<BookStep>| {
            let Some(step) = book else { return true };
            match moved.fate(step.epoch, step.seq) {
                Fate::Stands(seq) => *step = BookStep { epoch, seq },
                Fate::Refused => return false,
                Fate::OnItsWay => {}
            }
            true
        };
        self.done.retain_mut(|d| is_kept(&mut d.book));
        self.undone.retain_mut(|u| is_kept(&mut u.did.book));
    }

    /// Drops what can no longer be taken back or made again, and the oldest of what is not in the book.
    pub fn prune(&mut self, keeps: impl Fn(&[Did], usize) -> bool, keeps_undone: impl Fn(&Undid) -> bool) {
        let done = std::mem::take(&mut self.done);
        let mut extra = done.iter().filter(|d| d.book.is_none()).count().saturating_sub(KEPT);
        let kept: Vec<bool> = (0..done.len()).map(|n| keeps(&done, n)).collect();
        self.done = done
            .into_iter()
            .zip(kept)
            .filter(|(did, is_kept)| {
                let is_old = did.book.is_none() && extra > 0;
                extra -= usize::from(is_old);
                *is_kept && !is_old
            })
            .map(|(did, _)| did)
            .collect();
        self.undone.retain(keeps_undone);
    }
}

/// What is on screen: a view of a pane, and what it is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum View {
    /// Every view: what is chosen there shows all over the screen.
    All,
    /// The page of the day.
    Today,
    /// The question of Yield and its answer.
    Yield,
    /// The chart of Yield.
    Chart,
    /// The plan of a project.
    Plan(Option<ProjectId>),
    /// The bench: which cut list, counted as they were opened.
    Bench(u64),
    /// A card in Mats: whose, and which.
    Card(Option<ProjectId>, usize),
    /// The ruler under that card.
    Ruler(Option<ProjectId>, usize),
    /// The swatches and what goes with them.
    Palette,
    /// The card of a patterned paper in Palette.
    Paper(ItemId),
    /// A photo in Palette.
    Photo,
    /// A view of Stock.
    Stock(StockView),
}

/// Whose a step is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Whose {
    /// It was made here, in this sitting, and its result stood in this view.
    Here(View),
    /// It is older than this sitting.
    Before,
    /// Another window or a command has made it meanwhile.
    Elsewhere,
}
