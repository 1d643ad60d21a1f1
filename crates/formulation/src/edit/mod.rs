//! Every change of a formula, as one enum and one function that applies it.
//!
//! Undo keeps whole formulas (their parts are shared), so no edit has an inverse.
//! A move that would take a line below 0 or past a bound stops at the bound and
//! says which; an edit that cannot be done at all is an error and changes nothing.

mod apply;
mod moving;

use std::sync::Arc;

pub use self::apply::{apply, apply_in_steps, tried};
pub use self::moving::{FixedLines, STEP, room};
use crate::amount::typed;
use crate::finding::SetAside;
use crate::formula::{Date, Formula, ItemId, Measured, Product, Step, Variant, VariantId};
use crate::label_info::LabelInfo;
use crate::material::{Material, PhaseKind};
use crate::purpose::Purpose;
use crate::quantity::{Mass, Percent, Ph, Temperature, in_grams};
use crate::specification::Specification;

/// Which lines give way when one line moves. Held lines never do, nor do preservatives,
/// what adjusts the pH, and colours ([`FixedLines`]).
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum GiveWay {
    /// The filler line takes the difference. Without a filler the total changes.
    #[default]
    Filler,
    /// The other lines of the phase, in proportion.
    Phase,
    /// All other lines, in proportion.
    All,
}

impl GiveWay {
    /// What gives way where nobody chose: the filler, without one all lines.
    pub const fn usual(variant: &Variant) -> Self {
        match variant.filler {
            Some(_) => Self::Filler,
            None => Self::All,
        }
    }
    /// All ways.
    pub const ALL: [Self; 3] = [Self::Filler, Self::Phase, Self::All];
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Filler => "the filler",
            Self::Phase => "this phase",
            Self::All => "all lines",
        }
    }
}

/// One change of a formula. Edits that speak of lines, phases or the product
/// concern the variant given to [`apply`].
#[derive(Clone, Debug, PartialEq)]
#[expect(
    missing_docs,
    reason = "each variant is documented; field names speak for themselves"
)]
pub enum Edit {
    /// Renames the formula.
    Rename(Arc<str>),
    /// Replaces the formula's notes.
    SetNotes(Arc<str>),
    /// Names the author.
    SetAuthor(Arc<str>),
    /// Renames the variant.
    RenameVariant(Arc<str>),
    /// Replaces the variant's note.
    SetVariantNote(Arc<str>),
    /// Says what the product is.
    SetProduct(Product),
    /// States the pH aimed at.
    SetTargetPh(Option<Ph>),
    /// Sets the batch mass shown beside the percentages; must be above 0.
    SetBatch(Mass),
    /// Records what was measured.
    SetMeasured(Measured),
    /// States what the label says beside what follows from the formula.
    SetLabel(Arc<LabelInfo>),
    /// States what the product must measure; the pH aimed at is set by [`Edit::SetTargetPh`].
    SetSpecification(Arc<Specification>),
    /// Adds a line to a phase at a place (0 is first); the material is carried in the file.
    /// The first water of a formula without a filler becomes the filler.
    AddLine {
        phase: ItemId,
        at: usize,
        material: Arc<Material>,
        percent: Percent,
    },
    /// Removes a line; the filler takes its share.
    RemoveLine(ItemId),
    /// Moves a line to a place in a phase, the place counted without the line.
    MoveLine {
        line: ItemId,
        phase: ItemId,
        at: usize,
    },
    /// Sets a percentage; others give way.
    SetPercent {
        line: ItemId,
        percent: Percent,
        give: GiveWay,
    },
    /// Sets several percentages at once; the filler takes the rest.
    SetPercents(Vec<(ItemId, Percent)>),
    /// Holds or frees a line.
    SetHeld { line: ItemId, held: bool },
    /// Sets a finding aside, or brings it back.
    SetAside { finding: SetAside, aside: bool },
    /// States what a line is there for, or lets it be proposed.
    SetPurpose {
        line: ItemId,
        purpose: Option<Purpose>,
    },
    /// Makes a line the filler, or leaves the formula without one.
    SetFiller(Option<ItemId>),
    /// Sets the maker's own bounds of a line.
    SetRange {
        line: ItemId,
        min: Option<Percent>,
        max: Option<Percent>,
    },
    /// Says why a line is here.
    SetWhy { line: ItemId, why: Arc<str> },
    /// Puts another material in place of a line's, at the same or a new percentage.
    SwapMaterial {
        line: ItemId,
        material: Arc<Material>,
        percent: Option<Percent>,
    },
    /// Multiplies the lines of a phase that are neither held nor the filler.
    ScalePhase { phase: ItemId, factor: f64 },
    /// Brings the total to 100: by the filler, or else by all free lines in proportion.
    BringTo100,
    /// Adds an empty phase at a place.
    AddPhase {
        at: usize,
        kind: PhaseKind,
        purpose: Arc<str>,
    },
    /// Removes a phase with its lines and steps.
    RemovePhase(ItemId),
    /// Moves a phase to a place, counted without the phase.
    MovePhase { phase: ItemId, at: usize },
    /// Changes a phase's letter.
    SetPhaseLetter { phase: ItemId, letter: Arc<str> },
    /// Changes a phase's kind.
    SetPhaseKind { phase: ItemId, kind: PhaseKind },
    /// Changes a phase's purpose.
    SetPhasePurpose { phase: ItemId, purpose: Arc<str> },
    /// Changes a phase's working temperature.
    SetPhaseTemperature {
        phase: ItemId,
        temperature: Option<Temperature>,
    },
    /// Adds a step to a phase at a place; the step's id is given by the formula.
    AddStep {
        phase: ItemId,
        at: usize,
        step: Step,
    },
    /// Replaces the step of the same id.
    SetStep(Step),
    /// Removes a step.
    RemoveStep(ItemId),
    /// Moves a step within its phase, the place counted without the step.
    MoveStep { step: ItemId, at: usize },
    /// Takes over a material as it is on the shelf in place of the carried one.
    TakeOverMaterial(Arc<Material>),
    /// Makes a copy of the variant, which is then worked on. `created` is today.
    Branch {
        name: Arc<str>,
        note: Arc<str>,
        created: Option<Date>,
    },
    /// Makes the variant the one that is worked on.
    MakeActive,
    /// Puts the variant away, or takes it out again. Nothing is deleted.
    SetArchived(bool),
    /// Brings back an earlier state of the variant, by its place in the history.
    Restore(usize),
    /// Removes all but the latest states of the variant from the history.
    PruneHistory { keep: usize },
    /// Puts what was carried across from another variant in place; `materials` take
    /// the place of those of the same id.
    Carry {
        variant: Arc<Variant>,
        materials: Vec<Arc<Material>>,
        what: Arc<str>,
    },
    /// Replaces the variant's whole content, as a proposal or a carry across does;
    /// the materials it needs are carried in the file. Identity, parent and date stay.
    ReplaceContent {
        variant: Arc<Variant>,
        materials: Vec<Arc<Material>>,
    },
}

/// What held a move back.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Bound {
    /// 0 %.
    Zero,
    /// 100 %.
    Hundred,
    /// The line's own lowest percentage.
    OwnLowest,
    /// The line's own highest percentage.
    OwnHighest,
    /// No other line may give way.
    NothingGivesWay,
}

/// A move that ended before the wanted value.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Stop {
    /// The line at its bound; the moved line itself or one that gives way.
    pub line: ItemId,
    /// Which bound.
    pub bound: Bound,
    /// Where the moved line came to stand.
    pub reached: Percent,
}

/// The result of an edit.
#[derive(Clone, Debug)]
pub struct Applied {
    /// The formula after the edit.
    pub formula: Formula,
    /// Set if the edit stopped at a bound.
    pub stop: Option<Stop>,
    /// The line, phase or step that was made.
    pub created: Option<ItemId>,
}

/// Why an edit cannot be done.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum EditError {
    /// The variant is not in the file.
    #[error("this variant is no longer in the file")]
    NoSuchVariant,
    /// The line, phase or step is not in the variant.
    #[error("this line, phase or step is no longer in the formula")]
    NoSuchItem,
    /// Outside 0 to 100.
    #[error("{0} % is not between 0 and 100 %")]
    OutOfRange(Percent),
    /// Lowest above highest.
    #[error("the lowest percentage, {min} %, is above the highest, {max} %")]
    RangeReversed {
        /// Lowest.
        min: Percent,
        /// Highest.
        max: Percent,
    },
    /// The filler cannot take up the difference.
    #[error(
        "the filler would have to be {needed} %, outside its bounds of {low} to {high} %; change the other lines first"
    )]
    FillerCannot {
        /// What 100 less the other lines is.
        needed: Percent,
        /// Lowest the filler may be.
        low: Percent,
        /// Highest the filler may be.
        high: Percent,
    },
    /// The filler's percentage follows from the others.
    #[error(
        "the filler takes the rest to 100, so its percentage follows from the others; change another line, or choose that other lines give way"
    )]
    FillerFollows,
    /// A filler cannot be held.
    #[error(
        "the filler takes the rest to 100 and cannot be held; make another line the filler first"
    )]
    FillerHeld,
    /// Free lines cannot reach 100.
    #[error("the lines that are not held cannot bring the total to 100 within their bounds")]
    CannotReach100,
    /// A factor or mass that is not a positive number.
    #[error("a number above 0 is needed")]
    NotPositive,
    /// A name of nothing but blanks.
    #[error("a name is needed")]
    NoName,
    /// Another variant of the formula has the name.
    #[error("another variant is already called {0}; give this one a name of its own")]
    NameTaken(Arc<str>),
}

impl Edit {
    /// The one edit that takes over a proposed variant with the materials it uses, which
    /// `formula` carries.
    pub fn taking_over(formula: &Formula, variant: &Variant) -> Self {
        let materials = variant
            .lines()
            .filter_map(|(_, line)| formula.material(&line.material).cloned())
            .collect();
        Self::ReplaceContent {
            variant: Arc::new(variant.clone()),
            materials,
        }
    }

    /// What the edit does to a variant, in a few words, for the undo list and the
    /// history. `stop` tells where a move ended that came to a bound.
    pub fn describe(&self, formula: &Formula, variant: VariantId, stop: Option<Stop>) -> String {
        let variant = formula.variant(variant).unwrap_or_else(|| formula.active());
        let line_name = |id: ItemId| {
            variant
                .line(id)
                .and_then(|l| formula.material(&l.material))
                .map_or_else(|| "line".to_owned(), |m| m.name.to_string())
        };
        let phase_name = |id: ItemId| {
            variant
                .phase(id)
                .map_or_else(|| "phase".to_owned(), |p| format!("phase {}", p.letter))
        };
        match self {
            Self::Rename(name) => format!("Rename the formula to {name}"),
            Self::SetNotes(_) => "Change the notes".into(),
            Self::SetAuthor(_) => "Change the author".into(),
            Self::RenameVariant(name) => format!("Rename the variant to {name}"),
            Self::SetVariantNote(_) => "Change the variant's note".into(),
            Self::SetProduct(_) => "Change the product".into(),
            Self::SetTargetPh(Some(ph)) => format!("Aim at pH {ph}"),
            Self::SetTargetPh(None) => "Aim at no pH".into(),
            Self::SetBatch(mass) => format!("Show a batch of {} g", in_grams(*mass)),
            Self::SetMeasured(_) => "Record a measurement".into(),
            Self::SetLabel(_) => "Change the label".into(),
            Self::SetSpecification(_) => "Change the specification".into(),
            Self::AddLine { material, .. } => format!("Add {}", material.name),
            Self::RemoveLine(id) => format!("Remove {}", line_name(*id)),
            Self::MoveLine { line, .. } => format!("Move {}", line_name(*line)),
            Self::SetPercent { line, percent, .. } => {
                let reached = stop.map_or(*percent, |stop| stop.reached);
                format!("Set {} to {reached} %", line_name(*line))
            }
            Self::SetPercents(lines) => format!("Set {} percentages", lines.len()),
            Self::SetHeld { line, held: true } => format!("Hold {}", line_name(*line)),
            Self::SetHeld { line, held: false } => format!("Free {}", line_name(*line)),
            Self::SetAside { aside: true, .. } => "Set a finding aside".into(),
            Self::SetAside { aside: false, .. } => "Bring a finding back".into(),
            Self::SetPurpose {
                line,
                purpose: Some(purpose),
            } => format!(
                "State what {} is for: {}",
                line_name(*line),
                purpose.label()
            ),
            Self::SetPurpose {
                line,
                purpose: None,
            } => format!("Leave open what {} is for", line_name(*line)),
            Self::SetFiller(Some(line)) => format!("Make {} the filler", line_name(*line)),
            Self::SetFiller(None) => "Do without a filler".into(),
            Self::SetRange { line, .. } => format!("Set the bounds of {}", line_name(*line)),
            Self::SetWhy { line, .. } => format!("Say why {} is here", line_name(*line)),
            Self::SwapMaterial { line, material, .. } => {
                format!("Put {} in place of {}", material.name, line_name(*line))
            }
            Self::ScalePhase { phase, .. } => format!("Scale {}", phase_name(*phase)),
            Self::BringTo100 => "Bring the total to 100".into(),
            Self::AddPhase { .. } => "Add a phase".into(),
            Self::RemovePhase(id) => format!("Remove {}", phase_name(*id)),
            Self::MovePhase { phase, .. } => format!("Move {}", phase_name(*phase)),
            Self::SetPhaseLetter { phase, letter } => {
                format!("Call {} {letter}", phase_name(*phase))
            }
            Self::SetPhaseKind { phase, .. } => {
                format!("Change the kind of {}", phase_name(*phase))
            }
            Self::SetPhasePurpose { phase, .. } => {
                format!("Change the purpose of {}", phase_name(*phase))
            }
            Self::SetPhaseTemperature { phase, temperature } => match temperature {
                Some(t) => format!(
                    "Work {} at {}",
                    phase_name(*phase),
                    typed::shown_temperature(*t)
                ),
                None => format!("State no temperature for {}", phase_name(*phase)),
            },
            Self::AddStep { phase, .. } => format!("Add a step to {}", phase_name(*phase)),
            Self::SetStep(_) => "Change a step".into(),
            Self::RemoveStep(_) => "Remove a step".into(),
            Self::MoveStep { .. } => "Move a step".into(),
            Self::TakeOverMaterial(m) => format!("Take over {} from the shelf", m.name),
            Self::Branch { name, .. } => format!("Branch “{name}” from “{}”", variant.name),
            Self::MakeActive => "Work on another variant".into(),
            Self::SetArchived(true) => format!("No longer use “{}”", variant.name),
            Self::SetArchived(false) => format!("Use “{}” again", variant.name),
            Self::Restore(place) => match formula.history.get(*place) {
                Some(kept) => format!("Go back to the state before “{}”", kept.what),
                None => "Go back to an earlier state".into(),
            },
            Self::PruneHistory { keep } => format!("Keep the latest {keep} earlier states"),
            Self::Carry { what, .. } => what.to_string(),
            Self::ReplaceContent { .. } => "Take over a proposal".into(),
        }
    }
}

#[cfg(test)]
mod tests;
