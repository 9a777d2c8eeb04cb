//! Makers to try the forecast on: made-up years of days, the same for a seed.
//!
//! Seven kinds of life, each as often as the others: days that have nothing to do with each other,
//! moods, moods with a slow drift, a life that changes for good on some day, a year with a season,
//! rare spells, and days that repeat the day before. All of them have weekends of their own and,
//! on 1.5 % of the days, the lowest or the highest tier out of the blue. Half of the makers say
//! beforehand how common each tier will be, and are often wrong.
//!
//! Never looks at the forecast: nothing here was chosen after a look at its results, and nothing
//! is to be. The forecast's own constants come from other makers.

use std::f64::consts::{FRAC_1_SQRT_2, TAU};

use duskrow::blanket::forecast::Common;

pub const SEED: u64 = 365_2027;
pub const DAYS: usize = 365;
const EXTREME: f64 = 0.015;

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Life {
    Independent,
    Moods,
    Drifting,
    Shifting,
    Seasonal,
    Spells,
    Sticky,
}

impl Life {
    pub const ALL: [Life; 7] = [
        Life::Independent,
        Life::Moods,
        Life::Drifting,
        Life::Shifting,
        Life::Seasonal,
        Life::Spells,
        Life::Sticky,
    ];
}

pub struct Maker {
    pub life: Life,
    pub tiers: usize,
    pub guess: Option<Vec<Common>>,
    /// The tier of each day of the year.
    pub days: Vec<usize>,
}

/// So many makers of each kind, for the seed of this file.
pub fn makers(of_each: u64) -> impl Iterator<Item = Maker> {
    (0..of_each).flat_map(move |number| {
        let kinds = (0..).zip(Life::ALL);
        kinds.map(move |(kind, life)| maker(life, SEED + 7 * number + kind, number % 2 == 0))
    })
}

fn maker(life: Life, seed: u64, guesses: bool) -> Maker {
    let mut dice = Dice::new(seed);
    let tiers = 4 + dice.below(5);
    let shares = shares(&mut dice, tiers);
    let guess = guesses.then(|| words(&mut dice, &shares));
    let weekend = dice.between(-0.4, 0.4);
    let first_weekend = dice.below(7);
    let heights = heights(&mut dice, life);
    let repeats = if life == Life::Sticky { dice.between(0.3, 0.7) } else { 0.0 };
    let mut days: Vec<usize> = Vec::with_capacity(DAYS);
    for (day, height) in heights.into_iter().enumerate() {
        let tier = if dice.chance() < EXTREME {
            if dice.chance() < 0.5 { 0 } else { tiers - 1 }
        } else if let (Some(before), true) = (days.last(), dice.chance() < repeats) {
            *before
        } else {
            let off = if (day + first_weekend) % 7 < 2 { weekend } else { 0.0 };
            tier_at(&shares, height + off)
        };
        days.push(tier);
    }
    Maker { life, tiers, guess, days }
}

/// How common each tier is on the whole: a hill somewhere on the scale, with bumps.
fn shares(dice: &mut Dice, tiers: usize) -> Vec<f64> {
    let top = dice.between(0.2, 0.8) * (tiers as f64 - 1.0);
    let width = dice.between(0.15, 0.35) * tiers as f64;
    let mut weight = |tier: usize| {
        let off = (tier as f64 - top) / width;
        libm::exp(-off * off / 2.0 + 0.4 * dice.normal())
    };
    let weights: Vec<f64> = (0..tiers).map(&mut weight).collect();
    let sum: f64 = weights.iter().sum();
    weights.into_iter().map(|weight| weight / sum).collect()
}

/// What the maker expects, off by about a factor of two either way.
fn words(dice: &mut Dice, shares: &[f64]) -> Vec<Common> {
    let mut word = |share: &f64| match share * libm::exp(0.7 * dice.normal()) {
        felt if felt < 0.05 => Common::HardlyEver,
        felt if felt < 0.2 => Common::Sometimes,
        felt if felt < 0.4 => Common::Often,
        _ => Common::MostDays,
    };
    shares.iter().map(&mut word).collect()
}

/// How high each day stands before it is cut into tiers: about 0, give or take 1.
fn heights(dice: &mut Dice, life: Life) -> Vec<f64> {
    let mood = |dice: &mut Dice, part: f64| {
        let keeps = dice.between(0.4, 0.8);
        let mood = wandering(dice, keeps);
        mixed(dice, &mood, part)
    };
    match life {
        Life::Independent | Life::Sticky => (0..DAYS).map(|_| dice.normal()).collect(),
        Life::Moods => {
            let part = dice.between(0.3, 0.7);
            mood(dice, part)
        }
        Life::Drifting => {
            let slow = wandering(dice, libm::exp(-1.0 / 60.0));
            let part = dice.between(0.15, 0.3_f64);
            let quick = mood(dice, 0.3);
            let both = slow.iter().zip(quick);
            both.map(|(slow, quick)| part.sqrt() * slow + (1.0 - part).sqrt() * quick).collect()
        }
        Life::Shifting => {
            let (from, by) = (80 + dice.below(201), dice.sign() * dice.between(0.5, 1.2));
            let days = mood(dice, 0.3).into_iter().enumerate();
            days.map(|(day, height)| if day < from { height } else { height + by }).collect()
        }
        Life::Seasonal => {
            let (by, start) = (dice.between(0.4, 0.9), dice.chance());
            let season = |day: usize| by * libm::sin(TAU * (day as f64 / DAYS as f64 + start));
            let days = mood(dice, 0.3).into_iter().enumerate();
            days.map(|(day, height)| height + season(day)).collect()
        }
        Life::Spells => {
            let spells = spells(dice);
            mood(dice, 0.2).iter().zip(spells).map(|(height, spell)| height + spell).collect()
        }
    }
}

/// What lasts from day to day but for a part, with variance 1.
fn wandering(dice: &mut Dice, keeps: f64) -> Vec<f64> {
    let mut at = dice.normal();
    let mut next = || {
        at = keeps * at + (1.0 - keeps * keeps).sqrt() * dice.normal();
        at
    };
    (0..DAYS).map(|_| next()).collect()
}

/// A part of the variance from `lasting`, the rest from each day alone.
fn mixed(dice: &mut Dice, lasting: &[f64], part: f64) -> Vec<f64> {
    let mut with = |lasts: &f64| part.sqrt() * lasts + (1.0 - part).sqrt() * dice.normal();
    lasting.iter().map(&mut with).collect()
}

/// On one day in forty begins a spell of 3 to 14 days, well above or below the others.
fn spells(dice: &mut Dice) -> Vec<f64> {
    let (mut left, mut by) = (0, 0.0);
    let mut next = || {
        if left > 0 {
            left -= 1;
            return by;
        }
        if dice.chance() < 1.0 / 40.0 {
            (left, by) = (2 + dice.below(12), dice.sign() * dice.between(1.0, 2.0));
            return by;
        }
        0.0
    };
    (0..DAYS).map(|_| next()).collect()
}

/// Cuts a height, 0 give or take 1, into tiers that come as often as their shares.
fn tier_at(shares: &[f64], height: f64) -> usize {
    let place = 0.5 * libm::erfc(-height * FRAC_1_SQRT_2);
    let mut sum = 0.0;
    let reached = shares.iter().position(|share| {
        sum += share;
        place < sum
    });
    reached.unwrap_or(shares.len() - 1)
}

/// SplitMix64 (Steele, Lea and Flood, "Fast splittable pseudorandom number generators", OOPSLA
/// 2014): the same numbers on every machine.
struct Dice(u64);

impl Dice {
    fn new(seed: u64) -> Dice {
        // Seeds that follow each other begin far apart.
        let mut dice = Dice(seed);
        Dice(dice.next())
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mixed = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// From 0 up to below 1.
    fn chance(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.chance()
    }

    fn below(&mut self, count: usize) -> usize {
        (self.chance() * count as f64) as usize
    }

    fn sign(&mut self) -> f64 {
        if self.chance() < 0.5 { -1.0 } else { 1.0 }
    }

    /// Box and Muller, "A note on the generation of random normal deviates", 1958.
    fn normal(&mut self) -> f64 {
        let length = (-2.0 * libm::log(1.0 - self.chance())).sqrt();
        length * libm::cos(TAU * self.chance())
    }
}
