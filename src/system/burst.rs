//! What a system's own key events mean beyond single keys: a paste that comes as keys, signs made with the third shift.
//! Knows no terminal.

use crossterm::event::{Event, KeyCode, KeyEvent, KeyEventKind, KeyModifiers};

/// So many keys that type text and come at once were not pressed by a person.
const PASTED: usize = 6;

/// The events of one moment: no releases, pasted text in one, signs of the third shift (told as Ctrl with Alt) as signs.
pub fn settled(events: Vec<Event>) -> Vec<Event> {
    let mut all = Vec::new();
    let mut run: Vec<KeyEvent> = Vec::new();
    for event in events {
        match event {
            Event::Key(key) if key.kind == KeyEventKind::Release => {}
            Event::Key(key) if typed(&plain(key)).is_some() => run.push(plain(key)),
            other => {
                end_run(&mut run, &mut all);
                all.push(other);
            }
        }
    }
    end_run(&mut run, &mut all);
    all
}

fn end_run(run: &mut Vec<KeyEvent>, all: &mut Vec<Event>) {
    let keys = std::mem::take(run);
    if keys.len() < PASTED {
        all.extend(keys.into_iter().map(Event::Key));
    } else {
        all.push(Event::Paste(keys.iter().filter_map(typed).collect()));
    }
}

fn plain(mut key: KeyEvent) -> KeyEvent {
    let third = KeyModifiers::CONTROL | KeyModifiers::ALT;
    if key.modifiers.contains(third) && matches!(key.code, KeyCode::Char(_)) {
        key.modifiers.remove(third);
    }
    key
}

/// The sign that a key types.
fn typed(key: &KeyEvent) -> Option<char> {
    if key.modifiers.intersects(KeyModifiers::CONTROL | KeyModifiers::ALT) {
        return None;
    }
    match key.code {
        KeyCode::Char(sign) => Some(sign),
        KeyCode::Enter => Some('\n'),
        KeyCode::Tab => Some('\t'),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn key(code: KeyCode, modifiers: KeyModifiers) -> Event {
        Event::Key(KeyEvent::new(code, modifiers))
    }

    fn typed_out(text: &str) -> Vec<Event> {
        let code = |c| if c == '\n' { KeyCode::Enter } else { KeyCode::Char(c) };
        let press = |c| key(code(c), KeyModifiers::NONE);
        let release =
            |c| Event::Key(KeyEvent::new_with_kind(code(c), KeyModifiers::NONE, KeyEventKind::Release));
        text.chars().flat_map(|c| [press(c), release(c)]).collect()
    }

    #[test]
    fn many_keys_at_once_are_a_paste_and_few_are_keys() {
        assert_eq!(settled(typed_out("2 1/2\nx½")), [Event::Paste("2 1/2\nx½".to_owned())]);
        assert_eq!(settled(typed_out("2x3")).len(), 3);
        let mut mixed = typed_out("hello there");
        mixed.push(key(KeyCode::Up, KeyModifiers::NONE));
        mixed.extend(typed_out("q"));
        let settled = settled(mixed);
        assert_eq!(settled[0], Event::Paste("hello there".to_owned()));
        assert_eq!(
            settled[1..],
            [key(KeyCode::Up, KeyModifiers::NONE), key(KeyCode::Char('q'), KeyModifiers::NONE)]
        );
    }

    #[test]
    fn the_third_shift_makes_signs_and_ctrl_alone_does_not() {
        let third = KeyModifiers::CONTROL | KeyModifiers::ALT;
        assert_eq!(
            settled(vec![key(KeyCode::Char('@'), third)]),
            [key(KeyCode::Char('@'), KeyModifiers::NONE)]
        );
        let ctrl = key(KeyCode::Char('p'), KeyModifiers::CONTROL);
        assert_eq!(settled(vec![ctrl.clone()]), [ctrl]);
    }
}
