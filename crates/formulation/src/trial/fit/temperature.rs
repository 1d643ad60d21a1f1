//! Temperature: viscosity by Arrhenius and by Vogel, Fulcher and Tammann, rates of change, the
//! mean kinetic temperature. Physical changes (creaming, melting of waxes, crystals) do not
//! follow them.

use nalgebra::DMatrix;

use super::linear::{LinearFit, Prediction, least_squares};
use super::nonlinear::{Curve, CurveFit, fit};
use super::{FitError, Interval, finite, positive};
use crate::quantity::GAS_CONSTANT;

/// 0 °C in kelvin.
pub const ZERO_CELSIUS: f64 = 273.15;

fn kelvin(celsius: &[f64]) -> Result<Vec<f64>, FitError> {
    finite(celsius, "the temperature")?;
    let kelvin: Vec<f64> = celsius.iter().map(|t| t + ZERO_CELSIUS).collect();
    positive(&kelvin, "the absolute temperature")?;
    Ok(kelvin)
}

fn logarithms(values: &[f64], what: &'static str) -> Result<Vec<f64>, FitError> {
    positive(values, what)?;
    Ok(values.iter().map(|v| v.ln()).collect())
}

/// ln value = a + b/T.
#[derive(Clone, PartialEq, Debug)]
pub struct Arrhenius {
    /// The line in 1/T.
    pub fit: LinearFit,
}

impl Arrhenius {
    /// Fits viscosities or rates at temperatures in °C; two temperatures give an exact line
    /// without band.
    pub fn fit(celsius: &[f64], values: &[f64]) -> Result<Self, FitError> {
        let t = kelvin(celsius)?;
        let y = logarithms(values, "the value")?;
        let design = DMatrix::from_fn(t.len(), 2, |i, j| if j == 0 { 1.0 } else { 1.0 / t[i] });
        Ok(Self {
            fit: least_squares(&design, &y, None)?,
        })
    }
    /// Activation energy of the viscosity, kJ/mol: R times the slope.
    #[must_use]
    pub fn energy_kj_mol(&self) -> f64 {
        self.fit.coef[1] * GAS_CONSTANT / 1000.0
    }
    /// Its standard error, kJ/mol.
    #[must_use]
    pub fn se_energy_kj_mol(&self) -> f64 {
        self.fit.se()[1] * GAS_CONSTANT / 1000.0
    }
    /// ln value at a temperature in °C, with bands.
    #[must_use]
    pub fn at(&self, celsius: f64) -> Prediction {
        self.fit
            .predict(&[1.0, 1.0 / (celsius + ZERO_CELSIUS)], 1.0)
    }
    /// The value at `from` °C as a multiple of the value at `to` °C.
    #[must_use]
    pub fn ratio(&self, from: f64, to: f64) -> f64 {
        (self.fit.coef[1] * (1.0 / (from + ZERO_CELSIUS) - 1.0 / (to + ZERO_CELSIUS))).exp()
    }
}

/// Factor of a rate for 10 K between two temperatures.
#[must_use]
pub fn q10(rate1: f64, celsius1: f64, rate2: f64, celsius2: f64) -> f64 {
    (rate2 / rate1).powf(10.0 / (celsius2 - celsius1))
}

/// Mean kinetic temperature in °C of equally long times, activation energy in kJ/mol
/// (Haynes 1971; USP ⟨1079.2⟩).
#[must_use]
pub fn mean_kinetic_celsius(celsius: &[f64], energy_kj_mol: f64) -> Option<f64> {
    let t = kelvin(celsius).ok()?;
    if t.is_empty() || !(energy_kj_mol > 0.0 && energy_kj_mol.is_finite()) {
        return None;
    }
    let m = energy_kj_mol * 1000.0 / GAS_CONSTANT;
    let mean = t.iter().map(|t| (-m / t).exp()).sum::<f64>() / t.len() as f64;
    Some(-m / mean.ln() - ZERO_CELSIUS)
}

/// ln viscosity = A + B/(T − T₀), T in kelvin.
#[derive(Clone, PartialEq, Debug)]
pub struct VogelFulcherTammann {
    /// A, B (K), T₀ (K) with their fit.
    pub fit: CurveFit,
}

struct VftSearch {
    t: Vec<f64>,
    y: Vec<f64>,
}

impl Curve for VftSearch {
    fn readings(&self) -> usize {
        self.t.len()
    }
    fn residuals(&self, p: &[f64]) -> Option<Vec<f64>> {
        let least = self.t.iter().copied().fold(f64::INFINITY, f64::min);
        if p[2] >= least {
            return None;
        }
        let value = |t: &f64| p[0] + p[1] / (t - p[2]);
        Some(
            self.t
                .iter()
                .zip(&self.y)
                .map(|(t, y)| value(t) - y)
                .collect(),
        )
    }
    fn jacobian(&self, p: &[f64]) -> Option<DMatrix<f64>> {
        Some(DMatrix::from_fn(self.t.len(), 3, |i, j| {
            vft_gradient(p, self.t[i])[j]
        }))
    }
}

fn vft_gradient(p: &[f64], t: f64) -> [f64; 3] {
    let d = t - p[2];
    [1.0, 1.0 / d, p[1] / (d * d)]
}

impl VogelFulcherTammann {
    /// Fits viscosities at temperatures in °C; at least four.
    pub fn fit(celsius: &[f64], viscosity: &[f64]) -> Result<Self, FitError> {
        let search = VftSearch {
            t: kelvin(celsius)?,
            y: logarithms(viscosity, "the viscosity")?,
        };
        let n = search.t.len();
        if n < 4 {
            return Err(FitError::TooFew {
                given: n,
                parameters: 3,
                needed: 4,
            });
        }
        let least = search.t.iter().copied().fold(f64::INFINITY, f64::min);
        // For a given T₀ the rest is a line: a scan finds the valley, the search its floor.
        let line = |t0: f64| {
            let design = DMatrix::from_fn(n, 2, |i, j| {
                if j == 0 {
                    1.0
                } else {
                    1.0 / (search.t[i] - t0)
                }
            });
            least_squares(&design, &search.y, None).ok()
        };
        let mut scan: Vec<(f64, Vec<f64>)> = (0..60)
            .filter_map(|i| {
                let t0 = 5.0 + (least - 8.0) * f64::from(i) / 59.0;
                let found = line(t0)?;
                Some((found.rss, vec![found.coef[0], found.coef[1], t0]))
            })
            .collect();
        scan.sort_by(|a, b| a.0.total_cmp(&b.0));
        let starts: Vec<Vec<f64>> = scan.into_iter().take(2).map(|s| s.1).collect();
        let found = fit(&search, &starts)?;
        if !(0.0..least).contains(&found.parameters[2]) {
            return Err(FitError::NotDetermined("T0"));
        }
        Ok(Self { fit: found })
    }
    /// Viscosity at a temperature in °C.
    #[must_use]
    pub fn at(&self, celsius: f64) -> f64 {
        let p = &self.fit.parameters;
        (p[0] + p[1] / (celsius + ZERO_CELSIUS - p[2])).exp()
    }
    /// 95 % bands of the mean and of a new reading at a temperature in °C; none if the
    /// parameters cannot be told apart.
    #[must_use]
    pub fn bands_at(&self, celsius: f64) -> Option<(Interval, Interval)> {
        let gradient = vft_gradient(&self.fit.parameters, celsius + ZERO_CELSIUS);
        self.fit.bands_of_logarithm(self.at(celsius), &gradient)
    }
}
