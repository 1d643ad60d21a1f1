//! The batch record: what was really done, as a list of entries that only grows.
//!
//! A record is the sum of its entries. Nothing is ever taken back or overwritten: a
//! correction is an entry of its own that names the entry it corrects and keeps the old
//! value. Every entry can be corrected but the opening, the closing and a correction, also
//! after closing; then a record takes only corrections, acceptances, checks, dispatches, and
//! what is measured or remarked later, which is told as added later. The file layer
//! chains the entries by hash, see [`crate::file::record_file`].
//!
//! The headings follow the published list of what a batch record holds (ISO 22716, restated
//! as facts): formula, batch number, materials with lots and quantities, operations,
//! in-process checks with what is acceptable, deviations, packaging, yield and
//! reconciliation, retained samples, release decision.

mod content;
#[cfg(test)]
mod entry_tests;
mod error;
mod event;
mod figures;
mod gate;
#[cfg(test)]
mod gate_tests;
mod lots;
mod opening;
mod point;
mod portions;
mod rescue;
mod temperature;
#[cfg(test)]
pub(crate) mod tests;
mod words;

use std::collections::BTreeMap;
use std::sync::Arc;

pub use self::error::RecordError;
use self::event::AfterClosing;
pub use self::event::{Change, Decision, Entry, Event, WATER_MADE_UP};
pub use self::figures::{
    Deviation, LabelRun, LineState, LineStatus, Lost, Measurement, Obstacle, OpenRemark,
    PackagingUsed, Portion, Reconciliation, Rescue,
};
pub use self::gate::gate;
pub use self::lots::{LotStop, Lots};
pub use self::opening::{Opening, ToWeigh};
use self::point::Acceptance;
pub use self::point::{Identity, Point};
pub use self::temperature::{READING_OFF_K, reading_off};
pub use self::words::moment;
use super::code::BatchCode;
use super::mass::ExactMass;
use super::rounding::largest_remainder;
use crate::amount::typed;
use crate::evaluation::Evaluation;
use crate::formula::{Date, ItemId, Line, Measured, Variant};
use crate::quantity::{Percent, Temperature};
pub use crate::specification::Quality;
use crate::stock::LotId;

/// What all entries together amount to, corrections applied.
#[derive(Clone, PartialEq, Debug, Default)]
struct State {
    planned: BTreeMap<ItemId, ExactMass>,
    portions: Vec<Portion>,
    measurements: Vec<Measurement>,
    worked: BTreeMap<ItemId, Option<Temperature>>,
    filled: Option<(u32, ExactMass, ExactMass, ExactMass)>,
    decision: Option<(Decision, Arc<str>)>,
    closed: bool,
    dispatched: u32,
    packaging: Vec<PackagingUsed>,
    deviations: Vec<Deviation>,
    labels: Vec<LabelRun>,
    remarks: Vec<OpenRemark>,
    accepted: Vec<Acceptance>,
    line_checks: BTreeMap<ItemId, Arc<str>>,
    looked_through: Option<Arc<str>>,
}

impl State {
    fn begin(opening: &Opening) -> Self {
        Self {
            planned: opening.lines.iter().map(|l| (l.line, l.mass)).collect(),
            ..Self::default()
        }
    }

    /// Takes in an event as it stands. A struck weighing or measurement is kept to be shown;
    /// anything else that was struck is as if it had never been.
    fn take_in(&mut self, entry: &Entry, event: &Event, struck: bool) {
        let portion = |line, mass, lot: &Option<LotId>, remark: &Arc<str>| Portion {
            entry: entry.number,
            line,
            mass,
            lot: lot.clone(),
            at: entry.at.clone(),
            by: entry.by.clone(),
            remark: remark.clone(),
            struck,
        };
        // What is added later changes nothing of what was looked through.
        let rules = event.rules();
        let added = self.closed && rules.after_closing == AfterClosing::Added;
        if !added && !rules.leaves_look {
            self.looked_through = None;
        }
        match event {
            // What was checked was what stood there before.
            Event::Weighed { line, .. } => {
                self.line_checks.remove(line);
            }
            Event::Amended { entry, .. } => {
                let line = self.portions.iter().find(|p| p.entry == *entry);
                if let Some(line) = line.and_then(|p| p.line) {
                    self.line_checks.remove(&line);
                }
            }
            _ => {}
        }
        match event {
            Event::Weighed {
                line,
                mass,
                lot,
                remark,
            } => self.portions.push(portion(Some(*line), *mass, lot, remark)),
            Event::MadeUp { mass, lot } => {
                self.portions.push(portion(None, *mass, lot, &"".into()));
            }
            Event::Measured {
                what,
                name,
                value,
                remark,
            } => self.measurements.push(Measurement {
                entry: entry.number,
                at: entry.at.clone(),
                what: *what,
                name: name.clone(),
                value: value.clone(),
                remark: remark.clone(),
                late: self.closed,
                struck,
            }),
            _ if struck => {}
            Event::Opened(_) | Event::Remarked { open: false, .. } | Event::Amended { .. } => {}
            Event::Remarked { text, open: true } => self.remarks.push(OpenRemark {
                entry: entry.number,
                text: text.clone(),
                by: entry.by.clone(),
            }),
            Event::Labelled {
                what,
                lot,
                code,
                date,
                printed,
                applied,
                spoilt,
            } => self.labels.push(LabelRun {
                entry: entry.number,
                what: what.clone(),
                lot: lot.clone(),
                code: code.clone(),
                date: date.clone(),
                printed: *printed,
                applied: *applied,
                spoilt: *spoilt,
            }),
            Event::Packed {
                what,
                lot,
                used,
                spoilt,
            } => self.packaging.push(PackagingUsed {
                what: what.clone(),
                lot: lot.clone(),
                used: *used,
                spoilt: *spoilt,
            }),
            Event::Deviated { lot, what, reason } => self.deviations.push(Deviation {
                entry: entry.number,
                lot: lot.clone(),
                what: what.clone(),
                reason: reason.clone(),
                by: entry.by.clone(),
            }),
            Event::Accepted {
                point,
                about,
                reason,
            } => self.accepted.push(Acceptance {
                words: point.clone(),
                about: about.clone(),
                who: (entry.by.clone(), reason.clone()),
            }),
            Event::Checked { line: Some(line) } => {
                self.line_checks.insert(*line, entry.by.clone());
            }
            Event::Checked { line: None } => self.looked_through = Some(entry.by.clone()),
            Event::Worked {
                step, temperature, ..
            } => {
                self.worked.insert(*step, *temperature);
            }
            Event::Rescaled { masses, .. } => self.planned.extend(masses.iter().copied()),
            Event::Filled {
                containers,
                mass,
                samples,
                waste,
            } => self.filled = Some((*containers, *mass, *samples, *waste)),
            Event::Decided { decision, reason } => {
                self.decision = Some((*decision, reason.clone()));
            }
            Event::Closed => self.closed = true,
            Event::Dispatched { containers, .. } => {
                self.dispatched = self.dispatched.saturating_add(*containers);
            }
        }
    }
}

/// A batch record.
#[derive(Clone, PartialEq, Debug)]
pub struct Record {
    opening: Opening,
    entries: Vec<Entry>,
    /// Entries that were corrected, as they stand now, and whether they were struck.
    amended: BTreeMap<u64, (Event, bool)>,
    lost: Vec<Lost>,
    next: u64,
    state: State,
}

impl Record {
    /// A record from its first entry.
    pub fn open(entry: Entry) -> Result<Self, RecordError> {
        let Event::Opened(opening) = &entry.event else {
            return Err(RecordError::Opening);
        };
        if entry.number != 1 {
            return Err(RecordError::Number {
                found: entry.number,
                expected: 1,
            });
        }
        if opening.rules >= Opening::GATED && entry.by.trim().is_empty() {
            return Err(RecordError::Nameless);
        }
        Ok(Self {
            state: State::begin(opening),
            opening: opening.as_ref().clone(),
            entries: vec![entry],
            amended: BTreeMap::new(),
            lost: Vec::new(),
            next: 2,
        })
    }

    /// The batch code.
    pub const fn code(&self) -> &BatchCode {
        &self.opening.code
    }
    /// The opening.
    pub const fn opening(&self) -> &Opening {
        &self.opening
    }
    /// All entries.
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }
    /// The next number.
    pub fn next_number(&self) -> u64 {
        self.next
    }
    /// What is in the file but is not counted, because it cannot be read or does not follow.
    /// A record that was kept by this program alone has none.
    pub fn lost(&self) -> &[Lost] {
        &self.lost
    }
    /// An entry's event as it stands after corrections, and whether it was struck out;
    /// `None` if there is no such entry.
    pub fn standing(&self, number: u64) -> Option<(&Event, bool)> {
        if let Some((event, struck)) = self.amended.get(&number) {
            return Some((event, *struck));
        }
        let entry = self.entries.iter().find(|e| e.number == number)?;
        Some((&entry.event, false))
    }
    /// Portions, struck ones included.
    pub fn portions(&self) -> &[Portion] {
        &self.state.portions
    }
    /// Measurements, struck ones included.
    pub fn measurements(&self) -> &[Measurement] {
        &self.state.measurements
    }
    /// Whether a step was done.
    pub fn worked(&self, step: ItemId) -> bool {
        self.state.worked.contains_key(&step)
    }
    /// The temperature that was read last when a step was done, where one was.
    pub fn read_at(&self, step: ItemId) -> Option<Temperature> {
        self.state.worked.get(&step).copied().flatten()
    }
    /// What was decided last, and why.
    pub fn decision(&self) -> Option<(Decision, &Arc<str>)> {
        self.state.decision.as_ref().map(|(d, why)| (*d, why))
    }
    /// Whether it is closed.
    pub const fn is_closed(&self) -> bool {
        self.state.closed
    }
    /// Whether an entry is a measurement or remark that was added after the record was closed.
    pub fn is_late(&self, number: u64) -> bool {
        let mut entries = self.entries.iter();
        let closing = entries.find(|e| matches!(e.event, Event::Closed));
        let mut after = entries;
        closing.is_some()
            && after
                .any(|e| e.number == number && e.event.rules().after_closing == AfterClosing::Added)
    }
    /// Containers filled and good; `None` if it is not filled yet.
    pub fn containers(&self) -> Option<u32> {
        self.state.filled.map(|(n, ..)| n)
    }
    /// Dispatches in order: to whom, how many, when.
    pub fn dispatches(&self) -> impl Iterator<Item = (&Arc<str>, u32, Date)> {
        self.entries
            .iter()
            .filter_map(|e| match self.standing(e.number)? {
                (
                    Event::Dispatched {
                        to,
                        containers,
                        day,
                    },
                    false,
                ) => Some((to, *containers, *day)),
                _ => None,
            })
    }
    /// Containers filled that have not left.
    pub fn in_house(&self) -> u32 {
        self.containers()
            .unwrap_or(0)
            .saturating_sub(self.state.dispatched)
    }

    /// What was taken from lots.
    pub fn usage(&self) -> impl Iterator<Item = (LotId, ExactMass)> {
        self.state
            .portions
            .iter()
            .filter(|p| !p.struck)
            .filter_map(|p| Some((p.lot.clone()?, p.mass)))
    }

    /// How a line stands; `None` if it is not part of the batch.
    pub fn line(&self, line: ItemId) -> Option<LineStatus> {
        let to_weigh = self.opening.lines.iter().find(|l| l.line == line)?;
        let planned = self.state.planned.get(&line).copied()?;
        let actual = self.weighed_in(line);
        let tolerance = to_weigh.tolerance;
        // Of a line of which no more is needed, nothing may be what is asked for.
        let state = if actual.is_zero() && !planned.is_zero() {
            LineState::Pending
        } else if actual < planned - tolerance {
            LineState::Short
        } else if actual > planned + tolerance {
            LineState::Over
        } else {
            LineState::Within
        };
        Some(LineStatus {
            line,
            planned,
            actual,
            tolerance,
            state,
        })
    }

    /// All lines in working order.
    pub fn lines(&self) -> impl Iterator<Item = LineStatus> {
        self.opening.lines.iter().filter_map(|l| self.line(l.line))
    }

    fn weighed_in(&self, line: ItemId) -> ExactMass {
        self.state
            .portions
            .iter()
            .filter(|p| p.line == Some(line) && !p.struck)
            .map(|p| p.mass)
            .sum()
    }

    /// All that was weighed in, made-up water not counted.
    pub fn weighed(&self) -> ExactMass {
        self.state
            .portions
            .iter()
            .filter(|p| p.line.is_some() && !p.struck)
            .map(|p| p.mass)
            .sum()
    }

    /// The variant as it was really weighed, with exact percentages that add up to 100, to
    /// be evaluated like any other. A line with nothing weighed yet counts as planned; a pH or
    /// density measured on the batch counts instead of one stated for the formula.
    /// `None` if there is no mass at all.
    ///
    /// Water that evaporated is taken to have been made up.
    pub fn as_weighed(&self) -> Option<Variant> {
        let statuses: Vec<LineStatus> = self.lines().collect();
        let masses: Vec<u128> = statuses
            .iter()
            .map(|s| match s.state {
                LineState::Pending => s.planned,
                _ => s.actual,
            })
            // Micrograms, so that the product with the percentage steps stays small.
            .map(|m| (m.femtograms() / 1_000_000_000).unsigned_abs())
            .collect();
        let units = largest_remainder(&masses, Percent::HUNDRED.units().unsigned_abs().into())?;
        let percents: BTreeMap<ItemId, Percent> = statuses
            .iter()
            .zip(units)
            .map(|(s, u)| (s.line, Percent::from_units(u as i64)))
            .collect();
        let mut variant = self.opening.variant().as_ref().clone();
        for phase in &mut variant.phases {
            let mut changed = phase.as_ref().clone();
            for line in &mut changed.lines {
                line.percent = percents.get(&line.id).copied().unwrap_or(Percent::ZERO);
            }
            *phase = Arc::new(changed);
        }
        self.measured_over(&mut variant.measured);
        Some(variant)
    }

    /// Puts what was measured on this batch over what is stated for the formula.
    fn measured_over(&self, stated: &mut Measured) {
        let found = |what| Some(self.last_measured(what)?.value.trim());
        if let Some(ph) = found(Quality::Ph).and_then(|told| typed::ph(told).ok()) {
            stated.ph = Some(ph);
        }
        if let Some(density) = found(Quality::Density).and_then(|told| typed::density(told).ok()) {
            stated.density = Some(density);
        }
    }

    /// What became of what was weighed; `None` if the batch is not filled yet or nothing
    /// was weighed.
    pub fn reconciliation(&self) -> Option<Reconciliation> {
        let (_, filled, samples, waste) = self.state.filled?;
        let weighed = self.weighed();
        Some(Reconciliation {
            weighed,
            filled,
            samples,
            waste,
            unaccounted: weighed - filled - samples - waste,
            yield_share: filled.share_of(weighed)?,
        })
    }

    /// Packaging used, corrections counted.
    pub fn packaging(&self) -> &[PackagingUsed] {
        &self.state.packaging
    }
    /// Runs of labels, corrections counted.
    pub fn labels(&self) -> &[LabelRun] {
        &self.state.labels
    }
    /// Pieces taken from each packaging lot, those spoilt included: what it was, lot, pieces.
    pub fn pieces(&self) -> impl Iterator<Item = (&Arc<str>, &Arc<str>, u32)> {
        let packed = self.packaging().iter();
        let packed = packed.map(|p| (&p.what, &p.lot, p.used.saturating_add(p.spoilt)));
        let labels = self.labels().iter();
        packed.chain(labels.map(|l| (&l.what, &l.lot, l.taken())))
    }
    /// What was knowingly done otherwise than it should be, corrections counted.
    pub fn deviations(&self) -> &[Deviation] {
        &self.state.deviations
    }
    /// Whether it was recorded that a lot was taken although something speaks against it.
    pub fn excepted(&self, lot: Option<&LotId>, what: &str) -> bool {
        let same = |d: &Deviation| d.lot.as_ref() == lot && *d.what == *what;
        self.state.deviations.iter().any(same)
    }

    /// Whether an event may be recorded now by a person. `as_weighed` is the mix as it was
    /// really weighed, evaluated; what is found in it stands against a release, which is refused
    /// without it where anything was weighed ([`Event::releases`]).
    pub fn check(
        &self,
        event: &Event,
        by: &str,
        as_weighed: Option<&Evaluation>,
    ) -> Result<(), RecordError> {
        self.has_name(by)?;
        self.is_of_batch(event)?;
        self.follows(event)?;
        if let Some(reason) = event.releases() {
            self.may_be_released(reason, as_weighed)?;
        }
        match event {
            Event::Checked { line } => self.is_second_person(*line, by),
            Event::Measured {
                what: Quality::Other,
                name,
                ..
            } if name.trim().is_empty() => Err(RecordError::Words("the name of what was measured")),
            Event::Amended {
                entry, change, old, ..
            } => {
                let now = self
                    .value_of(*entry, change)
                    .ok_or(RecordError::NotCorrectable(*entry))?;
                if now != old.as_ref() {
                    return Err(RecordError::Stale {
                        entry: *entry,
                        now,
                        told: old.to_string(),
                    });
                }
                self.stays_consistent(*entry, change)
            }
            _ => Ok(()),
        }
    }

    fn has_name(&self, by: &str) -> Result<(), RecordError> {
        if self.opening.rules >= Opening::GATED && by.trim().is_empty() {
            Err(RecordError::Nameless)
        } else {
            Ok(())
        }
    }

    fn may_be_released(
        &self,
        reason: &str,
        as_weighed: Option<&Evaluation>,
    ) -> Result<(), RecordError> {
        if self.not_for_sale() {
            return Err(RecordError::NotForSale);
        }
        if self.opening.rules < Opening::GATED && !reason.trim().is_empty() {
            return Ok(());
        }
        if as_weighed.is_none() && self.as_weighed().is_some() {
            return Err(RecordError::NotEvaluated);
        }
        let points = gate(self, as_weighed);
        match points.iter().filter(|p| p.accepted.is_none()).count() {
            0 => Ok(()),
            open => Err(RecordError::OpenPoints(open)),
        }
    }

    fn is_second_person(&self, line: Option<ItemId>, by: &str) -> Result<(), RecordError> {
        let standing = self.state.portions.iter().filter(|p| !p.struck);
        let of_line = |p: &&Portion| line.is_none_or(|l| p.line == Some(l));
        let mut weighers = standing.filter(of_line).map(|p| &p.by).peekable();
        let Some(first) = weighers.peek().map(ToString::to_string) else {
            let what = line.map_or_else(|| "the batch".into(), |l| self.opening.name_of(l));
            return Err(RecordError::NothingToCheck(what.to_string()));
        };
        // Of a line nobody may check what they weighed; of the record, who weighed all of it.
        let own = match line {
            Some(_) => weighers.any(|w| same_person(w, by)),
            None => weighers.all(|w| same_person(w, by)),
        };
        if own {
            Err(RecordError::SamePerson(first))
        } else {
            Ok(())
        }
    }

    /// Whether an event speaks of this batch and its values are possible.
    fn is_of_batch(&self, event: &Event) -> Result<(), RecordError> {
        let words = |text: &str, what| {
            if text.trim().is_empty() {
                Err(RecordError::Words(what))
            } else {
                Ok(())
            }
        };
        let positive = |mass: ExactMass| {
            if mass > ExactMass::ZERO && mass <= ExactMass::MOST {
                Ok(())
            } else {
                Err(RecordError::Mass)
            }
        };
        let not_negative = |mass: ExactMass| {
            if mass >= ExactMass::ZERO && mass <= ExactMass::MOST {
                Ok(())
            } else {
                Err(RecordError::Mass)
            }
        };
        let line_known = |line: ItemId| {
            if self.state.planned.contains_key(&line) {
                Ok(())
            } else {
                Err(RecordError::Unknown(format!("line {line:?}")))
            }
        };
        match event {
            Event::Opened(_) => Err(RecordError::Opening),
            Event::Weighed { line, mass, .. } => {
                line_known(*line)?;
                positive(*mass)
            }
            Event::Worked { step, .. } => {
                let known = self
                    .opening
                    .variant()
                    .phases
                    .iter()
                    .any(|p| p.steps.iter().any(|s| s.id == *step));
                if known {
                    Ok(())
                } else {
                    Err(RecordError::Unknown(format!("step {step:?}")))
                }
            }
            Event::Rescaled { masses, reason } => {
                words(reason, "the reason")?;
                masses.iter().try_for_each(|(line, mass)| {
                    line_known(*line)?;
                    not_negative(*mass)
                })
            }
            Event::MadeUp { mass, .. } => positive(*mass),
            Event::Measured { what, .. } if !what.is_measured() => {
                Err(RecordError::Counted(what.label()))
            }
            Event::Measured { value, .. } => words(value, "the value"),
            Event::Packed { what, .. } => words(what, "the name of the packaging"),
            Event::Filled {
                mass,
                samples,
                waste,
                ..
            } => {
                not_negative(*mass)?;
                not_negative(*samples)?;
                not_negative(*waste)
            }
            Event::Labelled {
                what,
                code,
                printed,
                ..
            } => {
                words(what, "the name of the label")?;
                words(code, "the batch code on the labels")?;
                if *printed == 0 {
                    return Err(RecordError::NoLabels);
                }
                Ok(())
            }
            Event::Remarked { text, .. } => words(text, "the remark"),
            Event::Deviated { what, reason, .. } => {
                words(what, "what was not as it should be")?;
                words(reason, "the reason")
            }
            Event::Accepted { point, reason, .. } => {
                words(point, "the point")?;
                words(reason, "the reason")
            }
            Event::Checked { line } => line.map_or(Ok(()), line_known),
            Event::Decided { decision, reason } => match decision {
                Decision::Release => Ok(()),
                Decision::Hold | Decision::Reject => words(reason, "the reason"),
            },
            Event::Closed => Ok(()),
            Event::Amended { change, reason, .. } => {
                words(reason, "the reason")?;
                match change {
                    Change::Mass(mass) => positive(*mass),
                    Change::Value(value) => words(value, "the value"),
                    Change::Instead(event) => self.is_of_batch(event),
                    Change::Lot(_) | Change::Struck => Ok(()),
                }
            }
            Event::Dispatched { to, .. } => words(to, "the consignee"),
        }
    }

    /// Whether an event may come after what was recorded so far.
    fn follows(&self, event: &Event) -> Result<(), RecordError> {
        if self.state.closed && event.rules().after_closing == AfterClosing::Refused {
            return Err(RecordError::Closed);
        }
        match event {
            Event::Closed if self.state.decision.is_none() => Err(RecordError::Undecided),
            Event::Amended { entry, change, .. } if self.value_of(*entry, change).is_none() => {
                Err(RecordError::NotCorrectable(*entry))
            }
            Event::Dispatched { containers, .. } => {
                if self.not_for_sale() {
                    return Err(RecordError::NotForSale);
                }
                if !matches!(self.state.decision, Some((Decision::Release, _))) {
                    return Err(RecordError::NotReleased);
                }
                let left = self.in_house();
                if *containers == 0 || *containers > left {
                    return Err(RecordError::Dispatch {
                        asked: *containers,
                        left,
                    });
                }
                Ok(())
            }
            _ => Ok(()),
        }
    }

    /// Whether a correction leaves a record that could have come about: what left was there
    /// before, and a closed record is decided.
    fn stays_consistent(&self, entry: u64, change: &Change) -> Result<(), RecordError> {
        let mut after = self.clone();
        after.amend(entry, change);
        let state = &after.state;
        let there = after.containers().unwrap_or(0);
        if state.dispatched > there
            && (state.dispatched, there) != (self.state.dispatched, self.containers().unwrap_or(0))
        {
            return Err(RecordError::Dispatch {
                asked: state.dispatched,
                left: there,
            });
        }
        if state.closed && state.decision.is_none() {
            return Err(RecordError::Undecided);
        }
        Ok(())
    }

    /// Adds an entry.
    pub fn add(&mut self, entry: Entry) -> Result<(), RecordError> {
        if entry.number != self.next {
            return Err(RecordError::Number {
                found: entry.number,
                expected: self.next,
            });
        }
        self.has_name(&entry.by)?;
        self.is_of_batch(&entry.event)?;
        self.follows(&entry.event)?;
        self.append(entry);
        Ok(())
    }

    /// Adds an entry as found in a file that may be damaged. What is missing before it is
    /// listed as lost. An entry that speaks of this batch but does not follow counts all the
    /// same, because to leave out a weighing or a dispatch would be worse; the error says
    /// what is wrong. One that does not speak of this batch is listed as lost.
    pub fn add_found(&mut self, entry: Entry) -> Result<(), RecordError> {
        let (found, expected) = (entry.number, self.next);
        let wrong_number = Err(RecordError::Number { found, expected });
        if found < expected {
            let text = self.describe_event(&entry.event);
            self.lost.push(Lost {
                number: found,
                text: text.into(),
                why: "its number was given before".into(),
            });
            return wrong_number;
        }
        if found > expected {
            let last = found - 1;
            let text = if expected == last {
                format!("entry {last}")
            } else {
                format!("entries {expected} to {last}")
            };
            self.lost.push(Lost {
                number: expected,
                text: text.into(),
                why: "missing".into(),
            });
            self.next = found;
        }
        if let Err(error) = self.is_of_batch(&entry.event) {
            let text = self.describe_event(&entry.event);
            self.lose(text.into(), error.to_string().into());
            return Err(error);
        }
        let followed = self
            .has_name(&entry.by)
            .and_then(|()| self.follows(&entry.event));
        self.append(entry);
        if found > expected {
            wrong_number
        } else {
            followed
        }
    }

    /// Lists an entry that cannot be read in the place where it stands.
    pub fn lose(&mut self, text: Arc<str>, why: Arc<str>) {
        self.lost.push(Lost {
            number: self.next,
            text,
            why,
        });
        self.next = self.next.saturating_add(1);
    }

    fn append(&mut self, entry: Entry) {
        self.next = entry.number.saturating_add(1);
        if let Event::Amended {
            entry: number,
            change,
            ..
        } = &entry.event
        {
            let (number, change) = (*number, change.clone());
            self.entries.push(entry);
            self.amend(number, &change);
        } else {
            self.state.take_in(&entry, &entry.event, false);
            self.entries.push(entry);
        }
    }

    fn amend(&mut self, number: u64, change: &Change) {
        let Some((event, false)) = self.standing(number) else {
            return;
        };
        let now = match change {
            Change::Struck => (event.clone(), true),
            change => (changed(event, change), false),
        };
        self.amended.insert(number, now);
        let mut state = State::begin(&self.opening);
        for entry in &self.entries {
            if let Some((event, struck)) = self.standing(entry.number) {
                state.take_in(entry, event, struck);
            }
        }
        self.state = state;
    }

    /// The lines of the formula that are weighed, with their status, in working order.
    pub fn formula_lines(&self) -> impl Iterator<Item = (&Line, LineStatus)> {
        self.opening.lines.iter().filter_map(|l| {
            let line = self.opening.variant().line(l.line)?;
            Some((line, self.line(l.line)?))
        })
    }
}

/// Whether two names mean one person.
fn same_person(one: &str, other: &str) -> bool {
    one.trim().to_lowercase() == other.trim().to_lowercase()
}

/// Whether two events are of one kind, and it is one that can be corrected.
fn same_kind(one: &Event, other: &Event) -> bool {
    one.rules().can_be_corrected && std::mem::discriminant(one) == std::mem::discriminant(other)
}

/// An event with a correction applied; as it was where the correction does not fit it.
fn changed(event: &Event, change: &Change) -> Event {
    let mut event = event.clone();
    match (change, &mut event) {
        (Change::Mass(new), Event::Weighed { mass, .. } | Event::MadeUp { mass, .. }) => {
            *mass = *new;
        }
        (Change::Lot(new), Event::Weighed { lot, .. } | Event::MadeUp { lot, .. }) => {
            lot.clone_from(new);
        }
        (Change::Value(new), Event::Measured { value, .. }) => *value = new.clone(),
        (Change::Value(new), Event::Remarked { text, .. }) => *text = new.clone(),
        (Change::Instead(new), event) if same_kind(new, event) => *event = new.as_ref().clone(),
        _ => {}
    }
    event
}
