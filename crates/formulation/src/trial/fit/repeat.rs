//! Repeated readings: intervals, an outlier by Grubbs's test, repeatability, control charts.

use super::distribution::{NORMAL_975, chi2_quantile, f_tail, t_quantile, t_two_sided};
use super::{FitError, Interval, finite};

/// Mean and standard deviation in two passes about the first value, so that leading digits
/// in common do not cost any.
fn moments(values: &[f64]) -> (f64, f64) {
    let n = values.len() as f64;
    let origin = values.first().copied().unwrap_or(0.0);
    let shift = values.iter().map(|v| v - origin).sum::<f64>() / n;
    let mut squares = 0.0;
    let mut rest = 0.0;
    for v in values {
        let d = (v - origin) - shift;
        squares += d * d;
        rest += d;
    }
    (
        origin + shift,
        ((squares - rest * rest / n) / (n - 1.0)).sqrt(),
    )
}

/// What some readings of the same thing say.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Summary {
    /// Number of readings.
    pub n: usize,
    /// Mean.
    pub mean: f64,
    /// Standard deviation (n − 1).
    pub sd: f64,
}

impl Summary {
    /// Of at least two readings.
    pub fn of(values: &[f64]) -> Result<Self, FitError> {
        finite(values, "the value")?;
        if values.len() < 2 {
            return Err(FitError::TooFew {
                given: values.len(),
                parameters: 1,
                needed: 2,
            });
        }
        let (mean, sd) = moments(values);
        Ok(Self {
            n: values.len(),
            mean,
            sd,
        })
    }
    fn dof(&self) -> f64 {
        (self.n - 1) as f64
    }
    /// Standard error of the mean.
    #[must_use]
    pub fn se(&self) -> f64 {
        self.sd / (self.n as f64).sqrt()
    }
    /// Student's t of two-sided 95 %.
    #[must_use]
    pub fn t975(&self) -> f64 {
        t_quantile(0.975, self.dof())
    }
    /// 95 % interval of the mean.
    #[must_use]
    pub fn mean_interval(&self) -> Interval {
        let w = self.t975() * self.se();
        [self.mean - w, self.mean + w]
    }
    /// 95 % interval of the standard deviation.
    #[must_use]
    pub fn sd_interval(&self) -> Interval {
        sd_interval(self.sd, self.dof())
    }
    /// 95 % interval of the next single reading.
    #[must_use]
    pub fn next_interval(&self) -> Interval {
        let w = self.t975() * self.sd * (1.0 + 1.0 / self.n as f64).sqrt();
        [self.mean - w, self.mean + w]
    }
}

fn sd_interval(sd: f64, dof: f64) -> Interval {
    [
        sd * (dof / chi2_quantile(0.975, dof)).sqrt(),
        sd * (dof / chi2_quantile(0.025, dof)).sqrt(),
    ]
}

/// Correlation of each value with the next.
#[must_use]
pub fn lag1_autocorrelation(values: &[f64]) -> f64 {
    let (mean, _) = moments(values);
    let d: Vec<f64> = values.iter().map(|v| v - mean).collect();
    let products: f64 = d.windows(2).map(|w| w[0] * w[1]).sum();
    products / d.iter().map(|v| v * v).sum::<f64>()
}

/// One-way analysis of variance.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct OneWay {
    /// Degrees of freedom between and within groups.
    pub df: (usize, usize),
    /// Sums of squares between and within groups.
    pub ss: (f64, f64),
    /// Ratio of the mean squares.
    pub f: f64,
    /// Its probability.
    pub p: f64,
}

impl OneWay {
    /// Of at least two groups, one of which is repeated.
    pub fn of(groups: &[Vec<f64>]) -> Result<Self, FitError> {
        let n: usize = groups.iter().map(Vec::len).sum();
        let k = groups.len();
        if k < 2 || n <= k || groups.iter().any(Vec::is_empty) {
            return Err(FitError::TooFew {
                given: n,
                parameters: k,
                needed: k + 1,
            });
        }
        // About a common origin, so that leading digits in common cost none.
        let origin = groups
            .first()
            .and_then(|g| g.first())
            .copied()
            .unwrap_or(0.0);
        let means: Vec<f64> = groups
            .iter()
            .map(|g| g.iter().map(|v| v - origin).sum::<f64>() / g.len() as f64)
            .collect();
        let grand = groups
            .iter()
            .zip(&means)
            .map(|(g, m)| g.len() as f64 * m)
            .sum::<f64>()
            / n as f64;
        let between: f64 = groups
            .iter()
            .zip(&means)
            .map(|(g, m)| g.len() as f64 * (m - grand).powi(2))
            .sum();
        let within: f64 = groups
            .iter()
            .zip(&means)
            .map(|(g, m)| g.iter().map(|v| (v - origin - m).powi(2)).sum::<f64>())
            .sum();
        let df = (k - 1, n - k);
        let f = between / df.0 as f64 / (within / df.1 as f64);
        Ok(Self {
            df,
            ss: (between, within),
            f,
            p: f_tail(f, df.0 as f64, df.1 as f64),
        })
    }
}

/// Grubbs's test of the reading furthest from the mean (Grubbs 1969).
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Grubbs {
    /// Its distance in standard deviations.
    pub g: f64,
    /// Its place.
    pub index: usize,
    /// Critical value of the two-sided test at 5 %.
    pub critical: f64,
    /// Probability of the two-sided test (Bonferroni).
    pub p: f64,
}

impl Grubbs {
    /// Of at least three readings that are not all alike.
    #[must_use]
    pub fn of(values: &[f64]) -> Option<Self> {
        let n = values.len();
        let summary = Summary::of(values).ok()?;
        if n < 3 || summary.sd <= 0.0 {
            return None;
        }
        let (index, g) = values
            .iter()
            .map(|v| (v - summary.mean).abs() / summary.sd)
            .enumerate()
            .fold(
                (0, 0.0),
                |best, next| if next.1 > best.1 { next } else { best },
            );
        Some(Self {
            g,
            index,
            critical: grubbs_critical(n, 0.05, true),
            p: grubbs_p(g, n),
        })
    }
    /// Whether the reading is an outlier at 5 %, two-sided.
    #[must_use]
    pub fn is_outlier(&self) -> bool {
        self.g > self.critical
    }
}

/// Critical value of Grubbs's test for `n` readings at level `alpha`.
#[must_use]
pub fn grubbs_critical(n: usize, alpha: f64, two_sided: bool) -> f64 {
    let m = n as f64;
    let tail = alpha / if two_sided { 2.0 * m } else { m };
    let t = t_quantile(1.0 - tail, m - 2.0);
    (m - 1.0) / m.sqrt() * (t * t / (m - 2.0 + t * t)).sqrt()
}

fn grubbs_p(g: f64, n: usize) -> f64 {
    let m = n as f64;
    let d = m * (m - 2.0) * g * g / ((m - 1.0).powi(2) - m * g * g);
    if d > 0.0 {
        (m * t_two_sided(d.sqrt(), m - 2.0)).min(1.0)
    } else {
        0.0
    }
}

/// Repeatability over groups of repeated readings (ISO 5725-2).
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Repeatability {
    /// Degrees of freedom within groups.
    pub dof: usize,
    /// Standard deviation within groups.
    pub s_r: f64,
    /// Its 95 % interval.
    pub s_r_interval: Interval,
    /// Standard deviation between groups, zero if negative.
    pub s_between: f64,
    /// The variance ratio between to within.
    pub one_way: OneWay,
    /// Effective number of readings a group.
    pub n0: f64,
}

impl Repeatability {
    /// Of at least two groups.
    pub fn of(groups: &[Vec<f64>]) -> Result<Self, FitError> {
        let one_way = OneWay::of(groups)?;
        let dof = one_way.df.1;
        let s_r = (one_way.ss.1 / dof as f64).sqrt();
        let n: f64 = groups.iter().map(|g| g.len() as f64).sum();
        let squares: f64 = groups.iter().map(|g| (g.len() as f64).powi(2)).sum();
        let n0 = (n - squares / n) / (groups.len() - 1) as f64;
        let between = one_way.ss.0 / one_way.df.0 as f64;
        Ok(Self {
            dof,
            s_r,
            s_r_interval: sd_interval(s_r, dof as f64),
            s_between: ((between - s_r * s_r) / n0).max(0.0).sqrt(),
            one_way,
            n0,
        })
    }
    /// Difference of two readings that is exceeded in one of twenty cases, with the factor 2.8
    /// of the standard.
    #[must_use]
    pub fn limit(&self) -> f64 {
        2.8 * self.s_r
    }
    /// The same with the factor not rounded.
    #[must_use]
    pub fn limit_exact(&self) -> f64 {
        NORMAL_975 * std::f64::consts::SQRT_2 * self.s_r
    }
    /// Standard deviation of a reading of another group.
    #[must_use]
    pub fn s_intermediate(&self) -> f64 {
        self.s_between.hypot(self.s_r)
    }
}

/// Mean distance of neighbouring values.
#[must_use]
pub fn mean_moving_range(values: &[f64]) -> f64 {
    let d: Vec<f64> = values.windows(2).map(|w| (w[1] - w[0]).abs()).collect();
    d.iter().sum::<f64>() / d.len() as f64
}

/// Last points of runs that break a rule of Nelson (J. Qual. Technol. 16 (1984) 237), rules 1
/// to 8 in order.
#[must_use]
pub fn nelson(values: &[f64], centre: f64, sd: f64) -> [Vec<usize>; 8] {
    let z: Vec<f64> = values.iter().map(|v| (v - centre) / sd).collect();
    let runs = |length: usize, breaks: &dyn Fn(&[f64]) -> bool| -> Vec<usize> {
        z.windows(length)
            .enumerate()
            .filter(|(_, w)| breaks(w))
            .map(|(i, _)| i + length - 1)
            .collect()
    };
    let all = |w: &[f64], f: &dyn Fn(f64) -> bool| w.iter().all(|v| f(*v));
    let beyond = |w: &[f64], by: f64, count: usize| {
        w.iter().filter(|v| **v > by).count() >= count
            || w.iter().filter(|v| **v < -by).count() >= count
    };
    let steps = |w: &[f64]| -> Vec<f64> { w.windows(2).map(|p| p[1] - p[0]).collect() };
    [
        runs(1, &|w| all(w, &|v| v.abs() > 3.0)),
        runs(9, &|w| all(w, &|v| v > 0.0) || all(w, &|v| v < 0.0)),
        runs(6, &|w| {
            let d = steps(w);
            all(&d, &|v| v > 0.0) || all(&d, &|v| v < 0.0)
        }),
        runs(14, &|w| steps(w).windows(2).all(|p| p[0] * p[1] < 0.0)),
        runs(3, &|w| beyond(w, 2.0, 2)),
        runs(5, &|w| beyond(w, 1.0, 4)),
        runs(15, &|w| all(w, &|v| v.abs() < 1.0)),
        runs(8, &|w| {
            all(w, &|v| v.abs() > 1.0) && w.iter().any(|v| *v > 0.0) && w.iter().any(|v| *v < 0.0)
        }),
    ]
}
