//! What a typed or shown number measures: one row each, so that a quantity has one unit,
//! one range and one number of digits on every screen, in every command and every error.

use super::number::Unit;
use crate::quantity::{MassFraction, OUNCE_GRAMS, POUND_GRAMS, Percent};

/// A unit that may be typed behind a number, and what turns it into the unit shown.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct UnitWord {
    /// Its spellings, the usual one first; read in any case of letters.
    pub words: &'static [&'static str],
    /// Units shown in one of it.
    pub factor: f64,
    /// Added before the factor is applied: `shown = (typed + offset) * factor`.
    pub offset: f64,
}

const fn unit(words: &'static [&'static str], factor: f64) -> UnitWord {
    UnitWord {
        words,
        factor,
        offset: 0.0,
    }
}

/// How many digits a number is shown with.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Digits {
    /// At most this many behind the decimal point; trailing zeros are kept.
    Fixed(usize),
    /// At most this many behind the decimal point; trailing zeros are left out.
    UpTo(usize),
    /// So many significant digits; trailing zeros behind the point are left out.
    Significant(usize),
}

/// One kind of quantity.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Measure {
    /// In a sentence, with its article: “a pH”.
    pub what: &'static str,
    /// A text that would be understood.
    pub example: &'static str,
    /// The unit it is shown in; empty for a bare number.
    pub unit: &'static str,
    /// Units that may be typed instead; the unit shown is always understood.
    pub units: &'static [UnitWord],
    /// Lowest value that makes sense, in the unit shown.
    pub least: f64,
    /// Highest value that makes sense, in the unit shown.
    pub most: f64,
    /// How it is shown.
    pub digits: Digits,
}

impl Measure {
    /// A percentage by weight of a line.
    pub const PERCENT: Self = Self {
        what: "a percentage",
        example: "2.5",
        unit: "%",
        units: &[],
        least: 0.0,
        most: 100.0,
        digits: Digits::UpTo(6),
    };
    /// A percentage or ratio that was estimated: no finer than a hundredth.
    pub const PERCENT_ROUGH: Self = Self {
        digits: Digits::Fixed(2),
        ..Self::PERCENT
    };
    /// The share of an ingredient, of which traces count.
    pub const SHARE: Self = Self {
        digits: Digits::Significant(3),
        ..Self::PERCENT
    };
    /// A pH value.
    pub const PH: Self = Self {
        what: "a pH",
        example: "5.2",
        unit: "",
        units: &[],
        least: -2.0,
        most: 16.0,
        digits: Digits::Fixed(2),
    };
    /// A working temperature.
    pub const TEMPERATURE: Self = Self {
        what: "a temperature",
        example: "75",
        unit: "°C",
        units: &[
            unit(&["C", "Celsius", "degC", "deg C"], 1.0),
            UnitWord {
                words: &["°F", "F", "Fahrenheit", "degF", "deg F"],
                factor: 1.0 / 1.8,
                offset: -32.0,
            },
        ],
        least: -30.0,
        most: 250.0,
        digits: Digits::UpTo(1),
    };
    /// A density.
    pub const DENSITY: Self = Self {
        what: "a density",
        example: "1.02",
        unit: "g/ml",
        units: &[
            unit(&["g/cm³", "g/cm3", "kg/l", "g/cc"], 1.0),
            unit(&["kg/m³", "kg/m3", "g/l"], 0.001),
        ],
        least: 0.2,
        most: 3.0,
        digits: Digits::Fixed(3),
    };
    /// A viscosity.
    pub const VISCOSITY: Self = Self {
        what: "a viscosity",
        example: "4500",
        unit: "mPa·s",
        units: &[
            unit(&["cP", "cps", "mPas", "mPa s", "mPa.s", "mPa*s"], 1.0),
            unit(&["Pa·s", "Pas", "Pa s", "Pa.s"], 1000.0),
        ],
        least: 0.0,
        most: 1e9,
        digits: Digits::Significant(3),
    };
    /// A water activity.
    pub const WATER_ACTIVITY: Self = Self {
        what: "a water activity",
        example: "0.97",
        unit: "",
        units: &[],
        least: 0.0,
        most: 1.0,
        digits: Digits::Fixed(3),
    };
    /// A span of time.
    pub const MINUTES: Self = Self {
        what: "a time",
        example: "20",
        unit: "min",
        units: &[
            unit(&["minute", "minutes"], 1.0),
            unit(&["s", "sec", "second", "seconds"], 1.0 / 60.0),
            unit(&["h", "hour", "hours"], 60.0),
        ],
        least: 0.0,
        most: 5_256_000.0,
        digits: Digits::UpTo(1),
    };
    /// A mass where no exact one is needed: a wish, a stock figure.
    pub const GRAMS: Self = Self {
        what: "a mass",
        example: "1000",
        unit: "g",
        units: &[
            unit(&["gram", "grams"], 1.0),
            unit(&["mg"], 0.001),
            unit(&["kg", "kilo", "kilogram", "kilograms"], 1000.0),
            unit(&["oz", "ounce", "ounces"], OUNCE_GRAMS),
            unit(&["lb", "lbs", "pound", "pounds"], POUND_GRAMS),
        ],
        least: 0.0,
        most: 1e9,
        digits: Digits::UpTo(3),
    };
    /// A length, as of letters or of a label.
    pub const MILLIMETRES: Self = Self {
        what: "a length",
        example: "60",
        unit: "mm",
        units: &[unit(&["cm"], 10.0), unit(&["in", "inch", "inches"], 25.4)],
        least: 0.0,
        most: 10_000.0,
        digits: Digits::UpTo(1),
    };
    /// A ratio or factor.
    pub const FACTOR: Self = Self {
        what: "a factor",
        example: "1.1",
        unit: "",
        units: &[unit(&["x", "×", "times"], 1.0)],
        least: 0.0,
        most: 1e6,
        digits: Digits::Significant(6),
    };
    /// A sum of money without its currency.
    pub const MONEY: Self = Self {
        what: "a sum of money",
        example: "12.50",
        unit: "",
        units: &[],
        least: 0.0,
        most: 1e12,
        digits: Digits::Fixed(2),
    };
    /// An electrical conductivity.
    pub const CONDUCTIVITY: Self = Self {
        what: "a conductivity",
        example: "12.5",
        unit: "mS/cm",
        units: &[
            unit(&["µS/cm", "μS/cm", "uS/cm"], 0.001),
            unit(&["S/m"], 10.0),
        ],
        least: 0.0,
        most: 1000.0,
        digits: Digits::UpTo(2),
    };
    /// A short time, as of a stop watch.
    pub const SECONDS: Self = Self {
        what: "a time",
        example: "42",
        unit: "s",
        units: &[
            unit(&["sec", "second", "seconds"], 1.0),
            unit(&["min", "minute", "minutes"], 60.0),
        ],
        least: 0.0,
        most: 86_400.0,
        digits: Digits::UpTo(2),
    };
    /// A long time, as since something was made.
    pub const HOURS: Self = Self {
        what: "a time",
        example: "24",
        unit: "h",
        units: &[
            unit(&["hour", "hours"], 1.0),
            unit(&["min", "minute", "minutes"], 1.0 / 60.0),
            unit(&["d", "day", "days"], 24.0),
            unit(&["week", "weeks"], 168.0),
        ],
        least: 0.0,
        most: 876_000.0,
        digits: Digits::UpTo(2),
    };
    /// A shear rate.
    pub const SHEAR_RATE: Self = Self {
        what: "a shear rate",
        example: "10",
        unit: "1/s",
        units: &[unit(&["s-1", "s⁻¹", "/s"], 1.0)],
        least: 1e-6,
        most: 1e7,
        digits: Digits::Significant(3),
    };
    /// A speed of rotation.
    pub const TURNS: Self = Self {
        what: "a speed",
        example: "12",
        unit: "rpm",
        units: &[unit(&["1/min", "/min", "u/min", "turns a minute"], 1.0)],
        least: 1e-3,
        most: 1e5,
        digits: Digits::Significant(3),
    };
    /// A number of any size.
    pub const NUMBER: Self = Self {
        what: "a number",
        example: "2.5",
        unit: "",
        units: &[],
        least: -1e15,
        most: 1e15,
        digits: Digits::Significant(6),
    };

    /// The same with a narrower range, in the unit shown.
    #[must_use]
    pub const fn within(mut self, least: f64, most: f64) -> Self {
        self.least = least;
        self.most = most;
        self
    }
    /// The same under another name, with its article.
    #[must_use]
    pub const fn called(mut self, what: &'static str) -> Self {
        self.what = what;
        self
    }

    /// The unit of a word; `None` for words that are no unit of this quantity.
    pub(super) fn unit_of(&self, word: &str) -> Option<UnitWord> {
        let word = word.trim().trim_end_matches('.').to_lowercase();
        let is = |written: &str| written.to_lowercase() == word;
        if word.is_empty() || is(self.unit) {
            return Some(unit(&[], 1.0));
        }
        if self.unit == "%" && Unit::named(&word) == Some(Unit::Percent) {
            return Some(unit(&[], 1.0));
        }
        self.units
            .iter()
            .find(|u| u.words.iter().any(|written| is(written)))
            .copied()
    }

    /// The same with more digits.
    #[must_use]
    pub const fn with_more_digits(mut self, more: usize) -> Self {
        self.digits = match self.digits {
            Digits::Fixed(digits) => Digits::Fixed(digits + more),
            Digits::UpTo(digits) => Digits::UpTo(digits + more),
            Digits::Significant(digits) => Digits::Significant(digits + more),
        };
        self
    }

    /// A value in the unit shown, rounded to the digits of this quantity, without unit.
    pub fn digits_of(&self, value: f64) -> String {
        let shown = match self.digits {
            Digits::Fixed(digits) => format!("{value:.digits$}"),
            Digits::UpTo(digits) => trimmed(format!("{value:.digits$}")),
            Digits::Significant(digits) => {
                let behind = decimals_of(digits, value);
                if behind >= 0 {
                    trimmed(format!("{value:.*}", behind.unsigned_abs() as usize))
                } else {
                    let step = 10_f64.powi(-behind);
                    format!("{:.0}", (value / step).round() * step)
                }
            }
        };
        if shown.bytes().all(|b| !b.is_ascii_digit() || b == b'0') {
            return shown.trim_start_matches('-').to_owned();
        }
        shown
    }

    /// A value in the unit shown, with its unit: `1.018 g/ml`.
    pub fn shown(&self, value: f64) -> String {
        let digits = self.digits_of(value);
        match self.unit {
            "" => digits,
            unit => format!("{digits} {unit}"),
        }
    }
}

impl Measure {
    /// A typical value with its unit and the range it may lie in, all with the decimals of the
    /// typical one, so that they stand in columns: `2.05 % (2.00 to 2.20)`.
    pub fn with_range(&self, typical: f64, [low, high]: [f64; 2]) -> String {
        let decimals = match self.digits {
            Digits::Fixed(digits) | Digits::UpTo(digits) => digits,
            Digits::Significant(digits) => {
                decimals_of(digits, typical).max(0).unsigned_abs() as usize
            }
        };
        let written = |value: f64| {
            let written = format!("{value:.decimals$}");
            // What is there is never shown as nothing.
            let nothing = written.bytes().all(|b| !b.is_ascii_digit() || b == b'0');
            if nothing && value != 0.0 {
                self.digits_of(value)
            } else {
                written
            }
        };
        let [low, high] = [low, high].map(written);
        let unit = if self.unit.is_empty() { "" } else { " " };
        let typical = format!("{}{unit}{}", written(typical), self.unit);
        if low == high {
            typical
        } else {
            format!("{typical} ({low} to {high})")
        }
    }
}

/// Decimals that show so many significant digits of a value, after rounding; negative where not
/// even the last digit before the point counts.
fn decimals_of(digits: usize, value: f64) -> i32 {
    // The place of the first digit that counts.
    let exponent = format!("{:.*e}", digits.saturating_sub(1), value)
        .split_once('e')
        .and_then(|(_, e)| e.parse::<i32>().ok())
        .unwrap_or(0);
    i32::try_from(digits).unwrap_or(i32::MAX) - 1 - exponent
}

/// Decimals with which a share of a formula is shown: three digits, four where it is 100 %, and
/// two decimals at most.
const fn share_decimals(percent: f64) -> usize {
    if percent >= 9.95 { 1 } else { 2 }
}

/// A share of a formula that was computed, in percent, as charts show it: `45.8`, `4.40`.
pub fn share_shown(percent: f64) -> String {
    if percent <= 0.0 {
        "0".to_owned()
    } else if percent < 0.005 {
        "< 0.01".to_owned()
    } else {
        format!("{percent:.*}", share_decimals(percent))
    }
}

/// A sum of percentages, wherever it stands: with the decimals of a share, and with every digit
/// it has: `46.0`, `4.40`, `48.525`.
pub fn sum_shown(sum: Percent) -> String {
    if sum == Percent::ZERO {
        return "0".to_owned();
    }
    let decimals = sum.decimals().max(share_decimals(sum.as_percent()));
    format!("{sum:.decimals$}")
}

/// A difference with its sign, `+0.40` or `−8.19`; what is nothing has none.
pub fn signed(value: f64, decimals: usize) -> String {
    let size = format!("{:.decimals$}", value.abs());
    with_sign(value < 0.0, size)
}

/// The same of exact percentages, with the digits it has: `+6.4`, `−9`.
pub fn signed_percent(change: Percent) -> String {
    with_sign(change < Percent::ZERO, change.abs().to_string())
}

/// The difference of two figures shown with so many decimals: that of what is shown, so that
/// it agrees with them.
pub fn difference(from: f64, to: f64, decimals: usize) -> String {
    let shown = |value: f64| format!("{value:.decimals$}").parse().unwrap_or(value);
    signed(shown(to) - shown(from), decimals)
}

fn with_sign(negative: bool, size: String) -> String {
    if size.bytes().all(|b| !b.is_ascii_digit() || b == b'0') {
        return size;
    }
    // The minus is as wide as the plus, which a hyphen is not.
    format!("{}{size}", if negative { '−' } else { '+' })
}

/// Without trailing zeros behind the point.
fn trimmed(text: String) -> String {
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// A share in percent without the noise of binary fractions, as documents state it: nine digits
/// behind the point.
pub fn tidy_percent(share: MassFraction) -> f64 {
    tidy(share.as_percent(), 9)
}

/// A number without the noise of binary fractions, rounded to `decimals` behind the point.
pub fn tidy(value: f64, decimals: i32) -> f64 {
    let step = 10_f64.powi(decimals);
    let rounded = (value * step).round() / step;
    // Beyond 2^53 every number is whole, and the product would only add noise.
    if rounded.is_finite() && (value * step).abs() < 9e15 {
        // No negative zero.
        rounded + 0.0
    } else {
        value
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_shown_with_the_digits_of_their_kind() {
        for (measure, value, expected) in [
            (Measure::DENSITY, 1.0184, "1.018 g/ml"),
            (Measure::PH, 5.2, "5.20"),
            (Measure::PH, -0.001, "0.00"),
            (Measure::VISCOSITY, 4567.0, "4570 mPa·s"),
            (Measure::VISCOSITY, 0.8901, "0.89 mPa·s"),
            (Measure::VISCOSITY, 999.6, "1000 mPa·s"),
            (Measure::TEMPERATURE, 75.0, "75 °C"),
            (Measure::TEMPERATURE, 72.25, "72.2 °C"),
            (Measure::GRAMS, 0.1 + 0.2, "0.3 g"),
            (Measure::VISCOSITY, 0.0, "0 mPa·s"),
        ] {
            assert_eq!(measure.shown(value), expected);
        }
    }

    #[test]
    fn a_difference_agrees_with_the_figures_beside_it() {
        // 3.5 and 3.525: shown as 3.50 and 3.52 (to even), so the difference is 0.02.
        for (from, to, expected) in [
            (3.5, 3.525, "+0.02"),
            (32.9, 24.71, "−8.19"),
            (1.004, 0.996, "0.00"),
            (0.0, 0.54, "+0.54"),
        ] {
            assert_eq!(difference(from, to, 2), expected);
        }
        let percent = |text: &str| text.parse::<Percent>().unwrap();
        assert_eq!(signed_percent(percent("-9")), "−9");
        assert_eq!(signed_percent(percent("6.4")), "+6.4");
        assert_eq!(signed_percent(Percent::ZERO), "0");
        assert_eq!(signed(-0.004, 2), "0.00");
    }

    #[test]
    fn sums_and_shares_have_the_same_decimals() {
        let percent = |text: &str| text.parse::<Percent>().unwrap();
        for (sum, expected) in [("46", "46.0"), ("4.4", "4.40"), ("1.1", "1.10"), ("0", "0")] {
            assert_eq!(sum_shown(percent(sum)), expected);
            assert_eq!(share_shown(percent(sum).as_percent()), expected);
        }
        // What was typed more finely is not rounded.
        assert_eq!(sum_shown(percent("48.525")), "48.525");
        assert_eq!(sum_shown(percent("0.001")), "0.001");
        assert_eq!(share_shown(0.001), "< 0.01");
        assert_eq!(sum_shown(Percent::HUNDRED), "100.0");
    }

    #[test]
    fn a_range_has_the_decimals_of_its_typical_value() {
        for (typical, range, expected) in [
            (2.046, [2.0, 2.2], "2.05 % (2.00 to 2.20)"),
            (78.6, [77.1, 79.5], "78.6 % (77.1 to 79.5)"),
            (1.99, [1.99, 2.0], "1.99 % (1.99 to 2.00)"),
            (0.3, [0.3, 0.3], "0.300 %"),
            (2.0, [0.001, 2.5], "2.00 % (0.001 to 2.50)"),
        ] {
            assert_eq!(Measure::SHARE.with_range(typical, range), expected);
        }
    }

    #[test]
    fn noise_goes_and_large_numbers_stay() {
        assert_eq!(tidy(0.1 + 0.2, 9), 0.3);
        assert_eq!(tidy(1e300, 9), 1e300);
        assert_eq!(tidy(-2.500_000_000_1, 6), -2.5);
    }
}
