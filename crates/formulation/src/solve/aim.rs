//! Aim: from targets to percentages, or to the demands that collide.
//!
//! Outline: state every demand as limits on weighted sums; solve for the preferred
//! percentages; find what is not a sum (the dose of acid or base that the pH takes,
//! the HLB that the oils need, the density behind a price by volume, what the
//! preservatives need at the pH) for them and solve again until that no longer
//! changes; snap to steps; check every demand on the snapped percentages.

use std::collections::BTreeSet;

use crate::edit::Edit;
use crate::evaluation::{Context, Evaluation};
use crate::finding::{self, Finding, Level};
use crate::formula::{Formula, ItemId, Variant};
use crate::quantity::{Mass, Percent, in_grams};

use super::collide::{self, programme};
use super::demand::{Demand, Figure, LimitKey, Origin};
use super::limits;
use super::linear;
use super::outer::{Outer, OuterError, value_of};
use super::programme::{Outcome, Point, Programme, Row};
use super::quadratic;
use super::snap::Snap;
use super::subject::{Candidate, Form, FormError, Subject, Supply};
use super::target::{Quantity, Target};

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

/// What to prefer among the percentages that meet every demand.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Preference {
    /// Least change from the present formula. A change counts in proportion to the
    /// line, so that small lines are not sacrificed to large ones.
    #[default]
    Change,
    /// Lowest cost; least change among equals.
    Cost,
    /// Highest natural origin index; least change among equals.
    Natural,
    /// Fewest materials; least change with those.
    Fewest,
}

impl Preference {
    /// All preferences.
    pub const ALL: [Self; 4] = [Self::Change, Self::Cost, Self::Natural, Self::Fewest];
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Change => "least change",
            Self::Cost => "lowest cost",
            Self::Natural => "highest natural origin",
            Self::Fewest => "fewest materials",
        }
    }
    /// The word of the command line.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Change => "change",
            Self::Cost => "cost",
            Self::Natural => "natural",
            Self::Fewest => "fewest",
        }
    }
    /// The preference of a word of the command line.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|p| p.word() == word)
    }
}

/// What is asked.
#[derive(Clone, PartialEq, Debug)]
pub struct Aim {
    /// What the formula must reach.
    pub targets: Vec<Target>,
    /// What to prefer.
    pub prefer: Preference,
    /// The step of the percentages, usually 0.1, 0.05 or 0.01 %.
    pub step: Percent,
    /// Limits that are switched off.
    pub without: BTreeSet<LimitKey>,
    /// The batch for which the stock at hand must suffice.
    pub stock_for: Option<Mass>,
}

impl Aim {
    /// Targets with the least change, on steps of 0.01 %, all limits on.
    pub const fn new(targets: Vec<Target>) -> Self {
        Self {
            targets,
            prefer: Preference::Change,
            step: Percent::from_units(10_000),
            without: BTreeSet::new(),
            stock_for: None,
        }
    }
}

/// Why no answer can be given.
#[derive(Clone, PartialEq, Debug, thiserror::Error)]
pub enum AimError {
    /// The formula has no line.
    #[error("the formula has no line; add raw materials before aiming")]
    Empty,
    /// The step is not between 0.000001 and 10 %.
    #[error("a step of {0} % is not between 0.000001 and 10 %")]
    BadStep(Percent),
    /// A target cannot be stated for this formula.
    #[error("target “{target}”: {why}")]
    Target {
        /// The target.
        target: String,
        /// Why not.
        why: FormError,
    },
    /// The preference cannot be stated for this formula.
    #[error("cannot prefer {}: {why}", prefer.label())]
    Preference {
        /// The preference.
        prefer: Preference,
        /// Why not.
        why: FormError,
    },
    /// What is not a sum cannot be found.
    #[error("target “{target}”: {why}")]
    Outer {
        /// The target.
        target: String,
        /// Why not.
        why: OuterError,
    },
    /// The solver stopped without an answer.
    #[error("no answer was found: {0}")]
    Unsolved(String),
}

impl AimError {
    /// Why a quantity cannot be stated, if that is what is wrong.
    pub const fn form(&self) -> Option<&FormError> {
        match self {
            Self::Target { why, .. } | Self::Preference { why, .. } => Some(why),
            _ => None,
        }
    }
}

/// The answer.
#[derive(Clone, Debug)]
pub enum Answer {
    /// Percentages that meet the demands.
    Proposal(Box<Proposal>),
    /// Demands that cannot be met together.
    Collision(Box<Collision>),
}

/// What became of one line.
#[derive(Clone, PartialEq, Debug)]
pub struct LineChange {
    /// The line; for an added material the id it would get.
    pub line: ItemId,
    /// Its name.
    pub name: String,
    /// Percentage before.
    pub before: Percent,
    /// Percentage proposed.
    pub after: Percent,
    /// Whether the material is not in the formula yet.
    pub added: bool,
}

/// What became of one target.
#[derive(Clone, PartialEq, Debug)]
pub struct Reached {
    /// The target in words.
    pub words: String,
    /// Its value in the present formula; `None` if it divides by nothing or is not known.
    pub before: Option<f64>,
    /// Its value in the proposal.
    pub after: Option<f64>,
    /// By how much it gave way to the steps; `None` if it holds.
    pub gave_way: Option<f64>,
    /// How its figures are written.
    pub figure: Figure,
}

/// A limit and whether it was kept.
#[derive(Clone, PartialEq, Debug)]
pub struct LimitState {
    /// Identity, to switch it on and off.
    pub key: LimitKey,
    /// In words.
    pub words: String,
    /// Switched off by the maker.
    pub off: bool,
    /// Whether the proposal is beyond it, which only a limit that is switched off
    /// or one that gave way to the steps allows.
    pub exceeded: bool,
}

/// Percentages that meet the demands.
#[derive(Clone, Debug)]
pub struct Proposal {
    /// The lines in working order.
    pub lines: Vec<LineChange>,
    /// What was made least before snapping: the weighted squares of the changes, the
    /// cost per kilogram, or the natural origin index with its sign turned.
    pub objective: f64,
    /// The targets in the order given.
    pub targets: Vec<Reached>,
    /// Other demands that gave way to the steps: words and by how much.
    pub gave_way: Vec<(String, f64)>,
    /// The limits.
    pub limits: Vec<LimitState>,
    /// Breaches and cautions that the present formula does not have.
    pub arisen: Vec<Finding>,
    /// What else is to be said, for example that a choice is not proved the best.
    pub notes: Vec<String>,
    /// The variant as proposed: lines at 0 % are taken out, added materials are in.
    pub variant: Variant,
    /// The formula with the materials of the proposal.
    pub formula: Formula,
    /// Everything that follows from the proposal.
    pub evaluation: Box<Evaluation>,
}

impl Proposal {
    /// The one edit that takes the proposal over.
    pub fn edit(&self) -> Edit {
        let materials = self
            .variant
            .lines()
            .filter_map(|(_, line)| self.formula.material(&line.material).cloned())
            .collect();
        Edit::ReplaceContent {
            variant: std::sync::Arc::new(self.variant.clone()),
            materials,
        }
    }
    /// Digits after the point that show every percentage in full, at least two.
    pub fn digits(&self) -> usize {
        let whole = |percent: Percent, digits: u32| percent.units() % 10_i64.pow(6 - digits) == 0;
        let shows = |digits: &u32| {
            let mut percents = self.lines.iter().flat_map(|l| [l.before, l.after]);
            percents.all(|p| whole(p, *digits))
        };
        (2..6).find(shows).unwrap_or(6) as usize
    }
    /// Whether every target and every other demand holds on the steps.
    pub fn all_hold(&self) -> bool {
        self.missed() == 0
    }
    /// How many targets and other demands do not hold.
    pub fn missed(&self) -> usize {
        let targets = self.targets.iter().filter(|t| t.gave_way.is_some());
        self.gave_way.len() + targets.count()
    }
}

/// One demand of a collision.
#[derive(Clone, Debug)]
pub struct Clash {
    /// Where it comes from.
    pub origin: Origin,
    /// The demand in words.
    pub words: String,
    /// The value its quantity can come closest to with the others of the set kept.
    pub reach: Option<f64>,
    /// The collision from its point of view, with the figures.
    pub sentence: String,
    /// The nearest formula when this demand gives way as little as it must and all
    /// others are kept; `None` if yet other demands collide.
    pub nearest: Option<Box<Proposal>>,
}

/// Demands that cannot be met together.
#[derive(Clone, Debug)]
pub struct Collision {
    /// The members of the set.
    pub clashes: Vec<Clash>,
    /// Whether no smaller set collides; otherwise only that no member is superfluous.
    pub smallest: bool,
}

impl Collision {
    /// The collision in one sentence: that of the first target among its members,
    /// or of the first member.
    pub fn sentence(&self) -> &str {
        self.clashes
            .iter()
            .find(|c| matches!(c.origin, Origin::Target(_)))
            .or_else(|| self.clashes.first())
            .map_or("", |c| &c.sentence)
    }
}

/// A formula prepared for questions: its limits are found once, so that answers are
/// quick enough to follow a slider.
#[derive(Debug)]
pub struct Prepared<'a> {
    subject: Subject<'a>,
    limits: Vec<Demand>,
}

/// A solved question before it is snapped.
struct Solved {
    x: Vec<f64>,
    objective: f64,
    outer: Outer,
    demands: Vec<Demand>,
    /// Place of the demand that was eased.
    eased: Option<usize>,
    proved: bool,
}

/// Which demand is eased: the one of this number among those of an origin, so that it is
/// found again when the outer step has changed the others.
struct Eased {
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
        match self.solve(aim, None)? {
            Round::Solved(solved) => Ok(Answer::Proposal(Box::new(self.proposal(aim, &solved)))),
            Round::Colliding(demands) => {
                Ok(Answer::Collision(Box::new(self.collision(aim, &demands))))
            }
        }
    }

    /// Solves, with the outer step. One demand may be eased: it gives way as little as
    /// it must for the others to be kept.
    fn solve(&self, aim: &Aim, eased: Option<&Eased>) -> Result<Round, AimError> {
        let mut outer = Outer::start(&self.subject, aim)?;
        for round in 0..ROUND_LIMIT {
            let mut demands = self.demands(aim, &outer)?;
            let eased = match eased {
                None => None,
                Some(eased) => match self.ease(&mut demands, eased) {
                    None => return Ok(Round::Colliding(demands)),
                    given => given,
                },
            };
            let (point, proved) = match self.optimum(aim, &demands)? {
                Outcome::Solved(point) => (point, true),
                Outcome::Feasible(point) => (point, false),
                Outcome::Infeasible if eased.is_some() => return Ok(Round::Colliding(demands)),
                Outcome::Infeasible => {
                    return match self.other_need(aim, &outer)? {
                        Some(solved) => Ok(Round::Solved(solved)),
                        None => Ok(Round::Colliding(demands)),
                    };
                }
                other @ Outcome::Unbounded => {
                    return Err(AimError::Unsolved(other.label().to_owned()));
                }
                Outcome::Unsolved(words) => return Err(AimError::Unsolved(words)),
            };
            let next = outer.after(&self.subject, aim, &point.x)?;
            if next.agrees_with(&outer) {
                return Ok(Round::Solved(Solved {
                    x: point.x,
                    objective: point.objective,
                    outer: next,
                    demands,
                    eased,
                    proved,
                }));
            }
            if round + 1 == ROUND_LIMIT
                && eased.is_none()
                && let Some(solved) = self.other_need(aim, &outer)?
            {
                return Ok(Round::Solved(solved));
            }
            outer = next;
        }
        Err(AimError::Unsolved(format!(
            "the dose of acid or base, or the HLB that the oils need, did not settle in {ROUND_LIMIT} rounds"
        )))
    }

    /// Where the emulsifiers cannot meet the HLB that the oils need at present, the
    /// oils may change too: for a fixed HLB both are linear, so values of it are
    /// tried from the least to the greatest that any oil needs, then around the best.
    fn other_need(&self, aim: &Aim, outer: &Outer) -> Result<Option<Solved>, AimError> {
        let Some(need) = outer.need else {
            return Ok(None);
        };
        let mut best: Option<(f64, f64, Solved)> = None;
        let (mut low, mut high) = need.span;
        for _ in 0..NEED_ROUNDS {
            let step = (high - low) / NEED_TRIALS as f64;
            for k in 0..=NEED_TRIALS {
                let value = low + step * k as f64;
                let trial = outer.with_need(value);
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
                        outer: trial,
                        demands,
                        eased: None,
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
        let dosed = solved.outer.after(&self.subject, aim, &solved.x)?;
        if !dosed.agrees_with(&solved.outer) {
            let trial = dosed.with_need(solved.outer.need.map_or(0.0, |n| n.value));
            let demands = self.demands(aim, &trial)?;
            if let Outcome::Solved(point) | Outcome::Feasible(point) =
                self.optimum(aim, &demands)?
            {
                solved = Solved {
                    x: point.x,
                    objective: point.objective,
                    outer: trial,
                    demands,
                    eased: None,
                    proved: false,
                };
            }
        }
        Ok(Some(solved))
    }

    /// Every demand that is on.
    fn demands(&self, aim: &Aim, outer: &Outer) -> Result<Vec<Demand>, AimError> {
        let mut demands = Vec::new();
        for (k, target) in aim.targets.iter().enumerate() {
            let stated = outer
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
                    figure: Figure::PERCENT,
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
                Figure::PERCENT.write(high),
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
                figure: Figure::PERCENT,
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

    /// The line that takes up the rest to 100: the filler, else the largest free line.
    fn taker(&self, bounds: &Programme, x: &[f64]) -> usize {
        let free = |i: usize| bounds.upper[i] - bounds.lower[i] > 1e-6;
        self.subject
            .filler()
            .filter(|&i| free(i))
            .or_else(|| {
                (0..x.len())
                    .filter(|&i| free(i))
                    .max_by(|&a, &b| x[a].total_cmp(&x[b]))
            })
            .unwrap_or(0)
    }

    /// Snaps and states what became of everything. A demand that was eased gives way to
    /// the steps too, so that the others need not.
    fn proposal(&self, aim: &Aim, solved: &Solved) -> Proposal {
        let n = self.subject.len();
        let of_others = |(k, _): &(usize, &Demand)| Some(*k) != solved.eased;
        let kept: Vec<&Demand> = solved
            .demands
            .iter()
            .enumerate()
            .filter(of_others)
            .map(|(_, demand)| demand)
            .collect();
        let taker = self.taker(&programme(n, kept.iter().copied()), &solved.x);
        // A target gives way to the steps and says so; a bound never does.
        let target = |d: &&Demand| matches!(d.origin, Origin::Target(_));
        let bounds = programme(n, kept.iter().copied().filter(|d| !target(d)));
        let snap = Snap {
            exact: &solved.x,
            bounds: &bounds,
            demands: &kept,
            taker,
            weight: &self.weights(),
            step: aim.step,
        };
        let percents = solved
            .outer
            .dose_again(&self.subject, aim, taker, snap.percents());
        let after: Vec<f64> = percents.iter().map(|p| p.as_percent()).collect();
        let before = self.subject.present();
        let evaluation = self.subject.evaluate_at(&percents);
        let present: Vec<Percent> = self.subject.unknowns().iter().map(|u| u.present).collect();
        let now = self.subject.evaluate_at(&present);
        let targets = aim
            .targets
            .iter()
            .map(|target| {
                let value =
                    |x: &[f64], e: &Evaluation| value_of(&self.subject, &target.quantity, x, e);
                let after_value = value(&after, &evaluation);
                Reached {
                    words: target.words(),
                    before: value(&before, &now),
                    gave_way: Outer::shortfall(&self.subject, target, &after, &evaluation),
                    after: after_value,
                    figure: figure_of(&target.quantity),
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
        let ph = &evaluation.estimates.ph.figure;
        if aim.targets.iter().any(|t| t.quantity == Quantity::Ph)
            && let (None, Some(low), Some(high)) = (ph.value, ph.low, ph.high)
        {
            notes.push(format!(
                "the pH is only known to lie between {low:.1} and {high:.1}; its middle was used, so measure before you trust it"
            ));
        }
        if aim.targets.iter().any(|t| t.quantity == Quantity::Ph)
            && let Some(guess) = evaluation.estimates.ph.guess
        {
            notes.push(format!(
                "the pH is hardly known at all; {guess:.1}, the middle of a range of more than four units, was used: this is no more than a start, so measure before you dose"
            ));
        }
        let untold = self.subject.untold_oils();
        if aim.targets.iter().any(|t| t.quantity == Quantity::Hlb) && !untold.is_empty() {
            notes.push(format!(
                "what HLB it needs is not known of {}, so the need of the oils leaves it out",
                limits::join(&untold)
            ));
        }
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
                .filter(|f| f.level != Level::Note)
                .cloned()
                .collect(),
            notes,
            variant: self.without_absent(self.subject.variant_at(&percents)),
            formula: self.subject.formula().clone(),
            evaluation: Box::new(evaluation),
        }
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
    fn ease(&self, demands: &mut [Demand], eased: &Eased) -> Option<usize> {
        let of_origin = |(_, d): &(usize, &Demand)| d.origin == eased.origin;
        let (place, _) = demands
            .iter()
            .enumerate()
            .filter(of_origin)
            .nth(eased.number)?;
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
        match self.solve(&nearest, Some(&Eased { origin, number })).ok()? {
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
    let write = |value: f64, unit| Figure { digits: 3, unit }.write(value);
    if grams < 1000.0 {
        write(grams, " g")
    } else {
        write(grams / 1000.0, " kg")
    }
}

/// How the figures of a quantity are written.
pub(crate) const fn figure_of(quantity: &Quantity) -> Figure {
    Figure {
        digits: quantity.digits(),
        unit: quantity.unit(),
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use proptest::prelude::*;

    use super::*;
    use crate::fixture::{formula, line, material};
    use crate::formula::Date;
    use crate::material::{Charge, Class, Material};
    use crate::solve::target::Relation;

    const WATER: (&str, Class) = ("Aqua", Class::Water);

    fn solution(name: &str, inci: &str, percent: f64, class: Class) -> Arc<Material> {
        let parts = [(inci, percent, class), (WATER.0, 100.0 - percent, WATER.1)];
        material(name, &parts[..if percent < 100.0 { 2 } else { 1 }])
    }

    fn context() -> Context {
        Context::new(Date::constant(2026, 1, 15))
    }

    /// Water, anionic 28 %, betaine 30 %, glucoside 50 %, glycerin, salt.
    fn shampoo() -> Formula {
        let surfactant = |charge| Class::Surfactant(charge);
        let mut f = formula(vec![
            line(&solution("Water", "Aqua", 100.0, Class::Water), "67.2"),
            line(
                &solution(
                    "Laureth sulfate",
                    "Sodium Laureth Sulfate",
                    28.0,
                    surfactant(Charge::Anionic),
                ),
                "20",
            ),
            line(
                &solution(
                    "Betaine",
                    "Cocamidopropyl Betaine",
                    30.0,
                    surfactant(Charge::Amphoteric),
                ),
                "6",
            ),
            line(
                &solution(
                    "Glucoside",
                    "Decyl Glucoside",
                    50.0,
                    surfactant(Charge::NonIonic),
                ),
                "4",
            ),
            line(
                &solution("Glycerin", "Glycerin", 100.0, Class::Humectant),
                "2",
            ),
            line(
                &solution("Salt", "Sodium Chloride", 100.0, Class::Electrolyte),
                "0.8",
            ),
        ]);
        let mut v = f.active().as_ref().clone();
        v.filler = Some(ItemId(10));
        f.variants = vec![Arc::new(v)];
        f
    }

    fn change(f: &mut Formula, id: u64, change: impl Fn(&mut crate::formula::Line)) {
        let mut v = f.active().as_ref().clone();
        for phase in &mut v.phases {
            for line in &mut Arc::make_mut(phase).lines {
                if line.id == ItemId(id) {
                    change(line);
                }
            }
        }
        f.variants = vec![Arc::new(v)];
    }

    fn ask(f: &Formula, supply: &Supply, targets: &[&str], aim: impl Fn(&mut Aim)) -> Answer {
        let context = context();
        let prepared = Prepared::new(f, f.active(), &context, supply, &[]);
        let mut question = Aim::new(targets.iter().map(|t| t.parse().unwrap()).collect());
        aim(&mut question);
        prepared.answer(&question).unwrap()
    }

    fn proposal(answer: Answer) -> Proposal {
        match answer {
            Answer::Proposal(p) => *p,
            Answer::Collision(c) => panic!("collision: {}", c.sentence()),
        }
    }

    fn collision(answer: Answer) -> Collision {
        match answer {
            Answer::Collision(c) => *c,
            Answer::Proposal(p) => panic!("proposal: {:?}", p.lines),
        }
    }

    #[test]
    fn a_present_formula_that_meets_everything_stays() {
        let f = shampoo();
        let p = proposal(ask(&f, &Supply::default(), &["active >= 5"], |_| {}));
        assert!(p.lines.iter().all(|l| l.before == l.after), "{:?}", p.lines);
    }

    #[test]
    fn targets_are_reached_and_small_lines_survive() {
        let f = shampoo();
        let p = proposal(ask(
            &f,
            &Supply::default(),
            &["active >= 14", "anionic / amphoteric <= 2", "salt <= 1"],
            |_| {},
        ));
        assert!(p.all_hold(), "{:?} {:?}", p.targets, p.gave_way);
        assert_eq!(p.variant.total(), Percent::HUNDRED);
        assert!(p.targets[0].after.unwrap() >= 14.0 - 1e-6);
        assert!(p.targets[1].after.unwrap() <= 2.0 + 1e-6);
        // The salt, the smallest line, keeps its size.
        let salt = p.lines.iter().find(|l| l.name == "Salt").unwrap();
        assert!((salt.after.as_percent() - 0.8).abs() < 0.05, "{salt:?}");
        // Taking it over is one edit.
        let applied = crate::edit::apply(&f, f.active, &p.edit()).unwrap();
        assert_eq!(applied.formula.active().total(), Percent::HUNDRED);
    }

    #[test]
    fn a_collision_is_named_with_its_figures() {
        // 30 % betaine at most 20 %, 50 % glucoside at most 5 %, no anionic:
        // 6 + 2.5 = 8.5 % active.
        let f = shampoo();
        let c = collision(ask(
            &f,
            &Supply::default(),
            &[
                "active >= 14",
                "line Betaine <= 20",
                "line Glucoside <= 5",
                "anionic <= 0",
                "water >= 10",
            ],
            |_| {},
        ));
        assert!(c.smallest);
        assert_eq!(c.clashes.len(), 4);
        assert_eq!(
            c.sentence(),
            "at least 14 % active matter does not go together with at most 20 % Betaine, at most 5 % Glucoside and at most 0 % anionic active: active matter can reach 8.5 %"
        );
        for clash in &c.clashes {
            let nearest = clash.nearest.as_ref().unwrap();
            assert_eq!(nearest.variant.total(), Percent::HUNDRED);
        }
        let eased = c.clashes[0].nearest.as_ref().unwrap();
        assert!((eased.targets[0].after.unwrap() - 8.5).abs() < 0.02);
        assert!(eased.targets[0].gave_way.is_some());
    }

    #[test]
    fn a_held_line_collides_by_name() {
        let mut f = shampoo();
        change(&mut f, 14, |l| l.held = true);
        let c = collision(ask(&f, &Supply::default(), &["Glycerin >= 5"], |_| {}));
        assert!(
            c.sentence().contains("Glycerin held at 2 %"),
            "{}",
            c.sentence()
        );
    }

    #[test]
    fn the_stock_bounds_a_batch() {
        let f = shampoo();
        let mut supply = Supply::default();
        for (name, grams) in [
            ("laureth-sulfate", 1000.0),
            ("betaine", 300.0),
            ("glucoside", 300.0),
            ("glycerin", 50.0),
            ("salt", 100.0),
        ] {
            supply.stock.insert(
                crate::material::MaterialId::from_name(name),
                crate::quantity::grams(grams),
            );
        }
        let p = proposal(ask(&f, &supply, &["Glycerin >= 1"], |aim| {
            aim.stock_for = Some(crate::quantity::grams(4000.0));
        }));
        let glycerin = p.lines.iter().find(|l| l.name == "Glycerin").unwrap();
        // 50 g in 4 kg is 1.25 %.
        assert!(glycerin.after.as_percent() <= 1.25 + 1e-9);
    }

    /// What is not entered is not known, so it limits nothing, and that is said.
    #[test]
    fn a_stock_that_is_not_known_limits_nothing() {
        let f = shampoo();
        let mut supply = Supply::default();
        let glycerin = crate::material::MaterialId::from_name("glycerin");
        supply.stock.insert(glycerin, crate::quantity::grams(10.0));
        let p = proposal(ask(&f, &supply, &["active >= 10"], |aim| {
            aim.stock_for = Some(crate::quantity::grams(1000.0));
        }));
        assert!(p.all_hold(), "{:?}", p.targets);
        let at = |name: &str| p.lines.iter().find(|l| l.name == name).unwrap().after;
        assert_eq!(at("Glycerin").to_string(), "1");
        assert!(at("Betaine") > Percent::ZERO);
        assert!(
            p.notes.iter().any(|n| n.contains("Betaine")),
            "{:?}",
            p.notes
        );
    }

    /// A ratio to nothing has no value, so it meets no demand.
    #[test]
    fn a_ratio_keeps_its_divisor() {
        let f = shampoo();
        for relation in ["=", "<=", ">="] {
            let p = proposal(ask(
                &f,
                &Supply::default(),
                &[&format!("anionic / amphoteric {relation} 2")],
                |aim| aim.prefer = Preference::Fewest,
            ));
            assert!(p.targets[0].after.is_some(), "{relation}: {:?}", p.lines);
            assert!(p.all_hold());
        }
        let context = context();
        let supply = Supply::default();
        let prepared = Prepared::new(&f, f.active(), &context, &supply, &[]);
        let ask = |text: &str| prepared.answer(&Aim::new(vec![text.parse().unwrap()]));
        let error = ask("anionic / cationic <= 2").unwrap_err();
        assert!(error.to_string().contains("divided by"), "{error}");
        let c = collision(
            prepared
                .answer(&Aim::new(
                    ["anionic / amphoteric <= 2", "amphoteric <= 0"]
                        .map(|t| t.parse().unwrap())
                        .to_vec(),
                ))
                .unwrap(),
        );
        assert_eq!(c.clashes.len(), 2);
        assert!(c.clashes.iter().all(|c| c.nearest.is_some()));
    }

    /// The demands leave a single composition: no interior, but an answer.
    #[test]
    fn demands_that_leave_one_point_are_met() {
        let f = shampoo();
        let p = proposal(ask(
            &f,
            &Supply::default(),
            &[
                "active >= 8",
                "active <= 8",
                "anionic = 5",
                "non-ionic >= 0",
                "non-ionic <= 0",
                "line Glycerin >= 2",
                "line Glycerin <= 2",
                "line Salt = 1",
                "line Water >= 1",
            ],
            |_| {},
        ));
        let active = p.targets[0].after.unwrap();
        assert!((active - 8.0).abs() < 0.01, "{active}");
    }

    /// What gives way takes the steps upon itself; every other demand holds exactly. The
    /// price by volume is that of the density the nearest formula has.
    #[test]
    fn a_relaxed_demand_spares_all_others() {
        let f = shampoo();
        let mut supply = Supply::default();
        let prices = [
            ("water", 0.1),
            ("laureth-sulfate", 2.0),
            ("betaine", 2.5),
            ("glucoside", 6.0),
            ("glycerin", 2.4),
            ("salt", 0.4),
        ];
        for (name, price) in prices {
            let id = crate::material::MaterialId::from_name(name);
            supply.price_per_kg.insert(id, price);
        }
        let c = collision(ask(
            &f,
            &supply,
            &["cost per 250 ml <= 0.2", "active >= 12", "Glycerin >= 1"],
            |aim| aim.step = Percent::from_units(100_000),
        ));
        for clash in &c.clashes {
            let nearest = clash.nearest.as_ref().unwrap();
            let Origin::Target(eased) = clash.origin else {
                panic!("{:?}", clash.origin);
            };
            for (k, target) in nearest.targets.iter().enumerate() {
                assert!(k == eased || target.gave_way.is_none(), "{target:?}");
            }
            assert!(nearest.targets[eased].gave_way.is_some());
            assert!(nearest.gave_way.is_empty());
        }
    }

    #[test]
    fn an_unknown_price_is_an_error_that_names_the_material() {
        let f = shampoo();
        let context = context();
        let supply = Supply::default();
        let prepared = Prepared::new(&f, f.active(), &context, &supply, &[]);
        let error = prepared
            .answer(&Aim::new(vec!["cost <= 2".parse().unwrap()]))
            .unwrap_err();
        assert!(error.to_string().contains("Betaine"), "{error}");
    }

    #[test]
    fn percentages_are_added_up() {
        // 28 % of 20 and 2 % glycerin are 7.6 %.
        let f = shampoo();
        let p = proposal(ask(
            &f,
            &Supply::default(),
            &["anionic + glycerin >= 9"],
            |_| {},
        ));
        assert!((p.targets[0].before.unwrap() - 7.6).abs() < 1e-9);
        assert!(p.all_hold() && p.targets[0].after.unwrap() >= 9.0 - 1e-6);
    }

    #[test]
    fn a_misspelt_name_gets_a_hint() {
        let f = shampoo();
        let context = context();
        let supply = Supply::default();
        let prepared = Prepared::new(&f, f.active(), &context, &supply, &[]);
        let error = prepared
            .answer(&Aim::new(vec!["Glycerine >= 5".parse().unwrap()]))
            .unwrap_err();
        assert!(
            error.to_string().contains("did you mean “Glycerin”"),
            "{error}"
        );
    }

    #[test]
    fn the_fewest_materials_drop_what_no_target_needs() {
        let f = shampoo();
        let p = proposal(ask(&f, &Supply::default(), &["active = 10"], |aim| {
            aim.prefer = Preference::Fewest;
        }));
        assert!(p.all_hold(), "{:?}", p.targets);
        // Water and one surfactant.
        assert_eq!(p.variant.lines().count(), 2, "{:?}", p.lines);
    }

    #[test]
    fn a_candidate_is_added_only_if_it_is_needed() {
        let f = shampoo();
        let context = context();
        let supply = Supply::default();
        let urea = solution("Urea", "Urea", 100.0, Class::Humectant);
        let candidate = Candidate {
            material: urea,
            phase: ItemId(100),
        };
        let prepared = Prepared::new(&f, f.active(), &context, &supply, &[candidate]);
        let answer = |text: &str| {
            proposal(
                prepared
                    .answer(&Aim::new(vec![text.parse().unwrap()]))
                    .unwrap(),
            )
        };
        assert_eq!(answer("active >= 12").variant.lines().count(), 6);
        let with = answer("inci Urea >= 3");
        assert_eq!(with.variant.lines().count(), 7);
        let applied = crate::edit::apply(&f, f.active, &with.edit()).unwrap();
        assert!(
            applied
                .formula
                .materials
                .keys()
                .any(|k| k.as_str() == "urea")
        );
    }

    fn changed(material: &Arc<Material>, change: impl FnOnce(&mut Material)) -> Arc<Material> {
        let mut m = material.as_ref().clone();
        change(&mut m);
        Arc::new(m)
    }

    fn emulsifier(name: &str, hlb: f64) -> Arc<Material> {
        changed(&solution(name, name, 100.0, Class::Emulsifier), |m| {
            m.hlb = Some(sourced(hlb));
            m.roles = vec![crate::material::Role::Emulsifier];
        })
    }

    fn oil(name: &str, need: f64) -> Arc<Material> {
        changed(&solution(name, name, 100.0, Class::Oil), |m| {
            m.required_hlb = Some(sourced(need));
        })
    }

    fn sourced<T>(value: T) -> crate::material::Sourced<T> {
        let source = crate::material::Source::new(crate::material::Basis::Published, "");
        crate::material::Sourced::new(value, source)
    }

    fn cream(oils: &[(Arc<Material>, &str)], emulsifiers: [(Arc<Material>, &str); 2]) -> Formula {
        let water = solution("Water", "Aqua", 100.0, Class::Water);
        let mut lines = vec![line(&water, "50")];
        lines.extend(oils.iter().map(|(m, p)| line(m, p)));
        lines.extend(emulsifiers.iter().map(|(m, p)| line(m, p)));
        let mut f = formula(lines);
        let mut v = f.active().as_ref().clone();
        v.filler = Some(ItemId(10));
        f.variants = vec![Arc::new(v)];
        f
    }

    /// A trace of oil whose need nobody has said is left out and named; much of it leaves
    /// the need unknown.
    #[test]
    fn a_trace_of_untold_oil_is_left_out_and_named() {
        let untold = solution("Untold oil", "Untold Oil", 100.0, Class::Oil);
        let with = |percent| {
            let f = cream(
                &[(oil("Palmitate", 11.5), "10"), (untold.clone(), percent)],
                [
                    (emulsifier("Low", 3.8), "2"),
                    (emulsifier("High", 18.8), "2"),
                ],
            );
            let (context, supply) = (context(), Supply::default());
            let prepared = Prepared::new(&f, f.active(), &context, &supply, &[]);
            prepared.answer(&Aim::new(vec!["hlb = need".parse().unwrap()]))
        };
        let p = proposal(with("0.5").unwrap());
        assert!(p.targets[0].gave_way.is_none());
        assert!(p.notes.iter().any(|n| n.contains("Untold oil")));
        let error = with("1").unwrap_err();
        assert!(error.to_string().contains("Untold oil"), "{error}");
    }

    /// A line is called by its name, its INCI name, or words of its name.
    #[test]
    fn lines_are_called_as_a_maker_would() {
        for name in ["Laureth sulfate", "sodium laureth sulfate", "laureth"] {
            let text = format!("line {name} <= 15");
            let p = proposal(ask(&shampoo(), &Supply::default(), &[&text], |_| {}));
            assert_eq!(p.lines[1].after, "15".parse().unwrap(), "{name}");
        }
    }

    /// A maker's page of 2011: isopropyl palmitate 1 (11.5) and cetyl alcohol 3 (15.5) need
    /// 14.5; glyceryl stearate (3.8) and PEG-100 stearate (18.8) give it at 28.67 to 71.33.
    #[test]
    fn emulsifiers_meet_the_published_need_of_the_oils() {
        let mut f = cream(
            &[
                (oil("Palmitate", 11.5), "1"),
                (oil("Cetyl alcohol", 15.5), "3"),
            ],
            [
                (emulsifier("Low", 3.8), "2"),
                (emulsifier("High", 18.8), "2"),
            ],
        );
        change(&mut f, 11, |l| l.held = true);
        change(&mut f, 12, |l| l.held = true);
        let p = proposal(ask(
            &f,
            &Supply::default(),
            &["hlb = need", "line Low >= 1"],
            |_| {},
        ));
        assert!(p.all_hold(), "{:?}", p.targets);
        let at = |name: &str| {
            let line = p.lines.iter().find(|l| l.name == name).unwrap();
            line.after.as_percent()
        };
        let share = at("Low") / (at("Low") + at("High"));
        assert!((share - 0.2867).abs() < 0.002, "{share}");
    }

    /// The emulsifiers cannot reach what the oils need now, but the oils may change.
    #[test]
    fn oils_give_way_where_the_emulsifiers_cannot_follow() {
        let f = cream(
            &[(oil("Demanding", 16.0), "8"), (oil("Modest", 6.0), "2")],
            [
                (emulsifier("Low", 4.0), "2"),
                (emulsifier("Middle", 9.0), "2"),
            ],
        );
        // Now the need is 14, beyond both emulsifiers.
        let p = proposal(ask(
            &f,
            &Supply::default(),
            &["hlb = need", "oil = 10", "line Low >= 1"],
            |_| {},
        ));
        assert!(p.all_hold(), "{:?}", p.targets);
        assert!(p.targets[0].after.unwrap() <= 9.0);
    }

    /// A buffer of citric acid and water: the dose for a pH is found, and the pH is what
    /// the estimate of the proposal says.
    #[test]
    fn the_dose_for_a_ph_is_found() {
        let acid = changed(
            &solution("Citric acid", "Citric Acid", 100.0, Class::AcidBase),
            |m| {
                m.roles = vec![crate::material::Role::Acid];
                m.alkalinity = crate::material::Alkalinity::Neutral;
            },
        );
        let neutral =
            |m: &Arc<Material>| changed(m, |m| m.alkalinity = crate::material::Alkalinity::Neutral);
        let water = neutral(&solution("Water", "Aqua", 100.0, Class::Water));
        let benzoate = changed(
            &solution("Benzoate", "Sodium Benzoate", 100.0, Class::Preservative),
            |m| {
                m.roles = vec![crate::material::Role::Preservative];
                m.alkalinity = crate::material::Alkalinity::Neutral;
            },
        );
        let glycerin = neutral(&solution("Glycerin", "Glycerin", 100.0, Class::Humectant));
        let mut f = formula(vec![
            line(&water, "96.4"),
            line(&glycerin, "3"),
            line(&benzoate, "0.5"),
            line(&acid, "0.1"),
        ]);
        let mut v = f.active().as_ref().clone();
        v.filler = Some(ItemId(10));
        f.variants = vec![Arc::new(v)];
        let p = proposal(ask(
            &f,
            &Supply::default(),
            &["ph = 4.8", "Glycerin >= 5"],
            |_| {},
        ));
        assert!(p.all_hold(), "{:?}", p.targets);
        let ph = p.evaluation.estimates.ph.middle.unwrap();
        assert!((ph - 4.8).abs() <= 0.05, "{ph}");
        assert_eq!(p.variant.total(), Percent::HUNDRED);
        let benzoate = p.lines.iter().find(|l| l.name == "Benzoate").unwrap();
        assert_eq!(benzoate.after, benzoate.before);
        // Out of reach is an error with the figure.
        let context = context();
        let supply = Supply::default();
        let prepared = Prepared::new(&f, f.active(), &context, &supply, &[]);
        let error = prepared
            .answer(&Aim::new(vec!["ph = 12".parse().unwrap()]))
            .unwrap_err();
        assert!(
            error.to_string().contains("comes no closer than"),
            "{error}"
        );
        // More preservative is needed where less of it is undissociated.
        let need = |ph: &str| {
            let p = proposal(ask(
                &f,
                &Supply::default(),
                &[&format!("ph = {ph}"), "preservation >= 1"],
                |aim| aim.without = BTreeSet::new(),
            ));
            p.lines.iter().find(|l| l.name == "Benzoate").unwrap().after
        };
        assert!(need("5.4") > need("4.5"));
    }

    /// Two lines bring one preservative: its legal limit holds for their sum (Regulation
    /// (EC) No 1223/2009, Annex V, entry 29: phenoxyethanol 1.0 %).
    #[test]
    fn a_legal_limit_is_shared_by_the_lines_that_bring_the_substance() {
        let preservative = |name: &str, percent: f64| {
            changed(
                &solution(name, "Phenoxyethanol", percent, Class::Preservative),
                |m| m.roles = vec![crate::material::Role::Preservative],
            )
        };
        let water = solution("Water", "Aqua", 100.0, Class::Water);
        let mut f = formula(vec![
            line(&water, "98.9"),
            line(&preservative("Pure", 100.0), "0.5"),
            line(&preservative("Blend", 50.0), "0.6"),
        ]);
        let mut v = f.active().as_ref().clone();
        v.filler = Some(ItemId(10));
        f.variants = vec![Arc::new(v)];
        let p = proposal(ask(&f, &Supply::default(), &["line Blend >= 1.2"], |_| {}));
        let total = p
            .evaluation
            .composition
            .constituents
            .iter()
            .find(|c| &*c.inci == "Phenoxyethanol")
            .unwrap();
        assert!(total.share.typical.as_percent() <= 1.0 + 1e-9);
        let c = collision(ask(
            &f,
            &Supply::default(),
            &["line Blend >= 1.2", "line Pure >= 0.6"],
            |_| {},
        ));
        let limit = c.clashes.iter().find_map(|c| match &c.origin {
            Origin::Limit(key) => Some(key.clone()),
            _ => None,
        });
        let limit = limit.unwrap();
        assert_eq!(limit.lines.len(), 2, "{limit:?}");
        // Switched off, it no longer binds, and the proposal says so.
        let p = proposal(ask(
            &f,
            &Supply::default(),
            &["line Blend >= 1.2", "line Pure >= 0.6"],
            |aim| {
                aim.without = [limit.clone()].into();
            },
        ));
        let state = p.limits.iter().find(|l| l.key == limit).unwrap();
        assert!(state.off && state.exceeded);
    }

    /// No whole tenth lies between the two targets: the line stays on its step and the
    /// target that gives way is named.
    #[test]
    fn targets_too_close_for_the_step_give_way() {
        let p = proposal(ask(
            &shampoo(),
            &Supply::default(),
            &["salt >= 2.28", "salt <= 2.29"],
            |aim| aim.step = Percent::from_units(100_000),
        ));
        let salt = p.lines.iter().find(|l| l.name == "Salt").unwrap();
        assert_eq!(salt.after.to_string(), "2.3");
        let gave_way: Vec<_> = p.targets.iter().map(|t| t.gave_way).collect();
        assert_eq!(gave_way[0], None);
        assert!((gave_way[1].unwrap() - 0.01).abs() < 1e-9);
    }

    /// A target over the shampoo's amounts.
    fn any_target() -> impl Strategy<Value = Target> {
        let quantity = prop_oneof![
            Just(Quantity::Active(None)),
            Just(Quantity::Active(Some(Charge::Anionic))),
            Just(Quantity::Class(Class::Water)),
            Just(Quantity::Class(Class::Electrolyte)),
            Just(Quantity::Named("Glycerin".into())),
            Just(Quantity::Line("Betaine".into())),
            Just(Quantity::Ratio(
                Box::new(Quantity::Active(Some(Charge::Anionic))),
                Box::new(Quantity::Active(Some(Charge::Amphoteric))),
            )),
        ];
        (quantity, 0.0..1.0_f64, any::<bool>()).prop_map(|(quantity, at, least)| {
            let scale = match quantity {
                Quantity::Class(Class::Water) => 100.0,
                Quantity::Ratio(..) => 5.0,
                Quantity::Class(_) => 3.0,
                _ => 20.0,
            };
            let value = (at * scale * 100.0).round() / 100.0;
            let relation = if least {
                Relation::AtLeast(value)
            } else {
                Relation::AtMost(value)
            };
            Target { quantity, relation }
        })
    }

    /// The interior-point method runs in a circle here at its usual step.
    #[test]
    fn a_circle_of_the_method_is_left() {
        let mut f = shampoo();
        change(&mut f, 15, |l| l.held = true);
        change(&mut f, 11, |l| l.max = Some("23".parse().unwrap()));
        let p = proposal(ask(
            &f,
            &Supply::default(),
            &["Glycerin <= 0", "active >= 8.37"],
            |_| {},
        ));
        assert!(p.targets.iter().all(|t| t.gave_way.is_none()));
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 120, ..ProptestConfig::default() })]
        #[test]
        fn a_proposal_totals_100_keeps_bounds_and_reaches_its_targets(
            targets in prop::collection::vec(any_target(), 1..5),
            held in 11_u64..16,
            max in 1_u32..30,
            step in prop::sample::select(vec![100_000_i64, 50_000, 10_000]),
        ) {
            let mut f = shampoo();
            change(&mut f, held, |l| l.held = true);
            change(&mut f, 11, |l| l.max = Some(Percent::from_units(i64::from(max) * Percent::UNITS)));
            let context = context();
            let supply = Supply::default();
            let prepared = Prepared::new(&f, f.active(), &context, &supply, &[]);
            let mut aim = Aim::new(targets.clone());
            aim.step = Percent::from_units(step);
            let first = prepared.answer(&aim).unwrap();
            // Fewer demands are never harder to meet.
            let mut fewer = aim.clone();
            fewer.targets.pop();
            let second = prepared.answer(&fewer).unwrap();
            match (&first, &second) {
                (Answer::Proposal(p), Answer::Proposal(q)) => {
                    prop_assert!(p.objective >= q.objective - 1e-6 * q.objective.abs().max(1.0));
                }
                (Answer::Proposal(_), Answer::Collision(c)) => {
                    prop_assert!(false, "fewer demands collide: {}", c.sentence());
                }
                _ => {}
            }
            if let Answer::Proposal(p) = first {
                prop_assert_eq!(p.variant.total(), Percent::HUNDRED);
                for l in &p.lines {
                    prop_assert!(l.after >= Percent::ZERO);
                    if l.line == ItemId(held) {
                        prop_assert_eq!(l.before, l.after);
                    } else if l.line == ItemId(11) {
                        prop_assert!(l.after.as_percent() <= f64::from(max));
                    }
                    let on_step = l.after.units() % step == 0;
                    prop_assert!(on_step || l.line == ItemId(10) || l.before == l.after);
                }
                // A target holds, or it is said that it gave way.
                for (target, reached) in targets.iter().zip(&p.targets) {
                    let Some(value) = reached.after else { continue };
                    let (low, high) = target.relation.limits().unwrap();
                    let holds = value >= low - 1e-6 && value <= high + 1e-6;
                    prop_assert_eq!(holds, reached.gave_way.is_none(), "{:?}", reached);
                    // What gives way gives way by steps only: no more than two of them.
                    if let Some(by) = reached.gave_way {
                        let ratio = matches!(target.quantity, Quantity::Ratio(..));
                        prop_assert!(ratio || by <= 2.0 * step as f64 / Percent::UNITS as f64, "{:?}", reached);
                    }
                }
            }
        }
    }
}
