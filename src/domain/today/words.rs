//! The day in lines: each with what it is about, what is said of it and how urgent that is. The page of the workbench, plain
//! mode and the command line say the same.

use super::{AtBench, Next, Paces, Today, left, strokes_left};
use crate::domain::book::Book;
use crate::domain::cutting::pace::time_words;
use crate::domain::cutting::question::Trimmer;
use crate::domain::days::{between, when};
use crate::domain::plural::count_of;
use crate::domain::project::{Project, Stage};
use crate::domain::stock::{BookingId, ItemId, OrderId, ProjectId};
use jiff::civil::Date;

/// Most lines of a section.
const MOST: usize = 6;
/// From so few days on a deadline is one to be seen to.
const SOON: i32 = 7;

/// What a line is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Section {
    /// The next classes and deadlines.
    Next,
    /// What is short, and by when to order.
    Short,
    /// What to cut next, and where the run stands.
    Cut,
    /// The time that is left to be worked.
    Time,
    /// Cards that are not finished.
    Open,
    /// What is on order.
    Coming,
    /// Offcuts that are set aside.
    Offcuts,
    /// Leaving colours that are still held.
    Leaving,
    /// Something to do on the first evening.
    First,
}

impl Section {
    /// Its heading.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Next => "Next",
            Self::Short => "Short",
            Self::Cut => "To cut",
            Self::Time => "Time",
            Self::Open => "To do",
            Self::Coming => "On order",
            Self::Offcuts => "Offcuts",
            Self::Leaving => "Leaving",
            Self::First => "First",
        }
    }
}

/// How urgent a line is; said in its words too.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Urgency {
    /// As planned.
    Calm,
    /// To be seen to.
    Soon,
    /// Late or missing.
    Now,
    /// Done.
    Done,
}

impl Urgency {
    /// The more urgent of two.
    fn or_worse(self, other: Self) -> Self {
        match (self, other) {
            (Self::Now, _) | (_, Self::Now) => Self::Now,
            (Self::Soon, _) | (_, Self::Soon) => Self::Soon,
            _ => self,
        }
    }

    /// One word, for programs.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Calm => "calm",
            Self::Soon => "soon",
            Self::Now => "now",
            Self::Done => "done",
        }
    }
}

/// The thing itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum About {
    /// A class or batch.
    Project(ProjectId),
    /// The run at the bench.
    Run,
    /// What a class or batch still asks of the trimmer.
    ToCut(ProjectId),
    /// The stage after the cuts that it has come to.
    Stage(ProjectId),
    /// Something to be ordered.
    Short(ItemId),
    /// Something on order.
    Order(OrderId),
    /// Something set aside.
    Booking(BookingId),
    /// A line of the shelf.
    Item(ItemId),
    /// What of a section has no line of its own.
    More(Section),
}

/// A line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DayLine {
    /// What it is about.
    pub section: Section,
    /// The thing, by name.
    pub what: String,
    /// What is said of it.
    pub words: String,
    /// How urgent that is.
    pub urgency: Urgency,
    /// The thing itself.
    pub about: About,
}

fn line(section: Section, what: String, words: String, about: About) -> DayLine {
    DayLine { section, what, words, urgency: Urgency::Calm, about }
}

/// A section of so many lines at the most; the last one counts and names what it leaves out.
fn shown(section: Section, all: Vec<DayLine>) -> Vec<DayLine> {
    if all.len() <= MOST {
        return all;
    }
    let mut all = all;
    let rest = all.split_off(MOST - 1);
    let names: Vec<&str> = rest.iter().map(|l| l.what.as_str()).collect();
    let what = format!("{} more", rest.len());
    let urgency = rest.iter().map(|l| l.urgency).fold(Urgency::Calm, Urgency::or_worse);
    all.push(DayLine { urgency, ..line(section, what, names.join("; "), About::More(section)) });
    all
}

/// What lines are said of: the book and the day, the run at the bench where one is in hand, the trimmer and the paces.
#[derive(Clone, Copy, Debug)]
pub struct DayDesk<'a> {
    /// The book.
    pub book: &'a Book,
    /// The day.
    pub day: Date,
    /// The run in hand.
    pub bench: Option<&'a AtBench>,
    /// The trimmer in use.
    pub trimmer: &'a Trimmer,
    /// How fast the person works.
    pub paces: &'a Paces,
}

/// The page's heading.
pub fn heading(day: Date) -> String {
    let words = when(day, day);
    format!("Today, {}", words.trim_end_matches(", today"))
}

/// All lines, section by section.
pub fn lines(desk: &DayDesk<'_>, today: &Today) -> Vec<DayLine> {
    let mut all = shown(Section::Next, today.next.iter().map(|n| next_line(desk, n)).collect());
    all.extend(short_lines(desk, today));
    all.extend(cut_lines(desk, today));
    all.extend(time_line(desk, today));
    all.extend(open_lines(desk, today));
    all.extend(coming_lines(desk, today));
    all.extend(offcut_lines(desk, today));
    all.extend(leaving_lines(desk, today));
    all
}

fn next_line(desk: &DayDesk<'_>, n: &Next) -> DayLine {
    let sets = desk.book.projects().get(n.project).map_or(0, Project::sets);
    let kind = match n.seats {
        0 => "batch".to_owned(),
        // Samples and spare sets are made beside those of the seats: the stages count them all.
        seats if sets > u64::from(seats) => format!("class of {seats}, {sets} sets"),
        seats => format!("class of {seats}"),
    };
    let day = n.on.map_or_else(|| "no day set".to_owned(), |on| when(on, desk.day));
    let booked = match (n.is_booked, n.short) {
        (_, short @ 1..) => format!("{} short", count_of(short as u64, "paper")),
        (true, _) => "booked".to_owned(),
        (false, _) if n.pieces.1 == 0 => "cut".to_owned(),
        (false, _) => "not booked".to_owned(),
    };
    let days = n.on.map(|on| between(desk.day, on));
    let urgency = match (days, n.short) {
        _ if n.is_late => Urgency::Now,
        (_, 1..) => Urgency::Now,
        (Some(days), _) if days <= SOON => Urgency::Soon,
        _ => Urgency::Calm,
    };
    let name = desk.book.projects().name_of(n.project);
    // The day itself says where it has gone by.
    let is_behind = n.is_late && days.is_some_and(|days| days >= 0);
    let late = if is_behind { ", cutting late" } else { "" };
    let words = format!("{day}; {kind}, {booked}{late}");
    DayLine { urgency, ..line(Section::Next, name, words, About::Project(n.project)) }
}

fn short_lines(desk: &DayDesk<'_>, today: &Today) -> Vec<DayLine> {
    let book = desk.book;
    let one = |s: &super::Short| {
        let order = match s.order_by {
            Some(by) if by < desk.day => format!("order was due {}", when(by, desk.day)),
            Some(by) => format!("order by {}", when(by, desk.day)),
            None => "no day set".to_owned(),
        };
        let what = format!("{} of {}", s.missing, book.items().name_of(s.item));
        let (about, booked) = if s.is_booked {
            (About::Short(s.item), "")
        } else {
            (About::Project(s.project), ", not booked")
        };
        let also: Vec<String> = s.also.iter().map(|id| book.projects().name_of(*id)).collect();
        let also = if also.is_empty() { String::new() } else { format!("; also for {}", also.join("; ")) };
        let words = format!("{order}; for {}{booked}{also}", book.projects().name_of(s.project));
        DayLine { urgency: Urgency::Now, ..line(Section::Short, what, words, about) }
    };
    // What has no line of its own stands where it is seen: booked, in the reorder list; else on the page of its class.
    let own = if today.short.len() > MOST { MOST - 1 } else { MOST };
    let mut all: Vec<DayLine> = today.short.iter().take(own).map(one).collect();
    let (booked, open): (Vec<_>, Vec<_>) = today.short.iter().skip(own).partition(|s| s.is_booked);
    let together = |some: &[&super::Short], whose: &str, about: About| match some {
        [] => None,
        [only] => Some(one(only)),
        more => {
            let names: Vec<String> = more.iter().map(|s| one(s).what).collect();
            let words = format!("{whose}{}", names.join("; "));
            let what = format!("{} more", more.len());
            Some(DayLine { urgency: Urgency::Now, ..line(Section::Short, what, words, about) })
        }
    };
    all.extend(together(&booked, "", About::More(Section::Short)));
    let mut classes: Vec<ProjectId> = Vec::new();
    for s in &open {
        if !classes.contains(&s.project) {
            classes.push(s.project);
        }
    }
    for id in classes {
        let of: Vec<&super::Short> = open.iter().copied().filter(|s| s.project == id).collect();
        let whose = format!("for {}, not booked: ", book.projects().name_of(id));
        all.extend(together(&of, &whose, About::Project(id)));
    }
    if let Some(first) = today.low.first() {
        let names: Vec<String> = today.low.iter().map(|id| book.items().name_of(*id)).collect();
        let what = format!("{} low", count_of(names.len() as u64, "line"));
        let low = line(Section::Short, what, names.join("; "), About::Short(*first));
        all.push(DayLine { urgency: Urgency::Soon, ..low });
    }
    all
}

/// The run in hand first, then what else is planned.
fn cut_lines(desk: &DayDesk<'_>, today: &Today) -> Vec<DayLine> {
    let mut all: Vec<DayLine> = desk.bench.map(run_line).into_iter().collect();
    let of_run = desk.bench.and_then(|run| run.project);
    let open = today.next.iter().filter(|n| n.pieces.1 > 0 && Some(n.project) != of_run);
    let open = open.map(|n| {
        let (pieces, still) = n.pieces;
        let bound = if n.is_bound { "at least " } else { "" };
        let sheets = sheets_words(n.sheets);
        let words =
            format!("{bound}{sheets}; {} of {} cut", pieces.saturating_sub(still), count_of(pieces, "piece"));
        let name = desk.book.projects().name_of(n.project);
        line(Section::Cut, name, words, About::ToCut(n.project))
    });
    all.extend(shown(Section::Cut, open.collect()));
    all
}

fn sheets_words((sheets, offcuts): (u64, u64)) -> String {
    match (sheets, offcuts) {
        (n, 0) => count_of(n, "sheet"),
        (0, n) => count_of(n, "offcut"),
        (a, b) => format!("{} and {}", count_of(a, "sheet"), count_of(b, "offcut")),
    }
}

fn run_line(run: &AtBench) -> DayLine {
    let strokes = count_of(run.strokes, "stroke");
    let words = match &run.next {
        Some((copies, sheet)) => format!(
            "at the bench: step {} of {}, {strokes} left; {copies} x {sheet} next",
            run.done + 1,
            run.steps
        ),
        None => "at the bench: all cut, not logged".to_owned(),
    };
    DayLine { urgency: Urgency::Soon, ..line(Section::Cut, run.title.clone(), words, About::Run) }
}

/// Strokes that a project still asks for: those of its run in hand, and those of the sheets beyond it.
pub fn strokes(desk: &DayDesk<'_>, id: ProjectId) -> Option<u64> {
    let run = desk.bench.filter(|run| run.project == Some(id));
    let none = std::collections::BTreeMap::new();
    let beyond = strokes_left(desk.book, id, desk.trimmer, run.map_or(&none, |run| &run.taken));
    match (run, beyond) {
        (None, beyond) => beyond,
        (Some(run), beyond) => Some(run.strokes + beyond.unwrap_or(0)),
    }
}

/// Cutting and what follows it before the next day that is set.
fn time_line(desk: &DayDesk<'_>, today: &Today) -> Option<DayLine> {
    let id = today.deadline()?.project;
    let project = desk.book.projects().get(id)?;
    let left = left(project, strokes(desk, id), desk.paces);
    let mut all = Vec::new();
    match (left.strokes, left.cutting) {
        (Some(0), _) => all.push("nothing left to cut".to_owned()),
        (Some(_), Some(seconds)) => all.push(format!("about {} of cutting", time_words(seconds))),
        (Some(n), None) => all.push(format!("{} of cutting", count_of(n, "stroke"))),
        (None, _) => all.push("cutting not planned yet".to_owned()),
    }
    if !left.stages.is_empty() {
        let is_batch = project.seats == 0;
        let what = left.stages.iter().map(|(stage, n)| stage_words(*stage, *n, is_batch));
        let what: Vec<String> = what.collect();
        let what = what.join(", ");
        all.push(match left.after {
            Some(seconds) => format!("about {} after it ({what})", time_words(seconds)),
            None => format!("then {what}"),
        });
    }
    let is_unknown = left.strokes.is_some_and(|n| n > 0) && left.cutting.is_none()
        || left.after.is_none() && !left.stages.is_empty();
    if is_unknown {
        all.push("hours show once you tick as you go".to_owned());
    }
    let what = format!("before {}", project.name);
    Some(line(Section::Time, what, all.join("; "), About::Project(id)))
}

/// How much of a stage is left to do. A batch is one set of all its cards: nobody counts those.
fn stage_words(stage: Stage, n: u32, is_batch: bool) -> String {
    let to_do = match stage {
        Stage::Shaped => "to shape",
        Stage::Stamped => "to stamp",
        Stage::Scored => "to score",
        Stage::Prepared => "to prepare",
        Stage::Packed => "to pack",
        Stage::Assembled => "to assemble",
        Stage::HandedOut => "to hand out",
    };
    if is_batch && n == 1 {
        stage.work().to_owned()
    } else {
        format!("{} {to_do}", count_of(u64::from(n), stage.unit()))
    }
}

fn open_lines(desk: &DayDesk<'_>, today: &Today) -> Vec<DayLine> {
    let open = today.next.iter().filter_map(|n| Some((n, n.stage?)));
    let one = |(n, (stage, done, of)): (&Next, (Stage, u32, u32))| {
        let cards = count_of(n.cards, "card");
        // A batch is one set of all its cards: nobody counts those.
        let words = if n.seats == 0 && of == 1 {
            format!("{cards} not finished: not {} yet", stage.word())
        } else {
            format!(
                "{cards} not finished: {done} of {} {}",
                count_of(u64::from(of), stage.unit()),
                stage.word()
            )
        };
        line(Section::Open, desk.book.projects().name_of(n.project), words, About::Stage(n.project))
    };
    shown(Section::Open, open.map(one).collect())
}

fn coming_lines(desk: &DayDesk<'_>, today: &Today) -> Vec<DayLine> {
    let book = desk.book;
    let orders = today.coming.iter().filter_map(|id| Some((*id, book.orders().get(*id)?)));
    let one = |(id, order): (OrderId, &crate::domain::stock::Order)| {
        let what = format!("{} of {}", order.count, book.items().name_of(order.item));
        let is_late = order.expected.is_some_and(|day| day < desk.day);
        let words = match order.expected {
            Some(day) if is_late => format!("was expected {}", when(day, desk.day)),
            Some(day) => format!("expected {}", when(day, desk.day)),
            None => "no day named".to_owned(),
        };
        let words = format!("{words}; ordered {}", order.placed);
        let urgency = if is_late { Urgency::Now } else { Urgency::Calm };
        DayLine { urgency, ..line(Section::Coming, what, words, About::Order(id)) }
    };
    shown(Section::Coming, orders.map(one).collect())
}

fn offcut_lines(desk: &DayDesk<'_>, today: &Today) -> Vec<DayLine> {
    let book = desk.book;
    let all = today.offcuts.iter().filter_map(|id| Some((*id, book.bookings().get(*id)?)));
    let all = all.map(|(id, b)| {
        let size =
            b.offcut.and_then(|o| book.offcuts().get(o)).map(|o| o.size.show_with_unit(book.settings().unit));
        let what = format!(
            "{} of {}{}",
            b.count,
            book.items().name_of(b.item),
            size.map_or_else(String::new, |size| format!(", {size}"))
        );
        let words = format!("set aside for {}", book.projects().name_of(b.project));
        line(Section::Offcuts, what, words, About::Booking(id))
    });
    shown(Section::Offcuts, all.collect())
}

fn leaving_lines(desk: &DayDesk<'_>, today: &Today) -> Vec<DayLine> {
    let one = |l: &crate::domain::stock::reorder::LastOrder| {
        let what = format!("{} of {}", l.on_hand, desk.book.items().name_of(l.item));
        let booked = if l.booked > 0 { format!("; {} booked", l.booked) } else { String::new() };
        let words = format!("sold until {}{booked}", when(l.until, desk.day));
        line(Section::Leaving, what, words, About::Item(l.item))
    };
    shown(Section::Leaving, today.leaving.iter().map(one).collect())
}
