//! Reads what a person typed as a certain quantity, or says what is wrong with it.
//!
//! A decimal comma is understood as well as a point. Where a text can mean two numbers
//! (“1,000 g”: one gram or a thousand) and both make sense, nothing is guessed: the error
//! names both. A point is what this program writes before decimals, so “1.250” is one and
//! a quarter; only a whole thousand written with a point (“1.000”) is asked about.

use std::fmt;

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::measure::Measure;
use super::number::{self, NumberError, WrittenNumber};
use crate::quantity::{
    MassDensity, Percent, Ph, Temperature, celsius, in_celsius, in_kg_per_m3, kg_per_m3,
};

/// Why a typed text is not the quantity that was asked for.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum AmountError {
    /// Nothing but blanks.
    #[error("{what} is missing; type for example {example}")]
    Empty {
        /// What was asked for, with its article.
        what: &'static str,
        /// A text that would be understood.
        example: &'static str,
    },
    /// Not a number, or one with signs in places where no number has them.
    #[error("“{text}” is not {what}; type for example {example}")]
    NotANumber {
        /// What was read.
        text: String,
        /// What was asked for, with its article.
        what: &'static str,
        /// A text that would be understood.
        example: &'static str,
    },
    /// Two numbers.
    #[error("“{0}” is a range; type the one number that is meant")]
    Two(String),
    /// A mark that can be read in two ways.
    #[error(
        "“{text}” can mean {one} or {other}; type it without the mark between thousands, or with other decimals"
    )]
    Ambiguous {
        /// What was read.
        text: String,
        /// With the mark before decimals.
        one: String,
        /// With the mark between thousands.
        other: String,
    },
    /// Not a day of the calendar, or one without its year in full.
    #[error("“{0}” is not a day; write it as year-month-day, for example 2027-03-31")]
    NotADay(String),
    /// A day whose month can stand in two places.
    #[error("“{text}” can mean {one} or {other}; type the one that is meant")]
    TwoDays {
        /// What was read.
        text: String,
        /// With the day first.
        one: Date,
        /// With the month first.
        other: Date,
    },
    /// A number without its unit.
    #[error("“{text}” names no unit; use one of {units}")]
    NoUnit {
        /// What was read.
        text: String,
        /// The units understood.
        units: String,
    },
    /// A unit that is not known here.
    #[error("“{unit}” in “{text}” is no unit known here; use one of {units}")]
    Unit {
        /// What was read.
        text: String,
        /// The letters that are no unit.
        unit: String,
        /// The units understood.
        units: String,
    },
    /// Outside what makes sense.
    #[error("“{text}” is out of range; {what} is from {least} to {most}")]
    OutOfRange {
        /// What was read.
        text: String,
        /// What was asked for, with its article.
        what: &'static str,
        /// The lowest legal value, with its unit.
        least: String,
        /// The highest legal value, with its unit.
        most: String,
    },
    /// More digits than are kept.
    #[error("“{text}” has more digits than are kept; round it to {step}")]
    TooFine {
        /// What was read.
        text: String,
        /// The smallest step.
        step: &'static str,
    },
    /// A scale sent it too early.
    #[error("“{0}” was sent before the scale had come to rest; wait, and read it again")]
    Unsettled(String),
}

/// The text as it is named in an error.
fn named(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Finds the number of a typed text for a quantity; words around it other than a unit
/// behind it are refused.
///
/// # Errors
/// If there is no number, or words stand before it.
pub(crate) fn find<'t>(
    text: &'t str,
    what: &'static str,
    example: &'static str,
) -> Result<WrittenNumber<'t>, AmountError> {
    if text.trim().is_empty() {
        return Err(AmountError::Empty { what, example });
    }
    let not = || AmountError::NotANumber {
        text: named(text),
        what,
        example,
    };
    let mut found = number::written(text, None).map_err(|e| match e {
        NumberError::Range(text) => AmountError::Two(text),
        _ => not(),
    })?;
    // Nobody weighs 1e3 g; it is a slip.
    if !found.before.is_empty() || found.scientific {
        return Err(not());
    }
    // A point is before decimals, unless a whole thousand is written with it.
    if found.digits.contains('.') && !found.digits.ends_with(".000") {
        found.or = None;
    }
    Ok(found)
}

/// The one of two readings that `makes_sense`; an error that names both if both do.
///
/// # Errors
/// [`AmountError::Ambiguous`].
pub(crate) fn decide(
    text: &str,
    found: &WrittenNumber<'_>,
    makes_sense: impl Fn(Decimal) -> bool,
    shown: impl Fn(Decimal) -> String,
) -> Result<Decimal, AmountError> {
    match found.or {
        Some(other) if makes_sense(other) && makes_sense(found.value) => {
            Err(AmountError::Ambiguous {
                text: named(text),
                one: shown(found.value.normalize()),
                other: shown(other),
            })
        }
        Some(other) if makes_sense(other) => Ok(other),
        _ => Ok(found.value),
    }
}

fn units(measure: &Measure) -> String {
    let typed = measure
        .units
        .iter()
        .filter_map(|u| u.words.first().copied());
    std::iter::once(measure.unit)
        .chain(typed)
        .filter(|u| !u.is_empty())
        .collect::<Vec<_>>()
        .join(", ")
}

/// Reads a typed number of a quantity, in the unit shown for it.
///
/// # Errors
/// Says what is wrong with the text; see [`AmountError`].
pub fn value(text: &str, measure: &Measure) -> Result<f64, AmountError> {
    let found = find(text, measure.what, measure.example)?;
    let Some(unit) = measure.unit_of(found.after) else {
        return Err(if measure.unit.is_empty() && measure.units.is_empty() {
            AmountError::NotANumber {
                text: named(text),
                what: measure.what,
                example: measure.example,
            }
        } else {
            AmountError::Unit {
                text: named(text),
                unit: found.after.to_owned(),
                units: units(measure),
            }
        });
    };
    let in_shown = |d: Decimal| {
        let typed = number::to_double(d);
        if unit.factor == 1.0 && unit.offset == 0.0 {
            typed
        } else {
            super::measure::tidy((typed + unit.offset) * unit.factor, 9)
        }
    };
    let fits = |d: Decimal| (measure.least..=measure.most).contains(&in_shown(d));
    let words = |d: Decimal| match found.after {
        "" => d.to_string(),
        after => format!("{d} {after}"),
    };
    let chosen = decide(text, &found, fits, words)?;
    if fits(chosen) {
        Ok(in_shown(chosen))
    } else {
        Err(AmountError::OutOfRange {
            text: named(text),
            what: measure.what,
            least: limit(measure, measure.least),
            most: limit(measure, measure.most),
        })
    }
}

/// That a number says no unit although its quantity has one: what is kept as it was typed must
/// say it. None for anything that is no number.
pub fn lacks_unit(text: &str, measure: &Measure) -> Option<AmountError> {
    let found = find(text, measure.what, measure.example).ok()?;
    (found.after.is_empty() && !measure.unit.is_empty()).then(|| AmountError::NoUnit {
        text: named(text),
        units: units(measure),
    })
}

/// A plain decimal as the program's own files write it, in which `1.234` is never a
/// thousand; else as people type it.
///
/// # Errors
/// As [`value`].
pub fn plain_or_typed(text: &str, measure: &Measure) -> Result<f64, AmountError> {
    number::plain(text.trim())
        .map(number::to_double)
        .filter(|plain| (measure.least..=measure.most).contains(plain))
        .map_or_else(|| value(text, measure), Ok)
}

/// A limit in its shortest form: limits are round numbers.
fn limit(measure: &Measure, value: f64) -> String {
    match measure.unit {
        "" => value.to_string(),
        unit => format!("{value} {unit}"),
    }
}

/// The same where nothing typed means that nothing is stated.
///
/// # Errors
/// As [`value`].
pub fn optional<T>(
    text: &str,
    read: impl FnOnce(&str) -> Result<T, AmountError>,
) -> Result<Option<T>, AmountError> {
    if text.trim().is_empty() {
        Ok(None)
    } else {
        read(text).map(Some)
    }
}

/// Reads a typed decimal number exactly, as money and rates need it.
///
/// # Errors
/// As [`value`].
pub fn decimal(text: &str, measure: &Measure) -> Result<Decimal, AmountError> {
    let found = find(text, measure.what, measure.example)?;
    if measure.unit_of(found.after).is_none_or(|u| u.factor != 1.0) {
        return Err(AmountError::NotANumber {
            text: named(text),
            what: measure.what,
            example: measure.example,
        });
    }
    let fits = |d: Decimal| (measure.least..=measure.most).contains(&number::to_double(d));
    let chosen = decide(text, &found, fits, |d| d.to_string())?;
    if fits(chosen) {
        Ok(chosen)
    } else {
        Err(AmountError::OutOfRange {
            text: named(text),
            what: measure.what,
            least: limit(measure, measure.least),
            most: limit(measure, measure.most),
        })
    }
}

/// Reads a typed percentage of 0 to 100, exactly.
///
/// # Errors
/// As [`value`]; more than six digits behind the point are refused.
pub fn percent(text: &str) -> Result<Percent, AmountError> {
    percent_within(text, Percent::ZERO, Percent::HUNDRED)
}

/// Reads a typed percentage between two others, exactly.
///
/// # Errors
/// As [`percent`].
pub fn percent_within(text: &str, least: Percent, most: Percent) -> Result<Percent, AmountError> {
    let measure = Measure::PERCENT.within(least.as_percent(), most.as_percent());
    Percent::of_decimal(decimal(text, &measure)?).ok_or_else(|| AmountError::TooFine {
        text: named(text),
        step: "0.000001 %",
    })
}

/// Reads a typed pH.
///
/// # Errors
/// As [`value`].
pub fn ph(text: &str) -> Result<Ph, AmountError> {
    let number = value(text, &Measure::PH)?;
    Ph::new(number).ok_or_else(|| out_of(text, &Measure::PH))
}

fn out_of(text: &str, measure: &Measure) -> AmountError {
    AmountError::OutOfRange {
        text: named(text),
        what: measure.what,
        least: limit(measure, measure.least),
        most: limit(measure, measure.most),
    }
}

/// Reads a typed temperature; °C unless °F is written.
///
/// # Errors
/// As [`value`].
pub fn temperature(text: &str) -> Result<Temperature, AmountError> {
    value(text, &Measure::TEMPERATURE).map(celsius)
}

/// Reads a typed density; g/ml unless another unit is written.
///
/// A bare number above 200 can only be kg/m³ and is read so.
///
/// # Errors
/// As [`value`].
pub fn density(text: &str) -> Result<MassDensity, AmountError> {
    let measure = Measure::DENSITY;
    match value(text, &measure) {
        Err(AmountError::OutOfRange { .. })
            if text.trim().ends_with(|c: char| c.is_ascii_digit()) =>
        {
            value(&format!("{} kg/m³", text.trim()), &measure)
                .map_err(|_not_that_either| out_of(text, &measure))
        }
        other => other,
    }
    .map(density_of)
}

/// A density from a number of the unit shown, g/ml.
pub fn density_of(g_per_ml: f64) -> MassDensity {
    kg_per_m3(super::measure::tidy(g_per_ml * 1000.0, 6))
}

/// A density as it is shown everywhere, with its unit.
pub fn shown_density(density: MassDensity) -> String {
    Measure::DENSITY.shown(in_kg_per_m3(density) / 1000.0)
}

/// A density as it stands in a field that can be edited: g/ml, without unit, unrounded.
pub fn density_field(density: MassDensity) -> String {
    super::measure::tidy(in_kg_per_m3(density) / 1000.0, 6).to_string()
}

/// A temperature as it is shown everywhere, with its unit.
pub fn shown_temperature(temperature: Temperature) -> String {
    Measure::TEMPERATURE.shown(in_celsius(temperature))
}

/// A temperature as it stands in a field that says °C itself.
pub fn temperature_field(temperature: Temperature) -> String {
    Measure::TEMPERATURE.digits_of(in_celsius(temperature))
}

/// Reads a typed whole number.
///
/// # Errors
/// As [`value`]; decimals are refused.
pub fn count(text: &str, what: &'static str, most: u32) -> Result<u32, AmountError> {
    count_within(text, what, 0, most)
}

/// The same from another least number.
///
/// # Errors
/// As [`count`].
pub fn count_within(
    text: &str,
    what: &'static str,
    least: u32,
    most: u32,
) -> Result<u32, AmountError> {
    let measure = Measure {
        what,
        example: "12",
        ..Measure::NUMBER.within(f64::from(least), f64::from(most))
    };
    let exact = decimal(text, &measure)?;
    u32::try_from(exact.normalize())
        .ok()
        .filter(|n| Decimal::from(*n) == exact)
        .ok_or_else(|| AmountError::NotANumber {
            text: named(text),
            what,
            example: "12",
        })
}

/// Reads a typed day: 2027-03-31, or 31.3.2027. With strokes or hyphens the month may stand
/// first as well, so that 3/4/2027 is refused with both readings.
///
/// # Errors
/// As [`value`].
pub fn day(text: &str) -> Result<Date, AmountError> {
    if text.trim().is_empty() {
        return Err(AmountError::Empty {
            what: "a day",
            example: "2027-03-31",
        });
    }
    let not = || AmountError::NotADay(named(text));
    let text = text.trim();
    let mark = text.chars().find(|c| !c.is_ascii_digit());
    let mark = mark
        .filter(|c| ['-', '.', '/'].contains(c))
        .ok_or_else(not)?;
    let parts: Vec<&str> = text.split(mark).map(str::trim).collect();
    // A year is written in full: two digits may as well be a day.
    let date = |year: &str, month: &str, day: &str| -> Option<Date> {
        let year = year.parse().ok().filter(|_| year.len() == 4)?;
        Date::new(year, month.parse().ok()?, day.parse().ok()?).ok()
    };
    let [first, middle, last] = *parts.as_slice() else {
        return Err(not());
    };
    if first.len() == 4 {
        return date(first, middle, last).ok_or_else(not);
    }
    let day_first = date(last, middle, first);
    let month_first = date(last, first, middle).filter(|_| mark != '.');
    match (day_first, month_first) {
        (Some(one), Some(other)) if one != other => Err(AmountError::TwoDays {
            text: named(text),
            one,
            other,
        }),
        (day, other) => day.or(other).ok_or_else(not),
    }
}

impl fmt::Display for Measure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.what)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ambiguous<T: fmt::Debug>(result: Result<T, AmountError>) -> (String, String) {
        match result.unwrap_err() {
            AmountError::Ambiguous { one, other, .. } => (one, other),
            other => panic!("{other}"),
        }
    }

    #[test]
    fn a_mark_with_two_readings_is_asked_about() {
        let grams = |text: &str| value(text, &Measure::GRAMS);
        assert_eq!(ambiguous(grams("1,000 g")), ("1 g".into(), "1000 g".into()));
        assert_eq!(ambiguous(grams("1.000")), ("1".into(), "1000".into()));
        assert_eq!(ambiguous(grams("2,500")), ("2.5".into(), "2500".into()));
        assert_eq!(grams("1.250 kg"), Ok(1250.0));
        assert_eq!(grams("0,125"), Ok(0.125));
        assert_eq!(grams("1 000"), Ok(1000.0));
        assert_eq!(grams("1,000.0"), Ok(1000.0));
        assert_eq!(grams("1,5 kg"), Ok(1500.0));
    }

    #[test]
    fn a_number_without_its_unit_is_told() {
        let lacks = |text: &str, measure| lacks_unit(text, measure).map(|e| e.to_string());
        let told = lacks("4500", &Measure::VISCOSITY).unwrap();
        assert!(
            told.contains("names no unit") && told.contains("mPa·s"),
            "{told}"
        );
        for (text, measure) in [
            ("4,5 Pa·s", &Measure::VISCOSITY),
            ("thick", &Measure::VISCOSITY),
            ("5.2", &Measure::PH),
        ] {
            assert_eq!(lacks(text, measure), None, "{text}");
        }
    }

    #[test]
    fn a_reading_that_makes_no_sense_is_left_out() {
        assert_eq!(percent("1,250").unwrap().to_string(), "1.25");
        assert_eq!(ph("5,250").unwrap().value(), 5.25);
        assert_eq!(value("1,020", &Measure::DENSITY), Ok(1.02));
    }

    #[test]
    fn units_are_turned_into_the_one_shown() {
        assert_eq!(value("212 °F", &Measure::TEMPERATURE), Ok(100.0));
        assert_eq!(value("75°C", &Measure::TEMPERATURE), Ok(75.0));
        assert_eq!(in_kg_per_m3(density("1.018").unwrap()), 1018.0);
        assert_eq!(in_kg_per_m3(density("1018 kg/m³").unwrap()), 1018.0);
        assert_eq!(in_kg_per_m3(density("1018").unwrap()), 1018.0);
        assert_eq!(value("4.5 Pa·s", &Measure::VISCOSITY), Ok(4500.0));
        assert_eq!(value("1 h", &Measure::MINUTES), Ok(60.0));
        assert_eq!(percent("2,5 %").unwrap().to_string(), "2.5");
        assert!(matches!(
            value("5 stone", &Measure::GRAMS),
            Err(AmountError::Unit { .. })
        ));
    }

    #[test]
    fn a_temperature_is_shown_as_it_was_read() {
        for (text, field) in [
            ("75", "75"),
            ("72.5", "72.5"),
            ("72,5 °C", "72.5"),
            ("165 °F", "73.9"),
            ("167 F", "75"),
            ("-0.04", "0"),
        ] {
            let read = temperature(text).unwrap();
            assert_eq!(temperature_field(read), field, "{text}");
            assert_eq!(shown_temperature(read), format!("{field} °C"), "{text}");
        }
    }

    #[test]
    fn a_day_is_read_as_it_is_usually_written() {
        let the_31st = jiff::civil::date(2027, 3, 31);
        for text in [
            "2027-03-31",
            " 2027-3-31 ",
            "31.3.2027",
            "31. 03. 2027",
            "31/03/2027",
            "3/31/2027",
            "31-3-2027",
            "2027/03/31",
        ] {
            assert_eq!(day(text), Ok(the_31st), "{text}");
        }
        assert_eq!(day("3.4.2027"), Ok(jiff::civil::date(2027, 4, 3)));
        assert_eq!(day("4/4/2027"), Ok(jiff::civil::date(2027, 4, 4)));
        assert_eq!(
            day("3/4/2027").unwrap_err().to_string(),
            "“3/4/2027” can mean 2027-04-03 or 2027-03-04; type the one that is meant"
        );
        for text in [
            "31.11.2026",
            "3.31.2027",
            "31.3.27",
            "2027-03",
            "soon",
            "20270331",
        ] {
            assert_eq!(
                day(text).unwrap_err().to_string(),
                format!(
                    "“{text}” is not a day; write it as year-month-day, for example 2027-03-31"
                )
            );
        }
        assert!(matches!(day(" "), Err(AmountError::Empty { .. })));
        assert_eq!(optional(" ", day), Ok(None));
    }

    #[test]
    fn what_cannot_be_meant_is_refused_with_words() {
        let words = |e: AmountError| e.to_string();
        assert_eq!(
            words(ph("52").unwrap_err()),
            "“52” is out of range; a pH is from -2 to 16"
        );
        assert_eq!(
            words(percent("").unwrap_err()),
            "a percentage is missing; type for example 2.5"
        );
        assert_eq!(
            words(percent("lots").unwrap_err()),
            "“lots” is not a percentage; type for example 2.5"
        );
        assert!(matches!(percent("1-2"), Err(AmountError::Two(_))));
        assert!(matches!(percent("-1"), Err(AmountError::OutOfRange { .. })));
        assert!(matches!(
            percent("101"),
            Err(AmountError::OutOfRange { .. })
        ));
        assert!(matches!(
            percent("0.0000001"),
            Err(AmountError::TooFine { .. })
        ));
        assert!(count("2.5", "a number of containers", 9999).is_err());
        assert_eq!(count("24", "a number of containers", 9999), Ok(24));
        let months = |text: &str| count_within(text, "a number of months", 1, 120);
        assert_eq!(months("12"), Ok(12));
        assert!(matches!(months("2.5"), Err(AmountError::NotANumber { .. })));
        assert!(matches!(months("0"), Err(AmountError::OutOfRange { .. })));
        assert!(value("79228162514264337593543950335", &Measure::GRAMS).is_err());
    }

    proptest::proptest! {
        #[test]
        fn what_is_shown_is_read_back(units in 0_i64..=100_000_000) {
            let shown = Percent::from_units(units);
            proptest::prop_assert_eq!(percent(&shown.to_string()).ok(), Some(shown));
        }
        #[test]
        fn no_text_panics(text in "\\PC{0,20}", digits in "[0-9.,' eE+%-]{0,30}") {
            for t in [&text, &digits] {
                let _ = percent(t);
                let _ = density(t);
                let _ = temperature(t);
                let _ = day(t);
                let _ = count(t, "a count", 10);
            }
        }
    }
}
