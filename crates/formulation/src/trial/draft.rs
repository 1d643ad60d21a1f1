//! A reading as it is typed, field by field, and the reading it means.

use std::collections::BTreeMap;
use std::fmt;

use super::bench::colour::Lab;
use super::bench::falling_ball::FallingBall;
use super::bench::flow_cup::{CUPS, FlowCup};
use super::bench::known_liquid::KnownLiquid;
use super::challenge::organisms;
use super::reading::{Method, MethodKind, Quantity, Reading, ReadingError, ReadingValue, Sample};
use crate::amount::typed::AmountError;
use crate::amount::{Measure, typed};

/// Longest time after an inoculation, far above that of any test.
const MOST_DAYS: u32 = 10_000;

/// A field of a reading besides its values.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
#[expect(missing_docs, reason = "`label` spells them out")]
pub enum ReadingField {
    Value,
    Instrument,
    Spindle,
    Rpm,
    Factor,
    ShearRate,
    Cup,
    Density,
    Ball,
    Tube,
    BallDensity,
    Distance,
    OwnName,
    Calibration,
    Organism,
    Day,
    Celsius,
    Hours,
    Remark,
    Photo,
}

impl ReadingField {
    /// The words shown for it.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Value => "Value",
            Self::Instrument => "Instrument and settings",
            Self::Spindle => "Spindle",
            Self::Rpm => "Turns a minute",
            Self::Factor => "Factor of the spindle",
            Self::ShearRate => "Shear rate",
            Self::Cup => "Flow cup",
            Self::Density => "Density of the liquid",
            Self::Ball => "Ball",
            Self::Tube => "Tube",
            Self::BallDensity => "Density of the ball",
            Self::Distance => "Distance of fall",
            Self::OwnName => "Your method",
            Self::Calibration => "Known liquids",
            Self::Organism => "Organism",
            Self::Day => "Day",
            Self::Celsius => "Sample temperature, °C",
            Self::Hours => "Stood for, h",
            Self::Remark => "Remark",
            Self::Photo => "Photo (its path)",
        }
    }
    /// Its name on the command line.
    #[must_use]
    pub const fn flag(self) -> &'static str {
        match self {
            Self::Value => "--value",
            Self::Instrument => "--instrument",
            Self::Spindle => "--spindle",
            Self::Rpm => "--rpm",
            Self::Factor => "--factor",
            Self::ShearRate => "--shear-rate",
            Self::Cup => "--cup",
            Self::Density => "--density",
            Self::Ball => "--ball",
            Self::Tube => "--tube",
            Self::BallDensity => "--ball-density",
            Self::Distance => "--distance",
            Self::OwnName => "--own-method",
            Self::Calibration => "--calibration",
            Self::Organism => "--organism",
            Self::Day => "--day",
            Self::Celsius => "--celsius",
            Self::Hours => "--hours",
            Self::Remark => "--remark",
            Self::Photo => "--photo",
        }
    }
    /// A text that would be understood.
    #[must_use]
    pub const fn hint(self) -> &'static str {
        match self {
            Self::Value | Self::Remark => "",
            Self::Instrument => "meter, electrode, cell",
            Self::Spindle => "LV3",
            Self::Rpm => "12 rpm",
            Self::Factor => "mPa·s for one unit",
            Self::ShearRate => "10 1/s",
            Self::Cup => "ISO 2431 6 mm",
            Self::Density => "1.02 g/ml",
            Self::Ball => "3.2 mm",
            Self::Tube => "28 mm",
            Self::BallDensity => "7.8 g/ml",
            Self::Distance => "150 mm",
            Self::OwnName => "seconds to draw up 1 ml",
            Self::Calibration => "12 = 219; 30 = glycerol 95 % at 20 °C",
            Self::Organism => "Candida albicans",
            Self::Day => "14",
            Self::Celsius => "25 °C",
            Self::Hours => "24 h",
            Self::Photo => "photos/beaker-3.jpg",
        }
    }
}

impl MethodKind {
    /// The fields that the method needs; all of them, save the instrument, must be filled in.
    #[must_use]
    pub const fn fields(self) -> &'static [ReadingField] {
        match self {
            Self::Direct => &[ReadingField::Instrument],
            Self::Rotational => &[
                ReadingField::Spindle,
                ReadingField::Rpm,
                ReadingField::Factor,
            ],
            Self::ShearRate => &[ReadingField::ShearRate],
            Self::FlowCup => &[ReadingField::Cup, ReadingField::Density],
            Self::FallingBall => &[
                ReadingField::Ball,
                ReadingField::Tube,
                ReadingField::BallDensity,
                ReadingField::Density,
                ReadingField::Distance,
            ],
            Self::Own => &[ReadingField::OwnName, ReadingField::Calibration],
            Self::Challenge => &[ReadingField::Organism, ReadingField::Day],
        }
    }
}

/// What is wrong with a typed reading.
#[derive(Clone, PartialEq, Debug)]
pub struct DraftError {
    /// Where; none where it is the reading as a whole.
    pub field: Option<ReadingField>,
    /// What, and what to do.
    pub why: String,
}

impl fmt::Display for DraftError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.field {
            Some(field) => write!(f, "{}: {}", field.label(), self.why),
            None => f.write_str(&self.why),
        }
    }
}

impl std::error::Error for DraftError {}

impl From<ReadingError> for DraftError {
    fn from(error: ReadingError) -> Self {
        Self {
            field: None,
            why: error.to_string(),
        }
    }
}

fn at(field: ReadingField) -> impl Fn(AmountError) -> DraftError {
    move |error| wrong(field, error.to_string())
}

fn wrong(field: ReadingField, why: impl Into<String>) -> DraftError {
    DraftError {
        field: Some(field),
        why: why.into(),
    }
}

/// A reading as typed.
#[derive(Clone, PartialEq, Debug)]
pub struct ReadingDraft {
    /// What is measured.
    pub quantity: Quantity,
    /// How.
    pub method: MethodKind,
    /// Values as typed, one or several.
    pub values: Vec<String>,
    /// Other fields as typed.
    pub fields: BTreeMap<ReadingField, String>,
    /// Sample of a stability plan.
    pub sample: Option<Sample>,
}

impl ReadingDraft {
    /// An empty one.
    #[must_use]
    pub fn of(quantity: Quantity) -> Self {
        Self {
            quantity,
            method: quantity.methods().first().copied().unwrap_or_default(),
            values: Vec::new(),
            fields: BTreeMap::new(),
            sample: None,
        }
    }

    /// A reading that was noted, as it would be typed again.
    #[must_use]
    pub fn of_reading(reading: &Reading) -> Self {
        let mut out = Self {
            method: reading.method.kind(),
            sample: reading.sample,
            ..Self::of(reading.quantity)
        };
        let quantity = reading.quantity;
        // Without rounding: what is not changed must come back as it was.
        out.values = match &reading.value {
            ReadingValue::Numbers(list) => list.iter().map(ToString::to_string).collect(),
            ReadingValue::Below(limit) => vec![format!("<{limit}")],
            ReadingValue::Colour(c) => [c.l, c.a, c.b].iter().map(ToString::to_string).collect(),
            ReadingValue::Word(i) => quantity
                .words()
                .get(*i)
                .map(|w| vec![(*w).to_owned()])
                .unwrap_or_default(),
        };
        let mut set = |field: ReadingField, text: String| {
            if !text.is_empty() {
                out.fields.insert(field, text);
            }
        };
        match &reading.method {
            Method::Direct(words) => set(ReadingField::Instrument, words.clone()),
            Method::Rotational {
                spindle,
                rpm,
                factor,
            } => {
                set(ReadingField::Spindle, spindle.clone());
                set(ReadingField::Rpm, rpm.to_string());
                set(ReadingField::Factor, factor.to_string());
            }
            Method::ShearRate(rate) => set(ReadingField::ShearRate, rate.to_string()),
            Method::FlowCup { cup, density } => {
                set(ReadingField::Cup, cup.clone());
                set(ReadingField::Density, density.to_string());
            }
            Method::FallingBall(ball) => {
                set(ReadingField::Ball, ball.ball_mm.to_string());
                set(ReadingField::Tube, ball.tube_mm.to_string());
                set(ReadingField::BallDensity, ball.ball_density.to_string());
                set(ReadingField::Density, ball.liquid_density.to_string());
                set(ReadingField::Distance, ball.distance_mm.to_string());
            }
            Method::Own { name, calibration } => {
                set(ReadingField::OwnName, name.clone());
                let pairs: Vec<String> = calibration
                    .iter()
                    .map(|(r, v)| format!("{r} = {v}"))
                    .collect();
                set(ReadingField::Calibration, pairs.join("; "));
            }
            Method::Challenge { organism, day } => {
                set(ReadingField::Organism, organism.clone());
                set(ReadingField::Day, day.to_string());
            }
        }
        set(
            ReadingField::Celsius,
            reading.celsius.map_or_else(String::new, |t| t.to_string()),
        );
        set(
            ReadingField::Hours,
            reading.hours.map_or_else(String::new, |h| h.to_string()),
        );
        set(ReadingField::Remark, reading.remark.clone());
        set(
            ReadingField::Photo,
            reading.photo.clone().unwrap_or_default(),
        );
        out
    }

    /// Values typed into one field, between semicolons.
    #[must_use]
    pub fn split(text: &str) -> Vec<String> {
        text.split(';')
            .map(str::trim)
            .filter(|t| !t.is_empty())
            .map(str::to_owned)
            .collect()
    }

    /// What is typed in a field; none if blank.
    #[must_use]
    pub fn text(&self, field: ReadingField) -> Option<&str> {
        let text = self.fields.get(&field)?.trim();
        (!text.is_empty()).then_some(text)
    }

    fn needed(&self, field: ReadingField) -> Result<&str, DraftError> {
        self.text(field).ok_or_else(|| {
            wrong(
                field,
                format!(
                    "it is needed for this method ({}); type for example {}",
                    self.method.label(),
                    field.hint()
                ),
            )
        })
    }

    fn number(&self, field: ReadingField, measure: &Measure) -> Result<f64, DraftError> {
        typed::value(self.needed(field)?, measure).map_err(at(field))
    }

    fn number_if_typed(
        &self,
        field: ReadingField,
        measure: &Measure,
    ) -> Result<Option<f64>, DraftError> {
        self.text(field)
            .map(|text| typed::value(text, measure).map_err(at(field)))
            .transpose()
    }

    /// The reading that is meant, checked.
    pub fn reading(&self) -> Result<Reading, DraftError> {
        let stray = self
            .fields
            .keys()
            .find(|f| self.text(**f).is_some() && !self.uses(**f));
        if let Some(field) = stray {
            return Err(wrong(
                *field,
                format!(
                    "it is not used when {} is read this way ({}); leave it empty or choose another method",
                    self.quantity.label(),
                    self.method.label()
                ),
            ));
        }
        let reading = Reading {
            quantity: self.quantity,
            value: self.value()?,
            method: self.method()?,
            celsius: self.number_if_typed(
                ReadingField::Celsius,
                &Measure::TEMPERATURE.within(-40.0, 150.0),
            )?,
            hours: self.hours()?,
            sample: self.sample,
            remark: self
                .text(ReadingField::Remark)
                .unwrap_or_default()
                .to_owned(),
            photo: self.text(ReadingField::Photo).map(str::to_owned),
        };
        reading.check()?;
        Ok(reading)
    }

    fn uses(&self, field: ReadingField) -> bool {
        self.method.fields().contains(&field)
            || matches!(
                field,
                ReadingField::Celsius
                    | ReadingField::Hours
                    | ReadingField::Remark
                    | ReadingField::Photo
            )
    }

    fn hours(&self) -> Result<Option<f64>, DraftError> {
        let before = self
            .text(ReadingField::Hours)
            .is_some_and(|t| t.starts_with(['-', '−']));
        if before {
            return Err(wrong(
                ReadingField::Hours,
                ReadingError::BeforeStart.to_string(),
            ));
        }
        self.number_if_typed(ReadingField::Hours, &Measure::HOURS)
    }

    fn value(&self) -> Result<ReadingValue, DraftError> {
        let say = at(ReadingField::Value);
        let refuse = |why: String| Err(wrong(ReadingField::Value, why));
        let quantity = self.quantity;
        let words = quantity.words();
        let measure = self.method.raw().unwrap_or(quantity.measure());
        match (self.values.as_slice(), quantity) {
            ([], _) => refuse("a value is needed".to_owned()),
            ([one], _) if !words.is_empty() => {
                let place = words.iter().position(|w| w.eq_ignore_ascii_case(one.trim()));
                place.map(ReadingValue::Word).ok_or_else(|| {
                    wrong(
                        ReadingField::Value,
                        format!("“{}” is not one of: {}", one.trim(), words.join(", ")),
                    )
                })
            }
            (several, _) if !words.is_empty() => refuse(format!(
                "one of its words is needed, {} were given: {}",
                several.len(),
                words.join(", ")
            )),
            ([l, a, b], Quantity::Colour) => {
                let number = |text: &str| typed::value(text, &Measure::NUMBER).map_err(&say);
                Ok(ReadingValue::Colour(Lab {
                    l: number(l)?,
                    a: number(a)?,
                    b: number(b)?,
                }))
            }
            (other, Quantity::Colour) => refuse(format!(
                "three numbers L*, a*, b* are needed, {} were given",
                other.len()
            )),
            ([one], _) if one.trim().starts_with('<') => {
                if self.method.raw().is_some() {
                    return refuse("a limit of detection needs a method that shows the quantity itself".to_owned());
                }
                let limit = one.trim().trim_start_matches('<');
                Ok(ReadingValue::Below(typed::value(limit, &measure).map_err(say)?))
            }
            (several, _) if several.iter().any(|v| v.trim().starts_with('<')) => refuse(
                "a value below a limit of detection stands alone; note the others as readings of their own".to_owned(),
            ),
            (several, _) => several
                .iter()
                .map(|text| typed::value(text, &measure).map_err(&say))
                .collect::<Result<_, _>>()
                .map(ReadingValue::Numbers),
        }
    }

    fn method(&self) -> Result<Method, DraftError> {
        Ok(match self.method {
            MethodKind::Direct => Method::Direct(
                self.text(ReadingField::Instrument)
                    .unwrap_or_default()
                    .to_owned(),
            ),
            MethodKind::Rotational => Method::Rotational {
                spindle: self.needed(ReadingField::Spindle)?.to_owned(),
                rpm: self.number(ReadingField::Rpm, &Measure::TURNS)?,
                factor: self.number(
                    ReadingField::Factor,
                    &Measure {
                        least: 1e-6,
                        most: 1e9,
                        ..Measure::FACTOR
                    },
                )?,
            },
            MethodKind::ShearRate => {
                Method::ShearRate(self.number(ReadingField::ShearRate, &Measure::SHEAR_RATE)?)
            }
            MethodKind::FlowCup => {
                let name = self.needed(ReadingField::Cup)?;
                let Some(cup) = FlowCup::named(name) else {
                    let known: Vec<&str> = CUPS.iter().map(|c| c.name).collect();
                    return Err(wrong(
                        ReadingField::Cup,
                        format!("“{name}” is not known; use one of: {}", known.join(", ")),
                    ));
                };
                Method::FlowCup {
                    cup: cup.name.to_owned(),
                    density: self.number(ReadingField::Density, &Measure::DENSITY)?,
                }
            }
            MethodKind::FallingBall => Method::FallingBall(FallingBall {
                ball_mm: self
                    .number(ReadingField::Ball, &Measure::MILLIMETRES.within(0.1, 100.0))?,
                tube_mm: self.number(
                    ReadingField::Tube,
                    &Measure::MILLIMETRES.within(0.5, 1000.0),
                )?,
                ball_density: self.number(
                    ReadingField::BallDensity,
                    &Measure {
                        most: 25.0,
                        ..Measure::DENSITY
                    },
                )?,
                liquid_density: self.number(ReadingField::Density, &Measure::DENSITY)?,
                distance_mm: self.number(
                    ReadingField::Distance,
                    &Measure::MILLIMETRES.within(1.0, 10_000.0),
                )?,
                seconds: 0.0,
            }),
            MethodKind::Own => Method::Own {
                name: self.needed(ReadingField::OwnName)?.to_owned(),
                calibration: calibration(self.needed(ReadingField::Calibration)?)?,
            },
            MethodKind::Challenge => {
                let name = self.needed(ReadingField::Organism)?;
                let known = organisms();
                let Some(organism) = known.iter().find(|o| o.name.eq_ignore_ascii_case(name))
                else {
                    let names: Vec<&str> = known.iter().map(|o| o.name).collect();
                    return Err(wrong(
                        ReadingField::Organism,
                        format!(
                            "“{name}” is not of the test; use one of: {}",
                            names.join(", ")
                        ),
                    ));
                };
                let day = typed::count(
                    self.needed(ReadingField::Day)?,
                    "a number of days",
                    MOST_DAYS,
                );
                Method::Challenge {
                    organism: organism.name.to_owned(),
                    day: day.map_err(at(ReadingField::Day))?,
                }
            }
        })
    }
}

/// Readings of known liquids: `12 = 219; 30 = glycerol 95 % at 20 °C`.
fn calibration(text: &str) -> Result<Vec<(f64, f64)>, DraftError> {
    let say = at(ReadingField::Calibration);
    let refuse = |part: &str| {
        wrong(
            ReadingField::Calibration,
            format!(
                "“{}” is not of the form READING = VISCOSITY or READING = glycerol 95 % at 20 °C; separate liquids by semicolons",
                part.trim()
            ),
        )
    };
    let mut out = Vec::new();
    for part in text.split(';').filter(|p| !p.trim().is_empty()) {
        let (reading, liquid) = part.split_once('=').ok_or_else(|| refuse(part))?;
        let reading = typed::value(reading, &Measure::NUMBER).map_err(&say)?;
        let liquid = liquid.trim();
        let name = liquid.split_whitespace().next().unwrap_or("");
        let viscosity = match KnownLiquid::named(name) {
            None => typed::value(liquid, &Measure::VISCOSITY).map_err(&say)?,
            Some(known) => {
                let rest = liquid.get(name.len()..).unwrap_or("");
                let (share, celsius) = rest.rsplit_once(" at ").ok_or_else(|| refuse(part))?;
                let share = if known == KnownLiquid::Water && share.trim().is_empty() {
                    100.0
                } else {
                    typed::value(share, &Measure::PERCENT).map_err(&say)?
                };
                let celsius = typed::value(celsius, &Measure::TEMPERATURE).map_err(&say)?;
                known.viscosity_mpa_s(share, celsius).ok_or_else(|| {
                    wrong(
                        ReadingField::Calibration,
                        format!("“{liquid}” is outside the range of the published equation"),
                    )
                })?
            }
        };
        out.push((reading, viscosity));
    }
    if out.len() < 3 {
        return Err(wrong(
            ReadingField::Calibration,
            format!(
                "at least three known liquids are needed, {} were given",
                out.len()
            ),
        ));
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn draft(quantity: Quantity, values: &[&str], fields: &[(ReadingField, &str)]) -> ReadingDraft {
        ReadingDraft {
            values: values.iter().map(ToString::to_string).collect(),
            fields: fields.iter().map(|(f, t)| (*f, (*t).to_owned())).collect(),
            ..ReadingDraft::of(quantity)
        }
    }

    fn refused(draft: &ReadingDraft) -> String {
        draft.reading().unwrap_err().to_string()
    }

    #[test]
    fn units_are_converted_and_never_guessed() {
        let read = |values: &[&str]| draft(Quantity::Viscosity, values, &[]).reading().unwrap();
        assert_eq!(
            read(&["4.1 Pa·s", "4300 mPas"]).figures().unwrap(),
            [4100.0, 4300.0]
        );
        assert_eq!(read(&["4,5 pa s"]).mean(), Some(4500.0));
        let cold = draft(
            Quantity::Ph,
            &["5.2"],
            &[
                (ReadingField::Celsius, "68 °F"),
                (ReadingField::Hours, "2 days"),
            ],
        );
        let cold = cold.reading().unwrap();
        assert_eq!((cold.celsius, cold.hours), (Some(20.0), Some(48.0)));
        let bad = |values: &[&str]| refused(&draft(Quantity::Viscosity, values, &[]));
        assert!(bad(&["4 g"]).contains("no unit known here"));
        assert!(bad(&["-3"]).contains("out of range"), "{}", bad(&["-3"]));
        assert!(bad(&["1,000"]).contains("can mean"));
        assert!(bad(&[]).contains("needed"));
        assert!(bad(&["<10", "20"]).contains("stands alone"));
    }

    #[test]
    fn what_a_method_needs_is_asked_for() {
        let mut d = draft(
            Quantity::Viscosity,
            &["42"],
            &[(ReadingField::Spindle, "LV3")],
        );
        d.method = MethodKind::Rotational;
        assert!(refused(&d).starts_with("Turns a minute: it is needed"));
        d.fields.insert(ReadingField::Rpm, "12".into());
        assert!(refused(&d).starts_with("Factor of the spindle"));
        d.fields.insert(ReadingField::Factor, "0".into());
        assert!(refused(&d).contains("out of range"));
        d.fields.insert(ReadingField::Factor, "100".into());
        assert_eq!(d.reading().unwrap().mean(), Some(4200.0));
        d.fields.insert(ReadingField::Cup, "ISO 2431 6 mm".into());
        assert!(refused(&d).starts_with("Flow cup: it is not used"));
        let mut cup = draft(
            Quantity::Viscosity,
            &["50 s"],
            &[(ReadingField::Cup, "ISO 2431 4 mm")],
        );
        cup.method = MethodKind::FlowCup;
        assert!(refused(&cup).starts_with("Density of the liquid"));
        cup.fields.insert(ReadingField::Density, "1.0".into());
        // ISO 2431, 4 mm: 1.37 t − 200/t.
        assert_eq!(cup.reading().unwrap().mean(), Some(1.37 * 50.0 - 4.0));
        cup.values = vec!["400".into()];
        assert!(refused(&cup).contains("A shower gel does not run through one"));
        let early = draft(Quantity::Ph, &["5"], &[(ReadingField::Hours, "-2")]);
        assert!(refused(&early).contains("before the start"));
        let words = draft(Quantity::Clarity, &["clear", "opaque"], &[]);
        assert!(refused(&words).contains("one of its words"));
    }

    /// Segur and Oberstar 1951 by the equation of Cheng 2008.
    #[test]
    fn an_own_method_is_calibrated_with_glycerol() {
        let mut d = draft(
            Quantity::Viscosity,
            &["20"],
            &[
                (ReadingField::OwnName, "seconds to draw up 1 ml"),
                (
                    ReadingField::Calibration,
                    "8 = glycerol 85 % at 20 °C; 16 = glycerol 90 % at 20; 40 = glycerol 95 % at 20 °C",
                ),
            ],
        );
        d.method = MethodKind::Own;
        let found = d.reading().unwrap().mean().unwrap();
        assert!((200.0..400.0).contains(&found), "{found}");
        d.values = vec!["80".into()];
        assert!(refused(&d).contains("between those of the known liquids"));
        d.fields.insert(ReadingField::Calibration, "8 = 110".into());
        assert!(refused(&d).contains("at least three"));
    }

    #[test]
    fn a_reading_typed_again_is_the_same() {
        let mut d = draft(
            Quantity::Viscosity,
            &["42.5", "43"],
            &[
                (ReadingField::Spindle, "LV3"),
                (ReadingField::Rpm, "12"),
                (ReadingField::Factor, "100"),
                (ReadingField::Celsius, "25"),
                (ReadingField::Hours, "24"),
                (ReadingField::Remark, "clear"),
                (ReadingField::Photo, "a.jpg"),
            ],
        );
        d.method = MethodKind::Rotational;
        let reading = d.reading().unwrap();
        assert_eq!(
            ReadingDraft::of_reading(&reading).reading().unwrap(),
            reading
        );
        let below = draft(Quantity::ColonyCount, &["<10"], &[])
            .reading()
            .unwrap();
        assert_eq!(ReadingDraft::of_reading(&below).reading().unwrap(), below);
    }

    #[test]
    fn a_challenge_test_names_organism_and_day() {
        let mut d = draft(
            Quantity::LogReduction,
            &["3.2"],
            &[(ReadingField::Organism, "candida albicans")],
        );
        assert!(refused(&d).starts_with("Day"));
        d.fields.insert(ReadingField::Day, "14".into());
        let reading = d.reading().unwrap();
        assert_eq!(reading.method.words(), "Candida albicans, day 14");
        d.fields.insert(ReadingField::Organism, "yeast".into());
        assert!(refused(&d).contains("Aspergillus brasiliensis"));
    }
}
