//! D-optimal sets: the runs from a list of candidates with the greatest determinant of X'X,
//! by Fedorov's exchange (1972) from many starts.

use nalgebra::{DMatrix, DVector};

use super::super::fit::scheffe::{Order, Term, design, terms};
use super::random::RandomStream;

/// A chosen set.
#[derive(Clone, PartialEq, Debug)]
pub struct Optimal {
    /// How often each candidate is run.
    pub counts: Vec<usize>,
    /// ln det X'X in the shares themselves.
    pub log_det: f64,
    /// ln det X'X in pseudocomponents.
    pub log_det_pseudo: f64,
    /// Greatest x'(X'X)⁻¹x over the candidates.
    pub max_leverage: f64,
    /// Mean of x'(X'X)⁻¹x over the whole simplex, in the shares themselves.
    pub mean_variance_simplex: Option<f64>,
    /// Number of parameters.
    pub parameters: usize,
}

impl Optimal {
    /// det^(1/p)/n.
    #[must_use]
    pub fn d_per_run(&self) -> f64 {
        let n: usize = self.counts.iter().sum();
        (self.log_det / self.parameters as f64).exp() / n as f64
    }
}

/// Least share of each component over the candidates.
#[must_use]
pub fn pseudo_lower(candidates: &[Vec<f64>]) -> Vec<f64> {
    let q = candidates.first().map_or(0, Vec::len);
    (0..q)
        .map(|j| {
            candidates
                .iter()
                .map(|c| c[j])
                .fold(f64::INFINITY, f64::min)
        })
        .collect()
}

/// The best set of `runs` found; none if the candidates or the runs cannot bear the model.
#[must_use]
pub fn d_optimal(
    candidates: &[Vec<f64>],
    order: Order,
    runs: usize,
    starts: usize,
    seed: u64,
) -> Option<Optimal> {
    let q = candidates.first()?.len();
    if candidates.iter().any(|c| c.len() != q) {
        return None;
    }
    let terms = terms(q, order);
    let p = terms.len();
    if runs < p {
        return None;
    }
    let low = pseudo_lower(candidates);
    let room = 1.0 - low.iter().sum::<f64>();
    if room.is_nan() || room <= 0.0 {
        return None;
    }
    // In pseudocomponents the search meets the same designs, well scaled.
    let pseudo: Vec<Vec<f64>> = candidates
        .iter()
        .map(|c| c.iter().zip(&low).map(|(v, l)| (v - l) / room).collect())
        .collect();
    let x = design(&pseudo, &terms);
    let mut draw = RandomStream::new(seed);
    let mut best: Option<(f64, Vec<usize>)> = None;
    for _ in 0..starts.max(1) {
        let mut chosen: Vec<usize> = (0..runs).map(|_| draw.below(x.nrows())).collect();
        exchange(&x, &mut chosen);
        let Some(log_det) = log_det(&x, &chosen) else {
            continue;
        };
        if best.as_ref().is_none_or(|b| log_det > b.0 + 1e-9) {
            best = Some((log_det, chosen));
        }
    }
    let (log_det_pseudo, chosen) = best?;
    let mut counts = vec![0; candidates.len()];
    for i in &chosen {
        counts[*i] += 1;
    }
    let inverse = information(&x, &chosen).cholesky()?.inverse();
    let max_leverage = x
        .row_iter()
        .map(|r| (r * &inverse * r.transpose())[(0, 0)])
        .fold(0.0, f64::max);
    let raw = design(candidates, &terms);
    let log_det = match invariance(q, order) {
        // The shares are a linear map of the pseudocomponents with determinant room^(q−1).
        Some(power) => log_det_pseudo + 2.0 * power * (q as f64 - 1.0) * room.ln(),
        None => log_det(&raw, &chosen)?,
    };
    let mean_variance_simplex = if low.iter().all(|l| *l == 0.0) {
        simplex_moments(q, &terms).and_then(|b| {
            let inverse = information(&raw, &chosen).cholesky()?.inverse();
            Some((inverse * b).trace())
        })
    } else {
        None
    };
    Some(Optimal {
        counts,
        log_det,
        log_det_pseudo,
        max_leverage,
        mean_variance_simplex,
        parameters: p,
    })
}

/// Exponent of the determinant of a linear map of the shares on the space of the model, where
/// the model spans all forms of its degree.
fn invariance(q: usize, order: Order) -> Option<f64> {
    let q = q as f64;
    match order {
        Order::Linear => Some(1.0),
        Order::Quadratic => Some(q + 1.0),
        Order::Cubic => Some((q + 1.0) * (q + 2.0) / 2.0),
        Order::SpecialCubic => None,
    }
}

fn information(x: &DMatrix<f64>, chosen: &[usize]) -> DMatrix<f64> {
    let rows = x.select_rows(chosen);
    rows.tr_mul(&rows)
}

/// ln det X'X through QR of the column-scaled rows.
fn log_det(x: &DMatrix<f64>, chosen: &[usize]) -> Option<f64> {
    let mut rows = x.select_rows(chosen);
    let mut sum = 0.0;
    for mut column in rows.column_iter_mut() {
        let norm = column.norm();
        if norm == 0.0 {
            return None;
        }
        column.unscale_mut(norm);
        sum += 2.0 * norm.ln();
    }
    for d in rows.qr().r().diagonal().iter() {
        if d.abs() < 1e-11 {
            return None;
        }
        sum += 2.0 * d.abs().ln();
    }
    Some(sum)
}

/// Exchanges the pair that gains most, until none gains.
fn exchange(x: &DMatrix<f64>, chosen: &mut [usize]) {
    let p = x.ncols();
    let n = x.nrows();
    // A ridge lets the first exchanges leave a singular start; it is far below the result.
    let ridge = DMatrix::identity(p, p) * 1e-9;
    for _ in 0..200 {
        let Some(factor) = (information(x, chosen) + &ridge).cholesky() else {
            return;
        };
        let half = factor
            .l_dirty()
            .solve_lower_triangular(&x.transpose())
            .unwrap_or_else(|| DMatrix::zeros(p, n));
        let own: Vec<f64> = half.column_iter().map(|c| c.norm_squared()).collect();
        let mut best = (1.0 + 1e-10, 0, 0);
        for (place, i) in chosen.iter().enumerate() {
            let leaving: DVector<f64> = half.column(*i).into_owned();
            for j in 0..n {
                let cross = leaving.dot(&half.column(j));
                let gain = (1.0 + own[j]) * (1.0 - own[*i]) + cross * cross;
                if gain > best.0 {
                    best = (gain, place, j);
                }
            }
        }
        if best.0 <= 1.0 + 1e-10 {
            return;
        }
        chosen[best.1] = best.2;
    }
}

/// Mean of f f' over the whole simplex; none for differences.
fn simplex_moments(q: usize, terms: &[Term]) -> Option<DMatrix<f64>> {
    let factorial = |n: usize| (1..=n).map(|i| i as f64).product::<f64>();
    let powers: Vec<Vec<usize>> = terms
        .iter()
        .map(|t| match t {
            Term::Product(of) => {
                let mut e = vec![0; q];
                for i in of {
                    *e.get_mut(*i)? += 1;
                }
                Some(e)
            }
            Term::Difference(..) => None,
        })
        .collect::<Option<_>>()?;
    let k = terms.len();
    Some(DMatrix::from_fn(k, k, |a, b| {
        let exponents = powers[a].iter().zip(&powers[b]).map(|(x, y)| x + y);
        let total: usize = exponents.clone().sum();
        exponents.map(factorial).product::<f64>() * factorial(q - 1) / factorial(q - 1 + total)
    }))
}
