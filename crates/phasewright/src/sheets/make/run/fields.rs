//! An entry as fields to be corrected, and back.

use formulation::amount::typed;
use formulation::batch::record::{Decision, Event, Quality, Record};
use formulation::mass::{MassUnit, read_mass};
use formulation::plain_words::plain;
use formulation::quantity::in_celsius;
use formulation::stock::LotId;

use crate::sheets::make::MOST_COUNTED;

/// The fields of an entry that can be corrected: label and value as it stands. Empty for an
/// entry that is only struck out or kept.
pub fn of(record: &Record, event: &Event) -> Vec<(&'static str, String)> {
    let lot = |lot: &Option<LotId>| lot.as_ref().map_or_else(String::new, ToString::to_string);
    match event {
        Event::Weighed {
            line,
            mass,
            lot: from,
            remark,
        } => vec![
            ("Mass", record.mass_words(Some(*line), *mass)),
            ("Lot", lot(from)),
            ("Remark", remark.to_string()),
        ],
        Event::MadeUp { mass, lot: from } => {
            vec![("Mass", record.mass_words(None, *mass)), ("Lot", lot(from))]
        }
        Event::Worked {
            temperature,
            remark,
            ..
        } => vec![
            (
                "Temperature, °C",
                temperature.map_or_else(String::new, |t| in_celsius(t).to_string()),
            ),
            ("Remark", remark.to_string()),
        ],
        Event::Measured {
            what,
            name,
            value,
            remark,
        } => vec![
            ("Measured", what.label().to_owned()),
            ("Name, if other", name.to_string()),
            ("Value", value.to_string()),
            ("Method", remark.to_string()),
        ],
        Event::Packed {
            what,
            lot,
            used,
            spoilt,
        } => vec![
            ("Packaging", what.to_string()),
            ("Lot", lot.to_string()),
            ("Pieces used", used.to_string()),
            ("Pieces spoilt", spoilt.to_string()),
        ],
        Event::Filled {
            containers,
            mass,
            samples,
            waste,
        } => vec![
            ("Containers", containers.to_string()),
            ("Filled in all, net", record.mass_words(None, *mass)),
            ("Retained and tested", record.mass_words(None, *samples)),
            ("Waste", record.mass_words(None, *waste)),
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
            ("Label", what.to_string()),
            ("Printed on lot", lot.to_string()),
            ("Batch code on them", code.to_string()),
            ("Date on them", date.to_string()),
            ("Printed", printed.to_string()),
            ("On containers", applied.to_string()),
            ("Destroyed", spoilt.to_string()),
        ],
        Event::Remarked { text, .. } => vec![("Remark", text.to_string())],
        Event::Deviated { reason, .. } | Event::Accepted { reason, .. } => {
            vec![("Reason given", reason.to_string())]
        }
        Event::Rescaled { reason, .. } => vec![("Reason given", reason.to_string())],
        Event::Decided { decision, reason } => vec![
            ("Decision", decision.label().to_owned()),
            ("Reason given", reason.to_string()),
        ],
        Event::Dispatched {
            to,
            containers,
            day,
        } => vec![
            ("Sent to", to.to_string()),
            ("Containers", containers.to_string()),
            ("Day", day.to_string()),
        ],
        Event::Opened(_) | Event::Closed | Event::Amended { .. } | Event::Checked { .. } => {
            Vec::new()
        }
    }
}

/// An entry with other values in its fields, in the order of [`of`].
pub fn with(event: &Event, values: &[String], unit: MassUnit) -> Result<Event, String> {
    let value = |place: usize| values.get(place).map_or("", |v| v.trim());
    let read = |text: &str| read_mass(text, Some(unit)).map_err(|e| e.to_string());
    let pieces = |text: &str, what: &'static str| {
        typed::count(text, what, MOST_COUNTED).map_err(|e| e.to_string())
    };
    let mut event = event.clone();
    match &mut event {
        Event::Weighed {
            mass, lot, remark, ..
        } => {
            *mass = read(value(0))?;
            *lot = LotId::new(value(1));
            *remark = value(2).into();
        }
        Event::MadeUp { mass, lot } => {
            *mass = read(value(0))?;
            *lot = LotId::new(value(1));
        }
        Event::Worked {
            temperature,
            remark,
            ..
        } => {
            *temperature =
                typed::optional(value(0), typed::temperature).map_err(|e| e.to_string())?;
            *remark = value(1).into();
        }
        Event::Measured {
            what,
            name,
            value: found,
            remark,
        } => {
            let quality = measured_as(value(0))?;
            let lacking = quality.measure();
            let lacking = lacking.and_then(|measure| typed::lacks_unit(value(2), measure));
            if let Some(error) = lacking {
                return Err(error.to_string());
            }
            *name = match quality {
                // An earlier program kept no name; what it kept so may stay.
                Quality::Other if value(1).is_empty() && *what != Quality::Other => {
                    return Err("Type the name of what was measured".to_owned());
                }
                Quality::Other => value(1).into(),
                _ => "".into(),
            };
            *what = quality;
            *found = value(2).into();
            *remark = value(3).into();
        }
        Event::Packed {
            what,
            lot,
            used,
            spoilt,
        } => {
            *what = value(0).into();
            *lot = value(1).into();
            *used = pieces(value(2), "a number of pieces")?;
            *spoilt = pieces(value(3), "a number of pieces")?;
        }
        Event::Filled {
            containers,
            mass,
            samples,
            waste,
        } => {
            *containers = pieces(value(0), "a number of containers")?;
            *mass = read(value(1))?;
            *samples = read(value(2))?;
            *waste = read(value(3))?;
        }
        Event::Labelled {
            what,
            lot,
            code,
            date,
            printed,
            applied,
            spoilt,
        } => {
            *what = value(0).into();
            *lot = value(1).into();
            *code = value(2).into();
            *date = value(3).into();
            *printed = pieces(value(4), "a number of labels")?;
            *applied = pieces(value(5), "a number of labels")?;
            *spoilt = pieces(value(6), "a number of labels")?;
        }
        Event::Remarked { text, .. } => *text = value(0).into(),
        Event::Deviated { reason, .. }
        | Event::Accepted { reason, .. }
        | Event::Rescaled { reason, .. } => *reason = value(0).into(),
        Event::Decided { decision, reason } => {
            let known = Decision::ALL.into_iter().find(|d| d.label() == value(0));
            *decision = known.ok_or_else(|| {
                let all: Vec<&str> = Decision::ALL.iter().map(|d| d.label()).collect();
                format!("A decision is one of: {}", all.join(", "))
            })?;
            *reason = value(1).into();
        }
        Event::Dispatched {
            to,
            containers,
            day,
        } => {
            *to = value(0).into();
            *containers = pieces(value(1), "a number of containers")?;
            *day = typed::day(value(2)).map_err(|e| e.to_string())?;
        }
        Event::Opened(_) | Event::Closed | Event::Amended { .. } | Event::Checked { .. } => {}
    }
    Ok(event)
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
