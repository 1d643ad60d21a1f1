//! The maker's own plan of a stability test: samples over conditions and times. No published
//! standard fixes conditions or limits (ISO/TR 18811 says of itself that it does not).

use jiff::ToSpan as _;

use super::fit::drift::TrendLimit;
use super::reading::Quantity;
use crate::amount::typed::{self, AmountError};
use crate::formula::{Date, Variant};
use crate::specification::Quality;

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
    pub limit: TrendLimit,
}

/// A plan.
#[derive(Clone, PartialEq, Debug)]
pub struct StabilityPlan {
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
    /// A limit of a colour that is no difference.
    #[error(
        "“{0}”: of a colour only the greatest difference to the start is set, for example colour=..3"
    )]
    Colour(String),
    /// A figure in a limit.
    #[error("“{0}”: {1}")]
    Figure(String, AmountError),
    /// A time.
    #[error("“{0}” is no time; type for example start, 3 days, 2 weeks, 6 months or 1 year")]
    Time(String),
}

impl Acceptance {
    /// A limit as typed: `viscosity=4000..7000`, `ph=4.6..5.2`, `mass_loss=..2`. That of a
    /// colour is the greatest difference ΔE (CIEDE2000) to the start: `colour=..3`.
    pub fn read(text: &str) -> Result<Self, PlanTextError> {
        let wrong = || {
            let keys: Vec<&str> = Quantity::ALL
                .iter()
                .filter(|q| q.words().is_empty())
                .map(|q| q.key())
                .collect();
            PlanTextError::Limit(text.trim().to_owned(), keys.join(", "))
        };
        let (name, range) = text.split_once('=').ok_or_else(wrong)?;
        let name = name.trim();
        let quantity = Quantity::ALL
            .into_iter()
            .filter(|q| q.words().is_empty())
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
            (Some(l), Some(h)) if l < h => TrendLimit::Both(l, h),
            (Some(l), None) => TrendLimit::Lower(l),
            (None, Some(h)) => TrendLimit::Upper(h),
            _ => return Err(wrong()),
        };
        if quantity == Quantity::Colour && !matches!(limit, TrendLimit::Upper(_)) {
            return Err(PlanTextError::Colour(text.trim().to_owned()));
        }
        Ok(Self { quantity, limit })
    }
    /// The limits that the specification of a variant states for what trials read.
    #[must_use]
    pub fn of_specification(variant: &Variant) -> Vec<Self> {
        variant
            .must_measure()
            .iter()
            .filter_map(|c| {
                let quantity = match c.quality {
                    Quality::Ph => Quantity::Ph,
                    Quality::Viscosity => Quantity::Viscosity,
                    Quality::Density => Quantity::Density,
                    Quality::Appearance
                    | Quality::Odour
                    | Quality::FilledMass
                    | Quality::Yield
                    | Quality::Other => {
                        return None;
                    }
                };
                let limit = match (c.low, c.high) {
                    (Some(low), Some(high)) if low < high => TrendLimit::Both(low, high),
                    (Some(low), None) => TrendLimit::Lower(low),
                    (None, Some(high)) => TrendLimit::Upper(high),
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
            TrendLimit::Lower(low) => format!("at least {}", quantity.shown(low)),
            TrendLimit::Upper(high) => format!("at most {}", quantity.shown(high)),
            TrendLimit::Both(low, high) => quantity.range_shown([low, high]),
        };
        format!("{} {words}", quantity.label())
    }

    /// The limit in words, as it can be typed.
    #[must_use]
    pub fn words(&self) -> String {
        let figure = |v: f64| self.quantity.measure().digits_of(v);
        let (low, high) = match self.limit {
            TrendLimit::Lower(l) => (figure(l), String::new()),
            TrendLimit::Upper(h) => (String::new(), figure(h)),
            TrendLimit::Both(l, h) => (figure(l), figure(h)),
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
            "month" => (f64::from(count) * DAYS_A_MONTH).round() as u32,
            "year" => count * DAYS_A_YEAR,
            _ => return Err(wrong()),
        };
        let plural = if count == 1 { "" } else { "s" };
        Ok(Self {
            name: format!("{count} {unit}{plural}"),
            days,
        })
    }
}

/// Days of a year of a plan.
const DAYS_A_YEAR: u32 = 365;
/// Days of a month, in plans and in what trends tell: twelve are the year of a plan.
pub(super) const DAYS_A_MONTH: f64 = DAYS_A_YEAR as f64 / 12.0;

impl StabilityPlan {
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
