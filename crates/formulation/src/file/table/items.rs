//! Recipes in running text: "- 70 % water", "Glycerin: 5 g", "Phase A: 70 % water, 5 %
//! glycerin".

use super::amounts::{self, Reading, Written};
use super::phase_words::phase_heading;
use crate::amount::number::DecimalMark;

/// A material and how much of it.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Item {
    pub(super) name: String,
    pub(super) reading: Reading,
}

/// What a line of text says.
#[derive(Clone, PartialEq, Debug, Default)]
pub(super) struct Items {
    /// The phase it begins, in its words.
    pub(super) phase: Option<String>,
    /// Materials with amounts.
    pub(super) lines: Vec<Item>,
    /// Pieces of a list in which no amount stands.
    pub(super) rest: Vec<String>,
}

/// Reads a line of text.
pub(super) fn items(text: &str, mark: Option<DecimalMark>) -> Items {
    let text = without_bullet(text);
    let mut found = Items::default();
    let mut body = text;
    if let Some((before, after)) = text.split_once(':')
        && !after.trim().is_empty()
        && phase_heading(before).is_some()
    {
        found.phase = Some(before.trim().to_owned());
        body = after.trim();
    }
    // One material, even with a comma in its name.
    let whole = item(body, mark);
    let pieces = pieces(body);
    let amounts_in_pieces = pieces.iter().filter(|p| item(p, mark).is_some()).count();
    if amounts_in_pieces < 2 {
        match whole.or_else(|| joined(&pieces, mark)) {
            Some(item) => found.lines.push(item),
            None => found.phase = None,
        }
        return found;
    }
    // Of pieces without an amount, "demineralised" belongs to the water before or after
    // it, depending on which side the amounts stand.
    let amount_first = pieces.iter().find_map(|p| leading(p, mark)).is_some()
        && pieces.first().is_some_and(|p| leading(p, mark).is_some());
    let mut open: Vec<&str> = Vec::new();
    for piece in &pieces {
        match item(piece, mark) {
            Some(mut one) => {
                if !open.is_empty() && !amount_first {
                    one.name = format!("{}, {}", open.join(", "), one.name);
                }
                open.clear();
                found.lines.push(one);
            }
            None if amount_first => match found.lines.last_mut() {
                Some(last) => last.name = format!("{}, {piece}", last.name),
                None => found.rest.push((*piece).to_owned()),
            },
            None => open.push(piece),
        }
    }
    found.rest.extend(open.into_iter().map(str::to_owned));
    found
}

/// A line without its bullet or number: "- ", "• ", "3. ", "b) ".
fn without_bullet(text: &str) -> &str {
    let text = text.trim();
    let bare = text.trim_start_matches(['•', '·', '‣', '▪', '◦', '●', '○']);
    if bare.len() < text.len() {
        return bare.trim();
    }
    for bullet in ["- ", "* ", "– ", "— ", "+ ", "[ ] ", "[x] "] {
        if let Some(rest) = text.strip_prefix(bullet) {
            return without_bullet(rest);
        }
    }
    let digits = text.bytes().take_while(u8::is_ascii_digit).count();
    if (1..=2).contains(&digits)
        && let Some(rest) = text.get(digits..)
        && let Some(rest) = rest.strip_prefix(". ").or_else(|| rest.strip_prefix(") "))
    {
        return rest.trim();
    }
    text
}

/// The pieces of a list: parted by semicolons, by commas that are no decimal marks, and
/// by "and" before an amount.
fn pieces(text: &str) -> Vec<&str> {
    let mut pieces = Vec::new();
    let mut start = 0;
    let mut depth = 0_usize;
    let letters: Vec<(usize, char)> = text.char_indices().collect();
    for (n, &(place, letter)) in letters.iter().enumerate() {
        let digit = |at: Option<usize>| {
            at.and_then(|at| letters.get(at))
                .is_some_and(|(_, c)| c.is_ascii_digit())
        };
        depth = match letter {
            '(' => depth + 1,
            ')' => depth.saturating_sub(1),
            _ => depth,
        };
        let decimal = letter == ',' && digit(n.checked_sub(1)) && digit(Some(n + 1));
        if depth == 0 && matches!(letter, ',' | ';' | '|') && !decimal {
            pieces.push(text.get(start..place).unwrap_or_default());
            start = place + letter.len_utf8();
        }
    }
    pieces.push(text.get(start..).unwrap_or_default());
    pieces
        .into_iter()
        .flat_map(|piece| {
            // "5 % glycerin and 3 % betaine".
            match piece
                .split_once(" and ")
                .or_else(|| piece.split_once(" und "))
            {
                Some((a, b))
                    if a.contains(|c: char| c.is_ascii_digit())
                        && b.contains(|c: char| c.is_ascii_digit()) =>
                {
                    vec![a, b]
                }
                _ => vec![piece],
            }
        })
        .map(|p| p.trim().trim_end_matches('.').trim())
        .map(|p| {
            p.strip_prefix("and ")
                .or_else(|| p.strip_prefix("und "))
                .unwrap_or(p)
        })
        .filter(|p| !p.is_empty())
        .collect()
}

/// All pieces as one material, whose name has commas.
fn joined(pieces: &[&str], mark: Option<DecimalMark>) -> Option<Item> {
    let (place, mut one) = pieces
        .iter()
        .enumerate()
        .find_map(|(n, p)| Some((n, item(p, mark)?)))?;
    let names: Vec<&str> = pieces
        .iter()
        .enumerate()
        .map(|(n, p)| if n == place { one.name.as_str() } else { *p })
        .collect();
    one.name = names.join(", ");
    Some(one)
}

/// Whether an amount with a unit stands in a text that is nothing else.
fn amount(part: &str, mark: Option<DecimalMark>) -> Option<Reading> {
    let part = part.trim().trim_matches([':', '=']).trim();
    let reading = amounts::read(part, None, mark).ok()?;
    // A bare number may be part of a name: "Polysorbate 20".
    (!matches!(reading.written, Written::Bare(_))).then_some(reading)
}

/// The longest run of words at the start that is an amount, and the rest.
fn leading(text: &str, mark: Option<DecimalMark>) -> Option<(Reading, &str)> {
    split_points(text)
        .into_iter()
        .rev()
        .filter(|&at| {
            text.get(..at)
                .is_some_and(|t| t.split_whitespace().count() <= 5)
        })
        .find_map(|at| {
            let rest = text.get(at..)?;
            Some((amount(text.get(..at)?, mark)?, rest)).filter(|_| !rest.trim().is_empty())
        })
}

/// The longest run of words at the end that is an amount, and what stands before it.
fn trailing(text: &str, mark: Option<DecimalMark>) -> Option<(Reading, &str)> {
    split_points(text).into_iter().find_map(|at| {
        let (name, end) = (text.get(..at)?, text.get(at..)?);
        if end.split_whitespace().count() > 6 || name.trim().is_empty() {
            return None;
        }
        Some((amount(end, mark)?, name))
    })
}

/// Where words begin, besides the first.
fn split_points(text: &str) -> Vec<usize> {
    let mut points = Vec::new();
    let mut blank = false;
    for (place, letter) in text.char_indices() {
        if blank && !letter.is_whitespace() && place > 0 {
            points.push(place);
        }
        blank = letter.is_whitespace() || matches!(letter, ':' | '=' | '\t');
    }
    points
}

fn item(text: &str, mark: Option<DecimalMark>) -> Option<Item> {
    let text = without_bullet(text);
    // "Water (70 %)".
    if let Some((name, inner)) = text.strip_suffix(')').and_then(|t| t.rsplit_once('('))
        && !name.trim().is_empty()
        && let Some(reading) = amount(inner, mark)
        && trailing(name.trim(), mark).is_none()
        && leading(name.trim(), mark).is_none()
    {
        return Some(Item {
            name: strip_marks(name),
            reading,
        });
    }
    let (reading, name) = leading(text, mark).or_else(|| trailing(text, mark))?;
    let name = strip_marks(name);
    let name = ["of ", "de ", "d'", "di "]
        .iter()
        .find_map(|w| name.strip_prefix(w))
        .map_or(name.clone(), str::to_owned);
    name.contains(char::is_alphabetic)
        .then_some(Item { name, reading })
}

fn strip_marks(name: &str) -> String {
    name.trim_matches(|c: char| {
        c.is_whitespace() || matches!(c, ':' | '-' | '–' | '—' | ',' | '•' | '.' | '=' | '…')
    })
    .to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, phase: Option<&str>, expected: &[&str]) {
        let found = items(text, None);
        assert_eq!(found.phase.as_deref(), phase, "{text}");
        let names: Vec<&str> = found.lines.iter().map(|l| l.name.as_str()).collect();
        assert_eq!(names, expected, "{text}");
    }

    #[test]
    fn lines_of_text_are_divided() {
        check("- 70 % water", None, &["water"]);
        check("• Glycerin: 5 g", None, &["Glycerin"]);
        check("3. Olive oil – 25,0 %", None, &["Olive oil"]);
        check("Water, demineralised 70 %", None, &["Water, demineralised"]);
        check("Water (70 %)", None, &["Water"]);
        check("Polysorbate 20", None, &[]);
        check("Polysorbate 20 3 %", None, &["Polysorbate 20"]);
        check(
            "Phase A: 70 % water, 5 % glycerin",
            Some("Phase A"),
            &["water", "glycerin"],
        );
        check("Phase B: 20 % olive oil", Some("Phase B"), &["olive oil"]);
        check(
            "70,5 % water, demineralised, 5 % glycerin and 3 % betaine",
            None,
            &["water, demineralised", "glycerin", "betaine"],
        );
        check("Water q.s. to 100", None, &["Water"]);
        check("20 drops of lavender oil", None, &["lavender oil"]);
        check("Heat to 75 °C and stir", None, &[]);
    }
}
