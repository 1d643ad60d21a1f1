//! Aim: from targets to percentages, or to the demands that collide.
//!
//! Outline: state every demand as limits on weighted sums; solve for the preferred
//! percentages; find what is not a sum (the dose of acid or base that the pH takes,
//! the HLB that the oils need, the density behind a price by volume, what the
//! preservatives need at the pH) for them and solve again until that no longer
//! changes; snap to steps; check every demand on the snapped percentages.

use crate::evaluation::{Context, Evaluation};
use crate::finding;
use crate::formula::{Formula, Variant};
use crate::quantity::{Mass, Percent, in_grams};

use super::collide::{self, programme};
use super::demand::{Demand, FigureStyle, Origin};
use super::fixed_point::{FixedPoint, value_of};
use super::limits;
use super::reach;
use super::snap::Snap;
use super::subject::{Candidate, Form, Subject, Supply};
use super::target::Quantity;
use crate::optimise::linear;
use crate::optimise::programme::{Outcome, Point, Programme, Row};
use crate::optimise::quadratic;

pub use super::answer::{Answer, Clash, Collision, LimitState, LineChange, Proposal, Reached};
pub use super::question::{Aim, AimError, Preference};

/// Most rounds of solving and finding anew what is not a sum.
const ROUND_LIMIT: usize = 25;
/// Most branches in the choice of the fewest materials.
const CHOICE_LIMIT: u64 = 3000;
/// Values of the HLB tried between the least and the greatest need of the oils.
const NEED_TRIALS: usize = 24;
/// How often the trials close in on the best value.
const NEED_ROUNDS: usize = 4;
/// Part of a percent that softens the weight of very small lines.
const SOFTENING: f64 = 0.1;

/// A formula prepared for questions: its limits are found once, so that answers are
/// quick enough to follow a slider.
#[derive(Clone, Debug)]
pub struct Prepared<'a> {
    subject: Subject<'a>,
    limits: Vec<Demand>,
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
    origin: Origin,
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
        candidates: &[Candidate],
    ) -> Self {
        let subject = Subject::new(formula, variant, context, supply, candidates);
        let limits = limits::limits(&subject);
        Self { subject, limits }
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
        });
        asked.as_ref().unwrap_or(self).answer_as_asked(aim)
    }

    fn answer_as_asked(&self, aim: &Aim) -> Result<Answer, AimError> {
        match self.solve(aim, None)? {
            Round::Solved(solved) => Ok(Answer::Proposal(Box::new(self.proposal(aim, &solved)))),
            Round::Colliding(demands) => {
                Ok(Answer::Collision(Box::new(self.collision(aim, &demands))))
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

    /// Every demand that is on.
    fn demands(&self, aim: &Aim, fixed: &FixedPoint) -> Result<Vec<Demand>, AimError> {
        let mut demands = Vec::new();
        for (k, target) in aim.targets.iter().enumerate() {
            let stated = fixed
                .target_demands(&self.subject, k, target)
                .map_err(|why| AimError::Target {
                    target: target.to_string(),
                    why,
                })?;
            demands.extend(stated);
        }
        let n = self.subject.len();
        for (i, unknown) in self.subject.unknowns().iter().enumerate() {
            let mut weights = vec![0.0; n];
            weights[i] = 1.0;
            let name = &unknown.name;
            let mut bound = |origin, words: String, low: f64, high: f64| {
                demands.push(Demand {
                    origin,
                    words,
                    name: name.to_string(),
                    form: Form::sum(weights.clone()),
                    low,
                    high,
                    figure: FigureStyle::PERCENT,
                });
            };
            if unknown.held {
                let at = unknown.present;
                let value = at.as_percent();
                let words = format!("{name} held at {at} %");
                bound(Origin::Held(unknown.line), words, value, value);
                continue;
            }
            if let Some(min) = unknown.min {
                let words = format!("at least {min} % {name} (your own bound)");
                let low = min.as_percent();
                bound(Origin::OwnLeast(unknown.line), words, low, f64::INFINITY);
            }
            if let Some(max) = unknown.max {
                let words = format!("at most {max} % {name} (your own bound)");
                let high = max.as_percent();
                bound(
                    Origin::OwnMost(unknown.line),
                    words,
                    f64::NEG_INFINITY,
                    high,
                );
            }
        }
        demands.extend(
            self.limits
                .iter()
                .filter(|limit| match &limit.origin {
                    Origin::Limit(key) => !aim.without.contains(key),
                    _ => true,
                })
                .cloned(),
        );
        if let Some(batch) = aim.stock_for {
            demands.extend(self.stock(batch));
        }
        Ok(demands)
    }

    /// Names of the materials whose stock is not known; water is always there.
    fn without_stock(&self) -> Vec<&str> {
        let mut names: Vec<&str> = Vec::new();
        for unknown in self.subject.unknowns() {
            let Some(material) = &unknown.material else {
                continue;
            };
            let known = crate::composition::is_water(material)
                || self.subject.supply().stock.contains_key(&material.id);
            if !known && !names.contains(&&*material.name) {
                names.push(&material.name);
            }
        }
        names
    }

    /// What the stock allows of each material in a batch.
    fn stock(&self, batch: Mass) -> Vec<Demand> {
        let unknowns = self.subject.unknowns();
        let grams = in_grams(batch);
        let mut demands: Vec<Demand> = Vec::new();
        for unknown in unknowns {
            let Some(material) = &unknown.material else {
                continue;
            };
            let origin = Origin::Stock(material.id.clone());
            let is_water = crate::composition::is_water(material);
            if is_water || demands.iter().any(|d| d.origin == origin) {
                continue;
            }
            let Some(stock) = self.subject.supply().stock.get(&material.id) else {
                continue;
            };
            let there = in_grams(*stock);
            let same = |u: &super::subject::Unknown| {
                u.material.as_ref().is_some_and(|m| m.id == material.id)
            };
            let name = &unknown.name;
            let high = 100.0 * there / grams;
            let words = format!(
                "at most {} {name} (stock of {} for a batch of {})",
                FigureStyle::PERCENT.write(high),
                mass_words(there),
                mass_words(grams)
            );
            demands.push(Demand {
                origin,
                words,
                name: name.to_string(),
                form: Form::sum(
                    unknowns
                        .iter()
                        .map(|u| f64::from(u8::from(same(u))))
                        .collect(),
                ),
                low: f64::NEG_INFINITY,
                high,
                figure: FigureStyle::PERCENT,
            });
        }
        demands
    }

    /// Weight of a change of each line: against its size, softened.
    fn weights(&self) -> Vec<f64> {
        self.subject
            .present()
            .iter()
            .map(|x| (x + SOFTENING).powi(-2))
            .collect()
    }

    /// The preferred percentages under the demands.
    fn optimum(&self, aim: &Aim, demands: &[Demand]) -> Result<Outcome, AimError> {
        let n = self.subject.len();
        let mut programme = programme(n, demands);
        let sum_of = |quantity: &Quantity| {
            self.subject
                .form(quantity, None)
                .map(|form| form.top)
                .map_err(|why| AimError::Preference {
                    prefer: aim.prefer,
                    why,
                })
        };
        let basis = super::target::Basis::Kilogram;
        Ok(match aim.prefer {
            Preference::Change => self.nearest(&programme),
            Preference::Cost => {
                let price = sum_of(&Quantity::Cost(basis))?;
                self.least_of(&mut programme, price)
            }
            Preference::Natural => {
                let mut origin = sum_of(&Quantity::NaturalOrigin)?;
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
            Outcome::Solved(Point { x, .. }) => {
                let change = x.iter().zip(&present).zip(&weights);
                let objective = change.map(|((x, at), w)| w * (x - at).powi(2)).sum();
                Outcome::Feasible(Point { x, objective })
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
            .push(Row::at_most(terms, best.objective + slack));
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
            programme.rows.push(Row::equal(
                vec![(i, 1.0), (over, -1.0), (under, 1.0)],
                start,
            ));
        }
        match linear::minimise(programme, &distance) {
            Outcome::Solved(mut point) => {
                point.x.truncate(n);
                Outcome::Solved(Point {
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
                .push(Row::at_most(vec![(i, 1.0), (flag, -most)], 0.0));
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

    /// Snaps and states what became of everything. A demand that was relaxed gives way to
    /// the steps too, so that the others need not.
    fn proposal(&self, aim: &Aim, solved: &Solved) -> Proposal {
        let n = self.subject.len();
        let of_others = |(k, _): &(usize, &Demand)| Some(*k) != solved.relaxed;
        let kept: Vec<&Demand> = solved
            .demands
            .iter()
            .enumerate()
            .filter(of_others)
            .map(|(_, demand)| demand)
            .collect();
        let room = programme(n, kept.iter().copied());
        let is_free = |i: usize| room.upper[i] - room.lower[i] > 1e-6;
        let balance = self.subject.balance_line(&solved.x, is_free);
        // A target gives way to the steps and says so; a bound never does.
        let target = |d: &&Demand| matches!(d.origin, Origin::Target(_));
        let bounds = programme(n, kept.iter().copied().filter(|d| !target(d)));
        let snap = Snap {
            exact: &solved.x,
            bounds: &bounds,
            demands: &kept,
            balance,
            weight: &self.weights(),
            step: aim.step,
        };
        let percents = solved
            .fixed
            .dose_again(&self.subject, aim, balance, snap.percents());
        let after: Vec<f64> = percents.iter().map(|p| p.as_percent()).collect();
        let before = self.subject.present();
        let evaluation = self.subject.evaluate_at(&percents);
        let now = self.subject.evaluate_present();
        let targets = aim
            .targets
            .iter()
            .map(|target| {
                let value =
                    |x: &[f64], e: &Evaluation| value_of(&self.subject, &target.quantity, x, e);
                let figure = figure_of(&target.quantity);
                let range = reach::range_of(&self.subject, &target.quantity, &after, &evaluation)
                    .filter(|(low, high)| figure.write(*low) != figure.write(*high));
                let holds =
                    |v: f64| FixedPoint::shortfall_of(&self.subject, target, &after, v).is_none();
                Reached {
                    words: target.words(),
                    before: value(&before, &now),
                    gave_way: FixedPoint::shortfall(&self.subject, target, &after, &evaluation),
                    after: value(&after, &evaluation),
                    range,
                    sure: range.is_none_or(|(low, high)| holds(low) && holds(high)),
                    basis: reach::basis_of(&self.subject, target, &after, &evaluation),
                    figure,
                }
            })
            .collect();
        let broken = |demand: &Demand| {
            let excess = demand.excess(&after);
            (excess > demand.tolerance()).then_some(excess)
        };
        let gave_way = kept
            .iter()
            .filter(|d| !matches!(d.origin, Origin::Target(_) | Origin::Dose(_)))
            .filter_map(|d| broken(d).map(|by| (d.words.clone(), by)))
            .collect();
        let limits = self
            .limits
            .iter()
            .filter_map(|limit| match &limit.origin {
                Origin::Limit(key) => Some(LimitState {
                    key: key.clone(),
                    words: limit.words.clone(),
                    off: aim.without.contains(key),
                    exceeded: broken(limit).is_some(),
                }),
                _ => None,
            })
            .collect();
        let lines = self
            .subject
            .unknowns()
            .iter()
            .zip(&percents)
            .filter(|(u, after)| !(u.candidate && **after == Percent::ZERO))
            .map(|(u, after)| LineChange {
                line: u.line,
                name: u.name.to_string(),
                before: u.present,
                after: *after,
                added: u.candidate,
            })
            .collect();
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
        let aimed = self.subject.variant().target_ph;
        if let Some(asked) = self
            .subject
            .aimed_ph()
            .filter(|asked| aimed.is_none_or(|a| a != *asked))
        {
            let was = aimed.map_or_else(String::new, |was| format!(" instead of {was}"));
            notes.push(format!(
                "the pH aimed at becomes {asked}{was} when this is taken over"
            ));
        }
        if aim.targets.iter().any(|t| t.quantity == Quantity::Ph)
            && let Some(guess) = evaluation.estimates.ph.guess
        {
            notes.push(format!(
                "the pH is hardly known at all; {guess:.1}, what typical values give within a range of more than four units, was used: this is no more than a start, so measure before you dose"
            ));
        }
        let untold = self.subject.untold_oils();
        if aim.targets.iter().any(|t| t.quantity == Quantity::Hlb) && !untold.is_empty() {
            notes.push(format!(
                "what HLB it needs is not known of {}, so the need of the oils leaves it out",
                limits::join(&untold)
            ));
        }
        notes.extend(self.learnt_notes(aim, &percents, &after));
        let unknown = evaluation.composition.unknown.as_percent();
        if unknown > 0.005 {
            notes.push(format!(
                "the composition of {unknown:.2} % of the formula is not known and counts towards no constituent"
            ));
        }
        Proposal {
            lines,
            objective: solved.objective,
            targets,
            gave_way,
            limits,
            arisen: finding::arisen(&now.findings, &evaluation.findings)
                .filter(|f| f.level != finding::Level::Note)
                .cloned()
                .collect(),
            notes,
            variant: {
                let mut variant = self.without_absent(self.subject.variant_at(&percents));
                variant.target_ph = self.subject.aimed_ph();
                variant
            },
            formula: self.subject.formula().clone(),
            evaluation: Box::new(evaluation),
        }
    }

    /// What is to be said of targets that rest on trials: what no trial had, and where the
    /// next one teaches most.
    fn learnt_notes(&self, aim: &Aim, percents: &[Percent], x: &[f64]) -> Vec<String> {
        let mut notes = Vec::new();
        let name = |id: &crate::material::MaterialId| {
            let named = self.subject.formula().material(id);
            named.map_or_else(|| id.to_string(), |m| m.name.to_string())
        };
        for target in &aim.targets {
            let Quantity::Learnt(reading) = target.quantity else {
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
        let kept = |line: &crate::formula::Line| {
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

    /// Names the smallest colliding set and how each member could give way.
    fn collision(&self, aim: &Aim, demands: &[Demand]) -> Collision {
        let n = self.subject.len();
        let Some(set) = collide::smallest(n, demands) else {
            return Collision {
                clashes: Vec::new(),
                smallest: false,
            };
        };
        let clashes = set
            .members
            .iter()
            .filter_map(|&i| demands.get(i).map(|d| (i, d)))
            .map(|(i, demand)| {
                let others: Vec<&Demand> = set
                    .members
                    .iter()
                    .filter(|&&j| j != i)
                    .filter_map(|&j| demands.get(j))
                    .collect();
                let reach = collide::reach(n, demand, others.iter().copied());
                Clash {
                    origin: demand.origin.clone(),
                    words: demand.words.clone(),
                    reach,
                    sentence: sentence(demand, &others, reach),
                    nearest: self.relaxed(aim, demands, i).map(Box::new),
                }
            })
            .collect();
        Collision {
            clashes,
            smallest: set.smallest,
        }
    }

    /// Eases a demand as little as it must for the others to be kept, and returns its
    /// place; `None` if the others collide without it.
    fn relax(&self, demands: &mut [Demand], relaxed: &Relaxed) -> Option<usize> {
        let of_origin = |(_, d): &(usize, &Demand)| d.origin == relaxed.origin;
        let (place, _) = demands
            .iter()
            .enumerate()
            .filter(of_origin)
            .nth(relaxed.number)?;
        let (before, rest) = demands.split_at_mut(place);
        let (demand, after) = rest.split_first_mut()?;
        let others = before.iter().chain(&*after);
        let Some(reach) = collide::reach(self.subject.len(), demand, others) else {
            // A ratio to nothing comes close to no figure; it is let go altogether.
            demand.form.bottom.take()?;
            (demand.low, demand.high) = (f64::NEG_INFINITY, f64::INFINITY);
            return Some(place);
        };
        // A hair of room, without which the interior-point method has none to move in.
        let room = 1e-6 * reach.abs().max(1.0);
        if reach < demand.low {
            demand.low = reach - room;
        } else {
            demand.high = reach + room;
        }
        demand.high = demand.high.max(demand.low + 2.0 * room);
        Some(place)
    }

    /// The nearest formula when one demand gives way as little as it must.
    fn relaxed(&self, aim: &Aim, demands: &[Demand], which: usize) -> Option<Proposal> {
        let origin = demands.get(which)?.origin.clone();
        let same = |d: &&Demand| d.origin == origin;
        let number = demands.iter().take(which).filter(same).count();
        let nearest = Aim {
            prefer: Preference::Change,
            ..aim.clone()
        };
        match self
            .solve(&nearest, Some(&Relaxed { origin, number }))
            .ok()?
        {
            Round::Solved(solved) => Some(self.proposal(&nearest, &solved)),
            Round::Colliding(_) => None,
        }
    }
}

/// “at least 14 % active matter does not go together with at most 20 % betaine and at
/// most 5 % glucoside: they can reach 11.3 %”.
fn sentence(demand: &Demand, others: &[&Demand], reach: Option<f64>) -> String {
    let words: Vec<&str> = others.iter().map(|d| d.words.as_str()).collect();
    let with = if words.is_empty() {
        "the total of 100 % and the lines of the formula".to_owned()
    } else {
        limits::join(&words)
    };
    match reach {
        Some(reach) => {
            let limit = if reach < demand.low {
                demand.low
            } else {
                demand.high
            };
            format!(
                "{} does not go together with {with}: {} can reach {}",
                demand.words,
                demand.name,
                demand.figure.write_apart(reach, limit)
            )
        }
        None => format!("{} does not go together with {with}", demand.words),
    }
}

/// Grams or kilograms, whichever reads better.
fn mass_words(grams: f64) -> String {
    let write = |value: f64, unit| FigureStyle::up_to(3, unit).write(value);
    if grams < 1000.0 {
        write(grams, "g")
    } else {
        write(grams / 1000.0, "kg")
    }
}

/// How the figures of a quantity are written.
pub(crate) const fn figure_of(quantity: &Quantity) -> FigureStyle {
    FigureStyle {
        measure: quantity.measure(),
        logarithmic: false,
    }
}

#[cfg(test)]
#[path = "aim_tests.rs"]
mod tests;
