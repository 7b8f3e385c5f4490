//! What a ground of a class needs: pairs, bobbins, thread, pins.

use lace::{Ground, colour_letter, number};
use picture::drawing::pricking::pin_places;
use picture::drawing::rect;
use picture::layout::{Layout, ThreadPerLength, thread_per_length};
use picture::page::Fact;

use crate::area::Area;
use crate::class::ClassGround;

/// Extra thread on every bobbin, to hang on, to hold and to tie off, in metres
/// (common practice, no source).
const TO_HOLD_M: f64 = 0.5;
/// Pins that a beginner works in an hour, at least and at most (common practice,
/// no source).
const PINS_AN_HOUR: [f64; 2] = [15.0, 25.0];
/// Most colours with a line of their own among the materials.
const MOST_ROWS: usize = 6;

/// What an area needs, and the rule it was computed by.
#[derive(Clone, Debug)]
pub struct Needs {
    /// Pairs, pins, thread and so on, with their amounts.
    pub materials: Vec<Fact>,
    /// How the amount of thread was computed.
    pub rule: String,
}

/// Bobbins of one colour.
struct Bobbins {
    colour: u8,
    count: usize,
}

/// The thread of one bobbin.
struct BobbinThread {
    /// Length of the shortest and longest thread, divided by the length of the
    /// lace.
    times: [f64; 2],
    /// Least and most thread to wind, in metres.
    metres: [f64; 2],
}

impl ClassGround<'_> {
    /// The materials for its area.
    pub fn needs(self) -> Needs {
        let area = self.wanted.area;
        let (ground, layout) = (&self.chosen.ground, self.layout);
        let pairs = pairs(ground, layout, area);
        let thread = BobbinThread::new(ground, layout, area.height);
        let mut materials = vec![
            Fact::new("Area", format!("{} \u{d7} {} mm", area.width, area.height)),
            Fact::new("Pairs", format!("{pairs}, on {} bobbins", 2 * pairs)),
            Fact::new("Thread on each bobbin", thread.each()),
        ];
        if self.class.recipe.thread.is_none() {
            materials.insert(1, Fact::new("Thread", self.thread()));
        }
        materials.extend(self.bobbin_facts(pairs, &thread));
        let pins = self.pins();
        materials.push(Fact::new("Pins", pins.to_string()));
        if pins > 0 {
            materials.push(Fact::new("Time", time(pins)));
        }
        Needs { materials, rule: thread.rule() }
    }

    /// Number of pins in its area.
    pub fn pins(self) -> usize {
        pins(&self.chosen.ground, self.layout, self.wanted.area)
    }

    /// Number of bobbins of each colour, and how much thread.
    fn bobbin_facts(self, pairs: usize, thread: &BobbinThread) -> Vec<Fact> {
        let bobbins = self.bobbins(pairs);
        if bobbins.len() > MOST_ROWS {
            let rows: Vec<String> =
                bobbins.iter().map(|b| format!("{} {}", b.count, colour_letter(b.colour))).collect();
            return vec![
                Fact::new("Bobbins", rows.join(", ")),
                Fact::new("Thread in all", format!("{:.0} m at most", thread.of(2 * pairs))),
            ];
        }
        let names = self.class.recipe.palette.names();
        let fact = |b: &Bobbins| {
            let name = names.get(usize::from(b.colour)).map_or("", String::as_str);
            let value = format!("{} bobbins, {:.0} m at most", b.count, thread.of(b.count));
            Fact::new(format!("{name} ({})", colour_letter(b.colour)), value)
        };
        bobbins.iter().map(fact).collect()
    }

    fn bobbins(self, pairs: usize) -> Vec<Bobbins> {
        let arrangement = &self.wanted.arrangement;
        let threads = arrangement.extended(pairs).threads();
        let of = |colour| Bobbins { colour, count: threads.iter().filter(|&&c| c == colour).count() };
        (0..arrangement.colours() as u8).map(of).filter(|bobbins| bobbins.count > 0).collect()
    }
}

/// How long a beginner takes for a number of pins, in words.
pub(crate) fn time(pins: usize) -> String {
    let [slow, fast] = PINS_AN_HOUR;
    // In steps of five minutes up to an hour, then of half an hour.
    let steps = |hours: f64| {
        let step = if hours <= 1.0 { 5.0 } else { 30.0 };
        step * (60.0 * hours / step).round().max(1.0)
    };
    let in_words = |minutes: f64| match minutes {
        m if m < 60.0 => (number(m), "minutes"),
        60.0 => ("1".to_owned(), "hour"),
        m => (number(m / 60.0), "hours"),
    };
    let [(least, small), (most, unit)] = [pins as f64 / fast, pins as f64 / slow].map(|h| in_words(steps(h)));
    let least = if (&least, small) == (&most, unit) {
        String::new()
    } else if unit.starts_with(small) {
        format!("{least} to ")
    } else {
        format!("{least} {small} to ")
    };
    format!("about {least}{most} {unit} for a beginner")
}

/// How fast a beginner works, in words.
pub(crate) fn rate() -> String {
    let [slow, fast] = PINS_AN_HOUR;
    format!("{slow} to {fast} pins an hour")
}

/// Number of pairs across an area.
fn pairs(ground: &Ground, layout: &Layout, area: Area) -> usize {
    let per_cm = ground.measures(&layout.grid).pairs_per_cm;
    // Do not count a pair exactly on the edge twice.
    (per_cm * area.width / 10.0 - 1e-9).ceil().max(1.0) as usize
}

/// Number of pins in an area that begins at the first row.
fn pins(ground: &Ground, layout: &Layout, area: Area) -> usize {
    let top = ground.top() * layout.grid.step_y_mm();
    pin_places(ground, &layout.grid, rect(0.0, top, area.width, area.height).grown(1e-6)).len()
}

impl BobbinThread {
    fn new(ground: &Ground, layout: &Layout, length_mm: f64) -> BobbinThread {
        let ThreadPerLength { least, most } = thread_per_length(ground, layout);
        let times = [least, most];
        // Round up to tenths of a metre.
        let metres = |times: f64| ((times * length_mm / 1000.0 + TO_HOLD_M) * 10.0 - 1e-9).ceil() / 10.0;
        BobbinThread { times, metres: times.map(metres) }
    }

    /// The thread on each bobbin, in words.
    fn each(&self) -> String {
        match self.metres {
            [few, many] if few == many => format!("{many:.1} m"),
            [few, many] => format!("{few:.1} to {many:.1} m"),
        }
    }

    /// Most thread needed for this number of bobbins, in whole metres.
    fn of(&self, bobbins: usize) -> f64 {
        (bobbins as f64 * self.metres[1]).ceil()
    }

    fn rule(&self) -> String {
        let times = match self.times.map(|times| format!("{times:.1}")) {
            [least, most] if least == most => least,
            [least, most] => format!("{least} to {most}"),
        };
        format!(
            "Measured along the threads as drawn, they are {times} times as long as the lace. Half a metre is added on each bobbin to hang on, to hold and to tie off, and the sum is rounded up to a tenth of a metre. Allow extra pairs and pins for the edges."
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_beginner_works_fifteen_to_twenty_five_pins_an_hour() {
        let begins = |pins, words: &str| {
            assert_eq!(time(pins), format!("about {words} for a beginner"));
        };
        begins(1, "5 minutes");
        begins(10, "25 to 40 minutes");
        begins(20, "50 minutes to 1.5 hours");
        begins(25, "1 to 1.5 hours");
        begins(40, "1.5 to 2.5 hours");
        begins(60, "2.5 to 4 hours");
        begins(851, "34 to 56.5 hours");
        assert_eq!(rate(), "15 to 25 pins an hour");
    }
}
