//! What phones do to a picture before a person sees it: middle tones are brightened, contrast is raised, large dark parts
//! are brightened and large light ones held back, and colours lose or keep some of their strength. The curves are our own
//! simple forms of what phones are commonly seen to do (common practice), not the working of any of them. The strengths are
//! drawn for each picture from its number, so that a run can be repeated.

use trimside::domain::colour::legibility::luminance;
use trimside::domain::colour::photo::picture::Picture;
use trimside::domain::colour::space::{Linear, Rgb8, decode, encode};

/// How strongly a picture is worked over: the least and the most of each.
#[derive(Clone, Copy)]
pub struct Phone {
    pub name: &'static str,
    /// Power that middle tones are brightened by, over 1.
    lift: (f64, f64),
    /// Hardness of the S-shaped curve, over 1.
    contrast: (f64, f64),
    /// Share of the wide differences in lightness that is evened out.
    local: (f64, f64),
    /// What is left of the colour's strength.
    chroma: (f64, f64),
}

pub const PHONES: [Phone; 2] = [
    Phone {
        name: "phone, gentle",
        lift: (0.02, 0.10),
        contrast: (0.0, 0.12),
        local: (0.04, 0.12),
        chroma: (0.92, 1.0),
    },
    Phone {
        name: "phone, strong",
        lift: (0.08, 0.25),
        contrast: (0.08, 0.28),
        local: (0.12, 0.30),
        chroma: (0.82, 0.96),
    },
];

/// Reach of the local brightening as a part of the width.
const REACH: usize = 14;

impl Phone {
    /// The picture as such a phone would hand it over.
    pub fn take(&self, picture: &Picture, number: u64) -> Picture {
        let mut dice = Dice(number.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1);
        let [lift, contrast, local, chroma] = [self.lift, self.contrast, self.local, self.chroma]
            .map(|(low, high)| low + (high - low) * dice.share());
        let gains = brightening(picture, local);
        let curve = |v: f64| {
            let v = encode(v.clamp(0.0, 1.0)).powf(1.0 / (1.0 + lift));
            let (light, dark) = (v.powf(1.0 + contrast), (1.0 - v).powf(1.0 + contrast));
            decode(light / (light + dark))
        };
        let pixel = |(light, gain): (&[f64; 3], f64)| {
            let bright = light.map(|v| curve(v * gain));
            let grey = luminance(Linear::from_array(bright));
            let flat = bright.map(|v| (grey + (v - grey) * chroma).clamp(0.0, 1.0));
            let Rgb8 { r, g, b } = Linear::from_array(flat).rgb8();
            [r, g, b].map(|v| decode(f64::from(v) / 255.0))
        };
        let light = picture.light.iter().zip(gains).map(pixel).collect();
        Picture { width: picture.width, height: picture.height, light }
    }
}

/// The gain of each pixel; the lightest parts of the picture stay as light as they were.
fn brightening(picture: &Picture, local: f64) -> Vec<f64> {
    let grey = |light: &[f64; 3]| (luminance(Linear::from_array(*light)) + 0.01).ln();
    let logs = picture.light.iter().map(|light| [grey(light); 3]).collect();
    let mut wide = Picture { width: picture.width, height: picture.height, light: logs };
    for _ in 0..3 {
        wide = wide.softened(picture.width / REACH / 2);
    }
    let all: Vec<f64> = wide.light.iter().map(|v| v[0]).collect();
    let mut rising = all.clone();
    rising.sort_unstable_by(f64::total_cmp);
    let lightest = rising[rising.len() * 99 / 100];
    all.iter().map(|v| (local * (lightest - v)).exp()).collect()
}

struct Dice(u64);

impl Dice {
    /// The next share, 0..1.
    fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
}
