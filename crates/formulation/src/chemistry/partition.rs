//! Where a substance goes in a mix of water, oils and micelles.
//!
//! With α the share in the form that partitions, P the ratio of concentrations by volume and φ
//! the volumes, free in water is f = 1 / (1 + α Σ Pᵢ φᵢ / φ_w): H. S. Bean et al., J. Soc.
//! Cosmet. Chem. 16 (1965) 15; H. B. Kostenbauder's R = 1 + k S for micelles, as restated in
//! J. Soc. Cosmet. Chem. 23 (1972) 714. The coefficients are data in
//! `assets/chemistry/partition.ron`, each with its source.

use super::basis::basis_of;
use super::emulsion::{OIL_G_ML, is_oil};
use super::mix::Mix;
use super::partition_table::{SORTS, Sort, table};
use super::water_limits::FILM;
use crate::inci::Inci;
use crate::material::{Basis, Charge, Class};

/// Below this share of oil or micelles, partition is left out.
const LEAST: f64 = 0.001;
/// A published coefficient on other oils and surfactants of its sort; our choice.
const PUBLISHED_FACTOR: f64 = 1.5;
/// The same of one that is restated from memory.
const MEMORY_FACTOR: f64 = 2.5;

/// Shares by volume of what takes up a preservative, and of the water phase.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub struct Phases {
    /// In the order of the sorts.
    volumes: [f64; SORTS.len()],
    /// The water phase.
    water: f64,
    /// Non-ionic surfactants and ethoxylated emulsifiers, share by mass.
    pub non_ionic_micelles: f64,
}

impl Phases {
    /// The phases of a mix.
    pub fn of(mix: &Mix<'_>) -> Self {
        let mut phases = Self::default();
        let mut other = 0.0;
        for c in &mix.mixture.contributions {
            let share = c.by_component.typical.value();
            if is_oil(&c.material, c.class, c.inci.spelling()) {
                let sort = table()
                    .and_then(|t| t.oils.of(c.inci.spelling()).is.iter().next())
                    .and_then(|sort| SORTS.get(sort).copied())
                    .unwrap_or(Sort::Triglyceride);
                phases.add(sort, share / OIL_G_ML);
                other += share;
                continue;
            }
            match c.class {
                Class::Surfactant(Charge::Anionic | Charge::Amphoteric) => {
                    phases.add(Sort::AnionicMicelles, share);
                    other += share;
                }
                Class::Surfactant(Charge::Cationic) => {
                    phases.add(Sort::CationicMicelles, share);
                    other += share;
                }
                Class::Surfactant(Charge::NonIonic) => {
                    phases.add(Sort::NonIonicMicelles, share);
                    phases.non_ionic_micelles += share;
                    other += share;
                }
                Class::Emulsifier => {
                    if is_ethoxylated(&c.inci) {
                        phases.add(Sort::NonIonicMicelles, share);
                        phases.non_ionic_micelles += share;
                    }
                    other += share;
                }
                _ => {}
            }
        }
        phases.water = (1.0 - other).min(1.0);
        if mix.water < FILM {
            phases.water = 0.0;
        }
        phases
    }

    /// Whether there is oil, or are micelles, and water: where a substance may go.
    pub fn part_anything(&self) -> bool {
        self.volumes.iter().sum::<f64>() >= LEAST && self.water > 0.0
    }

    fn add(&mut self, sort: Sort, volume: f64) {
        let place = SORTS.iter().position(|&s| s == sort);
        if let Some(sum) = place.and_then(|p| self.volumes.get_mut(p)) {
            *sum += volume;
        }
    }
}

fn is_ethoxylated(inci: &Inci) -> bool {
    ["peg-", "polysorbate", "eth-"]
        .iter()
        .any(|word| inci.has(word))
}

/// Where a substance is in a mix, of which the oil and micelles take up a part.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Whereabouts {
    /// Share of all of it that is in the oil, 0 to 1.
    pub share: f64,
    /// Share of all of it that is in micelles, 0 to 1.
    pub in_micelles: f64,
    /// Share of all of it that is free in the water, 0 to 1.
    pub free: f64,
    /// The least of it that may be free, by the spread of the coefficients.
    pub free_low: f64,
    /// The most of it that may be free.
    pub free_high: f64,
    /// What is left in the water phase in the form that works, % of the water phase.
    pub in_water_percent: f64,
}

impl Whereabouts {
    /// Where it is, in words.
    pub fn words(&self) -> String {
        format!(
            "about {:.0} % of it in the oil, {:.0} % in micelles; {:.0} to {:.0} % is free in the water phase",
            100.0 * self.share,
            100.0 * self.in_micelles,
            100.0 * self.free_low,
            100.0 * self.free_high
        )
    }
}

/// What a rule makes of the octanol-water coefficient of a substance for one sort of phase.
pub(super) struct ByRule {
    /// The sort, in words.
    pub(super) into: &'static str,
    pub(super) ratio: f64,
    /// The factor it may be off.
    pub(super) factor: f64,
    pub(super) source: &'static str,
}

/// Coefficients of one substance, by volume, each with the factor it may be off.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Partition {
    ratios: [(f64, f64); SORTS.len()],
}

/// The coefficients of a substance: published, else by its octanol-water coefficient; `None` if
/// neither is known.
pub fn of(name: &str, log_p: Option<f64>) -> Option<Partition> {
    let table = table()?;
    let mut ratios = [(0.0, 1.0); SORTS.len()];
    let mut known = false;
    for (place, sort) in ratios.iter_mut().zip(SORTS) {
        let single = table.single(name, sort);
        let rule = table.from_octanol.iter().find(|r| r.into == sort);
        if let Some(single) = single {
            let factor = match basis_of(&single.source) {
                Basis::Published => PUBLISHED_FACTOR,
                _ => MEMORY_FACTOR,
            };
            *place = (single.ratio, factor);
            known = true;
        } else if let (Some(rule), Some(log_p)) = (rule, log_p) {
            *place = (rule.ratio(log_p), rule.factor);
            known = true;
        }
    }
    known.then_some(Partition { ratios })
}

/// Coefficients of a substance by name: the sort of phase in words, the ratio and its source.
pub(super) fn singles(name: &str) -> impl Iterator<Item = (&'static str, f64, &'static str)> {
    let all = table().map_or(&[][..], |t| &t.single[..]);
    all.iter()
        .filter(move |p| p.name.is(name))
        .map(|p| (p.into.label(), p.ratio, &*p.source))
}

/// What the rules say of a substance where no coefficient of its own is known.
pub(super) fn by_rule(name: &str, log_p: f64) -> impl Iterator<Item = ByRule> {
    table().into_iter().flat_map(move |t| {
        let rules = t.from_octanol.iter();
        let rules = rules.filter(move |r| t.single(name, r.into).is_none());
        rules.map(move |rule| ByRule {
            into: rule.into.label(),
            ratio: rule.ratio(log_p),
            factor: rule.factor,
            source: &rule.source,
        })
    })
}

impl Partition {
    /// Where the substance goes of which the formula holds some per cent and the share `alpha`
    /// is in the form that partitions; `None` without water, oil and micelles.
    pub fn spread(&self, phases: &Phases, percent: f64, alpha: f64) -> Option<Whereabouts> {
        if !phases.part_anything() {
            return None;
        }
        // What each phase holds for one part that is free in the water.
        let held = |power: i32| {
            let mut parts = [0.0; SORTS.len()];
            for ((part, (ratio, factor)), volume) in
                parts.iter_mut().zip(self.ratios).zip(phases.volumes)
            {
                *part = alpha * ratio * factor.powi(power) * volume / phases.water;
            }
            parts
        };
        let parts = held(0);
        let free_of = |parts: [f64; SORTS.len()]| 1.0 / (1.0 + parts.iter().sum::<f64>());
        let free = free_of(parts);
        let sum_of = |micelles: bool| {
            let sorts = parts.iter().zip(SORTS);
            let wanted = sorts.filter(|(_, s)| s.is_micelles() == micelles);
            free * wanted.map(|(p, _)| p).sum::<f64>()
        };
        Some(Whereabouts {
            share: sum_of(false),
            in_micelles: sum_of(true),
            free,
            free_low: free_of(held(1)),
            free_high: free_of(held(-1)),
            in_water_percent: percent * free * alpha / phases.water,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn phases(sort: Sort, volume: f64, water: f64) -> Phases {
        let mut phases = Phases {
            water,
            ..Phases::default()
        };
        phases.add(sort, volume);
        phases
    }

    #[test]
    fn the_table_reads() {
        let table = crate::chemistry::partition_table::read(include_str!(
            "../../../../assets/chemistry/partition.ron"
        ))
        .unwrap();
        assert_eq!(table.from_octanol.len(), SORTS.len());
    }

    /// J. Soc. Cosmet. Chem. 23 (1972) 716, Table VIII: 0.2 % of methylparaben with 20 % of
    /// liquid paraffin by volume leaves 0.24 % in the water; in soya oil (K 7.5) with 20 % of oil
    /// by the same equation C (φ + 1) / (K φ + 1) = 0.087 %.
    #[test]
    fn methylparaben_in_paraffin_and_soya_oil() {
        let paraben = of("Methylparaben", Some(1.96)).unwrap();
        let found = |sort| {
            let at = paraben.spread(&phases(sort, 0.2, 0.8), 0.2, 1.0).unwrap();
            at.in_water_percent
        };
        assert!(
            (found(Sort::Paraffin) - 0.249).abs() < 0.01,
            "{}",
            found(Sort::Paraffin)
        );
        assert!((found(Sort::Triglyceride) - 0.2 * 1.25 / (7.5 * 0.25 + 1.0)).abs() < 1e-9);
    }

    /// N. K. Patel and H. B. Kostenbauder, J. Am. Pharm. Assoc. 47 (1958) 289 (from memory): in
    /// 5 % polysorbate 80, 22 % of methylparaben and 4.5 % of propylparaben are free.
    #[test]
    fn parabens_in_polysorbate() {
        for (name, log_p, published) in [
            ("Methylparaben", 1.96, 0.22),
            ("Propylparaben", 3.04, 0.045),
        ] {
            let found = of(name, Some(log_p))
                .unwrap()
                .spread(&phases(Sort::NonIonicMicelles, 0.05, 0.95), 0.2, 1.0)
                .unwrap();
            assert!(
                found.free_low < published && published < found.free_high,
                "{name}: {found:?}"
            );
        }
    }

    /// Hand reckoning: 13 parts of oil to 87 of water at P = 7.5, a third undissociated.
    #[test]
    fn only_what_is_undissociated_partitions() {
        let paraben = of("Methylparaben", Some(1.96)).unwrap();
        let at = paraben
            .spread(&phases(Sort::Triglyceride, 0.13, 0.87), 1.0, 1.0 / 3.0)
            .unwrap();
        let held = 7.5 / 3.0 * 0.13 / 0.87;
        assert!((at.free - 1.0 / (1.0 + held)).abs() < 1e-12);
        assert!((at.share + at.free + at.in_micelles - 1.0).abs() < 1e-12);
        assert!(at.free_low < at.free && at.free < at.free_high);
    }

    #[test]
    fn nothing_is_known_without_a_coefficient() {
        assert_eq!(of("Nobody Knows", None), None);
        let phenoxyethanol = of("Phenoxyethanol", Some(1.16)).unwrap();
        assert_eq!(phenoxyethanol.spread(&Phases::default(), 1.0, 1.0), None);
    }
}
