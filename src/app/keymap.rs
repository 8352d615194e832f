//! Which keys run which command: the table's defaults, with the person's own keys laid over them.
//!
//! A command is bound to single keys and to sequences (`", p"`: a comma, then p). While a sequence is begun, what can
//! follow is known here, and shown.

use super::commands::{COMMANDS, CommandId, Context};
use super::keys::Key;
use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::{Arc, LazyLock};

/// One key, or several in a row.
pub type Strokes = Vec<Key>;

/// Keys to commands, by context. It never changes once it is made, so that copies share it.
#[derive(Clone, Debug)]
pub struct Keymap {
    by_strokes: Arc<BTreeMap<(Context, Strokes), CommandId>>,
    by_command: Arc<BTreeMap<CommandId, Vec<Strokes>>>,
    single: Arc<BTreeMap<CommandId, Vec<Key>>>,
}

/// A problem with the person's own keys: the command it is about, as it was named, and a sentence.
pub type Problem = (String, String);

impl Default for Keymap {
    fn default() -> Self {
        static DEFAULTS: LazyLock<Keymap> = LazyLock::new(|| Keymap::from_commands(defaults()));
        DEFAULTS.clone()
    }
}

fn defaults() -> BTreeMap<CommandId, Vec<Strokes>> {
    COMMANDS.iter().map(|c| (c.id, c.keys.iter().filter_map(|k| strokes(k).ok()).collect())).collect()
}

/// Reads one key, or several with spaces between.
///
/// # Errors
/// The sentence that refuses it.
pub fn strokes(text: &str) -> Result<Strokes, String> {
    if text.trim().is_empty() {
        return Err("an empty text is not a key: write one such as \"u\", \"Ctrl-u\" or \", u\"".to_owned());
    }
    text.split_whitespace().map(|k| Key::parse(k).map_err(|e| e.to_string())).collect()
}

/// Keys as they are written in the key file.
pub fn written(strokes: &[Key]) -> String {
    strokes.iter().map(Key::to_string).collect::<Vec<_>>().join(" ")
}

impl Keymap {
    fn from_commands(by_command: BTreeMap<CommandId, Vec<Strokes>>) -> Self {
        let mut by_strokes = BTreeMap::new();
        for c in COMMANDS {
            for keys in by_command.get(&c.id).into_iter().flatten() {
                by_strokes.entry((c.context, keys.clone())).or_insert(c.id);
            }
        }
        let alone = |all: &Vec<Strokes>| all.iter().filter(|s| s.len() == 1).flatten().copied().collect();
        let single = by_command.iter().map(|(id, all)| (*id, alone(all))).collect();
        let (by_strokes, by_command, single) = (Arc::new(by_strokes), Arc::new(by_command), Arc::new(single));
        Self { by_strokes, by_command, single }
    }

    /// Lays the person's keys over the defaults: each entry is a command's name and its keys.
    ///
    /// Every problem is returned, none stops the others; the commands that are wrongly bound keep their defaults.
    pub fn with_own_keys(entries: &[(String, Vec<String>)]) -> (Self, Vec<Problem>) {
        let mut by_command = defaults();
        let mut problems = Vec::new();
        for (name, texts) in entries {
            let Some(command) = COMMANDS.iter().find(|c| c.name == name) else {
                let why = format!("no command is named \"{name}\": the key list in help has the names");
                problems.push((name.clone(), why));
                continue;
            };
            let (keys, refused): (Vec<_>, Vec<_>) = texts.iter().map(|t| strokes(t)).partition(Result::is_ok);
            let refused = refused.into_iter().filter_map(Result::err);
            problems.extend(refused.map(|e| (name.clone(), format!("{name}: {e}"))));
            let keys: Vec<Strokes> = keys.into_iter().filter_map(Result::ok).collect();
            if !keys.is_empty() {
                by_command.insert(command.id, keys);
            }
        }
        problems.extend(clashes(&by_command));
        (Self::from_commands(by_command), problems)
    }

    /// The command of a single key in the innermost context that knows it.
    pub fn command(&self, contexts: &[Context], key: Key) -> Option<CommandId> {
        self.command_of(contexts, &[key])
    }

    /// The command of a whole sequence in the innermost context that knows it.
    pub fn command_of(&self, contexts: &[Context], strokes: &[Key]) -> Option<CommandId> {
        contexts.iter().find_map(|c| self.by_strokes.get(&(*c, strokes.to_vec())).copied())
    }

    /// What can follow a sequence that was begun: the next key and the command that it leads to.
    pub fn following(&self, contexts: &[Context], begun: &[Key]) -> Vec<(Key, CommandId)> {
        let here = |c: Context| self.by_strokes.iter().filter(move |((of, _), _)| *of == c);
        contexts
            .iter()
            .flat_map(|c| here(*c))
            .filter(|((_, all), _)| all.len() > begun.len() && all.starts_with(begun))
            .filter_map(|((_, all), id)| Some((*all.get(begun.len())?, *id)))
            .collect()
    }

    /// The single keys of a command; the first is the one to show.
    pub fn keys(&self, id: CommandId) -> &[Key] {
        self.single.get(&id).map_or(&[], Vec::as_slice)
    }

    /// The keys of a command that are shown for it: one, or a sequence.
    pub fn shown(&self, id: CommandId) -> Option<&[Key]> {
        self.by_command.get(&id)?.first().map(Vec::as_slice)
    }

    /// The keys that are shown for a command, in words; empty where it has none.
    pub fn shown_text(&self, id: CommandId) -> String {
        self.shown(id).map(written).unwrap_or_default()
    }

    /// A sentence with the keys in force: `<undo>` becomes the key that is shown for the command of that name. What names no
    /// command stays as it is.
    pub fn say(&self, text: &str) -> String {
        self.told(text).words
    }

    /// The same with where the keys stand in it.
    pub fn told(&self, text: &str) -> Told {
        let mut out = String::with_capacity(text.len());
        let mut at = Vec::new();
        let mut rest = text;
        while let Some((before, after)) = rest.split_once('<') {
            out.push_str(before);
            let named = after.split_once('>').and_then(|(name, after)| {
                let row = COMMANDS.iter().find(|c| c.name == name)?;
                Some((self.shown_text(row.id), after))
            });
            let (keys, after, is_key) = match named {
                Some((keys, after)) => (keys, after, true),
                None => ("<".to_owned(), after, false),
            };
            let start = out.chars().count();
            out.push_str(&keys);
            if is_key {
                at.push(start..out.chars().count());
            }
            rest = after;
        }
        out.push_str(rest);
        Told { words: out, keys: at }
    }

    /// All keys of a command as they are written in the key file, sequences too.
    pub fn texts(&self, id: CommandId) -> Vec<String> {
        self.by_command.get(&id).into_iter().flatten().map(|s| written(s)).collect()
    }
}

/// A sentence with the keys in force.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Told {
    /// It, keys and all.
    pub words: String,
    /// Which of its letters are keys, by their count from the first.
    pub keys: Vec<Range<usize>>,
}

/// Keys that mean two things in one place, and sequences that can never be finished.
fn clashes(by_command: &BTreeMap<CommandId, Vec<Strokes>>) -> Vec<Problem> {
    let mut taken: BTreeMap<(Context, Strokes), &str> = BTreeMap::new();
    let mut problems = Vec::new();
    for c in COMMANDS {
        for keys in by_command.get(&c.id).into_iter().flatten() {
            if let Some(other) = taken.insert((c.context, keys.clone()), c.name) {
                let keys = written(keys);
                let why = format!("{keys} is bound to {other} and to {}: {other} keeps it", c.name);
                problems.push((c.name.to_owned(), why));
            }
        }
    }
    for ((context, keys), name) in &taken {
        for n in 1..keys.len() {
            if let Some(other) = taken.get(&(*context, keys[..n].to_vec())) {
                let (whole, begin) = (written(keys), written(&keys[..n]));
                let why = format!("{whole} of {name} is never reached: {begin} alone runs {other}");
                problems.push(((*name).to_owned(), why));
            }
        }
    }
    problems
}

#[cfg(test)]
mod tests {
    use super::*;

    fn own(name: &str, key: &str) -> (String, Vec<String>) {
        (name.to_owned(), vec![key.to_owned()])
    }

    #[test]
    fn own_keys_replace_defaults_and_all_problems_come_at_once() {
        let entries = [own("quit", "Q"), own("no-such", "x"), own("help", "Hyper-x"), own("undo", "Q")];
        let (map, problems) = Keymap::with_own_keys(&entries);
        assert_eq!(problems.len(), 3, "{problems:?}");
        assert_eq!(map.keys(CommandId::Quit), [Key::char('Q')]);
        assert_eq!(map.keys(CommandId::Help)[0], Key::char('?'));
        assert_eq!(map.command(&[Context::Everywhere], Key::char('q')), None);
    }

    #[test]
    fn the_innermost_context_wins() {
        let map = Keymap::default();
        let of = |c: Context, key: char| map.command(&[c, Context::Everywhere], Key::char(key));
        assert_eq!(of(Context::Chart, 'v'), Some(CommandId::ChartClose));
        assert_eq!(of(Context::Yield, 'v'), Some(CommandId::OpenChart));
        assert_eq!(of(Context::Yield, 'q'), Some(CommandId::Quit));
    }

    #[test]
    fn what_can_follow_a_prefix_is_known_and_a_prefix_alone_is_no_command() {
        let map = Keymap::default();
        let begun = [Key::char(',')];
        assert_eq!(map.command_of(&[Context::Everywhere], &begun), None);
        let next = map.following(&[Context::Everywhere], &begun);
        assert!(next.contains(&(Key::char('p'), CommandId::Print)), "{next:?}");
        let all = strokes(", p").unwrap();
        assert_eq!(map.command_of(&[Context::Everywhere], &all), Some(CommandId::Print));
    }

    #[test]
    fn a_sequence_that_cannot_be_reached_is_told() {
        let (_, problems) = Keymap::with_own_keys(&[own("undo", "q q")]);
        assert_eq!(problems.len(), 1, "{problems:?}");
        assert!(problems[0].1.contains("never reached") && problems[0].0 == "undo");
        assert!(strokes(" ").is_err());
    }
}
