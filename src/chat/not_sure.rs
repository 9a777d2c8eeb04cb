//! Two closed questions that reach every tier of a scale, at most four choices each.
//!
//! The scale is cut into at most three runs of at most four tiers, one of them around the default
//! tier. The first question chooses the run by comparing with an ordinary day, the second the
//! tier. Nothing is kept before a tier is tapped.

use std::ops::Range;

use chrono::{DateTime, NaiveDate, Utc};

use super::button::{Button, Part};
use super::caption::Caption;
use super::event::MessageId;
use super::outcome::{Key, Outcome, Place, Reply, Slot};
use super::say::{Say, TierSaid};
use super::talk::Step;
use super::{Maker, evening, lines};
use crate::blanket::{Book, DayState, Tier};

/// The most tiers in one part.
const PART_MAX: usize = 4;

/// Compared with an ordinary day?
pub fn compare(
    maker: &Maker,
    book: &Book,
    day: NaiveDate,
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Outcome {
    if !answerable(book, day, now) {
        return evening::leave(maker, book, day, now, tapped);
    }
    let parts = parts(book);
    let default = book.scale().default_tier().label.clone();
    let mut ask = Reply::new(Say::Compare { day, default }).at(in_place(day, tapped));
    for (index, caption) in parts.captions().into_iter().enumerate() {
        let part = Part::Group(u8::try_from(index).unwrap_or(u8::MAX));
        ask = ask.key(caption, Button::Compare { day, part });
    }
    ask = ask.key(Caption::CannotTell, Button::Compare { day, part: Part::CannotTell });
    maker.at(Step::Day { day }).say(ask)
}

/// The tiers of the chosen part; the default tier alone where nothing can be told.
pub fn choose(
    maker: &Maker,
    book: &Book,
    (day, part): (NaiveDate, Part),
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Outcome {
    if !answerable(book, day, now) {
        return evening::leave(maker, book, day, now, tapped);
    }
    let default = book.scale().default_tier();
    let parts = parts(book);
    let tiers = match part {
        Part::CannotTell => std::slice::from_ref(default),
        Part::Group(index) => match parts.ranges.get(usize::from(index)) {
            Some(range) => &book.scale().tiers()[range.clone()],
            // A button of a scale that was cut in other parts.
            None => return compare(maker, book, day, now, tapped),
        },
    };
    let say = match tiers {
        [only] if only.id == default.id => {
            let line = book.tier_line(only.id).map(|line| line.as_str().to_owned());
            Say::DefaultMayFit { day, tier: TierSaid { tier: only.label.clone(), line } }
        }
        tiers => Say::WhichOfThese { day, tiers: lines::said(book, tiers) },
    };
    let ask = tiers.iter().fold(Reply::new(say).at(in_place(day, tapped)), |reply, tier| {
        reply.key(caption(tier, tiers), Button::Answer { day, tier: tier.id })
    });
    let ask = ask.keys([
        Key { caption: Caption::Back, button: Button::NotSure { day } },
        Key { caption: Caption::Later, button: Button::Later { day } },
    ]);
    maker.at(Step::Day { day }).say(ask)
}

fn caption(tier: &Tier, offered: &[Tier]) -> Caption {
    match offered.len() == 1 {
        true => Caption::KeepTier(tier.label.to_string()),
        false => Caption::Name(tier.label.to_string()),
    }
}

/// The runs of tiers, lowest first, and which of them has the default tier.
struct Parts {
    ranges: Vec<Range<usize>>,
    same: usize,
}

impl Parts {
    fn captions(&self) -> Vec<Caption> {
        (0..self.ranges.len())
            .map(|index| match (index < self.same, index.abs_diff(self.same)) {
                (_, 0) => Caption::AboutTheSame,
                (true, 1) => Caption::Lower,
                (true, _) => Caption::MuchLower,
                (false, 1) => Caption::Higher,
                (false, _) => Caption::MuchHigher,
            })
            .collect()
    }
}

fn parts(book: &Book) -> Parts {
    let tiers = book.scale().tiers();
    let default = book.scale().default_tier().id;
    let default = tiers.iter().position(|tier| tier.id == default).unwrap_or(0);
    cut(tiers.len(), default)
}

/// Cuts `tiers` tiers into at most three runs of at most four, the run around `default` as short
/// as that allows.
fn cut(tiers: usize, default: usize) -> Parts {
    let fits =
        |start: usize, end: usize| start.div_ceil(PART_MAX) + (tiers - end).div_ceil(PART_MAX) <= 2;
    let mut best = 0..tiers.min(PART_MAX);
    let mut found = false;
    for len in 1..=PART_MAX.min(tiers) {
        let first = (default + 1).saturating_sub(len);
        let starts = (first..=default).filter(|start| start + len <= tiers);
        let mut starts: Vec<usize> = starts.filter(|start| fits(*start, start + len)).collect();
        // The default tier in the middle of its run, as far as it can be.
        starts.sort_by_key(|start| (2 * (default - start)).abs_diff(len - 1));
        if let Some(start) = starts.first() {
            best = *start..start + len;
            found = true;
            break;
        }
    }
    debug_assert!(found, "2 to 12 tiers can be cut");
    let mut ranges = runs(0..best.start);
    let same = ranges.len();
    let above = runs(best.end..tiers);
    ranges.push(best);
    ranges.extend(above);
    Parts { ranges, same }
}

/// A range in as few runs of at most four as it takes, about equally long.
fn runs(range: Range<usize>) -> Vec<Range<usize>> {
    let count = range.len().div_ceil(PART_MAX);
    let edge = |index: usize| range.start + index * range.len() / count;
    (0..count).map(|index| edge(index)..edge(index + 1)).collect()
}

fn answerable(book: &Book, day: NaiveDate, now: DateTime<Utc>) -> bool {
    match book.day(day, book.hours().day_at(now)) {
        DayState::Open | DayState::Kept(_) => true,
        DayState::ToCome | DayState::Outside => false,
    }
}

fn in_place(day: NaiveDate, tapped: MessageId) -> Place {
    Place::Change { slot: Some(Slot::Question(day)), tapped: Some(tapped) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_questions_of_four_choices_reach_every_tier_of_every_scale() {
        for tiers in 2..=12 {
            for default in 0..tiers {
                let Parts { ranges, same } = cut(tiers, default);
                // "Cannot tell" is the fourth choice of the first question.
                assert!(ranges.len() <= 3, "{tiers} {default}: {ranges:?}");
                assert!(ranges.iter().all(|range| (1..=PART_MAX).contains(&range.len())));
                assert!(ranges[same].contains(&default), "{tiers} {default}: {ranges:?}");
                let reached: Vec<usize> = ranges.into_iter().flatten().collect();
                assert_eq!(reached, (0..tiers).collect::<Vec<_>>(), "{tiers} {default}");
            }
        }
    }

    #[test]
    fn on_seven_tiers_with_the_middle_as_default_the_default_stands_alone() {
        let Parts { ranges, same } = cut(7, 3);
        assert_eq!((ranges, same), (vec![0..3, 3..4, 4..7], 1));
    }
}
