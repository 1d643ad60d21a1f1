//! The way out of an overshot line.

use std::collections::BTreeMap;

use super::{LineState, Obstacle, Record, Rescue};
use crate::batch::rounding::round_with_filler;
use crate::formula::{Date, ItemId};
use crate::mass::ExactMass;
use crate::material::MaterialId;
use crate::quantity::Percent;
use crate::stock::{LotUsage, Stock};

impl Record {
    /// The way out if a line is over its tolerance: the batch in which what was weighed of
    /// the line that is furthest over is right. `None` if no line is over. It is a
    /// proposal; nothing changes until a [`super::Event::Rescaled`] is recorded. `usage` counts
    /// what other batches took.
    pub fn rescue(&self, stock: Option<(&Stock, &LotUsage, Date)>) -> Option<Rescue> {
        let opening = &self.opening;
        let worst = self
            .lines()
            .filter(|s| s.state == LineState::Over && s.planned > ExactMass::ZERO)
            .max_by(|a, b| a.relative().value().total_cmp(&b.relative().value()))?;
        let total: ExactMass = self.state.planned.values().copied().sum();
        let variant = opening.variant();
        let percent = |line: ItemId| variant.line(line).map_or(Percent::ZERO, |l| l.percent);
        let percents: Vec<Percent> = opening.lines.iter().map(|l| percent(l.line)).collect();
        let sum: Percent = percents.iter().copied().sum();
        let share = percent(worst.line);
        if share <= Percent::ZERO {
            return None;
        }
        let batch = worst.actual.ratio(sum.units().into(), share.units().into());
        let filler = opening.lines.iter().position(|l| variant.is_filler(l.line));
        let rounding = round_with_filler(&percents, filler, batch, &opening.scales).ok()?;
        let mut masses = Vec::with_capacity(opening.lines.len());
        let mut top_ups = Vec::new();
        for (to_weigh, rounded) in opening.lines.iter().zip(&rounding.lines) {
            let actual = self.weighed_in(to_weigh.line);
            let mass = if to_weigh.line == worst.line {
                worst.actual
            } else {
                rounded.mass
            };
            masses.push((to_weigh.line, mass));
            if actual > ExactMass::ZERO && mass > actual {
                top_ups.push((to_weigh.line, mass - actual));
            }
        }
        let batch: ExactMass = masses.iter().map(|(_, m)| *m).sum();
        let mut obstacles = Vec::new();
        if let Some(vessel) = &opening.vessel {
            match &opening.density {
                Some(density) => {
                    let volume = batch.mass() / density.value;
                    let working = vessel.working_volume();
                    if volume > working {
                        obstacles.push(Obstacle::Vessel { volume, working });
                    }
                }
                None => obstacles.push(Obstacle::VesselUnknown),
            }
        }
        if let Some((stock, usage, day)) = stock {
            let mut still: BTreeMap<&MaterialId, ExactMass> = BTreeMap::new();
            for (line, mass) in &masses {
                if let Some(l) = variant.line(*line) {
                    let missing = (*mass - self.weighed_in(*line)).max(ExactMass::ZERO);
                    *still.entry(&l.material).or_default() += missing;
                }
            }
            for (material, needed) in still {
                let short = stock.draw(material, needed, usage, day).short;
                let formula = &self.opening().formula;
                let from_the_tap = formula
                    .material(material)
                    .is_some_and(|m| stock.is_from_the_tap(m));
                if short > ExactMass::ZERO && !from_the_tap {
                    obstacles.push(Obstacle::Stock {
                        material: material.clone(),
                        short,
                    });
                }
            }
        }
        Some(Rescue {
            line: worst.line,
            factor: batch.as_grams() / total.as_grams(),
            batch,
            masses,
            top_ups,
            obstacles,
        })
    }
}
