//! `trimside restore`: the copies of the data, a kept book, or what a damaged journal still holds, and how each is
//! brought back.

use super::{BadInput, Desk, open_store, today};
use crate::domain::harmless::harmless;
use crate::domain::plural::count_of;
use crate::persist::disk::of_process;
use crate::persist::given::ReadError;
use crate::persist::kept::{Copy, copies, restore};
use crate::persist::later::{self, LaterLines};
use crate::persist::parcel::{self, Holds};
use crate::persist::paths::Paths;
use crate::persist::{Store, StoreError};
use std::path::{Path, PathBuf};

/// List the copies of the data, or bring one back.
#[derive(clap::Args, Debug)]
pub struct RestoreArgs {
    /// The copy to bring back, a file that keep has written, or a journal that was damaged; without it the copies are listed
    #[arg(value_name = "COPY|FILE")]
    pub copy: Option<PathBuf>,
    /// Do it: without this, only what the file holds and would replace is shown
    #[arg(long, requires = "copy")]
    pub yes: bool,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

/// What was done, or would be.
struct Told {
    /// False where only shown.
    is_done: bool,
    said: Vec<String>,
}

/// Lists, or brings one back and says what happened to the book as it was.
///
/// # Errors
/// [`super::BadInput`] for a copy that there is not, anything else for a failure.
pub fn answer_restore(args: &RestoreArgs, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let paths = Paths::find(desk.data.as_deref())?;
    let disk = of_process();
    let Some(name) = &args.copy else { return list(args.json, desk, &paths.data) };
    let all = copies(&*disk, &paths.data)?;
    let shown = name.display().to_string();
    if !all.iter().any(|copy| copy.name == shown) && name.symlink_metadata().is_ok() {
        let told = from_file(args.yes, name, &paths, desk)?;
        return tell(args.json, desk, &told);
    }
    let said = restore(&*disk, &paths.data, &shown, today()?).map_err(|error| match error {
        StoreError::NoCopy { .. } => {
            BadInput(format!("{error}; there is no file of that name either")).into()
        }
        other => anyhow::Error::new(other),
    })?;
    tell(args.json, desk, &Told { is_done: true, said })
}

fn list(is_json: bool, desk: &mut Desk<'_>, dir: &Path) -> anyhow::Result<()> {
    let all = copies(&*of_process(), dir)?;
    if all.is_empty() {
        writeln!(desk.note, "no copies yet in {}: one is kept on each day with a change", dir.display())?;
    }
    if is_json {
        let row = |copy: Copy| {
            serde_json::json!({
                "name": copy.name, "step": copy.step, "items": copy.items, "lines": copy.lines, "broken": copy.broken,
                "beyond": copy.later.map(|later| later.before().trim_start_matches([';', ' ']).to_owned()),
            })
        };
        let rows: Vec<_> = all.into_iter().map(row).collect();
        return desk.json(&serde_json::json!({ "copies": rows }));
    }
    for copy in all {
        let later = copy.later.map_or_else(String::new, crate::persist::kept::Later::before);
        let held = format!(
            "{}, {}{later}",
            count_of(copy.items as u64, "item"),
            count_of(copy.lines as u64, "log line")
        );
        let state = copy.broken.unwrap_or(held);
        writeln!(desk.out, "{}  {state}", copy.name)?;
    }
    Ok(())
}

fn tell(is_json: bool, desk: &mut Desk<'_>, told: &Told) -> anyhow::Result<()> {
    if is_json {
        return desk.json(&serde_json::json!({ "done": told.is_done, "said": told.said }));
    }
    for line in &told.said {
        writeln!(desk.out, "{}", harmless(line))?;
    }
    Ok(())
}

/// A journal, or a kept book.
fn from_file(yes: bool, file: &Path, paths: &Paths, desk: &mut Desk<'_>) -> anyhow::Result<Told> {
    paths.make_way()?;
    let is_journal = file.extension().is_some_and(|ending| ending == "txt");
    if is_journal {
        let store = open_store(desk)?;
        return from_journal(yes, file, store);
    }
    // What is there first, and let go of: two large books at once would fill the memory.
    let present = present(&paths.data);
    let parcel = parcel::look(file).map_err(|error| {
        if error.is_of_the_file() {
            BadInput(harmless(&error.to_string())).into()
        } else {
            anyhow::Error::new(error)
        }
    })?;
    let mut said = vec![format!("{} holds {}", file.display(), parcel.holds().words())];
    if let Some(replaced) = &present {
        said.push(format!("in {} it replaces {replaced}", paths.data.display()));
        if !yes {
            said.push("nothing was changed: add --yes to do it".to_owned());
            return Ok(Told { is_done: false, said });
        }
    }
    said.extend(parcel.bring_in(&*of_process(), &paths.data, today()?)?);
    Ok(Told { is_done: true, said })
}

/// The book in a folder in words, as far as there is one. One that cannot be read any more may be what somebody wants to
/// replace.
fn present(data: &Path) -> Option<String> {
    match Store::open(data) {
        Ok(store) if store.book().seq() == 0 => None,
        Ok(store) => Some(format!("{}, which will be kept as a copy", Holds::of(store.book()).words())),
        Err(error) => Some(format!("a book that cannot be read, which will be set aside ({error})")),
    }
}

/// What a journal holds beyond the line that is damaged.
fn from_journal(yes: bool, file: &Path, mut store: Store) -> anyhow::Result<Told> {
    let shown = file.display();
    if later::is_carried_out(file) {
        return Err(BadInput(format!("{shown}: what it holds was carried out before")).into());
    }
    let found = store.later_of(file).map_err(|why: ReadError| BadInput(format!("{shown} {why}")))?;
    let Some(found) = found.filter(|later| !later.words().is_empty()) else {
        return Err(
            BadInput(format!("{shown} holds nothing beyond a damaged line: there is nothing to do")).into()
        );
    };
    let mut said = steps(&found);
    if !yes || found.fitting() == 0 {
        let words = if yes {
            "nothing of it can be carried out"
        } else {
            "nothing was changed: add --yes to carry them out"
        };
        said.push(words.to_owned());
        return Ok(Told { is_done: false, said });
    }
    let done = store.carry_out_later(file, today()?)?;
    let count = done.iter().filter(|step| step.refused.is_none()).count();
    said.extend(store.take_notes());
    said.push(format!("{count} of {} carried out; undo takes them back one by one", done.len()));
    Ok(Told { is_done: true, said })
}

fn steps(later: &LaterLines) -> Vec<String> {
    let mut lines = vec![format!("line {} of {} is damaged", later.damaged, later.journal.display())];
    for step in &later.steps {
        let why =
            step.refused.as_ref().map_or_else(String::new, |why| format!(": cannot be carried out, {why}"));
        lines.push(format!("line {}  {}  {}{why}", step.line, step.date, step.label));
    }
    if later.unread > 0 {
        lines.push(format!("{} beyond it cannot be read", count_of(later.unread as u64, "line")));
    }
    lines
}
