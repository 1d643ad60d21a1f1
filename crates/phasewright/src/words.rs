//! Small words that windows and commands share.

/// "1 line", "3 lines", "2 offers or lots": a count with the words for one.
pub fn counted(count: usize, one: &str) -> String {
    if count == 1 {
        return format!("1 {one}");
    }
    let plural = |word: &str| match word {
        "or" | "new" => word.to_owned(),
        _ if word.ends_with("ch") => format!("{word}es"),
        _ => format!("{word}s"),
    };
    let many: Vec<String> = one.split(' ').map(plural).collect();
    format!("{count} {}", many.join(" "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_agree_with_their_words() {
        assert_eq!(counted(1, "line"), "1 line");
        assert_eq!(counted(0, "line"), "0 lines");
        assert_eq!(counted(1, "match"), "1 match");
        assert_eq!(counted(2, "match"), "2 matches");
        assert_eq!(counted(2, "new material"), "2 new materials");
        assert_eq!(counted(3, "offer or lot"), "3 offers or lots");
    }
}
