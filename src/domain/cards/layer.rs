//! What a card is made of, and every layer's exact size, place, cut size and reveals. Knows no paper weights or post.
//!
//! Layers run from the first mat inward; the card front is not one of them. Every layer lies on the one before it
//! unless it names another. A mat has a *reveal*: how much of the layer below shows on each side. A "1/8 border each
//! side" and "1/4 smaller" are one mat, said in two ways, so both are told.
//!
//! Exact sizes are chained from exact sizes, and each is rounded to the fence once, at the end and downward (a mat must
//! fit on what it lies on). A rounded layer is laid with its middle where the exact one has it, so the slack shows as
//! half on each side; [`LayerSize::seen`] is that.

use super::error::{CardError, CardReason};
use super::fold::Side;
use super::frame::{self, Frame, Opening};
use super::made_by::MadeBy;
use super::paper::Paper;
use super::tools::Tools;
use crate::domain::cards::reveal::Reveal;
use crate::domain::length::{Length, Rounding};
use crate::domain::size::{Grain, Size};
use crate::domain::thickness::Thickness;

/// What gives a layer its size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// A mat: what it lies on, less the reveal.
    Inset(Reveal),
    /// A panel or strip with a size of its own.
    Panel {
        /// Its size.
        size: Size,
        /// Where it lies on the layer below.
        place: LayerPlace,
    },
    /// A strip from side to side of what it lies on: it follows when that changes.
    Strip {
        /// The side that it runs along.
        along: Side,
        /// How broad it is.
        breadth: Length,
        /// From the top (along the width) or the left (along the height); `None` for the middle.
        at: Option<Length>,
    },
}

/// Where a panel lies on the layer below it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum LayerPlace {
    /// In the middle both ways.
    #[default]
    Middle,
    /// At a distance from the left and top sides of the layer below.
    At {
        /// From its left side.
        x: Length,
        /// From its top side.
        y: Length,
    },
}

/// One layer on the card. `P` is how its papers are known: a [`Paper`] here, a line of the shelf in a book; `C` is how
/// its colour is: by name here, a swatch in a book.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Layer<P = Paper, C = String> {
    /// What the person calls it.
    pub name: String,
    /// What gives it its size.
    pub shape: Shape,
    /// Index of the layer that it lies on; `None` for the one before it (the card front for the first).
    pub on: Option<usize>,
    /// Its paper, where chosen.
    pub paper: Option<P>,
    /// Its colour, where that is not its paper's own.
    pub colour: Option<C>,
    /// How many of it a card takes.
    pub count: u32,
    /// False where its pattern must stay upright.
    pub may_turn: bool,
    /// How it is made.
    pub made_by: MadeBy,
    /// Paper needed around it on every side for that.
    pub allowance: Length,
    /// Which of its sides the grain has to follow, where it is folded.
    pub grain: Grain,
    /// Foam or tape under it.
    pub raise: Thickness,
    /// A frame mat's frame, where it has an opening.
    pub frame: Option<Frame>,
    /// The paper behind the frame's opening, where chosen.
    pub insert: Option<P>,
}

impl Shape {
    /// The word for a part of this shape, with or without an opening: mat, frame, panel, strip.
    pub const fn word(&self, is_frame: bool) -> &'static str {
        match self {
            Self::Inset(_) if is_frame => "frame",
            Self::Inset(_) => "mat",
            Self::Panel { .. } => "panel",
            Self::Strip { .. } => "strip",
        }
    }
}

impl<P, C> Layer<P, C> {
    /// One layer of this shape: may turn, glued flat, no paper chosen.
    pub const fn new(shape: Shape) -> Self {
        Self {
            name: String::new(),
            shape,
            on: None,
            paper: None,
            colour: None,
            count: 1,
            may_turn: true,
            made_by: MadeBy::Straight,
            allowance: Length::ZERO,
            grain: Grain::Unknown,
            raise: Thickness::ZERO,
            frame: None,
            insert: None,
        }
    }

    /// A mat with these reveals.
    pub fn mat(name: &str, reveal: Reveal) -> Self {
        Self { name: name.to_owned(), ..Self::new(Shape::Inset(reveal)) }
    }

    /// A panel or strip of its own size.
    pub fn panel(name: &str, size: Size, place: LayerPlace) -> Self {
        Self { name: name.to_owned(), ..Self::new(Shape::Panel { size, place }) }
    }

    /// A strip from side to side, in the middle or at a distance.
    pub fn strip(name: &str, along: Side, breadth: Length, at: Option<Length>) -> Self {
        Self { name: name.to_owned(), ..Self::new(Shape::Strip { along, breadth, at }) }
    }

    /// The word for what it is: mat, frame, panel, strip.
    pub const fn word(&self) -> &'static str {
        self.shape.word(self.frame.is_some())
    }

    /// What it is called on screen and on paper: its own name, else what it is and its place among the layers.
    pub fn shown_name(&self, index: usize) -> String {
        if self.name.is_empty() { format!("{} {}", self.word(), index + 1) } else { self.name.clone() }
    }

    /// What the piece behind its opening is called.
    pub fn insert_name(&self, index: usize) -> String {
        format!("insert of {}", self.shown_name(index))
    }

    /// The same layer with its papers and its colour known in another way.
    pub fn known_by<Q, D>(
        &self,
        paper: &mut impl FnMut(&P) -> Q,
        colour: &mut impl FnMut(&C) -> D,
    ) -> Layer<Q, D> {
        Layer {
            name: self.name.clone(),
            shape: self.shape,
            on: self.on,
            paper: self.paper.as_ref().map(&mut *paper),
            colour: self.colour.as_ref().map(colour),
            count: self.count,
            may_turn: self.may_turn,
            made_by: self.made_by,
            allowance: self.allowance,
            grain: self.grain,
            raise: self.raise,
            frame: self.frame,
            insert: self.insert.as_ref().map(paper),
        }
    }
}

/// A layer's size rounded to the fence.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CutSize {
    /// The size to set at the fence.
    pub size: Size,
    /// The mark it was rounded to.
    pub mark: Length,
    /// Rounded width less exact width: never above zero.
    pub error_width: Length,
    /// Rounded height less exact height: never above zero.
    pub error_height: Length,
}

impl CutSize {
    /// Rounds a size that must fit down to a mark.
    pub fn must_fit(exact: Size, mark: Length) -> Self {
        let (w, h) =
            (exact.width.round_to(mark, Rounding::Down), exact.height.round_to(mark, Rounding::Down));
        Self { size: Size::new(w.value, h.value), mark, error_width: w.error, error_height: h.error }
    }

    /// The larger of the two errors, by magnitude.
    pub fn error(&self) -> Length {
        self.error_width.min(self.error_height)
    }

    /// True where nothing was rounded.
    pub fn is_exact(&self) -> bool {
        self.error() == Length::ZERO
    }
}

/// Everything about one layer's size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LayerSize {
    /// Index into the card's layers.
    pub index: usize,
    /// Index of the layer it lies on; `None` is the card front.
    pub on: Option<usize>,
    /// Exact size.
    pub exact: Size,
    /// Left side, from the card front's left.
    pub x: Length,
    /// Top side, from the card front's top.
    pub y: Length,
    /// Exact distances to the sides of what it lies on.
    pub reveal: Reveal,
    /// The size to cut.
    pub cut: CutSize,
    /// The reveals as they will look once it and what it lies on are cut to the marks.
    pub seen: Reveal,
    /// The opening of a frame mat.
    pub opening: Option<Opening>,
}

/// A rectangle on the card front.
#[derive(Clone, Copy)]
struct Rect {
    x: Length,
    y: Length,
    size: Size,
}

impl Rect {
    /// A smaller rectangle with the same middle (half a unit goes to the right and bottom).
    fn shrunk_to(self, size: Size) -> Self {
        Self {
            x: self.x + (self.size.width - size.width).half(),
            y: self.y + (self.size.height - size.height).half(),
            size,
        }
    }

    /// How much of `self` shows round `inner`.
    fn reveal_round(self, inner: Self) -> Reveal {
        let (left, top) = (inner.x - self.x, inner.y - self.y);
        Reveal::sides(
            left,
            top,
            self.size.width - inner.size.width - left,
            self.size.height - inner.size.height - top,
        )
    }
}

/// Every layer's exact size, place, cut size and reveals on a front, from the first mat inward.
///
/// # Errors
/// One sentence for the first layer that cannot be made, with the nearest value that works.
pub fn sizes<P, C>(face: Size, layers: &[Layer<P, C>], tools: &Tools) -> Result<Vec<LayerSize>, CardError> {
    let front = Rect { x: Length::ZERO, y: Length::ZERO, size: face };
    let mut placed: Vec<(Rect, Rect)> = Vec::with_capacity(layers.len());
    let mut out = Vec::with_capacity(layers.len());
    for (index, layer) in layers.iter().enumerate() {
        let on = below(layer, index)?;
        let (exact_below, cut_below) = on.and_then(|i| placed.get(i).copied()).unwrap_or((front, front));
        let exact = place(layer, index, exact_below, tools)?;
        let cut = CutSize::must_fit(exact.size, tools.trimmer);
        let laid = exact.shrunk_to(cut.size);
        let opening = match &layer.frame {
            Some(frame) => Some(frame::opening(&layer.shown_name(index), exact.size, frame, tools)?),
            None => None,
        };
        placed.push((exact, laid));
        out.push(LayerSize {
            index,
            on,
            exact: exact.size,
            x: exact.x,
            y: exact.y,
            reveal: exact_below.reveal_round(exact),
            cut,
            seen: cut_below.reveal_round(laid),
            opening,
        });
    }
    Ok(out)
}

/// The layer below, as an index; `None` is the card front.
fn below<P, C>(layer: &Layer<P, C>, index: usize) -> Result<Option<usize>, CardError> {
    match layer.on {
        Some(on) if on >= index => {
            let text = format!(
                "{}: it cannot lie on layer {}, which is not below it: name an earlier layer, or leave that out",
                layer.shown_name(index),
                on + 1
            );
            Err(CardError::new(CardReason::NotBelow, text))
        }
        Some(on) => Ok(Some(on)),
        None => Ok(index.checked_sub(1)),
    }
}

fn place<P, C>(layer: &Layer<P, C>, index: usize, below: Rect, tools: &Tools) -> Result<Rect, CardError> {
    match layer.shape {
        Shape::Inset(reveal) => {
            let size = Size::new(below.size.width - reveal.width(), below.size.height - reveal.height());
            check_reveal(&layer.shown_name(index), &reveal, below.size, size, tools)?;
            Ok(Rect { x: below.x + reveal.left, y: below.y + reveal.top, size })
        }
        Shape::Panel { size, place } => {
            let (x, y) = match place {
                LayerPlace::Middle => {
                    ((below.size.width - size.width).half(), (below.size.height - size.height).half())
                }
                LayerPlace::At { x, y } => (x, y),
            };
            laid(&layer.shown_name(index), Rect { x, y, size }, below, tools)
        }
        Shape::Strip { along, breadth, at } => {
            let (size, room) = match along {
                Side::Width => (Size::new(below.size.width, breadth), below.size.height),
                Side::Height => (Size::new(breadth, below.size.height), below.size.width),
            };
            let at = at.unwrap_or_else(|| (room - breadth).half());
            let (x, y) = if along == Side::Width { (Length::ZERO, at) } else { (at, Length::ZERO) };
            laid(&layer.shown_name(index), Rect { x, y, size }, below, tools)
        }
    }
}

/// A piece at a distance from the left and top of what it lies on, in the measures of the whole front.
fn laid(name: &str, own: Rect, below: Rect, tools: &Tools) -> Result<Rect, CardError> {
    check_panel(name, own.size, (own.x, own.y), below.size, tools)?;
    Ok(Rect { x: below.x + own.x, y: below.y + own.y, size: own.size })
}

fn check_reveal(
    name: &str,
    reveal: &Reveal,
    below: Size,
    left_over: Size,
    tools: &Tools,
) -> Result<(), CardError> {
    let (mark, unit) = (tools.trimmer, tools.unit);
    if left_over.short() >= mark {
        return Ok(());
    }
    let most = most_reveal(below, tools);
    if !most.is_positive() {
        let text = format!(
            "{name}: the layer below is only {}, too small for any layer with a mark of {}: leave this layer out",
            below.show_with_unit(unit),
            mark.show_with_unit(unit),
        );
        return Err(CardError::new(CardReason::NoRoom, text));
    }
    let wide = left_over.width < mark;
    let (side, parent, taken) =
        if wide { ("width", below.width, reveal.width()) } else { ("height", below.height, reveal.height()) };
    let most = match reveal.uniform() {
        Some(_) => most.show_with_unit(unit),
        None => format!(
            "{} for both sides together",
            (parent - mark).round_to(mark, Rounding::Down).value.show_with_unit(unit)
        ),
    };
    let text = format!(
        "{name}: a reveal of {} takes {} off a {side} of {} and leaves nothing: at most {most} works",
        reveal.show(unit),
        taken.show_with_unit(unit),
        parent.show_with_unit(unit),
    );
    Err(CardError::new(CardReason::RevealEatsLayer, text))
}

/// The largest reveal on a mark that leaves at least one mark of a layer of this size all round.
pub fn most_reveal(below: Size, tools: &Tools) -> Length {
    (below.short() - tools.trimmer).half().round_to(tools.trimmer, Rounding::Down).value.max(Length::ZERO)
}

fn check_panel(
    name: &str,
    size: Size,
    at: (Length, Length),
    below: Size,
    tools: &Tools,
) -> Result<(), CardError> {
    let unit = tools.unit;
    let room = Size::new(below.width - size.width, below.height - size.height);
    let inside = |v: Length, most: Length| v >= Length::ZERO && v <= most;
    if inside(at.0, room.width) && inside(at.1, room.height) {
        return Ok(());
    }
    let too_large = room.width < Length::ZERO || room.height < Length::ZERO;
    let instead = if too_large {
        Size::new(size.width.min(below.width), size.height.min(below.height)).show_with_unit(unit)
    } else {
        let (x, y) = (at.0.max(Length::ZERO).min(room.width), at.1.max(Length::ZERO).min(room.height));
        format!("{} from the left and {} from the top", x.show_with_unit(unit), y.show_with_unit(unit))
    };
    let given = if too_large {
        size.show_with_unit(unit)
    } else {
        format!(
            "{} at {} from the left and {} from the top",
            size.show_with_unit(unit),
            at.0.show_with_unit(unit),
            at.1.show_with_unit(unit)
        )
    };
    let below = below.show_with_unit(unit);
    let text = format!("{name}: {given} does not lie within the {below} below it: {instead} works");
    Err(CardError::new(CardReason::Overhangs, text))
}

/// The card face that is reached by working outward from a picture: each reveal in turn, the innermost first.
///
/// The layers of that face are the same reveals the other way round, and the picture is the last of them.
pub fn outward(picture: Size, reveals: &[Reveal]) -> Size {
    reveals.iter().fold(picture, |s, r| Size::new(s.width + r.width(), s.height + r.height()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::length::Unit;

    fn mats(reveals: &[&str]) -> Vec<Layer> {
        reveals.iter().map(|r| Layer::mat("", Reveal::parse(r, Unit::Inch).unwrap())).collect()
    }

    fn sized(face: Size, layers: &[Layer]) -> Result<Vec<LayerSize>, CardError> {
        sizes(face, layers, &Tools::INCH)
    }

    fn size(text: &str) -> Size {
        Size::parse(text, Unit::Inch).unwrap()
    }

    /// Worked by hand: reveals 1/8, 1/16, 1/8 on 4 1/4 x 5 1/2.
    #[test]
    fn three_layers_with_different_reveals() {
        let all = sized(size("4-1/4x5-1/2"), &mats(&["1/8", "1/16", "1/8"])).unwrap();
        let got: Vec<Size> = all.iter().map(|l| l.exact).collect();
        assert_eq!(got, [size("4x5-1/4"), size("3-7/8x5-1/8"), size("3-5/8x4-7/8")]);
        let offsets: Vec<Length> = all.iter().map(|l| l.x).collect();
        assert_eq!(offsets, [2, 3, 5].map(Length::sixteenths));
        assert!(all.iter().all(|l| l.x == l.y && l.cut.is_exact() && l.seen == l.reveal));
    }

    #[test]
    fn rounding_is_down_once_and_shows_on_each_side() {
        // 1/8 + 1/32 off each side of 4 1/4 leaves 3 15/16: a mark. Of a metric face it does not.
        let all = sized(size("105x148mm"), &mats(&["3 mm", "3 mm"])).unwrap();
        let first = &all[0];
        assert_eq!(first.exact, size("99x142mm"));
        assert!(first.cut.size.width.is_on(Length::sixteenths(1)) && first.cut.error_width <= Length::ZERO);
        assert_eq!(first.exact.width + first.cut.error_width, first.cut.size.width);
        assert_eq!(first.seen.width(), first.reveal.width() - first.cut.error_width);
        let second = &all[1];
        assert_eq!(second.exact, size("93x136mm"), "chained from exact sizes");
        assert_eq!(second.seen.width(), first.cut.size.width - second.cut.size.width);
    }

    #[test]
    fn sides_of_their_own() {
        let all = sized(size("4-1/4x5-1/2"), &mats(&["1/8:1/8:1/8:1"])).unwrap();
        assert_eq!(all[0].exact, size("4x4-3/8"));
        assert_eq!(all[0].reveal.bottom, Length::inches(1));
        assert_eq!(Reveal::parse("0:0:0:1/2", Unit::Inch).unwrap().left, Length::ZERO);
        assert!(
            Reveal::parse("1/8:1/8", Unit::Inch).unwrap_err().to_string().contains("left:top:right:bottom")
        );
    }

    #[test]
    fn a_reveal_that_eats_the_layer_names_the_one_that_works() {
        let face = size("4-1/4x5-1/2");
        let error = sized(face, &mats(&["2-1/8"])).unwrap_err().to_string();
        assert!(error.contains("at most 2 1/16 in works"), "{error}");
        sized(face, &mats(&["2-1/16"])).unwrap();
        let error = sized(face, &mats(&["1/8", "2"])).unwrap_err().to_string();
        assert!(error.starts_with("mat 2") && error.contains("at most 1 15/16 in works"), "{error}");
        let error = sized(face, &mats(&["1/8:3:1/8:3"])).unwrap_err().to_string();
        assert!(error.contains("height") && error.contains("5 7/16 in for both sides together"), "{error}");
        let sliver = sized(size("1/16x2"), &mats(&["1/8"])).unwrap_err();
        assert_eq!(sliver.reason, CardReason::NoRoom, "{sliver}");
    }

    #[test]
    fn panels_lie_on_what_they_name() {
        let (face, mut layers) = (size("4-1/4x5-1/2"), mats(&["1/8"]));
        layers.push(Layer::panel(
            "strip",
            size("4x1"),
            LayerPlace::At { x: Length::ZERO, y: Length::inches(3) },
        ));
        layers.push(Layer { on: Some(0), ..Layer::panel("sentiment", size("3x1"), LayerPlace::Middle) });
        let all = sized(face, &layers).unwrap();
        assert_eq!((all[1].x, all[1].y), (Length::sixteenths(2), Length::sixteenths(50)));
        assert_eq!(all[2].x, Length::sixteenths(10));
        assert_eq!(all[2].on, Some(0));
        layers[1].shape = Shape::Panel {
            size: size("4x1"),
            place: LayerPlace::At { x: Length::inches(1), y: Length::ZERO },
        };
        let error = sized(face, &layers).unwrap_err().to_string();
        assert!(error.contains("from the left and 0 in from the top works"), "{error}");
        layers[1].on = Some(2);
        assert!(sized(face, &layers).unwrap_err().to_string().contains("not below it"));
    }

    #[test]
    fn outward_from_a_picture_is_inward_from_the_face() {
        let reveals = [Reveal::all(Length::sixteenths(2)), Reveal::all(Length::sixteenths(1))];
        let face = outward(size("3-1/2x5"), &reveals);
        assert_eq!(face, size("3-7/8x5-3/8"));
        let all = sized(face, &mats(&["1/16", "1/8"])).unwrap();
        assert_eq!(all[1].exact, size("3-1/2x5"));
    }

    #[test]
    fn both_ways_of_saying_a_reveal() {
        let r = Reveal::all(Length::sixteenths(2));
        assert_eq!(r.both_ways(Unit::Inch), "1/8 in border each side, 1/4 in smaller");
    }
}
