//! What the pane has chosen from a list: papers, colours, what lifts a layer, envelopes, kinds of parts.

use crate::app::ctx::Ctx;
use crate::app::reply::Replies;
use crate::app::reply::Reply;
use crate::app::state::mats::MatsPane;
use crate::app::state::mats::Pick;

use super::ask;
use super::edit;
use super::hand;
use super::read;
use crate::app::commands::CommandId;
use crate::app::overlay::{PickRow, Target};
use crate::app::state::mats::MatsText;
use crate::app::state::mats::Picked;
use crate::domain::cards::card::EnvelopeChoice;
use crate::domain::cards::country::Country;
use crate::domain::cards::envelope::{self, Envelope};
use crate::domain::cards::made_by::MadeBy;
use crate::domain::cards::paper;
use crate::domain::cards::parts::PartKind;
use crate::domain::project::{CardColour, CardLayer, PaperRef, ProjectCard};
use crate::domain::stock::{ItemId, Kind as Stock, SwatchId};

fn row(label: impl Into<String>, detail: impl Into<String>, pick: Pick) -> PickRow {
    PickRow::new(label, detail, Target::Mats(pick))
}

/// The list of a command.
///
/// # Errors
/// The sentence that says why what is picked has no such list.
pub fn open(pane: &MatsPane, ctx: &Ctx, id: CommandId) -> Result<Reply, String> {
    use CommandId as Id;
    let picked = pane.picked(ctx.book);
    let layer = pane.picked_layer(ctx.book);
    let (title, rows) = match id {
        Id::AddPart => ("Add a layer, or something beside the card", parts()),
        Id::LayerKind if layer.is_some() => ("What the layer is", kinds()),
        Id::LayerPaper => ("Paper", papers(ctx, false)),
        Id::InsertPaper if has_opening(pane, ctx) => ("Paper behind the opening", papers(ctx, true)),
        Id::InsertPaper => {
            return Err(
                "only a frame has something behind it: <layer-frame> makes the mat a frame".to_owned()
            );
        }
        Id::LayerColour if layer.is_some() => ("Color of the layer", colours(ctx)),
        Id::LayerRaise if layer.is_some() => ("What lifts the layer", raises(ctx)),
        Id::LayerMadeBy if !matches!(picked, Picked::Extra(_)) => ("How it is made", ways(ctx)),
        Id::LayerOn if layer.is_some() => ("What the layer lies on", below(pane, ctx)),
        Id::CardEnvelope => ("Envelope", envelopes(ctx)),
        _ => {
            let what = if picked == Picked::Base { "the base" } else { "what is made beside the card" };
            return Err(format!("that is for layers, not for {what}: pick a layer first"));
        }
    };
    Ok(Reply::pick(title, rows))
}

fn has_opening(pane: &MatsPane, ctx: &Ctx) -> bool {
    let card = pane.card(ctx.book);
    let layer = pane.picked_layer(ctx.book).and_then(|n| card.layers.get(n));
    layer.is_some_and(|l| l.frame.is_some())
}

fn parts() -> Vec<PickRow> {
    let all = PartKind::LAYERS.into_iter().chain(PartKind::BESIDE);
    all.map(|k| row(k.word(), k.line(), Pick::Add(k))).collect()
}

fn kinds() -> Vec<PickRow> {
    PartKind::LAYERS.into_iter().map(|k| row(k.word(), k.line(), Pick::Become(k))).collect()
}

fn papers(ctx: &Ctx, behind: bool) -> Vec<PickRow> {
    let unit = ctx.unit;
    let pick = |id: Option<ItemId>| if behind { Pick::Insert(id) } else { Pick::Paper(id) };
    let mut rows: Vec<PickRow> = ctx
        .book
        .items()
        .iter()
        .filter(|(_, i)| i.kind.is_paper())
        .filter_map(|(id, i)| {
            let size = i.cutting_size()?.about(unit);
            Some(row(&i.name, format!("{size} {} on hand", ctx.book.on_hand(id)), pick(Some(id))))
        })
        .collect();
    let typed = if behind { MatsText::InsertPaper } else { MatsText::Paper };
    rows.push(row("another paper", "not on the shelf: type its name and weight", Pick::Type(typed)));
    rows.push(row("no paper", "not chosen yet", pick(None)));
    rows
}

fn colours(ctx: &Ctx) -> Vec<PickRow> {
    let swatch = |(id, s): (SwatchId, &crate::domain::stock::NamedColour)| {
        row(&s.name, format!("{}, {}", s.family, s.hex_text()), Pick::Colour(Some(id)))
    };
    let mut rows = vec![row("as its paper", "the paper's own color", Pick::Colour(None))];
    rows.extend(ctx.book.swatches().iter().map(swatch));
    rows
}

fn raises(ctx: &Ctx) -> Vec<PickRow> {
    let unit = ctx.unit;
    let all = paper::raises().into_iter();
    let mut rows: Vec<PickRow> = all.map(|(name, t)| row(name, t.show(unit), Pick::Raise(t))).collect();
    rows.push(row("another height", "type it", Pick::Type(MatsText::Raise)));
    rows
}

/// Every way to make a part, with the paper around it and what the grain does.
fn ways(ctx: &Ctx) -> Vec<PickRow> {
    let detail = |way: MadeBy| {
        let around = way.usual_allowance();
        let usual = if around.is_positive() {
            format!("{} around it unless typed otherwise", around.show_with_unit(ctx.unit))
        } else {
            "at the trimmer, nothing around it".to_owned()
        };
        way.grain_words().map_or(usual.clone(), |grain| format!("{usual}; {grain}"))
    };
    MadeBy::ALL.map(|way| row(way.word(), detail(way), Pick::MadeBy(way))).into()
}

fn below(pane: &MatsPane, ctx: &Ctx) -> Vec<PickRow> {
    let card = pane.card(ctx.book);
    let n = pane.picked_layer(ctx.book).unwrap_or(0);
    let mut rows = vec![row("the previous layer", "follows when layers are moved", Pick::On(None))];
    rows.extend((0..n).map(|on| row(card.layer_name(on), format!("layer {}", on + 1), Pick::On(Some(on)))));
    rows
}

fn envelopes(ctx: &Ctx) -> Vec<PickRow> {
    let unit = ctx.unit;
    let mut rows = vec![
        row("the smallest", "that takes the card", Pick::Into(EnvelopeChoice::Smallest)),
        row("none", "the card goes as it is", Pick::Into(EnvelopeChoice::NoEnvelope)),
    ];
    let shelf = ctx.book.items().iter().filter(|(_, i)| i.kind == Stock::Envelope);
    rows.extend(shelf.map(|(id, i)| {
        let size = i.cutting_size().map_or(String::new(), |s| s.about(unit) + " ");
        row(&i.name, format!("{size}{} on hand", ctx.book.on_hand(id)), Pick::Shelf(id))
    }));
    let known =
        |e: &Envelope| row(&e.name, e.outside.about(unit), Pick::Into(EnvelopeChoice::This(e.clone())));
    rows.extend(envelope::all().iter().map(known));
    let typed = [
        ("another envelope", "type its outside size", MatsText::Envelope),
        ("measured inside", "what you measured in the envelope chosen", MatsText::Inside),
        ("room beside the card", "how much it needs to slide in", MatsText::Ease),
        ("envelope's paper", "its weight and thickness", MatsText::EnvelopePaper),
        ("envelopes to spare", "more than cards asked for", MatsText::EnvelopeSpares),
        ("envelope's weight", "the empty one on your scale", MatsText::EnvelopeWeight),
        ("weight of glue and foam", "of one card, on your scale", MatsText::GlueWeight),
        ("price of your own", "for one verdict, with its date", MatsText::Price),
    ];
    rows.extend(typed.map(|(label, detail, what)| row(label, detail, Pick::Type(what))));
    rows
}

/// Changes the layer under the cursor.
fn at(card: &mut ProjectCard, picked: Picked, set: impl FnOnce(&mut CardLayer)) {
    if let Picked::Layer(n) = picked {
        read::at(card, n, set);
    }
}

/// Takes a chosen row.
///
/// # Errors
/// The sentence that refuses it.
pub fn take_pick(pane: &mut MatsPane, ctx: &Ctx, pick: Pick) -> Replies {
    let picked = pane.picked(ctx.book);
    let name = pane.name_in_hand(ctx.book);
    let unit = ctx.unit;
    match pick {
        Pick::Type(what) => ask_for(pane, ctx, what),
        Pick::Add(kind) if kind.measures().is_empty() => {
            super::take::accept(pane, ctx, MatsText::Part(kind), "")
        }
        Pick::Add(kind) => ask_for(pane, ctx, MatsText::Part(kind)),
        Pick::Paper(id) => edit::change(pane, ctx, &format!("chose the paper of {name}"), |card| {
            read::set_paper(card, picked, false, id.map(PaperRef::Shelf));
        }),
        Pick::Insert(id) => edit::change(pane, ctx, &format!("chose what lies behind {name}"), |card| {
            read::set_paper(card, picked, true, id.map(PaperRef::Shelf));
        }),
        Pick::Become(kind) => {
            let (Picked::Layer(n), Some(size)) = (picked, pane.size_in_hand(ctx.book, unit)) else {
                return Ok(Vec::new());
            };
            edit::change(pane, ctx, &format!("made {name} a {}", kind.word()), |card| {
                edit::turn_into(card, n, kind, size, unit);
            })
        }
        Pick::Colour(id) => edit::change(pane, ctx, &format!("chose the color of {name}"), |card| {
            at(card, picked, |l| l.colour = id.map(CardColour::Swatch));
        }),
        Pick::MadeBy(way) => edit::change(pane, ctx, &format!("set how {name} is made"), |card| {
            if picked == Picked::Base {
                way.put(&mut card.base_made_by, &mut card.base_allowance);
            }
            at(card, picked, |l| way.put(&mut l.made_by, &mut l.allowance));
        }),
        Pick::On(on) => edit::change(pane, ctx, &format!("set what {name} lies on"), |card| {
            at(card, picked, |l| l.on = on);
        }),
        Pick::Raise(height) => edit::change(pane, ctx, &format!("changed what lifts {name}"), |card| {
            at(card, picked, |l| l.raise = height);
        }),
        Pick::Into(wish) => edit::change(pane, ctx, "chose what it goes into", |card| {
            card.enclosing = wish;
            card.envelope = None;
        }),
        Pick::Shelf(id) => edit::change(pane, ctx, "chose its envelope", |card| card.envelope = Some(id)),
    }
}

fn ask_for(pane: &MatsPane, ctx: &Ctx, what: MatsText) -> Replies {
    if what == MatsText::WriteProject && ctx.book.active_project().is_none() {
        return Err("no project is active: press <project> and choose one".to_owned());
    }
    Ok(vec![ask::prompt(pane, ctx, what)])
}

/// Asks where the person posts: once, since the answer is remembered.
pub fn countries() -> Reply {
    let row = |c: Country| PickRow::new(c.name(), String::new(), Target::Country(c));
    Reply::pick(
        "Where do you mail from? Picks the rules; the finder changes it.",
        Country::ALL.map(row).into(),
    )
}

/// The list of what can be written.
pub fn writing() -> Reply {
    let rows = hand::CHOICES.map(|(label, detail, what)| row(label, detail, Pick::Type(what))).to_vec();
    Reply::pick("Write to a file", rows)
}
