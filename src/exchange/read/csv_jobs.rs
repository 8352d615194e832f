//! Pieces and sheets of a job from two CSV files. Knows the columns, not where the files lay.
//!
//! | pieces | meaning |
//! |---|---|
//! | `name`, `width`, `height`, `count` | must be there; lengths may carry their own unit |
//! | `turn` | `yes` or `no`; empty is yes |
//! | `sheet` | only from the sheet of this name; empty is any |
//! | `paper` | only from sheets of this paper; empty is any |
//! | `grain` | `long` or `short`: the side that the grain has to follow; empty is either |
//! | `allowance` | paper needed around it on every side (die-cut, embossed, torn, printed to the edge); empty is the usual of how it is made |
//! | `made by` | `straight cut`, `die-cut`, `torn`, `embossed`, `printed to the edge`; empty is straight cut |
//!
//! | sheets | meaning |
//! |---|---|
//! | `name`, `width`, `height` | must be there |
//! | `available` | how many there are; empty is no limit |
//! | `cost` | of one sheet; empty is 1 |
//! | `paper`, `grain` | may be empty |
//!
//! Capitals in the head do not matter. A column of another name is refused, since a slip of the pen there would change
//! the plan without a word.

use super::table_text;
use crate::domain::cards::made_by::MadeBy;
use crate::domain::cutting::job::{Cost, Job, JobPiece, JobSheet, MOST_PIECES, MOST_ROWS, MOST_SHEET_ROWS};
use crate::domain::cutting::question::{Preference, Trimmer};
use crate::domain::length::{Length, Unit};
use crate::domain::size::{Grain, Size};
use std::collections::BTreeMap;

/// Which of the two files a refusal is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JobFile {
    /// The pieces.
    Pieces,
    /// The sheets.
    Sheets,
}

impl std::fmt::Display for JobFile {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Self::Pieces => "pieces",
            Self::Sheets => "sheets",
        })
    }
}

/// Why the files are no job.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum JobFileError {
    /// Not readable as CSV.
    #[error("--{0}: the file is not readable as CSV: {1}")]
    Csv(JobFile, String),
    /// A column is missing.
    #[error("--{0}: the file has no column {1} in its first line; it needs {2}")]
    NoColumn(JobFile, &'static str, &'static str),
    /// A column nobody knows.
    #[error("--{0}: the file has a column \"{1}\" that is not known here; its columns are {2}")]
    StrangeColumn(JobFile, String, &'static str),
    /// A column that is there twice.
    #[error("--{0}: the file has the column {1} twice; one of them must go")]
    ColumnTwice(JobFile, String),
    /// No rows.
    #[error("--{0}: the file holds no {0}; add a line for each under the first")]
    Empty(JobFile),
    /// A row cannot be used.
    #[error("--{file}, line {line}: {why}")]
    Line {
        /// Which file.
        file: JobFile,
        /// Which line, the head being line 1.
        line: u64,
        /// What is wrong and what would do.
        why: String,
    },
    /// More than can be planned.
    #[error("--{0}: the file asks for {1}; at most {2} can be planned at once, split the job")]
    TooMany(JobFile, String, u64),
}

const PIECE_COLUMNS: [&str; 10] =
    ["name", "width", "height", "count", "turn", "sheet", "paper", "grain", "allowance", "made by"];
/// The most paper that a piece may need around it on every side.
const MOST_ALLOWANCE: Length = Length::inches(4);
const SHEET_COLUMNS: [&str; 7] = ["name", "width", "height", "available", "cost", "paper", "grain"];
const PIECE_HEAD: &str = "name,width,height,count,turn,sheet and perhaps paper,grain,allowance,made by";
const SHEET_HEAD: &str = "name,width,height,available,cost and perhaps paper,grain";

/// Reads a job; bare numbers are in `unit`.
///
/// # Errors
/// One sentence about the first thing that cannot be used, with its line.
pub fn job(pieces: &[u8], sheets: &[u8], unit: Unit, trimmer: Trimmer) -> Result<Job, JobFileError> {
    let sheets = read_sheets(sheets, unit)?;
    let pieces = read_pieces(pieces, unit, &sheets)?;
    Ok(Job { pieces, sheets, trimmer, preference: Preference::default(), keep: Job::KEEP })
}

/// A file's rows, cells under their columns' names.
struct Table {
    file: JobFile,
    columns: Vec<(String, usize)>,
    rows: Vec<(u64, csv::StringRecord)>,
}

/// One row.
struct Row<'a> {
    table: &'a Table,
    line: u64,
    record: &'a csv::StringRecord,
}

impl Table {
    fn read(
        file: JobFile,
        bytes: &[u8],
        known: &[&str],
        must: &[&'static str],
        head: &'static str,
    ) -> Result<Self, JobFileError> {
        let bytes =
            table_text::checked(bytes).map_err(|(line, why)| JobFileError::Line { file, line, why })?;
        let bad = |e: &csv::Error| JobFileError::Csv(file, e.to_string());
        let mut reader = csv::ReaderBuilder::new().trim(csv::Trim::All).flexible(true).from_reader(bytes);
        let mut columns: Vec<(String, usize)> = Vec::new();
        for (at, name) in reader.headers().map_err(|e| bad(&e))?.iter().enumerate() {
            let name = name.to_lowercase();
            if name.is_empty() {
                continue;
            }
            if !known.contains(&name.as_str()) {
                return Err(JobFileError::StrangeColumn(file, name.chars().take(40).collect(), head));
            }
            if columns.iter().any(|c| c.0 == name) {
                return Err(JobFileError::ColumnTwice(file, name));
            }
            columns.push((name, at));
        }
        for &column in must {
            if !columns.iter().any(|c| c.0 == column) {
                return Err(JobFileError::NoColumn(file, column, head));
            }
        }
        let most = if file == JobFile::Sheets { MOST_SHEET_ROWS } else { MOST_ROWS };
        let mut rows = Vec::new();
        let mut lines = Lines { bytes, at: 0, line: 1 };
        for record in reader.records() {
            let record = record.map_err(|e| bad(&e))?;
            if record.iter().all(str::is_empty) {
                continue;
            }
            rows.push((record.position().map_or(0, |p| lines.of(p.byte() as usize)), record));
            if rows.len() > most {
                let rows = format!("more than {most} rows");
                return Err(JobFileError::TooMany(file, rows, most as u64));
            }
        }
        if rows.is_empty() {
            return Err(JobFileError::Empty(file));
        }
        Ok(Self { file, columns, rows })
    }

    fn rows(&self) -> impl Iterator<Item = Row<'_>> {
        self.rows.iter().map(|(line, record)| Row { table: self, line: *line, record })
    }
}

impl Row<'_> {
    fn cell(&self, name: &str) -> &str {
        let at = self.table.columns.iter().find(|c| c.0 == name).map(|c| c.1);
        at.and_then(|at| self.record.get(at)).unwrap_or("")
    }

    fn refuse(&self, why: impl Into<String>) -> JobFileError {
        JobFileError::Line { file: self.table.file, line: self.line, why: why.into() }
    }

    fn name(&self) -> Result<String, JobFileError> {
        let name = self.cell("name");
        if name.is_empty() {
            return Err(self.refuse("it has no name; give it one, the plan calls it by that"));
        }
        Ok(name.to_owned())
    }

    /// Notes the name's line; a name met before is refused.
    fn first_of(&self, name: &str, lines: &mut BTreeMap<String, u64>) -> Result<(), JobFileError> {
        match lines.insert(name.to_owned(), self.line) {
            Some(line) => {
                Err(self.refuse(format!("\"{name}\" is on line {line} already; give one another name")))
            }
            None => Ok(()),
        }
    }

    fn size(&self, unit: Unit) -> Result<Size, JobFileError> {
        let side = |name: &str| {
            Length::parse(self.cell(name), unit).map_err(|e| self.refuse(format!("its {name}: {e}")))
        };
        Ok(Size::new(side("width")?, side("height")?))
    }

    /// How it is made; cut straight where nothing is said.
    fn made_by(&self) -> Result<MadeBy, JobFileError> {
        match self.cell("made by") {
            "" => Ok(MadeBy::Straight),
            words => MadeBy::from_word(words).map_err(|why| self.refuse(format!("its made by: {why}"))),
        }
    }

    /// Paper around the finished size: what is usual for how it is made where nothing is said, less than a sheet.
    fn allowance(&self, made_by: MadeBy, unit: Unit) -> Result<Length, JobFileError> {
        match self.cell("allowance") {
            "" => Ok(made_by.usual_allowance()),
            "0" => Ok(Length::ZERO),
            text => {
                let length =
                    Length::parse(text, unit).map_err(|e| self.refuse(format!("its allowance: {e}")))?;
                if length > MOST_ALLOWANCE {
                    return Err(self.refuse(format!(
                        "its allowance \"{text}\" is more than 4 in (101.6 mm) all round; check the unit"
                    )));
                }
                Ok(length)
            }
        }
    }

    fn text(&self, name: &str) -> Option<String> {
        Some(self.cell(name).to_owned()).filter(|t| !t.is_empty())
    }

    fn grain(&self) -> Result<Grain, JobFileError> {
        let word = self.cell("grain");
        Grain::from_word(word).ok_or_else(|| {
            self.refuse(format!("its grain \"{word}\" is not known; write long, short or nothing"))
        })
    }

    fn whole(&self, name: &str) -> Result<u32, JobFileError> {
        let text = self.cell(name);
        let number = text.parse::<u32>().ok().filter(|&n| u64::from(n) <= MOST_PIECES);
        number.ok_or_else(|| {
            self.refuse(format!("its {name} \"{text}\" is not a whole number from 0 to {MOST_PIECES}"))
        })
    }
}

fn read_sheets(bytes: &[u8], unit: Unit) -> Result<Vec<JobSheet>, JobFileError> {
    let must = ["name", "width", "height"];
    let table = Table::read(JobFile::Sheets, bytes, &SHEET_COLUMNS, &must, SHEET_HEAD)?;
    let mut sheets: Vec<JobSheet> = Vec::new();
    let mut lines = BTreeMap::new();
    for row in table.rows() {
        let name = row.name()?;
        row.first_of(&name, &mut lines)?;
        let available = if row.cell("available").is_empty() { None } else { Some(row.whole("available")?) };
        let cost = match row.cell("cost") {
            "" => Cost::ONE,
            text => Cost::parse(text).ok_or_else(|| {
                row.refuse(format!(
                    "its cost \"{text}\" is not a cost; write a number such as 0, 1 or 0.35, with four decimals at most"
                ))
            })?,
        };
        sheets.push(JobSheet {
            name,
            paper: row.text("paper"),
            size: row.size(unit)?,
            grain: row.grain()?,
            available,
            cost,
        });
    }
    Ok(sheets)
}

fn read_pieces(bytes: &[u8], unit: Unit, sheets: &[JobSheet]) -> Result<Vec<JobPiece>, JobFileError> {
    let must = ["name", "width", "height", "count"];
    let table = Table::read(JobFile::Pieces, bytes, &PIECE_COLUMNS, &must, PIECE_HEAD)?;
    let mut pieces: Vec<JobPiece> = Vec::new();
    let mut lines = BTreeMap::new();
    for row in table.rows() {
        let name = row.name()?;
        row.first_of(&name, &mut lines)?;
        let may_turn = match row.cell("turn").to_lowercase().as_str() {
            "" | "yes" => true,
            "no" => false,
            other => {
                return Err(row.refuse(format!("its turn \"{other}\" is not known; write yes or no")));
            }
        };
        let sheet = match row.cell("sheet") {
            "" => None,
            pinned => Some(sheets.iter().position(|s| s.name == pinned).ok_or_else(|| {
                row.refuse(format!("its sheet \"{pinned}\" is in no row of the sheets file"))
            })?),
        };
        let made_by = row.made_by()?;
        let paper = row.text("paper");
        if let (Some(row_of), Some(paper)) = (sheet.and_then(|s| sheets.get(s)), &paper)
            && row_of.paper.as_ref() != Some(paper)
        {
            let name = &row_of.name;
            return Err(
                row.refuse(format!("its sheet \"{name}\" is not of its paper \"{paper}\"; drop one of them"))
            );
        }
        pieces.push(JobPiece {
            name,
            finished: row.size(unit)?,
            made_by,
            allowance: row.allowance(made_by, unit)?,
            count: row.whole("count")?,
            may_turn,
            grain: row.grain()?,
            paper,
            sheet,
        });
    }
    let all: u64 = pieces.iter().map(|p| u64::from(p.count)).sum();
    if all > MOST_PIECES {
        return Err(JobFileError::TooMany(JobFile::Pieces, format!("{all} pieces"), MOST_PIECES));
    }
    Ok(pieces)
}

/// Counts lines along a file. The reader places a record before the blank lines that it skipped to reach it; a person
/// looks for it after them.
struct Lines<'a> {
    bytes: &'a [u8],
    at: usize,
    line: u64,
}

impl Lines<'_> {
    /// The line of the record that begins at or after a byte; must not go backwards.
    fn of(&mut self, byte: usize) -> u64 {
        let rest = self.bytes.get(byte..).unwrap_or_default();
        let blank = rest.iter().take_while(|b| matches!(b, b'\n' | b'\r')).count();
        let to = byte + blank;
        let passed = self.bytes.get(self.at..to).unwrap_or_default();
        self.line += passed.split(|b| *b == b'\n').count() as u64 - 1;
        self.at = to.max(self.at);
        self.line
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SHEETS: &str = "name,width,height,available,cost\nletter,8.5,11,,1\nscrap,4,11,3,0\n";

    fn read(pieces: &str, sheets: &str) -> Result<Job, JobFileError> {
        job(pieces.as_bytes(), sheets.as_bytes(), Unit::Inch, Trimmer::default())
    }

    fn refusal(pieces: &str, sheets: &str) -> String {
        read(pieces, sheets).unwrap_err().to_string()
    }

    #[test]
    fn reads_units_defaults_and_pins() {
        let job = read(
            "Name,width,height,count,turn,sheet,paper,grain\n base ,148 mm,5 1/4,20,no,scrap,,long\nmat,1,2,3,,,fern,\n",
            SHEETS,
        )
        .unwrap();
        let [base, mat] = job.pieces.as_slice() else { panic!("{job:?}") };
        assert_eq!((base.name.as_str(), base.count, base.may_turn, base.sheet), ("base", 20, false, Some(1)));
        assert_eq!(base.finished, Size::new(Length::mm(148), Length::sixteenths(84)));
        assert_eq!((base.grain, mat.grain), (Grain::Long, Grain::Unknown));
        assert_eq!((mat.may_turn, mat.sheet, mat.paper.as_deref()), (true, None, Some("fern")));
        assert_eq!((job.sheets[0].available, job.sheets[0].cost), (None, Cost::ONE));
        assert_eq!((job.sheets[1].available, job.sheets[1].cost), (Some(3), Cost::FREE));
    }

    #[test]
    fn an_allowance_is_paper_on_every_side() {
        let job =
            read("name,width,height,count,allowance\na,3,5,1,1/8\nb,3,5,1,\nc,3,5,1,3 mm\n", SHEETS).unwrap();
        let sizes: Vec<Size> = job.pieces.iter().map(JobPiece::cut_size).collect();
        assert_eq!(sizes[0], Size::new(Length::sixteenths(52), Length::sixteenths(84)));
        assert_eq!(sizes[1], job.pieces[1].finished);
        assert_eq!(sizes[2].width, Length::inches(3) + Length::mm(6));
        let text = refusal("name,width,height,count,allowance\na,3,5,1,30\n", SHEETS);
        assert!(text.contains("line 2") && text.contains("4 in"), "{text}");
        assert!(
            refusal("name,width,height,count,allowance\na,3,5,1,wide\n", SHEETS).contains("its allowance")
        );
    }

    #[test]
    fn how_a_piece_is_made_brings_the_paper_around_it() {
        let head = "name,width,height,count,allowance,made by\n";
        let job = read(&format!("{head}a,3,5,1,,Die cut\nb,3,5,1,0,torn\nc,3,5,1,,\n"), SHEETS).unwrap();
        let made: Vec<(MadeBy, Length)> = job.pieces.iter().map(|p| (p.made_by, p.allowance)).collect();
        let quarter = Length::sixteenths(4);
        assert_eq!(
            made,
            [(MadeBy::DieCut, quarter), (MadeBy::Torn, Length::ZERO), (MadeBy::Straight, Length::ZERO)]
        );
        let text = refusal(&format!("{head}a,3,5,1,,sewn\n"), SHEETS);
        assert!(text.contains("line 2") && text.contains("straight cut, die-cut, torn"), "{text}");
    }

    #[test]
    fn refusals_name_the_line_and_what_would_do() {
        let head = "name,width,height,count,turn,sheet\n";
        for (rows, words) in [
            ("a,3,5,10,yes,\nb,,5,10,yes,\n", "--pieces, line 3: its width"),
            ("a,3,5,ten,yes,\n", "--pieces, line 2: its count \"ten\" is not a whole number"),
            ("a,3,5,1.5,yes,\n", "its count \"1.5\""),
            ("a,3,5,-1,yes,\n", "its count \"-1\""),
            ("a,3,5,1,maybe,\n", "write yes or no"),
            ("a,3,5,1,yes,a3\n", "its sheet \"a3\" is in no row"),
            (",3,5,1,yes,\n", "no name"),
            ("a,3,5,1,yes,\n\na,4,5,1,yes,\n", "line 4: \"a\" is on line 2 already"),
            ("a,\"3,5\",5,1,yes,\n", "write 3.5"),
            ("", "holds no pieces"),
        ] {
            let text = refusal(&format!("{head}{rows}"), SHEETS);
            assert!(text.contains(words), "{rows:?}: {text}");
        }
        assert!(refusal("name,width,count\n", SHEETS).contains("no column height"));
        assert!(refusal("name,width,height,count,papper\na,1,1,1,\n", SHEETS).contains("papper"));
        assert!(refusal("name,width,height,count,width\n", SHEETS).contains("twice"));
        let good = format!("{head}a,3,5,1,yes,\n");
        for (row, words) in [
            ("letter,8.5,11,,free", "--sheets, line 2: its cost \"free\" is not a cost"),
            ("letter,8.5,11,some,1", "its available"),
            ("letter,8.5,0,,1", "its height"),
        ] {
            let text = refusal(&good, &format!("name,width,height,available,cost\n{row}\n"));
            assert!(text.contains(words), "{row}: {text}");
        }
        let text = refusal(
            "name,width,height,count,sheet,paper\na,3,5,1,letter,fern\n",
            "name,width,height,paper\nletter,8.5,11,moss\n",
        );
        assert!(text.contains("not of its paper"), "{text}");
    }

    #[test]
    fn absurd_numbers_are_refused() {
        let text = refusal("name,width,height,count\na,1,1,10000\nb,1,1,10000\nc,1,1,10000\n", SHEETS);
        assert!(text.contains("30000 pieces"), "{text}");
        assert!(
            refusal("name,width,height,count\na,1,1,99999999999\n", SHEETS).contains("not a whole number")
        );
    }
}
