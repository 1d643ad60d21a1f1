//! Numbers as people write them: decimal comma or point, thousands marks, units,
//! currencies, days.

use std::collections::{BTreeMap, HashMap, HashSet};
use std::fmt;
use std::sync::OnceLock;

use jiff::civil::Date;
use rust_decimal::Decimal;
use serde::Deserialize;

use crate::quantity::{Currency, OUNCE_NANOGRAMS, POUND_NANOGRAMS};

/// The mark before the decimals.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum DecimalMark {
    /// As in 2.5.
    Point,
    /// As in 2,5.
    Comma,
}

impl DecimalMark {
    /// The character.
    pub const fn char(self) -> char {
        match self {
            Self::Point => '.',
            Self::Comma => ',',
        }
    }
    /// In words.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Point => "decimal point",
            Self::Comma => "decimal comma",
        }
    }
}

const TEXT: &str = include_str!("../../../../assets/names/units.ron");

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct Lists {
    units: BTreeMap<String, Vec<String>>,
    behind_names: Vec<String>,
    rough: Vec<String>,
    rough_cut_short: Vec<String>,
}

#[derive(Default)]
struct Words {
    named: HashMap<String, Unit>,
    behind_names: Vec<String>,
    rough: HashSet<String>,
    rough_cut_short: HashSet<String>,
}

/// Read on first use. A list that cannot be read is empty, which the test below does not let
/// pass.
fn words() -> &'static Words {
    static WORDS: OnceLock<Words> = OnceLock::new();
    WORDS.get_or_init(|| {
        let mut lists: Lists = ron::from_str(TEXT).unwrap_or_default();
        let named = Unit::ALL.into_iter().flat_map(|unit| {
            let words = lists.units.remove(unit.label()).unwrap_or_default();
            words.into_iter().map(move |word| (word, unit))
        });
        let named = named.collect();
        Words {
            named,
            behind_names: lists.behind_names,
            rough: lists.rough.into_iter().collect(),
            rough_cut_short: lists.rough_cut_short.into_iter().collect(),
        }
    })
}

/// A unit written beside a number or in a heading.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Unit {
    /// % w/w.
    Percent,
    /// Milligram.
    Milligram,
    /// Gram.
    Gram,
    /// 10 g, on the scales of central Europe.
    Decagram,
    /// 100 g, the "etto" of Italian shops.
    Hectogram,
    /// Kilogram.
    Kilogram,
    /// Avoirdupois ounce, 28.349523125 g exactly (NIST Handbook 44, appendix C).
    Ounce,
    /// Avoirdupois pound, 453.59237 g exactly (NIST Handbook 44, appendix C).
    Pound,
    /// Millilitre.
    Millilitre,
    /// Litre.
    Litre,
}

impl Unit {
    /// All units.
    pub const ALL: [Self; 10] = [
        Self::Percent,
        Self::Milligram,
        Self::Gram,
        Self::Decagram,
        Self::Hectogram,
        Self::Kilogram,
        Self::Ounce,
        Self::Pound,
        Self::Millilitre,
        Self::Litre,
    ];

    /// The unit of a word, in the languages whose tables are read; `None` for others.
    pub fn named(word: &str) -> Option<Self> {
        /// No unit is written with more letters.
        const LONGEST: usize = 16;
        let word = word.trim().trim_end_matches('.');
        if word.is_empty() || word.len() > LONGEST {
            return None;
        }
        words().named.get(&word.to_lowercase()).copied()
    }

    /// A name without the unit of its amount behind it: "Beeswax %", "Water (g)". A number in
    /// front of the unit belongs to the name: "Lactic acid 80 %".
    pub fn taken_off(name: &str) -> &str {
        let in_brackets = || {
            let (rest, inner) = if name.ends_with(']') {
                name.strip_suffix(']')?.rsplit_once('[')?
            } else {
                name.strip_suffix(')')?.rsplit_once('(')?
            };
            Self::named(inner).map(|_| rest)
        };
        let mut behind = words().behind_names.iter();
        let bare = behind
            .find_map(|unit| name.strip_suffix(unit.as_str()))
            .or_else(in_brackets)
            .map(|rest| rest.trim_end_matches(|c: char| c.is_whitespace() || c == ','))
            .filter(|rest| {
                rest.contains(char::is_alphabetic) && !rest.ends_with(|c: char| c.is_ascii_digit())
            });
        bare.unwrap_or(name)
    }

    /// Grams in one of this unit; `None` for percent and volumes.
    pub fn grams(self) -> Option<Decimal> {
        Some(match self {
            Self::Milligram => Decimal::new(1, 3),
            Self::Gram => Decimal::ONE,
            Self::Decagram => Decimal::TEN,
            Self::Hectogram => Decimal::ONE_HUNDRED,
            Self::Kilogram => Decimal::ONE_THOUSAND,
            Self::Ounce => Decimal::new(OUNCE_NANOGRAMS, 9),
            Self::Pound => Decimal::new(POUND_NANOGRAMS, 9).normalize(),
            Self::Percent | Self::Millilitre | Self::Litre => return None,
        })
    }

    /// Millilitres in one of this unit; `None` for percent and masses.
    pub fn millilitres(self) -> Option<Decimal> {
        match self {
            Self::Millilitre => Some(Decimal::ONE),
            Self::Litre => Some(Decimal::ONE_THOUSAND),
            _ => None,
        }
    }

    /// The sign shown.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Percent => "%",
            Self::Milligram => "mg",
            Self::Gram => "g",
            Self::Decagram => "dag",
            Self::Hectogram => "hg",
            Self::Kilogram => "kg",
            Self::Ounce => "oz",
            Self::Pound => "lb",
            Self::Millilitre => "ml",
            Self::Litre => "l",
        }
    }
}

impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.label())
    }
}

/// A number with what stood beside it.
#[derive(Clone, PartialEq, Debug)]
pub struct Amount {
    /// The number.
    pub value: Decimal,
    /// Unit, if written.
    pub unit: Option<Unit>,
    /// Currency, if written.
    pub currency: Option<Currency>,
    /// The mark could be either; the other reading.
    pub or: Option<Decimal>,
}

/// Why a text is not a number.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum NumberError {
    /// No digits, or letters that are no unit.
    #[error("“{0}” is not a number")]
    NotANumber(String),
    /// Marks in the wrong places.
    #[error(
        "“{0}” has points or commas in places where no number has them; write it with a single decimal mark"
    )]
    Marks(String),
    /// Two numbers.
    #[error("“{0}” is a range; write the one number that is meant")]
    Range(String),
    /// Larger than any amount.
    #[error("“{0}” is larger than any amount; check the digits")]
    TooLarge(String),
    /// Too many digits.
    #[error("“{0}” has more digits than can be kept")]
    Digits(String),
}

/// Largest number taken for an amount, in any unit: far above anything weighed or paid, and so
/// far below what a decimal holds that the cells of a whole table add up, in any unit.
const LARGEST: Decimal = Decimal::from_parts(2_764_472_320, 232_830, 0, false, 0);

/// A number as an amount; `None` if it is larger than any.
pub fn within(value: Decimal) -> Option<Decimal> {
    (value.abs() <= LARGEST).then_some(value)
}

/// A decimal from a stored double: at most 15 significant digits, which is what
/// spreadsheet programs keep, so that 0.1 + 0.2 comes out as 0.3. `None` if it is
/// not finite or larger than any amount.
pub fn from_double(value: f64) -> Option<Decimal> {
    if !value.is_finite() || value.abs() >= 1e15 {
        return None;
    }
    if value.abs() < 1e-20 {
        return Some(Decimal::ZERO);
    }
    Decimal::from_scientific(&format!("{value:.14e}"))
        .ok()
        .and_then(|d| within(d.normalize()))
}

/// The double nearest to a decimal; the conversion of the decimal library is a few units of the
/// last place off, so that a figure would not come back as it was written.
pub fn to_double(value: Decimal) -> f64 {
    value.to_string().parse().unwrap_or(f64::NAN)
}

/// A plain decimal as files of this program write it: digits with a point, no marks of
/// thousands.
pub fn plain(text: &str) -> Option<Decimal> {
    text.parse().ok()
}

/// The day at the start of an ISO 8601 text.
pub fn iso_date(text: &str) -> Option<Date> {
    text.get(..10)?.parse().ok()
}

/// A day in the forms usual in tables: 2027-03-31, 31.3.2027, 31/03/2027 and
/// 03/2027 or 2027-03 (the last day of the month is meant). A month before the day,
/// as in 03/31/2027, is understood only where it cannot be a day.
pub fn date(text: &str) -> Option<Date> {
    let text = text.trim();
    if let Some(date) = iso_date(text) {
        return Some(date);
    }
    let parts: Vec<i16> = text
        .split(['.', '/', '-', ' '])
        .filter(|p| !p.is_empty())
        .map(|p| p.parse().ok())
        .collect::<Option<_>>()?;
    let year = |y: i16| if (0..100).contains(&y) { 2000 + y } else { y };
    let day = |y: i16, m: i16, d: i16| {
        Date::new(year(y), i8::try_from(m).ok()?, i8::try_from(d).ok()?).ok()
    };
    match *parts.as_slice() {
        [y, m, d] if y >= 1000 => day(y, m, d),
        [d, m, y] => day(y, m, d).or_else(|| day(y, d, m)),
        [y, m] if y >= 1000 => day(y, m, 1).map(Date::last_of_month),
        [m, y] => day(y, m, 1).map(Date::last_of_month),
        _ => None,
    }
}

fn is_blank(c: char) -> bool {
    c.is_whitespace() || matches!(c, '\u{A0}' | '\u{202F}' | '\u{2009}')
}

/// A number as it stands in a text, with what stands around it.
#[derive(Clone, PartialEq, Debug)]
pub struct WrittenNumber<'t> {
    /// The number.
    pub value: Decimal,
    /// The mark could be either; the other reading.
    pub or: Option<Decimal>,
    /// Text before the number, without its sign and blanks.
    pub before: &'t str,
    /// The number itself, as written, without its sign.
    pub digits: &'t str,
    /// Text after the number, without blanks.
    pub after: &'t str,
    /// Whether it was written with a power of ten, as in 1.2E-05.
    pub scientific: bool,
}

/// Finds the first number of a text: its sign, its value and what stands around it.
///
/// `mark` is the decimal mark, if known. Without it, "1,250" may be one and a quarter or
/// twelve hundred and fifty: the decimal reading is returned and the other one stands in
/// [`WrittenNumber::or`]. A second number behind a dash or slash is refused as a range.
pub fn written(text: &str, mark: Option<DecimalMark>) -> Result<WrittenNumber<'_>, NumberError> {
    let shown = || text.split_whitespace().collect::<Vec<_>>().join(" ");
    let trimmed = text.trim_matches(is_blank);
    let first = trimmed
        .find(|c: char| c.is_ascii_digit())
        .ok_or_else(|| NumberError::NotANumber(shown()))?;
    // A mark right before the first digit belongs to the number: ".5".
    let start = match trimmed[..first].chars().next_back() {
        Some(c @ ('.' | ',')) => first - c.len_utf8(),
        _ => first,
    };
    let (before, rest) = trimmed.split_at(start);
    let unsigned = before.trim_end_matches(is_blank);
    let (before, negative) = match unsigned.chars().next_back() {
        Some(c @ ('-' | '−' | '–')) => (&unsigned[..unsigned.len() - c.len_utf8()], true),
        Some('+') => (&unsigned[..unsigned.len() - 1], false),
        _ => (before, false),
    };
    let mut end = rest.len();
    let letters: Vec<(usize, char)> = rest.char_indices().collect();
    for (n, &(place, c)) in letters.iter().enumerate() {
        let next_is_digit = letters.get(n + 1).is_some_and(|(_, c)| c.is_ascii_digit());
        let goes_on = c.is_ascii_digit()
            || (matches!(c, '.' | ',' | '\'' | '’') && next_is_digit)
            // A blank is a thousands mark if exactly three digits follow.
            || (is_blank(c)
                && (1..=3).all(|k| letters.get(n + k).is_some_and(|(_, c)| c.is_ascii_digit()))
                && letters.get(n + 4).is_none_or(|(_, c)| !c.is_ascii_digit()));
        if !goes_on {
            end = place;
            break;
        }
    }
    let (digits, after) = rest.split_at(end);
    let (exponent, after) = exponent_of(after);
    // "5." and "5," at the end of a cell.
    let after = after
        .strip_prefix(['.', ','])
        .filter(|a| a.trim_matches(is_blank).is_empty())
        .unwrap_or(after);
    if after
        .trim_start_matches(is_blank)
        .starts_with(['-', '–', '−', '/'])
        && after.contains(|c: char| c.is_ascii_digit())
    {
        return Err(NumberError::Range(shown()));
    }
    let (mut value, mut or) = plain_number(digits, mark).map_err(|e| match e {
        Fault::Marks => NumberError::Marks(shown()),
        Fault::Digits => NumberError::Digits(shown()),
    })?;
    if exponent != 0 {
        let shift = |v: Decimal| Decimal::from_scientific(&format!("{v}e{exponent}")).ok();
        value = shift(value).ok_or_else(|| NumberError::Digits(shown()))?;
        or = None;
    }
    value = within(value).ok_or_else(|| NumberError::TooLarge(shown()))?;
    or = or.and_then(within);
    if negative {
        value = -value;
        or = or.map(|o| -o);
    }
    Ok(WrittenNumber {
        value,
        or,
        before: before.trim_matches(is_blank),
        digits,
        after: after.trim_matches(is_blank),
        scientific: exponent != 0,
    })
}

/// Whether a word or sign only says that the number beside it is rough. `word` is in small
/// letters without accents and full stop.
pub fn is_rough(word: &str) -> bool {
    words().rough.contains(word)
}

/// The same of a word that was cut short by a full stop: "ok." is "około", "ok" is not.
pub fn is_rough_cut_short(word: &str) -> bool {
    words().rough_cut_short.contains(word)
}

/// Reads a number with an optional unit or currency on either side; see [`written`].
pub fn amount(text: &str, mark: Option<DecimalMark>) -> Result<Amount, NumberError> {
    let found = written(text, mark)?;
    let (mut unit, mut currency) = (None, None);
    for side in [found.before, found.after] {
        if side.is_empty() || is_rough(side.trim_end_matches('.')) {
            continue;
        }
        if let Some(named) = Unit::named(side) {
            unit = Some(named);
        } else if let Some(named) = currency_of(side) {
            currency = Some(named);
        } else {
            let shown = text.split_whitespace().collect::<Vec<_>>().join(" ");
            return Err(NumberError::NotANumber(shown));
        }
    }
    // A percentage beyond 100 is never meant, so the other reading is out.
    let or = found
        .or
        .filter(|o| unit != Some(Unit::Percent) || o.abs() <= Decimal::ONE_HUNDRED);
    Ok(Amount {
        value: found.value,
        unit,
        currency,
        or,
    })
}

/// The exponent of a number such as 1.2E-05, and what follows it.
fn exponent_of(after: &str) -> (i32, &str) {
    let Some(rest) = after.strip_prefix(['e', 'E']) else {
        return (0, after);
    };
    let (sign, rest) = match rest.strip_prefix('-') {
        Some(rest) => (-1, rest),
        None => (1, rest.strip_prefix('+').unwrap_or(rest)),
    };
    let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
    match rest.get(..digits).and_then(|d| d.parse::<i32>().ok()) {
        Some(n) if n <= 20 => (sign * n, rest.get(digits..).unwrap_or_default()),
        _ => (0, after),
    }
}

enum Fault {
    Marks,
    Digits,
}

/// A number of digits and marks only, and its other reading if it has one.
fn plain_number(
    text: &str,
    mark: Option<DecimalMark>,
) -> Result<(Decimal, Option<Decimal>), Fault> {
    let always_thousands = |c: char| is_blank(c) || matches!(c, '\'' | '’');
    let points = text.matches('.').count();
    let commas = text.matches(',').count();
    // Where the decimals begin, as the byte place of the mark.
    let (decimal, other) = match (points, commas) {
        (0, 0) => (None, None),
        // Both: the last one is the decimal mark, and stands once.
        (p, c) if p > 0 && c > 0 => {
            let (last_point, last_comma) = (text.rfind('.'), text.rfind(','));
            let place = last_point.max(last_comma);
            let once = if last_point > last_comma {
                p == 1
            } else {
                c == 1
            };
            if !once {
                return Err(Fault::Marks);
            }
            (place, None)
        }
        // One kind, several times: thousands.
        (p, c) if p + c > 1 => (None, None),
        _ => {
            let place = text.find(['.', ',']).unwrap_or(0);
            let sign = if points == 1 {
                DecimalMark::Point
            } else {
                DecimalMark::Comma
            };
            let whole = text.get(..place).unwrap_or_default();
            let decimals = text.get(place + 1..).unwrap_or_default();
            let like_thousands =
                decimals.len() == 3 && (1..=3).contains(&whole.len()) && !whole.starts_with('0');
            match mark {
                Some(known) if known != sign && like_thousands => (None, None),
                None if like_thousands => (Some(place), Some(())),
                // Even against the column's mark, if it can be nothing else.
                _ => (Some(place), None),
            }
        }
    };
    let (whole, decimals) = match decimal {
        Some(place) => (
            text.get(..place).unwrap_or_default(),
            text.get(place + 1..).unwrap_or_default(),
        ),
        None => (text, ""),
    };
    check_groups(whole)?;
    if decimals.contains(always_thousands) {
        return Err(Fault::Marks);
    }
    let digits_of = |t: &str| t.chars().filter(char::is_ascii_digit).collect::<String>();
    let number = |whole: &str, decimals: &str| {
        format!("{}.{}", digits_of(whole), digits_of(decimals))
            .trim_end_matches('.')
            .parse::<Decimal>()
            .map_err(|_too_many| Fault::Digits)
    };
    let whole = if whole.is_empty() { "0" } else { whole };
    let value = number(whole, decimals)?;
    let or = match other {
        Some(()) => Some(number(text, "")?),
        None => None,
    };
    Ok((value, or))
}

/// Thousands marks stand every three digits and are all the same.
fn check_groups(whole: &str) -> Result<(), Fault> {
    let mut marks = whole.chars().filter(|c| !c.is_ascii_digit());
    let Some(mark) = marks.next() else {
        return Ok(());
    };
    let alike = marks.all(|m| m == mark || (is_blank(m) && is_blank(mark)));
    let mut groups = whole.split(|c: char| !c.is_ascii_digit());
    let first = groups.next().map_or(0, str::len);
    if alike && (1..=3).contains(&first) && groups.all(|g| g.len() == 3) {
        Ok(())
    } else {
        Err(Fault::Marks)
    }
}

/// The currency of a sign or of three letters.
pub fn currency_of(text: &str) -> Option<Currency> {
    match text.trim() {
        "€" => Currency::new("EUR"),
        "£" => Currency::new("GBP"),
        "$" | "US$" => Currency::new("USD"),
        "Fr." | "Fr" | "SFr." => Currency::new("CHF"),
        "zł" => Currency::new("PLN"),
        "Kč" => Currency::new("CZK"),
        "kr" | "kr." => None, // several countries' money
        code if code.len() == 3 && code.bytes().all(|b| b.is_ascii_uppercase()) => {
            Currency::new(code)
        }
        _ => None,
    }
}

/// The decimal mark that the numbers of a column agree on. `None` if none of them
/// tells, or if they contradict each other.
pub fn mark_of<'t>(texts: impl IntoIterator<Item = &'t str>) -> Option<DecimalMark> {
    let (mut points, mut commas) = (0, 0);
    for text in texts {
        let digits_after = |c: char| {
            text.rfind(c).map(|place| {
                text.get(place + 1..)
                    .unwrap_or_default()
                    .bytes()
                    .take_while(u8::is_ascii_digit)
                    .count()
            })
        };
        let (point, comma) = (text.rfind('.'), text.rfind(','));
        let count = |c: char| text.matches(c).count();
        match (point, comma) {
            (Some(p), Some(c)) if p > c => points += 1,
            (Some(_), Some(_)) => commas += 1,
            // Several of one kind are thousands marks, so the other is the decimal mark.
            (Some(_), None) if count('.') > 1 => commas += 1,
            (None, Some(_)) if count(',') > 1 => points += 1,
            (Some(_), None) => match digits_after('.') {
                Some(3) if !text.trim_start().starts_with("0.") => {}
                Some(1..) => points += 1,
                _ => {}
            },
            (None, Some(_)) => match digits_after(',') {
                Some(3) if !text.trim_start().starts_with("0,") => {}
                Some(1..) => commas += 1,
                _ => {}
            },
            (None, None) => {}
        }
    }
    match (points, commas) {
        (0, 0) => None,
        (p, 0) if p > 0 => Some(DecimalMark::Point),
        (0, _) => Some(DecimalMark::Comma),
        // A rare slip does not turn a column.
        (p, c) if p >= 10 * c => Some(DecimalMark::Point),
        (p, c) if c >= 10 * p => Some(DecimalMark::Comma),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, mark: Option<DecimalMark>, expected: &str) {
        let got = amount(text, mark).unwrap_or_else(|e| panic!("{text}: {e}"));
        assert_eq!(got.value.normalize().to_string(), expected, "for “{text}”");
    }

    #[test]
    fn decimal_marks_and_thousands_marks() {
        use DecimalMark::{Comma, Point};
        for (text, mark, expected) in [
            ("2.5", None, "2.5"),
            ("2,5", None, "2.5"),
            ("  70 ", None, "70"),
            (".5", None, "0.5"),
            (",25", None, "0.25"),
            ("5.", None, "5"),
            ("0,125", None, "0.125"),
            ("1.234,56", None, "1234.56"),
            ("1,234.56", None, "1234.56"),
            ("1,234,567", None, "1234567"),
            ("1.234.567", None, "1234567"),
            ("1 234,5", None, "1234.5"),
            ("1\u{202F}234\u{202F}567,5", None, "1234567.5"),
            ("1'234.50", None, "1234.5"),
            ("1’234.50", None, "1234.5"),
            ("1,250", Some(Comma), "1.25"),
            ("1,250", Some(Point), "1250"),
            ("1.250", Some(Comma), "1250"),
            ("1.250", Some(Point), "1.25"),
            ("2,5", Some(Point), "2.5"),
            ("-0,3", None, "-0.3"),
            ("− 0,3", None, "-0.3"),
            ("1.2E-05", None, "0.000012"),
            ("1,2e+3", None, "1200"),
        ] {
            check(text, mark, expected);
        }
        assert_eq!(amount("1,250", None).unwrap().or, Some(Decimal::from(1250)));
        assert_eq!(amount("0,250", None).unwrap().or, None);
        assert_eq!(amount("1,250 %", None).unwrap().or, None);
    }

    #[test]
    fn units_and_currencies() {
        let unit = |text: &str| amount(text, None).unwrap().unit;
        assert_eq!(unit("70%"), Some(Unit::Percent));
        assert_eq!(unit("70 % w/w"), Some(Unit::Percent));
        assert_eq!(unit("2,5 g"), Some(Unit::Gram));
        assert_eq!(unit("1 kg"), Some(Unit::Kilogram));
        assert_eq!(unit("8 oz."), Some(Unit::Ounce));
        assert_eq!(unit("250ml"), Some(Unit::Millilitre));
        assert_eq!(unit("12"), None);
        let money = |text: &str| amount(text, None).unwrap().currency.map(|c| c.to_string());
        assert_eq!(money("€ 12,50").as_deref(), Some("EUR"));
        assert_eq!(money("12.50 GBP").as_deref(), Some("GBP"));
        assert_eq!(money("$12.50").as_deref(), Some("USD"));
        assert_eq!(Unit::Pound.grams().unwrap().to_string(), "453.59237");
    }

    #[test]
    fn what_is_no_number_is_refused() {
        for text in [
            "",
            "water",
            "q.s.",
            "12 apples",
            "1.2.3",
            "1,23,456",
            "12,34.5,6",
            "1 2",
        ] {
            assert!(amount(text, None).is_err(), "for “{text}”");
        }
        assert!(matches!(amount("1-2", None), Err(NumberError::Range(_))));
        assert!(matches!(
            amount("0.5 – 1 %", None),
            Err(NumberError::Range(_))
        ));
    }

    #[test]
    fn doubles_lose_their_binary_tail() {
        assert_eq!(from_double(0.1 + 0.2).unwrap().to_string(), "0.3");
        assert_eq!(from_double(70.55).unwrap().to_string(), "70.55");
        assert_eq!(from_double(1e-7).unwrap().to_string(), "0.0000001");
        assert_eq!(from_double(1234567.0).unwrap().to_string(), "1234567");
        assert_eq!(from_double(f64::NAN), None);
        assert_eq!(from_double(1e300), None);
        assert_eq!(from_double(0.0), Some(Decimal::ZERO));
    }

    #[test]
    fn a_decimal_becomes_the_nearest_double() {
        for written in ["0.09223372036854775", "14.98", "0.1", "123456789.123456789"] {
            let decimal: Decimal = written.parse().unwrap();
            assert_eq!(
                to_double(decimal),
                written.parse::<f64>().unwrap(),
                "{written}"
            );
        }
    }

    #[test]
    fn a_column_tells_its_mark() {
        assert_eq!(mark_of(["1,250", "2,5", "70"]), Some(DecimalMark::Comma));
        assert_eq!(mark_of(["1,250", "2.5"]), Some(DecimalMark::Point));
        assert_eq!(mark_of(["1,250", "70"]), None);
        assert_eq!(mark_of(["1.234.567"]), Some(DecimalMark::Comma));
        assert_eq!(mark_of(["2,5", "2.5"]), None);
    }

    #[test]
    fn days_are_read() {
        let day = |t: &str| date(t).map(|d| d.to_string());
        assert_eq!(day("2027-03-31").as_deref(), Some("2027-03-31"));
        assert_eq!(day("2027-03-31T00:00:00").as_deref(), Some("2027-03-31"));
        assert_eq!(day("31.3.2027").as_deref(), Some("2027-03-31"));
        assert_eq!(day("31/03/27").as_deref(), Some("2027-03-31"));
        assert_eq!(day("03/31/2027").as_deref(), Some("2027-03-31"));
        assert_eq!(day("02/2028").as_deref(), Some("2028-02-29"));
        assert_eq!(day("2027-03").as_deref(), Some("2027-03-31"));
        assert_eq!(day("soon"), None);
    }

    proptest::proptest! {
        #[test]
        fn no_text_panics(text in "\\PC{0,20}", digits in "[0-9.,' eE+-]{0,20}") {
            for t in [&text, &digits] {
                let _ = amount(t, None);
                let _ = amount(t, Some(DecimalMark::Comma));
                let _ = date(t);
                let _ = mark_of([t.as_str()]);
            }
        }
        #[test]
        fn printed_decimals_read_back(units in -1_000_000_000_i64..1_000_000_000, scale in 0_u32..8) {
            let value = Decimal::new(units, scale);
            let read = amount(&value.to_string(), Some(DecimalMark::Point)).unwrap();
            proptest::prop_assert_eq!(read.value, value);
            let comma = amount(&value.to_string().replace('.', ","), Some(DecimalMark::Comma)).unwrap();
            proptest::prop_assert_eq!(comma.value, value);
        }
    }
}
