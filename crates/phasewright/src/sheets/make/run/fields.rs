//! An entry as fields to be corrected, and back.

use std::sync::Arc;

use formulation::amount::typed;
use formulation::batch::record::{Decision, Event, Quality, Record};
use formulation::formula::{Date, ItemId};
use formulation::mass::{ExactMass, MassUnit, read_mass};
use formulation::plain_words::plain;
use formulation::quantity::{Temperature, in_celsius};
use formulation::stock::LotId;

use crate::sheets::make::MOST_COUNTED;

/// A part of an entry that can be corrected.
enum Part<'e> {
    Words(&'e mut Arc<str>),
    Lot(&'e mut Option<LotId>),
    /// Of a line, whose scale tells the digits, or of none.
    Mass(Option<ItemId>, &'e mut ExactMass),
    /// Pieces, with what they are called in an error.
    Pieces(&'e mut u32, &'static str),
    Temperature(&'e mut Option<Temperature>),
    Quality(&'e mut Quality),
    Decision(&'e mut Decision),
    Day(&'e mut Date),
}

impl Part<'_> {
    /// As it stands in its field.
    fn shown(&self, record: &Record) -> String {
        match self {
            Self::Words(words) => words.to_string(),
            Self::Lot(lot) => lot.as_ref().map_or_else(String::new, ToString::to_string),
            Self::Mass(line, mass) => record.mass_words(*line, **mass),
            Self::Pieces(count, _) => count.to_string(),
            Self::Temperature(read) => read.map_or_else(String::new, |t| in_celsius(t).to_string()),
            Self::Quality(what) => what.label().to_owned(),
            Self::Decision(decision) => decision.label().to_owned(),
            Self::Day(day) => day.to_string(),
        }
    }

    /// Takes what was typed in its field.
    fn take(self, text: &str, unit: MassUnit) -> Result<(), String> {
        match self {
            Self::Words(words) => *words = text.into(),
            Self::Lot(lot) => *lot = LotId::new(text),
            Self::Mass(_, mass) => {
                *mass = read_mass(text, Some(unit)).map_err(|e| e.to_string())?;
            }
            Self::Pieces(count, what) => {
                *count = typed::count(text, what, MOST_COUNTED).map_err(|e| e.to_string())?;
            }
            Self::Temperature(read) => {
                *read = typed::optional(text, typed::temperature).map_err(|e| e.to_string())?;
            }
            Self::Quality(what) => *what = measured_as(text)?,
            Self::Decision(decision) => *decision = decided_as(text)?,
            Self::Day(day) => *day = typed::day(text).map_err(|e| e.to_string())?,
        }
        Ok(())
    }
}

/// The parts of an entry that can be corrected, each with its label; none of one that is only
/// struck out or kept.
fn parts(event: &mut Event) -> Vec<(&'static str, Part<'_>)> {
    use Part::{Lot, Mass, Pieces, Words};
    match event {
        Event::Weighed {
            line,
            mass,
            lot,
            remark,
        } => vec![
            ("Mass", Mass(Some(*line), mass)),
            ("Lot", Lot(lot)),
            ("Remark", Words(remark)),
        ],
        Event::MadeUp { mass, lot } => vec![("Mass", Mass(None, mass)), ("Lot", Lot(lot))],
        Event::Worked {
            step: _,
            temperature,
            remark,
        } => vec![
            ("Temperature, °C", Part::Temperature(temperature)),
            ("Remark", Words(remark)),
        ],
        Event::Measured {
            what,
            name,
            value,
            remark,
        } => vec![
            ("Measured", Part::Quality(what)),
            ("Name, if other", Words(name)),
            ("Value", Words(value)),
            ("Method", Words(remark)),
        ],
        Event::Packed {
            what,
            lot,
            used,
            spoilt,
        } => vec![
            ("Packaging", Words(what)),
            ("Lot", Words(lot)),
            ("Pieces used", Pieces(used, "a number of pieces")),
            ("Pieces spoilt", Pieces(spoilt, "a number of pieces")),
        ],
        Event::Filled {
            containers,
            mass,
            samples,
            waste,
        } => vec![
            ("Containers", Pieces(containers, "a number of containers")),
            ("Filled in all, net", Mass(None, mass)),
            ("Retained and tested", Mass(None, samples)),
            ("Waste", Mass(None, waste)),
        ],
        Event::Labelled {
            what,
            lot,
            code,
            date,
            printed,
            applied,
            spoilt,
        } => vec![
            ("Label", Words(what)),
            ("Printed on lot", Words(lot)),
            ("Batch code on them", Words(code)),
            ("Date on them", Words(date)),
            ("Printed", Pieces(printed, "a number of labels")),
            ("On containers", Pieces(applied, "a number of labels")),
            ("Destroyed", Pieces(spoilt, "a number of labels")),
        ],
        Event::Remarked { text, open: _ } => vec![("Remark", Words(text))],
        Event::Deviated { reason, .. }
        | Event::Accepted { reason, .. }
        | Event::Rescaled { reason, .. } => vec![("Reason given", Words(reason))],
        Event::Decided { decision, reason } => vec![
            ("Decision", Part::Decision(decision)),
            ("Reason given", Words(reason)),
        ],
        Event::Dispatched {
            to,
            containers,
            day,
        } => vec![
            ("Sent to", Words(to)),
            ("Containers", Pieces(containers, "a number of containers")),
            ("Day", Part::Day(day)),
        ],
        Event::Opened(_) | Event::Closed | Event::Amended { .. } | Event::Checked { .. } => {
            Vec::new()
        }
    }
}

/// The fields of an entry that can be corrected: label and value as it stands. Empty for an
/// entry that is only struck out or kept.
pub fn of(record: &Record, event: &Event) -> Vec<(&'static str, String)> {
    parts(&mut event.clone())
        .into_iter()
        .map(|(label, part)| (label, part.shown(record)))
        .collect()
}

/// An entry with other values in its fields, in the order of [`of`].
pub fn with(event: &Event, values: &[String], unit: MassUnit) -> Result<Event, String> {
    let mut now = event.clone();
    for (place, (_, part)) in parts(&mut now).into_iter().enumerate() {
        part.take(values.get(place).map_or("", |v| v.trim()), unit)?;
    }
    if let (
        Event::Measured {
            what, name, value, ..
        },
        Event::Measured { what: before, .. },
    ) = (&mut now, event)
    {
        let lacking = what.measure();
        let lacking = lacking.and_then(|measure| typed::lacks_unit(value, measure));
        if let Some(error) = lacking {
            return Err(error.to_string());
        }
        if *what != Quality::Other {
            *name = "".into();
        } else if name.is_empty() && *before != Quality::Other {
            // An earlier program kept no name; what it kept so may stay.
            return Err("Type the name of what was measured".to_owned());
        }
    }
    Ok(now)
}

/// A decision, by the word for it.
fn decided_as(text: &str) -> Result<Decision, String> {
    let known = Decision::ALL.into_iter().find(|d| d.label() == text);
    known.ok_or_else(|| {
        let all: Vec<&str> = Decision::ALL.iter().map(|d| d.label()).collect();
        format!("A decision is one of: {}", all.join(", "))
    })
}

/// What was measured, by the word for it.
fn measured_as(text: &str) -> Result<Quality, String> {
    let mut measured = Quality::ALL.into_iter().filter(|q| q.is_measured());
    let known = measured.clone().find(|q| plain(q.label()) == plain(text));
    known.ok_or_else(|| {
        let all: Vec<&str> = measured.by_ref().map(Quality::label).collect();
        format!("What was measured is one of: {}", all.join(", "))
    })
}

/// The qualities that are measured, to choose from; what is counted is not among them.
pub fn qualities() -> Vec<Option<Quality>> {
    let measured = Quality::ALL.into_iter().filter(|q| q.is_measured());
    measured.map(Some).collect()
}
