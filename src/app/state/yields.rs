//! What Yield remembers: the question, the answer to it, the chart, and where the cursors stand in them.

use super::after::AfterCuts;
use super::bench::BenchRun;
use super::beside::Beside;
use super::cutting::Spoiled;
use super::further::Further;
use super::laid::Laid;
use super::plan::PlanPane;
use super::views::YieldView;
use crate::app::effect::ChartAsk;
use crate::app::input::list::Cursor;
use crate::domain::book::Book;
use crate::domain::cutlist::ListPart;
use crate::domain::cutting::chart::{Cell, ChartRange};
use crate::domain::cutting::layout::Layout;
use crate::domain::cutting::one_size::{self, SheetYield};
use crate::domain::cutting::pace::CuttingPace;
use crate::domain::cutting::question::{Preference, Question, Trimmer};
use crate::domain::cutting::sheet_order::SheetOrder;
use crate::domain::cutting::trimmer_profile::TrimmerProfile;
use crate::domain::length::{Length, Unit};
use crate::domain::project::Stage;
use crate::domain::sheet::{Formats, Sheet};
use crate::domain::size::Size;
use crate::domain::stock::ItemId;
use std::ops::Range;

/// A yield with the question it answers.
#[derive(Clone, Debug, PartialEq)]
pub struct YieldAnswer {
    /// What was asked.
    pub question: Question,
    /// Counts, slack, layout, steps.
    pub answer: SheetYield,
}

/// A chart with what it was asked of.
#[derive(Clone, Debug, PartialEq)]
pub struct ShownChart {
    /// What was asked.
    pub ask: ChartAsk,
    /// Row by row: the width is the same along a row.
    pub cells: Vec<Cell>,
}

impl ShownChart {
    /// Values along a side.
    pub fn side(&self) -> usize {
        self.ask.range.values().len()
    }

    /// The cell of a row (width) and column (height).
    pub fn cell(&self, row: usize, column: usize) -> Option<&Cell> {
        let side = self.side();
        (row < side && column < side).then(|| self.cells.get(row * side + column)).flatten()
    }
}

/// The sheet in use: a format, or a line of stock.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetChoice {
    /// Name, size, edges.
    pub sheet: Sheet,
    /// The line of stock that it is, if any.
    pub paper: Option<ItemId>,
}

impl SheetChoice {
    /// The sheet that a line of stock is cut from, if it has a size.
    pub fn of_item(book: &Book, id: ItemId) -> Option<Self> {
        let item = book.items().get(id)?;
        let mut sheet = Sheet::new(item.name.clone(), item.size.or(item.measured)?);
        sheet.measured = item.measured;
        sheet.grain = item.grain;
        Some(Self { sheet, paper: Some(id) })
    }
}

/// What a text typed in this pane is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum YieldText {
    /// Size of the piece.
    Piece,
    /// Measured size of the sheet.
    SheetSize,
    /// Unusable edges.
    Edges,
    /// Pieces needed.
    Count,
    /// From, to, step of the chart.
    ChartRange,
    /// Sheets that one stroke takes.
    PerStroke,
    /// What is said of a piece before it is planned.
    Part(ListPart),
    /// How many sheets of the cut list were cut.
    SheetsCut,
    /// What the sheets at the bench measure, and how many there are.
    PaperHere,
    /// How much smaller a piece may be.
    Near,
    /// Size of a scrap.
    Scrap,
    /// What a sheet is used up for: front, reveal, margin.
    UseUp,
    /// How many strips, and how far a setting may be off.
    Strips,
}

/// A row chosen in this pane.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum YieldChoice {
    /// Takes a format as the sheet, by name.
    Format(String),
    /// Takes a line of stock as the sheet.
    Paper(ItemId),
    /// Says what was spoiled at the bench.
    Spoiled(Spoiled),
    /// Says that a piece of this row of the cut list was spoiled after it was cut.
    SpoiledAfter(usize),
    /// Says how a piece is cut.
    Part(ListPart),
}

/// What another pane hands over to Yield.
#[derive(Clone, Debug, PartialEq)]
pub struct Handover {
    /// The piece: its size, whether it may turn, how many.
    pub piece: Option<(Size, bool, Option<u32>)>,
    /// The sheet that it is cut from.
    pub sheet: Option<SheetChoice>,
}

/// State of the pane.
#[derive(Clone, Debug)]
pub struct YieldPane {
    /// The sheet.
    pub sheet: SheetChoice,
    /// The piece.
    pub piece: Size,
    /// How many are needed.
    pub count: Option<u32>,
    /// The piece may lie turned.
    pub may_turn: bool,
    /// What the trimmer can do.
    pub trimmer: Trimmer,
    /// Fewer settings first, or the biggest offcut.
    pub preference: Preference,
    /// Layouts of a plan by paper first, or by setting.
    pub order: SheetOrder,
    /// Count cuts that stop inside the sheet too.
    pub stop_cuts: bool,
    /// Number of the question that is out with a worker.
    pub waiting: Option<u64>,
    /// The last answer.
    pub answer: Option<Box<YieldAnswer>>,
    /// The cut in hand.
    pub step: Cursor,
    /// Which view is open.
    pub view: YieldView,
    /// The view that the bench lies over.
    pub under: YieldView,
    /// From, to, step; `None` until the person chose: the sheet's own default.
    pub range: Option<ChartRange>,
    /// Number of the chart that is out with a worker.
    pub chart_waiting: Option<u64>,
    /// The last chart.
    pub chart: Option<Box<ShownChart>>,
    /// Cursor in the chart: row (width), column (height).
    pub cell: (usize, usize),
    /// The plan view.
    pub plan: PlanPane,
    /// The further answers.
    pub further: Further,
    /// What stands beside the answer on a wide screen.
    pub beside: Beside,
    /// The layout of what is in hand in the chart or a list.
    pub laid: Laid,
    /// The cut list in hand at the bench, kept while the person looks elsewhere.
    pub run: Option<BenchRun>,
    /// The stage after the cuts that the step view is at.
    pub after: Option<AfterCuts>,
    /// How fast the person cuts, over all runs.
    pub pace: CuttingPace,
    /// How fast the person works at each stage after the cuts.
    pub stage_paces: [CuttingPace; Stage::ALL.len()],
    /// When the last set or kit was ticked in this sitting, and at which stage.
    pub set_ticked: Option<(Stage, u64)>,
    /// When the last stroke or step was ticked in this sitting, in seconds since it began.
    pub ticked: Option<u64>,
}

impl Default for YieldPane {
    fn default() -> Self {
        let letter = Formats::built_in()
            .find("letter")
            .map_or_else(|| Size::new(Length::sixteenths(136), Length::inches(11)), |f| f.size);
        Self {
            sheet: SheetChoice { sheet: Sheet::new("letter", letter), paper: None },
            piece: Size::new(Length::inches(2), Length::inches(3)),
            count: None,
            may_turn: true,
            trimmer: Trimmer::default(),
            preference: Preference::default(),
            order: SheetOrder::default(),
            stop_cuts: false,
            waiting: None,
            answer: None,
            step: Cursor::default(),
            view: YieldView::default(),
            under: YieldView::default(),
            range: None,
            chart_waiting: None,
            chart: None,
            cell: (0, 0),
            plan: PlanPane::default(),
            further: Further::default(),
            beside: Beside::default(),
            laid: Laid::default(),
            run: None,
            after: None,
            pace: CuttingPace::default(),
            stage_paces: [CuttingPace::default(); Stage::ALL.len()],
            set_ticked: None,
            ticked: None,
        }
    }
}

impl YieldPane {
    /// The question that the fields put.
    pub fn question(&self) -> Question {
        Question {
            piece: self.piece,
            sheet: self.sheet.sheet.clone(),
            may_turn: self.may_turn,
            preference: self.preference,
            trimmer: Trimmer { stop_cuts: self.stop_cuts, ..self.trimmer },
        }
    }

    /// The answer with its steps, if it is to the question on screen.
    pub fn current(&self) -> Option<&YieldAnswer> {
        self.answer.as_deref().filter(|a| a.question == self.question())
    }

    /// The answer alone.
    pub fn current_answer(&self) -> Option<&SheetYield> {
        self.current().map(|a| &a.answer)
    }

    /// The view that is open, or the one that the bench lies over.
    pub fn below_bench(&self) -> YieldView {
        if self.view == YieldView::Bench { self.under } else { self.view }
    }

    /// Opens the bench over the view in sight, or closes it.
    pub fn show_bench(&mut self, is_open: bool) {
        self.under = self.below_bench();
        self.view = if is_open { YieldView::Bench } else { self.under };
    }

    /// Takes another trimmer, or another word about the same, for the plan in view and the run in hand as well: they are
    /// no others, only told otherwise. What it cannot do counts for what is asked from now on.
    pub fn set_trimmer(&mut self, trimmer: Trimmer) {
        self.trimmer = trimmer;
        if let Some((_, job)) = &mut self.plan.job {
            job.job.trimmer.profile = trimmer.profile;
        }
        if let Some(run) = &mut self.run {
            run.say_for(&trimmer);
        }
    }

    /// Notes strokes ticked at a moment of the sitting, for the person's pace.
    pub fn note_strokes(&mut self, strokes: u32, moment: u64) {
        if let Some(seconds) = self.ticked.and_then(|last| moment.checked_sub(last)) {
            self.pace.note(strokes, seconds);
        }
        self.ticked = Some(moment);
    }

    /// Notes a set or kit ticked at a stage, at a moment of the sitting, for the person's pace there.
    pub fn note_set(&mut self, stage: Stage, moment: u64) {
        if let Some((last_stage, last)) = self.set_ticked
            && last_stage == stage
            && let (Some(pace), Some(seconds)) =
                (self.stage_paces.get_mut(stage as usize), moment.checked_sub(last))
        {
            pace.note_at_a_stage(1, seconds);
        }
        self.set_ticked = Some((stage, moment));
    }

    /// Sets how many sheets a stroke takes, for the plan in view as well: it is no other plan.
    pub fn set_strokes(&mut self, n: u32) {
        self.trimmer.sheets_per_stroke = n;
        if let Some((_, job)) = &mut self.plan.job {
            job.job.trimmer.sheets_per_stroke = n;
        }
    }

    /// True where at least one piece comes out.
    pub fn has_pieces(&self) -> bool {
        self.current_answer().is_some_and(|a| a.best > 0)
    }

    /// The chart's range: the person's, or the sheet's default.
    pub fn chart_range(&self) -> ChartRange {
        self.range.unwrap_or_else(|| ChartRange::for_sheet(&self.sheet.sheet))
    }

    /// What the chart on screen is to be asked of.
    pub fn chart_ask(&self) -> ChartAsk {
        let (sheet, range) = (self.sheet.sheet.clone(), self.chart_range());
        ChartAsk { sheet, range, may_turn: self.may_turn, limits: self.trimmer.limits() }
    }

    /// Sheets needed for the count, cut as is shown, with the pieces to spare.
    pub fn sheets_needed(&self) -> Option<(u32, u32)> {
        let answer = self.current_answer()?;
        let best = answer.better_stop().map_or(answer.best, |stop| stop.best);
        one_size::sheets_for(self.count?, best)
    }
}

/// A step as the pane lists it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepRow {
    /// What is set and what comes off.
    pub short: String,
    /// Every number of it.
    pub full: String,
    /// The cuts of the layout shown that it makes.
    pub cuts: Range<usize>,
    /// True where there is something to look out for.
    pub is_warned: bool,
}

/// The layout that is shown: with stop cuts only where they were asked for and give more.
pub fn shown_layout(answer: &SheetYield) -> &Layout {
    answer.better_stop().map_or(&answer.layout, |stop| &stop.layout)
}

/// What is set, for a line of a list.
fn short(fence: Length, own: TrimmerProfile, unit: Unit) -> String {
    format!("{:<5} {:<6}", own.set_by.noun(), own.setting(fence).about(unit))
}

/// The steps of the layout that is shown.
pub fn step_rows(answer: &SheetYield, unit: Unit) -> Vec<StepRow> {
    let stop = answer.better_stop();
    let parting = stop.map_or(&[][..], |s| &s.parting);
    let parting = parting.iter().enumerate().map(|(n, s)| StepRow {
        short: format!("{} stop after {}", short(s.fence, s.profile, unit), s.along.show_with_unit(unit)),
        full: s.words(unit),
        cuts: n..n + 1,
        is_warned: s.cut.stop,
    });
    let steps = stop.map_or(&answer.steps, |s| &s.steps);
    let steps = steps.iter().map(|s| StepRow {
        short: format!("{} {}", short(s.fence, s.profile, unit), s.short_words(unit)),
        full: s.words(unit),
        cuts: s.cuts.clone(),
        is_warned: !s.warnings.is_empty(),
    });
    parting.chain(steps).collect()
}

impl YieldPane {
    /// The size under the chart's cursor.
    pub fn picked_size(&self) -> Option<Size> {
        Some(self.chart.as_ref()?.cell(self.cell.0, self.cell.1)?.size)
    }

    /// Moves the chart's cursor, inside the chart.
    pub fn move_cell(&mut self, rows: isize, columns: isize) {
        let Some(chart) = &self.chart else { return };
        let last = chart.side().saturating_sub(1);
        self.cell.0 = self.cell.0.saturating_add_signed(rows).min(last);
        self.cell.1 = self.cell.1.saturating_add_signed(columns).min(last);
    }
}
