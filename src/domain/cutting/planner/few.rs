//! A few pieces on a few sheets, exactly: every way to put pieces together from edge to edge, and the cheapest way to share
//! them out among sheets.
//!
//! For every choice of pieces the smallest rooms are known that they can be cut from: of two choices without a piece in
//! common, side by side or one above the other (every layout from edge to edge comes about like that). Of these rooms only
//! those are kept that none is smaller than in both directions. Then each choice costs the cheapest sheet that has room for
//! a part of it, and what the rest costs.

use super::model::{Format, Instance, TURNED, UPRIGHT};
use super::shape::Shape;
use crate::domain::cutting::patterns::exact::trimmed;
use crate::domain::cutting::recreate::bin::Bin;

/// Choices of pieces, and ways to part them in two, up to which it is done (about a tenth of a second).
const MOST_CHOICES: usize = 5_000;
const MOST_PARTINGS: usize = 700_000;
/// Numbers of sheets that are kept apart where sheets run out.
const MOST_STOCKS: usize = 64;

/// Width and height.
type Room = (i32, i32);
/// Some pieces and the room that they are cut from.
type Cut = (usize, Room);

/// Choices of pieces as numbers: so many of the first kind, of the second and so on, in mixed places.
struct Choices {
    counts: Vec<u32>,
    place: Vec<usize>,
    all: usize,
}

impl Choices {
    fn new(model: &Instance) -> Option<Self> {
        let counts: Vec<u32> = model.kinds.iter().map(|k| k.count).collect();
        let (mut place, mut all, mut partings) = (Vec::new(), 1_usize, 1_usize);
        for &n in &counts {
            place.push(all);
            let n = n as usize;
            all = all.checked_mul(n + 1).filter(|all| *all <= MOST_CHOICES)?;
            partings = partings.checked_mul((n + 1) * (n + 2) / 2).filter(|p| *p <= MOST_PARTINGS)?;
        }
        Some(Self { counts, place, all })
    }

    /// So many of a kind in a choice.
    fn of(&self, choice: usize, kind: usize) -> u32 {
        (choice / self.place[kind]) as u32 % (self.counts[kind] + 1)
    }

    /// Calls back for every part of a choice, nothing and all of it among them.
    fn each_part(&self, choice: usize, tell: &mut dyn FnMut(usize)) {
        self.parts_from(choice, 0, 0, tell);
    }

    fn parts_from(&self, choice: usize, kind: usize, part: usize, tell: &mut dyn FnMut(usize)) {
        let Some(&place) = self.place.get(kind) else { return tell(part) };
        for n in 0..=self.of(choice, kind) as usize {
            self.parts_from(choice, kind + 1, part + n * place, tell);
        }
    }
}

/// The smallest rooms of every choice on sheets that have the same rules for all pieces.
struct Rooms<'a> {
    model: &'a Instance,
    choices: &'a Choices,
    /// One of the rows; the others have the same rules.
    row: usize,
    /// The rows' sheets.
    sheets: Vec<Room>,
    /// By choice; narrow and high first.
    all: Vec<Vec<Room>>,
}

impl<'a> Rooms<'a> {
    fn new(model: &'a Instance, choices: &'a Choices, rows: &[usize]) -> Option<Self> {
        let sheets = rows.iter().map(|&row| (model.formats[row].w, model.formats[row].h)).collect();
        let mut rooms =
            Self { model, choices, row: *rows.first()?, sheets, all: vec![Vec::new(); choices.all] };
        for choice in 1..choices.all {
            if model.stop.is_asked() {
                return None;
            }
            rooms.all[choice] = rooms.of(choice);
        }
        Some(rooms)
    }

    fn of(&self, choice: usize) -> Vec<Room> {
        let mut found = self.alone(choice).map(|(room, _)| room).collect::<Vec<_>>();
        found.retain(|&room| self.fits_somewhere(room));
        let mut kept = Vec::new();
        for room in found {
            keep(&mut kept, room);
        }
        self.choices.each_part(choice, &mut |part| {
            let rest = choice - part;
            // Each pair once; rooms of a part that does not fit a sheet are none.
            if part < rest || part == choice || self.all[part].is_empty() || self.all[rest].is_empty() {
                return;
            }
            for down in [true, false] {
                each_joint(&self.all[part], &self.all[rest], down, &mut |room, _, _| {
                    if self.fits_somewhere(room) {
                        keep(&mut kept, room);
                    }
                });
            }
        });
        kept
    }

    /// A choice of one piece, each way that it may lie.
    fn alone(&self, choice: usize) -> impl Iterator<Item = (Room, (u16, bool))> + '_ {
        let kind = self.choices.place.iter().position(|&place| place == choice);
        let ways = kind.map(|k| (k, &self.model.kinds[k]));
        ways.into_iter().flat_map(|(k, kind)| {
            let lying = [(UPRIGHT, false), (TURNED, true)];
            let ways = kind.ways[self.row];
            lying
                .into_iter()
                .filter(move |(way, _)| ways & way != 0)
                .map(move |(_, turned)| (kind.lying(turned), (k as u16, turned)))
        })
    }

    fn fits_somewhere(&self, (w, h): Room) -> bool {
        self.sheets.iter().any(|sheet| w <= sheet.0 && h <= sheet.1)
    }

    /// A room of a choice that a sheet has.
    fn on(&self, choice: usize, sheet: Room) -> Option<Room> {
        self.all[choice].iter().copied().find(|room| room.0 <= sheet.0 && room.1 <= sheet.1)
    }

    /// How a choice is cut out of one of its rooms.
    fn shape(&self, choice: usize, room: Room) -> Shape {
        if let Some((_, (kind, turned))) = self.alone(choice).find(|(own, _)| *own == room) {
            return Shape::Piece { kind, turned };
        }
        let mut found: Option<(bool, Cut, Cut)> = None;
        self.choices.each_part(choice, &mut |part| {
            let rest = choice - part;
            if found.is_some() || part < rest || part == choice {
                return;
            }
            for down in [true, false] {
                each_joint(&self.all[part], &self.all[rest], down, &mut |joint, a, b| {
                    if joint == room {
                        found = Some((down, (part, a), (rest, b)));
                    }
                });
            }
        });
        let Some((down, first, second)) = found else { return Shape::Left };
        let part = |(choice, (w, h)): Cut| {
            let (extent, wide, high) = if down { (w, w, room.1) } else { (h, room.0, h) };
            (extent, trimmed(wide, high, w, h, self.shape(choice, (w, h))))
        };
        Shape::Parts { down, parts: vec![part(first), part(second)] }
    }
}

/// Keeps a room unless another is no larger in both directions; those that it makes needless go.
fn keep(kept: &mut Vec<Room>, room: Room) {
    let at = kept.partition_point(|k| k.0 <= room.0);
    if at > 0 && kept[at - 1].1 <= room.1 {
        return;
    }
    let from = kept[..at].iter().rposition(|k| k.0 < room.0).map_or(0, |p| p + 1);
    let to = at + kept[at..].iter().take_while(|k| k.1 >= room.1).count();
    kept.splice(from..to, [room]);
}

/// Calls back for the smallest rooms that one of `a` and one of `b` take together: side by side, or one above the other.
fn each_joint(a: &[Room], b: &[Room], down: bool, tell: &mut dyn FnMut(Room, Room, Room)) {
    if down {
        // The height of one of them, and the narrowest of each that is no higher.
        for height in a.iter().chain(b).map(|room| room.1) {
            let narrowest = |all: &[Room]| all.iter().copied().find(|room| room.1 <= height);
            if let (Some(x), Some(y)) = (narrowest(a), narrowest(b)) {
                tell((x.0 + y.0, x.1.max(y.1)), x, y);
            }
        }
    } else {
        for width in a.iter().chain(b).map(|room| room.0) {
            let lowest = |all: &[Room]| all.iter().copied().rev().find(|room| room.0 <= width);
            if let (Some(x), Some(y)) = (lowest(a), lowest(b)) {
                tell((x.0.max(y.0), x.1 + y.1), x, y);
            }
        }
    }
}

/// The cheapest plan of all pieces; `None` where there are too many, where the trimmer is too short for some cut, or where
/// the sheets do not suffice.
pub(crate) fn cheapest(model: &Instance) -> Option<Vec<Bin>> {
    if model.formats.iter().any(|f| f.w.max(f.h) > model.max_cut) {
        return None;
    }
    let choices = Choices::new(model)?;
    let stocks = Stocks::new(model)?;
    let mut groups: Vec<Vec<usize>> = Vec::new();
    let rules = |row: usize| model.kinds.iter().map(move |k| k.ways[row]);
    for row in 0..model.formats.len() {
        match groups.iter_mut().find(|group| rules(group[0]).eq(rules(row))) {
            Some(group) => group.push(row),
            None => groups.push(vec![row]),
        }
    }
    let rooms: Option<Vec<Rooms<'_>>> = groups.iter().map(|rows| Rooms::new(model, &choices, rows)).collect();
    let rooms = rooms?;
    let of_row = |row: usize| groups.iter().position(|group| group.contains(&row)).map(|at| &rooms[at]);
    let mut cover = Cover { model, choices: &choices, stocks: &stocks, fits: Vec::new(), least: Vec::new() };
    for row in 0..model.formats.len() {
        let sheet = (model.formats[row].w, model.formats[row].h);
        let rooms = of_row(row)?;
        cover
            .fits
            .push((0..choices.all).map(|choice| choice > 0 && rooms.on(choice, sheet).is_some()).collect());
    }
    cover.fill()?;
    let sheets = cover.sheets()?;
    let bin = |(row, choice): (usize, usize)| {
        let Format { w, h, .. } = model.formats[row];
        let room = of_row(row)?.on(choice, (w, h))?;
        let shape = of_row(row)?.shape(choice, room);
        Some(Bin::build(model, row as u16, trimmed(w, h, room.0, room.1, shape)))
    };
    sheets.into_iter().map(bin).collect()
}

/// How many sheets are taken of the rows that run out, as one number.
struct Stocks {
    /// For each row its place and how many there are; rows that never run out have none.
    place: Vec<Option<(usize, usize)>>,
    all: usize,
}

impl Stocks {
    fn new(model: &Instance) -> Option<Self> {
        let pieces: u32 = model.kinds.iter().map(|k| k.count).sum();
        let (mut place, mut all) = (Vec::new(), 1);
        for format in &model.formats {
            if format.available >= pieces {
                place.push(None);
                continue;
            }
            place.push(Some((all, format.available as usize)));
            all *= format.available as usize + 1;
            if all > MOST_STOCKS {
                return None;
            }
        }
        Some(Self { place, all })
    }

    /// The number before one more sheet of a row was taken.
    fn without(&self, taken: usize, row: usize) -> Option<usize> {
        let Some((place, most)) = self.place[row] else { return Some(taken) };
        (!(taken / place).is_multiple_of(most + 1)).then(|| taken - place)
    }
}

/// The cheapest sheets for every choice of pieces.
struct Cover<'a> {
    model: &'a Instance,
    choices: &'a Choices,
    stocks: &'a Stocks,
    /// By row and choice: a sheet has room for it.
    fits: Vec<Vec<bool>>,
    /// By choice and number of sheets taken at most: what it costs, and the row and part of the last sheet.
    least: Vec<Option<(u64, usize, usize)>>,
}

impl Cover<'_> {
    fn fill(&mut self) -> Option<()> {
        let stocks = self.stocks.all;
        self.least = vec![None; self.choices.all * stocks];
        self.least[..stocks].fill(Some((0, 0, 0)));
        for choice in 1..self.choices.all {
            if self.model.stop.is_asked() {
                return None;
            }
            let first = (0..self.choices.counts.len()).find(|&kind| self.choices.of(choice, kind) > 0)?;
            let mut parts = Vec::new();
            self.choices.each_part(choice, &mut |part| {
                // One piece of the first kind lies on the sheet that is taken next.
                if part > 0 && self.choices.of(part, first) > 0 {
                    parts.push(part);
                }
            });
            for row in 0..self.model.formats.len() {
                for &part in &parts {
                    if self.fits[row][part] {
                        self.take(choice, row, part);
                    }
                }
            }
        }
        Some(())
    }

    fn take(&mut self, choice: usize, row: usize, part: usize) {
        let stocks = self.stocks.all;
        for taken in 0..stocks {
            let Some(before) = self.stocks.without(taken, row) else { continue };
            let Some((cost, ..)) = self.least[(choice - part) * stocks + before] else { continue };
            let cost = cost + self.model.formats[row].cost;
            let slot = &mut self.least[choice * stocks + taken];
            if slot.is_none_or(|least| cost < least.0) {
                *slot = Some((cost, row, part));
            }
        }
    }

    /// Row and pieces of each sheet of the cheapest plan.
    fn sheets(&self) -> Option<Vec<(usize, usize)>> {
        let stocks = self.stocks.all;
        let (mut choice, mut sheets) = (self.choices.all - 1, Vec::new());
        let mut taken =
            (0..stocks).min_by_key(|&n| self.least[choice * stocks + n].map_or(u64::MAX, |l| l.0))?;
        while choice > 0 {
            let (_, row, part) = self.least[choice * stocks + taken]?;
            sheets.push((row, part));
            choice -= part;
            taken = self.stocks.without(taken, row)?;
        }
        Some(sheets)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cutting::planner::dice::Dice;
    use crate::domain::cutting::planner::model::{NO_LIMIT, PieceKind};

    fn kind(w: i32, h: i32, count: u32, rows: usize) -> PieceKind {
        PieceKind { w, h, count, ways: vec![UPRIGHT | if w == h { 0 } else { TURNED }; rows] }
    }

    fn format(w: i32, h: i32, available: u32, cost: u64) -> Format {
        Format { w, h, available, cost }
    }

    fn cost(model: &Instance) -> Option<u64> {
        let bins = cheapest(model)?;
        let mut made = vec![0; model.kinds.len()];
        for k in bins.iter().flat_map(Bin::kinds) {
            made[usize::from(k)] += 1;
        }
        assert!(model.kinds.iter().zip(&made).all(|(kind, &n)| kind.count == n), "{made:?}");
        Some(bins.iter().map(|bin| model.formats[usize::from(bin.format)].cost).sum())
    }

    #[test]
    fn sheets_are_shared_out_as_cheaply_as_can_be() {
        // By hand: a 10 x 10 holds the 6 x 10 and the 4 x 10; the two 5 x 5 and the 5 x 10 fill another; a small sheet at 3
        // takes the 5 x 10 or both squares.
        let kinds = || vec![kind(6, 10, 1, 2), kind(4, 10, 1, 2), kind(5, 5, 2, 2), kind(5, 10, 1, 2)];
        let two = |large: u32, small: u32| {
            Instance::new(kinds(), vec![format(10, 10, large, 10), format(5, 10, small, 3)], 10)
        };
        assert_eq!(cost(&two(NO_LIMIT, NO_LIMIT)), Some(16), "one large sheet and two small ones");
        assert_eq!(cost(&two(NO_LIMIT, 1)), Some(20), "one small sheet is not enough");
        assert_eq!(cost(&two(1, 1)), None);
    }

    #[test]
    fn a_pinwheel_is_no_layout_from_edge_to_edge() {
        // Four 3 x 2 around the middle of a 5 x 5 (a textbook example): from edge to edge only three of them fit.
        let model = |n| Instance::new(vec![kind(3, 2, n, 1)], vec![format(5, 5, NO_LIMIT, 1)], 5);
        assert_eq!((cost(&model(3)), cost(&model(4))), (Some(1), Some(2)));
    }

    /// All guillotine layouts of some pieces on one sheet, by trying every cut at every step: slow and plain.
    fn fits(pieces: &[(i32, i32)], w: i32, h: i32) -> bool {
        match pieces {
            [] => return true,
            [(a, b)] => return (*a <= w && *b <= h) || (*b <= w && *a <= h),
            _ => {}
        }
        if pieces.iter().map(|p| p.0 * p.1).sum::<i32>() > w * h {
            return false;
        }
        (1..1 << (pieces.len() - 1)).any(|half: u32| {
            let side = |on: bool| -> Vec<(i32, i32)> {
                let is_on = |at: &usize| (half >> at & 1 == 1) == on;
                (0..pieces.len()).filter(is_on).map(|at| pieces[at]).collect()
            };
            let (first, second) = (side(true), side(false));
            (1..w).any(|x| fits(&first, x, h) && fits(&second, w - x, h))
                || (1..h).any(|y| fits(&first, w, y) && fits(&second, w, h - y))
        })
    }

    #[test]
    fn nothing_is_cheaper_than_what_a_plain_search_finds() {
        let mut dice = Dice::new(11);
        for _ in 0..30 {
            let mut pieces: Vec<(i32, i32)> =
                (0..4).map(|_| (1 + dice.below(5) as i32, 1 + dice.below(5) as i32)).collect();
            pieces.sort_unstable();
            let kinds =
                pieces.chunk_by(|a, b| a == b).map(|same| kind(same[0].0, same[0].1, same.len() as u32, 1));
            let model = Instance::new(kinds.collect(), vec![format(6, 5, NO_LIMIT, 1)], 6);
            // The fewest sheets, by trying every way to share four pieces out.
            let shares = |sheets: u32| {
                (0..sheets.pow(4)).any(|code| {
                    (0..sheets).all(|sheet| {
                        let on = |at: &usize| code / sheets.pow(*at as u32) % sheets == sheet;
                        let mine: Vec<_> = (0..4).filter(on).map(|at| pieces[at]).collect();
                        fits(&mine, 6, 5)
                    })
                })
            };
            let fewest = (1..=4).find(|&sheets| shares(sheets));
            assert_eq!(cost(&model), fewest.map(u64::from), "{pieces:?}");
        }
    }
}
