//! Emulsification by the HLB system of W. C. Griffin (J. Soc. Cosmet. Chem. 1 (1949)
//! 311; 5 (1954) 249): what the oils require, what the emulsifiers provide.

mod needs;

use std::collections::HashMap;
use std::sync::LazyLock;

pub(super) use self::needs::for_water_in_oil;
use self::needs::{Needs, Told};
use super::figure::Figure;
use super::mix::{Mix, MixConstituent};
use super::partition_table::is_oil_filter;
use super::water_limits::NO_EMULSION_PERCENT;
use crate::formula::ItemId;
use crate::inci::{Inci, InciKey};
use crate::material::{Charge, Class, Material, PhaseKind, Role};
use crate::shelf;
use crate::substance_words;

/// The method, in words.
pub const METHOD: &str = "HLB by mass: mean of the required HLB of the oils, mean of the HLB of the non-ionic emulsifiers";
/// Its range, in words.
pub const VALIDITY: &str = "non-ionic emulsifiers of low molar mass; charged and polymeric emulsifiers are outside the HLB system; required values are rules of thumb, published ones ±1, others ±2; few oils have one for water-in-oil";
/// Its sources, in words.
pub const SOURCE: &str =
    "W. C. Griffin 1949 and 1954; values of the materials with their own sources";

/// Required HLB taken as the ends of the range for oils without a value.
const UNTOLD_REQUIRED: (f64, f64) = (4.0, 16.0);
/// Share of oil in a material below which it is a minor part, such as the carrier of an
/// extract.
pub(crate) const MINOR_OIL: f64 = 0.05;
/// Share of oil by volume above which equal drops touch: closest packing of spheres
/// (W. Ostwald, Kolloid-Z. 6 (1910) 103).
pub const CLOSEST_PACKING: f64 = 0.74;
/// Share of oil by volume below which a water-in-oil emulsion gets stiff and may turn over;
/// common practice, no source.
const LEAST_OIL_AROUND_WATER: f64 = 0.15;
/// Density of oil taken for its volume, g/ml; common practice, no source.
pub(super) const OIL_G_ML: f64 = 0.92;
/// Oil and water, % of the formula, below which there is no emulsion to speak of.
const LEAST_OF_EACH: (f64, f64) = (0.5, NO_EMULSION_PERCENT);
/// Surfactant from which it is a wash, whose micelles hold oil up to about their own mass, % of
/// the formula; common practice, no source.
const WASH: f64 = 3.0;
/// Below this HLB emulsifiers favour water-in-oil (Griffin 1949: 4 to 6 for
/// water-in-oil, 8 to 18 for oil-in-water).
pub const OIL_IN_WATER_FROM: f64 = 8.0;
/// HLB of emulsifiers for water-in-oil, taken as the ends of the range for oils without a value:
/// Griffin 1949 has 4 to 6, textbooks after him 3 to 6.
const WATER_IN_OIL: (f64, f64) = (3.0, 6.0);
/// Distance between required and provided that is worth a word; common practice.
pub const NEAR: f64 = 1.5;

/// Why a mix is no emulsion, so that no HLB says anything about it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum NoEmulsion {
    /// There is no oil phase.
    NoOil,
    /// There is no water phase, and nothing that would emulsify with the water of rinsing.
    NoWater,
    /// The micelles of a wash hold the oil.
    Micelles,
    /// Lye has turned the oils into soap.
    Saponified,
}

impl NoEmulsion {
    /// The sentence shown.
    pub const fn words(self) -> &'static str {
        match self {
            Self::NoOil => {
                "there is no oil phase, so this is no emulsion; a solubiliser of perfume is judged by a trial, not by HLB"
            }
            Self::NoWater => "there is no water phase, so this is no emulsion",
            Self::Micelles => {
                "the micelles of the surfactants hold the oil, so this is no emulsion in the sense of the HLB system"
            }
            Self::Saponified => {
                "lye and fats turn into soap, so this is no emulsion; the soap holds what is left of the oil"
            }
        }
    }
}

/// Emulsion figures of a mix.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Emulsion {
    /// Why there is no emulsion and thus no HLB; none if there is one, or may be.
    pub absent: Option<NoEmulsion>,
    /// Whether it is judged as water-in-oil: the emulsifiers make the oil the outer phase.
    pub water_in_oil: bool,
    /// HLB that the oils require, for the kind of emulsion that it is judged as.
    pub required: Figure,
    /// HLB that the emulsifiers provide.
    pub provided: Figure,
    /// Split between the two largest emulsifiers that meets the required HLB.
    pub split: Option<Split>,
    /// Oil, % of the formula.
    pub oil_percent: f64,
    /// Water, % of the formula.
    pub water_percent: f64,
    /// Emulsifiers, % of the formula.
    pub emulsifier_percent: f64,
    /// Emulsifiers outside the HLB system, with the reason.
    pub outside: Vec<String>,
    /// What speaks against the emulsion holding, in words.
    pub doubts: Vec<String>,
}

/// How two emulsifiers share the work.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Split {
    /// The line of the lower HLB.
    pub low: ItemId,
    /// Its HLB.
    pub low_hlb: f64,
    /// Its share of the two together, 0 to 1.
    pub low_share: f64,
    /// The line of the higher HLB.
    pub high: ItemId,
    /// Its HLB.
    pub high_hlb: f64,
    /// Its share.
    pub high_share: f64,
}

impl Emulsion {
    /// The kind of emulsion that it is judged as, in words.
    pub const fn kind(&self) -> &'static str {
        if self.water_in_oil {
            "water-in-oil"
        } else {
            "oil-in-water"
        }
    }

    /// The same mix, which is no emulsion: what is in it, without HLB.
    pub(super) fn without(mut self, why: NoEmulsion) -> Self {
        self.absent = Some(why);
        self.required = self.required.without(why.words());
        self.provided = self.provided.without(why.words());
        self.required.unknown.clear();
        self.provided.unknown.clear();
        self.split = None;
        self.outside.clear();
        self.doubts.clear();
        self
    }
}

impl Split {
    /// HLB of the two together against the share of the higher one in percent.
    pub fn blends(&self) -> [[f64; 2]; 2] {
        [[0.0, self.low_hlb], [100.0, self.high_hlb]]
    }
}

/// Mean HLB by mass of pairs of mass and HLB; `None` if the masses add up to nothing.
pub fn mean(parts: impl IntoIterator<Item = (f64, f64)>) -> Option<f64> {
    let (mass, sum) = parts
        .into_iter()
        .filter(|(m, h)| m.is_finite() && h.is_finite() && *m > 0.0)
        .fold((0.0, 0.0), |(mass, sum), (m, h)| (mass + m, sum + m * h));
    (mass > 0.0).then(|| sum / mass)
}

/// Shares of two emulsifiers of a lower and a higher HLB that together give a wanted
/// HLB; `None` if it does not lie between them.
pub fn split(low_hlb: f64, high_hlb: f64, wanted: f64) -> Option<(f64, f64)> {
    if high_hlb <= low_hlb || !(low_hlb..=high_hlb).contains(&wanted) {
        return None;
    }
    let high = (wanted - low_hlb) / (high_hlb - low_hlb);
    Some((1.0 - high, high))
}

/// Estimates the emulsion figures of a mix; `rinsed` tells whether it meets the water of
/// rinsing.
pub fn estimate(mix: &Mix<'_>, rinsed: bool) -> Emulsion {
    let mut found = Emulsion {
        required: Figure::of(METHOD, VALIDITY, SOURCE),
        provided: Figure::of(METHOD, VALIDITY, SOURCE),
        oil_percent: 100.0 * oil_of(mix),
        water_percent: 100.0 * mix.water,
        ..Emulsion::default()
    };
    let mut needs = Needs::default();
    let mut needs_outside = Needs::default();
    let mut emulsifiers: Vec<(f64, Told)> = Vec::new();
    let mut lines: Vec<(f64, f64, ItemId)> = Vec::new();
    let soap = soap_in_the_pot(mix);
    found.outside.extend(soap.map(str::to_owned));
    let mut main = false;
    let mut layers = Layers::default();
    for laid in mix.lines() {
        let Some(material) = laid.material.as_deref() else {
            continue;
        };
        layers.take(material, laid.share());
        if is_emulsifier(material) {
            main |= material.has_role(Role::Emulsifier);
            let (hlb, share) = hlb_of(material);
            let mass = laid.share() * share;
            found.emulsifier_percent += 100.0 * mass;
            if let Some(why) = outside_hlb(material) {
                found.outside.push(format!("{}: {why}", material.name));
            } else if let Some(hlb) = hlb {
                let basis = material.hlb.as_ref().map(|h| h.source.basis);
                emulsifiers.push((mass, Told::provided(hlb, basis)));
                lines.push((mass, hlb, laid.line));
            } else {
                found.provided.unknown.push(material.name.clone());
            }
        } else {
            needs.take_for_oil_in_water(material, laid.share());
            needs_outside.take_for_water_in_oil(material, laid.share());
        }
    }

    if let Some(mean) = Told::mean_of(&emulsifiers) {
        found.provided = found.provided.with(mean.value, mean.low, mean.high);
        found.provided.in_range = found.outside.is_empty() && found.provided.unknown.is_empty();
    }
    let judged = found.provided.value.filter(|_| found.provided.in_range);
    found.water_in_oil = main && judged.is_some_and(|hlb| hlb < OIL_IN_WATER_FROM);
    // What asks for an HLB, such as fatty alcohols, is part of the oil phase.
    let oil_phase = found.oil_percent.max(100.0 * needs.mass());
    let (needs, usual) = if found.water_in_oil {
        (needs_outside, WATER_IN_OIL)
    } else {
        (needs, UNTOLD_REQUIRED)
    };
    let asked = needs.put_into(&mut found.required, usual);
    found.split = split_for_hlb(&mut lines, found.required.value);
    let surfactant: f64 = Charge::ALL
        .iter()
        .map(|&c| 100.0 * mix.class(Class::Surfactant(c)))
        .sum();
    if let Some(why) = no_emulsion(&found, oil_phase, surfactant, rinsed) {
        return found.without(why);
    }
    // More oil than micelles hold is emulsified by the surfactant, beyond the HLB system.
    let washing = surfactant - 100.0 * emulsifying_surfactant(mix);
    if washing < WASH {
        let held = soap.is_some() || holds_oil(mix, &found);
        note_doubts(&mut found, asked, main, held, layers.are_built());
    }
    found
}

/// Share of surfactants without charge that emulsify by their HLB, such as ethoxylated alcohols,
/// where there is water to emulsify in. They wash no less, but Griffin's scale is made of them.
fn emulsifying_surfactant(mix: &Mix<'_>) -> f64 {
    if 100.0 * mix.water < LEAST_OF_EACH.1 {
        return 0.0;
    }
    let emulsifies = |m: &Material| m.hlb.is_some() && is_emulsifier(m);
    (mix.mixture.contributions.iter())
        .filter(|c| c.class == Class::Surfactant(Charge::NonIonic) && emulsifies(&c.material))
        .map(|c| c.by_component.typical.value())
        .fold(0.0, |sum, share| sum + share)
}

/// Why a mix is no emulsion; its oil phase and its surfactant are % of the formula.
fn no_emulsion(
    found: &Emulsion,
    oil_phase: f64,
    surfactant: f64,
    rinsed: bool,
) -> Option<NoEmulsion> {
    if oil_phase < LEAST_OF_EACH.0 {
        Some(NoEmulsion::NoOil)
    } else if found.water_percent < LEAST_OF_EACH.1 {
        // Oil with an emulsifier becomes one when it is rinsed off.
        let becomes_one = rinsed && found.emulsifier_percent > 0.0;
        (!becomes_one).then_some(NoEmulsion::NoWater)
    } else {
        (surfactant >= WASH.max(oil_phase)).then_some(NoEmulsion::Micelles)
    }
}

/// Whether a constituent is part of the oil phase: oils, and what goes into the oil phase as a
/// liquid there, such as UV filters and volatile hydrocarbons.
pub(crate) fn is_oil(material: &Material, class: Class, inci: &str) -> bool {
    match class {
        Class::Oil => true,
        Class::Solvent | Class::Other | Class::Fragrance => {
            let filters = material.has_role(Role::UvFilter);
            let emollient = material.has_role(Role::Emollient);
            !is_emulsifier(material)
                && match material.phase {
                    Some(PhaseKind::Oil) => filters || emollient || class == Class::Solvent,
                    // A substance of which only its functions are known.
                    None => filters && is_oil_filter(inci),
                    Some(_) => false,
                }
        }
        _ => false,
    }
}

/// Share of oil in the whole formula, 0 to 1.
pub(crate) fn oil_of(mix: &Mix<'_>) -> f64 {
    mix.mixture
        .contributions
        .iter()
        .filter(|c| is_oil(&c.material, c.class, c.inci.spelling()))
        .map(|c| c.by_component.typical.value())
        // The sum of nothing is a negative zero.
        .fold(0.0, |sum, share| sum + share)
}

/// Fatty acid and base in one pot make the soap that emulsifies, which Griffin's scale does not
/// hold.
fn soap_in_the_pot(mix: &Mix<'_>) -> Option<&'static str> {
    const FATTY: [&str; 6] = [
        "Stearic Acid",
        "Palmitic Acid",
        "Myristic Acid",
        "Lauric Acid",
        "Oleic Acid",
        "Isostearic Acid",
    ];
    let holds = |wanted: &dyn Fn(&Inci) -> bool| {
        mix.parts
            .iter()
            .any(|p| p.amount.share.typical.value() > 0.0 && wanted(&p.amount.inci))
    };
    let fatty = holds(&|name| name.is_one_of(&FATTY));
    let base = mix.lines().any(|l| {
        l.material
            .as_deref()
            .is_some_and(|m| m.has_role(Role::Base))
    });
    (fatty && base).then_some("fatty acid and base: the soap of them, outside the HLB system")
}

/// HLB of emulsifying substances of the shelf, by ingredient name: materials that are one
/// substance beside water.
static OF_SUBSTANCES: LazyLock<HashMap<InciKey, f64>> = LazyLock::new(|| {
    shelf::built_in()
        .iter()
        .filter_map(|m| {
            let hlb = m.hlb.as_ref()?.value;
            let mut dry = m.constituents.iter().filter(|c| c.class != Class::Water);
            match (dry.next(), dry.next()) {
                (Some(one), None) => Some((one.inci.key(), hlb)),
                _ => None,
            }
        })
        .collect()
});

/// The HLB of an emulsifier and the share of it that emulsifies: as the material states it, else
/// by the emulsifiers it is blended of.
pub(crate) fn hlb_of(material: &Material) -> (Option<f64>, f64) {
    if let Some(hlb) = &material.hlb {
        return (Some(hlb.value), working_share(material));
    }
    let parts = || {
        material
            .constituents
            .iter()
            .filter(|c| c.class == Class::Emulsifier)
    };
    let share: f64 = parts().map(|c| c.share.typical.value()).sum();
    let known: Option<Vec<(f64, f64)>> = parts()
        .map(|c| {
            let hlb = OF_SUBSTANCES.get(&c.inci.key())?;
            Some((c.share.typical.value(), *hlb))
        })
        .collect();
    match known.and_then(mean) {
        Some(hlb) => (Some(hlb), share),
        None => (None, working_share(material)),
    }
}

/// How the two largest of emulsifiers share the work, each given with its mass, HLB and line.
fn split_for_hlb(lines: &mut [(f64, f64, ItemId)], wanted: Option<f64>) -> Option<Split> {
    lines.sort_by(|a, b| b.0.total_cmp(&a.0));
    let [first, second, ..] = lines else {
        return None;
    };
    let ((_, low_hlb, low), (_, high_hlb, high)) = if first.1 <= second.1 {
        (*first, *second)
    } else {
        (*second, *first)
    };
    let (low_share, high_share) = split(low_hlb, high_hlb, wanted?)?;
    Some(Split {
        low,
        low_hlb,
        low_share,
        high,
        high_hlb,
        high_share,
    })
}

/// Whether a material works as an emulsifier.
pub(crate) fn is_emulsifier(material: &Material) -> bool {
    // Fatty alcohols help an emulsion stand but belong to the oils that need an HLB.
    if material.hlb.is_none() && material.required_hlb.is_some() {
        return false;
    }
    (material.has_role(Role::Emulsifier) || material.has_role(Role::CoEmulsifier))
        || (material.has_role(Role::Solubiliser) && material.hlb.is_some())
}

/// The part of an emulsifier material that is emulsifier; all of it if its constituents
/// do not say.
pub(crate) fn working_share(material: &Material) -> f64 {
    let working: f64 = material
        .constituents
        .iter()
        .filter(|c| !matches!(c.class, Class::Water | Class::Humectant | Class::Solvent))
        .map(|c| c.share.typical.value())
        .sum();
    if working > 0.0 {
        (working + material.unknown_share().value()).min(1.0)
    } else {
        1.0
    }
}

/// Why an emulsifier is outside the HLB system, if it is.
pub(crate) fn outside_hlb(material: &Material) -> Option<&'static str> {
    if let Some(Charge::Anionic | Charge::Cationic | Charge::Amphoteric) = material.charge {
        return Some("charged, outside the HLB system");
    }
    let polymeric = material.share_of(Class::Thickener).value() > 0.3
        || material.inci_names().any(|n| n.has("polymer"));
    if polymeric {
        return Some("polymeric, outside the HLB system");
    }
    material
        .inci_names()
        .any(|n| LAMELLAR.iter().any(|w| n.has(w)))
        .then_some("lamellar, outside the HLB system")
}

/// Words of emulsifiers that build layers around the drops; common practice, no source.
const LAMELLAR: [&str; 2] = ["lecithin", "phosphate"];

/// Share of fatty alcohol in an emulsifier from which the two build layers around the drops that
/// hold oils of any demand. That fatty alcohol with an emulsifier builds lamellar layers around
/// the drops and a network between them, beyond what the HLB tells, is published: Fukushima and
/// co-workers and Friberg, as a public review cites them; for cetearyl
/// glucoside with cetearyl alcohol the abstract of “Colloidal microstructure of binary systems
/// and model creams stabilized with an alkylpolyglucoside non-ionic emulsifier”. The share is
/// ours: below all emulsifying waxes of the pharmacopoeias (70 to 90 %, from memory), above what
/// an ester brings by the way.
const NETWORK: f64 = 0.3;

/// Oil and water, % of the formula, from which they part visibly without an emulsifier; common
/// practice, no source.
const FREE_OIL: f64 = 5.0;

/// What builds layers around the drops: emulsifiers, and the fatty alcohols and glyceryl stearate
/// that come with them or beside them. Where there is enough of these, a distance from the HLB
/// that oils require says little. Glyceryl stearate does as fatty alcohols do (G. M. Eccleston,
/// Colloids and Surfaces A 123 (1997) 169, on emulsifying waxes; from memory).
#[derive(Default)]
struct Layers {
    /// Emulsifiers and what builds layers with them, of the formula.
    all: f64,
    /// Of these, fatty alcohols and glyceryl stearate.
    fatty: f64,
    /// An emulsifier is by itself such a blend.
    blend: bool,
}

impl Layers {
    fn take(&mut self, material: &Material, share: f64) {
        let fatty = fatty_share(material);
        if is_emulsifier(material) {
            self.all += share;
            self.blend |= fatty >= NETWORK;
        } else if fatty >= NEARLY_WHOLE {
            self.all += share;
        } else {
            return;
        }
        self.fatty += share * fatty;
    }

    fn are_built(&self) -> bool {
        self.blend || self.all > 0.0 && self.fatty / self.all >= NETWORK
    }
}

/// From this share of fatty alcohol on a material is that alcohol.
const NEARLY_WHOLE: f64 = 0.9;

/// Share of a material that builds layers with emulsifiers.
fn fatty_share(material: &Material) -> f64 {
    const FATTY: [&str; 9] = [
        "glyceryl stearate",
        "glyceryl stearate se",
        "cetearyl alcohol",
        "cetyl alcohol",
        "stearyl alcohol",
        "behenyl alcohol",
        "arachidyl alcohol",
        "c14-22 alcohols",
        "cetearyl olivate",
    ];
    (material.constituents.iter())
        .filter(|c| c.inci.is_one_of(&FATTY))
        .map(|c| c.share.typical.value())
        .sum()
}

/// Emulsifiers and surfactants, of the oil, of which less holds it by no custom: emulsifiers are
/// taken at a tenth to a quarter of the oil; common practice, no source. A polymer or clay that
/// emulsifies needs less.
const LEAST_OF_OIL: f64 = 0.03;

/// Whether the oil is held in the water: by enough of emulsifiers and surfactants, or by a polymer
/// with fatty side groups, a clay or a gum that emulsifies.
fn holds_oil(mix: &Mix<'_>, found: &Emulsion) -> bool {
    let of_class = |p: &&MixConstituent<'_>| {
        matches!(p.amount.class, Class::Surfactant(_) | Class::Emulsifier)
    };
    let holding: f64 = (mix.parts.iter().filter(of_class))
        .map(|p| 100.0 * p.amount.share.typical.value())
        .sum();
    holding.max(found.emulsifier_percent) >= LEAST_OF_OIL * found.oil_percent
        || (mix.parts.iter()).any(|p| substance_words::holds_oil(p.amount.inci.spelling()))
        || found.outside.iter().any(|why| why.contains("polymeric"))
}

fn note_doubts(
    found: &mut Emulsion,
    asked: Option<(f64, f64)>,
    main: bool,
    held: bool,
    network: bool,
) {
    let (oil, water) = (found.oil_percent / OIL_G_ML, found.water_percent);
    if found.oil_percent < LEAST_OF_EACH.0 || water < LEAST_OF_EACH.1 {
        return;
    }
    if !held && found.oil_percent >= FREE_OIL && water >= FREE_OIL {
        found.doubts.push(format!(
            "nothing here holds {:.0} % of oil in {water:.0} % of water: no emulsifier, no surfactant and no polymer that emulsifies, or far too little; it parts unless it is shaken",
            found.oil_percent
        ));
    }
    if found.emulsifier_percent <= 0.0 || !held {
        return;
    }
    let share = oil / (oil + water);
    let judged = found.outside.is_empty() && found.provided.unknown.is_empty();
    let provided = found.provided.value.filter(|_| judged);
    if let Some(provided) = provided
        && provided < OIL_IN_WATER_FROM
    {
        if !main {
            found.doubts.push(format!(
                "there are only co-emulsifiers, of an HLB of {provided:.1}; they support an emulsion but hardly hold one alone"
            ));
            return;
        }
        found.required.remarks.push(water_in_oil(provided));
        if share < LEAST_OIL_AROUND_WATER {
            found.doubts.push(format!(
                "an HLB of {provided:.1} makes the oil the outer phase, but the oil takes only {:.0} % of the volume of oil and water",
                100.0 * share
            ));
        } else if !network {
            note_distance(found, provided, asked, "water-in-oil");
        }
        return;
    }
    if share > CLOSEST_PACKING {
        found.doubts.push(format!(
            "oil takes {:.0} % of the volume of oil and water, above the {:.0} % of closest packing of drops; an oil-in-water emulsion may turn over",
            100.0 * share,
            100.0 * CLOSEST_PACKING
        ));
    }
    if let Some(provided) = provided
        && !network
    {
        note_distance(found, provided, asked, "oil-in-water");
    }
}

/// A doubt where the emulsifiers are far from what the oils require for a kind of emulsion.
fn note_distance(found: &mut Emulsion, provided: f64, asked: Option<(f64, f64)>, kind: &str) {
    let Some((low, high)) = asked.filter(|_| found.required.value.is_some()) else {
        return;
    };
    if (low - NEAR..=high + NEAR).contains(&provided) {
        return;
    }
    let asked = if high - low < 0.05 {
        format!("{low:.1}")
    } else {
        format!("{low:.1} to {high:.1}")
    };
    found.doubts.push(format!(
        "the emulsifiers provide an HLB of {provided:.1}, the oils require {asked} for {kind}"
    ));
}

/// How the emulsifiers stand to water-in-oil, in words.
fn water_in_oil(provided: f64) -> String {
    let (low, high) = WATER_IN_OIL;
    if provided < low {
        format!(
            "an HLB of {provided:.1} lies below the {low:.0} to {high:.0} usual for water-in-oil"
        )
    } else if provided <= high {
        format!(
            "an HLB of {provided:.1} lies within the {low:.0} to {high:.0} usual for water-in-oil"
        )
    } else {
        format!(
            "an HLB of {provided:.1} lies between the {low:.0} to {high:.0} usual for water-in-oil and the {OIL_IN_WATER_FROM:.0} from which oil-in-water begins; it may be either"
        )
    }
}

#[cfg(test)]
mod tests;
