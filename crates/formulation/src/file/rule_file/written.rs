//! How single values are written in a file of rules: substances, scopes, days, limits.

use serde::de::Error as _;
use serde::{Deserialize, Deserializer};

use std::sync::Arc;

use crate::cas::Cas;
use crate::file::mirror::RoleName;
use crate::finding::Level;
use crate::formula::Date;
use crate::quantity::MassFraction;
use crate::rules::entry::{KeptApart, Member, PhWindow, Remark};
use crate::rules::scope::Scope;

/// A limit in percent.
pub(super) fn limit<'de, D: Deserializer<'de>>(
    deserializer: D,
) -> Result<Option<MassFraction>, D::Error> {
    let percent = f64::deserialize(deserializer)?;
    if (0.0..=100.0).contains(&percent) {
        Ok(Some(MassFraction::from_percent(percent)))
    } else {
        Err(D::Error::custom(format!(
            "{percent} is not a limit; write a percentage from 0 to 100"
        )))
    }
}

pub(super) struct Day(pub(super) Date);

impl<'de> Deserialize<'de> for Day {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        text.parse().map(Self).map_err(|_error| {
            D::Error::custom(format!(
                "“{text}” is not a day; write it as year-month-day, for example 2026-05-18"
            ))
        })
    }
}

pub(super) struct PhRecord(pub(super) PhWindow);

impl<'de> Deserialize<'de> for PhRecord {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let (low, high) = <(Option<f64>, Option<f64>)>::deserialize(deserializer)?;
        let legal = |v: Option<f64>| v.is_none_or(|v| (-2.0..=16.0).contains(&v));
        let ordered = low.zip(high).is_none_or(|(l, h)| l <= h);
        if legal(low) && legal(high) && ordered {
            Ok(Self(PhWindow { low, high }))
        } else {
            Err(D::Error::custom(
                "this is not a window of pH; write (lowest, highest), each Some(number) or None",
            ))
        }
    }
}

pub(super) struct ScopeText(pub(super) Scope);

impl Default for ScopeText {
    fn default() -> Self {
        Self(Scope::All)
    }
}

impl<'de> Deserialize<'de> for ScopeText {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        Scope::parse(&text).map(Self).map_err(D::Error::custom)
    }
}

/// A condition to be read, `words` or `scope => words`.
pub(super) struct RemarkText(pub(super) Remark);

impl<'de> Deserialize<'de> for RemarkText {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        let (when, text) = match text.split_once(" => ") {
            Some((scope, words)) => (Scope::parse(scope).map_err(D::Error::custom)?, words),
            None => (Scope::All, text.as_str()),
        };
        Ok(Self(Remark {
            text: text.into(),
            when,
        }))
    }
}

/// Another entry, which must not be met, and the reason: `rule` or `rule => why`; with `?`
/// before the rule their meeting is a caution.
pub(super) struct ApartText(pub(super) KeptApart);

impl<'de> Deserialize<'de> for ApartText {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        let (rule, why) = text.split_once(" => ").unwrap_or((&text, ""));
        let (level, rule) = match rule.strip_prefix('?') {
            Some(rest) => (Level::Caution, rest),
            None => (Level::Breach, rule),
        };
        Ok(Self(KeptApart {
            rule: rule.trim().into(),
            why: why.trim().into(),
            level,
        }))
    }
}

/// A group's name or substances of one family.
pub(super) enum Substances {
    Group(String),
    Family(Vec<Member>),
}

impl<'de> Deserialize<'de> for Substances {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        if let Some(group) = text.strip_prefix('@') {
            return Ok(Self::Group(group.trim().to_owned()));
        }
        text.split(';')
            .map(|one| member(one.trim()))
            .collect::<Result<_, _>>()
            .map(Self::Family)
            .map_err(D::Error::custom)
    }
}

/// Reads `?Name|Name=nano CAS/CAS beside CAS` or `role Name`.
pub(super) fn member(text: &str) -> Result<Member, String> {
    if let Some(role) = text.strip_prefix("role ") {
        let role: RoleName = ron::from_str(role)
            .map_err(|_error| format!("“{role}” is not a role of a material"))?;
        return Ok(Member {
            sure: true,
            role: Some(role.into()),
            ..Member::default()
        });
    }
    let (sure, text) = match text.strip_prefix('?') {
        Some(rest) => (false, rest),
        None => (true, text),
    };
    let (names, rest) = text.split_once('=').unwrap_or((text, ""));
    let names: Vec<Arc<str>> = names
        .split('|')
        .map(str::trim)
        .filter(|n| !n.is_empty())
        .map(Into::into)
        .collect();
    let cas = |text: &str| text.parse::<Cas>().map_err(|e| e.to_string());
    let (rest, beside) = match rest.split_once(" beside ") {
        Some((rest, other)) => (rest, Some(cas(other)?)),
        None => (rest, None),
    };
    let (rest, without) = match rest.split_once(" without ") {
        Some((rest, other)) => (rest, Some(cas(other)?)),
        None => (rest, None),
    };
    let (nano, rest) = match rest.trim().strip_prefix("nano") {
        Some(rest) => (true, rest.trim()),
        None => (false, rest.trim()),
    };
    let cas = rest
        .split('/')
        .filter(|c| !c.trim().is_empty())
        .map(cas)
        .collect::<Result<Vec<Cas>, _>>()?;
    if names.is_empty() && cas.is_empty() {
        return Err(
            "a substance needs a name or a CAS number, for example “Glycerin=56-81-5”".to_owned(),
        );
    }
    Ok(Member {
        names,
        cas,
        sure,
        nano,
        beside,
        without,
        ..Member::default()
    })
}
