//! Invented makers, to try forecasts on: 365 days each, drawn from a seed.
//!
//! Seven ways a year can go, in equal parts. Under each lies a number a day, cut into tiers by
//! fixed bounds; on top come a rhythm of weeks and a few extreme days. Written, with its numbers
//! and its seed, before the first forecast was tried on it, and not changed since: numbers tuned
//! on the very makers they are judged by would look better than they are.

use duskrow::blanket::forecast::Common;

/// The makers of every measurement: change it and the tables are others.
pub const SEED: u64 = 20_270_101;
pub const DAYS: usize = 365;

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Process {
    /// No day knows of another.
    Independent,
    /// A mood that fades over days.
    Moody,
    /// The same, and a baseline that wanders.
    Drifting,
    /// The same, and a new baseline from one day on.
    Shifting,
    /// The same, and a rhythm of the year.
    Seasonal,
    /// Rare spells of 3 to 14 days.
    Spells,
    /// The day before is often named again.
    Sticky,
}

impl Process {
    pub const ALL: [Process; 7] = [
        Process::Independent,
        Process::Moody,
        Process::Drifting,
        Process::Shifting,
        Process::Seasonal,
        Process::Spells,
        Process::Sticky,
    ];
}

pub struct Maker {
    pub process: Process,
    pub tiers: usize,
    /// The tier of each day.
    pub days: Vec<usize>,
    /// Every second maker says beforehand how common each tier will be, and is often wrong.
    pub guess: Option<Vec<Common>>,
}

impl Maker {
    /// The maker of this number; the same for the same seed.
    pub fn new(seed: u64, number: u64) -> Maker {
        let mut dice = Dice::new(seed ^ number.wrapping_mul(0x9E37_79B9_7F4A_7C15));
        let process = Process::ALL[(number % 7) as usize];
        let tiers = 4 + dice.below(5);
        let shares = shares(tiers, &mut dice);
        let bounds = bounds(&shares);
        let weekend = 0.3 * dice.normal();
        let mut days = Vec::with_capacity(DAYS);
        for (day, level) in levels(process, &mut dice).into_iter().enumerate() {
            let week = if day % 7 >= 5 { weekend } else { 0.0 };
            let level = level + week;
            let mut tier = bounds.iter().filter(|bound| level > **bound).count();
            if dice.chance(0.015) {
                tier = if dice.chance(0.5) { 0 } else { tiers - 1 };
            }
            days.push(tier);
        }
        if process == Process::Sticky {
            let again = dice.between(0.3, 0.7);
            for day in 1..DAYS {
                if dice.chance(again) {
                    days[day] = days[day - 1];
                }
            }
        }
        // By turns over each process, not over the makers: seven is odd.
        let guess = (number / 7).is_multiple_of(2).then(|| words(&shares, &mut dice));
        Maker { process, tiers, days, guess }
    }
}

/// Uneven, and more in the middle of the scale.
fn shares(tiers: usize, dice: &mut Dice) -> Vec<f64> {
    let middle = (tiers as f64 - 1.0) / 2.0;
    let weight = |tier: usize, dice: &mut Dice| {
        let off = (tier as f64 - middle) / (tiers as f64 / 3.0);
        (0.7 * dice.normal() - off * off / 2.0).exp()
    };
    let weights: Vec<f64> = (0..tiers).map(|tier| weight(tier, dice)).collect();
    let sum: f64 = weights.iter().sum();
    weights.into_iter().map(|weight| weight / sum).collect()
}

/// Where a normal number must be cut to fall into the tiers with these shares.
fn bounds(shares: &[f64]) -> Vec<f64> {
    let mut below = 0.0;
    let mut found = Vec::new();
    for share in &shares[..shares.len() - 1] {
        below += share;
        let (mut low, mut high) = (-9.0, 9.0);
        for _ in 0..60 {
            let middle = f64::midpoint(low, high);
            let chance = 0.5 * libm::erfc(-middle / std::f64::consts::SQRT_2);
            if chance < below { low = middle } else { high = middle }
        }
        found.push(low);
    }
    found
}

/// What lies under each day, about normal.
fn levels(process: Process, dice: &mut Dice) -> Vec<f64> {
    let keeps = match process {
        Process::Independent | Process::Spells | Process::Sticky => 0.0,
        Process::Moody => dice.between(0.3, 0.8),
        Process::Drifting | Process::Shifting | Process::Seasonal => dice.between(0.2, 0.6),
    };
    let mut mood = dice.normal();
    let mut levels = Vec::with_capacity(DAYS);
    for _ in 0..DAYS {
        levels.push(mood);
        mood = keeps * mood + (1.0 - keeps * keeps).sqrt() * dice.normal();
    }
    let moved = |levels: &mut [f64], by: f64| levels.iter_mut().for_each(|level| *level += by);
    match process {
        Process::Independent | Process::Moody | Process::Sticky => {}
        Process::Drifting => {
            let (step, mut drift) = (dice.between(0.02, 0.05), 0.0);
            for level in &mut levels {
                *level += drift;
                drift += step * dice.normal();
            }
        }
        Process::Shifting => {
            let from = 80 + dice.below(201);
            let by = dice.sign() * dice.between(0.5, 1.2);
            moved(&mut levels[from..], by);
        }
        Process::Seasonal => {
            let (height, begins) = (dice.between(0.4, 1.0), dice.between(0.0, 1.0));
            for (day, level) in levels.iter_mut().enumerate() {
                let turn = begins + day as f64 / 365.0;
                *level += height * (turn * std::f64::consts::TAU).sin();
            }
        }
        Process::Spells => {
            let rate = dice.between(0.01, 0.03);
            let mut day = 0;
            while day < DAYS {
                let length = 3 + dice.below(12);
                if dice.chance(rate) {
                    let by = dice.sign() * dice.between(1.0, 2.0);
                    moved(&mut levels[day..(day + length).min(DAYS)], by);
                    day += length;
                } else {
                    day += 1;
                }
            }
        }
    }
    levels
}

/// The word a maker picks for each tier, who is off by a factor of about two.
fn words(shares: &[f64], dice: &mut Dice) -> Vec<Common> {
    let word = |share: &f64| match share * (0.6 * dice.normal()).exp() {
        ..0.04 => Common::HardlyEver,
        ..0.15 => Common::Sometimes,
        ..0.35 => Common::Often,
        _ => Common::MostDays,
    };
    shares.iter().map(word).collect()
}

/// SplitMix64 (G. L. Steele, D. Lea, C. H. Flood, "Fast splittable pseudorandom number
/// generators", OOPSLA 2014).
struct Dice(u64);

impl Dice {
    fn new(seed: u64) -> Dice {
        Dice(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        bits ^ (bits >> 31)
    }

    /// From 0 up to and without 1.
    fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    fn below(&mut self, count: usize) -> usize {
        (self.share() * count as f64) as usize
    }

    fn chance(&mut self, chance: f64) -> bool {
        self.share() < chance
    }

    fn sign(&mut self) -> f64 {
        if self.chance(0.5) { 1.0 } else { -1.0 }
    }

    /// Box and Muller.
    fn normal(&mut self) -> f64 {
        let (one, other) = (1.0 - self.share(), self.share());
        (-2.0 * one.ln()).sqrt() * (std::f64::consts::TAU * other).cos()
    }
}
