//! Names of grounds: `GROUND`, or `GROUND/VARIETY`.

use std::fmt;

/// A ground and optionally one of its varieties, as typed.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct GroundName {
    /// Id of the ground.
    pub ground: String,
    /// Id of the variety; `None` for the usual variety, or all of them.
    pub variety: Option<String>,
}

impl GroundName {
    /// A variety of a ground.
    pub fn of_variety(ground: &str, variety: &str) -> GroundName {
        GroundName { ground: ground.to_owned(), variety: Some(variety.to_owned()) }
    }
}

impl From<&str> for GroundName {
    /// Reads a name, without checking that the ground exists.
    fn from(text: &str) -> GroundName {
        match text.split_once('/') {
            Some((ground, variety)) => GroundName::of_variety(ground, variety),
            None => GroundName { ground: text.to_owned(), variety: None },
        }
    }
}

impl fmt::Display for GroundName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.ground)?;
        self.variety.iter().try_for_each(|variety| write!(f, "/{variety}"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_read_back_as_written() {
        for text in ["rose", "rose/plain", "rose/", "/plain", "rose/a/b", ""] {
            assert_eq!(GroundName::from(text).to_string(), text);
        }
        assert_eq!(GroundName::from("rose").variety, None);
        assert_eq!(GroundName::from("rose/a/b"), GroundName::of_variety("rose", "a/b"));
    }
}
