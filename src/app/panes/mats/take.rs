//! What a text typed in the pane does: how it is read back while it is typed, what the card becomes with it, and taking it.

use super::edit;
use super::hand;
use super::read;
use super::ruler;
use crate::app::ctx::Ctx;
use crate::app::input::completing::NamePart as PaperPart;
use crate::app::overlay::Echo;
use crate::app::reading::length_words;
use crate::app::reading::nearest_mark;
use crate::app::reading::read_length;
use crate::app::reading::sides_words;
use crate::app::reply::Replies;
use crate::app::reply::Reply;
use crate::app::state::mats::MatsText;
use crate::app::state::mats::{MatsPane, Picked};
use crate::domain::cardread;
use crate::domain::cards::card::EnvelopeChoice;
use crate::domain::cards::envelope;
use crate::domain::cards::format;
use crate::domain::cards::layer::Shape;
use crate::domain::cards::parts;
use crate::domain::cards::parts::PartKind;
use crate::domain::cardwork;
use crate::domain::length::Unit;
use crate::domain::project::{PaperRef, ProjectCard};
use crate::domain::reckon;
use crate::domain::size::Size;
use crate::domain::stock::ItemId;

/// What the card becomes with a text taken over, and what was done in words. `None` for a text that changes no card.
///
/// # Errors
/// The sentence that refuses the text.
fn altered(
    pane: &MatsPane,
    ctx: &Ctx,
    what: MatsText,
    text: &str,
) -> Result<Option<(ProjectCard, String)>, String> {
    let was = pane.card(ctx.book);
    let mut card = was.clone();
    let done = match on_card(&mut card, ctx, what, text)? {
        Some(done) => Some(done),
        None => match on_row(&mut card, pane, ctx, (what, text))? {
            Some(done) => Some(done),
            None => on_envelope(&mut card, ctx, what, text)?,
        },
    };
    let Some(done) = done else { return Ok(None) };
    Ok(Some((edit::checked(ctx.book, was, card, ctx.unit)?, done)))
}

/// A text about the whole card, or a new part of it: what it does, in words.
fn on_card(card: &mut ProjectCard, ctx: &Ctx, what: MatsText, text: &str) -> Result<Option<String>, String> {
    let unit = ctx.unit;
    Ok(Some(match what {
        MatsText::Face => {
            card.face = face(text, unit)?.0;
            "changed the front".to_owned()
        }
        MatsText::NewMat => {
            edit::add(card, read::part(ctx, PartKind::Mat, text)?);
            format!("added one {}", PartKind::Mat.word())
        }
        MatsText::Part(kind) => {
            edit::add(card, read::part(ctx, kind, text)?);
            format!("added one {}", kind.word())
        }
        MatsText::Fold => {
            read::read_fold(card, text, unit)?;
            "changed the fold".to_owned()
        }
        MatsText::Batch => {
            let (cards, spares) = text.split_once(',').unwrap_or((text, "0"));
            card.count = read::whole(cards, 1, 1_000_000, "of cards, then the spares: 20, 1")?;
            card.spares = read::whole(spares, 0, 1_000_000, "of spares after the cards: 20, 1")?;
            "changed the batch".to_owned()
        }
        MatsText::Picture => {
            card.face = read::front_round(card, reckon::size(text, unit)?)?;
            "worked the front out from its picture".to_owned()
        }
        MatsText::Scores => {
            card.scores = read::read_scores(text, unit)?;
            "changed the scores".to_owned()
        }
        _ => return Ok(None),
    }))
}

/// A text about one row: what it does, in words.
fn on_row(
    card: &mut ProjectCard,
    pane: &MatsPane,
    ctx: &Ctx,
    (what, text): (MatsText, &str),
) -> Result<Option<String>, String> {
    let (book, unit) = (ctx.book, ctx.unit);
    let (name, picked) = (pane.name_in_hand(book), pane.picked(book));
    Ok(Some(match what {
        MatsText::Reveal(n) => {
            if let parts::Part::Layer(new) = PartKind::Mat.read(text, unit)? {
                read::at(card, n, |l| l.shape = new.shape);
            }
            format!("changed the reveal of {}", card.layer_name(n))
        }
        MatsText::Measures => {
            edit::measure(card, picked, text, unit)?;
            format!("changed the measures of {name}")
        }
        MatsText::Frame => {
            read::read_frame(card, picked, text, unit)?;
            format!("changed the frame of {name}")
        }
        MatsText::Count => {
            let n = read::whole(text, 0, 1000, "such as 2")?;
            match picked {
                Picked::Layer(i) => read::at(card, i, |l| l.count = n),
                Picked::Extra(i) => card.extras.get_mut(i).into_iter().for_each(|e| e.count = n),
                Picked::Base => {}
            }
            format!("changed the count of {name}")
        }
        MatsText::Raise => {
            let raise = cardread::raise(text, unit)?;
            if let Picked::Layer(n) = picked {
                read::at(card, n, |l| l.raise = raise);
            }
            format!("changed what lifts {name}")
        }
        MatsText::Paper | MatsText::InsertPaper => {
            let paper = read::read_paper(text, unit)?;
            read::set_paper(card, picked, what == MatsText::InsertPaper, Some(PaperRef::Other(paper)));
            format!("chose a paper for {name}")
        }
        MatsText::Name => {
            match picked {
                Picked::Layer(n) => read::at(card, n, |l| text.trim().clone_into(&mut l.name)),
                _ => text.trim().clone_into(&mut card.name),
            }
            format!("named {name}")
        }
        _ => return Ok(None),
    }))
}

/// A text about what the card goes into: what it does, in words.
fn on_envelope(
    card: &mut ProjectCard,
    ctx: &Ctx,
    what: MatsText,
    text: &str,
) -> Result<Option<String>, String> {
    let unit = ctx.unit;
    Ok(Some(match what {
        MatsText::Envelope => {
            card.enclosing = EnvelopeChoice::This(envelope::find(text, unit).map_err(|e| e.to_string())?);
            card.envelope = None;
            "chose an envelope".to_owned()
        }
        MatsText::Ease => {
            card.ease = cardread::length_or_zero(text, unit)?;
            "changed the room in the envelope".to_owned()
        }
        MatsText::Inside => {
            read::set_inside(card, text, unit)?;
            "measured the envelope".to_owned()
        }
        MatsText::EnvelopePaper => {
            card.envelope_paper = Some(read::read_paper(text, unit)?);
            "chose the envelope's paper".to_owned()
        }
        MatsText::EnvelopeSpares => {
            card.envelope_spares = read::whole(text, 0, 1_000_000, "of envelopes to spare, such as 2")?;
            "changed the spare envelopes".to_owned()
        }
        MatsText::EnvelopeWeight => {
            card.weighed.envelope = cardread::weight_or_none(text)?;
            "weighed the envelope".to_owned()
        }
        MatsText::GlueWeight => {
            card.weighed.glue = cardread::weight_or_none(text)?;
            "weighed glue and foam".to_owned()
        }
        MatsText::Price => {
            let price = read::read_price(text, &ctx.book.settings().currency)?;
            cardread::note_price(card, price);
            "noted a price".to_owned()
        }
        _ => return Ok(None),
    }))
}

/// How a text is read, while it is typed.
pub fn echo(pane: &MatsPane, ctx: &Ctx, what: MatsText, text: &str) -> Echo {
    let unit = ctx.unit;
    let said = match what {
        MatsText::Face => face(text, unit).map(|f| {
            let words = sides_words(f.0, unit);
            f.1.map_or(words.clone(), |name| format!("{name}, {words}"))
        }),
        MatsText::Find => length_words(text, unit),
        MatsText::Answer => read_length(text, unit).map(|l| l.show_with_unit(unit)),
        MatsText::NewMat => {
            let (figures, paper) = PaperPart::AfterFigures.split(text);
            let figures = if paper.is_empty() { text } else { figures.trim().trim_end_matches(',') };
            read::part(ctx, PartKind::Mat, text).and_then(|part| {
                let paper = part_paper(&part).map(|id| format!(", from {}", ctx.book.items().name_of(id)));
                Ok(reveal_words(figures, unit)? + &paper.unwrap_or_default())
            })
        }
        MatsText::Reveal(_) => reveal_words(text, unit),
        what => altered(pane, ctx, what, text).map(|a| match a {
            Some((card, _)) => outcome(pane, ctx, what, &card),
            None => String::new(),
        }),
    };
    match said {
        Ok(words) if words.is_empty() => Echo::Nothing,
        Ok(words) => Echo::Read(words),
        Err(why) => Echo::Refused(why),
    }
}

fn part_paper(part: &parts::Part) -> Option<ItemId> {
    match part {
        parts::Part::Layer(layer) => layer.item(),
        parts::Part::Extra(extra) => extra.item(),
    }
}

/// A border on each side makes the layer smaller by twice as much; both are said in practice.
fn reveal_words(text: &str, unit: Unit) -> Result<String, String> {
    let Ok(parts::Part::Layer(mat)) = PartKind::Mat.read(text, unit) else {
        return PartKind::Mat.read(text, unit).map(|_| String::new());
    };
    Ok(match mat.shape {
        Shape::Inset(reveal) => match reveal.uniform() {
            Some(all) => format!(
                "{} each side, so {} smaller both ways{}",
                all.show_both(unit),
                (all * 2).show_with_unit(unit),
                nearest_mark(&[all], unit)
            ),
            None => reveal.both_ways(unit),
        },
        _ => String::new(),
    })
}

/// What comes of a change, in the size that it concerns.
fn outcome(pane: &MatsPane, ctx: &Ctx, what: MatsText, card: &ProjectCard) -> String {
    let (book, unit) = (ctx.book, ctx.unit);
    let tools = MatsPane::tools(book, unit);
    let row = match what {
        MatsText::Part(kind) if PartKind::LAYERS.contains(&kind) => {
            Picked::Layer(card.layers.len().saturating_sub(1))
        }
        MatsText::Part(_) => Picked::Extra(card.extras.len().saturating_sub(1)),
        MatsText::Fold | MatsText::Scores => Picked::Base,
        MatsText::Measures | MatsText::Frame => pane.picked(book),
        MatsText::Envelope | MatsText::Inside | MatsText::Ease => return envelope_words(ctx, card),
        MatsText::EnvelopeWeight | MatsText::GlueWeight => return weight_in_words(ctx, card),
        MatsText::Picture => return format!("front {}", card.face.show_with_unit(unit)),
        MatsText::Batch => return format!("{} in a set and {} to spare", card.count, card.spares),
        _ => return String::new(),
    };
    let Ok(worked) = cardwork::work(book, card, &tools) else { return String::new() };
    match row {
        Picked::Base => {
            let at: Vec<String> = worked.base.scores.iter().map(|s| s.at.about(unit)).collect();
            format!("base {}, scores at {}", worked.base.size.about(unit), at.join(", "))
        }
        Picked::Layer(n) => worked.layers.get(n).map_or(String::new(), |l| match l.opening {
            Some(o) => format!("opening {}, insert {}", o.size.about(unit), o.insert_cut.about(unit)),
            None => format!("cut to {}", l.cut.size.show_with_unit(unit)),
        }),
        Picked::Extra(n) => {
            let made = card.extras.get(n).and_then(|e| cardwork::build(book, card, e, &tools).ok());
            let blanks: Vec<String> =
                made.iter().flatten().map(|m| format!("{} {}", m.name, m.blank.about(unit))).collect();
            blanks.join(", ")
        }
    }
}

/// What the card weighs with what was weighed; the weight in its envelope where its papers are known.
fn weight_in_words(ctx: &Ctx, card: &ProjectCard) -> String {
    let worked = cardwork::work(ctx.book, card, &MatsPane::tools(ctx.book, ctx.unit));
    worked.map_or(String::new(), |w| w.sealed_words().unwrap_or_else(|| w.weight_words()))
}

fn envelope_words(ctx: &Ctx, card: &ProjectCard) -> String {
    let unit = ctx.unit;
    let worked = cardwork::work(ctx.book, card, &MatsPane::tools(ctx.book, unit));
    worked.ok().and_then(|w| w.enclosed).map_or(String::new(), |e| {
        format!("{}: {}", e.envelope.show(unit), if e.fit.fits { "fits" } else { "does NOT fit" })
    })
}

/// A front by its size or format, with the format's name.
///
/// # Errors
/// The sentence that refuses it.
pub fn face(text: &str, unit: Unit) -> Result<(Size, Option<String>), String> {
    if reckon::is_sum(text) {
        return reckon::size(text, unit).map(|s| (s, None));
    }
    let found = format::find(text, unit).map_err(|e| e.to_string())?;
    Ok((found.face, Some(found.name).filter(|n| !n.is_empty())))
}

/// Takes a text.
///
/// # Errors
/// The sentence that refuses it: a card whose layers could not be cut is not taken.
pub fn accept(pane: &mut MatsPane, ctx: &Ctx, what: MatsText, text: &str) -> Replies {
    if let Some((card, done)) = altered(pane, ctx, what, text)? {
        let row = match what {
            MatsText::NewMat => Some(card.layers.len()),
            MatsText::Part(kind) if PartKind::LAYERS.contains(&kind) => Some(card.layers.len()),
            MatsText::Part(_) => Some(card.layers.len() + card.extras.len()),
            _ => None,
        };
        let mut replies = edit::put(pane, ctx, &done, card)?;
        replies.extend(row.map(|row| Reply::Layer(pane.card, row)));
        return Ok(replies);
    }
    match what {
        MatsText::WriteCard | MatsText::WriteProject | MatsText::Read => {
            hand::take_card_text(pane, ctx, what, text)
        }
        MatsText::Find => ruler::find(pane, ctx, text),
        MatsText::Answer => ruler::answer(pane, ctx, text).map(|()| Vec::new()),
        _ => Ok(Vec::new()),
    }
}
