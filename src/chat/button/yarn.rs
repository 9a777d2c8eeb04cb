//! Buttons about yarn: what is on hand, balls and weighings, what to buy, and what a maker says
//! once; and the fields of their tokens.

use super::Button;
use super::token::{read_flag, read_number};
use crate::blanket::forecast::Common;
use crate::blanket::stock::Tenths;
use crate::blanket::yarn::{Join, ScaleStep, Target, Units};
use crate::blanket::{TierId, YarnId};

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum YarnButton {
    /// Every colour in brief.
    List,
    Detail {
        yarn: YarnId,
    },
    /// Which colour gets a ball, or is weighed?
    ChooseBall,
    ChooseWeighing,
    Ball {
        yarn: YarnId,
    },
    Weigh {
        yarn: YarnId,
    },
    /// Some of the colour is weighed before and after rows.
    Before {
        yarn: YarnId,
    },
    /// How much is there, without a scale?
    AskCorrection {
        yarn: YarnId,
    },
    /// There is so much, whatever was before.
    Correct {
        yarn: YarnId,
        tenths: Tenths,
    },
    /// Take the newest entry of a colour back, if it has this many.
    Undo {
        yarn: YarnId,
        entries: u16,
    },
    ToBuy,
    Settings,
    Set(YarnChoice),
    AskJoin,
    /// What does the label of a ball say?
    AskLabel,
    /// How common is each tier?
    Guess,
    AskCommon {
        tier: TierId,
    },
    Common {
        tier: TierId,
        common: Common,
    },
    /// No guess of how common the tier is.
    NoGuess {
        tier: TierId,
    },
}

/// A new value of one setting.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum YarnChoice {
    Units(Units),
    Scale(ScaleStep),
    Target(Target),
    WholeBlanket(bool),
    Join(Join),
}

impl From<YarnButton> for Button {
    fn from(button: YarnButton) -> Button {
        Button::OfYarn(button)
    }
}

impl YarnButton {
    pub(super) fn fields(self) -> String {
        match self {
            YarnButton::List => "yarn".to_owned(),
            YarnButton::Detail { yarn } => format!("yarnof|{}", yarn.0),
            YarnButton::ChooseBall => "balls".to_owned(),
            YarnButton::ChooseWeighing => "weighs".to_owned(),
            YarnButton::Ball { yarn } => format!("ball|{}", yarn.0),
            YarnButton::Weigh { yarn } => format!("weigh|{}", yarn.0),
            YarnButton::Before { yarn } => format!("before|{}", yarn.0),
            YarnButton::AskCorrection { yarn } => format!("correct|{}", yarn.0),
            YarnButton::Correct { yarn, tenths } => format!("correct|{}|{}", yarn.0, tenths.0),
            YarnButton::Undo { yarn, entries } => format!("unstock|{}|{entries}", yarn.0),
            YarnButton::ToBuy => "buy".to_owned(),
            YarnButton::Settings => "yarnset".to_owned(),
            YarnButton::Set(choice) => format!("yarnset|{}", choice.fields()),
            YarnButton::AskJoin => "joins".to_owned(),
            YarnButton::AskLabel => "label".to_owned(),
            YarnButton::Guess => "common".to_owned(),
            YarnButton::AskCommon { tier } => format!("common|{}", tier.0),
            YarnButton::Common { tier, common } => {
                format!("common|{}|{}", tier.0, common_code(common))
            }
            YarnButton::NoGuess { tier } => format!("noguess|{}", tier.0),
        }
    }

    pub(super) fn read(name: &str, rest: &[&str]) -> Option<YarnButton> {
        Some(match (name, rest) {
            ("yarn", []) => YarnButton::List,
            ("yarnof", [yarn]) => YarnButton::Detail { yarn: read_yarn(yarn)? },
            ("balls", []) => YarnButton::ChooseBall,
            ("weighs", []) => YarnButton::ChooseWeighing,
            ("ball", [yarn]) => YarnButton::Ball { yarn: read_yarn(yarn)? },
            ("weigh", [yarn]) => YarnButton::Weigh { yarn: read_yarn(yarn)? },
            ("before", [yarn]) => YarnButton::Before { yarn: read_yarn(yarn)? },
            ("correct", [yarn]) => YarnButton::AskCorrection { yarn: read_yarn(yarn)? },
            ("correct", [yarn, tenths]) => {
                let (yarn, tenths) = (read_yarn(yarn)?, Tenths(read_number(tenths)?));
                YarnButton::Correct { yarn, tenths }
            }
            ("unstock", [yarn, entries]) => {
                YarnButton::Undo { yarn: read_yarn(yarn)?, entries: read_number(entries)? }
            }
            ("buy", []) => YarnButton::ToBuy,
            ("yarnset", []) => YarnButton::Settings,
            ("yarnset", [what, value]) => YarnButton::Set(YarnChoice::read(what, value)?),
            ("joins", []) => YarnButton::AskJoin,
            ("label", []) => YarnButton::AskLabel,
            ("common", []) => YarnButton::Guess,
            ("common", [tier]) => YarnButton::AskCommon { tier: TierId(read_number(tier)?) },
            ("common", [tier, common]) => {
                let common = find(&Common::ALL, |it| common_code(it) == *common)?;
                YarnButton::Common { tier: TierId(read_number(tier)?), common }
            }
            ("noguess", [tier]) => YarnButton::NoGuess { tier: TierId(read_number(tier)?) },
            _ => return None,
        })
    }
}

impl YarnChoice {
    fn fields(self) -> String {
        match self {
            YarnChoice::Units(units) => format!("units|{}", units_code(units)),
            YarnChoice::Scale(scale) => format!("scale|{}", scale_code(scale)),
            YarnChoice::Target(target) => format!("target|{}", target_code(target)),
            YarnChoice::WholeBlanket(whole) => format!("whole|{}", u8::from(whole)),
            YarnChoice::Join(join) => format!("join|{}", join_code(join)),
        }
    }

    fn read(what: &str, value: &str) -> Option<YarnChoice> {
        Some(match what {
            "units" => YarnChoice::Units(find(&Units::ALL, |it| units_code(it) == value)?),
            "scale" => YarnChoice::Scale(find(&ScaleStep::ALL, |it| scale_code(it) == value)?),
            "target" => YarnChoice::Target(find(&Target::ALL, |it| target_code(it) == value)?),
            "whole" => YarnChoice::WholeBlanket(read_flag(value)?),
            "join" => YarnChoice::Join(find(&Join::ALL, |it| join_code(it) == value)?),
            _ => return None,
        })
    }
}

fn find<T: Copy>(all: &[T], is: impl Fn(T) -> bool) -> Option<T> {
    all.iter().copied().find(|it| is(*it))
}

fn read_yarn(text: &str) -> Option<YarnId> {
    read_number(text).map(YarnId)
}

fn common_code(common: Common) -> &'static str {
    match common {
        Common::HardlyEver => "hardly",
        Common::Sometimes => "some",
        Common::Often => "often",
        Common::MostDays => "most",
    }
}

fn units_code(units: Units) -> &'static str {
    match units {
        Units::Grams => "g",
        Units::Ounces => "oz",
    }
}

fn scale_code(scale: ScaleStep) -> &'static str {
    match scale {
        ScaleStep::Gram => "1",
        ScaleStep::TenthOfGram => "01",
    }
}

fn target_code(target: Target) -> &'static str {
    match target {
        Target::Eighty => "80",
        Target::Ninety => "90",
        Target::NinetyFive => "95",
    }
}

fn join_code(join: Join) -> &'static str {
    match join {
        Join::Sewn => "sewn",
        Join::SlipStitch => "slip",
        Join::SingleCrochet => "single",
        Join::Without => "none",
    }
}
