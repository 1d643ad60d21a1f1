//! Recovery after something was added: ln viscosity = a + b exp(−t/τ). It starts at
//! exp(a + b), ends at exp(a), and is back at a share p of the end when
//! t = τ ln(b / ln p).

use nalgebra::DMatrix;

use super::linear::least_squares;
use super::nonlinear::{Curve, CurveFit, fit};
use super::{FitError, Interval, finite, positive};

/// A recovery.
#[derive(Clone, PartialEq, Debug)]
pub struct Recovery {
    /// a, b, ln τ with their fit to ln viscosity.
    pub fit: CurveFit,
}

struct Search {
    t: Vec<f64>,
    y: Vec<f64>,
}

fn gradient(p: &[f64], t: f64) -> [f64; 3] {
    let tau = p[2].exp();
    let left = (-t / tau).exp();
    [1.0, left, p[1] * left * t / tau]
}

fn logarithm(p: &[f64], t: f64) -> f64 {
    p[0] + p[1] * (-t / p[2].exp()).exp()
}

impl Curve for Search {
    fn readings(&self) -> usize {
        self.t.len()
    }
    fn residuals(&self, p: &[f64]) -> Option<Vec<f64>> {
        let pairs = self.t.iter().zip(&self.y);
        Some(pairs.map(|(t, y)| logarithm(p, *t) - y).collect())
    }
    fn jacobian(&self, p: &[f64]) -> Option<DMatrix<f64>> {
        Some(DMatrix::from_fn(self.t.len(), 3, |i, j| {
            gradient(p, self.t[i])[j]
        }))
    }
}

/// Time constants tried before the search.
const SCAN: u32 = 80;

impl Recovery {
    /// Fits viscosities at times since the addition (any unit); at least four.
    pub fn fit(times: &[f64], viscosity: &[f64]) -> Result<Self, FitError> {
        finite(times, "the time")?;
        positive(viscosity, "the viscosity")?;
        let n = times.len();
        if n != viscosity.len() {
            return Err(FitError::Uneven {
                inputs: n,
                values: viscosity.len(),
            });
        }
        if n < 4 {
            return Err(FitError::TooFew {
                given: n,
                parameters: 3,
                needed: 4,
            });
        }
        if let Some(early) = times.iter().position(|t| *t < 0.0) {
            return Err(FitError::Value {
                row: early + 1,
                what: "the time",
                must: "since the addition, not before it",
            });
        }
        let search = Search {
            t: times.to_vec(),
            y: viscosity.iter().map(|v| v.ln()).collect(),
        };
        let last = times.iter().copied().fold(0.0, f64::max);
        if last <= 0.0 {
            return Err(FitError::Dependent);
        }
        // For a given τ the rest is a line: a scan finds the valley, the search its floor.
        let mut scan: Vec<(f64, Vec<f64>)> = (0..SCAN)
            .filter_map(|i| {
                let tau = last * 1e-3 * 1e5_f64.powf(f64::from(i) / f64::from(SCAN - 1));
                let design = DMatrix::from_fn(n, 2, |row, column| {
                    if column == 0 {
                        1.0
                    } else {
                        (-times[row] / tau).exp()
                    }
                });
                let found = least_squares(&design, &search.y, None).ok()?;
                Some((found.rss, vec![found.coef[0], found.coef[1], tau.ln()]))
            })
            .collect();
        scan.sort_by(|a, b| a.0.total_cmp(&b.0));
        let starts: Vec<Vec<f64>> = scan.into_iter().take(2).map(|s| s.1).collect();
        if starts.is_empty() {
            return Err(FitError::Dependent);
        }
        let out = Self {
            fit: fit(&search, &starts)?,
        };
        // An end that lies far behind the last reading is not seen by the data.
        let told_apart = out
            .se_time_constant()
            .is_some_and(|se| se < out.time_constant());
        if told_apart && out.time_constant() < last {
            Ok(out)
        } else {
            Err(FitError::NotDetermined("time constant"))
        }
    }

    /// Viscosity at a time.
    #[must_use]
    pub fn at(&self, time: f64) -> f64 {
        logarithm(&self.fit.parameters, time).exp()
    }
    /// 95 % bands of the mean and of a new reading at a time.
    #[must_use]
    pub fn bands_at(&self, time: f64) -> Option<(Interval, Interval)> {
        self.fit
            .bands_of_logarithm(self.at(time), &gradient(&self.fit.parameters, time))
    }
    /// Viscosity in the end.
    #[must_use]
    pub fn end(&self) -> f64 {
        self.fit.parameters[0].exp()
    }
    /// Time in which the distance to the end falls to 1/e.
    #[must_use]
    pub fn time_constant(&self) -> f64 {
        self.fit.parameters[2].exp()
    }
    /// Its standard error.
    #[must_use]
    pub fn se_time_constant(&self) -> Option<f64> {
        Some(self.fit.se()?.get(2)? * self.time_constant())
    }
    /// Time after which the viscosity is back at a share (below 1) of its end; none if it was
    /// never below.
    #[must_use]
    pub fn time_back(&self, share: f64) -> Option<f64> {
        let ratio = self.fit.parameters[1] / share.ln();
        (ratio > 1.0).then(|| self.time_constant() * ratio.ln())
    }
    /// Time after which the viscosity stays between a share (below 1) of its end and the end
    /// over that share, from whichever side it comes; 0 if it always was there.
    #[must_use]
    pub fn time_within(&self, share: f64) -> f64 {
        let ratio = (self.fit.parameters[1] / share.ln()).abs();
        self.time_constant() * ratio.max(1.0).ln()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: from 1000 to 5000 mPa·s with τ = 6 min; b = −ln 5; back at 90 % when
    /// exp(−t/6) = ln 0.9 / −ln 5, t = 6 ln(ln 5 / −ln 0.9) = 16.357 min.
    #[test]
    fn an_exact_recovery_comes_back() {
        let times = [0.0_f64, 2.0, 5.0, 10.0, 20.0, 40.0];
        let viscosity: Vec<f64> = times
            .iter()
            .map(|t| 5000.0 * (-(5.0_f64.ln()) * (-t / 6.0_f64).exp()).exp())
            .collect();
        let found = Recovery::fit(&times, &viscosity).unwrap();
        assert!((found.time_constant() - 6.0).abs() < 1e-6);
        assert!((found.end() - 5000.0).abs() < 1e-3);
        assert!((found.at(0.0) - 1000.0).abs() < 1e-3);
        assert!((found.time_back(0.9).unwrap() - 16.357).abs() < 1e-3);
        assert_eq!(found.time_back(0.1), None);
        assert!((found.time_within(0.9) - 16.357).abs() < 1e-3);
        assert!(found.time_within(0.1).abs() < 1e-9);
    }

    #[test]
    fn what_the_data_do_not_bear_is_refused() {
        // Still rising in a line: no end is in sight.
        let times = [0.0_f64, 1.0, 2.0, 3.0, 4.0];
        let rising: Vec<f64> = times.iter().map(|t| (7.0 + 0.1 * t).exp()).collect();
        assert_eq!(
            Recovery::fit(&times, &rising),
            Err(FitError::NotDetermined("time constant"))
        );
        assert!(Recovery::fit(&times[..3], &rising[..3]).is_err());
        assert!(Recovery::fit(&[-1.0, 1.0, 2.0, 3.0], &rising[..4]).is_err());
        assert!(Recovery::fit(&times, &[1.0, 2.0, -3.0, 4.0, 5.0]).is_err());
    }
}
