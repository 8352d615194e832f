//! Undo and redo as new edits.
