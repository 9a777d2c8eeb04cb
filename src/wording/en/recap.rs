//! The weekly recap in English: what each day has, and how the work stands. Nothing is weighed up.

use super::dates::{long, short};
use super::rows::block_name;
use super::{Span, Words, marked, name, plain};
use crate::chat::say::{RecapDay, RecapSaid};

pub fn whole(said: &RecapSaid) -> Words {
    let head = format!("{} to {}.", long(said.first), long(said.last));
    let head = Words { lines: vec![vec![Span::Bold(head)]] };
    let days = match said.days.is_empty() {
        true => lines!["None of these days is in the blanket."],
        false => plain(said.days.iter().map(day)),
    };
    let worked = match said.rows_worked {
        0 => "Rows worked in these days: none.".to_owned(),
        rows => format!("Rows worked in these days: {rows}."),
    };
    let ready = match said.ready {
        None => "Every row of the blanket is worked.".to_owned(),
        Some((block, 0)) => format!("Rows of {} ready to work now: none.", block_name(&block)),
        Some((block, rows)) => {
            format!("Rows of {} ready to work now: {rows}. /rows lists them.", block_name(&block))
        }
    };
    let words = head.and(days).and(lines![worked, ready]);
    if said.yarn_short.is_empty() {
        return words;
    }
    let names: Vec<String> = said.yarn_short.iter().map(name).collect();
    let line = format!(
        "Yarn that is less than the waiting rows take: {}. /yarn says more.",
        names.join(", ")
    );
    words.and(lines![line])
}

fn day(day: &RecapDay) -> String {
    let kept = day.kept.as_ref().map_or("open".to_owned(), |(tier, how)| marked(tier, *how));
    format!("{}: {kept}.", short(day.day))
}
