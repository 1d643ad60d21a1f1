//! Acid and base that materials bring beside what their constituents tell: what they leave
//! open, as two functions of pH between which it lies, and what a titration settles.

use std::sync::Arc;

use super::{UNSTATED_MOLAR_MASS, charge_per_mole};
use crate::chemistry::solubility;
use crate::chemistry::substances::{self, Brings};
use crate::inci::Inci;
use crate::material::{Alkalinity, Charge, Class, Material, PhaseKind, Role, Titration};
use crate::mixture::MixtureLine;
use crate::quantity::PhRange;
use crate::substance_words::{brings_acids_and_salts, is_soap};

/// Ionic strength taken for a titration of a material diluted in water, mol/kg.
const TITRATION_STRENGTH: f64 = 0.1;
/// What a material of which no figure is stated may bring either way, mmol per gram of its
/// unknown part, where its work tells that it is no acid or base: our assumption, no source.
const UNSTATED_BASE: f64 = 0.05;
/// What a material may bring of which nothing at all is known, mmol per gram: half of what citric
/// acid (15.6) and soda (19) bring, as it may be either diluted; our assumption, no source.
const UNKNOWN_BASE: f64 = 10.0;
/// Acid or base of adjustment that a material may hold beside what is stated, mmol per
/// gram: our assumption, no source.
const ADJUSTMENT: f64 = 0.02;
/// Stated amounts below this share of the known groups are additions beside them.
const ADJUSTING: f64 = 0.1;
/// Strength of unstated acid where no pH as sold bounds it: carboxylic acids, pKa from
/// and to; our assumption, no source.
const UNSTATED_ACID: (f64, f64) = (3.5, 5.5);
/// Materials with at least this share of water are sold as the solution whose pH is told.
const SOLD_AS_SOLUTION: f64 = 0.3;
/// Water per gram in the usual test of a material sold without water, 10 % by mass; common
/// practice, no source.
const TEST_WATER: f64 = 9.0;
/// The same of a polyacid, which at 10 % is a stiff paste and is tested at 0.5 %; common
/// practice, no source.
const TEST_WATER_OF_POLYACID: f64 = 199.0;
/// Acid groups from which a thickener is a polyacid, mmol per gram.
const POLYACID: f64 = 2.0;
/// No buffer of a material sold alkaline has a higher constant: carbonate 10.3, amines to 10.8
/// (handbooks); alcohols and sugars above 12 hold little.
const HIGHEST_BUFFER: f64 = 11.0;

/// Acid or base that a line brings beside what its constituents state: somewhere between
/// two functions that fall with pH, mol per kg of formula, base positive.
#[derive(Clone, Debug)]
pub(super) struct Unstated {
    pub(super) name: Arc<str>,
    low: f64,
    high: f64,
    sold: Option<Sold>,
}

/// The pH as sold of a line and the charge beyond its constituents there.
#[derive(Clone, Copy, Debug)]
struct Sold {
    ph: (f64, f64),
    /// Charge at the ends, mol per kg of formula.
    charge: (f64, f64),
}

/// Share of a base that has taken up its proton.
fn protonated(ph: f64, pka: f64) -> f64 {
    1.0 / (1.0 + 10.0_f64.powf(ph - pka))
}

impl Unstated {
    pub(super) fn constant(name: impl Into<Arc<str>>, low: f64, high: f64) -> Self {
        Self {
            name: name.into(),
            low: low.min(high),
            high: low.max(high),
            sold: None,
        }
    }
    /// The least it brings at a pH.
    pub(super) fn least(&self, ph: f64) -> f64 {
        match self.sold {
            None if self.low < 0.0 => self.low * (1.0 - protonated(ph, UNSTATED_ACID.0)),
            None => self.low,
            Some(sold) if ph >= sold.ph.0 => self.low.min(sold.charge.0),
            // A base that gives a solution of this pH need be no stronger than
            // pKa = 2 pH − 14 + ½ (of 0.3 mol/kg).
            Some(sold) if self.low > 0.0 => {
                (self.low * protonated(ph, 2.0 * sold.ph.0 - 13.5)).max(sold.charge.0)
            }
            Some(sold) => sold.charge.0,
        }
    }
    /// The most it brings at a pH.
    pub(super) fn most(&self, ph: f64) -> f64 {
        match self.sold {
            None if self.high < 0.0 => self.high * (1.0 - protonated(ph, UNSTATED_ACID.1)),
            None => self.high,
            // An acid is no weaker than carboxylic acids, however strong the test was.
            Some(sold) if ph <= sold.ph.1 && self.high < 0.0 => {
                let of_acid = self.high * (1.0 - protonated(ph, UNSTATED_ACID.1));
                sold.charge.1.min(of_acid.max(sold.charge.0))
            }
            // What a base brings beyond its free hydroxide its buffers give off below their
            // constant.
            Some(sold) if ph <= sold.ph.1 && self.high > sold.charge.1 => {
                let buffered = self.high - sold.charge.1;
                sold.charge.1 + buffered * protonated(ph, HIGHEST_BUFFER)
            }
            Some(sold) if ph <= sold.ph.1 => self.high.max(sold.charge.1),
            Some(sold) if self.high < 0.0 => {
                let pka = (2.0 * sold.ph.1 - 0.5).min(UNSTATED_ACID.1);
                (self.high * (1.0 - protonated(ph, pka))).min(sold.charge.1)
            }
            Some(sold) => sold.charge.1,
        }
    }
    /// The most it may bring either way.
    pub(super) fn size(&self) -> f64 {
        self.low.abs().max(self.high.abs())
    }
    /// Whether it takes part at all.
    pub(super) fn is_nothing(&self) -> bool {
        self.low == 0.0 && self.high == 0.0 && self.sold.is_none()
    }
}

/// Molality of free base (positive) or acid at a pH.
pub(super) fn free(ph: f64) -> f64 {
    10.0_f64.powf(ph - 14.0) - 10.0_f64.powf(-ph)
}

/// Whether a constituent of a material takes part in the balance of charge.
pub(super) fn brings_charge(material: &Material) -> bool {
    material.unknown_share().value() > 0.0
        || material.constituents.iter().any(|c| {
            substances::find(c.inci.spelling(), c.cas)
                .is_some_and(|s| !s.brings.is_empty() || s.uncertain_base.is_some())
                || unstated_of_class(c.class, &c.inci).is_some()
        })
}

/// Water per gram of a material in the solution whose pH is told.
pub(in crate::chemistry) fn test_water(material: &Material) -> f64 {
    let water = material.share_of(Class::Water).value();
    if water >= SOLD_AS_SOLUTION {
        water
    } else if material.has_role(Role::Thickener) && weak_mmol_g(material) > POLYACID {
        TEST_WATER_OF_POLYACID
    } else {
        TEST_WATER
    }
}

/// Base (positive) or acid (negative) in moles per mole that a constituent without
/// known constants may bring, by its class.
pub(super) fn unstated_of_class(class: Class, inci: &Inci) -> Option<(f64, f64)> {
    match class {
        Class::AcidBase => Some((-1.0, 1.0)),
        Class::Chelator => Some((-0.5, 0.5)),
        Class::Surfactant(Charge::Anionic) if is_soap_like(inci) => Some((0.0, 0.5)),
        Class::Preservative if is_acid_or_salt(inci) => Some((-0.5, 0.5)),
        // As much as any material of which nothing is stated.
        Class::Other if brings_acids_and_salts(inci.spelling()) => {
            let most = UNSTATED_BASE * UNSTATED_MOLAR_MASS / 1000.0;
            Some((-most, most))
        }
        _ => None,
    }
}

/// Soaps and other salts of weak surfactant acids.
fn is_soap_like(inci: &Inci) -> bool {
    /// Salts of weak acids that are no soaps.
    const WEAK: [&str; 5] = [
        "glutamate",
        "glycinate",
        "sarcosinate",
        "alaninate",
        "carboxylate",
    ];
    is_soap(inci.spelling()) || WEAK.iter().any(|w| inci.has(w))
}

fn is_acid_or_salt(inci: &Inci) -> bool {
    inci.has("acid") || inci.begins_with("sodium") || inci.begins_with("potassium")
}

/// Adds what a line may bring beyond its listed constituents, mol per kg of formula.
pub(super) fn unstated_of_line(
    laid: &MixtureLine,
    unstated: &mut Vec<Unstated>,
    titrated: &mut f64,
) {
    let share = laid.share();
    let Some(material) = laid.material.as_deref() else {
        // Nothing at all is known of the line.
        let name = laid.name();
        let most = UNKNOWN_BASE * share;
        unstated.push(Unstated::constant(name, -most, most));
        return;
    };
    let (ph, base) = match &material.alkalinity {
        Alkalinity::Neutral => return,
        Alkalinity::Titrated(titration) => {
            *titrated += titrated_base_mmol_g(material, titration.value) * share;
            return;
        }
        Alkalinity::Unknown {
            ph_as_sold,
            base_mmol_per_gram,
            ..
        } => (*ph_as_sold, *base_mmol_per_gram),
    };
    let known = weak_mmol_g(material);
    let in_part = any_sparingly_soluble(material);
    if in_part && known > 0.0 && material.unknown_share().value() == 0.0 {
        // Its solubility tells all, whatever its test solution showed.
        return;
    }
    let sold = ph.map(|range| {
        let water = test_water(material);
        // At the pH as sold, stated and unstated charge together are the free base.
        let charge = |ph: f64| share * (water * free(ph) - listed_mmol_g(material, ph));
        let (low, high) = (range.low.value(), range.high.value());
        Sold {
            ph: (low, high),
            charge: (charge(low), charge(high)),
        }
    });
    let name = material.name.clone();
    let Some((low, high)) = base.or_else(|| unstated_mmol_g(material, ph)) else {
        return;
    };
    let size = low.abs().max(high.abs());
    if known > 0.0 && (ADJUSTING * known..=1.2 * known).contains(&size) {
        // What constituents of known constants bring is in the equilibrium already; the pH as
        // sold tells what was added to adjust it, unless they did not dissolve in the test.
        let (low, high) = match sold {
            Some(sold) if !in_part => sold.charge,
            _ => (-ADJUSTMENT * share, ADJUSTMENT * share),
        };
        unstated.push(Unstated {
            name,
            low: low.min(high),
            high: low.max(high),
            sold: Some(Sold {
                ph: (-10.0, 24.0),
                charge: (low.min(high), low.max(high)),
            }),
        });
        return;
    }
    let sold = sold.filter(|_| !in_part);
    unstated.push(Unstated {
        name,
        low: low * share,
        high: high * share,
        sold,
    });
}

/// Whether a constituent of the material dissolves only in part.
pub(super) fn any_sparingly_soluble(material: &Material) -> bool {
    material.constituents.iter().any(|c| {
        substances::find(c.inci.spelling(), c.cas).is_some_and(|s| {
            s.brings.iter().any(|b| match *b {
                Brings::Weak(family, _) => {
                    s.strong_charge() == 0.0 && solubility::uncharged_limit(family).is_finite()
                }
                Brings::Solid(..) => true,
                Brings::Strong(..) => false,
            })
        })
    })
}

/// Charge of the listed constituents at a pH, mmol per gram of material.
fn listed_mmol_g(material: &Material, ph: f64) -> f64 {
    material
        .constituents
        .iter()
        .filter_map(|c| {
            let substance = substances::find(c.inci.spelling(), c.cas)?;
            let mmol = 1000.0 * c.share.typical.value() / substance.molar_mass;
            Some(mmol * charge_per_mole(substance, ph, TITRATION_STRENGTH))
        })
        .sum()
}

/// Base beyond the listed constituents from a titration, mmol per gram of material.
///
/// At the end point the charge of the listed constituents, the unknown base and the
/// acid used add up to zero.
pub fn titrated_base_mmol_g(material: &Material, titration: Titration) -> f64 {
    let listed = listed_mmol_g(material, titration.to_ph.value());
    titration.mmol_acid_per_gram - listed
}

/// Groups that take up or give off protons in the constituents of known constants, mmol
/// per gram of material.
fn weak_mmol_g(material: &Material) -> f64 {
    material
        .constituents
        .iter()
        .filter_map(|c| {
            let substance = substances::find(c.inci.spelling(), c.cas)?;
            let groups: f64 = substance
                .brings
                .iter()
                .map(|b| match *b {
                    Brings::Weak(family, n) => n * family.protolyte().pka.len() as f64,
                    Brings::Strong(..) => 0.0,
                    Brings::Solid(_, n) => 2.0 * n,
                })
                .sum();
            Some(1000.0 * c.share.typical.value() * groups / substance.molar_mass)
        })
        .sum()
}

/// Whether nothing tells that a material brings next to no acid or base: no constituent is known
/// of it, and neither its work nor its place among the phases says that it is an oil, perfume,
/// powder or the like.
fn is_wholly_unknown(material: &Material) -> bool {
    /// Work that needs neither acid nor base; common practice, no source.
    const INERT: [Role; 17] = [
        Role::Solvent,
        Role::Humectant,
        Role::Emollient,
        Role::Butter,
        Role::Wax,
        Role::Emulsifier,
        Role::CoEmulsifier,
        Role::Refatting,
        Role::Fragrance,
        Role::EssentialOil,
        Role::Colourant,
        Role::Pearliser,
        Role::Opacifier,
        Role::Absorbent,
        Role::UvFilter,
        Role::Cooling,
        Role::Extract,
    ];
    let inert = material.phase == Some(PhaseKind::Oil)
        || material.roles.iter().any(|role| INERT.contains(role));
    material.constituents.is_empty() && !inert
}

/// What a material may bring of which no figure is stated, mmol per gram; none if its
/// constituents cannot bring acid or base.
fn unstated_mmol_g(material: &Material, ph_as_sold: Option<PhRange>) -> Option<(f64, f64)> {
    let unknown = material.unknown_share().value();
    let inert = material.constituents.iter().all(|c| match c.class {
        Class::Water
        | Class::Oil
        | Class::Emulsifier
        | Class::Fragrance
        | Class::Solvent
        | Class::Humectant
        | Class::Antioxidant => true,
        _ => substances::find(c.inci.spelling(), c.cas).is_some_and(|s| {
            // Washing actives are sold with an acid or base of adjustment.
            !matches!(c.class, Class::Surfactant(_)) && s.uncertain_base.is_none()
        }),
    });
    if inert && unknown == 0.0 {
        return None;
    }
    let Some(range) = ph_as_sold else {
        let share = if inert { unknown } else { 1.0 };
        let each = if is_wholly_unknown(material) {
            UNKNOWN_BASE
        } else {
            UNSTATED_BASE
        };
        return Some((-each * share, each * share));
    };
    // Free hydroxide or acid at the pH as sold is the least it brings; five times the
    // upper end and a little more leaves room for buffers (our assumption, no source).
    let (low, high) = (free(range.low.value()), free(range.high.value()));
    Some(if range.low.value() >= 7.0 {
        (low.max(0.0), 5.0 * high + ADJUSTMENT)
    } else if range.high.value() <= 5.0 {
        (5.0 * low - ADJUSTMENT, high.min(0.0))
    } else {
        (
            5.0 * low.min(0.0) - ADJUSTMENT,
            5.0 * high.max(0.0) + ADJUSTMENT,
        )
    })
}
