//! Papers for the colours of a picture of anything: the nearest of the shelf to each, no paper twice, and the trios that
//! they make. Knows swatches, which of them are held and what the person chose before, not where the picture came from.

use crate::domain::colour::habits::Habits;
use crate::domain::colour::leading::Leading;
use crate::domain::colour::nearest::{Match, nearest};
use crate::domain::colour::swatch::Swatch;
use crate::domain::colour::trios::{Trio, TrioQuestion, trios};

/// How many near papers each colour is given.
const NEAR: usize = 3;
/// How many trios the papers are shown in.
const TRIOS: usize = 5;

/// What papers and trios are chosen from.
#[derive(Clone, Copy, Debug)]
pub struct Choosing<'a> {
    /// The library.
    pub library: &'a [Swatch],
    /// Which of it is on hand, place by place; nothing said is not held.
    pub held: &'a [bool],
    /// What the person chose before, where that counts.
    pub habits: Option<&'a Habits>,
    /// Trios that are not to be shown, by place.
    pub dismissed: &'a [[usize; 3]],
}

/// A colour of the picture with papers for it.
#[derive(Clone, Debug, PartialEq)]
pub struct Papered {
    /// The colour.
    pub colour: Leading,
    /// The paper taken for it first, then further near ones. Places in the library.
    pub matches: Vec<Match>,
}

/// What a picture comes to on a shelf.
#[derive(Clone, Debug, PartialEq)]
pub struct FromPicture {
    /// Its colours, largest share first.
    pub colours: Vec<Papered>,
    /// Trios of the papers taken, best first.
    pub trios: Vec<Trio>,
    /// Nothing that is held was there to choose from, so that all of the library was.
    pub from_all: bool,
}

/// Papers and trios for the colours of a picture, of what is held. Where nothing is, the whole library is chosen from.
pub fn from_picture(colours: &[Leading], from: &Choosing<'_>) -> FromPicture {
    let Choosing { library, held, .. } = *from;
    let from_all = !held.iter().any(|held| *held);
    let places: Vec<usize> =
        (0..library.len()).filter(|i| from_all || held.get(*i).copied().unwrap_or(false)).collect();
    let shelf: Vec<Swatch> = places.iter().filter_map(|i| library.get(*i)).cloned().collect();
    let mut taken: Vec<usize> = Vec::new();
    let mut papered = |colour: &Leading| {
        let mut near = nearest(colour.lab, &shelf, COLOURS_AND_MORE);
        // No paper for two colours, while another one is there.
        if let Some(first) = near.iter().position(|hit| !taken.contains(&hit.index)) {
            let hit = near.remove(first);
            near.insert(0, hit);
            taken.push(hit.index);
        }
        near.truncate(NEAR);
        Papered { colour: *colour, matches: near }
    };
    let mut all: Vec<Papered> = colours.iter().map(&mut papered).collect();
    let on_shelf = |three: &[usize; 3]| {
        let [a, b, c] = three.map(|i| places.iter().position(|place| *place == i));
        Some([a?, b?, c?])
    };
    let dismissed: Vec<[usize; 3]> = from.dismissed.iter().filter_map(on_shelf).collect();
    let ask = TrioQuestion {
        held: 3,
        most: TRIOS,
        habits: from.habits,
        dismissed: &dismissed,
        ..TrioQuestion::about(&shelf, &taken)
    };
    let trios = trios(&ask);
    let in_library = |i: usize| places.get(i).copied().unwrap_or(i);
    all.iter_mut().flat_map(|p| &mut p.matches).for_each(|hit| hit.index = in_library(hit.index));
    let trios = trios.into_iter().map(|trio| trio.moved(in_library)).collect();
    FromPicture { colours: all, trios, from_all }
}

/// Near papers that are looked at: one more than other colours may have taken.
const COLOURS_AND_MORE: usize = crate::domain::colour::leading::COLOURS + NEAR;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::colour::space::Rgb8;

    fn lead(hex: Rgb8) -> Leading {
        Leading { lab: hex.lab(), hex, share: 0.2 }
    }

    fn shelf() -> Vec<Swatch> {
        let colours =
            [(79, 121, 66), (82, 125, 70), (216, 196, 160), (85, 42, 90), (29, 47, 86), (181, 64, 44)];
        colours
            .into_iter()
            .map(|(r, g, b)| Swatch::from_screen(format!("{r}"), "", Rgb8::new(r, g, b)))
            .collect()
    }

    #[test]
    fn each_colour_gets_a_paper_of_its_own_from_what_is_held_and_they_make_trios() {
        let library = shelf();
        let green = Rgb8::new(80, 122, 67);
        let colours = [lead(green), lead(green), lead(Rgb8::new(90, 40, 90)), lead(Rgb8::new(220, 200, 160))];
        let held = [true, true, true, true, false, true];
        let from = |held| Choosing { library: &library, held, habits: None, dismissed: &[] };
        let found = from_picture(&colours, &from(&held));
        let first: Vec<usize> = found.colours.iter().map(|c| c.matches[0].index).collect();
        assert_eq!(first, [0, 1, 3, 2]);
        assert!(!found.from_all && !found.trios.is_empty());
        assert!(
            found.trios.iter().flat_map(|t| t.swatches).all(|i| first.contains(&i)),
            "only of the papers taken"
        );
        let bare = from_picture(&colours, &from(&[false; 6]));
        assert!(bare.from_all && bare.colours.len() == 4);
        let nothing = Choosing { library: &[], held: &[], habits: None, dismissed: &[] };
        assert!(from_picture(&colours, &nothing).trios.is_empty());
    }

    #[test]
    fn what_the_person_chose_before_counts_and_dismissed_trios_are_left_out() {
        use crate::domain::colour::habits::Choice;
        let library = shelf();
        let colours: Vec<Leading> = [0, 2, 3, 5].map(|n| lead(library[n].hex)).to_vec();
        let held = [true; 6];
        let from = Choosing { library: &library, held: &held, habits: None, dismissed: &[] };
        let plain = from_picture(&colours, &from).trios;
        let without = from_picture(&colours, &Choosing { dismissed: &[plain[0].swatches], ..from }).trios;
        assert_eq!(without.len() + 1, plain.len());
        assert!(without.iter().all(|t| t.swatches != plain[0].swatches));
        let mut habits = Habits::default();
        let last = plain.last().unwrap().swatches.map(|i| library[i].lab.oklch());
        habits.note(&last, Choice::Kept);
        let moved = from_picture(&colours, &Choosing { habits: Some(&habits), ..from }).trios;
        assert!(moved.iter().any(|t| t.liked.habit.as_ref().is_some_and(|words| words.contains("you keep"))));
    }
}
