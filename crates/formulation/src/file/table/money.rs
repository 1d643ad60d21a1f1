//! Money that a text names.

use super::words::words;
use super::{Cell, Table};
use crate::amount::number;
use crate::naming::words_of;
use crate::quantity::Currency;

/// Currency of a heading, as in “Price (EUR)” and "Preis in €/kg".
pub(super) fn currency_in(text: &str) -> Option<Currency> {
    let signs = [("€", "EUR"), ("£", "GBP"), ("US$", "USD"), ("$", "USD")];
    // Other three letters in capitals, such as HLB, are no money.
    text.split(|c: char| c.is_whitespace() || "()[]/,;:".contains(c))
        .filter_map(number::currency_of)
        .find(|c| words().currency_codes.contains(c.to_string().as_str()))
        .or_else(|| {
            signs
                .iter()
                .find(|(sign, _)| text.contains(sign))
                .and_then(|(_, code)| Currency::new(code))
        })
        .or_else(|| {
            let folded = words_of(text);
            words()
                .currencies
                .iter()
                .find(|(word, _)| folded.contains(word))
                .and_then(|(_, code)| Currency::new(code))
        })
}

/// The currency of a table whose only word for money is that of several countries, "kr", by the
/// tongue that it is written in; `None` if no such word stands in it, or nothing tells.
pub(super) fn by_tongue(table: &Table) -> Option<Currency> {
    let cells = table.rows.iter().flatten();
    let texts = cells.filter_map(|cell| match cell {
        Cell::Text(text) => Some(text),
        _ => None,
    });
    let said: Vec<String> = texts.flat_map(|text| words_of(text)).collect();
    let lists = words();
    if !said.iter().any(|word| lists.shared_money.contains(word)) {
        return None;
    }
    let ends_so = |word: &String, end: &String| word == end || end.len() > 3 && word.ends_with(end);
    let counts = lists.tongues_of_money.iter().map(|(code, ends)| {
        let told = said
            .iter()
            .filter(|word| ends.iter().any(|end| ends_so(word, end)));
        (told.count(), code)
    });
    let mut counts: Vec<(usize, &String)> = counts.collect();
    counts.sort_unstable_by(|a, b| b.cmp(a));
    match counts.as_slice() {
        [(most, code), (next, _), ..] if most > next => Currency::new(code),
        _ => None,
    }
}

/// Whether a heading names a currency.
pub(super) fn names_money(heading: &str) -> bool {
    currency_in(heading).is_some()
}
