//! Drift with time and the time until a limit is reached, after the approach of ICH Q1E
//! (2003): the earliest time at which the 95 % confidence limit of the mean meets the limit,
//! batches pooled where neither slopes nor intercepts differ at 0.25.

use super::distribution::{f_tail, t_quantile, t_two_sided};
use super::linear::{LinearFit, Prediction, least_squares, polynomial};
use super::{FitError, finite};

/// Level at which batches are taken as different (ICH Q1E).
pub const POOLING_LEVEL: f64 = 0.25;
/// Times beyond this are never.
pub const HORIZON: f64 = 1e6;
/// How far beyond the last reading the guideline lets a time be stated, as a multiple of the
/// covered period (ICH Q1E: up to twice, and not more than 12 months beyond).
pub const EXTRAPOLATION: f64 = 2.0;
/// How many months beyond the last reading at most (ICH Q1E, with statistics).
pub const EXTRAPOLATION_MONTHS: f64 = 12.0;

/// What a value must not pass.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum TrendLimit {
    /// It must stay above.
    Lower(f64),
    /// It must stay below.
    Upper(f64),
    /// It must stay between.
    Both(f64, f64),
}

impl TrendLimit {
    fn sides(self) -> Vec<(f64, f64)> {
        match self {
            Self::Lower(l) => vec![(1.0, l)],
            Self::Upper(u) => vec![(-1.0, u)],
            Self::Both(l, u) => vec![(1.0, l), (-1.0, u)],
        }
    }
    /// One-sided if the value is known to go one way, else two-sided.
    #[must_use]
    pub fn tail(self) -> f64 {
        if matches!(self, Self::Both(..)) {
            0.975
        } else {
            0.95
        }
    }
}

/// When a confidence limit meets a limit.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Crossing {
    /// At this time.
    At(f64),
    /// Not within the horizon.
    Never,
    /// The confidence limit is outside already at the start.
    OutsideAtStart,
}

impl Crossing {
    /// The time; none for never.
    #[must_use]
    pub fn time(self) -> Option<f64> {
        match self {
            Self::At(t) => Some(t),
            Self::Never => None,
            Self::OutsideAtStart => Some(0.0),
        }
    }
    fn earlier(self, other: Self) -> Self {
        match (self.time(), other.time()) {
            (Some(a), Some(b)) if b < a => other,
            (None, Some(_)) => other,
            _ => self,
        }
    }
}

/// A straight mean with a variance that is quadratic in time.
#[derive(Clone, Copy, PartialEq, Debug)]
struct Line {
    at_zero: f64,
    slope: f64,
    /// Variance at the middle and per squared distance from it, in units of s².
    middle: f64,
    base: f64,
    per_square: f64,
    s: f64,
    dof: f64,
}

impl Line {
    /// First time from 0 at which the confidence limit leaves the side (+1: above).
    fn crossing(&self, sign: f64, limit: f64, tail: f64) -> Crossing {
        let q = t_quantile(tail, self.dof) * self.s;
        let distance = |t: f64| {
            sign * (self.at_zero + self.slope * t - limit)
                - q * (self.base + self.per_square * (t - self.middle).powi(2)).sqrt()
        };
        if distance(0.0) < 0.0 {
            return Crossing::OutsideAtStart;
        }
        // (a + bt)² = q²(base + k (t − m)²): the smaller positive root on the inner side.
        let (a, b) = (sign * (self.at_zero - limit), sign * self.slope);
        let (m, k) = (self.middle, self.per_square);
        let (x, y, z) = (
            b * b - q * q * k,
            2.0 * (a * b + q * q * k * m),
            a * a - q * q * (self.base + k * m * m),
        );
        let under = y * y - 4.0 * x * z;
        if under < 0.0 {
            return Crossing::Never;
        }
        let w = -0.5 * (y + under.sqrt().copysign(y));
        let mut roots = [w / x, z / w];
        roots.sort_by(f64::total_cmp);
        roots
            .into_iter()
            .find(|t| t.is_finite() && *t >= 0.0 && a + b * t >= -1e-9 * (a.abs() + 1.0))
            .filter(|t| *t <= HORIZON)
            .map_or(Crossing::Never, Crossing::At)
    }
    fn first(&self, limit: TrendLimit, tail: f64) -> Crossing {
        limit
            .sides()
            .into_iter()
            .map(|(sign, l)| self.crossing(sign, l, tail))
            .reduce(Crossing::earlier)
            .unwrap_or(Crossing::Never)
    }
}

/// One batch over time.
#[derive(Clone, PartialEq, Debug)]
pub struct Drift {
    /// value = intercept + slope × time.
    pub fit: LinearFit,
    line: Line,
    /// Last time measured.
    pub last: f64,
}

impl Drift {
    /// Fits values at times; at least three readings at two times or more.
    pub fn fit(times: &[f64], values: &[f64]) -> Result<Self, FitError> {
        finite(times, "the time")?;
        if values.len() < 3 {
            return Err(FitError::TooFew {
                given: values.len(),
                parameters: 2,
                needed: 3,
            });
        }
        let fit = least_squares(&polynomial(times, 1), values, None)?;
        let n = times.len() as f64;
        let middle = times.iter().sum::<f64>() / n;
        let sxx: f64 = times.iter().map(|t| (t - middle).powi(2)).sum();
        let line = Line {
            at_zero: fit.coef[0],
            slope: fit.coef[1],
            middle,
            base: 1.0 / n,
            per_square: 1.0 / sxx,
            s: fit.s(),
            dof: fit.dof as f64,
        };
        Ok(Self {
            fit,
            line,
            last: times.iter().copied().fold(f64::NEG_INFINITY, f64::max),
        })
    }
    /// Fitted value at a time, with bands.
    #[must_use]
    pub fn at(&self, time: f64) -> Prediction {
        self.fit.predict(&[1.0, time], 1.0)
    }
    /// Probability that a slope as large comes by chance.
    #[must_use]
    pub fn p_slope(&self) -> f64 {
        t_two_sided(self.fit.coef[1] / self.fit.se()[1], self.fit.dof as f64)
    }
    /// When the 95 % confidence limit of the mean meets the limit.
    #[must_use]
    pub fn time_to_limit(&self, limit: TrendLimit) -> Crossing {
        self.line.first(limit, limit.tail())
    }
    /// The same for one side of a limit, with the confidence of the whole limit.
    #[must_use]
    pub fn time_to_side(&self, side: TrendLimit, of: TrendLimit) -> Crossing {
        self.line.first(side, of.tail())
    }
    /// When the line itself meets a value; none if it does not after the start.
    #[must_use]
    pub fn line_meets(&self, value: f64) -> Option<f64> {
        Some((value - self.fit.coef[0]) / self.fit.coef[1]).filter(|t| *t > 0.0 && t.is_finite())
    }
}

/// How several batches are described.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Pooling {
    /// Common intercept and slope.
    Common,
    /// Own intercepts, common slope.
    OwnIntercepts,
    /// Own intercepts and slopes.
    OwnLines,
}

/// Several batches over time.
#[derive(Clone, PartialEq, Debug)]
pub struct Batches {
    /// Names in order.
    pub names: Vec<String>,
    /// F of slopes, with its probability.
    pub slopes: (f64, f64),
    /// F of intercepts against the full model's mean square.
    pub intercepts: (f64, f64),
    /// F of intercepts against the mean square of the model with a common slope.
    pub intercepts_reduced: (f64, f64),
    /// Mean square of own lines.
    pub mean_square: f64,
    /// Its degrees of freedom.
    pub dof: usize,
    /// Which description is chosen.
    pub pooling: Pooling,
    common: Line,
    own_intercepts: Vec<Line>,
    own_lines: Vec<Line>,
    separate: Vec<Option<Line>>,
}

/// Means and sums of squares about them of some readings.
struct Sums {
    n: f64,
    t: f64,
    y: f64,
    xx: f64,
    xy: f64,
    yy: f64,
}

impl Sums {
    /// Those of the readings that are kept, told by their place.
    fn of(times: &[f64], values: &[f64], keep: &dyn Fn(usize) -> bool) -> Self {
        let rows: Vec<(f64, f64)> = (times.iter().zip(values).enumerate())
            .filter(|(i, _)| keep(*i))
            .map(|(_, (t, y))| (*t, *y))
            .collect();
        let n = rows.len() as f64;
        let t = rows.iter().map(|r| r.0).sum::<f64>() / n;
        let y = rows.iter().map(|r| r.1).sum::<f64>() / n;
        let product =
            |f: &dyn Fn(f64, f64) -> f64| rows.iter().map(|r| f(r.0 - t, r.1 - y)).sum::<f64>();
        Self {
            n,
            t,
            y,
            xx: product(&|t, _| t.powi(2)),
            xy: product(&|t, y| t * y),
            yy: product(&|_, y| y.powi(2)),
        }
    }

    /// A line of a slope through the middle; `xx` is what its slope was found from, `square`
    /// the mean square of its residuals.
    fn line(&self, slope: f64, xx: f64, square: f64, dof: usize) -> Line {
        Line {
            at_zero: self.y - slope * self.t,
            slope,
            middle: self.t,
            base: 1.0 / self.n,
            per_square: 1.0 / xx,
            s: square.sqrt(),
            dof: dof as f64,
        }
    }
}

impl Batches {
    /// Fits batches named reading by reading; every batch needs two times.
    pub fn fit(batch: &[String], times: &[f64], values: &[f64]) -> Result<Self, FitError> {
        finite(times, "the time")?;
        finite(values, "the value")?;
        if batch.len() != values.len() || times.len() != values.len() {
            return Err(FitError::Uneven {
                inputs: times.len().min(batch.len()),
                values: values.len(),
            });
        }
        let mut names: Vec<String> = batch.to_vec();
        names.sort();
        names.dedup();
        let k = names.len();
        let n = values.len();
        if k < 2 || n <= 2 * k {
            return Err(FitError::TooFew {
                given: n,
                parameters: 2 * k,
                needed: 2 * k.max(2) + 1,
            });
        }
        let sums = |keep: &dyn Fn(usize) -> bool| Sums::of(times, values, keep);
        let groups: Vec<Sums> = names
            .iter()
            .map(|name| sums(&|i| batch[i] == *name))
            .collect();
        if groups.iter().any(|g| g.xx <= 0.0) {
            return Err(FitError::Dependent);
        }
        // Residual sums straight from the residuals: differences of sums lose digits.
        let rss_of = |line: &dyn Fn(usize) -> (f64, f64, f64)| {
            (0..n)
                .map(|i| {
                    let (y, slope, t) = line(i);
                    (values[i] - y - slope * (times[i] - t)).powi(2)
                })
                .sum::<f64>()
        };
        let group_of = |i: usize| {
            names
                .iter()
                .position(|name| *name == batch[i])
                .and_then(|g| groups.get(g))
        };
        let all = sums(&|_| true);
        let common_slope =
            groups.iter().map(|g| g.xy).sum::<f64>() / groups.iter().map(|g| g.xx).sum::<f64>();
        let rss_common = rss_of(&|_| (all.y, all.xy / all.xx, all.t));
        let rss_intercepts =
            rss_of(&|i| group_of(i).map_or((0.0, 0.0, 0.0), |g| (g.y, common_slope, g.t)));
        let rss_lines =
            rss_of(&|i| group_of(i).map_or((0.0, 0.0, 0.0), |g| (g.y, g.xy / g.xx, g.t)));
        let dof = n - 2 * k;
        let dof_intercepts = n - k - 1;
        let mean_square = rss_lines / dof as f64;
        let ratio = |gain: f64, square: f64, d2: usize| {
            let f = gain / (k - 1) as f64 / square;
            (f, f_tail(f, (k - 1) as f64, d2 as f64))
        };
        let slopes = ratio(rss_intercepts - rss_lines, mean_square, dof);
        let intercepts = ratio(rss_common - rss_intercepts, mean_square, dof);
        let intercepts_reduced = ratio(
            rss_common - rss_intercepts,
            rss_intercepts / dof_intercepts as f64,
            dof_intercepts,
        );
        let pooling = if slopes.1 < POOLING_LEVEL {
            Pooling::OwnLines
        } else if intercepts.1 < POOLING_LEVEL {
            Pooling::OwnIntercepts
        } else {
            Pooling::Common
        };
        let pooled_xx = groups.iter().map(|g| g.xx).sum::<f64>();
        Ok(Self {
            common: all.line(all.xy / all.xx, all.xx, rss_common / (n - 2) as f64, n - 2),
            own_intercepts: groups
                .iter()
                .map(|g| {
                    g.line(
                        common_slope,
                        pooled_xx,
                        rss_intercepts / dof_intercepts as f64,
                        dof_intercepts,
                    )
                })
                .collect(),
            own_lines: groups
                .iter()
                .map(|g| g.line(g.xy / g.xx, g.xx, mean_square, dof))
                .collect(),
            separate: groups
                .iter()
                .map(|g| {
                    let own = g.n as usize - 2;
                    let rss = (g.yy - g.xy * g.xy / g.xx).max(0.0);
                    (own > 0).then(|| g.line(g.xy / g.xx, g.xx, rss / own as f64, own))
                })
                .collect(),
            names,
            slopes,
            intercepts,
            intercepts_reduced,
            mean_square,
            dof,
            pooling,
        })
    }

    fn lines(&self, pooling: Pooling) -> Vec<Line> {
        match pooling {
            Pooling::Common => vec![self.common; self.names.len()],
            Pooling::OwnIntercepts => self.own_intercepts.clone(),
            Pooling::OwnLines => self.own_lines.clone(),
        }
    }
    /// Intercept and slope of every batch in the chosen description.
    #[must_use]
    pub fn chosen_lines(&self) -> Vec<(f64, f64)> {
        self.lines(self.pooling)
            .iter()
            .map(|l| (l.at_zero, l.slope))
            .collect()
    }
    /// Time to the limit of every batch in one description, own lines with the pooled mean
    /// square.
    #[must_use]
    pub fn times(&self, pooling: Pooling, limit: TrendLimit, tail: f64) -> Vec<Crossing> {
        self.lines(pooling)
            .iter()
            .map(|l| l.first(limit, tail))
            .collect()
    }
    /// Time to the limit of every batch by itself.
    #[must_use]
    pub fn separate_times(&self, limit: TrendLimit, tail: f64) -> Vec<Option<Crossing>> {
        self.separate
            .iter()
            .map(|l| l.as_ref().map(|l| l.first(limit, tail)))
            .collect()
    }
    /// The earliest time over the batches in the chosen description.
    #[must_use]
    pub fn time_to_limit(&self, limit: TrendLimit, tail: f64) -> Crossing {
        self.times(self.pooling, limit, tail)
            .into_iter()
            .reduce(Crossing::earlier)
            .unwrap_or(Crossing::Never)
    }
}
