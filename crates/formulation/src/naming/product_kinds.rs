//! What the name or the type of a product says of washing off or leaving on.

use std::collections::HashSet;
use std::sync::OnceLock;

use serde::Deserialize;

use super::words_of;
use crate::kinds::{Kinds, ProductKind};

const TEXT: &str = include_str!("../../../../assets/names/product_kinds.ron");

/// The words of `assets/names/product_kinds.ron`.
#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct Words {
    leave_on_outright: HashSet<String>,
    rinse_off_outright: HashSet<String>,
    leave_on: HashSet<String>,
    rinse_off: HashSet<String>,
}

fn words() -> &'static Words {
    static WORDS: OnceLock<Words> = OnceLock::new();
    // A test holds the file to its form.
    WORDS.get_or_init(|| ron::from_str(TEXT).unwrap_or_default())
}

/// The kinds of product that a name tells, and whether it says so outright rather than
/// by what such a product usually is.
pub fn kinds_in(text: &str) -> Option<(Kinds, bool)> {
    let folded = words_of(text);
    let longest = |list: &HashSet<String>| {
        (1..=3.min(folded.len()))
            .rev()
            .find(|&n| folded.windows(n).any(|w| list.contains(&w.join(" "))))
            .unwrap_or(0)
    };
    let lists = words();
    let said = [
        (ProductKind::LeaveOn, longest(&lists.leave_on_outright)),
        (ProductKind::RinseOff, longest(&lists.rinse_off_outright)),
    ];
    if let Some(kinds) = Kinds::of(said.into_iter().filter(|s| s.1 > 0).map(|s| s.0)) {
        return Some((kinds, true));
    }
    match (longest(&lists.leave_on), longest(&lists.rinse_off)) {
        (0, 0) => None,
        // "Shower cream" is washed off: what says so outright decides.
        (on, off) if off >= on => Some((ProductKind::RinseOff.into(), false)),
        _ => Some((ProductKind::LeaveOn.into(), false)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_words_are_read_and_folded() {
        let lists: Words = ron::from_str(TEXT).unwrap();
        for list in [
            &lists.leave_on_outright,
            &lists.rinse_off_outright,
            &lists.leave_on,
            &lists.rinse_off,
        ] {
            assert!(!list.is_empty());
            assert!(list.iter().all(|word| words_of(word).join(" ") == *word));
        }
        let (kinds, outright) = kinds_in("Oat shower cream").unwrap();
        assert!(kinds == ProductKind::RinseOff.into() && !outright);
        assert!(kinds_in("Larkmoor no. 3").is_none());
    }
}
