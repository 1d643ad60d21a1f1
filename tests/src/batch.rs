//! A small batch for tests of making and recording.

use std::sync::Arc;

use formulation::batch::plan::{PlanRequest, plan};
use formulation::batch::record::Opening;
use formulation::batch::scale::SizeRequest;
use formulation::batch::weighing_scale::WeighingScale;
use formulation::batch_code::BatchCode;
use formulation::formula::{Formula, ItemId, Line, Phase, Variant};
use formulation::mass::{ExactMass, MassUnit};
use formulation::material::{Class, Material, MaterialId};
use formulation::quantity::Percent;

/// The moment at which everything is recorded.
pub const AT: &str = "2026-06-01T09:00:00+02:00";

/// A formula of water, glycerin and urea with the ids 10, 11 and 12.
pub fn formula() -> Formula {
    let mut formula = Formula::new("Heather rinse");
    let parts = [
        ("Water", "Aqua", Class::Water, 90),
        ("Glycerin", "Glycerin", Class::Humectant, 7),
        ("Urea", "Urea", Class::Humectant, 3),
    ];
    let mut lines = Vec::new();
    for (i, (name, inci, class, percent)) in parts.into_iter().enumerate() {
        let id = MaterialId::from_name(name);
        let material = Material::pure(id.clone(), name, inci, None, class);
        formula.materials.insert(id.clone(), Arc::new(material));
        lines.push(Line {
            id: ItemId(10 + i as u64),
            material: id,
            percent: Percent::from_units(percent * Percent::UNITS),
            why: "".into(),
            held: false,
            min: None,
            max: None,
            purpose: None,
        });
    }
    let variant = formula.active().as_ref().clone();
    let phase = variant.phases.first().map(|p| Phase {
        lines,
        ..p.as_ref().clone()
    });
    formula.variants = vec![Arc::new(Variant {
        phases: phase.into_iter().map(Arc::new).collect(),
        ..variant
    })];
    formula.next_id = 100;
    formula
}

/// The opening of a batch of one kilogram of it on a scale of 0.1 g.
pub fn opening(code: &str) -> Result<Opening, Box<dyn std::error::Error>> {
    let formula = formula();
    let variant = formula.active().clone();
    let gram = ExactMass::from_femtograms(1_000_000_000_000_000);
    let scale = WeighingScale::new("bench scale", gram.ratio(1, 10), None)?;
    let request = PlanRequest {
        size: SizeRequest::mass(gram.times(1000)),
        scales: vec![scale],
        tolerance: PlanRequest::TOLERANCE,
    };
    let plan = plan(&formula, &variant, &request)?;
    Ok(Opening::new(
        BatchCode::new(code)?,
        &formula,
        &variant,
        &plan,
        None,
        MassUnit::Gram,
    ))
}

/// The mass recorded in an entry, different for every entry, so that a test can tell
/// whether the right one was kept.
pub fn mass_of_entry(number: u64) -> ExactMass {
    ExactMass::from_femtograms(i128::from(number) * 100_000_000_000_000)
}
