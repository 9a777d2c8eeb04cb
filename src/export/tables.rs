//! The days of a book, and its rows, each as one table.

use chrono::{DateTime, NaiveDate, SecondsFormat, Utc};

use super::csv::Table;
use crate::blanket::colours::written_hex;
use crate::blanket::{Book, DayState, How, RowColour, RowLine, Side, YarnId};

/// One record for each day of the blanket that has begun by `today`.
pub fn day_table(book: &Book, today: NaiveDate) -> String {
    let columns = [
        "date", "block", "row", "side", "tier", "label", "yarn", "colour", "kept", "kept_at",
        "notes",
    ];
    let mut table = Table::new(&columns);
    let plan = book.plan();
    let last = plan.last_day().min(today);
    for day in plan.first_day().iter_days().take_while(|day| *day <= last) {
        if !book.hours().day_exists(day) {
            continue;
        }
        let (block, row, side) = match plan.row_of(day) {
            Some((block, row)) => {
                (block.number.0.to_string(), row.number.0.to_string(), side(row.side).to_owned())
            }
            None => Default::default(),
        };
        let answer = match book.day(day, today) {
            DayState::Kept(answer) => Some(answer),
            DayState::Open | DayState::ToCome | DayState::Outside => None,
        };
        let tier = answer.and_then(|answer| book.scale().tier(answer.tier));
        let position =
            tier.and_then(|tier| book.scale().tiers().iter().position(|other| other.id == tier.id));
        let (yarn, colour) = tier.map(|tier| yarn(book, tier.yarn)).unwrap_or_default();
        let notes: Vec<&str> = book.notes(day).iter().map(|note| note.text.as_str()).collect();
        table.row([
            day.to_string(),
            block,
            row,
            side,
            position.map(|from_0| (from_0 + 1).to_string()).unwrap_or_default(),
            tier.map(|tier| tier.label.to_string()).unwrap_or_default(),
            yarn,
            colour,
            answer.map(|answer| how(answer.how).to_owned()).unwrap_or_default(),
            answer.map(|answer| instant(answer.at)).unwrap_or_default(),
            notes.join("\n"),
        ]);
    }
    table.text()
}

/// One record for each row of the blanket, in working order.
pub fn row_table(book: &Book, today: NaiveDate) -> String {
    let columns = [
        "block",
        "row",
        "side",
        "date",
        "label",
        "yarn",
        "colour",
        "state",
        "worked_in",
        "worked_at",
    ];
    let mut table = Table::new(&columns);
    for block in book.plan().blocks() {
        for row in book.plan().rows(&block) {
            let Some(line) = RowLine::of(book, &block, row.number) else { continue };
            let worked = book.worked_row(block.number, row.number);
            let (date, label) = match line.colour {
                RowColour::Day { day, tier, .. } => {
                    let label = book.scale().tier(tier).map(|tier| tier.label.to_string());
                    (day.to_string(), label.unwrap_or_default())
                }
                RowColour::Open { day } => (day.to_string(), String::new()),
                RowColour::Filler { .. } => Default::default(),
            };
            let (name, colour) = line.colour.yarn().map(|id| yarn(book, id)).unwrap_or_default();
            let state = match (worked.is_some(), line.colour) {
                (true, _) => "worked",
                (false, RowColour::Day { .. } | RowColour::Filler { .. }) => "waiting",
                (false, RowColour::Open { day }) if day > today => "to come",
                (false, RowColour::Open { .. }) => "open",
            };
            table.row([
                block.number.0.to_string(),
                row.number.0.to_string(),
                side(row.side).to_owned(),
                date,
                label,
                name,
                colour,
                state.to_owned(),
                worked.map(|worked| yarn(book, worked.yarn).0).unwrap_or_default(),
                worked.map(|worked| instant(worked.at)).unwrap_or_default(),
            ]);
        }
    }
    table.text()
}

/// A yarn's name, and its colour as in CSS.
fn yarn(book: &Book, id: YarnId) -> (String, String) {
    let yarn = book.yarns().iter().find(|yarn| yarn.id == id);
    yarn.map(|yarn| (yarn.name.to_string(), written_hex(yarn.rgb))).unwrap_or_default()
}

fn side(side: Side) -> &'static str {
    match side {
        Side::Right => "RS",
        Side::Wrong => "WS",
    }
}

fn how(how: How) -> &'static str {
    match how {
        How::Answered => "answered",
        How::ForNow => "for now",
        How::Assumed => "assumed",
    }
}

/// RFC 3339, in UTC.
fn instant(at: DateTime<Utc>) -> String {
    at.to_rfc3339_opts(SecondsFormat::Secs, true)
}
