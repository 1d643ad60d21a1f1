//! The one place where evidence is weighed. What a column holds, what a row is, whether a list
//! goes on with the recipe above it, which row is a sum without a word, what divides a text into
//! cells, and what tells the whole are each judged by a table in a file of its own: what is seen, what it speaks for, how much,
//! and the reason in words.
//!
//! The readers gather what is seen and do what the weightiest reading asks for; none of them
//! decides by itself. Where the next reading is close, the maker is told.

pub(super) mod columns;
pub(super) mod divided;
pub(super) mod lists;
pub(super) mod rows;
pub(super) mod sides;
pub(super) mod sums;
pub(super) mod whole;

/// A line of a table of evidence.
pub(super) struct Rule<S, R> {
    /// Whether it is seen.
    pub(super) seen: fn(&S) -> bool,
    /// The reading it speaks for, or against if its weight is below 0.
    pub(super) reading: R,
    /// How much.
    pub(super) weight: i32,
    /// Why, in words.
    pub(super) reason: &'static str,
}

/// A line of a table.
pub(super) const fn rule<S, R: Copy>(
    seen: fn(&S) -> bool,
    reading: R,
    weight: i32,
    reason: &'static str,
) -> Rule<S, R> {
    Rule {
        seen,
        reading,
        weight,
        reason,
    }
}

/// What the evidence comes to.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Verdict<R> {
    /// The reading for which most speaks.
    pub(super) best: R,
    /// What speaks for it, in words.
    pub(super) reasons: Vec<&'static str>,
    /// The reading next to it, if hardly less speaks for it.
    pub(super) close: Option<R>,
}

/// Weighs what is seen by a table; a reading that comes next by less than `clear` is close.
/// `None` if nothing speaks for any reading.
pub(super) fn weigh<S, R: Copy + PartialEq>(
    table: &[Rule<S, R>],
    seen: &S,
    clear: i32,
) -> Option<Verdict<R>> {
    let mut sums: Vec<(R, i32)> = Vec::new();
    let holding = || table.iter().filter(|rule| (rule.seen)(seen));
    for rule in holding() {
        match sums
            .iter_mut()
            .find(|(reading, _)| *reading == rule.reading)
        {
            Some((_, sum)) => *sum += rule.weight,
            None => sums.push((rule.reading, rule.weight)),
        }
    }
    sums.retain(|(_, sum)| *sum > 0);
    sums.sort_by_key(|(_, sum)| std::cmp::Reverse(*sum));
    let &(best, most) = sums.first()?;
    Some(Verdict {
        best,
        reasons: holding()
            .filter(|rule| rule.reading == best && rule.weight > 0)
            .map(|rule| rule.reason)
            .collect(),
        close: sums
            .get(1)
            .filter(|(_, sum)| most - sum < clear)
            .map(|(reading, _)| *reading),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_weightiest_reading_is_taken_and_a_close_one_told() {
        let table: [Rule<(i32, bool), char>; 4] = [
            rule(|s| s.0 > 1, 'a', 5, "above 1"),
            rule(|s| s.0 > 2, 'b', 6, "above 2"),
            rule(|s| s.1, 'b', -4, "said not to be"),
            rule(|s| s.0 > 9, 'a', 9, "above 9"),
        ];
        let best = |seen| weigh(&table, &seen, 2).map(|v| (v.best, v.close));
        assert_eq!(best((0, false)), None);
        assert_eq!(best((2, false)), Some(('a', None)));
        assert_eq!(best((3, false)), Some(('b', Some('a'))));
        assert_eq!(best((3, true)), Some(('a', None)));
        assert_eq!(best((10, false)), Some(('a', None)));
        let reasons = weigh(&table, &(10, false), 2).unwrap().reasons;
        assert_eq!(reasons, ["above 1", "above 9"]);
    }
}
