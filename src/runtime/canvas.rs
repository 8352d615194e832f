//! What a frame costs in bytes: a backend that writes into memory and writes nothing that changes nothing.
//!
//! The plain backend has habits that do harm here: it asks the terminal where the cursor is (an answer that would
//! arrive among the keys), it starts a helper program to learn the size of a dead terminal, it sends attribute resets
//! and cursor commands for frames in which nothing changed, it obeys `NO_COLOR` with an empty command that cancels bold
//! and reverse, and it sends the sixteen colours in a form that old terminals read as blinking. So frames are written
//! here, in the control sequences of ECMA-48. It must not know when a frame begins or ends; that is the guard's
//! business.

use crate::system::screen;
use ratatui::backend::{Backend, ClearType, WindowSize};
use ratatui::buffer::Cell;
use ratatui::layout::{Position, Size};
use ratatui::style::{Color, Modifier};
use std::cell::RefCell;
use std::fmt::Write as _;
use std::io;
use std::rc::Rc;

/// Widest screen that is drawn, in columns. A terminal may claim any size up to 65 535; a frame of such a size would
/// take gigabytes.
pub const WIDEST: u16 = 1_000;
/// Tallest screen that is drawn, in rows.
pub const TALLEST: u16 = 500;

/// Cuts a claimed size down to what is drawn.
pub fn sane(width: u16, height: u16) -> (u16, u16) {
    (width.min(WIDEST), height.min(TALLEST))
}

/// Text of a frame on its way out; clones share one store.
#[derive(Clone, Default)]
pub struct FrameStore(Rc<RefCell<String>>);

impl FrameStore {
    /// Takes what was painted since the last call.
    pub fn take(&self) -> String {
        std::mem::take(&mut *self.0.borrow_mut())
    }

    fn put(&self, text: &str) {
        self.0.borrow_mut().push_str(text);
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
pub struct FrameBackend {
    paint: FrameStore,
    cursor: Cursor,
}

impl FrameBackend {
    /// A canvas that paints into `paint`, as large as the process's terminal.
    pub fn new(paint: FrameStore) -> Self {
        Self { paint, cursor: Cursor { at: None, shown: None } }
    }

    /// Forgets what it knew of the cursor: somebody else had the screen.
    pub fn forget(&mut self) {
        self.cursor = Cursor { at: None, shown: None };
    }

    fn show(&mut self, shown: bool) {
        if self.cursor.shown != Some(shown) {
            self.cursor.shown = Some(shown);
            self.paint.put(if shown { "\x1b[?25h" } else { "\x1b[?25l" });
        }
    }
}

impl Backend for FrameBackend {
    type Error = io::Error;

    fn draw<'a, I>(&mut self, content: I) -> io::Result<()>
    where
        I: Iterator<Item = (u16, u16, &'a Cell)>,
    {
        let mut text = self.paint.0.borrow_mut();
        let mut look = Look::PLAIN;
        let mut expected = None;
        for (x, y, cell) in content {
            if expected != Some((x, y)) {
                // Places count from 1.
                let _ = write!(text, "\x1b[{};{}H", y + 1, x + 1);
            }
            expected = Some((x + 1, y));
            let wanted = Look::of(cell);
            if wanted != look {
                wanted.write(&mut text);
                look = wanted;
            }
            text.push_str(safe(cell.symbol()));
        }
        if look != Look::PLAIN {
            Look::PLAIN.write(&mut text);
        }
        if expected.is_some() {
            self.cursor.at = None;
        }
        Ok(())
    }

    fn hide_cursor(&mut self) -> io::Result<()> {
        self.show(false);
        Ok(())
    }

    fn show_cursor(&mut self) -> io::Result<()> {
        self.show(true);
        Ok(())
    }

    fn get_cursor_position(&mut self) -> io::Result<Position> {
        Ok(self.cursor.at.unwrap_or_default())
    }

    fn set_cursor_position<P: Into<Position>>(&mut self, position: P) -> io::Result<()> {
        let position = position.into();
        if self.cursor.at != Some(position) {
            self.cursor.at = Some(position);
            self.paint.put(&format!("\x1b[{};{}H", position.y + 1, position.x + 1));
        }
        Ok(())
    }

    fn clear(&mut self) -> io::Result<()> {
        self.clear_region(ClearType::All)
    }

    fn clear_region(&mut self, clear_type: ClearType) -> io::Result<()> {
        // Attributes first: a terminal may fill the cleared cells with the colour in force.
        self.paint.put(match clear_type {
            ClearType::All => "\x1b[0m\x1b[2J",
            ClearType::AfterCursor => "\x1b[0m\x1b[J",
            ClearType::BeforeCursor => "\x1b[0m\x1b[1J",
            ClearType::CurrentLine => "\x1b[0m\x1b[2K",
            ClearType::UntilNewLine => "\x1b[0m\x1b[K",
        });
        Ok(())
    }

    fn size(&self) -> io::Result<Size> {
        let claimed = screen::size()?;
        let (width, height) = sane(claimed.columns, claimed.rows);
        Ok(Size { width, height })
    }

    fn window_size(&mut self) -> io::Result<WindowSize> {
        let claimed = screen::size()?;
        let pixels = Size { width: claimed.width, height: claimed.height };
        Ok(WindowSize { columns_rows: self.size()?, pixels })
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// The last line of defence: whatever reached a cell, no control character reaches the terminal.
fn safe(symbol: &str) -> &str {
    if symbol.chars().any(char::is_control) { "\u{fffd}" } else { symbol }
}

/// How a cell looks.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Look {
    ink: Color,
    ground: Color,
    modifier: Modifier,
}

impl Look {
    const PLAIN: Self = Self { ink: Color::Reset, ground: Color::Reset, modifier: Modifier::empty() };

    fn of(cell: &Cell) -> Self {
        // Nothing blinks on this bench.
        let modifier = cell.modifier.difference(Modifier::SLOW_BLINK.union(Modifier::RAPID_BLINK));
        Self { ink: cell.fg, ground: cell.bg, modifier }
    }

    /// Select graphic rendition (ECMA-48, 8.3.117): from nothing, so that it never depends on what was before.
    fn write(self, out: &mut String) {
        out.push_str("\x1b[0");
        let attributes = [
            (Modifier::BOLD, ";1"),
            (Modifier::DIM, ";2"),
            (Modifier::ITALIC, ";3"),
            (Modifier::UNDERLINED, ";4"),
            (Modifier::REVERSED, ";7"),
            (Modifier::HIDDEN, ";8"),
            (Modifier::CROSSED_OUT, ";9"),
        ];
        for (attribute, code) in attributes {
            if self.modifier.contains(attribute) {
                out.push_str(code);
            }
        }
        colour(self.ink, 30, out);
        colour(self.ground, 40, out);
        out.push('m');
    }
}

/// A colour as parameters; `base` is 30 for ink and 40 for ground. The bright eight lie 60 higher (as xterm has them).
fn colour(colour: Color, base: u8, out: &mut String) {
    let number = match colour {
        Color::Reset => return,
        Color::Black => 0,
        Color::Red => 1,
        Color::Green => 2,
        Color::Yellow => 3,
        Color::Blue => 4,
        Color::Magenta => 5,
        Color::Cyan => 6,
        Color::Gray => 7,
        Color::DarkGray => 8,
        Color::LightRed => 9,
        Color::LightGreen => 10,
        Color::LightYellow => 11,
        Color::LightBlue => 12,
        Color::LightMagenta => 13,
        Color::LightCyan => 14,
        Color::White => 15,
        Color::Indexed(number) => number,
        Color::Rgb(red, green, blue) => {
            let _ = write!(out, ";{};2;{red};{green};{blue}", base + 8);
            return;
        }
    };
    let _ = match number {
        0..8 => write!(out, ";{}", base + number),
        8..16 => write!(out, ";{}", base + 60 + number - 8),
        _ => write!(out, ";{};5;{number}", base + 8),
    };
}

#[cfg(test)]
mod tests {
    use super::*;
    use ratatui::Terminal;
    use ratatui::TerminalOptions;
    use ratatui::Viewport;
    use ratatui::layout::Rect;
    use ratatui::style::Style;
    use ratatui::text::Span;
    use ratatui::widgets::Paragraph;

    /// A terminal of fixed size, so that no real one is asked.
    fn bench() -> (Terminal<FrameBackend>, FrameStore) {
        let paint = FrameStore::default();
        let options = TerminalOptions { viewport: Viewport::Fixed(Rect::new(0, 0, 20, 4)) };
        (Terminal::with_options(FrameBackend::new(paint.clone()), options).unwrap(), paint)
    }

    #[test]
    fn a_frame_in_which_nothing_changed_is_empty() {
        let (mut terminal, paint) = bench();
        terminal.draw(|frame| frame.render_widget(Paragraph::new("offcut"), frame.area())).unwrap();
        assert!(paint.take().contains("offcut"));
        terminal.draw(|frame| frame.render_widget(Paragraph::new("offcut"), frame.area())).unwrap();
        assert_eq!(paint.take(), "");
        terminal.draw(|frame| frame.render_widget(Paragraph::new("offcuts"), frame.area())).unwrap();
        assert!(!paint.take().is_empty());
    }

    #[test]
    fn a_cursor_is_placed_once_and_again_after_cells_were_drawn() {
        let (mut terminal, paint) = bench();
        let place = |frame: &mut ratatui::Frame<'_>| frame.set_cursor_position((3, 1));
        terminal.draw(place).unwrap();
        // ECMA-48 CUP counts from 1: row 2, column 4.
        assert!(paint.take().contains("\x1b[2;4H"));
        terminal.draw(place).unwrap();
        assert_eq!(paint.take(), "");
        let with_text = |frame: &mut ratatui::Frame<'_>| {
            frame.render_widget(Paragraph::new("fold"), frame.area());
            frame.set_cursor_position((3, 1));
        };
        terminal.draw(with_text).unwrap();
        assert!(paint.take().ends_with("\x1b[2;4H"));
    }

    #[test]
    fn absurd_sizes_are_cut_down() {
        assert_eq!(sane(u16::MAX, u16::MAX), (WIDEST, TALLEST));
        assert_eq!(sane(80, 24), (80, 24));
        assert_eq!(sane(0, 0), (0, 0));
    }

    fn painted(style: Style, text: &'static str) -> String {
        let (mut terminal, paint) = bench();
        terminal.draw(|frame| frame.render_widget(Span::styled(text, style), Rect::new(0, 0, 4, 1))).unwrap();
        paint.take()
    }

    #[test]
    fn looks_as_the_standard_writes_them() {
        // ECMA-48, 8.3.117 (SGR): 1 bold, 7 negative image, 30 to 37 and 40 to 47 the eight colours. XTerm Control
        // Sequences: 90 to 97 and 100 to 107 the bright eight, 38;5 and 48;5 the 256, 38;2 and 48;2 direct colour.
        for (style, code) in [
            (Style::new().bold().reversed(), "\x1b[0;1;7mfold"),
            (Style::new().fg(Color::Red).bg(Color::White), "\x1b[0;31;107mfold"),
            (Style::new().fg(Color::DarkGray).bg(Color::Gray), "\x1b[0;90;47mfold"),
            (Style::new().fg(Color::Indexed(9)).bg(Color::Indexed(208)), "\x1b[0;91;48;5;208mfold"),
            (Style::new().fg(Color::Rgb(1, 2, 3)).underlined(), "\x1b[0;4;38;2;1;2;3mfold"),
            (Style::new().slow_blink().rapid_blink(), "\x1b[1;1Hfold"),
        ] {
            let text = painted(style, "fold");
            assert!(text.contains(code), "{text:?} for {code:?}");
            assert!(text.ends_with("fold\x1b[0m\x1b[?25l") || text.ends_with("fold\x1b[?25l"), "{text:?}");
        }
    }

    #[test]
    fn no_control_character_leaves_a_cell() {
        let (mut terminal, paint) = bench();
        let hostile = |frame: &mut ratatui::Frame<'_>| {
            frame.buffer_mut()[(0, 0)].set_symbol("\x1b]0;owned\x07");
            frame.buffer_mut()[(0, 1)].set_symbol("\u{9b}2J");
        };
        terminal.draw(hostile).unwrap();
        let sent = paint.take();
        assert_eq!(sent.matches('\u{fffd}').count(), 2, "{sent:?}");
        assert!(!sent.contains("owned") && !sent.contains('\u{9b}') && !sent.contains('\x07'), "{sent:?}");
    }
}
