//! Groups of lines that only blank rows part.

use super::Proposal;
use super::reader::Reader;

impl Reader<'_> {
    /// Where no column and no row says which phase a line is in, groups parted by blank rows
    /// may be phases: all of it is taken as one, and that is told.
    pub(super) fn tell_of_blank_rows(&self, proposal: &mut Proposal) {
        let begins = |reason: &String| reason.starts_with("begins a phase");
        let named = proposal.phases.len() != 1
            || proposal.left_out.iter().any(|l| begins(&l.reason))
            || self.has_phases();
        if named {
            return;
        }
        let is_blank = |row: usize| self.row_text(row).is_empty();
        let parted = |pair: &[super::ProposedLine]| match pair {
            [one, other] => (one.row..other.row.saturating_sub(1)).any(is_blank),
            _ => false,
        };
        let groups = 1 + proposal
            .lines
            .windows(2)
            .filter(|pair| parted(pair))
            .count();
        // Lines that all stand apart are set with space between them.
        if groups > 1 && (groups < proposal.lines.len() || groups == 2) {
            proposal.assumed.push(format!(
                "blank rows part the list into {groups} groups; all of them were taken as one phase"
            ));
        }
    }
}
