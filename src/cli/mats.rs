//! `trimside mats`: the arguments and the answer.
//!
//! Turns arguments or a card file into a job, has it worked out, and hands the answer to [`show`] for people or to
//! [`json`] for programs. What a card file may hold is told in [`crate::exchange::read::card`].

mod ask;
mod json;
mod keep;
mod show;
mod told;

pub use ask::MatsArgs;

use super::yields::sheet;
use super::{BadInput, Desk};
use crate::domain::cards::advice::{self, RevealChoice};
use crate::domain::cards::card::{Card, EnvelopeChoice};
use crate::domain::cards::envelope;
use crate::domain::cards::fold::{self, FoldEdge, FoldKind, Side};
use crate::domain::cards::format;
use crate::domain::cards::frame::Frame;
use crate::domain::cards::grain;
use crate::domain::cards::job::{CardSpec, Worked, work_out};
use crate::domain::cards::layer::{self, Layer, Shape};
use crate::domain::cards::paper::Paper;
use crate::domain::cards::post::Address;
use crate::domain::cards::reveal::Reveal;
use crate::domain::cards::tools::Tools;
use crate::domain::cutting::one_size::answer as one_size;
use crate::domain::cutting::question::Question;
use crate::domain::length::{Length, Unit};
use crate::domain::plural::count_of;
use crate::domain::size::Grain;
use crate::domain::thickness::Thickness;
use crate::exchange::read::card::card as read_card;
use crate::persist::given::{self, CARD};
use std::path::Path;
use told::Answer;

/// Answers the command.
///
/// # Errors
/// [`super::BadInput`] for what the person can mend, anything else for a failure.
pub fn answer_mats(args: &MatsArgs, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    if let Some(done) = keep::run(args, desk) {
        return done;
    }
    if args.card.is_empty() {
        let why = "CARD is missing: write a size such as 4-1/4x5-1/2, a name such as us-a2, or a card file";
        return Err(BadInput(why.to_owned()).into());
    }
    let unit = desk.unit;
    let tools = tools(args, unit)?;
    let cards = args.count.as_deref().map_or(Ok(1), |n| number("--count", n))?;
    let from_file = is_file(&args.card);
    let mut job = if from_file { file(args, unit)? } else { plain(args, unit)? };
    apply_options(args, &mut job, unit)?;
    if args.from_base {
        face_from_base(&mut job, from_file, &tools)?;
    }
    let mut worked = work_out(&job, &tools).map_err(BadInput::from_error)?;
    worked.notes.extend(grain_on_sheet(args, &worked, desk)?);
    let mut made = Vec::new();
    for wish in &job.card.extras {
        made.extend(wish.make.build(&job, &worked, &tools).map_err(BadInput::from_error)?);
    }
    let advice = advise(args, &job, &worked, &tools, desk)?;
    let answer = Answer { job: &job, worked: &worked, made: &made, advice: &advice, from_file, tools, unit };
    if args.json {
        desk.json(&json::answer(&answer))?;
    } else {
        write!(desk.out, "{}", show::answer(&answer))?;
    }
    for note in &worked.notes {
        writeln!(desk.note, "{note}")?;
    }
    for (layer, choices) in &advice {
        if let Some(text) = advice::sentence(choices, cards, unit) {
            writeln!(desk.note, "{}: {text}", job.card.layer_name(*layer))?;
        }
    }
    Ok(())
}

/// Takes the size given as the flat base.
fn face_from_base(job: &mut CardSpec, from_file: bool, tools: &Tools) -> anyhow::Result<()> {
    if from_file {
        return Err(BadInput("--from-base needs a size; a card file has its own front".to_owned()).into());
    }
    let flat = job.card.face;
    job.card.face = fold::from_base(flat, &job.card.fold, tools).map_err(BadInput::from_error)?.0;
    job.flat = Some(flat);
    Ok(())
}

/// How the base's folds lie when it is cut from the sheet upright and turned.
fn grain_on_sheet(args: &MatsArgs, worked: &Worked, desk: &Desk<'_>) -> anyhow::Result<Vec<String>> {
    let Some(text) = &args.sheet_grain else { return Ok(Vec::new()) };
    let words = [("long", Grain::Long), ("short", Grain::Short), ("unknown", Grain::Unknown)];
    let grain = word("--sheet-grain", text, &words)?;
    let Some(name) = &args.sheet else {
        return Err(BadInput("--sheet-grain needs the sheet: add --sheet".to_owned()).into());
    };
    let (sheet, base) = (sheet(name, desk)?.actual(), &worked.base);
    let mut notes = Vec::new();
    for (way, turned, lying) in [("upright", false, base.size), ("turned", true, base.size.turned())] {
        notes.push(if lying.fits_in(sheet) {
            let fold = grain::when_cut(base, sheet, grain, turned);
            format!("base {way} on the sheet: grain {} the fold", fold.word())
        } else {
            format!("base {way} does not lie on the sheet")
        });
    }
    if base.size.area() * 2 == sheet.area() {
        notes.extend(grain::halvings(sheet, grain).iter().map(|h| h.sentence(desk.unit)));
    }
    Ok(notes)
}

/// What the sheet gives of each mat that has the same reveal all round, for its reveal and two marks either way.
fn advise(
    args: &MatsArgs,
    job: &CardSpec,
    worked: &Worked,
    tools: &Tools,
    desk: &Desk<'_>,
) -> anyhow::Result<Vec<(usize, Vec<RevealChoice>)>> {
    let Some(name) = &args.sheet else { return Ok(Vec::new()) };
    let sheet = sheet(name, desk)?;
    let mut all = Vec::new();
    for layer in &worked.layers {
        let shape = job.card.layers.get(layer.index).map(|l| (l.shape, l.may_turn));
        let Some((Shape::Inset(reveal), may_turn)) = shape else { continue };
        let Some(chosen) = reveal.uniform().filter(|r| r.is_positive()) else { continue };
        let below = layer.on.and_then(|on| worked.layers.get(on)).map_or(job.card.face, |l| l.exact);
        let yield_of = |mat| {
            let mut question = Question::new(mat, sheet.clone());
            question.may_turn = may_turn && !args.no_turn;
            if question.check().is_ok() { one_size(&question).best } else { 0 }
        };
        all.push((layer.index, advice::around(below, chosen, 2, tools, yield_of)));
    }
    Ok(all)
}

fn is_file(card: &str) -> bool {
    Path::new(card).extension().is_some_and(|e| e.eq_ignore_ascii_case("ron"))
}

fn tools(args: &MatsArgs, unit: Unit) -> anyhow::Result<Tools> {
    let mut tools = Tools::usual(unit);
    if let Some(mark) = &args.mark {
        tools.trimmer = length("--mark", mark, unit)?;
    }
    if let Some(groove) = &args.groove {
        tools.board = length("--groove", groove, unit)?;
    }
    Ok(tools)
}

/// The card file, with the reveals of the command line tried in place of its own.
fn file(args: &MatsArgs, unit: Unit) -> anyhow::Result<CardSpec> {
    let path = &args.card;
    let text = given::read_text(Path::new(path), CARD);
    let text = text.map_err(|e| BadInput(format!("{path}: {e}, or give the card as a size")))?;
    let mut file = read_card(&text, unit).map_err(|e| BadInput(format!("{path}: {e}")))?;
    if args.outward {
        return Err(
            BadInput("--outward needs a picture's size; a card file has its own front".to_owned()).into()
        );
    }
    if let Some(given) = &args.reveal {
        let reveals = reveals(given, unit)?;
        let mats: Vec<&mut Layer> =
            file.card.layers.iter_mut().filter(|l| matches!(l.shape, Shape::Inset(_))).collect();
        if reveals.len() > mats.len() {
            let why = format!(
                "--reveal names {} and the file has {}: name at most as many",
                count_of(reveals.len() as u64, "reveal"),
                count_of(mats.len() as u64, "mat")
            );
            return Err(BadInput(why).into());
        }
        for (mat, reveal) in mats.into_iter().zip(reveals) {
            mat.shape = Shape::Inset(reveal);
        }
    }
    Ok(file)
}

/// A card by size or name, with mats by reveal.
fn plain(args: &MatsArgs, unit: Unit) -> anyhow::Result<CardSpec> {
    let found = format::find(&args.card, unit).map_err(BadInput::from_error)?;
    let mut reveals = match &args.reveal {
        Some(given) => reveals(given, unit)?,
        None => Vec::new(),
    };
    let mut face = found.face;
    if args.outward {
        face = layer::outward(found.face, &reveals);
        reveals.reverse();
    }
    let name = if found.name.is_empty() { args.card.trim().to_owned() } else { found.name };
    let layers = reveals.into_iter().map(|r| Layer::mat("", r)).collect();
    let mut job = CardSpec::of(Card { layers, ..Card::new(name, face) });
    let usual = found
        .envelope
        .filter(|_| !args.outward && !args.from_base)
        .and_then(|e| envelope::find(&e, unit).ok());
    job.card.enclosing = usual.map_or(EnvelopeChoice::Smallest, EnvelopeChoice::Usual);
    Ok(job)
}

/// A list of reveals with commas between.
fn reveals(given: &str, unit: Unit) -> anyhow::Result<Vec<Reveal>> {
    let read = |text: &str| Reveal::parse(text, unit).map_err(|e| BadInput(format!("--reveal: {e}")).into());
    given.split(',').map(read).collect()
}

/// A whole number of one or more.
fn number(option: &str, text: &str) -> anyhow::Result<u32> {
    match text.trim().parse() {
        Ok(n) if n > 0 => Ok(n),
        _ => Err(BadInput(format!(
            "{option}: \"{text}\" is not a number of pieces: write a whole number such as 4"
        ))
        .into()),
    }
}

fn length(option: &str, text: &str, unit: Unit) -> anyhow::Result<Length> {
    Length::parse(text, unit).map_err(|e| BadInput(format!("{option}: {e}")).into())
}

fn length_or_zero(option: &str, text: &str, unit: Unit) -> anyhow::Result<Length> {
    if text.trim() == "0" { Ok(Length::ZERO) } else { length(option, text, unit) }
}

/// A word of a list, or a sentence with the list.
fn word<T: Copy>(option: &str, given: &str, choices: &[(&str, T)]) -> anyhow::Result<T> {
    let tidy = given.trim().to_lowercase();
    if let Some(found) = choices.iter().find(|c| c.0 == tidy) {
        return Ok(found.1);
    }
    let words: Vec<&str> = choices.iter().map(|c| c.0).collect();
    Err(BadInput(format!("{option}: \"{given}\" is not read here, use {}", words.join(" or "))).into())
}

/// Options that hold for a plain card and win over a file.
fn apply_options(args: &MatsArgs, job: &mut CardSpec, unit: Unit) -> anyhow::Result<()> {
    let fold = &mut job.card.fold;
    if let Some(kind) = &args.fold {
        fold.kind = FoldKind::from_word(kind).map_err(|e| BadInput(format!("--fold: {e}")))?;
    }
    if let Some(edge) = &args.edge {
        fold.edge = word("--edge", edge, &[("left", FoldEdge::Left), ("top", FoldEdge::Top)])?;
    }
    if let Some(panels) = &args.panels {
        fold.panels = Some(number("--panels", panels)?);
    }
    if let Some(allowance) = &args.allowance {
        fold.allowance = Some(length_or_zero("--allowance", allowance, unit)?);
    }
    if let Some(text) = &args.thickness {
        let thickness = Thickness::parse(text, unit).map_err(|e| BadInput(format!("--thickness: {e}")))?;
        fold.thickness = Some(thickness);
        job.card.base_paper.get_or_insert_with(Paper::default).caliper = Some(thickness);
    }
    if let Some(grain) = &args.grain {
        let sides = [("width", Some(Side::Width)), ("height", Some(Side::Height)), ("unknown", None)];
        job.card.base_grain = word("--grain", grain, &sides)?;
    }
    if let Some(frame) = &args.frame {
        let border = Reveal::parse(frame, unit).map_err(|e| BadInput(format!("--frame: {e}")))?;
        let Some(last) = job.card.layers.last_mut() else {
            return Err(BadInput("--frame needs a mat to cut it from: add --reveal".to_owned()).into());
        };
        last.frame = Some(Frame { border, overlap: Frame::OVERLAP });
    }
    if let Some(ease) = &args.ease {
        job.card.ease = length_or_zero("--ease", ease, unit)?;
    }
    if let Some(address) = &args.address {
        job.card.address = word("--address", address, &[("long", Address::Long), ("short", Address::Short)])?;
    }
    match args.envelope.as_deref() {
        None => {}
        Some("none") => job.card.enclosing = EnvelopeChoice::NoEnvelope,
        Some(name) => {
            let found = envelope::find(name, unit).map_err(|e| BadInput(format!("--envelope: {e}")))?;
            job.card.enclosing = EnvelopeChoice::This(found);
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests;
