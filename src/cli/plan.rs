//! `trimside plan`: the arguments and the answer.

mod json;
mod most;

use super::{BadInput, Desk};
use crate::domain::book::Book;
use crate::domain::cards::cautions::{self, Activity, DEFER};
use crate::domain::cutting::job::{Cost, Job, JobPiece};
use crate::domain::cutting::plan::{Plan, PlannedSheet, Unplaced};
use crate::domain::cutting::plan_words;
use crate::domain::cutting::question::{Preference, Trimmer};
use crate::domain::cutting::sheet_order::{self, SheetOrder};
use crate::domain::cutting::words::STACK_CAUTION;
use crate::domain::length::{Length, Unit};
use crate::domain::near::instead;
use crate::domain::planning::{self as domain, ProjectJob};
use crate::domain::plural::count_of;
use crate::domain::size::Grain;
use crate::engine::planning::{self, Budget, Cancel};
use crate::exchange::read::csv_jobs;
use crate::persist::given::{self, LIST};
use anyhow::anyhow;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// Longest planning time that may be asked for, in seconds.
const MOST_SECONDS: f64 = 3_600.0;
/// Most sheets that one stroke may be said to take.
const MOST_A_STROKE: u32 = 50;
/// Most rounds that may be asked for.
const MOST_WORK: u32 = 1_000_000;

/// Plans a whole job over several papers and offcuts: least paper first, then least work at the trimmer.
#[derive(clap::Args, Debug)]
pub struct PlanArgs {
    /// What is wanted: CSV with name,width,height,count,turn,sheet and perhaps paper,grain,allowance,made by
    #[arg(long, value_name = "FILE.csv", requires = "sheets", required_unless_present_any = ["project", "bin"])]
    pub pieces: Option<PathBuf>,
    /// What there is: CSV with name,width,height,available,cost and perhaps paper,grain
    #[arg(long, value_name = "FILE.csv", requires = "pieces")]
    pub sheets: Option<PathBuf>,
    /// A project of the book, from the papers and offcuts that it holds
    #[arg(long, value_name = "PROJECT", conflicts_with_all = ["pieces", "sheets"])]
    pub project: Option<String>,
    /// How many complete cards of the project, or of one card, the shelf and the bin give
    #[arg(long, requires = "project", conflicts_with_all = ["stop_cuts", "seconds", "work", "leftovers_first"])]
    pub most: bool,
    /// Which cards of the book can be made from the bin alone, and how many
    #[arg(long, conflicts_with_all = ["pieces", "sheets", "project", "most", "stop_cuts", "seconds", "work"])]
    pub bin: bool,
    /// The trimmer can start and stop inside the sheet: use such cuts where they save paper
    #[arg(long)]
    pub stop_cuts: bool,
    /// Look for a better plan for at most this many seconds [default: 2; for a project a fixed number of rounds]
    #[arg(long, value_name = "S", conflicts_with = "work")]
    pub seconds: Option<String>,
    /// Do this many rounds of work instead; the same number always gives the same plan
    #[arg(long, value_name = "N")]
    pub work: Option<String>,
    /// End with 1 where a piece has no place; without this a plan that leaves some out ends with 0 and names them
    #[arg(long)]
    pub strict: bool,
    /// The longest cut that the trimmer makes; for a project, the book's own where it is not said
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub max_cut: Option<String>,
    /// Your trimmer, for the words: fence, stop, ruler-left or ruler-right; then after commas arm or slides, a test strip
    /// such as 4=4-1/32, corrected
    #[arg(long, value_name = "PROFILE")]
    pub trimmer: Option<String>,
    /// Among plans of one cost, take the one with the largest leftover
    #[arg(long)]
    pub leftovers_first: bool,
    /// Cut the layouts in the order that moves the fence least, not paper by paper
    #[arg(long)]
    pub by_setting: bool,
    /// How many sheets one stroke takes: 1 unless your trimmer's maker says more
    #[arg(long, value_name = "N")]
    pub sheets_a_stroke: Option<String>,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

/// Answers the command.
///
/// # Errors
/// [`super::BadInput`] for what the person can mend, anything else for a failure.
pub fn answer_plan(args: &PlanArgs, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let begun = Instant::now();
    let budget = budget(args)?;
    let longest_cut = match &args.max_cut {
        Some(text) => Some(Length::parse(text, desk.unit).map_err(|e| BadInput(format!("--max-cut: {e}")))?),
        None => None,
    };
    if args.most || args.bin {
        let answer = if args.bin { most::from_bin } else { most::answer_most };
        return answer(args, longest_cut, desk);
    }
    let trimmer = Trimmer {
        longest_cut,
        sheets_per_stroke: strokes(args)?,
        stop_cuts: args.stop_cuts,
        profile: super::yields::profile(args.trimmer.as_deref(), desk.unit)?,
        ..Trimmer::default()
    };
    let mut asked = asked(args, trimmer, desk)?;
    has_time(budget, asked.job.piece_total())?;
    if args.leftovers_first {
        asked.job.preference = Preference::LargestOffcut;
    }
    let found = match asked.booked.take() {
        Some(plan) => plan,
        None => planning::plan(asked.job.clone(), budget, &Cancel::default(), &mut |_, _| {})
            .map_err(|e| anyhow!(e))?,
    };
    let order = if args.by_setting { SheetOrder::BySetting } else { SheetOrder::ByPaper };
    let (plan, orders) = sheet_order::ordered(&asked.job, found, order);
    let seconds = begun.elapsed().as_secs_f64();
    let left_out: u32 = plan.to_cut().unplaced.iter().map(|u| u.count).sum();
    if args.strict && left_out > 0 {
        return Err(anyhow!(
            "{} without a place: add paper, or leave --strict out to see the plan for the others",
            count_of(u64::from(left_out), "piece")
        ));
    }
    if args.json {
        let mut answer = json::answer(&asked.job, &plan, desk.unit, seconds);
        json::add_orders(&mut answer, order, &orders);
        asked.add_to(&mut answer, plan.to_cut());
        desk.json(&answer)?;
    } else {
        as_text(&asked, &plan, orders.words(order, asked.job.trimmer.profile.set_by), desk, seconds)?;
    }
    for line in
        asked.short_words(plan.to_cut()).into_iter().chain(notes(&asked.job, plan.to_cut(), desk.unit))
    {
        writeln!(desk.note, "{line}")?;
    }
    Ok(())
}

/// What is planned, and what the book says of it where it is a project's.
struct Asked {
    job: Job,
    /// How many sheets of each row are there for the project.
    held: Vec<Option<u32>>,
    /// The booked plan, where it still fits and nothing else is asked for.
    booked: Option<Plan>,
    is_booked: bool,
    of: Option<(Book, ProjectJob)>,
}

impl Asked {
    /// Sheets that will be missing on the day.
    fn short(&self, plan: &Plan) -> Vec<(String, u64)> {
        let Some((book, of)) = &self.of else { return Vec::new() };
        let short = domain::short(book, of, plan).into_iter();
        short.map(|(item, n)| (book.items().name_of(item), n)).collect()
    }

    fn short_words(&self, plan: &Plan) -> Vec<String> {
        self.of.as_ref().map(|(book, of)| domain::short_words(book, of, plan)).unwrap_or_default()
    }

    /// What only a project's answer has: whether the plan is booked, which sheets are short.
    fn add_to(&self, answer: &mut serde_json::Value, plan: &Plan) {
        if self.of.is_some() {
            let short = self.short(plan).into_iter();
            let rows: Vec<_> =
                short.map(|(paper, n)| serde_json::json!({ "paper": paper, "sheets": n })).collect();
            answer["booked"] = serde_json::json!(self.is_booked);
            answer["short"] = serde_json::json!(rows);
        }
    }
}

/// The job of the files, or of a project of the book: what is still to be cut of it.
fn asked(args: &PlanArgs, trimmer: Trimmer, desk: &mut Desk<'_>) -> anyhow::Result<Asked> {
    if let (Some(pieces), Some(sheets)) = (&args.pieces, &args.sheets) {
        if pieces == sheets && pieces == Path::new(given::INPUT) {
            return Err(
                BadInput("only one of --pieces and --sheets can be - (standard input)".to_owned()).into()
            );
        }
        let (pieces, sheets) = (read(pieces, "--pieces")?, read(sheets, "--sheets")?);
        let job = csv_jobs::job(&pieces, &sheets, desk.unit, trimmer).map_err(BadInput::from_error)?;
        return Ok(Asked { job, held: Vec::new(), booked: None, is_booked: false, of: None });
    }
    let name = args.project.as_deref().unwrap_or_default();
    let store = super::open_store(desk)?;
    let book = store.book();
    let id = book.find_project(name).ok_or_else(|| {
        let names: Vec<&str> = book.projects().iter().map(|(_, p)| p.name.as_str()).collect();
        BadInput(format!("--project: no project is called \"{name}\": {}", instead(name, &names)))
    })?;
    let of = domain::job_of(book, id, &trimmer)
        .ok_or_else(|| BadInput(format!("the project \"{name}\" is gone")))?;
    for note in &of.notes {
        writeln!(desk.note, "{note}")?;
    }
    let is_plain = args.seconds.is_none() && args.work.is_none() && args.max_cut.is_none();
    let is_plain = is_plain && !args.stop_cuts && !args.leftovers_first;
    let booked = if is_plain { domain::booked_plan(book, &of).map(|b| b.plan) } else { None };
    let (is_booked, held) = (booked.is_some(), domain::held(book, &of));
    Ok(Asked { job: of.job.clone(), held, booked, is_booked, of: Some((book.clone(), of)) })
}

fn budget(args: &PlanArgs) -> Result<Budget, BadInput> {
    if let Some(text) = &args.work {
        let rounds = text.trim().parse::<u32>().ok().filter(|&n| n <= MOST_WORK);
        return rounds.map(Budget::Work).ok_or_else(|| {
            BadInput(format!("--work {text}: write a whole number of rounds from 0 to {MOST_WORK}"))
        });
    }
    let Some(text) = &args.seconds else {
        // A project's figures are the same in every pane and on every machine: a fixed number of rounds.
        if args.project.is_some() {
            return Ok(Budget::Work(domain::WORK));
        }
        return Ok(Budget::Time(Duration::from_secs_f64(planning::SECONDS)));
    };
    let seconds = text.trim().parse::<f64>().ok().filter(|s| (0.0..=MOST_SECONDS).contains(s));
    seconds.map(|s| Budget::Time(Duration::from_secs_f64(s))).ok_or_else(|| {
        BadInput(format!("--seconds {text}: write a number of seconds from 0 to {MOST_SECONDS}"))
    })
}

/// Very many pieces take a while before there is any plan; less is refused, so that the seconds are kept.
fn has_time(budget: Budget, pieces: u64) -> Result<(), BadInput> {
    let Budget::Time(limit) = budget else { return Ok(()) };
    let least = planning::least_time(pieces);
    if limit >= least {
        return Ok(());
    }
    Err(BadInput(format!(
        "--seconds {}: {} take about {2} seconds to plan at all: write --seconds {2} or more",
        limit.as_secs_f64(),
        count_of(pieces, "piece"),
        least.as_secs_f64()
    )))
}

/// How many sheets a stroke takes; never more than one unless it is said.
fn strokes(args: &PlanArgs) -> Result<u32, BadInput> {
    let Some(text) = &args.sheets_a_stroke else { return Ok(1) };
    let number = text.trim().parse::<u32>().ok().filter(|n| (1..=MOST_A_STROKE).contains(n));
    number.ok_or_else(|| {
        BadInput(format!("--sheets-a-stroke {text}: write a whole number from 1 to {MOST_A_STROKE}"))
    })
}

fn read(path: &Path, what: &str) -> Result<Vec<u8>, BadInput> {
    given::read_or_input(path, LIST).map_err(|e| BadInput(format!("{what} {}: {e}", path.display())))
}

fn as_text(
    asked: &Asked,
    both: &Plan,
    orders: Option<String>,
    desk: &mut Desk<'_>,
    seconds: f64,
) -> anyhow::Result<()> {
    let (unit, job) = (desk.unit, &asked.job);
    let plan = both.to_cut();
    let t = &plan.totals;
    let sheets = plan_words::sheets_and_offcuts(job, plan);
    writeln!(desk.out, "{sheets}, cost {}. {}", t.cost, plan_words::bound_words(job, plan))?;
    if asked.is_booked {
        writeln!(desk.out, "This is the booked plan, as far as it is not cut yet.")?;
    }
    match (plan_words::stop_words(job, both), plan_words::stop_told(job, both)) {
        (Some(words), _) => {
            writeln!(desk.out, "{words} {}", plan_words::edge_to_edge_bound(job, both))?;
        }
        (None, Some(words)) => writeln!(desk.out, "{words}")?,
        (None, None) => {}
    }
    for line in plan_words::paper_lines(job, plan, &asked.held, unit) {
        writeln!(desk.out, "  {line}")?;
    }
    let set_by = job.trimmer.profile.set_by;
    writeln!(
        desk.out,
        "{:.0} % of the paper is used; {}, {}, {}. ({} in {seconds:.1} s)",
        t.used_share * 100.0,
        count_of(t.layouts.into(), "layout"),
        count_of(t.cuts.into(), "cut"),
        count_of(t.hands.settings.into(), &format!("{} setting", set_by.noun())),
        count_of(t.work.into(), "round"),
    )?;
    let chosen = if asked.is_booked {
        plan_words::work_words(plan, set_by)
    } else {
        plan_words::preference_words(job.preference, plan, set_by)
    };
    writeln!(desk.out, "{chosen}")?;
    if let Some(orders) = orders {
        writeln!(desk.out, "{orders}")?;
    }
    if t.sheets > 0 {
        cautions_text(job, desk)?;
    }
    for (at, sheet) in plan.sheets.iter().enumerate() {
        writeln!(desk.out)?;
        layout_text(job, at + 1, sheet, desk)?;
    }
    let kept = plan_words::kept(job, plan);
    if !kept.is_empty() {
        writeln!(desk.out, "\nLeftovers:")?;
    }
    for k in kept {
        writeln!(desk.out, "  {}", k.words(unit))?;
    }
    for s in &plan.shortages {
        writeln!(desk.out, "\nShort of paper: {}.", s.sentence(job, unit))?;
    }
    for u in &plan.unplaced {
        writeln!(desk.out, "\nNot in the plan: {}.", u.sentence(job, unit))?;
    }
    Ok(())
}

/// What to mind at the trimmer, where the cutting begins.
fn cautions_text(job: &Job, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    if let Some(caution) = cautions::when(Activity::Cutting) {
        writeln!(desk.out, "{} ({DEFER})", caution.text)?;
    }
    let n = job.trimmer.sheets_per_stroke;
    if n > 1 {
        writeln!(desk.out, "{n} sheets a stroke. {STACK_CAUTION}")?;
    }
    Ok(())
}

fn layout_text(job: &Job, number: usize, sheet: &PlannedSheet, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let unit = desk.unit;
    let row = &job.sheets[sheet.sheet];
    let times =
        if sheet.copies == 1 { "1 sheet".to_owned() } else { format!("{} sheets alike", sheet.copies) };
    let used = plan_words::used_percent(job, sheet);
    writeln!(
        desk.out,
        "Layout {number}: {times} of {} ({}), {used} % used",
        row.name,
        row.size.as_made(unit)
    )?;
    let mut counts = vec![0_u32; job.pieces.len()];
    for p in &sheet.layout.pieces {
        counts[p.piece] += 1;
    }
    for (piece, n) in job.pieces.iter().zip(counts).filter(|c| c.1 > 0) {
        let made = JobPiece { count: n, ..piece.clone() };
        writeln!(desk.out, "  each gives {}", plan_words::piece_line(&made, unit))?;
    }
    let list = row.cut_list(&sheet.tree, &job.trimmer, sheet.copies);
    for (at, step) in list.steps.iter().enumerate() {
        writeln!(desk.out, "  {}. {}", at + 1, plan_words::step_line(step, &job.pieces, unit))?;
    }
    Ok(())
}

/// Sentences beside the answer.
fn notes(job: &Job, plan: &Plan, unit: Unit) -> Vec<String> {
    let mut notes: Vec<String> = plan.shortages.iter().map(|s| s.sentence(job, unit)).collect();
    notes.extend(plan.unplaced.iter().map(|u: &Unplaced| u.sentence(job, unit)));
    let wishes = job.pieces.iter().any(|p| p.grain != Grain::Unknown);
    for s in &plan.sheets {
        let row = &job.sheets[s.sheet];
        let folded = s.layout.pieces.iter().any(|p| job.pieces[p.piece].grain != Grain::Unknown);
        let note = format!(
            "the grain of {} is not known: whether folds run along it cannot be said, test a strip first",
            row.name
        );
        if wishes && folded && row.grain == Grain::Unknown && !notes.contains(&note) {
            notes.push(note);
        }
    }
    if !plan.totals.proved && plan.totals.cost > plan.totals.lower_bound && plan.totals.cost > Cost::FREE {
        notes.push(format!(
            "cost {} is the best found, at least {} is needed; more --seconds may find better",
            plan.totals.cost, plan.totals.lower_bound
        ));
    }
    notes
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn ask(
        pieces: &str,
        sheets: &str,
        change: impl FnOnce(&mut PlanArgs),
    ) -> Result<(String, String), String> {
        let dir = tempfile::tempdir().unwrap();
        let (p, s) = (dir.path().join("p.csv"), dir.path().join("s.csv"));
        std::fs::write(&p, pieces).unwrap();
        std::fs::write(&s, sheets).unwrap();
        let mut args = PlanArgs {
            strict: false,
            pieces: Some(p),
            sheets: Some(s),
            project: None,
            most: false,
            bin: false,
            trimmer: None,
            stop_cuts: false,
            seconds: None,
            work: Some("3".to_owned()),
            max_cut: None,
            leftovers_first: false,
            by_setting: false,
            sheets_a_stroke: None,
            json: false,
        };
        change(&mut args);
        let (mut out, mut note) = (Vec::new(), Vec::new());
        let mut desk = Desk::new(&mut out, &mut note, Unit::Inch, None);
        answer_plan(&args, &mut desk).map_err(|e| e.to_string())?;
        Ok((String::from_utf8(out).unwrap(), String::from_utf8(note).unwrap()))
    }

    const PIECES: &str = "name,width,height,count,turn,sheet\nbase,5.5,8.5,4,yes,\nposter,9,12,1,yes,\n";
    const SHEETS: &str = "name,width,height,available,cost\nletter,8.5,11,,1\n";

    #[test]
    fn json_holds_what_the_contract_names() {
        let (out, note) = ask(PIECES, SHEETS, |a| a.json = true).unwrap();
        let v: Value = serde_json::from_str(&out).unwrap();
        assert_eq!(v["unit"], "in");
        assert_eq!(v["sheets"][0]["sheet"], "letter");
        assert_eq!(v["sheets"][0]["copies"], 2);
        assert_eq!(v["sheets"][0]["pieces"][0]["name"], "base");
        assert_eq!(v["unplaced"][0]["name"], "poster");
        let t = &v["totals"];
        assert_eq!((&t["sheets"], &t["cost"], &t["lower_bound"]), (&json!(2), &json!(2.0), &json!(2.0)));
        assert_eq!((&t["proved"], &t["cuts"], &t["settings"]), (&json!(true), &json!(2), &json!(1)));
        assert_eq!(
            (&t["preference"], &t["moves"], &t["moves_proved"]),
            (&json!("fewest-moves"), &json!(1), &json!(true))
        );
        assert_eq!((&t["strokes"], &t["exact_fits"]), (&json!(2), &json!(2)));
        let (text, _) = ask(PIECES, SHEETS, |_| ()).unwrap();
        let told = "No plan moves the fence less often: 1 move, 1 setting. Then fewest found: strokes (2), exact fits (2).";
        assert!(text.contains(told), "{text}");
        assert!(
            t["used_share"].as_f64().unwrap() > 0.99 && t["seconds"].is_number() && t["work"].is_number()
        );
        assert!(note.contains("poster") && note.contains("8 1/2 x 11"), "{note}");
    }

    /// 5 x 7 from 12 x 12: three from edge to edge, four with stop cuts (the table of craft yields; the area of four and
    /// the middle is the sheet's).
    #[test]
    fn stop_cuts_are_a_plan_of_their_own_beside_the_one_from_edge_to_edge() {
        let (pieces, sheets) =
            ("name,width,height,count\nmat,5,7,40\n", "name,width,height,paper\ns,12,12,fern\n");
        let rounds = |a: &mut PlanArgs| a.work = Some("40".to_owned());
        let (out, _) = ask(pieces, sheets, |a| {
            rounds(a);
            (a.json, a.stop_cuts) = (true, true);
        })
        .unwrap();
        let v: Value = serde_json::from_str(&out).unwrap();
        let t = &v["totals"];
        assert_eq!((&t["cost"], &t["lower_bound"], &t["proved"]), (&json!(14.0), &json!(14.0), &json!(true)));
        assert_eq!((&t["cost_stop"], &t["lower_bound_stop"]), (&json!(10.0), &json!(10.0)));
        assert_eq!(
            (&t["proved_stop"], &t["bound_stop"], &t["sheets_stop"]),
            (&json!(true), &json!("area"), &json!(10))
        );
        assert!(v["sheets"].as_array().unwrap().iter().all(|s| s["cuts"][0].get("stop").is_none()));
        let four = &v["sheets_stop"][0];
        assert_eq!((&four["copies"], four["pieces"].as_array().unwrap().len()), (&json!(10), 4));
        assert_eq!(four["cuts"][0], json!({ "x0": 0.0, "y0": 5.0, "x1": 7.0, "y1": 5.0, "stop": true }));
        let paper = &v["papers_stop"][0];
        assert_eq!(
            (&paper["paper"], &paper["proved"], &paper["cost"]),
            (&json!("fern"), &json!(true), &json!(10.0))
        );
        let (text, _) = ask(pieces, sheets, |a| {
            rounds(a);
            a.stop_cuts = true;
        })
        .unwrap();
        for words in [
            "Stop cuts on 10 sheets: 10 whole sheets instead of 14. From edge to edge it is proved that no plan uses ",
            "1 stop cut each, strokes 1 to 10 of 40: start at the left edge, stop at the mark after 7 in, and finish",
            "Knife: fingers behind the rule",
        ] {
            assert!(text.contains(words), "{words}: {text}");
        }
        for (pieces, allowed) in [(pieces, false), ("name,width,height,count,turn\nmat,5,7,40,no\n", true)] {
            let (text, _) = ask(pieces, sheets, |a| a.stop_cuts = allowed).unwrap();
            assert_eq!(text.contains("Stop cuts save no paper here."), allowed, "{text}");
            assert!(!text.contains("stop cut each") && (allowed || !text.contains("top cut")), "{text}");
        }
    }

    #[test]
    fn text_says_what_to_cut_and_what_stays() {
        let (out, _) = ask(PIECES, SHEETS, |_| {}).unwrap();
        assert!(out.contains("2 sheets alike of letter"), "{out}");
        assert!(out.contains("No plan can use fewer whole sheets: "), "{out}");
        assert!(out.contains("letter: 2 sheets 8 1/2 x 11 in; 100 % used"), "{out}");
        assert!(out.contains("guard") && out.contains(DEFER), "{out}");
        assert!(out.contains("Fence 5 1/2 in"), "{out}");
        assert!(out.contains("Not in the plan: 1 x \"poster\""), "{out}");
    }

    #[test]
    fn stacks_leftovers_and_allowances_are_the_persons_choice() {
        let (one, _) = ask(PIECES, SHEETS, |_| {}).unwrap();
        assert!(!one.contains("a stroke") && one.contains("strokes 1 to 2 of 2"), "{one}");
        let (two, _) = ask(PIECES, SHEETS, |a| a.sheets_a_stroke = Some("2".to_owned())).unwrap();
        assert!(two.contains("1 cut each, 2 sheets a stroke, stroke 1 of 1"), "{two}");
        assert!(two.contains(STACK_CAUTION), "{two}");
        for bad in ["0", "many", "51"] {
            let why = ask(PIECES, SHEETS, |a| a.sheets_a_stroke = Some(bad.to_owned())).unwrap_err();
            assert!(why.contains("from 1 to 50"), "{why}");
        }
        let (rest, _) = ask(PIECES, SHEETS, |a| a.leftovers_first = true).unwrap();
        assert!(rest.contains("Largest leftover found first."), "{rest}");
        let pieces = "name,width,height,count,allowance\nbase,5,8,2,1/4\n";
        let (out, _) = ask(pieces, SHEETS, |_| {}).unwrap();
        assert!(out.contains("2 x base, 5 x 8 in, cut 5 1/2 x 8 1/2 in for 1/4 all round"), "{out}");
        let (json, _) = ask(pieces, SHEETS, |a| a.json = true).unwrap();
        let v: Value = serde_json::from_str(&json).unwrap();
        let p = &v["sheets"][0]["pieces"][0];
        let sides = [p["width"].as_f64().unwrap(), p["height"].as_f64().unwrap()];
        assert!(sides.contains(&5.5) && sides.contains(&8.5), "pieces lie as they are cut: {p}");
        assert_eq!(v["sheets"][0]["copies"], 1);
    }

    #[test]
    fn very_many_pieces_are_given_the_time_that_they_take() {
        let many = |n: u32| format!("name,width,height,count\ncard,1,1,{n}\n");
        let asked = |n: u32, seconds: &str| {
            let seconds = seconds.to_owned();
            ask(&many(n), SHEETS, move |a| {
                a.work = None;
                a.seconds = Some(seconds);
            })
        };
        let refused = asked(10_000, "0.5").unwrap_err();
        assert_eq!(
            refused,
            "--seconds 0.5: 10000 pieces take about 0.8 seconds to plan at all: write --seconds 0.8 or more"
        );
        assert!(asked(4_100, "0.2").unwrap_err().contains("--seconds 0.35 or more"), "rounded up");
        let in_time =
            |seconds, pieces| has_time(Budget::Time(Duration::from_secs_f64(seconds)), pieces).is_ok();
        assert!(in_time(0.0, 2_000) && in_time(0.8, 10_000) && !in_time(0.0, 2_001));
        assert!(has_time(Budget::Work(0), 10_000).is_ok());
    }

    #[test]
    fn bad_input_is_one_sentence() {
        let with = |f: fn(&mut PlanArgs)| ask(PIECES, SHEETS, f).unwrap_err();
        assert!(with(|a| a.work = Some("x".to_owned())).contains("--work x"));
        assert!(
            with(|a| {
                a.work = None;
                a.seconds = Some("-1".to_owned());
            })
            .contains("--seconds -1")
        );
        assert!(
            with(|a| {
                a.work = None;
                a.seconds = Some("nan".to_owned());
            })
            .contains("--seconds nan")
        );
        assert!(with(|a| a.max_cut = Some("long".to_owned())).contains("--max-cut"));
        assert!(with(|a| a.pieces = Some(PathBuf::from("/nowhere/p.csv"))).contains("no such file"));
        for text in [with(|a| a.max_cut = Some("0".to_owned())), ask("name\n", SHEETS, |_| {}).unwrap_err()] {
            assert!(!text.contains('\n'), "{text}");
        }
    }
}
