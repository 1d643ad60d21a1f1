//! Drops and spoons: what one of them weighs is said once, for all rows counted in it.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use super::reader::Reader;
use super::{LineQuantity, RecipeProposal, RecipeSettings};
use crate::amount::typed::AmountError;
use crate::file::table::Table;
use crate::file::table::amounts::{self, CountedMeasure, WrittenAmount};
use crate::mass::{ExactMass, MassUnit, read_mass};

/// A table of more rows is no note of a kitchen.
const MOST_ROWS: usize = 500;

impl RecipeSettings {
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
    /// Takes parts as the masses that they are where the text says what one weighs and drops or
    /// masses stand beside them.
    pub(super) fn weigh_parts(&self, proposal: &mut RecipeProposal) {
        let has = |of: fn(&LineQuantity) -> bool| proposal.lines.iter().any(|l| of(&l.quantity));
        let mixed = has(|q| matches!(q, LineQuantity::Parts(_)))
            && has(|q| matches!(q, LineQuantity::Grams(_) | LineQuantity::Millilitres(_)));
        let rows = 0..self.table.rows.len().min(MOST_ROWS);
        let said = rows
            .into_iter()
            .find_map(|row| Some((row, amounts::grams_of_a_part(&self.row_text(row))?)));
        let Some((row, each)) = said.filter(|_| mixed) else {
            return;
        };
        for line in &mut proposal.lines {
            if let LineQuantity::Parts(count) = line.quantity {
                line.quantity = LineQuantity::Grams(count.saturating_mul(each));
            }
        }
        proposal.notes.push(format!(
            "row {} says that a part weighs {} g, so it was taken as that",
            row + 1,
            each.normalize()
        ));
        // The mass of a part is no size of a batch.
        proposal.batch = None;
    }

    /// What so many of a measure weigh, in grams, if the maker says what one of them does.
    pub(super) fn weighed(&self, measured: CountedMeasure) -> Option<Decimal> {
        let said = self.settings.measures.get(measured.name);
        let by_key = || self.keys.get(measured.name).map(|(each, _)| each);
        said.or_else(by_key)?.checked_mul(measured.count)
    }

    /// Tells where the weight of a measure is from, if the text itself says it.
    pub(super) fn tell_of_keys(&self, proposal: &mut RecipeProposal) {
        for (name, (each, row)) in &self.keys {
            proposal.notes.push(format!(
                "row {} says that {name} weighs {} g, so it was taken as that",
                row + 1,
                each.normalize()
            ));
        }
    }
}

/// Proposes what one of a measure weighs that nothing tells, where the text states what all makes
/// and everything else is weighed: what is left of the whole is that of all of them.
pub(super) fn tell_by_whole(whole: Option<Decimal>, proposal: &mut RecipeProposal) {
    let Some(whole) = whole else {
        return;
    };
    let names: BTreeSet<&'static str> = proposal.lines.iter().filter_map(|l| l.measure).collect();
    let (Some(name), 1) = (names.first().copied(), names.len()) else {
        return;
    };
    let (mut weighed, mut held) = (Decimal::ZERO, Decimal::ZERO);
    for line in &proposal.lines {
        match (&line.quantity, line.measure) {
            (LineQuantity::Grams(value) | LineQuantity::Millilitres(value), Some(_)) => {
                held += *value;
            }
            (LineQuantity::Grams(value), None) => weighed += *value,
            _ => return,
        }
    }
    let count = CountedMeasure::held_by(name).and_then(|each| held.checked_div(each));
    let left = whole - weighed;
    let each = count.and_then(|count| left.checked_div(count));
    let Some((each, count)) = each.zip(count).filter(|(each, _)| *each > Decimal::ZERO) else {
        return;
    };
    let told = format!(
        "the {} g that are stated leave {} g for {} of them; {name} would weigh {} g",
        whole.normalize(),
        left.normalize(),
        count.round_dp(2).normalize(),
        each.round_dp(3).normalize()
    );
    for line in proposal.lines.iter_mut().filter(|l| l.measure.is_some()) {
        line.doubt_amount(&told);
    }
}

/// What one of a measure weighs by the rows of a table, in grams, each with its row; where two
/// rows differ, nobody knows.
pub(super) fn keys_in(table: &Table) -> BTreeMap<&'static str, (Decimal, usize)> {
    let mut keys: BTreeMap<&'static str, (Decimal, usize)> = BTreeMap::new();
    let mut open: BTreeSet<&'static str> = BTreeSet::new();
    for row in 0..table.rows.len().min(MOST_ROWS) {
        let text = table.row_text(row);
        for (at, _) in text.match_indices('=') {
            let Some((name, each)) = key_at(&text, at) else {
                continue;
            };
            let (known, _) = *keys.entry(name).or_insert((each, row));
            if known != each {
                open.insert(name);
            }
        }
    }
    keys.retain(|name, _| !open.contains(name));
    keys
}

/// The measure on the left of a sign and what one of it weighs by the mass on its right: "1 tbsp
/// = 12 g".
fn key_at(text: &str, sign: usize) -> Option<(&'static str, Decimal)> {
    let (left, right) = (
        text.get(..sign)?.trim_end(),
        text.get(sign + 1..)?.trim_start(),
    );
    let begins = |at: &usize| {
        let before = left
            .get(..*at)
            .and_then(|before| before.chars().next_back());
        before.is_none_or(char::is_whitespace)
    };
    let digits = left
        .char_indices()
        .filter(|(_, c)| c.is_numeric())
        .map(|(at, _)| at);
    let counted = digits.rev().find(begins).and_then(|at| left.get(at..))?;
    let counted = amounts::read(counted, None, None).ok()?.measure?;
    let mut words = right.split_whitespace();
    let (number, unit) = (words.next()?, words.next().unwrap_or_default());
    let masses = [format!("{number} {unit}"), number.to_owned()];
    let grams = masses.iter().find_map(|text| {
        let text = text.trim_end_matches([',', ';', '.', ')']);
        match amounts::read(text, None, None).ok()?.written {
            WrittenAmount::Grams(grams) => Some(grams),
            _ => None,
        }
    })?;
    let each = grams.checked_div(counted.count)?;
    (each > Decimal::ZERO).then_some((counted.name, each))
}

#[cfg(test)]
mod tests {
    use super::super::propose;
    use super::*;
    use crate::file::table::read_text;
    use crate::naming::Resolver;
    use crate::shelf::built_in;

    #[test]
    fn the_weight_of_a_measure_is_said_once_for_all_rows() {
        let text = "Ingredient,Amount\nJojoba oil,95 g\nVitamin E,20 drops\nLavender oil,10 drops\nShea butter,1 tsp\n";
        let table = read_text(text).unwrap().remove(0);
        let resolver = Resolver::new(built_in());
        let mut settings = RecipeSettings::default();
        let read =
            |settings: &RecipeSettings| propose(&table, "Test", settings, &resolver).unwrap();
        let measures = |settings: &RecipeSettings| -> Vec<Option<&str>> {
            read(settings).lines.iter().map(|l| l.measure).collect()
        };
        let drop = Some("a drop");
        assert_eq!(measures(&settings), [None, drop, drop, Some("a teaspoon")]);
        settings.set_measure("a drop", "0.03 g").unwrap();
        assert_eq!(measures(&settings), [None, None, None, Some("a teaspoon")]);
        let proposal = read(&settings);
        let grams = |n: usize| proposal.lines[n].quantity.clone();
        assert_eq!(grams(1), LineQuantity::Grams(Decimal::new(60, 2)));
        assert_eq!(grams(2), LineQuantity::Grams(Decimal::new(30, 2)));
        let asked = |n: usize| proposal.lines[n].amount_doubts;
        assert_eq!((asked(1), asked(2)), (0, 0));
        assert!(asked(3) > 0);
    }

    #[test]
    fn the_text_says_itself_what_a_measure_weighs() {
        let keys = |text: &str| keys_in(&read_text(text).unwrap()[0]);
        let two = "Balm\n\nKey: here 1 tbsp = 12 g and 2 tsp = 8 g, for all.\n\n3 tbsp olive oil\n";
        let found = keys(two);
        assert_eq!(found.get("a tablespoon"), Some(&(Decimal::from(12), 2)));
        assert_eq!(found.get("a teaspoon"), Some(&(Decimal::from(4), 2)));
        // What differs, or is of one material, says nothing of all.
        assert!(keys("1 tbsp = 12 g\n1 tbsp = 14 g\n").is_empty());
        assert!(keys("1 tbsp shea butter = 12 g\n2 parts = 20 g\n").is_empty());
    }

    #[test]
    fn drops_among_parts_need_the_weight_of_a_part() {
        let resolver = Resolver::new(built_in());
        let read = |text: &str| {
            let table = read_text(text).unwrap().remove(0);
            propose(&table, "Test", &RecipeSettings::default(), &resolver).unwrap()
        };
        let list = "4 parts sunflower oil\n2 parts beeswax\n1 part castor oil\n10 drops lavender essential oil\n";
        let open = read(&format!("Balm\n\n{list}"));
        assert_eq!(
            open.lines[0].quantity,
            LineQuantity::Parts(Decimal::from(4))
        );
        assert_eq!(open.lines[3].quantity, LineQuantity::Parts(Decimal::ZERO));
        assert!(open.lines[3].amount_doubts > 0);
        for said in [
            "I do 10 g to the part.",
            "1 part = 10 g",
            "Meist 10 g je Teil",
        ] {
            let told = read(&format!("Balm\n\n{list}\n{said}\n"));
            assert_eq!(
                told.lines[0].quantity,
                LineQuantity::Grams(Decimal::from(40)),
                "{said}"
            );
            assert_eq!(told.batch, None, "{said}");
            assert!(told.lines[3].amount_doubts > 0);
        }
    }

    #[test]
    fn the_whole_says_what_is_left_for_spoons() {
        let resolver = Resolver::new(built_in());
        let doubts = |text: &str| -> Vec<String> {
            let table = read_text(text).unwrap().remove(0);
            let proposal = propose(&table, "Test", &RecipeSettings::default(), &resolver).unwrap();
            let counted = proposal.lines.iter().filter(|l| l.measure.is_some());
            counted.flat_map(|l| l.doubts.clone()).collect()
        };
        let list = "60 g kaolin\n30 g rhassoul clay\n2 tsp honey\n";
        let found = doubts(&format!("Mask\n\n{list}\nAdds up to 102 g.\n"));
        let told = "the 102 g that are stated leave 12 g for 2 of them; a teaspoon would weigh 6 g";
        assert!(found.iter().any(|d| d == told), "{found:?}");
        // Without a whole, or with drops beside the spoons, nothing follows.
        let found = doubts(&format!("Mask\n\n{list}"));
        assert!(!found.iter().any(|d| d.contains("leave")), "{found:?}");
        let found = doubts(&format!(
            "Mask\n\n{list}5 drops lavender oil\n\nMakes 102 g.\n"
        ));
        assert!(!found.iter().any(|d| d.contains("leave")), "{found:?}");
    }

    #[test]
    fn what_a_measure_weighs_is_a_mass() {
        let mut settings = RecipeSettings::default();
        for text in ["0 g", "3 %", "2 ml", "1-2 g", ""] {
            assert!(settings.set_measure("a drop", text).is_err(), "{text}");
        }
        assert!(settings.measures.is_empty());
    }
}
