//! What a product must measure before it may leave: one specification for the formula, the
//! weigh sheet, the batch record, the release and the trials.
//!
//! The pH aimed at is that of the variant and is not stored again. Figures are compared as
//! they are written, never finer.

use std::fmt::Write as _;
use std::sync::Arc;

use crate::amount::measure::{Digits, tidy};
use crate::amount::{Measure, typed};
use crate::finding::{Finding, Level, Matter, Remedy};
use crate::material::{Basis, Source};
use crate::measured::Measured;
use crate::quantity::{Ph, in_kg_per_m3};

/// What is measured or judged on a product.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Quality {
    /// pH at 25 °C, as is.
    Ph,
    /// Viscosity in mPa·s, with its method.
    Viscosity,
    /// Density in g/ml.
    Density,
    /// Appearance and colour.
    Appearance,
    /// Odour.
    Odour,
    /// Net mass of one container in grams.
    FilledMass,
    /// Part of what was weighed that is in good containers, in percent: counted, never typed.
    Yield,
    /// Anything else, named in words.
    Other,
}

impl Quality {
    /// All, in the order of display.
    pub const ALL: [Self; 8] = [
        Self::Ph,
        Self::Viscosity,
        Self::Density,
        Self::Appearance,
        Self::Odour,
        Self::FilledMass,
        Self::Yield,
        Self::Other,
    ];
    /// The word shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Ph => "pH",
            Self::Viscosity => "viscosity",
            Self::Density => "density",
            Self::Appearance => "appearance",
            Self::Odour => "odour",
            Self::FilledMass => "filled mass",
            Self::Yield => "yield",
            Self::Other => "other",
        }
    }
    /// Whether it is measured or judged by a person, not counted from what is recorded.
    pub const fn is_measured(self) -> bool {
        !matches!(self, Self::Yield)
    }
    /// The quantity it is a figure of; `None` if it is judged in words.
    pub const fn measure(self) -> Option<&'static Measure> {
        match self {
            Self::Ph => Some(&Measure::PH),
            Self::Viscosity => Some(&Measure::VISCOSITY),
            Self::Density => Some(&Measure::DENSITY),
            Self::FilledMass => Some(&Measure::GRAMS),
            Self::Yield => Some(&YIELD),
            Self::Appearance | Self::Odour | Self::Other => None,
        }
    }
}

/// A yield: no finer than a tenth of a percent.
const YIELD: Measure = Measure {
    what: "a yield",
    example: "95",
    digits: Digits::UpTo(1),
    most: 200.0,
    ..Measure::PERCENT
};

/// Least yield in percent where none is stated, with what is retained and thrown away not
/// counted: common practice, no source.
pub const LEAST_YIELD: f64 = 90.0;

/// How far a measured pH may be from the pH aimed at where no limits are stated: common
/// practice, no source.
pub const PH_TOLERANCE: f64 = 0.3;

/// One thing a product must measure.
#[derive(Clone, PartialEq, Debug)]
pub struct Characteristic {
    /// What.
    pub quality: Quality,
    /// Wanted figure in the unit of the quality; never that of the pH, which is the variant's.
    pub target: Option<f64>,
    /// Lowest acceptable figure.
    pub low: Option<f64>,
    /// Highest acceptable figure.
    pub high: Option<f64>,
    /// What is acceptable, in words; for a thing without figures, what it is too.
    pub accept: Arc<str>,
    /// How it is measured: instrument, temperature, spindle, speed.
    pub method: Arc<str>,
}

impl Characteristic {
    /// Nothing but what it is about.
    pub fn new(quality: Quality) -> Self {
        Self {
            quality,
            target: None,
            low: None,
            high: None,
            accept: "".into(),
            method: "".into(),
        }
    }
}

/// Everything a product must measure, as the maker stated it.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Specification {
    /// One for each quality; of [`Quality::Other`] there may be several.
    pub characteristics: Vec<Characteristic>,
}

impl Specification {
    /// What a product must measure, with what follows where nothing is stated.
    ///
    /// Without a specification the pH must be within [`PH_TOLERANCE`] of the one aimed at, if
    /// one is, appearance and odour must be judged, and the yield must be at least
    /// [`LEAST_YIELD`].
    pub fn with_usual(&self, target_ph: Option<Ph>) -> Vec<Characteristic> {
        let stated = &self.characteristics;
        let mut all = stated.clone();
        let always = [
            Quality::Ph,
            Quality::Appearance,
            Quality::Odour,
            Quality::Yield,
        ];
        for quality in always {
            let aimed = quality != Quality::Ph || target_ph.is_some();
            if aimed && stated.iter().all(|c| c.quality != quality) {
                all.push(Characteristic::new(quality));
            }
        }
        for wanted in all.iter_mut().filter(|c| c.quality == Quality::Yield) {
            if (wanted.target, wanted.low, wanted.high) == (None, None, None) {
                wanted.low = Some(LEAST_YIELD);
            }
        }
        for wanted in all.iter_mut().filter(|c| c.quality == Quality::Ph) {
            wanted.target = target_ph.map(Ph::value);
            if let (Some(target), None, None) = (wanted.target, wanted.low, wanted.high) {
                wanted.low = Some(tidy(target - PH_TOLERANCE, 6).max(0.0));
                wanted.high = Some(tidy(target + PH_TOLERANCE, 6).min(14.0));
            }
        }
        all.sort_by_key(|c| c.quality);
        all
    }
}

/// What a measured value is worth.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Verdict {
    /// Within the limits.
    Within,
    /// Outside, with what was asked for.
    Outside(String),
    /// Judged in words, so only a person can tell.
    ByEye,
    /// Not a figure, so it was not compared; why.
    Unread(String),
}

/// Name of the rule that holds what was measured against the specification.
pub const RULE: &str = "specification";

/// What was measured and lies outside of the limits that a specification states.
pub fn findings(specification: &Specification, measured: &Measured) -> Vec<Finding> {
    let stated = specification.characteristics.iter();
    stated
        .filter_map(|one| {
            let value = match one.quality {
                Quality::Ph => measured.ph?.value(),
                Quality::Viscosity => measured.viscosity_mpa_s.as_ref()?.0,
                Quality::Density => in_kg_per_m3(measured.density?) / 1000.0,
                Quality::Appearance
                | Quality::Odour
                | Quality::FilledMass
                | Quality::Yield
                | Quality::Other => return None,
            };
            let told = one.quality.measure()?.shown(value);
            let Verdict::Outside(asked) = one.judge(&told) else {
                return None;
            };
            let name = one.quality.label();
            let words = format!("{name} {told} was measured, the specification asks for {asked}");
            let source = Source::new(Basis::Measured, "held against your specification, see Make");
            let finding = Finding::new(Level::Caution, RULE, words, source)
                .about(Matter::of(&format!("{RULE} {name}")));
            Some(match one.quality {
                Quality::Ph => finding.remedy(Remedy::AdjustPh),
                _ => finding,
            })
        })
        .collect()
}

impl Characteristic {
    /// What it is called: the words of a thing without figures, else its quality.
    pub fn name(&self) -> &str {
        match self.quality {
            Quality::Other if !self.accept.is_empty() => &self.accept,
            quality => quality.label(),
        }
    }

    /// What is acceptable where a batch is judged: looks and smell are those of the retained
    /// sample where nothing else is stated.
    pub fn asked_words(&self) -> String {
        match (self.words(), self.quality) {
            (words, Quality::Appearance | Quality::Odour) if words.is_empty() => {
                "as the retained sample".to_owned()
            }
            (words, _) => words,
        }
    }

    /// What is acceptable, in words: `5.20 (4.90 to 5.50)`.
    pub fn words(&self) -> String {
        let mut text = String::new();
        if let Some(measure) = self.quality.measure() {
            let show = |v: f64| measure.shown(v);
            if let Some(target) = self.target {
                text.push_str(&show(target));
            }
            let limits = match (self.low, self.high) {
                (Some(low), Some(high)) => {
                    let low = show(low);
                    let low = low.strip_suffix(measure.unit).unwrap_or(&low).trim_end();
                    format!("{low} to {}", show(high))
                }
                (Some(low), None) => format!("at least {}", show(low)),
                (None, Some(high)) => format!("at most {}", show(high)),
                (None, None) => String::new(),
            };
            if !limits.is_empty() {
                let _ = if text.is_empty() {
                    write!(text, "{limits}")
                } else {
                    write!(text, " ({limits})")
                };
            }
        }
        if !self.accept.is_empty() && self.quality != Quality::Other {
            if !text.is_empty() {
                text.push_str(", ");
            }
            text.push_str(&self.accept);
        }
        text
    }

    /// What a measured value is worth against it.
    pub fn judge(&self, value: &str) -> Verdict {
        let Some(measure) = self.quality.measure() else {
            return Verdict::ByEye;
        };
        let read = match typed::value(value, measure) {
            Ok(read) => tidy(read, 6),
            Err(error) => return Verdict::Unread(error.to_string()),
        };
        let below = self.low.is_some_and(|low| read < tidy(low, 6));
        let above = self.high.is_some_and(|high| read > tidy(high, 6));
        if below || above {
            Verdict::Outside(self.words())
        } else {
            Verdict::Within
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture;
    use crate::quantity::Ph;

    fn characteristic(quality: Quality, low: f64, high: f64) -> Characteristic {
        Characteristic {
            low: Some(low),
            high: Some(high),
            ..Characteristic::new(quality)
        }
    }

    #[test]
    fn limits_belong_to_what_is_acceptable_and_units_are_read() {
        let viscosity = characteristic(Quality::Viscosity, 3000.0, 6000.0);
        for (value, within) in [
            ("3000", true),
            ("2999", false),
            ("6 Pa·s", true),
            ("6.1 Pa·s", false),
            ("4500 cP", true),
        ] {
            let verdict = viscosity.judge(value);
            assert_eq!(verdict == Verdict::Within, within, "{value}: {verdict:?}");
        }
        assert!(matches!(viscosity.judge("thick"), Verdict::Unread(_)));
        assert_eq!(viscosity.words(), "3000 to 6000 mPa·s");
        let look = Characteristic::new(Quality::Appearance);
        assert_eq!(look.judge("clear"), Verdict::ByEye);
    }

    #[test]
    fn what_was_measured_outside_of_what_is_stated_is_a_finding() {
        let mut variant = fixture::formula(Vec::new()).active().as_ref().clone();
        variant.measured.viscosity_mpa_s = Some((3000.0, "spindle 3".into()));
        variant.measured.ph = Ph::new(5.2);
        assert_eq!(findings(&variant.specification, &variant.measured), []);
        variant.specification = Arc::new(Specification {
            characteristics: vec![
                characteristic(Quality::Viscosity, 4000.0, 6000.0),
                characteristic(Quality::Ph, 4.9, 5.5),
                characteristic(Quality::Density, 1.0, 1.1),
            ],
        });
        let found = findings(&variant.specification, &variant.measured);
        assert_eq!(found.len(), 1);
        assert_eq!(
            found[0].message,
            "viscosity 3000 mPa·s was measured, the specification asks for 4000 to 6000 mPa·s"
        );
    }

    #[test]
    fn without_limits_the_ph_aimed_at_has_the_usual_ones() {
        let mut variant = fixture::formula(Vec::new()).active().as_ref().clone();
        let of_ph = |v: &crate::formula::Variant| {
            v.must_measure()
                .into_iter()
                .find(|c| c.quality == Quality::Ph)
        };
        assert_eq!(of_ph(&variant), None);
        variant.target_ph = Ph::new(5.2);
        let ph = of_ph(&variant).unwrap();
        assert_eq!((ph.low, ph.high), (Some(4.9), Some(5.5)));
        assert_eq!(ph.judge("5.5"), Verdict::Within);
        assert!(matches!(ph.judge("6.9"), Verdict::Outside(_)));
        // Limits that are stated stand alone, and the target stays that of the variant.
        variant.specification = Arc::new(Specification {
            characteristics: vec![characteristic(Quality::Ph, 4.6, 5.4)],
        });
        let ph = of_ph(&variant).unwrap();
        assert_eq!((ph.target, ph.low), (Some(5.2), Some(4.6)));
        assert!(matches!(ph.judge("5.5"), Verdict::Outside(_)));
    }
}
