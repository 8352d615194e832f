//! Draws `&Model` with ratatui. Changes nothing, and knows the model and the domain only.

pub mod chips;
pub mod colours;
pub mod glyphs;
pub mod ground;
pub mod hits;
pub mod layout;
pub mod look;
pub mod overlay;
pub mod painting;
pub mod panes;
pub mod surface;
pub mod text;
pub mod theme;
pub mod view;
pub mod widgets;
