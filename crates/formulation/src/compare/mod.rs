//! Two variants side by side: lines aligned by material, differences as data that
//! can be carried across, a note of the change, and the merge of two copies of a
//! file.
//!
//! A comparison is symmetric: with the sides exchanged it lists the same
//! differences, mirrored. All differences applied to the left give the content of
//! the right exactly, but for identities (ids of lines, phases and steps).

mod align;
mod apply;
mod difference;
pub mod figures;
mod label_words;
mod listing;
pub mod merge;
pub mod note;
mod specification_words;
pub mod texts;

use std::sync::Arc;

use crate::formula::{Formula, ItemId, Line, Phase, Variant};
use crate::material::Material;

pub use apply::{Carried, CarryScope, carry, put};
pub use difference::{Both, Difference, DifferenceSubject, PhaseHead, Side};

/// A variant and the file it is in.
#[derive(Clone, Copy, Debug)]
pub struct Compared<'a> {
    /// The file, which carries the materials.
    pub formula: &'a Formula,
    /// The variant.
    pub variant: &'a Variant,
}

impl<'a> Compared<'a> {
    /// A variant of a file.
    pub const fn new(formula: &'a Formula, variant: &'a Variant) -> Self {
        Self { formula, variant }
    }
    fn material(&self, line: &Line) -> Option<&'a Arc<Material>> {
        self.formula.material(&line.material)
    }
}

/// How two lines belong together.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum LineRelation {
    /// The same material.
    Same,
    /// The same material under another name or id.
    Renamed,
    /// Another material in its place.
    Swapped,
    /// A further part of a material that the other side has in fewer lines.
    Split,
    /// On one side only.
    Only,
}

/// One aligned line.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct AlignedLine {
    /// The line on the left.
    pub left: Option<ItemId>,
    /// The line on the right.
    pub right: Option<ItemId>,
    /// How they belong together.
    pub relation: LineRelation,
}

/// One aligned phase or step; at least one side is there.
pub type Pair = Both<Option<ItemId>>;

/// Two variants aligned, and what differs.
#[derive(Clone, PartialEq, Debug)]
pub struct Comparison {
    /// Phases in the working order of the left, those of the right alone where they
    /// stand there.
    pub phases: Vec<Pair>,
    /// Lines in the same way.
    pub rows: Vec<AlignedLine>,
    /// Steps in the same way.
    pub steps: Vec<Pair>,
    /// What differs: the product first, then phases, lines, steps, materials.
    pub differences: Vec<Difference>,
    /// The order of everything on each side.
    order: Both<apply::Order>,
}

impl Comparison {
    /// Whether nothing differs.
    pub fn is_empty(&self) -> bool {
        self.differences.is_empty()
    }

    /// The same comparison with the sides exchanged, rows in their present order.
    pub fn mirrored(&self) -> Self {
        Self {
            phases: self.phases.iter().map(Both::mirrored).collect(),
            rows: self
                .rows
                .iter()
                .map(|row| AlignedLine {
                    left: row.right,
                    right: row.left,
                    relation: row.relation,
                })
                .collect(),
            steps: self.steps.iter().map(Both::mirrored).collect(),
            differences: self.differences.iter().map(Difference::mirrored).collect(),
            order: self.order.mirrored(),
        }
    }

    /// What differs in a row.
    pub fn of_row(&self, row: AlignedLine) -> impl Iterator<Item = &Difference> {
        let ids = Both::new(row.left, row.right);
        self.differences
            .iter()
            .filter(move |d| d.subject() == DifferenceSubject::Line(ids))
    }

    /// What differs in a phase as such, not in its lines or steps.
    pub fn of_phase(&self, pair: Pair) -> impl Iterator<Item = &Difference> {
        self.differences
            .iter()
            .filter(move |d| d.subject() == DifferenceSubject::Phase(pair))
    }

    /// What differs in a step.
    pub fn of_step(&self, pair: Pair) -> impl Iterator<Item = &Difference> {
        self.differences
            .iter()
            .filter(move |d| d.subject() == DifferenceSubject::Step(pair))
    }
}

/// Compares two variants, of one file or of two.
pub fn compare(left: Compared<'_>, right: Compared<'_>) -> Comparison {
    let aligned = align::align(left, right);
    let differences = listing::list(left, right, &aligned);
    let order = Both::new(
        apply::Order::of(left.variant),
        apply::Order::of(right.variant),
    );
    aligned.into_comparison(differences, order)
}

/// Whether two variants have the same content, whatever their names and ids.
pub fn same_content(left: Compared<'_>, right: Compared<'_>) -> bool {
    compare(left, right).is_empty()
}

/// Everything in a phase but its lines and steps.
fn head(phase: &Phase) -> PhaseHead {
    let Phase {
        id: _,
        letter,
        kind,
        purpose,
        temperature,
        lines: _,
        steps: _,
    } = phase;
    PhaseHead {
        letter: letter.clone(),
        kind: *kind,
        purpose: purpose.clone(),
        temperature: *temperature,
    }
}

#[cfg(test)]
mod tests;
