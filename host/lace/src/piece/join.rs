//! Joins the pairs: within an area as its ground says, from one area to the next in
//! their order along the boundary, and down the edges to the next edge pin.

use indexmap::IndexMap;

use super::fill::Filled;
use super::finding::{PieceCode, PieceFinding};
use super::patch;
use super::plan::{Change, Footside, Plan};
use super::region::{Outline, SAME, Tip};
use super::{EdgeKind, EdgePart, Ending, LegFrom, LegTo, PairName, PieceLeg, PiecePair, PieceStitch};
use crate::lattice::point::{Point, point};
use crate::repeat::{End, Side};
use crate::stitch::Stitch;

/// Stitches, pairs and legs of a piece, in no order.
pub(crate) struct Joined {
    pub stitches: Vec<PieceStitch>,
    pub pairs: Vec<PiecePair>,
    pub legs: Vec<PieceLeg>,
}

/// A side of a stitch whose pair comes from another area or goes to one.
#[derive(Clone, Copy)]
struct Loose {
    end: End,
    /// Half way to where the pair would go, or come from, in its own ground.
    on: Point,
    twists: u32,
}

/// What lies beyond a boundary.
#[derive(Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
enum Beyond {
    Area(usize),
    Outside,
}

struct Joiner<'a, 'b> {
    plan: &'b Plan<'a>,
    areas: Vec<Filled>,
    joined: Joined,
}

/// Joins the pairs of all areas. `None` when a finding makes that impossible.
pub(crate) fn join(plan: &Plan, areas: Vec<Filled>, findings: &mut Vec<PieceFinding>) -> Option<Joined> {
    let of_area = |area: &Filled| {
        let worked = |(at, stitch): &(Point, Stitch)| PieceStitch {
            at: *at,
            stitch: stitch.clone(),
            area: area.area,
            edge: None,
        };
        area.patch.stitches.iter().map(worked).collect::<Vec<_>>()
    };
    let stitches = areas.iter().flat_map(of_area).collect();
    let joined = Joined { stitches, pairs: Vec::new(), legs: Vec::new() };
    let mut joiner = Joiner { plan, areas, joined };
    let before = findings.len();
    joiner.join_areas(findings);
    if findings.len() > before {
        return None;
    }
    joiner.change_stitches(findings);
    Some(joiner.joined)
}

impl Joiner<'_, '_> {
    fn join_areas(&mut self, findings: &mut Vec<PieceFinding>) {
        let mut leaving: IndexMap<(usize, Beyond), Vec<Loose>> = IndexMap::new();
        let mut coming: IndexMap<(Beyond, usize), Vec<Loose>> = IndexMap::new();
        let mut first = 0;
        for (a, area) in self.areas.iter().enumerate() {
            let own = |end: End| End::new(first + end.stitch, end.side);
            self.joined.legs.extend(area.patch.legs.iter().map(|&(from, to, twists)| PieceLeg {
                from: LegFrom::Stitch(own(from)),
                to: LegTo::Stitch(own(to)),
                twists,
            }));
            let loose = |beyond: &patch::Beyond| {
                let (at, _) = area.patch.stitches[beyond.end.stitch];
                Loose { end: own(beyond.end), on: (at + beyond.far) * 0.5, twists: beyond.twists }
            };
            for beyond in &area.patch.leaving {
                let loose = loose(beyond);
                leaving.entry((a, self.beyond(a, beyond.far, loose.on))).or_default().push(loose);
            }
            for beyond in &area.patch.coming {
                let loose = loose(beyond);
                coming.entry((self.beyond(a, beyond.far, loose.on), a)).or_default().push(loose);
            }
            first += area.patch.stitches.len();
        }
        let mut outside: Vec<(Loose, bool)> = Vec::new();
        let mut boundaries: Vec<(usize, usize)> = Vec::new();
        for (&(from, to), loose) in &leaving {
            match to {
                Beyond::Outside => outside.extend(loose.iter().map(|&loose| (loose, false))),
                Beyond::Area(to) => boundaries.push((from, to)),
            }
        }
        for (&(from, to), loose) in &coming {
            match from {
                Beyond::Outside => outside.extend(loose.iter().map(|&loose| (loose, true))),
                Beyond::Area(from) => boundaries.push((from, to)),
            }
        }
        boundaries.sort_unstable();
        boundaries.dedup();
        for (from, to) in boundaries {
            let out = leaving.swap_remove(&(from, Beyond::Area(to))).unwrap_or_default();
            let into = coming.swap_remove(&(Beyond::Area(from), to)).unwrap_or_default();
            self.join_boundary([from, to], out, into, findings);
        }
        self.join_edges(outside);
    }

    /// What lies where a pair of an area would go, or come from.
    fn beyond(&self, own: usize, far: Point, on: Point) -> Beyond {
        let set_in = |p: Point| {
            let mut others = self.areas.iter().enumerate().filter(|&(k, _)| k != own);
            others.find(|(_, other)| other.set.as_ref().is_some_and(|set| set.holds(p))).map(|(k, _)| k)
        };
        match set_in(far).or_else(|| set_in(on)) {
            Some(other) => Beyond::Area(other),
            None if own != 0 && self.plan.outline.holds(far) => Beyond::Area(0),
            None => Beyond::Outside,
        }
    }

    fn name(&self, area: usize) -> &str {
        self.areas[area].area.map_or("the ground", |k| self.plan.areas[k].name.as_str())
    }

    /// Joins the pairs that go from one area to another, from left to right.
    fn join_boundary(
        &mut self,
        [from, to]: [usize; 2],
        mut out: Vec<Loose>,
        mut into: Vec<Loose>,
        findings: &mut Vec<PieceFinding>,
    ) {
        let along = |p: Point| match (&self.areas[to].set, &self.areas[from].set) {
            (Some(set), _) => set.coming_in(p),
            (None, Some(set)) => set.going_out(p),
            (None, None) => p.x,
        };
        for ends in [&mut out, &mut into] {
            ends.sort_by(|a, b| {
                let round = |p: Point| ((along(p) / SAME).round(), p.x);
                let ((a, x), (b, z)) = (round(a.on), round(b.on));
                a.total_cmp(&b).then(x.total_cmp(&z))
            });
        }
        if out.len() != into.len() {
            let odd = if out.len() > into.len() { out[into.len()] } else { into[out.len()] };
            findings.push(
                PieceFinding::new(
                    PieceCode::PairsDoNotMatch,
                    format!(
                        "{} {} from {} to {}, where {} {} wanted",
                        out.len(),
                        if out.len() == 1 { "pair comes" } else { "pairs come" },
                        self.name(from),
                        self.name(to),
                        into.len(),
                        if into.len() == 1 { "is" } else { "are" },
                    ),
                    "move the area by one pin, make it one unit larger or smaller, or anchor it at another stitch",
                )
                .at(odd.on)
                .of([self.areas[from].area, self.areas[to].area]),
            );
            return;
        }
        for (from, to) in out.into_iter().zip(into) {
            self.lead(from.end, to.end, from.twists.max(to.twists));
        }
    }

    fn lead(&mut self, from: End, to: End, twists: u32) {
        self.joined.legs.push(PieceLeg { from: LegFrom::Stitch(from), to: LegTo::Stitch(to), twists });
    }

    /// Leads pairs down the edges: a pair that leaves the piece at a side comes back by the
    /// next entry there, or ends; where none has come, one is hung.
    fn join_edges(&mut self, outside: Vec<(Loose, bool)>) {
        let outline = self.plan.outline;
        for side in Side::BOTH {
            let mut events: Vec<(Loose, bool)> = outside
                .iter()
                .copied()
                .filter(|(loose, _)| {
                    let right = loose.on.x - outline.middle();
                    (if right.abs() < SAME {
                        loose.end.side
                    } else if right > 0.0 {
                        Side::Right
                    } else {
                        Side::Left
                    }) == side
                })
                .collect();
            // Along the edge from the top. Side by side, the innermost comes in first and
            // the outermost goes out first, so that no pairs cross on their way; once the
            // piece grows no wider, what goes out can come in again in the same row.
            events.sort_by(|(a, a_comes), (b, b_comes)| {
                let whole = |far: f64| (far / SAME).round() as i64;
                let out = |loose: &Loose| whole((loose.on.x - outline.middle()).abs());
                let widens = a.on.y < outline.widest() - SAME;
                let inward =
                    |loose: &Loose| if side == Side::Left { loose.end.side.other() } else { loose.end.side };
                let by_place = out(a).cmp(&out(b)).then(inward(a).cmp(&inward(b)));
                let by_kind = if widens { b_comes.cmp(a_comes) } else { a_comes.cmp(b_comes) };
                whole(a.on.y).cmp(&whole(b.on.y)).then(by_kind).then(if *a_comes {
                    by_place
                } else {
                    by_place.reverse()
                })
            });
            let mut waiting: Vec<Loose> = Vec::new();
            let mut foot =
                self.plan.edge.footside.as_ref().map(|footside| Foot::new(footside, side, &outline));
            for (loose, comes) in events {
                let part = EdgePart { side, kind: EdgeKind::Ground };
                self.joined.stitches[loose.end.stitch].edge.get_or_insert(part);
                if !comes {
                    waiting.push(loose);
                } else if let Some(from) = waiting.pop() {
                    let twists = from.twists.max(loose.twists);
                    let straight = [from.on.y, loose.on.y]
                        .iter()
                        .all(|&y| y > outline.widest() - SAME && y < outline.sides_end() + SAME);
                    // A pair outside which another waits cannot come to the footside.
                    match foot.as_mut().filter(|_| straight && waiting.is_empty()) {
                        Some(foot) => foot.work(&mut self.joined, from, loose, twists),
                        None => self.lead(from.end, loose.end, twists),
                    }
                } else {
                    self.hang(loose, side);
                }
            }
            let ending = self.ending();
            if let Some(foot) = foot {
                foot.end(&mut self.joined, ending);
            }
            for loose in waiting {
                let from = LegFrom::Stitch(loose.end);
                self.joined.legs.push(PieceLeg { from, to: LegTo::Ends(ending), twists: 0 });
            }
        }
        self.name_pairs();
    }

    fn ending(&self) -> Ending {
        match self.plan.outline.finish {
            Tip::Pointed => Ending::LaidAside,
            Tip::Straight => Ending::HangsOn,
        }
    }

    fn hang(&mut self, loose: Loose, side: Side) {
        let at = self.joined.stitches[loose.end.stitch].at;
        let straight = self.plan.outline.start == Tip::Straight && loose.on.y < SAME;
        let first = self.plan.outline.start == Tip::Pointed && at.length() < SAME;
        let name = match (first, straight) {
            (true, _) => PairName::Start(side),
            (_, true) => PairName::Top(0),
            _ => PairName::Side(side, 0),
        };
        let leg = PieceLeg {
            from: LegFrom::Pair(self.joined.pairs.len()),
            to: LegTo::Stitch(loose.end),
            twists: 0,
        };
        self.joined.pairs.push(PiecePair { name, at });
        self.joined.legs.push(leg);
    }

    /// Numbers the pairs along the top from the left, those at the sides from the top.
    fn name_pairs(&mut self) {
        let mut order: Vec<usize> = (0..self.joined.pairs.len()).collect();
        let first = |leg: &&PieceLeg, pair: usize| leg.from == LegFrom::Pair(pair);
        let entry = |pair: usize| match self.joined.legs.iter().find(|leg| first(leg, pair)).map(|leg| leg.to)
        {
            Some(LegTo::Stitch(end)) => end.side,
            _ => Side::Left,
        };
        let entries: Vec<Side> = order.iter().map(|&pair| entry(pair)).collect();
        let pairs = &self.joined.pairs;
        order.sort_by(|&a, &b| {
            let (p, q) = (pairs[a].at, pairs[b].at);
            let top = |pair: usize| matches!(pairs[pair].name, PairName::Top(_));
            let across = p.x.total_cmp(&q.x);
            let down = p.y.total_cmp(&q.y);
            let along = if top(a) { across.then(down) } else { down.then(across) };
            top(b).cmp(&top(a)).then(along).then(entries[a].cmp(&entries[b]))
        });
        let mut next: IndexMap<PairName, usize> = IndexMap::new();
        for pair in order {
            let name = &mut self.joined.pairs[pair].name;
            if let PairName::Top(_) | PairName::Side(..) = name {
                let count = next.entry(*name).or_insert(0);
                *count += 1;
                *name = match *name {
                    PairName::Side(side, _) => PairName::Side(side, *count),
                    _ => PairName::Top(*count),
                };
            }
        }
    }

    /// Works other stitches at the edges and wherever the plan wants them.
    fn change_stitches(&mut self, findings: &mut Vec<PieceFinding>) {
        let Plan { outline, edge, first, changes, .. } = self.plan;
        for placed in &mut self.joined.stitches {
            let at_edge = placed.edge.is_some_and(|part| part.kind == EdgeKind::Ground);
            if at_edge && placed.area.is_none() && placed.stitch.pin().is_some() {
                let start = outline.start == Tip::Pointed && placed.at.length() < SAME;
                let wanted = first.as_ref().filter(|_| start).or(edge.stitch.as_ref());
                placed.stitch = wanted.unwrap_or(&placed.stitch).clone();
            }
        }
        for (k, change) in changes.iter().enumerate() {
            let mut found = false;
            for placed in self.joined.stitches.iter_mut().filter(|placed| picks(change, placed)) {
                placed.stitch = change.stitch.clone();
                found = true;
            }
            if !found {
                let at = change.at.map_or(String::new(), |p| format!(" at {}, {}", p.x, p.y));
                let mut finding = PieceFinding::new(
                    PieceCode::NoStitchThere,
                    format!("no stitch{at} is meant by this change"),
                    "look at the numbers in the drawing: places are counted from the first pin, to the right and down",
                );
                finding.at = change.at;
                finding.change = Some(k);
                findings.push(finding);
            }
        }
    }
}

/// Whether a change means a stitch.
fn picks(change: &Change, placed: &PieceStitch) -> bool {
    change.at.is_none_or(|at| (at - placed.at).length() < 0.25)
        && change.from.is_none_or(|from| placed.at.y >= from - SAME)
        && change.to.is_none_or(|to| placed.at.y <= to + SAME)
        && change.area.is_none_or(|area| area == placed.area)
        && (change.edges.is_empty()
            || placed
                .edge
                .is_some_and(|part| part.kind == EdgeKind::Ground && change.edges.contains(&part.side)))
        && change.worked.as_ref().is_none_or(|worked| *worked == placed.stitch)
}

/// Grid steps from the edge pin of the ground to the first passive pair, from one passive
/// pair to the next, and from the last to the edge pair.
const FIRST: f64 = 0.8;
const PASSIVES: f64 = 0.6;
const EDGE: f64 = 0.9;
/// How far below a stitch of the ground, in grid steps, its pair turns to the footside.
const OUT: f64 = 0.2;

/// A footside while it is worked.
struct Foot<'a> {
    footside: &'a Footside,
    side: Side,
    /// Where the edge pair, then the passive pairs from the outside, wait; `None` before
    /// they are hung.
    waiting: Vec<Option<End>>,
    /// The straight side that it runs along.
    edge_x: f64,
    /// The row down to which it is worked: of several pairs that wait, the last is worked
    /// first, and the others below it.
    down_to: f64,
}

impl<'a> Foot<'a> {
    fn new(footside: &'a Footside, side: Side, outline: &Outline) -> Foot<'a> {
        let outwards = if side == Side::Left { -1.0 } else { 1.0 };
        let edge_x = outline.middle() + outwards * outline.half();
        Foot {
            footside,
            side,
            waiting: vec![None; footside.passives + 1],
            edge_x,
            down_to: f64::NEG_INFINITY,
        }
    }

    /// Leads a pair through the passive pairs, works the edge stitch, and leads the inner
    /// of the two pairs back.
    fn work(&mut self, joined: &mut Joined, from: Loose, to: Loose, twists: u32) {
        let inner = self.side.other();
        let outwards = if self.side == Side::Left { -1.0 } else { 1.0 };
        let passives = self.footside.passives;
        let top = (joined.stitches[from.end.stitch].at.y + OUT).max(self.down_to);
        let bottom = joined.stitches[to.end.stitch].at.y - OUT;
        self.down_to = bottom;
        let edge_x = self.edge_x;
        let place = |k: usize, back: bool| {
            let out = FIRST + PASSIVES * (k - 1) as f64 + if k > passives { EDGE - PASSIVES } else { 0.0 };
            let share = 0.5 * k as f64 / (passives + 1) as f64;
            let down = if back { 1.0 - share } else { share };
            point(edge_x + outwards * out, top + (bottom - top) * down)
        };
        let mut worker = from.end;
        // Outwards through the passive pairs, the edge stitch, and back.
        let way = (1..=passives + 1).map(|k| (k, false)).chain((1..=passives).rev().map(|k| (k, true)));
        for (k, back) in way {
            let is_edge = k == passives + 1;
            let (stitch, kind): (&Stitch, EdgeKind) = if is_edge {
                (&self.footside.edge, EdgeKind::Footside)
            } else {
                (&self.footside.passing, EdgeKind::Passive)
            };
            let number = joined.stitches.len();
            let at = place(k, back);
            joined.stitches.push(PieceStitch {
                at,
                stitch: stitch.clone(),
                area: None,
                edge: Some(EdgePart { side: self.side, kind }),
            });
            // The worker comes from the inside on its way out, from the outside on its
            // way back; a cloth stitch exchanges the two.
            let comes = if back { self.side } else { inner };
            let own_twists = if worker == from.end { twists } else { 0 };
            let entry = End::new(number, comes);
            joined.legs.push(PieceLeg {
                from: LegFrom::Stitch(worker),
                to: LegTo::Stitch(entry),
                twists: own_twists,
            });
            let pair = &mut self.waiting[passives + 1 - k];
            let other = End::new(number, comes.other());
            let leg_from = match *pair {
                Some(end) => LegFrom::Stitch(end),
                None => {
                    let name =
                        if is_edge { PairName::Edge(self.side) } else { PairName::Passive(self.side, k) };
                    joined.pairs.push(PiecePair { name, at });
                    LegFrom::Pair(joined.pairs.len() - 1)
                }
            };
            joined.legs.push(PieceLeg { from: leg_from, to: LegTo::Stitch(other), twists: 0 });
            // The passive pair stays on its side of the worker's way, the edge pair outside.
            let (on, stays) = if is_edge || back { (inner, self.side) } else { (self.side, inner) };
            worker = End::new(number, on);
            *pair = Some(End::new(number, stays));
        }
        joined.legs.push(PieceLeg { from: LegFrom::Stitch(worker), to: LegTo::Stitch(to.end), twists });
    }

    fn end(self, joined: &mut Joined, ending: Ending) {
        for end in self.waiting.into_iter().flatten() {
            joined.legs.push(PieceLeg { from: LegFrom::Stitch(end), to: LegTo::Ends(ending), twists: 0 });
        }
    }
}
