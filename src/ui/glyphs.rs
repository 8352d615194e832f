//! The few signs of the chrome, in Unicode and in plain ASCII. No emoji.

/// One set of signs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Glyphs {
    /// Ends a text that was cut off.
    pub ellipsis: &'static str,
    /// Stands before the picked row.
    pub pick: &'static str,
    /// Stands before a marked row.
    pub mark: &'static str,
    /// Stands before the winner.
    pub best: &'static str,
    /// Stands before a warning where no color tells it.
    pub warning: &'static str,
    /// Stands before what falls below its mark on the shelf where no color tells it.
    pub low: &'static str,
    /// Fills an offcut.
    pub waste: &'static str,
    /// A filled cell of a bar.
    pub bar: &'static str,
    /// A full cell of a large figure.
    pub ink: &'static str,
    /// An empty cell of a bar.
    pub bar_rest: &'static str,
    /// A cell of a bar that is there and spoken for.
    pub booked: &'static str,
    /// From little to much, in one cell.
    pub steps: [&'static str; 8],
    /// Between facts in one line.
    pub dot: &'static str,
    /// Times sign.
    pub times: &'static str,
    /// A line across.
    pub rule: &'static str,
    /// Two full cells of colour, where colour can be shown.
    pub block: &'static str,
    /// Upper half, lower half and whole of a cell, where the set has them.
    pub halves: Option<[&'static str; 3]>,
    /// Joins for lines; indexed by arms: up 1, right 2, down 4, left 8.
    pub joins: [&'static str; 16],
    /// The same, heavy, for the cut in hand.
    pub heavy: [&'static str; 16],
}

impl Glyphs {
    /// A heavy line with light arms that end at it, where the set has a sign for them.
    pub fn mixed(&self, heavy: u8, light: u8) -> Option<&'static str> {
        let is_drawn = self.heavy[10] == "━";
        let sign = match (heavy, light) {
            (10, 1) => "┷",
            (10, 4) => "┯",
            (10, 5) => "┿",
            (5, 2) => "┠",
            (5, 8) => "┨",
            (5, 10) => "╂",
            (2, 5) => "┝",
            (8, 5) => "┥",
            (1, 10) => "┸",
            (4, 10) => "┰",
            _ => return None,
        };
        is_drawn.then_some(sign)
    }
}

/// Box drawing and blocks.
pub const UNICODE: Glyphs = Glyphs {
    ellipsis: "…",
    pick: "▌",
    mark: "*",
    best: "▸",
    warning: "!",
    low: "▼",
    waste: "▒",
    bar: "━",
    ink: "█",
    bar_rest: "·",
    booked: "═",
    steps: ["▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"],
    dot: "·",
    times: "×",
    rule: "─",
    block: "██",
    halves: Some(["▀", "▄", "█"]),
    joins: [" ", "╵", "╶", "└", "╷", "│", "┌", "├", "╴", "┘", "─", "┴", "┐", "┤", "┬", "┼"],
    heavy: [" ", "╹", "╺", "┗", "╻", "┃", "┏", "┣", "╸", "┛", "━", "┻", "┓", "┫", "┳", "╋"],
};

/// Nothing beyond ASCII.
pub const ASCII: Glyphs = Glyphs {
    ellipsis: "~",
    pick: ">",
    mark: "*",
    best: ">",
    warning: "!",
    low: "v",
    waste: "%",
    bar: "#",
    ink: "#",
    bar_rest: ".",
    booked: "=",
    steps: ["_", ".", ":", "-", "=", "+", "*", "#"],
    dot: "-",
    times: "x",
    rule: "-",
    block: "[]",
    halves: None,
    joins: [" ", "|", "-", "+", "|", "|", "+", "+", "-", "+", "-", "+", "+", "+", "+", "+"],
    heavy: [" ", "#", "=", "#", "#", "#", "#", "#", "=", "#", "=", "#", "#", "#", "#", "#"],
};
