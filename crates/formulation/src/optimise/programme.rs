//! Unknowns between bounds and demands on weighted sums of them.

/// How far a solution may be outside a bound or a demand and still count as
/// meeting it, in the unit of the demand (mostly % w/w).
pub const FEASIBILITY: f64 = 1e-7;

/// A demand on a weighted sum of the unknowns: `low <= Σ weight·x <= high`.
#[derive(Clone, PartialEq, Debug)]
pub struct LinearDemand {
    /// Unknown and weight; each unknown at most once.
    pub terms: Vec<(usize, f64)>,
    /// Least allowed; `-inf` if there is no lower limit.
    pub low: f64,
    /// Most allowed; `+inf` if there is no upper limit.
    pub high: f64,
}

impl LinearDemand {
    /// At least `low`.
    pub fn at_least(terms: Vec<(usize, f64)>, low: f64) -> Self {
        Self {
            terms,
            low,
            high: f64::INFINITY,
        }
    }
    /// At most `high`.
    pub fn at_most(terms: Vec<(usize, f64)>, high: f64) -> Self {
        Self {
            terms,
            low: f64::NEG_INFINITY,
            high,
        }
    }
    /// Equal to `value`.
    pub fn equal(terms: Vec<(usize, f64)>, value: f64) -> Self {
        Self {
            terms,
            low: value,
            high: value,
        }
    }
    /// The weighted sum at a point.
    pub fn value(&self, x: &[f64]) -> f64 {
        self.terms
            .iter()
            .map(|&(i, weight)| weight * x.get(i).copied().unwrap_or(0.0))
            .sum()
    }
    /// How far a point is outside the demand; 0 if it is met.
    pub fn excess(&self, x: &[f64]) -> f64 {
        let value = self.value(x);
        (self.low - value).max(value - self.high).max(0.0)
    }
}

/// Unknowns between bounds, and demands on weighted sums of them.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Programme {
    /// Lower bound of each unknown, finite.
    pub lower: Vec<f64>,
    /// Upper bound of each unknown, finite or `+inf`.
    pub upper: Vec<f64>,
    /// The demands.
    pub rows: Vec<LinearDemand>,
}

impl Programme {
    /// No unknowns yet.
    pub fn new() -> Self {
        Self::default()
    }
    /// Adds an unknown and returns its number.
    pub fn unknown(&mut self, lower: f64, upper: f64) -> usize {
        self.lower.push(lower);
        self.upper.push(upper);
        self.lower.len() - 1
    }
    /// How many unknowns there are.
    pub fn len(&self) -> usize {
        self.lower.len()
    }
    /// Whether there is no unknown.
    pub fn is_empty(&self) -> bool {
        self.lower.is_empty()
    }
    /// The largest excess of a point over any bound or demand; 0 if all are met.
    pub fn excess(&self, x: &[f64]) -> f64 {
        let bounds = x
            .iter()
            .zip(self.lower.iter().zip(&self.upper))
            .map(|(&x, (&low, &high))| (low - x).max(x - high));
        self.rows
            .iter()
            .map(|row| row.excess(x))
            .chain(bounds)
            .fold(0.0, f64::max)
    }
    /// Moves values that rounding left outside their bounds onto them.
    pub(crate) fn pull_within_bounds(&self, x: &mut [f64]) {
        for (x, (&low, &high)) in x.iter_mut().zip(self.lower.iter().zip(&self.upper)) {
            *x = x.min(high).max(low);
        }
    }
    /// Whether some bound is crossed by its partner, which no solver need see.
    pub(crate) fn contradicts_itself(&self) -> bool {
        let crossed = |low: f64, high: f64| low > high + FEASIBILITY;
        self.lower
            .iter()
            .zip(&self.upper)
            .any(|(&low, &high)| crossed(low, high))
            || self.rows.iter().any(|row| {
                crossed(row.low, row.high)
                    || (row.terms.is_empty() && (row.low > FEASIBILITY || row.high < -FEASIBILITY))
            })
    }
}

/// Values of the unknowns with the objective they reach.
#[derive(Clone, PartialEq, Debug)]
pub struct SolvedPoint {
    /// One value for each unknown.
    pub x: Vec<f64>,
    /// The objective there.
    pub objective: f64,
}

/// How a solve ended.
#[derive(Clone, PartialEq, Debug)]
pub enum Outcome {
    /// The best point, within [`FEASIBILITY`].
    Solved(SolvedPoint),
    /// A point that is not proved the best: the limit of steps was reached first,
    /// or it was solved less exactly than asked. [`Programme::excess`] says how
    /// well it meets the demands.
    Feasible(SolvedPoint),
    /// No point meets all demands; proved.
    Infeasible,
    /// The objective can improve without end.
    Unbounded,
    /// The limit of steps was reached, or rounding stopped the solver, before it
    /// had an answer; the words are the solver's own.
    Unsolved(String),
}

impl Outcome {
    /// The point, if there is one.
    pub fn point(self) -> Option<SolvedPoint> {
        match self {
            Self::Solved(point) | Self::Feasible(point) => Some(point),
            Self::Infeasible | Self::Unbounded | Self::Unsolved(_) => None,
        }
    }
    /// The word of the status.
    pub const fn label(&self) -> &'static str {
        match self {
            Self::Solved(_) => "optimal",
            Self::Feasible(_) => "feasible",
            Self::Infeasible => "infeasible",
            Self::Unbounded => "unbounded",
            Self::Unsolved(_) => "unsolved",
        }
    }
}
