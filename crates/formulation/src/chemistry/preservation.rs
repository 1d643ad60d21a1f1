//! How much of a preservative is in the form that works, where it is lost, and which
//! organisms the system covers. Nothing here says that a product is preserved.

use std::sync::Arc;

use super::acidity::Acidity;
use super::acids::Family;
use super::mix::Mix;
use super::ph::Shares;
use crate::formula::ItemId;
use crate::material::{Charge, Class, Coverage, Role};

/// What is said with every result.
pub const CAUTION: &str = "An estimate from published constants, checked against no organism. Only a challenge test (ISO 11930) shows that a product is preserved.";
/// How the shares are computed.
pub const METHOD: &str = "equilibrium share at the pH and ionic strength of the mix (Davies); partition to oil by the octanol-water coefficient";
/// Where constants are from.
pub const SOURCE: &str = "constants of dissociation with their own sources; log P of Hansch, Leo and Hoekman, Exploring QSAR, 1995, from memory";

/// A preservative acid: only the undissociated form enters cells.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct PreservativeAcid {
    /// Its dissociation.
    pub family: Family,
    /// INCI name of the acid.
    pub inci: &'static str,
    /// Molar mass of the acid, g/mol.
    pub molar_mass: f64,
    /// Octanol-water partition of the undissociated form, log₁₀ P.
    pub log_p: Option<f64>,
    /// Solubility of the undissociated acid in water at 20 to 25 °C, g/kg; from memory.
    pub solubility_g_kg: Option<f64>,
    /// Undissociated acid below which it does little, % of the formula; common practice,
    /// no source.
    pub least_percent: f64,
    /// pH at which it is used; common practice, no source.
    pub window: (f64, f64),
}

/// The preservative acids.
pub const ACIDS: [PreservativeAcid; 9] = [
    acid(
        Family::Benzoic,
        "Benzoic Acid",
        122.123,
        Some(1.87),
        Some(3.4),
        0.05,
        (2.5, 5.2),
    ),
    acid(
        Family::Sorbic,
        "Sorbic Acid",
        112.128,
        Some(1.33),
        Some(1.6),
        0.03,
        (2.5, 5.5),
    ),
    acid(
        Family::Dehydroacetic,
        "Dehydroacetic Acid",
        168.148,
        None,
        Some(0.7),
        0.02,
        (2.5, 6.3),
    ),
    acid(
        Family::Levulinic,
        "Levulinic Acid",
        116.116,
        Some(-0.49),
        None,
        0.1,
        (2.5, 5.5),
    ),
    acid(
        Family::Anisic,
        "p-Anisic Acid",
        152.149,
        Some(1.96),
        Some(0.3),
        0.02,
        (2.5, 5.5),
    ),
    acid(
        Family::Salicylic,
        "Salicylic Acid",
        138.122,
        Some(2.26),
        Some(2.2),
        0.02,
        (2.5, 4.5),
    ),
    acid(
        Family::Propionic,
        "Propionic Acid",
        74.08,
        Some(0.33),
        None,
        0.1,
        (2.5, 5.5),
    ),
    acid(
        Family::Formic,
        "Formic Acid",
        46.025,
        Some(-0.54),
        None,
        0.1,
        (2.5, 4.5),
    ),
    acid(
        Family::Undecylenic,
        "Undecylenic Acid",
        184.28,
        None,
        None,
        0.05,
        (2.5, 6.0),
    ),
];

const fn acid(
    family: Family,
    inci: &'static str,
    molar_mass: f64,
    log_p: Option<f64>,
    solubility_g_kg: Option<f64>,
    least_percent: f64,
    window: (f64, f64),
) -> PreservativeAcid {
    PreservativeAcid {
        family,
        inci,
        molar_mass,
        log_p,
        solubility_g_kg,
        least_percent,
        window,
    }
}

/// Where the pH of a figure is from.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum PhBasis {
    /// Measured by the maker.
    Measured,
    /// Estimated.
    Estimated,
    /// The maker's target, since the estimate is too wide.
    Target,
    /// The middle of a wide range.
    Middle,
}

impl PhBasis {
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::Estimated => "estimated",
            Self::Target => "target",
            Self::Middle => "middle of a wide range",
        }
    }
}

/// One preservative acid in the mix.
#[derive(Clone, PartialEq, Debug)]
pub struct AcidState {
    /// Which acid.
    pub acid: &'static PreservativeAcid,
    /// The constituents that bring it.
    pub from: Vec<Arc<str>>,
    /// The lines that bring it.
    pub lines: Vec<ItemId>,
    /// All of it, reckoned as the acid, % of the formula.
    pub total_percent: f64,
    /// The pH it was computed at.
    pub ph: f64,
    /// Where that pH is from.
    pub basis: PhBasis,
    /// Undissociated share at that pH and the ionic strength of the mix, 0 to 1.
    pub undissociated: f64,
    /// The same by Henderson and Hasselbalch, without activity coefficients.
    pub undissociated_ideal: f64,
    /// Undissociated acid, % of the formula, nothing lost to oil.
    pub effective_percent: f64,
    /// What the oil takes up, if there is oil and the coefficient is known.
    pub oil: Option<OilLoss>,
}

/// What an oil phase takes up of a substance.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct OilLoss {
    /// Share of all of it that is in the oil, 0 to 1.
    pub share: f64,
    /// What is left in the water phase in the form that works, % of the water phase.
    pub in_water_percent: f64,
}

/// A preservative that is no acid and partly goes into the oil.
#[derive(Clone, PartialEq, Debug)]
pub struct NeutralState {
    /// INCI name.
    pub inci: Arc<str>,
    /// All of it, % of the formula.
    pub total_percent: f64,
    /// What the oil takes up.
    pub oil: OilLoss,
}

/// A group of organisms.
#[derive(Clone, PartialEq, Debug)]
pub struct GroupCoverage {
    /// The group.
    pub group: &'static str,
    /// The best coverage of any preservative at its dose and pH.
    pub coverage: Coverage,
    /// The materials that give it.
    pub by: Vec<Arc<str>>,
}

/// The preservative system.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Preservation {
    /// Acids, in the order of the table.
    pub acids: Vec<AcidState>,
    /// Other preservatives of known partition, where there is oil.
    pub neutrals: Vec<NeutralState>,
    /// Bacteria, yeast, mould; empty if no material tells its coverage.
    pub coverage: Vec<GroupCoverage>,
    /// Chelators that support the system.
    pub chelators: Vec<Arc<str>>,
    /// What is known to weaken it, in words.
    pub weakeners: Vec<String>,
    /// Lines that release formaldehyde.
    pub formaldehyde_donors: Vec<ItemId>,
    /// Preservative constituents about which nothing is known here.
    pub unknown: Vec<Arc<str>>,
}

impl Preservation {
    /// The acid with the most undissociated, for the read-out.
    pub fn leading(&self) -> Option<&AcidState> {
        self.acids
            .iter()
            .max_by(|a, b| a.effective_percent.total_cmp(&b.effective_percent))
    }
}

/// Undissociated share of an acid against pH at an ionic strength: `points` + 1 pairs of
/// pH and share between two values of pH.
pub fn curve(
    acid: &PreservativeAcid,
    ionic_strength: f64,
    from: f64,
    to: f64,
    points: usize,
) -> Vec<[f64; 2]> {
    (0..=points)
        .map(|i| {
            let ph = from + (to - from) * i as f64 / points.max(1) as f64;
            let share = Shares::new(acid.family.protolyte(), ph, ionic_strength).protonated();
            [ph, share]
        })
        .collect()
}

/// Density of oil taken for the volume ratio, g/ml; common practice, no source.
const OIL_G_ML: f64 = 0.92;
/// Below this share of oil, partition is left out.
const LEAST_OIL: f64 = 0.001;
/// Share from which non-ionic surfactants are named as weakeners; common practice.
const WEAKENING_NON_IONIC: f64 = 0.02;
/// Share from which protein is named; common practice.
const WEAKENING_PROTEIN: f64 = 0.002;

/// What the oil takes up of a substance of which the share `free` is in the form that
/// partitions.
///
/// With P the ratio of concentrations by volume and r the ratio of the volumes of oil and
/// water phase, oil : water = free · P · r : 1. Octanol takes up more than most oils, so
/// that this is an upper bound for vegetable oils and esters.
pub fn oil_loss(
    total_percent: f64,
    free: f64,
    log_p: f64,
    oil: f64,
    water_phase: f64,
) -> Option<OilLoss> {
    if oil < LEAST_OIL || water_phase <= 0.0 {
        return None;
    }
    let ratio = 10.0_f64.powf(log_p) * oil / OIL_G_ML / water_phase;
    let share = free * ratio / (1.0 + free * ratio);
    Some(OilLoss {
        share,
        in_water_percent: total_percent * (1.0 - share) * free / water_phase,
    })
}

/// Estimates the preservative system of a mix.
pub fn estimate(mix: &Mix<'_>, acidity: &Acidity, target_ph: Option<f64>) -> Preservation {
    let mut found = Preservation::default();
    let oil = mix.class(Class::Oil);
    let water_phase = 1.0 - oil - mix.class(Class::Emulsifier);
    let at = ph_of(acidity, target_ph);

    if let Some((ph, basis)) = at {
        let ionic_strength = acidity.ionic_strength.unwrap_or(0.0);
        for acid in &ACIDS {
            let mut state = AcidState {
                acid,
                from: Vec::new(),
                lines: Vec::new(),
                total_percent: 0.0,
                ph,
                basis,
                undissociated: 0.0,
                undissociated_ideal: 0.0,
                effective_percent: 0.0,
                oil: None,
            };
            for part in &mix.parts {
                let Some(substance) = part.substance else {
                    continue;
                };
                let moles = substance.moles_of(acid.family);
                let share = part.amount.share.typical.as_percent();
                if moles > 0.0 && share > 0.0 {
                    state.total_percent += share * moles * acid.molar_mass / substance.molar_mass;
                    state.from.push(part.amount.inci.clone());
                    state
                        .lines
                        .extend(part.amount.from.iter().map(|(line, _)| *line));
                }
            }
            if state.total_percent <= 0.0 {
                continue;
            }
            let protolyte = acid.family.protolyte();
            state.undissociated = Shares::new(protolyte, ph, ionic_strength).protonated();
            state.undissociated_ideal = Shares::new(protolyte, ph, 0.0).protonated();
            state.effective_percent = state.total_percent * state.undissociated;
            state.oil = acid.log_p.and_then(|log_p| {
                oil_loss(
                    state.total_percent,
                    state.undissociated,
                    log_p,
                    oil,
                    water_phase,
                )
            });
            found.acids.push(state);
        }
    }

    for part in &mix.parts {
        let share = part.amount.share.typical;
        match part.amount.class {
            Class::Chelator if share.value() > 0.0 => {
                found.chelators.push(part.amount.inci.clone());
            }
            Class::Preservative if share.value() > 0.0 => match part.substance {
                None => found.unknown.push(part.amount.inci.clone()),
                Some(s) if ACIDS.iter().any(|a| s.moles_of(a.family) > 0.0) => {}
                Some(s) => {
                    let loss = s.log_p.and_then(|log_p| {
                        oil_loss(share.as_percent(), 1.0, log_p, oil, water_phase)
                    });
                    if let Some(oil) = loss {
                        found.neutrals.push(NeutralState {
                            inci: part.amount.inci.clone(),
                            total_percent: share.as_percent(),
                            oil,
                        });
                    }
                }
            },
            _ => {}
        }
    }

    coverage(mix, at.map(|(ph, _)| ph), &mut found);
    weakeners(mix, at.map(|(ph, _)| ph), &mut found);
    found
}

/// The pH to compute at.
fn ph_of(acidity: &Acidity, target: Option<f64>) -> Option<(f64, PhBasis)> {
    let figure = &acidity.figure;
    figure
        .measured
        .map(|ph| (ph, PhBasis::Measured))
        .or_else(|| figure.value.map(|ph| (ph, PhBasis::Estimated)))
        .or_else(|| {
            let target = target.filter(|_| acidity.middle.is_some());
            target.map(|ph| (ph, PhBasis::Target))
        })
        .or_else(|| acidity.middle.map(|ph| (ph, PhBasis::Middle)))
}

fn coverage(mix: &Mix<'_>, ph: Option<f64>, found: &mut Preservation) {
    let mut groups = [
        ("bacteria", Coverage::None, Vec::new()),
        ("yeast", Coverage::None, Vec::new()),
        ("mould", Coverage::None, Vec::new()),
    ];
    let mut any = false;
    for laid in &mix.lines {
        let Some(material) = laid.material else {
            continue;
        };
        let Some(data) = &material.preservation else {
            continue;
        };
        if laid.share <= 0.0 {
            continue;
        }
        any = true;
        if data.formaldehyde_donor {
            found.formaldehyde_donors.push(laid.line.id);
        }
        let outside = match (data.ph, ph) {
            (Some(window), Some(ph)) => !(window.low.value()..=window.high.value()).contains(&ph),
            _ => false,
        };
        let starved = found
            .acids
            .iter()
            .any(|a| a.lines.contains(&laid.line.id) && a.effective_percent < a.acid.least_percent);
        for ((_, best, by), stated) in
            groups
                .iter_mut()
                .zip([data.bacteria, data.yeast, data.mould])
        {
            let real = if outside {
                Coverage::None
            } else if laid.line.percent < data.dose_low || starved {
                stated.min(Coverage::Weak)
            } else {
                stated
            };
            if real > *best {
                *best = real;
                by.clear();
            }
            if real == *best && real > Coverage::None {
                by.push(material.name.clone());
            }
        }
    }
    if any {
        found.coverage = groups
            .into_iter()
            .map(|(group, coverage, by)| GroupCoverage {
                group,
                coverage,
                by,
            })
            .collect();
    }
}

fn weakeners(mix: &Mix<'_>, ph: Option<f64>, found: &mut Preservation) {
    if found.acids.is_empty() && found.coverage.is_empty() {
        return;
    }
    let non_ionic = mix.class(Class::Surfactant(Charge::NonIonic))
        + mix
            .parts
            .iter()
            .filter(|p| p.amount.class == Class::Emulsifier && is_ethoxylated(&p.amount.inci))
            .map(|p| p.amount.share.typical.value())
            .sum::<f64>();
    if non_ionic >= WEAKENING_NON_IONIC {
        found.weakeners.push(format!(
            "{:.1} % of non-ionic surfactant takes part of the preservative into its micelles",
            100.0 * non_ionic
        ));
    }
    let protein: f64 = mix
        .lines
        .iter()
        .filter(|l| l.material.is_some_and(|m| m.has_role(Role::Protein)))
        .map(|l| l.share)
        .sum();
    if protein >= WEAKENING_PROTEIN {
        found.weakeners.push(format!(
            "{:.1} % of protein material feeds organisms and binds preservative",
            100.0 * protein
        ));
    }
    if let Some(ph) = ph.filter(|&ph| found.acids.iter().any(|a| ph > a.acid.window.1)) {
        found.weakeners.push(format!(
            "at pH {ph:.1} little of an organic acid is undissociated"
        ));
    }
}

fn is_ethoxylated(inci: &str) -> bool {
    let name = inci.to_ascii_lowercase();
    name.contains("peg-")
        || name.contains("polysorbate")
        || name.contains("eth-")
        || name.contains("eteareth")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Benzoic acid, undissociated % at pH 3 to 7 as printed by J. Smith and L. Hong-Shum,
    /// Food Additives Data Book, 2003. The print fits a pKa of 4.163 against 4.20 here, which
    /// shifts the shares by up to 2 points.
    #[test]
    fn benzoic_acid_of_the_food_additives_data_book() {
        let acid = &ACIDS[0];
        for (ph, published) in [
            (3.0, 93.5),
            (4.0, 59.3),
            (5.0, 12.8),
            (6.0, 1.44),
            (7.0, 0.144),
        ] {
            let found = 100.0 * Shares::new(acid.family.protolyte(), ph, 0.0).protonated();
            assert!((found - published).abs() < 2.1, "{ph}: {found}");
            assert!((found / published - 1.0).abs() < 0.1, "{ph}: {found}");
        }
    }

    /// Hand reckoning: equal volumes, P = 10, all undissociated: ten elevenths in the oil.
    #[test]
    fn partition_by_hand() {
        let loss = oil_loss(1.0, 1.0, 1.0, 0.46, 0.5).unwrap();
        assert!((loss.share - 10.0 / 11.0).abs() < 1e-12);
        assert!((loss.in_water_percent - 1.0 / 11.0 / 0.5).abs() < 1e-12);
        assert_eq!(oil_loss(1.0, 1.0, 1.0, 0.0, 0.9), None);
        assert_eq!(oil_loss(1.0, 1.0, 1.0, 0.5, 0.0), None);
    }

    #[test]
    fn the_curve_falls_with_ph() {
        for acid in &ACIDS {
            let curve = curve(acid, 0.1, 3.0, 8.0, 50);
            assert_eq!(curve.len(), 51);
            assert!(curve.windows(2).all(|w| w[1][1] < w[0][1]));
        }
    }
}
