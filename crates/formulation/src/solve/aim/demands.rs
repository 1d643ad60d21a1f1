//! Every demand that binds a question: its targets, the lines held or bounded by their maker,
//! the limits that are on, and the stock.

use super::{Aim, AimError, Prepared};
use crate::composition::is_water;
use crate::quantity::{Mass, in_grams};
use crate::solve::demand::{Demand, DemandOrigin, FigureStyle};
use crate::solve::fixed_point::FixedPoint;
use crate::solve::subject::{LinearRatio, Unknown};

impl Prepared<'_> {
    /// Every demand that is on.
    pub(super) fn demands(&self, aim: &Aim, fixed: &FixedPoint) -> Result<Vec<Demand>, AimError> {
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
                    form: LinearRatio::sum(weights.clone()),
                    low,
                    high,
                    figure: FigureStyle::PERCENT,
                });
            };
            if unknown.held {
                let at = unknown.present;
                let value = at.as_percent();
                let words = format!("{name} held at {at} %");
                bound(DemandOrigin::Held(unknown.line), words, value, value);
                continue;
            }
            if let Some(min) = unknown.min {
                let words = format!("at least {min} % {name} (your own bound)");
                let low = min.as_percent();
                bound(
                    DemandOrigin::OwnLeast(unknown.line),
                    words,
                    low,
                    f64::INFINITY,
                );
            }
            if let Some(max) = unknown.max {
                let words = format!("at most {max} % {name} (your own bound)");
                let high = max.as_percent();
                bound(
                    DemandOrigin::OwnMost(unknown.line),
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
                    DemandOrigin::Limit(key) => !aim.without.contains(key),
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
    pub(super) fn without_stock(&self) -> Vec<&str> {
        let mut names: Vec<&str> = Vec::new();
        for unknown in self.subject.unknowns() {
            let Some(material) = &unknown.material else {
                continue;
            };
            let known =
                is_water(material) || self.subject.supply().stock.contains_key(&material.id);
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
            let origin = DemandOrigin::Stock(material.id.clone());
            if is_water(material) || demands.iter().any(|d| d.origin == origin) {
                continue;
            }
            let Some(stock) = self.subject.supply().stock.get(&material.id) else {
                continue;
            };
            let there = in_grams(*stock);
            let same = |u: &Unknown| u.material.as_ref().is_some_and(|m| m.id == material.id);
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
                form: LinearRatio::sum(
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
