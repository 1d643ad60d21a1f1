//! The rows of a list, from the top: each becomes a line, begins a phase, or is left out with a
//! reason.

use std::sync::Arc;

use super::checks::sums_above;
use super::groups::{AMONG_LINES, names_a_material};
use super::reader::{Read, Reader, Row, Work};
use super::{LineQuantity, Problem, ProposedPhase, RecipeProposal};
use crate::file::product_head;
use crate::file::table::Cell;
use crate::file::table::columns::{ColumnKind, heading};
use crate::file::table::items::{by_phase, items};
use crate::file::table::names::clean_name;
use crate::file::table::phase_words::{phase_heading, phase_of_cell, says_phase};
use crate::file::table::prose;
use crate::file::table::sums::Sum;
use crate::file::table::weighing::rows::{Reading, weigh};
use crate::file::table::words::{
    begins_method, is_for_pieces, is_property, is_sentence, is_withdrawn, numbered,
};
use crate::formula::{Formula, Variant};
use crate::naming::Wanted;

impl Reader<'_> {
    /// A row; `inside` if lines follow further down.
    pub(super) fn read_row(&self, row: usize, inside: bool, work: &mut Work<'_, '_>) {
        let text = self.row_text(row);
        let done = text.is_empty()
            || self.leave_out(row, &text, &mut work.proposal)
            || self.leave_withdrawn(row, &text, &mut work.proposal)
            || self.head_again(row, &text, work)
            || !inside && self.take_fact(row, &text, &mut work.proposal)
            || take_size(row, &text, &mut work.proposal)
            || self.take_sum(row, &text, work)
            || self.take_method(row, &text, inside, work)
            || self.in_text() && self.take_text(row, &text, inside, work);
        if !done {
            let Row { wanted, read } = self.row(row);
            self.take_row(row, inside, wanted, read, work);
        }
    }

    /// A row that is hidden or struck through, or whose dose is withdrawn.
    fn leave_out(&self, row: usize, text: &str, proposal: &mut RecipeProposal) -> bool {
        if self.settings.hidden {
            return false;
        }
        if let Some(reason) = self.table.left_out_reason(row, self.names) {
            proposal.left_out(row, text, reason);
            proposal.assumed.push(format!(
                "row {} “{text}” is {reason} and was left out; --hidden takes it in",
                row + 1
            ));
            return true;
        }
        let withdrawn = self
            .percent
            .or(self.amount)
            .is_some_and(|column| self.table.struck.contains(&(row, column)));
        if withdrawn {
            proposal.left_out(row, text, "its amount is struck through");
            proposal.assumed.push(format!(
                "row {} “{text}”: its amount is struck through, so it was left out; --hidden takes it in",
                row + 1
            ));
        }
        withdrawn
    }

    /// A line that says of itself that it is left out.
    fn leave_withdrawn(&self, row: usize, text: &str, proposal: &mut RecipeProposal) -> bool {
        let withdrawn = is_withdrawn(text) && self.has_amount(row);
        if withdrawn {
            proposal.left_out(row, text, "it says so");
            proposal.assumed.push(format!(
                "row {} “{text}” says that it is left out, and was",
                row + 1
            ));
        }
        withdrawn
    }

    /// What the product is, below the list as our own tables have it.
    fn take_fact(&self, row: usize, text: &str, proposal: &mut RecipeProposal) -> bool {
        let Some((key, value)) = self.head_of(row) else {
            return false;
        };
        let mut formula = Formula::clone(&proposal.head);
        let mut variant = Variant::clone(formula.active());
        let words = &mut proposal.phase_words;
        let taken = product_head::read_key(&key, &value, &mut formula, &mut variant, words);
        if taken != Ok(true) {
            return false;
        }
        formula.variants = vec![Arc::new(variant)];
        proposal.head = Arc::new(formula);
        proposal.left_out(row, text, "says what the product is");
        true
    }

    /// A row whose words say that it is a sum.
    fn take_sum(&self, row: usize, text: &str, work: &mut Work<'_, '_>) -> bool {
        let Some(sum) = self.sum(row) else {
            return false;
        };
        let quantity = match self.quantity(row, "") {
            Read::Quantity(quantity, ..) => Some(quantity),
            _ => None,
        };
        // What adds up the lines since the last sum and not all of them is that of a part,
        // whatever it is called.
        let part = quantity
            .as_ref()
            .is_some_and(|q| sums_above(q, &work.progress, &work.proposal) == (false, true));
        if sum == Sum::Whole && !part {
            work.progress.summed = true;
            let value = quantity.as_ref().and_then(|q| q.value_like(q));
            let lines = work.proposal.lines.len();
            // A recipe has one total; lines between two are another.
            let between = work.progress.lines_at_total.is_some_and(|n| n < lines);
            if value.is_some() && between {
                work.proposal.assumed.push(format!(
                    "row {} states a total again; the list may be of several recipes, and was taken as one",
                    row + 1
                ));
            }
            if value.is_some() {
                work.progress.lines_at_total = Some(lines);
            }
            work.proposal.stated_total = value.or(work.proposal.stated_total);
        } else if let Some(quantity) = quantity {
            work.progress.parts.push((row + 1, quantity));
        }
        work.proposal.left_out(row, text, "a sum");
        true
    }

    /// A row of the method, or one that begins it.
    fn take_method(&self, row: usize, text: &str, inside: bool, work: &mut Work<'_, '_>) -> bool {
        let Work {
            progress, proposal, ..
        } = work;
        if begins_method(text) && !inside && !progress.method {
            progress.method = true;
            proposal.left_out(row, text, "begins the method");
            return true;
        }
        // "Method: heat A to 75 °C."
        if let Some((key, step)) = text.split_once(':')
            && begins_method(key)
            && !inside
            && !step.trim().is_empty()
        {
            progress.method = true;
            proposal.left_out(row, text, "the method, kept as a step");
            proposal.add_step(step);
            return true;
        }
        // Sentences below the list that are numbered from 1 on.
        if !progress.method && !inside && self.begins_numbered_steps(row) {
            progress.method = true;
        }
        if !progress.method {
            return false;
        }
        let numbered = text.starts_with(|c: char| c.is_ascii_digit());
        let apart = row
            .checked_sub(1)
            .is_some_and(|r| self.row_text(r).is_empty());
        progress.numbered |= numbered;
        let reason = if progress.numbered && !numbered && apart {
            "stands below the method and is kept in the notes"
        } else if is_property(text) {
            "a property of the product, kept in the notes"
        } else {
            proposal.left_out(row, text, "the method, kept as a step");
            proposal.add_step(text);
            return true;
        };
        proposal.left_out(row, text, reason);
        proposal.text.push(text.to_owned());
        true
    }

    /// Whether a row is the first of numbered sentences that say what is done.
    fn begins_numbered_steps(&self, row: usize) -> bool {
        let step = |row: usize, place: u32| {
            let text = self.row_text(row);
            numbered(&text).is_some_and(|(n, said)| n == place && is_sentence(said))
        };
        let mut below = row + 1..self.table.rows.len();
        let next = below.find(|&r| !self.row_text(r).is_empty());
        step(row, 1) && next.is_some_and(|next| step(next, 2))
    }

    /// A row of running text: sentences, a title, or materials with amounts.
    fn take_text(&self, row: usize, text: &str, inside: bool, work: &mut Work<'_, '_>) -> bool {
        if self.told && prose::is_prose(text, self.mark) {
            self.read_sentences(row, text, work);
            return true;
        }
        if self.read_title(row, text, inside, work) {
            return true;
        }
        // A cell of its own in front names the phase of the others.
        let cells = self.table.rows.get(row);
        let first = cells.and_then(|cells| cells.iter().find(|c| !c.is_empty()));
        let first = first.map(Cell::words).unwrap_or_default();
        let mut text = text;
        if first.len() < text.len()
            && items(&first, self.mark, false).lines.is_empty()
            && let Some(phase) = phase_heading(&first)
        {
            work.enter_phase(phase);
            text = text.get(first.len()..).unwrap_or_default().trim_start();
        }
        for part in by_phase(text) {
            self.read_items(row, part, inside, work);
        }
        true
    }

    /// Whether a row has nothing in this version, and something in another one.
    fn is_of_another_version(&self, row: usize, wanted: &Wanted, read: &Read) -> bool {
        let nothing = match read {
            Read::Nothing => true,
            Read::Quantity(quantity, ..) => quantity.is_zero(),
            _ => false,
        };
        let mut versions = self.versions.iter();
        nothing
            && !wanted.name.is_empty()
            && versions.any(|&column| !self.table.cell(row, column).is_empty())
    }

    /// A row that says nothing of itself is what most speaks for.
    pub(super) fn take_row(
        &self,
        row: usize,
        inside: bool,
        wanted: Wanted,
        read: Read,
        work: &mut Work<'_, '_>,
    ) {
        if let Read::Problem(message) = read {
            work.proposal.problems.push(Problem {
                cell: self.amount_cell(row),
                message,
            });
            return;
        }
        let text = self.row_text(row);
        if self.is_of_another_version(row, &wanted, &read) {
            let reason = "it is in another version alone";
            work.proposal.left_out(row, &text, reason);
            work.proposal
                .notes
                .push(format!("row {} “{}”: {reason}", row + 1, wanted.name));
            return;
        }
        let (seen, phase) = self.seen(row, inside, (&wanted, &read), work);
        let verdict = weigh(&seen);
        if let Some(other) = verdict.close {
            work.proposal.assumed.push(format!(
                "row {} “{text}” was taken for {}; it could also be {}",
                row + 1,
                verdict.best.label(),
                other.label()
            ));
        }
        match verdict.best {
            Reading::Line => self.enter(row, wanted, read, work),
            Reading::Unmeasured => {
                let doubt = "it has no amount; put in how much, or leave it out".to_owned();
                self.enter(row, wanted, Read::Unread(doubt), work);
            }
            Reading::Phase => {
                let cell = self.words(row, ColumnKind::Phase);
                let of_cell = || {
                    let alone = wanted.name.is_empty() && seen.phase_cell;
                    phase_of_cell(if alone { &cell } else { &text })
                };
                work.enter_phase(phase.unwrap_or_else(of_cell));
                work.proposal.left_out(row, &text, "begins a phase");
            }
            Reading::PerhapsPhase => {
                work.enter_phase(phase_of_cell(&text));
                work.proposal.left_out(row, &text, "begins a phase");
                work.proposal.assumed.push(format!(
                    "row {} “{text}” has no amount and was taken for the beginning of a phase",
                    row + 1
                ));
            }
            Reading::PhaseWithSum => {
                if let Some(phase) = phase {
                    work.enter_phase(phase);
                }
                work.add_part(row, &read);
                work.proposal
                    .left_out(row, &text, "begins a phase and states its sum");
            }
            Reading::Sum => {
                work.add_part(row, &read);
                work.proposal
                    .left_out(row, &text, "the sum of the rows above, without a word");
            }
            Reading::InciOfAbove => {
                if let Some(line) = work.proposal.lines.last_mut() {
                    line.wanted.inci = clean_name(&wanted.name);
                }
                work.proposal
                    .left_out(row, &text, "the INCI names of the row above");
            }
            Reading::PartOfAbove => {
                work.proposal
                    .left_out(row, &text, "a part of the row above");
                work.proposal.assumed.push(format!(
                    "row {} “{text}” says that it is a part of the row above, and was left out",
                    row + 1
                ));
            }
            Reading::Stray
            | Reading::Dashed
            | Reading::Property
            | Reading::Below
            | Reading::Remark => self.keep_as_note(row, &wanted, &read, verdict.best, work),
        }
    }

    /// A row that makes no line and no phase: what it says is kept, and told where a material
    /// may be lost with it.
    fn keep_as_note(
        &self,
        row: usize,
        wanted: &Wanted,
        read: &Read,
        reading: Reading,
        work: &mut Work<'_, '_>,
    ) {
        let text = self.row_text(row);
        let bare = matches!(read, Read::Nothing);
        let familiar = names_a_material(&wanted.name);
        let in_phase = !self.words(row, ColumnKind::Phase).is_empty();
        let whole = work.progress.summed;
        // Something stands beside it where the lines have their amounts.
        let cells = self.table.rows.get(row).into_iter().flatten();
        let celled =
            cells.filter(|cell| !cell.is_empty()).nth(1).is_some() && !is_property(&wanted.name);
        let (reason, told) = match reading {
            Reading::Stray => (
                "has an amount but no material",
                Some(format!(
                    "“{text}” has an amount but no material and was left out"
                )),
            ),
            Reading::Dashed => (
                "a dash stands for its amount",
                Some(format!(
                    "“{}” has a dash for its amount and was left out",
                    wanted.name
                )),
            ),
            Reading::Property => ("a property of the product, kept in the notes", None),
            // A material whose amount is missing may stand last.
            Reading::Below if bare => (
                "stands below the list and is kept in the notes",
                (!whole && (!self.in_text() && familiar || self.in_text() && celled))
                    .then(|| format!("“{text}” has no amount and was left out")),
            ),
            Reading::Below => match read {
                Read::Unread(message) if !work.is_complete() => (
                    "stands below the list and is kept in the notes",
                    (!whole).then(|| {
                        format!("“{text}” below the list was taken as a remark: {message}")
                    }),
                ),
                // "Optional: lavender oil 0.5".
                _ => (
                    "stands below the total and is kept in the notes",
                    (!wanted.name.is_empty() && (familiar || in_phase || !whole))
                        .then(|| format!("“{text}” stands below the total and was left out")),
                ),
            },
            // It may be a material or a phase, which nobody should miss, unless it says what
            // is done.
            _ => (
                AMONG_LINES,
                (text.chars().any(char::is_alphabetic) && !is_sentence(&text))
                    .then(|| format!("“{text}” has no amount and was taken as a remark")),
            ),
        };
        let proposal = &mut work.proposal;
        proposal.left_out(row, &text, reason);
        proposal
            .assumed
            .extend(told.map(|words| format!("row {} {words}", row + 1)));
        if !matches!(reading, Reading::Stray | Reading::Dashed) {
            proposal.text.push(text);
        }
    }

    /// The phase that stands in a row of headings in place of that of the materials: "Phase A -
    /// water", "%".
    pub(super) fn phase_in_headings(&self, row: usize) -> Option<ProposedPhase> {
        let words = self.table.cell(row, self.names).words();
        phase_heading(&words)
            .filter(|phase| !phase.letter.is_empty() || phase.kind.is_some())
            .filter(|_| says_phase(&words))
    }

    /// The headings once more: above the next phase, or above another recipe.
    fn head_again(&self, row: usize, text: &str, work: &mut Work<'_, '_>) -> bool {
        if !self.layout.is_repeated_in(self.table, row) {
            return false;
        }
        if let Some(phase) = self.phase_in_headings(row) {
            work.enter_phase(phase);
            work.proposal
                .left_out(row, text, "begins a phase, with the headings again");
            return true;
        }
        let Work {
            progress, proposal, ..
        } = work;
        proposal.left_out(row, text, "the headings again");
        let above = (0..row).rev().find(|&r| !self.row_text(r).is_empty());
        let begins = above.is_some_and(|above| {
            let mut left = proposal.left_out.iter();
            left.any(|l| l.row == above + 1 && l.reason.starts_with("begins a phase"))
        });
        let (first, mut columns) = (self.layout.headings.unwrap_or(0), 0..self.table.width());
        let moved = columns.any(|column| {
            let of = |row: usize| match self.table.cell(row, column) {
                Cell::Text(text) => heading(text).map(|h| h.kind),
                _ => None,
            };
            of(first).is_some() && of(row).is_some() && of(first) != of(row)
        });
        if !self.layout.says_the_same_in(self.table, row) {
            proposal.assumed.push(format!(
                "row {} “{text}” was taken for headings, because of what stands below it; that was taken as part of the same recipe",
                row + 1
            ));
        } else if moved {
            proposal.assumed.push(format!(
                "row {} “{text}” heads the columns in another order; what stands below it was read in that of the first headings",
                row + 1
            ));
        } else if !begins && !self.has_phases() && !proposal.lines.is_empty() {
            proposal.assumed.push(format!(
                "the headings come again in row {}; what stands below them was taken as part of the same recipe{}",
                row + 1,
                if progress.phase.is_some() { " and phase" } else { "" }
            ));
        }
        true
    }
}

/// A row that says for how many pieces the amounts are.
fn take_size(row: usize, text: &str, proposal: &mut RecipeProposal) -> bool {
    let is_size = is_for_pieces(text.trim_start_matches('#'));
    if is_size {
        proposal.left_out(row, text, "says how much is made");
        proposal.text.push(text.to_owned());
    }
    is_size
}

impl Work<'_, '_> {
    /// A phase begins.
    pub(super) fn enter_phase(&mut self, phase: ProposedPhase) {
        self.progress.phase = Some(self.proposal.enter_phase(phase));
    }

    /// A row states the sum of a part.
    fn add_part(&mut self, row: usize, read: &Read) {
        if let Read::Quantity(quantity, ..) = read {
            self.progress
                .parts
                .push((row + 1, LineQuantity::clone(quantity)));
        }
    }
}
