//! Every change of a formula, as one enum and one function that applies it.
//!
//! Undo keeps whole formulas (their parts are shared), so no edit has an inverse.
//! A move that would take a line below 0 or past a bound stops at the bound and
//! says which; an edit that cannot be done at all is an error and changes nothing.

use std::sync::Arc;

use crate::finding::SetAside;
use crate::formula::{
    Date, Formula, ItemId, Line, Measured, Phase, Product, Step, Variant, VariantId,
};
use crate::history;
use crate::label_info::LabelInfo;
use crate::material::{Material, MaterialId, PhaseKind};
use crate::purpose::Purpose;
use crate::quantity::{Mass, Percent, Ph, Temperature, in_celsius, in_grams};

/// Which lines give way when one line moves. Held lines never do.
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
    /// All ways.
    pub const ALL: [Self; 3] = [Self::Filler, Self::Phase, Self::All];
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Filler => "the filler",
            Self::Phase => "the rest of the phase",
            Self::All => "all other lines",
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
    /// Adds a line to a phase at a place (0 is first); the material is carried in the file.
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
            stop = set_percent(&mut draft, *line, in_range(*percent)?, *give)?;
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
                stop = set_percent(&mut draft, *line, in_range(*percent)?, GiveWay::Filler)?;
            }
        }
        Edit::ScalePhase { phase, factor } => stop = scale_phase(&mut draft, *phase, *factor)?,
        Edit::BringTo100 => bring_to_100(&mut draft)?,
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

/// The lowest and highest percentage to which a line may move, others giving way.
pub fn room(
    variant: &Variant,
    line: ItemId,
    give: GiveWay,
) -> Result<(Percent, Percent), EditError> {
    let moved = variant.line(line).ok_or(EditError::NoSuchItem)?;
    let travel = travel(variant, moved, give)?;
    Ok((travel.low.0, travel.high.0))
}

/// How far a line may travel, with what holds it at each end.
struct Travel {
    low: (Percent, ItemId, Bound),
    high: (Percent, ItemId, Bound),
}

fn bounds(line: &Line) -> (Percent, Percent) {
    let low = line.min.unwrap_or(Percent::ZERO).max(Percent::ZERO);
    let high = line.max.unwrap_or(Percent::HUNDRED).min(Percent::HUNDRED);
    (low, high.max(low))
}

fn low_bound(line: &Line) -> (Percent, ItemId, Bound) {
    let low = bounds(line).0;
    (
        low,
        line.id,
        if low == Percent::ZERO {
            Bound::Zero
        } else {
            Bound::OwnLowest
        },
    )
}

fn high_bound(line: &Line) -> (Percent, ItemId, Bound) {
    let high = bounds(line).1;
    (
        high,
        line.id,
        if high == Percent::HUNDRED {
            Bound::Hundred
        } else {
            Bound::OwnHighest
        },
    )
}

fn travel(variant: &Variant, moved: &Line, give: GiveWay) -> Result<Travel, EditError> {
    let mut travel = Travel {
        low: low_bound(moved),
        high: high_bound(moved),
    };
    let mut narrow = |low: (Percent, ItemId, Bound), high: (Percent, ItemId, Bound)| {
        if low.0 > travel.low.0 {
            travel.low = low;
        }
        if high.0 < travel.high.0 {
            travel.high = high;
        }
    };
    match give {
        GiveWay::Filler => {
            let Some(filler) = variant.filler.and_then(|f| variant.line(f)) else {
                return Ok(travel);
            };
            if filler.id == moved.id {
                return Err(EditError::FillerFollows);
            }
            let rest = variant.total() - moved.percent - filler.percent;
            let (least, most) = (low_bound(filler), high_bound(filler));
            let to = |p: Percent| Percent::HUNDRED - rest - p;
            narrow(
                (to(most.0), most.1, most.2),
                (to(least.0), least.1, least.2),
            );
        }
        GiveWay::Phase | GiveWay::All => {
            let others = giving(variant, moved, give);
            let (mut down, mut up) = (Percent::ZERO, Percent::ZERO);
            for other in &others {
                let (low, high) = bounds(other);
                down += (other.percent - low).max(Percent::ZERO);
                up += (high - other.percent).max(Percent::ZERO);
            }
            // The line named is the one with the most weight among those that give way.
            let named = others.iter().max_by_key(|l| l.percent);
            let at = |bound: fn(&Line) -> (Percent, ItemId, Bound)| {
                named.map_or((moved.id, Bound::NothingGivesWay), |l| {
                    (bound(l).1, bound(l).2)
                })
            };
            let (low, high) = (at(high_bound), at(low_bound));
            narrow(
                (moved.percent - up, low.0, low.1),
                (moved.percent + down, high.0, high.1),
            );
        }
    }
    Ok(travel)
}

/// The lines that give way in proportion: not held, not the moved one, above zero.
fn giving<'a>(variant: &'a Variant, moved: &Line, give: GiveWay) -> Vec<&'a Line> {
    let phase = variant.phase_of(moved.id).map(|p| p.id);
    variant
        .lines()
        .filter(|(p, l)| {
            l.id != moved.id
                && !l.held
                && l.percent > Percent::ZERO
                && (give == GiveWay::All || Some(p.id) == phase)
        })
        .map(|(_, l)| l)
        .collect()
}

fn set_percent(
    variant: &mut Variant,
    id: ItemId,
    wanted: Percent,
    give: GiveWay,
) -> Result<Option<Stop>, EditError> {
    let moved = variant.line(id).ok_or(EditError::NoSuchItem)?.clone();
    let travel = travel(variant, &moved, give)?;
    // Where the bounds leave no room at all, the line stays where it is.
    let reached = if travel.low.0 > travel.high.0 {
        moved.percent
    } else {
        wanted.clamp_to(travel.low.0, travel.high.0)
    };
    let stop = (reached != wanted).then(|| {
        let (_, line, bound) = if wanted > reached {
            travel.high
        } else {
            travel.low
        };
        Stop {
            line,
            bound,
            reached,
        }
    });
    if give != GiveWay::Filler {
        let changes = spread(&giving(variant, &moved, give), moved.percent - reached);
        for (other, change) in changes {
            line_mut(variant, other)?.percent += change;
        }
    }
    line_mut(variant, id)?.percent = reached;
    settle_filler(variant)?;
    Ok(stop)
}

/// Spreads a change over lines in proportion to their percentages, exactly, within
/// their bounds. What the bounds leave over is not spread.
fn spread(lines: &[&Line], change: Percent) -> Vec<(ItemId, Percent)> {
    let mut open: Vec<(ItemId, i128, i128)> = lines
        .iter()
        .map(|l| {
            let (low, high) = bounds(l);
            let cap = if change > Percent::ZERO {
                high - l.percent
            } else {
                l.percent - low
            };
            (
                l.id,
                i128::from(l.percent.units()),
                i128::from(cap.units().max(0)),
            )
        })
        .collect();
    let sign = if change < Percent::ZERO { -1 } else { 1 };
    let mut rest = i128::from(change.units().abs());
    let mut done = Vec::with_capacity(open.len());
    loop {
        let weight: i128 = open.iter().map(|o| o.1).sum();
        if weight == 0 || rest == 0 {
            break;
        }
        let (full, free): (Vec<_>, Vec<_>) = open
            .iter()
            .copied()
            .partition(|o| o.1 * rest > o.2 * weight);
        if full.is_empty() {
            // Largest remainder: every line its whole steps, the steps left over to the
            // largest remainders, so that the sum is exact.
            let mut shares: Vec<(ItemId, i128, i128)> = free
                .iter()
                .map(|o| (o.0, o.1 * rest / weight, o.1 * rest % weight))
                .collect();
            let left = rest - shares.iter().map(|s| s.1).sum::<i128>();
            let mut order: Vec<usize> = (0..shares.len()).collect();
            order.sort_by_key(|&i| std::cmp::Reverse(shares[i].2));
            for &i in order.iter().take(left as usize) {
                shares[i].1 += 1;
            }
            done.extend(shares.iter().map(|s| (s.0, s.1)));
            break;
        }
        for o in &full {
            done.push((o.0, o.2));
            rest -= o.2;
        }
        open = free;
    }
    done.into_iter()
        .map(|(id, units)| (id, Percent::from_units(sign * units as i64)))
        .collect()
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

/// Gives the filler what is left to 100.
fn settle_filler(variant: &mut Variant) -> Result<(), EditError> {
    let Some(filler) = variant.filler else {
        return Ok(());
    };
    let line = variant.line(filler).ok_or(EditError::NoSuchItem)?;
    let needed = Percent::HUNDRED - (variant.total() - line.percent);
    if needed == line.percent {
        return Ok(());
    }
    let (low, high) = bounds(line);
    if needed < low || needed > high {
        return Err(EditError::FillerCannot { needed, low, high });
    }
    line_mut(variant, filler)?.percent = needed;
    Ok(())
}

/// How much of a wanted percentage a new line may take from the filler.
fn room_for_new(variant: &Variant, wanted: Percent) -> (Percent, Option<Stop>) {
    let Some(filler) = variant.filler.and_then(|f| variant.line(f)) else {
        return (wanted, None);
    };
    let (low, line, bound) = low_bound(filler);
    let room = (Percent::HUNDRED - (variant.total() - filler.percent) - low).max(Percent::ZERO);
    if wanted <= room {
        (wanted, None)
    } else {
        (
            room,
            Some(Stop {
                line,
                bound,
                reached: room,
            }),
        )
    }
}

fn scale_phase(
    variant: &mut Variant,
    phase: ItemId,
    factor: f64,
) -> Result<Option<Stop>, EditError> {
    if !(factor.is_finite() && factor > 0.0) {
        return Err(EditError::NotPositive);
    }
    let found = variant.phase(phase).ok_or(EditError::NoSuchItem)?.clone();
    let free: Vec<&Line> = found
        .lines
        .iter()
        .filter(|l| !l.held && !variant.is_filler(l.id) && l.percent > Percent::ZERO)
        .collect();
    let sum: Percent = free.iter().map(|l| l.percent).sum();
    let mut reach = factor;
    let mut stop = None;
    let mut hold_at = |limit: f64, (_, line, bound): (Percent, ItemId, Bound)| {
        let past = if factor > 1.0 {
            limit < reach
        } else {
            limit > reach
        };
        if past {
            reach = if factor > 1.0 {
                limit.max(1.0)
            } else {
                limit.min(1.0)
            };
            stop = Some((line, bound));
        }
    };
    for line in &free {
        let bound = if factor > 1.0 {
            high_bound(line)
        } else {
            low_bound(line)
        };
        hold_at(bound.0.as_percent() / line.percent.as_percent(), bound);
    }
    if let Some(filler) = variant.filler.and_then(|f| variant.line(f))
        && sum > Percent::ZERO
    {
        let bound = if factor > 1.0 {
            low_bound(filler)
        } else {
            high_bound(filler)
        };
        let room = (filler.percent - bound.0).as_percent();
        hold_at(1.0 + room / sum.as_percent(), bound);
    }
    // Rounded towards the present value, so that no bound is passed by a step.
    let scaled: Vec<(ItemId, Percent)> = free
        .iter()
        .map(|l| {
            let exact = l.percent.units() as f64 * reach;
            let units = if reach > 1.0 {
                exact.floor()
            } else {
                exact.ceil()
            };
            let (low, high) = bounds(l);
            let lowest = low.min(l.percent);
            let highest = high.max(l.percent);
            (
                l.id,
                Percent::from_units(units as i64).clamp_to(lowest, highest),
            )
        })
        .collect();
    for (id, percent) in scaled {
        line_mut(variant, id)?.percent = percent;
    }
    settle_filler(variant)?;
    let reached = variant.phase(phase).map_or(Percent::ZERO, |p| p.total());
    Ok(stop.map(|(line, bound)| Stop {
        line,
        bound,
        reached,
    }))
}

fn bring_to_100(variant: &mut Variant) -> Result<(), EditError> {
    if variant.filler.is_some() {
        return settle_filler(variant);
    }
    let missing = Percent::HUNDRED - variant.total();
    let free: Vec<Line> = variant
        .lines()
        .map(|(_, l)| l)
        .filter(|l| !l.held && l.percent > Percent::ZERO)
        .cloned()
        .collect();
    let changes = spread(&free.iter().collect::<Vec<_>>(), missing);
    if changes.iter().map(|c| c.1).sum::<Percent>() != missing {
        return Err(EditError::CannotReach100);
    }
    for (id, change) in changes {
        line_mut(variant, id)?.percent += change;
    }
    Ok(())
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
mod tests {
    use super::*;
    use crate::fixture::{line, material, phased};
    use crate::material::Class;
    use proptest::prelude::*;

    fn p(text: &str) -> Percent {
        text.parse().unwrap()
    }

    /// Phase A: water 80 (filler, 10) and glycerin 5 (11); phase B: oil 10 (12), wax 5 (13).
    fn sample() -> Formula {
        let water = material("water", &[("Aqua", 100.0, Class::Water)]);
        let glycerin = material("glycerin", &[("Glycerin", 100.0, Class::Humectant)]);
        let oil = material("oil", &[("Oil", 100.0, Class::Oil)]);
        let wax = material("wax", &[("Wax", 100.0, Class::Oil)]);
        let f = phased(vec![
            vec![line(&water, "80"), line(&glycerin, "5")],
            vec![line(&oil, "10"), line(&wax, "5")],
        ]);
        run(&f, &Edit::SetFiller(Some(ItemId(10)))).formula
    }

    fn run(f: &Formula, edit: &Edit) -> Applied {
        apply(f, f.active, edit).unwrap()
    }

    fn fails(f: &Formula, edit: &Edit) -> EditError {
        apply(f, f.active, edit).unwrap_err()
    }

    fn set(line: u64, percent: &str, give: GiveWay) -> Edit {
        Edit::SetPercent {
            line: ItemId(line),
            percent: p(percent),
            give,
        }
    }

    fn percents(f: &Formula) -> Vec<String> {
        f.active()
            .lines()
            .map(|(_, l)| l.percent.to_string())
            .collect()
    }

    #[test]
    fn the_filler_takes_the_difference_and_stops_at_zero() {
        let f = sample();
        let a = run(&f, &set(11, "7.5", GiveWay::Filler));
        assert_eq!(percents(&a.formula), ["77.5", "7.5", "10", "5"]);
        assert_eq!(a.stop, None);
        let a = run(&f, &set(11, "90", GiveWay::Filler));
        assert_eq!(percents(&a.formula), ["0", "85", "10", "5"]);
        assert_eq!(
            a.stop,
            Some(Stop {
                line: ItemId(10),
                bound: Bound::Zero,
                reached: p("85")
            })
        );
    }

    #[test]
    fn own_bounds_stop_a_move_and_are_named() {
        let f = run(
            &sample(),
            &Edit::SetRange {
                line: ItemId(11),
                min: Some(p("2")),
                max: Some(p("6")),
            },
        )
        .formula;
        let a = run(&f, &set(11, "9", GiveWay::Filler));
        assert_eq!(
            a.stop.map(|s| (s.line, s.bound, s.reached)),
            Some((ItemId(11), Bound::OwnHighest, p("6")))
        );
        // The history tells where the line came to stand, not what was asked for.
        let edit = set(11, "9", GiveWay::Filler);
        let words = edit.describe(&f, f.active, a.stop);
        assert!(words.ends_with(" to 6 %"), "{words}");
        let a = run(&f, &set(11, "0", GiveWay::Filler));
        assert_eq!(a.stop.map(|s| s.bound), Some(Bound::OwnLowest));
        let f = run(
            &sample(),
            &Edit::SetRange {
                line: ItemId(10),
                min: Some(p("70")),
                max: None,
            },
        )
        .formula;
        let a = run(&f, &set(12, "30", GiveWay::Filler));
        assert_eq!(
            a.stop.map(|s| (s.line, s.bound, s.reached)),
            Some((ItemId(10), Bound::OwnLowest, p("20")))
        );
    }

    #[test]
    fn the_phase_or_all_lines_give_way_in_proportion() {
        let f = sample();
        assert_eq!(
            percents(&run(&f, &set(12, "12", GiveWay::Phase)).formula),
            ["80", "5", "12", "3"]
        );
        let a = run(&f, &set(12, "19", GiveWay::All)).formula;
        assert_eq!(percents(&a), ["72", "4.5", "19", "4.5"]);
        let held = run(
            &f,
            &Edit::SetHeld {
                line: ItemId(13),
                held: true,
            },
        )
        .formula;
        assert_eq!(
            percents(&run(&held, &set(12, "18.5", GiveWay::All)).formula),
            ["72", "4.5", "18.5", "5"]
        );
        let a = run(&held, &set(12, "11", GiveWay::Phase));
        assert_eq!(a.stop.map(|s| s.bound), Some(Bound::NothingGivesWay));
        assert_eq!(percents(&a.formula), percents(&held));
    }

    #[test]
    fn what_cannot_be_done_says_so_and_changes_nothing() {
        let f = sample();
        assert_eq!(
            fails(&f, &set(10, "50", GiveWay::Filler)),
            EditError::FillerFollows
        );
        assert_eq!(
            fails(&f, &set(99, "5", GiveWay::Filler)),
            EditError::NoSuchItem
        );
        assert_eq!(
            fails(&f, &set(11, "101", GiveWay::Filler)),
            EditError::OutOfRange(p("101"))
        );
        assert_eq!(
            fails(
                &f,
                &Edit::SetHeld {
                    line: ItemId(10),
                    held: true
                }
            ),
            EditError::FillerHeld
        );
        assert_eq!(fails(&f, &Edit::Rename(" ".into())), EditError::NoName);
        let full = run(
            &f,
            &Edit::SetRange {
                line: ItemId(10),
                min: None,
                max: Some(p("82")),
            },
        )
        .formula;
        assert!(matches!(
            fails(&full, &Edit::RemoveLine(ItemId(12))),
            EditError::FillerCannot { .. }
        ));
    }

    #[test]
    fn lines_are_added_moved_swapped_and_removed() {
        let f = sample();
        let honey = material("honey", &[("Mel", 100.0, Class::Humectant)]);
        let add = |percent: &str| Edit::AddLine {
            phase: ItemId(101),
            at: 1,
            material: honey.clone(),
            percent: p(percent),
        };
        let a = run(&f, &add("3"));
        assert_eq!(percents(&a.formula), ["77", "5", "10", "3", "5"]);
        let id = a.created.unwrap();
        let moved = run(
            &a.formula,
            &Edit::MoveLine {
                line: id,
                phase: ItemId(100),
                at: 0,
            },
        )
        .formula;
        assert_eq!(percents(&moved), ["3", "77", "5", "10", "5"]);
        assert_eq!(run(&f, &add("95")).stop.map(|s| s.reached), Some(p("80")));
        let gone = run(&moved, &Edit::RemoveLine(id)).formula;
        assert_eq!(percents(&gone), percents(&f));
        assert!(!gone.materials.contains_key(&honey.id));
        let swapped = run(
            &f,
            &Edit::SwapMaterial {
                line: ItemId(11),
                material: honey.clone(),
                percent: Some(p("6")),
            },
        )
        .formula;
        assert_eq!(percents(&swapped), ["79", "6", "10", "5"]);
        assert_eq!(swapped.materials.len(), 4);
    }

    #[test]
    fn a_phase_scales_until_a_bound_holds_it() {
        let f = sample();
        let scale = |factor: f64| Edit::ScalePhase {
            phase: ItemId(101),
            factor,
        };
        assert_eq!(
            percents(&run(&f, &scale(2.0)).formula),
            ["65", "5", "20", "10"]
        );
        assert_eq!(
            percents(&run(&f, &scale(0.5)).formula),
            ["87.5", "5", "5", "2.5"]
        );
        let a = run(&f, &scale(10.0));
        assert_eq!(
            a.stop.map(|s| (s.line, s.bound)),
            Some((ItemId(10), Bound::Zero))
        );
        assert_eq!(a.formula.active().total(), Percent::HUNDRED);
        assert_eq!(fails(&f, &scale(0.0)), EditError::NotPositive);
        assert_eq!(fails(&f, &scale(f64::NAN)), EditError::NotPositive);
    }

    #[test]
    fn without_a_filler_free_lines_bring_the_total_to_100() {
        let f = run(&sample(), &Edit::SetFiller(None)).formula;
        let f = run(&f, &set(12, "20", GiveWay::Filler)).formula;
        assert_eq!(f.active().total(), p("110"));
        let f = run(
            &f,
            &Edit::SetHeld {
                line: ItemId(13),
                held: true,
            },
        )
        .formula;
        let f = run(&f, &Edit::BringTo100).formula;
        assert_eq!(f.active().total(), Percent::HUNDRED);
        assert_eq!(f.active().line(ItemId(13)).unwrap().percent, p("5"));
    }

    #[test]
    fn phases_and_steps() {
        let f = sample();
        let a = run(
            &f,
            &Edit::AddPhase {
                at: 1,
                kind: PhaseKind::CoolDown,
                purpose: "Scent".into(),
            },
        );
        assert_eq!(a.formula.active().phases[1].letter.as_ref(), "C");
        let id = a.created.unwrap();
        let step = Step {
            id: ItemId(0),
            text: "Stir".into(),
            temperature: None,
            minutes: Some(5),
            tool: "".into(),
            check: "".into(),
        };
        let b = run(
            &a.formula,
            &Edit::AddStep {
                phase: id,
                at: 9,
                step: step.clone(),
            },
        );
        let step_id = b.created.unwrap();
        let c = run(
            &b.formula,
            &Edit::SetStep(Step {
                id: step_id,
                minutes: Some(7),
                ..step
            }),
        )
        .formula;
        assert_eq!(c.active().phase(id).unwrap().steps[0].minutes, Some(7));
        let d = run(&c, &Edit::RemoveStep(step_id)).formula;
        assert!(d.active().phase(id).unwrap().steps.is_empty());
        let e = run(&d, &Edit::MovePhase { phase: id, at: 5 }).formula;
        assert_eq!(e.active().phases[2].id, id);
        let g = run(&e, &Edit::RemovePhase(ItemId(101))).formula;
        assert_eq!(percents(&g), ["95", "5"]);
    }

    /// Any edit of percentages, described by small numbers.
    fn some_edit() -> impl Strategy<Value = Edit> {
        let line = (10u64..16).prop_map(ItemId);
        let percent = (0i64..=100_000_000).prop_map(Percent::from_units);
        let give = prop_oneof![
            Just(GiveWay::Filler),
            Just(GiveWay::Phase),
            Just(GiveWay::All)
        ];
        prop_oneof![
            6 => (line.clone(), percent.clone(), give).prop_map(|(line, percent, give)| Edit::SetPercent { line, percent, give }),
            1 => (line.clone(), any::<bool>()).prop_map(|(line, held)| Edit::SetHeld { line, held }),
            1 => (line.clone(), percent.clone(), percent.clone()).prop_map(|(line, a, b)| Edit::SetRange { line, min: Some(a.min(b)), max: Some(a.max(b)) }),
            1 => line.clone().prop_map(|line| Edit::SetRange { line, min: None, max: None }),
            1 => line.clone().prop_map(|line| Edit::SetFiller(Some(line))),
            1 => line.clone().prop_map(Edit::RemoveLine),
            1 => (100u64..102, 0usize..4, percent).prop_map(|(phase, at, percent)| Edit::AddLine {
                phase: ItemId(phase), at, material: material("honey", &[("Mel", 100.0, Class::Humectant)]), percent }),
            1 => (100u64..102, 0.05f64..8.0).prop_map(|(phase, factor)| Edit::ScalePhase { phase: ItemId(phase), factor }),
            1 => Just(Edit::BringTo100),
            1 => (line, 100u64..102, 0usize..4).prop_map(|(line, phase, at)| Edit::MoveLine { line, phase: ItemId(phase), at }),
        ]
    }

    #[test]
    fn a_branch_is_a_copy_with_its_parent_and_is_worked_on() {
        let f = sample();
        let parent = f.active;
        let branch = Edit::Branch {
            name: " Second ".into(),
            note: "less oil".into(),
            created: None,
        };
        let f2 = run(&f, &branch).formula;
        assert_eq!(f2.variants.len(), 2);
        assert_eq!(f2.active().name.as_ref(), "Second");
        assert_eq!(f2.active().parent, Some(parent));
        assert_eq!(f2.active().phases, f.active().phases);
        assert!(Arc::ptr_eq(&f2.active().phases[0], &f.active().phases[0]));
        // The parent stays as it is when the branch changes.
        let line = ItemId(11);
        let edit = Edit::SetPercent {
            line,
            percent: p("7"),
            give: GiveWay::Filler,
        };
        let f3 = run(&f2, &edit).formula;
        assert_eq!(f3.variants[0], f.variants[0]);
        assert_eq!(f3.active().line(line).unwrap().percent, p("7"));
        let f4 = apply(&f3, parent, &Edit::MakeActive).unwrap().formula;
        assert_eq!(f4.active, parent);
        let away = apply(&f4, f3.active, &Edit::SetArchived(true)).unwrap();
        assert!(away.formula.variants[1].archived);
        assert_eq!(away.formula.variants[1].phases, f3.active().phases);
        assert!(matches!(
            apply(
                &f,
                parent,
                &Edit::Branch {
                    name: " ".into(),
                    note: "".into(),
                    created: None
                }
            ),
            Err(EditError::NoName)
        ));
    }

    #[test]
    fn an_earlier_state_comes_back_and_pruning_forgets() {
        let f = sample();
        let line = ItemId(11);
        let edit = Edit::SetPercent {
            line,
            percent: p("7"),
            give: GiveWay::Filler,
        };
        let mut changed = run(&f, &edit).formula;
        history::remember(&f, &mut changed, "2026-05-01T10:00:00Z", "Set");
        let back = run(&changed, &Edit::Restore(0)).formula;
        assert_eq!(back.active(), f.active());
        assert!(matches!(
            apply(&changed, changed.active, &Edit::Restore(1)),
            Err(EditError::NoSuchItem)
        ));
        let pruned = run(&changed, &Edit::PruneHistory { keep: 0 }).formula;
        assert!(pruned.history.is_empty());
        assert_eq!(pruned.active(), changed.active());
    }

    #[test]
    fn what_is_carried_keeps_the_total_at_100() {
        let f = sample();
        let mut content = f.active().as_ref().clone();
        let phase = Arc::make_mut(&mut content.phases[0]);
        phase.lines[1].percent = p("9");
        phase.lines[1].id = ItemId(5000);
        let edit = Edit::Carry {
            variant: Arc::new(content),
            materials: Vec::new(),
            what: "Carry glycerin across".into(),
        };
        let after = run(&f, &edit).formula;
        assert_eq!(after.active().total(), Percent::HUNDRED);
        assert_eq!(after.active().line(ItemId(10)).unwrap().percent, p("76"));
        assert!(after.next_id > 5000);
        assert_eq!(edit.describe(&f, f.active, None), "Carry glycerin across");
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(300))]

        #[test]
        fn a_formula_with_a_filler_totals_exactly_100(edits in prop::collection::vec(some_edit(), 1..60)) {
            let mut f = sample();
            let mut undo = vec![(f.clone(), format!("{f:?}"))];
            for edit in &edits {
                let before: Vec<Line> = f.active().lines().map(|(_, l)| l.clone()).collect();
                if let Ok(applied) = apply(&f, f.active, edit) {
                    f = applied.formula;
                    undo.push((f.clone(), format!("{f:?}")));
                }
                let v = f.active();
                if v.filler.is_some() {
                    prop_assert_eq!(v.total(), Percent::HUNDRED);
                }
                for (_, l) in v.lines() {
                    prop_assert!(l.percent >= Percent::ZERO && l.percent <= Percent::HUNDRED, "{:?} after {:?}", l, edit);
                    // A held line moves only if it is the one that is set.
                    if let Some(old) = before.iter().find(|b| b.id == l.id)
                        && old.held && l.held
                        && !matches!(edit, Edit::SetPercent { line, .. } if *line == l.id)
                    {
                        prop_assert_eq!(old.percent, l.percent);
                    }
                }
            }
            // Undo keeps whole states with shared parts: no later edit may have touched an
            // earlier state.
            for (state, printed) in &undo {
                prop_assert_eq!(&format!("{state:?}"), printed);
            }
        }

        #[test]
        fn a_move_never_passes_a_bound(wanted in 0i64..=100_000_000, low in 0i64..50_000_000, high in 50_000_000i64..=100_000_000, give in 0usize..3) {
            let f = run(&sample(), &Edit::SetRange { line: ItemId(12), min: Some(Percent::from_units(low.min(10_000_000))), max: Some(Percent::from_units(high)) }).formula;
            let edit = Edit::SetPercent { line: ItemId(12), percent: Percent::from_units(wanted), give: GiveWay::ALL[give] };
            let a = run(&f, &edit);
            let reached = a.formula.active().line(ItemId(12)).unwrap().percent;
            prop_assert!(reached.units() >= low.min(10_000_000) && reached.units() <= high);
            prop_assert_eq!(a.stop.is_none(), reached.units() == wanted);
            let (least, most) = room(f.active(), ItemId(12), GiveWay::ALL[give]).unwrap();
            prop_assert!(least <= reached && reached <= most);
        }
    }
}
