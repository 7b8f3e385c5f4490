//! One variety, worked out: what it takes, where its threads go, how hard it
//! is.

use indexmap::IndexMap;
use lace::{Grid, Ground, Measures, Stitch, Travel};
use sandbox::{Plugin, Variety};

use super::keep::Found;
use crate::catalogue::Chosen;
use crate::cli::ColoursGo;

/// One variety of a ground.
pub struct Entry<'a> {
    /// The ground.
    pub plugin: &'a Plugin,
    /// Id of the variety.
    pub id: String,
    /// What the contribution says of it.
    pub variety: &'a Variety,
    /// Every choice with its value.
    pub settings: IndexMap<String, String>,
    /// The ground itself.
    pub ground: Ground,
    /// What it takes at the pin spacing.
    pub measures: Measures,
    /// Threads of one repeat that travel left, stay, travel right.
    pub threads: [usize; 3],
    /// Its different works, and how often each is in a repeat.
    pub works: Vec<(Stitch, usize)>,
    /// By which name it was searched and found.
    pub found: Option<Found<'a>>,
}

impl<'a> Entry<'a> {
    /// Works out a variety at a pricking grid.
    pub fn new(chosen: Chosen<'a>, plugin: &'a Plugin, grid: &Grid) -> Entry<'a> {
        let variety = &plugin.about.varieties[&chosen.variety];
        let ground = chosen.ground;
        let mut threads = [0; 3];
        for course in ground.courses() {
            let k = match course.travel {
                Travel::Left => 0,
                Travel::Stays => 1,
                Travel::Right => 2,
            };
            threads[k] += course.threads;
        }
        let mut works: IndexMap<Stitch, usize> = IndexMap::new();
        for stitch in ground.stitches() {
            *works.entry(stitch.stitch.clone()).or_default() += 1;
        }
        Entry {
            plugin,
            id: chosen.variety,
            variety,
            settings: chosen.settings,
            measures: ground.measures(grid),
            threads,
            works: works.into_iter().collect(),
            found: None,
            ground,
        }
    }

    /// How the user names it: `rose/VARIETY`.
    pub fn name(&self) -> String {
        format!("{}/{}", self.plugin.about.id, self.id)
    }

    /// What its colours do.
    pub fn colours_go(&self) -> ColoursGo {
        match self.threads {
            [0, _, 0] => ColoursGo::Stays,
            [_, 0, _] => ColoursGo::Travels,
            _ => ColoursGo::Both,
        }
    }

    /// Pairs that hang across one repeat.
    pub fn pairs_across(&self) -> usize {
        self.measures.pairs_per_repeat
    }

    /// The different numbers of extra twists between stitches, fewest first.
    pub fn extra_twists(&self) -> Vec<u32> {
        let mut twists: Vec<u32> = self.ground.legs().iter().map(|l| l.twists).filter(|&t| t > 0).collect();
        twists.sort_unstable();
        twists.dedup();
        twists
    }
}
