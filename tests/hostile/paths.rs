//! Files are written inside the data folder or to the path that was given, and nowhere else.

use crate::cli::{program, said};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// Every file under a folder.
fn files(dir: &Path) -> BTreeSet<PathBuf> {
    let mut all = BTreeSet::new();
    let mut folders = vec![dir.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() && !path.is_symlink() {
                folders.push(path);
            } else {
                all.insert(path);
            }
        }
    }
    all
}

#[test]
fn what_is_written_lies_in_the_data_folder_or_at_the_path_given() {
    let home = tempfile::tempdir().unwrap();
    let (data, out) = (home.path().join("data"), home.path().join("out"));
    std::fs::create_dir(&out).unwrap();
    let list = home.path().join("list.csv");
    std::fs::write(&list, "name,kind,on_hand,place\n../../evil,other,3,../../up\n/etc/evil,other,4,\n")
        .unwrap();
    let run = |words: &[&str]| {
        let done = program(home.path()).args(words).arg("--data").arg(&data).output().unwrap();
        said(&done)
    };
    let (svg, pdf) = (out.join("swatches.svg"), out.join("../out/labels.pdf"));
    let commands: [&[&str]; 7] = [
        &["stock", "import", list.to_str().unwrap()],
        &["stock", "use", "../../evil", "1", "--job", "../../../job"],
        &["stock", "receive", "/etc/evil", "1"],
        &["restore"],
        &["restore", "../../list"],
        &["print", "ruler", "--page", "1", "--out", svg.to_str().unwrap()],
        &["print", "chart", "--out", pdf.to_str().unwrap()],
    ];
    for words in commands {
        let done = run(words);
        assert!(done.code == 0 || words.len() == 2 && done.code == 2, "{words:?}: {}", done.note);
    }
    let outside = files(home.path()).into_iter().filter(|f| !f.starts_with(&data));
    let expected = [list, out.join("labels.pdf"), svg];
    assert_eq!(outside.collect::<Vec<_>>(), expected);
    assert!(files(&data).len() >= 3);
}

#[test]
fn a_file_that_is_there_is_not_written_over_through_a_link() {
    let home = tempfile::tempdir().unwrap();
    let mine = home.path().join("mine.txt");
    std::fs::write(&mine, "mine").unwrap();
    let link = home.path().join("page.svg");
    std::os::unix::fs::symlink(&mine, &link).unwrap();
    let print = |words: &[&str]| {
        let done = program(home.path())
            .args(["print", "ruler", "--page", "1", "--out"])
            .arg(&link)
            .args(words)
            .output();
        said(&done.unwrap())
    };
    let done = print(&[]);
    assert!(done.code == 2 && done.note.contains("is there already"), "{}", done.note);
    assert_eq!(std::fs::read_to_string(&mine).unwrap(), "mine");
}

/// A data folder that is a link is followed, as one puts it on another disk; a link in the place of a file of the book
/// is replaced by the file, and what it pointed to is left alone.
#[test]
fn links_in_the_data_folder_lead_nowhere_else() {
    let home = tempfile::tempdir().unwrap();
    let (real, data) = (home.path().join("real"), home.path().join("data"));
    std::fs::create_dir(&real).unwrap();
    std::os::unix::fs::symlink(&real, &data).unwrap();
    let victim = home.path().join("victim.txt");
    std::fs::write(&victim, "precious").unwrap();
    std::os::unix::fs::symlink(&victim, real.join("book.ron.new")).unwrap();
    let done =
        said(&program(home.path()).args(["--demo", "stock", "list", "--data"]).arg(&data).output().unwrap());
    assert_eq!(done.code, 0, "{}", done.note);
    assert!(real.join("book.ron").exists());
    assert_eq!(std::fs::read_to_string(&victim).unwrap(), "precious");
}
