//! What is preferred among the formulas that meet every demand, stated as programmes.

use super::{Aim, AimError, Preference, Prepared};
use crate::optimise::linear;
use crate::optimise::programme::{LinearDemand, Outcome, Programme, SolvedPoint};
use crate::optimise::quadratic;
use crate::solve::collide::programme;
use crate::solve::demand::Demand;
use crate::solve::target::{CostBasis, TargetQuantity};

/// Most branches in the choice of the fewest materials.
const CHOICE_LIMIT: u64 = 3000;
/// Part of a percent that softens the weight of very small lines.
const SOFTENING: f64 = 0.1;
/// What a change of the filler counts beside that of another line: it takes what the others
/// leave, and no line moves just to spare it.
const OF_FILLER: f64 = 1e-4;

impl Prepared<'_> {
    /// Weight of a change of each line: against its size, softened; next to none of the filler.
    pub(super) fn weights(&self) -> Vec<f64> {
        let filler = self.subject.filler();
        let present = self.subject.present();
        let weights = present.iter().enumerate().map(|(i, x)| {
            let weight = (x + SOFTENING).powi(-2);
            if Some(i) == filler {
                weight * OF_FILLER
            } else {
                weight
            }
        });
        weights.collect()
    }

    /// The preferred percentages under the demands.
    pub(super) fn optimum(&self, aim: &Aim, demands: &[Demand]) -> Result<Outcome, AimError> {
        let n = self.subject.len();
        let mut programme = programme(n, demands);
        let sum_of = |quantity: &TargetQuantity| {
            self.subject
                .form(quantity, None)
                .map(|form| form.top)
                .map_err(|why| AimError::Preference {
                    prefer: aim.prefer,
                    why,
                })
        };
        let basis = CostBasis::Kilogram;
        Ok(match aim.prefer {
            Preference::Change => self.nearest(&programme),
            Preference::Cost => {
                let price = sum_of(&TargetQuantity::Cost(basis))?;
                self.least_of(&mut programme, price)
            }
            Preference::Natural => {
                let mut origin = sum_of(&TargetQuantity::NaturalOrigin)?;
                for weight in &mut origin {
                    *weight = -*weight;
                }
                self.least_of(&mut programme, origin)
            }
            Preference::Fewest => self.fewest(&mut programme),
        })
    }

    /// The least change; where the interior-point method finds no end, counted by whole
    /// distances.
    fn nearest(&self, programme: &Programme) -> Outcome {
        let (present, weights) = (self.subject.present(), self.weights());
        let found = quadratic::nearest(programme, &present, &weights, &[]);
        if !matches!(found, Outcome::Unsolved(_)) {
            return found;
        }
        match self.least_of(&mut programme.clone(), Vec::new()) {
            Outcome::Solved(SolvedPoint { x, .. }) => {
                let change = x.iter().zip(&present).zip(&weights);
                let objective = change.map(|((x, at), w)| w * (x - at).powi(2)).sum();
                Outcome::Feasible(SolvedPoint { x, objective })
            }
            other => other,
        }
    }

    /// The least of a sum; among equals the least change, counted by whole
    /// distances so that the programme stays linear.
    fn least_of(&self, programme: &mut Programme, cost: Vec<f64>) -> Outcome {
        let best = match linear::minimise(programme, &cost) {
            Outcome::Solved(point) => point,
            other => return other,
        };
        let n = self.subject.len();
        let terms: Vec<(usize, f64)> = cost.iter().copied().enumerate().collect();
        let slack = best.objective.abs().max(1.0) * 1e-9;
        programme
            .rows
            .push(LinearDemand::at_most(terms, best.objective + slack));
        let mut distance = vec![0.0; n];
        for (i, (start, weight)) in self
            .subject
            .present()
            .into_iter()
            .zip(self.weights())
            .enumerate()
        {
            let over = programme.unknown(0.0, 100.0);
            let under = programme.unknown(0.0, 100.0);
            distance.extend([weight.sqrt(), weight.sqrt()]);
            programme.rows.push(LinearDemand::equal(
                vec![(i, 1.0), (over, -1.0), (under, 1.0)],
                start,
            ));
        }
        match linear::minimise(programme, &distance) {
            Outcome::Solved(mut point) => {
                point.x.truncate(n);
                Outcome::Solved(SolvedPoint {
                    x: point.x,
                    objective: best.objective,
                })
            }
            // The best itself is an answer, if not the closest one.
            _ => Outcome::Solved(best),
        }
    }

    /// The fewest materials, then the least change with those. Lines that must be
    /// there anyway and the filler do not count.
    fn fewest(&self, programme: &mut Programme) -> Outcome {
        let n = self.subject.len();
        let unknowns = self.subject.unknowns();
        let filler = self.subject.filler();
        let mut choice = programme.clone();
        let mut cost = vec![0.0; n];
        let mut chosen: Vec<(usize, Vec<usize>)> = Vec::new();
        for (i, unknown) in unknowns.iter().enumerate() {
            let free = programme.lower[i] <= 0.0 && programme.upper[i] > 0.0;
            if !free || filler == Some(i) {
                continue;
            }
            let material = unknown.material.as_ref().map(|m| &m.id);
            let same = chosen.iter_mut().find(|(_, lines)| {
                lines
                    .first()
                    .and_then(|&j| unknowns[j].material.as_ref())
                    .map(|m| &m.id)
                    == material
            });
            let flag = if let Some((flag, lines)) = same {
                lines.push(i);
                *flag
            } else {
                let flag = choice.unknown(0.0, 1.0);
                // Among equally many, those that are there already.
                cost.push(if unknown.candidate { 1.01 } else { 1.0 });
                chosen.push((flag, vec![i]));
                flag
            };
            let most = programme.upper[i].min(100.0);
            choice
                .rows
                .push(LinearDemand::at_most(vec![(i, 1.0), (flag, -most)], 0.0));
        }
        let whole: Vec<usize> = chosen.iter().map(|(flag, _)| *flag).collect();
        let (point, proved) = match linear::minimise_within(&choice, &cost, &whole, CHOICE_LIMIT) {
            Outcome::Solved(point) => (point, true),
            Outcome::Feasible(point) => (point, false),
            other => return other,
        };
        for (flag, lines) in &chosen {
            if point.x[*flag] < 0.5 {
                for &i in lines {
                    programme.upper[i] = 0.0;
                }
            }
        }
        match self.nearest(programme) {
            Outcome::Solved(point) if !proved => Outcome::Feasible(point),
            other => other,
        }
    }
}
