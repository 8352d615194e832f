//! How long pages take: a chart of 500 swatches and a run of 200 labels, from values to bytes.
#![allow(missing_docs)]
#![allow(clippy::unwrap_used)]

use trimside::domain::colour::space::Rgb8;
use trimside::domain::length::Unit;
use trimside::domain::pages::frame::Setup;
use trimside::domain::pages::label_sheet::find;
use trimside::domain::pages::labels::{self, Label, LabelRun};
use trimside::domain::pages::swatches::{self, Chip};
use trimside::exchange::write::{pdf::pdf, svg::svg};

fn main() {
    divan::main();
}

fn ink(n: usize) -> Rgb8 {
    Rgb8::new((n * 7 % 256) as u8, (n * 31 % 256) as u8, (n * 53 % 256) as u8)
}

fn chips(count: usize) -> Vec<Chip> {
    let chip = |n: usize| Chip {
        numbers: vec![("sheet".into(), format!("{}", 1000 + n)), ("ink".into(), format!("{}", 5000 + n))],
        ..Chip::plain(format!("fern number {n}"), ["green", "blue", "red"][n % 3], ink(n))
    };
    (0..count).map(chip).collect()
}

fn label_list(count: usize) -> Vec<Label> {
    let label = |n| Label {
        name: format!("fern number {n}"),
        lines: vec![format!("sheet {} · ink {}", 1000 + n, 5000 + n), "green".into()],
        ink: Some(ink(n)),
    };
    (0..count).map(label).collect()
}

#[divan::bench]
fn swatch_chart_of_500_to_pdf(bencher: divan::Bencher<'_, '_>) {
    let chips = chips(500);
    bencher.bench(|| pdf(&swatches::pages(&Setup::default(), &chips)).len());
}

#[divan::bench]
fn swatch_chart_of_500_to_svg(bencher: divan::Bencher<'_, '_>) {
    let chips = chips(500);
    let draw = || swatches::pages(&Setup::default(), &chips).iter().map(|p| svg(p).len()).sum::<usize>();
    bencher.bench(draw);
}

#[divan::bench]
fn run_of_200_labels_to_pdf(bencher: divan::Bencher<'_, '_>) {
    let list = label_list(200);
    let sheet = find("letter 30", &[]).unwrap();
    bencher.bench(|| pdf(&labels::pages(sheet, &list, &LabelRun::default(), Unit::Inch).unwrap()).len());
}
