//! Demands: everything a proposal must keep, in words and as limits on a quantity.

use std::sync::Arc;

use crate::amount::{Digits, Measure};
use crate::formula::ItemId;
use crate::material::MaterialId;

use super::subject::LinearRatio;
use super::target::TargetQuantity;
use crate::optimise::programme::LinearDemand;

/// Where a demand comes from.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum DemandOrigin {
    /// The target of this number.
    Target(usize),
    /// The line is held.
    Held(ItemId),
    /// The maker's own lowest percentage of a line.
    OwnLeast(ItemId),
    /// The maker's own highest percentage of a line.
    OwnMost(ItemId),
    /// A legal or supplier limit.
    Limit(LimitKey),
    /// The stock of a material.
    Stock(MaterialId),
    /// The dose of acid or base that the pH takes.
    Dose(ItemId),
    /// What was tried of a material, where something learnt from trials is asked for.
    Tried(MaterialId),
}

/// Identity of a limit: the rule and the lines it binds. A limit that is switched
/// off is remembered by it.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct LimitKey {
    /// The rule, for example `EU V/29`.
    pub rule: Arc<str>,
    /// The lines it binds, in working order.
    pub lines: Vec<ItemId>,
}

/// Least divisor of a ratio, in the unit of the divisor, mostly % w/w: a ratio to nothing
/// has no value, so it can meet no demand.
pub const LEAST_DIVISOR: f64 = 0.01;

/// Something a proposal must keep.
#[derive(Clone, PartialEq, Debug)]
pub struct Demand {
    /// Where it comes from.
    pub origin: DemandOrigin,
    /// In words, for example “at least 14 % active matter”.
    pub words: String,
    /// The name of the quantity alone.
    pub name: String,
    /// The quantity as weights per 1 % of each line, over a second such sum if it is a ratio.
    pub form: LinearRatio,
    /// Least allowed; `-inf` if there is no lower limit.
    pub low: f64,
    /// Most allowed; `+inf` if there is no upper limit.
    pub high: f64,
    /// Digits and unit of figures.
    pub figure: FigureStyle,
}

/// How a figure is written.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct FigureStyle {
    /// Unit and digits.
    pub measure: Measure,
    /// Whether the figure is the natural logarithm of what is written.
    pub logarithmic: bool,
}

impl FigureStyle {
    /// A percentage by weight.
    pub const PERCENT: Self = Self::up_to(2, "%");

    /// That of a quantity.
    pub const fn of(quantity: &TargetQuantity) -> Self {
        Self {
            measure: quantity.measure(),
            logarithmic: false,
        }
    }

    /// So many digits after the point at most, and a unit.
    pub const fn up_to(digits: usize, unit: &'static str) -> Self {
        Self {
            measure: Measure {
                digits: Digits::UpTo(digits),
                unit,
                ..Measure::NUMBER
            },
            logarithmic: false,
        }
    }
    /// What a figure means, in the unit written.
    fn meant(self, value: f64) -> f64 {
        if self.logarithmic { value.exp() } else { value }
    }
    /// Writes a value without trailing zeros.
    pub fn write(self, value: f64) -> String {
        self.measure.shown(self.meant(value))
    }
    /// Writes a value with as many digits as tell it from another.
    pub fn write_apart(self, value: f64, other: f64) -> String {
        let finer = |more| Self {
            measure: self.measure.with_more_digits(more),
            ..self
        };
        (0..5)
            .map(finer)
            .find(|figure| figure.write(value) != figure.write(other))
            .unwrap_or(self)
            .write(value)
    }
    /// Writes by how much a demand is missed, which is never nothing: less than the last
    /// digit is said to be so. A gap of logarithms is written as a part of the value.
    pub fn write_gap(self, gap: f64) -> String {
        if self.logarithmic {
            return Self::up_to(1, "%").write_gap(100.0 * gap.exp_m1());
        }
        let digits = match self.measure.digits {
            Digits::Fixed(digits) | Digits::UpTo(digits) => digits,
            Digits::Significant(_) => return self.write(gap),
        };
        let least = 0.1_f64.powi(digits as i32);
        if gap.abs() < 0.5 * least {
            format!("less than {}", self.write(least))
        } else {
            self.write(gap)
        }
    }
    /// The least difference that can be told apart, in the unit of the figure.
    fn step(self) -> f64 {
        match self.measure.digits {
            Digits::Fixed(digits) | Digits::UpTo(digits) => 0.1_f64.powi(digits as i32),
            // An equality is asked for as a range there.
            Digits::Significant(_) => 2e-6,
        }
    }
}

impl Demand {
    /// The demand as limits on weighted sums; a ratio also asks for a divisor.
    ///
    /// `top / bottom >= low` is the same as `top - low·bottom >= 0` as long as the
    /// bottom is not negative, so nothing is approximated.
    pub fn rows(&self) -> Vec<LinearDemand> {
        let Some(bottom) = &self.form.bottom else {
            return vec![LinearDemand {
                terms: sparse(self.form.top.iter().copied()),
                low: self.low,
                high: self.high,
            }];
        };
        let against = |limit: f64| {
            let pairs = self.form.top.iter().zip(bottom);
            sparse(pairs.map(|(top, bottom)| top - limit * bottom))
        };
        let divisor = LinearDemand::at_least(sparse(bottom.iter().copied()), LEAST_DIVISOR);
        if self.low == self.high {
            return vec![divisor, LinearDemand::equal(against(self.low), 0.0)];
        }
        let mut rows = vec![divisor];
        if self.low.is_finite() {
            rows.push(LinearDemand::at_least(against(self.low), 0.0));
        }
        if self.high.is_finite() {
            rows.push(LinearDemand::at_most(against(self.high), 0.0));
        }
        rows
    }

    /// How far a value is outside, in the unit of the quantity; 0 if it is kept. A ratio
    /// without a divisor is as far outside as its limit.
    pub fn excess(&self, x: &[f64]) -> f64 {
        let outside = |v: f64| (self.low - v).max(v - self.high).max(0.0);
        let limit = if self.low.is_finite() {
            self.low
        } else {
            self.high
        };
        self.form
            .value(x)
            .map_or(limit.abs().max(LEAST_DIVISOR), outside)
    }

    /// The difference that does not count: rounding for an inequality; for an
    /// equality, half of the last digit shown, because percentages come in steps.
    pub fn tolerance(&self) -> f64 {
        if self.low == self.high
            && !matches!(self.origin, DemandOrigin::Held(_) | DemandOrigin::Dose(_))
        {
            0.5 * self.figure.step()
        } else {
            1e-6
        }
    }

    /// The only unknown it speaks of, with its weight, if it is a plain bound.
    pub fn bound(&self) -> Option<(usize, f64)> {
        if self.form.bottom.is_some() {
            return None;
        }
        let mut terms = self.form.top.iter().enumerate().filter(|(_, w)| **w != 0.0);
        let (i, &weight) = terms.next()?;
        (terms.next().is_none() && weight > 0.0).then_some((i, weight))
    }
}

fn sparse(weights: impl Iterator<Item = f64>) -> Vec<(usize, f64)> {
    weights.enumerate().filter(|(_, w)| *w != 0.0).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_is_told_from_the_limit_it_misses() {
        assert_eq!(FigureStyle::PERCENT.write_apart(11.3, 14.0), "11.3 %");
        assert_eq!(FigureStyle::PERCENT.write_apart(0.2504, 0.25), "0.2504 %");
        assert_eq!(FigureStyle::PERCENT.write_apart(0.25, 0.25), "0.25 %");
    }

    #[test]
    fn a_gap_is_never_written_as_nothing() {
        assert_eq!(FigureStyle::PERCENT.write_gap(2.3), "2.3 %");
        assert_eq!(FigureStyle::PERCENT.write_gap(0.004), "less than 0.01 %");
        assert_eq!(FigureStyle::PERCENT.write_gap(0.005_1), "0.01 %");
    }
}
