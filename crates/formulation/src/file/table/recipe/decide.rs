//! Which material each row means.

use std::collections::HashMap;

use super::amount::is_dash;
use super::reader::Reader;
use super::{Choice, Proposal, ProposedLine, RecipeError};
use crate::amount::number::Unit;
use crate::cas::Cas;
use crate::file::table::Cell;
use crate::file::table::columns::Kind;
use crate::file::table::price_list::Progress as Telling;
use crate::inventory::inventory;
use crate::naming::strength;
use crate::naming::{Candidate, Exact, How, Resolution, Resolver, Wanted, words_of};

/// What a row means and what of it had to be assumed.
#[derive(Clone, Debug)]
pub(in crate::file::table) struct Decision {
    pub(in crate::file::table) candidates: Vec<Candidate>,
    pub(in crate::file::table) choice: Choice,
    pub(in crate::file::table) suggestions: Vec<&'static str>,
    pub(in crate::file::table) doubts: Vec<String>,
}

/// Decides about rows; the same words are looked up once.
pub(in crate::file::table) struct Decider<'m, 's> {
    matcher: &'m Resolver<'s>,
    known: HashMap<Wanted, Decision>,
    meant: HashMap<Wanted, Resolution>,
    /// Looking for the nearest of all INCI names is slow, so only so many names get it.
    searches_left: usize,
    /// Names for which it was not looked any more.
    not_searched: usize,
    /// The same for misspelt and similar names of the shelf.
    likely_left: usize,
}

/// Unknown names for which the inventory is searched by spelling.
const MOST_SEARCHES: usize = 100;
/// Unknown names for which misspelt and similar names of the shelf are looked for; nobody
/// settles more questions than these by hand.
const MOST_LIKELY: usize = 1_000;

impl<'m, 's> Decider<'m, 's> {
    pub(in crate::file::table) fn new(matcher: &'m Resolver<'s>) -> Self {
        Self {
            matcher,
            known: HashMap::new(),
            meant: HashMap::new(),
            searches_left: MOST_SEARCHES,
            not_searched: 0,
            likely_left: MOST_LIKELY,
        }
    }

    /// The materials that a row may mean, what is taken unless the maker chooses
    /// otherwise, and inventory names spelt like it if that is a new material.
    pub(in crate::file::table) fn decide(&mut self, wanted: &Wanted) -> Decision {
        if let Some(known) = self.known.get(wanted) {
            return known.clone();
        }
        let decision = self.look_up(wanted);
        self.known.insert(wanted.clone(), decision.clone());
        decision
    }

    /// What is to be told if there were more unknown names than are looked for everywhere.
    pub(in crate::file::table) fn told(&self) -> Option<String> {
        (self.likely_left == 0).then(|| {
            format!(
                "more than {MOST_LIKELY} names are not on the shelf; for the others misspelt and similar names were not looked for"
            )
        })
    }

    /// What is worth knowing of names for which nothing was offered.
    pub(in crate::file::table) fn note(&self) -> Option<String> {
        (self.not_searched > 0).then(|| {
            format!(
                "for {} further unknown names no INCI names spelt like them were looked for; search the inventory for them on the shelf",
                self.not_searched
            )
        })
    }

    /// What a row means, looked up once, and among similar names only so many times.
    pub(in crate::file::table) fn meant(&mut self, wanted: &Wanted) -> &Resolution {
        if !self.meant.contains_key(wanted) {
            let mut found = self.matcher.resolve_exactly(wanted);
            if !found.taken && self.likely_left > 0 {
                self.likely_left -= 1;
                found = self.matcher.resolve(wanted);
            }
            self.meant.insert(wanted.clone(), found);
        }
        self.meant.entry(wanted.clone()).or_default()
    }

    fn look_up(&mut self, wanted: &Wanted) -> Decision {
        let found = self.meant(wanted).clone();
        if found.taken
            && let Some(best) = found.candidates.first()
        {
            return Decision {
                choice: Choice::Known(best.id.clone(), best.how),
                candidates: found.candidates,
                suggestions: Vec::new(),
                doubts: found.doubts,
            };
        }
        let written = if wanted.inci.is_empty() {
            &wanted.name
        } else {
            &wanted.inci
        };
        let suggestions = match inventory().by_name(written) {
            Some(entry) => vec![entry.name],
            None if wanted.inci_names().len() > 1 => Vec::new(),
            None if self.searches_left == 0 => {
                self.not_searched += 1;
                Vec::new()
            }
            None => {
                self.searches_left -= 1;
                inventory()
                    .nearest(written, 3)
                    .iter()
                    .map(|e| e.name)
                    .collect()
            }
        };
        Decision {
            candidates: found.candidates,
            choice: Choice::New,
            suggestions,
            doubts: found.doubts,
        }
    }
}

impl Reader<'_> {
    /// What each line means; the same words mean the same in every row.
    pub(super) fn decide_all(
        &self,
        proposal: &mut Proposal,
        decider: &mut Decider<'_, '_>,
        told: &mut Telling<'_>,
    ) -> Result<(), RecipeError> {
        let mut exact = Exact::new(decider.matcher.shelf());
        let all = proposal.lines.len();
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
            let decided = decider.decide(&line.wanted);
            line.candidates = decided.candidates;
            line.suggestions = decided.suggestions;
            match own {
                Some(Ok(material)) if composition == "pure" => {
                    line.choice = Choice::Made(material);
                    line.doubts.extend(exact.remark.take());
                }
                Some(Ok(material)) => {
                    let how = line
                        .candidates
                        .iter()
                        .find(|c| c.id == material.id)
                        .map_or(How::Name, |c| c.how);
                    if let Some(others) = exact.others.take() {
                        line.doubts.push(format!("{others} would fit too"));
                    }
                    line.choice = Choice::Known(material.id.clone(), how);
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
                        .filter(|_| line.choice == Choice::New);
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
        let free = |kind: Option<Kind>| matches!(kind, None | Some(Kind::Note | Kind::Role));
        let columns = self.layout.columns.iter().enumerate();
        columns
            .filter(|(_, column)| free(column.map(|c| c.kind)))
            .find_map(|(at, _)| match self.table.cell(row, at) {
                Cell::Text(text) => Some((strength::said(text)?, text.trim().to_owned())),
                _ => None,
            })
    }
}

/// Whether all names of a list are INCI names: a column headed "INCI / name" may hold others.
pub(in crate::file::table) fn are_inci_names(text: &str) -> bool {
    let names = crate::naming::blend::parts(text);
    names.iter().all(|name| {
        let bare = name.split('(').next().unwrap_or(name).trim();
        inventory().by_name(name).is_some() || inventory().by_name(bare).is_some()
    })
}

/// A name without the marks of footnotes, and without the unit of its amount.
pub(in crate::file::table) fn clean_name(name: &str) -> String {
    let name = name.trim().trim_end_matches(|c: char| {
        matches!(c, '*' | '†' | '‡' | '¹' | '²' | '³') || c.is_whitespace()
    });
    Unit::taken_off(name).to_owned()
}

/// The name and the INCI names of a cell that has both below each other.
pub(in crate::file::table) fn name_over_inci(cell: &Cell) -> Option<(String, String)> {
    let Cell::Text(text) = cell else {
        return None;
    };
    let (name, below) = text.trim().split_once('\n')?;
    let below = below.split_whitespace().collect::<Vec<_>>().join(" ");
    let said = below
        .get(..4)
        .filter(|word| word.eq_ignore_ascii_case("inci"))
        .and_then(|word| below.strip_prefix(word))
        .map(|rest| rest.trim_start_matches([':', ' ']));
    match said {
        Some(inci) => Some((name.trim().to_owned(), inci.to_owned())),
        None => are_inci_names(&below).then(|| (name.trim().to_owned(), below)),
    }
}

/// The first CAS number of a cell, or why it holds none.
pub(in crate::file::table) fn first_cas(text: &str) -> Result<Option<Cas>, String> {
    let text = text.trim();
    if text.is_empty() || is_dash(text) {
        return Ok(None);
    }
    let mut fault = None;
    for part in text
        .split([',', ';', '/', ' ', '\n'])
        .filter(|p| !p.is_empty())
    {
        match part.parse::<Cas>() {
            Ok(cas) => return Ok(Some(cas)),
            Err(error) => fault = fault.or(Some(error)),
        }
    }
    Err(fault.map_or_else(String::new, |f| format!("{f}; the number was left out")))
}
