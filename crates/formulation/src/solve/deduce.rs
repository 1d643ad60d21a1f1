//! Working back from a declared order of ingredients to the percentages that are
//! possible: the range of each ingredient, and a point in the middle.
//!
//! Ingredients of 1 % and more are declared in descending order; those below
//! follow in any order (Regulation (EC) No 1223/2009, Article 19(1)(g)). With the
//! total of 100 that leaves a convex set of compositions, or one such set for each
//! possible place of the one-per-cent line. The result is a range, not somebody's
//! formula.

use std::collections::{BTreeMap, BTreeSet};

use crate::label::ingredients::ANY_ORDER_PERCENT;
use crate::optimise::linear;
use crate::optimise::programme::{LinearDemand, Outcome, Programme};
use crate::optimise::quadratic;
use crate::progress::Progress;

/// Room below which an inequality counts as having none, % w/w.
const NO_ROOM: f64 = 1e-5;

/// What is known about a list besides its order. Percentages are % w/w of the
/// ingredient itself, not of a raw material that brings it in; ingredients are
/// counted from 0 in the order declared.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Facts {
    /// How many ingredients, from the first on, are at 1 % or more; `None` if the
    /// place of the one-per-cent line is not known.
    pub line: Option<usize>,
    /// Whether those below the line are in descending order too.
    pub ordered_below: bool,
    /// Exact percentages.
    pub known: BTreeMap<usize, f64>,
    /// Lowest percentages.
    pub least: BTreeMap<usize, f64>,
    /// Highest percentages, for example legal or usual limits.
    pub most: BTreeMap<usize, f64>,
    /// Demands on sums of ingredients, for example the total active.
    pub sums: Vec<LinearDemand>,
    /// Ingredients that may stand anywhere, as colourants may: neither ordered nor
    /// bound to a side of the one-per-cent line.
    pub anywhere: BTreeSet<usize>,
}

/// The possible percentages of each ingredient of a list.
#[derive(Clone, PartialEq, Debug)]
pub struct Ranges {
    /// Lowest possible, % w/w.
    pub low: Vec<f64>,
    /// Highest possible, % w/w.
    pub high: Vec<f64>,
    /// The places of the one-per-cent line at which some composition is possible:
    /// numbers of ingredients at 1 % or more.
    pub lines: Vec<usize>,
}

impl Ranges {
    /// Sum of the widths of all ranges, in percentage points.
    pub fn width(&self) -> f64 {
        self.low.iter().zip(&self.high).map(|(l, h)| h - l).sum()
    }
}

/// Why no range can be given.
#[derive(Clone, PartialEq, Debug, thiserror::Error)]
pub enum DeduceError {
    /// There is no ingredient.
    #[error("the list has no ingredient; paste the names separated by commas")]
    Empty,
    /// A fact names an ingredient that is not there, or a number out of range.
    #[error("{0}")]
    BadFact(String),
    /// The facts contradict each other or the order.
    #[error(
        "no composition fits the order of the list together with the facts given; leave out the fact you are least sure of"
    )]
    Contradiction,
    /// The solver stopped without an answer.
    #[error("the ranges could not be computed: {0}")]
    Unsolved(String),
    /// Stopped before the end.
    #[error("the work on the list was stopped")]
    Stopped,
}

/// The ingredients that stand in descending order among themselves: those above the
/// line, and those below it if they are ordered too.
fn chains(n: usize, line: usize, facts: &Facts) -> Vec<Vec<usize>> {
    let ordered = |range: std::ops::Range<usize>| -> Vec<usize> {
        range.filter(|i| !facts.anywhere.contains(i)).collect()
    };
    let mut chains = vec![ordered(0..line.min(n))];
    if facts.ordered_below {
        chains.push(ordered(line..n));
    }
    chains
}

/// The demands of a list of `n` ingredients whose first `line` are at 1 % or more.
fn programme(n: usize, line: usize, facts: &Facts) -> Programme {
    let mut programme = Programme::new();
    for i in 0..n {
        let (mut low, mut high) = if facts.anywhere.contains(&i) {
            (0.0, 100.0)
        } else if i < line {
            (ANY_ORDER_PERCENT, 100.0)
        } else {
            (0.0, ANY_ORDER_PERCENT)
        };
        if let Some(&least) = facts.least.get(&i) {
            low = low.max(least);
        }
        if let Some(&most) = facts.most.get(&i) {
            high = high.min(most);
        }
        if let Some(&known) = facts.known.get(&i) {
            (low, high) = (low.max(known), high.min(known));
        }
        programme.unknown(low, high);
    }
    programme.rows.push(LinearDemand::equal(
        (0..n).map(|i| (i, 1.0)).collect(),
        100.0,
    ));
    for chain in chains(n, line, facts) {
        let pairs = chain.iter().zip(chain.iter().skip(1));
        let row = |(&before, &i): (&usize, &usize)| {
            LinearDemand::at_least(vec![(before, 1.0), (i, -1.0)], 0.0)
        };
        programme.rows.extend(pairs.map(row));
    }
    programme.rows.extend(facts.sums.iter().cloned());
    programme
}

/// Narrows the bounds of a programme by what follows at once from the order and the
/// total, so that fewer programmes need be solved.
fn tighten(programme: &mut Programme, chains: &[Vec<usize>]) {
    let (lower, upper) = (&mut programme.lower, &mut programme.upper);
    for chain in chains {
        for (&before, &i) in chain.iter().zip(chain.iter().skip(1)) {
            upper[i] = upper[i].min(upper[before]);
        }
        for (&i, &after) in chain.iter().zip(chain.iter().skip(1)).rev() {
            lower[i] = lower[i].max(lower[after]);
        }
    }
    let least: f64 = lower.iter().sum();
    for chain in chains {
        // The first of a chain up to one of its members are no smaller than it, so it is
        // at most their mean in what the others leave; likewise from the other end.
        let mut taken = 0.0;
        for (k, &i) in chain.iter().enumerate() {
            taken += lower[i];
            upper[i] = upper[i].min((100.0 - (least - taken)) / (k + 1) as f64);
        }
    }
    let most: f64 = upper.iter().sum();
    for chain in chains {
        let mut taken = 0.0;
        for (k, &i) in chain.iter().rev().enumerate() {
            taken += upper[i];
            lower[i] = lower[i].max((100.0 - (most - taken)) / (k + 1) as f64);
        }
    }
}

fn check(n: usize, facts: &Facts) -> Result<(), DeduceError> {
    if n == 0 {
        return Err(DeduceError::Empty);
    }
    let bad = |text: String| Err(DeduceError::BadFact(text));
    if let Some(line) = facts.line
        && line > n
    {
        return bad(format!(
            "the one-per-cent line stands after ingredient {line}, but the list has {n}"
        ));
    }
    for (what, values, top) in [
        ("exact percentage", &facts.known, 100.0),
        ("lowest percentage", &facts.least, 100.0),
        // One above 100 is no error; it says nothing.
        ("highest percentage", &facts.most, f64::INFINITY),
    ] {
        for (&i, &value) in values {
            if i >= n {
                return bad(format!(
                    "a {what} is given for ingredient {}, but the list has {n}",
                    i + 1
                ));
            }
            if !(0.0..=top).contains(&value) {
                return bad(format!(
                    "the {what} {value} of ingredient {} is not a percentage of a product",
                    i + 1
                ));
            }
        }
    }
    let outside = |row: &LinearDemand| row.terms.iter().any(|&(i, _)| i >= n);
    if facts.sums.iter().any(outside) {
        return bad(format!(
            "a sum names an ingredient beyond the {n} of the list"
        ));
    }
    Ok(())
}

/// The places of the one-per-cent line to look into.
fn lines(n: usize, facts: &Facts) -> std::ops::RangeInclusive<usize> {
    facts.line.map_or(0..=n, |line| line..=line)
}

/// The least and greatest possible percentage of each of `n` ingredients, by two
/// linear programmes each. If the place of the one-per-cent line is unknown, the
/// range covers all its possible places.
pub fn ranges(n: usize, facts: &Facts) -> Result<Ranges, DeduceError> {
    ranges_with(n, facts, &Progress::default())
}

/// As [`ranges`]; it ends early where `progress` was stopped.
pub fn ranges_with(n: usize, facts: &Facts, progress: &Progress) -> Result<Ranges, DeduceError> {
    check(n, facts)?;
    let mut low = vec![f64::INFINITY; n];
    let mut high = vec![f64::NEG_INFINITY; n];
    let mut possible = Vec::new();
    let mut cost = vec![0.0; n];
    for line in lines(n, facts) {
        let mut programme = programme(n, line, facts);
        tighten(&mut programme, &chains(n, line, facts));
        match linear::minimise(&programme, &cost) {
            Outcome::Solved(_) | Outcome::Feasible(_) => possible.push(line),
            Outcome::Infeasible => continue,
            other @ (Outcome::Unbounded | Outcome::Unsolved(_)) => {
                return Err(DeduceError::Unsolved(other.label().to_owned()));
            }
        }
        for i in 0..n {
            if progress.is_stopped() {
                return Err(DeduceError::Stopped);
            }
            // A bound that an earlier place of the line already reached cannot be
            // passed, so that programme need not be solved.
            for (sign, reached) in [
                (1.0, low[i] <= programme.lower[i]),
                (-1.0, high[i] >= programme.upper[i]),
            ] {
                if reached {
                    continue;
                }
                cost[i] = sign;
                let outcome = linear::minimise(&programme, &cost);
                cost[i] = 0.0;
                match outcome {
                    Outcome::Solved(point) | Outcome::Feasible(point) => {
                        // Rounding may leave the ends crossed by a hair.
                        let value = point.x[i].min(programme.upper[i]).max(programme.lower[i]);
                        if sign > 0.0 {
                            low[i] = low[i].min(value);
                        } else {
                            high[i] = high[i].max(value);
                        }
                    }
                    Outcome::Unsolved(words) => return Err(DeduceError::Unsolved(words)),
                    Outcome::Infeasible | Outcome::Unbounded => {
                        return Err(DeduceError::Unsolved(outcome.label().to_owned()));
                    }
                }
            }
        }
    }
    if possible.is_empty() {
        return Err(DeduceError::Contradiction);
    }
    Ok(Ranges {
        low,
        high,
        lines: possible,
    })
}

/// A composition in the middle of those possible.
#[derive(Clone, PartialEq, Debug)]
pub struct Centre {
    /// One percentage for each ingredient; they add up to 100 and meet every fact.
    pub percent: Vec<f64>,
    /// The place of the one-per-cent line it assumes.
    pub line: usize,
}

/// The central estimate: the analytic centre of the compositions possible. Where
/// the place of the one-per-cent line is unknown, it is the centre for that place
/// whose centre lies closest to the mean of the centres of all places.
pub fn centre(n: usize, facts: &Facts) -> Result<Centre, DeduceError> {
    check(n, facts)?;
    let mut centres = Vec::new();
    for line in lines(n, facts) {
        match centre_of(n, line, facts) {
            Outcome::Solved(point) | Outcome::Feasible(point) => centres.push(Centre {
                percent: point.x,
                line,
            }),
            Outcome::Infeasible => {}
            Outcome::Unbounded => {
                return Err(DeduceError::Unsolved(
                    "the list leaves a sum unbounded".into(),
                ));
            }
            Outcome::Unsolved(words) => return Err(DeduceError::Unsolved(words)),
        }
    }
    let count = centres.len() as f64;
    let mean: Vec<f64> = (0..n)
        .map(|i| centres.iter().map(|c| c.percent[i]).sum::<f64>() / count)
        .collect();
    let distance = |centre: &Centre| -> f64 {
        centre
            .percent
            .iter()
            .zip(&mean)
            .map(|(x, m)| (x - m).powi(2))
            .sum()
    };
    centres
        .into_iter()
        .min_by(|a, b| distance(a).total_cmp(&distance(b)))
        .ok_or(DeduceError::Contradiction)
}

/// The analytic centre after demands that follow from others have been left out,
/// so that the centre depends on what is possible and not on how it was said, and
/// inequalities without room have become equations.
fn centre_of(n: usize, line: usize, facts: &Facts) -> Outcome {
    let mut programme = programme(n, line, facts);
    for i in 0..n {
        if facts.known.contains_key(&i) || facts.anywhere.contains(&i) {
            continue;
        }
        // What the order and the total imply.
        let above = i < line;
        let next = (i + 1..n).find(|j| !facts.anywhere.contains(j));
        let last_of_part = next.is_none_or(|j| (j < line) != above);
        let ordered = above || facts.ordered_below;
        if ordered && !last_of_part && !facts.least.contains_key(&i) {
            programme.lower[i] = f64::NEG_INFINITY;
        }
        let first_of_part = (line..i).all(|j| facts.anywhere.contains(&j));
        if !facts.most.contains_key(&i) && (above || (ordered && !first_of_part)) {
            programme.upper[i] = f64::INFINITY;
        }
    }
    for &i in facts.most.keys() {
        let limit = std::mem::replace(&mut programme.upper[i], f64::INFINITY);
        if implied(&programme, i, limit) != Some(true) {
            programme.upper[i] = limit;
        }
    }
    let sides = inequalities(&programme);
    // One room for each inequality: the greatest sum of rooms, none counted beyond
    // `NO_ROOM`, is reached where all that can be open are open.
    let mut rooms = programme.clone();
    let mut cost = vec![0.0; n];
    for (terms, limit, _) in &sides {
        let room = rooms.unknown(0.0, NO_ROOM);
        cost.push(-1.0);
        let mut terms = terms.clone();
        terms.push((room, 1.0));
        rooms.rows.push(LinearDemand::at_most(terms, *limit));
    }
    let open = match linear::minimise(&rooms, &cost) {
        Outcome::Solved(point) | Outcome::Feasible(point) => point.x,
        other => return other,
    };
    for ((_, _, side), room) in sides.into_iter().zip(&open[n..]) {
        if *room > NO_ROOM / 2.0 {
            continue;
        }
        match side {
            Side::RowLow(k) => programme.rows[k].high = programme.rows[k].low,
            Side::RowHigh(k) => programme.rows[k].low = programme.rows[k].high,
            Side::Lower(i) => programme.upper[i] = programme.lower[i],
            Side::Upper(i) => programme.lower[i] = programme.upper[i],
        }
    }
    quadratic::centre(&programme)
}

/// Whether `x[i] <= limit` follows from the programme; `None` if that cannot be told.
fn implied(programme: &Programme, i: usize, limit: f64) -> Option<bool> {
    let mut cost = vec![0.0; programme.len()];
    *cost.get_mut(i)? = -1.0;
    let point = linear::minimise(programme, &cost).point()?;
    Some(point.x[i] <= limit + NO_ROOM)
}

/// Where an inequality comes from.
#[derive(Clone, Copy)]
enum Side {
    RowLow(usize),
    RowHigh(usize),
    Lower(usize),
    Upper(usize),
}

/// `Σ weight·x <= limit`, and where it comes from.
type Inequality = (Vec<(usize, f64)>, f64, Side);

/// The inequalities of a programme as sums that are at most a value.
fn inequalities(programme: &Programme) -> Vec<Inequality> {
    let mut sides = Vec::new();
    let mut add = |terms: &[(usize, f64)], low: f64, high: f64, of: [Side; 2]| {
        if high - low <= 0.0 {
            return;
        }
        for (limit, sign, side) in [(low, -1.0, of[0]), (high, 1.0, of[1])] {
            if limit.is_finite() {
                let terms = terms.iter().map(|&(i, w)| (i, sign * w)).collect();
                sides.push((terms, sign * limit, side));
            }
        }
    };
    for (k, row) in programme.rows.iter().enumerate() {
        let of = [Side::RowLow(k), Side::RowHigh(k)];
        add(&row.terms, row.low, row.high, of);
    }
    for (i, (&low, &high)) in programme.lower.iter().zip(&programme.upper).enumerate() {
        add(&[(i, 1.0)], low, high, [Side::Lower(i), Side::Upper(i)]);
    }
    sides
}

/// Something that could still be found out, and how much it would help.
#[derive(Clone, PartialEq, Debug)]
pub struct Narrowing {
    /// What would be known.
    pub fact: OpenFact,
    /// Share of the sum of all range widths that would be gone, 0 to 1.
    pub gain: f64,
}

/// A fact that could be found out about a list.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum OpenFact {
    /// The percentage of one ingredient.
    Percentage(usize),
    /// The place of the one-per-cent line.
    Line,
    /// The sum of the group of this number.
    Sum(usize),
}

/// Which further fact would narrow the ranges most, best first: each percentage,
/// the place of the one-per-cent line, or the sum of one of `groups`, each taken
/// at its value in the central estimate. Facts that would change nothing are left
/// out. `progress` counts the facts tried.
pub fn narrowing(
    n: usize,
    facts: &Facts,
    groups: &[Vec<usize>],
    present: &Ranges,
    centre: &Centre,
    progress: &Progress,
) -> Result<Vec<Narrowing>, DeduceError> {
    progress.expect(n + 1 + groups.len());
    let before = present.width();
    let mut narrowings = Vec::new();
    let mut with = |fact, trial: &Facts| -> Result<(), DeduceError> {
        let gain = match ranges_with(n, trial, progress) {
            Ok(after) if before > 0.0 => 1.0 - after.width() / before,
            // The estimate may lie a rounding error outside; then nothing is learnt.
            Ok(_) | Err(DeduceError::Contradiction) => 0.0,
            Err(error) => return Err(error),
        };
        if gain > 1e-6 {
            narrowings.push(Narrowing { fact, gain });
        }
        Ok(())
    };
    for i in 0..n {
        if present.high[i] - present.low[i] > NO_ROOM {
            let mut trial = facts.clone();
            // A band instead of a value keeps the trial solvable in spite of rounding.
            trial
                .least
                .insert(i, (centre.percent[i] - NO_ROOM).max(0.0));
            trial.most.insert(i, centre.percent[i] + NO_ROOM);
            with(OpenFact::Percentage(i), &trial)?;
        }
        progress.step();
    }
    if present.lines.len() > 1 {
        let mut trial = facts.clone();
        trial.line = Some(centre.line);
        with(OpenFact::Line, &trial)?;
    }
    progress.step();
    for (g, group) in groups.iter().enumerate() {
        let terms: Vec<(usize, f64)> = group.iter().map(|&i| (i, 1.0)).collect();
        let sum: f64 = group.iter().filter_map(|&i| centre.percent.get(i)).sum();
        let mut trial = facts.clone();
        trial.sums.push(LinearDemand {
            terms,
            low: sum - NO_ROOM,
            high: sum + NO_ROOM,
        });
        with(OpenFact::Sum(g), &trial)?;
        progress.step();
    }
    narrowings.sort_by(|a, b| b.gain.total_cmp(&a.gain));
    Ok(narrowings)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_in_order_by_hand() {
        // a >= b >= c >= 1, sum 100: a from 100/3 to 98; b from 1 to 49.5;
        // c from 1 to 100/3.
        let facts = Facts {
            line: Some(3),
            ..Facts::default()
        };
        let r = ranges(3, &facts).unwrap();
        for (got, expected) in [
            (r.low[0], 100.0 / 3.0),
            (r.high[0], 98.0),
            (r.low[1], 1.0),
            (r.high[1], 49.5),
            (r.low[2], 1.0),
            (r.high[2], 100.0 / 3.0),
        ] {
            assert!((got - expected).abs() < 1e-6, "{got} {expected}");
        }
        // The mean of the shares above 1 %: 1 + 97 times 11/18, 5/18, 2/18.
        let c = centre(3, &facts).unwrap();
        for (got, part) in c.percent.iter().zip([11.0, 5.0, 2.0]) {
            assert!((got - (1.0 + 97.0 * part / 18.0)).abs() < 1e-3, "{c:?}");
        }
    }

    #[test]
    fn an_unknown_line_covers_every_place_of_it() {
        let facts = Facts::default();
        let all = ranges(5, &facts).unwrap();
        assert_eq!(all.lines, vec![1, 2, 3, 4, 5]);
        for line in 1..=5 {
            let one = ranges(
                5,
                &Facts {
                    line: Some(line),
                    ..Facts::default()
                },
            )
            .unwrap();
            for i in 0..5 {
                assert!(all.low[i] <= one.low[i] + 1e-9);
                assert!(all.high[i] >= one.high[i] - 1e-9);
            }
        }
    }

    /// The ends that follow from the total may cross by rounding where nothing is open.
    #[test]
    fn facts_that_leave_nothing_open_are_met() {
        for n in 2..=30_usize {
            let mut facts = Facts {
                line: Some(n),
                ordered_below: true,
                ..Facts::default()
            };
            facts.most.insert(0, 100.0 / n as f64);
            let r = ranges(n, &facts).unwrap();
            for (low, high) in r.low.iter().zip(&r.high) {
                assert!((low - 100.0 / n as f64).abs() < 1e-6, "{n}: {r:?}");
                assert!((high - low).abs() < 1e-6, "{n}: {r:?}");
            }
        }
    }

    #[test]
    fn facts_that_contradict_are_refused() {
        let mut facts = Facts::default();
        facts.known.insert(0, 20.0);
        facts.known.insert(1, 30.0);
        assert_eq!(ranges(3, &facts), Err(DeduceError::Contradiction));
        facts.known.insert(7, 1.0);
        assert!(matches!(ranges(3, &facts), Err(DeduceError::BadFact(_))));
        assert_eq!(ranges(0, &Facts::default()), Err(DeduceError::Empty));
    }

    #[test]
    fn a_centre_is_found_where_facts_leave_no_room() {
        let mut facts = Facts {
            line: Some(3),
            ..Facts::default()
        };
        facts.known.insert(0, 60.0);
        facts.known.insert(2, 20.0);
        let c = centre(3, &facts).unwrap();
        assert!((c.percent[1] - 20.0).abs() < 1e-4, "{c:?}");
    }

    #[test]
    fn the_fact_that_leaves_nothing_open_narrows_most() {
        // With two ingredients either percentage fixes the other.
        let facts = Facts {
            line: Some(2),
            ..Facts::default()
        };
        let r = ranges(2, &facts).unwrap();
        let c = centre(2, &facts).unwrap();
        let n = narrowing(2, &facts, &[vec![0, 1]], &r, &c, &Progress::default()).unwrap();
        assert_eq!(n.len(), 2, "{n:?}");
        assert!(n[0].gain > 0.999);
    }
}
