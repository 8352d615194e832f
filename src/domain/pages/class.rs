//! Pages of a class beside its kit list and handout: what to buy before the day, and what the room should have.
//!
//! What is wanting comes in reckoned, as the class page on screen shows it. What a room should have is common practice,
//! counted for the seats; cautions stand where the tools are set out.

use super::frame::{Setup, Sheaf};
use super::page::{MM, Page};
use super::scale::{BODY, SMALL, STRONG};
use super::table::{self, CellEntry, PageColumn};
use crate::domain::cards::cautions::{self, Activity, DEFER};
use crate::domain::plural::count_of;

/// One thing that a class needs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShoppingRow {
    /// Who sells it; may be empty.
    pub seller: String,
    /// What it is.
    pub name: String,
    /// Its order number; may be empty.
    pub number: String,
    /// Needed in all, less what is used.
    pub needed: u64,
    /// Wanting on the day.
    pub missing: u64,
    /// What to buy, in words: `2 packs of 24`; empty where nothing is wanting.
    pub buy: String,
    /// What that costs, in words; may be empty.
    pub cost: String,
}

/// What a class needs and what of it is wanting.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Shopping {
    /// The class.
    pub title: String,
    /// Day, seats and samples in words.
    pub subtitle: String,
    /// Everything needed.
    pub rows: Vec<ShoppingRow>,
    /// What could not be worked out: one line each.
    pub notes: Vec<String>,
}

const BUY: [PageColumn; 6] = [
    PageColumn::left("", 1),
    PageColumn::left("item", 8),
    PageColumn::left("order number", 4),
    PageColumn::right("short", 2),
    PageColumn::left("buy", 5),
    PageColumn::left("cost", 3),
];

const HAVE: [PageColumn; 3] =
    [PageColumn::left("", 1), PageColumn::left("item", 16), PageColumn::right("needed", 3)];

/// The shopping list: what is wanting by seller, a box before each line, then what is there and has to be taken along.
pub fn shopping(setup: &Setup, list: &Shopping) -> Vec<Page> {
    let mut sheaf = Sheaf::new(setup, format!("Shopping list: {}", list.title), list.subtitle.clone());
    let missing: Vec<&ShoppingRow> = list.rows.iter().filter(|r| r.missing > 0).collect();
    if missing.is_empty() {
        sheaf.write(BODY, "Nothing has to be bought: all that the class needs is there.");
    }
    let mut sellers: Vec<&str> = missing.iter().map(|r| r.seller.as_str()).collect();
    sellers.sort_unstable();
    sellers.dedup();
    for seller in sellers {
        sheaf.heading(if seller.is_empty() { "no seller noted" } else { seller }, 20 * MM);
        let of = missing.iter().filter(|r| r.seller == seller);
        let row = |r: &&ShoppingRow| {
            vec![
                CellEntry::Box,
                r.name.as_str().into(),
                r.number.as_str().into(),
                r.missing.to_string().into(),
                CellEntry::Strong(r.buy.clone()),
                r.cost.as_str().into(),
            ]
        };
        table::write(&mut sheaf, &BUY, &of.map(row).collect::<Vec<_>>());
    }
    let there: Vec<Vec<CellEntry>> = list
        .rows
        .iter()
        .filter(|r| r.missing == 0 && r.needed > 0)
        .map(|r| vec![CellEntry::Box, r.name.as_str().into(), r.needed.to_string().into()])
        .collect();
    if !there.is_empty() {
        sheaf.heading("On the shelf: take along", 20 * MM);
        table::write(&mut sheaf, &HAVE, &there);
    }
    sheaf.gap(4 * MM);
    for note in &list.notes {
        sheaf.write_wrapped(BODY, note);
    }
    sheaf.finish()
}

/// A class whose room is to be made ready.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Room {
    /// The class.
    pub title: String,
    /// Day, seats and samples in words.
    pub subtitle: String,
    /// Seats.
    pub seats: u64,
}

/// What is counted for the seats: one for so many of them, at least one.
struct Thing {
    what: &'static str,
    /// Seats that share one; 0 for one in the room.
    a: u64,
}

const fn one_for(a: u64, what: &'static str) -> Thing {
    Thing { what, a }
}

// Common practice: what teachers of paper crafts set out. Counts are for beginners; a teacher changes them by hand.
const PLACES: [Thing; 7] = [
    one_for(1, "kit, handout under it"),
    one_for(1, "scrap sheet to glue on"),
    one_for(1, "pencil and ruler"),
    one_for(1, "bone folder or scoring tool"),
    one_for(2, "liquid glue and a tape runner"),
    one_for(2, "small scissors"),
    one_for(4, "damp cloth"),
];
const TOOLS: [Thing; 4] = [
    one_for(4, "trimmer on a table of its own, blade guarded, arm latched"),
    one_for(4, "scoring board"),
    one_for(6, "self-healing mat with steel rule and capped knife"),
    one_for(8, "heat tool on a heat-proof mat, cord out of the way"),
];
const ROOM: [Thing; 9] = [
    one_for(0, "tables and chairs, room to pass behind each chair"),
    one_for(0, "good light at every place; a lamp for the demonstration"),
    one_for(0, "windows or door that open, for glues and sprays"),
    one_for(0, "outlets near the heat tools, cords taped down"),
    one_for(0, "finished samples where all can see and touch them"),
    one_for(0, "bin for paper, closed box for used blades"),
    one_for(0, "bandages and a first-aid kit; where the exits are"),
    one_for(0, "list of names, spare kits, price list if any"),
    one_for(0, "drinks on a table away from the work"),
];

/// The checklist for the room: places, tools, the room, with boxes; cautions by the tools.
pub fn room(setup: &Setup, room: &Room) -> Vec<Page> {
    let mut sheaf = Sheaf::new(setup, format!("Room checklist: {}", room.title), room.subtitle.clone());
    let count = |thing: &Thing| match thing.a {
        0 => String::new(),
        a => room.seats.div_ceil(a).max(1).to_string(),
    };
    let columns = [PageColumn::left("", 1), PageColumn::right("", 2), PageColumn::left("", 18)];
    let list = |sheaf: &mut Sheaf<'_>, title: &str, things: &[Thing]| {
        sheaf.heading(title, 20 * MM);
        let row = |t: &Thing| vec![CellEntry::Box, CellEntry::Strong(count(t)), t.what.into()];
        table::write(sheaf, &columns, &things.iter().map(row).collect::<Vec<_>>());
    };
    list(&mut sheaf, &format!("At the places ({})", count_of(room.seats, "seat")), &PLACES);
    list(&mut sheaf, "Tools to share", &TOOLS);
    let mind = [Activity::Cutting, Activity::Heat, Activity::Adhesives];
    for caution in mind.into_iter().filter_map(cautions::when) {
        sheaf.write_wrapped(BODY, &caution.text);
    }
    sheaf.write_wrapped(BODY, &format!("In every case {DEFER}."));
    list(&mut sheaf, "The room", &ROOM);
    sheaf.gap(3 * MM);
    sheaf.write(STRONG, "Your own");
    let columns = [PageColumn::left("", 1), PageColumn::left("", 20)];
    table::write(&mut sheaf, &columns, &vec![vec![CellEntry::Box, "".into()]; 4]);
    sheaf.write(SMALL, "Usual for beginners' classes; change it to suit your room and your class.");
    sheaf.finish()
}

#[cfg(test)]
mod tests {
    use super::super::scale::{CLEAR, FLOOR};
    use super::*;

    fn words(pages: &[Page]) -> Vec<String> {
        for page in pages {
            assert!(page.area().inset(CLEAR).holds(&page.bounds().unwrap()));
            assert!(page.texts().all(|w| w.size >= FLOOR));
        }
        pages.iter().flat_map(Page::texts).map(|w| w.text.clone()).collect()
    }

    #[test]
    fn what_is_wanting_is_bought_and_the_rest_is_taken_along() {
        let row = |name: &str, missing| ShoppingRow {
            seller: "the mill".into(),
            name: name.into(),
            number: "WS-1".into(),
            needed: 8,
            missing,
            buy: if missing > 0 { "1 pack of 10".into() } else { String::new() },
            cost: "$3.80".into(),
        };
        let list = Shopping {
            title: "notes".into(),
            rows: vec![row("chalk", 3), row("plum", 0), row("fern", 1)],
            notes: vec!["dye lots would mix".into()],
            ..Shopping::default()
        };
        let all = words(&shopping(&Setup::default(), &list));
        let place =
            |text: &str| all.iter().position(|w| w == text).unwrap_or_else(|| panic!("{text}: {all:?}"));
        assert!(place("the mill") < place("chalk") && place("fern") < place("On the shelf: take along"));
        assert!(place("On the shelf: take along") < place("plum"));
        assert_eq!(all.iter().filter(|w| *w == "1 pack of 10").count(), 2);
        let none = words(&shopping(&Setup::default(), &Shopping::default()));
        assert!(none.iter().any(|w| w.starts_with("Nothing has to be bought")));
    }

    #[test]
    fn a_room_for_24_has_six_trimmers_and_one_for_one_has_one() {
        for (seats, trimmers) in [(24, "6"), (1, "1"), (0, "1")] {
            let one = Room { title: "notes".into(), subtitle: String::new(), seats };
            let pages = room(&Setup::default(), &one);
            assert_eq!(pages.len(), 1);
            let all = words(&pages);
            let at = all.iter().position(|w| w.starts_with("trimmer on a table")).unwrap();
            assert_eq!(all[at - 1], trimmers);
            assert!(all.iter().any(|w| w.contains("fingers behind the guard")));
        }
    }
}
