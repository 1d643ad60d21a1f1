//! Targets and quantities as a maker writes them, read and refused.

use std::cmp::Reverse;
use std::str::FromStr;
use std::sync::Arc;

use super::{CostBasis, Reading, Relation, Target, TargetError, TargetQuantity};
use crate::amount::measure::tidy;
use crate::amount::{AmountError, Measure, typed};
use crate::batch::mass::{read_mass, read_volume};
use crate::material::{Charge, Class};
use crate::quantity::in_millilitres;

/// Words that separate the quantity from the figure, longest first where one
/// begins with another.
const RELATIONS: [(&str, Word); 18] = [
    (">=", Word::AtLeast),
    ("=>", Word::AtLeast),
    ("≥", Word::AtLeast),
    (">", Word::AtLeast),
    ("<=", Word::AtMost),
    ("=<", Word::AtMost),
    ("≤", Word::AtMost),
    ("<", Word::AtMost),
    ("==", Word::Equal),
    (" at least ", Word::AtLeast),
    (" no less than ", Word::AtLeast),
    (" at most ", Word::AtMost),
    (" no more than ", Word::AtMost),
    (" between ", Word::Between),
    (" equals ", Word::Equal),
    (" equal to ", Word::Equal),
    (" is ", Word::Equal),
    ("=", Word::Equal),
];

/// Whether a relation stands in a text, be it at its end or beginning.
pub(super) fn says_relation(text: &str) -> bool {
    let padded = format!(" {} ", text.to_lowercase());
    RELATIONS.iter().any(|(word, _)| padded.contains(word))
}

/// A text with every name in quotes blotted out, byte for byte, so that a relation within a
/// name is none.
fn without_names(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, from)) = rest.find(['"', '“']).map(|at| rest.split_at(at)) {
        let close = if from.starts_with('"') { '"' } else { '”' };
        let mut inner = from.char_indices().skip(1);
        let Some((at, _)) = inner.find(|(_, c)| *c == close) else {
            break;
        };
        let (name, after) = from.split_at(at + close.len_utf8());
        out.push_str(before);
        out.extend(std::iter::repeat_n('_', name.len()));
        rest = after;
    }
    out.push_str(rest);
    out
}

#[derive(Clone, Copy)]
enum Word {
    AtLeast,
    AtMost,
    Equal,
    Between,
}

impl FromStr for Target {
    type Err = TargetError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let text = text.trim();
        let lower = text.to_lowercase();
        // Lower case may change the length of some letters, so places are only
        // taken from it where both texts agree.
        let searched = without_names(if lower.len() == text.len() {
            &lower
        } else {
            text
        });
        let found = RELATIONS
            .iter()
            .filter_map(|&(word, relation)| searched.find(word).map(|at| (at, word, relation)))
            .min_by_key(|&(at, word, _)| (at, Reverse(word.len())));
        let Some((at, word, relation)) = found else {
            return Err(TargetError::NoRelation(text.to_owned()));
        };
        let (what, rest) = text.split_at(at);
        let figure = rest[word.len()..].trim();
        if what.trim().is_empty() {
            return Err(TargetError::NoQuantity(text.to_owned()));
        }
        if says_relation(&without_names(what)) {
            return Err(TargetError::OutOfRange {
                text: text.to_owned(),
                why: "this says two relations; leave one out, or put the name in quotes".into(),
            });
        }
        let quantity: TargetQuantity = what.parse()?;
        let relation = relation_of(text, &quantity, relation, figure)?;
        let target = Self { quantity, relation };
        target.check(text)?;
        Ok(target)
    }
}

fn relation_of(
    text: &str,
    quantity: &TargetQuantity,
    word: Word,
    figure: &str,
) -> Result<Relation, TargetError> {
    if figure.eq_ignore_ascii_case("need") || figure.eq_ignore_ascii_case("needed") {
        return if *quantity == TargetQuantity::Hlb && matches!(word, Word::Equal) {
            Ok(Relation::Need)
        } else {
            Err(TargetError::OutOfRange {
                text: text.to_owned(),
                why: "only the HLB can be set to what the oils need: “hlb = need”".into(),
            })
        };
    }
    let number = |figure: &str| read_figure(text, quantity, figure);
    let lower = figure.to_lowercase();
    let pair = figure
        .split_once("..")
        .or_else(|| figure.split_once('…'))
        .or_else(|| figure.split_once('–'))
        .or_else(|| {
            let at = lower.find(" and ").or_else(|| lower.find(" to "))?;
            let end = at
                + if lower[at..].starts_with(" and ") {
                    5
                } else {
                    4
                };
            Some((figure.get(..at)?, figure.get(end..)?))
        });
    match (word, pair) {
        (Word::Between | Word::Equal, Some((low, high))) => {
            let high_value = number(high)?;
            // “between 4 and 6 Pa·s”: the unit behind the second figure holds for both, unless
            // the first would then be the higher one.
            let shared = Some(unit_of(high))
                .filter(|unit| !unit.is_empty() && unit_of(low).is_empty())
                .and_then(|unit| number(&format!("{} {unit}", low.trim())).ok())
                .filter(|low| *low <= high_value);
            let low_value = match shared {
                Some(low) => low,
                None => number(low)?,
            };
            let (low, high) = (low_value, high_value);
            if low > high {
                return Err(TargetError::OutOfRange {
                    text: text.to_owned(),
                    why: format!("{low} is above {high}; write the lower figure first"),
                });
            }
            Ok(Relation::Between(low, high))
        }
        (Word::Between, None) => Err(TargetError::BadFigure {
            text: text.to_owned(),
            figure: figure.to_owned(),
        }),
        (Word::AtLeast, _) => Ok(Relation::AtLeast(number(figure)?)),
        (Word::AtMost, _) => Ok(Relation::AtMost(number(figure)?)),
        (Word::Equal, None) => Ok(Relation::Equal(number(figure)?)),
    }
}

/// What stands behind the digits of a figure.
fn unit_of(figure: &str) -> &str {
    let is_figure = |c: char| {
        c.is_ascii_digit() || c.is_whitespace() || matches!(c, '.' | ',' | '+' | '-' | '−' | '\'')
    };
    figure.trim_start_matches(is_figure).trim_end()
}

fn read_figure(text: &str, quantity: &TargetQuantity, figure: &str) -> Result<f64, TargetError> {
    let figure = figure.trim();
    if let TargetQuantity::Learnt(reading) = quantity {
        return typed::value(figure, &reading.measure()).map_err(|cause| match cause {
            AmountError::Ambiguous { .. } => TargetError::Unclear {
                text: text.to_owned(),
                cause,
            },
            cause => TargetError::OutOfRange {
                text: text.to_owned(),
                why: cause.to_string(),
            },
        });
    }
    let (digits, percent) = ["%", "percent", "per cent"]
        .iter()
        .find_map(|sign| Some((figure.strip_suffix(sign)?.trim_end(), true)))
        .unwrap_or((figure, false));
    let bad = || TargetError::BadFigure {
        text: text.to_owned(),
        figure: figure.to_owned(),
    };
    let (least, most) = quantity.domain();
    // Outside its domain a figure is refused later, with the domain.
    let measure = Measure::NUMBER;
    let value = match typed::value(digits, &measure.within(least, most.min(measure.most))) {
        Err(AmountError::OutOfRange { .. }) => typed::value(digits, &measure),
        other => other,
    };
    let value = value.map_err(|cause| match cause {
        AmountError::Ambiguous { .. } => TargetError::Unclear {
            text: text.to_owned(),
            cause,
        },
        _ => bad(),
    })?;
    match quantity {
        TargetQuantity::NaturalOrigin
        | TargetQuantity::Ratio(..)
        | TargetQuantity::Preservation
            if percent =>
        {
            // Without the noise of the division, so that what is written is what was read.
            Ok(tidy(value / 100.0, 12))
        }
        _ => Ok(value),
    }
}

impl Target {
    /// Refuses figures that no formula can mean.
    fn check(&self, text: &str) -> Result<(), TargetError> {
        let out = |why: String| {
            Err(TargetError::OutOfRange {
                text: text.to_owned(),
                why,
            })
        };
        let Some((low, high)) = self.relation.limits() else {
            return Ok(());
        };
        let (least, most) = self.quantity.domain();
        let unit = self.quantity.unit();
        for figure in [low, high] {
            if figure.is_finite() && !(least..=most).contains(&figure) {
                return out(if most.is_finite() {
                    format!("{figure} is outside {least} to {most} {unit}")
                        .trim_end()
                        .to_owned()
                } else {
                    format!("{figure} must not be below {least}")
                });
            }
        }
        if let TargetQuantity::Ratio(top, bottom) = &self.quantity {
            for part in [top, bottom] {
                if part.is_ratio_like() {
                    return out(format!(
                        "{part} cannot be part of a ratio; use amounts such as anionic, oil or a name"
                    ));
                }
            }
        }
        if let Some(part) = self.quantity.not_to_be_added() {
            return out(format!(
                "{part} cannot be added to something; add percentages such as anionic, oil or a name"
            ));
        }
        Ok(())
    }
}

impl FromStr for TargetQuantity {
    type Err = TargetError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let text = text.trim();
        // A stroke with blanks around it divides; without them it may belong to a name.
        if let Some((top, bottom)) = text.split_once(" / ") {
            return Ok(Self::Ratio(
                Box::new(top.parse()?),
                Box::new(bottom.parse()?),
            ));
        }
        if text.contains(" + ") {
            let parts = text.split(" + ").map(str::parse);
            return Ok(Self::Sum(parts.collect::<Result<_, _>>()?));
        }
        if let Some((top, bottom)) = text.split_once('/')
            && let (Ok(top), Ok(bottom)) = (top.parse::<Self>(), bottom.parse::<Self>())
            && ![&top, &bottom].iter().any(|q| matches!(q, Self::Named(_)))
        {
            return Ok(Self::Ratio(Box::new(top), Box::new(bottom)));
        }
        let lower = text.to_lowercase();
        let simple = match lower.as_str() {
            "active" | "active matter" | "total active" => Some(Self::Active(None)),
            "anionic" | "anionic active" => Some(Self::Active(Some(Charge::Anionic))),
            "amphoteric" | "amphoteric active" => Some(Self::Active(Some(Charge::Amphoteric))),
            "non-ionic" | "nonionic" | "non-ionic active" | "nonionic active" => {
                Some(Self::Active(Some(Charge::NonIonic)))
            }
            "cationic" | "cationic active" => Some(Self::Active(Some(Charge::Cationic))),
            "salt" => Some(Self::Class(Class::Electrolyte)),
            "oil phase" => Some(Self::OilPhase),
            "cost" | "cost per kg" | "cost per kilogram" => Some(Self::Cost(CostBasis::Kilogram)),
            "natural origin" | "natural" => Some(Self::NaturalOrigin),
            "hlb" => Some(Self::Hlb),
            "ph" => Some(Self::Ph),
            "preservation" => Some(Self::Preservation),
            word if let Some(reading) = reading_of(word) => Some(Self::Learnt(reading)),
            _ => Class::ALL
                .into_iter()
                .find(|class| class.label() == lower)
                .map(Self::Class),
        };
        if let Some(quantity) = simple {
            return Ok(quantity);
        }
        if let Some(container) = lower.strip_prefix("cost per ") {
            return container_of(container).map(Self::Cost);
        }
        let named = |name: &str| -> Result<Arc<str>, TargetError> {
            let quote = |c: char| c.is_whitespace() || matches!(c, '"' | '“' | '”' | '\'');
            let name = name.trim_matches(quote);
            if name.is_empty() {
                Err(TargetError::NoQuantity(text.to_owned()))
            } else if name.contains(['"', '“', '”']) {
                Err(TargetError::OutOfRange {
                    text: text.to_owned(),
                    why: "quotes stand around a whole name, not within it".into(),
                })
            } else {
                Ok(name.into())
            }
        };
        // The keyword is ASCII, so its length is the same in both texts.
        if lower.starts_with("line ") {
            return named(&text["line ".len()..]).map(Self::Line);
        }
        if lower.starts_with("inci ") {
            return named(&text["inci ".len()..]).map(Self::Constituent);
        }
        named(text).map(Self::Named)
    }
}

/// A reading that is a number and can be learnt from trials.
fn reading_of(word: &str) -> Option<Reading> {
    Reading::ALL.into_iter().find(|reading| {
        let is_number = reading.words().is_empty() && *reading != Reading::Colour;
        let named = reading.label() == word || reading.key().replace('_', " ") == word;
        // The pH is computed; what trials teach of it narrows the estimate.
        is_number && *reading != Reading::Ph && named
    })
}

fn container_of(text: &str) -> Result<CostBasis, TargetError> {
    let positive = |basis, amount: f64| {
        if amount > 0.0 {
            Ok(basis)
        } else {
            Err(TargetError::BadContainer(text.to_owned()))
        }
    };
    let refused = |cause| match cause {
        AmountError::Ambiguous { .. } => TargetError::Unclear {
            text: text.to_owned(),
            cause,
        },
        _ => TargetError::BadContainer(text.to_owned()),
    };
    match read_volume(text, None) {
        Ok(volume) => {
            let ml = in_millilitres(volume);
            return positive(CostBasis::Millilitres(ml), ml);
        }
        Err(cause @ AmountError::Ambiguous { .. }) => return Err(refused(cause)),
        Err(_) => {}
    }
    let grams = read_mass(text, None).map_err(refused)?.as_grams();
    positive(CostBasis::Grams(grams), grams)
}
