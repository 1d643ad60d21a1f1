//! A row becomes a line of the proposal.

use super::reader::{Read, Reader, Row, Work};
use super::{LineQuantity, MaterialChoice, ProposedLine, ProposedPhase, ProposedStep};
use crate::amount::typed;
use crate::file::table::amounts::is_dash;
use crate::file::table::columns::ColumnKind;
use crate::file::table::names::{
    are_inci_names, clean_name, first_cas, in_two_lines, name_over_inci,
};
use crate::file::table::phase_words::{letters_in, phase_of_cell};
use crate::file::table::words::{is_as_above, is_tick, lettered, numbered};
use crate::file::table::{Cell, cell_name};
use crate::naming::{Wanted, words_of};
use crate::purpose::Purpose;
use crate::quantity::Percent;
use rust_decimal::Decimal;

impl Reader<'_> {
    /// What a row says of a material: its names and how much of it.
    pub(super) fn row(&self, row: usize) -> Row {
        let mut name = in_two_lines(self.table.cell(row, self.names))
            .unwrap_or_else(|| self.table.cell(row, self.names).words());
        let mut inci = self.words(row, ColumnKind::Inci);
        if let Some((above, below)) = name_over_inci(self.table.cell(row, self.names)) {
            (name, inci) = (above, below);
        }
        if let Some((_, bare)) = numbered(&name).filter(|_| self.numbered) {
            name = bare.to_owned();
        }
        if let Some((_, bare)) = lettered(&name).filter(|_| self.lettered) {
            name = bare.to_owned();
        }
        if name.is_empty() {
            name.clone_from(&inci);
        }
        if self.layout.place(ColumnKind::Inci) == Some(self.names) && !are_inci_names(&inci) {
            inci.clear();
        }
        if name.is_empty() {
            name = self.words(row, ColumnKind::Trade);
        }
        let read = self.quantity(row, &name);
        Row {
            wanted: Wanted {
                name: clean_name(&name),
                inci: clean_name(&inci),
                cas: None,
                supplier: self.words(row, ColumnKind::Supplier),
                strength: self.words(row, ColumnKind::Strength),
            },
            read,
        }
    }

    /// A line with what stands for its amount; what cannot be read enters at 0 % and is asked
    /// about, and without anything there is no line.
    pub(super) fn enter(&self, row: usize, wanted: Wanted, read: Read, work: &mut Work<'_, '_>) {
        let Work {
            progress, proposal, ..
        } = work;
        let (quantity, or, mut doubts, measure) = match read {
            Read::Quantity(quantity, or, doubts, measure) => (quantity, or, doubts, measure),
            Read::Unread(message) | Read::Problem(message) => {
                let doubt = format!("{message}; it enters at 0 %");
                (
                    LineQuantity::Percent(Decimal::ZERO),
                    None,
                    vec![doubt],
                    None,
                )
            }
            Read::Nothing => return,
        };
        let phase_cell = self
            .letters
            .get(&row)
            .cloned()
            .unwrap_or_else(|| self.words(row, ColumnKind::Phase));
        if !phase_cell.is_empty() && !is_tick(&phase_cell) && !is_as_above(&phase_cell) {
            progress.phase = Some(proposal.enter_phase(phase_of_cell(&phase_cell)));
        }
        // Above the first phase that is named; its letter is that of its place.
        let phase = *progress
            .phase
            .get_or_insert_with(|| proposal.enter_phase(ProposedPhase::default()));
        let done = self.words(row, ColumnKind::Procedure);
        // In merged or copied cells the same words stand beside each line.
        if !done.is_empty() && proposal.steps.last().is_none_or(|s| s.text != done) {
            proposal.steps.push(ProposedStep { phase, text: done });
        }
        let cas = match first_cas(&self.words(row, ColumnKind::Cas)) {
            Ok(cas) => cas,
            Err(told) => {
                doubts.push(told);
                None
            }
        };
        // A column of its own marks the filler beside its percentage.
        let marked = !self.words(row, ColumnKind::Filler).is_empty();
        let letters = letters_in(&phase_cell);
        if letters.len() > 1 && !self.letters.contains_key(&row) {
            doubts.push(format!(
                "it stands in the phases {}; all of it was put into the first",
                letters.join(" and ")
            ));
        }
        let quantity = if marked || self.settings.fillers.contains(&(row + 1)) {
            LineQuantity::Rest
        } else {
            quantity
        };
        if let LineQuantity::Percent(value) = quantity {
            progress.total += value;
        }
        let mut bound = |kind: ColumnKind| {
            let words = self.words(row, kind);
            let read = read_bound(&words);
            if let Err(told) = &read {
                doubts.push(format!("its {} bound {told}", kind.label()));
            }
            read.ok().flatten()
        };
        let bounds = (bound(ColumnKind::Lowest), bound(ColumnKind::Highest));
        let said = self.words(row, ColumnKind::Purpose);
        let purpose = Purpose::named(&said);
        let role = if purpose.is_none() && !said.is_empty() {
            [self.words(row, ColumnKind::Role), said]
                .join(" ")
                .trim()
                .to_owned()
        } else {
            self.words(row, ColumnKind::Role)
        };
        proposal.lines.push(ProposedLine {
            row: row + 1,
            phase,
            wanted: Wanted { cas, ..wanted },
            role,
            quantity,
            written: self.written(row),
            or,
            measure,
            note: self.note(row),
            candidates: Vec::new(),
            choice: MaterialChoice::New,
            suggestions: Vec::new(),
            amount_doubts: doubts.len(),
            doubts,
            purpose,
            held: matches!(
                words_of(&self.words(row, ColumnKind::Held))
                    .join(" ")
                    .as_str(),
                "yes" | "held"
            ),
            bounds,
            composition: self.words(row, ColumnKind::Composition),
        });
    }

    /// The words beside a line, as they stand.
    pub(super) fn note(&self, row: usize) -> String {
        match self
            .layout
            .place(ColumnKind::Note)
            .map(|c| self.table.cell(row, c))
        {
            Some(Cell::Text(text)) => text.trim().to_owned(),
            Some(cell) => cell.words(),
            None => String::new(),
        }
    }

    /// The amount as it stands; the whole row in running text.
    fn written(&self, row: usize) -> String {
        self.percent.or(self.amount).map_or_else(
            || self.row_text(row),
            |column| self.table.cell(row, column).words(),
        )
    }

    pub(super) fn amount_cell(&self, row: usize) -> String {
        let column = self.percent.or(self.amount).unwrap_or(self.names);
        cell_name(row, column)
    }
}

/// The percentage of a bound, "2", "0,5" or "2 %"; none in an empty cell.
fn read_bound(words: &str) -> Result<Option<Percent>, String> {
    if words.is_empty() || is_dash(words) {
        return Ok(None);
    }
    let read = typed::percent(words).map(Some);
    read.map_err(|error| format!("“{words}” was left out: {error}"))
}
