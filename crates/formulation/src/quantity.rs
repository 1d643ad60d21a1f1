//! Typed quantities: the exact percentage of a line, the share of a constituent,
//! money, and the SI quantities taken from `uom`.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Neg, Sub, SubAssign};
use std::str::FromStr;

pub use rust_decimal::Decimal;
pub use uom::si::f64::{Mass, MassDensity, ThermodynamicTemperature as Temperature, Volume};

/// A percentage by weight (% w/w) of the whole formula, exact to 0.000001 %.
///
/// Stored as a whole number of millionths of a percent, so sums never drift.
/// Differences may be negative; a line's percentage is kept within 0 to 100 by
/// [`crate::edit`].
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Percent(i64);

impl Percent {
    /// Millionths of a percent in one percent.
    pub const UNITS: i64 = 1_000_000;
    /// 0 %.
    pub const ZERO: Self = Self(0);
    /// 100 %.
    pub const HUNDRED: Self = Self(100 * Self::UNITS);
    /// The smallest step, 0.000001 %.
    pub const STEP: Self = Self(1);

    /// From a whole number of millionths of a percent.
    pub const fn from_units(units: i64) -> Self {
        Self(units)
    }

    /// From a decimal number of percent; none if it is finer than [`Percent::STEP`] or too large.
    pub fn of_decimal(percent: Decimal) -> Option<Self> {
        percent
            .normalize()
            .checked_mul(Decimal::from(Self::UNITS))
            .filter(Decimal::is_integer)
            .and_then(|units| i64::try_from(units).ok())
            .map(Self)
    }

    /// The whole number of millionths of a percent.
    pub const fn units(self) -> i64 {
        self.0
    }

    /// The greatest multiple of a hundredth of a percent that is not above this; what is
    /// itself below one hundredth stays as it is. For limits: never above them.
    pub const fn down_to_hundredths(self) -> Self {
        let step = Self::UNITS / 100;
        let whole = self.0.div_euclid(step) * step;
        if whole > 0 { Self(whole) } else { self }
    }

    /// The nearest multiple of a hundredth of a percent; what is below one hundredth stays as it
    /// is. For percentages that nobody typed.
    pub const fn to_hundredths(self) -> Self {
        let step = Self::UNITS / 100;
        if self.0 < step {
            return self;
        }
        Self(self.0.saturating_add(step / 2).div_euclid(step) * step)
    }

    /// Nearest exact percentage to a number in percent; `None` if it is not
    /// finite or its size is beyond one million percent.
    pub fn nearest(percent: f64) -> Option<Self> {
        (percent.is_finite() && percent.abs() <= 1e6)
            .then(|| Self((percent * Self::UNITS as f64).round() as i64))
    }

    /// How many digits behind the point it has.
    pub fn decimals(self) -> usize {
        let written = self.to_string();
        written
            .split_once('.')
            .map_or(0, |(_, behind)| behind.len())
    }

    /// The value in percent, for display and for computation on shares.
    pub fn as_percent(self) -> f64 {
        self.0 as f64 / Self::UNITS as f64
    }

    /// The value as a mass fraction of the whole, 1 being 100 %.
    pub fn fraction(self) -> MassFraction {
        MassFraction::from_percent(self.as_percent())
    }

    /// The product of this percentage and a number, rounded to the nearest step.
    /// Saturates at the numeric limits.
    pub fn scaled(self, factor: f64) -> Self {
        Self((self.0 as f64 * factor).round() as i64)
    }

    /// The value limited to `low..=high`.
    pub fn clamp_to(self, low: Self, high: Self) -> Self {
        Self(self.0.min(high.0).max(low.0))
    }

    /// The size without sign.
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }
}

/// Why a text is not a percentage.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PercentError {
    /// Nothing but blanks.
    #[error("a percentage is missing; type a number such as 2.5")]
    Empty,
    /// Not a plain decimal number.
    #[error("“{0}” is not a percentage; type a number such as 2.5")]
    NotANumber(String),
    /// More digits after the point than the exact step holds.
    #[error("“{0}” has more than six digits after the point; round it to 0.000001 %")]
    TooFine(String),
    /// Larger than one million percent.
    #[error("“{0}” is too large for a percentage")]
    TooLarge(String),
}

impl FromStr for Percent {
    type Err = PercentError;

    /// Reads a plain decimal number, exactly. A decimal comma is understood, as
    /// is a closing percent sign; thousands marks and exponents are not.
    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let trimmed = text.trim().trim_end_matches('%').trim_end();
        if trimmed.is_empty() {
            return Err(PercentError::Empty);
        }
        let bad = || PercentError::NotANumber(text.trim().to_owned());
        let (negative, digits) = match trimmed.strip_prefix(['-', '−']) {
            Some(rest) => (true, rest),
            None => (false, trimmed.strip_prefix('+').unwrap_or(trimmed)),
        };
        let (whole, part) = digits.split_once(['.', ',']).unwrap_or((digits, ""));
        let all_digits = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
        if (whole.is_empty() && part.is_empty()) || !all_digits(whole) || !all_digits(part) {
            return Err(bad());
        }
        let part = part.trim_end_matches('0');
        if part.len() > 6 {
            return Err(PercentError::TooFine(text.trim().to_owned()));
        }
        let whole = whole.trim_start_matches('0');
        if whole.len() > 6 {
            return Err(PercentError::TooLarge(text.trim().to_owned()));
        }
        let digits_to_units = format!("{whole}{part:0<6}");
        let Ok(units) = digits_to_units.parse::<i64>() else {
            return Err(bad());
        };
        Ok(Self(if negative { -units } else { units }))
    }
}

impl fmt::Display for Percent {
    /// Without trailing zeros and without a percent sign; the formatter's
    /// precision, if given, sets the digits shown (rounded half away from zero).
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(digits) = f.precision() {
            let digits = digits.min(6);
            let step = 10_i64.pow(6 - digits as u32);
            let half = step / 2;
            let rounded = (self.0.abs() + half) / step * step;
            let sign = if self.0 < 0 && rounded != 0 { "-" } else { "" };
            let whole = rounded / Self::UNITS;
            if digits == 0 {
                return f.pad_integral(sign.is_empty(), "", &whole.to_string());
            }
            let part = rounded % Self::UNITS / step;
            return write!(f, "{sign}{whole}.{part:0digits$}");
        }
        let sign = if self.0 < 0 { "-" } else { "" };
        let units = self.0.unsigned_abs();
        let whole = units / Self::UNITS as u64;
        let mut part = units % Self::UNITS as u64;
        if part == 0 {
            return write!(f, "{sign}{whole}");
        }
        let mut digits = 6;
        while part.is_multiple_of(10) {
            part /= 10;
            digits -= 1;
        }
        write!(f, "{sign}{whole}.{part:0digits$}")
    }
}

impl fmt::Debug for Percent {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{self} %")
    }
}

impl Add for Percent {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}
impl AddAssign for Percent {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}
impl Sub for Percent {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}
impl SubAssign for Percent {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}
impl Neg for Percent {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}
impl Sum for Percent {
    fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
        iter.fold(Self::ZERO, Add::add)
    }
}

/// A share by mass, 1 being the whole. Computed values carry rounding of the
/// order of 1e-16; entered values are exact to what was typed.
#[derive(Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct MassFraction(f64);

impl MassFraction {
    /// Nothing.
    pub const ZERO: Self = Self(0.0);
    /// The whole.
    pub const ONE: Self = Self(1.0);

    /// From a share of 1.
    pub const fn new(share: f64) -> Self {
        Self(share)
    }
    /// From a value in percent.
    pub const fn from_percent(percent: f64) -> Self {
        Self(percent / 100.0)
    }
    /// The share of 1.
    pub const fn value(self) -> f64 {
        self.0
    }
    /// The value in percent.
    pub const fn as_percent(self) -> f64 {
        self.0 * 100.0
    }
    /// The share of a share.
    pub const fn of(self, whole: Self) -> Self {
        Self(self.0 * whole.0)
    }
    /// The larger of two shares.
    pub const fn max(self, other: Self) -> Self {
        Self(self.0.max(other.0))
    }
    /// The smaller of two shares.
    pub const fn min(self, other: Self) -> Self {
        Self(self.0.min(other.0))
    }
}

impl fmt::Debug for MassFraction {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} %", self.as_percent())
    }
}
impl Add for MassFraction {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}
impl AddAssign for MassFraction {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}
impl Sub for MassFraction {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}
impl Sum for MassFraction {
    fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
        iter.fold(Self::ZERO, Add::add)
    }
}

/// A typical value with the range it may lie in, `low <= typical <= high`.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub struct Spread {
    /// The lowest value given.
    pub low: MassFraction,
    /// The typical value.
    pub typical: MassFraction,
    /// The highest value given.
    pub high: MassFraction,
}

impl Spread {
    /// One exact value.
    pub const fn exact(value: MassFraction) -> Self {
        Self {
            low: value,
            typical: value,
            high: value,
        }
    }
    /// This spread taken as a part of `whole`.
    pub const fn of(self, whole: MassFraction) -> Self {
        Self {
            low: self.low.of(whole),
            typical: self.typical.of(whole),
            high: self.high.of(whole),
        }
    }
}
impl Add for Spread {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            low: self.low + other.low,
            typical: self.typical + other.typical,
            high: self.high + other.high,
        }
    }
}
impl AddAssign for Spread {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}
impl Sum for Spread {
    fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
        iter.fold(Self::default(), Add::add)
    }
}

/// A temperature from degrees Celsius.
pub fn celsius(degrees: f64) -> Temperature {
    Temperature::new::<uom::si::thermodynamic_temperature::degree_celsius>(degrees)
}

/// A temperature in degrees Celsius.
pub fn in_celsius(temperature: Temperature) -> f64 {
    temperature.get::<uom::si::thermodynamic_temperature::degree_celsius>()
}

/// The decimal with the fewest digits that `read` turns into exactly `value`,
/// looked for near `guess`; `None` if no neighbouring number does.
pub(crate) fn shortest(value: f64, guess: f64, read: impl Fn(f64) -> f64) -> Option<f64> {
    (0..=12)
        .map(|digits| {
            let scale = 10_f64.powi(digits);
            (guess * scale).round() / scale
        })
        .chain([guess, guess.next_up(), guess.next_down()])
        .find(|&candidate| read(candidate) == value)
}

/// A temperature in degrees Celsius as the shortest decimal that reads back the same.
pub(crate) fn celsius_decimal(temperature: Temperature) -> f64 {
    let guess = in_celsius(temperature);
    shortest(temperature.value, guess, |c| celsius(c).value).unwrap_or(guess)
}

/// A mass from grams.
pub fn grams(value: f64) -> Mass {
    Mass::new::<uom::si::mass::gram>(value)
}

/// A mass in grams.
pub fn in_grams(mass: Mass) -> f64 {
    mass.get::<uom::si::mass::gram>()
}

/// A volume from millilitres.
pub fn millilitres(value: f64) -> Volume {
    Volume::new::<uom::si::volume::milliliter>(value)
}

/// A volume in millilitres.
pub fn in_millilitres(volume: Volume) -> f64 {
    volume.get::<uom::si::volume::milliliter>()
}

/// A density from kilograms per cubic metre (1000 is water, 1 g/ml).
pub fn kg_per_m3(value: f64) -> MassDensity {
    MassDensity::new::<uom::si::mass_density::kilogram_per_cubic_meter>(value)
}

/// A density in kilograms per cubic metre.
pub fn in_kg_per_m3(density: MassDensity) -> f64 {
    density.get::<uom::si::mass_density::kilogram_per_cubic_meter>()
}

/// A pH value, dimensionless; any finite number between -2 and 16 is legal.
#[derive(Clone, Copy, PartialEq, PartialOrd, Debug)]
pub struct Ph(f64);

impl Ph {
    /// A checked pH; `None` outside -2 to 16 or not finite.
    pub fn new(value: f64) -> Option<Self> {
        (value.is_finite() && (-2.0..=16.0).contains(&value)).then_some(Self(value))
    }
    /// The number.
    pub const fn value(self) -> f64 {
        self.0
    }
}

impl fmt::Display for Ph {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:.*}", f.precision().unwrap_or(2), self.0)
    }
}

/// Molar gas constant, J/(mol K): CODATA 2018, exact to the digits given.
pub const GAS_CONSTANT: f64 = 8.314_462_618;

/// An avoirdupois ounce in nanograms: international yard and pound agreement of 1959,
/// exact; NIST Handbook 44, appendix C.
pub const OUNCE_NANOGRAMS: i64 = 28_349_523_125;
/// An avoirdupois pound, sixteen ounces, in nanograms.
pub const POUND_NANOGRAMS: i64 = 16 * OUNCE_NANOGRAMS;
/// Grams of an avoirdupois ounce, as a binary number.
pub const OUNCE_GRAMS: f64 = OUNCE_NANOGRAMS as f64 / 1e9;
/// Grams of an avoirdupois pound, as a binary number.
pub const POUND_GRAMS: f64 = POUND_NANOGRAMS as f64 / 1e9;
/// Millilitres of a fluid ounce of the United States, exact: 231 cubic inches to the gallon of
/// 128 ounces; NIST Handbook 44, appendix C.
pub const US_FLUID_OUNCE_MILLILITRES: f64 = 29.573_529_562_5;
/// Millilitres of an imperial fluid ounce: 4.546 09 l to the gallon of 160 ounces, exact.
pub const IMPERIAL_FLUID_OUNCE_MILLILITRES: f64 = 28.413_062_5;

/// pH that a meter does not tell apart: half of the last digit of one in common use, which shows
/// tenths. A target counts as met within it, and a change below it is worth no word.
pub const PH_UNTOLD: f64 = 0.05;

/// A pH of a formula as it is compared and shown in findings: to a tenth, which is as far as
/// estimates and the windows of materials are known.
pub(crate) fn ph_to_tenth(ph: f64) -> f64 {
    (10.0 * ph).round() / 10.0
}

/// A pH of a batch as it is compared before a release: to a hundredth, as it is written down in
/// the record, whole hundredths.
pub(crate) fn ph_hundredths(ph: f64) -> i64 {
    (100.0 * ph).round() as i64
}

/// A range of pH, `low <= high`.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct PhRange {
    /// Lower end.
    pub low: Ph,
    /// Upper end.
    pub high: Ph,
}

impl PhRange {
    /// A checked range.
    pub fn new(low: f64, high: f64) -> Option<Self> {
        let (low, high) = (Ph::new(low)?, Ph::new(high)?);
        (low <= high).then_some(Self { low, high })
    }
    /// Whether a pH lies within, ends included.
    pub fn contains(self, ph: Ph) -> bool {
        self.low <= ph && ph <= self.high
    }
}

/// A sum of money, exact decimal, in one currency.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Money {
    /// The amount.
    pub amount: Decimal,
    /// ISO 4217 letters, for example `EUR`.
    pub currency: Currency,
}

/// An ISO 4217 currency code: three capital letters.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Currency([u8; 3]);

impl Currency {
    /// The euro.
    pub const EUR: Self = Self(*b"EUR");

    /// Checked: three ASCII letters, stored as capitals.
    pub fn new(code: &str) -> Option<Self> {
        let bytes: [u8; 3] = code.trim().as_bytes().try_into().ok()?;
        bytes
            .iter()
            .all(u8::is_ascii_alphabetic)
            .then(|| Self(bytes.map(|b| b.to_ascii_uppercase())))
    }
    /// The three letters.
    pub fn code(&self) -> &str {
        std::str::from_utf8(&self.0).unwrap_or("???")
    }
}

impl fmt::Debug for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code())
    }
}
impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Percent {
        text.parse().unwrap()
    }

    #[test]
    fn percent_reads_and_prints_exactly() {
        for text in ["0", "100", "0.1", "2.5", "0.000001", "99.999999", "-3.25"] {
            assert_eq!(read(text).to_string(), text);
        }
        assert_eq!(read("2,50 %"), read("2.5"));
        assert_eq!(read(".5"), read("0.5"));
        assert_eq!(format!("{:.2}", read("1.005")), "1.01");
        assert_eq!(format!("{:.1}", read("-0.04")), "0.0");
        assert_eq!(format!("{:.0}", read("99.5")), "100");
    }

    #[test]
    fn percent_refuses_what_it_cannot_hold() {
        assert_eq!("".parse::<Percent>(), Err(PercentError::Empty));
        assert!(matches!(
            "1e3".parse::<Percent>(),
            Err(PercentError::NotANumber(_))
        ));
        assert!(matches!(
            "1.0000001".parse::<Percent>(),
            Err(PercentError::TooFine(_))
        ));
        assert!(matches!(
            "12345678".parse::<Percent>(),
            Err(PercentError::TooLarge(_))
        ));
        assert!(matches!(
            ".".parse::<Percent>(),
            Err(PercentError::NotANumber(_))
        ));
        assert_eq!(Percent::nearest(f64::NAN), None);
    }

    #[test]
    fn ten_tenths_are_one() {
        let sum: Percent = std::iter::repeat_n(read("0.1"), 1000).sum();
        assert_eq!(sum, Percent::HUNDRED);
    }

    #[test]
    fn currency_is_three_letters() {
        assert_eq!(
            Currency::new("eur").map(|c| c.to_string()),
            Some("EUR".to_owned())
        );
        assert_eq!(Currency::new("EURO"), None);
        assert_eq!(Currency::new("E1R"), None);
    }
}
