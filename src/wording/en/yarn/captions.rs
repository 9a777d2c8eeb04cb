//! What is written on buttons about yarn, in English.

use super::super::dates::capital;
use super::super::making::names;
use super::units::{share, weight};
use crate::blanket::forecast::Common;
use crate::blanket::yarn::{Join, ScaleStep, Units};
use crate::chat::yarn::said::YarnCaption;

pub fn caption(caption: &YarnCaption) -> String {
    let plain = match caption {
        YarnCaption::AddBall => "Add a ball",
        YarnCaption::Weigh => "Weigh",
        YarnCaption::BeforeAndAfter => "Before and after rows",
        YarnCaption::Correct => "Correct it",
        YarnCaption::Corrected { grams, units } => {
            return format!("It is {} now", weight(*grams, *units));
        }
        YarnCaption::All => "All yarn",
        YarnCaption::ToBuy => "What to buy",
        YarnCaption::Settings => "Yarn settings",
        YarnCaption::Units(Units::Grams) => "Grams and metres",
        YarnCaption::Units(Units::Ounces) => "Ounces and yards",
        YarnCaption::Scale(ScaleStep::Gram) => "Kitchen scale: 1 g",
        YarnCaption::Scale(ScaleStep::TenthOfGram) => "Kitchen scale: 0.1 g",
        YarnCaption::Target(target) => share(*target),
        YarnCaption::WholeBlanket(true) => "For the whole blanket",
        YarnCaption::WholeBlanket(false) => "For each colour",
        YarnCaption::AskJoin => "How blocks are joined",
        YarnCaption::Join(Join::Sewn, _) => "Sewn",
        YarnCaption::Join(Join::SlipStitch, _) => "Slip stitch",
        YarnCaption::Join(Join::SingleCrochet, terms) => {
            return capital(names::single(*terms));
        }
        YarnCaption::Join(Join::Without, _) => "Not in this yarn",
        YarnCaption::Label => "What a ball weighs",
        YarnCaption::Guess => "How common is each tier",
        YarnCaption::NoGuess => "No guess",
        YarnCaption::Common(Common::HardlyEver) => "Hardly ever",
        YarnCaption::Common(Common::Sometimes) => "Sometimes",
        YarnCaption::Common(Common::Often) => "Often",
        YarnCaption::Common(Common::MostDays) => "Most days",
    };
    plain.to_owned()
}
