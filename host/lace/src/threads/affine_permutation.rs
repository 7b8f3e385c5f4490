//! Periodic permutations of the endless row of slots.

/// A permutation of the whole numbers that repeats every `period` slots:
/// `f(s + period) = f(s) + period`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AffinePermutation {
    images: Vec<i64>,
}

impl AffinePermutation {
    /// The permutation with these images of slots `0..images.len()`.
    pub fn new(images: Vec<i64>) -> AffinePermutation {
        AffinePermutation { images }
    }

    /// The identity.
    pub fn identity(period: usize) -> AffinePermutation {
        AffinePermutation { images: (0..period as i64).collect() }
    }

    /// The number of slots after which it repeats.
    pub fn period(&self) -> usize {
        self.images.len()
    }

    /// Where slot `s` goes.
    pub fn apply(&self, s: i64) -> i64 {
        let period = self.images.len() as i64;
        self.images[s.rem_euclid(period) as usize] + s.div_euclid(period) * period
    }

    /// Applies `self`, then `next`. Both must have the same period.
    pub fn then(&self, next: &AffinePermutation) -> AffinePermutation {
        AffinePermutation { images: self.images.iter().map(|&s| next.apply(s)).collect() }
    }

    /// The inverse.
    pub fn inverse(&self) -> AffinePermutation {
        let period = self.images.len() as i64;
        let mut images = vec![0; self.images.len()];
        for (s, &image) in self.images.iter().enumerate() {
            images[image.rem_euclid(period) as usize] = s as i64 - image.div_euclid(period) * period;
        }
        AffinePermutation { images }
    }

    /// Whether every slot keeps its place modulo `slots`.
    pub fn is_identity_round(&self, slots: usize) -> bool {
        self.images.iter().zip(0i64..).all(|(&image, s)| (image - s).rem_euclid(slots as i64) == 0)
    }
}
