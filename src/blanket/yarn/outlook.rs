//! Does the yarn of a colour last, when may it run out, and what is to be bought?
//!
//! Known rows come from the book, rows to come from the forecast. The joining colour is known: it
//! is forecast only where a tier is worked in it as well.

use chrono::NaiveDate;

use crate::blanket::blocks::{BlockNumber, RowContent, RowNumber};
use crate::blanket::book::Book;
use crate::blanket::forecast::{Common, Forecast, RowsToCome, Supply};
use crate::blanket::scale::{Tier, YarnId};
use crate::blanket::stock::Ball;

use super::settings::BallLabel;
use super::status::{YarnStatus, yarn_status};

#[derive(Clone, PartialEq, Debug)]
pub struct Outlook {
    pub status: YarnStatus,
    /// Rows of this colour to come, as expected; `None` where no tier is worked in it.
    pub expected_rows: Option<f64>,
    /// The chance that a day to come is of this colour.
    pub share: f64,
    /// `None` where it is not known what a row takes, nothing was entered, or nothing is worked
    /// in it from now on.
    pub lasts: Option<Lasts>,
}

#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Lasts {
    /// The chance that what is on hand is enough for the whole blanket.
    pub chance: f64,
    /// What it may not be enough for, with a chance of 10 %, and with one of 50 %.
    pub early: Option<When>,
    pub likely: Option<When>,
}

/// The first thing the yarn is not enough for.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum When {
    /// A row that is known and not worked.
    Row(BlockNumber, RowNumber),
    /// The row of a day without an answer.
    Day(NaiveDate),
    /// Joins and border.
    Edging,
}

/// What to buy of a colour.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Purchase {
    /// What is on hand is enough.
    Nothing,
    /// Whole balls like this one.
    Balls { balls: u32, ball: BallLabel },
    /// More balls than anybody buys.
    TooMany { ball: BallLabel },
    /// Nobody said how heavy a ball is.
    BallUnknown,
    /// It is not known what a row takes.
    RowUnknown,
}

/// All that is needed to look ahead for any colour.
pub struct Ahead<'a> {
    book: &'a Book,
    forecast: Option<Forecast>,
    days: Vec<NaiveDate>,
    statuses: Vec<YarnStatus>,
}

impl<'a> Ahead<'a> {
    pub fn of(book: &'a Book) -> Ahead<'a> {
        let first = book.plan().first_day();
        let days = first.iter_days().take_while(|day| book.plan().has(*day));
        // A worked row takes no more yarn, whatever is answered.
        let to_come = |day: &NaiveDate| {
            book.answer(*day).is_none() && !book.is_worked(*day) && book.hours().day_exists(*day)
        };
        let days = days.filter(to_come).collect();
        Ahead { book, forecast: forecast(book), days, statuses: yarn_status(book) }
    }

    /// Every colour something is known or expected of, the one that may run out first on top.
    pub fn all(&self) -> Vec<Outlook> {
        let mut all: Vec<Outlook> = self.statuses.iter().map(|it| self.outlook(it)).collect();
        all.sort_by(|a, b| {
            urgency(a).partial_cmp(&urgency(b)).unwrap_or(std::cmp::Ordering::Equal)
        });
        all
    }

    pub fn one(&self, yarn: YarnId) -> Option<Outlook> {
        self.statuses.iter().find(|status| status.yarn == yarn).map(|it| self.outlook(it))
    }

    fn outlook(&self, status: &YarnStatus) -> Outlook {
        let to_come = self.to_come(status.yarn);
        let supply = status.on_hand_grams.and_then(|grams| supply(status, grams));
        let used = used_yarns(self.book).any(|used| used == status.yarn);
        let supply = supply.filter(|_| used);
        let lasts = supply.map(|supply| self.lasts(status, &supply, &to_come));
        let expected_rows = self.is_forecast(status.yarn).then(|| to_come.mean());
        // At most two years of days.
        let share = to_come.mean() / self.days.len().max(1) as f64;
        Outlook { status: status.clone(), expected_rows, share, lasts }
    }

    fn lasts(&self, status: &YarnStatus, supply: &Supply, to_come: &RowsToCome) -> Lasts {
        let chance = supply.chance(to_come);
        let of_tiers = self.forecast_of(status.yarn);
        let days = u32::try_from(self.days.len()).unwrap_or(u32::MAX);
        let out = of_tiers.as_ref().map(|forecast| supply.run_out(forecast, 0, days));
        // Without a forecast all of it is known: it is short, or it is not.
        let short = |chance_short: f64| (1.0 - chance >= chance_short).then_some(0);
        let (early, likely) = match out {
            Some(out) => (out.early, out.likely),
            None => (short(0.1), short(0.5)),
        };
        let when = |days: u32| match days.checked_sub(1) {
            None => self.known_short(status),
            Some(day) => self.days.get(day as usize).map(|day| When::Day(*day)),
        };
        Lasts { chance, early: early.and_then(when), likely: likely.and_then(when) }
    }

    /// Which of the rows that are known is the first that the yarn does not make? By plain
    /// division; where that makes all of them, the last.
    fn known_short(&self, status: &YarnStatus) -> Option<When> {
        let rows = known_rows(self.book, status.yarn);
        let possible = status.rows_possible()? as usize;
        let kept_back = status.need.edging.amount().grams > 0.0;
        match rows.get(possible) {
            Some((block, row)) => Some(When::Row(*block, *row)),
            None if kept_back => Some(When::Edging),
            None => rows.last().map(|(block, row)| When::Row(*block, *row)),
        }
    }

    /// What to buy of a colour so that the target of the settings holds.
    pub fn purchase(&self, yarn: YarnId) -> Purchase {
        let Some(status) = self.statuses.iter().find(|status| status.yarn == yarn) else {
            return Purchase::Nothing;
        };
        let to_come = self.to_come(yarn);
        let Some(supply) = supply(status, status.on_hand_grams.unwrap_or(0.0)) else {
            return Purchase::RowUnknown;
        };
        let target = self.book.yarn_settings().share_each(used_yarns(self.book).count());
        if supply.chance(&to_come) >= target {
            return Purchase::Nothing;
        }
        let Some(ball) = ball_of(self.book, yarn) else { return Purchase::BallUnknown };
        match supply.balls_to_buy(&to_come, ball.each.grams(), target) {
            Some(balls) => Purchase::Balls { balls, ball },
            None => Purchase::TooMany { ball },
        }
    }

    fn is_forecast(&self, yarn: YarnId) -> bool {
        self.book.scale().tiers().iter().any(|tier| tier.yarn == yarn)
    }

    fn to_come(&self, yarn: YarnId) -> RowsToCome {
        let days = u32::try_from(self.days.len()).unwrap_or(u32::MAX);
        self.forecast_of(yarn).map_or_else(RowsToCome::none, |it| it.to_come(0, days))
    }

    /// The forecast of all tiers worked in a colour, as one.
    fn forecast_of(&self, yarn: YarnId) -> Option<Forecast> {
        let tiers = self.book.scale().tiers().iter().enumerate();
        let of: Vec<usize> =
            tiers.filter(|(_, tier)| tier.yarn == yarn).map(|(index, _)| index).collect();
        if of.is_empty() {
            return None;
        }
        self.forecast.as_ref().map(|forecast| forecast.together(&of))
    }
}

/// The ball a maker would buy of this colour: like its newest one, or the one they named, or the
/// newest of any colour.
pub fn ball_of(book: &Book, yarn: YarnId) -> Option<BallLabel> {
    let label = |ball: &Ball| BallLabel { each: ball.each, length_each: ball.length_each };
    let newest = |yarn| book.ledger(yarn).balls().next_back().map(label);
    let any = || book.yarns().iter().find_map(|yarn| newest(yarn.id));
    newest(yarn).or(book.yarn_settings().ball).or_else(any)
}

/// The colours the blanket is worked in.
pub fn used_yarns(book: &Book) -> impl Iterator<Item = YarnId> + '_ {
    let used = |yarn: YarnId| {
        yarn == book.joining() || book.scale().tiers().iter().any(|tier| tier.yarn == yarn)
    };
    book.yarns().iter().map(|yarn| yarn.id).filter(move |yarn| used(*yarn))
}

/// All days with an answer, those set to the default tier as well: they take yarn.
fn forecast(book: &Book) -> Option<Forecast> {
    let tiers = book.scale().tiers();
    let index = |tier| tiers.iter().position(|it| it.id == tier);
    let days: Vec<usize> =
        book.answers().values().filter_map(|answer| index(answer.tier)).collect();
    Forecast::new(&days, tiers.len(), guessed(book).as_deref()).ok()
}

/// How common each tier is, lowest first, as the maker guesses; `None` where they guessed nothing.
pub fn guessed(book: &Book) -> Option<Vec<Common>> {
    let guess = &book.yarn_settings().guess;
    // A guess about some of the tiers: of the others nothing was said, so they are as the second
    // word has it.
    let word = |tier: &Tier| guess.get(&tier.id).copied().unwrap_or(Common::Sometimes);
    (!guess.is_empty()).then(|| book.scale().tiers().iter().map(word).collect())
}

/// What is on hand and known to be needed. Rows since the last weighing took what a row takes on
/// the average, so that its error counts for them as well.
fn supply(status: &YarnStatus, on_hand_grams: f64) -> Option<Supply> {
    let per_row = status.per_row?.weight;
    let supply = Supply::new(on_hand_grams, per_row, status.need.rows());
    // At most a few hundred rows.
    let since = status.rows_since.unsigned_abs() as f64;
    let error = supply
        .on_hand_se_grams
        .hypot(since * per_row.se_grams)
        .hypot(since.sqrt() * supply.row_noise_grams);
    let kept_back = status.need.edging.amount();
    Some(Supply {
        on_hand_se_grams: error,
        kept_back_grams: kept_back.grams,
        kept_back_se_grams: kept_back.se_grams,
        ..supply
    })
}

/// The rows known to be worked in a colour and not worked, in the order of the work.
fn known_rows(book: &Book, yarn: YarnId) -> Vec<(BlockNumber, RowNumber)> {
    let mut found = Vec::new();
    for block in book.plan().blocks() {
        let worked = book.worked(block.number).len();
        let rows = book.plan().rows(&block);
        let of = rows.iter().skip(worked).filter(|row| match row.content {
            RowContent::Day(_) | RowContent::Filler => book.yarn_for(row) == Some(yarn),
        });
        found.extend(of.map(|row| (block.number, row.number)));
    }
    found
}

/// What runs out first comes first; of what lasts, the less certain; of what nothing was entered
/// of, that with the most rows to come.
fn urgency(outlook: &Outlook) -> (u8, Option<When>, f64) {
    match outlook.lasts {
        Some(Lasts { early: Some(when), chance, .. }) => (0, Some(when), chance),
        Some(Lasts { early: None, chance, .. }) => (1, None, chance),
        None => {
            let rows = f64::from(outlook.status.need.rows());
            (2, None, -(rows + outlook.expected_rows.unwrap_or(0.0)))
        }
    }
}
