//! `trimside yield`: the arguments and the answer.

mod json;
mod near;

pub use json::{layout as layout_json, number, size as size_json};

use super::{BadInput, Desk};
use crate::domain::cutting::one_size::{SheetYield, answer, sheets_for};
use crate::domain::cutting::pinwheel::StopAnswer;
use crate::domain::cutting::question::{Preference, Question};
use crate::domain::cutting::trimmer_profile::{Blade, TrimmerProfile};
use crate::domain::cutting::words;
use crate::domain::length::{Length, Unit};
use crate::domain::plural::count_of;
use crate::domain::reckon;
use crate::domain::sheet::{Formats, Sheet, SheetError, parse_sheet};
use crate::domain::size::Size;
use crate::persist::given::{self, SETTINGS};
use crate::persist::paths::{FORMATS, Paths};
use std::collections::BTreeMap;
use std::path::Path;

/// How many pieces of one size a sheet gives, and how to cut them.
#[derive(clap::Args, Debug)]
pub struct YieldArgs {
    /// Finished size, width x height: 2x3, 4-1/4x5-1/2, 105x148mm; "at least 2.4x3.1" takes the next mark up
    #[arg(value_name = "PIECE", allow_hyphen_values = true, value_parser = no_option)]
    pub piece: String,
    /// The sheet: a format (letter, a4, 12x12) or width x height
    #[arg(long, value_name = "SHEET", allow_hyphen_values = true, required_unless_present = "held")]
    pub sheet: Option<String>,
    /// The sheet as you measured it, where it is not what its format says
    #[arg(long, value_name = "WxH", allow_hyphen_values = true)]
    pub measured: Option<String>,
    /// Compare every paper in the book instead: cheapest, least waste, leaving paper first
    #[arg(long, conflicts_with_all = ["sheet", "measured", "stop_cuts", "largest_offcut"])]
    pub held: bool,
    /// List the sizes up to this much smaller that give more
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub near: Option<String>,
    /// How many pieces you want: gives the sheets needed and the pieces to spare
    #[arg(long, value_name = "N", allow_hyphen_values = true)]
    pub count: Option<String>,
    /// The piece may not be turned: a pattern or the grain must stay as it is
    #[arg(long)]
    pub no_turn: bool,
    /// The trimmer can start and stop inside the sheet: count such layouts too
    #[arg(long)]
    pub stop_cuts: bool,
    /// The longest single cut that the trimmer makes
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub max_cut: Option<String>,
    /// Your trimmer, for the words: fence, stop, ruler-left or ruler-right; then after commas arm or slides, a test strip
    /// such as 4=4-1/32, corrected
    #[arg(long, value_name = "PROFILE")]
    pub trimmer: Option<String>,
    /// Among layouts with as many pieces, take the one with the largest single offcut
    #[arg(long)]
    pub largest_offcut: bool,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

/// Said where a person is about to cut.
const CAUTION: &str = "Keep fingers behind the guard, latch the arm when you stop, and follow the instructions of your \
                       trimmer's maker.";

fn caution(blade: Blade) -> String {
    match blade {
        Blade::Arm => CAUTION.to_owned(),
        Blade::Slides => blade.caution(),
    }
}

/// Answers the command.
///
/// # Errors
/// [`super::BadInput`] for what the person can mend, anything else for a failure.
pub fn answer_yields(args: &YieldArgs, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    if args.held {
        return near::over_papers(args, desk);
    }
    let question = question(args, desk)?;
    let range = near::range(args, desk.unit)?;
    let wanted = args.count.as_deref().map(count).transpose()?;
    let answer = answer(&question);
    if !answer.chosen && answer.best > 0 {
        writeln!(
            desk.note,
            "not every layout with {} was looked at: another may have a larger offcut or fewer settings",
            count_of(u64::from(answer.best), "piece")
        )?;
    }
    for note in words::notes(&answer, &question.trimmer, desk.unit) {
        writeln!(desk.note, "{note}")?;
    }
    let near = range.map(|range| near::of_sheet(&question, range));
    if args.json {
        let mut value = json::answer(&question, &answer, wanted, desk.unit);
        if let Some(near) = &near {
            near::add_to(&mut value, question.piece, near, desk.unit);
        }
        return desk.json(&value);
    }
    show(&question, &answer, wanted, desk)?;
    match (&near, range) {
        (Some(near), Some(range)) => near::show(question.piece, near, range, desk),
        _ => Ok(()),
    }
}

/// The piece, or the mark that covers it where at least that size is asked for.
fn piece(args: &YieldArgs, unit: Unit) -> anyhow::Result<Size> {
    reckon::size_to_cut(&args.piece, unit, finest_mark(unit))
        .map_err(|e| BadInput::from_error(format!("piece: {e}")))
}

fn question(args: &YieldArgs, desk: &Desk<'_>) -> anyhow::Result<Question> {
    let unit = desk.unit;
    let piece = piece(args, unit)?;
    let mut sheet = sheet(args.sheet.as_deref().unwrap_or_default(), desk)?;
    if let Some(text) = &args.measured {
        let size = Size::parse(text, unit).map_err(|e| BadInput::from_error(format!("--measured: {e}")))?;
        sheet.measured = Some(size);
    }
    let mut question = Question::new(piece, sheet);
    question.may_turn = !args.no_turn;
    if args.largest_offcut {
        question.preference = Preference::LargestOffcut;
    }
    question.trimmer.finest_mark = finest_mark(unit);
    question.trimmer.longest_cut = args.max_cut.as_deref().map(|text| max_cut(text, unit)).transpose()?;
    question.trimmer.stop_cuts = args.stop_cuts;
    question.trimmer.profile = profile(args.trimmer.as_deref(), unit)?;
    question.check().map_err(BadInput::from_error)?;
    Ok(question)
}

/// A size may start with a minus, to be refused as what it is, but not with two: that is a mistyped option.
fn no_option(text: &str) -> Result<String, String> {
    if text.starts_with("--") {
        Err("it is not a size, and not an option of this command".into())
    } else {
        Ok(text.into())
    }
}

/// Reads the words for the trimmer; a fence where nothing is said, so that scripts answer alike everywhere.
///
/// # Errors
/// [`BadInput`] with the profile's own sentence.
pub fn profile(text: Option<&str>, unit: Unit) -> anyhow::Result<TrimmerProfile> {
    let read = text.map(|text| TrimmerProfile::parse(text, unit)).transpose();
    Ok(read.map_err(|why| BadInput(format!("--trimmer: {why}")))?.unwrap_or_default())
}

/// Reads a longest cut.
///
/// # Errors
/// [`BadInput`] with the length's own sentence.
pub fn max_cut(text: &str, unit: Unit) -> anyhow::Result<Length> {
    Length::parse(text, unit).map_err(|e| BadInput::from_error(format!("--max-cut: {e}")))
}

/// Reads a sheet by format, the person's own formats included, or by size.
///
/// # Errors
/// [`BadInput`] where it is neither, a failure where the person's formats cannot be read.
pub fn sheet(text: &str, desk: &Desk<'_>) -> anyhow::Result<Sheet> {
    let mut sheet = parse_sheet(text, desk.unit, &formats(desk)?);
    if let (Err(SheetError::UnknownFormat { .. }), None, Ok(own)) = (&sheet, &desk.data, Paths::find(None)) {
        sheet = parse_sheet(text, desk.unit, &formats_in(&own.data)?);
    }
    sheet.map_err(|e| BadInput::from_error(format!("--sheet: {e}")))
}

/// The built-in formats with those in a folder named by `--data`.
///
/// The person's own folder is looked at by [`sheet`] only for a name that is not known otherwise, so that a script
/// answers the same everywhere.
fn formats(desk: &Desk<'_>) -> anyhow::Result<Formats> {
    let Some(dir) = desk.data.as_deref() else { return Ok(Formats::built_in()) };
    formats_in(dir)
}

fn formats_in(dir: &Path) -> anyhow::Result<Formats> {
    let path = dir.join(FORMATS);
    match given::read_if_there(&path, SETTINGS) {
        Ok(Some(text)) => {
            Formats::with_user(&text).map_err(|e| BadInput::from_error(format!("{}: {e}", path.display())))
        }
        Ok(None) => Ok(Formats::built_in()),
        Err(why) => Err(anyhow::anyhow!("{} {why}", path.display())),
    }
}

/// The finest mark of the usual fence: 1/16 in, or 1 mm (common practice).
pub const fn finest_mark(unit: Unit) -> Length {
    match unit {
        Unit::Inch => Length::sixteenths(1),
        Unit::Mm => Length::mm(1),
    }
}

/// Reads a number of pieces.
fn count(text: &str) -> anyhow::Result<u32> {
    match text.trim().parse::<u32>() {
        Ok(n) if n > 0 => Ok(n),
        _ => Err(BadInput::from_error(format!(
            "--count: \"{text}\" is not a number of pieces: write a whole number from 1 to {}",
            u32::MAX
        ))),
    }
}

fn show(
    question: &Question,
    answer: &SheetYield,
    wanted: Option<u32>,
    desk: &mut Desk<'_>,
) -> anyhow::Result<()> {
    let unit = desk.unit;
    let (name, size) = (&question.sheet.name, answer.sheet.show_with_unit(unit));
    let sheet = if *name == size { size } else { format!("{name} ({size})") };
    writeln!(desk.out, "{} from {sheet}", answer.piece.show_with_unit(unit))?;
    let turned = if question.may_turn { answer.turned.to_string() } else { "not allowed".to_owned() };
    writeln!(desk.out, "  upright  {}", answer.upright)?;
    writeln!(desk.out, "  turned   {turned}")?;
    writeln!(desk.out, "  best     {}, {}", answer.best, gain(answer))?;
    if answer.best > 0 {
        writeln!(
            desk.out,
            "  slack    width {}, height {}",
            answer.slack.width.show_with_unit(unit),
            answer.slack.height.show_with_unit(unit)
        )?;
    }
    if answer.best > 0 {
        writeln!(desk.out, "  used     {} % of the sheet", answer.used_percent(answer.best))?;
    }
    if let (Some(wanted), Some((sheets, spare))) = (wanted, wanted.and_then(|n| answer.sheets_for(n))) {
        writeln!(desk.out, "  sheets   {sheets} for {wanted}, {spare} to spare")?;
    }
    if answer.best > 0 {
        show_steps(answer, &question.trimmer.profile, desk)?;
    }
    answer.stop.as_ref().map_or(Ok(()), |stop| show_stop(answer, stop, wanted, desk))
}

fn show_stop(
    answer: &SheetYield,
    stop: &StopAnswer,
    wanted: Option<u32>,
    desk: &mut Desk<'_>,
) -> anyhow::Result<()> {
    let proof =
        if stop.proved { "and no cutting gives more".to_owned() } else { format!("at most {}", stop.bound) };
    if stop.parting.is_empty() {
        writeln!(desk.out, "\nStop cuts: {}, edge-to-edge cuts give as many, {proof}.", stop.best)?;
        return Ok(());
    }
    writeln!(
        desk.out,
        "\nStop cuts: {}, {proof}; {} % of the sheet used. On a trimmer whose blade can be set down and lifted:",
        stop.best,
        answer.used_percent(stop.best)
    )?;
    if let (Some(wanted), Some((sheets, spare))) = (wanted, wanted.and_then(|n| sheets_for(n, stop.best))) {
        let sheets = count_of(u64::from(sheets), "sheet");
        writeln!(desk.out, "{sheets} for {wanted} with them, {spare} to spare.")?;
    }
    let words = stop.parting.iter().map(|s| s.words(desk.unit));
    let words = words.chain(stop.steps.iter().map(|s| s.words(desk.unit)));
    for (n, line) in words.enumerate() {
        writeln!(desk.out, "{:>3}. {line}", n + 1)?;
    }
    Ok(())
}

fn show_steps(answer: &SheetYield, own: &TrimmerProfile, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let cuts = answer.layout.cuts.len();
    if cuts == 0 {
        writeln!(desk.out, "\nNo cut: the sheet is the piece.")?;
        return Ok(());
    }
    let setting = format!("{} setting", own.set_by.noun());
    let (cuts, settings) = (count_of(cuts as u64, "cut"), count_of(answer.settings as u64, &setting));
    writeln!(desk.out, "\n{cuts} at {settings}. {}", caution(own.blade))?;
    for (n, step) in answer.steps.iter().enumerate() {
        writeln!(desk.out, "{:>3}. {}", n + 1, step.words(desk.unit))?;
    }
    let mut offcuts: BTreeMap<std::cmp::Reverse<(i128, Size)>, u32> = BTreeMap::new();
    for panel in &answer.layout.offcuts {
        *offcuts.entry(std::cmp::Reverse((panel.size.area(), panel.size))).or_default() += 1;
    }
    if !offcuts.is_empty() {
        let show = |(size, n): (Size, u32)| format!("{n} of {}", size.show_with_unit(desk.unit));
        let list: Vec<String> = offcuts.into_iter().map(|(key, n)| show((key.0.1, n))).collect();
        writeln!(desk.out, "\nLeft over: {}.", list.join(", "))?;
    }
    Ok(())
}

fn gain(answer: &SheetYield) -> String {
    let proof = if answer.proved {
        "and no more can be cut edge to edge".to_owned()
    } else {
        format!("no layout can give more than {}", answer.bound)
    };
    match answer.gain() {
        0 => format!("all one way gives as many, {proof}"),
        n => format!("{n} more than all one way, {proof}"),
    }
}
