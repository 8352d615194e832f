use super::super::difference::ciede2000;
use super::super::space::decode;
use super::*;

const FRAME: usize = 14;

fn library() -> Vec<Swatch> {
    [("red", [190, 40, 50]), ("teal", [40, 140, 140]), ("sand", [215, 190, 140]), ("navy", [35, 45, 95])]
        .into_iter()
        .map(|(name, [r, g, b])| Swatch::from_screen(name, "", Rgb8::new(r, g, b)))
        .collect()
}

/// Upright stripes of the given colours on white card under a coloured light that falls off to the right.
fn photo(colours: &[Rgb8], light: [f64; 3], frame: usize) -> Picture {
    let (width, height) = (160, 120);
    let card = CARD.linear().array();
    let pixels = (0..width * height).map(|i| {
        let (x, y) = (i % width, i / width);
        let inside = (frame..width - frame).contains(&x) && (frame..height - frame).contains(&y);
        let own = if inside { colours[x / 12 % colours.len()].linear().array() } else { card };
        let fall = 0.85 - 0.15 * x as f64 / width as f64;
        [0, 1, 2].map(|c| own[c] * light[c] * fall)
    });
    Picture::new(width, height, pixels.collect()).unwrap()
}

fn colours(names: &[usize]) -> Vec<Rgb8> {
    names.iter().map(|i| library()[*i].hex).collect()
}

#[test]
fn a_frame_tells_the_light_and_the_swatches_are_found() {
    let library = library();
    for light in [[1.0, 1.0, 1.0], [1.0, 0.86, 0.66], [0.86, 0.95, 1.0]] {
        let answer = identify(&photo(&colours(&[0, 1, 2]), light, FRAME), &library, WhiteHint::Find);
        assert_eq!(answer.source, WhiteSource::Frame);
        let mut found: Vec<usize> = answer.colours.iter().map(|colour| colour.matches[0].index).collect();
        found.sort_unstable();
        assert_eq!(found, [0, 1, 2], "{light:?}");
        assert!(answer.colours.iter().all(|colour| colour.known && colour.matches[0].delta_e < 3.0));
        let total: f64 = answer.colours.iter().map(|colour| colour.share).sum();
        assert!((total - 1.0).abs() < 0.02, "{total}");
    }
}

#[test]
fn a_colour_of_no_swatch_is_called_unknown() {
    let green = Rgb8::new(90, 190, 60);
    let answer = identify(&photo(&[green, library()[3].hex], [1.0; 3], FRAME), &library(), WhiteHint::Find);
    let unknown: Vec<&FoundColour> = answer.colours.iter().filter(|colour| !colour.known).collect();
    assert_eq!(unknown.len(), 1, "{:?}", answer.colours);
    assert!(ciede2000(unknown[0].lab, green.lab()) < 4.0);
    assert_eq!(unknown[0].matches.len(), 3, "the nearest are shown all the same");
}

#[test]
fn a_plain_paper_that_fills_the_picture_is_no_frame() {
    for hex in [Rgb8::new(190, 40, 50), Rgb8::new(215, 190, 140), Rgb8::new(0, 0, 0)] {
        let picture = Picture::new(60, 40, vec![hex.linear().array(); 2400]).unwrap();
        let answer = identify(&picture, &library(), WhiteHint::Find);
        assert_ne!(answer.source, WhiteSource::Frame);
        assert_eq!(answer.colours.len(), 1, "{hex}");
        assert!((answer.colours[0].share - 1.0).abs() < 1e-9);
    }
}

#[test]
fn white_can_be_pointed_at_and_the_picture_taken_as_it_is() {
    let light = [1.0, 0.80, 0.55];
    // No frame: one stripe is white card, and it is pointed at.
    let mut stripes = colours(&[0, 1]);
    stripes.push(CARD.rgb8());
    let picture = photo(&stripes, light, 0);
    let answer = identify(&picture, &library(), WhiteHint::At(30.0 / 160.0, 0.5));
    assert_eq!(answer.source, WhiteSource::PointedAt);
    let red = answer.colours.iter().find(|colour| colour.matches[0].index == 0).unwrap();
    assert!(red.known, "{:?}", answer.colours);
    assert_eq!(identify(&picture, &library(), WhiteHint::AsIs).source, WhiteSource::NotFound);
}

#[test]
fn blur_makes_no_colours_of_its_own() {
    let sharp = photo(&colours(&[0, 1]), [1.0, 0.9, 0.8], FRAME);
    let mut soft = sharp.clone();
    for channel in 0..3 {
        let plane: Vec<f64> = sharp.light.iter().map(|light| light[channel]).collect();
        let blurred = picture::blurred(&plane, sharp.width, sharp.height, 1.8);
        for (light, value) in soft.light.iter_mut().zip(blurred) {
            light[channel] = value;
        }
    }
    let answer = identify(&soft, &library(), WhiteHint::Find);
    assert_eq!(answer.colours.len(), 2, "{:?}", answer.colours);
    assert!(answer.colours.iter().all(|colour| colour.known));
}

#[test]
fn odd_sizes_and_lights_are_survived() {
    for (width, height) in [(1, 1), (1, 9), (2, 2), (3, 50), (7, 5)] {
        for value in [0.0, 0.4, 1.0] {
            let picture = Picture::new(width, height, vec![[value; 3]; width * height]).unwrap();
            for hint in [WhiteHint::Find, WhiteHint::At(0.5, 2.0), WhiteHint::AsIs] {
                let answer = identify(&picture, &library(), hint);
                assert!(answer.colours.iter().all(|c| c.lab.l.is_finite()), "{width}x{height} {value}");
                let _ = identify(&picture, &[], hint);
            }
        }
    }
    assert!(Picture::new(0, 4, Vec::new()).is_none());
    assert!(Picture::new(2, 2, vec![[decode(0.5); 3]; 3]).is_none());
}
