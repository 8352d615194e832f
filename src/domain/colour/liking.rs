//! How often two colours stand together where people chose, by a model fitted to palettes that people rated highest.
//!
//! The answer is the natural logarithm of how many times as often as chance the pair stands together: 0 is as often as
//! chance, 1.1 three times as often, below 0 is less often. Three colours are judged by their weakest pair only; no sum
//! or mean of pairs is formed anywhere. The coefficients stand in `assets/liked_pairs.ron` with their source; how they
//! were fitted is `tests/bench/liked/fit.py`. Knows colours, not swatches, and no palette.

use super::space::{Lab, Oklab, degrees, hue_turn};
use serde::Deserialize;
use std::sync::LazyLock;

/// What is asked of a pair: see [`features`].
const FEATURES: usize = 22;
/// Squares and products of them.
const PRODUCTS: usize = FEATURES * (FEATURES + 1) / 2;
/// The OKLCH chroma at which a hue counts half.
const HALF_HUE: f64 = 0.03;
/// The OKLCH chroma over which greyness fades.
const GREY: f64 = 0.02;
/// The OKLab distance over which nearness fades.
const NEAR: f64 = 0.1;
/// Features this many spreads from their middle count no further, so that rare colours are not guessed at.
const BOUND: f64 = 4.0;

/// A fitted model.
#[derive(Clone, Debug, PartialEq)]
pub struct Liking {
    middle: [f64; FEATURES],
    spread: [f64; FEATURES],
    constant: f64,
    linear: [f64; FEATURES],
    products: [f64; PRODUCTS],
}

/// A model as its file holds it.
#[derive(Deserialize)]
pub struct Fitted {
    middle: Vec<f64>,
    spread: Vec<f64>,
    constant: f64,
    linear: Vec<f64>,
    products: Vec<f64>,
}

#[derive(Deserialize)]
struct File {
    model: Fitted,
}

static SHIPPED: LazyLock<Liking> = LazyLock::new(|| {
    let file: Result<File, _> = ron::from_str(include_str!("../../../assets/liked_pairs.ron"));
    // A test holds the file to be whole; a model without opinion is better than none at all.
    file.ok().and_then(|file| Liking::new(&file.model)).unwrap_or(Liking::WITHOUT_OPINION)
});

/// A colour readied for pairing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shade {
    ok: Oklab,
    chroma: f64,
    /// Its square root, in which weak colours stand further apart.
    root: f64,
    /// How near to a grey it is, 0 to 1.
    grey: f64,
    /// Hue in degrees.
    hue: f64,
    /// How far the hue counts at all, 0 to 1.
    weight: f64,
    /// Cosine and sine of the hue, by that weight.
    on_circle: [f64; 2],
    /// The same of twice the hue.
    twice: [f64; 2],
}

impl Shade {
    /// Readies a colour.
    pub fn of(lab: Lab) -> Self {
        let ok = lab.linear().oklab();
        let chroma = ok.a.hypot(ok.b);
        let hue = degrees(ok.a, ok.b);
        let weight = chroma / (chroma + HALF_HUE);
        let (sin, cos) = hue.to_radians().sin_cos();
        let (sin_twice, cos_twice) = (2.0 * hue).to_radians().sin_cos();
        let (on_circle, twice) = ([weight * cos, weight * sin], [weight * cos_twice, weight * sin_twice]);
        Self { ok, chroma, root: chroma.sqrt(), grey: (-chroma / GREY).exp(), hue, weight, on_circle, twice }
    }

    /// Darker first; of equal lightness the less red, so that a pair is the same whichever comes first.
    fn before(&self, other: &Self) -> bool {
        let key = |s: &Self| [s.ok.l, s.ok.a, s.ok.b];
        key(self) < key(other)
    }
}

/// Of the darker and the paler colour: lightnesses, chromas, hues on the circle, how the hues stand to each other, how
/// far apart the colours are, how weak and how near to grey they are.
fn features(dark: &Shade, pale: &Shade) -> [f64; FEATURES] {
    let (d, p) = (dark.on_circle, pale.on_circle);
    let weight = dark.weight * pale.weight;
    // The turn from one hue to the other, as cosine and sine by both weights, without reckoning an angle.
    let (cos, sin) = (d[0] * p[0] + d[1] * p[1], d[1] * p[0] - d[0] * p[1]);
    let twice = if weight > 0.0 { (cos * cos - sin * sin) / weight } else { 0.0 };
    let (l, a, b) = (dark.ok.l - pale.ok.l, dark.ok.a - pale.ok.a, dark.ok.b - pale.ok.b);
    let apart = (l * l + a * a + b * b).sqrt();
    let turn = hue_turn(pale.hue, dark.hue).abs().to_radians();
    [
        dark.ok.l,
        pale.ok.l,
        dark.chroma,
        pale.chroma,
        d[0],
        d[1],
        p[0],
        p[1],
        cos,
        sin,
        twice,
        apart,
        (-apart / NEAR).exp(),
        turn * weight.sqrt(),
        dark.twice[0],
        dark.twice[1],
        pale.twice[0],
        pale.twice[1],
        dark.root,
        pale.root,
        dark.grey,
        pale.grey,
    ]
}

impl Liking {
    const WITHOUT_OPINION: Self = Self {
        middle: [0.0; FEATURES],
        spread: [1.0; FEATURES],
        constant: 0.0,
        linear: [0.0; FEATURES],
        products: [0.0; PRODUCTS],
    };

    /// The model that comes with the program.
    pub fn shipped() -> &'static Self {
        &SHIPPED
    }

    /// From a file's lists; none where a list has another length than the features ask for.
    pub fn new(fitted: &Fitted) -> Option<Self> {
        Some(Self {
            middle: fitted.middle.as_slice().try_into().ok()?,
            spread: fitted.spread.as_slice().try_into().ok()?,
            constant: fitted.constant,
            linear: fitted.linear.as_slice().try_into().ok()?,
            products: fitted.products.as_slice().try_into().ok()?,
        })
    }

    /// The logarithm of how many times as often as chance both stand together.
    pub fn pair(&self, one: &Shade, two: &Shade) -> f64 {
        let mut z = if one.before(two) { features(one, two) } else { features(two, one) };
        for ((z, middle), spread) in z.iter_mut().zip(self.middle).zip(self.spread) {
            *z = ((*z - middle) / spread).clamp(-BOUND, BOUND);
        }
        let mut sum = self.constant;
        let mut rest = &self.products[..];
        for (n, x) in z.iter().enumerate() {
            let (row, after) = rest.split_at(FEATURES - n);
            rest = after;
            let inner: f64 = row.iter().zip(&z[n..]).map(|(factor, y)| factor * y).sum();
            sum += x * (self.linear[n] + inner);
        }
        sum
    }
}

/// Fewer times than this as often as chance, and a pair is one that people seldom choose (our own border: where "about as
/// often as chance" ends).
pub const SELDOM: f64 = 0.8;

/// True for a pair that people seldom choose.
pub fn is_seldom(liked: f64) -> bool {
    liked.exp() < SELDOM
}

/// How often people choose such a pair, in everyday words (our own steps).
pub fn how_chosen(liked: f64) -> &'static str {
    let times = liked.exp();
    if times >= 5.0 {
        "chosen very often"
    } else if times >= 1.25 {
        "often chosen"
    } else if times >= SELDOM {
        "chosen now and then"
    } else if times >= 0.2 {
        "seldom chosen"
    } else {
        "hardly ever chosen"
    }
}

/// A pair's figure as people read it: `3.2 times as often as chance`.
pub fn times(liked: f64) -> String {
    let times = liked.exp();
    if times >= 9.95 {
        format!("{times:.0} times as often as chance")
    } else if times >= 1.25 {
        format!("{times:.1} times as often as chance")
    } else if times >= SELDOM {
        "about as often as chance".to_owned()
    } else if times >= 0.095 {
        format!("only {times:.1} times as often as chance")
    } else {
        "hardly ever".to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::super::space::Rgb8;
    use super::*;

    fn shade(r: u8, g: u8, b: u8) -> Shade {
        Shade::of(Rgb8::new(r, g, b).lab())
    }

    #[test]
    fn the_shipped_file_is_whole() {
        assert_ne!(Liking::shipped(), &Liking::WITHOUT_OPINION);
    }

    #[test]
    fn the_order_of_a_pair_does_not_matter() {
        let model = Liking::shipped();
        let all = [shade(12, 40, 90), shade(240, 220, 200), shade(128, 128, 128), shade(200, 20, 30)];
        for one in &all {
            for two in &all {
                assert_eq!(model.pair(one, two), model.pair(two, one));
            }
        }
        // Two colours of one lightness, told by their axes.
        let one = Shade { ok: Oklab { l: 0.5, a: 0.1, b: 0.0 }, ..all[0] };
        let two = Shade { ok: Oklab { l: 0.5, a: -0.1, b: 0.0 }, ..all[1] };
        assert_eq!(model.pair(&one, &two), model.pair(&two, &one));
    }

    #[test]
    fn black_and_white_and_what_no_screen_shows_have_a_figure() {
        let all = [shade(0, 0, 0), shade(255, 255, 255), Shade::of(Lab::new(60.0, -90.0, 40.0))];
        assert!(all.iter().flat_map(|x| all.map(|y| Liking::shipped().pair(x, &y))).all(f64::is_finite));
    }

    #[test]
    fn a_figure_is_read_as_times_chance() {
        assert_eq!(times(0.0), "about as often as chance");
        assert_eq!(times(3.2_f64.ln()), "3.2 times as often as chance");
        assert_eq!(times(12.4_f64.ln()), "12 times as often as chance");
        assert_eq!(times(0.4_f64.ln()), "only 0.4 times as often as chance");
        assert_eq!(times(-5.0), "hardly ever");
    }

    #[test]
    fn everyday_words_and_the_figure_agree_on_what_is_seldom() {
        for (factor, words, seldom) in [
            (12.0_f64, "chosen very often", false),
            (5.01, "chosen very often", false),
            (4.99, "often chosen", false),
            (1.26, "often chosen", false),
            (1.24, "chosen now and then", false),
            (0.801, "chosen now and then", false),
            (0.799, "seldom chosen", true),
            (0.201, "seldom chosen", true),
            (0.199, "hardly ever chosen", true),
        ] {
            assert_eq!((how_chosen(factor.ln()), is_seldom(factor.ln())), (words, seldom), "{factor}");
            let figure = times(factor.ln());
            assert_eq!(figure.starts_with("only") || figure == "hardly ever", seldom, "{figure}");
        }
    }
}
