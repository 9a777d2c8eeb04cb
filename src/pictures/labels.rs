//! The words of pictures. Wording makes them; pictures only place them.

use chrono::NaiveDate;

use super::facts::{Bar, State, Tally};
use crate::blanket::{Block, Cut, Handling, Side};

/// Every word of every picture in one language.
pub struct Labels {
    /// BCP 47, such as "en".
    pub language: &'static str,
    pub days: DayLabels,
    pub states: StateLabels,
    pub sheet: SheetLabels,
    pub blanket_title: &'static str,
    pub imagined_title: &'static str,
    /// Stands on the picture itself, so that nobody takes it for their own year.
    pub imagined_note: &'static str,
    pub tally: fn(Tally) -> String,
    /// Where the blanket is drawn in other columns than the maker asked for, to fit.
    pub other_columns: fn(u16) -> String,
    pub row_1_below: &'static str,
    pub row_1_above: &'static str,
    pub arrows: &'static str,
    pub side: fn(Side) -> &'static str,
    pub handling: fn(Handling) -> &'static str,
    pub joining: &'static str,
    /// Of a yarn that rows were worked in, and none are from now on.
    pub earlier: &'static str,
    pub palette_title: &'static str,
    /// Above the views of a palette: as it is, in grey, and as three kinds of eyes see it.
    pub views: [&'static str; 5],
    pub week_title: fn(NaiveDate, NaiveDate) -> String,
    pub months_title: fn(i32, i32) -> String,
    pub days_count: fn(u32) -> String,
    pub bars_title: &'static str,
    /// What full, thin and the dark mark mean.
    pub bars_note: &'static str,
    pub bar: fn(&Bar) -> String,
}

/// Names of days and blocks.
pub struct DayLabels {
    /// "Thu 14 Jan"
    pub short: fn(NaiveDate) -> String,
    /// "Thu"
    pub weekday: fn(NaiveDate) -> String,
    /// "14 Jan"
    pub date: fn(NaiveDate) -> String,
    /// "Jan"
    pub month: fn(NaiveDate) -> String,
    /// "January", "Block 3"
    pub block: fn(&Block, Cut) -> String,
    /// "January, block 1 of 12"
    pub block_of: fn(&Block, Cut, u16) -> String,
}

/// How rows stand.
pub struct StateLabels {
    pub worked: &'static str,
    pub waiting: &'static str,
    pub open: &'static str,
    pub filler: &'static str,
    pub to_come: &'static str,
}

/// The printed sheet.
pub struct SheetLabels {
    /// "Row 1 is at the bottom. …"
    pub bottom_up: &'static str,
    pub top_down: &'static str,
    /// Done, row, side, date, day, colour, yarn, next to it.
    pub columns: [&'static str; 8],
    /// "Shingle below, Kelp above"
    pub neighbours: fn(Option<&str>, Option<&str>) -> String,
    /// A row stitched in a colour its day does not call for now: "now Kelp".
    pub now_in: fn(&str) -> String,
    /// What a tick box shows.
    pub tick: fn(u16, State) -> String,
    /// What a swatch shows, by its colour's name; `None` is a box to fill in by hand.
    pub swatch: fn(Option<&str>) -> String,
    /// What an arrow shows: to the left or not.
    pub arrow: fn(bool) -> &'static str,
    pub page: fn(usize, usize) -> String,
}
