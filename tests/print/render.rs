//! The renderer: pages to pictures and to text, by poppler's command line tools.

use crate::skipped::{Needs, skip};
use std::process::Command;
use trimside::domain::pages::page::{INCH, Page, Um};
use trimside::exchange::write::pdf::pdf;

/// Dots an inch of every picture.
pub const DPI: i64 = 300;

/// A rendered page, or a band of one: its dots keep their places on the page.
pub struct Picture {
    pub width: usize,
    /// Rows of the page above the band.
    above: usize,
    /// A binary PPM: a head, then three bytes a dot.
    file: Vec<u8>,
    /// Bytes of the head.
    head: usize,
}

/// A place on a page in dots.
pub fn dots(um: Um) -> f64 {
    um as f64 * DPI as f64 / INCH as f64
}

impl Picture {
    pub fn rgb(&self, x: usize, y: usize) -> [u8; 3] {
        let at = self.head + 3 * ((y - self.above) * self.width + x);
        [self.file[at], self.file[at + 1], self.file[at + 2]]
    }

    /// The colour at a place of the page.
    pub fn colour_at(&self, x: Um, y: Um) -> [u8; 3] {
        self.rgb(dots(x) as usize, dots(y) as usize)
    }

    /// Every dot that ink lies on, by column and row.
    pub fn inked(&self) -> impl Iterator<Item = (usize, usize)> + '_ {
        let count = (self.file.len() - self.head) / 3;
        let dots = (0..count).map(|n| (n % self.width, n / self.width + self.above));
        dots.filter(|(x, y)| self.darkness(*x, *y) > 0.5)
    }

    /// How dark a dot is: 0 white, 1 black.
    fn darkness(&self, x: usize, y: usize) -> f64 {
        let [r, g, b] = self.rgb(x, y).map(f64::from);
        1.0 - (r + g + b) / 765.0
    }

    /// Middles of the dark runs along a row, in dots: where upright lines cross it.
    pub fn lines_across(&self, y: Um, from: Um, to: Um) -> Vec<f64> {
        let row = dots(y) as usize;
        middles(dots(from) as usize..dots(to) as usize, |x| self.darkness(x, row))
    }

    /// Middles of the dark runs down a column, in dots: where lying lines cross it.
    pub fn lines_down(&self, x: Um, from: Um, to: Um) -> Vec<f64> {
        let column = dots(x) as usize;
        middles(dots(from) as usize..dots(to) as usize, |y| self.darkness(column, y))
    }
}

/// Weighted middles of runs darker than a tenth, plus half a dot: a dot's own middle.
fn middles(range: std::ops::Range<usize>, darkness: impl Fn(usize) -> f64) -> Vec<f64> {
    let (mut found, mut weight, mut moment) = (Vec::new(), 0.0, 0.0);
    for at in range {
        let dark = darkness(at);
        if dark > 0.1 {
            weight += dark;
            moment += dark * (at as f64 + 0.5);
        } else if weight > 0.0 {
            found.push(moment / weight);
            (weight, moment) = (0.0, 0.0);
        }
    }
    // A line on the edge of the paper has no light dot after it.
    if weight > 0.0 {
        found.push(moment / weight);
    }
    found
}

fn run(program: &str, args: &[&str], input: &[u8]) -> Option<Vec<u8>> {
    let dir = tempfile::tempdir().expect("a folder for a test");
    let file = dir.path().join("pages.pdf");
    std::fs::write(&file, input).expect("writing a test's file");
    let mut command = Command::new(program);
    let output = command.args(args).arg(&file).arg("-").output();
    let Ok(output) = output else {
        skip(Needs::Poppler, program);
        return None;
    };
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(output.status.success() && said.is_empty(), "{program} complains: {said}");
    Some(output.stdout)
}

/// One page of a file as a picture; `None` where the renderer is not installed.
pub fn picture_of(file: &[u8], page: usize) -> Option<Picture> {
    rendered(file, page, DPI, &[]).map(|file| read_ppm(file, 0))
}

/// The first page of some pages between two heights: all of it is drawn, and only this much is kept.
pub fn band(pages: &[Page], top: Um, bottom: Um) -> Option<Picture> {
    let (above, rows) = (dots(top) as usize, dots(bottom - top).ceil() as usize);
    let width = dots(pages[0].width).ceil() as usize;
    let part = [("-x", 0), ("-y", above), ("-W", width), ("-H", rows)];
    rendered(&pdf(pages), 1, DPI, &part).map(|file| read_ppm(file, above))
}

/// Whether the first page of some pages is drawn without a complaint; `None` where the renderer is not installed.
pub fn is_drawn(pages: &[Page]) -> Option<bool> {
    let small = read_ppm(rendered(&pdf(pages), 1, DPI / 6, &[])?, 0);
    Some(small.inked().next().is_some())
}

/// The bytes of the picture that the renderer makes of a page, or of a part of it.
fn rendered(file: &[u8], page: usize, dpi: i64, part: &[(&str, usize)]) -> Option<Vec<u8>> {
    let (page, dpi) = (page.to_string(), dpi.to_string());
    let args = ["-r", &dpi, "-f", &page, "-l", &page, "-singlefile", "-q"];
    let dir = tempfile::tempdir().expect("a folder for a test");
    let source = dir.path().join("pages.pdf");
    std::fs::write(&source, file).expect("writing a test's file");
    let target = dir.path().join("page");
    let mut command = Command::new("pdftoppm");
    command.args(args);
    for (name, value) in part {
        command.args([name, &*value.to_string()]);
    }
    let Ok(output) = command.arg(&source).arg(&target).output() else {
        skip(Needs::Poppler, "pdftoppm");
        return None;
    };
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(output.status.success() && said.is_empty(), "pdftoppm complains: {said}");
    Some(std::fs::read(dir.path().join("page.ppm")).expect("the picture"))
}

/// A binary PPM: `P6`, width, height, 255, then the dots.
fn read_ppm(file: Vec<u8>, above: usize) -> Picture {
    let mut at = 0;
    let mut word = || {
        let end = file[at..].iter().position(u8::is_ascii_whitespace).expect("a head") + at;
        let word = String::from_utf8_lossy(&file[at..end]).into_owned();
        at = end + 1;
        word
    };
    assert_eq!(word(), "P6");
    let (width, height): (usize, usize) =
        (word().parse().expect("a width"), word().parse().expect("a height"));
    assert_eq!(word(), "255");
    assert_eq!(file.len() - at, 3 * width * height);
    Picture { width, above, head: at, file }
}

/// The first page of some pages as a picture.
pub fn picture(pages: &[Page]) -> Option<Picture> {
    picture_of(&pdf(pages), 1)
}

/// The text of some pages as a reader finds it.
pub fn text(pages: &[Page]) -> Option<String> {
    text_of(&pdf(pages))
}

/// The text of a file as a reader finds it.
pub fn text_of(file: &[u8]) -> Option<String> {
    let out = run("pdftotext", &["-layout", "-enc", "UTF-8"], file)?;
    Some(String::from_utf8(out).expect("UTF-8"))
}

/// What a tool says about a file: `pdfinfo`, `pdffonts`.
pub fn says(program: &str, file: &[u8]) -> Option<String> {
    let dir = tempfile::tempdir().expect("a folder for a test");
    let source = dir.path().join("pages.pdf");
    std::fs::write(&source, file).expect("writing a test's file");
    let Ok(output) = Command::new(program).arg(&source).output() else {
        skip(Needs::Poppler, program);
        return None;
    };
    Some(String::from_utf8_lossy(&output.stdout).into_owned())
}

/// A word as an independent reader finds it.
pub struct Word {
    pub page: usize,
    /// Width and height of its page in points.
    pub page_size: (f64, f64),
    /// Left, top, right, bottom in points.
    pub bounds: [f64; 4],
    pub text: String,
}

/// The words of some pages with the boxes that they lie in.
pub fn words(pages: &[Page]) -> Option<Vec<Word>> {
    let out = run("pdftotext", &["-bbox", "-enc", "UTF-8"], &pdf(pages))?;
    let text = String::from_utf8(out).expect("UTF-8");
    let number = |line: &str, name: &str| {
        let from = line.find(&format!("{name}=\"")).expect("a number") + name.len() + 2;
        let rest = &line[from..];
        rest[..rest.find('"').expect("its end")].parse::<f64>().expect("a number")
    };
    let (mut found, mut page, mut page_size) = (Vec::new(), 0, (0.0, 0.0));
    for line in text.lines().map(str::trim) {
        if line.starts_with("<page") {
            page += 1;
            page_size = (number(line, "width"), number(line, "height"));
        } else if line.starts_with("<word") {
            let bounds = ["xMin", "yMin", "xMax", "yMax"].map(|name| number(line, name));
            let from = line.find('>').expect("a tag") + 1;
            let to = line.rfind("</word>").expect("its end");
            found.push(Word { page, page_size, bounds, text: line[from..to].to_owned() });
        }
    }
    Some(found)
}
