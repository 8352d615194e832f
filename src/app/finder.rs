//! Narrowing a list by what is typed: the finder, the sheet picker, the project picker.

use super::commands::COMMANDS;
use super::input::list::Cursor;
use super::model::Model;
use super::overlay::{PickRow, Picker, Target};
use super::reach;
use super::state::yields::YieldChoice;
use crate::domain::craft::topics;
use crate::domain::pages::frame::Paper;
use crate::domain::screen::{Screen, Signs, ThemeChoice};
use nucleo_matcher::pattern::{CaseMatching, Normalization, Pattern};
use nucleo_matcher::{Config, Matcher, Utf32Str};

/// Where the words typed were found: the best last.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Found {
    /// Letter by letter, in order, in the name.
    Letters,
    /// Each word somewhere in the name or in what stands beside it.
    Beside,
    /// Each word in the name.
    Name,
    /// The name begins with them.
    Start,
}

/// Narrows a picker to the rows that match its filter, best first; the order of the list breaks ties. Names count before
/// the sentences beside them, where letters strewn over a sentence would match anything.
pub fn narrow(picker: &mut Picker) {
    let typed = picker.filter.text().trim().to_lowercase();
    let pattern = Pattern::parse(&typed, CaseMatching::Ignore, Normalization::Smart);
    let mut matcher = Matcher::new(Config::DEFAULT);
    let mut letters = Vec::new();
    let mut scored: Vec<((Found, u32), usize)> = picker
        .rows
        .iter()
        .enumerate()
        .filter_map(|(n, row)| {
            let score = pattern.score(Utf32Str::new(&row.label, &mut letters), &mut matcher);
            let found = words_in(row, &typed).or(score.map(|_| Found::Letters))?;
            Some(((found, score.unwrap_or(0)), n))
        })
        .collect();
    scored.sort_by_key(|(score, n)| (std::cmp::Reverse(*score), *n));
    picker.shown = scored.into_iter().map(|(_, n)| n).collect();
    picker.cursor = Cursor::default();
}

fn words_in(row: &PickRow, typed: &str) -> Option<Found> {
    let name = row.label.to_lowercase();
    if name.starts_with(typed) {
        return Some(Found::Start);
    }
    if typed.split_whitespace().all(|word| name.contains(word)) {
        return Some(Found::Name);
    }
    let beside = row.detail.to_lowercase();
    typed.split_whitespace().all(|word| name.contains(word) || beside.contains(word)).then_some(Found::Beside)
}

/// The themes; the one under the cursor is shown at once.
pub fn themes(screen: &Screen) -> Picker {
    let rows: Vec<PickRow> = ThemeChoice::ALL.into_iter().map(|t| theme_row(screen, t)).collect();
    let at = ThemeChoice::ALL.iter().position(|t| *t == screen.theme).unwrap_or(0);
    Picker { cursor: Cursor::at(at), before: Some(screen.theme), ..Picker::of("Theme", rows) }
}

fn theme_row(screen: &Screen, theme: ThemeChoice) -> PickRow {
    let is_live = theme != ThemeChoice::Own || screen.own.is_some();
    let detail =
        if is_live { theme.line().to_owned() } else { "none yet: trimside example theme".to_owned() };
    PickRow { label: theme.name().to_owned(), detail, target: Target::Theme(theme), is_live }
}

/// What can be set, each value by name.
fn settings(model: &Model) -> Vec<PickRow> {
    let row = |label: String, detail: &str, target| PickRow {
        label,
        detail: detail.to_owned(),
        target,
        is_live: true,
    };
    let mut rows: Vec<PickRow> = ThemeChoice::ALL
        .into_iter()
        .map(|t| PickRow { label: format!("theme {}", t.name()), ..theme_row(&model.screen, t) })
        .collect();
    for paper in [Paper::Letter, Paper::A4] {
        let label = format!("print on {}", paper.name());
        rows.push(row(label, "setting: the paper in the printer", Target::PrintPaper(paper)));
    }
    let lines = "setting: how lines and bars are drawn";
    rows.push(row("box drawing signs".to_owned(), lines, Target::Signs(Signs::Unicode)));
    rows.push(row("plain ASCII signs".to_owned(), lines, Target::Signs(Signs::Ascii)));
    rows
}

/// Everything the finder knows by name: commands, papers, swatches, projects, settings, words of the craft.
pub fn everything(model: &Model) -> Picker {
    let mut rows: Vec<PickRow> = COMMANDS
        .iter()
        .map(|c| PickRow {
            label: c.title.to_owned(),
            detail: c.line.to_owned(),
            target: Target::Command(c.id),
            is_live: reach::is_live(model, c),
        })
        .collect();
    let row = |label: &str, detail: String, target| PickRow::new(label, detail, target);
    for f in model.formats.all() {
        let size = f.size.show_with_unit(model.screen.unit);
        rows.push(row(
            &f.name,
            format!("sheet format, {size}"),
            Target::Yield(YieldChoice::Format(f.name.clone())),
        ));
    }
    for (id, p) in model.book.projects().iter() {
        rows.push(row(&p.name, "project".to_owned(), Target::Project(Some(id))));
    }
    for (id, i) in model.book.items().iter() {
        rows.push(row(&i.name, i.kind.word().to_owned(), Target::Item(id)));
    }
    for (id, s) in model.book.swatches().iter() {
        rows.push(row(&s.name, format!("swatch, {}", s.family), Target::Swatch(id)));
    }
    rows.extend(settings(model));
    for topic in topics() {
        rows.push(row(&topic.title, "the craft".to_owned(), Target::Topic(topic.title.clone())));
    }
    Picker::of("Find", rows)
}

/// The projects to choose from.
pub fn projects(model: &Model) -> Picker {
    let row = |label: &str, detail: String, id| PickRow::new(label, detail, Target::Project(id));
    let mut rows: Vec<PickRow> = model
        .book
        .projects()
        .iter()
        .map(|(id, p)| {
            let when = p.date.map(|d| format!("{d}, ")).unwrap_or_default();
            row(&p.name, format!("{when}{} cards, {}", p.cards.len(), p.progress.word()), Some(id))
        })
        .collect();
    rows.push(row("no project", "work on loose sizes".to_owned(), None));
    Picker::of("Project", rows)
}
