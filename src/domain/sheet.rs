//! Sheet formats, measured size and usable area.
