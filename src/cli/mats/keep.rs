//! Cards handed on: a project or one of its cards from the book to a file, and one from a file into the book.

use super::ask::MatsArgs;
use crate::cli::{BadInput, Desk, open_store, today};
use crate::domain::book::{Book, folded};
use crate::domain::cards::file::Handed;
use crate::domain::cardwork;
use crate::domain::edit::{Edit, Row};
use crate::domain::harmless::harmless;
use crate::domain::near::instead;
use crate::domain::project::Project;
use crate::exchange::read::card::handed as read_text;
use crate::exchange::write::card::handed as write_text;
use crate::persist::ChangeError;
use crate::persist::given::{self, CARD};
use crate::persist::made::{self, WriteError};
use std::path::Path;

/// Answers `--export` and `--import`; `None` where neither was asked for.
pub(super) fn run(args: &MatsArgs, desk: &mut Desk<'_>) -> Option<anyhow::Result<()>> {
    match (&args.export, &args.out, &args.import) {
        (Some(project), Some(out), _) => Some(export(project, args, out, desk)),
        (_, _, Some(file)) => Some(import(file, args, desk)),
        _ => None,
    }
}

fn export(project: &str, args: &MatsArgs, out: &Path, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let store = open_store(desk)?;
    let book = store.book();
    let found = find(book, project).map_err(BadInput)?;
    let handed = match args.only.as_deref() {
        None => Handed::Project(Box::new(cardwork::project_to_file(book, found))),
        Some(name) => {
            let card = found.cards.iter().find(|c| folded(&c.name) == folded(name)).ok_or_else(|| {
                let names: Vec<&str> = found.cards.iter().map(|c| c.name.as_str()).collect();
                BadInput(format!(
                    "--only: no card \"{}\" in it: {}",
                    harmless(name),
                    harmless(&instead(name, &names))
                ))
            })?;
            Handed::Card(Box::new(cardwork::to_file(book, card)))
        }
    };
    let text = write_text(&handed, desk.unit).map_err(anyhow::Error::msg)?;
    made::write_new(out, text.as_bytes()).map_err(|why| {
        let words = format!("--out: {} {why}", out.display());
        if matches!(why, WriteError::Disk(_)) { anyhow::Error::msg(words) } else { BadInput(words).into() }
    })?;
    tell(args.json, &format!("written to {}", out.display()), Some(out), desk)
}

fn find<'a>(book: &'a Book, name: &str) -> Result<&'a Project, String> {
    let found = book.find_project(name).and_then(|id| book.projects().get(id));
    found.ok_or_else(|| {
        let names: Vec<&str> = book.projects().iter().map(|(_, p)| p.name.as_str()).collect();
        format!("no project is called \"{}\": {}", harmless(name), harmless(&instead(name, &names)))
    })
}

fn import(path: &Path, args: &MatsArgs, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let into = args.into.as_deref();
    let shown = path.display();
    let text = given::read_text(path, CARD).map_err(|e| BadInput(format!("--import {shown}: {e}")))?;
    let handed = read_text(&text, desk.unit).map_err(|e| BadInput(format!("--import {shown}: {e}")))?;
    if into.is_some() && matches!(handed, Handed::Project(_)) {
        let why = "--into: the file holds a whole project: leave it out, and it becomes one of the book";
        return Err(BadInput(why.to_owned()).into());
    }
    let mut store = open_store(desk)?;
    let mut notes = Vec::new();
    let saved = store.change(today()?, |book| taken(book, &handed, into, &mut notes));
    let saved = saved.map_err(|e| match e {
        ChangeError::Make(sentence) => BadInput(sentence).into(),
        ChangeError::Refused(error) => BadInput::from_error(harmless(&error.to_string())),
        ChangeError::Store(error) => anyhow::Error::from(error),
    })?;
    for note in notes.iter().chain(&store.take_notes()) {
        writeln!(desk.note, "{}", harmless(note))?;
    }
    tell(args.json, &saved.label, None, desk)
}

fn tell(is_json: bool, done: &str, file: Option<&Path>, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    if is_json {
        let file = file.map(|path| path.display().to_string());
        return desk.json(&serde_json::json!({ "done": done, "file": file }));
    }
    Ok(writeln!(desk.out, "{}", harmless(done))?)
}

/// The edit that takes what a file held into the book.
fn taken(book: &Book, handed: &Handed, into: Option<&str>, notes: &mut Vec<String>) -> Result<Edit, String> {
    let mut project = match handed {
        Handed::Project(file) => {
            let (project, said) = cardwork::project_from_file(book, file);
            notes.extend(said);
            project
        }
        Handed::Card(file) => {
            let (card, said) = cardwork::from_file(book, file);
            notes.extend(said);
            if let Some(name) = into {
                let was = find(book, name)?;
                let id = book.find_project(name).ok_or("the project is gone")?;
                let mut now = was.clone();
                let label = format!("added the card {} to {}", card.name, was.name);
                now.cards.push(card);
                return Ok(Edit::batch(label, vec![Edit::Project(Row::alter(id, was.clone(), now))]));
            }
            Project { cards: vec![card.clone()], ..Project::new(card.name) }
        }
    };
    project.name = cardwork::free_name(book, &project.name);
    let label = format!("added the project {}", project.name);
    Ok(Edit::batch(label, vec![Edit::Project(Row::add(book.projects().next(), project))]))
}
