//! Mats answers for programs. Field names are part of the command line's promise.
//!
//! `unit, card{name,width,height}, base{width,height,scores[{side,at}],grain}, layers[{width,height,x,y,reveal,
//! cut{width,height,mark,error}}], envelope{name,width,height,clearance_width,clearance_height,fits},
//! post[{rules,edition,verdict,reasons[]}], weight_g, thickness_mm, thickness_least_mm, thickness_most_mm`
//!
//! `reveal` is a number where it is the same all round, else `{left,top,right,bottom}`. `error` is the larger of the
//! two roundings, never above zero. The envelope lies as the card does: short side to short side; its clearance is the inside
//! less the face. A frame mat adds `opening{x,y,width,height,insert{width,height,cut{width,height}}}` to its layer; a card
//! file adds `in_envelope`, and, where it asks for them, `pieces` and `constructions`; a sheet adds
//! `advice[{layer,choices[{reveal,width,height,yields,chosen}]}]`, the layer counted from 1.

use super::told::Answer;
use crate::domain::cards::advice::RevealChoice;
use crate::domain::cards::construction::Construction;
use crate::domain::cards::frame::Opening;
use crate::domain::cards::layer::LayerSize;
use crate::domain::cards::reveal::Reveal;
use crate::domain::length::Length;
use crate::domain::size::Size;
use crate::domain::thickness::Thickness;
use crate::domain::weight::Weight;
use serde_json::{Value, json};

struct Writer<'a>(&'a Answer<'a>);

pub(super) fn answer(answer: &Answer<'_>) -> Value {
    let w = Writer(answer);
    let worked = answer.worked;
    let mut all = json!({
        "unit": answer.unit.sign(),
        "card": w.named(&answer.job.card.name, answer.job.card.face),
        "base": w.base(),
        "layers": worked.layers.iter().map(|l| w.layer(l)).collect::<Vec<_>>(),
        "envelope": w.envelope(),
        "post": w.post(),
        "weight_g": worked.weight.value.map(Weight::grams),
        "thickness_mm": worked.thickness.value.map(Thickness::mm),
        "thickness_least_mm": worked.thickness_span.map(|s| s.least.mm()),
        "thickness_most_mm": worked.thickness_span.map(|s| s.most.mm()),
    });
    if let (true, Some(map)) = (answer.from_file, all.as_object_mut()) {
        map.insert("in_envelope".into(), w.in_envelope());
        if worked.pieces.is_some() {
            map.insert("pieces".into(), w.pieces());
        }
        if !answer.made.is_empty() {
            map.insert("constructions".into(), answer.made.iter().map(|c| w.construction(c)).collect());
        }
    }
    if let (false, Some(map)) = (answer.advice.is_empty(), all.as_object_mut()) {
        map.insert("advice".into(), w.advice());
    }
    all
}

impl Writer<'_> {
    fn n(&self, length: Length) -> Value {
        json!(length.in_unit(self.0.unit))
    }

    fn named(&self, name: &str, size: Size) -> Value {
        json!({ "name": name, "width": self.n(size.width), "height": self.n(size.height) })
    }

    fn size(&self, size: Size) -> Value {
        json!({ "width": self.n(size.width), "height": self.n(size.height) })
    }

    fn base(&self) -> Value {
        let base = &self.0.worked.base;
        let scores: Vec<Value> =
            base.scores.iter().map(|s| json!({ "side": s.side.word(), "at": self.n(s.at) })).collect();
        json!({
            "width": self.n(base.size.width),
            "height": self.n(base.size.height),
            "scores": scores,
            "grain": self.0.worked.grain.word(),
        })
    }

    fn reveal(&self, reveal: &Reveal) -> Value {
        match reveal.uniform() {
            Some(all) => self.n(all),
            None => json!({
                "left": self.n(reveal.left),
                "top": self.n(reveal.top),
                "right": self.n(reveal.right),
                "bottom": self.n(reveal.bottom),
            }),
        }
    }

    fn layer(&self, layer: &LayerSize) -> Value {
        let of = self.0.job.card.layers.get(layer.index);
        let mut value = json!({
            "name": of.map(|l| l.shown_name(layer.index)),
            "made_by": of.map(|l| l.made_by.word()),
            "width": self.n(layer.exact.width),
            "height": self.n(layer.exact.height),
            "x": self.n(layer.x),
            "y": self.n(layer.y),
            "reveal": self.reveal(&layer.reveal),
            "cut": {
                "width": self.n(layer.cut.size.width),
                "height": self.n(layer.cut.size.height),
                "mark": self.n(layer.cut.mark),
                "error": self.n(layer.cut.error()),
            },
        });
        if let (Some(opening), Some(map)) = (&layer.opening, value.as_object_mut()) {
            map.insert("opening".into(), self.opening(opening));
        }
        value
    }

    fn opening(&self, o: &Opening) -> Value {
        json!({
            "x": self.n(o.x),
            "y": self.n(o.y),
            "width": self.n(o.size.width),
            "height": self.n(o.size.height),
            "insert": {
                "width": self.n(o.insert.width),
                "height": self.n(o.insert.height),
                "cut": self.size(o.insert_cut),
            },
        })
    }

    fn envelope(&self) -> Value {
        let Some(e) = &self.0.worked.enclosed else { return Value::Null };
        let fit = e.fit;
        let name =
            if e.envelope.name.is_empty() { e.envelope.show(self.0.unit) } else { e.envelope.name.clone() };
        json!({
            "name": name,
            "width": self.n(fit.outside.width),
            "height": self.n(fit.outside.height),
            "clearance_width": self.n(fit.clearance_width),
            "clearance_height": self.n(fit.clearance_height),
            "fits": fit.fits,
        })
    }

    fn post(&self) -> Value {
        let one = |j: &crate::domain::cards::post::Judgement| {
            json!({
                "rules": j.rules,
                "edition": j.edition,
                "verdict": j.verdict.word(),
                "reasons": j.reasons,
            })
        };
        self.0.worked.post.iter().map(one).collect()
    }

    fn in_envelope(&self) -> Value {
        let worked = self.0.worked;
        if worked.enclosed.is_none() {
            return Value::Null;
        }
        json!({
            "weight_g": worked.sealed_weight.map(Weight::grams),
            "thickness_mm": worked.in_envelope.map(|t| t.thickness.mm()),
            "thickness_at_flap_mm": worked.in_envelope.map(|t| t.at_flap.mm()),
        })
    }

    fn pieces(&self) -> Value {
        let all = self.0.worked.pieces.iter().flatten();
        all.map(|p| {
            json!({
                "name": p.name,
                "made_by": p.made_by.word(),
                "width": self.n(p.size.width),
                "height": self.n(p.size.height),
                "count": p.count,
                "paper": p.paper,
                "turn": p.may_turn,
            })
        })
        .collect()
    }

    fn advice(&self) -> Value {
        let choice = |c: &RevealChoice| {
            json!({
                "reveal": self.n(c.reveal),
                "width": self.n(c.mat.width),
                "height": self.n(c.mat.height),
                "yields": c.yields,
                "chosen": c.chosen,
            })
        };
        let all = self.0.advice.iter();
        all.map(|(layer, choices)| {
            let name = self.0.job.card.layer_name(*layer);
            json!({ "layer": layer + 1, "name": name, "choices": choices.iter().map(choice).collect::<Vec<_>>() })
        })
        .collect()
    }

    fn construction(&self, c: &Construction) -> Value {
        let figures: Vec<Value> =
            c.figures.iter().map(|f| json!({ "name": f.name, "value": self.n(f.value) })).collect();
        let lines: Vec<Value> = c
            .lines
            .iter()
            .map(|l| {
                json!({
                    "kind": l.kind.word(),
                    "x0": self.n(l.x0),
                    "y0": self.n(l.y0),
                    "x1": self.n(l.x1),
                    "y1": self.n(l.y1),
                })
            })
            .collect();
        json!({ "name": c.name, "blank": self.size(c.blank), "figures": figures, "lines": lines, "notes": c.notes })
    }
}
