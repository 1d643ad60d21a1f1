//! The point nearest to a given one, and the middle of what is possible, under
//! the demands of a [`Programme`].
//!
//! Interior-point method of the crate `clarabel`.

use clarabel::algebra::CscMatrix;
use clarabel::solver::{
    DefaultSettings, DefaultSolver, IPSolver as _, SolverStatus, SupportedConeT,
};

use super::linear;
use super::programme::{Outcome, Programme, SolvedPoint};

/// Duality gap and feasibility at which the interior-point method stops.
pub const TOLERANCE: f64 = 1e-10;
/// Most steps of the interior-point method; it needs some twenty.
pub const STEP_LIMIT: u32 = 60;
/// How far a step may go towards the boundary. Rarely the method runs in a circle at its
/// usual step; a shorter one then ends it.
const STEP_FRACTIONS: [f64; 3] = [0.99, 0.9, 0.7];

/// Room, in the unit of the demand, below which there is none.
const NO_ROOM: f64 = 1e-9;

/// Finds the least of `Σ weight·(x - start)² + Σ cost·x` under the programme's
/// demands. Weights must not be negative; `start` and `weight` have one entry
/// for each unknown; `cost` may be shorter, the rest counting as 0.
pub fn nearest(programme: &Programme, start: &[f64], weight: &[f64], cost: &[f64]) -> Outcome {
    let n = programme.len();
    if start.len() != n || weight.len() != n {
        return Outcome::Unsolved(format!(
            "{n} unknowns, but {} starting values and {} weights",
            start.len(),
            weight.len()
        ));
    }
    if programme.contradicts_itself() {
        return Outcome::Infeasible;
    }
    let found = nearest_inside(programme, start, weight, cost);
    if matches!(found, Outcome::Solved(_) | Outcome::Unbounded) {
        return found;
    }
    // Whether there is any answer is for the simplex method to say.
    match linear::minimise(programme, &[]) {
        Outcome::Infeasible => return Outcome::Infeasible,
        Outcome::Solved(_) => {}
        _ => return found,
    }
    let again = nearest_inside(&pinned(programme), start, weight, cost);
    match again {
        Outcome::Infeasible | Outcome::Unsolved(_) if matches!(found, Outcome::Feasible(_)) => {
            found
        }
        // The simplex method has found a point.
        Outcome::Infeasible => Outcome::Unsolved(
            "the interior-point method finds no room where there is an answer".into(),
        ),
        _ => again,
    }
}

/// The programme with what its demands leave no room for stated as equations, so that an
/// interior-point method can move in the rest.
fn pinned(programme: &Programme) -> Programme {
    let middle = |(low, high): (f64, f64)| (high - low < NO_ROOM).then_some(0.5 * (low + high));
    let mut pinned = programme.clone();
    for i in 0..programme.len() {
        if let Some(value) = linear::range(programme, &[(i, 1.0)]).and_then(middle) {
            (pinned.lower[i], pinned.upper[i]) = (value, value);
        }
    }
    for row in &mut pinned.rows {
        if let Some(value) = linear::range(programme, &row.terms).and_then(middle) {
            (row.low, row.high) = (value, value);
        }
    }
    let open = |i: usize| pinned.lower[i] < pinned.upper[i];
    // What only speaks of pinned unknowns says nothing more.
    pinned
        .rows
        .retain(|row| row.terms.iter().any(|&(i, _)| open(i)));
    pinned
}

fn nearest_inside(programme: &Programme, start: &[f64], weight: &[f64], cost: &[f64]) -> Outcome {
    let n = programme.len();
    // The largest weight counts as 1, so that the gap is judged alike whatever the unit.
    let largest = weight.iter().copied().fold(0.0, f64::max);
    let scale = if largest > 0.0 { largest } else { 1.0 };
    let curvature = CscMatrix::new(
        n,
        n,
        (0..=n).collect(),
        (0..n).collect(),
        weight.iter().map(|w| 2.0 * w / scale).collect(),
    );
    let cost = |i: usize| cost.get(i).copied().unwrap_or(0.0);
    let slope: Vec<f64> = (0..n).map(|i| cost(i) / scale).collect();
    let system = System::of(programme);
    let (matrix, mut right) = system.matrix(n);
    // Solved for the change from the start: the method's tolerances are relative to the
    // size of what is sought, and a change is smaller than a percentage.
    for (right, (terms, _)) in right.iter_mut().zip(system.sides()) {
        *right -= terms.iter().map(|&(i, w)| w * start[i]).sum::<f64>();
    }
    let cones = [
        SupportedConeT::ZeroConeT(system.equal.len()),
        SupportedConeT::NonnegativeConeT(system.at_most.len()),
    ];
    match solve(&curvature, &slope, &matrix, &right, &cones) {
        Ok(Found { x: change, exact }) => {
            let mut x: Vec<f64> = change.iter().zip(start).map(|(d, s)| d + s).collect();
            programme.pull_within_bounds(&mut x);
            // From the definition, so that no digits are lost to a constant.
            let objective = x
                .iter()
                .zip(start.iter().zip(weight))
                .enumerate()
                .map(|(i, (x, (start, weight)))| weight * (x - start).powi(2) + cost(i) * x)
                .sum();
            finish(SolvedPoint { x, objective }, exact)
        }
        Err(outcome) => outcome,
    }
}

/// Finds the analytic centre of the programme: the point at which the product of
/// the distances to all bounds and one-sided demands is greatest.
///
/// For demands that only order shares of a whole it is the mean of all possible
/// compositions. Every inequality must have room; see [`crate::solve::deduce`] for
/// those that have none. The objective returned is the sum of the logarithms
/// of the distances, with its sign turned.
pub fn centre(programme: &Programme) -> Outcome {
    let n = programme.len();
    if programme.contradicts_itself() {
        return Outcome::Infeasible;
    }
    let system = System::of(programme);
    let slacks = system.at_most.len();
    let total = n + slacks;
    // Unknowns: x, then one logarithm t for each slack s = b - a·x, with
    // (t, 1, s) in the exponential cone, that is exp(t) <= s.
    let mut columns: Vec<Vec<(usize, f64)>> = vec![Vec::new(); total];
    let mut right = Vec::with_capacity(system.equal.len() + 3 * slacks);
    for (terms, value) in &system.equal {
        for &(i, weight) in terms {
            columns[i].push((right.len(), weight));
        }
        right.push(*value);
    }
    let mut cones = vec![SupportedConeT::ZeroConeT(system.equal.len())];
    for (k, (terms, value)) in system.at_most.iter().enumerate() {
        columns[n + k].push((right.len(), -1.0));
        right.push(0.0);
        right.push(1.0);
        for &(i, weight) in terms {
            columns[i].push((right.len(), weight));
        }
        right.push(*value);
        cones.push(SupportedConeT::ExponentialConeT());
    }
    let matrix = from_columns(right.len(), columns);
    let mut slope = vec![0.0; n];
    slope.resize(total, -1.0);
    match solve(
        &CscMatrix::zeros((total, total)),
        &slope,
        &matrix,
        &right,
        &cones,
    ) {
        Ok(Found { mut x, exact }) => {
            let objective = -x.split_off(n).iter().sum::<f64>();
            programme.pull_within_bounds(&mut x);
            finish(SolvedPoint { x, objective }, exact)
        }
        Err(outcome) => outcome,
    }
}

/// A weighted sum and the value on its right-hand side.
type Side = (Vec<(usize, f64)>, f64);

/// The demands and bounds as equations and as sums that are at most a value.
struct System {
    equal: Vec<Side>,
    at_most: Vec<Side>,
}

impl System {
    fn of(programme: &Programme) -> Self {
        let mut system = Self {
            equal: Vec::new(),
            at_most: Vec::new(),
        };
        for row in &programme.rows {
            system.add(&row.terms, row.low, row.high);
        }
        for (i, (&low, &high)) in programme.lower.iter().zip(&programme.upper).enumerate() {
            system.add(&[(i, 1.0)], low, high);
        }
        system
    }

    fn add(&mut self, terms: &[(usize, f64)], low: f64, high: f64) {
        if high - low <= 0.0 {
            self.equal.push((terms.to_vec(), low));
            return;
        }
        if high.is_finite() {
            self.at_most.push((terms.to_vec(), high));
        }
        if low.is_finite() {
            let negative = terms.iter().map(|&(i, weight)| (i, -weight)).collect();
            self.at_most.push((negative, -low));
        }
    }

    /// All sides in the order of the matrix: the equations first.
    fn sides(&self) -> impl Iterator<Item = &Side> {
        self.equal.iter().chain(&self.at_most)
    }

    fn matrix(&self, n: usize) -> (CscMatrix<f64>, Vec<f64>) {
        let mut columns: Vec<Vec<(usize, f64)>> = vec![Vec::new(); n];
        let mut right = Vec::with_capacity(self.equal.len() + self.at_most.len());
        for (terms, value) in self.sides() {
            for &(i, weight) in terms {
                columns[i].push((right.len(), weight));
            }
            right.push(*value);
        }
        (from_columns(right.len(), columns), right)
    }
}

fn from_columns(rows: usize, columns: Vec<Vec<(usize, f64)>>) -> CscMatrix<f64> {
    let n = columns.len();
    let mut starts = Vec::with_capacity(n + 1);
    let mut places = Vec::new();
    let mut values = Vec::new();
    starts.push(0);
    for column in columns {
        for (row, value) in column {
            if value != 0.0 {
                places.push(row);
                values.push(value);
            }
        }
        starts.push(places.len());
    }
    CscMatrix::new(rows, n, starts, places, values)
}

/// What the interior-point method ended with.
struct Found {
    x: Vec<f64>,
    /// Within [`TOLERANCE`], not only within the method's reduced tolerance.
    exact: bool,
}

fn finish(point: SolvedPoint, exact: bool) -> Outcome {
    if exact {
        Outcome::Solved(point)
    } else {
        Outcome::Feasible(point)
    }
}

fn solve(
    curvature: &CscMatrix<f64>,
    slope: &[f64],
    matrix: &CscMatrix<f64>,
    right: &[f64],
    cones: &[SupportedConeT<f64>],
) -> Result<Found, Outcome> {
    let mut ended = Err(Outcome::Infeasible);
    for max_step_fraction in STEP_FRACTIONS {
        let settings = DefaultSettings {
            verbose: false,
            max_iter: STEP_LIMIT,
            max_step_fraction,
            tol_gap_abs: TOLERANCE,
            tol_gap_rel: TOLERANCE,
            tol_feas: TOLERANCE,
            ..DefaultSettings::default()
        };
        let mut solver = DefaultSolver::new(curvature, slope, matrix, right, cones, settings)
            .map_err(|error| Outcome::Unsolved(error.to_string()))?;
        solver.solve();
        let solution = solver.solution;
        match solution.status {
            SolverStatus::Solved => {
                let (x, exact) = (solution.x, true);
                return Ok(Found { x, exact });
            }
            SolverStatus::AlmostSolved => {
                let (x, exact) = (solution.x, false);
                ended = Ok(Found { x, exact });
            }
            SolverStatus::PrimalInfeasible | SolverStatus::AlmostPrimalInfeasible => {
                return Err(Outcome::Infeasible);
            }
            SolverStatus::DualInfeasible | SolverStatus::AlmostDualInfeasible => {
                return Err(Outcome::Unbounded);
            }
            status if ended.is_err() => {
                ended = Err(Outcome::Unsolved(format!(
                    "the interior-point method stopped with “{status:?}” after {} of at most {STEP_LIMIT} steps",
                    solution.iterations
                )));
            }
            _ => {}
        }
    }
    ended
}

#[cfg(test)]
mod tests {
    use super::super::programme::LinearDemand;
    use super::*;

    #[test]
    fn a_nearest_point_found_by_hand() {
        // Nearest to (60, 40) on a + b = 100 with a >= 70: (70, 30), 2·100 + 100.
        let mut p = Programme::new();
        let a = p.unknown(70.0, 100.0);
        let b = p.unknown(0.0, 100.0);
        p.rows
            .push(LinearDemand::equal(vec![(a, 1.0), (b, 1.0)], 100.0));
        let point = nearest(&p, &[60.0, 40.0], &[2.0, 1.0], &[])
            .point()
            .unwrap();
        assert!((point.x[a] - 70.0).abs() < 1e-6);
        assert!((point.x[b] - 30.0).abs() < 1e-6);
        assert!((point.objective - 300.0).abs() < 1e-5);
        p.upper[b] = 20.0;
        p.upper[a] = 75.0;
        assert_eq!(
            nearest(&p, &[60.0, 40.0], &[2.0, 1.0], &[]),
            Outcome::Infeasible
        );
    }

    /// Demands that leave one value, each from another side and scale: no room for an
    /// interior-point method, but an answer.
    #[test]
    fn what_demands_pin_is_found() {
        let mut p = Programme::new();
        let a = p.unknown(0.0, 100.0);
        p.rows.push(LinearDemand::equal(vec![(a, 1.0)], 100.0));
        p.rows
            .push(LinearDemand::at_most(vec![(a, 6_505.0)], 650_501.0));
        p.rows.push(LinearDemand::at_least(vec![(a, 0.874)], 87.4));
        p.rows
            .push(LinearDemand::at_least(vec![(a, 0.000_327)], 0.0327));
        p.rows
            .push(LinearDemand::at_least(vec![(a, -1.147)], -114.7));
        let Outcome::Solved(point) = nearest(&p, &[99.36], &[1.0], &[]) else {
            panic!("not solved");
        };
        assert!((point.objective - 0.4096).abs() < 1e-6, "{point:?}");
        // Nothing meets these, however close they come.
        p.rows.push(LinearDemand::at_most(vec![(a, 1.0)], 99.999));
        assert_eq!(nearest(&p, &[99.36], &[1.0], &[]), Outcome::Infeasible);
    }

    #[test]
    fn the_centre_of_ordered_shares_is_their_mean() {
        // Mean of the ordered parts of a stick broken at random into three:
        // (1/3)(1 + 1/2 + 1/3), (1/3)(1/2 + 1/3), (1/3)(1/3) = 11/18, 5/18, 2/18
        // (H. A. David and H. N. Nagaraja, Order Statistics, 2003, 6.4; from memory).
        let mut p = Programme::new();
        for _ in 0..3 {
            p.unknown(f64::NEG_INFINITY, f64::INFINITY);
        }
        p.rows.push(LinearDemand::equal(
            vec![(0, 1.0), (1, 1.0), (2, 1.0)],
            18.0,
        ));
        p.rows
            .push(LinearDemand::at_least(vec![(0, 1.0), (1, -1.0)], 0.0));
        p.rows
            .push(LinearDemand::at_least(vec![(1, 1.0), (2, -1.0)], 0.0));
        p.rows.push(LinearDemand::at_least(vec![(2, 1.0)], 0.0));
        let point = centre(&p).point().unwrap();
        for (x, expected) in point.x.iter().zip([11.0, 5.0, 2.0]) {
            assert!((x - expected).abs() < 1e-4, "{:?}", point.x);
        }
    }
}
