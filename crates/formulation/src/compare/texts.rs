//! Texts beside the content of two variants: notes, author, whether one is still used.
//!
//! They change nothing of what is made, so that they are no [`super::Difference`] and are not
//! carried across; but whoever asks what differs is told.

use std::sync::Arc;

use super::Compared;
use crate::formula::{Formula, Variant};

/// A text that differs.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct TextChange {
    /// Which, as it begins a sentence: `The variant's note`.
    pub what: &'static str,
    /// On the left; empty where there is none.
    pub left: Arc<str>,
    /// On the right.
    pub right: Arc<str>,
}

impl TextChange {
    /// Both texts in words, from the left to the right.
    pub fn words(&self) -> String {
        let said = |text: &str| {
            if text.trim().is_empty() {
                "nothing".to_owned()
            } else {
                format!("“{text}”")
            }
        };
        format!(
            "{}: {} → {}",
            self.what,
            said(&self.left),
            said(&self.right)
        )
    }
}

fn changed(of: &[(&'static str, &Arc<str>, &Arc<str>)]) -> Vec<TextChange> {
    let differing = of.iter().filter(|(_, left, right)| left != right);
    differing
        .map(|(what, left, right)| TextChange {
            what,
            left: Arc::clone(left),
            right: Arc::clone(right),
        })
        .collect()
}

/// The formula's author and notes, where they differ.
pub fn of_formulas(left: &Formula, right: &Formula) -> Vec<TextChange> {
    changed(&[
        ("The author", &left.author, &right.author),
        ("The formula's notes", &left.notes, &right.notes),
    ])
}

/// The variant's note, where it differs.
pub fn of_variants(left: &Variant, right: &Variant) -> Vec<TextChange> {
    changed(&[("The variant's note", &left.note, &right.note)])
}

/// All texts in which two variants and their formulas differ.
pub fn of(left: Compared<'_>, right: Compared<'_>) -> Vec<TextChange> {
    let mut all = of_formulas(left.formula, right.formula);
    all.extend(of_variants(left.variant, right.variant));
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compare::compare;
    use crate::compare::note::{change_in_full, change_note};
    use crate::random_formula;

    #[test]
    fn notes_that_differ_are_told_though_nothing_else_does() {
        let a = random_formula::formula(4);
        let mut b = a.clone();
        b.notes = "for the fair".into();
        let mut noted = a.active().as_ref().clone();
        noted.note = "milder".into();
        let (left, right) = (Compared::new(&a, a.active()), Compared::new(&b, &noted));
        let comparison = compare(left, right);
        assert!(comparison.is_empty());
        assert_eq!(of(left, left), []);
        let full = change_in_full(left, right, &comparison, (&[], &[]));
        assert!(full.contains("→ “for the fair”"), "{full}");
        assert!(full.contains("→ “milder”"), "{full}");
        let short = change_note(left, right, &comparison, (&[], &[]));
        assert!(short.contains("- The variant's note changed"), "{short}");
        assert!(!short.contains("milder"), "{short}");
    }
}
