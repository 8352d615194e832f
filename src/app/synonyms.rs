//! What else a crafter calls a thing that the finder knows: words of the trade, by the name of a command, a list of Stock
//! or a topic of the craft. Knows no keys and no views; the finder alone reads it.

/// Commands by their names, with the words that find them too.
#[rustfmt::skip]
const COMMANDS: &[(&str, &[&str])] = &[
    ("today", &["what next", "due", "deadline", "overview", "dashboard", "to do", "agenda", "home"]),
    ("pane-yield", &["cut", "cutting", "how many per sheet", "how many to a sheet", "up count"]),
    ("pane-mats", &["card", "layers", "card sizes"]),
    ("pane-palette", &["colors", "colours", "swatch library"]),
    ("pane-stock", &["inventory", "stash", "supplies", "what do i have"]),
    ("back", &["return", "where was i"]),
    ("undo", &["oops", "mistake", "take back", "revert"]),
    ("redo", &["do again"]),
    ("history", &["what did i do", "changes", "undo list"]),
    ("project", &["switch project", "event", "commission", "job"]),
    ("units", &["inches", "millimeters", "mm", "metric", "centimeters", "cm"]),
    ("theme", &["dark mode", "light mode", "contrast", "screen colors", "background"]),
    ("mouse", &["click", "trackpad", "select text"]),
    ("copy", &["clipboard", "share", "paste elsewhere"]),
    ("print", &["pdf", "labels", "printer", "handout", "stickers", "swatch chart", "kit labels", "cut list on paper", "true size"]),
    ("keep-book", &["backup", "save as", "save everything", "export all", "other computer"]),
    ("restore-book", &["load backup", "open backup", "recover"]),
    ("help", &["keys", "shortcuts", "manual", "what can i press"]),
    ("craft", &["how to", "glossary", "terms", "learn", "tips", "safety"]),
    ("tour", &["tutorial", "getting started", "demo", "beginner"]),
    ("quit", &["exit", "leave", "close"]),

    ("piece", &["how many", "size to cut", "cut size", "panel size", "fit"]),
    ("sheet", &["paper size", "cardstock", "card stock", "stock sheet", "12x12", "letter"]),
    ("sheet-size", &["real size", "odd size", "true measure", "sheet is short"]),
    ("unusable-edge", &["margin", "torn edge", "printed edge", "barcode strip", "selvage", "branding strip"]),
    ("count", &["how many", "quantity", "pieces needed", "number of pieces"]),
    ("turn", &["rotate", "one-way pattern", "directional print", "upright"]),
    ("offcut-first", &["scrap", "waste", "biggest leftover"]),
    ("stop-cuts", &["partial cut", "pinwheel", "plunge cut"]),
    ("trimmer", &["fence", "guillotine", "blade", "paper cutter", "longest cut", "cutter"]),
    ("per-stroke", &["stack", "sheets at once", "several sheets", "ream"]),
    ("open-chart", &["all sizes", "yield chart", "size chart", "table of sizes"]),
    ("open-bench", &["cut now", "cutting steps", "step by step", "start cutting"]),
    ("open-plan", &["cut plan", "nest", "layout", "cut list", "waste", "whole project"]),
    ("cut-log", &["log cuts", "sheets cut"]),
    ("use-sheets", &["used paper", "subtract", "take off the shelf"]),

    ("face", &["card size", "card front", "a2", "a7", "5x7", "slimline"]),
    ("fold", &["tent", "gatefold", "bifold", "trifold", "score line", "top fold", "accordion"]),
    ("add-layer", &["mat", "matting", "panel", "new layer"]),
    ("reveal", &["border", "margin", "edge showing", "mat width"]),
    ("remove-layer", &["delete layer", "take off layer"]),
    ("add-part", &["belly band", "liner", "box", "bag", "strip", "sentiment", "tag", "window", "shaker"]),
    ("layer-size", &["dimensions", "strip size", "sentiment size"]),
    ("layer-frame", &["window", "opening", "aperture", "shaker window"]),
    ("insert-paper", &["behind the window", "backing", "acetate"]),
    ("layer-paper", &["which paper", "cardstock", "card stock", "designer paper", "pattern paper"]),
    ("layer-colour", &["layer color", "swatch for layer"]),
    ("layer-count", &["how many", "number of layers", "copies"]),
    ("layer-turn", &["one-way pattern", "directional"]),
    ("layer-made-by", &["die-cut", "die cut", "torn", "tear", "embossed", "embossing folder", "printed to the edge", "bleed", "straight cut"]),
    ("layer-raise", &["pop up", "dimensional", "foam tape", "foam squares", "adhesive", "lift", "pop dots"]),
    ("fold-edge", &["fold side", "landscape fold"]),
    ("fold-measures", &["panels", "paper thickness", "accordion panels"]),
    ("base-grain", &["grain", "fiber", "cracking"]),
    ("card-envelope", &["envelope", "mailer", "a7 envelope"]),
    ("address-side", &["postage", "address", "stamp"]),
    ("card-batch", &["batch", "set", "spares", "spoilage", "extras"]),
    ("new-card", &["another card", "new project", "start a project", "add card"]),
    ("remove-card", &["delete card"]),
    ("from-picture", &["photo mat", "frame a photo", "picture size"]),
    ("own-scores", &["score", "scoring", "crease", "score board"]),
    ("hold-turned", &["portrait", "landscape", "orientation"]),
    ("write-card", &["export card", "share card", "save card"]),
    ("read-card", &["import card", "open card"]),
    ("mats-view", &["postage", "mail", "weight", "front drawing", "stamps"]),
    ("mats-made", &["envelope template", "liner size", "box template"]),
    ("open-ruler", &["measure", "tick marks", "fractions", "sixteenths", "inches"]),
    ("practice", &["quiz", "learn fractions", "practise", "read a ruler"]),

    ("identify", &["match a color", "hex", "which swatch", "name this color", "closest color"]),
    ("swatch-order", &["sort colors", "rainbow order"]),
    ("scheme", &["complementary", "analogous", "color wheel", "triad"]),
    ("vision", &["color blind", "colorblind", "color vision"]),
    ("pin-swatch", &["compare colors", "side by side"]),
    ("photo", &["scan", "camera", "colors of a paper", "pattern colors"]),
    ("picture-of-anything", &["inspiration", "photo palette", "garden", "fabric"]),
    ("new-swatch", &["add color", "new color"]),
    ("edit-swatch", &["rename color", "change color"]),
    ("merge-swatch", &["duplicate color", "same color"]),
    ("import-swatches", &["color list", "swatch list"]),
    ("swatches-on-hand", &["colors i have", "my colors"]),
    ("apply-trio", &["color a card", "dress the card", "use colors"]),
    ("favourite-trio", &["like", "star", "love"]),
    ("own-trio", &["my trio", "own combination", "color combination", "color combo"]),
    ("trio-base", &["matching colors", "goes with", "coordinating"]),
    ("leaving-first", &["retiring", "use up", "discontinued"]),
    ("wheel", &["color wheel", "painter's wheel"]),
    ("coordinates", &["numbers", "lab", "color values", "hex value"]),
    ("patterned-papers", &["designer paper", "pattern paper", "prints"]),

    ("filter", &["search", "look up", "find paper"]),
    ("use", &["used", "subtract", "took", "minus"]),
    ("use-typed", &["used by name", "quick use"]),
    ("receive", &["arrived", "bought", "delivery", "add stock", "restock", "plus"]),
    ("adjust", &["fix count", "wrong count", "correct"]),
    ("low-mark", &["reorder point", "minimum", "running low", "low"]),
    ("edit-item", &["gsm", "weight", "price", "thickness", "change line", "lb cover", "stripes", "pattern of a paper"]),
    ("item-to-yield", &["cut this paper"]),
    ("item-history", &["usage", "how much goes"]),
    ("count-day", &["stocktake", "take inventory", "count the shelf", "recount"]),
    ("new-item", &["add paper", "new paper", "new ink", "add envelopes", "new supply", "bought something new"]),
    ("item-state", &["retire", "discontinued", "retiring"]),
    ("receive-pack", &["assortment", "variety pack", "paper pad"]),
    ("new-pack", &["assortment", "variety pack", "paper pad"]),
    ("import-list", &["spreadsheet", "csv", "load list"]),
    ("refresh-list", &["new catalog", "annual list", "retiring list", "new year"]),
    ("export-list", &["spreadsheet", "csv", "save list"]),
    ("offcut-add", &["scrap", "leftover", "remnant", "keep scrap"]),
    ("offcut-use", &["use scrap", "use leftover"]),
    ("offcut-floor", &["waste", "too small to keep", "throw away"]),
    ("mark-ordered", &["ordered", "bought", "purchase"]),
    ("mark-arrived", &["delivered", "came in", "arrived"]),
    ("order-copy", &["shopping list", "order list"]),
    ("order-export", &["order file"]),
    ("order-count", &["packs to order", "order quantity", "back order"]),
    ("order-due", &["expected", "delivery date"]),
    ("class-ways", &["shortage", "not enough", "substitute", "what to do"]),
    ("order-ways", &["substitute paper", "instead of ordering"]),
    ("class-new", &["new class", "workshop", "teach", "make a class"]),
    ("class-open", &["seats", "kit", "cost per seat", "students", "class price"]),
    ("class-book", &["set aside", "reserve", "hold paper"]),
    ("class-calendar", &["calendar", "what is due", "coming days", "agenda"]),
    ("class-paper", &["swap paper", "substitute", "instead of"]),
    ("class-drop", &["leave out a design"]),
    ("class-seats", &["one more seat", "late sign-up"]),
    ("class-came", &["attendance", "no-show", "how many came"]),
    ("class-sold", &["sales", "sell", "takings"]),
    ("class-kits", &["leftover kits", "kits left over"]),
    ("class-names", &["attendees", "guests", "participants"]),
    ("class-taught", &["taught", "class is over"]),
    ("class-cancel", &["call off"]),
    ("booking-release", &["unbook", "free paper"]),
    ("plan-leftovers", &["scrap", "waste", "biggest leftover"]),
    ("plan-book", &["reserve sheets", "set aside sheets"]),
    ("plan-again", &["better plan", "improve", "optimize"]),
];

/// Stock's lists by their titles.
const LISTS: &[(&str, &[&str])] = &[
    ("Shelf", &["papers", "inks", "envelopes", "inventory", "supplies", "cardstock", "card stock"]),
    ("Offcuts", &["scrap", "scraps", "leftovers", "remnants", "bin", "waste"]),
    ("Log", &["what was used", "usage", "records", "ledger"]),
    ("Reorder", &["shopping list", "to buy", "running low", "low", "what to order", "on order"]),
    ("Classes", &["workshops", "teaching", "seats", "students", "kits", "batches"]),
    ("Bookings", &["set aside", "reserved", "held for"]),
];

/// Topics of the craft by their titles.
const TOPICS: &[(&str, &[&str])] = &[
    ("Weight of paper", &["gsm", "pound", "lb", "cover weight", "heavy cardstock"]),
    ("Thickness", &["caliper", "points", "pt"]),
    ("Scoring", &["crease", "bone folder", "score board"]),
    ("Why a fold cracks", &["cracked fold", "cracking"]),
    ("Grain, and how to find it", &["fiber", "warping", "curl"]),
    ("Adhesives", &["glue", "tape", "glue gun", "hot glue"]),
    ("Heat", &["embossing", "heat gun", "heat tool"]),
    ("Mailing letters", &["postage", "mail", "stamps"]),
    ("Square cards", &["square envelope", "extra postage"]),
    ("Spoilage", &["spoiled", "mistakes", "extras"]),
    ("Dye lots", &["batch of paper", "lot"]),
    ("Humidity", &["damp", "curling"]),
    ("Offcut bin", &["scrap", "scraps"]),
    ("Blade cautions", &["sharp", "knife", "fingers"]),
    ("Guillotine cautions", &["guillotine", "lever cutter"]),
    ("Small parts and children", &["kids", "choking", "buttons"]),
];

fn of(table: &'static [(&str, &[&str])], name: &str) -> &'static [&'static str] {
    table.iter().find(|(known, _)| *known == name).map_or(&[], |(_, words)| words)
}

/// Other words for a command, by its name.
pub fn of_command(name: &str) -> &'static [&'static str] {
    of(COMMANDS, name)
}

/// Other words for a list of Stock, by its title.
pub fn of_list(title: &str) -> &'static [&'static str] {
    of(LISTS, title)
}

/// Other words for a topic of the craft, by its title.
pub fn of_topic(title: &str) -> &'static [&'static str] {
    of(TOPICS, title)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::commands;
    use crate::app::state::views::Tab;
    use crate::domain::craft::topics;

    fn check(table: &[(&str, &[&str])], known: &[&str]) {
        for (n, (name, words)) in table.iter().enumerate() {
            assert!(known.contains(name), "{name} is unknown");
            assert!(!table[..n].iter().any(|(other, _)| other == name), "{name} twice");
            assert!(!words.is_empty() && words.iter().all(|w| *w == w.to_lowercase()), "{name}");
        }
    }

    #[test]
    fn every_row_is_about_something_there() {
        check(COMMANDS, &commands::COMMANDS.iter().map(|c| c.name).collect::<Vec<_>>());
        check(LISTS, &Tab::ALL.map(Tab::title));
        check(TOPICS, &topics().iter().map(|t| t.title.as_str()).collect::<Vec<_>>());
    }
}
