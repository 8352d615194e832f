//! `trimside stock`: the arguments and the answer.
//!
//! Reads the book, has edits carried out and saved, and hands rows to [`show`] for people, spreadsheets or programs.

pub(super) mod ask;
pub(super) mod change;
pub(super) mod class;
pub(super) mod class_after;
pub(super) mod class_edit;
mod class_lists;
mod class_verbs;
mod count;
pub(super) mod figures;
mod import;
mod order;
mod refresh;
mod rows;
mod show;
mod ways;

pub use ask::{ClassDo, ClassWhat, Count, StockArgs, StockWhat};
pub use class::look as class_outlook;

use super::{Desk, open_store, today};
use ask::Form;

/// Answers the command.
///
/// # Errors
/// [`super::BadInput`] for what the person can mend, anything else for a failure.
pub fn answer_stock(args: &StockArgs, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let form = match (args.json, args.csv) {
        (true, _) => Form::Json,
        (_, true) => Form::Csv,
        _ => Form::Text,
    };
    let mut store = open_store(desk)?;
    match &args.what {
        StockWhat::List { words } => show::list(desk, store.book(), &words.join(" "), form),
        StockWhat::Log { name } => show::log(desk, store.book(), name.as_deref(), form),
        StockWhat::Reorder => show::reorder(desk, store.book(), today()?, form),
        StockWhat::Order(ask) => order::place(desk, &mut store, ask, form),
        StockWhat::Orders => order::list(desk, store.book(), form),
        StockWhat::Arrived { name, count, price, on, lot, pack_price, dry_run } => {
            let ask = order::Arrival {
                name,
                count,
                price: price.as_deref(),
                on: on.as_deref(),
                lot: lot.as_deref(),
                pack_price: pack_price.as_deref(),
                dry_run: *dry_run,
            };
            order::arrived(desk, &mut store, &ask, form)
        }
        StockWhat::Awaited(ask) => order::awaited(desk, &mut store, ask, form),
        StockWhat::Export => show::export(desk, store.book(), form),
        StockWhat::Use(count) => change::used(desk, &mut store, count, form),
        StockWhat::Receive { count, price, lot } => {
            let (price, lot) = (price.as_deref(), lot.as_deref().unwrap_or_default());
            change::received(desk, &mut store, count, &change::Parcel { price, lot }, form)
        }
        StockWhat::Adjust { name, count, job } => {
            change::adjusted(desk, &mut store, name, (count, job), form)
        }
        StockWhat::Import { file, dry_run } => import::import(desk, &mut store, file, *dry_run, form),
        StockWhat::Class { what } => class_verbs::run(desk, &mut store, what, form),
        StockWhat::Count { file, dry_run } => count::run(desk, &mut store, file, *dry_run, form),
        StockWhat::Refresh { file, seller, last, first, dry_run, exchange } => {
            let (dry_run, exchange) = (*dry_run, *exchange);
            let ask = refresh::Ask { file, seller: seller.as_deref(), last, first, dry_run, exchange };
            refresh::run(desk, &mut store, &ask, form)
        }
    }
}
