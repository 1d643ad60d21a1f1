//! The release gate: what of a batch is not as it should be, and whether it was accepted.

use super::{Event, LineState, Measurement, Opening, Point, Quality, Record};
use crate::amount::typed;
use crate::batch::mass::ExactMass;
use crate::batch::weigh_sheet::ph_window;
use crate::evaluation::Evaluation;
use crate::finding::Level;
use crate::formula::ItemId;
use crate::specification::{Characteristic, Verdict, wanted};

/// The points of a record together with the breaches and cautions found in the mix as it was
/// really weighed, each with who accepted it.
pub fn gate(record: &Record, as_weighed: Option<&Evaluation>) -> Vec<Point> {
    let mut points = record.points();
    let found = as_weighed.into_iter().flat_map(|e| &e.findings);
    for finding in found.filter(|f| f.counts()) {
        // A breach that was known at the start is what makes it a trial.
        if finding.level == Level::Breach && record.not_for_sale() {
            continue;
        }
        let words = format!("as weighed, {}: {}", finding.level.label(), finding.message);
        points.push(record.point(words));
    }
    points
}

impl Record {
    /// What of a complete record is not as it should be and nobody has accepted, in words.
    pub fn open_points(&self) -> Vec<String> {
        let open = self.points().into_iter().filter(|p| p.accepted.is_none());
        open.map(|p| p.words).collect()
    }

    /// Everything that is not as it should be, in working order, and who accepted it.
    pub fn points(&self) -> Vec<Point> {
        let mut points: Vec<Point> = Vec::new();
        for words in self.irregularities() {
            if points.iter().all(|p| p.words != words) {
                points.push(self.point(words));
            }
        }
        points
    }

    fn point(&self, words: String) -> Point {
        let without_lot = self
            .lines()
            .filter_map(|status| self.without_lot(status.line))
            .any(|lacking| lacking == words);
        Point {
            accepted: self.state.accepted.get(words.as_str()).cloned(),
            without_lot,
            words,
        }
    }

    /// That something of a line was weighed of which no lot was noted, in words.
    fn without_lot(&self, line: ItemId) -> Option<String> {
        let mut portions = self.standing_portions();
        portions
            .any(|p| p.line == Some(line) && p.lot.is_none())
            .then(|| format!("{} has no lot", self.opening.name_of(line)))
    }

    /// Whether it was begun as a trial that is not for sale.
    pub fn not_for_sale(&self) -> bool {
        !self.opening.trial.is_empty()
    }

    /// Who checked the weighing of a line as it stands now.
    pub fn line_checked_by(&self, line: ItemId) -> Option<&str> {
        self.state.line_checks.get(&line).map(AsRef::as_ref)
    }

    /// Who looked through the record as it stands now.
    pub fn looked_through_by(&self) -> Option<&str> {
        self.state.looked_through.as_deref()
    }

    fn irregularities(&self) -> Vec<String> {
        let mut points = Vec::new();
        let opening = &self.opening;
        let gated = opening.rules >= Opening::GATED;
        if self.not_for_sale() {
            points.push(format!("trial batch, not for sale: {}", opening.trial));
        }
        for status in self.lines() {
            let name = opening.name_of(status.line);
            match status.state {
                LineState::Pending => points.push(format!("{name} is not weighed")),
                LineState::Short => points.push(format!("{name} is below its tolerance")),
                LineState::Over => points.push(format!("{name} is above its tolerance")),
                LineState::Within => {}
            }
            points.extend(self.without_lot(status.line));
            if opening.second_check
                && status.state != LineState::Pending
                && self.line_checked_by(status.line).is_none()
            {
                points.push(format!("no second person checked the weighing of {name}"));
            }
        }
        if gated
            && self
                .standing_portions()
                .any(|p| p.line.is_none() && p.lot.is_none())
        {
            points.push("the water made up has no lot".to_owned());
        }
        points.extend(self.state.deviations.iter().map(|d| d.what.to_string()));
        for step in opening.variant().phases.iter().flat_map(|p| &p.steps) {
            if !self.state.worked.contains(&step.id) {
                points.push(format!("step “{}” is not done", step.text));
            }
        }
        self.measured_points(&mut points);
        match self.state.filled {
            None => points.push("it is not filled".to_owned()),
            Some((_, _, samples, _)) if samples.is_zero() => {
                points.push("no retained sample is recorded".to_owned());
            }
            Some(_) => {}
        }
        let unaccounted = self.reconciliation().map(|r| r.unaccounted);
        if unaccounted.is_some_and(|mass| mass < ExactMass::ZERO) {
            points.push("more was filled, sampled and thrown away than was weighed".to_owned());
        }
        if opening.second_check && self.looked_through_by().is_none() {
            points.push("no second person looked through the record".to_owned());
        }
        points
    }

    fn standing_portions(&self) -> impl Iterator<Item = &super::Portion> {
        self.state.portions.iter().filter(|p| !p.struck)
    }

    /// The last measurement of a kind that stands.
    pub fn last_measured(&self, what: Quality) -> Option<&Measurement> {
        let standing = self.state.measurements.iter().filter(|m| !m.struck);
        standing.rev().find(|m| m.what == what)
    }

    /// What of the specification was not measured, and what is outside of it.
    fn measured_points(&self, points: &mut Vec<String>) {
        let opening = &self.opening;
        for wanted in wanted(opening.variant()) {
            let Some(measured) = self.measured(&wanted) else {
                points.push(match wanted.quality {
                    Quality::Appearance | Quality::Odour => {
                        format!("the {} is not judged", wanted.name())
                    }
                    _ => format!("the {} is not measured", wanted.name()),
                });
                continue;
            };
            let told = measured.value.trim();
            let name = wanted.name();
            match wanted.judge(told) {
                Verdict::Within | Verdict::ByEye => {}
                Verdict::Outside(asked) => {
                    points.push(format!("{name} {told} was measured, {asked} is asked for"));
                }
                Verdict::Unread(why) => points.push(format!(
                    "the {name} was recorded as “{told}” and is not compared: {why}"
                )),
            }
        }
        points.extend(self.ph_points());
    }

    /// The last measurement of a characteristic that stands; one without a figure of its own
    /// is told by the words of its remark.
    pub fn measured(&self, wanted: &Characteristic) -> Option<&Measurement> {
        let standing = self.state.measurements.iter().filter(|m| !m.struck);
        standing.rev().find(|m| {
            m.what == wanted.quality
                && (m.what != Quality::Other || m.remark.contains(wanted.name()))
        })
    }

    /// What the last pH measured has against it: the range in which all materials are
    /// stable and work. Figures are compared as they are shown.
    fn ph_points(&self) -> Option<String> {
        let measured = self.last_measured(Quality::Ph)?;
        let told = measured.value.trim();
        let value = typed::ph(told).ok()?.value();
        // What a scale of hundredths shows is exact in hundredths.
        let hundredths = |ph: f64| (ph * 100.0).round();
        let range = ph_window(&self.opening.formula, self.opening.variant()).ok()??;
        let within = hundredths(range.low.value())..=hundredths(range.high.value());
        (!within.contains(&hundredths(value))).then(|| {
            format!(
                "pH {told} was measured; all materials bear and work within {:.1} to {:.1}",
                range.low, range.high
            )
        })
    }

    /// Whether an event leaves a second look through the record valid.
    pub(super) const fn leaves_look(event: &Event) -> bool {
        matches!(
            event,
            Event::Accepted { .. }
                | Event::Checked { .. }
                | Event::Decided { .. }
                | Event::Closed
                | Event::Dispatched { .. }
        )
    }
}
