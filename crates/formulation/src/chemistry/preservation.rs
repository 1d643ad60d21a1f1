//! How much of a preservative is in the form that works, where it is lost, and which
//! organisms the system covers. Nothing here says that a product is preserved.

pub use super::preservative_acids::{ACIDS, PreservativeAcid};
use std::sync::{Arc, LazyLock};

use super::acidity::Acidity;
use super::mix::Mix;
use super::partition::{self, Phases};
use super::ph::Shares;
use super::ph_in_use::PhInUse;
use crate::formula::ItemId;
use crate::inci::{Inci, equal_as_spelt};
use crate::material::{Charge, Class, Coverage, Material, Role};
use crate::mixture::MixtureLine;
use crate::quantity::Ph;
use crate::shelf::built_in;

pub use super::partition::Whereabouts;

/// What is said with every result.
pub const CAUTION: &str = "An estimate from published constants, checked against no organism. Only a challenge test (ISO 11930) shows that a product is preserved.";
/// What is said of [`PreservativeSystem::unplaced`], before their names.
pub const UNPLACED: &str = "how much oil and micelles take up is not known, so that less may work";
/// How the shares are computed.
pub const METHOD: &str = "equilibrium share at the pH and ionic strength of the mix (Davies); what is free in the water by partition into each sort of oil and binding by micelles";
/// Where constants are from.
pub const SOURCE: &str = "constants of dissociation with their own sources; partition into oils: J. Soc. Cosmet. Chem. 16 (1965) 18 and 23 (1972) 715; octanol-water partition measured, set of Syracuse Research behind KOWWIN";

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
    pub at: PhInUse,
    /// Undissociated share at that pH and the ionic strength of the mix, 0 to 1.
    pub undissociated: f64,
    /// The same by Henderson and Hasselbalch, without activity coefficients.
    pub undissociated_ideal: f64,
    /// Undissociated acid, % of the formula, nothing lost to oil or micelles.
    pub effective_percent: f64,
    /// The same at the two ends of the pH, the lower amount first.
    pub effective_range: (f64, f64),
    /// Where it is, if there is oil or there are micelles and its partition is known.
    pub oil: Option<Whereabouts>,
    /// Whether the acids of the mix make up a working amount together, each counted by its
    /// own least amount: weak acids add up; common practice, no source.
    pub held_together: bool,
}

impl AcidState {
    /// Whether too little works at every pH that may be, here and of all acids together.
    pub fn is_starved(&self) -> bool {
        self.part_of_least() < 1.0 && !self.held_together
    }
    /// How much of the formula is undissociated, over the pH that may be: `0.05 to 0.07 %`.
    pub fn effective_words(&self) -> String {
        let (low, high) = self.effective_range;
        if high - low < 0.0005 {
            format!("{high:.3} %")
        } else {
            format!("{low:.3} to {high:.3} %")
        }
    }
    /// What works of it at most, in parts of the least amount that works.
    fn part_of_least(&self) -> f64 {
        self.effective_range.1 / self.acid.least_percent
    }
}

/// A blend that preserves, by what it is made of.
struct Blend {
    /// The material on the shelf.
    material: &'static Arc<Material>,
    /// What it preserves by, and how much of each its lowest dose brings, % of the formula.
    needs: Vec<(Inci, f64)>,
}

/// Blends of the shelf whose parts are sold singly as well. A formula that holds the parts of
/// one is preserved as by the blend, however they were bought.
static BLENDS: LazyLock<Vec<Blend>> = LazyLock::new(|| {
    /// Parts are weighed to about a tenth of their share.
    const ROOM: f64 = 0.9;
    let shelf = built_in::shelf();
    let preserves = |inci: &Inci| {
        shelf.iter().any(|m| {
            let is_it = matches!(&*m.constituents, [only] if only.inci.same_as(inci));
            is_it && (m.preservation.is_some() || m.has_role(Role::PreservativeBooster))
        })
    };
    let blend = |material: &'static Arc<Material>| {
        let dose = material.preservation.as_ref()?.dose_low.as_percent();
        let needs: Vec<(Inci, f64)> = (material.constituents.iter())
            .filter(|c| preserves(&c.inci))
            .map(|c| (c.inci.clone(), ROOM * dose * c.share.typical.value()))
            .collect();
        (needs.len() > 1).then_some(Blend { material, needs })
    };
    shelf.iter().filter_map(blend).collect()
});

/// A preservative that is no acid and partly goes into the oil.
#[derive(Clone, Debug)]
pub struct NeutralState {
    /// INCI name.
    pub inci: Inci,
    /// The lines that bring it.
    pub lines: Vec<ItemId>,
    /// All of it, % of the formula.
    pub total_percent: f64,
    /// Where it is.
    pub oil: Whereabouts,
}

equal_as_spelt!(NeutralState: names inci; rest lines, total_percent, oil);

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
pub struct PreservativeSystem {
    /// Acids, in the order of the table.
    pub acids: Vec<AcidState>,
    /// Other preservatives of known partition, where there is oil or there are micelles.
    pub neutrals: Vec<NeutralState>,
    /// Bacteria, yeast, mould; empty if no material tells its coverage.
    pub coverage: Vec<GroupCoverage>,
    /// Chelators that support the system.
    pub chelators: Vec<Arc<str>>,
    /// What is known to weaken it, in words.
    pub weakeners: Vec<String>,
    /// Lines that release formaldehyde.
    pub formaldehyde_donors: Vec<ItemId>,
    /// INCI names of preservatives without an entry in the table of substances: neither their
    /// dissociation nor their partition is computed.
    pub unknown: Vec<Arc<str>>,
    /// INCI names of preservatives of which nothing tells how much oil and micelles take up,
    /// where there are any: what works is less than what is computed.
    pub unplaced: Vec<Arc<str>>,
    /// Lines that together make up a blend of known cover, so that none has to reach the
    /// lowest dose that it needs alone.
    pub blended: Vec<ItemId>,
}

impl PreservativeSystem {
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

/// Share from which protein is named; common practice.
const WEAKENING_PROTEIN: f64 = 0.002;

/// Whether a substance brings one of the [`ACIDS`], free or as its salt.
pub fn is_preservative_acid(inci: &str) -> bool {
    super::substances::by_name(inci)
        .is_some_and(|s| ACIDS.iter().any(|a| s.moles_of(a.family) > 0.0))
}

/// Estimates the preservative system of a mix.
pub fn estimate(mix: &Mix<'_>, acidity: &Acidity, target_ph: Option<Ph>) -> PreservativeSystem {
    let mut found = PreservativeSystem::default();
    let phases = Phases::of(mix);
    let at = PhInUse::of_water_phase(acidity, target_ph);
    if let Some(at) = at {
        let ionic_strength = acidity.ionic_strength.unwrap_or(0.0);
        for acid in &ACIDS {
            found
                .acids
                .extend(acid_state(mix, acid, at, ionic_strength, &phases));
        }
        let together: f64 = found.acids.iter().map(AcidState::part_of_least).sum();
        for acid in &mut found.acids {
            acid.held_together = together >= 1.0;
            if acid.oil.is_none() && phases.part_anything() {
                found.unplaced.push(acid.acid.inci.into());
            }
        }
    }

    for part in &mix.parts {
        let share = part.amount.share.typical;
        match part.amount.class {
            Class::Chelator if share.value() > 0.0 => {
                found.chelators.push(part.amount.inci.clone().into());
            }
            Class::Preservative if share.value() > 0.0 => match part.substance {
                None => found.unknown.push(part.amount.inci.clone().into()),
                Some(s) if ACIDS.iter().any(|a| s.moles_of(a.family) > 0.0) => {}
                Some(s) => {
                    let partition = partition::of(s.name(), s.log_p);
                    let oil = partition.and_then(|p| p.spread(&phases, share.as_percent(), 1.0));
                    if let Some(oil) = oil {
                        found.neutrals.push(NeutralState {
                            inci: part.amount.inci.clone(),
                            lines: part.amount.from.iter().map(|(line, _)| *line).collect(),
                            total_percent: share.as_percent(),
                            oil,
                        });
                    } else if partition.is_none() && phases.part_anything() {
                        found.unplaced.push(part.amount.inci.clone().into());
                    }
                }
            },
            _ => {}
        }
    }

    coverage(mix, at, &mut found);
    weakeners(mix, at, &phases, &mut found);
    found
}

/// Share of a material from which an acid in it is there for the formula; below it is the
/// preservation of the raw material. Common practice, no source.
const CARRIED_OVER_BELOW: f64 = 0.02;

/// One acid; `None` if nothing but what raw materials carry over brings it.
fn acid_state(
    mix: &Mix<'_>,
    acid: &'static PreservativeAcid,
    at: PhInUse,
    ionic_strength: f64,
    phases: &Phases,
) -> Option<AcidState> {
    let (mut from, mut lines, mut total_percent) = (Vec::new(), Vec::new(), 0.0);
    let mut is_meant = false;
    for part in &mix.parts {
        let Some(substance) = part.substance else {
            continue;
        };
        let moles = substance.moles_of(acid.family);
        let share = part.amount.share.typical.as_percent();
        if moles <= 0.0 || share <= 0.0 {
            continue;
        }
        total_percent += share * moles * acid.molar_mass / substance.molar_mass;
        from.push(part.amount.inci.clone().into());
        for &(line, brought) in &part.amount.from {
            lines.push(line);
            is_meant |= mix.line(line).is_some_and(|l| {
                let preserves = |m: &Material| m.preservation.is_some();
                brought.value() >= CARRIED_OVER_BELOW * l.share()
                    || l.material.as_deref().is_some_and(preserves)
            });
        }
    }
    if total_percent <= 0.0 || !is_meant {
        return None;
    }
    let protolyte = acid.family.protolyte();
    let share_at = |ph: f64| Shares::new(protolyte, ph, ionic_strength).protonated();
    let undissociated = share_at(at.ph);
    Some(AcidState {
        acid,
        from,
        lines,
        total_percent,
        at,
        undissociated,
        undissociated_ideal: Shares::new(protolyte, at.ph, 0.0).protonated(),
        effective_percent: total_percent * undissociated,
        effective_range: (
            total_percent * share_at(at.high),
            total_percent * share_at(at.low),
        ),
        oil: partition::of(acid.inci, acid.log_p())
            .and_then(|p| p.spread(phases, total_percent, undissociated)),
        held_together: false,
    })
}

/// Whether anionic matter of the mix binds and inactivates a cationic preservative: at least
/// as much anionic surfactant as there is of the preservative. Undisputed in the trade.
fn is_inactivated(mix: &Mix<'_>, material: &Material, share: f64) -> bool {
    material.charge == Some(Charge::Cationic)
        && mix.class(Class::Surfactant(Charge::Anionic)) >= share
}

/// The lines that bring all parts of a blend, if the mix holds enough of each and not only the
/// blend itself.
fn parts_of(mix: &Mix<'_>, blend: &Blend) -> Option<Vec<ItemId>> {
    let mut lines: Vec<ItemId> = Vec::new();
    for (inci, least) in &blend.needs {
        let part = mix.parts.iter().find(|p| {
            p.amount.inci.same_as(inci) && p.amount.share.typical.as_percent() >= *least
        })?;
        for (line, _) in &part.amount.from {
            if !lines.contains(line) {
                lines.push(*line);
            }
        }
    }
    (lines.len() > 1).then_some(lines)
}

fn coverage(mix: &Mix<'_>, at: Option<PhInUse>, found: &mut PreservativeSystem) {
    let mut groups = [
        ("bacteria", Coverage::None, Vec::new()),
        ("yeast", Coverage::None, Vec::new()),
        ("mould", Coverage::None, Vec::new()),
    ];
    let mut any = false;
    let mut cover = |stated: [Coverage; 3], name: &Arc<str>| {
        for ((_, best, by), real) in groups.iter_mut().zip(stated) {
            if real > *best {
                *best = real;
                by.clear();
            }
            if real == *best && real > Coverage::None {
                by.push(name.clone());
            }
        }
    };
    for laid in mix.lines() {
        let Some(material) = laid.material.as_deref() else {
            continue;
        };
        let Some(data) = &material.preservation else {
            continue;
        };
        any = true;
        if data.formaldehyde_donor {
            found.formaldehyde_donors.push(laid.line);
        }
        let outside = match (data.ph, at) {
            (Some(window), Some(at)) => at.is_outside(window.low.value(), window.high.value()),
            _ => false,
        };
        let inactive = outside || is_inactivated(mix, material, laid.share());
        let starved = found
            .acids
            .iter()
            .any(|a| a.lines.contains(&laid.line) && a.is_starved());
        let real = |stated: Coverage| {
            if inactive {
                Coverage::None
            } else if laid.percent < data.dose_low || starved {
                stated.min(Coverage::Weak)
            } else {
                stated
            }
        };
        cover(
            [data.bacteria, data.yeast, data.mould].map(real),
            &material.name,
        );
    }
    if any {
        for blend in BLENDS.iter() {
            let Some(lines) = parts_of(mix, blend) else {
                continue;
            };
            let Some(data) = &blend.material.preservation else {
                continue;
            };
            let outside = data
                .ph
                .zip(at)
                .is_some_and(|(window, at)| at.is_outside(window.low.value(), window.high.value()));
            if !outside {
                cover(
                    [data.bacteria, data.yeast, data.mould],
                    &blend.material.name,
                );
                found.blended.extend(lines);
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

fn weakeners(mix: &Mix<'_>, at: Option<PhInUse>, phases: &Phases, found: &mut PreservativeSystem) {
    if found.acids.is_empty() && found.coverage.is_empty() {
        return;
    }
    if phases.non_ionic_micelles >= WEAKENING_NON_IONIC {
        found.weakeners.push(format!(
            "{:.1} % of non-ionic surfactant takes part of the preservative into its micelles",
            100.0 * phases.non_ionic_micelles
        ));
    }
    for laid in mix.lines() {
        if let Some(material) = laid.material.as_deref()
            && material.preservation.is_some()
            && is_inactivated(mix, material, laid.share())
        {
            found.weakeners.push(format!(
                "{} is cationic; the anionic surfactants bind it and it does not work",
                material.name
            ));
        }
    }
    let protein: f64 = mix
        .lines()
        .filter(|l| {
            l.material
                .as_deref()
                .is_some_and(|m| m.has_role(Role::Protein))
        })
        .map(MixtureLine::share)
        .sum();
    if protein >= WEAKENING_PROTEIN {
        found.weakeners.push(format!(
            "{:.1} % of protein material feeds organisms and binds preservative",
            100.0 * protein
        ));
    }
    let too_high = |at: &PhInUse| found.acids.iter().any(|a| at.low > a.acid.window.1);
    if let Some(at) = at.filter(too_high) {
        found.weakeners.push(format!(
            "at pH {:.1} and above little of an organic acid is undissociated",
            at.low
        ));
    }
}

/// Share from which non-ionic surfactants are named as weakeners; common practice.
const WEAKENING_NON_IONIC: f64 = 0.02;

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

    #[test]
    fn the_curve_falls_with_ph() {
        for acid in &ACIDS {
            let curve = curve(acid, 0.1, 3.0, 8.0, 50);
            assert_eq!(curve.len(), 51);
            assert!(curve.windows(2).all(|w| w[1][1] < w[0][1]));
        }
    }
}
