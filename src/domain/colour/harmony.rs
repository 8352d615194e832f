//! How well two colours go together, by a model fitted to people's judgements.
//!
//! Source: L.-C. Ou and M. R. Luo, "A colour harmony model for two-colour combinations", Color Research and
//! Application 31(3), 2006. All angles are CIELAB hue angles in degrees; the hue difference inside the chroma term
//! is the metric one, 2 sqrt(C1 C2) sin(dh / 2). Scores run from about -1.2 (clash) to 1.4 (accord).
//!
//! Three colours are judged by their weakest pair only; no mean of pairs is formed anywhere. Knows Lab, not swatches.

use super::space::{Lab, hue_turn};

/// `base + span * tanh(shift + slope * x)`, the shape of most terms.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SoftStep {
    /// Middle of the step.
    pub base: f64,
    /// Half its height.
    pub span: f64,
    /// Where it lies.
    pub shift: f64,
    /// How steep it is.
    pub slope: f64,
}

impl SoftStep {
    fn at(&self, x: f64) -> f64 {
        self.base + self.span * (self.shift + self.slope * x).tanh()
    }
}

/// Liking of a hue: two waves round the circle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HueWaves {
    /// Level.
    pub base: f64,
    /// Height of the wave that goes round once.
    pub once: f64,
    /// Its phase in degrees.
    pub once_phase: f64,
    /// Height of the wave that goes round twice.
    pub twice: f64,
    /// Its phase in degrees.
    pub twice_phase: f64,
}

/// The special case of yellow: bright yellows please, dark ones do not.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct YellowBump {
    /// Gain a unit of lightness.
    pub gain: f64,
    /// Lightness effect that is taken off.
    pub offset: f64,
    /// What the effect is divided by.
    pub scale: f64,
    /// Hue of the peak in degrees.
    pub peak: f64,
    /// Width of the peak in degrees.
    pub width: f64,
}

/// Every coefficient of the model, by name.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HarmonyModel {
    /// Liking of a chromatic difference.
    pub difference: SoftStep,
    /// What the chroma difference is divided by before it joins the hue difference.
    pub chroma_divisor: f64,
    /// Liking of the sum of both lightnesses.
    pub lightness_sum: SoftStep,
    /// Liking of the gap between both lightnesses.
    pub lightness_gap: SoftStep,
    /// How far a colour's hue counts at all, by its chroma.
    pub hue_weight: SoftStep,
    /// Liking of the hue itself.
    pub hue: HueWaves,
    /// Yellow.
    pub yellow: YellowBump,
}

/// One of the model's three sides, for saying why a pair is weak.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Term {
    /// The hues themselves.
    Hue,
    /// How far the two differ in hue and chroma.
    Chroma,
    /// How light both are, and how far apart in lightness.
    Lightness,
}

impl Term {
    /// In words.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Hue => "hue",
            Self::Chroma => "chroma",
            Self::Lightness => "lightness",
        }
    }
}

/// What of a colour the model asks for, reckoned once.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HarmonyTone {
    lightness: f64,
    chroma: f64,
    hue: f64,
    /// The hue effect of this colour alone.
    pub hue_effect: f64,
}

/// A pair's score with every term it is made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Harmony {
    /// The chromatic difference.
    pub chromatic_difference: f64,
    /// Its liking, H_C.
    pub chroma_term: f64,
    /// Sum of both lightnesses.
    pub lightness_sum: f64,
    /// Its liking.
    pub sum_effect: f64,
    /// Gap between both lightnesses.
    pub lightness_gap: f64,
    /// Its liking.
    pub gap_effect: f64,
    /// Both lightness likings together, H_L.
    pub lightness_term: f64,
    /// Hue effects of the two colours.
    pub hue_effects: [f64; 2],
    /// Both hue effects together, H_H.
    pub hue_term: f64,
    /// The score, CH.
    pub score: f64,
}

/// What each term can reach over surface colours (L 5..97, C 0..90), found by search and rounded outward; used only
/// to say which term holds a pair back most.
const REACH: [(Term, f64, f64); 3] =
    [(Term::Hue, -1.08, 0.45), (Term::Chroma, -0.50, 0.40), (Term::Lightness, -0.28, 1.02)];

impl Harmony {
    /// The term that lies lowest in its own reach.
    pub fn weakest_term(&self) -> Term {
        let place = |term: Term, low: f64, high: f64| {
            let value = match term {
                Term::Hue => self.hue_term,
                Term::Chroma => self.chroma_term,
                Term::Lightness => self.lightness_term,
            };
            (value - low) / (high - low)
        };
        REACH
            .iter()
            .map(|(term, low, high)| (*term, place(*term, *low, *high)))
            .min_by(|x, y| x.1.total_cmp(&y.1))
            .map_or(Term::Hue, |(term, _)| term)
    }
}

impl HarmonyModel {
    /// The published coefficients.
    pub const OU_LUO: Self = Self {
        difference: SoftStep { base: 0.04, span: 0.53, shift: 0.8, slope: -0.045 },
        chroma_divisor: 1.46,
        lightness_sum: SoftStep { base: 0.28, span: 0.54, shift: -3.88, slope: 0.029 },
        lightness_gap: SoftStep { base: 0.14, span: 0.15, shift: -2.0, slope: 0.2 },
        hue_weight: SoftStep { base: 0.5, span: 0.5, shift: -2.0, slope: 0.5 },
        hue: HueWaves { base: -0.08, once: -0.14, once_phase: 50.0, twice: -0.07, twice_phase: 90.0 },
        yellow: YellowBump { gain: 0.22, offset: 12.8, scale: 10.0, peak: 90.0, width: 10.0 },
    };

    /// Readies a colour for pairing.
    pub fn tone(&self, lab: Lab) -> HarmonyTone {
        let (lightness, chroma, hue) = (lab.l, lab.chroma(), lab.hue());
        let waves = self.hue.base
            + self.hue.once * (hue + self.hue.once_phase).to_radians().sin()
            + self.hue.twice * (2.0 * hue + self.hue.twice_phase).to_radians().sin();
        let from_peak = (self.yellow.peak - hue) / self.yellow.width;
        let yellow = (self.yellow.gain * lightness - self.yellow.offset) / self.yellow.scale
            * (from_peak - from_peak.exp()).exp();
        HarmonyTone { lightness, chroma, hue, hue_effect: self.hue_weight.at(chroma) * (waves + yellow) }
    }

    /// The score of two readied colours with every term.
    pub fn pair(&self, one: &HarmonyTone, two: &HarmonyTone) -> Harmony {
        let half_turn = (hue_turn(one.hue, two.hue) / 2.0).to_radians();
        let hue_difference = 2.0 * (one.chroma * two.chroma).sqrt() * half_turn.sin();
        let chroma_difference = (two.chroma - one.chroma) / self.chroma_divisor;
        let chromatic_difference = hue_difference.hypot(chroma_difference);
        let chroma_term = self.difference.at(chromatic_difference);

        let lightness_sum = one.lightness + two.lightness;
        let lightness_gap = (one.lightness - two.lightness).abs();
        let sum_effect = self.lightness_sum.at(lightness_sum);
        let gap_effect = self.lightness_gap.at(lightness_gap);
        let lightness_term = sum_effect + gap_effect;

        let hue_effects = [one.hue_effect, two.hue_effect];
        let hue_term = one.hue_effect + two.hue_effect;
        Harmony {
            chromatic_difference,
            chroma_term,
            lightness_sum,
            sum_effect,
            lightness_gap,
            gap_effect,
            lightness_term,
            hue_effects,
            hue_term,
            score: chroma_term + lightness_term + hue_term,
        }
    }
}

/// The score of two colours by the published model.
pub fn harmony(one: Lab, two: Lab) -> Harmony {
    let model = HarmonyModel::OU_LUO;
    model.pair(&model.tone(one), &model.tone(two))
}

/// The pair that goes together least among several colours: their places and their harmony. None for fewer than two.
pub fn weakest_pair(colours: &[Lab]) -> Option<(usize, usize, Harmony)> {
    let tones: Vec<HarmonyTone> = colours.iter().map(|lab| HarmonyModel::OU_LUO.tone(*lab)).collect();
    let mut weakest: Option<(usize, usize, Harmony)> = None;
    for (i, one) in tones.iter().enumerate() {
        for (j, two) in tones.iter().enumerate().skip(i + 1) {
            let harmony = HarmonyModel::OU_LUO.pair(one, two);
            if weakest.is_none_or(|(_, _, least)| harmony.score < least.score) {
                weakest = Some((i, j, harmony));
            }
        }
    }
    weakest
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_terms_add_up_and_the_order_does_not_matter() {
        let (one, two) = (Lab::new(62.0, 31.0, -12.0), Lab::new(35.0, -20.0, 44.0));
        let there = harmony(one, two);
        let back = harmony(two, one);
        assert!((there.score - (there.chroma_term + there.lightness_term + there.hue_term)).abs() < 1e-15);
        assert!((there.score - back.score).abs() < 1e-12);
    }

    #[test]
    fn each_term_stays_within_its_reach_and_nearly_fills_it() {
        let model = HarmonyModel::OU_LUO;
        let tones: Vec<HarmonyTone> = (0..=8)
            .flat_map(|l| (0..=6).flat_map(move |c| (0..24).map(move |h| (l, c, h))))
            .map(|(l, c, h)| {
                let (l, c) = (5.0 + f64::from(l) * 11.5, f64::from(c) * 15.0);
                let h = f64::from(h) * 15.0_f64;
                model.tone(Lab::new(l, c * h.to_radians().cos(), c * h.to_radians().sin()))
            })
            .collect();
        let mut found = [(f64::MAX, f64::MIN); 3];
        for one in &tones {
            for two in &tones {
                let harmony = model.pair(one, two);
                for ((low, high), value) in
                    found.iter_mut().zip([harmony.hue_term, harmony.chroma_term, harmony.lightness_term])
                {
                    (*low, *high) = (low.min(value), high.max(value));
                }
            }
        }
        for ((term, low, high), (least, most)) in REACH.iter().zip(found) {
            assert!(*low <= least && least - low < 0.05, "{term:?} from {least}");
            assert!(*high >= most && high - most < 0.05, "{term:?} to {most}");
        }
    }

    #[test]
    fn the_weakest_of_three_pairs_is_named() {
        let colours = [Lab::new(90.0, 0.0, 0.0), Lab::new(85.0, 0.0, 5.0), Lab::new(30.0, 50.0, 40.0)];
        let (i, j, harmony) = weakest_pair(&colours).unwrap();
        let scores: Vec<f64> = [(0, 1), (0, 2), (1, 2)]
            .iter()
            .map(|(a, b)| super::harmony(colours[*a], colours[*b]).score)
            .collect();
        assert_eq!(harmony.score, scores.iter().copied().fold(f64::MAX, f64::min));
        assert_eq!((i, j), (0, 2), "white is harder on dark red than cream");
        assert!(weakest_pair(&colours[..1]).is_none());
    }

    #[test]
    fn dark_saturated_green_on_dark_red_is_held_back() {
        let harmony = harmony(Lab::new(25.0, 45.0, 25.0), Lab::new(25.0, -35.0, 25.0));
        assert!(harmony.score < -0.2, "{}", harmony.score);
    }
}
