//! Reads the project's sources and finds every path that they name, spelled out from the crate's root.

use std::cell::OnceCell;
use std::collections::BTreeSet;
use std::panic::{AssertUnwindSafe, catch_unwind, resume_unwind};
use std::path::{Path, PathBuf};
use std::sync::LazyLock;
use std::sync::mpsc::{Sender, channel};
use syn::visit::Visit;

/// The checkout.
pub fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// All sources under `src`.
pub struct Project {
    /// Sorted by path.
    pub sources: Vec<Source>,
    /// Crates in `[dependencies]`, as they are written in code.
    pub dependencies: BTreeSet<String>,
    /// Every module's path, once somebody has asked.
    modules: OnceCell<BTreeSet<Vec<String>>>,
}

/// One file.
pub struct Source {
    /// From the checkout, with slashes.
    pub path: String,
    /// `["domain", "length"]` for `src/domain/length.rs`.
    pub module: Vec<String>,
    /// The whole text.
    pub text: String,
    /// The whole text, parsed.
    pub file: syn::File,
    /// The whole file is compiled for tests only.
    pub for_tests: bool,
    /// Every path that it names, once somebody has asked: six checks do, and finding them takes seconds.
    reached: OnceCell<Vec<Reach>>,
}

impl Source {
    /// The folder under `src`, or `main` and `lib` for the two roots.
    pub fn room(&self) -> &str {
        match (self.path.as_str(), self.module.first()) {
            ("src/main.rs", _) => "main",
            (_, Some(room)) => room,
            (_, None) => "lib",
        }
    }

    fn new(path: &str, text: &str) -> Self {
        let file = syn::parse_file(text).unwrap_or_else(|error| panic!("{path}: {error}"));
        let inside = path.strip_prefix("src/").and_then(|rest| rest.strip_suffix(".rs")).unwrap_or(path);
        let mut module: Vec<String> = inside.split('/').map(str::to_owned).collect();
        if module.last().is_some_and(|last| last == "mod") || ["lib", "main"].contains(&inside) {
            module.pop();
        }
        let (path, text) = (path.to_owned(), text.to_owned());
        Self { path, module, text, file, for_tests: false, reached: OnceCell::new() }
    }
}

/// What is asked of the sources.
type Question = Box<dyn FnOnce(&Project) + Send>;

/// The thread that has read the checkout. Reading takes seconds, so all checks share one reading; a syntax tree cannot
/// leave the thread that made it, so the checks go there.
static READER: LazyLock<Sender<Question>> = LazyLock::new(|| {
    let (questions, asked) = channel::<Question>();
    std::thread::spawn(move || {
        let project = Project::read();
        asked.into_iter().for_each(|question| question(&project));
    });
    questions
});

/// The answer of a check on the checkout.
#[track_caller]
pub fn on_sources<T: Send + 'static>(check: impl FnOnce(&Project) -> T + Send + 'static) -> T {
    let (told, answer) = channel();
    let question = move |project: &Project| {
        // Whoever asked may have gone; a check that fails must not take the others with it.
        let _ = told.send(catch_unwind(AssertUnwindSafe(|| check(project))));
    };
    READER.send(Box::new(question)).expect("the sources can be read");
    answer.recv().expect("the sources can be read").unwrap_or_else(|fault| resume_unwind(fault))
}

impl Project {
    /// Reads the checkout.
    pub fn read() -> Self {
        let mut files = Vec::new();
        list(&root().join("src"), &mut files);
        let manifest = std::fs::read_to_string(root().join("Cargo.toml")).expect("a manifest");
        let pairs =
            files.iter().filter(|path| path.extension().is_some_and(|kind| kind == "rs")).map(|path| {
                let text = std::fs::read_to_string(path).expect("a source");
                (relative(path), text)
            });
        Self::of(pairs, &dependencies(&manifest))
    }

    /// A project made of texts, for trying the checks.
    pub fn of(
        files: impl IntoIterator<Item = (impl AsRef<str>, impl AsRef<str>)>,
        dependencies: &[String],
    ) -> Self {
        let mut sources: Vec<Source> =
            files.into_iter().map(|(path, text)| Source::new(path.as_ref(), text.as_ref())).collect();
        sources.sort_by(|a, b| a.path.cmp(&b.path));
        let dependencies = dependencies.iter().cloned().collect();
        let mut project = Self { sources, dependencies, modules: OnceCell::new() };
        project.mark_tests();
        project
    }

    /// Files that a parent declares under `#[cfg(test)]`, and all below them.
    fn mark_tests(&mut self) {
        let mut roots: Vec<Vec<String>> = Vec::new();
        for source in &self.sources {
            for item in &source.file.items {
                if let syn::Item::Mod(module) = item
                    && module.content.is_none()
                    && for_tests(&module.attrs)
                {
                    roots.push([source.module.as_slice(), &[module.ident.to_string()]].concat());
                }
            }
        }
        for source in &mut self.sources {
            source.for_tests = roots.iter().any(|root| source.module.starts_with(root));
        }
    }

    /// Every module's path: one for each file, and the modules written inside files.
    fn modules(&self) -> &BTreeSet<Vec<String>> {
        self.modules.get_or_init(|| self.all_modules())
    }

    fn all_modules(&self) -> BTreeSet<Vec<String>> {
        fn inside(items: &[syn::Item], at: &[String], into: &mut BTreeSet<Vec<String>>) {
            for item in items {
                let syn::Item::Mod(module) = item else { continue };
                let path = [at, &[module.ident.to_string()]].concat();
                if let Some((_, items)) = &module.content {
                    inside(items, &path, into);
                }
                into.insert(path);
            }
        }
        let mut all = BTreeSet::new();
        for source in &self.sources {
            all.insert(source.module.clone());
            inside(&source.file.items, &source.module, &mut all);
        }
        all
    }

    /// Every path that a source of this project names.
    pub fn reaches<'a>(&self, source: &'a Source) -> &'a [Reach] {
        source.reached.get_or_init(|| self.find_reaches(source))
    }

    fn find_reaches(&self, source: &Source) -> Vec<Reach> {
        let mut finder = Finder {
            project: self,
            modules: self.modules(),
            module: source.module.clone(),
            tests: usize::from(source.for_tests),
            imported: BTreeSet::new(),
            found: Vec::new(),
        };
        finder.collect_imports(&source.file.items);
        finder.visit_file(&source.file);
        finder.found
    }
}

/// A path that is named somewhere: `["crate", "domain", "size", "Size"]`, `["std", "fs", "File"]`, `["ron", "from_str"]`.
/// A macro's name ends in `!`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reach {
    /// The segments.
    pub path: Vec<String>,
    /// Named in code that is compiled for tests only.
    pub in_tests: bool,
}

impl Reach {
    /// As it would be written.
    pub fn text(&self) -> String {
        self.path.join("::")
    }
}

struct Finder<'a> {
    project: &'a Project,
    modules: &'a BTreeSet<Vec<String>>,
    module: Vec<String>,
    tests: usize,
    /// Names that `use` brings into the file: a path that starts with one was judged where it was imported.
    imported: BTreeSet<String>,
    found: Vec<Reach>,
}

impl Finder<'_> {
    fn collect_imports(&mut self, items: &[syn::Item]) {
        for item in items {
            match item {
                syn::Item::Use(item) => {
                    for (path, name) in flatten(&item.tree) {
                        if path.len() > 1 {
                            self.imported.insert(name);
                        }
                    }
                }
                syn::Item::Mod(module) => {
                    if let Some((_, items)) = &module.content {
                        self.collect_imports(items);
                    }
                }
                _ => {}
            }
        }
    }

    /// Spells a path out; `None` for names that lead nowhere outside (locals, own items, the prelude).
    fn resolve(&self, path: &[String], is_use: bool) -> Option<Vec<String>> {
        let first = path.first()?.as_str();
        let mut at = self.module.clone();
        let mut rest = path;
        match first {
            "crate" | "trimside" => at.clear(),
            "self" | "super" => {}
            "std" | "core" | "alloc" => {
                return Some([&["std".to_owned()], path.get(1..)?].concat());
            }
            _ => {
                let local = [self.module.as_slice(), &[first.to_owned()]].concat();
                if self.modules.contains(&local) {
                    return Some([&["crate".to_owned()], self.module.as_slice(), path].concat());
                }
                let known = self.project.dependencies.contains(first);
                let shadowed = self.imported.contains(first) && !is_use;
                return (known && !shadowed).then(|| path.to_vec());
            }
        }
        while let Some(segment) = rest.first() {
            match segment.as_str() {
                "crate" | "trimside" | "self" => {}
                "super" => {
                    at.pop();
                }
                _ => break,
            }
            rest = rest.get(1..).unwrap_or_default();
        }
        Some([&["crate".to_owned()], at.as_slice(), rest].concat())
    }

    fn note(&mut self, path: &[String], is_use: bool) {
        if let Some(path) = self.resolve(path, is_use) {
            self.found.push(Reach { path, in_tests: self.tests > 0 });
        }
    }

    /// Arguments of a macro: read as expressions where they are, else as bare tokens.
    fn look_into(&mut self, tokens: &syn::Macro) {
        let list = syn::punctuated::Punctuated::<syn::Expr, syn::Token![,]>::parse_terminated;
        if let Ok(arguments) = tokens.parse_body_with(list) {
            for argument in &arguments {
                self.visit_expr(argument);
            }
        } else {
            self.look_at_tokens(&tokens.tokens.to_string());
        }
    }

    /// Finds `a :: b :: c` in printed tokens. Paths inside string literals are found too: better one too many.
    fn look_at_tokens(&mut self, text: &str) {
        let spaced =
            text.replace("::", " :: ").replace(['(', ')', '[', ']', '{', '}', ',', '<', '>', '&'], " ; ");
        let words: Vec<&str> = spaced.split_whitespace().collect();
        let mut at = 0;
        while at < words.len() {
            let mut path = vec![words[at].to_owned()];
            while words.get(at + 1) == Some(&"::") && at + 2 < words.len() {
                path.push(words[at + 2].to_owned());
                at += 2;
            }
            if path.len() > 1 {
                self.note(&path, false);
            }
            at += 1;
        }
    }
}

impl<'ast> Visit<'ast> for Finder<'_> {
    fn visit_item(&mut self, item: &'ast syn::Item) {
        let attributes = match item {
            syn::Item::Fn(item) => &item.attrs,
            syn::Item::Impl(item) => &item.attrs,
            syn::Item::Mod(item) => &item.attrs,
            syn::Item::Use(item) => &item.attrs,
            _ => &Vec::new(),
        };
        let tests = usize::from(for_tests(attributes));
        self.tests += tests;
        syn::visit::visit_item(self, item);
        self.tests -= tests;
    }

    fn visit_item_mod(&mut self, module: &'ast syn::ItemMod) {
        self.module.push(module.ident.to_string());
        syn::visit::visit_item_mod(self, module);
        self.module.pop();
    }

    fn visit_item_use(&mut self, item: &'ast syn::ItemUse) {
        for (path, _) in flatten(&item.tree) {
            self.note(&path, true);
        }
    }

    fn visit_path(&mut self, path: &'ast syn::Path) {
        let segments: Vec<String> = path.segments.iter().map(|segment| segment.ident.to_string()).collect();
        if segments.len() > 1 {
            self.note(&segments, false);
        }
        syn::visit::visit_path(self, path);
    }

    fn visit_macro(&mut self, called: &'ast syn::Macro) {
        let mut name: Vec<String> =
            called.path.segments.iter().map(|segment| segment.ident.to_string()).collect();
        if let Some(last) = name.last_mut() {
            last.push('!');
        }
        if name.len() > 1 {
            self.note(&name, false);
        } else {
            self.found.push(Reach { path: name, in_tests: self.tests > 0 });
        }
        self.look_into(called);
    }

    fn visit_meta_list(&mut self, list: &'ast syn::MetaList) {
        self.look_at_tokens(&list.tokens.to_string());
        syn::visit::visit_meta_list(self, list);
    }
}

/// Every path of a `use` with the name it brings. A star and a renamed root stay visible as segments.
fn flatten(tree: &syn::UseTree) -> Vec<(Vec<String>, String)> {
    match tree {
        syn::UseTree::Path(path) => flatten(&path.tree)
            .into_iter()
            .map(|(mut rest, name)| {
                rest.insert(0, path.ident.to_string());
                (rest, name)
            })
            .collect(),
        syn::UseTree::Name(name) => vec![(vec![name.ident.to_string()], name.ident.to_string())],
        syn::UseTree::Rename(rename) => vec![(vec![rename.ident.to_string()], rename.rename.to_string())],
        syn::UseTree::Glob(_) => vec![(vec!["*".to_owned()], "*".to_owned())],
        syn::UseTree::Group(group) => group.items.iter().flat_map(flatten).collect(),
    }
}

/// True for `#[test]` and any `#[cfg(..)]` that names `test`.
pub fn for_tests(attributes: &[syn::Attribute]) -> bool {
    attributes.iter().any(|attribute| match &attribute.meta {
        syn::Meta::Path(path) => path.is_ident("test"),
        syn::Meta::List(list) if list.path.is_ident("cfg") => {
            let words = list.tokens.to_string();
            words.split(|c: char| !c.is_alphanumeric()).any(|word| word == "test") && !words.contains("not")
        }
        _ => false,
    })
}

/// Names under `[dependencies]`, those of some systems only too.
pub fn dependencies(manifest: &str) -> Vec<String> {
    let mut is_in = false;
    let rows = manifest.lines().filter(|line| {
        let line = line.trim();
        if line.starts_with('[') {
            is_in =
                line == "[dependencies]" || line.starts_with("[target.") && line.ends_with(".dependencies]");
        }
        is_in
    });
    rows.filter_map(|line| line.split_once('=')).map(|(name, _)| name.trim().replace('-', "_")).collect()
}

/// Every text that is part of the project: sources, tests, tables, demo data, pages, scripts.
pub fn texts() -> Vec<(String, String)> {
    let mut files = Vec::new();
    for part in ["src", "tests", "assets", "demo-data", ".ci", "README.md", "DEVELOPERS.md", "Cargo.toml"] {
        list(&root().join(part), &mut files);
    }
    files.sort();
    files.iter().filter_map(|path| Some((relative(path), std::fs::read_to_string(path).ok()?))).collect()
}

/// Names in the checkout's top folder.
pub fn top_level() -> Vec<String> {
    let entries = std::fs::read_dir(root()).expect("the checkout");
    let mut names: Vec<String> =
        entries.filter_map(|entry| Some(entry.ok()?.file_name().to_string_lossy().into_owned())).collect();
    names.sort();
    names
}

fn relative(path: &Path) -> String {
    path.strip_prefix(root()).unwrap_or(path).to_string_lossy().replace('\\', "/")
}

fn list(at: &Path, into: &mut Vec<PathBuf>) {
    if at.is_file() {
        into.push(at.to_owned());
        return;
    }
    let Ok(entries) = std::fs::read_dir(at) else { return };
    let mut paths: Vec<PathBuf> = entries.filter_map(|entry| Some(entry.ok()?.path())).collect();
    paths.sort();
    for path in paths {
        list(&path, into);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reached(path: &str, text: &str) -> Vec<String> {
        let others = ["domain/mod", "domain/size", "ui/mod", "ui/view", "ui/panes/mod", "ui/panes/palette"];
        let mut files: Vec<(String, String)> =
            others.iter().map(|name| (format!("src/{name}.rs"), String::new())).collect();
        files.retain(|(name, _)| name != path);
        files.push((path.to_owned(), text.to_owned()));
        let project = Project::of(files, &["palette".to_owned(), "ron".to_owned()]);
        let source = project.sources.iter().find(|source| source.path == path).unwrap();
        project.reaches(source).iter().map(Reach::text).collect()
    }

    #[test]
    fn paths_are_found_wherever_they_hide() {
        let found = |text: &str| reached("src/ui/view.rs", text);
        assert_eq!(
            found("use std::{fs, io::{self, Write}};"),
            ["std::fs", "std::io::self", "std::io::Write"]
        );
        assert_eq!(found("use super::super::domain::size::Size as S;"), ["crate::domain::size::Size"]);
        assert_eq!(found("fn f(x: crate::domain::size::Size) {}"), ["crate::domain::size::Size"]);
        assert_eq!(
            found("fn f() { let _ = format!(\"{}\", crate::persist::name()); }"),
            ["format!", "crate::persist::name"]
        );
        assert_eq!(found("#[derive(serde::Serialize)] struct S;"), Vec::<String>::new());
        assert_eq!(found("#[derive(ron::Odd)] struct S;"), ["ron::Odd"]);
        assert_eq!(found("mod inner { use super::super::panes::X; }"), ["crate::ui::panes::X"]);
        assert_eq!(found("fn f() { odd!{ a => std::fs::read(b); } }"), ["odd!", "std::fs::read"]);
        assert_eq!(found("use crate::*;"), ["crate::*"]);
    }

    #[test]
    fn a_module_of_ours_is_not_taken_for_a_crate_of_the_same_name() {
        assert_eq!(
            reached("src/ui/panes/mod.rs", "fn f() { palette::draw() }"),
            ["crate::ui::panes::palette::draw"]
        );
        assert_eq!(reached("src/ui/view.rs", "fn f() { palette::draw() }"), ["palette::draw"]);
        assert_eq!(
            reached("src/ui/view.rs", "use crate::ui::panes::palette; fn f() { palette::draw() }"),
            ["crate::ui::panes::palette"]
        );
    }

    #[test]
    fn test_code_is_told_apart() {
        let text = "#[cfg(test)] mod tests { use std::fs; } fn f() { std::io::stdin(); }";
        let project = Project::of([("src/domain/size.rs", text)], &[]);
        let reaches = project.reaches(&project.sources[0]);
        assert_eq!(reaches.iter().map(|reach| reach.in_tests).collect::<Vec<_>>(), [true, false]);
        let files = [("src/a/mod.rs", "#[cfg(test)] mod tests;"), ("src/a/tests.rs", "use std::fs;")];
        let project = Project::of(files, &[]);
        assert!(project.reaches(&project.sources[1])[0].in_tests);
    }

    #[test]
    fn dependencies_are_read_from_their_section() {
        let manifest = "[package]\nname = \"x\"\n[dependencies]\nrustc-hash = \"2\"\nron = { version = \"0\" }\n[dev-dependencies]\nsyn = \"2\"\n";
        assert_eq!(dependencies(manifest), ["rustc_hash", "ron"]);
    }
}
