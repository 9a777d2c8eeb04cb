//! What a maker says once about yarn: units, the scale, how sure the purchase is to be, how the
//! blocks are joined, the ball they buy, and how common they take each tier to be.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::blanket::forecast::{self, Common, Density};
use crate::blanket::scale::TierId;
use crate::blanket::stock::{Ball, Decimetres, Tenths};

#[derive(Clone, PartialEq, Eq, Default, Serialize, Deserialize, Debug)]
#[serde(default, deny_unknown_fields)]
pub struct YarnSettings {
    pub units: Units,
    pub scale: ScaleStep,
    pub target: Target,
    /// The target is that no colour at all runs out.
    pub whole_blanket: bool,
    /// `None` where the maker did not say.
    pub join: Option<Join>,
    /// The ball that is bought, where a colour has none of its own.
    pub ball: Option<BallLabel>,
    /// How common each tier is, as the maker guesses.
    pub guess: BTreeMap<TierId, Common>,
}

/// What weights and lengths are shown in. Either is read.
#[derive(Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, Debug)]
#[serde(rename_all = "snake_case")]
pub enum Units {
    #[default]
    Grams,
    Ounces,
}

/// The smallest step the maker's kitchen scale shows.
#[derive(Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, Debug)]
#[serde(rename_all = "snake_case")]
pub enum ScaleStep {
    #[default]
    Gram,
    TenthOfGram,
}

/// In how many of a hundred cases the yarn bought is to last.
#[derive(Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, Debug)]
#[serde(rename_all = "snake_case")]
pub enum Target {
    Eighty,
    #[default]
    Ninety,
    NinetyFive,
}

/// How the blocks are put together.
#[derive(Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Debug)]
#[serde(rename_all = "snake_case")]
pub enum Join {
    /// Mattress or whip stitch, with a needle.
    Sewn,
    SlipStitch,
    SingleCrochet,
    /// In another yarn, or not at all.
    Without,
}

/// What the label of a ball says.
#[derive(Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub struct BallLabel {
    pub each: Tenths,
    pub length_each: Option<Decimetres>,
}

impl Units {
    pub const ALL: [Units; 2] = [Units::Grams, Units::Ounces];
}

impl ScaleStep {
    pub const ALL: [ScaleStep; 2] = [ScaleStep::Gram, ScaleStep::TenthOfGram];

    pub fn grams(self) -> f64 {
        match self {
            ScaleStep::Gram => 1.0,
            ScaleStep::TenthOfGram => 0.1,
        }
    }
}

impl Target {
    pub const ALL: [Target; 3] = [Target::Eighty, Target::Ninety, Target::NinetyFive];

    pub fn share(self) -> f64 {
        match self {
            Target::Eighty => 0.80,
            Target::Ninety => 0.90,
            Target::NinetyFive => 0.95,
        }
    }
}

impl Join {
    pub const ALL: [Join; 4] = [Join::Sewn, Join::SlipStitch, Join::SingleCrochet, Join::Without];

    /// How a seam is joined; `None` where it takes none of this yarn.
    pub fn seam(self) -> Option<forecast::Join> {
        match self {
            Join::Sewn => Some(forecast::Join::Mattress),
            Join::SlipStitch => Some(forecast::Join::SlipStitch),
            Join::SingleCrochet => Some(forecast::Join::SingleCrochet),
            Join::Without => None,
        }
    }
}

impl BallLabel {
    pub fn density(self) -> Option<Density> {
        let BallLabel { each, length_each } = self;
        Ball { length_each, ..Ball::of(each) }.density()
    }
}

impl YarnSettings {
    /// The chance that one of `colours` is to last with, so that the target holds: where it is for
    /// the whole blanket, each colour may take an equal share of the risk (Bonferroni).
    pub fn share_each(&self, colours: usize) -> f64 {
        let risk = 1.0 - self.target.share();
        // At most 24 colours.
        let parts = if self.whole_blanket { colours.max(1) as f64 } else { 1.0 };
        1.0 - risk / parts
    }
}
