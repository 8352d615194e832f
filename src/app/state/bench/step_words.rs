//! What the step view says around the cut itself: which paper to pick up and from where, what comes next, how much is left.
//! Drawing and facts read the same words.

use super::{BenchRun, BenchSheet, PaperSource, RunSpot};
use crate::domain::book::Book;
use crate::domain::cutting::piles::Piles;
use crate::domain::length::Unit;
use crate::domain::plural::count_of;
use crate::domain::size::Size;

impl BenchSheet {
    /// The piles of its panels.
    pub fn piles(&self) -> Piles {
        Piles::of(&self.steps)
    }

    /// A pile by the size of its panels: `pile A`.
    pub fn pile_words(&self, size: Size) -> String {
        self.piles().letter(size).map_or_else(|| "the panels".to_owned(), |letter| format!("pile {letter}"))
    }
}

impl BenchRun {
    /// What to pick up and where it lies: `4 sheets from drawer 2`, `4 panels: pile A, laid aside in step 1`.
    pub fn take_words(&self, spot: RunSpot<'_>, book: &Book) -> String {
        let (step, sheet) = (spot.step, spot.sheet);
        let panels = u64::from(step.panels);
        let begun = step.stop.as_ref().is_some_and(|stop| stop.made > 0);
        if begun {
            return format!("the {} in hand", count_of(panels, "panel"));
        }
        if !step.takes.is_uncut() {
            let laid = sheet.piles().laid_in(step.from);
            let panels = count_of(panels, "panel");
            return match laid {
                Some(at) if at + 1 == spot.at => {
                    format!("{panels}: {}, just cut", sheet.pile_words(step.from))
                }
                Some(at) => {
                    format!("{panels}: {}, laid aside in step {}", sheet.pile_words(step.from), at + 1)
                }
                None => panels,
            };
        }
        let place = match sheet.source {
            PaperSource::Shelf(id) => book.items().get(id).map(|item| item.place.as_str()),
            PaperSource::Bin(id) => book.offcuts().get(id).map(|offcut| offcut.place.as_str()),
            PaperSource::OnBench | PaperSource::Loose => None,
        };
        let place = place.filter(|place| !matches!(place.trim(), "" | "bin"));
        match (sheet.source, place) {
            (PaperSource::Shelf(_), Some(place)) => format!("{} from {place}", count_of(panels, "sheet")),
            (PaperSource::Shelf(_), None) => format!("{} from the shelf", count_of(panels, "sheet")),
            (PaperSource::Bin(_), Some(place)) => {
                format!("{} from the bin, {place}", count_of(panels, "offcut"))
            }
            (PaperSource::Bin(_), None) => format!("{} from the bin", count_of(panels, "offcut")),
            (PaperSource::OnBench, _) => format!("{} that lies on the table", count_of(panels, "leftover")),
            (PaperSource::Loose, _) => count_of(panels, "sheet"),
        }
    }

    /// The setting of the step after the one in hand, and the paper where that is another: `Next: fence 3 1/4 in.`; `None` in
    /// the last step.
    pub fn next_words(&self, unit: Unit) -> Option<String> {
        let spot = self.spot()?;
        let rest = self.sheets.get(spot.index..)?.iter().enumerate();
        let mut after = rest.flat_map(|(n, sheet)| {
            sheet.steps.iter().skip(if n == 0 { spot.at + 1 } else { 0 }).map(move |step| (sheet, step))
        });
        let (sheet, step) = after.next()?;
        let set = step.profile.setting(step.fence);
        let other = sheet.paper_name != spot.sheet.paper_name;
        let paper = if other { format!(", {}", sheet.paper_name) } else { String::new() };
        let (noun, size) = (step.profile.set_by.noun(), set.show_with_unit(unit));
        if set == spot.step.profile.setting(spot.step.fence) {
            return Some(format!("Next: the {noun} stays at {size}{paper}."));
        }
        Some(format!("Next: {noun} {size}{paper}."))
    }

    /// Strokes that are still to be made over all steps.
    pub fn strokes_left(&self) -> u64 {
        let all: u64 = self
            .progress()
            .map(|(sheet, done)| {
                sheet.steps.iter().skip(done).map(|step| u64::from(step.strokes)).sum::<u64>()
            })
            .sum();
        all.saturating_sub(u64::from(self.strokes()))
    }

    /// What is said once the sheets of one whole card are cut and nothing else is.
    pub fn proof_words(&self) -> Option<&'static str> {
        let steps: usize = self.sheets.iter().take(self.proof).map(|sheet| sheet.steps.len()).sum();
        let is_there = self.proof > 0 && self.done == steps && self.strokes() == 0 && self.done < self.len();
        is_there.then_some("One whole card is cut: lay it together and measure it before you cut the rest.")
    }

    /// What is offered before the first stroke of a run for a project: one whole card before the rest, where there is a rest.
    pub fn offer_words(&self) -> Option<&'static str> {
        let is_fresh = self.of.is_some() && self.proof == 0 && !self.is_begun() && self.sheet_total() > 1;
        is_fresh.then_some(
            "<bench-one-card-first> cuts one whole card first, to be laid together and measured before the rest.",
        )
    }
}
