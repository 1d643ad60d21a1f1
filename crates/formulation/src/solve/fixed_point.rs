//! What is not a sum over the lines, found after each solution and put into the next:
//! the dose of acid or base that the pH takes, the HLB that the oils need, the density
//! behind a price by volume, and what each preservative needs at the pH.

use crate::chemistry::preservation::is_preservative_acid;
use crate::evaluation::Evaluation;
use crate::formula::ItemId;
use crate::material::{Material, Role};
use crate::quantity::{PH_UNTOLD, Percent, in_kg_per_m3};

use super::demand::{Demand, DemandOrigin, FigureStyle};
pub use super::question::FixedPointError;
use super::question::{Aim, AimError};
use super::subject::{FormError, LinearRatio, Subject};
use super::target::{CostBasis, Relation, Target, TargetQuantity};
use crate::trial::learn::Learnt;
use crate::trial::reading::Quantity as Reading;

/// Difference of HLB that no longer counts as a change.
const HLB_SETTLED: f64 = 1e-6;
/// Difference of a dose or a need in percent that no longer counts as a change.
const DOSE_SETTLED: f64 = 5e-4;
/// Relative difference of density that no longer counts as a change.
const DENSITY_SETTLED: f64 = 1e-6;
/// Difference of a share at which a straight line was laid that no longer counts as a change:
/// a hundredth of a percent, the step of a percentage.
const PLACE_SETTLED: f64 = 1e-4;
/// Part of the error of prediction within which an equality counts as met.
const WITHIN_ERROR: f64 = 0.1;
/// Part of the range tried by which Aim may go beyond it.
const BEYOND_TRIED: f64 = 0.1;
/// Most of an acid or base that is tried, % w/w.
const MOST_DOSE: f64 = 10.0;
/// Most states read about which straight lines are laid.
const MOST_STARTS: usize = 8;
/// Halvings of the range in which a dose is sought.
const HALVINGS: usize = 24;
/// Step of a dose of acid or base: fine enough to weigh.
const DOSE_STEP: Percent = Percent::from_units(10_000);
/// Step of a dose where the pH depends on less than that, as it does without a buffer.
const FINE_DOSE_STEP: Percent = Percent::from_units(1_000);

/// The HLB that the oils need.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct HlbNeeded {
    /// The value that the solution assumes.
    pub value: f64,
    /// Least and greatest need of any oil.
    pub span: (f64, f64),
    /// Whether the oils too must come out at the value.
    pub fixed: bool,
}

/// The line that carries the pH.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Dose {
    /// The unknown.
    pub unknown: usize,
    /// Its percentage.
    pub percent: f64,
}

/// What the next solution assumes.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct FixedPoint {
    /// HLB that the oils need, if a target asks for it.
    pub need: Option<HlbNeeded>,
    /// Density in g/ml, if a target asks for the price of a volume.
    pub density: Option<f64>,
    /// Dose of acid or base, if a target asks for a pH that is not there anyway.
    pub dose: Option<Dose>,
    /// Percentage that each preservative needs at the pH, if a target asks for it.
    pub preservatives: Vec<(usize, f64)>,
    /// What was learnt, as straight lines about a place, for the targets that ask for it.
    pub tangents: Vec<Tangent>,
}

/// A learnt response as a straight line about a place.
#[derive(Clone, PartialEq, Debug)]
pub struct Tangent {
    /// Of what.
    pub reading: Reading,
    /// The place: shares of what varied in the trials, as parts of one.
    pub place: Vec<f64>,
    /// Mean there, in the scale in which it was learnt.
    pub mean: f64,
    /// Slopes for each share.
    pub slopes: Vec<f64>,
}

impl Tangent {
    fn at(learnt: &Learnt, place: Vec<f64>) -> Self {
        let (mean, slopes) = learnt.tangent(&place);
        Self {
            reading: learnt.from.quantity,
            place,
            mean,
            slopes,
        }
    }

    /// The line as a sum over the lines of the formula: what does not depend on them is
    /// spread over all, which together are 100 %.
    fn form(&self, subject: &Subject<'_>, learnt: &Learnt) -> LinearRatio {
        let shift: f64 = self
            .slopes
            .iter()
            .zip(&self.place)
            .map(|(s, p)| s * p)
            .sum();
        let rest = (self.mean - shift) / 100.0;
        let weights = subject.unknowns().iter().map(|unknown| {
            let varying = learnt
                .from
                .varying
                .iter()
                .position(|id| unknown.material.as_ref().is_some_and(|m| m.id == *id));
            let slope = varying.and_then(|j| self.slopes.get(j));
            rest + slope.map_or(0.0, |s| s / 100.0)
        });
        LinearRatio::sum(weights.collect())
    }
}

/// Density in g/ml: the estimate, else what was measured before the change, which moves
/// it little.
fn density_of(subject: &Subject<'_>, evaluation: &Evaluation) -> Option<f64> {
    let estimated = evaluation.estimates.density.value;
    let measured = || subject.variant().measured.density.map(in_kg_per_m3);
    estimated.or_else(measured).map(|density| density / 1000.0)
}

/// The value of a quantity at percentages, given what follows from them; `None` if it is
/// not known or divides by nothing.
pub fn value_of(
    subject: &Subject<'_>,
    quantity: &TargetQuantity,
    x: &[f64],
    evaluation: &Evaluation,
) -> Option<f64> {
    match quantity {
        TargetQuantity::Ph => subject.ph_of(evaluation),
        TargetQuantity::Preservation => needs(subject, x, evaluation)
            .ok()?
            .into_iter()
            .map(|(i, need)| x.get(i).copied().unwrap_or(0.0) / need)
            .min_by(f64::total_cmp),
        TargetQuantity::Learnt(reading) => Some(subject.expected(*reading, x)?.value),
        quantity => subject
            .form(quantity, density_of(subject, evaluation))
            .ok()?
            .value(x),
    }
}

/// The percentage of each preservative line that its acids or its lowest dose need at the
/// pH of the mix.
///
/// A preservative acid works undissociated; it needs the least undissociated percentage
/// of [`crate::chemistry::preservation::PreservativeAcid`], so its line needs that divided by what one
/// percent of the line gives at this pH. Any preservative needs its lowest dose.
fn needs(
    subject: &Subject<'_>,
    x: &[f64],
    evaluation: &Evaluation,
) -> Result<Vec<(usize, f64)>, FixedPointError> {
    let mut needs = Vec::new();
    for (i, unknown) in subject.unknowns().iter().enumerate() {
        let Some(material) = &unknown.material else {
            continue;
        };
        let percent = x.get(i).copied().unwrap_or(0.0);
        let preserves = material.preservation.is_some() || material.has_role(Role::Preservative);
        if !preserves || (unknown.candidate && percent <= 0.0) {
            continue;
        }
        let mut need = material
            .preservation
            .as_ref()
            .map(|p| p.dose_low.as_percent());
        let acids = evaluation.estimates.preservation.acids.iter();
        for acid in acids.filter(|a| a.lines.contains(&unknown.line)) {
            if acid.effective_percent > 0.0 && percent > 0.0 {
                let by_acid = percent * acid.acid.least_percent / acid.effective_percent;
                need = Some(need.map_or(by_acid, |n| n.max(by_acid)));
            }
        }
        let acid_at_unknown_ph = acids_at_unknown_ph(material, evaluation);
        match need {
            _ if acid_at_unknown_ph => {
                return Err(FixedPointError::Preservation(format!(
                    "how much of {} works is not known, because the pH is not; state the pH aimed at or measure it",
                    unknown.name
                )));
            }
            Some(need) if need > 0.0 => needs.push((i, need)),
            _ => {
                return Err(FixedPointError::Preservation(format!(
                    "neither the lowest dose of {} nor an acid in it is known",
                    unknown.name
                )));
            }
        }
    }
    if needs.is_empty() {
        return Err(FixedPointError::Preservation(
            "the formula has no preservative; add one as a line or as a candidate".into(),
        ));
    }
    Ok(needs)
}

/// Whether a material preserves by an acid of which nothing can be said for want of a pH.
fn acids_at_unknown_ph(material: &Material, evaluation: &Evaluation) -> bool {
    let by_acid = material
        .constituents
        .iter()
        .any(|c| is_preservative_acid(c.inci.spelling()));
    by_acid && evaluation.estimates.preservation.acids.is_empty()
}

/// The dose of a free acid or base line that brings the pH of the present percentages to
/// a value; the filler gives way. Lines in `but` are not used.
pub(super) fn dose_to(
    subject: &Subject<'_>,
    wanted: f64,
    but: &[ItemId],
) -> Result<(ItemId, Percent), FixedPointError> {
    let fixed = FixedPoint::default();
    let mut percents = percents_of(&subject.present());
    let balance = subject.balance_line(&subject.present(), |i| !subject.unknowns()[i].held);
    let limits = (wanted, wanted);
    match fixed.dose_for(subject, &mut percents, balance, limits, but)? {
        Some(dose) => {
            let step = DOSE_STEP.units();
            let units = (dose.percent * Percent::UNITS as f64 / step as f64).round() as i64;
            Ok((
                subject.unknowns()[dose.unknown].line,
                Percent::from_units(units * step),
            ))
        }
        None => Err(FixedPointError::NoPh),
    }
}

impl FixedPoint {
    /// What the present formula assumes.
    pub fn start(subject: &Subject<'_>, aim: &Aim) -> Result<Self, AimError> {
        let mut fixed = Self::default();
        let present = subject.present();
        for target in &aim.targets {
            let fail = |why| AimError::Target {
                target: target.to_string(),
                why,
            };
            if target.relation == Relation::Need && fixed.need.is_none() {
                let need = subject.required_hlb().map_err(fail)?;
                let bottom = need.bottom.as_deref().unwrap_or_default();
                let (low, high) = need
                    .top
                    .iter()
                    .zip(bottom)
                    .filter(|(_, b)| **b > 0.0)
                    .fold((f64::INFINITY, 0.0_f64), |(low, high), (need, _)| {
                        (low.min(*need), high.max(*need))
                    });
                fixed.need = Some(HlbNeeded {
                    value: need.value(&present).unwrap_or(f64::midpoint(low, high)),
                    span: (low, high),
                    fixed: false,
                });
            }
        }
        fixed.lay_tangents(subject, aim, &present)?;
        let percents = fixed.at_the_ph_asked_for(subject, aim, &present);
        fixed.reckon(subject, aim, &percents)?;
        Ok(fixed)
    }

    /// Percentages at which what preserves is judged: dosed to the pH asked for as far as it can
    /// be reached, for at another one a preservative may seem to need far more.
    fn at_the_ph_asked_for(&self, subject: &Subject<'_>, aim: &Aim, x: &[f64]) -> Vec<Percent> {
        let percents = percents_of(x);
        let of = |quantity| aim.targets.iter().find(|t| t.quantity == quantity);
        let limits = of(TargetQuantity::Ph).and_then(|t| t.relation.limits());
        let (Some(limits), Some(_)) = (limits, of(TargetQuantity::Preservation)) else {
            return percents;
        };
        let balance = subject.balance_line(x, |i| !subject.unknowns()[i].held);
        let mut dosed = percents.clone();
        match self.dose_for(subject, &mut dosed, balance, limits, &[]) {
            Ok(_) => dosed,
            Err(_) => percents,
        }
    }

    /// Lays the straight lines of what was learnt about percentages.
    fn lay_tangents(
        &mut self,
        subject: &Subject<'_>,
        aim: &Aim,
        x: &[f64],
    ) -> Result<(), AimError> {
        self.tangents.clear();
        for target in &aim.targets {
            let TargetQuantity::Learnt(reading) = target.quantity else {
                continue;
            };
            let learnt = subject.learnt(reading).map_err(|why| AimError::Target {
                target: target.to_string(),
                why,
            })?;
            let place = subject.place(learnt, x);
            self.tangents.push(Tangent::at(learnt, place));
        }
        Ok(())
    }

    /// The same with the straight lines laid about states that were read, those first that
    /// meet the first of the targets best. A response bends, so a line laid about the present
    /// formula may miss what lies beyond the bend.
    pub fn elsewhere(&self, subject: &Subject<'_>, aim: &Aim) -> Vec<Self> {
        let first = aim.targets.iter().find_map(|t| match t.quantity {
            TargetQuantity::Learnt(reading) => Some((reading, t.relation.limits()?)),
            _ => None,
        });
        let Some((reading, (low, high))) = first else {
            return Vec::new();
        };
        let Ok(learnt) = subject.learnt(reading) else {
            return Vec::new();
        };
        let (low, high) = (learnt.scaled(low), learnt.scaled(high));
        let mut states: Vec<(f64, &Vec<f64>)> = learnt
            .from
            .x
            .iter()
            .map(|x| {
                let mean = learnt.tangent(x).0;
                ((low - mean).max(mean - high).max(0.0), x)
            })
            .collect();
        states.sort_by(|a, b| a.0.total_cmp(&b.0));
        states.dedup_by(|a, b| a.1 == b.1);
        states
            .into_iter()
            .take(MOST_STARTS)
            .map(|(_, state)| {
                let mut other = self.clone();
                for tangent in &mut other.tangents {
                    let Ok(of) = subject.learnt(tangent.reading) else {
                        continue;
                    };
                    let place = of.from.varying.iter().zip(&tangent.place);
                    let place = place
                        .map(|(id, here)| {
                            let known = learnt.from.varying.iter().position(|v| v == id);
                            known.and_then(|j| state.get(j)).copied().unwrap_or(*here)
                        })
                        .collect();
                    *tangent = Tangent::at(of, place);
                }
                other
            })
            .collect()
    }

    /// What a learnt target asks for: the response on its straight line, and every material
    /// that varied within what was tried of it.
    fn learnt_demands(
        &self,
        subject: &Subject<'_>,
        target: &Target,
        reading: Reading,
        (low, high): (f64, f64),
        demand: impl Fn(LinearRatio, f64, f64) -> Demand,
    ) -> Result<Vec<Demand>, FormError> {
        let learnt = subject.learnt(reading)?;
        let Some(tangent) = self.tangents.iter().find(|t| t.reading == reading) else {
            return Ok(Vec::new());
        };
        let within = if low == high {
            WITHIN_ERROR * learnt.loo_sd
        } else {
            0.0
        };
        let scaled = |v: f64, by: f64| {
            if v.is_finite() {
                learnt.scaled(v) + by
            } else {
                v
            }
        };
        let mut demands = vec![Demand {
            figure: FigureStyle {
                measure: target.quantity.measure(),
                logarithmic: reading.is_logarithmic(),
            },
            ..demand(
                tangent.form(subject, learnt),
                scaled(low, -within),
                scaled(high, within),
            )
        }];
        for (j, id) in learnt.from.varying.iter().enumerate() {
            let is_it = |m: &Material| m.id == *id;
            let weights: Vec<f64> = subject
                .unknowns()
                .iter()
                .map(|u| f64::from(u8::from(u.material.as_deref().is_some_and(is_it))))
                .collect();
            let named = subject
                .unknowns()
                .iter()
                .find(|u| u.material.as_deref().is_some_and(is_it));
            let name = named.map_or_else(|| id.to_string(), |u| u.name.to_string());
            let [least, most] = learnt.from.tried(j).map(|share| 100.0 * share);
            let beyond = BEYOND_TRIED * (most - least);
            let figure = FigureStyle::PERCENT;
            demands.push(Demand {
                origin: DemandOrigin::Tried(id.clone()),
                words: format!(
                    "{name} near what was tried, {} to {}",
                    figure.write(least),
                    figure.write(most)
                ),
                name,
                form: LinearRatio::sum(weights),
                low: (least - beyond).max(0.0),
                high: (most + beyond).min(100.0),
                figure,
            });
        }
        Ok(demands)
    }

    /// With another value of the need, at which the oils too must come out.
    pub fn with_need(&self, value: f64) -> Self {
        let mut other = self.clone();
        if let Some(need) = &mut other.need {
            need.value = value;
            need.fixed = true;
        }
        other
    }

    /// What a solution makes of it.
    pub fn after(&self, subject: &Subject<'_>, aim: &Aim, x: &[f64]) -> Result<Self, AimError> {
        let mut next = self.clone();
        if let Some(need) = &mut next.need
            && !need.fixed
            && let Ok(form) = subject.required_hlb()
            && let Some(value) = form.value(x)
        {
            need.value = value;
        }
        let mut percents = percents_of(x);
        for target in &aim.targets {
            if target.quantity != TargetQuantity::Ph {
                continue;
            }
            let Some(limits) = target.relation.limits() else {
                continue;
            };
            let balance = subject.balance_line(x, |i| !subject.unknowns()[i].held);
            let dose = next
                .dose_for(subject, &mut percents, balance, limits, &[])
                .map_err(|why| AimError::FixedPoint {
                    target: target.to_string(),
                    why,
                })?;
            next.dose = dose.or(next.dose);
        }
        next.lay_tangents(subject, aim, x)?;
        next.reckon(subject, aim, &percents)?;
        Ok(next)
    }

    /// Whether nothing has changed that would change the solution.
    pub fn agrees_with(&self, other: &Self) -> bool {
        let need = match (self.need, other.need) {
            (Some(a), Some(b)) => (a.value - b.value).abs() < HLB_SETTLED,
            (a, b) => a == b,
        };
        let density = match (self.density, other.density) {
            (Some(a), Some(b)) => (a - b).abs() < DENSITY_SETTLED * b,
            (a, b) => a == b,
        };
        let dose = match (self.dose, other.dose) {
            (Some(a), Some(b)) => {
                a.unknown == b.unknown && (a.percent - b.percent).abs() < DOSE_SETTLED
            }
            (a, b) => a == b,
        };
        let preservatives = self.preservatives.len() == other.preservatives.len()
            && self
                .preservatives
                .iter()
                .zip(&other.preservatives)
                .all(|(a, b)| a.0 == b.0 && (a.1 - b.1).abs() < DOSE_SETTLED);
        let tangents = self.tangents.len() == other.tangents.len()
            && self.tangents.iter().zip(&other.tangents).all(|(a, b)| {
                let places = a.place.iter().zip(&b.place);
                places
                    .map(|(a, b)| (a - b).abs())
                    .all(|by| by < PLACE_SETTLED)
            });
        need && density && dose && preservatives && tangents
    }

    /// Density and needs of preservatives at percentages.
    fn reckon(
        &mut self,
        subject: &Subject<'_>,
        aim: &Aim,
        percents: &[Percent],
    ) -> Result<(), AimError> {
        let by_volume = aim.targets.iter().any(|t| asks_volume(&t.quantity));
        let preservation = aim
            .targets
            .iter()
            .find(|t| t.quantity == TargetQuantity::Preservation);
        if !by_volume && preservation.is_none() {
            return Ok(());
        }
        let evaluation = subject.evaluate_at(percents);
        let x: Vec<f64> = percents.iter().map(|p| p.as_percent()).collect();
        if by_volume {
            self.density = density_of(subject, &evaluation);
        }
        if let Some(target) = preservation {
            self.preservatives =
                needs(subject, &x, &evaluation).map_err(|why| AimError::FixedPoint {
                    target: target.to_string(),
                    why,
                })?;
        }
        Ok(())
    }

    /// A target as demands.
    pub fn target_demands(
        &self,
        subject: &Subject<'_>,
        k: usize,
        target: &Target,
    ) -> Result<Vec<Demand>, FormError> {
        let demand = |form: LinearRatio, low: f64, high: f64| Demand {
            origin: DemandOrigin::Target(k),
            words: target.words(),
            name: target.quantity.words(),
            form,
            low,
            high,
            figure: FigureStyle::of(&target.quantity),
        };
        let unit = |i: usize| {
            let mut weights = vec![0.0; subject.len()];
            weights[i] = 1.0;
            LinearRatio::sum(weights)
        };
        match (&target.quantity, target.relation.limits()) {
            (TargetQuantity::Ph, _) => Ok(self
                .dose
                .map(|dose| {
                    let name = &subject.unknowns()[dose.unknown].name;
                    Demand {
                        origin: DemandOrigin::Dose(subject.unknowns()[dose.unknown].line),
                        words: format!(
                            "{} {name}, which {} takes",
                            FigureStyle::PERCENT.write(dose.percent),
                            target.words()
                        ),
                        name: name.to_string(),
                        form: unit(dose.unknown),
                        low: dose.percent,
                        high: dose.percent,
                        figure: FigureStyle::PERCENT,
                    }
                })
                .into_iter()
                .collect()),
            (TargetQuantity::Preservation, Some((low, high))) => Ok(self
                .preservatives
                .iter()
                .map(|&(i, need)| {
                    let name = &subject.unknowns()[i].name;
                    Demand {
                        words: format!(
                            "{}, that is {} {name} at this pH",
                            target.words(),
                            FigureStyle::PERCENT
                                .write(need * if low.is_finite() { low } else { high })
                        ),
                        name: name.to_string(),
                        figure: FigureStyle::PERCENT,
                        ..demand(unit(i), low * need, high * need)
                    }
                })
                .collect()),
            (TargetQuantity::Hlb, None) => {
                let Some(need) = self.need else {
                    return Ok(Vec::new());
                };
                let form = subject.form(&TargetQuantity::Hlb, None)?;
                let mut demands = vec![demand(form, need.value, need.value)];
                if need.fixed {
                    let form = subject.required_hlb()?;
                    demands.push(demand(form, need.value, need.value));
                }
                Ok(demands)
            }
            (TargetQuantity::Learnt(reading), Some(limits)) => {
                self.learnt_demands(subject, target, *reading, limits, demand)
            }
            (quantity, Some((low, high))) => {
                let form = subject.form(quantity, self.density)?;
                Ok(vec![demand(form, low, high)])
            }
            (_, None) => Ok(Vec::new()),
        }
    }

    /// By how much a target is missed beyond its tolerance; `None` if it holds or its
    /// value is not known.
    pub fn shortfall(
        subject: &Subject<'_>,
        target: &Target,
        x: &[f64],
        evaluation: &Evaluation,
    ) -> Option<f64> {
        let value = value_of(subject, &target.quantity, x, evaluation)?;
        Self::shortfall_of(subject, target, x, value)
    }

    /// By how much a value misses a target; `None` if it holds.
    pub fn shortfall_of(
        subject: &Subject<'_>,
        target: &Target,
        x: &[f64],
        value: f64,
    ) -> Option<f64> {
        let (low, high) = if let Some(limits) = target.relation.limits() {
            limits
        } else {
            let need = subject.required_hlb().ok()?.value(x)?;
            (need, need)
        };
        if let TargetQuantity::Learnt(reading) = target.quantity {
            let learnt = subject.learnt(reading).ok()?;
            let (at, low, high) = (
                learnt.scaled(value),
                learnt.scaled(low),
                learnt.scaled(high),
            );
            // The steps of the percentages move a response a little.
            let tolerance = WITHIN_ERROR * learnt.loo_sd;
            let excess = (low - at).max(at - high);
            return (excess > tolerance).then(|| (target_gap(value, target)).abs());
        }
        let tolerance = if target.quantity == TargetQuantity::Ph {
            PH_UNTOLD
        } else if low == high {
            0.5 * 0.1_f64.powi(target.quantity.digits() as i32)
        } else {
            1e-6
        };
        let excess = (low - value).max(value - high);
        (excess > tolerance).then_some(excess)
    }

    /// Finds the dose once more for snapped percentages, on a fine step.
    pub fn dose_again(
        &self,
        subject: &Subject<'_>,
        aim: &Aim,
        balance: usize,
        mut percents: Vec<Percent>,
    ) -> Vec<Percent> {
        let target = aim
            .targets
            .iter()
            .find(|t| t.quantity == TargetQuantity::Ph);
        if let Some(limits) = target.and_then(|t| t.relation.limits())
            && self.dose.is_some()
            && let Ok(Some(dose)) = self.dose_for(subject, &mut percents, balance, limits, &[])
        {
            for step in [DOSE_STEP, FINE_DOSE_STEP] {
                let step = step.min(aim.step).units().max(1);
                let steps = (dose.percent * Percent::UNITS as f64 / step as f64).round() as i64;
                let percent = Percent::from_units(steps * step);
                set(&mut percents, dose.unknown, balance, percent);
                let ph = subject.ph_of(&subject.evaluate_at(&percents));
                let (low, high) = (limits.0 - PH_UNTOLD, limits.1 + PH_UNTOLD);
                if ph.is_some_and(|ph| (low..=high).contains(&ph)) {
                    break;
                }
            }
        }
        percents
    }

    /// The dose that brings the pH between limits and sets it in `percents`; `None` if
    /// the pH lies there without one.
    fn dose_for(
        &self,
        subject: &Subject<'_>,
        percents: &mut [Percent],
        balance: usize,
        (low, high): (f64, f64),
        but: &[ItemId],
    ) -> Result<Option<Dose>, FixedPointError> {
        let ph = |percents: &[Percent]| {
            let there = subject.evaluate_at(percents);
            subject.ph_of(&there).ok_or(FixedPointError::NoPh)
        };
        let present = ph(percents)?;
        if (low - 1e-9..=high + 1e-9).contains(&present) {
            return Ok(self.dose.map(|d| Dose {
                percent: percents[d.unknown].as_percent(),
                ..d
            }));
        }
        let too_high = present > high;
        let goal = if too_high { high } else { low };
        let unknown = match self.dose {
            Some(dose) => dose.unknown,
            None => adjuster(subject, percents, balance, too_high, but).ok_or(
                FixedPointError::NoAdjuster {
                    ph: present,
                    too_high,
                },
            )?,
        };
        let line = &subject.unknowns()[unknown];
        let room = percents[unknown] + percents[balance];
        let least = line.min.unwrap_or(Percent::ZERO);
        let most = line
            .max
            .unwrap_or_else(|| Percent::nearest(MOST_DOSE).unwrap_or(Percent::HUNDRED))
            .min(room);
        let at = |dose: Percent, percents: &mut [Percent]| {
            set(percents, unknown, balance, dose);
            ph(percents)
        };
        let (at_least, at_most) = (at(least, percents)?, at(most, percents)?);
        let falls = at_most < at_least;
        let between = goal >= at_least.min(at_most) && goal <= at_least.max(at_most);
        if !between {
            let (dose, reached) = if (at_least - goal).abs() < (at_most - goal).abs() {
                (least, at_least)
            } else {
                (most, at_most)
            };
            // Near enough that no meter tells the two apart.
            if (reached - goal).abs() <= PH_UNTOLD {
                set(percents, unknown, balance, dose);
                return Ok(Some(Dose {
                    unknown,
                    percent: dose.as_percent(),
                }));
            }
            return Err(FixedPointError::OutOfReach {
                name: line.name.to_string(),
                low: least.to_string(),
                high: most.to_string(),
                reached,
            });
        }
        let (mut a, mut b) = (least, most);
        for _ in 0..HALVINGS {
            let middle = Percent::from_units(i64::midpoint(a.units(), b.units()));
            if (at(middle, percents)? > goal) == falls {
                a = middle;
            } else {
                b = middle;
            }
            if b - a <= Percent::STEP {
                break;
            }
        }
        set(percents, unknown, balance, b);
        Ok(Some(Dose {
            unknown,
            percent: b.as_percent(),
        }))
    }
}

/// How far a value lies outside of what a target allows, in its own unit.
fn target_gap(value: f64, target: &Target) -> f64 {
    let limits = target.relation.limits();
    limits.map_or(0.0, |(low, high)| (low - value).max(value - high))
}

/// Sets one percentage; the balance takes the difference.
fn set(percents: &mut [Percent], i: usize, balance: usize, value: Percent) {
    let difference = value - percents[i];
    percents[i] = value;
    if balance != i {
        percents[balance] -= difference;
    }
}

/// The free line that can move the pH the right way: an acid to lower it, a base to
/// raise it, or else less of the other.
fn adjuster(
    subject: &Subject<'_>,
    percents: &[Percent],
    balance: usize,
    too_high: bool,
    but: &[ItemId],
) -> Option<usize> {
    let (more, less) = if too_high {
        (Role::Acid, Role::Base)
    } else {
        (Role::Base, Role::Acid)
    };
    let free = |role: Role| {
        subject
            .unknowns()
            .iter()
            .enumerate()
            .filter(move |(i, u)| {
                let has = u.material.as_ref().is_some_and(|m| m.has_role(role));
                *i != balance && !u.held && has && !but.contains(&u.line)
            })
            .map(|(i, _)| i)
    };
    // One that is there already before a candidate.
    free(more)
        .max_by_key(|&i| (!subject.unknowns()[i].candidate, percents[i]))
        .or_else(|| {
            free(less)
                .max_by_key(|&i| percents[i])
                .filter(|&i| percents[i] > Percent::ZERO)
        })
}

fn percents_of(x: &[f64]) -> Vec<Percent> {
    x.iter()
        .map(|v| Percent::nearest(*v).unwrap_or_default())
        .collect()
}

fn asks_volume(quantity: &TargetQuantity) -> bool {
    match quantity {
        TargetQuantity::Cost(CostBasis::Millilitres(_)) => true,
        TargetQuantity::Ratio(top, bottom) => asks_volume(top) || asks_volume(bottom),
        _ => false,
    }
}
