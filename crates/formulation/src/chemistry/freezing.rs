//! Freezing point: where ice begins to form in a mix.
//!
//! Ice and a solution are in equilibrium where the activity of water in both is the same. The
//! activity of a salt, of sugar or urea at 25 °C serves there as well. Alcohol, glycols and
//! glycerin give off or take up heat with water, so theirs is taken from published freezing
//! points (`assets/chemistry/freezing_points.tsv`), each solute at its molality in all the water;
//! as at 25 °C, the activities of several multiply.

use std::sync::LazyLock;

use super::substances::{self, Substance};
use super::water_activity::of_solute;
use crate::composition::Composition;
use crate::quantity::GAS_CONSTANT;

/// Heat of melting of ice at 0 °C, J/mol, held constant.
const MELTING_J_MOL: f64 = 6009.5;
/// Freezing point of water, K.
const ICE_K: f64 = 273.15;
/// Lowering of the freezing point of water in very dilute solution, K kg/mol (CRC Handbook).
const DILUTE_K_KG_MOL: f64 = 1.86;

/// How a freezing point follows, in words.
pub const METHOD: &str = "from the water activity, with the heat of melting of ice held constant; alcohol, propylene glycol and glycerin by their published freezing points at their share of the water";
/// Where it holds, and how well, in words.
pub const VALIDITY: &str = "a fifth of water or more. One solute in water: alcohol to 50 %, propylene glycol to 60 %, glycerin to 66.7 % of it and water, within 0.5 K down to −25 °C, not known beyond; salt, sugar and urea within 1 K down to −15 °C. Other diols and alcohols freeze lower than told, by up to a quarter of the lowering; mixtures are not tested against tables";
/// What it rests on, in words.
pub const SOURCE: &str = "equilibrium of ice with a solution, 6009.5 J/mol; CRC Handbook, concentrative properties, for alcohol from memory; Å. Melinder 2010; M. Lane 1925, from memory";

/// Freezing point of a solution in °C from its water activity, above 0 and at most 1:
/// 1/T = 1/273.15 − R ln a_w / ΔH with ΔH = 6009.5 J/mol. Within 1 K down to −15 °C for salt,
/// sugar and urea, whose activity at 25 °C serves at the freezing point as well.
pub fn of_activity(water_activity: f64) -> Option<f64> {
    (water_activity > 0.0 && water_activity <= 1.0)
        .then(|| 1.0 / (1.0 / ICE_K - GAS_CONSTANT * water_activity.ln() / MELTING_J_MOL) - ICE_K)
}

/// Logarithm of the activity of water that freezes at a temperature in °C: the inverse of
/// [`of_activity`].
fn ln_activity_at(freezing_c: f64) -> f64 {
    MELTING_J_MOL / GAS_CONSTANT * (1.0 / ICE_K - 1.0 / (freezing_c + ICE_K))
}

/// Freezing point of a mix in °C from its water activity at 25 °C; none without water and where
/// more of a solute is in the water than its table reaches.
pub fn of_mix(water_activity: f64, composition: &Composition) -> Option<f64> {
    let water = composition.water().typical.value();
    if water_activity <= 0.0 || water <= 0.0 {
        return None;
    }
    let mut ln_activity = water_activity.ln();
    for curve in CURVES.iter() {
        let mut all = 0.0;
        for part in &composition.constituents {
            let is_it = substances::find(part.inci.spelling(), part.cas)
                .is_some_and(|s| std::ptr::eq(s, curve.substance));
            if is_it {
                let share = part.share.typical.value();
                let molality = 1000.0 * share / curve.substance.molar_mass / water;
                ln_activity -= of_solute(curve.substance, molality).ln();
                all += molality;
            }
        }
        if all > 0.0 {
            ln_activity += ln_activity_at(curve.freezing_c(all)?);
        }
    }
    of_activity(ln_activity.exp().min(1.0))
}

/// Published freezing points of water with one solute.
struct Curve {
    substance: &'static Substance,
    /// Share by mass of solute and water, and the lowering per mole there, K kg/mol, from
    /// nothing of the solute on.
    points: Vec<[f64; 2]>,
}

impl Curve {
    /// Freezing point at a molality in mol/kg, °C; none beyond the last row.
    fn freezing_c(&self, molality: f64) -> Option<f64> {
        /// What a share may lie beyond the last row by the noise of binary fractions.
        const NOISE: f64 = 1e-9;
        let grams = molality * self.substance.molar_mass;
        let share = grams / (1000.0 + grams);
        let mut spans = self.points.windows(2);
        let [from, to] = spans.find(|span| share <= span[1][0] + NOISE)? else {
            return None;
        };
        let way = (share - from[0]) / (to[0] - from[0]);
        Some(-molality * (from[1] + way * (to[1] - from[1])))
    }
}

const TABLE: &str = include_str!("../../../../assets/chemistry/freezing_points.tsv");

/// The rows of the table, without its remarks and its head.
fn rows() -> impl Iterator<Item = &'static str> {
    TABLE.lines().filter(|row| !row.starts_with('#')).skip(1)
}

/// Substance, share and freezing point of a row.
fn read_row(row: &str) -> Option<(&'static Substance, f64, f64)> {
    let mut cells = row.split('\t');
    let substance = substances::by_name(cells.next()?)?;
    let percent: f64 = cells.next()?.parse().ok()?;
    let freezing_c = cells.next()?.parse().ok()?;
    Some((substance, percent / 100.0, freezing_c))
}

static CURVES: LazyLock<Vec<Curve>> = LazyLock::new(|| {
    let mut curves: Vec<Curve> = Vec::new();
    for (substance, share, freezing_c) in rows().filter_map(read_row) {
        let molality = 1000.0 * share / (1.0 - share) / substance.molar_mass;
        let point = [share, -freezing_c / molality];
        match curves.last_mut() {
            Some(curve) if std::ptr::eq(curve.substance, substance) => curve.points.push(point),
            _ => curves.push(Curve {
                substance,
                points: vec![[0.0, DILUTE_K_KG_MOL], point],
            }),
        }
    }
    curves
});

#[cfg(test)]
mod tests {
    use super::*;

    /// Every row reads, with a basis and a source; the shares of each substance rise, and its
    /// lowering per mole stays within what such tables have.
    #[test]
    fn the_table_reads() {
        for row in rows() {
            assert!(read_row(row).is_some(), "{row}");
            let cells: Vec<&str> = row.split('\t').collect();
            assert_eq!(cells.len(), 5, "{row}");
            assert!(["published", "memory"].contains(&cells[3]), "{row}");
            assert_eq!(cells[3] == "memory", cells[4].contains("memory"), "{row}");
        }
        let names: Vec<&str> = CURVES.iter().map(|c| c.substance.name()).collect();
        assert_eq!(names, ["Glycerin", "Propylene Glycol", "Alcohol"]);
        for curve in CURVES.iter() {
            for pair in curve.points.windows(2) {
                assert!(pair[0][0] < pair[1][0], "{}", curve.substance.name());
                assert!((1.6..2.6).contains(&pair[1][1]), "{pair:?}");
            }
        }
    }

    /// CRC Handbook, concentrative properties: sodium chloride 5 % −3.05 °C, 10 % −6.56 °C,
    /// 20 % −16.46 °C.
    #[test]
    fn salt_freezes_by_its_activity() {
        let salt = substances::by_name("Sodium Chloride").unwrap();
        for (share, published, tolerance) in
            [(5.0, -3.05, 0.2), (10.0, -6.56, 0.5), (20.0, -16.46, 0.8)]
        {
            let molality = 1000.0 * share / salt.molar_mass / (100.0 - share);
            let found = of_activity(of_solute(salt, molality)).unwrap();
            assert!((found - published).abs() < tolerance, "{share}: {found}");
        }
        assert_eq!(of_activity(0.0), None);
        assert!(of_activity(1.0).unwrap().abs() < 1e-9);
    }

    /// The equilibrium and its inverse, and the end of a table.
    #[test]
    fn a_curve_ends_where_its_table_does() {
        for freezing_c in [-1.0, -20.0, -45.0] {
            let back = of_activity(ln_activity_at(freezing_c).exp()).unwrap();
            assert!((back - freezing_c).abs() < 1e-9, "{back}");
        }
        let alcohol = CURVES.iter().find(|c| c.substance.name() == "Alcohol");
        let at = |share: f64| {
            let alcohol = alcohol.unwrap();
            alcohol.freezing_c(1000.0 * share / (1.0 - share) / alcohol.substance.molar_mass)
        };
        assert!((at(0.5).unwrap() + 37.7).abs() < 1e-6);
        assert_eq!(at(0.51), None);
    }
}
