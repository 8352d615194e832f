//! What follows from the card in hand, one fact each: a label and its words. The drawn views and the plain mode tell the
//! same facts in the same words.

use crate::app::ctx::Ctx;
use crate::app::state::mats::{MatsPane, MatsView, Picked};
use crate::domain::cards::advice;
use crate::domain::cards::cautions::{self, Activity, DEFER};
use crate::domain::cards::construction::Construction;
use crate::domain::cards::fold::Score;
use crate::domain::cards::grain::{self, FoldGrain};
use crate::domain::cards::job::Worked;
use crate::domain::cards::layer::LayerSize;
use crate::domain::cards::made_by::MadeBy;
use crate::domain::cards::post::Judgement;
use crate::domain::cards::reveal::Reveal;
use crate::domain::cards::tools::{Tool, Tools};
use crate::domain::cardwork;
use crate::domain::length::{Length, Unit};
use crate::domain::project::{CardColour, CardLayer, PaperRef, ProjectCard};
use crate::domain::ruler;
use crate::domain::stock::shortage::{missing_words, shortage};
use crate::domain::thickness::Thickness;

/// A label and its words. A label of `note` or `care` wants a look.
pub type LabelWords = (&'static str, String);

/// Name of a paper, of the shelf or not.
pub fn paper_name(ctx: &Ctx, paper: Option<&PaperRef>) -> Option<String> {
    paper.map(|p| cardwork::paper(ctx.book, p).name)
}

/// A row of the list: what it is, its size, its reveal or count, its paper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RowText {
    /// What it is.
    pub name: String,
    /// The size to cut.
    pub size: String,
    /// The same in the other unit.
    pub other: String,
    /// Its reveal, where it has one.
    pub reveal: String,
    /// Its paper.
    pub paper: String,
    /// What else to know: count, foam, upright.
    pub marks: String,
}

/// The rows of the list, base first.
pub fn rows(pane: &MatsPane, ctx: &Ctx) -> Vec<RowText> {
    let (book, unit) = (ctx.book, ctx.unit);
    let card = pane.card(book);
    let sizes = pane.sizes(book, unit).unwrap_or_default();
    let base = pane.worked(book, unit).ok().map(|w| w.base.size);
    let paper = |p: &Option<PaperRef>| paper_name(ctx, p.as_ref()).unwrap_or_else(|| "-".to_owned());
    let base_paper = paper(&card.base_paper);
    let mut all = vec![RowText { paper: base_paper, ..row("base", base, unit) }];
    for (n, layer) in card.layers.iter().enumerate() {
        let size = sizes.get(n).map(|s| s.cut.size);
        let reveal = sizes.get(n).map_or(String::new(), |s| reveal_text(&s.reveal, layer, unit));
        let (paper, marks) = (paper(&layer.paper), marks(layer));
        all.push(RowText { reveal, paper, marks, ..row(card.layer_name(n), size, unit) });
    }
    for (n, extra) in card.extras.iter().enumerate() {
        let size = pane.made(book, unit, n).ok().and_then(|m| m.first().map(|m| m.blank));
        let name = crate::domain::cards::parts::PartKind::of_make(&extra.make).word();
        let count = if extra.count == 1 { String::new() } else { format!("x{}", extra.count) };
        all.push(RowText { paper: paper(&extra.paper), marks: count, ..row(name, size, unit) });
    }
    all
}

/// A row with its name and size, and nothing else yet.
fn row(name: impl Into<String>, size: Option<crate::domain::size::Size>, unit: Unit) -> RowText {
    RowText {
        name: name.into(),
        size: size.map_or_else(|| "?".to_owned(), |s| short(s, unit)),
        other: size.map_or(String::new(), |s| short(s, unit.other())),
        reveal: String::new(),
        paper: String::new(),
        marks: String::new(),
    }
}

/// A size without its unit; about, where no fraction of a ruler is exact.
pub(super) fn short(size: crate::domain::size::Size, unit: Unit) -> String {
    format!("{} x {}", size.width.about(unit), size.height.about(unit))
}

fn reveal_text(reveal: &Reveal, layer: &CardLayer, unit: Unit) -> String {
    match (&layer.shape, reveal.uniform()) {
        (crate::domain::cards::layer::Shape::Inset(_), Some(all)) => all.show(unit),
        (crate::domain::cards::layer::Shape::Inset(_), None) => "by side".to_owned(),
        _ => "-".to_owned(),
    }
}

fn marks(layer: &CardLayer) -> String {
    let mut all = Vec::new();
    if layer.count != 1 {
        all.push(format!("x{}", layer.count));
    }
    if layer.raise > Thickness::ZERO {
        all.push("foam".to_owned());
    }
    if layer.made_by != MadeBy::Straight {
        all.push(layer.made_by.word().to_owned());
    }
    if !layer.may_turn {
        all.push("upright".to_owned());
    }
    all.join(" ")
}

/// The row in hand: reveal or place, what rounding does, its opening, colour, height; for the base, scores and grain.
pub fn in_hand(pane: &MatsPane, ctx: &Ctx) -> Vec<LabelWords> {
    let (book, unit) = (ctx.book, ctx.unit);
    let card = pane.card(book);
    let mut all = match pane.picked(book) {
        Picked::Base => pane.worked(book, unit).map_or_else(|_| Vec::new(), |w| base(pane, ctx, card, &w)),
        Picked::Layer(n) => {
            let size = pane.sizes(book, unit).ok().and_then(|s| s.get(n).copied());
            let layer = card.layers.get(n).zip(size);
            layer.map_or_else(Vec::new, |(layer, size)| one_layer(pane, ctx, layer, &size))
        }
        Picked::Extra(n) => match pane.made(book, unit, n) {
            Ok(made) => made.iter().flat_map(|m| construction(m, unit)).collect(),
            Err(why) => vec![("note", why)],
        },
    };
    all.splice(0..0, wanting(pane, ctx));
    all.extend(made_by(pane, ctx));
    all.push(("pieces", pieces(pane, ctx, card)));
    all
}

/// What its paper is short of, before anything else: who cuts without it cuts too soon.
fn wanting(pane: &MatsPane, ctx: &Ctx) -> Option<LabelWords> {
    let paper = pane.row_in_hand(ctx.book)?.paper?;
    let short = shortage(ctx.book, paper)?;
    // Whose card is in hand is known.
    let is_own = ctx.book.active() == Some(short.project);
    let words = if is_own {
        missing_words(ctx.book, paper, short.missing, short.on)
    } else {
        short.whole_words(ctx.book, paper)
    };
    Some(("SHORT", words))
}

/// How the row in hand is made, the size that is cut for it, and what the grain does.
fn made_by(pane: &MatsPane, ctx: &Ctx) -> Vec<LabelWords> {
    let Some(row) = pane.row_in_hand(ctx.book) else { return Vec::new() };
    let Some(words) = row.made_by.words(row.allowance, ctx.unit) else { return Vec::new() };
    let mut all = vec![("made", format!("{words}: cut {}", row.cut_size().show_with_unit(ctx.unit)))];
    all.extend(row.made_by.grain_words().map(|grain| ("note", grain.to_owned())));
    if row.made_by == MadeBy::DieCut {
        all.extend(care(Activity::Cutting));
    }
    all
}

/// How many of the row in hand the whole batch needs, and whether they may be turned.
fn pieces(pane: &MatsPane, ctx: &Ctx, card: &ProjectCard) -> String {
    let Some(row) = pane.row_in_hand(ctx.book) else { return "none".to_owned() };
    let turn = match (row.may_turn, row.one_way) {
        (true, _) => "may be turned on the sheet",
        (false, false) => "must stay upright",
        (false, true) => "stay upright with the paper's pattern",
    };
    let a_card = row.a_set.checked_div(card.count).unwrap_or(row.a_set);
    format!("{a_card} a card, {} in all; {turn}", row.made)
}

fn one_layer(_pane: &MatsPane, ctx: &Ctx, layer: &CardLayer, s: &LayerSize) -> Vec<LabelWords> {
    let unit = ctx.unit;
    let mut all = vec![
        ("reveal", s.reveal.both_ways(unit)),
        (
            "place",
            format!("{} from the left, {} from the top of the front", s.x.about(unit), s.y.about(unit)),
        ),
    ];
    if s.cut.is_exact() {
        all.push(("mark", format!("falls on the {} mark: nothing is rounded", s.cut.mark.about(unit))));
    } else {
        let shown = |l: Length| l.abs().about(unit);
        all.push((
            "note",
            format!(
                "exact size {}; cut down to the {} mark, {} narrower and {} shorter",
                s.exact.show_with_unit(unit),
                s.cut.mark.about(unit),
                shown(s.cut.error_width),
                shown(s.cut.error_height)
            ),
        ));
        if s.seen != s.reveal {
            let sides = [s.seen.left, s.seen.top, s.seen.right, s.seen.bottom].map(|l| l.about(unit));
            let [left, top, right, bottom] = sides;
            all.push(("seen", format!("left {left}, top {top}, right {right}, bottom {bottom}")));
        }
    }
    if let Some(o) = s.opening {
        let behind = paper_name(ctx, layer.insert.as_ref());
        let behind = behind.map_or_else(|| "no paper chosen".to_owned(), |p| format!("of {p}"));
        all.push((
            "opening",
            format!("{}, insert {} {behind}", o.size.about(unit), o.insert_cut.about(unit)),
        ));
        all.extend(care(Activity::Cutting));
    }
    match &layer.colour {
        Some(CardColour::Swatch(id)) => all.push(("color", ctx.book.swatches().name_of(*id))),
        Some(CardColour::Named(name)) => all.push(("color", format!("{name}, not in the library"))),
        None => {}
    }
    if layer.raise > Thickness::ZERO {
        all.push(("lifted", format!("by {}", layer.raise.show(unit))));
        all.extend(care(Activity::Adhesives));
        all.extend(care(Activity::Children));
    }
    all
}

fn care(what: Activity) -> Option<LabelWords> {
    cautions::when(what).map(|c| ("care", format!("{} ({DEFER})", c.text)))
}

/// The base in hand: where its scores fall on the tools, and how the fold lies to the grain.
fn base(_pane: &MatsPane, ctx: &Ctx, card: &ProjectCard, worked: &Worked) -> Vec<LabelWords> {
    let unit = ctx.unit;
    let tools = MatsPane::tools(ctx.book, unit);
    let mut all: Vec<LabelWords> = worked.base.scores.iter().map(|s| ("score", score(s, &tools))).collect();
    let thickness = card.fold.thickness.map_or(String::new(), |t| format!(", for {}", t.show(unit)));
    if worked.base.allowance.is_positive() {
        all.push(("allowance", format!("{}{thickness}", worked.base.allowance.show_with_unit(unit))));
    }
    if let Some(gap) = worked.base.door_gap(card.fold.kind) {
        all.push(("doors", format!("meet with a gap of {}", gap.show_with_unit(unit))));
    }
    let said = worked.grain.sentence().map_or(String::new(), |s| format!(": {s}"));
    let label = if worked.grain == FoldGrain::Across { "note" } else { "grain" };
    all.push((label, format!("grain {}{said}", worked.grain.word())));
    all.extend(on_sheet(ctx, card, worked).map(|s| ("grain", s)));
    all.extend(halved(ctx, card, worked).map(|s| ("grain", s)));
    let grammage = card.base_paper.as_ref().and_then(|p| cardwork::paper(ctx.book, p).grammage);
    all.extend(grain::notes(&worked.base, grammage).into_iter().map(|n| ("note", n)));
    all
}

fn score(score: &Score, tools: &Tools) -> String {
    let unit = tools.unit;
    let at = format!("at {} along the {}", score.at.show_with_unit(unit), score.side.word());
    match tools.tool_with_mark_at(score.at) {
        Some(Tool::Board) => format!("{at}, on a groove of the board"),
        Some(tool) => format!("{at}, on a mark of the {}", tool.word()),
        None => {
            let near = tools.reading(Tool::Rule, score.at).nearest.value;
            format!("{at}, between marks: nearest {} on the rule", near.show_with_unit(unit))
        }
    }
}

/// How the fold would lie on the base's own paper, upright and turned.
fn on_sheet(ctx: &Ctx, card: &ProjectCard, worked: &Worked) -> Option<String> {
    let item = ctx.book.items().get(card.base_item()?)?;
    let sheet = item.cutting_size()?;
    let word = |turned: bool| {
        let piece = if turned { worked.base.size.turned() } else { worked.base.size };
        piece.fits_in(sheet).then(|| grain::when_cut(&worked.base, sheet, item.grain, turned).word())
    };
    let (upright, turned) = (word(false), word(true));
    if upright == Some(FoldGrain::Unknown.word()) || turned == Some(FoldGrain::Unknown.word()) {
        return Some(format!("the grain of {} is not known: bend the sheet both ways to find it", item.name));
    }
    let say = |way: &str, lies: Option<&str>| match lies {
        Some(lies) => format!("{way} the fold runs {lies}"),
        None => format!("{way} it does not fit"),
    };
    let name = &item.name;
    (!worked.base.scores.is_empty())
        .then(|| format!("cut from {name} {}, {}", say("upright", upright), say("turned", turned)))
}

/// Which way to cut the base's sheet in half, where a half of it is the base.
fn halved(ctx: &Ctx, card: &ProjectCard, worked: &Worked) -> Option<String> {
    let item = ctx.book.items().get(card.base_item()?)?;
    let halves = grain::halvings(item.cutting_size()?, item.grain);
    let size = worked.base.size;
    let found = halves.iter().find(|h| h.piece == size || h.piece == size.turned())?;
    Some(found.sentence(ctx.unit))
}

/// What follows from the whole card, in a few lines: base, envelope, post.
pub fn card(pane: &MatsPane, ctx: &Ctx) -> Vec<LabelWords> {
    let unit = ctx.unit;
    let worked = match pane.worked(ctx.book, unit) {
        Ok(worked) => worked,
        Err(why) => return vec![("note", why)],
    };
    let scores: Vec<String> = worked
        .base
        .scores
        .iter()
        .map(|s| format!("{} along the {}", s.at.about(unit), s.side.word()))
        .collect();
    let scores =
        if scores.is_empty() { "no score".to_owned() } else { format!("score at {}", scores.join(" and ")) };
    let mut all = vec![("base", format!("{}, {scores}", worked.base.size.show_with_unit(unit)))];
    all.extend(envelope(&worked, unit));
    let own = own_posts(pane, ctx, &worked);
    let post: Vec<String> = own.iter().map(|j| format!("{}: {}", j.short, j.verdict.word())).collect();
    let by_size = worked.weight.value.is_none() || worked.thickness.value.is_none();
    if !post.is_empty() {
        let from = if by_size { "by its size alone; " } else { "" };
        all.push(("post", format!("{from}{}; check with your postal service", post.join(", "))));
    }
    all.extend(worked.notes.iter().map(|n| ("note", n.clone())));
    all
}

fn envelope(worked: &Worked, unit: Unit) -> Option<LabelWords> {
    let e = worked.enclosed.as_ref()?;
    let name =
        if e.envelope.name.is_empty() { e.envelope.outside.about(unit) } else { e.envelope.name.clone() };
    // What stands before it says that it is an envelope.
    let name = name.strip_prefix("envelope ").map_or(name.clone(), str::to_owned);
    let fits = if e.fit.fits { "fits" } else { "does NOT fit" };
    let room = format!("{} x {}", e.fit.clearance_width.about(unit), e.fit.clearance_height.about(unit));
    Some(("envelope", format!("{name} {fits}, {room} to spare")))
}

/// What other reveals would yield, and whether one of them saves paper.
pub fn advice(pane: &MatsPane, ctx: &Ctx) -> Vec<LabelWords> {
    let unit = ctx.unit;
    let pane = &pane.advice;
    let Some(asked) = &pane.asked else { return Vec::new() };
    let Some(choices) = &pane.choices else {
        return vec![("yield", "being worked out".to_owned())];
    };
    let each: Vec<String> = choices
        .iter()
        .map(|c| {
            let (open, close) = if c.chosen { ("[", "]") } else { ("", "") };
            format!("{open}{}: {}{close}", c.reveal.about(unit), c.yields)
        })
        .collect();
    let mut all = vec![("yield", format!("{} a sheet of {}", each.join(", "), asked.sheet.name))];
    all.extend(advice::sentence(choices, asked.pieces, unit).map(|s| ("note", s)));
    all
}

/// Weight, thickness, envelope and post at length.
pub fn post(pane: &MatsPane, ctx: &Ctx) -> Vec<LabelWords> {
    let (book, unit) = (ctx.book, ctx.unit);
    let worked = match pane.worked(book, unit) {
        Ok(worked) => worked,
        Err(why) => return vec![("note", why)],
    };
    let card = pane.card(book);
    let mut all: Vec<LabelWords> = envelope(&worked, unit).into_iter().collect();
    if let Some(e) = &worked.enclosed {
        all.push(("room", format!("needs {} each way beside the front", e.fit.needed.about(unit))));
    }
    all.extend(weights(card, &worked, unit));
    let own = own_posts(pane, ctx, &worked);
    all.extend(verdicts(&own));
    if own.len() < worked.post.len() {
        all.push((
            "others",
            format!(
                "{} more, for mail in and to other countries: <post-countries> shows them",
                worked.post.len() - own.len()
            ),
        ));
    }
    all.extend(worked.notes.iter().map(|n| ("note", n.clone())));
    all.extend(care(Activity::Post));
    all
}

/// The judgements by the rules of the person's own country; all of them until it is known, or where all are asked for.
fn own_posts<'a>(pane: &MatsPane, ctx: &Ctx, worked: &'a Worked) -> Vec<&'a Judgement> {
    let country = ctx.country.filter(|_| !pane.every_country);
    worked.post.iter().filter(|j| country.is_none_or(|c| j.rules == c.rules())).collect()
}

/// The verdict of each set of rules with its own reasons; reasons that all of them share stand once, at the end.
fn verdicts(post: &[&Judgement]) -> Vec<LabelWords> {
    let first = post.first().map_or(&[][..], |j| &j.reasons);
    let shared = |r: &String| post.len() > 1 && post.iter().all(|j| j.reasons.contains(r));
    let mut all = Vec::new();
    for judgement in post {
        let own: Vec<&str> = judgement.reasons.iter().filter(|r| !shared(r)).map(String::as_str).collect();
        let edition = if own.iter().any(|r| r.contains(&judgement.edition)) {
            String::new()
        } else {
            format!(" by {}", judgement.edition)
        };
        let verdict = judgement.verdict.word();
        let own = own.join("; ");
        // A reason that begins with the verdict says it already.
        let said = |own: &str| {
            own.strip_prefix(&format!("\"{verdict}\""))
                .or_else(|| own.strip_prefix(verdict).filter(|rest| rest.starts_with(' ')))
                .map(str::to_owned)
        };
        let words = match said(&own) {
            Some(rest) => format!("{}: {verdict}{rest}", judgement.short),
            None => format!("{}: {verdict}{edition}; {own}", judgement.short),
        };
        all.push(("post", words));
    }
    all.extend(first.iter().filter(|r| shared(r)).map(|r| ("", r.clone())));
    all
}

fn weights(card: &ProjectCard, worked: &Worked, unit: Unit) -> Vec<LabelWords> {
    let mut all = vec![("weight", worked.weight_words())];
    let parts = worked.weights.iter().enumerate().filter_map(|(n, w)| {
        let name = n.checked_sub(1).map_or_else(|| "base".to_owned(), |n| card.layer_name(n));
        w.map(|w| format!("{name}: {}", w.show()))
    });
    let parts: Vec<String> = parts.collect();
    if !parts.is_empty() {
        all.push(("", parts.join(", ")));
    }
    all.extend(worked.sealed_words().map(|words| ("", words)));
    all.push(("thickness", worked.thickness_words(unit)));
    all.extend(worked.in_envelope.map(|t| {
        ("", format!("{} in its envelope, {} at the flap", t.thickness.show(unit), t.at_flap.show(unit)))
    }));
    all
}

/// A construction in words: blank, figures with their marks, lines.
pub fn construction(made: &Construction, unit: Unit) -> Vec<LabelWords> {
    let tools = Tools::usual(unit);
    let both = format!("{} ({})", made.blank.about(unit), made.blank.about(unit.other()));
    let mut all = vec![("blank", format!("{}: {both}", made.name))];
    for figure in &made.figures {
        let reading = tools.reading(Tool::Trimmer, figure.value);
        let mark = if figure.is_set && !reading.is_exact() {
            format!(", nearest mark {}", reading.nearest.value.show_with_unit(unit))
        } else {
            String::new()
        };
        all.push(("", format!("{} {} {}{mark}", figure.name, figure.value.about(unit), unit.sign())));
    }
    all.extend(made.notes.iter().map(|n| ("note", n.clone())));
    all
}

/// What this card can get beside it, with the blank of each, where nothing is made yet.
fn offered(pane: &MatsPane, ctx: &Ctx) -> Vec<LabelWords> {
    let unit = ctx.unit;
    let mut all = vec![(
        "",
        "Nothing is made beside this card yet. <add-part> adds one of these, here at its usual measures:"
            .to_owned(),
    )];
    all.extend(pane.offered(ctx.book, unit).into_iter().map(|(kind, made)| {
        let blank = format!("{} ({})", made.blank.show_with_unit(unit), made.blank.about(unit.other()));
        ("", format!("- {}, blank {blank}: {}", kind.word(), kind.line()))
    }));
    all.push(("", "- a box and lid, a bag, a pocket or a sleeve, by measures that you type".to_owned()));
    all
}

/// Everything made beside the card, with the usual caution.
pub fn made(pane: &MatsPane, ctx: &Ctx) -> Vec<LabelWords> {
    let (book, unit) = (ctx.book, ctx.unit);
    let card = pane.card(book);
    if card.extras.is_empty() {
        return wanting(pane, ctx).into_iter().chain(offered(pane, ctx)).collect();
    }
    let picked = match pane.picked(book) {
        Picked::Extra(n) => n,
        _ => 0,
    };
    let mut all = match pane.made(book, unit, picked) {
        Ok(made) => made.iter().flat_map(|m| construction(m, unit)).collect(),
        Err(why) => vec![("note", why)],
    };
    all.splice(0..0, wanting(pane, ctx));
    all.extend(care(Activity::Cutting));
    all
}

/// What the ruler reads, or the practice question; keys stand in it by the names of their commands.
pub fn on_ruler(pane: &MatsPane, ctx: &Ctx) -> Vec<LabelWords> {
    let (book, unit) = (ctx.book, ctx.unit);
    let ruler = pane.ruler.ruler(unit);
    if let Some(p) = &pane.ruler.practice {
        let mut all = vec![("question", p.question.text())];
        match &p.said {
            Some(said) => all.push((if said.right { "right" } else { "note" }, said.sentence.clone())),
            None if p.question.ask == ruler::AskFor::WhichTick => {
                all.push((
                    "",
                    "Move the tick with <tick-left> and <tick-right>; <ruler-enter> gives your answer."
                        .to_owned(),
                ));
            }
            None => all.push(("", "Press <ruler-enter> and type what it reads.".to_owned())),
        }
        all.push(("score", format!("{} of {} right", p.right, p.answered)));
        return all;
    }
    let at = pane.pointed(book, unit);
    let label = match (pane.ruler.tick, pane.measure_in_hand(book, unit)) {
        (None, Some((name, _))) => format!("{} of {}", name, pane.name_in_hand(book)),
        _ => "tick".to_owned(),
    };
    let mark = ruler::find(at, ruler);
    let next = match mark.before {
        Some(before) => format!("next lines {} and {}", before.show(unit), mark.after.show(unit)),
        None => format!("next line {}", mark.after.show(unit)),
    };
    let mut all = vec![
        ("ruler", format!("{label}: {}", at.show_both(unit))),
        ("say", format!("{}: {}; {next}", ruler::name(at, ruler), ruler::ticks_in_words(at, ruler))),
    ];
    if !mark.is_exact() {
        let (least, most) = (mark.above.show_with_unit(unit), mark.below.show_with_unit(unit));
        all.push(("to cut", format!("at least this long: {least}; no longer than this: {most}")));
    }
    all
}

/// Everything that the view in hand says beside the list; keys stand in it by the names of their commands.
pub fn view(pane: &MatsPane, ctx: &Ctx) -> Vec<LabelWords> {
    match pane.view {
        MatsView::Card | MatsView::Drawing => {
            let mut all = in_hand(pane, ctx);
            all.extend(advice(pane, ctx));
            all.extend(card(pane, ctx));
            // What is long and always the same comes last, so that it pushes nothing else out.
            all.sort_by_key(|(label, _)| *label == "care");
            all
        }
        MatsView::Made => made(pane, ctx),
        MatsView::Post => post(pane, ctx),
    }
}
