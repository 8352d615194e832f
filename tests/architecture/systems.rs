//! What differs from system to system stands in one room, whose sides offer the same.

use super::source::{Project, Source};
use quote::ToTokens;
use std::collections::BTreeSet;
use syn::visit::Visit;

/// The room.
const ROOM: &str = "system";
/// Its sides.
const SIDES: [&str; 2] = ["unix", "windows"];
/// Words in a condition that ask for the system.
const ASKING: [&str; 6] = ["unix", "windows", "target_os", "target_family", "target_vendor", "target_env"];

/// Every place outside the room that asks which system it is on, or names what only one has.
pub fn findings(project: &Project) -> Vec<String> {
    let outside = project.sources.iter().filter(|source| source.room() != ROOM);
    outside.flat_map(|source| asked_in(source).into_iter().chain(named_in(project, source))).collect()
}

fn asked_in(source: &Source) -> Vec<String> {
    let mut finder = Conditions::default();
    finder.visit_file(&source.file);
    finder.found.iter().map(|text| format!("{}: asks for the system: {text}", source.path)).collect()
}

fn named_in(project: &Project, source: &Source) -> Vec<String> {
    let reaches = project.reaches(source);
    let named = reaches.iter().filter(|reach| {
        let path: Vec<&str> = reach.path.iter().map(String::as_str).collect();
        path.starts_with(&["std", "os"])
    });
    named.map(|reach| format!("{}: {}", source.path, reach.text())).collect()
}

#[derive(Default)]
struct Conditions {
    found: Vec<String>,
}

impl Conditions {
    fn look(&mut self, tokens: &str) {
        let mut words = tokens.split(|c: char| !c.is_alphanumeric() && c != '_');
        if words.any(|word| ASKING.contains(&word)) {
            self.found.push(tokens.to_owned());
        }
    }
}

impl<'ast> Visit<'ast> for Conditions {
    fn visit_attribute(&mut self, attribute: &'ast syn::Attribute) {
        if let syn::Meta::List(list) = &attribute.meta
            && (list.path.is_ident("cfg") || list.path.is_ident("cfg_attr"))
        {
            self.look(&list.tokens.to_string());
        }
    }

    fn visit_macro(&mut self, called: &'ast syn::Macro) {
        if called.path.is_ident("cfg") {
            self.look(&called.tokens.to_string());
        }
    }
}

/// What one side offers and another does not, or offers otherwise.
pub fn differences(project: &Project) -> Vec<String> {
    let [one, other] = SIDES.map(|side| offered(project, side));
    let mut findings = Vec::new();
    for ((mine, side), (theirs, far)) in
        [((&one, SIDES[0]), (&other, SIDES[1])), ((&other, SIDES[1]), (&one, SIDES[0]))]
    {
        let missing = mine.difference(theirs);
        findings.extend(missing.map(|(file, what)| format!("{side}/{file} has, and {far} has not: {what}")));
    }
    findings
}

/// Public functions with their arguments and answers, types and constants, by file.
fn offered(project: &Project, side: &str) -> BTreeSet<(String, String)> {
    let own = |source: &&Source| source.module.len() == 3 && source.module[..2] == [ROOM, side];
    let mut all = BTreeSet::new();
    for source in project.sources.iter().filter(own) {
        for what in items(&source.file.items) {
            all.insert((source.module[2].clone(), what));
        }
    }
    all
}

fn items(of: &[syn::Item]) -> Vec<String> {
    let mut all = Vec::new();
    for item in of {
        match item {
            syn::Item::Fn(f) if is_public(&f.vis) => all.push(signature(&f.sig)),
            syn::Item::Const(c) if is_public(&c.vis) => {
                all.push(format!("const {}: {}", c.ident, text(&c.ty)))
            }
            syn::Item::Struct(s) if is_public(&s.vis) => all.push(format!("struct {}", s.ident)),
            syn::Item::Enum(e) if is_public(&e.vis) => all.push(format!("enum {}", e.ident)),
            syn::Item::Impl(i) if i.trait_.is_none() => {
                let of = text(&i.self_ty);
                all.extend(i.items.iter().filter_map(|item| match item {
                    syn::ImplItem::Fn(f) if is_public(&f.vis) => Some(format!("{of}: {}", signature(&f.sig))),
                    _ => None,
                }));
            }
            _ => {}
        }
    }
    all
}

fn is_public(of: &syn::Visibility) -> bool {
    matches!(of, syn::Visibility::Public(_))
}

/// Without the names of arguments, which a side that does not need them marks so.
fn signature(of: &syn::Signature) -> String {
    let arguments: Vec<String> = of
        .inputs
        .iter()
        .map(|argument| match argument {
            syn::FnArg::Receiver(receiver) => text(receiver),
            syn::FnArg::Typed(typed) => text(&typed.ty),
        })
        .collect();
    format!("fn {}({}) {}", of.ident, arguments.join(", "), text(&of.output))
}

fn text(of: &impl ToTokens) -> String {
    of.to_token_stream().to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn project(files: &[(&str, &str)]) -> Project {
        Project::of(files.iter().copied(), &[])
    }

    #[test]
    fn asking_for_the_system_is_found_outside_the_room_only() {
        for asks in [
            "#[cfg(unix)] fn f() {}",
            "#[cfg(all(test, target_os = \"linux\"))] mod tests {}",
            "fn f() { if cfg!(windows) { g() } }",
            "#[cfg_attr(not(windows), allow(dead_code))] fn f() {}",
            "use std::os::unix::fs::PermissionsExt;",
        ] {
            assert_eq!(findings(&project(&[("src/persist/x.rs", asks)])).len(), 1, "{asks}");
            assert_eq!(findings(&project(&[("src/system/unix/x.rs", asks)])).len(), 0, "{asks}");
        }
        assert_eq!(findings(&project(&[("src/persist/x.rs", "#[cfg(test)] mod tests {}")])).len(), 0);
    }

    #[test]
    fn sides_that_differ_are_found() {
        let unix = (
            "src/system/unix/keys.rs",
            "pub const A: bool = true; pub struct B; impl B { pub fn c(&self, x: u8) {} }",
        );
        let same = "pub const A: bool = false; pub struct B { d: u8 } impl B { pub fn c(&self, _x: u8) {} } fn own() {}";
        assert_eq!(
            differences(&project(&[unix, ("src/system/windows/keys.rs", same)])),
            Vec::<String>::new()
        );
        let other = "pub const A: u8 = 1; pub struct B; impl B { pub fn c(&self, x: u16) {} }";
        assert_eq!(differences(&project(&[unix, ("src/system/windows/keys.rs", other)])).len(), 4);
        assert_eq!(differences(&project(&[unix, ("src/system/windows/screen.rs", same)])).len(), 6);
    }
}
