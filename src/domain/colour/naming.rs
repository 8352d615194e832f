//! A plain name for any colour, without brands: always said with "about".
//!
//! The name is that of the nearest block middle (CIEDE2000). The blocks are those of the ISCC-NBS system; near a
//! border the neighbour's name would serve as well, which is what "about" says.

use super::difference::ciede2000;
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

/// The plain name with its reservation: `about grayish green`.
pub fn about(lab: Lab) -> String {
    nearest_block(lab).map_or_else(|| "unnamed".into(), |block| format!("about {}", block.name))
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
        assert_eq!(about(Rgb8::new(255, 255, 255).lab()), "about white");
        assert_eq!(about(Rgb8::new(0, 0, 0).lab()), "about black");
        assert_eq!(about(Rgb8::new(190, 0, 40).lab()), "about vivid red");
    }
}
