//! The choices of the print overlay: label sheets, the line and the code at the foot, both sides of a chart, strips.

use super::harness::Bench;
use trimside::app::facts;
use trimside::app::memory;
use trimside::app::overlay::Overlay;
use trimside::app::printing::choices::label_sheet_of;
use trimside::app::printing::{PageKind, PagePreview, PrintDesk};
use trimside::domain::pages::frame::PrintPaper;
use trimside::domain::pages::label_sheet;
use trimside::domain::pages::labels::LabelRun;
use trimside::domain::pages::trios::StripForm;

/// A bench with the overlay on a kind of page.
fn on(kind: PageKind) -> Bench {
    let row = PageKind::ALL.iter().position(|k| *k == kind).unwrap();
    let mut bench = Bench::demo();
    bench.folder = Some(tempfile::tempdir().unwrap());
    bench.press("Ctrl-p g");
    bench.press(&"j ".repeat(row));
    bench
}

fn desk(bench: &Bench) -> &PrintDesk {
    match bench.model.top() {
        Some(Overlay::Print(desk)) => desk,
        other => panic!("no print overlay but {other:?}"),
    }
}

fn pages(bench: &Bench) -> (String, String) {
    match &desk(bench).preview {
        PagePreview::Pages(text) => (text.count.clone(), text.lines.join("\n")),
        other => panic!("no pages: {other:?}"),
    }
}

/// The sentence in the status line.
fn said(bench: &Bench) -> String {
    bench.model.status.as_ref().map(|s| s.text.clone()).unwrap_or_default()
}

fn fact(bench: &Bench, name: &str) -> String {
    let all = facts::facts(&bench.model);
    all.into_iter().find(|f| f.label == name).map_or_else(|| panic!("no fact {name}"), |f| f.text)
}

#[test]
fn labels_lie_on_the_sheet_that_is_chosen_from_the_label_that_is_free() {
    let mut bench = on(PageKind::Labels);
    assert_eq!(label_sheet_of(&bench.model, PrintPaper::Letter).name, "letter 30");
    let many = bench.model.book.swatches().iter().count();
    bench.press("s Ctrl-u '30' Enter");
    assert_eq!(bench.model.print.run.start, 30);
    // One label on the first sheet, thirty on each further one.
    let sheets = 1 + (many - 1).div_ceil(30);
    assert!(pages(&bench).0.starts_with(&format!("{sheets} pages")), "{:?}", pages(&bench).0);
    assert_eq!(fact(&bench, "print start"), "label 30 of 30 (key s)");
    // The next sheet has no label 30: the run begins at its first label.
    bench.press("l");
    let sheet = label_sheet_of(&bench.model, PrintPaper::Letter);
    assert_ne!(sheet.name, "letter 30");
    assert!(sheet.count() >= bench.model.print.run.start);
    let name = sheet.name.clone();
    assert!(pages(&bench).1.contains(&name), "{}", pages(&bench).1);
    // Round once: every sheet comes, and the first again.
    let mut seen = vec![name];
    for _ in 1..label_sheet::built_in().len() {
        bench.press("l");
        seen.push(label_sheet_of(&bench.model, PrintPaper::Letter).name.clone());
    }
    seen.sort();
    seen.dedup();
    assert_eq!(seen.len(), label_sheet::built_in().len());
}

#[test]
fn what_is_typed_for_labels_is_refused_in_one_sentence_and_stays_to_be_mended() {
    let mut bench = on(PageKind::Labels);
    bench.press("s Ctrl-u '31' Enter");
    assert_eq!(said(&bench), "Not taken: label 31 is not on the sheet: it has 30, so start at 1 to 30.");
    assert!(desk(&bench).typing.is_some() && desk(&bench).entry.text() == "31");
    bench.press("Ctrl-u 'last' Enter");
    assert_eq!(said(&bench), "Not taken: \"last\" is not a label: the sheet has 30, so start at 1 to 30.");
    bench.press("Esc n Ctrl-u '0.3,0' Enter");
    assert!(said(&bench).contains("in steps of 0.5, such as 0.5,-1"), "{}", said(&bench));
    bench.press("Ctrl-u '0.5,10.5' Enter");
    assert!(said(&bench).contains("use -10 to 10 mm"), "{}", said(&bench));
    assert_eq!(bench.model.print.run, LabelRun::default(), "nothing refused was taken");
    bench.press("Ctrl-u '0.5,-1' Enter");
    assert_eq!((bench.model.print.run.right, bench.model.print.run.down), (1, -2));
    assert_eq!(fact(&bench, "print nudge"), "0.5,-1 mm (key n)");
    // Esc leaves what was chosen.
    bench.press("n Ctrl-u '4,4' Esc");
    assert_eq!((bench.model.print.run.right, bench.model.print.run.down), (1, -2));
    assert_eq!(desk(&bench).kind(), PageKind::Labels, "Esc in a line closes only the line");
}

#[test]
fn outlines_arriving_colours_and_patches_change_the_labels() {
    let mut bench = on(PageKind::Labels);
    let all = pages(&bench).1;
    bench.press("a");
    let arriving = pages(&bench).1;
    assert!(arriving.lines().count() < all.lines().count(), "{arriving}");
    bench.press("a t");
    let has_fill = |lines: &str| lines.lines().any(|l| l.contains("drawn: ") && l.contains(" fill"));
    assert!(has_fill(&pages(&bench).1) && !has_fill(&all), "{}", pages(&bench).1);
    bench.press("o");
    let (count, lines) = pages(&bench);
    assert!(count.starts_with("1 page of") && lines.contains("hold it behind the label sheet"), "{lines}");
    assert_eq!(fact(&bench, "print outlines"), "test page (key o)");
    // The choices of labels are no choices of other pages.
    bench.press("g o a t l s n b r e");
    assert!(desk(&bench).typing.is_none() && desk(&bench).kind() == PageKind::Ruler);
    assert!(bench.model.print.run.outlines);
}

#[test]
fn a_line_and_a_code_of_the_makers_own_stand_on_every_page() {
    let mut bench = on(PageKind::Ruler);
    bench.press("w 'Fern and ink, winter class' Enter x 'see you in spring' Enter");
    let (_, lines) = pages(&bench);
    assert!(lines.contains("Fern and ink, winter class") && lines.contains("code"), "{lines}");
    bench.press("j j j j j");
    assert!(pages(&bench).1.contains("Fern and ink, winter class"), "{}", pages(&bench).1);
    bench.press("Enter");
    let file = bench.folder.as_ref().unwrap().path().join("swatches.pdf");
    assert!(std::fs::read(file).is_ok_and(|bytes| bytes.starts_with(b"%PDF")));
    // Too long a line is refused where it is typed, too long a code where it is drawn; both can be taken back.
    bench.press("Ctrl-p g w");
    bench.press(&format!("'{}' Enter", "x".repeat(121)));
    assert!(said(&bench).contains("120 fit: shorten it"), "{}", said(&bench));
    bench.press("Esc x Ctrl-u");
    bench.press(&format!("'{}' Enter", "long ".repeat(100)));
    assert!(matches!(&desk(&bench).preview, PagePreview::Refused(why) if why.contains("about 200 letters")));
    bench.press("Enter");
    assert!(said(&bench).starts_with("Not printed: the code's text has 499 bytes"), "{}", said(&bench));
    bench.press("x Ctrl-u Enter w Ctrl-u Enter");
    let lines = pages(&bench).1;
    assert!(!lines.contains("Fern and ink") && !lines.contains(" code"), "{lines}");
}

#[test]
fn a_chart_has_another_format_on_its_back() {
    let mut bench = on(PageKind::Chart);
    let one = pages(&bench).0;
    assert!(one.starts_with("1 page"), "{one}");
    bench.press("b 'tiny' Enter");
    assert!(said(&bench).starts_with("The back is not taken: \"tiny\" is not a sheet"), "{}", said(&bench));
    bench.press("Ctrl-u '12x12' Enter");
    let (count, lines) = pages(&bench);
    let number: usize = count.split(' ').next().unwrap().parse().unwrap();
    assert!(number.is_multiple_of(2), "{count}");
    assert!(lines.contains("Front. Print both sides") && lines.contains("Back. Cut on the front's lines"));
    assert!(lines.contains("Yield of letter") && lines.contains("Yield of 12x12"), "{lines}");
    bench.press("b Ctrl-u Enter");
    assert_eq!(pages(&bench).0, one);
}

#[test]
fn strips_are_fans_or_rings_printed_or_empty() {
    let mut bench = on(PageKind::Trios);
    let ring = pages(&bench).1;
    bench.press("r");
    assert_eq!(bench.model.print.form, StripForm::Fan);
    assert_ne!(pages(&bench).1, ring);
    bench.press("r e");
    assert_ne!(pages(&bench).1, ring);
    assert_eq!(fact(&bench, "print empty"), "yes (key e)");
}

#[test]
fn what_is_chosen_is_there_again_after_a_restart_but_not_what_was_for_once() {
    let mut bench = on(PageKind::Labels);
    bench.press(
        "l l s Ctrl-u '3' Enter n Ctrl-u '-1.5,2' Enter o a t g w 'Fern and ink' Enter x 'hello' Enter",
    );
    bench.press("j b '12x12' Enter");
    let text = memory::to_text(&bench.model);
    let mut again = Bench::demo();
    memory::restore(&mut again.model, &text);
    let (was, now) = (&bench.model.print, &again.model.print);
    assert_eq!((&now.footer, &now.code, &now.back), (&was.footer, &was.code, &was.back));
    assert_eq!(
        (now.footer.as_str(), now.code.as_str(), now.back.as_str()),
        ("Fern and ink", "hello", "12x12")
    );
    assert_eq!(now.label_sheet, was.label_sheet);
    assert_eq!(
        now.run,
        LabelRun { right: -3, down: 4, ..LabelRun::default() },
        "a fresh sheet, no test page"
    );
    assert!(!now.only_arriving && now.patches);
    // A text of an older bench, or one that says nonsense, leaves what is usual.
    memory::restore(&mut again.model, "(print:(nudge:(900,0),label_sheet:\"gone\"))");
    assert_eq!(again.model.print.run, LabelRun::default());
    assert_eq!(label_sheet_of(&again.model, PrintPaper::A4).name.to_lowercase(), "a4 21");
}

#[test]
fn own_label_sheets_come_first_and_a_paste_goes_into_the_line() {
    let mut bench = on(PageKind::Labels);
    let own = "[(name: \"my tags\", paper: \"210x297\", across: 2, down: 3, label: \"60x40\", left: \"10\", top: \"12\", pitch_x: \"70\", pitch_y: \"45\")]";
    let (sheets, problems) = label_sheet::read_all(own);
    assert!(problems.is_empty(), "{problems:?}");
    bench.model.label_sheets = sheets;
    bench.model.print.label_sheet = "My  Tags".into();
    bench.press("s Ctrl-u");
    bench.act(trimside::app::action::Action::Paste("6".into()));
    bench.press("Enter");
    assert_eq!(bench.model.print.run.start, 6);
    assert!(pages(&bench).1.contains("my tags"), "{}", pages(&bench).1);
    assert!(bench.text(80, 24).contains("label 6 of 6"), "{}", bench.text(80, 24));
}

#[test]
fn tab_completes_the_path_of_the_file() {
    let folder = tempfile::tempdir().unwrap();
    for name in ["labels-spring.pdf", "labels-autumn.pdf", "chart.pdf"] {
        std::fs::write(folder.path().join(name), "").unwrap();
    }
    let mut bench = on(PageKind::Ruler);
    let start = folder.path().display().to_string();
    bench.press(&format!("f Ctrl-u '{start}/ch' Tab"));
    assert_eq!(desk(&bench).file.text(), format!("{start}/chart.pdf"));
    bench.press(&format!("Ctrl-u '{start}/la' Tab"));
    assert_eq!(desk(&bench).file.text(), format!("{start}/labels-"), "as much as they share");
    bench.press("Tab");
    let first = desk(&bench).file.text().to_owned();
    bench.press("Tab");
    let second = desk(&bench).file.text().to_owned();
    assert!(first != second && first.ends_with(".pdf") && second.ends_with(".pdf"), "{first} {second}");
    bench.press(&format!("Ctrl-u '{start}/nothing' Tab"));
    assert!(said(&bench).contains("No file here is called"), "{}", said(&bench));
}

#[test]
fn the_kind_in_hand_is_seen_however_low_the_screen_is() {
    for (width, height) in [(60, 18), (80, 24), (120, 36)] {
        for (keys, name) in [("3 Ctrl-p g", "ruler"), ("3 Ctrl-p G", "key card")] {
            let bench = Bench::demo().keys(keys);
            let text = bench.text(width, height);
            let is_picked = text.lines().any(|line| line.contains(&format!("▌{name}")));
            assert!(is_picked, "{width}x{height}, {name}:\n{text}");
        }
    }
}
