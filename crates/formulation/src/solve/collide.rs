//! Demands that cannot be kept together: the smallest set of them, and how far
//! each can be met when the others are kept.

use super::demand::Demand;
use crate::optimise::linear;
use crate::optimise::programme::{LinearDemand, Outcome, Programme};

/// Most candidate sets looked into before a set that is only irreducible is taken.
const SET_LIMIT: usize = 400;

/// The programme of `n` percentages that total 100, under a choice of demands.
/// Plain bounds go into the bounds of the unknowns.
pub fn programme<'a>(n: usize, demands: impl IntoIterator<Item = &'a Demand>) -> Programme {
    let mut programme = Programme::new();
    for _ in 0..n {
        programme.unknown(0.0, 100.0);
    }
    programme.rows.push(LinearDemand::equal(
        (0..n).map(|i| (i, 1.0)).collect(),
        100.0,
    ));
    for demand in demands {
        if let Some((i, weight)) = demand.bound() {
            let (low, high) = (demand.low / weight, demand.high / weight);
            programme.lower[i] = programme.lower[i].max(low);
            programme.upper[i] = programme.upper[i].min(high);
        } else {
            programme.rows.extend(demand.rows());
        }
    }
    programme
}

/// A set of demands that cannot be kept together: an irreducible infeasible subset (IIS), and
/// the smallest one where that could be proved.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct IrreducibleSet {
    /// Places of the demands, ascending. Without any one of them the rest can be
    /// kept together.
    pub members: Vec<usize>,
    /// Whether no set of fewer demands collides; otherwise only that none of its
    /// members is superfluous.
    pub smallest: bool,
}

/// Whether the chosen demands can be kept together; a solver that fails counts as yes,
/// so that no collision is claimed without proof.
fn possible(n: usize, demands: &[Demand], chosen: &[usize]) -> bool {
    let chosen = chosen.iter().filter_map(|&i| demands.get(i));
    linear::minimise(&programme(n, chosen), &[]) != Outcome::Infeasible
}

/// The smallest set of demands on `n` percentages that cannot be kept together;
/// `None` if all can.
///
/// Every set whose removal leaves the rest possible must meet every colliding set,
/// so the least set that meets all of those found so far either collides, and is
/// then the smallest, or shows a further one (implicit hitting sets: A. Ignatiev
/// and others, Smallest MUS Extraction with Minimal Hitting Set Dualization, 2015).
///
/// It ends early, with a set that is not the smallest, where `go_on` says no.
pub fn smallest(n: usize, demands: &[Demand], go_on: &dyn Fn() -> bool) -> Option<IrreducibleSet> {
    let all: Vec<usize> = (0..demands.len()).collect();
    if possible(n, demands, &all) {
        return None;
    }
    let mut corrections: Vec<Vec<usize>> = Vec::new();
    for _ in 0..SET_LIMIT {
        if !go_on() {
            return Some(IrreducibleSet {
                members: all,
                smallest: false,
            });
        }
        let Some(chosen) = least_meeting(&corrections, demands.len()) else {
            break;
        };
        if !possible(n, demands, &chosen) {
            return Some(IrreducibleSet {
                members: chosen,
                smallest: true,
            });
        }
        corrections.push(left_out(n, demands, chosen));
    }
    Some(IrreducibleSet {
        members: irreducible(n, demands, all),
        smallest: false,
    })
}

/// The least set that has a member in common with each of `sets`.
fn least_meeting(sets: &[Vec<usize>], count: usize) -> Option<Vec<usize>> {
    let mut used: Vec<usize> = sets.iter().flatten().copied().collect();
    used.sort_unstable();
    used.dedup();
    if used.iter().any(|&i| i >= count) {
        return None;
    }
    let mut programme = Programme::new();
    for _ in &used {
        programme.unknown(0.0, 1.0);
    }
    for set in sets {
        let terms = set
            .iter()
            .filter_map(|i| used.binary_search(i).ok())
            .map(|k| (k, 1.0))
            .collect();
        programme.rows.push(LinearDemand::at_least(terms, 1.0));
    }
    let whole: Vec<usize> = (0..used.len()).collect();
    let cost = vec![1.0; used.len()];
    match linear::minimise_with_whole(&programme, &cost, &whole) {
        Outcome::Solved(point) => Some(
            used.iter()
                .zip(&point.x)
                .filter(|(_, x)| **x > 0.5)
                .map(|(&i, _)| i)
                .collect(),
        ),
        _ => None,
    }
}

/// Grows a possible choice until no further demand fits, and returns what is left out.
fn left_out(n: usize, demands: &[Demand], mut chosen: Vec<usize>) -> Vec<usize> {
    // One programme tells which demands can be had for nothing beside the chosen ones.
    let mut programme = programme(n, chosen.iter().filter_map(|&i| demands.get(i)));
    let mut cost = vec![0.0; n];
    let rest: Vec<usize> = (0..demands.len()).filter(|i| !chosen.contains(i)).collect();
    for demand in rest.iter().filter_map(|&i| demands.get(i)) {
        for mut row in demand.rows() {
            for (limit, sign) in [(row.low, 1.0), (row.high, -1.0)] {
                if limit.is_finite() {
                    let slack = programme.unknown(0.0, f64::INFINITY);
                    cost.push(1.0 / limit.abs().max(1.0));
                    row.terms.push((slack, sign));
                }
            }
            programme.rows.push(row);
        }
    }
    if let Some(point) = linear::minimise(&programme, &cost).point() {
        let x = &point.x[..n];
        chosen.extend(rest.iter().filter(|&&i| {
            demands
                .get(i)
                .is_some_and(|d| d.rows().iter().all(|r| r.excess(x) <= 1e-7))
        }));
    }
    for i in rest {
        if !chosen.contains(&i) {
            chosen.push(i);
            if !possible(n, demands, &chosen) {
                chosen.pop();
            }
        }
    }
    (0..demands.len()).filter(|i| !chosen.contains(i)).collect()
}

/// Drops members as long as the rest still collides.
fn irreducible(n: usize, demands: &[Demand], mut members: Vec<usize>) -> Vec<usize> {
    let mut k = 0;
    while k < members.len() {
        let dropped = members.remove(k);
        if possible(n, demands, &members) {
            members.insert(k, dropped);
            k += 1;
        }
    }
    members
}

/// The value a demand's quantity can come closest to, when only `others` are kept.
///
/// A ratio `p·x / q·x` is brought to a linear programme in `y = x·t` with `q·y = 1`
/// (A. Charnes and W. W. Cooper, Programming with linear fractional functionals,
/// 1962). `None` if the others cannot be kept, or the quantity knows no bound.
pub fn reach<'a>(
    n: usize,
    demand: &Demand,
    others: impl IntoIterator<Item = &'a Demand>,
) -> Option<f64> {
    let programme = programme(n, others);
    let extreme = |sign: f64| -> Option<f64> {
        let cost: Vec<f64> = demand.form.top.iter().map(|w| sign * w).collect();
        let Some(bottom) = &demand.form.bottom else {
            return Some(sign * linear::minimise(&programme, &cost).point()?.objective);
        };
        let mut scaled = Programme::new();
        for _ in 0..n {
            scaled.unknown(0.0, f64::INFINITY);
        }
        let t = scaled.unknown(0.0, f64::INFINITY);
        let mut add = |terms: &[(usize, f64)], low: f64, high: f64| {
            let against = |limit: f64| {
                let mut terms = terms.to_vec();
                terms.push((t, -limit));
                terms
            };
            if low == high {
                scaled.rows.push(LinearDemand::equal(against(low), 0.0));
                return;
            }
            if low.is_finite() {
                scaled.rows.push(LinearDemand::at_least(against(low), 0.0));
            }
            if high.is_finite() {
                scaled.rows.push(LinearDemand::at_most(against(high), 0.0));
            }
        };
        for row in &programme.rows {
            add(&row.terms, row.low, row.high);
        }
        for (i, (&low, &high)) in programme.lower.iter().zip(&programme.upper).enumerate() {
            add(&[(i, 1.0)], low, high);
        }
        let bottom = bottom.iter().copied().enumerate();
        scaled.rows.push(LinearDemand::equal(
            bottom.filter(|(_, w)| *w != 0.0).collect(),
            1.0,
        ));
        Some(sign * linear::minimise(&scaled, &cost).point()?.objective)
    };
    match (demand.low.is_finite(), demand.high.is_finite()) {
        (true, false) => extreme(-1.0),
        (false, true) => extreme(1.0),
        _ => {
            let (least, most) = (extreme(1.0)?, extreme(-1.0)?);
            Some(if most < demand.low {
                most
            } else {
                least.max(demand.low)
            })
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::demand::{DemandOrigin, FigureStyle};
    use super::super::subject::LinearRatio;
    use super::*;
    use proptest::prelude::*;

    fn demand(weights: &[f64], low: f64, high: f64) -> Demand {
        Demand {
            origin: DemandOrigin::Target(0),
            words: String::new(),
            name: String::new(),
            form: LinearRatio::sum(weights.to_vec()),
            low,
            high,
            figure: FigureStyle::PERCENT,
        }
    }
    const MANY: f64 = f64::INFINITY;

    #[test]
    fn the_reach_of_an_active_by_hand() {
        // 30 % betaine solution and 50 % glucoside solution, at most 20 and 10 %:
        // 6 + 5 = 11 % active.
        let active = demand(&[0.3, 0.5, 0.0], 14.0, MANY);
        let bounds = [
            demand(&[1.0, 0.0, 0.0], 0.0, 20.0),
            demand(&[0.0, 1.0, 0.0], 0.0, 10.0),
        ];
        let reach = reach(3, &active, &bounds).unwrap();
        assert!((reach - 11.0).abs() < 1e-6);
        let all = [active, bounds[0].clone(), bounds[1].clone()];
        let set = smallest(3, &all, &|| true).unwrap();
        assert_eq!(set.members, vec![0, 1, 2]);
        assert!(set.smallest);
    }

    #[test]
    fn the_reach_of_a_ratio_by_hand() {
        // a to b at most 1, with a at least 30 and b at most 20: a/b can fall to 1.5.
        let mut ratio = demand(&[1.0, 0.0, 0.0], f64::NEG_INFINITY, 1.0);
        ratio.form.bottom = Some(vec![0.0, 1.0, 0.0]);
        let others = [
            demand(&[1.0, 0.0, 0.0], 30.0, MANY),
            demand(&[0.0, 1.0, 0.0], 0.0, 20.0),
        ];
        let reach = reach(3, &ratio, &others).unwrap();
        assert!((reach - 1.5).abs() < 1e-6, "{reach}");
    }

    /// The size of the smallest colliding set, by trying every set.
    fn brute_force(n: usize, demands: &[Demand]) -> Option<usize> {
        (0..1_u32 << demands.len())
            .filter(|mask| {
                let chosen: Vec<usize> =
                    (0..demands.len()).filter(|i| mask >> i & 1 == 1).collect();
                !possible(n, demands, &chosen)
            })
            .map(|mask| mask.count_ones() as usize)
            .min()
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 60, ..ProptestConfig::default() })]
        #[test]
        fn the_set_is_the_smallest_by_brute_force(
            weights in prop::collection::vec(prop::collection::vec(0_u8..4, 4), 2..9),
            limits in prop::collection::vec((0_u8..60, any::<bool>()), 9),
        ) {
            let demands: Vec<Demand> = weights
                .iter()
                .zip(&limits)
                .map(|(w, &(limit, at_least))| {
                    let w: Vec<f64> = w.iter().map(|&v| f64::from(v) / 3.0).collect();
                    let limit = f64::from(limit);
                    if at_least {
                        demand(&w, limit, MANY)
                    } else {
                        demand(&w, f64::NEG_INFINITY, limit / 2.0)
                    }
                })
                .collect();
            let found = smallest(4, &demands, &|| true);
            prop_assert_eq!(found.as_ref().map(|s| s.members.len()), brute_force(4, &demands));
            if let Some(set) = found {
                prop_assert!(set.smallest);
                prop_assert!(!possible(4, &demands, &set.members));
                for k in 0..set.members.len() {
                    let mut rest = set.members.clone();
                    rest.remove(k);
                    prop_assert!(possible(4, &demands, &rest));
                }
                prop_assert_eq!(irreducible(4, &demands, (0..demands.len()).collect()).len() >= set.members.len(), true);
            }
        }
    }
}
