//! Money that a text names.

use super::words::words;
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

/// Whether a heading names a currency.
pub(super) fn names_money(heading: &str) -> bool {
    currency_in(heading).is_some()
}
