//! `plan --most` and `plan --bin`: how many complete cards the shelf gives, and the designs of the book from the bin alone.

use super::{PlanArgs, json as plan_json};
use crate::cli::{BadInput, Desk, open_store};
use crate::domain::book::Book;
use crate::domain::cutting::question::Trimmer;
use crate::domain::cutting::stop::Stop;
use crate::domain::length::{Length, Unit};
use crate::domain::near::instead;
use crate::domain::shelf_answers::most::{self, From, Limit, Most, MostAsk, PaperPlan};
use crate::domain::stock::designs::{self, Design};
use crate::engine::planning::Abreast;
use serde_json::{Value, json};

/// Answers `--most` for a project, or for one card of one.
///
/// # Errors
/// [`BadInput`] for what the person can mend, a failure where the book cannot be read.
pub fn answer_most(args: &PlanArgs, longest_cut: Option<Length>, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let store = open_store(desk)?;
    let trimmer = Trimmer { longest_cut, ..Trimmer::default() };
    let name = args.project.as_deref().unwrap_or_default();
    let design = design(store.book(), name)?;
    let ask = most::ask(store.book(), design, From::Shelf, &trimmer).ok_or_else(|| {
        BadInput(format!("\"{name}\" has no piece with a paper of the shelf: choose its papers in Mats"))
    })?;
    for note in &ask.notes {
        writeln!(desk.note, "{note}")?;
    }
    let answer = most::most(&ask, &mut Abreast, &Stop::default());
    if args.json {
        let value = most_json(&ask, &answer, desk.unit);
        return desk.json(&value);
    }
    for line in most::lines(&ask, &answer) {
        writeln!(desk.out, "{line}")?;
    }
    for paper in &answer.plans {
        show(paper, desk)?;
    }
    Ok(())
}

/// A project by its name, else one of its cards.
fn design(book: &Book, name: &str) -> Result<Design, BadInput> {
    if let Some(id) = book.find_project(name) {
        return Ok(Design::Whole(id));
    }
    let all = designs::all(book);
    let card =
        all.iter().find(|d| matches!(d, Design::Card(..)) && d.name(book).eq_ignore_ascii_case(name.trim()));
    card.copied().ok_or_else(|| {
        let names: Vec<String> = all.iter().map(|d| d.name(book)).collect();
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        BadInput(format!("--project: no project and no card is called \"{name}\": {}", instead(name, &names)))
    })
}

/// How one paper is cut.
fn show(paper: &PaperPlan, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let unit = desk.unit;
    for sheet in &paper.plan.sheets {
        let Some(row) = paper.job.sheets.get(sheet.sheet) else { continue };
        writeln!(desk.out, "\n{} x {}, {}:", sheet.copies, row.name, row.size.about(unit))?;
        let list = row.cut_list(&sheet.tree, &paper.job.trimmer, sheet.copies);
        for (at, step) in list.steps.iter().enumerate() {
            writeln!(desk.out, "  {}. {}", at + 1, step.words(unit))?;
        }
    }
    Ok(())
}

fn most_json(ask: &MostAsk, answer: &Most, unit: Unit) -> Value {
    let plans =
        answer.plans.iter().flat_map(|p| p.plan.sheets.iter().map(|s| plan_json::sheet(&p.job, s, unit)));
    json!({
        "unit": unit.sign(), "project": ask.name, "set": ask.set,
        "most": answer.sets, "bound": answer.bound, "proved": answer.is_proved(), "cards": answer.cards,
        "runs_out_first": answer.limits.iter().take(answer.first).map(|l| l.name.clone()).collect::<Vec<_>>(),
        "with_one_more": answer.with_one_more,
        "limits": answer.limits.iter().map(limit_json).collect::<Vec<_>>(),
        "sheets": plans.collect::<Vec<_>>(),
    })
}

fn limit_json(limit: &Limit) -> Value {
    json!({
        "name": limit.name, "held": limit.held, "most": limit.sets, "bound": limit.bound,
        "with_one_more": limit.with_one_more,
    })
}

/// Answers `--bin`: every card of the book from offcuts alone, ranked.
///
/// # Errors
/// A failure where the book cannot be read.
pub fn from_bin(args: &PlanArgs, longest_cut: Option<Length>, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let store = open_store(desk)?;
    let trimmer = Trimmer { longest_cut, ..Trimmer::default() };
    let asks = most::bin_asks(store.book(), &trimmer);
    let found = most::from_bin(&asks, &mut Abreast, &Stop::default());
    let rows: Vec<(&MostAsk, &Most)> = found.iter().filter_map(|(at, m)| Some((asks.get(*at)?, m))).collect();
    if args.json {
        let projects = store.book().projects();
        let row = |(ask, m): &(&MostAsk, &Most)| {
            json!({
                "card": ask.name, "project": projects.name_of(ask.project),
                "most": m.cards, "bound": m.bound * u64::from(ask.cards_a_set), "proved": m.is_proved(),
                "runs_out_first": m.limits.iter().take(m.first).map(|l| l.name.clone()).collect::<Vec<_>>(),
            })
        };
        let answer = json!({ "designs": rows.iter().map(row).collect::<Vec<_>>(), "asked": asks.len() });
        return desk.json(&answer);
    }
    if rows.is_empty() {
        writeln!(desk.out, "{}", most::NONE_FROM_BIN)?;
    }
    for (ask, m) in rows {
        writeln!(desk.out, "{}", most::bin_words(ask, m))?;
    }
    Ok(())
}
