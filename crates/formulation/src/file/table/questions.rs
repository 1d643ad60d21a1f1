//! What a maker is asked about a list that is brought in: the same question is put once,
//! for all rows in which it comes up, and settled once.

use std::collections::{BTreeMap, BTreeSet, HashMap};

use super::price_list::{PriceList, ProposedPrice};
use super::recipe::{LeftOutRow, LineQuantity, MaterialChoice, ProposedLine, RecipeProposal};
use crate::naming::{Candidate, Wanted};

/// A question about one material or amount.
#[derive(Clone, PartialEq, Debug)]
pub struct Question {
    /// Rows of the table, counted from 1, in which it comes up.
    pub rows: Vec<usize>,
    /// What these rows say of the material.
    pub wanted: Wanted,
    /// What is not known, in words; none where only more than one material would fit.
    pub doubts: Vec<String>,
    /// It is about which material is meant; else about the amount.
    pub of_material: bool,
    /// Materials of the shelf it may mean, surest first.
    pub candidates: Vec<Candidate>,
    /// Inventory names it may mean.
    pub suggestions: Vec<&'static str>,
    /// What is taken unless the maker chooses otherwise.
    pub choice: MaterialChoice,
    /// The amount as read, of a question about an amount that another may be said for.
    pub amount: Option<LineQuantity>,
    /// The measure of the kitchen that it is counted in and whose weight is not said, "a drop".
    pub measure: Option<&'static str>,
}

/// What becomes of a row.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Standing<'p> {
    /// It is taken as it stands.
    Taken,
    /// It is taken with an assumption.
    Asked,
    /// It makes no line, for this reason.
    LeftOut(&'p str),
}

impl Standing<'_> {
    /// In a word.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Taken => "taken",
            Self::Asked => "asked",
            Self::LeftOut(_) => "left out",
        }
    }
}

/// A row of a list about which something may be asked.
pub trait Asked {
    /// Its row, counted from 1.
    fn row(&self) -> usize;
    /// What it says of the material.
    fn wanted(&self) -> &Wanted;
    /// What is not known about the amount, and about the material.
    fn doubts(&self) -> (&[String], &[String]);
    /// Materials it may mean.
    fn candidates(&self) -> &[Candidate];
    /// Inventory names it may mean.
    fn suggestions(&self) -> &[&'static str];
    /// What is taken.
    fn choice(&self) -> &MaterialChoice;
    /// Takes it for a material; the question which one is settled.
    fn choose(&mut self, choice: MaterialChoice);
    /// The amount is as read; the question about it is settled.
    fn accept_amount(&mut self);
    /// The amount as read, if another may be said in its place.
    fn amount(&self) -> Option<&LineQuantity> {
        None
    }
    /// The measure of the kitchen that the amount is counted in and whose weight is not said.
    fn measure(&self) -> Option<&'static str> {
        None
    }
}

impl Asked for ProposedLine {
    fn row(&self) -> usize {
        self.row
    }
    fn wanted(&self) -> &Wanted {
        &self.wanted
    }
    fn doubts(&self) -> (&[String], &[String]) {
        self.doubts
            .split_at(self.amount_doubts.min(self.doubts.len()))
    }
    fn candidates(&self) -> &[Candidate] {
        &self.candidates
    }
    fn suggestions(&self) -> &[&'static str] {
        &self.suggestions
    }
    fn choice(&self) -> &MaterialChoice {
        &self.choice
    }
    fn choose(&mut self, choice: MaterialChoice) {
        self.choice = choice;
        self.settle();
    }
    fn accept_amount(&mut self) {
        self.doubts
            .drain(..self.amount_doubts.min(self.doubts.len()));
        self.amount_doubts = 0;
    }
    fn amount(&self) -> Option<&LineQuantity> {
        Some(&self.quantity)
    }
    fn measure(&self) -> Option<&'static str> {
        self.measure
    }
}

impl Asked for ProposedPrice {
    fn row(&self) -> usize {
        self.row
    }
    fn wanted(&self) -> &Wanted {
        &self.wanted
    }
    fn doubts(&self) -> (&[String], &[String]) {
        self.doubts.split_at(self.own_doubts.min(self.doubts.len()))
    }
    fn candidates(&self) -> &[Candidate] {
        &self.candidates
    }
    fn suggestions(&self) -> &[&'static str] {
        &self.suggestions
    }
    fn choice(&self) -> &MaterialChoice {
        &self.choice
    }
    fn choose(&mut self, choice: MaterialChoice) {
        self.choice = choice;
        self.settle();
    }
    fn accept_amount(&mut self) {
        self.doubts.drain(..self.own_doubts.min(self.doubts.len()));
        self.own_doubts = 0;
    }
}

/// Whether it is still open which material a row means: something was assumed about it, or
/// nothing on the shelf was sure enough to be taken.
fn material_is_open(line: &impl Asked) -> bool {
    let (_, doubts) = line.doubts();
    let unsure = match line.choice() {
        MaterialChoice::Known(_, how) => how.is_doubtful(),
        // To take it as new where others come near is a doubt of its own.
        MaterialChoice::New | MaterialChoice::NewPure(_) | MaterialChoice::Made(_) => false,
    };
    unsure || !doubts.is_empty()
}

/// The questions about some lines, each once, in the order of their first rows.
pub fn questions<L: Asked>(lines: &[L]) -> Vec<Question> {
    let mut found: Vec<Question> = Vec::new();
    let mut places: HashMap<(bool, &Wanted, &[String]), usize> = HashMap::new();
    for line in lines {
        let (amount, material) = line.doubts();
        for (open, of_material, doubts) in [
            (!amount.is_empty(), false, amount),
            (material_is_open(line), true, material),
        ] {
            if !open {
                continue;
            }
            let place = *places
                .entry((of_material, line.wanted(), doubts))
                .or_insert(found.len());
            if let Some(known) = found.get_mut(place) {
                known.rows.push(line.row());
                continue;
            }
            found.push(Question {
                rows: vec![line.row()],
                wanted: line.wanted().clone(),
                doubts: doubts.to_vec(),
                of_material,
                candidates: line.candidates().to_vec(),
                suggestions: line.suggestions().to_vec(),
                choice: line.choice().clone(),
                amount: line.amount().filter(|_| !of_material).cloned(),
                measure: line.measure().filter(|_| !of_material),
            });
        }
    }
    found
}

/// Settles which material is meant in all lines that say the same of it; how many they are.
pub fn settle<L: Asked>(lines: &mut [L], wanted: &Wanted, choice: &MaterialChoice) -> usize {
    let mut count = 0;
    for line in lines.iter_mut().filter(|l| l.wanted() == wanted) {
        line.choose(choice.clone());
        count += 1;
    }
    count
}

/// What becomes of one row, by its number from 1; lines and rows left out are in the order of
/// the table, so that a row of a long one is found at once.
fn standing<'p, L: Asked>(
    lines: &[L],
    left_out: &'p [LeftOutRow],
    row: usize,
) -> Option<Standing<'p>> {
    let from = lines.partition_point(|l| l.row() < row);
    let mut of_row = lines
        .iter()
        .skip(from)
        .take_while(|l| l.row() == row)
        .peekable();
    if of_row.peek().is_some() {
        let asked = of_row.any(|line| !line.doubts().0.is_empty() || material_is_open(line));
        return Some(if asked {
            Standing::Asked
        } else {
            Standing::Taken
        });
    }
    let place = left_out.partition_point(|l| l.row < row);
    let left = left_out.get(place).filter(|l| l.row == row)?;
    Some(Standing::LeftOut(&left.reason))
}

/// What becomes of each row, by its number from 1.
fn standings<'p, L: Asked>(
    lines: &[L],
    left_out: &'p [LeftOutRow],
) -> BTreeMap<usize, Standing<'p>> {
    let mut rows: BTreeMap<usize, Standing<'p>> = left_out
        .iter()
        .map(|left| (left.row, Standing::LeftOut(&left.reason)))
        .collect();
    for line in lines {
        let (amount, _) = line.doubts();
        let asked = !amount.is_empty() || material_is_open(line);
        let standing = rows.entry(line.row()).or_insert(Standing::Taken);
        // A row of several lines is asked about if one of them is.
        *standing = match *standing {
            Standing::Asked => Standing::Asked,
            _ if asked => Standing::Asked,
            _ => Standing::Taken,
        };
    }
    rows
}

/// How many rows of a table ended how, counted and not worked out, so that a row that was
/// lost shows.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Counts {
    /// Rows that have something in them.
    pub rows: usize,
    /// Rows that are taken as they stand.
    pub taken: usize,
    /// Rows that are taken with an assumption.
    pub asked: usize,
    /// Rows that are left out, each with its reason.
    pub left_out: usize,
}

impl Counts {
    fn of(rows: usize, standings: &BTreeMap<usize, Standing<'_>>) -> Self {
        let mut counts = Self {
            rows,
            ..Self::default()
        };
        for standing in standings.values() {
            match standing {
                Standing::Taken => counts.taken += 1,
                Standing::Asked => counts.asked += 1,
                Standing::LeftOut(_) => counts.left_out += 1,
            }
        }
        counts
    }

    /// In words: "7 rows: 5 taken, 1 asked, 1 left out."
    pub fn words(&self) -> String {
        let rows = if self.rows == 1 { "row" } else { "rows" };
        format!(
            "{} {rows}: {} taken, {} asked, {} left out.",
            self.rows, self.taken, self.asked, self.left_out
        )
    }

    /// What is to be told where rows ended as nothing, which must not be; none if all are
    /// accounted for.
    pub fn lost_words(&self) -> Option<String> {
        let told = self.taken + self.asked + self.left_out;
        (told != self.rows).then(|| {
            format!(
                "{} of {} rows were read; look through the others by hand, and please report the file",
                told, self.rows
            )
        })
    }
}

impl std::iter::Sum for Counts {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::default(), |sum, one| Self {
            rows: sum.rows + one.rows,
            taken: sum.taken + one.taken,
            asked: sum.asked + one.asked,
            left_out: sum.left_out + one.left_out,
        })
    }
}

impl RecipeProposal {
    /// How many rows ended how.
    pub fn counts(&self) -> Counts {
        Counts::of(self.rows, &self.standings())
    }
    /// What becomes of a row of the table, counted from 1; `None` if it is empty.
    pub fn standing(&self, row: usize) -> Option<Standing<'_>> {
        standing(&self.lines, &self.left_out, row)
    }
    /// What becomes of each row of the table, by its number from 1.
    pub fn standings(&self) -> BTreeMap<usize, Standing<'_>> {
        standings(&self.lines, &self.left_out)
    }
}

impl PriceList {
    /// How many rows ended how; of those in `lost` nothing could be taken in.
    pub fn counts(&self, lost: &BTreeSet<usize>) -> Counts {
        const NOTHING: &str = "nothing of it can be taken in";
        let mut standings = self.standings();
        for row in lost {
            standings.insert(*row, Standing::LeftOut(NOTHING));
        }
        Counts::of(self.rows, &standings)
    }
    /// What becomes of a row of the table, counted from 1; `None` if it is empty.
    pub fn standing(&self, row: usize) -> Option<Standing<'_>> {
        standing(&self.prices, &self.left_out, row)
    }
    /// What becomes of each row of the table, by its number from 1.
    pub fn standings(&self) -> BTreeMap<usize, Standing<'_>> {
        standings(&self.prices, &self.left_out)
    }
}

#[cfg(test)]
mod tests {
    use super::super::read_text;
    use super::super::recipe::{RecipeSettings, propose};
    use super::*;
    use crate::naming::{How, Resolver};
    use crate::shelf::built_in;

    #[test]
    fn the_same_question_is_asked_and_settled_once() {
        let text =
            "Phase,Ingredient,%\nA,Water,70\nA,SLES,10\nB,SLES,15\nB,Glycerin,3-7\n,Total,100\n";
        let table = read_text(text).unwrap().remove(0);
        let resolver = Resolver::new(built_in());
        let mut proposal = propose(&table, "Test", &RecipeSettings::default(), &resolver).unwrap();
        let open = questions(&proposal.lines);
        let told: Vec<(&[usize], bool)> = open
            .iter()
            .map(|q| (q.rows.as_slice(), q.of_material))
            .collect();
        assert_eq!(told, [(&[3, 4][..], true), (&[5][..], false)]);
        assert_eq!(proposal.standings()[&3], Standing::Asked);
        assert_eq!(proposal.standings()[&6], Standing::LeftOut("a sum"));
        let first = MaterialChoice::Known(open[0].candidates[0].id.clone(), How::Chosen);
        assert_eq!(settle(&mut proposal.lines, &open[0].wanted, &first), 2);
        proposal.lines[3].accept_amount();
        assert!(questions(&proposal.lines).is_empty());
        assert_eq!(proposal.standings()[&3], Standing::Taken);
        // Each row that has something in it ends in one of three ways.
        assert_eq!(proposal.standings().len(), proposal.rows);
        let counts = proposal.counts();
        assert_eq!(counts.words(), "6 rows: 4 taken, 0 asked, 2 left out.");
        assert_eq!(counts.lost_words(), None);
        let mut lost = proposal.clone();
        lost.left_out.pop();
        assert!(lost.counts().lost_words().unwrap().contains("5 of 6 rows"));
        for (row, standing) in proposal.standings() {
            assert_eq!(proposal.standing(row), Some(standing));
        }
        assert_eq!(proposal.standing(0), None);
    }
}
