//! The numbers that records are known by: small, never used twice, meaningless to a person.

/// A number that names a record of one kind.
pub trait RecordKey: Copy + Ord + std::fmt::Debug {
    /// The key with this number.
    fn from_number(number: u32) -> Self;
    /// Its number.
    fn number(self) -> u32;
}

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident),+ $(,)?) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub u32);

        impl RecordKey for $name {
            fn from_number(number: u32) -> Self {
                Self(number)
            }
            fn number(self) -> u32 {
                self.0
            }
        }
    )+};
}

ids! {
    /// A line of the shelf: one paper in one size, one ink pad, one kind of envelope.
    ItemId,
    /// A colour of the library.
    SwatchId,
    /// A project or a class.
    ProjectId,
    /// A kind of offcut in the bin.
    OffcutId,
    /// Sheets set aside for a project.
    BookingId,
    /// Something ordered that has not all arrived.
    OrderId,
    /// A pack that brings several items under one order number.
    AssortmentId,
    /// A sheet format of the person's own.
    FormatId,
    /// Three colours that are kept.
    TrioId,
}
