//! A project: cards made in a batch, what it needs.
