//! Whether a place lies between places that were tried: whether it is a weighted mean of them.

/// Most materials that a response is learnt of.
pub const MOST_VARYING: usize = 8;

/// A place within what was tried, each share from 0 to 1.
type Shares = [f64; MOST_VARYING];
/// Places that span a corner of the hull, one more than there are shares.
const CORNERS: usize = MOST_VARYING + 1;
/// How far outside still counts as between, as a part of what was tried: shares are whole
/// millionths of a percent, so a mean of some is off by as much.
const SLACK: f64 = 1e-5;
/// Steps of the search: each comes nearer, and far fewer are taken.
const STEPS: usize = 200;

/// The hull of some places, prepared so that a slider can ask at every move.
#[derive(Clone, PartialEq, Debug)]
pub struct Hull {
    low: Vec<f64>,
    span: Vec<f64>,
    tried: Vec<Shares>,
}

fn dot(a: &Shares, b: &Shares) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

impl Hull {
    /// Of places of the same number of shares, at most [`MOST_VARYING`].
    #[must_use]
    pub fn of(tried: &[Vec<f64>]) -> Self {
        let shares = tried.first().map_or(0, Vec::len).min(MOST_VARYING);
        let ends = |j: usize| {
            let values = tried.iter().filter_map(move |x| x.get(j));
            values.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], v| {
                [low.min(*v), high.max(*v)]
            })
        };
        let low: Vec<f64> = (0..shares).map(|j| ends(j)[0]).collect();
        let span: Vec<f64> = (0..shares)
            .map(|j| {
                let [low, high] = ends(j);
                if high > low { high - low } else { 1.0 }
            })
            .collect();
        let mut out = Self {
            low,
            span,
            tried: Vec::new(),
        };
        out.tried = tried.iter().map(|x| out.scaled(x)).collect();
        out
    }

    fn scaled(&self, x: &[f64]) -> Shares {
        let mut out = Shares::default();
        let shares = x.iter().zip(self.low.iter().zip(&self.span));
        for (out, (v, (low, span))) in out.iter_mut().zip(shares) {
            *out = (v - low) / span;
        }
        out
    }

    /// Whether a place is a weighted mean of those tried, to rounding.
    ///
    /// The point of the hull that is nearest to the place is found by going from corner to
    /// corner (Wolfe 1976); the search ends as soon as a plane parts the place from all that
    /// was tried, or the nearest point is the place itself.
    #[must_use]
    pub fn contains(&self, x: &[f64]) -> bool {
        let here = self.scaled(x);
        // What lies outside of the least and greatest share of anything needs no search.
        let beyond = |v: &f64| *v < -SLACK || *v > 1.0 + SLACK;
        if self.tried.is_empty() || here.iter().any(beyond) {
            return false;
        }
        let from_here = |i: usize| -> Shares {
            let mut out = self.tried.get(i).copied().unwrap_or_default();
            for (v, h) in out.iter_mut().zip(&here) {
                *v -= h;
            }
            out
        };
        // The tried place that lies farthest towards the one looked at, seen from the nearest.
        let ahead = |nearest: &Shares| -> Option<(usize, f64)> {
            let shift = dot(nearest, &here);
            let heights = self.tried.iter().map(|t| dot(nearest, t) - shift);
            heights.enumerate().min_by(|a, b| a.1.total_cmp(&b.1))
        };
        let mut corners = Corners::default();
        let mut nearest = from_here(0);
        corners.add(0, nearest);
        for _ in 0..STEPS {
            let distance = dot(&nearest, &nearest).sqrt();
            if distance <= SLACK {
                return true;
            }
            let Some((next, height)) = ahead(&nearest) else {
                return false;
            };
            // All that was tried lies beyond a plane, or nothing lies nearer.
            let parted = height > SLACK * distance;
            if parted || height >= distance * (distance - SLACK * SLACK) || corners.has(next) {
                return false;
            }
            corners.add(next, from_here(next));
            let Some(moved) = corners.nearest() else {
                return false;
            };
            nearest = moved;
        }
        false
    }
}

/// The corners among which the nearest point is a mean, with the weight of each.
#[derive(Default)]
struct Corners {
    count: usize,
    number: [usize; CORNERS],
    place: [Shares; CORNERS],
    weight: [f64; CORNERS],
}

impl Corners {
    fn has(&self, number: usize) -> bool {
        self.number.iter().take(self.count).any(|n| *n == number)
    }

    fn add(&mut self, number: usize, place: Shares) {
        let Some(at) = (self.count < CORNERS).then_some(self.count) else {
            return;
        };
        self.number[at] = number;
        self.place[at] = place;
        self.weight[at] = if at == 0 { 1.0 } else { 0.0 };
        self.count += 1;
    }

    fn remove(&mut self, at: usize) {
        self.count -= 1;
        self.number.swap(at, self.count);
        self.place.swap(at, self.count);
        self.weight.swap(at, self.count);
    }

    /// The point of the corners that is nearest to the origin; corners that it does not need
    /// go. None if they lie in a flat of too few dimensions to rounding.
    fn nearest(&mut self) -> Option<Shares> {
        while self.count > 0 {
            let wanted = self.on_their_flat()?;
            let n = self.count;
            if wanted.iter().take(n).all(|w| *w > 0.0) {
                self.weight = wanted;
                break;
            }
            // As far towards it as no weight falls below zero.
            let (mut share, mut leaves) = (f64::INFINITY, 0);
            for (i, (now, then)) in self.weight.iter().zip(&wanted).take(n).enumerate() {
                if *then <= 0.0 {
                    let up_to = if *now > 0.0 { now / (now - then) } else { 0.0 };
                    if up_to < share {
                        (share, leaves) = (up_to, i);
                    }
                }
            }
            for (now, then) in self.weight.iter_mut().zip(&wanted).take(n) {
                *now += share * (then - *now);
            }
            self.remove(leaves);
        }
        let mut out = Shares::default();
        for (place, weight) in self.place.iter().zip(&self.weight).take(self.count) {
            for (o, v) in out.iter_mut().zip(place) {
                *o += weight * v;
            }
        }
        Some(out)
    }

    /// Weights, of either sign, of the point nearest to the origin on the flat through the
    /// corners: u/Σu with (G + 1) u = 1 for the products G of the corners.
    fn on_their_flat(&self) -> Option<[f64; CORNERS]> {
        let n = self.count;
        let mut factor = [[0.0; CORNERS]; CORNERS];
        for i in 0..n {
            for j in 0..=i {
                let mut sum = 1.0 + dot(&self.place[i], &self.place[j]);
                for (a, b) in factor[i].iter().zip(&factor[j]).take(j) {
                    sum -= a * b;
                }
                if i == j {
                    if sum <= 1e-14 {
                        return None;
                    }
                    factor[i][i] = sum.sqrt();
                } else {
                    factor[i][j] = sum / factor[j][j];
                }
            }
        }
        let mut u = [0.0; CORNERS];
        for i in 0..n {
            let below: f64 = factor[i].iter().zip(&u).take(i).map(|(f, u)| f * u).sum();
            u[i] = (1.0 - below) / factor[i][i];
        }
        for i in (0..n).rev() {
            let above: f64 = (i + 1..n).map(|k| factor[k][i] * u[k]).sum();
            u[i] = (u[i] - above) / factor[i][i];
        }
        let whole: f64 = u.iter().take(n).sum();
        for u in u.iter_mut().take(n) {
            *u /= whole;
        }
        Some(u)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::optimise::linear;
    use crate::optimise::programme::{LinearDemand, Outcome, Programme};
    use crate::trial::design::random::RandomStream;

    /// The same question to the linear programming of the solver.
    fn by_programme(tried: &[Vec<f64>], x: &[f64], slack: f64) -> bool {
        let n = tried.len();
        let mut rows = vec![LinearDemand::equal((0..n).map(|i| (i, 1.0)).collect(), 1.0)];
        for (j, v) in x.iter().enumerate() {
            rows.push(LinearDemand {
                terms: (0..n).map(|i| (i, tried[i][j])).collect(),
                low: v - slack,
                high: v + slack,
            });
        }
        let programme = Programme {
            lower: vec![0.0; n],
            upper: vec![1.0; n],
            rows,
        };
        matches!(
            linear::minimise(&programme, &vec![0.0; n]),
            Outcome::Solved(_)
        )
    }

    #[test]
    fn it_agrees_with_linear_programming() {
        let mut dice = RandomStream::new(7);
        let (mut inside, mut outside) = (0, 0);
        for shares in 1..=MOST_VARYING {
            for count in [2, shares + 1, 3 * shares, 40] {
                let mut point = || -> Vec<f64> {
                    let part = |_| dice.below(1_000_001) as f64 / 1e6;
                    (0..shares).map(part).collect()
                };
                let tried: Vec<Vec<f64>> = (0..count).map(|_| point()).collect();
                let hull = Hull::of(&tried);
                for number in 0..8 {
                    // Every other place is drawn towards the middle, so that some lie inside.
                    let mut x = point();
                    if number % 2 == 0 {
                        for (j, v) in x.iter_mut().enumerate() {
                            let middle = tried.iter().map(|t| t[j]).sum::<f64>() / count as f64;
                            *v = middle + 0.2 * (*v - middle);
                        }
                    }
                    // Places on the very edge are left to rounding.
                    let (surely, maybe) = (
                        by_programme(&tried, &x, 1e-9),
                        by_programme(&tried, &x, 1e-4),
                    );
                    if surely == maybe {
                        assert_eq!(hull.contains(&x), surely, "{shares} {tried:?} {x:?}");
                        *(if surely { &mut inside } else { &mut outside }) += 1;
                    }
                }
                for x in &tried {
                    assert!(hull.contains(x), "{shares} {tried:?} {x:?}");
                }
            }
        }
        assert!(inside > 30 && outside > 30, "{inside} {outside}");
    }

    #[test]
    fn a_flat_of_fewer_dimensions_is_a_hull_too() {
        // Two shares that were only tried in step.
        let tried: Vec<Vec<f64>> = (0..4)
            .map(|i| vec![0.01 * f64::from(i), 0.02 * f64::from(i)])
            .collect();
        let hull = Hull::of(&tried);
        assert!(hull.contains(&[0.015, 0.03]));
        assert!(!hull.contains(&[0.015, 0.02]));
        assert!(!hull.contains(&[0.031, 0.062]));
        assert!(!Hull::of(&[]).contains(&[0.1]));
    }
}
