//! An order in which the crossings of a braid can be eliminated with little fill:
//! nested dissection (A. George, "Nested dissection of a regular finite element mesh",
//! 1973). The crossings are halved by their places again and again, and those of one
//! half that touch the other come last.

use lace::Point;

/// So few crossings are not halved any more.
const FEW: usize = 12;

/// The crossings in the order of elimination. `neighbours` of each crossing may lie in
/// other repeats.
pub(super) fn dissect(places: &[Point], neighbours: &[Vec<usize>]) -> Vec<usize> {
    let mut order = Vec::with_capacity(places.len());
    let mut half = vec![0; places.len()];
    let mut next = 1;
    halve((0..places.len()).collect(), places, neighbours, &mut half, &mut next, &mut order);
    order
}

/// Appends the order for a set of crossings. `half` marks the set a crossing belongs
/// to; `next` is a mark not used before.
fn halve(
    mut set: Vec<usize>,
    places: &[Point],
    neighbours: &[Vec<usize>],
    half: &mut [usize],
    next: &mut usize,
    order: &mut Vec<usize>,
) {
    if set.len() <= FEW {
        order.extend(set);
        return;
    }
    let extent = |of: fn(&Point) -> f64| {
        let all = set.iter().map(|&v| of(&places[v]));
        all.clone().fold(f64::MIN, f64::max) - all.fold(f64::MAX, f64::min)
    };
    let of: fn(&Point) -> f64 = if extent(|p| p.x) > extent(|p| p.y) { |p| p.x } else { |p| p.y };
    set.sort_by(|&v, &w| of(&places[v]).total_cmp(&of(&places[w])).then(v.cmp(&w)));
    let second = set.split_off(set.len() / 2);
    let mark = *next;
    *next += 1;
    for &v in &second {
        half[v] = mark;
    }
    let (between, first): (Vec<usize>, Vec<usize>) =
        set.into_iter().partition(|&v| neighbours[v].iter().any(|&w| half[w] == mark));
    halve(first, places, neighbours, half, next, order);
    halve(second, places, neighbours, half, next, order);
    order.extend(between);
}
