//! The one table of commands: every verb a person can trigger, once, with its words and default keys.
//!
//! Keys, the hint line, the help screen, the command finder and the key reference all read this table. A command
//! takes no argument; what needs one opens a prompt or a picker. Conditions are data, evaluated on the model by
//! [`super::resolve::holds`], so that a command that cannot run now is dimmed, not hidden.

pub use super::contexts::Context;

/// When a command can run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    /// At any time.
    Always,
    /// This system can stop a program and bring it back.
    CanStop,
    /// An edit can be taken back.
    CanUndo,
    /// An undone edit can be made again.
    CanRedo,
    /// The yield answer on screen holds at least one piece.
    HasPieces,
    /// The sheet in use is a line in stock and the answer holds pieces.
    SheetInStock,
    /// The Mats pane has a card with a layer under the cursor.
    HasLayer,
    /// The palette has a swatch under the cursor.
    HasSwatch,
    /// The card of a patterned paper is in view and a swatch is picked.
    HasPattern,
    /// A photo's colours are on screen.
    HasPhoto,
    /// The same, and it is a photo of a paper.
    IsPaperPhoto,
    /// The same, and it is a picture of anything.
    IsPicture,
    /// The stock list has a row under the cursor.
    HasItem,
    /// The shelf has a line at all.
    HasShelf,
    /// The list of the Stock pane has a row under the cursor.
    HasRow,
    /// The list of the Stock pane has rows that can be marked.
    CanMark,
    /// A project is active.
    HasProject,
    /// A plan is on screen.
    HasPlan,
    /// A plan is on screen that is not booked, or a better one than the booked one.
    CanBookPlan,
    /// A cut list was begun on the bench.
    HasBegun,
    /// The sheets of one whole card can be cut first: nothing of the run is cut yet, and it makes more than one.
    CanProve,
    /// One has been somewhere else before.
    CanGoBack,
    /// The book holds at least one project.
    HasProjects,
    /// The line picked in the reorder list is on order.
    IsOnOrder,
    /// The line picked in the reorder list is not on order.
    IsNotOnOrder,
    /// A line of the count day is counted.
    HasCounts,
    /// No list from outside waits to be taken in.
    NoPreview,
    /// A yearly list is in view, no other list from outside.
    IsYearly,
}

/// One row of the table.
#[derive(Debug)]
pub struct Command {
    /// Which command.
    pub id: CommandId,
    /// Its name in the key file: lower case with hyphens, never changed once released.
    pub name: &'static str,
    /// Two or three words for the hint line.
    pub title: &'static str,
    /// One sentence for help and finder.
    pub line: &'static str,
    /// Where its keys count.
    pub context: Context,
    /// Default keys, in the spelling of [`super::keys::Key::parse`]; the first is shown in hints.
    pub keys: &'static [&'static str],
    /// When it can run.
    pub when: When,
    /// Rank in the hint line: 0 stays out of it, 1 comes first.
    pub hint: u8,
}

/// Names of the commands; what each does stands in its row of [`COMMANDS`].
#[allow(missing_docs)] // the row carries the words, and saying them twice would let them drift
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[rustfmt::skip]
pub enum CommandId {
    Today, PaneYield, PaneMats, PanePalette, PaneStock, NextPane, PreviousPane, Back, Undo, Redo, AfterCuts, History,
    Project, Units, Theme, Mouse, Copy, Print, KeepBook, RestoreBook, Finder, Help, Craft, Tour, Suspend, Quit,
    TodayOpen, TodayClose, TodayDown, TodayUp, TodayPageDown, TodayPageUp, TodayFirst, TodayLast, Piece, Sheet,
    SheetSize, UnusableEdge, Count, Turn, OffcutFirst, StopCuts, Trimmer, PerStroke, StepDown, StepUp, StepPageDown,
    StepPageUp, StepFirst, StepLast, OpenChart, OpenBench, OpenPlan, CutLog, UseSheets, ChartTake, ChartClose,
    ChartRange, ChartSheet, ChartLeft, ChartRight, ChartUp, ChartDown, ChartPageUp, ChartPageDown, ChartFirst,
    ChartLast, Face, Fold, AddLayer, Reveal, RemoveLayer, MoveLayerDown, MoveLayerUp, NextCard, CardBefore,
    LayerToYield, LayerOpen, LayerDown, LayerUp, LayerPageDown, LayerPageUp, LayerFirst, LayerLast, AddPart,
    LayerKind, LayerSize, LayerFrame, InsertPaper, LayerPaper, LayerColour, LayerCount, LayerTurn, LayerRaise,
    LayerMadeBy, LayerName, NudgeLeft, NudgeRight, NudgeUp, NudgeDown, FoldEdge, FoldMeasures, BaseGrain,
    CardEnvelope, AddressSide, CardBatch, NewCard, RemoveCard, LayerOn, FromPicture, OwnScores, HoldTurned, WriteCard,
    ReadCard, MatsView, PostCountries, MatsMade, MatsSide, OpenRuler, TickLeft, TickRight, TickBack, TickOn,
    TickFirst, TickLast, RulerDivide, RulerMeasure, RulerFind, Practice, RulerEnter, RulerClose, Identify,
    SwatchOrder, Scheme, Vision, PinSwatch, SwatchLeft, SwatchRight, SwatchDown, SwatchUp, SwatchPageDown,
    SwatchPageUp, SwatchFirst, SwatchLast, Photo, Scene, NewSwatch, EditSwatch, MergeSwatch, RemoveSwatch,
    ImportSwatches, SwatchFilter, OnHand, Severity, TrioNext, TrioPrevious, ApplyTrio, FavouriteTrio, OwnTrio,
    TrioNote, DropTrio, TrioBase, TriosOnHand, LeavingFirst, VariedTrios, OwnChoices, Taught, Coordinates, OtherList,
    Wheel, Papers, PaperFront, PaperBack, PaletteBack, PhotoNext, PhotoBefore, PhotoToPaper, PhotoKeepTrio,
    PhotoApplyTrio, PhotoTrioNext, PhotoTrioBefore, PhotoNewSwatch, PhotoWhite, PhotoClose, PhotoDown, PhotoUp,
    PhotoPageDown, PhotoPageUp, PhotoFirst, PhotoLast, StockTab, StockTabBack, StockSort, StockFilter, StockAll,
    ClassCalendar, MarkRow, MarkAll, ItemDown, ItemUp, ItemPageDown, ItemPageUp, ItemFirst, ItemLast, Use, UseTyped,
    Receive, Adjust, LowMark, ItemEdit, ItemToYield, ItemHistory, StartCount, NewItem, ItemState, SoldAlone,
    ItemOrdered, ReceivePack, NewPack, EditPack, ImportList, RefreshList, ExportList, ItemField, ItemFormClose,
    OffcutUse, OffcutAdjust, OffcutEdit, OffcutAdd, OffcutFloor, LogHistory, LogVoid, OrderTick, MarkOrdered,
    MarkArrived, OrderCopy, OrderExport, OrderCount, OrderDue, OrderWays, OrderRemove, ClassOpen, ClassNew, ClassBook,
    ClassTaught, ClassCancel, ClassPaper, ClassDrop, ClassAdd, ClassSeats, ClassCame, ClassSold, ClassKits,
    ClassNames, ClassYear, ClassWays, ClassField, ClassClose, BookingRelease, CountType, CountClear, CountWrite, CountLeave,
    PreviewTake, PreviewLeave, PreviewSeller, PreviewLast, PreviewFirst, PreviewExchange, PlanBench, PlanClose, PlanAgain, PlanBook,
    PlanLeftovers, PlanOrder, PlanPerStroke, PlanStopCuts, PlanLog, PlanPieces, PlanDetail, PlanStepDown, PlanStepUp, PlanDown,
    PlanUp, PlanPageDown, PlanPageUp, PlanFirst, PlanLast, BenchStroke, BenchNext, BenchBack, BenchUndo, BenchRedo,
    BenchProof, BenchSpoiled, BenchPaper, BenchLeave, BenchHelp, NearSizes, WhichPaper, UseUp, Strips, ScrapGives, MostCards,
    FromBin, PlanMost, LayersNear, OffcutGives, FurtherTake, FurtherClose, FurtherChange, FurtherDown, FurtherUp,
    FurtherPageDown, FurtherPageUp, FurtherFirst, FurtherLast,
}

#[allow(clippy::too_many_arguments)] // a table row, not a function
const fn row(
    id: CommandId,
    name: &'static str,
    title: &'static str,
    context: Context,
    when: When,
    hint: u8,
    keys: &'static [&'static str],
    line: &'static str,
) -> Command {
    Command { id, name, title, line, context, keys, when, hint }
}

use CommandId as Id;
use Context as C;
use When as W;

/// Every command, in the order of the help screen: id, name in the key file, title, context, condition, rank in the
/// hint line, keys, sentence.
#[rustfmt::skip]
pub const COMMANDS: &[Command] = &[
    row(Id::Today, "today", "today", C::Everywhere, W::Always, 7, &["0"], "Today, over the panes: what is next, short, half cut, on order"),
    row(Id::PaneYield, "pane-yield", "Yield", C::Everywhere, W::Always, 0, &["1"], "Go to Yield: how many pieces a sheet gives, and the cuts"),
    row(Id::PaneMats, "pane-mats", "Mats", C::Everywhere, W::Always, 0, &["2"], "Go to Mats: the size of every layer of a card"),
    row(Id::PanePalette, "pane-palette", "Palette", C::Everywhere, W::Always, 0, &["3"], "Go to Palette: colors, and what goes with them"),
    row(Id::PaneStock, "pane-stock", "Stock", C::Everywhere, W::Always, 0, &["4"], "Go to Stock: what you have, what is low, what was used"),
    row(Id::NextPane, "next-pane", "next pane", C::Everywhere, W::Always, 0, &["Tab"], "Go to the pane on the right"),
    row(Id::PreviousPane, "previous-pane", "previous pane", C::Everywhere, W::Always, 0, &["Shift-Tab"], "Go to the pane on the left"),
    row(Id::Back, "back", "back", C::Everywhere, W::CanGoBack, 0, &["Backspace", ", b"], "Go back to the pane and view where you were before"),
    row(Id::Undo, "undo", "undo", C::Everywhere, W::CanUndo, 7, &["u"], "Take back the last change in this view; others are named first"),
    row(Id::Redo, "redo", "redo", C::Everywhere, W::CanRedo, 0, &["U", "Ctrl-r"], "Make again what was taken back"),
    row(Id::AfterCuts, "after-cuts", "after the cuts", C::Everywhere, W::HasProject, 0, &[", a"], "Go on after the cuts: die-cut, stamp, score, pack kits, make up"),
    row(Id::History, "history", "steps taken", C::Everywhere, W::CanUndo, 0, &["F4", ", h"], "List what was done, and take back everything down to a step"),
    row(Id::Project, "project", "project", C::Everywhere, W::HasProjects, 0, &["P"], "Choose the project that all panes work for"),
    row(Id::Units, "units", "in / mm", C::Everywhere, W::Always, 0, &["m"], "Switch between inches and millimeters"),
    row(Id::Theme, "theme", "theme", C::Everywhere, W::Always, 0, &["T"], "Choose a theme; each is shown while you choose"),
    row(Id::Mouse, "mouse", "mouse", C::Everywhere, W::Always, 0, &["M"], "Turn the mouse on or off"),
    row(Id::Copy, "copy", "copy", C::Everywhere, W::Always, 0, &["y"], "Copy what this pane shows to the clipboard, as text"),
    row(Id::Print, "print", "print", C::Everywhere, W::Always, 0, &["Ctrl-p", ", p"], "Print pages at true size: rulers, charts, labels, cut plans and more"),
    row(Id::KeepBook, "keep-book", "keep the book", C::Everywhere, W::Always, 0, &[", k"], "Write the whole book to one file, for another disk or another machine"),
    row(Id::RestoreBook, "restore-book", "restore a kept book", C::Everywhere, W::Always, 0, &[", r"], "Bring in a kept book from its file, after a look at what it replaces"),
    row(Id::Finder, "finder", "find", C::Everywhere, W::Always, 8, &[":"], "Find a command, paper, project, swatch or setting by name"),
    row(Id::Help, "help", "help", C::Everywhere, W::Always, 9, &["?", "F1"], "Show every key of this pane and the words of the craft, and search them"),
    row(Id::Craft, "craft", "the craft", C::Everywhere, W::Always, 0, &["F3", ", c"], "Read about the craft: grain, reveals, folds, blades, adhesives, the post"),
    row(Id::Tour, "tour", "tour", C::Everywhere, W::Always, 0, &["F2", ", t"], "A tour in six steps on invented data; Esc leaves it at any time"),
    row(Id::Suspend, "suspend", "suspend", C::Everywhere, W::CanStop, 0, &["Ctrl-z"], "Give the terminal back for a while; fg returns"),
    row(Id::Quit, "quit", "quit", C::Everywhere, W::Always, 10, &["q", "Ctrl-c"], "Leave the workbench; everything is saved"),

    row(Id::TodayOpen, "today-open", "go there", C::Today, W::Always, 1, &["Enter"], "Open what this row is about; going back returns to this page"),
    row(Id::TodayClose, "today-close", "close", C::Today, W::Always, 2, &["Esc", "0"], "Leave the page for the pane as it was left"),
    row(Id::TodayDown, "today-down", "next row", C::Today, W::Always, 0, &["j", "Down"], "Go to the next row"),
    row(Id::TodayUp, "today-up", "previous row", C::Today, W::Always, 0, &["k", "Up"], "Go to the previous row"),
    row(Id::TodayPageDown, "today-page-down", "page down", C::Today, W::Always, 0, &["PgDn", "Ctrl-d"], "Go ten rows down"),
    row(Id::TodayPageUp, "today-page-up", "page up", C::Today, W::Always, 0, &["PgUp", "Ctrl-u"], "Go ten rows up"),
    row(Id::TodayFirst, "today-first", "first row", C::Today, W::Always, 0, &["g", "Home"], "Go to the first row"),
    row(Id::TodayLast, "today-last", "last row", C::Today, W::Always, 0, &["G", "End"], "Go to the last row"),

    row(Id::Piece, "piece", "piece", C::Yield, W::Always, 1, &["p", "Enter"], "Type the size of the piece"),
    row(Id::Sheet, "sheet", "sheet", C::Yield, W::Always, 2, &["s"], "Choose the sheet: a format, or paper from stock"),
    row(Id::SheetSize, "sheet-size", "measured size", C::Yield, W::Always, 0, &["e"], "Type the sheet's own measured size"),
    row(Id::UnusableEdge, "unusable-edge", "edge", C::Yield, W::Always, 0, &["z e"], "Leave a printed or torn edge out: left, top, right, bottom"),
    row(Id::Count, "count", "count", C::Yield, W::Always, 3, &["c"], "Type how many pieces are needed"),
    row(Id::Turn, "turn", "turn", C::Yield, W::Always, 6, &["t"], "Allow or forbid turning the piece (patterns that must stay upright)"),
    row(Id::OffcutFirst, "offcut-first", "offcut first", C::Yield, W::Always, 0, &["z o"], "Prefer the largest single offcut over fewer settings"),
    row(Id::StopCuts, "stop-cuts", "stop cuts", C::Yield, W::Always, 0, &["z s"], "Count with cuts that stop inside the sheet, for trimmers that can"),
    row(Id::Trimmer, "trimmer", "trimmer", C::Yield, W::Always, 0, &["z t"], "Say how your trimmer is set, what it cuts, how a test strip came out"),
    row(Id::PerStroke, "per-stroke", "sheets a stroke", C::Yield, W::Always, 0, &["S"], "Say how many sheets one stroke takes"),
    row(Id::StepDown, "step-down", "next step", C::Yield, W::HasPieces, 0, &["j", "Down"], "Go to the next cut"),
    row(Id::StepUp, "step-up", "step back", C::Yield, W::HasPieces, 0, &["k", "Up"], "Go to the previous cut"),
    row(Id::StepPageDown, "step-page-down", "steps on", C::Yield, W::HasPieces, 0, &["PgDn", "Ctrl-d"], "Go ten cuts on"),
    row(Id::StepPageUp, "step-page-up", "steps back", C::Yield, W::HasPieces, 0, &["PgUp", "Ctrl-u"], "Go ten cuts back"),
    row(Id::StepFirst, "step-first", "first step", C::Yield, W::HasPieces, 0, &["g", "Home"], "Go to the first cut"),
    row(Id::StepLast, "step-last", "last step", C::Yield, W::HasPieces, 0, &["G", "End"], "Go to the last cut"),
    row(Id::OpenChart, "open-chart", "chart", C::Yield, W::Always, 6, &["v"], "Show the yield of every size on this sheet"),
    row(Id::OpenBench, "open-bench", "bench", C::Yield, W::HasPieces, 4, &["b"], "Go through the cuts one at a time, in large figures"),
    row(Id::OpenPlan, "open-plan", "plan", C::Yield, W::HasProject, 5, &["V"], "Plan the whole active project from the papers at hand"),
    row(Id::CutLog, "cut-log", "log what is cut", C::Yield, W::HasBegun, 0, &["W"], "Log the sheets of the cut list on the bench that were cut so far"),
    row(Id::UseSheets, "use-sheets", "log sheets", C::Yield, W::SheetInStock, 7, &["-"], "Log these sheets as used: the count in stock goes down"),

    row(Id::ChartTake, "chart-take", "take size", C::Chart, W::Always, 1, &["Enter", "p"], "Take the size under the cursor over as the piece"),
    row(Id::ChartClose, "chart-close", "answer", C::Chart, W::Always, 2, &["v", "Esc"], "Go back to the answer"),
    row(Id::ChartRange, "chart-range", "range", C::Chart, W::Always, 3, &["e"], "Type the chart's range: from, to, step"),
    row(Id::ChartSheet, "chart-sheet", "sheet", C::Chart, W::Always, 4, &["s"], "Choose the sheet: a format, or paper from stock"),
    row(Id::ChartLeft, "chart-left", "narrower", C::Chart, W::Always, 0, &["h", "Left"], "Go to the smaller height"),
    row(Id::ChartRight, "chart-right", "higher", C::Chart, W::Always, 0, &["l", "Right"], "Go to the larger height"),
    row(Id::ChartUp, "chart-up", "smaller", C::Chart, W::Always, 0, &["k", "Up"], "Go to the smaller width"),
    row(Id::ChartDown, "chart-down", "larger", C::Chart, W::Always, 0, &["j", "Down"], "Go to the larger width"),
    row(Id::ChartPageUp, "chart-page-up", "page up", C::Chart, W::Always, 0, &["PgUp", "Ctrl-u"], "Go ten rows up"),
    row(Id::ChartPageDown, "chart-page-down", "page down", C::Chart, W::Always, 0, &["PgDn", "Ctrl-d"], "Go ten rows down"),
    row(Id::ChartFirst, "chart-first", "first", C::Chart, W::Always, 0, &["g", "Home"], "Go to the smallest size"),
    row(Id::ChartLast, "chart-last", "last", C::Chart, W::Always, 0, &["G", "End"], "Go to the largest size"),

    row(Id::Face, "face", "card size", C::Mats, W::Always, 6, &["f"], "Type the size of the card front, or a format name"),
    row(Id::Fold, "fold", "fold", C::Mats, W::Always, 5, &["F"], "Go through the folds: side, top, gate, letter, roll, z, accordion, french, back"),
    row(Id::AddLayer, "add-layer", "add layer", C::Mats, W::Always, 2, &["a", "n"], "Add a layer on top: type its reveal"),
    row(Id::Reveal, "reveal", "reveal", C::Mats, W::HasLayer, 3, &["r"], "Type the reveal of the layer under the cursor"),
    row(Id::RemoveLayer, "remove-layer", "remove", C::Mats, W::Always, 6, &["d", "x", "Delete"], "Remove what is under the cursor"),
    row(Id::MoveLayerDown, "layer-down", "further in", C::Mats, W::Always, 0, &[">"], "Move the layer further in"),
    row(Id::MoveLayerUp, "layer-up", "further out", C::Mats, W::Always, 0, &["<"], "Move the layer further out"),
    row(Id::NextCard, "next-card", "next card", C::Mats, W::Always, 0, &["]"], "Go to the project's next card"),
    row(Id::CardBefore, "card-before", "previous card", C::Mats, W::Always, 0, &["["], "Go to the project's previous card"),
    row(Id::LayerToYield, "layer-to-yield", "to Yield", C::Mats, W::Always, 4, &["p"], "Send the size under the cursor to Yield; Backspace comes back"),
    row(Id::LayerOpen, "layer-open", "change", C::Mats, W::Always, 1, &["Enter"], "Type what makes this row: front, reveal or measures"),
    row(Id::LayerDown, "layer-next", "next layer", C::Mats, W::Always, 0, &["j", "Down"], "Go to the next layer"),
    row(Id::LayerUp, "layer-previous", "previous layer", C::Mats, W::Always, 0, &["k", "Up"], "Go to the previous layer"),
    row(Id::LayerPageDown, "layer-page-down", "page down", C::Mats, W::Always, 0, &["PgDn", "Ctrl-d"], "Go ten rows down"),
    row(Id::LayerPageUp, "layer-page-up", "page up", C::Mats, W::Always, 0, &["PgUp", "Ctrl-u"], "Go ten rows up"),
    row(Id::LayerFirst, "layer-first", "first layer", C::Mats, W::Always, 0, &["g", "Home"], "Go to the base"),
    row(Id::LayerLast, "layer-last", "last layer", C::Mats, W::Always, 0, &["G", "End"], "Go to the last row"),
    row(Id::AddPart, "add-part", "add more", C::Mats, W::Always, 5, &["A"], "Add a frame, panel, strip, band, liner, envelope, box or bag"),
    row(Id::LayerKind, "layer-kind", "kind", C::Mats, W::HasLayer, 0, &["z k"], "Make the layer a mat, a frame, a panel or a strip"),
    row(Id::LayerSize, "layer-size", "measures", C::Mats, W::Always, 0, &["e"], "Type the measures of what is under the cursor: size, place, width, depth"),
    row(Id::LayerFrame, "layer-frame", "frame", C::Mats, W::HasLayer, 0, &["z o"], "Cut an opening into the mat: type the frame's width, then the overlap"),
    row(Id::InsertPaper, "insert-paper", "insert", C::Mats, W::HasLayer, 0, &["z i"], "Choose the paper behind the opening"),
    row(Id::LayerPaper, "layer-paper", "paper", C::Mats, W::Always, 4, &["s"], "Choose the paper of what is under the cursor"),
    row(Id::LayerColour, "layer-colour", "color", C::Mats, W::HasLayer, 0, &["z h"], "Choose a swatch for the layer, where you do not want its paper's color"),
    row(Id::LayerCount, "layer-count", "how many", C::Mats, W::Always, 0, &["c"], "Type how many of it a card takes"),
    row(Id::LayerTurn, "layer-turn", "turn", C::Mats, W::HasLayer, 0, &["t"], "Allow or forbid turning the layer on its sheet"),
    row(Id::LayerRaise, "layer-raise", "foam", C::Mats, W::HasLayer, 0, &["z r"], "Choose the foam or tape under the layer"),
    row(Id::LayerMadeBy, "layer-made-by", "made by", C::Mats, W::Always, 0, &["z w"], "Say how it is made: straight cut, die-cut, torn, embossed, printed to the edge"),
    row(Id::LayerName, "layer-name", "name", C::Mats, W::Always, 0, &["z n"], "Give the layer a name; on the base, the card"),
    row(Id::NudgeLeft, "nudge-left", "left", C::Mats, W::HasLayer, 0, &["H", "Shift-Left"], "Move the layer one mark to the left"),
    row(Id::NudgeRight, "nudge-right", "right", C::Mats, W::HasLayer, 0, &["L", "Shift-Right"], "Move the layer one mark to the right"),
    row(Id::NudgeUp, "nudge-up", "up", C::Mats, W::HasLayer, 0, &["K", "Shift-Up"], "Move the layer one mark up"),
    row(Id::NudgeDown, "nudge-down", "down", C::Mats, W::HasLayer, 0, &["J", "Shift-Down"], "Move the layer one mark down"),
    row(Id::FoldEdge, "fold-edge", "fold edge", C::Mats, W::Always, 0, &["z F"], "Move the fold between the left and the top edge"),
    row(Id::FoldMeasures, "fold-measures", "fold measures", C::Mats, W::Always, 0, &["z f"], "Type the fold's panels, its allowance and the paper's thickness"),
    row(Id::BaseGrain, "base-grain", "grain", C::Mats, W::Always, 0, &["z g"], "Say along which side of the base the grain runs: unknown, width, height"),
    row(Id::CardEnvelope, "card-envelope", "envelope", C::Mats, W::Always, 0, &["z e"], "Choose the envelope, from the shelf or by name"),
    row(Id::AddressSide, "address-side", "address", C::Mats, W::Always, 0, &["z a"], "Say whether the address runs along the long or the short side"),
    row(Id::CardBatch, "card-batch", "batch", C::Mats, W::Always, 0, &["z b"], "Type how many cards a set has, and how many are spare"),
    row(Id::NewCard, "new-card", "new card", C::Mats, W::Always, 0, &["z c"], "Make a card of front, base, mats, strip and sentiment, each with its paper"),
    row(Id::RemoveCard, "remove-card", "remove card", C::Mats, W::Always, 0, &["z x"], "Take this card out of its project; undo brings it back"),
    row(Id::LayerOn, "layer-on", "lies on", C::Mats, W::HasLayer, 0, &["z l"], "Choose what the layer lies on"),
    row(Id::FromPicture, "from-picture", "from picture", C::Mats, W::Always, 0, &["i"], "Type the picture's size: the front follows outward from the reveals"),
    row(Id::OwnScores, "own-scores", "scores", C::Mats, W::Always, 0, &["z s"], "Type score lines of your own: side and distance"),
    row(Id::HoldTurned, "hold-turned", "held", C::Mats, W::Always, 0, &["z t"], "Hold the card the other way: portrait or landscape"),
    row(Id::WriteCard, "write-card", "to a file", C::Mats, W::Always, 0, &["E"], "Write this card or the whole project to a file"),
    row(Id::ReadCard, "read-card", "from a file", C::Mats, W::Always, 0, &["I"], "Read a card or a project from a file"),
    row(Id::MatsView, "mats-view", "view", C::Mats, W::Always, 7, &["v"], "Go through layers, drawing, what is made beside the card, envelope and mailing"),
    row(Id::PostCountries, "post-countries", "all countries", C::Mats, W::Always, 0, &["z p"], "Show the mailing rules of every country, or of yours alone"),
    row(Id::MatsMade, "mats-made", "made beside", C::Mats, W::Always, 0, &["z m"], "Show what is made beside the card: sizes, scores, a drawing"),
    row(Id::MatsSide, "mats-side", "measure", C::Mats, W::Always, 0, &["."], "Lay the next measure on the ruler: width, height, scores"),
    row(Id::OpenRuler, "open-ruler", "ruler", C::Mats, W::Always, 7, &["R"], "Move along the ruler, read a tick, or practice"),

    row(Id::TickLeft, "tick-left", "tick back", C::Ruler, W::Always, 1, &["h", "Left"], "Go one tick to the left and read it"),
    row(Id::TickRight, "tick-right", "tick on", C::Ruler, W::Always, 2, &["l", "Right"], "Go one tick to the right and read it"),
    row(Id::TickBack, "tick-back", "inch back", C::Ruler, W::Always, 0, &["k", "Up", "PgUp"], "Go one inch or one centimeter back"),
    row(Id::TickOn, "tick-on", "inch on", C::Ruler, W::Always, 0, &["j", "Down", "PgDn"], "Go one inch or one centimeter on"),
    row(Id::TickFirst, "tick-first", "start", C::Ruler, W::Always, 0, &["g", "Home"], "Go to the start of the ruler"),
    row(Id::TickLast, "tick-last", "end", C::Ruler, W::Always, 0, &["G", "End"], "Go to the end of the ruler"),
    row(Id::RulerDivide, "ruler-divide", "divisions", C::Ruler, W::Always, 3, &["z d"], "Change the divisions: 16ths, 32nds for folding, 8ths, half millimeters"),
    row(Id::RulerMeasure, "ruler-measure", "measure", C::Ruler, W::Always, 4, &["."], "Lay the next measure on the ruler: width, height, scores"),
    row(Id::RulerFind, "ruler-find", "go to size", C::Ruler, W::Always, 5, &["/"], "Type a size and see where it lies"),
    row(Id::Practice, "practice", "practice", C::Ruler, W::Always, 6, &["z p"], "Start or end practice: find the tick, or read it"),
    row(Id::RulerEnter, "ruler-enter", "answer", C::Ruler, W::Always, 7, &["Enter"], "Answer the practice question, or say what the tick reads"),
    row(Id::RulerClose, "ruler-close", "back", C::Ruler, W::Always, 7, &["Esc", "R"], "Leave the ruler"),

    row(Id::Identify, "identify", "which swatch", C::Palette, W::Always, 3, &["w"], "Type a color and see the nearest swatches"),
    row(Id::SwatchOrder, "swatch-order", "sort", C::Palette, W::Always, 5, &["o"], "Change the order of the swatches"),
    row(Id::Scheme, "scheme", "scheme", C::Palette, W::HasSwatch, 7, &["z s"], "Go through the schemes of the trios"),
    row(Id::Vision, "vision", "other eyes", C::Palette, W::Always, 7, &["v"], "See the pane as other eyes do"),
    row(Id::PinSwatch, "pin-swatch", "pin", C::Palette, W::HasSwatch, 5, &["Space"], "Pin the swatch, to hold others against it"),
    row(Id::SwatchLeft, "swatch-left", "left", C::Palette, W::HasSwatch, 0, &["h", "Left"], "Go to the previous swatch"),
    row(Id::SwatchRight, "swatch-right", "right", C::Palette, W::HasSwatch, 0, &["l", "Right"], "Go to the next swatch"),
    row(Id::SwatchDown, "swatch-down", "down", C::Palette, W::HasSwatch, 0, &["j", "Down"], "Go a row of swatches down"),
    row(Id::SwatchUp, "swatch-up", "up", C::Palette, W::HasSwatch, 0, &["k", "Up"], "Go a row of swatches up"),
    row(Id::SwatchPageDown, "swatch-page-down", "page down", C::Palette, W::HasSwatch, 0, &["PgDn", "Ctrl-d"], "Go ten swatches on"),
    row(Id::SwatchPageUp, "swatch-page-up", "page up", C::Palette, W::HasSwatch, 0, &["PgUp", "Ctrl-u"], "Go ten swatches back"),
    row(Id::SwatchFirst, "swatch-first", "first", C::Palette, W::HasSwatch, 0, &["g", "Home"], "Go to the first swatch"),
    row(Id::SwatchLast, "swatch-last", "last", C::Palette, W::HasSwatch, 0, &["G", "End"], "Go to the last swatch"),
    row(Id::Photo, "photo", "photo", C::Palette, W::Always, 4, &["i"], "Read the colors of a paper from a photo or scan of it"),
    row(Id::Scene, "picture-of-anything", "picture", C::Palette, W::Always, 0, &["z i"], "Five colors of any picture (garden, fabric), papers for them, their trios"),
    row(Id::NewSwatch, "new-swatch", "new", C::Palette, W::Always, 6, &["n"], "Add a swatch: its name and its color"),
    row(Id::EditSwatch, "edit-swatch", "change", C::Palette, W::HasSwatch, 7, &["e", "Enter"], "Change the swatch, or what exists in it: number, state, place, note"),
    row(Id::MergeSwatch, "merge-swatch", "merge", C::Palette, W::HasSwatch, 0, &["z m"], "Merge another swatch into this one: names and numbers stay as aliases"),
    row(Id::RemoveSwatch, "remove-swatch", "remove", C::Palette, W::HasSwatch, 0, &["d", "x", "Delete"], "Remove the swatch from the library, where nothing has its color"),
    row(Id::ImportSwatches, "import-swatches", "import", C::Palette, W::Always, 0, &["I"], "Bring in colors from a CSV file, after a look at what would change"),
    row(Id::SwatchFilter, "swatch-filter", "filter", C::Palette, W::Always, 5, &["/"], "Show only swatches that match: name, family, state, place, number"),
    row(Id::OnHand, "swatches-on-hand", "on hand", C::Palette, W::Always, 0, &["O"], "Show only what is on the shelf, or everything"),
    row(Id::Severity, "severity", "how severe", C::Palette, W::Always, 0, &["z v"], "Type how severe the other eyes are, 0 to 100 percent"),
    row(Id::TrioNext, "trio-next", "next trio", C::Palette, W::HasSwatch, 0, &["]"], "Go to the next trio"),
    row(Id::TrioPrevious, "trio-previous", "previous trio", C::Palette, W::HasSwatch, 0, &["["], "Go to the previous trio"),
    row(Id::ApplyTrio, "apply-trio", "onto card", C::Palette, W::HasSwatch, 2, &["a"], "Choose which color of the picked trio goes where on the card"),
    row(Id::FavouriteTrio, "favourite-trio", "favorite", C::Palette, W::HasSwatch, 0, &["*"], "Mark the picked trio as a favorite, or take the mark off"),
    row(Id::OwnTrio, "own-trio", "own trio", C::Palette, W::HasSwatch, 0, &["z n"], "Keep a trio of your own: the picked swatch and two more"),
    row(Id::TrioNote, "trio-note", "note on trio", C::Palette, W::HasSwatch, 0, &["z w"], "Write a note on the picked trio"),
    row(Id::DropTrio, "drop-trio", "dismiss trio", C::Palette, W::HasSwatch, 0, &["z x"], "Take the picked trio off the kept ones, or dismiss it from the list"),
    row(Id::TrioBase, "trio-base", "go with", C::Palette, W::Always, 0, &["z g"], "Choose what the trios go with: the swatch, a patterned paper, the card in hand"),
    row(Id::TriosOnHand, "trios-on-hand", "from on hand", C::Palette, W::Always, 0, &["z o"], "Make trios from what is on hand, then with one to buy; or from all"),
    row(Id::LeavingFirst, "leaving-first", "leaving first", C::Palette, W::Always, 0, &["z l"], "Put first the trios that use up leaving papers"),
    row(Id::VariedTrios, "varied-trios", "varied", C::Palette, W::Always, 0, &["z d"], "Show trios that differ, not nine of a kind"),
    row(Id::OwnChoices, "own-choices", "your choices", C::Palette, W::Always, 0, &["z c"], "Let kept and dismissed trios and your cards move pairs a little, or not at all"),
    row(Id::Taught, "taught", "what you taught", C::Palette, W::Always, 0, &["z t"], "See what your choices taught, bring back a dismissed trio, or forget all of it"),
    row(Id::Coordinates, "coordinates", "figures", C::Palette, W::HasSwatch, 0, &["z f"], "Show the figures behind the words: Lab, distances, how often a pair is chosen"),
    row(Id::OtherList, "other-list", "trios/swatches", C::Palette, W::HasSwatch, 1, &[";"], "Move through the trios, or through the swatches again"),
    row(Id::Wheel, "wheel", "wheel", C::Palette, W::Always, 0, &["z h"], "Read schemes on the painter's wheel or on OKLCH"),
    row(Id::Papers, "patterned-papers", "papers", C::Palette, W::Always, 6, &["s"], "Papers that have this color: open a patterned paper's card, or the line in Stock"),
    row(Id::PaperFront, "paper-front", "on front", C::Palette, W::HasPattern, 0, &["z 1"], "Put the picked color on the front of the paper in view, or take it off"),
    row(Id::PaperBack, "paper-back", "on back", C::Palette, W::HasPattern, 0, &["z 2"], "Put the picked color on the back of the paper in view, or take it off"),
    row(Id::PaletteBack, "palette-back", "back", C::Palette, W::Always, 0, &["Esc"], "Close the paper's card, then the color asked for, then lift the filter"),

    row(Id::PhotoNext, "photo-next-match", "next match", C::Photo, W::HasPhoto, 2, &["Space"], "Take the next of the three nearest, then none of them"),
    row(Id::PhotoBefore, "photo-match-before", "previous match", C::Photo, W::HasPhoto, 0, &["z b"], "Take the previous match"),
    row(Id::PhotoToPaper, "photo-to-paper", "note on paper", C::Photo, W::HasPhoto, 1, &["Enter"], "Note these colors on a patterned paper, front or back"),
    row(Id::PhotoKeepTrio, "photo-keep-trio", "keep trio", C::Photo, W::IsPicture, 3, &["*"], "Keep the picked trio of a picture of anything, as a favorite"),
    row(Id::PhotoApplyTrio, "photo-apply-trio", "onto card", C::Photo, W::IsPicture, 3, &["a"], "Choose which color of the picked trio goes where on the card"),
    row(Id::PhotoTrioNext, "photo-trio-next", "next trio", C::Photo, W::IsPicture, 4, &["]"], "Go to the next trio of a picture of anything"),
    row(Id::PhotoTrioBefore, "photo-trio-before", "previous trio", C::Photo, W::IsPicture, 0, &["["], "Go to the previous trio"),
    row(Id::PhotoNewSwatch, "photo-new-swatch", "new swatch", C::Photo, W::HasPhoto, 3, &["n"], "Add the picked color to the library"),
    row(Id::PhotoWhite, "photo-white", "white", C::Photo, W::IsPaperPhoto, 4, &["z w"], "Say where white is in the picture"),
    row(Id::PhotoClose, "photo-close", "back", C::Photo, W::Always, 5, &["Esc", "i"], "Close the picture"),
    row(Id::PhotoDown, "photo-next", "next color", C::Photo, W::HasPhoto, 0, &["j", "Down"], "Go to the next color of the picture"),
    row(Id::PhotoUp, "photo-previous", "previous color", C::Photo, W::HasPhoto, 0, &["k", "Up"], "Go to the previous color"),
    row(Id::PhotoPageDown, "photo-page-down", "page down", C::Photo, W::HasPhoto, 0, &["PgDn", "Ctrl-d"], "Go ten colors on"),
    row(Id::PhotoPageUp, "photo-page-up", "page up", C::Photo, W::HasPhoto, 0, &["PgUp", "Ctrl-u"], "Go ten colors back"),
    row(Id::PhotoFirst, "photo-first", "first", C::Photo, W::HasPhoto, 0, &["g", "Home"], "Go to the color with the largest share"),
    row(Id::PhotoLast, "photo-last", "last", C::Photo, W::HasPhoto, 0, &["G", "End"], "Go to the color with the smallest share"),

    row(Id::StockTab, "stock-tab", "next list", C::Stock, W::NoPreview, 6, &["]", "Right", "l", "v"], "Go to the next list: shelf, offcuts, log, reorder, classes, bookings"),
    row(Id::StockTabBack, "stock-tab-back", "previous list", C::Stock, W::NoPreview, 0, &["[", "Left", "h"], "Go to the previous list"),
    row(Id::StockSort, "sort-list", "sort", C::Stock, W::NoPreview, 7, &["o"], "Sort this list another way; again goes on to the next"),
    row(Id::StockFilter, "filter", "filter", C::Stock, W::NoPreview, 6, &["/"], "Show only lines that match: words, >=8x10, low"),
    row(Id::StockAll, "show-all", "show all", C::Stock, W::Always, 0, &["Esc"], "Take the marks off; with none, show the whole list again"),
    row(Id::ClassCalendar, "class-calendar", "next 60 days", C::Stock, W::NoPreview, 0, &["z t"], "List the next 60 days: classes, kits, cuts, orders, with what is booked"),
    row(Id::MarkRow, "mark-row", "mark", C::Stock, W::CanMark, 6, &["Space"], "Mark the row or take its mark off; what you do next is done to all marked rows"),
    row(Id::MarkAll, "mark-all", "mark all", C::Stock, W::CanMark, 0, &["z m"], "Mark every row that is shown, or take all marks off"),
    row(Id::ItemDown, "item-next", "next", C::Stock, W::Always, 0, &["j", "Down"], "Go to the next row"),
    row(Id::ItemUp, "item-previous", "previous", C::Stock, W::Always, 0, &["k", "Up"], "Go to the previous row"),
    row(Id::ItemPageDown, "item-page-down", "page down", C::Stock, W::Always, 0, &["PgDn", "Ctrl-d"], "Go ten rows down"),
    row(Id::ItemPageUp, "item-page-up", "page up", C::Stock, W::Always, 0, &["PgUp", "Ctrl-u"], "Go ten rows up"),
    row(Id::ItemFirst, "item-first", "first", C::Stock, W::Always, 0, &["g", "Home"], "Go to the first row"),
    row(Id::ItemLast, "item-last", "last", C::Stock, W::Always, 0, &["G", "End"], "Go to the last row"),

    row(Id::Use, "use", "use", C::Shelf, W::HasItem, 1, &["-"], "Log how many were used"),
    row(Id::UseTyped, "use-typed", "use by name", C::Shelf, W::HasShelf, 0, &["z u"], "Log a use in words: 4 sheets of fern"),
    row(Id::Receive, "receive", "receive", C::Shelf, W::HasItem, 2, &["+", "="], "Log how many came in, with the price of the lot, the day and its mark"),
    row(Id::Adjust, "adjust", "adjust", C::Shelf, W::HasItem, 3, &["c"], "The count was wrong: type what you counted"),
    row(Id::LowMark, "low-mark", "low mark", C::Shelf, W::HasItem, 4, &["z l"], "Type the count at which to reorder"),
    row(Id::ItemEdit, "edit-item", "open", C::Shelf, W::HasItem, 5, &["Enter", "e"], "Open this line and change any field: size, weight, price, seller, place"),
    row(Id::ItemToYield, "item-to-yield", "to Yield", C::Shelf, W::HasItem, 0, &["s"], "Take this paper as the sheet in Yield"),
    row(Id::ItemHistory, "item-history", "history", C::Shelf, W::HasItem, 5, &[";"], "Show every line of the log for this item, and how much goes in a month"),
    row(Id::StartCount, "count-day", "count day", C::Shelf, W::HasShelf, 7, &["C"], "Walk the shelf shown here and type the counts"),
    row(Id::NewItem, "new-item", "new line", C::Shelf, W::Always, 7, &["n"], "Put a new line on the shelf: kind, size, name, on hand, color, price"),
    row(Id::ItemState, "item-state", "leaving", C::Shelf, W::HasItem, 0, &["z s"], "Type where it stands in the range: current, leaving, gone, arriving"),
    row(Id::SoldAlone, "sold-alone", "only in packs", C::Shelf, W::HasItem, 0, &["z a"], "Say whether it can be ordered alone or only in a pack of several"),
    row(Id::ItemOrdered, "order-lines", "ordered", C::Shelf, W::HasItem, 0, &["W"], "Note as ordered: so many of this line, or of each line that is marked"),
    row(Id::ReceivePack, "receive-pack", "receive pack", C::Shelf, W::Always, 0, &["z p"], "A pack of several designs came in: one receipt adds to all of them"),
    row(Id::NewPack, "new-pack", "new pack", C::Shelf, W::HasShelf, 0, &["z n"], "Make a pack of the lines shown here: so many of each under one order number"),
    row(Id::EditPack, "edit-pack", "edit pack", C::Shelf, W::Always, 0, &["z e"], "Change a pack: number, price, season, what it brings; or take it off the list"),
    row(Id::ImportList, "import-list", "import", C::Shelf, W::Always, 7, &["I"], "Read a list from a CSV file and show what it would change"),
    row(Id::RefreshList, "refresh-list", "yearly list", C::Shelf, W::Always, 0, &["Y"], "Read the new year's list: see what leaves and what arrives"),
    row(Id::ExportList, "export-list", "export", C::Shelf, W::HasShelf, 0, &["E"], "Write the shelf to a CSV file"),

    row(Id::ItemField, "item-field", "change", C::ItemForm, W::Always, 1, &["Enter", "e"], "Type this field again; yes and no are turned at once"),
    row(Id::ItemFormClose, "item-form-close", "back", C::ItemForm, W::Always, 2, &["Esc"], "Go back to the shelf"),

    row(Id::OffcutUse, "offcut-use", "use", C::Bin, W::HasRow, 1, &["-"], "Log how many of these offcuts were used"),
    row(Id::OffcutAdjust, "offcut-adjust", "adjust", C::Bin, W::HasRow, 2, &["c"], "The count was wrong: type how many you counted"),
    row(Id::OffcutEdit, "offcut-edit", "edit", C::Bin, W::HasRow, 4, &["e", "Enter"], "Type which way its grain runs and where it lies"),
    row(Id::OffcutAdd, "offcut-add", "keep an offcut", C::Bin, W::HasShelf, 3, &["n"], "Put an offcut into the bin: its paper, size, count, grain and place"),
    row(Id::OffcutFloor, "offcut-floor", "smallest kept", C::Bin, W::Always, 4, &["z f"], "Type the size below which leftovers are not kept"),

    row(Id::LogHistory, "log-history", "this item only", C::StockLog, W::HasRow, 1, &["Enter", ";"], "Show only this item's lines; again shows the whole log"),
    row(Id::LogVoid, "log-void", "void", C::StockLog, W::HasRow, 2, &["x", "d", "Delete"], "Void this line: a second line takes it back"),

    row(Id::OrderTick, "order-tick", "tick", C::Reorder, W::HasRow, 1, &["Enter"], "Tick this line: ordered, or arrived where it is on order"),
    row(Id::MarkOrdered, "mark-ordered", "ordered", C::Reorder, W::IsNotOnOrder, 2, &["W"], "Tick as ordered: it counts as on order from now on"),
    row(Id::MarkArrived, "mark-arrived", "arrived", C::Reorder, W::IsOnOrder, 3, &["+", "="], "Tick as arrived: type count, total price, day and lot"),
    row(Id::OrderCopy, "order-copy", "copy", C::Reorder, W::Always, 4, &["y"], "Copy the list for ordering, seller by seller, with order numbers"),
    row(Id::OrderExport, "order-export", "export", C::Reorder, W::Always, 5, &["E"], "Write the list to a file: .csv for a table, anything else for text"),
    row(Id::OrderCount, "order-count", "how many", C::Reorder, W::HasRow, 6, &["c"], "Type how many packs to order, or how many are still to come"),
    row(Id::OrderDue, "order-due", "due", C::Reorder, W::IsOnOrder, 0, &["z d"], "Type the day on which what is on order is due"),
    row(Id::OrderWays, "order-ways", "what can be done", C::Reorder, W::IsNotOnOrder, 0, &["z w"], "A class is short of this: choose what is done about it"),
    row(Id::OrderRemove, "order-remove", "not coming", C::Reorder, W::IsOnOrder, 0, &["x", "d", "Delete"], "Take what is on order off the list: it will not come"),

    row(Id::ClassOpen, "class-open", "open", C::Classes, W::HasRow, 1, &["Enter", "e"], "Open this class: day, seats, spoilage, kit, cost"),
    row(Id::ClassNew, "class-new", "new", C::Classes, W::Always, 2, &["n"], "Make a class or batch: name, seats, day, the designs that are taught"),
    row(Id::ClassBook, "class-book", "book", C::Classes, W::HasRow, 3, &["B"], "Set its papers aside, or bring what is set aside up to date"),
    row(Id::ClassTaught, "class-taught", "taught", C::Classes, W::HasRow, 4, &["W"], "Log it as taught: what is set aside becomes used"),
    row(Id::ClassCancel, "class-cancel", "cancel", C::Classes, W::HasRow, 5, &["x", "d", "Delete"], "Cancel it: what is set aside is free again"),
    row(Id::ClassPaper, "class-paper", "another paper", C::Classes, W::HasRow, 6, &["z p"], "Take another paper for this class only; what is booked follows"),
    row(Id::ClassDrop, "class-drop", "drop a design", C::Classes, W::HasRow, 0, &["z d"], "Drop a design from this class; what is booked for it is given back"),
    row(Id::ClassAdd, "class-add", "add a design", C::Classes, W::HasRow, 0, &["z a"], "Teach another card or project in this class too"),
    row(Id::ClassSeats, "class-seats", "a seat more", C::Classes, W::HasRow, 6, &["z s"], "Seats more or fewer, also on the morning: only the difference is booked"),
    row(Id::ClassCame, "class-came", "who came", C::Classes, W::HasRow, 0, &["z c"], "Say how many came and paid; kits left over are counted from that"),
    row(Id::ClassSold, "class-sold", "sold", C::Classes, W::HasRow, 0, &["z l"], "Note what was sold after the class: shelf lines, kits, other things"),
    row(Id::ClassKits, "class-kits", "use kits", C::Classes, W::HasRow, 0, &["z k"], "Use kits that were left over for something else"),
    row(Id::ClassNames, "class-names", "names", C::Classes, W::HasRow, 0, &["z n"], "Keep the names of those who come, in the book alone"),
    row(Id::ClassYear, "class-year", "takings to a file", C::Classes, W::Always, 0, &["E"], "Write what the classes of a year took, cost and left to a CSV file"),

    row(Id::ClassWays, "class-ways", "what can be done", C::Classes, W::HasRow, 6, &["z w"], "Something is short: choose what is done about it, with what it costs"),
    row(Id::ClassField, "class-field", "change", C::ClassForm, W::Always, 1, &["Enter", "e"], "Type this figure again"),
    row(Id::ClassClose, "class-close", "back", C::ClassForm, W::Always, 2, &["Esc"], "Go back to the list of classes"),

    row(Id::BookingRelease, "booking-release", "release", C::Bookings, W::HasRow, 1, &["x", "d", "Delete"], "Release this booking"),

    row(Id::CountType, "count-type", "type a count", C::CountDay, W::HasRow, 1, &["Enter", "c", "e"], "Type the count of this line; Enter goes to the next"),
    row(Id::CountClear, "count-clear", "not counted", C::CountDay, W::HasRow, 2, &["x", "d", "Delete"], "Take this count back: the line was not counted"),
    row(Id::CountWrite, "count-write", "log differences", C::CountDay, W::HasCounts, 3, &["W"], "Log every difference as one step"),
    row(Id::CountLeave, "count-leave", "leave", C::CountDay, W::Always, 4, &["Esc"], "Go back to the shelf; counts that are not logged yet wait there for you"),

    row(Id::PreviewTake, "preview-take", "take it in", C::Preview, W::Always, 1, &["Enter", "W"], "Make all of these changes as one step"),
    row(Id::PreviewLeave, "preview-leave", "leave", C::Preview, W::Always, 2, &["Esc"], "Go back: nothing is changed"),
    row(Id::PreviewSeller, "preview-seller", "seller", C::Preview, W::IsYearly, 3, &["z s"], "Yearly list: type whose list it is"),
    row(Id::PreviewLast, "preview-last", "last day", C::Preview, W::IsYearly, 4, &["z l"], "Yearly list: type the last day of what leaves"),
    row(Id::PreviewFirst, "preview-first", "first day", C::Preview, W::IsYearly, 5, &["z f"], "Yearly list: type the first day of what arrives"),
    row(Id::PreviewExchange, "preview-exchange", "exchange in cards", C::Preview, W::IsYearly, 6, &["z e"], "Yearly list: let cards take what takes the place of what leaves, or not"),

    row(Id::PlanBench, "plan-bench", "bench", C::Plan, W::HasPlan, 1, &["b", "Enter"], "Go through the plan's cuts one at a time"),
    row(Id::PlanClose, "plan-close", "stop / back", C::Plan, W::Always, 2, &["Esc", "V"], "Stop planning and keep the best so far; then go back"),
    row(Id::PlanAgain, "plan-again", "look longer", C::Plan, W::Always, 4, &["z l"], "Look for a better plan for ten seconds; what is booked stays until you take it"),
    row(Id::PlanBook, "plan-book", "book", C::Plan, W::CanBookPlan, 3, &["B"], "Book what this plan takes: sheets, offcuts and counted things"),
    row(Id::PlanLeftovers, "plan-leftovers", "leftovers first", C::Plan, W::Always, 4, &["z o"], "Plan for the largest leftover before the fewest moves"),
    row(Id::PlanOrder, "plan-order", "by paper, by setting", C::Plan, W::Always, 6, &["z p"], "Cut layouts paper by paper, or with the fewest moves of the fence"),
    row(Id::PlanPerStroke, "plan-per-stroke", "sheets a stroke", C::Plan, W::Always, 6, &["S"], "Say how many sheets one stroke takes"),
    row(Id::PlanStopCuts, "plan-stop-cuts", "stop cuts", C::Plan, W::Always, 7, &["z s"], "Plan with cuts that stop inside the sheet, for trimmers that can"),
    row(Id::PlanLog, "plan-log", "log sheets", C::Plan, W::HasBegun, 6, &["W"], "Log the sheets of the cut list that were cut so far"),
    row(Id::PlanPieces, "plan-pieces", "pieces", C::Plan, W::Always, 5, &["e"], "Set for a piece: paper around it, turning, grain, how it is made"),
    row(Id::PlanDetail, "plan-detail", "next list", C::Plan, W::HasPlan, 3, &["v"], "Show steps, papers, leftovers or pieces below the layouts"),
    row(Id::PlanStepDown, "plan-step-down", "line on", C::Plan, W::HasPlan, 0, &["l", "Right"], "Go down the lines below the layouts"),
    row(Id::PlanStepUp, "plan-step-up", "line back", C::Plan, W::HasPlan, 0, &["h", "Left"], "Go up the lines below the layouts"),
    row(Id::PlanDown, "plan-down", "next layout", C::Plan, W::HasPlan, 0, &["j", "Down"], "Go to the next layout"),
    row(Id::PlanUp, "plan-up", "previous layout", C::Plan, W::HasPlan, 0, &["k", "Up"], "Go to the previous layout"),
    row(Id::PlanPageDown, "plan-page-down", "page on", C::Plan, W::HasPlan, 0, &["PgDn", "Ctrl-d"], "Go ten layouts on"),
    row(Id::PlanPageUp, "plan-page-up", "page back", C::Plan, W::HasPlan, 0, &["PgUp", "Ctrl-u"], "Go ten layouts back"),
    row(Id::PlanFirst, "plan-first", "first layout", C::Plan, W::HasPlan, 0, &["g", "Home"], "Go to the first layout"),
    row(Id::PlanLast, "plan-last", "last layout", C::Plan, W::HasPlan, 0, &["G", "End"], "Go to the last layout"),

    row(Id::BenchStroke, "bench-stroke", "count a stroke", C::Bench, W::Always, 2, &["Space", "PgDn"], "Count one stroke of this step; a foot switch may send this key"),
    row(Id::BenchNext, "bench-next", "done, next", C::Bench, W::Always, 1, &["Enter"], "Tick this step and go to the next; after the last, log the sheets"),
    row(Id::BenchBack, "bench-back", "back", C::Bench, W::Always, 3, &["Backspace"], "Take the last counted stroke back; with none, go to the previous step"),
    row(Id::BenchUndo, "bench-undo", "undo", C::Bench, W::CanUndo, 3, &["u"], "Take back what was done last: a stroke, a tick, a spoiled piece, logged sheets"),
    row(Id::BenchRedo, "bench-redo", "redo", C::Bench, W::CanRedo, 0, &["U", "Ctrl-r"], "Make again what was taken back"),
    row(Id::BenchProof, "bench-one-card-first", "one card first", C::Bench, W::CanProve, 5, &["o"], "Cut the sheets of one whole card first, to be laid together and measured"),
    row(Id::BenchSpoiled, "bench-spoiled", "spoiled", C::Bench, W::Always, 4, &["s"], "Something is spoiled: cut it again beside the rest"),
    row(Id::BenchPaper, "bench-paper", "paper differs", C::Bench, W::Always, 6, &["e"], "The sheets here measure short, or are fewer: plan the rest with them"),
    row(Id::BenchLeave, "bench-leave", "leave", C::Bench, W::Always, 9, &["Esc", "q"], "Leave the bench view; the step is remembered"),
    row(Id::BenchHelp, "bench-help", "help", C::Bench, W::Always, 10, &["?", "F1"], "Show every key of the bench view"),

    row(Id::NearSizes, "near-sizes", "a little smaller", C::Yield, W::Always, 0, &["z n"], "Sizes a little smaller that give more, on this sheet and every paper you have"),
    row(Id::WhichPaper, "which-paper", "which paper", C::Yield, W::Always, 0, &["z p"], "Compare the papers you have for this piece: price, waste, leaving first"),
    row(Id::UseUp, "use-up", "use a sheet up", C::Yield, W::Always, 0, &["z u"], "Cut this sheet into panels for card fronts, with nothing left over"),
    row(Id::Strips, "strips", "strips", C::Yield, W::Always, 0, &["z m"], "Several strips by a fixed stop or running marks, with the error each leaves"),
    row(Id::ScrapGives, "scrap-gives", "what a scrap gives", C::Yield, W::Always, 0, &["z g"], "Type a scrap's size and see which layers, mats and tags come out of it"),
    row(Id::MostCards, "most-cards", "most cards", C::Yield, W::HasProject, 0, &["z c"], "The most complete cards that shelf and bin give, and what runs out first"),
    row(Id::FromBin, "from-bin", "from the bin", C::Yield, W::HasProjects, 0, &["z b"], "Which cards of the book can be made from offcuts alone"),
    row(Id::PlanMost, "plan-most", "most cards", C::Plan, W::HasProject, 0, &["z c"], "The most complete cards that shelf and bin give, and what runs out first"),
    row(Id::LayersNear, "layers-near", "a little smaller", C::Mats, W::Always, 0, &["z d"], "Reveals a little wider, to get more of each layer from your papers"),
    row(Id::OffcutGives, "offcut-gives", "what it gives", C::Bin, W::HasRow, 3, &["p"], "See which layers, mats and tags this offcut gives"),

    row(Id::FurtherTake, "further-take", "take", C::Further, W::Always, 1, &["Enter"], "Take the row in hand over: as piece, sheet, reveal or cards"),
    row(Id::FurtherClose, "further-close", "answer", C::Further, W::Always, 2, &["Esc"], "Go back to the answer"),
    row(Id::FurtherChange, "further-change", "change", C::Further, W::Always, 3, &["e"], "Type what this answer rests on: range, size, front and reveal, strips"),
    row(Id::FurtherDown, "further-next", "next row", C::Further, W::Always, 0, &["j", "Down"], "Go to the next row"),
    row(Id::FurtherUp, "further-previous", "previous row", C::Further, W::Always, 0, &["k", "Up"], "Go to the previous row"),
    row(Id::FurtherPageDown, "further-page-down", "page down", C::Further, W::Always, 0, &["PgDn", "Ctrl-d"], "Go ten rows down"),
    row(Id::FurtherPageUp, "further-page-up", "page up", C::Further, W::Always, 0, &["PgUp", "Ctrl-u"], "Go ten rows up"),
    row(Id::FurtherFirst, "further-first", "first row", C::Further, W::Always, 0, &["g", "Home"], "Go to the first row"),
    row(Id::FurtherLast, "further-last", "last row", C::Further, W::Always, 0, &["G", "End"], "Go to the last row"),
];

/// The row of a command. Every id has one, since both come from the same list.
pub fn command(id: CommandId) -> &'static Command {
    let at = id as usize;
    &COMMANDS[at]
}

/// The commands that mean something on this system.
pub fn offered(can_stop: bool) -> impl Iterator<Item = &'static Command> {
    COMMANDS.iter().filter(move |c| can_stop || c.when != When::CanStop)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::keymap::strokes;
    use crate::app::keys::KeyCode;
    use std::collections::BTreeSet;

    #[test]
    fn stopping_is_offered_where_a_shell_can_bring_a_program_back() {
        let names = |can_stop| offered(can_stop).map(|c| c.name).collect::<Vec<_>>();
        assert_eq!(names(true).len(), COMMANDS.len());
        assert!(names(true).contains(&"suspend") && !names(false).contains(&"suspend"));
        assert_eq!(names(false).len() + 1, COMMANDS.len());
    }

    #[test]
    fn ids_and_rows_agree() {
        for (at, c) in COMMANDS.iter().enumerate() {
            assert_eq!(c.id as usize, at);
            assert_eq!(command(c.id).name, c.name);
        }
    }

    #[test]
    fn names_are_unique_and_words_are_there() {
        let mut names = BTreeSet::new();
        for c in COMMANDS {
            assert!(names.insert(c.name), "{} twice", c.name);
            assert!(c.name.chars().all(|x| x.is_ascii_lowercase() || x == '-'), "{}", c.name);
            assert!(c.line.len() > 10 && !c.title.is_empty() && !c.keys.is_empty(), "{}", c.name);
        }
    }

    #[test]
    fn no_key_means_two_things_in_one_place() {
        for context in Context::ALL {
            let mut seen = BTreeSet::new();
            for c in COMMANDS.iter().filter(|c| c.context == context) {
                for k in c.keys {
                    assert!(seen.insert(strokes(k).unwrap()), "{k} twice in {context:?}");
                }
            }
        }
    }

    #[test]
    fn no_command_depends_on_chords_that_terminals_swallow() {
        for c in COMMANDS {
            let usable = c.keys.iter().map(|k| strokes(k).unwrap()).any(|all| {
                let k = all[0];
                let sent_as_other =
                    k.ctrl && matches!(k.code, KeyCode::Char('i' | 'm' | 'h' | 'j' | '[') | KeyCode::Enter);
                !k.alt && !sent_as_other
            });
            assert!(usable, "{} has no key that every terminal sends", c.name);
        }
    }
}
