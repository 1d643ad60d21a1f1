//! What a formula supports in facts, as computed from its declared constituents.
//!
//! No marketing text: a claim must hold and be fair, in Europe under Regulation (EU) No 655/2013,
//! which for example does not like “free from” a permitted substance. That is for the
//! maker and their adviser to judge.

use crate::evaluation::Evaluation;
use crate::formula::Market;
use crate::material::Class;
use crate::mixture::Contribution;
use crate::quantity::MassFraction;

/// Whether a fact holds.
#[derive(Clone, PartialEq, Debug)]
pub enum Holds {
    /// As far as the declared constituents tell.
    Yes,
    /// It does not; the constituents that stand against it.
    No(Vec<String>),
    /// Part of the formula is of unknown composition, in percent.
    Unknown(f64),
}

/// One fact.
#[derive(Clone, PartialEq, Debug)]
pub struct Claim {
    /// What is asked for, for example “silicones”; none for a fact that stands by itself.
    pub about: Option<&'static str>,
    /// The fact that holds or not, for example “contains no silicones”.
    pub fact: String,
    /// Whether it holds.
    pub holds: Holds,
    /// How it was computed.
    pub ground: String,
}

impl Claim {
    /// The finding in words without double negatives: “Silicones: none”, “Silicones:
    /// Dimethicone”.
    pub fn words(&self) -> String {
        let Some(about) = self.about else {
            return self.fact.clone();
        };
        let mut letters = about.chars();
        let first = letters.next().map(char::to_uppercase);
        let about: String = first.into_iter().flatten().chain(letters).collect();
        match &self.holds {
            Holds::Yes => format!("{about}: none"),
            Holds::No(against) => format!("{about}: {}", against.join(", ")),
            Holds::Unknown(percent) => format!(
                "{about}: none known, but {percent:.3} % of the formula has no known composition"
            ),
        }
    }
}

/// Where it is written what a claim must keep to in a market.
pub const fn law(market: Market) -> &'static str {
    match market {
        Market::Eu => "Regulation (EU) No 655/2013",
        Market::Uk => "Regulation (EU) No 655/2013 as it stands in Great Britain",
        Market::Us => {
            "Federal Food, Drug, and Cosmetic Act, section 602(a), from general knowledge"
        }
    }
}

/// A group of substances that makers ask about.
struct Group {
    name: &'static str,
    ground: &'static str,
    is_one: fn(&str, Class) -> bool,
}

const GROUPS: [Group; 11] = [
    Group {
        name: "perfume and essential oils",
        ground: "looked for: constituents counted as fragrance",
        is_one: |_, class| class == Class::Fragrance,
    },
    Group {
        name: "colorants",
        ground: "looked for: constituents counted as colour",
        is_one: |_, class| class == Class::Colour,
    },
    Group {
        name: "sulfate surfactants",
        ground: "looked for: surfactants whose INCI name ends in “sulfate”",
        is_one: |inci, class| {
            matches!(class, Class::Surfactant(_) | Class::Emulsifier) && inci.ends_with("sulfate")
        },
    },
    Group {
        name: "parabens",
        ground: "looked for: INCI names that end in “paraben”",
        is_one: |inci, _| inci.ends_with("paraben"),
    },
    Group {
        name: "isothiazolinones",
        ground: "looked for: INCI names with “isothiazolinone”",
        is_one: |inci, _| inci.contains("isothiazolinone"),
    },
    Group {
        name: "formaldehyde donors",
        ground: "looked for: DMDM hydantoin, imidazolidinyl and diazolidinyl urea, sodium hydroxymethylglycinate, bronopol, bronidox, methenamine and quaternium-15",
        is_one: |inci, _| {
            [
                "dmdm hydantoin",
                "imidazolidinyl urea",
                "diazolidinyl urea",
                "sodium hydroxymethylglycinate",
                "2-bromo-2-nitropropane-1,3-diol",
                "quaternium-15",
                "methenamine",
                "5-bromo-5-nitro-1,3-dioxane",
            ]
            .contains(&inci)
        },
    },
    Group {
        name: "ethoxylates",
        ground: "looked for: INCI names with “PEG-”, with a word that ends in “eth” or in “eth” and a number, such as laureth, with “polysorbate” or “poloxamer”",
        is_one: |inci, _| {
            inci.contains("peg-")
                || inci.contains("polysorbate")
                || inci.contains("poloxamer")
                || inci.split([' ', '/']).any(|word| {
                    let stem = word
                        .trim_end_matches(|c: char| c.is_ascii_digit())
                        .trim_end_matches('-');
                    stem.ends_with("eth") && stem.len() > 4
                })
        },
    },
    Group {
        name: "silicones",
        ground: "looked for: INCI names with “methicone”, “siloxane”, “silane” or “silanol”",
        is_one: |inci, _| {
            ["methicone", "siloxane", "silane", "silanol"]
                .iter()
                .any(|part| inci.contains(part))
        },
    },
    Group {
        name: "mineral oil and paraffins",
        ground: "looked for: paraffin, petrolatum, mineral oil, microcrystalline wax, ozokerite, isohexadecane and isododecane",
        is_one: |inci, _| {
            [
                "paraffinum liquidum",
                "mineral oil",
                "petrolatum",
                "paraffin",
                "cera microcristallina",
                "microcrystalline wax",
                "ozokerite",
                "isohexadecane",
                "isododecane",
            ]
            .contains(&inci)
        },
    },
    Group {
        name: "ethanol",
        ground: "looked for: alcohol and denatured alcohol; fatty alcohols are not meant",
        is_one: |inci, _| inci == "alcohol" || inci.starts_with("alcohol denat"),
    },
    Group {
        name: "beeswax, honey, lanolin, silk, keratin, collagen, carmine",
        ground: "looked for: constituents of these animal origins; fats and fatty acids may be of plant or animal origin, ask the supplier",
        is_one: |inci, _| {
            [
                "cera alba",
                "beeswax",
                "mel",
                "honey",
                "lanolin",
                "silk",
                "keratin",
                "collagen",
                "ci 75470",
                "carmine",
                "lac",
            ]
            .iter()
            .any(|part| inci.split([' ', '/', ',']).any(|word| word == *part) || inci == *part)
        },
    },
];

/// Facts about a variant.
pub fn claims(evaluation: &Evaluation) -> Vec<Claim> {
    let unknown = evaluation.composition.unknown.as_percent();
    let mut claims: Vec<Claim> = GROUPS
        .iter()
        .map(|group| {
            let mut against: Vec<String> = Vec::new();
            let there = |c: &&Contribution| c.as_declared.high > MassFraction::ZERO;
            for c in evaluation.mixture.contributions.iter().filter(there) {
                if (group.is_one)(&c.inci.folded(), c.class)
                    && !against.iter().any(|a| c.inci.is(a))
                {
                    against.push(c.inci.to_string());
                }
            }
            Claim {
                about: Some(group.name),
                fact: format!("contains no {}", group.name),
                holds: if !against.is_empty() {
                    Holds::No(against)
                } else if unknown > 0.0 {
                    Holds::Unknown(unknown)
                } else {
                    Holds::Yes
                },
                ground: group.ground.to_owned(),
            }
        })
        .collect();
    let water = evaluation.composition.water();
    claims.push(Claim {
        about: Some("water"),
        fact: "contains no water".to_owned(),
        holds: if water.high.value() > 0.0 {
            Holds::No(vec![format!("{:.2} % water", water.typical.as_percent())])
        } else if unknown > 0.0 {
            Holds::Unknown(unknown)
        } else {
            Holds::Yes
        },
        ground: "water of all materials added up".to_owned(),
    });
    let origin = &evaluation.estimates.natural_origin;
    for (figure, how) in [
        (&origin.with_water, "with water"),
        (&origin.without_water, "without water"),
    ] {
        let (Some(low), Some(high)) = (figure.low, figure.high) else {
            continue;
        };
        // Rounded down, so that it does not say more than was computed.
        let (low, high) = ((low * 100.0).floor(), (high * 100.0).floor());
        let amount = if low == high {
            format!("{low:.0} %")
        } else {
            format!("{low:.0} to {high:.0} %")
        };
        claims.push(Claim {
            about: None,
            fact: format!("{amount} of natural origin by ISO 16128, {how}"),
            holds: Holds::Yes,
            ground: format!("{}; {}", figure.method, figure.source),
        });
    }
    claims
}

#[cfg(test)]
#[path = "claims_tests.rs"]
mod tests;
