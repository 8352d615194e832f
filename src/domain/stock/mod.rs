//! What is held, booked, used, left over and to be ordered: the records, and the answers drawn from them.
//!
//! | file | decides |
//! |---|---|
//! | `ids` | the numbers that records are known by |
//! | `item` | what a shelf line is: paper, ink, envelope, and its state over the years |
//! | `log` | a line of the log, the only place where a count lives |
//! | `logged` | a line of the log in full: what was left after it, what it cost |
//! | `offcut`, `order`, `swatch` | what is kept in the bin, awaited, and what colour a paper has |
//! | `kept_trio` | three colours that the person keeps, with a note |
//! | `import` | what a list from outside would do to the shelf |
//! | `reorder`, `assort`, `shortage` | what to order, in which packs, by when |
//! | `orders` | what is on order: by seller and day, in parts, at which price |
//! | `instead` | what can take an item's place: the same colour, one that stands in, one that is near |
//! | `find` | one line of words |
//! | `field` | the fields of a line one by one: shown, read, changed |
//! | `cost_told` | those costs in words, for screen, plain mode and command line alike |
//! | `lot`, `cost` | first in, first out; what a card and a seat cost |
//! | `outlook` | a class against the shelf in one look |
//! | `needs`, `class` | what a project needs, sets aside and uses; kits |
//! | `held_class`, `takings` | who came, what is left over and what sold; results of a class and a year |
//! | `class_change`, `calendar` | a class changed by hand; what the coming days ask for |
//! | `designs` | which cards a class teaches |
//! | `shared_shelf` | what others take of the same papers |
//! | `work` | what was done for a project so far, as the log tells it |
//! | `shelf`, `refresh` | count day, orders, the yearly change of the range |
//! | `exchange` | what leaves, exchanged in the cards of open projects |
//! | `booked`, `cut` | what a project has set aside; what was cut, as lines of the log |
//! | `ways` | what can be done about a shortage, each way as one edit |
//! | `pace` | use a month, days left, the low mark that follows |
//! | `summary` | on hand, booked, free, on order for every item |

pub mod assort;
pub mod booked;
pub mod calendar;
pub mod class;
pub mod class_change;
pub mod cost;
pub mod cost_told;
pub mod cut;
pub mod designs;
pub mod exchange;
pub mod field;
pub mod find;
pub mod held_class;
pub mod ids;
pub mod import;
pub mod instead;
pub mod item;
pub mod kept_trio;
pub mod log;
pub mod logged;
pub mod lot;
pub mod needs;
pub mod offcut;
pub mod order;
pub mod orders;
pub mod outlook;
pub mod pace;
pub mod refresh;
pub mod reorder;
pub mod shared_shelf;
pub mod shelf;
pub mod shortage;
pub mod summary;
pub mod swatch;
pub mod takings;
pub mod ways;
pub mod work;

pub use ids::{AssortmentId, BookingId, FormatId, ItemId, OffcutId, OrderId, ProjectId, SwatchId, TrioId};
pub use item::{Caliper, Item, Kind, State};
pub use kept_trio::KeptTrio;
pub use log::{LogLine, MadePiece, NewLine, ProjectWork, Reason};
pub use offcut::Offcut;
pub use order::{Assortment, Booking, Order};
pub use swatch::NamedColour;
