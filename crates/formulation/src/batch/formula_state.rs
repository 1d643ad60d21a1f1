//! The state of a formula as a short mark: two batches with the same mark were asked for the
//! same materials, percentages, steps and targets.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use sha2::{Digest as _, Sha256};

use crate::formula::{Formula, Variant};
use crate::material::MaterialId;
use crate::quantity::{Ph, in_celsius};

/// The mark of a variant of a formula: eight letters and digits of the SHA-256 of what is
/// weighed and done, in working order, and of what its materials are made of. Names, notes,
/// label and batch size do not count.
pub fn state_of(formula: &Formula, variant: &Variant) -> String {
    let mut text = String::new();
    for phase in &variant.phases {
        let degrees = phase.temperature.map(in_celsius);
        let _ = writeln!(text, "phase {:?} {degrees:?}", phase.letter);
        for line in &phase.lines {
            let _ = writeln!(
                text,
                "line {:?} {} {}",
                line.material.as_str(),
                line.percent,
                variant.is_filler(line.id)
            );
        }
        for step in &phase.steps {
            let degrees = step.temperature.map(in_celsius);
            let _ = writeln!(
                text,
                "step {:?} {degrees:?} {:?} {:?} {:?}",
                step.text, step.minutes, step.tool, step.check
            );
        }
    }
    for wanted in &variant.specification.characteristics {
        let _ = writeln!(text, "wanted {} {}", wanted.name(), wanted.words());
    }
    let _ = writeln!(text, "pH {:?}", variant.target_ph.map(Ph::value));
    let used: BTreeSet<&MaterialId> = variant.lines().map(|(_, l)| &l.material).collect();
    for id in used {
        let Some(material) = formula.material(id) else {
            continue;
        };
        let _ = writeln!(text, "material {:?}", id.as_str());
        for one in &material.constituents {
            let share = &one.share;
            let _ = writeln!(
                text,
                "constituent {:?} {} {} {}",
                one.inci,
                share.low.value(),
                share.typical.value(),
                share.high.value()
            );
        }
    }
    let digest = Sha256::digest(text.as_bytes());
    let mut mark = String::with_capacity(9);
    for (place, byte) in digest.iter().take(4).enumerate() {
        if place == 2 {
            mark.push('-');
        }
        let _ = write!(mark, "{byte:02x}");
    }
    mark
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::batch::record::tests::opening;
    use crate::material::Material;

    #[test]
    fn what_is_weighed_and_done_counts_and_names_do_not() {
        let opening = opening("26-001");
        let formula = opening.formula.as_ref();
        let mark = state_of(formula, opening.variant());
        assert_eq!(mark.len(), 9);
        let mut other = opening.variant().as_ref().clone();
        other.name = "another name".into();
        other.note = "a note".into();
        assert_eq!(state_of(formula, &other), mark);
        let mut phase = other.phases[0].as_ref().clone();
        phase.lines[1].percent = "19.99".parse().unwrap();
        other.phases[0] = Arc::new(phase);
        assert_ne!(state_of(formula, &other), mark);
    }

    #[test]
    fn what_a_material_is_made_of_counts() {
        let opening = opening("26-001");
        let mark = state_of(&opening.formula, opening.variant());
        let changed = |change: &dyn Fn(&mut Material)| {
            let mut formula = opening.formula.as_ref().clone();
            for material in formula.materials.values_mut() {
                let mut other = material.as_ref().clone();
                change(&mut other);
                *material = Arc::new(other);
            }
            state_of(&formula, opening.variant())
        };
        assert_eq!(changed(&|m| m.name = "called otherwise".into()), mark);
        assert_ne!(
            changed(&|m| m.constituents[0].inci = "Propanediol".into()),
            mark
        );
        assert_ne!(changed(&|m| m.constituents.clear()), mark);
    }
}
