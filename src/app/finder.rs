//! The lists that are found by typing: everything by name, projects, themes. The rows alone; `narrow` orders them by what
//! is typed, `about` says more of each.

use super::commands::{Command, Context, offered};
use super::input::list::Cursor;
use super::model::Model;
use super::overlay::{PickDetail, PickRow, Picker, Target};
use super::reach;
use super::resolve;
use super::state::stock::in_bin;
use super::state::stock::orders::Orders;
use super::state::views::Tab;
use super::state::yields::YieldChoice;
use super::synonyms;
use crate::domain::cards::country::Country;
use crate::domain::craft::topics;
use crate::domain::pages::frame::PrintPaper;
use crate::domain::plural::count_of;
use crate::domain::project::Project;
use crate::domain::screen::{Screen, Signs, Start, ThemeChoice};

/// The themes; the one under the cursor is shown at once.
pub fn themes(screen: &Screen) -> Picker {
    let rows: Vec<PickRow> = ThemeChoice::ALL.into_iter().map(|t| theme_row(screen, t)).collect();
    let at = ThemeChoice::ALL.iter().position(|t| *t == screen.theme).unwrap_or(0);
    Picker { cursor: Cursor::at(at), before: Some(screen.theme), ..Picker::of("Theme", rows) }
}

fn theme_row(screen: &Screen, theme: ThemeChoice) -> PickRow {
    let is_live = theme != ThemeChoice::Own || screen.own.is_some();
    let detail = if is_live { theme.line() } else { "none yet: trimside example theme" };
    PickRow { is_live, ..PickRow::new(theme.name(), detail, Target::Theme(theme)) }
}

/// A row with the kind of thing that it is.
fn of_kind(place: &'static str, row: PickRow) -> PickRow {
    beside(row, PickDetail { place, far: 2, ..PickDetail::default() })
}

fn beside(row: PickRow, beside: PickDetail) -> PickRow {
    PickRow { beside: Some(Box::new(beside)), ..row }
}

/// What can be set, each value by name.
fn settings(model: &Model) -> Vec<PickRow> {
    let theme =
        |t: ThemeChoice| PickRow { label: format!("theme {}", t.name()), ..theme_row(&model.screen, t) };
    let paper = |p: PrintPaper| {
        PickRow::new(format!("print on {}", p.name()), "the paper in the printer", Target::PrintPaper(p))
    };
    let signs = |words: &str, s| PickRow::new(words, "how lines and bars are drawn", Target::Signs(s));
    let themes = ThemeChoice::ALL.into_iter().map(theme);
    let papers = [PrintPaper::Letter, PrintPaper::A4].into_iter().map(paper);
    let drawn = [signs("box drawing signs", Signs::Unicode), signs("plain ASCII signs", Signs::Ascii)];
    let country = |c: Country| {
        let words = format!("mail from {}", c.name());
        PickRow::new(words, "whose mailing rules are shown", Target::Country(c))
    };
    let countries = Country::ALL.into_iter().map(country);
    let opens = |words: &str, s| PickRow::new(words, "what is in view when it opens", Target::Start(s));
    let starts = [opens("open with today", Start::Today), opens("open with the last pane", Start::Pane)];
    themes
        .chain(papers)
        .chain(countries)
        .chain(drawn)
        .chain(starts)
        .map(|row| of_kind("setting", row))
        .collect()
}

/// Where a command belongs, in words.
pub const fn place(context: Context) -> &'static str {
    match context {
        Context::Everywhere => "every pane",
        _ => context.title(),
    }
}

fn command_row(model: &Model, c: &Command, here: &[Context]) -> PickRow {
    let far = match c.context {
        Context::Everywhere => 1,
        context if here.contains(&context) => 0,
        _ => 2,
    };
    let beside = PickDetail {
        key: model.keymap.texts(c.id).into_iter().next().unwrap_or_default(),
        place: place(c.context),
        words: synonyms::of_command(c.name),
        far,
    };
    let is_live = reach::is_live(model, c);
    PickRow {
        is_live,
        beside: Some(Box::new(beside)),
        ..PickRow::new(c.title, c.line, Target::Command(c.id))
    }
}

/// What a list of Stock holds.
pub const fn holds(tab: Tab) -> &'static str {
    match tab {
        Tab::Shelf => "papers, inks, envelopes and everything else on hand",
        Tab::Bin => "offcuts that are kept, by paper and size",
        Tab::Log => "every line of what came in and was used, newest first",
        Tab::Reorder => "what to order, seller by seller, and what is on its way",
        Tab::Classes => "classes and batches: seats, kits, costs, what is short",
        Tab::Bookings => "what is set aside for classes and batches",
    }
}

/// How many rows a list of Stock has, in words.
pub fn size_of(model: &Model, tab: Tab) -> String {
    let book = &model.book;
    let count = |n: usize, word: &str| count_of(n as u64, word);
    match tab {
        Tab::Shelf => count(book.items().len(), "line"),
        Tab::Bin => count(in_bin(book).count(), "kind"),
        Tab::Log => count(book.log().len(), "line"),
        Tab::Reorder => count(Orders::of(book, model.today).rows.len(), "row"),
        Tab::Classes => count(book.projects().len(), "project"),
        Tab::Bookings => count(book.bookings().len(), "booking"),
    }
}

fn list_row(tab: Tab) -> PickRow {
    let row = PickRow::new(tab.title().to_lowercase(), holds(tab), Target::List(tab));
    // A list is meant more often than a command that works on it.
    beside(
        row,
        PickDetail { place: "Stock", words: synonyms::of_list(tab.title()), far: 1, ..PickDetail::default() },
    )
}

/// Everything the finder knows by name: commands, those of the view in hand first, then lists, papers, swatches, projects,
/// settings, topics of the craft.
pub fn everything(model: &Model) -> Picker {
    let here = resolve::contexts(model);
    let mut rows: Vec<PickRow> = offered(model.can_stop).map(|c| command_row(model, c, &here)).collect();
    rows.extend(Tab::ALL.into_iter().map(list_row));
    let unit = model.screen.unit;
    rows.extend(model.formats.all().iter().map(|f| {
        let target = Target::Yield(YieldChoice::Format(f.name.clone()));
        of_kind("sheet size", PickRow::new(&f.name, f.size.show_with_unit(unit), target))
    }));
    let book = &model.book;
    rows.extend(book.projects().iter().map(|(id, p)| {
        of_kind("project", PickRow::new(&p.name, project_words(p), Target::Project(Some(id))))
    }));
    rows.extend(book.items().iter().map(|(id, i)| {
        let on_hand = format!("{} on hand", book.on_hand(id));
        of_kind(i.kind.said(), PickRow::new(&i.name, on_hand, Target::Item(id)))
    }));
    rows.extend(
        book.swatches()
            .iter()
            .map(|(id, s)| of_kind("swatch", PickRow::new(&s.name, &s.family, Target::Swatch(id)))),
    );
    rows.extend(settings(model));
    rows.extend(topics().iter().map(|t| {
        let row = PickRow::new(&t.title, "read about it", Target::Topic(t.title.clone()));
        let words = synonyms::of_topic(&t.title);
        beside(row, PickDetail { place: "the craft", words, far: 2, ..PickDetail::default() })
    }));
    rows.sort_by_key(|row| row.beside.as_ref().map_or(2, |b| b.far));
    Picker { is_told: true, ..Picker::of("Find", rows) }
}

fn project_words(p: &Project) -> String {
    let when = p.date.map(|d| format!("{d}, ")).unwrap_or_default();
    format!("{when}{}, {}", count_of(p.cards.len() as u64, "card"), p.progress.word())
}

/// The projects to choose from.
pub fn projects(model: &Model) -> Picker {
    let row = |(id, p): (_, &Project)| PickRow::new(&p.name, project_words(p), Target::Project(Some(id)));
    let mut rows: Vec<PickRow> = model.book.projects().iter().map(row).collect();
    rows.push(PickRow::new("no project", "work on loose sizes", Target::Project(None)));
    Picker { is_told: true, ..Picker::of("Project", rows) }
}
