//! From computed percentages to ones that can be weighed: every line on a step,
//! the total exactly 100, and every demand kept if the steps allow it.

use crate::quantity::Percent;

use super::demand::Demand;
use crate::optimise::linear;
use crate::optimise::programme::{LinearDemand, Programme};

/// Most branches among whole steps before the best found so far is taken.
const BRANCHES: u64 = 300;
/// Most rounds of moving single lines by one step.
const ROUNDS: usize = 200;
/// How much one unit of a broken demand counts against one step of a line: an exact (l1) penalty,
/// so large that a demand is broken only where the steps cannot hold it (Nocedal and Wright,
/// Numerical Optimization, 2nd edition 2006, 17.2; from memory).
const PENALTY: f64 = 1e4;

/// The lines to be snapped.
#[derive(Debug)]
pub struct Snap<'a> {
    /// Computed percentages.
    pub exact: &'a [f64],
    /// Bounds of each line; a line between equal bounds keeps its exact value.
    pub bounds: &'a Programme,
    /// The demands to keep.
    pub demands: &'a [&'a Demand],
    /// The line that takes up the rest to 100.
    pub balance: usize,
    /// Weight of moving each line away from its computed value.
    pub weight: &'a [f64],
    /// The step.
    pub step: Percent,
}

/// A trial of whole steps.
struct Trial {
    x: Vec<Percent>,
    /// Sum of broken demands, each in parts of its scale.
    broken: f64,
    /// Weighted distance from the computed values.
    distance: f64,
}

impl Trial {
    fn better_than(&self, other: &Self) -> bool {
        let less = other.broken - self.broken;
        less > 1e-12 || (less > -1e-12 && self.distance < other.distance - 1e-12)
    }
}

impl Snap<'_> {
    /// The percentages; they total exactly 100 whatever the demands.
    pub fn percents(&self) -> Vec<Percent> {
        let base = self.nearest();
        let mut best = self.improve(base);
        if best.broken > 0.0
            && let Some(other) = self.branch()
        {
            let other = self.improve(other);
            if other.better_than(&best) {
                best = other;
            }
        }
        best.x
    }

    fn low(&self, i: usize) -> Percent {
        // Upwards to the exact grid, so that the bound is kept.
        let low = self.bounds.lower.get(i).copied().unwrap_or(0.0);
        Percent::from_units((low * Percent::UNITS as f64 - 1e-3).ceil() as i64)
    }
    fn high(&self, i: usize) -> Percent {
        let high = self
            .bounds
            .upper
            .get(i)
            .copied()
            .unwrap_or(100.0)
            .min(100.0);
        Percent::from_units((high * Percent::UNITS as f64 + 1e-3).floor() as i64)
    }
    fn fixed(&self, i: usize) -> bool {
        self.low(i) >= self.high(i)
    }

    /// The whole steps nearest to the computed value within the bounds. Where no
    /// step lies within the bounds, the computed value to the exact grid.
    fn nearest_of(&self, i: usize) -> Percent {
        let exact = self.exact.get(i).copied().unwrap_or(0.0);
        let (low, high) = (self.low(i), self.high(i));
        let exact = Percent::nearest(exact).unwrap_or(low).clamp_to(low, high);
        if self.fixed(i) {
            return low;
        }
        let step = self.step.units().max(1);
        let whole = |units: i64| Percent::from_units(units * step);
        let down = exact.units().div_euclid(step);
        let (down, up) = (whole(down), whole(down + 1));
        let fits = |p: Percent| (low..=high).contains(&p);
        match (fits(down), fits(up)) {
            (true, true) if exact - down <= up - exact => down,
            (true, false) => down,
            (_, true) => up,
            (false, false) => exact,
        }
    }

    fn nearest(&self) -> Vec<Percent> {
        let mut x: Vec<Percent> = (0..self.exact.len()).map(|i| self.nearest_of(i)).collect();
        self.settle(&mut x);
        x
    }

    /// Gives the balance the rest to 100.
    fn settle(&self, x: &mut [Percent]) {
        let others: Percent = x
            .iter()
            .enumerate()
            .filter(|(i, _)| *i != self.balance)
            .map(|(_, p)| *p)
            .sum();
        if let Some(balance) = x.get_mut(self.balance) {
            *balance = Percent::HUNDRED - others;
        }
    }

    fn rate(&self, x: Vec<Percent>) -> Trial {
        let values: Vec<f64> = x.iter().map(|p| p.as_percent()).collect();
        let outside = x.get(self.balance).map_or(0.0, |p| {
            let (low, high) = (self.low(self.balance), self.high(self.balance));
            (low - *p).max(*p - high).max(Percent::ZERO).as_percent()
        });
        let broken = self
            .demands
            .iter()
            .map(|demand| {
                let excess = demand.excess(&values);
                if excess <= demand.tolerance() {
                    0.0
                } else {
                    excess / scale(demand)
                }
            })
            .sum::<f64>()
            + outside;
        let distance = values
            .iter()
            .zip(self.exact)
            .zip(self.weight)
            .map(|((x, exact), weight)| weight * (x - exact).powi(2))
            .sum();
        Trial {
            x,
            broken,
            distance,
        }
    }

    /// Moves lines by one step, or two lines against each other, as long as that
    /// mends a demand or comes closer to the computed values.
    fn improve(&self, start: Vec<Percent>) -> Trial {
        let mut best = self.rate(start);
        let movable: Vec<usize> = (0..self.exact.len())
            .filter(|i| *i != self.balance && !self.fixed(*i))
            .collect();
        for _ in 0..ROUNDS {
            let mut found = None;
            let consider = |moves: &[(usize, i64)], found: &mut Option<Trial>| {
                let mut x = best.x.clone();
                for &(i, steps) in moves {
                    let moved = x[i] + Percent::from_units(steps * self.step.units());
                    if moved < self.low(i) || moved > self.high(i) {
                        return;
                    }
                    x[i] = moved;
                }
                self.settle(&mut x);
                let trial = self.rate(x);
                if trial.better_than(found.as_ref().unwrap_or(&best)) {
                    *found = Some(trial);
                }
            };
            for &i in &movable {
                for up in [-1, 1] {
                    consider(&[(i, up)], &mut found);
                }
            }
            if found.is_none() && best.broken > 0.0 {
                for (k, &i) in movable.iter().enumerate() {
                    for &j in &movable[k + 1..] {
                        for (a, b) in [(1, -1), (-1, 1), (1, 1), (-1, -1)] {
                            consider(&[(i, a), (j, b)], &mut found);
                        }
                    }
                }
            }
            match found {
                Some(trial) => best = trial,
                None => break,
            }
        }
        best
    }

    /// Looks for whole steps by branch and bound: least broken demands first, then
    /// least distance.
    fn branch(&self) -> Option<Vec<Percent>> {
        let n = self.exact.len();
        let step = self.step.as_percent();
        let mut programme = Programme::new();
        let mut cost = Vec::new();
        let mut whole = Vec::new();
        let mut total = Vec::new();
        // Each free line is its lowest step considered plus 0 to 3 whole steps; the
        // others are constants. The balance is what is left.
        let mut base = vec![0.0; n];
        let mut place = vec![None; n];
        for i in 0..n {
            if i == self.balance {
                continue;
            }
            let nearest = self.nearest_of(i);
            base[i] = nearest.as_percent();
            if self.fixed(i) || nearest.units() % self.step.units().max(1) != 0 {
                continue;
            }
            let room =
                |limit: Percent| ((limit - nearest).units() / self.step.units().max(1)) as f64;
            let down = room(self.low(i)).max(-2.0);
            let up = room(self.high(i)).min(2.0);
            base[i] += down * step;
            let k = programme.unknown(0.0, (up - down).max(0.0));
            whole.push(k);
            cost.push(0.0);
            place[i] = Some(k);
            total.push((k, step));
            // Distance from the computed value, both ways.
            let (over, under) = (programme.unknown(0.0, 100.0), programme.unknown(0.0, 100.0));
            let weight = self.weight.get(i).copied().unwrap_or(1.0).sqrt();
            cost.extend([weight, weight]);
            programme.rows.push(LinearDemand::equal(
                vec![(k, step), (over, -1.0), (under, 1.0)],
                self.exact[i] - base[i],
            ));
        }
        let balance = programme.unknown(
            self.low(self.balance).as_percent(),
            self.high(self.balance).as_percent(),
        );
        cost.push(0.0);
        place[self.balance] = Some(balance);
        total.push((balance, 1.0));
        programme
            .rows
            .push(LinearDemand::equal(total, 100.0 - base.iter().sum::<f64>()));
        for demand in self.demands {
            for row in demand.rows() {
                let constant: f64 = row.terms.iter().map(|&(i, weight)| weight * base[i]).sum();
                let mut terms: Vec<(usize, f64)> = row
                    .terms
                    .iter()
                    .filter_map(|&(i, weight)| {
                        let per = if i == self.balance { 1.0 } else { step };
                        place[i].map(|k| (k, weight * per))
                    })
                    .collect();
                for (limit, sign) in [(row.low, 1.0), (row.high, -1.0)] {
                    if limit.is_finite() {
                        let slack = programme.unknown(0.0, f64::INFINITY);
                        cost.push(PENALTY / scale(demand));
                        terms.push((slack, sign));
                    }
                }
                programme.rows.push(LinearDemand {
                    terms,
                    low: row.low - constant,
                    high: row.high - constant,
                });
            }
        }
        let point = linear::minimise_within(&programme, &cost, &whole, BRANCHES).point()?;
        let mut x: Vec<Percent> = (0..n)
            .map(|i| match place[i] {
                Some(k) if i != self.balance => {
                    let steps = point.x[k].round() as i64;
                    let base = Percent::nearest(base[i]).unwrap_or_default();
                    base + Percent::from_units(steps * self.step.units())
                }
                _ => self.nearest_of(i),
            })
            .collect();
        self.settle(&mut x);
        Some(x)
    }
}

/// The size against which a broken demand is measured.
fn scale(demand: &Demand) -> f64 {
    [demand.low, demand.high]
        .into_iter()
        .filter(|v| v.is_finite())
        .map(f64::abs)
        .fold(0.1, f64::max)
}
