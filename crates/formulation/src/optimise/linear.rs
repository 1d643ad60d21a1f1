//! Linear programmes, with whole choices where needed: the least of a weighted
//! sum under the demands of a [`Programme`].
//!
//! Simplex and branch and bound of the crate `microlp`.

use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOptions, Variable};

use super::programme::{FEASIBILITY, Outcome, Programme, SolvedPoint};

/// Most branches looked into before a search among whole choices gives up.
pub const BRANCH_LIMIT: u64 = 20_000;

/// Finds the least of `Σ cost·x` under the programme's demands. Costs that are
/// missing at the end count as 0.
pub fn minimise(programme: &Programme, cost: &[f64]) -> Outcome {
    minimise_with_whole(programme, cost, &[])
}

/// Finds the least and the greatest of one weighted sum under the demands.
/// `None` if there is no point at all or a solve failed.
pub fn range(programme: &Programme, terms: &[(usize, f64)]) -> Option<(f64, f64)> {
    let mut cost = vec![0.0; programme.len()];
    for &(i, weight) in terms {
        *cost.get_mut(i)? += weight;
    }
    let low = minimise(programme, &cost).point()?.objective;
    for cost in &mut cost {
        *cost = -*cost;
    }
    let high = -minimise(programme, &cost).point()?.objective;
    Some((low, high.max(low)))
}

/// As [`minimise`], with the unknowns in `whole` taking whole numbers only.
/// Their bounds must lie within the range of `i32`.
pub fn minimise_with_whole(programme: &Programme, cost: &[f64], whole: &[usize]) -> Outcome {
    minimise_within(programme, cost, whole, BRANCH_LIMIT)
}

/// As [`minimise_with_whole`], looking into so many branches at most.
pub fn minimise_within(
    programme: &Programme,
    cost: &[f64],
    whole: &[usize],
    branches: u64,
) -> Outcome {
    if programme.contradicts_itself() {
        return Outcome::Infeasible;
    }
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let variables: Vec<Variable> = programme
        .lower
        .iter()
        .zip(&programme.upper)
        .enumerate()
        .map(|(i, (&low, &high))| {
            let cost = cost.get(i).copied().unwrap_or(0.0);
            if whole.contains(&i) {
                problem.add_integer_var(cost, (low.ceil() as i32, high.floor() as i32))
            } else {
                problem.add_var(cost, (low, high.max(low)))
            }
        })
        .collect();
    for row in &programme.rows {
        let mut terms = Vec::with_capacity(row.terms.len());
        for &(i, weight) in &row.terms {
            let Some(&variable) = variables.get(i) else {
                return Outcome::Unsolved(format!(
                    "a demand names unknown {i}, which is not there"
                ));
            };
            if weight != 0.0 {
                terms.push((variable, weight));
            }
        }
        // A demand on traces is held as exactly as one on whole percentages.
        let largest = terms.iter().map(|(_, w)| w.abs()).fold(0.0, f64::max);
        let scale = if largest > 0.0 && largest < 1.0 {
            largest.recip()
        } else {
            1.0
        };
        for (_, weight) in &mut terms {
            *weight *= scale;
        }
        let (low, high) = (row.low * scale, row.high * scale);
        if high - low <= 0.0 {
            problem.add_constraint(&terms, ComparisonOp::Eq, low);
            continue;
        }
        if low.is_finite() {
            problem.add_constraint(&terms, ComparisonOp::Ge, low);
        }
        if high.is_finite() {
            problem.add_constraint(&terms, ComparisonOp::Le, high);
        }
    }
    let mut options = SolveOptions::default();
    options.tolerances.feasibility = FEASIBILITY;
    options.node_limit = Some(branches);
    match problem.solve_with(options) {
        Ok(outcome) => {
            let optimal = outcome.is_optimal();
            match outcome.into_solution() {
                Ok(solution) => {
                    let point = SolvedPoint {
                        x: variables.iter().map(|&v| solution.var_value(v)).collect(),
                        objective: solution.objective(),
                    };
                    if optimal {
                        Outcome::Solved(point)
                    } else {
                        Outcome::Feasible(point)
                    }
                }
                Err(_) => {
                    Outcome::Unsolved(format!("no answer among the first {branches} branches"))
                }
            }
        }
        Err(microlp::Error::Infeasible) => Outcome::Infeasible,
        Err(microlp::Error::Unbounded) => Outcome::Unbounded,
        Err(error) => Outcome::Unsolved(error.to_string()),
    }
}

#[cfg(test)]
mod tests {
    use super::super::programme::LinearDemand;
    use super::*;

    #[test]
    fn a_problem_solved_by_hand() {
        // Least of 2a + 3b with a + b = 10 and a <= 6: a = 6, b = 4, 24.
        let mut p = Programme::new();
        let a = p.unknown(0.0, 6.0);
        let b = p.unknown(0.0, 100.0);
        p.rows
            .push(LinearDemand::equal(vec![(a, 1.0), (b, 1.0)], 10.0));
        let point = minimise(&p, &[2.0, 3.0]).point().unwrap();
        assert!((point.objective - 24.0).abs() < 1e-9);
        assert_eq!(range(&p, &[(b, 1.0)]), Some((4.0, 10.0)));
    }

    #[test]
    fn contradictions_and_missing_limits_are_told_apart() {
        let mut p = Programme::new();
        let a = p.unknown(0.0, f64::INFINITY);
        assert_eq!(minimise(&p, &[-1.0]), Outcome::Unbounded);
        p.rows.push(LinearDemand::at_least(vec![(a, 1.0)], 2.0));
        p.rows.push(LinearDemand::at_most(vec![(a, 1.0)], 1.0));
        assert_eq!(minimise(&p, &[1.0]), Outcome::Infeasible);
        p.lower[a] = 3.0;
        p.upper[a] = 2.0;
        assert_eq!(minimise(&p, &[1.0]), Outcome::Infeasible);
    }

    #[test]
    fn whole_choices_are_whole() {
        // Greatest 5a + 4b with 6a + 5b <= 10, whole: a = 0, b = 2 gives 8; the
        // best without wholeness is 8.33 at a = 5/3.
        let mut p = Programme::new();
        let a = p.unknown(0.0, 10.0);
        let b = p.unknown(0.0, 10.0);
        p.rows
            .push(LinearDemand::at_most(vec![(a, 6.0), (b, 5.0)], 10.0));
        let point = minimise_with_whole(&p, &[-5.0, -4.0], &[a, b])
            .point()
            .unwrap();
        assert!((point.objective + 8.0).abs() < 1e-6);
    }
}
