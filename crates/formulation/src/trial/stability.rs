//! The maker's own plan of a stability test: samples over conditions and times. No published
//! standard fixes conditions or limits (ISO/TR 18811 says of itself that it does not).

use jiff::ToSpan as _;

use super::book::Book;
use super::fit::drift::{Crossing, Drift, EXTRAPOLATION, EXTRAPOLATION_MONTHS, Limit};
use super::reading::{Quantity, Sample};
use crate::amount::typed::{self, AmountError};
use crate::due::Due;
use crate::formula::{Date, Variant};
use crate::specification::{self, Quality};

/// When samples are read, after the start.
#[derive(Clone, PartialEq, Debug)]
pub struct Time {
    /// In words: "start", "2 weeks".
    pub name: String,
    /// Days after the start.
    pub days: u32,
}

/// What must not be passed.
#[derive(Clone, PartialEq, Debug)]
pub struct Acceptance {
    /// Of what.
    pub quantity: Quantity,
    /// The maker's own limit.
    pub limit: Limit,
}

/// A plan.
#[derive(Clone, PartialEq, Debug)]
pub struct Plan {
    /// Trial the samples are of.
    pub trial: usize,
    /// Day of the start.
    pub start: Date,
    /// Where samples stand, in words: "4 °C", "light".
    pub conditions: Vec<String>,
    /// When they are read.
    pub times: Vec<Time>,
    /// Limits.
    pub limits: Vec<Acceptance>,
    /// Days after which a sample that was due is overdue.
    pub grace_days: u32,
}

/// Why a line of a plan is not understood.
#[derive(Clone, PartialEq, Debug, thiserror::Error)]
pub enum PlanTextError {
    /// A limit.
    #[error(
        "“{0}” is not of the form QUANTITY=LEAST..MOST, for example viscosity=4000..7000 or mass_loss=..2; quantities: {1}"
    )]
    Limit(String, String),
    /// A figure in a limit.
    #[error("“{0}”: {1}")]
    Figure(String, AmountError),
    /// A time.
    #[error("“{0}” is no time; type for example start, 3 days, 2 weeks, 6 months or 1 year")]
    Time(String),
}

impl Acceptance {
    /// A limit as typed: `viscosity=4000..7000`, `ph=4.6..5.2`, `mass_loss=..2`.
    pub fn read(text: &str) -> Result<Self, PlanTextError> {
        let wrong = || {
            let keys: Vec<&str> = Quantity::ALL
                .iter()
                .filter(|q| q.words().is_empty() && **q != Quantity::Colour)
                .map(|q| q.key())
                .collect();
            PlanTextError::Limit(text.trim().to_owned(), keys.join(", "))
        };
        let (name, range) = text.split_once('=').ok_or_else(wrong)?;
        let name = name.trim();
        let quantity = Quantity::ALL
            .into_iter()
            .filter(|q| q.words().is_empty() && *q != Quantity::Colour)
            .find(|q| q.key().eq_ignore_ascii_case(name) || q.label().eq_ignore_ascii_case(name))
            .ok_or_else(wrong)?;
        let (low, high) = range.split_once("..").ok_or_else(wrong)?;
        let end = |t: &str| {
            let t = t.trim();
            (!t.is_empty())
                .then(|| typed::value(t, &quantity.measure()))
                .transpose()
                .map_err(|e| PlanTextError::Figure(text.trim().to_owned(), e))
        };
        let limit = match (end(low)?, end(high)?) {
            (Some(l), Some(h)) if l < h => Limit::Both(l, h),
            (Some(l), None) => Limit::Lower(l),
            (None, Some(h)) => Limit::Upper(h),
            _ => return Err(wrong()),
        };
        Ok(Self { quantity, limit })
    }
    /// The limits that the specification of a variant states for what trials read.
    #[must_use]
    pub fn of_specification(variant: &Variant) -> Vec<Self> {
        specification::wanted(variant)
            .iter()
            .filter_map(|c| {
                let quantity = match c.quality {
                    Quality::Ph => Quantity::Ph,
                    Quality::Viscosity => Quantity::Viscosity,
                    Quality::Density => Quantity::Density,
                    Quality::Appearance | Quality::Odour | Quality::FilledMass | Quality::Other => {
                        return None;
                    }
                };
                let limit = match (c.low, c.high) {
                    (Some(low), Some(high)) if low < high => Limit::Both(low, high),
                    (Some(low), None) => Limit::Lower(low),
                    (None, Some(high)) => Limit::Upper(high),
                    _ => return None,
                };
                Some(Self { quantity, limit })
            })
            .collect()
    }

    /// The limit as it is said: “viscosity 3500 to 6000 mPa·s”.
    #[must_use]
    pub fn sentence(&self) -> String {
        let quantity = self.quantity;
        let words = match self.limit {
            Limit::Lower(low) => format!("at least {}", quantity.shown(low)),
            Limit::Upper(high) => format!("at most {}", quantity.shown(high)),
            Limit::Both(low, high) => quantity.range_shown([low, high]),
        };
        format!("{} {words}", quantity.label())
    }

    /// The limit in words, as it can be typed.
    #[must_use]
    pub fn words(&self) -> String {
        let figure = |v: f64| self.quantity.measure().digits_of(v);
        let (low, high) = match self.limit {
            Limit::Lower(l) => (figure(l), String::new()),
            Limit::Upper(h) => (String::new(), figure(h)),
            Limit::Both(l, h) => (figure(l), figure(h)),
        };
        format!("{}={low}..{high}", self.quantity.key())
    }
}

impl Time {
    /// A time as typed: `start`, `3 days`, `2 weeks`, `6 months`, `1 year`.
    pub fn read(text: &str) -> Result<Self, PlanTextError> {
        let text = text.trim();
        let wrong = || PlanTextError::Time(text.to_owned());
        if text.eq_ignore_ascii_case("start") {
            return Ok(Self {
                name: "start".to_owned(),
                days: 0,
            });
        }
        let (count, unit) = text.split_once(char::is_whitespace).ok_or_else(wrong)?;
        let count: u32 = count
            .parse()
            .ok()
            .filter(|n| *n <= 1000)
            .ok_or_else(wrong)?;
        let unit = unit.trim().trim_end_matches('s');
        let days = match unit {
            "day" => count,
            "week" => count * 7,
            "month" => (f64::from(count) * MONTH).round() as u32,
            "year" => count * 365,
            _ => return Err(wrong()),
        };
        let plural = if count == 1 { "" } else { "s" };
        Ok(Self {
            name: format!("{count} {unit}{plural}"),
            days,
        })
    }
}

/// Days of a month of the calendar of plans.
const MONTH: f64 = 365.0 / 12.0;

impl Plan {
    /// A plan to begin with and to edit: common practice, no source. Its limits are those of
    /// the specification, if one is given.
    #[must_use]
    pub fn proposed(trial: usize, start: Date, of: Option<&Variant>) -> Self {
        Self {
            trial,
            start,
            conditions: ["4 °C", "25 °C", "40 °C", "freeze and thaw", "light"]
                .map(str::to_owned)
                .to_vec(),
            times: [
                "start",
                "1 week",
                "2 weeks",
                "4 weeks",
                "8 weeks",
                "12 weeks",
                "6 months",
                "12 months",
            ]
            .into_iter()
            .filter_map(|t| Time::read(t).ok())
            .collect(),
            limits: of.map(Acceptance::of_specification).unwrap_or_default(),
            grace_days: 3,
        }
    }
    /// The day of a time; none beyond the calendar.
    #[must_use]
    pub fn day(&self, time: usize) -> Option<Date> {
        let days = self.times.get(time)?.days;
        self.start.checked_add(i64::from(days).days()).ok()
    }
}

impl Plan {
    /// How many samples it has.
    #[must_use]
    pub fn samples(&self) -> usize {
        self.conditions.len() * self.times.len()
    }
}

/// How a sample stands today.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum State {
    /// Was due and is not read.
    Overdue,
    /// To be read now.
    Due,
    /// Later.
    Coming,
    /// Read.
    Done,
}

impl State {
    /// The word shown for it.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Overdue => "overdue",
            Self::Due => "due",
            Self::Coming => "coming",
            Self::Done => "read",
        }
    }
}

/// A sample with its day.
#[derive(Clone, PartialEq, Debug)]
pub struct DueSample {
    /// Which.
    pub sample: Sample,
    /// Its condition.
    pub condition: String,
    /// Its time in words.
    pub time: String,
    /// Its day.
    pub day: Date,
    /// How it stands.
    pub state: State,
}

/// Every sample of every plan, by day.
#[must_use]
pub fn samples(book: &Book, today: Date) -> Vec<DueSample> {
    let mut out = Vec::new();
    for (number, plan) in book.plans.iter().enumerate() {
        for (t, time) in plan.times.iter().enumerate() {
            let Some(day) = plan.day(t) else { continue };
            let last = day.checked_add(i64::from(plan.grace_days).days()).ok();
            for (c, condition) in plan.conditions.iter().enumerate() {
                let sample = Sample {
                    plan: number,
                    condition: c,
                    time: t,
                };
                let read = book
                    .readings
                    .iter()
                    .any(|k| k.reading.sample == Some(sample) && k.set_aside.is_none());
                let state = if read {
                    State::Done
                } else if today < day {
                    State::Coming
                } else if last.is_some_and(|l| today > l) {
                    State::Overdue
                } else {
                    State::Due
                };
                out.push(DueSample {
                    sample,
                    condition: condition.clone(),
                    time: time.name.clone(),
                    day,
                    state,
                });
            }
        }
    }
    out.sort_by(|a, b| a.day.cmp(&b.day).then(a.sample.cmp(&b.sample)));
    out
}

/// What the samples of a formula's plans ask for: those that are still to be read.
#[must_use]
pub fn to_read(name: &str, book: &Book, today: Date) -> Vec<Due> {
    samples(book, today)
        .into_iter()
        .filter(|d| d.state != State::Done)
        .map(|due| {
            let s = due.sample;
            let grace = book.plans.get(s.plan).map_or(0, |p| p.grace_days);
            let until = due.day.checked_add(i64::from(grace).days());
            Due {
                identity: format!("sample {name} {} {} {}", s.plan, s.condition, s.time),
                day: due.day,
                until: until.unwrap_or(due.day),
                what: format!("{name}: read sample {}, {}", due.condition, due.time),
                more: String::new(),
            }
        })
        .collect()
}

/// A trend at one condition.
#[derive(Clone, PartialEq, Debug)]
pub struct Trend {
    /// Condition.
    pub condition: String,
    /// Quantity.
    pub quantity: Quantity,
    /// Weeks and values.
    pub points: Vec<(f64, f64)>,
    /// The line, if at least three readings bear one.
    pub drift: Option<Drift>,
    /// The maker's limit.
    pub limit: Option<Limit>,
    /// When the confidence limit of the mean meets it, in weeks.
    pub crossing: Option<Crossing>,
}

/// Days of a month in weeks.
const WEEKS_A_MONTH: f64 = 365.25 / 12.0 / 7.0;

impl Trend {
    /// Weeks up to which a time may be stated: twice the covered period, not more than twelve
    /// months beyond it (ICH Q1E).
    #[must_use]
    pub fn horizon(&self) -> f64 {
        let last = self.points.iter().map(|p| p.0).fold(0.0, f64::max);
        (last * EXTRAPOLATION).min(last + EXTRAPOLATION_MONTHS * WEEKS_A_MONTH)
    }
    /// What may be said.
    #[must_use]
    pub fn words(&self) -> String {
        let outside = match self.limit {
            Some(Limit::Lower(l)) => self.points.iter().any(|p| p.1 < l),
            Some(Limit::Upper(u)) => self.points.iter().any(|p| p.1 > u),
            Some(Limit::Both(l, u)) => self.points.iter().any(|p| p.1 < l || p.1 > u),
            None => false,
        };
        let n = self.points.len();
        if outside {
            return "a reading is outside what was set".to_owned();
        }
        let so_far = if self.limit.is_some() {
            "within what was set so far"
        } else {
            "no limit was set"
        };
        match (&self.drift, self.crossing) {
            (None, _) => format!("{so_far}; {n} readings do not bear a trend, at least 3 do"),
            (Some(_), Some(Crossing::At(weeks))) if weeks <= self.horizon() => {
                format!(
                    "{so_far}; the 95 % limit of the mean of {n} readings meets the limit after {weeks:.0} weeks"
                )
            }
            (Some(_), Some(Crossing::OutsideAtStart)) => {
                format!(
                    "{so_far}; the 95 % band of {n} readings is outside from the start: it is too wide to say more"
                )
            }
            (Some(_), Some(_)) => format!(
                "{so_far}; nothing is said beyond {:.0} weeks from {n} readings",
                self.horizon()
            ),
            (Some(_), None) => so_far.to_owned(),
        }
    }
}

/// The trends of a plan.
#[must_use]
pub fn trends(book: &Book, number: usize) -> Vec<Trend> {
    let Some(plan) = book.plans.get(number) else {
        return Vec::new();
    };
    let mut out = Vec::new();
    for (c, condition) in plan.conditions.iter().enumerate() {
        for quantity in Quantity::ALL {
            let mut points: Vec<(f64, f64)> = book
                .readings
                .iter()
                .filter(|k| k.reading.quantity == quantity && k.set_aside.is_none())
                .filter_map(|k| {
                    let sample = k
                        .reading
                        .sample
                        .filter(|s| s.plan == number && s.condition == c)?;
                    let days = plan.times.get(sample.time)?.days;
                    Some((f64::from(days) / 7.0, k.reading.mean()?))
                })
                .collect();
            if points.is_empty() {
                continue;
            }
            points.sort_by(|a, b| a.0.total_cmp(&b.0));
            let (times, values): (Vec<f64>, Vec<f64>) = points.iter().copied().unzip();
            let drift = Drift::fit(&times, &values).ok();
            let limit = plan
                .limits
                .iter()
                .find(|l| l.quantity == quantity)
                .map(|l| l.limit);
            out.push(Trend {
                condition: condition.clone(),
                quantity,
                crossing: drift.as_ref().zip(limit).map(|(d, l)| d.time_to(l)),
                points,
                drift,
                limit,
            });
        }
    }
    out
}
