//! Which material each row means.

use super::decider::Decider;
use super::reader::Reader;
use super::{MaterialChoice, ProposedLine, RecipeError, RecipeProposal};
use crate::file::table::columns::ColumnKind;
use crate::file::table::words::is_of_choice;
use crate::file::table::{Cell, RowProgress as Telling};
use crate::naming::{Exact, How, strength, words_of};

impl Reader<'_> {
    /// What each line means; the same words mean the same in every row.
    pub(super) fn decide_all(
        &self,
        proposal: &mut RecipeProposal,
        decider: &mut Decider<'_, '_>,
        told: &mut Telling<'_>,
    ) -> Result<(), RecipeError> {
        let mut exact = Exact::new(decider.matcher.shelf());
        let all = proposal.lines.len();
        decider.prepare(proposal.lines.iter().map(|line| &line.wanted));
        for (n, line) in proposal.lines.iter_mut().enumerate() {
            if n % 64 == 0 && !told(n, all) {
                return Err(RecipeError::Stopped);
            }
            let beside = self.strength_beside(line);
            if let Some((percent, _)) = &beside {
                line.wanted.strength = format!("{percent} %");
            }
            let composition = words_of(&line.composition).join(" ");
            let own = match composition.as_str() {
                "pure" => Some(exact.pure(&line.wanted.name, line.wanted.cas)),
                "" | "shelf" if self.own => Some(exact.on_shelf(&line.wanted.name)),
                _ => None,
            };
            if is_of_choice(&line.wanted.name) {
                line.doubts
                    .push("the recipe leaves open which one it is".to_owned());
            }
            let decided = decider.decide(&line.wanted);
            line.candidates = decided.candidates;
            line.suggestions = decided.suggestions;
            match own {
                Some(Ok(material)) if composition == "pure" => {
                    line.choice = MaterialChoice::Made(material);
                    line.doubts.extend(exact.remark.take());
                }
                Some(Ok(material)) => {
                    let how = line
                        .candidates
                        .iter()
                        .find(|c| c.id == material.id)
                        .map_or(How::Name, |c| c.how);
                    line.doubts.extend(exact.remark.take());
                    if let Some(others) = exact.others.take() {
                        line.doubts.push(format!("{others} would fit too"));
                    }
                    line.choice = MaterialChoice::Known(material.id.clone(), how);
                }
                other => {
                    if let Some(Err(message)) = other
                        && composition == "pure"
                    {
                        line.doubts.push(message);
                    }
                    line.choice = decided.choice;
                    // To take it as new is an assumption where others come near.
                    let near = line
                        .candidates
                        .first()
                        .filter(|_| line.choice == MaterialChoice::New);
                    if let Some(near) = near.filter(|_| decided.doubts.is_empty()) {
                        let doubt = format!(
                            "it was taken as a new material; perhaps it is “{}”",
                            near.name
                        );
                        line.doubts.push(doubt);
                    }
                    line.doubts.extend(decided.doubts);
                    if let Some((_, words)) = beside {
                        line.doubts
                            .push(format!("“{words}” beside it was taken for its strength"));
                    }
                }
            }
        }
        proposal.assumed.extend(decider.told());
        proposal.notes.extend(decider.note());
        Ok(())
    }

    /// The strength that words beside a line state, where neither its name nor a column does,
    /// and the words: a note "28 % active".
    fn strength_beside(&self, line: &ProposedLine) -> Option<(f64, String)> {
        if self.in_text() || self.own || line.wanted.percent().is_some() {
            return None;
        }
        let row = line.row.checked_sub(1)?;
        let free = |kind: Option<ColumnKind>| {
            matches!(kind, None | Some(ColumnKind::Note | ColumnKind::Role))
        };
        let columns = self.layout.columns.iter().enumerate();
        columns
            .filter(|(_, column)| free(column.map(|c| c.kind)))
            .find_map(|(at, _)| match self.table.cell(row, at) {
                Cell::Text(text) => Some((strength::said(text)?, text.trim().to_owned())),
                _ => None,
            })
    }
}
