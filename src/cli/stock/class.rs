//! Classes and batches: what they need and cost, setting their papers aside, logging them as taught, cancelling.

use super::{ClassDo, ClassWhat, Form, change, show};
use crate::cli::{BadInput, Desk};
use crate::domain::book::Book;
use crate::domain::harmless::harmless;
use crate::domain::length::Unit;
use crate::domain::money::Money;
use crate::domain::project::Project;
use crate::domain::stock::cost::{Costs, Each};
use crate::domain::stock::outlook::{Outlook, outlook};
use crate::domain::stock::{ProjectId, class};
use crate::exchange::write::stock as csv;
use crate::exchange::write::text::{self, number, words};
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
    booked: u64,
    state: &'static str,
    short: Vec<String>,
}

#[derive(Serialize)]
struct Shown {
    #[serde(flatten)]
    class: ClassRow,
    unit: &'static str,
    needs: Vec<NeedRow>,
    kit: Vec<KitRow>,
    costs: CostRow,
    notes: Vec<String>,
}

#[derive(Serialize)]
struct NeedRow {
    name: String,
    needed: u64,
    booked: u64,
    free: i64,
    missing: u64,
}

#[derive(Serialize)]
struct KitRow {
    name: String,
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
}

pub(super) fn run(
    desk: &mut Desk<'_>,
    store: &mut Store,
    what: &ClassWhat,
    form: Form,
) -> anyhow::Result<()> {
    match what {
        ClassWhat::List => list(desk, store.book(), form),
        ClassWhat::Show { name } => shown(desk, store.book(), name, form),
        ClassWhat::Book(ask) => act(desk, store, ask, form, |book, id| {
            let name = book.projects().name_of(id);
            class::book_project(book, id)
                .ok_or_else(|| format!("{} needs no paper yet: give its cards papers", harmless(&name)))
        }),
        ClassWhat::Log { class, again } => act(desk, store, class, form, |book, id| {
            let name = book.projects().name_of(id);
            if !again && book.has_logged(&name) {
                return Err(format!(
                    "lines for {} are in the log already: --again logs its booked papers all the same",
                    harmless(&name)
                ));
            }
            class::log_class(book, id)
        }),
        ClassWhat::Cancel(ask) => act(desk, store, ask, form, |book, id| {
            class::cancel(book, id).ok_or_else(|| "the class is gone".to_owned())
        }),
    }
}

fn find(book: &Book, name: &str) -> Result<ProjectId, String> {
    book.find_project(name).ok_or_else(|| {
        let known: Vec<String> = book.projects().iter().take(5).map(|(_, p)| harmless(&p.name)).collect();
        let known = if known.is_empty() { "there is none yet".to_owned() } else { known.join("; ") };
        format!("no class or batch is called \"{}\": {known}", harmless(name))
    })
}

fn act(
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
    let short = outlook(store.book(), id).map(|o| o.shortages(store.book())).unwrap_or_default();
    for words in &short {
        writeln!(desk.note, "short: {}", harmless(words))?;
    }
    if form == Form::Json {
        let answer = serde_json::json!({ "dry_run": ask.dry_run, "done": label, "short": short });
        return show::json(desk, &answer);
    }
    let dry = if ask.dry_run { " (only shown, nothing is changed)" } else { "" };
    writeln!(desk.out, "{}{dry}", harmless(&label))?;
    Ok(())
}

fn class_row(book: &Book, id: ProjectId, p: &Project, look: &Outlook) -> ClassRow {
    let own = book.bookings().iter().filter(|(_, b)| b.project == id);
    let is_open = p.progress == crate::domain::project::Progress::Open;
    ClassRow {
        name: p.name.clone(),
        date: p.date.map(|d| d.to_string()),
        seats: p.seats,
        samples: p.samples,
        booked: own.map(|(_, b)| u64::from(b.count)).sum(),
        state: p.progress.word(),
        short: if is_open { look.shortages(book) } else { Vec::new() },
    }
}

fn list(desk: &mut Desk<'_>, book: &Book, form: Form) -> anyhow::Result<()> {
    let mut rows: Vec<(ProjectId, &Project)> = book.projects().iter().collect();
    rows.sort_by_key(|(id, p)| (p.date.is_none(), p.date, *id));
    let classes: Vec<ClassRow> =
        rows.into_iter().filter_map(|(id, p)| Some(class_row(book, id, p, &outlook(book, id)?))).collect();
    let cells = |c: &ClassRow| {
        [
            c.name.clone(),
            c.date.clone().unwrap_or_default(),
            c.seats.to_string(),
            c.samples.to_string(),
            c.booked.to_string(),
            c.state.to_owned(),
            c.short.join("; "),
        ]
    };
    match form {
        Form::Json => show::json(desk, &List { classes }),
        Form::Csv => {
            let header = ["name", "date", "seats", "samples", "booked", "state", "short"];
            desk.out.write_all(&csv::table(&header, classes.iter().map(cells)))?;
            Ok(())
        }
        Form::Text => {
            if classes.is_empty() {
                writeln!(desk.note, "no class or batch yet: the workbench makes them")?;
            }
            let columns = [
                words("name"),
                words("day"),
                number("seats"),
                number("samples"),
                number("booked"),
                words("state"),
                words("short"),
            ];
            let cells: Vec<Vec<String>> = classes.iter().map(|c| cells(c).to_vec()).collect();
            write!(desk.out, "{}", text::table(&columns, &cells))?;
            Ok(())
        }
    }
}

fn major(m: Money) -> f64 {
    m.minor() as f64 / 100.0
}

fn each(e: Each) -> f64 {
    e.ten_thousandths() as f64 / 10_000.0
}

fn cost_row(book: &Book, costs: &Costs) -> CostRow {
    CostRow {
        currency: book.settings().currency.clone(),
        opened: major(costs.opened),
        by_yield: major(costs.by_yield),
        work: major(costs.work),
        made: costs.made,
        handed_out: costs.handed_out,
        a_card_made: each(costs.a_card_made()),
        a_card_handed_out: each(costs.a_card_out()),
        a_card_by_yield: each(costs.a_card_by_yield()),
        a_seat: costs.a_seat().map(major),
        break_even: costs.break_even().map(major),
        left_over: costs.left_over().map(major),
        without_price: costs.unpriced.iter().map(|i| book.items().name_of(*i)).collect(),
    }
}

fn shown(desk: &mut Desk<'_>, book: &Book, name: &str, form: Form) -> anyhow::Result<()> {
    let id = find(book, name).map_err(BadInput)?;
    let (Some(project), Some(look)) = (book.projects().get(id), outlook(book, id)) else {
        return Err(BadInput("the class is gone".to_owned()).into());
    };
    let unit = desk.unit;
    let answer = Shown {
        class: class_row(book, id, project, &look),
        unit: unit.sign(),
        needs: needs(book, &look),
        kit: kit(book, &look, unit),
        costs: cost_row(book, &look.costs),
        notes: look.notes.clone(),
    };
    match form {
        Form::Json => show::json(desk, &answer),
        Form::Csv => {
            let header = ["name", "needed", "booked", "free", "missing"];
            let cells = answer.needs.into_iter().map(|n| {
                [
                    n.name,
                    n.needed.to_string(),
                    n.booked.to_string(),
                    n.free.to_string(),
                    n.missing.to_string(),
                ]
            });
            desk.out.write_all(&csv::table_with_numbers(&header, cells, &[3]))?;
            Ok(())
        }
        Form::Text => shown_text(desk, &answer, &look, unit),
    }
}

fn needs(book: &Book, look: &Outlook) -> Vec<NeedRow> {
    let row = |n: &crate::domain::stock::outlook::Need| NeedRow {
        name: book.items().name_of(n.item),
        needed: n.needed,
        booked: n.booked,
        free: n.free,
        missing: n.missing,
    };
    look.needs.iter().map(row).collect()
}

fn kit(book: &Book, look: &Outlook, unit: Unit) -> Vec<KitRow> {
    let row = |k: &class::KitLine| KitRow {
        name: k.name.clone(),
        item: book.items().name_of(k.item),
        width: k.size.map(|s| s.width.in_unit(unit)),
        height: k.size.map(|s| s.height.in_unit(unit)),
        a_seat: k.a_seat,
    };
    look.kit.iter().map(row).collect()
}

fn shown_text(desk: &mut Desk<'_>, answer: &Shown, look: &Outlook, unit: Unit) -> anyhow::Result<()> {
    let class = &answer.class;
    let day = class.date.clone().unwrap_or_else(|| "no day".to_owned());
    writeln!(
        desk.out,
        "{}: {day}, {} seats, {} sample sets, {}",
        harmless(&class.name),
        class.seats,
        class.samples,
        class.state
    )?;
    let columns = [words("item"), number("needed"), number("booked"), number("free"), number("missing")];
    let cells: Vec<Vec<String>> = answer
        .needs
        .iter()
        .map(|n| {
            let counts =
                [n.needed.to_string(), n.booked.to_string(), n.free.to_string(), n.missing.to_string()];
            std::iter::once(n.name.clone()).chain(counts).collect()
        })
        .collect();
    write!(desk.out, "{}", text::table(&columns, &cells))?;
    let columns = [number("a seat"), words("kit"), words("size"), words("of")];
    let cells: Vec<Vec<String>> = answer
        .kit
        .iter()
        .zip(&look.kit)
        .map(|(k, line)| {
            let size = line.size.map_or_else(String::new, |s| s.as_made(unit));
            vec![k.a_seat.to_string(), k.name.clone(), size, k.item.clone()]
        })
        .collect();
    write!(desk.out, "{}", text::table(&columns, &cells))?;
    cost_text(desk, &look.costs, &answer.costs.currency)?;
    for words in class.short.iter().map(|s| format!("short: {s}")).chain(answer.notes.iter().cloned()) {
        writeln!(desk.note, "{}", harmless(&words))?;
    }
    Ok(())
}

fn cost_text(desk: &mut Desk<'_>, costs: &Costs, currency: &str) -> anyhow::Result<()> {
    writeln!(
        desk.out,
        "material {} by sheets opened, {} by yield; a card {currency}{} made ({}), {currency}{} handed out ({})",
        costs.opened.show(currency),
        costs.by_yield.show(currency),
        costs.a_card_made(),
        costs.made,
        costs.a_card_out(),
        costs.handed_out
    )?;
    if let (Some(seat), Some(even)) = (costs.a_seat(), costs.break_even()) {
        let (seat, even, work) = (seat.show(currency), even.show(currency), costs.work.show(currency));
        writeln!(desk.out, "a seat {seat} material; work {work}; break-even price {even}")?;
    }
    Ok(())
}
