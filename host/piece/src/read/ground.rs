//! Grounds, looked up by name, with their choices and the stitch that is laid on its
//! place.

use std::ops::Range;

use catalogue::near::{did_you_mean, listed, near_names};
use catalogue::text::clean_and_cut;
use catalogue::{About, Change, ChooseError, GroundName, LeftOut, Meant};
use lace::{Ground, quote};
use toml::de::DeValue;

use super::value::Fields;
use super::{LINE_CHARS, Reader};
use crate::design::DesignGround;

/// Finds the ground with a name.
pub type LookUp<'a> = dyn Fn(&str) -> Result<Meant, Missing> + 'a;

/// Why there is no ground with a name.
#[derive(Debug)]
pub enum Missing {
    /// The catalogue does not have it.
    Choose(ChooseError),
    /// It cannot be used.
    Other {
        /// Why, in one sentence.
        sentence: String,
        /// What to do.
        remedy: String,
    },
}

impl From<ChooseError> for Missing {
    fn from(why: ChooseError) -> Missing {
        Missing::Choose(why)
    }
}

impl Reader<'_> {
    /// The ground of the piece.
    pub(super) fn ground(&mut self, fields: &mut Fields<'_>) -> Option<DesignGround> {
        let Some(mut part) = self.part(fields, "ground") else {
            if fields.get("ground").is_none() {
                self.missing(
                    fields,
                    "ground",
                    "the part [ground] with a line, for example name = \"torchon\"",
                );
            }
            return None;
        };
        self.places.ground = part.at.clone();
        let found = self.chosen(&mut part, "name", "first-pin");
        self.leave(&part);
        found
    }

    /// A ground by its name, with its choices, and the stitch that lies on the place.
    pub(super) fn chosen(
        &mut self,
        part: &mut Fields<'_>,
        key: &'static str,
        anchor: &'static str,
    ) -> Option<DesignGround> {
        let (name, with, anchor) = (part.get(key), part.get("with"), part.get(anchor));
        let example = format!("{key} = \"torchon\"; `pairwise grounds` lists all grounds");
        let Some(name) = name else {
            self.missing(part, key, &format!("a line, for example {example}"));
            return None;
        };
        let at = name.span();
        let written = self.words(name, &example)?;
        let Meant { entry, variety } = match (self.look_up)(written) {
            Ok(meant) => meant,
            Err(why) => {
                self.not_found(written, why, at);
                return None;
            }
        };
        let (about, variety) = (entry.about(), variety.as_deref());
        if let Err(why) = about.resolve(variety, &[]) {
            self.fault(at, why.to_string(), lists(about));
            return None;
        }
        let with = match with {
            None => Vec::new(),
            Some(value) => match value.get_ref() {
                DeValue::Table(table) => {
                    let mut changes = Vec::new();
                    for (choice, value) in table {
                        changes.extend(self.change_of(about, variety, choice, value));
                    }
                    changes
                }
                _ => {
                    let remedy = "for example with = { crossing = \"cloth\" }";
                    self.fault(value.span(), "choices stand in braces, each with its value", remedy);
                    Vec::new()
                }
            },
        };
        let chosen = match entry.choose(variety, &with) {
            Ok(chosen) => chosen,
            Err(why) => {
                let remedy = "choose another variety or other choices; `pairwise check`, with the same name, says more";
                self.fault(at, why.to_string(), remedy);
                return None;
            }
        };
        let anchor = match anchor {
            None => highest_pin(&chosen.ground),
            Some(value) => {
                let id = self.words(value, "anchor = \"top\"")?;
                let ids: Vec<&str> = chosen.ground.stitches().iter().map(|s| s.id.as_str()).collect();
                match ids.iter().position(|known| *known == id) {
                    Some(stitch) => stitch,
                    None => {
                        let sentence = format!("this ground has no stitch `{}`", quote(id));
                        let all = format!("its stitches are {}", listed(&ids));
                        self.fault(
                            value.span(),
                            sentence,
                            did_you_mean(&near_names(id, ids.iter().copied()), &all),
                        );
                        return None;
                    }
                }
            }
        };
        Some(DesignGround { with, chosen, anchor })
    }

    fn change_of(
        &mut self,
        about: &About,
        variety: Option<&str>,
        choice: &toml::Spanned<std::borrow::Cow<'_, str>>,
        value: &super::value::Value<'_>,
    ) -> Option<Change> {
        let text = match value.get_ref() {
            DeValue::String(text) => text.to_string(),
            DeValue::Integer(whole) => whole.as_str().to_owned(),
            DeValue::Boolean(yes) => yes.to_string(),
            _ => {
                let sentence = "a choice takes a word in quotation marks or a whole number";
                self.fault(value.span(), sentence, lists(about));
                return None;
            }
        };
        let change = Change::new(choice.get_ref().as_ref(), text);
        match about.resolve(variety, std::slice::from_ref(&change)) {
            Ok(_) => Some(change),
            Err(why) => {
                let known = about.choices.contains_key(choice.get_ref().as_ref());
                self.fault(if known { value.span() } else { choice.span() }, why.to_string(), lists(about));
                None
            }
        }
    }

    fn not_found(&mut self, name: &str, why: Missing, at: Range<usize>) {
        match why {
            Missing::Other { sentence, remedy } => self.fault(at, sentence, remedy),
            Missing::Choose(ChooseError::UnknownGround { near, left_out, .. }) => {
                let id = GroundName::from(name).ground;
                let is_its_file = |left_out: &&LeftOut| {
                    let stem = left_out.file.strip_suffix(".wasm");
                    stem.is_some_and(|stem| stem.rsplit(['/', '\\']).next() == Some(id.as_str()))
                };
                if let Some(LeftOut { file, why }) = left_out.iter().find(is_its_file) {
                    let sentence =
                        format!("the contribution {file} could not be used: {}", why.trim_end_matches('.'));
                    return self.fault(
                        at,
                        sentence,
                        "`pairwise check` with its file says what is wrong with it",
                    );
                }
                let remedy = did_you_mean(&near, "`pairwise grounds` lists all grounds");
                self.fault(
                    at,
                    format!("the ground `{}` is not known", clean_and_cut(&id, LINE_CHARS)),
                    remedy,
                );
            }
            Missing::Choose(why @ ChooseError::Ambiguous { .. }) => {
                self.fault(at, why.to_string(), "write one of them")
            }
            Missing::Choose(why) => self.fault(at, why.to_string(), "`pairwise grounds` lists all grounds"),
        }
    }
}

fn lists(about: &About) -> String {
    format!("`pairwise grounds {}` lists its varieties and choices", about.id)
}

/// The highest stitch with a pin; of those side by side, the leftmost. Without any pin,
/// the highest stitch.
fn highest_pin(ground: &Ground) -> usize {
    let (places, stitches) = (ground.places(), ground.stitches());
    let key = |&k: &usize| (stitches[k].stitch.pin().is_none(), places[k]);
    let numbers = 0..stitches.len();
    let highest = numbers.min_by(|a, b| {
        let ((a_bare, a), (b_bare, b)) = (key(a), key(b));
        a_bare.cmp(&b_bare).then(a.y.total_cmp(&b.y)).then(a.x.total_cmp(&b.x))
    });
    highest.unwrap_or(0)
}
