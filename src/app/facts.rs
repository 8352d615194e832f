//! What a pane says, one fact a line: for the plain mode, for the clipboard, for a reader of screens.
//!
//! The drawn views show the same figures from the same model; this is their text alone, without boxes.

use super::about::{Said, about};
use super::commands::command;
use super::model::Model;
use super::overlay::{Echo, Overlay, Picker};
use super::pane::Pane;
use super::panes::bench;
use super::panes::form;
use super::panes::forms::table;
use super::panes::further;
use super::panes::mats::words as mats_words;
use super::panes::mats::{folded, round};
use super::panes::palette::words::facts as palette_words;
use super::panes::stock;
use super::panes::trimmer;
use super::panes::yields::words;
use super::printing::{PagePreview, PrintDesk};
use super::state::forms::Filling;
use super::state::views::YieldView;
use super::status::Saving;
use super::today;
use super::undo::list;
use super::welcome::WelcomeQuestion;
use crate::app::state::after::AfterCuts;
use crate::app::state::mats::MatsView;
use crate::app::state::plan::Detail;
use crate::app::state::print::PrintLine;
use crate::app::state::yields::step_rows;
use crate::domain::after_cuts;
use crate::domain::cutting::words::STACK_CAUTION;
use crate::domain::cutting::{plan_words, words as cut_words};
use crate::domain::harmless::harmless;
use crate::domain::plural::count_of;

/// Most lines of a list that are read out; the rest is counted.
const MOST: usize = 40;

/// A label and what it says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fact {
    /// What it is about; the same label again means that it changed.
    pub label: String,
    /// What it says.
    pub text: String,
}

fn fact(label: impl Into<String>, text: impl Into<String>) -> Fact {
    Fact { label: label.into(), text: text.into() }
}

/// Everything that is said now: the pane, what lies over it, what happened last.
pub fn facts(model: &Model) -> Vec<Fact> {
    let name = if model.day.is_open { "Today" } else { command(model.pane.command()).title };
    let mut all = vec![fact("pane", name)];
    if let Some(p) = model.book.active_project() {
        all.push(fact("project", &p.name));
    }
    all.extend(pane_facts(model));
    all.extend(model.top().map(|top| overlay_facts(model, top)).unwrap_or_default());
    if !model.pending.is_empty() {
        let begun = super::keymap::written(&model.pending);
        let next = model.keymap.following(&super::resolve::contexts(model), &model.pending);
        let next: Vec<String> = next.iter().map(|(k, id)| format!("{k} {}", command(*id).title)).collect();
        all.push(fact("begun", format!("{begun}, then {}", next.join(", "))));
    }
    all.extend(super::working::now(model).map(|work| fact("working", work.words)));
    match &model.saving {
        Saving::Saved => all.extend(model.unwritten().map(|words| fact("open", words))),
        Saving::Pending(_) => all.push(fact("saving", "the last change is being saved")),
        Saving::Failed(why) => {
            all.push(fact("not saved", format!("{why}; the change is kept in memory and tried again")));
        }
    }
    if let Some(status) = &model.status {
        all.push(fact("said", &status.text));
    }
    all
}

/// The pane's facts as text, a line each.
pub fn as_text(model: &Model) -> String {
    let lines: Vec<String> = pane_facts(model)
        .into_iter()
        .map(|f| format!("{}: {}", harmless(&f.label), harmless(&f.text)))
        .collect();
    lines.join("\n") + "\n"
}

/// What the pane says, with the keys in force where it names one.
fn pane_facts(model: &Model) -> Vec<Fact> {
    let said = facts_of_pane(model).into_iter();
    said.map(|f| Fact { text: model.keymap.say(&f.text), ..f }).collect()
}

fn facts_of_pane(model: &Model) -> Vec<Fact> {
    if model.day.is_open {
        return day(model);
    }
    match model.pane {
        Pane::Yield => match model.yields.view {
            YieldView::Answer => yields(model),
            YieldView::Chart => chart(model),
            YieldView::Plan => plan(model),
            YieldView::Further => further_facts(model),
            YieldView::Bench => at_bench(model),
        },
        Pane::Mats => mats(model),
        Pane::Palette => palette(model),
        Pane::Stock => stock::facts::facts(&model.stock, &model.ctx())
            .into_iter()
            .map(|(label, text)| fact(label, text))
            .collect(),
    }
}

/// The page of the day, a row a fact.
fn day(model: &Model) -> Vec<Fact> {
    let mut all = vec![fact("today", today::rows::heading(&model.ctx()))];
    let picked = model.day.cursor.row(model.day.rows.len());
    for (n, row) in model.day.rows.iter().enumerate() {
        let sign = if picked == Some(n) { " (in hand)" } else { "" };
        let label = format!("{}{sign}", row.section.title().to_lowercase());
        all.push(fact(label, format!("{}: {}", row.what, row.words)));
    }
    all
}

/// What a list or a question over the pane says.
fn overlay_facts(model: &Model, overlay: &Overlay) -> Vec<Fact> {
    match overlay {
        Overlay::Print(desk) => print_facts(model, desk),
        Overlay::History(cursor) => {
            let all = list::steps(model);
            let step = cursor.row(all.len()).and_then(|n| all.get(n));
            let words = step.map(|s| match s.date {
                Some(day) => format!("{day}, {}", list::what(model, s)),
                None => list::what(model, s),
            });
            vec![
                fact("history", format!("{} can be taken back", count_of(all.len() as u64, "step"))),
                fact("picked", words.unwrap_or_else(|| "none".to_owned())),
            ]
        }
        Overlay::Welcome(w) => {
            let (question, answers) = w.words();
            let mut all = vec![fact("question", question)];
            if !answers.is_empty() {
                let listed: Vec<String> = (1..).zip(&answers).map(|(n, a)| format!("{n} {a}")).collect();
                all.push(fact("answers", listed.join("; ")));
                all.extend(answers.get(w.picked()).map(|a| fact("picked", *a)));
            }
            if w.question == WelcomeQuestion::LongestCut {
                let words = "write a length, or none for no limit; Enter alone takes";
                all.push(fact("answers", format!("{words} {}", w.field.text())));
            }
            all.extend(w.refused.iter().map(|why| fact("refused", why)));
            all.extend(w.example.iter().map(|line| fact("example", line)));
            all
        }
        Overlay::Tour => {
            let step = model.tour.as_ref().and_then(|t| Some((t.step, super::tour::STEPS.get(t.step)?)));
            step.map(|(n, s)| fact("tour", format!("step {}: {}", n + 1, model.keymap.say(s.words))))
                .into_iter()
                .collect()
        }
        Overlay::Help(help) => help_facts(model, help),
        Overlay::Form(filling) => form_facts(model, filling),
        Overlay::Confirm(c) => vec![fact("question", format!("{} y or n", c.question))],
        Overlay::Picker(p) => picker_facts(model, p),
        Overlay::Prompt(p) => {
            let read = match &p.echo {
                Echo::Nothing => String::new(),
                Echo::Read(words) => format!(" = {words}"),
                Echo::Refused(why) => format!(" ({why})"),
            };
            vec![fact("typing", format!("{} {}{read}", p.label, p.field.text()))]
        }
    }
}

/// What is chosen from, the row under the cursor, and where rows are told at length, all of that.
fn picker_facts(model: &Model, picker: &Picker) -> Vec<Fact> {
    let rows = count_of(picker.shown.len() as u64, "row");
    let verb = if picker.shown.len() == 1 { "matches" } else { "match" };
    let mut all = vec![fact("choosing", format!("{}, {rows} {verb}", picker.title))];
    let Some(row) = picker.picked() else {
        all.push(fact("picked", "nothing matches"));
        return all;
    };
    all.push(fact("picked", format!("{}, {}", row.label, row.detail)));
    if picker.is_told {
        all.extend(about(model, row).into_iter().map(|said| match said {
            Said::Words(words) => fact("about it", words),
            Said::Fact(label, words) => fact(label, words),
            Said::NotNow(why) => fact("mind", why),
            Said::Colour(id) => fact("color", model.book.swatches().name_of(id)),
        }));
    }
    all
}

/// Every field of a form with what stands in it; the one in hand with its choices.
fn form_facts(model: &Model, filling: &Filling) -> Vec<Fact> {
    let (rows, ctx) = (table(&filling.what), model.ctx());
    let lines = form::lines(rows, &ctx, filling);
    let mut all = vec![fact("form", form::title(rows, &ctx, filling))];
    for line in &lines {
        let read = match &line.echo {
            Echo::Nothing => String::new(),
            Echo::Read(words) => format!(" = {words}"),
            Echo::Refused(why) => format!(" ({why})"),
        };
        all.push(fact(format!("field {}", line.word), format!("{}{read}", line.text)));
    }
    if let Some(line) = lines.iter().find(|l| l.row == filling.form.at) {
        all.push(fact("typing", format!("{}: {}", line.word, line.hint)));
        let offers = form::offers(rows, &ctx, filling);
        if !offers.is_empty() {
            let names: Vec<String> = offers.into_iter().take(MOST).map(|o| o.name).collect();
            all.push(fact("choices", names.join("; ")));
        }
    }
    all
}

/// Keys and topics that match what is searched; all of them are too many to be read out.
fn help_facts(model: &Model, help: &super::overlay::Help) -> Vec<Fact> {
    let mut all = vec![fact("over it", "keys and the craft; / searches, Esc closes it")];
    if help.filter.text().is_empty() {
        return all;
    }
    for context in super::help::order(model) {
        for c in super::help::keys_of(model, help, context) {
            all.push(fact(format!("key {}", model.keymap.texts(c.id).join(" or ")), c.line));
        }
    }
    for t in super::help::craft(help) {
        all.push(fact(&t.title, format!("{} Source: {}", t.text, t.source)));
    }
    all
}

fn print_facts(model: &Model, desk: &PrintDesk) -> Vec<Fact> {
    let kind = desk.kind();
    let mut all = vec![
        fact("print", format!("{} of {}", kind.title(), super::printing::about(model, kind))),
        fact("file", desk.file.text()),
        fact("paper", desk.paper.name()),
        fact("color", if desk.colourless { "no, hatches" } else { "yes" }),
    ];
    let choices = super::printing::choices::rows(model, desk);
    all.extend(
        choices
            .into_iter()
            .map(|row| fact(format!("print {}", row.label), format!("{} (key {})", row.value, row.key))),
    );
    if let Some(line) = desk.typing {
        let typed = if line == PrintLine::File { desk.file.text() } else { desk.entry.text() };
        all.push(fact("typing", format!("{typed:?}: {}", line.hint())));
    }
    match &desk.preview {
        PagePreview::Nothing => all.push(fact("pages", "being counted")),
        PagePreview::Refused(why) => all.push(fact("pages", format!("none: {why}"))),
        PagePreview::Pages(text) => {
            all.push(fact("pages", &text.count));
            all.extend(text.warning.as_ref().map(|words| fact("mind", words)));
            let shown = text.lines.iter().skip(desk.top).take(MOST);
            all.extend(
                shown.enumerate().map(|(n, line)| fact(format!("line {}", desk.top + n + 1), line.trim())),
            );
        }
    }
    all
}

fn yields(model: &Model) -> Vec<Fact> {
    let (pane, unit) = (&model.yields, model.screen.unit);
    let mut all = vec![
        fact("sheet", sheet_words(model)),
        fact("piece", format!("{} = {}", pane.piece.show_with_unit(unit), pane.piece.about(unit.other()))),
        fact("trimmer", trimmer::words(&pane.trimmer, unit)),
        fact("asked for", words::asked_for(pane).join(", ")),
    ];
    if pane.trimmer.sheets_per_stroke > 1 {
        all.push(fact("stroke", trimmer::stroke_words(pane.trimmer.sheets_per_stroke)));
    }
    let Some(current) = pane.current() else {
        all.push(fact("answer", "being worked out"));
        return all;
    };
    let a = &current.answer;
    all.push(fact("upright", format!("{} a sheet", a.upright)));
    all.push(fact("turned", format!("{} a sheet", a.turned)));
    all.push(fact("best", format!("{} a sheet, {}", a.best, words::best_words(pane, a))));
    all.push(fact("slack", words::slack_words(pane, unit)));
    all.extend(words::sheets_words(pane).map(|words| fact("sheets", words)));
    all.extend(cut_words::short_words(a, unit).map(|words| fact("short", words)));
    if let Some(stop) = &a.stop {
        all.push(fact("with stop cuts", words::stop_words(stop)));
    }
    let rows = step_rows(a, unit);
    if !rows.is_empty() {
        all.push(fact("cuts", words::cuts_words(a, pane.trimmer.profile.set_by)));
    }
    for (n, row) in rows.iter().enumerate() {
        let sign = if pane.step.row(rows.len()) == Some(n) { " (in hand)" } else { "" };
        all.push(fact(format!("step {}{sign}", n + 1), &row.full));
    }
    all
}

fn at_bench(model: &Model) -> Vec<Fact> {
    if let Some(at) = model.yields.after.filter(|_| !bench::after::waits_for(&model.yields)) {
        return after_cuts(model, at);
    }
    let Some(run) = &model.yields.run else { return Vec::new() };
    let mut all = vec![
        fact("cutting", &run.title),
        fact("done", format!("{} of {}", run.done, count_of(run.len() as u64, "step"))),
    ];
    all.extend(model.yields.pace.words(run.strokes_left()).map(|words| fact("time", words)));
    all.extend(run.proof_words().or(run.offer_words()).map(|words| fact("one card", words)));
    if let Some(spot) = run.spot() {
        let words = spot.step.words(model.screen.unit);
        let text = format!("{}, {} cut alike: {words}", spot.sheet.name, spot.sheet.copies);
        all.push(fact(format!("step {}", run.done + 1), text));
        all.push(fact("paper", &spot.sheet.paper_name));
        all.push(fact("take", run.take_words(spot, &model.book)));
        all.push(fact("lies", spot.step.lies_words()));
        all.push(fact("strokes", format!("{} of {} counted", run.strokes(), spot.step.strokes)));
        all.extend(run.goes(spot, model.screen.unit).into_iter().map(|g| fact("goes", g)));
        all.extend(run.next_words(model.screen.unit).map(|words| fact("then", words)));
        all.push(fact("caution", model.yields.trimmer.profile.blade.caution()));
    } else {
        all.push(fact("step", "all cut; <bench-next> logs the sheets"));
        all.extend(run.kept().iter().map(|k| fact("offcut", k.words(model.screen.unit))));
        all.push(fact("caution", model.yields.trimmer.profile.blade.rest_words()));
    }
    if run.per_stroke > 1 {
        all.push(fact("caution", STACK_CAUTION));
    }
    all.extend(
        bench::mixed_lots(&model.yields, &model.book, run.sheet_total()).into_iter().map(|m| fact("lots", m)),
    );
    all
}

fn after_cuts(model: &Model, at: AfterCuts) -> Vec<Fact> {
    let sheet = after_cuts::sheet(&model.book, at.project, at.stage, model.screen.unit);
    let Some(sheet) = sheet else { return vec![fact("stage", "the project is gone")] };
    let of = format!("{} of {}", sheet.done, count_of(u64::from(sheet.of), sheet.stage.unit()));
    let mut all =
        vec![fact("after the cuts", model.book.projects().name_of(at.project)), fact(sheet.stage.word(), of)];
    all.extend((1..).zip(&sheet.lines).map(|(n, line)| fact(format!("do {n}"), line)));
    all.extend(sheet.cautions.iter().map(|words| fact("caution", words)));
    all
}

fn plan(model: &Model) -> Vec<Fact> {
    let pane = &model.yields.plan;
    let (Some((_, job)), Some(plan)) = (&pane.job, pane.to_cut()) else {
        return vec![fact("plan", "being worked out")];
    };
    let t = &plan.totals;
    let mut all = vec![
        fact("plan", format!("{}: {}", job.name, plan_words::sheets_and_offcuts(&job.job, plan))),
        fact("least", plan_words::bound_words(&job.job, plan)),
        fact("used", format!("{:.0} % of the paper", t.used_share * 100.0)),
    ];
    all.extend(pane.short.iter().map(|words| fact("short", words)));
    if let Some(both) = pane.plan.as_ref().filter(|both| both.to_cut() != both.as_ref()) {
        all.push(fact("from edge to edge", plan_words::bound_words(&job.job, both)));
    }
    for (n, sheet) in plan.sheets.iter().enumerate() {
        let name = job.job.sheets.get(sheet.sheet).map(|s| s.name.as_str()).unwrap_or_default();
        let words = format!(
            "{} x {name}, {} each, {} % used",
            sheet.copies,
            count_of(sheet.layout.pieces.len() as u64, "piece"),
            plan_words::used_percent(&job.job, sheet),
        );
        all.push(fact(format!("layout {}", n + 1), words));
    }
    all.extend(pane.choices(false).into_iter().map(|c| fact("choice", c)));
    if job.job.trimmer.sheets_per_stroke > 1 {
        all.push(fact("caution", STACK_CAUTION));
    }
    let unit = model.screen.unit;
    for (detail, key) in [
        (Detail::Papers, "paper"),
        (Detail::Leftovers, "leftover"),
        (Detail::Pieces, "piece"),
        (Detail::Steps, "step"),
    ] {
        all.extend(pane.lines_of(detail, unit).into_iter().map(|l| fact(key, l)));
    }
    all.extend(plan.shortages.iter().map(|s| fact("short", s.sentence(&job.job, unit))));
    all.extend(plan.unplaced.iter().map(|u| fact("not planned", u.sentence(&job.job, model.screen.unit))));
    all.extend(job.notes.iter().map(|n| fact("note", n)));
    all
}

fn further_facts(model: &Model) -> Vec<Fact> {
    let page = further::words::page(&model.yields, &model.ctx());
    let mut all = vec![fact("answer", page.heading)];
    all.extend(page.lines.into_iter().map(|line| fact("note", line)));
    let picked = model.yields.further.cursor.row(page.rows.len());
    for (n, row) in page.rows.into_iter().enumerate() {
        let sign = if picked == Some(n) { " (in hand)" } else { "" };
        all.push(fact(format!("row {}{sign}", n + 1), row));
    }
    all.extend(page.detail.into_iter().map(|line| fact("in hand", line)));
    all
}

fn sheet_words(model: &Model) -> String {
    let (pane, unit) = (&model.yields, model.screen.unit);
    let sheet = &pane.sheet.sheet;
    let size = format!("{}, {}", sheet.name, sheet.actual().show_with_unit(unit));
    [vec![size], words::sheet_notes(pane, &model.book, unit)].concat().join(", ")
}

fn chart(model: &Model) -> Vec<Fact> {
    let (pane, unit) = (&model.yields, model.screen.unit);
    let mut all = vec![fact("sheet", sheet_words(model))];
    let cell = pane.chart.as_ref().and_then(|c| c.cell(pane.cell.0, pane.cell.1));
    match cell {
        Some(c) => all.push(fact("size", words::cell_words(c, unit))),
        None => all.push(fact("chart", "being worked out")),
    }
    all
}

fn mats(model: &Model) -> Vec<Fact> {
    let unit = model.screen.unit;
    let card = model.mats.card(&model.book);
    let mut all = vec![fact("card", &card.name), fact("front", card.face.show_with_unit(unit))];
    if model.mats.ruler.open {
        all.extend(labeled(mats_words::on_ruler(&model.mats, &model.ctx())));
        return all;
    }
    let picked = model.mats.layer.row(model.mats.rows(&model.book));
    for (n, row) in mats_words::rows(&model.mats, &model.ctx()).into_iter().enumerate() {
        let sign = if picked == Some(n) { " (picked)" } else { "" };
        let reveal = if row.reveal.is_empty() { String::new() } else { format!(", reveal {}", row.reveal) };
        let marks = if row.marks.is_empty() { String::new() } else { format!(", {}", row.marks) };
        let words = format!("{} {}{reveal}, paper {}{marks}", row.size, unit.sign(), row.paper);
        all.push(fact(format!("{}{sign}", row.name), words));
    }
    if model.mats.view != MatsView::Card {
        all.push(fact("view", model.mats.view.title()));
    }
    all.extend(labeled(mats_words::view(&model.mats, &model.ctx())));
    all.extend(labeled(mats_words::on_ruler(&model.mats, &model.ctx())));
    all.extend(labeled(folded::told(&model.mats, &model.ctx())));
    if model.mats.view != MatsView::Post {
        all.extend(labeled(round::told(&model.mats, &model.ctx())));
    }
    all
}

fn palette(model: &Model) -> Vec<Fact> {
    labeled(palette_words(&model.palette, &model.ctx())).collect()
}

/// Labels with their words as facts; the keys that they name are put in where all facts are.
fn labeled<L: Into<String>>(pairs: Vec<(L, String)>) -> impl Iterator<Item = Fact> {
    pairs.into_iter().map(|(label, words)| fact(label, words))
}
