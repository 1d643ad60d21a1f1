//! Linear least squares by Householder QR of the column-scaled design, with residuals taken in
//! doubled precision, so that badly scaled polynomials keep their digits.

use nalgebra::{DMatrix, DVector};

use super::distribution::{f_quantile, t_quantile};
use super::{FitError, Interval, finite};

/// Coefficients with everything that follows from them.
#[derive(Clone, PartialEq, Debug)]
pub struct LinearFit {
    /// Coefficients, one a column of the design.
    pub coef: Vec<f64>,
    /// (X'WX)⁻¹: times s² the covariance of the coefficients.
    pub inverse: DMatrix<f64>,
    /// Weighted sum of squared residuals.
    pub rss: f64,
    /// Readings less coefficients.
    pub dof: usize,
    /// Residuals as measured less fitted, unweighted.
    pub residuals: Vec<f64>,
    /// Diagonal of the hat matrix.
    pub leverage: Vec<f64>,
    /// Sum of squares about the weighted mean, or about zero without a constant column.
    pub total: f64,
}

/// A fitted value at one input.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Prediction {
    /// Fitted value.
    pub mean: f64,
    /// Its standard error.
    pub se: f64,
    /// 95 % band of the mean.
    pub band: Interval,
    /// 95 % interval of one new reading.
    pub new: Interval,
}

/// Fits `values` by the columns of `design`; `weights` multiply squared residuals.
pub fn least_squares(
    design: &DMatrix<f64>,
    values: &[f64],
    weights: Option<&[f64]>,
) -> Result<LinearFit, FitError> {
    let (n, p) = design.shape();
    if values.len() != n || weights.is_some_and(|w| w.len() != n) {
        return Err(FitError::Uneven {
            inputs: n,
            values: values.len(),
        });
    }
    if n < p || p == 0 {
        return Err(FitError::TooFew {
            given: n,
            parameters: p,
            needed: p + 1,
        });
    }
    finite(values, "the value")?;
    finite(design.as_slice(), "the input")?;
    let root_weight = |i: usize| {
        weights
            .and_then(|w| w.get(i))
            .map_or(1.0, |w| w.max(0.0).sqrt())
    };
    let mut x = design.clone();
    let mut y = DVector::from_column_slice(values);
    for i in 0..n {
        let w = root_weight(i);
        y[i] *= w;
        x.row_mut(i).scale_mut(w);
    }
    let scale: Vec<f64> = x.column_iter().map(|c| c.norm()).collect();
    if scale.contains(&0.0) {
        return Err(FitError::Dependent);
    }
    let mut scaled = x.clone();
    for (mut column, s) in scaled.column_iter_mut().zip(&scale) {
        column.unscale_mut(*s);
    }
    let qr = scaled.qr();
    let (q, r) = (qr.q(), qr.r());
    if r.diagonal().iter().any(|d| d.abs() < 1e-12) {
        return Err(FitError::Dependent);
    }
    let solve = |right: &DVector<f64>| r.solve_upper_triangular(&(q.tr_mul(right)));
    let mut coef = DVector::zeros(p);
    let mut residual = y.clone();
    // The second and third round correct what the first lost by rounding.
    for _ in 0..3 {
        let step = solve(&residual).ok_or(FitError::Dependent)?;
        for j in 0..p {
            coef[j] += step[j] / scale[j];
        }
        for i in 0..n {
            residual[i] = residual_of(y[i], &x, i, &coef);
        }
    }
    let inverse_r = r
        .solve_upper_triangular(&DMatrix::identity(p, p))
        .ok_or(FitError::Dependent)?;
    let mut inverse = &inverse_r * inverse_r.transpose();
    for i in 0..p {
        for j in 0..p {
            inverse[(i, j)] /= scale[i] * scale[j];
        }
    }
    let has_constant = design.column_iter().any(|c| {
        let first = c.get(0).copied().unwrap_or(0.0);
        first != 0.0 && c.iter().all(|v| *v == first)
    });
    let weight = |i: usize| root_weight(i).powi(2);
    let centre = if has_constant {
        let sum: f64 = (0..n).map(weight).sum();
        (0..n).map(|i| weight(i) * values[i]).sum::<f64>() / sum
    } else {
        0.0
    };
    Ok(LinearFit {
        rss: residual.norm_squared(),
        dof: n - p,
        residuals: (0..n)
            .map(|i| {
                residual[i]
                    / if root_weight(i) > 0.0 {
                        root_weight(i)
                    } else {
                        1.0
                    }
            })
            .collect(),
        leverage: q.row_iter().map(|row| row.norm_squared()).collect(),
        total: (0..n)
            .map(|i| weight(i) * (values[i] - centre).powi(2))
            .sum(),
        coef: coef.as_slice().to_vec(),
        inverse,
    })
}

/// y − x·b with products and sums carried in two numbers each.
fn residual_of(y: f64, x: &DMatrix<f64>, row: usize, coef: &DVector<f64>) -> f64 {
    let (mut high, mut low) = (y, 0.0);
    for (a, b) in x.row(row).iter().zip(coef.iter()) {
        let product = -(a * b);
        let error = (-a).mul_add(*b, -product);
        let sum = high + product;
        let part = sum - high;
        low += (high - (sum - part)) + (product - part) + error;
        high = sum;
    }
    high + low
}

impl LinearFit {
    /// Residual standard deviation; not a number without degrees of freedom.
    #[must_use]
    pub fn s(&self) -> f64 {
        (self.rss / self.dof as f64).sqrt()
    }
    /// Share of the total sum of squares that is fitted.
    #[must_use]
    pub fn r2(&self) -> f64 {
        1.0 - self.rss / self.total
    }
    /// Covariance of the coefficients.
    #[must_use]
    pub fn covariance(&self) -> DMatrix<f64> {
        &self.inverse * (self.rss / self.dof as f64)
    }
    /// Standard errors of the coefficients.
    #[must_use]
    pub fn se(&self) -> Vec<f64> {
        let s = self.s();
        self.se_unscaled().iter().map(|u| s * u).collect()
    }
    /// Standard errors if the weights are inverse variances that are known.
    #[must_use]
    pub fn se_unscaled(&self) -> Vec<f64> {
        self.inverse
            .diagonal()
            .iter()
            .map(|d| d.max(0.0).sqrt())
            .collect()
    }
    /// Student's t of two-sided 95 %.
    #[must_use]
    pub fn t975(&self) -> f64 {
        t_quantile(0.975, self.dof as f64)
    }
    /// 95 % intervals of the coefficients.
    #[must_use]
    pub fn intervals(&self) -> Vec<Interval> {
        let t = self.t975();
        self.coef
            .iter()
            .zip(self.se())
            .map(|(c, se)| [c - t * se, c + t * se])
            .collect()
    }
    /// x'(X'WX)⁻¹x.
    #[must_use]
    pub fn variance_factor(&self, row: &[f64]) -> f64 {
        let p = self.coef.len();
        let mut sum = 0.0;
        for i in 0..p {
            for j in 0..p {
                let (a, b) = (row.get(i), row.get(j));
                sum += a.unwrap_or(&0.0) * self.inverse[(i, j)] * b.unwrap_or(&0.0);
            }
        }
        sum.max(0.0)
    }
    /// The fitted value with its bands; `sd_of_new` is the standard deviation of a new reading
    /// in units of s (1 without weights).
    #[must_use]
    pub fn predict(&self, row: &[f64], sd_of_new: f64) -> Prediction {
        let mean = self.coef.iter().zip(row).map(|(c, x)| c * x).sum();
        let (s, t) = (self.s(), self.t975());
        let se = s * self.variance_factor(row).sqrt();
        let wide = se.hypot(s * sd_of_new);
        Prediction {
            mean,
            se,
            band: [mean - t * se, mean + t * se],
            new: [mean - t * wide, mean + t * wide],
        }
    }
    /// Factor of the standard error in a 95 % band that holds for the whole line at once
    /// (Working and Hotelling 1929).
    #[must_use]
    pub fn simultaneous_factor(&self) -> f64 {
        let p = self.coef.len() as f64;
        (p * f_quantile(0.95, p, self.dof as f64)).sqrt()
    }
}

/// Columns 1, x, x² … up to `degree`.
#[must_use]
pub fn polynomial(x: &[f64], degree: usize) -> DMatrix<f64> {
    DMatrix::from_fn(x.len(), degree + 1, |i, j| x[i].powi(j as i32))
}
