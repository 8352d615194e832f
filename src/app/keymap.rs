//! Which key runs which command: the table's defaults, with the person's own keys laid over them.

use super::commands::{COMMANDS, CommandId, Context};
use super::keys::Key;
use std::collections::BTreeMap;

/// Keys to commands, by context.
#[derive(Clone, Debug)]
pub struct Keymap {
    by_key: BTreeMap<(Context, Key), CommandId>,
    by_command: BTreeMap<CommandId, Vec<Key>>,
}

impl Default for Keymap {
    fn default() -> Self {
        let by_command = COMMANDS.iter().map(|c| (c.id, default_keys(c.keys))).collect();
        Self::from_commands(by_command)
    }
}

fn default_keys(texts: &[&str]) -> Vec<Key> {
    texts.iter().filter_map(|k| Key::parse(k).ok()).collect()
}

impl Keymap {
    fn from_commands(by_command: BTreeMap<CommandId, Vec<Key>>) -> Self {
        let mut by_key = BTreeMap::new();
        for c in COMMANDS {
            for key in by_command.get(&c.id).into_iter().flatten() {
                by_key.entry((c.context, *key)).or_insert(c.id);
            }
        }
        Self { by_key, by_command }
    }

    /// Lays the person's keys over the defaults: each entry is a command's name and its keys.
    ///
    /// Every problem is returned, none stops the others; the commands that are wrongly bound keep their defaults.
    pub fn with_own_keys(entries: &[(String, Vec<String>)]) -> (Self, Vec<String>) {
        let mut by_command: BTreeMap<CommandId, Vec<Key>> =
            COMMANDS.iter().map(|c| (c.id, default_keys(c.keys))).collect();
        let mut problems = Vec::new();
        for (name, texts) in entries {
            let Some(command) = COMMANDS.iter().find(|c| c.name == name) else {
                problems.push(format!("no command is named \"{name}\": the key list in help has the names"));
                continue;
            };
            let (keys, refused): (Vec<_>, Vec<_>) =
                texts.iter().map(|t| Key::parse(t)).partition(Result::is_ok);
            problems.extend(refused.into_iter().filter_map(Result::err).map(|e| format!("{name}: {e}")));
            let keys: Vec<Key> = keys.into_iter().filter_map(Result::ok).collect();
            if !keys.is_empty() {
                by_command.insert(command.id, keys);
            }
        }
        problems.extend(clashes(&by_command));
        (Self::from_commands(by_command), problems)
    }

    /// The command of a key in the innermost context that knows it.
    pub fn command(&self, contexts: &[Context], key: Key) -> Option<CommandId> {
        contexts.iter().find_map(|c| self.by_key.get(&(*c, key)).copied())
    }

    /// The keys of a command; the first is the one to show.
    pub fn keys(&self, id: CommandId) -> &[Key] {
        self.by_command.get(&id).map_or(&[], Vec::as_slice)
    }
}

fn clashes(by_command: &BTreeMap<CommandId, Vec<Key>>) -> Vec<String> {
    let mut taken: BTreeMap<(Context, Key), &str> = BTreeMap::new();
    let mut problems = Vec::new();
    for c in COMMANDS {
        for key in by_command.get(&c.id).into_iter().flatten() {
            if let Some(other) = taken.insert((c.context, *key), c.name) {
                problems.push(format!("{key} is bound to {other} and to {}: {other} keeps it", c.name));
            }
        }
    }
    problems
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn own_keys_replace_defaults_and_all_problems_come_at_once() {
        let entries = [
            ("quit".to_owned(), vec!["Q".to_owned()]),
            ("no-such".to_owned(), vec!["x".to_owned()]),
            ("help".to_owned(), vec!["Hyper-x".to_owned()]),
            ("undo".to_owned(), vec!["Q".to_owned()]),
        ];
        let (map, problems) = Keymap::with_own_keys(&entries);
        assert_eq!(problems.len(), 3, "{problems:?}");
        assert_eq!(map.keys(CommandId::Quit), [Key::char('Q')]);
        assert_eq!(map.keys(CommandId::Help)[0], Key::char('?'));
        assert_eq!(map.command(&[Context::Everywhere], Key::char('q')), None);
    }

    #[test]
    fn the_innermost_context_wins() {
        let map = Keymap::default();
        assert_eq!(
            map.command(&[Context::Chart, Context::Everywhere], Key::char('c')),
            Some(CommandId::ChartClose)
        );
        assert_eq!(
            map.command(&[Context::Yield, Context::Everywhere], Key::char('c')),
            Some(CommandId::OpenChart)
        );
        assert_eq!(
            map.command(&[Context::Yield, Context::Everywhere], Key::char('q')),
            Some(CommandId::Quit)
        );
    }
}
