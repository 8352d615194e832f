//! How long an edit takes to be acknowledged, beside the disk's own time: a plain append and sync of as many bytes to
//! a file beside the book, just before each edit. Once with the keeper alone, once key to the mark in the header.

use super::{Bench, COLUMNS, FRAME_ENDS, ROWS, ms};
use std::fs::{File, OpenOptions};
use std::io::Write;
use std::path::Path;
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};
use trimside::app::action::Action;
use trimside::app::effect::Effect;
use trimside::app::keys::Key;
use trimside::app::model::Model;
use trimside::app::pane::Pane;
use trimside::app::update::update;
use trimside::domain::screen::Screen;
use trimside::persist::Store;
use trimside::runtime::keeper::Keeper;

/// Edits in each way.
const ROUNDS: usize = 400;
/// No edit takes as long.
const LIMIT: Duration = Duration::from_secs(10);

/// Measures both ways and prints them.
pub fn measure(home: &Path) {
    let (bench, _) = Bench::start(home, &["--demo", "--data", "saves"]);
    through_the_screen(bench, home);
    keeper_alone(home);
}

/// The plain way: a file that stays open, as many bytes, one sync.
struct Plain {
    file: File,
    bytes: Vec<u8>,
}

impl Plain {
    fn beside(home: &Path) -> Self {
        // Not in the folder itself: the program looks at it whenever anything changes there.
        let file =
            OpenOptions::new().append(true).create(true).open(home.join("plain")).expect("a plain file");
        Self { file, bytes: vec![b'x'; 1_000] }
    }

    /// From now on as many bytes as the journal has grown by; it is shorter than before where a new one was begun.
    fn as_many_as(&mut self, now: u64, before: u64) {
        if now > before {
            self.bytes.resize((now - before) as usize, b'x');
        }
    }

    fn time(&mut self) -> Duration {
        let began = Instant::now();
        self.file.write_all(&self.bytes).expect("bytes are taken");
        self.file.sync_all().expect("a sync");
        began.elapsed()
    }
}

/// Bytes of all journals in the folder.
fn journal_bytes(folder: &Path) -> u64 {
    let files = std::fs::read_dir(folder).expect("the folder").filter_map(Result::ok);
    let journals = files.filter(|f| f.file_name().to_string_lossy().contains("journal"));
    journals.filter_map(|f| f.metadata().ok()).map(|m| m.len()).sum()
}

fn through_the_screen(mut bench: Bench, home: &Path) {
    let folder = home.join("saves");
    let mut screen = vt100::Parser::new(ROWS, COLUMNS, 0);
    bench.send("2");
    bench.quiet();
    let mut plain = Plain::beside(home);
    let (mut frames, mut saved, mut syncs) = (Vec::new(), Vec::new(), Vec::new());
    for n in 0..ROUNDS {
        screen.process(&std::mem::take(&mut bench.raw));
        let before = journal_bytes(&folder);
        syncs.push(plain.time());
        let began = Instant::now();
        // A mark to the right and back: each is an edit of the book.
        bench.send(["l", "h"][n % 2]);
        let mut ended = 0;
        loop {
            assert!(bench.frame(LIMIT), "no frame after an edit");
            let now = began.elapsed();
            let raw = std::mem::take(&mut bench.raw);
            ended += raw.windows(FRAME_ENDS.len()).filter(|w| *w == FRAME_ENDS).count();
            screen.process(&raw);
            if frames.len() == n {
                frames.push(now);
            }
            // The key's own frame says that it is being saved; a later one that it is.
            let header = screen.screen().rows(0, COLUMNS).next().unwrap_or_default();
            if ended > 1 && header.trim_end().ends_with("saved") {
                saved.push(now);
                break;
            }
        }
        plain.as_many_as(journal_bytes(&folder), before);
    }
    bench.leave();
    println!("saves: {} bytes an edit, {ROUNDS} edits", plain.bytes.len());
    tell("plain write and sync", &mut syncs, None);
    tell("key to frame", &mut frames, Some(&syncs));
    tell("key to the saved mark", &mut saved, Some(&syncs));
}

fn keeper_alone(home: &Path) {
    let folder = home.join("saves");
    let mut store = Store::open(&folder).expect("the folder opens");
    let fresh = store.fresh();
    let today = jiff::civil::date(2026, 11, 25);
    let mut model = Model::new(fresh.book, fresh.history, today, Screen::default());
    model.epoch = fresh.epoch;
    model.pane = Pane::Mats;
    model.mats.layer = trimside::app::input::list::Cursor::at(1);
    let (post, news) = channel();
    let keeper = Keeper::start(store, move |action| drop(post.send(action))).expect("a thread");
    let mut plain = Plain::beside(home);
    let (mut saved, mut syncs) = (Vec::new(), Vec::new());
    for n in 0..ROUNDS {
        let before = journal_bytes(&folder);
        syncs.push(plain.time());
        let effects = update(&mut model, Action::Key(Key::char(['l', 'h'][n % 2])));
        let began = Instant::now();
        let mut kept = 0;
        for effect in effects {
            if let Effect::Save { epoch, entry } = effect {
                kept += 1;
                assert!(keeper.keep(epoch, *entry), "the keeper is there");
            }
        }
        assert_eq!(kept, 1, "one edit a key");
        let action = wait_for_saved(&news);
        saved.push(began.elapsed());
        update(&mut model, action);
        plain.as_many_as(journal_bytes(&folder), before);
    }
    assert_eq!(keeper.finish(&mut |_| (), &mut |_| false), None);
    tell("plain write and sync", &mut syncs, None);
    tell("edit to the keeper's word", &mut saved, Some(&syncs));
}

fn wait_for_saved(news: &Receiver<Action>) -> Action {
    loop {
        let action = news.recv_timeout(LIMIT).expect("word of the edit");
        if matches!(action, Action::Saved(_)) {
            return action;
        }
    }
}

/// Prints the middle and the slowest hundredth; beside the plain way the ratio of both.
fn tell(what: &str, all: &mut [Duration], plain: Option<&[Duration]>) {
    all.sort();
    let at = |all: &[Duration], share: f64| ms(all[((all.len() - 1) as f64 * share) as usize]);
    let (middle, slow) = (at(all, 0.5), at(all, 0.99));
    let ratio =
        plain.map(|p| format!(", {:.2} and {:.2} times plain", middle / at(p, 0.5), slow / at(p, 0.99)));
    println!("  {what}: p50 {middle:.2} ms, p99 {slow:.2} ms{}", ratio.unwrap_or_default());
}
