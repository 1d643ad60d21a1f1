//! So many pieces of one size make a batch of all of them: "5 bars of 80 g", "12 tins, 30 g each",
//! "eight 2 oz jars".

use rust_decimal::Decimal;

use super::words::words;
use crate::naming::words_of;

/// More pieces are no count of them.
const MOST: u32 = 10_000;

/// A whole number, in digits or as a word that lists know: "5", "eight".
fn count(word: &str) -> Option<Decimal> {
    let bare = word.trim_matches(|c: char| !c.is_alphanumeric());
    let number = if let Ok(number) = bare.parse::<u32>() {
        number
    } else {
        let folded = words_of(bare).concat();
        let counts = &words().counts;
        let place = counts.iter().position(|all| all.contains(&folded))?;
        u32::try_from(place).ok()? + 1
    };
    (1..=MOST).contains(&number).then(|| Decimal::from(number))
}

fn is_piece(word: &str) -> bool {
    let folded = words_of(word).concat();
    words().pieces.contains(&folded)
}

/// Whether a word says that something is so for each: "each", "chacun", "cadauno".
fn is_apiece(word: &str) -> bool {
    words().apiece.contains(&words_of(word).concat())
}

/// Whether a word stands between pieces and the size of each: "of", "à", "zu je", "da", "po".
fn joins(word: &str) -> bool {
    matches!(word, "x" | "×" | "@" | "–" | "-")
        || words_of(word).iter().any(|w| words().of_each.contains(w))
}

/// How many pieces there are of the size that stands between some words: the count before the
/// pieces and a joining word, before a sign of multiplication, or, where the pieces stand behind
/// the size, right before it.
pub(super) fn count_of(before: &[&str], behind: &[&str]) -> Option<Decimal> {
    let joints = before.iter().rev().take_while(|word| joins(word)).count();
    let rest = before.get(..before.len() - joints)?;
    if let [.., number, piece] = rest
        && is_piece(piece)
    {
        // "12 tins, 30 g each" says it behind; "4 tins, 200 g" is 200 g in all.
        let apiece = behind.iter().take(2).any(|word| is_apiece(word));
        return count(number).filter(|_| joints > 0 || apiece);
    }
    let times = before
        .last()
        .is_some_and(|word| matches!(*word, "x" | "×" | "X"));
    if times && joints == 1 {
        return count(rest.last()?);
    }
    // "Eight 2 oz jars": the unit may be a word of its own.
    let named = behind.iter().take(2).any(|word| is_piece(word));
    count(before.last()?).filter(|_| named && joints == 0)
}

#[cfg(test)]
mod tests {
    use super::super::amounts::masses_in;

    fn grams(text: &str) -> Vec<String> {
        let all = masses_in(text).into_iter();
        all.map(|g| g.round_dp(1).normalize().to_string()).collect()
    }

    #[test]
    fn pieces_of_one_size_are_a_batch_of_all() {
        for text in [
            "makes 5 bars of 80 g",
            "5 Stück zu je 80 g",
            "5 Stück à 80 g",
            "pour 5 savons de 80 g",
            "para 5 pastillas de 80 g",
            "per 5 saponette da 80 g",
            "voor 5 stukken van 80 g",
            "na 5 kostek po 80 g",
            "5 × 80 g",
            "5 x 80 g",
            "five bars, 80 g each",
            "5 Stück, je 80 g",
            "5 barres, 80 g chacune",
            "5 saponette, 80 g ciascuna",
            "5 kostek, każda 80 g",
            "five 80 g bars",
        ] {
            assert_eq!(grams(text), ["400"], "{text}");
        }
        assert_eq!(grams("Fills eight 2 oz tins."), ["453.6"]);
    }

    #[test]
    fn a_mass_alone_is_one_mass() {
        for (text, mass) in [
            ("makes 2 kg", "2000"),
            ("1 kg für 8 Stück", "1000"),
            ("Lot 7 de 1200 g", "1200"),
            ("1 jar of 200 g", "200"),
            ("Version 3, 250 g", "250"),
            ("g (frasco de 50 g)", "50"),
            ("makes 4 tins, 200g", "200"),
            ("ergibt 4 Dosen, 200 g", "200"),
        ] {
            assert_eq!(grams(text), [mass], "{text}");
        }
    }
}
