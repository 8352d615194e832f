//! A plain name for any colour, without brands: always said with "about". An everyday word comes first, then the name in
//! the ISCC-NBS system.
//!
//! The system's name is that of the nearest block middle (CIEDE2000); near a border the neighbour's name would serve as
//! well, which is what "about" says. The everyday word is one of a short list, or the block's name made short; list and
//! shortenings stand with their sources in `assets/everyday_colours.ron`.

use super::difference::ciede2000;
use super::parse::colour;
use super::space::Lab;
use serde::Deserialize;
use std::sync::LazyLock;

#[derive(Deserialize)]
struct Table {
    names: Vec<Row>,
}

#[derive(Deserialize)]
struct Row {
    block: u16,
    name: String,
    lab: (f64, f64, f64),
}

/// One named block.
#[derive(Clone, Debug, PartialEq)]
pub struct Block {
    /// Its number in the system, 1 to 267.
    pub number: u16,
    /// Its name, like `grayish green`.
    pub name: String,
    /// Its middle, CIELAB under D65.
    pub middle: Lab,
}

static BLOCKS: LazyLock<Vec<Block>> = LazyLock::new(|| {
    let table: Result<Table, _> = ron::from_str(include_str!("../../../assets/colour_names.ron"));
    let rows = table.map(|table| table.names).unwrap_or_default();
    rows.into_iter()
        .map(|Row { block, name, lab: (l, a, b) }| Block { number: block, name, middle: Lab { l, a, b } })
        .collect()
});

/// Every block, by number.
pub fn blocks() -> &'static [Block] {
    &BLOCKS
}

/// Below this Lab chroma only white, the greys and black are asked: the tinted whites and blacks start at half a chroma
/// step of the system, which no Lab chroma this small reaches.
const COLOURLESS: f64 = 1.2;
/// White, the greys and black are the last five blocks.
const FIRST_GREY: u16 = 263;

/// The block whose middle is nearest.
pub fn nearest_block(lab: Lab) -> Option<&'static Block> {
    let grey = lab.chroma() < COLOURLESS;
    let asked = BLOCKS.iter().filter(|block| !grey || block.number >= FIRST_GREY);
    asked.min_by(|x, y| ciede2000(lab, x.middle).total_cmp(&ciede2000(lab, y.middle)))
}

#[derive(Deserialize)]
struct EverydayTable {
    words: Vec<(String, String)>,
    modifiers: Vec<(String, String)>,
}

/// Everyday words: colours that have one of their own, and plain words for what stands before a hue.
struct Everyday {
    words: Vec<(Lab, String)>,
    modifiers: Vec<(String, String)>,
}

static EVERYDAY: LazyLock<Everyday> = LazyLock::new(|| {
    let table: Result<EverydayTable, _> = ron::from_str(include_str!("../../../assets/everyday_colours.ron"));
    let Ok(table) = table else { return Everyday { words: Vec::new(), modifiers: Vec::new() } };
    let value = |(name, word): (String, String)| Some((colour(&name).ok()?.lab, word));
    Everyday { words: table.words.into_iter().filter_map(value).collect(), modifiers: table.modifiers }
});

/// A colour nearer than this (CIEDE2000) to one with a word of its own is called by it (our own choice: near, plainly
/// another shade, which "about" covers).
const WORD_REACH: f64 = 6.5;

/// With less Lab chroma than this a colour is white, gray or black to people, not cream or ivory (our own choice).
const TINTED: f64 = 4.0;

/// What people call the colour: `teal`, `dusty green`, `very pale blue`.
pub fn everyday(lab: Lab) -> Option<String> {
    let near = EVERYDAY.words.iter().map(|(value, word)| (ciede2000(lab, *value), word));
    let near = near
        .filter(|(away, _)| *away < WORD_REACH && lab.chroma() >= TINTED)
        .min_by(|x, y| x.0.total_cmp(&y.0));
    match near {
        Some((_, word)) => Some(word.clone()),
        None => nearest_block(lab).map(|block| shortened(&block.name)),
    }
}

/// A block's name in everyday words: the hue that it ends in, with a plain word for the modifier that it begins with.
fn shortened(name: &str) -> String {
    let words: Vec<&str> = name.split(' ').collect();
    // A hue between two others is named after the one it ends in; a tinted white, gray or black keeps its tint.
    let hue = words.last().copied().unwrap_or(name);
    if matches!(hue, "white" | "gray" | "black") {
        return words.iter().filter(|word| **word != "medium").copied().collect::<Vec<_>>().join(" ");
    }
    let starts = |modifier: &&(String, String)| {
        name.strip_prefix(modifier.0.as_str()).is_some_and(|rest| rest.starts_with(' '))
    };
    // The longest modifier that it begins with: "very dark", not "very" nor "dark".
    let modifier = EVERYDAY.modifiers.iter().filter(starts).max_by_key(|(words, _)| words.len());
    let plain = modifier.map_or("", |(_, plain)| plain.as_str());
    format!("{plain} {hue}").trim().to_owned()
}

/// The everyday word with its reservation and the block's name after it: `about dusty green (grayish olive green)`. One
/// name where both say the same.
pub fn about(lab: Lab) -> String {
    match (everyday(lab), nearest_block(lab)) {
        (Some(word), Some(block)) if word != block.name => format!("about {word} ({})", block.name),
        (Some(word), _) => format!("about {word}"),
        (None, _) => "unnamed".into(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::space::Rgb8;
    use super::*;

    #[test]
    fn all_blocks_are_there_in_order() {
        assert_eq!(blocks().len(), 267);
        assert!(blocks().iter().enumerate().all(|(i, block)| usize::from(block.number) == i + 1));
    }

    #[test]
    fn a_block_middle_bears_its_own_name() {
        for block in blocks() {
            assert_eq!(nearest_block(block.middle).unwrap().number, block.number, "{}", block.name);
        }
    }

    #[test]
    fn everyday_colours_get_everyday_names() {
        let about = |r, g, b| about(Rgb8::new(r, g, b).lab());
        assert_eq!(about(255, 255, 255), "about white");
        assert_eq!(about(0, 0, 0), "about black");
        assert_eq!(about(190, 0, 40), "about bright red (vivid red)");
        assert_eq!(about(0, 128, 128).split(" (").next(), Some("about teal"));
        assert_eq!(about(0x1d, 0x2f, 0x56), "about dark blue");
        assert_eq!(about(0x8a, 0x94, 0x78).split(" (").next(), Some("about dusty green"));
    }

    /// The hues are the ten of Level 1 of the Universal Color Language (NBS Special Publication 440, from memory), with
    /// violet, which people say as often as purple (our own choice).
    #[test]
    fn every_block_has_an_everyday_name_of_few_words() {
        let hues = [
            "pink", "red", "orange", "brown", "yellow", "olive", "green", "blue", "purple", "violet",
            "white", "gray", "black",
        ];
        for block in blocks() {
            let name = shortened(&block.name);
            let words: Vec<&str> = name.split(' ').collect();
            assert!(
                words.len() <= 3 && hues.contains(words.last().unwrap()),
                "{} is called {name}",
                block.name
            );
            let hue = words.last().unwrap();
            assert!(block.name.ends_with(hue));
            let modifier = block.name.split(' ').next().unwrap();
            assert!(!["moderate", "brilliant", "vivid"].contains(&modifier) || !name.contains(modifier));
        }
        assert!(EVERYDAY.words.len() > 15 && EVERYDAY.modifiers.len() > 15, "the list is read");
    }
}
