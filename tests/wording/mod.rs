//! The whole wording of the program, in lists that are read when a sentence changes: one a room, and by folder where a room is large.
//!
//! A list holds every text of its sources that is more than a word, in the order in which it stands there, and the help texts
//! of the command line. Tests, names and figures are no wording. `TRIMSIDE_WRITE_WORDING=1 cargo test whole_wording` writes them.

use crate::architecture::source::{Project, Source, for_tests, on_sources, root, texts};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::sync::LazyLock;
use syn::buffer::Cursor;
use syn::parse::ParseStream;
use syn::visit::Visit;

/// Assets that hold names, figures or what a test writes from other wording.
const NO_WORDING: [&str; 6] = [
    "assets/colour_names.ron",
    "assets/everyday_colours.ron",
    "assets/web_colours.ron",
    "assets/keys.ron",
    "assets/liked_pairs.ron",
    "assets/vision.ron",
];

/// Rooms that are listed folder by folder.
const LARGE: [&str; 2] = ["app", "domain"];

/// Whether a text says something: two words, or a word beside a figure that is put in.
fn says_something(text: &str) -> bool {
    let (mut bare, mut depth) = (String::new(), 0_usize);
    for sign in text.chars() {
        match sign {
            '{' => depth += 1,
            '}' => depth = depth.saturating_sub(1),
            _ if depth == 0 => bare.push(sign),
            _ => {}
        }
    }
    let words = bare.split(|c: char| !c.is_alphabetic()).filter(|w| w.chars().count() > 1).count();
    // Markup and the like is written for programs.
    let coded = text.contains("=\"") || text.contains("\x1b") || text.trim_start().starts_with("</");
    let spaced = text.trim().contains(' ') || text.contains('}') && text.contains(' ');
    !coded && spaced && (words > 1 || words == 1 && text.contains('{'))
}

/// The texts of a source, those of its tests left out.
#[derive(Default)]
struct Finder {
    found: Vec<String>,
    /// Inside what the command line reads: its docs are its help.
    helps: bool,
}

impl Finder {
    fn take(&mut self, text: &str) {
        if says_something(text) {
            self.found.push(text.replace('\n', "\\n"));
        }
    }

    /// Texts among bare tokens, in macros and attributes.
    fn look_into(&mut self, mut at: Cursor) {
        while !at.eof() {
            if let Some((inside, _, _, after)) = at.any_group() {
                self.look_into(inside);
                at = after;
            } else if let Some((literal, after)) = at.literal() {
                if let Ok(text) = syn::parse_str::<syn::LitStr>(&literal.to_string()) {
                    self.take(&text.value());
                }
                at = after;
            } else if let Some((_, after)) = at.ident().filter(|(name, _)| name == "doc") {
                // Docs of what a macro makes: the sign and the text behind the word.
                at = after
                    .token_tree()
                    .and_then(|(_, text)| text.token_tree())
                    .map_or(after, |(_, next)| next);
            } else if let Some((_, after)) = at.token_tree() {
                at = after;
            }
        }
    }

    fn read(&mut self, input: ParseStream) -> syn::Result<()> {
        input.step(|cursor| {
            self.look_into(*cursor);
            let mut at = *cursor;
            while let Some((_, after)) = at.token_tree() {
                at = after;
            }
            Ok(((), at))
        })
    }

    /// The docs of one thing, as a paragraph.
    fn docs(&mut self, attributes: &[syn::Attribute]) {
        let lines: Vec<String> = attributes.iter().filter_map(doc).collect();
        if self.helps && !lines.is_empty() {
            self.take(&lines.join(" "));
        }
    }
}

fn doc(attribute: &syn::Attribute) -> Option<String> {
    let syn::Meta::NameValue(pair) = &attribute.meta else { return None };
    let syn::Expr::Lit(syn::ExprLit { lit: syn::Lit::Str(text), .. }) = &pair.value else { return None };
    pair.path.is_ident("doc").then(|| text.value().trim().to_owned())
}

/// Whether the command line reads it: it derives one of these.
fn is_read_by_clap(attributes: &[syn::Attribute]) -> bool {
    attributes.iter().any(|attribute| match &attribute.meta {
        syn::Meta::List(list) if list.path.is_ident("derive") => {
            let words = list.tokens.to_string();
            ["Args", "Parser", "Subcommand", "ValueEnum"].iter().any(|name| words.contains(name))
        }
        _ => false,
    })
}

impl<'ast> Visit<'ast> for Finder {
    fn visit_item(&mut self, item: &'ast syn::Item) {
        let attributes = match item {
            syn::Item::Fn(item) => &item.attrs,
            syn::Item::Impl(item) => &item.attrs,
            syn::Item::Mod(item) => &item.attrs,
            syn::Item::Const(item) => &item.attrs,
            syn::Item::Static(item) => &item.attrs,
            syn::Item::Struct(item) => &item.attrs,
            syn::Item::Enum(item) => &item.attrs,
            _ => &Vec::new(),
        };
        if for_tests(attributes) {
            return;
        }
        let before = self.helps;
        self.helps = is_read_by_clap(attributes);
        self.docs(attributes);
        syn::visit::visit_item(self, item);
        self.helps = before;
    }

    fn visit_field(&mut self, field: &'ast syn::Field) {
        self.docs(&field.attrs);
        syn::visit::visit_field(self, field);
    }

    fn visit_variant(&mut self, variant: &'ast syn::Variant) {
        self.docs(&variant.attrs);
        syn::visit::visit_variant(self, variant);
    }

    fn visit_lit_str(&mut self, text: &'ast syn::LitStr) {
        self.take(&text.value());
    }

    fn visit_attribute(&mut self, attribute: &'ast syn::Attribute) {
        if let syn::Meta::List(list) = &attribute.meta {
            list.parse_args_with(|input: ParseStream| self.read(input)).expect("an attribute");
        }
    }

    fn visit_macro(&mut self, called: &'ast syn::Macro) {
        called.parse_body_with(|input: ParseStream| self.read(input)).expect("a macro");
    }
}

fn of_source(source: &Source) -> Vec<String> {
    let mut finder = Finder::default();
    finder.visit_file(&source.file);
    finder.found
}

/// The texts of a table or a schema: between quotes, and the remarks of an example that people copy.
fn of_asset(name: &str, text: &str) -> Vec<String> {
    let mut finder = Finder::default();
    for line in text.lines() {
        match line.trim_start().strip_prefix("//") {
            Some(remark) if name.contains("example") => finder.take(remark.trim()),
            Some(_) => {}
            None => line.split('"').skip(1).step_by(2).for_each(|text| finder.take(text)),
        }
    }
    finder.found
}

/// The list that a source belongs to.
fn list_of(source: &Source) -> String {
    let room = source.room();
    match source.module.get(1) {
        Some(part) if LARGE.contains(&room) && root().join("src").join(room).join(part).is_dir() => {
            format!("{room}.{part}")
        }
        _ => room.to_owned(),
    }
}

/// Every list by its name; all sources are read for it, once.
fn lists() -> &'static BTreeMap<String, String> {
    static LISTS: LazyLock<BTreeMap<String, String>> = LazyLock::new(collected);
    &LISTS
}

fn collected() -> BTreeMap<String, String> {
    let mut lists = on_sources(|project: &Project| {
        let mut lists: BTreeMap<String, String> = BTreeMap::new();
        for source in project.sources.iter().filter(|source| !source.for_tests) {
            add(lists.entry(list_of(source)).or_default(), &source.path, &of_source(source));
        }
        lists
    });
    for (name, text) in texts() {
        let kind = name.rsplit('.').next().unwrap_or_default();
        if name.starts_with("assets/") && ["ron", "json"].contains(&kind) && !NO_WORDING.contains(&&*name) {
            let list = if kind == "json" { "answers" } else { "assets" };
            add(lists.entry(list.to_owned()).or_default(), &name, &of_asset(&name, &text));
        }
    }
    lists.retain(|_, text| !text.is_empty());
    lists
}

fn add(list: &mut String, path: &str, found: &[String]) {
    if found.is_empty() {
        return;
    }
    let _ = writeln!(list, "{path}");
    for text in found {
        let _ = writeln!(list, "    {text}");
    }
}

#[test]
fn whole_wording() {
    let folder = root().join("tests/wording");
    let lists = lists();
    let there: Vec<String> = std::fs::read_dir(&folder)
        .unwrap()
        .filter_map(|entry| entry.unwrap().file_name().to_str()?.strip_suffix(".txt").map(str::to_owned))
        .collect();
    if std::env::var_os("TRIMSIDE_WRITE_WORDING").is_some() {
        for name in there.iter().filter(|name| !lists.contains_key(*name)) {
            std::fs::remove_file(folder.join(format!("{name}.txt"))).unwrap();
        }
        for (name, text) in lists {
            std::fs::write(folder.join(format!("{name}.txt")), text).unwrap();
        }
        return;
    }
    let mut differ: Vec<String> = there.iter().filter(|name| !lists.contains_key(*name)).cloned().collect();
    for (name, now) in lists {
        let kept = std::fs::read_to_string(folder.join(format!("{name}.txt"))).unwrap_or_default();
        if let Some(first) = now.lines().find(|line| !kept.lines().any(|known| known == *line)) {
            differ.push(format!("{name}: {}", first.trim()));
        } else if kept != *now {
            differ.push(name.clone());
        }
    }
    assert!(
        differ.is_empty(),
        "sentences changed. Read them aloud, then TRIMSIDE_WRITE_WORDING=1 cargo test whole_wording, and look at the diff:\n  {}",
        differ.join("\n  ")
    );
}

#[test]
fn texts_are_found_wherever_they_hide() {
    let text = r#"
        /// Docs are for developers.
        pub const A: &str = "a label here";
        #[derive(clap::Args)]
        /// What the command does.
        struct Args {
            /// The sheet,
            /// as measured
            #[arg(long, value_name = "whole size")]
            sheet: String,
        }
        #[derive(thiserror::Error)]
        enum E { #[error("{0} is no size")] Size(String) }
        fn f() { write!(out, "{n} left, {}", format!("of {m} pieces")); odd! { a => "deep down" } ids! { /// For developers.
            A } }
        #[cfg(test)] mod tests { const B: &str = "not this one"; }
        #[test] fn t() { say("nor this"); }
        const WORD: &str = "word";
        const CODE: &str = "<path d=\"M 1 2\"/>";
    "#;
    let project = Project::of([("src/cli/x.rs", text)], &[]);
    assert_eq!(
        of_source(&project.sources[0]),
        [
            "a label here",
            "What the command does.",
            "The sheet, as measured",
            "whole size",
            "{0} is no size",
            "{n} left, {}",
            "of {m} pieces",
            "deep down"
        ]
    );
    let asset = "// Not read.\n(text: \"Cut it last.\", id: \"cut\")";
    assert_eq!(of_asset("assets/x.ron", asset), ["Cut it last."]);
}

/// Spellings of another country; a sentence that the person reads has none of them.
const ELSEWHERE: [&str; 10] = [
    "colour",
    "favourite",
    "metre",
    "practise",
    "labell",
    "vapour",
    "neighbour",
    "catalogue",
    "grey",
    "per cent",
];

/// What answers and files promise stays as it was given out.
const PROMISED: [&str; 1] = ["another colour"];

#[test]
fn sentences_are_spelled_the_north_american_way() {
    let is_word = |word: &&str| !word.contains(['<', '{', '_', '/', '`']) && !word.starts_with("--");
    let mut found = Vec::new();
    for (name, text) in lists() {
        for line in text.lines().filter(|line| line.starts_with("    ") && !PROMISED.contains(&line.trim())) {
            let words = line.split_whitespace().filter(is_word).collect::<Vec<_>>().join(" ").to_lowercase();
            if ELSEWHERE.iter().any(|other| words.contains(other)) {
                found.push(format!("{name}: {}", line.trim()));
            }
        }
    }
    assert!(found.is_empty(), "{} sentences:\n  {}", found.len(), found.join("\n  "));
}
