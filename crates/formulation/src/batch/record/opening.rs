//! What a batch is begun with.

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::batch::plan::BatchPlan;
use crate::batch::scale::{Filling, Vessel};
use crate::batch::weighing_scale::WeighingScale;
use crate::batch_code::BatchCode;
use crate::formula::{Formula, ItemId, Variant};
use crate::mass::{ExactMass, MassUnit};
use crate::material::{MaterialId, Sourced};
use crate::quantity::MassDensity;
use crate::stock::LotUsage;
use crate::stock::packaging::{self, PackagingLot};

/// What is to be weighed of a line.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct ToWeigh {
    /// The line.
    pub line: ItemId,
    /// How much.
    pub mass: ExactMass,
    /// By how much the weighing may deviate.
    pub tolerance: ExactMass,
    /// Place of its scale in the opening.
    pub scale: usize,
}

/// The first entry: what is to be made, complete in itself.
#[derive(Clone, PartialEq, Debug)]
pub struct Opening {
    /// The batch code.
    pub code: BatchCode,
    /// The formula with the one variant that is made and its materials.
    pub formula: Arc<Formula>,
    /// Finished mass.
    pub batch: ExactMass,
    /// Water expected to evaporate and to be made up.
    pub evaporation: ExactMass,
    /// Containers to fill.
    pub filling: Option<Filling>,
    /// Density of the product, as far as known.
    pub density: Option<Sourced<MassDensity>>,
    /// The vessel.
    pub vessel: Option<Vessel>,
    /// The scales.
    pub scales: Vec<WeighingScale>,
    /// Lines in working order.
    pub lines: Vec<ToWeigh>,
    /// Unit in which the batch is weighed.
    pub unit: MassUnit,
    /// Free words.
    pub note: Arc<str>,
    /// Why a formula in breach was made all the same; empty if it was not in breach. Such a
    /// batch is a trial and not for sale.
    pub trial: Arc<str>,
    /// A second person looks at every weighing and through the record before a release.
    pub second_check: bool,
    /// The stock had containers or the like when it was begun, so that what is used must be
    /// recorded.
    pub packaging_in_stock: bool,
    /// The stock had labels when it was begun.
    pub labels_in_stock: bool,
    /// Rules of recording: 1 as at first; from [`Opening::GATED`] on every entry needs a
    /// name and a release wants each open point accepted.
    pub rules: u32,
}

impl Opening {
    /// The rules under which batches are begun now.
    pub const GATED: u32 = 2;
    /// The rules of records that do not say.
    pub const FIRST_RULES: u32 = 1;

    /// The opening of a batch of a variant by a plan. Other variants and materials that
    /// the variant does not use are left out.
    pub fn new(
        code: BatchCode,
        formula: &Formula,
        variant: &Arc<Variant>,
        plan: &BatchPlan,
        vessel: Option<Vessel>,
        unit: MassUnit,
    ) -> Self {
        let used: BTreeSet<&MaterialId> = variant.lines().map(|(_, l)| &l.material).collect();
        let formula = Formula {
            variants: vec![variant.clone()],
            active: variant.id,
            materials: formula
                .materials
                .iter()
                .filter(|(id, _)| used.contains(id))
                .map(|(id, m)| (id.clone(), m.clone()))
                .collect(),
            history: Vec::new(),
            ..formula.clone()
        };
        Self {
            code,
            formula: Arc::new(formula),
            batch: plan.sized.batch,
            evaporation: plan.sized.evaporation,
            filling: plan.sized.filling,
            density: plan.sized.density.clone(),
            vessel,
            scales: plan.scales.clone(),
            lines: plan
                .lines
                .iter()
                .map(|l| ToWeigh {
                    line: l.line,
                    mass: l.mass,
                    tolerance: l.tolerance,
                    scale: l.scale,
                })
                .collect(),
            unit,
            note: "".into(),
            trial: "".into(),
            second_check: false,
            packaging_in_stock: false,
            labels_in_stock: false,
            rules: Self::GATED,
        }
    }

    /// Notes what packaging the stock has now.
    pub fn look_for_packaging(&mut self, lots: &[PackagingLot], usage: &LotUsage) {
        let there = |labels| {
            let mut lots = lots.iter().filter(|lot| lot.left(usage) > 0);
            lots.any(|lot| packaging::is_label(&lot.what) == labels)
        };
        self.packaging_in_stock = there(false);
        self.labels_in_stock = there(true);
    }

    /// The variant that is made.
    pub fn variant(&self) -> &Arc<Variant> {
        self.formula.active()
    }

    /// The name of a line's material.
    pub fn name_of(&self, line: ItemId) -> Arc<str> {
        let Some(line) = self.variant().line(line) else {
            return "a line that is not in the formula".into();
        };
        self.formula
            .material(&line.material)
            .map_or_else(|| line.material.as_str().into(), |m| m.name.clone())
    }

    /// The smallest step of a line's scale.
    pub fn resolution(&self, scale: usize) -> ExactMass {
        self.scales
            .get(scale)
            .map_or(ExactMass::ZERO, WeighingScale::resolution)
    }
}
