//! What a finished card counts as in the post, under each rule set. Knows limits and pieces, sells no stamps.
//!
//! A verdict never says that something *can be posted*: it says what the piece is within one edition, why, and that
//! rules change. A piece is *borderline* up to half a millimetre under a least size (operators print those in rounded
//! inches too), within 0.05 mm of a greatest thickness, within 2 % of a weight, and within a tolerance that the operator
//! names: paper, scales and rounded limits differ by that much (our reading). Over a greatest size is over, however
//! little: the dearer class is the safe answer there.

pub use super::post_rules::{Class, Outside, Rules, Verdict, all, find};
use crate::domain::length::{Length, Unit};
use crate::domain::money::Money;
use crate::domain::size::Size;
use crate::domain::thickness::{Span, Thickness};
use crate::domain::weight::Weight;

/// What is handed over the counter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Piece {
    /// Outside size of the envelope, or of the card where it goes without one.
    pub size: Size,
    /// Thickness at the thickest point, envelope included; `None` where a paper is unknown.
    pub thickness: Option<Thickness>,
    /// From least to most, where that thickness is guessed.
    pub span: Option<Span>,
    /// Weight, envelope included; `None` where a paper is unknown.
    pub weight: Option<Weight>,
    /// Which side the address runs along.
    pub address: Address,
    /// What is round it.
    pub wrapping: Wrapping,
    /// True where foam or other lifts make it uneven.
    pub uneven: bool,
}

impl Piece {
    /// An envelope of which only the size is known, addressed along its long side.
    pub fn of_size(size: Size) -> Self {
        Self {
            size,
            thickness: None,
            span: None,
            weight: None,
            address: Address::default(),
            wrapping: Wrapping::default(),
            uneven: false,
        }
    }
}

/// Which side the address runs along.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Address {
    /// The long side.
    #[default]
    Long,
    /// The short side.
    Short,
}

/// What is round the card.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Wrapping {
    /// An envelope.
    #[default]
    Envelope,
    /// Nothing, and the card is one leaf.
    OneLeaf,
    /// Nothing, and the card is folded.
    Folded,
}

/// A price of the person's own, with the date they wrote it down.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OwnPrice {
    /// Id of the rule set.
    pub rules: String,
    /// What it is the price of.
    pub verdict: Verdict,
    /// The price.
    pub price: Money,
    /// The currency's text.
    pub currency: String,
    /// When it was written down, as the person wrote it.
    pub date: String,
}

/// What a piece is under one rule set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Judgement {
    /// Id of the rule set.
    pub rules: String,
    /// Whose letters it is for, in a word or two: what people read.
    pub short: String,
    /// Its edition.
    pub edition: String,
    /// What the piece counts as.
    pub verdict: Verdict,
    /// The operator's word for the class, where one was met or nearly met.
    pub class: Option<String>,
    /// Why, one sentence each; the last asks to check with the postal service.
    pub reasons: Vec<String>,
}

/// The last reason of every judgement.
pub const CHECK: &str = "rules and prices change: check with your postal service";

const THICKNESS_MARGIN: i64 = 5_000; // 0.05 mm in hundredths of a micrometre

/// The rules that are usual where paper is letter, or A4: the first of the list, and those of the universal union.
pub const fn usual(is_a4: bool) -> &'static str {
    if is_a4 { "upu" } else { "us-dmm101" }
}

/// Judges a piece under every rule set.
pub fn judge_all(piece: &Piece, unit: Unit) -> Vec<Judgement> {
    all().iter().map(|rules| judge(piece, rules, unit)).collect()
}

/// Judges a piece under one rule set.
pub fn judge(piece: &Piece, rules: &Rules, unit: Unit) -> Judgement {
    let mut bench = Bench { rules, piece, unit, reasons: Vec::new() };
    let (verdict, class) = bench.verdict();
    let mut reasons = bench.reasons;
    reasons.insert(0, heading(rules, verdict, class));
    reasons.extend(possibilities(piece, rules, class));
    reasons.extend(class.and_then(|c| next_step(piece, c)));
    let unknown = match (piece.thickness, piece.weight) {
        (None, None) => Some("from its size alone: thickness and weight need the papers"),
        (None, Some(_)) => Some("judged without the thickness, which the papers do not tell"),
        (Some(_), None) => Some("judged without the weight, which the papers do not tell"),
        (Some(_), Some(_)) => None,
    };
    reasons.extend(unknown.map(str::to_owned));
    reasons.push(CHECK.to_owned());
    Judgement {
        rules: rules.id.clone(),
        short: rules.short.clone(),
        edition: rules.edition.clone(),
        verdict,
        class: class.map(|c| c.name.clone()),
        reasons,
    }
}

fn heading(rules: &Rules, verdict: Verdict, class: Option<&Class>) -> String {
    let edition = &rules.edition;
    match class {
        Some(class) if verdict == Verdict::Borderline => {
            format!("at the edge of \"{}\" by {edition}", class.name)
        }
        Some(class) if class.verdict == verdict => format!("\"{}\" by {edition}", class.name),
        _ => format!("{} by {edition}", verdict.word()),
    }
}

fn possibilities(piece: &Piece, rules: &Rules, class: Option<&Class>) -> Vec<String> {
    let mut all = Vec::new();
    if piece.uneven {
        all.push("may be too stiff or uneven for the machines, whatever its total thickness".to_owned());
    }
    if piece.size.is_square() {
        all.extend(rules.square.clone());
    }
    all.extend(class.and_then(|c| c.note.clone()));
    all
}

/// How far it is to the next weight where the price changes.
fn next_step(piece: &Piece, class: &Class) -> Option<String> {
    let weight = piece.weight?;
    let next = class.steps.iter().chain([&class.most_weight]).find(|s| **s >= weight)?;
    let left = Weight::from_mg(next.mg() - weight.mg());
    Some(format!("weighs {}: {} below the step at {}", weight.show(), left.show(), next.show()))
}

/// How a measure stands to a limit.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Stands {
    Within,
    Near,
    Outside,
}

struct Bench<'a> {
    rules: &'a Rules,
    piece: &'a Piece,
    unit: Unit,
    reasons: Vec<String>,
}

impl<'a> Bench<'a> {
    fn verdict(&mut self) -> (Verdict, Option<&'a Class>) {
        if let Some(below) = self.below_the_least() {
            return (below, None);
        }
        let mut heavy = None;
        for class in &self.rules.classes {
            if class.one_leaf && self.piece.wrapping != Wrapping::OneLeaf {
                continue;
            }
            match self.try_class(class) {
                Tried::Is(verdict) => return (verdict, Some(class)),
                Tried::OnlyTooHeavy => heavy = Some(class),
                Tried::No => {}
            }
        }
        if let Some(undecided) = &self.rules.undecided {
            self.reasons.push(undecided.clone());
            return (Verdict::Unknown, None);
        }
        if heavy.is_some() {
            return (Verdict::TooHeavy, None);
        }
        self.reasons.push("more than any letter class here allows".to_owned());
        (self.rules.beyond, None)
    }

    /// The side along the address and the one across it, where that counts; else long and short.
    fn length_and_height(&self) -> (Length, Length) {
        let (long, short) = (self.piece.size.long(), self.piece.size.short());
        if self.rules.address_counts && self.piece.address == Address::Short {
            (short, long)
        } else {
            (long, short)
        }
    }

    fn below_the_least(&mut self) -> Option<Verdict> {
        let (length, height) = self.length_and_height();
        let least = self.rules.least;
        let slack = self.rules.tolerance;
        if length + slack < least.height || height + slack < least.width {
            let is_turned = self.rules.address_counts && self.piece.address == Address::Short;
            self.reasons.push(if is_turned && length < least.height {
                format!(
                    "read along the address it is {} long, the least is {}",
                    length.show_with_unit(self.unit),
                    least.height.show_with_unit(self.unit)
                )
            } else {
                format!("{} is under the least size of {}", self.size_text(), as_printed(least))
            });
            return Some(Verdict::TooSmall);
        }
        if let (Some(t), Some(least)) = (self.piece.thickness, self.rules.least_thickness)
            && t < least
        {
            self.reasons.push(format!("{} thick is under {}", t.show(self.unit), least.show(self.unit)));
            return Some(Verdict::TooThin);
        }
        if let (Some(span), Some(least)) = (self.piece.span, self.rules.least_thickness)
            && span.least < least
        {
            let (span, least) = (span.show(self.unit), least.show(self.unit));
            self.reasons.push(format!("{span} thick by a guess, which may be under {least}: measure it"));
        }
        if let (Some(w), Some(least)) = (self.piece.weight, self.rules.least_weight)
            && w < least
        {
            self.reasons.push(format!("{} is under the least weight of {}", w.show(), least.show()));
            return Some(Verdict::Unknown);
        }
        None
    }

    fn size_text(&self) -> String {
        self.piece.size.about(self.unit)
    }

    fn try_class(&mut self, class: &'a Class) -> Tried {
        let size = self.size_stands(class);
        let thickness = self.thickness_stands(class);
        let ratio = self.ratio_stands(class);
        let weight = self.weight_stands(class);
        let next_by_ratio =
            ratio == Stands::Outside && class.ratio.is_some_and(|r| r.outside == Outside::Next);
        if size == Stands::Outside || thickness == Stands::Outside || next_by_ratio {
            return Tried::No;
        }
        if weight == Stands::Outside {
            return Tried::OnlyTooHeavy;
        }
        let machines_refuse = self.machines_refuse(class);
        if ratio == Stands::Outside || machines_refuse {
            // Where one class is all that the edition tells of, nothing is known of what lies outside it.
            let is_undecided = self.rules.undecided.is_some();
            return if is_undecided { Tried::No } else { Tried::Is(Verdict::NonmachinableLetter) };
        }
        if [size, thickness, ratio, weight].contains(&Stands::Near) {
            return Tried::Is(Verdict::Borderline);
        }
        Tried::Is(class.verdict)
    }

    fn size_stands(&mut self, class: &Class) -> Stands {
        let (long, short) = (self.piece.size.long(), self.piece.size.short());
        let (least, most) = (class.least.unwrap_or(self.rules.least), class.most);
        let over = (long - most.height).max(short - most.width);
        let under = (least.height - long).max(least.width - short);
        let over =
            self.beyond(over, self.rules.over_tolerance, &format!("over the {}", as_printed(most)), class);
        let under =
            self.beyond(under, self.rules.tolerance, &format!("under the {}", as_printed(least)), class);
        if over == Stands::Within {
            under
        } else if under == Stands::Within {
            over
        } else {
            Stands::Outside
        }
    }

    /// Says how far a size is beyond a limit (negative: inside it).
    fn beyond(&mut self, off: Length, slack: Length, limit: &str, class: &Class) -> Stands {
        if off < Length::ZERO {
            return Stands::Within;
        }
        let (size, name) = (self.size_text(), &class.name);
        if off == Length::ZERO {
            let limit = limit.replacen("over", "at", 1).replacen("under", "at", 1);
            self.reasons.push(format!("{size} is exactly {limit} of \"{name}\": no margin"));
            return Stands::Within;
        }
        self.reasons.push(format!("{size} is {} {limit} of \"{name}\"", off.show_both(self.unit)));
        if off <= slack { Stands::Near } else { Stands::Outside }
    }

    fn thickness_stands(&mut self, class: &Class) -> Stands {
        let Some(t) = self.piece.thickness else { return Stands::Within };
        let margin = class.most_thickness.units() - t.units();
        if margin > THICKNESS_MARGIN {
            return self.guess_stands(class);
        }
        let (most, name) = (class.most_thickness.show(self.unit), &class.name);
        let t = t.show(self.unit);
        let text = match margin {
            0 => format!("{t} thick is exactly the {most} of \"{name}\": no margin"),
            m if m > 0 => format!("{t} thick is just under the {most} of \"{name}\": no margin"),
            _ => format!("{t} thick is over the {most} of \"{name}\""),
        };
        self.reasons.push(text);
        if margin < -THICKNESS_MARGIN { Stands::Outside } else { Stands::Near }
    }

    /// A guessed thickness within a limit is near it as long as papers of that weight may be over it.
    fn guess_stands(&mut self, class: &Class) -> Stands {
        let Some(span) = self.piece.span.filter(|s| s.most > class.most_thickness) else {
            return Stands::Within;
        };
        let (span, most) = (span.show(self.unit), class.most_thickness.show(self.unit));
        let name = &class.name;
        self.reasons
            .push(format!("{span} thick by a guess, which may be over the {most} of \"{name}\": measure it"));
        Stands::Near
    }

    fn weight_stands(&mut self, class: &Class) -> Stands {
        let Some(w) = self.piece.weight else { return Stands::Within };
        let most = class.most_weight;
        let hundredfold = (i128::from(w.mg()) - i128::from(most.mg())) * 100;
        let two_percent = 2 * i128::from(most.mg());
        if hundredfold < -two_percent {
            return Stands::Within;
        }
        let way = if w > most { "is over" } else { "is just under" };
        self.reasons.push(format!("{} {way} the {} of \"{}\"", w.show(), most.show(), class.name));
        if hundredfold > two_percent { Stands::Outside } else { Stands::Near }
    }

    fn ratio_stands(&mut self, class: &Class) -> Stands {
        let Some(ratio) = class.ratio else { return Stands::Within };
        let (length, height) = self.length_and_height();
        // length / height against r / 100, in whole units: 100 x length against r x height.
        let short_by = |least: i64| height.units() * least - length.units() * 100;
        let under = short_by(ratio.least);
        let over = ratio.most.map_or(i64::MIN, |most| -short_by(most));
        let off = under.max(over);
        if off <= 0 {
            return Stands::Within;
        }
        let limit = if under > 0 { ratio.least } else { ratio.most.unwrap_or_default() };
        let way = if under > 0 { "under" } else { "over" };
        self.reasons.push(format!(
            "length / height is {:.3}, {way} the {}.{} of \"{}\"{}",
            length.units() as f64 / height.units() as f64,
            limit / 100,
            limit % 100 / 10,
            class.name,
            if self.piece.size.is_square() { " (square)" } else { "" },
        ));
        if off <= half_a_millimetre_hundredfold() { Stands::Near } else { Stands::Outside }
    }

    /// Reasons of a letter class for which machines do not take a piece.
    fn machines_refuse(&mut self, class: &Class) -> bool {
        if class.verdict != Verdict::Letter {
            return false;
        }
        let before = self.reasons.len();
        if let (Some(rule), Some(t)) = (self.rules.thin_if_large, self.piece.thickness) {
            let large = self.piece.size.short() > rule.over_short || self.piece.size.long() > rule.over_long;
            if large && t < rule.least {
                self.reasons.push(format!(
                    "{} thick is under the {} that a piece over {} high or {} long needs",
                    t.show(self.unit),
                    rule.least.show(self.unit),
                    rule.over_short.show_with_unit(self.unit),
                    rule.over_long.show_with_unit(self.unit)
                ));
            }
        }
        if self.rules.address_counts && self.piece.address == Address::Short {
            self.reasons.push("the address runs along the short side".to_owned());
        }
        if self.piece.wrapping == Wrapping::Folded {
            self.reasons.extend(self.rules.folded_without_envelope.clone());
        }
        self.reasons.len() > before
    }
}

/// A limit in the unit that the operator prints it in.
fn as_printed(limit: Size) -> String {
    let metric = limit.width.is_on(Length::mm(1)) && limit.height.is_on(Length::mm(1));
    limit.show_with_unit(if metric { Unit::Mm } else { Unit::Inch })
}

const fn half_a_millimetre_hundredfold() -> i64 {
    Length::tenths_mm(5).units() * 100
}

enum Tried {
    Is(Verdict),
    OnlyTooHeavy,
    No,
}

/// The person's own price for a judgement, with its date.
pub fn own_price(prices: &[OwnPrice], judgement: &Judgement) -> Option<String> {
    let found = prices.iter().find(|p| p.rules == judgement.rules && p.verdict == judgement.verdict)?;
    Some(format!("your price of {} for this: {}", found.date, found.price.show(&found.currency)))
}
