//! Colour: spaces, differences, order, harmony, trios, vision, legibility.
