//! A project with its cards, for people or programs.

use super::told::bad;
use crate::cli::Desk;
use crate::cli::stock::class;
use crate::domain::book::Book;
use crate::domain::cards::parts::PartKind;
use crate::domain::cardwork;
use crate::domain::harmless::harmless;
use crate::domain::length::Unit;
use crate::domain::money::Money;
use crate::domain::project::{CardColour, CardExtra, CardLayer, Project, ProjectCard};
use crate::domain::size::Size;
use crate::domain::stock::{ItemId, booked};
use crate::exchange::write::text::{number, words};
use serde_json::{Value, json};

pub(super) fn project(desk: &mut Desk<'_>, book: &Book, name: &str, is_json: bool) -> anyhow::Result<()> {
    let id = class::find(book, name).map_err(bad)?;
    let Some(project) = book.projects().get(id) else { return Err(bad("this project is gone".to_owned())) };
    if is_json {
        let mut answer = figures(book, project);
        answer["unit"] = desk.unit.sign().into();
        answer["active"] = (book.active() == Some(id)).into();
        answer["booked"] = booked::items(book, id).values().sum::<u64>().into();
        answer["booked_offcuts"] = booked::offcuts(book, id).values().sum::<u64>().into();
        answer["cards"] = project.cards.iter().map(|c| card(book, c, desk.unit)).collect();
        answer["pieces"] = project.pieces.iter().map(|p| {
            let size = sides(p.size, desk.unit);
            json!({ "name": p.name, "made_by": p.made_by.word(), "width": size[0], "height": size[1], "count": p.count, "paper": named(book, p.paper) })
        }).collect();
        answer["supplies"] = project
            .supplies
            .iter()
            .map(|s| json!({ "item": book.items().name_of(s.item), "count": s.count }))
            .collect();
        return desk.json(&answer);
    }
    text(desk, book, project)
}

fn money(m: Option<Money>) -> Option<f64> {
    m.map(|m| m.minor() as f64 / 100.0)
}

fn figures(book: &Book, p: &Project) -> Value {
    json!({
        "name": p.name,
        "date": p.date.map(|d| d.to_string()),
        "seats": p.seats,
        "samples": p.samples,
        "spoilage_percent": p.spoilage_percent,
        "spoilage_pieces": p.spoilage_fixed,
        "seat_price": money(p.seat_price),
        "minutes_a_card": p.minutes_a_card,
        "hour": money(p.hour_rate),
        "sets_a_seat": p.teaching.sets_a_seat,
        "spare_sets": p.teaching.spare_sets,
        "prepare_hours": f64::from(p.teaching.prepare_minutes) / 60.0,
        "teach_hours": f64::from(p.teaching.teach_minutes) / 60.0,
        "room": money(p.teaching.room),
        "adhesive": money(p.teaching.adhesive),
        "ink": money(p.teaching.ink),
        "margin": p.teaching.margin,
        "currency": book.settings().currency,
        "state": p.progress.word(),
        "note": p.note,
    })
}

fn sides(size: Size, unit: Unit) -> [f64; 2] {
    [size.width.in_unit(unit), size.height.in_unit(unit)]
}

fn named(book: &Book, id: Option<ItemId>) -> Option<String> {
    id.map(|id| book.items().name_of(id))
}

/// The color of a layer, where it is not its paper's own.
fn colour(book: &Book, layer: &CardLayer) -> Option<String> {
    layer.colour.as_ref().map(|colour| match colour {
        CardColour::Swatch(id) => book.swatches().name_of(*id),
        CardColour::Named(name) => name.clone(),
    })
}

/// The finished size of each layer; none where the card cannot be made as it stands.
fn sizes(book: &Book, card: &ProjectCard, unit: Unit) -> Vec<Option<Size>> {
    let worked = cardwork::work(book, card, &cardwork::tools(book, unit)).ok();
    let of = |n: usize| worked.as_ref().and_then(|w| w.layers.iter().find(|l| l.index == n)).map(|l| l.exact);
    (0..card.layers.len()).map(of).collect()
}

fn card(book: &Book, card: &ProjectCard, unit: Unit) -> Value {
    let [width, height] = sides(card.face, unit);
    let layers: Vec<Value> = card
        .layers
        .iter()
        .zip(sizes(book, card, unit))
        .enumerate()
        .map(|(n, (layer, size))| {
            let size = size.map(|s| sides(s, unit));
            json!({
                "name": card.layer_name(n), "what": layer.word(), "width": size.map(|s| s[0]), "height": size.map(|s| s[1]),
                "paper": named(book, layer.item()), "colour": colour(book, layer), "count": layer.count,
                "turn": layer.may_turn,
                "made_by": layer.made_by.word(),
            })
        })
        .collect();
    let beside = |e: &CardExtra| json!({ "what": PartKind::of_make(&e.make).word(), "paper": named(book, e.item()), "count": e.count });
    json!({
        "name": card.name, "width": width, "height": height, "fold": card.fold.kind.word(), "count": card.count,
        "spares": card.spares, "paper": named(book, card.base_item()), "envelope": named(book, card.envelope),
        "layers": layers, "beside": card.extras.iter().map(beside).collect::<Vec<_>>(),
    })
}

fn text(desk: &mut Desk<'_>, book: &Book, p: &Project) -> anyhow::Result<()> {
    let day = p.date.map_or_else(|| "no day".to_owned(), |d| d.to_string());
    writeln!(desk.out, "{}: {day}, {}, {}", harmless(&p.name), p.made_for(), p.progress.word())?;
    writeln!(desk.out, "spoilage {} % and {} of a kind", p.spoilage_percent, p.spoilage_fixed)?;
    if !p.note.is_empty() {
        writeln!(desk.out, "note: {}", harmless(&p.note))?;
    }
    for card in &p.cards {
        let size = card.face.as_made(desk.unit);
        let (name, fold) = (harmless(&card.name), card.fold.kind.word());
        writeln!(desk.out, "\n{name}: {size}, {fold} fold, {} a set, {} to spare", card.count, card.spares)?;
        let columns =
            [number("layer"), words("what"), words("size"), words("paper"), words("color"), number("a card")];
        let base = [
            String::new(),
            "base".to_owned(),
            size.clone(),
            named(book, card.base_item()).unwrap_or_default(),
        ];
        let mut rows = vec![base.into_iter().chain([String::new(), "1".to_owned()]).collect::<Vec<_>>()];
        for (n, (layer, size)) in card.layers.iter().zip(sizes(book, card, desk.unit)).enumerate() {
            let size = size.map_or_else(|| "cannot be cut".to_owned(), |s| s.as_made(desk.unit));
            let (paper, colour) = (named(book, layer.item()), colour(book, layer));
            rows.push(vec![
                (n + 1).to_string(),
                layer.made_by.named(&card.layer_name(n)),
                size,
                paper.unwrap_or_default(),
                colour.unwrap_or_default(),
                layer.count.to_string(),
            ]);
        }
        for (n, extra) in card.extras.iter().enumerate() {
            let of = named(book, extra.item()).unwrap_or_default();
            rows.push(vec![
                String::new(),
                format!("beside {}: {}", n + 1, PartKind::of_make(&extra.make).word()),
                String::new(),
                of,
                String::new(),
                extra.count.to_string(),
            ]);
        }
        desk.table(&columns, &rows, |_| false)?;
    }
    for piece in &p.pieces {
        writeln!(
            desk.out,
            "{} {}: {}",
            piece.count,
            harmless(&piece.made_by.named(&piece.name)),
            piece.size.as_made(desk.unit)
        )?;
    }
    for supply in &p.supplies {
        writeln!(desk.out, "{} {}", supply.count, harmless(&book.items().name_of(supply.item)))?;
    }
    Ok(())
}
