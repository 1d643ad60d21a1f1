//! Small help that is pure arithmetic: stock solutions and dilutions with the
//! classification of what is in the vessel, neutralising carbomer, lye for soap, alcohol by
//! mass and volume, volatile organic compounds.

use std::sync::LazyLock;

use super::density::of_solution_kg_m3;
use super::soap::{self, Fat, alkali_per_gram};
use super::substances::{self, CARBOMER_G_PER_MOL, Substance};
use super::{Estimates, acidity, adjust, freezing};
use crate::composition::Composition;
use crate::inci::Inci;
use crate::material::Class;

/// Why something cannot be worked out.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum WorkOutError {
    /// A percentage is not above 0 and at most 100.
    #[error("{what} must be above 0 and at most 100 %, not {percent} %")]
    Percent {
        /// Which figure.
        what: &'static str,
        /// As given.
        percent: f64,
    },
    /// A mass is not above 0.
    #[error("the amount must be above 0 g, not {0} g")]
    Mass(f64),
    /// Water alone makes nothing stronger.
    #[error("{to} % is stronger than {from} %: take a stronger solution or the pure substance")]
    Stronger {
        /// The strength at hand.
        from: f64,
        /// The strength wanted.
        to: f64,
    },
    /// The substance is not known.
    #[error("no data on “{0}”; give the INCI name of an acid or base, for example “Lactic Acid”")]
    Unknown(String),
    /// It neutralises nothing.
    #[error("{0} is no base")]
    NoBase(String),
}

fn checked_percent(what: &'static str, percent: f64) -> Result<f64, WorkOutError> {
    if percent > 0.0 && percent <= 100.0 {
        Ok(percent)
    } else {
        Err(WorkOutError::Percent { what, percent })
    }
}

fn mass(grams: f64) -> Result<f64, WorkOutError> {
    if grams > 0.0 && grams.is_finite() {
        Ok(grams)
    } else {
        Err(WorkOutError::Mass(grams))
    }
}

/// A substance by name or CAS number.
pub fn substance(name: &str) -> Result<&'static Substance, WorkOutError> {
    let cas = name.trim().parse().ok();
    substances::find(name.trim(), cas).ok_or_else(|| WorkOutError::Unknown(name.trim().to_owned()))
}

/// How to make a solution: grams of what is at hand and of water.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Dilution {
    /// Grams of the solution or powder at hand.
    pub stock_g: f64,
    /// Grams of water.
    pub water_g: f64,
    /// Density of the result at 20 °C, kg/m³, if it is known.
    pub density_kg_m3: Option<f64>,
    /// Grams that dissolve in that water at 20 to 25 °C, where the share wanted is more.
    pub dissolves_only_g: Option<f64>,
}

/// `total` grams of a solution of `to` % by mass of a substance from one of `from` %; a
/// powder is 100 %. Exact by mass.
pub fn dilute(
    substance: Option<&'static Substance>,
    from: f64,
    to: f64,
    total_g: f64,
) -> Result<Dilution, WorkOutError> {
    let (from, to) = (
        checked_percent("the strength at hand", from)?,
        checked_percent("the strength wanted", to)?,
    );
    let total = mass(total_g)?;
    if to > from {
        return Err(WorkOutError::Stronger { from, to });
    }
    let stock_g = total * to / from;
    let pure = total * to / 100.0;
    let saturation = substance.and_then(|s| s.saturation);
    Ok(Dilution {
        stock_g,
        water_g: total - stock_g,
        density_kg_m3: substance.and_then(|s| of_solution_kg_m3(s, to / 100.0, 20.0)),
        dissolves_only_g: saturation
            .map(|s| (total - pure) * s.g_per_kg / 1000.0)
            .filter(|most| pure > *most),
    })
}

/// A classification from a share on.
#[derive(Clone, PartialEq, Debug)]
pub struct Classification {
    /// The substance.
    pub name: &'static str,
    /// Lowest share by mass, %.
    pub from_percent: f64,
    /// Class, hazard statement and its meaning.
    pub words: &'static str,
    /// Whether the limit was read in a public text; otherwise it is restated from memory.
    pub published: bool,
    /// Where the limit is from.
    pub source: &'static str,
}

const CLP: &str = include_str!("../../../../assets/chemistry/clp_limits.tsv");

static LIMITS: LazyLock<Vec<Classification>> = LazyLock::new(|| {
    let rows = CLP.lines().filter(|l| !l.starts_with('#')).skip(1);
    rows.filter_map(|row| {
        let mut cells = row.split('\t');
        let (name, _cas, from) = (cells.next()?, cells.next()?, cells.next()?);
        let (words, basis, source) = (cells.next()?, cells.next()?, cells.next()?);
        Some(Classification {
            name,
            from_percent: from.parse().ok()?,
            words,
            published: basis == "published",
            source,
        })
    })
    .collect()
});

/// What a solution of a substance in water is classified as at a share by mass; `None` if
/// no limit is listed or the share lies below the lowest.
pub fn classification(substance: &Substance, percent: f64) -> Option<&'static Classification> {
    LIMITS
        .iter()
        .filter(|l| Inci::from(l.name).is_one_of(substance.names))
        .filter(|l| percent >= l.from_percent)
        .max_by(|a, b| a.from_percent.total_cmp(&b.from_percent))
}

/// Whether any limit is listed of a substance.
pub fn is_classified(substance: &Substance) -> bool {
    classification(substance, 100.0).is_some()
}

/// Share of the carboxyl groups of carbomer that is neutralised for full thickening at pH
/// 6.5 to 7.5: the usual 0.4 g of sodium hydroxide per gram (common practice) is that of
/// 76 g per mole of groups.
const CARBOMER_NEUTRALISED: f64 = 0.76;

/// Grams of a solution of a base, `strength` % by mass, that neutralise `carbomer` grams
/// of carbomer: 0.40 g of sodium hydroxide, 1.5 g of triethanolamine per gram.
pub fn neutralise_carbomer(
    base: &Substance,
    strength: f64,
    carbomer_g: f64,
) -> Result<f64, WorkOutError> {
    let (strength, carbomer) = (
        checked_percent("the strength", strength)?,
        mass(carbomer_g)?,
    );
    // Base that a mole brings at the pH of the gel.
    let equivalents = acidity::charge_per_mole(base, 7.0, 0.0);
    if equivalents <= 0.3 {
        return Err(WorkOutError::NoBase(base.name().to_owned()));
    }
    let moles = CARBOMER_NEUTRALISED * carbomer / CARBOMER_G_PER_MOL;
    // Amines are counted whole, as practice does.
    Ok(moles / equivalents.ceil() * base.molar_mass / strength * 100.0)
}

/// Lye for fats: grams of pure hydroxide for a superfat in percent (of the fats, left as they
/// are) and a lye discount in percent (of the lye, left out besides).
pub fn lye(
    fats: &[(&'static Fat, f64)],
    potassium: bool,
    superfat: f64,
    discount: f64,
) -> Result<f64, WorkOutError> {
    for (what, percent) in [("the superfat", superfat), ("the lye discount", discount)] {
        if !(0.0..100.0).contains(&percent) {
            return Err(WorkOutError::Percent { what, percent });
        }
    }
    let mut sum = 0.0;
    for (fat, grams) in fats {
        sum += mass(*grams)? * alkali_per_gram(fat, potassium);
    }
    Ok(sum * (1.0 - superfat / 100.0) * (1.0 - discount / 100.0))
}

/// Between which figures the superfat lies, % of the fats, where so many grams of pure hydroxide
/// meet fats whose saponification values vary, each by itself; below 0 alkali stays free.
///
/// # Errors
///
/// A mass is not a number above 0.
pub fn superfat_range(
    fats: &[(&'static Fat, f64)],
    potassium: bool,
    pure_g: f64,
) -> Result<(f64, f64), WorkOutError> {
    let (mut need, mut below, mut above) = (0.0, 0.0, 0.0);
    for (fat, grams) in fats {
        let typical = mass(*grams)? * alkali_per_gram(fat, potassium);
        let (low, value, high) = fat.value;
        need += typical;
        below += (typical * (1.0 - low / value)).powi(2);
        above += (typical * (high / value - 1.0)).powi(2);
    }
    let pure = mass(pure_g)?;
    let superfat = |need: f64| 100.0 * (1.0 - pure / need);
    Ok((superfat(need - below.sqrt()), superfat(need + above.sqrt())))
}

/// Grams of a hydroxide of a purity, and of water, that together make a lye of a strength, both
/// in % by mass, from the grams of pure hydroxide wanted.
///
/// # Errors
///
/// The hydroxide as bought is no stronger than the lye asked for.
pub fn lye_water(pure_g: f64, purity: f64, strength: f64) -> Result<(f64, f64), WorkOutError> {
    let pure = mass(pure_g)?;
    let purity = checked_percent("the purity", purity)?;
    let strength = checked_percent("the strength", strength)?;
    if strength >= purity {
        return Err(WorkOutError::Percent {
            what: "the strength",
            percent: strength,
        });
    }
    let weighed = pure / purity * 100.0;
    Ok((weighed, pure / strength * 100.0 - weighed))
}

/// Density of pure ethanol at 20 °C, kg/m³ (OIML R 22, 1975).
const ETHANOL: f64 = 789.24;

fn ethanol() -> Option<&'static Substance> {
    substances::by_name("Alcohol")
}

/// % by volume at 20 °C of a mixture of ethanol and water of so many % by mass (OIML R 22).
pub fn alcohol_by_volume(by_mass: f64) -> Option<f64> {
    if !(0.0..=100.0).contains(&by_mass) {
        return None;
    }
    let density = of_solution_kg_m3(ethanol()?, by_mass / 100.0, 20.0)?;
    Some((by_mass * density / ETHANOL).min(100.0))
}

/// The inverse of [`alcohol_by_volume`].
pub fn alcohol_by_mass(by_volume: f64) -> Option<f64> {
    if !(0.0..=100.0).contains(&by_volume) {
        return None;
    }
    let (mut low, mut high) = (0.0, 100.0);
    for _ in 0..50 {
        let middle = f64::midpoint(low, high);
        if alcohol_by_volume(middle)? < by_volume {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(f64::midpoint(low, high))
}

/// What follows from the estimates of a formula by arithmetic.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Derived {
    /// Freezing point, °C, from the water activity shown and what it is of.
    pub freezing_c: Option<f64>,
    /// Ethanol, % by mass.
    pub alcohol_mass_percent: f64,
    /// Ethanol, % by volume at 20 °C, from the density shown.
    pub alcohol_volume_percent: Option<f64>,
    /// Constituents of [`Class::Solvent`] at their typical share, % by mass of the formula;
    /// neither boiling point nor vapour pressure is looked at.
    pub volatile_solvents_percent: f64,
    /// Perfume and essential oils, % by mass, volatile for the most part.
    pub fragrance_percent: f64,
    /// Change in pH units (negative: down) when 1 g/kg of citric acid goes in: from the
    /// measured pH where the estimate can be brought to it, else from the middle of the
    /// estimate; none without an estimate.
    pub citric_moves_ph: Option<f64>,
    /// The same for 1 g/kg of a 20 % solution of sodium hydroxide.
    pub lye_moves_ph: Option<f64>,
    /// pH once in equilibrium with the carbon dioxide of the air.
    pub ph_in_air: Option<f64>,
    /// Soap that forms.
    pub soap: Option<DerivedSoap>,
}

/// What follows from the soap that forms.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct DerivedSoap {
    /// Alkali as a share of what fats and fatty acids take up, %.
    pub alkali_of_need_percent: Option<f64>,
    /// Fat that finds no alkali, % of the fat.
    pub superfat_percent: f64,
    /// Glycerin that forms, % of the formula.
    pub glycerin_percent: f64,
}

/// One figure that follows from the estimates, as every list of figures shows it.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct DerivedFigure {
    /// Stable name, for JSON and settings.
    pub key: &'static str,
    /// The words shown for it.
    pub label: &'static str,
    /// Its unit, empty for a plain number.
    pub unit: &'static str,
    /// Digits shown after the point.
    pub digits: usize,
    /// The value; none if it is not known.
    pub value: Option<f64>,
    /// How it follows, where that holds, and what it rests on.
    pub ground: Derivation,
}

/// What a figure that follows from others rests on, in words.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Derivation {
    /// How it follows.
    pub method: &'static str,
    /// Where it holds, and how well.
    pub validity: &'static str,
    /// What it rests on.
    pub source: &'static str,
}

impl Derivation {
    const IN_AIR: Self = Self {
        method: "the estimated solution in equilibrium with the carbon dioxide of the air, 420 ppm",
        validity: "where the estimate of the pH holds; a jar that is opened now and then lies between this and the estimate",
        source: acidity::SOURCE,
    };
    const BUFFER: Self = Self {
        method: "buffer capacity of the estimated solution",
        validity: "where the estimate of the pH holds; before a dose rests on it, titrate a sample",
        source: acidity::SOURCE,
    };
    const FREEZING: Self = Self {
        method: freezing::METHOD,
        validity: freezing::VALIDITY,
        source: freezing::SOURCE,
    };
    const ALCOHOL: Self = Self {
        method: "ethanol of all materials",
        validity: "typical shares of the materials; what ethanol was denatured with is not counted",
        source: ARITHMETIC,
    };
    const BY_VOLUME: Self = Self {
        method: "from the density shown and that of ethanol",
        validity: "at 20 °C, as far as the density shown holds",
        source: "density of ethanol: OIML R 22, 1975",
    };
    const VOLATILE: Self = Self {
        method: "volatile solvents, and perfume and essential oils counted whole",
        validity: "an upper end: neither boiling point nor vapour pressure is looked at",
        source: ARITHMETIC,
    };
    const SOAP: Self = Self {
        method: soap::METHOD,
        validity: soap::VALIDITY,
        source: soap::SOURCE,
    };
}

const ARITHMETIC: &str = "arithmetic on the composition of the materials";

impl Derived {
    /// All of them as one list, always in the same order: what a figure is called, its unit and its
    /// digits are stated here alone.
    pub fn figures(&self) -> Vec<DerivedFigure> {
        let figure = |key, label, unit, digits, value, ground| DerivedFigure {
            key,
            label,
            unit,
            digits,
            value,
            ground,
        };
        let volatile = self.volatile_solvents_percent + self.fragrance_percent;
        let soap = self.soap.as_ref();
        vec![
            figure(
                "ph_in_air",
                "pH open to the air",
                "",
                1,
                self.ph_in_air,
                Derivation::IN_AIR,
            ),
            figure(
                "citric_moves_ph",
                "0.1 % citric acid moves the pH by",
                "",
                2,
                self.citric_moves_ph,
                Derivation::BUFFER,
            ),
            figure(
                "lye_moves_ph",
                "0.1 % lye of 20 % moves the pH by",
                "",
                2,
                self.lye_moves_ph,
                Derivation::BUFFER,
            ),
            figure(
                "freezing_point",
                "freezing point",
                "°C",
                1,
                self.freezing_c,
                Derivation::FREEZING,
            ),
            figure(
                "alcohol_mass",
                "alcohol by mass",
                "%",
                2,
                Some(self.alcohol_mass_percent),
                Derivation::ALCOHOL,
            ),
            figure(
                "alcohol_volume",
                "alcohol by volume at 20 °C",
                "%",
                2,
                if self.alcohol_mass_percent > 0.0 {
                    self.alcohol_volume_percent
                } else {
                    Some(0.0)
                },
                Derivation::BY_VOLUME,
            ),
            figure(
                "volatile_organic",
                "volatile organic compounds at most",
                "%",
                2,
                Some(volatile),
                Derivation::VOLATILE,
            ),
            figure(
                "lye_of_need",
                "lye, of what the fats take",
                "%",
                1,
                soap.and_then(|s| s.alkali_of_need_percent),
                Derivation::SOAP,
            ),
            figure(
                "superfat",
                "fat that finds no lye",
                "%",
                1,
                soap.map(|s| s.superfat_percent),
                Derivation::SOAP,
            ),
            figure(
                "glycerin_formed",
                "glycerin that forms",
                "%",
                2,
                soap.map(|s| s.glycerin_percent),
                Derivation::SOAP,
            ),
        ]
    }
}

/// Works out what follows from the estimates.
pub fn derived(estimates: &Estimates, composition: &Composition) -> Derived {
    let is_ethanol = |name: &str, cas| {
        substances::find(name, cas).is_some_and(|s| ethanol().is_some_and(|e| std::ptr::eq(s, e)))
    };
    let share = |class| composition.class(class).typical.as_percent();
    let alcohol: f64 = composition
        .constituents
        .iter()
        .filter(|c| is_ethanol(c.inci.spelling(), c.cas))
        .fold(0.0, |sum, c| sum + c.share.typical.as_percent());
    let density = estimates.density.shown();
    let moves = |name, strength, grams| {
        adjust::Titrant::of(name, strength).and_then(|t| adjust::moves_ph(&estimates.ph, t, grams))
    };
    Derived {
        freezing_c: estimates
            .water_activity
            .shown()
            .filter(|_| estimates.ph.water >= 0.2)
            .and_then(|a_w| freezing::of_mix(a_w, composition)),
        alcohol_mass_percent: alcohol,
        alcohol_volume_percent: density
            .filter(|_| alcohol > 0.0)
            .map(|d| (alcohol * d / ETHANOL).min(100.0)),
        volatile_solvents_percent: share(Class::Solvent),
        fragrance_percent: share(Class::Fragrance),
        citric_moves_ph: moves("Citric Acid", 100.0, 1.0),
        lye_moves_ph: moves("Sodium Hydroxide", 20.0, 1.0),
        ph_in_air: estimates.ph.in_air(),
        soap: estimates.soap.as_ref().map(|soap| DerivedSoap {
            alkali_of_need_percent: soap.degree_percent.shown(),
            superfat_percent: soap.superfat_percent,
            glycerin_percent: soap.glycerin_percent,
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dilution_by_mass() {
        let lactic = substance("lactic acid").unwrap();
        let found = dilute(Some(lactic), 80.0, 20.0, 500.0).unwrap();
        assert!((found.stock_g - 125.0).abs() < 1e-9 && (found.water_g - 375.0).abs() < 1e-9);
        assert_eq!(
            dilute(None, 10.0, 20.0, 1.0),
            Err(WorkOutError::Stronger {
                from: 10.0,
                to: 20.0
            })
        );
        assert!(dilute(None, 10.0, 0.0, 1.0).is_err() && dilute(None, 10.0, 5.0, 0.0).is_err());
        // Caffeine: 21 g in a kilogram of water.
        let caffeine = dilute(Some(substance("Caffeine").unwrap()), 100.0, 5.0, 100.0).unwrap();
        assert!((caffeine.dissolves_only_g.unwrap() - 1.995).abs() < 1e-9);
    }

    /// Regulation (EC) 1272/2008, Annex VI, index 011-002-00-6: sodium hydroxide.
    #[test]
    fn limits_of_sodium_hydroxide() {
        let lye = substance("1310-73-2").unwrap();
        let words = |percent| classification(lye, percent).map(|c| &c.words[..14]);
        assert_eq!(words(5.0), Some("Skin Corr. 1A,"));
        assert_eq!(words(4.99), Some("Skin Corr. 1B,"));
        assert_eq!(words(1.0), Some("Skin Irrit. 2,"));
        assert_eq!(words(0.49), None);
        for limit in LIMITS.iter() {
            assert!(substances::by_name(limit.name).is_some(), "{}", limit.name);
        }
    }

    /// Common practice: 0.4 g of sodium hydroxide, 1.5 g of triethanolamine per gram.
    #[test]
    fn carbomer_takes_what_practice_gives() {
        let of = |name| neutralise_carbomer(substance(name).unwrap(), 100.0, 1.0).unwrap();
        assert!((of("Sodium Hydroxide") - 0.40).abs() < 0.005);
        assert!((of("Triethanolamine") - 1.5).abs() < 0.02);
        assert!(neutralise_carbomer(substance("Citric Acid").unwrap(), 50.0, 1.0).is_err());
    }

    /// What follows from a formula of some substances in water, by name and per cent.
    fn derived_of(parts: &[(&str, f64)]) -> Derived {
        let water = 100.0 - parts.iter().map(|(_, percent)| percent).sum::<f64>();
        let mut lines = vec![("Aqua", water)];
        lines.extend_from_slice(parts);
        let lines = lines.iter().map(|&(name, percent)| {
            let class = match name {
                "Aqua" => Class::Water,
                "Alcohol" => Class::Solvent,
                "Sodium Chloride" => Class::Electrolyte,
                _ => Class::Humectant,
            };
            let pure = crate::fixture::material(name, &[(name, 100.0, class)]);
            crate::fixture::line(&pure, &format!("{percent:.1}"))
        });
        let f = crate::fixture::formula(lines.collect());
        let mixture = crate::mixture::Mixture::of(&f, f.active());
        let estimates = crate::chemistry::estimate(&f, f.active());
        derived(&estimates, &Composition::of(&mixture))
    }

    /// Solutions of one solute. CRC Handbook, concentrative properties (sodium chloride, sucrose
    /// and urea read; ethanol from memory); Å. Melinder, Properties of secondary working fluids,
    /// 2010, for propylene glycol at other shares than the table of the program, and M. Lane, Ind.
    /// Eng. Chem. 17 (1925) 924, for glycerin, both from memory.
    #[test]
    fn solutions_freeze_where_handbooks_say() {
        for (name, share, published, tolerance) in [
            ("Alcohol", 10.0, -4.5, 0.1),
            ("Alcohol", 20.0, -10.9, 0.1),
            ("Alcohol", 30.0, -20.5, 0.1),
            ("Alcohol", 40.0, -29.3, 0.1),
            ("Propylene Glycol", 15.2, -5.0, 0.5),
            ("Propylene Glycol", 25.0, -10.0, 0.5),
            ("Propylene Glycol", 33.0, -15.0, 0.5),
            ("Propylene Glycol", 39.0, -20.0, 0.5),
            ("Propylene Glycol", 48.0, -30.0, 0.8),
            ("Glycerin", 40.0, -15.4, 0.3),
            ("Glycerin", 50.0, -23.0, 0.3),
            ("Glycerin", 60.0, -34.7, 0.3),
            ("Sodium Chloride", 10.0, -6.56, 0.5),
            ("Sodium Chloride", 20.0, -16.46, 0.8),
            ("Sucrose", 20.0, -1.47, 0.3),
            ("Sucrose", 42.0, -4.93, 0.5),
            ("Urea", 10.0, -3.26, 0.3),
            ("Urea", 30.0, -11.40, 0.9),
        ] {
            let found = derived_of(&[(name, share)]).freezing_c.unwrap();
            assert!(
                (found - published).abs() < tolerance,
                "{name} {share} %: {found}, {published} is published"
            );
        }
    }

    /// Each solute lowers the freezing point of what the others leave; beyond its table an
    /// alcohol has none.
    #[test]
    fn several_solutes_freeze_below_each_of_them() {
        let both = derived_of(&[("Alcohol", 10.0), ("Glycerin", 20.0)]).freezing_c;
        let alcohol = derived_of(&[("Alcohol", 10.0)]).freezing_c;
        let glycerin = derived_of(&[("Glycerin", 20.0)]).freezing_c;
        let (alcohol, glycerin) = (alcohol.unwrap(), glycerin.unwrap());
        // In 70 % of water instead of 80 and 90 %, each lowers it by more than alone.
        assert!(both.unwrap() < alcohol + glycerin, "{both:?}");
        assert!(both.unwrap() > 1.5 * (alcohol + glycerin), "{both:?}");
        assert_eq!(derived_of(&[("Alcohol", 60.0)]).freezing_c, None);
    }

    /// OIML R 22: 70 % by volume is 62.39 % by mass, 96 % is 93.84 %.
    #[test]
    fn alcohol_by_volume_and_mass() {
        assert!((alcohol_by_mass(70.0).unwrap() - 62.39).abs() < 0.05);
        assert!((alcohol_by_mass(96.0).unwrap() - 93.84).abs() < 0.1);
        assert!((alcohol_by_volume(100.0).unwrap() - 100.0).abs() < 0.1);
    }

    /// 1000 g of olive oil at 193.0 mg/g take 137.6 g of sodium hydroxide, 193 g of
    /// potassium hydroxide.
    #[test]
    fn lye_for_olive_oil() {
        let olive = soap::fat("Olea Europaea Fruit Oil", None).unwrap();
        let all = lye(&[(olive, 1000.0)], false, 0.0, 0.0).unwrap();
        assert!((all - 193.0 * 39.997 / 56.105).abs() < 1e-9);
        assert!((lye(&[(olive, 1000.0)], true, 5.0, 0.0).unwrap() - 193.0 * 0.95).abs() < 1e-9);
        assert!(lye(&[], false, 100.0, 0.0).is_err());
        // A discount comes on top of the superfat: 193 mg/g less 5 %, less 2 % of that.
        let both = lye(&[(olive, 1000.0)], true, 5.0, 2.0).unwrap();
        assert!((both - 193.0 * 0.95 * 0.98).abs() < 1e-9);
        assert!(lye(&[], false, 5.0, 100.0).is_err());
    }

    /// 90 g of pure hydroxide: 100 g of 90 % and 200 g of water make 300 g of 30 %.
    #[test]
    fn water_for_lye_of_a_strength() {
        let (weighed, water) = lye_water(90.0, 90.0, 30.0).unwrap();
        assert!((weighed - 100.0).abs() < 1e-9 && (water - 200.0).abs() < 1e-9);
        assert!(lye_water(90.0, 90.0, 90.0).is_err());
    }
}
