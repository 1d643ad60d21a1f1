//! Drops and spoons: what one of them weighs is said once, for all rows counted in it.

use rust_decimal::Decimal;

use super::Settings;
use super::reader::Reader;
use crate::amount::typed::AmountError;
use crate::file::table::amounts::CountedMeasure;
use crate::mass::{ExactMass, MassUnit, read_mass};

impl Settings {
    /// What one of a measure weighs, as typed: "0.03 g"; a bare number is grams. The recipe has
    /// to be read anew.
    pub fn set_measure(&mut self, name: &'static str, typed: &str) -> Result<(), AmountError> {
        let each = read_mass(typed, Some(MassUnit::Gram))?;
        if each <= ExactMass::ZERO {
            return Err(AmountError::OutOfRange {
                text: typed.trim().to_owned(),
                what: "what one of a measure weighs",
                least: "0.001 g".to_owned(),
                most: "1 kg".to_owned(),
            });
        }
        self.measures.insert(name, each.decimal_grams());
        Ok(())
    }
}

impl Reader<'_> {
    /// What so many of a measure weigh, in grams, if the maker says what one of them does.
    pub(super) fn weighed(&self, measured: CountedMeasure) -> Option<Decimal> {
        let each = self.settings.measures.get(measured.name)?;
        each.checked_mul(measured.count)
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Quantity, propose};
    use super::*;
    use crate::file::table::read_text;
    use crate::naming::Resolver;
    use crate::shelf::built_in;

    #[test]
    fn the_weight_of_a_measure_is_said_once_for_all_rows() {
        let text = "Ingredient,Amount\nJojoba oil,95 g\nVitamin E,20 drops\nLavender oil,10 drops\nShea butter,1 tsp\n";
        let table = read_text(text).unwrap().remove(0);
        let resolver = Resolver::new(built_in());
        let mut settings = Settings::default();
        let read = |settings: &Settings| propose(&table, "Test", settings, &resolver).unwrap();
        let measures = |settings: &Settings| -> Vec<Option<&str>> {
            read(settings).lines.iter().map(|l| l.measure).collect()
        };
        let drop = Some("a drop");
        assert_eq!(measures(&settings), [None, drop, drop, Some("a teaspoon")]);
        settings.set_measure("a drop", "0.03 g").unwrap();
        assert_eq!(measures(&settings), [None, None, None, Some("a teaspoon")]);
        let proposal = read(&settings);
        let grams = |n: usize| proposal.lines[n].quantity.clone();
        assert_eq!(grams(1), Quantity::Grams(Decimal::new(60, 2)));
        assert_eq!(grams(2), Quantity::Grams(Decimal::new(30, 2)));
        let asked = |n: usize| proposal.lines[n].amount_doubts;
        assert_eq!((asked(1), asked(2)), (0, 0));
        assert!(asked(3) > 0);
    }

    #[test]
    fn what_a_measure_weighs_is_a_mass() {
        let mut settings = Settings::default();
        for text in ["0 g", "3 %", "2 ml", "1-2 g", ""] {
            assert!(settings.set_measure("a drop", text).is_err(), "{text}");
        }
        assert!(settings.measures.is_empty());
    }
}
