//! Days in tables. 03/04/2027 is two days; which one, the whole file tells or nobody.

use jiff::civil::Date;

use crate::amount::number;
use crate::file::table::words::words;
use crate::naming::words_of;

/// Which number of a day such as 03/04/2027 comes first.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum DayOrder {
    /// The day, as in most of the world.
    DayFirst,
    /// The month, as in the United States.
    MonthFirst,
}

impl DayOrder {
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::DayFirst => "day first",
            Self::MonthFirst => "month first",
        }
    }
}

/// Day and month of a text in which either may come first, as numbers in their order.
fn two_numbers(text: &str) -> Option<(i16, i16)> {
    // Points stand between day, month and year, in this order, wherever they are used.
    let parts: Vec<i16> = text
        .trim()
        .split(['/', '-', ' '])
        .filter(|p| !p.is_empty())
        .map(|p| p.parse().ok())
        .collect::<Option<_>>()?;
    match *parts.as_slice() {
        [a, b, _] if a < 1000 => Some((a, b)),
        _ => None,
    }
}

/// The order that the days of a file have in common; `Err` with an example if nothing
/// tells, `Ok(None)` if no day is open.
pub(super) fn order_of<'t>(
    texts: impl IntoIterator<Item = &'t str>,
) -> Result<Option<DayOrder>, &'t str> {
    let (mut day, mut month, mut open) = (false, false, None);
    for text in texts {
        match two_numbers(text) {
            Some((a, b)) if a > 12 && b <= 12 => day = true,
            Some((a, b)) if b > 12 && a <= 12 => month = true,
            Some((a, b)) if a != b => open = open.or(Some(text)),
            _ => {}
        }
    }
    match (day, month, open) {
        (_, _, None) => Ok(None),
        (true, false, _) => Ok(Some(DayOrder::DayFirst)),
        (false, true, _) => Ok(Some(DayOrder::MonthFirst)),
        (_, _, Some(text)) => Err(text),
    }
}

/// The day of a text.
pub(super) fn day(text: &str, order: DayOrder) -> Option<Date> {
    if let Some((a, b)) = two_numbers(text)
        && order == DayOrder::MonthFirst
        && a <= 12
    {
        let year = text.trim().rsplit(['/', '-', ' ']).next()?;
        return number::date(&format!("{b}.{a}.{year}"));
    }
    number::date(text).or_else(|| with_month_name(text))
}

/// "31 May 2027", "Mai 2027", "Jan-27".
fn with_month_name(text: &str) -> Option<Date> {
    let parts = words_of(&text.replace('-', " "));
    let month = parts
        .iter()
        .find_map(|w| words().months.iter().position(|names| names.contains(w)))?
        + 1;
    let numbers: Vec<&String> = parts
        .iter()
        .filter(|w| w.bytes().all(|b| b.is_ascii_digit()))
        .collect();
    match numbers.as_slice() {
        [year] => number::date(&format!("{month}/{year}")),
        [day, year] if year.len() >= 2 => number::date(&format!("{day}.{month}.{year}")),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_file_tells_the_order_or_nobody() {
        use DayOrder::{DayFirst, MonthFirst};
        assert_eq!(order_of(["03/04/2027", "25/06/2027"]), Ok(Some(DayFirst)));
        assert_eq!(order_of(["03/04/2027", "06/25/2027"]), Ok(Some(MonthFirst)));
        assert_eq!(order_of(["03/04/2027", "05/06/2027"]), Err("03/04/2027"));
        assert_eq!(order_of(["03.04.2027", "05/05/2027"]), Ok(None));
        let check = |text: &str, order, expected: Option<Date>| {
            assert_eq!(day(text, order), expected, "{text}");
        };
        check("03/04/2027", DayFirst, Some(Date::constant(2027, 4, 3)));
        check("03/04/2027", MonthFirst, Some(Date::constant(2027, 3, 4)));
        check("03.04.2027", MonthFirst, Some(Date::constant(2027, 4, 3)));
        check("31 May 2027", DayFirst, Some(Date::constant(2027, 5, 31)));
        check("Mai 2027", DayFirst, Some(Date::constant(2027, 5, 31)));
        check("Jan-27", DayFirst, Some(Date::constant(2027, 1, 31)));
        check("06/2027", MonthFirst, Some(Date::constant(2027, 6, 30)));
        check("soon", DayFirst, None);
    }
}
