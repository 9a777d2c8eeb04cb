//! The maker's own ordered steps, lowest first, and the colour of each.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::label::Label;

pub const TIERS_MIN: usize = 2;
pub const TIERS_MAX: usize = 12;

/// A tier's name for life: never reused, whatever is renamed, moved or removed.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, Debug)]
pub struct TierId(pub u8);

/// A yarn's name for life: never reused.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct YarnId(pub u8);

#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Tier {
    pub id: TierId,
    pub label: Label,
    pub yarn: YarnId,
}

/// A yarn colour: a name and, for pictures, its sRGB bytes.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Yarn {
    pub id: YarnId,
    pub name: Label,
    pub rgb: [u8; 3],
    /// The yarn that was worked before where this one is worked now.
    pub after: Option<YarnId>,
}

/// 2 to 12 tiers with different labels and ids, lowest first, one of them the default tier.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Scale {
    pub(super) tiers: Vec<Tier>,
    pub(super) default: TierId,
    /// Tiers that were removed, as they were: their ids are not given to others.
    pub(super) retired: BTreeMap<TierId, Tier>,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum ScaleFault {
    TooFewOrMany,
    SameLabelTwice,
    SameIdTwice,
    DefaultIsNoTier,
}

impl Scale {
    /// # Errors
    /// A [`ScaleFault`] where the tiers cannot be one scale.
    pub fn new(tiers: Vec<Tier>, default: TierId) -> Result<Scale, ScaleFault> {
        if !(TIERS_MIN..=TIERS_MAX).contains(&tiers.len()) {
            return Err(ScaleFault::TooFewOrMany);
        }
        let labels: Vec<String> = tiers.iter().map(|tier| tier.label.folded()).collect();
        let twice = (1..labels.len()).any(|index| labels[..index].contains(&labels[index]));
        if twice {
            return Err(ScaleFault::SameLabelTwice);
        }
        Scale::kept(tiers, default)
    }

    /// The same as it was kept: labels that count as the same today may have been two once.
    ///
    /// # Errors
    /// A [`ScaleFault`], but not [`ScaleFault::SameLabelTwice`].
    pub fn kept(tiers: Vec<Tier>, default: TierId) -> Result<Scale, ScaleFault> {
        if !(TIERS_MIN..=TIERS_MAX).contains(&tiers.len()) {
            return Err(ScaleFault::TooFewOrMany);
        }
        for (index, tier) in tiers.iter().enumerate() {
            if tiers[index + 1..].iter().any(|other| other.id == tier.id) {
                return Err(ScaleFault::SameIdTwice);
            }
        }
        if !tiers.iter().any(|tier| tier.id == default) {
            return Err(ScaleFault::DefaultIsNoTier);
        }
        Ok(Scale { tiers, default, retired: BTreeMap::new() })
    }

    /// The tiers, lowest first.
    pub fn tiers(&self) -> &[Tier] {
        &self.tiers
    }

    pub fn tier(&self, id: TierId) -> Option<&Tier> {
        self.tiers.iter().find(|tier| tier.id == id)
    }

    /// The tier a forgotten day can be set to when the maker says so.
    pub fn default_tier(&self) -> &Tier {
        self.tier(self.default).unwrap_or(&self.tiers[0])
    }

    /// These tiers are worked in these yarns from now on.
    pub(super) fn move_yarns(&mut self, yarns: &[(TierId, YarnId)]) {
        for (id, yarn) in yarns {
            let tiers = self.tiers.iter_mut().filter(|tier| tier.id == *id);
            tiers.for_each(|tier| tier.yarn = *yarn);
        }
    }

    /// Whether a typed line is a number, or spelt almost like a label: more likely a slip than a
    /// note.
    pub fn nearly(&self, text: &str) -> bool {
        let text = text.trim();
        let number = !text.is_empty() && text.chars().all(|c| c.is_ascii_digit());
        number || self.tiers.iter().any(|tier| tier.label.nearly(text))
    }

    /// The tier a maker typed: its exact label, or its number counted from 1 at the lowest.
    pub fn typed(&self, text: &str) -> Option<&Tier> {
        if let Some(tier) = self.tiers.iter().find(|tier| tier.label.is(text)) {
            return Some(tier);
        }
        let digits = text.trim();
        let plain = digits.bytes().all(|b| b.is_ascii_digit());
        let number: usize = plain.then(|| digits.parse().ok()).flatten()?;
        self.tiers.get(number.checked_sub(1)?)
    }
}
