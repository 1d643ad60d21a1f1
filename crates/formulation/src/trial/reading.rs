//! What can be measured on a trial, how, and what a plausible value is.

use super::bench::colour::Lab;
use super::bench::falling_ball::{FallingBall, Validity};
use super::bench::flow_cup::FlowCup;
use super::fit::linear::{LinearFit, least_squares};
use super::fit::{FitError, Interval, positive};
use crate::amount::Measure;
use crate::amount::measure::{Digits, UnitWord};

/// A quantity that is read on the bench or by a laboratory.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
#[expect(missing_docs, reason = "`label` and `unit` spell them out")]
pub enum Quantity {
    Ph,
    Viscosity,
    Density,
    Conductivity,
    WaterActivity,
    MassLoss,
    Colour,
    FoamHeight,
    FoamDrain,
    Clarity,
    Smell,
    Feel,
    Separation,
    Panel,
    ColonyCount,
    LogReduction,
}

impl Quantity {
    /// All quantities, in the order of display.
    pub const ALL: [Self; 16] = [
        Self::Ph,
        Self::Viscosity,
        Self::Density,
        Self::Conductivity,
        Self::WaterActivity,
        Self::MassLoss,
        Self::Colour,
        Self::FoamHeight,
        Self::FoamDrain,
        Self::Clarity,
        Self::Smell,
        Self::Feel,
        Self::Separation,
        Self::Panel,
        Self::ColonyCount,
        Self::LogReduction,
    ];
    /// Name in files.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Ph => "ph",
            Self::Viscosity => "viscosity",
            Self::Density => "density",
            Self::Conductivity => "conductivity",
            Self::WaterActivity => "water_activity",
            Self::MassLoss => "mass_loss",
            Self::Colour => "colour",
            Self::FoamHeight => "foam_height",
            Self::FoamDrain => "foam_drain",
            Self::Clarity => "clarity",
            Self::Smell => "smell",
            Self::Feel => "feel",
            Self::Separation => "separation",
            Self::Panel => "panel_score",
            Self::ColonyCount => "colony_count",
            Self::LogReduction => "log_reduction",
        }
    }
    /// The quantity of a name in a file.
    #[must_use]
    pub fn named(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|q| q.key() == key)
    }
    /// The words shown for it.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Ph => "pH",
            Self::Viscosity => "viscosity",
            Self::Density => "density",
            Self::Conductivity => "conductivity",
            Self::WaterActivity => "water activity",
            Self::MassLoss => "loss of mass",
            Self::Colour => "colour (L* a* b*)",
            Self::FoamHeight => "foam height",
            Self::FoamDrain => "foam drained in half",
            Self::Clarity => "clarity",
            Self::Smell => "smell",
            Self::Feel => "feel",
            Self::Separation => "separation",
            Self::Panel => "panel score",
            Self::ColonyCount => "colony count",
            Self::LogReduction => "log reduction",
        }
    }
    /// How its value is typed and shown: unit, what is plausible, digits. The plausible ranges
    /// are common practice, no source; what lies outside is refused as a slip of the pen.
    #[must_use]
    pub const fn measure(self) -> Measure {
        match self {
            Self::Ph => Measure::PH.within(0.0, 14.0),
            Self::Viscosity => Measure::VISCOSITY.within(0.2, 1e8),
            Self::Density => Measure::DENSITY.within(0.3, 2.5),
            Self::Conductivity => Measure::CONDUCTIVITY,
            Self::WaterActivity => Measure::WATER_ACTIVITY.within(0.0, 1.05),
            Self::MassLoss => MASS_LOSS,
            Self::FoamHeight => Measure::MILLIMETRES.within(0.0, 2000.0),
            Self::FoamDrain => Measure::SECONDS,
            Self::Panel => PANEL,
            Self::ColonyCount => COLONY_COUNT,
            Self::LogReduction => LOG_REDUCTION,
            Self::Colour | Self::Clarity | Self::Smell | Self::Feel | Self::Separation => {
                Measure::NUMBER
            }
        }
    }
    /// Unit of its value.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        self.measure().unit
    }
    /// The ordered words of a quantity that is judged, best first; empty for a number.
    #[must_use]
    pub const fn words(self) -> &'static [&'static str] {
        match self {
            Self::Clarity => &["clear", "slightly hazy", "cloudy", "opaque"],
            Self::Smell => &[
                "as at the start",
                "slightly changed",
                "clearly changed",
                "off",
            ],
            Self::Feel => &["as wanted", "slightly off", "clearly off", "not usable"],
            Self::Separation => &["none", "a trace", "clear", "two layers"],
            _ => &[],
        }
    }
    /// Whether responses are learnt on its logarithm.
    #[must_use]
    pub const fn is_logarithmic(self) -> bool {
        matches!(self, Self::Viscosity | Self::ColonyCount)
    }
    /// A value with the digits that a reading of it bears, and its unit.
    #[must_use]
    pub fn shown(self, value: f64) -> String {
        self.measure().shown(value)
    }
    /// Two ends with the unit once.
    #[must_use]
    pub fn range_shown(self, ends: Interval) -> String {
        let measure = self.measure();
        format!(
            "{} to {}",
            measure.digits_of(ends[0]),
            measure.shown(ends[1])
        )
    }
    /// How it can be read, the plain way first.
    #[must_use]
    pub const fn methods(self) -> &'static [MethodKind] {
        match self {
            Self::Viscosity => &[
                MethodKind::Direct,
                MethodKind::Rotational,
                MethodKind::ShearRate,
                MethodKind::FlowCup,
                MethodKind::FallingBall,
                MethodKind::Own,
            ],
            Self::LogReduction => &[MethodKind::Challenge, MethodKind::Direct],
            _ => &[MethodKind::Direct],
        }
    }
}

const MASS_LOSS: Measure = Measure {
    what: "a loss of mass",
    example: "0.8",
    unit: "%",
    units: &[],
    least: -5.0,
    most: 100.0,
    digits: Digits::Fixed(2),
};
const PANEL: Measure = Measure {
    what: "a score",
    example: "7",
    unit: "",
    units: &[],
    least: 0.0,
    most: 100.0,
    digits: Digits::UpTo(1),
};
const COLONY_COUNT: Measure = Measure {
    what: "a colony count",
    example: "120",
    unit: "CFU/g",
    units: &[UnitWord {
        words: &["cfu", "cfu/ml", "kbe/g", "kbe/ml", "kbe"],
        factor: 1.0,
        offset: 0.0,
    }],
    least: 0.0,
    most: 1e12,
    digits: Digits::Significant(3),
};
const LOG_REDUCTION: Measure = Measure {
    what: "a log reduction",
    example: "3.2",
    unit: "",
    units: &[UnitWord {
        words: &["log", "log10"],
        factor: 1.0,
        offset: 0.0,
    }],
    least: -3.0,
    most: 12.0,
    digits: Digits::Fixed(2),
};

/// Ways to read a quantity.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub enum MethodKind {
    /// The instrument shows the quantity itself.
    #[default]
    Direct,
    /// A rotational viscometer.
    Rotational,
    /// A rheometer.
    ShearRate,
    /// A flow cup.
    FlowCup,
    /// A falling ball.
    FallingBall,
    /// A method of the maker's own.
    Own,
    /// A challenge test of a laboratory.
    Challenge,
}

impl MethodKind {
    /// The words shown for it.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Direct => "instrument shows it",
            Self::Rotational => "rotational viscometer",
            Self::ShearRate => "rheometer",
            Self::FlowCup => "flow cup",
            Self::FallingBall => "falling ball",
            Self::Own => "own method",
            Self::Challenge => "challenge test",
        }
    }
    /// What is typed as the value, where it is not the quantity itself.
    #[must_use]
    pub const fn raw(self) -> Option<Measure> {
        match self {
            Self::Direct | Self::ShearRate | Self::Challenge => None,
            Self::Rotational => Some(Measure::NUMBER.called("a reading of the scale")),
            Self::FlowCup | Self::FallingBall => Some(Measure::SECONDS),
            Self::Own => Some(Measure::NUMBER.called("a reading of your method")),
        }
    }
}

/// Temperature at which a pH is stated, °C, and how far from it a sample still counts as
/// being there: what a thermometer on the bench tells.
const USUAL_PH_CELSIUS: f64 = 25.0;
const PH_CELSIUS_SPAN: f64 = 0.5;

/// What was read.
#[derive(Clone, PartialEq, Debug)]
pub enum ReadingValue {
    /// One or several readings of the instrument, in the unit of the method.
    Numbers(Vec<f64>),
    /// Less than a limit of detection; kept with its sign, never averaged as the limit.
    Below(f64),
    /// A colour.
    Colour(Lab),
    /// A word of [`Quantity::words`], by place.
    Word(usize),
}

/// How a reading was made.
#[derive(Clone, PartialEq, Debug)]
pub enum Method {
    /// The instrument shows the quantity itself; its name and settings in words.
    Direct(String),
    /// A rotational viscometer: reading times factor is the viscosity.
    Rotational {
        /// Spindle.
        spindle: String,
        /// Turns a minute.
        rpm: f64,
        /// mPa s for one unit of the scale.
        factor: f64,
    },
    /// A rheometer at a shear rate, 1/s; the reading is in mPa s.
    ShearRate(f64),
    /// A flow cup; the reading is a time in s.
    FlowCup {
        /// Name of the cup.
        cup: String,
        /// Density of the liquid, g/ml.
        density: f64,
    },
    /// A falling ball; the reading is a time in s, which replaces the time here.
    FallingBall(FallingBall),
    /// A method of the maker's own, calibrated with known liquids.
    Own {
        /// What is done, in words.
        name: String,
        /// Reading and viscosity (mPa s) of the known liquids; none if not calibrated.
        calibration: Vec<(f64, f64)>,
    },
    /// A challenge test, as a laboratory reported it.
    Challenge {
        /// Organism.
        organism: String,
        /// Days after the inoculation.
        day: u32,
    },
}

impl Method {
    /// Which way it is.
    #[must_use]
    pub const fn kind(&self) -> MethodKind {
        match self {
            Self::Direct(_) => MethodKind::Direct,
            Self::Rotational { .. } => MethodKind::Rotational,
            Self::ShearRate(_) => MethodKind::ShearRate,
            Self::FlowCup { .. } => MethodKind::FlowCup,
            Self::FallingBall(_) => MethodKind::FallingBall,
            Self::Own { .. } => MethodKind::Own,
            Self::Challenge { .. } => MethodKind::Challenge,
        }
    }

    /// The method in words; empty where nothing was stated.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::Direct(words) => words.clone(),
            Self::Rotational {
                spindle,
                rpm,
                factor,
            } => format!(
                "spindle {spindle}, {}, factor {}",
                Measure::TURNS.shown(*rpm),
                Measure::FACTOR.digits_of(*factor)
            ),
            Self::ShearRate(rate) => format!("at {}", Measure::SHEAR_RATE.shown(*rate)),
            Self::FlowCup { cup, density } => {
                format!("cup {cup}, {}", Measure::DENSITY.shown(*density))
            }
            Self::FallingBall(FallingBall {
                ball_mm,
                tube_mm,
                ball_density,
                liquid_density,
                distance_mm,
                seconds: _,
            }) => format!(
                "ball of {}, {}, falls {} in a tube of {}, the liquid {}",
                Measure::MILLIMETRES.shown(*ball_mm),
                Measure::DENSITY.shown(*ball_density),
                Measure::MILLIMETRES.shown(*distance_mm),
                Measure::MILLIMETRES.shown(*tube_mm),
                Measure::DENSITY.shown(*liquid_density)
            ),
            Self::Own { name, calibration } => {
                let known = calibration.iter().map(|(read, viscosity)| {
                    format!(
                        "{} is {}",
                        Measure::NUMBER.digits_of(*read),
                        Measure::VISCOSITY.shown(*viscosity)
                    )
                });
                let known: Vec<String> = known.collect();
                format!("{name}, by known liquids: {}", known.join(", "))
            }
            Self::Challenge { organism, day } => format!("{organism}, day {day}"),
        }
    }
}

/// Why a reading is refused.
#[derive(Clone, PartialEq, Debug, thiserror::Error)]
pub enum ReadingError {
    /// Outside what is plausible.
    #[error(
        "{quantity}: {value} is outside {low} to {high}{unit}; look at the unit and the decimal sign"
    )]
    Implausible {
        /// Which.
        quantity: &'static str,
        /// The value.
        value: f64,
        /// Least.
        low: f64,
        /// Greatest.
        high: f64,
        /// Unit with a blank before it.
        unit: String,
    },
    /// A value of the wrong kind.
    #[error("{0}: {1}")]
    Kind(&'static str, &'static str),
    /// The method does not give a viscosity here.
    #[error("{0}")]
    Method(String),
    /// The method is for other quantities.
    #[error("{0} cannot be read by this method: {1}")]
    OtherMethod(&'static str, &'static str),
    /// Before the trial was made.
    #[error("the time since making is before the start; state hours from 0 up")]
    BeforeStart,
    /// No temperature.
    #[error("the sample temperature must be a number between −40 and 150 °C")]
    Temperature,
}

/// A reading.
#[derive(Clone, PartialEq, Debug)]
pub struct Reading {
    /// What was measured.
    pub quantity: Quantity,
    /// What was read.
    pub value: ReadingValue,
    /// How.
    pub method: Method,
    /// Temperature of the sample, °C.
    pub celsius: Option<f64>,
    /// Hours since what was read was made: the trial, or on a step its addition.
    pub hours: Option<f64>,
    /// Which sample of a stability plan.
    pub sample: Option<Sample>,
    /// Remark.
    pub remark: String,
    /// Where a photo lies; only the link is kept.
    pub photo: Option<String>,
}

/// A sample of a stability plan.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Sample {
    /// Number of the plan, from 0.
    pub plan: usize,
    /// Number of its condition, from 0.
    pub condition: usize,
    /// Number of its time, from 0.
    pub time: usize,
}

impl Reading {
    /// A reading of numbers by an instrument that shows the quantity itself.
    #[must_use]
    pub fn of(quantity: Quantity, values: Vec<f64>) -> Self {
        Self {
            quantity,
            value: ReadingValue::Numbers(values),
            method: Method::Direct(String::new()),
            celsius: None,
            hours: None,
            sample: None,
            remark: String::new(),
            photo: None,
        }
    }

    /// The readings in the unit of the quantity; empty where the value is no number.
    pub fn figures(&self) -> Result<Vec<f64>, ReadingError> {
        let ReadingValue::Numbers(raw) = &self.value else {
            return Ok(Vec::new());
        };
        raw.iter().map(|v| self.figure(*v)).collect()
    }

    fn figure(&self, raw: f64) -> Result<f64, ReadingError> {
        let refuse = |why: String| Err(ReadingError::Method(why));
        if !self.quantity.methods().contains(&self.method.kind()) {
            return Err(ReadingError::OtherMethod(
                self.quantity.label(),
                self.method.kind().label(),
            ));
        }
        match &self.method {
            Method::Direct(_) | Method::ShearRate(_) | Method::Challenge { .. } => Ok(raw),
            Method::Rotational {
                factor, spindle, ..
            } => {
                if factor.is_finite() && *factor > 0.0 {
                    Ok(raw * factor)
                } else {
                    refuse(format!(
                        "spindle {spindle} has no factor; state mPa·s for one unit of the scale"
                    ))
                }
            }
            Method::FlowCup { cup, density } => {
                let Some(known) = FlowCup::named(cup) else {
                    return refuse(format!("the flow cup “{cup}” is not known"));
                };
                if !known.covers(raw) {
                    let (least, most) = known.range;
                    return refuse(format!(
                        "{raw} s is outside {least} to {most} s, for which the equation of the cup {cup} is printed; take another cup. A shower gel does not run through one in that time"
                    ));
                }
                match known.kinematic_mm2_s(raw) {
                    Some(v) if *density > 0.0 => Ok(v * density),
                    Some(_) => refuse("the flow cup needs the density of the liquid".to_owned()),
                    None => refuse(format!("{raw} s is too short a time for the cup {cup}")),
                }
            }
            Method::FallingBall(ball) => {
                let ball = FallingBall {
                    seconds: raw,
                    ..*ball
                };
                match ball.fall() {
                    Some(fall) if fall.validity != Validity::Outside => Ok(fall.viscosity_mpa_s),
                    Some(fall) => refuse(format!(
                        "the ball falls too fast (Reynolds number {:.2}) or the tube is too narrow; take a smaller or lighter ball",
                        fall.reynolds
                    )),
                    None => refuse("the ball does not sink in this tube".to_owned()),
                }
            }
            Method::Own { name, calibration } => {
                match Calibration::fit(calibration).and_then(|c| c.viscosity(raw)) {
                    Ok((v, _)) => Ok(v),
                    Err(why) => refuse(format!("{name}: {why}")),
                }
            }
        }
    }

    /// The temperature of the sample in words; of a pH, which is stated at 25 °C, whether it
    /// lies below or above.
    #[must_use]
    pub fn temperature_words(&self) -> Option<String> {
        let celsius = self.celsius?;
        let shown = Measure::TEMPERATURE.shown(celsius);
        let side = match (self.quantity, celsius) {
            (Quantity::Ph, t) if t < USUAL_PH_CELSIUS - PH_CELSIUS_SPAN => ", below 25 °C",
            (Quantity::Ph, t) if t > USUAL_PH_CELSIUS + PH_CELSIUS_SPAN => ", above 25 °C",
            _ => "",
        };
        Some(format!("{shown}{side}"))
    }

    /// How it was made, in words: method, temperature, how long it stood; empty if nothing was
    /// stated.
    #[must_use]
    pub fn how(&self) -> String {
        let method = self.method.words();
        let parts = [
            (!method.is_empty()).then_some(method),
            self.temperature_words(),
            self.hours.map(|h| format!("stood {}", time_words(h))),
        ];
        parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
    }

    /// What stood on the instrument, where that is not the quantity itself or there are several.
    #[must_use]
    pub fn read_words(&self) -> Option<String> {
        let ReadingValue::Numbers(read) = &self.value else {
            return None;
        };
        let (word, measure) = match self.method.kind().raw() {
            Some(raw) => ("read", raw),
            None if read.len() > 1 => ("mean of", self.quantity.measure()),
            None => return None,
        };
        let read: Vec<String> = read.iter().map(|v| measure.digits_of(*v)).collect();
        let unit = if measure.unit.is_empty() { "" } else { " " };
        Some(format!("{word} {}{unit}{}", read.join(", "), measure.unit))
    }

    /// The mean of the readings in the unit of the quantity: geometric for viscosities and
    /// counts.
    #[must_use]
    pub fn mean(&self) -> Option<f64> {
        let figures = self.figures().ok()?;
        let n = figures.len() as f64;
        if figures.len() < 2 {
            // Through the logarithm and back it would not be the same figure.
            figures.first().copied()
        } else if self.quantity.is_logarithmic() && figures.iter().all(|v| *v > 0.0) {
            Some((figures.iter().map(|v| v.ln()).sum::<f64>() / n).exp())
        } else {
            Some(figures.iter().sum::<f64>() / n)
        }
    }

    /// Refuses what cannot be.
    pub fn check(&self) -> Result<(), ReadingError> {
        let q = self.quantity;
        if self.hours.is_some_and(|h| h.is_nan() || h < 0.0) {
            return Err(ReadingError::BeforeStart);
        }
        if self.celsius.is_some_and(|t| !(-40.0..=150.0).contains(&t)) {
            return Err(ReadingError::Temperature);
        }
        let Measure {
            least: low,
            most: high,
            ..
        } = q.measure();
        let within = |value: f64, low: f64, high: f64| {
            if (low..=high).contains(&value) {
                Ok(())
            } else {
                let unit = q.unit();
                Err(ReadingError::Implausible {
                    quantity: q.label(),
                    value,
                    low,
                    high,
                    unit: if unit.is_empty() {
                        String::new()
                    } else {
                        format!(" {unit}")
                    },
                })
            }
        };
        match &self.value {
            ReadingValue::Word(i) if *i < q.words().len() => Ok(()),
            ReadingValue::Word(_) => Err(ReadingError::Kind(
                q.label(),
                "this word is not in its list",
            )),
            ReadingValue::Colour(lab) if q == Quantity::Colour => {
                within(lab.l, 0.0, 100.0)?;
                within(lab.a, -200.0, 200.0)?;
                within(lab.b, -200.0, 200.0)
            }
            _ if q == Quantity::Colour => Err(ReadingError::Kind(
                q.label(),
                "three numbers L*, a*, b* are needed",
            )),
            ReadingValue::Colour(_) => {
                Err(ReadingError::Kind(q.label(), "a colour is not expected"))
            }
            _ if !q.words().is_empty() => {
                Err(ReadingError::Kind(q.label(), "one of its words is needed"))
            }
            ReadingValue::Below(v) => within(*v, low, high),
            ReadingValue::Numbers(raw) => {
                if raw.is_empty() {
                    return Err(ReadingError::Kind(q.label(), "a number is needed"));
                }
                for v in self.figures()? {
                    within(v, low, high)?;
                }
                Ok(())
            }
        }
    }
}

/// A method of one's own against liquids of known viscosity: ln viscosity is a line in the
/// logarithm of the reading.
#[derive(Clone, PartialEq, Debug)]
pub struct Calibration {
    fit: LinearFit,
    range: Interval,
}

impl Calibration {
    /// From at least three pairs of reading and viscosity (mPa s).
    pub fn fit(pairs: &[(f64, f64)]) -> Result<Self, FitError> {
        let (reading, viscosity): (Vec<f64>, Vec<f64>) = pairs.iter().copied().unzip();
        positive(&reading, "the reading")?;
        positive(&viscosity, "the viscosity")?;
        if pairs.len() < 3 {
            return Err(FitError::TooFew {
                given: pairs.len(),
                parameters: 2,
                needed: 3,
            });
        }
        let design =
            nalgebra::DMatrix::from_fn(
                pairs.len(),
                2,
                |i, j| {
                    if j == 0 { 1.0 } else { reading[i].ln() }
                },
            );
        let ln: Vec<f64> = viscosity.iter().map(|v| v.ln()).collect();
        let least = reading.iter().copied().fold(f64::INFINITY, f64::min);
        let greatest = reading.iter().copied().fold(0.0, f64::max);
        Ok(Self {
            fit: least_squares(&design, &ln, None)?,
            range: [least, greatest],
        })
    }
    /// Viscosity of a reading with the 95 % interval of a new one; only between the least and
    /// the greatest reading of the known liquids.
    pub fn viscosity(&self, reading: f64) -> Result<(f64, Interval), FitError> {
        if !(self.range[0]..=self.range[1]).contains(&reading) {
            return Err(FitError::Value {
                row: 1,
                what: "the reading",
                must: "between those of the known liquids",
            });
        }
        let p = self.fit.predict(&[1.0, reading.ln()], 1.0);
        Ok((p.mean.exp(), p.new.map(f64::exp)))
    }
}

/// A time in the unit in which one says it: “10 min”, “24 h”.
#[must_use]
pub fn time_words(hours: f64) -> String {
    if hours < 1.0 {
        Measure::MINUTES.shown((hours * 60.0).round())
    } else {
        Measure::HOURS.shown(hours)
    }
}
