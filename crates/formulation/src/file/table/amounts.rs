//! Amounts in every form in which people write them into recipes: "5 %", "1 lb 4 oz",
//! "400 g (80 %)", "approx 70", "3.0*", "1–2 %", "½ tsp", "20 drops", "q.s. to 100".

use rust_decimal::Decimal;

use crate::amount::number::{self, DecimalMark, NumberError, Unit};
use crate::naming::qs::{Qs, quantum_satis};

/// What an amount says.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Written {
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

impl Written {
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
pub struct Reading {
    /// What it says.
    pub written: Written,
    /// The other reading, if the decimal mark could be either.
    pub or: Option<Decimal>,
    /// What had to be assumed, in words.
    pub doubts: Vec<String>,
    /// Words beside it, such as "max".
    pub note: String,
}

impl Reading {
    pub(super) fn of(written: Written) -> Self {
        Self {
            written,
            or: None,
            doubts: Vec::new(),
            note: String::new(),
        }
    }
    fn doubt(mut self, words: impl Into<String>) -> Self {
        self.doubts.push(words.into());
        self
    }
}

/// Grams of a drop, a habit of the kitchen and of old dispensing (20 drops to the
/// millilitre); common practice, no source. Always asked.
const DROP: Decimal = Decimal::from_parts(5, 0, 0, false, 2);

/// Words that only say that a number is rough.
pub(super) const ROUGH: [&str; 14] = [
    "approx",
    "approximately",
    "about",
    "around",
    "ca",
    "circa",
    "roughly",
    "etwa",
    "ungefahr",
    "environ",
    "env",
    "aprox",
    "ongeveer",
    "okolo",
];
/// Words beside a number that change nothing about it and are kept as a note.
const BESIDE: [&str; 18] = [
    "max",
    "maximum",
    "min",
    "minimum",
    "w/w",
    "m/m",
    "by weight",
    "weight",
    "total",
    "active",
    "each",
    "net",
    "dry",
    "level",
    "heaped",
    "of batch",
    "as is",
    "as supplied",
];

/// Reads an amount. `unit` is that of the heading or of a column beside it, `mark` the
/// decimal mark of the column, if they are known.
pub fn read(
    text: &str,
    unit: Option<Unit>,
    mark: Option<DecimalMark>,
) -> Result<Reading, NumberError> {
    let mut text = text.trim().trim_matches(|c: char| {
        c.is_whitespace() || matches!(c, '*' | '†' | '‡' | '§' | '¹' | '²' | '³')
    });
    let shown = || NumberError::NotANumber(text_of(text));
    if let Some(qs) = quantum_satis(text) {
        return Ok(Reading::of(Written::Qs(qs)));
    }
    let not_a_number = shown();
    // "(5 %)" is 5 %.
    if let Some(inner) = text.strip_prefix('(').and_then(|t| t.strip_suffix(')'))
        && !inner.contains('(')
    {
        text = inner.trim();
    }
    if let Some((outer, inner)) = brackets(text) {
        return with_brackets(outer, inner, unit, mark);
    }
    let (rough, rest) = without_rough(text);
    let mut reading = plain(rest, unit, mark).or_else(|error| {
        fraction(rest, unit)
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
) -> Result<Reading, NumberError> {
    let mut first = read(outer, unit, mark)?;
    match read(inner, None, mark).map(|r| r.written) {
        // "400 g (80 %)" and "80 % (400 g)": the percentage is the recipe.
        Ok(percent @ Written::Percent(_)) if !matches!(first.written, Written::Percent(_)) => {
            if !matches!(first.written, Written::Qs(_)) {
                first.written = percent;
            }
        }
        Ok(Written::Grams(_) | Written::Millilitres(_))
            if matches!(first.written, Written::Percent(_)) => {}
        // "q.s. (to 100)".
        Ok(Written::Qs(qs)) if matches!(first.written, Written::Qs(Qs::Plain)) => {
            first.written = Written::Qs(qs);
        }
        // The same in ounces.
        Ok(Written::Grams(_)) if matches!(first.written, Written::Grams(_)) => {}
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
        if ROUGH.contains(&folded.as_str()) {
            rest = after.trim_start_matches(['.', ' ']);
        }
    }
    if let Some((before, last)) = rest.rsplit_once(char::is_whitespace) {
        let folded = crate::naming::fold::plain(last);
        if ROUGH.contains(&folded.as_str()) {
            rest = before.trim();
        }
    }
    (rest.len() < trimmed.len(), rest)
}

/// A number with a unit or without.
fn plain(
    text: &str,
    unit: Option<Unit>,
    mark: Option<DecimalMark>,
) -> Result<Reading, NumberError> {
    let amount = number::amount(text, mark)?;
    if amount.currency.is_some() {
        return Err(NumberError::NotANumber(text_of(text)));
    }
    let unit = amount.unit.or(unit);
    let mut reading = Reading::of(in_unit(amount.value, unit));
    // The other reading in the same unit.
    reading.or = amount.or.map(|or| match in_unit(or, unit) {
        Written::Percent(v)
        | Written::Grams(v)
        | Written::Millilitres(v)
        | Written::Parts(v)
        | Written::Bare(v) => v,
        Written::Qs(_) => or,
    });
    Ok(reading)
}

/// A number in a unit.
pub fn in_unit(value: Decimal, unit: Option<Unit>) -> Written {
    match unit {
        None => Written::Bare(value),
        Some(unit) => match (unit.grams(), unit.millilitres()) {
            (Some(each), _) => Written::Grams(value * each),
            (_, Some(each)) => Written::Millilitres(value * each),
            _ => Written::Percent(value),
        },
    }
}

/// "½", "1/2", "1 1/2 oz".
fn fraction(text: &str, unit: Option<Unit>) -> Option<Reading> {
    let (value, rest) = leading_fraction(text)?;
    let rest = rest.trim();
    let own = if rest.is_empty() {
        unit
    } else {
        Unit::named(rest)
    };
    if rest.is_empty() || own.is_some() {
        return Some(Reading::of(in_unit(value, own)));
    }
    spoon(value, rest)
}

/// A number with a fraction at the start of a text, and what follows it.
fn leading_fraction(text: &str) -> Option<(Decimal, &str)> {
    const SIGNS: [(char, i64, i64); 7] = [
        ('½', 1, 2),
        ('¼', 1, 4),
        ('¾', 3, 4),
        ('⅓', 1, 3),
        ('⅔', 2, 3),
        ('⅛', 1, 8),
        ('⅕', 1, 5),
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
fn several(text: &str, mark: Option<DecimalMark>) -> Option<Reading> {
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
    (count > 1).then(|| Reading::of(Written::Grams(total)))
}

/// "1–2 %", "1 to 2 g": the middle, asked.
fn range(text: &str, unit: Option<Unit>, mark: Option<DecimalMark>) -> Option<Reading> {
    let (low, high) = [
        " to ", " bis ", " à ", " a ", " tot ", " do ", "–", "—", "−", "-",
    ]
    .into_iter()
    .find_map(|between| {
        let (low, high) = text.split_once(between)?;
        low.contains(|c: char| c.is_ascii_digit())
            .then_some((low, high))
    })?;
    let high = plain(high, unit, mark).ok()?;
    let low_amount = number::amount(low, mark).ok()?;
    let middle = |low: Decimal, high: Decimal| (low <= high).then(|| (low + high) / Decimal::TWO);
    let same = |value: Decimal| match high.written {
        Written::Grams(_) | Written::Millilitres(_) | Written::Percent(_) => {
            let unit = low_amount
                .unit
                .or(number::amount(text_after_dash(text)?, mark).ok()?.unit)
                .or(unit);
            match in_unit(value, unit) {
                Written::Grams(v) | Written::Millilitres(v) | Written::Percent(v) => Some(v),
                _ => None,
            }
        }
        _ => Some(value),
    };
    let low_value = same(low_amount.value)?;
    let written = match high.written {
        Written::Percent(h) => Written::Percent(middle(low_value, h)?),
        Written::Grams(h) => Written::Grams(middle(low_value, h)?),
        Written::Millilitres(h) => Written::Millilitres(middle(low_value, h)?),
        Written::Bare(h) => Written::Bare(middle(low_value, h)?),
        Written::Parts(_) | Written::Qs(_) => return None,
    };
    Some(Reading::of(written).doubt(format!(
        "“{}” is a range; its middle was taken",
        text_of(text)
    )))
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
fn household(text: &str, mark: Option<DecimalMark>) -> Option<Reading> {
    let text = text.trim();
    let end = text.find(|c: char| c.is_alphabetic())?;
    let value = number::amount(text.get(..end)?, mark).ok()?.value;
    spoon(value, text.get(end..)?)
}

fn spoon(value: Decimal, word: &str) -> Option<Reading> {
    let folded = crate::naming::fold::plain(word);
    let millilitres = |each: Decimal, name: &str| {
        Reading::of(Written::Millilitres(value * each)).doubt(format!(
            "a {name} was taken as {} ml; weigh one and put in the grams",
            each.normalize()
        ))
    };
    Some(match folded.as_str() {
        "part" | "parts" | "teil" | "teile" | "partie" | "parties" | "parte" | "partes"
        | "parti" | "deel" | "delen" | "czesc" | "czesci" => Reading::of(Written::Parts(value)),
        "drop" | "drops" | "gtt" | "tropfen" | "tr" | "goutte" | "gouttes" | "gota" | "gotas"
        | "goccia" | "gocce" | "druppel" | "druppels" | "kropla" | "krople" | "kropli" => {
            Reading::of(Written::Grams(value * DROP)).doubt(format!(
                "a drop was taken as {DROP} g; weigh twenty and put in the grams"
            ))
        }
        "tsp" | "teaspoon" | "teaspoons" | "tl" | "teeloffel" | "cc" | "cuillere a cafe"
        | "cucharadita" | "cucharaditas" | "cucchiaino" | "cucchiaini" | "theelepel"
        | "lyzeczka" | "lyzeczki" => millilitres(Decimal::from(5), "teaspoon"),
        "tbsp" | "tablespoon" | "tablespoons" | "el" | "essloffel" | "cuillere a soupe"
        | "cucharada" | "cucharadas" | "cucchiaio" | "cucchiai" | "eetlepel" | "lyzka"
        | "lyzki" => millilitres(Decimal::from(15), "tablespoon"),
        "cup" | "cups" | "tasse" | "taza" | "tazza" | "kop" | "szklanka" => {
            millilitres(Decimal::from(240), "cup")
        }
        "fl oz" | "floz" | "fluid ounce" | "fluid ounces" => {
            Reading::of(Written::Millilitres(value * fluid_ounce()))
                .doubt("fluid ounces were taken as those of the United States, 29.57 ml")
        }
        _ => return None,
    })
}

/// A US fluid ounce is 29.5735295625 ml exactly (NIST Handbook 44, appendix C).
fn fluid_ounce() -> Decimal {
    Decimal::new(295_735_295_625, 10)
}

/// "5 % max": a number with words beside it that change nothing.
fn with_words(text: &str, unit: Option<Unit>, mark: Option<DecimalMark>) -> Option<Reading> {
    let lower = text.to_lowercase();
    BESIDE.into_iter().find_map(|word| {
        let rest = lower
            .strip_suffix(word)
            .or_else(|| {
                lower
                    .strip_prefix(word)
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
        if matches!(word, "max" | "maximum" | "min" | "minimum") {
            reading = reading.doubt(format!("“{}” states a limit", text_of(text)));
        }
        Some(reading)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, written: Written, doubtful: bool) {
        let reading = read(text, None, None).unwrap_or_else(|e| panic!("{text}: {e}"));
        let near = |a: Written, b: Written| match (a, b) {
            (Written::Grams(a), Written::Grams(b))
            | (Written::Percent(a), Written::Percent(b))
            | (Written::Bare(a), Written::Bare(b))
            | (Written::Parts(a), Written::Parts(b))
            | (Written::Millilitres(a), Written::Millilitres(b)) => {
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

    fn d(text: &str) -> Decimal {
        text.parse().unwrap()
    }

    #[test]
    fn every_form_is_read() {
        check("0.5 % (max)", Written::Percent(d("0.5")), false);
        check("3.0*", Written::Bare(d("3")), false);
        check("400 g (80 %)", Written::Percent(d("80")), false);
        check("80 % (400 g)", Written::Percent(d("80")), false);
        check("approx 70", Written::Bare(d("70")), true);
        check("ca. 70 %", Written::Percent(d("70")), true);
        check("70 parts", Written::Parts(d("70")), false);
        // An ounce is 28.349523125 g and a pound 453.59237 g (NIST Handbook 44).
        check("1 lb 4 oz", Written::Grams(d("566.9904625")), false);
        check("2 kg 500 g", Written::Grams(d("2500")), false);
        check("8 fl oz", Written::Millilitres(d("236.5882365")), true);
        check("½ oz", Written::Grams(d("14.1747615625")), false);
        check("1 1/2 oz", Written::Grams(d("42.5242846875")), false);
        check("1/4", Written::Bare(d("0.25")), false);
        check("1-2 %", Written::Percent(d("1.5")), true);
        check("1 – 2", Written::Bare(d("1.5")), true);
        check("0.5 to 1 g", Written::Grams(d("0.75")), true);
        check("20 drops", Written::Grams(d("1")), true);
        check("2 tsp", Written::Millilitres(d("10")), true);
        check("5 % max", Written::Percent(d("5")), true);
        check("max. 5 %", Written::Percent(d("5")), true);
        check("(5 %)", Written::Percent(d("5")), false);
        check(
            "q.s. (to 100)",
            Written::Qs(Qs::ToWhole(Some(d("100")))),
            false,
        );
        for text in ["lots", "", "5 pinches of", "Glycerin", "1.2.3"] {
            assert!(read(text, None, None).is_err(), "{text}");
        }
    }
}
