//! The recursion with values against Beasley's unconstrained guillotine instances.
//!
//! Instances: Beasley 1985, Journal of the Operational Research Society 36:297-306 (gcut1 to gcut12). Values: computed and
//! proved; the ones with fixed direction equal the published optima.

use super::reference;
use trimside::domain::cutting::recursion::{PieceWay, Recursion};

struct Instance {
    width: i64,
    height: i64,
    parts: Vec<PieceWay>,
}

/// Number of pieces, stock size, then a size and a value a piece.
fn instance(name: &str) -> Option<Instance> {
    let text = reference(&format!("cutting/guillotine/beasley1985/{name}.txt"))?;
    let numbers: Vec<i64> = text.split_whitespace().map(|n| n.parse().unwrap()).collect();
    let parts = numbers[3..].chunks(3).map(|c| PieceWay { width: c[0], height: c[1], value: c[2] }).collect();
    Some(Instance { width: numbers[1], height: numbers[2], parts })
}

#[test]
fn gcut_optima() {
    let Some(table) = reference("cutting/unconstrained_guillotine_optima_computed.csv") else { return };
    let mut checked = 0;
    for row in csv::Reader::from_reader(table.as_bytes()).records() {
        let row = row.unwrap();
        let number = row[0].strip_prefix("gcut").and_then(|n| n.parse::<u32>().ok());
        // gcut13 is ten times larger than the rest together.
        if number.is_none_or(|n| n > 12) {
            continue;
        }
        let Some(Instance { width, height, mut parts }) = instance(&row[0]) else { return };
        if &row[1] == "1" {
            let turned: Vec<PieceWay> =
                parts.iter().map(|p| PieceWay { width: p.height, height: p.width, ..*p }).collect();
            parts.extend(turned);
        }
        let mut g = Recursion::new(width, height, &parts, u64::MAX);
        assert_eq!(g.value(width, height), row[3].parse::<i64>().unwrap(), "{row:?}");
        assert!(g.is_exact());
        checked += 1;
    }
    assert_eq!(checked, 24);
}
