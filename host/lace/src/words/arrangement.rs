//! Names of colour arrangements as spoken.

use crate::colour::arrangement_name::ArrangementName;
use crate::words::number::spelt;

impl ArrangementName {
    /// The name as spoken: `one in four`, `two and two`.
    pub fn words(&self) -> String {
        match *self {
            ArrangementName::OneIn(n) => format!("one in {}", spelt(n)),
            ArrangementName::InTurn(n) => format!("{0} and {0}", spelt(n)),
            other => other.to_string().replace('-', " "),
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::colour::arrangement::Arrangement;
    use crate::colour::arrangement_name::ArrangementName;

    #[test]
    fn arrangements_have_their_spoken_names() {
        for (arrangement, words) in [
            ("3A", Some("one colour")),
            ("A A A B", Some("one in four")),
            ("B A A A A", Some("one in five")),
            ("A B", Some("one and one")),
            ("A B B A", Some("two and two")),
            ("2A 2B 2A 2B", Some("two and two")),
            ("3A 3B", Some("three and three")),
            ("4A 4B", Some("half and half")),
            ("A B C", Some("one and one")),
            ("2A 2B C", Some("graded")),
            ("A B C B", Some("symmetrical")),
            ("2A 3B", Some("symmetrical")),
            ("A A B A B B", None),
            ("A/B A", None),
        ] {
            let name = arrangement.parse::<Arrangement>().unwrap().name();
            assert_eq!(name.map(|n| n.words()).as_deref(), words, "{arrangement}");
            if let Some(name) = name {
                assert_eq!(name.to_string().parse(), Ok(name));
            }
        }
        for wrong in ["", "one-in-0", "2-and-3", "one in four"] {
            assert!(wrong.parse::<ArrangementName>().is_err(), "{wrong}");
        }
    }
}
