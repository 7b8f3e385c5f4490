//! What must hold for any text of a chart: every fault has a place, a sentence and
//! a remedy; and a chart that can be read gives the same repeat when written and
//! read again. Used by the property tests and the fuzz targets.

use chart_files::{Origin, Read, read, write};
use lace::{Ground, Repeat};
use pairwise_sdk::Settings;

/// A chart as `unpack` writes it, for a repeat with places.
pub fn written(repeat: &Repeat) -> String {
    let places: Vec<_> = repeat.stitches.iter().map(|s| s.at.expect("its places are known")).collect();
    let origin = Origin {
        id: "tested",
        title: "Tested",
        sits_in: None,
        family: "tested",
        laces: vec![],
        names: vec![],
        angle: 45.0,
        pin_spacing_mm: Some(4.0),
        notes: "",
        source: "made up for a test",
    };
    write(&origin, repeat, &places)
}

/// The repeat of a chart's first variety.
pub fn defined(read: &Read) -> Option<Repeat> {
    let about = read.chart.about();
    let settings = Settings::variety(&about, &about.varieties.first()?.id);
    pairwise_sdk::to_lace(&read.chart.define(&settings).ok()?).ok()
}

/// Reads any text.
///
/// # Panics
/// If anything does not hold: that is what the tests look for.
pub fn text(text: &str) -> bool {
    let read = match read(text) {
        Ok(read) => read,
        Err(faults) => {
            assert!(!faults.is_empty());
            for fault in faults {
                assert!(fault.at.start <= fault.at.end && fault.at.end <= text.len(), "{fault:?}");
                assert!(
                    text.is_char_boundary(fault.at.start) && text.is_char_boundary(fault.at.end),
                    "{fault:?}"
                );
                assert!(!fault.sentence.is_empty() && !fault.remedy.is_empty(), "{fault:?}");
            }
            return false;
        }
    };
    let Some(repeat) = defined(&read) else { return true };
    if Ground::new(repeat.clone()).is_err() {
        return true;
    }
    let again = chart_files::read(&written(&repeat)).expect("what is written is read");
    assert!(same(&defined(&again).expect("and defined"), &repeat), "{text}");
    true
}

/// Whether two repeats are the same except for the order of their legs.
pub fn same(one: &Repeat, other: &Repeat) -> bool {
    let sorted = |repeat: &Repeat| {
        let mut legs = repeat.legs.clone();
        legs.sort_by_key(|leg| (leg.from.stitch, leg.from.side.index()));
        legs
    };
    one.lattice == other.lattice && one.stitches == other.stitches && sorted(one) == sorted(other)
}
