//! From raw materials to constituents: what the mix contains.

use std::sync::Arc;

use crate::cas::Cas;
use crate::formula::{Formula, ItemId, Variant};
use crate::material::{Charge, Class, Material};
use crate::name_hash::{ByHash, folded_hash};
use crate::quantity::{MassFraction, Percent, Spread};

/// One substance of the mix, added up over all materials that bring it in.
#[derive(Clone, PartialEq, Debug)]
pub struct Amount {
    /// INCI name.
    pub inci: Arc<str>,
    /// CAS number.
    pub cas: Option<Cas>,
    /// What it is counted as.
    pub class: Class,
    /// Share of the whole formula.
    pub share: Spread,
    /// Which line brings in how much (typical), in working order.
    pub from: Vec<(ItemId, MassFraction)>,
    /// Every line brings it in as an incidental substance.
    pub incidental: bool,
}

/// What one line brings in.
#[derive(Clone, PartialEq, Debug)]
pub struct LineShare {
    /// The line.
    pub line: ItemId,
    /// The phase that holds it.
    pub phase: ItemId,
    /// Its percentage.
    pub percent: Percent,
    /// Typical share of the whole formula per class, in the order of [`Class::ALL`].
    pub classes: [MassFraction; Class::ALL.len()],
    /// Share of the whole formula whose composition is not known.
    pub unknown: MassFraction,
    /// Whether the line is water as such, not water that comes in with a material.
    pub is_water: bool,
}

/// What the mix contains, as shares of the whole formula.
#[derive(Clone, PartialEq, Debug)]
pub struct Composition {
    /// Sum of all lines.
    pub total: Percent,
    /// Line by line, in working order.
    pub lines: Vec<LineShare>,
    /// Merged substances, largest first, then by name.
    pub constituents: Vec<Amount>,
    /// Per class, in the order of [`Class::ALL`].
    pub classes: [Spread; Class::ALL.len()],
    /// Water added as such.
    pub water_added: MassFraction,
    /// Water that materials bring in.
    pub water_from_materials: Spread,
    /// Share whose composition is not known.
    pub unknown: MassFraction,
}

impl Composition {
    /// All water.
    pub fn water(&self) -> Spread {
        self.class(Class::Water)
    }
    /// The amount of a class.
    pub fn class(&self, class: Class) -> Spread {
        self.classes[class.index()]
    }
    /// Active matter of a charge class.
    pub fn active(&self, charge: Charge) -> Spread {
        self.class(Class::Surfactant(charge))
    }
    /// Total surfactant active matter.
    pub fn active_total(&self) -> Spread {
        Charge::ALL.iter().map(|&c| self.active(c)).sum()
    }
    /// Water and volatile solvents.
    pub fn volatile(&self) -> Spread {
        self.class(Class::Water) + self.class(Class::Solvent)
    }
}

/// A material whose water makes up at least this much is water as such.
const WATER_AS_SUCH: f64 = 0.99;

/// Expands every raw material of a variant into its constituents.
///
/// A line whose material the formula does not carry counts as unknown.
pub fn compose(formula: &Formula, variant: &Variant) -> Composition {
    let mut composition = Composition {
        total: Percent::ZERO,
        lines: Vec::with_capacity(64),
        constituents: Vec::with_capacity(128),
        classes: [Spread::default(); Class::ALL.len()],
        water_added: MassFraction::ZERO,
        water_from_materials: Spread::default(),
        unknown: MassFraction::ZERO,
    };
    let mut places = ByHash::default();
    places.reserve(128);
    for (phase, line) in variant.lines() {
        let whole = line.percent.fraction();
        let mut share = LineShare {
            line: line.id,
            phase: phase.id,
            percent: line.percent,
            classes: [MassFraction::ZERO; Class::ALL.len()],
            unknown: MassFraction::ZERO,
            is_water: false,
        };
        composition.total += line.percent;
        if let Some(material) = formula.material(&line.material) {
            share.is_water = is_water(material);
            for constituent in &material.constituents {
                let amount = constituent.share.of(whole);
                let index = constituent.class.index();
                share.classes[index] += amount.typical;
                composition.classes[index] += amount;
                if constituent.class == Class::Water {
                    if share.is_water {
                        composition.water_added += amount.typical;
                    } else {
                        composition.water_from_materials += amount;
                    }
                }
                let place = place_of(
                    &mut places,
                    &mut composition.constituents,
                    &constituent.inci,
                    constituent.class,
                );
                let merged = &mut composition.constituents[place];
                merged.share += amount;
                merged.cas = merged.cas.or(constituent.cas);
                merged.incidental &= constituent.incidental.is_some();
                match merged.from.last_mut() {
                    Some((id, sum)) if *id == line.id => *sum += amount.typical,
                    _ => merged.from.push((line.id, amount.typical)),
                }
            }
            share.unknown = material.unknown_share().of(whole);
        } else {
            share.unknown = whole;
        }
        composition.unknown += share.unknown;
        composition.lines.push(share);
    }
    composition.constituents.sort_by(|a, b| {
        b.share
            .typical
            .value()
            .total_cmp(&a.share.typical.value())
            .then_with(|| a.inci.cmp(&b.inci))
    });
    composition
}

/// Whether a material is water as such.
pub fn is_water(material: &Material) -> bool {
    material.share_of(Class::Water).value() >= WATER_AS_SUCH
}

/// Finds or makes the merged entry of an INCI name, compared without regard to case.
fn place_of(
    places: &mut ByHash<usize>,
    constituents: &mut Vec<Amount>,
    inci: &Arc<str>,
    class: Class,
) -> usize {
    let mut key = folded_hash(inci.bytes());
    loop {
        match places.get(&key) {
            Some(&place) if constituents[place].inci.eq_ignore_ascii_case(inci) => return place,
            // Two names with one hash: try the next slot.
            Some(_) => key = key.wrapping_add(1),
            None => {
                places.insert(key, constituents.len());
                constituents.push(Amount {
                    inci: inci.clone(),
                    cas: None,
                    class,
                    share: Spread::default(),
                    from: Vec::with_capacity(2),
                    incidental: true,
                });
                return constituents.len() - 1;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture::{self, line, material};

    #[test]
    fn a_solution_is_active_salt_and_water() {
        // Active matter of a mixture is the sum of raw material % x active % / 100; the case
        // SLES 70 % at 12, betaine 30 % at 10, decyl glucoside 51.3 % at 5 gives
        // 8.40 + 3.00 + 2.565 = 13.965 % (arithmetic of the rule as published on maker pages).
        let sles = material(
            "sles",
            &[
                (
                    "Sodium Laureth Sulfate",
                    70.0,
                    Class::Surfactant(Charge::Anionic),
                ),
                ("Aqua", 30.0, Class::Water),
            ],
        );
        let betaine = material(
            "capb",
            &[
                (
                    "Cocamidopropyl Betaine",
                    30.0,
                    Class::Surfactant(Charge::Amphoteric),
                ),
                ("Sodium Chloride", 5.0, Class::Electrolyte),
                ("Aqua", 65.0, Class::Water),
            ],
        );
        let glucoside = material(
            "dg",
            &[
                ("Decyl Glucoside", 51.3, Class::Surfactant(Charge::NonIonic)),
                ("Aqua", 48.7, Class::Water),
            ],
        );
        let water = material("water", &[("Aqua", 100.0, Class::Water)]);
        let f = fixture::formula(vec![
            line(&water, "73"),
            line(&sles, "12"),
            line(&betaine, "10"),
            line(&glucoside, "5"),
        ]);
        let c = compose(&f, f.active());
        let close = |a: MassFraction, percent: f64| (a.as_percent() - percent).abs() < 1e-9;
        assert_eq!(c.total, Percent::HUNDRED);
        assert!(close(c.active_total().typical, 13.965));
        assert!(close(c.active(Charge::Anionic).typical, 8.4));
        assert!(close(c.active(Charge::Amphoteric).typical, 3.0));
        assert!(close(c.class(Class::Electrolyte).typical, 0.5));
        assert!(close(c.water_added, 73.0));
        assert!(close(c.water_from_materials.typical, 3.6 + 6.5 + 2.435));
        assert!(close(c.water().typical, 73.0 + 3.6 + 6.5 + 2.435));
        assert_eq!(c.unknown, MassFraction::ZERO);
        assert_eq!(c.constituents[0].from.len(), 4);
    }

    #[test]
    fn what_is_not_known_is_counted_as_unknown() {
        let half = material("half", &[("Aqua", 40.0, Class::Water)]);
        let f = fixture::formula(vec![line(&half, "50")]);
        let c = compose(&f, f.active());
        assert!((c.unknown.as_percent() - 30.0).abs() < 1e-9);
        assert_eq!(c.water_added, MassFraction::ZERO);
    }

    #[test]
    fn names_merge_without_regard_to_case() {
        let a = material("a", &[("GLYCERIN", 100.0, Class::Humectant)]);
        let b = material(
            "b",
            &[
                ("Glycerin", 50.0, Class::Humectant),
                ("Aqua", 50.0, Class::Water),
            ],
        );
        let f = fixture::formula(vec![line(&a, "10"), line(&b, "20")]);
        let c = compose(&f, f.active());
        assert_eq!(c.constituents.len(), 2);
        assert!((c.constituents[0].share.typical.as_percent() - 20.0).abs() < 1e-9);
    }
}
