//! Which wirings can be lace.
//!
//! Source: conditions C1 to C3 and Lemma 1 of T. Biedl and V. Irvine, "Drawing
//! bobbin lace graphs, or, fundamental cycles for a subclass of periodic
//! graphs", Graph Drawing 2017 (arXiv 1708.09778v3); verdicts in
//! `lace_map_truth_table.csv` and numbers in `lace_map_counts.csv` computed by
//! other programs.

use std::collections::BTreeSet;

use lace::LaceMap;
use pairwise_tests::data;
use serde::Deserialize;

#[derive(Deserialize)]
struct Verdict {
    n: usize,
    out_to_in: String,
    connected: u8,
    genus: Option<i64>,
    faces: Option<usize>,
    shortest_face: usize,
    has_directed_face: u8,
    #[serde(rename = "valid_C1_C2_C3")]
    valid: u8,
    osculating_circuits: usize,
}

fn connected(map: &LaceMap) -> bool {
    map.pieces().len() == 1
}

fn genus(map: &LaceMap) -> i64 {
    (2 - map.euler_characteristic()) / 2
}

fn shortest_face(map: &LaceMap) -> usize {
    map.faces().iter().map(Vec::len).min().expect("a map has faces")
}

fn valid(map: &LaceMap) -> bool {
    connected(map) && genus(map) == 1 && shortest_face(map) >= 3 && !map.has_directed_face()
}

#[test]
fn every_wiring_of_the_table_gets_its_verdict() {
    let table: Vec<Verdict> = data::rows("lace_map_truth_table.csv");
    assert!(table.len() > 490);
    for row in table {
        let arrives: Vec<usize> =
            row.out_to_in.split(' ').map(|dart| dart.parse().expect("a number")).collect();
        assert_eq!(arrives.len(), 2 * row.n);
        let map = LaceMap::new(arrives).expect("a permutation");
        let name = &row.out_to_in;
        assert_eq!(connected(&map), row.connected == 1, "{name}");
        if let Some(expected) = row.genus {
            assert_eq!(genus(&map), expected, "{name}");
        }
        if let Some(expected) = row.faces {
            assert_eq!(map.faces().len(), expected, "{name}");
        }
        assert_eq!(shortest_face(&map), row.shortest_face, "{name}");
        assert_eq!(map.has_directed_face(), row.has_directed_face == 1, "{name}");
        assert_eq!(valid(&map), row.valid == 1, "{name}");
        assert_eq!(map.touching_circuits().len(), row.osculating_circuits, "{name}");
    }
}

#[derive(Deserialize)]
struct Count {
    vertices_per_repeat: usize,
    rooted_connected_all_genera: usize,
    rooted_genus0: usize,
    rooted_genus1: usize,
    rooted_genus2: usize,
    rooted_genus3: usize,
    rooted_torus_faces_ge_3: usize,
    rooted_torus_no_directed_face: usize,
    #[serde(rename = "rooted_valid_C1_C2_C3")]
    rooted_valid: usize,
    classes_isomorphism: usize,
    classes_up_to_mirror: usize,
    classes_up_to_mirror_and_reversal: usize,
}

/// Every order of `0..n`.
fn permutations(n: usize) -> Vec<Vec<usize>> {
    let mut all = vec![vec![]];
    for next in 0..n {
        all = all
            .into_iter()
            .flat_map(|order: Vec<usize>| {
                (0..=order.len()).map(move |place| {
                    let mut longer = order.clone();
                    longer.insert(place, next);
                    longer
                })
            })
            .collect();
    }
    all
}

/// The wiring with vertices renumbered in the order of a walk from `root`: the
/// same for the same shape and root, whatever the old numbers.
fn from_root(arrives: &[usize], root: usize) -> Vec<usize> {
    let n = arrives.len() / 2;
    let mut number = vec![usize::MAX; n];
    let mut met = vec![root];
    number[root] = 0;
    let mut next = 0;
    while next < met.len() {
        for side in 0..2 {
            let to = arrives[2 * met[next] + side] / 2;
            if number[to] == usize::MAX {
                number[to] = met.len();
                met.push(to);
            }
        }
        next += 1;
    }
    met.iter()
        .flat_map(|&v| [2 * v, 2 * v + 1])
        .map(|out| 2 * number[arrives[out] / 2] + arrives[out] % 2)
        .collect()
}

/// The canonical form of all numberings of a shape. Every vertex of a wiring can
/// be reached along its edges, because in-degrees equal out-degrees.
fn shape(arrives: &[usize]) -> Vec<usize> {
    (0..arrives.len() / 2).map(|root| from_root(arrives, root)).min().expect("a vertex")
}

/// The wiring with left and right swapped.
fn mirrored(arrives: &[usize]) -> Vec<usize> {
    (0..arrives.len()).map(|out| arrives[out ^ 1] ^ 1).collect()
}

/// Worked from the bottom up, seen from behind the pillow's lower edge: left
/// entries become right exits.
fn reversed(arrives: &[usize]) -> Vec<usize> {
    let mut back = vec![0; arrives.len()];
    for (out, &into) in arrives.iter().enumerate() {
        back[into ^ 1] = out ^ 1;
    }
    back
}

#[test]
fn the_number_of_wirings_is_as_published() {
    let counts: Vec<Count> = data::rows("lace_map_counts.csv");
    for row in counts.iter().filter(|row| row.vertices_per_repeat <= 4) {
        let n = row.vertices_per_repeat;
        // A rooted wiring has one vertex marked: of the n! numberings of a
        // wiring, (n - 1)! keep the mark.
        let (mut all, mut of_genus, mut long_faces, mut ordered) = (0, [0; 5], 0, 0);
        let (mut good, mut shapes) = (0, BTreeSet::new());
        for arrives in permutations(2 * n) {
            let map = LaceMap::new(arrives.clone()).expect("a permutation");
            if !connected(&map) {
                continue;
            }
            all += 1;
            let genus = genus(&map);
            of_genus[genus as usize] += 1;
            if genus == 1 {
                long_faces += usize::from(shortest_face(&map) >= 3);
                ordered += usize::from(!map.has_directed_face());
            }
            if valid(&map) {
                good += 1;
                shapes.insert(shape(&arrives));
            }
        }
        let numberings: usize = (1..n).product();
        let rooted = |labelled: usize| {
            assert_eq!(labelled % numberings, 0);
            labelled / numberings
        };
        assert_eq!(rooted(all), row.rooted_connected_all_genera, "n = {n}");
        assert_eq!(
            of_genus.map(rooted),
            [row.rooted_genus0, row.rooted_genus1, row.rooted_genus2, row.rooted_genus3, 0],
            "n = {n}"
        );
        assert_eq!(rooted(long_faces), row.rooted_torus_faces_ge_3, "n = {n}");
        assert_eq!(rooted(ordered), row.rooted_torus_no_directed_face, "n = {n}");
        assert_eq!(rooted(good), row.rooted_valid, "n = {n}");
        assert_eq!(shapes.len(), row.classes_isomorphism, "n = {n}");
        let merged = |looks: &dyn Fn(&[usize]) -> Vec<Vec<usize>>| {
            let least = |s: &Vec<usize>| looks(s).iter().map(|look| shape(look)).min().expect("a look");
            shapes.iter().map(least).collect::<BTreeSet<_>>().len()
        };
        let mirror = |s: &[usize]| vec![s.to_vec(), mirrored(s)];
        assert_eq!(merged(&mirror), row.classes_up_to_mirror, "n = {n}");
        let both = |s: &[usize]| {
            let back = reversed(s);
            vec![s.to_vec(), mirrored(s), mirrored(&back), back]
        };
        assert_eq!(merged(&both), row.classes_up_to_mirror_and_reversal, "n = {n}");
    }
}
