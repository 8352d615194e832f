//! Where header, body, status and keys stand on the screen.

use ratatui::layout::Rect;

/// The parts of the screen.
#[derive(Clone, Copy, Debug)]
pub struct Parts {
    /// Name, panes, project, saving mark.
    pub header: Rect,
    /// The pane.
    pub body: Rect,
    /// What happened last.
    pub status: Rect,
    /// Keys.
    pub hints: Rect,
}

/// Divides the screen.
pub fn parts(screen: Rect) -> Parts {
    let row = |y: u16, height: u16| Rect::new(screen.x, screen.y + y, screen.width, height);
    Parts {
        header: row(0, 2.min(screen.height)),
        body: row(2, screen.height.saturating_sub(4)),
        status: row(screen.height.saturating_sub(2), 1),
        hints: row(screen.height.saturating_sub(1), 1),
    }
}
