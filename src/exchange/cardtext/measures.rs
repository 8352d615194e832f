//! What the parts of a card file share: measures, papers and small words, read and written. A bare number is in one unit; what is written
//! bears its sign.

use crate::domain::cards::CardError;
use crate::domain::cards::fold::Side;
use crate::domain::cards::made_by::MadeBy;
use crate::domain::cards::paper::{self, Paper};
use crate::domain::cards::reveal::Reveal;
use crate::domain::length::{Length, Unit};
use crate::domain::size::{Grain, Size};
use crate::domain::thickness::Thickness;
use serde::{Deserialize, Serialize};

/// A paper of the file.
#[derive(Serialize, Deserialize, Default)]
#[serde(deny_unknown_fields, default)]
pub(in crate::exchange) struct PaperText {
    #[serde(skip_serializing_if = "String::is_empty")]
    pub(in crate::exchange) name: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) weight: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) thickness: Option<String>,
}

/// Reads texts, with the place in the file that a sentence names.
pub(in crate::exchange) struct Reader {
    pub(in crate::exchange) unit: Unit,
}

impl Reader {
    pub(in crate::exchange) fn length(&self, place: &str, text: &str) -> Result<Length, String> {
        at(place, Length::parse(text, self.unit))
    }

    /// A length that may be nothing.
    pub(in crate::exchange) fn length_or_zero(&self, place: &str, text: &str) -> Result<Length, String> {
        if text.trim() == "0" { Ok(Length::ZERO) } else { self.length(place, text) }
    }

    /// The paper needed around a piece, and the side that its grain has to follow.
    pub(in crate::exchange) fn around(
        &self,
        place: &str,
        allowance: Option<&str>,
        grain: Option<&str>,
    ) -> Result<(Length, Grain), String> {
        let allowance =
            allowance.map(|a| self.length_or_zero(&format!("{place}: allowance"), a)).transpose()?;
        let word = grain.unwrap_or_default();
        let grain = Grain::from_word(word)
            .ok_or_else(|| format!("{place}: grain \"{word}\" is not known: write long or short"))?;
        Ok((allowance.unwrap_or(Length::ZERO), grain))
    }

    pub(in crate::exchange) fn optional(
        &self,
        place: &str,
        text: Option<&String>,
    ) -> Result<Option<Length>, String> {
        text.map(|t| self.length(place, t)).transpose()
    }

    pub(in crate::exchange) fn or(
        &self,
        place: &str,
        text: Option<&String>,
        usual: Length,
    ) -> Result<Length, String> {
        Ok(self.optional(place, text)?.unwrap_or(usual))
    }

    pub(in crate::exchange) fn size(&self, place: &str, text: &str) -> Result<Size, String> {
        at(place, Size::parse(text, self.unit))
    }

    pub(in crate::exchange) fn paper(&self, text: &PaperText) -> Result<Paper, String> {
        let place = if text.name.is_empty() { "paper".to_owned() } else { format!("paper {}", text.name) };
        let grammage = text.weight.as_ref().map(|w| at(&place, paper::grammage(w))).transpose()?;
        let caliper =
            text.thickness.as_ref().map(|t| at(&place, Thickness::parse(t, self.unit))).transpose()?;
        Ok(Paper { name: text.name.clone(), grammage, caliper })
    }
}

/// How a part is made; a straight cut where nothing is said.
pub(in crate::exchange) fn made_by(place: &str, words: Option<&str>) -> Result<MadeBy, String> {
    words.map_or(Ok(MadeBy::Straight), |words| {
        MadeBy::from_word(words).map_err(|why| format!("{place}: made_by: {why}"))
    })
}

/// Where in the file a sentence belongs.
pub(in crate::exchange) fn at<T, E: std::fmt::Display>(
    place: &str,
    result: Result<T, E>,
) -> Result<T, String> {
    result.map_err(|e| format!("{place}: {e}"))
}

/// The paper of a name among the file's.
pub(in crate::exchange) fn named_paper(
    place: &str,
    name: Option<&str>,
    papers: &[Paper],
) -> Result<Option<Paper>, String> {
    let Some(name) = name else { return Ok(None) };
    if let Some(found) = papers.iter().find(|p| p.name == name) {
        return Ok(Some(found.clone()));
    }
    if papers.is_empty() {
        // A name alone is enough to plan with; weight and thickness are then unknown.
        return Ok(Some(Paper { name: name.to_owned(), ..Paper::default() }));
    }
    let names: Vec<&str> = papers.iter().map(|p| p.name.as_str()).collect();
    Err(format!("{place}: {}", CardError::unknown_word(name, "paper of this file", &names)))
}

pub(in crate::exchange) fn side(place: &str, word: &str) -> Result<Side, String> {
    match word {
        "width" => Ok(Side::Width),
        "height" => Ok(Side::Height),
        other => Err(format!("{place}: {}", CardError::unknown_word(other, "side", &["width", "height"]))),
    }
}

pub(in crate::exchange) fn made_by_text(way: MadeBy) -> Option<String> {
    (way != MadeBy::Straight).then(|| way.word().to_owned())
}

pub(in crate::exchange) fn grain_text(grain: Grain) -> Option<String> {
    (grain != Grain::Unknown).then(|| grain.word().to_owned())
}

/// Papers of one file, each under a name of its own.
#[derive(Default)]
pub(in crate::exchange) struct Papers(pub(in crate::exchange) Vec<Paper>);

impl Papers {
    /// The name under which a paper stands in the file; a second paper of the same name is numbered.
    pub(in crate::exchange) fn name(&mut self, paper: &Paper) -> String {
        let base = if paper.name.is_empty() { "paper" } else { paper.name.as_str() };
        for n in 1.. {
            let name = if n == 1 { base.to_owned() } else { format!("{base} ({n})") };
            match self.0.iter().find(|p| p.name == name) {
                None => {
                    self.0.push(Paper { name: name.clone(), ..paper.clone() });
                    return name;
                }
                Some(same) if same.grammage == paper.grammage && same.caliper == paper.caliper => {
                    return name;
                }
                Some(_) => {}
            }
        }
        base.to_owned()
    }
}

fn weight_text(paper: &Paper) -> Option<String> {
    paper.grammage.map(|g| format!("{} gsm", decimal(g.mg_per_m2(), 1000, 3)))
}

/// In ten-thousandths of an inch where that is exact, else in micrometres, which always is.
pub(in crate::exchange) fn thickness_text(t: Thickness) -> String {
    let per_inch = Thickness::from_length(Length::inches(1)).units();
    let whole = t.units() * 10_000;
    if whole % per_inch == 0 {
        format!("{} in", decimal(whole / per_inch, 10_000, 4))
    } else {
        format!("{} um", decimal(t.units(), 100, 2))
    }
}

/// What lifts a layer by its usual name, where it has one.
pub(in crate::exchange) fn raise_text(t: Thickness) -> String {
    let named = paper::raises().into_iter().find(|(_, height)| *height == t);
    named.map_or_else(|| thickness_text(t), |(name, _)| name.to_owned())
}

/// A whole number of parts as a decimal without needless zeros: 12500 of 1000 is `12.5`.
fn decimal(n: i64, parts: i64, places: usize) -> String {
    let text = format!("{}.{:0places$}", n / parts, n % parts);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

pub(in crate::exchange) fn paper_text(paper: &Paper) -> PaperText {
    PaperText {
        name: paper.name.clone(),
        weight: weight_text(paper),
        thickness: paper.caliper.map(thickness_text),
    }
}

/// Writes measures, each with its sign.
pub(in crate::exchange) struct Writer {
    pub(in crate::exchange) unit: Unit,
}

impl Writer {
    pub(in crate::exchange) fn length(&self, length: Length) -> String {
        if length == Length::ZERO { "0".to_owned() } else { length.exact_with_unit(self.unit) }
    }

    pub(in crate::exchange) fn size(&self, size: Size) -> String {
        size.exact_with_unit(self.unit)
    }

    pub(in crate::exchange) fn reveal(&self, reveal: &Reveal) -> String {
        if let Some(all) = reveal.uniform() {
            return self.length(all);
        }
        let sides = [reveal.left, reveal.top, reveal.right, reveal.bottom];
        sides.map(|s| self.length(s)).join(":")
    }
}
