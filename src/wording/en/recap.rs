//! The weekly recap in English: what each day has, and how the work stands. Nothing is weighed up.

use super::dates::{long, short};
use super::{Span, Words, name, plain};
use crate::blanket::How;
use crate::chat::say::{RecapDay, RecapSaid};

pub fn whole(said: &RecapSaid) -> Words {
    let head = format!("{} to {}", long(said.first), long(said.last));
    let mut words = Words { lines: vec![vec![Span::Bold(head)]] };
    words.lines.extend(said.days.iter().map(|day| vec![Span::Plain(self::day(day))]));
    if said.days.is_empty() {
        words.lines.extend(lines!["None of these days is in the blanket."].lines);
    }
    let worked = match said.rows_worked {
        0 => "Rows worked: none.".to_owned(),
        rows => format!("Rows worked: {rows}."),
    };
    let ready = match said.rows_ready {
        0 => "Rows ready to work: none.".to_owned(),
        rows => format!("Rows ready to work: {rows}. /rows lists them."),
    };
    words.lines.extend(lines![worked, ready].lines);
    if !said.yarn_short.is_empty() {
        let names: Vec<String> = said.yarn_short.iter().map(name).collect();
        let line = format!("Yarn that needs attention: {}. /yarn says more.", names.join(", "));
        words.lines.extend(lines![line].lines);
    }
    words
}

fn day(day: &RecapDay) -> String {
    let date = short(day.day);
    match &day.kept {
        None => format!("{date}: open"),
        Some((tier, How::Answered)) => format!("{date}: {}", name(tier)),
        Some((tier, How::ForNow)) => format!("{date}: {}, for now", name(tier)),
        Some((tier, How::Assumed)) => format!("{date}: {}, set", name(tier)),
    }
}
