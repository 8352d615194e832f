//! Stop cuts against the proved optima of any cutting.

use super::reference;
use super::yields::length;
use crate::laws::stops::stop_layout_is_sound;
use trimside::domain::cutting::one_size::answer;
use trimside::domain::cutting::question::Question;
use trimside::domain::sheet::Sheet;
use trimside::domain::size::Size;

/// All 84 cases: the optimum of any cutting was proved by bounds and a constraint solver.
#[test]
fn proved_cases_of_any_cutting() {
    let Some(text) = reference("cutting/yield_cases.json") else { return };
    let cases: serde_json::Value = serde_json::from_str(&text).unwrap();
    let (mut all, mut more, mut proved) = (0, 0, 0);
    for case in cases.as_array().unwrap() {
        let unit = case["unit"].as_str().unwrap();
        let size = |key: &str| {
            let side = |i: usize| length(case[key][i].as_i64().unwrap(), unit);
            Size::new(side(0), side(1))
        };
        let mut q = Question::new(size("piece_units"), Sheet::new("case", size("sheet_units")));
        q.may_turn = case["rotate"].as_bool().unwrap();
        q.trimmer.stop_cuts = true;
        let a = answer(&q);
        let stop = a.stop.clone().unwrap();
        assert_eq!(u64::from(stop.best), case["optimum_nonguillotine"].as_u64().unwrap(), "{case}");
        assert!(stop.bound >= stop.best);
        stop_layout_is_sound(&q, &stop).unwrap_or_else(|why| panic!("{case}: {why}"));
        all += 1;
        more += u32::from(stop.best > a.best);
        proved += u32::from(stop.proved);
    }
    assert_eq!(all, 84);
    // The table's own counts: how often stop cuts pay, and how often a bound alone proves it.
    assert!(more >= 20 && proved >= 60, "{more} {proved}");
}

/// Worked table: the column with stop cuts (16 trading cards from the craft square is known; the rest computed).
#[test]
fn worked_table_with_stop_cuts() {
    let Some(text) = reference("trade/yields.csv") else { return };
    for row in csv::Reader::from_reader(text.as_bytes()).records() {
        let row = row.unwrap();
        let sheet = super::yields::sheet(&row[0]);
        let piece = format!("{}x{}", &row[2], &row[3]);
        let mut q = Question::new(Size::parse(&piece, trimside::domain::length::Unit::Inch).unwrap(), sheet);
        q.trimmer.stop_cuts = true;
        let stop = answer(&q).stop.unwrap();
        assert_eq!(stop.best, row[7].parse::<u32>().unwrap(), "{row:?}");
        stop_layout_is_sound(&q, &stop).unwrap();
    }
}
