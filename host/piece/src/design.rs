//! A piece as its text says it, with its grounds looked up.

use std::ops::Range;

use catalogue::{Change, Chosen};
use compare::palette::Palette;
use lace::{Cloth, Edge, Filling, Grid, Outline, Plan, PlanArea, PlanGround, Point, Shape, Stitch, Thread};

use crate::colours::Hung;

/// What a text says. [`read()`](crate::read()) makes one of a text without faults.
#[derive(Clone, Debug)]
pub struct Design {
    /// The title.
    pub title: String,
    /// Notes; may be empty.
    pub notes: String,
    /// The pricking grid.
    pub grid: Grid,
    /// The thread.
    pub thread: Thread,
    /// The outline.
    pub outline: Outline,
    /// The ground of the piece.
    pub ground: DesignGround,
    /// The areas set into it.
    pub areas: Vec<DesignArea>,
    /// What is worked at the edge pins.
    pub edge: Edge,
    /// The stitch at the first pin of a pointed start.
    pub first: Option<Stitch>,
    /// Changed stitches.
    pub changes: Vec<lace::Change>,
    /// Most pairs it may have.
    pub most_pairs: Option<usize>,
    /// The colours that are named anywhere.
    pub palette: Palette,
    /// Where they hang.
    pub hung: Vec<Hung>,
    pub(crate) places: Places,
}

/// A ground of a design.
#[derive(Clone, Debug)]
pub struct DesignGround {
    /// Changed choices.
    pub with: Vec<Change>,
    /// The ground itself.
    pub chosen: Chosen,
    /// The stitch that is laid on its place, by its position in the repeat.
    pub anchor: usize,
}

/// An area of a design.
#[derive(Clone, Debug)]
pub struct DesignArea {
    /// Its name.
    pub name: String,
    /// Where the anchor of its first unit, or its topmost pin, lies.
    pub at: Point,
    /// What fills it.
    pub filling: DesignFilling,
}

/// What fills an area of a design.
#[derive(Clone, Debug)]
pub enum DesignFilling {
    /// Whole units of a ground.
    Units {
        /// The ground.
        ground: Box<DesignGround>,
        /// Its units.
        shape: Shape,
    },
    /// Clothwork: what is worked, and the pins down its right and its left edge to the
    /// corners.
    Clothwork(Cloth, [usize; 2]),
}

/// Where in the text the parts stand, in bytes.
#[derive(Clone, Debug, Default)]
pub(crate) struct Places {
    pub line_ends: Vec<usize>,
    pub outline: Range<usize>,
    pub ground: Range<usize>,
    pub most_pairs: Range<usize>,
    pub areas: Vec<Range<usize>>,
    pub changes: Vec<Range<usize>>,
    pub hung: Vec<Range<usize>>,
}

impl Places {
    /// The line of a place, counted from 1.
    pub fn line(&self, at: &Range<usize>) -> usize {
        1 + self.line_ends.partition_point(|end| *end < at.start)
    }
}

impl DesignGround {
    fn plan(&self) -> PlanGround<'_> {
        PlanGround { ground: &self.chosen.ground, anchor: self.anchor }
    }
}

impl Design {
    /// The plan that it gives.
    pub fn plan(&self) -> Plan<'_> {
        let areas = self.areas.iter().map(|area| PlanArea {
            name: area.name.clone(),
            at: area.at,
            filling: match &area.filling {
                DesignFilling::Units { ground, shape } => {
                    Filling::Units { ground: ground.plan(), shape: *shape }
                }
                &DesignFilling::Clothwork(cloth, [right, left]) => Filling::Clothwork { cloth, right, left },
            },
        });
        Plan {
            outline: self.outline,
            ground: self.ground.plan(),
            areas: areas.collect(),
            edge: self.edge.clone(),
            first: self.first.clone(),
            changes: self.changes.clone(),
            most_pairs: self.most_pairs,
        }
    }

    /// Adds a change that stands nowhere in the text.
    pub(crate) fn add_change(&mut self, change: lace::Change) {
        self.changes.push(change);
        self.places.changes.push(self.places.ground.clone());
    }

    /// The name of an area as it is written in the text; `ground` for the ground of the
    /// piece.
    pub fn area_name(&self, area: Option<usize>) -> &str {
        area.and_then(|k| self.areas.get(k)).map_or("ground", |area| area.name.as_str())
    }
}
