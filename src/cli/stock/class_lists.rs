//! `trimside stock class kits`, `calendar` and `year`: what is left over, what is due, what a year brought.

use super::ask::Form;
use super::class::settled;
use super::rows::{major, takings_row};
use crate::cli::{BadInput, Desk, today};
use crate::domain::book::Book;
use crate::domain::cutting::plan::Plan;
use crate::domain::figures::day;
use crate::domain::money::Money;
use crate::domain::planning::ProjectJob;
use crate::domain::plural::count_of;
use crate::domain::project::Progress;
use crate::domain::stock::ProjectId;
use crate::domain::stock::calendar;
use crate::domain::stock::needs::Settled;
use crate::domain::stock::takings::{self, KitsLeft, Takings, Year};
use crate::exchange::write::stock as csv;
use crate::exchange::write::text::{number, words};
use serde_json::json;
use std::collections::BTreeMap;

pub(super) fn kits(desk: &mut Desk<'_>, book: &Book, form: Form) -> anyhow::Result<()> {
    let all = takings::kits(book);
    let cells = |k: &KitsLeft| {
        let cost = k.cost.map_or_else(String::new, |m| m.to_string());
        [k.name.clone(), k.on.map_or_else(String::new, |d| d.to_string()), k.left.to_string(), cost]
    };
    match form {
        Form::Json => {
            let row = |k: &KitsLeft| {
                json!({
                    "class": k.name, "date": k.on.map(|d| d.to_string()), "left": k.left, "cost": k.cost.map(major),
                })
            };
            desk.json(&json!({ "currency": book.settings().currency, "kits": all.iter().map(row).collect::<Vec<_>>() }))
        }
        Form::Csv => {
            desk.out.write_all(&csv::table(&["class", "date", "left", "cost"], all.iter().map(cells)))?;
            Ok(())
        }
        Form::Text => {
            if all.is_empty() {
                writeln!(desk.note, "no kit is left over: a class taught with --came says how many are")?;
            }
            let columns = [words("class"), words("day"), number("left"), number("material a kit")];
            let rows: Vec<Vec<String>> = all.iter().map(|k| cells(k).to_vec()).collect();
            Ok(desk.table(&columns, &rows, |_| false)?)
        }
    }
}

pub(super) fn calendar(
    desk: &mut Desk<'_>,
    book: &Book,
    (days, from): (u32, Option<&str>),
    form: Form,
) -> anyhow::Result<()> {
    let from = match from {
        Some(text) => day(text).map_err(|why| BadInput(format!("--from: {why}")))?,
        None => today()?,
    };
    let mut plans: BTreeMap<ProjectId, (ProjectJob, Plan)> = BTreeMap::new();
    for (id, _) in book.projects().iter().filter(|(_, p)| p.progress == Progress::Open && p.date.is_some()) {
        plans.insert(id, settled(book, id)?);
    }
    let plan = |id| plans.get(&id).map(|(job, plan)| Settled { job, plan });
    let rows = calendar::calendar(book, from, days, plan);
    let name = |id: Option<ProjectId>| id.map_or_else(String::new, |id| book.projects().name_of(id));
    let cells = |r: &calendar::CalendarRow| {
        [r.on.to_string(), r.due.word().to_owned(), name(r.project), r.count.to_string(), r.words.clone()]
    };
    match form {
        Form::Json => {
            let row = |r: &calendar::CalendarRow| {
                json!({
                    "date": r.on.to_string(), "due": r.due.word(), "class": r.project.map(|id| name(Some(id))),
                    "item": r.item.map(|i| book.items().name_of(i)), "count": r.count, "words": r.words,
                })
            };
            desk.json(&json!({
                "from": from.to_string(), "days": days, "rows": rows.iter().map(row).collect::<Vec<_>>(),
            }))
        }
        Form::Csv => {
            let header = ["date", "due", "class", "count", "words"];
            desk.out.write_all(&csv::table(&header, rows.iter().map(cells)))?;
            Ok(())
        }
        Form::Text => {
            if rows.is_empty() {
                writeln!(desk.note, "nothing is due in {} from {from}", count_of(days.into(), "day"))?;
            }
            let columns = [words("day"), words("due"), words("class"), words("what")];
            let rows: Vec<Vec<String>> = rows
                .iter()
                .map(|r| vec![r.on.to_string(), r.verb(book).to_owned(), name(r.project), r.words.clone()])
                .collect();
            Ok(desk.table(&columns, &rows, |_| false)?)
        }
    }
}

pub(super) fn year(desk: &mut Desk<'_>, book: &Book, year: Option<i16>, form: Form) -> anyhow::Result<()> {
    let last = || takings::years(book).first().copied();
    let year = match year.or_else(last) {
        Some(year) => year,
        None => today()?.year(),
    };
    let told = takings::year(book, year);
    match form {
        Form::Json => desk.json(&year_json(book, &told)),
        Form::Csv => {
            let rows = told.rows.iter().map(takings::YearRow::cells);
            desk.out.write_all(&csv::table_with_numbers(
                &takings::YEAR_COLUMNS,
                rows,
                &takings::YEAR_BELOW_ZERO,
            ))?;
            Ok(())
        }
        Form::Text => year_text(desk, &told),
    }
}

fn year_json(book: &Book, told: &Year) -> serde_json::Value {
    let row = |r: &takings::YearRow| {
        let mut row = json!(takings_row(&r.takings));
        row["date"] = r.on.to_string().into();
        row["name"] = r.name.clone().into();
        row["of_seats"] = r.seats.into();
        row
    };
    let sold = |s: &takings::Sold| json!({ "what": s.what, "count": s.count, "takings": major(s.takings), "cost": major(s.cost) });
    json!({
        "year": told.year,
        "currency": book.settings().currency,
        "classes": told.rows.iter().map(row).collect::<Vec<_>>(),
        "sold": told.sold.iter().map(sold).collect::<Vec<_>>(),
        "came": told.came(),
        "takings": major(told.sum(Takings::all)),
        "cost": major(told.sum(|t| t.cost + t.things_cost)),
        "result": major(told.sum(Takings::result)),
    })
}

fn year_text(desk: &mut Desk<'_>, told: &Year) -> anyhow::Result<()> {
    if told.rows.is_empty() {
        writeln!(desk.note, "no class was taught in {}", told.year)?;
        return Ok(());
    }
    let columns = [
        words("day"),
        words("class"),
        number("came"),
        number("of").minor(),
        number("takings"),
        number("cost"),
        number("result"),
        number("kits left").minor(),
    ];
    let mut rows: Vec<Vec<String>> = told
        .rows
        .iter()
        .map(|r| {
            let t = &r.takings;
            vec![
                r.on.to_string(),
                r.name.clone(),
                t.came.map_or_else(String::new, |n| n.to_string()),
                r.seats.to_string(),
                t.all().to_string(),
                (t.cost + t.things_cost).to_string(),
                t.result().to_string(),
                t.kits_left.to_string(),
            ]
        })
        .collect();
    let sum = |of: fn(&Takings) -> Money| told.sum(of).to_string();
    let all = told.year.to_string();
    rows.push(vec![
        all,
        "in all".to_owned(),
        told.came().to_string(),
        String::new(),
        sum(Takings::all),
        sum(|t| t.cost + t.things_cost),
        sum(Takings::result),
        String::new(),
    ]);
    desk.table(&columns, &rows, |_| false)?;
    if !told.sold.is_empty() {
        writeln!(desk.out)?;
        let columns = [words("sold"), number("count"), number("takings"), number("cost")];
        let rows: Vec<Vec<String>> = told
            .sold
            .iter()
            .map(|s| vec![s.what.clone(), s.count.to_string(), s.takings.to_string(), s.cost.to_string()])
            .collect();
        desk.table(&columns, &rows, |_| false)?;
    }
    Ok(())
}
