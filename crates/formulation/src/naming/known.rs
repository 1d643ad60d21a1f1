//! Whether a text is the name of a raw material at all, whatever is on the shelf.

use std::cell::RefCell;
use std::collections::HashSet;
use std::sync::OnceLock;

use super::{fold, spoken};
use crate::inventory::inventory;
use crate::shelf::built_in;
use crate::text_memory::{TextMemory, remembered};

/// Names, synonyms and everyday names of the built-in materials, their words in order.
pub(super) fn names() -> &'static HashSet<String> {
    static NAMES: OnceLock<HashSet<String>> = OnceLock::new();
    NAMES.get_or_init(|| {
        let of_shelf = built_in::shelf().iter().flat_map(|m| {
            let synonyms = m.synonyms.iter().map(AsRef::as_ref);
            std::iter::once(m.name.as_ref()).chain(synonyms)
        });
        let everyday = built_in::plain_names().iter().map(|n| n.name.as_ref());
        let keys = |name| {
            let named = fold::Sorted::of(name);
            let english = in_english(name, named.kept);
            [named.all, named.base, english]
        };
        of_shelf
            .chain(everyday)
            .flat_map(keys)
            .filter(|key| !key.is_empty())
            .collect()
    })
}

/// A name of several words, of which these say what it is, in English; of one word it is no sure
/// sign of a material.
fn in_english(name: &str, kept: Vec<String>) -> String {
    /// Longer texts are sentences.
    const LONGEST: usize = 60;
    if name.len() > LONGEST {
        return String::new();
    }
    let english = spoken::english_of(kept);
    if english.len() > 1 {
        spoken::key(&english)
    } else {
        String::new()
    }
}

thread_local! {
    static ASKED: TextMemory<bool> = RefCell::default();
}

/// Whether a text is a name, synonym, everyday name or INCI name of a raw material.
pub fn is_known_name(text: &str) -> bool {
    // No name is without a letter.
    text.contains(char::is_alphabetic) && remembered(&ASKED, text.trim(), is_any_name)
}

fn is_any_name(text: &str) -> bool {
    let bare = text.split(['(', '[']).next().unwrap_or(text);
    let both = [text, bare];
    // Without brackets it is one and the same.
    let spellings = both.iter().take(if bare == text { 1 } else { 2 });
    spellings
        .into_iter()
        .any(|t| !t.trim().is_empty() && (is_listed(t) || inventory().by_name(t).is_some()))
}

fn is_listed(text: &str) -> bool {
    let named = fold::Sorted::of(text);
    let names = names();
    names.contains(&named.all)
        || names.contains(&named.base)
        || names.contains(&in_english(text, named.kept))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_told_from_other_words() {
        for name in [
            "Glycerin",
            "Lavender EO",
            "Olivenöl, nativ",
            "Butyrospermum Parkii Butter",
            "Citric acid (powder)",
            "Pfefferminzwasser",
            "olio di semi di broccolo",
        ] {
            assert!(is_known_name(name), "{name}");
        }
        for text in [
            "stir well",
            "thickens",
            "A",
            "Larkmoor",
            "",
            "batch 12",
            "12.5",
        ] {
            assert!(!is_known_name(text), "{text}");
        }
    }

    #[test]
    fn no_name_is_without_a_letter() {
        let has_letter = |name: &str| name.contains(char::is_alphabetic);
        let entries = inventory().entries();
        assert!(entries.iter().all(|entry| has_letter(entry.name)));
        let shelf = built_in::shelf().iter();
        assert!(
            shelf
                .flat_map(|m| m.synonyms.iter().chain([&m.name]))
                .all(|n| has_letter(n))
        );
        assert!(built_in::plain_names().iter().all(|n| has_letter(&n.name)));
    }
}
