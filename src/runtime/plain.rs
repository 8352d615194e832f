//! The workbench without a screen: a line in, changed facts out, one fact a line. For screen readers and pipes.
//!
//! A line is a key (`p`, `Enter`, `Ctrl-d`), a command's name (`piece`), or, while a prompt is open, its text. What
//! did not change is not said again.

use crate::app::action::Action;
use crate::app::commands::{COMMANDS, offered};
use crate::app::effect::Effect;
use crate::app::facts::{self, Fact};
use crate::app::keymap;
use crate::app::keys::{Key, KeyCode};
use crate::app::model::Model;
use crate::app::overlay::Overlay;
use crate::app::update::{resume, update};
use crate::app::welcome::{Welcome, WelcomeQuestion};
use crate::domain::harmless::harmless;
use std::collections::VecDeque;
use std::io::{self, BufRead, Write};

/// Runs until the person leaves or the input ends. `carry_out` runs an effect and returns what comes of it; it answers
/// [`Effect::Quit`] with nothing.
///
/// # Errors
/// When input or output fails.
pub fn run_plain(
    model: &mut Model,
    input: &mut dyn BufRead,
    out: &mut dyn Write,
    carry_out: &mut dyn FnMut(Effect, &mut dyn Write) -> Vec<Action>,
) -> io::Result<()> {
    let mut said: Vec<Fact> = Vec::new();
    let first = resume(model);
    let mut goes_on = settle(model, first, out, carry_out);
    say(model, &mut said, out)?;
    let mut line = String::new();
    while goes_on {
        line.clear();
        if input.read_line(&mut line)? == 0 {
            break;
        }
        for action in read(model, line.trim_end_matches(['\n', '\r'])) {
            let effects = update(model, action);
            goes_on &= settle(model, effects, out, carry_out);
        }
        say(model, &mut said, out)?;
    }
    Ok(())
}

/// Runs effects and what comes of them until nothing is left; false when it is time to leave.
fn settle(
    model: &mut Model,
    effects: Vec<Effect>,
    out: &mut dyn Write,
    carry_out: &mut dyn FnMut(Effect, &mut dyn Write) -> Vec<Action>,
) -> bool {
    let mut todo: VecDeque<Effect> = effects.into();
    let mut goes_on = true;
    while let Some(effect) = todo.pop_front() {
        goes_on &= !matches!(effect, Effect::Quit);
        for action in carry_out(effect, out) {
            todo.extend(update(model, action));
        }
    }
    goes_on
}

/// What a typed line means now.
fn read(model: &Model, line: &str) -> Vec<Action> {
    let enter = Action::Key(Key::plain(KeyCode::Enter));
    if let Some(Overlay::Prompt(_) | Overlay::Picker(_)) = model.top() {
        return match Key::parse(line.trim()) {
            Ok(k) if matches!(k.code, KeyCode::Esc | KeyCode::Enter | KeyCode::Up | KeyCode::Down) => {
                vec![Action::Key(k)]
            }
            _ => vec![Action::Key(Key::ctrl('u')), Action::Paste(line.to_owned()), enter],
        };
    }
    if let Some(Overlay::Form(_)) = model.top() {
        return form_line(line);
    }
    let word = line.trim();
    if let Some(Overlay::Welcome(w)) = model.top() {
        return welcome_line(w, word);
    }
    if word.is_empty() {
        return Vec::new();
    }
    // The key list was read out in full: the next line is about the pane again.
    let close = matches!(model.top(), Some(Overlay::Help(_))).then(|| Action::Key(Key::plain(KeyCode::Esc)));
    close.into_iter().chain(meaning(word)).collect()
}

/// A line for the field in hand: its text, nothing for what stands there, or a key that goes to another field, keeps the form
/// or leaves it.
fn form_line(line: &str) -> Vec<Action> {
    use KeyCode::{BackTab, Char, Down, Enter, Esc, Tab, Up};
    let enter = Action::Key(Key::plain(Enter));
    if line.trim().is_empty() {
        return vec![enter];
    }
    match Key::parse(line.trim()) {
        Ok(k) if matches!(k.code, Esc | Enter | Up | Down | Tab | BackTab) => vec![Action::Key(k)],
        Ok(k) if k.ctrl && matches!(k.code, Char('s' | 'n' | 'x' | 'u')) => vec![Action::Key(k)],
        _ => vec![Action::Key(Key::ctrl('u')), Action::Paste(line.to_owned()), enter],
    }
}

/// An answer to one of the first questions: its words or their beginning, its number, nothing for the one picked.
fn welcome_line(welcome: &Welcome, word: &str) -> Vec<Action> {
    let press = |code| Action::Key(Key::plain(code));
    if let Ok(key) = Key::parse(word)
        && matches!(key.code, KeyCode::Esc | KeyCode::Enter | KeyCode::Up | KeyCode::Down)
    {
        return vec![Action::Key(key)];
    }
    let (_, answers) = welcome.words();
    match welcome.question {
        _ if word.is_empty() => vec![press(KeyCode::Enter)],
        WelcomeQuestion::LongestCut => {
            vec![Action::Key(Key::ctrl('u')), Action::Paste(word.to_owned()), press(KeyCode::Enter)]
        }
        WelcomeQuestion::Unit | WelcomeQuestion::Paper | WelcomeQuestion::SetBy => {
            let typed = word.to_lowercase();
            let meant = (1..)
                .zip(&answers)
                .position(|(n, answer)| typed == n.to_string() || answer.to_lowercase().starts_with(&typed));
            let Some(meant) = meant else {
                return vec![Action::Tell(format!(
                    "\"{word}\" is not an answer: write {}, or Esc to leave the questions",
                    answers.join(" or ")
                ))];
            };
            let to_first = answers.iter().skip(1).map(|_| press(KeyCode::Up));
            let to_meant = answers.iter().take(meant).map(|_| press(KeyCode::Down));
            to_first.chain(to_meant).chain([press(KeyCode::Enter)]).collect()
        }
        // The example was read out in full: the line is about the pane.
        WelcomeQuestion::Example => std::iter::once(press(KeyCode::Enter)).chain(meaning(word)).collect(),
    }
}

/// A command by its name, or keys: one, or those of a sequence with spaces between.
fn meaning(word: &str) -> Vec<Action> {
    if let Some(c) = COMMANDS.iter().find(|c| c.name == word) {
        return vec![Action::Run(c.id)];
    }
    match keymap::strokes(word) {
        Ok(keys) => keys.into_iter().map(Action::Key).collect(),
        Err(_) => {
            vec![Action::Tell(format!("\"{word}\" is neither a key nor a command: type help for the list"))]
        }
    }
}

fn say(model: &Model, said: &mut Vec<Fact>, out: &mut dyn Write) -> io::Result<()> {
    let now = facts::facts(model);
    if let Some(Overlay::Help(_)) = model.top() {
        for c in offered(model.can_stop) {
            writeln!(out, "{}: {} ({})", c.name, c.line, c.keys.join(" "))?;
        }
    }
    for fact in now.iter().filter(|f| !said.contains(f)) {
        writeln!(out, "{}: {}", harmless(&fact.label), harmless(&fact.text))?;
    }
    *said = now;
    out.flush()
}
