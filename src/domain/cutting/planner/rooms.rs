//! From which rooms some pieces can be cut, exactly, for every choice of a few pieces.
//!
//! For every choice of pieces the smallest rooms are known that they can be cut from: of two choices without a piece in
//! common, side by side or one above the other (every layout from edge to edge comes about like that). Of these rooms only
//! those are kept that none is smaller than in both directions.

use super::model::{Format, Instance, TURNED, UPRIGHT};
use super::shape::Shape;
use crate::domain::cutting::patterns::exact::trimmed;
use crate::domain::cutting::recreate::bin::Bin;

/// What a parting takes, in choices that need no look at all.
const PARTING: u64 = 8;

/// Width and height.
type Room = (i32, i32);
/// Some pieces and the room that they are cut from.
type Cut = (usize, Room);

/// Choices of pieces as numbers: so many of the first kind, of the second and so on, in mixed places.
pub(super) struct Choices {
    /// Pieces of each kind.
    pub counts: Vec<u32>,
    /// What one piece of each kind adds to the number.
    pub place: Vec<usize>,
    /// How many choices there are, that of nothing among them; the last is that of all pieces.
    pub all: usize,
}

impl Choices {
    /// All choices; `None` where there are more than `most`.
    pub(super) fn new(model: &Instance, most: usize) -> Option<Self> {
        let counts: Vec<u32> = model.kinds.iter().map(|k| k.count).collect();
        let (mut place, mut all) = (Vec::new(), 1_usize);
        for &n in &counts {
            place.push(all);
            all = all.checked_mul(n as usize + 1).filter(|all| *all <= most)?;
        }
        Some(Self { counts, place, all })
    }

    /// Ways to part every choice in two.
    pub(super) fn partings(&self) -> usize {
        let of = |&n: &u32| (n as usize + 1) * (n as usize + 2) / 2;
        self.counts.iter().map(of).fold(1, usize::saturating_mul)
    }

    /// So many of a kind in a choice.
    pub(super) fn of(&self, choice: usize, kind: usize) -> u32 {
        (choice / self.place[kind]) as u32 % (self.counts[kind] + 1)
    }

    /// The choices of one piece less.
    fn each_less(&self, choice: usize) -> impl Iterator<Item = usize> + '_ {
        (0..self.place.len()).filter(move |&k| self.of(choice, k) > 0).map(move |k| choice - self.place[k])
    }

    /// Calls back for every part of a choice, nothing and all of it among them.
    pub(super) fn each_part(&self, choice: usize, tell: &mut dyn FnMut(usize)) {
        self.parts_from(choice, (self.place.len(), 0), 0, tell);
    }

    /// Calls back for the larger part of every parting in two, by its number.
    fn each_larger_part(&self, choice: usize, tell: &mut dyn FnMut(usize)) {
        let Some(kind) = (0..self.place.len()).rev().find(|&k| self.of(choice, k) > 0) else { return };
        // Of the kind that counts most the larger part has at least half.
        let least = (self.of(choice, kind) as usize).div_ceil(2);
        self.parts_from(choice, (kind + 1, least), 0, &mut |part| {
            if part >= choice - part && part < choice {
                tell(part);
            }
        });
    }

    /// The parts of a choice that differ in the first `kinds` kinds; `least` of the last of these.
    fn parts_from(
        &self,
        choice: usize,
        (kinds, least): (usize, usize),
        part: usize,
        tell: &mut dyn FnMut(usize),
    ) {
        let Some(kind) = kinds.checked_sub(1) else { return tell(part) };
        for n in least..=self.of(choice, kind) as usize {
            self.parts_from(choice, (kind, 0), part + n * self.place[kind], tell);
        }
    }
}

/// The smallest rooms of every choice on sheets that have the same rules for all pieces.
struct Rooms {
    /// One of the rows; the others have the same rules.
    row: usize,
    /// The rows' sheets.
    sheets: Vec<Room>,
    /// The rooms of all choices, one choice after the other; of one choice narrow and high first. No rooms: no sheet is
    /// large enough.
    kept: Vec<Room>,
    /// Where the rooms of each choice begin, and where those of the last one end.
    starts: Vec<u32>,
}

impl Rooms {
    fn new(model: &Instance, rows: &[usize]) -> Option<Self> {
        let sheets = rows.iter().map(|&row| (model.formats[row].w, model.formats[row].h)).collect();
        // The choice of nothing has no rooms.
        Some(Self { row: *rows.first()?, sheets, kept: Vec::new(), starts: vec![0, 0] })
    }

    /// How many choices are worked out.
    const fn done(&self) -> usize {
        self.starts.len() - 1
    }

    fn at(&self, choice: usize) -> &[Room] {
        &self.kept[self.starts[choice] as usize..self.starts[choice + 1] as usize]
    }

    /// Works out the next choice; returns what that took.
    fn next(&mut self, model: &Instance, choices: &Choices) -> u64 {
        let (found, work) = self.of(model, choices, self.done());
        self.kept.extend(found);
        self.starts.push(self.kept.len() as u32);
        work
    }

    fn of(&self, model: &Instance, choices: &Choices, choice: usize) -> (Vec<Room>, u64) {
        let mut kept = Vec::new();
        for (room, _) in self.alone(model, choices, choice) {
            if self.fits_somewhere(room) {
                keep(&mut kept, room);
            }
        }
        // What has no room with one piece less has none with it.
        if choices.each_less(choice).any(|less| less > 0 && self.at(less).is_empty()) {
            return (Vec::new(), 1);
        }
        let widest = self.sheets.iter().map(|s| s.0).max().unwrap_or(0);
        let highest = self.sheets.iter().map(|s| s.1).max().unwrap_or(0);
        let mut work = 1;
        choices.each_larger_part(choice, &mut |part| {
            work += PARTING;
            let (a, b) = (self.at(part), self.at(choice - part));
            let (Some((narrow, lower)), Some((slim, low))) = (ends(a), ends(b)) else { return };
            let mut add = |room: Room| {
                if self.fits_somewhere(room) {
                    keep(&mut kept, room);
                }
            };
            if narrow + slim <= widest {
                each_beside(a, b, &mut |room, _, _| add(room));
            }
            if lower + low <= highest {
                each_above(a, b, &mut |room, _, _| add(room));
            }
        });
        (kept, work)
    }

    /// A choice of one piece, each way that it may lie.
    fn alone<'a>(
        &self,
        model: &'a Instance,
        choices: &Choices,
        choice: usize,
    ) -> impl Iterator<Item = (Room, (u16, bool))> + use<'a> {
        let kind = choices.place.iter().position(|&place| place == choice);
        let row = self.row;
        kind.map(|k| (k, &model.kinds[k])).into_iter().flat_map(move |(k, kind)| {
            let ways = kind.ways[row];
            let lying = [(UPRIGHT, false), (TURNED, true)].into_iter();
            let may = lying.filter(move |(way, _)| ways & way != 0);
            may.map(move |(_, turned)| (kind.lying(turned), (k as u16, turned)))
        })
    }

    fn fits_somewhere(&self, (w, h): Room) -> bool {
        self.sheets.iter().any(|sheet| w <= sheet.0 && h <= sheet.1)
    }

    /// A room of a choice that a sheet has.
    fn on(&self, choice: usize, sheet: Room) -> Option<Room> {
        self.at(choice).iter().copied().find(|room| room.0 <= sheet.0 && room.1 <= sheet.1)
    }

    /// How a choice is cut out of one of its rooms.
    fn shape(&self, model: &Instance, choices: &Choices, choice: usize, room: Room) -> Shape {
        if let Some((_, (kind, turned))) = self.alone(model, choices, choice).find(|(own, _)| *own == room) {
            return Shape::Piece { kind, turned };
        }
        let mut found: Option<(bool, Cut, Cut)> = None;
        choices.each_larger_part(choice, &mut |part| {
            let rest = choice - part;
            each_joint(self.at(part), self.at(rest), &mut |down, joint, a, b| {
                if joint == room && found.is_none() {
                    found = Some((down, (part, a), (rest, b)));
                }
            });
        });
        let Some((down, first, second)) = found else { return Shape::Left };
        let part = |(choice, (w, h)): Cut| {
            let (extent, wide, high) = if down { (w, w, room.1) } else { (h, room.0, h) };
            (extent, trimmed(wide, high, w, h, self.shape(model, choices, choice, (w, h))))
        };
        Shape::Parts { down, parts: vec![part(first), part(second)] }
    }
}

/// The width of the narrowest of some rooms and the height of the lowest.
fn ends(rooms: &[Room]) -> Option<(i32, i32)> {
    Some((rooms.first()?.0, rooms.last()?.1))
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

/// Calls back for the smallest rooms that one of `a` and one of `b` take together, side by side: with each height that one of
/// them has, the narrowest of both that are no higher. Highest first.
fn each_beside(a: &[Room], b: &[Room], tell: &mut dyn FnMut(Room, Room, Room)) {
    let (mut i, mut j) = (0, 0);
    while let (Some(&x), Some(&y)) = (a.get(i), b.get(j)) {
        tell((x.0 + y.0, x.1.max(y.1)), x, y);
        // Only where the higher of them gives way does the room get lower.
        i += usize::from(x.1 >= y.1);
        j += usize::from(y.1 >= x.1);
    }
}

/// The same one above the other; widest first.
fn each_above(a: &[Room], b: &[Room], tell: &mut dyn FnMut(Room, Room, Room)) {
    let (mut i, mut j) = (a.len(), b.len());
    while let (Some(&x), Some(&y)) = (i.checked_sub(1).map(|i| &a[i]), j.checked_sub(1).map(|j| &b[j])) {
        tell((x.0.max(y.0), x.1 + y.1), x, y);
        i -= usize::from(x.0 >= y.0);
        j -= usize::from(y.0 >= x.0);
    }
}

/// Both; true where side by side.
fn each_joint(a: &[Room], b: &[Room], tell: &mut dyn FnMut(bool, Room, Room, Room)) {
    each_beside(a, b, &mut |room, x, y| tell(true, room, x, y));
    each_above(a, b, &mut |room, x, y| tell(false, room, x, y));
}

/// The rooms of every choice on every row of sheets.
pub(super) struct Table {
    pub choices: Choices,
    /// For each set of rules that some rows share.
    groups: Vec<Rooms>,
    /// By row of sheets.
    group: Vec<usize>,
}

impl Table {
    /// An empty table. `None` where the trimmer is too short for some cut, since every cut counts as one that can be made.
    pub(super) fn new(model: &Instance, choices: Choices) -> Option<Self> {
        if model.formats.iter().any(|f| f.w.max(f.h) > model.max_cut) {
            return None;
        }
        let mut groups: Vec<Vec<usize>> = Vec::new();
        let rules = |row: usize| model.kinds.iter().map(move |k| k.ways[row]);
        for row in 0..model.formats.len() {
            match groups.iter_mut().find(|group| rules(group[0]).eq(rules(row))) {
                Some(group) => group.push(row),
                None => groups.push(vec![row]),
            }
        }
        let of_row = |row: usize| groups.iter().position(|group| group.contains(&row));
        let group = (0..model.formats.len()).map(of_row).collect::<Option<_>>()?;
        let groups = groups.iter().map(|rows| Rooms::new(model, rows)).collect::<Option<_>>()?;
        Some(Self { choices, groups, group })
    }

    /// Works on, counting what it takes down from the budget; true once the table is whole.
    pub(super) fn work(&mut self, model: &Instance, budget: &mut u64) -> bool {
        for rooms in &mut self.groups {
            while rooms.done() < self.choices.all {
                if *budget == 0 || model.stop.is_asked() {
                    return false;
                }
                let work = rooms.next(model, &self.choices);
                *budget = budget.saturating_sub(work);
            }
        }
        true
    }

    /// True where a sheet of a row has room for a choice that is worked out.
    pub(super) fn fits(&self, model: &Instance, row: usize, choice: usize) -> bool {
        let Format { w, h, .. } = model.formats[row];
        choice > 0 && self.groups[self.group[row]].on(choice, (w, h)).is_some()
    }

    /// A sheet of a row with a choice that it has room for.
    pub(super) fn bin(&self, model: &Instance, row: usize, choice: usize) -> Option<Bin> {
        let Format { w, h, .. } = model.formats[row];
        let rooms = &self.groups[self.group[row]];
        let room = rooms.on(choice, (w, h))?;
        let shape = rooms.shape(model, &self.choices, choice, room);
        Some(Bin::build(model, row as u16, trimmed(w, h, room.0, room.1, shape)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cutting::one_sheet::{self, Effort};
    use crate::domain::cutting::planner::dice::Dice;
    use crate::domain::cutting::planner::model::{NO_LIMIT, PieceKind};

    #[test]
    fn the_most_valuable_sheet_is_the_one_that_every_choice_shows() {
        let mut dice = Dice::new(3);
        for _ in 0..300 {
            let (w, h) = (8 + dice.below(14) as i32, 8 + dice.below(14) as i32);
            let mut kind = || PieceKind {
                w: 1 + dice.below(12) as i32,
                h: 1 + dice.below(12) as i32,
                count: 1 + dice.below(3) as u32,
                ways: vec![[UPRIGHT, TURNED, UPRIGHT | TURNED][dice.below(3)]],
            };
            let kinds: Vec<PieceKind> = (0..4).map(|_| kind()).collect();
            let values: Vec<i64> = kinds.iter().map(|_| dice.below(9) as i64).collect();
            let format = Format { w, h, available: NO_LIMIT, cost: 1 };
            let model = Instance::new(kinds, vec![format], 100);
            let mut table = Table::new(&model, Choices::new(&model, 10_000).unwrap()).unwrap();
            assert!(table.work(&model, &mut { u64::MAX }));
            let worth = |choice: usize| -> i64 {
                values.iter().enumerate().map(|(k, v)| v * i64::from(table.choices.of(choice, k))).sum()
            };
            let most = (1..table.choices.all).filter(|&c| table.fits(&model, 0, c)).map(worth).max();
            let valued = model.kinds.iter().zip(&values).map(|(kind, &value)| one_sheet::SheetPiece {
                w: kind.w,
                h: kind.h,
                count: kind.count,
                value,
                upright: kind.ways[0] & UPRIGHT != 0,
                turned: kind.ways[0] & TURNED != 0,
            });
            let effort = Effort { sums: 10_000_000, builds: 100_000 };
            let found = one_sheet::most_valuable(w, h, &valued.collect::<Vec<_>>(), effort).unwrap();
            assert_eq!(
                (found.value, found.bound),
                (most.unwrap_or(0), most.unwrap_or(0)),
                "{model:?} {values:?}"
            );
        }
    }
}
