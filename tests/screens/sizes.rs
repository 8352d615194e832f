//! Any size of screen at any time, any key at any time: no panic, and the book stays whole.

use super::harness::{Bench, WALK};
use crate::effort::is_long;
use trimside::app::action::Action;
use trimside::app::keys::{Key, KeyCode};

/// Widths and heights that are tried: around the least ones, those in use, very large ones; in a long run all small ones
/// and many large ones.
fn sides() -> (Vec<u16>, Vec<u16>) {
    if is_long() {
        let widths = (0..=130).chain((135..=300).step_by(15));
        return (widths.collect(), (0..=60).chain((65..=100).step_by(15)).collect());
    }
    let widths = [0, 1, 3, 24, 59, 60, 73, 80, 99, 120, 161, 300];
    (widths.into(), [0, 1, 3, 17, 18, 24, 37, 100].into())
}

#[test]
fn no_size_is_a_panic() {
    let views = [
        "",
        "v",
        "b",
        "2",
        "2 v",
        "2 v v v",
        "2 R z p",
        "P 'window' Enter 2 ] G z m",
        "3",
        "4",
        "4 v",
        "4 v v",
        "3 s Enter",
        "3 w 'red' Enter Space v",
        "?",
        ":",
        "p '5'",
        "s",
        "4 / 'x'",
        "Ctrl-p",
        "F4",
        "F3",
        "F2",
        ",",
        "T",
    ];
    let (widths, heights) = sides();
    for keys in views {
        let bench = Bench::demo().keys(keys);
        for &width in &widths {
            for &height in &heights {
                let (_, cursor) = bench.draw(width, height);
                if let Some(at) = cursor {
                    assert!(at.x < width && at.y < height, "{keys} at {width}x{height}: cursor {at:?}");
                }
            }
        }
    }
}

#[test]
fn under_the_minimum_one_sentence_says_what_is_needed_and_leaving_works() {
    let mut bench = Bench::demo();
    let text = bench.text(40, 10).replace('\n', " ");
    assert!(text.contains("60 x 18") && text.contains("40 x 10"), "{text}");
    bench.press("q");
    assert!(bench.has_left);
}

/// A small generator of our own, so that a walk can be walked again.
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) as usize) % n
    }
}

#[test]
fn a_random_walk_over_all_keys_keeps_the_book_whole() {
    for seed in 1..=crate::effort::cases(3, 6) {
        let (mut bench, mut dice) = (Bench::demo(), Dice(seed));
        for step in 0..1_200 {
            let key = match dice.below(4) {
                0 => Key::plain(WALK[dice.below(WALK.len())]),
                1 => Key::char(char::from(b'0' + dice.below(10) as u8)),
                2 => Key::ctrl(['a', 'e', 'u', 'w', 'd', 'r', 'k'][dice.below(7)]),
                _ => Key::char(char::from(b' ' + dice.below(95) as u8)),
            };
            bench.act(Action::Key(key));
            if step % 40 == 0 {
                let _ = bench.draw(60 + dice.below(120) as u16, 18 + dice.below(40) as u16);
            }
        }
        bench.model.book.check().unwrap();
    }
}

#[test]
fn escape_never_leaves_and_never_loses_work() {
    let mut bench = Bench::demo().keys("4 - '1' Enter");
    let log = bench.model.book.log().len();
    for _ in 0..10 {
        bench.act(Action::Key(Key::plain(KeyCode::Esc)));
    }
    assert!(!bench.has_left);
    assert_eq!(bench.model.book.log().len(), log);
    // The top layer first, then what narrows the list.
    for (keys, narrowed, all) in [
        ("4 / 'chalk' Enter", "\"chalk\"", "brick dust"),
        ("3 / 'green' Enter", "only \"green\"", "28 swatches"),
        ("4 ;", "chalk, letter", "kite tails"),
    ] {
        let mut bench = Bench::demo().keys(keys);
        if keys == "4 ;" {
            bench = Bench::demo().keys("4 j j j ;");
        }
        bench.press(":");
        bench.press("Esc");
        let screen = bench.text(100, 30);
        assert!(
            screen.contains(narrowed) && !screen.contains(all),
            "{keys}: Esc closed the finder only\n{screen}"
        );
        bench.press("Esc");
        let screen = bench.text(100, 30);
        assert!(screen.contains(all), "{keys}: Esc shows all again\n{screen}");
    }
}
