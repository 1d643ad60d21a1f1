//! A stability test as it stands: samples that are due, what was read of them, where a
//! quantity goes.

use std::collections::BTreeMap;

use jiff::ToSpan as _;

use super::book::{Book, RecordedReading, value_words};
use super::fit::drift::{
    Batches, Crossing, Drift, EXTRAPOLATION, EXTRAPOLATION_MONTHS, Pooling, TrendLimit,
};
use super::reading::{Quantity, Sample};
use super::stability_plan::DAYS_A_MONTH;
pub use super::stability_plan::{Acceptance, PlanTextError, StabilityPlan, Time};
use super::way::{Over, Way, apart};
use crate::due::Due;
use crate::formula::Date;

impl StabilityPlan {
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

/// A trend at one condition of what was read in one way.
#[derive(Clone, PartialEq, Debug)]
pub struct Trend<'a> {
    /// Condition.
    pub condition: String,
    /// Quantity.
    pub quantity: Quantity,
    /// How it was read.
    pub way: Way,
    /// Whether the same was read in other ways too, which have trends of their own.
    pub one_of_several: bool,
    /// The readings, those set aside included.
    pub readings: Vec<&'a RecordedReading>,
    /// Weeks and values.
    pub points: Vec<(f64, f64)>,
    /// The line, if at least three readings bear one.
    pub drift: Option<Drift>,
    /// The maker's limit.
    pub limit: Option<TrendLimit>,
    /// When the confidence limit of the mean meets it, in weeks.
    pub crossing: Option<Crossing>,
}

/// Weeks of a month.
const WEEKS_A_MONTH: f64 = DAYS_A_MONTH / 7.0;

impl Trend<'_> {
    /// What it is of: quantity, and how it was read if it was in several ways.
    #[must_use]
    pub fn title(&self) -> String {
        let label = self.quantity.label();
        if self.one_of_several {
            format!("{label} ({})", self.way.words())
        } else {
            label.to_owned()
        }
    }
    /// Weeks up to which a time may be stated: twice the covered period, not more than twelve
    /// months beyond it (ICH Q1E).
    #[must_use]
    pub fn horizon(&self) -> f64 {
        horizon(self.points.iter().map(|p| p.0).fold(0.0, f64::max))
    }
    /// What may be said.
    #[must_use]
    pub fn words(&self) -> String {
        let outside = match self.limit {
            Some(TrendLimit::Lower(l)) => self.points.iter().any(|p| p.1 < l),
            Some(TrendLimit::Upper(u)) => self.points.iter().any(|p| p.1 > u),
            Some(TrendLimit::Both(l, u)) => self.points.iter().any(|p| p.1 < l || p.1 > u),
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
        if self.quantity == Quantity::Colour {
            let most = self.points.iter().map(|p| p.1).fold(0.0, f64::max);
            return format!("{so_far}; up to ΔE {most:.1} from the start (CIEDE2000)");
        }
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

/// The trends of a plan: for each condition and quantity, what was read in different ways
/// apart.
#[must_use]
pub fn trends(book: &Book, number: usize) -> Vec<Trend<'_>> {
    let Some(plan) = book.plans.get(number) else {
        return Vec::new();
    };
    let mut out = Vec::new();
    for (c, condition) in plan.conditions.iter().enumerate() {
        for quantity in Quantity::ALL {
            let readings = book.readings.iter().filter(|k| {
                let its = |s: Sample| s.plan == number && s.condition == c;
                k.reading.quantity == quantity && k.reading.sample.is_some_and(its)
            });
            let groups = apart(book, Over::Time, readings);
            let one_of_several = groups.len() > 1;
            for (way, readings) in groups {
                let mut points: Vec<(f64, f64)> = readings
                    .iter()
                    .filter(|k| k.set_aside.is_none())
                    .filter_map(|k| {
                        let days = plan.times.get(k.reading.sample?.time)?.days;
                        let value = match quantity {
                            Quantity::Colour => book.colour_change(k)?.0,
                            _ => k.reading.mean()?,
                        };
                        Some((f64::from(days) / 7.0, value))
                    })
                    .collect();
                if points.is_empty() {
                    continue;
                }
                points.sort_by(|a, b| a.0.total_cmp(&b.0));
                let (times, values): (Vec<f64>, Vec<f64>) = points.iter().copied().unzip();
                // How far a colour is from the start is no straight line.
                let drift = Drift::fit(&times, &values).ok();
                let drift = drift.filter(|_| quantity != Quantity::Colour);
                let limit = plan.limits.iter().find(|l| l.quantity == quantity);
                let limit = limit.map(|l| l.limit);
                out.push(Trend {
                    condition: condition.clone(),
                    quantity,
                    way,
                    one_of_several,
                    readings,
                    crossing: drift.as_ref().zip(limit).map(|(d, l)| d.time_to_limit(l)),
                    points,
                    drift,
                    limit,
                });
            }
        }
    }
    out
}

/// What was judged in words on the samples of a plan, over time: “clarity at 40 °C: clear
/// (start), cloudy (8 weeks)”.
#[must_use]
pub fn judged(book: &Book, number: usize) -> Vec<String> {
    let Some(plan) = book.plans.get(number) else {
        return Vec::new();
    };
    let mut out = Vec::new();
    for (c, condition) in plan.conditions.iter().enumerate() {
        for quantity in Quantity::ALL.into_iter().filter(|q| !q.words().is_empty()) {
            let mut words: Vec<(usize, String)> = book
                .readings
                .iter()
                .filter(|k| k.reading.quantity == quantity && k.set_aside.is_none())
                .filter_map(|k| {
                    let sample = k.reading.sample;
                    let sample = sample.filter(|s| s.plan == number && s.condition == c)?;
                    let time = &plan.times.get(sample.time)?.name;
                    Some((sample.time, format!("{} ({time})", value_words(&k.reading))))
                })
                .collect();
            if words.is_empty() {
                continue;
            }
            words.sort_by_key(|(time, _)| *time);
            let words: Vec<String> = words.into_iter().map(|(_, w)| w).collect();
            out.push(format!(
                "{} at {condition}: {}",
                quantity.label(),
                words.join(", ")
            ));
        }
    }
    out
}

/// What the plans of several trials say together of one quantity at one condition, after the
/// approach of ICH Q1E: whether their lines are alike is tested at a probability of 0.25.
#[derive(Clone, PartialEq, Debug)]
pub struct Together {
    /// Condition, as the first plan writes it.
    pub condition: String,
    /// Quantity.
    pub quantity: Quantity,
    /// Numbers of the plans, from 1.
    pub plans: Vec<usize>,
    /// The lines.
    pub batches: Batches,
    /// The limit, where all plans set the same.
    pub limit: Option<TrendLimit>,
    /// Weeks that all plans cover.
    pub covered: f64,
}

impl Together {
    /// What may be said.
    #[must_use]
    pub fn words(&self) -> String {
        let plans: Vec<String> = self.plans.iter().map(ToString::to_string).collect();
        let alike = match self.batches.pooling {
            Pooling::Common => "alike, so one line is laid through all",
            Pooling::OwnIntercepts => "alike in slope and not in height",
            Pooling::OwnLines => "not alike, so each has a line of its own",
        };
        let head = format!(
            "{} at {}, plans {}: {alike} (tested at 0.25, ICH Q1E: slopes p {:.2}, heights p {:.2})",
            self.quantity.label(),
            self.condition,
            plans.join(" and "),
            self.batches.slopes.1,
            self.batches.intercepts.1,
        );
        let Some(limit) = self.limit else {
            return format!("{head}; no limit was set that is the same in all");
        };
        let horizon = horizon(self.covered);
        match self.batches.time_to_limit(limit, limit.tail()) {
            Crossing::At(weeks) if weeks <= horizon => format!(
                "{head}; the 95 % limit of the mean meets the limit after {weeks:.0} weeks at the earliest"
            ),
            Crossing::OutsideAtStart => {
                format!(
                    "{head}; the 95 % band is outside from the start: it is too wide to say more"
                )
            }
            _ => format!("{head}; nothing is said beyond {horizon:.0} weeks"),
        }
    }
}

/// Everything that several plans read alike: quantity, condition and way.
#[must_use]
pub fn together(book: &Book) -> Vec<Together> {
    let mut groups: BTreeMap<(String, Quantity), Vec<&RecordedReading>> = BTreeMap::new();
    for kept in book.readings.iter().filter(|k| k.set_aside.is_none()) {
        let quantity = kept.reading.quantity;
        let condition = kept.reading.sample.and_then(|s| {
            let plan = book.plans.get(s.plan)?;
            Some(plan.conditions.get(s.condition)?.trim().to_lowercase())
        });
        // A difference of colours is no straight line.
        if let Some(condition) = condition
            && quantity != Quantity::Colour
        {
            groups.entry((condition, quantity)).or_default().push(kept);
        }
    }
    let mut out = Vec::new();
    for ((_, quantity), readings) in groups {
        for (_, alike) in apart(book, Over::Time, readings) {
            out.extend(of_several(book, quantity, &alike));
        }
    }
    out
}

fn of_several(book: &Book, quantity: Quantity, alike: &[&RecordedReading]) -> Option<Together> {
    let mut rows: Vec<(usize, f64, f64)> = Vec::new();
    let mut condition = None;
    for kept in alike {
        let sample = kept.reading.sample?;
        let plan = book.plans.get(sample.plan)?;
        condition = condition.or_else(|| plan.conditions.get(sample.condition).cloned());
        let (Some(time), Some(value)) = (plan.times.get(sample.time), kept.reading.mean()) else {
            continue;
        };
        rows.push((sample.plan, f64::from(time.days) / 7.0, value));
    }
    let mut plans: Vec<usize> = rows.iter().map(|r| r.0).collect();
    plans.sort_unstable();
    plans.dedup();
    if plans.len() < 2 {
        return None;
    }
    let names: Vec<String> = rows.iter().map(|r| format!("plan {}", r.0 + 1)).collect();
    let times: Vec<f64> = rows.iter().map(|r| r.1).collect();
    let values: Vec<f64> = rows.iter().map(|r| r.2).collect();
    let batches = Batches::fit(&names, &times, &values).ok()?;
    let limit_of = |plan: &usize| {
        let limits = &book.plans.get(*plan)?.limits;
        Some(limits.iter().find(|l| l.quantity == quantity)?.limit)
    };
    let limit = plans.first().and_then(limit_of);
    let last_of = |plan: &usize| {
        let its = rows.iter().filter(|r| r.0 == *plan);
        its.map(|r| r.1).fold(0.0, f64::max)
    };
    Some(Together {
        condition: condition?,
        quantity,
        limit: limit.filter(|l| plans.iter().all(|p| limit_of(p) == Some(*l))),
        covered: plans.iter().map(last_of).fold(f64::INFINITY, f64::min),
        plans: plans.into_iter().map(|p| p + 1).collect(),
        batches,
    })
}

/// Weeks up to which a time may be stated from so many covered: twice the covered period, not
/// more than twelve months beyond it (ICH Q1E).
fn horizon(covered: f64) -> f64 {
    (covered * EXTRAPOLATION).min(covered + EXTRAPOLATION_MONTHS * WEEKS_A_MONTH)
}
