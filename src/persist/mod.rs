//! RON files in the user data folder: snapshot, journal, lock, schema versions.
