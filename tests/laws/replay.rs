//! Replaying what an answer says: its cuts by their end points, and its steps by the numbers in their words.
//!
//! Both know only that a cut parts a panel in two; neither knows the solver, its tree or its types of step.

use std::collections::BTreeMap;
use trimside::domain::cutting::geometry::{Cut, Panel};
use trimside::domain::cutting::layout::Layout;
use trimside::domain::length::{Length, Unit};
use trimside::domain::size::Size;

/// Where everything lies, as plain numbers: x, y, width, height.
type Rect = (i64, i64, i64, i64);

fn rect(p: &Panel) -> Rect {
    (p.x.units(), p.y.units(), p.size.width.units(), p.size.height.units())
}

/// Cuts the sheet as the layout's cuts say and demands exactly its pieces and offcuts.
pub fn cuts_make_the_layout(sheet: Size, layout: &Layout) -> Result<(), String> {
    let mut panels: Vec<Rect> = vec![(0, 0, sheet.width.units(), sheet.height.units())];
    for (n, cut) in layout.cuts.iter().enumerate() {
        let at = panels
            .iter()
            .position(|p| runs_through(p, cut))
            .ok_or_else(|| format!("cut {} runs through no panel: {cut:?}", n + 1))?;
        let (x, y, w, h) = panels.swap_remove(at);
        if cut.x0 == cut.x1 {
            let s = cut.x0.units() - x;
            panels.extend([(x, y, s, h), (x + s, y, w - s, h)]);
        } else {
            let s = cut.y0.units() - y;
            panels.extend([(x, y, w, s), (x, y + s, w, h - s)]);
        }
    }
    let mut said: Vec<Rect> =
        layout.pieces.iter().map(|p| rect(&p.panel)).chain(layout.offcuts.iter().map(rect)).collect();
    panels.sort_unstable();
    said.sort_unstable();
    if panels == said { Ok(()) } else { Err(format!("cuts leave {panels:?}, the layout says {said:?}")) }
}

/// True where the cut runs from edge to edge of the panel, inside it.
fn runs_through(&(x, y, w, h): &Rect, cut: &Cut) -> bool {
    let (x0, y0, x1, y1) = (cut.x0.units(), cut.y0.units(), cut.x1.units(), cut.y1.units());
    let down = x0 == x1 && x0 > x && x0 < x + w && y0 == y && y1 == y + h;
    let across = y0 == y1 && y0 > y && y0 < y + h && x0 == x && x1 == x + w;
    !cut.stop && (down || across)
}

/// What the words of all steps leave on the table: how many pieces and offcuts of each size (as they lie).
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Table {
    /// Sizes of finished pieces and their number.
    pub pieces: BTreeMap<(Length, Length), u32>,
    /// Sizes of offcuts and their number.
    pub offcuts: BTreeMap<(Length, Length), u32>,
    /// Cuts made, by setting and length.
    pub cuts: Vec<(Length, Length)>,
}

/// Follows the words with `sheets` sheets on the table.
pub fn words_at_the_table(sheet: Size, sheets: u32, unit: Unit, steps: &[String]) -> Result<Table, String> {
    let mut panels = BTreeMap::from([(as_said(sheet, unit), sheets)]);
    let mut table = Table::default();
    for words in steps {
        follow(words, unit, &mut panels, &mut table).map_err(|why| format!("{why}: {words}"))?;
    }
    panels.retain(|_, n| *n > 0);
    if panels.is_empty() { Ok(table) } else { Err(format!("left uncut: {panels:?}")) }
}

/// Follows one cut from edge to edge.
pub fn follow(
    words: &str,
    unit: Unit,
    panels: &mut BTreeMap<(Length, Length), u32>,
    table: &mut Table,
) -> Result<(), String> {
    let fence = length(between(words, "Fence ", ":")?, unit)?;
    let edge = between(words, ": ", " edge (")?;
    let along = length(between(words, "edge (", ")")?, unit)?;
    let (taken, _, from) = counted(between(words, ") of ", ". ")?, unit)?;
    let each = words
        .split(". ")
        .find_map(|s| s.split_once(" cut").and_then(|(n, _)| n.parse::<u32>().ok()))
        .ok_or("no number of cuts")?;
    let (parts, part_word, part) = counted(between(words, "Fence side: ", ". ")?, unit)?;
    let (rests, rest_word, rest) = counted(sentence(words, "Beyond the blade: ")?, unit)?;
    let on_hand = panels.entry((from.width, from.height)).or_default();
    *on_hand = on_hand.checked_sub(taken).ok_or("no such panels")?;
    // Each cut takes `fence` off the side that the edge bounds.
    let sideways = matches!(edge, "left" | "right");
    let (made, left, reach) = if sideways {
        let left = Size::new(from.width - fence * i64::from(each), from.height);
        (Size::new(fence, from.height), left, from.height)
    } else {
        let left = Size::new(from.width, from.height - fence * i64::from(each));
        (Size::new(from.width, fence), left, from.width)
    };
    let is_near = |a: Length, b: Length| (a.units() - b.units()).abs() <= slack(unit, each);
    let is_same = |a: Size, b: Size| is_near(a.width, b.width) && is_near(a.height, b.height);
    let is_right = is_same(made, part) && is_same(left, rest) && is_near(reach, along);
    if !is_right || (parts, rests) != (taken * each, taken) {
        return Err(format!("{made} and {left} come off {from}"));
    }
    if !left.width.is_positive() || !left.height.is_positive() {
        return Err("nothing is left beyond the blade".into());
    }
    table.cuts.extend(vec![(fence, along); (taken * each) as usize]);
    // From here on a panel goes by the size that the words gave it.
    for (n, word, size) in [(parts, part_word, part), (rests, rest_word, rest)] {
        let key = (size.width, size.height);
        let place = match word.trim_end_matches('s') {
            "piece" => &mut table.pieces,
            "offcut" => &mut table.offcuts,
            "panel" => &mut *panels,
            other => return Err(format!("what is a {other}?")),
        };
        *place.entry(key).or_default() += n;
    }
    Ok(())
}

/// The text between two others.
pub fn between<'a>(text: &'a str, before: &str, after: &str) -> Result<&'a str, String> {
    let (_, rest) = text.split_once(before).ok_or(format!("no \"{before}\""))?;
    let (found, _) = rest.split_once(after).ok_or(format!("no \"{after}\""))?;
    Ok(found)
}

/// From `before` to the full stop that ends the sentence (a full stop inside a number is followed by a digit).
pub fn sentence<'a>(text: &'a str, before: &str) -> Result<&'a str, String> {
    let (_, rest) = text.split_once(before).ok_or(format!("no \"{before}\""))?;
    Ok(rest.split_once(". ").map_or(rest.trim_end_matches('.'), |(found, _)| found))
}

/// A size as the words give it: millimetres come to the hundredth, inches whole.
pub fn as_said(size: Size, unit: Unit) -> (Length, Length) {
    (length_as_said(size.width, unit), length_as_said(size.height, unit))
}

/// A length as the words give it.
pub fn length_as_said(of: Length, unit: Unit) -> Length {
    if unit == Unit::Inch { of } else { length(&of.show(unit), unit).unwrap_or(of) }
}

/// How far what is reckoned from the words may lie beside what they say, after so many cuts: half a hundredth of a
/// millimetre for each length that was rounded, which is under two units.
fn slack(unit: Unit, cuts: u32) -> i64 {
    if unit == Unit::Inch { 0 } else { 2 * (i64::from(cuts) + 2) }
}

/// Reads a length.
pub fn length(text: &str, unit: Unit) -> Result<Length, String> {
    Length::parse(text, unit).map_err(|e| e.to_string())
}

/// `12 pieces 2 x 3 in`: the number, the word and the size.
pub fn counted(text: &str, unit: Unit) -> Result<(u32, &str, Size), String> {
    let mut words = text.splitn(3, ' ');
    let (n, word, size) = (words.next(), words.next(), words.next());
    let n = n.and_then(|n| n.parse().ok()).ok_or(format!("no number in \"{text}\""))?;
    let size = Size::parse(size.unwrap_or(""), unit).map_err(|e| e.to_string())?;
    Ok((n, word.unwrap_or(""), size))
}

/// The table that the layout speaks of.
pub fn table_of(layout: &Layout, unit: Unit) -> Table {
    let mut table = Table::default();
    for p in &layout.pieces {
        *table.pieces.entry(as_said(p.panel.size, unit)).or_default() += 1;
    }
    for p in &layout.offcuts {
        *table.offcuts.entry(as_said(p.size, unit)).or_default() += 1;
    }
    table
}
