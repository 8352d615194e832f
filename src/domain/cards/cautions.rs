//! The usual cautions, by what the person is doing. Knows wording, not which step a plan is at.

use super::table;
use std::sync::LazyLock;

/// What the person is doing or making.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Activity {
    /// At the trimmer or with a knife.
    Cutting,
    /// Gluing.
    Adhesives,
    /// With a heat tool.
    Heat,
    /// With embossing powder, glitter or chalk.
    Powders,
    /// Choosing materials.
    Materials,
    /// Making for small children.
    Children,
    /// Posting.
    Post,
    /// Making something to keep.
    Keeping,
    /// Measuring sheets.
    Measuring,
}

/// A caution with what it rests on.
#[derive(Clone, Debug, PartialEq, Eq, serde::Deserialize)]
pub struct Caution {
    /// When it is shown.
    pub when: Activity,
    /// The wording.
    pub text: String,
    /// What it rests on.
    pub basis: String,
}

/// Follows every caution about a tool or material.
pub const DEFER: &str = "the maker's instructions and local rules come first";

static TABLE: LazyLock<Vec<Caution>> =
    LazyLock::new(|| table::rows(include_str!("../../../assets/cautions.ron")));

/// All cautions, in the order of the table.
pub fn all() -> &'static [Caution] {
    &TABLE
}

/// The caution for an activity.
pub fn when(activity: Activity) -> Option<&'static Caution> {
    all().iter().find(|c| c.when == activity)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_activity_has_one_caution_with_its_basis() {
        use Activity::{Adhesives, Children, Cutting, Heat, Keeping, Materials, Measuring, Post, Powders};
        let activities = [Cutting, Adhesives, Heat, Powders, Materials, Children, Post, Keeping, Measuring];
        assert_eq!(all().len(), activities.len());
        for a in activities {
            let caution = when(a).unwrap();
            assert!(caution.text.ends_with('.') && !caution.basis.is_empty(), "{a:?}");
        }
    }
}
