//! Label sheets: where each label lies on the paper. Built-in ones are in `assets/labels.ron`, each row with its source;
//! a person's own come in as the same RON text, read elsewhere.

use super::page::{Area, Um, um, um_size};
use crate::domain::length::{Length, Unit};
use crate::domain::near::question;
use crate::domain::plural::count_of;
use crate::domain::size::Size;
use serde::Deserialize;
use std::sync::LazyLock;

/// A sheet of equal labels.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LabelSheet {
    /// What it is called.
    pub name: String,
    /// The paper.
    pub paper: Size,
    /// Labels side by side.
    pub across: u32,
    /// Labels one below the other.
    pub down: u32,
    /// One label.
    pub label: Size,
    /// From the paper's left side to the first label.
    pub left: Length,
    /// From the paper's top to the first label.
    pub top: Length,
    /// From one label's left side to the next one's.
    pub pitch_x: Length,
    /// From one label's top to the next one's.
    pub pitch_y: Length,
    /// Where the figures come from.
    pub source: String,
}

/// As it stands in a file; what is left out follows from the rest.
#[derive(Deserialize)]
struct Row {
    name: String,
    paper: String,
    across: u32,
    down: u32,
    label: String,
    left: String,
    top: String,
    #[serde(default)]
    pitch_x: String,
    #[serde(default)]
    pitch_y: String,
    #[serde(default)]
    source: String,
}

static BUILT_IN: LazyLock<Vec<LabelSheet>> =
    LazyLock::new(|| read_all(include_str!("../../../assets/labels.ron")).0);

/// The label sheets that come with the program.
pub fn built_in() -> &'static [LabelSheet] {
    &BUILT_IN
}

/// Most labels of one sheet.
const MOST: u32 = 1000;

/// Why a label sheet cannot be used. The text is the whole sentence for the person.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LabelSheetError {
    /// Not a list of label sheets.
    #[error("line {line} column {column}: no list of label sheets ({why})")]
    NotSheets {
        /// The line, from 1.
        line: usize,
        /// The column, from 1.
        column: usize,
        /// What the reader says.
        why: String,
    },
    /// One figure of one sheet.
    #[error("line {line}, label sheet \"{name}\": {why}")]
    Row {
        /// The line of its name, from 1.
        line: usize,
        /// Which sheet.
        name: String,
        /// What is wrong and what would do.
        why: String,
    },
    /// No sheet of that name.
    #[error("no label sheet is called \"{given}\": {near}the known ones are {known}")]
    Unknown {
        /// What was asked for.
        given: String,
        /// Near names as a question with a blank after it; empty where none is near.
        near: String,
        /// The names that would do.
        known: String,
    },
}

/// Reads a list of label sheets: `(name: "..", paper: "210 x 297 mm", across: 3, down: 7, label: "63.5 x 38.1 mm", left:
/// "7.25 mm", top: "15.15 mm", pitch_x: "66 mm", pitch_y: "38.1 mm", source: "..")`. Without a pitch the labels touch.
///
/// Sheets that can be used are given even where others cannot; every problem is told, with its line.
pub fn read_all(text: &str) -> (Vec<LabelSheet>, Vec<LabelSheetError>) {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim().is_empty() {
        return (Vec::new(), Vec::new());
    }
    let rows: Vec<Row> = match ron::from_str(text) {
        Ok(rows) => rows,
        Err(e) => {
            let (line, column) = (e.span.start.line, e.span.start.col);
            return (Vec::new(), vec![LabelSheetError::NotSheets { line, column, why: e.code.to_string() }]);
        }
    };
    let (mut sheets, mut problems) = (Vec::<LabelSheet>::new(), Vec::new());
    for row in rows {
        let name = row.name.clone();
        let same = |s: &LabelSheet| is_named(s, &name);
        let read = if sheets.iter().any(same) {
            Err("there are two of that name, and only the first is used".to_owned())
        } else {
            sheet(row)
        };
        match read {
            Ok(sheet) => sheets.push(sheet),
            Err(why) => problems.push(LabelSheetError::Row { line: line_of(text, &name, &why), name, why }),
        }
    }
    (sheets, problems)
}

/// The line on which a name stands, or its second place where the problem is that there are two.
fn line_of(text: &str, name: &str, why: &str) -> usize {
    let quoted = format!("{name:?}");
    let lines = text.lines().enumerate().filter(|(_, l)| l.contains(&quoted)).map(|(n, _)| n + 1);
    let wanted = usize::from(why.starts_with("there are two"));
    let all: Vec<usize> = lines.collect();
    all.get(wanted).or_else(|| all.first()).copied().unwrap_or(1)
}

/// A name as it is compared: without spaces, in small letters.
fn key(name: &str) -> String {
    name.split_whitespace().collect::<String>().to_lowercase()
}

fn sheet(row: Row) -> Result<LabelSheet, String> {
    if row.name.trim().is_empty() {
        return Err("it has no name: give it one to print by".to_owned());
    }
    let size = |text: &str| Size::parse(text, Unit::Mm).map_err(|e| e.to_string());
    let length = |text: &str| match text.trim().trim_end_matches("mm").trim_end_matches("in").trim() {
        "0" => Ok(Length::ZERO),
        _ => Length::parse(text, Unit::Mm).map_err(|e| e.to_string()),
    };
    let label = size(&row.label)?;
    let pitch = |text: &str, else_: Length| if text.is_empty() { Ok(else_) } else { length(text) };
    let sheet = LabelSheet {
        name: row.name.clone(),
        paper: size(&row.paper)?,
        across: row.across,
        down: row.down,
        label,
        left: length(&row.left)?,
        top: length(&row.top)?,
        pitch_x: pitch(&row.pitch_x, label.width)?,
        pitch_y: pitch(&row.pitch_y, label.height)?,
        source: row.source,
    };
    sheet.check()?;
    Ok(sheet)
}

impl LabelSheet {
    /// Labels on a sheet.
    pub const fn count(&self) -> u32 {
        self.across * self.down
    }

    /// `letter 30: 30 labels of 2 5/8 x 1 in`.
    pub fn show(&self, unit: Unit) -> String {
        format!("{}: {} of {}", self.name, count_of(u64::from(self.count()), "label"), self.label.about(unit))
    }

    fn check(&self) -> Result<(), String> {
        if self.name.trim().is_empty() {
            return Err("it has no name: give it one".to_owned());
        }
        if self.across == 0 || self.down == 0 || self.across > MOST || self.down > MOST || self.count() > MOST
        {
            return Err(format!(
                "{} across and {} down: 1 to {MOST} labels a sheet work",
                self.across, self.down
            ));
        }
        let (across, down) = (i64::from(self.across) - 1, i64::from(self.down) - 1);
        let sides = [
            ("across", self.left, self.pitch_x, across, self.label.width, self.paper.width),
            ("down", self.top, self.pitch_y, down, self.label.height, self.paper.height),
        ];
        for (way, first, pitch, steps, label, paper) in sides {
            if steps > 0 && pitch < label {
                return Err(format!(
                    "the labels overlap {way}: a pitch of {} is less than a label of {}",
                    pitch.show_with_unit(Unit::Mm),
                    label.show_with_unit(Unit::Mm)
                ));
            }
            let end = first + pitch * steps + label;
            if end > paper {
                return Err(format!(
                    "the labels end at {} {way}, past the paper's {}: check margin, pitch and count",
                    end.show_with_unit(Unit::Mm),
                    paper.show_with_unit(Unit::Mm)
                ));
            }
        }
        Ok(())
    }

    /// Where the label with this number lies: 0 is the first, then across, then down. Further ones begin again.
    pub fn place(&self, number: u32) -> Area {
        let number = number % self.count().max(1);
        let (column, row) = (number % self.across, number / self.across);
        let (width, height) = um_size(self.label);
        let x = self.left + self.pitch_x * i64::from(column);
        let y = self.top + self.pitch_y * i64::from(row);
        Area::new(um(x), um(y), width, height)
    }

    /// From the lowest label to the bottom of the paper.
    pub fn bottom_margin(&self) -> Um {
        um(self.paper.height) - self.place(self.count() - 1).bottom()
    }
}

/// True where a sheet has that name, whatever its case and spacing.
pub fn is_named(sheet: &LabelSheet, name: &str) -> bool {
    key(&sheet.name) == key(name)
}

/// The sheet of a name, whatever its case and spacing, among built-in and own ones; own ones win.
///
/// # Errors
/// A sentence with the names that are known.
pub fn find<'a>(name: &str, own: &'a [LabelSheet]) -> Result<&'a LabelSheet, LabelSheetError> {
    let all = || own.iter().chain(built_in());
    all().find(|s| is_named(s, name)).ok_or_else(|| LabelSheetError::Unknown {
        given: name.trim().chars().take(60).collect(),
        near: question(name, all().map(|s| s.name.as_str())),
        known: all().map(|s| s.name.as_str()).collect::<Vec<_>>().join(", "),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_built_in_sheet_is_read_and_has_a_source() {
        assert_eq!(built_in().len(), 8);
        assert!(built_in().iter().all(|s| !s.source.is_empty()));
    }

    #[test]
    fn label_14_lies_where_the_worked_task_says() {
        // Worked by hand: letter 30, row 5, column 2: left 2.9375 in, top 4.5 in; A4 21: left 73.25 mm, top 167.55 mm.
        let letter = find("Letter  30", &[]).unwrap().place(13);
        assert_eq!((letter.x, letter.y), (74_613, 114_300)); // 2.9375 in = 74.6125 mm
        let a4 = find("a4 21", &[]).unwrap().place(13);
        assert_eq!((a4.x, a4.y), (73_250, 167_550));
        assert_eq!(find("a4 21", &[]).unwrap().place(21 + 13), a4);
    }

    #[test]
    fn margins_that_are_said_to_close_do() {
        for sheet in built_in().iter().filter(|s| s.source.contains("margins close")) {
            let right = um(sheet.paper.width) - sheet.place(sheet.across - 1).right();
            assert!((right - um(sheet.left)).abs() <= 2, "{}: {right}", sheet.name);
            assert!((sheet.bottom_margin() - um(sheet.top)).abs() <= 2, "{}", sheet.name);
        }
    }

    fn refusal(label: &str, rest: &str) -> String {
        let text = format!(
            "[(name: \"mine\", paper: \"210x297\", across: 3, down: 7, label: \"{label}\", left: \"7\", top: \"15\", {rest})]"
        );
        read_all(&text).1[0].to_string()
    }

    #[test]
    fn own_sheets_are_checked_in_plain_words() {
        assert_eq!(
            refusal("63x38", "pitch_x: \"60\""),
            "line 1, label sheet \"mine\": the labels overlap across: a pitch of 60 mm is less than a label of 63 mm"
        );
        assert!(refusal("80x38", "").contains("end at 247 mm across, past the paper's 210 mm"));
        assert!(refusal("zero", "").contains("\"zero\" is not a size"));
        assert!(
            read_all("nonsense").1[0].to_string().starts_with("line 1 column 1: no list of label sheets")
        );
        let text = "[(name: \"mine\", paper: \"210x297\", across: 0, down: 7, label: \"1x1\", left: \"7\", top: \"15\")]";
        assert!(read_all(text).1[0].to_string().contains("1 to 1000 labels"));
    }

    #[test]
    fn every_problem_is_told_with_its_line_and_the_rest_is_used() {
        let good = r#"paper: "letter", across: 2, down: 2, label: "3x3 in", left: "0.5 in", top: "1 in""#;
        let good = good.replace("\"letter\"", "\"8.5x11 in\"");
        let text = format!(
            "// mine\n[\n (name: \"one\", {good}),\n (name: \"two\", {}),\n (name: \"One\", {good}),\n (name: \" \", {good}),\n (name: \"far\", {}),\n]",
            good.replace("3x3", "9x3"),
            good.replace("left: \"0.5 in\"", "left: \"-3 in\""),
        );
        let (sheets, problems) = read_all(&text);
        assert_eq!(sheets.iter().map(|s| s.name.as_str()).collect::<Vec<_>>(), ["one"], "{problems:?}");
        let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
        assert_eq!(said.len(), 4, "{said:?}");
        for (said, start) in said.iter().zip(["line 4, ", "line 5, ", "line 6, ", "line 7, "]) {
            assert!(said.starts_with(start), "{said}");
        }
        assert!(said[0].contains("past the paper's") && said[1].contains("two of that name"), "{said:?}");
        assert_eq!(read_all(" \u{feff}").0, []);
        let torn = read_all("[\n (name: \"x\",\n  across: \"many\")]").1[0].to_string();
        assert!(torn.starts_with("line 3 column"), "{torn}");
    }

    #[test]
    fn an_own_sheet_of_a_known_name_wins() {
        let text = "[(name: \"A4 21\", paper: \"210x297\", across: 1, down: 1, label: \"50x50\", left: \"0\", top: \"0\")]";
        let own = read_all(text).0;
        assert_eq!(find("a4 21", &own).unwrap().count(), 1);
        let why = find("tiny", &own).unwrap_err().to_string();
        assert!(why.contains("letter 30") && why.contains("\"tiny\""), "{why}");
    }
}
