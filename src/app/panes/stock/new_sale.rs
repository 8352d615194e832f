//! What was sold after a class, as a form: what, how many, what all of it brought, whether it came from the shelf.

use super::typed::count;
use crate::app::panes::form::{FieldTakes, FormRow, FormTable, Offer, OneLine, Sight};
use crate::app::reply::{Replies, Reply};
use crate::app::state::forms::FormFor;
use crate::domain::money::Money;
use crate::domain::project::Project;
use crate::domain::stock::ProjectId;
use crate::domain::stock::held_class::{self, Ware};

const WHAT: usize = 0;
const COUNT: usize = 1;
const PRICE: usize = 2;
const FROM: usize = 3;

/// Where it came from.
const SOURCES: [&str; 2] = ["the shelf", "ordered"];

/// The form.
pub static TABLE: FormTable = FormTable {
    title: |s| format!("Sold after {}", class(s).map_or("", |(_, p)| &p.name)),
    rows: &ROWS,
    start: |_| WHAT,
    one_line,
    take,
    again: |s| Some(s.what.clone()),
};

static ROWS: [FormRow; 4] = [
    FormRow::new("what", "a line of the shelf, kit, or anything by name", |s, t| {
        if t.is_empty() {
            return Err("write what was sold: a line of the shelf, kit, or anything by name".to_owned());
        }
        Ok(match Ware::read(s.ctx.book, t, is_ordered(s)) {
            Ware::Kits => class(s).map_or_else(String::new, |(_, p)| format!("{} left over", p.kits_left())),
            Ware::Shelf(item) => format!("{} on the shelf", s.ctx.book.on_hand(item)),
            Ware::Other(_) => "no line of the shelf: only noted".to_owned(),
        })
    })
    .offers(FieldTakes::Text, |s| {
        let left = class(s).map_or(0, |(_, p)| p.kits_left());
        let kit = (left > 0).then(|| Offer::new("kit", format!("{left} left over")));
        let book = s.ctx.book;
        let held = book.items().iter().filter(|(id, i)| !i.kind.is_paper() && book.on_hand(*id) > 0);
        kit.into_iter()
            .chain(held.map(|(id, i)| Offer::new(i.name.clone(), format!("{} on hand", book.on_hand(id)))))
            .collect()
    }),
    FormRow::new("how many", "that were sold", |_, t| count(t, 1).map(|_| String::new()))
        .fits(|_| "1".to_owned()),
    FormRow::new("total price", "what all of them brought", |s, t| {
        Money::parse(t, s.currency()).map(|m| m.show(s.currency())).map_err(|e| e.to_string())
    }),
    FormRow::new("from", "the shelf, where its count goes down, or ordered for somebody", |_, _| {
        Ok(String::new())
    })
    .fits(|_| SOURCES[0].to_owned())
    .offers(FieldTakes::Choice, |_| SOURCES.map(|text| Offer::new(text, "")).into()),
];

fn class<'a>(s: &Sight<'a>) -> Option<(ProjectId, &'a Project)> {
    let FormFor::Sold(id) = s.what else { return None };
    Some((*id, s.ctx.book.projects().get(*id)?))
}

fn is_ordered(s: &Sight) -> bool {
    s.text(FROM) == SOURCES[1]
}

/// `2 soot ink pad 19.00`: how many of what for how much.
fn one_line(_: &Sight, at: usize, text: &str) -> OneLine {
    let (count, rest) = text.split_once(' ').filter(|_| at == WHAT)?;
    let (what, price) = rest.trim().rsplit_once(' ')?;
    count.parse::<u32>().ok()?;
    let what = what.trim().trim_start_matches("of ").trim_end_matches(" for");
    let is_price = price.chars().any(|c| c.is_ascii_digit());
    is_price.then(|| Ok([what, count, price, SOURCES[0]].map(str::to_owned).into()))
}

fn take(s: &Sight) -> Replies {
    let (id, _) = class(s).ok_or("this class is gone")?;
    let ware = Ware::read(s.ctx.book, s.text(WHAT), is_ordered(s));
    let takings = Money::parse(s.text(PRICE), s.currency()).map_err(|e| e.to_string())?;
    let sold = (ware, count(s.text(COUNT), 1)?);
    Ok(vec![Reply::Edit(held_class::sold(s.ctx.book, id, sold, takings, s.ctx.today)?)])
}
