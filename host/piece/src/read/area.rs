//! Areas set into the ground of the piece.

use catalogue::text::{clean_and_cut, is_visible};
use lace::{MAX_PIECE_ROWS, Shape, number};

use super::Reader;
use super::value::Fields;
use crate::design::DesignArea;

/// Most areas.
const MOST_AREAS: usize = 100;
/// Longest name of an area, in characters.
const NAME_CHARS: usize = 40;
/// What the ground of the piece is called where an area can stand.
pub(super) const GROUND: &str = "ground";

impl Reader<'_> {
    /// The areas that can be used. One with a fault keeps none of the others from being
    /// read.
    pub(super) fn areas(&mut self, fields: &mut Fields<'_>) -> Vec<DesignArea> {
        let mut areas: Vec<DesignArea> = Vec::new();
        for mut part in self.parts(fields, "area", MOST_AREAS) {
            let name = self.area_name(&mut part, &areas);
            let ground = self.chosen(&mut part, "ground", "anchor");
            let at = match part.get("at") {
                None => {
                    self.missing(&part, "at", "where its first unit lies, for example at = [0, 6]");
                    None
                }
                Some(value) => self.place(value).filter(|p| {
                    // The pins of an area stand on those of the piece, or half way between.
                    let on_grid = [p.x, p.y].iter().all(|c| (c * 2.0).fract() == 0.0 && c.abs() <= 1000.0);
                    if !on_grid {
                        let sentence = format!("{}, {} is no place on the grid", number(p.x), number(p.y));
                        self.fault(
                            value.span(),
                            sentence,
                            "count whole steps from the first pin: at = [0, 6]",
                        );
                    }
                    on_grid
                }),
            };
            let shape = self.shape(&mut part);
            self.leave(&part);
            // The name alone is enough for changes of its stitches to be understood, but
            // nothing can be laid without the rest.
            if let (Some(name), Some(ground), Some(at), Some(shape)) = (name, ground, at, shape) {
                areas.push(DesignArea { name, ground, at, shape });
            }
        }
        areas
    }

    fn area_name(&mut self, part: &mut Fields<'_>, others: &[DesignArea]) -> Option<String> {
        let example = "name = \"roses\"";
        let Some(value) = part.get("name") else {
            self.missing(part, "name", &format!("a line, for example {example}"));
            return None;
        };
        let name = clean_and_cut(self.words(value, example)?, NAME_CHARS);
        if !is_visible(&name) {
            self.fault(value.span(), "the area has no name", format!("for example {example}"));
            return None;
        }
        if name == GROUND {
            self.fault(value.span(), "`ground` is the ground of the piece", "choose another name");
            return None;
        }
        if self.area_names.contains(&name) || others.iter().any(|other| other.name == name) {
            self.fault(
                value.span(),
                format!("two areas are called `{name}`"),
                "give one of them another name",
            );
            return None;
        }
        self.area_names.push(name.clone());
        self.places.areas.push(value.span());
        Some(name)
    }

    fn shape(&mut self, part: &mut Fields<'_>) -> Option<Shape> {
        let (units, rows) = (part.get("units"), part.get("rows"));
        let beyond = |n: &str| format!("{n} units cannot be worked here");
        match (units, rows) {
            (Some(units), None) => {
                let example = "units = [2, 2]";
                let [right, left] = self.list(units, 2, "two whole numbers are", example)? else {
                    return None;
                };
                let [right, left] =
                    [right, left].map(|one| self.whole(one, 1..=MAX_PIECE_ROWS / 2, beyond, example));
                Some(Shape::Diamond { right: right?, left: left? })
            }
            (None, Some(rows)) => {
                let rows = self.whole(rows, 1..=MAX_PIECE_ROWS, beyond, "rows = 3")?;
                Some(Shape::Band { rows })
            }
            (Some(_), Some(rows)) => {
                let sentence = "an area is a diamond of `units` or a band of `rows`, not both";
                self.fault(rows.span(), sentence, "leave one of them out");
                None
            }
            (None, None) => {
                let sentence = "nothing says how large the area is";
                let remedy = "add units = [2, 2] for a diamond, or rows = 3 for a band across the piece";
                self.fault(part.at.clone(), sentence, remedy);
                None
            }
        }
    }
}
