//! Notes below a list that a mark behind a name points to: "Shea butter*" above "* from batch 12
//! on 4 %". What such a note says of amounts, the line is asked about.

use super::RecipeProposal;
use super::reader::Reader;
use crate::file::table::amounts::masses_in;
use crate::file::table::words::is_change;
use crate::naming::words_of;

/// Signs that point to a note.
const MARKS: [char; 6] = ['*', '†', '‡', '¹', '²', '³'];

/// The mark at the end of one of the words of a row: "Shea butter* 6 %". Between signs on both
/// sides words are set in bold.
fn mark_in(text: &str) -> Option<&str> {
    let mut bold = false;
    for word in text.split_whitespace() {
        let bare = word.trim_end_matches(MARKS);
        if bare.is_empty() {
            continue;
        }
        bold |= word.starts_with(MARKS);
        if bare.len() < word.len() {
            if !bold {
                return word.get(bare.len()..);
            }
            bold = false;
        }
    }
    None
}

/// The mark in front of a note that says an amount: "* from batch 12 on: shea butter 4 %".
fn mark_of_note(text: &str) -> Option<&str> {
    let rest = text.trim_start_matches(MARKS);
    let mark = text.get(..text.len() - rest.len())?;
    let of_percent = rest.split('%').next().is_some_and(|before| {
        rest.contains('%') && before.trim_end().ends_with(|c: char| c.is_ascii_digit())
    });
    let says_amount = of_percent || !masses_in(rest).is_empty();
    (!mark.is_empty() && says_amount).then_some(mark)
}

impl Reader<'_> {
    /// Asks about the lines whose mark points to a note that says an amount.
    pub(super) fn doubt_by_footnotes(&self, proposal: &mut RecipeProposal) {
        let is_line = |row: usize| proposal.lines.iter().any(|line| line.row == row + 1);
        let notes: Vec<(String, String)> = self
            .rows()
            .filter(|&row| !is_line(row))
            .map(|row| self.row_text(row))
            .filter_map(|text| Some((mark_of_note(&text)?.to_owned(), text)))
            .collect();
        if notes.is_empty() {
            return;
        }
        for line in &mut proposal.lines {
            let text = line.row.checked_sub(1).map(|row| self.row_text(row));
            let text = text.unwrap_or_default();
            let Some(mark) = mark_in(&text) else {
                continue;
            };
            for (_, note) in notes.iter().filter(|(of, _)| of == mark) {
                line.doubt_amount(&format!("a note below the list says “{note}”"));
            }
        }
    }
}

impl Reader<'_> {
    /// Asks about the lines whose material a remark in a text names with a word that changes
    /// amounts: "but double the glycerin".
    pub(super) fn doubt_by_changes(&self, proposal: &mut RecipeProposal) {
        if !self.in_text() {
            return;
        }
        let is_line = |row: usize| proposal.lines.iter().any(|line| line.row == row + 1);
        let remarks: Vec<(String, Vec<String>)> = (0..self.table.rows.len())
            .filter(|&row| !is_line(row))
            .map(|row| self.row_text(row))
            .map(|text| (text.clone(), words_of(&text)))
            .filter(|(_, said)| said.iter().any(|word| is_change(word)))
            .collect();
        for line in &mut proposal.lines {
            let name = words_of(&line.wanted.name);
            let named = |said: &Vec<String>| {
                !name.is_empty() && said.windows(name.len()).any(|words| words == name)
            };
            if let Some((text, _)) = remarks.iter().find(|(_, said)| named(said)) {
                line.doubt_amount(&format!("a remark says “{text}”"));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{RecipeSettings, propose};
    use super::*;
    use crate::file::table::read_text;
    use crate::naming::Resolver;
    use crate::shelf::built_in;

    #[test]
    fn remarks_that_change_amounts_are_asked_about() {
        let doubtful = |remark: &str| -> Vec<bool> {
            let text = format!("- 78 % water\n- 4 % glycerin\n- 18 % olive oil\n\n{remark}\n");
            let table = &read_text(&text).unwrap()[0];
            let resolver = Resolver::new(built_in());
            let proposal = propose(table, "Test", &RecipeSettings::default(), &resolver).unwrap();
            proposal.lines.iter().map(|l| l.amount_doubts > 0).collect()
        };
        let of_two = doubtful("but double the glycerin!! and take it out of the water");
        assert_eq!(of_two, [true, true, false]);
        assert_eq!(doubtful("warm the water, add the glycerin"), [false; 3]);
    }

    #[test]
    fn marks_point_to_notes_with_amounts() {
        assert_eq!(mark_in("Shea butter* 6 %"), Some("*"));
        assert_eq!(mark_in("**Shea butter** 6 %"), None);
        assert_eq!(mark_in("Shea butter 6"), None);
        assert_eq!(mark_of_note("** from now on 4 %"), Some("**"));
        assert_eq!(mark_of_note("* or 12 g of it"), Some("*"));
        assert_eq!(mark_of_note("* from organic farming, batch 12"), None);
        assert_eq!(mark_of_note("from now on 4 %"), None);
    }
}
