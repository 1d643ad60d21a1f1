//! Numbers as they are written in files: checked while they are read, so that an
//! error knows its line and column, and written as the shortest decimal that
//! reads back to exactly the same value.

use std::fmt;

use serde::de::{Error, SeqAccess, Visitor};
use serde::ser::SerializeTuple as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::cas::Cas;
use crate::quantity::{MassFraction, Percent, Ph, PhRange, Spread};
pub(crate) use crate::quantity::{celsius_decimal, shortest};

/// A percentage by weight, exact.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct PercentNumber(pub Percent);

impl Serialize for PercentNumber {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_f64(self.0.as_percent())
    }
}

impl<'de> Deserialize<'de> for PercentNumber {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let number = f64::deserialize(deserializer)?;
        let percent = Percent::nearest(number).ok_or_else(|| {
            D::Error::custom(format!(
                "{number} is not a percentage; write a number from 0 to 100"
            ))
        })?;
        // A number with more than six decimals is not the nearest double of what is kept.
        if percent.as_percent() == number {
            Ok(Self(percent))
        } else {
            Err(D::Error::custom(format!(
                "{number} has more than six digits after the point; round it to 0.000001 %"
            )))
        }
    }
}

/// A CAS number, its check digit verified.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct CasText(pub Cas);

impl Serialize for CasText {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(&self.0)
    }
}

impl<'de> Deserialize<'de> for CasText {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        text.parse().map(Self).map_err(D::Error::custom)
    }
}

/// A finite number within stated ends, `LOW` and `HIGH` in whole numbers.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Within<const LOW: i32, const HIGH: i32>(pub f64);

impl<const LOW: i32, const HIGH: i32> Serialize for Within<LOW, HIGH> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_f64(self.0)
    }
}

impl<'de, const LOW: i32, const HIGH: i32> Deserialize<'de> for Within<LOW, HIGH> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let number = f64::deserialize(deserializer)?;
        if (f64::from(LOW)..=f64::from(HIGH)).contains(&number) {
            Ok(Self(number))
        } else {
            Err(D::Error::custom(format!(
                "{number} is out of range; write a number from {LOW} to {HIGH}"
            )))
        }
    }
}

/// A range of pH, `(low, high)`.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct PhPair(pub PhRange);

impl Serialize for PhPair {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        (self.0.low.value(), self.0.high.value()).serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for PhPair {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let (low, high) = <(f64, f64)>::deserialize(deserializer)?;
        PhRange::new(low, high).map(Self).ok_or_else(|| {
            D::Error::custom(format!(
                "({low}, {high}) is not a range of pH; write the lower value first, both from -2 to 16"
            ))
        })
    }
}

/// A single pH.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct PhNumber(pub Ph);

impl Serialize for PhNumber {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_f64(self.0.value())
    }
}

impl<'de> Deserialize<'de> for PhNumber {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let number = f64::deserialize(deserializer)?;
        Ph::new(number).map(Self).ok_or_else(|| {
            D::Error::custom(format!(
                "{number} is not a pH; write a number from -2 to 16"
            ))
        })
    }
}

/// A share of a material in percent: one number, or `(low, typical, high)`.
///
/// A share that no decimal percentage gives exactly is written
/// `"of one: low typical high"`, so that nothing is lost.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Share(pub Spread);

const OF_ONE: &str = "of one:";

impl Share {
    fn checked(
        low: MassFraction,
        typical: MassFraction,
        high: MassFraction,
    ) -> Result<Self, String> {
        // A hair above the whole is rounding of entered percentages.
        let within = low.value() >= 0.0 && high.value() <= 1.0 + 1e-9;
        if within && low <= typical && typical <= high {
            Ok(Self(Spread { low, typical, high }))
        } else {
            Err(format!(
                "({}, {}, {}) is not a share in percent; write low, typical, high in this order, each from 0 to 100",
                low.as_percent(),
                typical.as_percent(),
                high.as_percent()
            ))
        }
    }
}

impl Serialize for Share {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let Spread { low, typical, high } = self.0;
        let percent = |share: MassFraction| {
            shortest(share.value(), share.as_percent(), |p| {
                MassFraction::from_percent(p).value()
            })
        };
        match (percent(low), percent(typical), percent(high)) {
            (Some(low), Some(typical), Some(high)) if low == typical && typical == high => {
                serializer.serialize_f64(typical)
            }
            (Some(low), Some(typical), Some(high)) => {
                let mut tuple = serializer.serialize_tuple(3)?;
                tuple.serialize_element(&low)?;
                tuple.serialize_element(&typical)?;
                tuple.serialize_element(&high)?;
                tuple.end()
            }
            _ => serializer.collect_str(&format_args!(
                "{OF_ONE} {} {} {}",
                low.value(),
                typical.value(),
                high.value()
            )),
        }
    }
}

impl<'de> Deserialize<'de> for Share {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(ShareVisitor)
    }
}

struct ShareVisitor;

impl<'de> Visitor<'de> for ShareVisitor {
    type Value = Share;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a share in percent, either one number or (low, typical, high)")
    }

    fn visit_f64<E: Error>(self, percent: f64) -> Result<Share, E> {
        let share = MassFraction::from_percent(percent);
        Share::checked(share, share, share).map_err(E::custom)
    }

    fn visit_u64<E: Error>(self, percent: u64) -> Result<Share, E> {
        self.visit_f64(percent as f64)
    }

    fn visit_i64<E: Error>(self, percent: i64) -> Result<Share, E> {
        self.visit_f64(percent as f64)
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Share, E> {
        let numbers: Option<Vec<f64>> = text
            .strip_prefix(OF_ONE)
            .map(str::split_whitespace)
            .and_then(|words| words.map(|w| w.parse().ok()).collect());
        match numbers.as_deref() {
            Some(&[low, typical, high]) => Share::checked(
                MassFraction::new(low),
                MassFraction::new(typical),
                MassFraction::new(high),
            )
            .map_err(E::custom),
            _ => Err(E::invalid_value(serde::de::Unexpected::Str(text), &self)),
        }
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<Share, A::Error> {
        let mut next = |place| {
            seq.next_element::<f64>()?
                .map(MassFraction::from_percent)
                .ok_or_else(|| A::Error::invalid_length(place, &self))
        };
        let (low, typical, high) = (next(0)?, next(1)?, next(2)?);
        Share::checked(low, typical, high).map_err(A::Error::custom)
    }
}
