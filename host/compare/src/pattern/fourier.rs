//! The discrete Fourier transform, for any length: J. W. Cooley and J. W. Tukey, "An
//! algorithm for the machine calculation of complex Fourier series", Mathematics of
//! Computation 19, 1965 (from memory).

use std::f64::consts::TAU;

/// A complex number: its real and imaginary part.
pub type Complex = [f64; 2];

/// Transforms of two lengths.
#[derive(Clone, Debug)]
pub struct Transform {
    /// For each length, its roots of unity.
    roots: [Vec<Complex>; 2],
}

/// One, turned back by a part of a whole turn.
pub fn turned(part: i64, whole: i64) -> Complex {
    let (sin, cos) = libm::sincos(TAU * part as f64 / whole as f64);
    [cos, -sin]
}

impl Transform {
    /// Transforms of rows and columns of these lengths.
    pub fn new(wide: usize, high: usize) -> Transform {
        let roots = |length: usize| (0..length).map(|k| turned(k as i64, length as i64)).collect();
        Transform { roots: [roots(wide), roots(high)] }
    }

    /// The transform of a row.
    pub fn across(&self, row: Vec<Complex>) -> Vec<Complex> {
        transform(row, &self.roots[0])
    }

    /// The transform of a column.
    pub fn down(&self, column: Vec<Complex>) -> Vec<Complex> {
        transform(column, &self.roots[1])
    }
}

/// Every so many values are transformed alone, then put together.
fn transform(values: Vec<Complex>, roots: &[Complex]) -> Vec<Complex> {
    let length = values.len();
    let Some(factor) = (2..=length).find(|factor| length.is_multiple_of(*factor)) else { return values };
    let part = |first: usize| values.iter().skip(first).step_by(factor).copied().collect();
    let parts: Vec<Vec<Complex>> = (0..factor).map(|first| transform(part(first), roots)).collect();
    let step = roots.len() / length;
    let sum = |k: usize| {
        let mut sum = [0.0, 0.0];
        for (first, part) in parts.iter().enumerate() {
            let (value, root) = (part[k % part.len()], roots[first * k % length * step]);
            sum[0] += value[0] * root[0] - value[1] * root[1];
            sum[1] += value[0] * root[1] + value[1] * root[0];
        }
        sum
    };
    (0..length).map(sum).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn any_length_is_transformed_as_by_definition() {
        for length in [1, 2, 7, 12, 30] {
            let values: Vec<Complex> =
                (0..length).map(|k| [(k * k % 11) as f64, (k * 5 % 7) as f64]).collect();
            let fast = Transform::new(length, 1).across(values.clone());
            for (k, fast) in fast.iter().enumerate() {
                let mut sum = [0.0, 0.0];
                for (at, value) in values.iter().enumerate() {
                    let root = turned((k * at) as i64, length as i64);
                    sum[0] += value[0] * root[0] - value[1] * root[1];
                    sum[1] += value[0] * root[1] + value[1] * root[0];
                }
                assert!((sum[0] - fast[0]).abs() < 1e-9 && (sum[1] - fast[1]).abs() < 1e-9, "{length}");
            }
        }
    }
}
