//! Palette answers for programs. Field names are part of the command line's promise.

use crate::domain::colour::naming::everyday;
use crate::domain::colour::nearest::Match;
use crate::domain::colour::parse::Typed;
use crate::domain::colour::photo::{FoundColour, PhotoReading};
use crate::domain::colour::space::Lab;
use crate::domain::colour::swatch::Swatch;
use crate::domain::colour::trios::Trio;
use crate::domain::library::from_picture::{FromPicture, Papered};
use serde_json::{Value, json};

/// `query{hex,lab}, matches[{swatch,delta_e}]`
pub(super) fn nearest(query: Typed, library: &[Swatch], matches: &[Match]) -> Value {
    json!({
        "query": { "hex": query.hex.to_string(), "lab": lab(query.lab) },
        "matches": self::matches(library, matches),
    })
}

/// `base, trios[{swatches[3], scheme, why, liked{weakest,pairs[3]}, weakest, pairs[3], distinct,
/// distinct_cvd{protan,deutan,tritan}, to_buy, habit, nearest}]`: `liked` ranks (natural logarithms of times chance, moved a little by
/// what the person chose before), `habit` is null or says that of the weakest pair; `weakest` and `pairs` are the published
/// model's second opinion; `to_buy` is null or the swatch that is not on hand; `nearest` is null, or says in what the trio is
/// only the nearest that can be done: such trios stand behind the others of those on hand, or of those with one to buy.
pub(super) fn trios(base: usize, library: &[Swatch], list: &[Trio]) -> Value {
    json!({ "base": library[base].label(), "trios": list.iter().map(|t| trio(library, t)).collect::<Vec<_>>() })
}

fn trio(library: &[Swatch], trio: &Trio) -> Value {
    let [protan, deutan, tritan] = trio.distinct.others;
    json!({
        "swatches": trio.swatches.map(|i| library[i].label()),
        "scheme": trio.scheme.name(),
        "why": trio.why,
        "habit": trio.liked.habit,
        "liked": { "weakest": trio.liked.weakest, "pairs": trio.liked.pairs },
        "weakest": trio.weakest,
        "pairs": trio.pairs,
        "distinct": trio.distinct.normal,
        "distinct_cvd": { "protan": protan, "deutan": deutan, "tritan": tritan },
        "nearest": trio.short.words(),
        "to_buy": trio.to_buy.map(|i| library[i].label()),
    })
}

/// `colors[{hex,lab,share,about,matches[{swatch,delta_e}]}], trios[...]` as in [`trios`]; the first match of each color is
/// the paper taken for it, `from_all` is true where nothing on hand was there to choose from.
pub(super) fn picture(library: &[Swatch], found: &FromPicture) -> Value {
    let colour = |papered: &Papered| {
        json!({
            "hex": papered.colour.hex.to_string(),
            "lab": lab(papered.colour.lab),
            "share": papered.colour.share,
            "about": everyday(papered.colour.lab),
            "matches": matches(library, &papered.matches),
        })
    };
    json!({
        "colours": found.colours.iter().map(colour).collect::<Vec<_>>(),
        "trios": found.trios.iter().map(|t| trio(library, t)).collect::<Vec<_>>(),
        "from_all": found.from_all,
    })
}

/// `swatches[{swatch,name,family,hex,lab,origin}]` in order.
pub(super) fn order(library: &[Swatch], places: &[usize]) -> Value {
    let swatch = |i: &usize| {
        let swatch = &library[*i];
        json!({
            "swatch": swatch.label(),
            "name": swatch.name,
            "family": swatch.family,
            "hex": swatch.hex.to_string(),
            "lab": lab(swatch.lab),
            "origin": swatch.origin.word(),
        })
    };
    json!({ "swatches": places.iter().map(swatch).collect::<Vec<_>>() })
}

/// `white{hex, source}, colors[{hex,lab,share,known,matches[{swatch,delta_e}]}]`
pub(super) fn photo(library: &[Swatch], answer: &PhotoReading) -> Value {
    let colour = |found: &FoundColour| {
        json!({
            "hex": found.hex.to_string(),
            "lab": lab(found.lab),
            "share": found.share,
            "known": found.known,
            "matches": matches(library, &found.matches),
        })
    };
    json!({
        "white": { "hex": answer.white.to_string(), "source": answer.source.words() },
        "colours": answer.colours.iter().map(colour).collect::<Vec<_>>(),
    })
}

fn matches(library: &[Swatch], matches: &[Match]) -> Value {
    matches
        .iter()
        .map(|hit| json!({ "swatch": library[hit.index].label(), "delta_e": hit.delta_e }))
        .collect()
}

fn lab(lab: Lab) -> [f64; 3] {
    [lab.l, lab.a, lab.b]
}
