//! Amounts of a text that stand in the line below their names, or above them: they are put beside
//! them.

use super::amounts;
use super::items::items;

/// Fewer may stand so by chance.
const ENOUGH: usize = 3;

/// Whether a line is nothing but an amount.
fn is_amount(line: &str) -> bool {
    let line = line.trim();
    line.starts_with(|c: char| c.is_ascii_digit()) && amounts::is_amount(line)
}

/// Whether a line may name a material: words, and no amount among them.
fn is_name(line: &str) -> bool {
    /// Longer ones are sentences.
    const MOST_WORDS: usize = 8;
    let line = line.trim();
    line.contains(char::is_alphabetic)
        && !line.ends_with([':', '.', '!', '?'])
        && line.split_whitespace().count() <= MOST_WORDS
        && !line.contains(['|', '\t', ';'])
        && !is_amount(line)
        && items(line, None, false).lines.is_empty()
}

/// A text in which each amount stands behind its name, its lines where they are but for the one
/// that is empty then; `None` if they do not stand below or above each other throughout.
pub(super) fn joined(text: &str) -> Option<String> {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    let of_amounts: Vec<usize> = (0..lines.len())
        .filter(|&row| lines.get(row).is_some_and(|line| is_amount(line)))
        .collect();
    if of_amounts.len() < ENOUGH {
        return None;
    }
    let named = |row: Option<usize>| {
        row.and_then(|row| lines.get(row))
            .is_some_and(|l| is_name(l))
    };
    let pairs = |name_of: fn(usize) -> Option<usize>| -> Option<Vec<(usize, usize)>> {
        let all = of_amounts.iter().map(|&row| {
            let name = name_of(row);
            named(name).then_some((name?, row))
        });
        all.collect()
    };
    let below = pairs(|row| row.checked_sub(1));
    // Where names stand on both sides, as in a list without blank lines, those above are meant.
    let pairs = below.or_else(|| pairs(|row| row.checked_add(1)))?;
    for (name, amount) in pairs {
        let said = lines.get(amount).map(|line| line.trim().to_owned())?;
        let line = lines.get_mut(name)?;
        *line = format!("{}  {said}", line.trim());
        lines.get_mut(amount)?.clear();
    }
    Some(lines.join("\n"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_go_beside_the_names_above_or_below_them() {
        let text = "Beard oil\n(tin of 40 g)\n\nJojoba oil\n   16 g\nHemp oil\n   10 g\nCastor oil\n   4.8 g\n\nShake well.";
        let joined_text = joined(text).unwrap();
        assert!(joined_text.contains("Jojoba oil  16 g\n\nHemp oil  10 g"));
        assert!(joined_text.ends_with("Shake well."));
        let text = "Salve\n\n70 g\nOlive oil\n\n20 g\nBeeswax\n\n10 g\nShea butter\n";
        assert!(joined(text).unwrap().contains("Beeswax  20 g"));
        // One amount without a name, and a list with both in a line.
        assert!(joined("Oil\n5 g\nWax\n6 g\nMelt.\n7 g\n").is_none());
        assert!(joined("Olive oil 70 g\nBeeswax 20 g\nShea butter 10 g\n").is_none());
    }
}
