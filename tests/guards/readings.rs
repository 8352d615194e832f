//! Sizes read back, and shares told on the command line: what a person takes to the trimmer.

use crate::cli::{program, run, said};
use trimside::app::reading::size_words;
use trimside::domain::colour::space::Rgb8;
use trimside::domain::length::Unit;
use trimside::exchange::read::swatches::swatches;

/// The rule has 32nds: 2.4 in is 76.8 of them, 3.1 in 99.2. The nearest marks are 77 and 99; what covers the size ends at 77
/// and 100.
#[test]
fn at_least_this_size_is_the_mark_that_covers_it() {
    let read = |text: &str| size_words(text, Unit::Inch).unwrap();
    let text = read("2.4x3.1");
    assert!(text.contains("nearest marks 2 13/32 x 3 3/32"), "{text}");
    assert!(text.ends_with("at least this size: 2 13/32 x 3 1/8"), "{text}");
    assert!(read("2.41x3.13").ends_with("at least this size: 2 7/16 x 3 5/32"));
    for exact in ["2 13/32 x 3 1/8", "2x3"] {
        assert!(!read(exact).contains("at least"), "{exact}");
    }
    // The fence has 16ths: 38.4 and 49.6 of them, so 39 and 50.
    let asked = run("yield|at least 2.4x3.1|--sheet|letter");
    assert!(asked.out.contains("2 7/16 x 3 1/8 in from letter"), "{}", asked.out);
}

/// Three of 5 x 7 from letter: two on one sheet (70 of 93.5 sq in), one on the next, 105 of 187 in all.
#[test]
fn the_share_is_told_by_the_sheet_and_for_the_plan() {
    let home = tempfile::tempdir().unwrap();
    let file = |name: &str, text: &str| std::fs::write(home.path().join(name), text).unwrap();
    file("pieces.csv", "name,width,height,count,turn,sheet\ncard,5,7,3,yes,\n");
    file("sheets.csv", "name,width,height,available,cost\nletter,8.5,11,9,1\n");
    let ask = ["plan", "--pieces", "pieces.csv", "--sheets", "sheets.csv", "--work", "1"];
    let told = said(&program(home.path()).args(ask).output().unwrap()).out;
    assert!(told.contains("56 % of the paper is used"), "{told}");
    assert!(told.contains("75 % used") && told.contains("37 % used"), "{told}");
    let told = said(&program(home.path()).args(ask).arg("--json").output().unwrap()).out;
    let answer: serde_json::Value = serde_json::from_str(&told).unwrap();
    let mut shares: Vec<u64> =
        answer["sheets"].as_array().unwrap().iter().map(|s| s["used_percent"].as_u64().unwrap()).collect();
    shares.sort_unstable();
    assert_eq!(shares, [37, 75]);
    let one = run("yield|2x3|--sheet|letter");
    assert!(one.out.contains("used     90 % of the sheet"), "{}", one.out);
}

/// A list of colours may call its column either way.
#[test]
fn a_column_of_colours_may_be_spelled_either_way() {
    for column in ["hex", "colour", "color", "Color"] {
        let read = swatches(format!("name,{column}\nfern,#2f6b3c\n").as_bytes()).unwrap();
        assert_eq!((read.len(), read[0].hex), (1, Rgb8::new(0x2f, 0x6b, 0x3c)), "{column}");
    }
    assert!(swatches(b"name,colr\nfern,#2f6b3c\n").is_err());
}

/// So may the option that prints without them; what is no option is refused.
#[test]
fn an_option_of_colours_may_be_spelled_either_way() {
    for (option, code) in [("--no-colour", 0), ("--no-color", 0), ("--no-colr", 2)] {
        assert_eq!(run(&format!("print|{option}|--help")).code, code, "{option}");
    }
}
