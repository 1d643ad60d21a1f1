//! How much of each line, in the units that cells and headings tell.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use super::checks::PLAIN_FILLER;
use super::reader::{Read, Reader, Scale};
use super::{LineQuantity, MaterialChoice, RecipeProposal};
use crate::amount::number::{self, DecimalMark, Unit};
use crate::file::table::amounts::{self, AmountReading, WrittenAmount, is_dash};
use crate::file::table::columns::ColumnKind;
use crate::file::table::phase_words::phase_heading;
use crate::file::table::words::is_property;
use crate::file::table::{Cell, Shown};
use crate::naming::Resolver;
use crate::naming::fold::says_water;
use crate::naming::qs::Qs;

impl Reader<'_> {
    /// Amounts of which neither heading nor any cell names a unit are parts.
    pub(super) fn are_parts(&self) -> bool {
        let Some(column) = self.amount else {
            return false;
        };
        let has_unit = |row: usize| {
            self.names_unit(row)
                || match self.table.cell(row, column) {
                    Cell::Number { shown, .. } => !matches!(shown, Shown::Plain | Shown::Money(_)),
                    Cell::Text(text) => {
                        amounts::read(text, None, self.mark).is_ok_and(|a| match a.written {
                            WrittenAmount::Bare(_) => false,
                            // "ad 1000" is of a batch in grams.
                            WrittenAmount::Qs(qs) => {
                                matches!(qs, Qs::ToWhole(Some(w)) if w > Decimal::ONE_HUNDRED)
                            }
                            _ => true,
                        })
                    }
                    _ => false,
                }
        };
        self.percent.is_none()
            && self.layout.unit(ColumnKind::Amount).is_none()
            && !self.rows().any(has_unit)
    }

    /// Whether a row names the unit of its amount in a cell of its own: "g", "mg/kg".
    fn names_unit(&self, row: usize) -> bool {
        let said = self.words(row, ColumnKind::Unit);
        let of_the_whole = || {
            let one = amounts::read(&format!("1 {said}"), None, None);
            one.is_ok_and(|one| matches!(one.written, WrittenAmount::Percent(_)))
        };
        Unit::named(&said).is_some() || !said.is_empty() && of_the_whole()
    }

    /// A sheet stores as fractions of 1 what it shows as per cent. Numbers shown plainly
    /// are fractions too if only so they make the whole.
    pub(super) fn scale_of_percentages(&self) -> Scale {
        let Some(column) = self.percent else {
            return Scale::Percent;
        };
        let (mut shown, mut plain, mut largest) = (Decimal::ZERO, Decimal::ZERO, Decimal::ZERO);
        let (mut count, mut any_shown, mut filler) = (0, false, false);
        let mut to_a_hundred = false;
        for row in self.rows() {
            let name = self.table.cell(row, self.names).words();
            // What follows a whole and a blank row is something else.
            if self.row_text(row).is_empty()
                && count > 2
                && (plain - Decimal::ONE).abs() <= Decimal::new(5, 4)
            {
                break;
            }
            if self.sum(row).is_some()
                || self.table.left_out_reason(row, self.names).is_some()
                // Sums without a word, and those of phases.
                || name.is_empty()
                || phase_heading(&name).is_some()
            {
                continue;
            }
            match self.table.cell(row, column) {
                Cell::Number {
                    value,
                    shown: Shown::Percent,
                } => {
                    shown += *value * Decimal::ONE_HUNDRED;
                    any_shown = true;
                }
                // A unit says what it is.
                Cell::Number {
                    shown: Shown::In(_),
                    ..
                } => return Scale::Percent,
                Cell::Number { value, .. } => {
                    plain += *value;
                    largest = largest.max(*value);
                    count += 1;
                }
                Cell::Text(text) => match amounts::read(text, None, self.mark).map(|a| a.written) {
                    Ok(WrittenAmount::Bare(value)) => {
                        plain += value;
                        largest = largest.max(value);
                        count += 1;
                    }
                    // "ad 100": the others are of a hundred too, unless that is only how the
                    // filler is always written.
                    Ok(WrittenAmount::Qs(Qs::ToWhole(Some(whole)))) if whole >= Decimal::TEN => {
                        to_a_hundred = true;
                    }
                    Ok(WrittenAmount::Qs(_)) => filler = true,
                    // A unit says what it is.
                    Ok(_) => return Scale::Percent,
                    Err(_) => {}
                },
                _ => {}
            }
        }
        let near = |a: Decimal, b: Decimal, slack: Decimal| (a - b).abs() <= slack;
        let half = Decimal::new(5, 1);
        if any_shown {
            let whole = shown + plain * Decimal::ONE_HUNDRED;
            return if near(whole, Decimal::ONE_HUNDRED, half)
                && !near(shown + plain, Decimal::ONE_HUNDRED, half)
            {
                Scale::Fractions
            } else {
                Scale::Percent
            };
        }
        if count == 0 || largest > Decimal::ONE {
            Scale::Percent
        } else if near(plain, Decimal::ONE, Decimal::new(2, 2)) && !self.states_the_product() {
            Scale::Fractions
        } else if to_a_hundred && count > 1 && plain < Decimal::ONE && !self.own {
            Scale::LikelyPercent
        } else if filler && count > 1 && plain < Decimal::ONE && !self.own {
            // With a filler nothing sums up. A recipe with less than 5 % besides its
            // water is rare; our own bound.
            if plain >= Decimal::new(5, 2) {
                Scale::LikelyFractions
            } else {
                Scale::LikelyPercent
            }
        } else {
            Scale::Percent
        }
    }

    /// The quantity of a row: its percentage if there is one, else its amount.
    pub(super) fn quantity(&self, row: usize, name: &str) -> Read {
        if let Some(given) = self.given(row, name) {
            return given;
        }
        if let Some(column) = self.percent {
            let cell = self.table.cell(row, column);
            match self.read_cell(cell, Some(Unit::Percent), name) {
                Read::Nothing => {}
                Read::Quantity(LineQuantity::Percent(value), or, doubts, measure)
                    if self.is_fraction(cell) =>
                {
                    return Read::Quantity(
                        LineQuantity::Percent(value * Decimal::ONE_HUNDRED),
                        or.map(|o| o * Decimal::ONE_HUNDRED),
                        doubts,
                        measure,
                    );
                }
                read => return read,
            }
        }
        let Some(column) = self.amount else {
            return Read::Nothing;
        };
        // Where a column of percentages exists, the amounts only repeat it.
        if self.percent.is_some() {
            return Read::Nothing;
        }
        let said = self.words(row, ColumnKind::Unit);
        let unit = Unit::named(&said).or(self.layout.unit(ColumnKind::Amount));
        let cell = self.table.cell(row, column);
        if Unit::named(&said).is_none() && !said.is_empty() && !is_dash(&said) && !cell.is_empty() {
            return self.in_other_unit(cell, &said, unit, name);
        }
        let read = match unit {
            None => self.in_usual_unit(cell, name),
            Some(_) => None,
        };
        let read = read.unwrap_or_else(|| self.read_cell(cell, unit, name));
        self.together(row, column, read, name)
    }

    /// An amount whose unit stands beside it and is none of mass: "20" and "drops".
    fn in_other_unit(&self, cell: &Cell, said: &str, unit: Option<Unit>, name: &str) -> Read {
        let together = Cell::Text(format!("{} {said}", cell.words()));
        match self.read_cell(&together, unit, name) {
            Read::Unread(_) | Read::Problem(_) => match self.read_cell(cell, unit, name) {
                Read::Quantity(quantity, or, mut doubts, measure) => {
                    doubts.push(format!("its unit “{said}” is not known"));
                    Read::Quantity(quantity, or, doubts, measure)
                }
                read => read,
            },
            read => read,
        }
    }

    /// A number without a unit in a column in which others have one is in the unit of most of
    /// them, and that is asked.
    fn in_usual_unit(&self, cell: &Cell, name: &str) -> Option<Read> {
        let bare = match cell {
            Cell::Number { shown, .. } => *shown == Shown::Plain,
            Cell::Text(text) => number::amount(text, self.mark).is_ok_and(|a| a.unit.is_none()),
            _ => false,
        };
        let (unit, certain) = self
            .usual_unit
            .filter(|(unit, _)| bare && *unit != Unit::Percent)?;
        let mut read = self.read_cell(cell, Some(unit), name);
        if let Read::Quantity(_, _, doubts, _) = &mut read
            && !certain
        {
            doubts.push(format!(
                "{} has no unit and was taken in {unit}, as in other rows",
                cell.words()
            ));
        }
        Some(read)
    }

    /// The unit that most amounts of the column have, and whether it is only stated with the
    /// sum, so that it is that of all.
    pub(super) fn find_usual_unit(&self) -> Option<(Unit, bool)> {
        let column = self
            .amount
            .filter(|_| self.layout.unit(ColumnKind::Amount).is_none())?;
        let unit_in = |row: usize| match self.table.cell(row, column) {
            Cell::Number {
                shown: Shown::In(unit),
                ..
            } => Some(*unit),
            Cell::Text(text) => number::amount(text, self.mark).ok()?.unit,
            _ => None,
        };
        let most = |rows: Vec<usize>| -> Option<Unit> {
            let units: Vec<Unit> = rows.into_iter().filter_map(unit_in).collect();
            let count = |unit: &Unit| units.iter().filter(|u| *u == unit).count();
            units.iter().rev().max_by_key(|unit| count(unit)).copied()
        };
        // "Jar 30 ml" says nothing of the amounts.
        let of_product = |row: &usize| is_property(&self.table.cell(*row, self.names).words());
        let (sums, lines): (Vec<usize>, Vec<usize>) = self
            .rows()
            .filter(|row| !of_product(row))
            .partition(|&row| self.sum(row).is_some());
        most(lines)
            .map(|unit| (unit, false))
            .or_else(|| Some((most(sums)?, true)))
    }

    /// An amount with what further columns of amounts add to it: pounds and ounces.
    fn together(&self, row: usize, first: usize, mut read: Read, name: &str) -> Read {
        let more = self
            .layout
            .columns
            .iter()
            .enumerate()
            .filter_map(|(at, column)| {
                column
                    .filter(|c| c.kind == ColumnKind::Amount && at != first)
                    .map(|c| (at, c.unit))
            });
        for (at, unit) in more {
            let other = self.read_cell(self.table.cell(row, at), unit, name);
            read = match (read, other) {
                (Read::Nothing, other) => other,
                (
                    Read::Quantity(LineQuantity::Grams(a), None, mut doubts, _),
                    Read::Quantity(LineQuantity::Grams(b), None, more, _),
                ) => {
                    doubts.extend(more);
                    Read::Quantity(LineQuantity::Grams(a + b), None, doubts, None)
                }
                (Read::Quantity(..), problem @ (Read::Problem(_) | Read::Unread(_))) => problem,
                (read, _) => read,
            };
        }
        read
    }

    pub(super) fn is_fraction(&self, cell: &Cell) -> bool {
        let plain = match cell {
            Cell::Number { shown, .. } => *shown == Shown::Plain,
            Cell::Text(text) => !text.contains('%'),
            _ => false,
        };
        plain && matches!(self.scale, Scale::Fractions | Scale::LikelyFractions)
    }

    pub(super) fn read_cell(&self, cell: &Cell, unit: Option<Unit>, name: &str) -> Read {
        let reading = match cell {
            Cell::Empty => return Read::Nothing,
            Cell::Number {
                value,
                shown: Shown::Percent,
            } => AmountReading::of(WrittenAmount::Percent(*value * Decimal::ONE_HUNDRED)),
            Cell::Number {
                value,
                shown: Shown::In(own),
            } => AmountReading::of(amounts::in_unit(*value, Some(*own))),
            Cell::Number { value, .. } => AmountReading::of(amounts::in_unit(*value, unit)),
            Cell::Text(text) if text.trim().is_empty() || is_dash(text) => return Read::Nothing,
            Cell::Text(text) => match amounts::read(text, unit, self.mark) {
                Ok(reading) => reading,
                Err(error) => return Read::Unread(error.to_string()),
            },
            Cell::Date(date) => {
                return Read::Problem(format!(
                    "the spreadsheet has turned an amount into the date {date}; format the cell as a number and type it again"
                ));
            }
            Cell::Truth(_) => {
                return Read::Problem("yes or no is not an amount; write a number".to_owned());
            }
            Cell::Fault(fault) => {
                return Read::Problem(format!(
                    "the cell holds {fault}; open the file in a spreadsheet program, mend the cell and save it"
                ));
            }
        };
        self.quantity_of(reading, name)
    }

    pub(super) fn quantity_of(&self, reading: AmountReading, name: &str) -> Read {
        let AmountReading {
            written,
            or,
            mut doubts,
            note: _,
            is_range: _,
            measure,
        } = reading;
        let (written, measure) = match measure.and_then(|m| Some((m, self.weighed(m)?))) {
            // What one of them weighs is said.
            Some((of, grams)) => {
                doubts.retain(|d| Some(d) != of.doubt().as_ref());
                (WrittenAmount::Grams(grams), None)
            }
            None => (written, measure.map(|m| m.name)),
        };
        let quantity = match written {
            WrittenAmount::Qs(Qs::ToWhole(_)) => LineQuantity::Rest,
            WrittenAmount::Qs(Qs::Plain) if self.own => LineQuantity::Rest,
            WrittenAmount::Qs(Qs::Plain) if says_water(name) => {
                return Read::Quantity(
                    LineQuantity::Rest,
                    None,
                    vec![PLAIN_FILLER.to_owned()],
                    None,
                );
            }
            WrittenAmount::Qs(_) => LineQuantity::AsNeeded,
            WrittenAmount::Bare(value)
                if !self.in_text() && !self.parts && !self.percents_among =>
            {
                LineQuantity::Grams(value)
            }
            WrittenAmount::Bare(value) if self.bare_grams => LineQuantity::Grams(value),
            WrittenAmount::Bare(value) if self.bare_parts => LineQuantity::Parts(value),
            WrittenAmount::Bare(value) | WrittenAmount::Percent(value) if self.in_text() => {
                LineQuantity::Percent(value)
            }
            WrittenAmount::Bare(value) | WrittenAmount::Parts(value) if self.parts => {
                LineQuantity::Parts(value)
            }
            WrittenAmount::Percent(value) => LineQuantity::Percent(value),
            WrittenAmount::Parts(value) => LineQuantity::Parts(value),
            WrittenAmount::Grams(value) => LineQuantity::Grams(value),
            WrittenAmount::Millilitres(value) => LineQuantity::Millilitres(value),
            // Some cells of the column say that they are percentages.
            WrittenAmount::Bare(value) => {
                doubts.push(format!(
                    "{} has no unit and was taken as percent",
                    value.normalize()
                ));
                return Read::Quantity(LineQuantity::Percent(value), or, doubts, measure);
            }
        };
        let value = match quantity {
            LineQuantity::Percent(v)
            | LineQuantity::Grams(v)
            | LineQuantity::Millilitres(v)
            | LineQuantity::Parts(v) => v,
            LineQuantity::Rest | LineQuantity::AsNeeded => Decimal::ZERO,
        };
        if value < Decimal::ZERO {
            return Read::Unread(format!("{value} is below 0"));
        }
        if matches!(quantity, LineQuantity::Percent(_)) && value > Decimal::ONE_HUNDRED {
            return Read::Unread(format!("{value} % is more than the whole"));
        }
        Read::Quantity(quantity, or, doubts, measure)
    }

    /// Where the numbers leave open whether they are fractions of 1, what the materials are
    /// used at tells: no preservative is in at 40 %.
    pub(super) fn weigh_scale_by_use(&self, proposal: &mut RecipeProposal, matcher: &Resolver<'_>) {
        if self.scale != Scale::LikelyFractions {
            return;
        }
        /// So many times its usual highest level nobody uses a material.
        const FAR: f64 = 3.0;
        let (mut far, mut near) = (0, 0);
        for line in &proposal.lines {
            let (LineQuantity::Percent(value), MaterialChoice::Known(id, _)) =
                (&line.quantity, &line.choice)
            else {
                continue;
            };
            let highest = matcher.shelf().get(id).and_then(|m| {
                let levels = m.use_ranges.iter().map(|r| r.high.as_percent());
                levels.reduce(f64::max)
            });
            let Some((highest, value)) = highest.zip(value.to_f64()) else {
                continue;
            };
            if value > highest * FAR {
                far += 1;
            } else if value / 100.0 < highest / 1000.0 {
                near += 1;
            }
        }
        if far == 0 || near > 0 {
            return;
        }
        for line in &mut proposal.lines {
            if let LineQuantity::Percent(value) = &mut line.quantity {
                *value /= Decimal::ONE_HUNDRED;
            }
        }
        for words in &mut proposal.assumed {
            if words.contains("taken as fractions of 1") {
                "the percentages are all below 1 and were taken as they stand, because as fractions of 1 they would be far above what the materials are used at".clone_into(words);
            }
        }
    }

    /// Volumes of materials of unknown density, and masses among percentages without a
    /// batch, are taken in the usual way and asked about.
    pub(super) fn settle_units(proposal: &mut RecipeProposal, matcher: &Resolver<'_>) {
        let mut in_parts = proposal.lines.iter();
        if in_parts.any(|line| matches!(line.quantity, LineQuantity::Parts(_))) {
            doubt_masses_among_parts(proposal);
        }
        let in_percent = proposal.percent_total().is_some();
        let batch = proposal.batch;
        for line in &mut proposal.lines {
            let density = match &line.choice {
                MaterialChoice::Known(id, _) => {
                    matcher.shelf().get(id).is_some_and(|m| m.density.is_some())
                }
                MaterialChoice::Made(material) => material.density.is_some(),
                _ => false,
            };
            if matches!(line.quantity, LineQuantity::Millilitres(_)) && !density {
                line.doubt_amount("its density is not known; 1 g/ml was taken");
            }
            if let LineQuantity::Percent(value) = line.quantity
                && !in_percent
            {
                line.doubt_amount(&format!(
                    "{} % stands among amounts and was taken as that share of the whole",
                    value.normalize()
                ));
            }
            if matches!(
                line.quantity,
                LineQuantity::Grams(_) | LineQuantity::Millilitres(_)
            ) && in_percent
                && batch.is_none()
            {
                line.doubt_amount("other lines are in percent and no size of the batch is stated; a batch of 100 g was taken");
            }
        }
    }
}

/// A mass or volume among parts says nothing while nobody knows what a part weighs.
fn doubt_masses_among_parts(proposal: &mut RecipeProposal) {
    for line in &mut proposal.lines {
        if matches!(
            line.quantity,
            LineQuantity::Grams(_) | LineQuantity::Millilitres(_)
        ) {
            line.doubt_amount(
                "the others are in parts and nothing says what a part weighs; it enters at 0 %",
            );
            line.quantity = LineQuantity::Parts(Decimal::ZERO);
        }
    }
}

/// The decimal mark of amounts in which every mark stands before three digits, as in
/// 1.250 and 1.000 beside 250: nobody weighs some materials to the milligram and the
/// others to the gram, so the marks are those of thousands.
pub(super) fn thousands_mark<'t>(texts: &[&'t str]) -> Option<(DecimalMark, &'t str)> {
    let marked: Vec<&&str> = texts
        .iter()
        .filter(|t| {
            let digits = t
                .trim()
                .trim_end_matches(|c: char| c.is_alphabetic() || c == ' ');
            number::amount(t, None).is_ok_and(|a| a.or.is_some() && a.value >= Decimal::ONE)
                && digits.len() >= 5
        })
        .collect();
    let plain = texts
        .iter()
        .filter(|t| !t.contains(['.', ',']))
        .filter_map(|t| number::amount(t, None).ok())
        .any(|a| a.value >= Decimal::TEN);
    let example = marked.first()?;
    if marked.len() < 2 && !plain {
        return None;
    }
    let mark = if example.contains('.') {
        DecimalMark::Comma
    } else {
        DecimalMark::Point
    };
    Some((mark, example))
}
