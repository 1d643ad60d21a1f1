//! How each edit is done: on a draft of the variant, which takes the variant's place if
//! nothing stood against it.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::moving::{
    FixedLines, STEP, bring_to_100, room_for_new, scale_phase, set_percent, settle_filler,
};
use super::{Applied, Edit, EditError, GiveWay, Stop};
use crate::composition::is_water;
use crate::finding::SetAside;
use crate::formula::{Date, Formula, ItemId, Line, Phase, Step, Variant, VariantId};
use crate::history;
use crate::material::{Material, MaterialId, PhaseKind};
use crate::quantity::{Mass, Percent, in_grams};

/// Applies an edit to a variant of a formula; where lines give way to others, they land on
/// [`STEP`]. The formula given is not changed.
///
/// # Errors
/// If the edit cannot be done.
pub fn apply(formula: &Formula, variant: VariantId, edit: &Edit) -> Result<Applied, EditError> {
    apply_in_steps(formula, variant, edit, STEP)
}

/// The edit itself, if it can be done: for fields, which say beside what was typed why it cannot.
///
/// # Errors
/// If the edit cannot be done.
pub fn tried(
    formula: &Formula,
    variant: VariantId,
    edit: Edit,
    step: Percent,
) -> Result<Edit, EditError> {
    apply_in_steps(formula, variant, &edit, step).map(|_applied| edit)
}

/// Applies an edit as [`apply`] does, with lines that give way landing on the step that the
/// maker chose.
///
/// # Errors
/// If the edit cannot be done.
pub fn apply_in_steps(
    formula: &Formula,
    variant: VariantId,
    edit: &Edit,
    step: Percent,
) -> Result<Applied, EditError> {
    let place = formula
        .variants
        .iter()
        .position(|v| v.id == variant)
        .ok_or(EditError::NoSuchVariant)?;
    let mut draft = Draft {
        formula: formula.clone(),
        variant: formula.variants[place].as_ref().clone(),
        step,
        stop: None,
        created: None,
    };
    draft.change(edit)?;
    let Draft {
        mut formula,
        variant,
        stop,
        created,
        ..
    } = draft;
    formula.variants[place] = Arc::new(variant);
    if may_leave_materials_unused(edit) {
        drop_unused_materials(&mut formula);
    }
    Ok(Applied {
        formula,
        stop,
        created,
    })
}

/// Whether materials that were carried for a line may be needed by none after an edit.
const fn may_leave_materials_unused(edit: &Edit) -> bool {
    matches!(
        edit,
        Edit::RemoveLine(_)
            | Edit::RemovePhase(_)
            | Edit::SwapMaterial { .. }
            | Edit::PruneHistory { .. }
            | Edit::Carry { .. }
            | Edit::ReplaceContent { .. }
    )
}

/// A formula while an edit is done; the variant edited stands beside it.
struct Draft {
    formula: Formula,
    variant: Variant,
    step: Percent,
    stop: Option<Stop>,
    created: Option<ItemId>,
}

impl Draft {
    /// Does an edit; each kind has its arm, so that none is forgotten.
    fn change(&mut self, edit: &Edit) -> Result<(), EditError> {
        match edit {
            Edit::Rename(name) => self.formula.rename(named(name)?),
            Edit::SetNotes(text) => self.formula.notes = text.clone(),
            Edit::SetAuthor(text) => self.formula.author = text.clone(),
            Edit::SetAside { finding, aside } => self.set_aside(finding, *aside),
            Edit::TakeOverMaterial(material) => self.put_material(material),

            Edit::RenameVariant(name) => self.rename_variant(name)?,
            Edit::SetVariantNote(text) => self.variant.note = text.clone(),
            Edit::SetProduct(product) => self.variant.product = product.clone(),
            Edit::SetTargetPh(ph) => self.variant.target_ph = *ph,
            Edit::SetBatch(mass) => self.set_batch(*mass)?,
            Edit::SetMeasured(measured) => self.variant.measured = measured.clone(),
            Edit::SetLabel(label) => self.variant.label = label.clone(),
            Edit::SetSpecification(wanted) => self.variant.specification = wanted.clone(),

            Edit::AddLine {
                phase,
                at,
                material,
                percent,
            } => self.add_line(*phase, *at, material, *percent)?,
            Edit::RemoveLine(id) => self.remove_line(*id)?,
            Edit::MoveLine { line, phase, at } => self.move_line(*line, *phase, *at)?,
            Edit::SetPercent {
                line,
                percent,
                give,
            } => self.set_percent(*line, *percent, *give)?,
            Edit::SetPercents(wanted) => self.set_percents(wanted)?,
            Edit::SetHeld { line, held } => self.set_held(*line, *held)?,
            Edit::SetPurpose { line, purpose } => self.line(*line)?.purpose = *purpose,
            Edit::SetFiller(line) => self.set_filler(*line)?,
            Edit::SetRange { line, min, max } => self.set_range(*line, *min, *max)?,
            Edit::SetWhy { line, why } => self.line(*line)?.why = why.clone(),
            Edit::SwapMaterial {
                line,
                material,
                percent,
            } => self.swap_material(*line, material, *percent)?,
            Edit::ScalePhase { phase, factor } => {
                let fixed = self.fixed_lines();
                self.stop = scale_phase(&mut self.variant, *phase, *factor, &fixed, self.step)?;
            }
            Edit::BringTo100 => {
                let fixed = self.fixed_lines();
                bring_to_100(&mut self.variant, &fixed, self.step)?;
            }

            Edit::AddPhase { at, kind, purpose } => self.add_phase(*at, *kind, purpose),
            Edit::RemovePhase(id) => self.remove_phase(*id)?,
            Edit::MovePhase { phase, at } => {
                let taken = self.take_phase(*phase)?;
                insert_at(&mut self.variant.phases, *at, taken);
            }
            Edit::SetPhaseLetter { phase, letter } => self.phase(*phase)?.letter = named(letter)?,
            Edit::SetPhaseKind { phase, kind } => self.phase(*phase)?.kind = *kind,
            Edit::SetPhasePurpose { phase, purpose } => {
                self.phase(*phase)?.purpose = purpose.clone();
            }
            Edit::SetPhaseTemperature { phase, temperature } => {
                self.phase(*phase)?.temperature = *temperature;
            }

            Edit::AddStep { phase, at, step } => {
                let id = ItemId(self.formula.take_id());
                let step = Step { id, ..step.clone() };
                insert_at(&mut self.phase(*phase)?.steps, *at, step);
                self.created = Some(id);
            }
            Edit::SetStep(step) => {
                let (steps, place) = self.steps_with(step.id)?;
                steps[place] = step.clone();
            }
            Edit::RemoveStep(id) => {
                let (steps, place) = self.steps_with(*id)?;
                steps.remove(place);
            }
            Edit::MoveStep { step, at } => {
                let (steps, place) = self.steps_with(*step)?;
                let taken = steps.remove(place);
                insert_at(steps, *at, taken);
            }

            Edit::Branch {
                name,
                note,
                created,
            } => self.branch(name, note, *created)?,
            Edit::MakeActive => self.formula.active = self.variant.id,
            Edit::SetArchived(archived) => self.variant.archived = *archived,
            Edit::Restore(at) => self.restore(*at)?,
            Edit::PruneHistory { keep } => {
                history::prune(&mut self.formula, self.variant.id, *keep);
            }
            Edit::Carry {
                variant, materials, ..
            } => {
                for material in materials {
                    self.put_material(material);
                }
                self.take_content(variant)?;
            }
            Edit::ReplaceContent { variant, materials } => {
                for material in materials {
                    self.carry_material(material);
                }
                self.take_content(variant)?;
            }
        }
        Ok(())
    }

    // The formula.

    fn set_aside(&mut self, finding: &SetAside, aside: bool) {
        if aside {
            self.formula.set_aside.insert(finding.clone());
        } else {
            self.formula.set_aside.remove(finding);
        }
    }

    /// Carries a material in the file, in place of the carried one of that id.
    fn put_material(&mut self, material: &Arc<Material>) {
        self.formula
            .materials
            .insert(material.id.clone(), material.clone());
    }

    /// Carries a material in the file, unless one of that id is carried.
    fn carry_material(&mut self, material: &Arc<Material>) {
        self.formula
            .materials
            .entry(material.id.clone())
            .or_insert_with(|| material.clone());
    }

    // The variant.

    fn set_batch(&mut self, mass: Mass) -> Result<(), EditError> {
        let value = in_grams(mass);
        if !(value.is_finite() && value > 0.0) {
            return Err(EditError::NotPositive);
        }
        self.variant.batch = mass;
        Ok(())
    }

    /// Whether a variant of the formula has a name, written large or small; the one edited is
    /// not asked unless `own`.
    fn has_name(&self, name: &str, own: bool) -> bool {
        let name = name.to_lowercase();
        let of = |v: &Arc<Variant>| own || v.id != self.variant.id;
        (self.formula.variants.iter()).any(|v| of(v) && v.name.to_lowercase() == name)
    }

    fn rename_variant(&mut self, name: &Arc<str>) -> Result<(), EditError> {
        let name = named(name)?;
        if self.has_name(&name, false) {
            return Err(EditError::NameTaken(name));
        }
        self.variant.name = name;
        Ok(())
    }

    /// A name for a new variant: the one wanted, with the first free number where another
    /// variant has it, so that lists and sheets tell them apart.
    fn free_name(&self, wanted: Arc<str>) -> Arc<str> {
        if !self.has_name(&wanted, true) {
            return wanted;
        }
        (2..=u32::MAX)
            .map(|n| format!("{wanted} ({n})"))
            .find(|name| !self.has_name(name, true))
            .map_or(wanted, Into::into)
    }

    fn branch(
        &mut self,
        name: &Arc<str>,
        note: &Arc<str>,
        created: Option<Date>,
    ) -> Result<(), EditError> {
        let mut branch = self.variant.clone();
        branch.id = VariantId(self.formula.take_id());
        branch.name = self.free_name(named(name)?);
        branch.note = note.clone();
        branch.parent = Some(self.variant.id);
        branch.created = created;
        branch.archived = false;
        self.formula.active = branch.id;
        self.formula.variants.push(Arc::new(branch));
        Ok(())
    }

    /// Brings an earlier state back. Its name comes with it unless another variant has that
    /// by now; and no variant stops being used by going back.
    fn restore(&mut self, at: usize) -> Result<(), EditError> {
        let earlier = self.formula.history.get(at).ok_or(EditError::NoSuchItem)?;
        if earlier.variant.id != self.variant.id {
            return Err(EditError::NoSuchItem);
        }
        let mut restored = earlier.variant.as_ref().clone();
        if self.has_name(&restored.name, false) {
            restored.name = self.variant.name.clone();
        }
        restored.archived &= self.variant.archived;
        self.variant = restored;
        Ok(())
    }

    /// Takes the content of another variant; identity, parent and date stay.
    fn take_content(&mut self, content: &Variant) -> Result<(), EditError> {
        self.variant = Variant {
            id: self.variant.id,
            name: self.variant.name.clone(),
            parent: self.variant.parent,
            created: self.variant.created,
            archived: self.variant.archived,
            ..content.clone()
        };
        settle_filler(&mut self.variant)?;
        self.formula.keep_ids_free(&self.variant);
        Ok(())
    }

    // Lines.

    fn line(&mut self, id: ItemId) -> Result<&mut Line, EditError> {
        self.variant.line_mut(id).ok_or(EditError::NoSuchItem)
    }

    fn fixed_lines(&self) -> FixedLines {
        FixedLines::of(&self.formula, &self.variant)
    }

    fn add_line(
        &mut self,
        phase: ItemId,
        at: usize,
        material: &Arc<Material>,
        percent: Percent,
    ) -> Result<(), EditError> {
        let id = ItemId(self.formula.take_id());
        let (allowed, held_back) = room_for_new(&self.variant, in_range(percent)?);
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
        insert_at(&mut self.phase(phase)?.lines, at, line);
        self.carry_material(material);
        let others = self.variant.total() - allowed;
        if self.variant.filler.is_none()
            && is_water(material)
            && others <= Percent::HUNDRED
            && self.waters() == 1
        {
            self.variant.filler = Some(id);
        }
        settle_filler(&mut self.variant)?;
        self.stop = held_back;
        self.created = Some(id);
        Ok(())
    }

    /// How many lines are water.
    fn waters(&self) -> usize {
        let materials =
            (self.variant.lines()).filter_map(|(_, l)| self.formula.material(&l.material));
        materials.filter(|m| is_water(m)).count()
    }

    fn remove_line(&mut self, id: ItemId) -> Result<(), EditError> {
        self.take_line(id)?;
        if self.variant.filler == Some(id) {
            self.variant.filler = None;
        }
        settle_filler(&mut self.variant)
    }

    fn move_line(&mut self, line: ItemId, phase: ItemId, at: usize) -> Result<(), EditError> {
        self.variant.phase(phase).ok_or(EditError::NoSuchItem)?;
        let taken = self.take_line(line)?;
        insert_at(&mut self.phase(phase)?.lines, at, taken);
        Ok(())
    }

    fn take_line(&mut self, id: ItemId) -> Result<Line, EditError> {
        let phase = self
            .variant
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

    fn set_percent(
        &mut self,
        line: ItemId,
        percent: Percent,
        give: GiveWay,
    ) -> Result<(), EditError> {
        let fixed = self.fixed_lines();
        let percent = in_range(percent)?;
        self.stop = set_percent(&mut self.variant, line, percent, give, &fixed, self.step)?;
        Ok(())
    }

    fn set_percents(&mut self, wanted: &[(ItemId, Percent)]) -> Result<(), EditError> {
        for (line, percent) in wanted {
            let percent = in_range(*percent)?;
            self.line(*line)?.percent = percent;
        }
        settle_filler(&mut self.variant)
    }

    fn set_held(&mut self, line: ItemId, held: bool) -> Result<(), EditError> {
        if held && self.variant.is_filler(line) {
            return Err(EditError::FillerHeld);
        }
        self.line(line)?.held = held;
        Ok(())
    }

    fn set_filler(&mut self, line: Option<ItemId>) -> Result<(), EditError> {
        if let Some(line) = line {
            self.line(line)?.held = false;
        }
        self.variant.filler = line;
        settle_filler(&mut self.variant)
    }

    fn set_range(
        &mut self,
        line: ItemId,
        min: Option<Percent>,
        max: Option<Percent>,
    ) -> Result<(), EditError> {
        for bound in [min, max].into_iter().flatten() {
            in_range(bound)?;
        }
        if let (Some(min), Some(max)) = (min, max)
            && min > max
        {
            return Err(EditError::RangeReversed { min, max });
        }
        let line = self.line(line)?;
        (line.min, line.max) = (min, max);
        Ok(())
    }

    fn swap_material(
        &mut self,
        line: ItemId,
        material: &Arc<Material>,
        percent: Option<Percent>,
    ) -> Result<(), EditError> {
        self.line(line)?.material = material.id.clone();
        self.put_material(material);
        match percent {
            Some(percent) if !self.variant.is_filler(line) => {
                self.set_percent(line, percent, GiveWay::Filler)
            }
            _ => Ok(()),
        }
    }

    // Phases and steps.

    fn phase(&mut self, id: ItemId) -> Result<&mut Phase, EditError> {
        self.variant
            .phases
            .iter_mut()
            .find(|p| p.id == id)
            .map(Arc::make_mut)
            .ok_or(EditError::NoSuchItem)
    }

    fn add_phase(&mut self, at: usize, kind: PhaseKind, purpose: &Arc<str>) {
        let id = ItemId(self.formula.take_id());
        let phase = Phase {
            id,
            letter: free_letter(&self.variant),
            kind,
            purpose: purpose.clone(),
            temperature: None,
            lines: Vec::new(),
            steps: Vec::new(),
        };
        insert_at(&mut self.variant.phases, at, Arc::new(phase));
        self.created = Some(id);
    }

    fn take_phase(&mut self, id: ItemId) -> Result<Arc<Phase>, EditError> {
        let phases = &mut self.variant.phases;
        let place = phases.iter().position(|p| p.id == id);
        Ok(phases.remove(place.ok_or(EditError::NoSuchItem)?))
    }

    fn remove_phase(&mut self, id: ItemId) -> Result<(), EditError> {
        let phase = self.take_phase(id)?;
        let filler = self.variant.filler;
        if filler.is_some_and(|f| phase.lines.iter().any(|l| l.id == f)) {
            self.variant.filler = None;
        }
        settle_filler(&mut self.variant)
    }

    /// The steps among which one is, and its place there.
    fn steps_with(&mut self, id: ItemId) -> Result<(&mut Vec<Step>, usize), EditError> {
        let phase = self
            .variant
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
}

/// Inserts at a place, or at the end where there are not so many.
fn insert_at<T>(list: &mut Vec<T>, at: usize, new: T) {
    list.insert(at.min(list.len()), new);
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
    let used: BTreeSet<MaterialId> = formula
        .variants
        .iter()
        .chain(formula.history.iter().map(|earlier| &earlier.variant))
        .flat_map(|v| {
            v.lines()
                .map(|(_, l)| l.material.clone())
                .collect::<Vec<_>>()
        })
        .collect();
    formula.materials.retain(|id, _| used.contains(id));
}
