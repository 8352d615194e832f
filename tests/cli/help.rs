//! What the program says of itself: help with examples that work as printed, exit codes, manual pages, the demo on a
//! throw-away copy, lists through standard input, and names that nearly match.

use super::{Said, checked, program, refusal, run, said};
use crate::effort::thinned;
use crate::skipped::{Needs, skip};
use clap::CommandFactory;
use std::collections::BTreeSet;
use std::io::Write;
use std::path::Path;
use std::process::Stdio;
use trimside::cli::args::Args;

/// The words of a command line as a shell takes them: blanks part them, quotation marks of both kinds hold them together.
pub fn words(line: &str) -> Vec<String> {
    let mut all = Vec::new();
    let (mut word, mut quote, mut is_open) = (String::new(), None, false);
    for c in line.chars() {
        match (quote, c) {
            (Some(q), c) if c == q => quote = None,
            (None, '"' | '\'') => (quote, is_open) = (Some(c), true),
            (None, ' ') => {
                if is_open {
                    all.push(std::mem::take(&mut word));
                }
                is_open = false;
            }
            _ => {
                word.push(c);
                is_open = true;
            }
        }
    }
    if is_open {
        all.push(word);
    }
    all
}

/// A folder with the files that examples name.
pub fn folder() -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    let put = |name: &str, text: &str| std::fs::write(home.path().join(name), text).unwrap();
    put("shelf.csv", "name,kind,width,height,on_hand\nriver stone,plain sheet,8.5,11,12\n");
    put("counts.csv", "name,count\n\"chalk, A4\",49\n");
    put("list.csv", "name,kind,seller\nwren steps,patterned paper,the mill by the weir\n");
    put("pieces.csv", "name,width,height,count\nnote,4,5.25,6\n");
    put("sheets.csv", "name,width,height,available,cost\nletter,8.5,11,9,1\n");
    let picture = image::RgbImage::from_fn(120, 90, |x, y| {
        let is_white = !(12..108).contains(&x) || !(12..78).contains(&y);
        image::Rgb(if is_white {
            [245, 244, 242]
        } else {
            [[79, 121, 66], [85, 42, 90], [220, 185, 94]][x as usize / 40]
        })
    });
    for name in ["paper.jpg", "garden.jpg"] {
        picture.save(home.path().join(name)).unwrap();
    }
    home
}

pub fn run_in(home: &Path, line: &str) -> Said {
    let all = words(line);
    assert_eq!(all[0], "trimside", "{line}");
    let mut all = all[1..].to_vec();
    // The demo with something on order, for what is asked of orders.
    if all.windows(2).any(|w| w == ["--data", "ordered"]) && !home.join("ordered").exists() {
        let place = ["--demo", "--data", "ordered", "stock", "order", "wren steps", "--packs", "4"];
        assert!(program(home).args(place).output().unwrap().status.success());
    }
    // The bench needs a screen; without one it is the same bench in lines.
    if all == ["--demo"] {
        all.push("--plain".to_owned());
    }
    checked(said(&program(home).args(&all).output().unwrap()), &all)
}

/// Every command with its words, as the program lists them.
fn commands() -> Vec<String> {
    let mut all = vec![String::new()];
    let mut at = 0;
    while at < all.len() {
        let path = all[at].clone();
        let help = help(&path);
        let below =
            help.lines().skip_while(|l| l.trim() != "Commands:").skip(1).take_while(|l| !l.trim().is_empty());
        let names = below.filter_map(|l| l.strip_prefix("  ")).filter_map(|l| l.split(' ').next());
        all.extend(
            names.filter(|n| !n.is_empty()).map(|name| format!("{path} {name}").trim_start().to_owned()),
        );
        at += 1;
    }
    all
}

fn help(path: &str) -> String {
    let line =
        if path.is_empty() { "--help".to_owned() } else { format!("{}|--help", path.replace(' ', "|")) };
    let said = run(&line);
    assert_eq!((said.code, said.note.as_str()), (0, ""), "{line}");
    said.out
}

#[test]
fn each_help_begins_with_two_examples_and_ends_with_the_exit_codes() {
    let all = commands();
    assert!(all.len() > 30, "{all:?}");
    for path in thinned(all, 3) {
        let help = help(&path);
        let lines: Vec<&str> = help.lines().collect();
        assert_eq!(lines[0], "Examples:", "{path}");
        for line in &lines[1..3] {
            assert!(line.starts_with("  trimside "), "{path}: {line}");
        }
        let last: Vec<&str> = lines.iter().rev().take(3).rev().map(|l| l.trim_start()).collect();
        assert!(
            last[0].starts_with("0  ") && last[1].starts_with("1  ") && last[2].starts_with("2  "),
            "{help}"
        );
        // What belongs to this command alone comes first.
        let place = |word: &str| lines.iter().position(|l| l.trim_start().starts_with(word));
        let everywhere = place("For every command:").unwrap_or_else(|| panic!("{path}:\n{help}"));
        for global in ["--data", "--config", "--unit", "--demo", "--plain"] {
            assert!(place(global).unwrap() > everywhere, "{path}: {global}");
        }
        for own in ["--json", "--csv", "--sheet ", "--dry-run", "-h, --help"] {
            assert!(place(own).is_none_or(|at| at < everywhere), "{path}: {own}");
        }
    }
}

/// The two examples at the head of every help.
fn examples_of_help() -> Vec<String> {
    let two = |path: String| -> Vec<String> {
        help(&path).lines().skip(1).take(2).map(|line| line.trim().to_owned()).collect()
    };
    commands().into_iter().flat_map(two).collect()
}

fn examples_of_the_readme() -> Vec<String> {
    let readme = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md")).unwrap();
    let lines = readme.lines().filter(|l| l.starts_with("trimside "));
    lines.map(|line| line.split(" #").next().unwrap().trim().to_owned()).collect()
}

fn examples_of_the_manual() -> Vec<String> {
    let manual = run("manual");
    let parts = manual.out.split(".SH EXAMPLES\n").skip(1).filter_map(|part| part.split("\n.SH ").next());
    // A long line is broken in the source of a page, and one all the same.
    let lines = parts.flat_map(|part| part.split("\n.PP\n")).map(|line| line.replace('\n', " "));
    let plain = |line: String| {
        let line = line.trim().strip_prefix("\\fBtrimside ")?.strip_suffix("\\fR")?;
        let is_one = !line.contains("(1)") && !line.contains("\\fR");
        let line = line.replace("\\-", "-").replace("\\(dq", "\"").replace("\\&", "");
        is_one.then(|| format!("trimside {line}"))
    };
    lines.filter_map(plain).collect()
}

#[test]
fn every_example_of_help_readme_and_manual_works_as_printed() {
    let all = [examples_of_help(), examples_of_the_readme(), examples_of_the_manual()];
    for (examples, least) in all.iter().zip([60, 10, 60]) {
        assert!(examples.len() > least, "{examples:?}");
    }
    // Many stand in all three: each is read by the program's own grammar, and run once, in a home of its own with an empty
    // book and the files that are named.
    let lines: BTreeSet<String> = all.concat().into_iter().collect();
    for line in &lines {
        let read = Args::command().try_get_matches_from(words(line));
        assert!(read.is_ok(), "{line}: {read:?}");
    }
    let lines: Vec<String> = thinned(lines, 8).collect();
    std::thread::scope(|both| {
        for half in lines.chunks(lines.len().div_ceil(2)) {
            both.spawn(move || {
                for line in half {
                    let home = folder();
                    let said = run_in(home.path(), line);
                    assert_eq!(said.code, 0, "{line}\n{}{}", said.out, said.note);
                }
            });
        }
    });
}

#[test]
fn the_demo_is_a_throw_away_copy_for_reading_and_writing_alike() {
    let home = tempfile::tempdir().unwrap();
    let of = |line: &str| run_in(home.path(), line);
    let used = of("trimside stock --demo use \"chalk, letter\" 9");
    assert_eq!(used.code, 0, "{}", used.note);
    assert!(used.note.contains("nothing is kept"), "{}", used.note);
    assert!(used.out.contains("49"), "58 less 9: {}", used.out);
    // The next command finds the demo as it always is, and nothing lies in the home or the temporary folder.
    let listed = of("trimside --demo stock list \"chalk, letter\"");
    assert!(listed.out.contains("58") && !listed.out.contains(" 49 "), "{}", listed.out);
    assert!(listed.note.contains("nothing is kept"));
    assert_eq!(std::fs::read_dir(home.path()).unwrap().count(), 0);
    // A folder is filled once and kept, and says nothing of throwing away.
    let kept = of("trimside stock --demo --data mine use \"chalk, letter\" 9");
    assert!(kept.code == 0 && !kept.note.contains("nothing is kept"), "{}", kept.note);
    let again = of("trimside stock --demo --data mine use \"chalk, letter\" 9");
    assert!(again.out.contains("40"), "{}", again.out);
    // JSON stays alone on standard output.
    let json = of("trimside stock --demo list --json");
    serde_json::from_str::<serde_json::Value>(&json.out).unwrap();
}

fn with_input(home: &Path, line: &str, input: &str) -> Said {
    let mut child = program(home)
        .args(words(line))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(input.as_bytes()).unwrap();
    said(&child.wait_with_output().unwrap())
}

#[test]
fn lists_come_through_standard_input() {
    let home = folder();
    let of = |line: &str, input: &str| {
        let said = with_input(home.path(), line, input);
        assert_eq!(said.code, 0, "{line}: {}", said.note);
        said.out
    };
    let file = |name: &str| std::fs::read_to_string(home.path().join(name)).unwrap();
    let pieces = of("plan --pieces - --sheets sheets.csv --work 1", &file("pieces.csv"));
    let sheets = of("plan --pieces pieces.csv --sheets - --work 1", &file("sheets.csv"));
    assert!(
        pieces.starts_with("2 sheets, cost 2.") && sheets.starts_with("2 sheets, cost 2."),
        "{pieces}{sheets}"
    );
    assert!(of("stock --demo import - --dry-run", &file("shelf.csv")).contains("river stone"));
    assert!(!of("stock --demo count - --dry-run", &file("counts.csv")).is_empty());
    let swatches = "name,hex\nclay,#9c4a32\nmoss,#5f7345\nmist,#cfdadd\n";
    assert!(of("palette nearest \"#5f7346\" --swatches -", swatches).contains("moss"));
    assert!(of("palette trios clay --swatches -", swatches).contains("mist"));
    let both = with_input(home.path(), "plan --pieces - --sheets -", "");
    assert!(both.code == 2 && both.note.contains("only one of --pieces and --sheets"), "{}", both.note);
    let wrong = with_input(home.path(), "plan --pieces - --sheets sheets.csv", "width\nx\n");
    assert_eq!((wrong.code, wrong.out.as_str()), (2, ""), "{}", wrong.note);
}

#[test]
fn a_name_that_nearly_matches_gets_a_question() {
    for (line, question) in [
        ("palette --demo trios \"fern flor\"", "did you mean fern floor?"),
        ("plan --demo --project \"hedgerow notes\"", "did you mean \"Hedgerow notes, class\"?"),
        ("stock --demo class show \"winter a6 sett\"", "did you mean Winter A6 set?"),
        ("mats --demo --export \"gate samples\" --out x.ron", "did you mean Window and gate samples?"),
        ("print kit --demo --project winter --out x.pdf", "did you mean Winter A6 set?"),
        ("stock --demo use \"fern flor, letter\" 1", "fern floor, letter"),
        // Names with commas inside can be told apart.
        ("plan --demo --project zinnia", "there is \"Hedgerow notes, class\", Thank-you batch"),
    ] {
        let home = folder();
        let said = run_in(home.path(), &format!("trimside {line}"));
        assert_eq!((said.code, said.out.as_str()), (2, ""), "{line}");
        assert!(said.note.contains(question), "{line}: {}", said.note);
    }
}

#[test]
fn there_is_a_page_for_every_command_and_each_is_whole() {
    let home = folder();
    let pages = home.path().join("pages");
    std::fs::create_dir(&pages).unwrap();
    let written = program(home.path()).args(["manual", "--into", "pages"]).output().unwrap();
    assert!(written.status.success(), "{}", String::from_utf8_lossy(&written.stderr));
    let paths = commands();
    assert_eq!(std::fs::read_dir(&pages).unwrap().count(), paths.len());
    for path in thinned(&paths, 7) {
        let name = format!("trimside {path}").trim_end().replace(' ', "-");
        let page = std::fs::read_to_string(pages.join(format!("{name}.1"))).unwrap();
        for part in ["NAME", "SYNOPSIS", "EXAMPLES", "FILES", "ENVIRONMENT", "\"EXIT STATUS\"", "SEE ALSO"] {
            let head = |line: &str| {
                line.strip_prefix(".SH ").is_some_and(|l| l.trim_matches('"') == part.trim_matches('"'))
            };
            assert!(page.lines().any(head), "{name}: {part}\n{page}");
        }
        if path.is_empty() {
            assert!(page.contains("trimside\\-stock(1)"), "{page}");
        } else {
            let one = run(&format!("manual|{path}"));
            assert_eq!(one.out, page, "{path}");
        }
    }
    assert!(refusal("manual|stock fly").contains("no page of \"stock fly\""));
    // A reader of manual pages that is at hand finds nothing to complain of.
    let readers = [("mandoc", &["-Tlint"][..]), ("groff", &["-man", "-ww", "-z", "-Tutf8"])];
    let files: Vec<_> = std::fs::read_dir(&pages).unwrap().map(|entry| entry.unwrap().path()).collect();
    let mut complaints = readers.iter().filter_map(|(reader, how)| {
        let read = std::process::Command::new(reader).args(*how).args(&files).output().ok()?;
        Some((
            read.status.success(),
            String::from_utf8_lossy(&[read.stdout, read.stderr].concat()).into_owned(),
        ))
    });
    match complaints.next() {
        Some((is_sound, words)) => assert!(is_sound && words.is_empty(), "{words}"),
        None => skip(Needs::Tool("mandoc"), "manual pages"),
    }
}

#[test]
fn the_version_says_what_a_build_can_do_and_the_readme_ends_with_its_changes() {
    let version = env!("CARGO_PKG_VERSION");
    assert_eq!(run("--version").out, format!("trimside {version}\n"));
    assert_eq!(run("-V").out, format!("trimside {version}\n"));
    let more = run("--version|--verbose").out;
    let schema = trimside::persist::schema::CURRENT.to_string();
    assert!(more.contains(&format!("schema {schema};")) && more.contains("PNG and JPEG"), "{more}");
    let readme = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md")).unwrap();
    let changes = readme.split("\n## Changes\n").nth(1).expect("changes at the end");
    assert!(!changes.contains("\n## "), "they are the end");
    assert_eq!(changes.lines().next().unwrap(), format!("### {version}, {}", trimside::cli::manual::DAY));
    assert!(refusal("--verbose").contains("--version"));
}

#[test]
fn text_is_painted_where_a_terminal_is_or_it_was_asked_for() {
    let home = tempfile::tempdir().unwrap();
    let of = |words: &[&str], around: &[(&str, &str)]| {
        let mut command = program(home.path());
        command.args(["--demo", "stock", "list"]).args(words).envs(around.iter().copied());
        said(&command.output().unwrap()).out
    };
    let plain = of(&[], &[]);
    assert!(plain.starts_with("name ") && !plain.contains('\u{1b}'), "{plain}");
    for (words, around) in [
        (&["--colour", "auto"][..], &[][..]),
        (&["--color", "never"], &[("CLICOLOR_FORCE", "1")]),
        (&[], &[("CLICOLOR_FORCE", "1"), ("NO_COLOR", "1")]),
        (&[], &[("CLICOLOR_FORCE", "0")]),
    ] {
        assert_eq!(of(words, around), plain, "{words:?} {around:?}");
    }
    let painted = of(&["--colour", "always"], &[("NO_COLOR", "1")]);
    assert!(painted.starts_with("\u{1b}[1mname "), "{painted}");
    assert_eq!(of(&["--color=always"], &[]), painted);
    assert_eq!(of(&[], &[("CLICOLOR_FORCE", "1")]), painted);
    let mut bare = painted.clone();
    for code in ["\u{1b}[1m", "\u{1b}[33m", "\u{1b}[0m"] {
        bare = bare.replace(code, "");
    }
    assert_eq!(bare, plain);
    // JSON and CSV are never painted; a wrong word is refused with the right ones.
    assert!(!of(&["--colour", "always", "--json"], &[]).contains('\u{1b}'));
    assert!(!of(&["--colour", "always", "--csv"], &[]).contains('\u{1b}'));
    assert!(refusal("stock|list|--colour|red").contains("auto, always, never"));
}
