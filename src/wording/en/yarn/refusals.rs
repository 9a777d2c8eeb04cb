//! Yarn that cannot be entered as it was typed, in English. Nothing was changed.

use super::super::dates::quoted;
use super::super::{Words, name, plain};
use super::asks::ball_example;
use super::units::weight;
use crate::blanket::Label;
use crate::blanket::yarn::Units;
use crate::chat::yarn::said::YarnRefusal;

/// More names of colours than this would be a wall.
const NAMES_SHOWN_MAX: usize = 12;

pub fn refused(refusal: &YarnRefusal, units: Units) -> Words {
    match refusal {
        YarnRefusal::Colour { typed, names, nearest } => colour(typed, names, nearest.as_ref()),
        YarnRefusal::Weight { typed } => lines![
            format!("I do not know the weight in {}. Nothing was changed.", quoted(typed)),
            "Type grams up to 10000, like 83 or 83.5, or ounces, like 1 3/4 oz.",
        ],
        YarnRefusal::Ball { typed } => lines![
            format!("I do not know the ball in {}. Nothing was changed.", quoted(typed)),
            format!("Type what its label says, like {}.", ball_example(units)),
        ],
        YarnRefusal::Rows { typed, max } => lines![
            format!("I do not know how many rows {} is. Nothing was changed.", quoted(typed)),
            format!("Type a number from 1 to {max}, like 8."),
        ],
        YarnRefusal::Lot { typed } => lines![
            format!("I do not know the lot in {}. Nothing was changed.", quoted(typed)),
            "Type it after the word lot, like lot 4471. It has at most 24 characters.",
        ],
        YarnRefusal::TwoLots { typed } => lines![
            format!("{} names two lots. Nothing was changed.", quoted(typed)),
            "Type a line for each lot.",
        ],
        YarnRefusal::BallTooHeavy { max } => lines![
            format!("I know no ball of more than {}. Nothing was changed.", weight(*max, units)),
            "Type what the label of one ball says.",
        ],
        YarnRefusal::Heavier { yarn, now, before } => heavier(yarn, *now, *before, units),
        YarnRefusal::NothingUsed { before, after } => lines![
            format!(
                "{} before the rows and {} after them is not less. Nothing was changed.",
                weight(*before, units),
                weight(*after, units)
            ),
            "Type what was left after the rows.",
        ],
        YarnRefusal::TooManyBalls { max } => {
            lines![format!("I keep at most {max} balls of a blanket. Nothing was changed.")]
        }
        YarnRefusal::TooManyWeighings { max } => {
            lines![format!("I keep at most {max} weighings of a blanket. Nothing was changed.")]
        }
    }
}

fn colour(typed: &str, names: &[Label], nearest: Option<&Label>) -> Words {
    let shown: Vec<String> = names.iter().take(NAMES_SHOWN_MAX).map(name).collect();
    let example = nearest.or(names.first()).map(name).unwrap_or_default();
    let meant = nearest.map(|nearest| format!("Did you mean {}?", name(nearest)));
    let all = format!("Your colours are {}.", shown.join(", "));
    lines![
        format!("I do not know the colour {}. Nothing was changed.", quoted(typed)),
        meant.unwrap_or(all),
        format!("Type one and its grams, like {example} 83."),
    ]
}

fn heavier(yarn: &Label, now: f64, before: f64, units: Units) -> Words {
    let yarn = name(yarn);
    lines![
        format!(
            "{yarn} was {} before, and {} is more. Nothing was changed.",
            weight(before, units),
            weight(now, units)
        ),
        format!("If a ball came, add it first. Type it like: {yarn} +50"),
        "If the weight before was wrong, tap the button.",
    ]
}
