//! What a pack holds: "5 kg", "4 x 250 g", "1 l can", "Glycerin, 1 kg".

use std::collections::HashSet;
use std::fmt;

use rust_decimal::Decimal;

use crate::amount::number::{self, DecimalMark, Unit};
use crate::file::table::amounts::{self, WrittenAmount};
use crate::file::table::words::words;
use crate::naming::words_of;

/// What is asked of several packs in one.
pub(super) const IN_ALL: &str = "was taken as one pack of";

/// What a pack holds.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Pack {
    /// Grams.
    Grams(Decimal),
    /// Millilitres; the mass follows from the density of the material.
    Millilitres(Decimal),
}

impl Pack {
    /// So many of a unit; `None` for a percentage.
    pub(super) fn of(value: Decimal, unit: Unit) -> Option<Self> {
        unit.grams()
            .map(|each| Self::Grams(value * each))
            .or_else(|| {
                unit.millilitres()
                    .map(|each| Self::Millilitres(value * each))
            })
    }

    /// How many times this holds another, if both are masses or both volumes.
    pub(super) fn ratio(self, other: Self) -> Option<Decimal> {
        match (self, other) {
            (Self::Grams(a), Self::Grams(b)) | (Self::Millilitres(a), Self::Millilitres(b)) => {
                a.checked_div(b)
            }
            _ => None,
        }
    }

    /// So many of them; the largest decimal where that is more, which no pack can be.
    pub(super) fn times(self, count: Decimal) -> Self {
        match self {
            Self::Grams(g) => Self::Grams(g.saturating_mul(count)),
            Self::Millilitres(ml) => Self::Millilitres(ml.saturating_mul(count)),
        }
    }
}

impl fmt::Display for Pack {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Grams(grams) => write!(f, "{} g", grams.normalize()),
            Self::Millilitres(ml) => write!(f, "{} ml", ml.normalize()),
        }
    }
}

/// A pack as a cell writes it.
#[derive(Clone, PartialEq, Debug)]
pub(super) enum PackWritten {
    /// With a unit.
    Pack(Pack, Vec<String>),
    /// A number without any.
    Bare(Decimal),
}

/// A US liquid gallon is 3785.411784 ml exactly (NIST Handbook 44, appendix C).
fn gallon() -> Decimal {
    Decimal::new(3_785_411_784, 6)
}

/// Reads what a pack holds; words around it, such as "can", count for nothing.
pub(super) fn pack(
    text: &str,
    unit: Option<Unit>,
    mark: Option<DecimalMark>,
) -> Option<PackWritten> {
    let text = text.trim();
    if let Some(found) = plain(text, unit, mark) {
        return Some(found);
    }
    // "4 x 250 g": all of them together.
    if let Some((count, each)) = multiplied(text)
        && let Some(PackWritten::Pack(one, mut doubts)) = plain(each, unit, mark)
    {
        doubts.push(format!("“{text}” {IN_ALL} {} in all", one.times(count)));
        return Some(PackWritten::Pack(one.times(count), doubts));
    }
    within(text, mark).map(|(pack, _)| PackWritten::Pack(pack, Vec::new()))
}

/// Whether a text is a pack of a size in which materials are sold: "500 g", "2.5 kg", "1 l".
pub(super) fn is_usual(text: &str) -> bool {
    let Some((Pack::Grams(size) | Pack::Millilitres(size), rest)) = within(text, None) else {
        return false;
    };
    let mut digits = size.normalize();
    while digits >= Decimal::TEN && (digits % Decimal::TEN).is_zero() {
        digits /= Decimal::TEN;
    }
    rest.split_whitespace().count() <= 1
        && digits.normalize().scale() == 0
        && digits < Decimal::ONE_HUNDRED
        && (digits < Decimal::TEN || (digits % Decimal::from(5)).is_zero())
}

/// A name without the size of a pack in it: "Glycerin" of "Glycerin, 1 kg".
pub(super) fn without_pack(text: &str) -> Option<String> {
    within(text, None).map(|(_, rest)| rest)
}

/// What is assumed of a gallon, unless the money is that of the United States too.
pub(super) const US_GALLONS: &str = "gallons were taken as those of the United States, 3785.41 ml";

fn plain(text: &str, unit: Option<Unit>, mark: Option<DecimalMark>) -> Option<PackWritten> {
    let lower = text.to_lowercase();
    for word in ["gallons", "gallon", "gal"] {
        if let Some(count) = lower.trim_end_matches('.').strip_suffix(word) {
            let count = number::amount(count, mark).ok()?.value;
            return Some(PackWritten::Pack(
                Pack::Millilitres(count * gallon()),
                vec![US_GALLONS.to_owned()],
            ));
        }
    }
    // "kg" in a column of what a price is for.
    if let Some(pack) = Unit::named(text).and_then(|u| Pack::of(Decimal::ONE, u)) {
        return Some(PackWritten::Pack(pack, Vec::new()));
    }
    let reading = amounts::read(text, unit, mark).ok()?;
    Some(match reading.written {
        WrittenAmount::Grams(g) => PackWritten::Pack(Pack::Grams(g), reading.doubts),
        WrittenAmount::Millilitres(ml) => PackWritten::Pack(Pack::Millilitres(ml), reading.doubts),
        WrittenAmount::Bare(value) => PackWritten::Bare(value),
        WrittenAmount::Percent(_) | WrittenAmount::Parts(_) | WrittenAmount::Qs(_) => return None,
    })
}

/// "4 x 250 g", "2x1kg", "12 × 50 g".
fn multiplied(text: &str) -> Option<(Decimal, &str)> {
    let place = text.find(['x', '×', 'X', '*'])?;
    let count: Decimal = text
        .get(..place)?
        .trim()
        .parse()
        .ok()
        .and_then(number::within)?;
    let sign = text.get(place..)?.chars().next()?;
    (count > Decimal::ONE).then_some(())?;
    Some((count, text.get(place + sign.len_utf8()..)?.trim()))
}

/// The last mass or volume within a text, and the text without it: "Shea butter 500 g",
/// "Beeswax (250g)", "can of 5 kg".
pub(super) fn within(text: &str, mark: Option<DecimalMark>) -> Option<(Pack, String)> {
    let letters: Vec<(usize, char)> = text.char_indices().collect();
    let mut best = None;
    let mut n = 0;
    while let Some(&(start, letter)) = letters.get(n) {
        let fresh = n
            .checked_sub(1)
            .and_then(|m| letters.get(m))
            .is_none_or(|(_, c)| !c.is_alphanumeric() && !matches!(c, '-' | '.' | ','));
        if !letter.is_ascii_digit() || !fresh {
            n += 1;
            continue;
        }
        let mut end = n;
        while letters
            .get(end)
            .is_some_and(|(_, c)| c.is_ascii_digit() || matches!(c, '.' | ','))
        {
            end += 1;
        }
        let digits_end = letters.get(end).map_or(text.len(), |(at, _)| *at);
        while letters.get(end).is_some_and(|(_, c)| c.is_whitespace()) {
            end += 1;
        }
        let unit_start = letters.get(end).map_or(text.len(), |(at, _)| *at);
        while letters.get(end).is_some_and(|(_, c)| c.is_alphabetic()) {
            end += 1;
        }
        let unit_end = letters.get(end).map_or(text.len(), |(at, _)| *at);
        let unit = text.get(unit_start..unit_end).and_then(Unit::named);
        let value = text
            .get(start..digits_end)
            .and_then(|t| number::amount(t.trim_end_matches([',', '.']), mark).ok());
        if let (Some(unit), Some(value)) = (unit, value)
            && let Some(pack) = Pack::of(value.value, unit)
        {
            best = Some((pack, start, unit_end));
        }
        n = end.max(n + 1);
    }
    let (pack, start, end) = best?;
    let rest = format!(
        "{} {}",
        text.get(..start).unwrap_or_default(),
        text.get(end..).unwrap_or_default()
    );
    let rest = rest
        .replace("()", " ")
        .replace("( )", " ")
        .replace("[ ]", " ");
    let rest = rest.split_whitespace().collect::<Vec<_>>().join(" ");
    let rest = rest
        .trim_matches(|c: char| c.is_whitespace() || matches!(c, ',' | '-' | '–' | ';' | '/' | ':'))
        .to_owned();
    Some((pack, rest))
}

/// The least number of packs that a heading is for: "from 10", "5 à 9", "10+"; `None` if it is
/// of anything else.
pub(super) fn from_count(text: &str) -> Option<Decimal> {
    /// More words say something else.
    const MOST_WORDS: usize = 6;
    /// Nobody orders so many.
    const MOST: Decimal = Decimal::ONE_THOUSAND;
    let folded = words_of(text);
    let measured = text
        .split(|c: char| !c.is_alphabetic())
        .filter(|t| !t.is_empty())
        .any(|t| Unit::named(t).is_some());
    let other = text.contains(['%', '/']) || measured || folded.len() > MOST_WORDS;
    let least = least_in(text, &folded).filter(|_| !other)?;
    (least.is_integer() && least > Decimal::ZERO && least < MOST).then_some(least)
}

/// The number from which on a heading is: "from 5", "5–24", "25+".
pub(super) fn least_in(text: &str, folded: &[String]) -> Option<Decimal> {
    let lists = words();
    let says = |list: &HashSet<String>| {
        folded.iter().any(|w| list.contains(w))
            || folded.windows(2).any(|w| list.contains(&w.join(" ")))
    };
    let mut numbers = text
        .split(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',')))
        .map(|t| t.trim_matches(['.', ',']))
        .filter(|t| !t.is_empty())
        .filter_map(|t| number::amount(t, None).ok())
        .map(|amount| amount.value);
    let first = numbers.next()?;
    let second = numbers.next();
    let says_from = text.contains(['≥', '>', '+']) || says(&lists.from);
    let range = second.is_some_and(|s| s > first)
        && (text.contains(['-', '–', '—']) || folded.iter().any(|w| lists.up_to.contains(w)));
    (says_from || range).then_some(first)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn packs_are_read_in_every_form() {
        let grams = |n: i64| Pack::Grams(Decimal::from(n));
        let check = |text: &str, expected: Pack| {
            let found = pack(text, None, None);
            assert!(
                matches!(&found, Some(PackWritten::Pack(p, _)) if *p == expected),
                "{text}: {found:?}"
            );
        };
        check("5 kg", grams(5000));
        check("4 x 250 g", grams(1000));
        check("2x1kg", grams(2000));
        check("5 kg can", grams(5000));
        check("drum, 25 kg", grams(25_000));
        check("1 gal", Pack::Millilitres("3785.411784".parse().unwrap()));
        assert_eq!(
            within("Shea butter 500 g", None),
            Some((grams(500), "Shea butter".to_owned()))
        );
        assert_eq!(
            within("Beeswax pellets (250g)", None),
            Some((grams(250), "Beeswax pellets".to_owned()))
        );
        assert_eq!(within("Polysorbate 20", None), None);
        assert_eq!(within("Glycerin 99.5 %", None), None);
    }
}
