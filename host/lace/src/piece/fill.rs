//! Fills the outline: which stitches of which area are worked, before pairs are joined.
//!
//! An area holds whole units of its ground, each with the stitches that close it; a rose
//! keeps all four of its crossings. The ground of the piece fills what is left.

use super::clothwork::clothwork;
use super::finding::{PieceCode, PieceFinding};
use super::laid::{Copy, Laid};
use super::patch::Patch;
use super::plan::{Filling, Plan, PlanArea, PlanGround, Shape};
use super::region::{Hull, Outline, SAME, Set};
use super::{MAX_PIECE_ROWS, PIECE_WIDTH};
use crate::lattice::cell::UprightCell;
use crate::lattice::point::{Point, point};

/// The ground of the piece, or an area set into it, with the stitches that are worked.
pub(crate) struct Filled {
    /// Its position in the plan; `None` is the ground of the piece.
    pub area: Option<usize>,
    /// Its region; `None` for the ground of the piece.
    pub set: Option<Set>,
    pub patch: Patch,
}

/// Fills a plan. `None` when a finding makes that impossible.
pub(crate) fn fill(plan: &Plan, findings: &mut Vec<PieceFinding>) -> Option<Vec<Filled>> {
    if let Some(finding) = bad_outline(&plan.outline) {
        findings.push(finding);
        return None;
    }
    let before = findings.len();
    let mut areas: Vec<Filled> = Vec::with_capacity(plan.areas.len());
    for (k, area) in plan.areas.iter().enumerate() {
        areas.extend(match &area.filling {
            Filling::Units { ground, shape } => fill_units(k, area, ground, *shape, &plan.outline, findings),
            &Filling::Clothwork { cloth, right, left } => {
                fill_clothwork(k, area, clothwork(cloth, area.at, right, left), &plan.outline, findings)
            }
        });
    }
    for (k, one) in areas.iter().enumerate() {
        for other in &areas[k + 1..] {
            findings.extend(overlap(plan, one, other));
        }
    }
    if findings.len() > before {
        return None;
    }
    let outline = &plan.outline;
    let low = point(outline.middle() - outline.half() - SAME, -SAME);
    let high = point(outline.middle() + outline.half() + SAME, outline.last_row() + SAME);
    let ground = Laid::with(plan.ground.ground, plan.ground.anchor, point(0.0, 0.0));
    let set_in = |p: Point| areas.iter().any(|area| area.set.as_ref().is_some_and(|set| set.holds(p)));
    let free = ground.copies(low, high).into_iter().filter(|&copy| {
        let p = ground.place(copy);
        outline.holds(p) && !set_in(p)
    });
    let patch = Patch::of_copies(&ground, &free.collect::<Vec<_>>());
    areas.insert(0, Filled { area: None, set: None, patch });
    Some(areas)
}

fn bad_outline(outline: &Outline) -> Option<PieceFinding> {
    let [least, most] = PIECE_WIDTH;
    let (sentence, remedy) = if !(least..=most).contains(&outline.width) {
        (
            format!("the piece is {} pins wide", outline.width),
            format!("make it between {least} and {most} pins wide"),
        )
    } else if outline.last_row() > MAX_PIECE_ROWS as f64 {
        (
            format!("the piece has {} rows of pins", outline.last_row() + 1.0),
            format!("make it {} rows long at most", MAX_PIECE_ROWS + 1),
        )
    } else {
        return None;
    };
    Some(PieceFinding::new(PieceCode::BadOutline, sentence, remedy))
}

/// Clothwork, unless it sticks out.
fn fill_clothwork(
    k: usize,
    area: &PlanArea,
    patch: Patch,
    outline: &Outline,
    findings: &mut Vec<PieceFinding>,
) -> Option<Filled> {
    if let Some(out) = patch.places().find(|&p| !outline.holds(p)) {
        let sentence = format!(
            "the area {} sticks out of the piece: it has a stitch at {}, {}",
            area.name, out.x, out.y
        );
        let remedy = "move the area inwards, give it fewer pins, or make the piece larger";
        findings.push(PieceFinding::new(PieceCode::AreaSticksOut, sentence, remedy).at(out).of([Some(k)]));
        return None;
    }
    let set = Set::new(vec![Hull::of(patch.places())]);
    Some(Filled { area: Some(k), set: Some(set), patch })
}

/// The units of an area.
fn fill_units(
    k: usize,
    area: &PlanArea,
    ground: &PlanGround,
    shape: Shape,
    outline: &Outline,
    findings: &mut Vec<PieceFinding>,
) -> Option<Filled> {
    let laid = Laid::with(ground.ground, ground.anchor, area.at);
    let upright = ground.ground.upright();
    let unit = ground.ground.closed_unit();
    // The unit in which the anchor lies is the first.
    let (_, own) = unit.copies.iter().copied().find(|&(stitch, _)| stitch == ground.anchor)?;
    let (right, left) = (unit.right, unit.left);
    let at = |i: i64, j: i64| right * i + left * j - own;
    let copy = |(stitch, cell): (usize, UprightCell), by: UprightCell| Copy {
        stitch,
        cell: upright.to_definition(cell + by),
    };
    let lies_in = |by: UprightCell| unit.copies.iter().all(|&c| outline.holds(laid.place(copy(c, by))));
    let pointed = right.row > 0;
    let steps: Vec<(i64, i64)> = match shape {
        Shape::Diamond { right, left } => {
            (0..right as i64).flat_map(|i| (0..left as i64).map(move |j| (i, j))).collect()
        }
        Shape::Band { rows } => {
            let far = (2.0 * outline.half() + outline.last_row()) as i64 + 2;
            (0..rows as i64)
                .flat_map(|row| (-far..=far).map(move |i| (i, if pointed { row - i } else { row })))
                .filter(|&(i, j)| lies_in(at(i, j)))
                .collect()
        }
    };
    if let Some(&(i, j)) = steps.iter().find(|&&(i, j)| !lies_in(at(i, j))) {
        let out = unit.copies.iter().map(|&c| laid.place(copy(c, at(i, j)))).find(|&p| !outline.holds(p));
        let out = out.unwrap_or(area.at);
        findings.push(
            PieceFinding::new(
                PieceCode::AreaSticksOut,
                format!(
                    "the area {} sticks out of the piece: unit {} to the right, {} to the left has a stitch at {}, {}",
                    area.name,
                    i + 1,
                    j + 1,
                    out.x,
                    out.y
                ),
                "move the area inwards, take fewer units, or make the piece larger",
            )
            .at(out)
            .of([Some(k)]),
        );
        return None;
    }
    if steps.is_empty() {
        findings.push(
            PieceFinding::new(
                PieceCode::AreaSticksOut,
                format!("no whole unit of the area {} has room in the piece", area.name),
                "make the piece wider, or move the area to a wider place",
            )
            .at(area.at)
            .of([Some(k)]),
        );
        return None;
    }
    let places = |&(i, j): &(i64, i64)| -> Vec<Point> {
        unit.copies.iter().map(|&c| laid.place(copy(c, at(i, j)))).collect()
    };
    // Where a unit ends the next begins: between these lie no stitches of the ground of
    // the piece, nor between four in a square.
    let has = |step: &(i64, i64)| steps.contains(step);
    let parts = steps.iter().flat_map(|&(i, j)| {
        let square = [(i, j), (i + 1, j), (i, j + 1), (i + 1, j + 1)];
        let beside = square[1..3].iter().filter(|&step| has(step)).map(|&step| vec![(i, j), step]);
        let whole = square.iter().all(has).then(|| square.to_vec());
        let groups: Vec<Vec<(i64, i64)>> = beside.chain(whole).chain([vec![(i, j)]]).collect();
        groups.into_iter().map(|group| Hull::of(group.iter().flat_map(places)))
    });
    let set = Set::new(parts.collect());
    let mut copies: Vec<Copy> = steps
        .iter()
        .flat_map(|&(i, j)| unit.copies.iter().map(move |&c| (c, i, j)))
        .map(|(c, i, j)| copy(c, at(i, j)))
        .collect();
    copies.sort_by(|&a, &b| {
        let (p, q) = (laid.place(a), laid.place(b));
        p.y.total_cmp(&q.y).then(p.x.total_cmp(&q.x)).then(a.cmp(&b))
    });
    copies.dedup();
    Some(Filled { area: Some(k), set: Some(set), patch: Patch::of_copies(&laid, &copies) })
}

fn overlap(plan: &Plan, one: &Filled, other: &Filled) -> Option<PieceFinding> {
    let (Some(first), Some(second)) = (&one.set, &other.set) else { return None };
    let within = |area: &Filled, set: &Set| area.patch.places().find(|&p| set.holds(p));
    let at = within(one, second).or_else(|| within(other, first))?;
    let name = |area: &Filled| area.area.map_or("", |k| plan.areas[k].name.as_str());
    Some(
        PieceFinding::new(
            PieceCode::AreasOverlap,
            format!("the areas {} and {} lie over each other at {}, {}", name(one), name(other), at.x, at.y),
            "move one of them away, or take fewer units",
        )
        .at(at)
        .of([one.area, other.area]),
    )
}
