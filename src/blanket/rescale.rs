//! What can be done to a scale: a tier renamed, moved, added, removed or made the default tier.
//!
//! Never touches a day, and never gives the id of a tier that was removed to another.

use super::book::Book;
use super::label::Label;
use super::scale::{Scale, ScaleFault, Tier, TierId, YarnId};

/// The most yarns a blanket has.
pub const YARNS_MAX: usize = 24;

impl Scale {
    /// Tiers that were removed.
    pub fn retired(&self) -> impl Iterator<Item = &Tier> {
        self.retired.values()
    }

    /// The same scale, once with these tiers.
    ///
    /// # Errors
    /// [`ScaleFault::SameIdTwice`] where one of them is on the scale now.
    pub fn with_retired(self, retired: Vec<Tier>) -> Result<Scale, ScaleFault> {
        if retired.iter().any(|tier| self.tier(tier.id).is_some()) {
            return Err(ScaleFault::SameIdTwice);
        }
        let retired = retired.into_iter().map(|tier| (tier.id, tier)).collect();
        Ok(Scale { retired, ..self })
    }

    /// A tier of the scale, or one that was.
    pub fn ever(&self, id: TierId) -> Option<&Tier> {
        self.tier(id).or(self.retired.get(&id))
    }

    /// The index of a tier, counted from 0 at the lowest.
    pub fn index(&self, id: TierId) -> Option<usize> {
        self.tiers.iter().position(|tier| tier.id == id)
    }

    /// The tier whose label counts as the same as this one.
    pub fn labelled(&self, label: &Label) -> Option<&Tier> {
        self.tiers.iter().find(|tier| tier.label.folded() == label.folded())
    }

    /// Ids no tier ever had.
    fn fresh_ids(&self) -> impl Iterator<Item = TierId> + '_ {
        (1..=u8::MAX).map(TierId).filter(|id| self.ever(*id).is_none())
    }

    /// # Errors
    /// [`ScaleFault::SameLabelTwice`] where another tier has that label.
    pub fn renamed(&self, id: TierId, label: &Label) -> Result<Scale, ScaleFault> {
        let mut tiers = self.tiers.clone();
        tiers.iter_mut().filter(|tier| tier.id == id).for_each(|tier| tier.label = label.clone());
        self.of(tiers, self.default)
    }

    /// The tier stands at this index, from 0 at the lowest; at the highest where there are fewer.
    #[must_use]
    pub fn moved(&self, id: TierId, to: usize) -> Scale {
        let Some(from) = self.index(id) else { return self.clone() };
        let mut tiers = self.tiers.clone();
        let tier = tiers.remove(from);
        tiers.insert(to.min(tiers.len()), tier);
        Scale { tiers, ..self.clone() }
    }

    /// With a tier at this index: a new one, or one that was removed before.
    ///
    /// # Errors
    /// A [`ScaleFault`] where the scale is full, or has its label or its id.
    pub fn with(&self, tier: Tier, at: usize) -> Result<Scale, ScaleFault> {
        let mut tiers = self.tiers.clone();
        tiers.insert(at.min(tiers.len()), tier);
        self.of(tiers, self.default)
    }

    /// # Errors
    /// A [`ScaleFault`] where fewer than two would be left, or it is the default tier.
    pub fn without(&self, id: TierId) -> Result<Scale, ScaleFault> {
        let tiers = self.tiers.iter().filter(|tier| tier.id != id).cloned().collect();
        self.of(tiers, self.default)
    }

    /// # Errors
    /// [`ScaleFault::DefaultIsNoTier`] where it is not on the scale.
    pub fn with_default(&self, default: TierId) -> Result<Scale, ScaleFault> {
        self.of(self.tiers.clone(), default)
    }

    /// Tiers of this scale that are on the next one no more are kept as removed.
    fn of(&self, tiers: Vec<Tier>, default: TierId) -> Result<Scale, ScaleFault> {
        let mut scale = Scale::new(tiers, default)?;
        let before = self.retired.values().chain(&self.tiers);
        let gone = before.filter(|tier| scale.index(tier.id).is_none());
        scale.retired = gone.map(|tier| (tier.id, tier.clone())).collect();
        Ok(scale)
    }
}

impl Book {
    /// An id no tier ever had, and of which nothing is said: a blanket of before may have left a
    /// guess about its own. `None` once all 255 are used.
    pub fn fresh_tier_id(&self) -> Option<TierId> {
        let guesses = &self.yarn_settings().guess;
        self.scale().fresh_ids().find(|id| !guesses.contains_key(id))
    }
}

/// An id none of these has; `None` once all 255 are used.
pub fn fresh_yarn_id(yarns: impl Iterator<Item = YarnId> + Clone) -> Option<YarnId> {
    (1..=u8::MAX).map(YarnId).find(|id| yarns.clone().all(|yarn| yarn != *id))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tier(id: u8) -> Tier {
        let label = Label::parse(&format!("T{id}")).unwrap();
        Tier { id: TierId(id), label, yarn: YarnId(id) }
    }

    fn ids(scale: &Scale) -> Vec<u8> {
        scale.tiers().iter().map(|tier| tier.id.0).collect()
    }

    #[test]
    fn a_removed_tier_keeps_its_id_and_can_come_back() {
        let scale = Scale::new((1..=3).map(tier).collect(), TierId(2)).unwrap();
        let fewer = scale.without(TierId(3)).unwrap();
        assert_eq!((ids(&fewer), fewer.fresh_ids().next()), (vec![1, 2], Some(TierId(4))));
        assert_eq!(fewer.ever(TierId(3)), Some(&tier(3)));
        assert_eq!(fewer.with(tier(3), 2).unwrap(), scale);
        assert_eq!(fewer.without(TierId(1)), Err(ScaleFault::TooFewOrMany));
        assert_eq!(scale.without(TierId(2)), Err(ScaleFault::DefaultIsNoTier));
    }

    #[test]
    fn a_moved_tier_pushes_the_others_along() {
        let scale = Scale::new((1..=4).map(tier).collect(), TierId(2)).unwrap();
        for (to, expected) in [(0, [3, 1, 2, 4]), (1, [1, 3, 2, 4]), (3, [1, 2, 4, 3])] {
            assert_eq!(ids(&scale.moved(TierId(3), to)), expected);
        }
        assert_eq!(scale.moved(TierId(3), 99), scale.moved(TierId(3), 3));
        assert_eq!(scale.moved(TierId(9), 0), scale);
    }

    #[test]
    fn after_255_tiers_there_is_no_id_left() {
        let scale = Scale::new((1..=2).map(tier).collect(), TierId(1)).unwrap();
        let full = scale.with_retired((3..=u8::MAX).map(tier).collect()).unwrap();
        assert_eq!(full.fresh_ids().next(), None);
        assert_eq!(fresh_yarn_id([YarnId(1), YarnId(3)].into_iter()), Some(YarnId(2)));
        assert_eq!(fresh_yarn_id((1..=u8::MAX).map(YarnId)), None);
    }
}
