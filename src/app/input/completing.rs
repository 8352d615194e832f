//! Completing a name that is begun: one Tab puts the first that matches, the next one the next. Knows neither fields nor what
//! the names are of.

/// Which part of a text is a name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NamePart {
    /// All of it.
    Whole,
    /// What stands after the last comma.
    Last,
    /// What stands after figures: `1/8 fern`.
    AfterFigures,
}

impl NamePart {
    /// What stays, and the name as far as it is typed.
    pub fn split(self, text: &str) -> (String, &str) {
        let is_letter = |word: &str| word.starts_with(char::is_alphabetic);
        match self {
            Self::Whole => (String::new(), text.trim()),
            Self::Last => match text.rsplit_once(',') {
                Some((before, stem)) => (format!("{before}, "), stem.trim()),
                None => (String::new(), text.trim()),
            },
            Self::AfterFigures => {
                let at =
                    text.split_whitespace().find(|word| is_letter(word)).and_then(|word| text.find(word));
                let (before, stem) = text.split_at(at.unwrap_or(text.len()));
                let gap = if before.is_empty() || before.ends_with(' ') { "" } else { " " };
                (format!("{before}{gap}"), stem.trim())
            }
        }
    }
}

/// What was typed before the first Tab, and which of the matches stands there now.
#[derive(Clone, Debug)]
pub struct Completing {
    /// The text before the name that is being completed.
    pub before: String,
    /// What was typed of the name.
    pub stem: String,
    /// Which match, from 0.
    pub at: usize,
}

impl Completing {
    /// Begins after a part of the text that stays.
    pub fn after(before: &str, stem: &str) -> Self {
        Self { before: before.to_owned(), stem: stem.trim().to_owned(), at: 0 }
    }

    /// Begins with the part of a text that is a name.
    pub fn of(text: &str, part: NamePart) -> Self {
        let (before, stem) = part.split(text);
        Self::after(&before, stem)
    }

    /// The text with the next of the names that match, round and round; `None` where there is none but the one that stands
    /// there in full.
    pub fn next(mut self, text: &str, names: &[String]) -> Option<(Self, String)> {
        let found = matches(&self.stem, names);
        let whole = |name: &str| format!("{}{name}", self.before);
        let is_done = |name: &str| text.trim() == whole(name).trim();
        // What stands there already is passed over.
        let at = if found.get(self.at).copied().is_some_and(is_done) { self.at + 1 } else { self.at };
        let at = if at < found.len() { at } else { 0 };
        let name = found.get(at).copied().filter(|name| !is_done(name))?;
        let text = whole(name);
        self.at = at;
        Some((self, text))
    }
}

/// Names that what is typed may mean: the one itself, then those that begin with it, then those with a word that does, then
/// those that hold it. All of them for nothing typed.
pub fn matches<'a>(typed: &str, names: &'a [String]) -> Vec<&'a str> {
    let typed = typed.trim().to_lowercase();
    let rank = |name: &str| {
        let name = name.to_lowercase();
        if name == typed {
            Some(0)
        } else if name.starts_with(&typed) {
            Some(1)
        } else if name.split_whitespace().any(|word| word.starts_with(&typed)) {
            Some(2)
        } else if name.contains(&typed) {
            Some(3)
        } else {
            None
        }
    };
    let mut all: Vec<(u8, &str)> = names.iter().filter_map(|n| Some((rank(n)?, n.as_str()))).collect();
    all.sort_by_key(|(rank, _)| *rank);
    all.into_iter().map(|(_, name)| name).collect()
}
