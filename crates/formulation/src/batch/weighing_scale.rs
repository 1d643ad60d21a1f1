//! Weighing scales: range, resolution, and the least mass worth weighing on one.

use std::sync::Arc;

use super::mass::{ExactMass, MassUnit, read_mass, read_mass_with_point, shown};
use crate::amount::AmountError;
use crate::quantity::MassFraction;

/// A weighing scale of the workshop.
#[derive(Clone, PartialEq, Debug)]
pub struct WeighingScale {
    name: Arc<str>,
    resolution: ExactMass,
    capacity: Option<ExactMass>,
}

/// Why a scale cannot be used.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ScaleError {
    /// The smallest step it shows is not above nothing.
    #[error(
        "the scale “{0}” has no resolution; enter the smallest step it shows, for example 0.1 g"
    )]
    NoResolution(String),
    /// It cannot bear one of its own steps.
    #[error("the scale “{0}” has a range smaller than its resolution; check both")]
    Range(String),
}

impl WeighingScale {
    /// A checked scale. `resolution` is the smallest step shown, `capacity` the heaviest
    /// load it bears, container included; `None` if it never matters.
    pub fn new(
        name: impl Into<Arc<str>>,
        resolution: ExactMass,
        capacity: Option<ExactMass>,
    ) -> Result<Self, ScaleError> {
        let name = name.into();
        if resolution <= ExactMass::ZERO {
            return Err(ScaleError::NoResolution(name.to_string()));
        }
        if capacity.is_some_and(|c| c < resolution) {
            return Err(ScaleError::Range(name.to_string()));
        }
        Ok(Self {
            name,
            resolution,
            capacity,
        })
    }

    /// What the maker calls it.
    pub fn name(&self) -> &Arc<str> {
        &self.name
    }

    /// The smallest step it shows.
    pub const fn resolution(&self) -> ExactMass {
        self.resolution
    }

    /// The heaviest load it bears.
    pub const fn capacity(&self) -> Option<ExactMass> {
        self.capacity
    }

    /// It in words: its name, and its step and range where the name does not say them.
    pub fn words(&self, unit: MassUnit) -> String {
        let step = shown(self.resolution, self.resolution, unit);
        let mut words = vec![self.name.to_string()];
        if !self.name.contains(&step) {
            words.push(format!("steps of {step}"));
        }
        if let Some(capacity) = self.capacity {
            words.push(format!("up to {}", shown(capacity, self.resolution, unit)));
        }
        words.join(", ")
    }

    /// Whether it bears a mass.
    pub fn bears(&self, mass: ExactMass) -> bool {
        self.capacity.is_none_or(|c| mass <= c)
    }

    /// The least mass that may be weighed so that reading the scale cannot err by more than
    /// `tolerance` (a share of the mass, above 0).
    ///
    /// A weighing is the difference of two readings, empty and full, each rounded to the
    /// step d and so up to d/2 off; together at most d. Hence `d / tolerance`. Drift,
    /// draught and an unlevel table come on top and are not counted.
    pub fn least_mass(&self, tolerance: MassFraction) -> ExactMass {
        // A millionth is finer than any tolerance a workshop asks for.
        let parts = (tolerance.value().max(1e-6) * 1e9).round() as i128;
        self.resolution.ratio(1_000_000_000, parts)
    }

    /// The largest error of reading this mass on this scale, as a share of it; `None` of
    /// nothing.
    pub fn reading_error(&self, mass: ExactMass) -> Option<MassFraction> {
        self.resolution.share_of(mass)
    }

    /// In how many portions a mass has to be weighed; at least 1.
    pub fn portions(&self, mass: ExactMass) -> u32 {
        match self.capacity {
            Some(capacity) if mass > capacity => {
                let (mass, capacity) = (mass.femtograms(), capacity.femtograms().max(1));
                ((mass + capacity - 1) / capacity) as u32
            }
            _ => 1,
        }
    }
}

/// Words that scales put before a reading that counts.
const SETTLED: [&str; 8] = ["ST", "S", "GS", "NT", "G", "N", "GROSS", "NET"];

/// Reads what a person typed or a scale sent: `66.02`, `66.02 g`, or a line with the scale's
/// words before the number, such as `ST,GS,+  66.02 g`. A bare number is in `bare`.
///
/// A reading below zero is refused, and one that the scale marks as not at rest (`US`, `SD`,
/// `?`). These marks are those of common scales, from memory.
pub fn read_reading(text: &str, bare: MassUnit) -> Result<ExactMass, AmountError> {
    let typed = read_mass_with_point(text, bare);
    let line = text.trim();
    if typed.is_ok() || line.is_empty() {
        return typed;
    }
    let Some(last) = line.rfind(|c: char| c.is_ascii_digit()) else {
        return typed;
    };
    let start = line
        .get(..=last)
        .and_then(|head| head.rfind(|c: char| !(c.is_ascii_digit() || c == '.' || c == ',')))
        .map_or(0, |before| before + 1);
    let (words, number) = line.split_at(line.floor_char_boundary(start));
    let number = number.trim_start_matches(',');
    if words.trim_end().ends_with('-') {
        return Err(AmountError::OutOfRange {
            text: line.to_owned(),
            what: "a mass",
            least: "0 g".to_owned(),
            most: "1000 tonnes".to_owned(),
        });
    }
    let mut known = words.split(|c: char| !c.is_alphanumeric() && c != '?');
    let upper = words.to_uppercase();
    let letters: String = upper.chars().filter(|c| c.is_alphabetic()).collect();
    if words.contains('?') || letters.starts_with("US") || letters.starts_with("SD") {
        return Err(AmountError::Unsettled(line.to_owned()));
    }
    if known.all(|w| w.is_empty() || SETTLED.iter().any(|s| s.eq_ignore_ascii_case(w))) {
        read_mass_with_point(number, bare)
    } else {
        typed
    }
}

/// Why a text is not a scale.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ReadScaleError {
    /// Step or range is no mass.
    #[error(
        "the scale “{text}” cannot be read: {cause}; write its step and its range, for example 0.01g/200g"
    )]
    Mass {
        /// What was read.
        text: String,
        /// What is wrong with the mass.
        cause: AmountError,
    },
    /// Step and range do not fit.
    #[error(transparent)]
    Scale(#[from] ScaleError),
}

/// Reads a scale written as its smallest step, with its range after a stroke if it has one:
/// `0.1g`, `0.01 g/200 g`. It is named by what was written.
pub fn read_scale(text: &str) -> Result<WeighingScale, ReadScaleError> {
    let mass = |part: &str| {
        read_mass(part, Some(MassUnit::Gram)).map_err(|cause| ReadScaleError::Mass {
            text: text.trim().to_owned(),
            cause,
        })
    };
    let (step, range) = text
        .split_once('/')
        .map_or((text, None), |(step, range)| (step, Some(range)));
    let written = step.trim();
    let digits = written.trim_end_matches(|c: char| c.is_alphabetic() || c.is_whitespace());
    let unit = written.get(digits.len()..).unwrap_or_default().trim();
    let unit = if unit.is_empty() { "g" } else { unit };
    let step = mass(step)?;
    let name = format!("{digits} {unit} scale");
    let range = range.map(mass).transpose()?;
    Ok(WeighingScale::new(name, step, range)?)
}

/// The scale on which a mass is best weighed: the finest that bears it, else, in portions,
/// the one that bears most. The place in `scales`; `None` only if there is no scale.
pub fn choose(scales: &[WeighingScale], mass: ExactMass) -> Option<usize> {
    let bearing = scales
        .iter()
        .enumerate()
        .filter(|(_, s)| s.bears(mass))
        .min_by_key(|(_, s)| s.resolution);
    let strongest = || scales.iter().enumerate().max_by_key(|(_, s)| s.capacity);
    bearing.or_else(strongest).map(|(i, _)| i)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mass(text: &str) -> ExactMass {
        read_mass(text, None).unwrap()
    }

    fn scale(name: &str, resolution: &str, capacity: Option<&str>) -> WeighingScale {
        WeighingScale::new(name, mass(resolution), capacity.map(mass)).unwrap()
    }

    #[test]
    fn a_line_sent_by_a_scale_is_read() {
        let read = |text| read_reading(text, MassUnit::Gram);
        let expected = read_mass("66.02 g", None).unwrap();
        for text in [
            "66.02",
            "66,02 g",
            "ST,GS,+  66.02 g",
            "ST,+00066.02 g",
            "S S      66.02 g",
            "N     +   66.02 g ",
            "Net 66.02g",
        ] {
            assert_eq!(read(text), Ok(expected), "{text}");
        }
        for text in ["US,GS,+  66.02 g", "S D      66.02 g", "? 66.02 g"] {
            assert!(
                matches!(read(text), Err(AmountError::Unsettled(_))),
                "{text}"
            );
        }
        assert!(matches!(
            read("ST,-  66.02 g"),
            Err(AmountError::OutOfRange { .. })
        ));
        for text in ["12 g 66.02 g", "about 66.02 g", "ST,GS", "é66.02é"] {
            assert!(read(text).is_err(), "{text}");
        }
    }

    #[test]
    fn the_least_mass_is_the_step_over_the_tolerance() {
        let kitchen = scale("kitchen", "0.1 g", Some("2 kg"));
        let one_percent = MassFraction::from_percent(1.0);
        assert_eq!(kitchen.least_mass(one_percent), mass("10 g"));
        assert_eq!(
            kitchen.least_mass(MassFraction::from_percent(5.0)),
            mass("2 g")
        );
        let error = kitchen.reading_error(mass("10 g")).unwrap();
        assert!((error.as_percent() - 1.0).abs() < 1e-12);
    }

    #[test]
    fn the_finest_scale_that_bears_the_mass_is_taken() {
        let scales = [
            scale("platform", "5 g", Some("30 kg")),
            scale("kitchen", "0.1 g", Some("2 kg")),
            scale("pocket", "0.01 g", Some("200 g")),
        ];
        assert_eq!(choose(&scales, mass("12 g")), Some(2));
        assert_eq!(choose(&scales, mass("200.01 g")), Some(1));
        assert_eq!(choose(&scales, mass("3 kg")), Some(0));
        assert_eq!(choose(&scales, mass("70 kg")), Some(0));
        assert_eq!(scales[0].portions(mass("70 kg")), 3);
        assert_eq!(scales[0].portions(mass("30 kg")), 1);
        assert_eq!(choose(&[], mass("1 g")), None);
    }

    #[test]
    fn a_scale_is_read_from_step_and_range() {
        let pocket = read_scale("0.01 g/200 g").unwrap();
        assert_eq!(pocket.resolution(), mass("0.01 g"));
        assert_eq!(pocket.capacity(), Some(mass("200 g")));
        assert_eq!(pocket.words(MassUnit::Gram), "0.01 g scale, up to 200.00 g");
        let ounces = read_scale("0.05oz").unwrap();
        assert_eq!(ounces.resolution(), mass("0.05 oz"));
        assert_eq!(ounces.words(MassUnit::Ounce), "0.05 oz scale");
        let kitchen = scale("kitchen", "0.1 g", None);
        assert_eq!(kitchen.words(MassUnit::Gram), "kitchen, steps of 0.1 g");
        assert!(matches!(
            read_scale("fine"),
            Err(ReadScaleError::Mass { .. })
        ));
        assert!(matches!(read_scale("0"), Err(ReadScaleError::Scale(_))));
    }

    #[test]
    fn impossible_scales_are_refused() {
        assert!(WeighingScale::new("x", ExactMass::ZERO, None).is_err());
        assert!(WeighingScale::new("x", mass("1 g"), Some(mass("0.5 g"))).is_err());
    }
}
