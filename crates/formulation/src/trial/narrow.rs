//! What the raw materials bring in, narrowed: every measured value of a known composition is
//! a bound on a weighted sum of unknowns that lie between ends.

use super::fit::Interval;

/// What a measurement says of a weighted sum.
#[derive(Clone, PartialEq, Debug)]
pub struct SumBound {
    /// Where it comes from, in words.
    pub name: String,
    /// Unknowns with their weights.
    pub terms: Vec<(usize, f64)>,
    /// Ends of the sum, with the uncertainty of the instrument.
    pub sum: Interval,
}

/// What is left of the unknowns.
#[derive(Clone, PartialEq, Debug)]
pub struct Narrowed {
    /// Ends of every unknown.
    pub ends: Vec<Interval>,
    /// Which measurements narrowed which unknown.
    pub by: Vec<Vec<usize>>,
    /// Measurements that contradict what was known or the others, each with those that
    /// speak against it; they narrow nothing.
    pub contradictions: Vec<(usize, Vec<usize>)>,
}

/// Rounds after which nothing is gained any more.
const ROUNDS: usize = 200;

/// Narrows unknowns by interval propagation. A measurement that leaves no room is named and
/// left out, never averaged in.
#[must_use]
pub fn narrow(unknowns: &[Interval], constraints: &[SumBound]) -> Narrowed {
    let mut out = Narrowed {
        ends: unknowns.to_vec(),
        by: vec![Vec::new(); unknowns.len()],
        contradictions: Vec::new(),
    };
    let mut active = vec![true; constraints.len()];
    for _ in 0..ROUNDS {
        let mut gained = false;
        for (c, constraint) in constraints.iter().enumerate() {
            if !active[c] {
                continue;
            }
            let reach = |ends: &[Interval]| {
                constraint.terms.iter().fold([0.0, 0.0], |sum, (i, w)| {
                    let [a, b] = ends.get(*i).copied().unwrap_or([0.0, 0.0]);
                    let (x, y) = (a * w, b * w);
                    [sum[0] + x.min(y), sum[1] + x.max(y)]
                })
            };
            let [low, high] = reach(&out.ends);
            let slack = 1e-12 * (low.abs() + high.abs() + 1.0);
            if high < constraint.sum[0] - slack || low > constraint.sum[1] + slack {
                active[c] = false;
                let mut against: Vec<usize> = constraint
                    .terms
                    .iter()
                    .filter_map(|(i, _)| out.by.get(*i))
                    .flatten()
                    .copied()
                    .collect();
                against.sort_unstable();
                against.dedup();
                out.contradictions.push((c, against));
                continue;
            }
            for (i, w) in &constraint.terms {
                let Some([a, b]) = out.ends.get(*i).copied() else {
                    continue;
                };
                if *w == 0.0 {
                    continue;
                }
                let (own_low, own_high) = ((a * w).min(b * w), (a * w).max(b * w));
                // The term alone can be what the sum leaves when all others are at an end.
                let from = (constraint.sum[0] - (high - own_high)) / w;
                let to = (constraint.sum[1] - (low - own_low)) / w;
                let (from, to) = (from.min(to), from.max(to));
                let next = [a.max(from), b.min(to)];
                let width = b - a;
                if next[0] <= next[1] && width - (next[1] - next[0]) > 1e-9 * width.max(1e-12) {
                    out.ends[*i] = next;
                    if !out.by[*i].contains(&c) {
                        out.by[*i].push(c);
                    }
                    gained = true;
                    break;
                }
            }
        }
        if !gained {
            break;
        }
    }
    out
}
