//! No list is gone without a word: in windows of four sizes each list that a view has is drawn, or named with how many rows it
//! holds; and none is hidden in part while rows are free below it.

use super::harness::Bench;
use trimside::app::action::Action;
use trimside::app::model::Model;
use trimside::app::state::plan::Detail;
use trimside::domain::stock::outlook::outlook;

const SIZES: [(u16, u16); 5] = [(60, 18), (80, 24), (120, 36), (160, 50), (200, 60)];

fn at(keys: &str, (width, _): (u16, u16)) -> Bench {
    let mut bench = Bench::opened();
    bench.act(Action::Room(width));
    bench.keys(keys)
}

/// What a list is called over its rows and where it is left out, and how many rows it has.
struct List {
    drawn: String,
    left_out: String,
    rows: usize,
}

fn list(name: &str, rows: usize) -> List {
    List { drawn: name.to_owned(), left_out: format!("{name} ({rows})"), rows }
}

/// The lists of a view, read off the model.
fn lists(view: &str, model: &Model) -> Vec<List> {
    let stock = &model.stock;
    match view {
        "bookings" => vec![
            list("not booked yet", stock.wanted.len()),
            list("in 60 days", stock.calendar.as_ref().unwrap().len()),
        ],
        "reorder" => vec![list("next to run low", stock.orders.next.len())],
        "class" => vec![
            list("what is due", stock.classes.due.len()),
            list("how it is cut", stock.classes.cuts.len()),
            list("kit", stock.classes.outlook.as_ref().unwrap().1.kit.len()),
        ],
        "plan" => {
            let counted = |detail: Detail| {
                let rows = model.yields.plan.lines_of(detail, model.screen.unit).len();
                let named = format!("{} {rows}", detail.word());
                List { drawn: named.clone(), left_out: named, rows }
            };
            Detail::ALL.map(counted).into()
        }
        _ => {
            let of = |n: &trimside::domain::today::Next| {
                let needs = outlook(&model.book, n.project, None).unwrap().needs.len();
                let name = model.book.projects().name_of(n.project);
                let left_out = format!("papers of {name} ({needs})");
                List { drawn: format!("{name} takes"), left_out, rows: needs }
            };
            model.day.figures.next.iter().map(of).collect()
        }
    }
}

#[test]
fn each_list_is_drawn_or_counted() {
    let views = [
        ("bookings", "4 ["),
        ("reorder", "4 ] ] ]"),
        ("class", "4 [ [ j"),
        ("class", "4 [ [ j Enter"),
        ("plan", "1 V"),
        ("today", ""),
    ];
    for (view, keys) in views {
        for size in SIZES.into_iter().skip(1) {
            let bench = at(keys, size);
            let text = bench.text(size.0, size.1);
            let all = lists(view, &bench.model);
            assert!(all.iter().map(|list| list.rows).sum::<usize>() > 8, "{view}");
            let (named, drawn): (Vec<&str>, Vec<&str>) =
                text.lines().partition(|l| l.contains("no room for"));
            let (named, drawn) = (named.join("\n"), drawn.join("\n"));
            // Where not even the names have room, how many lists and rows they are.
            let missing: Vec<&List> =
                all.iter().filter(|l| l.rows > 0 && !drawn.contains(&l.drawn)).collect();
            let rows: usize = missing.iter().map(|list| list.rows).sum();
            let in_all: Vec<usize> =
                named.split(|c: char| !c.is_ascii_digit()).flat_map(str::parse).collect();
            for list in &missing {
                let is_counted = named.contains(&list.left_out)
                    || !named.contains(", ") && in_all.last().is_some_and(|all| *all >= rows);
                assert!(is_counted, "{view} {size:?}: {} of {}\n{text}", list.drawn, list.rows);
            }
        }
    }
}

/// Rows that are free below a cell, in the columns from it on: blank rows beyond the one that keeps parts apart, down to a line
/// across the screen or the end of the pane.
fn free_below(rows: &[Vec<char>], (x, y): (usize, usize)) -> usize {
    let cells = |y: usize| (x..x + 16).map(move |x| rows[y].get(x).copied().unwrap_or(' '));
    let end = (y + 1..rows.len() - 2).find(|y| cells(*y).all(|c| c == '─')).unwrap_or(rows.len() - 2);
    let is_blank: Vec<bool> = (y + 1..end).map(|y| cells(y).all(|c| c == ' ')).collect();
    is_blank.chunk_by(|a, b| a == b).filter(|run| run[0]).map(|run| run.len() - 1).sum()
}

#[test]
fn no_list_is_hidden_in_part_while_rows_are_free_below_it() {
    let mut found = Vec::new();
    // Boxes over a pane have rows of their own for the row in hand.
    for (view, keys) in super::whole::VIEWS.iter().filter(|(v, _)| !["finder", "steps", "help"].contains(v)) {
        for size in SIZES {
            let text = at(keys, size).text(size.0, size.1);
            let rows: Vec<Vec<char>> =
                text.lines().take(size.1.into()).map(|l| l.chars().collect()).collect();
            for (y, line) in text.lines().enumerate() {
                let Some((before, _)) = line.split_once(" hidden") else { continue };
                // Heights of the chart stand side by side.
                if before.ends_with("heights") {
                    continue;
                }
                let head = before.rsplit("   ").next().unwrap();
                // A number alone stands at the end of the headings, far from what it counts.
                let is_alone = head.trim().parse::<usize>().is_ok();
                let x = if is_alone { 1 } else { before.chars().count() - head.trim_start().chars().count() };
                let free = free_below(&rows, (x, y));
                if free > 1 {
                    found.push(format!("{view} {size:?}: {free} rows are free below {head}\n{text}"));
                }
            }
        }
    }
    assert!(found.is_empty(), "{} lists:\n{}", found.len(), found.join("\n"));
}

/// By hand: of the 32 lines of the shelf 11 are shown, and of the 21 others two run low: wren steps, envelope A2.
#[test]
fn what_presses_among_hidden_rows_is_counted() {
    let text = at("4", (80, 24)).text(80, 24);
    assert!(text.contains("name, 21 hidden (2 low)"), "{text}");
    let mut bench = at("4", (80, 24));
    bench.press("G");
    let text = bench.text(80, 24);
    assert!(text.contains("21 hidden (1 short)"), "{text}");
}
