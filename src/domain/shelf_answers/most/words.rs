//! How many cards, in words.

use super::sets::{Limit, Most, MostAsk};
use crate::domain::plural::count_of;

/// `Hedgerow notes: 12 cards can be made, and no more.`
pub fn heading(ask: &MostAsk, most: &Most) -> String {
    let sets = match most.sets {
        1 => format!("1 {}", ask.set),
        n if ask.set == "card" => count_of(n, "card"),
        n => format!("{n} x a {} ({})", ask.set, count_of(most.cards, "card")),
    };
    let proof = if most.is_proved() {
        "no more can be".to_owned()
    } else {
        format!("at most {} could be", most.bound)
    };
    match most.sets {
        0 => format!("{}: no {} can be made complete; {proof}.", ask.name, ask.set),
        _ => format!("{}: {sets} can be made complete; {proof}.", ask.name),
    }
}

/// What runs out first, and what one more of it would bring.
fn first_words(most: &Most) -> Option<String> {
    let first = most.limits.get(..most.first).filter(|all| !all.is_empty())?;
    let names: Vec<&str> = first.iter().map(|l| l.name.as_str()).collect();
    let (runs, each) = if first.len() == 1 {
        (format!("{} runs out first", names.join("")), "one more of it")
    } else {
        (format!("{} run out first, together", names.join(" and ")), "one more of each")
    };
    let gain = most.with_one_more.saturating_sub(most.sets);
    let brings = match gain {
        0 => format!("{each} would bring none yet"),
        n => format!("{each} would bring {n} more, {} in all", most.sets + n),
    };
    Some(format!("{runs}: {brings}."))
}

/// What one paper or counted thing allows: `fern: enough for 18 (3 sheets)`.
pub fn limit_words(limit: &Limit) -> String {
    let proof = if limit.sets == limit.bound { String::new() } else { format!(", at most {}", limit.bound) };
    format!("{}: {} there, enough for {}{proof}", limit.name, limit.held, limit.sets)
}

/// The whole answer in lines.
pub fn lines(ask: &MostAsk, most: &Most) -> Vec<String> {
    let mut all = vec![heading(ask, most)];
    all.extend(first_words(most));
    all.extend(most.limits.iter().map(|l| format!("  {}", limit_words(l))));
    all
}

/// One design from the bin alone: `hedge note: 3 cards; moss runs out first`.
pub fn bin_words(ask: &MostAsk, most: &Most) -> String {
    let proof = if most.is_proved() { String::new() } else { format!(", at most {}", most.bound) };
    let first = most.limits.first().map_or("", |l| l.name.as_str());
    format!("{}: {}{proof}; {first} runs out first", ask.name, count_of(most.cards, "card"))
}

/// Said where the bin gives no card.
pub const NONE_FROM_BIN: &str = "No card of the book can be made complete from the bin alone.";
