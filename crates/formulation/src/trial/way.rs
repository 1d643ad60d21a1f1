//! How readings were made, as far as another way gives another figure: a viscosity of another
//! spindle, speed or temperature is another viscosity. Such readings are never pooled.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::book::Kept;
use super::fit::Interval;
use super::reading::{Method, Quantity, Reading};
use crate::amount::Measure;

/// Temperatures that lie within so many degrees Celsius count as one: common practice, no
/// source.
const SPAN: f64 = 2.0;

/// How some readings of one quantity were made.
#[derive(Clone, PartialEq, Debug)]
pub struct Way {
    quantity: Quantity,
    method: String,
    celsius: Option<Interval>,
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
    /// The method in words; empty where none was stated or it does not matter.
    #[must_use]
    pub fn method(&self) -> &str {
        &self.method
    }
    /// In words: “spindle LV3, 12 rpm, factor 100, 20 to 21 °C”; empty for a quantity that is
    /// the same by every method and at every temperature.
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
        if minds_temperature(self.quantity) {
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
        parts.join(", ")
    }
}

/// What of the way a reading was made tells figures apart.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Told {
    /// Method, settings and temperature.
    Wholly,
    /// All but the speed, over which a flow curve goes.
    ButForSpeed,
    /// All but the temperature, over which a curve goes.
    ButForTemperature,
}

fn method_of(reading: &Reading, told: Told) -> String {
    if !minds_method(reading.quantity) {
        return String::new();
    }
    match (&reading.method, told) {
        (Method::Rotational { spindle, .. }, Told::ButForSpeed) => format!("spindle {spindle}"),
        (Method::ShearRate(_), Told::ButForSpeed) => reading.method.kind().label().to_owned(),
        (Method::Direct(words), _) => words.split_whitespace().collect::<Vec<_>>().join(" "),
        (method, _) => method.words(),
    }
}

/// Readings of one quantity, those made in one way together; the way of most readings first.
fn parted<'a>(
    readings: impl IntoIterator<Item = &'a Kept>,
    told: Told,
) -> Vec<(Way, Vec<&'a Kept>)> {
    let mut by_method: BTreeMap<String, Vec<&'a Kept>> = BTreeMap::new();
    for kept in readings {
        // Case tells nothing; the words of the first are shown.
        let method = method_of(&kept.reading, told);
        let key = format!("{} {}", kept.reading.quantity.key(), method.to_lowercase());
        by_method.entry(key).or_default().push(kept);
    }
    let mut out = Vec::new();
    for mut alike in by_method.into_values() {
        let Some(first) = alike.first() else { continue };
        let quantity = first.reading.quantity;
        let method = method_of(&first.reading, told);
        if told == Told::ButForTemperature || !minds_temperature(quantity) {
            let way = Way {
                quantity,
                method,
                celsius: None,
            };
            out.push((way, alike));
            continue;
        }
        let degrees = |k: &Kept| k.reading.celsius;
        alike.sort_by(|a, b| {
            let (a, b) = (degrees(a), degrees(b));
            a.unwrap_or(f64::NEG_INFINITY)
                .total_cmp(&b.unwrap_or(f64::NEG_INFINITY))
        });
        let mut groups: Vec<(Option<Interval>, Vec<&'a Kept>)> = Vec::new();
        for kept in alike {
            let here = degrees(kept);
            match (groups.last_mut(), here) {
                (Some((Some([low, high]), group)), Some(t)) if t - *low <= SPAN => {
                    *high = t;
                    group.push(kept);
                }
                (Some((None, group)), None) => group.push(kept),
                _ => groups.push((here.map(|t| [t, t]), vec![kept])),
            }
        }
        out.extend(groups.into_iter().map(|(celsius, mut group)| {
            group.sort_by_key(|k| k.number);
            let way = Way {
                quantity,
                method: method.clone(),
                celsius,
            };
            (way, group)
        }));
    }
    out.sort_by_key(|(_, group)| Reverse(group.len()));
    out
}

/// Readings of one quantity, those made in one way together; the way of most readings first.
#[must_use]
pub fn apart<'a>(readings: impl IntoIterator<Item = &'a Kept>) -> Vec<(Way, Vec<&'a Kept>)> {
    parted(readings, Told::Wholly)
}

/// As [`apart`], for a curve over the speed or shear rate.
#[must_use]
pub fn apart_but_for_speed<'a>(
    readings: impl IntoIterator<Item = &'a Kept>,
) -> Vec<(Way, Vec<&'a Kept>)> {
    parted(readings, Told::ButForSpeed)
}

/// As [`apart`], for a curve over the temperature.
#[must_use]
pub fn apart_but_for_temperature<'a>(
    readings: impl IntoIterator<Item = &'a Kept>,
) -> Vec<(Way, Vec<&'a Kept>)> {
    parted(readings, Told::ButForTemperature)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kept(number: usize, rpm: f64, celsius: Option<f64>) -> Kept {
        let mut reading = Reading::of(Quantity::Viscosity, vec![42.0]);
        reading.method = Method::Rotational {
            spindle: "LV3".to_owned(),
            rpm,
            factor: 100.0,
        };
        reading.celsius = celsius;
        Kept {
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

    fn numbers(groups: &[(Way, Vec<&Kept>)]) -> Vec<Vec<usize>> {
        let of = |(_, g): &(Way, Vec<&Kept>)| g.iter().map(|k| k.number).collect();
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
        let groups = apart(&all);
        assert_eq!(numbers(&groups), [vec![1, 3, 6], vec![4], vec![2], vec![5]]);
        assert_eq!(
            groups[0].0.words(),
            "spindle LV3, 12 rpm, factor 100, 20 to 21.5 °C"
        );
        assert!(groups[1].0.words().ends_with("temperature not stated"));
        assert_eq!(numbers(&apart_but_for_speed(&all))[0], [1, 3, 5, 6]);
        assert_eq!(
            numbers(&apart_but_for_temperature(&all))[0],
            [1, 2, 3, 4, 6]
        );
    }

    #[test]
    fn a_ph_is_one_quantity_by_every_meter() {
        let of = |number, words: &str| Kept {
            reading: Reading {
                method: Method::Direct(words.to_owned()),
                celsius: Some(20.0 + number as f64),
                ..Reading::of(Quantity::Ph, vec![5.0])
            },
            ..kept(number, 1.0, None)
        };
        let all = [of(1, "meter A"), of(2, ""), of(9, "strips")];
        let groups = apart(&all);
        assert_eq!(numbers(&groups), [[1, 2, 9]]);
        assert_eq!(groups[0].0.words(), "");
    }
}
