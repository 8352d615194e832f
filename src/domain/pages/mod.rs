//! The page model that every printed form is made from.
