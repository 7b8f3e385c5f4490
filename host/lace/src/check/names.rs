//! Whether every stitch has a unique plain word for a name.

use indexmap::IndexMap;

use crate::check::findings::{Code, Place};
use crate::check::report::Report;
use crate::repeat::plain_word::is_plain_word;
use crate::words::quote::quote;

pub(super) fn are_plain_words(report: &mut Report<'_>) {
    let mut times: IndexMap<&str, usize> = IndexMap::new();
    for stitch in &report.repeat.stitches {
        *times.entry(stitch.id.as_str()).or_default() += 1;
        if stitch.id.is_empty() {
            report.say(Code::BadName, Place::Repeat, "a stitch has no name");
        } else if !is_plain_word(&stitch.id) {
            report.say(Code::BadName, Place::Repeat, format!("`{}` is not a plain word", quote(&stitch.id)));
        }
    }
    for (id, times) in times.into_iter().filter(|&(_, times)| times > 1) {
        let id = quote(id);
        let sentence = format!("{times} stitches are called `{id}`");
        report.say(Code::BadName, Place::Stitches(vec![id]), sentence);
    }
}
