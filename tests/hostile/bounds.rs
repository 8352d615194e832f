//! Questions and files at and beyond the limits: an answer in good time that says what is proved, or one sentence. The
//! times here are far above what is kept to on a machine at rest; before there were budgets these took minutes to hours.

use crate::cli::{Said, program, said};
use std::fmt::Write as _;
use std::fs::File;
use std::path::Path;
use std::time::{Duration, Instant};

/// Long enough for an unoptimised build on a loaded machine.
const DEADLINE: Duration = Duration::from_secs(90);

/// Asks, with the answer in files, which take any length.
fn ask(home: &Path, line: &str) -> Said {
    let (out, note) = (home.join("out"), home.join("note"));
    let mut command = program(home);
    command.args(line.split('|')).stdout(File::create(&out).unwrap()).stderr(File::create(&note).unwrap());
    let mut child = command.spawn().unwrap();
    let end = Instant::now() + DEADLINE;
    while child.try_wait().unwrap().is_none() {
        if Instant::now() > end {
            child.kill().unwrap();
            child.wait().unwrap();
            panic!("{line}: no answer");
        }
        std::thread::sleep(Duration::from_millis(10));
    }
    let status = child.wait().unwrap();
    let (stdout, stderr) = (std::fs::read(out).unwrap(), std::fs::read(note).unwrap());
    said(&std::process::Output { status, stdout, stderr })
}

#[test]
fn odd_sizes_are_answered_and_say_what_is_proved() {
    let home = tempfile::tempdir().unwrap();
    let lines = [
        "yield|0.511x0.733|--sheet|SHEET|--max-cut|20|--json",
        "yield|0.375x0.6875|--sheet|SHEET|--largest-offcut|--json",
        "yield|0.377x0.591|--sheet|24x36|--stop-cuts|--largest-offcut|--json",
        "yield|13.7x21.3mm|--sheet|100x100|--stop-cuts|--json",
    ];
    // The larger ones take long without optimisation.
    let (sheet, count) = if crate::effort::is_long() { ("25x38", 4) } else { ("12x17", 2) };
    for line in lines.into_iter().take(count) {
        let line = &line.replace("SHEET", sheet);
        let done = ask(home.path(), line);
        assert_eq!(done.code, 0, "{line}: {}", done.note);
        let answer: serde_json::Value = serde_json::from_str(&done.out).unwrap();
        let number = |name: &str| answer[name].as_u64().unwrap();
        assert!(number("best") >= number("upright").max(number("turned")), "{line}");
        assert_eq!(answer["layout"]["pieces"].as_array().unwrap().len() as u64, number("best"), "{line}");
        assert_eq!(answer["proved"].as_bool().unwrap(), number("best") == number("bound"), "{line}");
        if !answer["chosen"].as_bool().unwrap() {
            assert!(done.note.contains("not every layout"), "{line}: {}", done.note);
        }
    }
}

#[test]
fn a_chart_of_the_largest_sheet_ends_and_marks_what_it_did_not_prove() {
    let home = tempfile::tempdir().unwrap();
    let largest = if crate::effort::is_long() { "100x100" } else { "30x40" };
    let done = ask(home.path(), &format!("chart|--sheet|{largest}|--json"));
    assert_eq!(done.code, 0, "{}", done.note);
    let answer: serde_json::Value = serde_json::from_str(&done.out).unwrap();
    let cells = answer["cells"].as_array().unwrap();
    let open = cells.iter().filter(|c| !c["proved"].as_bool().unwrap()).count();
    assert!(open < cells.len() / 2, "{open} of {}", cells.len());
    assert_eq!(open > 0, done.note.contains("were not searched to the end"), "{}", done.note);
    // Nothing is left open on real paper.
    let usual = ask(home.path(), "chart|--sheet|12x18|--json");
    assert!(!usual.out.contains("\"proved\":false") && usual.note.is_empty(), "{}", usual.note);
}

#[test]
fn ten_thousand_pieces_and_too_few_sheets_keep_to_their_seconds() {
    let home = tempfile::tempdir().unwrap();
    let mut pieces = String::from("name,width,height,count,turn,sheet\n");
    for n in 0..10_000_u32 {
        let side = |by: u32| 1.0 + f64::from(n.wrapping_mul(by) % 80) / 16.0;
        writeln!(pieces, "p{n},{},{},1,yes,", side(7_919), side(104_729)).unwrap();
    }
    std::fs::write(home.path().join("pieces.csv"), pieces).unwrap();
    let sheets = "name,width,height,available,cost\nletter,8.5,11,200,1\n";
    std::fs::write(home.path().join("sheets.csv"), sheets).unwrap();
    let done = ask(home.path(), "plan|--pieces|pieces.csv|--sheets|sheets.csv|--seconds|1|--json");
    assert_eq!(done.code, 0, "{}", done.note.lines().next().unwrap_or_default());
    let answer: serde_json::Value = serde_json::from_str(&done.out).unwrap();
    assert_eq!(answer["totals"]["sheets"].as_u64(), Some(200));
}

/// Sheets that hold hundreds of pieces: each step, each ranking and each way to cut them took long.
#[test]
fn small_pieces_on_large_sheets_keep_to_their_seconds() {
    let home = tempfile::tempdir().unwrap();
    let mut pieces = String::from("name,width,height,count,turn,sheet\n");
    for n in 0..400_u32 {
        let side = |by: u32| 0.375 + f64::from(n.wrapping_mul(by) % 61) / 64.0;
        writeln!(pieces, "p{n},{:.3},{:.3},4,yes,", side(7_919), side(104_729)).unwrap();
    }
    std::fs::write(home.path().join("pieces.csv"), pieces).unwrap();
    std::fs::write(home.path().join("sheets.csv"), "name,width,height,available,cost\nmill,60,80,,1\n")
        .unwrap();
    for more in ["", "|--stop-cuts"] {
        let done = ask(
            home.path(),
            &format!("plan|--pieces|pieces.csv|--sheets|sheets.csv|--seconds|1|--json{more}"),
        );
        assert_eq!(done.code, 0, "{}", done.note.lines().next().unwrap_or_default());
        let answer: serde_json::Value = serde_json::from_str(&done.out).unwrap();
        assert_eq!(answer["unplaced"].as_array().map_or(0, Vec::len), 0);
    }
}

/// Many rows of sheets: the bounds go through them for every pair of scales.
#[test]
fn many_rows_of_sheets_keep_to_their_seconds() {
    let home = tempfile::tempdir().unwrap();
    let (mut pieces, mut sheets) = (
        String::from("name,width,height,count,turn,sheet\n"),
        String::from("name,width,height,available,cost\n"),
    );
    for n in 0..40_u32 {
        writeln!(
            pieces,
            "p{n},{:.3},{:.3},30,yes,",
            0.7 + f64::from(n) / 20.0,
            0.9 + f64::from(n * 7 % 40) / 20.0
        )
        .unwrap();
    }
    for n in 0..300_u32 {
        writeln!(
            sheets,
            "s{n},{:.3},{:.3},2,1",
            8.0 + f64::from(n) / 40.0,
            8.0 + f64::from(n * 7 % 300) / 40.0
        )
        .unwrap();
    }
    std::fs::write(home.path().join("pieces.csv"), pieces).unwrap();
    std::fs::write(home.path().join("sheets.csv"), &sheets).unwrap();
    let line = "plan|--pieces|pieces.csv|--sheets|sheets.csv|--seconds|1|--stop-cuts|--json";
    let done = ask(home.path(), line);
    assert_eq!(done.code, 0, "{}", done.note.lines().next().unwrap_or_default());
    for n in 300..1_001_u32 {
        writeln!(sheets, "s{n},9,11,2,1").unwrap();
    }
    std::fs::write(home.path().join("sheets.csv"), &sheets).unwrap();
    let done = ask(home.path(), line);
    assert!(done.code == 2 && done.note.contains("more than 1000 rows"), "{}", done.note);
}

#[test]
fn what_other_programs_save_is_told_what_would_do() {
    let home = tempfile::tempdir().unwrap();
    let wide: Vec<u8> = "name,kind,count\nfern,other,3\n".encode_utf16().flat_map(u16::to_le_bytes).collect();
    std::fs::write(home.path().join("good.csv"), "name,width,height,available,cost\na,8,10,3,1\n").unwrap();
    for (name, bytes) in [
        ("utf16", [b"\xff\xfe".as_slice(), &wide].concat()),
        ("latin", b"name,kind,count\ncaf\xe9,other,3\n".to_vec()),
        ("semicolons", b"name;kind;count\nfern;other;3\n".to_vec()),
        ("tabs", b"name\tkind\tcount\nfern\tother\t3\n".to_vec()),
        ("workbook", b"PK\x03\x04\x14\x00".to_vec()),
    ] {
        std::fs::write(home.path().join("list.csv"), bytes).unwrap();
        for line in [
            "stock|import|list.csv",
            "stock|count|list.csv",
            "palette|nearest|#4f7942|--swatches|list.csv",
            "plan|--pieces|list.csv|--sheets|good.csv",
        ] {
            let done = ask(home.path(), line);
            assert_eq!(
                (done.code, done.out.as_str(), done.note.lines().count()),
                (2, "", 1),
                "{name} {line}"
            );
            let would_do = "save it as CSV, UTF-8, with commas";
            assert!(done.note.contains(would_do), "{name} {line}: {}", done.note);
        }
    }
    // A line of nothing but commas costs no memory worth speaking of.
    std::fs::write(
        home.path().join("list.csv"),
        [b"name,kind\n".as_slice(), &b",".repeat(7_000_000)].concat(),
    )
    .unwrap();
    let done = ask(home.path(), "stock|import|list.csv");
    assert!(done.code == 2 && done.note.contains("no list is so wide"), "{}", done.note);
    std::fs::write(home.path().join("list.csv"), "name,kind,on_hand\nfern,other,5000000000\n").unwrap();
    let done = ask(home.path(), "stock|import|list.csv");
    assert!(done.code == 2 && done.note.contains("from 0 to 1000000"), "{}", done.note);
}

#[test]
fn no_library_speaks_to_a_person() {
    let home = tempfile::tempdir().unwrap();
    let data = home.path().join("data");
    std::fs::create_dir(&data).unwrap();
    let deep = "[".repeat(3_000);
    for (name, text) in [
        ("a.ron", deep.clone()),
        ("b.ron", format!("(card: (layers: {deep}")),
        ("c.ron", format!("(theme: {deep}")),
    ] {
        std::fs::write(home.path().join(name), &text).unwrap();
        std::fs::write(data.join("formats.ron"), &text).unwrap();
        std::fs::write(data.join("labels.ron"), &text).unwrap();
        for line in [
            format!("mats|{name}"),
            format!("mats|--import|{name}"),
            format!("print|labels|--label-file|{name}|--labels|x|--preview"),
            format!("restore|{name}"),
            format!("--config|{name}|--plain|--data|data"),
        ] {
            let done = ask(home.path(), &line);
            let all = format!("{}{}", done.out, done.note);
            assert!(
                !all.contains("recursion") && !all.contains("serde") && !all.contains("try increasing"),
                "{line}: {all}"
            );
        }
    }
}

#[cfg(unix)]
#[test]
fn a_data_folder_that_is_a_link_to_nowhere_is_said_so() {
    let home = tempfile::tempdir().unwrap();
    std::os::unix::fs::symlink(home.path().join("nowhere"), home.path().join("data")).unwrap();
    let done = ask(home.path(), "stock|list|--data|data");
    assert_eq!((done.code, done.note.lines().count()), (1, 1));
    assert!(done.note.contains("is a link to something that is not there"), "{}", done.note);
}

#[test]
fn a_jpeg_that_is_cut_short_is_refused() {
    let home = tempfile::tempdir().unwrap();
    let whole = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fuzz/corpus/image/plain.jpg");
    let whole = std::fs::read(whole).unwrap();
    let photo = |bytes: &[u8]| {
        std::fs::write(home.path().join("photo.jpg"), bytes).unwrap();
        trimside::exchange::read::image::read(bytes)
    };
    assert!(photo(&whole).is_ok());
    for part in [50, 75, 95, 99] {
        assert!(photo(&whole[..whole.len() * part / 100]).is_err(), "{part} %");
    }
    photo(&whole[..whole.len() - 2]).unwrap_err();
    let done = ask(home.path(), "palette|photo|photo.jpg");
    assert_eq!((done.code, done.out.as_str(), done.note.lines().count()), (2, "", 1), "{}", done.note);
    assert!(done.note.contains("cut short"), "{}", done.note);
}

#[test]
fn names_that_look_the_same_are_the_same_and_names_that_nobody_sees_are_refused() {
    let home = tempfile::tempdir().unwrap();
    let import = |text: &str| {
        std::fs::write(home.path().join("list.csv"), text).unwrap();
        ask(home.path(), "stock|import|list.csv|--data|data")
    };
    assert_eq!(import("name,kind,on_hand\ncaf\u{e9},other,5\n").code, 0);
    let used = ask(home.path(), "stock|use|cafe\u{301}|2|--data|data");
    assert!(used.code == 0 && used.out.contains("3 on hand"), "{} {}", used.out, used.note);
    for name in ["\u{200b}", "\u{2060}\u{feff}", "\u{3164}"] {
        let done = import(&format!("name,kind\n{name},other\n"));
        assert_eq!((done.code, done.out.as_str()), (2, ""), "{name:?}: {}", done.note);
    }
    assert_eq!(ask(home.path(), "stock|receive|caf\u{e9}|4|--lot|L-7|--data|data").code, 0);
    for form in ["--json", "--csv"] {
        let log = ask(home.path(), &format!("stock|log|{form}|--data|data"));
        assert!(log.out.contains("L-7"), "{form}: {}", log.out);
    }
}

#[test]
fn a_reader_that_goes_away_ends_the_plain_mode_quietly() {
    let home = tempfile::tempdir().unwrap();
    let mut child = program(home.path())
        .args(["--demo", "--plain"])
        .stdin(std::process::Stdio::piped())
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    // The program may be gone before all of it is taken.
    let _ = std::io::Write::write_all(&mut child.stdin.take().unwrap(), &b"4\nj\n".repeat(2_000));
    let done = child.wait_with_output().unwrap();
    let note = String::from_utf8_lossy(&done.stderr);
    assert!(done.status.success() && note.is_empty(), "{:?} {note}", done.status);
}

#[test]
fn a_strict_plan_that_leaves_pieces_out_ends_with_1() {
    let home = tempfile::tempdir().unwrap();
    std::fs::write(home.path().join("p.csv"), "name,width,height,count,turn,sheet\nmat,5,7,9,yes,\n")
        .unwrap();
    std::fs::write(home.path().join("s.csv"), "name,width,height,available,cost\nletter,8.5,11,1,1\n")
        .unwrap();
    let line = "plan|--pieces|p.csv|--sheets|s.csv|--work|1";
    assert_eq!(ask(home.path(), line).code, 0);
    let strict = ask(home.path(), &format!("{line}|--strict"));
    assert_eq!(
        (strict.code, strict.out.as_str(), strict.note.lines().count()),
        (1, "", 1),
        "{}",
        strict.note
    );
    assert!(strict.note.contains("7 pieces without a place"), "{}", strict.note);
}
