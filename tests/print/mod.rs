//! Printed pages measured on paper's stand-in: each file is rendered at 300 dpi by an independent program and the
//! distances and colours are read off the picture; drawings are read by an independent XML library.
//!
//! Where the renderer is not installed the tests say so and pass.

mod render;
mod ruler;

use trimside::domain::pages::frame::{CLEAR, Paper, Setup};
use trimside::domain::pages::page::Page;

/// Every choice of paper, nothing else chosen.
pub fn setups() -> [Setup; 2] {
    [Paper::Letter, Paper::A4].map(|paper| Setup { paper, ..Setup::default() })
}

/// Fails where anything on a page lies within 6 mm of an edge.
pub fn assert_clear(pages: &[Page]) {
    for (n, page) in pages.iter().enumerate() {
        let bounds = page.bounds().expect("an empty page");
        assert!(
            page.area().inset(CLEAR).holds(&bounds),
            "page {} ({}): {bounds:?} is not 6 mm clear",
            n + 1,
            page.title
        );
    }
}
