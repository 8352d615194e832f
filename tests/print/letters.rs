//! Names in scripts that the print font lacks: letters of the machine's own fonts where it has them, else a box with the
//! code point; never a blank, never wider than the room kept, and always found by a search.

use super::render::{DPI, dots, picture_of, text_of};
use crate::skipped::{Needs, skip};
use std::collections::BTreeSet;
use trimside::domain::pages::measure::{Area, INCH, LetterWeight, MM, Um, points};
use trimside::domain::pages::page::Page;
use trimside::domain::pages::preview::lacking;
use trimside::domain::pages::text::{Style, bounds};
use trimside::exchange::write::letters::Letters;
use trimside::exchange::write::letters::OutlineStroke::{Close, Curve, Line, Move};
use trimside::exchange::write::pdf::pdf_with;
use trimside::persist::fonts;

/// "Snow crystal", "aleph bet", "ink" (Arabic), "paper" (Hindi), "card" (Thai), a fox.
const NAMES: [&str; 6] = ["雪の結晶", "אב גד", "حبر", "काग़ज़", "การ์ด", "🦊"];

fn page(weight: LetterWeight) -> (Page, Vec<Area>) {
    let mut page = Page::new("letters", 17 * INCH / 2, 11 * INCH);
    let style = Style { weight, ..Style::plain(points(40)) };
    let mut areas = Vec::new();
    for (n, name) in NAMES.iter().enumerate() {
        let words = style.at(30 * MM, (30 + 30 * n as Um) * MM, name);
        areas.push(bounds(&words));
        page.words(words);
    }
    (page, areas)
}

fn borrowed() -> Letters {
    let (page, _) = page(LetterWeight::Regular);
    Letters::gather(&lacking(&[page]), |take| fonts::each(take))
}

/// Share of each area that ink lies on, and how many dots of ink lie outside all of them; nothing without a renderer.
fn ink(page: &Page, areas: &[Area], letters: &Letters) -> Option<(Vec<f64>, usize)> {
    let picture = picture_of(&pdf_with(std::slice::from_ref(page), letters), 1)?;
    let (mut inside, mut outside) = (vec![0_usize; areas.len()], 0);
    for (x, y) in picture.inked() {
        let (x, y) = (x as Um * INCH / DPI, y as Um * INCH / DPI);
        let holds = |a: &Area| (a.x..=a.x + a.width).contains(&x) && (a.y..=a.bottom()).contains(&y);
        match areas.iter().position(holds) {
            Some(n) => inside[n] += 1,
            None => outside += 1,
        }
    }
    let share = |(n, a): (&usize, &Area)| *n as f64 / (dots(a.width) * dots(a.height));
    Some((inside.iter().zip(areas).map(share).collect(), outside))
}

#[test]
fn every_name_is_drawn_inside_its_room_and_found_with_and_without_fonts() {
    for (n, weight) in [LetterWeight::Regular, LetterWeight::Bold].into_iter().enumerate() {
        let (page, areas) = page(weight);
        let both = [Letters::default(), borrowed()].into_iter().enumerate();
        // A quick run has each weight with one of them.
        for (_, letters) in both.filter(|(at, _)| crate::effort::is_long() || *at == n) {
            let file = pdf_with(std::slice::from_ref(&page), &letters);
            let Some((inside, outside)) = ink(&page, &areas, &letters) else { return };
            assert_eq!(outside, 0, "{weight:?}");
            for (name, share) in NAMES.iter().zip(inside) {
                assert!(share > 0.02, "{name}: {share}");
            }
            let text = text_of(&file).unwrap();
            for name in ["雪の結晶", "🦊"] {
                assert!(text.contains(name), "{name} in {text}");
            }
            // Readers may hand a line from right to left back in the order of its script.
            let held: BTreeSet<char> = text.chars().collect();
            let all = NAMES.iter().flat_map(|name| name.chars());
            assert!(all.clone().filter(|c| *c != ' ').all(|c| held.contains(&c)), "{text}");
        }
    }
}

#[test]
fn a_machine_that_has_the_letters_draws_them_and_boxes_the_rest() {
    let letters = borrowed();
    let has = letters.characters();
    let (page, areas) = page(LetterWeight::Regular);
    let Some((boxed, _)) = ink(&page, &areas, &Letters::default()) else { return };
    let Some((drawn, _)) = ink(&page, &areas, &letters) else { return };
    for (name, (boxed, drawn)) in NAMES.iter().zip(boxed.iter().zip(&drawn)) {
        let is_there = name.chars().all(|c| c == ' ' || has.contains(&c));
        assert_eq!((boxed - drawn).abs() > 0.001, is_there, "{name}: {boxed} {drawn}");
    }
    if has.is_empty() {
        eprintln!("no font here has any of these letters (package fonts-dejavu-core has Hebrew)");
    }
}

#[test]
fn right_to_left_names_stand_in_the_order_of_their_script() {
    let letters = borrowed();
    if !letters.characters().contains(&'א') {
        skip(Needs::Tool("font"), "Hebrew letters, package fonts-dejavu-core");
        return;
    }
    // Lamed is the one letter that rises above the line of the others: as the last one it stands at the left end.
    let line =
        Letters::gather(&"אל".chars().collect(), |take| fonts::each(take)).outlines("אל", 1.2).unwrap();
    let places: Vec<(f32, f32)> = line
        .iter()
        .filter_map(|stroke| match stroke {
            Move(x, y) | Line(x, y) | Curve(_, _, _, _, x, y) => Some((*x, *y)),
            Close => None,
        })
        .collect();
    let highest = places.iter().copied().fold((0.0, 0.0), |a: (f32, f32), b| if b.1 > a.1 { b } else { a });
    let (left, right) = places.iter().fold((1.2_f32, 0.0_f32), |(l, r), p| (l.min(p.0), r.max(p.0)));
    assert!(left >= 0.0 && right <= 1.2, "{left} to {right}");
    assert!(highest.0 < (left + right) / 2.0, "{highest:?} between {left} and {right}");
}
