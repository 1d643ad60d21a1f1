//! Amounts in every form in which people write them into recipes: "5 %", "1 lb 4 oz",
//! "400 g (80 %)", "approx 70", "3.0*", "1–2 %", "½ tsp", "20 drops", "q.s. to 100".

use std::cell::RefCell;
use std::sync::OnceLock;

use rust_decimal::Decimal;
use serde::Deserialize;

use super::pieces;
use crate::amount::number::{self, DecimalMark, NumberError, Unit, is_rough, is_rough_cut_short};
use crate::naming::is_known_name;
use crate::naming::qs::{Qs, quantum_satis};
use crate::text_memory::{TextMemory, remembered};

/// What an amount says.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum WrittenAmount {
    /// Percent by weight.
    Percent(Decimal),
    /// Grams.
    Grams(Decimal),
    /// Millilitres.
    Millilitres(Decimal),
    /// Parts of the whole.
    Parts(Decimal),
    /// A number whose unit nothing tells.
    Bare(Decimal),
    /// q.s.
    Qs(Qs),
}

impl WrittenAmount {
    /// Whether it is below 0, as no amount is.
    pub(super) fn is_negative(self) -> bool {
        match self {
            Self::Percent(v)
            | Self::Grams(v)
            | Self::Millilitres(v)
            | Self::Parts(v)
            | Self::Bare(v) => v < Decimal::ZERO,
            Self::Qs(_) => false,
        }
    }
}

/// An amount as read.
#[derive(Clone, PartialEq, Debug)]
pub struct AmountReading {
    /// What it says.
    pub written: WrittenAmount,
    /// The other reading, if the decimal mark could be either.
    pub or: Option<Decimal>,
    /// What had to be assumed, in words.
    pub doubts: Vec<String>,
    /// Words beside it, such as "max".
    pub note: String,
    /// It is the middle of a range.
    pub is_range: bool,
    /// The measure of the kitchen that it was counted in.
    pub measure: Option<CountedMeasure>,
}

/// What a text says that a part weighs, in grams: "10 g to the part", "1 part = 10 g".
pub(super) fn grams_of_a_part(text: &str) -> Option<Decimal> {
    let lower = text.to_lowercase();
    let grams = |words: &[&str]| {
        let joined = words.concat();
        let joined = joined.trim_end_matches(['.', ',', ';', ')']);
        match read(joined, None, None).ok()?.written {
            WrittenAmount::Grams(grams) if grams > Decimal::ZERO => Some(grams),
            _ => None,
        }
    };
    let behind = lists().of_a_part.iter().find_map(|phrase| {
        let (before, _) = lower.split_once(&format!(" {phrase}"))?;
        let words: Vec<&str> = before.split_whitespace().collect();
        let from = |count: usize| grams(words.get(words.len().checked_sub(count)?..)?);
        from(2).or_else(|| from(1))
    });
    behind.or_else(|| {
        let (before, after) = lower.split_once('=')?;
        let mut last = before.split_whitespace().rev().take(2);
        let (part, one) = (last.next()?, last.next()?);
        let is_part = one == "1" && lists().parts.iter().any(|word| word == part);
        let words: Vec<&str> = after.split_whitespace().take(2).collect();
        is_part.then(|| grams(&words)).flatten()
    })
}

/// So many of a measure of the kitchen.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct CountedMeasure {
    /// The measure with its article, "a drop".
    pub name: &'static str,
    /// How many.
    pub count: Decimal,
}

impl CountedMeasure {
    /// What one of a measure is taken to hold, in grams or millilitres.
    pub(super) fn held_by(name: &str) -> Option<Decimal> {
        let mut all = lists().measures.iter();
        all.find(|m| m.name == name)?.each().map(|(each, _)| each)
    }

    /// What is asked about it.
    pub(super) fn doubt(self) -> Option<String> {
        let mut all = lists().measures.iter();
        all.find(|m| m.name == self.name)?.doubt()
    }
}

impl AmountReading {
    pub(super) fn of(written: WrittenAmount) -> Self {
        Self {
            written,
            or: None,
            doubts: Vec::new(),
            note: String::new(),
            is_range: false,
            measure: None,
        }
    }
    fn doubt(mut self, words: impl Into<String>) -> Self {
        self.doubts.push(words.into());
        self
    }
}

const TEXT: &str = include_str!("../../../../../assets/names/amounts.ron");

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct Lists {
    limits: Vec<String>,
    beside: Vec<String>,
    between: Vec<String>,
    parts: Vec<String>,
    of_a_part: Vec<String>,
    measures: Vec<Household>,
}

/// A measure of the kitchen; what it holds is always asked.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Household {
    /// With its article, as it stands in the question.
    name: String,
    /// What one of them weighs, or else
    grams: Option<String>,
    /// what it holds.
    millilitres: Option<String>,
    #[cfg_attr(
        not(test),
        expect(dead_code, reason = "the file says where the figure is from")
    )]
    source: String,
    /// What the maker may do to know better.
    remedy: String,
    words: Vec<String>,
}

impl Household {
    /// What one of them weighs or holds, and its unit.
    fn each(&self) -> Option<(Decimal, &'static str)> {
        let read = |written: &Option<String>| number::plain(written.as_deref()?);
        let grams = read(&self.grams).map(|each| (each, "g"));
        grams.or_else(|| Some((read(&self.millilitres)?, "ml")))
    }

    /// What is asked about it.
    fn doubt(&self) -> Option<String> {
        let (each, unit) = self.each()?;
        Some(format!(
            "{} was taken as {} {unit}; {}",
            self.name,
            each.round_dp(2).normalize(),
            self.remedy
        ))
    }
}

/// Read on first use. A list that cannot be read is empty, which the test below does not let
/// pass.
fn lists() -> &'static Lists {
    static LISTS: OnceLock<Lists> = OnceLock::new();
    LISTS.get_or_init(|| ron::from_str(TEXT).unwrap_or_default())
}

thread_local! {
    static ASKED: TextMemory<bool> = RefCell::default();
}

/// Whether a text is an amount, whatever stands above and beside it.
pub(super) fn is_amount(text: &str) -> bool {
    remembered(&ASKED, text, |text| read(text, None, None).is_ok())
}

/// Reads an amount. `unit` is that of the heading or of a column beside it, `mark` the
/// decimal mark of the column, if they are known.
pub fn read(
    text: &str,
    unit: Option<Unit>,
    mark: Option<DecimalMark>,
) -> Result<AmountReading, NumberError> {
    let mut text = text.trim().trim_matches(|c: char| {
        c.is_whitespace() || matches!(c, '*' | '†' | '‡' | '§' | '¹' | '²' | '³')
    });
    let shown = || NumberError::NotANumber(text_of(text));
    // "a pinch (1 g)": what it weighs is stated.
    if let Some((outer, inner)) = brackets(text)
        && quantum_satis(outer) == Some(Qs::Effect)
        && let Ok(weighed) = read(inner, None, mark)
        && matches!(weighed.written, WrittenAmount::Grams(_))
        && weighed.doubts.is_empty()
    {
        return Ok(weighed);
    }
    if let Some(qs) = quantum_satis(text) {
        return Ok(AmountReading::of(WrittenAmount::Qs(qs)));
    }
    if let Some(changed) = changed(text, unit, mark) {
        return Ok(changed);
    }
    if let Some(target) = with_tolerance(text, unit, mark) {
        return Ok(target);
    }
    let not_a_number = shown();
    // "(5 %)" is 5 %.
    if let Some(inner) = text.strip_prefix('(').and_then(|t| t.strip_suffix(')'))
        && !inner.contains('(')
    {
        text = inner.trim();
    }
    if let Some((outer, inner)) = brackets(text).or_else(|| text.split_once(" = ")) {
        return with_brackets(outer.trim(), inner.trim(), unit, mark);
    }
    let (rough, rest) = without_rough(text);
    let mut reading = plain(rest, unit, mark).or_else(|error| {
        fraction(rest, unit)
            .or_else(|| small_part(rest, mark))
            .or_else(|| several(rest, mark))
            .or_else(|| range(rest, unit, mark))
            .or_else(|| household(rest, mark))
            .or_else(|| with_words(rest, unit, mark))
            .ok_or(match error {
                NumberError::NotANumber(_) => not_a_number.clone(),
                other => other,
            })
    })?;
    if rough {
        reading = reading.doubt(format!("“{}” is only rough", text_of(text)));
    }
    Ok(reading)
}

/// "12.00 ± 0.20 %": an amount, and how far it may be off, which is no range to choose from.
fn with_tolerance(
    text: &str,
    unit: Option<Unit>,
    mark: Option<DecimalMark>,
) -> Option<AmountReading> {
    let parted = ["±", "+/-", "+-"]
        .into_iter()
        .find_map(|sign| text.split_once(sign));
    let (amount, tolerance) = parted.filter(|(amount, _)| !amount.trim().is_empty())?;
    let off = number::amount(tolerance.trim().trim_end_matches(')'), mark).ok()?;
    plain(amount.trim(), unit.or(off.unit), mark).ok()
}

/// "3 -> 5", "2,5 → 3 %": an amount and what it was changed to.
fn changed(text: &str, unit: Option<Unit>, mark: Option<DecimalMark>) -> Option<AmountReading> {
    const ARROWS: [&str; 6] = ["->", "=>", "→", "⇒", "➔", "➜"];
    let (before, after) = ARROWS.iter().find_map(|arrow| text.rsplit_once(arrow))?;
    read(before, unit, mark).ok()?;
    // The unit may stand behind the old one alone.
    let own = number::amount(before, mark).ok().and_then(|a| a.unit);
    let new = read(after, unit.or(own), mark).ok()?;
    Some(new.doubt(format!(
        "“{}” says that it was changed; the new amount was taken",
        text_of(text)
    )))
}

fn text_of(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What stands before the first bracket and in it, if what follows is nothing.
fn brackets(text: &str) -> Option<(&str, &str)> {
    let (open, close) = if text.ends_with(']') {
        ('[', ']')
    } else {
        ('(', ')')
    };
    let (outer, rest) = text.split_once(open)?;
    let inner = rest.strip_suffix(close)?;
    (!outer.trim().is_empty()).then(|| (outer.trim(), inner.trim()))
}

fn with_brackets(
    outer: &str,
    inner: &str,
    unit: Option<Unit>,
    mark: Option<DecimalMark>,
) -> Result<AmountReading, NumberError> {
    let weighed = read(inner, None, mark)
        .ok()
        .filter(|r| matches!(r.written, WrittenAmount::Grams(_)) && r.doubts.is_empty());
    let mut first = match (read(outer, unit, mark), weighed) {
        // "a pinch (1 g)", "6 tbsp (48 g)": what it weighs is stated. "Glycerin 4 % (8 g)" is
        // more than an amount.
        (Err(_), Some(weighed)) if is_measure(outer) => return Ok(weighed),
        (Ok(first), Some(weighed))
            if matches!(
                first.written,
                WrittenAmount::Millilitres(_) | WrittenAmount::Qs(Qs::Effect | Qs::Plain)
            )
            // "8 drops (0.4 g)".
                || matches!(first.written, WrittenAmount::Grams(_)) && household(outer, mark).is_some_and(|r| r.measure.is_some()) =>
        {
            return Ok(weighed);
        }
        (first, _) => first?,
    };
    match read(inner, None, mark).map(|r| r.written) {
        // "400 g (80 %)" and "80 % (400 g)": the percentage is the recipe.
        Ok(percent @ WrittenAmount::Percent(_))
            if !matches!(first.written, WrittenAmount::Percent(_)) =>
        {
            if !matches!(first.written, WrittenAmount::Qs(_)) {
                first.written = percent;
                first.measure = None;
            }
        }
        Ok(WrittenAmount::Grams(_) | WrittenAmount::Millilitres(_))
            if matches!(first.written, WrittenAmount::Percent(_)) => {}
        // "q.s. (to 100)".
        Ok(WrittenAmount::Qs(qs)) if matches!(first.written, WrittenAmount::Qs(Qs::Plain)) => {
            first.written = WrittenAmount::Qs(qs);
        }
        // The same in ounces: what is stated in grams is the rounder, and was weighed.
        Ok(WrittenAmount::Grams(beside)) if let WrittenAmount::Grams(value) = first.written => {
            let alike = (value - beside).abs() <= value.max(beside) * Decimal::new(5, 2);
            if !alike {
                first = first.doubt(format!("“{outer}” and “{inner}” are not the same"));
            } else if !in_metric(outer) && in_metric(inner) {
                first.written = WrittenAmount::Grams(beside);
            }
        }
        _ => {
            let (rough, _) = without_rough(&format!("{inner} "));
            if rough {
                first = first.doubt(format!("“{inner}” says that it is only rough"));
            }
            inner.clone_into(&mut first.note);
        }
    }
    Ok(first)
}

/// Whether what stands before the brackets may be a measure of any kind, "a pinch", "6 scoops",
/// and nothing else: the name of a material may stand in front of one.
fn is_measure(outer: &str) -> bool {
    let begins = outer.starts_with(|c: char| c.is_ascii_digit() || c.is_alphabetic());
    let number_within = outer
        .split_whitespace()
        .skip(1)
        .any(|word| word.starts_with(|c: char| c.is_ascii_digit()));
    begins
        && !number_within
        && !outer.contains(['%', '–', '—', ':', '='])
        && !names_something(outer)
}

/// Whether a measure of the household has the name of what is measured behind it: "6 cucchiai di
/// olio di cocco".
fn names_something(outer: &str) -> bool {
    let words: Vec<&str> = outer.split_whitespace().collect();
    let is_beside = |words: &[&str]| {
        let said = crate::naming::fold::plain(&words.join(" "));
        lists().beside.contains(&said)
    };
    let behind_measure = (2..words.len()).any(|at| {
        let (counted, rest) = words.split_at(at);
        let counted = household(&counted.join(" "), None);
        counted.is_some_and(|reading| reading.measure.is_some()) && !is_beside(rest)
    });
    behind_measure
        || (1..words.len()).any(|at| words.get(at..).is_some_and(|w| is_known_name(&w.join(" "))))
}

/// Whether a mass is written in grams or a decimal multiple of them.
fn in_metric(text: &str) -> bool {
    let grams = number::amount(text, None)
        .ok()
        .and_then(|a| a.unit?.grams());
    [Decimal::new(1, 3), Decimal::ONE, Decimal::ONE_THOUSAND]
        .iter()
        .any(|each| grams == Some(*each))
}

/// A text without words that say that it is rough, and whether there was one.
fn without_rough(text: &str) -> (bool, &str) {
    let trimmed = text.trim();
    let marked = trimmed.trim_start_matches(['~', '≈', '±']);
    if marked.len() < trimmed.len() {
        return (true, marked.trim());
    }
    let mut rest = trimmed;
    if let Some((first, after)) = trimmed.split_once(|c: char| c.is_whitespace() || c == '.') {
        let folded = crate::naming::fold::plain(first);
        let cut_short = trimmed
            .get(first.len()..)
            .is_some_and(|t| t.starts_with('.'))
            && is_rough_cut_short(&folded);
        if cut_short || is_rough(&folded) {
            rest = after.trim_start_matches(['.', ' ']);
        }
    }
    if let Some((before, last)) = rest.rsplit_once(char::is_whitespace) {
        let folded = crate::naming::fold::plain(last);
        if is_rough(&folded) {
            rest = before.trim();
        }
    }
    (rest.len() < trimmed.len(), rest)
}

/// Whether a word means parts: "parts", "Gewichtsteile".
pub(super) fn names_parts(folded: &str) -> bool {
    let ends = |word: &String| word.chars().count() > 4 && folded.ends_with(word.as_str());
    lists()
        .parts
        .iter()
        .any(|word| folded == word || ends(word))
}

/// A number with a unit or without.
fn plain(
    text: &str,
    unit: Option<Unit>,
    mark: Option<DecimalMark>,
) -> Result<AmountReading, NumberError> {
    let amount = number::amount(text, mark)?;
    if amount.currency.is_some() {
        return Err(NumberError::NotANumber(text_of(text)));
    }
    let unit = amount.unit.or(unit);
    let mut reading = AmountReading::of(in_unit(amount.value, unit));
    // The other reading in the same unit.
    reading.or = amount.or.map(|or| match in_unit(or, unit) {
        WrittenAmount::Percent(v)
        | WrittenAmount::Grams(v)
        | WrittenAmount::Millilitres(v)
        | WrittenAmount::Parts(v)
        | WrittenAmount::Bare(v) => v,
        WrittenAmount::Qs(_) => or,
    });
    Ok(reading)
}

/// A number in a unit.
pub fn in_unit(value: Decimal, unit: Option<Unit>) -> WrittenAmount {
    match unit {
        None => WrittenAmount::Bare(value),
        Some(unit) => match (unit.grams(), unit.millilitres()) {
            (Some(each), _) => WrittenAmount::Grams(value * each),
            (_, Some(each)) => WrittenAmount::Millilitres(value * each),
            _ => WrittenAmount::Percent(value),
        },
    }
}

/// "2 ‰", "500 ppm", "700 g/kg", "3000 mg/kg": thousandths and millionths of the whole.
fn small_part(text: &str, mark: Option<DecimalMark>) -> Option<AmountReading> {
    let end = text.find(|c: char| c.is_alphabetic() || c == '‰')?;
    let (number, sign) = (text.get(..end)?, text.get(end..)?.trim());
    let per_mass = match sign.replace(' ', "").to_lowercase().as_str() {
        "g/kg" | "mg/g" => Some(1),
        "mg/kg" | "µg/g" | "μg/g" => Some(4),
        "g/100g" => Some(0),
        _ => None,
    };
    let scale = match crate::naming::fold::plain(sign).as_str() {
        _ if per_mass.is_some() => per_mass?,
        "" if sign == "‰" => 1,
        "promille" | "per mille" | "pro mille" => 1,
        "ppm" => 4,
        _ => return None,
    };
    let value = number::amount(number, mark).ok()?;
    let part = |v: Decimal| number::within(v * Decimal::new(1, scale));
    let mut reading = AmountReading::of(WrittenAmount::Percent(part(value.value)?));
    reading.or = value.or.and_then(part);
    Some(reading)
}

/// "½", "1/2", "1 1/2 oz".
fn fraction(text: &str, unit: Option<Unit>) -> Option<AmountReading> {
    let (value, rest) = leading_fraction(text)?;
    let rest = rest.trim();
    let own = if rest.is_empty() {
        unit
    } else {
        Unit::named(rest)
    };
    if rest.is_empty() || own.is_some() {
        return Some(AmountReading::of(in_unit(value, own)));
    }
    spoon(value, rest)
}

/// A number with a fraction at the start of a text, and what follows it.
fn leading_fraction(text: &str) -> Option<(Decimal, &str)> {
    /// The signs of fractions, and what stands above and below their line.
    const SIGNS: [(char, i64, i64); 18] = [
        ('½', 1, 2),
        ('¼', 1, 4),
        ('¾', 3, 4),
        ('⅓', 1, 3),
        ('⅔', 2, 3),
        ('⅛', 1, 8),
        ('⅜', 3, 8),
        ('⅝', 5, 8),
        ('⅞', 7, 8),
        ('⅕', 1, 5),
        ('⅖', 2, 5),
        ('⅗', 3, 5),
        ('⅘', 4, 5),
        ('⅙', 1, 6),
        ('⅚', 5, 6),
        ('⅐', 1, 7),
        ('⅑', 1, 9),
        ('⅒', 1, 10),
    ];
    let text = text.trim();
    let digits = |t: &str| t.bytes().take_while(u8::is_ascii_digit).count();
    let count = digits(text);
    let whole: Decimal = if count > 0 {
        text.get(..count)?.parse().ok().and_then(number::within)?
    } else {
        Decimal::ZERO
    };
    let after = text.get(count..)?;
    let trimmed = after.trim_start();
    if let Some(sign) = trimmed.chars().next()
        && let Some((_, top, bottom)) = SIGNS.iter().find(|(s, _, _)| *s == sign)
    {
        let part = Decimal::from(*top) / Decimal::from(*bottom);
        return Some((whole + part, trimmed.get(sign.len_utf8()..)?));
    }
    let ratio = |t: &str| -> Option<(Decimal, usize)> {
        let top = digits(t);
        let rest = t.get(top..)?.strip_prefix('/')?;
        let bottom = digits(rest);
        let (a, b): (Decimal, Decimal) = (
            t.get(..top)?.parse().ok().and_then(number::within)?,
            rest.get(..bottom)?.parse().ok().and_then(number::within)?,
        );
        let ratio = a.checked_div(b).and_then(number::within)?;
        Some((ratio, top + 1 + bottom))
    };
    if let Some((value, length)) = ratio(text) {
        return Some((value, text.get(length..)?));
    }
    let (value, length) = ratio(trimmed).filter(|_| count > 0 && after.len() > trimmed.len())?;
    Some((whole + value, trimmed.get(length..)?))
}

/// "1 lb 4 oz", "2 kg 500 g".
fn several(text: &str, mark: Option<DecimalMark>) -> Option<AmountReading> {
    let mut total = Decimal::ZERO;
    let mut count = 0;
    let mut rest = text.trim();
    while !rest.is_empty() {
        let digits = rest.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',')))?;
        let after = rest.get(digits..)?.trim_start();
        let word = after
            .find(|c: char| !(c.is_alphabetic() || c == '.'))
            .unwrap_or(after.len());
        let each = Unit::named(after.get(..word)?)?.grams()?;
        let value = number::amount(rest.get(..digits)?, mark).ok()?.value;
        total += value * each;
        count += 1;
        rest = after
            .get(word..)?
            .trim_start_matches(|c: char| c.is_whitespace() || matches!(c, ',' | '+' | '&'))
            .trim_start_matches("and ")
            .trim_start();
    }
    (count > 1).then(|| AmountReading::of(WrittenAmount::Grams(total)))
}

/// "1–2 %", "1 to 2 g": the middle, asked.
fn range(text: &str, unit: Option<Unit>, mark: Option<DecimalMark>) -> Option<AmountReading> {
    let (low, high) = lists().between.iter().find_map(|between| {
        let (low, high) = text.split_once(between.as_str())?;
        low.contains(|c: char| c.is_ascii_digit())
            .then_some((low, high))
    })?;
    let high = plain(high, unit, mark).ok()?;
    let low_amount = number::amount(low, mark).ok()?;
    let middle = |low: Decimal, high: Decimal| (low <= high).then(|| (low + high) / Decimal::TWO);
    let same = |value: Decimal| match high.written {
        WrittenAmount::Grams(_) | WrittenAmount::Millilitres(_) | WrittenAmount::Percent(_) => {
            let unit = low_amount
                .unit
                .or(number::amount(text_after_dash(text)?, mark).ok()?.unit)
                .or(unit);
            match in_unit(value, unit) {
                WrittenAmount::Grams(v)
                | WrittenAmount::Millilitres(v)
                | WrittenAmount::Percent(v) => Some(v),
                _ => None,
            }
        }
        _ => Some(value),
    };
    let low_value = same(low_amount.value)?;
    let written = match high.written {
        WrittenAmount::Percent(h) => WrittenAmount::Percent(middle(low_value, h)?),
        WrittenAmount::Grams(h) => WrittenAmount::Grams(middle(low_value, h)?),
        WrittenAmount::Millilitres(h) => WrittenAmount::Millilitres(middle(low_value, h)?),
        WrittenAmount::Bare(h) => WrittenAmount::Bare(middle(low_value, h)?),
        WrittenAmount::Parts(_) | WrittenAmount::Qs(_) => return None,
    };
    let mut reading = AmountReading::of(written).doubt(format!(
        "“{}” is a range; its middle was taken",
        text_of(text)
    ));
    reading.is_range = true;
    Some(reading)
}

fn text_after_dash(text: &str) -> Option<&str> {
    let digit = text.rfind(|c: char| c.is_ascii_digit())?;
    let start = text
        .get(..=digit)?
        .rfind(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',')))
        .map_or(0, |at| {
            at + text
                .get(at..)
                .and_then(|t| t.chars().next())
                .map_or(1, char::len_utf8)
        });
    text.get(start..)
}

/// "20 drops", "2 tsp", "8 fl oz", "70 parts".
fn household(text: &str, mark: Option<DecimalMark>) -> Option<AmountReading> {
    let text = text.trim();
    let end = text.find(|c: char| c.is_alphabetic())?;
    let value = number::amount(text.get(..end)?, mark).ok()?.value;
    spoon(value, text.get(end..)?)
}

fn spoon(value: Decimal, word: &str) -> Option<AmountReading> {
    let folded = crate::naming::fold::plain(word);
    if lists().parts.contains(&folded) {
        return Some(AmountReading::of(WrittenAmount::Parts(value)));
    }
    let measure = lists()
        .measures
        .iter()
        .find(|m| m.words.contains(&folded))?;
    let (each, unit) = measure.each()?;
    let all = value.checked_mul(each)?;
    let mut reading = AmountReading::of(match unit {
        "g" => WrittenAmount::Grams(all),
        _ => WrittenAmount::Millilitres(all),
    });
    reading.measure = Some(CountedMeasure {
        name: &measure.name,
        count: value,
    });
    Some(reading.doubt(measure.doubt()?))
}

/// "5 % max": a number with words beside it that change nothing.
fn with_words(text: &str, unit: Option<Unit>, mark: Option<DecimalMark>) -> Option<AmountReading> {
    let lower = text.to_lowercase();
    let lists = lists();
    lists.limits.iter().chain(&lists.beside).find_map(|word| {
        let rest = lower
            .strip_suffix(word.as_str())
            .or_else(|| {
                lower
                    .strip_prefix(word.as_str())
                    .map(|r| r.trim_start_matches(['.', ' ']))
            })?
            .trim()
            .trim_end_matches([',', ';', ':'])
            .trim();
        if rest.is_empty() || rest.len() == lower.len() {
            return None;
        }
        let mut reading = plain(rest, unit, mark).ok()?;
        word.clone_into(&mut reading.note);
        if lists.limits.contains(word) {
            reading = reading.doubt(format!("“{}” states a limit", text_of(text)));
        }
        Some(reading)
    })
}

/// Whether a cell says that there is nothing.
pub(super) fn is_dash(text: &str) -> bool {
    matches!(text.trim(), "-" | "–" | "—" | "n/a" | "N/A")
}

/// The masses in a text, in grams: "for 500 g", "makes 2 kg"; of so many pieces of one size that
/// of all: "5 bars of 80 g".
pub(super) fn masses_in(text: &str) -> Vec<Decimal> {
    let spaced: String = text
        .chars()
        .map(|c| if "()[]:;/=".contains(c) { ' ' } else { c })
        .collect();
    let tokens: Vec<&str> = spaced.split_whitespace().collect();
    let mut found = Vec::new();
    for (place, token) in tokens.iter().enumerate() {
        if !token.starts_with(|c: char| c.is_ascii_digit()) {
            continue;
        }
        let next = tokens.get(place + 1).copied().unwrap_or_default();
        for candidate in [(*token).to_owned(), format!("{token} {next}")] {
            if let Ok(amount) = number::amount(candidate.trim_end_matches([',', '.']), None)
                && let Some(each) = amount.unit.and_then(Unit::grams)
                && amount.value > Decimal::ZERO
            {
                let before = tokens.get(..place).unwrap_or_default();
                let behind = tokens.get(place + 1..).unwrap_or_default();
                let count = pieces::count_of(before, behind).unwrap_or(Decimal::ONE);
                found.push((amount.value * each).saturating_mul(count));
                break;
            }
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::US_FLUID_OUNCE_MILLILITRES;

    #[test]
    fn a_fluid_ounce_of_a_recipe_is_that_of_a_label() {
        let lists = lists();
        let ounce = (lists.measures.iter()).find(|m| m.words.iter().any(|w| w == "floz"));
        let held: f64 = ounce
            .unwrap()
            .millilitres
            .as_deref()
            .unwrap()
            .parse()
            .unwrap();
        assert_eq!(held, US_FLUID_OUNCE_MILLILITRES);
    }

    fn check(text: &str, written: WrittenAmount, doubtful: bool) {
        let reading = read(text, None, None).unwrap_or_else(|e| panic!("{text}: {e}"));
        let near = |a: WrittenAmount, b: WrittenAmount| match (a, b) {
            (WrittenAmount::Grams(a), WrittenAmount::Grams(b))
            | (WrittenAmount::Percent(a), WrittenAmount::Percent(b))
            | (WrittenAmount::Bare(a), WrittenAmount::Bare(b))
            | (WrittenAmount::Parts(a), WrittenAmount::Parts(b))
            | (WrittenAmount::Millilitres(a), WrittenAmount::Millilitres(b)) => {
                (a - b).abs() < Decimal::new(1, 6)
            }
            (a, b) => a == b,
        };
        assert!(
            near(reading.written, written),
            "{text}: {:?}",
            reading.written
        );
        assert_eq!(
            !reading.doubts.is_empty(),
            doubtful,
            "{text}: {:?}",
            reading.doubts
        );
    }

    #[test]
    fn the_lists_are_read_and_folded() {
        let lists: Lists = ron::from_str(TEXT).unwrap();
        let measures = lists.measures.iter().flat_map(|m| &m.words);
        for word in lists.limits.iter().chain(&lists.parts).chain(measures) {
            assert_eq!(crate::naming::fold::plain(word), *word);
        }
        for measure in &lists.measures {
            let holds = [&measure.grams, &measure.millilitres];
            let numbers = holds
                .into_iter()
                .flatten()
                .filter(|n| number::plain(n).is_some());
            assert_eq!(numbers.count(), 1, "{}", measure.name);
            assert!(!measure.source.is_empty() && !measure.remedy.is_empty());
        }
        assert!(!lists.between.is_empty() && !lists.beside.is_empty());
    }

    fn d(text: &str) -> Decimal {
        text.parse().unwrap()
    }

    #[test]
    fn every_form_is_read() {
        check("0.5 % (max)", WrittenAmount::Percent(d("0.5")), false);
        check("3.0*", WrittenAmount::Bare(d("3")), false);
        check("400 g (80 %)", WrittenAmount::Percent(d("80")), false);
        check("80 % (400 g)", WrittenAmount::Percent(d("80")), false);
        check("approx 70", WrittenAmount::Bare(d("70")), true);
        check("ca. 70 %", WrittenAmount::Percent(d("70")), true);
        // Polish "około" and English "circa", cut short.
        check("ok. 0,3", WrittenAmount::Bare(d("0.3")), true);
        check("c. 5 g", WrittenAmount::Grams(d("5")), true);
        check("70 parts", WrittenAmount::Parts(d("70")), false);
        // An ounce is 28.349523125 g and a pound 453.59237 g (NIST Handbook 44).
        check("1 lb 4 oz", WrittenAmount::Grams(d("566.9904625")), false);
        check("2 kg 500 g", WrittenAmount::Grams(d("2500")), false);
        check(
            "8 fl oz",
            WrittenAmount::Millilitres(d("236.5882365")),
            true,
        );
        check("½ oz", WrittenAmount::Grams(d("14.1747615625")), false);
        check("1 1/2 oz", WrittenAmount::Grams(d("42.5242846875")), false);
        check("1/4", WrittenAmount::Bare(d("0.25")), false);
        check("2 ‰", WrittenAmount::Percent(d("0.2")), false);
        check("1,5 Promille", WrittenAmount::Percent(d("0.15")), false);
        check("500 ppm", WrittenAmount::Percent(d("0.05")), false);
        check("700,5 g/kg", WrittenAmount::Percent(d("70.05")), false);
        check("3000 mg/kg", WrittenAmount::Percent(d("0.3")), false);
        check("4 g / 100 g", WrittenAmount::Percent(d("4")), false);
        check("1-2 %", WrittenAmount::Percent(d("1.5")), true);
        check("1 – 2", WrittenAmount::Bare(d("1.5")), true);
        check("0.5 to 1 g", WrittenAmount::Grams(d("0.75")), true);
        check("20 drops", WrittenAmount::Grams(d("1")), true);
        check("2 tsp", WrittenAmount::Millilitres(d("10")), true);
        check("5 % max", WrittenAmount::Percent(d("5")), true);
        check("max. 5 %", WrittenAmount::Percent(d("5")), true);
        check("(5 %)", WrittenAmount::Percent(d("5")), false);
        check("6 tbsp (48 g)", WrittenAmount::Grams(d("48")), false);
        check("a pinch (1 g)", WrittenAmount::Grams(d("1")), false);
        check("8 gotas (0,4 g)", WrittenAmount::Grams(d("0.4")), false);
        check("40 ml = 40 g", WrittenAmount::Grams(d("40")), false);
        check(
            "q.s. (to 100)",
            WrittenAmount::Qs(Qs::ToWhole(Some(d("100")))),
            false,
        );
        for text in [
            "lots",
            "",
            "5 pinches of",
            "Glycerin",
            "1.2.3",
            "lavanda – 8 gotas (0,4 g)",
        ] {
            assert!(read(text, None, None).is_err(), "{text}");
        }
    }
}
