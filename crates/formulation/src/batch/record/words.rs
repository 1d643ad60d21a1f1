//! Entries in words, and what is found in them.

use super::{Change, Entry, Event, Record, changed, same_kind};
use crate::amount::typed::shown_temperature;
use crate::batch::weighing_scale::WeighingScale;
use crate::formula::ItemId;
use crate::mass::{ExactMass, shown_as_recorded};

use crate::stock::LotId;

impl Record {
    /// An entry in words, with its values as first recorded, and whether it was added after the
    /// record was closed.
    pub fn describe(&self, entry: &Entry) -> String {
        let words = self.describe_event(&entry.event);
        if self.is_late(entry.number) {
            format!("{words} (added after closing)")
        } else {
            words
        }
    }

    /// A mass as recorded, with the digits of the line's scale at least.
    pub fn mass_words(&self, line: Option<ItemId>, mass: ExactMass) -> String {
        let opening = &self.opening;
        let to_weigh = opening.lines.iter().find(|l| Some(l.line) == line);
        let finest = opening.scales.iter().map(WeighingScale::resolution).min();
        let step = to_weigh.map_or_else(
            || finest.unwrap_or_default(),
            |l| opening.resolution(l.scale),
        );
        shown_as_recorded(mass, step, self.opening.unit)
    }

    /// An event in words.
    pub fn describe_event(&self, event: &Event) -> String {
        let opening = &self.opening;
        let show = |mass: ExactMass| self.mass_words(None, mass);
        let lot_words = |lot: &Option<LotId>| {
            lot.as_ref()
                .map_or_else(|| "no lot noted".to_owned(), |l| format!("lot {l}"))
        };
        let with = |words: String, remark: &str| {
            if remark.is_empty() {
                words
            } else {
                format!("{words}: {remark}")
            }
        };
        match event {
            Event::Opened(o) => format!("batch of {} begun", show(o.batch)),
            Event::Weighed {
                line,
                mass,
                lot,
                remark,
            } => with(
                format!(
                    "{} of {}, {}",
                    self.mass_words(Some(*line), *mass),
                    opening.name_of(*line),
                    lot_words(lot)
                ),
                remark,
            ),
            Event::Worked {
                step,
                temperature,
                remark,
            } => {
                let text = opening
                    .variant()
                    .phases
                    .iter()
                    .flat_map(|p| &p.steps)
                    .find(|s| s.id == *step)
                    .map_or("a step", |s| &s.text);
                let read =
                    temperature.map_or_else(String::new, |t| format!(", {}", shown_temperature(t)));
                with(format!("“{text}” done{read}"), remark)
            }
            Event::Rescaled { masses, reason }
                if let [(line, mass)] = masses.as_slice()
                    && self.by_portions(*line) =>
            {
                let (name, mass) = (opening.name_of(*line), self.mass_words(Some(*line), *mass));
                with(format!("{name} finished with {mass}"), reason)
            }
            Event::Rescaled { masses, reason } => {
                let total: ExactMass = masses.iter().map(|(_, m)| *m).sum();
                with(format!("batch made {}", show(total)), reason)
            }
            Event::MadeUp { mass, lot } => {
                format!("{} of water made up, {}", show(*mass), lot_words(lot))
            }
            Event::Measured {
                what,
                name,
                value,
                remark,
            } => {
                let called = if name.is_empty() { what.label() } else { name };
                with(format!("{called} {value}"), remark)
            }
            Event::Packed {
                what,
                lot,
                used,
                spoilt,
            } => format!("{what} {lot}: {used} used, {spoilt} spoilt"),
            Event::Filled {
                containers,
                mass,
                samples,
                waste,
            } => format!(
                "{containers} containers filled with {}, {} in samples, {} waste",
                show(*mass),
                show(*samples),
                show(*waste)
            ),
            Event::Labelled {
                what,
                lot,
                code,
                date,
                printed,
                applied,
                spoilt,
            } => {
                let dated = if date.is_empty() {
                    String::new()
                } else {
                    format!(", date {date}")
                };
                let from = if lot.is_empty() {
                    "no lot noted".to_owned()
                } else {
                    format!("lot {lot}")
                };
                format!(
                    "labels “{what}”, {from}, printed with batch code {code}{dated}: {printed} printed, {applied} on containers, {spoilt} destroyed"
                )
            }
            Event::Remarked { text, open: false } => text.to_string(),
            Event::Remarked { text, open: true } => {
                format!("to be looked at before the release: {text}")
            }
            Event::Deviated { what, reason, .. } => with(format!("deviation, {what}"), reason),
            Event::Accepted { point, reason, .. } => {
                with(format!("accepted, {}", point.trim_end_matches('.')), reason)
            }
            Event::Checked { line: Some(line) } => {
                format!("weighing of {} checked", opening.name_of(*line))
            }
            Event::Checked { line: None } => "record looked through".to_owned(),
            Event::Decided { decision, reason } => with(decision.label().to_owned(), reason),
            Event::Closed => "record closed".to_owned(),
            Event::Amended {
                entry,
                change,
                old,
                reason,
            } => {
                let new = match change {
                    Change::Mass(mass) => format!("{mass} g"),
                    Change::Lot(lot) => lot_words(lot),
                    Change::Value(value) => value.to_string(),
                    Change::Instead(event) => self.describe_event(event),
                    Change::Struck => "struck out".to_owned(),
                };
                with(
                    format!("entry {entry} corrected from “{old}” to “{new}”"),
                    reason,
                )
            }
            Event::Dispatched {
                to,
                containers,
                day,
            } => format!("{containers} containers sent to {to} on {day}"),
        }
    }

    /// All words of the record, in lower case, for searching: code, formula, materials,
    /// lots, remarks, values, consignees.
    pub fn words(&self) -> String {
        let mut words = vec![
            self.code().to_string(),
            self.opening.formula.name.to_string(),
            self.opening.variant().name.to_string(),
            self.opening.note.to_string(),
        ];
        words.extend(
            self.opening
                .formula
                .materials
                .values()
                .map(|m| m.name.to_string()),
        );
        for entry in &self.entries {
            words.push(entry.at.to_string());
            words.push(entry.by.to_string());
            words_of(&entry.event, &mut words);
        }
        for lost in &self.lost {
            words.push(lost.text.to_string());
        }
        words.join("\n").to_lowercase()
    }

    /// Whether every word of a query occurs in the record.
    pub fn matches(&self, query: &str) -> bool {
        let words = self.words();
        query
            .to_lowercase()
            .split_whitespace()
            .all(|w| words.contains(w))
    }

    /// An entry as it stands after a correction; `None` if it cannot be corrected so, or the
    /// correction strikes it out.
    pub fn corrected(&self, entry: u64, change: &Change) -> Option<Event> {
        self.value_of(entry, change)?;
        let (event, _) = self.standing(entry)?;
        (*change != Change::Struck).then(|| changed(event, change))
    }

    /// What an entry shows and a correction changes: the mass of a weighing for `Mass`, its
    /// lot for `Lot`, the value of a measurement or the words of a remark for `Value`, the
    /// whole entry otherwise; `None` if it has none or was struck.
    pub fn value_of(&self, entry: u64, change: &Change) -> Option<String> {
        let (event, struck) = self.standing(entry)?;
        if struck {
            return None;
        }
        let lot_text = |lot: &Option<LotId>| {
            lot.as_ref()
                .map_or_else(|| "no lot".to_owned(), ToString::to_string)
        };
        match (change, event) {
            (_, event) if !event.rules().can_be_corrected => None,
            (Change::Mass(_), Event::Weighed { mass, .. } | Event::MadeUp { mass, .. }) => {
                Some(format!("{mass} g"))
            }
            (Change::Lot(_), Event::Weighed { lot, .. } | Event::MadeUp { lot, .. }) => {
                Some(lot_text(lot))
            }
            (Change::Value(_) | Change::Struck, Event::Measured { value, .. }) => {
                Some(value.to_string())
            }
            (Change::Value(_), Event::Remarked { text, .. }) => Some(text.to_string()),
            (Change::Struck, Event::Weighed { mass, lot, .. } | Event::MadeUp { mass, lot }) => {
                Some(format!("{mass} g, {}", lot_text(lot)))
            }
            (Change::Struck, event) => Some(self.describe_event(event)),
            (Change::Instead(new), event) if same_kind(new, event) => {
                Some(self.describe_event(event))
            }
            (Change::Mass(_) | Change::Lot(_) | Change::Value(_) | Change::Instead(_), _) => None,
        }
    }
}

/// A moment as a person reads it: day, hour and minute of an RFC 3339 text.
pub fn moment(at: &str) -> String {
    let (day, time) = at.split_once('T').unwrap_or((at, ""));
    let minute = time.get(..5).unwrap_or(time);
    format!("{day} {minute}").trim_end().to_owned()
}

/// The words of an event, for searching.
fn words_of(event: &Event, words: &mut Vec<String>) {
    match event {
        Event::Opened(_) | Event::Closed | Event::Filled { .. } | Event::Checked { .. } => {}
        Event::Weighed { lot, remark, .. } => {
            words.extend(lot.iter().map(ToString::to_string));
            words.push(remark.to_string());
        }
        Event::MadeUp { lot, .. } => words.extend(lot.iter().map(ToString::to_string)),
        Event::Worked { remark, .. } => words.push(remark.to_string()),
        Event::Rescaled { reason, .. } => words.push(reason.to_string()),
        Event::Measured {
            name,
            value,
            remark,
            ..
        } => {
            words.push(name.to_string());
            words.push(value.to_string());
            words.push(remark.to_string());
        }
        Event::Packed { what, lot, .. } => {
            words.push(what.to_string());
            words.push(lot.to_string());
        }
        Event::Labelled {
            what,
            lot,
            code,
            date,
            ..
        } => words.extend([what, lot, code, date].map(ToString::to_string)),
        Event::Remarked { text, .. } => words.push(text.to_string()),
        Event::Deviated { lot, what, reason } => {
            words.extend(lot.iter().map(ToString::to_string));
            words.push(what.to_string());
            words.push(reason.to_string());
        }
        Event::Accepted { point, reason, .. } => {
            words.push(point.to_string());
            words.push(reason.to_string());
        }
        Event::Decided { decision, reason } => {
            words.push(decision.label().to_owned());
            words.push(reason.to_string());
        }
        Event::Amended {
            change,
            old,
            reason,
            ..
        } => {
            match change {
                Change::Lot(Some(lot)) => words.push(lot.to_string()),
                Change::Value(value) => words.push(value.to_string()),
                Change::Instead(event) => words_of(event, words),
                Change::Lot(None) | Change::Mass(_) | Change::Struck => {}
            }
            words.push(old.to_string());
            words.push(reason.to_string());
        }
        Event::Dispatched { to, .. } => words.push(to.to_string()),
    }
}
