//! What is drawn of trials: readings, the curve fitted to them with its bands, residuals,
//! and what may be said of it. Readings that were set aside are shown and not fitted.

use super::book::{Book, RecordedReading, Trial};
use super::fit::drift::TrendLimit;
use super::fit::flow::{self, FlowModel};
use super::fit::linear::Prediction;
use super::fit::recovery::Recovery;
use super::fit::repeat::Grubbs;
use super::fit::salt::SaltCurve;
use super::fit::temperature::{Arrhenius, VogelFulcherTammann};
use super::fit::{FitError, Interval};
use super::reading::{Method, MethodKind, Quantity};
use super::settling::BACK;
use super::stability::trends;
use super::way::{Over, Way, apart};
use crate::amount::Measure;

/// A point of a curve.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct CurvePoint {
    /// Place.
    pub x: f64,
    /// Value of the curve.
    pub value: f64,
    /// 95 % band of the mean.
    pub band: Option<Interval>,
    /// 95 % band of a new reading.
    pub new: Option<Interval>,
}

impl CurvePoint {
    /// A place of a curve with its bands of the mean and of a new reading, where it has any.
    fn with_bands(x: f64, value: f64, bands: Option<(Interval, Interval)>) -> Self {
        Self {
            x,
            value,
            band: bands.map(|b| b.0),
            new: bands.map(|b| b.1),
        }
    }

    /// A place of a curve that was fitted to logarithms.
    fn of_logarithm(x: f64, p: &Prediction) -> Self {
        let bands = (p.band.map(f64::exp), p.new.map(f64::exp));
        Self::with_bands(x, p.mean.exp(), Some(bands))
    }
}

/// A reading in a chart.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Dot {
    /// Number of the reading.
    pub reading: usize,
    /// Place.
    pub x: f64,
    /// Value.
    pub y: f64,
    /// It was set aside, so it is not fitted.
    pub set_aside: bool,
}

/// A chart.
#[derive(Clone, PartialEq, Debug)]
pub struct Chart {
    /// Number of the trial.
    pub trial: usize,
    /// Name of the model as `trials fit` calls it; none where nothing is fitted.
    pub model: Option<&'static str>,
    /// What it shows.
    pub title: String,
    /// What stands below, with its unit.
    pub x: String,
    /// What is drawn.
    pub quantity: Quantity,
    /// Readings.
    pub dots: Vec<Dot>,
    /// The curve, from the least to the greatest place; empty if the data bear none.
    pub curve: Vec<CurvePoint>,
    /// Residual at the place of each fitted reading: in percent of the curve where the
    /// logarithm is fitted, else in the unit of the quantity.
    pub residuals: Vec<(f64, f64)>,
    /// The maker's limit.
    pub limit: Option<TrendLimit>,
    /// What may be said, sentence by sentence.
    pub words: Vec<String>,
    /// The top of a salt curve with its 95 % interval, if it is determined.
    pub optimum: Option<(f64, Interval)>,
}

/// Points of a curve.
const POINTS: u32 = 81;

/// Readings with their place.
struct Placed<'a> {
    x: f64,
    y: f64,
    kept: &'a RecordedReading,
}

/// What residuals of a fit are told in.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Scale {
    /// Percent of the curve, because the logarithm was fitted.
    Logarithm,
    /// The unit of the quantity.
    Plain,
}

/// Readings with their place; those that have none are left out.
fn placed<'a>(
    readings: impl IntoIterator<Item = &'a RecordedReading>,
    place: impl Fn(&RecordedReading) -> Option<f64>,
) -> Vec<Placed<'a>> {
    readings
        .into_iter()
        .filter_map(|kept| {
            Some(Placed {
                x: place(kept)?,
                y: kept.reading.mean()?,
                kept,
            })
        })
        .collect()
}

fn all_of(placed: &[Placed<'_>]) -> Vec<Dot> {
    placed
        .iter()
        .map(|p| Dot {
            reading: p.kept.number,
            x: p.x,
            y: p.y,
            set_aside: p.kept.set_aside.is_some(),
        })
        .collect()
}

fn fitted_of<'a, 'b>(placed: &'b [Placed<'a>]) -> Vec<&'b Placed<'a>> {
    placed
        .iter()
        .filter(|p| p.kept.set_aside.is_none())
        .collect()
}

fn columns(placed: &[&Placed<'_>]) -> (Vec<f64>, Vec<f64>) {
    placed.iter().map(|p| (p.x, p.y)).unzip()
}

fn distinct(x: &[f64]) -> usize {
    let mut sorted = x.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted.dedup_by(|a, b| (*a - *b).abs() <= 1e-9 * a.abs().max(1.0));
    sorted.len()
}

impl Chart {
    fn new(
        trial: usize,
        title: String,
        x: &str,
        quantity: Quantity,
        placed: &[Placed<'_>],
    ) -> Self {
        Self {
            trial,
            model: None,
            title,
            x: x.to_owned(),
            quantity,
            dots: all_of(placed),
            curve: Vec::new(),
            residuals: Vec::new(),
            limit: None,
            words: Vec::new(),
            optimum: None,
        }
    }

    /// A chart of the viscosity of one step of a trial.
    fn of_step(trial: &Trial, step: usize, what: &str, x: &str, placed: &[Placed<'_>]) -> Self {
        let step = trial.step_words(step);
        let title = format!("Trial {}, {step}: {what}", trial.number);
        Self::new(trial.number, title, x, Quantity::Viscosity, placed)
    }

    /// Draws a fit, its residuals, and names the one reading that stands out.
    fn draw(
        &mut self,
        model: &'static str,
        placed: &[&Placed<'_>],
        scale: Scale,
        at: impl Fn(f64) -> CurvePoint,
    ) {
        self.model = Some(model);
        let (low, high) = placed
            .iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), p| {
                (a.min(p.x), b.max(p.x))
            });
        self.curve = (0..POINTS)
            .map(|i| at(low + (high - low) * f64::from(i) / f64::from(POINTS - 1)))
            .collect();
        let residual = |p: &Placed<'_>| {
            let curve = at(p.x).value;
            match scale {
                Scale::Logarithm => 100.0 * (p.y / curve).ln(),
                Scale::Plain => p.y - curve,
            }
        };
        self.residuals = placed.iter().map(|p| (p.x, residual(p))).collect();
        let values: Vec<f64> = self.residuals.iter().map(|r| r.1).collect();
        if let Some(wild) = Grubbs::of(&values).filter(Grubbs::is_outlier)
            && let Some(p) = placed.get(wild.index)
        {
            self.words.push(format!(
                "Reading {} stands out from the curve, further than chance explains; it counts all the same. Look at it, and set it aside only with a reason.",
                p.kept.number
            ));
        }
    }

    /// Says in the title how it was read, where the same was read in several ways.
    fn say_way(&mut self, way: &Way, several: bool) {
        if several {
            self.title = format!("{} ({})", self.title, way.words());
        }
    }

    fn refused(&mut self, error: &FitError) {
        self.words.push(format!("No curve: {error}."));
    }
}

/// Every chart that the readings of a book bear.
#[must_use]
pub fn charts(book: &Book) -> Vec<Chart> {
    let mut out = Vec::new();
    for trial in &book.trials {
        additions(book, trial, Quantity::Viscosity, &mut out);
        additions(book, trial, Quantity::Ph, &mut out);
        for step in 0..=trial.additions.len() {
            flow_curves(book, trial, step, &mut out);
            temperature(book, trial, step, &mut out);
            recovery(book, trial, step, &mut out);
        }
    }
    for number in 0..book.plans.len() {
        drifts(book, number, &mut out);
    }
    out
}

/// Readings of a trial on their steps, samples of stability plans apart.
fn on_bench(
    book: &Book,
    trial: usize,
    quantity: Quantity,
) -> impl Iterator<Item = &RecordedReading> {
    book.readings.iter().filter(move |k| {
        k.trial == trial && k.reading.quantity == quantity && k.reading.sample.is_none()
    })
}

/// A quantity over the share of what was added step by step, for each way it was read in.
fn additions(book: &Book, trial: &Trial, quantity: Quantity, out: &mut Vec<Chart>) {
    let Some(first) = trial.additions.first() else {
        return;
    };
    if trial.additions.iter().any(|a| a.id != first.id) {
        return;
    }
    let name = &first.material.name;
    let share = |kept: &RecordedReading| {
        let masses = trial.masses(kept.step);
        let whole: f64 = masses.values().map(|m| m.as_grams()).sum();
        Some(masses.get(&first.id)?.as_grams() / whole * 100.0)
    };
    let groups = apart(
        book,
        Over::Composition,
        on_bench(book, trial.number, quantity),
    );
    let several = groups.len() > 1;
    for (way, alike) in groups {
        let placed = placed(alike, share);
        let places: Vec<f64> = placed.iter().map(|p| p.x).collect();
        if distinct(&places) < 3 {
            continue;
        }
        let title = format!("Trial {}: {} over {name}", trial.number, quantity.label());
        let mut chart = Chart::new(
            trial.number,
            title,
            &format!("{name}, % of the whole"),
            quantity,
            &placed,
        );
        chart.say_way(&way, several);
        if quantity == Quantity::Viscosity {
            salt(&mut chart, &placed);
        }
        out.push(chart);
    }
}

fn salt(chart: &mut Chart, placed: &[Placed<'_>]) {
    let counted = fitted_of(placed);
    let (x, y) = columns(&counted);
    let curve = match SaltCurve::fit(&x, &y) {
        Ok(curve) => curve,
        Err(error) => return chart.refused(&error),
    };
    if curve.is_determined()
        && let super::fit::salt::OptimumSet::Interval(ends) = curve.optimum_set
    {
        chart.optimum = Some((curve.optimum, ends));
        chart.words.push(format!(
            "The top is at {} % (95 %: {} to {}), with {}; beyond it more thins.",
            Measure::PERCENT_ROUGH.digits_of(curve.optimum),
            Measure::PERCENT_ROUGH.digits_of(ends[0]),
            Measure::PERCENT_ROUGH.digits_of(ends[1]),
            Quantity::Viscosity.shown(curve.top.mean.exp()),
        ));
    } else {
        chart
            .words
            .push("Where the top is cannot be told: the readings hardly bend, or it lies outside of them.".to_owned());
    }
    chart.draw("salt", &counted, Scale::Logarithm, |x| {
        CurvePoint::of_logarithm(x, &curve.at(x))
    });
}

/// Where a viscosity was read at several speeds.
fn flow_curves(book: &Book, trial: &Trial, step: usize, out: &mut Vec<Chart>) {
    let readings = on_bench(book, trial.number, Quantity::Viscosity);
    let groups = apart(book, Over::Speed, readings.filter(|k| k.step == step));
    let several = groups.len() > 1;
    for (way, alike) in groups {
        let kind = alike.first().map(|k| k.reading.method.kind());
        let rotational = kind == Some(MethodKind::Rotational);
        let placed = placed(alike, |kept| match kept.reading.method {
            Method::ShearRate(rate) => Some(rate),
            Method::Rotational { rpm, .. } => Some(rpm),
            _ => None,
        });
        let counted = fitted_of(&placed);
        let (x, y) = columns(&counted);
        if distinct(&x) < 3 {
            continue;
        }
        let below = if rotational {
            "speed, rpm"
        } else {
            "shear rate, 1/s"
        };
        let mut chart = Chart::of_step(trial, step, "flow curve", below, &placed);
        chart.say_way(&way, several);
        let (found, best) = flow::compare(&x, &y);
        match best.and_then(|b| found.iter().find(|c| c.model == b)) {
            None => chart.words.push(
                "The readings bear none of the curves: power law, Herschel-Bulkley, Cross, Carreau.".to_owned(),
            ),
            Some(curve) => {
                let figures: Vec<String> = curve
                    .se()
                    .into_iter()
                    .zip(&curve.parameters)
                    .map(|((name, se), value)| {
                        format!(
                            "{name} {} ± {}",
                            Measure::NUMBER.digits_of(*value),
                            Measure::FACTOR.digits_of(se)
                        )
                    })
                    .collect();
                chart.words.push(format!(
                    "{}, which fits best of {} kinds of curve: {}.",
                    curve.model.name(),
                    found.len(),
                    figures.join(", ")
                ));
                if rotational {
                    chart.words.push("A spindle has no one shear rate: the shape holds, the figures hold for this spindle only.".to_owned());
                }
                let key = model_key(curve.model);
                chart.draw(key, &counted, Scale::Logarithm, |x| {
                    CurvePoint::with_bands(x, curve.at(x), curve.bands_at(x))
                });
            }
        }
        out.push(chart);
    }
}

const fn model_key(model: FlowModel) -> &'static str {
    match model {
        FlowModel::PowerLaw => "power-law",
        FlowModel::HerschelBulkley => "herschel-bulkley",
        FlowModel::Cross => "cross",
        FlowModel::Carreau => "carreau",
    }
}

/// AICc of a fit to `n` logarithms with `k` parameters.
fn aicc(rss: f64, n: usize, k: usize) -> f64 {
    let (n, k) = (n as f64, k as f64);
    if n - k - 2.0 <= 0.0 {
        return f64::INFINITY;
    }
    n * (rss / n).ln() + 2.0 * (k + 1.0) + 2.0 * (k + 1.0) * (k + 2.0) / (n - k - 2.0)
}

/// Viscosity over the temperature of the sample, for each method.
fn temperature(book: &Book, trial: &Trial, step: usize, out: &mut Vec<Chart>) {
    let readings = on_bench(book, trial.number, Quantity::Viscosity);
    let groups = apart(book, Over::Temperature, readings.filter(|k| k.step == step));
    let several = groups.len() > 1;
    for (way, alike) in groups {
        let drawn = over_temperature(trial, step, alike);
        out.extend(drawn.map(|mut chart| {
            chart.say_way(&way, several);
            chart
        }));
    }
}

fn over_temperature(trial: &Trial, step: usize, alike: Vec<&RecordedReading>) -> Option<Chart> {
    let placed = placed(alike, |kept| kept.reading.celsius);
    let counted = fitted_of(&placed);
    let (x, y) = columns(&counted);
    if distinct(&x) < 3 {
        return None;
    }
    let mut chart = Chart::of_step(
        trial,
        step,
        "viscosity over temperature",
        "temperature of the sample, °C",
        &placed,
    );
    let line = match Arrhenius::fit(&x, &y) {
        Ok(line) => line,
        Err(error) => {
            chart.refused(&error);
            return Some(chart);
        }
    };
    let bent = VogelFulcherTammann::fit(&x, &y)
        .ok()
        .filter(|v| aicc(v.fit.rss, x.len(), 3) < aicc(line.fit.rss, x.len(), 2));
    if let Some(vft) = bent {
        chart
            .words
            .push("It changes more with every degree in the cold than in the warmth.".to_owned());
        chart.draw("vft", &counted, Scale::Logarithm, |x| {
            CurvePoint::with_bands(x, vft.at(x), vft.bands_at(x))
        });
    } else {
        chart.words.push(format!(
            "At 20 °C {} times as thick as at 30 °C (activation energy {} kJ/mol).",
            Measure::PERCENT_ROUGH.digits_of(line.ratio(20.0, 30.0)),
            Measure::NUMBER.digits_of((line.energy_kj_mol() * 10.0).round() / 10.0),
        ));
        chart.draw("arrhenius", &counted, Scale::Logarithm, |x| {
            CurvePoint::of_logarithm(x, &line.at(x))
        });
    }
    Some(chart)
}

/// Viscosity coming back after an addition, for each way it was read in.
fn recovery(book: &Book, trial: &Trial, step: usize, out: &mut Vec<Chart>) {
    let readings = on_bench(book, trial.number, Quantity::Viscosity);
    let groups = apart(book, Over::Time, readings.filter(|k| k.step == step));
    let several = groups.len() > 1;
    for (way, alike) in groups {
        let drawn = coming_back(trial, step, alike);
        out.extend(drawn.map(|mut chart| {
            chart.say_way(&way, several);
            chart
        }));
    }
}

fn coming_back(trial: &Trial, step: usize, alike: Vec<&RecordedReading>) -> Option<Chart> {
    let placed = placed(alike, |kept| Some(kept.reading.hours? * 60.0));
    let counted = fitted_of(&placed);
    let (x, y) = columns(&counted);
    if distinct(&x) < 4 {
        return None;
    }
    let below = "time since making or the last addition, min";
    let mut chart = Chart::of_step(trial, step, "recovery", below, &placed);
    match Recovery::fit(&x, &y) {
        Err(error) => chart.refused(&error),
        Ok(curve) => {
            let end = Quantity::Viscosity.shown(curve.end());
            chart.words.push(match curve.time_back(BACK) {
                Some(time) => format!(
                    "Thin at first, {} % of the end ({end}) back after about {}.",
                    (100.0 * BACK).round(),
                    Measure::MINUTES.shown(time.round().max(1.0))
                ),
                None => format!("It comes to {end}."),
            });
            chart.draw("recovery", &counted, Scale::Logarithm, |x| {
                CurvePoint::with_bands(x, curve.at(x), curve.bands_at(x))
            });
        }
    }
    Some(chart)
}

/// The trends of a stability plan.
fn drifts(book: &Book, number: usize, out: &mut Vec<Chart>) {
    let Some(plan) = book.plans.get(number) else {
        return;
    };
    for trend in trends(book, number) {
        let placed = placed(trend.readings.iter().copied(), |kept| {
            let time = kept.reading.sample?.time;
            Some(f64::from(plan.times.get(time)?.days) / 7.0)
        });
        let counted = fitted_of(&placed);
        let mut chart = Chart::new(
            plan.trial,
            format!(
                "Plan {}, {}: {}",
                number + 1,
                trend.condition,
                trend.quantity.label()
            ),
            "weeks since the start",
            trend.quantity,
            &placed,
        );
        chart.say_way(&trend.way, trend.one_of_several);
        chart.limit = trend.limit;
        chart.words.push(sentence(&trend.words()));
        if let Some(drift) = &trend.drift {
            chart.draw("drift", &counted, Scale::Plain, |x| {
                let p = drift.at(x);
                CurvePoint::with_bands(x, p.mean, Some((p.band, p.new)))
            });
        }
        out.push(chart);
    }
}

fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).chain(['.']).collect()
    })
}
