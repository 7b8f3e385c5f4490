//! The check of a repeat: all findings at once, errors and warnings.
//!
//! Each question is asked only when the ones it rests on are answered: the
//! faces of a wiring with loose ends mean nothing.

pub mod findings;

use indexmap::IndexMap;

use crate::check::findings::{Code, Finding, Place};
use crate::repeat::map::{LaceMap, Walk, is_directed};
use crate::repeat::upright::UprightLattice;
use crate::repeat::{End, Leg, Point, Repeat, point};
use crate::threads::braid::Braid;
use crate::threads::cohesion::layers;
use crate::threads::orbits::plain_number;
use crate::words::quote::quote;

/// Most stitches in a repeat.
pub const MAX_STITCHES: usize = 2000;
/// Most extra twists on a leg.
pub const MAX_TWISTS: u32 = 64;
/// Farthest cell a leg may lead to.
pub const MAX_CELL: i32 = 1000;
/// Farthest coordinate, in grid steps.
pub const MAX_PLACE: f64 = 10_000.0;
/// Most pairs that hang across one upright repeat.
pub const MAX_PAIRS: i64 = 4000;
/// Least area for a stitch, square grid steps, and least height of a row of
/// repeats, grid steps: below, any picture would hold too many of them.
const LEAST: f64 = 0.01;
/// Legs this many times longer than the shortest are lopsided (common
/// practice, no source: a feel for evenness).
const LOPSIDED: f64 = 6.0;

/// What the check has established about a repeat without errors.
pub(crate) struct Sound {
    pub map: LaceMap,
    pub leg_of_exit: Vec<usize>,
    pub leg_of_entry: Vec<usize>,
    pub upright: UprightLattice,
    pub braid: Braid,
}

/// All findings on a repeat, errors first, in a stable order.
pub fn check(repeat: &Repeat) -> Vec<Finding> {
    examine(repeat).0
}

/// The findings and, if there is no error among them, what was established.
pub(crate) fn examine(repeat: &Repeat) -> (Vec<Finding>, Option<Sound>) {
    let mut found = Findings { repeat, list: Vec::new() };
    let sound = found.examine();
    let mut list = found.list;
    list.sort_by_key(|f| !f.is_error());
    let sound = sound.filter(|_| !list.iter().any(Finding::is_error));
    (list, sound)
}

/// Whether a text is a plain word: `a-z 0-9 -`, 1 to 40 characters, a letter
/// or digit first.
pub fn is_plain_word(text: &str) -> bool {
    let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit();
    (1..=40).contains(&text.len()) && text.starts_with(plain) && text.chars().all(|c| plain(c) || c == '-')
}

struct Findings<'a> {
    repeat: &'a Repeat,
    list: Vec<Finding>,
}

impl Findings<'_> {
    fn say(&mut self, code: Code, place: Place, sentence: impl Into<String>) {
        self.list.push(Finding { code, place, sentence: sentence.into() });
    }

    /// The name of a stitch, fit to be shown even if it is no plain word.
    fn id(&self, stitch: usize) -> String {
        quote(&self.repeat.stitches[stitch].id)
    }

    fn ids(&self, stitches: impl IntoIterator<Item = usize>) -> Vec<String> {
        let mut ids: Vec<String> = Vec::new();
        for s in stitches {
            let id = self.id(s);
            if !ids.contains(&id) {
                ids.push(id);
            }
        }
        ids
    }

    fn leg_place(&self, leg: &Leg) -> Place {
        Place::Leg { from: self.id(leg.from.stitch), side: leg.from.side }
    }

    fn examine(&mut self) -> Option<Sound> {
        let r = self.repeat;
        if r.stitches.is_empty() {
            self.say(Code::NoStitches, Place::Repeat, "the repeat has no stitches");
            return None;
        }
        if !self.sizes() {
            return None;
        }
        self.names();
        let lattice_good = self.numbers();
        let wired = self.wiring();
        self.works();
        let upright = if lattice_good { self.lattice() } else { None };
        let (map, leg_of_exit, leg_of_entry) = wired?;
        let pieces = map.pieces();
        if pieces.len() > 1 {
            let smallest = pieces.iter().min_by_key(|p| p.len()).expect("several pieces");
            self.say(
                Code::SeveralPieces,
                Place::Stitches(self.ids(smallest.iter().copied())),
                format!("the stitches fall into {} pieces that no pair connects", pieces.len()),
            );
            return None;
        }
        let faces = map.faces();
        let planar = self.faces(&map, &faces, &leg_of_exit);
        let ordered = self.order(&faces, &leg_of_exit);
        let upright = upright?;
        if !planar || !ordered {
            return None;
        }
        self.downward(&upright, &map, &leg_of_exit);
        let pairs: i64 = r.legs.iter().map(|leg| upright.from_cell(leg.cell.map(i64::from))[1]).sum();
        if pairs > MAX_PAIRS {
            self.say(
                Code::TooLarge,
                Place::Repeat,
                format!("{pairs} pairs hang across one upright repeat; {MAX_PAIRS} are the most"),
            );
            return None;
        }
        let braid = Braid::new(r, &leg_of_exit);
        self.hangs_together(&braid);
        self.drawn(&faces, &leg_of_exit);
        Some(Sound { map, leg_of_exit, leg_of_entry, upright, braid })
    }

    fn sizes(&mut self) -> bool {
        let r = self.repeat;
        let before = self.list.len();
        if r.stitches.len() > MAX_STITCHES {
            let n = r.stitches.len();
            self.say(
                Code::TooLarge,
                Place::Repeat,
                format!("the repeat has {n} stitches; {MAX_STITCHES} are the most"),
            );
        }
        if r.legs.len() > 2 * MAX_STITCHES {
            let n = r.legs.len();
            self.say(
                Code::TooLarge,
                Place::Repeat,
                format!("the repeat has {n} legs; {} are the most", 2 * MAX_STITCHES),
            );
        }
        for leg in &r.legs {
            let known = |e: End| e.stitch < r.stitches.len();
            if !known(leg.from) || !known(leg.to) {
                let number = if known(leg.from) { leg.to.stitch } else { leg.from.stitch };
                self.say(
                    Code::LooseEnd,
                    Place::Repeat,
                    format!(
                        "a leg names stitch number {number}, counted from 0; there are {}",
                        r.stitches.len()
                    ),
                );
                continue;
            }
            if leg.twists > MAX_TWISTS {
                let place = self.leg_place(leg);
                self.say(
                    Code::TooLarge,
                    place,
                    format!("{} twists on one leg; {MAX_TWISTS} are the most", leg.twists),
                );
            }
            if leg.cell.iter().any(|c| !(-MAX_CELL..=MAX_CELL).contains(c)) {
                let place = self.leg_place(leg);
                self.say(
                    Code::TooLarge,
                    place,
                    format!(
                        "a leg leads to the cell [{}, {}]; {MAX_CELL} either way is the farthest",
                        leg.cell[0], leg.cell[1]
                    ),
                );
            }
        }
        self.list.len() == before
    }

    fn names(&mut self) {
        let mut seen: IndexMap<&str, usize> = IndexMap::new();
        for stitch in &self.repeat.stitches {
            *seen.entry(stitch.id.as_str()).or_default() += 1;
            if !is_plain_word(&stitch.id) {
                self.list.push(Finding {
                    code: Code::BadName,
                    place: Place::Repeat,
                    sentence: if stitch.id.is_empty() {
                        "a stitch has no name".to_owned()
                    } else {
                        format!("`{}` is not a plain word", quote(&stitch.id))
                    },
                });
            }
        }
        for (id, times) in seen {
            if times > 1 {
                self.say(
                    Code::BadName,
                    Place::Stitches(vec![quote(id)]),
                    format!("{times} stitches are called `{}`", quote(id)),
                );
            }
        }
    }

    fn numbers(&mut self) -> bool {
        let r = self.repeat;
        let before = self.list.len();
        let good = |p: Point| p.x.abs() <= MAX_PLACE && p.y.abs() <= MAX_PLACE;
        for (name, step) in [("across", r.lattice.across), ("down", r.lattice.down)] {
            if !good(step) {
                self.say(
                    Code::BadNumber,
                    Place::Repeat,
                    format!("the step {name} is ({}, {})", step.x, step.y),
                );
            }
        }
        for (s, stitch) in r.stitches.iter().enumerate() {
            if let Some(at) = stitch.at.filter(|&at| !good(at)) {
                let id = self.id(s);
                let sentence = format!("stitch {id} lies at ({}, {})", at.x, at.y);
                self.say(Code::BadNumber, Place::Stitches(vec![id]), sentence);
            }
        }
        let placeless: Vec<usize> = (0..r.stitches.len()).filter(|&s| r.stitches[s].at.is_none()).collect();
        if !placeless.is_empty() && placeless.len() < r.stitches.len() {
            let n = placeless.len();
            self.say(
                Code::PlacesMissing,
                Place::Stitches(self.ids(placeless)),
                format!("{n} of {} stitches have no place", r.stitches.len()),
            );
        }
        self.list.len() == before
    }

    fn lattice(&mut self) -> Option<UprightLattice> {
        let lattice = &self.repeat.lattice;
        let area = lattice.area();
        let size =
            lattice.across.x.abs() + lattice.across.y.abs() + lattice.down.x.abs() + lattice.down.y.abs();
        if area <= 1e-9 * size * size {
            let how = if area < -1e-9 * size * size { "in the wrong order" } else { "in one line" };
            self.say(Code::BadLattice, Place::Repeat, format!("the steps across and down lie {how}"));
            return None;
        }
        let stitches = self.repeat.stitches.len();
        if area < LEAST * stitches as f64 {
            self.say(
                Code::BadLattice,
                Place::Repeat,
                format!(
                    "the repeat covers {area:.4} square grid steps, too few for {}",
                    count(stitches, "stitch", "stitches")
                ),
            );
            return None;
        }
        let Some(upright) = UprightLattice::new(lattice) else {
            self.say(
                Code::NeverLevel,
                Place::Repeat,
                "no whole numbers of steps, up to 64, lead straight across",
            );
            return None;
        };
        if upright.step_down.y < LEAST {
            self.say(
                Code::BadLattice,
                Place::Repeat,
                format!("the next row of repeats lies only {:.4} grid steps below", upright.step_down.y),
            );
            return None;
        }
        Some(upright)
    }

    fn wiring(&mut self) -> Option<(LaceMap, Vec<usize>, Vec<usize>)> {
        let r = self.repeat;
        let before = self.list.len();
        let darts = 2 * r.stitches.len();
        let mut used: [Vec<Vec<usize>>; 2] = [vec![Vec::new(); darts], vec![Vec::new(); darts]];
        for (l, leg) in r.legs.iter().enumerate() {
            used[0][leg.from.dart()].push(l);
            used[1][leg.to.dart()].push(l);
        }
        for dart in 0..darts {
            let end = End::from_dart(dart);
            for (one, many, uses) in [("leaves", "leave", &used[0]), ("comes into", "come into", &used[1])] {
                let (id, side) = (self.id(end.stitch), end.side.word());
                let place = Place::Stitches(vec![id.clone()]);
                match uses[dart].len() {
                    0 => self.say(Code::LooseEnd, place, format!("no pair {one} stitch {id} on the {side}")),
                    1 => {}
                    n => self.say(
                        Code::UsedTwice,
                        place,
                        format!("{n} pairs {many} stitch {id} on the {side}"),
                    ),
                }
            }
        }
        if self.list.len() != before {
            return None;
        }
        let [exits, entries] = used.map(|side| side.into_iter().map(|l| l[0]).collect::<Vec<_>>());
        let arrives = exits.iter().map(|&l| r.legs[l].to.dart()).collect();
        LaceMap::new(arrives).map(|map| (map, exits, entries))
    }

    fn works(&mut self) {
        let r = self.repeat;
        for (s, stitch) in r.stitches.iter().enumerate() {
            if !stitch.stitch.links_pairs() {
                let id = self.id(s);
                let work = quote(&stitch.stitch.to_string());
                let sentence = format!("stitch {id} (`{work}`) passes no thread between its pairs");
                self.say(Code::PairsUnlinked, Place::Stitches(vec![id]), sentence);
            }
        }
        if r.stitches.iter().all(|s| s.stitch.pin().is_none()) {
            self.say(Code::NoPin, Place::Repeat, "no stitch has a pin");
        }
    }

    /// Where the corners of a face lie, in cells, when every stitch is put at
    /// the origin of its cell: whole numbers, so that nothing is rounded.
    fn corners(&self, face: &[Walk], leg_of_exit: &[usize]) -> Vec<[i64; 2]> {
        let mut at = [0i64, 0];
        let mut corners = Vec::with_capacity(face.len() + 1);
        corners.push(at);
        for walk in face {
            let cell = self.repeat.legs[leg_of_exit[walk.edge]].cell;
            let sign = if walk.along { 1 } else { -1 };
            at = [at[0] + sign * i64::from(cell[0]), at[1] + sign * i64::from(cell[1])];
            corners.push(at);
        }
        corners
    }

    fn stitches_of(&self, face: &[Walk], leg_of_exit: &[usize]) -> Vec<String> {
        self.ids(face.iter().map(|w| {
            let leg = self.repeat.legs[leg_of_exit[w.edge]];
            if w.along { leg.from.stitch } else { leg.to.stitch }
        }))
    }

    /// Legs meet only at stitches: V - E + F = 0, every face closes in the
    /// cells it crosses, and all faces together cover the torus exactly once.
    fn faces(&mut self, map: &LaceMap, faces: &[Vec<Walk>], leg_of_exit: &[usize]) -> bool {
        let euler = map.euler_characteristic();
        if euler != 0 {
            let holes = 2 * map.vertices() as i64 - map.edges() as i64;
            debug_assert_eq!(holes, 0);
            let how = if euler > 0 {
                "the legs close up like a bag instead of filling an area".to_owned()
            } else {
                format!(
                    "pairs pass each other without a stitch ({} holes where {} are needed)",
                    faces.len(),
                    map.vertices()
                )
            };
            self.say(Code::LegsMeet, Place::Repeat, how);
            return false;
        }
        let mut open = false;
        let mut doubled_area = 0i64;
        for face in faces {
            let corners = self.corners(face, leg_of_exit);
            if corners.last() != Some(&[0, 0]) {
                let [i, j] = corners[corners.len() - 1];
                let place = Place::Stitches(self.stitches_of(face, leg_of_exit));
                self.say(
                    Code::LegsMeet,
                    place,
                    format!("the legs round one hole do not close, they miss by [{i}, {j}] cells: one of them leads to the wrong cell"),
                );
                open = true;
                continue;
            }
            doubled_area += corners.windows(2).map(|c| c[0][0] * c[1][1] - c[0][1] * c[1][0]).sum::<i64>();
        }
        if open {
            return false;
        }
        match doubled_area {
            2 => true,
            -2 => {
                self.say(
                    Code::Mirrored,
                    Place::Repeat,
                    "going by the cells of the legs, left and right of every stitch are exchanged",
                );
                false
            }
            0 => {
                self.say(
                    Code::LegsMeet,
                    Place::Repeat,
                    "the pairs lead on in one direction only, so the repeat fills no area",
                );
                false
            }
            more => {
                let layers = more.abs() / 2;
                self.say(
                    Code::SeveralPieces,
                    Place::Repeat,
                    format!("set out by this lattice the ground lies {layers} times on top of itself; make the steps across and down longer"),
                );
                false
            }
        }
    }

    fn order(&mut self, faces: &[Vec<Walk>], leg_of_exit: &[usize]) -> bool {
        let mut ordered = true;
        for face in faces.iter().filter(|f| is_directed(f)) {
            let ids = self.stitches_of(face, leg_of_exit);
            let sentence = match &ids[..] {
                [one] => format!("stitch {one} waits for itself"),
                _ => "each of these stitches waits for the one before it, in a circle".to_owned(),
            };
            self.say(Code::NoOrder, Place::Stitches(ids), sentence);
            ordered = false;
        }
        ordered
    }

    /// Every circuit of legs comes lower, and pairs that only touch come
    /// straight down.
    fn downward(&mut self, upright: &UprightLattice, map: &LaceMap, leg_of_exit: &[usize]) {
        let r = self.repeat;
        let rows = |leg: &Leg| upright.from_cell(leg.cell.map(i64::from))[1];
        if let Some(circuit) = circuit_not_down(r, rows) {
            let ids = self.ids(circuit);
            let sentence = match &ids[..] {
                [one] => {
                    format!("a pair can go from one stitch {one} to the next for ever without coming lower")
                }
                _ => "a pair can follow these stitches for ever without coming lower".to_owned(),
            };
            self.say(Code::NotDown, Place::Stitches(ids), sentence);
            return;
        }
        for circuit in map.touching_circuits() {
            let mut cell = [0i64, 0];
            for &edge in &circuit {
                let leg = r.legs[leg_of_exit[edge]].cell;
                cell = [cell[0] + i64::from(leg[0]), cell[1] + i64::from(leg[1])];
            }
            let drift = r.lattice.place(cell);
            if drift.x.abs() > 1e-6 * upright.width {
                let ids = self.ids(circuit.iter().map(|e| e / 2));
                let side = if drift.x > 0.0 { "right" } else { "left" };
                self.say(
                    Code::PairsDrift,
                    Place::Stitches(ids),
                    format!(
                        "pairs that only touch drift {} grid steps to the {side} in {} down",
                        plain_number(drift.x.abs()),
                        plain_number(drift.y)
                    ),
                );
                return;
            }
        }
    }

    fn hangs_together(&mut self, braid: &Braid) {
        let found = layers(self.repeat, braid);
        if found.len() > 1 {
            let top = self.ids(found[0].iter().copied());
            self.say(
                Code::LiftsOff,
                Place::Stitches(top),
                "threads that enter here go under none of the others".to_owned(),
            );
        }
    }

    fn drawn(&mut self, faces: &[Vec<Walk>], leg_of_exit: &[usize]) {
        let r = self.repeat;
        for face in faces.iter().filter(|f| f.len() == 2) {
            let first = face.iter().find(|w| w.along).expect("such a hole has one leg on either side");
            let leg = r.legs[leg_of_exit[first.edge]];
            // Two pins cannot stand in one stitch, and a tally is a thing of its own.
            let works = [leg.from, leg.to].map(|end| &r.stitches[end.stitch].stitch);
            if works.iter().all(|w| w.pin().is_some()) || works.iter().any(|w| w.woven().contains(&true)) {
                continue;
            }
            let [a, b] = [self.id(leg.from.stitch), self.id(leg.to.stitch)];
            let sentence = format!("both pairs go straight on from stitch {a} to stitch {b}");
            self.say(Code::OneLongStitch, Place::Stitches(vec![a, b]), sentence);
        }
        let Some(places) = r.stitches.iter().map(|s| s.at).collect::<Option<Vec<Point>>>() else {
            return;
        };
        let run = |leg: &Leg| {
            places[leg.to.stitch] + r.lattice.place(leg.cell.map(i64::from)) - places[leg.from.stitch]
        };
        let lengths: Vec<f64> = r
            .legs
            .iter()
            .map(|l| {
                let d = run(l);
                (d.x * d.x + d.y * d.y).sqrt()
            })
            .collect();
        let shortest = lengths.iter().copied().fold(f64::INFINITY, f64::min);
        let longest = lengths.iter().copied().fold(0.0, f64::max);
        if longest > LOPSIDED * shortest {
            let l = lengths.iter().position(|&d| d == longest).expect("the longest is among them");
            let place = self.leg_place(&r.legs[l]);
            self.say(
                Code::Lopsided,
                place,
                format!("the longest leg is {longest:.2} grid steps, the shortest {shortest:.2}"),
            );
        }
        for leg in &r.legs {
            if run(leg).y < -1e-9 {
                let place = self.leg_place(leg);
                self.say(
                    Code::RunsUphill,
                    place,
                    format!(
                        "this leg climbs {:.2} grid steps to stitch {}",
                        -run(leg).y,
                        self.id(leg.to.stitch)
                    ),
                );
            }
        }
        for face in faces {
            // A face that is drawn as a simple polygon turns once; the sum of
            // what its corners turn tells. Faces with two corners are flat.
            if face.len() > 2 && !turns_once(&self.polygon(face, &places, leg_of_exit)) {
                let ids = self.stitches_of(face, leg_of_exit);
                self.say(
                    Code::LegsDrawnCrossing,
                    Place::Stitches(ids),
                    "straight lines for the pairs round this hole cross each other",
                );
            }
        }
    }

    fn polygon(&self, face: &[Walk], places: &[Point], leg_of_exit: &[usize]) -> Vec<Point> {
        let r = self.repeat;
        let mut at = point(0.0, 0.0);
        face.iter()
            .map(|w| {
                let leg = r.legs[leg_of_exit[w.edge]];
                let run = places[leg.to.stitch] + r.lattice.place(leg.cell.map(i64::from))
                    - places[leg.from.stitch];
                at = if w.along { at + run } else { at - run };
                at
            })
            .collect()
    }
}

/// A number with the word for what it counts.
fn count(n: usize, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}

/// Whether a polygon is simple and wound clockwise on the pillow.
fn turns_once(corners: &[Point]) -> bool {
    let n = corners.len();
    let cross = |a: Point, b: Point, c: Point| (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
    let area: f64 = (0..n)
        .map(|k| {
            let (a, b) = (corners[k], corners[(k + 1) % n]);
            a.x * b.y - a.y * b.x
        })
        .sum();
    if area <= 1e-9 {
        return false;
    }
    for i in 0..n {
        for j in i + 2..n {
            if i == 0 && j == n - 1 {
                continue;
            }
            let (a, b, c, d) = (corners[i], corners[i + 1], corners[j], corners[(j + 1) % n]);
            let straddle = |p: f64, q: f64| (p > 1e-9 && q < -1e-9) || (p < -1e-9 && q > 1e-9);
            if straddle(cross(a, b, c), cross(a, b, d)) && straddle(cross(c, d, a), cross(c, d, b)) {
                return false;
            }
        }
    }
    true
}

/// A directed circuit of stitches whose rows sum to nothing or less, if any.
///
/// Weighs each leg by its rows, scaled so that a circuit of rows 0 becomes
/// negative, and looks for a negative circuit (Bellman and Ford).
fn circuit_not_down(repeat: &Repeat, rows: impl Fn(&Leg) -> i64) -> Option<Vec<usize>> {
    use petgraph::graph::{DiGraph, NodeIndex};
    let mut graph = DiGraph::<(), f64>::new();
    let n = repeat.stitches.len();
    let nodes: Vec<NodeIndex> = (0..n).map(|_| graph.add_node(())).collect();
    // Whole numbers below 2^53, so that the sums are exact: a circuit of at
    // most n legs and total row 0 weighs between -n and -1.
    let scale = (n + 1) as i64;
    for leg in &repeat.legs {
        graph.add_edge(nodes[leg.from.stitch], nodes[leg.to.stitch], (rows(leg) * scale - 1) as f64);
    }
    // Every stitch reaches every other in a map of equal ins and outs that is
    // one piece, so any start sees all circuits.
    petgraph::algo::find_negative_cycle(&graph, nodes[0])
        .map(|c| c.into_iter().map(NodeIndex::index).collect())
}

/// The first row at which every stitch may be worked: for every leg the later
/// stitch's row is at most the earlier's plus the leg's rows.
pub(crate) fn earliest_rows(repeat: &Repeat, upright: &UprightLattice, wanted: &[i64]) -> Vec<i64> {
    let mut row = wanted.to_vec();
    // Relaxation ends within n rounds because every circuit comes lower.
    for _ in 0..=repeat.stitches.len() {
        let mut changed = false;
        for leg in &repeat.legs {
            let rows = upright.from_cell(leg.cell.map(i64::from))[1];
            let bound = row[leg.from.stitch] + rows;
            if row[leg.to.stitch] > bound {
                row[leg.to.stitch] = bound;
                changed = true;
            }
        }
        if !changed {
            break;
        }
    }
    row
}
