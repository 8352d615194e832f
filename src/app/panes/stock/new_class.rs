//! A new class as a form: name, seats, sample sets, day, the cards that are taught, what a seat is charged.

use super::typed::count;
use crate::app::panes::form::{FieldTakes, FormRow, FormTable, Offer, OneLine, Sight};
use crate::app::reply::{Replies, Reply};
use crate::domain::days::{self, DayWay};
use crate::domain::edit::{Edit, Row as BookRow};
use crate::domain::money::Money;
use crate::domain::plural::count_of;
use crate::domain::project::Project;
use crate::domain::stock::designs;

const NAME: usize = 0;
const SEATS: usize = 1;
const SAMPLES: usize = 2;
const DAY: usize = 3;
const DESIGNS: usize = 4;
const PRICE: usize = 5;
const SETS: usize = 6;
const SPARES: usize = 7;

/// Seats of the first class (our own choice: a table or two).
const USUAL_SEATS: &str = "12";
/// From so many on, seats are asked about once.
const MANY_SEATS: u32 = 200;

/// The form.
pub static TABLE: FormTable = FormTable {
    title: |_| "New class or batch".to_owned(),
    rows: &ROWS,
    start: |_| NAME,
    one_line,
    take,
    again: |_| None,
};

static ROWS: [FormRow; 8] = [
    FormRow::new("name", "what you call it", read_name),
    FormRow::new("seats", "how many pay for a seat; 0 for a batch that is no class", |_, t| {
        Ok(match count(t, 0)? {
            0 => "a batch, no class".to_owned(),
            n => count_of(u64::from(n), "seat"),
        })
    })
    .fits(|s| last(s).filter(|p| p.seats > 0).map_or_else(|| USUAL_SEATS.to_owned(), |p| p.seats.to_string()))
    .doubts(|_, t| many_seats(t)),
    FormRow::new("sample sets", "made beside the seats, to show", |s, t| {
        let (seats, samples) = (count(s.text(SEATS), 0).unwrap_or(0), count(t, 0)?);
        Ok(format!("{} in all", count_of(u64::from(seats) + u64::from(samples), "set")))
    })
    .fits(|s| if s.text(SEATS) == "0" { "0" } else { "1" }.to_owned()),
    FormRow::new("day", "12 dec, sat, +10 or 2026-12-12; empty until you know it", |s, t| {
        if t.is_empty() {
            return Ok("no day yet".to_owned());
        }
        days::read(t, s.ctx.today, DayWay::Ahead).map(|d| days::words(d, s.ctx.today))
    })
    .doubts(|s, t| {
        let day = days::read(t, s.ctx.today, DayWay::Ahead).ok().filter(|d| *d < s.ctx.today)?;
        Some(format!("{}: that day has passed", days::words(day, s.ctx.today)))
    }),
    FormRow::new(
        "designs",
        "the cards that are made: cards or whole projects, with commas between",
        read_designs,
    )
    .fits(usual_designs)
    .offers(FieldTakes::Several, offered),
    FormRow::new("price of a seat", "what a seat is charged; empty for none", |s, t| {
        if t.is_empty() {
            return Ok("no price".to_owned());
        }
        Money::parse(t, s.currency()).map(|m| m.show(s.currency())).map_err(|e| e.to_string())
    })
    .fits(|s| last(s).and_then(|p| p.seat_price).map_or_else(String::new, |m| m.show("")))
    .doubts(|s, t| {
        let (now, was) = (Money::parse(t, s.currency()).ok()?, last(s)?.seat_price?);
        super::typed::is_far(now, was).then(|| {
            format!("{} where a seat cost {} before", now.show(s.currency()), was.show(s.currency()))
        })
    }),
    FormRow::new("sets a seat", "how many sets each seat makes, a kit each", |s, t| {
        let sets = u64::from(count(t, 1)?) * u64::from(count(s.text(SEATS), 0).unwrap_or(0));
        Ok(format!("{} for the seats", count_of(sets, "set")))
    })
    .fits(|_| "1".to_owned())
    .where_(has_seats),
    FormRow::new("spare sets", "packed beside seats and samples", |_, t| count(t, 0).map(|_| String::new()))
        .fits(|_| "0".to_owned())
        .where_(has_seats),
];

fn has_seats(s: &Sight) -> bool {
    count(s.text(SEATS), 0).is_ok_and(|n| n > 0)
}

/// The class that was made last.
fn last<'a>(s: &Sight<'a>) -> Option<&'a Project> {
    s.ctx.book.projects().iter().rfind(|(_, p)| p.seats > 0).map(|(_, p)| p)
}

fn read_name(s: &Sight, text: &str) -> Result<String, String> {
    if text.is_empty() {
        return Err("the class needs a name: write what you call it".to_owned());
    }
    let same = s.ctx.book.find_project(text).is_some();
    Ok(if same { "there is one of that name already".to_owned() } else { String::new() })
}

/// Seats by the hundred fit no room that cards are made in.
pub fn many_seats(text: &str) -> Option<String> {
    count(text, 0).ok().filter(|n| *n >= MANY_SEATS).map(|n| format!("{n} seats"))
}

/// The cards of the project in hand.
fn usual_designs(s: &Sight) -> String {
    let project = s.ctx.book.active_project().filter(|p| !p.cards.is_empty());
    project.map_or_else(String::new, |p| p.name.clone())
}

fn offered(s: &Sight) -> Vec<Offer> {
    let book = s.ctx.book;
    designs::all(book).into_iter().map(|d| Offer::new(d.name(book), d.detail(book))).collect()
}

fn read_designs(s: &Sight, text: &str) -> Result<String, String> {
    let found = designs::read(text, s.ctx.book)?;
    if found.is_empty() {
        return Ok("no card yet: Mats adds some".to_owned());
    }
    let is_of_a_batch = |d: &designs::Design| {
        let (designs::Design::Whole(id) | designs::Design::Card(id, _)) = d;
        s.ctx.book.projects().get(*id).is_some_and(|p| p.seats == 0 && p.cards.iter().any(|c| c.count > 1))
    };
    let is_turned = has_seats(s) && found.iter().any(is_of_a_batch);
    let names = found.into_iter().map(|d| match d {
        designs::Design::Whole(_) => format!("{}, {}", d.name(s.ctx.book), d.detail(s.ctx.book)),
        designs::Design::Card(..) => d.name(s.ctx.book),
    });
    let names = names.collect::<Vec<_>>().join("; ");
    Ok(if is_turned { format!("{names}; once a seat each") } else { names })
}

/// `Spring class, 9`: name and seats.
fn one_line(s: &Sight, at: usize, text: &str) -> OneLine {
    let (name, seats) = text.rsplit_once(',').filter(|_| at == NAME)?;
    seats.trim().parse::<u32>().ok()?;
    let samples = if seats.trim() == "0" { "0" } else { "1" };
    let designs = usual_designs(s);
    Some(Ok([name.trim(), seats.trim(), samples, "", &designs, "", "1", "0"].map(str::to_owned).into()))
}

fn take(s: &Sight) -> Replies {
    let book = s.ctx.book;
    let found = designs::read(s.text(DESIGNS), book)?;
    let mut class = designs::class_of(book, s.text(NAME), count(s.text(SEATS), 0)?, &found);
    class.samples = count(s.text(SAMPLES), 0)?;
    class.date = match s.text(DAY) {
        "" => None,
        text => Some(days::read(text, s.ctx.today, DayWay::Ahead)?),
    };
    class.seat_price = match s.text(PRICE) {
        "" => class.seat_price,
        text => Some(Money::parse(text, s.currency()).map_err(|e| e.to_string())?),
    };
    if has_seats(s) {
        class.teaching.sets_a_seat = count(s.text(SETS), 1)?;
        class.teaching.spare_sets = count(s.text(SPARES), 0)?;
    }
    let id = book.projects().next();
    Ok(vec![Reply::Edit(Edit::Project(BookRow::add(id, class))), Reply::Class(id)])
}
