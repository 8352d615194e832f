//! What stays pure: no world in the inner rooms, no order of a hash map in an answer, no change by a view.

use super::source::{Project, Source, for_tests};
use std::collections::BTreeSet;
use syn::visit::Visit;

/// The parts of the standard library through which the world comes in, by the rooms that must not know them.
const CLOSED: [(&str, &[&str]); 4] = [
    ("domain", &["fs", "env", "net", "process", "io", "time", "thread", "os"]),
    ("app", &["fs", "env", "net", "process", "io", "thread", "os"]),
    ("ui", &["fs", "env", "net", "process", "io", "time", "thread", "os"]),
    ("exchange", &["fs", "env", "net", "process", "thread", "os"]),
];

/// What opens files.
const OPENING: [&[&str]; 8] = [
    &["std", "fs", "read"],
    &["std", "fs", "read_to_string"],
    &["std", "fs", "write"],
    &["std", "fs", "copy"],
    &["std", "fs", "File"],
    &["std", "fs", "OpenOptions"],
    &["std", "fs", "rename"],
    &["tempfile"],
];

/// Files that may name it. What a person names goes through the first, which takes regular files of a bounded size only.
const DOORS: [(&str, &str); 10] = [
    ("src/persist/given.rs", "the door"),
    ("src/persist/made.rs", "the way out"),
    ("src/persist/disk.rs", "the book"),
    ("src/system/unix/disks.rs", "the system's list of disks, names in the book's folder"),
    ("src/system/unix/files.rs", "how others open"),
    ("src/system/unix/keys.rs", "the terminal"),
    ("src/system/unix/screen.rs", "the terminal"),
    ("src/system/windows/disks.rs", "names in the book's folder"),
    ("src/system/windows/files.rs", "how others open"),
    ("src/system/windows/keys.rs", "the console"),
];

/// Files opened past the door.
pub fn past_the_door(project: &Project) -> Vec<String> {
    let mut findings = Vec::new();
    for source in project.sources.iter().filter(|s| !DOORS.iter().any(|(path, _)| s.path == *path)) {
        for reach in project.reaches(source).iter().filter(|reach| !reach.in_tests) {
            let path: Vec<&str> = reach.path.iter().map(String::as_str).collect();
            // Who names the whole of `fs` could open anything with it.
            if path == ["std", "fs"] || OPENING.iter().any(|way| path.starts_with(way)) {
                findings.push(format!("{}: {}", source.path, reach.text()));
            }
        }
    }
    findings
}

/// Macros that write to the terminal behind the screen's back. Only the outermost room may use them.
const SPEAKING: [&str; 5] = ["print!", "println!", "eprint!", "eprintln!", "dbg!"];

/// Files of the domain that may hold hash maps, each with its reason.
const LOOKED_UP_ONLY: [(&str, &str); 4] = [
    ("src/domain/cutting/fill.rs", "states that a search has been in"),
    ("src/domain/cutting/five_blocks.rs", "remembered answers of a recursion"),
    ("src/domain/cutting/limited.rs", "remembered answers of a recursion"),
    ("src/domain/cutting/prefer.rs", "remembered answers of a recursion"),
];

const HASHED: [&str; 6] = ["HashMap", "HashSet", "FxHashMap", "FxHashSet", "hash_map", "hash_set"];
const LISTING: [&str; 11] = [
    "iter",
    "iter_mut",
    "into_iter",
    "keys",
    "into_keys",
    "values",
    "values_mut",
    "into_values",
    "drain",
    "retain",
    "extract_if",
];

/// Every reach of a pure room into the world.
pub fn findings(project: &Project) -> Vec<String> {
    let mut findings = Vec::new();
    for source in &project.sources {
        let closed =
            CLOSED.iter().find(|(room, _)| *room == source.room()).map_or(&[][..], |(_, parts)| parts);
        for reach in project.reaches(source).iter().filter(|reach| !reach.in_tests) {
            let part = reach.path.get(1).map(String::as_str).unwrap_or_default();
            let into_world = reach.path[0] == "std" && (closed.contains(&part) || part == "*");
            let speaks = source.room() != "main" && SPEAKING.contains(&reach.path[0].as_str());
            if into_world || speaks {
                findings.push(format!("{}: {}", source.path, reach.text()));
            }
        }
    }
    findings
}

/// Hash maps in the domain outside the files that may hold them, and any listing of one inside those.
pub fn hash_maps(project: &Project) -> Vec<String> {
    let domain = project.sources.iter().filter(|source| source.room() == "domain" && !source.for_tests);
    domain.flat_map(hash_maps_in).collect()
}

fn hash_maps_in(source: &Source) -> Vec<String> {
    let mut finder = HashFinder::default();
    finder.visit_file(&source.file);
    if !LOOKED_UP_ONLY.iter().any(|(path, _)| *path == source.path) {
        let named = finder.named.iter().map(|name| format!("{}: names {name}", source.path));
        return named.collect();
    }
    // A second walk, now that the names are known.
    finder.listed.clear();
    finder.visit_file(&source.file);
    finder.listed.iter().map(|name| format!("{}: lists {name}", source.path)).collect()
}

#[derive(Default)]
struct HashFinder {
    /// Names of hashed types that occur.
    named: BTreeSet<String>,
    /// Fields, variables and arguments that hold one.
    holders: BTreeSet<String>,
    /// Those of them that are listed.
    listed: Vec<String>,
}

/// True when the type, or a type inside it, is hashed.
fn is_hashed(tokens: &str) -> bool {
    tokens.split(|c: char| !c.is_alphanumeric() && c != '_').any(|word| HASHED.contains(&word))
}

/// The name at the end of `x`, `&x`, `self.x`, `self.x.y`.
fn last_name(expression: &syn::Expr) -> Option<String> {
    match expression {
        syn::Expr::Field(field) => match &field.member {
            syn::Member::Named(name) => Some(name.to_string()),
            syn::Member::Unnamed(_) => None,
        },
        syn::Expr::Path(path) => Some(path.path.segments.last()?.ident.to_string()),
        syn::Expr::Reference(reference) => last_name(&reference.expr),
        syn::Expr::Paren(paren) => last_name(&paren.expr),
        _ => None,
    }
}

/// Hashed names inside a type.
struct TypeNames(BTreeSet<String>);

impl<'ast> Visit<'ast> for TypeNames {
    fn visit_ident(&mut self, ident: &'ast syn::Ident) {
        let name = ident.to_string();
        if is_hashed(&name) {
            self.0.insert(name);
        }
    }
}

fn holds_hashed(part: &syn::Type) -> bool {
    let mut names = TypeNames(BTreeSet::new());
    names.visit_type(part);
    !names.0.is_empty()
}

impl<'ast> Visit<'ast> for HashFinder {
    fn visit_item_mod(&mut self, module: &'ast syn::ItemMod) {
        if !for_tests(&module.attrs) {
            syn::visit::visit_item_mod(self, module);
        }
    }

    fn visit_ident(&mut self, ident: &'ast syn::Ident) {
        let name = ident.to_string();
        if HASHED.contains(&name.as_str()) {
            self.named.insert(name);
        }
    }

    fn visit_field(&mut self, field: &'ast syn::Field) {
        if let Some(name) = field.ident.as_ref().filter(|_| holds_hashed(&field.ty)) {
            self.holders.insert(name.to_string());
        }
        syn::visit::visit_field(self, field);
    }

    fn visit_pat_type(&mut self, typed: &'ast syn::PatType) {
        if let (syn::Pat::Ident(name), true) = (&*typed.pat, holds_hashed(&typed.ty)) {
            self.holders.insert(name.ident.to_string());
        }
        syn::visit::visit_pat_type(self, typed);
    }

    fn visit_local(&mut self, local: &'ast syn::Local) {
        if let (syn::Pat::Ident(name), Some(start)) = (&local.pat, &local.init)
            && let syn::Expr::Call(call) = &*start.expr
            && let syn::Expr::Path(path) = &*call.func
            && path.path.segments.iter().any(|segment| is_hashed(&segment.ident.to_string()))
        {
            self.holders.insert(name.ident.to_string());
        }
        syn::visit::visit_local(self, local);
    }

    fn visit_expr_method_call(&mut self, call: &'ast syn::ExprMethodCall) {
        let method = call.method.to_string();
        if let Some(name) = last_name(&call.receiver)
            && self.holders.contains(&name)
            && LISTING.contains(&method.as_str())
        {
            self.listed.push(format!("{name}.{method}()"));
        }
        syn::visit::visit_expr_method_call(self, call);
    }

    fn visit_expr_for_loop(&mut self, walk: &'ast syn::ExprForLoop) {
        if let Some(name) = last_name(&walk.expr)
            && self.holders.contains(&name)
        {
            self.listed.push(format!("for .. in {name}"));
        }
        syn::visit::visit_expr_for_loop(self, walk);
    }
}

/// Places in `ui` that take the model to change it.
pub fn changed_models(project: &Project) -> Vec<String> {
    let views = project.sources.iter().filter(|source| source.room() == "ui");
    views
        .filter_map(|source| {
            let mut finder = MutableModels(0);
            finder.visit_file(&source.file);
            (finder.0 > 0).then(|| format!("{}: &mut Model, {} times", source.path, finder.0))
        })
        .collect()
}

struct MutableModels(usize);

impl<'ast> Visit<'ast> for MutableModels {
    fn visit_item_mod(&mut self, module: &'ast syn::ItemMod) {
        if !for_tests(&module.attrs) {
            syn::visit::visit_item_mod(self, module);
        }
    }

    fn visit_type_reference(&mut self, reference: &'ast syn::TypeReference) {
        if let (Some(_), syn::Type::Path(path)) = (&reference.mutability, &*reference.elem)
            && path.path.segments.last().is_some_and(|segment| segment.ident == "Model")
        {
            self.0 += 1;
        }
        syn::visit::visit_type_reference(self, reference);
    }
}

#[cfg(test)]
mod tests {
    use super::super::source::root;
    use super::*;

    fn project(path: &str, text: &str) -> Project {
        Project::of([(path, text)], &[])
    }

    #[test]
    fn the_world_is_found_at_the_door_of_each_pure_room() {
        for part in ["fs", "env", "net", "process", "io", "time", "thread"] {
            let named = format!("fn f() {{ std::{part}::x(); }}");
            assert_eq!(findings(&project("src/domain/x.rs", &named)).len(), 1, "{part}");
            let used = format!("use std::{{fmt, {part}}};");
            assert_eq!(findings(&project("src/domain/x.rs", &used)).len(), 1, "{part}");
            assert_eq!(findings(&project("src/runtime/x.rs", &named)).len(), 0, "{part}");
        }
        assert_eq!(findings(&project("src/domain/x.rs", "use core::time::Duration;")).len(), 1);
        assert_eq!(findings(&project("src/domain/x.rs", "use std::*;")).len(), 1);
        assert_eq!(
            findings(&project("src/domain/x.rs", "use std::fmt; use std::collections::BTreeMap;")).len(),
            0
        );
        let in_tests = "#[cfg(test)] mod tests { use std::fs; fn f() { println!(); } }";
        assert_eq!(findings(&project("src/domain/x.rs", in_tests)).len(), 0);
    }

    #[test]
    fn nobody_prints_behind_the_screens_back() {
        for called in ["println!(\"x\")", "eprintln!()", "dbg!(1)"] {
            let text = format!("fn f() {{ {called}; }}");
            assert_eq!(findings(&project("src/runtime/x.rs", &text)).len(), 1, "{called}");
            assert_eq!(findings(&project("src/main.rs", &text)).len(), 0, "{called}");
        }
        assert_eq!(findings(&project("src/cli/x.rs", "fn f() { writeln!(out, \"x\"); }")).len(), 0);
    }

    #[test]
    fn a_hash_map_is_found_and_so_is_listing_one() {
        let names = "use std::collections::HashMap;";
        assert_eq!(hash_maps(&project("src/domain/x.rs", names)).len(), 1);
        assert_eq!(hash_maps(&project("src/persist/x.rs", names)).len(), 0);
        assert_eq!(hash_maps(&project("src/domain/x.rs", "fn f(m: &rustc_hash::FxHashSet<u8>) {}")).len(), 1);
        let allowed = LOOKED_UP_ONLY[0].0;
        let held = "struct S { table: FxHashMap<u8, u8> }";
        let looked_up = format!("{held} impl S {{ fn f(&self) {{ self.table.get(&1); }} }}");
        assert_eq!(hash_maps(&project(allowed, &looked_up)), Vec::<String>::new());
        for listing in ["self.table.iter()", "self.table.values().sum()", "for x in &self.table {}"] {
            // The use may stand before the declaration.
            let text = format!("impl S {{ fn f(&self) {{ {listing}; }} }} {held}");
            assert_eq!(hash_maps(&project(allowed, &text)).len(), 1, "{listing}");
        }
        let local = "fn f() { let mut seen = FxHashSet::default(); for x in seen.drain() {} }";
        assert_eq!(hash_maps(&project(allowed, local)).len(), 1);
    }

    #[test]
    fn the_files_that_may_hold_hash_maps_do() {
        for (path, reason) in LOOKED_UP_ONLY {
            let text = std::fs::read_to_string(root().join(path)).unwrap_or_default();
            assert!(is_hashed(&text), "{path} ({reason}) needs no exception any more");
        }
    }

    #[test]
    fn a_file_opened_past_the_door_is_found() {
        let crates = ["tempfile".to_owned()];
        let found = |path: &str, text: &str| past_the_door(&Project::of([(path, text)], &crates)).len();
        for text in [
            "fn f() { std::fs::read(p); }",
            "use std::fs; fn f() { fs::read_to_string(p); }",
            "use std::fs::File; fn f() { File::open(p); }",
            "use std::fs::OpenOptions; fn f() { OpenOptions::new(); }",
            "use tempfile::NamedTempFile; fn f() { NamedTempFile::new(); }",
        ] {
            assert!(found("src/cli/plan.rs", text) > 0, "{text}");
            assert_eq!(found("src/persist/given.rs", text), 0, "{text}");
        }
        assert_eq!(found("src/cli/plan.rs", "fn f() { std::fs::metadata(p); }"), 0);
        assert_eq!(
            found("src/cli/plan.rs", "#[cfg(test)] mod tests { fn f() { std::fs::write(p, b); } }"),
            0
        );
    }

    #[test]
    fn a_view_that_changes_the_model_is_found() {
        for text in [
            "fn view(model: &mut Model) {}",
            "fn view(model: &mut crate::app::Model) {}",
            "fn f(g: impl Fn(&mut Model)) {}",
        ] {
            assert_eq!(changed_models(&project("src/ui/x.rs", text)).len(), 1, "{text}");
            assert_eq!(changed_models(&project("src/app/x.rs", text)).len(), 0, "{text}");
        }
        assert_eq!(
            changed_models(&project("src/ui/x.rs", "fn view(model: &Model, f: &mut Frame) {}")).len(),
            0
        );
    }
}
