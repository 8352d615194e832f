//! What can be read but is hardly meant in a prompt of Stock: it is asked about once. The forms ask the same in their tables.

use super::new_class::many_seats;
use super::typed::is_far;
use crate::app::ctx::Ctx;
use crate::app::state::stock::texts::StockText;
use crate::domain::days;
use crate::domain::figures::ProjectField;
use crate::domain::money::Money;
use crate::domain::stock::field::Field;
use jiff::civil::Date;

/// What to ask about a text; nothing where it is as usual.
pub fn doubt(ctx: &Ctx, what: &StockText, text: &str) -> Option<String> {
    let currency = &ctx.book.settings().currency;
    match what {
        StockText::ClassField(id, row) => {
            let project = ctx.book.projects().get(*id)?;
            match ProjectField::OF_CLASS.get(*row)? {
                ProjectField::Seats => many_seats(text),
                ProjectField::Day => gone_by(text, ctx.today),
                ProjectField::SeatPrice => far(text, project.seat_price?, currency),
                ProjectField::HourRate => far(text, project.hour_rate?, currency),
                _ => None,
            }
        }
        StockText::BookingDay(_) => gone_by(text, ctx.today),
        StockText::ItemField(Field::Price, seen) => far(text, seen.item.price?, currency),
        _ => None,
    }
}

fn far(text: &str, was: Money, currency: &str) -> Option<String> {
    let now = Money::parse(text, currency).ok()?;
    is_far(now, was).then(|| format!("{} where it was {}", now.show(currency), was.show(currency)))
}

fn gone_by(text: &str, today: Date) -> Option<String> {
    let day: Date = text.trim().parse().ok().filter(|d| *d < today)?;
    Some(format!("{}: that day has passed", days::words(day, today)))
}
