//! The words on pictures in English, and the sentences that say what a picture shows.

use chrono::NaiveDate;

use super::dates::{brief, day_and_month, month, short};
use crate::blanket::{Block, Cut, Handling};
use crate::pictures::facts::{State, Tally};
use crate::pictures::{Bar, Caption, DayLabels, Labels, SheetLabels, StateLabels};

pub static LABELS: Labels = Labels {
    language: "en",
    days: DayLabels {
        short,
        weekday: |day| short(day)[..3].to_owned(),
        date: day_and_month,
        month: |day| month(day)[..3].to_owned(),
        block: block_name,
        block_of,
    },
    states: StateLabels {
        worked: "worked",
        waiting: "logged, not worked",
        open: "open",
        filler: "filler row",
        to_come: "to come",
    },
    sheet: SheetLabels {
        bottom_up: "Row 1 is at the bottom. Tick each row when it is worked.",
        top_down: "Row 1 is at the top. Tick each row when it is worked.",
        columns: ["Done", "Row", "Side", "Date", "Day", "Colour", "Yarn", "Next to it"],
        neighbours,
        now_in: |name| format!("planned in {name} now"),
        tick,
        swatch: |name| match name {
            Some(name) => format!("Colour: {name}"),
            None => "Empty box for a colour".to_owned(),
        },
        arrow: |to_left| if to_left { "right to left" } else { "left to right" },
        page: |page, pages| format!("Page {page} of {pages}"),
    },
    blanket_title: "The blanket so far",
    imagined_title: "An imagined year",
    imagined_note: "Invented days. It shows your colours as a blanket.",
    tally,
    other_columns: |columns| match columns {
        1 => "drawn in 1 column to fit".to_owned(),
        _ => format!("drawn in {columns} columns to fit"),
    },
    row_1_below: "Row 1 is at the bottom.",
    row_1_above: "Row 1 is at the top.",
    arrows: "Arrows: the way a row runs, as seen from the right side.",
    side: super::side_code,
    handling,
    joining: "joining colour",
    earlier: "worked before",
    palette_title: "Your colours",
    views: ["as it is", "in grey", "protan", "deutan", "tritan"],
    week_title: |first, last| match first == last {
        true => short(first),
        false => format!("{} to {}", short(first), short(last)),
    },
    months_title: |first, last| match first == last {
        true => format!("The days of {first}"),
        false => format!("The days of {first} and {last}"),
    },
    days_count: |days| format!("{days}"),
    bars_title: "Yarn, in rows",
    bars_note: "Full: worked. Thin: waits to be worked. Dark mark: where the yarn on hand ends.",
    bar,
};

/// One or two sentences that say what a picture shows.
pub fn caption(caption: &Caption) -> String {
    match caption {
        Caption::Blanket { blocks, tally: count } => {
            format!("The blanket so far, in {}: {}.", some(*blocks, "block"), tally(*count))
        }
        Caption::Block { block, cut, blocks, worked, rows, open } => {
            let open = match open {
                0 => String::new(),
                1 => " 1 day is open.".to_owned(),
                _ => format!(" {open} days are open."),
            };
            let title = block_of(block, *cut, *blocks);
            format!("{title}: {worked} of {} worked.{open}", some(*rows, "row"))
        }
        Caption::Palette { colours } => palette(colours),
        Caption::Yarn { colours } => yarn(colours),
        Caption::Week { days } => {
            let day = |(day, name): &(NaiveDate, Option<String>)| {
                format!("{} {}", brief(*day), name.as_deref().unwrap_or("open"))
            };
            format!("{}.", days.iter().map(day).collect::<Vec<_>>().join(", "))
        }
        Caption::Months { tiers, without } => {
            let tier = |(tier, days): &(String, u32)| format!("{tier} {days}");
            let tiers: Vec<String> = tiers.iter().map(tier).collect();
            let open = if *without == 0 { String::new() } else { format!("; open {without}") };
            format!("The days of each month by tier. In all: {}{open}.", tiers.join(", "))
        }
        Caption::Imagined { guessed } => {
            let common = match guessed {
                true => "Each tier is as common as you guessed.",
                false => "You made no guess of how common each tier is: the middle ones come most.",
            };
            format!("An imagined year: its days are invented. {common}")
        }
    }
}

/// More colours would not fit below a picture; the picture itself has them all.
const COLOURS_MAX: usize = 16;

/// "Yarn, in rows: worked, waiting and on hand. Kelp 9, 4, 2; Brick 0, 1, not known."
fn yarn(colours: &[Bar]) -> String {
    let colour = |of: &Bar| {
        let on_hand = of.rows_on_hand.map_or("not known".to_owned(), |rows| rows.to_string());
        format!("{} {}, {}, {on_hand}", of.ink.name, of.rows_worked, of.rows_waiting)
    };
    let shown: Vec<String> = colours.iter().take(COLOURS_MAX).map(colour).collect();
    let more = match colours.len() - shown.len() {
        0 => String::new(),
        more => format!(" And {}.", some(u32::try_from(more).unwrap_or(u32::MAX), "more colour")),
    };
    format!("Yarn, in rows: worked, waiting and on hand. {}.{more}", shown.join("; "))
}

/// "Your colours, lowest tier first: Very rough is Mussel, …. The joining colour is Harbour Blue."
fn palette(colours: &[(Option<String>, String)]) -> String {
    let tier = |(tier, yarn): &(Option<String>, String)| {
        tier.as_ref().map(|tier| format!("{tier} is {yarn}"))
    };
    let tiers: Vec<String> = colours.iter().filter_map(tier).collect();
    let joining = colours.iter().find(|(tier, _)| tier.is_none());
    let joining = joining.map(|(_, yarn)| format!(" The joining colour is {yarn}."));
    let joining = joining.unwrap_or_default();
    format!("Your colours, lowest tier first: {}.{joining}", tiers.join(", "))
}

fn block_name(block: &Block, cut: Cut) -> String {
    match cut {
        Cut::Months => month(block.first_day).to_owned(),
        Cut::FromStart | Cut::Every(_) => format!("Block {}", block.number),
        Cut::Strip => "Strip".to_owned(),
    }
}

fn block_of(block: &Block, cut: Cut, blocks: u16) -> String {
    let number = block.number;
    match cut {
        Cut::Months => format!("{}, block {number} of {blocks}", month(block.first_day)),
        Cut::FromStart | Cut::Every(_) => format!("Block {number} of {blocks}"),
        Cut::Strip => "Strip".to_owned(),
    }
}

/// "225 rows worked · 9 logged, not worked · 8 open"
fn tally(tally: Tally) -> String {
    let Tally { worked, waiting, open } = tally;
    let mut parts = vec![format!("{} worked", some(worked, "row"))];
    if waiting > 0 {
        parts.push(format!("{waiting} logged, not worked"));
    }
    if open > 0 {
        parts.push(format!("{open} open"));
    }
    parts.join(" · ")
}

fn some(count: impl Into<u32>, what: &str) -> String {
    match count.into() {
        1 => format!("1 {what}"),
        count => format!("{count} {what}s"),
    }
}

fn handling(handling: Handling) -> &'static str {
    match handling {
        Handling::Start => "start",
        Handling::Keep => "keep",
        Handling::Carry { .. } => "carry",
        Handling::Change => "change",
    }
}

fn neighbours(below: Option<&str>, above: Option<&str>) -> String {
    match (below, above) {
        (Some(below), Some(above)) => format!("{below} below, {above} above"),
        (Some(below), None) => format!("{below} below"),
        (None, Some(above)) => format!("{above} above"),
        (None, None) => String::new(),
    }
}

fn tick(number: u16, state: State) -> String {
    match state {
        State::Worked(_) => format!("Row {number}: worked"),
        State::Waiting(_) | State::Open | State::ToCome => format!("Row {number}: not worked"),
    }
}

fn bar(bar: &Bar) -> String {
    let rows = format!("{} worked, {} waiting", bar.rows_worked, bar.rows_waiting);
    match bar.rows_on_hand {
        Some(on_hand) => format!("{rows}, yarn on hand for {on_hand}"),
        None => rows,
    }
}
