//! Colours of a paper from a photo or scan of it.
//!
//! 1. [`white`]: a white frame is found, or white is pointed at; it tells the light's colour and how it falls off.
//! 2. The picture is evened and brought to daylight (Bradford), so that white card comes out as white card.
//! 3. [`areas`]: the paper's colours are the peaks of its pixels' colours.
//! 4. [`unmix`]: their values are freed from blur, seams between areas are dropped.
//! 5. Each colour is matched to the library, or called not in it.

pub mod areas;
pub mod camera;
mod hull;
pub mod picture;
pub mod small;
pub mod unmix;
pub mod white;

use super::adapt::adaptation;
use super::matrix::Matrix3;
use super::nearest::{Match, nearest_weighing};
use super::space::{LINEAR_TO_XYZ, Lab, Linear, Rgb8, XYZ_TO_LINEAR, Xyz};
use super::swatch::Swatch;
use areas::peaks;
use camera::SeenColour;
use picture::Picture;
use small::{SmallPicture, nearest};
use unmix::{ColourArea, Scene};
use white::{White, WhiteHint, WhiteSource};

/// What common white card looks like under D65 (our own middle of uncoated white papers).
pub const CARD: Lab = Lab::new(95.5, 0.0, -1.0);
/// A colour further than this from every swatch (CIEDE2000) is called not in the library.
pub const CUT: f64 = 6.0;
/// What lies this near white card (plain distance in Lab) may be the card.
const CARD_REACH: f64 = 9.0;
/// How many matches a colour is given.
const TOP: usize = 3;
/// The smallest share of the paper that is named.
const LEAST_SHARE: f64 = 0.01;

/// A colour of the paper.
#[derive(Clone, Debug, PartialEq)]
pub struct FoundColour {
    /// Its value after correction.
    pub lab: Lab,
    /// Its screen value.
    pub hex: Rgb8,
    /// The share of the paper it covers, 0..1.
    pub share: f64,
    /// True where a swatch of the library is near enough.
    pub known: bool,
    /// The nearest swatches, closest first.
    pub matches: Vec<Match>,
}

/// What a photo shows.
#[derive(Clone, Debug, PartialEq)]
pub struct PhotoReading {
    /// White as photographed.
    pub white: Rgb8,
    /// Where white was taken from.
    pub source: WhiteSource,
    /// The colours, largest share first.
    pub colours: Vec<FoundColour>,
    /// The picture made small, with where each colour was found.
    pub small: SmallPicture,
}

/// How colours of a picture are held against swatches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weighing {
    /// The factor kL of CIEDE2000: at 2 lightness counts half, since exposure and the camera's curve change it most.
    pub light: f64,
    /// A colour further than this from every swatch is called not in the library.
    pub cut: f64,
    /// Whether the camera may have brightened the middle tones.
    pub lift: bool,
}

impl Weighing {
    /// All of lightness, and two dials of the camera: to compare.
    pub const PLAIN: Self = Self { light: 1.0, cut: CUT, lift: false };
    /// How the program reads: all of lightness, and a third dial for the middle tones that phones brighten.
    pub const SHIPPED: Self = Self { lift: true, ..Self::PLAIN };
}

/// What is done in turn while the colours are read.
pub const STAGES: [&str; 4] =
    ["finding white", "finding the paper's colors", "freeing them from blur", "comparing with your library"];

/// Reads the colours of a paper from a picture.
pub fn identify(picture: &Picture, swatches: &[Swatch], hint: WhiteHint) -> PhotoReading {
    identify_telling(picture, swatches, hint, &mut |_| {})
}

/// The same by another weighing, to compare.
pub fn identify_by(picture: &Picture, swatches: &[Swatch], hint: WhiteHint, by: Weighing) -> PhotoReading {
    read(picture, swatches, hint, by, &mut |_| {})
}

/// The same; `tell` hears which of [`STAGES`] begins.
pub fn identify_telling(
    picture: &Picture,
    swatches: &[Swatch],
    hint: WhiteHint,
    tell: &mut dyn FnMut(usize),
) -> PhotoReading {
    read(picture, swatches, hint, Weighing::SHIPPED, tell)
}

fn read(
    picture: &Picture,
    swatches: &[Swatch],
    hint: WhiteHint,
    by: Weighing,
    tell: &mut dyn FnMut(usize),
) -> PhotoReading {
    tell(0);
    let white = white::find(picture, hint);
    let even = evened(picture, &white);
    let soft = even.softened(1);
    let labs = areas::labs(&soft);
    let Some(paper) = paper(&soft, &labs, white.source) else {
        // A frame with nothing in it is no frame but a plain paper that fills the picture.
        return read(picture, swatches, WhiteHint::AsIs, by, tell);
    };
    tell(1);
    let peaks = peaks(&soft, &labs, &paper);
    tell(2);
    let scene = Scene { picture: &soft, labs: &labs, paper: &paper };
    let areas = unmix::areas(&scene, &peaks);
    let areas: Vec<ColourArea> = areas.into_iter().filter(|area| area.share >= LEAST_SHARE).collect();
    tell(3);
    let places: Vec<Lab> = areas.iter().map(unmix::lab).collect();
    let small = SmallPicture::of(picture, |pixel| {
        let is_paper = paper.get(pixel).copied().unwrap_or(false);
        is_paper.then(|| nearest(labs[pixel], &places)).flatten()
    });
    let colours = values(&areas, &white, swatches, by)
        .into_iter()
        .zip(&areas)
        .map(|(lab, area)| {
            let matches = nearest_weighing(lab, swatches, TOP, by.light);
            let known = matches.first().is_some_and(|hit| hit.delta_e <= by.cut);
            FoundColour { lab, hex: lab.rgb8(), share: area.share, known, matches }
        })
        .collect();
    PhotoReading { white: Linear::from_array(white.light).rgb8(), source: white.source, colours, small }
}

/// The values of the areas with the camera's dials turned back, where there is a white to judge them by.
fn values(areas: &[ColourArea], white: &White, swatches: &[Swatch], by: Weighing) -> Vec<Lab> {
    if white.source == WhiteSource::NotFound {
        return areas.iter().map(unmix::lab).collect();
    }
    let back = to_card(white.light).inverse();
    let seen: Vec<SeenColour> = areas
        .iter()
        .map(|area| SeenColour { light: back.apply(area.light), weight: (area.share / 0.05).min(1.0) })
        .collect();
    let dials = camera::dials(&seen, white.light, swatches, by);
    seen.iter().map(|seen| dials.undo(seen.light, white.light)).collect()
}

/// The picture as it would be if its white were white card in even daylight.
fn evened(picture: &Picture, white: &White) -> Picture {
    let matrix = match white.source {
        WhiteSource::NotFound => Matrix3::IDENTITY,
        _ => to_card(white.light),
    };
    let light = picture
        .light
        .iter()
        .enumerate()
        .map(|(i, light)| {
            let fall = white.fall.at(picture.place(i));
            matrix.apply(light.map(|v| v / fall))
        })
        .collect();
    Picture { width: picture.width, height: picture.height, light }
}

/// The matrix on light that turns the photographed white into white card (Bradford).
fn to_card(white: [f64; 3]) -> Matrix3 {
    let from = Xyz::from_array(LINEAR_TO_XYZ.apply(white.map(|v| v.max(1e-4))));
    XYZ_TO_LINEAR.times(&adaptation(from, CARD.xyz())).times(&LINEAR_TO_XYZ)
}

/// Which pixels are paper: inside a white frame all that lies in the hull of what is not white card, else all. None
/// where a frame holds nothing.
fn paper(soft: &Picture, labs: &[Lab], source: WhiteSource) -> Option<Vec<bool>> {
    if source != WhiteSource::Frame {
        return Some(vec![true; labs.len()]);
    }
    let card = |i: usize| {
        let lab = labs[i];
        ((lab.l - CARD.l).powi(2) + (lab.a - CARD.a).powi(2) + (lab.b - CARD.b).powi(2)).sqrt() < CARD_REACH
    };
    let parts = hull::large_parts(soft, |i| !card(i));
    (!parts.is_empty()).then(|| hull::fill(soft, &parts))
}

#[cfg(test)]
mod tests;
