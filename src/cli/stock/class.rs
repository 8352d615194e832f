//! Classes and batches: what they need and cost, setting their papers aside, logging them as taught, cancelling.

use super::ask::{ClassDo, Form};
use super::change;
use super::rows::{TakingsRow, major, takings_row};
use crate::cli::{BadInput, Desk};
use crate::domain::book::Book;
use crate::domain::cutting::plan::Plan;
use crate::domain::figures;
use crate::domain::harmless::harmless;
use crate::domain::length::Unit;
use crate::domain::near::instead;
use crate::domain::planning::{self, ProjectJob};
use crate::domain::project::{Project, Stage};
use crate::domain::stock::cost::Costs;
use crate::domain::stock::cost_told;
use crate::domain::stock::needs::{Basis, Settled};
use crate::domain::stock::outlook::{OffcutNeed, Outlook, outlook};
use crate::domain::stock::shared_shelf::Other;
use crate::domain::stock::{ProjectId, booked, class, shortage, takings};
use crate::engine::planning as engine;
use crate::exchange::write::stock as csv;
use crate::exchange::write::text::{number, words};
use crate::persist::Store;
use serde::Serialize;

#[derive(Serialize)]
struct List {
    classes: Vec<ClassRow>,
}

#[derive(Serialize)]
struct ClassRow {
    name: String,
    date: Option<String>,
    seats: u32,
    samples: u32,
    sets_a_seat: u32,
    spare_sets: u32,
    /// Whole sheets and counted things.
    booked: u64,
    booked_offcuts: u64,
    state: &'static str,
    short: Vec<String>,
}

#[derive(Serialize)]
struct Shown {
    #[serde(flatten)]
    class: ClassRow,
    unit: &'static str,
    /// Where the figures come from: `booked`, `planned` or `bound`.
    basis: &'static str,
    needs: Vec<NeedRow>,
    offcuts: Vec<OffcutRow>,
    pieces: PieceRow,
    stages: Vec<StageRow>,
    /// What a set goes through until it is prepared.
    tasks: Vec<StageRow>,
    kit: Vec<KitRow>,
    costs: CostRow,
    others: Vec<OtherRow>,
    takings: TakingsRow,
    notes: Vec<String>,
}

#[derive(Serialize)]
struct OtherRow {
    class: String,
    date: Option<String>,
    item: String,
    count: u64,
    first: bool,
}

#[derive(Serialize)]
struct NeedRow {
    name: String,
    needed: u64,
    used: u64,
    still: u64,
    booked: u64,
    free: i64,
    missing: u64,
}

#[derive(Serialize)]
struct OffcutRow {
    name: String,
    width: f64,
    height: f64,
    needed: u64,
    used: u64,
    booked: u64,
}

#[derive(Serialize)]
struct PieceRow {
    needed: u64,
    cut: u64,
    still: u64,
}

#[derive(Serialize)]
struct StageRow {
    stage: &'static str,
    done: u32,
    of: u32,
}

#[derive(Serialize)]
struct KitRow {
    name: String,
    /// How a piece is made; `None` for a counted thing.
    made_by: Option<&'static str>,
    item: String,
    width: Option<f64>,
    height: Option<f64>,
    a_seat: u32,
}

#[derive(Serialize)]
struct CostRow {
    currency: String,
    opened: f64,
    by_yield: f64,
    work: f64,
    made: u64,
    handed_out: u64,
    a_card_made: f64,
    a_card_handed_out: f64,
    a_card_by_yield: f64,
    a_seat: Option<f64>,
    break_even: Option<f64>,
    left_over: Option<f64>,
    without_price: Vec<String>,
    /// How much of it has a price: `all`, `some` or `none`.
    priced: &'static str,
    hours: f64,
    room: f64,
    adhesive: f64,
    ink: f64,
    total: f64,
    break_even_seats: Option<u64>,
    margin: Option<u32>,
    price_for_margin: Option<f64>,
}

/// Books what a project's plan takes. Where it is booked just so already, nothing is written.
pub(in crate::cli) fn book(
    desk: &mut Desk<'_>,
    store: &mut Store,
    ask: &ClassDo,
    form: Form,
) -> anyhow::Result<()> {
    const AS_IT_IS: &str = "it is booked already, just so: nothing was changed";
    let id = find(store.book(), &ask.name).map_err(BadInput)?;
    let (job, plan) = settled(store.book(), id)?;
    let answer = Settled { job: &job, plan: &plan };
    let mut notes = Vec::new();
    if store.book().projects().get(id).is_some_and(|p| p.date.is_none()) {
        notes.push("it has no day, so it comes after everything that has one".to_owned());
    }
    match class::book_papers(store.book(), answer).map_err(BadInput)? {
        None => told(desk, store.book(), id, (AS_IT_IS, ask.dry_run), form)?,
        Some(_) => act(desk, store, ask, form, |book, _| {
            // Another window may have been faster: then the plan is refused.
            let edit = class::book_papers(book, answer)?.ok_or_else(|| AS_IT_IS.to_owned())?;
            notes.extend(shortage::taken_by(book, id, &edit).into_iter().map(|w| format!("it {w}")));
            Ok(edit)
        })?,
    }
    for note in notes {
        writeln!(desk.note, "{}", harmless(&note))?;
    }
    Ok(())
}

/// Gives back what a project has booked, or only what is called so. Where nothing is booked, nothing is written.
pub(in crate::cli) fn give_back(
    desk: &mut Desk<'_>,
    store: &mut Store,
    ask: &ClassDo,
    only: Option<&str>,
    form: Form,
) -> anyhow::Result<()> {
    let id = find(store.book(), &ask.name).map_err(BadInput)?;
    if only.is_none() && booked::bookings_of(store.book(), id).next().is_none() {
        let done = "nothing is booked for it: nothing was changed";
        return told(desk, store.book(), id, (done, ask.dry_run), form);
    }
    act(desk, store, ask, form, |book, id| match only {
        None => class::give_back(book, id),
        Some(name) => class::give_back_only(book, id, name).map_err(|why| format!("--only: {why}")),
    })
}

/// The plan of what is still to be cut of a project: the booked one where it fits, else one of a fixed number of rounds.
pub(super) fn settled(book: &Book, id: ProjectId) -> anyhow::Result<(ProjectJob, Plan)> {
    let job = planning::job_of(book, id, &planning::trimmer(book))
        .ok_or_else(|| BadInput("the class is gone".to_owned()))?;
    let plan = match planning::booked_plan(book, &job) {
        Some(booked) => booked.plan,
        None => engine::settle(&job).map_err(anyhow::Error::msg)?,
    };
    Ok((job, plan))
}

/// How a class stands, by the plan of a fixed number of rounds.
///
/// # Errors
/// When the class is gone or cannot be planned.
pub fn look(book: &Book, id: ProjectId) -> anyhow::Result<Outlook> {
    let (job, plan) = settled(book, id)?;
    let look = outlook(book, id, Some(Settled { job: &job, plan: &plan }));
    look.ok_or_else(|| BadInput("the class is gone".to_owned()).into())
}

pub(in crate::cli) fn find(book: &Book, name: &str) -> Result<ProjectId, String> {
    book.find_project(name).ok_or_else(|| {
        let names: Vec<&str> = book.projects().iter().map(|(_, p)| p.name.as_str()).collect();
        format!("no class or batch is called \"{}\": {}", harmless(name), harmless(&instead(name, &names)))
    })
}

pub(super) fn act(
    desk: &mut Desk<'_>,
    store: &mut Store,
    ask: &ClassDo,
    form: Form,
    make: impl FnOnce(&Book, ProjectId) -> Result<crate::domain::edit::Edit, String>,
) -> anyhow::Result<()> {
    let label = change::carry_out(desk, store, ask.dry_run, |book| {
        find(book, &ask.name).and_then(|id| make(book, id))
    })?;
    let id = find(store.book(), &ask.name).map_err(BadInput)?;
    told(desk, store.book(), id, (&label, ask.dry_run), form)
}

/// Says what was done, and what is short.
pub(super) fn told(
    desk: &mut Desk<'_>,
    book: &Book,
    id: ProjectId,
    (label, dry_run): (&str, bool),
    form: Form,
) -> anyhow::Result<()> {
    let short = look(book, id)?.shortages(book);
    for words in &short {
        writeln!(desk.note, "{}", harmless(words))?;
    }
    if form == Form::Json {
        let answer = serde_json::json!({ "dry_run": dry_run, "done": label, "short": short });
        return desk.json(&answer);
    }
    let dry = if dry_run { " (only shown, nothing is changed)" } else { "" };
    writeln!(desk.out, "{}{dry}", harmless(label))?;
    Ok(())
}

fn class_row(book: &Book, id: ProjectId, p: &Project, look: &Outlook) -> ClassRow {
    ClassRow {
        name: p.name.clone(),
        date: p.date.map(|d| d.to_string()),
        seats: p.seats,
        samples: p.samples,
        sets_a_seat: p.teaching.sets_a_seat,
        spare_sets: p.teaching.spare_sets,
        booked: booked::items(book, id).values().sum(),
        booked_offcuts: booked::offcuts(book, id).values().sum(),
        state: p.progress.word(),
        short: look.shortages(book),
    }
}

pub(in crate::cli) fn list(desk: &mut Desk<'_>, book: &Book, form: Form) -> anyhow::Result<()> {
    let mut rows: Vec<(ProjectId, &Project)> = book.projects().iter().collect();
    rows.sort_by_key(|(id, p)| (p.date.is_none(), p.date, *id));
    let row = |(id, p): (ProjectId, &Project)| Ok(class_row(book, id, p, &look(book, id)?));
    let classes = rows.into_iter().map(row).collect::<anyhow::Result<Vec<ClassRow>>>()?;
    let cells = |c: &ClassRow| {
        [
            c.name.clone(),
            c.date.clone().unwrap_or_default(),
            c.seats.to_string(),
            c.samples.to_string(),
            c.booked.to_string(),
            c.booked_offcuts.to_string(),
            c.state.to_owned(),
            c.short.join("; "),
        ]
    };
    match form {
        Form::Json => desk.json(&List { classes }),
        Form::Csv => {
            let header = ["name", "date", "seats", "samples", "booked", "booked_offcuts", "state", "short"];
            desk.out.write_all(&csv::table(&header, classes.iter().map(cells)))?;
            Ok(())
        }
        Form::Text => {
            if classes.is_empty() {
                writeln!(desk.note, "no class or batch yet: trimside project add NAME makes one")?;
            }
            let columns = [
                words("name"),
                words("day"),
                number("seats"),
                number("samples").minor(),
                number("booked").minor(),
                number("offcuts").minor(),
                words("state"),
                words("short"),
            ];
            let cells: Vec<Vec<String>> = classes.iter().map(|c| cells(c).to_vec()).collect();
            desk.table(&columns, &cells, |n| !classes[n].short.is_empty())?;
            Ok(())
        }
    }
}

fn cost_row(book: &Book, costs: &Costs) -> CostRow {
    CostRow {
        currency: book.settings().currency.clone(),
        opened: major(costs.opened),
        by_yield: major(costs.by_yield),
        work: major(costs.work),
        made: costs.made,
        handed_out: costs.handed_out,
        a_card_made: costs.a_card_made().exact(),
        a_card_handed_out: costs.a_card_out().exact(),
        a_card_by_yield: costs.a_card_by_yield().exact(),
        a_seat: costs.a_seat().map(major),
        break_even: costs.break_even().map(major),
        left_over: costs.left_over().map(major),
        without_price: costs.unpriced.iter().map(|i| book.items().name_of(*i)).collect(),
        priced: costs.priced().word(),
        hours: costs.minutes as f64 / 60.0,
        room: major(costs.room),
        adhesive: major(costs.adhesive),
        ink: major(costs.ink),
        total: major(costs.total()),
        break_even_seats: costs.break_even_seats(),
        margin: costs.margin,
        price_for_margin: costs.margin.and_then(|m| costs.price_for(m)).map(major),
    }
}

pub(super) fn shown(
    desk: &mut Desk<'_>,
    book: &Book,
    (name, margin): (&str, Option<&str>),
    form: Form,
) -> anyhow::Result<()> {
    let id = find(book, name).map_err(BadInput)?;
    let margin =
        margin.map_or(Ok(None), figures::margin).map_err(|why| BadInput(format!("--margin: {why}")))?;
    let Some(project) = book.projects().get(id) else {
        return Err(BadInput("the class is gone".to_owned()).into());
    };
    let mut look = look(book, id)?;
    look.costs.margin = margin.or(look.costs.margin);
    let unit = desk.unit;
    let answer = Shown {
        class: class_row(book, id, project, &look),
        unit: unit.sign(),
        basis: match look.basis {
            Basis::Booked => "booked",
            Basis::Planned => "planned",
            Basis::Bound => "bound",
        },
        needs: needs(book, &look),
        offcuts: offcuts(book, &look, unit),
        pieces: PieceRow { needed: look.pieces.0, cut: look.cut, still: look.pieces.1 },
        stages: stages(project),
        tasks: Stage::TASKS.into_iter().filter_map(|task| stage_row(project, task)).collect(),
        kit: kit(book, &look, unit),
        costs: cost_row(book, &look.costs),
        others: look.others.iter().map(|o| other(book, o)).collect(),
        takings: takings_row(&takings::of_project(project, &look.costs)),
        notes: look.notes.clone(),
    };
    match form {
        Form::Json => desk.json(&answer),
        Form::Csv => {
            let header = ["name", "needed", "used", "still", "booked", "free", "missing"];
            let cells = answer.needs.into_iter().map(|n| {
                [
                    n.name,
                    n.needed.to_string(),
                    n.used.to_string(),
                    n.still.to_string(),
                    n.booked.to_string(),
                    n.free.to_string(),
                    n.missing.to_string(),
                ]
            });
            desk.out.write_all(&csv::table_with_numbers(&header, cells, &[5]))?;
            Ok(())
        }
        Form::Text => shown_text(desk, &answer, (book, project, &look), unit),
    }
}

fn other(book: &Book, other: &Other) -> OtherRow {
    OtherRow {
        class: book.projects().name_of(other.project),
        date: other.on.map(|d| d.to_string()),
        item: book.items().name_of(other.item),
        count: other.count,
        first: other.is_first,
    }
}

fn needs(book: &Book, look: &Outlook) -> Vec<NeedRow> {
    let row = |n: &crate::domain::stock::outlook::Need| NeedRow {
        name: book.items().name_of(n.item),
        needed: n.needed,
        used: n.used,
        still: n.still(),
        booked: n.booked,
        free: n.free,
        missing: n.missing,
    };
    look.needs.iter().map(row).collect()
}

fn offcuts(book: &Book, look: &Outlook, unit: Unit) -> Vec<OffcutRow> {
    let row = |o: &OffcutNeed| {
        let size = book.offcuts().get(o.offcut).map(|r| r.size).unwrap_or_default();
        OffcutRow {
            name: book.offcut_title(o.offcut),
            width: size.width.in_unit(unit),
            height: size.height.in_unit(unit),
            needed: o.needed,
            used: o.used,
            booked: o.booked,
        }
    };
    look.offcuts.iter().map(row).collect()
}

fn stages(project: &Project) -> Vec<StageRow> {
    let (done, of) = project.prepared();
    let prepared = StageRow { stage: Stage::Prepared.word(), done, of };
    let all = Stage::ALL.into_iter().filter(|stage| *stage > Stage::Prepared);
    std::iter::once(prepared).chain(all.filter_map(|stage| stage_row(project, stage))).collect()
}

fn stage_row(project: &Project, stage: Stage) -> Option<StageRow> {
    let of = project.stage_total(stage)?;
    Some(StageRow { stage: stage.word(), done: project.stages.done(stage), of })
}

fn kit(book: &Book, look: &Outlook, unit: Unit) -> Vec<KitRow> {
    let row = |k: &class::KitLine| KitRow {
        name: k.name_alone(book),
        made_by: k.size.map(|_| k.made_by.word()),
        item: k.item.map(|i| book.items().name_of(i)).unwrap_or_default(),
        width: k.size.map(|s| s.width.in_unit(unit)),
        height: k.size.map(|s| s.height.in_unit(unit)),
        a_seat: k.a_seat,
    };
    look.kit.iter().map(row).collect()
}

fn shown_text(
    desk: &mut Desk<'_>,
    answer: &Shown,
    (book, project, look): (&Book, &Project, &Outlook),
    unit: Unit,
) -> anyhow::Result<()> {
    let class = &answer.class;
    let day = class.date.clone().unwrap_or_else(|| "no day".to_owned());
    writeln!(desk.out, "{}: {day}, {}, {}", harmless(&class.name), project.made_for(), class.state)?;
    if look.basis == Basis::Bound {
        writeln!(desk.out, "no plan yet: at least these sheets")?;
    }
    let columns = [
        words("item"),
        number("needed"),
        number("used"),
        number("still"),
        number("booked"),
        number("free"),
        number("missing"),
    ];
    let cells: Vec<Vec<String>> = answer
        .needs
        .iter()
        .map(|n| {
            let counts = [n.needed, n.used, n.still, n.booked].map(|c| c.to_string());
            let rest = [n.free.to_string(), n.missing.to_string()];
            std::iter::once(n.name.clone()).chain(counts).chain(rest).collect()
        })
        .collect();
    desk.table(&columns, &cells, |n| answer.needs[n].missing > 0)?;
    for o in &answer.offcuts {
        writeln!(
            desk.out,
            "{}: {} needed, {} used, {} booked",
            harmless(&o.name),
            o.needed,
            o.used,
            o.booked
        )?;
    }
    let pieces = &answer.pieces;
    writeln!(
        desk.out,
        "pieces: {} to cut, {} cut, {} still to cut",
        pieces.needed, pieces.cut, pieces.still
    )?;
    for s in answer.tasks.iter().chain(&answer.stages) {
        writeln!(desk.out, "{}: {} of {}", s.stage, s.done, s.of)?;
    }
    let columns = [
        number(if project.kit_of() == "seat" { "a seat" } else { "a set" }),
        words("kit"),
        words("size"),
        words("of"),
    ];
    let cells: Vec<Vec<String>> = answer
        .kit
        .iter()
        .zip(&look.kit)
        .map(|(k, line)| {
            let size = line.size.map_or_else(String::new, |s| s.as_made(unit));
            vec![k.a_seat.to_string(), line.title(book), size, k.item.clone()]
        })
        .collect();
    desk.table(&columns, &cells, |_| false)?;
    for (label, words) in cost_told::costs(&look.costs, &answer.costs.currency) {
        writeln!(desk.out, "{label}: {words}")?;
    }
    for (label, words) in cost_told::takings(book, project, &look.costs) {
        writeln!(desk.out, "{label}: {}", harmless(&words))?;
    }
    for other in &look.others {
        writeln!(desk.out, "{}", harmless(&other.words(book)))?;
    }
    for words in class.short.iter().cloned().chain(answer.notes.iter().cloned()) {
        writeln!(desk.note, "{}", harmless(&words))?;
    }
    Ok(())
}
