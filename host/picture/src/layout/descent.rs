//! Minimising the energy: limited-memory BFGS (J. Nocedal, "Updating
//! quasi-Newton matrices with limited storage", Mathematics of Computation 35,
//! 1980) with short steps, so that no thread jumps over another. It begins with the
//! stiffness of the springs instead of one number for all.

use std::collections::VecDeque;

use lace::{Point, point};

use super::chains::Chains;
use super::contacts::MARGIN;
use super::stiffness::Stiffness;
use super::tension::Tension;

/// Steps remembered.
const MEMORY: usize = 6;
/// Farthest a point moves in one step, in thread diameters.
const STRIDE: f64 = 0.3;

/// The result of a descent.
#[derive(Clone, Copy, Debug)]
pub(super) struct Descent {
    pub steps: usize,
    /// Largest remaining force on a point.
    pub residual: f64,
}

/// Sums run in so many lanes, none of which waits for another.
const LANES: usize = 4;

fn inner(a: &[Point], b: &[Point]) -> f64 {
    let mut sums = [point(0.0, 0.0); LANES];
    let (fours, others) = (a.chunks_exact(LANES), b.chunks_exact(LANES));
    let rest = fours.remainder().iter().zip(others.remainder());
    for (a, b) in fours.zip(others) {
        for (sum, (a, b)) in sums.iter_mut().zip(a.iter().zip(b)) {
            *sum += point(a.x * b.x, a.y * b.y);
        }
    }
    let rest: f64 = rest.map(|(&a, &b)| a.dot(b)).sum();
    let whole = (sums[0] + sums[1]) + (sums[2] + sums[3]);
    whole.x + whole.y + rest
}

fn largest(a: &[Point]) -> f64 {
    let mut most = [0.0f64; LANES];
    let fours = a.chunks_exact(LANES);
    for &p in fours.remainder() {
        most[0] = most[0].max(p.dot(p));
    }
    for four in fours {
        for (most, &p) in most.iter_mut().zip(four) {
            let squared = p.dot(p);
            *most = if squared > *most { squared } else { *most };
        }
    }
    most.into_iter().fold(0.0, f64::max).sqrt()
}

/// A step taken: the change of places, of gradients, and of the moves that the springs
/// would make of the gradients.
struct StepTaken {
    places: Vec<Point>,
    gradient: Vec<Point>,
    moves: Vec<Point>,
    /// One divided by the inner product of places and gradient.
    inverse: f64,
}

/// The last steps, the newest first.
struct Memory {
    steps: VecDeque<StepTaken>,
    weights: [f64; MEMORY],
    left: Vec<Point>,
}

impl Memory {
    fn new() -> Memory {
        Memory { steps: VecDeque::new(), weights: [0.0; MEMORY], left: Vec::new() }
    }

    /// Turns a gradient, and the moves the springs would make of it, into the negative
    /// direction of the next step.
    fn turn(&mut self, gradient: &[Point], direction: &mut [Point]) {
        let Some(newest) = self.steps.front() else { return };
        let scale = 1.0 / (newest.inverse * inner(&newest.gradient, &newest.moves)).max(1e-300);
        let left = &mut self.left;
        left.clear();
        left.extend_from_slice(gradient);
        for (k, step) in self.steps.iter().enumerate() {
            let weight = step.inverse * inner(&step.places, left);
            self.weights[k] = weight;
            for (g, &change) in left.iter_mut().zip(&step.gradient) {
                *g -= change * weight;
            }
            for (d, &change) in direction.iter_mut().zip(&step.moves) {
                *d -= change * weight;
            }
        }
        for d in direction.iter_mut() {
            *d = *d * scale;
        }
        for (k, step) in self.steps.iter().enumerate().rev() {
            let back = self.weights[k] - step.inverse * inner(&step.gradient, direction);
            for (d, &p) in direction.iter_mut().zip(&step.places) {
                *d += p * back;
            }
        }
    }

    /// Remembers a step by its places, gradients and moves before and after, unless it
    /// has no positive curvature.
    fn remember(&mut self, places: [&[Point]; 2], gradients: [&[Point]; 2], moves: [&[Point]; 2]) {
        let full = self.steps.len() == MEMORY;
        let mut step = full.then(|| self.steps.pop_back()).flatten().unwrap_or_else(|| {
            let room = places[0].to_vec();
            StepTaken { places: room.clone(), gradient: room.clone(), moves: room, inverse: 0.0 }
        });
        for (own, [before, after]) in
            [(&mut step.places, places), (&mut step.gradient, gradients), (&mut step.moves, moves)]
        {
            for (change, (&new, &old)) in own.iter_mut().zip(after.iter().zip(before)) {
                *change = new - old;
            }
        }
        let curve = inner(&step.places, &step.gradient);
        if curve > 1e-10 * inner(&step.gradient, &step.gradient) {
            step.inverse = 1.0 / curve;
            self.steps.push_front(step);
        }
    }
}

/// Places that are tried, and the gradient of the energy there.
struct Tried {
    places: Vec<Point>,
    gradient: Vec<Point>,
}

impl Tried {
    /// Goes against a direction, less far each time, until the energy is lower by
    /// enough for the slope. Returns the energy there; `None` if it never is.
    fn go_down(
        &mut self,
        tension: &mut Tension,
        chains: &Chains,
        direction: &[Point],
        slope: f64,
        energy: f64,
    ) -> Option<f64> {
        let mut share = (STRIDE / largest(direction).max(1e-300)).min(1.0);
        for _ in 0..12 {
            for ((n, &p), &d) in self.places.iter_mut().zip(&chains.points).zip(direction) {
                *n = p - d * share;
            }
            let there = tension.energy(chains, &self.places, &mut self.gradient);
            if there <= energy - 1e-4 * share * slope {
                return Some(there);
            }
            share *= 0.4;
        }
        None
    }
}

/// Minimises the energy of the chains until no force is larger than `enough`, in
/// at most `most` steps and until all work is done.
pub(super) fn descend(
    tension: &mut Tension,
    chains: &mut Chains,
    stiffness: &mut Stiffness,
    enough: f64,
    most: usize,
) -> Descent {
    let zero = vec![point(0.0, 0.0); chains.points.len()];
    let mut gradient = zero.clone();
    let mut next = Tried { places: zero.clone(), gradient: zero.clone() };
    tension.find_contacts(chains);
    let mut energy = tension.energy(chains, &chains.points, &mut gradient);
    let mut memory = Memory::new();
    let (mut moves, mut moved, mut direction) = (zero.clone(), zero.clone(), zero);
    stiffness.solve(&gradient, &mut moves);
    let mut steps = 0;
    while steps < most && !tension.work.is_done() && largest(&gradient) > enough {
        steps += 1;
        direction.copy_from_slice(&moves);
        memory.turn(&gradient, &mut direction);
        let mut slope = inner(&direction, &gradient);
        if slope <= 0.0 {
            memory.steps.clear();
            direction.copy_from_slice(&moves);
            slope = inner(&direction, &gradient);
        }
        let Some(lower) = next.go_down(tension, chains, &direction, slope, energy) else {
            if memory.steps.is_empty() {
                break;
            }
            memory.steps.clear();
            continue;
        };
        energy = lower;
        tension.work.count(stiffness.size());
        stiffness.solve(&next.gradient, &mut moved);
        memory.remember([&chains.points, &next.places], [&gradient, &next.gradient], [&moves, &moved]);
        tension.reach();
        chains.points.copy_from_slice(&next.places);
        gradient.copy_from_slice(&next.gradient);
        std::mem::swap(&mut moves, &mut moved);
        if tension.moved(&chains.points) > MARGIN / 2.0 {
            tension.find_contacts(chains);
            energy = tension.energy(chains, &chains.points, &mut gradient);
            stiffness.solve(&gradient, &mut moves);
        }
    }
    Descent { steps, residual: largest(&gradient) }
}
