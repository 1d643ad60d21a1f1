//! How readings were made, as far as another way gives another figure: a viscosity of another
//! spindle, speed or temperature, or of a state that had not settled, is another viscosity.
//! Such readings are never pooled.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::book::{Book, RecordedReading, same_composition, shares};
use super::fit::Interval;
use super::reading::{Method, Quantity, Reading, time_words};
use super::settling;
use super::standing::{minds, must_be_stated};
use crate::amount::Measure;
use crate::formula::Variant;

/// Temperatures that lie within so many degrees Celsius count as one: common practice, no
/// source.
const SPAN: f64 = 2.0;
/// Of a state that had not settled, times that differ by no more than this factor count as
/// one: our assumption, no source.
const TIMES: f64 = 2.0;

/// How long a state had stood when it was read, as far as that tells figures apart.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Rest {
    /// It does not matter, or the curve goes over it.
    Any,
    /// Long enough.
    Settled,
    /// Not stated.
    Unstated,
    /// Less than it takes to settle: between so many hours since making or the last addition.
    Early(Interval),
}

/// How some readings of one quantity were made.
#[derive(Clone, PartialEq, Debug)]
pub struct Way {
    quantity: Quantity,
    over: Over,
    method: String,
    celsius: Option<Interval>,
    rest: Rest,
}

/// Whether another method gives another figure.
const fn minds_method(quantity: Quantity) -> bool {
    matches!(quantity, Quantity::Viscosity | Quantity::LogReduction)
}

/// Whether another temperature gives another figure, beyond what the instrument corrects.
const fn minds_temperature(quantity: Quantity) -> bool {
    matches!(quantity, Quantity::Viscosity | Quantity::Conductivity)
}

impl Way {
    /// How long the states had stood.
    #[must_use]
    pub const fn rest(&self) -> Rest {
        self.rest
    }
    /// Whether the states had not settled.
    #[must_use]
    pub const fn is_early(&self) -> bool {
        matches!(self.rest, Rest::Early(_))
    }
    /// Whether two ways are the same but for how long the states had stood.
    #[must_use]
    pub fn is_but_for_rest(&self, other: &Self) -> bool {
        (self.quantity, &self.method, self.celsius)
            == (other.quantity, &other.method, other.celsius)
    }
    /// In words: “spindle LV3, 12 rpm, factor 100, 20 to 21 °C, settled”; empty for a quantity
    /// that is the same by every method, at every temperature and time.
    #[must_use]
    pub fn words(&self) -> String {
        let mut parts = Vec::new();
        if minds_method(self.quantity) {
            parts.push(if self.method.is_empty() {
                "method not stated".to_owned()
            } else {
                self.method.clone()
            });
        }
        if minds_temperature(self.quantity) && self.over != Over::Temperature {
            parts.push(match self.celsius {
                None => "temperature not stated".to_owned(),
                Some([low, high]) if low == high => Measure::TEMPERATURE.shown(low),
                Some([low, high]) => format!(
                    "{} to {}",
                    Measure::TEMPERATURE.digits_of(low),
                    Measure::TEMPERATURE.shown(high)
                ),
            });
        }
        match self.rest {
            Rest::Any => {}
            Rest::Settled if !must_be_stated(self.quantity) => {}
            Rest::Settled => parts.push("settled".to_owned()),
            Rest::Unstated => parts.push("how long it stood not stated".to_owned()),
            Rest::Early([least, most]) => {
                let (least, most) = (time_words(least), time_words(most));
                let span = if least == most {
                    least
                } else {
                    format!("{least} to {most}")
                };
                parts.push(format!("stood {span}, not settled"));
            }
        }
        parts.join(", ")
    }
}

/// What a curve goes over: it does not tell the readings of the curve apart.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Over {
    /// The composition alone: method, settings, temperature and time tell them apart.
    Composition,
    /// The speed or shear rate.
    Speed,
    /// The temperature.
    Temperature,
    /// The time.
    Time,
}

fn method_of(reading: &Reading, over: Over) -> String {
    if !minds_method(reading.quantity) {
        return String::new();
    }
    match (&reading.method, over) {
        (Method::Rotational { spindle, .. }, Over::Speed) => format!("spindle {spindle}"),
        (Method::ShearRate(_), Over::Speed) => reading.method.kind().label().to_owned(),
        (Method::Direct(words), _) => words.split_whitespace().collect::<Vec<_>>().join(" "),
        (method, _) => method.words(),
    }
}

/// Readings in groups whose values, in rising order, are alike by `is_alike` with the first of
/// the group; those without a value are a group of their own, first.
fn clustered<'a>(
    mut readings: Vec<&'a RecordedReading>,
    value: impl Fn(&RecordedReading) -> Option<f64>,
    is_alike: impl Fn(f64, f64) -> bool,
) -> Vec<(Option<Interval>, Vec<&'a RecordedReading>)> {
    let place = |k: &RecordedReading| value(k).unwrap_or(f64::NEG_INFINITY);
    readings.sort_by(|a, b| place(a).total_cmp(&place(b)));
    let mut groups: Vec<(Option<Interval>, Vec<&'a RecordedReading>)> = Vec::new();
    for kept in readings {
        let here = value(kept);
        match (groups.last_mut(), here) {
            (Some((Some([low, high]), group)), Some(v)) if is_alike(*low, v) => {
                *high = v;
                group.push(kept);
            }
            (Some((None, group)), None) => group.push(kept),
            _ => groups.push((here.map(|v| [v, v]), vec![kept])),
        }
    }
    groups
}

/// Readings of one method and temperature by how long their states had stood.
fn by_rest<'a>(
    book: &Book,
    quantity: Quantity,
    alike: Vec<&'a RecordedReading>,
) -> Vec<(Rest, Vec<&'a RecordedReading>)> {
    let mut of_step: BTreeMap<(usize, usize), Vec<&'a RecordedReading>> = BTreeMap::new();
    for kept in alike {
        of_step
            .entry((kept.trial, kept.step))
            .or_default()
            .push(kept);
    }
    let (mut settled, mut unstated, mut early) = (Vec::new(), Vec::new(), Vec::new());
    for step in of_step.into_values() {
        let Some(settling) = settling::of_step(book, quantity, &step) else {
            settled.extend(step);
            continue;
        };
        for kept in step {
            match kept.reading.hours {
                None if must_be_stated(quantity) => unstated.push(kept),
                Some(hours) if hours < settling.hours => early.push(kept),
                _ => settled.push(kept),
            }
        }
    }
    let early = clustered(early, |k| k.reading.hours, |low, t| t <= TIMES * low);
    [(Rest::Settled, settled), (Rest::Unstated, unstated)]
        .into_iter()
        .chain(
            early
                .into_iter()
                .map(|(hours, group)| (Rest::Early(hours.unwrap_or_default()), group)),
        )
        .filter(|(_, group)| !group.is_empty())
        .collect()
}

/// Readings of one quantity, those made in one way together. Those of states that had settled
/// come before those that had not, and then the way of most readings.
#[must_use]
pub fn apart<'a>(
    book: &Book,
    over: Over,
    readings: impl IntoIterator<Item = &'a RecordedReading>,
) -> Vec<(Way, Vec<&'a RecordedReading>)> {
    let mut by_method: BTreeMap<String, Vec<&'a RecordedReading>> = BTreeMap::new();
    for kept in readings {
        // Case tells nothing; the words of the first are shown.
        let method = method_of(&kept.reading, over);
        let key = format!("{} {}", kept.reading.quantity.key(), method.to_lowercase());
        by_method.entry(key).or_default().push(kept);
    }
    let mut out = Vec::new();
    for alike in by_method.into_values() {
        let Some(first) = alike.first() else { continue };
        let quantity = first.reading.quantity;
        let method = method_of(&first.reading, over);
        let by_temperature = if over == Over::Temperature || !minds_temperature(quantity) {
            vec![(None, alike)]
        } else {
            clustered(alike, |k| k.reading.celsius, |low, t| t - low <= SPAN)
        };
        for (celsius, alike) in by_temperature {
            let by_rest = if over == Over::Time || !minds(quantity) {
                vec![(Rest::Any, alike)]
            } else {
                by_rest(book, quantity, alike)
            };
            out.extend(by_rest.into_iter().map(|(rest, mut group)| {
                group.sort_by_key(|k| k.number);
                let way = Way {
                    quantity,
                    over,
                    method: method.clone(),
                    celsius,
                    rest,
                };
                (way, group)
            }));
        }
    }
    out.sort_by_key(|(way, group)| (way.is_early(), Reverse(group.len())));
    out
}

impl Book {
    /// The newest reading of a quantity made on exactly this composition; one made before it
    /// had settled only where there is no other.
    #[must_use]
    pub fn measured(&self, variant: &Variant, quantity: Quantity) -> Option<&RecordedReading> {
        let wanted = shares(variant);
        let of_this = self.readings_of(quantity).filter(|(t, k)| {
            t.formula_at(k.step)
                .is_some_and(|made| same_composition(&shares(made.active()), &wanted))
        });
        let ways = apart(self, Over::Composition, of_this.map(|(_, k)| k)).into_iter();
        ways.flat_map(|(way, alike)| alike.into_iter().map(move |k| (!way.is_early(), k)))
            .max_by_key(|(late, k)| (*late, k.number))
            .map(|(_, k)| k)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kept(number: usize, rpm: f64, celsius: Option<f64>) -> RecordedReading {
        let mut reading = Reading::of(Quantity::Viscosity, vec![42.0]);
        reading.method = Method::Rotational {
            spindle: "LV3".to_owned(),
            rpm,
            factor: 100.0,
        };
        reading.celsius = celsius;
        reading.hours = Some(24.0);
        RecordedReading {
            number,
            trial: 1,
            step: 0,
            noted: (String::new(), String::new()),
            reading,
            before: Vec::new(),
            set_aside: None,
            told: false,
        }
    }

    fn numbers(groups: &[(Way, Vec<&RecordedReading>)]) -> Vec<Vec<usize>> {
        let of = |(_, g): &(Way, Vec<&RecordedReading>)| g.iter().map(|k| k.number).collect();
        groups.iter().map(of).collect()
    }

    #[test]
    fn other_speeds_and_temperatures_stand_apart() {
        let all = [
            kept(1, 12.0, Some(20.0)),
            kept(2, 12.0, Some(25.0)),
            kept(3, 12.0, Some(21.5)),
            kept(4, 12.0, None),
            kept(5, 30.0, Some(20.0)),
            kept(6, 12.0, Some(20.4)),
        ];
        let groups = apart(&Book::default(), Over::Composition, &all);
        assert_eq!(numbers(&groups), [vec![1, 3, 6], vec![4], vec![2], vec![5]]);
        assert_eq!(
            groups[0].0.words(),
            "spindle LV3, 12 rpm, factor 100, 20 to 21.5 °C, settled"
        );
        assert!(
            groups[1]
                .0
                .words()
                .ends_with("temperature not stated, settled")
        );
        assert_eq!(
            numbers(&apart(&Book::default(), Over::Speed, &all))[0],
            [1, 3, 5, 6]
        );
        assert_eq!(
            numbers(&apart(&Book::default(), Over::Temperature, &all))[0],
            [1, 2, 3, 4, 6]
        );
    }

    #[test]
    fn a_ph_is_one_quantity_by_every_meter() {
        let of = |number, words: &str| RecordedReading {
            reading: Reading {
                method: Method::Direct(words.to_owned()),
                celsius: Some(20.0 + number as f64),
                ..Reading::of(Quantity::Ph, vec![5.0])
            },
            ..kept(number, 1.0, None)
        };
        let all = [of(1, "meter A"), of(2, ""), of(9, "strips")];
        let groups = apart(&Book::default(), Over::Composition, &all);
        assert_eq!(numbers(&groups), [[1, 2, 9]]);
        assert_eq!(groups[0].0.words(), "");
    }

    #[test]
    fn what_was_read_before_it_had_settled_stands_apart() {
        let stood = |number, hours: Option<f64>| {
            let mut of = kept(number, 12.0, Some(20.0));
            of.reading.hours = hours;
            of.step = number;
            of
        };
        let all = [
            stood(1, Some(0.1)),
            stood(2, Some(24.0)),
            stood(3, Some(0.15)),
            stood(4, None),
            stood(5, Some(4.0)),
            stood(6, Some(12.0)),
            stood(7, Some(0.2)),
        ];
        let mut book = Book::default();
        let groups = apart(&book, Over::Composition, &all);
        assert_eq!(
            numbers(&groups),
            [vec![2, 6], vec![4], vec![1, 3, 7], vec![5]]
        );
        let words: Vec<String> = groups.iter().map(|(way, _)| way.words()).collect();
        assert!(words[0].ends_with("20 °C, settled"), "{words:?}");
        assert!(
            words[1].ends_with("how long it stood not stated"),
            "{words:?}"
        );
        assert!(
            words[2].ends_with("stood 6 min to 12 min, not settled"),
            "{words:?}"
        );
        // A curve over the time takes them all.
        assert_eq!(apart(&book, Over::Time, &all).len(), 1);
        // The maker knows that five minutes are enough.
        book.settling.insert(Quantity::Viscosity, 5.0 / 60.0);
        let groups = apart(&book, Over::Composition, &all);
        assert_eq!(numbers(&groups), [vec![1, 2, 3, 5, 6, 7], vec![4]]);
    }
}
