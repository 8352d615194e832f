use super::super::liking::{how_chosen, times};
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

fn labs(library: &[Swatch], three: [usize; 3]) -> [Lab; 3] {
    three.map(|i| library[i].lab)
}

fn liked(library: &[Swatch], i: usize, j: usize) -> f64 {
    Liking::shipped().pair(&Shade::of(library[i].lab), &Shade::of(library[j].lab))
}

#[test]
fn the_list_falls_by_its_weakest_liked_pair() {
    let library = library();
    for base in [0, 7, 20, 49] {
        let list = trios(&TrioQuestion::about(&library, &[base]));
        assert_eq!(list.len(), 9);
        assert!(list.windows(2).all(|w| w[0].liked.weakest >= w[1].liked.weakest));
        for trio in &list {
            let [a, b, c] = trio.swatches;
            assert!(a == base && b != c && b != base && c != base);
            assert_eq!(trio.liked.pairs, [(a, b), (a, c), (b, c)].map(|(i, j)| liked(&library, i, j)));
            assert_eq!(trio.liked.weakest, trio.liked.pairs.iter().copied().fold(f64::MAX, f64::min));
            assert!(trio.short.scheme.is_none());
            let (_, _, harmony) =
                super::super::harmony::weakest_pair(&labs(&library, trio.swatches)).unwrap();
            assert!(
                (trio.weakest - harmony.score).abs() < 1e-12,
                "the published model's figure is a second opinion"
            );
        }
    }
}

#[test]
fn the_reason_names_the_weakest_pair_and_the_figures_both_models() {
    let library = library();
    for trio in &trios(&TrioQuestion::about(&library, &[4])) {
        let [i, j] = trio.liked.pair;
        assert_eq!(liked(&library, i, j), trio.liked.weakest);
        let said = trio.said(|n| library[n].name.clone());
        for words in [&said.reason, &said.figures] {
            assert!(words.contains(&library[i].name) && words.contains(&library[j].name), "{words}");
        }
        assert!(said.reason.contains(how_chosen(trio.liked.weakest)), "{}", said.reason);
        let figures = said.figures;
        assert!(
            figures.contains(&times(trio.liked.weakest)) && figures.ends_with(trio.term.name()),
            "{figures}"
        );
    }
}

/// Every trio worked out and sorted, with one guest beside the other as they come.
fn all_in_order(library: &[Swatch], base: usize) -> Vec<(f64, [usize; 3])> {
    let mut all = Vec::new();
    for i in (0..library.len()).filter(|i| *i != base) {
        for j in (i + 1..library.len()).filter(|j| *j != base) {
            if are_apart(labs(library, [base, i, j]), ONE_COLOUR) {
                let weakest = [(base, i), (base, j), (i, j)].map(|(x, y)| liked(library, x, y));
                all.push((weakest.into_iter().fold(f64::MAX, f64::min), [base, i, j]));
            }
        }
    }
    all.sort_by(|x, y| y.0.total_cmp(&x.0));
    all
}

#[test]
fn the_walk_gives_the_order_of_all_that_count() {
    let library = library();
    for base in [3, 10, 48] {
        let all = all_in_order(&library, base);
        let list = trios(&TrioQuestion { most: 200, ..TrioQuestion::about(&library, &[base]) });
        assert_eq!(list.len(), 200);
        for (trio, (weakest, _)) in list.iter().zip(&all) {
            assert_eq!(trio.liked.weakest, *weakest);
        }
    }
}

#[test]
fn a_varied_list_is_the_order_with_likes_passed_over() {
    let library = library();
    for base in [3, 10, 48] {
        let order = trios(&TrioQuestion { most: 500, ..TrioQuestion::about(&library, &[base]) });
        let mut want: Vec<[usize; 3]> = Vec::new();
        let families = |three: [usize; 3]| {
            let mut all = three.map(|i| sector(library[i].lab.oklch()));
            all.sort_unstable();
            all
        };
        for trio in &order {
            let shared = |shown: &[usize; 3]| trio.swatches.iter().filter(|i| shown.contains(i)).count();
            let is_like =
                |shown: &[usize; 3]| shared(shown) >= 2 || families(*shown) == families(trio.swatches);
            if want.len() < 9 && !want.iter().any(is_like) {
                want.push(trio.swatches);
            }
        }
        let list = trios(&TrioQuestion { varied: true, ..TrioQuestion::about(&library, &[base]) });
        assert_eq!(list.iter().map(|t| t.swatches).collect::<Vec<_>>(), want);
        assert_eq!(list[0], order[0]);
    }
}

#[test]
fn a_scheme_filters_and_one_that_cannot_be_had_gives_the_nearest() {
    let library = library();
    for scheme in Scheme::ALL {
        let list = trios(&TrioQuestion { scheme: Some(scheme), ..TrioQuestion::about(&library, &[10]) });
        assert!(!list.is_empty());
        assert!(list.iter().all(|t| t.short.scheme.is_none() == (t.scheme == scheme)), "{scheme:?}");
    }
    let greys = &library[48..];
    let list = trios(&TrioQuestion { scheme: Some(Scheme::Triad), ..TrioQuestion::about(greys, &[0]) });
    assert!(
        !list.is_empty()
            && list
                .iter()
                .all(|t| t.short.scheme == Some(Scheme::Triad) && t.scheme == Scheme::Monochromatic)
    );
}

#[test]
fn three_colours_always_make_a_trio() {
    // Three shades that nobody could tell apart.
    let close: Vec<Swatch> =
        (0..3_u8).map(|n| Swatch::from_screen(format!("s{n}"), "", Rgb8::new(100 + n, 90, 80))).collect();
    let list = trios(&TrioQuestion::about(&close, &[1]));
    assert!(list.len() == 1 && !list[0].distinct.normal);
    // Whatever three are held of a library, trios are made of them.
    let library = library();
    for first in 0..16 {
        let held: Vec<bool> = (0..library.len()).map(|i| i % 16 == first).collect();
        let base = first;
        for scheme in [None, Some(Scheme::Triad), Some(Scheme::SplitComplementary)] {
            let list = trios(&TrioQuestion {
                usable: Some(&held),
                scheme,
                ..TrioQuestion::about(&library, &[base])
            });
            assert!(
                list.iter().any(|t| t.to_buy.is_none() || t.short.scheme.is_some() || scheme.is_some()),
                "{base} {scheme:?}"
            );
            assert!(!list.is_empty());
        }
    }
}

#[test]
fn choices_move_pairs_a_little_and_none_leave_the_order_alone() {
    let library = library();
    let plain = trios(&TrioQuestion::about(&library, &[4]));
    let empty = Habits::default();
    assert_eq!(trios(&TrioQuestion { habits: Some(&empty), ..TrioQuestion::about(&library, &[4]) }), plain);
    let mut habits = Habits::default();
    let last = plain.last().unwrap();
    for _ in 0..4 {
        habits.note(&last.swatches.map(|i| library[i].lab.oklch()), super::super::habits::Choice::Kept);
    }
    let list = trios(&TrioQuestion { habits: Some(&habits), ..TrioQuestion::about(&library, &[4]) });
    let moved = list.iter().find(|t| t.swatches == last.swatches).unwrap();
    assert!((moved.liked.weakest - last.liked.weakest - super::super::habits::MOST).abs() < 1e-12);
    let reason = moved.said(|n| library[n].name.clone()).reason;
    assert!(reason.contains("(you keep "), "{reason}");
    let place = |list: &[Trio]| list.iter().position(|t| t.swatches == last.swatches);
    assert!(place(&list) < place(&plain));
    let gone = trios(&TrioQuestion {
        dismissed: &[[last.swatches[2], last.swatches[0], last.swatches[1]]],
        ..TrioQuestion::about(&library, &[4])
    });
    assert!(gone.iter().all(|t| t.swatches != last.swatches) && gone[..8] == plain[..8]);
}

#[test]
fn what_is_on_hand_comes_first_then_one_to_buy() {
    let library = library();
    let usable: Vec<bool> = (0..library.len()).map(|i| i % 2 == 1).collect();
    let list = trios(&TrioQuestion { usable: Some(&usable), ..TrioQuestion::about(&library, &[4]) });
    assert_eq!(list.len(), 9 + TO_BUY);
    let on_hand = |trio: &Trio| trio.swatches[0] == 4 && trio.swatches[1..].iter().all(|i| usable[*i]);
    assert!(list[..9].iter().all(|trio| on_hand(trio) && trio.to_buy.is_none()), "the base always may");
    for trio in &list[9..] {
        let missing: Vec<usize> = trio.swatches[1..].iter().copied().filter(|i| !usable[*i]).collect();
        assert_eq!(missing, [trio.to_buy.unwrap()]);
    }
}

#[test]
fn what_is_seldom_chosen_is_only_the_nearest_that_can_be_done() {
    let library = library();
    let greys = library[48..].to_vec();
    let vivid: Vec<Swatch> = [0x66_ff00, 0xff_00aa, 0xff_6600, 0x5a_3a1a, 0x00_e0ff, 0x80_8080]
        .into_iter()
        .map(|v: u32| Rgb8::new((v >> 16) as u8, (v >> 8 & 255) as u8, (v & 255) as u8))
        .map(|hex| Swatch::from_screen(hex.to_string(), "", hex))
        .collect();
    let mut counted = [0, 0];
    for all in [&library, &greys, &vivid, &vivid[..3].to_vec()] {
        let held: Vec<bool> = (0..all.len()).map(|i| i % 3 != 1).collect();
        for base in 0..all.len() {
            let bases = [base];
            let usual = TrioQuestion::about(all, &bases);
            for ask in [
                usual,
                TrioQuestion { varied: true, ..usual },
                TrioQuestion { usable: Some(&held), ..usual },
                TrioQuestion { leaving: Some(&held), scheme: Some(Scheme::Triad), ..usual },
            ] {
                let list = trios(&ask);
                assert!(!list.is_empty(), "{base} of {}", all.len());
                for trio in &list {
                    assert_eq!(trio.short.seldom, trio.liked.weakest < 0.8_f64.ln());
                    assert_eq!(trio.short.words().is_some(), trio.short.is_nearest());
                    counted[usize::from(trio.short.seldom)] += 1;
                }
                for (is_bought, leaves) in [(false, true), (false, false), (true, true), (true, false)] {
                    let of = |t: &&Trio| t.to_buy.is_some() == is_bought && t.leaving == leaves;
                    let part: Vec<&Trio> = list.iter().filter(of).collect();
                    let first = part.iter().position(|t| t.short.seldom).unwrap_or(part.len());
                    assert!(
                        part[first..].iter().all(|t| t.short.seldom),
                        "none that goes together behind them"
                    );
                }
            }
        }
    }
    assert!(counted[0] > 100 && counted[1] > 100, "{counted:?}");
}

#[test]
fn an_empty_list_has_a_reason() {
    use super::said::{NoTrio, why_none};
    let library = library();
    let two = &library[..2];
    assert_eq!(why_none(&TrioQuestion::about(two, &[0])), NoTrio::TooFew(2));
    assert_eq!(why_none(&TrioQuestion::about(&library, &[])), NoTrio::NoBase);
    let none = vec![false; library.len()];
    let on_hand = TrioQuestion { usable: Some(&none), ..TrioQuestion::about(&library, &[0]) };
    assert!(trios(&on_hand).is_empty());
    assert_eq!(why_none(&on_hand), NoTrio::NotOnHand);
    let three = &library[..3];
    let dismissed = TrioQuestion { dismissed: &[[2, 0, 1]], ..TrioQuestion::about(three, &[0]) };
    assert!(trios(&dismissed).is_empty());
    assert_eq!(why_none(&dismissed), NoTrio::Dismissed);
}

#[test]
fn leaving_papers_come_first() {
    let library = library();
    let plain = trios(&TrioQuestion::about(&library, &[4]));
    let mut leaving = vec![false; library.len()];
    let is_new = |i: &usize| plain.iter().all(|trio| !trio.swatches.contains(i));
    // One that can be told apart from the base.
    let far = |i: &usize| ciede2000(library[*i].lab, library[4].lab) > 2.0 * APART;
    let rare = (0..library.len()).find(|i| is_new(i) && far(i)).unwrap();
    leaving[rare] = true;
    let list = trios(&TrioQuestion { leaving: Some(&leaving), ..TrioQuestion::about(&library, &[4]) });
    assert!(list[0].leaving && list[0].swatches.contains(&rare));
    let first_without = list.iter().position(|trio| !trio.leaving).unwrap_or(list.len());
    assert!(list[first_without..].iter().all(|trio| !trio.leaving));
}

#[test]
fn a_card_with_two_colours_is_given_a_third() {
    let library = library();
    let list = trios(&TrioQuestion { held: 2, ..TrioQuestion::about(&library, &[1, 25]) });
    assert!(!list.is_empty());
    for trio in &list {
        assert!(trio.swatches.contains(&1) && trio.swatches.contains(&25));
    }
    // No trio is named twice when several colours are asked about.
    let paper = trios(&TrioQuestion { most: 50, ..TrioQuestion::about(&library, &[1, 25, 30]) });
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
    let plain = named(&library, &trios(&TrioQuestion::about(&library, &[4])));
    let mut turned = library.clone();
    turned.rotate_left(17);
    let base = turned.iter().position(|swatch| swatch.name == library[4].name).unwrap();
    assert_eq!(plain, named(&turned, &trios(&TrioQuestion::about(&turned, &[base]))));
}

#[test]
fn too_few_swatches_make_no_trio() {
    let library = library();
    assert!(trios(&TrioQuestion::about(&library[..2], &[0])).is_empty());
    assert!(trios(&TrioQuestion::about(&library, &[])).is_empty());
}

#[test]
fn the_reason_of_any_three_is_that_of_the_list() {
    let swatches: Vec<Swatch> = [[220, 207, 180], [79, 121, 66], [85, 42, 90], [92, 98, 104], [232, 154, 91]]
        .iter()
        .enumerate()
        .map(|(n, [r, g, b])| Swatch::from_screen(format!("s{n}"), "", Rgb8::new(*r, *g, *b)))
        .collect();
    let list = trios(&TrioQuestion::about(&swatches, &[0]));
    assert!(!list.is_empty());
    for trio in list {
        assert_eq!(
            said::words_of(trio.swatches.map(|i| &swatches[i])),
            trio.said(|i| swatches[i].name.clone())
        );
    }
}

#[test]
fn where_not_every_trio_can_be_looked_at_the_list_stands_and_says_so() {
    // One colour to the eye, so that no list of three colours is ever full.
    let greys: Vec<Swatch> = (0..200_u8)
        .map(|n| Swatch::from_screen(format!("g{n}"), "", Rgb8::new(120 + n % 2, 120, 120)))
        .collect();
    let ask = TrioQuestion::about(&greys, &[3]);
    let all = trios(&ask);
    assert!(all.len() == 9 && all.iter().all(|t| t.all_seen));
    let some = trios(&TrioQuestion { looks: 5_000, ..ask });
    assert!(some.len() == 9 && some.iter().all(|t| !t.all_seen));
}
