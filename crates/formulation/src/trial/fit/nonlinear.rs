//! Nonlinear least squares: the trust region of MINPACK, then Gauss-Newton steps as long as
//! they still gain.

use levenberg_marquardt::{LeastSquaresProblem, LevenbergMarquardt};
use nalgebra::storage::Owned;
use nalgebra::{DMatrix, DVector, Dyn};

use super::distribution::t_quantile;
use super::{FitError, Interval};

/// Residuals and their derivatives of a model at given parameters; `None` where the model has
/// no value.
pub trait Curve {
    /// Number of readings.
    fn readings(&self) -> usize;
    /// Model less measured.
    fn residuals(&self, parameters: &[f64]) -> Option<Vec<f64>>;
    /// Derivative of residual `i` by parameter `j`, row by row.
    fn jacobian(&self, parameters: &[f64]) -> Option<DMatrix<f64>>;
}

/// A fitted curve.
#[derive(Clone, PartialEq, Debug)]
pub struct CurveFit {
    /// Parameters at the least sum of squares.
    pub parameters: Vec<f64>,
    /// Sum of squared residuals.
    pub rss: f64,
    /// Readings less parameters.
    pub dof: usize,
    /// (J'J)⁻¹, if the parameters can be told apart.
    pub inverse: Option<DMatrix<f64>>,
}

impl CurveFit {
    /// Residual standard deviation.
    #[must_use]
    pub fn s(&self) -> f64 {
        (self.rss / self.dof as f64).sqrt()
    }
    /// Standard errors of the parameters; none if they cannot be told apart.
    #[must_use]
    pub fn se(&self) -> Option<Vec<f64>> {
        let s = self.s();
        let inverse = self.inverse.as_ref()?;
        Some(
            inverse
                .diagonal()
                .iter()
                .map(|d| s * d.max(0.0).sqrt())
                .collect(),
        )
    }
    /// Standard error of a figure whose derivatives by the parameters are `gradient`.
    #[must_use]
    pub fn se_of(&self, gradient: &[f64]) -> Option<f64> {
        let inverse = self.inverse.as_ref()?;
        let g = DVector::from_column_slice(gradient);
        Some(self.s() * (g.transpose() * inverse * &g)[(0, 0)].max(0.0).sqrt())
    }
    /// 95 % bands of the mean and of a new reading about a value whose logarithm was fitted,
    /// with the derivatives of the logarithm by the parameters.
    #[must_use]
    pub fn bands_of_logarithm(&self, value: f64, gradient: &[f64]) -> Option<(Interval, Interval)> {
        let se = self.se_of(gradient)?;
        let t = t_quantile(0.975, self.dof as f64);
        let about = |w: f64| [value * (-w).exp(), value * w.exp()];
        Some((about(t * se), about(t * se.hypot(self.s()))))
    }
}

struct Problem<'a> {
    curve: &'a dyn Curve,
    at: DVector<f64>,
}

impl LeastSquaresProblem<f64, Dyn, Dyn> for Problem<'_> {
    type ResidualStorage = Owned<f64, Dyn>;
    type JacobianStorage = Owned<f64, Dyn, Dyn>;
    type ParameterStorage = Owned<f64, Dyn>;
    fn set_params(&mut self, x: &DVector<f64>) {
        self.at.copy_from(x);
    }
    fn params(&self) -> DVector<f64> {
        self.at.clone()
    }
    fn residuals(&self) -> Option<DVector<f64>> {
        let r = self.curve.residuals(self.at.as_slice())?;
        r.iter()
            .all(|v| v.is_finite())
            .then(|| DVector::from_vec(r))
    }
    fn jacobian(&self) -> Option<DMatrix<f64>> {
        let j = self.curve.jacobian(self.at.as_slice())?;
        j.iter().all(|v| v.is_finite()).then_some(j)
    }
}

/// The sum of squares at some parameters; infinite where the model has no value.
#[must_use]
pub fn sum_of_squares(curve: &dyn Curve, parameters: &[f64]) -> f64 {
    curve
        .residuals(parameters)
        .map_or(f64::INFINITY, |r| r.iter().map(|v| v * v).sum())
}

/// The nearest minimum from `start`; `effort` bounds the evaluations per parameter.
#[must_use]
pub fn descend(curve: &dyn Curve, start: &[f64], effort: usize) -> (Vec<f64>, f64) {
    let problem = Problem {
        curve,
        at: DVector::from_column_slice(start),
    };
    let search = LevenbergMarquardt::new()
        .with_ftol(1e-15)
        .with_xtol(1e-15)
        .with_gtol(0.0)
        .with_patience(effort);
    let (problem, _) = search.minimize(problem);
    let at = problem.at.as_slice().to_vec();
    let rss = sum_of_squares(curve, &at);
    (at, rss)
}

/// The best minimum from several starts, polished.
pub fn fit(curve: &dyn Curve, starts: &[Vec<f64>]) -> Result<CurveFit, FitError> {
    let n = curve.readings();
    let p = starts.first().map_or(0, Vec::len);
    if n <= p || p == 0 {
        return Err(FitError::TooFew {
            given: n,
            parameters: p,
            needed: p + 1,
        });
    }
    let mut best: Option<(Vec<f64>, f64)> = None;
    for start in starts {
        let found = descend(curve, start, 400);
        if found.1.is_finite() && best.as_ref().is_none_or(|b| found.1 < b.1) {
            best = Some(found);
        }
    }
    let (mut at, mut rss) = best.ok_or(FitError::NotConverged)?;
    for _ in 0..30 {
        let Some(step) = gauss_newton(curve, &at) else {
            break;
        };
        let next: Vec<f64> = at.iter().zip(&step).map(|(a, s)| a + s).collect();
        let there = sum_of_squares(curve, &next);
        let moved = at.iter().zip(&step).any(|(a, s)| s.abs() > 1e-14 * a.abs());
        // Rounding moves the sum in its last digits; a step that small is taken.
        if there.is_nan() || there > rss * (1.0 + 1e-13) || !moved {
            break;
        }
        at = next;
        rss = there;
    }
    let inverse = curve.jacobian(&at).and_then(|j| inverse_of_square(&j));
    Ok(CurveFit {
        parameters: at,
        rss,
        dof: n - p,
        inverse,
    })
}

fn scaled(j: &DMatrix<f64>) -> Option<(DMatrix<f64>, Vec<f64>)> {
    let scale: Vec<f64> = j.column_iter().map(|c| c.norm()).collect();
    if scale.iter().any(|s| !(*s > 0.0 && s.is_finite())) {
        return None;
    }
    let mut out = j.clone();
    for (mut column, s) in out.column_iter_mut().zip(&scale) {
        column.unscale_mut(*s);
    }
    Some((out, scale))
}

fn gauss_newton(curve: &dyn Curve, at: &[f64]) -> Option<Vec<f64>> {
    let (j, scale) = scaled(&curve.jacobian(at)?)?;
    let r = DVector::from_vec(curve.residuals(at)?);
    let qr = j.qr();
    let step = qr.r().solve_upper_triangular(&qr.q().tr_mul(&r))?;
    let step: Vec<f64> = step.iter().zip(&scale).map(|(s, c)| -s / c).collect();
    step.iter().all(|s| s.is_finite()).then_some(step)
}

/// (J'J)⁻¹ through QR of the column-scaled J; none if its columns depend on each other.
#[must_use]
pub fn inverse_of_square(j: &DMatrix<f64>) -> Option<DMatrix<f64>> {
    let (j, scale) = scaled(j)?;
    let r = j.qr().r();
    let p = r.ncols();
    let diagonal = r.diagonal();
    let largest = diagonal.amax();
    if diagonal.iter().any(|d| d.abs() < 1e-11 * largest) {
        return None;
    }
    let inverse = r.solve_upper_triangular(&DMatrix::identity(p, p))?;
    let mut out = &inverse * inverse.transpose();
    for a in 0..p {
        for b in 0..p {
            out[(a, b)] /= scale[a] * scale[b];
        }
    }
    Some(out)
}
