//! From raw materials to constituents: what the mix contains.

use crate::cas::Cas;
use crate::formula::{Formula, ItemId, Variant};
use crate::inci::{Inci, equal_as_spelt};
use crate::material::{Charge, Class, Material};
use crate::mixture::{Contribution, IngredientStatus, Mixture, View};
use crate::name_hash::ByHash;
use crate::quantity::{MassFraction, Percent, Spread};

/// One substance of the mix, added up over all materials that bring it in.
#[derive(Clone, Debug)]
pub struct SubstanceTotal {
    /// INCI name.
    pub inci: Inci,
    /// CAS number.
    pub cas: Option<Cas>,
    /// What most of it is counted as.
    pub class: Class,
    /// Typical share of the whole formula by class, in order of appearance: materials may
    /// count the same substance as different things.
    pub by_class: Vec<(Class, MassFraction)>,
    /// How it stands; of several ways the one that makes it an ingredient.
    pub standing: IngredientStatus,
    /// Share of the whole formula, each substance once: by component.
    pub share: Spread,
    /// Share of the whole formula as declared, a perfume or natural oil whole.
    pub declared: Spread,
    /// The part of [`Self::declared`] that is an ingredient, as on the label.
    pub listed: Spread,
    /// Which line brings in how much (typical), in working order.
    pub from: Vec<(ItemId, MassFraction)>,
    /// Every line brings it in as an incidental substance.
    pub incidental: bool,
}

equal_as_spelt!(SubstanceTotal: names inci; rest cas, class, by_class, standing, share, declared, listed, from, incidental);

impl SubstanceTotal {
    /// Share in a view.
    pub const fn in_view(&self, view: View) -> Spread {
        match view {
            View::AsDeclared => self.declared,
            View::ByComponent => self.share,
        }
    }

    fn add(&mut self, c: &Contribution) {
        let amount = c.by_component;
        self.share += amount;
        self.declared += c.as_declared;
        if c.is_listed() {
            self.listed += c.as_declared;
        }
        self.cas = self.cas.or(c.cas);
        self.standing = self.standing.min(c.standing);
        self.incidental &= c.incidental.is_some();
        match self
            .by_class
            .iter_mut()
            .find(|(class, _)| *class == c.class)
        {
            Some((_, sum)) => *sum += amount.typical,
            None => self.by_class.push((c.class, amount.typical)),
        }
        // The class of the greatest part; of equal parts the first.
        let most = self.by_class.iter().copied().reduce(
            |most, next| {
                if next.1 > most.1 { next } else { most }
            },
        );
        self.class = most.map_or(c.class, |(class, _)| class);
        match self.from.last_mut() {
            Some((id, sum)) if *id == c.line => *sum += amount.typical,
            _ => self.from.push((c.line, amount.typical)),
        }
    }
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
    pub constituents: Vec<SubstanceTotal>,
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
    /// Adds up a mixture.
    pub fn of(mixture: &Mixture) -> Self {
        let mut composition = Self {
            total: Percent::ZERO,
            lines: Vec::with_capacity(mixture.lines.len()),
            constituents: Vec::with_capacity(mixture.contributions.len()),
            classes: [Spread::default(); Class::ALL.len()],
            water_added: MassFraction::ZERO,
            water_from_materials: Spread::default(),
            unknown: MassFraction::ZERO,
        };
        for line in &mixture.lines {
            composition.total += line.percent;
            composition.unknown += line.unknown;
            composition.lines.push(LineShare {
                line: line.line,
                phase: line.phase,
                percent: line.percent,
                classes: [MassFraction::ZERO; Class::ALL.len()],
                unknown: line.unknown,
                is_water: line.material.as_deref().is_some_and(is_water),
            });
        }
        let mut places = ByHash::default();
        places.reserve(128);
        for c in &mixture.contributions {
            let amount = c.by_component;
            let index = c.class.index();
            composition.classes[index] += amount;
            let Some(line) = composition.lines.get_mut(c.place) else {
                continue;
            };
            line.classes[index] += amount.typical;
            if c.class == Class::Water {
                if line.is_water {
                    composition.water_added += amount.typical;
                } else {
                    composition.water_from_materials += amount;
                }
            }
            let place = place_of(&mut places, &mut composition.constituents, c);
            if let Some(merged) = composition.constituents.get_mut(place) {
                merged.add(c);
            }
        }
        // No two are alike, so that the order is the same every time.
        composition.constituents.sort_unstable_by(|a, b| {
            b.share
                .typical
                .value()
                .total_cmp(&a.share.typical.value())
                .then_with(|| a.inci.order(&b.inci))
        });
        composition
    }
    /// A substance by its INCI name; case does not matter.
    pub fn constituent(&self, inci: &str) -> Option<&SubstanceTotal> {
        self.constituents.iter().find(|a| a.inci.is(inci))
    }
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

/// Adds up what a variant contains; see [`Composition::of`].
pub fn compose(formula: &Formula, variant: &Variant) -> Composition {
    Composition::of(&Mixture::of(formula, variant))
}

/// Whether a material is water as such.
pub fn is_water(material: &Material) -> bool {
    material.share_of(Class::Water).value() >= WATER_AS_SUCH
}

/// Finds or makes the merged entry of a substance.
fn place_of(
    places: &mut ByHash<usize>,
    constituents: &mut Vec<SubstanceTotal>,
    c: &Contribution,
) -> usize {
    let mut key = c.inci.hash();
    loop {
        match places.get(&key) {
            Some(&place)
                if constituents
                    .get(place)
                    .is_some_and(|a| a.inci.same_as(&c.inci)) =>
            {
                return place;
            }
            // Two names with one hash: try the next slot.
            Some(_) => key = key.wrapping_add(1),
            None => {
                places.insert(key, constituents.len());
                constituents.push(SubstanceTotal {
                    inci: c.inci.clone(),
                    cas: None,
                    class: c.class,
                    by_class: Vec::with_capacity(1),
                    standing: c.standing,
                    share: Spread::default(),
                    declared: Spread::default(),
                    listed: Spread::default(),
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
    use std::sync::Arc;

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
    fn a_substance_counted_as_two_things_is_in_both_classes() {
        // The class of the first line must not take over what another line brings in.
        let salt = material("salt", &[("Sodium Lactate", 100.0, Class::AcidBase)]);
        let syrup = material("syrup", &[("Sodium Lactate", 60.0, Class::Humectant)]);
        let f = fixture::formula(vec![line(&salt, "1"), line(&syrup, "10")]);
        let c = compose(&f, f.active());
        let amount = c.constituent("sodium lactate").unwrap();
        assert_eq!(amount.class, Class::Humectant);
        assert_eq!(amount.by_class.len(), 2);
        for (class, share) in &amount.by_class {
            assert!((c.class(*class).typical.value() - share.value()).abs() < 1e-12);
        }
    }

    /// Two names whose hash is the same stay apart: the second takes the next slot, and is found
    /// there again.
    #[test]
    fn two_names_of_one_hash_stay_apart() {
        let a = material("a", &[("Aqua", 50.0, Class::Water)]);
        let b = material("b", &[("Glycerin", 50.0, Class::Humectant)]);
        let f = fixture::formula(vec![line(&a, "10"), line(&b, "10")]);
        let mixture = Mixture::of(&f, f.active());
        let [water, glycerin] = &mixture.contributions[..] else {
            panic!("{mixture:?}");
        };
        let (mut places, mut constituents) = (ByHash::default(), Vec::new());
        assert_eq!(place_of(&mut places, &mut constituents, water), 0);
        let key = Inci::from("glycerin").hash();
        places.insert(key, 0);
        for _ in 0..2 {
            assert_eq!(place_of(&mut places, &mut constituents, glycerin), 1);
            assert_eq!(constituents.len(), 2);
            assert_eq!(constituents[1].inci.spelling(), "Glycerin");
            assert_eq!(places.get(&key.wrapping_add(1)), Some(&1));
        }
        assert_eq!(place_of(&mut places, &mut constituents, water), 0);
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

    #[test]
    fn a_line_that_brings_a_substance_twice_counts_once_with_both_parts() {
        let twice = material(
            "twice",
            &[
                ("Glycerin", 40.0, Class::Humectant),
                ("Aqua", 30.0, Class::Water),
                ("GLYCERIN", 10.0, Class::Humectant),
            ],
        );
        let once = material("once", &[("Glycerin", 100.0, Class::Humectant)]);
        let f = fixture::formula(vec![line(&twice, "10"), line(&once, "1")]);
        let c = compose(&f, f.active());
        let amount = c.constituent("Glycerin").unwrap();
        // 10 % of 50 %, and 1 %.
        let from: Vec<f64> = amount.from.iter().map(|(_, m)| m.as_percent()).collect();
        assert_eq!(from.len(), 2);
        assert!((from[0] - 5.0).abs() < 1e-9 && (from[1] - 1.0).abs() < 1e-9);
        assert!((amount.share.typical.as_percent() - 6.0).abs() < 1e-9);
    }

    #[test]
    fn of_two_classes_of_equal_parts_the_first_is_kept() {
        let one = material("one", &[("Sodium Lactate", 50.0, Class::Humectant)]);
        let other = material("other", &[("Sodium Lactate", 50.0, Class::AcidBase)]);
        let f = fixture::formula(vec![line(&one, "4"), line(&other, "4")]);
        let c = compose(&f, f.active());
        let amount = c.constituent("Sodium Lactate").unwrap();
        assert_eq!(amount.class, Class::Humectant);
    }

    #[test]
    fn a_substance_is_incidental_only_where_every_line_brings_it_in_so() {
        let own = material("own", &[("Tocopherol", 100.0, Class::Antioxidant)]);
        let mut with = material("with", &[("Tocopherol", 1.0, Class::Antioxidant)])
            .as_ref()
            .clone();
        with.constituents[0].incidental = Some("keeps the oil".into());
        let with = Arc::new(with);
        let incidental = |lines: &[&Arc<Material>]| {
            let lines = lines.iter().map(|m| line(m, "10")).collect();
            let f = fixture::formula(lines);
            let c = compose(&f, f.active());
            c.constituent("Tocopherol").unwrap().incidental
        };
        assert!(incidental(&[&with, &with]));
        assert!(!incidental(&[&own, &with]));
        assert!(!incidental(&[&with, &own]));
        assert!(!incidental(&[&own]));
    }

    #[test]
    fn from_ninety_nine_percent_on_it_is_water_as_such() {
        let of = |percent: f64| is_water(&material("w", &[("Aqua", percent, Class::Water)]));
        assert!(of(100.0) && of(99.0));
        assert!(!of(98.9) && !of(0.0));
    }

    #[test]
    fn water_and_solvents_are_volatile_and_an_oil_has_two_views() {
        let tincture = material(
            "tincture",
            &[
                ("Alcohol", 60.0, Class::Solvent),
                ("Aqua", 30.0, Class::Water),
                ("Glycerin", 10.0, Class::Humectant),
            ],
        );
        let mut oil = material(
            "oil",
            &[
                ("Lavandula Angustifolia Oil", 60.0, Class::Fragrance),
                ("Linalool", 40.0, Class::Fragrance),
            ],
        )
        .as_ref()
        .clone();
        oil.constituents[1].incidental = Some("part of the oil".into());
        let f = fixture::formula(vec![line(&tincture, "90"), line(&Arc::new(oil), "10")]);
        let mixture = Mixture::of(&f, f.active());
        let c = Composition::of(&mixture);
        let percent = |share: Spread| (share.typical.as_percent() * 1e6).round() / 1e6;
        assert_eq!(percent(c.volatile()), 81.0);
        let whole = c.constituent("Lavandula Angustifolia Oil").unwrap();
        assert_eq!(percent(whole.in_view(View::AsDeclared)), 10.0);
        assert_eq!(percent(whole.in_view(View::ByComponent)), 6.0);
        let brought = mixture.contributions.iter();
        let [oil] = brought
            .filter(|c| c.standing == IngredientStatus::Whole)
            .collect::<Vec<_>>()[..]
        else {
            panic!("{mixture:?}");
        };
        assert_eq!(percent(oil.share(View::AsDeclared)), 10.0);
        assert_eq!(percent(oil.share(View::ByComponent)), 6.0);
    }
}
