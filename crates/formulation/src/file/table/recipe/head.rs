//! What the rows around the list say of the product: its name, its kind, the batch.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::reader::Reader;
use super::{LineQuantity, ProposedLine, ProposedPhase, RecipeProposal};
use crate::amount::number::{self, Unit};
use crate::file::product_head::{self, PhaseWords};
use crate::file::table::Cell;
use crate::file::table::amounts::{self, masses_in};
use crate::file::table::columns::ColumnKind;
use crate::file::table::phase_words::{phase_heading, says_phase};
use crate::file::table::words::words;
use crate::formula::{Formula, Variant};
use crate::kinds::Kinds;
use crate::naming::qs::{Qs, quantum_satis};
use crate::naming::{is_known_name, kinds_in, words_of};

impl Reader<'_> {
    /// Columns that were taken for nothing are named.
    pub(super) fn name_columns_left_out(&self, proposal: &mut RecipeProposal) {
        if self.layout.headings.is_none() {
            return;
        }
        let names: Vec<String> = (0..self.table.width())
            .filter(|&c| {
                let kind = self.layout.kind(c);
                kind.is_none_or(|kind| !kind.is_of_a_recipe())
                    && (self.layout.first_row()..self.table.rows.len())
                        .any(|r| !self.table.cell(r, c).is_empty())
            })
            .map(|c| self.layout.heading(self.table, c))
            .filter(|w| !w.is_empty())
            .map(|w| format!("“{w}”"))
            .collect();
        if !names.is_empty() {
            proposal
                .notes
                .push(format!("columns left out: {}", names.join(", ")));
        }
    }

    /// What the rows above the headings, and rows of ours below the list, say of the
    /// product.
    pub(super) fn read_head(&self, title: &str, proposal: &mut RecipeProposal) {
        let mut formula = Formula::new(title);
        let mut variant = Variant::clone(formula.active());
        variant.phases.clear();
        let mut phases = PhaseWords::default();
        for row in 0..self.layout.headings.unwrap_or(0) {
            let line = self.row_text(row);
            if line.is_empty() {
                continue;
            }
            if self.begins_phase_above(row).is_some() {
                proposal.left_out(row, &line, "begins a phase");
                continue;
            }
            if let Some(name) = self.name_in(row) {
                formula.name = name.as_str().into();
                proposal.left_out(row, &line, "the name of the product");
                continue;
            }
            let taken = self.head_of(row).map(|(key, value)| {
                product_head::read_key(&key, &value, &mut formula, &mut variant, &mut phases)
            });
            match taken {
                Some(Ok(true)) => {
                    if self
                        .head_of(row)
                        .is_some_and(|(key, _)| product_head::is_kind(&key))
                    {
                        proposal.left_out(row, &line, "says what the product is: kind");
                    } else {
                        proposal.left_out(row, &line, "says what the product is");
                    }
                }
                Some(Err(message)) => {
                    proposal.assumed.push(format!("row {}: {message}", row + 1));
                    proposal.left_out(
                        row,
                        &line,
                        "says what the product is, but was not understood",
                    );
                    proposal.text.push(line);
                }
                Some(Ok(false)) | None => {
                    let key = line.strip_prefix('#').and_then(|l| l.split_once(':'));
                    let misspelt = key.and_then(|(key, _)| product_head::misspelt(key));
                    let told = misspelt.map(|told| format!("row {}: {told}", row + 1));
                    proposal.assumed.extend(told);
                    proposal.left_out(row, &line, "stands above the list and is kept in the notes");
                    if self.may_be_a_line(row) {
                        proposal.assumed.push(format!(
                            "row {} “{line}” stands above the headings and was left out",
                            row + 1
                        ));
                    }
                    proposal.text.push(line);
                }
            }
        }
        if let Some(first) = self.layout.headings {
            for row in (first..self.layout.first_row()).filter(|&r| !self.row_text(r).is_empty()) {
                proposal.left_out(row, &self.row_text(row), "the headings");
            }
        }
        if *formula.name != *title {
            proposal.name = formula.name.to_string();
        }
        // The title says nothing that the name does not.
        let name = proposal.name.clone();
        proposal.text.retain(|line| *line != name);
        formula.variants = vec![Arc::new(variant)];
        proposal.head = Arc::new(formula);
        proposal.phase_words = phases;
    }

    /// Whether a row has the name of a material and a number in cells of their own.
    fn may_be_a_line(&self, row: usize) -> bool {
        let cells = || self.table.rows.get(row).into_iter().flatten();
        let is_number = |cell: &Cell| match cell {
            Cell::Number { .. } => true,
            Cell::Text(text) => amounts::read(text, None, self.mark).is_ok(),
            _ => false,
        };
        cells().any(is_number)
            && cells().any(|cell| matches!(cell, Cell::Text(text) if is_known_name(text)))
    }

    /// The phase that the row right above the headings begins: "Water phase".
    pub(super) fn begins_phase_above(&self, row: usize) -> Option<ProposedPhase> {
        if self.head_of(row).is_some() || self.row_text(row).starts_with('#') {
            return None;
        }
        let headings = self.layout.headings?;
        let last = (0..headings)
            .rev()
            .find(|&r| !self.row_text(r).is_empty())?;
        let text = self.row_text(row);
        (row == last && says_phase(&text))
            .then(|| phase_heading(&text))
            .flatten()
    }

    /// The name of the product: behind a word such as "Product:", or alone in the first
    /// row of the table.
    pub(super) fn name_in(&self, row: usize) -> Option<String> {
        if let Some((key, value)) = self.head_of(row)
            && key == "name"
            && self.states_the_product()
        {
            return Some(product_head::unfold(&value));
        }
        let cells: Vec<String> = (0..self.table.width())
            .map(|column| self.table.cell(row, column).words())
            .filter(|words| !words.is_empty())
            .collect();
        let is_key = |key: &str| words().name_keys.contains(&words_of(key).join(" "));
        match cells.as_slice() {
            [one] if one.starts_with('#') => None,
            [one] => {
                if let Some((key, _)) = one.split_once(':') {
                    let value = self.value_as_it_stands(row)?;
                    return (is_key(key) && !value.is_empty()).then_some(value);
                }
                let first = (0..self.table.rows.len()).find(|&r| !self.row_text(r).is_empty());
                if let Some((name, _)) = name_and_size(one).filter(|_| first == Some(row)) {
                    return Some(name);
                }
                let like_a_name = one.chars().any(char::is_alphabetic)
                    && one.chars().count() <= 60
                    && !one.ends_with('.')
                    && masses_in(one).is_empty()
                    && product_head::kinds_of(one).is_err();
                (first == Some(row) && like_a_name).then(|| one.clone())
            }
            [key, value] if is_key(key.trim_end_matches(':')) => Some(value.clone()),
            _ => None,
        }
    }

    /// What stands behind the colon of a row's text, doubled blanks kept.
    fn value_as_it_stands(&self, row: usize) -> Option<String> {
        let text = self
            .table
            .rows
            .get(row)?
            .iter()
            .find_map(|cell| match cell {
                Cell::Text(text) if !text.trim().is_empty() => Some(text),
                _ => None,
            })?;
        Some(text.split_once(':')?.1.trim().to_owned())
    }

    /// Whether the table is of our form, by its headings or by the kind of product stated
    /// above them: its percentages are per cent, however small they are.
    pub(super) fn states_the_product(&self) -> bool {
        self.own
            || (0..self.layout.headings.unwrap_or(0)).any(|row| {
                self.head_of(row)
                    .is_some_and(|(key, _)| product_head::is_kind(&key))
            })
    }

    /// A row as key and value: "Kind: leave-on", "# kind: leave-on" or two cells.
    pub(super) fn head_of(&self, row: usize) -> Option<(String, String)> {
        // Text as it stands, so that doubled blanks of a note are kept.
        let cells: Vec<String> = (self.table.rows.get(row)?.iter())
            .map(|cell| match cell {
                Cell::Text(text) => text.trim().to_owned(),
                cell => cell.words(),
            })
            .filter(|words| !words.is_empty())
            .collect();
        let first = cells.first()?.trim_start_matches('#').trim();
        if let Some((key, value)) = first.split_once(':') {
            let more = cells.get(1..).unwrap_or_default();
            let value: Vec<&str> = std::iter::once(value.trim())
                .chain(more.iter().map(|c| c.trim()))
                .filter(|v| !v.is_empty())
                .collect();
            return product_head::is_key(key).then(|| (key.trim().to_owned(), value.join(", ")));
        }
        let value = cells.get(1..)?;
        (!value.is_empty() && product_head::is_key(first))
            .then(|| (first.to_owned(), value.join(", ")))
    }

    /// The rows above the headings, or above the first line where there are none.
    pub(super) fn title_rows(&self, proposal: &RecipeProposal) -> Vec<usize> {
        let end = self
            .layout
            .headings
            .or_else(|| proposal.lines.first().map(|l| l.row - 1))
            .unwrap_or(0);
        (0..end).collect()
    }

    /// Whether the product is washed off or left on: as said, as told by its name, or
    /// assumed.
    pub(super) fn settle_kind(&self, title: &str, proposal: &mut RecipeProposal) {
        let said = (0..self.layout.headings.unwrap_or(0))
            .filter_map(|row| self.head_of(row))
            .any(|(key, _)| product_head::is_kind(&key));
        let set = |kinds: Kinds, proposal: &mut RecipeProposal| {
            let mut formula = Formula::clone(&proposal.head);
            if let Some(variant) = formula.variants.first_mut() {
                Arc::make_mut(variant).product.kinds = kinds;
            }
            proposal.head = Arc::new(formula);
        };
        if let Some(kinds) = self.settings.kinds {
            set(kinds, proposal);
            return;
        }
        if said {
            return;
        }
        let names = std::iter::once(title.to_owned())
            .chain(std::iter::once(self.table.name.clone()))
            .chain(
                self.title_rows(proposal)
                    .into_iter()
                    .map(|row| self.row_text(row)),
            );
        let told = names
            .filter_map(|name| Some((kinds_in(&name)?, name)))
            .max_by_key(|((_, outright), _)| *outright);
        match told {
            Some(((kinds, true), _)) => set(kinds, proposal),
            Some(((kinds, false), name)) => {
                set(kinds, proposal);
                proposal.kind_assumed = true;
                proposal.assumed.push(format!(
                    "by its name, “{name}”, the product was taken as {}; say --kind if it is not",
                    kinds.label()
                ));
            }
            None => {
                proposal.kind_assumed = true;
                proposal.assumed.push(
                    "nothing says whether the product is washed off or left on; it was taken as rinse-off, say --kind leave-on, or --kind rinse-off,leave-on, if it is not".to_owned(),
                );
            }
        }
    }

    /// Grams of the batch as headings, titles or remarks state them: "500 g batch",
    /// "g / 500 g", "Ansatz: 2 kg".
    pub(super) fn stated_batch(&self, proposal: &RecipeProposal) -> Option<Decimal> {
        let head = proposal.head.active().batch;
        let usual = Formula::new("").active().batch;
        if (head - usual).abs() > crate::quantity::grams(1e-6) {
            return Decimal::try_from(crate::quantity::in_grams(head))
                .ok()
                .map(|d| d.round_dp(6));
        }
        let heading = self.amount.and_then(|column| {
            masses_in(&self.layout.heading(self.table, column))
                .first()
                .copied()
        });
        let stated = heading.or_else(|| {
            let first = self.layout.headings.unwrap_or(0);
            (0..self.table.rows.len())
                .filter(|row| *row < first || proposal.left_out.iter().any(|l| l.row == row + 1))
                .filter(|&row| !(first..self.layout.first_row()).contains(&row))
                .filter(|row| {
                    let said = words_of(&self.row_text(*row));
                    (1..=3).any(|n| {
                        said.windows(n)
                            .any(|w| words().batch.contains(&w.join(" ")))
                    })
                })
                .find_map(|row| self.mass_in_row(row))
        });
        stated
            .or_else(|| self.filled_to(proposal))
            .or_else(|| self.size_in_title(proposal))
    }

    /// The mass that a row states, also as a number beside words that name its unit: "Batch
    /// (g)", "500".
    fn mass_in_row(&self, row: usize) -> Option<Decimal> {
        let masses = masses_in(&self.row_text(row));
        if let Some(mass) = masses.first() {
            return Some(*mass);
        }
        let cells = || self.table.rows.get(row).into_iter().flatten();
        let unit = cells().find_map(|cell| match cell {
            Cell::Text(text) => words_of(text).iter().find_map(|w| Unit::named(w)?.grams()),
            _ => None,
        })?;
        let number = cells().find_map(|cell| match cell {
            Cell::Number { value, .. } if *value > Decimal::ZERO => Some(*value),
            Cell::Text(text) => number::amount(text, None).ok().map(|a| a.value),
            _ => None,
        })?;
        number.checked_mul(unit).and_then(number::within)
    }

    /// The size of the batch in the title of a table: "Moss gel (500 g)".
    fn size_in_title(&self, proposal: &RecipeProposal) -> Option<Decimal> {
        let mut titles = self.title_rows(proposal).into_iter().filter_map(|row| {
            let cells = self.table.rows.get(row)?;
            let mut filled = cells.iter().filter(|cell| !cell.is_empty());
            let only = filled.next().filter(|_| filled.next().is_none())?;
            name_and_size(&only.words()).map(|(_, grams)| grams)
        });
        let size = titles.next()?;
        titles.next().is_none().then_some(size)
    }

    /// Grams up to which a q.s. fills a recipe in grams: "to 500", "ad 1 kg".
    pub(super) fn filled_to(&self, proposal: &RecipeProposal) -> Option<Decimal> {
        if proposal.percent_total().is_some() {
            return None;
        }
        let is_rest = |line: &&ProposedLine| line.quantity == LineQuantity::Rest;
        let Some(column) = self.amount else {
            // In a text it stands in the line itself.
            let rest = proposal.lines.iter().find(is_rest)?;
            return masses_in(&rest.written).last().copied();
        };
        let each = self
            .layout
            .unit(ColumnKind::Amount)
            .map_or(Some(Decimal::ONE), Unit::grams)?;
        let rest = proposal.lines.iter().find(is_rest)?;
        let text = self.table.cell(rest.row.checked_sub(1)?, column).words();
        if text.contains('%') {
            return None;
        }
        masses_in(&text)
            .first()
            .copied()
            .or_else(|| match quantum_satis(&text) {
                Some(Qs::ToWhole(Some(whole))) => whole.checked_mul(each).and_then(number::within),
                _ => None,
            })
    }
}

/// The name of a product and the grams behind it: "Moss gel (500 g)", "Moss gel, 500 g",
/// "Moss gel – 500 g".
fn name_and_size(text: &str) -> Option<(String, Decimal)> {
    let text = text.trim();
    let (name, size) = match text.strip_suffix(')') {
        Some(inner) => inner.rsplit_once('(')?,
        None => [", ", " – ", " - ", " — "]
            .iter()
            .find_map(|mark| text.rsplit_once(mark))?,
    };
    let named = name.chars().any(char::is_alphabetic) && name.chars().count() <= 60;
    let only = number::amount(size.trim(), None).ok()?;
    let grams = only.value.checked_mul(only.unit?.grams()?)?;
    (named && grams > Decimal::ZERO && !is_known_name(name))
        .then(|| (name.trim().to_owned(), grams))
}
