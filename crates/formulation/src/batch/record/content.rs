//! What is in the containers, beside the net contents on the label.

use super::point::{Identity, Point};
use super::{Quality, Record};
use crate::amount::measure::tidy;
use crate::amount::typed;
use crate::batch::weighing_scale::WeighingScale;
use crate::chemistry::figure::Figure;
use crate::label_info::NetContents;
use crate::mass::ExactMass;
use crate::material::Basis;
use crate::quantity::{in_grams, in_kg_per_m3, in_millilitres};

/// Where it is written that the packs of a batch hold what they state on average.
const MEAN_RULE: &str =
    "Directive 76/211/EEC, Annex I; GB: Weights and Measures (Packaged Goods) Regulations 2006";

/// A density, g/ml, from the lowest to the highest it may be, and where it is from.
struct Known {
    low: f64,
    high: f64,
    from: &'static str,
}

impl Known {
    const fn exact(g_ml: f64, from: &'static str) -> Self {
        Self {
            low: g_ml,
            high: g_ml,
            from,
        }
    }

    fn words(&self) -> String {
        let Self { low, high, from } = self;
        if low < high {
            format!("{low:.3} to {high:.3} g/ml, {from}")
        } else {
            format!("{low:.3} g/ml, {from}")
        }
    }
}

impl Record {
    /// The density of the batch: measured on it, or the one its sheet uses; where that is an
    /// estimate, with the range of the estimate of the mix as weighed.
    fn density_known(&self, of_mix: Option<&Figure>) -> Option<Known> {
        let measured = self.last_measured(Quality::Density);
        if let Some(density) = measured.and_then(|m| typed::density(m.value.trim()).ok()) {
            let g_ml = in_kg_per_m3(density) / 1000.0;
            return Some(Known::exact(g_ml, "measured on this batch"));
        }
        if let Some(used) = &self.opening.density
            && used.source.basis != Basis::Estimate
        {
            let g_ml = in_kg_per_m3(used.value) / 1000.0;
            return Some(Known::exact(g_ml, used.source.basis.label()));
        }
        let figure = of_mix?;
        if let Some(measured) = figure.measured {
            return Some(Known::exact(measured / 1000.0, Basis::Measured.label()));
        }
        Some(Known {
            low: figure.low? / 1000.0,
            high: figure.high? / 1000.0,
            from: Basis::Estimate.label(),
        })
    }

    /// That the containers hold on average surely less than the label states. Whether each of
    /// them lies within its tolerance cannot be told from a sum.
    pub(super) fn underfilled(&self, density: Option<&Figure>) -> Option<Point> {
        let (count, filled, ..) = self.state.filled?;
        let net = self.opening.variant().label.net_contents?;
        let scales = self.opening.scales.iter();
        let step = scales.map(WeighingScale::resolution).min()?;
        let each = |mass: ExactMass| mass.as_grams() / f64::from(count.max(1));
        // The sum is read to a step of the scale.
        let (mean, most) = (each(filled), each(filled) + each(step) / 2.0);
        let (stated, holds, unit, at) = match net {
            _ if count == 0 => return None,
            NetContents::Pieces(_) => return None,
            NetContents::Mass(mass) => {
                let stated = in_grams(mass);
                (most < stated).then_some((stated, mean, "g", String::new()))?
            }
            NetContents::Volume(volume) => {
                let known = self.density_known(density)?;
                let stated = in_millilitres(volume);
                let at = format!(" at {}", known.words());
                (most / known.low < stated).then_some((stated, mean / known.low, "ml", at))?
            }
        };
        let holds = (holds * 100.0 + 1e-6).floor() / 100.0;
        let net = format!("{} {unit}", tidy(stated, 3));
        let filled = self.mass_words(None, filled);
        let most = if at.contains(" to ") { "at most " } else { "" };
        Some(Point::open(
            Identity::new("underfilled")
                .with(count)
                .with(&filled)
                .with(&net)
                .with(holds),
            format!(
                "the containers hold {most}{} {unit} on average ({filled} in {count}{at}), less than the {net} on the label, which a batch must hold on average ({MEAN_RULE}); whether each pack is within its tolerance is not checked",
                tidy(holds, 2)
            ),
        ))
    }
}
