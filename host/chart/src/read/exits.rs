//! How the pairs leave a stitch: where they go, and how they are twisted on the
//! way.

use lace::{Cell, Point, Side};
use pairwise_chart::{Exit, Goal, Twists};
use toml::Spanned;

use super::places::place;
use super::text::{ExitText, StitchText, TwistsText};
use super::{Reader, list};

impl Reader<'_> {
    /// How the pair on one side leaves a stitch.
    pub(super) fn exit(&mut self, stitch: &StitchText, side: Side) -> Exit {
        let Some(exit) = stitch.exit(side).map(Spanned::get_ref) else {
            return Exit { to: None, twists: Twists::Count(0) };
        };
        let twists = exit.twists.as_ref().map_or(Twists::Count(0), |twists| self.twists(twists));
        let to = match &exit.to {
            Some(to) => self.goal(stitch, side, exit, to),
            None => {
                self.without_goal(exit);
                None
            }
        };
        Exit { to, twists }
    }

    /// Checks that an exit without `to` says nothing that belongs to it.
    fn without_goal(&mut self, exit: &ExitText) {
        let at = exit.at.as_ref().map(|at| ("at", at.span()));
        let enters = exit.enters.as_ref().map(|enters| ("enters", enters.span()));
        for (key, span) in at.into_iter().chain(enters) {
            self.fault(
                span,
                format!("`{key}` says nothing without `to`"),
                "say with `to` which stitch the pair goes to, or leave it out",
            );
        }
    }

    /// The stitch to which the pair goes.
    fn goal(
        &mut self,
        stitch: &StitchText,
        side: Side,
        exit: &ExitText,
        to: &Spanned<String>,
    ) -> Option<Goal> {
        let right = self.entry(side, exit.enters.as_ref()) == Side::Right;
        let Some(&number) = self.numbers.stitches.get(to.get_ref().as_str()) else {
            // The stitch may have a name that has been refused.
            if self.file.stitches.iter().any(|stitch| !lace::is_plain_word(stitch.id.get_ref())) {
                return None;
            }
            let known = self.file.stitches.iter().map(|s| s.id.get_ref().as_str());
            let sentence = format!("no stitch is called `{}`", lace::quote(to.get_ref()));
            let all = || format!("the stitches are {}", list(known.clone()));
            self.unknown(to.span(), sentence, to.get_ref(), known.clone(), all);
            return None;
        };
        let home = self.home(number);
        let at = match &exit.at {
            Some(at) => {
                self.stands_at(number, at);
                at.get_ref().0
            }
            None => {
                let at = self.nearest_below(place(stitch.at.get_ref()), home, side);
                [at.x, at.y]
            }
        };
        Some(Goal { stitch: number as u32, right, at })
    }

    /// The side on which a pair that leaves on `side` comes in.
    fn entry(&mut self, side: Side, enters: Option<&Spanned<String>>) -> Side {
        // As on the grid: a pair that leaves on the left comes in on the right.
        let Some(enters) = enters else { return side.other() };
        let written = Side::BOTH.into_iter().find(|side| side.word() == enters.get_ref());
        written.unwrap_or_else(|| {
            let sentence = format!("`{}` is no side", lace::quote(enters.get_ref()));
            self.fault(enters.span(), sentence, "write \"left\" or \"right\"");
            Side::Left
        })
    }

    /// The nearest copy of a stitch that lies lower than `from`. Of two equally near
    /// ones, the one on the side on which the pair leaves.
    fn nearest_below(&self, from: Point, home: Point, side: Side) -> Point {
        let lattice = self.lattice();
        const FAR: i64 = 6;
        let cells = (-FAR..=FAR).flat_map(|i| (-FAR..=FAR).map(move |j| Cell::new(i, j)));
        let places = cells.map(|cell| home + lattice.place(cell)).filter(|p| p.y > from.y + 1e-9);
        let far = |p: &Point| (p.x - from.x) * (p.x - from.x) + (p.y - from.y) * (p.y - from.y);
        let outward = |p: &Point| if side == Side::Left { p.x } else { -p.x };
        places
            .min_by(|p, q| far(p).total_cmp(&far(q)).then(outward(p).total_cmp(&outward(q))))
            .unwrap_or(home)
    }

    fn twists(&mut self, twists: &Spanned<TwistsText>) -> Twists {
        match twists.get_ref() {
            TwistsText::Count(count) => match u32::try_from(*count) {
                Ok(count) if count <= lace::limits::MAX_TWISTS => return Twists::Count(count),
                _ => self.fault(
                    twists.span(),
                    format!("{count} twists cannot be made"),
                    format!("give 0 to {}", lace::limits::MAX_TWISTS),
                ),
            },
            TwistsText::Choice(id) => {
                let found = self.choice_called(id).filter(|found| self.file.choices[*found].count.is_some());
                if let Some(choice) = found {
                    return Twists::Chosen(choice as u32);
                }
                let counts = self.file.choices.iter().filter(|choice| choice.count.is_some());
                let known = counts.map(|choice| choice.id.get_ref().as_str());
                let sentence = format!("`{}` is no choice of a number", lace::quote(id));
                let all = || "write a number, or the id of a choice with `count`".to_owned();
                self.unknown(twists.span(), sentence, id, known, all);
            }
        }
        Twists::Count(0)
    }
}
