//! Whether anything tells how much the whole of a recipe is.

use super::{Rule, rule, weigh};

/// How far the whole is known.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(in crate::file::table) enum Reading {
    /// Something besides the lines tells it.
    Established,
    /// It is no more than what the lines come to.
    Assumed,
}

/// What is seen of the whole.
#[derive(Clone, Copy, Default, Debug)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is a thing seen by itself"
)]
pub(in crate::file::table) struct Seen {
    /// The lines are percentages, whose whole is 100, or parts, whose whole is their sum.
    pub(in crate::file::table) of_itself: bool,
    /// The table states a total.
    pub(in crate::file::table) totalled: bool,
    /// The table states the size of the batch.
    pub(in crate::file::table) batch: bool,
    /// The lines add up to a round number, as a batch that was meant does.
    pub(in crate::file::table) round: bool,
}

/// The table. Weights are our own. What is stated is held against the sum of the lines by the
/// checks of the recipe.
const TABLE: &[Rule<Seen, Reading>] = &[
    rule(
        |w| w.of_itself,
        Reading::Established,
        10,
        "the whole of percentages and parts",
    ),
    rule(
        |w| w.totalled,
        Reading::Established,
        10,
        "a total is stated",
    ),
    rule(
        |w| w.batch,
        Reading::Established,
        10,
        "the size of the batch is stated",
    ),
    rule(
        |w| w.round,
        Reading::Established,
        6,
        "the lines add up to a round number",
    ),
    rule(|_| true, Reading::Assumed, 3, "nothing tells it"),
];

/// How far the whole is known.
pub(in crate::file::table) fn of(seen: Seen) -> Reading {
    weigh(TABLE, &seen, 0).map_or(Reading::Assumed, |verdict| verdict.best)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_whole_that_nothing_tells_is_assumed() {
        assert_eq!(of(Seen::default()), Reading::Assumed);
        let told: [fn(&mut Seen); 4] = [
            |s| s.of_itself = true,
            |s| s.totalled = true,
            |s| s.batch = true,
            |s| s.round = true,
        ];
        for tell in told {
            let mut seen = Seen::default();
            tell(&mut seen);
            assert_eq!(of(seen), Reading::Established, "{seen:?}");
        }
    }
}
