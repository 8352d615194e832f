//! Keys: the innermost place decides.

use trimside::app::commands::{CommandId, Context};
use trimside::app::keymap::Keymap;
use trimside::app::keys::Key;

/// One key for a command of Yield and for one that holds everywhere: in Yield it means Yield's, elsewhere the other.
#[test]
fn a_key_means_what_the_innermost_place_says() {
    let own =
        [("piece", "§"), ("pane-stock", "§")].map(|(name, key)| (name.to_owned(), vec![key.to_owned()]));
    let (map, problems) = Keymap::with_own_keys(&own);
    assert!(problems.is_empty(), "{problems:?}");
    let key = Key::char('§');
    assert_eq!(map.command(&[Context::Yield, Context::Everywhere], key), Some(CommandId::Piece));
    assert_eq!(
        map.command(&[Context::Everywhere, Context::Yield], key),
        map.command(&[Context::Everywhere], key)
    );
    assert_ne!(map.command(&[Context::Everywhere], key), Some(CommandId::Piece));
    assert_eq!(
        map.command(&[Context::Mats, Context::Everywhere], key),
        map.command(&[Context::Everywhere], key)
    );
    assert_eq!(map.command(&[Context::Mats], key), None);
}
