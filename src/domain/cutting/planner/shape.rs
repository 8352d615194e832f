//! Layouts in one form: equal parts side by side, large ones first, the leftover last. Two sheets that are cut alike
//! have equal shapes, and a shape is cut in the order it is written.

/// What becomes of a panel.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Shape {
    /// Parts beside (`down`) or below each other, at least two.
    Parts {
        /// The cuts run down.
        down: bool,
        /// Each part's extent across the cuts, and the part.
        parts: Vec<(i32, Shape)>,
    },
    /// A finished piece.
    Piece {
        /// Its kind.
        kind: u16,
        /// It lies turned.
        turned: bool,
    },
    /// Left over.
    Left,
}

impl Shape {
    /// The same layout of a panel `w` by `h` with cuts of one direction on one level and leftovers side by side joined.
    pub(crate) fn tidy(self, w: i32, h: i32) -> Self {
        let Self::Parts { down, parts } = self else { return self };
        let mut flat: Vec<(i32, Self)> = Vec::new();
        let mut left = 0;
        for (extent, part) in parts {
            let (w, h) = if down { (extent, h) } else { (w, extent) };
            match part.tidy(w, h) {
                Self::Left => left += extent,
                Self::Parts { down: inner, parts } if inner == down => {
                    for (extent, part) in parts {
                        if part == Self::Left {
                            left += extent;
                        } else {
                            flat.push((extent, part));
                        }
                    }
                }
                other => flat.push((extent, other)),
            }
        }
        if flat.is_empty() {
            return Self::Left;
        }
        if left > 0 {
            flat.push((left, Self::Left));
        } else if flat.len() == 1
            && let Some((_, only)) = flat.pop()
        {
            return only;
        }
        Self::Parts { down, parts: flat }
    }

    /// How many cuts it takes.
    pub(crate) fn cuts(&self) -> u32 {
        match self {
            Self::Parts { parts, .. } => {
                parts.len() as u32 - 1 + parts.iter().map(|p| p.1.cuts()).sum::<u32>()
            }
            _ => 0,
        }
    }

    /// Calls back for every panel that is cut, with the direction of its cuts and its parts.
    pub(crate) fn each_cut_panel<'a>(&'a self, tell: &mut impl FnMut(bool, &'a [(i32, Self)])) {
        if let Self::Parts { down, parts } = self {
            tell(*down, parts);
            for (_, part) in parts {
                part.each_cut_panel(tell);
            }
        }
    }

    /// True where finished sizes reach across the whole panel in the direction that cuts down (or across) divide: nothing
    /// inside takes up slack.
    pub(crate) fn is_tight(&self, down: bool) -> bool {
        match self {
            Self::Piece { .. } => true,
            Self::Left => false,
            Self::Parts { down: own, parts } if *own == down => parts.iter().all(|p| p.1.is_tight(down)),
            Self::Parts { parts, .. } => parts.iter().any(|p| p.1.is_tight(down)),
        }
    }

    /// The longest single cut of a panel `w` by `h`.
    pub(crate) fn longest_cut(&self, w: i32, h: i32) -> i32 {
        let Self::Parts { down, parts } = self else { return 0 };
        let own = if *down { h } else { w };
        let of = |(extent, part): &(i32, Self)| {
            if *down { part.longest_cut(*extent, h) } else { part.longest_cut(w, *extent) }
        };
        parts.iter().map(of).fold(own, i32::max)
    }

    /// Area of the largest leftover of a panel `w` by `h` whose sides reach those of the smallest that counts.
    pub(crate) fn largest_leftover(&self, w: i32, h: i32, keep: (i32, i32)) -> i64 {
        match self {
            Self::Piece { .. } => 0,
            Self::Left if w.min(h) < keep.0 || w.max(h) < keep.1 => 0,
            Self::Left => i64::from(w) * i64::from(h),
            Self::Parts { down, parts } => {
                let of = |(extent, part): &(i32, Self)| {
                    let (w, h) = if *down { (*extent, h) } else { (w, *extent) };
                    part.largest_leftover(w, h, keep)
                };
                parts.iter().map(of).max().unwrap_or(0)
            }
        }
    }
}

/// Sheets that are cut alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Group {
    /// Sheet row in the model.
    pub format: u16,
    /// How each is cut.
    pub shape: Shape,
    /// Their places in the list that was grouped.
    pub members: Vec<usize>,
}

impl Group {
    /// How many.
    pub(crate) fn copies(&self) -> u32 {
        self.members.len() as u32
    }
}

/// Groups sheets, each with its format, that are cut alike; formats in the model's order, many copies first.
pub(crate) fn group(sheets: impl Iterator<Item = (u16, Shape)>) -> Vec<Group> {
    let mut all: Vec<(u16, Shape, usize)> =
        sheets.enumerate().map(|(at, (format, shape))| (format, shape, at)).collect();
    all.sort();
    let mut groups: Vec<Group> = Vec::new();
    for (format, shape, at) in all {
        match groups.last_mut() {
            Some(g) if g.format == format && g.shape == shape => g.members.push(at),
            _ => groups.push(Group { format, shape, members: vec![at] }),
        }
    }
    groups.sort_by_key(|g| (g.format, std::cmp::Reverse(g.copies())));
    groups
}

/// The different fence settings that shapes take, ascending; of a panel without leftover one part needs none.
pub(crate) fn settings<'a>(shapes: impl Iterator<Item = &'a Shape>) -> Vec<i32> {
    settings_beside(shapes, &[])
}

/// The settings that shapes take beside some that are taken anyway (ascending).
pub(crate) fn settings_beside<'a>(shapes: impl Iterator<Item = &'a Shape>, others: &[i32]) -> Vec<i32> {
    let mut forced: Vec<i32> = others.to_vec();
    let mut open: Vec<Vec<i32>> = Vec::new();
    for shape in shapes {
        shape.each_cut_panel(&mut |down, parts| {
            let leftover = parts.last().is_some_and(|p| p.1 == Shape::Left);
            let is_loose = !leftover && parts.iter().any(|p| !p.1.is_tight(down));
            let mut may_remain: Vec<i32> = Vec::new();
            for (extent, part) in parts.iter().filter(|p| p.1 != Shape::Left) {
                let may = !leftover && (!is_loose || !part.is_tight(down));
                if may { may_remain.push(*extent) } else { forced.push(*extent) }
            }
            may_remain.sort_unstable();
            forced.extend(may_remain.windows(2).filter(|w| w[0] == w[1]).map(|w| w[0]));
            may_remain.dedup();
            open.push(may_remain);
        });
    }
    forced.sort_unstable();
    forced.dedup();
    let mut wanted: Vec<i32> = Vec::new();
    for extents in &mut open {
        extents.retain(|e| forced.binary_search(e).is_err());
        wanted.extend(extents.iter());
    }
    wanted.sort_unstable();
    let times = |e: i32| wanted.partition_point(|&x| x <= e) - wanted.partition_point(|&x| x < e);
    open.sort();
    for extents in open {
        let missing: Vec<i32> = extents.into_iter().filter(|e| !forced.contains(e)).collect();
        let free = missing.iter().copied().min_by_key(|&e| (times(e), e));
        forced.extend(missing.into_iter().filter(|&e| Some(e) != free));
    }
    forced.retain(|e| others.binary_search(e).is_err());
    forced.sort_unstable();
    forced
}
