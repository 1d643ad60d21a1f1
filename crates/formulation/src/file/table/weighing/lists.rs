//! Whether the next list of a sheet, below headings of its own, is another recipe or goes on
//! with the one above it.

use super::{Rule, Verdict, rule};

/// What the next list may be.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(in crate::file::table) enum Reading {
    /// A recipe of its own.
    Another,
    /// More of the recipe above.
    GoesOn,
}

/// What is seen between two lists.
#[derive(Clone, Copy, Default, Debug)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is a thing seen by itself"
)]
pub(in crate::file::table) struct Seen {
    /// The lists are in percent.
    pub(in crate::file::table) in_percent: bool,
    /// The percentages so far make a whole but for what rounding leaves.
    pub(in crate::file::table) exactly_whole: bool,
    /// They make a whole within 1 %.
    pub(in crate::file::table) roughly_whole: bool,
    /// A q.s. is among them, which fills up to the whole.
    pub(in crate::file::table) filled: bool,
    /// The list above ends with a total.
    pub(in crate::file::table) totalled: bool,
    /// What stands above the next one begins a later phase.
    pub(in crate::file::table) later_phase: bool,
    /// What stands above the next one is a title.
    pub(in crate::file::table) titled: bool,
    /// A material of the recipe above comes again.
    pub(in crate::file::table) same_material: bool,
    /// Its phases begin with that with which those of the recipe above began.
    pub(in crate::file::table) phases_anew: bool,
    /// The heading of its amounts states another size of the batch.
    pub(in crate::file::table) other_size: bool,
}

impl Seen {
    /// The percentages so far are no whole.
    fn is_part(&self) -> bool {
        self.in_percent && !self.exactly_whole && !self.roughly_whole && !self.filled
    }
}

/// A lead of less is told.
const CLEAR: i32 = 3;

/// The table. Weights are our own.
const TABLE: &[Rule<Seen, Reading>] = &[
    rule(
        |l| l.exactly_whole,
        Reading::Another,
        16,
        "the percentages above are a whole",
    ),
    rule(
        |l| l.roughly_whole,
        Reading::Another,
        6,
        "the percentages above are about a whole",
    ),
    rule(
        |l| l.filled,
        Reading::Another,
        6,
        "a q.s. above fills up to the whole",
    ),
    rule(
        |l| l.totalled,
        Reading::Another,
        4,
        "the list above ends with its total",
    ),
    rule(|l| l.titled, Reading::Another, 4, "a title stands above it"),
    rule(
        |l| l.same_material,
        Reading::Another,
        4,
        "the same material comes again",
    ),
    rule(
        |l| l.phases_anew,
        Reading::Another,
        8,
        "its phases begin anew",
    ),
    rule(
        |l| l.other_size,
        Reading::Another,
        8,
        "it is for a batch of another size",
    ),
    rule(
        |l| l.later_phase,
        Reading::GoesOn,
        10,
        "it begins a later phase",
    ),
    rule(
        Seen::is_part,
        Reading::GoesOn,
        12,
        "the percentages above are no whole yet",
    ),
    rule(|_| true, Reading::GoesOn, 1, "it stands on the same sheet"),
];

/// What the next list is.
pub(in crate::file::table) fn weigh(seen: &Seen) -> Verdict<Reading> {
    super::weigh(TABLE, seen, CLEAR).unwrap_or(Verdict {
        best: Reading::GoesOn,
        reasons: Vec::new(),
        close: None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(seen: Seen, best: Reading, is_close: bool) {
        let verdict = weigh(&seen);
        assert_eq!(
            (verdict.best, verdict.close.is_some()),
            (best, is_close),
            "{seen:?}"
        );
    }

    #[test]
    fn lists_are_recipes_where_they_are_whole_or_say_so() {
        let grams = Seen::default();
        check(grams, Reading::GoesOn, false);
        check(
            Seen {
                titled: true,
                ..grams
            },
            Reading::Another,
            false,
        );
        check(
            Seen {
                titled: true,
                later_phase: true,
                ..grams
            },
            Reading::GoesOn,
            false,
        );
        check(
            Seen {
                other_size: true,
                later_phase: true,
                ..grams
            },
            Reading::GoesOn,
            false,
        );
        let percent = Seen {
            in_percent: true,
            ..grams
        };
        check(percent, Reading::GoesOn, false);
        check(
            Seen {
                titled: true,
                same_material: true,
                totalled: true,
                ..percent
            },
            Reading::GoesOn,
            true,
        );
        let whole = Seen {
            exactly_whole: true,
            later_phase: true,
            ..percent
        };
        check(whole, Reading::Another, false);
        let filled = Seen {
            filled: true,
            later_phase: true,
            ..percent
        };
        check(filled, Reading::GoesOn, false);
    }
}
