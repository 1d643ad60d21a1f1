//! What the maker puts in place of an amount that the table leaves open: a range, drops,
//! spoons, a q.s. that takes up the rest.

use std::fmt;

use rust_decimal::Decimal;

use super::RecipeSettings;
use super::reader::{Read, Reader};
use crate::amount::number::{self, DecimalMark, Unit};
use crate::file::table::{Cell, Shown};

/// An amount that the maker gives for a row, in place of what stands in the table.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct GivenAmount {
    /// The number, not below 0.
    pub value: Decimal,
    /// Its unit; without one it is in that of the column, and percent in running text.
    pub unit: Option<Unit>,
}

impl GivenAmount {
    /// Reads an amount as typed: "3", "3 %", "0,4 g". `mark` is the decimal mark of the
    /// maker, if it is known; what could be read in two ways is refused, and so is whatever
    /// leaves something open, such as a range.
    pub fn typed(text: &str, mark: Option<DecimalMark>) -> Result<Self, String> {
        let amount = number::amount(text, mark).map_err(|error| error.to_string())?;
        let shown = text.trim();
        if let Some(or) = amount.or {
            return Err(format!(
                "“{shown}” may be {} or {}; write it with another number of decimals",
                amount.value.normalize(),
                or.normalize()
            ));
        }
        if amount.currency.is_some() {
            return Err(format!(
                "“{shown}” is a price; write an amount such as 3 % or 0.4 g"
            ));
        }
        if amount.value < Decimal::ZERO {
            return Err(format!("“{shown}” is below 0"));
        }
        Ok(Self {
            value: amount.value,
            unit: amount.unit,
        })
    }

    /// As a cell of the table would hold it.
    fn cell(self) -> Cell {
        Cell::Number {
            value: self.value,
            shown: self.unit.map_or(Shown::Plain, Shown::In),
        }
    }
}

impl fmt::Display for GivenAmount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.value.normalize())?;
        self.unit.map_or(Ok(()), |unit| write!(f, " {unit}"))
    }
}

impl RecipeSettings {
    /// Puts an amount as typed in place of what a row, counted from 1, says. The recipe has to
    /// be read anew: whatever follows from the amounts, such as the total, follows from this one.
    ///
    /// It is taken for a row of one line; where several materials stand in a row of running
    /// text, nothing says which of them is meant, which [`super::RecipeProposal::assumed`] tells.
    pub fn set_amount(&mut self, row: usize, typed: &str) -> Result<(), String> {
        let given = GivenAmount::typed(typed, self.mark)?;
        self.fillers.retain(|filler| *filler != row);
        self.amounts.insert(row, given);
        Ok(())
    }

    /// Lets the q.s. of a row, counted from 1, take up the rest to 100 %, whatever its material
    /// is. Only one line can. The recipe has to be read anew.
    pub fn take_up_the_rest(&mut self, row: usize) {
        self.amounts.remove(&row);
        self.fillers = vec![row];
    }
}

impl Reader<'_> {
    /// The amount that the maker gives for a row of a table with columns.
    pub(super) fn given(&self, row: usize, name: &str) -> Option<Read> {
        let given = self.settings.amounts.get(&(row + 1))?;
        let of_column = match self.percent {
            Some(_) => Some(Unit::Percent),
            None => (self.layout.unit(super::ColumnKind::Amount))
                .or(self.usual_unit.map(|(unit, _)| unit)),
        };
        let unit = of_column.filter(|_| !self.in_text());
        Some(self.read_cell(&given.cell(), unit, name))
    }

    /// Whether the maker gives the amount of a row.
    pub(super) fn is_given(&self, row: usize) -> bool {
        self.settings.amounts.contains_key(&(row + 1))
    }
}

#[cfg(test)]
mod tests {
    use super::super::{LineQuantity, propose};
    use super::*;
    use crate::file::table::read_text;
    use crate::naming::Resolver;
    use crate::shelf::built_in;

    fn lines(text: &str, settings: &RecipeSettings) -> (Vec<LineQuantity>, Vec<String>) {
        let table = read_text(text).unwrap().remove(0);
        let proposal = propose(&table, "Test", settings, &Resolver::new(built_in())).unwrap();
        let quantities = proposal.lines.iter().map(|l| l.quantity.clone()).collect();
        let amounts = proposal.lines.iter().filter(|l| l.amount_doubts > 0);
        let asked = amounts.map(|l| l.doubts.join("; ")).collect();
        (quantities, asked)
    }

    /// A range, drops and a q.s. of what is not water are settled, and nothing is asked of
    /// them any more.
    #[test]
    fn what_the_maker_gives_stands_for_what_was_open() {
        let text = "Ingredient,%\nShea butter,q.s.\nGlycerin,3-7\nBeeswax,20\n";
        let mut settings = RecipeSettings::default();
        let (_, asked) = lines(text, &settings);
        assert_eq!(asked.len(), 2, "{asked:?}");
        settings.take_up_the_rest(2);
        settings.set_amount(3, "3").unwrap();
        let (quantities, asked) = lines(text, &settings);
        let percent = |v: i64| LineQuantity::Percent(Decimal::from(v));
        assert_eq!(quantities, [LineQuantity::Rest, percent(3), percent(20)]);
        assert_eq!(asked, [""; 0]);
        // The one replaces the other.
        settings.set_amount(2, "77 %").unwrap();
        let (quantities, _) = lines(text, &settings);
        assert_eq!(quantities, [percent(77), percent(3), percent(20)]);
    }

    #[test]
    fn drops_are_what_the_maker_weighed() {
        let text = "Ingredient;Amount\nOlive oil;95 g\nLavender oil;20 drops\n";
        let mut settings = RecipeSettings::default();
        assert_eq!(lines(text, &settings).1.len(), 1);
        settings.set_amount(3, "0,62 g").unwrap();
        let (quantities, asked) = lines(text, &settings);
        assert_eq!(quantities[1], LineQuantity::Grams(Decimal::new(62, 2)));
        assert_eq!(asked, [""; 0]);
    }

    /// In a column stored as fractions the maker types what is shown: 3 is 3 %.
    #[test]
    fn an_amount_is_percent_where_fractions_are_stored() {
        let text = "Ingredient,%\nWater,0.9\nGlycerin,0.04-0.06\nBeeswax,0.05\n";
        let mut settings = RecipeSettings::default();
        settings.set_amount(3, "5").unwrap();
        let (quantities, _) = lines(text, &settings);
        assert_eq!(quantities[1], LineQuantity::Percent(Decimal::from(5)));
    }

    #[test]
    fn running_text_takes_it_where_one_material_stands_in_the_row() {
        let text = "- 90 % water\n- 3-7 % glycerin\n- 5 % beeswax\n";
        let mut settings = RecipeSettings::default();
        settings.set_amount(2, "5").unwrap();
        let (quantities, asked) = lines(text, &settings);
        assert_eq!(quantities[1], LineQuantity::Percent(Decimal::from(5)));
        assert_eq!(asked, [""; 0]);
    }

    #[test]
    fn what_leaves_something_open_is_no_amount() {
        let mut settings = RecipeSettings::default();
        for text in ["3-7", "", "q.s.", "-1", "1,234", "5 EUR", "a pinch"] {
            assert!(settings.set_amount(1, text).is_err(), "{text}");
        }
        assert!(settings.amounts.is_empty());
        assert_eq!(
            GivenAmount::typed("0,4g", None).unwrap().to_string(),
            "0.4 g"
        );
    }
}
