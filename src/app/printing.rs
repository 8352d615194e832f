//! The print overlay: what can be printed from what is in hand, on which paper, into which file. Decides what to ask
//! for; makes no page and writes no file.

pub mod choices;

pub use super::state::print::{PageKind, PagePreview, PagesText, PrintDesk, PrintNews, Queues};

use super::action::Action;
use super::commands::{Context, offered};
use super::completion;
use super::effect::{Effect, PagesAsk, PrintJob, ToPrinter};
use super::input::field::TextField;
use super::input::list::{Cursor, Move, list_move};
use super::keys::{Key, KeyCode};
use super::model::Model;
use super::overlay::{Confirm, Overlay};
use super::pane::Pane;
use super::state::stock::bin;
use super::state::stock::marks::{RowMark, rows_of};
use super::state::views::{Tab, YieldView};
use super::status::{Status, Work};
use crate::app::state::print::PrintLine;
use crate::domain::book::Book;
use crate::domain::cardwork;
use crate::domain::cutting::plan_words::{self, KeptLeftover};
use crate::domain::pages::frame::{PrintPaper, Setup};
use crate::domain::pages::keys::KeyRow;
use crate::domain::pages::layers::Guide;
use crate::domain::pages::plan::PlanPages;
use crate::domain::pages::request::Request;
use crate::domain::pages::shelf::{self, Labelled};
use crate::domain::paper_look::PaperLook;
use crate::domain::plural::counted;
use crate::domain::stock::Kind;
use crate::domain::stock::outlook::outlook;
use crate::domain::stock::takings;

/// Opens the overlay on the page kind that goes with the pane.
pub fn open(model: &mut Model) -> Vec<Effect> {
    let kind = match model.pane {
        Pane::Yield if model.yields.view == YieldView::Plan => PageKind::Plan,
        Pane::Yield => PageKind::Chart,
        Pane::Mats => PageKind::Layers,
        Pane::Palette => PageKind::Swatches,
        Pane::Stock if has_marked_things(model) => PageKind::ShelfLabels,
        Pane::Stock => PageKind::Reorder,
    };
    let row = PageKind::ALL.iter().position(|k| *k == kind).unwrap_or(0);
    let mut desk = PrintDesk { cursor: Cursor::at(row), paper: model.screen.paper, ..PrintDesk::default() };
    let mut effects = ask(model, &mut desk);
    effects.push(Effect::Queues);
    model.overlays.push(Overlay::Print(Box::new(desk)));
    effects
}

/// The print queues have come.
pub fn queues(model: &mut Model, queues: Option<&Queues>) {
    for layer in &mut model.overlays {
        if let Overlay::Print(desk) = layer {
            desk.queues = queues.cloned();
        }
    }
}

/// Why a kind cannot be printed from what is in hand; nothing where it can.
pub fn why_not(model: &Model, kind: PageKind) -> Option<&'static str> {
    let book = &model.book;
    let project = book.active_project();
    match kind {
        PageKind::Plan if !model.yields.has_pieces() && model.yields.plan.plan.is_none() => {
            Some("no piece fits this sheet yet: choose a size in Yield")
        }
        PageKind::Layers if model.mats.card(book).layers.is_empty() => {
            Some("the card in Mats has no layer yet")
        }
        PageKind::Swatches | PageKind::Labels | PageKind::Strips if book.swatches().is_empty() => {
            Some("the library has no swatch yet")
        }
        PageKind::Patterns if !book.items().iter().any(|(_, i)| i.kind == Kind::PatternedPaper) => {
            Some("there is no patterned paper in stock")
        }
        PageKind::Reorder | PageKind::ShelfLabels if book.items().is_empty() => {
            Some("nothing is on the shelf yet")
        }
        PageKind::Kit | PageKind::KitLabels | PageKind::Shopping | PageKind::Room | PageKind::Handout
            if project.is_none() =>
        {
            Some("no project is active: choose one with <project>")
        }
        _ => None,
    }
}

/// What is asked for, in words: the sheet, the card, the project.
pub fn about(model: &Model, kind: PageKind) -> String {
    let unit = model.screen.unit;
    let project = || model.book.active_project().map(|p| p.name.clone()).unwrap_or_default();
    match kind {
        PageKind::Ruler => "true ruler".to_owned(),
        PageKind::Chart => choices::chart_sheet_of(model).name,
        PageKind::Plan if model.yields.view == YieldView::Plan && model.yields.plan.plan.is_some() => {
            project()
        }
        PageKind::Plan => {
            format!("{} from {}", model.yields.piece.show(unit), model.yields.sheet.sheet.name)
        }
        PageKind::Layers => model.mats.card(&model.book).name.clone(),
        PageKind::Card => match model.book.active_project() {
            Some(p) if !p.cards.is_empty() => p.name.clone(),
            _ => model.mats.card(&model.book).name.clone(),
        },
        PageKind::Swatches | PageKind::Labels | PageKind::Strips => {
            counted(model.book.swatches().len() as u64, "swatch", "swatches")
        }
        PageKind::Trios => model
            .palette
            .picked()
            .map_or_else(|| "blank strips".to_owned(), |id| model.book.swatches().name_of(id)),
        PageKind::Patterns => "swatches in each".to_owned(),
        PageKind::Reorder => format!("as of {}", model.today),
        PageKind::ShelfLabels if !leftovers(model).is_empty() => {
            let n = leftovers(model).len() as u64;
            format!("{} of the plan", counted(n, "kind of leftover", "kinds of leftover"))
        }
        PageKind::ShelfLabels => {
            let n = labelled(model).len() as u64;
            let is_marked = if has_marked_things(model) { "marked" } else { "shown" };
            format!("{} {is_marked}", rows_of(labelled_tab(model), n))
        }
        PageKind::Kit | PageKind::KitLabels | PageKind::Shopping | PageKind::Room | PageKind::Handout => {
            project()
        }
        PageKind::Takings => taught_year(model).to_string(),
        PageKind::Keys => "your keys".to_owned(),
    }
}

/// The last year in which a class was held, else the one that it is.
fn taught_year(model: &Model) -> i16 {
    takings::years(&model.book).first().copied().unwrap_or_else(|| model.today.year())
}

/// The request of a kind.
///
/// # Errors
/// The sentence that refuses it.
fn wanted(model: &Model, desk: &PrintDesk) -> Result<Request, String> {
    let kind = desk.kind();
    if let Some(why) = why_not(model, kind) {
        return Err(model.keymap.say(why));
    }
    let (book, unit) = (&model.book, model.screen.unit);
    let active = || book.active().ok_or_else(|| "no project is active".to_owned());
    Ok(match kind {
        PageKind::Ruler => Request::Ruler,
        PageKind::Chart => Request::Chart(Box::new(choices::chart_of(model))),
        PageKind::Layers => {
            let card = cardwork::card(book, model.mats.card(book));
            let guide = Guide::of(card, cardwork::tools(book, unit)).map_err(|e| e.to_string())?;
            Request::Layers(Box::new(guide))
        }
        PageKind::Card => match book.active_project() {
            Some(p) if !p.cards.is_empty() => Request::ProjectCards(active()?),
            _ => {
                let card = model.mats.card(book);
                let sheet = shelf::card_sheet(book, card, unit).map_err(|e| e.to_string())?;
                Request::Card(Box::new(sheet))
            }
        },
        PageKind::Plan => Request::Plan(Box::new(plan_pages(model)?)),
        PageKind::Swatches => Request::Swatches,
        PageKind::Labels => {
            let sheet = Box::new(choices::label_sheet_of(model, desk.paper).clone());
            let c = &model.print;
            Request::Labels { sheet, run: c.run, only_arriving: c.only_arriving, patches: c.patches }
        }
        PageKind::Trios => {
            let (base, form) = (model.palette.picked(), model.print.form);
            Request::Trios { base, form, blank: base.is_none() || model.print.blank }
        }
        PageKind::Patterns => Request::Patterns,
        PageKind::Reorder => Request::Reorder(model.today),
        PageKind::Takings => Request::Takings(taught_year(model)),
        PageKind::Kit => Request::Kit(active()?),
        PageKind::KitLabels => {
            let sheet = Box::new(choices::kit_sheet_of(model, desk.paper).clone());
            Request::KitLabels { project: active()?, sheet, run: model.print.run }
        }
        PageKind::ShelfLabels => {
            let sheet = Box::new(choices::label_sheet_of(model, desk.paper).clone());
            Request::ShelfLabels { of: labelled(model), sheet, run: model.print.run }
        }
        PageKind::Strips => Request::Strips,
        PageKind::Shopping => {
            let (id, project) = (active()?, book.active_project().ok_or("no project is active")?);
            let look = outlook(book, id, model.settling.of(id)).ok_or("the class is gone")?;
            Request::Shopping(Box::new(shelf::shopping(book, project, &look)))
        }
        PageKind::Room => Request::Room(active()?),
        PageKind::Handout => Request::Handout(active()?),
        PageKind::Keys => Request::Keys(Some(key_rows(model))),
    })
}

/// True where lines of the shelf or offcuts are marked in the list in view.
fn has_marked_things(model: &Model) -> bool {
    let is_stock = model.pane == Pane::Stock && matches!(model.stock.tab(), Tab::Shelf | Tab::Bin);
    is_stock && model.stock.has_marks()
}

/// The list that shelf labels are for: the offcuts where they are in view, else the shelf.
fn labelled_tab(model: &Model) -> Tab {
    if model.pane == Pane::Stock && model.stock.tab() == Tab::Bin { Tab::Bin } else { Tab::Shelf }
}

/// What shelf labels are for: what a plan in view leaves; in Stock what is marked in the list in view, else all that it shows.
fn labelled(model: &Model) -> Vec<Labelled> {
    let (stock, book) = (&model.stock, &model.book);
    let of_mark = |mark: RowMark| match mark {
        RowMark::Item(id) => Some(Labelled::Item(id)),
        RowMark::Offcut(id) => Some(Labelled::Offcut(id)),
        _ => None,
    };
    let left = leftovers(model);
    if !left.is_empty() {
        return left.into_iter().map(Labelled::Leftover).collect();
    }
    if has_marked_things(model) {
        return stock.marked(book).into_iter().filter_map(of_mark).collect();
    }
    match labelled_tab(model) {
        Tab::Bin => bin(stock, book).into_iter().map(Labelled::Offcut).collect(),
        _ => stock.shown.iter().copied().map(Labelled::Item).collect(),
    }
}

/// What the plan on screen, or under the bench, leaves to keep; nothing where another pane is in view.
fn leftovers(model: &Model) -> Vec<KeptLeftover> {
    let view = &model.yields.plan;
    let is_plan = model.pane == Pane::Yield && model.yields.below_bench() == YieldView::Plan;
    match (&view.job, view.to_cut()) {
        (Some((_, of)), Some(plan)) if is_plan => plan_words::kept(&of.job, plan),
        _ => Vec::new(),
    }
}

/// The plan on screen, or the layout of the one size in Yield.
fn plan_pages(model: &Model) -> Result<PlanPages, String> {
    let unit = model.screen.unit;
    let is_plan = model.yields.view == YieldView::Plan;
    if let (true, Some(plan), Some((_, of))) = (is_plan, &model.yields.plan.plan, &model.yields.plan.job) {
        return Ok(shelf::plan_pages(&model.book, of, plan, unit));
    }
    let current = model.yields.current().ok_or("the yield is still being worked out")?;
    let pages = PlanPages::of_answer(&current.question, &current.answer, model.yields.count, unit);
    let paper = model.yields.sheet.paper.map(|id| PaperLook::of_item(&model.book, id));
    Ok(pages.with_papers(|_| paper.clone()))
}

/// The table of commands with this person's keys.
fn key_rows(model: &Model) -> Vec<KeyRow> {
    let of = |context: Context| offered(model.can_stop).filter(move |c| c.context == context);
    let row = |c: &super::commands::Command| KeyRow {
        group: c.context.title().to_owned(),
        name: c.name.to_owned(),
        keys: model.keymap.texts(c.id),
        title: c.title.to_owned(),
        line: c.line.to_owned(),
    };
    Context::ALL.into_iter().flat_map(|context| of(context).map(row)).collect()
}

fn pages_ask(model: &Model, desk: &PrintDesk) -> Result<PagesAsk, String> {
    let wanted = wanted(model, desk)?;
    let book = if desk.kind().needs_book() { model.book.clone() } else { Book::default() };
    let setup = Setup {
        paper: desk.paper,
        unit: model.screen.unit,
        colourless: desk.colourless,
        footer: model.print.footer.clone(),
        code: None,
        home: choices::home_of(model, desk.paper),
        ..Setup::default()
    };
    Ok(PagesAsk { wanted, book: Box::new(book), setup, code: model.print.code.clone() })
}

/// Asks for the preview of what is chosen.
fn ask(model: &mut Model, desk: &mut PrintDesk) -> Vec<Effect> {
    (desk.top, desk.page) = (0, 0);
    if !desk.is_named {
        desk.file = TextField::with(&format!("{}.pdf", desk.kind().word()));
    }
    match pages_ask(model, desk) {
        Ok(ask) => {
            let number = model.next_ask();
            (desk.waiting, desk.preview) = (Some(number), PagePreview::Nothing);
            vec![Effect::Preview(number, Box::new(ask))]
        }
        Err(why) => {
            (desk.waiting, desk.preview) = (None, PagePreview::Refused(why));
            Vec::new()
        }
    }
}

/// The preview has come; one that was overtaken is dropped.
pub fn previewed(model: &mut Model, number: u64, pages: Result<PagesText, String>) {
    for layer in &mut model.overlays {
        if let Overlay::Print(desk) = layer
            && desk.waiting == Some(number)
        {
            desk.waiting = None;
            desk.preview = match pages {
                Ok(text) => PagePreview::Pages(text),
                Err(why) => PagePreview::Refused(why),
            };
            return;
        }
    }
}

/// Gives a key to the overlay.
pub fn key(model: &mut Model, mut desk: Box<PrintDesk>, key: Key) -> Vec<Effect> {
    let effects = match (desk.typing, key.code) {
        (None | Some(PrintLine::File), KeyCode::Enter) => return write(model, desk),
        (None, KeyCode::Esc | KeyCode::Char('q')) => return Vec::new(),
        (None, KeyCode::Tab | KeyCode::BackTab) => type_into(&mut desk, PrintLine::File, ""),
        (None, KeyCode::Char('P')) => return print(model, desk),
        (None, _) => chosen(model, &mut desk, key),
        (Some(PrintLine::File), KeyCode::Tab) => completion::file_of(&mut desk),
        (Some(line), KeyCode::Enter | KeyCode::Tab | KeyCode::BackTab) => take(model, &mut desk, line),
        (Some(_), KeyCode::Esc) => {
            desk.typing = None;
            Vec::new()
        }
        (Some(PrintLine::File), _) => {
            desk.is_named |= desk.file.key(key);
            (desk.completing, desk.names) = (None, Vec::new());
            Vec::new()
        }
        (Some(_), _) => {
            desk.entry.key(key);
            Vec::new()
        }
    };
    model.overlays.push(Overlay::Print(desk));
    effects
}

fn type_into(desk: &mut PrintDesk, line: PrintLine, text: &str) -> Vec<Effect> {
    desk.typing = Some(line);
    desk.entry = TextField::with(text);
    Vec::new()
}

/// A key of the list: another kind, another choice.
fn chosen(model: &mut Model, desk: &mut PrintDesk, key: Key) -> Vec<Effect> {
    match key.code {
        KeyCode::PageUp => desk.top = desk.top.saturating_sub(8),
        KeyCode::PageDown => desk.top = desk.top.saturating_add(8).min(last_line(desk)),
        KeyCode::Left => return turn(desk, false),
        KeyCode::Right => return turn(desk, true),
        KeyCode::Char('v') if !key.ctrl => desk.as_text = !desk.as_text,
        KeyCode::Char('f') if !key.ctrl => return type_into(desk, PrintLine::File, ""),
        KeyCode::Char('p') if !key.ctrl => {
            desk.paper = if desk.paper == PrintPaper::A4 { PrintPaper::Letter } else { PrintPaper::A4 };
            return ask(model, desk);
        }
        KeyCode::Char('c') if !key.ctrl => {
            desk.colourless = !desk.colourless;
            return ask(model, desk);
        }
        KeyCode::Char(c) if !key.ctrl && !key.alt => {
            if let Some((line, text)) = choices::line_of(model, desk, c) {
                return type_into(desk, line, &text);
            }
            if choices::flip(model, desk, c) {
                // Another printer prints the same pages.
                return if c == choices::PRINTER { Vec::new() } else { ask(model, desk) };
            }
        }
        _ => {}
    }
    list_move(key).map_or_else(Vec::new, |step| go(model, desk, step))
}

/// The next page, or the one before.
fn turn(desk: &mut PrintDesk, on: bool) -> Vec<Effect> {
    if let PagePreview::Pages(text) = &desk.preview {
        let last = text.pages.len().saturating_sub(1);
        desk.page = if on { (desk.page + 1).min(last) } else { desk.page.saturating_sub(1) };
        desk.top = text.starts.get(desk.page).copied().unwrap_or(0);
    }
    Vec::new()
}

/// What was typed into a line is taken, or refused and left to be mended.
fn take(model: &mut Model, desk: &mut PrintDesk, line: PrintLine) -> Vec<Effect> {
    if line == PrintLine::File {
        desk.typing = None;
        return Vec::new();
    }
    let text = desk.entry.text().to_owned();
    if matches!(line, PrintLine::Copies | PrintLine::Range) {
        return match choices::take_ticket(desk, line, &text) {
            Ok(()) => {
                desk.typing = None;
                Vec::new()
            }
            Err(why) => {
                model.tell(Status::refused(why));
                Vec::new()
            }
        };
    }
    match choices::take_line(model, desk, line, &text) {
        Ok(()) => {
            desk.typing = None;
            ask(model, desk)
        }
        Err(why) => {
            model.tell(Status::refused(why));
            Vec::new()
        }
    }
}

/// A paste goes into the line that takes keys.
pub fn paste(desk: &mut PrintDesk, text: &str) {
    match desk.typing {
        None => {}
        Some(PrintLine::File) => {
            desk.file.paste(text);
            desk.is_named = true;
        }
        Some(_) => desk.entry.paste(text),
    }
}

fn last_line(desk: &PrintDesk) -> usize {
    match &desk.preview {
        PagePreview::Pages(text) => text.lines.len().saturating_sub(1),
        _ => 0,
    }
}

fn go(model: &mut Model, desk: &mut PrintDesk, step: Move) -> Vec<Effect> {
    let before = desk.kind();
    desk.cursor.go(step, PageKind::ALL.len());
    if desk.kind() == before { Vec::new() } else { ask(model, desk) }
}

/// A click on a row of the list.
pub fn pick(model: &mut Model, row: usize) -> Vec<Effect> {
    let Some(Overlay::Print(mut desk)) = model.overlays.pop() else { return Vec::new() };
    desk.typing = None;
    desk.cursor = Cursor::at(row);
    let effects = ask(model, &mut desk);
    model.overlays.push(Overlay::Print(desk));
    effects
}

/// Sends what is chosen to the printer; where the system has no print command, says what to do instead.
fn print(model: &mut Model, desk: Box<PrintDesk>) -> Vec<Effect> {
    let refusal = desk.queues.is_none().then(|| {
        let file = desk.file.text().trim();
        format!("This system has no print command: Enter writes {file}, print it at 100 %.")
    });
    let queue = choices::printer_of(model, &desk);
    let to = ToPrinter { queue, copies: desk.copies.max(1), range: desk.range.clone() };
    hand_out(model, desk, refusal, Some(to))
}

/// Writes what is chosen to its file.
fn write(model: &mut Model, desk: Box<PrintDesk>) -> Vec<Effect> {
    let is_unnamed = desk.file.text().trim().is_empty();
    let refusal = is_unnamed.then(|| "The file has no name: press f and type one.".to_owned());
    hand_out(model, desk, refusal, None)
}

/// Starts the job, or says why not: what the preview refuses comes first. How many pages there are is known by then, since
/// the preview says so.
fn hand_out(
    model: &mut Model,
    desk: Box<PrintDesk>,
    refusal: Option<String>,
    to: Option<ToPrinter>,
) -> Vec<Effect> {
    let refusal = match &desk.preview {
        PagePreview::Refused(why) => Some(format!("Not printed: {why}")),
        PagePreview::Nothing => Some("The pages are still being counted: a moment.".to_owned()),
        PagePreview::Pages(_) => refusal,
    };
    let ask = match refusal {
        Some(why) => Err(why),
        None => pages_ask(model, &desk),
    };
    let file = desk.file.text().trim().to_owned();
    model.overlays.push(Overlay::Print(desk));
    match ask {
        Ok(ask) => start(model, PrintJob { ask, file, replace: false, to }),
        Err(why) => {
            model.tell(Status::refused(why));
            Vec::new()
        }
    }
}

fn stage(words: &str, done: u32, of: u32) -> Work {
    Work { words: format!("{words} ({done} of {of})"), done, of }
}

/// Sends a job to be written.
pub fn start(model: &mut Model, job: PrintJob) -> Vec<Effect> {
    model.work = Some(stage("making the pages", 0, 3));
    vec![Effect::Print(Box::new(job))]
}

/// What came of writing.
pub fn told(model: &mut Model, news: PrintNews) -> Vec<Effect> {
    match news {
        PrintNews::Stage(words, done, of) => model.work = Some(stage(words, done, of)),
        PrintNews::Exists(mut job) => {
            model.work = None;
            job.replace = true;
            let question = format!("{} is there already. Replace it?", job.file);
            let yes = Box::new(Action::Print(job));
            model.overlays.push(Overlay::Confirm(Confirm { question, yes }));
        }
        PrintNews::Written(words, path) => {
            model.work = None;
            model.overlays.retain(|layer| !matches!(layer, Overlay::Print(_)));
            model.tell(Status::done(words));
            return vec![Effect::Copy(path)];
        }
        PrintNews::Done(words) => {
            model.work = None;
            model.overlays.retain(|layer| !matches!(layer, Overlay::Print(_)));
            model.tell(Status::done(words));
        }
        PrintNews::Failed(why) => {
            model.work = None;
            model.tell(Status::refused(why));
        }
    }
    Vec::new()
}
