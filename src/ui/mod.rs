//! Draws `&Model` with ratatui. Changes nothing.
