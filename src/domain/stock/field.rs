//! The fields of a shelf line as a person meets them one by one: which a kind has, what stands in each, how a typed text
//! is read, and the edit that follows from it. Counts are not among them: they live in the log; what is on order is
//! changed by orders.

mod read;

use crate::domain::book::Book;
use crate::domain::edit::check::vet_item;
use crate::domain::edit::{Edit, Row};
use crate::domain::length::Unit;
use crate::domain::money::Money;
use crate::domain::sheet::Formats;
use crate::domain::size::{Grain, Size};
use crate::domain::stock::ids::{ItemId, SwatchId};
use crate::domain::stock::item::{Item, Kind, State};
use crate::domain::stock::orders::set_on_order;
use jiff::civil::Date;
use read::{
    caliper, caliper_words, colours, count, kind, pattern, put_colours, put_pounds, put_weight, size,
    thickness, yes_or_no,
};

/// A field of a shelf line.
#[allow(missing_docs)] // each is the field of `Item` of that name; `word` says it in words
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Field {
    Name,
    Kind,
    Size,
    Measured,
    Grain,
    OneWay,
    Back,
    Colours,
    BackColours,
    Pattern,
    Opaque,
    Gsm,
    BoughtAs,
    Caliper,
    OrderNumber,
    Seller,
    Pack,
    SoldAlone,
    Price,
    Edition,
    Page,
    Collection,
    State,
    Low,
    LeadDays,
    OnOrder,
    Place,
    Note,
}

/// What reading and showing a field needs to know.
#[derive(Clone, Copy, Debug)]
pub struct Terms<'a> {
    /// The book: its colours, currency and orders.
    pub book: &'a Book,
    /// Sheet formats by name.
    pub formats: &'a Formats,
    /// The unit of bare lengths.
    pub unit: Unit,
}

/// A line as the person saw it when a field was taken in hand: what the edit rests on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Seen {
    /// Its number.
    pub id: ItemId,
    /// Its fields.
    pub item: Item,
    /// How many were on order.
    pub on_order: u64,
}

impl Seen {
    /// A line as it stands; `None` where it is gone.
    pub fn of(book: &Book, id: ItemId) -> Option<Self> {
        Some(Self { id, item: book.items().get(id)?.clone(), on_order: book.on_order(id) })
    }
}

impl Field {
    /// All, in the order they are listed: what it is, how it is bought, where it stands.
    pub const ALL: [Self; 28] = [
        Self::Name,
        Self::Kind,
        Self::Size,
        Self::Measured,
        Self::Grain,
        Self::OneWay,
        Self::Back,
        Self::Colours,
        Self::BackColours,
        Self::Pattern,
        Self::Opaque,
        Self::Gsm,
        Self::BoughtAs,
        Self::Caliper,
        Self::OrderNumber,
        Self::Seller,
        Self::Pack,
        Self::SoldAlone,
        Self::Price,
        Self::Edition,
        Self::Page,
        Self::Collection,
        Self::State,
        Self::Low,
        Self::LeadDays,
        Self::OnOrder,
        Self::Place,
        Self::Note,
    ];

    /// The fields of a line: those that its kind has, and any other that something stands in.
    pub fn of(item: &Item, terms: &Terms<'_>) -> Vec<Self> {
        let empty = Item::new("", item.kind);
        let is_set = |f: &Self| f.text(item, terms) != f.text(&empty, terms);
        let has = |f: &Self| f.belongs_to(item.kind) || is_set(f);
        Self::ALL.into_iter().filter(has).collect()
    }

    /// Whether lines of this kind have it.
    pub fn belongs_to(self, kind: Kind) -> bool {
        match self {
            Self::Grain | Self::Measured => kind.is_paper(),
            Self::Gsm | Self::BoughtAs | Self::Caliper => kind.is_paper() || kind == Kind::Envelope,
            Self::OneWay | Self::Back | Self::BackColours | Self::Pattern => kind == Kind::PatternedPaper,
            Self::Opaque => matches!(kind, Kind::InkPad | Kind::Refill),
            Self::Size => !matches!(kind, Kind::InkPad | Kind::Refill),
            _ => true,
        }
    }

    /// The words for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Name => "name",
            Self::Kind => "kind",
            Self::Size => "size",
            Self::Measured => "measured size",
            Self::Grain => "grain",
            Self::OneWay => "one-way pattern",
            Self::Back => "other side",
            Self::Colours => "color",
            Self::BackColours => "colors of the back",
            Self::Pattern => "pattern",
            Self::Opaque => "hides the paper",
            Self::Gsm => "weight",
            Self::BoughtAs => "weight as bought",
            Self::Caliper => "thickness",
            Self::OrderNumber => "order number",
            Self::Seller => "seller",
            Self::Pack => "pack of",
            Self::SoldAlone => "sold alone",
            Self::Price => "price",
            Self::Edition => "catalog edition",
            Self::Page => "catalog page",
            Self::Collection => "collection",
            Self::State => "state",
            Self::Low => "low mark",
            Self::LeadDays => "days to arrive",
            Self::OnOrder => "on order",
            Self::Place => "place",
            Self::Note => "note",
        }
    }

    /// How it is written, for the line where it is typed.
    pub const fn hint(self) -> &'static str {
        match self {
            Self::Name => "what you call it",
            Self::Kind => "card stock, patterned paper, ink pad, refill, envelope, adhesive or other",
            Self::Size => "a format (letter) or width x height; empty for none",
            Self::Measured => "width x height as measured; it counts for cutting; empty for as sold",
            Self::Grain => "long, short or unknown",
            Self::OneWay => "Enter turns it: yes where pieces may not be turned",
            Self::Back => "the other side in words",
            Self::Colours => {
                "a color of the library; of a patterned paper several with commas, the leading one first"
            }
            Self::BackColours => "colors of the library, with commas",
            Self::Pattern => "plain, stripes, dots, grid, check or floral, and how far apart: stripes 1/2",
            Self::Opaque => "Enter turns it: yes for an ink that covers",
            Self::Gsm => "216 (grams a square meter), or pounds with their grade: 80 lb cover",
            Self::BoughtAs => "80 lb cover, 110 lb index; the grams follow",
            Self::Caliper => "as measured: 12 pt, 0.3 mm, 0.012 in; empty guesses it from the weight",
            Self::OrderNumber => "the seller's number; the old one still finds the line",
            Self::Seller => "who sells it, as you call them",
            Self::Pack => "how many come in a pack; 1 if sold singly",
            Self::SoldAlone => "Enter turns it: no for a design that comes only in packs of several",
            Self::Price => "of a pack, or of one where it is sold singly; empty for none",
            Self::Edition => "of the seller's catalog",
            Self::Page => "in that catalog",
            Self::Collection => "which collection it belongs to",
            Self::State => "current, leaving 31 aug, gone or arriving 1 sep",
            Self::Low => "reorder when fewer are free; 0 for never",
            Self::LeadDays => "days from order to arrival, 0 to 365",
            Self::OnOrder => "how many are ordered and not here yet, in single sheets",
            Self::Place => "where it lies",
            Self::Note => "anything else",
        }
    }

    /// True for a field of yes and no, which is turned instead of typed.
    pub const fn is_switch(self) -> bool {
        matches!(self, Self::OneWay | Self::Opaque | Self::SoldAlone)
    }

    /// What stands in it, as it would be typed; empty for nothing.
    pub fn text(self, item: &Item, terms: &Terms<'_>) -> String {
        let yes = |on: bool| if on { "yes" } else { "no" }.to_owned();
        let size = |s: Option<Size>| s.map_or_else(String::new, |s| s.exact_with_unit(terms.unit));
        match self {
            Self::Name => item.name.clone(),
            Self::Kind => item.kind.said().to_owned(),
            Self::Size => size(item.size),
            Self::Measured => size(item.measured),
            Self::Grain => item.grain.word().to_owned(),
            Self::OneWay => yes(item.one_way),
            Self::Back => item.back.clone(),
            Self::Colours => names(terms.book, &item.front()),
            Self::BackColours => names(terms.book, &item.back_colours),
            Self::Pattern => item.pattern.map_or_else(String::new, |p| p.text(terms.unit)),
            Self::Opaque => yes(item.opaque),
            Self::Gsm => item.gsm.map_or_else(String::new, |g| format!("{g} gsm")),
            Self::BoughtAs => item.bought_as.clone(),
            Self::Caliper => {
                let measured = item.caliper.filter(|c| c.measured);
                measured.map_or_else(String::new, |c| thickness(c).exact(terms.unit))
            }
            Self::OrderNumber => item.order_number.clone(),
            Self::Seller => item.seller.clone(),
            Self::Pack => item.pack_size().to_string(),
            Self::SoldAlone => yes(item.sold_alone),
            Self::Price => item.price.map_or_else(String::new, |p| p.show(&terms.book.settings().currency)),
            Self::Edition => item.edition.clone(),
            Self::Page => item.page.clone(),
            Self::Collection => item.collection.clone(),
            Self::State => item.state.to_string(),
            Self::Low => item.low.to_string(),
            Self::LeadDays => item.lead_days.to_string(),
            Self::OnOrder => String::new(),
            Self::Place => item.place.clone(),
            Self::Note => item.note.clone(),
        }
    }

    /// What stands in it, for showing: with what follows from it, and `-` for nothing.
    pub fn shown(self, seen: &Seen, terms: &Terms<'_>) -> String {
        let item = &seen.item;
        let format = |size: Option<Size>| {
            let size = size.map(|s| (s.upright(), s));
            let named = size.and_then(|(up, _)| terms.formats.all().iter().find(|f| f.size.upright() == up));
            match (size, named) {
                (Some((_, s)), Some(f)) => format!("{}, {}", s.as_made(terms.unit), f.name),
                (Some((_, s)), None) => s.as_made(terms.unit),
                _ => String::new(),
            }
        };
        let text = match self {
            Self::Size => format(item.size),
            Self::Caliper => caliper_words(item, terms.unit),
            Self::OnOrder => seen.on_order.to_string(),
            Self::Pattern if item.pattern.is_none() && item.kind == Kind::PatternedPaper => {
                format!("{}, as its colors suggest", item.drawn_pattern().text(terms.unit))
            }
            Self::OrderNumber if !item.former_numbers.is_empty() => {
                format!("{} (before: {})", item.order_number, item.former_numbers.join(", "))
            }
            _ => self.text(item, terms),
        };
        if text.is_empty() { "-".to_owned() } else { text }
    }

    /// The line with this field as typed.
    ///
    /// # Errors
    /// The sentence that refuses the text.
    pub fn read(self, item: &Item, text: &str, terms: &Terms<'_>) -> Result<Item, String> {
        let mut now = item.clone();
        if text == self.text(item, terms) {
            return Ok(now);
        }
        let text = text.trim();
        let plain = [
            (Self::Name, &mut now.name),
            (Self::Back, &mut now.back),
            (Self::Seller, &mut now.seller),
            (Self::Edition, &mut now.edition),
            (Self::Page, &mut now.page),
            (Self::Collection, &mut now.collection),
            (Self::Place, &mut now.place),
            (Self::Note, &mut now.note),
        ];
        if let Some((_, field)) = plain.into_iter().find(|(f, _)| *f == self) {
            text.clone_into(field);
        } else {
            self.put(&mut now, text, terms)?;
        }
        vet_item(&now).map_err(|e| e.to_string())?;
        Ok(now)
    }

    /// Puts a text into a field that is more than a text.
    fn put(self, now: &mut Item, text: &str, terms: &Terms<'_>) -> Result<(), String> {
        match self {
            Self::Kind => now.kind = kind(text)?,
            Self::Size => now.size = size(text, terms)?,
            Self::Measured => now.measured = size(text, terms)?,
            Self::Grain => {
                now.grain = Grain::from_word(text)
                    .ok_or_else(|| format!("\"{text}\" is not a grain: write long, short or unknown"))?;
            }
            Self::OneWay => now.one_way = yes_or_no(text)?,
            Self::Opaque => now.opaque = yes_or_no(text)?,
            Self::SoldAlone => now.sold_alone = yes_or_no(text)?,
            Self::Pattern => now.pattern = pattern(text, now.kind, terms.unit)?,
            Self::Colours => put_colours(now, &colours(text, terms.book)?)?,
            Self::BackColours => now.back_colours = colours(text, terms.book)?,
            Self::Gsm => put_weight(now, text)?,
            Self::BoughtAs if text.is_empty() => now.bought_as.clear(),
            Self::BoughtAs => put_pounds(now, text)?,
            Self::Caliper => now.caliper = caliper(text, terms.unit)?,
            Self::OrderNumber => now.renumber(text),
            Self::Pack => now.pack = count(text, 1)?,
            Self::Price if text.is_empty() => now.price = None,
            Self::Price => {
                let price = Money::parse(text, &terms.book.settings().currency);
                now.price = Some(price.map_err(|e| e.to_string())?);
            }
            Self::State => {
                now.state = State::from_words(text).ok_or_else(|| {
                    format!(
                        "\"{text}\" is not a state: write current, leaving 2027-08-31, gone or arriving 2027-09-01"
                    )
                })?;
            }
            Self::Low => now.low = count(text, 0)?,
            Self::LeadDays => {
                now.lead_days = text.parse().ok().filter(|d| *d <= 365).ok_or_else(|| {
                    format!("\"{text}\" is not a number of days: write a whole number from 0 to 365")
                })?;
            }
            _ => {}
        }
        Ok(())
    }

    /// The edit that a typed text comes to; `None` where nothing changes.
    ///
    /// # Errors
    /// The sentence that refuses the text, or the change of what is on order.
    pub fn edit(
        self,
        seen: &Seen,
        text: &str,
        terms: &Terms<'_>,
        today: Date,
    ) -> Result<Option<Edit>, String> {
        if self == Self::OnOrder {
            return set_on_order(terms.book, seen.id, (seen.on_order, count(text, 0)?), today);
        }
        let now = self.read(&seen.item, text, terms)?;
        if now == seen.item {
            return Ok(None);
        }
        let value = self.shown(&Seen { item: now.clone(), ..seen.clone() }, terms);
        let (word, name) = (self.word(), &seen.item.name);
        let label = match self {
            Self::Name => format!("named {name} {}", now.name),
            _ if value == "-" => format!("left the {word} of {name} empty"),
            _ => format!("set the {word} of {name} to {value}"),
        };
        Ok(Some(Edit::batch(label, vec![Edit::Item(Row::alter(seen.id, seen.item.clone(), now))])))
    }

    /// How a typed text is read.
    ///
    /// # Errors
    /// The sentence that refuses it.
    pub fn words(self, seen: &Seen, text: &str, terms: &Terms<'_>, today: Date) -> Result<String, String> {
        if self == Self::OnOrder {
            let n = count(text, 0)?;
            set_on_order(terms.book, seen.id, (seen.on_order, n), today)?;
            return Ok(format!("{n} on order, {:+}", i64::from(n) - seen.on_order as i64));
        }
        let now = self.read(&seen.item, text, terms)?;
        let seen = Seen { item: now, ..seen.clone() };
        Ok(match (self, seen.item.gsm) {
            (Self::BoughtAs, Some(gsm)) => format!("{}, {gsm} gsm", self.shown(&seen, terms)),
            (Self::Gsm, Some(gsm)) if !seen.item.bought_as.is_empty() => {
                format!("{gsm} gsm, bought as {}", seen.item.bought_as)
            }
            _ => self.shown(&seen, terms),
        })
    }
}

fn names(book: &Book, swatches: &[SwatchId]) -> String {
    swatches.iter().map(|s| book.swatches().name_of(*s)).collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests;
