//! The list of all that is saved, `src/persist/schema/fields.txt`, is kept in step with the shapes, so that nobody adds
//! a field without raising the version that older builds go by.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use syn::{Fields, GenericArgument, Item, PathArguments, Type};
use trimside::persist::schema::{CURRENT, Version};

fn schema() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src/persist/schema")
}

/// A type as it is written, without spaces that the formatter may set.
fn shown(ty: &Type) -> String {
    match ty {
        Type::Path(path) => {
            let last = path.path.segments.last().unwrap();
            let PathArguments::AngleBracketed(of) = &last.arguments else { return last.ident.to_string() };
            let of = of.args.iter().map(|a| match a {
                GenericArgument::Type(ty) => shown(ty),
                _ => panic!("{} has an argument that is no type", last.ident),
            });
            format!("{}<{}>", last.ident, of.collect::<Vec<_>>().join(", "))
        }
        Type::Tuple(parts) => {
            format!("({})", parts.elems.iter().map(shown).collect::<Vec<_>>().join(", "))
        }
        _ => panic!("a saved type that is neither a name nor a tuple"),
    }
}

/// One line a field, and whether an older file may lack it.
fn of_fields(owner: &str, fields: &Fields, into: &mut BTreeMap<String, bool>) {
    for (n, field) in fields.iter().enumerate() {
        let name = field.ident.as_ref().map_or(n.to_string(), ToString::to_string);
        let has_default = field.attrs.iter().any(|a| {
            let mut found = false;
            let _ = a.parse_nested_meta(|meta| {
                found |= a.path().is_ident("serde") && meta.path.is_ident("default");
                if let Ok(value) = meta.value() {
                    let _: syn::Expr = value.parse()?;
                }
                Ok(())
            });
            found
        });
        into.insert(format!("{owner}.{name}: {}", shown(&field.ty)), has_default);
    }
}

/// Everything that the shapes save.
fn saved() -> BTreeMap<String, bool> {
    let mut all = BTreeMap::new();
    for entry in std::fs::read_dir(schema().join("v1")).unwrap() {
        let text = std::fs::read_to_string(entry.unwrap().path()).unwrap();
        for item in syn::parse_file(&text).unwrap().items {
            match item {
                Item::Struct(s) if s.ident.to_string().ends_with("V1") => {
                    of_fields(&s.ident.to_string(), &s.fields, &mut all);
                }
                Item::Enum(e) if e.ident.to_string().ends_with("V1") => {
                    for v in &e.variants {
                        let name = format!("{}::{}", e.ident, v.ident);
                        all.insert(name.clone(), true);
                        of_fields(&name, &v.fields, &mut all);
                    }
                }
                Item::Macro(m) if m.mac.path.is_ident("words") => {
                    let text = m.mac.tokens.to_string();
                    let (head, words) = text.split_once('{').unwrap();
                    let name = head.split_whitespace().find(|w| w.ends_with("V1")).unwrap();
                    for word in words.trim_end_matches([' ', '}']).split(',') {
                        all.insert(format!("{name}::{}", word.trim()), true);
                    }
                }
                // The words of the log's lines.
                Item::Const(c) if c.ident == "REASONS" => {
                    let syn::Expr::Array(array) = *c.expr else { panic!("the reasons are an array") };
                    for pair in &array.elems {
                        let syn::Expr::Tuple(pair) = pair else { panic!("word and reason") };
                        let syn::Expr::Lit(syn::ExprLit { lit: syn::Lit::Str(word), .. }) = &pair.elems[0]
                        else {
                            panic!("a word")
                        };
                        all.insert(format!("LineV1.reason \"{}\"", word.value()), true);
                    }
                }
                _ => {}
            }
        }
    }
    all
}

/// The list: what is saved, and since which version.
fn listed() -> Vec<(Version, String)> {
    let text = std::fs::read_to_string(schema().join("fields.txt")).unwrap_or_default();
    let lines = text.lines().filter(|l| !l.is_empty() && !l.starts_with('#'));
    let read = |line: &str| {
        let (version, what) = line.split_once(' ')?;
        Some((Version::parse(version)?, what.to_owned()))
    };
    lines.map(|l| read(l).unwrap_or_else(|| panic!("fields.txt: \"{l}\" is no line of the list"))).collect()
}

#[test]
fn the_list_of_saved_fields_is_that_of_the_shapes() {
    let (saved, listed) = (saved(), listed());
    assert!(saved.len() > 200, "{} fields were found", saved.len());
    let next = Version { minor: CURRENT.minor + 1, ..CURRENT };
    let mut trouble = String::new();
    for what in saved.keys().filter(|f| !listed.iter().any(|(_, l)| l == *f)) {
        writeln!(trouble, "new: {next} {what}").unwrap();
    }
    assert!(
        trouble.is_empty(),
        "{trouble}add these lines at the end of src/persist/schema/fields.txt and make CURRENT in \
         src/persist/schema/mod.rs {next}, so that builds before it leave such a book alone"
    );
    let gone: Vec<_> = listed.iter().filter(|(_, l)| !saved.contains_key(l)).collect();
    assert!(
        gone.is_empty(),
        "{gone:?}: what was saved once must still be read; else raise the major version"
    );
    assert!(listed.is_sorted_by_key(|(v, _)| *v), "the list is in the order of versions, newest last");
    let last = listed.last().unwrap().0;
    assert!(
        last == CURRENT || CURRENT.minor == 0 && last < CURRENT,
        "the list ends with {last}, not {CURRENT}"
    );
    let mut names: Vec<_> = listed.iter().map(|(_, l)| l).collect();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), listed.len(), "the list names something twice");
}

#[test]
fn a_field_that_came_later_may_be_missing() {
    let (saved, listed) = (saved(), listed());
    let owner =
        |what: &str| what.rsplit_once(": ").and_then(|(f, _)| f.rsplit_once('.')).map(|o| o.0.to_owned());
    for (since, what) in &listed {
        let Some(owner) = owner(what) else { continue };
        let is_ours = |(v, l): &&(Version, String)| l.starts_with(&format!("{owner}.")) && v < since;
        if listed.iter().any(|pair| is_ours(&pair)) {
            assert!(saved.get(what).is_none_or(|d| *d), "{what} needs a serde default: older files lack it");
        }
    }
}

/// Writes the list of a first version; later lines are added by hand.
#[test]
fn write_the_list() {
    if std::env::var_os("TRIMSIDE_TEST_WRITE_FIELDS").is_none() {
        return;
    }
    let path = schema().join("fields.txt");
    assert!(!path.exists(), "the list is written once, then lines are added at its end");
    let mut text =
        "# What is saved, and since which version. New lines go to the end, with a version of their own.\n"
            .to_owned();
    saved().keys().for_each(|what| writeln!(text, "1.0 {what}").unwrap());
    std::fs::write(path, text).unwrap();
}
