//! The rows of the tables as they are stored: items, colours, offcuts, bookings, orders, assortments, formats.

use super::field::{Misfit, day, is_default, maybe_day};
use super::words::{GrainV1, KindV1, PatternV1, SizeV1, StateV1};
use crate::domain::book::format::SheetFormat;
use crate::domain::money::Money;
use crate::domain::stock::{
    Assortment, Booking, Caliper, Item, ItemId, KeptTrio, NamedColour, Offcut, OffcutId, Order, ProjectId,
    SwatchId,
};
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// A line of the shelf.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct ItemV1 {
    pub name: String,
    pub kind: KindV1,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub size: Option<SizeV1>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured: Option<SizeV1>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub grain: GrainV1,
    #[serde(default, skip_serializing_if = "is_default")]
    pub one_way: bool,
    #[serde(default, skip_serializing_if = "is_default")]
    pub back: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub swatch: Option<u32>,
    /// Further colours of the front.
    #[serde(default, skip_serializing_if = "is_default")]
    pub colours: Vec<u32>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub back_colours: Vec<u32>,
    /// What is drawn on the front of a patterned paper.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pattern: Option<PatternV1>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub opaque: bool,
    #[serde(default, skip_serializing_if = "is_default")]
    pub order_number: String,
    #[serde(default, skip_serializing_if = "is_default")]
    pub former_numbers: Vec<String>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub pack: u32,
    /// The rarer case is stored.
    #[serde(default, skip_serializing_if = "is_default")]
    pub only_in_assortments: bool,
    #[serde(default, skip_serializing_if = "is_default")]
    pub low: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<i64>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub seller: String,
    #[serde(default, skip_serializing_if = "is_default")]
    pub lead_days: u16,
    #[serde(default, skip_serializing_if = "is_default")]
    pub edition: String,
    #[serde(default, skip_serializing_if = "is_default")]
    pub page: String,
    #[serde(default, skip_serializing_if = "is_default")]
    pub state: StateV1,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gsm: Option<u32>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub bought_as: String,
    /// Micrometres, and whether they were measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub caliper: Option<(u32, bool)>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub collection: String,
    #[serde(default, skip_serializing_if = "is_default")]
    pub place: String,
    #[serde(default, skip_serializing_if = "is_default")]
    pub note: String,
}

impl From<&Item> for ItemV1 {
    fn from(i: &Item) -> Self {
        Self {
            name: i.name.clone(),
            kind: i.kind.into(),
            size: i.size.map(Into::into),
            measured: i.measured.map(Into::into),
            grain: i.grain.into(),
            one_way: i.one_way,
            back: i.back.clone(),
            swatch: i.swatch.map(|s| s.0),
            colours: i.colours.iter().map(|s| s.0).collect(),
            back_colours: i.back_colours.iter().map(|s| s.0).collect(),
            pattern: i.pattern.map(Into::into),
            opaque: i.opaque,
            order_number: i.order_number.clone(),
            former_numbers: i.former_numbers.clone(),
            pack: i.pack,
            only_in_assortments: !i.sold_alone,
            low: i.low,
            price: i.price.map(Money::minor),
            seller: i.seller.clone(),
            lead_days: i.lead_days,
            edition: i.edition.clone(),
            page: i.page.clone(),
            state: i.state.into(),
            gsm: i.gsm,
            bought_as: i.bought_as.clone(),
            caliper: i.caliper.map(|c| (c.micrometres, c.measured)),
            collection: i.collection.clone(),
            place: i.place.clone(),
            note: i.note.clone(),
        }
    }
}

impl TryFrom<ItemV1> for Item {
    type Error = Misfit;
    fn try_from(i: ItemV1) -> Result<Self, Misfit> {
        Ok(Self {
            name: i.name,
            kind: i.kind.into(),
            size: i.size.map(TryInto::try_into).transpose()?,
            measured: i.measured.map(TryInto::try_into).transpose()?,
            grain: i.grain.into(),
            one_way: i.one_way,
            back: i.back,
            swatch: i.swatch.map(SwatchId),
            colours: i.colours.into_iter().map(SwatchId).collect(),
            back_colours: i.back_colours.into_iter().map(SwatchId).collect(),
            pattern: i.pattern.map(TryInto::try_into).transpose()?,
            opaque: i.opaque,
            order_number: i.order_number,
            former_numbers: i.former_numbers,
            pack: i.pack,
            sold_alone: !i.only_in_assortments,
            low: i.low,
            price: i.price.map(Money::from_minor),
            seller: i.seller,
            lead_days: i.lead_days,
            edition: i.edition,
            page: i.page,
            state: i.state.into(),
            gsm: i.gsm,
            bought_as: i.bought_as,
            caliper: i.caliper.map(|(micrometres, measured)| Caliper { micrometres, measured }),
            collection: i.collection,
            place: i.place,
            note: i.note,
        })
    }
}

/// A colour.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct SwatchV1 {
    pub name: String,
    #[serde(default, skip_serializing_if = "is_default")]
    pub family: String,
    pub lab: (f64, f64, f64),
    #[serde(default, skip_serializing_if = "is_default")]
    pub measured: bool,
    pub hex: (u8, u8, u8),
    #[serde(default, skip_serializing_if = "is_default")]
    pub former_names: Vec<String>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub note: String,
}

impl From<&NamedColour> for SwatchV1 {
    fn from(s: &NamedColour) -> Self {
        Self {
            name: s.name.clone(),
            family: s.family.clone(),
            lab: s.lab.into(),
            measured: s.measured,
            hex: s.hex.into(),
            former_names: s.former_names.clone(),
            note: s.note.clone(),
        }
    }
}

impl TryFrom<SwatchV1> for NamedColour {
    type Error = Misfit;
    fn try_from(s: SwatchV1) -> Result<Self, Misfit> {
        let (lab, hex) = (s.lab.into(), s.hex.into());
        Ok(Self {
            name: s.name,
            family: s.family,
            lab,
            measured: s.measured,
            hex,
            former_names: s.former_names,
            note: s.note,
        })
    }
}

/// Three colours that are kept, or dismissed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct TrioV1 {
    pub name: String,
    pub swatches: (u32, u32, u32),
    #[serde(default, skip_serializing_if = "is_default")]
    pub favourite: bool,
    #[serde(default, skip_serializing_if = "is_default")]
    pub own: bool,
    #[serde(default, skip_serializing_if = "is_default")]
    pub dismissed: bool,
    #[serde(default, skip_serializing_if = "is_default")]
    pub note: String,
}

impl From<&KeptTrio> for TrioV1 {
    fn from(t: &KeptTrio) -> Self {
        Self {
            name: t.name.clone(),
            swatches: t.swatches.map(|s| s.0).into(),
            favourite: t.favourite,
            own: t.own,
            dismissed: t.dismissed,
            note: t.note.clone(),
        }
    }
}

impl TryFrom<TrioV1> for KeptTrio {
    type Error = Misfit;
    fn try_from(t: TrioV1) -> Result<Self, Misfit> {
        let swatches = <[u32; 3]>::from(t.swatches).map(SwatchId);
        let TrioV1 { name, favourite, own, dismissed, note, .. } = t;
        Ok(Self { name, swatches, favourite, own, dismissed, note })
    }
}

/// A kind of offcut.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct OffcutV1 {
    pub item: u32,
    pub size: SizeV1,
    #[serde(default, skip_serializing_if = "is_default")]
    pub grain: GrainV1,
    #[serde(default, skip_serializing_if = "is_default")]
    pub job: String,
    #[serde(default, skip_serializing_if = "Option::is_none", with = "maybe_day")]
    pub since: Option<Date>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub place: String,
    #[serde(default, skip_serializing_if = "is_default")]
    pub note: String,
}

impl From<&Offcut> for OffcutV1 {
    fn from(o: &Offcut) -> Self {
        Self {
            item: o.item.0,
            size: o.size.into(),
            grain: o.grain.into(),
            job: o.job.clone(),
            since: o.since,
            place: o.place.clone(),
            note: o.note.clone(),
        }
    }
}

impl TryFrom<OffcutV1> for Offcut {
    type Error = Misfit;
    fn try_from(o: OffcutV1) -> Result<Self, Misfit> {
        Ok(Self {
            item: ItemId(o.item),
            size: o.size.try_into()?,
            grain: o.grain.into(),
            job: o.job,
            since: o.since,
            place: o.place,
            note: o.note,
        })
    }
}

/// Sheets set aside.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct BookingV1 {
    pub project: u32,
    pub item: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub offcut: Option<u32>,
    pub count: u32,
    #[serde(default, skip_serializing_if = "is_default")]
    pub pieces: u32,
    #[serde(default, skip_serializing_if = "Option::is_none", with = "maybe_day")]
    pub on: Option<Date>,
}

impl From<&Booking> for BookingV1 {
    fn from(b: &Booking) -> Self {
        let offcut = b.offcut.map(|o| o.0);
        Self { project: b.project.0, item: b.item.0, offcut, count: b.count, pieces: b.pieces, on: b.on }
    }
}

impl TryFrom<BookingV1> for Booking {
    type Error = Misfit;
    fn try_from(b: BookingV1) -> Result<Self, Misfit> {
        let (project, item) = (ProjectId(b.project), ItemId(b.item));
        let offcut = b.offcut.map(OffcutId);
        Ok(Self { project, item, offcut, count: b.count, pieces: b.pieces, on: b.on })
    }
}

/// Something awaited.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct OrderV1 {
    pub item: u32,
    pub count: u32,
    #[serde(with = "day")]
    pub placed: Date,
    #[serde(default, skip_serializing_if = "Option::is_none", with = "maybe_day")]
    pub expected: Option<Date>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub note: String,
    #[serde(default, skip_serializing_if = "is_default")]
    pub ordered: u32,
    #[serde(default, skip_serializing_if = "is_default")]
    pub seller: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<i64>,
}

impl From<&Order> for OrderV1 {
    fn from(o: &Order) -> Self {
        Self {
            item: o.item.0,
            count: o.count,
            placed: o.placed,
            expected: o.expected,
            note: o.note.clone(),
            ordered: o.ordered,
            seller: o.seller.clone(),
            price: o.price.map(Money::minor),
        }
    }
}

impl TryFrom<OrderV1> for Order {
    type Error = Misfit;
    fn try_from(o: OrderV1) -> Result<Self, Misfit> {
        Ok(Self {
            item: ItemId(o.item),
            count: o.count,
            placed: o.placed,
            expected: o.expected,
            note: o.note,
            ordered: o.ordered,
            seller: o.seller,
            price: o.price.map(Money::from_minor),
        })
    }
}

/// A pack of several items.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct AssortmentV1 {
    pub name: String,
    #[serde(default, skip_serializing_if = "is_default")]
    pub order_number: String,
    #[serde(default, skip_serializing_if = "is_default")]
    pub seller: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<i64>,
    pub contents: Vec<(u32, u32)>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub state: StateV1,
    #[serde(default, skip_serializing_if = "is_default")]
    pub note: String,
}

impl From<&Assortment> for AssortmentV1 {
    fn from(a: &Assortment) -> Self {
        Self {
            name: a.name.clone(),
            order_number: a.order_number.clone(),
            seller: a.seller.clone(),
            price: a.price.map(Money::minor),
            contents: a.contents.iter().map(|(i, n)| (i.0, *n)).collect(),
            state: a.state.into(),
            note: a.note.clone(),
        }
    }
}

impl TryFrom<AssortmentV1> for Assortment {
    type Error = Misfit;
    fn try_from(a: AssortmentV1) -> Result<Self, Misfit> {
        Ok(Self {
            name: a.name,
            order_number: a.order_number,
            seller: a.seller,
            price: a.price.map(Money::from_minor),
            contents: a.contents.into_iter().map(|(i, n)| (ItemId(i), n)).collect(),
            state: a.state.into(),
            note: a.note,
        })
    }
}

/// A sheet format of the person's own.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct FormatV1 {
    pub name: String,
    pub size: SizeV1,
    #[serde(default, skip_serializing_if = "is_default")]
    pub note: String,
}

impl From<&SheetFormat> for FormatV1 {
    fn from(f: &SheetFormat) -> Self {
        Self { name: f.name.clone(), size: f.size.into(), note: f.note.clone() }
    }
}

impl TryFrom<FormatV1> for SheetFormat {
    type Error = Misfit;
    fn try_from(f: FormatV1) -> Result<Self, Misfit> {
        Ok(Self { name: f.name, size: f.size.try_into()?, note: f.note })
    }
}
