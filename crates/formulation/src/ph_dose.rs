//! An acid or base that reaches a pH, put into the formula: the line that holds it and the edits.
//!
//! The filler gives way, so that what buffers stays as it was in a kilogram and the grams per
//! kilogram that were worked out or read at the bench are the tenth of a percent of the line.

use std::sync::Arc;

use crate::chemistry::adjust::Titrant;
use crate::chemistry::substances;
use crate::edit::{Edit, GiveWay};
use crate::formula::{Formula, ItemId, Line, Measured, Variant};
use crate::material::{Class, Material};
use crate::quantity::{MassFraction, Percent, Ph};
use crate::remedy::added;
use crate::shelf::Shelf;

/// A dose of acid or base as a line of a formula.
#[derive(Clone, PartialEq, Debug)]
pub struct PhDose {
    /// The material of the line.
    pub material: Arc<Material>,
    /// What there is of it already, if it has a line.
    pub present: Option<Percent>,
    /// What the line comes to.
    pub percent: Percent,
    /// The edits, one step of the history.
    pub edits: Vec<Edit>,
}

impl PhDose {
    /// What the edits do, for a button.
    pub fn words(&self) -> String {
        let name = &self.material.name;
        match self.present {
            None => format!("Put {} % of {name} into the formula", self.percent),
            Some(present) => format!("Raise {name} from {present} to {} %", self.percent),
        }
    }
}

/// Puts so many grams of a solution per kilogram into a formula, into a line of the same acid or
/// base where there is one, else as a new line of the material on the shelf that comes nearest to
/// the solution. `None` if the shelf has no such material or there is nothing to add.
///
/// `read` is the pH that was read with the dose in it. What was measured before is of another
/// mix: without a reading, the formula has no pH measured afterwards.
pub fn ph_dose(
    formula: &Formula,
    variant: &Variant,
    shelf: &Shelf,
    (titrant, grams_per_kg): (Titrant, f64),
    read: Option<Ph>,
) -> Option<PhDose> {
    // Grams per kilogram are tenths of a percent.
    let of_solution = grams_per_kg / 10.0;
    let needed = |strength: MassFraction| {
        let percent = of_solution * titrant.strength.value() / strength.value();
        on_step(percent).filter(|p| *p > Percent::ZERO)
    };
    let mut dose = if let Some((line, material, strength)) = line_of(formula, variant, titrant) {
        let percent = line.percent + needed(strength)?;
        PhDose {
            material: material.clone(),
            present: Some(line.percent),
            percent,
            edits: vec![set(line.id, percent)],
        }
    } else {
        let (material, strength) = on_shelf(shelf, titrant)?;
        let percent = needed(strength)?;
        PhDose {
            material: material.clone(),
            present: None,
            percent,
            edits: added(formula, variant, material, percent),
        }
    };
    if variant.measured.ph != read {
        dose.edits.push(Edit::SetMeasured(Measured {
            ph: read,
            ..variant.measured.clone()
        }));
    }
    Some(dose)
}

/// On the usual step of percentages; less than one step to a milligram per kilogram.
fn on_step(percent: f64) -> Option<Percent> {
    const FINE: f64 = 1e4;
    let exact = Percent::nearest(percent)?;
    let stepped = exact.to_hundredths();
    if stepped == exact {
        Percent::nearest((percent * FINE).round() / FINE)
    } else {
        Some(stepped)
    }
}

fn set(line: ItemId, percent: Percent) -> Edit {
    Edit::SetPercent {
        line,
        percent,
        give: GiveWay::Filler,
    }
}

/// The strength of a material that is a solution of the same acid or base in water or that itself,
/// and nothing else that is declared.
fn strength_of(material: &Material, titrant: Titrant) -> Option<MassFraction> {
    let mut strength = None;
    for one in &material.constituents {
        if one.class == Class::Water {
            continue;
        }
        let substance = substances::find(one.inci.spelling(), one.cas)?;
        if substance.name() != titrant.substance.name() || strength.is_some() {
            return None;
        }
        strength = Some(one.share.typical);
    }
    strength.filter(|s| s.value() > 0.0)
}

/// The last line of the same acid or base that is not the filler.
fn line_of<'a>(
    formula: &'a Formula,
    variant: &'a Variant,
    titrant: Titrant,
) -> Option<(&'a Line, &'a Arc<Material>, MassFraction)> {
    let found = variant.lines().filter_map(|(_, line)| {
        let material = formula.material(&line.material)?;
        let strength = strength_of(material, titrant)?;
        (!variant.is_filler(line.id)).then_some((line, material, strength))
    });
    found.last()
}

/// The material of the shelf that is this solution, else the one nearest to it.
fn on_shelf(shelf: &Shelf, titrant: Titrant) -> Option<(&Arc<Material>, MassFraction)> {
    let off = |strength: MassFraction| (strength.value() - titrant.strength.value()).abs();
    let all = (shelf.iter()).filter_map(|m| Some((m, strength_of(m, titrant)?)));
    all.min_by(|(a, x), (b, y)| {
        off(*x)
            .total_cmp(&off(*y))
            .then_with(|| a.name.cmp(&b.name))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::apply;
    use crate::fixture::{line, material, phased};
    use crate::material::PhaseKind;
    use crate::shelf::built_in;

    const WATER: ItemId = ItemId(10);

    /// Water to 100 with half a percent of a salt, pH 6.1 measured.
    fn wash(more: &[(Arc<Material>, Line)]) -> Formula {
        let water = material("Water", &[("Aqua", 100.0, Class::Water)]);
        let mut lines = vec![line(&water, "100")];
        lines.extend(more.iter().cloned());
        let mut formula = phased(vec![lines]);
        let mut variant = formula.active().as_ref().clone();
        variant.filler = Some(WATER);
        variant.measured.ph = Ph::new(6.1);
        formula.variants = vec![variant.into()];
        formula
    }

    fn citric() -> Titrant {
        Titrant::of("Citric Acid", 20.0).unwrap()
    }

    fn dose_of(formula: &Formula, grams: f64, read: Option<Ph>) -> Option<PhDose> {
        let of = (citric(), grams);
        ph_dose(formula, formula.active(), built_in(), of, read)
    }

    fn after(formula: &Formula, dose: &PhDose) -> Formula {
        dose.edits.iter().fold(formula.clone(), |f, edit| {
            apply(&f, f.active().id, edit).unwrap().formula
        })
    }

    #[test]
    fn a_dose_becomes_a_line_and_the_filler_gives_way() {
        let formula = wash(&[]);
        let dose = dose_of(&formula, 3.09, None).unwrap();
        assert_eq!(
            dose.words(),
            "Put 0.31 % of Citric acid solution 20 % into the formula"
        );
        let done = after(&formula, &dose);
        let variant = done.active();
        let (phase, line) = variant.lines().last().unwrap();
        assert_eq!(phase.kind, PhaseKind::Adjust);
        assert_eq!(line.percent, "0.31".parse().unwrap());
        assert_eq!(variant.total(), Percent::HUNDRED);
        // What was measured is of the mix without it.
        assert_eq!(variant.measured.ph, None);
    }

    #[test]
    fn a_line_of_the_same_acid_is_raised_by_its_own_strength() {
        let mut acid = built_in()
            .iter()
            .find(|m| &*m.name == "Citric acid solution 50 %")
            .unwrap()
            .clone();
        let formula = wash(&[line(&acid, "0.2")]);
        // 10 g of 20 % are 4 g of 50 %.
        let dose = dose_of(&formula, 10.0, Ph::new(5.2)).unwrap();
        assert_eq!(
            dose.words(),
            "Raise Citric acid solution 50 % from 0.2 to 0.6 %"
        );
        let done = after(&formula, &dose);
        assert_eq!(done.active().lines().count(), 2);
        assert_eq!(done.active().measured.ph, Ph::new(5.2));
        assert_eq!(done.active().total(), Percent::HUNDRED);
        // With something else in it, it is another material.
        Arc::make_mut(&mut acid).constituents[1].inci = "Glycerin".into();
        Arc::make_mut(&mut acid).constituents[1].class = Class::Humectant;
        let other = wash(&[line(&acid, "0.2")]);
        assert_eq!(dose_of(&other, 10.0, None).unwrap().present, None);
    }

    #[test]
    fn nothing_is_put_in_that_is_nothing_or_not_on_the_shelf() {
        let formula = wash(&[]);
        assert_eq!(dose_of(&formula, 0.0, None), None);
        let tiny = dose_of(&formula, 0.023, None).unwrap();
        assert_eq!(tiny.percent, "0.0023".parse().unwrap());
        let of = (citric(), 3.0);
        assert_eq!(
            ph_dose(&formula, formula.active(), &Shelf::new(), of, None),
            None
        );
    }
}
