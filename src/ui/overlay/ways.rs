//! Ways to press a command, as help and the finder draw them.

use crate::ui::look::Look;
use crate::ui::text;
use crate::ui::widgets::lines::{Run, run};

/// Stands between keys of which one is enough; keys that are pressed in turn have nothing but a blank between them.
pub(super) const OR: &str = " or ";

/// Ways to press a command, as many as there is room for; each key has the look of a key by itself.
pub(super) fn ways_runs(ways: &[String], room: usize, look: &Look) -> Vec<Run> {
    let (theme, mut runs, mut used) = (&look.theme, Vec::new(), 0);
    for (n, way) in ways.iter().enumerate() {
        let way = text::fit(way, room, look.glyphs.ellipsis);
        let or = if n > 0 { OR } else { "" };
        used += text::width(or) + text::width(&way);
        if used > room {
            break;
        }
        runs.push(run(or, theme.dim));
        for (n, key) in way.split(' ').enumerate() {
            runs.push(run(if n > 0 { " " } else { "" }, theme.text));
            runs.push(run(key, theme.key));
        }
    }
    runs
}
