//! `trimside print`: the arguments and the answer.
//!
//! Turns arguments into a request ([`ask`]), has the pages made, says how many there are, and writes them ([`out`]).

mod ask;
mod out;

use super::{BadInput, Desk};
use crate::domain::cards::post;
use crate::domain::length::{Length, Unit};
use crate::domain::pages::frame::{PrintPaper, Setup};
use crate::domain::pages::page::Page;
use crate::domain::pages::preview;
use crate::domain::pages::request::pages_lent;
use crate::exchange::write::letters::Letters;
use crate::exchange::write::qr;
use crate::persist::fonts;
use serde_json::{Value, json};
use std::path::PathBuf;

/// Reference pages at true scale.
#[derive(clap::Args, Clone, Debug)]
pub struct PrintArgs {
    /// What to print
    #[arg(value_enum, value_name = "WHAT")]
    pub what: PrintWhat,
    /// The file to write: .pdf, or .svg for one page as a drawing
    #[arg(long, value_name = "FILE.(pdf|svg)", required_unless_present = "preview")]
    pub out: Option<PathBuf>,
    /// Say what would be on each page, and write nothing
    #[arg(long, conflicts_with = "out")]
    pub preview: bool,
    /// Replace the file if it is there
    #[arg(long)]
    pub force: bool,
    /// The paper in the printer
    #[arg(long, value_enum, default_value_t)]
    pub paper: PaperName,
    /// Only this page; a drawing holds one
    #[arg(long, value_name = "N")]
    pub page: Option<usize>,
    /// Leave swatches uncolored and tell them apart by hatches
    #[arg(long, alias = "no-color")]
    pub no_colour: bool,
    /// A line of your own at the foot of every page
    #[arg(long, value_name = "TEXT", default_value = "", hide_default_value = true)]
    pub footer: String,
    /// A QR code of your own text at the foot of every page
    #[arg(long, value_name = "TEXT")]
    pub code: Option<String>,
    /// Only the lines of the piece itself, at true size, for a drawing machine (card, layers, plan)
    #[arg(long)]
    pub lines: bool,
    /// Chart, plan: the sheet, as WxH or a format name; chart: paper of your shelf
    #[arg(long, value_name = "SHEET", default_value = "letter")]
    pub sheet: String,
    /// Chart: another sheet for the back of the leaf
    #[arg(long, value_name = "SHEET")]
    pub back: Option<String>,
    /// Chart: a quarter page to carry, four sheets on a page
    #[arg(long, value_enum, value_name = "FORM", conflicts_with = "back")]
    pub pocket: Option<PocketName>,
    /// Chart: every size, however many pages that takes
    #[arg(long)]
    pub all_sizes: bool,
    /// Chart: mark the sizes that your open projects are cut in
    #[arg(long)]
    pub used: bool,
    /// Chart: the smallest size
    #[arg(long, value_name = "L", allow_hyphen_values = true)]
    pub from: Option<String>,
    /// Chart: the largest size
    #[arg(long, value_name = "L", allow_hyphen_values = true)]
    pub to: Option<String>,
    /// Chart: from one size to the next
    #[arg(long, value_name = "L", allow_hyphen_values = true)]
    pub step: Option<String>,
    /// Chart, plan: pieces must stay upright
    #[arg(long)]
    pub no_turn: bool,
    /// Plan: the trimmer can start and stop inside the sheet; use such cuts where they save paper
    #[arg(long)]
    pub stop_cuts: bool,
    /// Plan: your trimmer, as `trimside yield` reads it
    #[arg(long, value_name = "PROFILE")]
    pub trimmer: Option<String>,
    /// Plan: the size of the pieces
    #[arg(long, value_name = "WxH")]
    pub piece: Option<String>,
    /// Plan: how many pieces are wanted
    #[arg(long, value_name = "N")]
    pub count: Option<u32>,
    /// Plan: what is wanted, as `trimside plan` reads it
    #[arg(long, value_name = "FILE.csv", requires = "sheets", conflicts_with_all = ["piece", "project"])]
    pub pieces: Option<PathBuf>,
    /// Plan: what there is, as `trimside plan` reads it
    #[arg(long, value_name = "FILE.csv", requires = "pieces")]
    pub sheets: Option<PathBuf>,
    /// Plan: rounds of work; the same number always gives the same plan
    #[arg(long, value_name = "N", default_value_t = 12)]
    pub work: u32,
    /// Layers, card: a size, a format name, or a card file
    #[arg(long, value_name = "CARD|FILE.ron")]
    pub card: Option<String>,
    /// Layers, card: reveals from the first mat inward, commas between
    #[arg(long, value_name = "R[,R...]", allow_hyphen_values = true)]
    pub reveal: Option<String>,
    /// Card: the fold
    #[arg(long, value_name = "FOLD")]
    pub fold: Option<String>,
    /// Swatches, labels, trios: swatches of a file instead of your own
    #[arg(long, value_name = "FILE.csv")]
    pub swatches: Option<PathBuf>,
    /// Trios: the swatch that every strip holds
    #[arg(long, value_name = "SWATCH")]
    pub swatch: Option<String>,
    /// Trios: cards on a ring, or strips on a pin
    #[arg(long, value_enum, default_value_t)]
    pub form: FormName,
    /// Trios: empty windows for the real stock
    #[arg(long)]
    pub blank: bool,
    /// Labels, shelf-labels, kit-labels: the label sheet; for kits usually one that holds all their lines
    #[arg(long, value_name = "LABELS")]
    pub labels: Option<String>,
    /// Card, handout: whose mailing rules: a country (US, Canada, UK, Germany) or a set by its id (us-imm)
    #[arg(long, value_name = "COUNTRY")]
    pub post: Option<String>,
    /// Labels, shelf-labels, kit-labels: a file with label sheets of your own, instead of labels.ron in the data folder
    #[arg(long, value_name = "FILE.ron")]
    pub label_file: Option<PathBuf>,
    /// Labels, shelf-labels, kit-labels: the first free label
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub start_label: u32,
    /// Labels, shelf-labels, kit-labels: shift right and down in mm, steps of 0.5
    #[arg(long, value_name = "RIGHT,DOWN", allow_hyphen_values = true)]
    pub nudge: Option<String>,
    /// Labels, shelf-labels, kit-labels: a test page of outlines
    #[arg(long)]
    pub outlines: bool,
    /// Shelf-labels: only lines that these words find, as the filter of the shelf does
    #[arg(long, value_name = "WORDS")]
    pub find: Option<String>,
    /// Shelf-labels: the offcuts that are kept, not the shelf; with --project what its plan will leave
    #[arg(long)]
    pub offcuts: bool,
    /// Labels: only swatches in which something is arriving
    #[arg(long)]
    pub arriving: bool,
    /// Labels: a patch of color on each
    #[arg(long)]
    pub patches: bool,
    /// Kit, kit-labels, handout, card, plan, shelf-labels: the project
    #[arg(long, value_name = "PROJECT")]
    pub project: Option<String>,
    /// Takings: the year; the last one in which a class was held where none is given
    #[arg(long, value_name = "YEAR")]
    pub year: Option<i16>,
    /// Answer as JSON: the file, its pages and their sizes
    #[arg(long)]
    pub json: bool,
}

/// What can be printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
pub enum PrintWhat {
    /// The inch mark by mark, and a true ruler
    Ruler,
    /// Yields of every size from a sheet
    Chart,
    /// The layers of a card format, with a drawing
    Layers,
    /// Every swatch by family, with order numbers
    Swatches,
    /// A strip of each swatch with a hole at its end, its trios on the back
    Strips,
    /// Swatch-book labels
    Labels,
    /// Strips of three colors that go together
    Trios,
    /// Patterned papers and the swatches in them
    Patterns,
    /// What to order again
    Reorder,
    /// Labels to stick on the shelf: a line each, or those that --find finds
    ShelfLabels,
    /// What goes into each kit of a class
    Kit,
    /// A label for every kit of a class
    KitLabels,
    /// What to buy for a class, and what to take along
    Shopping,
    /// What the room of a class should have
    Room,
    /// What a class takes home
    Handout,
    /// The classes of a year: who came, takings, cost, result, what sold
    Takings,
    /// Layouts with the steps at the trimmer
    Plan,
    /// One card with everything on it
    Card,
    /// Every command with its keys
    Keys,
}

/// The paper as named on the command line.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, clap::ValueEnum)]
pub enum PaperName {
    /// 8 1/2 x 11 in
    #[default]
    Letter,
    /// 210 x 297 mm
    A4,
}

/// What a pocket chart shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
pub enum PocketName {
    /// Every half inch, or every centimeter
    Steps,
    /// The sizes that your open projects are cut in
    Used,
}

/// How trio strips are held together.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, clap::ValueEnum)]
pub enum FormName {
    /// Cards on a ring
    #[default]
    Ring,
    /// Strips on a pin
    Fan,
}

/// Answers the command.
///
/// # Errors
/// [`super::BadInput`] for what the person can mend, anything else for a failure.
pub fn answer_print(args: &PrintArgs, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    // What is wrong with the file's name is said before anything is reckoned.
    let target = args.out.as_deref().map(|path| out::OutFile::of(path, args.force)).transpose()?;
    let mut setup = setup(args, desk)?;
    let (request, book) = ask::request(args, desk)?;
    let mut letters = Letters::default();
    let lend = |wanted: &_| letters.lend(wanted, |take| fonts::each(take));
    let pages = pages_lent(&request, &book, &mut setup, lend).map_err(BadInput::from_error)?;
    let pages = chosen(args, pages, target.as_ref())?;
    let count = preview::count_line(&pages, desk.unit);
    match target {
        None if args.json => desk.json(&written(&pages, None, desk.unit)),
        None => tell(&pages, &count, desk),
        Some(target) => {
            if let Some(warning) = preview::warning(&pages, &setup.borrowed) {
                writeln!(desk.note, "{warning}")?;
            }
            let bytes = target.write(&pages, &letters)?;
            writeln!(desk.note, "{count}, to be printed at 100 %")?;
            if args.json {
                return desk.json(&written(&pages, Some((&target, bytes)), desk.unit));
            }
            writeln!(desk.out, "wrote {} ({} KB)", target.path.display(), bytes.div_ceil(1024))?;
            Ok(())
        }
    }
}

/// The file and its pages for programs; of a preview, where nothing is written, what would be on each page.
fn written(pages: &[Page], to: Option<(&out::OutFile, usize)>, unit: Unit) -> Value {
    let page = |page: &Page| {
        let side = |um| Length::from_micrometres(um).in_unit(unit);
        let mut row = json!({ "title": page.title, "width": side(page.width), "height": side(page.height) });
        if to.is_none() {
            row["lines"] = preview::lines(page).into();
        }
        row
    };
    json!({
        "unit": unit.sign(),
        "file": to.map(|(target, _)| target.path.display().to_string()),
        "kind": to.map(|(target, _)| match target.kind {
            out::FileKind::Pdf => "pdf",
            out::FileKind::Svg => "svg",
        }),
        "bytes": to.map(|(_, bytes)| bytes),
        "pages": pages.iter().map(page).collect::<Vec<_>>(),
    })
}

fn setup(args: &PrintArgs, desk: &Desk<'_>) -> anyhow::Result<Setup> {
    let code = args.code.as_deref().map(qr::modules).transpose().map_err(BadInput::from_error)?;
    let paper = match args.paper {
        PaperName::Letter => PrintPaper::Letter,
        PaperName::A4 => PrintPaper::A4,
    };
    let usual = post::usual(paper == PrintPaper::A4);
    let home = args.post.as_deref().unwrap_or(usual);
    let home = post::find(home).map_err(|why| BadInput(format!("--post: {why}")))?.id.clone();
    let (footer, unit) = (args.footer.clone(), desk.unit);
    Ok(Setup { paper, unit, colourless: args.no_colour, footer, code, home, ..Setup::default() })
}

/// The one page that was asked for, or all; a drawing takes no more than one.
fn chosen(
    args: &PrintArgs,
    mut pages: Vec<Page>,
    target: Option<&out::OutFile>,
) -> anyhow::Result<Vec<Page>> {
    let count = pages.len();
    if let Some(n) = args.page {
        if n == 0 || n > count {
            return Err(BadInput(format!("there is no page {n}: it is 1 to {count}")).into());
        }
        return Ok(vec![pages.swap_remove(n - 1)]);
    }
    if count > 1 && target.is_some_and(|t| t.kind == out::FileKind::Svg) {
        let why = format!(
            "there are {count} pages and a drawing holds one: add --page 1 to {count}, or write a .pdf"
        );
        return Err(BadInput(why).into());
    }
    Ok(pages)
}

fn tell(pages: &[Page], count: &str, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    writeln!(desk.out, "{count}")?;
    for (n, page) in pages.iter().enumerate() {
        writeln!(desk.out, "\npage {}: {}", n + 1, page.title)?;
        for line in preview::lines(page) {
            writeln!(desk.out, "  {line}")?;
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests;
