//! Quantiles and tail probabilities of Student's t, F and chi-squared, from the incomplete
//! beta and gamma functions.

use statrs::function::beta::checked_beta_reg;
use statrs::function::gamma::{checked_gamma_lr, checked_gamma_ur};

use super::root;

/// Half the width of the central 95 % of a normal distribution, in standard deviations.
pub const NORMAL_975: f64 = 1.959_963_984_540_054;

fn beta(a: f64, b: f64, x: f64) -> f64 {
    if x.is_nan() {
        return f64::NAN;
    }
    checked_beta_reg(a, b, x.clamp(0.0, 1.0)).unwrap_or(f64::NAN)
}

/// Probability that |t| is exceeded by chance with `dof` degrees of freedom.
#[must_use]
pub fn t_two_sided(t: f64, dof: f64) -> f64 {
    if t.is_infinite() {
        return 0.0;
    }
    beta(dof / 2.0, 0.5, dof / (dof + t * t))
}

/// Student's t that is not exceeded with probability `p` (0 < p < 1).
#[must_use]
pub fn t_quantile(p: f64, dof: f64) -> f64 {
    if p < 0.5 {
        return -t_quantile(1.0 - p, dof);
    }
    quantile(|t| t_two_sided(t, dof) / 2.0, 1.0 - p)
}

/// Probability that F is exceeded by chance.
#[must_use]
pub fn f_tail(f: f64, dof1: f64, dof2: f64) -> f64 {
    if f.is_infinite() && f > 0.0 {
        return 0.0;
    }
    beta(dof2 / 2.0, dof1 / 2.0, dof2 / (dof2 + dof1 * f.max(0.0)))
}

/// F that is not exceeded with probability `p`.
#[must_use]
pub fn f_quantile(p: f64, dof1: f64, dof2: f64) -> f64 {
    quantile(|f| f_tail(f, dof1, dof2), 1.0 - p)
}

/// Chi-squared that is not exceeded with probability `p`.
#[must_use]
pub fn chi2_quantile(p: f64, dof: f64) -> f64 {
    let half = dof / 2.0;
    if p < 0.5 {
        quantile(
            |x| 1.0 - checked_gamma_lr(half, x / 2.0).unwrap_or(0.0),
            1.0 - p,
        )
    } else {
        quantile(|x| checked_gamma_ur(half, x / 2.0).unwrap_or(1.0), 1.0 - p)
    }
}

/// Share of a normal distribution below `z`.
#[must_use]
pub fn normal_below(z: f64) -> f64 {
    0.5 * statrs::function::erf::erfc(-z / std::f64::consts::SQRT_2)
}

/// Where a falling tail probability reaches `q`.
fn quantile(tail: impl Fn(f64) -> f64, q: f64) -> f64 {
    let mut hi = 1.0;
    while tail(hi) > q {
        hi *= 2.0;
        if hi > 1e300 {
            return f64::INFINITY;
        }
    }
    let mut lo = hi / 2.0;
    while tail(lo) < q && lo > 1e-300 {
        lo /= 2.0;
    }
    root(|x| tail(x) - q, lo, hi).unwrap_or(f64::NAN)
}
