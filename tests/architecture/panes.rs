//! A pane knows its own state and what it may read, never the whole bench: whoever reads a pane reads all that it can do.

use super::source::Project;

/// What a part of `app` may name of the rest of it.
const MAY_NAME: [(&str, &[&str]); 2] = [
    ("src/app/state/", &["state", "effect", "input", "pane"]),
    (
        "src/app/panes/",
        &[
            "panes", "state", "action", "commands", "ctx", "effect", "input", "overlay", "reading", "reply",
            "status",
        ],
    ),
];

/// Every name of `app` that a pane, or what a pane remembers, must not know.
pub fn findings(project: &Project) -> Vec<String> {
    let mut findings = Vec::new();
    for source in &project.sources {
        let Some((_, allowed)) = MAY_NAME.iter().find(|(part, _)| source.path.starts_with(part)) else {
            continue;
        };
        for reach in project.reaches(source) {
            let [first, room, part, ..] = reach.path.as_slice() else { continue };
            if first == "crate" && room == "app" && !allowed.contains(&part.as_str()) && !reach.in_tests {
                findings.push(format!("{}: {}", source.path, reach.path.join("::")));
            }
        }
    }
    findings
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pane_that_names_the_model_is_found() {
        let found = |path, text| findings(&Project::of([(path, text)], &[])).len();
        assert_eq!(found("src/app/panes/x.rs", "use crate::app::model::Model;"), 1);
        assert_eq!(found("src/app/panes/x.rs", "fn f(m: &crate::app::model::Model) {}"), 1);
        assert_eq!(found("src/app/panes/x.rs", "use crate::app::ctx::Ctx;"), 0);
        assert_eq!(found("src/app/state/x.rs", "use crate::app::ctx::Ctx;"), 1);
        assert_eq!(found("src/app/run.rs", "use crate::app::model::Model;"), 0);
    }
}
