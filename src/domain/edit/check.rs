//! What every record must be like before it enters the book, and who may be removed.

use super::{Edit, EditError, Row};
use crate::domain::book::{Book, folded};
use crate::domain::cards::weighed::Weighed;
use crate::domain::harmless::is_blank;
use crate::domain::length::Length;
use crate::domain::project::{
    BookedPlan, CardColour, PaperRef, Progress, Project, ProjectCard, Stage, Teaching,
};
use crate::domain::settings::BookSettings;
use crate::domain::stock::{
    Assortment, Booking, Item, ItemId, KeptTrio, Kind, NamedColour, NewLine, Offcut, OffcutId, Order,
    ProjectId, ProjectWork, Reason, SwatchId,
};
use crate::domain::weight::Weight;

/// More of anything than a shelf holds: a slip of the finger.
pub const MOST: u32 = 1_000_000;
/// Longest name, in characters.
pub const LONGEST_NAME: usize = 200;
/// Longest text of any other field, in characters.
pub const LONGEST_TEXT: usize = 2000;

/// Most layers, or things made beside it, of one card.
const MOST_PARTS: usize = 100;
/// Most pieces alike on one card.
pub const MOST_ALIKE: u32 = 1000;

/// Nothing, or a sentence.
pub type Checked = Result<(), EditError>;

/// Checks an edit of one row against the book as it stands.
pub(super) fn edit(book: &Book, edit: &Edit) -> Checked {
    match edit {
        Edit::Item(Row::Remove(id)) => item_unused(book, *id),
        Edit::Item(row) => row.now().map_or(Ok(()), |i| item(book, row.id(), i)),
        Edit::Swatch(Row::Remove(id)) => swatch_unused(book, *id),
        Edit::Swatch(row) => row.now().map_or(Ok(()), |s| swatch(book, row.id(), s)),
        Edit::Project(Row::Remove(id)) => project_unused(book, *id),
        Edit::Project(row) => row.now().map_or(Ok(()), |p| project(book, row.id(), p)),
        Edit::Offcut(Row::Remove(id)) => offcut_unused(book, *id),
        Edit::Offcut(row) => row.now().map_or(Ok(()), |o| offcut(book, row, o)),
        Edit::Booking(row) => row.now().map_or(Ok(()), |b| booking(book, b)),
        Edit::Order(row) => row.now().map_or(Ok(()), |o| order(book, o)),
        Edit::Assortment(row) => row.now().map_or(Ok(()), |a| assortment(book, a)),
        Edit::Format(row) => row.now().map_or(Ok(()), |f| {
            name(&f.name, "a sheet format")?;
            let same = |(id, other): (_, &super::SheetFormat)| {
                id != row.id() && folded(&other.name) == folded(&f.name)
            };
            unique(book.formats().iter().any(same), "a sheet format", &f.name)
        }),
        Edit::Trio(row) => row.now().map_or(Ok(()), |t| trio(book, t)),
        Edit::Settings { now, .. } => settings(now),
        Edit::LooseCard { now, .. } => now.as_ref().map_or(Ok(()), |c| loose_card(book, c)),
        Edit::Activate { now: Some(id), .. } if book.projects().get(*id).is_none() => {
            Err(gone("project", id.0))
        }
        Edit::Activate { .. } | Edit::Batch { .. } | Edit::Log(_) | Edit::Void { .. } => Ok(()),
    }
}

/// Checks a line before it is given its number. Whether enough is held is the ledger's business.
pub(super) fn line(book: &Book, new: &NewLine) -> Checked {
    if book.items().get(new.item).is_none() {
        return Err(gone("item", new.item.0));
    }
    let has_pieces = new.work.as_ref().is_some_and(|w| !w.pieces.is_empty());
    if new.change == 0 && !has_pieces {
        return bad("0 is no change: give a count of 1 or more");
    }
    if new.change.unsigned_abs() > u64::from(MOST) {
        return Err(EditError::Bad(format!(
            "{} at once is more than a shelf holds: give a count up to {MOST}",
            new.change.unsigned_abs()
        )));
    }
    if let Some(id) = new.offcut {
        match book.offcuts().get(id) {
            None => return Err(gone("offcut", id.0)),
            Some(o) if o.item != new.item => return bad("the offcut is of another paper than the line says"),
            Some(_) => {}
        }
    }
    text(&new.job, "job")?;
    text(&new.lot, "lot")?;
    if let Some(work) = &new.work {
        line_work(book, work)?;
    }
    let fits = match (new.reason, new.offcut.is_some()) {
        (Reason::Received, false) | (Reason::OffcutMade, true) => new.change > 0,
        // Pieces may come from what lies on the table already: such a line takes no sheet.
        (Reason::Used, false) | (Reason::OffcutUsed, true) => new.change < 0 || has_pieces,
        (Reason::Adjusted, _) => true,
        _ => false,
    };
    if !fits {
        return Err(EditError::Bad(format!(
            "a line \"{}\" cannot change a count by {}",
            new.reason.word(),
            new.change
        )));
    }
    match new.price {
        Some(_) if new.reason != Reason::Received => bad("only what is received has a price of its own"),
        Some(p) if p.minor() < 0 => bad("a price is zero or more"),
        _ => Ok(()),
    }
}

/// What a line did for a project: the project is there, the pieces are countable.
fn line_work(book: &Book, work: &ProjectWork) -> Checked {
    if !book.projects().knows(work.project) {
        return Err(gone("project", work.project.0));
    }
    if work.pieces.len() > MOST as usize || work.layouts.len() > MOST as usize {
        return bad("a line of the log cannot name that many pieces");
    }
    for piece in &work.pieces {
        text(&piece.name, "piece's name")?;
        some(piece.count, "pieces")?;
    }
    work.layouts.iter().try_for_each(|(_, copies)| some(*copies, "sheets of a layout"))
}

/// Checks what an item is in itself; whether the book has room for it is another matter.
///
/// # Errors
/// A sentence.
pub fn vet_item(item: &Item) -> Checked {
    name(&item.name, "an item")?;
    let texts = [
        (&item.back, "other side"),
        (&item.order_number, "order number"),
        (&item.seller, "seller"),
        (&item.edition, "edition"),
        (&item.page, "page"),
        (&item.bought_as, "weight as bought"),
        (&item.collection, "collection"),
        (&item.place, "place"),
        (&item.note, "note"),
    ];
    texts.into_iter().try_for_each(|(t, what)| text(t, what))?;
    count(item.pack, "pack size")?;
    count(item.low, "low mark")?;
    if item.price.is_some_and(|p| p.minor() < 0) {
        return bad("a price is zero or more");
    }
    if item.gsm.is_some_and(|g| !(20..=2000).contains(&g)) {
        return bad("a paper weighs between 20 and 2000 g/m2: check the weight");
    }
    if item.pattern.is_some_and(|p| !p.is_possible()) {
        return bad("the marks of a pattern lie 1/16 to 12 in apart");
    }
    let sizes = [item.size, item.measured];
    if sizes.into_iter().flatten().any(|s| !(s.width.is_positive() && s.height.is_positive())) {
        return bad("a size must be above zero both ways");
    }
    Ok(())
}

fn item(book: &Book, id: ItemId, item: &Item) -> Checked {
    vet_item(item)?;
    let named = item.swatch.iter().chain(&item.colours).chain(&item.back_colours);
    if let Some(s) = named.into_iter().find(|s| book.swatches().get(**s).is_none()) {
        return Err(gone("swatch", s.0));
    }
    if item.kind != Kind::PatternedPaper && !(item.colours.is_empty() && item.back_colours.is_empty()) {
        return bad("only a patterned paper lists several colors: make it one first, or list one color");
    }
    let same = |(other, i): (ItemId, &Item)| other != id && i.kind == item.kind && i.size == item.size;
    unique(book.items_named(&item.name).any(same), "an item of this kind and size called", &item.name)
}

fn item_unused(book: &Book, id: ItemId) -> Checked {
    let by = if book.ledger.has_standing_lines(id) {
        Some("it has lines in the log; mark it gone instead".to_owned())
    } else if book.offcuts().iter().any(|(_, o)| o.item == id) {
        Some("the bin has offcuts of it".to_owned())
    } else if book.booked(id) > 0 {
        Some("sheets of it are booked; release them first".to_owned())
    } else if book.on_order(id) > 0 {
        Some("it is on order".to_owned())
    } else if let Some((_, a)) =
        book.assortments().iter().find(|(_, a)| a.contents.iter().any(|(i, _)| *i == id))
    {
        Some(format!("the pack \"{}\" contains it", a.name))
    } else if book.loose_card().is_some_and(|c| c.items().any(|i| i == id)) {
        Some("the card that is in no project uses it".to_owned())
    } else {
        let user = book.projects().iter().find(|(_, p)| p.items().any(|i| i == id));
        user.map(|(_, p)| format!("the project \"{}\" uses it", p.name))
    };
    unused(book.items().name_of(id), by)
}

fn swatch(book: &Book, id: SwatchId, swatch: &NamedColour) -> Checked {
    name(&swatch.name, "a swatch")?;
    text(&swatch.family, "family")?;
    text(&swatch.note, "note")?;
    swatch.former_names.iter().try_for_each(|n| name(n, "a former name"))?;
    if !swatch.lab.iter().all(|c| c.is_finite() && c.abs() <= 1000.0) {
        return bad(
            "a color's coordinates must be plain numbers: L from 0 to 100, a and b around -128 to 128",
        );
    }
    let same = |(other, s): (SwatchId, &NamedColour)| other != id && folded(&s.name) == folded(&swatch.name);
    unique(book.swatches().iter().any(same), "a swatch", &swatch.name)
}

fn swatch_unused(book: &Book, id: SwatchId) -> Checked {
    let item = book.items().iter().find(|(_, i)| i.shows(id));
    let by = item
        .map(|(_, i)| format!("\"{}\" has this color; merge it into another color instead", i.name))
        .or_else(|| {
            let user = book.projects().iter().find(|(_, p)| p.swatches().any(|s| s == id));
            user.map(|(_, p)| format!("a layer in the project \"{}\" has it", p.name))
        })
        .or_else(|| {
            let is_user = book.loose_card().is_some_and(|c| c.swatches().any(|s| s == id));
            is_user.then(|| "a layer of the card that is in no project has it".to_owned())
        })
        .or_else(|| {
            let trio = book.trios().iter().find(|(_, t)| t.swatches.contains(&id));
            trio.map(|(_, t)| format!("the trio \"{}\" holds it", t.name))
        });
    unused(book.swatches().name_of(id), by)
}

fn trio(book: &Book, trio: &KeptTrio) -> Checked {
    name(&trio.name, "a trio")?;
    text(&trio.note, "note")?;
    if let Some(s) = trio.swatches.iter().find(|s| book.swatches().get(**s).is_none()) {
        return Err(gone("swatch", s.0));
    }
    let [a, b, c] = trio.swatches;
    if a == b || b == c || a == c {
        return bad("a trio is three different colors: choose another for the one named twice");
    }
    Ok(())
}

/// A booked plan's rows: every tree lies within its sheet and names pieces that are there.
fn booked_plan(plan: &BookedPlan) -> Checked {
    let rows = plan.pieces.len();
    for layout in &plan.layouts {
        some(layout.copies, "sheets of a layout")?;
        if !layout.tree.fits(layout.size) || layout.tree.rows().iter().any(|row| *row >= rows) {
            return bad("a layout of the booked plan does not fit its sheet: plan it again");
        }
    }
    for piece in &plan.pieces {
        text(&piece.name, "piece's name")?;
        count(piece.count, "pieces")?;
    }
    Ok(())
}

fn project(book: &Book, id: ProjectId, project: &Project) -> Checked {
    name(&project.name, "a project")?;
    if let Some(plan) = &project.plan {
        booked_plan(plan)?;
    }
    for stage in Stage::ALL {
        count(project.stages.kept(stage), stage.word())?;
    }
    text(&project.note, "note")?;
    for (n, what) in
        [(project.seats, "seats"), (project.samples, "sample sets"), (project.spoilage_fixed, "spoilage")]
    {
        count(n, what)?;
    }
    if project.spoilage_percent > 100 {
        return bad("spoilage over 100 % would be more waste than work: give a percentage from 0 to 100");
    }
    teaching(&project.teaching)?;
    afterwards(project)?;
    project.cards.iter().try_for_each(card)?;
    for piece in &project.pieces {
        name(&piece.name, "a piece")?;
        count(piece.count, "pieces")?;
        allowance(piece.allowance)?;
    }
    project.supplies.iter().try_for_each(|s| count(s.count, "supplies"))?;
    are_there(book, project.items(), project.swatches())?;
    let same = |(other, p): (ProjectId, &Project)| other != id && folded(&p.name) == folded(&project.name);
    unique(book.projects().iter().any(same), "a project", &project.name)
}

/// What a class has beside its cards.
fn teaching(class: &Teaching) -> Checked {
    some(class.sets_a_seat, "sets a seat")?;
    count(class.spare_sets, "spare sets")?;
    count(class.prepare_minutes, "minutes of preparing")?;
    count(class.teach_minutes, "minutes of teaching")?;
    if class.margin.is_some_and(|n| n > 99) {
        return bad("a margin is what is left of the price: give a percentage from 0 to 99");
    }
    match [class.room, class.adhesive, class.ink].into_iter().flatten().find(|m| m.minor() < 0) {
        Some(_) => bad("a price is zero or more"),
        None => Ok(()),
    }
}

/// What came of a class, and the names of those who come.
fn afterwards(project: &Project) -> Checked {
    let after = &project.afterwards;
    for n in [after.came, after.paid].into_iter().flatten() {
        count(n, "people")?;
    }
    if after.sales.len() > MOST as usize || project.attendees.len() > MOST as usize {
        return bad("a class cannot have that many lines of sales or names");
    }
    for sale in &after.sales {
        text(&sale.what, "thing sold")?;
        some(sale.count, "sale")?;
        if sale.takings.minor() < 0 || sale.cost.minor() < 0 {
            return bad("a price is zero or more");
        }
    }
    project.attendees.iter().try_for_each(|n| name(n, "a person"))
}

fn card(card: &ProjectCard) -> Checked {
    name(&card.name, "a card")?;
    count(card.count, "cards")?;
    count(card.spares, "spares")?;
    count(card.envelope_spares, "spare envelopes")?;
    let weighed = [card.weighed.envelope, card.weighed.glue].into_iter().flatten();
    if weighed.into_iter().any(|w| w < Weight::ZERO || w > Weighed::MOST) {
        return bad("what is weighed for a card is between nothing and 2 kg: check the unit");
    }
    parts(card)
}

fn loose_card(book: &Book, loose: &ProjectCard) -> Checked {
    card(loose)?;
    are_there(book, loose.items(), loose.swatches())
}

/// What cards name is in the book.
fn are_there(
    book: &Book,
    mut items: impl Iterator<Item = ItemId>,
    mut swatches: impl Iterator<Item = SwatchId>,
) -> Checked {
    if let Some(item) = items.find(|i| book.items().get(*i).is_none()) {
        return Err(gone("item", item.0));
    }
    match swatches.find(|s| book.swatches().get(*s).is_none()) {
        Some(swatch) => Err(gone("swatch", swatch.0)),
        None => Ok(()),
    }
}

/// Layers and what is made beside a card: counts, texts, and no more of them than a card can hold.
fn parts(card: &ProjectCard) -> Checked {
    if card.layers.len() > MOST_PARTS || card.extras.len() > MOST_PARTS || card.scores.len() > MOST_PARTS {
        return Err(EditError::Bad(format!(
            "a card of more than {MOST_PARTS} layers is a book: leave some out"
        )));
    }
    allowance(card.base_allowance)?;
    for layer in &card.layers {
        allowance(layer.allowance)?;
        text(&layer.name, "layer's name")?;
        few(layer.count, "layers alike")?;
        if let Some(CardColour::Named(name)) = &layer.colour {
            text(name, "color")?;
        }
    }
    card.papers().filter_map(PaperRef::other).try_for_each(|p| text(&p.name, "paper's name"))?;
    card.extras.iter().try_for_each(|e| few(e.count, "pieces alike"))
}

/// The most paper that a piece may need around it on every side.
const MOST_ALLOWANCE: Length = Length::inches(4);

/// Paper around a piece: none, or some, but less than a sheet.
fn allowance(length: Length) -> Checked {
    if length < Length::ZERO || length > MOST_ALLOWANCE {
        return bad("the allowance around a piece is from 0 to 4 in (101.6 mm)");
    }
    Ok(())
}

fn few(n: u32, what: &str) -> Checked {
    if n > MOST_ALIKE {
        return Err(EditError::Bad(format!("{n} {what} on one card are too many: use up to {MOST_ALIKE}")));
    }
    Ok(())
}

fn project_unused(book: &Book, id: ProjectId) -> Checked {
    let by = if book.bookings().iter().any(|(_, b)| b.project == id) {
        Some("sheets are booked for it; release them first".to_owned())
    } else if book.active() == Some(id) {
        Some("it is the active project; choose another one first".to_owned())
    } else {
        None
    };
    unused(book.projects().name_of(id), by)
}

/// What is set aside for a project is given free before it closes: a booking of a closed one could be released, but its
/// release could not be taken back.
pub(super) fn closing(book: &Book, edit: &Edit) -> Checked {
    let Edit::Project(Row::Alter { id, was, now }) = edit else { return Ok(()) };
    let closes = was.progress == Progress::Open && now.progress != Progress::Open;
    if !closes || book.bookings().iter().all(|(_, b)| b.project != *id) {
        return Ok(());
    }
    Err(EditError::Bad(format!(
        "sheets are booked for \"{}\": release them before it is {}",
        now.name,
        now.progress.word()
    )))
}

fn offcut(book: &Book, row: &Row<OffcutId, Offcut>, offcut: &Offcut) -> Checked {
    if book.items().get(offcut.item).is_none() {
        return Err(gone("item", offcut.item.0));
    }
    if !(offcut.size.width.is_positive() && offcut.size.height.is_positive()) {
        return bad("an offcut's size must be above zero both ways");
    }
    // The log's lines name both the offcut and its paper: a change of paper would make old lines lie.
    if let Row::Alter { was, now, .. } = row
        && was.item != now.item
    {
        return bad("an offcut cannot change its paper: keep a new one of the other paper");
    }
    for (t, what) in [(&offcut.job, "job"), (&offcut.place, "place"), (&offcut.note, "note")] {
        text(t, what)?;
    }
    Ok(())
}

fn offcut_unused(book: &Book, id: OffcutId) -> Checked {
    let item = book.offcuts().get(id).map(|o| o.item);
    let by = if item.is_some_and(|item| book.ledger.offcut_has_standing_lines(item, id)) {
        Some("it has lines in the log; use or adjust it to none instead".to_owned())
    } else if book.bookings().iter().any(|(_, b)| b.offcut == Some(id)) {
        Some("it is booked; release it first".to_owned())
    } else {
        None
    };
    unused(book.offcut_title(id), by)
}

fn booking(book: &Book, booking: &Booking) -> Checked {
    match book.projects().get(booking.project) {
        None => return Err(gone("project", booking.project.0)),
        Some(p) if p.progress != Progress::Open => {
            return Err(EditError::Bad(format!(
                "the project \"{}\" is {}: nothing is booked for it",
                p.name,
                p.progress.word()
            )));
        }
        Some(_) => {}
    }
    if book.items().get(booking.item).is_none() {
        return Err(gone("item", booking.item.0));
    }
    if let Some(id) = booking.offcut {
        match book.offcuts().get(id) {
            None => return Err(gone("offcut", id.0)),
            Some(o) if o.item != booking.item => {
                return bad("the offcut is of another paper than was booked");
            }
            Some(_) => {}
        }
    }
    some(booking.count, "booking")
}

fn order(book: &Book, order: &Order) -> Checked {
    if book.items().get(order.item).is_none() {
        return Err(gone("item", order.item.0));
    }
    text(&order.note, "note")?;
    some(order.count, "order")
}

fn assortment(book: &Book, assortment: &Assortment) -> Checked {
    name(&assortment.name, "a pack")?;
    for (t, what) in [
        (&assortment.order_number, "order number"),
        (&assortment.seller, "seller"),
        (&assortment.note, "note"),
    ] {
        text(t, what)?;
    }
    if assortment.contents.is_empty() {
        return bad("this pack is empty: say which items it brings and how many of each");
    }
    for (item, n) in &assortment.contents {
        if book.items().get(*item).is_none() {
            return Err(gone("item", item.0));
        }
        some(*n, "pack")?;
    }
    Ok(())
}

fn settings(settings: &BookSettings) -> Checked {
    if settings.currency.chars().count() > 8 || settings.currency.chars().any(|c| c.is_ascii_digit()) {
        return bad("a currency is a short text without digits, such as $ or EUR");
    }
    if settings.spoilage_percent > 100 {
        return bad("spoilage is a percentage from 0 to 100");
    }
    count(settings.spoilage_fixed, "spoilage")?;
    let lengths = [
        (settings.finest_mark, "finest mark"),
        (settings.offcut_floor.width, "offcut floor"),
        (settings.offcut_floor.height, "offcut floor"),
    ];
    match lengths.into_iter().find(|(l, _)| !l.is_positive()) {
        Some((_, what)) => Err(EditError::Bad(format!("the {what} must be above zero"))),
        None => Ok(()),
    }
}

fn name(name: &str, what: &str) -> Checked {
    if is_blank(name) {
        return Err(EditError::Bad(format!("{what} needs a name that can be seen")));
    }
    if name.chars().count() > LONGEST_NAME {
        return Err(EditError::Bad(format!(
            "a name of {} characters is too long: use up to {LONGEST_NAME}",
            name.chars().count()
        )));
    }
    Ok(())
}

fn text(text: &str, what: &str) -> Checked {
    // Bytes first: no counting through ten million characters only to refuse them.
    if text.len() > LONGEST_TEXT * 4 || text.chars().count() > LONGEST_TEXT {
        return Err(EditError::Bad(format!("the {what} is too long: use up to {LONGEST_TEXT} characters")));
    }
    Ok(())
}

fn count(n: u32, what: &str) -> Checked {
    if n > MOST {
        Err(EditError::Bad(format!("{n} as {what} is more than makes sense: use up to {MOST}")))
    } else {
        Ok(())
    }
}

fn some(n: u32, what: &str) -> Checked {
    if n == 0 {
        return Err(EditError::Bad(format!("{what} of 0: give a count of 1 or more")));
    }
    count(n, what)
}

fn unique(taken: bool, what: &'static str, name: &str) -> Checked {
    if taken { Err(EditError::SameName { what, name: name.to_owned() }) } else { Ok(()) }
}

fn unused(name: String, by: Option<String>) -> Checked {
    by.map_or(Ok(()), |by| Err(EditError::InUse { name, by }))
}

fn gone(what: &'static str, number: u32) -> EditError {
    EditError::Missing { what, number: u64::from(number) }
}

fn bad(sentence: &str) -> Checked {
    Err(EditError::Bad(sentence.to_owned()))
}
