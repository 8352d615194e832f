//! RON files in the user data folder: snapshot, journal, lock, schema versions. It decides how the book is saved so
//! that nothing acknowledged is lost; what the book means is the domain's business.

pub mod choices;
pub mod clock;
pub mod deliver;
pub mod demo;
pub mod disk;
mod error;
pub mod files;
pub mod fonts;
mod frame;
pub mod given;
pub mod kept;
pub mod later;
mod load;
mod locate;
pub mod made;
mod mark;
pub mod memory;
pub mod own_theme;
pub mod parcel;
pub mod paths;
pub mod queue;
mod rebase;
mod resend;
pub mod schema;
pub mod scratch;
mod store;
pub mod turn;
mod writing;

pub use error::StoreError;
pub use frame::checksum as frame_sum;
pub use resend::{FreshBook, Kept};
pub use store::{ChangeError, Saved, Store};
