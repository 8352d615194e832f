//! Which fields each kind of record has, and the words for them: what a change may take over piece by piece.

use super::table::record;
use crate::domain::book::format::SheetFormat;
use crate::domain::project::Project;
use crate::domain::settings::BookSettings;
use crate::domain::stock::{Assortment, Booking, Item, KeptTrio, NamedColour, Offcut, Order};

record!(Item, "item", |i| i.name.clone(), {
    name => "name",
    kind => "kind",
    size => "size",
    measured => "measured size",
    grain => "grain",
    one_way => "pattern direction",
    back => "other side",
    swatch => "swatch",
    colours => "further colors",
    back_colours => "colors of the back",
    pattern => "pattern",
    opaque => "opacity",
    order_number => "order number",
    former_numbers => "former order numbers",
    pack => "pack size",
    sold_alone => "way it is sold",
    low => "low mark",
    price => "price",
    seller => "seller",
    lead_days => "lead time",
    edition => "edition",
    page => "page",
    state => "state",
    gsm => "weight",
    bought_as => "weight as bought",
    caliper => "thickness",
    collection => "collection",
    place => "place",
    note => "note",
});

record!(NamedColour, "swatch", |s| s.name.clone(), {
    name => "name",
    family => "family",
    lab => "coordinates",
    measured => "origin of the coordinates",
    hex => "hex value",
    former_names => "former names",
    note => "note",
});

record!(Project, "project", |p| p.name.clone(), {
    name => "name",
    date => "date",
    seats => "seats",
    samples => "sample sets",
    spoilage_percent => "spoilage",
    spoilage_fixed => "fixed spoilage",
    seat_price => "seat price",
    minutes_a_card => "minutes a card",
    hour_rate => "hourly rate",
    cards => "cards",
    pieces => "pieces",
    supplies => "supplies",
    progress => "progress",
    stages => "stages",
    teaching => "class figures",
    afterwards => "sales and attendance",
    attendees => "names",
    plan => "booked plan",
    note => "note",
});

record!(Offcut, "offcut", |o| format!("{}", o.size), {
    item => "paper",
    size => "size",
    grain => "grain",
    job => "job",
    since => "date",
    place => "place",
    note => "note",
});

record!(Booking, "booking", |b| crate::domain::plural::count_of(u64::from(b.count), "sheet"), {
    project => "project",
    item => "item",
    offcut => "offcut",
    count => "count",
    pieces => "pieces",
    on => "date",
});

record!(Order, "order", |o| format!("{} ordered {}", o.count, o.placed), {
    item => "item",
    count => "count",
    placed => "date",
    expected => "expected date",
    note => "note",
    ordered => "count ordered",
    seller => "seller",
    price => "price",
});

record!(Assortment, "pack", |a| a.name.clone(), {
    name => "name",
    order_number => "order number",
    seller => "seller",
    price => "price",
    contents => "contents",
    state => "state",
    note => "note",
});

record!(SheetFormat, "sheet format", |f| f.name.clone(), {
    name => "name",
    size => "size",
    note => "note",
});

record!(KeptTrio, "trio", |t| t.name.clone(), {
    name => "name",
    swatches => "colors",
    favourite => "favorite mark",
    own => "origin",
    dismissed => "dismissal",
    note => "note",
});

record!(BookSettings, "settings", |_| "the settings".to_owned(), {
    currency => "currency",
    unit => "unit",
    offcut_floor => "offcut floor",
    spoilage_percent => "spoilage",
    spoilage_fixed => "fixed spoilage",
    longest_cut => "longest cut",
    finest_mark => "finest mark",
    smallest_shave => "smallest shave",
    smallest_strip => "smallest strip",
    forgotten => "choices that count no more",
});
