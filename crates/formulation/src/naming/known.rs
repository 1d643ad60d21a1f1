//! Whether a text is the name of a raw material at all, whatever is on the shelf.

use std::cell::RefCell;
use std::collections::{HashMap, HashSet};
use std::sync::OnceLock;

use super::{fold, spoken};
use crate::inventory::inventory;
use crate::shelf::built_in;

/// Names, synonyms and everyday names of the built-in materials, their words in order.
fn names() -> &'static HashSet<String> {
    static NAMES: OnceLock<HashSet<String>> = OnceLock::new();
    NAMES.get_or_init(|| {
        let of_shelf = built_in::shelf().iter().flat_map(|m| {
            let synonyms = m.synonyms.iter().map(AsRef::as_ref);
            std::iter::once(m.name.as_ref()).chain(synonyms)
        });
        let everyday = built_in::plain_names().iter().map(|n| n.name.as_ref());
        of_shelf
            .chain(everyday)
            .flat_map(|name| [fold::sorted(name), fold::base(name), in_english(name)])
            .filter(|key| !key.is_empty())
            .collect()
    })
}

/// A name of several words in English; of one word it is no sure sign of a material.
fn in_english(name: &str) -> String {
    /// Longer texts are sentences.
    const LONGEST: usize = 60;
    if name.len() > LONGEST {
        return String::new();
    }
    let english = spoken::english(name);
    if english.len() > 1 {
        spoken::key(&english)
    } else {
        String::new()
    }
}

/// Most texts whose answer is kept; beyond, all are forgotten.
const MOST_KEPT: usize = 16_384;
/// Longer texts are hardly asked twice.
const LONGEST_KEPT: usize = 120;

thread_local! {
    /// What was asked before: while a table is weighed the same cells are asked again and again.
    static ASKED: RefCell<HashMap<Box<str>, bool>> = RefCell::default();
}

/// Whether a text is a name, synonym, everyday name or INCI name of a raw material.
pub fn is_known_name(text: &str) -> bool {
    let text = text.trim();
    if text.len() > LONGEST_KEPT {
        return is_any_name(text);
    }
    if let Some(known) = ASKED.with_borrow(|asked| asked.get(text).copied()) {
        return known;
    }
    let known = is_any_name(text);
    ASKED.with_borrow_mut(|asked| {
        if asked.len() >= MOST_KEPT {
            asked.clear();
        }
        asked.insert(text.into(), known);
    });
    known
}

fn is_any_name(text: &str) -> bool {
    let bare = text.split(['(', '[']).next().unwrap_or(text);
    [text, bare].into_iter().any(|t| {
        !t.trim().is_empty()
            && (names().contains(&fold::sorted(t))
                || names().contains(&fold::base(t))
                || names().contains(&in_english(t))
                || inventory().by_name(t).is_some())
    })
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
        for text in ["stir well", "thickens", "A", "Larkmoor", "", "batch 12"] {
            assert!(!is_known_name(text), "{text}");
        }
    }
}
