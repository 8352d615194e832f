//! The stages of a project after the cutting, and how far each has come. What its parts ask for comes first, each a stage with
//! a count of its own: shaped (die-cut, torn, embossed), stamped or printed, scored and folded; a project whose parts ask for
//! none of these has its pieces counted into sets instead. Then a class has its kits packed and only its samples made up; a
//! batch is made up and handed out (common practice). Planned, booked and cut are not kept here: they follow from the
//! bookings and the log.

use super::Project;
use crate::domain::cards::fold;
use crate::domain::cards::made_by::MadeBy;
use crate::domain::cards::tools::Tools;
use crate::domain::length::Length;

/// A stage after the cutting.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stage {
    /// Sets of which every piece that asks for it is die-cut, torn or embossed, and trimmed.
    Shaped,
    /// Sets of which every piece that asks for it is stamped or printed, and dry.
    Stamped,
    /// Sets of which every base is scored and folded.
    Scored,
    /// Sets of which all that is done: nothing is left to do to their pieces.
    Prepared,
    /// Kits packed: a set each, for the seats and to spare.
    Packed,
    /// Sets made up: all of a batch, the samples of a class.
    Assembled,
    /// Sets of a batch that left the bench.
    HandedOut,
}

impl Stage {
    /// The stages in their order.
    pub const ALL: [Self; 7] = [
        Self::Shaped,
        Self::Stamped,
        Self::Scored,
        Self::Prepared,
        Self::Packed,
        Self::Assembled,
        Self::HandedOut,
    ];

    /// What a set goes through until it is prepared.
    pub const TASKS: [Self; 3] = [Self::Shaped, Self::Stamped, Self::Scored];

    /// The word shown, stored and typed.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Shaped => "shaped",
            Self::Stamped => "stamped",
            Self::Scored => "scored",
            Self::Prepared => "prepared",
            Self::Packed => "packed",
            Self::Assembled => "assembled",
            Self::HandedOut => "handed out",
        }
    }

    /// What is done to them, as a crafter calls it.
    pub const fn work(self) -> &'static str {
        match self {
            Self::Shaped => "shaping",
            Self::Stamped => "stamping",
            Self::Scored => "scoring",
            Self::Prepared => "preparing",
            Self::Packed => "packing",
            Self::Assembled => "assembling",
            Self::HandedOut => "handing out",
        }
    }

    /// What one of them is called.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Packed => "kit",
            _ => "set",
        }
    }

    /// The stage of this word; what shapes a piece is a word for that stage, too.
    pub fn from_word(word: &str) -> Option<Self> {
        let word = word.trim().to_lowercase();
        match word.as_str() {
            "die-cut" | "die cut" | "torn" | "embossed" => Some(Self::Shaped),
            "printed" => Some(Self::Stamped),
            "folded" => Some(Self::Scored),
            _ => Self::ALL.into_iter().find(|s| s.word() == word),
        }
    }

    /// What is still to be done to a piece that is made this way and called so, once it is cut.
    pub fn of_piece(made_by: MadeBy, allowance: Length, name: &str) -> Vec<Self> {
        let is_to_edge = made_by == MadeBy::PrintedToEdge;
        let is_shaped = !is_to_edge && (made_by != MadeBy::Straight || allowance.is_positive());
        let is_stamped = is_to_edge || is_read(name);
        let all = [(is_shaped, Self::Shaped), (is_stamped, Self::Stamped)];
        all.into_iter().filter(|(asks, _)| *asks).map(|(_, stage)| stage).collect()
    }
}

/// True for a part that its name calls something to read or look at: those are stamped or printed.
pub fn is_read(name: &str) -> bool {
    let name = name.to_lowercase();
    ["sentiment", "label", "image", "stamp", "print"].iter().any(|word| name.contains(word))
}

/// How many are done at each stage.
///
/// Sets that were counted as prepared have been through every task, whichever there are.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Stages([u32; Stage::ALL.len()]);

impl Stages {
    /// How many are done at a stage.
    pub fn done(&self, stage: Stage) -> u32 {
        let kept = self.kept(stage);
        if Stage::TASKS.contains(&stage) { kept.max(self.kept(Stage::Prepared)) } else { kept }
    }

    /// The number that is kept for a stage.
    pub fn kept(&self, stage: Stage) -> u32 {
        self.0.get(stage as usize).copied().unwrap_or(0)
    }

    /// The same with so many done at a stage. What was counted as prepared becomes the count of each task where one of them
    /// gets a count of its own.
    #[must_use]
    pub fn with(mut self, stage: Stage, done: u32) -> Self {
        if Stage::TASKS.contains(&stage) && self.kept(Stage::Prepared) > 0 {
            for task in Stage::TASKS {
                self = self.keeping(task, self.done(task));
            }
            self = self.keeping(Stage::Prepared, 0);
        }
        self.keeping(stage, done)
    }

    /// The same with another number kept for a stage.
    #[must_use]
    pub fn keeping(mut self, stage: Stage, done: u32) -> Self {
        if let Some(n) = self.0.get_mut(stage as usize) {
            *n = done;
        }
        self
    }

    /// True where nothing is done yet.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

impl Project {
    /// What its parts ask for before its kits are packed or its cards made up, in order.
    pub fn tasks(&self) -> Vec<Stage> {
        let cards =
            self.cards.iter().flat_map(|card| {
                let base = Stage::of_piece(card.base_made_by, card.base_allowance, "");
                let layers = card.layers.iter().enumerate().filter(|(_, layer)| layer.count > 0);
                base.into_iter().chain(layers.flat_map(|(n, layer)| {
                    Stage::of_piece(layer.made_by, layer.allowance, &layer.shown_name(n))
                }))
            });
        let loose = self.pieces.iter().filter(|p| p.count > 0);
        let loose = loose.flat_map(|p| Stage::of_piece(p.made_by, p.allowance, &p.name));
        let mut all: Vec<Stage> = cards.chain(loose).collect();
        let is_scored = self.cards.iter().any(|card| {
            !card.scores.is_empty()
                || fold::base(card.face, &card.fold, &Tools::INCH).is_ok_and(|base| !base.scores.is_empty())
        });
        all.extend(is_scored.then_some(Stage::Scored));
        all.sort_unstable();
        all.dedup();
        all
    }

    /// How many there are to do at a stage; `None` where the project does not go through it.
    pub fn stage_total(&self, stage: Stage) -> Option<u32> {
        let is_class = self.seats > 0;
        let sets = u32::try_from(self.sets()).unwrap_or(u32::MAX);
        match (stage, is_class) {
            (Stage::Shaped | Stage::Stamped | Stage::Scored, _) => {
                self.tasks().contains(&stage).then_some(sets)
            }
            (Stage::Prepared, _) => self.tasks().is_empty().then_some(sets),
            (Stage::Assembled | Stage::HandedOut, false) => Some(sets),
            (Stage::Packed, true) => u32::try_from(self.kits()).ok(),
            (Stage::Assembled, true) if self.samples > 0 => Some(self.samples),
            _ => None,
        }
    }

    /// Sets that are prepared: through all that its parts ask for; and how many there are.
    pub fn prepared(&self) -> (u32, u32) {
        let sets = u32::try_from(self.sets()).unwrap_or(u32::MAX);
        let done = self.tasks().into_iter().map(|task| self.stages.done(task)).min();
        (done.unwrap_or_else(|| self.stages.done(Stage::Prepared)), sets)
    }

    /// Its stages with so many done at one. Sets that are said to be prepared are through each of its tasks, and no others
    /// are.
    pub fn with_done(&self, stage: Stage, done: u32) -> Stages {
        let tasks = self.tasks();
        if stage != Stage::Prepared || tasks.is_empty() {
            return self.stages.with(stage, done);
        }
        tasks.into_iter().fold(self.stages, |all, task| all.with(task, done))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::length::Length;
    use crate::domain::project::{PieceWanted, ProjectCard};
    use crate::domain::size::Size;

    #[test]
    fn what_was_prepared_is_through_every_task() {
        let was = Stages::default().with(Stage::Prepared, 5);
        assert_eq!(Stage::TASKS.map(|task| was.done(task)), [5, 5, 5]);
        let now = was.with(Stage::Scored, 4);
        assert_eq!(Stage::TASKS.map(|task| now.done(task)), [5, 5, 4]);
        assert_eq!(now.done(Stage::Prepared), 0);
        let other = Stages::default().with(Stage::Stamped, 3).with(Stage::Packed, 2);
        assert_eq!(Stage::TASKS.map(|task| other.done(task)), [0, 3, 0]);
    }

    /// By hand: a side fold is scored; a tag of 2 x 3 that is die-cut is shaped; one called sentiment is stamped; a piece that
    /// asks for nothing leaves the sets to be counted.
    #[test]
    fn a_project_goes_through_what_its_parts_ask_for() {
        let size = Size::new(Length::inches(2), Length::inches(3));
        let mut project = Project { pieces: vec![PieceWanted::new("tag", size, 1)], ..Project::new("tags") };
        assert_eq!((project.tasks(), project.stage_total(Stage::Prepared)), (vec![], Some(1)));
        project.pieces[0].made_by = MadeBy::DieCut;
        assert_eq!((project.tasks(), project.stage_total(Stage::Prepared)), (vec![Stage::Shaped], None));
        project.pieces.push(PieceWanted::new("Sentiment", size, 1));
        project.cards.push(ProjectCard::new("note", size));
        assert_eq!(project.tasks(), Stage::TASKS);
        project
            .pieces
            .push(PieceWanted { made_by: MadeBy::PrintedToEdge, ..PieceWanted::new("tag 2", size, 1) });
        project.pieces.remove(1);
        assert_eq!(project.tasks(), Stage::TASKS, "printed to the edge is stamped or printed");
    }

    #[test]
    fn sets_that_are_prepared_are_through_each_task_and_no_others_are() {
        let size = Size::new(Length::inches(2), Length::inches(3));
        let mut project =
            Project { seats: 9, cards: vec![ProjectCard::new("note", size)], ..Project::new("class") };
        project.pieces.push(PieceWanted::new("sentiment", size, 1));
        project.stages = project.with_done(Stage::Stamped, 7);
        assert_eq!(project.prepared(), (0, 9));
        project.stages = project.with_done(Stage::Prepared, 5);
        assert_eq!(project.prepared(), (5, 9));
        assert_eq!([Stage::Stamped, Stage::Scored].map(|s| project.stages.done(s)), [5, 5]);
    }
}
