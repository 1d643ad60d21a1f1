//! What divides a text into cells: a separator, runs of blanks, or nothing but the ends of lines.

use super::{Rule, rule, weigh};

/// What divides it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(in crate::file::table) enum Reading {
    /// A separator such as a semicolon.
    Marks,
    /// Runs of blanks.
    Blanks,
    /// Nothing: each line is one cell.
    Nothing,
}

/// What is seen of a text.
#[derive(Clone, Copy, Default, Debug)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is a thing seen by itself"
)]
pub(in crate::file::table) struct Seen {
    /// A separator divides many lines into the same number of cells.
    pub(in crate::file::table) marks: bool,
    /// It divides all of them so.
    pub(in crate::file::table) marks_in_all: bool,
    /// It leaves a column of numbers.
    pub(in crate::file::table) marked_numbers: bool,
    /// Runs of blanks divide most lines.
    pub(in crate::file::table) blanks: bool,
    /// They leave numbers at one end of the lines.
    pub(in crate::file::table) numbers_between_blanks: bool,
}

/// The table. Weights are our own: names have commas, and cells between separators may be set
/// with blanks.
const TABLE: &[Rule<Seen, Reading>] = &[
    rule(|_| true, Reading::Nothing, 1, "as every text is"),
    rule(
        |t| t.marks,
        Reading::Marks,
        10,
        "a separator divides many lines alike",
    ),
    rule(
        |t| t.marks && t.marks_in_all,
        Reading::Marks,
        6,
        "it divides all lines alike",
    ),
    rule(
        |t| t.marks && t.marked_numbers,
        Reading::Marks,
        10,
        "it leaves a column of numbers",
    ),
    rule(
        |t| t.blanks,
        Reading::Blanks,
        8,
        "runs of blanks divide most lines",
    ),
    rule(
        |t| t.blanks && t.numbers_between_blanks,
        Reading::Blanks,
        6,
        "they leave a column of numbers",
    ),
];

/// What divides it.
pub(in crate::file::table) fn of(seen: Seen) -> Reading {
    weigh(TABLE, &seen, 0).map_or(Reading::Nothing, |verdict| verdict.best)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_leaves_a_column_of_numbers_divides() {
        let none = Seen::default();
        assert_eq!(of(none), Reading::Nothing);
        let commas_of_names = Seen {
            marks: true,
            ..none
        };
        assert_eq!(of(commas_of_names), Reading::Marks);
        let aligned = Seen {
            blanks: true,
            numbers_between_blanks: true,
            ..commas_of_names
        };
        assert_eq!(of(aligned), Reading::Blanks);
        let set_with_blanks = Seen {
            marked_numbers: true,
            ..aligned
        };
        assert_eq!(of(set_with_blanks), Reading::Marks);
        let all = Seen {
            marks_in_all: true,
            ..aligned
        };
        assert_eq!(of(all), Reading::Marks);
    }
}
