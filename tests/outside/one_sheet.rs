//! One sheet with limited pieces against published instances: Christofides & Whitlock 1977 (cgcut), Oliveira & Ferreira
//! 1990 (OF), Wang 1983 (W), Hadjiconstantinou & Christofides 1995 (HADCHR), Fekete & Schepers 1997 (okp). The optima
//! lie with the instances; the fixed-direction ones of cgcut, OF and W stand in those papers, too.

use super::reference;
use crate::effort;
use trimside::domain::cutting::one_sheet::{Effort, SheetPiece, most_valuable};

/// File, name in the table of optima, and whether it is left to a long run: seconds each where nothing is optimised.
const INSTANCES: &[(&str, &str, bool)] = &[
    ("christofides1977/cgcut1.txt", "cgcut1", false),
    ("christofides1977/cgcut2.txt", "cgcut2", false),
    ("christofides1977/cgcut3.txt", "cgcut3", false),
    ("oliveira1990/OF1", "OF1", false),
    ("oliveira1990/OF2", "OF2", false),
    ("wang1983/W", "W", false),
    ("hadjiconstantinou1995/HADCHR3", "HADCHR3", false),
    ("hadjiconstantinou1995/HADCHR11", "HADCHR11", false),
    ("fekete1997/okp1", "OPK1", false),
    ("fekete1997/okp2", "OPK2", true),
    ("fekete1997/okp3", "OPK3", true),
    ("fekete1997/okp5", "OPK5", false),
];

/// Builds looked at: more than any of these takes.
const MOST: Effort = Effort { sums: 200_000_000, builds: 2_000_000 };

/// The sheet and its pieces: sides, then value and count in the order of the paper, or the count alone (value is area).
fn read(text: &str, value_last: bool) -> (i32, i32, Vec<SheetPiece>) {
    let rows: Vec<Vec<i64>> = text
        .lines()
        .map(|line| line.split_whitespace().map_while(|word| word.parse().ok()).collect())
        .filter(|row: &Vec<i64>| !row.is_empty())
        .collect();
    let sheet = rows.iter().find(|row| row.len() == 2).expect("a sheet");
    let side = |n: i64| i32::try_from(n).expect("a side");
    let kinds = rows.iter().filter(|row| row.len() > 2).map(|row| {
        let (count, value) = match row.as_slice() {
            [w, h, count] => (*count, w * h),
            [_, _, count, value] if value_last => (*count, *value),
            [_, _, value, count, ..] => (*count, *value),
            other => panic!("{other:?}"),
        };
        let count = u32::try_from(count).expect("a count");
        SheetPiece { w: side(row[0]), h: side(row[1]), count, value, upright: true, turned: false }
    });
    (side(sheet[0]), side(sheet[1]), kinds.collect())
}

#[test]
fn published_optima_are_met_and_proved() {
    let Some(table) = reference("cutting/constrained_guillotine_optima_computed.csv") else { return };
    let optimum = |name: &str, column: usize| {
        let row = table.lines().find(|line| line.split(',').next() == Some(name)).expect("a row");
        row.split(',').nth(column).and_then(|cell| cell.parse::<i64>().ok())
    };
    for &(file, name, is_long) in INSTANCES {
        if is_long && !effort::is_long() {
            continue;
        }
        let Some(text) = reference(&format!("cutting/guillotine/{file}")) else { return };
        let (w, h, kinds) = read(&text, !file.contains("okp"));
        for (turned, column) in [(false, 4), (true, 6)] {
            let Some(published) = optimum(name, column) else { continue };
            let kinds: Vec<SheetPiece> = kinds.iter().map(|k| SheetPiece { turned, ..*k }).collect();
            let begun = std::time::Instant::now();
            let worth = most_valuable(w, h, &kinds, MOST).expect("small enough");
            println!("{name} turned {turned}: {worth:?} in {:?}", begun.elapsed());
            assert_eq!((worth.value, worth.is_proved()), (published, true), "{name}, turned {turned}");
        }
    }
}
