//! Density of the mix and the fill of a container.
//!
//! Volumes add up: water by its own density, dissolved substances by the room they
//! take in water at their concentration (apparent specific volume, Young's rule),
//! which carries the contraction of mixtures with glycerin, ethanol, glycols and
//! salt. Raw materials whose constituents are not all known take the density of
//! the material. What does not dissolve takes the room of the solid. A solution or liquid
//! sold with a density keeps that density by itself: the difference of the apparent volumes
//! to it is carried into the mix, and as far as it comes from a strength beyond the data of
//! the apparent volume it goes as the solution is diluted. Air and foam are not included.

use super::acids::Family;
use super::figure::Figure;
use super::mix::Mix;
use super::substances::{self, ApparentVolume, Brings, Substance, WaterEffect};
use crate::material::{Basis, Charge, Class, Constituent, Material, Sourced};
use crate::mixture::MixtureLine;
use crate::quantity::{
    Mass, MassDensity, Volume, grams, in_grams, in_kg_per_m3, in_millilitres, millilitres,
};

/// The method, in words.
pub const METHOD: &str = "volumes add up at 20 °C; apparent volumes in water for what dissolves, density of the raw material else";
/// Its range, in words.
pub const VALIDITY: &str = "within 0.5 % of published tables for water with glycerin, ethanol, propylene glycol, sugar, urea or salt; materials within 1.5 % of what is stated, from memory 2 %, minerals 5 %; air and foam not included";
/// Its sources, in words.
pub const SOURCE: &str = "G. S. Kell 1975 (water); Bosart and Snoddy 1927; OIML R 22; Nakanishi 1967; M. Laliberté 2009; CRC Handbook";

/// Density of pure water in kg/m³ at 1 atm, 0 to 100 °C, t in °C (G. S. Kell, J. Chem.
/// Eng. Data 20 (1975) 97).
pub fn water_kg_m3(t: f64) -> f64 {
    let t = t.clamp(0.0, 100.0);
    let above = 999.83952
        + t * (16.945176
            + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 - 280.54253e-12 * t))));
    above / (1.0 + 16.879850e-3 * t)
}

/// Room that a gram takes in water, ml/g, at its share by mass of solute and water.
pub fn apparent_ml_g(volume: &ApparentVolume, share: f64, t: f64) -> f64 {
    let w = share.clamp(0.0, volume.most);
    let polynomial = |c: &[f64]| c.iter().rev().fold(0.0, |sum, a| sum * w + a);
    polynomial(volume.a) + (t - 20.0) * polynomial(volume.b)
}

/// Density in kg/m³ of one substance in water, `share` by mass from 0 to 1, at t in °C;
/// `None` if the room the substance takes is not known.
pub fn of_solution_kg_m3(substance: &Substance, share: f64, t: f64) -> Option<f64> {
    let share = share.clamp(0.0, 1.0);
    let volume = substance.volume?;
    let ml_g = (1.0 - share) * 1000.0 / water_kg_m3(t) + share * apparent_ml_g(&volume, share, t);
    Some(1000.0 / ml_g)
}

/// Temperature of the estimate, °C.
const T: f64 = 20.0;
/// Uncertainty of the method beside that of the data, as a share.
const METHOD_ERROR: f64 = 0.003;
/// Constituents without data are named from this share of the formula on.
const WORTH_NAMING: f64 = 0.01;

/// Room that a gram of a class takes in a mix, ml/g, lowest and highest: typical values
/// of the trade, from memory, for constituents without data of their own.
///
/// Surfactants by the volumes of the groups of which the shelf is made up, from disodium lauryl
/// sulfosuccinate (0.71) to potassium oleate (0.97), glucosides from 0.80; of amine oxides and
/// cationic surfactants the partial specific volumes that protein chemistry tabulates for
/// detergents (lauryl dimethylamine oxide 1.13, from memory).
const fn usual_ml_g(class: Class) -> (f64, f64) {
    match class {
        Class::Water => (1.0018, 1.0018),
        Class::Surfactant(Charge::Anionic) => (0.70, 0.97),
        Class::Surfactant(Charge::Amphoteric) => (0.75, 1.13),
        Class::Surfactant(Charge::NonIonic) => (0.80, 1.03),
        Class::Surfactant(Charge::Cationic) => (0.90, 1.13),
        Class::Humectant => (0.70, 1.0),
        Class::Oil => (1.04, 1.16),
        Class::Emulsifier => (0.95, 1.05),
        Class::Thickener => (0.60, 0.75),
        Class::Conditioner => (0.85, 1.1),
        Class::Electrolyte => (0.20, 0.45),
        Class::AcidBase => (0.50, 0.75),
        Class::Chelator => (0.45, 0.65),
        Class::Preservative => (0.60, 1.0),
        Class::Antioxidant => (0.90, 1.05),
        Class::Fragrance => (0.95, 1.18),
        Class::Colour => (0.25, 0.75),
        Class::Solvent => (1.0, 1.27),
        Class::Other => (0.55, 1.05),
    }
}

/// Estimates the density of a mix at 20 °C, kg/m³.
pub fn estimate(mix: &Mix<'_>, measured: Option<f64>) -> Figure {
    let mut figure = Figure::of(METHOD, VALIDITY, SOURCE);
    figure.measured = measured;
    let (mut mass, mut low, mut high) = (0.0, 0.0, 0.0);
    for laid in mix.lines() {
        mass += laid.share();
        let (least, most) = room_of(mix, laid, &mut figure);
        low += least;
        high += most;
    }
    if mass <= 0.0 || low <= 0.0 {
        figure
            .remarks
            .push("there is nothing in the mix yet".to_owned());
        return figure;
    }
    let value = 1000.0 * mass / f64::midpoint(low, high);
    let (lightest, heaviest) = (1000.0 * mass / high, 1000.0 * mass / low);
    let mut figure = figure.with(
        value,
        lightest * (1.0 - METHOD_ERROR),
        heaviest * (1.0 + METHOD_ERROR),
    );
    figure
        .remarks
        .push("air and foam are not included; let foam settle before filling by volume".to_owned());
    figure
}

/// From this density on a material is a mineral, kg/m³.
const MINERAL: f64 = 1500.0;

/// How far a lot may be off the density stated of its material, as a share: what was measured is
/// that of the lot. A published figure is mostly the middle of a range, which for most oils,
/// perfume oils and solutions lies within 1.5 % and for minerals within 5 % (those that were
/// read stand in `tests/reference/materials/densities.csv`). Computed ones hold within 1.5 %
/// (volumes of the groups of the structure), those from memory within 2 % (solutions of
/// surfactants), see `docs/materials.md`.
fn stated_error(density: &Sourced<MassDensity>) -> f64 {
    match density.source.basis {
        Basis::Measured | Basis::Supplier => 0.0,
        _ if in_kg_per_m3(density.value) > MINERAL => 0.05,
        Basis::Published | Basis::Estimate => 0.015,
        Basis::Typical | Basis::Practice => 0.02,
    }
}

/// Room of a line in ml per gram of the formula, lowest and highest.
fn room_of(mix: &Mix<'_>, laid: &MixtureLine, figure: &mut Figure) -> (f64, f64) {
    const UNKNOWN_ML_G: (f64, f64) = (0.6, 1.2);
    let Some(material) = laid.material.as_deref() else {
        figure.unknown.push(laid.name());
        return (laid.share() * UNKNOWN_ML_G.0, laid.share() * UNKNOWN_ML_G.1);
    };
    let unknown = material.unknown_share().value();
    let own = |c: &Constituent| {
        substances::find(c.inci.spelling(), c.cas).filter(|s| s.is_water() || s.volume.is_some())
    };
    let all_known = unknown == 0.0 && material.constituents.iter().all(|c| own(c).is_some());
    let density = material
        .density
        .as_ref()
        .filter(|d| in_kg_per_m3(d.value) > 0.0);
    let stated = density.map(|d| 1000.0 / in_kg_per_m3(d.value));
    let as_stated = density.zip(stated).map(|(density, room)| {
        let off = stated_error(density);
        (room * (1.0 - off), room * (1.0 + off))
    });
    if is_solid_salt(material) {
        let (low, high) = room_of_salt(mix, material, as_stated);
        if as_stated.is_none() && high - low > VAGUE_ML_G && laid.share() >= WORTH_NAMING {
            figure.unknown.push(material.name.clone());
        }
        return (laid.share() * low, laid.share() * high);
    }
    if !all_known && let Some((low, high)) = as_stated {
        return (laid.share() * low, laid.share() * high);
    }
    let (mut low, mut high) = (
        laid.share() * unknown * UNKNOWN_ML_G.0,
        laid.share() * unknown * UNKNOWN_ML_G.1,
    );
    let mut without_data = unknown;
    let water = material.share_of(Class::Water).value();
    let is_solution = all_known
        && (water >= LEAST_SOLVENT
            || material
                .constituents
                .iter()
                .all(|c| own(c).is_some_and(is_liquid)));
    let mut by_itself = 0.0;
    let mut carried = 1.0_f64;
    for constituent in &material.constituents {
        let part = constituent.share.typical.value();
        let share = laid.share() * part;
        let substance = own(constituent);
        let (least, most) = match (constituent.class, substance) {
            (_, Some(s)) => {
                let solid = stated.filter(|_| !is_solution);
                let room = own_room_ml_g(mix, s, solid);
                if !s.is_water()
                    && let Some(volume) = &s.volume
                {
                    let with_water = if part + water > 0.0 {
                        part / (part + water)
                    } else {
                        1.0
                    };
                    by_itself += part * apparent_ml_g(volume, with_water, T);
                    carried = carried.min(misfit_carried(mix, s, volume.most, with_water));
                } else {
                    by_itself += part * 1000.0 / water_kg_m3(T);
                }
                (room, room)
            }
            (class, None) => {
                if class != Class::Water {
                    without_data += part;
                }
                let (least, most) = usual_ml_g(class);
                match salt(constituent).filter(|_| mix.water > 0.0) {
                    Some(salt) => (least_dissolved_ml_g(salt).min(least), most),
                    None => (least, most),
                }
            }
        };
        low += share * least;
        high += share * most;
    }
    if is_solution && let Some(room) = stated {
        let shares: f64 = material
            .constituents
            .iter()
            .map(|c| c.share.typical.value())
            .sum();
        let misfit = laid.share() * (room * shares - by_itself) * carried;
        low += misfit;
        high += misfit;
    }
    if without_data * laid.share() >= WORTH_NAMING {
        figure.unknown.push(material.name.clone());
    }
    (low, high)
}

/// How much of the difference between the density stated of a solution and its apparent volumes
/// is carried into the mix, from 0 to 1: all of it where the solution lies within the data of the
/// apparent volume. Beyond, the difference is one of the data, and less of it is left the nearer
/// the mix comes to them.
fn misfit_carried(mix: &Mix<'_>, solute: &'static Substance, most: f64, as_sold: f64) -> f64 {
    if as_sold <= most {
        return 1.0;
    }
    let all = amount_of(mix, solute);
    let diluted = all / (all + mix.water);
    ((diluted - most) / (as_sold - most)).clamp(0.0, 1.0)
}

/// Room of a gram of a solid salt of mineral acids, and of one of organic acids, with its bound
/// water, ml/g, lowest and highest: from anhydrous zinc sulfate (3.54 g/ml) to washing soda
/// (1.44 g/ml), from trisodium citrate (about 1.8 g/ml) to salts of fatty character (about
/// 1.2 g/ml); from memory.
const SOLID_SALT_ML_G: [(f64, f64); 2] = [(0.27, 0.75), (0.50, 0.85)];
/// From this width on the room of a salt is said to be unknown, ml/g.
const VAGUE_ML_G: f64 = 0.1;
/// Least room of a gram of a salt of a mineral acid dissolved in water, ml/g: the water around
/// its ions draws together, so that sodium hydroxide, zinc sulfate and sodium carbonate at some
/// per cent take about none (0.00, 0.02 and 0.05 ml/g by the densities of their solutions of 10 %
/// in the CRC Handbook, from memory).
const DISSOLVED_MINERAL_SALT_ML_G: f64 = -0.05;
/// The same of a salt of an organic acid: sodium formate, among the smallest, has 0.37 at
/// infinite dilution by its ions (F. J. Millero, Chem. Rev. 71 (1971) 147, from memory).
const DISSOLVED_ORGANIC_SALT_ML_G: f64 = 0.35;

/// Least room of a gram of a salt in water, ml/g, where its own is not known.
fn least_dissolved_ml_g(salt: &Substance) -> f64 {
    if is_mineral(salt) {
        DISSOLVED_MINERAL_SALT_ML_G
    } else {
        DISSOLVED_ORGANIC_SALT_ML_G
    }
}

/// From this density on what holds water is a hydrate and no solution, kg/m³.
const HYDRATE: f64 = 1600.0;

/// The salt, or strong base, that a constituent is and that dissolves into ions; none of what
/// forms micelles or is a polymer.
fn salt(constituent: &Constituent) -> Option<&'static Substance> {
    substances::find(constituent.inci.spelling(), constituent.cas).filter(|s| {
        let ions = s.brings.iter().any(|b| matches!(b, Brings::Strong(..)));
        ions && s.water != WaterEffect::Negligible
    })
}

/// Whether a salt is one of mineral acids or a strong base.
fn is_mineral(salt: &Substance) -> bool {
    salt.brings.iter().all(|b| match *b {
        Brings::Strong(..) | Brings::Solid(..) => true,
        Brings::Weak(family, _) => matches!(
            family,
            Family::Phosphoric
                | Family::Carbonic
                | Family::Sulfuric
                | Family::Sulfurous
                | Family::Boric
                | Family::Ammonia
        ),
    })
}

/// The salt of which a material holds most, and its share.
fn main_salt(material: &Material) -> Option<(&'static Substance, f64)> {
    let salts = material.constituents.iter();
    salts
        .filter_map(|c| Some((salt(c)?, c.share.typical.value())))
        .max_by(|a, b| a.1.total_cmp(&b.1))
}

/// Grams that dissolve in a gram of water: by the solubility, else as far as solutions were
/// measured; none if nothing is known.
fn solubility_g_g(substance: &Substance) -> Option<f64> {
    let published = substance.saturation.map(|s| s.g_per_kg / 1000.0);
    let most = substance.volume.map(|v| v.most).filter(|most| *most < 1.0);
    published.or_else(|| most.map(|most| most / (1.0 - most)))
}

/// Whether a material is for the most part a salt as a solid, with its bound water or without.
fn is_solid_salt(material: &Material) -> bool {
    let water = material.share_of(Class::Water).value();
    let salts = material.constituents.iter().filter(|c| salt(c).is_some());
    let salts: f64 = salts.map(|c| c.share.typical.value()).sum();
    let dense = material.density.as_ref();
    let is_dense = dense.is_some_and(|d| in_kg_per_m3(d.value) >= HYDRATE);
    let is_hydrate = is_dense
        || main_salt(material).is_some_and(|(salt, share)| {
            (salt.saturation).is_some_and(|s| share > s.g_per_kg / 1000.0 * water)
        });
    (water < LEAST_SOLVENT || is_hydrate) && salts > 0.0 && salts >= (1.0 - water) / 2.0
}

/// Room of a gram of a solid salt in the mix, ml/g, lowest and highest. What dissolves takes its
/// apparent volume where that is known, else between hardly any and that of the solid; its bound
/// water is water; what does not stays as it is, as stated or as such solids are.
fn room_of_salt(mix: &Mix<'_>, material: &Material, as_stated: Option<(f64, f64)>) -> (f64, f64) {
    let main = main_salt(material);
    let [mineral, organic] = SOLID_SALT_ML_G;
    let usual = match main {
        Some((salt, _)) if !is_mineral(salt) => organic,
        _ => mineral,
    };
    let solid = as_stated.unwrap_or(usual);
    let dissolved = main.map_or(0.0, |(salt, share)| {
        dissolved_share(mix, salt, share, material.share_of(Class::Water).value())
    });
    let (mut low, mut high) = (0.0, 0.0);
    let mut rest = 1.0;
    for c in &material.constituents {
        let part = c.share.typical.value();
        let (least, most) = match substances::find(c.inci.spelling(), c.cas) {
            Some(s) if s.is_water() => {
                let room = own_room_ml_g(mix, s, None);
                (room, room)
            }
            Some(s) if salt(c).is_some() => dissolved_room_ml_g(mix, s, solid.1),
            _ => continue,
        };
        rest -= part;
        low += part * least;
        high += part * most;
    }
    let left = 1.0 - dissolved;
    (
        dissolved * (low + rest * solid.0) + left * solid.0,
        dissolved * (high + rest * solid.1) + left * solid.1,
    )
}

/// Room of a gram of a dissolved salt, ml/g, lowest and highest; `most` where none is known.
fn dissolved_room_ml_g(mix: &Mix<'_>, salt: &'static Substance, most: f64) -> (f64, f64) {
    let Some(volume) = &salt.volume else {
        return (least_dissolved_ml_g(salt).min(most), most);
    };
    let all = amount_of(mix, salt);
    let dissolves = solubility_g_g(salt).map_or(all, |g_g| all.min(mix.water * g_g));
    let in_water = dissolves + mix.water;
    let share = if in_water > 0.0 {
        dissolves / in_water
    } else {
        1.0
    };
    let room = apparent_ml_g(volume, share, T);
    (room - volume.off, room + volume.off)
}

/// How much of a solid is dissolved, from 0 to 1, by the salt of which it holds a share: as much
/// as the water takes that is not still bound in its crystals.
fn dissolved_share(mix: &Mix<'_>, salt: &'static Substance, share: f64, bound: f64) -> f64 {
    if mix.water <= 0.0 {
        return 0.0;
    }
    let Some(most) = solubility_g_g(salt).filter(|most| share > most * bound) else {
        return 1.0;
    };
    let all = amount_of(mix, salt) / share;
    let free = (mix.water - all * bound).max(0.0);
    (most * free / (all * (share - most * bound))).clamp(0.0, 1.0)
}

/// Share of a substance in the whole mix.
fn amount_of(mix: &Mix<'_>, substance: &'static Substance) -> f64 {
    mix.parts
        .iter()
        .filter(|p| p.substance.is_some_and(|s| std::ptr::eq(s, substance)))
        .map(|p| p.amount.share.typical.value())
        .sum()
}

/// From this share of water on a material is a solution.
const LEAST_SOLVENT: f64 = 0.05;

/// Whether a substance mixes with water in all proportions as far as its data reach.
fn is_liquid(substance: &'static Substance) -> bool {
    substance.is_water() || substance.volume.is_some_and(|v| v.most >= 0.99)
}

/// Room per gram of water or of a substance at its concentration in all the water; what
/// does not dissolve takes the room of the solid, in ml/g, where that is stated.
fn own_room_ml_g(mix: &Mix<'_>, substance: &'static Substance, solid: Option<f64>) -> f64 {
    if substance.is_water() {
        return 1000.0 / water_kg_m3(T);
    }
    let Some(volume) = &substance.volume else {
        return 1.0;
    };
    let all = amount_of(mix, substance);
    let dissolves = match (solid, substance.saturation) {
        (Some(_), Some(saturation)) => all.min(mix.water * saturation.g_per_kg / 1000.0),
        // A liquid that mixes, or a solid of unknown solubility in some water.
        _ if is_liquid(substance) || mix.water > 0.0 => all,
        _ => 0.0,
    };
    let with_water = dissolves + mix.water;
    let share = if with_water > 0.0 {
        dissolves / with_water
    } else {
        1.0
    };
    let dissolved = apparent_ml_g(volume, share, T);
    match solid {
        Some(solid) if all > 0.0 => (dissolves * dissolved + (all - dissolves) * solid) / all,
        _ => dissolved,
    }
}

/// The mass that fills a volume.
pub fn mass_of(volume: Volume, density: MassDensity) -> Mass {
    grams(in_millilitres(volume) * in_kg_per_m3(density) / 1000.0)
}

/// The volume that a mass fills; `None` if the density is not above zero.
pub fn volume_of(mass: Mass, density: MassDensity) -> Option<Volume> {
    let kg_m3 = in_kg_per_m3(density);
    (kg_m3 > 0.0).then(|| millilitres(in_grams(mass) / kg_m3 * 1000.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// CIPM formula, Tanaka et al., Metrologia 38 (2001) 301: 998.2067 kg/m³ at 20 °C,
    /// 997.0470 at 25 °C (from memory).
    #[test]
    fn water() {
        assert!((water_kg_m3(20.0) - 998.2067).abs() < 0.005);
        assert!((water_kg_m3(25.0) - 997.0470).abs() < 0.005);
    }

    /// Salts that go into solution take far less room there than as solids. Densities of the
    /// solutions at 20 °C: CRC Handbook, "Concentrative properties of aqueous solutions"
    /// (from memory): sodium hydroxide 10 % 1109, potassium carbonate 20 % 1190, zinc sulfate
    /// 10 % 1107, disodium phosphate 5 % 1045 kg/m³.
    #[test]
    fn a_dissolved_salt_takes_the_room_of_its_ions() {
        for (id, percent, known) in [
            ("sodium-hydroxide-pellets", "10", 1109.0),
            ("potassium-carbonate", "20", 1190.0),
            ("zinc-sulfate-heptahydrate", "17.8", 1107.0),
            ("disodium-phosphate-anhydrous", "5", 1045.0),
        ] {
            let material = crate::shelf::built_in()
                .get(&crate::material::MaterialId::from_name(id))
                .unwrap_or_else(|| panic!("{id} is on the shelf"));
            let water = crate::fixture::material("Water", &[("Aqua", 100.0, Class::Water)]);
            let rest = 100.0 - percent.parse::<f64>().unwrap();
            let f = crate::fixture::formula(vec![
                crate::fixture::line(material, percent),
                crate::fixture::line(&water, &format!("{rest:.1}")),
            ]);
            let found = crate::chemistry::estimate(&f, f.active()).density;
            let (low, high) = (found.low.unwrap(), found.high.unwrap());
            assert!(
                low <= known && known <= high,
                "{id}: {low} to {high}, {known} is tabled"
            );
        }
    }

    fn shelf(name: &str) -> std::sync::Arc<Material> {
        let found = crate::shelf::built_in().iter().find(|m| &*m.name == name);
        found.unwrap_or_else(|| panic!("{name}")).clone()
    }

    /// Density of some per cent of a material in water, kg/m³: lowest, shown and highest.
    fn in_water(material: &std::sync::Arc<Material>, percent: f64) -> (f64, f64, f64) {
        let water = crate::fixture::material("Water", &[("Aqua", 100.0, Class::Water)]);
        let f = crate::fixture::formula(vec![
            crate::fixture::line(material, &format!("{percent:.3}")),
            crate::fixture::line(&water, &format!("{:.3}", 100.0 - percent)),
        ]);
        let found = crate::chemistry::estimate(&f, f.active()).density;
        (
            found.low.unwrap(),
            found.value.unwrap(),
            found.high.unwrap(),
        )
    }

    /// Salts without a density of their own, and such as take more or less room than usual.
    /// Densities of the solutions at 20 °C, kg/m³: CRC Handbook, "Concentrative properties of
    /// aqueous solutions" (from memory); sodium lactate and metabisulfite as sold (from memory).
    #[test]
    fn dissolved_salts_have_the_density_of_their_solutions() {
        for (name, percent, known) in [
            ("Sodium citrate dihydrate", 20.0, 1130.0),
            ("Sodium metabisulfite", 10.0, 1072.0),
            ("Sodium sulfite, anhydrous", 10.0, 1095.0),
            ("Zinc sulfate heptahydrate", 17.8, 1107.0),
            ("Sodium lactate powder", 20.0, 1100.0),
            ("Ammonium chloride", 10.0, 1028.6),
            ("Calcium chloride dihydrate", 13.25, 1083.5),
            ("Magnesium sulfate heptahydrate", 20.5, 1103.4),
            ("Sodium hydroxide pellets", 20.2, 1219.2),
        ] {
            let (low, value, high) = in_water(&shelf(name), percent);
            assert!(
                low <= known && known <= high,
                "{name}: {low} to {high}, {known} is tabled"
            );
            assert!(
                (value / known - 1.0).abs() < 0.006,
                "{name}: {value}, {known} is tabled"
            );
            assert!(high / low - 1.0 < 0.025, "{name}: {low} to {high}");
        }
    }

    /// A solution that is diluted has the density of the weaker one, by whatever it is made. CRC
    /// Handbook, 20 °C, from memory: sodium hydroxide 20 % 1219.2, acetic acid 40 % 1048.8,
    /// phosphoric acid 20 % 1113.4 kg/m³; sodium lactate 20 % about 1100 as sold.
    #[test]
    fn a_diluted_solution_has_the_density_of_the_weaker_one() {
        for (name, percent, known) in [
            ("Sodium hydroxide solution 30 %", 66.667, 1219.2),
            ("Acetic acid 80 %", 50.0, 1048.8),
            ("Phosphoric acid 85 %", 23.53, 1113.4),
            ("Sodium lactate solution 60 %", 33.333, 1100.0),
        ] {
            let (low, value, high) = in_water(&shelf(name), percent);
            assert!(
                low <= known && known <= high && (value / known - 1.0).abs() < 0.003,
                "{name}: {value} ({low} to {high}), {known} is tabled"
            );
        }
    }

    /// A density stated of a solution stronger than the data of its apparent volume tells nothing
    /// of a solution within them.
    #[test]
    fn a_misfit_beyond_the_data_goes_as_the_solution_is_diluted() {
        let parts = [
            ("Calcium Chloride", 40.0, Class::Electrolyte),
            ("Aqua", 60.0, Class::Water),
        ];
        let mut own = crate::fixture::material("own", &parts).as_ref().clone();
        let (_, unstated, _) = in_water(&std::sync::Arc::new(own.clone()), 25.0);
        own.density = Some(Sourced::new(
            crate::quantity::kg_per_m3(1396.0),
            crate::material::Source::new(Basis::Supplier, "a certificate"),
        ));
        let own = std::sync::Arc::new(own);
        let (_, alone, _) = in_water(&own, 100.0);
        assert!((alone - 1396.0).abs() < 0.5, "{alone}");
        // 10 % lies within the data: CRC Handbook, 1083.5 kg/m³, from memory.
        let (_, diluted, _) = in_water(&own, 25.0);
        assert!((diluted - unstated).abs() < 1e-6, "{diluted}, {unstated}");
        assert!((diluted - 1083.5).abs() < 3.0, "{diluted}");
    }

    /// A hydrate alone holds its water in the crystal: nothing of it is dissolved, whether its
    /// density is stated or not. Sodium citrate dihydrate has about 1700, ammonium chloride
    /// 1519 kg/m³ (from memory).
    #[test]
    fn a_dry_salt_is_a_solid() {
        for (name, known) in [
            ("Sodium citrate dihydrate", 1700.0),
            ("Sodium metabisulfite", 1480.0),
            ("Magnesium sulfate heptahydrate", 1680.0),
            ("Ammonium chloride", 1519.0),
        ] {
            let material = shelf(name);
            let f = crate::fixture::formula(vec![crate::fixture::line(&material, "100")]);
            let found = crate::chemistry::estimate(&f, f.active()).density;
            let (low, high) = (found.low.unwrap(), found.high.unwrap());
            assert!(low <= known && known <= high, "{name}: {low} to {high}");
            let told = found.unknown.contains(&material.name);
            assert_eq!(told, material.density.is_none(), "{name}: {found:?}");
        }
    }

    /// A maker's own surfactant solution without a density: 30 % of active in water lies between
    /// what the densest and the lightest structures make of it, amine oxides included: 0.3 g of
    /// lauryl dimethylamine oxide at 1.13 ml/g and 0.7 g of water make 961 kg/m³.
    #[test]
    fn a_surfactant_without_data_spans_what_structures_take() {
        let range = |charge| {
            let parts = [
                ("A surfactant of one's own", 30.0, Class::Surfactant(charge)),
                ("Aqua", 70.0, Class::Water),
            ];
            let own = crate::fixture::material("own", &parts);
            let f = crate::fixture::formula(vec![crate::fixture::line(&own, "100")]);
            let found = crate::chemistry::estimate(&f, f.active()).density;
            (found.low.unwrap(), found.high.unwrap())
        };
        let (low, high) = range(Charge::Amphoteric);
        assert!(low < 961.0 && high > 1070.0, "{low} to {high}");
        // 0.3 g of disodium lauryl sulfosuccinate at 0.706 ml/g: 1096 kg/m³.
        let (low, high) = range(Charge::Anionic);
        assert!(low < 1012.0 && high > 1096.0, "{low} to {high}");
        // 0.3 g of decyl glucoside at 0.84 ml/g: 1050 kg/m³.
        let (low, high) = range(Charge::NonIonic);
        assert!(low < 1050.0 && high > 1050.0, "{low} to {high}");
    }

    /// An oil whose room is not known, alone: as far about the density stated as that rests on.
    #[test]
    fn the_range_is_as_wide_as_what_the_density_rests_on() {
        let width = |kg_m3: f64, basis| {
            let parts = [("An oil of one's own", 100.0, Class::Oil)];
            let mut own = crate::fixture::material("own", &parts).as_ref().clone();
            own.density = Some(Sourced::new(
                crate::quantity::kg_per_m3(kg_m3),
                crate::material::Source::new(basis, "a book"),
            ));
            let own = std::sync::Arc::new(own);
            let f = crate::fixture::formula(vec![crate::fixture::line(&own, "100")]);
            let found = crate::chemistry::estimate(&f, f.active()).density;
            assert!((found.value.unwrap() - kg_m3).abs() < 1e-6, "{found:?}");
            let off = |end: f64| (end / kg_m3 - 1.0).abs();
            off(found.low.unwrap()).min(off(found.high.unwrap()))
        };
        for (kg_m3, basis, least, most) in [
            (920.0, Basis::Measured, 0.002, 0.004),
            (920.0, Basis::Supplier, 0.002, 0.004),
            (920.0, Basis::Published, 0.015, 0.019),
            (920.0, Basis::Estimate, 0.015, 0.019),
            (920.0, Basis::Typical, 0.02, 0.024),
            (2600.0, Basis::Supplier, 0.002, 0.004),
            (2600.0, Basis::Published, 0.048, 0.055),
            (2600.0, Basis::Typical, 0.048, 0.055),
        ] {
            let found = width(kg_m3, basis);
            assert!((least..most).contains(&found), "{kg_m3} {basis:?}: {found}");
        }
    }

    #[test]
    fn mass_and_volume_are_inverse() {
        let density = crate::quantity::kg_per_m3(1030.0);
        let mass = mass_of(millilitres(250.0), density);
        assert!((in_grams(mass) - 257.5).abs() < 1e-9);
        let volume = volume_of(mass, density).unwrap();
        assert!((in_millilitres(volume) - 250.0).abs() < 1e-9);
        assert_eq!(volume_of(mass, crate::quantity::kg_per_m3(0.0)), None);
    }
}
