//! One sheet being filled: a guillotine tree in a flat array, without coordinates.
//!
//! Levels alternate: the children of a `Down` node stand side by side (parted by cuts that run down), those of an
//! `Across` node lie one above the other. A node with children has at least two, at most one of them is a leftover,
//! and that one comes first. Every tree that can be stored is therefore cut edge to edge, and putting a piece into a
//! leftover or taking one out touches a few nodes only. (Goal-driven ruin and recreate: Gardeyn & Wauters 2022.)

use crate::domain::cutting::planner::model::Instance;
use crate::domain::cutting::planner::shape::Shape;

/// No node.
pub(crate) const NONE: u16 = u16::MAX;

/// What a node is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum What {
    /// An unused slot.
    Free,
    /// Paper left over; `tag` is its place in the list of leftovers.
    Left,
    /// A piece; `tag` is its kind.
    Piece,
    /// A piece lying turned; `tag` is its kind.
    PieceTurned,
    /// Children side by side.
    Down,
    /// Children one above the other.
    Across,
}

impl What {
    const fn is_piece(self) -> bool {
        matches!(self, Self::Piece | Self::PieceTurned)
    }
}

#[derive(Clone, Copy, Debug)]
pub(crate) struct Node {
    pub w: i32,
    pub h: i32,
    pub parent: u16,
    pub first: u16,
    pub next: u16,
    pub prev: u16,
    pub tag: u16,
    pub what: What,
}

/// A leftover, with what the search asks about it all the time.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Left {
    pub w: i32,
    pub h: i32,
    pub node: u16,
    pub worth_w: f64,
    pub worth_h: f64,
}

/// A sheet and what lies on it.
#[derive(Debug)]
pub(crate) struct Bin {
    /// Which row of sheets it is.
    pub format: u16,
    pub nodes: Vec<Node>,
    pub lefts: Vec<Left>,
    free: u16,
    /// Pieces on it.
    pub pieces: u32,
    /// Area of the leftovers.
    pub left_area: i64,
    /// Worth of the leftovers.
    pub value: f64,
    /// Widest and highest leftover.
    pub max_w: i32,
    pub max_h: i32,
}

impl Clone for Bin {
    fn clone(&self) -> Self {
        Self { nodes: self.nodes.clone(), lefts: self.lefts.clone(), ..*self }
    }

    fn clone_from(&mut self, from: &Self) {
        self.nodes.clear();
        self.nodes.extend_from_slice(&from.nodes);
        self.lefts.clear();
        self.lefts.extend_from_slice(&from.lefts);
        self.format = from.format;
        self.free = from.free;
        self.pieces = from.pieces;
        self.left_area = from.left_area;
        self.value = from.value;
        self.max_w = from.max_w;
        self.max_h = from.max_h;
    }
}

/// A way to put a piece into a leftover.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Spot {
    /// Place in [`Bin::lefts`].
    pub left: u16,
    /// The piece lies turned.
    pub turned: bool,
    /// The first cut runs down.
    pub down_first: bool,
}

impl Bin {
    /// An untouched sheet.
    pub(crate) fn new(model: &Instance, format: u16) -> Self {
        let mut bin = Self {
            format,
            nodes: Vec::new(),
            lefts: Vec::new(),
            free: NONE,
            pieces: 0,
            left_area: 0,
            value: 0.0,
            max_w: 0,
            max_h: 0,
        };
        bin.reset(model, format);
        bin
    }

    /// Its layout in one form.
    pub(crate) fn shape(&self) -> Shape {
        self.shape_below(0)
    }

    fn shape_below(&self, at: u16) -> Shape {
        let node = self.nodes[usize::from(at)];
        let down = match node.what {
            What::Piece => return Shape::Piece { kind: node.tag, turned: false },
            What::PieceTurned => return Shape::Piece { kind: node.tag, turned: true },
            What::Left | What::Free => return Shape::Left,
            What::Down => true,
            What::Across => false,
        };
        let mut parts = Vec::new();
        let mut child = node.first;
        while child != NONE {
            let n = self.nodes[usize::from(child)];
            parts.push((if down { n.w } else { n.h }, self.shape_below(child)));
            child = n.next;
        }
        let rank = |p: &(i32, Shape)| (p.1 == Shape::Left, -p.0);
        parts.sort_by(|a, b| rank(a).cmp(&rank(b)).then_with(|| a.1.cmp(&b.1)));
        Shape::Parts { down, parts }
    }

    /// A sheet cut to a shape. The shape may nest cuts of one direction and leave leftovers apart: they are joined.
    pub(crate) fn build(model: &Instance, format: u16, shape: Shape) -> Self {
        let mut bin = Self::new(model, format);
        let Node { w, h, .. } = bin.nodes[0];
        let shape = shape.tidy(w, h);
        if shape != Shape::Left {
            bin.drop_left(0);
            bin.grow(model, 0, shape);
            bin.measure();
        }
        bin
    }

    fn grow(&mut self, model: &Instance, at: u16, shape: Shape) {
        let Node { w, h, .. } = self.nodes[usize::from(at)];
        match shape {
            Shape::Left => {
                self.node(at).what = What::Left;
                self.add_left(model, at);
            }
            Shape::Piece { kind, turned } => {
                self.pieces += 1;
                self.node(at).what = if turned { What::PieceTurned } else { What::Piece };
                self.node(at).tag = kind;
            }
            Shape::Parts { down, parts } => {
                self.node(at).what = if down { What::Down } else { What::Across };
                self.node(at).first = NONE;
                let (left, rest): (Vec<_>, Vec<_>) = parts.into_iter().partition(|p| p.1 == Shape::Left);
                for (extent, part) in left.into_iter().chain(rest) {
                    let (w, h) = if down { (extent, h) } else { (w, extent) };
                    let blank = Node {
                        w,
                        h,
                        parent: NONE,
                        first: NONE,
                        next: NONE,
                        prev: NONE,
                        tag: 0,
                        what: What::Left,
                    };
                    let child = self.take_slot(blank);
                    self.adopt(at, child);
                    self.grow(model, child, part);
                }
            }
        }
    }

    /// True where no cut is longer than the trimmer makes.
    pub(crate) fn keeps_to(&self, max_cut: i32) -> bool {
        self.nodes.iter().all(|n| match n.what {
            What::Down => n.h <= max_cut,
            What::Across => n.w <= max_cut,
            _ => true,
        })
    }

    /// Takes one piece of a kind off the sheet, if there is one.
    pub(crate) fn remove_one(&mut self, model: &Instance, kind: u16) -> bool {
        let at = self.nodes.iter().position(|n| n.what.is_piece() && n.tag == kind);
        if let Some(at) = at {
            self.remove(model, at as u16, &mut Vec::new());
            self.measure();
        }
        at.is_some()
    }

    /// Back to an untouched sheet.
    pub(crate) fn reset(&mut self, model: &Instance, format: u16) {
        let (w, h) = model.formats.get(usize::from(format)).map_or((0, 0), |f| (f.w, f.h));
        self.format = format;
        self.nodes.clear();
        self.lefts.clear();
        self.free = NONE;
        self.pieces = 0;
        self.nodes.push(Node {
            w,
            h,
            parent: NONE,
            first: NONE,
            next: NONE,
            prev: NONE,
            tag: 0,
            what: What::Left,
        });
        self.lefts.push(Left { w, h, node: 0, worth_w: model.worth(w), worth_h: model.worth(h) });
        self.measure();
    }

    /// True where nothing lies on it.
    pub(crate) fn is_empty(&self) -> bool {
        self.pieces == 0
    }

    /// Takes stock of the leftovers after a change.
    pub(crate) fn measure(&mut self) {
        let (mut value, mut area, mut max_w, mut max_h) = (0.0, 0, 0, 0);
        for l in &self.lefts {
            value += l.worth_w * l.worth_h;
            area += i64::from(l.w) * i64::from(l.h);
            max_w = max_w.max(l.w);
            max_h = max_h.max(l.h);
        }
        self.value = value;
        self.left_area = area;
        self.max_w = max_w;
        self.max_h = max_h;
    }

    fn take_slot(&mut self, node: Node) -> u16 {
        if self.free == NONE {
            self.nodes.push(node);
            (self.nodes.len() - 1) as u16
        } else {
            let slot = self.free;
            self.free = self.nodes[usize::from(slot)].next;
            self.nodes[usize::from(slot)] = node;
            slot
        }
    }

    fn free_slot(&mut self, slot: u16) {
        let node = &mut self.nodes[usize::from(slot)];
        node.what = What::Free;
        node.next = self.free;
        self.free = slot;
    }

    fn node(&mut self, at: u16) -> &mut Node {
        &mut self.nodes[usize::from(at)]
    }

    /// Puts a child behind the first child (which may be the leftover and must stay first).
    fn adopt(&mut self, parent: u16, child: u16) {
        let head = self.nodes[usize::from(parent)].first;
        self.node(child).parent = parent;
        self.node(child).prev = head;
        if head == NONE {
            self.node(child).next = NONE;
            self.node(parent).first = child;
        } else {
            let after = self.nodes[usize::from(head)].next;
            self.node(child).next = after;
            self.node(head).next = child;
            if after != NONE {
                self.node(after).prev = child;
            }
        }
    }

    fn unlink(&mut self, child: u16) {
        let Node { parent, prev, next, .. } = self.nodes[usize::from(child)];
        if prev == NONE {
            self.node(parent).first = next;
        } else {
            self.node(prev).next = next;
        }
        if next != NONE {
            self.node(next).prev = prev;
        }
    }

    fn put_first(&mut self, child: u16) {
        let parent = self.nodes[usize::from(child)].parent;
        let head = self.nodes[usize::from(parent)].first;
        if head == child {
            return;
        }
        self.unlink(child);
        self.node(child).prev = NONE;
        self.node(child).next = head;
        self.node(head).prev = child;
        self.node(parent).first = child;
    }

    fn add_left(&mut self, model: &Instance, node: u16) {
        let Node { w, h, .. } = self.nodes[usize::from(node)];
        self.node(node).tag = self.lefts.len() as u16;
        self.lefts.push(Left { w, h, node, worth_w: model.worth(w), worth_h: model.worth(h) });
    }

    fn drop_left(&mut self, node: u16) {
        let at = self.nodes[usize::from(node)].tag;
        self.lefts.swap_remove(usize::from(at));
        if let Some(moved) = self.lefts.get(usize::from(at)) {
            let moved = moved.node;
            self.node(moved).tag = at;
        }
    }

    fn resize_left(&mut self, model: &Instance, node: u16, w: i32, h: i32) {
        let at = usize::from(self.nodes[usize::from(node)].tag);
        self.node(node).w = w;
        self.node(node).h = h;
        self.lefts[at] = Left { w, h, node, worth_w: model.worth(w), worth_h: model.worth(h) };
    }

    /// Puts a piece into a leftover. Returns the nodes of what is left of it.
    pub(crate) fn insert(&mut self, model: &Instance, kind: u16, spot: Spot) -> [u16; 2] {
        let mut rests = [NONE; 2];
        let Left { w: room_w, h: room_h, node: left, .. } = self.lefts[usize::from(spot.left)];
        let (w, h) = model.kinds[usize::from(kind)].lying(spot.turned);
        let what = if spot.turned { What::PieceTurned } else { What::Piece };
        self.pieces += 1;
        if w == room_w && h == room_h {
            self.drop_left(left);
            self.node(left).what = what;
            self.node(left).tag = kind;
            return rests;
        }
        let down_first = if h == room_h { true } else { spot.down_first && w != room_w };
        let blank = Node { w, h, parent: NONE, first: NONE, next: NONE, prev: NONE, tag: kind, what };
        let piece = self.take_slot(blank);
        // The strip that the first cut takes off: the piece alone, or the piece and what is left of the strip.
        let (strip_w, strip_h) = if down_first { (w, room_h) } else { (room_w, h) };
        let strip = if strip_w == w && strip_h == h {
            piece
        } else {
            let what = if down_first { What::Across } else { What::Down };
            let strip = self.take_slot(Node { w: strip_w, h: strip_h, what, ..blank });
            let rest = self.take_slot(Node {
                w: if down_first { w } else { room_w - w },
                h: if down_first { room_h - h } else { h },
                what: What::Left,
                ..blank
            });
            self.adopt(strip, rest);
            self.adopt(strip, piece);
            self.add_left(model, rest);
            rests[0] = rest;
            strip
        };
        let direction = if down_first { What::Down } else { What::Across };
        let (rest_w, rest_h) = if down_first { (room_w - w, room_h) } else { (room_w, room_h - h) };
        let parent = self.nodes[usize::from(left)].parent;
        if parent != NONE && self.nodes[usize::from(parent)].what == direction {
            self.resize_left(model, left, rest_w, rest_h);
            self.adopt(parent, strip);
            rests[1] = left;
        } else {
            self.drop_left(left);
            self.node(left).what = direction;
            self.node(left).first = NONE;
            let rest = self.take_slot(Node { w: rest_w, h: rest_h, what: What::Left, ..blank });
            self.adopt(left, rest);
            self.adopt(left, strip);
            self.add_left(model, rest);
            rests[1] = rest;
        }
        rests
    }

    /// Takes a node off the sheet: its pieces are added to `off`, its paper joins the leftover beside it.
    pub(crate) fn remove(&mut self, model: &Instance, at: u16, off: &mut Vec<u16>) {
        self.clear_below(at, off);
        let mut at = at;
        self.node(at).what = What::Left;
        self.add_left(model, at);
        loop {
            let parent = self.nodes[usize::from(at)].parent;
            if parent == NONE {
                break;
            }
            let head = self.nodes[usize::from(parent)].first;
            if head != at && self.nodes[usize::from(head)].what == What::Left {
                let Node { w: more_w, h: more_h, .. } = self.nodes[usize::from(head)];
                let Node { w, h, .. } = self.nodes[usize::from(at)];
                let (w, h) = if self.nodes[usize::from(parent)].what == What::Down {
                    (w + more_w, h)
                } else {
                    (w, h + more_h)
                };
                self.drop_left(head);
                self.unlink(head);
                self.free_slot(head);
                self.resize_left(model, at, w, h);
            }
            self.put_first(at);
            if self.nodes[usize::from(at)].next != NONE {
                break;
            }
            self.drop_left(at);
            self.free_slot(at);
            self.node(parent).what = What::Left;
            self.node(parent).first = NONE;
            self.add_left(model, parent);
            at = parent;
        }
    }

    /// Frees everything below a node and lists its pieces (the node itself, where it is one).
    fn clear_below(&mut self, at: u16, off: &mut Vec<u16>) {
        let Node { what, tag, first, .. } = self.nodes[usize::from(at)];
        if what.is_piece() {
            off.push(tag);
            self.pieces -= 1;
            return;
        }
        if what == What::Left {
            self.drop_left(at);
            return;
        }
        let mut child = first;
        while child != NONE {
            let next = self.nodes[usize::from(child)].next;
            self.clear_below(child, off);
            self.free_slot(child);
            child = next;
        }
        self.node(at).first = NONE;
    }

    /// Lists the kinds of all pieces on the sheet.
    pub(crate) fn kinds(&self) -> impl Iterator<Item = u16> + '_ {
        self.nodes.iter().filter(|n| n.what.is_piece()).map(|n| n.tag)
    }
}
