//! Days in English: one that is hard to name, one that is left, open ones, and many at once.

use chrono::{NaiveDate, NaiveDateTime};

use super::dates::{brief, clock, day_and_month, full, isolated, long, month, quoted, short};
use super::{Span, Words, marked, name, plain};
use crate::blanket::{BlockNumber, How, Label, OwnQuestion};
use crate::chat::button::Position;
use crate::chat::many::ManyFault;
use crate::chat::say::{Around, MeaningsSaid, OpenSaid, TierSaid};

/// The most open days that are named one by one: a month of them.
const DAYS_LISTED_MAX: usize = 31;

pub fn compare(day: NaiveDate, default: &Label) -> Words {
    let line = format!("Compared with {}, where is this day on your scale?", name(default));
    heading(day).and(lines![line])
}

pub fn default_may_fit(day: NaiveDate, said: &TierSaid) -> Words {
    let tier = name(&said.tier);
    heading(day)
        .and(lines![format!("Then {tier} may fit: it is the tier for days like that.")])
        .and(plain(own_words(said)))
        .and(lines!["Nothing is kept yet."])
}

pub fn which_of_these(day: NaiveDate, tiers: &[TierSaid]) -> Words {
    let words = tiers.iter().filter_map(own_words);
    if let [one] = tiers {
        let line = format!("Then {} may fit.", name(&one.tier));
        return heading(day)
            .and(lines![line])
            .and(plain(words))
            .and(lines!["Nothing is kept yet."]);
    }
    heading(day).and(lines!["Which of these fits the day?"]).and(plain(words))
}

/// Smooth: "slept well, walked"
pub fn own_words(said: &TierSaid) -> Option<String> {
    let line = said.line.as_ref()?;
    Some(format!("{}: \"{}\"", name(&said.tier), isolated(line)))
}

/// The question, each tier with its line, and what is so now.
pub fn meanings(said: &MeaningsSaid) -> Words {
    let tiers = said.tiers.iter().map(|tier| own_words(tier).unwrap_or(name(&tier.tier)));
    let mut words = question(said.day, said.asks.as_ref()).and(plain(tiers));
    if let Some((tier, how)) = &said.kept {
        words = words.and(kept_now(tier, *how));
    }
    match said.practice {
        true => words.and(lines![PRACTICE]),
        false => words,
    }
}

pub const PRACTICE: &str = "Practice: nothing is kept.";

fn kept_now(tier: &Label, how: How) -> Words {
    lines![format!("Kept now: {}.", marked(tier, how))]
}

pub fn to_change(day: NaiveDate, asks: Option<&OwnQuestion>, now: &Label, how: How) -> Words {
    question(day, asks).and(kept_now(now, how))
}

pub fn ask_later(day: NaiveDate) -> Words {
    lines![format!("When should I ask about {}?", long(day))]
}

pub fn put_off(day: NaiveDate, asks: Option<NaiveDateTime>, moved: bool, paused: bool) -> Words {
    let Some(asks) = asks else {
        return lines![format!("I will not ask about {}.", long(day)), how_to_answer(day)];
    };
    let at = format!("{} at {}", short(asks.date()), clock(asks.time()));
    let mut words = lines![format!("I will ask about {} on {at}.", short(day))];
    if moved {
        words = words
            .and(lines!["It is later than you tapped, because another message comes on that day."]);
    }
    words.and(match paused {
        true => lines!["There is a pause now. I ask nothing before you type /resume."],
        false => lines!["Until then I say nothing about it."],
    })
}

pub fn left_open(day: NaiveDate) -> Words {
    lines![format!("{} stays open.", long(day)), how_to_answer(day)]
}

fn how_to_answer(day: NaiveDate) -> String {
    format!("To answer it, type {}.", today_command(day))
}

/// "/today 14 Jan"
fn today_command(day: NaiveDate) -> String {
    format!("/today {}", day_and_month(day))
}

pub fn nudge(day: NaiveDate, asks: Option<&OwnQuestion>) -> Words {
    lines![format!("{} is open.", long(day)), asked(asks)]
}

pub fn open(said: &OpenSaid) -> Words {
    let Some(&oldest) = said.days.first() else { return no_open_days() };
    let mut line = vec![Span::Bold(format!("{}.", long(oldest)))];
    if let Some(before) = &said.before {
        line.push(Span::Plain(format!(" The day before: {}.", around(before))));
    }
    if let Some(after) = &said.after {
        line.push(Span::Plain(format!(" The day after: {}.", around(after))));
    }
    let mut words = lines![format!("Open: {}.", list(&said.days))];
    words.lines.push(line);
    for (day, note) in &said.notes {
        let note = format!("Your note on {}: {}", short(*day), quoted(note));
        words.lines.push(vec![Span::Plain(note)]);
    }
    words.and(lines!["A diary, photos or messages of that date may help."])
}

pub fn no_open_days() -> Words {
    lines!["No day before today is open."]
}

/// "Tue 12, Wed 13, Fri 15 January; Mon 1 February": a month is named after its last day. A long
/// list ends with how many more there are.
fn list(days: &[NaiveDate]) -> String {
    let (days, more) = days.split_at(days.len().min(DAYS_LISTED_MAX));
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
    if let Some(last) = more.last() {
        text.push_str(&format!(". {} more, up to {}", more.len(), long(*last)));
    }
    text
}

fn around(around: &Around) -> String {
    around.0.as_ref().map_or("open".to_owned(), |(tier, how)| marked(tier, *how))
}

pub fn many(days: &[(NaiveDate, Label)], replaced: usize) -> Words {
    let read = days.iter().map(|(day, tier)| format!("{}: {}.", short(*day), name(tier)));
    let words = lines!["I read these days:"].and(plain(read));
    let words = words.and(match replaced {
        0 => Words::default(),
        1 => lines!["1 of them has another tier now. It would be replaced."],
        more => lines![format!("{more} of them have another tier now. They would be replaced.")],
    });
    words.and(lines!["Nothing is kept yet."])
}

pub fn many_refused(fault: &ManyFault, example: &Label) -> Words {
    let example = format!("Type one day a line, like 14 Jan {}. Nothing was kept.", name(example));
    match fault {
        ManyFault::TooMany { max } => lines![
            format!("I can take at most {max} days at once. Nothing was kept."),
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
    let tier = name(tier);
    match count {
        1 => lines![
            format!("1 open day is now set to {tier}."),
            "It stays marked as set. To change it, type /today and its date.",
        ],
        _ => lines![
            format!("{count} open days are now set to {tier}."),
            "They stay marked as set. To change one, type /today and its date.",
        ],
    }
}

pub fn worked_up_to(from: Position, to: Position) -> Words {
    lines![
        stands(from),
        format!("Shall I cross off every row up to {}?", position(to)),
        "Nothing is crossed off yet.",
    ]
}

pub fn crossed_off_up_to(to: Position) -> Words {
    lines![format!("Every row up to {} is worked.", position(to))]
}

pub fn worked_before(to: Position) -> Words {
    lines![
        format!("Every row up to {} was crossed off before.", position(to)),
        "Nothing was changed.",
    ]
}

pub fn taken_back_to(from: Position) -> Words {
    lines!["Taken back.", stands(from)]
}

pub fn no_such_row(blocks: u16, rows: u16) -> Words {
    let blanket = match blocks {
        1 => format!("The blanket is 1 block of {rows} rows. Nothing was changed."),
        _ => format!("The blanket has {blocks} blocks of {rows} rows. Nothing was changed."),
    };
    let (block, row) = (blocks.min(3), rows.min(12));
    lines![blanket, format!("Type it like: worked up to block {block}, row {row}")]
}

pub fn row_waits(block: BlockNumber, day: NaiveDate, to_come: bool) -> Words {
    match to_come {
        true => lines![
            format!("Block {block} waits: {} has not come yet.", long(day)),
            "Nothing was crossed off. Name an earlier row.",
        ],
        false => lines![
            format!("Block {block} waits: {} is open. Nothing was crossed off.", long(day)),
            format!("Answer it first with {}, or name an earlier row.", today_command(day)),
        ],
    }
}

fn stands(at: Position) -> String {
    match (at.block.0, at.row.0) {
        (1, 0) => "No row of the blanket is worked.".to_owned(),
        (block, 0) => format!("Every row of block {} is worked.", block - 1),
        _ => format!("The work stands at {}.", position(at)),
    }
}

fn position(at: Position) -> String {
    format!("block {}, row {}", at.block, at.row)
}

pub fn noted(day: NaiveDate, has_tier: bool) -> Words {
    let noted = format!("Note kept: {}.", long(day));
    match has_tier {
        true => lines![noted],
        false => lines![
            noted,
            format!("The day has no tier yet. To give it one, type {}.", today_command(day)),
        ],
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

pub fn question(day: NaiveDate, asks: Option<&OwnQuestion>) -> Words {
    heading(day).and(lines![asked(asks)])
}

/// What is asked where a maker has no question of their own.
pub const USUAL_QUESTION: &str = "Which fits the day?";

/// The question below the date: the maker's own, or the usual one.
pub fn asked(own: Option<&OwnQuestion>) -> String {
    own.map_or(USUAL_QUESTION.to_owned(), |own| isolated(own.as_str()))
}

fn heading(day: NaiveDate) -> Words {
    Words { lines: vec![vec![Span::Bold(long(day))]] }
}
