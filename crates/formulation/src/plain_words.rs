//! Words without capitals, accents and marks: what every comparison of names begins with.

/// The words of a text: letters and digits in lower case without accents. A hyphen
/// between digits stays, so that a CAS number is one word.
pub fn words_of(text: &str) -> Vec<String> {
    let mut words = Vec::new();
    let mut word = String::new();
    let mut letters = text.chars().peekable();
    let mut after_digit = false;
    while let Some(c) = letters.next() {
        // The marks of footnotes belong to no word.
        if c.is_alphanumeric() && !matches!(c, '¹' | '²' | '³' | '⁴'..='⁹') {
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

/// A text as the beginning of a sentence: with a capital letter in front.
pub fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
