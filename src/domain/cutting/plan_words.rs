//! A plan in sentences: what it takes of each paper, whether less is possible, which pieces it makes, what is left to keep
//! and what to write on that. The view, the plain mode and the command line say the same.

use super::job::{Cost, Job, JobPiece};
use super::layout::Layout;
use super::leftover;
use super::plan::{PartSum, Plan, PlannedSheet};
use super::question::Preference;
use super::step::{CutPart, CutStep};
use crate::domain::capital::capitalized;
use crate::domain::cutting::trimmer_profile::SetBy;
use crate::domain::length::Unit;
use crate::domain::plural::count_of;
use crate::domain::size::{Grain, Size};

/// What the plan takes of one paper.
#[derive(Clone, Debug, PartialEq)]
pub struct PaperSum {
    /// The paper; the sheet's own name where it has none.
    pub name: String,
    /// Rows of sheets taken: row, how many.
    pub rows: Vec<(usize, u32)>,
    /// Area of the pieces over that of the sheets, 0 to 1.
    pub used_share: f64,
    /// Leftovers that are worth keeping.
    pub kept: u32,
    /// What it costs and could cost at least, where its pieces are planned apart from those of other papers.
    pub least: Option<PartSum>,
}

/// What a plan takes, paper by paper, in the order of the job's sheets.
pub fn papers(job: &Job, plan: &Plan) -> Vec<PaperSum> {
    let kept = kept(job, plan);
    let mut all: Vec<(PaperSum, i128, i128)> = Vec::new();
    for (at, row) in job.sheets.iter().enumerate() {
        let used: u32 = plan.sheets.iter().filter(|s| s.sheet == at).map(|s| s.copies).sum();
        if used == 0 {
            continue;
        }
        let name = row.paper_name().to_owned();
        let made: i128 = plan
            .sheets
            .iter()
            .filter(|s| s.sheet == at)
            .map(|s| s.layout.pieces.iter().map(|p| p.panel.size.area()).sum::<i128>() * i128::from(s.copies))
            .sum();
        let whole = row.size.area() * i128::from(used);
        if let Some((sum, m, w)) = all.iter_mut().find(|(sum, ..)| sum.name == name) {
            sum.rows.push((at, used));
            *m += made;
            *w += whole;
        } else {
            let kept = kept.iter().filter(|k| k.paper == name).map(|k| k.count).sum();
            let least = least_of(job, plan, &name);
            let sum = PaperSum { name, rows: vec![(at, used)], used_share: 0.0, kept, least };
            all.push((sum, made, whole));
        }
    }
    all.into_iter()
        .map(|(sum, made, whole)| PaperSum {
            used_share: if whole > 0 { made as f64 / whole as f64 } else { 0.0 },
            ..sum
        })
        .collect()
}

/// Share of one sheet that its pieces take, in percent, rounded to the nearest.
pub fn used_percent(job: &Job, sheet: &PlannedSheet) -> u32 {
    let whole = job.sheets.get(sheet.sheet).map_or(0, |s| s.size.area());
    let used: i128 = sheet.layout.pieces.iter().map(|p| p.panel.size.area()).sum();
    if whole == 0 { 0 } else { u32::try_from((200 * used + whole) / (2 * whole)).unwrap_or(100) }
}

/// The sum of the parts that are cut from a paper; `None` where one of them may be cut from another paper, too.
fn least_of(job: &Job, plan: &Plan, paper: &str) -> Option<PartSum> {
    let is_of = |row: &usize| job.sheets.get(*row).is_some_and(|s| s.paper_name() == paper);
    let mut sum: Option<PartSum> = None;
    for part in plan.parts.iter().filter(|p| p.rows.iter().any(is_of)) {
        if !part.rows.iter().all(is_of) {
            return None;
        }
        sum = Some(match sum {
            None => part.clone(),
            Some(one) => PartSum {
                rows: [one.rows, part.rows.clone()].concat(),
                bound: if part.lower_bound > one.lower_bound { part.bound } else { one.bound },
                cost: one.cost + part.cost,
                lower_bound: one.lower_bound + part.lower_bound,
                proved: one.proved && part.proved,
            },
        });
    }
    sum
}

/// Whether less of one paper is possible, in a few words.
fn least_words(job: &Job, least: &PartSum) -> String {
    match (counts_sheets(job), least.proved) {
        (true, true) => "no plan can use fewer whole sheets".to_owned(),
        (false, true) => "no plan can cost less".to_owned(),
        (true, false) => {
            format!("uses {}, no plan can use fewer than {}", whole(least.cost), least.lower_bound)
        }
        (false, false) => format!("costs {}, no plan can cost less than {}", least.cost, least.lower_bound),
    }
}

fn whole(c: Cost) -> String {
    if c == Cost::ONE { "1 whole sheet".to_owned() } else { format!("{c} whole sheets") }
}

/// One line a paper: `fern floor: 3 of 36 sheets 8 1/2 x 11 in, 1 offcut 4 x 11 in; 91 % used; 2 offcuts to keep; no plan
/// can use fewer whole sheets`.
///
/// `held` says how many sheets of each row are there, for rows that the job asks for without a limit.
pub fn paper_lines(job: &Job, plan: &Plan, held: &[Option<u32>], unit: Unit) -> Vec<String> {
    let line = |sum: PaperSum| {
        let rows = sum.rows.iter().filter_map(|&(at, used)| {
            let row = job.sheets.get(at)?;
            let word = row.taken().word();
            let there = row.available.or_else(|| held.get(at).copied().flatten());
            let size = row.size.as_made(unit);
            Some(match there {
                Some(n) if used > n => {
                    format!("{} {size}, of which {n} here", count_of(u64::from(used), word))
                }
                Some(n) => format!("{used} of {} {size}", count_of(u64::from(n), word)),
                None => format!("{} {size}", count_of(u64::from(used), word)),
            })
        });
        let rows: Vec<String> = rows.collect();
        let mut text = format!("{}: {}; {:.0} % used", sum.name, rows.join(", "), sum.used_share * 100.0);
        if sum.kept > 0 {
            text = format!("{text}; {} to keep", count_of(u64::from(sum.kept), "offcut"));
        }
        if let Some(least) = &sum.least {
            text = format!("{text}; {}", least_words(job, least));
        }
        text
    };
    papers(job, plan).into_iter().map(line).collect()
}

/// `24 sheets and 5 offcuts`: rows that cost nothing are offcuts, and are never added to whole sheets.
pub fn sheets_and_offcuts(job: &Job, plan: &Plan) -> String {
    let (sheets, offcuts) = sheet_counts(job, plan);
    count_words(sheets, offcuts)
}

/// Whole sheets and offcuts of a plan, counted apart.
pub fn sheet_counts(job: &Job, plan: &Plan) -> (u64, u64) {
    let is_free = |row: usize| job.sheets.get(row).is_some_and(|s| s.cost == Cost::FREE);
    let (mut sheets, mut offcuts) = (0, 0);
    for s in &plan.sheets {
        *(if is_free(s.sheet) { &mut offcuts } else { &mut sheets }) += u64::from(s.copies);
    }
    (sheets, offcuts)
}

/// `24 sheets and 5 offcuts`, `1 sheet`, `2 offcuts`, `no sheets`.
pub fn count_words(sheets: u64, offcuts: u64) -> String {
    match (sheets, offcuts) {
        (0, 0) => "no sheets".to_owned(),
        (n, 0) => count_of(n, "sheet"),
        (0, n) => count_of(n, "offcut"),
        (s, o) => format!("{} and {}", count_of(s, "sheet"), count_of(o, "offcut")),
    }
}

/// True where cost counts whole sheets, and offcuts are free.
pub fn counts_sheets(job: &Job) -> bool {
    job.sheets.iter().all(|s| s.cost == Cost::FREE || s.cost == Cost::ONE)
}

/// Whether less is possible, as a sentence.
pub fn bound_words(job: &Job, plan: &Plan) -> String {
    let t = &plan.totals;
    if t.sheets == 0 {
        return "Nothing to cut.".to_owned();
    }
    let is_sheets = counts_sheets(job);
    let less = if is_sheets { "use fewer whole sheets" } else { "cost less" };
    if t.proved {
        return format!("No plan can {less}: {}.", t.bound.reason());
    }
    if is_sheets {
        format!("Uses {}; no plan can use fewer than {}.", whole(t.cost), whole(t.lower_bound))
    } else {
        format!("Costs {}; no plan can cost less than {}.", t.cost, t.lower_bound)
    }
}

/// What stop cuts save, in a sentence (`Stop cuts on 4 sheets: 4 whole sheets instead of 6.`); `None` where the trimmer cannot make them or they save nothing.
pub fn stop_words(job: &Job, plan: &Plan) -> Option<String> {
    let stop = plan.stop.as_ref().filter(|stop| stop.has_stop_cuts())?;
    let sheets: u32 = stop.sheets.iter().filter(|s| s.tree.has_stop_cuts()).map(|s| s.copies).sum();
    let on = if sheets == 1 { "1 sheet".to_owned() } else { format!("{sheets} sheets") };
    let missing = |p: &Plan| p.unplaced.iter().map(|u| u64::from(u.count)).sum::<u64>();
    let (before, now) = (missing(plan), missing(stop));
    let gain = if now < before {
        {
            let verb = if before - now == 1 { "is" } else { "are" };
            format!("{} {verb} made", count_of(before - now, "more piece"))
        }
    } else if counts_sheets(job) {
        format!("{} instead of {}", whole(stop.totals.cost), plan.totals.cost)
    } else {
        format!("cost {} instead of {}", stop.totals.cost, plan.totals.cost)
    };
    Some(format!("Stop cuts on {on}: {gain}."))
}

/// The same, or that they save nothing; `None` where the trimmer cannot make them.
pub fn stop_told(job: &Job, plan: &Plan) -> Option<String> {
    plan.stop.as_ref()?;
    Some(stop_words(job, plan).unwrap_or_else(|| "Stop cuts save no paper here.".to_owned()))
}

/// Whether less is possible, in a few words.
pub fn bound_short(job: &Job, plan: &Plan) -> String {
    let less = less_words(job, plan);
    if plan.totals.proved { format!("Proved: {less}.") } else { format!("{}.", capitalized(&less)) }
}

/// The same of the plan without stop cuts, where it stands behind one with them.
pub fn edge_to_edge_bound(job: &Job, plan: &Plan) -> String {
    let what = if plan.totals.proved { "it is proved that" } else { "the plan" };
    format!("From edge to edge {what} {}.", less_words(job, plan))
}

/// What no plan does, where that is proved; else what this one does, and none does.
fn less_words(job: &Job, plan: &Plan) -> String {
    let t = &plan.totals;
    match (counts_sheets(job), t.proved) {
        (true, true) => "no plan uses fewer".to_owned(),
        (false, true) => "no plan costs less".to_owned(),
        (true, false) => format!("uses {} whole; none uses under {}", t.cost, t.lower_bound),
        (false, false) => format!("costs {}; none costs under {}", t.cost, t.lower_bound),
    }
}

/// What decided among plans of one cost, in its order, and whether less is possible: `No plan moves the fence less often: 2
/// moves, 2 settings. Then fewest found: strokes (32), exact fits (0). Then larger leftovers.`
pub fn preference_words(preference: Preference, plan: &Plan, set_by: SetBy) -> String {
    let h = plan.totals.hands;
    let rest = format!("strokes ({}), exact fits ({})", h.strokes, h.exact_fits);
    let found = format!("{} ({}), settings ({}), {rest}", set_by.moves_noun(), h.moves, h.settings);
    match preference {
        _ if h.strokes == 0 => "There is nothing to cut.".to_owned(),
        Preference::LargestOffcut => {
            format!("Largest leftover found first. Then fewest found: {found}.")
        }
        Preference::FewestSettings if h.is_least => {
            let (moves, settings) =
                (count_of(h.moves.into(), "move"), count_of(h.settings.into(), "setting"));
            format!(
                "No plan {} less often: {moves}, {settings}. Then fewest found: {rest}. Then larger leftovers.",
                set_by.moves_verb()
            )
        }
        Preference::FewestSettings => {
            format!("Fewest found, in this order: {found}. Then larger leftovers.")
        }
    }
}

/// The same in a few words, for a narrow place.
pub fn preference_short(preference: Preference, plan: &Plan, set_by: SetBy) -> String {
    let h = plan.totals.hands;
    match preference {
        _ if h.strokes == 0 => "There is nothing to cut.".to_owned(),
        Preference::LargestOffcut => "Largest leftover found first.".to_owned(),
        Preference::FewestSettings if h.is_least => format!("Fewest {}: {}.", set_by.moves_noun(), h.moves),
        Preference::FewestSettings => format!("Fewest moves found: {}.", h.moves),
    }
}

/// The work that a plan is, whatever decided: `At the trimmer: 14 fence moves, 8 settings, 590 strokes, 3 exact fits.`
pub fn work_words(plan: &Plan, set_by: SetBy) -> String {
    let h = plan.totals.hands;
    let counts = [
        set_by.moves(h.moves),
        count_of(h.settings.into(), "setting"),
        count_of(h.strokes.into(), "stroke"),
        count_of(h.exact_fits.into(), "exact fit"),
    ];
    format!("At the trimmer: {}.", counts.join(", "))
}

/// A piece and how it is cut: `20 x mat, 4 x 5 in, cut 4 1/4 x 5 1/4 in, must stay upright`.
pub fn piece_line(piece: &JobPiece, unit: Unit) -> String {
    let mut all = vec![format!("{} x {}", piece.count, piece.called()), piece.finished.show_with_unit(unit)];
    if piece.allowance.is_positive() {
        all.push(format!(
            "cut {} for {} all round",
            piece.cut_size().show_with_unit(unit),
            piece.allowance.show(unit)
        ));
    }
    if !piece.may_turn {
        all.push("must stay upright".to_owned());
    }
    if piece.grain != Grain::Unknown {
        all.push(format!("grain along its {} side", piece.grain.word()));
    }
    all.join(", ")
}

/// A step with what is still to be done to the pieces that come off in it: `Fence 3 in: ... Beyond the blade: 1 offcut 2 x 2
/// in. After the cuts: mat 1: die-cut, 1/4 in around.`
pub fn step_line(step: &CutStep, pieces: &[JobPiece], unit: Unit) -> String {
    let words = step.words(unit);
    match after_the_cuts(step, pieces, unit) {
        Some(after) => format!("{words} {after}"),
        None => words,
    }
}

/// What is still to be done to the pieces that come off in a step, as a sentence; `None` where all of them are finished.
pub fn after_the_cuts(step: &CutStep, pieces: &[JobPiece], unit: Unit) -> Option<String> {
    let stop = step.stop.iter().flat_map(|stop| stop.off.iter().map(|(kind, _)| *kind));
    let parts = if step.stop.is_some() { Vec::new() } else { vec![step.part.0, step.rest.0] };
    let mut rows: Vec<usize> = Vec::new();
    for kind in parts.into_iter().chain(stop) {
        if let CutPart::Piece(row) = kind
            && !rows.contains(&row)
        {
            rows.push(row);
        }
    }
    let all: Vec<String> =
        rows.into_iter().filter_map(|row| pieces.get(row)).filter_map(|p| p.made_words(unit)).collect();
    (!all.is_empty()).then(|| format!("After the cuts: {}.", all.join("; ")))
}

/// The kinds of piece on one sheet in the order they lie there, each with how many there are: the screen and the page
/// letter them alike.
pub fn kinds(layout: &Layout) -> Vec<(usize, usize)> {
    let mut kinds: Vec<(usize, usize)> = Vec::new();
    for p in &layout.pieces {
        match kinds.iter_mut().find(|(piece, _)| *piece == p.piece) {
            Some((_, n)) => *n += 1,
            None => kinds.push((p.piece, 1)),
        }
    }
    kinds
}

/// A, B, ... for the kinds of piece on one sheet.
pub fn kind_letter(at: usize) -> String {
    let first = char::from(b'A' + (at % 26) as u8);
    if at < 26 { first.to_string() } else { format!("{first}{}", at / 26) }
}

/// Leftovers of one size that are worth keeping.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptLeftover {
    /// Their paper.
    pub paper: String,
    /// Their size, upright.
    pub size: Size,
    /// Which of their sides the grain follows.
    pub grain: Grain,
    /// How many.
    pub count: u32,
}

impl KeptLeftover {
    /// What is written on each: `fern floor, 2 x 8 1/2 in, grain long`; nothing of a grain that is not known.
    pub fn label(&self, unit: Unit) -> String {
        let label = format!("{}, {}", self.paper, self.size.show_with_unit(unit));
        match self.grain {
            Grain::Unknown => label,
            known => format!("{label}, grain {}", known.word()),
        }
    }

    /// What to do with it: `keep 3, write on each "fern floor 2 x 8 1/2 in"`.
    pub fn words(&self, unit: Unit) -> String {
        let each = if self.count == 1 { "it" } else { "each" };
        format!("keep {}, write on {each} \"{}\"", self.count, self.label(unit))
    }
}

/// Adds leftovers of sheets of one paper, each with its grain, if they are worth keeping.
pub fn keep(
    all: &mut Vec<KeptLeftover>,
    paper: &str,
    left: impl Iterator<Item = (Size, Grain)>,
    copies: u32,
    floor: Size,
) {
    let upright = left.map(|(size, grain)| (size.upright(), grain));
    for (size, grain) in upright.filter(|(size, _)| leftover::is_kept(*size, floor)) {
        match all.iter_mut().find(|k| k.paper == paper && k.size == size && k.grain == grain) {
            Some(same) => same.count += copies,
            None => all.push(KeptLeftover { paper: paper.to_owned(), size, grain, count: copies }),
        }
    }
}

/// The leftovers that a plan leaves to keep, the largest first.
pub fn kept(job: &Job, plan: &Plan) -> Vec<KeptLeftover> {
    let mut all = Vec::new();
    for planned in &plan.sheets {
        let Some(row) = job.sheets.get(planned.sheet) else { continue };
        keep(
            &mut all,
            row.paper_name(),
            planned.layout.offcuts.iter().map(|o| (o.size, row.grain.of_part(row.size, o.size))),
            planned.copies,
            job.keep,
        );
    }
    all.sort_by_key(|k| (std::cmp::Reverse(k.size.area()), k.paper.clone()));
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cards::made_by::MadeBy;
    use crate::domain::cutting::job::JobSheet;
    use crate::domain::cutting::planner::Solver;
    use crate::domain::cutting::question::Trimmer;
    use crate::domain::length::Length;

    fn job() -> Job {
        let piece = |name: &str, paper: &str, w: i64, h: i64, count: u32| JobPiece {
            name: name.to_owned(),
            finished: Size::new(Length::inches(w), Length::inches(h)),
            made_by: MadeBy::DieCut,
            allowance: Length::sixteenths(2),
            count,
            may_turn: w != h,
            grain: Grain::Unknown,
            paper: Some(paper.to_owned()),
            sheet: None,
        };
        let sheet = |name: &str, paper: &str, w: i64, h: i64, available, cost| JobSheet {
            name: name.to_owned(),
            paper: Some(paper.to_owned()),
            size: Size::new(Length::inches(w), Length::inches(h)),
            grain: Grain::Unknown,
            available,
            cost,
        };
        Job {
            pieces: vec![piece("mat", "fern", 5, 5, 5), piece("tag", "moss", 2, 4, 3)],
            sheets: vec![
                sheet("piece of fern", "fern", 6, 6, Some(1), Cost::FREE),
                sheet("fern sheet", "fern", 12, 12, Some(9), Cost::ONE),
                sheet("moss sheet", "moss", 12, 12, None, Cost::ONE),
            ],
            trimmer: Trimmer::default(),
            preference: Preference::default(),
            keep: Job::KEEP,
        }
    }

    #[test]
    fn a_plan_is_told_paper_by_paper() {
        let job = job();
        let mut solver = Solver::new(job.clone(), 1);
        solver.rounds(3);
        let plan = solver.plan();
        let lines = paper_lines(&job, &plan, &[], Unit::Inch);
        // 5 squares of 5 1/4: one from the offcut of 6, four from a sheet of 12; 27.5625 x 5 / (36 + 144) = 76.6 %.
        assert_eq!(
            lines[0],
            "fern: 1 of 1 offcut 6 x 6 in, 1 of 9 sheets 12 x 12 in; 77 % used; no plan can use fewer whole sheets"
        );
        assert!(lines[1].starts_with("moss: 1 sheet 12 x 12 in; "), "{lines:?}");
        assert!(bound_words(&job, &plan).starts_with("No plan can use fewer whole sheets: "));
        assert_eq!(
            piece_line(&job.pieces[0], Unit::Inch),
            "5 x mat, die-cut, 5 x 5 in, cut 5 1/4 x 5 1/4 in for 1/8 all round, must stay upright"
        );
        let kept = kept(&job, &plan);
        assert!(kept.iter().all(|k| k.size.width >= Length::inches(2)), "{kept:?}");
        assert!(kept.windows(2).all(|w| w[0].size.area() >= w[1].size.area()));
        assert!(kept[0].words(Unit::Inch).starts_with("keep 1, write on it \"moss, "), "{kept:?}");
        // Of a grain that is not known nothing is written; one that is known stands behind the size.
        assert!(!kept[0].label(Unit::Inch).contains("grain"));
        let known = KeptLeftover { grain: Grain::Long, ..kept[0].clone() };
        assert_eq!(known.label(Unit::Inch), format!("{}, grain long", kept[0].label(Unit::Inch)));
    }
}
