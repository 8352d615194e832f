//! A form being filled in: labelled fields one after another, the one in hand, what stands in each. A field that nobody has
//! touched holds what fits; the first letter typed replaces that, an arrow edits it. Knows neither what the fields are for
//! nor what is made of them.

use super::completing::{Completing, NamePart};
use super::field::TextField;
use crate::app::keys::{Key, KeyCode};

/// What stands in one field.
#[derive(Clone, Debug, Default)]
pub struct FieldEntry {
    /// The text with its cursor.
    pub field: TextField,
    /// True once the person has typed, edited or chosen; until then it follows what fits.
    pub is_own: bool,
    /// What the text is taken for: a choice in full where only its beginning is typed.
    pub value: String,
    /// False while the field has no meaning, after what stands in others.
    pub is_there: bool,
}

/// The state of a form.
#[derive(Clone, Debug, Default)]
pub struct FormState {
    /// Its fields, in their order.
    pub entries: Vec<FieldEntry>,
    /// The field in hand.
    pub at: usize,
    /// Why the form, or the field in hand, is not taken.
    pub refused: Option<String>,
    /// Unusual values that the person was asked about, by field; entered again they are meant.
    pub asked: Vec<(usize, String)>,
    /// While Tab goes through names.
    pub completing: Option<Completing>,
}

impl FormState {
    /// A form of so many fields, none touched, all there.
    pub fn of(fields: usize, at: usize) -> Self {
        let entry = FieldEntry { is_there: true, ..FieldEntry::default() };
        Self { entries: vec![entry; fields], at, ..Self::default() }
    }

    /// What a field's text is taken for; empty where there is no such field.
    pub fn value(&self, n: usize) -> &str {
        self.entries.get(n).filter(|e| e.is_there).map_or("", |e| e.value.trim())
    }

    /// All values, in the order of the fields.
    pub fn values(&self) -> Vec<String> {
        (0..self.entries.len()).map(|n| self.value(n).to_owned()).collect()
    }

    /// The text of the field in hand.
    pub fn text(&self) -> &str {
        self.entries.get(self.at).map_or("", |e| e.field.text())
    }

    /// True where the person has put something into it.
    pub fn is_changed(&self) -> bool {
        self.entries.iter().any(|e| e.is_own && e.is_there && !e.field.text().trim().is_empty())
    }

    /// Puts a text into a field, as typed by the person.
    pub fn put(&mut self, n: usize, text: &str) {
        if let Some(entry) = self.entries.get_mut(n) {
            (entry.field, entry.is_own) = (TextField::with(text), true);
        }
    }

    /// Puts what fits into a field that nobody has touched.
    pub fn preset(&mut self, n: usize, text: &str) {
        if let Some(entry) = self.entries.get_mut(n).filter(|e| !e.is_own && e.field.text() != text) {
            entry.field = TextField::with(text);
        }
    }

    /// The next field that is there, or the one before; `None` past the last and the first.
    pub fn neighbour(&self, by: isize) -> Option<usize> {
        let mut at = self.at;
        loop {
            at = at.checked_add_signed(by).filter(|n| *n < self.entries.len())?;
            if self.entries.get(at).is_some_and(|e| e.is_there) {
                return Some(at);
            }
        }
    }

    /// Goes to a field.
    pub fn go(&mut self, to: usize) {
        if self.entries.get(to).is_some_and(|e| e.is_there) {
            self.at = to;
            (self.refused, self.completing) = (None, None);
        }
    }

    /// Gives a key to the text of the field in hand; true where it was one for a text.
    pub fn key(&mut self, key: Key) -> bool {
        let Some(entry) = self.entries.get_mut(self.at) else { return false };
        let replaces = !entry.is_own && key.printable().is_some();
        if replaces {
            entry.field = TextField::default();
        }
        if !entry.field.key(key) {
            return false;
        }
        self.touched();
        true
    }

    /// Gives a paste to the field in hand.
    pub fn paste(&mut self, text: &str) {
        let Some(entry) = self.entries.get_mut(self.at) else { return };
        if !entry.is_own {
            entry.field = TextField::default();
        }
        entry.field.paste(text);
        self.touched();
    }

    fn touched(&mut self) {
        if let Some(entry) = self.entries.get_mut(self.at) {
            entry.is_own = true;
        }
        (self.refused, self.completing) = (None, None);
    }

    /// Completes the name in hand with the next of these that match it; false where there is none to go to.
    pub fn complete(&mut self, names: &[String], part: NamePart) -> bool {
        let entry = self.entries.get(self.at);
        // What only fits is no beginning of a name: all are gone through.
        let typed = entry.filter(|e| e.is_own).map_or("", |e| e.field.text());
        let now = self.completing.take().unwrap_or_else(|| Completing::of(typed, part));
        let Some((now, text)) = now.next(entry.map_or("", |e| e.field.text()), names) else { return false };
        self.put(self.at, &text);
        (self.refused, self.completing) = (None, Some(now));
        true
    }

    /// True for a key that steps through a choice instead of moving in its text.
    pub fn steps(key: Key) -> Option<isize> {
        match (key.code, key.ctrl || key.alt) {
            (KeyCode::Left, false) => Some(-1),
            (KeyCode::Right, false) => Some(1),
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(form: &mut FormState, text: &str) {
        text.chars().for_each(|c| assert!(form.key(Key::char(c))));
    }

    #[test]
    fn the_first_letter_replaces_what_fits_and_an_arrow_edits_it() {
        let mut form = FormState::of(2, 0);
        form.preset(0, "letter");
        typed(&mut form, "a4");
        assert_eq!(form.text(), "a4");
        form.preset(0, "letter");
        assert_eq!(form.text(), "a4", "a field that was touched follows nothing");
        form.go(1);
        form.preset(1, "9.50");
        form.key(Key::plain(KeyCode::Left));
        typed(&mut form, "1");
        assert_eq!(form.text(), "9.510");
    }

    #[test]
    fn fields_that_are_not_there_are_passed_over() {
        let mut form = FormState::of(3, 0);
        form.entries[1].is_there = false;
        assert_eq!((form.neighbour(1), form.neighbour(-1)), (Some(2), None));
        form.go(1);
        assert_eq!(form.at, 0);
    }

    #[test]
    fn tab_goes_through_the_names_that_match_and_then_has_no_more() {
        let names: Vec<String> = ["moss pool", "fern floor", "moss edge"].map(str::to_owned).into();
        let mut form = FormState::of(1, 0);
        typed(&mut form, "fern, mo");
        assert!(form.complete(&names, NamePart::Last));
        assert_eq!(form.text(), "fern, moss pool");
        assert!(form.complete(&names, NamePart::Last));
        assert_eq!(form.text(), "fern, moss edge");
        assert!(form.complete(&names, NamePart::Last));
        assert_eq!(form.text(), "fern, moss pool", "round again");
        let mut one = FormState::of(1, 0);
        typed(&mut one, "floo");
        assert!(one.complete(&names, NamePart::Whole) && !one.complete(&names, NamePart::Whole));
        assert_eq!(one.text(), "fern floor");
        let mut layer = FormState::of(1, 0);
        typed(&mut layer, "1 1/8 mo");
        assert!(layer.complete(&names, NamePart::AfterFigures));
        assert_eq!(layer.text(), "1 1/8 moss pool");
    }
}
