//! From arguments to a request, and the book where one is needed.

use super::{FormName, PaperName, PocketName, PrintArgs, PrintWhat};
use crate::cli::yields::profile;
use crate::cli::{BadInput, Desk, open_store, today};
use crate::domain::book::table::Records;
use crate::domain::book::{Book, Tables};
use crate::domain::cards::card::{Card, EnvelopeChoice};
use crate::domain::cards::fold::{Fold, FoldKind};
use crate::domain::cards::job::{CardSpec, work_out};
use crate::domain::cards::layer::Layer;
use crate::domain::cards::reveal::Reveal;
use crate::domain::cards::tools::Tools;
use crate::domain::cards::{envelope, format};
use crate::domain::colour::swatch::LabOrigin;
use crate::domain::cutting::chart::ChartRange;
use crate::domain::cutting::one_size;
use crate::domain::cutting::plan_words;
use crate::domain::cutting::question::{Question, Trimmer};
use crate::domain::length::{Length, Unit};
use crate::domain::near::instead;
use crate::domain::pages::card::CardSheet;
use crate::domain::pages::chart::{Asked, Pocket};
use crate::domain::pages::flat::Flat;
use crate::domain::pages::frame::PrintPaper;
use crate::domain::pages::label_sheet::{self, LabelSheet};
use crate::domain::pages::labels::{self, Label, LabelRun};
use crate::domain::pages::layers::Guide;
use crate::domain::pages::plan::PlanPages;
use crate::domain::pages::request::Request;
use crate::domain::pages::shelf::{self, Labelled};
use crate::domain::pages::trios::StripForm;
use crate::domain::planning::{self, ProjectJob};
use crate::domain::sheet::{Formats, Sheet, SheetError, parse_sheet};
use crate::domain::size::Size;
use crate::domain::stock::find::Shelf;
use crate::domain::stock::{ItemId, NamedColour, ProjectId, SwatchId, takings};
use crate::engine::planning::{Budget, Cancel, plan};
use crate::exchange::read::card::card as read_card;
use crate::exchange::read::{csv_jobs, swatches};
use crate::persist::given::{self, CARD, COLOURS, LABEL_SHEETS, LIST, Sort};
use crate::persist::paths::{LABELS, Paths};
use jiff::civil::Date;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// The label sheets where none is named, for letter and for A4.
const USUAL_LABELS: [&str; 2] = ["letter 30", "a4 21"];

/// The request of some arguments with the book that answers it.
///
/// # Errors
/// [`BadInput`] for what the person can mend, anything else for a failure.
pub fn request(args: &PrintArgs, desk: &mut Desk<'_>) -> anyhow::Result<(Request, Book)> {
    if args.lines && !matches!(args.what, PrintWhat::Card | PrintWhat::Layers | PrintWhat::Plan) {
        return Err(bad("--lines: only card, layers and plan have lines to cut or score; leave it out"));
    }
    let none = Book::default();
    Ok(match args.what {
        PrintWhat::Ruler => (Request::Ruler, none),
        PrintWhat::Keys => (Request::Keys(None), none),
        PrintWhat::Chart => (chart(args, desk)?, none),
        PrintWhat::Layers => (layers(args, desk.unit)?, none),
        PrintWhat::Card => card(args, desk)?,
        PrintWhat::Plan => (cut_plan(args, desk)?, none),
        PrintWhat::Swatches => (Request::Swatches, swatch_book(args, desk)?),
        PrintWhat::Labels => {
            let (sheet, run) = label_run(args, desk, &[])?;
            let (only_arriving, patches) = (args.arriving, args.patches);
            (Request::Labels { sheet, run, only_arriving, patches }, swatch_book(args, desk)?)
        }
        PrintWhat::Trios => trios(args, desk)?,
        PrintWhat::Patterns => (Request::Patterns, book(desk)?),
        PrintWhat::Reorder => (Request::Reorder(today()?), book(desk)?),
        PrintWhat::Kit => project(args, desk).map(|(id, book)| (Request::Kit(id), book))?,
        PrintWhat::KitLabels => {
            let (project, book) = project(args, desk)?;
            let of = book.projects().get(project);
            let labels = of.map_or_else(Vec::new, |of| shelf::kit_labels(&book, of, desk.unit));
            let (sheet, run) = label_run(args, desk, &labels)?;
            (Request::KitLabels { project, sheet, run }, book)
        }
        PrintWhat::ShelfLabels => shelf_labels(args, desk)?,
        PrintWhat::Strips => (Request::Strips, swatch_book(args, desk)?),
        PrintWhat::Shopping => {
            let (id, book) = project(args, desk)?;
            let look = crate::cli::stock::class_outlook(&book, id)?;
            let of = book.projects().get(id).ok_or_else(|| bad("the class is gone"))?;
            (Request::Shopping(Box::new(shelf::shopping(&book, of, &look))), Book::default())
        }
        PrintWhat::Room => project(args, desk).map(|(id, book)| (Request::Room(id), book))?,
        PrintWhat::Takings => {
            let book = book(desk)?;
            let last = args.year.or_else(|| takings::years(&book).first().copied());
            let year = last.map_or_else(|| today().map(Date::year), Ok)?;
            (Request::Takings(year), book)
        }
        PrintWhat::Handout => project(args, desk).map(|(id, book)| (Request::Handout(id), book))?,
    })
}

fn bad(why: impl Into<String>) -> anyhow::Error {
    BadInput(why.into()).into()
}

/// The book of the data folder.
fn book(desk: &mut Desk<'_>) -> anyhow::Result<Book> {
    Ok(open_store(desk)?.book().clone())
}

fn read(path: &Path, what: &str, sort: Sort) -> anyhow::Result<Vec<u8>> {
    given::read_or_input(path, sort).map_err(|e| bad(format!("{what} {}: {e}", path.display())))
}

fn length(option: &str, text: &str, unit: Unit) -> anyhow::Result<Length> {
    Length::parse(text, unit).map_err(|e| bad(format!("{option}: {e}")))
}

fn chart(args: &PrintArgs, desk: &mut Desk<'_>) -> anyhow::Result<Request> {
    let unit = desk.unit;
    let wants_book = args.used || args.pocket == Some(PocketName::Used);
    let mut used = Vec::new();
    if wants_book {
        used = shelf::sizes_in_use(&book(desk)?);
    }
    let sheet = chart_sheet("--sheet", &args.sheet, desk)?;
    let back = match &args.back {
        Some(text) => {
            let back = chart_sheet("--back", text, desk)?;
            Some((range(args, unit, &back)?, back))
        }
        None => None,
    };
    let form = args.pocket.map(|form| match form {
        PocketName::Steps => Pocket::Steps,
        PocketName::Used => Pocket::Used,
    });
    Ok(Request::Chart(Box::new(Asked {
        range: range(args, unit, &sheet)?,
        back,
        may_turn: !args.no_turn,
        used,
        all: args.all_sizes,
        pocket: form.map(|form| (form, Pocket::others(&sheet))),
        sheet,
    })))
}

/// A sheet by format or size; the shelf is looked at only for a name that is not known otherwise.
fn chart_sheet(option: &str, text: &str, desk: &mut Desk<'_>) -> anyhow::Result<Sheet> {
    let known = parse_sheet(text, desk.unit, &Formats::built_in());
    known.or_else(|why| {
        let refused = || bad(format!("{option}: {why}"));
        if !matches!(why, SheetError::UnknownFormat { .. }) || desk.data.is_none() {
            return Err(refused());
        }
        shelf::sheet_named(&book(desk)?, text).ok_or_else(refused)
    })
}

/// The sizes of a chart: as typed, else quarters of an inch, or half centimeters with `--unit mm`.
fn range(args: &PrintArgs, unit: Unit, sheet: &Sheet) -> anyhow::Result<ChartRange> {
    let usual = match unit {
        Unit::Inch => ChartRange::for_sheet(sheet),
        Unit::Mm => {
            let step = Length::mm(5);
            ChartRange { from: Length::mm(20), to: step * sheet.actual().long().half().times(step), step }
        }
    };
    let or = |option: &str, text: &Option<String>, usual: Length| match text {
        Some(text) => length(option, text, unit),
        None => Ok(usual),
    };
    let (from, to) = (or("--from", &args.from, usual.from)?, or("--to", &args.to, usual.to)?);
    ChartRange::checked(from, to, or("--step", &args.step, usual.step)?).map_err(BadInput::from_error)
}

/// A card by size, name or file; three mats of 1/8 in (3 mm) where no reveals are given and mats are wanted.
fn card_file(args: &PrintArgs, unit: Unit, mats: bool) -> anyhow::Result<CardSpec> {
    let Some(given) = &args.card else {
        return Err(bad(
            "which card? add --card with a size such as 4-1/4x5-1/2, a name such as us-a2, or a card file",
        ));
    };
    let is_file = Path::new(given).extension().is_some_and(|e| e.eq_ignore_ascii_case("ron"));
    if is_file {
        if args.reveal.is_some() || args.fold.is_some() {
            return Err(bad("--reveal and --fold go with a size or a name; a card file has its own"));
        }
        let bytes = read(Path::new(given), "--card", CARD)?;
        let text = String::from_utf8(bytes).map_err(|_| bad(format!("--card {given}: not a text")))?;
        return read_card(&text, unit).map_err(|e| bad(format!("--card {given}: {e}")));
    }
    let found = format::find(given, unit).map_err(|e| bad(format!("--card: {e}")))?;
    let usual = match unit {
        Unit::Inch => Length::sixteenths(2),
        Unit::Mm => Length::mm(3),
    };
    let reveals = match &args.reveal {
        Some(list) => list
            .split(',')
            .map(|text| Reveal::parse(text, unit).map_err(|e| bad(format!("--reveal: {e}"))))
            .collect::<anyhow::Result<Vec<_>>>()?,
        None if mats => vec![Reveal::all(usual); 3],
        None => Vec::new(),
    };
    let kind = match &args.fold {
        Some(word) => FoldKind::from_word(word).map_err(|e| bad(format!("--fold: {e}")))?,
        None => FoldKind::default(),
    };
    let layers = reveals.into_iter().map(|r| Layer::mat("", r)).collect();
    let mut job = CardSpec::of(Card { fold: Fold::new(kind), layers, ..Card::new(found.name, found.face) });
    let usual = found.envelope.and_then(|name| envelope::find(&name, unit).ok());
    job.card.enclosing = usual.map_or(EnvelopeChoice::Smallest, EnvelopeChoice::Usual);
    Ok(job)
}

fn layers(args: &PrintArgs, unit: Unit) -> anyhow::Result<Request> {
    let file = card_file(args, unit, true)?;
    let tools = Tools::usual(unit);
    if args.lines {
        return Ok(Request::Flats(flats(&file, &tools, false)?));
    }
    let guide = Guide::of(file.card, tools).map_err(BadInput::from_error)?;
    Ok(Request::Layers(Box::new(guide)))
}

fn card(args: &PrintArgs, desk: &mut Desk<'_>) -> anyhow::Result<(Request, Book)> {
    if args.card.is_none() && args.project.is_some() {
        if args.lines {
            return Err(bad("--lines goes with --card: a project's cards are printed as sheets"));
        }
        return project(args, desk).map(|(id, book)| (Request::ProjectCards(id), book));
    }
    let file = card_file(args, desk.unit, false)?;
    let tools = Tools::usual(desk.unit);
    let request = if args.lines {
        Request::Flats(flats(&file, &tools, true)?)
    } else {
        Request::Card(Box::new(CardSheet::of(&file, tools).map_err(BadInput::from_error)?))
    };
    Ok((request, Book::default()))
}

/// The pieces of a card at true size: base (where wanted), layers, and what its file asks to be made.
fn flats(file: &CardSpec, tools: &Tools, with_base: bool) -> anyhow::Result<Vec<Flat>> {
    let worked = work_out(file, tools).map_err(BadInput::from_error)?;
    let mut flats = Vec::new();
    if with_base {
        flats.push(Flat::of_base("base", &worked.base));
    }
    flats.extend(worked.layers.iter().map(|l| Flat::of_layer(file.card.layer_name(l.index), l)));
    for wish in &file.card.extras {
        let made = wish.make.build(file, &worked, tools).map_err(BadInput::from_error)?;
        flats.extend(made.iter().map(Flat::of_construction));
    }
    if flats.is_empty() {
        return Err(bad("there is no layer to draw: add --reveal"));
    }
    Ok(flats)
}

fn cut_plan(args: &PrintArgs, desk: &mut Desk<'_>) -> anyhow::Result<Request> {
    let pages = match (&args.piece, &args.pieces, &args.project) {
        (Some(piece), None, None) => one_size_plan(args, piece, desk.unit)?,
        (None, Some(_), None) => planned_files(args, desk.unit)?,
        (None, None, Some(name)) => planned_project(args, name, desk)?,
        (None, None, None) => {
            return Err(bad(
                "what is to be cut? add --piece WxH, or --pieces and --sheets with files, or --project NAME",
            ));
        }
        _ => return Err(bad("--piece, --pieces and --project each ask for another plan: give one of them")),
    };
    if args.lines {
        let flat = |sheet: &crate::domain::pages::plan::PlanSheet| {
            Flat::of_layout(sheet.name.clone(), sheet.size, &sheet.layout)
        };
        let flats: Vec<Flat> = pages.sheets.iter().map(flat).collect();
        return if flats.is_empty() {
            Err(bad("nothing is cut, so there are no lines to draw"))
        } else {
            Ok(Request::Flats(flats))
        };
    }
    Ok(Request::Plan(Box::new(pages)))
}

fn one_size_plan(args: &PrintArgs, piece: &str, unit: Unit) -> anyhow::Result<PlanPages> {
    let piece = Size::parse(piece, unit).map_err(|e| bad(format!("--piece: {e}")))?;
    let sheet =
        parse_sheet(&args.sheet, unit, &Formats::built_in()).map_err(|e| bad(format!("--sheet: {e}")))?;
    let question =
        Question { may_turn: !args.no_turn, trimmer: trimmer(args, unit)?, ..Question::new(piece, sheet) };
    question.check().map_err(|e| bad(format!("--piece: {e}")))?;
    let answer = one_size::answer(&question);
    Ok(PlanPages::of_answer(&question, &answer, args.count, unit))
}

fn planned_files(args: &PrintArgs, unit: Unit) -> anyhow::Result<PlanPages> {
    let (Some(pieces), Some(sheets)) = (&args.pieces, &args.sheets) else {
        return Err(bad("--pieces and --sheets go together: name both files"));
    };
    let (pieces, sheets) = (read(pieces, "--pieces", LIST)?, read(sheets, "--sheets", LIST)?);
    let job = csv_jobs::job(&pieces, &sheets, unit, trimmer(args, unit)?).map_err(BadInput::from_error)?;
    let plan = planned(args, job.clone())?;
    Ok(PlanPages::of_job("pieces of a file", &job, &plan, unit))
}

fn planned_project(args: &PrintArgs, name: &str, desk: &mut Desk<'_>) -> anyhow::Result<PlanPages> {
    let (book, of) = project_job(args, name, desk)?;
    let plan = planned(args, of.job.clone())?;
    Ok(shelf::plan_pages(&book, &of, &plan, desk.unit))
}

/// What is still to be cut of a project, with the book that it is in.
fn project_job(args: &PrintArgs, name: &str, desk: &mut Desk<'_>) -> anyhow::Result<(Book, ProjectJob)> {
    let book = book(desk)?;
    let id = find_project(&book, name)?;
    let of = planning::job_of(&book, id, &trimmer(args, desk.unit)?);
    let of = of.ok_or_else(|| bad(format!("there is no project \"{name}\"")))?;
    Ok((book, of))
}

fn trimmer(args: &PrintArgs, unit: Unit) -> anyhow::Result<Trimmer> {
    let profile = profile(args.trimmer.as_deref(), unit)?;
    Ok(Trimmer { stop_cuts: args.stop_cuts, profile, ..Trimmer::default() })
}

/// By rounds of work, not by the clock: the same arguments give the same pages.
fn planned(
    args: &PrintArgs,
    job: crate::domain::cutting::job::Job,
) -> anyhow::Result<crate::domain::cutting::plan::Plan> {
    plan(job, Budget::Work(args.work), &Cancel::default(), &mut |_, _| {}).map_err(anyhow::Error::msg)
}

/// The swatches of a file as a book of their own, or the book.
fn swatch_book(args: &PrintArgs, desk: &mut Desk<'_>) -> anyhow::Result<Book> {
    let Some(path) = &args.swatches else { return book(desk) };
    let bytes = read(path, "--swatches", COLOURS)?;
    let list = swatches::swatches(&bytes).map_err(|e| bad(format!("--swatches {}: {e}", path.display())))?;
    let rows = (1..).map(SwatchId).zip(list.iter().map(|s| NamedColour {
        name: s.label().to_owned(),
        family: s.family.clone(),
        lab: [s.lab.l, s.lab.a, s.lab.b],
        measured: s.origin == LabOrigin::Measured,
        hex: [s.hex.r, s.hex.g, s.hex.b],
        former_names: Vec::new(),
        note: String::new(),
    }));
    let tables =
        Tables { swatches: Records::from_parts(rows.collect(), BTreeMap::new()), ..Tables::default() };
    Book::from_parts(0, tables, Vec::new()).map_err(anyhow::Error::msg)
}

/// Label sheets of the person's own: those of a named file, else those in the data folder.
fn own_labels(args: &PrintArgs, desk: &Desk<'_>) -> anyhow::Result<Vec<LabelSheet>> {
    let (path, bytes) = match (&args.label_file, &desk.data, Paths::find(None)) {
        (Some(path), ..) => (path.clone(), read(path, "--label-file", LABEL_SHEETS)?),
        (None, Some(dir), _) => in_folder(dir)?,
        // As with sheet formats, the person's own folder is looked at only for a name that is not known otherwise, so
        // that a script answers the same everywhere.
        (None, None, Ok(own))
            if args.labels.as_deref().is_some_and(|name| label_sheet::find(name, &[]).is_err()) =>
        {
            in_folder(&own.data)?
        }
        _ => return Ok(Vec::new()),
    };
    let (sheets, problems) = label_sheet::read_all(&String::from_utf8_lossy(&bytes));
    match problems.as_slice() {
        [] => Ok(sheets),
        [first, ..] => Err(bad(format!("{}: {first}", path.display()))),
    }
}

/// The file of label sheets in a folder; an empty list where there is none.
fn in_folder(dir: &Path) -> anyhow::Result<(PathBuf, Vec<u8>)> {
    let path = dir.join(LABELS);
    let bytes = if path.exists() { read(&path, "label sheets", LABEL_SHEETS)? } else { b"[]".to_vec() };
    Ok((path, bytes))
}

/// The label sheet that is named, else the usual one: for `kits` one that holds all their lines.
fn label_run(
    args: &PrintArgs,
    desk: &Desk<'_>,
    kits: &[Label],
) -> anyhow::Result<(Box<LabelSheet>, LabelRun)> {
    let own = own_labels(args, desk)?;
    let paper = if args.paper == PaperName::A4 { PrintPaper::A4 } else { PrintPaper::Letter };
    let fitting = || {
        let all = own.iter().chain(label_sheet::built_in());
        (!kits.is_empty()).then(|| labels::usual_sheet(all, paper.size(), kits)).flatten()
    };
    let sheet = match (&args.labels, fitting()) {
        (None, Some(sheet)) => sheet,
        (name, _) => {
            let usual = USUAL_LABELS[usize::from(paper == PrintPaper::A4)];
            let name = name.as_deref().unwrap_or(usual);
            label_sheet::find(name, &own).map_err(|e| bad(format!("--labels: {e}")))?
        }
    };
    let nudge = args.nudge.as_deref().map_or(Ok((0, 0)), labels::read_nudge);
    let (right, down) = nudge.map_err(|e| bad(format!("--nudge: {e}")))?;
    let run = LabelRun { start: args.start_label, right, down, outlines: args.outlines };
    Ok((Box::new(sheet.clone()), run))
}

/// Labels of all lines of the shelf, by name, or of those that some words find.
fn shelf_labels(args: &PrintArgs, desk: &mut Desk<'_>) -> anyhow::Result<(Request, Book)> {
    if let Some(name) = &args.project {
        return leftover_labels(args, name, desk);
    }
    let book = book(desk)?;
    if args.offcuts {
        let held: Vec<_> =
            book.offcuts().iter().map(|(id, _)| id).filter(|id| book.offcut_count(*id) > 0).collect();
        if held.is_empty() {
            return Err(bad("--offcuts: no offcut is kept".to_owned()));
        }
        let (sheet, run) = label_run(args, desk, &[])?;
        let of = held.into_iter().map(Labelled::Offcut).collect();
        return Ok((Request::ShelfLabels { of, sheet, run }, book));
    }
    let mut ids: Vec<ItemId> = book.items().iter().map(|(id, _)| id).collect();
    ids.sort_by_cached_key(|id| book.items().name_of(*id).to_lowercase());
    if let Some(words) = &args.find {
        ids = Shelf::in_order(&book, ids.into_iter()).find(words, desk.unit);
    }
    if ids.is_empty() {
        return Err(bad(match &args.find {
            Some(words) => format!("--find: no line of the shelf has \"{words}\""),
            None => "nothing is on the shelf yet".to_owned(),
        }));
    }
    let (sheet, run) = label_run(args, desk, &[])?;
    let of = ids.into_iter().map(Labelled::Item).collect();
    Ok((Request::ShelfLabels { of, sheet, run }, book))
}

/// A label for each stack of leftovers that the plan of a project leaves to keep.
fn leftover_labels(args: &PrintArgs, name: &str, desk: &mut Desk<'_>) -> anyhow::Result<(Request, Book)> {
    let (book, of) = project_job(args, name, desk)?;
    let plan = match planning::booked_plan(&book, &of) {
        Some(booked) => booked.plan,
        None => planned(args, of.job.clone())?,
    };
    let kept = plan_words::kept(&of.job, plan.to_cut());
    if kept.is_empty() {
        return Err(bad(format!("the plan of {} leaves nothing to keep", of.name)));
    }
    let (sheet, run) = label_run(args, desk, &[])?;
    let of = kept.into_iter().map(Labelled::Leftover).collect();
    Ok((Request::ShelfLabels { of, sheet, run }, book))
}

fn trios(args: &PrintArgs, desk: &mut Desk<'_>) -> anyhow::Result<(Request, Book)> {
    let form = match args.form {
        FormName::Ring => StripForm::Ring,
        FormName::Fan => StripForm::Fan,
    };
    let Some(name) = &args.swatch else {
        return if args.blank {
            Ok((Request::Trios { base: None, form, blank: true }, Book::default()))
        } else {
            Err(bad("trios of which swatch? add --swatch NAME, or --blank for empty strips"))
        };
    };
    let book = swatch_book(args, desk)?;
    let Some(base) = book.find_swatch(name) else {
        let some: Vec<&str> = book.swatches().iter().take(4).map(|(_, s)| s.name.as_str()).collect();
        let known = if some.is_empty() {
            "there are none yet".to_owned()
        } else {
            format!("there is {}, ...", some.join(", "))
        };
        return Err(bad(format!("--swatch: no swatch is called \"{name}\": {known}")));
    };
    Ok((Request::Trios { base: Some(base), form, blank: args.blank }, book))
}

/// A request about a project: the one named, else the active one.
fn project(args: &PrintArgs, desk: &mut Desk<'_>) -> anyhow::Result<(ProjectId, Book)> {
    let book = book(desk)?;
    let id = match &args.project {
        Some(name) => find_project(&book, name)?,
        None => book.active().ok_or_else(|| bad("which project? add --project NAME"))?,
    };
    Ok((id, book))
}

fn find_project(book: &Book, name: &str) -> anyhow::Result<ProjectId> {
    book.find_project(name).ok_or_else(|| {
        let names: Vec<&str> = book.projects().iter().map(|(_, p)| p.name.as_str()).collect();
        bad(format!("--project: no project is called \"{name}\": {}", instead(name, &names)))
    })
}
