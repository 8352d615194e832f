//! What the trimmer can do, as a form or as one line: longest cut, largest setting, finest mark, smallest shave, smallest
//! strip; how paper is set on it, how its blade runs, how far off it cuts. And how many sheets a stroke takes: one, until the person says otherwise.

use crate::app::ctx::Ctx;
use crate::app::effect::Effect;
use crate::app::overlay::Purpose;
use crate::app::panes::asked;
use crate::app::panes::form::{FieldReader, FieldTakes, FormRow, FormTable, Offer, OneLine, Sight};
use crate::app::reading::read_length;
use crate::app::reply::Replies;
use crate::app::reply::Reply;
use crate::app::state::forms::FormFor;
use crate::app::state::yields::YieldPane;
use crate::app::state::yields::YieldText;
use crate::app::status::Status;
use crate::domain::cutting::question::Trimmer;
use crate::domain::cutting::trimmer_profile::{Blade, SetBy, TestStrip, TrimmerProfile};
use crate::domain::cutting::words::STACK_CAUTION;
use crate::domain::edit::Edit;
use crate::domain::length::{Length, Unit};
use crate::domain::settings::BookSettings;

/// How many measures there are.
const MEASURES: usize = 5;
/// The word for a cut or a setting without a limit.
const NONE: &str = "none";
/// Most sheets that one stroke can be said to take: far beyond any craft trimmer.
pub const MOST_A_STROKE: u32 = 50;

/// The form: five measures, then how paper is set, how the blade runs and how a test strip came out.
pub static TABLE: FormTable = FormTable {
    title: |_| "Your trimmer".to_owned(),
    rows: &ROWS,
    start: |_| 0,
    one_line,
    take,
    again: |_| None,
};

/// The rows behind the measures.
const SET_BY: usize = 5;
const BLADE: usize = 6;
const TEST_SET: usize = 7;
const TEST_MEASURED: usize = 8;
const CORRECTS: usize = 9;

static ROWS: [FormRow; 10] = [
    measure(0, "longest cut", "how far the blade runs; none for no limit"),
    measure(1, "largest setting", "the largest distance that it can be set to; none for no limit"),
    measure(2, "finest mark", "the finest mark of its rule, such as 1/16"),
    measure(3, "smallest shave", "the thinnest strip that it still cuts clean off"),
    measure(4, "smallest strip", "pieces this narrow, or narrower, are hard to hold: they are cut last"),
    FormRow::new("paper set", "what you lay the paper against for a length", |_, t| {
        set_by(t).map(|by| by.told().to_owned())
    })
    .fits(|s| trimmer(s).profile.set_by.name().to_owned())
    .offers(FieldTakes::Choice, |_| SetBy::ALL.map(|by| Offer::new(by.name(), by.told())).to_vec()),
    FormRow::new("blade", "how the blade runs", |_, t| blade(t).map(|b| b.told().to_owned()))
        .fits(|s| trimmer(s).profile.blade.name().to_owned())
        .offers(FieldTakes::Choice, |_| Blade::ALL.map(|b| Offer::new(b.name(), b.told())).to_vec()),
    FormRow::new(
        "test strip set to",
        "cut one strip to see how true it cuts, say 4; or leave it empty",
        |s, t| {
            if t.trim().is_empty() {
                return Ok("none cut".to_owned());
            }
            read_length(t, s.ctx.unit).and_then(above_zero).map(|l| l.show_both(s.ctx.unit))
        },
    )
    .fits(|s| test(s, |test| test.set)),
    FormRow::new("it measured", "what that strip measures, such as 4 1/32", |s, t| {
        let test = test_strip(s.text(TEST_SET), t, s.ctx.unit)?;
        Ok(test.map_or_else(|| "none cut".to_owned(), |test| comes_out(test, s.ctx.unit)))
    })
    .fits(|s| test(s, |test| test.measured))
    .where_(|s| !s.text(TEST_SET).is_empty()),
    FormRow::new("take it off", "yes takes the error off every setting that is shown", |_, t| {
        yes(t).map(|y| {
            if y { "settings are shown without it" } else { "it is said with each setting" }.to_owned()
        })
    })
    .fits(|s| if trimmer(s).profile.corrects { YES } else { NO }.to_owned())
    .offers(FieldTakes::Choice, |_| {
        vec![Offer::new(NO, "say the error with each setting"), Offer::new(YES, "take it off each setting")]
    })
    .where_(|s| !s.text(TEST_SET).is_empty()),
];

const YES: &str = "yes";
const NO: &str = "no";

fn set_by(text: &str) -> Result<SetBy, String> {
    SetBy::from_name(text.trim()).ok_or_else(|| {
        let names = SetBy::ALL.map(SetBy::name).join(", ");
        format!("\"{}\": how paper is set is one of {names}", text.trim())
    })
}

fn blade(text: &str) -> Result<Blade, String> {
    let found = Blade::ALL.into_iter().find(|b| b.name() == text.trim());
    found.ok_or_else(|| {
        format!("\"{}\": the blade is on an arm, or it slides; write arm or slides", text.trim())
    })
}

fn yes(text: &str) -> Result<bool, String> {
    match text.trim() {
        YES => Ok(true),
        NO | "" => Ok(false),
        other => Err(format!("\"{other}\": write yes or no")),
    }
}

/// A length of the test strip as it is now.
fn test(s: &Sight, of: fn(TestStrip) -> Length) -> String {
    trimmer(s).profile.test.map_or_else(String::new, |test| of(test).exact(s.ctx.unit))
}

/// The test strip of two texts; none where the first is empty.
fn test_strip(set: &str, measured: &str, unit: Unit) -> Result<Option<TestStrip>, String> {
    if set.trim().is_empty() {
        return Ok(None);
    }
    if measured.trim().is_empty() {
        return Err("what does the test strip measure? Write it, or empty what it was set to".to_owned());
    }
    TestStrip::new(read_length(set, unit)?, read_length(measured, unit)?, unit).map(Some)
}

/// How a test strip came out, in words.
fn comes_out(test: TestStrip, unit: Unit) -> String {
    let error = test.error();
    match (error == Length::ZERO, error.is_positive()) {
        (true, _) => "true to the mark".to_owned(),
        (_, true) => format!("{} over", error.show_both(unit)),
        (_, false) => format!("{} under", error.abs().show_both(unit)),
    }
}

/// What the rows behind the measures say.
fn profile(text: &[&str], unit: Unit) -> Result<TrimmerProfile, String> {
    let test = test_strip(text[TEST_SET], text[TEST_MEASURED], unit)?;
    Ok(TrimmerProfile {
        set_by: set_by(text[SET_BY])?,
        blade: blade(text[BLADE])?,
        test,
        corrects: test.is_some() && yes(text[CORRECTS])?,
    })
}

/// One of the five measures.
const fn measure(n: usize, word: &'static str, hint: &'static str) -> FormRow {
    const READS: [FieldReader; 5] = [
        |s, t| one(s, 0, t),
        |s, t| one(s, 1, t),
        |s, t| one(s, 2, t),
        |s, t| one(s, 3, t),
        |s, t| one(s, 4, t),
    ];
    const FITS: [fn(&Sight) -> String; 5] =
        [|s| now(s, 0), |s| now(s, 1), |s| now(s, 2), |s| now(s, 3), |s| now(s, 4)];
    let row = FormRow::new(word, hint, READS[n]).fits(FITS[n]);
    if n < 2 { row.offers(FieldTakes::Text, |_| vec![Offer::new(NONE, "no limit")]) } else { row }
}

fn trimmer(s: &Sight) -> Trimmer {
    if let FormFor::Trimmer(t) = s.what { **t } else { Trimmer::default() }
}

/// A measure as it is now.
fn now(s: &Sight, n: usize) -> String {
    show(&trimmer(s), s.ctx.unit).split(", ").nth(n).unwrap_or_default().to_owned()
}

/// How one measure is read, the others as at the first start.
fn one(s: &Sight, n: usize, text: &str) -> Result<String, String> {
    if text.contains(',') {
        return Err(format!("\"{text}\": write one length here"));
    }
    let unit = s.ctx.unit;
    let read = read(&format!("{}{text}", ", ".repeat(n)), &Trimmer::default(), unit)?;
    let limit = |l: Option<Length>| l.map_or_else(|| "no limit".to_owned(), |l| l.show_both(unit));
    Ok(match n {
        0 => limit(read.longest_cut),
        1 => limit(read.largest_setting),
        2 => read.finest_mark.show_both(unit),
        3 => read.smallest_shave.show_both(unit),
        _ => read.smallest_strip.show_both(unit),
    })
}

/// `12, 6, 1/16, 1/8, 1`: the measures with commas between. What is left out is as at the first start; what is behind
/// the measures stays as it is.
fn one_line(s: &Sight, at: usize, text: &str) -> OneLine {
    (at == 0 && text.contains(',')).then(|| {
        let whole = read(text, &trimmer(s), s.ctx.unit)?;
        let measures = show(&whole, s.ctx.unit);
        let behind = (MEASURES..ROWS.len()).map(|n| s.text(n).to_owned());
        Ok(measures.split(", ").map(str::to_owned).chain(behind).collect())
    })
}

/// Takes the form. The longest cut is kept in the book, where the panes and the command line find it.
fn take(s: &Sight) -> Replies {
    let text: Vec<&str> = (0..ROWS.len()).map(|n| s.text(n)).collect();
    let measured = read(&text[..MEASURES].join(", "), &trimmer(s), s.ctx.unit)?;
    let trimmer = Trimmer { profile: profile(&text, s.ctx.unit)?, ..measured };
    let edit = keep_longest_cut(s.ctx, trimmer.longest_cut).map(Reply::Edit);
    Ok(edit.into_iter().chain([Reply::Trimmer(trimmer), Reply::Do(Effect::Remember)]).collect())
}

/// Asks how many sheets a stroke takes.
pub fn ask_strokes(trimmer: &Trimmer) -> Reply {
    let label = "Sheets a stroke (1 unless your trimmer's maker says more):";
    Reply::prompt(Purpose::Yield(YieldText::PerStroke), label, trimmer.sheets_per_stroke.to_string())
}

/// The five measures as they are typed.
pub fn show(trimmer: &Trimmer, unit: Unit) -> String {
    let limit = |l: Option<Length>| l.map_or_else(|| NONE.to_owned(), |l| l.exact(unit));
    let all = [trimmer.finest_mark, trimmer.smallest_shave, trimmer.smallest_strip].map(|l| l.exact(unit));
    format!("{}, {}, {}", limit(trimmer.longest_cut), limit(trimmer.largest_setting), all.join(", "))
}

/// Reads the five measures. What is left out at the end, or left empty, is as at the first start: no limit, usual marks.
///
/// # Errors
/// The sentence that refuses it.
pub fn read(text: &str, was: &Trimmer, unit: Unit) -> Result<Trimmer, String> {
    let cells: Vec<&str> = text.split(',').map(str::trim).collect();
    if cells.len() > 5 {
        return Err(format!("\"{text}\": write up to five lengths with commas between them"));
    }
    let cell = |n: usize| cells.get(n).copied().filter(|c| !c.is_empty());
    let limit = |n: usize| match cell(n) {
        None => Ok(None),
        Some(word) if word.eq_ignore_ascii_case(NONE) => Ok(None),
        Some(length) => read_length(length, unit).and_then(|l| above_zero(l).map(Some)),
    };
    let usual = Trimmer::default();
    let length = |n: usize, usual: Length| match cell(n) {
        None => Ok(usual),
        Some(text) => read_length(text, unit).and_then(above_zero),
    };
    let trimmer = Trimmer {
        longest_cut: limit(0)?,
        largest_setting: limit(1)?,
        finest_mark: length(2, usual.finest_mark)?,
        smallest_shave: length(3, usual.smallest_shave)?,
        smallest_strip: length(4, usual.smallest_strip)?,
        ..*was
    };
    if trimmer.finest_mark > Length::inches(1) {
        return Err(format!(
            "the finest mark is {}: marks are an inch apart at most, such as 1/16",
            trimmer.finest_mark.show_with_unit(unit)
        ));
    }
    Ok(trimmer)
}

fn above_zero(length: Length) -> Result<Length, String> {
    if length.is_positive() {
        Ok(length)
    } else {
        Err("a trimmer's measure is more than 0: leave it empty if you do not know it".to_owned())
    }
}

/// The measures and the rest in words.
pub fn words(trimmer: &Trimmer, unit: Unit) -> String {
    let show = |l: Length| l.show_with_unit(unit);
    let noun = trimmer.profile.set_by.noun();
    let limits = match (trimmer.longest_cut, trimmer.largest_setting) {
        (None, None) => format!("cuts any length, {noun} goes to any"),
        (cut, set) => {
            let of = |l: Option<Length>| l.map_or("any length".to_owned(), |l| format!("up to {}", show(l)));
            format!("cuts {}, {noun} goes to {}", of(cut), of(set))
        }
    };
    format!(
        "{limits}, marks every {}, thinnest shave {}, narrowest strip {}; {}",
        show(trimmer.finest_mark),
        show(trimmer.smallest_shave),
        show(trimmer.smallest_strip),
        trimmer.profile.words(unit)
    )
}

/// The edit that keeps the longest cut; nothing where it is as it was.
pub fn keep_longest_cut(ctx: &Ctx, cut: Option<Length>) -> Option<Edit> {
    let was = ctx.book.settings().clone();
    if was.longest_cut == cut {
        return None;
    }
    let words = cut.map_or("no limit".to_owned(), |l| l.show_with_unit(ctx.unit));
    let now = BookSettings { longest_cut: cut, ..was.clone() };
    let edit = Edit::Settings { was: Box::new(was), now: Box::new(now) };
    Some(Edit::batch(format!("set the longest cut to {words}"), vec![edit]))
}

/// Takes how many sheets a stroke takes, for the plan in view as well.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept_strokes(pane: &mut YieldPane, text: &str) -> Replies {
    let n = strokes(text)?;
    pane.set_strokes(n);
    let told = Reply::Tell(Status::note(stroke_words(n)));
    Ok([told].into_iter().chain(asked::answer(pane)).collect())
}

/// Reads how many sheets a stroke takes.
///
/// # Errors
/// The sentence that refuses it.
pub fn strokes(text: &str) -> Result<u32, String> {
    let text = text.trim();
    let number = text.parse::<u32>().ok().filter(|n| (1..=MOST_A_STROKE).contains(n));
    number.ok_or_else(|| {
        format!(
            "\"{text}\": write how many sheets one stroke takes, a whole number from 1 to {MOST_A_STROKE}"
        )
    })
}

/// How many sheets a stroke takes, in words, with the caution that belongs to more than one.
pub fn stroke_words(n: u32) -> String {
    if n == 1 { "One sheet a stroke.".to_owned() } else { format!("{n} sheets a stroke. {STACK_CAUTION}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_shown_is_read_again() {
        let usual = Trimmer::default();
        for text in ["none, none, 1/16, 1/8, 1", "12, 6, 1/32, 1/4, 3/4"] {
            let trimmer = read(text, &usual, Unit::Inch).unwrap();
            assert_eq!(show(&trimmer, Unit::Inch), text);
        }
        let mm = read("300, , 1, 3, 25", &usual, Unit::Mm).unwrap();
        assert_eq!((mm.longest_cut, mm.finest_mark), (Some(Length::mm(300)), Length::mm(1)));
        assert_eq!(read(&show(&mm, Unit::Mm), &usual, Unit::Mm), Ok(mm));
        assert_eq!(read("", &mm, Unit::Mm), Ok(usual));
    }

    #[test]
    fn refusals_say_what_would_do() {
        for (text, words) in
            [("1,2,3,4,5,6", "up to five"), ("12, 6, 2", "1/16"), ("wide", "wide"), ("12, 6, 0", "nothing")]
        {
            let why = read(text, &Trimmer::default(), Unit::Inch).unwrap_err();
            assert!(why.contains(words) || why.contains("zero"), "{text}: {why}");
        }
        for text in ["0", "51", "two", ""] {
            assert!(strokes(text).unwrap_err().contains("from 1 to 50"), "{text}");
        }
    }
}
