//! Planned sets on a formula: some lines vary between bounds, the filler or a group takes the
//! rest.

use std::sync::Arc;

use super::design::lattice::{simplex_centroid, simplex_lattice};
use super::design::optimal::d_optimal;
use super::design::random::RandomStream;
use super::design::region::{Region, RegionError};
use super::fit::Interval;
use super::fit::scheffe::Order;
use crate::batch::rounding::largest_remainder;
use crate::evaluation::{Context, evaluate};
use crate::finding::Level;
use crate::formula::{Formula, ItemId, Line, Phase, Variant};
use crate::quantity::Percent;

/// A line that varies.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Factor {
    /// The line.
    pub line: ItemId,
    /// Least percentage.
    pub low: Percent,
    /// Greatest percentage.
    pub high: Percent,
}

/// Lines that vary, and those that take the rest.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Varied {
    /// Lines that vary.
    pub factors: Vec<Factor>,
    /// Lines that take the rest together, in proportion to what they have now: the filler, or
    /// a group.
    pub rest: Vec<ItemId>,
}

impl Varied {
    /// Lines that vary; the filler of a variant takes the rest.
    pub fn with_filler(variant: &Variant, factors: Vec<Factor>) -> Result<Self, SetPlanError> {
        let filler = variant.filler.ok_or(SetPlanError::NoFiller)?;
        Ok(Self {
            factors,
            rest: vec![filler],
        })
    }

    /// The lines of which a run states a percentage, in its order.
    pub fn lines(&self) -> impl Iterator<Item = ItemId> {
        let factors = self.factors.iter().map(|f| f.line);
        factors.chain(self.rest.iter().copied())
    }

    /// What takes the rest: what it has now, and the least and greatest it may have together.
    fn room(&self, variant: &Variant) -> Result<(Vec<Percent>, Interval), SetPlanError> {
        let mut now = Vec::with_capacity(self.rest.len());
        let lines: Vec<&Line> = self
            .rest
            .iter()
            .map(|id| variant.line(*id).ok_or(SetPlanError::Rest))
            .collect::<Result<_, _>>()?;
        let sum: Percent = lines.iter().map(|l| l.percent).sum();
        if sum <= Percent::ZERO {
            return Err(SetPlanError::NoRest);
        }
        let (mut low, mut high) = (0.0_f64, 100.0_f64);
        for (i, line) in lines.iter().enumerate() {
            let known = self.factors.iter().any(|f| f.line == line.id)
                || self.rest.iter().take(i).any(|id| *id == line.id);
            if known {
                return Err(SetPlanError::Rest);
            }
            now.push(line.percent);
            // In proportion to the others, each keeps its own bounds.
            let share = line.percent.as_percent() / sum.as_percent();
            if let Some(min) = line.min {
                low = low.max(if share > 0.0 {
                    min.as_percent() / share
                } else if min > Percent::ZERO {
                    f64::INFINITY
                } else {
                    0.0
                });
            }
            if let Some(max) = line.max.filter(|_| share > 0.0) {
                high = high.min(max.as_percent() / share);
            }
        }
        Ok((now, [low, high]))
    }
}

/// Which mixtures are tried.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Design {
    /// Simplex lattice of a degree.
    Lattice(usize),
    /// Simplex centroid.
    Centroid,
    /// Vertices of the region with the middles of its faces.
    ExtremeVertices,
    /// A number of trials of the greatest determinant for a Scheffé model.
    DOptimal(usize, Order),
    /// The present formula and each line at its ends.
    Star,
}

impl Design {
    /// The words shown for it.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Lattice(_) => "spread evenly",
            Self::Centroid => "alone and in equal parts",
            Self::ExtremeVertices => "corners and middles",
            Self::DOptimal(..) => "as many beakers as I say",
            Self::Star => "one line at a time",
        }
    }
    /// Which design suits, in two sentences.
    #[must_use]
    pub const fn explanation(self) -> &'static str {
        match self {
            Self::Lattice(_) => {
                "Evenly spread over the whole range of all lines at once. It suits lines whose only bound is their least share."
            }
            Self::Centroid => {
                "Every line alone, every pair, every three in equal parts. It suits few lines that replace each other freely."
            }
            Self::ExtremeVertices => {
                "The corners of what the bounds allow, the middles of its edges and faces, and the middle. It suits lines with a least and a greatest share."
            }
            Self::DOptimal(..) => {
                "As many beakers as you can make, chosen so that what each line does comes out as sharply as possible. It suits many lines and few beakers."
            }
            Self::Star => {
                "The present formula and each line alone at its ends. It shows which line matters, but not how lines act together."
            }
        }
    }
}

/// Why a set cannot be planned.
#[derive(Clone, PartialEq, Debug, thiserror::Error)]
pub enum SetPlanError {
    /// Too few or too many lines.
    #[error("choose one to six lines to vary, besides what takes the rest; {0} were chosen")]
    Lines(usize),
    /// No line takes the rest.
    #[error("no line of the formula takes the rest; make one of them the filler")]
    NoFiller,
    /// A line that is not there, or chosen twice.
    #[error("a chosen line is not in the formula, or is chosen twice")]
    Line,
    /// A line that takes the rest and is not there, chosen twice, or varies.
    #[error("a line that takes the rest is not in the formula, is chosen twice, or varies itself")]
    Rest,
    /// Nothing that could give way.
    #[error("the lines that take the rest have no percentage yet; give them one to share it by")]
    NoRest,
    /// Ends that cross.
    #[error("the least share of a line must be below its greatest")]
    Ends,
    /// No mixture keeps the bounds.
    #[error("no mixture keeps these bounds: the lines and what takes the rest cannot add up")]
    Empty,
    /// A lattice in a region that is cut.
    #[error(
        "the greatest shares cut into the range; take the corners and middles, or as many beakers as you say"
    )]
    Cut,
    /// Fewer trials than terms.
    #[error("{runs} beakers cannot tell {terms} effects apart; make more, or look for less")]
    Runs {
        /// Trials wanted.
        runs: usize,
        /// Terms of the model.
        terms: usize,
    },
    /// More than can be laid out.
    #[error(transparent)]
    Region(#[from] RegionError),
}

/// A trial of a planned set.
#[derive(Clone, PartialEq, Debug)]
pub struct Run {
    /// Its place in random order, from 1.
    pub order: usize,
    /// Number of its mixture, from 1; the same for replicates.
    pub mixture: usize,
    /// Percentage of every line that varies in turn, then of those that take the rest.
    pub percents: Vec<Percent>,
}

/// Plans a set: every mixture of the design once, the last `repeat` of them a second time, in
/// a random order that a seed repeats.
pub fn plan(
    variant: &Variant,
    varied: &Varied,
    design: Design,
    repeat: usize,
    seed: u64,
) -> Result<Vec<Run>, SetPlanError> {
    let bounds = Bounds::new(variant, varied)?;
    let mut mixtures: Vec<Vec<Percent>> = Vec::new();
    let mut runs: Vec<Run> = Vec::new();
    for shares in &bounds.points(variant, design, seed)? {
        let percents = bounds.exact(shares).ok_or(SetPlanError::Empty)?;
        let known = mixtures.iter().position(|m| *m == percents);
        let mixture = known.unwrap_or(mixtures.len()) + 1;
        if known.is_none() {
            mixtures.push(percents.clone());
        }
        runs.push(Run {
            order: 0,
            mixture,
            percents,
        });
    }
    if runs.is_empty() {
        return Err(SetPlanError::Empty);
    }
    // Repeated are the last ones: the middle of all, which tells most of the scatter, is last.
    for (i, percents) in mixtures.iter().enumerate().rev().take(repeat) {
        runs.push(Run {
            order: 0,
            mixture: i + 1,
            percents: percents.clone(),
        });
    }
    RandomStream::new(seed).shuffle(&mut runs);
    for (i, run) in runs.iter_mut().enumerate() {
        run.order = i + 1;
    }
    Ok(runs)
}

/// What the lines of a set share among them, and within which bounds.
struct Bounds<'a> {
    factors: &'a [Factor],
    /// What the lines that take the rest have now.
    rest: Vec<Percent>,
    /// All of it together.
    whole: Percent,
    /// Shares of the whole: each line that varies, then what takes the rest as one.
    region: Region,
}

impl<'a> Bounds<'a> {
    fn new(variant: &Variant, varied: &'a Varied) -> Result<Self, SetPlanError> {
        let factors = varied.factors.as_slice();
        if factors.is_empty() || factors.len() > 6 {
            return Err(SetPlanError::Lines(factors.len()));
        }
        let (rest, [rest_low, rest_high]) = varied.room(variant)?;
        let mut whole: Percent = rest.iter().copied().sum();
        for (i, f) in factors.iter().enumerate() {
            let line = variant.line(f.line).ok_or(SetPlanError::Line)?;
            if factors.iter().take(i).any(|g| g.line == f.line) {
                return Err(SetPlanError::Line);
            }
            if f.low < Percent::ZERO || f.low >= f.high {
                return Err(SetPlanError::Ends);
            }
            whole += line.percent;
        }
        let total = whole.as_percent();
        let least: f64 = factors.iter().map(|f| f.low.as_percent()).sum();
        if total <= 0.0 || least + rest_low > total || rest_low > rest_high {
            return Err(SetPlanError::Empty);
        }
        let share = |percent: Percent| percent.as_percent() / total;
        let mut region = Region {
            lower: factors.iter().map(|f| share(f.low)).collect(),
            upper: factors.iter().map(|f| share(f.high)).collect(),
            linear: Vec::new(),
        };
        region.lower.push(rest_low / total);
        region.upper.push(rest_high.min(total) / total);
        Ok(Self {
            factors,
            rest,
            whole,
            region,
        })
    }

    /// The mixtures of a design, as shares of the whole.
    fn points(
        &self,
        variant: &Variant,
        design: Design,
        seed: u64,
    ) -> Result<Vec<Vec<f64>>, SetPlanError> {
        let q = self.region.components();
        match design {
            Design::Lattice(m) => self.spread_over(simplex_lattice(q, m)),
            Design::Centroid => self.spread_over(simplex_centroid(q)),
            Design::ExtremeVertices => Ok(self.region.shape()?.candidates(false, true)),
            Design::DOptimal(runs, order) => {
                let candidates = self.region.shape()?.candidates(true, true);
                if candidates.is_empty() {
                    return Err(SetPlanError::Empty);
                }
                let terms = super::fit::scheffe::terms(q, order).len();
                let best = d_optimal(&candidates, order, runs, 30, seed)
                    .ok_or(SetPlanError::Runs { runs, terms })?;
                Ok(candidates
                    .iter()
                    .zip(&best.counts)
                    .flat_map(|(x, n)| std::iter::repeat_n(x.clone(), *n))
                    .collect())
            }
            Design::Star => Ok(self.star(variant)),
        }
    }

    /// The points of a simplex laid over what lies above the least shares.
    fn spread_over(&self, simplex: Option<Vec<Vec<f64>>>) -> Result<Vec<Vec<f64>>, SetPlanError> {
        let q = self.region.components();
        let room = 1.0 - self.region.lower.iter().sum::<f64>();
        let points: Vec<Vec<f64>> = simplex
            .ok_or(SetPlanError::Region(RegionError::TooMany(q)))?
            .into_iter()
            .map(|z| {
                let shares = z.iter().zip(&self.region.lower).map(|(z, l)| l + z * room);
                shares.collect()
            })
            .collect();
        if points.iter().all(|x| self.region.contains(x)) {
            Ok(points)
        } else {
            Err(SetPlanError::Cut)
        }
    }

    /// The present formula, and each line at its ends where the rest can follow.
    fn star(&self, variant: &Variant) -> Vec<Vec<f64>> {
        let total = self.whole.as_percent();
        let present: Vec<f64> = self
            .factors
            .iter()
            .filter_map(|f| variant.line(f.line))
            .map(|l| l.percent.as_percent() / total)
            .collect();
        let mut points = vec![present.clone()];
        let ends = self.region.lower.iter().zip(&self.region.upper);
        for (i, (low, high)) in ends.take(present.len()).enumerate() {
            for end in [low, high] {
                let moved = present.iter().enumerate();
                points.push(moved.map(|(k, x)| if k == i { *end } else { *x }).collect());
            }
        }
        let least = self.region.lower.last().copied().unwrap_or(0.0);
        points.retain_mut(|shares| {
            let rest = 1.0 - shares.iter().sum::<f64>();
            shares.push(rest);
            rest >= least - 1e-12
        });
        points
    }

    /// Shares as exact percentages within their bounds; what takes the rest takes it to the
    /// last digit, in proportion to what it has now.
    fn exact(&self, shares: &[f64]) -> Option<Vec<Percent>> {
        let total = self.whole.as_percent();
        let mut out = Vec::with_capacity(shares.len());
        for (share, factor) in shares.iter().zip(self.factors) {
            out.push(Percent::nearest(share * total)?.clamp_to(factor.low, factor.high));
        }
        let taken: Percent = out.iter().copied().sum();
        let rest = self.whole - taken;
        if rest < Percent::ZERO {
            return None;
        }
        let units = |p: &Percent| u128::from(p.units().unsigned_abs());
        let now: Vec<u128> = self.rest.iter().map(units).collect();
        for units in largest_remainder(&now, units(&rest))? {
            out.push(Percent::from_units(i64::try_from(units).ok()?));
        }
        Some(out)
    }
}

/// A trial of a planned set with what the checks say before anybody weighs it.
#[derive(Clone, PartialEq, Debug)]
pub struct CheckedTrial {
    /// The trial.
    pub run: Run,
    /// Its breaches, the gravest first.
    pub breaches: Vec<String>,
}

/// Holds every trial of a set against the checks that the formula is held against; in the
/// order of making.
#[must_use]
pub fn check(
    formula: &Formula,
    variant: &Variant,
    varied: &Varied,
    runs: &[Run],
    context: &Context,
) -> Vec<CheckedTrial> {
    let mut out: Vec<CheckedTrial> = runs
        .iter()
        .map(|run| {
            let made = formula_of(formula, variant, varied, run);
            let findings = evaluate(&made, made.active(), context).findings;
            let breaches = findings.into_iter().filter(|f| f.level == Level::Breach);
            CheckedTrial {
                run: run.clone(),
                breaches: breaches.map(|f| f.message).collect(),
            }
        })
        .collect();
    out.sort_by_key(|c| c.run.order);
    out
}

/// The formula of a run.
#[must_use]
pub fn formula_of(formula: &Formula, variant: &Variant, varied: &Varied, run: &Run) -> Formula {
    let mut changed = variant.clone();
    let percent = |id: ItemId| {
        let place = varied.lines().position(|line| line == id)?;
        run.percents.get(place).copied()
    };
    for phase in &mut changed.phases {
        let mut next: Phase = (**phase).clone();
        for line in &mut next.lines {
            if let Some(percent) = percent(line.id) {
                line.percent = percent;
            }
        }
        *phase = Arc::new(next);
    }
    changed.name = format!("Trial {}", run.order).into();
    Formula {
        active: changed.id,
        variants: vec![Arc::new(changed)],
        history: Vec::new(),
        ..formula.clone()
    }
}
