//! How the bench was left: panes, sizes, the cut list in hand. As text, so that the disk side need not know the model.
//!
//! A convenience, not data: what cannot be read, or no longer fits the book, is left as at a first start.

mod bench;
mod rows;

use super::commands::command;
use super::input::list::Cursor;
use super::model::Model;
use super::pane::Pane;
use super::panes::stock;
use super::printing::choices::LONGEST_FOOT;
use super::state::stock::sort::Sorts;
use super::state::views::{StockView, Tab, YieldView};
use crate::app::state::after::AfterCuts;
use crate::app::state::mats::MatsView;
use crate::app::state::print::PrintChoices;
use crate::app::state::yields::{SheetChoice, YieldPane};
use crate::domain::cards::country::Country;
use crate::domain::colour::scheme::Scheme;
use crate::domain::colour::vision::Deficiency;
use crate::domain::colour::wheel::Wheel;
use crate::domain::cutting::chart::ChartRange;
use crate::domain::cutting::pace::CuttingPace;
use crate::domain::cutting::question::{Preference, Trimmer};
use crate::domain::cutting::sheet_order::SheetOrder;
use crate::domain::cutting::trimmer_profile::{Blade, SetBy, TestStrip, TrimmerProfile};
use crate::domain::figures::ProjectField;
use crate::domain::length::{Length, Unit};
use crate::domain::library::shown::ShelfOrder;
use crate::domain::pages::chart::Pocket;
use crate::domain::pages::frame::PrintPaper;
use crate::domain::pages::labels::{LabelRun, MOST_NUDGE};
use crate::domain::pages::trios::StripForm;
use crate::domain::project::Stage;
use crate::domain::screen::{Screen, Signs, Start, ThemeChoice};
use crate::domain::sheet::Sheet;
use crate::domain::size::Size;
use crate::domain::stock::{ItemId, ProjectId, SwatchId};
use serde::{Deserialize, Serialize};

#[derive(Serialize, Deserialize, Default)]
#[serde(default)]
struct Memory {
    theme: String,
    ascii: bool,
    metric: bool,
    no_mouse: bool,
    shift_told: bool,
    a4: bool,
    pane: String,
    sheet: String,
    paper: Option<u32>,
    piece: (i64, i64),
    count: Option<u32>,
    upright_only: bool,
    offcut_first: bool,
    by_setting: bool,
    stop_cuts: bool,
    largest_setting: Option<i64>,
    finest_mark: Option<i64>,
    smallest_shave: Option<i64>,
    smallest_strip: Option<i64>,
    set_by: String,
    blade_slides: bool,
    /// What a test strip was set to and what it measured.
    test_strip: Option<(i64, i64)>,
    corrects: bool,
    /// Project and stage that the step view was at after the cuts.
    after: Option<(u32, String)>,
    /// Seconds and strokes of the person's own pace.
    pace: (u32, u32),
    /// The same at each stage after the cuts, by its word.
    paces_after: Vec<(String, u32, u32)>,
    /// It opens with the pane that was in view last.
    start_with_pane: bool,
    yields: String,
    range: Option<(i64, i64, i64)>,
    cell: Option<(i64, i64)>,
    layout: usize,
    card: String,
    layer: String,
    view: String,
    ruler: bool,
    measure: String,
    divisions: String,
    order: String,
    swatch: Option<u32>,
    pinned: Option<u32>,
    scheme: String,
    vision: String,
    severity: Option<u8>,
    wheel: String,
    narrowed: String,
    on_hand: bool,
    trios_on_hand: bool,
    leaving_first: bool,
    varied: bool,
    model_alone: bool,
    tab: String,
    sorts: Vec<(String, String)>,
    filter: String,
    row: String,
    history: Option<u32>,
    class: Option<u32>,
    field: String,
    bench: Option<bench::Bench>,
    print: Print,
    country: String,
}

/// What was chosen about printed pages; what belongs to one sitting only, such as the first free label, is not kept.
#[derive(Serialize, Deserialize, Default)]
#[serde(default)]
struct Print {
    footer: String,
    code: String,
    label_sheet: String,
    kit_sheet: String,
    printer: String,
    home: String,
    nudge: (i32, i32),
    patches: bool,
    sheet: String,
    back: String,
    pocket: bool,
    pocket_used: bool,
    all_sizes: bool,
    fan: bool,
}

fn pair(size: Size) -> (i64, i64) {
    (size.width.units(), size.height.units())
}

/// A size from units, if it can be the size of paper.
fn size((width, height): (i64, i64)) -> Option<Size> {
    let fits = |n: i64| n > 0 && n <= Length::MAX.units();
    (fits(width) && fits(height)).then(|| Size::new(Length::from_units(width), Length::from_units(height)))
}

/// The text to remember.
pub fn to_text(model: &Model) -> String {
    // What the tour shows is nobody's bench; choices for the screen made in it stay.
    let screen = &model.screen;
    let model = model.tour.as_ref().map_or(model, |tour| &*tour.kept);
    let pane = &model.yields;
    let memory = Memory {
        theme: screen.theme.name().to_owned(),
        ascii: screen.signs == Signs::Ascii,
        metric: screen.unit == Unit::Mm,
        no_mouse: !screen.mouse,
        shift_told: screen.shift_told,
        a4: screen.paper == PrintPaper::A4,
        country: screen.country.map_or_else(String::new, |c| c.code().to_owned()),
        pane: title_of(model.pane).to_owned(),
        sheet: pane.sheet.sheet.name.clone(),
        paper: pane.sheet.paper.map(|id| id.0),
        piece: pair(pane.piece),
        count: pane.count,
        upright_only: !pane.may_turn,
        offcut_first: pane.preference == Preference::LargestOffcut,
        by_setting: pane.order == SheetOrder::BySetting,
        stop_cuts: pane.stop_cuts,
        largest_setting: pane.trimmer.largest_setting.map(Length::units),
        finest_mark: Some(pane.trimmer.finest_mark.units()),
        smallest_shave: Some(pane.trimmer.smallest_shave.units()),
        smallest_strip: Some(pane.trimmer.smallest_strip.units()),
        set_by: pane.trimmer.profile.set_by.name().to_owned(),
        blade_slides: pane.trimmer.profile.blade == Blade::Slides,
        test_strip: pane.trimmer.profile.test.map(|t| (t.set.units(), t.measured.units())),
        corrects: pane.trimmer.profile.corrects,
        after: pane.after.map(|at| (at.project.0, at.stage.word().to_owned())),
        pace: (pane.pace.seconds, pane.pace.strokes),
        paces_after: paces_after(pane),
        start_with_pane: screen.start == Start::Pane,
        yields: rows::name_of(&rows::YIELD_VIEWS, &pane.below_bench()),
        range: pane.range.map(|r| (r.from.units(), r.to.units(), r.step.units())),
        cell: cell(pane),
        layout: model.yields.plan.cursor.row(usize::MAX).unwrap_or(0),
        card: model.mats.card(&model.book).name.clone(),
        layer: model.mats.name_in_hand(&model.book),
        view: model.mats.view.title().to_owned(),
        ruler: model.mats.ruler.open,
        measure: model.mats.measure_in_hand(&model.book, model.screen.unit).map(|m| m.0).unwrap_or_default(),
        divisions: model.mats.ruler.ruler(model.screen.unit).name(),
        order: model.palette.order.words().to_owned(),
        swatch: model.palette.picked().map(|id| id.0),
        pinned: model.palette.pinned.map(|id| id.0),
        scheme: model.palette.scheme.map_or("", Scheme::name).to_owned(),
        vision: model.palette.vision.map_or("", Deficiency::name).to_owned(),
        severity: Some(model.palette.severity),
        wheel: model.palette.wheel.name().to_owned(),
        narrowed: model.palette.filter.clone(),
        on_hand: model.palette.only_on_hand,
        trios_on_hand: model.palette.trios_on_hand,
        leaving_first: model.palette.leaving_first,
        varied: model.palette.varied,
        model_alone: !model.palette.own_choices,
        tab: model.stock.tab().title().to_owned(),
        sorts: model.stock.sorts.named(),
        filter: model.stock.filter.clone(),
        row: stock_row_name(model),
        history: model.stock.history().map(|id| id.0),
        class: model.stock.open_class().map(|id| id.0),
        field: field_name(model),
        bench: model.yields.run.as_ref().filter(|b| b.is_begun() && !b.is_logged()).map(bench::remember),
        print: remember_print(&model.print),
    };
    ron::to_string(&memory).unwrap_or_default()
}

fn remember_print(print: &PrintChoices) -> Print {
    Print {
        footer: print.footer.clone(),
        code: print.code.clone(),
        label_sheet: print.label_sheet.clone(),
        kit_sheet: print.kit_sheet.clone(),
        printer: print.printer.clone(),
        home: print.home.clone(),
        nudge: (print.run.right, print.run.down),
        patches: print.patches,
        sheet: print.sheet.clone(),
        back: print.back.clone(),
        pocket: print.pocket.is_some(),
        pocket_used: print.pocket == Some(Pocket::Used),
        all_sizes: print.all_sizes,
        fan: print.form == StripForm::Fan,
    }
}

fn print_choices(p: Print) -> PrintChoices {
    let fits = |n: i32| if n.abs() <= MOST_NUDGE { n } else { 0 };
    let (right, down) = (fits(p.nudge.0), fits(p.nudge.1));
    let footer = if p.footer.chars().count() <= LONGEST_FOOT { p.footer } else { String::new() };
    PrintChoices {
        footer,
        code: p.code,
        label_sheet: p.label_sheet,
        kit_sheet: p.kit_sheet,
        printer: p.printer,
        home: p.home,
        run: LabelRun { right, down, ..LabelRun::default() },
        patches: p.patches,
        sheet: p.sheet,
        back: p.back,
        pocket: p.pocket.then_some(if p.pocket_used { Pocket::Used } else { Pocket::Steps }),
        all_sizes: p.all_sizes,
        form: if p.fan { StripForm::Fan } else { StripForm::Ring },
        ..PrintChoices::default()
    }
}

/// The choices for the screen that a text remembers; the usual ones where it does not.
pub fn screen(text: &str) -> Screen {
    let m: Memory = ron::from_str(text).unwrap_or_default();
    Screen {
        theme: ThemeChoice::from_name(&m.theme).unwrap_or_default(),
        signs: if m.ascii { Signs::Ascii } else { Signs::Unicode },
        unit: if m.metric { Unit::Mm } else { Unit::Inch },
        mouse: !m.no_mouse,
        shift_told: m.shift_told,
        start: if m.start_with_pane { Start::Pane } else { Start::Today },
        paper: if m.a4 { PrintPaper::A4 } else { PrintPaper::Letter },
        country: Country::from_code(&m.country),
        ..Screen::default()
    }
}

/// Brings a fresh model to where the bench was left.
pub fn restore(model: &mut Model, text: &str) {
    let Ok(m) = ron::from_str::<Memory>(text) else { return };
    model.pane = rows::called(&Pane::ALL, &m.pane, title_of).unwrap_or_default();
    restore_mats(model, &m);
    restore_palette(model, &m);
    model.palette.order = rows::called(&ShelfOrder::ALL, &m.order, ShelfOrder::words).unwrap_or_default();
    let tab = Tab::ALL.into_iter().find(|t| t.title() == m.tab).unwrap_or_default();
    model.stock.view = tab.view();
    model.stock.sorts = Sorts::from_names(&m.sorts);
    model.stock.filter.clone_from(&m.filter);
    model.follow_book();
    restore_stock(model, &m);
    if let Some(id) = m.swatch.map(SwatchId) {
        let Model { palette, book, .. } = model;
        palette.show(id, book);
    }
    if let Some(piece) = size(m.piece) {
        model.yields.piece = piece;
    }
    if let Some(choice) = sheet(model, &m) {
        model.yields.sheet = choice;
    }
    let pane = &mut model.yields;
    pane.pace = CuttingPace::kept(m.pace.0, m.pace.1);
    for (word, seconds, sets) in &m.paces_after {
        if let Some(stage) = Stage::from_word(word) {
            pane.stage_paces[stage as usize] = CuttingPace::kept_of_stage(*seconds, *sets);
        }
    }
    pane.count = m.count.filter(|n| *n > 0);
    pane.may_turn = !m.upright_only;
    pane.order = if m.by_setting { SheetOrder::BySetting } else { SheetOrder::ByPaper };
    pane.stop_cuts = m.stop_cuts;
    pane.trimmer = Trimmer { longest_cut: model.book.settings().longest_cut, ..trimmer(&m) };
    pane.view = rows::named(&rows::YIELD_VIEWS, &m.yields).unwrap_or_default();
    if pane.view == YieldView::Plan && model.book.active().is_none() {
        pane.view = YieldView::Answer;
    }
    pane.range = m.range.and_then(range);
    pane.cell = m.cell.and_then(|sides| cell_of(pane, sides)).unwrap_or_default();
    model.yields.plan.cursor = Cursor::at(m.layout);
    let pane = &mut model.yields;
    pane.preference = if m.offcut_first { Preference::LargestOffcut } else { Preference::FewestSettings };
    model.print = print_choices(m.print);
    model.yields.after = m.after.as_ref().and_then(|(id, word)| {
        let project = ProjectId(*id);
        let stage = Stage::from_word(word)?;
        model.book.projects().get(project)?.stage_total(stage)?;
        Some(AfterCuts { project, stage })
    });
    model.yields.run = m.bench.and_then(|b| bench::recall(b, &model.yields.trimmer));
}

fn paces_after(pane: &YieldPane) -> Vec<(String, u32, u32)> {
    let all = Stage::ALL.into_iter().zip(pane.stage_paces);
    let known = all.filter(|(_, pace)| pace.strokes > 0);
    known.map(|(stage, pace)| (stage.word().to_owned(), pace.seconds, pace.strokes)).collect()
}

fn title_of(pane: Pane) -> &'static str {
    command(pane.command()).title
}

fn stock_row_name(model: &Model) -> String {
    let row = model.stock.cursor.row(model.stock.rows(&model.book));
    row.and_then(|n| rows::stock_name(model, n)).unwrap_or_default()
}

fn field_name(model: &Model) -> String {
    let fields = ProjectField::OF_CLASS;
    model.stock.field.row(fields.len()).map_or("", |n| fields[n].word()).to_owned()
}

/// The size under the chart's cursor, in units.
fn cell(pane: &YieldPane) -> Option<(i64, i64)> {
    let values = pane.chart_range().values();
    Some((values.get(pane.cell.0)?.units(), values.get(pane.cell.1)?.units()))
}

fn cell_of(pane: &YieldPane, (width, height): (i64, i64)) -> Option<(usize, usize)> {
    let values = pane.chart_range().values();
    let at = |side: i64| values.iter().position(|v| v.units() == side);
    Some((at(width)?, at(height)?))
}

/// The trimmer as it was said; where nothing was, the usual one. Its longest cut is the book's. How many sheets a stroke
/// takes is said anew each time.
fn trimmer(m: &Memory) -> Trimmer {
    let length = |n: Option<i64>| n.and_then(length);
    let usual = Trimmer::default();
    Trimmer {
        largest_setting: length(m.largest_setting),
        finest_mark: length(m.finest_mark).unwrap_or(usual.finest_mark),
        smallest_shave: length(m.smallest_shave).unwrap_or(usual.smallest_shave),
        smallest_strip: length(m.smallest_strip).unwrap_or(usual.smallest_strip),
        profile: profile(m),
        ..usual
    }
}

/// The words of the trimmer, as they were said.
fn profile(m: &Memory) -> TrimmerProfile {
    let both = m.test_strip.and_then(|(set, measured)| Some((length(set)?, length(measured)?)));
    let test = both.and_then(|(set, measured)| TestStrip::new(set, measured, Unit::Inch).ok());
    TrimmerProfile {
        set_by: SetBy::from_name(&m.set_by).unwrap_or_default(),
        blade: if m.blade_slides { Blade::Slides } else { Blade::Arm },
        test,
        corrects: m.corrects && test.is_some(),
    }
}

fn place<T: PartialEq>(all: &[T], one: &T) -> Option<usize> {
    all.iter().position(|t| t == one)
}

/// A length from units, if a trimmer or a sheet can have it.
fn length(units: i64) -> Option<Length> {
    (units > 0 && units <= Length::MAX.units()).then(|| Length::from_units(units))
}

fn range((from, to, step): (i64, i64, i64)) -> Option<ChartRange> {
    ChartRange::checked(length(from)?, length(to)?, length(step)?).ok()
}

fn restore_mats(model: &mut Model, m: &Memory) {
    model.mats.card = rows::card(model, &m.card).unwrap_or(0);
    model.mats.view = rows::called(&MatsView::ALL, &m.view, MatsView::title).unwrap_or_default();
    if let Some(row) = rows::layer(model, &m.layer) {
        model.mats.layer = Cursor::at(row);
    }
    model.mats.ruler.open = m.ruler;
    model.mats.ruler.measure = rows::measure(model, &m.measure).unwrap_or(0);
    model.mats.ruler.finer = rows::divisions(model, &m.divisions).unwrap_or(0);
}

fn restore_palette(model: &mut Model, m: &Memory) {
    let pane = &mut model.palette;
    pane.scheme = rows::called(&Scheme::ALL, &m.scheme, Scheme::name);
    pane.vision = rows::called(&Deficiency::ALL, &m.vision, Deficiency::name);
    pane.severity = m.severity.filter(|s| *s <= 100).unwrap_or(pane.severity);
    pane.wheel = rows::called(&Wheel::ALL, &m.wheel, Wheel::name).unwrap_or_default();
    pane.filter.clone_from(&m.narrowed);
    pane.only_on_hand = m.on_hand;
    pane.trios_on_hand = m.trios_on_hand;
    pane.leaving_first = m.leaving_first;
    pane.varied = m.varied;
    pane.own_choices = !m.model_alone;
    pane.pinned = m.pinned.map(SwatchId).filter(|id| model.book.swatches().get(*id).is_some());
}

/// The item whose lines the log showed; the class that was open, where it is still the one under the cursor.
fn restore_stock(model: &mut Model, m: &Memory) {
    let pane = &mut model.stock;
    match pane.view {
        StockView::Log => {
            let item = m.history.map(ItemId).filter(|id| model.book.items().get(*id).is_some());
            pane.view = item.map_or(StockView::Log, StockView::History);
        }
        StockView::Classes => {
            let class = m.class.map(ProjectId);
            if let Some((id, at)) = class.and_then(|id| Some((id, place(&pane.classes.ids, &id)?))) {
                (pane.view, pane.cursor, pane.field) = (
                    StockView::Class(id),
                    Cursor::at(at),
                    Cursor::at(rows::class_field(&m.field).unwrap_or(0)),
                );
            }
        }
        _ => {}
    }
    if model.stock.open_class().is_none() {
        model.stock.cursor = Cursor::at(rows::stock_row(model, &m.row).unwrap_or(0));
    }
    let (panes, ctx) = model.panes();
    stock::look(panes.stock, &ctx);
}

fn sheet(model: &Model, m: &Memory) -> Option<SheetChoice> {
    if let Some(id) = m.paper {
        return SheetChoice::of_item(&model.book, ItemId(id));
    }
    let format = model.formats.find(&m.sheet)?.clone();
    Some(SheetChoice { sheet: Sheet::new(format.name, format.size), paper: None })
}
