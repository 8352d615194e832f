//! One line of the shelf field by field: which field is in hand, what is typed into it, what stands there.

use crate::app::panes::stock::typed;

use crate::app::commands::CommandId;
use crate::app::ctx::Ctx;
use crate::app::input::list::Cursor;
use crate::app::reply::Reply;
use crate::app::state::stock::StockPane;
use crate::app::state::stock::texts::StockText;
use crate::app::state::views::StockView;
use crate::domain::stock::field::{Field, Seen};

/// Longest hint that stands before the text, in characters.
const LONGEST_HINT: usize = 36;

/// The fields of the line that is open.
pub fn fields(pane: &StockPane, ctx: &Ctx) -> Vec<Field> {
    let item = pane.open_item().and_then(|id| ctx.book.items().get(id));
    item.map(|i| Field::of(i, &ctx.terms())).unwrap_or_default()
}

/// The field in hand.
pub fn picked(pane: &StockPane, ctx: &Ctx) -> Option<Field> {
    let fields = fields(pane, ctx);
    let row = pane.field.row(fields.len())?;
    fields.get(row).copied()
}

/// Every field of the line that is open, with what stands in it.
pub fn rows(pane: &StockPane, ctx: &Ctx) -> Vec<(Field, String)> {
    let seen = pane.open_item().and_then(|id| Seen::of(ctx.book, id));
    let shown = |seen: &Seen| {
        fields(pane, ctx).into_iter().map(|f| (f, f.shown(seen, &ctx.terms()))).collect::<Vec<_>>()
    };
    seen.as_ref().map(shown).unwrap_or_default()
}

/// Runs a command of the form.
pub fn run_item_form(pane: &mut StockPane, ctx: &Ctx, id: CommandId) -> Vec<Reply> {
    match id {
        CommandId::ItemEdit => {
            if let Some(item) = pane.picked_item() {
                (pane.view, pane.field) = (StockView::Item(item), Cursor::default());
            }
        }
        CommandId::ItemFormClose => close(pane, ctx),
        CommandId::ItemField => return change(pane, ctx).into_iter().collect(),
        _ => {}
    }
    Vec::new()
}

/// Back to the shelf, with the line picked wherever its new name has put it.
fn close(pane: &mut StockPane, ctx: &Ctx) {
    let Some(item) = pane.open_item() else { return };
    pane.view = StockView::Shelf;
    match pane.shown.iter().position(|id| *id == item) {
        Some(at) => pane.cursor = Cursor::at(at),
        None => pane.show(item, ctx.book, ctx.today),
    }
}

/// A field of yes and no is turned at once; any other is typed.
fn change(pane: &StockPane, ctx: &Ctx) -> Option<Reply> {
    let seen = pane.open_item().and_then(|id| Seen::of(ctx.book, id))?;
    let field = picked(pane, ctx)?;
    let now = field.text(&seen.item, &ctx.terms());
    if field.is_switch() {
        let other = if now == "yes" { "no" } else { "yes" };
        return match field.edit(&seen, other, &ctx.terms(), ctx.today) {
            Ok(edit) => edit.map(Reply::Edit),
            Err(why) => Some(Reply::refuse(why)),
        };
    }
    let now = if field == Field::OnOrder { seen.on_order.to_string() } else { now };
    let hint = field.hint().split(';').next().unwrap_or_default();
    // The text needs room on a narrow screen; the form has the whole hint.
    let hint = if hint.len() <= LONGEST_HINT { format!(" ({hint})") } else { String::new() };
    let label = format!("{}{hint}:", field.word());
    Some(typed::prompt(StockText::ItemField(field, Box::new(seen)), label, now))
}
