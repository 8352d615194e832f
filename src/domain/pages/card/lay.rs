//! Where the parts of a card sheet stand: the drawing as large as it can be, the table under it, blocks of words in what is
//! left.

use super::{CardSheet, rows, score_lines, steps};
use crate::domain::pages::drawing::{self, CALLOUT, Front, Scale};
use crate::domain::pages::frame::{Setup, Sheaf};
use crate::domain::pages::page::{Area, Group, MM, Page, Stroke, Um};
use crate::domain::pages::scale::{ASIDE, BODY, FIGURE, GUTTER, SMALL, STRONG};
use crate::domain::pages::table::{self, CellEntry, PageColumn};
use crate::domain::pages::text::Style;

const PARTS: [PageColumn; 6] = [
    PageColumn::left("", 1),
    PageColumn::left("part", 5),
    PageColumn::left("cut to", 7),
    PageColumn::left("ruler mark", 5),
    PageColumn::left("reveal", 3),
    PageColumn::left("paper or color", 6),
];

/// The pages of one card.
pub fn pages(setup: &Setup, sheet: &CardSheet) -> Vec<Page> {
    let mut sheaf = Sheaf::new(setup, sheet.title(), subtitle(sheet));
    sheaf.set_foot_note(&sheet.post_lines(&setup.home).map_or_else(String::new, |(_, edition)| edition));
    write(&mut sheaf, sheet);
    sheaf.finish()
}

/// `side fold on the left edge; measures in in`.
pub fn subtitle(sheet: &CardSheet) -> String {
    let fold = &sheet.card.fold;
    if sheet.base.scores.is_empty() {
        return format!("{}, no fold; measures in {}", fold.kind.word(), sheet.tools.unit.sign());
    }
    let edge = match fold.edge() {
        crate::domain::cards::fold::FoldEdge::Left => "left",
        crate::domain::cards::fold::FoldEdge::Top => "top",
    };
    format!("{} fold at the {edge} edge; measures in {}", fold.kind.word(), sheet.tools.unit.sign())
}

/// Words under a heading, with figures or a drawing among them.
struct Block<'a> {
    title: &'static str,
    parts: Vec<Part<'a>>,
}

enum Part<'a> {
    Words(String),
    Figure(String),
    /// The flat base with its scores.
    Base(&'a CardSheet),
}

/// Room for the base's drawing: its measures stand above and left of it.
const BASE: (Um, Um) = (62 * MM, 32 * MM);

impl Part<'_> {
    fn scale(sheet: &CardSheet, width: Um) -> Scale {
        Scale::to_fit(sheet.base.size, (width - 20 * MM).clamp(MM, BASE.0), BASE.1)
    }

    fn height(&self, style: Style, width: Um) -> Um {
        match self {
            Self::Words(text) => {
                style.wrapped(text, width, usize::MAX).len() as Um * style.leading() + MM / 2
            }
            Self::Figure(_) => FIGURE.leading(),
            Self::Base(sheet) => {
                Self::scale(sheet, width).area(0, 0, sheet.base.size).height + 2 * SMALL.leading() + 2 * MM
            }
        }
    }

    fn draw(&self, page: &mut Page, style: Style, (x, y): (Um, Um), width: Um) {
        match self {
            Self::Words(text) => {
                for (n, line) in (0..).zip(style.wrapped(text, width, usize::MAX)) {
                    page.words(style.at(x, y + n * style.leading() + style.size, &line));
                }
            }
            Self::Figure(text) => page.words(FIGURE.at(x, y + FIGURE.size, &FIGURE.fitted(text, width))),
            Self::Base(sheet) => {
                let scale = Self::scale(sheet, width);
                let is_down =
                    sheet.base.scores.iter().any(|s| s.side == crate::domain::cards::fold::Side::Height);
                let left = x + if is_down { 20 * MM } else { MM };
                let top = y + SMALL.leading() + MM;
                drawing::base(page, (left, top), scale, &sheet.base, sheet.tools.unit);
                let bottom = top + scale.area(0, 0, sheet.base.size).height + SMALL.leading();
                if !sheet.base.scores.is_empty() {
                    page.line(Group::Score, (x, bottom - MM), (x + 8 * MM, bottom - MM), Stroke::SCORE);
                    let words = format!("score; {}", scale.words());
                    page.words(ASIDE.at(x + 10 * MM, bottom, &ASIDE.fitted(&words, width - 10 * MM)));
                }
            }
        }
    }
}

impl Block<'_> {
    fn height(&self, style: Style, width: Um) -> Um {
        let parts: Um = self.parts.iter().map(|p| p.height(style, width)).sum();
        STRONG.leading() + MM / 2 + parts + 2 * MM
    }

    fn draw(&self, page: &mut Page, style: Style, (x, y): (Um, Um), width: Um) {
        page.words(STRONG.at(x, y + STRONG.size, self.title));
        let mut y = y + STRONG.leading() + MM / 2;
        for part in &self.parts {
            part.draw(page, style, (x, y), width);
            y += part.height(style, width);
        }
    }
}

/// Base, scores, order of assembly, envelope and post, notes.
fn blocks<'a>(sheet: &'a CardSheet, home: &str) -> Vec<Block<'a>> {
    let block =
        |title, lines: Vec<String>| Block { title, parts: lines.into_iter().map(Part::Words).collect() };
    let mut all = vec![Block { title: "Base", parts: vec![Part::Base(sheet)] }];
    let scores = score_lines(sheet).into_iter().flat_map(|(at, how)| [Part::Figure(at), Part::Words(how)]);
    let scores: Vec<Part<'_>> = scores.collect();
    if !scores.is_empty() {
        all.push(Block { title: "Score", parts: scores });
    }
    let steps = steps(sheet).into_iter().enumerate().map(|(n, step)| format!("{}. {step}", n + 1));
    all.push(block("Order of assembly", steps.collect()));
    let verdict = sheet.post_lines(home).map(|(verdict, _)| verdict);
    let sent: Vec<String> = sheet.envelope.iter().cloned().chain(verdict).collect();
    if !sent.is_empty() {
        all.push(block("Envelope and mailing", sent));
    }
    if !sheet.notes.is_empty() {
        all.push(block("Notes", sheet.notes.clone()));
    }
    all
}

/// Where everything stands on one page.
struct Arranged {
    scale: Scale,
    style: Style,
    /// Left side, top from the drawing's top, and width of each block.
    places: Vec<(Um, Um, Um)>,
    height: Um,
}

/// Writes a card onto pages that are being filled: on this one where it fits.
pub fn write(sheaf: &mut Sheaf<'_>, sheet: &CardSheet) {
    let (rows, blocks) = (rows(sheet), blocks(sheet, &sheaf.setup.home));
    let room = sheaf.left();
    let body = sheaf.body();
    let found = Scale::ALL.into_iter().filter(|s| s.is_at_least(1, 4)).find_map(|scale| {
        [BODY, SMALL]
            .into_iter()
            .find_map(|style| arrange(sheet, &rows, &blocks, (scale, style), (body, room)))
    });
    let Some(found) = found else { return flow(sheaf, sheet, &rows, &blocks) };
    let Arranged { scale, style, places, height } = found;
    let top = sheaf.take(front_height(sheet, scale));
    draw_front(sheaf, sheet, scale, top);
    table::write(sheaf, &PARTS, &rows);
    for (block, (x, y, width)) in blocks.iter().zip(places) {
        block.draw(sheaf.page(), style, (x, top + y), width);
    }
    sheaf.reach(top + height);
}

/// Height of the drawing with what names its scale.
fn front_height(sheet: &CardSheet, scale: Scale) -> Um {
    scale.area(0, 0, sheet.card.face).height + SMALL.leading() + 3 * MM
}

fn draw_front(sheaf: &mut Sheaf<'_>, sheet: &CardSheet, scale: Scale, top: Um) {
    let (body, colourless) = (sheaf.body(), sheaf.setup.colourless);
    let page = sheaf.page();
    page.words(SMALL.at(body.x, top + SMALL.size, &format!("front, {}", scale.words())));
    let front = Front {
        face: sheet.card.face,
        base: &sheet.base_look,
        layers: &sheet.sizes,
        looks: &sheet.looks,
        colourless,
    };
    drawing::front(page, body.x + MM / 2, top + SMALL.leading() + MM, scale, &front);
}

/// Places the blocks: beside the drawing, then under the table in two columns; nothing where they do not fit.
fn arrange(
    sheet: &CardSheet,
    rows: &[Vec<CellEntry>],
    blocks: &[Block<'_>],
    (scale, style): (Scale, Style),
    (body, room): (Area, Um),
) -> Option<Arranged> {
    let front = scale.area(0, 0, sheet.card.face);
    let above = front_height(sheet, scale);
    let table = table::height(BODY, body.width, &PARTS, rows);
    let under = above + table + 2 * MM;
    if front.width + CALLOUT > body.width || under > room {
        return None;
    }
    let side = Area::new(
        body.x + front.width + CALLOUT + 2 * MM,
        0,
        body.width - front.width - CALLOUT - 2 * MM,
        above,
    );
    let half = (body.width - GUTTER) / 2;
    let columns = [
        side,
        Area::new(body.x, under, half, room - under),
        Area::new(body.x + half + GUTTER, under, half, room - under),
    ];
    let mut used = [0; 3];
    let mut places = Vec::new();
    for block in blocks {
        // A narrow column beside a wide front would break every other word.
        let fits = |n: &usize| {
            let column = &columns[*n];
            column.width >= 42 * MM && used[*n] + block.height(style, column.width) <= column.height
        };
        let n = (0..3).find(fits)?;
        places.push((columns[n].x, columns[n].y + used[n], columns[n].width));
        used[n] += block.height(style, columns[n].width);
    }
    let below = used[1].max(used[2]);
    Some(Arranged { scale, style, places, height: under + below })
}

/// What does not fit one page: drawing, table and blocks one after the other.
fn flow(sheaf: &mut Sheaf<'_>, sheet: &CardSheet, rows: &[Vec<CellEntry>], blocks: &[Block<'_>]) {
    let body = sheaf.body();
    let scale = Scale::to_fit(sheet.card.face, body.width - CALLOUT - 2 * MM, body.height / 2);
    let top = sheaf.take(front_height(sheet, scale));
    draw_front(sheaf, sheet, scale, top);
    table::write(sheaf, &PARTS, rows);
    for block in blocks {
        sheaf.heading(block.title, 8 * MM);
        for part in &block.parts {
            match part {
                Part::Words(text) => sheaf.write_wrapped(BODY, text),
                Part::Figure(text) => sheaf.write(FIGURE, text),
                Part::Base(_) => {
                    let top = sheaf.take(part.height(BODY, body.width));
                    part.draw(sheaf.page(), BODY, (body.x, top), body.width);
                }
            }
        }
    }
}
