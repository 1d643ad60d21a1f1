//! The constants that the chemistry reckons with for a substance, each with what it rests on:
//! for whoever wants to see behind an estimate.

pub use super::basis::basis_of;
use super::emulsion;
use super::partition;
use super::soap::{self, Fat, SapBasis};
use super::solubility;
use super::substances::{self, Brings, LOG_P_SOURCE, MassSource, Substance, WaterEffect};
use crate::amount::measure::tidy;
use crate::cas::Cas;
use crate::material::{Basis, Source};

/// What a constant says.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum ConstantKind {
    /// Grams per mole.
    MolarMass,
    /// pKa of each step.
    Dissociation,
    /// Octanol-water partition.
    Partition,
    /// Partition into oils and micelles.
    Uptake,
    /// How it lowers the activity of water.
    WaterActivity,
    /// The room it takes in solution.
    Room,
    /// How much dissolves in water.
    Solubility,
    /// How much of an acid dissolves while it is uncharged.
    AcidSolubility,
    /// The constant to which a solid dissolves.
    SolubilityConstant,
    /// Alkali that a fat takes up.
    Saponification,
    /// What an oil requires of the emulsifiers for water-in-oil.
    WaterInOil,
}

impl ConstantKind {
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::MolarMass => "molar mass",
            Self::Dissociation => "dissociation constant",
            Self::Partition => "octanol-water partition",
            Self::Uptake => "partition into oils and micelles",
            Self::WaterActivity => "lowering of the water activity",
            Self::Room => "room in solution",
            Self::Solubility => "solubility in water",
            Self::AcidSolubility => "solubility of an acid",
            Self::SolubilityConstant => "solubility constant",
            Self::Saponification => "saponification value",
            Self::WaterInOil => "HLB required for water-in-oil",
        }
    }
}

/// One constant.
#[derive(Clone, PartialEq, Debug)]
pub struct Constant {
    /// What it says.
    pub kind: ConstantKind,
    /// The value with its unit, in words.
    pub value: String,
    /// Where it is from.
    pub source: Source,
}

impl Constant {
    fn new(kind: ConstantKind, value: String, source: &'static str) -> Self {
        Self {
            kind,
            value,
            source: Source::new(basis_of(source), source),
        }
    }
}

/// The constants of a substance.
pub fn of_substance(substance: &Substance) -> Vec<Constant> {
    let mut found = vec![Constant {
        kind: ConstantKind::MolarMass,
        value: format!("{} g/mol", substance.molar_mass),
        source: match substance.mass_source {
            MassSource::Formula => Source::new(
                Basis::Estimate,
                "from the formula, of mixtures the mean one, with the standard atomic weights",
            ),
            MassSource::Memory => Source::new(Basis::Typical, ""),
        },
    }];
    let mut add = |kind, value, source| found.push(Constant::new(kind, value, source));
    for brings in substance.brings {
        match *brings {
            Brings::Weak(family, _) => {
                let acid = family.protolyte();
                let steps: Vec<String> = acid.pka.iter().map(f64::to_string).collect();
                let value = format!("{}: pKa {}", acid.name, steps.join(", "));
                add(ConstantKind::Dissociation, value, acid.source);
                for limit in solubility::ACIDS.iter().filter(|a| a.family == family) {
                    let value = format!("{}: {} g per kg of water", acid.name, limit.g_per_kg);
                    add(ConstantKind::AcidSolubility, value, limit.source);
                }
            }
            Brings::Solid(solid, _) => {
                let solid = solid.dissolution();
                let value = format!("{}: log K {}", solid.name, tidy(solid.log_k, 4));
                add(ConstantKind::SolubilityConstant, value, solid.source);
            }
            Brings::Strong(..) => {}
        }
    }
    if let Some(log_p) = substance.log_p {
        add(
            ConstantKind::Partition,
            format!("log P {log_p}"),
            LOG_P_SOURCE,
        );
    }
    for (into, ratio, source) in partition::singles(substance.name()) {
        add(ConstantKind::Uptake, format!("{into} {ratio}"), source);
    }
    for rule in (substance.log_p.into_iter()).flat_map(|p| partition::by_rule(substance.name(), p))
    {
        let (into, factor) = (rule.into, rule.factor);
        // Two digits tell all that a rule knows.
        let ratio = tidy(rule.ratio, 1 - rule.ratio.log10().floor() as i32);
        let value =
            format!("{into} {ratio} by the octanol-water partition, within a factor of {factor}");
        add(ConstantKind::Uptake, value, rule.source);
    }
    if let WaterEffect::Norrish { k, source } = substance.water {
        add(
            ConstantKind::WaterActivity,
            format!("Norrish's K {k}"),
            source,
        );
    }
    if let Some(volume) = substance.volume {
        let dilute = volume.a.first().copied().unwrap_or(0.0);
        let value = format!("{dilute} ml/g at 20 °C, diluted");
        add(ConstantKind::Room, value, volume.source);
    }
    if let Some(saturation) = substance.saturation {
        let value = format!("{} g per kg of water", saturation.g_per_kg);
        add(ConstantKind::Solubility, value, saturation.source);
    }
    found
}

/// The saponification value of a fat.
pub fn of_fat(fat: &Fat) -> Constant {
    let (low, typical, high) = fat.value;
    let basis = match fat.basis {
        SapBasis::Published => Basis::Published,
        SapBasis::Computed => Basis::Estimate,
        SapBasis::Memory => Basis::Typical,
    };
    let range = if low < high {
        format!(" ({low} to {high})")
    } else {
        String::new()
    };
    let source = if fat.composition.is_empty() {
        fat.source.to_owned()
    } else {
        format!(
            "range: {}; typical value computed from the fatty acids: {}",
            fat.source, fat.composition
        )
    };
    Constant {
        kind: ConstantKind::Saponification,
        value: format!("{typical}{range} mg of potassium hydroxide per g"),
        source: Source::new(basis, source),
    }
}

/// The constants of what a constituent is; empty if nothing is known of it.
pub fn of_constituent(inci: &str, cas: Option<Cas>) -> Vec<Constant> {
    let substance = substances::find(inci, cas).filter(|s| !s.is_water());
    let mut found = substance.map(of_substance).unwrap_or_default();
    found.extend(soap::fat(inci, cas).map(of_fat));
    found.extend(emulsion::for_water_in_oil(inci).map(|of| Constant {
        kind: ConstantKind::WaterInOil,
        value: of.value.to_string(),
        source: Source::new(of.basis, of.source),
    }));
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(inci: &str) -> Vec<String> {
        of_constituent(inci, None)
            .iter()
            .map(|c| format!("{} {} {}", c.kind.label(), c.value, c.source))
            .collect()
    }

    #[test]
    fn each_constant_says_what_it_rests_on() {
        let benzoate = told("Sodium Benzoate").join("\n");
        for words in [
            "molar mass 144.105 g/mol from the formula",
            "benzoic acid: pKa 4.2 ",
            "(published)",
            "solubility in water 660 g per kg",
        ] {
            assert!(benzoate.contains(words), "{words}: {benzoate}");
        }
        let carbomer = told("Carbomer").join("\n");
        assert!(carbomer.contains("76 g/mol typical"), "{carbomer}");
        assert!(carbomer.contains("from memory"), "{carbomer}");
        let olive = told("Olea Europaea Fruit Oil").join("\n");
        assert!(
            olive.contains("saponification value 193 (184 to 196)"),
            "{olive}"
        );
        let beeswax = told("Cera Alba").join("\n");
        assert!(
            beeswax.contains("HLB required for water-in-oil 5 table of W. C. Griffin 1949"),
            "{beeswax}"
        );
        // What partition is reckoned with stands beside its source: published, or by a rule.
        let paraben = told("Propylparaben").join("\n");
        for words in [
            "partition into oils and micelles vegetable oils 80 the same, soya oil (published)",
            "esters 190 by the octanol-water partition, within a factor of 3 from memory",
            "our assumption: as in paraffin",
        ] {
            assert!(paraben.contains(words), "{words}: {paraben}");
        }
        assert!(told("Aqua").is_empty() && told("no such thing").is_empty());
    }

    #[test]
    fn the_words_of_a_source_tell_how_sure_it_is() {
        assert_eq!(basis_of("CRC Handbook, value from memory"), Basis::Typical);
        assert_eq!(basis_of("taken as that of glycine"), Basis::Typical);
        assert_eq!(basis_of("Raoult's law; no constant known"), Basis::Estimate);
        assert_eq!(
            basis_of("NIST Standard Reference Database 46"),
            Basis::Published
        );
    }
}
