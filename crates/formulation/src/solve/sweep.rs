//! Sweep: one or two lines moved over a range, everything evaluated at every point.

use std::num::NonZeroUsize;
use std::sync::atomic::{AtomicUsize, Ordering};

use crate::edit::{self, Edit, EditError, GiveWay};
use crate::evaluation::{self, Context};
use crate::finding::Tally;
use crate::formula::{Formula, ItemId, Variant, VariantId};
use crate::material::Role;
use crate::progress::Progress;
use crate::quantity::Percent;

use super::subject::{FormError, Subject, Supply};
use super::target::TargetQuantity;

/// Most points of a sweep.
pub const POINT_LIMIT: usize = 250_000;
/// Points that a thread takes at a time.
const PORTION: usize = 16;

/// A line and the range it is moved over.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Axis {
    /// The line.
    pub line: ItemId,
    /// First percentage.
    pub from: Percent,
    /// Last percentage.
    pub to: Percent,
    /// How many points, at least 2.
    pub points: usize,
}

impl Axis {
    /// The percentage of a point, evenly spaced, exact at both ends.
    pub fn at(&self, k: usize) -> Percent {
        let last = self.points.saturating_sub(1).max(1) as i64;
        let width = self.to.units() - self.from.units();
        // Rounded to the exact grid; the width is below 10^8 units, the count below 10^6.
        Percent::from_units(self.from.units() + (width * k as i64 + last / 2) / last)
    }
}

/// What to sweep.
#[derive(Clone, PartialEq, Debug)]
pub struct Sweep {
    /// One or two axes; the first runs fastest.
    pub axes: Vec<Axis>,
    /// What to follow.
    pub quantities: Vec<TargetQuantity>,
    /// Which lines give way.
    pub give: GiveWay,
}

/// One point of a sweep.
#[derive(Clone, PartialEq, Debug)]
pub struct SweepPoint {
    /// Percentage of the line of each axis.
    pub at: Vec<Percent>,
    /// Value of each quantity; `None` where it is not known.
    pub values: Vec<Option<f64>>,
    /// Least and greatest value that each quantity may have, where materials, estimates or
    /// what was learnt leave a range.
    pub ranges: Vec<Option<(f64, f64)>>,
    /// Number of breaches and cautions to act on, and of findings to know.
    pub findings: [usize; 3],
    /// Least room to any limit that binds a line, in percentage points; negative beyond it.
    pub room: Option<f64>,
    /// Whether the point cannot be reached, because a line would pass a bound.
    pub out_of_reach: bool,
}

/// Why a sweep cannot be done.
#[derive(Clone, PartialEq, Debug, thiserror::Error)]
pub enum SweepError {
    /// No axis, or more than two, or one line on both.
    #[error("choose one line, or two different lines, to move")]
    BadAxes,
    /// A range that is empty or outside 0 to 100.
    #[error(
        "the range from {0} to {1} % must lie within 0 to 100 and run upwards, with two points at least"
    )]
    BadRange(Percent, Percent),
    /// The lines given are not in the variant.
    #[error("this line is no longer in the formula")]
    NoSuchLine,
    /// Too many points.
    #[error("{0} points are more than {POINT_LIMIT}; take fewer")]
    TooMany(usize),
    /// A quantity cannot be stated for this formula.
    #[error(transparent)]
    Quantity(#[from] FormError),
    /// The line follows from the others.
    #[error(transparent)]
    Edit(#[from] EditError),
    /// Stopped before the end.
    #[error("the sweep was stopped")]
    Cancelled,
}

impl SweepError {
    /// Why a quantity cannot be stated, if that is what is wrong.
    pub const fn form(&self) -> Option<&FormError> {
        match self {
            Self::Quantity(why) => Some(why),
            _ => None,
        }
    }
}

impl Sweep {
    /// The number of points.
    pub fn len(&self) -> usize {
        self.axes.iter().map(|a| a.points).product()
    }
    /// Whether there is no point.
    pub fn is_empty(&self) -> bool {
        self.axes.is_empty() || self.len() == 0
    }

    fn check(&self, variant: &Variant) -> Result<(), SweepError> {
        match self.axes.as_slice() {
            [_] => {}
            [a, b] if a.line != b.line => {}
            _ => return Err(SweepError::BadAxes),
        }
        for axis in &self.axes {
            let in_range = Percent::ZERO <= axis.from && axis.to <= Percent::HUNDRED;
            if !in_range || axis.from >= axis.to || axis.points < 2 {
                return Err(SweepError::BadRange(axis.from, axis.to));
            }
            if variant.line(axis.line).is_none() {
                return Err(SweepError::NoSuchLine);
            }
            if variant.is_filler(axis.line) && self.give == GiveWay::Filler {
                return Err(EditError::FillerFollows.into());
            }
        }
        if self.len() > POINT_LIMIT {
            return Err(SweepError::TooMany(self.len()));
        }
        Ok(())
    }

    /// Whether an acid or a base is moved, so that every point has a pH of its own.
    fn moves_ph(&self, formula: &Formula, variant: &Variant) -> bool {
        self.axes.iter().any(|axis| {
            let material = variant
                .line(axis.line)
                .and_then(|l| formula.material(&l.material));
            material.is_some_and(|m| m.has_role(Role::Acid) || m.has_role(Role::Base))
        })
    }

    /// The percentages of the axes at a point.
    fn at(&self, point: usize) -> Vec<Percent> {
        let mut rest = point;
        self.axes
            .iter()
            .map(|axis| {
                let k = rest % axis.points;
                rest /= axis.points;
                axis.at(k)
            })
            .collect()
    }

    /// The formula at percentages of the axes, and whether they were reached.
    pub fn formula_at(
        &self,
        formula: &Formula,
        variant: VariantId,
        at: &[Percent],
    ) -> Result<(Formula, bool), EditError> {
        let mut moved = formula.clone();
        let mut reached = true;
        for (axis, percent) in self.axes.iter().zip(at) {
            let edit = Edit::SetPercent {
                line: axis.line,
                percent: *percent,
                give: self.give,
            };
            let applied = edit::apply(&moved, variant, &edit)?;
            reached &= applied.stop.is_none();
            moved = applied.formula;
        }
        // A second axis may have taken from the first.
        let there = moved.variant(variant);
        let kept = |axis: &Axis, percent: Percent| {
            there
                .and_then(|v| v.line(axis.line))
                .is_some_and(|l| l.percent == percent)
        };
        reached &= self.axes.iter().zip(at).all(|(a, p)| kept(a, *p));
        Ok((moved, reached))
    }

    /// Evaluates every point, on all processors. The points come in order, the first
    /// axis running fastest.
    pub fn run(
        &self,
        formula: &Formula,
        variant: VariantId,
        context: &Context,
        supply: &Supply,
        progress: &Progress,
    ) -> Result<Vec<SweepPoint>, SweepError> {
        let start = formula.variant(variant).ok_or(EditError::NoSuchVariant)?;
        self.check(start)?;
        // Says now what is missing, not at every point.
        let subject = Subject::new(formula, start, context, supply, &[]);
        for quantity in &self.quantities {
            match quantity {
                TargetQuantity::Ph | TargetQuantity::Preservation => {}
                TargetQuantity::Learnt(reading) => {
                    subject.learnt(*reading)?;
                }
                other => {
                    subject.form(other, Some(1.0))?;
                }
            }
        }
        let count = self.len();
        progress.expect(count);
        let next = AtomicUsize::new(0);
        let threads = std::thread::available_parallelism()
            .map_or(1, NonZeroUsize::get)
            .min(count.div_ceil(PORTION));
        let work = || {
            let mut points = Vec::new();
            loop {
                let first = next.fetch_add(PORTION, Ordering::Relaxed);
                if first >= count || progress.is_stopped() {
                    return Ok(points);
                }
                for k in first..(first + PORTION).min(count) {
                    points.push((k, self.point(formula, variant, context, supply, k)?));
                    progress.step();
                }
            }
        };
        let parts: Vec<Result<Vec<(usize, SweepPoint)>, SweepError>> =
            std::thread::scope(|scope| {
                let others: Vec<_> = (1..threads).map(|_| scope.spawn(work)).collect();
                let mut parts = vec![work()];
                for other in others {
                    match other.join() {
                        Ok(part) => parts.push(part),
                        Err(panic) => std::panic::resume_unwind(panic),
                    }
                }
                parts
            });
        if progress.is_stopped() {
            return Err(SweepError::Cancelled);
        }
        let mut points = Vec::with_capacity(count);
        for part in parts {
            points.extend(part?);
        }
        points.sort_by_key(|(k, _)| *k);
        Ok(points.into_iter().map(|(_, point)| point).collect())
    }

    fn point(
        &self,
        formula: &Formula,
        variant: VariantId,
        context: &Context,
        supply: &Supply,
        k: usize,
    ) -> Result<SweepPoint, SweepError> {
        let at = self.at(k);
        let (moved, reached) = self.formula_at(formula, variant, &at)?;
        let mut point = SweepPoint {
            at,
            values: vec![None; self.quantities.len()],
            ranges: vec![None; self.quantities.len()],
            findings: [0; 3],
            room: None,
            out_of_reach: !reached,
        };
        let Some(there) = moved.variant(variant).filter(|_| reached) else {
            return Ok(point);
        };
        let mut there = there.as_ref().clone();
        if self.moves_ph(&moved, &there) {
            // What is aimed at says nothing of a point at which the acid is another.
            there.target_ph = None;
            there.measured.ph = None;
        }
        let there = &there;
        let subject = Subject::new(&moved, there, context, supply, &[]);
        let evaluation = evaluation::evaluate(&moved, there, context);
        let x = subject.present();
        let places = point.values.iter_mut().zip(&mut point.ranges);
        for ((value, range), quantity) in places.zip(&self.quantities) {
            *value = super::fixed_point::value_of(&subject, quantity, &x, &evaluation);
            *range = super::reach::range_of(&subject, quantity, &x, &evaluation);
        }
        let tally = Tally::of(&evaluation.findings);
        point.findings = [tally.breaches, tally.cautions, tally.to_know];
        point.room = evaluation
            .limits
            .iter()
            .filter_map(|limit| {
                let line = there.line(limit.line)?;
                Some((limit.most - line.percent).as_percent())
            })
            .min_by(f64::total_cmp);
        Ok(point)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture::{formula, line, material};
    use crate::formula::Date;
    use crate::material::{Charge, Class, MaterialId};

    fn gel() -> Formula {
        let water = material("Water", &[("Aqua", 100.0, Class::Water)]);
        let betaine = material(
            "Betaine",
            &[
                (
                    "Cocamidopropyl Betaine",
                    30.0,
                    Class::Surfactant(Charge::Amphoteric),
                ),
                ("Sodium Chloride", 5.0, Class::Electrolyte),
                ("Aqua", 65.0, Class::Water),
            ],
        );
        let salt = material("Salt", &[("Sodium Chloride", 100.0, Class::Electrolyte)]);
        let mut f = formula(vec![
            line(&water, "79"),
            line(&betaine, "20"),
            line(&salt, "1"),
        ]);
        let mut v = f.active().as_ref().clone();
        v.filler = Some(ItemId(10));
        f.variants = vec![std::sync::Arc::new(v)];
        f
    }

    fn context() -> Context {
        Context::new(Date::constant(2026, 1, 15))
    }

    fn axis(line: u64, from: i64, to: i64, points: usize) -> Axis {
        Axis {
            line: ItemId(line),
            from: Percent::from_units(from * Percent::UNITS),
            to: Percent::from_units(to * Percent::UNITS),
            points,
        }
    }

    #[test]
    fn every_point_of_a_map_is_what_arithmetic_says() {
        let f = gel();
        let sweep = Sweep {
            axes: vec![axis(11, 0, 40, 41), axis(12, 0, 5, 11)],
            quantities: vec!["active".parse().unwrap(), "salt".parse().unwrap()],
            give: GiveWay::Filler,
        };
        let progress = Progress::default();
        let points = sweep
            .run(&f, f.active, &context(), &Supply::default(), &progress)
            .unwrap();
        assert_eq!(points.len(), 451);
        assert_eq!(progress.done(), 451);
        for (k, point) in points.iter().enumerate() {
            let (a, b) = (point.at[0].as_percent(), point.at[1].as_percent());
            assert!((a - (k % 41) as f64).abs() < 1e-9);
            assert!((b - 0.5 * (k / 41) as f64).abs() < 1e-9);
            // 30 % active and 5 % salt in the betaine.
            assert!((point.values[0].unwrap() - 0.3 * a).abs() < 1e-9);
            assert!((point.values[1].unwrap() - (0.05 * a + b)).abs() < 1e-9);
        }
    }

    /// Each point of an acid is judged at the pH that it has, not at the one that is aimed at: the
    /// pH falls, and more of the benzoate is there as the acid that preserves (Henderson and
    /// Hasselbalch).
    #[test]
    fn each_point_of_an_acid_has_its_own_ph() {
        let shelf = crate::shelf::built_in();
        let of =
            |id: &str, percent: &str| line(shelf.get(&MaterialId::from_name(id)).unwrap(), percent);
        let mut f = formula(vec![
            of("Water, demineralised", "99.4"),
            of("Sodium benzoate", "0.5"),
            of("Citric acid, anhydrous", "0.1"),
        ]);
        let mut v = f.active().as_ref().clone();
        v.filler = Some(ItemId(10));
        v.target_ph = crate::quantity::Ph::new(5.2);
        f.variants = vec![std::sync::Arc::new(v)];
        let sweep = Sweep {
            axes: vec![axis(12, 0, 1, 5)],
            quantities: vec![TargetQuantity::Ph, TargetQuantity::Preservation],
            give: GiveWay::Filler,
        };
        let (stock, progress) = (Supply::default(), Progress::default());
        let points = sweep
            .run(&f, f.active, &context(), &stock, &progress)
            .unwrap();
        let value = |point: &SweepPoint, place: usize| point.values[place].unwrap();
        for two in points.windows(2) {
            assert!(value(&two[1], 0) < value(&two[0], 0) - 0.05, "{points:?}");
            assert!(value(&two[1], 1) >= value(&two[0], 1), "{points:?}");
        }
        assert!(value(&points[1], 1) > value(&points[0], 1), "{points:?}");
        for point in &points {
            let (mut there, _) = sweep.formula_at(&f, f.active, &point.at).unwrap();
            let mut variant = there.active().as_ref().clone();
            variant.target_ph = None;
            there.variants = vec![std::sync::Arc::new(variant)];
            let alone = evaluation::evaluate(&there, there.active(), &context());
            let ph = alone.estimates.ph.middle.unwrap();
            assert!((value(point, 0) - ph).abs() < 1e-12);
            assert!((ph - 5.2).abs() > 0.05, "{ph} is what was aimed at");
        }
    }

    #[test]
    fn points_past_a_bound_are_out_of_reach() {
        let f = gel();
        let sweep = Sweep {
            axes: vec![axis(11, 90, 100, 11)],
            quantities: vec!["water".parse().unwrap()],
            give: GiveWay::Filler,
        };
        let points = sweep
            .run(
                &f,
                f.active,
                &context(),
                &Supply::default(),
                &Progress::default(),
            )
            .unwrap();
        // With 1 % salt no more than 99 % fits.
        assert!(!points[9].out_of_reach);
        assert!(points[10].out_of_reach);
        assert_eq!(points[10].values[0], None);
    }

    #[test]
    fn a_stopped_sweep_says_so_and_bad_questions_are_refused() {
        let f = gel();
        let progress = Progress::default();
        progress.stop();
        let mut sweep = Sweep {
            axes: vec![axis(11, 0, 40, 41)],
            quantities: Vec::new(),
            give: GiveWay::Filler,
        };
        let run = |sweep: &Sweep, progress: &Progress| {
            sweep.run(&f, f.active, &context(), &Supply::default(), progress)
        };
        assert_eq!(run(&sweep, &progress), Err(SweepError::Cancelled));
        let fresh = Progress::default();
        sweep.axes[0].line = ItemId(10);
        assert!(matches!(run(&sweep, &fresh), Err(SweepError::Edit(_))));
        sweep.axes[0] = axis(11, 40, 0, 41);
        assert!(matches!(run(&sweep, &fresh), Err(SweepError::BadRange(..))));
        sweep.axes[0] = axis(11, 0, 40, 1_000_000);
        assert!(matches!(run(&sweep, &fresh), Err(SweepError::TooMany(_))));
        sweep.axes = vec![axis(11, 0, 40, 41); 2];
        assert_eq!(run(&sweep, &fresh), Err(SweepError::BadAxes));
    }
}
