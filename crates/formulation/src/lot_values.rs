//! Values of a single lot, from its certificate of analysis. When that lot is
//! weighed, they take the place of the material's typical values.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::batch::record::Record;
use crate::evaluation::{Context, Evaluation, evaluate};
use crate::formula::Formula;
use crate::inci::{Inci, equal_as_spelt};
use crate::material::{Alkalinity, Basis, Class, Material, MaterialId, Source, Sourced};
use crate::quantity::{MassDensity, MassFraction, Ph, PhRange, Spread};
use crate::stock::LotId;

/// What a certificate states of a lot.
#[derive(Clone, Debug)]
pub struct LotValues {
    /// The lot.
    pub lot: LotId,
    /// Its material.
    pub material: MaterialId,
    /// Shares of constituents by INCI name, as parts of 1.
    pub shares: Vec<(Inci, MassFraction)>,
    /// Density at 20 °C.
    pub density: Option<MassDensity>,
    /// pH as sold or of the usual test solution.
    pub ph: Option<Ph>,
    /// Base that is not listed, acid if negative, lowest and highest, mmol per gram: as trials
    /// with this lot have narrowed it.
    pub base_mmol_per_gram: Option<(f64, f64)>,
    /// Which document states them, in the maker's words.
    pub certificate: Arc<str>,
}

equal_as_spelt!(LotValues: names shares; rest lot, material, density, ph, base_mmol_per_gram, certificate);

/// Why the values of a lot cannot be those of its material.
#[derive(Clone, PartialEq, Debug, thiserror::Error)]
pub enum LotValuesError {
    /// A share outside 0 to 100 %.
    #[error("the share of {inci}, {percent} %, is not from 0 to 100 %; correct it")]
    Share {
        /// INCI name.
        inci: Arc<str>,
        /// What was entered.
        percent: f64,
    },
    /// A substance that the material does not have.
    #[error("the material has no constituent {inci}; enter it there first, or correct the name")]
    NoSuchConstituent {
        /// INCI name.
        inci: Arc<str>,
    },
    /// More than the whole.
    #[error(
        "with the values of the certificate the constituents add up to {percent:.3} %; correct a share, or state the water as well"
    )]
    TooMuch {
        /// The sum.
        percent: f64,
    },
}

impl LotValues {
    /// The source of every value taken from it.
    pub fn source(&self) -> Source {
        let words = if self.certificate.is_empty() {
            format!("certificate of lot {}", self.lot)
        } else {
            format!("{}, lot {}", self.certificate, self.lot)
        };
        Source::new(Basis::Supplier, words)
    }

    /// The material as this lot is.
    ///
    /// Shares stated are exact. If the certificate does not state the water, water
    /// makes up for the others, because a solution is sold by its active matter; it
    /// becomes at least 0. Everything the certificate does not state stays typical.
    pub fn applied_to(&self, material: &Material) -> Result<Material, LotValuesError> {
        let mut of_lot = material.clone();
        let source = self.source();
        let mut moved = 0.0;
        let mut water_stated = false;
        for (inci, share) in &self.shares {
            if !(0.0..=1.0).contains(&share.value()) {
                return Err(LotValuesError::Share {
                    inci: inci.into(),
                    percent: share.as_percent(),
                });
            }
            let constituent = of_lot
                .constituents
                .iter_mut()
                .find(|c| c.inci.same_as(inci))
                .ok_or_else(|| LotValuesError::NoSuchConstituent { inci: inci.into() })?;
            moved += share.value() - constituent.share.typical.value();
            water_stated |= constituent.class == Class::Water;
            constituent.share = Spread::exact(*share);
            constituent.source = Some(source.clone());
        }
        if !water_stated
            && moved != 0.0
            && let Some(water) = of_lot
                .constituents
                .iter_mut()
                .find(|c| c.class == Class::Water)
        {
            let shifted =
                |share: MassFraction| MassFraction::new((share.value() - moved).clamp(0.0, 1.0));
            water.share = Spread {
                low: shifted(water.share.low),
                typical: shifted(water.share.typical),
                high: shifted(water.share.high),
            };
            water.source = Some(Source::new(
                Basis::Estimate,
                format!("what the other shares of lot {} leave", self.lot),
            ));
        }
        let total: MassFraction = of_lot.constituents.iter().map(|c| c.share.typical).sum();
        // Percentages as typed add up to 100 only to within their rounding.
        if total.as_percent() > 100.0 + 1e-6 {
            return Err(LotValuesError::TooMuch {
                percent: total.as_percent(),
            });
        }
        if let Some(density) = self.density {
            of_lot.density = Some(Sourced::new(density, source.clone()));
        }
        if let Some(base) = self.base_mmol_per_gram {
            let ph_as_sold = match of_lot.alkalinity {
                Alkalinity::Unknown { ph_as_sold, .. } => ph_as_sold,
                _ => None,
            };
            of_lot.alkalinity = Alkalinity::Unknown {
                ph_as_sold,
                base_mmol_per_gram: Some(base),
                source: source.clone(),
            };
        }
        if let Some(ph) = self.ph
            && let Alkalinity::Unknown {
                base_mmol_per_gram, ..
            } = of_lot.alkalinity
        {
            of_lot.alkalinity = Alkalinity::Unknown {
                ph_as_sold: Some(PhRange { low: ph, high: ph }),
                base_mmol_per_gram,
                source,
            };
        }
        Ok(of_lot)
    }
}

/// The formula with its materials as the lots weighed are, for evaluating a batch by
/// what really went in. If several lots of a material are weighed, the first counts.
pub fn with_lots<'l>(
    formula: &Formula,
    lots: impl IntoIterator<Item = &'l LotValues>,
) -> Result<Formula, LotValuesError> {
    let mut weighed = formula.clone();
    let mut done: Vec<&MaterialId> = Vec::new();
    for values in lots {
        if done.contains(&&values.material) {
            continue;
        }
        if let Some(material) = formula.materials.get(&values.material) {
            let of_lot = values.applied_to(material)?;
            weighed
                .materials
                .insert(values.material.clone(), Arc::new(of_lot));
            done.push(&values.material);
        }
    }
    Ok(weighed)
}

/// The values of the lots that were weighed in a batch, in the order of weighing. A lot
/// noted at a line of another material does not count.
pub fn of_lots_weighed<'l>(
    record: &Record,
    known: &'l BTreeMap<LotId, LotValues>,
) -> Vec<&'l LotValues> {
    let variant = record.opening().variant();
    record
        .portions()
        .iter()
        .filter(|p| !p.struck)
        .filter_map(|p| {
            let values = known.get(p.lot.as_ref()?)?;
            let line = variant.line(p.line?)?;
            (line.material == values.material).then_some(values)
        })
        .collect()
}

/// The mix of a batch as it was really weighed, evaluated by the certificates of its lots.
#[derive(Clone, Debug)]
pub struct AsWeighed {
    /// What follows from the mix.
    pub evaluation: Evaluation,
    /// Lots whose certificates count.
    pub lots: Vec<LotId>,
    /// Why certificates do not count, if they do not.
    pub problem: Option<LotValuesError>,
}

/// The mix of a batch as it was really weighed, with the values of lots that are known;
/// `None` if there is no mass at all.
pub fn as_weighed(
    record: &Record,
    known: &BTreeMap<LotId, LotValues>,
    context: &Context,
) -> Option<AsWeighed> {
    let variant = record.as_weighed()?;
    let values = of_lots_weighed(record, known);
    let stated = &record.opening().formula;
    let (formula, lots, problem) = match with_lots(stated, values.iter().copied()) {
        Ok(formula) => (
            formula,
            values.iter().map(|v| v.lot.clone()).collect(),
            None,
        ),
        Err(error) => (stated.as_ref().clone(), Vec::new(), Some(error)),
    };
    Some(AsWeighed {
        evaluation: evaluate(&formula, &variant, context),
        lots,
        problem,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::composition::compose;
    use crate::fixture;
    use crate::material::Charge;
    use crate::quantity::{in_kg_per_m3, kg_per_m3};

    fn betaine() -> Arc<Material> {
        fixture::material(
            "Coco betaine",
            &[
                ("Aqua", 65.0, Class::Water),
                (
                    "Cocamidopropyl Betaine",
                    30.0,
                    Class::Surfactant(Charge::Amphoteric),
                ),
                ("Sodium Chloride", 5.0, Class::Electrolyte),
            ],
        )
    }

    fn lot(shares: &[(&str, f64)]) -> LotValues {
        LotValues {
            lot: LotId::new("B-7").unwrap(),
            material: betaine().id.clone(),
            shares: shares
                .iter()
                .map(|&(inci, percent)| (inci.into(), MassFraction::from_percent(percent)))
                .collect(),
            density: Some(kg_per_m3(1047.0)),
            ph: Ph::new(5.1),
            base_mmol_per_gram: None,
            certificate: "CoA of 3 March".into(),
        }
    }

    #[test]
    fn stated_shares_are_exact_and_water_makes_up_for_them() {
        let of_lot = lot(&[("cocamidopropyl betaine", 31.2), ("Sodium Chloride", 4.8)])
            .applied_to(&betaine())
            .unwrap();
        let share = |class| of_lot.share_of(class).as_percent();
        assert!((share(Class::Surfactant(Charge::Amphoteric)) - 31.2).abs() < 1e-9);
        assert!((share(Class::Water) - 64.0).abs() < 1e-9);
        assert!(
            of_lot.constituents[1]
                .source
                .as_ref()
                .unwrap()
                .to_string()
                .contains("CoA of 3 March, lot B-7")
        );
        assert!((in_kg_per_m3(of_lot.density.unwrap().value) - 1047.0).abs() < 1e-9);
        assert!(
            matches!(of_lot.alkalinity, Alkalinity::Unknown { ph_as_sold: Some(r), .. } if r.low == r.high)
        );
    }

    #[test]
    fn what_cannot_be_is_told() {
        let told = |shares: &[(&str, f64)]| lot(shares).applied_to(&betaine()).unwrap_err();
        assert!(matches!(
            told(&[("Aqua", 101.0)]),
            LotValuesError::Share { .. }
        ));
        assert!(matches!(
            told(&[("Glycerin", 1.0)]),
            LotValuesError::NoSuchConstituent { .. }
        ));
        assert!(matches!(
            told(&[("Aqua", 70.0)]),
            LotValuesError::TooMuch { .. }
        ));
    }

    #[test]
    fn the_weighed_lot_takes_precedence_in_the_composition() {
        let formula = fixture::formula(vec![fixture::line(&betaine(), "50")]);
        let values = lot(&[("Cocamidopropyl Betaine", 32.0)]);
        let active = |f: &Formula| {
            compose(f, f.active())
                .active(Charge::Amphoteric)
                .typical
                .as_percent()
        };
        assert!((active(&formula) - 15.0).abs() < 1e-9);
        let weighed = with_lots(&formula, [&values]).unwrap();
        assert!((active(&weighed) - 16.0).abs() < 1e-9);
    }

    #[test]
    fn only_lots_weighed_at_their_own_material_count() {
        use crate::batch::record::tests::{add, opening, record, weigh};
        use crate::batch::record::{Change, Event};
        let values = LotValues {
            lot: LotId::new("G1").unwrap(),
            material: MaterialId::from_name("Glycerin"),
            shares: vec![("Glycerin".into(), MassFraction::new(0.86))],
            density: None,
            ph: None,
            base_mmol_per_gram: None,
            certificate: "".into(),
        };
        let known = BTreeMap::from([(values.lot.clone(), values.clone())]);
        let mut batch = record(opening("26-001"));
        add(&mut batch, weigh(10, "800 g", "G1")).unwrap();
        assert!(of_lots_weighed(&batch, &known).is_empty());
        add(&mut batch, weigh(11, "200 g", "G1")).unwrap();
        let weighed = of_lots_weighed(&batch, &known);
        assert_eq!(weighed, [&values]);
        let formula = with_lots(&batch.opening().formula, weighed).unwrap();
        let glycerin = &formula.materials[&values.material];
        assert_eq!(glycerin.constituents[0].share.typical, values.shares[0].1);
        let strike = Event::Amended {
            entry: 3,
            change: Change::Struck,
            old: batch.value_of(3, &Change::Struck).unwrap().into(),
            reason: "weighed into another beaker".into(),
        };
        add(&mut batch, strike).unwrap();
        assert!(of_lots_weighed(&batch, &known).is_empty());
    }
}
