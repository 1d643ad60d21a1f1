//! Gaussian-process regression: a squared exponential with one length per input, and noise
//! (Rasmussen and Williams 2006, chapters 2 and 5).

use nalgebra::{Cholesky, DMatrix, DVector, Dyn};

use super::distribution::NORMAL_975;
use super::{FitError, Interval, finite};

/// What the process is taken to be like.
#[derive(Clone, PartialEq, Debug)]
pub struct Covariance {
    /// Variance of the function.
    pub signal_variance: f64,
    /// Distance over which the function changes, per input.
    pub length: Vec<f64>,
    /// Variance of a reading about the function.
    pub noise_variance: f64,
}

impl Covariance {
    fn between(&self, a: &[f64], b: &[f64]) -> f64 {
        let squares: f64 = a
            .iter()
            .zip(b)
            .zip(&self.length)
            .map(|((a, b), l)| ((a - b) / l).powi(2))
            .sum();
        self.signal_variance * (-0.5 * squares).exp()
    }
    fn from_logarithms(theta: &[f64]) -> Self {
        let last = theta.len().saturating_sub(1);
        Self {
            signal_variance: theta.first().map_or(1.0, |v| v.exp()),
            length: theta
                .get(1..last)
                .unwrap_or_default()
                .iter()
                .map(|v| v.exp())
                .collect(),
            noise_variance: theta.get(last).map_or(1.0, |v| v.exp()),
        }
    }
    fn logarithms(&self) -> Vec<f64> {
        let mut out = vec![self.signal_variance.ln()];
        out.extend(self.length.iter().map(|l| l.ln()));
        out.push(self.noise_variance.ln());
        out
    }
}

/// A process that has seen readings.
#[derive(Clone, Debug)]
pub struct Process {
    /// What it is like.
    pub kernel: Covariance,
    /// Log marginal likelihood of the readings.
    pub log_likelihood: f64,
    x: Vec<Vec<f64>>,
    mean: f64,
    factor: Cholesky<f64, Dyn>,
    weights: DVector<f64>,
    values: DVector<f64>,
}

/// A prediction.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct ProcessPrediction {
    /// Expected value.
    pub mean: f64,
    /// Variance of the function there.
    pub variance: f64,
    /// Variance of one new reading there.
    pub variance_new: f64,
}

impl ProcessPrediction {
    fn about(&self, variance: f64) -> Interval {
        let w = NORMAL_975 * variance.sqrt();
        [self.mean - w, self.mean + w]
    }
    /// 95 % interval of the function.
    #[must_use]
    pub fn band(&self) -> Interval {
        self.about(self.variance)
    }
    /// 95 % interval of a new reading.
    #[must_use]
    pub fn reading_band(&self) -> Interval {
        self.about(self.variance_new)
    }
}

impl Process {
    /// The process of a kernel after readings, about a constant mean.
    pub fn given(
        x: &[Vec<f64>],
        values: &[f64],
        mean: f64,
        kernel: Covariance,
    ) -> Result<Self, FitError> {
        let n = x.len();
        if n != values.len() {
            return Err(FitError::Uneven {
                inputs: n,
                values: values.len(),
            });
        }
        finite(values, "the value")?;
        for row in x {
            if row.len() != kernel.length.len() {
                return Err(FitError::Uneven {
                    inputs: row.len(),
                    values: kernel.length.len(),
                });
            }
            finite(row, "the input")?;
        }
        let covariance = DMatrix::from_fn(n, n, |i, j| {
            kernel.between(&x[i], &x[j]) + if i == j { kernel.noise_variance } else { 0.0 }
        });
        let factor = Cholesky::new(covariance).ok_or(FitError::Dependent)?;
        let y = DVector::from_iterator(n, values.iter().map(|v| v - mean));
        let weights = factor.solve(&y);
        let log_det: f64 = factor.l_dirty().diagonal().iter().map(|d| d.ln()).sum();
        let log_likelihood =
            -0.5 * y.dot(&weights) - log_det - n as f64 / 2.0 * (2.0 * std::f64::consts::PI).ln();
        Ok(Self {
            kernel,
            log_likelihood,
            x: x.to_vec(),
            mean,
            factor,
            weights,
            values: y,
        })
    }

    /// Gradient of the log likelihood in the logarithms of signal variance, lengths and noise
    /// variance.
    #[must_use]
    pub fn gradient(&self) -> Vec<f64> {
        let n = self.x.len();
        let inverse = self.factor.inverse();
        let d = self.kernel.length.len();
        let mut out = vec![0.0; d + 2];
        for i in 0..n {
            for j in 0..n {
                let w = self.weights[i] * self.weights[j] - inverse[(i, j)];
                let wk = 0.5 * w * self.kernel.between(&self.x[i], &self.x[j]);
                out[0] += wk;
                for k in 0..d {
                    out[1 + k] +=
                        wk * ((self.x[i][k] - self.x[j][k]) / self.kernel.length[k]).powi(2);
                }
                if i == j {
                    out[d + 1] += 0.5 * self.kernel.noise_variance * w;
                }
            }
        }
        out
    }

    /// What the process expects at an input.
    #[must_use]
    pub fn at(&self, x: &[f64]) -> ProcessPrediction {
        let k = DVector::from_iterator(
            self.x.len(),
            self.x.iter().map(|row| self.kernel.between(x, row)),
        );
        let solved = self
            .factor
            .l_dirty()
            .solve_lower_triangular(&k)
            .map_or(0.0, |v| v.norm_squared());
        let variance = (self.kernel.signal_variance - solved).max(0.0);
        ProcessPrediction {
            mean: self.mean + k.dot(&self.weights),
            variance,
            variance_new: variance + self.kernel.noise_variance,
        }
    }

    /// Mean and variance of every reading predicted from all the others.
    #[must_use]
    pub fn leave_one_out(&self) -> Vec<(f64, f64)> {
        let inverse = self.factor.inverse();
        (0..self.x.len())
            .map(|i| {
                let v = 1.0 / inverse[(i, i)];
                (self.mean + self.values[i] - self.weights[i] * v, v)
            })
            .collect()
    }

    /// The kernel of the largest likelihood within bounds (order: signal variance, lengths,
    /// noise variance), from several starts.
    pub fn fit(
        x: &[Vec<f64>],
        values: &[f64],
        mean: f64,
        bounds: &[[f64; 2]],
    ) -> Result<Self, FitError> {
        let log_bounds: Vec<[f64; 2]> = bounds.iter().map(|[a, b]| [a.ln(), b.ln()]).collect();
        if bounds.len() != x.first().map_or(0, Vec::len) + 2 {
            return Err(FitError::Uneven {
                inputs: bounds.len(),
                values: x.first().map_or(0, Vec::len) + 2,
            });
        }
        let at =
            |theta: &[f64]| Self::given(x, values, mean, Covariance::from_logarithms(theta)).ok();
        let last = log_bounds.len() - 1;
        let mut best: Option<Self> = None;
        for (signal, length, noise) in [
            (0.5, 0.5, 0.6),
            (0.55, 0.6, 0.4),
            (0.6, 0.7, 0.8),
            (0.5, 0.35, 0.3),
            (0.65, 0.85, 0.5),
            (0.45, 0.25, 0.9),
        ] {
            let start: Vec<f64> = log_bounds
                .iter()
                .enumerate()
                .map(|(i, [a, b])| {
                    let share = if i == 0 {
                        signal
                    } else if i == last {
                        noise
                    } else {
                        length
                    };
                    a + share * (b - a)
                })
                .collect();
            let Some(found) = climb(&at, start, &log_bounds) else {
                continue;
            };
            if best
                .as_ref()
                .is_none_or(|b| found.log_likelihood > b.log_likelihood)
            {
                best = Some(found);
            }
        }
        best.ok_or(FitError::NotConverged)
    }

    /// A process about the mean of the readings, its kernel found within bounds taken from
    /// their spread.
    pub fn fitted(x: &[Vec<f64>], values: &[f64]) -> Result<Self, FitError> {
        let n = values.len() as f64;
        let mean = values.iter().sum::<f64>() / n;
        let variance = (values.iter().map(|y| (y - mean).powi(2)).sum::<f64>() / n).max(1e-12);
        let mut bounds = vec![[1e-2 * variance, 1e2 * variance]];
        for j in 0..x.first().map_or(0, Vec::len) {
            let (low, high) = x
                .iter()
                .filter_map(|row| row.get(j))
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| {
                    (a.min(*v), b.max(*v))
                });
            let span = (high - low).max(1e-6);
            bounds.push([0.1 * span, 10.0 * span]);
        }
        bounds.push([1e-4 * variance, variance]);
        Self::fit(x, values, mean, &bounds)
    }

    /// Which hyperparameters sit at their bound.
    #[must_use]
    pub fn at_bound(&self, bounds: &[[f64; 2]]) -> Vec<bool> {
        self.kernel
            .logarithms()
            .iter()
            .zip(bounds)
            .map(|(t, [a, b])| (t - a.ln()).min(b.ln() - t) < 1e-4)
            .collect()
    }
}

/// Projected quasi-Newton ascent (BFGS on what is not held at a bound).
fn climb(
    at: &dyn Fn(&[f64]) -> Option<Process>,
    mut theta: Vec<f64>,
    bounds: &[[f64; 2]],
) -> Option<Process> {
    let n = theta.len();
    let project = |t: &mut [f64]| {
        for (v, [a, b]) in t.iter_mut().zip(bounds) {
            *v = v.clamp(*a, *b);
        }
    };
    let held = |theta: &[f64], g: &[f64], i: usize| {
        let [a, b] = bounds[i];
        (theta[i] <= a && g[i] < 0.0) || (theta[i] >= b && g[i] > 0.0)
    };
    let mut here = at(&theta)?;
    let mut gradient = here.gradient();
    let mut h = DMatrix::<f64>::identity(n, n);
    let mut fresh = true;
    for _ in 0..120 {
        let free: Vec<bool> = (0..n).map(|i| !held(&theta, &gradient, i)).collect();
        let g = DVector::from_fn(n, |i, _| if free[i] { gradient[i] } else { 0.0 });
        if g.amax() < 1e-6 {
            break;
        }
        let mut direction = &h * &g;
        for i in 0..n {
            if !free[i] {
                direction[i] = 0.0;
            }
        }
        if direction.dot(&g) <= 0.0 {
            h = DMatrix::identity(n, n);
            direction = g.clone();
            fresh = true;
        }
        // No step further than a factor of e², so that the first is not wild.
        let mut step = (2.0 / direction.amax()).min(1.0);
        let mut moved = None;
        for _ in 0..25 {
            let mut next: Vec<f64> = (0..n).map(|i| theta[i] + step * direction[i]).collect();
            project(&mut next);
            if let Some(there) = at(&next) {
                let gain: f64 = (0..n).map(|i| g[i] * (next[i] - theta[i])).sum();
                if there.log_likelihood >= here.log_likelihood + 1e-4 * gain {
                    moved = Some((next, there));
                    break;
                }
            }
            step *= 0.4;
        }
        let Some((next, there)) = moved else {
            if fresh {
                break;
            }
            h = DMatrix::identity(n, n);
            fresh = true;
            continue;
        };
        let next_gradient = there.gradient();
        let s = DVector::from_fn(n, |i, _| next[i] - theta[i]);
        let y = DVector::from_fn(n, |i, _| gradient[i] - next_gradient[i]);
        let sy = s.dot(&y);
        let gained = there.log_likelihood - here.log_likelihood;
        if sy > 1e-10 {
            if fresh {
                h = DMatrix::identity(n, n) * (sy / y.norm_squared());
            }
            let rho = 1.0 / sy;
            let left = DMatrix::identity(n, n) - (&s * y.transpose()) * rho;
            h = &left * h * left.transpose() + (&s * s.transpose()) * rho;
            fresh = false;
        }
        theta = next;
        here = there;
        gradient = next_gradient;
        if gained.abs() < 1e-10 && s.amax() < 1e-7 {
            break;
        }
    }
    Some(here)
}
