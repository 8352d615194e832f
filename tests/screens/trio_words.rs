//! What the Palette pane says of trios: in everyday words, whole, with figures on request; and what would do where there is none.

use super::harness::Bench;
use super::palette::with_files;
use trimside::app::facts;
use trimside::app::panes::palette::words::trio_reason;

fn bench(keys: &str) -> Bench {
    Bench::demo().keys(&with_files(keys))
}

/// A library of these colours, nothing of them on the shelf.
fn library(names: &[(&str, u32)]) -> Bench {
    let add = |(name, hex): &(&str, u32)| format!("n '{name}, #{hex:06x}' Enter ");
    Bench::empty().keys(&format!("3 {}g", names.iter().map(add).collect::<String>()))
}

const FEW: [(&str, u32); 4] =
    [("oat", 0xd9_cbb0), ("moss", 0x5f_7345), ("lime", 0x66_ff00), ("ash", 0x80_8080)];

#[test]
fn every_empty_list_of_trios_says_why_and_what_would_do() {
    let words = |bench: &Bench| {
        let screen = bench.text(200, 40).split_whitespace().collect::<Vec<_>>().join(" ");
        let text = facts::as_text(&bench.model);
        (screen, text)
    };
    let says = |bench: &Bench, wanted: &str| {
        let (screen, text) = words(bench);
        assert!(bench.model.palette.trios.is_empty(), "{screen}");
        assert!(screen.contains(wanted) && text.contains(wanted), "{wanted}: {screen}");
    };
    assert!(words(&Bench::empty().keys("3")).0.contains("No swatches yet. Press n to add one"));
    says(&library(&FEW[..1]), "there is 1: n adds two more");
    says(&library(&FEW[..2]), "there are 2: n adds one more");
    let mut three = library(&FEW[..3]);
    assert_eq!(three.model.palette.trios.len(), 1, "three colors make a trio");
    three.press("z o");
    says(&three, "Nothing on your shelf goes with oat: z o lets every color join.");
    three.press("z o z x");
    says(&three, "You dismissed every trio with oat: z t brings them back");
    three.press("z g 'card' Enter");
    says(&three, "The card in hand has no color yet: z g lets");
    let greys = library(&[("white", 0xf4_f4f4), ("ash", 0x80_8080), ("soot", 0x22_2222)]);
    assert_eq!(greys.model.palette.trios.len(), 1, "three neutrals make a trio");
}

#[test]
fn a_pane_lists_what_is_seldom_chosen_only_under_the_nearest_that_can_be_done() {
    let bench = library(&FEW);
    let all = &bench.model.palette.trios;
    let seldom = |t: &trimside::app::state::trio::Listed| t.verdict.as_ref().unwrap().said.short.seldom;
    let first = all.iter().position(seldom).unwrap();
    assert!(all[first..].iter().all(seldom), "behind all others");
    let (screen, text) = (bench.text(120, 40), facts::as_text(&bench.model));
    let head = screen.lines().position(|l| l.contains("Nearest that can be done:")).unwrap();
    for (n, trio) in all.iter().enumerate() {
        let names: Vec<&str> = trio.swatches[1..].iter().map(|id| bench.model.palette.name(*id)).collect();
        let row = screen.lines().position(|l| l.contains(&names.join(", "))).unwrap();
        assert_eq!(row > head, n >= first, "{names:?}\n{screen}");
        let line = text
            .lines()
            .find(|l| l.contains(&trio.swatches.map(|id| bench.model.palette.name(id)).join(", ")))
            .unwrap();
        assert_eq!(line.starts_with("nearest trio"), n >= first, "{line}");
    }
}

#[test]
fn figures_stand_on_request_and_everyday_words_otherwise() {
    let mut bench = bench("3 / 'fern' Enter ]");
    let science = ["as chance", "harmony model", "held back", "dE00", "Lab ", "as it stands"];
    for (width, height) in [(80, 24), (160, 50)] {
        let screen = bench.text(width, height) + &facts::as_text(&bench.model);
        for word in science {
            assert!(!screen.contains(word), "{word}: {screen}");
        }
        assert!(screen.contains("weakest pair"), "{screen}");
    }
    bench.press("z f");
    for screen in [bench.text(80, 24), bench.text(160, 50), facts::as_text(&bench.model)] {
        assert!(screen.contains("chosen together") || screen.contains("are chosen"), "{screen}");
    }
    let text = facts::as_text(&bench.model);
    assert!(text.contains("harmony model, weakest pair") && text.contains("Lab "), "{text}");
}

#[test]
fn nothing_but_what_is_longer_than_its_place_is_cut_at_80_by_24() {
    // The right side; the hint line and the header have rules of their own.
    for keys in [
        "3",
        "3 ] ] ]",
        "3 / 'fern' Enter z f ]",
        "3 / 'soot' Enter z o",
        "3 i 'PHOTO' Enter",
        "3 z i 'PHOTO' Enter ]",
    ] {
        let screen = bench(keys).text(80, 24);
        for line in screen.lines().skip(2).take(19) {
            let right: String = line.chars().skip(40).collect();
            assert!(!right.contains('\u{2026}'), "{keys}: {screen}");
        }
    }
}

/// Warnings stand before reasons, so that a small window, which has no room for all that is said of a trio, shows them.
#[test]
fn a_warning_of_a_trio_is_never_what_has_no_room() {
    let bench = bench("3");
    let pane = &bench.model.palette;
    let is_warning = |words: &str| {
        words.contains("may not tell them apart")
            || words.contains("colors are close")
            || words.contains("hardly ever chosen")
    };
    let mut warned = 0;
    for trio in &pane.trios {
        let parts = trio_reason(&bench.model.book, pane, trio);
        let parts: Vec<&String> = parts.iter().filter(|part| !part.starts_with("note: ")).collect();
        let last = parts.iter().rposition(|part| is_warning(part));
        let others = parts.iter().position(|part| part.contains("hue") || part.contains("neutral"));
        if let (Some(last), Some(others)) = (last, others) {
            assert!(last < others, "{parts:?}");
            warned += 1;
        }
    }
    assert!(warned > 0, "the demo has some");
}
