//! Viscosity of liquids that anybody can mix, to calibrate a method of one's own.

/// A liquid of known viscosity.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum KnownLiquid {
    /// Glycerol in water (Cheng, Ind. Eng. Chem. Res. 47 (2008) 3285): 0 to 100 %, 0 to 100 °C,
    /// within 3.5 % of the measurements of Segur and Oberstar (1951).
    Glycerol,
    /// Sucrose in water (Mathlouthi and Génotelle 1995, from memory): 0 to 70 %, 0 to 100 °C,
    /// within 3.5 % of handbook values at 20 °C.
    Sucrose,
    /// Water at 0.1 MPa (IAPWS SR6-08(2011)): −20 to 110 °C, within 1 %.
    Water,
}

impl KnownLiquid {
    /// The liquid of a name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        match name.trim().to_lowercase().as_str() {
            "glycerol" | "glycerin" | "glycerine" => Some(Self::Glycerol),
            "sucrose" | "sugar" => Some(Self::Sucrose),
            "water" => Some(Self::Water),
            _ => None,
        }
    }
    /// Viscosity in mPa s at a share by mass in percent and a temperature in °C; none outside
    /// the range of the equation.
    #[must_use]
    pub fn viscosity_mpa_s(self, percent: f64, celsius: f64) -> Option<f64> {
        let t = celsius;
        match self {
            Self::Glycerol => {
                if !(0.0..=100.0).contains(&percent) || !(0.0..=100.0).contains(&t) {
                    return None;
                }
                let c = percent / 100.0;
                let water = 1.790 * ((-1230.0 - t) * t / (36100.0 + 360.0 * t)).exp();
                let glycerol = 12100.0 * ((-1233.0 + t) * t / (9900.0 + 70.0 * t)).exp();
                let a = 0.705 - 0.0017 * t;
                let b = (4.9 + 0.036 * t) * a.powf(2.5);
                let power = 1.0 - c + a * b * c * (1.0 - c) / (a * c + b * (1.0 - c));
                Some(water.powf(power) * glycerol.powf(1.0 - power))
            }
            Self::Sucrose => {
                if !(0.0..=70.0).contains(&percent) || !(0.0..=100.0).contains(&t) {
                    return None;
                }
                let n = percent / (1900.0 - 18.0 * percent);
                let log10 =
                    22.46 * n - 0.114 + (30.0 - t) / (91.0 + t) * (1.1 + 43.1 * n.powf(1.25));
                Some(10.0_f64.powf(log10))
            }
            Self::Water => {
                if !(-20.0..=110.0).contains(&t) {
                    return None;
                }
                let r = (t + 273.15) / 300.0;
                let terms = [
                    (280.68, -1.9),
                    (511.45, -7.7),
                    (61.131, -19.6),
                    (0.45903, -40.0),
                ];
                Some(terms.iter().map(|(a, b)| a * r.powf(*b)).sum::<f64>() / 1000.0)
            }
        }
    }
}
