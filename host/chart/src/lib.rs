//! Charts: grounds and fillings that a lacemaker writes as a short text, with
//! nothing to install. [`read`] reads a chart and reports every fault with its
//! position and a remedy. [`pack`] packs it into a component that runs in the
//! sandbox like any other. [`write`] writes a chart from any ground, so that
//! nobody has to start with an empty page.
//!
//! The format is TOML 1.0 (toml.io); `CHARTS.md` describes its keys.
//!
//! ```
//! let text = r#"
//! format = "pairwise-chart/1"
//! about = { id = "my-ground", title = "My ground", source = "own design" }
//! repeat = { across = [1, 1], down = [-1, 1] }
//!
//! [[stitch]]
//! id = "dot"
//! at = [0, 0]
//! work = "half stitch, pin, half stitch"
//! "#;
//! let read = chart_files::read(text).unwrap();
//! let repeat = chart_files::repeat(&read.chart).unwrap();
//! assert_eq!(repeat.stitches[0].stitch.to_string(), "CT pin CT");
//! // What runs in the sandbox: a component that answers with this chart.
//! let component = chart_files::pack(&read.chart)?;
//! assert!(component.starts_with(b"\0asm"));
//!
//! // A fault comes with its byte range in the text and a remedy.
//! let faults = chart_files::read(&text.replace("half stitch, pin", "hulf stitch, pin")).unwrap_err();
//! assert!(text[faults[0].at.clone()].contains("stitch, pin, half stitch"));
//! # Ok::<(), chart_files::PackError>(())
//! ```

mod read;
mod write;

pub use pairwise_chart::{Chart, PackError, ROOM};
pub use read::{Fault, Read, WrittenStitch, read};
pub use write::{Origin, chart_of, write};

/// The format's name, as written in a chart.
pub const FORMAT: &str = "pairwise-chart/1";
/// The file name extension of charts.
pub const ENDING: &str = "toml";

/// The compiled crate `pairwise-chart`, with an empty slot for a chart.
const COMPONENT: &[u8] = include_bytes!("../guest/component.wasm");

/// A component that holds a chart. The same chart gives the same bytes.
///
/// # Errors
/// [`PackError::TooLarge`] for a chart of more than [`ROOM`] bytes, about a
/// thousand stitches.
pub fn pack(chart: &Chart) -> Result<Vec<u8>, PackError> {
    pairwise_chart::pack(COMPONENT, chart)
}

/// The repeat of a chart with every choice at its default, computed here rather
/// than in a component: for our own charts, such as those of the manual.
///
/// # Errors
/// The sentence in which the component would refuse it.
pub fn repeat(chart: &Chart) -> Result<lace::Repeat, String> {
    let usual = pairwise_sdk::Settings::defaults(&chart.about());
    let repeat = chart.define(&usual).and_then(|repeat| pairwise_sdk::to_lace(&repeat));
    repeat.map_err(|problem| problem.sentence)
}
