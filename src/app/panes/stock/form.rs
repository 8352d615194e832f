//! One line of the shelf field by field: which field is in hand, what is typed into it, what stands there.

use crate::app::commands::CommandId;
use crate::app::effect::Effect;
use crate::app::input::list::Cursor;
use crate::app::model::Model;
use crate::app::overlay::{Purpose, StockAsk};
use crate::app::panes::stock::done;
use crate::app::prompt;
use crate::app::state::views::StockView;
use crate::app::status::Status;
use crate::app::update;
use crate::domain::stock::field::{Field, Seen, Terms};

/// Longest hint that stands before the text, in characters.
const LONGEST_HINT: usize = 36;

/// What fields are shown and read by.
pub fn terms(model: &Model) -> Terms<'_> {
    Terms { book: &model.book, formats: &model.formats, unit: model.screen.unit }
}

/// The fields of the line that is open.
pub fn fields(model: &Model) -> Vec<Field> {
    let item = model.stock.open_item().and_then(|id| model.book.items().get(id));
    item.map(|i| Field::of(i, &terms(model))).unwrap_or_default()
}

/// The field in hand.
pub fn picked(model: &Model) -> Option<Field> {
    let fields = fields(model);
    let row = model.stock.field.row(fields.len())?;
    fields.get(row).copied()
}

/// Every field of the line that is open, with what stands in it.
pub fn rows(model: &Model) -> Vec<(Field, String)> {
    let seen = model.stock.open_item().and_then(|id| Seen::of(&model.book, id));
    let shown = |seen: &Seen| {
        fields(model).into_iter().map(|f| (f, f.shown(seen, &terms(model)))).collect::<Vec<_>>()
    };
    seen.as_ref().map(shown).unwrap_or_default()
}

/// Runs a command of the form.
pub fn run(model: &mut Model, id: CommandId) -> Vec<Effect> {
    match id {
        CommandId::ItemEdit => {
            if let Some(item) = model.stock.picked_item() {
                (model.stock.view, model.stock.field) = (StockView::Item(item), Cursor::default());
            }
        }
        CommandId::ItemFormClose => close(model),
        CommandId::ItemField => return change(model),
        _ => {}
    }
    Vec::new()
}

/// Back to the shelf, with the line picked wherever its new name has put it.
fn close(model: &mut Model) {
    let Some(item) = model.stock.open_item() else { return };
    model.stock.view = StockView::Shelf;
    match model.stock.shown.iter().position(|id| *id == item) {
        Some(at) => model.stock.cursor = Cursor::at(at),
        None => model.stock.show(item, &model.book, model.today),
    }
}

/// A field of yes and no is turned at once; any other is typed.
fn change(model: &mut Model) -> Vec<Effect> {
    let seen = model.stock.open_item().and_then(|id| Seen::of(&model.book, id));
    let (Some(field), Some(seen)) = (picked(model), seen) else { return Vec::new() };
    let now = field.text(&seen.item, &terms(model));
    if field.is_switch() {
        let other = if now == "yes" { "no" } else { "yes" };
        return match field.edit(&seen, other, &terms(model), model.today) {
            Ok(Some(edit)) => done(model, edit),
            Ok(None) => Vec::new(),
            Err(why) => {
                model.tell(Status::refused(why));
                Vec::new()
            }
        };
    }
    let now = if field == Field::OnOrder { seen.on_order.to_string() } else { now };
    let hint = field.hint().split(';').next().unwrap_or_default();
    // The text needs room on a narrow screen; the form has the whole hint.
    let hint = if hint.len() <= LONGEST_HINT { format!(" ({hint})") } else { String::new() };
    let label = format!("{}{hint}:", field.word());
    prompt::open(model, Purpose::Stock(StockAsk::ItemField(field, Box::new(seen))), &label, &now);
    Vec::new()
}

/// How a text is read, while it is typed.
///
/// # Errors
/// The sentence that refuses it.
pub fn words(model: &Model, field: Field, seen: &Seen, text: &str) -> Result<String, String> {
    field.words(seen, text, &terms(model), model.today)
}

/// Takes a text: one edit, which rests on the line as it was when the field was taken in hand.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept(model: &mut Model, field: Field, seen: &Seen, text: &str) -> Result<Vec<Effect>, String> {
    match field.edit(seen, text, &terms(model), model.today)? {
        Some(edit) => update::make(model, edit),
        None => Ok(Vec::new()),
    }
}
