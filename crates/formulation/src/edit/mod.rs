//! Every change of a formula, as one enum and one function that applies it.
//!
//! Undo keeps whole formulas (their parts are shared), so no edit has an inverse.
//! A move that would take a line below 0 or past a bound stops at the bound and
//! says which; an edit that cannot be done at all is an error and changes nothing.

mod moving;

use std::sync::Arc;

pub use self::moving::{Kept, STEP, room};
use self::moving::{bring_to_100, room_for_new, scale_phase, set_percent, settle_filler};
use crate::composition::is_water;
use crate::finding::SetAside;
use crate::formula::{
    Date, Formula, ItemId, Line, Measured, Phase, Product, Step, Variant, VariantId,
};
use crate::history;
use crate::label_info::LabelInfo;
use crate::material::{Material, MaterialId, PhaseKind};
use crate::purpose::Purpose;
use crate::quantity::{Mass, Percent, Ph, Temperature, in_celsius, in_grams};
use crate::specification::Specification;

/// Which lines give way when one line moves. Held lines never do, nor do preservatives,
/// what adjusts the pH, and colours ([`Kept`]).
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
}

impl Edit {
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
                Some(t) => format!("Work {} at {:.0} °C", phase_name(*phase), in_celsius(*t)),
                None => format!("State no temperature for {}", phase_name(*phase)),
            },
            Self::AddStep { phase, .. } => format!("Add a step to {}", phase_name(*phase)),
            Self::SetStep(_) => "Change a step".into(),
            Self::RemoveStep(_) => "Remove a step".into(),
            Self::MoveStep { .. } => "Move a step".into(),
            Self::TakeOverMaterial(m) => format!("Take over {} from the shelf", m.name),
            Self::Branch { name, .. } => format!("Branch “{name}” from “{}”", variant.name),
            Self::MakeActive => "Work on another variant".into(),
            Self::SetArchived(true) => "Put a variant away".into(),
            Self::SetArchived(false) => "Take a variant out again".into(),
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

/// Applies an edit to a variant of a formula. The formula given is not changed.
pub fn apply(formula: &Formula, variant: VariantId, edit: &Edit) -> Result<Applied, EditError> {
    let place = formula
        .variants
        .iter()
        .position(|v| v.id == variant)
        .ok_or(EditError::NoSuchVariant)?;
    let mut formula = formula.clone();
    let mut draft = formula.variants[place].as_ref().clone();
    let mut stop = None;
    let mut created = None;
    match edit {
        Edit::Rename(name) => formula.name = named(name)?,
        Edit::SetNotes(text) => formula.notes = text.clone(),
        Edit::SetAuthor(text) => formula.author = text.clone(),
        Edit::RenameVariant(name) => draft.name = named(name)?,
        Edit::SetVariantNote(text) => draft.note = text.clone(),
        Edit::SetProduct(product) => draft.product = product.clone(),
        Edit::SetTargetPh(ph) => draft.target_ph = *ph,
        Edit::SetBatch(mass) => {
            let value = in_grams(*mass);
            if !(value.is_finite() && value > 0.0) {
                return Err(EditError::NotPositive);
            }
            draft.batch = *mass;
        }
        Edit::SetMeasured(measured) => draft.measured = measured.clone(),
        Edit::SetLabel(label) => draft.label = label.clone(),
        Edit::SetSpecification(specification) => draft.specification = specification.clone(),
        Edit::AddLine {
            phase,
            at,
            material,
            percent,
        } => {
            let id = ItemId(formula.take_id());
            let (allowed, held_back) = room_for_new(&draft, in_range(*percent)?);
            let line = Line {
                id,
                material: material.id.clone(),
                percent: allowed,
                why: "".into(),
                held: false,
                min: None,
                max: None,
                purpose: None,
            };
            let lines = &mut phase_mut(&mut draft, *phase)?.lines;
            lines.insert((*at).min(lines.len()), line);
            formula
                .materials
                .entry(material.id.clone())
                .or_insert_with(|| material.clone());
            let others = draft.total() - allowed;
            if draft.filler.is_none() && is_water(material) && others <= Percent::HUNDRED {
                let waters = draft
                    .lines()
                    .filter_map(|(_, l)| formula.material(&l.material))
                    .filter(|m| is_water(m));
                if waters.count() == 1 {
                    draft.filler = Some(id);
                }
            }
            settle_filler(&mut draft)?;
            stop = held_back;
            created = Some(id);
        }
        Edit::RemoveLine(id) => {
            take_line(&mut draft, *id)?;
            if draft.filler == Some(*id) {
                draft.filler = None;
            }
            settle_filler(&mut draft)?;
        }
        Edit::MoveLine { line, phase, at } => {
            draft.phase(*phase).ok_or(EditError::NoSuchItem)?;
            let taken = take_line(&mut draft, *line)?;
            let lines = &mut phase_mut(&mut draft, *phase)?.lines;
            lines.insert((*at).min(lines.len()), taken);
        }
        Edit::SetPercent {
            line,
            percent,
            give,
        } => {
            let kept = Kept::of(&formula, &draft);
            stop = set_percent(&mut draft, *line, in_range(*percent)?, *give, &kept)?;
        }
        Edit::SetPercents(wanted) => {
            for (line, percent) in wanted {
                let percent = in_range(*percent)?;
                line_mut(&mut draft, *line)?.percent = percent;
            }
            settle_filler(&mut draft)?;
        }
        Edit::SetHeld { line, held } => {
            if *held && draft.is_filler(*line) {
                return Err(EditError::FillerHeld);
            }
            line_mut(&mut draft, *line)?.held = *held;
        }
        Edit::SetAside { finding, aside } => {
            if *aside {
                formula.set_aside.insert(finding.clone());
            } else {
                formula.set_aside.remove(finding);
            }
        }
        Edit::SetPurpose { line, purpose } => {
            line_mut(&mut draft, *line)?.purpose = *purpose;
        }
        Edit::SetFiller(line) => {
            if let Some(line) = line {
                line_mut(&mut draft, *line)?.held = false;
            }
            draft.filler = *line;
            settle_filler(&mut draft)?;
        }
        Edit::SetRange { line, min, max } => {
            for bound in [min, max].into_iter().flatten() {
                in_range(*bound)?;
            }
            if let (Some(min), Some(max)) = (*min, *max)
                && min > max
            {
                return Err(EditError::RangeReversed { min, max });
            }
            let line = line_mut(&mut draft, *line)?;
            (line.min, line.max) = (*min, *max);
        }
        Edit::SetWhy { line, why } => line_mut(&mut draft, *line)?.why = why.clone(),
        Edit::SwapMaterial {
            line,
            material,
            percent,
        } => {
            line_mut(&mut draft, *line)?.material = material.id.clone();
            formula
                .materials
                .insert(material.id.clone(), material.clone());
            if let Some(percent) = percent
                && !draft.is_filler(*line)
            {
                let kept = Kept::of(&formula, &draft);
                let percent = in_range(*percent)?;
                stop = set_percent(&mut draft, *line, percent, GiveWay::Filler, &kept)?;
            }
        }
        Edit::ScalePhase { phase, factor } => {
            let kept = Kept::of(&formula, &draft);
            stop = scale_phase(&mut draft, *phase, *factor, &kept)?;
        }
        Edit::BringTo100 => {
            let kept = Kept::of(&formula, &draft);
            bring_to_100(&mut draft, &kept)?;
        }
        Edit::AddPhase { at, kind, purpose } => {
            let id = ItemId(formula.take_id());
            let phase = Phase {
                id,
                letter: free_letter(&draft),
                kind: *kind,
                purpose: purpose.clone(),
                temperature: None,
                lines: Vec::new(),
                steps: Vec::new(),
            };
            draft
                .phases
                .insert((*at).min(draft.phases.len()), Arc::new(phase));
            created = Some(id);
        }
        Edit::RemovePhase(id) => {
            let place = draft
                .phases
                .iter()
                .position(|p| p.id == *id)
                .ok_or(EditError::NoSuchItem)?;
            let phase = draft.phases.remove(place);
            if draft
                .filler
                .is_some_and(|f| phase.lines.iter().any(|l| l.id == f))
            {
                draft.filler = None;
            }
            settle_filler(&mut draft)?;
        }
        Edit::MovePhase { phase, at } => {
            let place = draft
                .phases
                .iter()
                .position(|p| p.id == *phase)
                .ok_or(EditError::NoSuchItem)?;
            let taken = draft.phases.remove(place);
            draft.phases.insert((*at).min(draft.phases.len()), taken);
        }
        Edit::SetPhaseLetter { phase, letter } => {
            phase_mut(&mut draft, *phase)?.letter = named(letter)?;
        }
        Edit::SetPhaseKind { phase, kind } => phase_mut(&mut draft, *phase)?.kind = *kind,
        Edit::SetPhasePurpose { phase, purpose } => {
            phase_mut(&mut draft, *phase)?.purpose = purpose.clone();
        }
        Edit::SetPhaseTemperature { phase, temperature } => {
            phase_mut(&mut draft, *phase)?.temperature = *temperature;
        }
        Edit::AddStep { phase, at, step } => {
            let id = ItemId(formula.take_id());
            let steps = &mut phase_mut(&mut draft, *phase)?.steps;
            steps.insert((*at).min(steps.len()), Step { id, ..step.clone() });
            created = Some(id);
        }
        Edit::SetStep(step) => {
            let (steps, place) = steps_with(&mut draft, step.id)?;
            steps[place] = step.clone();
        }
        Edit::RemoveStep(id) => {
            let (steps, place) = steps_with(&mut draft, *id)?;
            steps.remove(place);
        }
        Edit::MoveStep { step, at } => {
            let (steps, place) = steps_with(&mut draft, *step)?;
            let taken = steps.remove(place);
            steps.insert((*at).min(steps.len()), taken);
        }
        Edit::TakeOverMaterial(material) => {
            formula
                .materials
                .insert(material.id.clone(), material.clone());
        }
        Edit::Branch {
            name,
            note,
            created,
        } => {
            let mut branch = draft.clone();
            branch.id = VariantId(formula.take_id());
            branch.name = named(name)?;
            branch.note = note.clone();
            branch.parent = Some(draft.id);
            branch.created = *created;
            branch.archived = false;
            formula.active = branch.id;
            formula.variants.push(Arc::new(branch));
        }
        Edit::MakeActive => formula.active = variant,
        Edit::SetArchived(archived) => draft.archived = *archived,
        Edit::Restore(at) => {
            let kept = formula.history.get(*at).ok_or(EditError::NoSuchItem)?;
            if kept.variant.id != variant {
                return Err(EditError::NoSuchItem);
            }
            draft = kept.variant.as_ref().clone();
        }
        Edit::PruneHistory { keep } => history::prune(&mut formula, variant, *keep),
        Edit::Carry {
            variant, materials, ..
        } => {
            draft = with_content(&draft, variant);
            for material in materials {
                formula
                    .materials
                    .insert(material.id.clone(), material.clone());
            }
            settle_filler(&mut draft)?;
            keep_ids_free(&mut formula, &draft);
        }
        Edit::ReplaceContent { variant, materials } => {
            draft = with_content(&draft, variant);
            for material in materials {
                formula
                    .materials
                    .entry(material.id.clone())
                    .or_insert_with(|| material.clone());
            }
            settle_filler(&mut draft)?;
            keep_ids_free(&mut formula, &draft);
        }
    }
    formula.variants[place] = Arc::new(draft);
    if matches!(
        edit,
        Edit::RemoveLine(_)
            | Edit::RemovePhase(_)
            | Edit::SwapMaterial { .. }
            | Edit::PruneHistory { .. }
            | Edit::Carry { .. }
            | Edit::ReplaceContent { .. }
    ) {
        drop_unused_materials(&mut formula);
    }
    Ok(Applied {
        formula,
        stop,
        created,
    })
}

/// A variant with the content of another; identity, parent and date stay.
fn with_content(variant: &Variant, content: &Variant) -> Variant {
    Variant {
        id: variant.id,
        name: variant.name.clone(),
        parent: variant.parent,
        created: variant.created,
        archived: variant.archived,
        ..content.clone()
    }
}

/// Ids that came with a content are never given again.
fn keep_ids_free(formula: &mut Formula, variant: &Variant) {
    let ids = variant.phases.iter().flat_map(|p| {
        let lines = p.lines.iter().map(|l| l.id.0);
        let steps = p.steps.iter().map(|s| s.id.0);
        [p.id.0].into_iter().chain(lines).chain(steps)
    });
    let highest = ids.max().unwrap_or(0);
    formula.next_id = formula.next_id.max(highest + 1);
}

fn named(name: &Arc<str>) -> Result<Arc<str>, EditError> {
    let trimmed = name.trim();
    if trimmed.is_empty() {
        Err(EditError::NoName)
    } else {
        Ok(trimmed.into())
    }
}

fn in_range(percent: Percent) -> Result<Percent, EditError> {
    if (Percent::ZERO..=Percent::HUNDRED).contains(&percent) {
        Ok(percent)
    } else {
        Err(EditError::OutOfRange(percent))
    }
}

fn phase_mut(variant: &mut Variant, id: ItemId) -> Result<&mut Phase, EditError> {
    variant
        .phases
        .iter_mut()
        .find(|p| p.id == id)
        .map(Arc::make_mut)
        .ok_or(EditError::NoSuchItem)
}

fn line_mut(variant: &mut Variant, id: ItemId) -> Result<&mut Line, EditError> {
    let phase = variant
        .phases
        .iter_mut()
        .find(|p| p.lines.iter().any(|l| l.id == id))
        .ok_or(EditError::NoSuchItem)?;
    Arc::make_mut(phase)
        .lines
        .iter_mut()
        .find(|l| l.id == id)
        .ok_or(EditError::NoSuchItem)
}

fn take_line(variant: &mut Variant, id: ItemId) -> Result<Line, EditError> {
    let phase = variant
        .phases
        .iter_mut()
        .find(|p| p.lines.iter().any(|l| l.id == id))
        .ok_or(EditError::NoSuchItem)?;
    let lines = &mut Arc::make_mut(phase).lines;
    let place = lines
        .iter()
        .position(|l| l.id == id)
        .ok_or(EditError::NoSuchItem)?;
    Ok(lines.remove(place))
}

fn steps_with(variant: &mut Variant, id: ItemId) -> Result<(&mut Vec<Step>, usize), EditError> {
    let phase = variant
        .phases
        .iter_mut()
        .find(|p| p.steps.iter().any(|s| s.id == id))
        .ok_or(EditError::NoSuchItem)?;
    let steps = &mut Arc::make_mut(phase).steps;
    let place = steps
        .iter()
        .position(|s| s.id == id)
        .ok_or(EditError::NoSuchItem)?;
    Ok((steps, place))
}

/// The first letter no phase has: A to Z, then A1, A2 …
fn free_letter(variant: &Variant) -> Arc<str> {
    let taken = |letter: &str| variant.phases.iter().any(|p| p.letter.as_ref() == letter);
    let single = ('A'..='Z').map(|c| c.to_string());
    let numbered = (1u32..).map(|n| format!("A{n}"));
    single
        .chain(numbered)
        .find(|l| !taken(l))
        .unwrap_or_default()
        .into()
}

/// Drops carried materials that no variant and no earlier state uses.
fn drop_unused_materials(formula: &mut Formula) {
    let used: std::collections::BTreeSet<MaterialId> = formula
        .variants
        .iter()
        .chain(formula.history.iter().map(|k| &k.variant))
        .flat_map(|v| {
            v.lines()
                .map(|(_, l)| l.material.clone())
                .collect::<Vec<_>>()
        })
        .collect();
    formula.materials.retain(|id, _| used.contains(id));
}

#[cfg(test)]
mod tests;
