//! Salt curves: the logarithm of the viscosity as a parabola in the share of salt. It holds
//! near the top and inside the data only; past the optimum more salt thins.

use super::distribution::t_two_sided;
use super::linear::{LinearFit, Prediction, least_squares, polynomial};
use super::{FitError, Interval, finite, positive, root};

/// The set of optima that the data do not exclude at 95 % (Fieller 1954).
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum OptimumSet {
    /// Between two shares of salt.
    Interval(Interval),
    /// Everywhere except between two shares: the curvature is not significant.
    Outside(Interval),
    /// Anywhere: the data say nothing.
    All,
}

/// A salt curve.
#[derive(Clone, PartialEq, Debug)]
pub struct SaltCurve {
    /// ln viscosity = b0 + b1 S + b2 S².
    pub fit: LinearFit,
    /// Share of salt at the top of the parabola, in percent.
    pub optimum: f64,
    /// Whether the parabola opens downwards.
    pub is_maximum: bool,
    /// Whether the optimum lies between the least and the greatest share tried.
    pub in_data: bool,
    /// Probability that a curvature as large comes by chance.
    pub p_curvature: f64,
    /// Standard error of the optimum by the delta method: too narrow for weak curvature.
    pub se_delta: f64,
    /// Fieller's set of the optimum.
    pub optimum_set: OptimumSet,
    /// Viscosity at the optimum with its band, the optimum taken as fixed; as ln.
    pub top: Prediction,
}

fn row(salt: f64) -> [f64; 3] {
    [1.0, salt, salt * salt]
}

impl SaltCurve {
    /// Fits viscosities (any unit) at shares of salt in percent; at least four readings.
    pub fn fit(salt_percent: &[f64], viscosity: &[f64]) -> Result<Self, FitError> {
        positive(viscosity, "the viscosity")?;
        finite(salt_percent, "the share of salt")?;
        let n = viscosity.len();
        if n < 4 {
            return Err(FitError::TooFew {
                given: n,
                parameters: 3,
                needed: 4,
            });
        }
        let ln: Vec<f64> = viscosity.iter().map(|v| v.ln()).collect();
        let fit = least_squares(&polynomial(salt_percent, 2), &ln, None)?;
        let [b1, b2] = [fit.coef[1], fit.coef[2]];
        let v = fit.covariance();
        let optimum = -b1 / (2.0 * b2);
        let gradient = [0.0, -1.0 / (2.0 * b2), b1 / (2.0 * b2 * b2)];
        let t = fit.t975();
        let least = salt_percent.iter().copied().fold(f64::INFINITY, f64::min);
        let greatest = salt_percent
            .iter()
            .copied()
            .fold(f64::NEG_INFINITY, f64::max);
        Ok(Self {
            optimum,
            is_maximum: b2 < 0.0,
            in_data: (least..=greatest).contains(&optimum),
            p_curvature: t_two_sided(b2 / v[(2, 2)].sqrt(), fit.dof as f64),
            se_delta: fit.s() * fit.variance_factor(&gradient).sqrt(),
            optimum_set: ratio_set(
                -b1,
                2.0 * b2,
                v[(1, 1)],
                -2.0 * v[(1, 2)],
                4.0 * v[(2, 2)],
                t,
            ),
            top: fit.predict(&row(optimum), 1.0),
            fit,
        })
    }

    /// Whether the optimum may be shown as a figure: a maximum inside the data with an
    /// interval of its own.
    #[must_use]
    pub fn is_determined(&self) -> bool {
        self.is_maximum && self.in_data && matches!(self.optimum_set, OptimumSet::Interval(_))
    }

    /// ln viscosity at a share of salt, with its bands.
    #[must_use]
    pub fn at(&self, salt_percent: f64) -> Prediction {
        self.fit.predict(&row(salt_percent), 1.0)
    }

    /// Optimum by the delta method.
    #[must_use]
    pub fn delta_interval(&self) -> Interval {
        let t = self.fit.t975();
        [
            self.optimum - t * self.se_delta,
            self.optimum + t * self.se_delta,
        ]
    }

    /// Share of salt on the rising side that gives `viscosity`; none if the curve does not
    /// pass it between no salt and the optimum.
    #[must_use]
    pub fn salt_for(&self, viscosity: f64) -> Option<f64> {
        self.crossing(viscosity, 0.0)
    }

    /// Where the upper and the lower 95 % band of the mean reach `viscosity` on the rising
    /// side.
    #[must_use]
    pub fn salt_band_for(&self, viscosity: f64) -> [Option<f64>; 2] {
        let t = self.fit.t975();
        [self.crossing(viscosity, t), self.crossing(viscosity, -t)]
    }

    fn crossing(&self, viscosity: f64, t: f64) -> Option<f64> {
        let target = viscosity.ln();
        if !self.is_maximum || self.optimum <= 0.0 {
            return None;
        }
        let f = |s: f64| {
            let p = self.at(s);
            p.mean + t * p.se - target
        };
        (f(0.0) < 0.0 && f(self.optimum) > 0.0)
            .then(|| root(f, 0.0, self.optimum))
            .flatten()
    }
}

/// All θ with (a − θb)² ≤ t²(Vaa − 2θVab + θ²Vbb).
fn ratio_set(a: f64, b: f64, vaa: f64, vab: f64, vbb: f64, t: f64) -> OptimumSet {
    let (p, q, r) = (
        b * b - t * t * vbb,
        -2.0 * (a * b - t * t * vab),
        a * a - t * t * vaa,
    );
    let under_root = q * q - 4.0 * p * r;
    let wide = under_root.max(0.0).sqrt();
    let mut ends = [(-q - wide) / (2.0 * p), (-q + wide) / (2.0 * p)];
    ends.sort_by(f64::total_cmp);
    if p > 0.0 {
        OptimumSet::Interval(ends)
    } else if under_root > 0.0 {
        OptimumSet::Outside(ends)
    } else {
        OptimumSet::All
    }
}
