//! What differs in what a product must measure, in words.

use crate::amount::measure::tidy;
use crate::specification::{Characteristic, Quality, Specification};

/// What stands where nothing is asked for.
const NOTHING: &str = "nothing";

/// Every characteristic that differs, with what it asked for before and after.
pub(super) fn words(before: &Specification, after: &Specification) -> String {
    let (a, b) = (&before.characteristics, &after.characteristics);
    let mut told: Vec<String> = a
        .iter()
        .map(|one| match find(b, one) {
            Some(other) => changed(one, other),
            None => format!("{} → {NOTHING}", asked(one)),
        })
        .filter(|words| !words.is_empty())
        .collect();
    let new = b.iter().filter(|one| find(a, one).is_none());
    told.extend(new.map(|one| format!("{}: {NOTHING} → {}", one.name(), asked_only(one))));
    if told.is_empty() && a != b {
        told.push("in another order".to_owned());
    }
    told.join("; ")
}

/// The same characteristic: of the same quality, and of other things of the same name.
fn find<'c>(among: &'c [Characteristic], one: &Characteristic) -> Option<&'c Characteristic> {
    among.iter().find(|other| {
        other.quality == one.quality
            && (one.quality != Quality::Other || other.accept == one.accept)
    })
}

fn asked(one: &Characteristic) -> String {
    match one.quality {
        Quality::Other => one.name().to_owned(),
        _ => format!("{} {}", one.name(), one.words()),
    }
    .trim_end()
    .to_owned()
}

/// What is asked for, with the method, of one that is new.
fn asked_only(one: &Characteristic) -> String {
    let words = one.words();
    let words = if words.is_empty() {
        "to be judged"
    } else {
        &words
    };
    if one.method.is_empty() {
        words.to_owned()
    } else {
        format!("{words}, by {}", one.method)
    }
}

fn changed(a: &Characteristic, b: &Characteristic) -> String {
    let mut parts = Vec::new();
    let mut both = |what: &str, a: String, b: String| {
        if a != b {
            let said = |t: String| if t.is_empty() { NOTHING.to_owned() } else { t };
            parts.push(format!("{what}{} → {}", said(a), said(b)));
        }
    };
    both("", a.words(), b.words());
    both("method ", quoted(&a.method), quoted(&b.method));
    if parts.is_empty() && a != b {
        // Finer than the figures are shown.
        for (what, a, b) in [
            ("wanted ", a.target, b.target),
            ("lowest ", a.low, b.low),
            ("highest ", a.high, b.high),
        ] {
            let exact = |v: Option<f64>| v.map_or_else(String::new, |v| tidy(v, 9).to_string());
            if a != b {
                parts.push(format!("{what}{} → {}", exact(a), exact(b)));
            }
        }
    }
    if parts.is_empty() {
        return String::new();
    }
    format!("{} {}", a.name(), parts.join(", "))
}

fn quoted(text: &str) -> String {
    if text.is_empty() {
        String::new()
    } else {
        format!("“{text}”")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_changed_is_told() {
        let viscosity = |method: &str| Characteristic {
            low: Some(100.0),
            method: method.into(),
            ..Characteristic::new(Quality::Viscosity)
        };
        let other = |words: &str, method: &str| Characteristic {
            accept: words.into(),
            method: method.into(),
            ..Characteristic::new(Quality::Other)
        };
        let of = |characteristics| Specification { characteristics };
        let told =
            |a: &[Characteristic], b: &[Characteristic]| words(&of(a.to_vec()), &of(b.to_vec()));
        assert_eq!(
            told(&[viscosity("spindle 2")], &[viscosity("spindle 3")]),
            "viscosity method “spindle 2” → “spindle 3”"
        );
        let higher = Characteristic {
            low: Some(120.0),
            ..viscosity("")
        };
        assert_eq!(
            told(&[viscosity("")], &[higher, other("foams well", "")]),
            "viscosity at least 100 mPa·s → at least 120 mPa·s; foams well: nothing → to be judged"
        );
        assert_eq!(
            told(&[other("foams well", "")], &[other("foams well", "shaken")]),
            "foams well method nothing → “shaken”"
        );
        assert_eq!(
            told(&[other("foams well", "")], &[]),
            "foams well → nothing"
        );
    }
}
