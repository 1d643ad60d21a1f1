//! Density of the mix and the fill of a container.
//!
//! Volumes add up: water by its own density, dissolved substances by the room they
//! take in water at their concentration (apparent specific volume, Young's rule),
//! which carries the contraction of mixtures with glycerin, ethanol, glycols and
//! salt. Raw materials whose constituents are not all known take the density of
//! the material. Air and foam are not included.

use super::substances::{ApparentVolume, Substance};
use crate::quantity::{
    Mass, MassDensity, Temperature, Volume, celsius, grams, in_celsius, in_grams, in_kg_per_m3,
    in_millilitres, millilitres,
};

/// The method, in words.
pub const METHOD: &str = "volumes add up at 20 °C; apparent volumes in water for what dissolves, density of the raw material else";
/// Its range, in words.
pub const VALIDITY: &str = "within 0.5 % of published tables for water with glycerin, ethanol, propylene glycol, sugar, urea or salt; air and foam not included";
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

/// Density of pure water.
pub fn of_water(temperature: Temperature) -> MassDensity {
    crate::quantity::kg_per_m3(water_kg_m3(in_celsius(temperature)))
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

/// The mass that fills a volume.
pub fn mass_of(volume: Volume, density: MassDensity) -> Mass {
    grams(in_millilitres(volume) * in_kg_per_m3(density) / 1000.0)
}

/// The volume that a mass fills; `None` if the density is not above zero.
pub fn volume_of(mass: Mass, density: MassDensity) -> Option<Volume> {
    let kg_m3 = in_kg_per_m3(density);
    (kg_m3 > 0.0).then(|| millilitres(in_grams(mass) / kg_m3 * 1000.0))
}

/// The temperature at which densities are estimated.
pub fn reference_temperature() -> Temperature {
    celsius(20.0)
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
