//! How much of a sparingly soluble substance dissolves: solids of bases and carbonates by
//! their published solubility constants, acids by the published solubility in water.
//!
//! What lies undissolved at the bottom of a suspension takes no part in the equilibrium.

use std::sync::LazyLock;

use super::acids::Family;
use super::ions::StrongIon;

/// Measured solubilities of organic substances; log S is per litre of solution.
pub(super) const HUUSKONEN: &str = "measured log S of J. Huuskonen, J. Chem. Inf. Comput. Sci. 40 (2000) 773, as corrected by I. V. Tetko and others, ibid. 41 (2001) 1488";

/// A solid that dissolves to its solubility constant.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Solid {
    /// Mg(OH)₂.
    MagnesiumHydroxide,
    /// Ca(OH)₂.
    CalciumHydroxide,
    /// ZnO.
    ZincOxide,
    /// CaCO₃ as calcite.
    CalciumCarbonate,
    /// Mg₅(CO₃)₄(OH)₂·4 H₂O, hydromagnesite: magnesium carbonate as it is sold.
    MagnesiumCarbonate,
    /// ZnCO₃ as smithsonite.
    ZincCarbonate,
    /// Zn₅(OH)₆(CO₃)₂, hydrozincite: basic zinc carbonate.
    ZincCarbonateHydroxide,
}

/// What a solid dissolves to, at 25 °C and zero ionic strength.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Dissolution {
    /// Name as shown.
    pub name: &'static str,
    /// The cation, of charge 2.
    pub cation: StrongIon,
    /// log₁₀ of the constant for one mole of the cation, with x moles of carbonate and w of
    /// water: M²⁺ · (CO₃²⁻)ˣ · aᵂ over (H⁺)²⁻²ˣ.
    pub log_k: f64,
    /// Moles of carbonate that go into solution with a mole of the cation, 0 to 1.
    pub carbonate: f64,
    /// Moles of water that form as a mole of the cation dissolves.
    pub water: f64,
    /// Where the constant is published.
    pub source: &'static str,
}

const MINTEQ: &str = "data set minteq.v4 of the United States Environmental Protection Agency, as carried with PHREEQC (brucite 16.844, portlandite 22.804, zincite 11.334; others have 16.3 to 17.1, 22.6 to 22.8, 11.14 to 11.31)";
const WATEQ: &str = "data set wateq4f of the United States Geological Survey, as carried with PHREEQC (calcite −8.48, hydromagnesite −8.762 for five magnesium where llnl has −10.46, smithsonite −10.0)";
const LLNL: &str = "data set llnl of the Lawrence Livermore National Laboratory, as carried with PHREEQC: Zn5(OH)6(CO3)2 + 8 H+ = 2 HCO3- + 5 Zn+2 + 6 H2O, log K 30.3076 (the data set of ThermoChimie has 26.9 for crystals, 29.7 for fine powder)";
const HENRY: &str = "carbon dioxide at one atmosphere and 25 °C, 0.034 mol/kg: log K −1.468 of the data set phreeqc.dat";
/// −log₁₀ of the second constant of carbonic acid, in the data sets named.
const HYDROGEN_CARBONATE: f64 = 10.329;

impl Solid {
    /// All of them, in the order of the table.
    pub const ALL: [Self; 7] = [
        Self::MagnesiumHydroxide,
        Self::CalciumHydroxide,
        Self::ZincOxide,
        Self::CalciumCarbonate,
        Self::MagnesiumCarbonate,
        Self::ZincCarbonate,
        Self::ZincCarbonateHydroxide,
    ];
    /// How many there are.
    pub const COUNT: usize = Self::ALL.len();

    /// Its constants.
    pub const fn dissolution(self) -> Dissolution {
        use StrongIon::{Calcium, Magnesium, Zinc};
        let (name, cation, log_k, carbonate, water, source) = match self {
            Self::MagnesiumHydroxide => {
                ("magnesium hydroxide", Magnesium, 16.844, 0.0, 2.0, MINTEQ)
            }
            Self::CalciumHydroxide => ("calcium hydroxide", Calcium, 22.804, 0.0, 2.0, MINTEQ),
            Self::ZincOxide => ("zinc oxide", Zinc, 11.334, 0.0, 1.0, MINTEQ),
            Self::CalciumCarbonate => ("calcium carbonate", Calcium, -8.48, 1.0, 0.0, WATEQ),
            Self::MagnesiumCarbonate => (
                "magnesium carbonate",
                Magnesium,
                -8.762 / 5.0,
                0.8,
                1.2,
                WATEQ,
            ),
            Self::ZincCarbonate => ("zinc carbonate", Zinc, -10.0, 1.0, 0.0, WATEQ),
            Self::ZincCarbonateHydroxide => (
                "basic zinc carbonate",
                Zinc,
                (30.3076 - 2.0 * HYDROGEN_CARBONATE) / 5.0,
                0.4,
                1.2,
                LLNL,
            ),
        };
        Dissolution {
            name,
            cation,
            log_k,
            carbonate,
            water,
            source,
        }
    }
}

/// The published solubility of an acid in water.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct AcidSolubility {
    /// The acid.
    pub family: Family,
    /// Grams that dissolve in a kilogram of water at 20 to 25 °C.
    pub g_per_kg: f64,
    /// Molar mass of the acid, g/mol.
    pub molar_mass: f64,
    /// Where it is published.
    pub source: &'static str,
}

const SALTS: &str = "between the figures at 20 and at 30 °C of the public “Solubility table” (Wikipedia, after handbooks)";
const AQSOLDB: &str =
    "log S −3.55, three sources: M. C. Sorkun, A. Khetan and S. Er, Scientific Data 6 (2019) 143";
const DELANEY: &str = "log S −1.827 of methylparaben: J. S. Delaney, J. Chem. Inf. Comput. Sci. 44 (2004) 1000, supporting data";
const CRC_SOLUBILITY: &str = "CRC Handbook of Chemistry and Physics, aqueous solubility of organic compounds, 25 °C; value from memory";
const MERCK: &str = "Merck Index, 20 to 25 °C; value from memory";
const LITERATURE: &str = "data sheets and papers, 20 to 25 °C; value from memory";

const fn acid(
    family: Family,
    g_per_kg: f64,
    molar_mass: f64,
    source: &'static str,
) -> AcidSolubility {
    AcidSolubility {
        family,
        g_per_kg,
        molar_mass,
        source,
    }
}

/// Acids of which less dissolves than a formula may hold.
pub const ACIDS: [AcidSolubility; 14] = [
    acid(Family::Benzoic, 3.4, 122.123, HUUSKONEN),
    acid(Family::Sorbic, 1.9, 112.128, HUUSKONEN),
    acid(Family::Salicylic, 2.1, 138.122, HUUSKONEN),
    acid(Family::Dehydroacetic, 0.7, 168.148, MERCK),
    acid(Family::Anisic, 0.3, 152.149, CRC_SOLUBILITY),
    acid(Family::Azelaic, 2.4, 188.22, HUUSKONEN),
    acid(Family::Ferulic, 0.65, 194.18, LITERATURE),
    acid(Family::Succinic, 79.0, 118.088, HUUSKONEN),
    acid(Family::Boric, 57.0, 61.83, SALTS),
    acid(Family::Undecylenic, 0.052, 184.28, AQSOLDB),
    acid(Family::Hydroxamic, 1.5, 159.23, LITERATURE),
    acid(Family::Paraben, 2.27, 152.149, DELANEY),
    acid(Family::Mandelic, 160.0, 152.149, MERCK),
    // Carbon dioxide at one atmosphere, log K = −1.468: what is more escapes.
    acid(Family::Carbonic, 1.5, 44.009, HENRY),
];

/// Molality of the uncharged form at saturation, per family; infinite where there is no
/// limit to speak of.
///
/// The published figure counts what is dissociated as well: with s dissolved in all and
/// the first constant K, the uncharged part u solves u + √(K u) = s.
static LIMITS: LazyLock<[f64; Family::COUNT]> = LazyLock::new(|| {
    let mut limits = [f64::INFINITY; Family::COUNT];
    for acid in &ACIDS {
        let all = acid.g_per_kg / acid.molar_mass;
        let protolyte = acid.family.protolyte();
        let k = protolyte.pka.first().map_or(0.0, |pka| 10.0_f64.powf(-pka));
        let root = f64::midpoint(-k.sqrt(), (k + 4.0 * all).sqrt());
        limits[acid.family as usize] = root * root;
    }
    limits
});

/// Grams of an acid that dissolve in a kilogram of water; none without a limit to speak of.
pub fn g_per_kg(family: Family) -> Option<f64> {
    let acid = ACIDS.iter().find(|acid| acid.family == family)?;
    Some(acid.g_per_kg)
}

/// Molality of the uncharged form of an acid at saturation; infinite without a limit.
pub fn uncharged_limit(family: Family) -> f64 {
    LIMITS[family as usize]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Salicylic acid: 15.2 mmol/kg dissolve, of which 3.5 mmol are dissociated
    /// (K = 10⁻²·⁹⁷), so that 11.7 mmol/kg are not.
    #[test]
    fn solubilities_are_those_of_their_sources() {
        // Each source stands in the head of the table.
        let text = include_str!("../../../../tests/reference/chemistry/solubility.csv");
        let (mut substances, mut acids) = (0, 0);
        for row in text.lines().filter(|l| l.starts_with('"')) {
            let mut parts = row.split(',');
            let name = parts.next().unwrap().trim_matches('"');
            let mut figure = || parts.next().unwrap().parse::<f64>().unwrap();
            let (low, high) = (figure(), figure());
            let substance = super::super::substances::by_name(name);
            if let Some(saturation) = substance.and_then(|s| s.saturation) {
                let g = saturation.g_per_kg;
                assert!((low..=high).contains(&g), "{name}: {g}");
                assert!(!saturation.source.contains("memory"), "{name}");
                substances += 1;
            }
            let family = substance.and_then(|s| match s.brings {
                [super::super::substances::Brings::Weak(family, _)] => Some(*family),
                _ => None,
            });
            let acid = ACIDS.iter().find(|a| Some(a.family) == family);
            if let Some(acid) = acid {
                let g = acid.g_per_kg;
                assert!((low..=high).contains(&g), "{name}: {g}");
                assert!(!acid.source.contains("memory"), "{name}");
                acids += 1;
            }
        }
        assert!(substances >= 30 && acids >= 8, "{substances}, {acids}");
    }

    #[test]
    fn the_uncharged_part_of_a_saturated_acid() {
        let limit = uncharged_limit(Family::Salicylic);
        assert!((limit - 0.0117).abs() < 0.0002, "{limit}");
        assert!(uncharged_limit(Family::Citric).is_infinite());
        for acid in &ACIDS {
            assert_eq!(acid.family.protolyte().top_charge, 0, "{:?}", acid.family);
        }
    }
}
