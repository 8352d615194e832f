//! What rows and texts of Stock are for.

/// A field of a pack.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PackField {
    /// Its name.
    Name,
    /// The seller's number for it.
    Number,
    /// Who sells it.
    Seller,
    /// Price of the whole pack.
    Price,
    /// Its own season: when it leaves or arrives.
    State,
    /// What one pack brings.
    Contents,
    /// Anything else.
    Note,
    /// Not a field: the pack is taken off the list.
    Remove,
}
