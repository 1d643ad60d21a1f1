//! Exact quantities as they are written in files: as texts, so that no reader turns them
//! into binary numbers.

use std::fmt;

use serde::de::Error;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::batch_code::BatchCode;
use crate::formula::Date;
use crate::mass::{ExactMass, MassUnit, read_mass_with_point};
use crate::quantity::{Currency, Decimal, Percent, PercentError};
use crate::stock::LotId;

/// Declares a wrapper that is written with a function and read with another.
macro_rules! text {
    ($(#[$doc:meta])* $name:ident($inner:ty), $write:expr, $read:expr) => {
        $(#[$doc])*
        #[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
        pub struct $name(pub $inner);

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                let write: fn(&$inner) -> String = $write;
                serializer.serialize_str(&write(&self.0))
            }
        }
        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                let text = String::deserialize(deserializer)?;
                let read: fn(&str) -> Result<$inner, String> = $read;
                read(&text).map(Self).map_err(D::Error::custom)
            }
        }
    };
}

fn words(error: impl fmt::Display) -> String {
    error.to_string()
}

/// Reads a mass that may be negative, as corrections of a stock are.
fn read_signed(text: &str) -> Result<ExactMass, String> {
    match text.trim().strip_prefix('-') {
        Some(size) => read_mass_with_point(size, MassUnit::Gram).map(|m| ExactMass::ZERO - m),
        None => read_mass_with_point(text, MassUnit::Gram),
    }
    .map_err(words)
}

text!(
    /// A mass, for example `"250.1 g"`; negative where a change is meant.
    MassText(ExactMass),
    |mass| format!("{mass} g"),
    read_signed
);
text!(
    /// A decimal number, for example `"12.50"`.
    DecimalText(Decimal),
    ToString::to_string,
    |text| Decimal::from_str_exact(text.trim())
        .map_err(|e| format!("“{text}” is not a decimal number such as 12.50 ({e})"))
);
text!(
    /// A percentage, for example `"2.5"`.
    PercentText(Percent),
    ToString::to_string,
    |text| text.parse().map_err(|e: PercentError| e.to_string())
);
text!(
    /// A day, for example `"2026-06-01"`.
    DayText(Date),
    ToString::to_string,
    |text| text
        .trim()
        .parse()
        .map_err(|e: jiff::Error| format!("“{text}” is not a day such as 2026-06-01 ({e})"))
);
text!(
    /// A currency, for example `"EUR"`.
    CurrencyText(Currency),
    ToString::to_string,
    |text| Currency::new(text)
        .ok_or_else(|| format!("“{text}” is not a currency; write its three letters, for example EUR"))
);
text!(
    /// A lot code.
    LotText(LotId),
    ToString::to_string,
    |text| LotId::new(text).ok_or_else(|| "a lot code is empty; write the code of the lot".to_owned())
);
text!(
    /// A batch code.
    BatchText(BatchCode),
    ToString::to_string,
    |text| BatchCode::new(text).map_err(words)
);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mass::read_mass;

    fn round_trip<T: Serialize + for<'de> Deserialize<'de> + PartialEq + fmt::Debug>(value: &T) {
        let text = serde_json::to_string(value).unwrap();
        assert_eq!(&serde_json::from_str::<T>(&text).unwrap(), value, "{text}");
    }

    #[test]
    fn every_text_is_read_back_the_same() {
        let ounce = read_mass("0.3 oz", None).unwrap();
        round_trip(&MassText(ounce));
        round_trip(&MassText(ExactMass::ZERO - ounce));
        round_trip(&DecimalText(Decimal::new(1250, 2)));
        round_trip(&PercentText("0.000001".parse().unwrap()));
        round_trip(&DayText(jiff::civil::date(2026, 6, 1)));
        round_trip(&CurrencyText(Currency::new("GBP").unwrap()));
        round_trip(&LotText(LotId::new("G 12/3").unwrap()));
        round_trip(&BatchText(BatchCode::new("26-047").unwrap()));
    }

    #[test]
    fn what_is_wrong_is_named() {
        let message = |json: &str| {
            serde_json::from_str::<DayText>(json)
                .unwrap_err()
                .to_string()
        };
        assert!(message("\"June\"").contains("“June” is not a day"));
        assert!(
            serde_json::from_str::<MassText>("\"3 stone\"")
                .unwrap_err()
                .to_string()
                .contains("no unit")
        );
    }
}
