//! Whether a product is one in which organisms do not grow, by the criteria of ISO 29621
//! (cosmetics, microbiologically low-risk products), as public summaries of laboratories give
//! them: more than 20 % alcohol, water activity below 0.75, pH below 3 or above 10, no water,
//! filled above 65 °C.

use super::{LineWithMaterial, Scene};
use crate::amount::measure::{Measure, tidy};
use crate::amount::typed::shown_temperature;
use crate::material::Class;
use crate::mixture::{self, IngredientStatus, View};
use crate::quantity::in_celsius;

/// Alcohol, % of the formula.
const ALCOHOL_ABOVE: f64 = 20.0;
/// Water activity.
pub(super) const WATER_ACTIVITY_BELOW: f64 = 0.75;
/// Room to spare where the estimate lies below the range it was tested in; our choice.
const UNTESTED: f64 = 0.05;
/// pH.
const PH: (f64, f64) = (3.0, 10.0);
/// Temperature of filling, °C.
const FILLED_ABOVE: f64 = 65.0;
/// A material with less water than this is a powder, wax, salt or soap whose moisture is bound;
/// common practice, no source. It is not the rule of the label (`mixture`), by which the 13 % of
/// soap noodles are an ingredient.
const BOUND_BELOW: f64 = 0.2;

/// A water activity as it is shown everywhere.
fn shown(activity: f64) -> String {
    Measure::WATER_ACTIVITY.shown(activity)
}

impl Scene<'_> {
    /// Water that is not the moisture of solids or bound in their crystals, % of the formula.
    pub(super) fn free_water(&self) -> f64 {
        let of_line = |l: &LineWithMaterial<'_>| {
            let water = mixture::share_of(l.material, View::ByComponent, |c| {
                c.constituent.class == Class::Water && c.standing != IngredientStatus::Incidental
            });
            if water < BOUND_BELOW || self.table.binds_its_water(l.groups) {
                0.0
            } else {
                l.line.percent.as_percent() * water
            }
        };
        self.laid.iter().map(of_line).sum()
    }

    /// Why organisms do not grow in it, if so.
    pub(super) fn low_risk(&self) -> Option<String> {
        let alcohol = self.alcohol();
        if alcohol > ALCOHOL_ABOVE {
            return Some(format!(
                "it holds {alcohol:.0} % alcohol, more than {ALCOHOL_ABOVE:.0} %"
            ));
        }
        let figure = &self.of.estimates.water_activity;
        if let Some(measured) = figure.measured {
            // Two decimals are what a meter of the workshop tells.
            if (100.0 * measured).round() < 100.0 * WATER_ACTIVITY_BELOW {
                return Some(format!(
                    "its water activity is {} (measured), below {WATER_ACTIVITY_BELOW}",
                    shown(measured)
                ));
            }
        } else if let Some(high) = figure.high
            && (100.0 * (high + if figure.in_range { 0.0 } else { UNTESTED })).round()
                < 100.0 * WATER_ACTIVITY_BELOW
        {
            return Some(format!(
                "its water activity is estimated at {} at most, below {WATER_ACTIVITY_BELOW}",
                shown(high)
            ));
        }
        if self.ph.is_measured()
            && let Some(why) = self.low_risk_ph()
        {
            return Some(why);
        }
        if let Some(why) = self.low_risk_form() {
            return Some(why.to_owned());
        }
        self.filled_hot()
            .map(|hot| format!("it is filled at {hot}, above {FILLED_ABOVE:.0} °C"))
    }

    /// An estimated water activity about as low as organisms need to be kept from growing, in
    /// words: its middle lies there, its range may not.
    pub(super) fn low_activity(&self) -> Option<String> {
        let figure = &self.of.estimates.water_activity;
        let estimated = figure.value?;
        let beyond = if figure.in_range {
            ""
        } else {
            ", beyond what the method was tried on"
        };
        let range = match (figure.low, figure.high) {
            (Some(low), Some(high)) => format!(" ({} to {}{beyond})", shown(low), shown(high)),
            _ => String::new(),
        };
        (estimated < WATER_ACTIVITY_BELOW).then(|| {
            format!(
                "the water activity is below {WATER_ACTIVITY_BELOW}; it is estimated at {}{range}",
                shown(estimated)
            )
        })
    }

    /// The pH at which organisms hardly grow, in words, if it lies there.
    pub(super) fn low_risk_ph(&self) -> Option<String> {
        if self.ph.is_below(PH.0) {
            return Some(format!("it stands at {}, below {}", self.ph.words(), PH.0));
        }
        self.ph
            .is_above(PH.1)
            .then(|| format!("it stands at {}, above {}", self.ph.words(), PH.1))
    }

    /// How hot it is filled, in words, if the last step says that it is and that is hot enough.
    fn filled_hot(&self) -> Option<String> {
        let last = self.of.variant.phases.iter().rev();
        let step = last.flat_map(|p| p.steps.iter().rev()).next()?;
        let fills = step
            .text
            .split(|c: char| !c.is_alphabetic())
            .any(|word| ["fill", "filled", "filling", "pour"].contains(&&*word.to_lowercase()));
        let temperature = step.temperature.filter(|_| fills)?;
        // No finer than it is shown, so that nothing is said to be above itself.
        (tidy(in_celsius(temperature), 1) > FILLED_ABOVE).then(|| shown_temperature(temperature))
    }
}
