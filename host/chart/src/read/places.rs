//! Where repeats and stitches stand, and mistakes in it that spoil everything
//! else.

use std::collections::BTreeSet;
use std::ops::Range;

use lace::{Lattice, Point, point};
use pairwise_chart::Chart;
use toml::Spanned;

use super::Reader;
use super::text::{StitchText, Two};

/// A pair led to a place where its stitch never stands.
pub(super) struct Missed {
    /// The number of the stitch.
    stitch: usize,
    /// The place given.
    at: Point,
    /// Where it is written.
    written: Range<usize>,
}

/// Two stitches in one place.
struct Twins {
    first: usize,
    second: usize,
    /// Whether their places are the same, not only those of their copies.
    same: bool,
}

/// How near two places are that are the same.
const NEAR: f64 = 1e-6;

impl Reader<'_> {
    /// The steps from repeat to repeat.
    pub(super) fn lattice(&self) -> Lattice {
        let repeat = self.file.repeat.get_ref();
        Lattice { across: place(repeat.across.get_ref()), down: place(repeat.down.get_ref()) }
    }

    /// Where a stitch stands in its own repeat.
    pub(super) fn home(&self, stitch: usize) -> Point {
        place(self.file.stitches[stitch].at.get_ref())
    }

    /// Checks that the steps across and down spread the repeats over an area.
    pub(super) fn steps(&mut self) {
        let Lattice { across, down } = self.lattice();
        let area = self.lattice().area();
        let size = across.x.abs() + across.y.abs() + down.x.abs() + down.y.abs();
        let nothing = 1e-9 * size * size;
        if area > nothing {
            return;
        }
        let repeat = self.file.repeat.get_ref();
        let places = [repeat.across.span(), repeat.down.span()];
        if area < -nothing {
            self.fault_between(
                places,
                "the steps across and down are the wrong way round",
                format!("exchange them: across = {}, down = {}", shown(down), shown(across)),
            );
        } else {
            self.fault_between(
                places,
                "the steps across and down go the same way, so the repeats fill no area",
                "choose two steps in different directions, for example across = [2, 2], down = [-2, 2]",
            );
        }
    }

    /// Notes a pair led to `at` if no copy of its stitch stands there.
    pub(super) fn stands_at(&mut self, stitch: usize, at: &Spanned<Two<f64>>) {
        let here = place(at.get_ref());
        let steps = self.lattice().coordinates(here - self.home(stitch));
        // Steps that lead nowhere have been reported.
        if steps.iter().all(|step| !step.is_finite() || is_whole(*step)) {
            return;
        }
        self.missed.push(Missed { stitch, at: here, written: at.span() });
    }

    /// Reports pairs led to places where their stitches never stand: what they have in
    /// common, or one by one.
    pub(super) fn report_missed(&mut self) {
        let missed = std::mem::take(&mut self.missed);
        let exits = self.file.stitches.iter().flat_map(|stitch| [&stitch.left, &stitch.right]);
        let placed = exits.flatten().filter(|exit| exit.get_ref().at.is_some()).count();
        let stitches: BTreeSet<usize> = missed.iter().map(|miss| miss.stitch).collect();
        match missed.as_slice() {
            [first, _, ..] if stitches.len() == 1 => self.misplaced(first, &missed),
            [first, _, ..] if 2 * missed.len() >= placed => self.wrong_steps(first, &missed, placed),
            _ => missed.iter().for_each(|miss| self.never_stands(miss)),
        }
    }

    /// All pairs led to one stitch miss it.
    fn misplaced(&mut self, first: &Missed, missed: &[Missed]) {
        let stitch = &self.file.stitches[first.stitch];
        let (id, home) = (lace::quote(stitch.id.get_ref()), shown(self.home(first.stitch)));
        let places = std::iter::once(stitch.at.span()).chain(missed.iter().map(|miss| miss.written.clone()));
        let places: Vec<_> = places.collect();
        self.fault_between(
            places,
            format!(
                "`{id}` stands at {home}, and {} pairs are led to it at {}",
                missed.len(),
                shown(first.at)
            ),
            "correct the place of the stitch, or the `at` of these pairs",
        );
    }

    /// Pairs miss several stitches, which the steps to the next repeat explain.
    fn wrong_steps(&mut self, first: &Missed, missed: &[Missed], placed: usize) {
        let id = lace::quote(self.file.stitches[first.stitch].id.get_ref());
        let repeat = self.file.repeat.get_ref();
        let places = [repeat.across.span(), repeat.down.span(), first.written.clone()];
        self.fault_between(
            places,
            format!(
                "with these steps across and down, {} of the {placed} pairs led with `at` miss their stitches: \
                 `{id}` never stands at {}",
                missed.len(),
                shown(first.at)
            ),
            STEPS_REMEDY,
        );
    }

    fn never_stands(&mut self, miss: &Missed) {
        let Lattice { across, down } = self.lattice();
        let stitch = &self.file.stitches[miss.stitch];
        let repeat = self.file.repeat.get_ref();
        let places = [miss.written.clone(), stitch.at.span(), repeat.across.span(), repeat.down.span()];
        self.fault_between(
            places,
            format!("`{}` never stands at {}", lace::quote(stitch.id.get_ref()), shown(miss.at)),
            format!(
                "it stands at {} and in steps of {} and {} from there: correct this place, or the steps across \
                 and down",
                shown(self.home(miss.stitch)),
                shown(across),
                shown(down)
            ),
        );
    }

    /// Reports stitches that stand in one place.
    pub(super) fn report_twins(&mut self) {
        let twins = self.twins();
        let name = |reader: &Self, stitch: usize| lace::quote(reader.file.stitches[stitch].id.get_ref());
        if twins.len() > 1 && twins.iter().all(|twins| !twins.same) {
            let (first, second) = (twins[0].first, twins[0].second);
            let repeat = self.file.repeat.get_ref();
            let stitches = &self.file.stitches;
            let places = [
                repeat.across.span(),
                repeat.down.span(),
                stitches[first].at.span(),
                stitches[second].at.span(),
            ];
            let sentence = format!(
                "with these steps across and down, {} stitches stand where others stand in the next repeat: \
                 `{}` at {} where `{}` stands at {}",
                twins.len(),
                name(self, second),
                shown(self.home(second)),
                name(self, first),
                shown(self.home(first))
            );
            return self.fault_between(places, sentence, STEPS_REMEDY);
        }
        for Twins { first, second, same } in twins {
            let (one, other) = (name(self, first), name(self, second));
            let [here, there] = [first, second].map(|stitch| shown(self.home(stitch)));
            let sentence = if same {
                format!("the stitches `{one}` and `{other}` stand in one place, {here}")
            } else {
                format!(
                    "the stitches `{one}` at {here} and `{other}` at {there} stand in one place: in the next \
                     repeat, `{one}` comes to stand where `{other}` is"
                )
            };
            let stitches: &[StitchText] = &self.file.stitches;
            let places = [stitches[second].at.span(), stitches[first].at.span()];
            self.fault_between(places, sentence, "give one of them another place, or leave it out");
        }
    }

    /// For every stitch that stands where an earlier one does, the two.
    fn twins(&self) -> Vec<Twins> {
        let number = self.file.stitches.len();
        // More are refused anyway.
        if number > lace::limits::MAX_STITCHES {
            return Vec::new();
        }
        let lattice = self.lattice();
        let homes: Vec<Point> = (0..number).map(|stitch| self.home(stitch)).collect();
        let twin = |second: usize| {
            (0..second).find_map(|first| {
                let apart = homes[second] - homes[first];
                let same = apart.length() < NEAR;
                let stands = lattice.coordinates(apart).iter().all(|step| is_whole(*step));
                stands.then_some(Twins { first, second, same })
            })
        };
        (1..number).filter_map(twin).collect()
    }

    /// Reports a pair whose slanting row meets no stitch: the only reason left for
    /// which a chart that can be read has no repeat.
    pub(super) fn report_no_repeat(&mut self, chart: &Chart) {
        let Err(why) = crate::repeat(chart) else { return };
        for (number, stitch) in self.file.stitches.iter().enumerate() {
            for side in lace::Side::BOTH {
                let id = stitch.id.get_ref();
                if stitch.exit(side).is_none_or(|exit| exit.get_ref().to.is_none())
                    && why.contains(&format!("leaves `{id}` on the {} ", side.word()))
                {
                    return self.fault_between(
                        [stitch.at.span(), stitch.id.span()],
                        format!(
                            "the {0} pair of `{id}` at {1} goes down its slanting row to the {0} and meets no stitch",
                            side.word(),
                            shown(self.home(number))
                        ),
                        format!("say where it goes, for example {} = {{ to = \"{id}\" }}", side.word()),
                    );
                }
            }
        }
        self.fault(self.file.repeat.span(), why, STEPS_REMEDY);
    }
}

const STEPS_REMEDY: &str =
    "correct `across` and `down`: each is the way from a stitch to the same stitch of the next repeat";

fn is_whole(step: f64) -> bool {
    (step - step.round()).abs() < NEAR
}

/// A place as it is written in a chart.
fn shown(p: Point) -> String {
    format!("[{}, {}]", p.x, p.y)
}

pub(super) fn place(&Two([x, y]): &Two<f64>) -> Point {
    point(x, y)
}
