//! Days in English: one that is hard to name, one that is left, open ones, and many at once.

use chrono::{NaiveDate, NaiveTime};

use super::dates::{brief, clock, full, isolated, long, month, quoted, short};
use super::{Span, Words, name, plain};
use crate::blanket::{BlockNumber, Label};
use crate::chat::button::Position;
use crate::chat::many::ManyFault;
use crate::chat::say::{Around, OpenSaid};

pub fn compare(day: NaiveDate, default: &Label) -> Words {
    let mut words = heading(day);
    words
        .lines
        .extend(lines![format!("Compared with a day that is {}, was it", name(default))].lines);
    words
}

pub fn default_may_fit(day: NaiveDate, tier: &Label) -> Words {
    let mut words = heading(day);
    let tier = name(tier);
    let line = format!("Then {tier} may fit: it is the tier for days like that.");
    words.lines.extend(lines![line, "Nothing is kept yet."].lines);
    words
}

pub fn which_of_these(day: NaiveDate) -> Words {
    let mut words = heading(day);
    words.lines.extend(lines!["Which of these fits the day?"].lines);
    words
}

pub fn ask_later(day: NaiveDate) -> Words {
    lines![format!("When should I ask about {}?", long(day))]
}

pub fn put_off(day: NaiveDate, until: Option<NaiveDate>, time: NaiveTime) -> Words {
    match until {
        Some(until) => lines![
            format!("I will ask about {} on {} at {}.", short(day), short(until), clock(time)),
            "Until then I say nothing about it.",
        ],
        None => {
            lines![format!("I will not ask about {}.", long(day)), "It stays open. /open lists it.",]
        }
    }
}

pub fn left_open(day: NaiveDate) -> Words {
    lines![format!("{} stays open. /open lists it.", long(day))]
}

pub fn nudge(day: NaiveDate) -> Words {
    lines![format!("Some days are open. The oldest is {}.", long(day)), "Which fits it?"]
}

pub fn open(said: &OpenSaid) -> Words {
    let Some(&oldest) = said.days.first() else { return no_open_days() };
    let mut words = lines![format!("Open: {}.", list(&said.days))];
    let mut line = vec![Span::Bold(format!("{}.", long(oldest)))];
    if let Some(before) = &said.before {
        line.push(Span::Plain(format!(" The day before: {}.", around(before))));
    }
    if let Some(after) = &said.after {
        line.push(Span::Plain(format!(" The day after: {}.", around(after))));
    }
    words.lines.push(line);
    for (day, note) in &said.notes {
        let note = format!("Your note on {}: {}.", short(*day), quoted(note));
        words.lines.push(vec![Span::Plain(note)]);
    }
    words.lines.extend(lines!["A diary, photos or messages of that date may help."].lines);
    words
}

pub fn no_open_days() -> Words {
    lines!["No day before today is open."]
}

/// "Tue 12, Wed 13, Fri 15 January; Mon 1 February": a month is named after its last day.
fn list(days: &[NaiveDate]) -> String {
    let mut text = String::new();
    for (index, day) in days.iter().enumerate() {
        let next = days.get(index + 1);
        let month_ends = next.is_none_or(|next| month(*next) != month(*day));
        text.push_str(&brief(*day));
        if month_ends {
            text.push_str(&format!(" {}", month(*day)));
        }
        match (next.is_some(), month_ends) {
            (false, _) => {}
            (true, true) => text.push_str("; "),
            (true, false) => text.push_str(", "),
        }
    }
    text
}

fn around(around: &Around) -> String {
    around.0.as_ref().map_or("open".to_owned(), name)
}

pub fn many(days: &[(NaiveDate, Label)], replaced: usize) -> Words {
    let mut words = lines!["I read these days:"];
    for (day, tier) in days {
        words.lines.push(vec![Span::Plain(format!("{} {}", short(*day), name(tier)))]);
    }
    words.lines.extend(
        match replaced {
            0 => lines!["Nothing is kept yet."],
            1 => {
                lines!["1 of them has another tier now, which is replaced.", "Nothing is kept yet."]
            }
            more => lines![
                format!("{more} of them have another tier now, which is replaced."),
                "Nothing is kept yet.",
            ],
        }
        .lines,
    );
    words
}

pub fn many_refused(fault: &ManyFault, example: &Label) -> Words {
    let example = format!("Type one day a line, like 14 Jan {}. Nothing was kept.", name(example));
    match fault {
        ManyFault::TooMany { max } => lines![
            format!("That is more than {max} days. Nothing was kept."),
            "Send them in parts.",
        ],
        ManyFault::NoDate { line, typed } => {
            lines![format!("Line {line}: I do not know the day in {}.", quoted(typed)), example]
        }
        ManyFault::NoTier { line, typed } => {
            lines![format!("Line {line}: I do not know the tier {}.", quoted(typed)), example]
        }
        ManyFault::Twice { day } => {
            lines![
                format!("{} is there twice. Nothing was kept.", long(*day)),
                "Send each day once."
            ]
        }
        ManyFault::Outside { day } => {
            lines![
                format!("{} is not in this blanket. Nothing was kept.", full(*day)),
                "Send the other days without it."
            ]
        }
        ManyFault::ToCome { day } => {
            lines![
                format!("{} has not come yet. Nothing was kept.", long(*day)),
                "Send the other days without it."
            ]
        }
    }
}

pub fn many_kept(count: usize) -> Words {
    match count {
        1 => lines!["Kept: 1 day."],
        _ => lines![format!("Kept: {count} days.")],
    }
}

pub fn many_undone(days: &[NaiveDate]) -> Words {
    match days {
        [] => lines!["There is nothing to take back. Nothing was changed."],
        [day] => lines![format!("Taken back: {}. It is as it was before.", long(*day))],
        [first, .., last] => lines![
            format!("Taken back: {} days from {} to {}.", days.len(), short(*first), short(*last)),
            "They are as they were before.",
        ],
    }
}

pub fn all_assumed(count: usize, tier: &Label) -> Words {
    lines![
        format!("Set: {count} open days to {}, because you said so.", name(tier)),
        "They stay marked as set. Each can be changed with /today and its date.",
    ]
}

pub fn worked_up_to(from: Position, to: Position) -> Words {
    lines![
        format!("The work stands at {}.", position(from)),
        format!("This crosses off every row up to {}.", position(to)),
        "Nothing is crossed off yet.",
    ]
}

pub fn crossed_off_up_to(to: Position) -> Words {
    lines![format!("Every row up to {} is worked.", position(to))]
}

pub fn worked_already(to: Position) -> Words {
    lines![format!("Every row up to {} is worked already. Nothing was changed.", position(to))]
}

pub fn taken_back_to(from: Position) -> Words {
    lines![format!("Taken back. The work stands at {}.", position(from))]
}

pub fn no_such_row(blocks: u16, rows: u16) -> Words {
    lines![
        format!("The blanket has {blocks} blocks of {rows} rows. Nothing was changed."),
        "Type it like: worked up to block 3, row 12",
    ]
}

pub fn row_waits(block: BlockNumber, day: NaiveDate) -> Words {
    lines![
        format!("Block {block} waits: {} is open. Nothing was crossed off.", long(day)),
        "Answer that day first, or name an earlier row.",
    ]
}

fn position(at: Position) -> String {
    format!("block {}, row {}", at.block, at.row)
}

pub fn noted(day: NaiveDate, has_tier: bool) -> Words {
    let noted = format!("Note kept: {}.", long(day));
    match has_tier {
        true => lines![noted],
        false => lines![noted, "The day has no tier yet. Tap one above, or type /today."],
    }
}

pub fn unknown_tier(typed: &str, day: NaiveDate, example: &Label) -> Words {
    lines![
        format!("I do not know the tier {}. Nothing was changed.", quoted(typed)),
        format!("For {}, tap a tier or type one, like {}.", long(day), name(example)),
    ]
}

pub fn which_zone(country: &str) -> Words {
    lines![
        format!("{} has more than one time zone.", isolated(country)),
        "Which city has the same time as you?",
    ]
}

fn heading(day: NaiveDate) -> Words {
    Words { lines: vec![vec![Span::Bold(long(day))]] }
}
