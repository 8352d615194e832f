//! What is booked in the demo is what the planner finds. `TRIMSIDE_WRITE_DEMO=1` writes the plans anew.

use std::path::PathBuf;
use trimside::domain::book::Book;
use trimside::domain::cutting::job::Cost;
use trimside::domain::planning;
use trimside::engine::planning::Abreast;
use trimside::persist::demo::{self, Written};

#[test]
fn the_booked_plans_of_the_demo_are_those_that_are_found() {
    let mut found = Vec::new();
    let (book, _) = demo::book_by(&mut |job| {
        let plan = planning::settle(&job.job, &mut Abreast);
        found.push(Written {
            project: job.name.clone(),
            least: plan.totals.lower_bound.parts().div_ceil(Cost::ONE.parts()),
            bound: plan.totals.bound.word().to_owned(),
            layouts: plan.sheets.iter().map(|s| (s.sheet, s.copies, s.tree.encode())).collect(),
        });
        Ok(plan)
    })
    .unwrap();
    let file = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("demo-data/booked.ron");
    if std::env::var_os("TRIMSIDE_WRITE_DEMO").is_some() {
        let look = ron::ser::PrettyConfig::new().compact_arrays(true).depth_limit(3);
        let text = ron::ser::to_string_pretty(&found, look).unwrap();
        std::fs::write(
            &file,
            format!(
                "// The plans that the demo's week has booked, written by tests/laws/demo_plans.rs.\n{text}\n"
            ),
        )
        .unwrap();
        return;
    }
    let known: Vec<Written> = ron::from_str(&std::fs::read_to_string(&file).unwrap()).unwrap();
    assert_eq!(known, found);
    // What a bound is called is the planner's own; all else of the book is the same.
    let (known, _) = demo::book().unwrap();
    assert_eq!(known.log(), book.log());
    let bookings = |book: &Book| book.bookings().iter().map(|(_, b)| b.clone()).collect::<Vec<_>>();
    assert_eq!(bookings(&known), bookings(&book));
}
