//! Bytes to domain values.
