//! Numbers that are the same for the same seed, and the digest that shows it.

/// Marsaglia's xorshift, 2003.
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Dice {
        let mut dice = Dice(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
        for _ in 0..8 {
            dice.roll();
        }
        dice
    }

    fn roll(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    /// From 0 up to `sides`, which is not reached.
    pub fn below(&mut self, sides: u64) -> u64 {
        (self.roll() >> 11) % sides
    }

    pub fn between(&mut self, low: i64, high: i64) -> i64 {
        low + i64::try_from(self.below(u64::try_from(high - low).unwrap())).unwrap()
    }

    /// True so many times in a thousand.
    pub fn permille(&mut self, times: u64) -> bool {
        self.below(1000) < times
    }

    pub fn one_of<T: Copy>(&mut self, all: &[T]) -> T {
        all[usize::try_from(self.below(all.len() as u64)).unwrap()]
    }
}

/// FNV-1a over everything that happened.
pub struct Digest(pub u64);

impl Digest {
    pub fn new() -> Digest {
        Digest(0xCBF2_9CE4_8422_2325)
    }

    pub fn add(&mut self, text: &str) {
        for byte in text.bytes() {
            self.0 = (self.0 ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01B3);
        }
    }
}
