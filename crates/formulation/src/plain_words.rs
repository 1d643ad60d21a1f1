//! Words without capitals, accents and marks: what every comparison of names begins with.

/// The words of a text: letters and digits in lower case without accents. A hyphen
/// between digits stays, so that a CAS number is one word.
pub fn words_of(text: &str) -> Vec<String> {
    let mut words = Vec::new();
    let mut word = String::new();
    let mut letters = text.chars().peekable();
    let mut after_digit = false;
    while let Some(c) = letters.next() {
        // Most letters are plain ones.
        if c.is_ascii_alphanumeric() {
            word.push(c.to_ascii_lowercase());
        // A number in a circle is a word by itself.
        } else if let Some(label) = circled(c) {
            if !word.is_empty() {
                words.push(std::mem::take(&mut word));
            }
            words.push(label.to_lowercase());
        // The marks of footnotes belong to no word.
        } else if c.is_alphanumeric() && !matches!(c, '¹' | '²' | '³' | '⁴'..='⁹') {
            push_plain(c, &mut word);
        } else if c == '-' && after_digit && letters.peek().is_some_and(char::is_ascii_digit) {
            word.push('-');
        } else if !word.is_empty() {
            words.push(std::mem::take(&mut word));
        }
        after_digit = c.is_ascii_digit();
    }
    if !word.is_empty() {
        words.push(word);
    }
    words
}

/// The number or letter that a sign has in a circle: "①" is "1", "Ⓐ" is "A". The signs are those
/// of the block Enclosed Alphanumerics and of the Dingbats (Unicode 15.0).
pub fn circled(sign: char) -> Option<String> {
    if sign < '\u{2460}' {
        return None;
    }
    let number = |first: u32, from: u32| (u32::from(sign) - first + from).to_string();
    let letter = |first: u32| char::from_u32(u32::from('A') + u32::from(sign) - first);
    match u32::from(sign) {
        0x2460..=0x2473 => Some(number(0x2460, 1)),
        0x24EB..=0x24F4 => Some(number(0x24EB, 11)),
        0x24F5..=0x24FE => Some(number(0x24F5, 1)),
        0x2776..=0x277F => Some(number(0x2776, 1)),
        0x2780..=0x2789 => Some(number(0x2780, 1)),
        0x278A..=0x2793 => Some(number(0x278A, 1)),
        0x24B6..=0x24CF => letter(0x24B6).map(String::from),
        0x24D0..=0x24E9 => letter(0x24D0).map(String::from),
        _ => None,
    }
}

/// Adds a letter in lower case, and without its accent if it is a Latin one.
fn push_plain(c: char, word: &mut String) {
    if c.is_ascii() {
        word.push(c.to_ascii_lowercase());
        return;
    }
    for c in c.to_lowercase() {
        let plain = match c {
            'à'..='å' | 'ā' | 'ă' | 'ą' => "a",
            'æ' => "ae",
            'ç' | 'ć' | 'č' => "c",
            'è'..='ë' | 'ē' | 'ę' | 'ě' => "e",
            'ì'..='ï' | 'ī' | 'ı' => "i",
            'ñ' | 'ń' | 'ň' => "n",
            'ò'..='ö' | 'ø' | 'ō' | 'ő' => "o",
            'œ' => "oe",
            'ù'..='ü' | 'ū' | 'ů' | 'ű' => "u",
            'ý' | 'ÿ' => "y",
            'ß' => "ss",
            'ś' | 'š' | 'ş' => "s",
            'ź' | 'ż' | 'ž' => "z",
            'ł' => "l",
            'ď' | 'đ' => "d",
            'ť' | 'ţ' => "t",
            'ř' => "r",
            'ğ' => "g",
            // The combining dot that lower-casing a capital dotted I leaves behind.
            '\u{307}' => "",
            // "NaHCO₃".
            '₀'..='₉' => {
                word.extend(char::from_digit(u32::from(c) - u32::from('₀'), 10));
                continue;
            }
            other => {
                word.push(other);
                continue;
            }
        };
        word.push_str(plain);
    }
}

/// A name without capitals, accents and marks: its words joined by blanks.
pub fn plain(text: &str) -> String {
    words_of(text).join(" ")
}

/// A text as the beginning of a sentence: with a capital letter in front; pH keeps its small one.
pub fn sentence(text: &str) -> String {
    if text.starts_with("pH") {
        return text.to_owned();
    }
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// A text in which a figure and its unit stay in one line: the blank before a per cent sign or
/// a unit becomes one at which no line ends.
pub fn unparted(text: &str) -> String {
    const UNITS: [&str; 11] = [
        "g", "kg", "mg", "oz", "lb", "ml", "l", "%", "°C", "min", "g/ml",
    ];
    let mut whole = String::with_capacity(text.len() + 2);
    let mut before: Option<&str> = None;
    for word in text.split(' ') {
        let ends_in_digit = |w: &str| w.ends_with(|c: char| c.is_ascii_digit());
        let unit = word.trim_end_matches([',', ';', '.', ')']);
        if let Some(before) = before {
            let joined = ends_in_digit(before) && UNITS.contains(&unit);
            whole.push(if joined { '\u{A0}' } else { ' ' });
        }
        whole.push_str(word);
        before = Some(word);
    }
    whole
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_keeps_its_unit() {
        for (text, whole) in [
            (
                "Cocamidopropyl betaine solution 30 %",
                "Cocamidopropyl betaine solution 30\u{A0}%",
            ),
            ("12.5 g, then 3 kg", "12.5\u{A0}g, then 3\u{A0}kg"),
            ("Polysorbate 20 in water", "Polysorbate 20 in water"),
            ("a % of it", "a % of it"),
            ("", ""),
        ] {
            assert_eq!(unparted(text), whole);
        }
    }

    #[test]
    fn a_sentence_begins_large_and_ph_small() {
        assert_eq!(sentence("as weighed"), "As weighed");
        assert_eq!(sentence("pH 5.2 was measured"), "pH 5.2 was measured");
    }

    #[test]
    fn signs_in_circles_are_words() {
        assert_eq!(words_of("①Water ⑫ Ⓑ"), ["1", "water", "12", "b"]);
        assert_eq!(circled('❸').as_deref(), Some("3"));
        assert_eq!(circled('○'), None);
        assert_eq!(words_of("NaHCO₃"), ["nahco3"]);
        assert_eq!(words_of("CAS 50-81-7, 1,2"), ["cas", "50-81-7", "1", "2"]);
    }
}
