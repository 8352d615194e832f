//! Swatch-book labels on a label sheet: name, order numbers and family beside a real swatch.
//!
//! The sheet's own geometry is obeyed to the micrometre, shifted only by the nudge that a printer needs. Words stay
//! 1/8 in inside every label. A test page of outlines goes onto plain paper and is held against the sheet.

use super::drawing::label_in;
use super::frame;
use super::label_sheet::LabelSheet;
use super::page::{Area, Fill, Group, INCH, MM, Mark, Page, Stroke, Um, points, um_size};
use super::scale::{CLEAR, EDGE, SMALL, WORKS};
use super::text::Style;
use crate::domain::colour::space::Rgb8;
use crate::domain::length::Unit;

/// What stands on one label.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Label {
    /// The largest words.
    pub name: String,
    /// Further lines, the most needed first.
    pub lines: Vec<String>,
    /// A small patch of colour, where wanted.
    pub ink: Option<Rgb8>,
}

/// How labels are laid on sheets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LabelRun {
    /// The first free label of the first sheet, 1 for an unused one.
    pub start: u32,
    /// Half millimetres to the right.
    pub right: i32,
    /// Half millimetres down.
    pub down: i32,
    /// True for the test page of outlines instead of labels.
    pub outlines: bool,
}

impl Default for LabelRun {
    fn default() -> Self {
        Self { start: 1, right: 0, down: 0, outlines: false }
    }
}

/// Words keep this far from a label's edge.
pub const INSIDE: Um = INCH / 8;
/// The farthest nudge, in half millimetres.
pub const MOST_NUDGE: i32 = 20;

/// Why a run of labels cannot be laid.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum RunError {
    /// Start past the sheet.
    #[error("label {start} is not on the sheet: it has {count}, so start at 1 to {count}")]
    Start {
        /// What was asked for.
        start: u32,
        /// Labels on a sheet.
        count: u32,
    },
    /// Nudge too far.
    #[error("a nudge of more than 10 mm is more than a misfeed: use -10 to 10 mm, in steps of 0.5")]
    Nudge,
    /// A nudge that is no pair of half millimetres.
    #[error("\"{0}\" is not a nudge: write millimeters right and down in steps of 0.5, such as 0.5,-1")]
    NudgeText(String),
    /// A start that is no number.
    #[error("\"{given}\" is not a label: the sheet has {count}, so start at 1 to {count}")]
    StartText {
        /// What was typed.
        given: String,
        /// Labels on a sheet.
        count: u32,
    },
}

/// Reads `0.5,-1`, millimetres to the right and down, as half millimetres.
///
/// # Errors
/// A sentence for anything but two multiples of 0.5, and for more than 10 mm.
pub fn read_nudge(text: &str) -> Result<(i32, i32), RunError> {
    let refuse = || RunError::NudgeText(text.trim().chars().take(40).collect());
    let half = |part: &str| {
        let doubled = part.trim().parse::<f64>().ok()? * 2.0;
        (doubled.fract() == 0.0 && doubled.abs() < 1000.0).then_some(doubled as i32)
    };
    let (right, down) = text.split_once(',').ok_or_else(refuse)?;
    let (right, down) = (half(right).ok_or_else(refuse)?, half(down).ok_or_else(refuse)?);
    if right.abs() > MOST_NUDGE || down.abs() > MOST_NUDGE {
        return Err(RunError::Nudge);
    }
    Ok((right, down))
}

/// A nudge as [`read_nudge`] reads it: `0.5,-1`.
pub fn show_nudge(right: i32, down: i32) -> String {
    format!("{},{}", f64::from(right) / 2.0, f64::from(down) / 2.0)
}

/// Reads the number of the first free label.
///
/// # Errors
/// A sentence for anything but a label of the sheet.
pub fn read_start(text: &str, sheet: &LabelSheet) -> Result<u32, RunError> {
    let (given, count) = (text.trim(), sheet.count());
    match given.parse::<u32>() {
        Ok(start) if (1..=count).contains(&start) => Ok(start),
        Ok(start) => Err(RunError::Start { start, count }),
        Err(_) => Err(RunError::StartText { given: given.chars().take(40).collect(), count }),
    }
}

/// The sheets of labels, or the one test page.
///
/// # Errors
/// A start that is not on the sheet, or a nudge of more than 10 mm.
pub fn pages(
    sheet: &LabelSheet,
    labels: &[Label],
    run: &LabelRun,
    unit: Unit,
) -> Result<Vec<Page>, RunError> {
    pages_of("Swatch labels", sheet, labels, run, unit)
}

/// The same for labels of another kind, which the title names.
///
/// # Errors
/// As [`pages`].
pub fn pages_of(
    title: &str,
    sheet: &LabelSheet,
    labels: &[Label],
    run: &LabelRun,
    unit: Unit,
) -> Result<Vec<Page>, RunError> {
    if run.start == 0 || run.start > sheet.count() {
        return Err(RunError::Start { start: run.start, count: sheet.count() });
    }
    if run.right.abs() > MOST_NUDGE || run.down.abs() > MOST_NUDGE {
        return Err(RunError::Nudge);
    }
    let (width, height) = um_size(sheet.paper);
    let blank = |title: &str| Page::new(format!("{title}, {}", sheet.name), width, height);
    if run.outlines {
        let mut page = blank("Label outlines");
        outlines(&mut page, sheet, run, unit);
        return Ok(vec![page]);
    }
    let mut pages = Vec::new();
    for (n, label) in labels.iter().enumerate() {
        let number = run.start - 1 + n as u32;
        if n == 0 || number.is_multiple_of(sheet.count()) {
            pages.push(blank(title));
        }
        if let Some(page) = pages.last_mut() {
            put(page, place(sheet, number, run), label);
        }
    }
    if pages.is_empty() {
        pages.push(blank(&format!("{title} (none to print)")));
    }
    for page in &mut pages {
        margin_bar(page, sheet);
    }
    Ok(pages)
}

fn place(sheet: &LabelSheet, number: u32, run: &LabelRun) -> Area {
    let area = sheet.place(number);
    let half = MM / 2;
    Area::new(
        area.x + half * Um::from(run.right),
        area.y + half * Um::from(run.down),
        area.width,
        area.height,
    )
}

/// The check bar in the bottom margin, where that is high enough for it.
fn margin_bar(page: &mut Page, sheet: &LabelSheet) {
    // The bar needs 4 mm above its line for the ticks and keeps 6 mm from the edge below.
    if sheet.bottom_margin() >= 12 * MM {
        frame::small_bar(page, EDGE, page.height - CLEAR - 500);
    }
}

fn put(page: &mut Page, area: Area, label: &Label) {
    let mut inner = area.inset(INSIDE);
    if let Some(ink) = label.ink {
        let side = inner.height.min(9 * MM).min(inner.width / 3);
        let patch = Area::new(inner.right() - side, inner.y, side, side);
        page.add(
            Group::Fill,
            Mark::Rect { area: patch.inset(100), fill: Some(Fill::Colour(ink)), stroke: Some(WORKS) },
        );
        inner.width -= side + MM;
    }
    let lines = set(label, inner).unwrap_or_else(|| cut_short(label, inner));
    let mut y = inner.y;
    for (style, line) in lines {
        page.words(style.at(inner.x, y + style.size * 19 / 20, &line));
        y += style.leading();
    }
}

/// Letters of the lines under the name in tenths of a point, from the largest that a label needs.
const SIZES: std::ops::RangeInclusive<i64> = 60..=130;
/// Smaller than this a label is hard to read: the usual label sheet is one that needs no smaller letters.
const READABLE: i64 = 80;

/// Name and lines in letters of a size, whole, in as many lines as they need; the name in no more than two.
fn set_in(label: &Label, inner: Area, tenths: i64) -> Option<Vec<(Style, String)>> {
    let (name, rest) = (Style::bold(points((tenths * 5 / 4).min(180))), Style::plain(points(tenths)));
    let names = name.wrapped(&label.name, inner.width, usize::MAX);
    let further = label.lines.iter().filter(|l| !l.is_empty());
    let further = further.flat_map(|l| rest.wrapped(l, inner.width, usize::MAX)).map(|l| (rest, l));
    let is_short = names.len() <= 2;
    let all: Vec<(Style, String)> = names.into_iter().map(|l| (name, l)).chain(further).collect();
    let height: Um = all.iter().map(|(style, _)| style.leading()).sum();
    (is_short && height <= inner.height).then_some(all)
}

/// The largest letters in which all of a label's lines fit.
fn set(label: &Label, inner: Area) -> Option<Vec<(Style, String)>> {
    SIZES.rev().step_by(5).find_map(|tenths| set_in(label, inner, tenths))
}

/// What a label cannot hold whole even in the smallest letters: as many lines as fit, and how many there are more.
fn cut_short(label: &Label, inner: Area) -> Vec<(Style, String)> {
    let tenths = *SIZES.start();
    let (name, rest) = (Style::bold(points(tenths * 5 / 4)), Style::plain(points(tenths)));
    let mut all = vec![(name, name.fitted(&label.name, inner.width))];
    let lines: Vec<&String> = label.lines.iter().filter(|l| !l.is_empty()).collect();
    let room = ((inner.height - name.leading()) / rest.leading()).max(0) as usize;
    let shown = if lines.len() > room { room.saturating_sub(1) } else { lines.len() };
    all.extend(lines.iter().take(shown).map(|l| (rest, rest.fitted(l, inner.width))));
    if shown < lines.len() && room > 0 {
        let more = format!("and {} more, see the list", lines.len() - shown);
        all.push((rest, rest.fitted(&more, inner.width)));
    }
    all
}

/// True where every label holds all of its lines in letters that are easy to read.
pub fn holds_all(sheet: &LabelSheet, labels: &[Label]) -> bool {
    let inner = sheet.place(0).inset(INSIDE);
    labels.iter().all(|label| set_in(label, inner, READABLE).is_some())
}

/// The sheet of a paper's size with the most labels that hold all of their lines; where none does, the one with the
/// largest labels; nothing where there is no sheet of that paper.
pub fn usual_sheet<'a>(
    sheets: impl Iterator<Item = &'a LabelSheet>,
    paper: (Um, Um),
    labels: &[Label],
) -> Option<&'a LabelSheet> {
    let mut all: Vec<&LabelSheet> = sheets.filter(|s| um_size(s.paper) == paper).collect();
    all.sort_by_key(|s| std::cmp::Reverse(s.count()));
    let largest = all.iter().copied().max_by_key(|s| s.label.area());
    all.into_iter().find(|s| holds_all(s, labels)).or(largest)
}

/// Every label's outline with its number and size, and what to do with the page.
fn outlines(page: &mut Page, sheet: &LabelSheet, run: &LabelRun, unit: Unit) {
    let size = sheet.label.about(unit);
    for number in 0..sheet.count() {
        let area = place(sheet, number, run);
        page.frame(Group::Outline, area, Stroke::THIN);
        let count = (number + 1).to_string();
        let advice = match number {
            0 => "print at 100 % on plain paper",
            1 => "hold it behind the label sheet",
            2 => "against the light; nudge if off",
            _ => size.as_str(),
        };
        label_in(page, area.inset(INSIDE), &[&count, advice], SMALL);
    }
    margin_bar(page, sheet);
}

#[cfg(test)]
mod tests {
    use super::super::label_sheet::{built_in, find};
    use super::*;

    fn labels(n: usize) -> Vec<Label> {
        let name = |n: usize| {
            if n.is_multiple_of(3) {
                "A very long name of a color indeed ".repeat(4)
            } else {
                format!("Fern {n}")
            }
        };
        let label = |n: usize| Label {
            name: name(n),
            lines: vec!["sheet 1041 · ink 1042 · refill 1043".into(), "green".into(), "x".repeat(60)],
            ink: n.is_multiple_of(2).then_some(Rgb8::new(10, 120, 60)),
        };
        (0..n).map(label).collect()
    }

    #[test]
    fn words_stay_an_eighth_of_an_inch_inside_their_label() {
        for sheet in built_in() {
            let pages =
                pages(sheet, &labels(sheet.count() as usize), &LabelRun::default(), Unit::Mm).unwrap();
            assert_eq!(pages.len(), 1);
            let inners: Vec<Area> = (0..sheet.count()).map(|n| sheet.place(n).inset(INSIDE)).collect();
            let lowest = inners.iter().map(Area::bottom).max().unwrap();
            let mut count = 0;
            for words in pages[0].texts().filter(|w| w.at.y <= lowest) {
                let bounds = super::super::text::bounds(words);
                assert!(inners.iter().any(|inner| inner.holds(&bounds)), "{}: {words:?}", sheet.name);
                count += 1;
            }
            assert!(count >= sheet.count() as usize, "{}: only {count} lines", sheet.name);
        }
    }

    #[test]
    fn letters_are_as_large_as_the_label_allows_and_a_kit_takes_a_label_that_holds_it() {
        let kit = |lines: usize| Label {
            name: "Hedgerow notes, class".into(),
            lines: (0..lines)
                .map(|n| format!("{n} x bramble note: mat 1, 4 x 5 1/4 in, plum stone, letter"))
                .collect(),
            ink: None,
        };
        let (small, large) = (find("letter 30", &[]).unwrap(), find("letter 10", &[]).unwrap());
        assert!(holds_all(small, &[kit(1)]) && !holds_all(small, &[kit(10)]) && holds_all(large, &[kit(10)]));
        let letter = um_size(large.paper);
        let usual = |lines| usual_sheet(built_in().iter(), letter, &[kit(lines)]).map(|s| s.name.as_str());
        assert_eq!(
            (usual(1), usual(10), usual(60)),
            (Some("letter 30"), Some("letter 10"), Some("letter 10"))
        );
        let size = |label: &Label| set(label, large.place(0).inset(INSIDE)).unwrap()[1].0.size;
        assert!(size(&kit(2)) > size(&kit(10)));
        // More than any label holds: what is left out is counted.
        let lines = cut_short(&kit(60), large.place(0).inset(INSIDE));
        let shown = lines.len() - 2;
        assert_eq!(lines.last().unwrap().1, format!("and {} more, see the list", 60 - shown));
    }

    #[test]
    fn a_run_starts_at_the_label_asked_for_and_goes_on_to_the_next_sheet() {
        let sheet = find("letter 30", &[]).unwrap();
        let run = LabelRun { start: 29, ..LabelRun::default() };
        let pages = pages(sheet, &labels(5), &run, Unit::Inch).unwrap();
        assert_eq!(pages.len(), 2);
        let first_of = |page: &Page| page.texts().next().map(|w| (w.at.x, w.at.y));
        let place = sheet.place(28).inset(INSIDE);
        assert_eq!(first_of(&pages[0]).map(|p| p.0), Some(place.x));
        assert_eq!(first_of(&pages[1]).map(|p| p.0), Some(sheet.place(0).inset(INSIDE).x));
        let full = super::pages(sheet, &labels(200), &LabelRun::default(), Unit::Inch).unwrap();
        assert_eq!(full.len(), 7);
    }

    #[test]
    fn a_nudge_moves_everything_but_the_paper() {
        let sheet = find("a4 24", &[]).unwrap();
        let at = |right, down| {
            let run = LabelRun { right, down, outlines: true, ..LabelRun::default() };
            pages(sheet, &[], &run, Unit::Mm).unwrap()[0].of(Group::Outline).next().map(Mark::bounds)
        };
        let (plain, moved) = (at(0, 0).unwrap(), at(3, -1).unwrap());
        assert_eq!((moved.x - plain.x, moved.y - plain.y), (1500, -500));
    }

    #[test]
    fn what_cannot_be_laid_is_refused() {
        let sheet = find("letter 10", &[]).unwrap();
        let why = |run| pages(sheet, &labels(1), &run, Unit::Mm).unwrap_err().to_string();
        assert_eq!(
            why(LabelRun { start: 11, ..LabelRun::default() }),
            "label 11 is not on the sheet: it has 10, so start at 1 to 10"
        );
        assert!(why(LabelRun { start: 0, ..LabelRun::default() }).contains("start at 1 to 10"));
        assert!(why(LabelRun { right: 21, ..LabelRun::default() }).contains("10 mm"));
    }

    #[test]
    fn what_is_typed_for_a_run_is_read_or_refused_in_a_sentence() {
        assert_eq!(read_nudge(" 0.5, -1 "), Ok((1, -2)));
        assert_eq!(read_nudge(&show_nudge(3, -20)), Ok((3, -20)));
        for bad in ["", "1", "0.3,0", "x,1", "1,2,3", "1,inf", "1,NaN"] {
            assert!(matches!(read_nudge(bad), Err(RunError::NudgeText(_))), "{bad}");
        }
        assert_eq!(read_nudge("10.5,0"), Err(RunError::Nudge));
        let sheet = find("a4 21", &[]).unwrap();
        assert_eq!(read_start(" 21", sheet), Ok(21));
        for (bad, says) in
            [("22", "label 22 is not on the sheet"), ("0", "label 0 "), ("two", "\"two\" is not a label")]
        {
            let why = read_start(bad, sheet).unwrap_err().to_string();
            assert!(why.starts_with(says) && why.ends_with("start at 1 to 21"), "{why}");
        }
    }

    #[test]
    fn no_labels_are_one_page_that_says_so() {
        let sheet = find("letter 10", &[]).unwrap();
        let pages = pages(sheet, &[], &LabelRun::default(), Unit::Mm).unwrap();
        assert!(pages.len() == 1 && pages[0].title.contains("none to print"));
    }
}
