use super::super::space::Rgb8;
use super::*;

/// Forty-eight colours on a rough wheel in three lightnesses and six greys.
fn library() -> Vec<Swatch> {
    let mut list = Vec::new();
    for hue in 0..16 {
        for (l, c) in [(35.0, 38.0), (58.0, 45.0), (82.0, 28.0)] {
            let angle = (f64::from(hue) * 22.5_f64).to_radians();
            list.push(Swatch::measured(
                format!("h{hue}l{l}"),
                "",
                Lab::new(l, c * angle.cos(), c * angle.sin()),
            ));
        }
    }
    for grey in [20_u8, 70, 120, 170, 215, 250] {
        list.push(Swatch::from_screen(format!("grey {grey}"), "", Rgb8::new(grey, grey, grey)));
    }
    list
}

#[test]
fn the_list_falls_by_its_weakest_pair_and_is_varied() {
    let library = library();
    for base in [0, 7, 20, 49] {
        let list = trios(&Ask::about(&library, &[base]));
        assert!(list.len() >= 5, "{base}: {}", list.len());
        assert!(list.windows(2).all(|w| w[0].weakest >= w[1].weakest));
        let mut uses = vec![0; library.len()];
        for trio in &list {
            assert_eq!(trio.swatches[0], base);
            assert!(trio.swatches[1] != trio.swatches[2] && !trio.swatches[1..].contains(&base));
            assert_eq!(trio.weakest, trio.pairs.iter().copied().fold(f64::MAX, f64::min));
            for guest in &trio.swatches[1..] {
                uses[*guest] += 1;
            }
            assert!(trio.distinct.for_all());
        }
        assert!(uses.iter().all(|n| *n <= USES));
        for scheme in Scheme::ALL {
            assert!(list.iter().filter(|trio| trio.scheme == scheme).count() <= PER_SCHEME);
        }
    }
}

#[test]
fn the_reason_names_the_weakest_pair_and_a_term() {
    let library = library();
    let list = trios(&Ask::about(&library, &[4]));
    for trio in &list {
        let [i, j] = trio.weakest_pair;
        let score = super::super::harmony::harmony(library[i].lab, library[j].lab);
        assert!((score.score - trio.weakest).abs() < 1e-12);
        let reason = trio.reason(&library);
        assert!(reason.contains(&library[i].name) && reason.contains(&library[j].name), "{reason}");
        assert!(reason.ends_with(score.weakest_term().name()), "{reason}");
    }
}

#[test]
fn the_best_trio_is_the_best_of_all_that_count() {
    let library = library();
    let list = trios(&Ask::about(&library, &[10]));
    let mut best = f64::MIN;
    let eyes: Vec<Eyes> =
        std::iter::once(Eyes::NORMAL).chain(Deficiency::ALL.map(|kind| Eyes::new(kind, 1.0))).collect();
    for i in 0..library.len() {
        for j in i + 1..library.len() {
            if i == 10 || j == 10 {
                continue;
            }
            let three = [10, i, j];
            let labs = three.map(|k| library[k].lab);
            let apart = eyes.iter().enumerate().all(|(n, eyes)| {
                let least = if n == 0 { APART } else { APART_FOR_OTHERS };
                let seen = labs.map(|lab| eyes.lab(lab));
                [(0, 1), (0, 2), (1, 2)].iter().all(|(a, b)| ciede2000(seen[*a], seen[*b]) >= least)
            });
            if apart && Scheme::of(labs.map(|lab| Place::on(Wheel::Painters, lab.oklch()))).is_some() {
                best = best.max(super::super::harmony::weakest_pair(&labs).unwrap().2.score);
            }
        }
    }
    assert!((list[0].weakest - best).abs() < 1e-12);
}

#[test]
fn only_what_is_on_hand_joins_but_the_base_always_does() {
    let library = library();
    let usable: Vec<bool> = (0..library.len()).map(|i| i % 2 == 1).collect();
    let list = trios(&Ask { usable: Some(&usable), ..Ask::about(&library, &[4]) });
    assert!(!list.is_empty());
    assert!(list.iter().all(|trio| trio.swatches[0] == 4 && trio.swatches[1..].iter().all(|i| usable[*i])));
}

#[test]
fn leaving_papers_come_first() {
    let library = library();
    let plain = trios(&Ask::about(&library, &[4]));
    let mut leaving = vec![false; library.len()];
    let rare =
        (0..library.len()).find(|i| *i != 4 && plain.iter().all(|trio| !trio.swatches.contains(i))).unwrap();
    leaving[rare] = true;
    let list = trios(&Ask { leaving: Some(&leaving), ..Ask::about(&library, &[4]) });
    assert!(list[0].leaving && list[0].swatches.contains(&rare));
    let first_without = list.iter().position(|trio| !trio.leaving).unwrap_or(list.len());
    assert!(list[first_without..].iter().all(|trio| !trio.leaving));
}

#[test]
fn a_card_with_two_colours_is_given_a_third() {
    let library = library();
    let list = trios(&Ask { held: 2, ..Ask::about(&library, &[1, 25]) });
    assert!(!list.is_empty());
    for trio in &list {
        assert!(trio.swatches.contains(&1) && trio.swatches.contains(&25));
    }
    // No trio is named twice when several colours are asked about.
    let paper = trios(&Ask { most: 50, ..Ask::about(&library, &[1, 25, 30]) });
    let mut sets: Vec<[usize; 3]> = paper.iter().map(|trio| trio.swatches).collect();
    for set in &mut sets {
        set.sort_unstable();
    }
    let before = sets.len();
    sets.sort_unstable();
    sets.dedup();
    assert_eq!(before, sets.len());
}

#[test]
fn the_order_of_the_library_does_not_change_the_answer() {
    let library = library();
    let named = |swatches: &[Swatch], list: &[Trio]| -> Vec<Vec<String>> {
        list.iter().map(|trio| trio.swatches.iter().map(|i| swatches[*i].name.clone()).collect()).collect()
    };
    let plain = named(&library, &trios(&Ask::about(&library, &[4])));
    let mut turned = library.clone();
    turned.rotate_left(17);
    let base = turned.iter().position(|swatch| swatch.name == library[4].name).unwrap();
    assert_eq!(plain, named(&turned, &trios(&Ask::about(&turned, &[base]))));
}

#[test]
fn too_few_swatches_make_no_trio() {
    let library = library();
    assert!(trios(&Ask::about(&library[..2], &[0])).is_empty());
    assert!(trios(&Ask::about(&library, &[])).is_empty());
}

#[test]
fn the_reason_of_any_three_is_that_of_the_list() {
    let swatches: Vec<Swatch> = [[220, 207, 180], [79, 121, 66], [85, 42, 90], [92, 98, 104], [232, 154, 91]]
        .iter()
        .enumerate()
        .map(|(n, [r, g, b])| Swatch::from_screen(format!("s{n}"), "", Rgb8::new(*r, *g, *b)))
        .collect();
    let list = trios(&Ask::about(&swatches, &[0]));
    assert!(!list.is_empty());
    for trio in list {
        assert_eq!(reason_of(trio.swatches.map(|i| &swatches[i])), trio.reason(&swatches));
    }
}
