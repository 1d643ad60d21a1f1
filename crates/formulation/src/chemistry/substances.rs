//! Substances whose dissolution is understood: what each brings into water, how it
//! lowers the activity of water and how much room it takes.
//!
//! Molar masses are those of the anhydrous form unless the name says otherwise. A
//! substance is found by CAS number and by INCI name, without regard to case, spaces
//! and hyphens.

use std::sync::LazyLock;

use super::acids::Family;
use super::ions::StrongIon;
use super::solubility::{HUUSKONEN, Solid};
use crate::cas::Cas;
use crate::name_hash::{ByCas, ByHash, folded_hash};

/// What one mole of a substance brings into solution.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Brings {
    /// Moles of an acid, base or ampholyte.
    Weak(Family, f64),
    /// Moles of a strong ion.
    Strong(StrongIon, f64),
    /// Moles of a solid that dissolves to its solubility.
    Solid(Solid, f64),
}

/// How a substance lowers the activity of water by itself in water.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum WaterEffect {
    /// Norrish, a_w = x_w exp(−K x_s²), with the molar fraction of solute x_s. K = 0 is
    /// Raoult's law.
    Norrish {
        /// The constant K.
        k: f64,
        /// Where it is published.
        source: &'static str,
    },
    /// Pitzer's equation for a strong electrolyte at 25 °C.
    Pitzer {
        /// Charge of the cation.
        cation: f64,
        /// Size of the charge of the anion.
        anion: f64,
        /// β⁽⁰⁾, β⁽¹⁾ and C^φ.
        parameters: [f64; 3],
        /// Highest molality of the fit, mol/kg.
        most: f64,
    },
    /// Counted by its ions with the osmotic coefficient of sodium chloride.
    AsSodiumChloride,
    /// Too large or too little soluble to matter: polymers, surfactants in micelles.
    Negligible,
}

/// Room that a gram takes when dissolved in water, ml/g:
/// v = Σ aᵢ wⁱ + (t − 20) Σ bᵢ wⁱ with w = solute / (solute + water) by mass and t in °C.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct ApparentVolume {
    /// Coefficients at 20 °C.
    pub a: &'static [f64],
    /// Coefficients of the change per kelvin.
    pub b: &'static [f64],
    /// Highest share by mass of the data.
    pub most: f64,
    /// How far the room of a gram may be off beside what the method is off, ml/g.
    pub off: f64,
    /// Which data the coefficients were fitted to.
    pub source: &'static str,
}

/// A saturated solution in water at 20 to 25 °C.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Saturation {
    /// Grams of the substance as named that dissolve in a kilogram of water.
    pub g_per_kg: f64,
    /// Where that is published.
    pub source: &'static str,
    /// Water activity above the saturated solution at 25 °C, where it is published: for salts
    /// L. Greenspan, J. Res. Natl. Bur. Stand. 81A (1977) 89, for the hydroxides and calcium
    /// chloride A. Wexler, Constant Humidity Solutions, CRC Handbook; for sugars and organic
    /// acids deliquescence points, from memory.
    pub water_activity: Option<f64>,
}

/// What a molar mass rests on.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum MassSource {
    /// The molecular formula, of mixtures of chains the mean one.
    Formula,
    /// Typical of what is sold, from memory.
    Memory,
}

/// One substance.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Substance {
    /// INCI name first, then other names.
    pub names: &'static [&'static str],
    /// CAS numbers under which it is sold.
    pub cas: &'static [&'static str],
    /// Molar mass, g/mol; of a polymer or surfactant, grams per mole of charge.
    pub molar_mass: f64,
    /// What the molar mass rests on.
    pub mass_source: MassSource,
    /// What it brings into solution.
    pub brings: &'static [Brings],
    /// Further base (positive) or acid (negative) it may bring, mol per mol.
    pub uncertain_base: Option<(f64, f64)>,
    /// Its effect on the activity of water.
    pub water: WaterEffect,
    /// The room it takes.
    pub volume: Option<ApparentVolume>,
    /// Octanol-water partition of the uncharged form, log₁₀ P; see [`LOG_P_SOURCE`].
    pub log_p: Option<f64>,
    /// How much dissolves in water; none if it mixes or nothing is known.
    pub saturation: Option<Saturation>,
    /// Relative error of its lowering of the activity of water, beside that of the method; 0
    /// for a substance of one formula.
    pub rough: f64,
}

impl Substance {
    /// The name shown.
    pub fn name(&self) -> &'static str {
        self.names.first().copied().unwrap_or("")
    }
    /// Whether it is water.
    pub fn is_water(&self) -> bool {
        std::ptr::eq(self, &raw const TABLE[0])
    }
    /// Moles of a family it brings per mole.
    pub fn moles_of(&self, family: Family) -> f64 {
        self.brings
            .iter()
            .map(|b| match *b {
                Weak(f, n) if f == family => n,
                _ => 0.0,
            })
            .sum()
    }
    /// Strong charge it brings per mole: positive for a base.
    pub fn strong_charge(&self) -> f64 {
        self.brings
            .iter()
            .map(|b| match *b {
                Strong(ion, n) => f64::from(ion.charge()) * n,
                Weak(..) | Brings::Solid(..) => 0.0,
            })
            .sum()
    }

    const fn new(
        names: &'static [&'static str],
        cas: &'static [&'static str],
        molar_mass: f64,
        brings: &'static [Brings],
    ) -> Self {
        let water = if brings.is_empty() {
            WaterEffect::Norrish {
                k: 0.0,
                source: "Raoult's law; no constant known",
            }
        } else {
            WaterEffect::AsSodiumChloride
        };
        Self {
            names,
            cas,
            molar_mass,
            mass_source: MassSource::Formula,
            brings,
            uncertain_base: None,
            water,
            volume: None,
            log_p: None,
            saturation: None,
            rough: 0.0,
        }
    }
    /// The molar mass is not computed but typical, from memory.
    const fn typical_mass(self) -> Self {
        Self {
            mass_source: MassSource::Memory,
            ..self
        }
    }
    /// How far the lowering of the water activity may be off, as a part of it. An equation that
    /// is not the solute's own is off by a third: our assumption, no source.
    pub fn roughness(&self) -> f64 {
        let least = match self.water {
            WaterEffect::AsSodiumChloride => 0.35,
            WaterEffect::Norrish { k: 0.0, .. } => 0.3,
            _ => 0.0,
        };
        self.rough.max(least)
    }
    const fn rough(self, rough: f64) -> Self {
        Self { rough, ..self }
    }
    const fn norrish(self, k: f64, source: &'static str) -> Self {
        Self {
            water: WaterEffect::Norrish { k, source },
            ..self
        }
    }
    const fn pitzer(self, charges: [f64; 2], parameters: [f64; 3], most: f64) -> Self {
        Self {
            water: WaterEffect::Pitzer {
                cation: charges[0],
                anion: charges[1],
                parameters,
                most,
            },
            ..self
        }
    }
    const fn negligible(self) -> Self {
        Self {
            water: WaterEffect::Negligible,
            ..self
        }
    }
    const fn volume(
        self,
        a: &'static [f64],
        b: &'static [f64],
        most: f64,
        source: &'static str,
    ) -> Self {
        Self {
            volume: Some(ApparentVolume {
                a,
                b,
                most,
                off: 0.0,
                source,
            }),
            ..self
        }
    }
    /// The room stated is off by so much at most, ml/g.
    const fn room_within(self, off: f64) -> Self {
        match self.volume {
            Some(volume) => Self {
                volume: Some(ApparentVolume { off, ..volume }),
                ..self
            },
            None => self,
        }
    }
    const fn log_p(self, log_p: f64) -> Self {
        Self {
            log_p: Some(log_p),
            ..self
        }
    }
    /// Solubility in g per kg of water, water activity of the saturated solution.
    const fn dissolves(self, g_per_kg: f64, water_activity: Option<f64>) -> Self {
        self.dissolves_by(g_per_kg, water_activity, CRC_SOLUBILITY)
    }
    /// The same with the source of the solubility.
    const fn dissolves_by(
        self,
        g_per_kg: f64,
        water_activity: Option<f64>,
        source: &'static str,
    ) -> Self {
        Self {
            saturation: Some(Saturation {
                g_per_kg,
                source,
                water_activity,
            }),
            ..self
        }
    }
    const fn with_uncertain_base(self, low: f64, high: f64) -> Self {
        Self {
            uncertain_base: Some((low, high)),
            ..self
        }
    }
}

/// Where the octanol-water partition coefficients are published.
pub const LOG_P_SOURCE: &str = "measured values of the set of Syracuse Research behind KOWWIN, those of the CRC Handbook within 0.06";
const CRC_SOLUBILITY: &str = "CRC Handbook of Chemistry and Physics, aqueous solubility, 20 to 25 °C, and the Merck Index; values from memory";
const SALTS: &str = "between the figures at 20 and at 30 °C of the public “Solubility table” (Wikipedia, after handbooks), or that at 20 °C where it has no other";
const CITRATE: &str = "J. Soleymani and others, J. Mol. Liquids 221 (2016) 166, abstract: mole fraction about 0.05 in water at 20 to 40 °C (675 to 830 g/kg within the rounding)";
const BELITZ: &str = "H.-D. Belitz, W. Grosch and P. Schieberle, Food Chemistry, solubility of amino acids in water at 25 °C, as a public copy shows it";
const ADDITIVES_MALIC: &str = "55.8 % of the solution at 20 °C (racemic acid): J. Smith and L. Hong-Shum, Food Additives Data Book, 2003";
const ADDITIVES_TARTARIC: &str =
    "139 g in 100 g at 25 °C: J. Smith and L. Hong-Shum, Food Additives Data Book, 2003";
const ADDITIVES_SORBITOL: &str =
    "68.7 % of the solution at 20 °C: J. Smith and L. Hong-Shum, Food Additives Data Book, 2003";
const UREA: &str = "between 1,080 g/kg at 20 °C and 1,200 g/kg at 25 °C, handbooks, from memory; 548 g in a litre of solution (about 920 g/kg) in J. S. Delaney, J. Chem. Inf. Comput. Sci. 44 (2004) 1000";
const DELANEY_PHENOXYETHANOL: &str = "27.6 g in a litre of solution (log S −0.70): J. S. Delaney, J. Chem. Inf. Comput. Sci. 44 (2004) 1000, supporting data";
const DELANEY_BENZYL: &str = "43 g in a litre of solution (log S −0.40): J. S. Delaney, J. Chem. Inf. Comput. Sci. 44 (2004) 1000, supporting data";
const HYDRATE: &str =
    "from the structure: that of the salt without crystal water, which comes to the water";
const MERCK_ALLANTOIN: &str =
    "Merck Index, 1 g in 190 ml, and 0.57 g in 100 ml at 25 °C, as public compilations quote it";
const CHIRIFE: &str = "Norrish constants of J. Chirife and co-workers, as tabulated in Int. J. Dentistry 2010, 981072, table 3";
const CHIRIFE_MEMORY: &str =
    "Norrish constant of J. Chirife and co-workers (J. Food Technol. 15, 1980, 59); from memory";
const FAO_NORRISH: &str = "Norrish constant of FAO document Y4358E, chapter 4, as public code restates it with its source";
const SYRUP: &str = "Norrish constants of glucose and maltose of J. Chirife and co-workers, from memory, at the mean molar mass of the sugars";
const GLYCOL: &str = "Norrish constant of J. Chirife and co-workers at 25 °C, from memory; the freezing points of Å. Melinder (2010), at −7 to −33 °C, ask for 3 to 4 (0.009 less at 20 %, 0.05 less at 50 %), as this mixture gives off heat; other work gives about 4 (from memory), and the range takes it in: 0.70 at 50 %";
const LIKE_GLYCOL: &str = "Norrish constant taken as that of propylene glycol: of diols, those whose hydroxyls stand apart bind no less water (C. Marcolli and T. Peter, Atmos. Chem. Phys. 5 (2005) 1545, abstract)";
const LOOSE_GLYCOL: &str = "Raoult's law: 1,2-diols with a hydrophobic end bind water less than others (C. Marcolli and T. Peter, Atmos. Chem. Phys. 5 (2005) 1545, abstract); no constant known";
const LALIBERTE: &str =
    "linear fit to the apparent volumes of M. Laliberté, J. Chem. Eng. Data 54 (2009) 1725";
const CRC_DENSITY: &str =
    "fit to CRC Handbook, concentrative properties of aqueous solutions, 20 °C";
const CRC_DENSITY_MEMORY: &str =
    "fit to CRC Handbook, concentrative properties of aqueous solutions, 20 °C, from memory";
const ROOM_CITRATE: &str = "fit to the densities of solutions of 10 to 20 % at 20 °C, CRC Handbook, from memory; about 71 ml/mol at infinite dilution";
const ROOM_METABISULFITE: &str = "between the ions at infinite dilution (two of hydrogen sulfite, less the water taken up) and bisulfite solutions of 38 %, relative density 1.32 to 1.34 as sold, from memory";
const ROOM_SULFITE: &str = "density of the solution of 10 % at 20 °C, CRC Handbook, from memory, with the slope of sodium sulfate";
const ROOM_LACTATE: &str =
    "between the density of the solution of 20 %, from memory, and that of 60 % as sold";
const ROOM_POTASSIUM_LACTATE: &str = "that of sodium lactate with 10 ml/mol more for the ion, from memory, and the density of the solution of 60 % as sold";
const MOLAR_VOLUME: &str =
    "partial molar volume at infinite dilution, 25 °C, Int. J. Dentistry 2010, 981072, table 3";
const PURE_LIQUID: &str = "inverse density of the pure liquid, from memory; mixing not corrected";
const PURE_GROUPS: &str = "volumes of the groups of the structure, fitted to liquids of the CRC Handbook, within 1.5 %; mixing not corrected";
const PURE_CRC: &str = "inverse density of the pure liquid of the CRC Handbook, 20 or 25 °C, through the package chemicals 1.5.2; mixing not corrected";

use Brings::{Strong, Weak};
use Family as F;
use StrongIon::{Calcium, Chloride, Magnesium, OtherAnion, Potassium, Sodium, Zinc};

const fn of(
    names: &'static [&'static str],
    cas: &'static [&'static str],
    molar_mass: f64,
    brings: &'static [Brings],
) -> Substance {
    Substance::new(names, cas, molar_mass, brings)
}

/// Molar mass of water, g/mol.
pub const WATER_G_PER_MOL: f64 = 18.01528;
/// Molar mass of sodium hydroxide, g/mol.
pub const SODIUM_HYDROXIDE_G_PER_MOL: f64 = 39.997;
/// Molar mass of potassium hydroxide, g/mol.
pub const POTASSIUM_HYDROXIDE_G_PER_MOL: f64 = 56.105;
/// Molar mass of sodium chloride, g/mol.
pub const SODIUM_CHLORIDE_G_PER_MOL: f64 = 58.443;
/// Molar mass of glycerin, g/mol.
pub const GLYCERIN_G_PER_MOL: f64 = 92.09382;

/// Grams of carbomer per mole of carboxyl groups: acrylic acid (72.06) with its cross-links.
pub const CARBOMER_G_PER_MOL: f64 = 76.0;

/// The substances. Water comes first.
pub static TABLE: &[Substance] = &[
    of(&["Aqua", "Water"], &["7732-18-5"], WATER_G_PER_MOL, &[]),
    // Acids and their salts.
    of(&["Citric Acid"], &["77-92-9"], 192.124, &[Weak(F::Citric, 1.0)]).norrish(6.2, FAO_NORRISH)
        .volume(&[0.59595, 0.000935, 0.044862], &[], 0.3, CRC_DENSITY).dissolves(1640.0, Some(0.78)),
    of(&["Citric Acid Monohydrate"], &["5949-29-1"], 210.14, &[Weak(F::Citric, 1.0)]).norrish(6.2, FAO_NORRISH).dissolves(2100.0, Some(0.78)),
    of(&["Sodium Citrate", "Trisodium Citrate"], &["68-04-2"], 258.068, &[Weak(F::Citric, 1.0), Strong(Sodium, 3.0)])
        .volume(&[0.303, 0.19], &[], 0.36, ROOM_CITRATE).room_within(0.02).dissolves_by(720.0, None, CITRATE),
    of(&["Trisodium Citrate Dihydrate"], &["6132-04-3"], 294.10, &[Weak(F::Citric, 1.0), Strong(Sodium, 3.0)]).dissolves_by(910.0, None, HYDRATE),
    of(&["Disodium Citrate", "Disodium Hydrogen Citrate"], &["144-33-2"], 236.09, &[Weak(F::Citric, 1.0), Strong(Sodium, 2.0)]),
    of(&["Monosodium Citrate"], &["18996-35-5"], 214.11, &[Weak(F::Citric, 1.0), Strong(Sodium, 1.0)]),
    of(&["Potassium Citrate"], &["866-84-2"], 306.39, &[Weak(F::Citric, 1.0), Strong(Potassium, 3.0)]),
    of(&["Lactic Acid"], &["50-21-5", "79-33-4", "598-82-3"], 90.078, &[Weak(F::Lactic, 1.0)])
        .norrish(-1.59, CHIRIFE_MEMORY)
        .volume(&[0.80158, -0.208054, 0.753542, -0.999612, 0.487809], &[], 0.8, CRC_DENSITY),
    of(&["Sodium Lactate"], &["72-17-3", "867-56-1"], 112.06, &[Weak(F::Lactic, 1.0), Strong(Sodium, 1.0)])
        .volume(&[0.512, 0.138], &[], 0.6, ROOM_LACTATE).room_within(0.02),
    of(&["Potassium Lactate"], &["996-31-6"], 128.17, &[Weak(F::Lactic, 1.0), Strong(Potassium, 1.0)])
        .volume(&[0.528, 0.095], &[], 0.6, ROOM_POTASSIUM_LACTATE).room_within(0.03),
    of(&["Ammonium Lactate"], &["515-98-0"], 107.11, &[Weak(F::Lactic, 1.0), Weak(F::Ammonia, 1.0)]),
    of(&["Calcium Lactate"], &["814-80-2"], 218.22, &[Weak(F::Lactic, 2.0), Strong(Calcium, 1.0)]).dissolves(79.0, None),
    of(&["Glycolic Acid"], &["79-14-1"], 76.051, &[Weak(F::Glycolic, 1.0)]).norrish(0.0, "Raoult's law; no constant known"),
    of(&["Sodium Glycolate"], &["2836-32-0"], 98.033, &[Weak(F::Glycolic, 1.0), Strong(Sodium, 1.0)]),
    of(&["Gluconic Acid"], &["526-95-4"], 196.155, &[Weak(F::Gluconic, 1.0)]),
    of(&["Sodium Gluconate"], &["527-07-1"], 218.137, &[Weak(F::Gluconic, 1.0), Strong(Sodium, 1.0)]),
    of(&["Potassium Gluconate"], &["299-27-4"], 234.25, &[Weak(F::Gluconic, 1.0), Strong(Potassium, 1.0)]),
    of(&["Zinc Gluconate"], &["4468-02-4"], 455.7, &[Weak(F::Gluconic, 2.0), Strong(Zinc, 1.0)]).dissolves(100.0, None),
    // The lactone hydrolyses slowly and not wholly; until then it brings no acid.
    of(&["Gluconolactone"], &["90-80-2"], 178.14, &[]).with_uncertain_base(-1.0, 0.0).dissolves(590.0, None),
    of(&["Acetic Acid"], &["64-19-7"], 60.052, &[Weak(F::Acetic, 1.0)]).norrish(0.0, "Raoult's law; no constant known")
        .volume(&[0.85046, 0.11452, -0.36364, 1.1127, -1.36613, 0.60454], &[0.0005, 0.0005], 1.0, CRC_DENSITY_MEMORY),
    of(&["Sodium Acetate"], &["127-09-3"], 82.034, &[Weak(F::Acetic, 1.0), Strong(Sodium, 1.0)])
        .pitzer([1.0, 1.0], [0.1426, 0.3237, -0.00629], 3.5)
        .volume(&[0.50558, 0.09357], &[0.00037], 0.25, LALIBERTE).dissolves(504.0, None),
    of(&["Benzoic Acid"], &["65-85-0"], 122.123, &[Weak(F::Benzoic, 1.0)]).negligible().log_p(1.87),
    of(&["Sodium Benzoate"], &["532-32-1"], 144.105, &[Weak(F::Benzoic, 1.0), Strong(Sodium, 1.0)]).dissolves_by(660.0, None, SALTS),
    of(&["Potassium Benzoate"], &["582-25-2"], 160.21, &[Weak(F::Benzoic, 1.0), Strong(Potassium, 1.0)]),
    of(&["Sorbic Acid"], &["110-44-1"], 112.128, &[Weak(F::Sorbic, 1.0)]).negligible().log_p(1.33),
    of(&["Potassium Sorbate"], &["24634-61-5", "590-00-1"], 150.218, &[Weak(F::Sorbic, 1.0), Strong(Potassium, 1.0)]).dissolves(1400.0, None),
    of(&["Sodium Sorbate"], &["7757-81-5"], 134.11, &[Weak(F::Sorbic, 1.0), Strong(Sodium, 1.0)]),
    of(&["Calcium Sorbate"], &["7492-55-9"], 262.3, &[Weak(F::Sorbic, 2.0), Strong(Calcium, 1.0)]),
    of(&["Dehydroacetic Acid"], &["520-45-6", "771-03-9"], 168.148, &[Weak(F::Dehydroacetic, 1.0)]).negligible(),
    of(&["Sodium Dehydroacetate"], &["4418-26-2"], 190.13, &[Weak(F::Dehydroacetic, 1.0), Strong(Sodium, 1.0)]),
    of(&["Levulinic Acid"], &["123-76-2"], 116.116, &[Weak(F::Levulinic, 1.0)]).norrish(0.0, "Raoult's law; no constant known").log_p(-0.49),
    of(&["Sodium Levulinate"], &["19856-23-6"], 138.098, &[Weak(F::Levulinic, 1.0), Strong(Sodium, 1.0)]),
    of(&["p-Anisic Acid", "Anisic Acid"], &["100-09-4"], 152.149, &[Weak(F::Anisic, 1.0)]).negligible().log_p(1.96),
    of(&["Sodium Anisate"], &["536-45-8"], 174.131, &[Weak(F::Anisic, 1.0), Strong(Sodium, 1.0)]),
    of(&["Salicylic Acid"], &["69-72-7"], 138.122, &[Weak(F::Salicylic, 1.0)]).negligible().log_p(2.26),
    of(&["Sodium Salicylate"], &["54-21-7"], 160.10, &[Weak(F::Salicylic, 1.0), Strong(Sodium, 1.0)]),
    of(&["Propionic Acid"], &["79-09-4"], 74.08, &[Weak(F::Propionic, 1.0)]).log_p(0.33),
    of(&["Sodium Propionate"], &["137-40-6"], 96.06, &[Weak(F::Propionic, 1.0), Strong(Sodium, 1.0)]),
    of(&["Formic Acid"], &["64-18-6"], 46.025, &[Weak(F::Formic, 1.0)]).log_p(-0.54),
    of(&["Sodium Formate"], &["141-53-7"], 68.007, &[Weak(F::Formic, 1.0), Strong(Sodium, 1.0)]),
    of(&["Undecylenic Acid"], &["112-38-9"], 184.28, &[Weak(F::Undecylenic, 1.0)]).negligible().log_p(3.86),
    of(&["Malic Acid"], &["6915-15-7", "617-48-1", "97-67-6"], 134.087, &[Weak(F::Malic, 1.0)]).dissolves_by(1260.0, None, ADDITIVES_MALIC),
    of(&["Tartaric Acid"], &["87-69-4", "526-83-0"], 150.087, &[Weak(F::Tartaric, 1.0)]).dissolves_by(1390.0, None, ADDITIVES_TARTARIC),
    of(&["Potassium Bitartrate"], &["868-14-4"], 188.177, &[Weak(F::Tartaric, 1.0), Strong(Potassium, 1.0)]).dissolves_by(6.0, None, SALTS),
    of(&["Succinic Acid"], &["110-15-6"], 118.088, &[Weak(F::Succinic, 1.0)]).dissolves_by(79.0, None, HUUSKONEN),
    of(&["Disodium Succinate"], &["150-90-3"], 162.05, &[Weak(F::Succinic, 1.0), Strong(Sodium, 2.0)]),
    of(&["Mandelic Acid"], &["90-64-2", "611-72-3"], 152.149, &[Weak(F::Mandelic, 1.0)]).dissolves(160.0, None),
    of(&["Azelaic Acid"], &["123-99-9"], 188.22, &[Weak(F::Azelaic, 1.0)]).negligible(),
    of(&["Ascorbic Acid"], &["50-81-7"], 176.124, &[Weak(F::Ascorbic, 1.0)]).dissolves(333.0, None),
    of(&["Sodium Ascorbate"], &["134-03-2"], 198.11, &[Weak(F::Ascorbic, 1.0), Strong(Sodium, 1.0)]),
    of(&["Sodium Ascorbyl Phosphate"], &["66170-10-3"], 322.05, &[Weak(F::AscorbylPhosphate, 1.0), Strong(Sodium, 3.0)]),
    of(&["Magnesium Ascorbyl Phosphate"], &["113170-55-1", "108910-78-7"], 289.54, &[Weak(F::AscorbylPhosphate, 1.0), Strong(Magnesium, 1.5)]),
    of(&["Ascorbyl Glucoside"], &["129499-78-1"], 338.26, &[Weak(F::AscorbylGlucoside, 1.0)]),
    of(&["Kojic Acid"], &["501-30-4"], 142.11, &[Weak(F::Kojic, 1.0)]),
    of(&["Ferulic Acid"], &["1135-24-6"], 194.18, &[Weak(F::Ferulic, 1.0)]).negligible(),
    of(&["PCA", "Pyroglutamic Acid"], &["98-79-3", "149-87-1"], 129.115, &[Weak(F::Pca, 1.0)]),
    of(&["Sodium PCA"], &["28874-51-3", "54571-67-4"], 151.097, &[Weak(F::Pca, 1.0), Strong(Sodium, 1.0)]),
    of(&["Zinc PCA"], &["15454-75-8"], 321.6, &[Weak(F::Pca, 2.0), Strong(Zinc, 1.0)]),
    of(&["Glutamic Acid"], &["56-86-0", "617-65-2"], 147.13, &[Weak(F::Glutamic, 1.0)]).dissolves_by(8.43, None, BELITZ),
    of(&["Sodium Glutamate"], &["142-47-2"], 169.11, &[Weak(F::Glutamic, 1.0), Strong(Sodium, 1.0)]).dissolves(740.0, None),
    of(&["Aspartic Acid"], &["56-84-8", "617-45-8"], 133.10, &[Weak(F::Aspartic, 1.0)]).dissolves_by(5.0, None, BELITZ),
    of(&["Glycine"], &["56-40-6"], 75.067, &[Weak(F::Glycine, 1.0)]).norrish(-0.868, CHIRIFE_MEMORY).dissolves_by(249.9, None, BELITZ),
    of(&["Arginine"], &["74-79-3"], 174.20, &[Weak(F::Arginine, 1.0)]).dissolves(182.0, None),
    of(&["Arginine HCl"], &["1119-34-2"], 210.66, &[Weak(F::Arginine, 1.0), Strong(Chloride, 1.0)]),
    of(&["Lysine"], &["56-87-1"], 146.19, &[Weak(F::Lysine, 1.0)]),
    of(&["Lysine HCl"], &["657-27-2"], 182.65, &[Weak(F::Lysine, 1.0), Strong(Chloride, 1.0)]),
    of(&["Betaine", "Trimethylglycine"], &["107-43-7"], 117.148, &[Weak(F::TrimethylGlycine, 1.0)]).norrish(0.0, "Raoult's law; no constant known").dissolves(1600.0, None),
    of(&["Niacinamide"], &["98-92-0"], 122.127, &[Weak(F::Niacinamide, 1.0)]).norrish(0.0, "Raoult's law; no constant known").dissolves_by(820.0, None, HUUSKONEN),
    of(&["Phosphoric Acid", "H3PO4"], &["7664-38-2"], 97.995, &[Weak(F::Phosphoric, 1.0)])
        .volume(&[0.47005, 0.07867, -0.09875, 0.08816], &[0.0003], 0.85, CRC_DENSITY_MEMORY),
    of(&["Sodium Phosphate", "Monosodium Phosphate", "NaH2PO4"], &["7558-80-7"], 119.977, &[Weak(F::Phosphoric, 1.0), Strong(Sodium, 1.0)])
        .pitzer([1.0, 1.0], [-0.0533, 0.0396, 0.00795], 6.0)
        .volume(&[0.25484, 0.25069], &[0.00047], 0.25, LALIBERTE).dissolves_by(950.0, None, SALTS),
    of(&["Disodium Phosphate", "Na2HPO4"], &["7558-79-4"], 141.958, &[Weak(F::Phosphoric, 1.0), Strong(Sodium, 2.0)])
        .pitzer([1.0, 2.0], [-0.0583, 1.4655, 0.0294], 1.0).dissolves(118.0, None),
    of(&["Trisodium Phosphate", "Na3PO4"], &["7601-54-9"], 163.94, &[Weak(F::Phosphoric, 1.0), Strong(Sodium, 3.0)]).dissolves_by(144.0, None, SALTS),
    of(&["Potassium Phosphate", "Monopotassium Phosphate", "KH2PO4"], &["7778-77-0"], 136.086, &[Weak(F::Phosphoric, 1.0), Strong(Potassium, 1.0)])
        .pitzer([1.0, 1.0], [-0.0678, -0.1042, 0.0], 1.8).dissolves_by(250.0, None, SALTS),
    of(&["Dipotassium Phosphate", "K2HPO4"], &["7758-11-4"], 174.176, &[Weak(F::Phosphoric, 1.0), Strong(Potassium, 2.0)]).dissolves_by(1500.0, None, SALTS),
    of(&["Sodium Bicarbonate", "NaHCO3", "Sodium Hydrogen Carbonate"], &["144-55-8"], 84.007, &[Weak(F::Carbonic, 1.0), Strong(Sodium, 1.0)])
        .volume(&[0.28492, 0.43594], &[0.00044], 0.126, LALIBERTE).dissolves_by(103.0, None, SALTS),
    of(&["Sodium Carbonate", "Na2CO3"], &["497-19-8"], 105.988, &[Weak(F::Carbonic, 1.0), Strong(Sodium, 2.0)])
        .volume(&[-0.01329, 0.60594], &[0.00043], 0.21, LALIBERTE).dissolves_by(307.0, None, SALTS),
    of(&["Sodium Sesquicarbonate"], &["533-96-0"], 226.026, &[Weak(F::Carbonic, 2.0), Strong(Sodium, 3.0)]).dissolves(130.0, None),
    of(&["Potassium Carbonate"], &["584-08-7"], 138.205, &[Weak(F::Carbonic, 1.0), Strong(Potassium, 2.0)]).dissolves_by(1110.0, Some(0.432), SALTS),
    of(&["Sulfuric Acid", "H2SO4"], &["7664-93-9"], 98.078, &[Weak(F::Sulfuric, 1.0)]),
    of(&["Sodium Bisulfate"], &["7681-38-1"], 120.06, &[Weak(F::Sulfuric, 1.0), Strong(Sodium, 1.0)]),
    of(&["Boric Acid"], &["10043-35-3"], 61.83, &[Weak(F::Boric, 1.0)]).dissolves_by(57.0, None, SALTS),
    of(&["Sodium Borate"], &["1303-96-4"], 381.37, &[Weak(F::Boric, 4.0), Strong(Sodium, 2.0)]).dissolves(58.0, None),
    // Bases.
    of(&["Sodium Hydroxide", "NaOH"], &["1310-73-2"], SODIUM_HYDROXIDE_G_PER_MOL, &[Strong(Sodium, 1.0)])
        .pitzer([1.0, 1.0], [0.0864, 0.253, 0.0044], 6.0)
        .volume(&[-0.10919, 1.19163, -1.00692, 0.59783], &[0.00018], 0.5, CRC_DENSITY_MEMORY).dissolves_by(1140.0, Some(0.060), SALTS),
    of(&["Potassium Hydroxide", "KOH"], &["1310-58-3"], POTASSIUM_HYDROXIDE_G_PER_MOL, &[Strong(Potassium, 1.0)])
        .pitzer([1.0, 1.0], [0.1298, 0.32, 0.0041], 5.5)
        .volume(&[0.08811, 0.61489, -0.30724], &[0.00052], 0.5, CRC_DENSITY_MEMORY).dissolves_by(1210.0, Some(0.089), SALTS),
    of(&["Calcium Hydroxide"], &["1305-62-0"], 74.093, &[Brings::Solid(Solid::CalciumHydroxide, 1.0)]).negligible(),
    of(&["Magnesium Hydroxide"], &["1309-42-8"], 58.320, &[Brings::Solid(Solid::MagnesiumHydroxide, 1.0)]).negligible(),
    of(&["Calcium Carbonate"], &["471-34-1", "1317-65-3"], 100.087, &[Brings::Solid(Solid::CalciumCarbonate, 1.0)]).negligible(),
    // As sold: hydromagnesite, by the mole of magnesium (467.636 for five).
    of(&["Magnesium Carbonate", "Magnesium Carbonate Hydroxide"], &["546-93-0", "39409-82-0"], 93.527, &[Brings::Solid(Solid::MagnesiumCarbonate, 1.0)]).negligible(),
    of(&["Zinc Carbonate"], &["3486-35-9"], 125.39, &[Brings::Solid(Solid::ZincCarbonate, 1.0)]).negligible(),
    // Hydrozincite, by the mole of zinc (548.96 for five).
    of(&["Zinc Carbonate Hydroxide"], &["5970-47-8", "5263-02-5", "12122-17-7"], 109.792, &[Brings::Solid(Solid::ZincCarbonateHydroxide, 1.0)]).negligible(),
    of(&["Zinc Oxide"], &["1314-13-2"], 81.38, &[Brings::Solid(Solid::ZincOxide, 1.0)]).negligible(),
    of(&["Ammonium Hydroxide"], &["1336-21-6"], 35.05, &[Weak(F::Ammonia, 1.0)]),
    of(&["Triethanolamine"], &["102-71-6"], 149.188, &[Weak(F::Triethanolamine, 1.0)]).norrish(0.0, "Raoult's law; no constant known"),
    of(&["Diethanolamine"], &["111-42-2"], 105.14, &[Weak(F::Diethanolamine, 1.0)]),
    of(&["Ethanolamine"], &["141-43-5"], 61.08, &[Weak(F::Ethanolamine, 1.0)]),
    of(&["Tromethamine", "Tris"], &["77-86-1"], 121.136, &[Weak(F::Tromethamine, 1.0)]).dissolves(680.0, None),
    of(&["Triisopropanolamine"], &["122-20-3"], 191.27, &[Weak(F::Triisopropanolamine, 1.0)]),
    of(&["MIPA", "Isopropanolamine"], &["78-96-6"], 75.11, &[Weak(F::Monoisopropanolamine, 1.0)]),
    of(&["Aminomethyl Propanol"], &["124-68-5"], 89.14, &[Weak(F::AminomethylPropanol, 1.0)]),
    // Mineral acids and salts.
    of(&["Hydrochloric Acid", "HCl"], &["7647-01-0"], 36.461, &[Strong(Chloride, 1.0)])
        .pitzer([1.0, 1.0], [0.1775, 0.2945, 0.0008], 6.0)
        .volume(&[0.51642, 0.12444, 0.10826], &[0.0003], 0.38, CRC_DENSITY_MEMORY),
    of(&["Sodium Chloride", "NaCl"], &["7647-14-5"], SODIUM_CHLORIDE_G_PER_MOL, &[Strong(Sodium, 1.0), Strong(Chloride, 1.0)])
        .pitzer([1.0, 1.0], [0.0765, 0.2664, 0.00127], 6.1)
        .volume(
            &[0.293565, 0.330461, -0.350343, 0.356375],
            &[0.00130852, -0.00170548],
            0.26,
            "fit to CRC Handbook, Laliberté 2009 and Krumgalz, Pogorelsky and Pitzer, J. Phys. Chem. Ref. Data 25 (1996) 663, 20 and 25 °C, within 0.0003 g/ml",
        ).dissolves_by(359.0, Some(0.753), SALTS),
    of(&["Maris Sal", "Sea Salt"], &[], SODIUM_CHLORIDE_G_PER_MOL, &[Strong(Sodium, 1.0), Strong(Chloride, 1.0)])
        .pitzer([1.0, 1.0], [0.0765, 0.2664, 0.00127], 6.1)
        .volume(&[0.293565, 0.330461, -0.350343, 0.356375], &[0.00130852, -0.00170548], 0.26, "taken as that of sodium chloride; the magnesium of sea salt takes less").room_within(0.07)
        .dissolves_by(359.0, Some(0.753), SALTS),
    of(&["Potassium Chloride", "KCl"], &["7447-40-7"], 74.551, &[Strong(Potassium, 1.0), Strong(Chloride, 1.0)])
        .pitzer([1.0, 1.0], [0.04835, 0.2122, -0.00084], 4.8)
        .volume(&[0.37231, 0.17053], &[0.00063], 0.25, LALIBERTE).dissolves_by(355.0, Some(0.843), SALTS),
    of(&["Ammonium Chloride"], &["12125-02-9"], 53.491, &[Weak(F::Ammonia, 1.0), Strong(Chloride, 1.0)])
        .pitzer([1.0, 1.0], [0.0522, 0.1918, -0.00301], 6.0)
        .volume(&[0.68759, 0.18458], &[], 0.26, CRC_DENSITY_MEMORY).room_within(0.005).dissolves_by(395.0, Some(0.785), SALTS),
    of(&["Magnesium Chloride", "MgCl2"], &["7786-30-3"], 95.211, &[Strong(Magnesium, 1.0), Strong(Chloride, 2.0)])
        .pitzer([2.0, 1.0], [0.35235, 1.6815, 0.00519], 4.5)
        .volume(&[0.18879, 0.29126], &[0.00007], 0.25, LALIBERTE).dissolves_by(553.0, Some(0.328), SALTS),
    of(&["Magnesium Chloride Hexahydrate"], &["7791-18-6"], 203.30, &[Strong(Magnesium, 1.0), Strong(Chloride, 2.0)]).dissolves_by(3170.0, Some(0.328), HYDRATE),
    of(&["Calcium Chloride", "CaCl2"], &["10043-52-4"], 110.984, &[Strong(Calcium, 1.0), Strong(Chloride, 2.0)])
        .pitzer([2.0, 1.0], [0.3159, 1.614, -0.00034], 2.5)
        .volume(&[0.19465, 0.21939], &[0.00046], 0.25, LALIBERTE).dissolves_by(820.0, Some(0.29), SALTS),
    of(&["Sodium Sulfate", "Na2SO4"], &["7757-82-6"], 142.04, &[Weak(F::Sulfuric, 1.0), Strong(Sodium, 2.0)])
        .pitzer([1.0, 2.0], [0.01958, 1.113, 0.00497], 4.0)
        .volume(&[0.10946, 0.41259], &[0.0006], 0.25, LALIBERTE).dissolves_by(281.0, None, SALTS),
    of(&["Magnesium Sulfate", "MgSO4"], &["7487-88-9"], 120.366, &[Weak(F::Sulfuric, 1.0), Strong(Magnesium, 1.0)])
        .volume(&[0.00653, 0.43402], &[-0.00006], 0.25, LALIBERTE).dissolves_by(357.0, None, SALTS),
    of(&["Magnesium Sulfate Heptahydrate"], &["10034-99-8"], 246.47, &[Weak(F::Sulfuric, 1.0), Strong(Magnesium, 1.0)]).dissolves_by(1170.0, None, HYDRATE),
    of(&["Ammonium Sulfate"], &["7783-20-2"], 132.14, &[Weak(F::Sulfuric, 1.0), Weak(F::Ammonia, 2.0)]).dissolves_by(764.0, Some(0.810), SALTS),
    of(&["Zinc Sulfate"], &["7733-02-0"], 161.44, &[Weak(F::Sulfuric, 1.0), Strong(Zinc, 1.0)])
        .volume(&[-0.01739, 0.33828], &[], 0.25, CRC_DENSITY_MEMORY).room_within(0.02).dissolves_by(577.0, None, SALTS),
    of(&["Magnesium Nitrate"], &["10377-60-3"], 148.31, &[Strong(Magnesium, 1.0), Strong(OtherAnion, 2.0)]).dissolves_by(712.0, Some(0.529), SALTS),
    of(&["Sodium Sulfite"], &["7757-83-7"], 126.04, &[Weak(F::Sulfurous, 1.0), Strong(Sodium, 2.0)])
        .volume(&[0.077, 0.4], &[], 0.23, ROOM_SULFITE).room_within(0.02).dissolves(307.0, None),
    of(&["Sodium Metabisulfite"], &["7681-57-4"], 190.11, &[Weak(F::Sulfurous, 2.0), Strong(Sodium, 2.0)])
        .volume(&[0.28, 0.05], &[], 0.35, ROOM_METABISULFITE).room_within(0.03).dissolves_by(653.0, None, SALTS),
    // Chelators.
    of(&["EDTA", "Edetic Acid"], &["60-00-4"], 292.244, &[Weak(F::Edta, 1.0)]),
    of(&["Disodium EDTA"], &["139-33-3"], 336.206, &[Weak(F::Edta, 1.0), Strong(Sodium, 2.0)]).dissolves(100.0, None),
    of(&["Disodium EDTA Dihydrate"], &["6381-92-6"], 372.24, &[Weak(F::Edta, 1.0), Strong(Sodium, 2.0)]).dissolves(110.0, None),
    of(&["Trisodium EDTA"], &["150-38-9"], 358.19, &[Weak(F::Edta, 1.0), Strong(Sodium, 3.0)]),
    of(&["Tetrasodium EDTA"], &["64-02-8"], 380.17, &[Weak(F::Edta, 1.0), Strong(Sodium, 4.0)]).dissolves(1000.0, None),
    of(&["Tetrasodium Glutamate Diacetate"], &["51981-21-6"], 351.13, &[Weak(F::Glda, 1.0), Strong(Sodium, 4.0)]),
    of(&["Trisodium Dicarboxymethyl Alaninate"], &["164462-16-2"], 271.11, &[Weak(F::Mgda, 1.0), Strong(Sodium, 3.0)]),
    of(&["Trisodium Ethylenediamine Disuccinate"], &["178949-82-1"], 358.19, &[Weak(F::Edds, 1.0), Strong(Sodium, 3.0)]),
    of(&["Etidronic Acid"], &["2809-21-4"], 206.03, &[Weak(F::Etidronic, 1.0)]),
    of(&["Disodium Etidronate"], &["7414-83-7"], 250.0, &[Weak(F::Etidronic, 1.0), Strong(Sodium, 2.0)]),
    of(&["Tetrasodium Etidronate"], &["3794-83-0"], 293.96, &[Weak(F::Etidronic, 1.0), Strong(Sodium, 4.0)]),
    // Three protons of phytic acid are taken as strong, three leave between pH 1 and 3, the
    // others between pH 5 and 12.
    of(&["Phytic Acid"], &["83-86-3"], 660.04, &[Strong(OtherAnion, 3.0), Weak(F::Phytic, 1.0)]).with_uncertain_base(-2.0, 0.0),
    of(&["Sodium Phytate"], &["14306-25-3"], 923.8, &[Strong(Sodium, 12.0), Strong(OtherAnion, 4.0), Weak(F::Phytic, 1.0)]).with_uncertain_base(-2.0, 1.0),
    of(&["Sodium Glucoheptonate"], &["31138-65-5"], 248.16, &[Weak(F::Gluceptic, 1.0), Strong(Sodium, 1.0)]),
    // Preservatives and boosters that are no carboxylic acids.
    of(&["Caprylhydroxamic Acid"], &["7377-03-9"], 159.23, &[Weak(F::Hydroxamic, 1.0)]).negligible(),
    of(&["Phenoxyethanol"], &["122-99-6"], 138.16, &[]).log_p(1.16).volume(&[0.907], &[0.0007], 0.02, PURE_CRC).dissolves_by(28.3, None, DELANEY_PHENOXYETHANOL),
    of(&["Benzyl Alcohol"], &["100-51-6"], 108.14, &[]).log_p(1.10).volume(&[0.960], &[0.0007], 0.04, PURE_CRC).dissolves_by(45.0, None, DELANEY_BENZYL),
    of(&["Phenethyl Alcohol"], &["60-12-8"], 122.16, &[]).log_p(1.36).volume(&[0.98], &[0.0007], 0.02, PURE_CRC),
    of(&["Methylparaben"], &["99-76-3"], 152.149, &[Weak(F::Paraben, 1.0)]).negligible().log_p(1.96),
    of(&["Ethylparaben"], &["120-47-8"], 166.17, &[Weak(F::Paraben, 1.0)]).negligible().log_p(2.47),
    of(&["Propylparaben"], &["94-13-3"], 180.20, &[Weak(F::Paraben, 1.0)]).negligible().log_p(3.04),
    of(&["Butylparaben"], &["94-26-8"], 194.23, &[Weak(F::Paraben, 1.0)]).negligible().log_p(3.57),
    of(&["Sodium Methylparaben"], &["5026-62-0"], 174.13, &[Weak(F::Paraben, 1.0), Strong(Sodium, 1.0)]),
    of(&["Sodium Propylparaben"], &["35285-69-9"], 202.18, &[Weak(F::Paraben, 1.0), Strong(Sodium, 1.0)]),
    of(&["Chlorphenesin"], &["104-29-0"], 202.63, &[]).negligible(),
    of(&["Ethylhexylglycerin"], &["70445-33-9"], 204.31, &[]).negligible(),
    of(&["Caprylyl Glycol"], &["1117-86-8"], 146.23, &[]).negligible(),
    of(&["Glyceryl Caprylate"], &["26402-26-6"], 218.29, &[]).negligible(),
    of(&["Sodium Hydroxymethylglycinate"], &["70161-44-3"], 127.07, &[Weak(F::HydroxymethylGlycinate, 1.0), Strong(Sodium, 1.0)]),
    of(&["DMDM Hydantoin"], &["6440-58-0"], 188.18, &[]),
    of(&["Imidazolidinyl Urea"], &["39236-46-9"], 388.29, &[]),
    of(&["Diazolidinyl Urea"], &["78491-02-8"], 278.22, &[]),
    of(&["2-Bromo-2-Nitropropane-1,3-Diol"], &["52-51-7"], 199.99, &[]),
    of(&["Methylisothiazolinone"], &["2682-20-4"], 115.15, &[]),
    // Humectants and solvents.
    of(&["Glycerin", "Glycerol"], &["56-81-5"], GLYCERIN_G_PER_MOL, &[])
        .norrish(1.16, CHIRIFE)
        .volume(
            &[0.769236, -0.006964, 0.036083, -0.005504],
            &[0.00060591, -0.00017194],
            1.0,
            "fit to Bosart and Snoddy, Ind. Eng. Chem. 19 (1927) 506, 20 to 30 °C, within 0.0002 g/ml, and to the CRC Handbook, whose rows lie up to 0.0009 g/ml lower, within 0.001 g/ml",
        ),
    of(&["Propylene Glycol"], &["57-55-6"], 76.09442, &[])
        .norrish(1.0, GLYCOL).rough(0.36)
        .volume(
            &[0.935793, -0.119521, 0.30488, -0.22304, 0.067233],
            &[0.00023034, 0.00041102],
            1.0,
            "fit to Nakanishi 1967, George and Sastry 2003 and Khattab 2017, 20 and 25 °C, within 0.002 g/ml",
        ),
    of(&["Propanediol", "1,3-Propanediol"], &["504-63-2"], 76.09442, &[]).norrish(1.0, LIKE_GLYCOL).rough(0.15).volume(&[0.949], &[0.0005], 1.0, PURE_CRC),
    of(&["Butylene Glycol", "1,3-Butanediol"], &["107-88-0"], 90.121, &[]).norrish(1.0, LIKE_GLYCOL).rough(0.15).volume(&[0.995], &[0.0006], 1.0, PURE_CRC),
    of(&["Pentylene Glycol", "1,2-Pentanediol"], &["5343-92-0"], 104.15, &[]).norrish(0.0, LOOSE_GLYCOL).rough(0.25).volume(&[1.025], &[0.0006], 1.0, PURE_GROUPS),
    of(&["1,2-Hexanediol"], &["6920-22-5"], 118.17, &[]).norrish(0.0, LOOSE_GLYCOL).rough(0.25).volume(&[1.043], &[0.0007], 1.0, PURE_GROUPS),
    of(&["Dipropylene Glycol"], &["25265-71-8", "110-98-5"], 134.17, &[]).norrish(1.0, LIKE_GLYCOL).rough(0.25).volume(&[0.980], &[0.0006], 1.0, PURE_CRC),
    of(&["Diglycerin"], &["59113-36-9", "627-82-7"], 166.17, &[]).volume(&[0.77], &[0.0005], 1.0, PURE_LIQUID),
    of(&["PEG-8", "Polyethylene Glycol 400"], &["25322-68-3"], 400.0, &[])
        .norrish(26.6, CHIRIFE_MEMORY)
        .volume(&[0.85], &[0.0006], 1.0, PURE_LIQUID),
    of(&["Hexylene Glycol"], &["107-41-5"], 118.17, &[]).norrish(0.0, LOOSE_GLYCOL).rough(0.25).volume(&[1.083], &[0.0007], 1.0, PURE_CRC),
    of(&["Methylpropanediol"], &["2163-42-0"], 90.121, &[]).norrish(1.0, LIKE_GLYCOL).rough(0.2).volume(&[0.985], &[0.0006], 1.0, PURE_CRC),
    of(&["Dimethyl Isosorbide"], &["5306-85-4"], 174.19, &[]).volume(&[0.865], &[0.0008], 1.0, PURE_LIQUID),
    of(&["Propylene Carbonate"], &["108-32-7"], 102.09, &[]).volume(&[0.83], &[0.0008], 0.2, PURE_CRC),
    of(&["Sorbitol"], &["50-70-4"], 182.17176, &[])
        .norrish(1.65, CHIRIFE)
        .volume(&[0.652], &[0.0003], 0.7, MOLAR_VOLUME).dissolves_by(2200.0, None, ADDITIVES_SORBITOL),
    of(&["Xylitol"], &["87-99-0"], 152.146, &[]).norrish(1.66, CHIRIFE).volume(&[0.671], &[0.0003], 0.6, MOLAR_VOLUME).dissolves(1750.0, None),
    of(&["Erythritol"], &["149-32-6"], 122.12, &[]).norrish(1.34, CHIRIFE).volume(&[0.711], &[0.0003], 0.4, MOLAR_VOLUME).dissolves(610.0, None),
    of(&["Mannitol"], &["69-65-8"], 182.172, &[]).norrish(0.906, CHIRIFE).volume(&[0.654], &[0.0003], 0.2, MOLAR_VOLUME).dissolves(216.0, None),
    of(&["Maltitol"], &["585-88-6"], 344.31, &[]).norrish(4.54, CHIRIFE_MEMORY).volume(&[0.62], &[0.0003], 0.6, "taken as that of sucrose").dissolves(1750.0, None),
    of(&["Sucrose"], &["57-50-1"], 342.29648, &[])
        .norrish(6.47, FAO_NORRISH)
        .volume(&[0.614425, 0.019951, -0.007665, 0.018665], &[0.00039], 0.84, CRC_DENSITY).dissolves_by(2040.0, Some(0.851), SALTS),
    of(&["Glucose", "Dextrose"], &["50-99-7"], 180.156, &[]).norrish(2.25, FAO_NORRISH).volume(&[0.622], &[0.0003], 0.6, "partial molar volume 112 ml/mol, from memory").dissolves(910.0, None),
    // Syrups by the number average of their sugars. Starch syrup of 48 dextrose equivalents:
    // 18 016 / 48 g/mol by the definition of the equivalent (40 to 60 are sold), Norrish constant
    // of maltose.
    of(&["Hydrolyzed Corn Starch"], &["8029-43-4"], 375.0, &[]).norrish(4.54, SYRUP).volume(&[0.62], &[0.0003], 0.6, "taken as that of sucrose").rough(0.2),
    // Honey of 88 % monosaccharides and 12 % disaccharides in its solids (Codex Stan 12, from
    // memory): 1 / (0.88 / 180.2 + 0.12 / 342.3) g/mol; agave nectar likewise with 4 %.
    of(&["Mel", "Honey"], &["8028-66-8"], 191.0, &[]).typical_mass().norrish(2.25, SYRUP).rough(0.1),
    of(&["Agave Tequilana Leaf Extract"], &[], 184.0, &[]).typical_mass().norrish(2.25, SYRUP).rough(0.15),
    of(&["Fructose"], &["57-48-7", "7660-25-5"], 180.156, &[]).norrish(2.25, CHIRIFE_MEMORY).volume(&[0.614], &[0.0003], 0.6, "partial molar volume 110.5 ml/mol, from memory").dissolves_by(4000.0, None, SALTS),
    of(&["Lactose"], &["63-42-3"], 342.297, &[]).norrish(10.2, FAO_NORRISH).volume(&[0.61], &[0.0003], 0.2, "taken as that of sucrose").dissolves(216.0, None),
    of(&["Trehalose"], &["99-20-7"], 342.297, &[]).norrish(6.47, "taken as that of sucrose").volume(&[0.61], &[0.0003], 0.4, "taken as that of sucrose").dissolves(690.0, None),
    of(&["Inositol"], &["87-89-8"], 180.156, &[]).dissolves(140.0, None),
    of(&["Urea"], &["57-13-6"], 60.05526, &[])
        .norrish(-1.0, "fitted here to the freezing points of the CRC Handbook, 10 to 40 %; within 0.003")
        .volume(&[0.75552, -0.225079, 1.009068, -1.230669], &[0.0004], 0.46, CRC_DENSITY).dissolves_by(1100.0, Some(0.76), UREA),
    of(&["Hydroxyethyl Urea"], &["2078-71-9"], 104.11, &[]),
    of(&["Panthenol"], &["81-13-0", "16485-10-2"], 205.25, &[]).volume(&[0.83], &[0.0005], 1.0, PURE_LIQUID),
    of(&["Allantoin"], &["97-59-6"], 158.12, &[]).dissolves_by(5.7, None, MERCK_ALLANTOIN),
    of(&["Caffeine"], &["58-08-2"], 194.19, &[]).dissolves_by(21.0, None, HUUSKONEN),
    of(&["Alcohol", "Alcohol Denat.", "Ethanol"], &["64-17-5"], 46.06844, &[])
        .norrish(0.0, "Raoult's law; a rough figure for alcohols")
        .volume(
            &[1.201163, -0.402458, 0.491018, 3.555613, -11.324879, 14.22845, -8.522759, 2.041051],
            &[3.323e-5, 0.01307542, -0.03352361, 0.03437125, -0.01256858],
            1.0,
            "fit to the general formula of OIML R 22 (1975), 20 and 25 °C, and to the CRC Handbook, within 0.00016 g/ml",
        ),
    of(&["Isopropyl Alcohol"], &["67-63-0"], 60.095, &[])
        .norrish(0.0, "Raoult's law; a rough figure for alcohols")
        .volume(&[1.226018, -0.899031, 3.759034, -6.051042, 4.536627, -1.298344], &[0.0011], 1.0, "fit within 0.001 g/ml to densities at 20 °C after International Critical Tables, vol. 3 (1928), from memory"),
    // Polymers with acid groups: grams per mole of carboxyl.
    of(&["Carbomer"], &["9003-01-4", "9007-20-9", "9062-04-8", "76050-42-5"], CARBOMER_G_PER_MOL, &[Weak(F::Carbomer, 0.5)]).typical_mass().negligible(),
    of(&["Acrylates/C10-30 Alkyl Acrylate Crosspolymer"], &[], 80.0, &[Weak(F::Carbomer, 0.5)]).typical_mass().negligible(),
    of(&["Acrylates Copolymer"], &["25133-97-5", "25212-88-8"], 190.0, &[Weak(F::Carbomer, 0.5)]).typical_mass().negligible(),
    of(&["Sodium Hyaluronate"], &["9067-32-7"], 401.3, &[]).negligible(),
    // Anionic surfactants. The ions of strong acid surfactants sit in and on micelles
    // and are left out of the ionic strength; their molar mass serves the charge ratio.
    of(&["Sodium Laureth Sulfate"], &["68891-38-3", "9004-82-4", "3088-31-1", "1335-72-4", "68585-34-2", "15826-16-1"], 384.0, &[]).negligible(),
    of(&["Sodium Lauryl Sulfate"], &["151-21-3", "68585-47-7"], 288.38, &[]).negligible(),
    of(&["Sodium Coco-Sulfate"], &["97375-27-4"], 294.0, &[]).negligible(),
    of(&["Ammonium Lauryl Sulfate"], &["2235-54-3"], 283.43, &[Weak(F::Ammonia, 1.0), Strong(OtherAnion, 1.0)]).negligible(),
    of(&["Ammonium Laureth Sulfate"], &["32612-48-9", "67762-19-0"], 379.0, &[Weak(F::Ammonia, 1.0), Strong(OtherAnion, 1.0)]).negligible(),
    of(&["Sodium Cocoyl Isethionate"], &["61789-32-0"], 336.0, &[]).negligible(),
    of(&["Sodium Lauroyl Methyl Isethionate"], &["928663-45-0"], 344.0, &[]).negligible(),
    of(&["Sodium C14-16 Olefin Sulfonate"], &["68439-57-6"], 314.0, &[]).negligible(),
    of(&["Sodium Lauryl Sulfoacetate"], &["1847-58-1"], 330.4, &[]).negligible(),
    of(&["Sodium Methyl Cocoyl Taurate"], &["61791-42-2"], 349.0, &[]).negligible(),
    of(&["Sodium Methyl 2-Sulfolaurate"], &["4337-75-1"], 316.4, &[]).negligible(),
    of(&["Disodium Laureth Sulfosuccinate"], &["68815-56-5", "39354-45-5"], 275.0, &[]).negligible(),
    of(&["Disodium Lauryl Sulfosuccinate"], &["13192-12-6", "26838-05-1"], 205.22, &[]).negligible(),
    of(&["Sodium Lauroyl Sarcosinate"], &["137-16-6"], 293.38, &[Weak(F::Sarcosinate, 1.0), Strong(Sodium, 1.0)]).negligible(),
    of(&["Sodium Cocoyl Glutamate"], &["68187-32-6"], 357.0, &[Weak(F::AcylAmino, 2.0), Strong(Sodium, 1.0)]).negligible(),
    of(&["Disodium Cocoyl Glutamate"], &["68187-30-4"], 379.0, &[Weak(F::AcylAmino, 2.0), Strong(Sodium, 2.0)]).negligible(),
    of(&["Sodium Lauroyl Glutamate"], &["29923-31-7", "42926-22-7"], 351.4, &[Weak(F::AcylAmino, 2.0), Strong(Sodium, 1.0)]).negligible(),
    of(&["Sodium Cocoyl Glycinate"], &["90387-74-9"], 285.0, &[Weak(F::AcylAmino, 1.0), Strong(Sodium, 1.0)]).negligible(),
    of(&["Potassium Cocoyl Glycinate"], &["301341-58-2"], 301.0, &[Weak(F::AcylAmino, 1.0), Strong(Potassium, 1.0)]).negligible(),
    of(&["Sodium Cocoyl Alaninate"], &["90170-45-9"], 299.0, &[Weak(F::AcylAmino, 1.0), Strong(Sodium, 1.0)]).negligible(),
    of(&["Sodium Lauryl Ether Carboxylate", "Sodium Laureth-4 Carboxylate", "Sodium Laureth-5 Carboxylate"], &["33939-64-9"], 450.0, &[Weak(F::EtherCarboxylate, 1.0), Strong(Sodium, 1.0)]).negligible(),
    of(&["Sodium Cocoyl Sarcosinate"], &["61791-59-1"], 299.0, &[Weak(F::Sarcosinate, 1.0), Strong(Sodium, 1.0)]).negligible(),
    of(&["Sodium Cocoyl Apple Amino Acids"], &[], 340.0, &[Weak(F::AcylAmino, 1.0), Strong(Sodium, 1.0)]).typical_mass().negligible(),
    of(&["Sodium Lauroyl Lactylate"], &["13557-75-0"], 366.43, &[Weak(F::EtherCarboxylate, 1.0), Strong(Sodium, 1.0)]).negligible(),
    of(&["Sodium Stearoyl Lactylate"], &["25383-99-7"], 450.6, &[Weak(F::EtherCarboxylate, 1.0), Strong(Sodium, 1.0)]).negligible(),
    of(&["Sodium Stearoyl Glutamate"], &["38517-23-6"], 435.6, &[Weak(F::AcylAmino, 2.0), Strong(Sodium, 1.0)]).negligible(),
    of(&["Sodium Laureth-11 Carboxylate"], &["33939-64-9"], 715.0, &[Weak(F::EtherCarboxylate, 1.0), Strong(Sodium, 1.0)]).negligible(),
    of(&["Sodium Myreth Sulfate"], &["25446-80-4"], 449.0, &[]).negligible(),
    of(&["Magnesium Laureth Sulfate"], &["62755-21-9"], 373.0, &[]).negligible(),
    of(&["MIPA-Laureth Sulfate"], &["83016-76-6"], 437.0, &[]).negligible(),
    of(&["Sodium Cetearyl Sulfate"], &["59186-41-3"], 359.0, &[]).negligible(),
    of(&["Sodium Methyl Oleoyl Taurate"], &["137-20-2"], 425.6, &[]).negligible(),
    of(&["TEA-Lauryl Sulfate"], &["139-96-8"], 415.6, &[Weak(F::Triethanolamine, 1.0), Strong(OtherAnion, 1.0)]).negligible(),
    // Soaps and the fatty acids they come from, which are hardly soluble.
    of(&["Potassium Cocoate"], &["61789-30-8"], 244.0, &[Weak(F::Fatty, 1.0), Strong(Potassium, 1.0)]).negligible(),
    of(&["Sodium Cocoate"], &["61789-31-9"], 228.0, &[Weak(F::Fatty, 1.0), Strong(Sodium, 1.0)]).negligible(),
    of(&["Sodium Palmate"], &["61790-79-2"], 291.0, &[Weak(F::Fatty, 1.0), Strong(Sodium, 1.0)]).negligible(),
    of(&["Sodium Tallowate"], &["8052-48-0"], 294.0, &[Weak(F::Fatty, 1.0), Strong(Sodium, 1.0)]).negligible(),
    of(&["Sodium Palm Kernelate"], &["61789-89-7"], 237.0, &[Weak(F::Fatty, 1.0), Strong(Sodium, 1.0)]).negligible(),
    of(&["Sodium Olivate"], &[], 300.0, &[Weak(F::Fatty, 1.0), Strong(Sodium, 1.0)]).negligible(),
    of(&["Sodium Laurate"], &["629-25-4"], 222.3, &[Weak(F::Fatty, 1.0), Strong(Sodium, 1.0)]).negligible(),
    of(&["Sodium Stearate"], &["822-16-2"], 306.5, &[Weak(F::Fatty, 1.0), Strong(Sodium, 1.0)]).negligible(),
    of(&["Potassium Stearate"], &["593-29-3"], 322.6, &[Weak(F::Fatty, 1.0), Strong(Potassium, 1.0)]).negligible(),
    of(&["Sodium Oleate"], &["143-19-1"], 304.4, &[Weak(F::Fatty, 1.0), Strong(Sodium, 1.0)]).negligible(),
    of(&["Potassium Oleate"], &["143-18-0"], 320.6, &[Weak(F::Fatty, 1.0), Strong(Potassium, 1.0)]).negligible(),
    of(&["Lauric Acid"], &["143-07-7"], 200.322, &[Weak(F::Fatty, 1.0)]).negligible(),
    of(&["Myristic Acid"], &["544-63-8"], 228.4, &[Weak(F::Fatty, 1.0)]).negligible(),
    of(&["Palmitic Acid"], &["57-10-3"], 256.430, &[Weak(F::Fatty, 1.0)]).negligible(),
    of(&["Stearic Acid"], &["57-11-4"], 284.484, &[Weak(F::Fatty, 1.0)]).negligible(),
    of(&["Oleic Acid"], &["112-80-1"], 282.468, &[Weak(F::Fatty, 1.0)]).negligible(),
    // Amphoteric surfactants.
    of(&["Cocamidopropyl Betaine"], &["61789-40-0", "86438-79-1", "70851-07-9", "147170-44-3"], 348.0, &[Weak(F::CarboxyBetaine, 1.0)]).negligible(),
    of(&["Lauramidopropyl Betaine"], &["4292-10-8"], 342.5, &[Weak(F::CarboxyBetaine, 1.0)]).negligible(),
    of(&["Coco-Betaine"], &["68424-94-2", "66455-29-6"], 277.0, &[Weak(F::CarboxyBetaine, 1.0)]).negligible(),
    of(&["Lauryl Betaine"], &["683-10-3"], 271.44, &[Weak(F::CarboxyBetaine, 1.0)]).negligible(),
    of(&["Babassuamidopropyl Betaine"], &["124046-18-0"], 357.0, &[Weak(F::CarboxyBetaine, 1.0)]).negligible(),
    of(&["Olivamidopropyl Betaine"], &[], 420.0, &[Weak(F::CarboxyBetaine, 1.0)]).negligible(),
    of(&["Cocamidopropyl Hydroxysultaine"], &["68139-30-0"], 428.0, &[]).negligible(),
    of(&["Lauryl Hydroxysultaine"], &["13197-76-7"], 351.5, &[]).negligible(),
    of(&["Sodium Cocoamphoacetate"], &["90387-76-1", "61791-32-0", "68334-21-4", "68608-65-1"], 372.0, &[Weak(F::Amphoacetate, 1.0), Strong(Sodium, 1.0)]).negligible(),
    of(&["Sodium Lauroamphoacetate"], &["156028-14-7", "66161-62-4", "68647-44-9"], 366.47, &[Weak(F::Amphoacetate, 1.0), Strong(Sodium, 1.0)]).negligible(),
    of(&["Disodium Cocoamphodiacetate"], &["68650-39-5"], 452.0, &[Weak(F::Amphoacetate, 1.0), Strong(OtherAnion, 1.0), Strong(Sodium, 2.0)]).negligible(),
    of(&["Lauramine Oxide"], &["1643-20-5"], 229.4, &[Weak(F::AmineOxide, 1.0)]).negligible(),
    of(&["Cocamine Oxide"], &["61788-90-7"], 235.0, &[Weak(F::AmineOxide, 1.0)]).negligible(),
    of(&["Cocamidopropylamine Oxide"], &["68155-09-9"], 306.0, &[Weak(F::AmineOxide, 1.0)]).negligible(),
    // Cationic substances; of polymers, typical grams per mole of charge.
    of(&["Cetrimonium Chloride"], &["112-02-7"], 320.0, &[]).negligible(),
    of(&["Steartrimonium Chloride"], &["112-03-8"], 348.1, &[]).negligible(),
    of(&["Behentrimonium Chloride"], &["17301-53-0", "68607-24-9"], 404.16, &[]).negligible(),
    of(&["Behentrimonium Methosulfate"], &["81646-13-1"], 479.8, &[]).negligible(),
    of(&["Distearoylethyl Dimonium Chloride"], &["67846-68-8"], 703.0, &[]).negligible(),
    of(&["Distearoylethyl Hydroxyethylmonium Methosulfate"], &["91995-81-2"], 808.26, &[]).negligible(),
    of(&["Dicocoylethyl Hydroxyethylmonium Methosulfate"], &["91995-05-0"], 651.0, &[]).negligible(),
    of(&["Dipalmitoylethyl Hydroxyethylmonium Methosulfate"], &[], 752.15, &[]).negligible(),
    of(&["Stearamidopropyl Dimethylamine"], &["7651-02-7"], 368.65, &[Weak(F::Amidoamine, 1.0)]).negligible(),
    of(&["Behenamidopropyl Dimethylamine"], &["60270-33-9"], 424.75, &[Weak(F::Amidoamine, 1.0)]).negligible(),
    of(&["Brassicamidopropyl Dimethylamine"], &[], 392.0, &[Weak(F::Amidoamine, 1.0)]).negligible(),
    of(&["Brassicyl Isoleucinate Esylate"], &[], 517.0, &[]).negligible(),
    of(&["Benzalkonium Chloride"], &["63449-41-2", "8001-54-5"], 360.0, &[]).typical_mass().negligible(),
    of(&["Hydroxypropyl Guar Hydroxypropyltrimonium Chloride"], &["71329-50-5"], 1000.0, &[]).typical_mass().negligible(),
    of(&["Polyquaternium-7"], &["26590-05-6"], 320.0, &[]).typical_mass().negligible(),
    of(&["Polyquaternium-10"], &["53568-66-4", "68610-92-4", "81859-24-7", "54351-50-7"], 800.0, &[]).typical_mass().negligible(),
    of(&["Guar Hydroxypropyltrimonium Chloride"], &["65497-29-2"], 1000.0, &[]).typical_mass().negligible(),
];

/// A hash of the letters and digits of a name, without regard to case.
fn name_key(name: &str) -> u64 {
    folded_hash(name.bytes().filter(u8::is_ascii_alphanumeric))
}

struct Index {
    by_cas: ByCas<usize>,
    by_name: ByHash<usize>,
    numbers: Vec<Vec<Cas>>,
}

static INDEX: LazyLock<Index> = LazyLock::new(|| {
    let mut index = Index {
        by_cas: ByCas::default(),
        by_name: ByHash::default(),
        numbers: Vec::with_capacity(TABLE.len()),
    };
    for (i, substance) in TABLE.iter().enumerate() {
        let numbers: Vec<Cas> = substance
            .cas
            .iter()
            .filter_map(|c| c.parse().ok())
            .collect();
        for &cas in &numbers {
            index.by_cas.entry(cas).or_insert(i);
        }
        index.numbers.push(numbers);
        for name in substance.names {
            index.by_name.entry(name_key(name)).or_insert(i);
        }
    }
    index
});

/// A substance by CAS number, else by name. Where several share a number, the name
/// decides; where one name covers several (a salt and its hydrate), the number does.
pub fn find(name: &str, cas: Option<Cas>) -> Option<&'static Substance> {
    let by_name = INDEX.by_name.get(&name_key(name)).copied();
    let by_cas = cas.and_then(|c| INDEX.by_cas.get(&c).copied());
    let found = match (by_name, by_cas, cas) {
        (Some(n), Some(_), Some(cas)) if INDEX.numbers.get(n).is_some_and(|l| l.contains(&cas)) => {
            n
        }
        (_, Some(c), _) => c,
        (Some(n), None, _) => n,
        (None, None, _) => return None,
    };
    TABLE.get(found)
}

/// A substance by name alone.
pub fn by_name(name: &str) -> Option<&'static Substance> {
    find(name, None)
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::*;

    #[test]
    fn every_cas_number_is_valid_and_every_name_is_unique() {
        let mut names = BTreeMap::new();
        for substance in TABLE {
            assert!(substance.molar_mass > 0.0);
            for cas in substance.cas {
                assert!(cas.parse::<Cas>().is_ok(), "{}: {cas}", substance.name());
            }
            for name in substance.names {
                let before = names.insert(name_key(name), substance.name());
                assert!(before.is_none(), "{name} is also {before:?}");
            }
        }
    }

    #[test]
    fn found_by_number_and_by_name() {
        let benzoate = by_name("SODIUM BENZOATE").unwrap();
        assert_eq!(benzoate.moles_of(Family::Benzoic), 1.0);
        assert_eq!(
            find("E211", "532-32-1".parse().ok()).map(Substance::name),
            Some("Sodium Benzoate")
        );
        assert!(by_name("Aqua").is_some_and(Substance::is_water));
        assert!(by_name("unobtainium").is_none());
        let hydrate = find("Citric Acid", "5949-29-1".parse().ok()).unwrap();
        assert_eq!(hydrate.molar_mass, 210.14);
    }

    /// Salts of strong bases bring as many charges as their formula says: molar mass of the
    /// acid plus 21.982 per sodium for a hydrogen (CIAAW atomic weights 22.990 and 1.008).
    #[test]
    fn molar_masses_of_sodium_salts_fit_their_acids() {
        let check = |acid: &str, salt: &str| {
            let (a, s) = (by_name(acid).unwrap(), by_name(salt).unwrap());
            let sodium = s.strong_charge() - a.strong_charge();
            let expected = a.molar_mass + 21.982 * sodium;
            assert!((s.molar_mass - expected).abs() < 0.06, "{salt}");
        };
        check("citric acid", "sodium citrate");
        check("citric acid", "disodium citrate");
        check("lactic acid", "sodium lactate");
        check("glycolic acid", "sodium glycolate");
        check("gluconic acid", "sodium gluconate");
        check("acetic acid", "sodium acetate");
        check("benzoic acid", "sodium benzoate");
        check("sorbic acid", "sodium sorbate");
        check("dehydroacetic acid", "sodium dehydroacetate");
        check("levulinic acid", "sodium levulinate");
        check("anisic acid", "sodium anisate");
        check("salicylic acid", "sodium salicylate");
        check("phosphoric acid", "disodium phosphate");
        check("pca", "sodium pca");
    }
}
