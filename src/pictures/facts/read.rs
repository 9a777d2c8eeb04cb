//! Reads a book for pictures. The only file here that knows one.

use chrono::{Datelike, Days, NaiveDate};

use crate::blanket::forecast::expected_shares;
use crate::blanket::yarn::outlook::guessed;
use crate::blanket::{Block, BlockLine, Book, Row, RowColour, RowContent, Tier, YarnStatus};
use crate::blanket::{block_lines, yarn_status};

use super::imagined::{Imagined, imagine};
use super::inks::shown;
use super::{Bar, Blanket, BlockRows, Inks, MonthCounts, Piece, RowFacts, Runs, State, Tally};

/// The whole blanket, as it stands on `today`.
pub fn blanket(book: &Book, today: NaiveDate) -> Blanket {
    let inks = Inks::of(book);
    let cut = book.plan().pieces().cut;
    let piece = |block: Block| {
        let rows = states(book, &inks, &block, today);
        Piece { block, cut, rows }
    };
    let blocks: Vec<Piece> = book.plan().blocks().map(piece).collect();
    let size = book.fabric().block_size(book.plan().rows_max());
    Blanket {
        tally: tally(book, &blocks),
        // Hand-made things are between a few centimetres and a few metres.
        width_per_mille: size.map(|size| (1000.0 * size.width_cm / size.height_cm) as u32),
        columns: book.fabric().columns,
        inks,
        blocks,
    }
}

/// The blanket as it could be after a year of days as common as the maker guesses; where they made
/// no guess, as the forecast has it before the first day.
pub fn imagined(book: &Book, today: NaiveDate) -> Imagined {
    let guess = guessed(book);
    let shares = expected_shares(book.scale().tiers().len(), guess.as_deref());
    Imagined { year: imagine(blanket(book, today), &shares), guessed: guess.is_some() }
}

/// One block, row by row, as it stands on `today`.
pub fn block(book: &Book, block: &Block, today: NaiveDate) -> BlockRows {
    let inks = Inks::of(book);
    let plan = book.plan();
    let lines = block_lines(book, block);
    let rows = lines.iter().map(|line| facts(book, &inks, block, line, today)).collect();
    BlockRows {
        block: *block,
        cut: plan.pieces().cut,
        blocks: plan.block_count(),
        first_row: book.on_paper().first_row,
        rows,
        inks,
    }
}

fn facts(book: &Book, inks: &Inks, block: &Block, line: &BlockLine, today: NaiveDate) -> RowFacts {
    let tier = match line.colour {
        RowColour::Day { tier, .. } => book.scale().tier(tier),
        RowColour::Filler { .. } | RowColour::Open { .. } => None,
    };
    let letter = |tier: &Tier| inks.index(tier.yarn).map_or('?', |ink| inks.get(ink).letter);
    let ridge = book.plan().faces().rows_per_day > 1;
    RowFacts {
        number: line.row.number.0,
        side: line.row.side,
        runs: (!ridge).then(|| Runs::of(line.row.side, book.fabric().left_handed)),
        day: match line.row.content {
            RowContent::Day(day) => Some(day),
            RowContent::Filler => None,
        },
        tier: tier.map(|tier| shown(tier.label.as_str(), letter(tier))),
        state: state(book, inks, block, &line.row, today),
        handling: line.handling,
        now_in: line.now_in.and_then(|yarn| inks.index(yarn)),
    }
}

/// The seven days that end on `last`, those of them that are in the blanket, oldest first.
pub fn week(book: &Book, last: NaiveDate, today: NaiveDate) -> Vec<(NaiveDate, State)> {
    let inks = Inks::of(book);
    let days = (0..7).rev().filter_map(|back| last.checked_sub_days(Days::new(back)));
    let state = |day: NaiveDate| {
        let (block, row) = book.plan().row_of(day)?;
        Some((day, state(book, &inks, &block, &row, today)))
    };
    days.filter_map(state).collect()
}

fn states(book: &Book, inks: &Inks, block: &Block, today: NaiveDate) -> Vec<State> {
    book.plan().rows(block).iter().map(|row| state(book, inks, block, row, today)).collect()
}

fn state(book: &Book, inks: &Inks, block: &Block, row: &Row, today: NaiveDate) -> State {
    // A worked row keeps its colour whatever was answered later.
    let worked = book.worked_row(block.number, row.number).and_then(|row| inks.index(row.yarn));
    let planned = || book.yarn_for(row).and_then(|yarn| inks.index(yarn));
    match (worked, row.content) {
        (Some(ink), _) => State::Worked(ink),
        (None, RowContent::Filler) if block.first_day > today => State::ToCome,
        (None, RowContent::Filler) => planned().map_or(State::Open, State::Waiting),
        (None, RowContent::Day(day)) => match planned() {
            Some(ink) => State::Waiting(ink),
            None if day > today => State::ToCome,
            None => State::Open,
        },
    }
}

fn tally(book: &Book, blocks: &[Piece]) -> Tally {
    let mut tally = Tally::default();
    for piece in blocks {
        for (row, state) in book.plan().rows(&piece.block).iter().zip(&piece.rows) {
            match (state, row.content) {
                (State::Worked(_), _) => tally.worked += 1,
                (State::Waiting(_), RowContent::Day(_)) => tally.waiting += 1,
                (State::Open, _) => tally.open += 1,
                (State::Waiting(_), RowContent::Filler) | (State::ToCome, _) => {}
            }
        }
    }
    tally
}

/// The colours of the tiers from the lowest, the joining colour, then others with rows or yarn.
pub fn bars(book: &Book) -> Vec<Bar> {
    let inks = Inks::of(book);
    let used: Vec<usize> = inks.keys.iter().map(|key| key.ink).collect();
    let bar = |status: &YarnStatus| {
        let ink = inks.index(status.yarn)?;
        let bar = Bar {
            ink: inks.get(ink).clone(),
            rows_worked: book.rows_in(status.yarn),
            rows_waiting: status.need.waiting,
            rows_on_hand: status.rows_possible(),
        };
        let some = bar.rows_worked > 0 || bar.rows_waiting > 0 || bar.rows_on_hand.is_some();
        (some || used.contains(&ink)).then_some((ink, bar))
    };
    let mut bars: Vec<(usize, Bar)> = yarn_status(book).iter().filter_map(bar).collect();
    bars.sort_by_key(|(ink, _)| *ink);
    bars.into_iter().map(|(_, bar)| bar).collect()
}

/// The days of each month of the blanket by tier.
pub fn months(book: &Book, today: NaiveDate) -> Vec<MonthCounts> {
    let tiers = book.scale().tiers();
    let (mut months, mut day) = (Vec::<MonthCounts>::new(), book.plan().first_day());
    while book.plan().has(day) {
        let first_day = day.with_day(1).unwrap_or(day);
        if months.last().is_none_or(|month| month.first_day != first_day) {
            let tiers = (0..tiers.len()).map(|key| (key, 0)).collect();
            months.push(MonthCounts { first_day, tiers, without: 0 });
        }
        let tier = book.tier_of(day).map(|tier| tier.id);
        let key = tiers.iter().position(|known| Some(known.id) == tier);
        match (months.last_mut(), key) {
            (Some(month), Some(key)) => month.tiers[key].1 += 1,
            (Some(month), None) if day <= today => month.without += 1,
            (Some(_) | None, _) => {}
        }
        let Some(next) = day.succ_opt() else { break };
        day = next;
    }
    months
}
