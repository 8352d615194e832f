fn main() {
    use std::time::Instant;
    use trimside::domain::cutting::{chart, one_size::answer, question::*};
    use trimside::domain::{length::*, sheet::*, size::Size};
    let f = Formats::built_in();
    for (s, p) in [
        ("12x12", "2 1/16 x 3 5/16"),
        ("12x12", "2.5x3.5"),
        ("12x12", "1 1/16 x 1 3/16"),
        ("12x12", "1/2 x 9/16"),
        ("12x12", "1 13/16 x 2 11/16"),
        ("letter", "2x3"),
        ("a4", "40x65mm"),
        ("12x12", "1x5 1/16"),
        ("12x12", "1 1/16 x 5 1/16"),
        ("12x12", "1/8x9/64"),
        ("12x12", "3/4 x 1 1/16"),
        ("letter", "1x5"),
    ] {
        for pref in [Preference::FewestSettings, Preference::LargestOffcut] {
            let sh = parse_sheet(s, Unit::Inch, &f).unwrap();
            let mut q = Question::new(Size::parse(p, Unit::Inch).unwrap(), sh);
            q.preference = pref;
            let t = Instant::now();
            let a = answer(&q);
            let e = t.elapsed();
            println!(
                "{s} {p} {pref:?}: {} {} {} proved {} settings {} cuts {} off {:?} slack {} oneway {} in {e:?}",
                a.upright,
                a.turned,
                a.best,
                a.proved,
                a.settings,
                a.layout.cuts.len(),
                a.layout.largest_offcut().map(|o| o.size.show(Unit::Inch)),
                a.slack.show(Unit::Inch),
                a.one_way
            );
        }
    }
    for s in ["letter", "12x12", "a4", "12x18", "tabloid"] {
        let sh = parse_sheet(s, Unit::Inch, &f).unwrap();
        let r = chart::ChartRange::for_sheet(&sh);
        let t = Instant::now();
        let c = chart::cells(&sh, &r, true, Limits::NONE);
        println!("{s} chart {} cells in {:?}", c.len(), t.elapsed());
    }
    // settings census
    let mut hist = std::collections::BTreeMap::new();
    let sh = parse_sheet("12x12", Unit::Inch, &f).unwrap();
    let mut worst = (std::time::Duration::ZERO, String::new());
    for w in (8..=96).step_by(1) {
        for h in (w..=96).step_by(3) {
            let q = Question::new(Size::new(Length::sixteenths(w), Length::sixteenths(h)), sh.clone());
            let t = Instant::now();
            let a = answer(&q);
            let e = t.elapsed();
            if e > worst.0 {
                worst = (e, format!("{w}x{h}/16"));
            }
            *hist.entry((a.one_way, a.settings)).or_insert(0) += 1;
        }
    }
    println!("{hist:?} worst {worst:?}");
}
