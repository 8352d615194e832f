//! Mats answers for people: one fact a line.

use super::told::Answer;
use crate::domain::cards::cautions::{self, Activity, DEFER};
use crate::domain::cards::construction::Construction;
use crate::domain::cards::grain;
use crate::domain::cards::layer::LayerSize;
use crate::domain::cards::tools::Tool;
use crate::domain::cardwork::cut_size;
use crate::domain::length::{Length, Unit};
use crate::domain::ruler::{self, Ruler};
use crate::domain::size::Size;
use crate::domain::thickness::Thickness;
use std::fmt::Write;

pub(super) fn answer(answer: &Answer<'_>) -> String {
    let mut page = Page { answer, text: String::new() };
    page.card();
    for layer in &answer.worked.layers {
        page.layer(layer);
    }
    page.envelope();
    page.stack();
    page.post();
    page.pieces();
    page.advice();
    for made in answer.made {
        page.construction(made);
    }
    page.cautions();
    page.text
}

struct Page<'a> {
    answer: &'a Answer<'a>,
    text: String,
}

impl Page<'_> {
    fn line(&mut self, text: &str) {
        // Writing to a String cannot fail.
        let _ = writeln!(self.text, "{text}");
    }

    fn unit(&self) -> Unit {
        self.answer.unit
    }

    /// Both units: `4 x 5 1/4 in (101.6 x 133.3 mm)`.
    fn both(&self, size: Size) -> String {
        let unit = self.unit();
        format!("{} ({})", size.about(unit), size.about(unit.other()))
    }

    fn at(&self, length: Length) -> String {
        format!("{} {}", length.about(self.unit()), self.unit().sign())
    }

    /// Where a size is read on the ruler, in words.
    fn words(&self, size: Size) -> String {
        let ruler = if self.unit() == Unit::Mm { Ruler::MILLIMETRES } else { Ruler::SIXTEENTHS };
        format!("{} by {}", ruler::name(size.width, ruler), ruler::name(size.height, ruler))
    }

    fn card(&mut self) {
        let job = self.answer.job;
        let base = &self.answer.worked.base;
        let card = &job.card;
        self.line(&format!("card {}: {}, fold: {}", card.name, self.both(card.face), card.fold.kind.word()));
        self.line(&format!("base {}", self.both(base.size)));
        for score in &base.scores {
            let tool = self.answer.tools.tool_with_mark_at(score.at).map_or("between marks", Tool::word);
            self.line(&format!("  score at {} along the {} ({tool})", self.at(score.at), score.side.word()));
        }
        let grain = self.answer.worked.grain;
        let said = grain.sentence().map_or(String::new(), |s| format!(": {s}"));
        self.line(&format!("  grain: {}{said}", grain.word()));
        let grammage = card.base_paper.as_ref().and_then(|p| p.grammage);
        for note in grain::notes(base, grammage) {
            self.line(&format!("  {note}"));
        }
    }

    fn layer(&mut self, l: &LayerSize) {
        let unit = self.unit();
        let Some(layer) = self.answer.job.card.layers.get(l.index) else { return };
        let name = layer.shown_name(l.index);
        let paper = layer.paper.as_ref().map_or(String::new(), |p| format!(", paper {}", p.name));
        self.line(&format!("{name}: {}{paper}", self.both(l.exact)));
        self.line(&format!("  {}", l.reveal.both_ways(unit)));
        let (x, y) = (self.at(l.x), self.at(l.y));
        self.line(&format!("  {x} from the card's left, {y} from its top"));
        if l.cut.is_exact() {
            self.line(&format!("  cut {}: {}", l.cut.size.show_with_unit(unit), self.words(l.cut.size)));
        } else {
            self.line(&format!(
                "  cut {} (mark {}, {} off the width, {} off the height): {}",
                l.cut.size.show_with_unit(unit),
                l.cut.mark.show_with_unit(unit),
                self.at(l.cut.error_width.abs()),
                self.at(l.cut.error_height.abs()),
                self.words(l.cut.size)
            ));
        }
        if l.seen != l.reveal {
            let s = l.seen;
            let sides = [s.left, s.top, s.right, s.bottom].map(|side| side.about(unit));
            let [left, top, right, bottom] = sides;
            self.line(&format!(
                "  will look like left {left}, top {top}, right {right}, bottom {bottom} {}",
                unit.sign()
            ));
        }
        if let Some(o) = l.opening {
            self.line(&format!(
                "  opening {} at {} from its left and {} from its top; insert {}, cut {}",
                o.size.about(unit),
                self.at(o.x),
                self.at(o.y),
                o.insert.about(unit),
                o.insert_cut.show_with_unit(unit)
            ));
        }
        if let Some(words) = layer.made_by.words(layer.allowance, unit) {
            let cut = cut_size(l.cut.size, layer.allowance).show_with_unit(unit);
            self.line(&format!("  {words}: cut {cut}"));
        }
        if layer.raise > Thickness::ZERO {
            self.line(&format!("  raised by {}", layer.raise.show(unit)));
        }
    }

    fn envelope(&mut self) {
        let unit = self.unit();
        let Some(e) = &self.answer.worked.enclosed else {
            self.line("envelope: none");
            return;
        };
        let (w, h) = (e.fit.clearance_width.about(unit), e.fit.clearance_height.about(unit));
        let verdict = if e.fit.fits { "fits" } else { "does not fit" };
        self.line(&format!(
            "envelope {}: clearance {w} x {h} {}, {verdict} (needs {} each way)",
            e.envelope.show(unit),
            unit.sign(),
            self.at(e.fit.needed)
        ));
    }

    fn stack(&mut self) {
        let worked = self.answer.worked;
        self.line(&format!("weight {}", worked.weight_words()));
        if let Some(words) = worked.sealed_words() {
            self.line(&format!("  {words}"));
        }
        self.line(&format!("thickness {}", worked.thickness_words(self.unit())));
        if let Some(t) = worked.in_envelope {
            let (walls, flap) = (t.thickness.show(self.unit()), t.at_flap.show(self.unit()));
            self.line(&format!("  {walls} in its envelope, {flap} at the flap"));
        }
    }

    fn post(&mut self) {
        for judgement in &self.answer.worked.post {
            self.line(&format!("post, {}: {}", judgement.short, judgement.verdict.word()));
            for reason in &judgement.reasons {
                self.line(&format!("  {reason}"));
            }
        }
    }

    fn pieces(&mut self) {
        for piece in self.answer.worked.pieces.iter().flatten() {
            let paper = piece.paper.as_ref().map_or(String::new(), |p| format!(" of {p}"));
            let size = piece.size.about(self.unit());
            let stays = if piece.may_turn { "" } else { ", upright" };
            let name = piece.made_by.named(&piece.name);
            self.line(&format!("pieces: {} x {name} {size}{paper}{stays}", piece.count));
        }
    }

    fn advice(&mut self) {
        let unit = self.unit();
        for (layer, choices) in self.answer.advice {
            for c in choices {
                let mark = if c.chosen { " (chosen)" } else { "" };
                let (reveal, mat) = (c.reveal.about(unit), c.mat.about(unit));
                self.line(&format!(
                    "{} with a reveal of {reveal} {}: {mat}, {} a sheet{mark}",
                    self.answer.job.card.layer_name(*layer),
                    unit.sign(),
                    c.yields
                ));
            }
        }
    }

    fn construction(&mut self, made: &Construction) {
        let unit = self.unit();
        self.line(&format!("{}: blank {}", made.name, self.both(made.blank)));
        for figure in &made.figures {
            let reading = self.answer.tools.reading(Tool::Trimmer, figure.value);
            let mark = if figure.is_set && !reading.is_exact() {
                format!(", nearest mark {}", reading.nearest.value.show_with_unit(unit))
            } else {
                String::new()
            };
            self.line(&format!("  {} {}{mark}", figure.name, self.at(figure.value)));
        }
        for line in &made.lines {
            let point = |x: Length, y: Length| format!("({}, {})", x.about(unit), y.about(unit));
            self.line(&format!(
                "  {} {} to {}",
                line.kind.word(),
                point(line.x0, line.y0),
                point(line.x1, line.y1)
            ));
        }
        for note in &made.notes {
            self.line(&format!("  {note}"));
        }
    }

    /// Cautions where the work asks for them: knives at openings and slits, adhesives under foam.
    fn cautions(&mut self) {
        let layers = &self.answer.job.card.layers;
        let mut all = Vec::new();
        if !layers.is_empty() || !self.answer.made.is_empty() {
            all.push(Activity::Cutting);
        }
        if layers.iter().any(|l| l.raise > Thickness::ZERO) {
            all.push(Activity::Adhesives);
            all.push(Activity::Post);
        }
        for caution in all.into_iter().filter_map(cautions::when) {
            self.line(&format!("care: {} ({DEFER})", caution.text));
        }
    }
}
