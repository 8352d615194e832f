//! Swatches from CSV. Knows the columns, not where the file lay.
//!
//! | column | meaning |
//! |---|---|
//! | `id` | short id, used in answers where there is one |
//! | `name` | what a person calls it; `id` or `name` must be there |
//! | `family` | own grouping, may be absent |
//! | `hex`, also `colour` or `color` | screen value |
//! | `L,a,b` | measured CIELAB under D65; wins over `hex` |
//!
//! Capitals in the head do not matter, other columns are passed over.

use super::table_text::{self, MOST_LINES};
use crate::domain::colour::parse;
use crate::domain::colour::space::Lab;
use crate::domain::colour::swatch::Swatch;
use std::collections::BTreeMap;

/// Why a file is no list of swatches.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum SwatchFileError {
    /// It cannot be read as CSV at all.
    #[error("not readable as CSV: {0}")]
    Csv(String),
    /// There is no column to name a swatch by.
    #[error("no column id or name in its first line; one of them must name each swatch")]
    NoName,
    /// There is no column to colour a swatch by.
    #[error("no column hex and no columns L, a and b in its first line; one way must give each color")]
    NoColour,
    /// The file holds a head and nothing else.
    #[error("holds no swatch; add a line for each under the first")]
    Empty,
    /// One line cannot be used.
    #[error("line {line}: {why}")]
    Line {
        /// Which, the head being line 1.
        line: u64,
        /// What is wrong with it and what would do.
        why: String,
    },
}

/// Where the columns stand.
struct Head {
    id: Option<usize>,
    name: Option<usize>,
    family: Option<usize>,
    hex: Option<usize>,
    lab: Option<[usize; 3]>,
}

/// Reads the swatches of a CSV file.
///
/// # Errors
/// A sentence with the line where a row has no name, no colour, a colour that cannot be, or a name met before.
pub fn swatches(bytes: &[u8]) -> Result<Vec<Swatch>, SwatchFileError> {
    let bytes = table_text::checked(bytes).map_err(|(line, why)| SwatchFileError::Line { line, why })?;
    let csv_error = |e: csv::Error| SwatchFileError::Csv(e.to_string());
    let mut reader = csv::ReaderBuilder::new().trim(csv::Trim::All).flexible(true).from_reader(bytes);
    let head = head(reader.headers().map_err(csv_error)?)?;
    let mut list: Vec<Swatch> = Vec::new();
    let mut lines: BTreeMap<String, u64> = BTreeMap::new();
    for record in reader.records() {
        let record = record.map_err(csv_error)?;
        if record.iter().all(str::is_empty) {
            continue;
        }
        let line = record.position().map_or(0, csv::Position::line);
        let refuse = |why: String| SwatchFileError::Line { line, why };
        if list.len() == MOST_LINES {
            return Err(refuse(format!("the list is longer than {MOST_LINES} swatches: split it")));
        }
        let swatch = swatch(&head, &record).map_err(refuse)?;
        if let Some(before) = lines.insert(swatch.label().to_owned(), line) {
            let why =
                format!("\"{}\" is on line {before} already; give one of them another id", swatch.label());
            return Err(refuse(why));
        }
        list.push(swatch);
    }
    if list.is_empty() { Err(SwatchFileError::Empty) } else { Ok(list) }
}

fn head(record: &csv::StringRecord) -> Result<Head, SwatchFileError> {
    let find = |name: &str| record.iter().position(|column| column.eq_ignore_ascii_case(name));
    let lab = match (find("L"), find("a"), find("b")) {
        (Some(l), Some(a), Some(b)) => Some([l, a, b]),
        _ => None,
    };
    let hex = ["hex", "colour", "color"].into_iter().find_map(find);
    let head = Head { id: find("id"), name: find("name"), family: find("family"), hex, lab };
    if head.id.is_none() && head.name.is_none() {
        return Err(SwatchFileError::NoName);
    }
    if head.hex.is_none() && head.lab.is_none() {
        return Err(SwatchFileError::NoColour);
    }
    Ok(head)
}

fn swatch(head: &Head, record: &csv::StringRecord) -> Result<Swatch, String> {
    let field = |column: Option<usize>| column.and_then(|at| record.get(at)).unwrap_or_default();
    let (id, name) = (field(head.id), field(head.name));
    if id.is_empty() && name.is_empty() {
        return Err("neither id nor name; write one so that answers can name the swatch".into());
    }
    let digits = field(head.hex);
    let hex = if digits.is_empty() { None } else { Some(parse::hex(digits).map_err(|e| e.to_string())?) };
    let lab = head.lab.map_or(Ok(None), |columns| lab(columns.map(|at| field(Some(at)))))?;
    let swatch = match (lab, hex) {
        (Some(lab), Some(hex)) => {
            let mut swatch = Swatch::measured(name, field(head.family), lab);
            swatch.set_hex(hex);
            swatch
        }
        (Some(lab), None) => Swatch::measured(name, field(head.family), lab),
        (None, Some(hex)) => Swatch::from_screen(name, field(head.family), hex),
        (None, None) => return Err("no color; write a hex value like #1f7a8c or all of L, a and b".into()),
    };
    Ok(swatch.with_id(id))
}

/// The Lab of three fields: none where all are empty, refused where some are.
fn lab([l, a, b]: [&str; 3]) -> Result<Option<Lab>, String> {
    if [l, a, b].iter().all(|text| text.is_empty()) {
        return Ok(None);
    }
    let number = |name: &str, text: &str, low: f64, high: f64| match text.parse::<f64>() {
        Ok(value) if (low..=high).contains(&value) => Ok(value),
        Ok(_) => Err(format!("{name} {text} is out of range; it goes from {low} to {high}")),
        Err(_) if text.is_empty() => Err(format!("{name} is missing; write all of L, a and b or none")),
        Err(_) => Err(format!("{name} \"{text}\" is not a number; write it like 48.5")),
    };
    Ok(Some(Lab {
        l: number("L", l, 0.0, 100.0)?,
        a: number("a", a, -160.0, 160.0)?,
        b: number("b", b, -160.0, 160.0)?,
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::colour::space::Rgb8;
    use crate::domain::colour::swatch::LabOrigin;

    fn refusal(text: &str) -> String {
        swatches(text.as_bytes()).unwrap_err().to_string()
    }

    #[test]
    fn lab_wins_over_hex_and_either_will_do() {
        let text =
            "\u{feff}Name,HEX,l,A,B,other\nMoss,#336633,40,-20,25,x\nSky,#88bbee,,,,\nClay,,55,20,30,\n\n";
        let list = swatches(text.as_bytes()).unwrap();
        assert_eq!(list.iter().map(Swatch::label).collect::<Vec<_>>(), ["Moss", "Sky", "Clay"]);
        assert_eq!(list[0].lab, Lab::new(40.0, -20.0, 25.0));
        assert_eq!((list[0].hex, list[0].origin), (Rgb8::new(0x33, 0x66, 0x33), LabOrigin::Measured));
        assert_eq!((list[1].lab, list[1].origin), (list[1].hex.lab(), LabOrigin::FromScreen));
        assert_eq!(list[2].hex, list[2].lab.rgb8());
    }

    #[test]
    fn the_id_is_the_label_where_there_is_one() {
        let list = swatches(b"id,name,family,hex\nM1,Moss,green,#336633\n,Fern,green,#447744\n").unwrap();
        assert_eq!(list.iter().map(Swatch::label).collect::<Vec<_>>(), ["M1", "Fern"]);
        assert_eq!((list[0].name.as_str(), list[0].family.as_str()), ("Moss", "green"));
    }

    #[test]
    fn refusals_name_the_line() {
        assert_eq!(
            refusal("id,hex\nA,#12\n"),
            "line 2: \"#12\" has 2 hex digits; write six (#1f7a8c) or three (#18c)"
        );
        assert_eq!(
            refusal("id,hex\nA,#111111\n,#222222\n"),
            "line 3: neither id nor name; write one so that answers can name the swatch"
        );
        assert!(refusal("id,hex\nA,\n").starts_with("line 2: no color"));
        assert!(
            refusal("id,hex\nA,#111111\nB,#222222\nA,#333333\n")
                .starts_with("line 4: \"A\" is on line 2 already")
        );
        assert!(refusal("id,L,a,b\nA,50,,3\n").contains("a is missing"));
        assert!(refusal("id,L,a,b\nA,500,1,3\n").contains("from 0 to 100"));
        assert!(refusal("id,L,a,b\nA,NaN,1,3\n").contains("out of range"));
        assert!(refusal("id,L,a,b\nA,x,1,3\n").contains("is not a number"));
        assert!(refusal("hex\n#123456\n").contains("no column id or name"));
        assert!(refusal("id,L,a\nA,1,2\n").contains("no column hex"));
        assert!(refusal("id,hex\n").contains("holds no swatch"));
        assert!(refusal("").contains("no column id or name"));
    }

    #[test]
    fn bytes_that_are_no_text_are_refused_not_panicked_on() {
        assert!(swatches(b"id,hex\n\xff\xfe,#123456\n").is_err());
        assert!(swatches(&[0, 159, 146, 150]).is_err());
    }
}
