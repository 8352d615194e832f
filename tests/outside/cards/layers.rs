//! Mats against the table of two published charts (A2 and A7 rows) and its arithmetic (the rest).

use super::{decimal, inches, len, pair, rows, size};
use trimside::domain::cards::Tools;
use trimside::domain::cards::card::Card;
use trimside::domain::cards::format;
use trimside::domain::cards::layer::{Layer, outward};
use trimside::domain::cards::reveal::Reveal;
use trimside::domain::length::{Length, Unit};
use trimside::domain::size::Size;

fn card(face: Size, reveals: &[Length]) -> Card {
    let layers = reveals.iter().map(|r| Layer::mat("", Reveal::all(*r))).collect();
    Card { layers, ..Card::new("", face) }
}

#[test]
fn every_row_of_the_mat_table() {
    let Some(rows) = rows("mats.csv") else { return };
    assert_eq!(rows.len(), 48);
    for row in rows {
        let face = size((row.number("card_w_in"), row.number("card_h_in")));
        let reveal = len(row.number("reveal_in"));
        let all = card(face, &[reveal; 3]).layer_sizes(&Tools::INCH).unwrap();
        for (k, layer) in all.iter().enumerate() {
            let wanted = pair(row.text(&format!("layer{}", k + 1)));
            assert_eq!(
                (decimal(layer.exact.width), decimal(layer.exact.height)),
                wanted,
                "{}",
                row.text("card")
            );
            assert_eq!(layer.cut.size, layer.exact);
            assert_eq!(decimal(layer.x), row.number("offset_in") * (k as f64 + 1.0));
            assert_eq!(
                (layer.x, layer.reveal, layer.seen),
                (layer.y, Reveal::all(reveal), Reveal::all(reveal))
            );
        }
    }
}

#[test]
fn the_faces_of_the_mat_table_are_the_formats() {
    let Some(rows) = rows("mats.csv") else { return };
    for row in rows {
        let name = match row.text("card") {
            "#10 slim" => "slim".to_owned(),
            square if square.starts_with("square") => square.to_owned(),
            a => format!("us-{a}"),
        };
        let found = format::find(&name, Unit::Inch).unwrap();
        assert_eq!(found.face, size((row.number("card_w_in"), row.number("card_h_in"))), "{name}");
    }
}

/// Worked by hand: 4 1/4 x 5 1/2 with 1/8, 1/16, 1/8; then faces and reveals of our own by the same sum.
#[test]
fn reveals_of_their_own() {
    for (face, reveals) in [
        ("4 1/4 x 5 1/2", ["1/8", "1/16", "1/8"]),
        ("5 x 7", ["1/4", "3/16", "1/16"]),
        ("3 7/8 x 9 1/4", ["1/16", "5/16", "3/8"]),
        ("6 x 6", ["7/16", "1/8", "1/2"]),
    ] {
        let (w, h) = pair(face);
        let taken: Vec<f64> = reveals.iter().map(|r| inches(r)).collect();
        let lengths: Vec<Length> = taken.iter().map(|r| len(*r)).collect();
        let all = card(size((w, h)), &lengths).layer_sizes(&Tools::INCH).unwrap();
        for (k, layer) in all.iter().enumerate() {
            let sum: f64 = taken[..=k].iter().sum();
            assert_eq!(
                (decimal(layer.exact.width), decimal(layer.exact.height)),
                (w - 2.0 * sum, h - 2.0 * sum)
            );
            assert_eq!((decimal(layer.x), decimal(layer.y)), (sum, sum));
        }
        let innermost = all[2].exact;
        let back: Vec<Reveal> = lengths.iter().rev().map(|r| Reveal::all(*r)).collect();
        assert_eq!(outward(innermost, &back), size((w, h)), "outward undoes inward");
    }
}
