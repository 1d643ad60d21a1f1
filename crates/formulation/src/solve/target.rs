//! Targets: what a formula must reach, and how a maker writes them down.
//!
//! A target is one line of plain words: *what*, *relation*, *figure*.
//!
//! ```text
//! active >= 14            anionic / amphoteric <= 3       hlb = need
//! salt at most 2          water between 70 and 80         ph = 5.2
//! cost <= 2.1             cost per 250 ml <= 0.6          natural origin >= 0.9
//! glycerin = 5            line Coco betaine <= 20         oil phase >= 15
//! glycerin + propanediol >= 4                             viscosity between 4000 and 6000
//! ```
//!
//! Relations: `>=` or `at least`, `<=` or `at most`, `=` or `is`, and
//! `between A and B` or `A..B`; `>` and `<` mean the same as `>=` and `<=`. A decimal
//! comma is understood, a closing percent sign is allowed. A name that is none of the words of [`Quantity`] means an
//! ingredient of that INCI name or, failing that, a line of that name. Readings that trials can
//! teach (viscosity, foam height, density and others) may carry their unit.

use std::fmt;
use std::str::FromStr;
use std::sync::Arc;

use crate::amount::measure::tidy;
use crate::amount::{AmountError, Digits, Measure, typed};
use crate::batch::mass::{read_mass, read_volume};
use crate::formula::Variant;
use crate::material::{Charge, Class};
use crate::quantity::in_millilitres;
use crate::trial::fit::drift::Limit;
use crate::trial::learn::Lessons;
use crate::trial::reading::Quantity as Reading;
use crate::trial::stability::Acceptance;

/// What a target speaks of.
#[derive(Clone, PartialEq, Debug)]
pub enum Quantity {
    /// Surfactant active matter, of one charge class or all, % w/w.
    Active(Option<Charge>),
    /// All constituents of a class, % w/w.
    Class(Class),
    /// All lines in phases of the oil kind, % w/w as weighed.
    OilPhase,
    /// A constituent by INCI name, over all lines that bring it in, % w/w.
    Constituent(Arc<str>),
    /// A raw material by name, % w/w as weighed.
    Line(Arc<str>),
    /// An ingredient if there is one of that name, else a line.
    Named(Arc<str>),
    /// Price of the raw materials, in the currency of the shelf.
    Cost(Basis),
    /// Natural origin index by ISO 16128 with formulation water, 0 to 1.
    NaturalOrigin,
    /// HLB of the emulsifiers, by weight.
    Hlb,
    /// pH of the finished product.
    Ph,
    /// Least ratio, over all preservatives, of the amount there is to the amount
    /// needed at the formula's pH; 1 is just enough.
    Preservation,
    /// What trials of the formula have taught, such as its viscosity, in the unit of the
    /// reading.
    Learnt(Reading),
    /// Percentages added up.
    Sum(Vec<Self>),
    /// One quantity divided by another.
    Ratio(Box<Self>, Box<Self>),
}

/// What a cost is for.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Basis {
    /// One kilogram.
    Kilogram,
    /// A container of so many grams.
    Grams(f64),
    /// A container of so many millilitres; the density of the formula counts.
    Millilitres(f64),
}

/// How a quantity must stand to its figure.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Relation {
    /// Not less than.
    AtLeast(f64),
    /// Not more than.
    AtMost(f64),
    /// Equal to.
    Equal(f64),
    /// Not less than the first and not more than the second.
    Between(f64, f64),
    /// Equal to what the oils need; only for HLB.
    Need,
}

impl Relation {
    /// The figures as a lower and an upper limit; none for [`Self::Need`].
    pub const fn limits(self) -> Option<(f64, f64)> {
        match self {
            Self::AtLeast(low) => Some((low, f64::INFINITY)),
            Self::AtMost(high) => Some((f64::NEG_INFINITY, high)),
            Self::Equal(value) => Some((value, value)),
            Self::Between(low, high) => Some((low, high)),
            Self::Need => None,
        }
    }
}

/// One demand of the maker.
#[derive(Clone, PartialEq, Debug)]
pub struct Target {
    /// What it speaks of.
    pub quantity: Quantity,
    /// How it must stand.
    pub relation: Relation,
}

/// Why a text is not a target.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum TargetError {
    /// No relation found.
    #[error(
        "“{0}” says no relation; write for example “active >= 14”, “salt at most 2” or “water between 70 and 80”"
    )]
    NoRelation(String),
    /// Nothing before the relation.
    #[error(
        "“{0}” does not say what is meant; put a name before the relation, for example “active >= 14”"
    )]
    NoQuantity(String),
    /// The figure cannot be read.
    #[error("“{figure}” in “{text}” is not a number")]
    BadFigure {
        /// The whole text.
        text: String,
        /// What stands where a number is needed.
        figure: String,
    },
    /// The figure makes no sense for the quantity.
    #[error("“{text}”: {why}")]
    OutOfRange {
        /// The whole text.
        text: String,
        /// What is wrong.
        why: String,
    },
    /// The container of a cost cannot be read.
    #[error("“{0}” is not a container; write for example “cost per 250 ml” or “cost per 200 g”")]
    BadContainer(String),
    /// A figure can be read in two ways.
    #[error("in “{text}”: {cause}")]
    Unclear {
        /// What was read.
        text: String,
        /// The two readings.
        cause: AmountError,
    },
}

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
fn says_relation(text: &str) -> bool {
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
            .min_by_key(|&(at, word, _)| (at, std::cmp::Reverse(word.len())));
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
        let quantity: Quantity = what.parse()?;
        let relation = relation_of(text, &quantity, relation, figure)?;
        let target = Self { quantity, relation };
        target.check(text)?;
        Ok(target)
    }
}

fn relation_of(
    text: &str,
    quantity: &Quantity,
    word: Word,
    figure: &str,
) -> Result<Relation, TargetError> {
    if figure.eq_ignore_ascii_case("need") || figure.eq_ignore_ascii_case("needed") {
        return if *quantity == Quantity::Hlb && matches!(word, Word::Equal) {
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

fn read_figure(text: &str, quantity: &Quantity, figure: &str) -> Result<f64, TargetError> {
    let figure = figure.trim();
    if let Quantity::Learnt(reading) = quantity {
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
        Quantity::NaturalOrigin | Quantity::Ratio(..) | Quantity::Preservation if percent => {
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
        if let Quantity::Ratio(top, bottom) = &self.quantity {
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

impl Target {
    /// What the specification of a variant asks for, as far as Aim can reach it: the pH, and
    /// the readings that trials have taught.
    pub fn of_specification(variant: &Variant, lessons: &Lessons) -> Vec<Self> {
        Acceptance::of_specification(variant)
            .into_iter()
            .filter_map(|acceptance| {
                let quantity = match acceptance.quantity {
                    Reading::Ph => Quantity::Ph,
                    reading => {
                        lessons.on(reading)?;
                        Quantity::Learnt(reading)
                    }
                };
                let relation = match acceptance.limit {
                    Limit::Lower(low) => Relation::AtLeast(low),
                    Limit::Upper(high) => Relation::AtMost(high),
                    Limit::Both(low, high) => Relation::Between(low, high),
                };
                Some(Self { quantity, relation })
            })
            .collect()
    }
}

impl Quantity {
    /// Unit, range and digits of its figures.
    pub const fn measure(&self) -> Measure {
        let (unit, most, digits) = match self {
            Self::Learnt(reading) => return reading.measure(),
            Self::Active(_)
            | Self::Class(_)
            | Self::OilPhase
            | Self::Constituent(_)
            | Self::Line(_)
            | Self::Named(_)
            | Self::Sum(_) => ("%", 100.0, 2),
            Self::Cost(_) | Self::Ratio(..) | Self::Preservation => ("", f64::INFINITY, 2),
            Self::NaturalOrigin => ("", 1.0, 3),
            Self::Hlb => ("", 40.0, 2),
            Self::Ph => ("", 14.0, 2),
        };
        Measure {
            unit,
            most,
            least: 0.0,
            digits: Digits::UpTo(digits),
            ..Measure::NUMBER
        }
    }

    /// The legal range of its figures.
    pub const fn domain(&self) -> (f64, f64) {
        let measure = self.measure();
        (measure.least, measure.most)
    }

    /// Whether its figures are percentages of the formula.
    const fn is_percentage(&self) -> bool {
        matches!(
            self,
            Self::Active(_)
                | Self::Class(_)
                | Self::OilPhase
                | Self::Constituent(_)
                | Self::Line(_)
                | Self::Named(_)
                | Self::Sum(_)
        )
    }

    /// Whether it is not a plain amount, so that it cannot stand in a ratio.
    const fn is_ratio_like(&self) -> bool {
        matches!(
            self,
            Self::Ratio(..) | Self::Hlb | Self::Ph | Self::Preservation | Self::Learnt(_)
        )
    }

    /// A part of a sum in it that is no percentage.
    fn not_to_be_added(&self) -> Option<&Self> {
        match self {
            Self::Sum(parts) => parts.iter().find(|part| !part.is_percentage()),
            Self::Ratio(top, bottom) => top.not_to_be_added().or_else(|| bottom.not_to_be_added()),
            _ => None,
        }
    }

    /// The unit of its figures; empty for a bare number.
    pub const fn unit(&self) -> &'static str {
        self.measure().unit
    }

    /// Digits after the point worth showing.
    pub const fn digits(&self) -> usize {
        match self.measure().digits {
            Digits::Fixed(digits) | Digits::UpTo(digits) => digits,
            Digits::Significant(_) => 0,
        }
    }

    /// A figure of this quantity with its unit, without trailing zeros.
    pub fn figure(&self, value: f64) -> String {
        self.measure().shown(value)
    }
}

impl FromStr for Quantity {
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
            "cost" | "cost per kg" | "cost per kilogram" => Some(Self::Cost(Basis::Kilogram)),
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

fn container_of(text: &str) -> Result<Basis, TargetError> {
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
            return positive(Basis::Millilitres(ml), ml);
        }
        Err(cause @ AmountError::Ambiguous { .. }) => return Err(refused(cause)),
        Err(_) => {}
    }
    let grams = read_mass(text, None).map_err(refused)?.as_grams();
    positive(Basis::Grams(grams), grams)
}

impl fmt::Display for Quantity {
    /// The words the grammar reads.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Active(None) => f.write_str("active"),
            Self::Active(Some(charge)) => f.write_str(charge.label()),
            Self::Class(class) => f.write_str(class.label()),
            Self::OilPhase => f.write_str("oil phase"),
            // Quoted where a bare name would be read otherwise: a relation within it, or
            // “water”, which is a class.
            Self::Constituent(name) if says_relation(name) => write!(f, "inci \"{name}\""),
            Self::Line(name) if says_relation(name) => write!(f, "line \"{name}\""),
            Self::Constituent(name) => write!(f, "inci {name}"),
            Self::Line(name) => write!(f, "line {name}"),
            Self::Named(name) if !says_relation(name) && name.parse().as_ref() == Ok(self) => {
                f.write_str(name)
            }
            Self::Named(name) => write!(f, "\"{name}\""),
            Self::Cost(Basis::Kilogram) => f.write_str("cost per kg"),
            Self::Cost(Basis::Grams(g)) => write!(f, "cost per {g} g"),
            Self::Cost(Basis::Millilitres(ml)) => write!(f, "cost per {ml} ml"),
            Self::NaturalOrigin => f.write_str("natural origin"),
            Self::Hlb => f.write_str("hlb"),
            Self::Ph => f.write_str("ph"),
            Self::Preservation => f.write_str("preservation"),
            Self::Learnt(reading) => f.write_str(reading.label()),
            Self::Sum(parts) => {
                let parts: Vec<String> = parts.iter().map(ToString::to_string).collect();
                f.write_str(&parts.join(" + "))
            }
            Self::Ratio(top, bottom) => write!(f, "{top} / {bottom}"),
        }
    }
}

impl fmt::Display for Target {
    /// The words the grammar reads; figures are shown in full.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let quantity = &self.quantity;
        match self.relation {
            Relation::AtLeast(low) => write!(f, "{quantity} >= {low}"),
            Relation::AtMost(high) => write!(f, "{quantity} <= {high}"),
            Relation::Equal(value) => write!(f, "{quantity} = {value}"),
            Relation::Between(low, high) => write!(f, "{quantity} = {low}..{high}"),
            Relation::Need => write!(f, "{quantity} = need"),
        }
    }
}

impl Quantity {
    /// The name in a sentence.
    pub fn words(&self) -> String {
        match self {
            Self::Active(None) => "active matter".into(),
            Self::Active(Some(charge)) => format!("{} active", charge.label()),
            Self::Constituent(name) | Self::Line(name) | Self::Named(name) => name.to_string(),
            Self::Hlb => "HLB".into(),
            Self::Ph => "pH".into(),
            Self::NaturalOrigin => "natural origin index".into(),
            Self::Sum(parts) => {
                let parts: Vec<String> = parts.iter().map(Self::words).collect();
                parts.join(" + ")
            }
            Self::Ratio(top, bottom) => format!("{} to {}", top.words(), bottom.words()),
            other => other.to_string(),
        }
    }
}

impl Target {
    /// The demand in a sentence, for example “at least 14 % active matter”.
    pub fn words(&self) -> String {
        let name = self.quantity.words();
        let figure = |value| self.quantity.figure(value);
        // A percentage stands before its name, any other figure behind it.
        let percent = self.quantity.is_percentage();
        let place = |relation: &str, figure: String| {
            if percent {
                format!("{relation} {figure} {name}").trim().to_owned()
            } else {
                format!("{name} {relation} {figure}").replace("  ", " ")
            }
        };
        match self.relation {
            Relation::AtLeast(low) => place("at least", figure(low)),
            Relation::AtMost(high) => place("at most", figure(high)),
            Relation::Equal(value) => place(if percent { "exactly" } else { "of" }, figure(value)),
            Relation::Between(low, high) => {
                place("between", format!("{} and {}", figure(low), figure(high)))
            }
            Relation::Need => format!("{name} equal to what the oils need"),
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn read(text: &str) -> Target {
        text.parse()
            .unwrap_or_else(|error| panic!("{text}: {error}"))
    }

    fn check(text: &str, quantity: Quantity, relation: Relation) {
        let target = read(text);
        assert_eq!(target, Target { quantity, relation }, "{text}");
        // What is written is read back as the same.
        assert_eq!(read(&target.to_string()), target, "{target}");
    }

    #[test]
    fn plain_words_are_read_and_written_back() {
        use Relation::{AtLeast, AtMost, Between, Equal, Need};
        check("active>=14", Quantity::Active(None), AtLeast(14.0));
        check("cost<=2.1", Quantity::Cost(Basis::Kilogram), AtMost(2.1));
        check(
            "Cost per 250 ml at most 0,60",
            Quantity::Cost(Basis::Millilitres(250.0)),
            AtMost(0.6),
        );
        check(
            "cost per 0.2 kg = 1",
            Quantity::Cost(Basis::Grams(200.0)),
            Equal(1.0),
        );
        check(
            "anionic / amphoteric <= 3",
            Quantity::Ratio(
                Box::new(Quantity::Active(Some(Charge::Anionic))),
                Box::new(Quantity::Active(Some(Charge::Amphoteric))),
            ),
            AtMost(3.0),
        );
        check(
            "water between 70 and 80 %",
            Quantity::Class(Class::Water),
            Between(70.0, 80.0),
        );
        check("ph = 5.0..5.5", Quantity::Ph, Between(5.0, 5.5));
        let sum = Quantity::Sum(vec![
            Quantity::Active(Some(Charge::Anionic)),
            Quantity::Line("Coco betaine 30 %".into()),
        ]);
        check(
            "anionic + line Coco betaine 30 % >= 9",
            sum.clone(),
            AtLeast(9.0),
        );
        check(
            "anionic + line Coco betaine 30 % / non-ionic <= 3",
            Quantity::Ratio(
                Box::new(sum),
                Box::new(Quantity::Active(Some(Charge::NonIonic))),
            ),
            AtMost(3.0),
        );
        check("active > 14", Quantity::Active(None), AtLeast(14.0));
        check("active =< 14", Quantity::Active(None), AtMost(14.0));
        check("active == 14 percent", Quantity::Active(None), Equal(14.0));
        check(
            "oil/water <= 0,5",
            Quantity::Ratio(
                Box::new(Quantity::Class(Class::Oil)),
                Box::new(Quantity::Class(Class::Water)),
            ),
            AtMost(0.5),
        );
        check(
            "Caprylic/Capric Triglyceride >= 2",
            Quantity::Named("Caprylic/Capric Triglyceride".into()),
            AtLeast(2.0),
        );
        check("hlb = need", Quantity::Hlb, Need);
        check(
            "natural origin >= 90 %",
            Quantity::NaturalOrigin,
            AtLeast(0.9),
        );
        check(
            "salt no more than 2 %",
            Quantity::Class(Class::Electrolyte),
            AtMost(2.0),
        );
        check("oil phase is 20", Quantity::OilPhase, Equal(20.0));
        let viscosity = Quantity::Learnt(Reading::Viscosity);
        check(
            "viscosity between 4000 and 6 Pa·s",
            viscosity.clone(),
            Between(4000.0, 6000.0),
        );
        check("Viscosity at least 4 Pa·s", viscosity, AtLeast(4000.0));
        check(
            "foam height >= 120 mm",
            Quantity::Learnt(Reading::FoamHeight),
            AtLeast(120.0),
        );
        check(
            "viscosity between 4 and 6 Pa·s",
            Quantity::Learnt(Reading::Viscosity),
            Between(4000.0, 6000.0),
        );
        check(
            "natural origin between 90 and 95 %",
            Quantity::NaturalOrigin,
            Between(0.9, 0.95),
        );
        // In quotes it is a name, whatever else the word means.
        check(
            "\"water\" <= 70 %",
            Quantity::Named("water".into()),
            AtMost(70.0),
        );
        check(
            "Glycerin = 5",
            Quantity::Named("Glycerin".into()),
            Equal(5.0),
        );
        // A relation within a name in quotes is none.
        let named = "\"Oil that is cold\" <= 3";
        check(
            named,
            Quantity::Named("Oil that is cold".into()),
            AtMost(3.0),
        );
        assert_eq!(named.parse::<Target>().unwrap().to_string(), named);
        let line = "line \"Glycerin at least\" <= 3";
        check(
            line,
            Quantity::Line("Glycerin at least".into()),
            AtMost(3.0),
        );
        assert_eq!(line.parse::<Target>().unwrap().to_string(), line);
        for two in [
            "Glycerin at least<3 %",
            "between oils = 4",
            "a \"b\" c <= 3",
        ] {
            assert!(two.parse::<Target>().is_err(), "{two}");
        }
        check(
            "line \"Coco betaine 30 %\" <= 20",
            Quantity::Line("Coco betaine 30 %".into()),
            AtMost(20.0),
        );
        check(
            "inci C12-15 Alkyl Benzoate >= 1",
            Quantity::Constituent("C12-15 Alkyl Benzoate".into()),
            AtLeast(1.0),
        );
    }

    proptest! {
        /// Whatever can be read is written so that it is read as the same.
        #[test]
        fn what_is_written_is_read_again(
            what in prop::sample::select(vec![
                "active", "water", "cost", "ph", "hlb", "natural origin", "preservation",
                "viscosity", "density", "inci Sodium Chloride", "line Coco betaine 30 %",
                "anionic / amphoteric", "glycerin + water", "cost per 250 ml", "\"water\"",
                "\" 'salt\" ' + oil",
            ]),
            relation in prop::sample::select(vec![">=", "<=", "="]),
            whole in 0_u32..2000,
            digits in "[0-9]{0,9}",
            percent in any::<bool>(),
        ) {
            let sign = if percent { " %" } else { "" };
            let figure = if digits.is_empty() { whole.to_string() } else { format!("{whole}.{digits}") };
            if let Ok(target) = format!("{what} {relation} {figure}{sign}").parse::<Target>() {
                prop_assert_eq!(&read(&target.to_string()), &target, "{}", target);
            }
        }
    }

    #[test]
    fn errors_say_what_to_do() {
        let error = |text: &str| text.parse::<Target>().unwrap_err();
        assert!(matches!(error("active 14"), TargetError::NoRelation(_)));
        assert!(matches!(error(">= 14"), TargetError::NoQuantity(_)));
        assert!(matches!(
            error("active >= lots"),
            TargetError::BadFigure { .. }
        ));
        assert!(matches!(
            error("active >= 1e3"),
            TargetError::BadFigure { .. }
        ));
        assert!(matches!(
            error("active >= nan"),
            TargetError::BadFigure { .. }
        ));
        assert!(matches!(
            error("active >= 120"),
            TargetError::OutOfRange { .. }
        ));
        assert!(matches!(
            error("natural >= 2"),
            TargetError::OutOfRange { .. }
        ));
        assert!(matches!(
            error("active = need"),
            TargetError::OutOfRange { .. }
        ));
        assert!(matches!(
            error("water between 80 and 70"),
            TargetError::OutOfRange { .. }
        ));
        assert!(matches!(
            error("water between 80"),
            TargetError::BadFigure { .. }
        ));
        assert!(matches!(
            error("cost per jar <= 2"),
            TargetError::BadContainer(_)
        ));
        assert!(matches!(
            error("ph / water <= 2"),
            TargetError::OutOfRange { .. }
        ));
        assert!(matches!(
            error("ph + water <= 2"),
            TargetError::OutOfRange { .. }
        ));
    }

    #[test]
    fn sentences_read_well() {
        assert_eq!(read("active>=14").words(), "at least 14 % active matter");
        assert_eq!(read("cost<=2.1").words(), "cost per kg at most 2.1");
        assert_eq!(read("ph=5.2").words(), "pH of 5.2");
        assert_eq!(
            read("viscosity between 4 and 6 Pa·s").to_string(),
            "viscosity = 4000..6000"
        );
        assert_eq!(
            read("viscosity between 4000 and 6000").words(),
            "viscosity between 4000 mPa·s and 6000 mPa·s"
        );
        assert_eq!(
            read("anionic / amphoteric<=3").words(),
            "anionic active to amphoteric active at most 3"
        );
    }
}
