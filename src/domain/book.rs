//! What is saved: items, swatches, projects, log.
