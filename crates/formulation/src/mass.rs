//! Exact masses and the units people weigh and fill in.
//!
//! Factors are exact by definition: the avoirdupois pound is 0.453 592 37 kg and the
//! ounce a sixteenth of it; the US gallon is 231 cubic inches with the inch 25.4 mm, its
//! fluid ounce a 128th; the imperial gallon is 4.546 09 l, its fluid ounce a 160th
//! (NIST Special Publication 811, Appendix B; NIST Handbook 44, Appendix C; for the
//! imperial gallon the Weights and Measures Act 1985, Schedule 1).

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Sub, SubAssign};

use crate::amount::AmountError;
use crate::amount::number::{self, Unit, WrittenNumber};
use crate::amount::typed::{decide, find};
use crate::quantity::{
    Decimal, IMPERIAL_FLUID_OUNCE_MILLILITRES, Mass, MassFraction, OUNCE_NANOGRAMS,
    POUND_NANOGRAMS, US_FLUID_OUNCE_MILLILITRES, Volume, grams, millilitres,
};

/// Femtograms in a gram: fine enough that a ten-thousandth of an ounce is exact.
const PER_GRAM: i128 = 1_000_000_000_000_000;
/// Femtograms in a nanogram.
const PER_NANOGRAM: i128 = 1_000_000;

/// A mass exact to one femtogram (1e-15 g), so that masses in grams, ounces or pounds
/// add up without drift. Entered masses lie between 0 and [`ExactMass::MOST`];
/// differences may be negative.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct ExactMass(i128);

impl ExactMass {
    /// Nothing.
    pub const ZERO: Self = Self(0);
    /// The largest mass that may be entered: a thousand tonnes.
    pub const MOST: Self = Self(1_000_000_000 * PER_GRAM);

    /// From a whole number of femtograms.
    pub const fn from_femtograms(femtograms: i128) -> Self {
        Self(femtograms)
    }

    /// The whole number of femtograms.
    pub const fn femtograms(self) -> i128 {
        self.0
    }

    /// From a decimal number in a unit, exact to the femtogram; `None` if negative or
    /// beyond [`Self::MOST`].
    pub fn new(value: Decimal, unit: MassUnit) -> Option<Self> {
        let value = value.normalize();
        let product = value.mantissa().checked_mul(unit.femtograms())?;
        let mass = Self(divide_to_nearest(
            product,
            10_i128.checked_pow(value.scale())?,
        ));
        (Self::ZERO <= mass && mass <= Self::MOST).then_some(mass)
    }

    /// The nearest exact mass to a computed one; `None` if negative, not finite or
    /// beyond [`Self::MOST`]. A computed mass carries 15 digits; it is taken to the nearest
    /// nanogram so that binary noise does not show.
    pub fn nearest(mass: Mass) -> Option<Self> {
        let value = crate::quantity::in_grams(mass);
        (value.is_finite() && (0.0..=1e9).contains(&value))
            .then(|| Self((value * 1e9).round() as i128 * (PER_GRAM / 1_000_000_000)))
    }

    /// The value in grams, for computation on shares.
    pub fn as_grams(self) -> f64 {
        self.0 as f64 / PER_GRAM as f64
    }

    /// As a typed quantity.
    pub fn mass(self) -> Mass {
        grams(self.as_grams())
    }

    /// In a unit, rounded half away from zero to a number of digits after the point (at
    /// most 15).
    pub fn in_unit(self, unit: MassUnit, digits: u32) -> Decimal {
        let digits = digits.min(15);
        let tens = 10_i128.pow(digits);
        // Whole units and the rest apart, so that the product stays within range.
        let (whole, rest) = (self.0 / unit.femtograms(), self.0 % unit.femtograms());
        let scaled = whole * tens + divide_to_nearest(rest * tens, unit.femtograms());
        Decimal::try_from_i128_with_scale(scaled, digits).unwrap_or(Decimal::MAX)
    }

    /// Exactly in grams as a decimal number without closing zeros.
    pub fn decimal_grams(self) -> Decimal {
        Decimal::try_from_i128_with_scale(self.0, 15)
            .unwrap_or(Decimal::MAX)
            .normalize()
    }

    /// This mass taken a whole number of times.
    pub const fn times(self, count: i128) -> Self {
        Self(self.0 * count)
    }

    /// The nearest mass to `self × numerator / denominator`, exact integer arithmetic;
    /// zero if the denominator is zero.
    pub fn ratio(self, numerator: i128, denominator: i128) -> Self {
        if denominator == 0 {
            return Self::ZERO;
        }
        match self.0.checked_mul(numerator) {
            Some(product) => Self(divide_to_nearest(product, denominator)),
            // Beyond 1e38 the last digits are below anything that can be weighed.
            None => Self((self.0 as f64 * (numerator as f64 / denominator as f64)).round() as i128),
        }
    }

    /// The share this mass is of a whole; `None` of nothing.
    pub fn share_of(self, whole: Self) -> Option<MassFraction> {
        (whole.0 != 0).then(|| MassFraction::new(self.0 as f64 / whole.0 as f64))
    }

    /// The size without sign.
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// Whether there is nothing.
    pub const fn is_zero(self) -> bool {
        self.0 == 0
    }
}

/// Nearest whole quotient, halves away from zero; the divisor is positive.
fn divide_to_nearest(value: i128, divisor: i128) -> i128 {
    let half = divisor / 2;
    let (quotient, rest) = (value / divisor, value % divisor);
    if rest.abs() > half || (divisor % 2 == 0 && rest.abs() == half && half > 0) {
        quotient + value.signum()
    } else {
        quotient
    }
}

impl fmt::Display for ExactMass {
    /// Grams without a unit; the formatter's precision sets the digits shown.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = match f.precision() {
            Some(digits) => {
                let digits = digits.min(15);
                let value = self.in_unit(MassUnit::Gram, digits as u32);
                format!("{value:.digits$}")
            }
            None => self.decimal_grams().to_string(),
        };
        // Right-aligned as numbers are; `pad` would read the precision as a length.
        let width = f.width().unwrap_or(0);
        write!(f, "{text:>width$}")
    }
}
impl fmt::Debug for ExactMass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} g", self.decimal_grams())
    }
}
impl Add for ExactMass {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}
impl AddAssign for ExactMass {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}
impl Sub for ExactMass {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}
impl SubAssign for ExactMass {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}
impl Sum for ExactMass {
    fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
        iter.fold(Self::ZERO, Add::add)
    }
}

/// A unit of mass.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub enum MassUnit {
    /// Gram.
    #[default]
    Gram,
    /// Kilogram, 1000 g.
    Kilogram,
    /// Avoirdupois ounce, 28.349 523 125 g.
    Ounce,
    /// Avoirdupois pound, 453.592 37 g.
    Pound,
}

impl MassUnit {
    /// All units, in the order of display.
    pub const ALL: [Self; 4] = [Self::Gram, Self::Kilogram, Self::Ounce, Self::Pound];

    /// The symbol shown and understood.
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Gram => "g",
            Self::Kilogram => "kg",
            Self::Ounce => "oz",
            Self::Pound => "lb",
        }
    }

    /// Femtograms in one, exact.
    pub const fn femtograms(self) -> i128 {
        match self {
            Self::Gram => PER_GRAM,
            Self::Kilogram => 1000 * PER_GRAM,
            Self::Ounce => OUNCE_NANOGRAMS as i128 * PER_NANOGRAM,
            Self::Pound => POUND_NANOGRAMS as i128 * PER_NANOGRAM,
        }
    }

    /// Reads a symbol or the unit's name in the languages of `assets/names/units.ron`, without
    /// regard to case.
    pub fn read(text: &str) -> Option<Self> {
        match Unit::named(text)? {
            Unit::Gram => Some(Self::Gram),
            Unit::Kilogram => Some(Self::Kilogram),
            Unit::Ounce => Some(Self::Ounce),
            Unit::Pound => Some(Self::Pound),
            Unit::Percent
            | Unit::Milligram
            | Unit::Decagram
            | Unit::Hectogram
            | Unit::Millilitre
            | Unit::Litre => None,
        }
    }
}

/// Digits after the point that show every step of a resolution in a unit, at most 6. A
/// step that is no decimal number of the unit gets one digit more than its size has.
pub fn digits(resolution: ExactMass, unit: MassUnit) -> u32 {
    let mut scaled = resolution;
    for digits in 0..=6 {
        if scaled.femtograms() % unit.femtograms() == 0 {
            return digits;
        }
        scaled = scaled.times(10);
    }
    let size = resolution.as_grams() / (unit.femtograms() as f64 / 1e15);
    (1.0 - size.log10().floor()).clamp(0.0, 6.0) as u32
}

/// A mass in a unit, with the digits its scale shows.
pub fn shown(mass: ExactMass, resolution: ExactMass, unit: MassUnit) -> String {
    let digits = digits(resolution, unit);
    format!(
        "{:.*} {}",
        digits as usize,
        mass.in_unit(unit, digits),
        unit.symbol()
    )
}

/// A mass as it was recorded: with the digits its scale shows, and more where the record
/// holds more, at most 6.
pub fn shown_as_recorded(mass: ExactMass, resolution: ExactMass, unit: MassUnit) -> String {
    let least = digits(resolution, unit);
    let whole = |n: &u32| mass.times(10_i128.pow(*n)).femtograms() % unit.femtograms() == 0;
    let digits = (least..=6).find(whole).unwrap_or(least);
    let digits_after = digits as usize;
    format!(
        "{:.digits_after$} {}",
        mass.in_unit(unit, digits),
        unit.symbol()
    )
}

/// A unit of volume; volumes are used for filling and vessels only, never for weighing.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub enum VolumeUnit {
    /// Millilitre.
    #[default]
    Millilitre,
    /// Litre.
    Litre,
    /// US fluid ounce, 29.573 529 562 5 ml.
    UsFluidOunce,
    /// Imperial fluid ounce, 28.413 062 5 ml.
    ImperialFluidOunce,
}

impl VolumeUnit {
    /// All units, in the order of display.
    pub const ALL: [Self; 4] = [
        Self::Millilitre,
        Self::Litre,
        Self::UsFluidOunce,
        Self::ImperialFluidOunce,
    ];

    /// The symbol shown and understood.
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Millilitre => "ml",
            Self::Litre => "l",
            Self::UsFluidOunce => "fl oz (US)",
            Self::ImperialFluidOunce => "fl oz (imp)",
        }
    }

    /// Millilitres in one, exact to the digits of a binary number.
    pub const fn millilitres(self) -> f64 {
        match self {
            Self::Millilitre => 1.0,
            Self::Litre => 1000.0,
            Self::UsFluidOunce => US_FLUID_OUNCE_MILLILITRES,
            Self::ImperialFluidOunce => IMPERIAL_FLUID_OUNCE_MILLILITRES,
        }
    }

    /// Reads a symbol, without regard to case; a bare `fl oz` is the US one.
    pub fn read(text: &str) -> Option<Self> {
        let text: String = text
            .trim()
            .to_lowercase()
            .chars()
            .filter(char::is_ascii_alphabetic)
            .collect();
        match text.as_str() {
            "ml" => Some(Self::Millilitre),
            "l" | "litre" | "liter" => Some(Self::Litre),
            "floz" | "flozus" | "usfloz" => Some(Self::UsFluidOunce),
            "flozimp" | "flozuk" | "impfloz" | "ukfloz" => Some(Self::ImperialFluidOunce),
            _ => None,
        }
    }
}

/// The unit written after a number, else the one of a bare number.
fn unit_of<U>(
    text: &str,
    unit: &str,
    bare: Option<U>,
    read: impl Fn(&str) -> Option<U>,
    units: &str,
) -> Result<U, AmountError> {
    let (text, units) = (text.trim().to_owned(), units.to_owned());
    if unit.is_empty() {
        return bare.ok_or(AmountError::NoUnit { text, units });
    }
    let unit = unit.to_owned();
    read(&unit).ok_or(AmountError::Unit { text, unit, units })
}

/// Reads a mass such as `250 g`, `1.5kg`, `2 lb`. A bare number is in `bare`, if given.
///
/// # Errors
/// Says what is wrong; a text with two readings, such as `1,000 g`, is refused with both.
pub fn read_mass(text: &str, bare: Option<MassUnit>) -> Result<ExactMass, AmountError> {
    mass_of(text, &find(text, "a mass", "250 g")?, bare)
}

/// The same for what a scale sent and what our files hold: a point there always stands
/// before decimals, as in `64.000 g`.
///
/// # Errors
/// As [`read_mass`].
pub fn read_mass_with_point(text: &str, bare: MassUnit) -> Result<ExactMass, AmountError> {
    let mut found = find(text, "a mass", "250 g")?;
    if found.digits.contains('.') {
        found.or = None;
    }
    mass_of(text, &found, Some(bare))
}

fn mass_of(
    text: &str,
    found: &WrittenNumber<'_>,
    bare: Option<MassUnit>,
) -> Result<ExactMass, AmountError> {
    let unit = unit_of(text, found.after, bare, MassUnit::read, "g, kg, oz, lb")?;
    let makes_sense = |d| ExactMass::new(d, unit).is_some();
    let words = |d: Decimal| format!("{d} {}", unit.symbol());
    let number = decide(text, found, makes_sense, words)?;
    ExactMass::new(number, unit).ok_or_else(|| AmountError::OutOfRange {
        text: text.trim().to_owned(),
        what: "a mass",
        least: "0 g".to_owned(),
        most: "1000 tonnes".to_owned(),
    })
}

/// Reads a volume such as `250 ml`, `1.5 l`, `8 fl oz`. A bare number is in `bare`, if given.
///
/// # Errors
/// As [`read_mass`].
pub fn read_volume(text: &str, bare: Option<VolumeUnit>) -> Result<Volume, AmountError> {
    let found = find(text, "a volume", "250 ml")?;
    let units = "ml, l, fl oz (US), fl oz (imp)";
    let unit = unit_of(text, found.after, bare, VolumeUnit::read, units)?;
    let in_ml = |d: Decimal| number::to_double(d) * unit.millilitres();
    let makes_sense = |d| (0.0..=1e9).contains(&in_ml(d));
    let words = |d: Decimal| format!("{d} {}", unit.symbol());
    let number = decide(text, &found, makes_sense, words)?;
    if makes_sense(number) {
        return Ok(millilitres(in_ml(number)));
    }
    Err(AmountError::OutOfRange {
        text: text.trim().to_owned(),
        what: "a volume",
        least: "0 ml".to_owned(),
        most: "1000000 l".to_owned(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::in_millilitres;
    use proptest::prelude::*;

    fn mass(text: &str) -> ExactMass {
        read_mass(text, None).unwrap()
    }

    /// NIST Handbook 44, Appendix C: 1 pound = 453.592 37 g (exactly), 1 ounce =
    /// 28.349 523 125 g (exactly); NIST SP 811, Appendix B.8 prints 4.535 924 E-01 kg and
    /// 2.834 952 E-02 kg.
    #[test]
    fn ounces_and_pounds_are_exact() {
        assert_eq!(mass("1 lb").to_string(), "453.59237");
        assert_eq!(mass("1 oz").to_string(), "28.349523125");
        assert_eq!(mass("16 oz"), mass("1 lb"));
        assert_eq!(mass("0.0001 oz").times(10_000), mass("1 oz"));
        assert_eq!(mass("1 kg"), mass("1000 g"));
        assert_eq!(
            mass("1 kg").in_unit(MassUnit::Pound, 6).to_string(),
            "2.204623"
        );
    }

    #[test]
    fn what_was_recorded_is_never_cut() {
        let show = |m, step| shown_as_recorded(mass(m), mass(step), MassUnit::Gram);
        assert_eq!(show("256.4 g", "1 g"), "256.4 g");
        assert_eq!(show("5 g", "0.1 g"), "5.0 g");
        assert_eq!(show("0.3 oz", "0.1 g"), "8.5 g");
        let ounces = shown_as_recorded(mass("0.35 oz"), mass("0.1 oz"), MassUnit::Ounce);
        assert_eq!(ounces, "0.35 oz");
    }

    /// NIST Handbook 44, Appendix C: 1 US fluid ounce = 29.573 529 562 5 ml (exactly), 1 US
    /// gallon = 3.785 411 784 l; 1 imperial gallon = 4.546 09 l (exactly), 160 fluid ounces.
    #[test]
    fn fluid_ounces_follow_the_gallons() {
        let us = in_millilitres(read_volume("128 fl oz", None).unwrap());
        assert!((us - 3785.411784).abs() < 1e-9);
        let imperial = in_millilitres(read_volume("160 fl oz (imp)", None).unwrap());
        assert!((imperial - 4546.09).abs() < 1e-9);
        let litres = in_millilitres(read_volume("1,5 l", None).unwrap());
        assert!((litres - 1500.0).abs() < 1e-9);
    }

    #[test]
    fn what_is_not_a_mass_is_refused_with_words() {
        assert!(matches!(
            read_mass(" ", None),
            Err(AmountError::Empty { .. })
        ));
        assert!(matches!(
            read_mass("-3 g", None),
            Err(AmountError::OutOfRange { .. })
        ));
        assert!(matches!(
            read_mass("3 stone", None),
            Err(AmountError::Unit { .. })
        ));
        assert!(matches!(
            read_mass("3", None),
            Err(AmountError::NoUnit { .. })
        ));
        assert!(matches!(
            read_mass("2000000000 g", None),
            Err(AmountError::OutOfRange { .. })
        ));
        assert!(matches!(
            read_volume("3 g", None),
            Err(AmountError::Unit { .. })
        ));
        assert_eq!(read_mass("3", Some(MassUnit::Gram)).unwrap(), mass("3 g"));
        for text in ["1 234.5 g", "1'234,5 g", "1\u{202f}234.5g"] {
            assert_eq!(read_mass(text, None).unwrap(), mass("1234.5 g"), "{text}");
        }
        assert_eq!(read_mass("1,234.5 g", None), read_mass("1234.5 g", None));
        for text in ["12 34 g", "1,000 g", "1.000 kg", "1 2345 g"] {
            assert!(read_mass(text, None).is_err(), "{text}");
        }
        assert_eq!(
            read_mass("1,000 g", None).unwrap_err().to_string(),
            "“1,000 g” can mean 1 g or 1000 g; type it without the mark between thousands, \
             or with other decimals"
        );
        assert_eq!(
            read_mass("4 qkg", None).unwrap_err().to_string(),
            "“qkg” in “4 qkg” is no unit known here; use one of g, kg, oz, lb"
        );
    }

    #[test]
    fn masses_are_shown_rounded_to_the_digits_asked_for() {
        assert_eq!(format!("{:.1}", mass("2.25 g")), "2.3");
        assert_eq!(format!("{:.2}", mass("0.004 g")), "0.00");
        assert_eq!(format!("{:.1}", mass("250 g")), "250.0");
        assert_eq!(format!("{:>8.1}", mass("250 g")), "   250.0");
    }

    proptest! {
        #[test]
        fn a_mass_in_grams_is_read_back_exactly(milligrams in 0_i64..1_000_000_000_000) {
            let value = Decimal::new(milligrams, 3);
            let mass = ExactMass::new(value, MassUnit::Gram).unwrap();
            prop_assert_eq!(mass.decimal_grams(), value.normalize());
        }

        #[test]
        fn every_unit_round_trips(count in 0_i64..100_000_000, unit in 0_usize..4) {
            let unit = MassUnit::ALL[unit];
            let value = Decimal::new(count, 4);
            let mass = ExactMass::new(value, unit).unwrap();
            prop_assert_eq!(mass.in_unit(unit, 4), value);
        }
    }
}
