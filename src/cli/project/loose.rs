//! `trimside project piece` and `supply`: what a project is made of besides its cards, set by name. Setting it twice is the
//! same as once.

use super::layers::{grain, yes};
use super::named::{given, of_shelf};
use super::told::{Done, tell};
use crate::cli::Desk;
use crate::cli::stock::{change, class};
use crate::domain::book::{Book, folded};
use crate::domain::cardread;
use crate::domain::cards::made_by::MadeBy;
use crate::domain::edit::{Edit, Row};
use crate::domain::figures::count;
use crate::domain::harmless::{harmless, is_blank};
use crate::domain::length::Unit;
use crate::domain::near::instead;
use crate::domain::project::{PieceWanted, Project, Supply};
use crate::domain::reckon;
use crate::domain::size::Size;
use crate::domain::stock::{Kind, ProjectId};
use crate::persist::Store;

/// What is said of a loose piece.
#[derive(clap::Args, Debug)]
pub struct PieceAsk {
    /// The project
    #[arg(value_name = "PROJECT")]
    pub project: String,
    /// Name of the piece; a new name makes a new piece
    #[arg(value_name = "PIECE")]
    pub piece: String,
    /// Its finished size; a new piece needs one
    #[arg(long, value_name = "WxH")]
    pub size: Option<String>,
    /// How many a set takes; 0 takes the piece out
    #[arg(long, value_name = "N")]
    pub count: Option<String>,
    /// Its new name
    #[arg(long, value_name = "NEW")]
    pub name: Option<String>,
    /// Paper of the shelf that it is cut from; none takes it away
    #[arg(long, value_name = "PAPER")]
    pub paper: Option<String>,
    /// May it be turned on the sheet: yes or no
    #[arg(long, value_name = "YES|NO")]
    pub turn: Option<String>,
    /// How it is made: straight cut, die-cut, torn, embossed or printed to the edge; brings the usual paper around it
    #[arg(long, value_name = "WAY")]
    pub made_by: Option<String>,
    /// Paper needed around it on every side for that
    #[arg(long, value_name = "LENGTH")]
    pub allowance: Option<String>,
    /// Side of it that the grain runs along: long, short or any
    #[arg(long, value_name = "SIDE")]
    pub grain: Option<String>,
    /// Only show what it would do
    #[arg(long)]
    pub dry_run: bool,
}

/// How many of a counted thing a set takes.
#[derive(clap::Args, Debug)]
pub struct SupplyAsk {
    /// The project
    #[arg(value_name = "PROJECT")]
    pub project: String,
    /// The thing, by name or order number
    #[arg(value_name = "ITEM")]
    pub item: String,
    /// How many a set takes; 0 takes it out
    #[arg(value_name = "N")]
    pub count: String,
    /// Only show what it would do
    #[arg(long)]
    pub dry_run: bool,
}

/// Puts a piece in, changes it or takes it out.
pub(super) fn piece(
    ask: &PieceAsk,
    desk: &mut Desk<'_>,
    store: &mut Store,
    is_json: bool,
) -> anyhow::Result<()> {
    let unit = desk.unit;
    let done = change::carry_out(desk, store, ask.dry_run, |book| {
        let id = class::find(book, &ask.project)?;
        altered(book, id, |now| put_piece(ask, book, now, unit))
    })?;
    let done = Done { words: &done, project: ask.project.trim(), card: None, is_dry: ask.dry_run };
    tell(desk, is_json, &done)
}

/// Sets the count of a counted thing, or takes it out.
pub(super) fn supply(
    ask: &SupplyAsk,
    desk: &mut Desk<'_>,
    store: &mut Store,
    is_json: bool,
) -> anyhow::Result<()> {
    let done = change::carry_out(desk, store, ask.dry_run, |book| {
        let id = class::find(book, &ask.project)?;
        altered(book, id, |now| put_supply(ask, book, now))
    })?;
    let done = Done { words: &done, project: ask.project.trim(), card: None, is_dry: ask.dry_run };
    tell(desk, is_json, &done)
}

/// One edit of a project; what it does says the closure.
fn altered(
    book: &Book,
    id: ProjectId,
    change: impl FnOnce(&mut Project) -> Result<String, String>,
) -> Result<Edit, String> {
    let was = book.projects().get(id).ok_or("this project is gone")?;
    let mut now = was.clone();
    let label = change(&mut now)?;
    if now == *was {
        return Err("nothing was changed: name what is to change, or another figure than it has".to_owned());
    }
    Ok(Edit::batch(label, vec![Edit::Project(Row::alter(id, was.clone(), now))]))
}

fn put_piece(ask: &PieceAsk, book: &Book, now: &mut Project, unit: Unit) -> Result<String, String> {
    let project = now.name.clone();
    let at = now.pieces.iter().position(|p| folded(&p.name) == folded(&ask.piece));
    if ask.count.as_deref().map(str::trim) == Some("0") {
        let at = at.ok_or_else(|| no_piece(now, &ask.piece, ""))?;
        let gone = now.pieces.remove(at);
        return Ok(format!("took the piece {} out of {project}", gone.name));
    }
    let at = match at {
        Some(at) => at,
        None if ask.size.is_none() => {
            return Err(no_piece(now, &ask.piece, " (--size WxH makes a new one)"));
        }
        None => {
            now.pieces.push(new_piece(&ask.piece)?);
            now.pieces.len() - 1
        }
    };
    if let Some(name) = &ask.name {
        let is_taken = now.pieces.iter().enumerate().any(|(n, p)| n != at && folded(&p.name) == folded(name));
        if is_taken || is_blank(name) {
            let why = if is_taken {
                "another piece has that name"
            } else {
                "a piece needs a name that can be seen"
            };
            return Err(format!("--name: {why}"));
        }
    }
    let Some(piece) = now.pieces.get_mut(at) else { return Err("this piece is gone".to_owned()) };
    let is_new = piece.size.area() == 0;
    change_piece(ask, book, piece, unit)?;
    let verb = if is_new { "added" } else { "changed" };
    Ok(format!("{verb} the piece {} of {project}", piece.name))
}

fn new_piece(name: &str) -> Result<PieceWanted, String> {
    if is_blank(name) {
        return Err("a piece needs a name that can be seen".to_owned());
    }
    Ok(PieceWanted::new(name.trim().to_owned(), Size::default(), 1))
}

fn no_piece(project: &Project, name: &str, more: &str) -> String {
    let names: Vec<&str> = project.pieces.iter().map(|p| p.name.as_str()).collect();
    let (of, name, instead) = (&project.name, harmless(name), harmless(&instead(name, &names)));
    format!("no loose piece of {of} is called \"{name}\": {instead}{more}")
}

fn change_piece(ask: &PieceAsk, book: &Book, piece: &mut PieceWanted, unit: Unit) -> Result<(), String> {
    given("--size", ask.size.as_ref(), |text| reckon::size(text, unit).map(|s| piece.size = s))?;
    given("--count", ask.count.as_ref(), |text| count(text, 1).map(|n| piece.count = n))?;
    if let Some(name) = &ask.name {
        name.trim().clone_into(&mut piece.name);
    }
    if let Some(name) = &ask.paper {
        piece.paper = of_shelf(book, "--paper", name, Kind::is_paper)?;
    }
    given("--turn", ask.turn.as_ref(), |text| {
        piece.turn = yes(text)?;
        Ok(())
    })?;
    given("--made-by", ask.made_by.as_ref(), |text| {
        MadeBy::from_word(text).map(|way| way.put(&mut piece.made_by, &mut piece.allowance))
    })?;
    given("--allowance", ask.allowance.as_ref(), |text| {
        cardread::length_or_zero(text, unit).map(|l| piece.allowance = l)
    })?;
    given("--grain", ask.grain.as_ref(), |text| grain(text).map(|g| piece.grain = g))
}

fn put_supply(ask: &SupplyAsk, book: &Book, now: &mut Project) -> Result<String, String> {
    let item = book.find_item(&ask.item).map_err(|e| e.to_string())?;
    let name = book.items().name_of(item);
    if book.items().get(item).is_some_and(|i| i.kind.is_paper()) {
        return Err(format!(
            "{} is cut from sheets and not counted: project piece puts a piece of it in",
            harmless(&name)
        ));
    }
    let n = count(&ask.count, 0)?;
    let project = now.name.clone();
    let at = now.supplies.iter().position(|s| s.item == item);
    match (at, n) {
        (None, 0) => return Err(format!("{project} takes no {} as it is", harmless(&name))),
        (Some(at), 0) => {
            now.supplies.remove(at);
            return Ok(format!("took {name} out of {project}"));
        }
        (Some(at), n) => {
            if let Some(supply) = now.supplies.get_mut(at) {
                supply.count = n;
            }
        }
        (None, n) => now.supplies.push(Supply { item, count: n }),
    }
    Ok(format!("a set of {project} takes {n} {name}"))
}
