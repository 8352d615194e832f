//! The outline of a box with the code point of a character in it, for a character that no font has letters for: put
//! together from the print font's own figures, as a simple outline of the TrueType format (ISO/IEC 14496-22, `glyf`).

use crate::domain::pages::font::Face;

/// A point of an outline: place in font units, and whether the line goes through it.
type Dot = (i32, i32, bool);

/// Thickness of the box's line, in hundredths of an em.
const LINE: i32 = 4;
/// From the box's edge to the line that letters stand on, below it, and up to its top, in hundredths of an em.
const HEIGHT: (i32, i32) = (-10, 82);

/// The bytes of the outline; as wide as the room that pages keep for the character.
pub fn outline(face: &Face, c: char) -> Vec<u8> {
    let em = i32::from(face.em);
    let part = |hundredths: i32| em * hundredths / 100;
    let line = part(LINE);
    let (left, right) = (line, i32::from(face.room(c)) - line);
    let (bottom, top) = (part(HEIGHT.0), part(HEIGHT.1));
    let mut contours = vec![frame(left, bottom, right, top, true)];
    contours.push(frame(left + line, bottom + line, right - line, top - line, false));
    let code = format!("{:04X}", u32::from(c));
    let columns = code.len().div_ceil(2);
    let code = format!("{code:0>width$}", width = 2 * columns);
    let inside = (left + 2 * line, bottom + 2 * line, right - 2 * line, top - 2 * line);
    for (n, figure) in code.chars().enumerate() {
        let cell = (inside.2 - inside.0) / columns as i32;
        let row = (inside.3 - inside.1) / 2;
        let at = (inside.0 + (n % columns) as i32 * cell, inside.1 + (1 - (n / columns) as i32) * row);
        contours.extend(small(face, figure, at, (cell, row)));
    }
    written(&contours)
}

/// A rectangle; the inner one runs the other way round, so that it is left blank.
fn frame(left: i32, bottom: i32, right: i32, top: i32, is_outer: bool) -> Vec<Dot> {
    let mut dots = vec![(left, bottom, true), (left, top, true), (right, top, true), (right, bottom, true)];
    if !is_outer {
        dots.reverse();
    }
    dots
}

/// A figure of the font inside a cell, nine tenths of it at most.
fn small(face: &Face, figure: char, at: (i32, i32), cell: (i32, i32)) -> Vec<Vec<Dot>> {
    let glyph = face.glyph_or_box(figure);
    let (width, height) = (i32::from(face.advance(glyph)).max(1), i32::from(face.capitals).max(1));
    // Thousandths of the figure's own size.
    let scale = (cell.0 * 1000 / width).min(cell.1 * 900 / height);
    let shift = ((cell.0 - width * scale / 1000) / 2, (cell.1 - height * scale / 1000) / 2);
    let place =
        |(x, y, on): &Dot| (at.0 + shift.0 + x * scale / 1000, at.1 + shift.1 + y * scale / 1000, *on);
    read(face.outline(glyph)).iter().map(|contour| contour.iter().map(place).collect()).collect()
}

/// The contours of a simple outline; none of bytes that are too short.
fn read(bytes: &[u8]) -> Vec<Vec<Dot>> {
    read_whole(bytes).unwrap_or_default()
}

fn read_whole(bytes: &[u8]) -> Option<Vec<Vec<Dot>>> {
    let mut at = 0;
    let count = usize::try_from(short(bytes, &mut at)?).ok()?;
    at = 10;
    let ends: Option<Vec<usize>> =
        (0..count).map(|_| short(bytes, &mut at).and_then(|end| usize::try_from(end).ok())).collect();
    let ends = ends?;
    let dots = ends.last()? + 1;
    at += usize::try_from(short(bytes, &mut at)?).ok()?;
    let mut flags: Vec<u8> = Vec::new();
    while flags.len() < dots {
        let flag = *bytes.get(at)?;
        at += 1;
        flags.push(flag);
        if flag & 8 != 0 {
            let again = *bytes.get(at)?;
            at += 1;
            flags.extend(std::iter::repeat_n(flag, usize::from(again)));
        }
    }
    let across = places(bytes, &mut at, &flags, 2, 16)?;
    let up = places(bytes, &mut at, &flags, 4, 32)?;
    let mut contours = Vec::new();
    let mut first = 0;
    for end in ends {
        contours.push((first..=end).map(|n| (across[n], up[n], flags[n] & 1 != 0)).collect());
        first = end + 1;
    }
    Some(contours)
}

/// Coordinates along one axis: a byte with its sign in the flags, a pair of bytes, or as before.
fn places(bytes: &[u8], at: &mut usize, flags: &[u8], is_byte: u8, same: u8) -> Option<Vec<i32>> {
    let mut place = 0;
    let mut all = Vec::with_capacity(flags.len());
    for flag in flags {
        if flag & is_byte != 0 {
            let step = i32::from(*bytes.get(*at)?);
            *at += 1;
            place += if flag & same != 0 { step } else { -step };
        } else if flag & same == 0 {
            place += short(bytes, at)?;
        }
        all.push(place);
    }
    Some(all)
}

fn short(bytes: &[u8], at: &mut usize) -> Option<i32> {
    let pair = [*bytes.get(*at)?, *bytes.get(*at + 1)?];
    *at += 2;
    Some(i32::from(i16::from_be_bytes(pair)))
}

/// The bytes of contours, each coordinate as a pair of bytes.
fn written(contours: &[Vec<Dot>]) -> Vec<u8> {
    let dots: Vec<&Dot> = contours.iter().flatten().collect();
    let side = |of: fn(&Dot) -> i32, least: bool| {
        let all = dots.iter().map(|dot| of(dot));
        if least { all.min() } else { all.max() }.unwrap_or(0)
    };
    let mut words = vec![contours.len() as i32];
    words.extend([side(|d| d.0, true), side(|d| d.1, true), side(|d| d.0, false), side(|d| d.1, false)]);
    let mut end = -1;
    for contour in contours {
        end += contour.len() as i32;
        words.push(end);
    }
    words.push(0);
    let mut bytes: Vec<u8> = words.iter().flat_map(|word| (*word as i16).to_be_bytes()).collect();
    bytes.extend(dots.iter().map(|dot| u8::from(dot.2)));
    for of in [|d: &Dot| d.0, |d: &Dot| d.1] {
        let mut before = 0;
        for dot in &dots {
            bytes.extend(((of(dot) - before) as i16).to_be_bytes());
            before = of(dot);
        }
    }
    if bytes.len() % 2 == 1 {
        bytes.push(0);
    }
    bytes
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::pages::font::face;
    use crate::domain::pages::page::LetterWeight;

    #[test]
    fn an_outline_read_and_written_is_the_same_outline() {
        for weight in [LetterWeight::Regular, LetterWeight::Bold] {
            for c in "0123456789ABCDEF".chars() {
                let contours = read(face(weight).outline(face(weight).glyph_or_box(c)));
                assert!(!contours.is_empty(), "{c}");
                assert_eq!(read(&written(&contours)), contours, "{c}");
            }
        }
    }

    #[test]
    fn all_figures_lie_inside_the_box() {
        for c in ['雪', 'א', '🦊', '\u{10ffff}'] {
            let face = face(LetterWeight::Regular);
            let contours = read(&outline(face, c));
            let code = format!("{:04X}", u32::from(c));
            let of_figures: usize =
                code.chars().map(|f| read(face.outline(face.glyph_or_box(f))).len()).sum();
            assert!(contours.len() >= 2 + of_figures, "{c}");
            let (left, bottom) = (contours[0][0].0, contours[0][0].1);
            let (right, top) = (contours[0][2].0, contours[0][2].1);
            for dot in contours[2..].iter().flatten() {
                assert!(dot.0 > left && dot.0 < right && dot.1 > bottom && dot.1 < top, "{c} {dot:?}");
            }
            assert!(right <= i32::from(face.room(c)));
        }
    }

    #[test]
    fn bytes_that_are_too_short_are_no_outline() {
        assert!(read(&[]).is_empty());
        assert!(read(&[0, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 9, 0, 0]).is_empty());
    }
}
