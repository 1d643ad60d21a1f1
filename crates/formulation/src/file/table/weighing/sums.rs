//! Whether a row that reads as a line, with a name and an amount, is the sum of the rows above it:
//! "Oils 99", "Everything 100".

use super::{Rule, rule, weigh};

/// What the row may be.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(in crate::file::table) enum Reading {
    /// A material and how much of it.
    Line,
    /// What those above it come to.
    Sum,
}

/// What is seen of the row.
#[derive(Clone, Copy, Default, Debug)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is a thing seen by itself"
)]
pub(in crate::file::table) struct Seen {
    /// All rows above, or those since the last sum, add up to it.
    pub(in crate::file::table) adds_up: bool,
    /// INCI names or a CAS number stand beside it.
    pub(in crate::file::table) identified: bool,
    /// A material goes by the name.
    pub(in crate::file::table) known: bool,
    /// The recipe is whole only without it and its like.
    pub(in crate::file::table) whole_without: bool,
}

/// The table. Weights are our own: neither an amount that happens to be a sum nor a total that is
/// off makes a row a sum by itself.
const TABLE: &[Rule<Seen, Reading>] = &[
    rule(|_| true, Reading::Line, 8, "a name with an amount"),
    rule(|s| s.identified, Reading::Line, 20, "INCI or CAS beside it"),
    rule(
        |s| s.known,
        Reading::Line,
        20,
        "a material goes by the name",
    ),
    rule(
        |s| s.adds_up,
        Reading::Sum,
        6,
        "the rows above add up to it",
    ),
    rule(
        |s| s.whole_without,
        Reading::Sum,
        6,
        "the recipe is whole only without it",
    ),
];

/// What the row is.
pub(in crate::file::table) fn of(seen: Seen) -> Reading {
    weigh(TABLE, &seen, 0).map_or(Reading::Line, |verdict| verdict.best)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sum_without_a_word_needs_both_signs_and_no_material() {
        let both = Seen {
            adds_up: true,
            whole_without: true,
            ..Seen::default()
        };
        assert_eq!(of(both), Reading::Sum);
        let lines: [fn(&mut Seen); 4] = [
            |s| s.adds_up = false,
            |s| s.whole_without = false,
            |s| s.known = true,
            |s| s.identified = true,
        ];
        for line in lines {
            let mut seen = both;
            line(&mut seen);
            assert_eq!(of(seen), Reading::Line, "{seen:?}");
        }
    }
}
