//! Whether the materials of a table stand in rows, or in columns with their amounts below.

use super::{Rule, Verdict, rule};

/// Where the materials stand.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(in crate::file::table) enum Reading {
    /// Each in a row of its own.
    Rows,
    /// Each in a column of its own.
    Columns,
}

/// What is seen of a table.
#[derive(Clone, Copy, Default, Debug)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is a thing seen by itself"
)]
pub(in crate::file::table) struct Seen {
    /// Headings of materials and of amounts stand beside each other in a row.
    pub(in crate::file::table) headings_across: bool,
    /// They stand below each other in a column.
    pub(in crate::file::table) headings_down: bool,
    /// More materials that are known stand in one row than in any column.
    pub(in crate::file::table) names_across: bool,
    /// More of them stand in one column than in any row.
    pub(in crate::file::table) names_down: bool,
    /// Several stand in one row, only numbers below them, and none in a column.
    pub(in crate::file::table) amounts_below: bool,
}

/// The table. Weights are our own.
const TABLE: &[Rule<Seen, Reading>] = &[
    rule(
        |s| s.headings_down,
        Reading::Columns,
        8,
        "headings below each other",
    ),
    rule(
        |s| s.names_across,
        Reading::Columns,
        6,
        "materials beside each other",
    ),
    rule(
        |s| s.amounts_below,
        Reading::Columns,
        6,
        "nothing but numbers below materials beside each other",
    ),
    rule(
        |s| s.headings_across,
        Reading::Rows,
        8,
        "headings beside each other",
    ),
    rule(
        |s| s.names_down,
        Reading::Rows,
        6,
        "materials below each other",
    ),
    rule(|_| true, Reading::Rows, 7, "as nearly all tables are"),
];

/// Where the materials stand.
pub(in crate::file::table) fn weigh(seen: Seen) -> Verdict<Reading> {
    super::weigh(TABLE, &seen, 0).unwrap_or(Verdict {
        best: Reading::Rows,
        reasons: Vec::new(),
        close: None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn materials_stand_in_columns_where_headings_or_names_say_so() {
        let best = |seen: Seen| weigh(seen).best;
        let none = Seen::default();
        assert_eq!(best(none), Reading::Rows);
        let turned = Seen {
            headings_down: true,
            names_across: true,
            ..none
        };
        assert_eq!(best(turned), Reading::Columns);
        let usual = Seen {
            headings_across: true,
            names_down: true,
            ..none
        };
        assert_eq!(best(usual), Reading::Rows);
        // Versions of names beside each other do not make it turned.
        let names = Seen {
            names_across: true,
            ..none
        };
        assert_eq!(best(names), Reading::Rows);
        // A row for each recipe, a column for each material.
        let matrix = Seen {
            amounts_below: true,
            ..names
        };
        assert_eq!(best(matrix), Reading::Columns);
    }
}
