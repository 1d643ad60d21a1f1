//! Names that are lists: "Cetearyl Alcohol (and) Ceteareth-20".

use super::words::words;

/// The INCI names of a list, as written, in order. Commas, semicolons, strokes, line
/// breaks, "and", "(and)" and "&" divide; a comma between digits as in "1,2-Hexanediol"
/// does not.
pub fn parts(text: &str) -> Vec<String> {
    let marked = mark_ands(text);
    if !marked.contains([AND, '\n', ';', ',', '/']) {
        let only = marked.trim();
        return if only.is_empty() {
            Vec::new()
        } else {
            vec![only.to_owned()]
        };
    }
    let letters: Vec<char> = marked.chars().collect();
    let mut parts = vec![String::new()];
    let mut depth = 0_usize;
    for (place, &letter) in letters.iter().enumerate() {
        let digit_at = |at: Option<usize>| {
            at.and_then(|at| letters.get(at))
                .is_some_and(char::is_ascii_digit)
        };
        depth = match letter {
            '(' => depth + 1,
            ')' => depth.saturating_sub(1),
            _ => depth,
        };
        let within_number =
            letter == ',' && digit_at(place.checked_sub(1)) && digit_at(Some(place + 1));
        // "Caprylic/Capric Triglyceride" is one name: a stroke divides between blanks only.
        let stroke = letter == '/'
            && place.checked_sub(1).and_then(|at| letters.get(at)) == Some(&' ')
            && letters.get(place + 1) == Some(&' ');
        let divides = matches!(letter, AND | '\n' | ';') || letter == ',' || stroke;
        if divides && !within_number && depth == 0 {
            parts.push(String::new());
        } else if let Some(part) = parts.last_mut() {
            part.push(letter);
        }
    }
    parts
        .into_iter()
        .map(|p| p.trim().to_owned())
        .filter(|p| !p.is_empty())
        .collect()
}

/// Stands for every spelling of "and".
const AND: char = '\u{1}';

fn mark_ands(text: &str) -> String {
    let lower = text.to_lowercase();
    // Lower case may change the length of odd letters; then only the text as it stands.
    let same = lower.len() == text.len();
    let whole = if same { lower.as_str() } else { text };
    if !words().and.iter().any(|word| whole.contains(word.as_str())) {
        return text.to_owned();
    }
    let mut out = String::with_capacity(text.len());
    let mut at = 0;
    while at < text.len() {
        let rest = if same {
            lower.get(at..)
        } else {
            text.get(at..)
        }
        .unwrap_or_default();
        let word = words()
            .and
            .iter()
            .find(|word| rest.starts_with(word.as_str()));
        if let Some(word) = word {
            out.push(AND);
            at += word.len();
        } else {
            let Some(letter) = text.get(at..).and_then(|r| r.chars().next()) else {
                break;
            };
            out.push(letter);
            at += letter.len_utf8();
        }
    }
    out
}

/// Whether a name says by itself that it is a list: "(and)".
pub fn is_list(name: &str) -> bool {
    let lower = name.to_lowercase();
    let mut and = words().and_in_brackets.iter().map(String::as_str);
    and.any(|word| lower.contains(word)) || lower.contains(" & ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_are_divided() {
        let check = |text: &str, expected: &[&str]| assert_eq!(parts(text), expected, "{text}");
        check(
            "Cetearyl Alcohol (and) Ceteareth-20",
            &["Cetearyl Alcohol", "Ceteareth-20"],
        );
        check(
            "Phenoxyethanol and Ethylhexylglycerin",
            &["Phenoxyethanol", "Ethylhexylglycerin"],
        );
        check(
            "Aqua, 1,2-Hexanediol; Glycerin",
            &["Aqua", "1,2-Hexanediol", "Glycerin"],
        );
        check(
            "Caprylic/Capric Triglyceride",
            &["Caprylic/Capric Triglyceride"],
        );
        check("Aqua (Water) / Glycerin", &["Aqua (Water)", "Glycerin"]);
        check(
            "Iron Oxides (CI 77491, CI 77492)",
            &["Iron Oxides (CI 77491, CI 77492)"],
        );
    }
}
