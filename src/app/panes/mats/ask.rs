//! What the pane asks for in a prompt: how each text is read back while it is typed, and what taking it does.

pub use crate::app::state::mats::MatsText;

use super::edit;
use super::hand;
use super::read;
use super::ruler;
use crate::app::commands::CommandId;
use crate::app::effect::Effect;
use crate::app::input::list::Cursor;
use crate::app::model::Model;
use crate::app::overlay::{Echo, Purpose};
use crate::app::prompt;
use crate::app::state::mats::{MatsPane, Picked};
use crate::domain::cards::envelope;
use crate::domain::cards::format;
use crate::domain::cards::job::Wish;
use crate::domain::cards::layer::Shape;
use crate::domain::cards::paper;
use crate::domain::cards::parts;
use crate::domain::cards::parts::Kind;
use crate::domain::cardwork;
use crate::domain::length::{Length, Unit};
use crate::domain::project::ProjectCard;
use crate::domain::reckon;
use crate::domain::thickness::Thickness;

/// Opens the prompt of a command.
pub fn open(model: &mut Model, id: CommandId) -> Vec<Effect> {
    let Some(what) = edit::text_of(id) else { return Vec::new() };
    if let Some(why) = cannot(model, what) {
        return super::refuse(model, why);
    }
    let (label, now) = opening(model, what);
    if label.is_empty() {
        let name = model.mats.name_in_hand(&model.book);
        return super::refuse(
            model,
            format!("the {name} follows from the card: it has no measures of its own"),
        );
    }
    prompt::open(model, Purpose::Mats(what), &label, &now);
    Vec::new()
}

/// Why a text makes no sense for what is picked.
fn cannot(model: &Model, what: MatsText) -> Option<String> {
    let picked = model.mats.picked(&model.book);
    let is_mat = || {
        let layer = model.mats.picked_layer(&model.book);
        let layer = layer.and_then(|n| model.mats.card(&model.book).layers.get(n));
        layer.is_some_and(|l| matches!(l.shape, Shape::Inset(_)))
    };
    match what {
        MatsText::Frame if !is_mat() => Some("a frame is cut into a mat: pick a mat first".to_owned()),
        MatsText::Name if matches!(picked, Picked::Extra(_)) => {
            Some("it is called what it is: only the card and its layers have names of their own".to_owned())
        }
        MatsText::Count if picked == Picked::Base => {
            Some("a card has one base: B says how many cards are made".to_owned())
        }
        _ => None,
    }
}

/// The words before the text, and the text as it is now.
pub fn opening(model: &Model, what: MatsText) -> (String, String) {
    let (book, unit) = (&model.book, model.screen.unit);
    let card = model.mats.card(book);
    let name = model.mats.name_in_hand(book);
    let layer = model.mats.picked_layer(book).and_then(|n| card.layers.get(n));
    let plain = |label: &str, now: String| (label.to_owned(), now);
    match what {
        MatsText::Part(kind) => plain(kind.measures(), kind.usual(unit)),
        MatsText::Measures => match model.mats.picked(book) {
            Picked::Base => plain(
                "Base as it is cut (empty: what the fold asks for):",
                card.base.map_or(String::new(), |b| b.show(unit)),
            ),
            Picked::Layer(_) => layer.map_or_else(Default::default, |l| {
                plain(Kind::of_layer(l).measures(), parts::layer_text(l, unit))
            }),
            Picked::Extra(n) => card.extras.get(n).map_or_else(Default::default, |e| {
                plain(Kind::of_make(&e.make).measures(), parts::make_text(&e.make, unit))
            }),
        },
        MatsText::Fold => {
            plain("Panels, allowance, paper's thickness (- for the usual):", read::fold_text(card, unit))
        }
        MatsText::Frame => {
            let now = layer.and_then(|l| l.frame).map_or_else(
                || Kind::Frame.usual(unit).split_once(", ").map_or(String::new(), |t| t.1.to_owned()),
                |_| {
                    let all = layer.map_or(String::new(), |l| parts::layer_text(l, unit));
                    all.split_once(", ").map_or(String::new(), |t| t.1.to_owned())
                },
            );
            plain("Frame's width, overlap of its insert (empty: no frame):", now)
        }
        MatsText::Count => {
            let now = match model.mats.picked(book) {
                Picked::Extra(n) => card.extras.get(n).map_or(1, |e| e.count),
                _ => layer.map_or(1, |l| l.count),
            };
            (format!("How many of {name} a card takes:"), now.to_string())
        }
        MatsText::Batch => {
            plain("Cards in a set, spares over all:", format!("{}, {}", card.count, card.spares))
        }
        MatsText::Raise => {
            (format!("What lifts {name}, such as 1/16 or 2 mm (0: glued flat):"), String::new())
        }
        MatsText::Paper | MatsText::InsertPaper => {
            plain("Paper's name, weight, thickness (such as oat, 80 lb cover, 0.012 in):", String::new())
        }
        MatsText::Envelope => plain("Envelope, by name or outside size:", String::new()),
        MatsText::Name => (
            format!("Name of {name} (empty: by its place):"),
            layer.map_or(String::new(), |l| l.name.clone()),
        ),
        MatsText::Picture => plain("The picture in the middle, width x height:", String::new()),
        MatsText::Scores => plain(
            "Scores of your own, such as width 1, height 2 (empty: none):",
            read::scores_text(card, unit),
        ),
        MatsText::Ease => plain("Room beside the card in its envelope:", card.ease.show(unit)),
        MatsText::Inside => {
            plain("The envelope's inside as you measured it (empty: as outside):", String::new())
        }
        MatsText::EnvelopePaper => {
            plain("Envelope's paper, weight, thickness (such as bond, 24 lb bond, 0.0045 in):", String::new())
        }
        MatsText::Price => {
            plain("Rules, verdict, price, date (such as uk, letter, 1.00, 2026-11-01):", String::new())
        }
        MatsText::NewCard => plain("Name of the new card:", String::new()),
        MatsText::WriteCard => plain("Write this card to the file:", read::file_name(&card.name)),
        MatsText::WriteProject => {
            let name = book.active_project().map_or("", |p| &p.name);
            plain("Write the whole project to the file:", read::file_name(name))
        }
        MatsText::Read => plain("Read a card or project from the file:", String::new()),
        MatsText::Find => plain("Show on the ruler:", String::new()),
        MatsText::Answer => plain("It reads:", String::new()),
    }
}

/// What the card becomes with a text taken over, and what was done in words. `None` for a text that changes no card.
///
/// # Errors
/// The sentence that refuses the text.
fn altered(model: &Model, what: MatsText, text: &str) -> Result<Option<(ProjectCard, String)>, String> {
    let (book, unit) = (&model.book, model.screen.unit);
    let was = model.mats.card(book);
    let mut card = was.clone();
    let name = model.mats.name_in_hand(book);
    let picked = model.mats.picked(book);
    let done = match what {
        MatsText::Part(kind) => {
            edit::add(&mut card, kind.read(text, unit)?);
            format!("added one {}", kind.word())
        }
        MatsText::Measures => {
            edit::measure(&mut card, picked, text, unit)?;
            format!("changed the measures of {name}")
        }
        MatsText::Fold => {
            read::read_fold(&mut card, text, unit)?;
            "changed the fold".to_owned()
        }
        MatsText::Frame => {
            read::read_frame(&mut card, picked, text, unit)?;
            format!("changed the frame of {name}")
        }
        MatsText::Count => {
            let n = read::whole(text, 0, 1000, "such as 2")?;
            match picked {
                Picked::Layer(i) => read::at(&mut card, i, |l| l.count = n),
                Picked::Extra(i) => card.extras.get_mut(i).into_iter().for_each(|e| e.count = n),
                Picked::Base => {}
            }
            format!("changed the count of {name}")
        }
        MatsText::Batch => {
            let (cards, spares) = text.split_once(',').unwrap_or((text, "0"));
            card.count = read::whole(cards, 1, 1_000_000, "of cards, then the spares: 20, 1")?;
            card.spares = read::whole(spares, 0, 1_000_000, "of spares after the cards: 20, 1")?;
            "changed the batch".to_owned()
        }
        MatsText::Raise => {
            let raise = if text.trim() == "0" {
                Thickness::ZERO
            } else {
                paper::raise(text, unit).map_err(|e| e.to_string())?
            };
            if let Picked::Layer(n) = picked {
                read::at(&mut card, n, |l| l.raise = raise);
            }
            format!("changed what lifts {name}")
        }
        MatsText::Paper | MatsText::InsertPaper => {
            let paper = read::read_paper(text, unit)?;
            read::set_paper(&mut card, picked, what == MatsText::InsertPaper, None, Some(paper));
            format!("chose a paper for {name}")
        }
        MatsText::Envelope => {
            card.enclosing = Wish::This(envelope::find(text, unit).map_err(|e| e.to_string())?);
            card.envelope = None;
            "chose an envelope".to_owned()
        }
        MatsText::Name => {
            match picked {
                Picked::Layer(n) => read::at(&mut card, n, |l| text.trim().clone_into(&mut l.name)),
                _ => text.trim().clone_into(&mut card.name),
            }
            format!("named {name}")
        }
        MatsText::Picture => {
            card.face = read::front_round(&card, reckon::size(text, unit)?)?;
            "worked the front out from its picture".to_owned()
        }
        MatsText::Scores => {
            card.scores = read::read_scores(text, unit)?;
            "changed the scores".to_owned()
        }
        MatsText::Ease => {
            card.ease = if text.trim() == "0" { Length::ZERO } else { prompt::read_length(text, unit)? };
            "changed the room in the envelope".to_owned()
        }
        MatsText::Inside => {
            read::set_inside(&mut card, text, unit)?;
            "measured the envelope".to_owned()
        }
        MatsText::EnvelopePaper => {
            card.envelope_paper = Some(read::read_paper(text, unit)?);
            "chose the envelope's paper".to_owned()
        }
        MatsText::Price => {
            let price = read::read_price(text, &book.settings().currency)?;
            card.prices.retain(|p| (&p.rules, p.verdict) != (&price.rules, price.verdict));
            card.prices.push(price);
            "noted a price".to_owned()
        }
        MatsText::NewCard
        | MatsText::WriteCard
        | MatsText::WriteProject
        | MatsText::Read
        | MatsText::Find
        | MatsText::Answer => return Ok(None),
    };
    Ok(Some((edit::checked(book, was, card, unit)?, done)))
}

/// How a text is read, while it is typed.
pub fn echo(model: &Model, purpose: &Purpose, text: &str) -> Echo {
    let unit = model.screen.unit;
    let said = match purpose {
        Purpose::Face => face(text, unit).map(|f| {
            let words = prompt::sides_words(f.0, unit);
            f.1.map_or(words.clone(), |name| format!("{name}, {words}"))
        }),
        Purpose::Mats(MatsText::Find) => prompt::length_words(text, unit),
        Purpose::Mats(MatsText::Answer) => prompt::read_length(text, unit).map(|l| l.show_with_unit(unit)),
        Purpose::Mats(what) => altered(model, *what, text).map(|a| match a {
            Some((card, _)) => outcome(model, *what, &card),
            None => String::new(),
        }),
        _ => reveal_words(text, unit),
    };
    match said {
        Ok(words) if words.is_empty() => Echo::Nothing,
        Ok(words) => Echo::Read(words),
        Err(why) => Echo::Refused(why),
    }
}

/// A border on each side makes the layer smaller by twice as much; both are said in practice.
fn reveal_words(text: &str, unit: Unit) -> Result<String, String> {
    let Ok(parts::Part::Layer(mat)) = Kind::Mat.read(text, unit) else {
        return Kind::Mat.read(text, unit).map(|_| String::new());
    };
    Ok(match mat.shape {
        Shape::Inset(reveal) => match reveal.uniform() {
            Some(all) => format!(
                "{} each side, so {} smaller both ways{}",
                all.show_both(unit),
                (all * 2).show_with_unit(unit),
                prompt::nearest_mark(&[all], unit)
            ),
            None => reveal.both_ways(unit),
        },
        _ => String::new(),
    })
}

/// What comes of a change, in the size that it concerns.
fn outcome(model: &Model, what: MatsText, card: &ProjectCard) -> String {
    let (book, unit) = (&model.book, model.screen.unit);
    let tools = MatsPane::tools(book, unit);
    let row = match what {
        MatsText::Part(kind) if Kind::LAYERS.contains(&kind) => {
            Picked::Layer(card.layers.len().saturating_sub(1))
        }
        MatsText::Part(_) => Picked::Extra(card.extras.len().saturating_sub(1)),
        MatsText::Fold | MatsText::Scores => Picked::Base,
        MatsText::Measures | MatsText::Frame => model.mats.picked(book),
        MatsText::Envelope | MatsText::Inside | MatsText::Ease => return envelope_words(model, card),
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

fn envelope_words(model: &Model, card: &ProjectCard) -> String {
    let unit = model.screen.unit;
    let worked = cardwork::work(&model.book, card, &MatsPane::tools(&model.book, unit));
    worked.ok().and_then(|w| w.enclosed).map_or(String::new(), |e| {
        format!("{}: {}", e.envelope.show(unit), if e.fit.fits { "fits" } else { "does NOT fit" })
    })
}

/// A front by its size or format, with the format's name.
fn face(text: &str, unit: Unit) -> Result<(crate::domain::size::Size, Option<String>), String> {
    if reckon::is_sum(text) {
        return reckon::size(text, unit).map(|s| (s, None));
    }
    let found = format::find(text, unit).map_err(|e| e.to_string())?;
    Ok((found.face, Some(found.name).filter(|n| !n.is_empty())))
}

/// Takes a prompt's text.
///
/// # Errors
/// The sentence that refuses it: a card whose layers could not be cut is not taken.
pub fn accept(model: &mut Model, purpose: &Purpose, text: &str) -> Result<Vec<Effect>, String> {
    let unit = model.screen.unit;
    match purpose {
        Purpose::Face => {
            let face = face(text, unit)?.0;
            let mut card = model.mats.card(&model.book).clone();
            card.face = face;
            edit::put(model, "changed the front", card)
        }
        Purpose::AddLayer => take(model, MatsText::Part(Kind::Mat), text),
        Purpose::Reveal(n) => {
            let mut card = model.mats.card(&model.book).clone();
            if let (Some(layer), parts::Part::Layer(new)) =
                (card.layers.get_mut(*n), Kind::Mat.read(text, unit)?)
            {
                layer.shape = new.shape;
            }
            let label = format!("changed the reveal of {}", card.layer_name(*n));
            edit::put(model, &label, card)
        }
        Purpose::Mats(what) => take(model, *what, text),
        _ => Ok(Vec::new()),
    }
}

fn take(model: &mut Model, what: MatsText, text: &str) -> Result<Vec<Effect>, String> {
    if let Some((card, done)) = altered(model, what, text)? {
        let row = match what {
            MatsText::Part(kind) if Kind::LAYERS.contains(&kind) => Some(card.layers.len()),
            MatsText::Part(_) => Some(card.layers.len() + card.extras.len()),
            _ => None,
        };
        let effects = edit::put(model, &done, card)?;
        if let Some(row) = row {
            model.mats.layer = Cursor::at(row);
        }
        return Ok(effects);
    }
    match what {
        MatsText::NewCard => {
            let name = text.trim();
            let is_loose = model.book.active().is_none();
            let now = model.mats.card(&model.book);
            // Without a project the card in hand is what is to be kept.
            let card = if is_loose {
                ProjectCard { name: name.to_owned(), ..now.clone() }
            } else {
                ProjectCard { fold: now.fold, ..ProjectCard::new(name, now.face) }
            };
            edit::add_card(model, card, name)
        }
        MatsText::WriteCard | MatsText::WriteProject | MatsText::Read => hand::take(model, what, text),
        MatsText::Find => ruler::find(model, text),
        MatsText::Answer => ruler::answer(model, text),
        _ => Ok(Vec::new()),
    }
}
