//! Works (stitch sequences) written as text.

use crate::{Move, Problem};

/// Parses the moves in `text`: words separated by spaces, each a run of `C`
/// (cross) and `T` (twist), or `pin`, `twist-left`, `twist-right`, `pair-cross`,
/// `pair-twist`. For example `CT pin CT`.
///
/// # Errors
/// A word that is none of these, a second pin, or more than 256 moves.
///
/// # Examples
/// ```
/// use pairwise_sdk::{Move::{Cross, Pin, Twist}, work};
///
/// assert_eq!(work("CT pin CT"), Ok(vec![Cross, Twist, Pin, Cross, Twist]));
/// assert!(work("CT pim CT").unwrap_err().sentence.starts_with("`pim` is not a move"));
/// ```
pub fn work(text: &str) -> Result<Vec<Move>, Problem> {
    let mut moves = Vec::new();
    for word in text.split_whitespace() {
        match word {
            "pin" if moves.contains(&Move::Pin) => {
                return Err(Problem::new(format!(
                    "`{text}` has two pins: a stitch holds one at most, write a second stitch for the other"
                )));
            }
            "pin" => moves.push(Move::Pin),
            "twist-left" => moves.push(Move::TwistLeft),
            "twist-right" => moves.push(Move::TwistRight),
            "pair-cross" => moves.push(Move::PairCross),
            "pair-twist" => moves.push(Move::PairTwist),
            _ if word.chars().all(|c| matches!(c, 'C' | 'T')) => {
                moves.extend(word.chars().map(|c| if c == 'C' { Move::Cross } else { Move::Twist }));
            }
            _ => {
                return Err(Problem::new(format!(
                    "`{word}` is not a move: write C, T, pin, twist-left, twist-right, pair-cross or pair-twist"
                )));
            }
        }
    }
    if moves.iter().filter(|m| **m != Move::Pin).count() > 256 {
        return Err(Problem::new("a stitch holds 256 moves at most: write it as several stitches"));
    }
    Ok(moves)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_become_moves() {
        use Move::{Cross, PairCross, PairTwist, Pin, Twist, TwistLeft, TwistRight};
        assert_eq!(work("CT pin CTT").unwrap(), [Cross, Twist, Pin, Cross, Twist, Twist]);
        assert_eq!(
            work(" twist-left twist-right\npair-cross pair-twist ").unwrap(),
            [TwistLeft, TwistRight, PairCross, PairTwist]
        );
        assert_eq!(work("").unwrap(), []);
    }

    #[test]
    fn what_is_no_work_is_named() {
        assert!(work("CT pim CT").unwrap_err().sentence.contains("`pim`"));
        assert!(work("pin C pin").unwrap_err().sentence.contains("two pins"));
        assert_eq!(work(&"C".repeat(256)).unwrap().len(), 256);
        assert!(work(&"C".repeat(257)).unwrap_err().sentence.contains("256"));
    }
}
