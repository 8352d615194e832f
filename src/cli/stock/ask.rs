//! What stands on the command line of `trimside stock`, and in which form the answer is wanted. Knows no book.

use std::path::PathBuf;

/// What is held, used and to be reordered.
#[derive(clap::Args, Debug)]
pub struct StockArgs {
    /// What is asked or done.
    #[command(subcommand)]
    pub what: What,
    /// Answer as JSON
    #[arg(long, global = true, conflicts_with = "csv")]
    pub json: bool,
    /// Answer as CSV
    #[arg(long, global = true)]
    pub csv: bool,
}

/// What can be asked or done.
#[derive(clap::Subcommand, Debug)]
pub enum What {
    /// Everything on the shelf: on hand, booked, free, on order
    List {
        /// Only what these words are found in: name, order number, colour family, place, state, >=8x10
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
    /// Log that the shelf holds another count than the book
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
    },
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
    },
    /// Set its papers aside; this replaces what was set aside before
    Book(ClassDo),
    /// It was taught: what is booked and not logged yet becomes used
    #[command(alias = "taught")]
    Log {
        /// Which, and whether only to show it.
        #[command(flatten)]
        class: ClassDo,
        /// Papers that are booked and not logged as cut go back to the shelf instead
        #[arg(long)]
        back: bool,
        /// Kept for older scripts: what is in the log is never logged twice
        #[arg(long, hide = true)]
        again: bool,
    },
    /// Say how many are done at a stage: prepared, packed, assembled, handed out
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
    /// It is not held: what is set aside is free again
    Cancel(ClassDo),
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
