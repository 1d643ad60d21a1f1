//! Texts beside the content of two variants: notes, author, whether one is still used.
//!
//! They change nothing of what is made, so that they are no [`super::Difference`] and are not
//! carried across; but whoever asks what differs is told.

use std::sync::Arc;

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
