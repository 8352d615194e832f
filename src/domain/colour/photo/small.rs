//! A picture made small enough for a screen of cells, with the place where each of its colours was found. Knows pixels and
//! colours, not swatches.

use super::picture::{Picture, quick_lab};
use crate::domain::colour::space::{Lab, Linear, Rgb8};

/// The most dots across and down: two to a cell of a large window.
const MOST: (usize, usize) = (160, 120);

/// A small picture: dots row by row from the top left.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SmallPicture {
    /// Dots across.
    pub width: usize,
    /// Dots down.
    pub height: usize,
    /// What each shows, as photographed.
    pub dots: Vec<Rgb8>,
    /// Which of the colours found each belongs to, counted from 0; `None` for what is none of them.
    pub of: Vec<Option<u8>>,
}

impl SmallPicture {
    /// A picture made small; `of` says which colour a pixel belongs to. A dot is the mean of its pixels, and belongs to the
    /// colour that most of them do.
    pub fn of(picture: &Picture, of: impl Fn(usize) -> Option<u8>) -> Self {
        let (width, height) = sides(picture.width, picture.height);
        let mut small = Self { width, height, dots: Vec::new(), of: Vec::new() };
        for y in 0..height {
            for x in 0..width {
                let (dot, belongs) = block(picture, (x, y), (width, height), &of);
                small.dots.push(dot);
                small.of.push(belongs);
            }
        }
        small
    }

    /// The same where each pixel belongs to the colour that it is nearest to (plain distance in Lab).
    pub fn by_nearest(picture: &Picture, colours: &[Lab]) -> Self {
        Self::of(picture, |pixel| nearest(quick_lab(picture.light[pixel]), colours))
    }

    /// A dot's colour and which of the colours found it belongs to; `None` outside.
    pub fn at(&self, x: usize, y: usize) -> Option<(Rgb8, Option<u8>)> {
        let place = (x < self.width).then_some(y * self.width + x)?;
        Some((*self.dots.get(place)?, *self.of.get(place)?))
    }

    /// Where a colour is best pointed at: the dot of it that lies deepest among its own; `None` where it has none.
    pub fn midst(&self, colour: u8) -> Option<(usize, usize)> {
        let is_it = |x: usize, y: usize| self.at(x, y).is_some_and(|(_, of)| of == Some(colour));
        let depth = |x: usize, y: usize| {
            let ring = |r: usize| {
                let xs = [x.checked_sub(r), Some(x), Some(x + r)];
                let ys = [y.checked_sub(r), Some(y), Some(y + r)];
                xs.iter().all(|x| ys.iter().all(|y| x.zip(*y).is_some_and(|(x, y)| is_it(x, y))))
            };
            (1..=self.width.max(self.height)).take_while(|r| ring(*r)).count()
        };
        let all = (0..self.height).flat_map(|y| (0..self.width).map(move |x| (x, y)));
        // Of the deepest the first, so that the answer is always the same.
        all.filter(|(x, y)| is_it(*x, *y)).rev().max_by_key(|(x, y)| depth(*x, *y))
    }
}

/// The colour that a value is nearest to.
pub fn nearest(lab: Lab, colours: &[Lab]) -> Option<u8> {
    let distance = |c: &Lab| (c.l - lab.l).powi(2) + (c.a - lab.a).powi(2) + (c.b - lab.b).powi(2);
    let near = colours.iter().enumerate().min_by(|(_, a), (_, b)| distance(a).total_cmp(&distance(b)));
    near.and_then(|(n, _)| u8::try_from(n).ok())
}

/// The sides of the small picture, in the picture's own proportions.
fn sides(width: usize, height: usize) -> (usize, usize) {
    let scale = (MOST.0 as f64 / width as f64).min(MOST.1 as f64 / height as f64).min(1.0);
    let side = |n: usize| ((n as f64 * scale).round() as usize).max(1);
    (side(width), side(height))
}

/// The mean colour of the pixels behind a dot, and the colour that most of them belong to.
fn block(
    picture: &Picture,
    (x, y): (usize, usize),
    (width, height): (usize, usize),
    of: &impl Fn(usize) -> Option<u8>,
) -> (Rgb8, Option<u8>) {
    let columns =
        x * picture.width / width..((x + 1) * picture.width / width).max(x * picture.width / width + 1);
    let (mut sum, mut pixels) = ([0.0; 3], 0.0);
    let mut counts: Vec<(Option<u8>, u32)> = Vec::new();
    for row in
        y * picture.height / height..((y + 1) * picture.height / height).max(y * picture.height / height + 1)
    {
        for column in columns.clone() {
            let pixel = picture.at(column, row);
            let Some(light) = picture.light.get(pixel) else { continue };
            for (sum, part) in sum.iter_mut().zip(light) {
                *sum += part;
            }
            pixels += 1.0;
            let belongs = of(pixel);
            match counts.iter_mut().find(|(colour, _)| *colour == belongs) {
                Some((_, n)) => *n += 1,
                None => counts.push((belongs, 1)),
            }
        }
    }
    let mean = Linear::from_array(sum.map(|v: f64| v / f64::max(pixels, 1.0)));
    let most = counts.into_iter().rev().max_by_key(|(_, n)| *n);
    (mean.rgb8(), most.and_then(|(colour, _)| colour))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Left half red, right half blue, in light.
    fn halves(width: usize, height: usize) -> Picture {
        let pixel = |i: usize| if i % width < width / 2 { [1.0, 0.0, 0.0] } else { [0.0, 0.0, 1.0] };
        Picture::new(width, height, (0..width * height).map(pixel).collect()).unwrap()
    }

    #[test]
    fn a_picture_keeps_its_proportions_and_is_never_made_larger() {
        for (width, height, small) in [
            (640, 480, (160, 120)),
            (640, 160, (160, 40)),
            (60, 480, (15, 120)),
            (3, 2, (3, 2)),
            (640, 1, (160, 1)),
        ] {
            let made = SmallPicture::of(&halves(width, height), |_| None);
            assert_eq!((made.width, made.height), small);
            assert_eq!((made.dots.len(), made.of.len()), (small.0 * small.1, small.0 * small.1));
        }
    }

    #[test]
    fn every_dot_shows_and_names_the_colour_that_lies_there() {
        let (red, blue) = (Rgb8::new(255, 0, 0), Rgb8::new(0, 0, 255));
        let small = SmallPicture::by_nearest(&halves(640, 320), &[blue.lab(), red.lab()]);
        assert_eq!(small.at(2, 3), Some((red, Some(1))));
        assert_eq!(small.at(small.width - 2, 3), Some((blue, Some(0))));
        assert_eq!(small.at(small.width, 0), None);
        let (x, y) = small.midst(1).unwrap();
        assert!(x > 20 && x < small.width / 2 - 10 && y > 20, "deep in the red half: {x}, {y}");
        assert_eq!(small.midst(2), None);
    }
}
