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
use crate::app::state::choices::ChangedChoice;
use crate::app::state::choices::Chosen;
use crate::app::state::palette::{NEAREST, PalettePane, TypedColour};
use crate::app::state::stock::count::CountDay;
use crate::app::state::views::{PaletteView, StockView, YieldView};
use crate::domain::cutting::question::Trimmer;
use std::mem::discriminant;

/// Every choice as it is now, always in the same order.
pub fn read(model: &Model) -> Vec<Chosen> {
    let (y, p, s) = (&model.yields, &model.palette, &model.screen);
    let trimmer = Trimmer { longest_cut: None, sheets_per_stroke: 1, ..y.trimmer };
    let photo = p.photo.as_ref().filter(|v| v.waiting.is_none());
    let preview = model.stock.preview.as_ref();
    vec![
        Chosen::Sheet(y.sheet.clone()),
        Chosen::Piece(y.piece),
        Chosen::Count(y.count),
        Chosen::MayTurn(y.may_turn),
        Chosen::Preference(y.preference),
        Chosen::SheetOrder(y.order),
        Chosen::StopCuts(y.stop_cuts),
        Chosen::Trimmer(trimmer),
        Chosen::PerStroke(y.trimmer.sheets_per_stroke),
        Chosen::Range(y.range),
        Chosen::SwatchOrder(p.order),
        Chosen::SwatchFilter(p.filter.trim().to_owned()),
        Chosen::SwatchesOnHand(p.only_on_hand),
        Chosen::Pinned(p.pinned),
        Chosen::Vision(p.vision),
        Chosen::Severity(p.severity),
        Chosen::Scheme(p.scheme),
        Chosen::TrioBase(p.base),
        Chosen::TriosOnHand(p.trios_on_hand),
        Chosen::LeavingFirst(p.leaving_first),
        Chosen::Wheel(p.wheel),
        Chosen::Asked(asked(p)),
        Chosen::Matches(photo.map(|v| (v.path.clone(), v.rows.iter().map(|r| r.choice).collect()))),
        Chosen::StockSorts(model.stock.sorts),
        Chosen::StockFilter(model.stock.filter.clone()),
        Chosen::StockMarks(model.stock.marks.clone()),
        Chosen::Counts(counts(model)),
        Chosen::Terms(preview.map(|p| (p.path.clone(), p.seller.clone(), p.last, p.first, p.exchange))),
        Chosen::Unit(s.unit),
        Chosen::Theme(s.theme),
        Chosen::Signs(s.signs),
        Chosen::Paper(s.paper),
        Chosen::Mouse(s.mouse),
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
pub fn changes(was: &[Chosen], now: &[Chosen]) -> Vec<ChangedChoice> {
    let pairs = was.iter().zip(now).filter(|(was, now)| was != now && is_chosen(was, now));
    pairs.map(|(was, now)| ChangedChoice { was: was.clone(), now: now.clone() }).collect()
}

/// Opening and closing what a choice is about is no choice.
fn is_chosen(was: &Chosen, now: &Chosen) -> bool {
    match (was, now) {
        (Chosen::Matches(was), Chosen::Matches(now)) => {
            let path =
                |m: &Option<(String, Vec<Option<usize>>)>| m.as_ref().map(|m| (m.0.clone(), m.1.len()));
            was.is_some() && path(was) == path(now)
        }
        (Chosen::Terms(Some(was)), Chosen::Terms(Some(now))) => was.0 == now.0,
        (Chosen::Terms(_), Chosen::Terms(_)) => false,
        (Chosen::Asked(was), Chosen::Asked(now)) => ![was, now].contains(&&AskedFor::OutOfSight),
        _ => true,
    }
}

/// True where a choice shows all over the screen.
pub fn is_of_the_screen(choice: &Chosen) -> bool {
    matches!(
        choice,
        Chosen::Unit(_) | Chosen::Theme(_) | Chosen::Signs(_) | Chosen::Paper(_) | Chosen::Mouse(_)
    )
}

/// Notes in an older reading what has changed by itself meanwhile.
pub fn pass_over(old: &mut [Chosen], was: &[Chosen], now: &[Chosen]) {
    for ((old, was), now) in old.iter_mut().zip(was).zip(now) {
        if was != now {
            old.clone_from(now);
        }
    }
}

/// Puts choices back, and asks anew for what rests on them.
pub fn put(model: &mut Model, choices: Vec<Chosen>) -> Vec<Effect> {
    if choices.is_empty() {
        return Vec::new();
    }
    let rearranges = |c: &Chosen| {
        matches!(c, Chosen::SwatchOrder(_) | Chosen::SwatchFilter(_) | Chosen::SwatchesOnHand(_))
    };
    let is_rearranged = choices.iter().any(rearranges);
    let is_of_list = choices.iter().any(|c| discriminant(c) == discriminant(&Chosen::Terms(None)));
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

fn put_one(model: &mut Model, choice: Chosen) {
    let (y, p, s) = (&mut model.yields, &mut model.palette, &mut model.screen);
    match choice {
        Chosen::Sheet(sheet) => y.sheet = sheet,
        Chosen::Piece(piece) => y.piece = piece,
        Chosen::Count(count) => y.count = count,
        Chosen::MayTurn(may) => y.may_turn = may,
        Chosen::Preference(preference) => y.preference = preference,
        Chosen::SheetOrder(order) => y.order = order,
        Chosen::StopCuts(stop) => y.stop_cuts = stop,
        Chosen::Trimmer(t) => {
            let Trimmer { longest_cut, sheets_per_stroke, .. } = y.trimmer;
            y.set_trimmer(Trimmer { longest_cut, sheets_per_stroke, ..t });
        }
        Chosen::PerStroke(n) => y.set_strokes(n),
        Chosen::Range(range) => y.range = range,
        Chosen::SwatchOrder(order) => p.order = order,
        Chosen::SwatchFilter(filter) => p.filter = filter,
        Chosen::SwatchesOnHand(only) => p.only_on_hand = only,
        Chosen::Pinned(pinned) => p.pinned = pinned,
        Chosen::Vision(vision) => p.vision = vision,
        Chosen::Severity(severity) => p.severity = severity,
        Chosen::Scheme(scheme) => p.scheme = scheme,
        Chosen::TrioBase(base) => p.base = base,
        Chosen::TriosOnHand(only) => p.trios_on_hand = only,
        Chosen::LeavingFirst(first) => p.leaving_first = first,
        Chosen::Wheel(wheel) => p.wheel = wheel,
        Chosen::Asked(asked) => put_asked(p, asked),
        Chosen::Matches(matches) => {
            let rows = p.photo.iter_mut().flat_map(|v| &mut v.rows);
            for (row, choice) in rows.zip(matches.into_iter().flat_map(|m| m.1)) {
                row.choice = choice;
            }
        }
        Chosen::StockSorts(sorts) => {
            model.stock.sorts = sorts;
            model.stock.arrange(&model.book, model.today);
        }
        Chosen::StockFilter(filter) => model.stock.filter_by(&filter, &model.book, s.unit),
        Chosen::StockMarks(marks) => {
            model.stock.marks = marks;
            model.stock.arrange(&model.book, model.today);
        }
        Chosen::Counts(counts) => put_counts(model, counts.map(|c| *c)),
        Chosen::Terms(terms) => {
            if let (Some(preview), Some((_, seller, last, first, exchange))) =
                (&mut model.stock.preview, terms)
            {
                (preview.seller, preview.last, preview.first) = (seller, last, first);
                preview.exchange = exchange;
            }
        }
        Chosen::Unit(unit) => s.unit = unit,
        Chosen::Theme(theme) => s.theme = theme,
        Chosen::Signs(signs) => s.signs = signs,
        Chosen::Paper(paper) => s.paper = paper,
        Chosen::Mouse(mouse) => s.mouse = mouse,
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
        pane.asked = Some(TypedColour { text, lab, matches });
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
