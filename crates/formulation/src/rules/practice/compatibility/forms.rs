//! Forms of product: told by their type or by what they are made of.

use super::super::{LineWithMaterial, Scene};
use super::table::Form;
use crate::material::ProductKind;
use crate::product_type::ProductType;

impl Scene<'_> {
    /// Whether lye turns fats into soap in the pot.
    pub(in crate::rules::practice) fn is_saponified(&self) -> bool {
        self.of.estimates.makes_soap()
    }

    /// The forms of product that this is one of.
    pub(in crate::rules::practice) fn forms_of_product(&self) -> Vec<&'static Form> {
        let product_type = self.of.variant.product.product_type;
        let water = self.free_water();
        let is = |f: &&Form| {
            let is_dry = f.water_at_most.is_none_or(|most| water <= most);
            let by_type = product_type.is_some_and(|t| f.types.contains(&t));
            let by_make = (f.saponified || !f.made_of.is_empty())
                && (!f.saponified || self.is_saponified())
                && f.made_of.iter().all(|&(g, x)| self.present.percent(g) >= x)
                && f.at_most.iter().all(|&(g, x)| self.present.percent(g) <= x);
            is_dry && (by_type || by_make)
        };
        self.table.forms.iter().filter(is).collect()
    }

    /// Whether a line is what this form of product is made of, so that the usual levels of other
    /// forms say nothing.
    pub(in crate::rules::practice) fn is_what_it_is_made_of(
        &self,
        l: &LineWithMaterial<'_>,
    ) -> bool {
        self.forms
            .iter()
            .any(|f| f.no_usual_level.iter().any(|&g| l.groups.has(g)))
    }

    /// Whether the product stays dry in use.
    fn stays_dry(&self) -> bool {
        self.forms.iter().any(|f| f.stays_dry)
    }

    /// Why the form of product needs no preservative.
    pub(in crate::rules::practice) fn low_risk_form(&self) -> Option<&'static str> {
        self.forms.iter().find_map(|f| f.low_risk.as_deref())
    }

    /// Alcohols that keep organisms down, % of the formula.
    pub(in crate::rules::practice) fn alcohol(&self) -> f64 {
        self.present.percent(self.table.alcohol)
    }

    /// Whether it is rinsed off and kept in a jar or tube that wet hands reach.
    pub(in crate::rules::practice) fn is_taken_with_wet_hands(&self) -> bool {
        let kinds = self.of.variant.product.kinds;
        // Polish and its remover are used dry, and what is mostly solvent lets nothing grow.
        let of_nails = self.of.variant.product.product_type == Some(ProductType::NailCare);
        kinds.contains(ProductKind::RinseOff) && !of_nails && !self.stays_dry()
    }
}
