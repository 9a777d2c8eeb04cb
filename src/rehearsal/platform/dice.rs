//! What is random on the platform, repeatable from a seed so that a test can be run again.

use serde::{Deserialize, Serialize};

/// A small generator (xorshift64*); good enough for ids, never for secrets.
#[derive(Serialize, Deserialize)]
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Dice {
        // The generator never leaves zero, and neighbouring seeds should not start alike.
        Dice(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }

    /// Like the real ones: nine digits, far from zero and from the end of an i32.
    pub fn update_id(&mut self) -> i64 {
        100_000_000 + (self.roll() % 800_000_000) as i64
    }

    pub fn roll(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_f491_4f6c_dd1d)
    }
}
