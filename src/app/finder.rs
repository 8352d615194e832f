//! Narrowing a list by what is typed: the finder, the sheet picker, the project picker.

use super::commands::COMMANDS;
use super::input::field::Field;
use super::input::list::Cursor;
use super::model::Model;
use super::overlay::{PickRow, Picker, Target};
use super::resolve;
use nucleo_matcher::pattern::{CaseMatching, Normalization, Pattern};
use nucleo_matcher::{Config, Matcher, Utf32Str};

/// A picker over rows, all shown at first.
pub fn picker(title: &'static str, rows: Vec<PickRow>) -> Picker {
    let shown = (0..rows.len()).collect();
    Picker { title, filter: Field::default(), cursor: Cursor::default(), rows, shown }
}

/// Narrows a picker to the rows that match its filter, best first; the order of the list breaks ties.
pub fn narrow(picker: &mut Picker) {
    let pattern = Pattern::parse(picker.filter.text(), CaseMatching::Smart, Normalization::Smart);
    let mut matcher = Matcher::new(Config::DEFAULT);
    let mut letters = Vec::new();
    let mut scored: Vec<(u32, usize)> = picker
        .rows
        .iter()
        .enumerate()
        .filter_map(|(n, row)| {
            let text = format!("{} {}", row.label, row.detail);
            pattern.score(Utf32Str::new(&text, &mut letters), &mut matcher).map(|s| (s, n))
        })
        .collect();
    scored.sort_by_key(|(score, n)| (std::cmp::Reverse(*score), *n));
    picker.shown = scored.into_iter().map(|(_, n)| n).collect();
    picker.cursor = Cursor::default();
}

/// Everything the finder knows by name: commands, papers, swatches, projects.
pub fn everything(model: &Model) -> Picker {
    let mut rows: Vec<PickRow> = COMMANDS
        .iter()
        .map(|c| PickRow {
            label: c.title.to_owned(),
            detail: c.line.to_owned(),
            target: Target::Command(c.id),
            is_live: resolve::holds(model, c.when),
        })
        .collect();
    let row = |label: &str, detail: String, target| PickRow {
        label: label.to_owned(),
        detail,
        target,
        is_live: true,
    };
    for (id, p) in model.book.projects().iter() {
        rows.push(row(&p.name, "project".to_owned(), Target::Project(Some(id))));
    }
    for (id, i) in model.book.items().iter() {
        rows.push(row(&i.name, i.kind.word().to_owned(), Target::Item(id)));
    }
    for (id, s) in model.book.swatches().iter() {
        rows.push(row(&s.name, format!("swatch, {}", s.family), Target::Swatch(id)));
    }
    picker("Find", rows)
}
