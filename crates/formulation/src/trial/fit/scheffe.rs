//! Scheffé polynomials of mixtures (Scheffé 1958): no constant, as the shares sum to one.

use std::collections::BTreeMap;

use nalgebra::DMatrix;

use super::FitError;
use super::distribution::{f_tail, t_two_sided};
use super::linear::{LinearFit, Prediction, least_squares};

/// Which terms a model has.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Order {
    /// Shares.
    Linear,
    /// And products of two.
    Quadratic,
    /// And products of three.
    SpecialCubic,
    /// And xᵢxⱼ(xᵢ − xⱼ).
    Cubic,
}

impl Order {
    /// All orders, simplest first.
    pub const ALL: [Self; 4] = [
        Self::Linear,
        Self::Quadratic,
        Self::SpecialCubic,
        Self::Cubic,
    ];
    /// Name in files and commands.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Linear => "linear",
            Self::Quadratic => "quadratic",
            Self::SpecialCubic => "special_cubic",
            Self::Cubic => "cubic",
        }
    }
    /// The order of a name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|o| o.key() == name)
    }
}

/// One term.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Term {
    /// Product of the shares of these components.
    Product(Vec<usize>),
    /// xᵢxⱼ(xᵢ − xⱼ).
    Difference(usize, usize),
}

impl Term {
    /// Value at a mixture.
    #[must_use]
    pub fn at(&self, x: &[f64]) -> f64 {
        let share = |i: usize| x.get(i).copied().unwrap_or(0.0);
        match self {
            Self::Product(of) => of.iter().map(|i| share(*i)).product(),
            Self::Difference(i, j) => share(*i) * share(*j) * (share(*i) - share(*j)),
        }
    }
    /// Short name with numbers from 1: b1, b12, b123, d12.
    #[must_use]
    pub fn name(&self) -> String {
        let number = |i: &usize| (i + 1).to_string();
        match self {
            Self::Product(of) => format!("b{}", of.iter().map(number).collect::<String>()),
            Self::Difference(i, j) => format!("d{}{}", i + 1, j + 1),
        }
    }
}

/// The terms of a model of `q` components.
#[must_use]
pub fn terms(q: usize, order: Order) -> Vec<Term> {
    let mut out: Vec<Term> = (0..q).map(|i| Term::Product(vec![i])).collect();
    let pairs = || (0..q).flat_map(move |i| (i + 1..q).map(move |j| (i, j)));
    if order != Order::Linear {
        out.extend(pairs().map(|(i, j)| Term::Product(vec![i, j])));
    }
    if order == Order::Cubic {
        out.extend(pairs().map(|(i, j)| Term::Difference(i, j)));
    }
    if matches!(order, Order::SpecialCubic | Order::Cubic) {
        out.extend(
            pairs().flat_map(|(i, j)| (j + 1..q).map(move |k| Term::Product(vec![i, j, k]))),
        );
    }
    out
}

/// The design of some mixtures.
#[must_use]
pub fn design(x: &[Vec<f64>], terms: &[Term]) -> DMatrix<f64> {
    DMatrix::from_fn(x.len(), terms.len(), |i, j| terms[j].at(&x[i]))
}

/// A line of an analysis of variance.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct VarianceLine {
    /// Degrees of freedom.
    pub df: usize,
    /// Sum of squares.
    pub ss: f64,
    /// F against its denominator with its probability; none where there is none.
    pub f: Option<(f64, f64)>,
}

impl VarianceLine {
    /// Mean square.
    #[must_use]
    pub fn ms(&self) -> f64 {
        self.ss / self.df as f64
    }
}

/// A fitted Scheffé polynomial.
#[derive(Clone, PartialEq, Debug)]
pub struct ScheffeFit {
    /// Terms in order.
    pub terms: Vec<Term>,
    /// The fit.
    pub fit: LinearFit,
    /// Sum of squares about the mean, with n − 1 degrees of freedom.
    pub total: VarianceLine,
    /// What the model explains of it.
    pub model: VarianceLine,
    /// The rest.
    pub residual: VarianceLine,
    /// What the terms beyond the linear ones add.
    pub nonlinear: Option<VarianceLine>,
    /// Scatter of repeated mixtures.
    pub pure_error: Option<VarianceLine>,
    /// What the model misses beyond that scatter.
    pub lack_of_fit: Option<VarianceLine>,
    /// Sum of squared errors of prediction, each reading left out in turn; none where a
    /// reading alone carries a coefficient.
    pub press: Option<f64>,
}

impl ScheffeFit {
    /// Least squares of a Scheffé polynomial. Every row of `x` sums to 1 within 1e-6, and there
    /// are more values than terms.
    pub fn fit(x: &[Vec<f64>], values: &[f64], order: Order) -> Result<Self, FitError> {
        let q = x.first().map_or(0, Vec::len);
        if x.len() != values.len() {
            return Err(FitError::Uneven {
                inputs: x.len(),
                values: values.len(),
            });
        }
        for (i, row) in x.iter().enumerate() {
            let sum: f64 = row.iter().sum();
            if row.len() != q || sum.is_nan() || (sum - 1.0).abs() >= 1e-6 {
                return Err(FitError::Value {
                    row: i + 1,
                    what: "the sum of the shares",
                    must: "one",
                });
            }
        }
        let terms = terms(q, order);
        let (n, p) = (x.len(), terms.len());
        if n <= p {
            return Err(FitError::TooFew {
                given: n,
                parameters: p,
                needed: p + 1,
            });
        }
        let fit = least_squares(&design(x, &terms), values, None)?;
        let mean = values.iter().sum::<f64>() / n as f64;
        let total: f64 = values.iter().map(|y| (y - mean).powi(2)).sum();
        let dof = fit.dof;
        let square = fit.rss / dof as f64;
        let against = |df: usize, ss: f64, square: f64, dof: usize| {
            let f = ss / df as f64 / square;
            VarianceLine {
                df,
                ss,
                f: Some((f, f_tail(f, df as f64, dof as f64))),
            }
        };
        let plain = |df: usize, ss: f64| VarianceLine { df, ss, f: None };
        let nonlinear = (order != Order::Linear)
            .then(|| least_squares(&design(x, &terms[..q]), values, None).ok())
            .flatten()
            .map(|line| against(p - q, line.rss - fit.rss, square, dof));
        let mut groups: BTreeMap<Vec<i64>, Vec<f64>> = BTreeMap::new();
        for (row, y) in x.iter().zip(values) {
            let key = row.iter().map(|v| (v * 1e9).round() as i64).collect();
            groups.entry(key).or_default().push(*y);
        }
        let pure_ss: f64 = groups
            .values()
            .map(|g| {
                let m = g.iter().sum::<f64>() / g.len() as f64;
                g.iter().map(|y| (y - m).powi(2)).sum::<f64>()
            })
            .sum();
        let pure_df = n - groups.len();
        let pure_error = (pure_df > 0).then(|| plain(pure_df, pure_ss));
        let lack_of_fit = (pure_df > 0 && groups.len() > p).then(|| {
            against(
                groups.len() - p,
                fit.rss - pure_ss,
                pure_ss / pure_df as f64,
                pure_df,
            )
        });
        let press = fit.leverage.iter().all(|h| *h < 1.0 - 1e-9).then(|| {
            fit.residuals
                .iter()
                .zip(&fit.leverage)
                .map(|(r, h)| (r / (1.0 - h)).powi(2))
                .sum()
        });
        Ok(Self {
            total: plain(n - 1, total),
            model: against(p - 1, total - fit.rss, square, dof),
            residual: plain(dof, fit.rss),
            nonlinear,
            pure_error,
            lack_of_fit,
            press,
            terms,
            fit,
        })
    }
    /// Coefficient, standard error, t and probability of every term.
    #[must_use]
    pub fn coefficients(&self) -> Vec<(f64, f64, f64, f64)> {
        let dof = self.fit.dof as f64;
        self.fit
            .coef
            .iter()
            .zip(self.fit.se())
            .map(|(c, se)| (*c, se, c / se, t_two_sided(c / se, dof)))
            .collect()
    }
    /// Share of the scatter about the mean that is explained.
    #[must_use]
    pub fn r2(&self) -> f64 {
        1.0 - self.residual.ss / self.total.ss
    }
    /// The same per degree of freedom.
    #[must_use]
    pub fn r2_adjusted(&self) -> f64 {
        1.0 - self.residual.ms() / self.total.ms()
    }
    /// The same for readings left out.
    #[must_use]
    pub fn r2_predicted(&self) -> Option<f64> {
        self.press.map(|p| 1.0 - p / self.total.ss)
    }
    /// Value of a mixture with its bands.
    #[must_use]
    pub fn at(&self, x: &[f64]) -> Prediction {
        let row: Vec<f64> = self.terms.iter().map(|t| t.at(x)).collect();
        self.fit.predict(&row, 1.0)
    }
}
