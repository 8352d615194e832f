//! What stands on the command line of `trimside stock`, and in which form the answer is wanted. Knows no book.

use super::figures::Figures;
use std::path::PathBuf;

/// What is on hand, used and due for reorder.
#[derive(clap::Args, Debug)]
pub struct StockArgs {
    /// What is asked or done.
    #[command(subcommand)]
    pub what: StockWhat,
    /// Answer as JSON
    #[arg(long, global = true, conflicts_with = "csv")]
    pub json: bool,
    /// Answer as CSV
    #[arg(long, global = true)]
    pub csv: bool,
}

/// What can be asked or done.
#[derive(clap::Subcommand, Debug)]
pub enum StockWhat {
    /// Everything on the shelf: on hand, booked, free, on order
    List {
        /// Only lines with these words in them: name, order number, color family, place, state, >=8x10
        #[arg(value_name = "WORDS")]
        words: Vec<String>,
    },
    /// Log that some were used
    Use(Count),
    /// Log that some came in
    Receive {
        /// What, and how many.
        #[command(flatten)]
        count: Count,
        /// What the whole lot cost
        #[arg(long, value_name = "PRICE", allow_hyphen_values = true)]
        price: Option<String>,
        /// The maker's mark on the lot
        #[arg(long, value_name = "MARK")]
        lot: Option<String>,
    },
    /// Log a count of the shelf that differs from the book
    Adjust {
        /// Name or order number
        #[arg(value_name = "ITEM")]
        name: String,
        /// The count on the shelf (12), or the difference with its sign (+2, -3)
        #[arg(value_name = "N", allow_hyphen_values = true)]
        count: String,
        /// What for
        #[arg(long, default_value = "", hide_default_value = true)]
        job: String,
    },
    /// The log, oldest line first
    Log {
        /// Only the lines of this item
        #[arg(value_name = "ITEM")]
        name: Option<String>,
    },
    /// What to order, by seller
    Reorder,
    /// Note a line of the reorder list as ordered, or all that the list has of a seller
    Order(OrderAsk),
    /// What is on order, by seller and day
    Orders,
    /// Some of what is on order has come; the rest stays back-ordered
    Arrived {
        /// Name or order number, of a line or of a pack of several
        #[arg(value_name = "ITEM")]
        name: String,
        /// How many came, in single sheets or things
        #[arg(value_name = "N", allow_hyphen_values = true)]
        count: String,
        /// What all that came cost
        #[arg(long, value_name = "PRICE", allow_hyphen_values = true)]
        price: Option<String>,
        /// The day it came, where that is not today
        #[arg(long, value_name = "DATE", allow_hyphen_values = true)]
        on: Option<String>,
        /// The maker's mark on the lot
        #[arg(long, value_name = "MARK")]
        lot: Option<String>,
        /// The price of a pack from now on, in the same step
        #[arg(long, value_name = "PRICE")]
        pack_price: Option<String>,
        /// Only show what it would do
        #[arg(long)]
        dry_run: bool,
    },
    /// Change what is on order: how many are still to come, or when
    Awaited(AwaitedAsk),
    /// Take in a list of items: all of it or, where a line is refused, nothing
    Import {
        /// CSV with a first line of column names: name, kind and any of width, height, on_hand, pack, low,
        /// order_number, price, seller, edition, page, state, grain, gsm, pattern, place, collection, note
        #[arg(value_name = "FILE.csv")]
        file: PathBuf,
        /// Only show what it would do
        #[arg(long)]
        dry_run: bool,
    },
    /// The shelf as CSV that import reads
    Export,
    /// Classes and batches: what they need, book, use and cost
    Class {
        /// What is asked or done.
        #[command(subcommand)]
        what: ClassWhat,
    },
    /// A count day: every difference becomes a line of the log, all as one step
    Count {
        /// CSV with the columns name (or order number) and count; a line without a count was not counted
        #[arg(value_name = "FILE.csv")]
        file: PathBuf,
        /// Only show what it would do
        #[arg(long)]
        dry_run: bool,
    },
    /// The range of the new year: what is not on the list leaves, what is new arrives
    Refresh {
        /// CSV as for import; counts in it are left alone
        #[arg(value_name = "FILE.csv")]
        file: PathBuf,
        /// Whose list it is; without it, the seller that the list or most of its items name
        #[arg(long, value_name = "NAME")]
        seller: Option<String>,
        /// Last day of what leaves
        #[arg(long, value_name = "DATE")]
        last: String,
        /// First day of what arrives
        #[arg(long, value_name = "DATE")]
        first: String,
        /// Only show what it would do
        #[arg(long)]
        dry_run: bool,
        /// Cards of open projects take what takes a leaving line's place; what is set aside for them stays
        #[arg(long)]
        exchange: bool,
    },
}

/// What changes about what is on order.
#[derive(clap::Args, Debug)]
pub struct AwaitedAsk {
    /// Name or order number, of a line or of a pack of several
    #[arg(value_name = "ITEM")]
    pub name: String,
    /// How many are still to come; 0 takes it off the orders
    #[arg(long, value_name = "N")]
    pub count: Option<u32>,
    /// The day it is due, or none
    #[arg(long, value_name = "DATE", allow_hyphen_values = true)]
    pub due: Option<String>,
    /// What all that was ordered is to cost, or none
    #[arg(long, value_name = "PRICE", allow_hyphen_values = true)]
    pub price: Option<String>,
    /// Whom it was ordered from
    #[arg(long, value_name = "NAME")]
    pub seller: Option<String>,
    /// Only show what it would do
    #[arg(long)]
    pub dry_run: bool,
}

/// What is ordered.
#[derive(clap::Args, Debug)]
pub struct OrderAsk {
    /// Name or order number, of a line or of a pack of several
    #[arg(value_name = "ITEM")]
    pub name: Option<String>,
    /// How many packs; without it as many as the reorder list says
    #[arg(long, value_name = "N", requires = "name")]
    pub packs: Option<u32>,
    /// All that the reorder list has of this seller
    #[arg(long, value_name = "NAME", conflicts_with = "name")]
    pub seller: Option<String>,
    /// All that the reorder list has
    #[arg(long, conflicts_with_all = ["name", "seller"])]
    pub all: bool,
    /// The day it is due, where that does not follow from the line's days
    #[arg(long, value_name = "DATE", allow_hyphen_values = true)]
    pub due: Option<String>,
    /// Only show what it would do
    #[arg(long)]
    pub dry_run: bool,
}

/// What can be asked or done about classes.
#[derive(clap::Subcommand, Debug)]
pub enum ClassWhat {
    /// All of them: day, seats, booked, short
    List,
    /// One of them: needs, shortage, kit of a seat, cost
    Show {
        /// Its name
        #[arg(value_name = "PROJECT")]
        name: String,
        /// Work out the price of a seat for this margin, in percent of the price
        #[arg(long, value_name = "PERCENT")]
        margin: Option<String>,
    },
    /// Make one: empty, with the cards that are named, or like another
    New(Box<ClassNew>),
    /// Change it: figures, another paper, a design less, a seat more; what is booked follows by the difference
    Edit(Box<ClassEdit>),
    /// Set its papers aside; where some are already, only the difference
    Book(ClassDo),
    /// It was taught: what is booked and not logged yet becomes used, and kits left over go to the shelf of kits
    #[command(alias = "log")]
    Taught {
        /// Which, and whether only to show it.
        #[command(flatten)]
        class: ClassDo,
        /// How many came; may be given later too
        #[arg(long, value_name = "N")]
        came: Option<String>,
        /// How many paid, where that is another figure
        #[arg(long, value_name = "N")]
        paid: Option<String>,
        /// Papers that are booked and not logged as cut go back to the shelf instead
        #[arg(long)]
        back: bool,
        /// Kept for older scripts: what is in the log is never logged twice
        #[arg(long, hide = true)]
        again: bool,
    },
    /// Say how many are done at a stage: shaped, stamped, scored, prepared, packed, assembled, handed out
    Done {
        /// Its name
        #[arg(value_name = "PROJECT")]
        name: String,
        /// The stage
        #[arg(value_name = "STAGE")]
        stage: String,
        /// How many are done by now
        #[arg(value_name = "N")]
        count: u32,
        /// Only show what it would do
        #[arg(long)]
        dry_run: bool,
    },
    /// Something is short: what can be done about it, and what that costs
    Ways(ClassWaysAsk),
    /// It is not held: what is set aside is free again
    Cancel(ClassDo),
    /// Say what was sold after it: a line of the shelf, kits left over, or anything by name
    Sold(ClassSold),
    /// Kits that classes left over; with a class, use some of its
    Kits {
        /// The class whose kits are used
        #[arg(value_name = "PROJECT")]
        name: Option<String>,
        /// How many of them are used for something else
        #[arg(long, value_name = "N", requires = "name")]
        used: Option<String>,
        /// What for
        #[arg(long = "for", value_name = "TEXT", default_value = "", hide_default_value = true)]
        what_for: String,
        /// Only show what it would do
        #[arg(long)]
        dry_run: bool,
    },
    /// Names of those who come: kept in the book alone, on no page and in no other list
    Names {
        /// Its name
        #[arg(value_name = "PROJECT")]
        name: String,
        /// A name to keep; may be given again
        #[arg(long, value_name = "NAME")]
        add: Vec<String>,
        /// A name to let go; may be given again
        #[arg(long, value_name = "NAME")]
        remove: Vec<String>,
        /// Only show what it would do
        #[arg(long)]
        dry_run: bool,
    },
    /// What the coming days ask for: classes, kits, cuts, orders that come and orders to place
    Calendar {
        /// How many days ahead
        #[arg(long, value_name = "N", default_value_t = crate::domain::stock::calendar::DAYS)]
        days: u32,
        /// The first day; today where none is given
        #[arg(long, value_name = "DATE")]
        from: Option<String>,
    },
    /// The classes of a year: who came, takings, cost, result, what sold by item
    Year {
        /// Which year; the last one in which a class was held where none is given
        #[arg(value_name = "YEAR")]
        year: Option<i16>,
    },
}

/// A class to be made.
#[derive(clap::Args, Debug)]
pub struct ClassNew {
    /// Its name
    #[arg(value_name = "NAME")]
    pub name: String,
    /// Whose cards, pieces, supplies and figures it has
    #[arg(long, value_name = "PROJECT", conflicts_with = "designs")]
    pub like: Option<String>,
    /// Cards or whole projects that are taught, commas between
    #[arg(long, value_name = "NAMES")]
    pub designs: Option<String>,
    /// Its figures.
    #[command(flatten)]
    pub figures: Figures,
}

/// What is changed about a class.
#[derive(clap::Args, Debug)]
pub struct ClassEdit {
    /// Its name
    #[arg(value_name = "PROJECT")]
    pub class: String,
    /// Its new name
    #[arg(long, value_name = "NEW")]
    pub name: Option<String>,
    /// Another paper or counted thing for this class only: the one so far, =, the one instead
    #[arg(long, value_name = "OLD=NEW")]
    pub instead: Vec<String>,
    /// A card that is not taught after all
    #[arg(long, value_name = "CARD")]
    pub drop: Vec<String>,
    /// Cards or whole projects that are taught too, commas between
    #[arg(long, value_name = "NAMES")]
    pub add: Option<String>,
    /// Seats more (+1) or fewer (-2)
    #[arg(long, value_name = "N", allow_hyphen_values = true, conflicts_with = "seats")]
    pub more_seats: Option<String>,
    /// Its figures.
    #[command(flatten)]
    pub figures: Figures,
    /// Only show what it would do
    #[arg(long)]
    pub dry_run: bool,
}

/// What was sold after a class.
#[derive(clap::Args, Debug)]
pub struct ClassSold {
    /// The class
    #[arg(value_name = "PROJECT")]
    pub class: String,
    /// What: a line of the shelf, kit, or anything by name
    #[arg(value_name = "WHAT", required_unless_present = "drop")]
    pub what: Option<String>,
    /// How many
    #[arg(value_name = "N", required_unless_present = "drop")]
    pub count: Option<String>,
    /// What all of them brought
    #[arg(value_name = "PRICE", required_unless_present = "drop")]
    pub takings: Option<String>,
    /// It was ordered for somebody: the shelf is left alone
    #[arg(long)]
    pub ordered: bool,
    /// Take this line of what was sold out again, counted from 1
    #[arg(long, value_name = "N", conflicts_with_all = ["what", "ordered"])]
    pub drop: Option<usize>,
    /// Only show what it would do
    #[arg(long)]
    pub dry_run: bool,
}

/// What is asked about a class that runs short.
#[derive(clap::Args, Debug)]
pub struct ClassWaysAsk {
    /// Its name
    #[arg(value_name = "PROJECT")]
    pub name: String,
    /// Only what can be done about this line of the shelf
    #[arg(long, value_name = "ITEM")]
    pub item: Option<String>,
    /// Do what has this number, as one step
    #[arg(long, value_name = "N")]
    pub take: Option<usize>,
    /// Only show what it would do
    #[arg(long, requires = "take")]
    pub dry_run: bool,
}

/// A class and whether only to show what would be done.
#[derive(clap::Args, Debug)]
pub struct ClassDo {
    /// Its name
    #[arg(value_name = "PROJECT")]
    pub name: String,
    /// Only show what it would do
    #[arg(long)]
    pub dry_run: bool,
}

/// An item and how many of it.
#[derive(clap::Args, Debug)]
pub struct Count {
    /// Name or order number
    #[arg(value_name = "ITEM")]
    pub name: String,
    /// How many
    #[arg(value_name = "N", allow_hyphen_values = true)]
    pub count: String,
    /// What for
    #[arg(long, default_value = "", hide_default_value = true)]
    pub job: String,
}

/// How an answer is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    Text,
    Json,
    Csv,
}
