//! Flow curves: viscosity against shear rate, fitted on the logarithm of the viscosity.
//!
//! A Newtonian liquid is no case of its own: it is a power law with n = 1.

use nalgebra::DMatrix;

use super::nonlinear::{Curve, CurveFit, descend, fit, inverse_of_square, sum_of_squares};
use super::{FitError, Interval, positive};

/// Starts that are followed: the best, and about so many spread over the rest.
const NEAR_STARTS: usize = 2;
const FAR_STARTS: usize = 2;

/// A flow model.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum FlowModel {
    /// η = K γ̇ⁿ⁻¹ (Ostwald and de Waele).
    PowerLaw,
    /// τ = τ₀ + K γ̇ⁿ.
    HerschelBulkley,
    /// η = η∞ + (η₀ − η∞)/(1 + (λγ̇)ᵐ).
    Cross,
    /// η = η∞ + (η₀ − η∞)(1 + (λγ̇)²)^((n−1)/2).
    Carreau,
}

impl FlowModel {
    /// All models, simplest first.
    pub const ALL: [Self; 4] = [
        Self::PowerLaw,
        Self::HerschelBulkley,
        Self::Cross,
        Self::Carreau,
    ];
    /// Name in files and commands.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::PowerLaw => "power_law",
            Self::HerschelBulkley => "herschel_bulkley",
            Self::Cross => "cross",
            Self::Carreau => "carreau",
        }
    }
    /// Name in words.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::PowerLaw => "power law",
            Self::HerschelBulkley => "Herschel-Bulkley",
            Self::Cross => "Cross",
            Self::Carreau => "Carreau",
        }
    }
    /// Parameters in order: shear rate in 1/s, viscosity and stress in the units of the data.
    #[must_use]
    pub fn parameters(self) -> &'static [&'static str] {
        match self {
            Self::PowerLaw => &["K", "n"],
            Self::HerschelBulkley => &["tau0", "K", "n"],
            Self::Cross => &["eta0", "eta_inf", "lambda", "m"],
            Self::Carreau => &["eta0", "eta_inf", "lambda", "n"],
        }
    }
    /// How many of the parameters, the first ones, the viscosity is linear in.
    const fn linear(self) -> usize {
        match self {
            Self::PowerLaw => 1,
            Self::HerschelBulkley | Self::Cross | Self::Carreau => 2,
        }
    }
    /// Viscosity and its derivatives by the parameters.
    fn viscosity(self, p: &[f64], g: f64) -> (f64, [f64; 4]) {
        match (self, p) {
            (Self::PowerLaw, &[k, n]) => {
                let e = g.powf(n - 1.0);
                (k * e, [e, k * e * g.ln(), 0.0, 0.0])
            }
            (Self::HerschelBulkley, &[tau, k, n]) => {
                let e = g.powf(n - 1.0);
                (tau / g + k * e, [1.0 / g, e, k * e * g.ln(), 0.0])
            }
            (Self::Cross, &[eta0, inf, lambda, m]) => {
                let u = (lambda * g).powf(m);
                let d = 1.0 + u;
                let slope = -(eta0 - inf) * u / (d * d);
                (
                    inf + (eta0 - inf) / d,
                    [
                        1.0 / d,
                        u / d,
                        slope * m / lambda,
                        slope * (lambda * g).ln(),
                    ],
                )
            }
            (Self::Carreau, &[eta0, inf, lambda, n]) => {
                let b = 1.0 + (lambda * g).powi(2);
                let e = (n - 1.0) / 2.0;
                let f = b.powf(e);
                (
                    inf + (eta0 - inf) * f,
                    [
                        f,
                        1.0 - f,
                        (eta0 - inf) * e * f / b * 2.0 * lambda * g * g,
                        (eta0 - inf) * f * b.ln() / 2.0,
                    ],
                )
            }
            _ => (f64::NAN, [f64::NAN; 4]),
        }
    }
}

/// A fitted flow curve.
#[derive(Clone, PartialEq, Debug)]
pub struct FlowCurve {
    /// The model.
    pub model: FlowModel,
    /// All parameters in the order of [`FlowModel::parameters`], held ones included.
    pub parameters: Vec<f64>,
    /// Which of them were held.
    pub held: Vec<bool>,
    /// The fit of the free ones; derivatives of ln viscosity by the parameters themselves.
    pub fit: CurveFit,
    /// Number of readings.
    pub readings: usize,
}

struct Search<'a> {
    model: FlowModel,
    rates: &'a [f64],
    ln: &'a [f64],
    held: &'a [Option<f64>],
}

impl Search<'_> {
    fn is_positive(&self, index: usize) -> bool {
        !matches!(self.model.parameters().get(index), Some(&("n" | "m")))
    }
    /// Search in logarithms of what must be positive.
    fn unpack(&self, q: &[f64]) -> Vec<f64> {
        let mut free = q.iter();
        self.held
            .iter()
            .enumerate()
            .map(|(i, held)| {
                held.unwrap_or_else(|| {
                    let v = free.next().copied().unwrap_or(f64::NAN);
                    if self.is_positive(i) { v.exp() } else { v }
                })
            })
            .collect()
    }
    fn free(&self) -> impl Iterator<Item = usize> + '_ {
        (0..self.held.len()).filter(|i| self.held[*i].is_none())
    }
    /// Derivatives of ln viscosity by the free parameters themselves.
    fn gradient(&self, p: &[f64], g: f64) -> Vec<f64> {
        let (v, d) = self.model.viscosity(p, g);
        self.free().map(|i| d[i] / v).collect()
    }
}

impl Curve for Search<'_> {
    fn readings(&self) -> usize {
        self.rates.len()
    }
    fn residuals(&self, q: &[f64]) -> Option<Vec<f64>> {
        let p = self.unpack(q);
        self.rates
            .iter()
            .zip(self.ln)
            .map(|(g, y)| {
                let v = self.model.viscosity(&p, *g).0;
                (v > 0.0 && v.is_finite()).then(|| v.ln() - y)
            })
            .collect()
    }
    fn jacobian(&self, q: &[f64]) -> Option<DMatrix<f64>> {
        let p = self.unpack(q);
        let free: Vec<usize> = self.free().collect();
        let mut j = DMatrix::zeros(self.rates.len(), free.len());
        for (r, g) in self.rates.iter().enumerate() {
            for (c, d) in self.gradient(&p, *g).into_iter().enumerate() {
                let by_log = if self.is_positive(free[c]) {
                    p[free[c]]
                } else {
                    1.0
                };
                j[(r, c)] = d * by_log;
            }
        }
        Some(j)
    }
}

impl FlowCurve {
    /// Fits one model; `held` gives fixed values by parameter name.
    pub fn fit(
        model: FlowModel,
        rates: &[f64],
        viscosity: &[f64],
        held: &[(&str, f64)],
    ) -> Result<Self, FitError> {
        positive(rates, "the shear rate")?;
        positive(viscosity, "the viscosity")?;
        if rates.len() != viscosity.len() {
            return Err(FitError::Uneven {
                inputs: rates.len(),
                values: viscosity.len(),
            });
        }
        let names = model.parameters();
        let fixed: Vec<Option<f64>> = names
            .iter()
            .map(|n| held.iter().find(|(h, _)| h == n).map(|(_, v)| *v))
            .collect();
        let free = fixed.iter().filter(|h| h.is_none()).count();
        let n = rates.len();
        if n <= free {
            return Err(FitError::TooFew {
                given: n,
                parameters: free,
                needed: free + 1,
            });
        }
        let ln: Vec<f64> = viscosity.iter().map(|v| v.ln()).collect();
        let search = Search {
            model,
            rates,
            ln: &ln,
            held: &fixed,
        };
        let starts = best_first(&search, starts(model, rates, viscosity, &fixed));
        // The best of a coarse grid, then some far apart from each other: a single start can fail.
        let mut chosen: Vec<Vec<f64>> = Vec::new();
        let step = (starts.len() / FAR_STARTS).max(1);
        for (i, start) in starts.iter().enumerate() {
            if i < NEAR_STARTS || i % step == 0 {
                chosen.push(descend(&search, start, 30).0);
            }
        }
        let mut chosen = best_first(&search, chosen);
        chosen.truncate(1);
        let mut found = fit(&search, &chosen)?;
        let parameters = search.unpack(&found.parameters);
        let mut j = DMatrix::zeros(n, free);
        for (r, g) in rates.iter().enumerate() {
            for (c, d) in search.gradient(&parameters, *g).into_iter().enumerate() {
                j[(r, c)] = d;
            }
        }
        found.inverse = inverse_of_square(&j);
        Ok(Self {
            model,
            parameters,
            held: fixed.iter().map(Option::is_some).collect(),
            fit: found,
            readings: n,
        })
    }

    /// Fits a model as far as the data bear it: the viscosity at high shear is held at zero
    /// where the curve does not reach it.
    pub fn determined(
        model: FlowModel,
        rates: &[f64],
        viscosity: &[f64],
    ) -> Result<Self, FitError> {
        let tries: &[&[(&str, f64)]] = match model {
            FlowModel::Cross | FlowModel::Carreau => &[&[], &[("eta_inf", 0.0)]],
            _ => &[&[]],
        };
        let mut why = FitError::NotConverged;
        for held in tries {
            match Self::fit(model, rates, viscosity, held) {
                Ok(curve) => match curve.undetermined() {
                    None => return Ok(curve),
                    Some(name) => why = FitError::NotDetermined(name),
                },
                Err(e) => why = e,
            }
        }
        Err(why)
    }

    /// A free parameter that the data do not bear: its standard error is above half of it, or
    /// it ran out of its sensible range.
    #[must_use]
    pub fn undetermined(&self) -> Option<&'static str> {
        let names = self.model.parameters();
        let free = |i: &usize| !self.held[*i];
        let Some(se) = self.fit.se() else {
            return (0..names.len()).find(free).map(|i| names[i]);
        };
        (0..names.len())
            .filter(free)
            .zip(se)
            .find(|(i, se)| {
                let p = self.parameters[*i];
                let exponent = matches!(names[*i], "n" | "m");
                let inside = if exponent {
                    p < 2.999 && p > if names[*i] == "m" { 0.0201 } else { -0.999 }
                } else {
                    (1e-7..1e9).contains(&p)
                };
                !inside || se.is_nan() || *se > 0.5 * p.abs()
            })
            .map(|(i, _)| names[i])
    }

    /// Names and standard errors of the free parameters.
    #[must_use]
    pub fn se(&self) -> Vec<(&'static str, f64)> {
        let names = self.model.parameters();
        let free = (0..names.len())
            .filter(|i| !self.held[*i])
            .map(|i| names[i]);
        free.zip(self.fit.se().unwrap_or_default()).collect()
    }

    /// Corrected information criterion, less is better; none if the readings are too few for
    /// it or fitted exactly.
    #[must_use]
    pub fn aicc(&self) -> Option<f64> {
        let n = self.readings as f64;
        let k = self.held.iter().filter(|h| !**h).count() as f64;
        (n - k - 2.0 > 0.0 && self.fit.rss > 1e-20).then(|| {
            n * (self.fit.rss / n).ln()
                + 2.0 * (k + 1.0)
                + 2.0 * (k + 1.0) * (k + 2.0) / (n - k - 2.0)
        })
    }

    /// Viscosity at a shear rate.
    #[must_use]
    pub fn at(&self, rate: f64) -> f64 {
        self.model.viscosity(&self.parameters, rate).0
    }

    /// 95 % band of the viscosity at a shear rate and the interval of a new reading.
    #[must_use]
    pub fn bands_at(&self, rate: f64) -> Option<(Interval, Interval)> {
        let (v, d) = self.model.viscosity(&self.parameters, rate);
        let gradient: Vec<f64> = (0..self.held.len())
            .filter(|i| !self.held[*i])
            .map(|i| d[i] / v)
            .collect();
        self.fit.bands_of_logarithm(v, &gradient)
    }
}

/// All models that the data bear, and the one of the least criterion.
#[must_use]
pub fn compare(rates: &[f64], viscosity: &[f64]) -> (Vec<FlowCurve>, Option<FlowModel>) {
    let curves: Vec<FlowCurve> = FlowModel::ALL
        .iter()
        .filter_map(|m| FlowCurve::determined(*m, rates, viscosity).ok())
        .collect();
    let best = curves
        .iter()
        .filter_map(|c| Some((c.model, c.aicc()?)))
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(m, _)| m);
    (curves, best)
}

/// Parameters by how well they fit, each weighed once.
fn best_first(search: &Search<'_>, all: Vec<Vec<f64>>) -> Vec<Vec<f64>> {
    let mut weighed: Vec<(f64, Vec<f64>)> = all
        .into_iter()
        .map(|parameters| (sum_of_squares(search, &parameters), parameters))
        .collect();
    weighed.sort_by(|a, b| a.0.total_cmp(&b.0));
    weighed
        .into_iter()
        .map(|(_, parameters)| parameters)
        .collect()
}

/// Parameters to start from: a coarse grid of those that shape a curve, and for each the rest,
/// in which the viscosity is linear, by least squares of the relative residuals.
fn starts(
    model: FlowModel,
    rates: &[f64],
    viscosity: &[f64],
    held: &[Option<f64>],
) -> Vec<Vec<f64>> {
    let least = |v: &[f64]| v.iter().copied().fold(f64::INFINITY, f64::min);
    let most = |v: &[f64]| v.iter().copied().fold(0.0, f64::max);
    let (g0, g1) = (least(rates).ln(), most(rates).ln());
    let slope = if g1 > g0 {
        (least(viscosity).ln() - most(viscosity).ln()) / (g1 - g0)
    } else {
        0.0
    };
    let options = |name: &str| -> Vec<f64> {
        match name {
            "n" if model == FlowModel::PowerLaw => vec![1.0 + slope],
            "n" => vec![0.1, 0.25, 0.4, 0.6, 0.85],
            "m" => vec![0.3, 0.5, 0.7, 0.9, 1.2],
            // From the highest rate to well below the lowest, where a plateau may lie unseen.
            _ => (0..8)
                .map(|i| (-g1 + (g1 - g0 + 2.0) * f64::from(i) / 7.0).exp())
                .collect(),
        }
    };
    let linear = model.linear();
    let mut grid: Vec<Vec<f64>> = vec![vec![1.0; linear]];
    for (name, held) in model.parameters().iter().zip(held).skip(linear) {
        let values = held.map_or_else(|| options(name), |v| vec![v]);
        grid = grid
            .iter()
            .flat_map(|head| {
                values.iter().map(|v| {
                    let mut next = head.clone();
                    next.push(*v);
                    next
                })
            })
            .collect();
    }
    let exponent = |i: usize| matches!(model.parameters().get(i), Some(&("n" | "m")));
    grid.into_iter()
        .map(|mut p| {
            let factors = factors(model, rates, viscosity, held, &p);
            for (value, factor) in p.iter_mut().zip(factors) {
                *value = factor;
            }
            let free = (0..p.len()).filter(|i| held.get(*i).is_none_or(Option::is_none));
            free.filter_map(|i| {
                let value = p.get(i).copied()?;
                Some(if exponent(i) { value } else { value.ln() })
            })
            .collect()
        })
        .collect()
}

/// The parameters in which the viscosity is linear, for given others: those of the least
/// relative residuals, none at or below zero.
fn factors(
    model: FlowModel,
    rates: &[f64],
    viscosity: &[f64],
    held: &[Option<f64>],
    others: &[f64],
) -> Vec<f64> {
    let linear = model.linear();
    // What one unit of each brings, as a part of what was read.
    let rows: Vec<[f64; 2]> = rates
        .iter()
        .zip(viscosity)
        .map(|(g, v)| {
            let [a, b, ..] = model.viscosity(others, *g).1;
            [a / v, b / v]
        })
        .collect();
    // Far below what the readings show, but not nothing: the search is in logarithms.
    let trace = |k: usize| {
        let brought = rows.iter().map(|r| r[k]).fold(0.0, f64::max);
        0.02 / brought
    };
    let sum = |f: &dyn Fn(&[f64; 2]) -> f64| rows.iter().map(f).sum::<f64>();
    let alone = |k: usize, rest: f64| {
        let other = 1 - k;
        sum(&|r| r[k] * (1.0 - rest * r[other])) / sum(&|r| r[k] * r[k])
    };
    let known = |k: usize| held.get(k).copied().flatten();
    if linear == 1 {
        return vec![known(0).unwrap_or_else(|| alone(0, 0.0))];
    }
    let (first, second) = match (known(0), known(1)) {
        (Some(a), Some(b)) => (a, b),
        (Some(a), None) => (a, alone(1, a)),
        (None, Some(b)) => (alone(0, b), b),
        (None, None) => {
            let [aa, ab, bb] = [
                sum(&|r| r[0] * r[0]),
                sum(&|r| r[0] * r[1]),
                sum(&|r| r[1] * r[1]),
            ];
            let [a, b] = [sum(&|r| r[0]), sum(&|r| r[1])];
            let det = aa * bb - ab * ab;
            let both = ((a * bb - b * ab) / det, (b * aa - a * ab) / det);
            match both {
                (x, y) if x > 0.0 && y > 0.0 => both,
                (x, _) if x > 0.0 => (alone(0, 0.0), trace(1)),
                _ => (trace(0), alone(1, 0.0)),
            }
        }
    };
    let kept = |k: usize, v: f64| match known(k) {
        Some(held) => held,
        None if v > 0.0 => v,
        None => trace(k),
    };
    vec![kept(0, first), kept(1, second)]
}
