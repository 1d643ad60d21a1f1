//! What is proposed: the solved percentages on their steps, and what became of every demand.

use super::{Aim, LimitState, LineChange, Prepared, Proposal, Reached, Solved};
use crate::chemistry::acidity::WIDEST_TO_SHOW;
use crate::evaluation::Evaluation;
use crate::finding::{self, Level};
use crate::formula::{Line, Variant};
use crate::material::MaterialId;
use crate::quantity::Percent;
use crate::solve::collide::programme;
use crate::solve::demand::{Demand, DemandOrigin, FigureStyle};
use crate::solve::fixed_point::{FixedPoint, value_of};
use crate::solve::limits;
use crate::solve::reach;
use crate::solve::snap::Snap;
use crate::solve::target::{Target, TargetQuantity};

/// Unknown composition up to this, in percent, is not worth a note: our choice.
const UNKNOWN_WORTH_SAYING: f64 = 0.005;

/// Percentages and what evaluating them gives.
struct State {
    x: Vec<f64>,
    evaluation: Evaluation,
}

impl Prepared<'_> {
    /// Snaps and states what became of everything. A demand that was relaxed gives way to
    /// the steps too, so that the others need not.
    pub(super) fn proposal(&self, aim: &Aim, solved: &Solved) -> Proposal {
        let binding = solved.binding();
        let percents = self.on_steps(aim, solved, &binding);
        let before = State {
            x: self.subject.present(),
            evaluation: self.subject.evaluate_present(),
        };
        let after = State {
            x: percents.iter().map(|p| p.as_percent()).collect(),
            evaluation: self.subject.evaluate_at(&percents),
        };
        let mut variant = self.without_absent(self.subject.variant_at(&percents));
        variant.target_ph = self.subject.aimed_ph();
        Proposal {
            lines: self.line_changes(&percents),
            objective: solved.objective,
            targets: (aim.targets.iter())
                .map(|target| self.reached(target, &before, &after))
                .collect(),
            gave_way: binding
                .iter()
                .filter(|d| !matches!(d.origin, DemandOrigin::Target(_) | DemandOrigin::Dose(_)))
                .filter_map(|d| breach_of(d, &after.x).map(|by| (d.words.clone(), by)))
                .collect(),
            limits: self.limit_states(aim, &after.x),
            arisen: finding::arisen(&before.evaluation.findings, &after.evaluation.findings)
                .filter(|f| f.level != Level::Note)
                .cloned()
                .collect(),
            notes: self.notes(aim, solved, &percents, &after),
            variant,
            formula: self.subject.formula().clone(),
            evaluation: Box::new(after.evaluation),
        }
    }

    /// The solved percentages on the steps asked for, the dose of acid or base found anew.
    fn on_steps(&self, aim: &Aim, solved: &Solved, binding: &[&Demand]) -> Vec<Percent> {
        let n = self.subject.len();
        let room = programme(n, binding.iter().copied());
        let is_free = |i: usize| room.upper[i] - room.lower[i] > 1e-6;
        let balance = self.subject.balance_line(&solved.x, is_free);
        // A target gives way to the steps and says so; a bound never does.
        let target = |d: &&Demand| matches!(d.origin, DemandOrigin::Target(_));
        let bounds = programme(n, binding.iter().copied().filter(|d| !target(d)));
        let snap = Snap {
            exact: &solved.x,
            bounds: &bounds,
            demands: binding,
            balance,
            weight: &self.weights(),
            step: aim.step,
        };
        solved
            .fixed
            .dose_again(&self.subject, aim, balance, snap.percents())
    }

    /// What became of a target.
    fn reached(&self, target: &Target, before: &State, after: &State) -> Reached {
        let value = |s: &State| value_of(&self.subject, &target.quantity, &s.x, &s.evaluation);
        let figure = FigureStyle::of(&target.quantity);
        let range = reach::range_of(&self.subject, &target.quantity, &after.x, &after.evaluation)
            .filter(|(low, high)| figure.write(*low) != figure.write(*high));
        let holds = |v: f64| FixedPoint::shortfall_of(&self.subject, target, &after.x, v).is_none();
        Reached {
            words: target.words(),
            before: value(before),
            gave_way: FixedPoint::shortfall(&self.subject, target, &after.x, &after.evaluation),
            after: value(after),
            range,
            sure: range.is_none_or(|(low, high)| holds(low) && holds(high)),
            basis: reach::basis_of(&self.subject, target, &after.x, &after.evaluation),
            figure,
        }
    }

    /// What became of the limits found.
    fn limit_states(&self, aim: &Aim, x: &[f64]) -> Vec<LimitState> {
        self.limits
            .iter()
            .filter_map(|limit| match &limit.origin {
                DemandOrigin::Limit(key) => Some(LimitState {
                    key: key.clone(),
                    words: limit.words.clone(),
                    off: aim.without.contains(key),
                    exceeded: breach_of(limit, x).is_some(),
                }),
                _ => None,
            })
            .collect()
    }

    /// Every line before and after, candidates only where they come in.
    fn line_changes(&self, percents: &[Percent]) -> Vec<LineChange> {
        self.subject
            .unknowns()
            .iter()
            .zip(percents)
            .filter(|(u, after)| !(u.candidate && **after == Percent::ZERO))
            .map(|(u, after)| LineChange {
                line: u.line,
                name: u.name.to_string(),
                before: u.present,
                after: *after,
                added: u.candidate,
            })
            .collect()
    }

    /// What is to be said beside the figures.
    fn notes(
        &self,
        aim: &Aim,
        solved: &Solved,
        percents: &[Percent],
        after: &State,
    ) -> Vec<String> {
        let mut notes = Vec::new();
        if !solved.proved {
            notes.push(format!(
                "the demands are met, but it is not proved that this is the {}",
                aim.prefer.label()
            ));
        }
        if aim.stock_for.is_some() {
            let unknown = self.without_stock();
            if !unknown.is_empty() {
                notes.push(format!(
                    "what is in stock is not known of {}, so nothing limits it",
                    limits::join(&unknown)
                ));
            }
        }
        notes.extend(self.aimed_ph_note());
        let aims_at =
            |quantity: &TargetQuantity| aim.targets.iter().any(|t| t.quantity == *quantity);
        if aims_at(&TargetQuantity::Ph)
            && let Some(guess) = after.evaluation.estimates.ph.guess
        {
            notes.push(format!(
                "the pH is hardly known at all; {guess:.1}, what typical values give within a range of more than {WIDEST_TO_SHOW} units, was used: this is no more than a start, so measure before you dose"
            ));
        }
        let untold = self.subject.untold_oils();
        if aims_at(&TargetQuantity::Hlb) && !untold.is_empty() {
            notes.push(format!(
                "what HLB it needs is not known of {}, so the need of the oils leaves it out",
                limits::join(&untold)
            ));
        }
        notes.extend(self.learnt_notes(aim, percents, &after.x));
        let unknown = after.evaluation.composition.unknown.as_percent();
        if unknown > UNKNOWN_WORTH_SAYING {
            notes.push(format!(
                "the composition of {unknown:.2} % of the formula is not known and counts towards no constituent"
            ));
        }
        notes
    }

    /// That taking this over changes the pH aimed at, if it does.
    fn aimed_ph_note(&self) -> Option<String> {
        let stated = self.subject.variant().target_ph;
        let asked = (self.subject.aimed_ph()).filter(|asked| stated.is_none_or(|s| s != *asked))?;
        let was = stated.map_or_else(String::new, |was| format!(" instead of {was}"));
        Some(format!(
            "the pH aimed at becomes {asked}{was} when this is taken over"
        ))
    }

    /// What is to be said of targets that rest on trials: what no trial had, and where the
    /// next one teaches most.
    fn learnt_notes(&self, aim: &Aim, percents: &[Percent], x: &[f64]) -> Vec<String> {
        let mut notes = Vec::new();
        let name = |id: &MaterialId| {
            let named = self.subject.formula().material(id);
            named.map_or_else(|| id.to_string(), |m| m.name.to_string())
        };
        for target in &aim.targets {
            let TargetQuantity::Learnt(reading) = target.quantity else {
                continue;
            };
            let Ok(learnt) = self.subject.learnt(reading) else {
                continue;
            };
            let proposed = self.subject.variant_at(percents);
            let strange: Vec<String> = learnt.from.strange(&proposed).iter().map(name).collect();
            if !strange.is_empty() {
                notes.push(format!(
                    "no trial of the {} had as much or as little of {}, so what was learnt may not hold",
                    reading.label(),
                    limits::join(&strange)
                ));
            }
            let expected = learnt.at(&self.subject.place(learnt, x));
            let sure = target.relation.limits().is_none_or(|(low, high)| {
                low < high && expected.probability(low.max(0.0), high) > 0.95
            });
            if let Some((place, _)) = learnt.next_trial().filter(|_| !sure) {
                let parts: Vec<String> = learnt
                    .from
                    .varying
                    .iter()
                    .zip(&place)
                    .map(|(id, share)| {
                        format!("{} {}", FigureStyle::PERCENT.write(100.0 * share), name(id))
                    })
                    .collect();
                notes.push(format!(
                    "the next trial teaches most of the {} with {}",
                    reading.label(),
                    limits::join(&parts)
                ));
            }
        }
        notes
    }

    /// The variant without lines at 0 %, except those that the maker had at 0.
    fn without_absent(&self, mut variant: Variant) -> Variant {
        let kept = |line: &Line| {
            line.percent != Percent::ZERO
                || self
                    .subject
                    .unknowns()
                    .iter()
                    .any(|u| u.line == line.id && !u.candidate && u.present == Percent::ZERO)
        };
        for phase in &mut variant.phases {
            if phase.lines.iter().any(|l| !kept(l)) {
                std::sync::Arc::make_mut(phase).lines.retain(kept);
            }
        }
        if let Some(filler) = variant.filler
            && variant.line(filler).is_none()
        {
            variant.filler = None;
        }
        variant
    }
}

impl Solved {
    /// The demands that bind the proposal: all but the one that was relaxed.
    fn binding(&self) -> Vec<&Demand> {
        let of_others = |(k, _): &(usize, &Demand)| Some(*k) != self.relaxed;
        let demands = self.demands.iter().enumerate().filter(of_others);
        demands.map(|(_, demand)| demand).collect()
    }
}

/// By how much percentages break a demand; none if they keep it.
fn breach_of(demand: &Demand, x: &[f64]) -> Option<f64> {
    let excess = demand.excess(x);
    (excess > demand.tolerance()).then_some(excess)
}
