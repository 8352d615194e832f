//! What a person chooses and what is not written to the book: the question of Yield, ticks on a count day, the choices of
//! each view, the screen. Read from the model and put back into it, one value a choice. Where a cursor stands and what is
//! looked at are no choices: moving about is not doing, and whoever looks round wants the last thing done taken back.

use crate::app::carry::carry_or_tell;
use crate::app::effect::Effect;
use crate::app::input::list::Cursor;
use crate::app::model::Model;
use crate::app::panes::asked;
use crate::app::panes::plan;
use crate::app::reply::Reply;
use crate::app::state::choices::AskedFor;
use crate::app::state::choices::Change;
use crate::app::state::choices::Choice;
use crate::app::state::palette::{Asked, NEAREST, PalettePane};
use crate::app::state::stock::count::CountDay;
use crate::app::state::views::{PaletteView, StockView, YieldView};
use crate::domain::cutting::question::Trimmer;
use std::mem::discriminant;

/// Every choice as it is now, always in the same order.
pub fn read(model: &Model) -> Vec<Choice> {
    let (y, p, s) = (&model.yields, &model.palette, &model.screen);
    let trimmer = Trimmer { longest_cut: None, sheets_per_stroke: 1, ..y.trimmer };
    let photo = p.photo.as_ref().filter(|v| v.waiting.is_none());
    let preview = model.stock.preview.as_ref();
    vec![
        Choice::Sheet(y.sheet.clone()),
        Choice::Piece(y.piece),
        Choice::Count(y.count),
        Choice::MayTurn(y.may_turn),
        Choice::Preference(y.preference),
        Choice::StopCuts(y.stop_cuts),
        Choice::Trimmer(trimmer),
        Choice::PerStroke(y.trimmer.sheets_per_stroke),
        Choice::Range(y.range),
        Choice::SwatchOrder(p.order),
        Choice::SwatchFilter(p.filter.trim().to_owned()),
        Choice::SwatchesOnHand(p.only_on_hand),
        Choice::Pinned(p.pinned),
        Choice::Vision(p.vision),
        Choice::Severity(p.severity),
        Choice::Scheme(p.scheme),
        Choice::TrioBase(p.base),
        Choice::TriosOnHand(p.trios_on_hand),
        Choice::LeavingFirst(p.leaving_first),
        Choice::Wheel(p.wheel),
        Choice::Asked(asked(p)),
        Choice::Matches(photo.map(|v| (v.path.clone(), v.rows.iter().map(|r| r.choice).collect()))),
        Choice::StockFilter(model.stock.filter.clone()),
        Choice::Counts(counts(model)),
        Choice::Terms(preview.map(|p| (p.path.clone(), p.seller.clone(), p.last, p.first))),
        Choice::Unit(s.unit),
        Choice::Theme(s.theme),
        Choice::Signs(s.signs),
        Choice::Paper(s.paper),
        Choice::Mouse(s.mouse),
    ]
}

fn asked(pane: &PalettePane) -> AskedFor {
    match (pane.view, &pane.asked) {
        (PaletteView::Paper(_) | PaletteView::Photo, _) => AskedFor::OutOfSight,
        (PaletteView::Nearest, Some(asked)) => AskedFor::Colour(asked.text.clone(), asked.lab),
        (PaletteView::Nearest | PaletteView::Library, _) => AskedFor::Nothing,
    }
}

/// The counts of the count day; nothing as long as nothing is counted.
fn counts(model: &Model) -> Option<Box<CountDay>> {
    let count = model.stock.count.as_ref().filter(|c| !c.done().is_empty())?;
    Some(Box::new(CountDay { cursor: Cursor::default(), ..count.clone() }))
}

/// What a person has changed between two readings.
pub fn changes(was: &[Choice], now: &[Choice]) -> Vec<Change> {
    let pairs = was.iter().zip(now).filter(|(was, now)| was != now && is_chosen(was, now));
    pairs.map(|(was, now)| Change { was: was.clone(), now: now.clone() }).collect()
}

/// Opening and closing what a choice is about is no choice.
fn is_chosen(was: &Choice, now: &Choice) -> bool {
    match (was, now) {
        (Choice::Matches(was), Choice::Matches(now)) => {
            let path =
                |m: &Option<(String, Vec<Option<usize>>)>| m.as_ref().map(|m| (m.0.clone(), m.1.len()));
            was.is_some() && path(was) == path(now)
        }
        (Choice::Terms(Some(was)), Choice::Terms(Some(now))) => was.0 == now.0,
        (Choice::Terms(_), Choice::Terms(_)) => false,
        (Choice::Asked(was), Choice::Asked(now)) => ![was, now].contains(&&AskedFor::OutOfSight),
        _ => true,
    }
}

/// True where a choice shows all over the screen.
pub fn is_of_the_screen(choice: &Choice) -> bool {
    matches!(
        choice,
        Choice::Unit(_) | Choice::Theme(_) | Choice::Signs(_) | Choice::Paper(_) | Choice::Mouse(_)
    )
}

/// Notes in an older reading what has changed by itself meanwhile.
pub fn pass_over(old: &mut [Choice], was: &[Choice], now: &[Choice]) {
    for ((old, was), now) in old.iter_mut().zip(was).zip(now) {
        if was != now {
            old.clone_from(now);
        }
    }
}

/// Puts choices back, and asks anew for what rests on them.
pub fn put(model: &mut Model, choices: Vec<Choice>) -> Vec<Effect> {
    if choices.is_empty() {
        return Vec::new();
    }
    let rearranges = |c: &Choice| {
        matches!(c, Choice::SwatchOrder(_) | Choice::SwatchFilter(_) | Choice::SwatchesOnHand(_))
    };
    let is_rearranged = choices.iter().any(rearranges);
    let is_of_list = choices.iter().any(|c| discriminant(c) == discriminant(&Choice::Terms(None)));
    for choice in choices {
        put_one(model, choice);
    }
    if is_rearranged {
        model.palette.arrange(&model.book);
    }
    if is_of_list && let Some(preview) = &mut model.stock.preview {
        preview.work_out(&model.book, model.today);
    }
    model.palette.wants_trios = true;
    let (panes, ctx) = model.panes();
    let mut replies: Vec<Reply> = asked::answer(panes.yields).into_iter().collect();
    if panes.yields.view == YieldView::Chart {
        replies.extend(asked::chart(panes.yields));
    }
    replies.extend(plan::follow(panes.yields, &ctx));
    replies.push(Reply::Do(Effect::Remember));
    carry_or_tell(model, Ok(replies))
}

fn put_one(model: &mut Model, choice: Choice) {
    let (y, p, s) = (&mut model.yields, &mut model.palette, &mut model.screen);
    match choice {
        Choice::Sheet(sheet) => y.sheet = sheet,
        Choice::Piece(piece) => y.piece = piece,
        Choice::Count(count) => y.count = count,
        Choice::MayTurn(may) => y.may_turn = may,
        Choice::Preference(preference) => y.preference = preference,
        Choice::StopCuts(stop) => y.stop_cuts = stop,
        Choice::Trimmer(t) => {
            let Trimmer { longest_cut, sheets_per_stroke, .. } = y.trimmer;
            y.trimmer = Trimmer { longest_cut, sheets_per_stroke, ..t };
        }
        Choice::PerStroke(n) => y.set_strokes(n),
        Choice::Range(range) => y.range = range,
        Choice::SwatchOrder(order) => p.order = order,
        Choice::SwatchFilter(filter) => p.filter = filter,
        Choice::SwatchesOnHand(only) => p.only_on_hand = only,
        Choice::Pinned(pinned) => p.pinned = pinned,
        Choice::Vision(vision) => p.vision = vision,
        Choice::Severity(severity) => p.severity = severity,
        Choice::Scheme(scheme) => p.scheme = scheme,
        Choice::TrioBase(base) => p.base = base,
        Choice::TriosOnHand(only) => p.trios_on_hand = only,
        Choice::LeavingFirst(first) => p.leaving_first = first,
        Choice::Wheel(wheel) => p.wheel = wheel,
        Choice::Asked(asked) => put_asked(p, asked),
        Choice::Matches(matches) => {
            let rows = p.photo.iter_mut().flat_map(|v| &mut v.rows);
            for (row, choice) in rows.zip(matches.into_iter().flat_map(|m| m.1)) {
                row.choice = choice;
            }
        }
        Choice::StockFilter(filter) => model.stock.filter_by(&filter, &model.book, s.unit),
        Choice::Counts(counts) => put_counts(model, counts.map(|c| *c)),
        Choice::Terms(terms) => {
            if let (Some(preview), Some((_, seller, last, first))) = (&mut model.stock.preview, terms) {
                (preview.seller, preview.last, preview.first) = (seller, last, first);
            }
        }
        Choice::Unit(unit) => s.unit = unit,
        Choice::Theme(theme) => s.theme = theme,
        Choice::Signs(signs) => s.signs = signs,
        Choice::Paper(paper) => s.paper = paper,
        Choice::Mouse(mouse) => s.mouse = mouse,
    }
}

/// Where the card of a paper or a photo lies over the library, what is asked for comes to light below it.
fn put_asked(pane: &mut PalettePane, asked: AskedFor) {
    let is_asked = matches!(asked, AskedFor::Colour(..));
    let view = if is_asked { PaletteView::Nearest } else { PaletteView::Library };
    match pane.view {
        PaletteView::Library | PaletteView::Nearest => pane.view = view,
        PaletteView::Paper(_) | PaletteView::Photo => pane.under = view,
    }
    if let AskedFor::Colour(text, lab) = asked {
        let matches = pane.nearest(lab, NEAREST);
        pane.asked = Some(Asked { text, lab, matches });
    }
}

/// The walk stays where it is; without counts its lines stay, as long as it is in view.
fn put_counts(model: &mut Model, counts: Option<CountDay>) {
    match (counts, &mut model.stock.count) {
        (Some(new), Some(old)) if new.items == old.items => old.counted = new.counted,
        (Some(new), _) => model.stock.count = Some(new),
        (None, Some(old)) if model.stock.view == StockView::Count => old.counted.fill(None),
        (None, _) => model.stock.count = None,
    }
}
