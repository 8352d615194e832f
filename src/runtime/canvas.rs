//! What a frame costs in bytes: a backend that writes into memory and writes nothing that changes nothing.
//!
//! Three habits of the plain backend do harm here and are replaced:
//! it asks the terminal where the cursor is (an answer the input thread would swallow), it starts a helper program to
//! learn the size of a dead terminal, and it sends attribute resets and cursor commands for frames in which nothing
//! changed. It must not know when a frame begins or ends; that is the guard's business.

use crossterm::terminal::Clear;
use ratatui::backend::{Backend, ClearType, CrosstermBackend, WindowSize};
use ratatui::buffer::Cell;
use ratatui::layout::{Position, Size};
use std::cell::RefCell;
use std::fs::File;
use std::io::{self, Write};
use std::rc::Rc;
use std::sync::Arc;

/// Widest screen that is drawn, in columns. A terminal may claim any size up to 65 535; a frame of such a size would
/// take gigabytes.
pub const WIDEST: u16 = 1_000;
/// Tallest screen that is drawn, in rows.
pub const TALLEST: u16 = 500;

/// Cuts a claimed size down to what is drawn.
pub fn sane(width: u16, height: u16) -> (u16, u16) {
    (width.min(WIDEST), height.min(TALLEST))
}

/// Bytes of a frame on their way out; clones share one store. Flushing does nothing: the guard sends whole frames.
#[derive(Clone, Default)]
pub struct Paint(Rc<RefCell<Vec<u8>>>);

impl Paint {
    /// Takes what was painted since the last call.
    pub fn take(&self) -> Vec<u8> {
        std::mem::take(&mut *self.0.borrow_mut())
    }
}

impl Write for Paint {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.borrow_mut().extend_from_slice(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// Where the terminal's cursor is, as far as this side knows.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Cursor {
    /// `None` after anything that moved it.
    at: Option<Position>,
    /// `None` before the first word on it.
    shown: Option<bool>,
}

/// The backend under the frame.
pub struct Canvas {
    inner: CrosstermBackend<Paint>,
    tty: Arc<File>,
    cursor: Cursor,
}

impl Canvas {
    /// A canvas that paints into `paint` and asks `tty` for its size.
    pub fn new(paint: Paint, tty: Arc<File>) -> Self {
        Self { inner: CrosstermBackend::new(paint), tty, cursor: Cursor { at: None, shown: None } }
    }

    /// Forgets what it knew of the cursor: somebody else had the screen.
    pub fn forget(&mut self) {
        self.cursor = Cursor { at: None, shown: None };
    }
}

impl Backend for Canvas {
    type Error = io::Error;

    fn draw<'a, I>(&mut self, content: I) -> io::Result<()>
    where
        I: Iterator<Item = (u16, u16, &'a Cell)>,
    {
        let mut content = content.peekable();
        if content.peek().is_none() {
            return Ok(());
        }
        self.cursor.at = None;
        self.inner.draw(content)
    }

    fn hide_cursor(&mut self) -> io::Result<()> {
        if self.cursor.shown == Some(false) {
            return Ok(());
        }
        self.cursor.shown = Some(false);
        self.inner.hide_cursor()
    }

    fn show_cursor(&mut self) -> io::Result<()> {
        if self.cursor.shown == Some(true) {
            return Ok(());
        }
        self.cursor.shown = Some(true);
        self.inner.show_cursor()
    }

    fn get_cursor_position(&mut self) -> io::Result<Position> {
        Ok(self.cursor.at.unwrap_or_default())
    }

    fn set_cursor_position<P: Into<Position>>(&mut self, position: P) -> io::Result<()> {
        let position = position.into();
        if self.cursor.at == Some(position) {
            return Ok(());
        }
        self.cursor.at = Some(position);
        self.inner.set_cursor_position(position)
    }

    fn clear(&mut self) -> io::Result<()> {
        self.clear_region(ClearType::All)
    }

    fn clear_region(&mut self, clear_type: ClearType) -> io::Result<()> {
        if clear_type == ClearType::All {
            // Attributes first: a terminal may fill the cleared cells with the colour in force.
            crossterm::queue!(
                self.inner,
                crossterm::style::ResetColor,
                Clear(crossterm::terminal::ClearType::All)
            )?;
            return Ok(());
        }
        self.inner.clear_region(clear_type)
    }

    fn append_lines(&mut self, lines: u16) -> io::Result<()> {
        self.cursor.at = None;
        self.inner.append_lines(lines)
    }

    fn size(&self) -> io::Result<Size> {
        let claimed = rustix::termios::tcgetwinsize(&*self.tty)?;
        let (width, height) = sane(claimed.ws_col, claimed.ws_row);
        Ok(Size { width, height })
    }

    fn window_size(&mut self) -> io::Result<WindowSize> {
        let claimed = rustix::termios::tcgetwinsize(&*self.tty)?;
        let pixels = Size { width: claimed.ws_xpixel, height: claimed.ws_ypixel };
        Ok(WindowSize { columns_rows: self.size()?, pixels })
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ratatui::Terminal;
    use ratatui::TerminalOptions;
    use ratatui::Viewport;
    use ratatui::layout::Rect;
    use ratatui::widgets::Paragraph;

    /// A terminal of fixed size, so that no real one is asked.
    fn bench() -> (Terminal<Canvas>, Paint) {
        let paint = Paint::default();
        let nowhere = Arc::new(File::open("/dev/null").unwrap());
        let options = TerminalOptions { viewport: Viewport::Fixed(Rect::new(0, 0, 20, 4)) };
        (Terminal::with_options(Canvas::new(paint.clone(), nowhere), options).unwrap(), paint)
    }

    #[test]
    fn a_frame_in_which_nothing_changed_is_empty() {
        let (mut terminal, paint) = bench();
        terminal.draw(|frame| frame.render_widget(Paragraph::new("offcut"), frame.area())).unwrap();
        assert!(String::from_utf8(paint.take()).unwrap().contains("offcut"));
        terminal.draw(|frame| frame.render_widget(Paragraph::new("offcut"), frame.area())).unwrap();
        assert_eq!(paint.take(), b"");
        terminal.draw(|frame| frame.render_widget(Paragraph::new("offcuts"), frame.area())).unwrap();
        assert!(!paint.take().is_empty());
    }

    #[test]
    fn a_cursor_is_placed_once_and_again_after_cells_were_drawn() {
        let (mut terminal, paint) = bench();
        let place = |frame: &mut ratatui::Frame<'_>| frame.set_cursor_position((3, 1));
        terminal.draw(place).unwrap();
        // ECMA-48 CUP counts from 1: row 2, column 4.
        assert!(String::from_utf8(paint.take()).unwrap().contains("\x1b[2;4H"));
        terminal.draw(place).unwrap();
        assert_eq!(paint.take(), b"");
        let with_text = |frame: &mut ratatui::Frame<'_>| {
            frame.render_widget(Paragraph::new("fold"), frame.area());
            frame.set_cursor_position((3, 1));
        };
        terminal.draw(with_text).unwrap();
        assert!(String::from_utf8(paint.take()).unwrap().ends_with("\x1b[2;4H"));
    }

    #[test]
    fn absurd_sizes_are_cut_down() {
        assert_eq!(sane(u16::MAX, u16::MAX), (WIDEST, TALLEST));
        assert_eq!(sane(80, 24), (80, 24));
        assert_eq!(sane(0, 0), (0, 0));
    }
}
