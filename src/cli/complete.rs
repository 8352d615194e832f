//! What may stand at the cursor of a command line: commands, options, or names of the book, by the name of the value
//! that is asked for there. The scripts of [`super::completions`] ask for it while a line is typed, so nothing is ever
//! written, and a book that cannot be read has no names.

use super::Desk;
use crate::domain::book::Book;
use crate::domain::cards::fold::FoldKind;
use crate::domain::cards::parts::PartKind;
use crate::domain::cards::{envelope, format, paper, post};
use crate::domain::colour::scheme::Scheme;
use crate::domain::harmless::harmless;
use crate::domain::pages::label_sheet;
use crate::domain::plural::count_of;
use crate::domain::project::Stage;
use crate::domain::sheet::Formats;
use crate::domain::stock::Kind;
use crate::domain::thickness::Thickness;
use crate::persist::Store;
use crate::persist::demo;
use crate::persist::disk::of_process;
use crate::persist::kept::copies;
use crate::persist::paths::Paths;
use crate::persist::scratch::Scratch;
use clap::{Arg, Command};
use std::path::PathBuf;

/// The words of the line up to the cursor, as the shell has them.
#[derive(clap::Args, Debug)]
pub struct CompleteArgs {
    /// The words after the program's name; the last one is being typed
    #[arg(value_name = "WORD", allow_hyphen_values = true, trailing_var_arg = true)]
    pub words: Vec<String>,
}

/// What the shell does with the answer, its first line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Way {
    /// Only the names that follow.
    Names,
    /// Names, else files.
    Either,
    /// Files.
    Files,
    /// Folders.
    Folders,
}

/// A name, and a few words about it.
type Offer = (String, String);

/// Answers with a word for the shell (`names`, `either`, `files`, `folders`), then a name a line, with a tab before the words
/// about it.
///
/// # Errors
/// When it cannot be written.
pub fn answer_complete(args: &CompleteArgs, mut program: Command, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    program.build();
    let words: Vec<String> = args.words.iter().map(|word| unquoted(word)).collect();
    let (typed, before) = words.split_last().map_or(("", &words[..]), |(last, rest)| (last.as_str(), rest));
    let line = Line::read(&program, before);
    let (way, offers) = line.offers(typed, desk);
    let begins = if typed == "=" { "" } else { typed };
    let word = match way {
        Way::Names => "names",
        Way::Either => "either",
        Way::Files => "files",
        Way::Folders => "folders",
    };
    writeln!(desk.out, "{word}")?;
    let folded = begins.to_lowercase();
    for (name, about) in offers.iter().filter(|(name, _)| name.to_lowercase().starts_with(&folded)) {
        // A name with controls in it cannot be typed.
        if harmless(name) == *name {
            writeln!(desk.out, "{name}\t{}", harmless(about))?;
        }
    }
    Ok(())
}

/// A word without the shell's quotation marks; one that is still open ends with the word.
fn unquoted(word: &str) -> String {
    let (mut out, mut quote, mut chars) = (String::new(), None, word.chars());
    while let Some(c) = chars.next() {
        match (quote, c) {
            (Some(q), c) if c == q => quote = None,
            (None, '"' | '\'') => quote = Some(c),
            (None | Some('"'), '\\') => out.extend(chars.next()),
            _ => out.push(c),
        }
    }
    out
}

/// A command line as far as it is typed.
struct Line<'a> {
    command: &'a Command,
    /// The option whose value comes next.
    open: Option<&'a Arg>,
    /// Values without an option so far.
    values: Vec<&'a str>,
    data: Option<PathBuf>,
    demo: bool,
}

impl<'a> Line<'a> {
    fn read(program: &'a Command, words: &'a [String]) -> Self {
        let mut line = Self { command: program, open: None, values: Vec::new(), data: None, demo: false };
        for word in words {
            line.take(word);
        }
        line
    }

    fn take(&mut self, word: &'a str) {
        // A shell may part --data=DIR into three words.
        if word == "=" {
            return;
        }
        if let Some(option) = self.open.take() {
            if option.get_long() == Some("data") {
                self.data = Some(PathBuf::from(word));
            }
            return;
        }
        if let Some(long) = word.strip_prefix("--") {
            let (name, value) =
                long.split_once('=').map_or((long, None), |(name, value)| (name, Some(value)));
            self.demo |= name == "demo";
            self.open = self.option(name).filter(|arg| arg.get_action().takes_values());
            if let Some(value) = value {
                self.take(value);
            }
        } else if let Some(below) = self.command.find_subcommand(word).filter(|_| self.values.is_empty()) {
            self.command = below;
        } else if !word.starts_with('-') || word == "-" {
            self.values.push(word);
        }
    }

    fn option(&self, name: &str) -> Option<&'a Arg> {
        self.command.get_arguments().find(|arg| {
            arg.get_long() == Some(name) || arg.get_all_aliases().unwrap_or_default().contains(&name)
        })
    }

    /// What may stand here.
    fn offers(&self, typed: &str, desk: &Desk<'_>) -> (Way, Vec<Offer>) {
        if let Some(option) = self.open {
            return self.values_of(option, desk);
        }
        if let Some((name, _)) = typed.strip_prefix("--").and_then(|long| long.split_once('=')) {
            let Some(option) = self.option(name) else { return (Way::Names, Vec::new()) };
            let (_, offers) = self.values_of(option, desk);
            let whole = offers.into_iter().map(|(value, about)| (format!("--{name}={value}"), about));
            return (Way::Names, whole.collect());
        }
        if typed.starts_with('-') && typed != "-" {
            return (Way::Names, self.options());
        }
        if self.command.has_subcommands() && self.values.is_empty() {
            let below = self.command.get_subcommands().filter(|c| !c.is_hide_set());
            return (
                Way::Names,
                below.map(|c| (c.get_name().to_owned(), first_line(c.get_about()))).collect(),
            );
        }
        let mut places = self.command.get_positionals();
        let last = self.command.get_positionals().last();
        match places.nth(self.values.len()).or(last.filter(|arg| is_list(arg))) {
            Some(place) => self.values_of(place, desk),
            None => (Way::Names, self.options()),
        }
    }

    fn options(&self) -> Vec<Offer> {
        let all = self.command.get_arguments().filter(|arg| !arg.is_hide_set());
        all.filter_map(|arg| Some((format!("--{}", arg.get_long()?), first_line(arg.get_help())))).collect()
    }

    /// What an option or a place takes: its words, else by the name of its value.
    fn values_of(&self, arg: &Arg, desk: &Desk<'_>) -> (Way, Vec<Offer>) {
        let words = arg.get_possible_values();
        if !words.is_empty() && arg.get_action().takes_values() {
            let offer =
                |v: &clap::builder::PossibleValue| (v.get_name().to_owned(), first_line(v.get_help()));
            return (Way::Names, words.iter().filter(|v| !v.is_hide_set()).map(offer).collect());
        }
        let name = arg.get_value_names().and_then(<[_]>::first).map(ToString::to_string).unwrap_or_default();
        let plain = |names: Vec<String>| names.into_iter().map(|name| (name, String::new())).collect();
        let offers = match name.as_str() {
            "DIR" => return (Way::Folders, Vec::new()),
            "FOLD" => plain(FoldKind::ALL.map(|kind| kind.word().to_owned()).to_vec()),
            "SCHEME" => plain(Scheme::ALL.iter().map(|s| s.name().to_owned()).collect()),
            "STAGE" => plain(Stage::ALL.map(|s| s.word().to_owned()).to_vec()),
            "COUNTRY" => {
                // A word that needs no quotes.
                let one =
                    |r: &post::Rules| if r.short.contains(' ') { r.id.clone() } else { r.short.clone() };
                plain(post::all().iter().map(one).collect())
            }
            "LABELS" => plain(label_sheet::built_in().iter().map(|s| s.name.clone()).collect()),
            "NAME|WxH" => plain(envelope::all().iter().map(|e| e.name.clone()).collect()),
            "FORMAT" | "CARD|FILE.ron" => {
                format::all().into_iter().map(|f| (f.name, f.face.as_made(desk.unit))).collect()
            }
            "SHEET" => {
                let formats = Formats::built_in();
                formats.all().iter().map(|f| (f.name.clone(), f.size.as_made(desk.unit))).collect()
            }
            "PART" => {
                let all = PartKind::LAYERS.into_iter().chain(PartKind::BESIDE);
                all.map(|kind| (kind.word().to_owned(), kind.line().to_owned())).collect()
            }
            "LAYER" => PartKind::LAYERS.map(|k| (k.word().to_owned(), k.line().to_owned())).to_vec(),
            "FOAM" => {
                let shown = |(name, t): (&str, Thickness)| (name.to_owned(), t.show(desk.unit));
                paper::raises().into_iter().map(shown).collect()
            }
            "EDGE" => plain(vec!["left".to_owned(), "top".to_owned()]),
            "YES|NO" => plain(vec!["yes".to_owned(), "no".to_owned()]),
            "COMMAND" => {
                let below = self.command.get_name() == "manual";
                return (Way::Names, if below { pages() } else { Vec::new() });
            }
            "COPY|FILE" => return (Way::Either, self.copies(desk)),
            other => self.of_book(other, desk),
        };
        let is_file = name.contains("FILE");
        (
            if !is_file {
                Way::Names
            } else if offers.is_empty() {
                Way::Files
            } else {
                Way::Either
            },
            offers,
        )
    }

    /// Names that only the book knows.
    fn of_book(&self, name: &str, desk: &Desk<'_>) -> Vec<Offer> {
        if !matches!(
            name,
            "PROJECT" | "CARD" | "PIECE" | "ITEM" | "PAPER" | "ENVELOPE" | "SWATCH" | "SWATCH|PAPER"
        ) {
            return Vec::new();
        }
        let Some(book) = self.book(desk) else { return Vec::new() };
        match name {
            "PROJECT" => {
                let about =
                    |date: Option<jiff::civil::Date>| date.map_or_else(String::new, |d| d.to_string());
                book.projects().iter().map(|(_, p)| (p.name.clone(), about(p.date))).collect()
            }
            "CARD" => {
                let project =
                    self.values.first().and_then(|name| book.projects().get(book.find_project(name)?));
                let cards = project.map(|p| p.cards.as_slice()).unwrap_or_default();
                cards.iter().map(|c| (c.name.clone(), c.face.as_made(desk.unit))).collect()
            }
            "PIECE" => {
                let project =
                    self.values.first().and_then(|name| book.projects().get(book.find_project(name)?));
                let pieces = project.map(|p| p.pieces.as_slice()).unwrap_or_default();
                pieces.iter().map(|p| (p.name.clone(), p.size.as_made(desk.unit))).collect()
            }
            "ITEM" => items(&book, |_| true),
            "PAPER" => items(&book, Kind::is_paper),
            "ENVELOPE" => items(&book, |kind| kind == Kind::Envelope),
            "SWATCH" => swatches(&book),
            _ => {
                swatches(&book).into_iter().chain(items(&book, |kind| kind == Kind::PatternedPaper)).collect()
            }
        }
    }

    /// The book of the line: that of --data, the demo, or the person's own. Nothing is made where none is.
    fn book(&self, desk: &Desk<'_>) -> Option<Book> {
        let data = self.data.clone().or_else(|| desk.data.clone());
        if self.demo && data.is_none() {
            let scratch = Scratch::make().ok()?;
            let mut store = Store::open(scratch.path()).ok()?;
            demo::fill_today(&mut store).ok()?;
            return Some(store.book().clone());
        }
        let folder = Paths::find(data.as_deref()).ok()?.data;
        folder.is_dir().then(|| Store::open(&folder).ok()).flatten().map(|store| store.book().clone())
    }

    fn copies(&self, desk: &Desk<'_>) -> Vec<Offer> {
        let data = self.data.clone().or_else(|| desk.data.clone());
        let folder = Paths::find(data.as_deref()).map(|paths| paths.data);
        let all = folder.ok().and_then(|folder| copies(&*of_process(), &folder).ok()).unwrap_or_default();
        all.into_iter().map(|copy| (copy.name, count_of(copy.items as u64, "item"))).collect()
    }
}

fn is_list(arg: &Arg) -> bool {
    matches!(arg.get_action(), clap::ArgAction::Append)
}

/// What `trimside manual` has besides the words of commands.
fn pages() -> Vec<Offer> {
    vec![("json".to_owned(), "the shapes of all answers".to_owned())]
}

fn items(book: &Book, will_do: impl Fn(Kind) -> bool) -> Vec<Offer> {
    let all = book.items().iter().filter(|(_, item)| will_do(item.kind));
    all.map(|(id, item)| (item.name.clone(), format!("{} on hand", book.on_hand(id)))).collect()
}

fn swatches(book: &Book) -> Vec<Offer> {
    book.swatches().iter().map(|(_, s)| (s.name.clone(), s.hex_text())).collect()
}

fn first_line(words: Option<&clap::builder::StyledStr>) -> String {
    let all = words.map(ToString::to_string).unwrap_or_default();
    all.lines().next().unwrap_or_default().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quotation_marks_are_taken_off_as_a_shell_does() {
        for (word, plain) in [
            ("\"fern fl", "fern fl"),
            ("'it''s'", "its"),
            ("fern\\ floor,\\ let", "fern floor, let"),
            ("\"a \\\"b\\\" c\"", "a \"b\" c"),
            ("'a\\b'", "a\\b"),
            ("été", "été"),
            ("\\", ""),
        ] {
            assert_eq!(unquoted(word), plain, "{word}");
        }
    }
}
