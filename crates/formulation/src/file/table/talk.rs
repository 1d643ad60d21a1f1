//! Texts of chats and letters: what stands in front of each line, and units that a text shortens
//! in a way of its own.

use super::amounts;
use crate::naming::words_of;

/// A text of a chat without the day, the hour and the name in front of its lines; its lines stay
/// where they are. `None` if it is none.
pub(super) fn without_stamps(text: &str) -> Option<String> {
    /// Fewer lines may begin so for another reason.
    const ENOUGH: usize = 3;
    let filled = || text.lines().filter(|l| !l.trim().is_empty());
    let stamped = filled().filter_map(without_stamp).count();
    // What one says may go over several lines.
    let begins = filled()
        .next()
        .is_some_and(|first| without_stamp(first).is_some());
    let most = stamped * 2 > filled().count();
    (stamped >= ENOUGH && (begins || most)).then(|| {
        let bare = |line| without_stamp(line).unwrap_or(line);
        text.lines().map(bare).collect::<Vec<_>>().join("\n")
    })
}

/// What is said behind a stamp: "[21/10/2026, 19:03] Bryn: jojoba oil 40 %".
fn without_stamp(line: &str) -> Option<&str> {
    /// Hardly anybody's name has more words.
    const MOST_WORDS: usize = 4;
    let line = line.trim();
    let of_stamp = |c: char| c.is_ascii_digit() || c.is_whitespace() || "[]()/.,:-–".contains(c);
    let end = line.find(|c| !of_stamp(c))?;
    let (stamp, rest) = line.split_at(end);
    let rest = ["AM", "PM", "am", "pm", "a.m.", "p.m.", "Uhr"]
        .into_iter()
        .find_map(|half| rest.strip_prefix(half))
        .unwrap_or(rest);
    let rest = rest.trim_start_matches([']', ')', ' ', '-', '–', ',']);
    let (who, said) = rest.split_once(": ")?;
    let is_name = who.starts_with(char::is_alphabetic)
        && who.split_whitespace().count() <= MOST_WORDS
        && !who.contains(|c: char| c.is_ascii_digit());
    (has_hour(stamp) && is_name).then_some(said.trim())
}

/// Whether a stamp has an hour and its minutes.
fn has_hour(stamp: &str) -> bool {
    let letters: Vec<char> = stamp.chars().collect();
    let mut around = letters.windows(3);
    around.any(|w| matches!(w, [a, ':', b] if a.is_ascii_digit() && b.is_ascii_digit()))
}

/// A text in which the short form that it gives to "parts" is spelt out behind numbers: "(T. =
/// parts by weight)". `None` if it gives none.
pub(super) fn with_units_spelt_out(text: &str) -> Option<String> {
    let short = text.lines().find_map(short_for_parts)?;
    let mut changed = false;
    let line = |line: &str| {
        let mut words: Vec<String> = Vec::new();
        for word in line.split(' ') {
            let begins = words.last().is_some_and(|last| is_number(last));
            let (word, more) = word
                .split_once('\t')
                .map_or((word, None), |(w, m)| (w, Some(m)));
            let spelt = if begins && word == short {
                changed = true;
                "parts"
            } else {
                word
            };
            words.push(match more {
                Some(more) => format!("{spelt}\t{more}"),
                None => spelt.to_owned(),
            });
        }
        words.join(" ")
    };
    let lines: Vec<String> = text.lines().map(line).collect();
    changed.then(|| lines.join("\n"))
}

fn is_number(word: &str) -> bool {
    let word = word.rsplit('\t').next().unwrap_or_default();
    word.ends_with(|c: char| c.is_ascii_digit())
}

/// The short form in "T. = Gewichtsteile", "pt = parts".
fn short_for_parts(line: &str) -> Option<&str> {
    /// A short form has hardly more letters.
    const LONGEST: usize = 4;
    let (before, after) = line.split_once(" = ")?;
    let short = before.rsplit([' ', '(', '\t']).next()?;
    let meant = words_of(after.split([' ', ')', ',']).next()?).concat();
    let is_short =
        (1..=LONGEST).contains(&short.chars().count()) && short.starts_with(char::is_alphabetic);
    (is_short && amounts::names_parts(&meant)).then_some(short)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_said_in_a_chat_is_kept() {
        let chat = "[21/10/2026, 19:02] Bryn: the oil\n21/10/2026, 19:03 - Bryn: jojoba oil 40%\n7:03 pm Ann B: squalane 60%\n";
        assert_eq!(
            without_stamps(chat).unwrap(),
            "the oil\njojoba oil 40%\nsqualane 60%"
        );
        let over_lines = "[3/11/26, 19:02] Ann: body butter\n[3/11/26, 19:03] Ann: shea butter 80 g\ncoconut oil 50 g\nsunflower oil 40 g\ncorn starch 16 g\nvitamin E 2 g\n[3/11/26, 19:07] Ben: thanks\n";
        assert!(
            without_stamps(over_lines)
                .unwrap()
                .contains("\nshea butter 80 g\n")
        );
        assert_eq!(
            without_stamps("Phase A: water\nNote: 5\n12:30 tea: 5\n"),
            None
        );
        assert_eq!(without_stamp("70 % water: 5"), None);
    }

    #[test]
    fn a_short_form_is_spelt_out_where_the_text_says_what_it_is() {
        let text = "Balm (T. = Gewichtsteile)\n4 T.\tBeeswax\n5 T. Shea butter";
        let spelt = "Balm (T. = Gewichtsteile)\n4 parts\tBeeswax\n5 parts Shea butter";
        assert_eq!(with_units_spelt_out(text).unwrap(), spelt);
        assert_eq!(with_units_spelt_out("4 T. Beeswax\n5 T. Oil"), None);
    }
}
