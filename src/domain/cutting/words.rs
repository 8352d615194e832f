//! What a step says. Every number that is needed to make the cuts is in the words, sizes as they lie on the sheet.
//!
//! ```text
//! Fence 3 in: top edge (2 in) of 4 panels 2 x 11 in. 3 cuts each, strokes 5 to 16 of 16. Fence side: 12 pieces 2 x 3 in.
//! Beyond the blade: 4 offcuts 2 x 2 in.
//! Fence 5 in: top edge (12 in) of 2 sheets 12 x 12 in. 1 stop cut each, strokes 1 to 2 of 8: start at the left edge,
//! stop at the mark after 7 in, and finish the corner with knife and steel rule. Nothing comes off yet.
//! ```

use super::one_size::SheetYield;
use super::question::Trimmer;
use crate::domain::cutting::geometry::Edge;
use crate::domain::cutting::step::{CutPart, CutStep, StopCut, Warning};
use crate::domain::cutting::trimmer_profile::SetBy;
use crate::domain::length::{Length, Unit};
use crate::domain::plural::count_of;
use crate::domain::size::Size;

impl CutStep {
    /// The step as one line.
    pub fn words(&self, unit: Unit) -> String {
        let mut text = self.cut_words(unit);
        if self.stop.is_some() {
            text = format!("{text} {}", self.off_words(unit));
        } else {
            text = format!("{text} {}", self.parts_words(unit));
        }
        for sentence in self.mind_words(unit) {
            text.push(' ');
            text.push_str(&sentence);
        }
        text
    }

    /// The same for a page, where the setting stands in large figures before it: what to do without the setting, what comes
    /// off, and what to look out for.
    pub fn bench_words(&self, unit: Unit) -> [String; 3] {
        let cut = self.cut_words(unit);
        let cut = cut.split_once(": ").map_or(cut.as_str(), |(_, rest)| rest);
        let mut letters = cut.chars();
        let cut = letters
            .next()
            .map_or_else(String::new, |c| c.to_uppercase().collect::<String>() + letters.as_str());
        let off = if self.stop.is_some() { self.off_words(unit) } else { self.parts_words(unit) };
        let error = self.profile.error_words(self.fence, unit).map(|words| format!("Setting {words}."));
        let mind: Vec<String> = error.into_iter().chain(self.mind_words(unit)).collect();
        [cut, off, mind.join(" ")]
    }

    /// What each cut gives and what remains, each with its place on the person's trimmer.
    fn parts_words(&self, unit: Unit) -> String {
        let (set, over) = self.profile.set_by.places();
        format!("{set}: {}. {over}: {}.", self.part_words(unit), self.rest_words(unit))
    }

    /// What to do: setting, edge, panels, cuts, strokes.
    pub fn cut_words(&self, unit: Unit) -> String {
        if let Some(stop) = &self.stop {
            return self.stop_cut_words(stop, unit);
        }
        let set = self.profile.setting_words(self.fence, unit);
        let edge = self.profile.edge_words(self.from, self.edge, &self.along.show_with_unit(unit));
        let from = counted(self.panels, self.takes.word(), self.from, unit);
        let cuts = if self.each == 1 { "1 cut".to_owned() } else { format!("{} cuts", self.each) };
        let each = if self.panels == 1 { "" } else { " each" };
        let stack = self.stack_words();
        let strokes = self.stroke_words();
        format!("{set}: {edge} of {from}. {cuts}{each}, {stack}{strokes}.")
    }

    /// The same for a cut that stops inside its panel. The corner is finished by hand: a round blade leaves it uncut.
    fn stop_cut_words(&self, stop: &StopCut, unit: Unit) -> String {
        let set = self.profile.setting_words(self.fence, unit);
        // Before the last cut a block is off, and the edge is as long as the cut.
        let side = match self.edge {
            _ if stop.made == 3 => self.along,
            Edge::Left | Edge::Right => self.from.height,
            Edge::Top | Edge::Bottom => self.from.width,
        };
        let from = counted(self.panels, self.takes.word(), self.from, unit);
        let begun = match stop.made {
            0 => String::new(),
            1 => " that have 1 stop cut".to_owned(),
            n => format!(" that have {n} stop cuts"),
        };
        let each = if self.panels == 1 { "" } else { " each" };
        format!(
            "{set}: {} of {from}{begun}. 1 stop cut{each}, {}{}: start at the {} edge, stop at the \
             mark after {}, and finish the corner with knife and steel rule.",
            self.profile.edge_words(self.from, self.edge, &side.show_with_unit(unit)),
            self.stack_words(),
            self.stroke_words(),
            stop.start.word(),
            self.along.show_with_unit(unit)
        )
    }

    /// What comes off with a cut that stops inside its panel: `Comes off: 2 pieces 5 x 7 in, 2 offcuts 2 x 2 in.`
    pub fn off_words(&self, unit: Unit) -> String {
        let off = self.stop.iter().flat_map(|s| &s.off).map(|part| (*part, self.panels));
        match summed(off, unit) {
            Some(all) => format!("Comes off: {all}."),
            None => "Nothing comes off yet.".to_owned(),
        }
    }

    /// Which edge of the panel lies where on the person's trimmer, and how it is turned for that: `fence, top edge; turned a
    /// quarter left`.
    pub fn lies_words(&self) -> String {
        let edge = self.edge.word();
        let lying = self.profile.lying(self.from, self.edge);
        let rail = lying.on_top().word();
        let where_it_lies = match self.profile.set_by {
            SetBy::Fence => format!("fence, {edge} edge"),
            SetBy::Stop => format!("stop behind the blade, {edge} edge"),
            SetBy::RulerLeft => format!("top rail, {rail} edge; mark at the left, {edge} edge"),
            SetBy::RulerRight => format!("top rail, {rail} edge; mark at the right, {edge} edge"),
        };
        let turned = lying.turned_words().map(|words| format!("; {words}"));
        where_it_lies + &turned.unwrap_or_default()
    }

    /// What comes off between fence and blade: `12 pieces 2 x 3 in`.
    pub fn part_words(&self, unit: Unit) -> String {
        counted(self.panels * self.each, kind_word(self.part.0), self.part.1, unit)
    }

    /// What remains beyond the blade.
    pub fn rest_words(&self, unit: Unit) -> String {
        counted(self.panels, kind_word(self.rest.0), self.rest.1, unit)
    }

    /// What to look out for, a sentence each.
    pub fn mind_words(&self, unit: Unit) -> Vec<String> {
        let exact = "Exact fit: measure the piece beyond the blade.";
        let freed = "Exact fit: measure what comes off, not every side was set.";
        let is_stop = self.stop.is_some();
        let exact = self.exact_fit.then(|| if is_stop { freed } else { exact }.to_owned());
        let knife = is_stop.then(|| KNIFE_CAUTION.to_owned());
        exact.into_iter().chain(knife).chain(self.warnings.iter().map(|w| w.words(unit))).collect()
    }

    /// What there is after it, for a line of a list: `12 pieces 2 x 3 in`. What lies beyond the blade counts where it is like
    /// what was set, or finished: the last piece of a panel without slack is one of those that are wanted.
    pub fn short_words(&self, unit: Unit) -> String {
        if self.stop.is_some() {
            return self.off_words(unit);
        }
        let counts = self.rest == self.part || matches!(self.rest.0, CutPart::Piece(_));
        let beyond = counts.then_some((self.rest, self.panels));
        let all = [(self.part, self.panels * self.each)].into_iter().chain(beyond);
        summed(all, unit).unwrap_or_default()
    }

    /// `2 sheets a stroke, `; nothing where each stroke takes one.
    fn stack_words(&self) -> String {
        if self.at_once > 1 { format!("{} sheets a stroke, ", self.at_once) } else { String::new() }
    }

    /// `stroke 7 of 20`, `strokes 5 to 16 of 16`.
    pub fn stroke_words(&self) -> String {
        let (first, of) = (self.first_stroke, self.of_strokes);
        if self.strokes == 1 {
            format!("stroke {first} of {of}")
        } else {
            format!("strokes {first} to {} of {of}", first + self.strokes - 1)
        }
    }
}

/// Where a corner is finished by hand. Common practice; the maker's instructions come first.
pub const KNIFE_CAUTION: &str = "Knife: fingers behind the rule, cut away from them, cap the blade at once.";

/// Where more than one sheet is cut at a stroke. Common practice; the maker of the trimmer says how many it takes.
pub const STACK_CAUTION: &str = "A stack shifts under the blade and needs force: square it, press it down along the \
    whole cut, and never cut more at once than the trimmer's maker allows.";

/// The word for what a part is.
pub const fn kind_word(kind: CutPart) -> &'static str {
    match kind {
        CutPart::Piece(_) => "piece",
        CutPart::Panel => "panel",
        CutPart::Offcut => "offcut",
    }
}

fn counted(n: u32, word: &str, size: Size, unit: Unit) -> String {
    format!("{} {}", count_of(u64::from(n), word), size.show_with_unit(unit))
}

/// Parts that are called alike and are of one size as one, in the order in which they come; `None` for nothing.
fn summed(parts: impl Iterator<Item = ((CutPart, Size), u32)>, unit: Unit) -> Option<String> {
    let mut sums: Vec<((&str, Size), u32)> = Vec::new();
    for ((kind, size), n) in parts {
        let of = (kind_word(kind), size);
        match sums.iter_mut().find(|(known, _)| *known == of) {
            Some((_, sum)) => *sum += n,
            None => sums.push((of, n)),
        }
    }
    let all: Vec<String> = sums.into_iter().map(|((word, size), n)| counted(n, word, size, unit)).collect();
    (!all.is_empty()).then(|| all.join(", "))
}

impl Warning {
    /// The warning as a sentence.
    pub fn words(&self, unit: Unit) -> String {
        let show = |l: Length| l.show_with_unit(unit);
        match self {
            Self::NarrowHold { width, other_way: Some(other) } => format!(
                "Narrow: only {} lies under the hand. Other way round: set the {} edge to {} instead, so that the strip \
                 falls off; or use knife and steel rule.",
                show(*width),
                other.edge.word(),
                show(other.fence)
            ),
            Self::NarrowHold { width, other_way: None } => {
                format!("Narrow: only {} lies under the hand; use knife and steel rule.", show(*width))
            }
            Self::Shave { width } => {
                format!(
                    "Shave: only {} comes off, a trimmer may not bite; use knife and steel rule.",
                    show(*width)
                )
            }
            Self::LongCut { longest } => format!("Too long: this trimmer cuts {}.", show(*longest)),
            Self::FarFence { largest } => format!("Too far: this trimmer can be set to {}.", show(*largest)),
            Self::OffMark { nearest, error } => {
                let what = if error.is_positive() { "larger" } else { "smaller" };
                format!(
                    "Between marks: the nearest is {}, {} {what}.",
                    nearest.about(unit),
                    about(error.abs(), unit)
                )
            }
        }
    }
}

/// A small length so that it does not read as zero.
fn about(length: Length, unit: Unit) -> String {
    match unit {
        Unit::Inch => format!("{:.3} in", length.in_unit(Unit::Inch)),
        Unit::Mm if length.show(unit) == "0" => "under 0.01 mm".to_owned(),
        Unit::Mm => length.show_with_unit(unit),
    }
}

/// What stands beside the numbers of an answer: nothing fits, no slack, narrow strips.
pub fn notes(answer: &SheetYield, trimmer: &Trimmer, unit: Unit) -> Vec<String> {
    let mut notes = Vec::new();
    let (piece, sheet) = (answer.piece.show_with_unit(unit), answer.sheet.show_with_unit(unit));
    if answer.best == 0 {
        notes.push(nothing_fits(answer, trimmer, unit));
        notes.extend(short_words(answer, unit));
        return notes;
    }
    if !answer.slack.width.is_positive() || !answer.slack.height.is_positive() {
        let way = match (answer.slack.width.is_positive(), answer.slack.height.is_positive()) {
            (false, false) => "width and height",
            (false, true) => "width",
            _ => "height",
        };
        notes
            .push(format!("exact fit in {way}: measure the sheet, a little less than {sheet} loses a piece"));
    }
    if !answer.proved {
        notes.push(format!(
            "{} is the most found; no layout can give more than {}",
            answer.best, answer.bound
        ));
    }
    notes.extend(short_words(answer, unit));
    if trimmer.is_narrow(answer.piece.short()) {
        notes.push(format!(
            "a piece of {piece} is {} or less across: hard to hold, cut it last and mind your fingers",
            trimmer.smallest_strip.show_with_unit(unit)
        ));
    }
    notes
}

/// What a sheet that measures short lost, and both ways out.
pub fn short_words(answer: &SheetYield, unit: Unit) -> Option<String> {
    let short = answer.short?;
    let best = answer.best;
    let lost = format!("the sheet measures short: {best} instead of {}", short.full);
    let keep = match best {
        0 => "take another sheet".to_owned(),
        _ if answer.one_way => format!("keep the size and cut {best} all one way, as shown"),
        _ => format!("keep the size and cut {best} as shown, some of them turned"),
    };
    Some(match short.narrower {
        Some(size) => format!("{lost}. Cut {} and get {}, or {keep}", size.show_with_unit(unit), short.full),
        None => format!("{lost}, and no piece up to 1/4 in smaller brings them back: {keep}"),
    })
}

fn nothing_fits(answer: &SheetYield, trimmer: &Trimmer, unit: Unit) -> String {
    let (piece, sheet) = (answer.piece.show_with_unit(unit), answer.sheet.show_with_unit(unit));
    let room = answer.usable.size;
    let limits = trimmer.longest_cut.is_some() || trimmer.largest_setting.is_some();
    if answer.piece.fits_in(room) {
        let why = if limits { "this trimmer cannot make the cuts" } else { "no cut gives it" };
        return format!("a piece of {piece} fits on {sheet}, but {why}: count 0");
    }
    if answer.piece.turned().fits_in(room) {
        return format!("a piece of {piece} fits on {sheet} only turned: allow turning, count 0");
    }
    if answer.piece.fits_in_either_way(answer.sheet, true) {
        return format!(
            "a piece of {piece} does not fit on the usable part of {sheet}: count 0, take another sheet"
        );
    }
    format!("a piece of {piece} does not fit on {sheet} either way: count 0, take a larger sheet")
}
