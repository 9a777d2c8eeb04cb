//! How much yarn will the days still to come take? The rows a colour may get, the grams a row
//! takes, whether what is on hand is enough, how many balls to buy and when a colour may run out.
//!
//! Numbers in, numbers out: it knows no book, no date and no word anybody reads. The same build
//! gives the same digits on every machine: besides plain arithmetic it calls only `libm`.
//!
//! The model is beta-binomial: how often a maker will name a tier is uncertain, and days resemble
//! the days before them, so that counts spread far wider than independent days would
//! (J. G. Skellam, "A probability distribution derived from the binomial distribution by regarding
//! the probability of success as variable between the sets of trials", Journal of the Royal
//! Statistical Society B 10(2), 1948, pages 257 to 261). How often its ranges hold is measured in
//! `tests/bench`.

mod density;
mod lots;
mod memory;
mod model;
mod need;
mod prior;
mod rows_to_come;
mod run_out;
mod supply;
mod weighing;

pub use density::{Density, inches_in_cm, ounces_in_grams, yards_in_metres};
pub use lots::{LotPlan, share_lots};
pub use model::{Forecast, ForecastFault};
pub use need::{Amount, Join, Range, border_first_round, border_round, picked_up};
pub use need::{border_cm, foundation_cm, row_cm, seams_cm, tails_cm};
pub use prior::{Common, expected_shares};
pub use rows_to_come::RowsToCome;
pub use run_out::RunOut;
pub use supply::{BALLS_MAX, Supply, target_per_colour};
pub use weighing::{Pair, Prior, ROW_CV, Reading, RowWeight, Weighed};
pub use weighing::{combine, pooled, rows_to_weigh};

#[cfg(test)]
mod tests;
