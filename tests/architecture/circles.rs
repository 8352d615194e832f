//! Files that need each other in a circle. A parent with its child may; anything larger is a knot that nobody can take
//! one file out of.

use super::source::Project;
use std::collections::{BTreeMap, BTreeSet};

/// Circles that are let be: a file of each and how many files it holds. There are none; none comes in.
pub const STILL: [(&str, usize); 0] = [];

/// Every circle of more than one file, each sorted, the largest first.
pub fn circles(project: &Project) -> Vec<Vec<String>> {
    let modules: BTreeMap<&[String], usize> =
        project.sources.iter().enumerate().map(|(n, s)| (s.module.as_slice(), n)).collect();
    // A path leads to the innermost module of it that is a file.
    let file_of = |path: &[String]| {
        let inside = path.strip_prefix(&["crate".to_owned()][..])?;
        (1..=inside.len()).rev().find_map(|n| modules.get(&inside[..n]).copied())
    };
    let edges: Vec<BTreeSet<usize>> = project
        .sources
        .iter()
        .enumerate()
        .map(|(n, source)| {
            let reaches = project.reaches(source).iter().filter(|r| !r.in_tests);
            reaches.filter_map(|r| file_of(&r.path)).filter(|to| *to != n).collect()
        })
        .collect();
    let mut found: Vec<Vec<String>> = components(&edges)
        .into_iter()
        .filter(|all| all.len() > 1)
        .map(|all| {
            let mut names: Vec<String> = all.into_iter().map(|n| project.sources[n].path.clone()).collect();
            names.sort();
            names
        })
        .collect();
    found.sort_by_key(|all| (std::cmp::Reverse(all.len()), all.clone()));
    found
}

/// Which nodes reach each other: every node's reach, followed both ways.
fn components(edges: &[BTreeSet<usize>]) -> Vec<Vec<usize>> {
    let reach = |edges: &[BTreeSet<usize>], from: usize| {
        let mut seen = BTreeSet::from([from]);
        let mut next = vec![from];
        while let Some(at) = next.pop() {
            next.extend(edges[at].iter().copied().filter(|to| seen.insert(*to)));
        }
        seen
    };
    let mut back = vec![BTreeSet::new(); edges.len()];
    for (from, all) in edges.iter().enumerate() {
        all.iter().for_each(|to| _ = back[*to].insert(from));
    }
    let mut done = BTreeSet::new();
    let mut all = Vec::new();
    for n in 0..edges.len() {
        if !done.contains(&n) {
            let (to, from) = (reach(edges, n), reach(&back, n));
            let circle: Vec<usize> = to.intersection(&from).copied().collect();
            done.extend(circle.iter().copied());
            all.push(circle);
        }
    }
    all
}

/// True where the circle is one file and a file of its own folder.
fn is_parent_with_child(circle: &[String], project: &Project) -> bool {
    let module = |path: &String| project.sources.iter().find(|s| s.path == *path).map(|s| &s.module);
    let [Some(a), Some(b)] = circle.iter().map(module).collect::<Vec<_>>()[..] else { return false };
    let (short, long) = if a.len() < b.len() { (a, b) } else { (b, a) };
    long.len() == short.len() + 1 && long.starts_with(short)
}

/// Circles that are not allowed.
pub fn findings(project: &Project, still: &[(&str, usize)]) -> Vec<String> {
    let large: Vec<Vec<String>> =
        circles(project).into_iter().filter(|c| !is_parent_with_child(c, project)).collect();
    let allowance =
        |c: &[String]| still.iter().find(|(file, _)| c.iter().any(|f| f == file)).map_or(0, |s| s.1);
    large
        .iter()
        .filter(|c| c.len() > allowance(c))
        .map(|c| format!("{} files in a circle: {}", c.len(), c.join(", ")))
        .collect()
}

/// Allowances that are larger than they need to be.
pub fn slack(project: &Project, still: &[(&str, usize)]) -> Vec<String> {
    let large: Vec<Vec<String>> =
        circles(project).into_iter().filter(|c| !is_parent_with_child(c, project)).collect();
    let now = |file: &str| large.iter().find(|c| c.iter().any(|f| f == file)).map_or(0, Vec::len);
    let loose = still.iter().map(|(file, most)| (file, now(file), most)).filter(|(_, now, most)| now < *most);
    loose.map(|(file, now, most)| format!("{file}: {now} of {most}")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(files: &[(&str, &str)], still: &[(&str, usize)]) -> usize {
        findings(&Project::of(files.iter().copied(), &[]), still).len()
    }

    #[test]
    fn a_circle_is_found_and_a_parent_with_its_child_passes() {
        let [a, b, c] = ["src/domain/a.rs", "src/domain/b.rs", "src/domain/a/c.rs"];
        assert_eq!(found(&[(a, "use super::b::X;"), (b, "fn f() { super::a::x() }")], &[]), 1);
        assert_eq!(found(&[(a, "use super::b::X;"), (b, "")], &[]), 0);
        assert_eq!(found(&[(a, "mod c; use c::X;"), (c, "use super::Y;")], &[]), 0);
        let tests = "#[cfg(test)] mod tests { use crate::domain::a::X; }";
        assert_eq!(found(&[(a, "use super::b::X;"), (b, tests)], &[]), 0);
        let three = [(a, "use c::X; use super::b::X;"), (c, "use super::Y;"), (b, "use super::a::c::X;")];
        assert_eq!(found(&three, &[]), 1);
        assert_eq!((found(&three, &[(a, 3)]), found(&three, &[(a, 2)])), (0, 1));
        assert_eq!(slack(&Project::of(three, &[]), &[(a, 4), (b, 3)]).len(), 1);
    }
}
