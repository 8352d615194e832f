//! What every form of the bench is made of: a table with a row for each field. A row says what the field is called, what fits
//! into it, what can be chosen, how its text is read and what is worth asking about once. Keys, drawing and plain mode go by
//! the table alone, so a new form is a new table.

use crate::app::ctx::Ctx;
use crate::app::input::completing::{NamePart, matches};
use crate::app::input::form::FormState;
use crate::app::overlay::Echo;
use crate::app::reply::Replies;
use crate::app::state::forms::{Filling, FormFor};

/// What a row of a table may look at: the surroundings, what the form is for, what stands in its fields.
#[derive(Clone, Copy, Debug)]
pub struct Sight<'a> {
    /// The book, the day, the unit.
    pub ctx: &'a Ctx<'a>,
    /// What the form is for.
    pub what: &'a FormFor,
    form: &'a FormState,
}

impl<'a> Sight<'a> {
    /// What stands in the field of a row, without blanks around it.
    pub fn text(&self, row: usize) -> &'a str {
        self.form.value(row)
    }

    /// The currency's sign.
    pub fn currency(&self) -> &'a str {
        &self.ctx.book.settings().currency
    }
}

/// Something that can be chosen or completed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Offer {
    /// What is put into the field.
    pub name: String,
    /// What is said of it.
    pub detail: String,
}

impl Offer {
    /// A name with what is said of it.
    pub fn new(name: impl Into<String>, detail: impl Into<String>) -> Self {
        Self { name: name.into(), detail: detail.into() }
    }
}

/// How a field takes its text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FieldTakes {
    /// Anything that can be read; what is offered completes it.
    Text,
    /// One of what is offered: arrows step through it, letters find it.
    Choice,
    /// Names with commas between; what is offered completes the last one.
    Several,
    /// Figures and a name behind them; what is offered completes the name.
    Figures,
}

impl FieldTakes {
    const fn part(self) -> NamePart {
        match self {
            Self::Text | Self::Choice => NamePart::Whole,
            Self::Several => NamePart::Last,
            Self::Figures => NamePart::AfterFigures,
        }
    }
}

/// Reads a text: what it says, or the sentence that refuses it.
pub type FieldReader = fn(&Sight, &str) -> Result<String, String>;

/// One field of a form.
#[derive(Debug)]
pub struct FormRow {
    /// What it is called.
    pub word: &'static str,
    /// How it is written.
    pub hint: &'static str,
    /// How it takes its text.
    pub takes: FieldTakes,
    read: FieldReader,
    preset: fn(&Sight) -> String,
    offers: fn(&Sight) -> Vec<Offer>,
    doubt: fn(&Sight, &str) -> Option<String>,
    is_there: fn(&Sight) -> bool,
}

impl FormRow {
    /// A field of text: its word, how it is written, and what its text is read as.
    pub const fn new(word: &'static str, hint: &'static str, read: FieldReader) -> Self {
        Self {
            word,
            hint,
            takes: FieldTakes::Text,
            read,
            preset: |_| String::new(),
            offers: |_| Vec::new(),
            doubt: |_, _| None,
            is_there: |_| true,
        }
    }

    /// With what fits, as long as nothing is typed.
    #[must_use]
    pub const fn fits(self, preset: fn(&Sight) -> String) -> Self {
        Self { preset, ..self }
    }

    /// With what can be chosen or completed, what is used most first.
    #[must_use]
    pub const fn offers(self, takes: FieldTakes, offers: fn(&Sight) -> Vec<Offer>) -> Self {
        Self { takes, offers, ..self }
    }

    /// With a question that is asked once about a value that can be read but is hardly meant.
    #[must_use]
    pub const fn doubts(self, doubt: fn(&Sight, &str) -> Option<String>) -> Self {
        Self { doubt, ..self }
    }

    /// Only there where it means something.
    #[must_use]
    pub const fn where_(self, is_there: fn(&Sight) -> bool) -> Self {
        Self { is_there, ..self }
    }
}

/// A whole entry typed as one line into one field: the text of each row, in their order, empty where nothing is said.
pub type OneLine = Option<Result<Vec<String>, String>>;

/// A form.
#[derive(Debug)]
pub struct FormTable {
    /// Its heading.
    pub title: fn(&Sight) -> String,
    /// Its fields.
    pub rows: &'static [FormRow],
    /// The field in hand when it is opened.
    pub start: fn(&Sight) -> usize,
    /// Reads the text of a row as a whole entry; `None` where it is that field's text alone.
    pub one_line: fn(&Sight, usize, &str) -> OneLine,
    /// Makes what the form is for.
    pub take: fn(&Sight) -> Replies,
    /// The form for one more, where several are made in a row.
    pub again: fn(&Sight) -> Option<FormFor>,
}

/// What the rows of a form look at.
fn sight<'a>(ctx: &'a Ctx<'a>, filling: &'a Filling) -> Sight<'a> {
    Sight { ctx, what: &filling.what, form: &filling.form }
}

/// Opens a form.
pub fn open(table: &FormTable, ctx: &Ctx, what: FormFor) -> Filling {
    let mut filling = Filling { what, form: FormState::of(table.rows.len(), 0) };
    settle(table, ctx, &mut filling);
    let start = (table.start)(&sight(ctx, &filling));
    filling.form.go(start);
    filling
}

/// Brings every field up to date: what fits, what is there, what a text is taken for. Rows look at those before them.
pub fn settle(table: &FormTable, ctx: &Ctx, filling: &mut Filling) {
    for (n, row) in table.rows.iter().enumerate() {
        let seen = sight(ctx, filling);
        let (is_there, preset) = ((row.is_there)(&seen), (row.preset)(&seen));
        if let Some(entry) = filling.form.entries.get_mut(n) {
            entry.is_there = is_there;
        }
        filling.form.preset(n, &preset);
        let text = filling.form.entries.get(n).map_or(String::new(), |e| e.field.text().to_owned());
        let value = taken_for(row, &sight(ctx, filling), &text);
        if let Some(entry) = filling.form.entries.get_mut(n) {
            entry.value = value;
        }
    }
    if filling.form.entries.get(filling.form.at).is_some_and(|e| !e.is_there)
        && let Some(at) = filling.form.neighbour(-1).or_else(|| filling.form.neighbour(1))
    {
        filling.form.at = at;
    }
}

/// A choice in full where its beginning is typed; any other text as it is.
fn taken_for(row: &FormRow, seen: &Sight, text: &str) -> String {
    if row.takes != FieldTakes::Choice || text.trim().is_empty() {
        return text.to_owned();
    }
    let names = names(row, seen);
    matches(text, &names).first().map_or_else(|| text.to_owned(), |name| (*name).to_owned())
}

fn names(row: &FormRow, seen: &Sight) -> Vec<String> {
    (row.offers)(seen).into_iter().map(|o| o.name).collect()
}

/// What is offered for the field in hand: those that match what is typed, or all as long as nothing is.
pub fn offers(table: &FormTable, ctx: &Ctx, filling: &Filling) -> Vec<Offer> {
    let Some(row) = table.rows.get(filling.form.at) else { return Vec::new() };
    let all = (row.offers)(&sight(ctx, filling));
    let entry = filling.form.entries.get(filling.form.at).filter(|e| e.is_own);
    let text = entry.map_or("", |e| e.field.text());
    let typed = match (&filling.form.completing, row.takes) {
        (Some(now), _) => now.stem.as_str(),
        (None, FieldTakes::Several | FieldTakes::Figures) => row.takes.part().split(text).1,
        // A choice that stands there in full is one of all.
        (None, _) if all.iter().any(|o| o.name == text) => "",
        (None, _) => text,
    };
    let names: Vec<String> = all.iter().map(|o| o.name.clone()).collect();
    let found: Vec<&str> = matches(typed, &names);
    found.into_iter().filter_map(|name| all.iter().find(|o| o.name == name).cloned()).collect()
}

/// Steps through the choices of the field in hand; false where it is none.
pub fn step(table: &FormTable, ctx: &Ctx, filling: &mut Filling, by: isize) -> bool {
    let Some(row) = table.rows.get(filling.form.at).filter(|r| r.takes == FieldTakes::Choice) else {
        return false;
    };
    let names = names(row, &sight(ctx, filling));
    if names.is_empty() {
        return true;
    }
    let now = names.iter().position(|n| n.trim() == filling.form.value(filling.form.at));
    let at = match now {
        Some(at) => (at as isize + by).rem_euclid(names.len() as isize) as usize,
        None => 0,
    };
    let at_row = filling.form.at;
    filling.form.put(at_row, names.get(at).map_or("", |n| n));
    filling.form.refused = None;
    true
}

/// Completes the field in hand; false where there is nothing to complete.
pub fn complete(table: &FormTable, ctx: &Ctx, filling: &mut Filling) -> bool {
    let Some(row) = table.rows.get(filling.form.at) else { return false };
    let names = names(row, &sight(ctx, filling));
    filling.form.complete(&names, row.takes.part())
}

/// Puts an offer into the field in hand, as a click does.
pub fn put_offer(table: &FormTable, ctx: &Ctx, filling: &mut Filling, n: usize) {
    let Some(offer) = offers(table, ctx, filling).into_iter().nth(n) else { return };
    let part = table.rows.get(filling.form.at).map_or(NamePart::Whole, |r| r.takes.part());
    let is_own = filling.form.entries.get(filling.form.at).is_some_and(|e| e.is_own);
    let (before, _) = part.split(if is_own { filling.form.text() } else { "" });
    let text = format!("{before}{}", offer.name);
    let at = filling.form.at;
    filling.form.put(at, &text);
    (filling.form.refused, filling.form.completing) = (None, None);
}

/// How the text of a row is read.
fn read(row: &FormRow, seen: &Sight, n: usize) -> Result<String, String> {
    let text = seen.text(n);
    if row.takes == FieldTakes::Choice && !text.is_empty() {
        let names = names(row, seen);
        if !names.iter().any(|name| name.trim() == text) {
            let some: Vec<&str> = names.iter().take(7).map(String::as_str).collect();
            let more = if names.len() > some.len() { " ..." } else { "" };
            return Err(format!("\"{text}\" is none of these: {}{more}", some.join(", ")));
        }
    }
    (row.read)(seen, text)
}

/// A whole entry in the field in hand.
fn one_line(table: &FormTable, ctx: &Ctx, filling: &Filling) -> OneLine {
    let at = filling.form.at;
    let entry = filling.form.entries.get(at).filter(|e| e.is_own)?;
    (table.one_line)(&sight(ctx, filling), at, entry.field.text().trim())
}

/// The form with the entry of one line spread over its fields.
fn spread(table: &FormTable, ctx: &Ctx, filling: &Filling, texts: &[String]) -> Filling {
    let mut whole =
        Filling { what: filling.what.clone(), form: FormState::of(table.rows.len(), filling.form.at) };
    for (n, text) in texts.iter().enumerate() {
        whole.form.put(n, text);
    }
    settle(table, ctx, &mut whole);
    whole
}

/// What stands in every field, joined, as one line reads it.
fn all_words(table: &FormTable, ctx: &Ctx, filling: &Filling) -> Result<String, String> {
    let seen = sight(ctx, filling);
    let mut all = Vec::new();
    for (n, row) in rows_there(table, filling) {
        all.push(read(row, &seen, n)?);
    }
    all.retain(|words| !words.is_empty());
    Ok(all.join(", "))
}

fn rows_there<'a>(table: &'a FormTable, filling: &Filling) -> impl Iterator<Item = (usize, &'a FormRow)> {
    let there: Vec<bool> = filling.form.entries.iter().map(|e| e.is_there).collect();
    table.rows.iter().enumerate().filter(move |(n, _)| there.get(*n).copied().unwrap_or(false))
}

/// A field as it is shown.
#[derive(Clone, Debug)]
pub struct FieldLine {
    /// Which row of the table.
    pub row: usize,
    /// What it is called.
    pub word: &'static str,
    /// What stands in it.
    pub text: String,
    /// True for a text that nobody has typed.
    pub fits: bool,
    /// How it is read, or why it is not taken.
    pub echo: Echo,
    /// How it is written.
    pub hint: &'static str,
}

/// Every field that is there.
pub fn lines(table: &FormTable, ctx: &Ctx, filling: &Filling) -> Vec<FieldLine> {
    let seen = sight(ctx, filling);
    let whole = one_line(table, ctx, filling)
        .map(|texts| texts.and_then(|texts| all_words(table, ctx, &spread(table, ctx, filling, &texts))));
    let line = |(n, row): (usize, &FormRow)| {
        let entry = filling.form.entries.get(n);
        let in_hand = n == filling.form.at;
        let read = match &whole {
            Some(words) if in_hand => words.clone(),
            _ => read(row, &seen, n),
        };
        let is_blank = seen.text(n).is_empty();
        let echo = match (&filling.form.refused, read) {
            (Some(why), _) if in_hand => Echo::Refused(why.clone()),
            (_, Ok(words)) if words.is_empty() => Echo::Nothing,
            (_, Ok(words)) => Echo::Read(words),
            // Nothing is wrong with what nobody has come to yet.
            (_, Err(_)) if is_blank && !entry.is_some_and(|e| e.is_own) => Echo::Nothing,
            (_, Err(why)) => Echo::Refused(why),
        };
        let text = entry.map_or(String::new(), |e| e.field.text().to_owned());
        let fits = entry.is_some_and(|e| !e.is_own);
        FieldLine { row: n, word: row.word, text, fits, echo, hint: row.hint }
    };
    rows_there(table, filling).map(line).collect()
}

/// What Enter comes to.
#[derive(Debug)]
pub enum FormStep {
    /// Another field is in hand, or a sentence says why not.
    On,
    /// The form is whole: this is to be taken.
    Whole(Filling),
}

/// Enter: takes the field in hand and goes to the next one; after the last the form is whole. An entry typed as one line is
/// whole at once.
pub fn enter(table: &FormTable, ctx: &Ctx, filling: &mut Filling) -> FormStep {
    if let Some(texts) = one_line(table, ctx, filling) {
        return match texts {
            Ok(texts) => whole(table, ctx, filling, spread(table, ctx, filling, &texts)),
            Err(why) => {
                filling.form.refused = Some(why);
                FormStep::On
            }
        };
    }
    let at = filling.form.at;
    if let Err(why) = vet(table, ctx, filling, at) {
        filling.form.refused = Some(why);
        return FormStep::On;
    }
    let full = filling.form.entries.get(at).map(|e| e.value.clone());
    if table.rows.get(at).is_some_and(|r| r.takes == FieldTakes::Choice)
        && filling.form.entries.get(at).is_some_and(|e| e.is_own)
    {
        filling.form.put(at, full.as_deref().unwrap_or_default());
    }
    settle(table, ctx, filling);
    match filling.form.neighbour(1) {
        Some(next) => {
            filling.form.go(next);
            FormStep::On
        }
        None => keep(table, ctx, filling),
    }
}

/// Takes the form as it stands; the first field that is wrong is in hand then, and says why.
pub fn keep(table: &FormTable, ctx: &Ctx, filling: &mut Filling) -> FormStep {
    if let Some(Ok(texts)) = one_line(table, ctx, filling) {
        return whole(table, ctx, filling, spread(table, ctx, filling, &texts));
    }
    for (n, _) in rows_there(table, filling).collect::<Vec<_>>() {
        if let Err(why) = vet(table, ctx, filling, n) {
            filling.form.go(n);
            filling.form.refused = Some(why);
            return FormStep::On;
        }
    }
    FormStep::Whole(filling.clone())
}

/// An entry of one line, each part of it vetted. Where one is wrong the parts stand in their fields, the wrong one in hand.
fn whole(table: &FormTable, ctx: &Ctx, filling: &mut Filling, mut entry: Filling) -> FormStep {
    entry.form.asked.clone_from(&filling.form.asked);
    for (n, _) in rows_there(table, &entry).collect::<Vec<_>>() {
        if let Err(why) = vet(table, ctx, &mut entry, n) {
            entry.form.go(n);
            entry.form.refused = Some(why);
            *filling = entry;
            return FormStep::On;
        }
    }
    FormStep::Whole(entry)
}

/// Whether a field can be taken as it stands. What can be read but is hardly meant is asked about once.
fn vet(table: &FormTable, ctx: &Ctx, filling: &mut Filling, n: usize) -> Result<(), String> {
    let Some(row) = table.rows.get(n) else { return Ok(()) };
    let seen = sight(ctx, filling);
    read(row, &seen, n)?;
    let text = seen.text(n).to_owned();
    let Some(question) = (row.doubt)(&seen, &text) else { return Ok(()) };
    let asked = (n, text);
    if filling.form.asked.contains(&asked) {
        return Ok(());
    }
    filling.form.asked.push(asked);
    Err(format!("{question}: Enter again if you mean it"))
}

/// Makes what a whole form is for.
///
/// # Errors
/// The sentence that refuses it.
pub fn take_form(table: &FormTable, ctx: &Ctx, filling: &Filling) -> Replies {
    (table.take)(&sight(ctx, filling))
}

/// The form for one more.
pub fn again(table: &FormTable, ctx: &Ctx, filling: &Filling) -> Option<FormFor> {
    (table.again)(&sight(ctx, filling))
}

/// The heading.
pub fn title(table: &FormTable, ctx: &Ctx, filling: &Filling) -> String {
    (table.title)(&sight(ctx, filling))
}
