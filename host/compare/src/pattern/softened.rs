//! One repeat of a ground as the eye takes it in: at each place of a fine raster,
//! which threads are seen there, softened over a little of the lace around it.
//!
//! Made once for each layout. An arrangement only puts colours in.

use lace::{AffinePermutation, BraidSegment, Ground, Point, UprightCell};
use picture::layout::Layout;

/// Places of the raster to a grid step down the lace.
const PLACES_TO_STEP: f64 = 4.0;
/// Most places in a repeat; a larger one has a coarser raster.
const MOST_PLACES: f64 = 32_768.0;
/// How far the eye blends neighbouring threads: the standard deviation of a
/// normal distribution, in grid steps.
const BLEND: f64 = 0.4;
/// How far it looks, in standard deviations, and in places at most.
const REACH: f64 = 3.0;
const FARTHEST: i64 = 6;
/// Units of [`SeenThread::ink`] for one thread that lies along a place.
const UNITS: f64 = 100.0;
/// Length of the pieces into which threads are cut, in places.
const PIECE: f64 = 0.35;

/// A thread seen at a place: its slot at the top, and how much of it is seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SeenThread {
    /// The slot, counted from the first of the repeat.
    pub slot: i64,
    /// How much of it is seen there: its length to the area, both in places, in
    /// hundredths.
    pub ink: u8,
}

/// One repeat, softened.
#[derive(Clone, Debug)]
pub struct SoftenedRepeat {
    /// Places across a repeat and down a row of repeats.
    pub size: [usize; 2],
    /// Width and height of a place, in grid steps down the lace.
    pub place: [f64; 2],
    /// How far each row of repeats lies to the right of the row above, in places.
    pub shift: f64,
    /// Where the thread in each slot at the top of a row of repeats was at the top
    /// of the row above.
    pub row: AffinePermutation,
    /// Threads of each place, row by row.
    pub places: Vec<Vec<SeenThread>>,
}

/// Weights of threads at one place while it is being softened.
type Weights = Vec<(i64, f64)>;

fn add(weights: &mut Weights, slot: i64, weight: f64) {
    match weights.iter_mut().find(|(other, _)| *other == slot) {
        Some((_, sum)) => *sum += weight,
        None => weights.push((slot, weight)),
    }
}

impl SoftenedRepeat {
    /// Softens one repeat of a laid-out ground.
    pub fn new(ground: &Ground, layout: &Layout) -> SoftenedRepeat {
        let upright = ground.upright();
        let grid = &layout.grid;
        let [width, height] = [upright.width() * grid.step_x_mm(), upright.row_height() * grid.step_y_mm()];
        let fine = grid.step_y_mm() / PLACES_TO_STEP;
        let place = fine.max((width * height / MOST_PLACES).sqrt());
        let size = [width, height].map(|mm| (mm / place).round().max(1.0) as usize);
        let mut softened = SoftenedRepeat {
            size,
            place: [width / size[0] as f64, height / size[1] as f64].map(|mm| mm / grid.step_y_mm()),
            shift: upright.step_down().x / upright.width() * size[0] as f64,
            row: ground.hanging().row_inverse().clone(),
            places: Vec::new(),
        };
        let sharp = softened.sharp(ground, layout, [width, height]);
        let blend = BLEND * grid.step_y_mm();
        let blend = [blend * size[0] as f64 / width, blend * size[1] as f64 / height];
        // The weights of the distribution sum to this.
        let all = 2.0 * std::f64::consts::PI * blend[0] * blend[1];
        let unit = UNITS / all * size[1] as f64 / height;
        softened.places = softened.soften(&sharp, blend).iter().map(|weights| inks(weights, unit)).collect();
        softened
    }

    /// How far a row of repeats lies to the right of row 0, in whole places.
    pub fn offset(&self, row: i64) -> i64 {
        (row as f64 * self.shift + 0.5).floor() as i64
    }

    /// Slots of one repeat.
    pub fn slots(&self) -> usize {
        self.row.period()
    }

    /// The places one after another: how many threads are seen there, then the slot
    /// of each (zigzag) and its ink, a byte. Numbers are LEB128.
    pub fn packed(&self) -> Vec<u8> {
        let mut bytes = Vec::new();
        let number = |mut value: u64, bytes: &mut Vec<u8>| {
            while value > 127 {
                bytes.push(value as u8 | 128);
                value >>= 7;
            }
            bytes.push(value as u8);
        };
        for place in &self.places {
            number(place.len() as u64, &mut bytes);
            for thread in place {
                number(((thread.slot << 1) ^ (thread.slot >> 63)) as u64, &mut bytes);
                bytes.push(thread.ink);
            }
        }
        bytes
    }

    /// The slot, at the top, of a thread in the cell of upright column and row 0
    /// whose copy is seen in another cell.
    fn slot_in(&self, mut slot: i64, column: i64, row: i64, up: &AffinePermutation) -> i64 {
        for _ in 0..row.abs() {
            slot = if row > 0 { self.row.apply(slot) } else { up.apply(slot) };
        }
        slot + column * self.slots() as i64
    }

    /// The length of each visible thread at each place, where its middle lies.
    fn sharp(&self, ground: &Ground, layout: &Layout, mm: [f64; 2]) -> Vec<Weights> {
        let [across, down] = self.size.map(|n| n as i64);
        let up = self.row.inverse();
        let to_places = |p: Point| [p.x / mm[0] * across as f64, p.y / mm[1] * down as f64];
        let mut sharp: Vec<Weights> = vec![Vec::new(); self.size[0] * self.size[1]];
        // No finer where rows of repeats are very low.
        let least = layout.grid.step_y_mm() / PLACES_TO_STEP / 4.0;
        let piece = PIECE * (mm[1] / down as f64).max(least);
        for (out, (BraidSegment { entry, .. }, line)) in
            ground.braid().segments.iter().zip(&layout.lines).enumerate()
        {
            let origin = ground.hanging().origin(*entry, UprightCell::ORIGIN);
            let hidden =
                hidden_ends(ground, out).map(|hidden| if hidden { layout.thread_mm / 2.0 } else { 0.0 });
            for (at, length) in pieces(line, hidden, piece) {
                let [x, y] = to_places(at);
                let row = (y / down as f64).floor() as i64;
                let x = x.floor() as i64 - self.offset(row);
                let column = x.div_euclid(across);
                let (x, y) = (x.rem_euclid(across), (y.floor() as i64).rem_euclid(down));
                let slot = self.slot_in(origin, -column, -row, &up);
                add(&mut sharp[(y * across + x) as usize], slot, length);
            }
        }
        sharp
    }

    /// Every place with what lies around it, weighted by a normal distribution.
    fn soften(&self, sharp: &[Weights], blend: [f64; 2]) -> Vec<Weights> {
        let [across, down] = self.size.map(|n| n as i64);
        let up = self.row.inverse();
        let far = blend.map(|b| ((REACH * b).ceil() as i64).min(FARTHEST));
        let weight = |d: i64, blend: f64| {
            let d = d as f64 / blend;
            libm::exp(-d * d / 2.0)
        };
        let mut soft: Vec<Weights> = vec![Vec::new(); sharp.len()];
        for dy in -far[1]..=far[1] {
            for y in 0..down {
                let row = (y + dy).div_euclid(down);
                let there = (y + dy).rem_euclid(down);
                for dx in -far[0]..=far[0] {
                    let weight = weight(dx, blend[0]) * weight(dy, blend[1]);
                    for x in 0..across {
                        let beside = x + dx - self.offset(row);
                        let column = beside.div_euclid(across);
                        let from = (there * across + beside.rem_euclid(across)) as usize;
                        for &(slot, length) in &sharp[from] {
                            let slot = self.slot_in(slot, column, row, &up);
                            add(&mut soft[(y * across + x) as usize], slot, length * weight);
                        }
                    }
                }
            }
        }
        soft
    }
}

/// Whether a segment of thread passes under at the crossing it leaves, and at the
/// one it arrives at.
fn hidden_ends(ground: &Ground, out: usize) -> [bool; 2] {
    let braid = ground.braid();
    // The thread that comes from the left leaves to the right.
    let under = |out: usize| (out % 2 == 1) != braid.nodes[out / 2].left_over;
    [under(out), under(braid.map.arrival(out) ^ 1)]
}

/// The middle and the length of the pieces of a line, without its hidden ends.
fn pieces(line: &[Point], hidden: [f64; 2], piece: f64) -> Vec<(Point, f64)> {
    let whole: f64 = line.windows(2).map(|w| (w[1] - w[0]).length()).sum();
    let mut pieces = Vec::new();
    let mut along = 0.0;
    for w in line.windows(2) {
        let length = (w[1] - w[0]).length();
        let count = (length / piece).ceil().max(1.0);
        for k in 0..count as usize {
            let share = (k as f64 + 0.5) / count;
            let here = along + share * length;
            if here >= hidden[0] && here <= whole - hidden[1] {
                pieces.push((w[0] + (w[1] - w[0]) * share, length / count));
            }
        }
        along += length;
    }
    pieces
}

/// Weights in whole units, in the order of their slots.
fn inks(weights: &Weights, unit: f64) -> Vec<SeenThread> {
    let ink = |weight: f64| (weight * unit + 0.5).floor().min(255.0) as u8;
    let mut seen: Vec<SeenThread> =
        weights.iter().map(|&(slot, weight)| SeenThread { slot, ink: ink(weight) }).collect();
    seen.retain(|thread| thread.ink > 0);
    seen.sort_by_key(|thread| thread.slot);
    seen
}
