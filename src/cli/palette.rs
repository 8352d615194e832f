//! `trimside palette`: the arguments and the answer.
//!
//! Reads the swatches, asks the domain, hands the answer to [`show`] for people or to [`json`] for programs.

mod about;
mod json;
mod show;

use super::{BadInput, Desk};
use crate::domain::book::Book;
use crate::domain::capital::capitalized;
use crate::domain::colour::habits::Habits;
use crate::domain::colour::leading::leading;
use crate::domain::colour::nearest::nearest;
use crate::domain::colour::order::SwatchOrder;
use crate::domain::colour::parse;
use crate::domain::colour::photo::identify;
use crate::domain::colour::photo::white::{WhiteHint, WhiteSource};
use crate::domain::colour::scheme::Scheme;
use crate::domain::colour::swatch::Swatch;
use crate::domain::colour::trios::said::{NoTrio, why_none};
use crate::domain::colour::trios::{Trio, TrioQuestion, trios};
use crate::domain::colour::wheel::Wheel;
use crate::domain::library::from_picture::{Choosing, from_picture};
use crate::domain::library::{base, taste};
use crate::domain::near::instead;
use crate::domain::stock::SwatchId;
use crate::exchange::read::image;
use crate::exchange::read::swatches::swatches;
use crate::persist::given::{self, COLOURS, Sort};
use std::path::{Path, PathBuf};

/// Name a color and find what goes with it.
#[derive(clap::Args, Debug)]
pub struct PaletteArgs {
    /// What is asked.
    #[command(subcommand)]
    pub question: PaletteQuestion,
    /// Swatches to use instead of your own: columns id or name, then hex or L,a,b (CIELAB, D65), or both
    #[arg(long, value_name = "FILE.csv", global = true)]
    pub swatches: Option<PathBuf>,
    /// Answer as JSON
    #[arg(long, global = true)]
    pub json: bool,
    /// Also show the figures behind the words: Lab values, how often people choose a pair, a published harmony model
    #[arg(long, global = true)]
    pub figures: bool,
}

/// What can be asked.
#[derive(clap::Subcommand, Debug)]
pub enum PaletteQuestion {
    /// The swatches closest to a color: #1f7a8c, rgb(31, 122, 140), "lab(48 -18 -16)", "oklch(0.54 0.09 222)", teal
    Nearest {
        /// The color; lab() is read under D65 unless it ends in d50
        #[arg(value_name = "COLOUR")]
        colour: String,
    },
    /// Three swatches that go together, one of them given
    Trios {
        /// Id or name of a swatch
        #[arg(value_name = "SWATCH")]
        swatch: String,
        /// The color wheel that schemes are read on
        #[arg(long, value_enum, default_value_t)]
        wheel: WheelName,
        /// Only trios of this scheme, like "triad" or "neutral + accent"; where there is none, the nearest that can be done
        #[arg(long, value_name = "SCHEME", value_parser = scheme)]
        scheme: Option<Scheme>,
        /// Not nine of a kind: pass over a trio that shares two colors or the same three hue families with one shown
        #[arg(long)]
        varied: bool,
        /// From colors of which something is on your shelf first, then trios with one color to buy
        #[arg(long)]
        on_hand: bool,
        /// Trios that use up leaving papers of your shelf first
        #[arg(long)]
        leaving_first: bool,
        /// Leave out what your kept and dismissed trios and your cards say: the order of the model alone
        #[arg(long)]
        model_alone: bool,
    },
    /// The colors of a paper in a photo or scan (PNG, JPEG), best taken on white card
    Photo {
        /// The picture
        #[arg(value_name = "FILE")]
        file: PathBuf,
        /// Where white is: X,Y in shares of width and height from the top left (0.05,0.5), or none to take the
        /// picture as it is
        #[arg(long, value_name = "X,Y|none", value_parser = white_hint)]
        white: Option<WhiteHint>,
    },
    /// Five colors of a picture of anything (a garden, a fabric), the nearest colors on your shelf to each, and the trios
    /// that those make
    Picture {
        /// The picture (PNG, JPEG)
        #[arg(value_name = "FILE")]
        file: PathBuf,
        /// Leave out what your kept and dismissed trios and your cards say: the order of the model alone
        #[arg(long)]
        model_alone: bool,
    },
    /// What is known of a swatch or a patterned paper of yours: things in that color, patterns that hold it, inks that
    /// read on it; or the colors of the paper and the plain papers that match
    About {
        /// Name of a swatch, or name or order number of a patterned paper
        #[arg(value_name = "SWATCH|PAPER")]
        name: String,
    },
    /// The swatches in an order to lay them out
    Order {
        /// What they are ordered by
        #[arg(long, value_enum, default_value_t)]
        by: OrderName,
    },
}

/// A color wheel as named on the command line.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, clap::ValueEnum)]
pub enum WheelName {
    /// Red, yellow and blue a third apart
    #[default]
    Painters,
    /// Steps that look equal
    Oklch,
}

impl From<WheelName> for Wheel {
    fn from(name: WheelName) -> Self {
        match name {
            WheelName::Painters => Self::Painters,
            WheelName::Oklch => Self::Oklch,
        }
    }
}

/// An order as named on the command line.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, clap::ValueEnum)]
pub enum OrderName {
    /// Neutrals, then hue after hue
    #[default]
    Hue,
    /// Each near the one before it
    Smooth,
    /// By name
    Name,
    /// By your own grouping
    Family,
}

impl From<OrderName> for SwatchOrder {
    fn from(name: OrderName) -> Self {
        match name {
            OrderName::Hue => Self::Families,
            OrderName::Smooth => Self::Smooth,
            OrderName::Name => Self::Name,
            OrderName::Family => Self::Group,
        }
    }
}

/// How many matches an answer holds.
const MATCHES: usize = 5;
/// Said beside every verdict on colors in text.
const DAYLIGHT: &str = "Compare real chips in daylight before you choose.";

/// Answers the command.
///
/// # Errors
/// [`super::BadInput`] for what the person can mend, anything else for a failure.
pub fn answer_palette(args: &PaletteArgs, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    match &args.question {
        PaletteQuestion::Nearest { colour } => answer_nearest(args, colour, desk),
        PaletteQuestion::Trios { swatch, wheel, scheme, varied, on_hand, leaving_first, model_alone } => {
            let shelf = ShelfWish { on_hand: *on_hand, leaving_first: *leaving_first };
            let wheel = (*wheel).into();
            let wish = TrioWish { wheel, scheme: *scheme, varied: *varied, shelf, model_alone: *model_alone };
            answer_trios(args, swatch, wish, desk)
        }
        PaletteQuestion::Photo { file, white } => answer_photo(args, file, white.unwrap_or_default(), desk),
        PaletteQuestion::Picture { file, model_alone } => answer_picture(args, file, *model_alone, desk),
        PaletteQuestion::About { name } => about::answer(args, name, desk),
        PaletteQuestion::Order { by } => answer_order(args, (*by).into(), desk),
    }
}

fn answer_nearest(args: &PaletteArgs, colour: &str, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let query = parse::colour(colour).map_err(BadInput::from_error)?;
    let library = library(args, desk)?;
    let matches = nearest(query.lab, &library, MATCHES);
    if args.json {
        return desk.json(&json::nearest(query, &library, &matches));
    }
    write!(desk.out, "{}", show::nearest(query, &library, &matches, args.figures))?;
    writeln!(desk.note, "{DAYLIGHT}")?;
    Ok(())
}

/// What the shelf has to say about trios.
#[derive(Clone, Copy)]
struct ShelfWish {
    on_hand: bool,
    leaving_first: bool,
}

/// Of each swatch of the book, in its order: whether something of it is on hand, and whether that is leaving.
fn shelf(args: &PaletteArgs, wish: ShelfWish, desk: &mut Desk<'_>) -> anyhow::Result<[Option<Vec<bool>>; 2]> {
    if !(wish.on_hand || wish.leaving_first) {
        return Ok([None, None]);
    }
    if args.swatches.is_some() {
        let why = "a swatch file says nothing of what is on the shelf: leave out --swatches, or --on-hand and --leaving-first";
        return Err(BadInput(why.into()).into());
    }
    let store = super::open_store(desk)?;
    let book = store.book();
    let each =
        |holds: fn(&Book, SwatchId) -> bool| book.swatches().iter().map(|(id, _)| holds(book, id)).collect();
    Ok([wish.on_hand.then(|| each(base::on_hand)), wish.leaving_first.then(|| each(base::leaving))])
}

/// What is asked of trios besides the swatch.
#[derive(Clone, Copy)]
struct TrioWish {
    wheel: Wheel,
    scheme: Option<Scheme>,
    varied: bool,
    shelf: ShelfWish,
    model_alone: bool,
}

/// What the book's owner chose before, where that is to count: none for a file of swatches.
fn choices(
    args: &PaletteArgs,
    model_alone: bool,
    desk: &mut Desk<'_>,
) -> anyhow::Result<(Option<Habits>, Vec<[usize; 3]>)> {
    if model_alone || args.swatches.is_some() {
        return Ok((None, Vec::new()));
    }
    let store = super::open_store(desk)?;
    let ids: Vec<SwatchId> = store.book().swatches().iter().map(|(id, _)| id).collect();
    Ok((Some(taste::habits(store.book())), taste::dismissed_places(store.book(), &ids)))
}

fn answer_trios(args: &PaletteArgs, name: &str, wish: TrioWish, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let library = library(args, desk)?;
    let base = find(&library, name)?;
    let [usable, leaving] = shelf(args, wish.shelf, desk)?;
    let (habits, dismissed) = choices(args, wish.model_alone, desk)?;
    let TrioWish { wheel, scheme, varied, .. } = wish;
    let bases = [base];
    let question = TrioQuestion {
        habits: habits.as_ref(),
        dismissed: &dismissed,
        usable: usable.as_deref(),
        leaving: leaving.as_deref(),
        wheel,
        scheme,
        varied,
        ..TrioQuestion::about(&library, &bases)
    };
    let list = trios(&question);
    if args.json {
        desk.json(&json::trios(base, &library, &list))?;
    } else {
        write!(desk.out, "{}", show::trios(base, wheel, &library, &list, args.figures))?;
    }
    let notes =
        if list.is_empty() { vec![none_words(why_none(&question))] } else { trio_notes(&list, args.json) };
    for note in notes {
        writeln!(desk.note, "{note}")?;
    }
    Ok(())
}

/// Why there is no trio, and what would do.
fn none_words(why: NoTrio) -> String {
    match why {
        NoTrio::TooFew(n) => format!(
            "A trio takes three different colors and there {} only {n}: add more with n in the Palette pane, or name a list with --swatches FILE.csv.",
            if n == 1 { "is" } else { "are" }
        ),
        NoTrio::Dismissed => {
            "You dismissed every trio of it: --model-alone shows them, Y in the Palette pane brings them back.".to_owned()
        }
        NoTrio::NotOnHand | NoTrio::NoBase => {
            "Nothing on your shelf goes with it: leave out --on-hand to choose from all colors, or add to the shelf what you have."
                .to_owned()
        }
    }
}

/// What is said of a list from very many swatches.
const NOT_ALL_SEEN: &str = "Too many swatches to look at every trio of them: another may stand higher. Keep to what is on hand, or to fewer swatches, for a full list.";

/// What is to be said beside a list of trios.
fn trio_notes(list: &[Trio], json: bool) -> Vec<String> {
    let mut notes = Vec::new();
    if let Some(why) = list.first().and_then(|first| first.short.words()) {
        notes.push(format!("{}; these are the nearest that can be done.", capitalized(&why)));
    }
    if list.first().is_some_and(|first| !first.all_seen) {
        notes.push(NOT_ALL_SEEN.to_owned());
    }
    if list.iter().all(|trio| trio.to_buy.is_some()) {
        notes.push("No trio can be made from what is on hand alone; one color of each is to buy.".to_owned());
    }
    if !json {
        notes.push(DAYLIGHT.to_owned());
    }
    notes
}

/// Reads the name of a scheme, or its beginning.
fn scheme(text: &str) -> Result<Scheme, String> {
    let wanted = text.trim().to_lowercase();
    let exact = Scheme::ALL.into_iter().find(|scheme| scheme.name() == wanted);
    let begins = |scheme: &Scheme| !wanted.is_empty() && scheme.name().starts_with(&wanted);
    exact.or_else(|| Scheme::ALL.into_iter().find(begins)).ok_or_else(|| {
        let names: Vec<&str> = Scheme::ALL.iter().map(|scheme| scheme.name()).collect();
        format!("write one of: {}", names.join(", "))
    })
}

/// Reads a picture that the person names.
fn picture(file: &Path) -> Result<image::ReadImage, BadInput> {
    let refuse = |why: String| BadInput(format!("{}: {why}", file.display()));
    let picture = Sort { name: "a picture", most: image::MOST_BYTES as u64 };
    let bytes = given::read(file, picture).map_err(|e| refuse(e.to_string()))?;
    image::read(&bytes).map_err(|e| refuse(e.to_string()))
}

fn answer_picture(
    args: &PaletteArgs,
    file: &Path,
    model_alone: bool,
    desk: &mut Desk<'_>,
) -> anyhow::Result<()> {
    let read = picture(file)?;
    let library = library(args, desk)?;
    // A file of swatches is a shelf of its own: all of it is there.
    let held = if args.swatches.is_some() {
        vec![true; library.len()]
    } else {
        let wish = ShelfWish { on_hand: true, leaving_first: false };
        shelf(args, wish, desk)?.into_iter().flatten().next().unwrap_or_default()
    };
    let (habits, dismissed) = choices(args, model_alone, desk)?;
    let from = Choosing { library: &library, held: &held, habits: habits.as_ref(), dismissed: &dismissed };
    let found = from_picture(&leading(&read.picture), &from);
    if args.json {
        return desk.json(&json::picture(&library, &found));
    }
    write!(desk.out, "{}", show::picture(&library, &found, args.figures))?;
    if found.from_all {
        writeln!(desk.note, "Nothing in these colors is on your shelf: chosen from the whole library.")?;
    }
    if found.trios.is_empty() {
        writeln!(desk.note, "A trio takes three different colors: the picture or the shelf has fewer.")?;
    }
    writeln!(desk.note, "{DAYLIGHT}")?;
    Ok(())
}

fn answer_photo(
    args: &PaletteArgs,
    file: &Path,
    white: WhiteHint,
    desk: &mut Desk<'_>,
) -> anyhow::Result<()> {
    let read = picture(file)?;
    let library = library(args, desk)?;
    let answer = identify(&read.picture, &library, white);
    if args.json {
        desk.json(&json::photo(&library, &answer))?;
    } else {
        write!(desk.out, "{}", show::photo(&library, &answer, args.figures))?;
        writeln!(desk.note, "{DAYLIGHT}")?;
    }
    if read.profile_passed_over {
        writeln!(desk.note, "This picture's color profile cannot be read here; it was taken as sRGB.")?;
    }
    if answer.source == WhiteSource::NotFound && white == WhiteHint::Find {
        writeln!(
            desk.note,
            "No white was found; photograph the paper on white card, or say where white is: --white X,Y."
        )?;
    }
    Ok(())
}

/// Reads `X,Y` or `none`.
fn white_hint(text: &str) -> Result<WhiteHint, String> {
    if text.trim().eq_ignore_ascii_case("none") {
        return Ok(WhiteHint::AsIs);
    }
    let share = |part: &str| part.trim().parse::<f64>().ok().filter(|v| (0.0..=1.0).contains(v));
    let place = text.split_once(',').and_then(|(x, y)| Some(WhiteHint::At(share(x)?, share(y)?)));
    place.ok_or_else(|| "write two shares of width and height from 0 to 1, like 0.05,0.5, or none".into())
}

fn answer_order(args: &PaletteArgs, order: SwatchOrder, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let library = library(args, desk)?;
    let places = order.arrange(&library);
    if args.json {
        return desk.json(&json::order(&library, &places));
    }
    write!(desk.out, "{}", show::order(&library, &places, args.figures))?;
    Ok(())
}

/// The swatches of the file named, or the person's own.
fn library(args: &PaletteArgs, desk: &mut Desk<'_>) -> anyhow::Result<Vec<Swatch>> {
    let Some(path) = &args.swatches else {
        return book_swatches(desk);
    };
    let bytes = given::read_or_input(path, COLOURS)
        .map_err(|e| BadInput(format!("--swatches {}: {e}", path.display())))?;
    swatches(&bytes).map_err(|e| BadInput(format!("--swatches {}: {e}", path.display())).into())
}

/// The swatches of the book.
fn book_swatches(desk: &mut Desk<'_>) -> anyhow::Result<Vec<Swatch>> {
    let store = super::open_store(desk)?;
    let all: Vec<Swatch> = store.book().swatches().iter().map(|(_, s)| s.colour()).collect();
    if all.is_empty() {
        let why = "the book holds no swatches; add --swatches FILE.csv with the columns id or name, and hex or L,a,b";
        return Err(BadInput(why.into()).into());
    }
    Ok(all)
}

/// The swatch a person means: its id, else its name, capitals aside.
fn find(library: &[Swatch], name: &str) -> anyhow::Result<usize> {
    let wanted = name.trim().to_lowercase();
    let by = |key: fn(&Swatch) -> &str| -> Vec<usize> {
        let hit = |(i, swatch): (usize, &Swatch)| (key(swatch).to_lowercase() == wanted).then_some(i);
        library.iter().enumerate().filter_map(hit).collect()
    };
    let exact = |key: fn(&Swatch) -> &str| library.iter().position(|swatch| key(swatch) == name.trim());
    let found = exact(|swatch| &swatch.id).map_or_else(|| by(|swatch| &swatch.id), |i| vec![i]);
    let found = if found.is_empty() { by(|swatch| &swatch.name) } else { found };
    match found[..] {
        [one] if !wanted.is_empty() => Ok(one),
        [] | [_] => Err(BadInput(not_found(library, name)).into()),
        _ => {
            let ids: Vec<&str> = found.iter().map(|i| library[*i].label()).collect();
            Err(BadInput(format!("\"{name}\" names {} swatches; say which: {}", found.len(), ids.join(", ")))
                .into())
        }
    }
}

fn not_found(library: &[Swatch], name: &str) -> String {
    let names: Vec<&str> = library.iter().map(Swatch::label).collect();
    format!("no swatch \"{name}\" among {}: {}", library.len(), instead(name, &names))
}

#[cfg(test)]
mod tests;
