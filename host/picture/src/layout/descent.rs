//! Going down to the least energy: limited-memory BFGS (J. Nocedal, "Updating
//! quasi-Newton matrices with limited storage", Mathematics of Computation 35,
//! 1980) with short steps, so that no thread jumps over another.

use std::collections::VecDeque;

use lace::{Point, point};

use super::chains::{Chains, dot, length};
use super::tension::{MARGIN, Tension};

/// Steps remembered.
const MEMORY: usize = 12;
/// Farthest a point moves in one step, in thread diameters.
const STRIDE: f64 = 0.3;

/// How a descent ended.
#[derive(Clone, Copy, Debug)]
pub(super) struct Descent {
    pub steps: usize,
    /// Largest force left over on a point.
    pub residual: f64,
}

fn inner(a: &[Point], b: &[Point]) -> f64 {
    a.iter().zip(b).map(|(&a, &b)| dot(a, b)).sum()
}

fn largest(a: &[Point]) -> f64 {
    a.iter().map(|&p| dot(p, p)).fold(0.0, f64::max).sqrt()
}

/// Moves the chains down until no force is larger than `enough`, in at most
/// `most` steps.
pub(super) fn descend(tension: &mut Tension, chains: &mut Chains, enough: f64, most: usize) -> Descent {
    let count = chains.points.len();
    let zero = vec![point(0.0, 0.0); count];
    let mut gradient = zero.clone();
    let mut next = zero.clone();
    let mut next_gradient = zero.clone();
    let mut seen_from = chains.points.clone();
    tension.find_contacts(chains);
    let mut energy = tension.energy(chains, &chains.points, &mut gradient);
    let mut memory: VecDeque<(Vec<Point>, Vec<Point>, f64)> = VecDeque::new();
    let mut way = zero;
    let mut weights = [0.0; MEMORY];
    let mut steps = 0;
    while steps < most && largest(&gradient) > enough {
        steps += 1;
        way.copy_from_slice(&gradient);
        for (k, (s, y, inv)) in memory.iter().enumerate() {
            weights[k] = inv * inner(s, &way);
            for (w, &y) in way.iter_mut().zip(y) {
                *w = *w - y * weights[k];
            }
        }
        // Without memory a step as if every force met the stiffness of a touch.
        let scale = memory.front().map_or(0.02, |(_, y, inv)| 1.0 / (inv * inner(y, y)));
        for w in &mut way {
            *w = *w * scale;
        }
        for (k, (s, y, inv)) in memory.iter().enumerate().rev() {
            let back = weights[k] - inv * inner(y, &way);
            for (w, &s) in way.iter_mut().zip(s) {
                *w = *w + s * back;
            }
        }
        let mut slope = inner(&way, &gradient);
        if slope <= 0.0 {
            memory.clear();
            way.copy_from_slice(&gradient);
            way.iter_mut().for_each(|w| *w = *w * 0.02);
            slope = inner(&way, &gradient);
        }
        let mut share = (STRIDE / largest(&way).max(1e-300)).min(1.0);
        let mut found = false;
        for _ in 0..12 {
            for ((n, &p), &w) in next.iter_mut().zip(&chains.points).zip(&way) {
                *n = p - w * share;
            }
            let there = tension.energy(chains, &next, &mut next_gradient);
            if there <= energy - 1e-4 * share * slope {
                found = true;
                energy = there;
                break;
            }
            share *= 0.4;
        }
        if !found {
            if memory.is_empty() {
                break;
            }
            memory.clear();
            continue;
        }
        let mut entry = if memory.len() == MEMORY {
            memory.pop_back().expect("a full memory")
        } else {
            (next.clone(), next.clone(), 0.0)
        };
        for k in 0..count {
            entry.0[k] = next[k] - chains.points[k];
            entry.1[k] = next_gradient[k] - gradient[k];
        }
        let curve = inner(&entry.0, &entry.1);
        if curve > 1e-10 * inner(&entry.1, &entry.1) {
            entry.2 = 1.0 / curve;
            memory.push_front(entry);
        }
        tension.reach();
        chains.points.copy_from_slice(&next);
        gradient.copy_from_slice(&next_gradient);
        let moved = chains.points.iter().zip(&seen_from).map(|(&p, &q)| length(p - q)).fold(0.0, f64::max);
        if moved > MARGIN / 2.0 {
            tension.find_contacts(chains);
            seen_from.copy_from_slice(&chains.points);
            energy = tension.energy(chains, &chains.points, &mut gradient);
        }
    }
    Descent { steps, residual: largest(&gradient) }
}
