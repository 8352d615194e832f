//! A page as a small picture: dots of colour, for a preview that is too small for letters. Words are grey bars as long and
//! as high as they are on the page, lines and fills are where they are. Knows no screen.

use super::page::{Area, BLACK, Fill, Mark, Page, Point, Stroke, Um, WHITE};
use super::text;
use crate::domain::colour::space::Rgb8;

/// Dots a side that are averaged into one.
const FINE: usize = 3;

/// A picture: rows of dots from the top left.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DotPicture {
    /// Dots across.
    pub width: usize,
    /// Dots down.
    pub height: usize,
    dots: Vec<Rgb8>,
}

impl DotPicture {
    /// The colour of a dot; white outside.
    pub fn dot(&self, x: usize, y: usize) -> Rgb8 {
        if x < self.width { self.dots.get(y * self.width + x).copied().unwrap_or(WHITE) } else { WHITE }
    }
}

/// The largest picture of a page that fits so many dots, in the page's own proportions.
pub fn picture(page: &Page, most_wide: usize, most_high: usize) -> DotPicture {
    let (wide, high) = (page.width.max(1) as f64, page.height.max(1) as f64);
    let scale = (most_wide as f64 / wide).min(most_high as f64 / high);
    let width = ((wide * scale).round() as usize).clamp(1, most_wide.max(1));
    let height = ((high * scale).round() as usize).clamp(1, most_high.max(1));
    let mut canvas = Canvas::new(width * FINE, height * FINE, page);
    page.painted().for_each(|(_, mark)| canvas.draw(mark));
    DotPicture { width, height, dots: canvas.averaged(width, height) }
}

struct Canvas {
    width: usize,
    height: usize,
    across: f64,
    down: f64,
    dots: Vec<Rgb8>,
}

impl Canvas {
    fn new(width: usize, height: usize, page: &Page) -> Self {
        Self {
            width,
            height,
            across: width as f64 / page.width.max(1) as f64,
            down: height as f64 / page.height.max(1) as f64,
            dots: vec![WHITE; width * height],
        }
    }

    fn draw(&mut self, mark: &Mark) {
        match mark {
            Mark::Rect { area, fill, stroke } => {
                match fill {
                    Some(Fill::Colour(ink)) => self.fill(*area, *ink, 255),
                    Some(Fill::Hatch(hatch)) => {
                        hatch.lines(*area).into_iter().for_each(|(a, b)| self.line(a, b, Stroke::HATCH));
                    }
                    None => {}
                }
                if let Some(stroke) = stroke {
                    let Area { x, y, .. } = *area;
                    let (right, bottom) = (area.right(), area.bottom());
                    let corners = [(x, y), (right, y), (right, bottom), (x, bottom), (x, y)];
                    let corners = corners.map(|(x, y)| Point { x, y });
                    corners.windows(2).for_each(|two| self.line(two[0], two[1], *stroke));
                }
            }
            Mark::Path { points, closed, fill, stroke } => {
                if let Some(ink) = fill {
                    self.fill(mark.bounds(), *ink, 128);
                }
                if let Some(stroke) = stroke {
                    points.windows(2).for_each(|two| self.line(two[0], two[1], *stroke));
                    if let (true, Some(first), Some(last)) = (*closed, points.first(), points.last()) {
                        self.line(*last, *first, *stroke);
                    }
                }
            }
            Mark::Circle { middle, radius, stroke } => {
                let at = |turn: f64| Point {
                    x: middle.x + (*radius as f64 * turn.cos()) as Um,
                    y: middle.y + (*radius as f64 * turn.sin()) as Um,
                };
                let step = std::f64::consts::TAU / 16.0;
                (0..16)
                    .for_each(|n| self.line(at(step * f64::from(n)), at(step * f64::from(n + 1)), *stroke));
            }
            Mark::Words(words) => {
                let bounds = text::bounds(words);
                // From the letters' line up to small letters: about half of an em.
                let bar = if words.upward {
                    Area::new(words.at.x - words.size / 2, bounds.y, words.size / 2, bounds.height)
                } else {
                    Area::new(bounds.x, words.at.y - words.size / 2, bounds.width, words.size / 2)
                };
                self.fill(bar, words.ink, 150);
            }
            Mark::Code { at, module, modules } => {
                for row in 0..modules.side {
                    for column in (0..modules.side).filter(|c| modules.is_dark(*c, row)) {
                        let (x, y) = (at.x + module * i64::from(column), at.y + module * i64::from(row));
                        self.fill(Area::new(x, y, *module, *module), BLACK, 255);
                    }
                }
            }
        }
    }

    fn x(&self, um: Um) -> f64 {
        um as f64 * self.across
    }

    fn y(&self, um: Um) -> f64 {
        um as f64 * self.down
    }

    /// Fills an area, at least one dot, with so many 255ths of a colour.
    fn fill(&mut self, area: Area, ink: Rgb8, part: u8) {
        let (x0, y0) = (self.x(area.x).max(0.0) as usize, self.y(area.y).max(0.0) as usize);
        let x1 = (self.x(area.right()).max(0.0) as usize).max(x0 + 1).min(self.width);
        let y1 = (self.y(area.bottom()).max(0.0) as usize).max(y0 + 1).min(self.height);
        for y in y0..y1 {
            for x in x0..x1 {
                self.mix(x, y, ink, part);
            }
        }
    }

    fn mix(&mut self, x: usize, y: usize, ink: Rgb8, part: u8) {
        if x >= self.width {
            return;
        }
        let Some(dot) = self.dots.get_mut(y * self.width + x) else { return };
        let one = |under: u8, over: u8| {
            let (part, rest) = (u32::from(part), 255 - u32::from(part));
            ((u32::from(under) * rest + u32::from(over) * part) / 255) as u8
        };
        *dot = Rgb8::new(one(dot.r, ink.r), one(dot.g, ink.g), one(dot.b, ink.b));
    }

    /// A line of at least one dot's width.
    fn line(&mut self, from: Point, to: Point, stroke: Stroke) {
        let (x0, y0, x1, y1) = (self.x(from.x), self.y(from.y), self.x(to.x), self.y(to.y));
        let steps = (x1 - x0).abs().max((y1 - y0).abs()).ceil().clamp(1.0, 10_000.0);
        let thick = (self.x(stroke.width) as usize).max(1);
        for n in 0..=steps as usize {
            let part = n as f64 / steps;
            let (x, y) = (x0 + (x1 - x0) * part, y0 + (y1 - y0) * part);
            for more in 0..thick {
                let (dx, dy) = if (x1 - x0).abs() > (y1 - y0).abs() { (0, more) } else { (more, 0) };
                if x >= 0.0 && y >= 0.0 {
                    self.mix(x as usize + dx, y as usize + dy, stroke.ink, 255);
                }
            }
        }
    }

    fn averaged(&self, width: usize, height: usize) -> Vec<Rgb8> {
        let one = |x: usize, y: usize| {
            let mut sums = [0_u32; 3];
            for dy in 0..FINE {
                for dx in 0..FINE {
                    let dot = self.dots[(y * FINE + dy) * self.width + x * FINE + dx];
                    for (sum, part) in sums.iter_mut().zip([dot.r, dot.g, dot.b]) {
                        *sum += u32::from(part);
                    }
                }
            }
            let [r, g, b] = sums.map(|sum| (sum / (FINE * FINE) as u32) as u8);
            Rgb8::new(r, g, b)
        };
        (0..height).flat_map(|y| (0..width).map(move |x| (x, y))).map(|(x, y)| one(x, y)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::super::page::{Group, MM};
    use super::super::scale::FIGURE;
    use super::*;

    #[test]
    fn a_fill_is_where_it_is_and_the_rest_is_white() {
        let mut page = Page::new("a", 100 * MM, 200 * MM);
        let red = Rgb8::new(200, 0, 0);
        page.fill(Area::new(50 * MM, 100 * MM, 50 * MM, 50 * MM), Fill::Colour(red));
        let picture = picture(&page, 60, 60);
        // The page's own proportions: half as wide as high.
        assert_eq!((picture.width, picture.height), (30, 60));
        assert_eq!((picture.dot(20, 40), picture.dot(5, 40), picture.dot(20, 10)), (red, WHITE, WHITE));
        assert_eq!(picture.dot(99, 99), WHITE);
    }

    #[test]
    fn words_are_bars_and_lines_are_seen_however_thin() {
        let mut page = Page::new("a", 100 * MM, 100 * MM);
        page.words(FIGURE.at(10 * MM, 50 * MM, "eight letters"));
        page.line(Group::Cut, (0, 80 * MM), (100 * MM, 80 * MM), Stroke::THIN);
        let picture = picture(&page, 50, 50);
        let is_dark = |x, y| picture.dot(x, y).r < 230;
        assert!((22..25).any(|y| is_dark(7, y)) && !is_dark(7, 30), "the words' bar");
        assert!((38..42).any(|y| is_dark(25, y)), "the line");
    }

    #[test]
    fn a_picture_of_nothing_is_no_panic() {
        let page = Page::new("a", 0, 0);
        assert_eq!(picture(&page, 0, 0).dot(0, 0), WHITE);
    }
}
