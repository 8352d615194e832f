//! What the sides tell, in words that mean the same on each system.

use crossterm::event::Event;

/// A signal that means something to the bench.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Signal {
    /// Somebody outside asks the program to end: save and end.
    Terminate,
    /// The terminal went away or the session ends. Save, write nothing, end.
    HangUp,
    /// Somebody outside asks the program to stop for a while: stop, if stopping makes sense.
    Suspend,
    /// Running again; the screen may be anybody's work.
    Continue,
}

impl Signal {
    /// True for those after which the program ends.
    pub fn ends(self) -> bool {
        matches!(self, Self::Terminate | Self::HangUp)
    }
}

/// What the signal thread tells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Heard {
    /// A signal that means something.
    Signal(Signal),
    /// The screen may have another size.
    Resized,
}

/// Who is stopped.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SignalReach {
    /// The whole job, as the terminal driver does for the suspend key: a wrapper that started us must stop too, or its
    /// shell waits for ever. Refused where no shell would continue us.
    Job,
    /// This process alone: somebody sent us the signal and can send the other one.
    Process,
}

/// What came of stopping.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stopped {
    /// Stopped, and continued again since.
    AndContinued,
    /// No shell is there to bring the job back (the window runs nothing but us), so nothing was stopped.
    NobodyToContinue,
}

/// What came from the keyboard.
#[derive(Debug)]
pub enum KeyNews<'a> {
    /// Bytes as a terminal sends them.
    Bytes(&'a [u8]),
    /// What the system has made of them already.
    Events(Vec<Event>),
    /// The bell was rung.
    Rung,
    /// Nothing, for as long as was given.
    Silence,
    /// Nothing worth telling.
    Nothing,
    /// No key will come any more.
    End,
}

/// A terminal's size.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct TerminalSize {
    /// In cells.
    pub columns: u16,
    /// In cells.
    pub rows: u16,
    /// In pixels; 0 where the terminal does not say.
    pub width: u16,
    /// In pixels; 0 where the terminal does not say.
    pub height: u16,
}

/// What switches a report of the terminal on and off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Switch {
    /// The sequence that switches it on; empty where there is none.
    pub on: &'static str,
    /// The one that switches it off.
    pub off: &'static str,
}
