//! What is asked about yarn, in English: weights, balls, rows, joins and guesses.

use super::super::making::names;
use super::super::{Words, name, plain};
use super::units::{label as label_of, share};
use crate::blanket::forecast::Common;
use crate::blanket::yarn::{BallLabel, Join, ScaleStep, Units};
use crate::blanket::{Label, Terms};
use crate::chat::yarn::said::{AskGrams, YarnSettingsSaid};

pub fn grams(yarn: &Label, ask: AskGrams, units: Units) -> Words {
    let yarn = name(yarn);
    let first = match ask {
        AskGrams::All => format!("Put all your {yarn} on the kitchen scale."),
        AskGrams::Before => format!("Put the {yarn} you work with next on the kitchen scale."),
        AskGrams::After { rows: 1 } => format!("Weigh the {yarn} that is left after 1 row."),
        AskGrams::After { rows } => {
            format!("Weigh the {yarn} that is left after {rows} rows.")
        }
        AskGrams::Correction => format!("How much {yarn} is there, without weighing?"),
    };
    lines![first, how_many(units)]
}

fn how_many(units: Units) -> &'static str {
    match units {
        Units::Grams => "How many grams is it? Type a number, like 83 or 83.5.",
        Units::Ounces => "How many ounces is it? Type a number, like 2.9 or 1 3/4.",
    }
}

pub fn ball(yarn: &Label, units: Units) -> Words {
    lines![
        format!("What does the label of your {} say?", name(yarn)),
        format!("Type the weight of a ball, like {}.", weight_example(units)),
        format!("The length and the lot can follow, like {}.", ball_example(units)),
    ]
}

fn weight_example(units: Units) -> &'static str {
    match units {
        Units::Grams => "50 or 100",
        Units::Ounces => "1 3/4 or 3.5",
    }
}

pub fn ball_example(units: Units) -> &'static str {
    match units {
        Units::Grams => "2 x 50 g 115 m lot 4471",
        Units::Ounces => "2 x 1 3/4 oz 126 yd lot 4471",
    }
}

pub fn label(now: Option<BallLabel>, units: Units) -> Words {
    let example = match units {
        Units::Grams => "50 g 115 m",
        Units::Ounces => "1 3/4 oz 126 yd",
    };
    let ask = lines![
        "What does the label of a ball say? It counts where a colour has no ball yet.",
        format!("Type its weight and its length, like {example}."),
    ];
    match now {
        None => ask,
        Some(ball) => lines![format!("Now it is {}.", label_of(ball, units))].and(ask),
    }
}

pub fn rows(yarn: &Label) -> Words {
    lines![
        format!("Work some rows with this {}.", name(yarn)),
        "How many rows were they? Type a number when they are worked, like 8.",
    ]
}

pub fn settings(said: &YarnSettingsSaid, units: Units) -> Words {
    let unit = match said.units {
        Units::Grams => {
            "Weights are in grams, lengths in metres. You can type ounces and yards too."
        }
        Units::Ounces => {
            "Weights are in ounces, lengths in yards. You can type grams and metres too."
        }
    };
    let scale = match said.scale {
        ScaleStep::Gram => "Your kitchen scale shows steps of 1 g.",
        ScaleStep::TenthOfGram => "Your kitchen scale shows steps of 0.1 g.",
    };
    let share = share(said.target.target);
    let target = match said.target.whole_blanket {
        true => format!("What to buy: so much that no colour runs out in {share}."),
        false => format!("What to buy: so much that each colour lasts in {share}."),
    };
    let ball = match said.ball {
        None => "What a ball weighs: not said.".to_owned(),
        Some(ball) => format!("A ball is {}, where a colour has none yet.", label_of(ball, units)),
    };
    lines![unit, scale, target, joined(said.join, said.terms), ball]
}

fn joined(join: Option<Join>, terms: Terms) -> String {
    let plain = match join {
        None => "How the blocks are joined: not said.",
        Some(Join::Sewn) => "The blocks are sewn together.",
        Some(Join::SlipStitch) => "The blocks are joined in slip stitch.",
        Some(Join::SingleCrochet) => {
            return format!("The blocks are joined in {}.", names::single(terms));
        }
        Some(Join::Without) => "The joins take none of this yarn.",
    };
    plain.to_owned()
}

pub fn join(now: Option<Join>, terms: Terms) -> Words {
    lines![joined(now, terms), "How do you join the blocks?"]
}

pub fn guess(tiers: &[(Label, Option<Common>)]) -> Words {
    let line = |(tier, common): &(Label, Option<Common>)| {
        format!("{}: {}.", name(tier), common.map_or("not said", common_word))
    };
    let words = plain(tiers.iter().map(line));
    lines!["How often do you expect each tier? A guess is enough. Tap a tier to say it."].and(words)
}

fn common_word(common: Common) -> &'static str {
    match common {
        Common::HardlyEver => "hardly ever",
        Common::Sometimes => "sometimes",
        Common::Often => "often",
        Common::MostDays => "most days",
    }
}
