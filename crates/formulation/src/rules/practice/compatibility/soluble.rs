//! What of a substance does not dissolve in the water and in what else holds it.

use super::super::{LineWithMaterial, Scene, names};
use super::table::{Group, Soluble};
use crate::chemistry::substances;
use crate::finding::{Finding, FindingValue, Level, Limit, Matter};
use crate::quantity::MassFraction;

impl Scene<'_> {
    /// What of a substance does not dissolve in the water and in what else holds it.
    pub(super) fn dissolves(&self, soluble: &Soluble) -> Option<Finding> {
        let present = &self.present;
        let amount = present.percent(soluble.of);
        let water = self.of.composition.water().typical.as_percent();
        let places = present.lines(soluble.of);
        // In a product without a water phase it is a powder among others, as it is where the
        // product is made of it.
        let is_meant = || self.at(places).all(|l| self.is_what_it_is_made_of(l));
        if amount <= 0.0 || water < 10.0 || is_meant() {
            return None;
        }
        // The charged form dissolves freely; where the pH is a range, most of it may.
        let counted =
            substances::by_name(soluble.name.spelling()).is_some_and(|s| !s.brings.is_empty());
        let own = soluble.own_ph().filter(|_| !counted);
        let charged = match (soluble.pka, self.ph.dissolving(own)) {
            (Some(pka), Some(ph)) => 10.0_f64.powf(ph - pka),
            _ => 0.0,
        };
        let in_water = water / 100.0 * soluble.grams * (1.0 + charged);
        // What is itself of the group that would hold it does not hold itself.
        let itself = |group: Group| -> f64 {
            let both = |l: &&LineWithMaterial<'_>| l.groups.has(soluble.of) && l.groups.has(group);
            let dose = |l: &LineWithMaterial<'_>| l.line.percent.as_percent();
            self.laid.iter().filter(both).map(dose).sum()
        };
        let held: f64 = soluble
            .held_by
            .iter()
            .map(|&(group, grams)| (present.percent(group) - itself(group)).max(0.0) * grams)
            .sum();
        // Handbooks differ by a tenth among themselves.
        if amount <= 1.1 * (in_water + held) {
            return None;
        }
        let name = names(self.at(places));
        let at = match soluble.pka {
            Some(_) if charged > 0.0 => format!(" at {}", self.ph.words()),
            _ => String::new(),
        };
        let beside = if held > 0.005 {
            format!(" and solvents hold about {held:.1} % more")
        } else {
            String::new()
        };
        let message = format!(
            "{name}: {amount:.2} % of {} is more than dissolves; the water takes up about {in_water:.2} %{at}{beside}. The rest stays or falls out as crystals. Use less, add what dissolves it, or mill it fine and suspend it.",
            soluble.name
        );
        Some(
            Finding::new(Level::Caution, "insoluble", message, soluble.source.clone())
                .on(self.at(places).map(|l| l.line.id).collect::<Vec<_>>())
                .about(Matter::of(&format!("solubility {}", soluble.name.folded())))
                .against(
                    FindingValue::Share(MassFraction::from_percent(amount)),
                    Limit::AtMost(FindingValue::Share(MassFraction::from_percent(
                        in_water + held,
                    ))),
                ),
        )
    }
}
