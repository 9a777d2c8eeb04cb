//! What to buy, in English: whole balls of each colour, and which first.

use super::super::{Span, Words, name};
use super::detail::{edging, wanted};
use super::units::{balls, label, list, share};
use crate::blanket::Label;
use crate::blanket::stock::BALLS_MAX;
use crate::blanket::yarn::{BallLabel, Lacking, Units};
use crate::chat::yarn::said::{Basis, Buy, BuySaid, First, TargetSaid, ToBuy, YarnDetail};

pub fn to_buy(said: &ToBuy, units: Units) -> Words {
    let head = Words { lines: vec![vec![Span::Bold("What to buy".to_owned())]] };
    let mut lines = vec![format!("{}, {}:", aim(said.target), condition(said.basis))];
    lines.extend(said.colours.iter().filter_map(|colour| bought(colour, units)));
    let of = |is: fn(&Buy) -> bool| -> Vec<String> {
        said.colours.iter().filter(|colour| is(&colour.what)).map(|it| name(&it.yarn)).collect()
    };
    let enough = of(|what| matches!(what, Buy::Nothing));
    if !enough.is_empty() {
        lines.push(format!("Enough is there of {}.", list(&enough)));
    }
    let row_unknown = of(|what| matches!(what, Buy::RowUnknown));
    if !row_unknown.is_empty() {
        lines.push(format!("Not known yet for {}.", list(&row_unknown)));
        lines.push(unknown_rows(&said.lacking));
    }
    if !of(|what| matches!(what, Buy::BallUnknown)).is_empty() {
        lines.push(format!("{BALL_UNKNOWN} Tap \"What a ball weighs\"."));
    }
    lines.extend(said.first.as_ref().map(first));
    if !of(|what| matches!(what, Buy::Balls { .. })).is_empty() {
        lines.push("Buy all balls of a colour in one lot.".to_owned());
    }
    lines.extend(edging(&said.edging.0, &said.edging.1, units));
    if said.basis == Basis::Nothing {
        lines.push("Tap \"How common is each tier\", and I count by your guess.".to_owned());
    }
    head.and(Words { lines: lines.into_iter().map(|line| vec![Span::Plain(line)]).collect() })
}

const BALL_UNKNOWN: &str = "What a ball weighs is not known yet.";

fn aim(target: TargetSaid) -> String {
    let share = share(target.target);
    match target.whole_blanket {
        true => format!("So that no colour runs out in {share}"),
        false => format!("So that each colour lasts in {share}"),
    }
}

pub fn condition(basis: Basis) -> &'static str {
    match basis {
        Basis::Days => "if your days go on much as they have",
        Basis::Guess => "if your days go much as you guess",
        Basis::Nothing => "if the middle of your scale is the most common",
    }
}

fn bought(said: &BuySaid, units: Units) -> Option<String> {
    let yarn = name(&said.yarn);
    match said.what {
        Buy::Balls { balls, ball } => {
            Some(format!("{yarn}: {}.", some_balls(balls, ball, said.lot.as_ref(), units)))
        }
        Buy::TooMany => Some(format!("{yarn}: {TOO_MANY}")),
        Buy::BallUnknown => Some(format!("{yarn}: more than is there.")),
        Buy::Nothing | Buy::RowUnknown => None,
    }
}

const TOO_MANY: &str = "more than I can count. Check the weights you entered.";

/// "2 balls of 50 g, lot 4471 if the shop has it"
fn some_balls(count: u32, ball: BallLabel, lot: Option<&Label>, units: Units) -> String {
    let each = label(BallLabel { length_each: None, ..ball }, units);
    let lot = lot.map_or(String::new(), |lot| format!(", lot {} if the shop has it", name(lot)));
    debug_assert!(count <= BALLS_MAX);
    format!("{} of {each}{lot}", balls(count))
}

fn unknown_rows(lacking: &[Lacking]) -> String {
    let weigh = "Weigh a colour, work some rows in it, weigh it once more.";
    match lacking.is_empty() || lacking.contains(&Lacking::Measurement) {
        true => weigh.to_owned(),
        false => format!("{weigh} Or tell me {}: then I can guess.", wanted(lacking)),
    }
}

fn first(said: &First) -> String {
    match said {
        First::RunsOut(yarn) => format!("Begin with {}: it may run out first.", name(yarn)),
        First::MostRows(yarn) => {
            format!("Begin with {}: the most rows are expected in it.", name(yarn))
        }
    }
}

/// What to buy, where one colour is shown whole.
pub fn of_detail(said: &YarnDetail, units: Units) -> Option<String> {
    let aim = match said.target.whole_blanket {
        true => aim(said.target),
        false => format!("So that it lasts in {}", share(said.target.target)),
    };
    match said.buy.what {
        Buy::Nothing => Some(format!("{aim}: nothing more.")),
        Buy::Balls { balls, ball } => {
            let some = some_balls(balls, ball, said.buy.lot.as_ref(), units);
            Some(format!("{aim}: buy {some}."))
        }
        Buy::TooMany => Some(format!("{aim}: {TOO_MANY}")),
        Buy::BallUnknown => Some(format!("{BALL_UNKNOWN} Tap \"Add a ball\".")),
        Buy::RowUnknown => None,
    }
}
