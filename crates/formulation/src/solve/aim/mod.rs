//! Aim: from targets to percentages, or to the demands that collide.
//!
//! Outline: state every demand as limits on weighted sums; solve for the preferred
//! percentages; find what is not a sum (the dose of acid or base that the pH takes,
//! the HLB that the oils need, the density behind a price by volume, what the
//! preservatives need at the pH) for them and solve again until that no longer
//! changes; snap to steps; check every demand on the snapped percentages.

mod collision;
mod demands;
mod preference;
mod proposal;
#[cfg(test)]
mod tests;

use crate::evaluation::Context;
use crate::formula::{Formula, Variant};
use crate::progress::Progress;
use crate::quantity::Percent;

use super::demand::{Demand, DemandOrigin};
use super::fixed_point::FixedPoint;
use super::limits;
use super::subject::{AddableMaterial, Subject, Supply};
use crate::optimise::programme::Outcome;

pub use super::answer::{Answer, Clash, Collision, LimitState, LineChange, Proposal, Reached};
pub use super::question::{Aim, AimError, Preference};

/// Most rounds of solving and finding anew what is not a sum.
const ROUND_LIMIT: usize = 25;
/// Values of the HLB tried between the least and the greatest need of the oils.
const NEED_TRIALS: usize = 24;
/// How often the trials close in on the best value.
const NEED_ROUNDS: usize = 4;

/// A formula prepared for questions: its limits are found once, so that answers are
/// quick enough to follow a slider.
#[derive(Clone, Debug)]
pub struct Prepared<'a> {
    subject: Subject<'a>,
    limits: Vec<Demand>,
    progress: Option<&'a Progress>,
}

/// A solved question before it is snapped.
struct Solved {
    x: Vec<f64>,
    objective: f64,
    fixed: FixedPoint,
    demands: Vec<Demand>,
    /// Place of the demand that was relaxed.
    relaxed: Option<usize>,
    proved: bool,
}

/// Which demand is relaxed: the one of this number among those of an origin, so that it is
/// found again when the fixed point has changed the others.
struct Relaxed {
    origin: DemandOrigin,
    number: usize,
}

/// What a round of solving ends with.
enum Round {
    Solved(Solved),
    Colliding(Vec<Demand>),
}

impl<'a> Prepared<'a> {
    /// Prepares a variant with candidates for questions.
    pub fn new(
        formula: &Formula,
        variant: &Variant,
        context: &'a Context,
        supply: &'a Supply,
        candidates: &[AddableMaterial],
    ) -> Self {
        let subject = Subject::new(formula, variant, context, supply, candidates);
        let limits = limits::limits(&subject);
        Self {
            subject,
            limits,
            progress: None,
        }
    }

    /// Lets whoever waits stop the work.
    #[must_use]
    pub const fn watched(mut self, progress: &'a Progress) -> Self {
        self.progress = Some(progress);
        self
    }

    /// Whether nobody waits any more.
    fn is_stopped(&self) -> bool {
        self.progress.is_some_and(Progress::is_stopped)
    }

    /// The formula as the solver sees it.
    pub const fn subject(&self) -> &Subject<'a> {
        &self.subject
    }
    /// The limits found, as demands.
    pub fn limits(&self) -> &[Demand] {
        &self.limits
    }

    /// Answers a question.
    pub fn answer(&self, aim: &Aim) -> Result<Answer, AimError> {
        if self.subject.is_empty() {
            return Err(AimError::Empty);
        }
        if aim.step < Percent::STEP || aim.step > Percent::from_units(10 * Percent::UNITS) {
            return Err(AimError::BadStep(aim.step));
        }
        // What depends on the pH is judged at the pH asked for.
        let asked = aim.asked_ph(self.subject.variant()).map(|ph| Self {
            subject: self.subject.at_ph(ph),
            limits: self.limits.clone(),
            progress: self.progress,
        });
        asked.as_ref().unwrap_or(self).answer_as_asked(aim)
    }

    fn answer_as_asked(&self, aim: &Aim) -> Result<Answer, AimError> {
        match self.solve(aim, None)? {
            Round::Solved(solved) => Ok(Answer::Proposal(Box::new(self.proposal(aim, &solved)))),
            Round::Colliding(demands) => {
                let collision = self.collision(aim, &demands);
                if self.is_stopped() {
                    return Err(AimError::Stopped);
                }
                Ok(Answer::Collision(Box::new(collision)))
            }
        }
    }

    /// Solves, with the fixed point. One demand may be relaxed: it gives way as little as
    /// it must for the others to be kept.
    fn solve(&self, aim: &Aim, relaxed: Option<&Relaxed>) -> Result<Round, AimError> {
        let start = FixedPoint::start(&self.subject, aim)?;
        let others = start.elsewhere(&self.subject, aim);
        let first = self.solve_from(aim, relaxed, start);
        if others.is_empty() {
            return first;
        }
        // What was learnt bends: the best answer from any state that was read counts.
        let mut best = None;
        for start in others {
            if let Ok(Round::Solved(solved)) = self.solve_from(aim, relaxed, start) {
                let better = |b: &Solved| solved.objective < b.objective;
                if best.as_ref().is_none_or(better) {
                    best = Some(solved);
                }
            }
        }
        match (first, best) {
            (Ok(Round::Solved(first)), Some(best)) if best.objective < first.objective => {
                Ok(Round::Solved(best))
            }
            (Ok(Round::Colliding(_)) | Err(_), Some(best)) => Ok(Round::Solved(best)),
            (first, _) => first,
        }
    }

    /// Solves with the fixed point from a start.
    fn solve_from(
        &self,
        aim: &Aim,
        relaxed: Option<&Relaxed>,
        mut fixed: FixedPoint,
    ) -> Result<Round, AimError> {
        for round in 0..ROUND_LIMIT {
            if self.is_stopped() {
                return Err(AimError::Stopped);
            }
            let mut demands = self.demands(aim, &fixed)?;
            let relaxed = match relaxed {
                None => None,
                Some(relaxed) => match self.relax(&mut demands, relaxed) {
                    None => return Ok(Round::Colliding(demands)),
                    given => given,
                },
            };
            let (point, proved) = match self.optimum(aim, &demands)? {
                Outcome::Solved(point) => (point, true),
                Outcome::Feasible(point) => (point, false),
                Outcome::Infeasible if relaxed.is_some() => return Ok(Round::Colliding(demands)),
                Outcome::Infeasible => {
                    return match self.search_required_hlb(aim, &fixed)? {
                        Some(solved) => Ok(Round::Solved(solved)),
                        None => Ok(Round::Colliding(demands)),
                    };
                }
                other @ Outcome::Unbounded => {
                    return Err(AimError::Unsolved(other.label().to_owned()));
                }
                Outcome::Unsolved(words) => return Err(AimError::Unsolved(words)),
            };
            let next = fixed.after(&self.subject, aim, &point.x)?;
            if next.agrees_with(&fixed) {
                return Ok(Round::Solved(Solved {
                    x: point.x,
                    objective: point.objective,
                    fixed: next,
                    demands,
                    relaxed,
                    proved,
                }));
            }
            if round + 1 == ROUND_LIMIT
                && relaxed.is_none()
                && let Some(solved) = self.search_required_hlb(aim, &fixed)?
            {
                return Ok(Round::Solved(solved));
            }
            fixed = next;
        }
        Err(AimError::Unsolved(format!(
            "the dose of acid or base, the HLB that the oils need, or what trials taught did not settle in {ROUND_LIMIT} rounds"
        )))
    }

    /// Where the emulsifiers cannot meet the HLB that the oils need at present, the
    /// oils may change too: for a fixed HLB both are linear, so values of it are
    /// tried from the least to the greatest that any oil needs, then around the best.
    fn search_required_hlb(
        &self,
        aim: &Aim,
        fixed: &FixedPoint,
    ) -> Result<Option<Solved>, AimError> {
        let Some(need) = fixed.need else {
            return Ok(None);
        };
        let mut best: Option<(f64, f64, Solved)> = None;
        let (mut low, mut high) = need.span;
        for _ in 0..NEED_ROUNDS {
            let step = (high - low) / NEED_TRIALS as f64;
            for k in 0..=NEED_TRIALS {
                if self.is_stopped() {
                    return Err(AimError::Stopped);
                }
                let value = low + step * k as f64;
                let trial = fixed.with_need(value);
                let demands = self.demands(aim, &trial)?;
                let (Outcome::Solved(point) | Outcome::Feasible(point)) =
                    self.optimum(aim, &demands)?
                else {
                    continue;
                };
                if best
                    .as_ref()
                    .is_none_or(|(least, ..)| point.objective < *least)
                {
                    let solved = Solved {
                        x: point.x,
                        objective: point.objective,
                        fixed: trial,
                        demands,
                        relaxed: None,
                        proved: false,
                    };
                    best = Some((point.objective, value, solved));
                }
                if step <= 0.0 {
                    break;
                }
            }
            let Some((_, centre, _)) = &best else {
                return Ok(None);
            };
            (low, high) = (
                (centre - step).max(need.span.0),
                (centre + step).min(need.span.1),
            );
        }
        let Some((.., mut solved)) = best else {
            return Ok(None);
        };
        // The rest of what is not a sum follows once; a dose that moves the oils
        // is seen in the figures of the proposal.
        let dosed = solved.fixed.after(&self.subject, aim, &solved.x)?;
        if !dosed.agrees_with(&solved.fixed) {
            let trial = dosed.with_need(solved.fixed.need.map_or(0.0, |n| n.value));
            let demands = self.demands(aim, &trial)?;
            if let Outcome::Solved(point) | Outcome::Feasible(point) =
                self.optimum(aim, &demands)?
            {
                solved = Solved {
                    x: point.x,
                    objective: point.objective,
                    fixed: trial,
                    demands,
                    relaxed: None,
                    proved: false,
                };
            }
        }
        Ok(Some(solved))
    }
}
