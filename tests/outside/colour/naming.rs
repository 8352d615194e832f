//! Names. Sources: CSS Color Module Level 4 (`css_named_148.csv`); the centroids of Kelly 1958 and the blocks of NBS
//! Special Publication 440 (`iscc_nbs_centroids.csv`, `munsell_in_srgb.csv`).

use super::{hex, rows};
use trimside::domain::colour::difference::ciede2000;
use trimside::domain::colour::naming::{blocks, nearest_block};
use trimside::domain::colour::parse::{colour, web_names};

#[test]
fn the_names_of_the_web_standard() {
    let Some(rows) = rows("css_named_148.csv") else { return };
    assert_eq!(rows.len(), web_names().len());
    for row in &rows {
        assert_eq!(colour(row.text("name")).unwrap().hex, hex(row.text("hex")), "{}", row.text("name"));
    }
}

#[test]
fn our_block_middles_lie_near_the_published_centroids() {
    let Some(rows) = rows("iscc_nbs_centroids.csv") else { return };
    assert_eq!(rows.len(), blocks().len());
    let mut distances = Vec::new();
    for (row, block) in rows.iter().zip(blocks()) {
        assert_eq!(row.text("number"), block.number.to_string());
        assert_eq!(row.text("name"), block.name);
        distances.push(ciede2000(row.lab("L_D65", "a_D65", "b_D65"), block.middle));
    }
    distances.sort_by(f64::total_cmp);
    assert!(distances[133] < 1.0, "median {}", distances[133]);
    assert!(distances[260] < 5.0, "all but six {}", distances[260]);
}

/// A published centroid is given its own name: one that is nearer to another block's middle would be listed here.
#[test]
fn each_published_centroid_has_its_own_name() {
    let Some(rows) = rows("iscc_nbs_centroids.csv") else { return };
    let mut others = Vec::new();
    for (row, block) in rows.iter().zip(blocks()) {
        let lab = row.lab("L_D65", "a_D65", "b_D65");
        let named = nearest_block(lab).unwrap();
        if named.name != row.text("name") {
            let off = ciede2000(lab, block.middle);
            others.push(format!("{} is called {}, {off:.1} off", row.text("name"), named.name));
        }
    }
    assert_eq!(others, NAMED_FOR_ANOTHER, "{others:#?}");
}

const NAMED_FOR_ANOTHER: [&str; 0] = [];

/// Kelly's own centroids name 63 of 100 of these colours as their block does (the rest lie near a border).
#[test]
fn nearest_middle_names_most_colours_as_their_block_does() {
    let Some(rows) = rows("munsell_in_srgb.csv") else { return };
    let hits = rows
        .iter()
        .filter(|row| {
            nearest_block(row.lab("L_D65", "a_D65", "b_D65")).unwrap().name == row.text("iscc_name")
        })
        .count();
    assert!(hits * 100 >= rows.len() * 62, "{hits} of {}", rows.len());
}
