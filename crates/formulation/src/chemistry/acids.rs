//! Acids, bases and ampholytes, each with its published dissociation constants.
//!
//! The constants are thermodynamic (25 °C, zero ionic strength). A family is one
//! chain of protonation: citric acid and its three sodium salts are one family.

use super::ions::ChargeNumber;

/// A family of forms that differ by protons, from the fully protonated form down.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Protolyte {
    /// Name of the acid or base as shown.
    pub name: &'static str,
    /// Charge of the fully protonated form.
    pub top_charge: ChargeNumber,
    /// pKa of each step, fully protonated form first; at most [`Protolyte::MOST_STEPS`].
    pub pka: &'static [f64],
    /// How far off each pKa may be, in pKa units; 0 if it is a tabulated constant
    /// of a simple substance.
    pub uncertainty: f64,
    /// Where the constants are published.
    pub source: &'static str,
}

impl Protolyte {
    /// The longest chain in the table (EDTA).
    pub const MOST_STEPS: usize = 5;
}

macro_rules! families {
    ($($variant:ident { $name:literal, $top:literal, [$($pka:literal),+], $uncertainty:literal, $source:expr })+) => {
        /// The acids, bases and ampholytes whose constants are known here.
        #[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
        #[expect(missing_docs, reason = "the name of each is in its Protolyte")]
        pub enum Family { $($variant,)+ }

        impl Family {
            /// All families, in the order of the table.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)+];
        }

        const TABLE: [Protolyte; Family::COUNT] = [$(Protolyte {
            name: $name,
            top_charge: $top,
            pka: &[$($pka),+],
            uncertainty: $uncertainty,
            source: $source,
        },)+];
    };
}

impl Family {
    /// How many there are.
    pub const COUNT: usize = Self::ALL.len();
    /// Its constants.
    pub const fn protolyte(self) -> &'static Protolyte {
        &TABLE[self as usize]
    }
}

const CRC: &str = "CRC Handbook of Chemistry and Physics, Dissociation Constants of Organic Acids and Bases (25 °C); value from memory";
const NIST_46: &str = "NIST Standard Reference Database 46 (critically selected stability constants), as carried in the geochemical data set minteq.v4";
const MARTELL: &str =
    "Martell and Smith, Critical Stability Constants; value from memory, ionic strength 0.1";
const IUPAC: &str = "E. P. Serjeant and B. Dempsey 1979, D. D. Perrin 1965 and 1972, IUPAC, 25 °C, as digitised by IUPAC (version 1.0, 2022)";
const APPARENT: &str =
    "apparent constant of a surface-active or polymeric substance, from memory, no single source";

families! {
    Citric { "citric acid", 0, [3.13, 4.76, 6.40], 0.0, "rounded from 3.128, 4.761 and 6.396 of NIST Standard Reference Database 46, as carried in the geochemical data set minteq.v4" }
    Lactic { "lactic acid", 0, [3.86], 0.0, IUPAC }
    Glycolic { "glycolic acid", 0, [3.83], 0.0, IUPAC }
    Gluconic { "gluconic acid", 0, [3.86], 0.1, "3.76 at 17 °C, IUPAC Digitized pKa Dataset, serjeant2905; taken 0.1 higher for 25 °C, with an uncertainty of that size" }
    Acetic { "acetic acid", 0, [4.756], 0.0, "CRC Handbook of Chemistry and Physics; 4.757 in NIST Standard Reference Database 46, as carried in the geochemical data set minteq.v4" }
    Benzoic { "benzoic acid", 0, [4.20], 0.0, "E. P. Serjeant and B. Dempsey, Ionisation Constants of Organic Acids in Aqueous Solution, IUPAC 1979 (4.202 to 4.205 at 25 °C), as digitised by IUPAC" }
    Sorbic { "sorbic acid", 0, [4.76], 0.15, "J. Smith and L. Hong-Shum, Food Additives Data Book, 2003; 4.51 at ionic strength 0.1 (about 4.62 at zero) in the IUPAC Digitized pKa Dataset 2.4, serjeant2850b" }
    Dehydroacetic { "dehydroacetic acid", 0, [5.27], 0.0, "SCCS and European pharmacopoeial literature on dehydroacetic acid; value from memory" }
    Levulinic { "levulinic acid", 0, [4.64], 0.04, "4.6, Uncertain: IUPAC Digitized pKa Dataset, serjeant2562; 4.64 lies within its rounding" }
    Anisic { "p-anisic acid", 0, [4.47], 0.03, "4.496 and 4.511, Reliable: IUPAC Digitized pKa Dataset, serjeant4006; taken 0.03 lower, which is the uncertainty" }
    Salicylic { "salicylic acid", 0, [2.97], 0.0, IUPAC }
    Propionic { "propionic acid", 0, [4.874], 0.0, NIST_46 }
    Formic { "formic acid", 0, [3.745], 0.0, NIST_46 }
    Undecylenic { "undecylenic acid", 0, [4.8], 0.2, "taken as that of hexanoic acid, 4.8 at ionic strength 0.01, IUPAC Digitized pKa Dataset, serjeant2897" }
    Malic { "malic acid", 0, [3.459, 5.097], 0.0, IUPAC }
    Tartaric { "tartaric acid", 0, [3.036, 4.366], 0.0, NIST_46 }
    Succinic { "succinic acid", 0, [4.21, 5.64], 0.0, IUPAC }
    Mandelic { "mandelic acid", 0, [3.41], 0.0, "3.19 at ionic strength 0.1, IUPAC Digitized pKa Dataset, serjeant3988, brought to zero by Davies' equation (3.40)" }
    Azelaic { "azelaic acid", 0, [4.55, 5.53], 0.05, "4.55 to 4.56 and 5.50 to 5.53, IUPAC Digitized pKa Dataset, serjeant4641" }
    Ascorbic { "ascorbic acid", 0, [4.25, 11.76], 0.1, "4.04 and 11.34 at ionic strength 0.1, IUPAC Digitized pKa Dataset 2.4, serjeant2861, brought to zero by Davies' equation" }
    Ferulic { "ferulic acid", 0, [4.58, 9.39], 0.1, IUPAC }
    Pca { "pyroglutamic acid (PCA)", 0, [3.32], 0.0, CRC }
    Glutamic { "glutamic acid", 1, [2.16, 4.30, 9.96], 0.0, NIST_46 }
    Aspartic { "aspartic acid", 1, [1.99, 3.90, 9.84], 0.0, IUPAC }
    Glycine { "glycine", 1, [2.350, 9.778], 0.0, NIST_46 }
    Arginine { "arginine", 2, [1.82, 8.99, 13.8], 0.0, "1.82 CRC Handbook, from memory; 9.00 by interpolation of 9.13 (20 °C) and 8.877 (30 °C), IUPAC Digitized pKa Dataset 2.4, perrin3081, taken as 8.99; 13.8 ± 0.1, C. A. Fitch, G. Platzer, M. Okon, B. Garcia-Moreno E. and L. P. McIntosh, Protein Sci. 24 (2015) 752" }
    Lysine { "lysine", 2, [2.16, 9.06, 10.54], 0.1, "9.06 and 10.54 at ionic strength 0.1, IUPAC Digitized pKa Dataset, perrin_supp7698; first step CRC Handbook, from memory" }
    TrimethylGlycine { "betaine (trimethylglycine)", 1, [1.83], 0.0, IUPAC }
    Niacinamide { "niacinamide", 1, [3.35], 0.0, IUPAC }
    Phosphoric { "phosphoric acid", 0, [2.148, 7.198, 12.375], 0.0, NIST_46 }
    Carbonic { "carbonic acid", 0, [6.352, 10.329], 0.0, NIST_46 }
    Sulfuric { "sulfuric acid, second step", -1, [1.99], 0.0, NIST_46 }
    Sulfurous { "sulfurous acid", 0, [1.857, 7.172], 0.0, CRC }
    Boric { "boric acid", 0, [9.236], 0.0, NIST_46 }
    Ammonia { "ammonium", 1, [9.244], 0.0, NIST_46 }
    Triethanolamine { "triethanolammonium", 1, [7.76], 0.0, IUPAC }
    Diethanolamine { "diethanolammonium", 1, [8.88], 0.0, IUPAC }
    Ethanolamine { "ethanolammonium", 1, [9.50], 0.0, IUPAC }
    Tromethamine { "tromethamine (tris)", 1, [8.072], 0.0, IUPAC }
    AminomethylPropanol { "aminomethyl propanol", 1, [9.69], 0.0, "9.65 to 9.72 at ionic strength 0.1 to 0.5, IUPAC Digitized pKa Dataset, perrin0151" }
    Edta { "EDTA", 1, [1.50, 2.16, 3.119, 6.273, 10.948], 0.0, NIST_46 }
    Glda { "glutamic acid diacetic acid", 0, [2.1, 2.7, 4.8, 9.66], 0.2, "L. Erdey, J. Gyimesi and T. Meisel, Acta Chim. Acad. Sci. Hung. 21 (1959) 327, 20 °C, as in the IUPAC Digitized pKa Dataset, serjeant4831" }
    Mgda { "methylglycine diacetic acid", 0, [1.6, 2.5, 10.5], 0.2, "makers' data on trisodium dicarboxymethyl alaninate; from memory" }
    Edds { "ethylenediamine disuccinic acid", 0, [2.95, 3.86, 6.84, 10.01], 0.1, MARTELL }
    Etidronic { "etidronic acid", 0, [1.7, 2.47, 7.28, 10.29], 0.2, MARTELL }
    Phytic { "phytic acid (its fourth to sixth proton)", 0, [1.5, 1.8, 2.1], 0.3, "values from memory, several papers; the first three protons are taken as strong" }
    Gluceptic { "glucoheptonic acid", 0, [3.8], 0.2, "taken as that of gluconic acid" }
    Hydroxamic { "medium-chain hydroxamic acid", 0, [9.4], 0.3, "9.4 to 9.75 for hexanohydroxamic and acetohydroxamic acid, IUPAC Digitized pKa Dataset, serjeant3222 and serjeant2087" }
    Paraben { "paraben (phenol group)", 0, [8.4], 0.2, "8.34 to 8.5, ethyl 4-hydroxybenzoate, IUPAC Digitized pKa Dataset, serjeant4585" }
    // The constant rises as the chain is charged: 4.5 to 4.8 for the first groups, about 6.8 for
    // the last; taken as pairs of groups.
    Carbomer { "carbomer (pairs of carboxyl groups)", 0, [4.5, 6.8], 0.4, "apparent constant of polyacrylic acid, 4.5 uncharged and near 6.8 charged (A. Katchalsky and P. Spitnik, J. Polymer Sci. 2 (1947) 432), from memory" }
    AcylAmino { "acyl amino acid surfactant (carboxyl group)", 0, [4.8], 0.7, "3.67 to 3.69 for N-acetylglycine, IUPAC Digitized pKa Dataset, perrin3141; about 1 higher at the surface of micelles, from memory" }
    Sarcosinate { "acyl sarcosinate (carboxyl group)", 0, [3.7], 0.5, "3.67 to 3.69 for N-acetylglycine, IUPAC Digitized pKa Dataset, perrin3141; higher at the surface of micelles" }
    AmineOxide { "amine oxide", 1, [4.8], 0.3, "4.6 to 4.65 for trimethylamine oxide and 5.13 for triethylamine oxide, IUPAC Digitized pKa Dataset, perrin0032 and perrin133" }
    Amidoamine { "amidopropyl dimethylamine", 1, [9.1], 0.5, APPARENT }
    Amphoacetate { "amphoacetate (amine group)", 0, [8.8], 0.8, APPARENT }
    EtherCarboxylate { "alkyl ether carboxylic acid", 0, [4.4], 0.5, "3.57 for methoxyacetic and 3.84 for ethoxyacetic acid, IUPAC Digitized pKa Dataset, serjeant2144 and serjeant2325; higher at the surface of micelles, from memory" }
    Fatty { "fatty acid (soap)", 0, [7.5], 1.0, APPARENT }
    CarboxyBetaine { "alkyl betaine (carboxyl group)", 1, [1.83], 0.3, "taken as that of trimethylglycine; anionic micelles raise it" }
    AscorbylPhosphate { "ascorbyl phosphate", 0, [1.3, 3.4, 6.3], 0.3, "values from memory, several papers; supported by the pH 9 to 10 of solutions of its sodium salt" }
    AscorbylGlucoside { "ascorbyl glucoside", 0, [3.4, 11.5], 0.2, "makers' data (pH 2 to 3 of a solution of 3 %); from memory" }
    HydroxymethylGlycinate { "hydroxymethylglycine (amine group)", 1, [2.3, 9.2], 0.5, "taken as that of glycine, lowered by the hydroxymethyl group; from memory" }
    Monoisopropanolamine { "isopropanolammonium", 1, [9.47], 0.0, IUPAC }
    Triisopropanolamine { "triisopropanolammonium", 1, [7.86], 0.0, IUPAC }
    Kojic { "kojic acid", 0, [7.9], 0.2, "7.75 at ionic strength 0.1, Uncertain: IUPAC Digitized pKa Dataset 2.4, serjeant2839, brought to zero ionic strength" }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_chain_is_in_order_and_has_a_source() {
        for family in Family::ALL {
            let protolyte = family.protolyte();
            assert!(!protolyte.source.is_empty(), "{family:?}");
            assert!(
                protolyte.pka.len() <= Protolyte::MOST_STEPS,
                "{family:?} is longer than the solver's tables"
            );
            assert!(
                protolyte.pka.windows(2).all(|w| w[0] < w[1]),
                "{family:?}: constants must rise from step to step"
            );
        }
    }
}
