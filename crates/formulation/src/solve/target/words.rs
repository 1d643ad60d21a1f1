//! Targets and quantities in words: as the grammar reads them, and in a sentence.

use std::fmt;

use super::read::says_relation;
use super::{CostBasis, Relation, Target, TargetQuantity};

impl fmt::Display for TargetQuantity {
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
            Self::Cost(CostBasis::Kilogram) => f.write_str("cost per kg"),
            Self::Cost(CostBasis::Grams(g)) => write!(f, "cost per {g} g"),
            Self::Cost(CostBasis::Millilitres(ml)) => write!(f, "cost per {ml} ml"),
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

impl TargetQuantity {
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
            Relation::Need => format!("{name} equal to what the oils need for oil-in-water"),
        }
    }
}
