//! Fits of measured values: each gives its figures with standard errors and bands, says what
//! it assumes, and refuses where the data do not determine it.

pub mod distribution;
pub mod drift;
pub mod expression;
pub mod flow;
pub mod linear;
pub mod nonlinear;
pub mod process;
pub mod recovery;
pub mod repeat;
pub mod salt;
pub mod scheffe;
pub mod temperature;

/// Why values cannot be fitted.
#[derive(Clone, PartialEq, Debug, thiserror::Error)]
pub enum FitError {
    /// Not more readings than parameters.
    #[error(
        "{given} readings cannot determine {parameters} parameters; at least {needed} are needed"
    )]
    TooFew {
        /// Readings given.
        given: usize,
        /// Parameters of the model.
        parameters: usize,
        /// Readings that would do.
        needed: usize,
    },
    /// Columns of the design depend on each other.
    #[error("the readings do not tell the parameters apart: vary the inputs independently")]
    Dependent,
    /// Lists of different length.
    #[error("there are {inputs} inputs for {values} values; every value needs its input")]
    Uneven {
        /// Number of inputs.
        inputs: usize,
        /// Number of values.
        values: usize,
    },
    /// A value that the model cannot take.
    #[error("reading {row}: {what} must be {must}")]
    Value {
        /// Number of the reading, from 1.
        row: usize,
        /// Which value.
        what: &'static str,
        /// What it must be.
        must: &'static str,
    },
    /// The search did not end in a finite point.
    #[error("the fit did not converge; the data may not have the form of the model")]
    NotConverged,
    /// A parameter of the model has a standard error as large as itself, or sits at its bound.
    #[error("not determined: the data do not bear the parameter {0}")]
    NotDetermined(&'static str),
}

/// An interval, lower end first.
pub type Interval = [f64; 2];

/// The root of `f` between `lo` and `hi`, where its signs differ (Chandrupatla 1997: inverse
/// quadratic steps kept inside a bracket); none where they do not.
#[must_use]
pub fn root(f: impl Fn(f64) -> f64, lo: f64, hi: f64) -> Option<f64> {
    let (mut a, mut b) = (lo, hi);
    let (mut fa, mut fb) = (f(a), f(b));
    if fa == 0.0 {
        return Some(a);
    }
    if fb == 0.0 {
        return Some(b);
    }
    if fa.is_nan() || fb.is_nan() || (fa > 0.0) == (fb > 0.0) {
        return None;
    }
    let mut t = 0.5;
    for _ in 0..200 {
        let x = a + t * (b - a);
        let fx = f(x);
        let (c, fc);
        if (fx > 0.0) == (fa > 0.0) {
            (c, fc) = (a, fa);
        } else {
            (c, fc) = (b, fb);
            (b, fb) = (a, fa);
        }
        (a, fa) = (x, fx);
        let best = if fa.abs() < fb.abs() { a } else { b };
        let tolerance = 2.0 * f64::EPSILON * best.abs() + 1e-300;
        let share = tolerance / (b - a).abs();
        if share > 0.5 || fa == 0.0 {
            return Some(best);
        }
        let (xi, phi) = ((a - b) / (c - b), (fa - fb) / (fc - fb));
        t = if phi * phi < xi && (1.0 - phi) * (1.0 - phi) < 1.0 - xi {
            fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * fb / (fc - fb)
        } else {
            0.5
        };
        t = t.clamp(share, 1.0 - share);
    }
    Some(a)
}

/// Refuses a value that is not finite or not positive.
pub(crate) fn positive(values: &[f64], what: &'static str) -> Result<(), FitError> {
    match values.iter().position(|v| !(v.is_finite() && *v > 0.0)) {
        Some(i) => Err(FitError::Value {
            row: i + 1,
            what,
            must: "a number above zero",
        }),
        None => Ok(()),
    }
}

/// Refuses a value that is not finite.
pub(crate) fn finite(values: &[f64], what: &'static str) -> Result<(), FitError> {
    match values.iter().position(|v| !v.is_finite()) {
        Some(i) => Err(FitError::Value {
            row: i + 1,
            what,
            must: "a finite number",
        }),
        None => Ok(()),
    }
}
