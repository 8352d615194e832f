//! What each `--help` and each manual page shows besides its options: two examples, and the exit codes.
//!
//! Every example is a whole command line that works on the demo, in a folder that holds the files it names; a test runs
//! each of them as it is printed. Knows the words of the commands, not their answers.

use clap::Command;

/// A command by its words after the program's name, and its two examples.
type Row = (&'static str, [&'static str; 2]);

/// Every command, those that hold others too.
#[rustfmt::skip]
const EXAMPLES: &[Row] = &[
    ("", ["trimside --demo", "trimside yield 2x3 --sheet letter"]),
    ("yield", ["trimside yield 4-1/8x5-3/8 --sheet 12x12 --near 1/8", "trimside yield --demo 4x5.25 --held --count 30"]),
    ("chart", ["trimside chart --sheet 12x12", "trimside chart --sheet letter --from 1 --to 4 --step 1/2 --csv"]),
    ("plan", [
        "trimside plan --demo --project \"Hedgerow notes, class\" --seconds 1",
        "trimside plan --demo --project \"Winter A6 set\" --most",
    ]),
    ("scrap", ["trimside scrap --demo 4x6", "trimside scrap --demo 5x7 --paper \"fern floor, letter\" --json"]),
    ("use-up", [
        "trimside use-up --sheet 6x6 --front 4x4 --reveal 1/8",
        "trimside use-up --sheet 6x6 --front 4x4 --reveal 1/8 --one-way --json",
    ]),
    ("today", ["trimside today --demo", "trimside today --demo --pace 9 --json"]),
    ("strips", [
        "trimside strips 2 --sheet 12x12 --count 4",
        "trimside strips 1-1/2 --sheet letter --count 3 --off 1/32 --json",
    ]),
    ("mats", [
        "trimside mats us-a2 --reveal 1/8,1/16",
        "trimside mats --demo --export \"Window and gate samples\" --out samples.ron",
    ]),
    ("palette", ["trimside palette --demo nearest teal", "trimside palette --demo trios \"fern floor\" --varied"]),
    ("palette nearest", [
        "trimside palette --demo nearest \"#4f7942\"",
        "trimside palette --demo nearest \"lab(48 -18 -16)\" --json",
    ]),
    ("palette trios", [
        "trimside palette --demo trios \"fern floor\" --on-hand",
        "trimside palette --demo trios chalk --scheme \"neutral + accent\"",
    ]),
    ("palette photo", [
        "trimside palette --demo photo paper.jpg",
        "trimside palette --demo photo paper.jpg --white 0.02,0.5 --json",
    ]),
    ("palette picture", ["trimside palette --demo picture garden.jpg", "trimside palette --demo picture garden.jpg --json"]),
    ("palette about", ["trimside palette --demo about \"fern floor\"", "trimside palette --demo about \"seed heads\""]),
    ("palette order", ["trimside palette --demo order", "trimside palette --demo order --by smooth"]),
    ("stock", ["trimside stock --demo list low", "trimside stock --demo use \"fern floor, letter\" 4"]),
    ("stock list", ["trimside stock --demo list", "trimside stock --demo list chalk --json"]),
    ("stock use", [
        "trimside stock --demo use \"fern floor, letter\" 4",
        "trimside stock --demo use \"chalk, letter\" 2 --job \"thank-you cards\"",
    ]),
    ("stock receive", [
        "trimside stock --demo receive \"chalk, letter\" 25",
        "trimside stock --demo receive \"plum stone, letter\" 10 --price 3.80",
    ]),
    ("stock adjust", ["trimside stock --demo adjust \"chalk, A4\" 48", "trimside stock --demo adjust \"chalk, A4\" -2"]),
    ("stock log", ["trimside stock --demo log", "trimside stock --demo log \"chalk, letter\" --csv"]),
    ("stock reorder", ["trimside stock --demo reorder", "trimside stock --demo reorder --csv"]),
    ("stock order", ["trimside stock --demo order \"wren steps\" --packs 2", "trimside stock --demo order --all --due +10"]),
    ("stock orders", ["trimside stock --demo orders", "trimside stock orders --data ordered --json"]),
    ("stock arrived", [
        "trimside stock arrived \"wren steps\" 1 --price 1.20 --data ordered",
        "trimside stock arrived \"wren steps\" 4 --data ordered --dry-run",
    ]),
    ("stock awaited", [
        "trimside stock awaited \"wren steps\" --count 2 --data ordered",
        "trimside stock awaited \"wren steps\" --due +14 --data ordered --dry-run",
    ]),
    ("stock import", ["trimside stock --demo import shelf.csv --dry-run", "trimside stock --demo import shelf.csv"]),
    ("stock export", ["trimside stock --demo export", "trimside stock --demo export --unit mm"]),
    ("stock count", ["trimside stock --demo count counts.csv --dry-run", "trimside stock --demo count counts.csv"]),
    ("stock refresh", [
        "trimside stock --demo refresh list.csv --last 2026-12-31 --first 2027-01-01",
        "trimside stock --demo refresh list.csv --last 2027-01-31 --first 2027-02-01",
    ]),
    ("stock class", ["trimside stock --demo class list", "trimside stock --demo class show \"Hedgerow notes, class\""]),
    ("stock class list", ["trimside stock --demo class list", "trimside stock --demo class list --json"]),
    ("stock class show", [
        "trimside stock --demo class show \"Hedgerow notes, class\"",
        "trimside stock --demo class show \"Winter A6 set\" --json",
    ]),
    ("stock class new", [
        "trimside stock --demo class new \"Fern day\" --designs \"fern note\" --seats 8",
        "trimside stock --demo class new Thanks --like \"Thank-you batch\" --seats 10",
    ]),
    ("stock class edit", [
        "trimside stock --demo class edit \"Hedgerow notes, class\" --more-seats +1",
        "trimside stock --demo class edit \"Winter A6 set\" --room 40 --teach 2:30",
    ]),
    ("stock class book", [
        "trimside stock --demo class book \"Hedgerow notes, class\"",
        "trimside stock --demo class book \"Winter A6 set\" --dry-run",
    ]),
    ("stock class taught", [
        "trimside stock --demo class taught \"Thank-you batch\" --back",
        "trimside stock --demo class taught \"Hedgerow notes, class\" --back --came 9",
    ]),
    ("stock class done", [
        "trimside stock --demo class done \"Hedgerow notes, class\" prepared 4",
        "trimside stock --demo class done \"Hedgerow notes, class\" packed 2 --dry-run",
    ]),
    ("stock class ways", [
        "trimside stock --demo class ways \"Hedgerow notes, class\"",
        "trimside stock --demo class ways \"Winter A6 set\" --json",
    ]),
    ("stock class cancel", [
        "trimside stock --demo class cancel \"Hedgerow notes, class\" --dry-run",
        "trimside stock --demo class cancel \"Winter A6 set\"",
    ]),
    ("stock class sold", [
        "trimside stock --demo class sold \"Winter A6 set\" \"soot ink pad\" 1 9.50",
        "trimside stock --demo class sold \"Winter A6 set\" \"stamp set\" 2 48 --ordered",
    ]),
    ("stock class kits", ["trimside stock --demo class kits", "trimside stock --demo class kits --csv"]),
    ("stock class names", [
        "trimside stock --demo class names \"Winter A6 set\" --add \"A. Guest\"",
        "trimside stock --demo class names \"Hedgerow notes, class\" --json",
    ]),
    ("stock class calendar", [
        "trimside stock --demo class calendar --from 2026-11-20",
        "trimside stock --demo class calendar --from 2026-11-20 --days 30 --json",
    ]),
    ("stock class year", [
        "trimside stock --demo class year 2026",
        "trimside stock --demo class year 2026 --csv",
    ]),
    ("project", ["trimside project --demo list", "trimside project --demo add \"Spring class\" --seats 12"]),
    ("project list", ["trimside project --demo list", "trimside project --demo list --json"]),
    ("project show", [
        "trimside project --demo show \"Winter A6 set\"",
        "trimside project --demo show \"Hedgerow notes, class\" --json",
    ]),
    ("project add", [
        "trimside project --demo add \"Spring class\" --date 2027-03-14 --seats 10",
        "trimside project --demo add \"May set\" --like \"Winter A6 set\"",
    ]),
    ("project change", [
        "trimside project --demo change \"Winter A6 set\" --date 2027-01-16",
        "trimside project --demo change \"Winter A6 set\" --seats 4 --dry-run",
    ]),
    ("project choose", [
        "trimside project --demo choose \"Winter A6 set\"",
        "trimside project --demo choose \"Thank-you batch\" --json",
    ]),
    ("project book", [
        "trimside project --demo book \"Winter A6 set\"",
        "trimside project --demo book \"Hedgerow notes, class\" --dry-run",
    ]),
    ("project give-back", [
        "trimside project --demo give-back \"Thank-you batch\" --dry-run",
        "trimside project --demo give-back \"Thank-you batch\" --json",
    ]),
    ("project piece", [
        "trimside project --demo piece \"Winter A6 set\" tag --size 2x3 --count 2",
        "trimside project --demo piece \"Winter A6 set\" label --size 1x2 --grain long",
    ]),
    ("project supply", [
        "trimside project --demo supply \"Winter A6 set\" \"foam squares\" 4",
        "trimside project --demo supply \"Thank-you batch\" \"tape runner\" 1",
    ]),
    ("project remove", [
        "trimside project --demo remove \"Winter A6 set\" --dry-run",
        "trimside project --demo remove \"Thank-you batch\"",
    ]),
    ("card", [
        "trimside card --demo add \"Winter A6 set\" \"star note\" --size iso-a6",
        "trimside card --demo layer \"Winter A6 set\" ferry mat",
    ]),
    ("card add", [
        "trimside card --demo add \"Winter A6 set\" \"star note\" --size iso-a6",
        "trimside card --demo add \"Thank-you batch\" tag --size 2x3 --reveal 1/8",
    ]),
    ("card change", [
        "trimside card --demo change \"Winter A6 set\" ferry --count 2",
        "trimside card --demo change \"Winter A6 set\" ferry --fold top",
    ]),
    ("card layer", [
        "trimside card --demo layer \"Winter A6 set\" ferry mat --size 1/8",
        "trimside card --demo layer \"Winter A6 set\" ferry --at 1 --size 1/4",
    ]),
    ("card drop", [
        "trimside card --demo drop \"Winter A6 set\" ferry --layer 1",
        "trimside card --demo drop \"Winter A6 set\" ferry --dry-run",
    ]),
    ("print", ["trimside print ruler --out ruler.pdf", "trimside print swatches --demo --out swatches.pdf"]),
    ("keep", ["trimside keep --demo --out kept.book", "trimside keep --demo --out kept.book --force"]),
    ("paths", ["trimside paths", "trimside paths --data papers"]),
    ("restore", ["trimside restore --demo", "trimside restore --demo --data papers"]),
    ("example", ["trimside example settings", "trimside example keys"]),
    ("manual", ["trimside manual stock use", "trimside manual json"]),
    ("completions", ["trimside completions bash", "trimside completions fish"]),
];

/// What the exit codes say, a line each.
const EXIT_CODES: &str = "\
Exit codes:
  0  the answer is on standard output
  1  a disk, a file or a screen failed: one line on standard error says which
  2  something you asked for can be fixed: one line on standard error says how";

/// Where the words of a manual page are told.
pub(super) const EXIT_STATUS: [(&str, &str); 3] = [
    ("0", "The answer is on standard output."),
    ("1", "A disk, a file or a screen failed: one line on standard error says which."),
    ("2", "Something you asked for can be fixed: one line on standard error says how."),
];

/// The examples of a command, by its words after the program's name.
pub fn examples_of(path: &str) -> Option<&'static [&'static str; 2]> {
    EXAMPLES.iter().find(|(row, _)| *row == path).map(|(_, examples)| examples)
}

/// The command with examples before and exit codes after its help, and the same for all below it.
#[must_use]
pub fn shown(command: Command, path: &str) -> Command {
    let head = examples_of(path).map(|all| format!("Examples:\n  {}", all.join("\n  ")));
    let foot = match command.get_after_help() {
        Some(words) => format!("{words}\n\n{EXIT_CODES}"),
        None => EXIT_CODES.to_owned(),
    };
    let below: Vec<String> =
        command.get_subcommands().filter(|c| !c.is_hide_set()).map(|c| c.get_name().to_owned()).collect();
    let command = head.map_or(command.clone(), |head| command.before_help(head)).after_help(foot);
    below.iter().fold(command, |command, name| {
        let path = format!("{path} {name}").trim_start().to_owned();
        command.mut_subcommand(name, |sub| shown(sub, &path))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::args::Args;

    /// Every command with its words.
    fn all(command: &Command, path: &str, out: &mut Vec<String>) {
        out.push(path.to_owned());
        for sub in command.get_subcommands().filter(|c| !c.is_hide_set()) {
            all(sub, format!("{path} {}", sub.get_name()).trim_start(), out);
        }
    }

    #[test]
    fn every_command_has_two_examples_of_its_own_and_no_row_is_of_none() {
        let mut paths = Vec::new();
        all(&Args::program(), "", &mut paths);
        for path in &paths {
            let [one, two] = examples_of(path).unwrap_or_else(|| panic!("no examples of \"{path}\""));
            assert_ne!(one, two, "{path}");
        }
        for (path, _) in EXAMPLES {
            assert!(paths.iter().any(|p| p == path), "\"{path}\" is not a command");
        }
    }

    #[test]
    fn an_example_speaks_of_its_own_command() {
        for (path, examples) in EXAMPLES.iter().filter(|(path, _)| !path.is_empty()) {
            for example in examples {
                let mut words = example.split(' ').skip(1);
                assert!(path.split(' ').all(|word| words.any(|w| w == word)), "{path}: {example}");
                // Help is wrapped to the terminal: an example that is broken over two lines cannot be copied.
                assert!(example.len() <= 76, "{example}");
            }
        }
    }

    #[test]
    fn the_exit_codes_are_told_in_one_way() {
        for (code, words) in EXIT_STATUS {
            let line = EXIT_CODES.lines().find(|l| l.trim_start().starts_with(code)).unwrap();
            assert!(
                words.to_lowercase().starts_with(line.trim_start_matches([' ', '0', '1', '2'])),
                "{line}"
            );
        }
    }
}
