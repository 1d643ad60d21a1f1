//! Responses learnt from all trials of a formula: the mean, Scheffé polynomials and a
//! Gaussian process, judged by predicting each reading from all the others.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::sync::{Arc, OnceLock};

use super::book::{Book, RecordedReading, shares};
use super::fit::distribution::{NORMAL_975, normal_below};
use super::fit::process::Process;
use super::fit::scheffe::{Order, ScheffeFit};
use super::fit::{FitError, Interval};
use super::hull::{Hull, MOST_VARYING};
use super::reading::Quantity;
use super::settling::{Settling, of_quantity};
use super::way::{Over, Rest, Way, apart};
use crate::amount::{Digits, Measure};
use crate::formula::Variant;
use crate::material::MaterialId;

/// Part of its share by which a material may differ and still counts as kept: making room for
/// the rest moves it, and tells nothing by itself.
const KEPT: f64 = 0.05;

/// How an error of prediction is shown.
const ERROR: Measure = Measure {
    digits: Digits::Significant(2),
    ..Measure::FACTOR
};

/// How many readings of a quantity are not counted, and why.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct NotCounted {
    /// Made by another method, with other settings or at another temperature.
    pub otherwise: usize,
    /// Made in the same way before it had settled, or at another time before.
    pub early: usize,
    /// Made in the same way when it had settled, where those counted were made before.
    pub settled: usize,
    /// Made in the same way, how long it had stood not stated.
    pub unstated: usize,
    /// When a state counts as settled, where no recovery of its own was followed.
    pub settling: Option<Settling>,
}

impl NotCounted {
    /// What stands apart from readings of one way among all of a quantity.
    fn from(way: &Way, others: &[(&Way, usize)], settling: Option<Settling>) -> Self {
        let mut out = Self {
            settling,
            ..Self::default()
        };
        for (other, count) in others {
            let place = match other.rest() {
                _ if !way.is_but_for_rest(other) => &mut out.otherwise,
                Rest::Early(_) => &mut out.early,
                Rest::Unstated => &mut out.unstated,
                Rest::Settled | Rest::Any => &mut out.settled,
            };
            *place += count;
        }
        out
    }
    /// How many in all.
    #[must_use]
    pub const fn all(&self) -> usize {
        self.otherwise + self.early + self.settled + self.unstated
    }
    /// In words, each reason a clause: “7 made in other ways are not counted”.
    #[must_use]
    pub fn words(&self) -> Vec<String> {
        let not_counted = |n: usize, one: &str, several: &str| match n {
            0 => None,
            1 => Some(format!("1 {one} is not counted")),
            n => Some(format!("{n} {several} are not counted")),
        };
        let settling = self.settling.map(|s| s.words()).unwrap_or_default();
        let early = format!(
            "read before it had settled (after the recovery that was followed, else {settling})"
        );
        [
            not_counted(self.early, &early, &early),
            not_counted(
                self.settled,
                "read when it had settled",
                "read when it had settled",
            ),
            not_counted(
                self.unstated,
                "that does not say how long it stood",
                "that do not say how long it stood",
            ),
            not_counted(self.otherwise, "made in another way", "made in other ways"),
        ]
        .into_iter()
        .flatten()
        .collect()
    }
}

/// What readings are learnt from: shares of what varies, and the rest as the last one.
#[derive(Clone, PartialEq, Debug)]
pub struct Experience {
    /// Of what.
    pub quantity: Quantity,
    /// How they were read; none if nothing was.
    pub way: Option<Way>,
    /// Readings of the quantity that stand apart.
    pub apart: NotCounted,
    /// Materials whose share varies between the states read.
    pub varying: Vec<MaterialId>,
    /// Shares of these, as parts of one, one row a reading.
    pub x: Vec<Vec<f64>>,
    /// Values: logarithms where the quantity is learnt so.
    pub y: Vec<f64>,
    /// Least and greatest share of everything else but the filler, as parts of one.
    pub kept: BTreeMap<MaterialId, [f64; 2]>,
}

impl Experience {
    /// All readings of a quantity in a book, for each way they were made in, in the order of
    /// [`apart`].
    #[must_use]
    pub fn each(book: &Book, quantity: Quantity) -> Vec<Self> {
        let readings = book.readings_of(quantity).map(|(_, kept)| kept);
        let ways = apart(book, Over::Composition, readings);
        let settling = of_quantity(book, quantity);
        ways.iter()
            .enumerate()
            .map(|(place, (way, alike))| {
                let others: Vec<(&Way, usize)> = ways
                    .iter()
                    .enumerate()
                    .filter(|(other, _)| *other != place)
                    .map(|(_, (way, readings))| (way, readings.len()))
                    .collect();
                let apart = NotCounted::from(way, &others, settling);
                Self::of_alike(book, quantity, alike, (Some(way.clone()), apart))
            })
            .collect()
    }

    /// The readings of a quantity that were made in the way in which most were made.
    #[must_use]
    pub fn of(book: &Book, quantity: Quantity) -> Self {
        let first = Self::each(book, quantity).into_iter().next();
        first.unwrap_or_else(|| Self::of_alike(book, quantity, &[], (None, NotCounted::default())))
    }

    fn of_alike(
        book: &Book,
        quantity: Quantity,
        alike: &[&RecordedReading],
        (way, apart): (Option<Way>, NotCounted),
    ) -> Self {
        let states: Vec<(BTreeMap<MaterialId, i64>, f64)> = alike
            .iter()
            .filter_map(|k| {
                let made = book.trial(k.trial).ok()?.formula_at(k.step)?;
                Some((shares(made.active()), k.reading.mean()?))
            })
            .filter(|(_, v)| !quantity.is_logarithmic() || *v > 0.0)
            .collect();
        let all: BTreeSet<&MaterialId> = states.iter().flat_map(|(s, _)| s.keys()).collect();
        let share = |s: &BTreeMap<MaterialId, i64>, id: &MaterialId| {
            s.get(id).copied().unwrap_or(0) as f64 / 1e8
        };
        // The filler takes the rest, which is the last component anyway.
        let fillers: BTreeSet<&MaterialId> = book
            .trials
            .iter()
            .filter_map(|t| {
                let variant = t.opening.formula.active();
                Some(&variant.line(variant.filler?)?.material)
            })
            .collect();
        // What only makes room for the rest falls in proportion to it and tells nothing by
        // itself; what varies by less than a thousandth of a percent was not varied.
        let mut varying = Vec::new();
        let mut kept = BTreeMap::new();
        for id in all.into_iter().filter(|id| !fillers.contains(id)) {
            let shares = states.iter().map(|(s, _)| share(s, id));
            let (low, high) =
                shares.fold((f64::INFINITY, 0.0_f64), |(a, b), v| (a.min(v), b.max(v)));
            let varies = high - low > 1e-5 && high - low > KEPT * high;
            if varies && varying.len() < MOST_VARYING {
                varying.push(id.clone());
            } else {
                kept.insert(id.clone(), [low, high]);
            }
        }
        let (x, y) = states
            .iter()
            .map(|(s, v)| {
                let x: Vec<f64> = varying.iter().map(|id| share(s, id)).collect();
                (
                    x,
                    if quantity.is_logarithmic() {
                        v.ln()
                    } else {
                        *v
                    },
                )
            })
            .unzip();
        Self {
            quantity,
            way,
            apart,
            varying,
            x,
            y,
            kept,
        }
    }
    /// What a variant has more or less of than any state that was read, besides what varies
    /// and the filler: of such a mix nothing was learnt.
    #[must_use]
    pub fn strange(&self, variant: &Variant) -> Vec<MaterialId> {
        let there = shares(variant);
        let share = |id: &MaterialId| there.get(id).copied().unwrap_or(0) as f64 / 1e8;
        let filler = |id: &MaterialId| {
            let line = variant.filler.and_then(|f| variant.line(f));
            line.is_some_and(|l| l.material == *id)
        };
        let beyond = |id: &MaterialId, [low, high]: [f64; 2]| {
            let v = share(id);
            v < low - KEPT * low - 1e-5 || v > high + KEPT * high + 1e-5
        };
        let changed = self.kept.iter().filter(|(id, range)| beyond(id, **range));
        let new = there
            .keys()
            .filter(|id| !self.kept.contains_key(*id) && !self.varying.contains(id));
        changed
            .map(|(id, _)| id)
            .chain(new)
            .filter(|id| !filler(id))
            .cloned()
            .collect()
    }
    /// Least and greatest share that was tried of what varies at a place, as parts of one.
    #[must_use]
    pub fn tried(&self, place: usize) -> [f64; 2] {
        let values = self.x.iter().filter_map(|x| x.get(place));
        values.fold([f64::INFINITY, 0.0], |[a, b], v| [a.min(*v), b.max(*v)])
    }
    /// The place of a variant among what varies.
    #[must_use]
    pub fn place(&self, variant: &Variant) -> Vec<f64> {
        let s = shares(variant);
        self.varying
            .iter()
            .map(|id| s.get(id).copied().unwrap_or(0) as f64 / 1e8)
            .collect()
    }
}

fn with_rest(x: &[f64]) -> Vec<f64> {
    let mut out = x.to_vec();
    out.push(1.0 - x.iter().sum::<f64>());
    out
}

/// How a response is described.
#[derive(Clone, Debug)]
enum Model {
    Mean,
    Scheffe(Box<ScheffeFit>),
    Process(Box<Process>),
}

/// A way to describe a response: its name in the literature, and what it does in plain words.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Description {
    /// Its name in the literature.
    pub term: &'static str,
    /// What it does.
    pub words: &'static str,
}

impl Description {
    const MEAN: Self = Self {
        term: "mean",
        words: "by their mean",
    };
    const LINEAR: Self = Self {
        term: "Scheffé, linear",
        words: "by each line on its own",
    };
    const QUADRATIC: Self = Self {
        term: "Scheffé, quadratic",
        words: "by the lines and how they act in pairs",
    };
    const PROCESS: Self = Self {
        term: "Gaussian process",
        words: "by a smooth course through them",
    };
}

/// A response that was learnt.
#[derive(Clone, Debug)]
pub struct Learnt {
    /// From what.
    pub from: Experience,
    model: Model,
    hull: Hull,
    /// Error of prediction of each description, each reading left out in turn; in units of y.
    pub errors: Vec<(Description, f64)>,
    /// Which of them is used.
    pub chosen: Description,
    /// Standard deviation of the chosen one from leaving out.
    pub loo_sd: f64,
    /// Scatter of repeated states, if any was repeated.
    pub replicate_sd: Option<f64>,
}

/// What is expected of a state.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Expected {
    /// Expected value, in the unit of the quantity.
    pub value: f64,
    /// 95 % interval of a new reading.
    pub range: Interval,
    /// Whether the state lies between those tried.
    pub inside: bool,
    mean: f64,
    sd: f64,
    logarithmic: bool,
}

impl Expected {
    /// Probability of a reading between two values.
    #[must_use]
    pub fn probability(&self, low: f64, high: f64) -> f64 {
        let z = |v: f64| {
            let v = if self.logarithmic {
                v.max(1e-300).ln()
            } else {
                v
            };
            normal_below((v - self.mean) / self.sd)
        };
        (z(high) - z(low)).clamp(0.0, 1.0)
    }
}

impl Learnt {
    /// Learns from at least four readings of at least two states.
    pub fn from(from: Experience) -> Result<Self, FitError> {
        let n = from.y.len();
        let q = from.varying.len();
        if n < 4 || q == 0 {
            return Err(FitError::TooFew {
                given: n,
                parameters: q,
                needed: 4,
            });
        }
        let root = |sum: f64| (sum / n as f64).sqrt();
        let total: f64 = from.y.iter().sum();
        let mean_error = root(
            from.y
                .iter()
                .map(|y| (y - (total - y) / (n - 1) as f64).powi(2))
                .sum(),
        );
        let mut errors = vec![(Description::MEAN, mean_error)];
        let mut best = (Description::MEAN, mean_error, Model::Mean);
        let mixtures: Vec<Vec<f64>> = from.x.iter().map(|x| with_rest(x)).collect();
        for (name, order) in [
            (Description::LINEAR, Order::Linear),
            (Description::QUADRATIC, Order::Quadratic),
        ] {
            let Ok(fit) = ScheffeFit::fit(&mixtures, &from.y, order) else {
                continue;
            };
            if let Some(press) = fit.press {
                errors.push((name, root(press)));
                if root(press) < best.1 {
                    best = (name, root(press), Model::Scheffe(Box::new(fit)));
                }
            }
        }
        if let Ok(process) = Process::fitted(&from.x, &from.y) {
            let error = root(
                process
                    .leave_one_out()
                    .iter()
                    .zip(&from.y)
                    .map(|((m, _), y)| (m - y).powi(2))
                    .sum(),
            );
            errors.push((Description::PROCESS, error));
            if error < best.1 {
                best = (
                    Description::PROCESS,
                    error,
                    Model::Process(Box::new(process)),
                );
            }
        }
        Ok(Self {
            replicate_sd: replicate_sd(&from),
            hull: Hull::of(&from.x),
            from,
            model: best.2,
            errors,
            chosen: best.0,
            loo_sd: best.1,
        })
    }

    /// Mean of a place, in the scale in which it was learnt.
    fn mean_at(&self, x: &[f64]) -> f64 {
        match &self.model {
            Model::Mean => self.from.y.iter().sum::<f64>() / self.from.y.len() as f64,
            Model::Scheffe(fit) => fit.at(&with_rest(x)).mean,
            Model::Process(process) => process.at(x).mean,
        }
    }

    /// Mean of a place and its slopes for each material that varies, the rest giving way, in
    /// the scale in which it was learnt.
    #[must_use]
    pub fn tangent(&self, x: &[f64]) -> (f64, Vec<f64>) {
        /// A thousandth of a percent.
        const STEP: f64 = 1e-5;
        let slopes = (0..x.len())
            .map(|j| {
                let at = |by: f64| {
                    let mut x = x.to_vec();
                    x[j] += by;
                    self.mean_at(&x)
                };
                (at(STEP) - at(-STEP)) / (2.0 * STEP)
            })
            .collect();
        (self.mean_at(x), slopes)
    }

    /// A value of the quantity in the scale in which it was learnt.
    #[must_use]
    pub fn scaled(&self, value: f64) -> f64 {
        if self.from.quantity.is_logarithmic() {
            value.max(1e-300).ln()
        } else {
            value
        }
    }

    /// What is expected of a place: never surer than repeated readings were, nor than leaving
    /// out showed; wider outside of what was tried.
    #[must_use]
    pub fn at(&self, x: &[f64]) -> Expected {
        let n = self.from.y.len() as f64;
        let (mean, sd) = match &self.model {
            Model::Mean => (self.from.y.iter().sum::<f64>() / n, self.loo_sd),
            Model::Scheffe(fit) => {
                let p = fit.at(&with_rest(x));
                (p.mean, (p.new[1] - p.new[0]) / (2.0 * NORMAL_975))
            }
            Model::Process(process) => {
                let p = process.at(x);
                (p.mean, p.variance_new.sqrt())
            }
        };
        let inside = self.hull.contains(x);
        let mut sd = sd.max(self.replicate_sd.unwrap_or(0.0)).max(self.loo_sd);
        if !inside {
            sd *= 2.0;
        }
        let logarithmic = self.from.quantity.is_logarithmic();
        let out = |v: f64| if logarithmic { v.exp() } else { v };
        Expected {
            value: out(mean),
            range: [out(mean - NORMAL_975 * sd), out(mean + NORMAL_975 * sd)],
            inside,
            mean,
            sd,
            logarithmic,
        }
    }

    /// The response over one of the materials that varied, from the least to the greatest
    /// share tried and a tenth of that beyond, everything else as in a place. Shares are in
    /// percent.
    #[must_use]
    pub fn over(&self, material: usize, place: &[f64], points: u32) -> Vec<(f64, Expected)> {
        let [low, high] = self.from.tried(material);
        let beyond = 0.1 * (high - low);
        let (low, high) = ((low - beyond).max(0.0), (high + beyond).min(1.0));
        (0..points)
            .map(|i| {
                let share = low + (high - low) * f64::from(i) / f64::from(points.max(2) - 1);
                let mut x = place.to_vec();
                if let Some(v) = x.get_mut(material) {
                    *v = share;
                }
                (100.0 * share, self.at(&x))
            })
            .collect()
    }

    /// The readings it was learnt from over one of the materials that varied: share in percent,
    /// value in the unit of the quantity.
    #[must_use]
    pub fn readings_over(&self, material: usize) -> Vec<(f64, f64)> {
        let logarithmic = self.from.quantity.is_logarithmic();
        let readings = self.from.x.iter().zip(&self.from.y);
        readings
            .filter_map(|(x, y)| {
                let value = if logarithmic { y.exp() } else { *y };
                Some((100.0 * x.get(material)?, value))
            })
            .collect()
    }

    /// The error of prediction of each description, in words: “each reading left out in turn and
    /// foretold from the others: off by 0.41 by their mean, 0.03 by a smooth course through
    /// them”, with a word where it is that of the logarithm.
    #[must_use]
    pub fn error_words(&self) -> String {
        let errors: Vec<String> = self
            .errors
            .iter()
            .map(|(by, error)| format!("{} {}", ERROR.digits_of(*error), by.words))
            .collect();
        let scale = if self.from.quantity.is_logarithmic() {
            ", as a share,"
        } else {
            ""
        };
        format!(
            "each reading left out in turn and foretold from the others: off{scale} by {}",
            errors.join(", ")
        )
    }

    /// Standard deviation of a new reading at a place as the description alone tells it: what
    /// the readings taught there, not how much they scatter everywhere.
    fn told_sd(&self, x: &[f64]) -> f64 {
        match &self.model {
            // A mean knows as little everywhere: farthest from what was tried is best.
            Model::Mean => {
                let away = |tried: &Vec<f64>| -> f64 {
                    tried.iter().zip(x).map(|(a, b)| (a - b).powi(2)).sum()
                };
                self.from.x.iter().map(away).fold(f64::INFINITY, f64::min)
            }
            Model::Scheffe(fit) => {
                let p = fit.at(&with_rest(x));
                (p.new[1] - p.new[0]) / (2.0 * NORMAL_975)
            }
            Model::Process(process) => process.at(x).variance_new.sqrt(),
        }
    }

    /// Where the next trial teaches most, within what was tried of each material: on a grid
    /// that is the finer the fewer materials varied.
    #[must_use]
    pub fn next_trial(&self) -> Option<(Vec<f64>, Expected)> {
        let q = self.from.varying.len();
        let each: usize = match q {
            1 => 33,
            2 => 9,
            3 => 5,
            _ => 3,
        };
        let ends: Vec<Vec<f64>> = (0..q)
            .map(|j| {
                let [a, b] = self.from.tried(j);
                let step = (b - a) / (each - 1) as f64;
                (0..each).map(|i| a + step * i as f64).collect()
            })
            .collect();
        let count = each.checked_pow(u32::try_from(q).ok()?)?;
        let among: Vec<Vec<f64>> = (0..count)
            .map(|mut code| {
                ends.iter()
                    .map(|e| {
                        let place = code % each;
                        code /= each;
                        e[place]
                    })
                    .collect()
            })
            .filter(|x: &Vec<f64>| x.iter().sum::<f64>() <= 1.0)
            .collect();
        let best = self.teaches_most(&among)?.clone();
        let expected = self.at(&best);
        Some((best, expected))
    }

    /// The place among some where the next trial teaches most: where least is known.
    #[must_use]
    pub fn teaches_most<'a>(&self, among: &'a [Vec<f64>]) -> Option<&'a Vec<f64>> {
        among
            .iter()
            .max_by(|a, b| self.told_sd(a).total_cmp(&self.told_sd(b)))
    }

    /// How the readings were made, in words; empty where that does not matter.
    #[must_use]
    pub fn way(&self) -> String {
        self.from.way.as_ref().map_or_else(String::new, Way::words)
    }

    /// From what it was learnt, in words, with how it was read and what stands apart.
    #[must_use]
    pub fn source(&self) -> String {
        let mut words = format!(
            "learnt from {} readings {}",
            self.from.y.len(),
            self.chosen.words
        );
        let way = self.way();
        if !way.is_empty() {
            let _ = write!(words, ", {way}");
        }
        for clause in self.from.apart.words() {
            let _ = write!(words, "; {clause}");
        }
        words
    }

    /// In words: "learnt from 9 readings: 3900 to 5600 mPa·s".
    #[must_use]
    pub fn words(&self, expected: &Expected) -> String {
        format!(
            "{}: {}{}",
            self.source(),
            self.from.quantity.range_shown(expected.range),
            if expected.inside {
                ""
            } else {
                "; outside of what was tried, so it may be wrong"
            }
        )
    }
}

/// Every response that the trials of a formula have taught, each quantity learnt when it is
/// first asked for. Two are equal if they are the same.
#[derive(Clone, Debug, Default)]
pub struct Lessons(Option<Arc<Taught>>);

/// Trials and what was learnt from them so far.
#[derive(Debug)]
struct Taught {
    book: Book,
    learnt: BTreeMap<Quantity, OnceLock<Vec<Learnt>>>,
}

impl PartialEq for Lessons {
    fn eq(&self, other: &Self) -> bool {
        match (&self.0, &other.0) {
            (Some(a), Some(b)) => Arc::ptr_eq(a, b),
            (None, None) => true,
            _ => false,
        }
    }
}

impl Lessons {
    /// Those of a book.
    #[must_use]
    pub fn of(book: &Book) -> Self {
        let quantities = book.quantities().into_iter();
        Self(Some(Arc::new(Taught {
            book: book.clone(),
            learnt: quantities.map(|q| (q, OnceLock::new())).collect(),
        })))
    }
    /// Learns everything now, so that nobody waits later.
    #[must_use]
    pub fn learnt_at_once(self) -> Self {
        // Asking is learning.
        let _ = self.all().count();
        self
    }
    /// All of them, in the order of the quantities; of one quantity those read in different
    /// ways apart, in the order of [`apart`].
    pub fn all(&self) -> impl Iterator<Item = &Learnt> {
        let taught = self.0.as_deref().into_iter();
        taught.flat_map(|t| t.learnt.keys().flat_map(|quantity| t.of(*quantity)))
    }
    /// What was learnt of a quantity, read in the way in which most readings were made.
    #[must_use]
    pub fn on(&self, quantity: Quantity) -> Option<&Learnt> {
        self.0.as_deref()?.of(quantity).first()
    }
}

impl Taught {
    fn of(&self, quantity: Quantity) -> &[Learnt] {
        self.learnt.get(&quantity).map_or(&[], |learnt| {
            learnt.get_or_init(|| {
                let each = Experience::each(&self.book, quantity).into_iter();
                each.filter_map(|from| Learnt::from(from).ok()).collect()
            })
        })
    }
}

/// Pooled scatter of readings at the same place.
fn replicate_sd(from: &Experience) -> Option<f64> {
    let mut groups: BTreeMap<Vec<i64>, Vec<f64>> = BTreeMap::new();
    for (x, y) in from.x.iter().zip(&from.y) {
        let key = x.iter().map(|v| (v * 1e7).round() as i64).collect();
        groups.entry(key).or_default().push(*y);
    }
    let mut dof = 0;
    let mut sum = 0.0;
    for g in groups.values().filter(|g| g.len() > 1) {
        let m = g.iter().sum::<f64>() / g.len() as f64;
        sum += g.iter().map(|y| (y - m).powi(2)).sum::<f64>();
        dof += g.len() - 1;
    }
    (dof > 0).then(|| (sum / dof as f64).sqrt())
}
