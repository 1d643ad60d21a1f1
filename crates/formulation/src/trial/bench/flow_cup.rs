//! Flow cups: the time in which a cup runs empty gives the kinematic viscosity of a Newtonian
//! liquid. A shower gel does not run through one in the time the standards allow.
//!
//! Equations and ranges as printed by a maker of viscosity standards (ASTM cups) and in a
//! public script after the standards; the standards themselves were not at hand.

/// How the time turns into a viscosity, mm²/s.
#[derive(Clone, Copy, PartialEq, Debug)]
enum Law {
    /// ν = A t − B/t (ISO 2431, DIN 53211).
    Quadratic(f64, f64),
    /// ν = K (t − c) (ASTM D1200, ASTM D4212).
    Straight(f64, f64),
}

/// A flow cup.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct FlowCup {
    /// Name.
    pub name: &'static str,
    law: Law,
    /// Times for which the equation is printed, s.
    pub range: (f64, f64),
    /// Temperature of the equation, °C.
    pub celsius: f64,
}

const fn cup(name: &'static str, law: Law, range: (f64, f64), celsius: f64) -> FlowCup {
    FlowCup {
        name,
        law,
        range,
        celsius,
    }
}

/// The cups known.
pub const CUPS: [FlowCup; 17] = [
    cup(
        "ISO 2431 3 mm",
        Law::Quadratic(0.443, 200.0),
        (30.0, 100.0),
        23.0,
    ),
    cup(
        "ISO 2431 4 mm",
        Law::Quadratic(1.37, 200.0),
        (30.0, 100.0),
        23.0,
    ),
    cup(
        "ISO 2431 5 mm",
        Law::Quadratic(3.28, 220.0),
        (30.0, 100.0),
        23.0,
    ),
    cup(
        "ISO 2431 6 mm",
        Law::Quadratic(6.90, 570.0),
        (30.0, 100.0),
        23.0,
    ),
    cup(
        "DIN 53211 4 mm",
        Law::Quadratic(4.57, 452.0),
        (25.0, 150.0),
        20.0,
    ),
    cup("Ford 1", Law::Straight(0.49, 35.0), (55.0, 100.0), 25.0),
    cup("Ford 2", Law::Straight(1.44, 18.0), (40.0, 100.0), 25.0),
    cup("Ford 3", Law::Straight(2.31, 6.58), (20.0, 100.0), 25.0),
    cup("Ford 4", Law::Straight(3.85, 4.49), (20.0, 100.0), 25.0),
    cup("Ford 5", Law::Straight(12.1, 2.0), (20.0, 100.0), 25.0),
    cup("Zahn 1", Law::Straight(1.1, 29.0), (35.0, 80.0), 25.0),
    cup("Zahn 2", Law::Straight(3.5, 14.0), (20.0, 80.0), 25.0),
    cup("Zahn 3", Law::Straight(11.7, 7.5), (20.0, 80.0), 25.0),
    cup("Zahn 4", Law::Straight(14.8, 5.0), (20.0, 80.0), 25.0),
    cup("Zahn 5", Law::Straight(23.0, 0.0), (20.0, 80.0), 25.0),
    cup("Shell 4", Law::Straight(3.45, 1.0), (20.0, 80.0), 25.0),
    cup("Shell 6", Law::Straight(16.2, 0.5), (20.0, 80.0), 25.0),
];

impl FlowCup {
    /// The cup of a name.
    #[must_use]
    pub fn named(name: &str) -> Option<&'static Self> {
        CUPS.iter()
            .find(|c| c.name.eq_ignore_ascii_case(name.trim()))
    }
    /// Kinematic viscosity in mm²/s of a time in s; none below the shortest time that has a
    /// meaning.
    #[must_use]
    pub fn kinematic_mm2_s(&self, seconds: f64) -> Option<f64> {
        let v = match self.law {
            Law::Quadratic(a, b) => a * seconds - b / seconds,
            Law::Straight(k, c) => k * (seconds - c),
        };
        (seconds > 0.0 && v > 0.0 && v.is_finite()).then_some(v)
    }
    /// Time in s of a kinematic viscosity in mm²/s.
    #[must_use]
    pub fn seconds(&self, kinematic_mm2_s: f64) -> f64 {
        match self.law {
            Law::Quadratic(a, b) => {
                (kinematic_mm2_s + (kinematic_mm2_s * kinematic_mm2_s + 4.0 * a * b).sqrt())
                    / (2.0 * a)
            }
            Law::Straight(k, c) => kinematic_mm2_s / k + c,
        }
    }
    /// Whether the equation is printed for this time.
    #[must_use]
    pub fn covers(&self, seconds: f64) -> bool {
        (self.range.0..=self.range.1).contains(&seconds)
    }
}
